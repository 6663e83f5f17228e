/* plan_check_space.c - rectangles on racks [J5], pieces in ovens and boxes [J6].
 * In: lots, loads, racks, zones, finishers.  Out: findings.  Idea: rectangles sorted by the minute they arrive; each
 * is compared with those that still lie on the same rack. */
#include "base/arena.h"
#include "base/diag.h"
#include "judge/plan_check_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define SLACK_M     1e-6 /* decimals of a file are rounded; a hair's breadth is no overlap */
#define COMPARE_MAX 4e8  /* pairs of rectangles looked at before giving up: no real plan comes near */

/* ---- one rectangle [J5] ------------------------------------------------------------------------------------ */

static bool is_size(const double size[2], double length_m, double depth_m)
{
  return fabs(size[0] - length_m) <= SLACK_M && fabs(size[1] - depth_m) <= SLACK_M;
}

static bool is_in_disc(const struct pw_seen_rack *rack, const struct pw_seen_rect *r)
{
  double radius = rack->length_m / 2;
  double far_x = fmax(fabs(r->x_m - radius), fabs(r->x_m + r->length_m - radius));
  double far_y = fmax(fabs(r->y_m - radius), fabs(r->y_m + r->depth_m - radius));
  return hypot(far_x, far_y) <= radius + SLACK_M;
}

static void check_rect(struct pw_judge *judge, const struct pw_seen_plan *plan, int i, int k)
{
  const struct pw_seen_load *load = &plan->loads[i];
  const struct pw_seen_lot *lot = &plan->lots[load->lot];
  const struct pw_seen_zone *zone = pw_check_zone(plan, load);
  const struct pw_seen_rack *rack = &plan->racks[zone->rack];
  const struct pw_seen_rect *r = &load->rects[k];
  const double *size = load->stage == PW_SEEN_FINISH ? lot->wrapped_m : lot->footprint_m;
  bool is_laid = is_size(size, r->length_m, r->depth_m), is_turned = is_size(size, r->depth_m, r->length_m);
  if (!is_laid && !is_turned)
    pw_judge_find(judge, "J5", "loads[%d].rects[%d]: is %.6g x %.6g m, a piece of \"%s\" takes %.6g x %.6g m", i, k,
                  r->length_m, r->depth_m, lot->id, size[0], size[1]);
  else if (!is_laid && !lot->turns)
    pw_judge_find(judge, "J5", "loads[%d].rects[%d]: pieces of \"%s\" may not be turned", i, k, lot->id);
  double middle_m = r->x_m + r->length_m / 2;
  if (middle_m < zone->x_m - SLACK_M || middle_m > zone->x_m + zone->length_m + SLACK_M)
    pw_judge_find(judge, "J5", "loads[%d].rects[%d]: has its middle at %.6g m, zone \"%s\" reaches from %.6g to %.6g m",
                  i, k, middle_m, zone->id, zone->x_m, zone->x_m + zone->length_m);
  else if (r->x_m < -SLACK_M || r->x_m + r->length_m > rack->length_m + SLACK_M || r->y_m < -SLACK_M ||
           r->y_m + r->depth_m > rack->depth_m + SLACK_M || (rack->shape == 1 && !is_in_disc(rack, r)))
    pw_judge_find(judge, "J5", "loads[%d].rects[%d]: sticks out over the edge of rack \"%s\"", i, k, rack->id);
}

static void check_load(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_load *load = &plan->loads[i];
  const struct pw_seen_lot *lot = &plan->lots[load->lot];
  const struct pw_seen_zone *zone = pw_check_zone(plan, load);
  const struct pw_seen_rack *rack = &plan->racks[zone->rack];
  if (load->n_rects != load->pieces)
    pw_judge_find(judge, "J5", "loads[%d]: %d pieces on a rack, but %d rectangles", i, load->pieces, load->n_rects);
  if (lot->height_m > rack->clear_height_m + SLACK_M)
    pw_judge_find(judge, "J5", "loads[%d]: pieces of \"%s\" are %.6g m high, rack \"%s\" has %.6g m clear", i, lot->id,
                  lot->height_m, rack->id, rack->clear_height_m);
  for (int k = 0; k < load->n_rects; k++)
    check_rect(judge, plan, i, k);
}

/* ---- pairs [J5] ------------------------------------------------------------------------------------------------ */

