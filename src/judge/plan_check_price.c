/* plan_check_price.c - how the price came about, what the cost is divided into [J10], orders and mixes [J12].
 * In: the quote with its lists, crew, tasks, purchases, orders, mixes.  Out: findings.  Keys an older plan lacks are not asked
 * for.  A share of money was rounded once to the cent: it may lie half a cent off and no more; sums are exact. */
#include "judge/plan_check_parts.h"

#include "base/clock.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define MONEY      "%" PRId64
#define ROUNDED    (0.5 + 1e-6) /* cents */
#define SLACK_FRAC 1e-6
#define SLACK_H    1e-6

static int64_t known(int64_t cents) { return cents == PW_SEEN_NONE ? 0 : cents; }

/** What a price leaves of itself after the discount. */
static int64_t net(const struct pw_seen_quote *q) { return q->price_cents - known(q->discount_cents); }

/** The price of a contract for just these guests: kept to the cent, also below the least fee. */
static bool is_contract(const struct pw_seen_quote *q, int guests)
{
  return q->agreed_price_cents != PW_SEEN_NONE && q->agreed_guests == guests;
}

/* ---- how the price came about [J10] ---------------------------------------------------------------------------- */

static void check_share(struct pw_judge *judge, const char *key, int64_t is, double frac, int64_t of)
{
  if (!isnan(frac) && fabs((double)is - frac * (double)of) > ROUNDED)
    pw_judge_find(judge, "J10", "quote.%s: is " MONEY ", %.6g %% of " MONEY " make %.2f", key, is, frac * 100, of,
                  frac * (double)of);
}

static void check_tax(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  int64_t charge = known(q->service_charge_cents), base = net(q) + (q->is_charge_taxed ? charge : 0);
  if (q->taxable_cents != PW_SEEN_NONE && q->taxable_cents != base)
    pw_judge_find(judge, "J10", "quote.taxable_cents: is " MONEY ", price less discount%s is " MONEY, q->taxable_cents,
                  q->is_charge_taxed ? " and with the service charge" : "", base);
  check_share(judge, "discount_cents", known(q->discount_cents), q->discount_frac, q->price_cents);
  check_share(judge, "service_charge_cents", charge, q->service_charge_frac, net(q));
  check_share(judge, "tax_cents", q->tax_cents, q->tax_frac, base);
  check_share(judge, "deposit_cents", q->deposit_cents, q->deposit_frac, q->total_cents);
  if (q->min_fee_cents != PW_SEEN_NONE && net(q) < q->min_fee_cents && !is_contract(q, q->guests))
    pw_judge_find(judge, "J10",
                  "quote.price_cents: is " MONEY " and leaves " MONEY " after the discount, the least fee is " MONEY,
                  q->price_cents, net(q), q->min_fee_cents);
  if (q->list_price_cents != PW_SEEN_NONE && q->list_price_cents != q->price_cents)
    pw_judge_find(judge, "J10", "quote.list_price_cents: is " MONEY ", the price before the discount is " MONEY,
                  q->list_price_cents, q->price_cents);
  if (q->net_cents != PW_SEEN_NONE && q->net_cents != net(q))
    pw_judge_find(judge, "J10", "quote.net_cents: is " MONEY ", list price less discount is " MONEY, q->net_cents,
                  net(q));
}

/* ---- why the price is what it is [J10] ---------------------------------------------------------------------------- */

/** A list price and one per guest. */
struct price {
  double list, per_guest;
};

/** What must be asked at least for `net` after the discount, `guests` heads, by the rounding of the price per guest; or by the
 *  least fee. */
