/* oven_saving.h - finishing wrapped pieces in an oven against leaving them on the pit [F1]. */
#ifndef PW_PLAN_OVEN_SAVING_H
#define PW_PLAN_OVEN_SAVING_H

#include "pw/plan.h"

/** Compares the plan with one in which every piece now in an oven stays in the zone where it smoked, at the stage time of that
 *  zone, the fire burning on for it.  Whether the rack would have had the room is not asked. */
void pw_oven_saving_make(struct pw_oven_saving *out, const struct pw_event *ev, const struct pw_lots *lots,
                         const struct pw_allocation *allocation);

#endif
