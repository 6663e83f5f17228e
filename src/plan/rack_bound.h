/* rack_bound.h - what no packing of rectangles on a zone can exceed: dual-feasible functions.
 *
 * If f and g are dual feasible (numbers in [0, 1] that add to at most 1 still do after f), then rectangles
 * that lie together on a unit square satisfy sum f(length) g(depth) <= 1.  Used as rows [A3d] beside the
 * area row [A3]: they know that two pieces a bit over half as long as the rack cannot lie end to end.
 * Source: Fekete, Schepers, "New classes of fast lower bounds for bin packing problems", Math. Program. 91
 * (2001): u(k) and U(eps); and "A general framework for bounds for higher-dimensional orthogonal packing
 * problems", Math. Methods Oper. Res. 60 (2004). */
#ifndef PW_RACK_BOUND_H
#define PW_RACK_BOUND_H

#include <stdbool.h>

enum { PW_RACK_BOUND_FUNCTIONS = 14, PW_RACK_BOUNDS = PW_RACK_BOUND_FUNCTIONS * PW_RACK_BOUND_FUNCTIONS };

/** Share of the zone that a piece of length x depth takes under bound k (0: plain area), 0..1; for a piece that
 *  may turn, the smaller of its two shares.  Sizes in any one unit. */
double pw_rack_bound_share(int k, double length, double depth, double zone_length, double zone_depth, bool may_turn);

/** One dual-feasible function of x in [0, 1]; k in 0 .. PW_RACK_BOUND_FUNCTIONS - 1, 0: identity. */
double pw_rack_bound_dff(int k, double x);

#endif
