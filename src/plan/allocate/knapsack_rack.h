/* knapsack_rack.h - what lies on one rack at once can weigh no more than so much: exact two-dimensional knapsacks.
 *
 * A rack is n_x by n_y cells, a footprint takes whole cells, one way round or the other.  Given a weight for each footprint:
 *
 *   pw_knap_cut     the heaviest packing that straight cuts make (guillotine, with normal patterns): a packing, so a lower value
 *   pw_knap_above   is there any packing at all heavier than a limit?  Lists the sets of pieces that are just heavier (without their
 *                   lightest piece they are not) and shows of each that it does not go together, by products of dual-feasible
 *                   functions, or by laying it in every way that matters.  What is not shown within the work counts as possible.
 *
 * Laying it in every way: rectangles that share no cell can be put down one by one so that none reaches into what is left of and below
 * an earlier one, and each can then be pushed left and down until it stands in a corner of the stairs that the earlier ones make; what
 * is too narrow for any sum of the sizes left to lay is lost.  NOTES.md says why.
 * Sources: Martello, Pisinger, Vigo, "The three-dimensional bin packing problem", Oper. Res. 48 (2000): corners of stairs; Christofides,
 * Whitlock, "An algorithm for two-dimensional cutting problems", Oper. Res. 25 (1977): normal patterns. */
#ifndef PW_KNAPSACK_RACK_H
#define PW_KNAPSACK_RACK_H

#include "base/ctx.h"

#include <stdbool.h>

enum { PW_KNAP_SIZES_MAX = 48, PW_KNAP_CELLS_X_MAX = 480, PW_KNAP_CELLS_Y_MAX = 60 };

/** A footprint in cells, one way round and the other; x 0: it does not lie that way. */
struct pw_knap_size {
  int x[2], y[2];
};

struct pw_knap_sets; /* sets of pieces that were looked into */
struct pw_knap_desk; /* room to work */

struct pw_knap {
  int n_x, n_y, n;
  struct pw_knap_size size[PW_KNAP_SIZES_MAX];
  struct pw_knap_sets *sets;
  struct pw_knap_desk *desk;
  double work; /* done so far, counted: cells looked at and corners tried */
  struct pw_ctx *ctx;
};

/** A rack without pieces.  Errors: PW_ERR_MEMORY. */
pw_status pw_knap_init(struct pw_knap *k, int n_x, int n_y, struct pw_ctx *ctx);

/** The number of this size, a new one if there is room for it; -1 where it does not lie on the rack, or there is no room. */
int pw_knap_add(struct pw_knap *k, struct pw_knap_size size);

/** Weight of the heaviest packing by straight cuts, and how many of each size are in it (count may be NULL).
 *  w[k->n] >= 0. */
double pw_knap_cut(struct pw_knap *k, const double *w, int *count);

/** After pw_knap_cut: what a footprint weighs at least if whatever w says that its cells can hold were there in its place, the lesser of
 *  its two ways.  With it added to w no packing weighs more than before. */
double pw_knap_worth(const struct pw_knap *k, struct pw_knap_size size);

enum pw_knap_answer {
  PW_KNAP_NONE,   /* proved: no packing weighs more than the limit */
  PW_KNAP_SOME,   /* a set that can be laid does; it is in count */
  PW_KNAP_UNKNOWN /* the work did not suffice for the set in count, or with count all 0 for the listing */
};

/** Is there a packing that weighs more than `limit`?  At most so many corners are tried for one set.  Errors: PW_ERR_MEMORY. */
bool pw_knap_is_any(const struct pw_knap *k, const int *count);
pw_status pw_knap_above(enum pw_knap_answer *answer, struct pw_knap *k, const double *w, double limit, int corners_max,
                        int *count);

#endif
