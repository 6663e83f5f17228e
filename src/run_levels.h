/* run_levels.h - what being ready on time costs: the job planned for other chances too. */
#ifndef PW_RUN_LEVELS_H
#define PW_RUN_LEVELS_H

#include "plan/stages.h"

/** The event with another chance asked of each of its meals, in the arena of ctx; 0: none.  NULL: out of memory. */
const struct pw_event *pw_run_with_chance(const struct pw_event *ev, double frac, struct pw_ctx *ctx);

/** Fills plan->quote.levels: five chances asked, among them the plan's own.  Each is planned quickly from the plan as it stands; one
 *  that costs no less than a higher one is left out.  None where something is short or the seconds are over.  Errors:
 *  those of the stages. */
pw_status pw_run_levels(struct pw_plan *plan, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                        struct pw_ctx *ctx);

#endif
