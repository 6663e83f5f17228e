/* plan_check_people.c - one pair of hands at one thing in one place [J15].
 * In: people and their tasks.  Out: findings. */
#include "base/arena.h"
#include "judge/plan_check_order.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { KITCHEN, SITE, ROAD }; /* as struct pw_seen_task.at_hand */

struct turn {
  int person, at_min, task;
};

static int by_person_and_time(const void *pa, const void *pb)
{
  const struct turn *a = pa, *b = pb;
  if (a->person != b->person)
    return a->person < b->person ? -1 : 1;
  if (a->at_min != b->at_min)
    return a->at_min < b->at_min ? -1 : 1;
  return (a->task > b->task) - (a->task < b->task);
}

static void check_shift(struct pw_order *o, int i)
{
  const struct pw_seen_task *task = &o->plan->tasks[i];
  const struct pw_seen_person *who = &o->plan->people[task->person];
  int from = task->at_min, to = task->at_min + task->minutes;
  if (from < who->from_min || to > who->to_min)
    pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" works from minute %d to %d, on shift from %d to %d", i, who->id,
                  from, to, who->from_min, who->to_min);
  for (int k = 0; k < who->n_breaks; k++)
    if (from < who->breaks[k].to_min && who->breaks[k].from_min < to)
      pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" works from minute %d to %d, in a break", i, who->id, from, to);
}

static void check_place(struct pw_order *o, int i)
{
  const struct pw_seen_task *task = &o->plan->tasks[i];
  if (task->at_hand == PW_SEEN_NONE) {
    pw_judge_find(o->judge, "J15", "tasks[%d].at_hand: is missing", i);
    return;
  }
  bool is_pit = task->place >= 0 && task->place < o->plan->n[PW_SEEN_PITS];
  if ((task->place == PW_SEEN_IN_KITCHEN && task->at_hand != KITCHEN) ||
      (task->place == PW_SEEN_ON_ROAD && task->at_hand != ROAD) ||
      ((task->place == PW_SEEN_ON_SITE || is_pit) && task->at_hand != SITE))
    pw_judge_find(o->judge, "J15", "tasks[%d].at_hand: not where its place is", i);
  static const int asked[] = {PW_SEEN_NONE, KITCHEN, SITE};
  int prep = o->plan->event.prep > 0 ? asked[o->plan->event.prep] : PW_SEEN_NONE;
  if (task->kind == PW_SEEN_PREP && prep != PW_SEEN_NONE && task->at_hand != prep &&
      o->plan->now_min == PW_SEEN_NO_TIME)
    pw_judge_find(o->judge, "J15", "tasks[%d].at_hand: \"prep\" is to be %s", i,
                  prep == KITCHEN ? "in the kitchen" : "on site");
  if ((task->kind == PW_SEEN_DRIVE) != (task->at_hand == ROAD))
    pw_judge_find(o->judge, "J15", "tasks[%d].at_hand: a drive is on the road, and nothing else", i);
}

/** Two tasks of one person one after the other, with `n_drives` of its own drives in between. */
static void check_way(struct pw_order *o, int from, int to, int n_drives)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_task *a = &plan->tasks[from], *b = &plan->tasks[to];
  static const char *const words[] = {"in the kitchen", "on site", "on the road"};
  int travel = plan->travel_min > 0 ? plan->travel_min : 0, gap = b->at_min - a->at_min - a->minutes;
  int ways =
      n_drives % 2 != (a->at_hand != b->at_hand) ? n_drives + 1 : n_drives; /* somebody else may be at the wheel */
  if (gap < ways * travel)
    pw_judge_find(o->judge, "J15",
                  "tasks[%d]: \"%s\" is %s at minute %d and was %s until %d, tasks[%d]: the way takes %d min", to,
                  plan->people[b->person].id, words[b->at_hand], b->at_min, words[a->at_hand], a->at_min + a->minutes,
                  from, travel);
}

