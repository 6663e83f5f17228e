/* plan_check_needs.c - goods: what each item is needed for, packs, dates, and the food dealt to the dishes [J12].
 * In: needs, purchases, mixes, orders, raw needs, demand, dishes of the quote.  Out: findings.  A plan that tells no needs is an older one
 * and is asked for less. */
#include "judge/plan_check_parts.h"

#include "base/arena.h"
#include "base/clock.h"

#include <inttypes.h>
#include <math.h>
#include <string.h>

#define MONEY "%" PRId64

enum {
  DAY_MIN = 24 * 60,
  HOUR_MIN = 60,
  NOON_H = 12,
  FROZEN = 2,
  LAST_FOOD = 5,
  EARLIEST_DAYS = 45,
  LOOK_BACK_DAYS = 14
};

static void expect(struct pw_judge *judge, const char *list, int i, const char *key, double is, double should)
{
  if (!isnan(is) && !isnan(should) && pw_check_differs(is, should))
    pw_judge_find(judge, "J12", "%s[%d].%s: is %.8g, what it follows from makes %.8g", list, i, key, is, should);
}

static const struct pw_seen_need *need_of(const struct pw_seen_plan *plan, const char *item)
{
  for (int i = 0; i < plan->n[PW_SEEN_NEEDS]; i++)
    if (strcmp(plan->needs[i].item, item) == 0)
      return &plan->needs[i];
  return NULL;
}

static const struct pw_seen_mix *mix_of(const struct pw_seen_plan *plan, const char *item)
{
  for (int i = 0; i < plan->n[PW_SEEN_MIXES]; i++)
    if (strcmp(plan->mixes[i].item, item) == 0)
      return &plan->mixes[i];
  return NULL;
}

/* ---- one need ------------------------------------------------------------------------------------------------------ */

static double part_for(const struct pw_seen_need *need, const char *dish, int service)
{
  double sum = 0;
  for (int k = 0; k < need->n_parts; k++) {
    const struct pw_seen_for *f = &need->parts[k];
    if (f->service == service && (dish ? f->dish && strcmp(f->dish, dish) == 0 : !f->dish))
      sum += f->amount;
  }
  return sum;
}

/** Noon, by the wall clock, of the day before a service, or of the one before that where a lot is cooked a day ahead. */
static bool is_prep_time(const struct pw_seen_plan *plan, const struct pw_clock *clock, int at_min)
{
  if (!clock)
    return true;
  struct pw_local_time t = pw_clock_local(clock, at_min);
  if (t.hour != NOON_H || t.minute != 0)
    return false;
  int64_t day = pw_date_to_days(t.date);
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++) {
    int64_t of = pw_date_to_days(pw_clock_local(clock, plan->services[s].at_min).date);
    if (day == of - 1 || day == of - 2)
      return true;
  }
  return false;
}

