/* plan_check_money.c - the quote [J10], the proof [J11], demand and purchases [J12].
 * In: the sections named.  Out: findings.  Sums are recomputed in whole cents; what was rounded once by the planner may
 * differ by that rounding and no more. */
#include "judge/plan_check_parts.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#define MONEY "%" PRId64

static int64_t known(int64_t cents) { return cents == PW_SEEN_NONE ? 0 : cents; }

/* ---- the quote [J10] ---------------------------------------------------------------------------------------- */

static void check_sums(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  int64_t cost = q->food_cents + q->fuel_cents + q->labour_cents + q->other_cents + q->overhead_cents;
  if (cost != q->cost_cents)
    pw_judge_find(judge, "J10", "quote.cost_cents: is " MONEY ", its lines add up to " MONEY, q->cost_cents, cost);
  int64_t other = q->supplies_cents + q->rental_cents + q->travel_cents;
  if (q->supplies_cents != PW_SEEN_NONE && q->rental_cents != PW_SEEN_NONE && q->travel_cents != PW_SEEN_NONE &&
      other != q->other_cents)
    pw_judge_find(judge, "J10", "quote.other_cents: is " MONEY ", supplies, rental and travel add up to " MONEY,
                  q->other_cents, other);
  int64_t total = q->price_cents - known(q->discount_cents) + known(q->service_charge_cents) + q->tax_cents;
  if (total != q->total_cents)
    pw_judge_find(judge, "J10", "quote.total_cents: is " MONEY ", price, discount, service charge and tax make " MONEY,
                  q->total_cents, total);
  if (q->deposit_cents > q->total_cents)
    pw_judge_find(judge, "J10", "quote.deposit_cents: is " MONEY ", more than the total of " MONEY, q->deposit_cents,
                  q->total_cents);
}

static void check_dues(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  int64_t sum = 0;
  for (int i = 0; i < q->n_dues; i++)
    sum += q->dues[i].cents;
  if (q->n_dues > 0 && sum != q->total_cents)
    pw_judge_find(judge, "J10", "quote.dues: add up to " MONEY ", the total is " MONEY, sum, q->total_cents);
}

static void check_ladder(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  for (int i = 0; i < q->n_ladder; i++) {
    const struct pw_seen_rung *rung = &q->ladder[i];
    if (i > 0 && rung->guests <= q->ladder[i - 1].guests)
      pw_judge_find(judge, "J10", "quote.ladder[%d]: %d guests do not follow %d", i, rung->guests,
                    q->ladder[i - 1].guests);
    if (rung->guests != q->guests)
      continue;
    if (rung->total_cents != q->total_cents || rung->per_guest_cents != q->per_guest_cents)
      pw_judge_find(judge, "J10",
                    "quote.ladder[%d]: " MONEY " in all and " MONEY
                    " each, the quote for the same %d guests says " MONEY " and " MONEY,
                    i, rung->total_cents, rung->per_guest_cents, q->guests, q->total_cents, q->per_guest_cents);
  }
}

pw_status pw_check_quote(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  check_sums(judge, q);
  check_dues(judge, q);
  check_ladder(judge, q);
  /* the price is the price per guest times the guests; the least fee is split among them and rounded up */
  int64_t each = q->guests > 0 ? q->per_guest_cents * q->guests : q->price_cents;
  if (q->guests > 0 && (each < q->price_cents || each >= q->price_cents + q->guests))
    pw_judge_find(judge, "J10",
                  "quote.per_guest_cents: " MONEY " for each of %d guests makes " MONEY ", the price is " MONEY,
                  q->per_guest_cents, q->guests, each, q->price_cents);
  return PW_OK;
}

pw_status pw_check_costs(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  enum { LAST_FOOD = 5 }; /* meat, side, bread, sauce, seasoning, drink */
  int64_t food = 0;
  bool has_categories = plan->n[PW_SEEN_PURCHASES] > 0;
  for (int i = 0; i < plan->n[PW_SEEN_PURCHASES]; i++) {
    has_categories = has_categories && plan->purchases[i].category != PW_SEEN_NONE;
    food += plan->purchases[i].category <= LAST_FOOD ? plan->purchases[i].cost_cents : 0;
  }
  if (has_categories && food != q->food_cents)
    pw_judge_find(judge, "J10", "quote.food_cents: is " MONEY ", the food on the purchase list costs " MONEY,
                  q->food_cents, food);

  double labour = 0;
  for (int i = 0; i < plan->n[PW_SEEN_CREW]; i++) {
    const struct pw_seen_crew *c = &plan->crew[i];
    labour += c->count * ((c->to_min - c->from_min - c->unpaid_min) * c->cents_per_h / 60 + c->extra_cents);
  }
  /* NAN when a rate is missing: then nothing is compared */
  if (fabs(labour - (double)q->labour_cents) > 0.5 * plan->n[PW_SEEN_CREW] + 1e-6)
    pw_judge_find(judge, "J10", "quote.labour_cents: is " MONEY ", the crew's hours cost %.2f", q->labour_cents,
                  labour);

  int64_t fuel = known(q->oven_cents);
  for (int i = 0; i < plan->n[PW_SEEN_FUELS]; i++)
    fuel += plan->fuels[i].cost_cents;
  if (q->oven_cents != PW_SEEN_NONE && fuel != q->fuel_cents)
    pw_judge_find(judge, "J10", "quote.fuel_cents: is " MONEY ", fuels and ovens cost " MONEY, q->fuel_cents, fuel);
  return PW_OK;
}

/* ---- the proof [J11] ------------------------------------------------------------------------------------------ */

