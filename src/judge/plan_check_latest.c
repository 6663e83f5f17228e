/* plan_check_latest.c - how late a task may begin, worked out again [J15].
 * In: tasks, people, purchases.  Out: findings.  The planner's own way is pw_task_latest() (task_latest.c). */
#include "base/arena.h"
#include "judge/plan_check_order.h"

#include <limits.h>
#include <string.h>

/** Work that waits; fire, food, guests and readings do not. */
static bool can_wait(const struct pw_seen_task *task)
{
  switch (task->kind) {
  case PW_SEEN_ORDER:
  case PW_SEEN_BRINE:
  case PW_SEEN_PREP:
  case PW_SEEN_DRIVE:
  case PW_SEEN_SET_UP:
  case PW_SEEN_PAN_UP:
  case PW_SEEN_CLEAR:
  case PW_SEEN_ASH:
    return true;
  default:
    return false;
  }
}

/** The earliest cut-off of what an order names; INT_MAX: none. */
static int cut_off(const struct pw_seen_plan *plan, const struct pw_seen_task *task)
{
  int by = INT_MAX;
  for (int k = 0; task->kind == PW_SEEN_ORDER && k < task->n_items; k++)
    for (int i = 0; i < plan->n[PW_SEEN_PURCHASES]; i++)
      if (strcmp(plan->purchases[i].item, task->items[k]) == 0 && plan->purchases[i].order_by_min < by)
        by = plan->purchases[i].order_by_min;
  return by;
}

void pw_order_latest(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  int n = plan->n[PW_SEEN_TASKS];
  int *next = pw_arena_array(o->judge->ctx->arena, (size_t)n, sizeof *next); /* the first begin of what comes after */
  if (!next) {
    o->has_no_memory = true;
    return;
  }
  for (int i = 0; i < n; i++)
    next[i] = INT_MAX;
  for (int i = 0; i < n; i++)
    for (int k = 0; k < plan->tasks[i].n_after; k++)
      if (plan->tasks[i].at_min < next[plan->tasks[i].after[k]])
        next[plan->tasks[i].after[k]] = plan->tasks[i].at_min;
  for (int i = 0; i < n; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    int latest = task->at_min;
    if (task->latest_min == PW_SEEN_NO_TIME || task->kind == PW_SEEN_NONE)
      continue;
    if (task->person != PW_SEEN_NONE && can_wait(task)) {
      int over_by = plan->people[task->person].to_min;
      bool lies = task->kind == PW_SEEN_BRINE && task->lot != PW_SEEN_NONE && next[i] != INT_MAX &&
                  plan->lots[task->lot].brine_least_min != PW_SEEN_NO_TIME;
      int follows = lies ? next[i] - plan->lots[task->lot].brine_least_min : next[i];
      over_by = follows < over_by ? follows : over_by;
      latest = over_by - task->minutes;
      if (cut_off(plan, task) < latest)
        latest = cut_off(plan, task);
      latest = latest > task->at_min ? latest : task->at_min;
    }
    if (task->latest_min != latest)
      pw_judge_find(o->judge, "J15", "tasks[%d].latest_min: %d, what comes after it and its person bear %d", i,
                    task->latest_min, latest);
  }
}
