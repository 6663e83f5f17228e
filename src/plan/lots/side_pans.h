/* side_pans.h - full-size pans of sides that are not cooked on the pit, and the hot boxes they wait in. */
#ifndef PW_SIDE_PANS_H
#define PW_SIDE_PANS_H

#include "base/ctx.h"
#include "pw/plan.h"

/* A hot side may come from the stove so long before its service, and is in its box so long before; common practice, no source */
enum { PW_SIDE_HOT_MIN = 150, PW_SIDE_DONE_MIN = 60 };

/** Pans of every panned dish without a cut, by its portions at cover with its reserve; hot ones are given room in boxes that count pans, the
 *  smallest that takes all of a dish, else spread from the roomiest on.  Fills lots->side_pans, so that the allocation leaves that
 *  room alone; what finds no room has no finisher and is warned of ("hot-room").  PW_ERR_MEMORY. */
pw_status pw_side_pans_make(struct pw_lots *lots, const struct pw_event *ev, const struct pw_demand *demand,
                            struct pw_ctx *ctx);

/** Most pans of sides that are in this box at one time. */
double pw_side_pans_most(const struct pw_lots *lots, int finisher);

#endif