static struct price price_for(const struct pw_seen_quote *q, double asked, double named, int guests)
{
  double keep = 1 - (isnan(q->discount_frac) ? 0 : q->discount_frac),
         step = fmax(1, (double)known(q->round_per_guest_cents));
  double fee = (double)known(q->min_fee_cents);
  struct price p = {ceil(asked / keep - 1e-6), 0};
  if (guests > 0) {
    p.per_guest = named > 0 ? named : ceil(ceil(p.list / guests - 1e-9) / step - 1e-9) * step;
    p.list = p.per_guest * guests;
  }
  if (named > 0 && is_contract(q, guests))
    return (struct price){(double)q->agreed_price_cents, named};
  double discount = floor(p.list * (1 - keep) + 0.5 + 1e-9); /* rounded once, half up */
  if (p.list - discount < fee) {
    p.list = ceil(fee / keep - 1e-6);
    p.per_guest = guests > 0 ? ceil(p.list / guests - 1e-9) : 0;
  }
  return p;
}

/** What has to be left after the discount: by the food's share, or by the margin on the cost. */
static double asked_of(const struct pw_seen_quote *q, int64_t cost, int64_t food)
{
  return q->asked_food_share_frac > 0 ? ceil((double)food / q->asked_food_share_frac - 1e-6)
                                      : ceil((double)cost / (1 - q->asked_margin_frac) - 1e-6);
}

/** A price is the one asked for; a cent of rounding in what is asked is allowed. */
static bool is_price(const struct pw_seen_quote *q, int64_t cost, int64_t food, double named, int guests, int64_t list,
                     int64_t per_guest)
{
  for (int cent = -1; cent <= 1; cent++) {
    struct price p = price_for(q, asked_of(q, cost, food) + cent, named, guests);
    if (fabs(p.list - (double)list) < 0.5 && (guests == 0 || fabs(p.per_guest - (double)per_guest) < 0.5))
      return true;
  }
  return false;
}

/** The same of a list price alone. */
static bool is_list_price(const struct pw_seen_quote *q, int64_t cost, int64_t food, int64_t list)
{
  for (int cent = -1; cent <= 1; cent++)
    if (fabs(price_for(q, asked_of(q, cost, food) + cent, 0, q->guests).list - (double)list) < 0.5)
      return true;
  return false;
}

static bool has_asked(const struct pw_seen_quote *q)
{
  return !isnan(q->asked_margin_frac) && !isnan(q->asked_food_share_frac) && q->asked_margin_frac < 1 &&
         q->guests != PW_SEEN_NONE && q->round_per_guest_cents != PW_SEEN_NONE && q->min_fee_cents != PW_SEEN_NONE;
}

/** The contract's price of a guest is the price named before. */
static void check_contract(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  if (q->agreed_price_cents == PW_SEEN_NONE)
    return;
  int64_t per_guest = (q->agreed_price_cents + q->agreed_guests - 1) / q->agreed_guests;
  if (q->quoted_per_guest_cents != per_guest || !q->quoted_on || strcmp(q->quoted_on, q->agreed_on) != 0)
    pw_judge_find(judge, "J10",
                  "quote.agreed: " MONEY " for %d guests on %s make " MONEY
                  " a guest; quote.quoted_price is another price or of another day",
                  q->agreed_price_cents, q->agreed_guests, q->agreed_on, per_guest);
}