static void check_need(struct pw_judge *judge, const struct pw_seen_plan *plan, int i, const struct pw_clock *clock)
{
  const struct pw_seen_need *need = &plan->needs[i];
  double sum = 0, bought = 0;
  long pieces = 0;
  bool is_meat = false;
  for (int k = 0; k < need->n_parts; k++) {
    sum += need->parts[k].amount;
    bool is_dish = !need->parts[k].dish;
    for (int d = 0; d < plan->n[PW_SEEN_DEMAND] && !is_dish; d++)
      is_dish =
          plan->demand[d].service == need->parts[k].service && strcmp(plan->demand[d].dish, need->parts[k].dish) == 0;
    if (!is_dish)
      pw_judge_find(judge, "J12", "needs[%d].for[%d].dish: \"%s\" is not on the menu of that service", i, k,
                    need->parts[k].dish);
  }
  expect(judge, "needs", i, "amount", need->amount, sum);
  for (int r = 0; r < plan->n[PW_SEEN_RAWS]; r++)
    if (plan->raws[r].item && strcmp(plan->raws[r].item, need->item) == 0) {
      is_meat = true;
      pieces += plan->raws[r].pieces;
    }
  if (need->pieces != pieces)
    pw_judge_find(judge, "J12", "needs[%d].pieces: is %d, raw_needs has %ld pieces of \"%s\"", i, need->pieces, pieces,
                  need->item);
  int last = INT32_MIN;
  bool is_service = false;
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++) {
    int at = plan->services[s].at_min;
    last = at > last ? at : last;
    is_service = is_service || need->last_min == at || need->last_min == at - DAY_MIN;
  }
  if (!is_prep_time(plan, clock, need->prep_min))
    pw_judge_find(judge, "J12", "needs[%d].prep_min: minute %d is no noon of a day before a service", i,
                  need->prep_min);
  if (need->last_min < need->prep_min || need->last_min > last ||
      (!is_meat && !is_service && need->last_min != need->prep_min && !is_prep_time(plan, clock, need->last_min)))
    pw_judge_find(judge, "J12", "needs[%d].last_min: minute %d is no last use of \"%s\": a service's begin", i,
                  need->last_min, need->item);
  const struct pw_seen_mix *mix = mix_of(plan, need->item);
  for (int p = 0; p < plan->n[PW_SEEN_PURCHASES]; p++)
    bought += strcmp(plan->purchases[p].item, need->item) == 0 ? plan->purchases[p].need : 0;
  if (mix)
    expect(judge, "needs", i, "amount (of the mix)", need->amount, mix->amount);
  else
    expect(judge, "needs", i, "amount (of what is bought)", need->amount, bought);
  /* what goes into mixes is part of the need, dish by dish */
  for (int m = 0; m < plan->n[PW_SEEN_MIXES]; m++)
    for (int k = 0; k < plan->mixes[m].n_parts; k++) {
      const struct pw_seen_need *of = need_of(plan, plan->mixes[m].item);
      const struct pw_seen_part_of_mix *part = &plan->mixes[m].parts[k];
      if (!of || isnan(part->per_unit) || strcmp(part->item, need->item) != 0)
        continue;
      for (int f = 0; f < of->n_parts; f++)
        if (part_for(need, of->parts[f].dish, of->parts[f].service) <
            of->parts[f].amount * part->per_unit * (1 - 1e-6) - 1e-9)
          pw_judge_find(judge, "J12", "needs[%d].for: less of \"%s\" for \"%s\" than goes into \"%s\"", i, need->item,
                        of->parts[f].dish ? of->parts[f].dish : "the event", plan->mixes[m].item);
    }
}

static void check_mix(struct pw_judge *judge, const struct pw_seen_plan *plan, int m)
{
  const struct pw_seen_mix *mix = &plan->mixes[m];
  if (!need_of(plan, mix->item))
    pw_judge_find(judge, "J12", "mixes[%d].item: nothing needs \"%s\"", m, mix->item);
  if (mix->n_parts == 0)
    pw_judge_find(judge, "J12", "mixes[%d].parts: \"%s\" is made of nothing", m, mix->item);
  for (int k = 0; k < mix->n_parts; k++) {
    const struct pw_seen_part_of_mix *part = &mix->parts[k];
    if (!isnan(part->per_unit) && pw_check_differs(part->amount, mix->amount * part->per_unit))
      pw_judge_find(judge, "J12", "mixes[%d].parts[%d].amount: is %.8g, %.8g to the unit make %.8g", m, k, part->amount,
                    part->per_unit, mix->amount * part->per_unit);
    if (!need_of(plan, part->item))
      pw_judge_find(judge, "J12", "mixes[%d].parts[%d].item: needs has no \"%s\"", m, k, part->item);
  }
}

/* ---- one line of the purchase list ------------------------------------------------------------------------------------ */