struct spot {
  int rack, load, rect, start_min, end_min;
};

static int by_rack_and_start(const void *pa, const void *pb)
{
  const struct spot *a = pa, *b = pb;
  if (a->rack != b->rack)
    return a->rack < b->rack ? -1 : 1;
  if (a->start_min != b->start_min)
    return a->start_min < b->start_min ? -1 : 1;
  if (a->load != b->load)
    return a->load < b->load ? -1 : 1;
  return (a->rect > b->rect) - (a->rect < b->rect);
}

static bool is_overlap(const struct pw_seen_rect *a, const struct pw_seen_rect *b)
{
  double dx = fmin(a->x_m + a->length_m, b->x_m + b->length_m) - fmax(a->x_m, b->x_m);
  double dy = fmin(a->y_m + a->depth_m, b->y_m + b->depth_m) - fmax(a->y_m, b->y_m);
  return dx > SLACK_M && dy > SLACK_M;
}

static void check_pairs(struct pw_judge *judge, const struct pw_seen_plan *plan, const struct spot *spots, size_t n,
                        size_t *lying)
{
  size_t n_lying = 0;
  double n_compared = 0;
  for (size_t i = 0; i < n; i++) {
    const struct spot *new = &spots[i];
    size_t kept = 0;
    bool is_said = false;
    for (size_t k = 0; k < n_lying; k++) {
      const struct spot *old = &spots[lying[k]];
      if (old->rack != new->rack || old->end_min <= new->start_min)
        continue; /* taken away */
      lying[kept++] = lying[k];
      n_compared++;
      if (is_said || !is_overlap(&plan->loads[old->load].rects[old->rect], &plan->loads[new->load].rects[new->rect]))
        continue;
      is_said = true;
      pw_judge_find(judge, "J5", "loads[%d].rects[%d]: overlaps loads[%d].rects[%d] on rack \"%s\" from minute %d",
                    new->load, new->rect, old->load, old->rect, plan->racks[new->rack].id, new->start_min);
    }
    n_lying = kept;
    lying[n_lying++] = i;
    if (n_compared > COMPARE_MAX) {
      pw_judge_find(judge, "J5", "loads: too many rectangles lie on one rack at a time to compare them all");
      return;
    }
  }
}

pw_status pw_check_racks(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  size_t n = 0, n_rects = 0;
  for (int z = 0; z < plan->n[PW_SEEN_ZONES]; z++) {
    const struct pw_seen_zone *zone = &plan->zones[z];
    if (zone->x_m < -SLACK_M || zone->x_m + zone->length_m > plan->racks[zone->rack].length_m + SLACK_M)
      pw_judge_find(judge, "J5", "zones[%d]: reaches from %.6g to %.6g m, rack \"%s\" is %.6g m long", z, zone->x_m,
                    zone->x_m + zone->length_m, plan->racks[zone->rack].id, plan->racks[zone->rack].length_m);
  }
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    n_rects += (size_t)plan->loads[i].n_rects;
  struct spot *spots = pw_arena_array(judge->ctx->arena, n_rects, sizeof *spots);
  size_t *lying = pw_arena_array(judge->ctx->arena, n_rects, sizeof *lying);
  if (!spots || !lying)
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    if (!pw_check_zone(plan, load))
      continue;
    check_load(judge, plan, i);
    for (int k = 0; k < load->n_rects && load->end_min > load->start_min; k++)
      spots[n++] = (struct spot){plan->zones[load->place].rack, i, k, pw_check_since(load), load->end_min};
  }
  if (n > 1)
    qsort(spots, n, sizeof *spots, by_rack_and_start);
  check_pairs(judge, plan, spots, n, lying);
  return PW_OK;
}

/* ---- ovens and boxes [J6] -------------------------------------------------------------------------------------- */

struct step {
  int finisher, at_min, load; /* load: index into loads, beyond them into side_pans */
  double by;                  /**< room taken (> 0) or given back */
};

static int by_finisher_and_minute(const void *pa, const void *pb)
{
  const struct step *a = pa, *b = pb;
  if (a->finisher != b->finisher)
    return a->finisher < b->finisher ? -1 : 1;
  if (a->at_min != b->at_min)
    return a->at_min < b->at_min ? -1 : 1;
  if ((a->by > 0) != (b->by > 0)) /* out before in */
    return a->by > 0 ? 1 : -1;
  return (a->load > b->load) - (a->load < b->load);
}

