/* task_latest.c - how late each task may begin, once all have their time [S1].
 * In: tasks with what they come after, crew, purchases.  Out: latest_min, as defined in plan.h. */
#include "plan/crew/task_list.h"

#include <limits.h>

/* Work that waits; fire, food, guests and readings do not. */
static const unsigned long long waits = 1ull << PW_TASK_ORDER | 1ull << PW_TASK_BRINE | 1ull << PW_TASK_PREP |
                                        1ull << PW_TASK_DRIVE | 1ull << PW_TASK_SET_UP | 1ull << PW_TASK_PAN_UP |
                                        1ull << PW_TASK_CLEAR | 1ull << PW_TASK_ASH;

static int min_int(int a, int b) { return a < b ? a : b; }

/* The earliest cut-off of what an order names; INT_MAX: none. */
static int cut_off(const struct pw_purchase *purchase, const struct pw_task *task)
{
  int by = INT_MAX;
  for (int k = 0; task->kind == PW_TASK_ORDER && k < task->n_items; k++)
    for (int i = 0; i < purchase->n_lines; i++)
      if (purchase->lines[i].item == task->items[k])
        by = min_int(by, purchase->lines[i].order_by_at_min);
  return by;
}

void pw_task_latest(struct pw_task_list *list)
{
  int n = (int)list->n_tasks;
  int *next = pw_task_ints(list, NULL, n);
  if (!next)
    return;
  for (int i = 0; i < n; i++)
    next[i] = INT_MAX;
  for (int i = 0; i < n; i++)
    for (int k = 0; k < list->tasks[i].n_after; k++)
      next[list->tasks[i].after[k]] = min_int(next[list->tasks[i].after[k]], list->tasks[i].at_min);
  for (int i = 0; i < n; i++) {
    struct pw_task *t = &list->tasks[i];
    t->latest_min = t->at_min;
    if (t->person == PW_NONE || !(waits >> t->kind & 1u))
      continue;
    int lies = t->kind == PW_TASK_BRINE ? list->ev->cuts[list->plan->lots.lots[t->lot].cut].brine.least_min : 0;
    int follows = next[i] == INT_MAX ? next[i] : next[i] - lies;
    int over_by = min_int(follows, list->ev->crew[list->people[t->person].crew].to_at_min);
    int latest = min_int(over_by - t->minutes, cut_off(&list->plan->purchase, t));
    if (latest > t->at_min)
      t->latest_min = latest;
  }
}