/** Delivered a whole number of days before the day before it is used; what keeps too briefly for that, on the hour or when it is needed. */
static void check_dates(struct pw_judge *judge, const struct pw_seen_plan *plan, int i, const struct pw_seen_need *need)
{
  const struct pw_seen_purchase *p = &plan->purchases[i];
  bool is_thawed = p->thaw_from_min != PW_SEEN_NO_TIME;
  int first = is_thawed ? p->thaw_from_min : need->prep_min, ahead = first - DAY_MIN - p->deliver_min;
  if (is_thawed && (need->store != FROZEN || p->thaw_from_min > need->prep_min ||
                    (need->prep_min - p->thaw_from_min) % DAY_MIN != 0))
    pw_judge_find(judge, "J12", "purchases[%d].thaw_from_min: minute %d is no whole number of days before minute %d", i,
                  p->thaw_from_min, need->prep_min);
  if (p->deliver_min > need->last_min)
    pw_judge_find(judge, "J12", "purchases[%d].deliver_min: minute %d is after the last use at %d", i, p->deliver_min,
                  need->last_min);
  /* what does not keep from its first use to its last comes as late as it may, and is warned of */
  bool is_too_short = p->keeps_min > 0 && need->last_min - p->deliver_min > p->keeps_min;
  if (!is_too_short && (ahead >= 0 ? ahead % DAY_MIN != 0 || ahead > LOOK_BACK_DAYS * DAY_MIN
                                   : p->deliver_min % HOUR_MIN != 0 &&
                                         (p->keeps_min <= 0 || p->deliver_min != need->last_min - p->keeps_min) &&
                                         (need->last_min - p->deliver_min) % DAY_MIN != 0))
    pw_judge_find(judge, "J12", "purchases[%d].deliver_min: minute %d is no whole number of days before the use at %d",
                  i, p->deliver_min, first);
  if (p->order_ahead_min != PW_SEEN_NO_TIME && p->order_by_min != p->deliver_min - p->order_ahead_min)
    pw_judge_find(judge, "J12", "purchases[%d].order_by_min: is %d, %d min before the delivery is %d", i,
                  p->order_by_min, p->order_ahead_min, p->deliver_min - p->order_ahead_min);
  if (p->order_ahead_min > EARLIEST_DAYS * DAY_MIN)
    pw_judge_find(judge, "J12", "purchases[%d].order_ahead_min: %d days ahead is no order", i,
                  p->order_ahead_min / DAY_MIN);
  if (p->keeps_to_min != PW_SEEN_NO_TIME && p->keeps_to_min != p->deliver_min + p->keeps_min)
    pw_judge_find(judge, "J12", "purchases[%d].keeps_to_min: is %d, delivery and keeping make %d", i, p->keeps_to_min,
                  p->deliver_min + p->keeps_min);
}

static void check_purchase(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_purchase *p = &plan->purchases[i];
  const struct pw_seen_need *need = need_of(plan, p->item);
  if (!need) {
    pw_judge_find(judge, "J12", "purchases[%d].item: nothing needs \"%s\"", i, p->item);
    return;
  }
  expect(judge, "purchases", i, "amount", p->amount, p->packs * p->pack_amount);
  if (p->pieces != PW_SEEN_NONE && p->pack_pieces != PW_SEEN_NONE && p->pieces != p->packs * p->pack_pieces)
    pw_judge_find(judge, "J12", "purchases[%d].pieces: is %d, %d packs of %d make %d", i, p->pieces, p->packs,
                  p->pack_pieces, p->packs * p->pack_pieces);
  /* of whole pieces each weighs what the pieces needed weigh */
  if (p->pack_pieces > 0 && need->pieces > 0)
    expect(judge, "purchases", i, "pack_amount", p->pack_amount, p->pack_pieces * need->amount / need->pieces);
  check_dates(judge, plan, i, need);
}

