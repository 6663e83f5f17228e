/* fire_lines.c - one line per fire and role in place of its feeds. */
#include "sheet/fire_lines.h"

#include "base/when.h"

#include <string.h>

/** The burn that a feed is laid on, or PW_NONE. */
static int burn_of(const struct pw_plan *plan, const struct pw_task *task)
{
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    if (burn->pit == task->pit && burn->lit_at_min <= task->at_min && task->at_min < burn->out_at_min)
      return b;
  }
  return PW_NONE;
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
        burn_of(plan, before) == burn_of(plan, task))
      return false;
  }
  return true;
}

const char *pw_fire_line(const struct pw_plan *plan, const struct pw_task *task, struct pw_arena *arena)
{
  int last = task->at_min;
  if (task->kind != PW_TASK_FEED)
    return task->what;
  for (int k = 0; k < plan->tasks.n_tasks; k++) {
    const struct pw_task *t = &plan->tasks.tasks[k];
    if (t->kind == PW_TASK_FEED && t->pit == task->pit && is_same_role(plan, t->crew, task->crew) && t->at_min > last &&
        burn_of(plan, t) == burn_of(plan, task))
      last = t->at_min;
  }
  const char *pit = plan->event->pits[task->pit].name;
  if (last == task->at_min)
    return pw_arena_printf(arena, "Fire list of %s: a feed at %s", pit, pw_when_clock(plan->event, last).s);
  return pw_arena_printf(arena, "Fire list of %s: feeds from %s to %s", pit, pw_when_clock(plan->event, task->at_min).s,
                         pw_when_clock(plan->event, last).s);
}
