/* meat.h - cooked meat, without bones, that a guest eats of a menu, all its meats together, beside what is usual for the style of the service. */
#ifndef PW_MEAT_H
#define PW_MEAT_H

#include "plan/stages.h"

/** Cooked meat as it is eaten, on the mean, of a guest of full appetite who eats meat: kg; 0
 *  when nobody there eats meat, or the menu has none.  `demand` is the event's own. */
double pw_meat_per_guest_kg(const struct pw_event *ev, const struct pw_demand *demand, int service);

/** A counted unit as it is eaten, without its bones. */
double pw_meat_unit_kg(const struct pw_event *ev, const struct pw_dish *dish);

/** -1: less than the style's usual range, 1: more, 0: within it, or no meat at all. */
int pw_meat_outside(const struct pw_event *ev, const struct pw_demand *demand, int service);

/** A warning for each service outside its range. */
void pw_meat_warn(const struct pw_event *ev, const struct pw_demand *demand, struct pw_ctx *ctx);

#endif
