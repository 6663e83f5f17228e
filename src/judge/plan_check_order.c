/* plan_check_order.c - the order of work [J15]: form of the tasks, "after", and every pair that the rest of the plan asks for.
 * In: tasks, people, and through plan_check_order.h all they have to do with.  Out: findings. */
#include "judge/plan_check_order.h"

#include "base/arena.h"
#include "judge/plan_check_parts.h"

#include <stdlib.h>
#include <string.h>

enum { STEPS_MAX = 50000000 }; /* steps back through "after" before giving up: no real plan comes near */

void pw_order_pair_add(struct pw_order *o, int before, int after, const char *why)
{
  if (before == after || before == PW_SEEN_NONE || after == PW_SEEN_NONE || o->has_no_memory)
    return;
  if (pw_arena_grow(o->judge->ctx->arena, &o->pairs, &o->cap, o->n, sizeof *o->pairs) != 0) {
    o->has_no_memory = true;
    return;
  }
  o->pairs[o->n++] = (struct pw_order_pair){before, after, why};
}

static int end_of(const struct pw_seen_task *task) { return task->at_min + task->minutes; }

int pw_order_told_late(const struct pw_seen_task *task) { return task->told_late > 0 ? task->told_late : 0; }

/* ---- form -------------------------------------------------------------------------------------------------- */

static void check_task(struct pw_order *o, int i)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_task *task = &plan->tasks[i];
  if (task->kind == PW_SEEN_NONE || !task->id)
    pw_judge_find(o->judge, "J15", "tasks[%d].%s: is missing", i, task->id ? "kind" : "id");
  if (task->latest_min != PW_SEEN_NO_TIME && task->latest_min < task->at_min)
    pw_judge_find(o->judge, "J15", "tasks[%d].latest_min: %d, and it begins at minute %d", i, task->latest_min,
                  task->at_min);
  if (task->n_ids > 0 && task->pieces > 0 && task->n_ids != task->pieces)
    pw_judge_find(o->judge, "J15", "tasks[%d].piece_ids: %d of them for %d pieces", i, task->n_ids, task->pieces);
  if (task->n_ids > 0 && task->lot == PW_SEEN_NONE)
    pw_judge_find(o->judge, "J15", "tasks[%d].piece_ids: pieces of no lot", i);
  if (task->person != PW_SEEN_NONE && task->role != PW_SEEN_NONE &&
      strcmp(plan->crew[plan->people[task->person].role].role, plan->crew[task->role].role) != 0)
    pw_judge_find(o->judge, "J15", "tasks[%d].person: \"%s\" is a %s, the task is given to a %s", i,
                  plan->people[task->person].id, plan->crew[plan->people[task->person].role].role,
                  plan->crew[task->role].role);
  if (task->person == PW_SEEN_NONE && task->told_late == PW_SEEN_NONE)
    pw_judge_find(o->judge, "J15", "tasks[%d].person: nobody does it, and no warning names it", i);
  for (int k = 0; k < task->n_after; k++) {
    const struct pw_seen_task *first = &plan->tasks[task->after[k]];
    if (end_of(first) > task->at_min)
      pw_judge_find(o->judge, "J15", "tasks[%d].after[%d]: begins at minute %d, tasks[%d] is over at %d", i, k,
                    task->at_min, task->after[k], end_of(first));
  }
}

/* ---- "after" goes round ---------------------------------------------------------------------------------------- */

/** Takes away, again and again, tasks that come after nothing that is left; what stays goes round.  Tasks of no length make
 *  this more than a look at the minutes. */
static void check_circles(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  int n = plan->n[PW_SEEN_TASKS], n_ready = 0, done = 0;
  size_t n_links = 0;
  for (int i = 0; i < n; i++)
    n_links += (size_t)plan->tasks[i].n_after;
  int *waits = pw_arena_array(o->judge->ctx->arena, (size_t)n, sizeof *waits);
  int *ready = pw_arena_array(o->judge->ctx->arena, (size_t)n, sizeof *ready);
  size_t *first = pw_arena_array(o->judge->ctx->arena, (size_t)n + 2, sizeof *first);
  int *next = pw_arena_array(o->judge->ctx->arena, n_links, sizeof *next);
  if (!waits || !ready || !first || !next) {
    o->has_no_memory = true;
    return;
  }
  memset(first, 0, ((size_t)n + 2) * sizeof *first);
  for (int i = 0; i < n; i++)
    for (int k = 0; k < plan->tasks[i].n_after; k++)
      first[plan->tasks[i].after[k] + 2]++;
  for (int i = 0; i < n; i++)
    first[i + 2] += first[i + 1];
  for (int i = 0; i < n; i++) {
    waits[i] = plan->tasks[i].n_after;
    for (int k = 0; k < plan->tasks[i].n_after; k++)
      next[first[plan->tasks[i].after[k] + 1]++] = i;
    if (waits[i] == 0)
      ready[n_ready++] = i;
  }
  for (; done < n_ready; done++)
    for (size_t k = first[ready[done]]; k < first[ready[done] + 1]; k++)
      if (--waits[next[k]] == 0)
        ready[n_ready++] = next[k];
  for (int i = 0; i < n && n_ready < n; i++)
    if (waits[i] > 0) {
      pw_judge_find(o->judge, "J15", "tasks[%d].after: goes round: the task comes after itself", i);
      return;
    }
}

