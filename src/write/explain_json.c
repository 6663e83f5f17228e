/* explain_json.c - an explained plan as JSON: see the header. */
#include "write/explain_json.h"

#include "plan/lots/drips.h"
#include "sheet/drip_loads.h"

static void json_drips(struct pw_json_out *o, const struct pw_plan *plan)
{
  pw_json_array(o, "drips");
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *up = &plan->allocation.loads[i];
    if (!pw_load_drips(plan, i))
      continue;
    pw_json_object(o, NULL);
    pw_json_text(o, "lot", plan->lots.lots[up->lot].id);
    pw_json_text(o, "pit", pw_load_pit(plan, up)->id);
    pw_json_text(o, "rack", pw_load_pit(plan, up)->racks[pw_load_rack(plan, up)].id);
    pw_json_int(o, "from_at_min", up->start_at_min);
    pw_json_int(o, "to_at_min", up->start_at_min + up->drips_min);
    pw_json_real(o, "safe_c", pw_drips_kill_c(pw_load_cut(plan, up)));
    pw_json_array(o, "below");
    for (int k = 0; k < plan->allocation.n_loads; k++)
      if (pw_load_drips_on(plan, up, &plan->allocation.loads[k]) && pw_load_is_first(plan, k))
        pw_json_text(o, NULL, plan->lots.lots[plan->allocation.loads[k].lot].id);
    pw_json_end(o);
    pw_json_end(o);
  }
  pw_json_end(o);
}

static void json_burns(struct pw_json_out *o, const struct pw_explain *e, const struct pw_plan *plan)
{
  pw_json_array(o, "burns");
  for (int i = 0; i < e->n_burns; i++) {
    const struct pw_burn_story *b = &e->burns[i];
    const struct pw_burn *burn = &plan->allocation.burns[b->burn];
    pw_json_object(o, NULL);
    pw_json_text(o, "pit", plan->event->pits[burn->pit].id);
    pw_json_int(o, "lit_at_min", burn->lit_at_min);
    pw_json_int(o, "out_at_min", burn->out_at_min);
    pw_json_array(o, "uses");
    for (int k = 0; k < b->n_uses; k++) {
      pw_json_object(o, NULL);
      pw_json_text(o, "lot", plan->lots.lots[b->uses[k].lot].id);
      pw_json_int(o, "smoked", b->uses[k].smoked);
      pw_json_int(o, "finished", b->uses[k].finished);
      pw_json_int(o, "from_at_min", b->uses[k].from_at_min);
      pw_json_int(o, "to_at_min", b->uses[k].to_at_min);
      pw_json_end(o);
    }
    pw_json_end(o);
    pw_json_int(o, "last_hour_pieces", b->late_pieces);
    pw_json_real(o, "hour_cents", b->hour_cents);
    if (b->is_hour) {
      pw_json_real(o, "without_last_hour_cents", b->without_cents);
      pw_json_int(o, "without_last_hour_missed", b->without_missed);
    }
    pw_json_end(o);
  }
  pw_json_end(o);
}

static void json_worths(struct pw_json_out *o, const struct pw_explain *e, const struct pw_plan *plan, bool has_free)
{
  static const char *const kinds[] = {"rack", "oven", "hold", "hands"};
  pw_json_array(o, "worths");
  for (int i = 0; i < e->n_worths; i++) {
    const struct pw_worth *w = &e->worths[i];
    bool is_pans =
        w->kind == PW_WORTH_HOLD || (w->kind == PW_WORTH_OVEN && plan->event->finishers[w->finisher].is_in_pans);
    pw_json_object(o, NULL);
    pw_json_text(o, "kind", kinds[w->kind]);
    if (w->kind == PW_WORTH_RACK) {
      pw_json_text(o, "pit", plan->event->pits[plan->lots.zones[w->zone].pit].id);
      pw_json_text(o, "rack",
                   plan->event->pits[plan->lots.zones[w->zone].pit].racks[plan->lots.zones[w->zone].rack].id);
      pw_json_int(o, "racks", w->n_racks);
      pw_json_int(o, "pits", w->n_pits);
    }
    if (w->kind == PW_WORTH_OVEN)
      pw_json_text(o, "finisher", plan->event->finishers[w->finisher].id);
    pw_json_text(o, "unit", w->kind == PW_WORTH_HANDS ? "hand" : is_pans ? "pan" : "m2");
    pw_json_real(o, "same_fires_cents", w->fixed_cents);
    if (has_free)
      pw_json_real(o, "other_fires_cents", w->free_cents);
    pw_json_real(o, "same_fires_pieces", w->fixed_pieces);
    pw_json_int(o, "from_at_min", w->from_at_min);
    pw_json_int(o, "to_at_min", w->to_at_min);
    pw_json_end(o);
  }
  pw_json_end(o);
}

void pw_json_brief(struct pw_json_out *o, const struct pw_plan *plan)
{
  if (!plan->brief)
    return;
  pw_json_object(o, "explained");
  json_burns(o, plan->brief, plan);
  json_worths(o, plan->brief, plan, false);
  pw_json_end(o);
}

pw_status pw_explain_json_text(const char **text, size_t *n, const struct pw_explain *explain,
                               const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_json_out o = pw_json_out_in(ctx->arena);
  pw_json_object(&o, NULL);
  pw_json_text(&o, "format", "pitwright-explain");
  pw_json_int(&o, "version", 1);
  pw_json_text(&o, "event", plan->event->name);
  pw_json_real(&o, "cost_cents", plan->allocation.cost_cents);
  pw_json_real(&o, "same_fires_lp_cents", explain->fixed_lp_cents);
  pw_json_real(&o, "other_fires_lp_cents", explain->free_lp_cents);
  pw_json_real(&o, "lp_missed", explain->lp_missed);
  json_burns(&o, explain, plan);
  json_worths(&o, explain, plan, true);
  json_drips(&o, plan);
  pw_json_end(&o);
  return pw_json_finish(&o, text, n, ctx);
}
