/* plan_check_fuel.c - wood and charcoal: enough for the heat, laid in whole splits, bought with the reserve [J7].
 * In: pits, burns, fuels.  Out: findings.  The heat of a burn is held against what its fuel can give, with a wide margin: flue and
 * weather are the planner's. */
#include "judge/plan_check_parts.h"

#include <math.h>

#define LATENT_MJ_KG    2.257 /* water at 100 C, IAPWS-95 */
#define WOOD_MOST_MJ_KG 21.0  /* dry wood, gross: USDA Forest Products Laboratory, Wood Handbook 2021 */
#define COAL_MOST_MJ_KG 35.0  /* pure carbon 32.8, NIST; volatile rest a little more */
#define BALANCE_FRAC    0.15  /* heat that goes out beyond what comes in: rounding to splits, weather of the day */
#define PILE_FRAC       0.6 /* of the heat wanted until a feed: its hours are not all alike, by food, weather and lighting */
#define SPLIT_SLACK     1e-6

static void expect(struct pw_judge *judge, const char *list, int i, const char *key, double is, double should)
{
  if (!isnan(is) && !isnan(should) && pw_check_differs(is, should))
    pw_judge_find(judge, "J7", "%s[%d].%s: is %.8g, what it follows from makes %.8g", list, i, key, is, should);
}

static const struct pw_seen_fuel *fuel_of(const struct pw_seen_plan *plan, const char *name)
{
  for (int f = 0; f < plan->n[PW_SEEN_FUELS]; f++)
    if (pw_check_is(plan->fuels[f].fuel, name))
      return &plan->fuels[f];
  return NULL;
}

/** The pile of coals does not run out: what was laid before each feed, and before the end, gives what was wanted until then, taken as
 *  even over the burn but for the warming of the steel. */
static void check_pile(struct pw_judge *judge, const struct pw_seen_plan *plan, int b, double wood_mj_kg,
                       double coal_mj, double out_mj)
{
  const struct pw_seen_burn *burn = &plan->burns[b];
  double laid_mj = coal_mj, span = burn->out_min - burn->lit_min, warm = burn->ready_min - burn->lit_min;
  for (int i = 0; i < burn->n_feeds && span > 0 && warm > 0; i++) {
    double since = burn->feeds[i].at_min - burn->lit_min;
    double wanted_mj = burn->warm_up_mj * fmin(since / warm, 1) + (out_mj - burn->warm_up_mj) * since / span;
    if (laid_mj < PILE_FRAC * wanted_mj) {
      pw_judge_find(judge, "J7",
                    "burns[%d].feeds[%d]: at minute %d, the fire is out by then: %.6g MJ were laid, %.6g are wanted", b,
                    i, burn->feeds[i].at_min, laid_mj, wanted_mj);
      return;
    }
    laid_mj += burn->feeds[i].kg * wood_mj_kg;
  }
}

static void check_burn(struct pw_judge *judge, const struct pw_seen_plan *plan, int b)
{
  const struct pw_seen_burn *burn = &plan->burns[b];
  const struct pw_seen_pit *pit = &plan->pits[burn->pit];
  double steady = 0, hours = (burn->out_min - burn->ready_min) / 60.0;
  for (int i = 0; i < burn->n_feeds; i++) {
    const struct pw_seen_feed *feed = &burn->feeds[i];
    if (feed->splits != PW_SEEN_NONE && pw_check_differs(feed->kg, feed->splits * pit->split_kg))
      pw_judge_find(judge, "J7", "burns[%d].feeds[%d].kg: is %.6g, %d splits of %.6g kg make %.6g", b, i, feed->kg,
                    feed->splits, pit->split_kg, feed->splits * pit->split_kg);
    steady += feed->at_min >= burn->ready_min ? feed->splits : 0;
  }
  if (burn->n_feeds == 0 || (burn->start_charcoal_kg <= 0 && burn->feeds[0].at_min != burn->lit_min))
    pw_judge_find(judge, "J7", "burns[%d].feeds: no wood is laid when it is lit at minute %d", b, burn->lit_min);
  expect(judge, "burns", b, "splits_per_h", burn->splits_per_h, hours > 0 ? steady / hours : 0);
  expect(judge, "burns", b, "start_charcoal_kg", burn->start_charcoal_kg, pit->start_charcoal_kg);
  const struct pw_seen_fuel *wood = fuel_of(plan, pit->wood), *coal = fuel_of(plan, pit->charcoal);
  double coal_mj = burn->start_charcoal_kg > 0 && coal ? burn->start_charcoal_kg * coal->net_mj_kg : 0;
  if (!wood || isnan(burn->shell_kw) || isnan(pit->water_kg))
    return;
  double seconds_k = (burn->out_min - burn->lit_min) * 60.0 / 1000;
  double out_mj = (burn->shell_kw + burn->exhaust_kw + burn->food_kw + burn->door_kw) * seconds_k + burn->warm_up_mj +
                  pit->water_kg * LATENT_MJ_KG;
  double in_mj = burn->fuel_kg * wood->net_mj_kg + coal_mj;
  if (out_mj > (1 + BALANCE_FRAC) * in_mj)
    pw_judge_find(judge, "J7",
                  "burns[%d].fuel_kg: %.6g kg of wood and %.6g of charcoal give %.6g MJ at the most, %.6g are wanted",
                  b, burn->fuel_kg, burn->start_charcoal_kg, in_mj, out_mj);
  check_pile(judge, plan, b, wood->net_mj_kg, coal_mj, out_mj);
  /* not twice as much either: beyond the charcoal and two splits that lie there in any case */
  if (in_mj - coal_mj > 2 * out_mj + 2 * pit->split_kg * wood->net_mj_kg)
    pw_judge_find(judge, "J7", "burns[%d].fuel_kg: %.6g kg of wood give %.6g MJ, %.6g are wanted", b, burn->fuel_kg,
                  in_mj - coal_mj, out_mj);
}

