/* visit_words.c - words for the openings of the pits' doors [S1].
 * In: visits and tasks of the plan.  Out: texts in the view's arena. */
#include "sheet/visit_words.h"

#include "plan/fire/visits.h"

#include <string.h>

int pw_visit_count(const struct pw_plan *plan, int burn)
{
  const struct pw_burn *b = &plan->allocation.burns[burn];
  return pw_visits_count(&plan->visits, b->pit, b->lit_at_min, b->out_at_min);
}

/** "take off, load": each kind once, in the order it is done. */
static const char *acts_words(struct pw_view *view, const struct pw_visit *visit)
{
  static const char *const words[] = {[PW_VISIT_OFF] = "take off",
                                      [PW_VISIT_WRAP] = "wrap",
                                      [PW_VISIT_IN] = "put in what is wrapped",
                                      [PW_VISIT_LOAD] = "load",
                                      [PW_VISIT_SCRATCH] = "scratch",
                                      [PW_VISIT_CORE] = "read cores",
                                      [PW_VISIT_PROBE] = "probe the meat",
                                      [PW_VISIT_MOP] = "mop"};
  const char *text = "";
  for (int k = 0; k < visit->n_acts; k++)
    if (k == 0 || visit->acts[k].kind != visit->acts[k - 1].kind)
      text = pw_view_printf(view, "%s%s%s", text, k ? ", " : "", words[visit->acts[k].kind]);
  return text;
}

const char *pw_visit_words(struct pw_view *view, int task, bool (*is_same)(const struct pw_task *t, const void *whose),
                           const void *whose)
{
  const struct pw_plan *plan = view->plan;
  const struct pw_task *t = &plan->tasks.tasks[task];
  if (!t->visit)
    return "";
  for (int k = 0; k < task; k++)
    if (plan->tasks.tasks[k].visit && strcmp(plan->tasks.tasks[k].visit, t->visit) == 0 &&
        is_same(&plan->tasks.tasks[k], whose))
      return "";
  int v = 0, nth = 1;
  while (v < plan->visits.n_visits && strcmp(plan->visits.visits[v].id, t->visit) != 0)
    v++;
  if (v == plan->visits.n_visits)
    return "";
  const struct pw_visit *visit = &plan->visits.visits[v];
  for (int k = 0; k < v; k++)
    nth += plan->visits.visits[k].pit == visit->pit;
  const char *text =
      pw_view_printf(view, "%s, opening %d: %s", view->ev->pits[visit->pit].name, nth, acts_words(view, visit));
  return visit->reason ? pw_view_printf(view, "%s (%d min after the last: %s)", text,
                                        pw_visit_since_min(&plan->visits, v), visit->reason)
                       : text;
}
