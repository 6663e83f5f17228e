/* restore.c - the stages run again around a plan that was searched before.
 * Input: event and plan file.  Output: struct pw_plan as it was when the file was written. */
#include "day/restore.h"

#include "base/arena.h"
#include "base/diag.h"
#include "plan/explain/explain.h"
#include "plan/fire/empty_fire.h"
#include "plan/fire/visits.h"
#include "plan/lots/side_pans.h"
#include "plan/money/quote.h"
#include "plan/ways/ways.h"

pw_status pw_restore_rest(struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  struct pw_fuel_rates rates;
  pw_status st = pw_fuel_rates_make(&rates, ev, ctx);
  if (st == PW_OK)
    st = pw_day_before_make(&plan->day_before, plan, ctx);
  if (st == PW_OK)
    st = pw_visits_make(&plan->visits, ev, &plan->lots, &plan->allocation, ctx);
  if (st == PW_OK)
    st = pw_fuel_make(&plan->fuel, ev, &plan->lots, &plan->allocation, &plan->visits, ctx);
  if (st == PW_OK)
    st = pw_empty_fires(&plan->fuel, ev, &plan->lots, &plan->allocation, &rates, ctx);
  if (st == PW_OK)
    st = plan->day && plan->staffing.asked ? pw_staff_watch(plan, ctx)
                                           : pw_staff_make(plan, plan->allocation.is_quick, ctx);
  if (st == PW_OK)
    st = pw_task_doors_make(plan, &rates, ctx);
  if (st == PW_OK)
    st = pw_task_slack_make(plan, ctx);
  if (st == PW_OK)
    st = pw_shortfall_make(plan, ctx);
  if (st == PW_OK)
    st = pw_quote_make(&plan->quote, plan, ctx);
  return st;
}

/* Demand, goods and lots as they were, with the margins of the file. */
static pw_status first_stages(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  bool is_asked = false;
  pw_status st = pw_demand_make(&plan->demand, ev, ctx);
  if (st == PW_OK)
    st = pw_purchase_make(&plan->purchase, ev, &plan->demand, ctx);
  if (st == PW_OK)
    st = pw_restore_margins(&plan->margins, &is_asked, ev, root, ctx);
  if (st == PW_OK)
    st = pw_lots_make(&plan->lots, ev, &plan->purchase, is_asked ? &plan->margins : NULL, ctx);
  const struct pw_json *lots = pw_json_get(root, "lots");
  int n_lots = lots && lots->type == PW_JSON_ARRAY ? (int)lots->n : 0;
  if (st == PW_OK && n_lots != plan->lots.n_lots) {
    pw_diag_add(ctx, PW_ERROR, "other-job", NULL, 0, 0, "the plan has %d lots, but the job kept beside it makes %d",
                n_lots, plan->lots.n_lots);
    st = PW_ERR_INPUT;
  }
  return st == PW_OK ? pw_side_pans_make(&plan->lots, ev, &plan->demand, ctx) : st;
}

pw_status pw_restore(struct pw_plan **out, const struct pw_event *ev, const struct pw_json *root, struct pw_ctx *ctx)
{
  struct pw_plan *plan = pw_arena_alloc(ctx->arena, sizeof *plan);
  struct pw_ctx *side = pw_arena_alloc(ctx->arena, sizeof *side); /* what stages warn of stands in the file */
  *out = NULL;
  if (!plan || !side)
    return PW_ERR_MEMORY;
  side->arena = ctx->arena;
  plan->staffing.asked = ev->n_pool > 0 ? ev : NULL;
  pw_status st = pw_staff_open(&plan->event, ev, side);
  if (st == PW_OK)
    st = first_stages(plan, root, side);
  if (st == PW_OK)
    st = pw_restore_allocation(plan, root, side);
  if (st == PW_OK)
    st = pw_restore_chance(plan, root, side);
  if (st == PW_OK)
    st = pw_restore_rest(plan, side);
  if (st == PW_OK)
    st = pw_restore_quote(plan, root, side);
  if (st == PW_OK && pw_json_get(root, "proposal"))
    st = pw_staff_propose(plan, side);
  if (st == PW_OK && pw_json_get(root, "explained")) {
    struct pw_explain *brief = pw_arena_alloc(ctx->arena, sizeof *brief);
    st = brief ? pw_explain_brief(brief, plan, side) : PW_ERR_MEMORY;
    plan->brief = brief;
  }
  if (st == PW_OK)
    st = pw_purchase_without(&plan->purchase, ev, &plan->demand, side);
  if (st == PW_OK)
    st = pw_safety_make(&plan->safety, plan, side);
  if (st == PW_OK)
    st = pw_restore_warnings(plan, root, side);
  if (st != PW_OK)
    pw_diag_take(ctx, side, true);
  else
    *out = plan;
  return st;
}