static void check_asked(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  if (!has_asked(q))
    return;
  double named = q->quoted_per_guest_cents == PW_SEEN_NONE ? 0 : (double)q->quoted_per_guest_cents;
  if (!is_price(q, q->cost_cents, q->food_cents, named, q->guests, q->price_cents, q->per_guest_cents)) {
    struct price p = price_for(q, asked_of(q, q->cost_cents, q->food_cents), named, q->guests);
    pw_judge_find(judge, "J10",
                  "quote.price_cents: is " MONEY ", " MONEY " for each of %d guests; %s make %.0f and %.0f",
                  q->price_cents, q->per_guest_cents, q->guests,
                  named > 0 ? "the price named before, discount and least fee"
                            : "what is asked for, discount, rounding and least fee",
                  p.list, p.per_guest);
  }
  check_contract(judge, q);
  if (q->today_price_cents != PW_SEEN_NONE && q->today_per_guest_cents != PW_SEEN_NONE &&
      !is_price(q, q->cost_cents, q->food_cents, 0, q->guests, q->today_price_cents, q->today_per_guest_cents))
    pw_judge_find(judge, "J10",
                  "quote.today_price_cents: " MONEY " and " MONEY " for a guest do not follow from the cost",
                  q->today_price_cents, q->today_per_guest_cents);
  for (int i = 0; i < q->n_tried; i++) { /* a rung's food is not told */
    const struct pw_seen_rung *r = &q->tried[i];
    if (r->guests != q->guests && r->price_cents != PW_SEEN_NONE && r->cost_cents != PW_SEEN_NONE &&
        !(q->asked_food_share_frac > 0) &&
        !is_price(q, r->cost_cents, 0, 0, r->guests, r->price_cents, r->per_guest_cents))
      pw_judge_find(judge, "J10", "quote.tried[%d]: " MONEY " for %d guests do not follow from a cost of " MONEY, i,
                    r->price_cents, r->guests, r->cost_cents);
  }
}

/** The rungs of the given head count are the plan itself; those of the ladder are among those tried. */
static void check_own_rung(struct pw_judge *judge, const struct pw_seen_plan *plan, const struct pw_seen_rung *rungs,
                           int n, const char *name)
{
  const struct pw_seen_quote *q = &plan->quote;
  long missed = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOTS]; i++)
    missed += plan->lots[i].missed;
  for (int i = 0; i < n; i++) {
    const struct pw_seen_rung *r = &rungs[i];
    if (r->guests == q->guests && ((r->cost_cents != PW_SEEN_NONE && r->cost_cents != q->cost_cents) ||
                                   (r->price_cents != PW_SEEN_NONE && r->price_cents != q->price_cents) ||
                                   (r->missed != PW_SEEN_NONE && r->missed != missed)))
      pw_judge_find(judge, "J10",
                    "quote.%s[%d]: is not the plan's own: a cost of " MONEY ", a price of " MONEY
                    ", %d without a place",
                    name, i, r->cost_cents, r->price_cents, r->missed);
    bool is_tried = q->n_tried <= 0 || rungs == q->tried;
    for (int k = 0; k < q->n_tried && !is_tried; k++) {
      const struct pw_seen_rung *t = &q->tried[k];
      is_tried = t->guests == r->guests && t->cost_cents == r->cost_cents && t->price_cents == r->price_cents &&
                 t->total_cents == r->total_cents && t->per_guest_cents == r->per_guest_cents && t->missed == r->missed;
    }
    if (!is_tried)
      pw_judge_find(judge, "J10", "quote.%s[%d]: %d guests are not among those tried, or not with these figures", name,
                    i, r->guests);
  }
}

static void check_ratio(struct pw_judge *judge, const char *key, double is, int64_t part, int64_t whole)
{
  double ratio = whole > 0 ? (double)part / (double)whole : 0;
  if (!isnan(is) && fabs(is - ratio) > SLACK_FRAC * fmax(1, fabs(ratio)))
    pw_judge_find(judge, "J10", "quote.%s: is %.6g, " MONEY " of " MONEY " are %.6g", key, is, part, whole, ratio);
}

static void check_margin(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  check_ratio(judge, "margin_frac", q->margin_frac, net(q) - q->cost_cents, net(q));
  check_ratio(judge, "food_share_frac", q->food_share_frac, q->food_cents, net(q));
  if (q->prime_cents != PW_SEEN_NONE && q->prime_cents != q->food_cents + q->labour_cents)
    pw_judge_find(judge, "J10", "quote.prime_cents: is " MONEY ", food and labour make " MONEY, q->prime_cents,
                  q->food_cents + q->labour_cents);
  int64_t left = net(q) - (q->cost_cents - q->overhead_cents);
  if (q->contribution_cents != PW_SEEN_NO_MONEY && q->contribution_cents != left)
    pw_judge_find(judge, "J10", "quote.contribution_cents: is " MONEY ", price less direct costs leaves " MONEY,
                  q->contribution_cents, left);
}

