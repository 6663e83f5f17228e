/* run_people.h - what a plan asks of people, and of several plans that have their chance the one whose whole job costs least. */
#ifndef PW_RUN_PEOPLE_H
#define PW_RUN_PEOPLE_H

#include "run_on_time.h"

/** The stages behind the places: chilling, doors, fuel, who comes, tasks, slack (`is_with_slack`), what is short, the quote.  Errors:
 *  those of the stages. */
pw_status pw_run_people(struct pw_plan *plan, const struct pw_fuel_rates *rates, bool is_quick, bool is_with_slack,
                        struct pw_ctx *ctx);

/** Whether a is the better job: less without a place, then fewer tasks that lack hands, then cheaper with all its people. */
bool pw_run_is_better_job(const struct pw_plan *a, const struct pw_plan *b);

/** Takes the best job of those found for the plan, whose people are not worked out yet; the plan itself where none is better.  People
 *  are half of a job's cost and come in whole shifts, so plans whose fires cost alike may be a tenth apart.  Changes
 *  plan->{lots, allocation, margins, chance}, and of a choice of several *has_people: the stages of pw_run_people() are done, but for
 *  slack.  Errors: those of the stages. */
pw_status pw_run_best_job(struct pw_plan *plan, bool *has_people, const struct pw_found *found,
                          const struct pw_fuel_rates *rates, struct pw_ctx *ctx);

#endif
