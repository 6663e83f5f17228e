/* plan_check_now.c - a plan mended from now on [J19].
 * In: now, lots, loads, tasks, warnings.  Out: findings.  What was before now is fact (plan_fields.c); here stands what a mended plan
 * owes besides: paces that are possible, nothing new in the past, no silence about what is late. */
#include "judge/plan_check_order.h"
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

int pw_check_since(const struct pw_seen_load *load)
{
  return load->carried_min == PW_SEEN_NO_TIME ? load->start_min : load->carried_min;
}

static int pit_or_oven(const struct pw_seen_plan *plan, int place)
{
  int n_zones = plan->n[PW_SEEN_ZONES];
  return place < n_zones ? plan->racks[plan->zones[place].rack].pit : plan->n[PW_SEEN_PITS] + place - n_zones;
}

static bool is_over(const struct pw_seen_rect *p, const struct pw_seen_rect *q)
{
  const double touch_m = 1e-4;
  return p->x_m + touch_m < q->x_m + q->length_m && q->x_m + touch_m < p->x_m + p->length_m &&
         p->y_m + touch_m < q->y_m + q->depth_m && q->y_m + touch_m < p->y_m + p->depth_m;
}

/** Nothing lies where it is carried to: [J5] takes what is under way as a fact, and this is not one yet. */
static void check_carried_room(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_load *load = &plan->loads[i];
  for (int k = 0; k < plan->n[PW_SEEN_LOADS]; k++) {
    const struct pw_seen_load *other = &plan->loads[k];
    if (k == i || !pw_check_zone(plan, other) || !pw_check_zone(plan, load) ||
        pw_check_zone(plan, other)->rack != pw_check_zone(plan, load)->rack || other->end_min <= load->carried_min ||
        pw_check_since(other) >= load->end_min)
      continue;
    for (int a = 0; a < load->n_rects; a++)
      for (int b = 0; b < other->n_rects; b++)
        if (is_over(&load->rects[a], &other->rects[b])) {
          pw_judge_find(judge, "J19", "loads[%d].rects[%d]: carried at minute %d to where loads[%d].rects[%d] lies", i,
                        a, load->carried_min, k, b);
          return;
        }
  }
}

/** Carried in the middle of a stage: within it, to another place, by somebody, to where there is room. */
static void check_carried(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  enum { LATE_MIN = 30 };
  const struct pw_seen_load *load = &plan->loads[i];
  if (load->carried_min == PW_SEEN_NO_TIME) {
    if (load->carried_from != PW_SEEN_NONE)
      pw_judge_find(judge, "J19", "loads[%d].carried_from: and no carried_min says when", i);
    return;
  }
  if (plan->now_min == PW_SEEN_NO_TIME)
    pw_judge_find(judge, "J19", "loads[%d].carried_min: %d in a plan that is not mended", i, load->carried_min);
  if (load->carried_min <= load->start_min || load->carried_min >= load->end_min)
    pw_judge_find(judge, "J19", "loads[%d].carried_min: %d is not between its start %d and its end %d", i,
                  load->carried_min, load->start_min, load->end_min);
  if (load->carried_from == PW_SEEN_NONE || load->carried_from == load->place || load->stage > PW_SEEN_FINISH)
    pw_judge_find(judge, "J19", "loads[%d].carried_from: food that is cooked is carried from one place to another", i);
  if (load->carried_min < plan->now_min)
    return; /* it was */
  check_carried_room(judge, plan, i);
  for (int k = 0; k < load->n_ids; k++) {
    int n = 0;
    for (int t = 0; t < plan->n[PW_SEEN_TASKS]; t++) {
      const struct pw_seen_task *task = &plan->tasks[t];
      for (int id = 0; task->kind == PW_SEEN_MOVE && task->lot == load->lot && id < task->n_ids; id++)
        n +=
            task->piece_ids[id] == load->piece_ids[k] && task->to_place == pit_or_oven(plan, load->place) &&
            (task->person == PW_SEEN_NONE || (task->at_min >= load->carried_min &&
                                              task->at_min <= load->carried_min + LATE_MIN + pw_order_told_late(task)));
    }
    if (n != 1)
      pw_judge_find(judge, "J19", "loads[%d]: piece %d of \"%s\" is carried at minute %d, and %d tasks say so", i,
                    load->piece_ids[k], plan->lots[load->lot].id, load->carried_min, n);
  }
}

/** Who is away does nothing from then on. */
static void check_away(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int k = 0; k < plan->n_away; k++)
    for (int t = 0; t < plan->n[PW_SEEN_TASKS]; t++) {
      const struct pw_seen_task *task = &plan->tasks[t];
      const struct pw_seen_away *away = &plan->away[k];
      int from = away->from_min > plan->now_min ? away->from_min : plan->now_min;
      if (task->person == away->person && task->at_min >= from && task->at_min < away->to_min)
        pw_judge_find(judge, "J19", "tasks[%d]: \"%s\" has it at minute %d and is away from %d on", t,
                      plan->people[away->person].id, task->at_min, away->from_min);
    }
}

pw_status pw_check_now(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    check_carried(judge, plan, i);
  if (plan->now_min == PW_SEEN_NO_TIME) {
    if (plan->edition != PW_SEEN_NONE)
      pw_judge_find(judge, "J19", "edition: %d, and no now_min says since when", plan->edition);
    for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
      if (plan->lots[l].late_min > 0)
        pw_judge_find(judge, "J19", "lots[%d].late_min: %d in a plan that is not mended", l, plan->lots[l].late_min);
    return PW_OK;
  }
  check_away(judge, plan);
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