static void check_fuel(struct pw_judge *judge, const struct pw_seen_plan *plan, int f)
{
  const struct pw_seen_fuel *fuel = &plan->fuels[f];
  double need = 0, splits = 0;
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++) {
    const struct pw_seen_burn *burn = &plan->burns[b];
    const struct pw_seen_pit *pit = &plan->pits[burn->pit];
    need += pw_check_is(pit->wood, fuel->fuel) ? burn->fuel_kg : 0;
    need += pw_check_is(pit->charcoal, fuel->fuel) ? burn->start_charcoal_kg : 0;
    splits += pw_check_is(pit->wood, fuel->fuel) && pit->split_kg > 0 ? burn->fuel_kg / pit->split_kg : 0;
  }
  double reserve = 1 + fuel->reserve_frac;
  expect(judge, "fuels", f, "need_kg", fuel->need_kg, need);
  expect(judge, "fuels", f, "buy_kg", fuel->buy_kg, fuel->need_kg * reserve);
  if (fuel->splits != PW_SEEN_NONE && !isnan(reserve) &&
      fabs(fuel->splits - ceil(splits * reserve - 1e-5)) > SPLIT_SLACK)
    pw_judge_find(judge, "J7", "fuels[%d].splits: is %d, %.6g with the reserve are %.6g", f, fuel->splits, splits,
                  splits * reserve);
  bool is_packed = fuel->packs != PW_SEEN_NONE;
  if (is_packed && fuel->pack_kg > 0 && fabs(fuel->packs - ceil(fuel->buy_kg / fuel->pack_kg - 1e-7)) > SPLIT_SLACK)
    pw_judge_find(judge, "J7", "fuels[%d].packs: %d packs of %.6g kg for %.6g kg", f, fuel->packs, fuel->pack_kg,
                  fuel->buy_kg);
  double cost = is_packed ? fuel->packs * fuel->pack_cents : fuel->buy_kg * fuel->cents_per_kg;
  if (!isnan(cost) && fabs((double)fuel->cost_cents - cost) > 0.5 + 1e-6 * cost)
    pw_judge_find(judge, "J7", "fuels[%d].cost_cents: is %.0f, what is bought costs %.2f", f, (double)fuel->cost_cents,
                  cost);
  double most = fuel->is_charcoal == 1 ? COAL_MOST_MJ_KG : WOOD_MOST_MJ_KG;
  if (fuel->net_mj_kg > most)
    pw_judge_find(judge, "J7", "fuels[%d].net_mj_kg: is %.6g, no such fuel gives more than %.6g", f, fuel->net_mj_kg,
                  most);
  double heaviest = 1500,
         lightest = 50; /* kg in a stacked cubic metre: below solid wood without pores, 1,500, and above straw */
  if (fuel->stacked_m3 > 0 &&
      (fuel->buy_kg / fuel->stacked_m3 > heaviest || fuel->buy_kg / fuel->stacked_m3 < lightest))
    pw_judge_find(judge, "J7", "fuels[%d].stacked_m3: %.6g kg in %.6g m3 is no stack of wood", f, fuel->buy_kg,
                  fuel->stacked_m3);
}

pw_status pw_check_fuel(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  bool is_told = plan->n[PW_SEEN_NEEDS] > 0;
  for (int b = 0; b < plan->n[PW_SEEN_BURNS] && is_told; b++) {
    const struct pw_seen_pit *pit = &plan->pits[plan->burns[b].pit];
    check_burn(judge, plan, b);
    if (pit->wood && !fuel_of(plan, pit->wood))
      pw_judge_find(judge, "J7", "fuels: no \"%s\" is bought, \"%s\" burns it", pit->wood, pit->id);
    if (pit->charcoal && pit->start_charcoal_kg > 0 && !fuel_of(plan, pit->charcoal))
      pw_judge_find(judge, "J7", "fuels: no \"%s\" is bought, \"%s\" is lit with it", pit->charcoal, pit->id);
  }
  for (int f = 0; f < plan->n[PW_SEEN_FUELS] && is_told; f++)
    check_fuel(judge, plan, f);
  return PW_OK;
}
