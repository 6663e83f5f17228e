/* fire_lines.c - one line per fire and role in place of its feeds. */
#include "sheet/fire_lines.h"

#include "base/when.h"

#include <string.h>

int pw_fire_burn_of(const struct pw_plan *plan, const struct pw_task *task)
{
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    if (burn->pit == task->pit && burn->lit_at_min <= task->at_min && task->at_min < burn->out_at_min)
      return b;
  }
  return PW_NONE;
}

static bool is_feed_of(const struct pw_plan *plan, int task, int burn)
{
  return plan->tasks.tasks[task].kind == PW_TASK_FEED && pw_fire_burn_of(plan, &plan->tasks.tasks[task]) == burn;
}

int pw_fire_feed_task(const struct pw_plan *plan, int burn, int k)
{
  int n = 0, found = PW_NONE;
  for (int i = 0; i < plan->tasks.n_tasks; i++)
    if (is_feed_of(plan, i, burn) && n++ == k)
      found = i;
  return burn < plan->fuel.n_burns && n == plan->fuel.burns[burn].n_feeds ? found : PW_NONE;
}

int pw_fire_feed_min(const struct pw_plan *plan, int task)
{
  int burn = pw_fire_burn_of(plan, &plan->tasks.tasks[task]), k = 0;
  for (int i = 0; i < task; i++)
    k += is_feed_of(plan, i, burn);
  return burn != PW_NONE && pw_fire_feed_task(plan, burn, k) == task ? plan->fuel.burns[burn].feeds[k].at_min
                                                                     : plan->tasks.tasks[task].at_min;
}

static bool is_same_role(const struct pw_plan *plan, int a, int b)
{
  return a == b || (a != PW_NONE && b != PW_NONE && strcmp(plan->event->crew[a].role, plan->event->crew[b].role) == 0);
}

bool pw_fire_line_is(const struct pw_plan *plan, int i)
{
  const struct pw_task *task = &plan->tasks.tasks[i];
  if (task->kind != PW_TASK_FEED)
    return true;
  for (int k = 0; k < i; k++) {
    const struct pw_task *before = &plan->tasks.tasks[k];
    if (before->kind == PW_TASK_FEED && before->pit == task->pit && is_same_role(plan, before->crew, task->crew) &&
        pw_fire_burn_of(plan, before) == pw_fire_burn_of(plan, task))
      return false;
  }
  return true;
}

const char *pw_fire_line(const struct pw_plan *plan, const struct pw_task *task, struct pw_arena *arena)
{
  if (task->kind != PW_TASK_FEED)
    return task->what;
  int first = pw_fire_feed_min(plan, (int)(task - plan->tasks.tasks)), last = first;
  for (int k = 0; k < plan->tasks.n_tasks; k++) {
    const struct pw_task *t = &plan->tasks.tasks[k];
    if (t->kind == PW_TASK_FEED && t->pit == task->pit && is_same_role(plan, t->crew, task->crew) &&
        t->at_min > task->at_min && pw_fire_burn_of(plan, t) == pw_fire_burn_of(plan, task))
      last = pw_fire_feed_min(plan, k);
  }
  const char *pit = plan->event->pits[task->pit].name;
  if (last == first)
    return pw_arena_printf(arena, "Fire list of %s: a feed at %s", pit, pw_when_clock(plan->event, last).s);
  return pw_arena_printf(arena, "Fire list of %s: feeds from %s to %s", pit, pw_when_clock(plan->event, first).s,
                         pw_when_clock(plan->event, last).s);
}
