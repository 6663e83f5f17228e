/* allocate_knap.h - [A3h]: what lies on one rack at once weighs no more than the heaviest packing of it, whatever pieces weigh.
 *
 * A weight for each footprint is chosen so that a point of the program breaks its row (the point lies outside of what mixtures of known
 * packings reach); what the heaviest packing weighs is then proved (knapsack_rack.h), and only that makes the row:
 *
 *   [A3h] sum w * active <= OPT * racks of a pit * on, and with what keeps its spot empty, as in [A3t],
 *         sum w * active <= OPT * racks of a pit * pits that burned in one of the last slots */
#ifndef PW_ALLOCATE_KNAP_H
#define PW_ALLOCATE_KNAP_H

#include "plan/allocate/allocate_model.h"
#include "plan/allocate/knapsack_rack.h"

struct pw_al_knap_row { /* an [A3] or [A3t] row whose columns an [A3h] row takes */
  int row, rack;        /* rack group */
  size_t from, to;      /* its entries in by_row */
};

struct pw_al_knap_weights { /* proved */
  struct pw_al_knap_weights *next;
  int rack;    /* of the first rack group with racks of this size */
  double most; /* no packing weighs more */
  double *w;   /* [c * 2 + is_wrapped] */
};

struct pw_al_knaps {
  const struct pw_al_model *model;
  const struct pw_al *al;
  struct pw_ctx *ctx;
  struct pw_knap *knap; /* [rack group], of the first with racks of this size; n_x 0: none (a disc) */
  int *first;           /* [rack group] the first with racks of its size */
  int *size;            /* [rack group * 2 * n_lots + c * 2 + is_wrapped] size in its knap, -1: none */
  int *n_patterns, (**pattern)[PW_KNAP_SIZES_MAX]; /* [rack group] packings, and sets of which nothing was found out */
  struct pw_al_knap_row *rows;
  int n_rows;
  struct pw_lp_entry *by_row;
  struct pw_al_knap_weights *pool;
  int corners_max; /* of one laying */
  int n_added;     /* rows, in all */
  double *active;  /* [c * 2 + is_wrapped] */
  double work;     /* left, as in knapsack_rack.h and for each small program */
};

/** Prepares for a model just made, with doors; `work` in all, and one set is looked into `times` as long as usual.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_knaps_init(struct pw_al_knaps *knaps, const struct pw_al_model *model, const struct pw_al *al,
                           double work, double times, struct pw_ctx *ctx);

/** Adds the [A3h] rows that x breaks, at most one for each [A3] and [A3t] row; *n_added says how many.
 *  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER. */
pw_status pw_al_knaps_add(struct pw_al_knaps *knaps, struct pw_lp *lp, const double *x, int *n_added);

#endif
