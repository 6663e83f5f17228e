/* day_before.h - lots cooked the day before [C1]: which they are, when chilling must begin, where they are reheated. */
#ifndef PW_DAY_BEFORE_H
#define PW_DAY_BEFORE_H

#include "base/ctx.h"
#include "pw/plan.h"

enum { PW_DAY_BEFORE_WINDOW_MIN = 360 }; /**< cooking may end so long before it has to; common practice, no source */

/** Last moment to begin chilling for a service: cold (six hours later, FDA Food Code 2022 3-501.14) before it is panned up for
 *  reheating, not after midnight of the day before, and while somebody is there for the check six hours later, or at least for the
 *  one after two where a shift ends before six in the evening. */
int pw_day_before_chill_by(const struct pw_event *ev, int service);

/** Places in ovens for reheating, at fixed times before each service; fills lots->reheats.  What finds none is left out.
 *  PW_ERR_MEMORY. */
pw_status pw_day_before_reheats(struct pw_lots *lots, const struct pw_event *ev, struct pw_ctx *ctx);

/** The same lots with one of them cooked the day before (plan/lots/lots.c).  PW_ERR_MEMORY. */
pw_status pw_lots_day_before(struct pw_lots *out, const struct pw_lots *lots, const struct pw_event *ev, int lot,
                             struct pw_ctx *ctx);

/** Pieces of a lot that are in an oven for reheating. */
int pw_day_before_reheated(const struct pw_lots *lots, int lot);

#endif