/** Days of "2027-06-12", INT32_MIN when it is no date. */
static int days_of(const char *text)
{
  struct pw_date date;
  return text && pw_date_parse(text, &date) ? pw_date_to_days(date) : INT32_MIN;
}

static void check_dates(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  int before = INT32_MIN;
  for (int i = 0; i < q->n_dues; i++) {
    int day = days_of(q->dues[i].date);
    if (q->dues[i].date && day == INT32_MIN)
      pw_judge_find(judge, "J10", "quote.dues[%d].date: \"%s\" is no date", i, q->dues[i].date);
    if (q->dues[i].date && day < before)
      pw_judge_find(judge, "J10", "quote.dues[%d].date: %s is before the one above it", i, q->dues[i].date);
    before = day;
  }
  if (q->n_dues > 0 && q->deposit_cents > 0 && q->dues[0].cents != q->deposit_cents)
    pw_judge_find(judge, "J10", "quote.dues[0].cents: is " MONEY ", the deposit is " MONEY, q->dues[0].cents,
                  q->deposit_cents);
  if (q->quoted && q->valid_until && q->valid_days != PW_SEEN_NONE &&
      days_of(q->valid_until) != days_of(q->quoted) + q->valid_days)
    pw_judge_find(judge, "J10", "quote.valid_until: %s is not %d days after %s", q->valid_until, q->valid_days,
                  q->quoted);
}

/** Price less discount for so many heads at this price per guest; the exact price for those quoted. */
static double net_at(const struct pw_seen_quote *q, int guests)
{
  double price = guests == q->guests ? (double)q->price_cents : (double)q->per_guest_cents * guests;
  return fmax(price * (1 - (isnan(q->discount_frac) ? 0 : q->discount_frac)), (double)known(q->min_fee_cents));
}

static void check_turnout(struct pw_judge *judge, const struct pw_seen_quote *q, const struct pw_seen_turnout *t,
                          const char *key)
{
  if (fabs((double)t->net_cents - net_at(q, t->guests)) > ROUNDED)
    pw_judge_find(judge, "J10", "quote.%s.net_cents: is " MONEY ", %d guests at this price bring %.2f", key,
                  t->net_cents, t->guests, net_at(q, t->guests));
  double margin = t->net_cents > 0 ? (double)(t->net_cents - t->cost_cents) / (double)t->net_cents : 0;
  if (fabs(t->margin_frac - margin) > SLACK_FRAC * fmax(1, fabs(margin)))
    pw_judge_find(judge, "J10", "quote.%s.margin_frac: is %.6g, net and cost make %.6g", key, t->margin_frac, margin);
}

/** Total of a price by the rates; each of the three shares was rounded.  NAN when a rate is missing. */
static double total_of(const struct pw_seen_quote *q, int64_t price)
{
  double left = (double)price * (1 - q->discount_frac), charge = left * q->service_charge_frac;
  return left + charge + (left + (q->is_charge_taxed ? charge : 0)) * q->tax_frac;
}