/** Minutes of one pair of hands that the lot asks for one piece of the task; NAN: the file does not say. */
static double piece_min(const struct pw_seen_task *task, const struct pw_seen_lot *lot)
{
  switch (task->kind) {
  case PW_SEEN_BRINE:
    return lot->brine_min;
  case PW_SEEN_PREP:
    return lot->prep_min;
  case PW_SEEN_LOAD:
    return lot->load_min;
  case PW_SEEN_TURN:
    return lot->coals_turn_work_min;
  case PW_SEEN_WRAP:
    return lot->wrap_min;
  case PW_SEEN_WRAP_CARRY:
    return lot->wrap_min + lot->unload_min + lot->load_min;
  case PW_SEEN_CARRY:
  case PW_SEEN_MOVE:
    return lot->unload_min + lot->load_min;
  case PW_SEEN_OFF:
    return lot->unload_min;
  case PW_SEEN_CUT:
    return lot->carve_min;
  default:
    return NAN;
  }
}

/** Work on pieces takes as long as the pieces ask. */
static void check_work(struct pw_order *o, int i)
{
  const struct pw_seen_task *task = &o->plan->tasks[i];
  if (task->lot == PW_SEEN_NONE || task->n_ids <= 0)
    return;
  double asked = task->n_ids * piece_min(task, &o->plan->lots[task->lot]);
  if (asked - task->minutes >= 1) /* whole minutes; no answer for NAN */
    pw_judge_find(o->judge, "J15", "tasks[%d].minutes: %d for %d pieces of \"%s\", they take %.6g", i, task->minutes,
                  task->n_ids, o->plan->lots[task->lot].id, asked);
}

/** A name on a sheet is one person's: nobody else on shift at the same time bears it. */
static void check_names(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++)
    for (int k = 0; k < p; k++) {
      const struct pw_seen_person *a = &plan->people[k], *b = &plan->people[p];
      if (a->name && b->name && strcmp(a->name, b->name) == 0 && a->from_min < b->to_min && b->from_min < a->to_min)
        pw_judge_find(o->judge, "J15",
                      "people[%d].name: \"%s\" is the name of people[%d], who is on shift at the same time", p, b->name,
                      k);
    }
}

void pw_order_people(struct pw_order *o)
{
  check_names(o);
  const struct pw_seen_plan *plan = o->plan;
  size_t n = 0;
  struct turn *turns = pw_arena_array(o->judge->ctx->arena, (size_t)plan->n[PW_SEEN_TASKS], sizeof *turns);
  if (!turns) {
    o->has_no_memory = true;
    return;
  }
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    check_work(o, i);
    if (plan->tasks[i].person == PW_SEEN_NONE)
      continue;
    check_shift(o, i);
    check_place(o, i);
    turns[n++] = (struct turn){plan->tasks[i].person, plan->tasks[i].at_min, i};
  }
  if (n > 1)
    qsort(turns, n, sizeof *turns, by_person_and_time);
  int busy = PW_SEEN_NONE, stood = PW_SEEN_NONE,
      n_drives = 0; /* the task that ends last; the last one not on the road */
  for (size_t i = 0; i < n; i++) {
    const struct pw_seen_task *task = &plan->tasks[turns[i].task];
    if (i == 0 || turns[i].person != turns[i - 1].person) {
      busy = stood = PW_SEEN_NONE;
      n_drives = 0;
    }
    if (busy != PW_SEEN_NONE && plan->tasks[busy].at_min + plan->tasks[busy].minutes > task->at_min)
      pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" begins at minute %d and is at tasks[%d] until %d",
                    turns[i].task, plan->people[task->person].id, task->at_min, busy,
                    plan->tasks[busy].at_min + plan->tasks[busy].minutes);
    if (busy == PW_SEEN_NONE || task->at_min + task->minutes > plan->tasks[busy].at_min + plan->tasks[busy].minutes)
      busy = turns[i].task;
    if (task->at_hand == ROAD)
      n_drives++;
    else if (task->at_hand != PW_SEEN_NONE) {
      if (stood != PW_SEEN_NONE)
        check_way(o, stood, turns[i].task, n_drives);
      stood = turns[i].task;
      n_drives = 0;
    }
  }
}
