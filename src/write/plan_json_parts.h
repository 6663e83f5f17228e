/* plan_json_parts.h - what the parts of the plan writer share: plan_json.c (places, lots, fire, loads), plan_json_heat.c
 * (cores, rules, fuels), plan_json_food.c (demand, purchases), plan_json_tasks.c (people, order of work) and plan_json_money.c (quote,
 * proof). */
#ifndef PW_PLAN_JSON_PARTS_H
#define PW_PLAN_JSON_PARTS_H

#include "base/json.h"
#include "pw/plan.h"

/** Settings of a pit that the burns use, in order of first use; the default one for a pit that stays cold. */
struct pw_plan_json_used {
  int *setting;
  int n;
};

struct pw_plan_json {
  struct pw_json_out out;
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_plan_json_used *used; /**< per pit */
  struct pw_ctx *ctx;
};

/** "2027-06-12" in the arena. */
const char *pw_plan_json_date(struct pw_plan_json *w, struct pw_date d);

/** What a crew line of a plan with a pool says besides (plan_json_shifts.c). */
void pw_plan_json_shift(struct pw_plan_json *w, const struct pw_crew *crew);

/** Each writes its members of the root. */
void pw_plan_json_demand(struct pw_plan_json *w);
void pw_plan_json_purchases(struct pw_plan_json *w);
void pw_plan_json_tasks(struct pw_plan_json *w); /**< crew and tasks */
void pw_plan_json_pool(
    struct pw_plan_json *w); /**< crew pool, work rules, how shifts were found; nothing without a pool */
/** What the people of given shifts would cost were they called as the work asks; nothing where that was not asked. */
void pw_plan_json_proposal(struct pw_plan_json *w);
void pw_plan_json_visits(struct pw_plan_json *w); /**< openings of the pits' doors */
void pw_plan_json_heat(struct pw_plan_json *w);   /**< cores */
void pw_plan_json_fuel(struct pw_plan_json *w);   /**< fuels, ovens */
void pw_plan_json_quote(struct pw_plan_json *w);
void pw_plan_json_solution(struct pw_plan_json *w); /**< solution, shortages, what of pw_plan_json_ways(), warnings */
void pw_plan_json_ways(struct pw_plan_json *w);     /**< shortfalls, remedies */

#endif
