/* rack_bound.h - what no packing of rectangles on a zone can exceed, from dual-feasible functions.
 *
 * If f and g are dual feasible (numbers in [0, 1] that add to at most 1 still do after f), then rectangles
 * that lie together on a unit square satisfy sum f(length) g(depth) <= 1; so does every mixture of such
 * products.  The mixture that says most about given amounts of given pieces is a small linear program:
 *
 *   maximise  sum amount(i) share(i)
 *   where     share(i) <= sum_k weight(k) f_k(length) g_k(depth)   for each way round piece i may lie
 *             sum_k weight(k) <= 1
 *
 * Used as rows [A3d] beside the area row [A3]: they know that two pieces a bit over half as long as the rack
 * cannot lie end to end, whichever way round.
 * Source: Fekete, Schepers, "New classes of fast lower bounds for bin packing problems", Math. Program. 91
 * (2001): u(k) and U(eps); "A general framework for bounds for higher-dimensional orthogonal packing
 * problems", Math. Methods Oper. Res. 60 (2004): products. */
#ifndef PW_RACK_BOUND_H
#define PW_RACK_BOUND_H

#include "base/ctx.h"

#include <stdbool.h>

/** A piece as the bound sees it; sizes in the zone's unit. */
struct pw_rack_piece {
  double length, depth;
  bool may_turn;
};

/** Where they lie; n_x by n_y cells, of which a piece takes whole ones, or 0 where it may lie anywhere. */
struct pw_rack_zone {
  double length, depth;
  int n_x, n_y;
};

/** u(k), k >= 1, and U(eps), 0 <= eps <= 1/2, for x in [0, 1]; rounding errs on the weak side. */
double pw_rack_bound_u(int k, double x);
double pw_rack_bound_eps(double eps, double x);

/** Of a rack cut into n cells along this axis (0: it is not): a size as a part of the rack's, in whole cells. */
double pw_rack_bound_part(double size, double rack, int n);

/** Fills share[i], each piece's part of the zone (0..1): for no packing do the shares add to more than 1.
 *  Chosen so that sum amount(i) share(i) is as large as this family of bounds can make it.
 *  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER. */
pw_status pw_rack_bound_shares(double *share, const struct pw_rack_piece *pieces, const double *amount, int n,
                               const struct pw_rack_zone *zone, struct pw_ctx *ctx);

/** The same shares, or others that say more about the amounts: whole pieces on one rack are numbers that add to at most 1, so they
 *  still do after one dual-feasible function more, of the shares or of plain areas.  Errors: PW_ERR_MEMORY. */
pw_status pw_rack_bound_sharpen(double *share, const struct pw_rack_piece *pieces, const double *amount, int n,
                                const struct pw_rack_zone *zone, struct pw_ctx *ctx);

#endif
