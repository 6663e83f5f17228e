/* task_slack.c - until when it is still in time to load, to wrap, to take off [S1].
 * In: tasks with their times and people, the floats of the loads from the draws of the day [R1].  Out: slack_min of those tasks.
 * All of one opening of a door move together; the hands must be there: a slack ends where the next work of the same person begins, where
 * a break begins or the shift ends, and where work that comes after begins by the clock. */
#include "base/arena.h"
#include "plan/chance/chance.h"
#include "plan/stages.h"

#include <limits.h>
#include <string.h>

enum { SLACK_SEED = 20270918 }; /* one day of draws for all plans */

static int min_int(int a, int b) { return a < b ? a : b; }

static bool moves_food(const struct pw_task *t)
{
  switch (t->kind) {
  case PW_TASK_LOAD:
  case PW_TASK_WRAP:
  case PW_TASK_CARRY:
  case PW_TASK_WRAP_CARRY:
  case PW_TASK_OFF:
    return true;
  default:
    return false;
  }
}

/** Readings go with the food, not by the clock. */
static bool goes_with_food(const struct pw_task *t)
{
  switch (t->kind) {
  case PW_TASK_BARK_TEST:
  case PW_TASK_MOP:
  case PW_TASK_CORE:
  case PW_TASK_PROBE:
  case PW_TASK_REST_OVER:
  case PW_TASK_HOLD_CHECK:
    return true;
  default:
    return false;
  }
}

static bool has_piece(const struct pw_load *l, const struct pw_task *t)
{
  for (int k = 0; k < l->pieces && l->piece_ids; k++)
    for (int i = 0; i < t->n_ids; i++)
      if (l->piece_ids[k] == t->piece_ids[i])
        return true;
  return false;
}

/** Raw above another rack it drips for a while; what comes next on that pit is not to lie below it before [H2]. */
static int drips_until(const struct pw_plan *plan, const struct pw_load *load)
{
  int until = INT_MAX, dry = load->start_at_min + load->drips_min;
  for (int i = 0; i < plan->allocation.n_loads && load->drips_min > 0; i++) {
    const struct pw_load *l = &plan->allocation.loads[i];
    if (l->zone != PW_NONE && plan->lots.zones[l->zone].pit == plan->lots.zones[load->zone].pit &&
        l->start_at_min >= dry)
      until = min_int(until, load->start_at_min + l->start_at_min - dry);
  }
  return until;
}

/** The latest minute at which the food bears it. */
static int food_until(const struct pw_plan *plan, const struct pw_task *t, const int *begin_min, const int *end_min)
{
  int until = INT_MAX;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *l = &plan->allocation.loads[i];
    if (l->lot != t->lot || l->stage > PW_LOAD_FINISH || !has_piece(l, t))
      continue;
    bool is_finished = plan->lots.lots[t->lot].has_finish, is_last = (l->stage == PW_LOAD_FINISH) == is_finished;
    bool is_first = l->stage == PW_LOAD_SMOKE;
    if (t->kind == PW_TASK_OFF ? is_last : t->kind == PW_TASK_LOAD ? is_first : l->stage == PW_LOAD_FINISH)
      until = min_int(until, t->kind == PW_TASK_OFF ? l->end_at_min + end_min[i] : l->start_at_min + begin_min[i]);
    if (t->kind == PW_TASK_LOAD && is_first && l->zone != PW_NONE)
      until = min_int(until, drips_until(plan, l));
  }
  return until == INT_MAX ? t->at_min : until;
}

static bool is_same_visit(const struct pw_task *a, const struct pw_task *b)
{
  return a == b || (a->visit && b->visit && strcmp(a->visit, b->visit) == 0);
}

/** How much later all of task i's visit may be done by those who do it. */
static int hands_slack(const struct pw_plan *plan, int i)
{
  const struct pw_tasks *tasks = &plan->tasks;
  const struct pw_task *t = &tasks->tasks[i];
  int slack = INT_MAX;
  for (int k = 0; k < tasks->n_tasks; k++) {
    const struct pw_task *mate = &tasks->tasks[k];
    if (!is_same_visit(t, mate))
      continue;
    if (mate->person == PW_NONE)
      return 0;
    const struct pw_crew *c = &plan->event->crew[tasks->people[mate->person].crew];
    int end = mate->at_min + mate->minutes;
    slack = min_int(slack, c->to_at_min - end);
    if (c->worked && c->worked->break_to_at_min > c->worked->break_from_at_min && c->worked->break_from_at_min >= end)
      slack = min_int(slack, c->worked->break_from_at_min - end);
    for (int n = 0; n < tasks->n_tasks; n++) {
      const struct pw_task *other = &tasks->tasks[n];
      if (is_same_visit(t, other))
        continue;
      if (other->person == mate->person && other->at_min + other->minutes > mate->at_min)
        slack = min_int(slack, other->at_min - end);
      for (int b = 0; b < other->n_after && !goes_with_food(other); b++)
        if (other->after[b] == k)
          slack = min_int(slack, other->at_min - end);
    }
  }
  return slack;
}

pw_status pw_task_slack_make(struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_chance_options draws = {.n_draws = PW_SLACK_DRAWS,
                                          .seed = SLACK_SEED,
                                          .shares = pw_spread_shares(),
                                          .has_now = plan->day != NULL,
                                          .now_min = plan->day ? plan->day->now_min : 0};
  struct pw_tasks *tasks = &plan->tasks;
  int *begin_min = NULL, *end_min = NULL;
  int *slack = pw_arena_array(ctx->arena, (size_t)tasks->n_tasks + 1, sizeof *slack);
  if (!slack)
    return PW_ERR_MEMORY;
  pw_status st = pw_chance_slack(&begin_min, &end_min, plan->event, &plan->lots, &plan->allocation, &draws, ctx);
  if (st != PW_OK)
    return st;
  for (int i = 0; i < tasks->n_tasks; i++) {
    struct pw_task *t = &tasks->tasks[i];
    t->slack_min = 0;
    slack[i] = INT_MAX;
    if (moves_food(t) && t->n_ids > 0 && t->lot != PW_NONE)
      slack[i] = min_int(food_until(plan, t, begin_min, end_min) - t->at_min, hands_slack(plan, i));
  }
  for (int i = 0; i < tasks->n_tasks; i++) {
    int least = slack[i];
    for (int k = 0; k < tasks->n_tasks && least != INT_MAX; k++)
      if (is_same_visit(&tasks->tasks[i], &tasks->tasks[k]))
        least = min_int(least, slack[k]);
    if (least != INT_MAX && least >= PW_SLACK_STEP_MIN)
      tasks->tasks[i].slack_min = least / PW_SLACK_STEP_MIN * PW_SLACK_STEP_MIN;
  }
  return PW_OK;
}
