/* plan_json_visits.c - the plan file's part on doors: when each pit is opened, for what, and why so soon [F1][S1]. */
#include "write/plan_json_parts.h"

/* What is done there, as the tasks' kinds call it. */
static const char *const does[] = {
    [PW_VISIT_OFF] = "off",           [PW_VISIT_WRAP] = "wrap", [PW_VISIT_IN] = "carry",    [PW_VISIT_LOAD] = "load",
    [PW_VISIT_SCRATCH] = "bark_test", [PW_VISIT_CORE] = "core", [PW_VISIT_PROBE] = "probe", [PW_VISIT_MOP] = "mop"};

void pw_plan_json_visits(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, "visits");
  for (int v = 0; v < w->plan->visits.n_visits; v++) {
    const struct pw_visit *visit = &w->plan->visits.visits[v];
    pw_json_object(o, NULL);
    pw_json_text(o, "id", visit->id);
    pw_json_text(o, "pit", w->ev->pits[visit->pit].id);
    pw_json_int(o, "at_min", visit->at_min);
    pw_json_real(o, "open_min", visit->open_min);
    pw_json_text(o, "reason", visit->reason);
    pw_json_array(o, "does");
    for (int k = 0; k < visit->n_acts; k++)
      if (k == 0 || visit->acts[k].kind != visit->acts[k - 1].kind)
        pw_json_text(o, NULL, does[visit->acts[k].kind]);
    pw_json_end(o);
    pw_json_end(o);
  }
  pw_json_end(o);
}
