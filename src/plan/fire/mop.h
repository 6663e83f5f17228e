/* mop.h - when a piece is mopped and what that takes: the tasks and the fire read it here [S1][F1]. */
#ifndef PW_PLAN_MOP_H
#define PW_PLAN_MOP_H

#include "pw/event.h"

enum {
  PW_MOP_LAST_BEFORE_MIN = 45
}; /* no mop so shortly before the wrap, a wet bark steams: common practice, no source */

/** Minutes of one pair of hands at the open door to mop so many pieces. */
double pw_mop_work_min(int pieces);

/** First mop later than after_at_min of pieces on the pit from on_at_min to off_at_min: every mop_every_min once the rub has
 *  set, none shortly before they come off.  INT_MAX when there is none. */
int pw_mop_next_at_min(const struct pw_cut *cut, int on_at_min, int off_at_min, int after_at_min);

#endif
