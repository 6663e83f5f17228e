/* plan_check_ladder.c - head counts priced one by one: which they are, what each asks, from which on the job pays [J10].
 * In: the quote, lots.  Out: findings.  A price per guest is the least step that keeps the margin asked for and the least fee. */
#include "plan/plan_check_parts.h"

#include <inttypes.h>
#include <math.h>

#define MONEY "%" PRId64
#define CENT 1.0 /* each of the two roundings may be off by half of one */

enum { RUNGS_MOST = 64, SEVEN = 7, BREAK_EVEN_NONE = -1 };

/** A head count as people say it. */
static int spoken(double guests)
{
  int step = guests < 20 ? 1 : guests < 100 ? 5 : guests < 1000 ? 10 : 50;
  int n = (int)nearbyint(guests / step) * step;
  return n < 1 ? 1 : n;
}

static int insert(int *guests, int n, int value)
{
  int at = n;
  for (int i = 0; i < n; i++)
    if (guests[i] == value)
      return n;
  for (; at > 0 && guests[at - 1] > value; at--)
    guests[at] = guests[at - 1];
  guests[at] = value;
  return n + 1;
}

/** The head counts there should be: those asked for, else seven around the planned one; returns how many. */
static int wanted(const struct pw_seen_quote *q, int *guests)
{
  static const double shares[] = {0.5, 0.7, 0.85, 1.15, 1.3, 1.5};
  int planned = q->guests < 1 ? 1 : q->guests, n = insert(guests, 0, planned);
  if (q->ladder_step > 0) {
    for (int g = q->ladder_from; g <= q->ladder_to && n < RUNGS_MOST - 1; g += q->ladder_step)
      n = insert(guests, n, g);
    return n;
  }
  for (int i = 0; i < (int)(sizeof shares / sizeof *shares); i++)
    n = insert(guests, n, spoken(shares[i] * planned));
  for (int step = 1; n < SEVEN; step++) { /* a small party: its neighbours */
    if (planned - step >= 1)
      n = insert(guests, n, planned - step);
    if (n < SEVEN)
      n = insert(guests, n, planned + step);
  }
  return n;
}

static void check_which(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  int guests[RUNGS_MOST], n = wanted(q, guests);
  if (q->ladder_step == PW_SEEN_NONE || n >= RUNGS_MOST - 1)
    return;
  if (n != q->n_ladder)
    pw_judge_find(judge, "J10", "quote.ladder: has %d head counts, %d are asked for", q->n_ladder, n);
  for (int i = 0; i < n && i < q->n_ladder; i++)
    if (q->ladder[i].guests != guests[i]) {
      pw_judge_find(judge, "J10", "quote.ladder[%d].guests: is %d, %d is asked for", i, q->ladder[i].guests, guests[i]);
      return;
    }
}

/** What a rung must ask for: cost over one less the margin, before and after the discount. */
static void check_price(struct pw_judge *judge, const struct pw_seen_quote *q, const char *list, int i, const struct pw_seen_rung *r)
{
  double step = q->round_per_guest_cents > 0 ? (double)q->round_per_guest_cents : 1, keeps = 1 - q->discount_frac;
  double asked = (double)r->cost_cents / (1 - q->asked_margin_frac), each = (double)r->per_guest_cents;
  bool is_step = fabs(each / step - nearbyint(each / step)) < 1e-9;
  bool is_least_fee = q->min_fee_cents > 0 && fabs((double)r->price_cents * keeps - (double)q->min_fee_cents) <= CENT + r->guests &&
                      (double)r->price_cents * keeps >= asked - CENT;
  bool is_least_fee_before = q->min_fee_cents > 0 && r->price_cents == q->min_fee_cents && (double)r->price_cents >= asked - CENT;
  bool before = each * r->guests >= asked - CENT && (each - step) * r->guests < asked + CENT;
  bool after = each * r->guests * keeps >= asked - CENT && (each - step) * r->guests * keeps < asked + CENT;
  if (r->guests > 0 && !is_least_fee && !is_least_fee_before && !(is_step && (before || after)))
    pw_judge_find(judge, "J10", "%s[%d].per_guest_cents: " MONEY " for each of %d guests, a cost of " MONEY " asks for %.2f in all", list, i,
                  r->per_guest_cents, r->guests, r->cost_cents, asked / keeps);
}

