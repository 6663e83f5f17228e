/* plan_check_now.c - a plan mended from now on [J19].
 * In: now, lots, loads, tasks, warnings.  Out: findings.  What was before now is fact (plan_fields.c); here stands what a mended plan
 * owes besides: paces that are possible, nothing new in the past, no silence about what is late. */
#include "judge/plan_check_parts.h"

#include <math.h>
#include <string.h>

#define PACE_LEAST_FRAC 0.25 /* faster or slower than this is no belief about a cook: common practice, no source */
#define PACE_MOST_FRAC  4.0

static bool is_told(const struct pw_seen_plan *plan, const char *code)
{
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    if (pw_check_is(plan->warnings[i].code, code))
      return true;
  return false;
}

pw_status pw_check_now(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  if (plan->now_min == PW_SEEN_NO_TIME) {
    if (plan->edition != PW_SEEN_NONE)
      pw_judge_find(judge, "J19", "edition: %d, and no now_min says since when", plan->edition);
    for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
      if (plan->lots[l].late_min > 0)
        pw_judge_find(judge, "J19", "lots[%d].late_min: %d in a plan that is not mended", l, plan->lots[l].late_min);
    return PW_OK;
  }
  if (plan->edition == PW_SEEN_NONE)
    pw_judge_find(judge, "J19", "edition: is missing, now_min says that the plan is mended");
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    bool is_cooked = load->stage == PW_SEEN_SMOKE || load->stage == PW_SEEN_FINISH;
    if (is_cooked && load->start_min >= plan->now_min && !isnan(load->pace_frac) &&
        (load->pace_frac < PACE_LEAST_FRAC || load->pace_frac > PACE_MOST_FRAC))
      pw_judge_find(judge, "J19", "loads[%d].pace_frac: %.4g is no pace of a cook", i, load->pace_frac);
    if (is_cooked && isnan(load->pace_frac))
      pw_judge_find(judge, "J19", "loads[%d].pace_frac: is missing", i);
  }
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++) {
    const struct pw_seen_lot *lot = &plan->lots[l];
    int rested = PW_SEEN_NO_TIME;
    for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
      const struct pw_seen_load *load = &plan->loads[i];
      int end = load->end_min + (load->stage <= PW_SEEN_FINISH ? lot->rest_min : 0);
      bool is_cooked = load->stage == PW_SEEN_SMOKE || load->stage == PW_SEEN_FINISH;
      if (load->lot == l && is_cooked && (!lot->has_finish_range || load->stage == PW_SEEN_FINISH) && end > rested)
        rested = end;
    }
    int late = rested == PW_SEEN_NO_TIME ? 0 : rested + lot->knives_min - lot->by_min;
    if (late > 0 && lot->late_min < late)
      pw_judge_find(judge, "J19", "lots[%d].late_min: %d, its last piece is rested %d min after its time", l,
                    lot->late_min, late);
    if (lot->late_min > (late > 0 ? late : 0))
      pw_judge_find(judge, "J19", "lots[%d].late_min: %d, its last piece is rested %d min after its time", l,
                    lot->late_min, late > 0 ? late : 0);
    if (lot->late_min > 0 && !is_told(plan, "late-meal"))
      pw_judge_find(judge, "J19", "warnings: \"%s\" is %d min late, and no warning \"late-meal\" says so", lot->id,
                    lot->late_min);
  }
  return PW_OK;
}
