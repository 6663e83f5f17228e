/* plan_check_doors.c - openings of the pits' doors [J16].
 * In: visits, tasks, burns, loads.  Out: findings.  Every load's begin and end is a visit of its pit; visits lie half an hour apart or
 * say why; tasks belong to visits of their time, and no visit is without one; burns count theirs. */
#include "base/arena.h"
#include "judge/plan_check_parts.h"

#include <limits.h>
#include <string.h>

enum {
  APART_MIN = 30, /* visits closer than that say why: common practice, no source */
  SLIP_MIN =
      30 /* a task of a visit waits so long for a hand before the plan has to say so: common practice, no source */
};

static int pit_of(const struct pw_seen_plan *plan, const struct pw_seen_load *load)
{
  return load->place < plan->n[PW_SEEN_ZONES] ? plan->racks[plan->zones[load->place].rack].pit : PW_SEEN_NONE;
}

static int visit_at(const struct pw_seen_plan *plan, int pit, int at_min)
{
  for (int v = 0; v < plan->n[PW_SEEN_VISITS]; v++)
    if (plan->visits[v].pit == pit && plan->visits[v].at_min == at_min)
      return v;
  return PW_SEEN_NONE;
}

/** Food goes on and comes off in visits. */
static void check_loads(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    int pit = pit_of(plan, load), at[] = {pw_check_since(load), load->end_min};
    for (int k = 0; k < 2 && pit != PW_SEEN_NONE; k++)
      if (visit_at(plan, pit, at[k]) == PW_SEEN_NONE)
        pw_judge_find(judge, "J16", "loads[%d]: \"%s\" is opened at minute %d, no visit is there then", i,
                      plan->pits[pit].id, at[k]);
  }
}

/** One after the other, each pit's apart or for a reason; none without its fire. */
static void check_visits(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int v = 0; v < plan->n[PW_SEEN_VISITS]; v++) {
    const struct pw_seen_visit *visit = &plan->visits[v];
    int since = INT_MAX;
    for (int k = 0; k < plan->n[PW_SEEN_VISITS]; k++) {
      const struct pw_seen_visit *other = &plan->visits[k];
      if (k == v || other->pit != visit->pit || other->at_min > visit->at_min ||
          (other->at_min == visit->at_min && k > v))
        continue;
      since = visit->at_min - other->at_min < since ? visit->at_min - other->at_min : since;
    }
    if (since == 0)
      pw_judge_find(judge, "J16", "visits[%d]: \"%s\" is opened twice at minute %d", v, plan->pits[visit->pit].id,
                    visit->at_min);
    else if (since < APART_MIN && !visit->reason)
      pw_judge_find(judge, "J16", "visits[%d]: \"%s\" is opened %d min after it was before, and no reason is told", v,
                    plan->pits[visit->pit].id, since);
    bool has_fire = false;
    for (int b = 0; b < plan->n[PW_SEEN_BURNS] && !has_fire; b++)
      has_fire = plan->burns[b].pit == visit->pit && plan->burns[b].lit_min < visit->at_min &&
                 visit->at_min <= plan->burns[b].out_min;
    if (!has_fire)
      pw_judge_find(judge, "J16", "visits[%d]: \"%s\" is opened at minute %d, no fire burns in it", v,
                    plan->pits[visit->pit].id, visit->at_min);
  }
}

/** As many as each fire counts. */
static void check_counts(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++) {
    const struct pw_seen_burn *burn = &plan->burns[b];
    int n = 0;
    for (int v = 0; v < plan->n[PW_SEEN_VISITS]; v++)
      n += plan->visits[v].pit == burn->pit && burn->lit_min < plan->visits[v].at_min &&
           plan->visits[v].at_min <= burn->out_min;
    if (burn->n_visits != PW_SEEN_NONE && burn->n_visits != n)
      pw_judge_find(judge, "J16", "burns[%d].door_visits: %d, the visits say %d", b, burn->n_visits, n);
  }
}

/** One act opens two doors where pieces are carried from pit to pit: the task names the first. */
static bool is_carried_in(const struct pw_seen_plan *plan, int v)
{
  const struct pw_seen_visit *visit = &plan->visits[v];
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    int late = task->at_min - visit->at_min;
    if (task->to_place == visit->pit && late >= 0 && late <= SLIP_MIN + (task->told_late > 0 ? task->told_late : 0))
      return true;
  }
  return false;
}

/** A visit's tasks begin with it or a little later; each visit has one. */
static pw_status check_tasks(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  bool *is_done = pw_arena_array(judge->ctx->arena, (size_t)plan->n[PW_SEEN_VISITS] + 1, sizeof *is_done);
  if (!is_done)
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    int v = plan->n[PW_SEEN_VISITS] - 1;
    if (!task->visit)
      continue;
    while (v >= 0 && (!plan->visits[v].id || strcmp(plan->visits[v].id, task->visit) != 0))
      v--;
    if (v < 0) {
      pw_judge_find(judge, "J16", "tasks[%d].visit: there is no visit \"%s\"", i, task->visit);
      continue;
    }
    is_done[v] = true;
    int late = task->at_min - plan->visits[v].at_min;
    if (late < 0 || late > SLIP_MIN + (task->told_late > 0 ? task->told_late : 0))
      pw_judge_find(judge, "J16", "tasks[%d]: at minute %d, its visit %s is at %d", i, task->at_min, task->visit,
                    plan->visits[v].at_min);
  }
  for (int v = 0; v < plan->n[PW_SEEN_VISITS] && plan->n[PW_SEEN_PEOPLE] > 0;
       v++) /* without people tasks name no visits */
    if (!is_done[v] && !is_carried_in(plan, v))
      pw_judge_find(judge, "J16", "visits[%d]: nothing is done at minute %d at \"%s\"", v, plan->visits[v].at_min,
                    plan->pits[plan->visits[v].pit].id);
  return PW_OK;
}

pw_status pw_check_doors(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  bool is_told = plan->n[PW_SEEN_VISITS] > 0; /* older plans tell none */
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++)
    is_told = is_told || plan->burns[b].n_visits != PW_SEEN_NONE;
  if (!is_told)
    return PW_OK;
  check_loads(judge, plan);
  check_visits(judge, plan);
  check_counts(judge, plan);
  return check_tasks(judge, plan);
}
