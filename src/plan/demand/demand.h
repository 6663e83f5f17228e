/* demand.h - who takes how much of a menu line, for the stages that need the distribution itself. */
#ifndef PW_DEMAND_H
#define PW_DEMAND_H

#include "base/stats.h"
#include "pw/plan.h"

/** Is it a dish that no-meat guests leave alone: one from a cut that is meat or fish? */
bool pw_demand_is_meat(const struct pw_event *ev, int dish);

/** How a guest of a class takes a line. */
const struct pw_law *pw_demand_law(const struct pw_demand *demand, const struct pw_event *ev, int line, int class);

/** One group per class that may take the dish of a line (appetite above 0): n guests, chance and helpings by the law of the class,
 *  weight = appetite x portion.  `groups` has room for ev->n_classes; returns how many were filled. */
int pw_demand_groups(struct pw_stats_group *groups, const struct pw_event *ev, const struct pw_demand *demand, int line,
                     int service, int dish);

#endif
