/* run.c - the stages in order, the ladder, the judge.  No formulas here. */
#include "run.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/diag.h"
#include "plan/explain.h"
#include "plan/head_count.h"
#include "plan/ladder.h"
#include "plan/plan_check.h"
#include "plan/quote.h"
#include "plan/side_pans.h"
#include "write/plan_json.h"

#include <math.h>

/* From demand to tasks for one event and effort; the quote comes last because it wants all of them. */
static pw_status run_stages(struct pw_plan *plan, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                            struct pw_ctx *ctx)
{
  struct pw_fuel_rates rates;
  pw_status st;
  *plan = (struct pw_plan){.event = ev};
  if ((st = pw_demand_make(&plan->demand, ev, ctx)) != PW_OK)
    return st;
  if ((st = pw_purchase_make(&plan->purchase, ev, &plan->demand, ctx)) != PW_OK)
    return st;
  if ((st = pw_lots_make(&plan->lots, ev, &plan->purchase, ctx)) != PW_OK)
    return st;
  if ((st = pw_side_pans_make(&plan->lots, ev, &plan->demand, ctx)) != PW_OK)
    return st;
  if ((st = pw_fuel_rates_make(&rates, ev, ctx)) != PW_OK)
    return st;
  if ((st = pw_allocate_make(&plan->allocation, ev, &plan->lots, &rates, allocate, ctx)) != PW_OK)
    return st;
  if ((st = pw_day_before_make(&plan->day_before, plan, ctx)) != PW_OK)
    return st;
  if ((st = pw_fuel_make(&plan->fuel, ev, &plan->lots, &plan->allocation, ctx)) != PW_OK)
    return st;
  if ((st = pw_tasks_make(&plan->tasks, plan, ctx)) != PW_OK)
    return st;
  return pw_quote_make(&plan->quote, plan, ctx);
}

/* A context for a side computation: same memory, no progress line; its warnings are about another event. */
static struct pw_ctx *side_ctx(const struct pw_ctx *ctx)
{
  struct pw_ctx *side = pw_arena_alloc(ctx->arena, sizeof *side);
  if (side)
    side->arena = ctx->arena;
  return side;
}

/* Errors of a side computation are errors of the run. */
static pw_status side_status(pw_status st, const struct pw_ctx *side, struct pw_ctx *ctx)
{
  for (int i = 0; st != PW_OK && i < side->n_diags; i++)
    if (side->diags[i].severity == PW_ERROR)
      pw_diag_add(ctx, PW_ERROR, side->diags[i].code, side->diags[i].file, side->diags[i].line, side->diags[i].col, "%s",
                  side->diags[i].text);
  return st;
}

/* The event planned for so many heads, as a rung. */
static pw_status make_rung(struct pw_quote_rung *rung, const struct pw_plan *plan, const struct pw_event *ev, int guests,
                           const struct pw_allocate_options *allocate, struct pw_ctx *side, struct pw_ctx *ctx)
{
  const struct pw_plan *at = plan;
  if (guests != plan->demand.head_count) {
    const struct pw_event *scaled = NULL;
    struct pw_plan *fresh = pw_arena_alloc(ctx->arena, sizeof *fresh);
    if (!fresh)
      return PW_ERR_MEMORY;
    if (ctx->progress)
      ctx->progress(ctx->progress_user, pw_arena_printf(ctx->arena, "pricing %d guests", guests), NAN, NAN);
    pw_status st = pw_head_count_scale(&scaled, ev, guests, side);
    if (st == PW_OK)
      st = run_stages(fresh, scaled, allocate, side);
    if (st != PW_OK)
      return side_status(st, side, ctx);
    at = fresh;
  }
  const struct pw_quote *q = &at->quote;
  *rung = (struct pw_quote_rung){.guests = guests,
                                 .cost_cents = q->cost_cents,
                                 .price_cents = q->price_cents,
                                 .total_cents = q->total_cents,
                                 .per_guest_cents = q->per_guest_cents,
                                 .missed = at->allocation.n_missed};
  return PW_OK;
}

/* Rungs of the ladder, then those the break-even asks for, each planned. */
static pw_status make_ladder(struct pw_plan *plan, const struct pw_event *ev,
                             const struct pw_allocate_options *allocate, struct pw_ctx *ctx)
{
  int *guests = NULL, n = 0;
  struct pw_quote *q = &plan->quote;
  struct pw_ctx *side = side_ctx(ctx);
  pw_status st = side ? pw_ladder_make(&guests, &n, ev, plan->demand.head_count, ctx) : PW_ERR_MEMORY;
  if (st != PW_OK)
    return st;
  q->ladder = pw_arena_array(ctx->arena, (size_t)n, sizeof *q->ladder);
  q->tried = pw_arena_array(ctx->arena, (size_t)n + PW_LADDER_PROBES, sizeof *q->tried);
  if (!q->ladder || !q->tried)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    if ((st = make_rung(&q->ladder[i], plan, ev, guests[i], allocate, side, ctx)) != PW_OK)
      return st;
    q->tried[q->n_tried++] = q->ladder[i];
  }
  q->n_ladder = n;
  for (int probe = 0, at; probe < PW_LADDER_PROBES && (at = pw_quote_probe(q, &ev->terms)) > 0; probe++) {
    struct pw_quote_rung rung;
    if ((st = make_rung(&rung, plan, ev, at, allocate, side, ctx)) != PW_OK)
      return st;
    int k = q->n_tried++;
    for (; k > 0 && q->tried[k - 1].guests > at; k--)
      q->tried[k] = q->tried[k - 1];
    q->tried[k] = rung;
  }
  pw_quote_outlook(q, &ev->terms);
  return PW_OK;
}

