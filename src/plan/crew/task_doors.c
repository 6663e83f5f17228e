/* task_doors.c - no door is opened for what nobody does [S1][F1].
 * A mop is left out where no hands are free at its minute: then its door stays shut, the fire keeps its heat and feeds move, which may
 * free or take hands.  In: visits, fires, tasks.  Out: the same, agreeing with each other. */
#include "base/arena.h"
#include "plan/fire/empty_fire.h"
#include "plan/fire/visits.h"
#include "plan/stages.h"

#include <string.h>

enum { ROUNDS = 6 }; /* each leaves out at least one act, most jobs none at all */

struct doors {
  const struct pw_plan *plan;
  int n_left;
};

/** What is drafted by the visits themselves (task_visits.c) and may be left out; other acts have tasks whoever does them. */
static bool has_task(void *user, int visit, int act)
{
  static const enum pw_task_kind KIND[] = {[PW_VISIT_SCRATCH] = PW_TASK_BARK_TEST,
                                           [PW_VISIT_CORE] = PW_TASK_CORE,
                                           [PW_VISIT_PROBE] = PW_TASK_PROBE,
                                           [PW_VISIT_MOP] = PW_TASK_MOP};
  struct doors *d = user;
  const struct pw_visit *v = &d->plan->visits.visits[visit];
  const struct pw_visit_act *a = &v->acts[act];
  bool is_there = a->kind < PW_VISIT_SCRATCH;
  for (int i = 0; i < d->plan->tasks.n_tasks && !is_there; i++) {
    const struct pw_task *t = &d->plan->tasks.tasks[i];
    is_there = t->kind == KIND[a->kind] && t->visit && strcmp(t->visit, v->id) == 0 &&
               t->lot == d->plan->allocation.loads[a->load].lot;
  }
  d->n_left += !is_there;
  return is_there;
}

pw_status pw_task_doors_make(struct pw_plan *plan, const struct pw_fuel_rates *rates, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  pw_status st = pw_tasks_make(&plan->tasks, plan, ctx);
  for (int i = 0; i < ROUNDS && st == PW_OK && plan->tasks.n_people > 0; i++) {
    struct pw_visits visits;
    struct doors d = {.plan = plan};
    st = pw_visits_keep(&visits, &plan->visits, has_task, &d, ev, &plan->lots, &plan->allocation, ctx);
    if (st != PW_OK || d.n_left == 0)
      break;
    plan->visits = visits;
    st = pw_fuel_make(&plan->fuel, ev, &plan->lots, &plan->allocation, &plan->visits, ctx);
    if (st == PW_OK)
      st = pw_empty_fires(&plan->fuel, ev, &plan->lots, &plan->allocation, rates, ctx);
    if (st == PW_OK)
      st = pw_tasks_make(&plan->tasks, plan, ctx);
  }
  return st;
}
