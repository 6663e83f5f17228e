/* quote.c - cost lines, price, tax and due dates [Q1]; formulas in quote.h.  All rounding is in base/money. */
#include "plan/money/quote.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/diag.h"
#include "base/money.h"
#include "plan/demand/head_count.h"

#include <math.h>
#include <string.h>

/* ---- cost ---------------------------------------------------------------------------------------- */

static int paid_min(const struct pw_crew *crew)
{
  return crew->to_at_min - crew->from_at_min - (crew->worked ? crew->worked->unpaid_min : 0);
}

pw_cents pw_quote_shift_cents(const struct pw_event *ev, const struct pw_crew *crew)
{
  double hands = pw_head_count_hands(ev, crew);
  double extra = crew->worked ? hands * crew->worked->extra_cents : 0;
  return pw_money_round(hands * paid_min(crew) * crew->cents_per_h / 60 + extra);
}

static pw_cents labour_cost(const struct pw_event *ev)
{
  pw_cents sum = 0;
  for (int i = 0; i < ev->n_crew; i++)
    sum += pw_quote_shift_cents(ev, &ev->crew[i]);
  return sum;
}

static pw_cents rental_cost(const struct pw_event *ev, const struct pw_allocation *allocation)
{
  pw_cents sum = ev->terms.rental_cents;
  for (int p = 0; p < ev->n_pits; p++) {
    bool is_on_job = !ev->pits[p].is_rentable;
    for (int b = 0; b < allocation->n_burns && !is_on_job; b++)
      is_on_job = allocation->burns[b].pit == p;
    if (is_on_job)
      sum += ev->pits[p].rent_cents;
  }
  return sum;
}

static void cost_fill(struct pw_quote *q, const struct pw_plan *plan)
{
  const struct pw_event *ev = plan->event;
  q->food_cents = plan->purchase.food_cents;
  q->supplies_cents = plan->purchase.supplies_cents;
  q->fuel_cents = plan->fuel.cost_cents;
  q->labour_cents = labour_cost(ev);
  q->rental_cents = rental_cost(ev, &plan->allocation);
  q->travel_cents = pw_money_round(2 * ev->site.travel_m / 1000 * ev->terms.travel_cents_per_km);
  pw_cents direct =
      q->food_cents + q->supplies_cents + q->fuel_cents + q->labour_cents + q->rental_cents + q->travel_cents;
  q->overhead_cents = ev->terms.overhead_cents + pw_money_share(direct, ev->terms.overhead_frac);
  q->cost_cents = direct + q->overhead_cents;
}

/* Crew lines of one role together. */
static pw_status roles_fill(struct pw_quote *q, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  int *role_of = pw_arena_array(ctx->arena, (size_t)ev->n_crew, sizeof *role_of);
  q->roles = pw_arena_array(ctx->arena, (size_t)ev->n_crew, sizeof *q->roles);
  if (!role_of || !q->roles)
    return PW_ERR_MEMORY;
  for (int i = 0; i < ev->n_crew; i++) {
    const struct pw_crew *crew = &ev->crew[i];
    int at = 0;
    while (at < q->n_roles && strcmp(q->roles[at].role, crew->role) != 0)
      at++;
    if (at == q->n_roles)
      q->roles[q->n_roles++] = (struct pw_role_cost){.role = crew->role};
    role_of[i] = at;
    q->roles[at].paid_h += pw_head_count_hands(ev, crew) * paid_min(crew) / 60.0;
    q->roles[at].cents += pw_quote_shift_cents(ev, crew);
  }
  for (int t = 0; t < plan->tasks.n_tasks; t++)
    if (plan->tasks.tasks[t].crew != PW_NONE)
      q->roles[role_of[plan->tasks.tasks[t].crew]].task_h += plan->tasks.tasks[t].minutes / 60.0;
  return PW_OK;
}

/* Food by menu line; what is left of the cost is dealt out by guests, to the cent. */
static pw_status services_fill(struct pw_quote *q, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  q->services = pw_arena_array(ctx->arena, (size_t)ev->n_services, sizeof *q->services);
  if (!q->services)
    return PW_ERR_MEMORY;
  pw_cents other = q->cost_cents, dealt = 0;
  for (int i = 0; plan->purchase.dishes && i < plan->demand.n_lines; i++) {
    q->services[plan->demand.lines[i].service].food_cents += plan->purchase.dishes[i].food_cents;
    other -= plan->purchase.dishes[i].food_cents;
  }
  int so_far = 0;
  for (int s = 0; s < ev->n_services; s++) {
    for (int g = 0; g < ev->n_classes; g++)
      q->services[s].guests += ev->services[s].guests[g];
    so_far += q->services[s].guests;
    pw_cents upto = s == ev->n_services - 1 || plan->demand.covers <= 0
                        ? other
                        : pw_money_round((double)other * so_far / plan->demand.covers);
    q->services[s].other_cents = upto - dealt;
    dealt = upto;
  }
  return PW_OK;
}

