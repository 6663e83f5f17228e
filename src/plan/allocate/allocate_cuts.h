/* allocate_cuts.h - [A3d]: rows that the shapes of pieces and racks imply, added where a point breaks them. */
#ifndef PW_ALLOCATE_CUTS_H
#define PW_ALLOCATE_CUTS_H

#include "plan/allocate/allocate_model.h"
#include "plan/allocate/rack_bound.h"

/** Shares of one rack size that were useful once; tried again on every rack of that size. */
struct pw_al_cut_shares {
  struct pw_al_cut_shares *next;
  double rack_length_m, rack_depth_m;
  double *share; /* [c * 2 + is_wrapped] */
};

struct pw_al_cuts {
  const struct pw_al_model *model;
  const struct pw_al *al;
  struct pw_ctx *ctx;
  bool has_cells;               /* pieces take whole cells, as in the model's [A3] */
  struct pw_rack_piece *pieces; /* [c * 2 + is_wrapped] */
  struct pw_al_cut_shares *pool;
  size_t *row_first; /* [a3 index] entries of each [A3] row, by row */
  struct pw_lp_entry *by_row;
  double *active; /* [c * 2 + is_wrapped] */
};

/** Prepares for a model just made.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_cuts_init(struct pw_al_cuts *cuts, const struct pw_al_model *model, const struct pw_al *al,
                          struct pw_ctx *ctx);

/** Adds the [A3d] rows that x breaks, at most one for each [A3] row; *n_added says how many.
 *  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER. */
pw_status pw_al_cuts_add(struct pw_al_cuts *cuts, struct pw_lp *lp, const double *x, int *n_added);

#endif
