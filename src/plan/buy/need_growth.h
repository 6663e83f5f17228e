/* need_growth.h - how the need of an item follows the guests: what of it stays, grows with them, with the square root of their number,
 * and with the whole pieces of each cut. */
#ifndef PW_NEED_GROWTH_H
#define PW_NEED_GROWTH_H

#include "plan/stages.h"

/** Parts of a need, in the item's unit: together it at the planned number of guests and pieces. */
struct pw_need_growth {
  double fixed, by_guest, by_root;
  double *by_piece; /**< per raw need: of one piece */
};

/** Parts of `need`, which is all of an item's or a share of it.  Where the item's sources do not add up to what the plan buys, all of it
 *  grows with the guests.  Errors: PW_ERR_MEMORY. */
pw_status pw_need_growth(struct pw_need_growth *out, const struct pw_plan *plan, int item, double need,
                         struct pw_ctx *ctx);

/** Share of the cushion in the need of a demand line, 0..1: what of it grows with the square root of the guests only. */
double pw_need_cushion_frac(const struct pw_plan *plan, int line);

#endif