/* ---- price --------------------------------------------------------------------------------------- */

static pw_cents net_of(const struct pw_terms *terms, pw_cents list)
{
  return list - pw_money_share(list, terms->discount_frac);
}

/* List price and price per guest: a price per guest named before, or 0 for today's. */
static void list_price(pw_cents *list, pw_cents *per_guest, bool *is_least_fee, const struct pw_quote *q,
                       const struct pw_terms *terms, pw_cents named)
{
  pw_cents asked = terms->food_share_frac > 0 ? pw_money_price_up(q->food_cents, 1 - terms->food_share_frac)
                                              : pw_money_price_up(q->cost_cents, terms->margin_frac);
  *list = pw_money_price_up(asked, terms->discount_frac); /* the discount comes off it, not out of what was asked */
  *per_guest = 0;
  *is_least_fee = false;
  if (q->guests > 0) {
    *per_guest = named > 0 ? named : pw_money_split_up(*list, q->guests, terms->round_per_guest_cents);
    *list = *per_guest * q->guests;
  }
  if (named > 0 && terms->agreed_cents > 0 && terms->agreed_guests == q->guests) { /* the contract, to the cent */
    *list = terms->agreed_cents;
    return;
  }
  if (net_of(terms, *list) < terms->min_fee_cents) {
    *is_least_fee = true;
    *list = pw_money_price_up(terms->min_fee_cents, terms->discount_frac);
    if (q->guests > 0)
      *per_guest = pw_money_split_up(*list, q->guests, 0);
  }
}

pw_cents pw_quote_least_per_guest(const struct pw_quote *q, const struct pw_terms *terms)
{
  return q->guests > 0 ? pw_money_split_up(pw_money_price_up(q->cost_cents, terms->discount_frac), q->guests,
                                           terms->round_per_guest_cents)
                       : 0;
}

static void price_fill(struct pw_quote *q, const struct pw_terms *terms)
{
  bool is_least_today;
  list_price(&q->today_cents, &q->today_per_guest_cents, &is_least_today, q, terms, 0);
  list_price(&q->price_cents, &q->per_guest_cents, &q->is_least_fee, q, terms, terms->quoted_per_guest_cents);
  q->discount_cents = pw_money_share(q->price_cents, terms->discount_frac);
  q->net_cents = q->price_cents - q->discount_cents;
  q->service_charge_cents = pw_money_share(q->net_cents, terms->service_charge_frac);
  q->taxable_cents = q->net_cents + (terms->is_service_charge_taxed ? q->service_charge_cents : 0);
  q->tax_cents = pw_money_share(q->taxable_cents, terms->tax_frac);
  q->total_cents = q->net_cents + q->service_charge_cents + q->tax_cents;
  q->deposit_cents = pw_money_share(q->total_cents, terms->deposit_frac);
}

/* ---- outlook ------------------------------------------------------------------------------------- */

/* Price less discount for so many heads at the quoted price per guest. */
static pw_cents net_at(const struct pw_quote *q, const struct pw_terms *terms, int guests)
{
  pw_cents net = net_of(terms, guests == q->guests ? q->price_cents : q->per_guest_cents * guests);
  return net < terms->min_fee_cents ? terms->min_fee_cents : net;
}

static double share_of(pw_cents part, pw_cents whole) { return whole > 0 ? (double)part / (double)whole : 0; }

static struct pw_turnout turnout(const struct pw_quote *q, const struct pw_terms *terms, int guests, pw_cents cost)
{
  pw_cents net = net_at(q, terms, guests);
  return (struct pw_turnout){guests, net, cost, share_of(net - cost, net)};
}

/* The highest planned head count that does not pay at the quoted price, -1 when all do. */
static int last_short(const struct pw_quote *q, const struct pw_terms *terms, const struct pw_quote_rung *rungs, int n)
{
  for (int i = n - 1; i >= 0; i--)
    if (net_at(q, terms, rungs[i].guests) < rungs[i].cost_cents)
      return i;
  return -1;
}

/* Least head count planned from which on net covers cost at all that were planned (ascending). */
static int break_even(const struct pw_quote *q, const struct pw_terms *terms)
{
  const struct pw_quote_rung *rungs = q->n_tried > 0 ? q->tried : q->ladder;
  int n = q->n_tried > 0 ? q->n_tried : q->n_ladder, i = last_short(q, terms, rungs, n);
  if (n == 0 || i < 0)
    return 0;
  return i == n - 1 ? PW_NONE : rungs[i + 1].guests;
}

