/* plan_check_heated.c - the judge on ovens and boxes [J23]: hot before food goes in.
 * In: finishers, loads, reheats, pans of sides, tasks.  Out: findings and pairs of the order of work.
 * A file whose finishers do not say how long they take to be hot is from before there was a line for it, and is not asked. */
#include "base/arena.h"
#include "judge/plan_check_order.h"
#include "judge/plan_check_parts.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { SIDE_DONE_MIN = 60 }; /* a hot side is in its box so long before its meal; common practice, no source */
#define TEMP_APART_C 0.051   /* a file's rounding */

struct food {
  int from_min, to_min, side; /**< side: index into side_pans, PW_SEEN_NONE */
};

static int by_from(const void *a, const void *b)
{
  const struct food *x = a, *y = b;
  if (x->from_min != y->from_min)
    return x->from_min < y->from_min ? -1 : 1;
  return (x->to_min > y->to_min) - (x->to_min < y->to_min);
}

/** What is ever in a finisher, by its begin; the array has room for all of the plan. */
static int foods_of(const struct pw_seen_plan *plan, int f, struct food *foods)
{
  int n = 0, place = plan->n[PW_SEEN_ZONES] + f;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *l = &plan->loads[i];
    bool is_carried = l->carried_min != PW_SEEN_NO_TIME;
    if (is_carried && l->carried_from == place && l->carried_min > l->start_min)
      foods[n++] = (struct food){l->start_min, l->carried_min, PW_SEEN_NONE};
    if (l->place == place)
      foods[n++] = (struct food){is_carried ? l->carried_min : l->start_min, l->end_min, PW_SEEN_NONE};
  }
  for (int i = 0; i < plan->n[PW_SEEN_REHEATS]; i++) {
    const struct pw_seen_reheat *r = &plan->reheats[i];
    if (r->place == place && plan->lots[r->lot].missed < plan->lots[r->lot].pieces)
      foods[n++] = (struct food){r->from_min, r->out_min, PW_SEEN_NONE};
  }
  for (int i = 0; i < plan->n[PW_SEEN_SIDE_PANS]; i++)
    if (plan->side_pans[i].place == place)
      foods[n++] = (struct food){plan->side_pans[i].from_min, plan->side_pans[i].to_min, i};
  if (n > 1)
    qsort(foods, (size_t)n, sizeof *foods, by_from);
  return n;
}

/** When a side is put in: as the first who makes it is done, and an hour before its meal where no task makes it. */
static int side_in_min(const struct pw_seen_plan *plan, int side)
{
  const struct pw_seen_side_pans *s = &plan->side_pans[side];
  int at = INT_MAX;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *t = &plan->tasks[i];
    if (t->kind == PW_SEEN_PREP && t->lot == PW_SEEN_NONE && t->service == s->service && t->dish &&
        strcmp(t->dish, s->dish) == 0 && t->at_min + t->minutes < at)
      at = t->at_min + t->minutes;
  }
  int done = plan->services[s->service].at_min - SIDE_DONE_MIN;
  return at != INT_MAX ? at : done > s->from_min ? done : s->from_min;
}