/** Rungs: each one's price covers its guests; from pays_from on all of them pay, the last below does not. */
static void check_rungs(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  bool is_tried = q->n_tried > 0;
  const struct pw_seen_rung *rungs = is_tried ? q->tried : q->ladder;
  int n = is_tried ? q->n_tried : q->n_ladder, below = PW_SEEN_NONE;
  const char *name = is_tried ? "tried" : "ladder";
  for (int i = 0; i < n; i++) {
    const struct pw_seen_rung *r = &rungs[i];
    int64_t each = r->per_guest_cents * r->guests;
    if (i > 0 && r->guests <= rungs[i - 1].guests)
      pw_judge_find(judge, "J10", "quote.%s[%d]: %d guests do not follow %d", name, i, r->guests, rungs[i - 1].guests);
    if (r->price_cents != PW_SEEN_NONE && r->guests > 0 &&
        (each < r->price_cents || each >= r->price_cents + r->guests))
      pw_judge_find(judge, "J10",
                    "quote.%s[%d].price_cents: is " MONEY ", " MONEY " for each of %d guests makes " MONEY, name, i,
                    r->price_cents, r->per_guest_cents, r->guests, each);
    if (r->price_cents != PW_SEEN_NONE && fabs((double)r->total_cents - total_of(q, r->price_cents)) > 3 * ROUNDED)
      pw_judge_find(judge, "J10", "quote.%s[%d].total_cents: is " MONEY ", a price of " MONEY " makes %.2f", name, i,
                    r->total_cents, r->price_cents, total_of(q, r->price_cents));
    if (r->cost_cents == PW_SEEN_NONE || !q->has_pays_from)
      continue;
    bool does_pay = net_at(q, r->guests) > (double)r->cost_cents - ROUNDED;
    if (q->pays_from != PW_SEEN_NONE && r->guests >= q->pays_from && !does_pay)
      pw_judge_find(judge, "J10",
                    "quote.pays_from_guests: is %d, %s[%d] with %d guests costs " MONEY " and brings %.2f",
                    q->pays_from, name, i, r->guests, r->cost_cents, net_at(q, r->guests));
    if (q->pays_from == PW_SEEN_NONE || r->guests < q->pays_from)
      below = i;
  }
  if (below != PW_SEEN_NONE && net_at(q, rungs[below].guests) > (double)rungs[below].cost_cents + ROUNDED)
    pw_judge_find(judge, "J10", "quote.pays_from_guests: %s[%d] with %d guests pays already", name, below,
                  rungs[below].guests);
}

static bool has_dish(const struct pw_seen_plan *plan, int service, const char *dish)
{
  for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++)
    if (plan->demand[i].service == service && strcmp(plan->demand[i].dish, dish) == 0)
      return true;
  return false;
}

/** Choices: prices that follow from their costs by the terms, and the difference for a guest of the meal, rounded up. */
static void check_options(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  for (int i = 0; i < q->n_options; i++) {
    const struct pw_seen_option *t = &q->options[i];
    int64_t more = t->price_cents - t->base_price_cents, heads = (int64_t)plan->services[t->service].guests;
    int64_t each = heads <= 0 ? 0 : more >= 0 ? (more + heads - 1) / heads : -(-more / heads);
    if (has_dish(plan, t->service, t->dish) || (t->instead_of && !has_dish(plan, t->service, t->instead_of)))
      pw_judge_find(judge, "J10", "quote.options[%d]: its dish is on the menu, or the one it stands for is not", i);
    if (t->more_cents != each)
      pw_judge_find(judge, "J10",
                    "quote.options[%d].more_per_guest_cents: is " MONEY ", " MONEY " more for %d guests make " MONEY, i,
                    t->more_cents, more, (int)heads, each);
    if (t->base_cost_cents != q->options[0].base_cost_cents || t->base_price_cents != q->options[0].base_price_cents)
      pw_judge_find(judge, "J10", "quote.options[%d]: begins from another job than the first choice", i);
    if (has_asked(q) && (!is_list_price(q, t->cost_cents, t->food_cents, t->price_cents) ||
                         !is_list_price(q, t->base_cost_cents, t->base_food_cents, t->base_price_cents)))
      pw_judge_find(judge, "J10", "quote.options[%d].price_cents: " MONEY " does not follow from a cost of " MONEY, i,
                    t->price_cents, t->cost_cents);
  }
}

