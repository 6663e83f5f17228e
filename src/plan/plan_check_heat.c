/* plan_check_heat.c - the judge on safe food: what the plan says of each core against its loads, its rule and its warnings [J13].
 * The limits are taken from published codes once more, not from the file. */
#include "plan/plan_check_parts.h"

#include <math.h>
#include <string.h>

#define SLACK_C 0.3           /* 145 F is printed as 62.8 or 63 C */
#define HOT_HOLD_C 57.2       /* 135 F, FDA Food Code 2022 3-501.16(A)(1) */
#define LEAST_CORE_C 57.2     /* 135 F, 3-401.13 and 3-403.11(C): no rule asks for less */
#define COME_UP_MOST_MIN 360  /* FSIS-GD-2021-14, 6 h from 50 to 130 F */
#define LEAST_LOG 6.5         /* 9 CFR 318.17; poultry asks for more */

static bool is_said(const struct pw_seen_plan *plan, const char *code)
{
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    if (strcmp(plan->warnings[i].code, code) == 0)
      return true;
  return false;
}

/** Coolest place of a lot's open stage by its loads; NAN without one. */
static double coolest_c(const struct pw_seen_plan *plan, int lot)
{
  double coolest = NAN;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    const struct pw_seen_zone *zone = pw_check_zone(plan, load);
    if (load->lot == lot && load->stage == PW_SEEN_SMOKE && zone && !(zone->temp_c >= coolest))
      coolest = zone->temp_c;
  }
  return coolest;
}

static void check_core(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_core *core = &plan->cores[i];
  double coolest = coolest_c(plan, core->lot);
  if (isnan(coolest))
    return; /* nothing of it is cooked */
  if (!(fabs(core->smoke_c - coolest) < 1e-6))
    pw_judge_find(judge, "J13", "cores[%d].smoke_c: is %g, the coolest load of the lot lies at %g", i, core->smoke_c, coolest);
  if (core->rule_core_c < LEAST_CORE_C - SLACK_C)
    pw_judge_find(judge, "J13", "cores[%d].rule_core_c: is %g, no rule asks for less than %g", i, core->rule_core_c, LEAST_CORE_C);
  if (core->end_core_c < core->rule_core_c - SLACK_C && !plan->has_safety_basis)
    pw_judge_find(judge, "J13", "cores[%d].end_core_c: is %g, the rule asks for %g, and the event names no basis", i,
                  core->end_core_c, core->rule_core_c);
  if (!core->is_raw)
    return;
  if (!(core->come_up_min <= COME_UP_MOST_MIN) && !is_said(plan, "come-up"))
    pw_judge_find(judge, "J13", "cores[%d].come_up_min: is %g, more than %d, and no warning \"come-up\" says so", i,
                  core->come_up_min, COME_UP_MOST_MIN);
  if (core->log_needed < LEAST_LOG)
    pw_judge_find(judge, "J13", "cores[%d].log_needed: is %g, less than %g", i, core->log_needed, LEAST_LOG);
  if (!(core->log_reduction + core->hold_log_reduction >= core->log_needed) && !is_said(plan, "lethality"))
    pw_judge_find(judge, "J13", "cores[%d].log_reduction: is %g and %g in the hold, %g are asked for, and no warning \"lethality\" says so",
                  i, core->log_reduction, core->hold_log_reduction, core->log_needed);
}

pw_status pw_check_heat(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_CORES]; i++)
    check_core(judge, plan, i);
  for (int i = 0; i < plan->n[PW_SEEN_FINISHERS]; i++)
    if (plan->finishers[i].kind == 1 && plan->finishers[i].temp_c < HOT_HOLD_C - SLACK_C && !plan->has_safety_basis)
      pw_judge_find(judge, "J13", "finishers[%d].temp_c: is %g, hot food is held at %g, and the event names no basis", i,
                    plan->finishers[i].temp_c, HOT_HOLD_C);
  return PW_OK;
}
