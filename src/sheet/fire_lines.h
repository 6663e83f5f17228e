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

#endif
