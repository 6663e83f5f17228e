/* cook_day.h - on which day the event wants a cut cooked: that of its service, or the one before. */
#ifndef PW_COOK_DAY_H
#define PW_COOK_DAY_H

#include "pw/plan.h"

/** Whether the event wants this cut cooked the day before for this service. */
bool pw_is_day_before(const struct pw_event *ev, int service, int cut);

#endif