int pw_quote_probe(const struct pw_quote *q, const struct pw_terms *terms)
{
  int i = last_short(q, terms, q->tried, q->n_tried);
  if (q->n_tried == 0 || i == q->n_tried - 1)
    return 0;
  int high = q->tried[i + 1].guests, low = i < 0 ? 0 : q->tried[i].guests;
  return high - low > 1 ? (low + high) / 2 : 0; /* 0 heads: nothing to plan there */
}

static int tenth_of(const struct pw_quote *q) { return (q->guests + 5) / 10; }

int pw_quote_more_guests(const struct pw_quote *q) { return q->guests + tenth_of(q); }

void pw_quote_outlook(struct pw_quote *q, const struct pw_terms *terms)
{
  pw_cents net = q->net_cents;
  q->margin_frac = share_of(net - q->cost_cents, net);
  q->food_share_frac = share_of(q->food_cents, net);
  q->prime_cents = q->food_cents + q->labour_cents;
  q->contribution_cents = net - (q->cost_cents - q->overhead_cents);
  q->fewer = turnout(q, terms, q->guests - tenth_of(q), q->cost_cents);
  q->more = (struct pw_turnout){0};
  for (int i = 0; i < q->n_tried; i++)
    if (q->tried[i].guests == pw_quote_more_guests(q) && q->tried[i].guests != q->guests)
      q->more = turnout(q, terms, q->tried[i].guests, q->tried[i].cost_cents);
  q->break_even_guests = break_even(q, terms);
}

/* ---- dues ---------------------------------------------------------------------------------------- */

/* Instalments in order of date; equal dates as the event lists them. */
static void instalments_sort(int *order, const struct pw_event *ev)
{
  for (int i = 0; i < ev->n_instalments; i++) {
    int at = i;
    for (; at > 0 && ev->instalments[order[at - 1]].days_before < ev->instalments[i].days_before; at--)
      order[at] = order[at - 1];
    order[at] = i;
  }
}

static pw_status dues_fill(struct pw_quote *q, const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct pw_due *dues = pw_arena_array(ctx->arena, (size_t)ev->n_instalments + 2, sizeof *dues);
  int *order = pw_arena_array(ctx->arena, (size_t)ev->n_instalments, sizeof *order);
  if (!dues || !order)
    return PW_ERR_MEMORY;
  instalments_sort(order, ev);
  pw_cents open = q->total_cents;
  int n = 0;
  int event_day = pw_date_to_days(ev->date), deposit_before = ev->terms.final_count_days_before;
  if (ev->n_instalments > 0 && ev->instalments[order[0]].days_before > deposit_before)
    deposit_before = ev->instalments[order[0]].days_before;
  int deposit_day = event_day - deposit_before;
  if (ev->terms.quoted.year != 0 && pw_date_to_days(ev->terms.quoted) + ev->terms.valid_days < deposit_day)
    deposit_day = pw_date_to_days(ev->terms.quoted) + ev->terms.valid_days; /* later the offer is no more */
  if (q->deposit_cents != 0) {
    dues[n++] = (struct pw_due){"Deposit on acceptance", pw_date_from_days(deposit_day), q->deposit_cents};
    open -= q->deposit_cents;
  }
  for (int i = 0; i < ev->n_instalments; i++) {
    const struct pw_instalment *part = &ev->instalments[order[i]];
    pw_cents cents = pw_money_share(q->total_cents, part->frac);
    if (cents > open)
      cents = open;
    if (cents == 0)
      continue;
    dues[n++] = (struct pw_due){part->name, pw_date_from_days(event_day - part->days_before), cents};
    open -= cents;
  }
  if (open != 0 || n == 0)
    dues[n++] = (struct pw_due){"Balance", ev->date, open};
  q->dues = dues;
  q->n_dues = n;
  return PW_OK;
}

pw_status pw_quote_make(struct pw_quote *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  *out = (struct pw_quote){0};
  const struct pw_event *ev = plan->event;
  if (!(ev->terms.margin_frac < 1)) {
    pw_diag_add(ctx, PW_ERROR, "bad-margin", ev->file, 0, 0,
                "a margin of %g %% of the price leaves nothing for the cost", ev->terms.margin_frac * 100);
    return PW_ERR_INPUT;
  }
  struct pw_quote quote = {.guests = plan->demand.head_count};
  cost_fill(&quote, plan);
  price_fill(&quote, &ev->terms);
  pw_quote_outlook(&quote, &ev->terms);
  pw_status status = dues_fill(&quote, ev, ctx);
  if (!status)
    status = roles_fill(&quote, plan, ctx);
  if (!status)
    status = services_fill(&quote, plan, ctx);
  if (status)
    return status;
  *out = quote;
  return PW_OK;
}
