/* plan_check_drips.c - the judge on what drips on what [J17]: raw animal food above food that does not still pass its kill step (FDA Food
 * Code 2022 3-302.11(A), 3-401.11).  Limits are taken from the code once more; when a core is safe is the heat engine's word. */
#include "judge/plan_check_parts.h"

#include <math.h>

#define SLACK_C  0.3  /* 145 F is printed as 62.8 or 63 C */
#define MARGIN_M 0.02 /* beside the outline of what drips: common practice, no source */

/** Core that makes the drips of a kind of food safe, C; 0: it does not drip raw. */
static double kill_c(const struct pw_seen_lot *lot)
{
  if (lot->kind == PW_SEEN_PLANT || lot->kind == PW_SEEN_NONE)
    return 0;
  switch (lot->safety) {
  case PW_SEEN_INTACT:
    return 62.8; /* 3-401.11(A)(1) */
  case PW_SEEN_SAFE_POULTRY:
    return 73.9; /* 3-401.11(A)(3) */
  case PW_SEEN_PRECOOKED:
  case PW_SEEN_SAFE_PLANT:
  case PW_SEEN_REHEATED:
  case PW_SEEN_NONE:
    return 0;
  default:
    return 68.3; /* 3-401.11(A)(2) */
  }
}

/** What a lot is to what lies below it. */
static enum pw_seen_drips drips_of(const struct pw_seen_lot *lot)
{
  if (kill_c(lot) == 0)
    return PW_SEEN_DRIPS_READY;
  if (lot->safety == PW_SEEN_SAFE_POULTRY)
    return PW_SEEN_DRIPS_POULTRY;
  if (lot->safety != PW_SEEN_INTACT)
    return PW_SEEN_DRIPS_GROUND;
  return lot->kind == PW_SEEN_FISH ? PW_SEEN_DRIPS_FISH : PW_SEEN_DRIPS_WHOLE;
}

static bool is_above(const struct pw_seen_plan *plan, int upper, int lower)
{
  const struct pw_seen_rack *high = &plan->racks[upper], *low = &plan->racks[lower];
  if (high->pit != low->pit || high->level == PW_SEEN_NONE || low->level == PW_SEEN_NONE || high->level <= low->level)
    return false;
  for (int r = 0; r < plan->n[PW_SEEN_RACKS]; r++)
    if (plan->racks[r].pit == high->pit && plan->racks[r].is_tray_below == 1 && plan->racks[r].level > low->level &&
        plan->racks[r].level <= high->level)
      return false;
  return true;
}

static bool meet(double a, double a_size, double b, double b_size)
{
  return a < b + b_size + MARGIN_M && b < a + a_size + MARGIN_M;
}

/** Any piece of the one above any of the other, seen from above; along or across unlike racks everywhere. */
static bool lie_above(const struct pw_seen_plan *plan, const struct pw_seen_load *a, const struct pw_seen_load *b)
{
  const struct pw_seen_rack *ra = &plan->racks[plan->zones[a->place].rack],
                            *rb = &plan->racks[plan->zones[b->place].rack];
  bool is_long = fabs(ra->length_m - rb->length_m) < 1e-6, is_deep = fabs(ra->depth_m - rb->depth_m) < 1e-6;
  for (int i = 0; i < a->n_rects; i++)
    for (int k = 0; k < b->n_rects; k++) {
      const struct pw_seen_rect *x = &a->rects[i], *y = &b->rects[k];
      if ((!is_long || meet(x->x_m, x->length_m, y->x_m, y->length_m)) &&
          (!is_deep || meet(x->y_m, x->depth_m, y->y_m, y->depth_m)))
        return true;
    }
  return false;
}

static int drips_until(const struct pw_seen_load *load)
{
  return load->drips_until_min == PW_SEEN_NO_TIME ? load->end_min : load->drips_until_min;
}

static void check_pair(struct pw_judge *judge, const struct pw_seen_plan *plan, int u, int l)
{
  const struct pw_seen_load *up = &plan->loads[u], *low = &plan->loads[l];
  const struct pw_seen_lot *above = &plan->lots[up->lot], *below = &plan->lots[low->lot];
  int last = drips_until(up) < low->end_min ? drips_until(up) : low->end_min;
  if (up->start_min >= last || low->start_min >= last || !lie_above(plan, up, low))
    return;
  bool has_finish = !isnan(below->to_c[1]);
  double end_c = below->to_c[has_finish ? 1 : 0];
  bool is_one_batch = up->lot == low->lot && up->start_min == low->start_min && up->end_min == low->end_min;
  if (is_one_batch || (end_c >= kill_c(above) - SLACK_C && (has_finish || low->end_min > last)))
    return;
  pw_judge_find(
      judge, "J17",
      "loads[%d]: raw \"%s\" on rack \"%s\" drips until minute %d on loads[%d], \"%s\" on \"%s\", which does not "
      "pass %g C after it",
      u, above->id, plan->racks[plan->zones[up->place].rack].id, last, l, below->id,
      plan->racks[plan->zones[low->place].rack].id, kill_c(above));
}

static bool is_open(const struct pw_seen_plan *plan, int i)
{
  return plan->loads[i].stage == PW_SEEN_SMOKE && pw_check_zone(plan, &plan->loads[i]);
}

pw_status pw_check_drips(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++) {
    const struct pw_seen_lot *lot = &plan->lots[l];
    if (lot->drips != PW_SEEN_NONE && lot->kind != PW_SEEN_NONE && lot->safety != PW_SEEN_NONE &&
        lot->drips != (int)drips_of(lot))
      pw_judge_find(judge, "J17", "lots[%d].drips: is \"%s\", its kind makes it \"%s\"", l, pw_seen_drips[lot->drips],
                    pw_seen_drips[drips_of(lot)]);
  }
  for (int u = 0; u < plan->n[PW_SEEN_LOADS]; u++) {
    const struct pw_seen_load *up = &plan->loads[u];
    if (up->drips_until_min != PW_SEEN_NO_TIME &&
        (up->drips_until_min < up->start_min || up->drips_until_min > up->end_min))
      pw_judge_find(judge, "J17", "loads[%d].drips_until_min: is %d, it lies there from %d to %d", u,
                    up->drips_until_min, up->start_min, up->end_min);
    if (!is_open(plan, u) || kill_c(&plan->lots[up->lot]) == 0)
      continue;
    int rack = plan->zones[up->place].rack;
    for (int l = 0; l < plan->n[PW_SEEN_LOADS]; l++)
      if (is_open(plan, l) && is_above(plan, rack, plan->zones[plan->loads[l].place].rack))
        check_pair(judge, plan, u, l);
  }
  return PW_OK;
}
