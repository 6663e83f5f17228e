/* plan_check_cuts.c - the judge on the knives [J22]: what is cut feeds the plates that come next, none of them later than a pan keeps,
 * and stays whole no longer than it may be held.  Pieces feed the guests of their wave in the order in which they are cut.
 * In: services, lots, loads, tasks.  Out: findings. */
#include "judge/plan_check_parts.h"

#include <math.h>

enum {
  GOES_MOST = 12, /* a lot is cut in at most so many goes */
  KNIVES_MIN =
      20 /* the longest of one: sooner than that before its first plate it need not be over; common practice, no source */
};

/** When the guests of the first `part` of `whole` pieces of the wave have come. */
static int plate_min(const struct pw_seen_service *s, const struct pw_seen_lot *lot, long part, long whole)
{
  double from = pw_check_come_frac(s, lot->by_min - s->at_min), to = pw_check_come_frac(s, lot->until_min - s->at_min);
  double asked = from + (double)part / (double)whole * (to - from);
  int at = lot->by_min;
  if (part >= whole)
    return lot->until_min;
  while (at < lot->until_min && pw_check_come_frac(s, at - s->at_min) + 1e-9 < asked)
    at++;
  return at;
}

static bool is_cut_of(const struct pw_seen_task *task, int lot)
{
  return task->lot == lot && task->kind == PW_SEEN_CUT && task->plates_to_min != PW_SEEN_NO_TIME;
}

/** Held whole from its load in the box until `until_min`. */
static void check_whole(struct pw_judge *judge, const struct pw_seen_plan *plan, int i, int until_min)
{
  const struct pw_seen_task *task = &plan->tasks[i];
  const struct pw_seen_lot *lot = &plan->lots[task->lot];
  int longest = 0;
  for (int l = 0; l < plan->n[PW_SEEN_LOADS]; l++) {
    const struct pw_seen_load *load = &plan->loads[l];
    if (load->lot != task->lot || load->stage != PW_SEEN_HOLD)
      continue;
    for (int k = 0; k < load->n_ids; k++)
      for (int m = 0; m < task->n_ids; m++)
        if (load->piece_ids[k] == task->piece_ids[m] && until_min - load->start_min > longest)
          longest = until_min - load->start_min;
  }
  if (longest > lot->hold_max_min + lot->over_min && task->told_late == PW_SEEN_NONE)
    pw_judge_find(judge, "J22", "tasks[%d]: \"%s\" is whole in its box for %d min until it is cut, at most %d", i,
                  lot->id, longest, lot->hold_max_min + lot->over_min);
}

/** So long before its first plate the knives begin on `pieces` of a lot. */
static int knives_min(const struct pw_seen_lot *lot, long pieces)
{
  double minutes = ceil((double)pieces * lot->carve_min - 1e-6);
  return minutes < KNIVES_MIN ? (int)minutes : KNIVES_MIN; /* carve_min missing: the longest */
}

static void check_cut(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_task *task = &plan->tasks[i];
  const struct pw_seen_lot *lot = &plan->lots[task->lot];
  const struct pw_seen_service *s = &plan->services[lot->service];
  long all = 0, before = 0, mine = 0;
  for (int k = 0; k < plan->n[PW_SEEN_TASKS]; k++) {
    const struct pw_seen_task *other = &plan->tasks[k];
    if (!is_cut_of(other, task->lot))
      continue;
    all += other->pieces;
    before += other->plates_to_min < task->plates_to_min ? other->pieces : 0;
    mine += other->plates_to_min == task->plates_to_min ? other->pieces : 0;
  }
  int first = plate_min(s, lot, before, all), last = plate_min(s, lot, before + mine, all),
      sooner = last - lot->pan_hold_max_min;
  if (task->plates_to_min != last)
    pw_judge_find(judge, "J22", "tasks[%d].plates_to_min: %d, pieces %ld to %ld of %ld of \"%s\" feed until %d", i,
                  task->plates_to_min, before + 1, before + mine, all, lot->id, last);
  if (lot->pan_hold_max_min == 0)
    return;
  if (task->is_in_parts == 1) {
    if (task->pieces > (all + GOES_MOST - 1) / GOES_MOST || sooner + knives_min(lot, mine) <= first)
      pw_judge_find(judge, "J22", "tasks[%d].is_in_parts: its plates from %d to %d need no cutting in parts", i, first,
                    last);
    check_whole(judge, plan, i, sooner > task->at_min ? sooner : task->at_min);
    return;
  }
  if (task->at_min < sooner)
    pw_judge_find(judge, "J22",
                  "tasks[%d]: \"%s\" is cut at minute %d, its last plate goes out at %d and it keeps %d min in pans", i,
                  lot->id, task->at_min, last, lot->pan_hold_max_min);
  check_whole(judge, plan, i, task->at_min);
}

pw_status pw_check_cuts(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  if (plan->now_min != PW_SEEN_NO_TIME) /* [J19] what was cut is cut, and the verdict says what it means */
    return PW_OK;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    if (task->kind != PW_SEEN_CUT || task->lot == PW_SEEN_NONE)
      continue;
    const struct pw_seen_lot *lot = &plan->lots[task->lot];
    if (lot->is_day_before || lot->until_min == PW_SEEN_NO_TIME || lot->by_min == PW_SEEN_NO_TIME)
      continue;
    if (task->plates_to_min == PW_SEEN_NO_TIME)
      pw_judge_find(judge, "J22", "tasks[%d].plates_to_min: is missing; \"%s\" is cut for somebody", i, lot->id);
    else
      check_cut(judge, plan, i);
  }
  return PW_OK;
}