/** Dishes left out: each saves, its price follows from its cost, and none is told beyond what is enough. */
static void check_leaves(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  int64_t before = q->cost_cents;
  for (int i = 0; i < q->n_leaves; i++) {
    const struct pw_seen_leave *t = &q->leaves[i];
    double left = (double)net(q), margin = left != 0 ? (left - (double)t->cost_cents) / left : 0;
    bool is_needed = (i == 0 ? q->today_price_cents : q->leaves[i - 1].price_cents) > q->price_cents;
    if (!has_dish(plan, t->service, t->dish))
      pw_judge_find(judge, "J10", "quote.leave_out[%d].dish: \"%s\" is not on that menu", i, t->dish);
    if (t->cost_cents >= before || !is_needed)
      pw_judge_find(judge, "J10", "quote.leave_out[%d]: saves nothing, or is not needed", i);
    if (fabs(margin - t->margin_frac) > 1e-6)
      pw_judge_find(judge, "J10", "quote.leave_out[%d].margin_frac: is %.6g, the price given makes %.6g", i,
                    t->margin_frac, margin);
    if (has_asked(q) && !is_list_price(q, t->cost_cents, t->food_cents, t->price_cents))
      pw_judge_find(judge, "J10", "quote.leave_out[%d].price_cents: " MONEY " does not follow from a cost of " MONEY, i,
                    t->price_cents, t->cost_cents);
    before = t->cost_cents;
  }
}

pw_status pw_check_price(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  check_tax(judge, q);
  check_margin(judge, q);
  check_dates(judge, q);
  check_asked(judge, plan);
  check_rungs(judge, q);
  check_options(judge, plan);
  check_leaves(judge, plan);
  check_own_rung(judge, plan, q->ladder, q->n_ladder, "ladder");
  check_own_rung(judge, plan, q->tried, q->n_tried, "tried");
  if (q->has_fewer) {
    check_turnout(judge, q, &q->fewer, "fewer");
    if (q->fewer.cost_cents != q->cost_cents)
      pw_judge_find(judge, "J10", "quote.fewer.cost_cents: is " MONEY ", what is bought and booked costs " MONEY,
                    q->fewer.cost_cents, q->cost_cents);
  }
  if (q->has_more) {
    check_turnout(judge, q, &q->more, "more");
    bool is_tried = q->n_tried <= 0;
    for (int i = 0; i < q->n_tried; i++)
      is_tried = is_tried || (q->tried[i].guests == q->more.guests && q->tried[i].cost_cents == q->more.cost_cents);
    if (!is_tried)
      pw_judge_find(judge, "J10", "quote.more: %d guests at a cost of " MONEY " are not among those tried",
                    q->more.guests, q->more.cost_cents);
  }
  if (q->has_fewer && q->has_more && q->guests != PW_SEEN_NONE &&
      (q->fewer.guests > q->guests || q->more.guests < q->guests))
    pw_judge_find(judge, "J10", "quote.fewer: %d and %d guests do not lie around %d", q->fewer.guests, q->more.guests,
                  q->guests);
  return PW_OK;
}

/* ---- what the cost is divided into [J10] ------------------------------------------------------------------------- */