/** Until when the k-th piece of a load takes its room: whole in its box until it is cut, bit by bit until its last plate.  As the load
 *  says, where that is not told, where pieces of the lot have no place (it is cut in other goes then) and where now is [J19]. */
static int in_box_until(const struct pw_seen_plan *plan, const struct pw_seen_load *load, int k)
{
  const struct pw_seen_lot *lot = &plan->lots[load->lot];
  int until = load->end_min;
  if (load->stage != PW_SEEN_HOLD || k >= load->n_ids || lot->missed > 0 || lot->is_day_before ||
      lot->until_min == PW_SEEN_NO_TIME || plan->now_min != PW_SEEN_NO_TIME)
    return until;
  for (int t = 0; t < plan->n[PW_SEEN_TASKS]; t++) {
    const struct pw_seen_task *task = &plan->tasks[t];
    if (task->lot != load->lot || task->kind != PW_SEEN_CUT || task->told_late != PW_SEEN_NONE)
      continue;
    int cut = task->is_in_parts == 1 && task->plates_to_min != PW_SEEN_NO_TIME ? task->plates_to_min : task->at_min;
    for (int m = 0; m < task->n_ids && cut > until; m++)
      if (task->piece_ids[m] == load->piece_ids[k])
        until = cut;
  }
  return until;
}

pw_status pw_check_room(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  int n_loads = plan->n[PW_SEEN_LOADS];
  int n_sides = plan->n[PW_SEEN_SIDE_PANS];
  size_t n = 0, n_pieces = 0;
  for (int i = 0; i < n_loads; i++)
    n_pieces += plan->loads[i].n_ids > 0 ? (size_t)plan->loads[i].n_ids : 1;
  struct step *steps = pw_arena_array(judge->ctx->arena, 2 * (n_pieces + (size_t)n_sides), sizeof *steps);
  if (!steps)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n_loads; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    const struct pw_seen_finisher *finisher = pw_check_finisher(plan, load);
    if (!finisher || load->end_min <= load->start_min)
      continue;
    const struct pw_seen_lot *lot = &plan->lots[load->lot];
    double room = load->pieces * (finisher->unit == 1 ? lot->pans : lot->wrapped_m[0] * lot->wrapped_m[1]);
    int f = load->place - plan->n[PW_SEEN_ZONES], n_parts = load->n_ids > 0 ? load->n_ids : 1;
    for (int k = 0; k < n_parts; k++) {
      steps[n++] = (struct step){f, pw_check_since(load), i, room / n_parts};
      steps[n++] = (struct step){f, in_box_until(plan, load, k), i, -room / n_parts};
    }
  }
  for (int i = 0; i < n_sides; i++) {
    const struct pw_seen_side_pans *s = &plan->side_pans[i];
    int f = s->place - plan->n[PW_SEEN_ZONES];
    if (f < 0 || s->to_min <= s->from_min || plan->finishers[f].unit != 1)
      continue;
    steps[n++] = (struct step){f, s->from_min, n_loads + i, s->pans};
    steps[n++] = (struct step){f, s->to_min, n_loads + i, -s->pans};
  }
  if (n > 1)
    qsort(steps, n, sizeof *steps, by_finisher_and_minute);
  double used = 0;
  bool is_said = false;
  for (size_t i = 0; i < n; i++) {
    if (i == 0 || steps[i].finisher != steps[i - 1].finisher) {
      used = 0;
      is_said = false;
    }
    used += steps[i].by;
    const struct pw_seen_finisher *finisher = &plan->finishers[steps[i].finisher];
    bool is_over = used > finisher->capacity * (1 + 1e-9) + 1e-6;
    if (is_over && !is_said)
      pw_judge_find(judge, "J6", "%s[%d]: over-fills \"%s\" at minute %d: %.6g %s needed, %.6g there",
                    steps[i].load < n_loads ? "loads" : "side_pans",
                    steps[i].load < n_loads ? steps[i].load : steps[i].load - n_loads, finisher->id, steps[i].at_min,
                    used, finisher->unit == 1 ? "pans" : "m2", finisher->capacity);
    is_said = is_over;
  }
  return PW_OK;
}

