/* plan_check_slack.c - until when a load, a wrap, a taking off is said to be still in time [J15].
 * In: tasks, people, loads, lots.  Out: findings.  How much of that the draws of the day bear is taken on trust; that the same hands are
 * free for it and the food is rested and cut by its meal is worked out again.  The planner's own way is pw_task_slack_make(). */
#include "judge/plan_check_order.h"

#include <limits.h>
#include <string.h>

static int min_int(int a, int b) { return a < b ? a : b; }

static bool moves_food(const struct pw_seen_task *task)
{
  return task->kind == PW_SEEN_LOAD || task->kind == PW_SEEN_WRAP || task->kind == PW_SEEN_CARRY ||
         task->kind == PW_SEEN_WRAP_CARRY || task->kind == PW_SEEN_OFF;
}

/** A reading goes with the food and may be as late as that. */
static bool is_reading(const struct pw_seen_task *task)
{
  return task->kind == PW_SEEN_BARK_TEST || task->kind == PW_SEEN_MOP || task->kind == PW_SEEN_CORE_READ ||
         task->kind == PW_SEEN_PROBE || task->kind == PW_SEEN_REST_OVER || task->kind == PW_SEEN_HOLD_CHECK;
}

static bool is_same_visit(const struct pw_seen_task *a, const struct pw_seen_task *b)
{
  return a == b || (a->visit && b->visit && strcmp(a->visit, b->visit) == 0);
}

static bool is_among(const int *ids, int n, int id)
{
  for (int i = 0; i < n; i++)
    if (ids[i] == id)
      return true;
  return false;
}

/** How much later the food may move: its last stage as long as planned, then rest and knives before its time. */
static int food_bears(const struct pw_seen_plan *plan, const struct pw_seen_task *task)
{
  const struct pw_seen_lot *lot = &plan->lots[task->lot];
  int bears = INT_MAX;
  for (int k = 0; k < task->n_ids; k++) {
    int last_end = INT_MIN;
    for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
      const struct pw_seen_load *load = &plan->loads[i];
      if (load->lot == task->lot && load->stage <= PW_SEEN_FINISH && load->end_min > last_end &&
          is_among(load->piece_ids, load->n_ids, task->piece_ids[k]))
        last_end = load->end_min;
    }
    if (last_end != INT_MIN)
      bears = min_int(bears, lot->by_min - lot->rest_min - lot->knives_min - last_end);
  }
  return bears;
}

/** How much later whoever is at that door has hands for it. */
static int hands_bear(const struct pw_seen_plan *plan, const struct pw_seen_task *task)
{
  int bears = INT_MAX;
  for (int m = 0; m < plan->n[PW_SEEN_TASKS]; m++) {
    const struct pw_seen_task *mate = &plan->tasks[m];
    int end = mate->at_min + mate->minutes;
    if (!is_same_visit(task, mate))
      continue;
    if (mate->person == PW_SEEN_NONE)
      return 0;
    bears = min_int(bears, plan->people[mate->person].to_min - end);
    for (int b = 0; b < plan->people[mate->person].n_breaks; b++)
      if (plan->people[mate->person].breaks[b].from_min >= end)
        bears = min_int(bears, plan->people[mate->person].breaks[b].from_min - end);
    for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
      const struct pw_seen_task *other = &plan->tasks[i];
      bool is_next = (other->person == mate->person && other->at_min + other->minutes > mate->at_min) ||
                     (!is_reading(other) && is_among(other->after, other->n_after, m));
      if (is_next && !is_same_visit(task, other))
        bears = min_int(bears, other->at_min - end);
    }
  }
  return bears;
}

void pw_order_slack(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    if (task->in_time_until_min == PW_SEEN_NO_TIME)
      continue;
    int slack = task->in_time_until_min - task->at_min;
    if (slack <= 0 || !moves_food(task) || task->lot == PW_SEEN_NONE) {
      pw_judge_find(o->judge, "J15", "tasks[%d].in_time_until_min: %d, and the task, which begins at %d, has no slack",
                    i, task->in_time_until_min, task->at_min);
      continue;
    }
    int food = food_bears(plan, task), hands = hands_bear(plan, task);
    if (slack > food)
      pw_judge_find(o->judge, "J15", "tasks[%d].in_time_until_min: %d min later than planned, its meal bears %d", i,
                    slack, food);
    if (slack > hands)
      pw_judge_find(o->judge, "J15", "tasks[%d].in_time_until_min: %d min later than planned, hands are there for %d",
                    i, slack, hands);
  }
}
