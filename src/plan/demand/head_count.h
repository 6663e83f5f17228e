/* head_count.h - heads of an event, and the same event for another number of heads. */
#ifndef PW_HEAD_COUNT_H
#define PW_HEAD_COUNT_H

#include "base/ctx.h"
#include "pw/event.h"

/** Heads as the event counts them: its largest service, or all services added. */
int pw_head_count(const struct pw_event *ev);

/** A copy of the event for `heads` heads (>= 1): every service and class keeps its share, whole guests are dealt by
 *  largest remainder (ties to the earlier one), and the copy's head count is exactly `heads`.  The copy shares all
 *  but its services with the original.  Errors: PW_ERR_MEMORY; PW_ERR_INPUT when the event has no guests. */
pw_status pw_head_count_scale(const struct pw_event **out, const struct pw_event *ev, int heads, struct pw_ctx *ctx);

/** `heads` guests of one service dealt over the classes in proportion to those it has (all to the first class when it has none):
 *  fresh[n_classes].  Errors: PW_ERR_MEMORY. */
pw_status pw_head_count_deal(int *fresh, const struct pw_event *ev, int service, int heads, struct pw_ctx *ctx);

/** Most guests fed at a time in a shift.  One that feeds nobody works for the day of the next meal, or after the last one for
 *  that day: its largest meal. */
int pw_head_count_fed(const struct pw_event *ev, const struct pw_crew *crew);

/** Hands of a crew line: as many as it says, and more where the guests fed in that shift ask for them. */
int pw_head_count_hands(const struct pw_event *ev, const struct pw_crew *crew);

#endif
