/* demand.h - who takes how much of a menu line, for the stages that need the distribution itself. */
#ifndef PW_DEMAND_H
#define PW_DEMAND_H

#include "base/stats.h"
#include "pw/plan.h"

/** Is it a dish that no-meat guests leave alone: one from a cut that is meat or fish? */
bool pw_demand_is_meat(const struct pw_event *ev, int dish);

/** One group per class that may take the dish (appetite above 0): n guests, chance and helpings by the law, weight =
 *  appetite x per_portion.  `groups` has room for ev->n_classes; returns how many were filled. */
int pw_demand_groups(struct pw_stats_group *groups, const struct pw_event *ev, int service, int dish,
                     const struct pw_law *law, double per_portion);

#endif
