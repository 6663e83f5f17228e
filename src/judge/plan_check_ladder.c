/* plan_check_ladder.c - head counts priced one by one: which they are, from which on the job pays [J10].  What each asks is
 * in plan_check_price.c.  In: the quote, crew, services.  Out: findings. */
#include "judge/plan_check_parts.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#define MONEY "%" PRId64

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

/** True when a run ended by its seconds left head counts out and says so. */
static bool is_cut(const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    if (strcmp(plan->warnings[i].code, "ladder-cut") == 0)
      return true;
  return false;
}

/** Of the head counts asked for, those that are there and the planned one; returns how many. */
static int keep_told(const struct pw_seen_quote *q, int *guests, int n)
{
  int n_kept = 0;
  for (int i = 0; i < n; i++) {
    bool is_told = guests[i] == q->guests;
    for (int k = 0; k < q->n_ladder; k++)
      is_told = is_told || q->ladder[k].guests == guests[i];
    if (is_told)
      guests[n_kept++] = guests[i];
  }
  return n_kept;
}

static void check_which(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  int guests[RUNGS_MOST], n = wanted(q, guests);
  if (q->ladder_step == PW_SEEN_NONE || n >= RUNGS_MOST - 1)
    return;
  n = is_cut(plan) ? keep_told(q, guests, n) : n;
  if (n != q->n_ladder)
    pw_judge_find(judge, "J10", "quote.ladder: has %d head counts, %d are asked for", q->n_ladder, n);
  for (int i = 0; i < n && i < q->n_ladder; i++)
    if (q->ladder[i].guests != guests[i]) {
      pw_judge_find(judge, "J10", "quote.ladder[%d].guests: is %d, %d is asked for", i, q->ladder[i].guests, guests[i]);
      return;
    }
}

/** Price less discount at the quoted price per guest, at least the least fee. */
static double net_at(const struct pw_seen_quote *q, int guests)
{
  double price = guests == q->guests ? (double)q->price_cents : (double)q->per_guest_cents * guests;
  return fmax(price * (1 - q->discount_frac), q->min_fee_cents > 0 ? (double)q->min_fee_cents : 0);
}

/** The least head count tried from which on all pay; 0: all do. */
static int break_even(const struct pw_seen_quote *q, double slack)
{
  const struct pw_seen_rung *rungs = q->n_tried > 0 ? q->tried : q->ladder;
  int n = q->n_tried > 0 ? q->n_tried : q->n_ladder, i = n - 1;
  while (i >= 0 && nearbyint(net_at(q, rungs[i].guests) + slack) >= (double)rungs[i].cost_cents)
    i--;
  if (i < 0)
    return 0;
  return i == n - 1 ? BREAK_EVEN_NONE : rungs[i + 1].guests;
}

static void check_break_even(struct pw_judge *judge, const struct pw_seen_quote *q)
{
  if (!q->has_pays_from || (q->n_tried <= 0 && q->n_ladder == 0) ||
      (q->n_ladder > 0 && q->ladder[0].cost_cents == PW_SEEN_NONE) || isnan(q->discount_frac))
    return;
  for (int slack = -1; slack <= 1; slack++)
    if (break_even(q, 0.51 * slack) == q->pays_from)
      return;
  pw_judge_find(judge, "J10", "quote.pays_from_guests: is %d, the head counts tried make %d", q->pays_from,
                break_even(q, 0));
}

/** Every role of the crew and every service has its line. */
static void check_all_there(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  if (q->n_services != PW_SEEN_NONE && q->n_services != 0 && q->n_services != plan->n[PW_SEEN_SERVICES])
    pw_judge_find(judge, "J10", "quote.services: has %d lines, there are %d services", q->n_services,
                  plan->n[PW_SEEN_SERVICES]);
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

/** Other chances of being on time: in order, one of them the plan's own, each step's price that of its figures. */
static void check_levels(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  double least = 1, late = 0;
  int n_plan = 0;
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++) {
    const struct pw_seen_chance *c = &plan->services[s].chance;
    least = fmin(least, c->on_time_frac);
    late += 1 - c->on_time_frac;
  }
  for (int i = 0; i < q->n_levels; i++) {
    const struct pw_seen_level *level = &q->levels[i], *before = i > 0 ? level - 1 : NULL;
    if (before && !(level->margin_frac > before->margin_frac))
      pw_judge_find(judge, "J10", "quote.on_time_levels[%d].margin_frac: %.4g does not follow %.4g", i,
                    level->margin_frac, before->margin_frac);
    if (before && !level->is_plan && level->cost_cents < before->cost_cents && !before->is_plan)
      pw_judge_find(judge, "J10", "quote.on_time_levels[%d].cost_cents: " MONEY " is less than with less room", i,
                    level->cost_cents);
    double low = 1 - level->chance_frac, high = low * plan->n[PW_SEEN_SERVICES];
    if (level->late_meals_frac < low - 1e-9 || level->late_meals_frac > high + 1e-9)
      pw_judge_find(judge, "J10",
                    "quote.on_time_levels[%d].late_meals_frac: is %.4g, its least likely meal makes %.4g to %.4g", i,
                    level->late_meals_frac, low, high);
    double dearer = before ? (double)(level->cost_cents - before->cost_cents) : 0;
    double spared = before ? before->late_meals_frac - level->late_meals_frac : 0;
    double price = dearer > 0 && spared > 0 ? dearer / spared : 0;
    if (fabs((double)level->late_meal_cents - price) > 0.5 + 1e-6 * price)
      pw_judge_find(judge, "J10", "quote.on_time_levels[%d].late_meal_cents: is " MONEY ", its figures make %.1f", i,
                    level->late_meal_cents, price);
    if (!level->is_plan)
      continue;
    n_plan++;
    if (plan->now_min == PW_SEEN_NO_TIME &&
        (level->cost_cents != q->cost_cents || fabs(level->chance_frac - least) > 1e-9 ||
         fabs(level->late_meals_frac - late) > 1e-9 || level->margin_frac != 1))
      pw_judge_find(judge, "J10", "quote.on_time_levels[%d]: is not this plan: " MONEY ", %.4g of the meals, %.4g late",
                    i, q->cost_cents, least, late);
  }
  if (q->n_levels > 0 && n_plan != 1)
    pw_judge_find(judge, "J10", "quote.on_time_levels: %d rows are this plan", n_plan);
}

pw_status pw_check_ladder(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  if (plan->n[PW_SEEN_NEEDS] == 0)
    return PW_OK; /* an older plan tells the fixed keys only */
  check_all_there(judge, plan);
  check_levels(judge, plan);
  if (q->n_ladder > 1)
    check_which(judge, plan);
  check_break_even(judge, q);
  return PW_OK;
}