/* ---- the pairs ------------------------------------------------------------------------------------------------- */

static int by_tasks(const void *pa, const void *pb)
{
  const struct pw_order_pair *a = pa, *b = pb;
  if (a->after != b->after)
    return a->after < b->after ? -1 : 1;
  return (a->before > b->before) - (a->before < b->before);
}

struct walk {
  int *seen;  /**< by task: the round in which it was met */
  int *stack; /**< one place for each task */
  int round;
  long steps;
};

/** Does `after` lead back to `before`?  What begins before that one is over cannot come after it. */
static bool leads_back(const struct pw_seen_plan *plan, struct walk *w, int before, int after)
{
  int n = 0, from = end_of(&plan->tasks[before]);
  w->round++;
  w->stack[n++] = after;
  w->seen[after] = w->round;
  while (n > 0) {
    const struct pw_seen_task *task = &plan->tasks[w->stack[--n]];
    for (int k = 0; k < task->n_after; k++) {
      int t = task->after[k];
      w->steps++;
      if (t == before)
        return true;
      if (w->seen[t] == w->round || plan->tasks[t].at_min < from)
        continue;
      w->seen[t] = w->round;
      w->stack[n++] = t;
    }
  }
  return false;
}

static void check_pairs(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  size_t n_tasks = (size_t)plan->n[PW_SEEN_TASKS];
  struct walk w = {.seen = pw_arena_array(o->judge->ctx->arena, n_tasks, sizeof *w.seen),
                   .stack = pw_arena_array(o->judge->ctx->arena, n_tasks, sizeof *w.stack)};
  if (!w.seen || !w.stack) {
    o->has_no_memory = true;
    return;
  }
  if (n_tasks)
    memset(w.seen, 0, n_tasks * sizeof *w.seen);
  if (o->n > 1)
    qsort(o->pairs, o->n, sizeof *o->pairs, by_tasks);
  for (size_t i = 0; i < o->n; i++) {
    const struct pw_order_pair *p = &o->pairs[i];
    if (i > 0 && by_tasks(p, p - 1) == 0)
      continue;
    const struct pw_seen_task *a = &plan->tasks[p->before], *b = &plan->tasks[p->after];
    const char *first = a->kind == PW_SEEN_NONE ? "task" : pw_seen_kinds[a->kind],
               *then = b->kind == PW_SEEN_NONE ? "task" : pw_seen_kinds[b->kind];
    if (end_of(a) > b->at_min)
      pw_judge_find(o->judge, "J15", "tasks[%d]: %s at minute %d, before tasks[%d], %s, is over at %d: %s", p->after,
                    then, b->at_min, p->before, first, end_of(a), p->why);
    else if (!(plan->now_min != PW_SEEN_NO_TIME && a->at_min < plan->now_min) && /* [J19] done is done */
             !leads_back(plan, &w, p->before, p->after))
      pw_judge_find(o->judge, "J15", "tasks[%d].after: %s does not come after tasks[%d], %s: %s", p->after, then,
                    p->before, first, p->why);
    if (w.steps > STEPS_MAX) {
      pw_judge_find(o->judge, "J15", "tasks: too many that come after each other to follow");
      return;
    }
  }
}

/* ---- the rule ---------------------------------------------------------------------------------------------------- */

/** A plan that names people, or the kind of any task, names them all. */
static bool is_in_order(const struct pw_seen_plan *plan)
{
  bool is = plan->n[PW_SEEN_PEOPLE] > 0;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS] && !is; i++)
    is = plan->tasks[i].kind != PW_SEEN_NONE || plan->tasks[i].n_after > 0 || plan->tasks[i].person != PW_SEEN_NONE;
  return is;
}

pw_status pw_check_order(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  struct pw_order order = {.judge = judge, .plan = plan}, *o = &order;
  if (!is_in_order(plan))
    return PW_OK;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    check_task(o, i);
  check_circles(o);
  void (*const parts[])(struct pw_order *) = {pw_order_read_pieces, pw_order_pieces, pw_order_mops,  pw_order_spots,
                                              pw_order_fires,       pw_order_heat,   pw_order_goods, pw_order_services,
                                              pw_order_people,      pw_order_latest, pw_order_slack};
  for (size_t i = 0; i < sizeof parts / sizeof *parts && !o->has_no_memory; i++)
    parts[i](o);
  if (!o->has_no_memory)
    check_pairs(o);
  return o->has_no_memory ? PW_ERR_MEMORY : PW_OK;
}
