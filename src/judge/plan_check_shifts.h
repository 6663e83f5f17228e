/* plan_check_shifts.h - who is there at a minute, as the rules on shifts worked out count them [J21]. */
#ifndef PW_PLAN_CHECK_SHIFTS_H
#define PW_PLAN_CHECK_SHIFTS_H

#include "judge/plan_check_parts.h"

enum pw_check_place { PW_CHECK_AT_FIRE, PW_CHECK_AT_PIT, PW_CHECK_AT_TABLE };

/** People of a kind on shift and not in a break, without people[except] (PW_SEEN_NONE: all). */
int pw_check_there(const struct pw_seen_plan *plan, int at, enum pw_check_place place, int except);
/** A fire burns at that minute. */
bool pw_check_is_lit(const struct pw_seen_plan *plan, int at);
/** Between 00:00 and 05:00 of the event's zone. */
bool pw_check_is_night(const struct pw_seen_plan *plan, int at);
/** What a shift of a line is paid: `minutes` without an unpaid break, no overtime of the week. */
double pw_check_shift_pay(const struct pw_seen_pool *line, int minutes);

/** [J21] what each shift is there for, what one hand more would buy, given shifts against proposed (plan_check_reasons.c). */
void pw_check_reasons(struct pw_judge *judge, const struct pw_seen_plan *plan);
void pw_check_proposal(struct pw_judge *judge, const struct pw_seen_plan *plan);

#endif
