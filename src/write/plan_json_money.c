/* plan_json_money.c - of the plan file: the quote, and how good the plan is. */
#include "write/plan_json_parts.h"

#include "base/clock.h"
#include "plan/money/cost_parts.h"

#include <math.h>
#include <stdio.h>

/* ---- quote ------------------------------------------------------------------------------------------------- */

/* What the price was made by, and how long it stands. */
static void quote_terms(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_terms *t = &w->ev->terms;
  pw_json_real(o, "discount_frac", t->discount_frac);
  pw_json_real(o, "service_charge_frac", t->service_charge_frac);
  pw_json_bool(o, "service_charge_taxed", t->is_service_charge_taxed);
  pw_json_real(o, "tax_frac", t->tax_frac);
  pw_json_real(o, "deposit_frac", t->deposit_frac);
  pw_json_int(o, "ladder_step", w->ev->ladder.step);
  if (w->ev->ladder.step > 0) {
    pw_json_int(o, "ladder_from", w->ev->ladder.from);
    pw_json_int(o, "ladder_to", w->ev->ladder.to);
  }
  pw_json_int(o, "min_fee_cents", t->min_fee_cents);
  pw_json_real(o, "asked_margin_frac", t->margin_frac);
  pw_json_real(o, "asked_food_share_frac", t->food_share_frac); /* 0: the price goes by the margin */
  pw_json_int(o, "round_per_guest_cents", t->round_per_guest_cents);
  pw_json_int(o, "today_per_guest_cents", w->plan->quote.today_per_guest_cents);
  pw_json_int(o, "today_price_cents", w->plan->quote.today_cents);
  if (t->quoted_per_guest_cents > 0) {
    pw_json_object(o, "quoted_price");
    pw_json_int(o, "per_guest_cents", t->quoted_per_guest_cents);
    if (t->quoted_price_on.year)
      pw_json_text(o, "on", pw_plan_json_date(w, t->quoted_price_on));
    pw_json_end(o);
  }
  if (t->agreed_cents > 0) {
    pw_json_object(o, "agreed");
    pw_json_int(o, "price_cents", t->agreed_cents);
    pw_json_int(o, "guests", t->agreed_guests);
    pw_json_text(o, "on", pw_plan_json_date(w, t->agreed_on));
    pw_json_end(o);
  }
  pw_json_int(o, "valid_days", t->valid_days);
  bool is_dated = t->quoted.year != 0;
  pw_json_text(o, "quoted", is_dated ? pw_plan_json_date(w, t->quoted) : NULL);
  pw_json_text(o, "valid_until",
               is_dated ? pw_plan_json_date(w, pw_date_from_days(pw_date_to_days(t->quoted) + t->valid_days)) : NULL);
  pw_json_text(o, "final_count_by",
               pw_plan_json_date(w, pw_date_from_days(pw_date_to_days(w->ev->date) - t->final_count_days_before)));
}

static void quote_dishes(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_purchase *p = &w->plan->purchase;
  pw_json_int(o, "shared_food_cents", p->shared_food_cents);
  pw_json_array(o, "dishes");
  for (int i = 0; p->dishes && i < w->plan->demand.n_lines; i++) {
    const struct pw_demand_line *line = &w->plan->demand.lines[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "dish", w->ev->dishes[line->dish].id);
    pw_json_text(o, "service", w->ev->services[line->service].id);
    pw_json_int(o, "food_cents", p->dishes[i].food_cents);
    pw_json_real(o, "portions", p->dishes[i].portions);
    pw_json_real(o, "portion_cents", p->dishes[i].portion_cents);
    pw_json_real(o, "short_cents", p->dishes[i].short_cents);
    pw_json_end(o);
  }
  pw_json_end(o);
}

static void quote_turnout(struct pw_plan_json *w, const char *key, const struct pw_turnout *t)
{
  struct pw_json_out *o = &w->out;
  pw_json_object(o, key);
  pw_json_int(o, "guests", t->guests);
  pw_json_int(o, "net_cents", t->net_cents);
  pw_json_int(o, "cost_cents", t->cost_cents);
  pw_json_real(o, "margin_frac", t->margin_frac);
  pw_json_end(o);
}

