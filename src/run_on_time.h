/* run_on_time.h - the plan is chosen for its chance first [R3]: planned, drawn, widened where the blame lies, planned again. */
#ifndef PW_RUN_ON_TIME_H
#define PW_RUN_ON_TIME_H

#include "plan/stages.h"

/** A plan that has its chance, with what it is made of. */
struct pw_found_plan {
  struct pw_lots lots;
  struct pw_allocation allocation;
  struct pw_margins margins;
  struct pw_chance chance; /**< by the draws that are told */
};

enum { PW_FOUND_MOST = 5 }; /**< each is asked who comes, which takes about as long as a round of the search */

/** Some of those met on the way to the cheapest. */
struct pw_found {
  struct pw_found_plan plans[PW_FOUND_MOST];
  int n;
};

/** Margins with which a quick plan is ready on time as often as the event asks, as far as they can be had.  Reads
 *  plan->{event, demand, purchase}.  Errors: those of the stages. */
pw_status pw_run_margins(struct pw_margins *out, const struct pw_plan *plan, const struct pw_fuel_rates *rates,
                         const struct pw_allocate_options *options, struct pw_ctx *ctx);

/** Draws the plan as searched and mends its margins: wider while a service is late too often, narrower where that costs less and
 *  every target stays reached.  Changes plan->{lots, allocation, chance} and the margins.  `found`, unless NULL: other plans that have
 *  their chance as well and whose fires cost little more. */
pw_status pw_run_mend(struct pw_plan *plan, struct pw_margins *margins, struct pw_found *found,
                      const struct pw_fuel_rates *rates, const struct pw_allocate_options *options, struct pw_ctx *ctx);

#endif
