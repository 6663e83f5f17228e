/* run_proof.h - what no plan of the job goes below, worked out beside all that needs no such bound. */
#ifndef PW_RUN_PROOF_H
#define PW_RUN_PROOF_H

#include "base/parallel.h"
#include "plan/stages.h"

/** A proof under way; where it is kept stays as it is until pw_run_proof_end(). */
struct pw_run_proof {
  struct pw_allocation allocation; /**< the plan's, with the bound once it is there */
  struct pw_lots lots;
  const struct pw_event *ev; /**< as asked: whoever could be called is there for the search, whose bound it is */
  struct pw_allocate_options options;
  struct pw_ctx own;
  pw_status status;
  struct pw_beside beside;
  bool is_begun;
};

/** Begins it for a plan of the full search.  Allocation, lots and event must last, and the caller may change nothing that they point
 *  to.  Errors: PW_ERR_MEMORY, and nothing is begun. */
pw_status pw_run_proof_begin(struct pw_run_proof *proof, const struct pw_plan *plan, const struct pw_event *ev,
                             const struct pw_allocate_options *allocate);

/** Waits for it; `plan`, NULL where the run has failed, gets bound, gap and outcome, and ctx what was told.  Nothing where none was
 *  begun.  Errors: as pw_allocate_prove(). */
pw_status pw_run_proof_end(struct pw_run_proof *proof, struct pw_plan *plan, struct pw_ctx *ctx);

#endif
