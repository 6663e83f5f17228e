/* task_visits.c - what is read and mopped at the pits while their doors are open [S1]: scratch tests, core temperatures, mops.
 * In: plan.visits.  Out: drafts at the minutes of their visits; what the loads move is drafted in task_moves.c. */
#include "base/arena.h"
#include "base/format.h"
#include "heat/air.h"
#include "plan/crew/task_list.h"
#include "plan/fire/mop.h"
#include "plan/fire/visits.h"

#include <limits.h>
#include <math.h>

enum { WINDOW_MIN = 10 }; /* a visit's readings and mops follow each other within it: common practice, no source */
enum { SLIP_MIN = 20 };   /* a reading waits so long for free hands beyond its window: common practice, no source */

const struct pw_visit *pw_task_visit(const struct pw_task_list *list, int pit, int at_min)
{
  int v = pit == PW_NONE ? PW_NONE : pw_visit_at(&list->plan->visits, pit, at_min);
  return v == PW_NONE ? NULL : &list->plan->visits.visits[v];
}

/** Target of a core reading before the smoke ends. */
static const char *core_target(struct pw_task_list *list, const struct pw_cut *cut)
{
  const char *sep = cut->smoke.look ? "; " : "", *look = cut->smoke.look ? cut->smoke.look : "";
  if (cut->finish.is_used)
    return pw_task_words(list, "near %s for the wrap%s%s", pw_task_temp(list, cut->smoke.to_c), sep, look);
  return pw_task_words(list, "near %s, at least %s in every piece before it comes off%s%s",
                       pw_task_temp(list, fmax(cut->smoke.to_c, cut->serve_core_c)),
                       pw_task_temp(list, cut->serve_core_c), sep, look);
}

const char *pw_task_probe_target(struct pw_task_list *list, const struct pw_cut *cut)
{
  double boiling_c = pw_air_boiling_c(pw_air_pressure_pa(list->ev->site.altitude_m));
  bool is_capped = cut->finish.to_c >= boiling_c - PW_BELOW_BOILING_K - 1e-6;
  const char *target = pw_task_words(
      list, "near %s, never below %s%s%s", pw_task_temp(list, fmax(cut->finish.to_c, cut->serve_core_c)),
      pw_task_temp(list, cut->serve_core_c), cut->finish.look ? "; " : "", cut->finish.look ? cut->finish.look : "");
  return is_capped ? pw_task_words(list, "%s; water boils at %s here: tender decides, not the number", target,
                                   pw_task_temp(list, boiling_c))
                   : target;
}

/** One draft of n acts of one kind on one lot; `loads` holds where its pieces lie. */
static void draft_acts(struct pw_task_list *list, const struct pw_visit *visit, const struct pw_visit_act *acts,
                       const int *loads, int n)
{
  const struct pw_load *first = &list->plan->allocation.loads[loads[0]];
  const struct pw_cut *cut = &list->ev->cuts[list->plan->lots.lots[first->lot].cut];
  const char *noun = pw_task_noun(list, first->lot);
  struct pw_draft d = pw_task_blank(PW_TASK_MOP, PW_DUTY_PIT, PW_RANK_CHECK, PW_AT_SITE);
  d.first_at_min = visit->at_min;
  d.last_at_min = visit->at_min + WINDOW_MIN;
  d.slip_min = SLIP_MIN;
  d.lot = first->lot;
  d.pit = d.place = visit->pit;
  d.visit = visit;
  d.where = pw_task_where(list, loads, n);
  d.service = list->plan->lots.lots[first->lot].service;
  for (int i = 0; i < n; i++) {
    d.n_ids += list->plan->allocation.loads[loads[i]].pieces;
    d.work_min += acts[i].work_min;
  }
  int *ids = pw_task_ints(list, NULL, d.n_ids);
  for (int i = 0, k = 0; ids && i < n; i++)
    for (int p = 0; p < list->plan->allocation.loads[loads[i]].pieces; p++)
      ids[k++] = list->plan->allocation.loads[loads[i]].piece_ids[p];
  d.ids = ids;
  switch (acts[0].kind) {
  case PW_VISIT_SCRATCH:
    d.kind = PW_TASK_BARK_TEST;
    d.chain = PW_CHAIN_BARK;
    d.verb = pw_task_words(list, "Scratch test: %s", noun);
    d.target = "rub holds when scratched, colour is set; no mop before that";
    break;
  case PW_VISIT_CORE:
    d.kind = PW_TASK_CORE;
    d.chain = PW_CHAIN_CORE;
    d.verb = pw_task_words(list, "Core temperature of %s", noun);
    d.target = core_target(list, cut);
    break;
  case PW_VISIT_PROBE:
    d.kind = PW_TASK_PROBE;
    d.chain = PW_CHAIN_PROBE;
    d.verb = pw_task_words(list, "Probe %s", noun);
    d.target = pw_task_probe_target(list, cut);
    break;
  default:
    d.chain = PW_CHAIN_MOP;
    d.slip_min = 0;
    for (int i = 0; i < n; i++) { /* the crust dries before the wrap */
      int by = list->plan->allocation.loads[loads[i]].end_at_min - PW_MOP_LAST_BEFORE_MIN - (int)ceil(d.work_min);
      d.last_at_min = by < d.last_at_min ? by : d.last_at_min;
    }
    int over_min =
        d.first_at_min - d.last_at_min; /* not before the door is open: a mop over that far from the wrap is quicker */
    if (over_min > 0 && over_min < d.work_min) {
      d.work_min -= over_min;
      d.last_at_min = d.first_at_min;
    }
    d.first_at_min = d.first_at_min < d.last_at_min ? d.first_at_min : d.last_at_min;
    d.may_be_left_out = true;
    d.verb = pw_task_words(list, "Mop %d × %s", d.n_ids, noun);
    d.target = "quick and light, door shut again";
    break;
  }
  pw_task_draft(list, d);
}

static bool is_drafted_here(enum pw_visit_act_kind kind) { return kind >= PW_VISIT_SCRATCH; }

void pw_task_visits(struct pw_task_list *list)
{
  const struct pw_allocation *al = &list->plan->allocation;
  for (int v = 0; v < list->plan->visits.n_visits && !list->failed; v++) {
    const struct pw_visit *visit = &list->plan->visits.visits[v];
    int *loads = pw_arena_array(list->ctx->arena, (size_t)visit->n_acts + 1, sizeof *loads);
    struct pw_visit_act *acts = pw_arena_array(list->ctx->arena, (size_t)visit->n_acts + 1, sizeof *acts);
    if (!loads || !acts) {
      list->failed = true;
      return;
    }
    for (int i = 0; i < visit->n_acts; i++) {
      const struct pw_visit_act *act = &visit->acts[i];
      int lot = al->loads[act->load].lot, n = 0;
      bool is_done = !is_drafted_here(act->kind);
      for (int k = 0; k < i && !is_done; k++)
        is_done = visit->acts[k].kind == act->kind && al->loads[visit->acts[k].load].lot == lot;
      for (int k = i; k < visit->n_acts && !is_done; k++)
        if (visit->acts[k].kind == act->kind && al->loads[visit->acts[k].load].lot == lot) {
          acts[n] = visit->acts[k];
          loads[n++] = visit->acts[k].load;
        }
      if (n > 0)
        draft_acts(list, visit, acts, loads, n);
    }
  }
}
