/* slack_words.h - until when work is still in time [S1], in words, the same on every sheet. */
#ifndef PW_SLACK_WORDS_H
#define PW_SLACK_WORDS_H

#include "base/format.h"
#include "pw/plan.h"

/** "still in time until 15:10"; "" where a task has no slack. */
struct pw_short pw_slack_words(const struct pw_event *ev, const struct pw_task *task);
/** "latest 15:10": the same where there is little room. */
struct pw_short pw_slack_short(const struct pw_event *ev, const struct pw_task *task);
/** How much later than planned a load may begin (is_end: its pieces go on or come off), by the tasks that do it; 0: none. */
int pw_slack_of_load(const struct pw_plan *plan, const struct pw_load *load, bool is_end);
/** When the first hands begin on a load (is_end: wrap its pieces or take them off), by the tasks that do it: never before the plan's
 *  own minute, which is a grid's. */
int pw_begin_of_load(const struct pw_plan *plan, const struct pw_load *load, bool is_end);

#endif
