/* fire_lines.h - feeds stand in the fire list and nowhere else: on every other sheet one line sends whoever feeds a fire there. */
#ifndef PW_WRITE_FIRE_LINES_H
#define PW_WRITE_FIRE_LINES_H

#include "base/arena.h"
#include "pw/plan.h"

/** Does task i have a line on the sheets of roles?  All but feeds do; of the feeds of one fire the first of each role does. */
bool pw_fire_line_is(const struct pw_plan *plan, int i);

/** What such a line says: "Fire list of Long pit: feeds from 22:00 to 06:30" for a feed, else the task's own words.  In the arena;
 *  NULL when memory is out. */
const char *pw_fire_line(const struct pw_plan *plan, const struct pw_task *task, struct pw_arena *arena);

/** The task that lays on the k-th feed of a burn, or PW_NONE where tasks and feeds do not go together. */
int pw_fire_feed_task(const struct pw_plan *plan, int burn, int k);

/** When the fire sheet has the feed that this task lays on: hands may be at it a few minutes later. */
int pw_fire_feed_min(const struct pw_plan *plan, int task);

/** The burn that a feed is laid on, or PW_NONE. */
int pw_fire_burn_of(const struct pw_plan *plan, const struct pw_task *task);

#endif