static void check_rungs(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  bool is_by_margin = !isnan(q->asked_margin_frac) && !(q->asked_food_share_frac > 0) && !(q->quoted_price_cents > 0);
  long missed = 0;
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
    missed += plan->lots[l].missed;
  for (int i = 0; i < q->n_ladder; i++) {
    const struct pw_seen_rung *r = &q->ladder[i], *same = NULL;
    for (int k = 0; k < q->n_tried && !same; k++)
      same = q->tried[k].guests == r->guests ? &q->tried[k] : NULL;
    if (q->n_tried > 0 && (!same || same->cost_cents != r->cost_cents || same->price_cents != r->price_cents || same->total_cents != r->total_cents ||
                           same->per_guest_cents != r->per_guest_cents || same->missed != r->missed))
      pw_judge_find(judge, "J10", "quote.ladder[%d]: %s with %d guests", i, same ? "is not as tried" : "was never tried", r->guests);
  }
  const struct pw_seen_rung *rungs = q->n_tried > 0 ? q->tried : q->ladder;
  const char *list = q->n_tried > 0 ? "quote.tried" : "quote.ladder";
  for (int i = 0, n = q->n_tried > 0 ? q->n_tried : q->n_ladder; i < n; i++) {
    if (rungs[i].guests == q->guests && rungs[i].missed != PW_SEEN_NONE && rungs[i].missed != missed)
      pw_judge_find(judge, "J10", "%s[%d].missed: is %d, the lots miss %ld", list, i, rungs[i].missed, missed);
    if (rungs[i].guests == q->guests && rungs[i].cost_cents != PW_SEEN_NONE && plan->event.slot_min != PW_SEEN_NONE &&
        rungs[i].price_cents != q->price_cents)
      pw_judge_find(judge, "J10", "%s[%d].price_cents: is " MONEY ", the quote asks " MONEY, list, i, rungs[i].price_cents, q->price_cents);
    if (is_by_margin && rungs[i].cost_cents != PW_SEEN_NONE && rungs[i].price_cents != PW_SEEN_NONE)
      check_price(judge, q, list, i, &rungs[i]);
  }
}

/** Price less discount at the quoted price per guest; the least fee may be meant before or after the discount. */
static double net_at(const struct pw_seen_quote *q, int guests, bool is_fee_after)
{
  double price = guests == q->guests ? (double)q->price_cents : (double)q->per_guest_cents * guests, keeps = 1 - q->discount_frac;
  double fee = q->min_fee_cents > 0 ? (double)q->min_fee_cents : 0;
  return is_fee_after ? fmax(price * keeps, fee) : fmax(price, fee) * keeps;
}

static int break_even(const struct pw_seen_quote *q, bool is_fee_after, double slack)
{
  const struct pw_seen_rung *rungs = q->n_tried > 0 ? q->tried : q->ladder;
  int n = q->n_tried > 0 ? q->n_tried : q->n_ladder, i = n - 1;
  while (i >= 0 && nearbyint(net_at(q, rungs[i].guests, is_fee_after) + slack) >= (double)rungs[i].cost_cents)
    i--;
  if (i < 0)
    return 0;
  if (i == n - 1)
    return BREAK_EVEN_NONE;
  double low = (double)rungs[i].cost_cents - net_at(q, rungs[i].guests, is_fee_after);
  double high = net_at(q, rungs[i + 1].guests, is_fee_after) - (double)rungs[i + 1].cost_cents;
  return rungs[i].guests + (int)ceil((rungs[i + 1].guests - rungs[i].guests) * low / (low + high) - 1e-9 - slack * 1e-3);
}

static void check_break_even(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  if (!q->has_pays_from || (q->n_tried <= 0 && q->n_ladder == 0) || (q->n_ladder > 0 && q->ladder[0].cost_cents == PW_SEEN_NONE) || isnan(q->discount_frac))
    return;
  for (int fee = 0; fee < 2; fee++)
    for (int slack = -1; slack <= 1; slack++)
      if (break_even(q, fee == 1, 0.51 * slack) == q->pays_from)
        return;
  pw_judge_find(judge, "J10", "quote.pays_from_guests: is %d, the head counts tried make %d", q->pays_from, break_even(q, false, 0));
}

/** Every role of the crew and every service has its line. */
static void check_all_there(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  if (q->n_services != PW_SEEN_NONE && q->n_services != 0 && q->n_services != plan->n[PW_SEEN_SERVICES])
    pw_judge_find(judge, "J10", "quote.services: has %d lines, there are %d services", q->n_services, plan->n[PW_SEEN_SERVICES]);
  if (q->n_services <= 0)
    pw_judge_find(judge, "J10", "quote.services: is missing");
  for (int c = 0; c < plan->n[PW_SEEN_CREW]; c++) {
    bool is_there = false;
    for (int r = 0; r < q->n_roles && !is_there; r++)
      is_there = pw_check_is(q->roles[r].role, plan->crew[c].role);
    if (!is_there)
      pw_judge_find(judge, "J10", "quote.roles: has no line for \"%s\"", plan->crew[c].role);
  }
}

pw_status pw_check_ladder(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  if (plan->n[PW_SEEN_NEEDS] == 0)
    return PW_OK; /* an older plan tells the fixed keys only */
  check_all_there(judge, plan);
  if (q->n_ladder > 1)
    check_which(judge, q);
  check_rungs(judge, plan);
  check_break_even(judge, q);
  return PW_OK;
}