static void quote_rungs(struct pw_plan_json *w, const char *key, const struct pw_quote_rung *rungs, int n)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, key);
  for (int i = 0; i < n; i++) {
    pw_json_object(o, NULL);
    pw_json_int(o, "guests", rungs[i].guests);
    pw_json_int(o, "cost_cents", rungs[i].cost_cents);
    pw_json_int(o, "price_cents", rungs[i].price_cents);
    pw_json_int(o, "total_cents", rungs[i].total_cents);
    pw_json_int(o, "per_guest_cents", rungs[i].per_guest_cents);
    pw_json_int(o, "missed", rungs[i].missed);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* Choices of the menus beside the job as it stands, both planned quickly and at today's prices. */
static void quote_options(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_quote *q = &w->plan->quote;
  pw_json_array(o, "options");
  for (int i = 0; i < q->n_options; i++) {
    const struct pw_quote_option *t = &q->options[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "service", w->ev->services[t->service].id);
    pw_json_text(o, "dish", w->ev->dishes[t->dish].id);
    if (t->instead_of != PW_NONE)
      pw_json_text(o, "instead_of", w->ev->dishes[t->instead_of].id);
    pw_json_int(o, "base_cost_cents", t->base_cost_cents);
    pw_json_int(o, "base_food_cents", t->base_food_cents);
    pw_json_int(o, "base_price_cents", t->base_price_cents);
    pw_json_int(o, "cost_cents", t->cost_cents);
    pw_json_int(o, "food_cents", t->food_cents);
    pw_json_int(o, "price_cents", t->price_cents);
    pw_json_int(o, "more_per_guest_cents", t->more_per_guest_cents);
    pw_json_int(o, "missed_pieces", t->missed);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* Dishes left out one after the other to come to the price that was given. */
static void quote_leaves(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_quote *q = &w->plan->quote;
  pw_json_array(o, "leave_out");
  for (int i = 0; i < q->n_leaves; i++) {
    const struct pw_quote_leave *t = &q->leaves[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "service", w->ev->services[t->service].id);
    pw_json_text(o, "dish", w->ev->dishes[t->dish].id);
    pw_json_int(o, "cost_cents", t->cost_cents);
    pw_json_int(o, "food_cents", t->food_cents);
    pw_json_int(o, "price_cents", t->price_cents);
    pw_json_real(o, "margin_frac", t->margin_frac);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* What other chances to be on time would cost. */
static void quote_levels(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_quote *q = &w->plan->quote;
  pw_json_array(o, "on_time_levels");
  for (int i = 0; i < q->n_levels; i++) {
    const struct pw_quote_level *level = &q->levels[i];
    pw_json_object(o, NULL);
    pw_json_real(o, "margin_frac", level->margin_frac);
    pw_json_real(o, "chance_frac", level->chance_frac);
    pw_json_real(o, "late_meals_frac", level->late_meals_frac);
    pw_json_int(o, "cost_cents", level->cost_cents);
    pw_json_int(o, "late_meal_cents", level->late_meal_cents);
    pw_json_bool(o, "is_plan", level->is_plan);
    pw_json_end(o);
  }
  pw_json_end(o);
}

void pw_plan_json_quote(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_quote *q = &w->plan->quote;
  pw_json_object(o, "quote");
  pw_json_text(o, "currency", w->ev->currency);
  pw_json_int(o, "guests", q->guests);
  pw_json_int(o, "food_cents", q->food_cents);
  pw_json_int(o, "fuel_cents", q->fuel_cents);
  pw_json_int(o, "labour_cents", q->labour_cents);
  pw_json_int(o, "other_cents", q->supplies_cents + q->rental_cents + q->travel_cents);
  pw_json_int(o, "supplies_cents", q->supplies_cents);
  pw_json_int(o, "rental_cents", q->rental_cents);
  pw_json_int(o, "travel_cents", q->travel_cents);
  pw_json_int(o, "overhead_cents", q->overhead_cents);
  pw_json_int(o, "cost_cents", q->cost_cents);
  pw_json_int(o, "price_cents", q->price_cents);
  pw_json_int(o, "per_guest_cents", q->per_guest_cents);
  pw_json_int(o, "list_price_cents", q->price_cents);
  pw_json_int(o, "discount_cents", q->discount_cents);
  pw_json_int(o, "net_cents", q->net_cents);
  pw_json_int(o, "service_charge_cents", q->service_charge_cents);
  pw_json_int(o, "taxable_cents", q->taxable_cents);
  pw_json_int(o, "tax_cents", q->tax_cents);
  pw_json_int(o, "total_cents", q->total_cents);
  pw_json_int(o, "deposit_cents", q->deposit_cents);
  pw_json_real(o, "margin_frac", q->margin_frac);
  pw_json_real(o, "food_share_frac", q->food_share_frac);
  pw_json_int(o, "prime_cents", q->prime_cents);
  pw_json_int(o, "contribution_cents", q->contribution_cents);
  quote_terms(w);
  quote_dishes(w);
  quote_turnout(w, "fewer", &q->fewer);
  if (q->more.guests > 0)
    quote_turnout(w, "more", &q->more);
  pw_json_array(o, "roles");
  for (int i = 0; i < q->n_roles; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "role", q->roles[i].role);
    pw_json_real(o, "paid_h", q->roles[i].paid_h);
    pw_json_real(o, "task_h", q->roles[i].task_h);
    pw_json_int(o, "cents", q->roles[i].cents);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "services");
  for (int i = 0; q->services && i < w->ev->n_services; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "service", w->ev->services[i].id);
    pw_json_int(o, "guests", q->services[i].guests);
    pw_json_int(o, "food_cents", q->services[i].food_cents);
    pw_json_int(o, "other_cents", q->services[i].other_cents);
    pw_json_end(o);
  }
  pw_json_end(o);
  if (q->break_even_guests == PW_NONE)
    pw_json_null(o, "pays_from_guests");
  else
    pw_json_int(o, "pays_from_guests", q->break_even_guests);
  pw_json_array(o, "dues");
  for (int i = 0; i < q->n_dues; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "name", q->dues[i].name);
    pw_json_text(o, "date", pw_plan_json_date(w, q->dues[i].date));
    pw_json_int(o, "cents", q->dues[i].cents);
    pw_json_end(o);
  }
  pw_json_end(o);
  quote_rungs(w, "ladder", q->ladder, q->n_ladder);
  if (q->n_tried > 0)
    quote_rungs(w, "tried", q->tried, q->n_tried);
  if (q->n_levels > 0)
    quote_levels(w);
  if (q->n_options > 0)
    quote_options(w);
  if (q->n_leaves > 0)
    quote_leaves(w);
  pw_json_end(o);
}

/* ---- how good it is ------------------------------------------------------------------------------------ */

/* The cost by what it is for, and the prices behind it.  Nothing where the parts do not make the cost. */
static void write_parts(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  struct pw_cost_parts parts;
  const struct pw_effort_prices *price = &w->ev->effort;
  if (!w->plan->demand.laws)
    return; /* a plan put together by hand */
  if (pw_cost_parts_make(&parts, w->plan, w->ctx) != PW_OK) {
    o->buf.failed = true;
    return;
  }
  if (!parts.is_whole)
    return;
  pw_json_object(o, "parts");
  pw_json_real(o, "fire", parts.fire);
  pw_json_real(o, "light", parts.light);
  pw_json_real(o, "oven", parts.oven);
  pw_json_real(o, "openings", parts.openings);
  pw_json_real(o, "places", parts.places);
  pw_json_real(o, "hold", parts.hold);
  pw_json_real(o, "off_best", parts.off_best);
  pw_json_real(o, "moves", parts.moves);
  pw_json_real(o, "people", parts.people);
  if (parts.missed > 0)
    pw_json_real(o, "missed", parts.missed);
  pw_json_end(o);
  pw_json_object(o, "prices");
  pw_json_real(o, "opening_cents", price->opening_cents);
  pw_json_real(o, "place_cents", price->place_cents);
  pw_json_real(o, "hold_cents_per_piece_h", price->hold_cents_per_piece_h);
  pw_json_real(o, "off_best_cents_per_piece_k", price->off_best_cents_per_piece_k);
  pw_json_real(o, "move_cents_per_piece", price->move_cents_per_piece);
  pw_json_array(o, "burns");
  for (int b = 0; b < w->plan->allocation.n_burns; b++) {
    pw_json_object(o, NULL);
    pw_json_real(o, "fire_cents_per_h", parts.burns[b].fire_per_h);
    pw_json_real(o, "people_cents_per_h", parts.burns[b].tend_per_h);
    pw_json_real(o, "light_cents", parts.burns[b].light);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_end(o);
}

/** The tasks a warning is about, and how late the latest of them begins. */
static void write_late(struct pw_plan_json *w, const struct pw_warning *warning)
{
  struct pw_json_out *o = &w->out;
  char id[24];
  if (warning->n_tasks == 0 || w->plan->tasks.n_people == 0) /* without people tasks have no names */
    return;
  pw_json_int(o, "late_min", warning->late_min);
  pw_json_array(o, "tasks");
  for (int k = 0; k < warning->n_tasks; k++) {
    snprintf(id, sizeof id, "t%d", warning->tasks[k] + 1);
    pw_json_text(o, NULL, id);
  }
  pw_json_end(o);
}

void pw_plan_json_solution(struct pw_plan_json *w)
{
  static const char *const outcomes[] = {"optimal", "feasible", "short", "limit"}, *const stops[] = {"gap", "work",
                                                                                                     "time"};
  struct pw_json_out *o = &w->out;
  const struct pw_allocation *a = &w->plan->allocation;
  /* no bound found: nothing is cheaper than free */
  bool has_bound = isfinite(a->bound_cents);
  double bound = has_bound ? a->bound_cents : 0, gap = has_bound && isfinite(a->gap_frac) ? a->gap_frac : 1;
  if (!has_bound && a->cost_cents == 0)
    gap = 0;
  pw_json_object(o, "solution");
  pw_json_text(o, "outcome", outcomes[a->outcome]);
  pw_json_real(o, "cost", a->cost_cents);
  pw_json_real(o, "bound", bound);
  pw_json_real(o, "gap_frac", gap);
  if (a->proof.fractions_cents > 0) {
    pw_json_real(o, "bound_fractions", a->proof.fractions_cents);
    pw_json_real(o, "bound_shapes", a->proof.shapes_cents);
    pw_json_bool(o, "bound_is_whole", a->proof.is_whole);
  }
  pw_json_text(o, "stopped_by", stops[a->stopped_by]);
  pw_json_int(o, "work", a->work);
  write_parts(w);
  pw_json_text(o, "effort", a->is_quick ? "quick" : "full");
  pw_json_end(o);
  pw_json_array(o, "shortages");
  for (int i = 0; i < a->n_shortages; i++) {
    const struct pw_shortage *s = &a->shortages[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "lot", s->lot == PW_NONE ? NULL : w->plan->lots.lots[s->lot].id);
    pw_json_int(o, "pieces", s->pieces);
    pw_json_text(o, "resource", s->resource);
    pw_json_int(o, "from_min", s->from_at_min);
    pw_json_int(o, "to_min", s->to_at_min);
    pw_json_real(o, "area_m2", s->area_m2);
    pw_json_text(o, "text", s->text);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_plan_json_ways(w);
  pw_json_array(o, "warnings");
  for (int i = 0; i < w->plan->n_warnings; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "code", w->plan->warnings[i].code);
    pw_json_text(o, "text", w->plan->warnings[i].text);
    write_late(w, &w->plan->warnings[i]);
    pw_json_end(o);
  }
  pw_json_end(o);
}
