/* allocate_starts.h - the whole search at full effort: guides from the linear program, several starts at once, the
 * best days of all crossed, a last cool run. */
#ifndef PW_ALLOCATE_STARTS_H
#define PW_ALLOCATE_STARTS_H

#include "plan/allocate/allocate_model.h"

struct pw_al_starts_options {
  unsigned seed;
  double bound_cents;  /* proved; <= 0: none */
  double target_cents; /* stop at or below this cost */
  double seconds;      /* safety net; <= 0 for none */
  double
      work_times; /* so many bouts of the usual work, each no dearer than the ones before; below 1 counts as 1, a part of one as none */
  int merge_slots;                    /* as the bound's model */
  const struct pw_lp_result *warm;    /* the bound's first relaxation, or NULL */
  const struct pw_al_solution *quick; /* a plan to be no dearer than */
  bool is_only_counted;               /* of another head count: a part of the work */
};

/** Counts of work, never seconds, end it, so that the same input gives the same plan on any number of processors.
 *  out->n_rounds is the work of all starts.  Owned by the context's arena.  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER. */
pw_status pw_al_starts_search(struct pw_al_solution *out, const struct pw_al *al,
                              const struct pw_al_starts_options *options, struct pw_ctx *ctx);

#endif