pw_status pw_check_solution(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_solution *s = &plan->solution;
  long missed = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOTS]; i++)
    missed += plan->lots[i].missed;
  if (missed > 0 && s->outcome != PW_SEEN_SHORT && s->outcome != PW_SEEN_LIMIT)
    pw_judge_find(judge, "J11", "solution.outcome: says all pieces have a place, the lots miss %ld", missed);
  if (missed == 0 && s->outcome == PW_SEEN_SHORT)
    pw_judge_find(judge, "J11", "solution.outcome: is \"short\", but no lot misses a piece");
  double scale = fmax(fabs(s->cost), 1e-9);
  if (s->bound > s->cost + 1e-6 * scale + 1e-6)
    pw_judge_find(judge, "J11", "solution.bound: %.10g is above the cost of %.10g: no plan can beat its bound",
                  s->bound, s->cost);
  else if (fabs(s->gap_frac - (s->cost - s->bound) / scale) > 1e-4 && fabs(s->cost - s->bound) > 1e-6)
    pw_judge_find(judge, "J11", "solution.gap_frac: is %.6g, cost and bound make %.6g", s->gap_frac,
                  (s->cost - s->bound) / scale);
  double slack = 1e-6 * scale + 1e-6;
  if (s->bound_fractions > s->bound_shapes + slack || s->bound_shapes > s->bound + slack)
    pw_judge_find(judge, "J11",
                  "solution.bound_shapes: steps of the proof are %.10g, %.10g, %.10g: none takes from another",
                  s->bound_fractions, s->bound_shapes, s->bound);
  return PW_OK;
}

/* ---- goods [J12] ------------------------------------------------------------------------------------------------ */

/* Least that a need can be which covers with chance p what has this mean and spread, whatever its law: by Cantelli's inequality
 * a p-quantile is at least mean - sd * sqrt((1 - p) / p).  A dish hardly anybody takes may so need nothing at all. */
static double least_need(double mean, double sd, double p) { return p > 0 ? mean - sd * sqrt((1 - p) / p) : 0; }

static void check_demand(struct pw_judge *judge, const struct pw_seen_demand *d, int i)
{
  /* six digits of both are enough: they are sums over many guests */
  if (d->need_kg < least_need(d->mean_kg, d->sd_kg, d->cover) - 1e-6 * d->mean_kg)
    pw_judge_find(
        judge, "J12",
        "demand[%d].need_kg: %.6g is less than a mean of %.6g asks for, with a spread of %.6g, at a cover of %.4g", i,
        d->need_kg, d->mean_kg, d->sd_kg, d->cover);
  /* NAN when not told: then nothing is compared */
  if (d->need_units < least_need(d->mean_units, d->sd_units, d->cover) - 1e-6 * d->mean_units)
    pw_judge_find(
        judge, "J12",
        "demand[%d].need_units: %.6g is less than a mean of %.6g asks for, with a spread of %.6g, at a cover of %.4g",
        i, d->need_units, d->mean_units, d->sd_units, d->cover);
}

static void check_purchase(struct pw_judge *judge, const struct pw_seen_purchase *p, int i)
{
  double by_amount = p->amount * p->unit_price_cents, cost = (double)p->cost_cents, slack = 0.5 + 1e-6 + 1e-9 * cost;
  double by_pack = p->packs * (isnan(p->pack_price_cents) ? p->unit_price_cents : p->pack_price_cents);
  bool is_amount = fabs(cost - by_amount) <= slack, is_pack = fabs(cost - by_pack) <= slack;
  if (isnan(p->pack_price_cents) ? !is_amount && !is_pack : !is_amount || !is_pack)
    pw_judge_find(judge, "J12",
                  "purchases[%d].cost_cents: is " MONEY ", amount and packs at their price make %.2f and %.2f", i,
                  p->cost_cents, by_amount, by_pack);
  if (p->amount < p->need * (1 - 1e-9) - 1e-9)
    pw_judge_find(judge, "J12", "purchases[%d].amount: %.6g is less than the need of %.6g", i, p->amount, p->need);
  if (p->deliver_min != PW_SEEN_NO_TIME && p->order_by_min > p->deliver_min)
    pw_judge_find(judge, "J12", "purchases[%d].order_by_min: %d is after the delivery at %d", i, p->order_by_min,
                  p->deliver_min);
  if (p->thaw_from_min != PW_SEEN_NO_TIME && p->deliver_min != PW_SEEN_NO_TIME && p->thaw_from_min < p->deliver_min)
    pw_judge_find(judge, "J12", "purchases[%d].thaw_from_min: %d is before the delivery at %d", i, p->thaw_from_min,
                  p->deliver_min);
}

/** The pieces cooked are the pieces bought. */
static void check_raw(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_raw *raw = &plan->raws[i];
  long pieces = 0;
  bool is_cooked = false;
  for (int c = 0; c < plan->n[PW_SEEN_LOTS]; c++)
    if (plan->lots[c].service == raw->service && strcmp(plan->lots[c].cut, raw->cut) == 0) {
      pieces += plan->lots[c].pieces;
      is_cooked = true;
    }
  if (is_cooked && pieces != raw->pieces)
    pw_judge_find(judge, "J12", "raw_needs[%d].pieces: %d of \"%s\" are needed, the lots of that service have %ld", i,
                  raw->pieces, raw->cut, pieces);
}

pw_status pw_check_goods(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++)
    check_demand(judge, &plan->demand[i], i);
  for (int i = 0; i < plan->n[PW_SEEN_PURCHASES]; i++)
    check_purchase(judge, &plan->purchases[i], i);
  for (int i = 0; i < plan->n[PW_SEEN_RAWS]; i++)
    check_raw(judge, plan, i);
  return PW_OK;
}