/** Food goes in from from_min to to_min and not before first_min; the oven was left at before_min. */
static void check_stretch(struct pw_order *o, int f, int before_min, int from_min, int to_min, int first_min)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_finisher *fin = &plan->finishers[f];
  bool is_mended = plan->now_min != PW_SEEN_NO_TIME;
  int place = plan->n[PW_SEEN_PITS] + f, heat = PW_SEEN_NONE, n = 0;
  if (is_mended && first_min < plan->now_min) /* [J19] what was before now is fact */
    return;
  bool is_at_once = is_mended && first_min - plan->now_min < fin->heat_up_min; /* switched on at once, and told so */
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *t = &plan->tasks[i];
    if (t->kind != PW_SEEN_HEAT_UP || t->place != place || t->at_min < before_min || t->at_min >= to_min)
      continue;
    heat = heat == PW_SEEN_NONE ? i : heat;
    n++;
  }
  if (n != 1) {
    pw_judge_find(o->judge, "J23", "tasks: \"%s\" is heated %d times for the food from minute %d to %d", fin->id, n,
                  from_min, to_min);
    return;
  }
  const struct pw_seen_task *t = &plan->tasks[heat];
  bool is_done = is_mended && t->at_min < plan->now_min;
  if (t->person != PW_SEEN_NONE && !is_at_once && t->at_min + fin->heat_up_min > first_min + pw_order_told_late(t))
    pw_judge_find(o->judge, "J23", "tasks[%d]: \"%s\" is heated from minute %d, food goes in at %d: it takes %d min",
                  heat, fin->id, t->at_min, first_min, fin->heat_up_min);
  if (!is_done && t->at_min + fin->heat_up_min + fin->off_after_min < from_min)
    pw_judge_find(o->judge, "J23", "tasks[%d]: \"%s\" is heated from minute %d, food goes in at %d: empty too long",
                  heat, fin->id, t->at_min, from_min);
  if (!(fabs(t->temp_c - fin->temp_c) <= TEMP_APART_C))
    pw_judge_find(o->judge, "J23", "tasks[%d].temp_c: \"%s\" is set to %g C, finishers[%d] says %g", heat, fin->id,
                  t->temp_c, f, fin->temp_c);
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *in = &plan->tasks[i];
    bool is_past = is_mended && (in->at_min < plan->now_min || first_min < plan->now_min + t->minutes);
    if (in->kind != PW_SEEN_HEAT_UP && in->to_place == place && in->at_min >= from_min && in->at_min < to_min &&
        !is_past)
      pw_order_pair_add(o, heat, i, "hot before food goes in");
  }
}

/** Nothing is heated for nothing. */
static void check_used(struct pw_order *o, int f, int n_foods)
{
  for (int i = 0; n_foods == 0 && i < o->plan->n[PW_SEEN_TASKS]; i++)
    if (o->plan->tasks[i].kind == PW_SEEN_HEAT_UP && o->plan->tasks[i].place == o->plan->n[PW_SEEN_PITS] + f &&
        (o->plan->now_min == PW_SEEN_NO_TIME || o->plan->tasks[i].at_min >= o->plan->now_min))
      pw_judge_find(o->judge, "J23", "tasks[%d]: \"%s\" is heated, and nothing goes in", i, o->plan->finishers[f].id);
}

void pw_order_heat(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  size_t most =
      2 * (size_t)plan->n[PW_SEEN_LOADS] + (size_t)plan->n[PW_SEEN_REHEATS] + (size_t)plan->n[PW_SEEN_SIDE_PANS];
  struct food *foods = pw_arena_array(o->judge->ctx->arena, most + 1, sizeof *foods);
  if (!foods) {
    o->has_no_memory = true;
    return;
  }
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    if (plan->tasks[i].kind == PW_SEEN_HEAT_UP && plan->tasks[i].place < plan->n[PW_SEEN_PITS])
      pw_judge_find(o->judge, "J23", "tasks[%d].place: no oven and no box is heated", i);
  for (int f = 0; f < plan->n[PW_SEEN_FINISHERS]; f++) {
    const struct pw_seen_finisher *fin = &plan->finishers[f];
    int n = fin->heat_up_min > 0 ? foods_of(plan, f, foods) : 0, before = INT_MIN;
    check_used(o, f, n);
    for (int a = 0, b; a < n; a = b) {
      int to = foods[a].to_min, first = INT_MAX;
      for (b = a; b < n && (b == a || foods[b].from_min - to <= fin->off_after_min); b++) {
        int in = foods[b].side == PW_SEEN_NONE ? foods[b].from_min : side_in_min(plan, foods[b].side);
        first = in < first ? in : first;
        to = foods[b].to_min > to ? foods[b].to_min : to;
      }
      check_stretch(o, f, before, foods[a].from_min, to, first);
      before = to;
    }
  }
}