static void check_role(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_role *role = &plan->quote.roles[i];
  double paid_h = 0, task_h = 0, cents = 0;
  int lines = 0;
  for (int k = 0; k < plan->n[PW_SEEN_CREW]; k++) {
    const struct pw_seen_crew *c = &plan->crew[k];
    if (strcmp(c->role, role->role) != 0)
      continue;
    double h = (double)c->count * (c->to_min - c->from_min - c->unpaid_min) / 60;
    paid_h += h;
    cents += h * c->cents_per_h + c->count * c->extra_cents;
    lines++;
  }
  for (int k = 0; k < plan->n[PW_SEEN_TASKS]; k++)
    if (plan->tasks[k].role != PW_SEEN_NONE && strcmp(plan->crew[plan->tasks[k].role].role, role->role) == 0)
      task_h += plan->tasks[k].minutes / 60.0;
  if (fabs(role->paid_h - paid_h) > SLACK_H * fmax(1, paid_h))
    pw_judge_find(judge, "J10", "quote.roles[%d].paid_h: is %.6g, the shifts of \"%s\" make %.6g", i, role->paid_h,
                  role->role, paid_h);
  if (fabs(role->task_h - task_h) > SLACK_H * fmax(1, task_h))
    pw_judge_find(judge, "J10", "quote.roles[%d].task_h: is %.6g, the tasks of \"%s\" make %.6g", i, role->task_h,
                  role->role, task_h);
  if (fabs((double)role->cents - cents) > ROUNDED * lines)
    pw_judge_find(judge, "J10", "quote.roles[%d].cents: is " MONEY ", the shifts of \"%s\" cost %.2f", i, role->cents,
                  role->role, cents);
}

static void check_roles(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  int64_t sum = 0;
  for (int i = 0; i < q->n_roles; i++) {
    check_role(judge, plan, i);
    sum += q->roles[i].cents;
  }
  if (q->n_roles > 0 && sum != q->labour_cents)
    pw_judge_find(judge, "J10", "quote.roles: cost " MONEY ", labour is " MONEY, sum, q->labour_cents);
}

static void check_services(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  int64_t sum = 0;
  for (int i = 0; i < q->n_services; i++) {
    const struct pw_seen_share *s = &q->services[i];
    int64_t food = 0;
    sum += s->food_cents + s->other_cents;
    for (int k = 0; k < q->n_dishes; k++)
      food += q->dishes[k].service == s->service ? q->dishes[k].food_cents : 0;
    if (s->guests != (int)plan->services[s->service].guests)
      pw_judge_find(judge, "J10", "quote.services[%d].guests: is %d, the service is for %.0f", i, s->guests,
                    plan->services[s->service].guests);
    if (q->n_dishes > 0 && food != s->food_cents)
      pw_judge_find(judge, "J10", "quote.services[%d].food_cents: is " MONEY ", its dishes cost " MONEY, i,
                    s->food_cents, food);
  }
  if (q->n_services > 0 && sum != q->cost_cents)
    pw_judge_find(judge, "J10", "quote.services: cost " MONEY ", all of it is " MONEY, sum, q->cost_cents);
}

static void check_dishes(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  int64_t sum = known(q->shared_food_cents);
  for (int i = 0; i < q->n_dishes; i++) {
    const struct pw_seen_dish *d = &q->dishes[i];
    double all = d->portions * d->portion_cents;
    sum += d->food_cents;
    if (d->portions > 0 && fabs(all - (double)d->food_cents) > SLACK_FRAC * fmax(1, all))
      pw_judge_find(judge, "J10",
                    "quote.dishes[%d].portion_cents: %.6g for each of %.6g portions make %.2f, the food costs " MONEY,
                    i, d->portion_cents, d->portions, all, d->food_cents);
  }
  if (q->n_dishes > 0 && sum != q->food_cents)
    pw_judge_find(judge, "J10", "quote.dishes: cost " MONEY " with what they share, food is " MONEY, sum,
                  q->food_cents);
}

pw_status pw_check_division(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  check_roles(judge, plan);
  check_services(judge, plan);
  check_dishes(judge, plan);
  return PW_OK;
}

/* ---- orders and mixes [J12] ----------------------------------------------------------------------------------------- */

enum { LAST_FOOD = 5 }; /* drink, by pw_seen_categories */

static void check_order(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_order *order = &plan->orders[i];
  int64_t goods = 0;
  for (int k = 0; k < plan->n[PW_SEEN_PURCHASES]; k++)
    goods += strcmp(plan->purchases[k].supplier, order->supplier) == 0 ? plan->purchases[k].cost_cents : 0;
  if (goods != order->goods_cents)
    pw_judge_find(judge, "J12", "orders[%d].goods_cents: is " MONEY ", what \"%s\" brings costs " MONEY, i,
                  order->goods_cents, order->supplier, goods);
}