/* The customer's side of the quick quote over the costs of the full plan. */
static void keep_price(struct pw_quote *full, const struct pw_quote *quick, const struct pw_terms *terms)
{
  struct pw_quote q = *quick;
  q.food_cents = full->food_cents;
  q.supplies_cents = full->supplies_cents;
  q.fuel_cents = full->fuel_cents;
  q.labour_cents = full->labour_cents;
  q.rental_cents = full->rental_cents;
  q.travel_cents = full->travel_cents;
  q.overhead_cents = full->overhead_cents;
  q.cost_cents = full->cost_cents;
  q.roles = full->roles;
  q.n_roles = full->n_roles;
  q.services = full->services;
  pw_quote_outlook(&q, terms);
  *full = q;
}

/* Warnings of the stages (diagnostics) and of the tasks become part of the plan. */
static pw_status gather_warnings(struct pw_plan *plan, const struct pw_ctx *ctx)
{
  int n = plan->day_before.n_warnings + plan->safety.n_warnings + plan->tasks.n_warnings;
  for (int i = 0; i < ctx->n_diags; i++)
    n += ctx->diags[i].severity == PW_WARNING;
  plan->warnings = pw_arena_array(ctx->arena, (size_t)n, sizeof *plan->warnings);
  if (!plan->warnings)
    return PW_ERR_MEMORY;
  for (int i = 0; i < ctx->n_diags; i++)
    if (ctx->diags[i].severity == PW_WARNING)
      plan->warnings[plan->n_warnings++] = (struct pw_warning){ctx->diags[i].code, ctx->diags[i].text};
  for (int i = 0; i < plan->day_before.n_warnings; i++)
    plan->warnings[plan->n_warnings++] = plan->day_before.warnings[i];
  for (int i = 0; i < plan->safety.n_warnings; i++)
    plan->warnings[plan->n_warnings++] = plan->safety.warnings[i];
  for (int i = 0; i < plan->tasks.n_warnings; i++)
    plan->warnings[plan->n_warnings++] = plan->tasks.warnings[i];
  return PW_OK;
}

/* The judge reads the plan as anybody else would: from its file. */
pw_status pw_run_judge(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const char *text = NULL;
  size_t n = 0;
  int n_findings = 0;
  pw_status st = pw_plan_json_text(&text, &n, plan, ctx);
  if (st == PW_OK)
    st = pw_plan_check_text(NULL, text, n, &n_findings, ctx);
  if (st == PW_ERR_INPUT) /* a plan of ours that is no plan */
    st = PW_ERR_INTERNAL;
  return st == PW_OK && n_findings > 0 ? PW_ERR_INTERNAL : st;
}

pw_status pw_run_plan(struct pw_plan **out, const struct pw_event *ev, const struct pw_run_options *options,
                      struct pw_ctx *ctx)
{
  *out = NULL;
  struct pw_plan *plan = pw_arena_alloc(ctx->arena, sizeof *plan), *full = plan;
  struct pw_ctx *side = side_ctx(ctx);
  if (!plan || !side)
    return PW_ERR_MEMORY;
  struct pw_allocate_options allocate = {.effort = PW_EFFORT_QUICK, .seconds = options->seconds, .work_times = options->work_times};
  bool is_full = options->effort == PW_EFFORT_FULL;
  if (!is_full)
    allocate.dump_model = options->dump_model;
  pw_status st = pw_safety_check(ev, ctx);
  if (st == PW_OK)
    st = run_stages(plan, ev, &allocate, is_full ? side : ctx);
  side_status(st, side, ctx);
  allocate.dump_model = NULL;
  if (st == PW_OK && options->has_ladder)
    st = make_ladder(plan, ev, &allocate, ctx);
  if (st == PW_OK && is_full) {
    full = pw_arena_alloc(ctx->arena, sizeof *full);
    if (!full)
      return PW_ERR_MEMORY;
    allocate.effort = PW_EFFORT_FULL;
    allocate.dump_model = options->dump_model;
    st = run_stages(full, ev, &allocate, ctx);
    if (st == PW_OK)
      keep_price(&full->quote, &plan->quote, &ev->terms);
  }
  if (st == PW_OK && is_full) {
    struct pw_explain *brief = pw_arena_alloc(ctx->arena, sizeof *brief);
    st = brief ? pw_explain_brief(brief, full, ctx) : PW_ERR_MEMORY;
    full->brief = brief;
  }
  if (st == PW_OK)
    st = side_status(pw_purchase_without(&full->purchase, ev, &full->demand, side), side, ctx);
  if (st == PW_OK)
    st = pw_safety_make(&full->safety, full, ctx);
  if (st == PW_OK)
    st = gather_warnings(full, ctx);
  if (st == PW_OK)
    st = pw_run_judge(full, ctx);
  if (st != PW_OK)
    return st;
  *out = full;
  return PW_OK;
}
