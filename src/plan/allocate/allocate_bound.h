/* allocate_bound.h - what is proved about the cost of any plan: the linear program, rows that shapes imply, then a tree on counts.
 *
 * Proved: no plan on the time grid costs less, of all that the search may make (buffers after pieces, waves, carries
 * between pits, doors).  Each row of the program is true of every such plan, each count of the tree is a whole number in it, and the
 * figure comes from row prices by weak duality.  Not proved: that a plan at the bound exists.  The program knows whole cells and what
 * goes together on a rack at one time [A3d, A3h], not where a piece lies, and it does not keep a piece in its place while it cooks. */
#ifndef PW_ALLOCATE_BOUND_H
#define PW_ALLOCATE_BOUND_H

#include "plan/allocate/allocate_model.h"

/** How far a bound is pursued. */
enum pw_al_proof {
  PW_AL_PROOF_SEARCH, /* enough to tell a search when to stop and what its plan is worth */
  PW_AL_PROOF_PLAN    /* for the plan shown: a tree on counts */
};

struct pw_al_bound_options {
  enum pw_al_proof proof;
  int merge_slots;       /* as in pw_al_model_options */
  double seconds;        /* safety net; <= 0: none */
  double cost_cents;     /* of the plan it is proved for: nodes as dear as that are not looked into; 0: there is none */
  double work_times;     /* the usual work of the tree times this; 0 counts as 1 */
  const char *dump_path; /* the program is written there with its names, or NULL */
};

struct pw_al_bound {
  double bound_cents;
  struct pw_proof proof;     /* by steps */
  struct pw_lp_result first; /* the relaxation without rows for shapes; x NULL when it was not solved */
  int n_knap_rows;           /* [A3h] rows */
  bool is_cut;               /* the safety net ended something */
};

/** Errors: PW_ERR_MEMORY, PW_ERR_SOLVER, PW_ERR_IO. */
pw_status pw_al_bound_make(struct pw_al_bound *out, const struct pw_al *al, const struct pw_al_bound_options *options,
                           struct pw_ctx *ctx);

#endif