/** Supplies: what is bought besides food and the pits' own fuel, fees and top-ups. */
static void check_supplies(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  int64_t sum = 0;
  for (int k = 0; k < plan->n[PW_SEEN_ORDERS]; k++)
    sum += plan->orders[k].delivery_cents + plan->orders[k].top_up_cents;
  for (int k = 0; k < plan->n[PW_SEEN_PURCHASES]; k++) {
    const struct pw_seen_purchase *p = &plan->purchases[k];
    if (p->category == PW_SEEN_NONE)
      return;
    sum += p->category > LAST_FOOD && !p->is_pit_fuel ? p->cost_cents : 0;
  }
  int64_t is = plan->quote.supplies_cents;
  if (is != PW_SEEN_NONE && is != sum)
    pw_judge_find(judge, "J12", "quote.supplies_cents: is " MONEY ", goods besides food, fees and top-ups make " MONEY,
                  is, sum);
}

static bool is_mixed(const struct pw_seen_plan *plan, const char *item)
{
  for (int i = 0; i < plan->n[PW_SEEN_MIXES]; i++)
    if (strcmp(plan->mixes[i].item, item) == 0)
      return true;
  return false;
}

/** What goes into the mixes is bought, unless it is mixed itself. */
static void check_mix(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_mix *mix = &plan->mixes[i];
  for (int k = 0; k < mix->n_parts; k++) {
    const char *item = mix->parts[k].item;
    double needed = 0, bought = 0;
    if (is_mixed(plan, item))
      continue;
    for (int m = 0; m < plan->n[PW_SEEN_MIXES]; m++)
      for (int n = 0; n < plan->mixes[m].n_parts; n++)
        needed += strcmp(plan->mixes[m].parts[n].item, item) == 0 ? plan->mixes[m].parts[n].amount : 0;
    for (int p = 0; p < plan->n[PW_SEEN_PURCHASES]; p++)
      bought += strcmp(plan->purchases[p].item, item) == 0 ? plan->purchases[p].amount : 0;
    if (bought < needed * (1 - 1e-9) - 1e-9)
      pw_judge_find(judge, "J12", "mixes[%d].parts[%d]: %.6g of \"%s\" go into the mixes, %.6g are bought", i, k,
                    needed, item, bought);
  }
}

pw_status pw_check_orders(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_MIXES]; i++)
    check_mix(judge, plan, i);
  for (int k = 0; k < plan->n[PW_SEEN_PURCHASES]; k++) {
    const struct pw_seen_purchase *p = &plan->purchases[k];
    double over = isnan(p->need) ? p->amount : fmax(0, p->amount - p->need);
    double whole = p->packs > 0 ? floor(over / p->amount * p->packs + 1e-6) / p->packs * (double)p->cost_cents : 0;
    if ((double)p->carry_cents > whole + ROUNDED)
      pw_judge_find(judge, "J12", "purchases[%d].carry_cents: is " MONEY ", the whole packs left over cost %.2f", k,
                    p->carry_cents, whole);
    bool is_ordered = plan->n[PW_SEEN_ORDERS] == 0;
    for (int i = 0; i < plan->n[PW_SEEN_ORDERS] && !is_ordered; i++)
      is_ordered = strcmp(plan->orders[i].supplier, p->supplier) == 0;
    if (!is_ordered)
      pw_judge_find(judge, "J12", "purchases[%d].supplier: no order goes to \"%s\"", k, p->supplier);
  }
  if (plan->n[PW_SEEN_ORDERS] == 0)
    return PW_OK;
  for (int i = 0; i < plan->n[PW_SEEN_ORDERS]; i++)
    check_order(judge, plan, i);
  check_supplies(judge, plan);
  return PW_OK;
}