/** No pack too many: with one less of any line its item would fall short, unless a supplier's terms or a cheaper price ask for it. */
static void check_order(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_order *order = &plan->orders[i];
  int lines = 0;
  for (int p = 0; p < plan->n[PW_SEEN_PURCHASES]; p++)
    lines += strcmp(plan->purchases[p].supplier, order->supplier) == 0;
  if (order->lines != PW_SEEN_NONE && order->lines != lines)
    pw_judge_find(judge, "J12", "orders[%d].lines: is %d, \"%s\" brings %d of the purchase list", i, order->lines,
                  order->supplier, lines);
  int64_t wants = order->least_cents > order->goods_cents ? order->least_cents - order->goods_cents : 0;
  if (order->least_cents != PW_SEEN_NONE && order->top_up_cents != wants)
    pw_judge_find(judge, "J12", "orders[%d].top_up_cents: is " MONEY ", the least order of " MONEY " asks for " MONEY,
                  i, order->top_up_cents, order->least_cents, wants);
}

/* ---- food dealt to the dishes ------------------------------------------------------------------------------------------- */

/** Cost of an item's food on the purchase list. */
static int64_t cost_of(const struct pw_seen_plan *plan, const char *item)
{
  int64_t sum = 0;
  for (int p = 0; p < plan->n[PW_SEEN_PURCHASES]; p++)
    if (strcmp(plan->purchases[p].item, item) == 0 && plan->purchases[p].category >= 0 &&
        plan->purchases[p].category <= LAST_FOOD)
      sum += plan->purchases[p].cost_cents;
  return sum;
}

/** Each item's cost goes to the dishes by the amounts they need; a dish's sum was rounded once for each item. */
static void check_dishes(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_quote *q = &plan->quote;
  if (q->n_dishes <= 0)
    return;
  if (q->n_dishes != plan->n[PW_SEEN_DEMAND])
    pw_judge_find(judge, "J12", "quote.dishes: %d lines, the menus have %d", q->n_dishes, plan->n[PW_SEEN_DEMAND]);
  for (int i = 0; i < q->n_dishes; i++) {
    const struct pw_seen_dish *dish = &q->dishes[i];
    const struct pw_seen_demand *d = NULL;
    double food = 0;
    int items = 0;
    for (int k = 0; k < plan->n[PW_SEEN_DEMAND] && !d; k++)
      if (plan->demand[k].service == dish->service && strcmp(plan->demand[k].dish, dish->dish) == 0)
        d = &plan->demand[k];
    if (!d) {
      pw_judge_find(judge, "J12", "quote.dishes[%d].dish: \"%s\" is not on the menu of that service", i, dish->dish);
      continue;
    }
    for (int n = 0; n < plan->n[PW_SEEN_NEEDS]; n++) {
      double part = part_for(&plan->needs[n], dish->dish, dish->service);
      if (part > 0 && plan->needs[n].amount > 0) {
        food += (double)cost_of(plan, plan->needs[n].item) * part / plan->needs[n].amount;
        items++;
      }
    }
    if (fabs((double)dish->food_cents - food) > items + 0.5)
      pw_judge_find(judge, "J12", "quote.dishes[%d].food_cents: is " MONEY ", what is bought for \"%s\" costs %.2f", i,
                    dish->food_cents, dish->dish, food);
    if (!isnan(dish->short_cents))
      expect(judge, "quote.dishes", i, "short_cents", dish->short_cents,
             d->cover < 1 ? dish->portion_cents * d->cover / (1 - d->cover) : 0);
    if (!d->cut && d->portion > 0)
      expect(judge, "quote.dishes", i, "portions", dish->portions,
             (d->is_by_count == 1 ? d->need_units : d->need_kg) / d->portion);
  }
}

pw_status pw_check_needs(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  if (plan->n[PW_SEEN_NEEDS] == 0)
    return PW_OK;
  for (int i = 0; i < plan->n[PW_SEEN_NEEDS]; i++)
    check_need(judge, plan, i, plan->clock);
  for (int m = 0; m < plan->n[PW_SEEN_MIXES]; m++)
    check_mix(judge, plan, m);
  for (int p = 0; p < plan->n[PW_SEEN_PURCHASES]; p++)
    check_purchase(judge, plan, p);
  for (int i = 0; i < plan->n[PW_SEEN_ORDERS]; i++)
    check_order(judge, plan, i);
  check_dishes(judge, plan);
  return PW_OK;
}
