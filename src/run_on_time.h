/* run_on_time.h - the plan is chosen for its chance first [R3]: planned, drawn, widened where the blame lies, planned again. */
#ifndef PW_RUN_ON_TIME_H
#define PW_RUN_ON_TIME_H

#include "plan/stages.h"

/** Margins with which a quick plan is ready on time as often as the event asks, as far as they can be had.  Reads
 *  plan->{event, demand, purchase}.  Errors: those of the stages. */
pw_status pw_run_margins(struct pw_margins *out, const struct pw_plan *plan, const struct pw_fuel_rates *rates,
                         const struct pw_allocate_options *options, struct pw_ctx *ctx);

/** Draws the plan as searched and mends its margins: wider while a service is late too often, narrower where that costs less and
 *  every target stays reached.  Changes plan->{lots, allocation, chance} and the margins. */
pw_status pw_run_mend(struct pw_plan *plan, struct pw_margins *margins, const struct pw_fuel_rates *rates,
                      const struct pw_allocate_options *options, struct pw_ctx *ctx);

#endif