/* ---- pans of sides [J6] ------------------------------------------------------------------------------------------ */

static bool is_warned(const struct pw_seen_plan *plan, const char *code)
{
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    if (strcmp(plan->warnings[i].code, code) == 0)
      return true;
  return false;
}

/** When the last pan of that dish goes out: before the quarter of the guests comes that needs it, on the dial of five minutes. */
static int last_out_min(const struct pw_seen_plan *plan, const struct pw_seen_side_pans *side)
{
  enum { DIAL_MIN = 5, QUARTERS = 4 };
  const struct pw_seen_service *s = &plan->services[side->service];
  int pans = 0, minute = 0;
  for (int k = 0; k < plan->n[PW_SEEN_SIDE_PANS]; k++) {
    const struct pw_seen_side_pans *other = &plan->side_pans[k];
    pans += other->service == side->service && strcmp(other->dish, side->dish) == 0 ? other->pans : 0;
  }
  int quarter = pans > 0 ? QUARTERS * (pans - 1) / pans : 0;
  while (quarter > 0 && minute + DIAL_MIN < pw_check_span_min(s) &&
         pw_check_come_frac(s, minute + DIAL_MIN) <= (double)quarter / QUARTERS + 1e-9)
    minute += DIAL_MIN;
  return s->at_min + minute;
}

static void check_side(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_side_pans *s = &plan->side_pans[i];
  int at_min = plan->services[s->service].at_min, f = s->place - plan->n[PW_SEEN_ZONES];
  const struct pw_seen_side_pans *first = &plan->side_pans[0];
  int before = plan->services[first->service].at_min - first->from_min, out = last_out_min(plan, s);
  if (s->to_min != out || s->from_min >= at_min || at_min - s->from_min != before)
    pw_judge_find(judge, "J6",
                  "side_pans[%d]: kept from minute %d to %d, the service begins at %d and the last goes out at %d", i,
                  s->from_min, s->to_min, at_min, out);
  if (s->place == PW_SEEN_NONE && s->is_hot && !is_warned(plan, "hot-room"))
    pw_judge_find(judge, "J6", "side_pans[%d]: hot pans of \"%s\" are in no box, and no warning \"hot-room\" says so",
                  i, s->dish);
  if (s->place == PW_SEEN_NONE)
    return;
  if (!s->is_hot || f < 0 || plan->finishers[f].kind != 1 || plan->finishers[f].unit != 1)
    pw_judge_find(judge, "J6", "side_pans[%d].place: %s pans of \"%s\" are in no hot box counted in pans", i,
                  s->is_hot ? "hot" : "cold", s->dish);
}

pw_status pw_check_sides(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_SIDE_PANS]; i++)
    check_side(judge, plan, i);
  for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++) {
    const struct pw_seen_demand *d = &plan->demand[i];
    int pans = 0, wrong = 0;
    for (int k = 0; k < plan->n[PW_SEEN_SIDE_PANS]; k++) {
      const struct pw_seen_side_pans *s = &plan->side_pans[k];
      bool is_its = s->service == d->service && strcmp(s->dish, d->dish) == 0;
      pans += is_its ? s->pans : 0;
      wrong += is_its && s->is_hot != d->is_hot;
    }
    if (!(d->pan_portions > 0) || d->portions_cover == PW_SEEN_NONE)
      continue;
    double made = ceil(d->portions_cover * (1 + (d->reserve_frac > 0 ? d->reserve_frac : 0)) - 1e-6);
    if (pans * d->pan_portions < made - 1e-6)
      pw_judge_find(judge, "J6", "demand[%d]: %.0f portions of \"%s\" at %.6g to the pan, side_pans have %d pans", i,
                    made, d->dish, d->pan_portions, pans);
    if (pans > 0 && (pans - 1) * d->pan_portions >= made + 1e-6)
      pw_judge_find(judge, "J6",
                    "demand[%d]: %.0f portions of \"%s\" at %.6g to the pan, side_pans have %d pans: too many", i, made,
                    d->dish, d->pan_portions, pans);
    if (wrong > 0)
      pw_judge_find(judge, "J6", "demand[%d]: \"%s\" is %s, its pans are not", i, d->dish, d->is_hot ? "hot" : "cold");
  }
  return PW_OK;
}
