/* portion_cost.c - the cost of the next portion, at cheapest unit prices: no packs, no rounding [D3]. */
#include "plan/demand/portion_cost.h"

#include <math.h>

/* Cheapest money per item unit; piece_kg: of the cut or item where offers are by weight and the unit is a piece. */
static double unit_price(const struct pw_event *ev, int item_i, double piece_kg)
{
  const struct pw_item *item = &ev->items[item_i];
  double best = INFINITY, mixed = 0;
  for (int k = 0; k < item->n_parts; k++)
    mixed += item->parts[k].amount * unit_price(ev, item->parts[k].item, 0);
  if (item->n_parts > 0)
    return mixed;
  for (int o = 0; o < item->n_offers; o++) {
    const struct pw_offer *offer = &item->offers[o];
    double price = INFINITY;
    if (offer->is_by_weight)
      price = item->unit == PW_UNIT_EACH ? offer->price_cents * (piece_kg > 0 ? piece_kg : 1) : offer->price_cents;
    else if (offer->amount > 0)
      price = offer->price_cents / offer->amount;
    best = fmin(best, price);
  }
  return isfinite(best) ? best : 0;
}

static bool is_food(const struct pw_event *ev, int item) { return ev->items[item].category <= PW_CAT_DRINK; }

static double uses_cost(const struct pw_event *ev, const struct pw_use *uses, int n, double portions, double pieces,
                        double raw_kg)
{
  double sum = 0;
  for (int u = 0; u < n; u++) {
    double times = uses[u].per == PW_PER_PORTION  ? portions
                   : uses[u].per == PW_PER_PIECE  ? pieces
                   : uses[u].per == PW_PER_KG_RAW ? raw_kg
                                                  : 0;
    if (is_food(ev, uses[u].item))
      sum += uses[u].amount * times * unit_price(ev, uses[u].item, ev->items[uses[u].item].piece_kg);
  }
  return sum;
}

double pw_portion_cost(const struct pw_event *ev, int dish_i, double portion)
{
  const struct pw_dish *dish = &ev->dishes[dish_i];
  double pieces = 0, raw_kg = 0, sum = 0;
  if (dish->cut != PW_NONE) {
    const struct pw_cut *cut = &ev->cuts[dish->cut];
    double per_piece =
        dish->is_by_count ? cut->units_per_piece : cut->piece_kg * cut->trim_frac * cut->cook_frac * dish->carve_frac;
    pieces = portion / per_piece;
    raw_kg = pieces * cut->piece_kg;
    if (cut->item != PW_NONE)
      sum += (ev->items[cut->item].unit == PW_UNIT_EACH ? pieces : raw_kg) * unit_price(ev, cut->item, cut->piece_kg);
    sum += uses_cost(ev, cut->uses, cut->n_uses, 1, pieces, raw_kg);
  }
  return sum + uses_cost(ev, dish->uses, dish->n_uses, 1, pieces, raw_kg);
}

double pw_newsvendor_cover(double short_cents, double over_cents)
{
  double all = short_cents + over_cents;
  return all > 0 ? fmin(0.9999, fmax(0.5, short_cents / all)) : 0.9999;
}
