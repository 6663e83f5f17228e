/* purchase.c - demand -> whole pieces [P1][P2] -> one account per item -> one purchase list for the event [P3].
 *
 * Packs are chosen and rounded up once, at the end.  Then dates, backwards: prep is assumed at noon of the day
 * before a service; frozen pieces are moved to the refrigerator in whole days before that; goods arrive a day
 * earlier unless they would not keep.  Last, the cost of the food is dealt out to the dishes. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/money.h"
#include "plan/demand.h"
#include "plan/ledger.h"
#include "plan/packs.h"
#include "plan/pieces.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DAY_MIN = 24 * 60 };

#define THAW_KG_PER_DAY 2.26796185 /* 24 h in the refrigerator per 5 lb: USDA FSIS, "The Big Thaw" (2013) */
#define WHOLE 1e-9

/* ---- dates ------------------------------------------------------------------------------------ */

/* Delivery a day before the first use, later when the goods would not keep until the last one. */
static void date_line(struct pw_purchase_line *line, bool *is_too_short, const struct pw_account *a, double piece_kg,
                      const struct pw_event *ev)
{
  const struct pw_item *item = &ev->items[line->item];
  int needed = a->prep_at_min, latest = needed;
  line->thaw_from_at_min = INT_MIN;
  if (item->store == PW_STORE_FROZEN && piece_kg > 0) {
    needed -= (int)ceil(piece_kg / THAW_KG_PER_DAY - WHOLE) * DAY_MIN;
    latest = line->thaw_from_at_min = needed;
  } else if (item->category == PW_CAT_BREAD || item->category >= PW_CAT_DRINK) {
    latest = a->first_service_at_min; /* needs no kitchen work: may come as late as the service */
  }
  int deliver = needed - DAY_MIN;
  if (item->keeps_min > 0 && deliver < a->last_at_min - item->keeps_min)
    deliver = a->last_at_min - item->keeps_min;
  *is_too_short = deliver > latest;
  if (*is_too_short)
    deliver = latest;
  line->deliver_at_min = deliver;
  line->order_by_at_min = deliver - item->order_ahead_min;
}

/* ---- packs ------------------------------------------------------------------------------------ */

/* Lines for one item: the cheapest packs over its offers.  Returns how many lines were written. */
static int buy(struct pw_purchase_line *lines, bool *is_too_short, int item_i, const struct pw_account *a,
               const struct pw_event *ev)
{
  const struct pw_item *item = &ev->items[item_i];
  double piece_kg = a->pieces > 0 ? a->pieces_kg / a->pieces : item->piece_kg;
  double need = a->amount;
  double content[PW_PACKS_MAX], price[PW_PACKS_MAX];
  int packs[PW_PACKS_MAX];
  int n_offers = item->n_offers < PW_PACKS_MAX ? item->n_offers : PW_PACKS_MAX;
  for (int o = 0; o < n_offers; o++) {
    const struct pw_offer *offer = &item->offers[o];
    double pack_kg = offer->pieces * (piece_kg > 0 ? piece_kg : 1); /* loose goods: a "piece" is a kilogram */
    content[o] = !offer->is_by_weight ? offer->amount : item->unit == PW_UNIT_EACH ? offer->pieces : pack_kg;
    price[o] = offer->is_by_weight ? offer->price_cents * pack_kg : offer->price_cents;
  }
  if (need <= WHOLE || n_offers == 0)
    return 0;
  pw_packs_cover(content, price, n_offers, need, packs);
  int n = 0;
  double left = need;
  for (int o = 0; o < n_offers; o++) {
    if (packs[o] == 0)
      continue;
    const struct pw_offer *offer = &item->offers[o];
    struct pw_purchase_line *line = &lines[n++];
    *line = (struct pw_purchase_line){.item = item_i,
                                      .offer = o,
                                      .packs = packs[o],
                                      .amount = packs[o] * content[o],
                                      .pieces = offer->is_by_weight ? packs[o] * offer->pieces : 0,
                                      .unit_price_cents = offer->price_cents,
                                      .cost_cents = pw_money_round(packs[o] * price[o])};
    line->need = fmin(left, line->amount);
    left -= line->need;
    date_line(line, is_too_short, a, piece_kg, ev);
  }
  return n;
}

/* ---- the list --------------------------------------------------------------------------------- */

struct sort_key {
  struct pw_purchase_line line;
  const struct pw_item *item;
};

static int by_category_supplier_name(const void *pa, const void *pb)
{
  const struct sort_key *a = pa, *b = pb;
  if (a->item->category != b->item->category)
    return a->item->category < b->item->category ? -1 : 1;
  int c = strcmp(a->item->offers[a->line.offer].supplier, b->item->offers[b->line.offer].supplier);
  if (c == 0)
    c = strcmp(a->item->name, b->item->name);
  if (c == 0)
    c = (a->line.item > b->line.item) - (a->line.item < b->line.item);
  return c ? c : (a->line.offer > b->line.offer) - (a->line.offer < b->line.offer);
}

static bool is_pit_fuel(const struct pw_event *ev, int item)
{
  for (int f = 0; f < ev->n_fuels; f++)
    if (ev->fuels[f].item == item)
      return true;
  return false;
}

static pw_status list_make(struct pw_purchase *out, const struct pw_account *accounts, const struct pw_event *ev,
                           struct pw_ctx *ctx)
{
  int n_max = 0, n = 0;
  for (int i = 0; i < ev->n_items; i++)
    n_max += accounts[i].is_used ? ev->items[i].n_offers : 0;
  struct pw_purchase_line *lines = pw_arena_array(ctx->arena, (size_t)n_max, sizeof *lines);
  struct sort_key *keys = pw_arena_array(ctx->arena, (size_t)n_max, sizeof *keys);
  if (!lines || !keys)
    return PW_ERR_MEMORY;
  for (int i = 0; i < ev->n_items; i++) {
    if (!accounts[i].is_used)
      continue;
    bool is_too_short = false;
    n += buy(lines + n, &is_too_short, i, &accounts[i], ev);
    if (is_too_short)
      pw_diag_add(ctx, PW_WARNING, "keeps-short", NULL, 0, 0,
                  "%s keeps %d h after delivery, too short from its first use to its last: order it in two parts",
                  ev->items[i].name, ev->items[i].keeps_min / 60);
  }
  for (int i = 0; i < n; i++)
    keys[i] = (struct sort_key){lines[i], &ev->items[lines[i].item]};
  if (n > 1)
    qsort(keys, (size_t)n, sizeof *keys, by_category_supplier_name);
  for (int i = 0; i < n; i++) {
    lines[i] = keys[i].line;
    enum pw_category category = keys[i].item->category;
    if (category <= PW_CAT_DRINK)
      out->food_cents += lines[i].cost_cents;
    else if (category != PW_CAT_FUEL || !is_pit_fuel(ev, lines[i].item)) /* pit fuel is costed by the fuel plan */
      out->supplies_cents += lines[i].cost_cents;
  }
  out->lines = lines;
  out->n_lines = n;
  return PW_OK;
}

/* ---- cost of the dishes ------------------------------------------------------------------------- */

/* Portions the purchase serves on the mean: of a pit dish its share of the pieces, else what was asked for. */
static double portions_served(const struct pw_purchase *p, const struct pw_event *ev, const struct pw_demand *demand,
                              int line)
{
  const struct pw_demand_line *d = &demand->lines[line];
  const struct pw_dish *dish = &ev->dishes[d->dish];
  const struct pw_menu_line *menu = pw_demand_menu_line(ev, demand, line);
  double portion = dish->is_by_count ? menu->portion_units : menu->portion_kg;
  double served = dish->is_by_count ? d->need_units : d->need_kg;
  const struct pw_raw_need *raw = dish->cut == PW_NONE ? NULL : pw_ledger_raw(p, d->service, dish->cut);
  if (raw) {
    const struct pw_cut *cut = &ev->cuts[dish->cut];
    double per_piece = dish->is_by_count ? cut->units_per_piece
                                         : cut->piece_kg * cut->trim_frac * cut->cook_frac * dish->carve_frac;
    served = raw->pieces * pw_ledger_share_of_cut(ev, demand, line) * per_piece;
  }
  return portion > 0 ? served / portion : 0;
}

/* Each item's cost is dealt to the menu lines by the amounts they asked for, to the cent. */
static pw_status dish_costs_make(struct pw_purchase *out, const struct pw_account *accounts, const struct pw_event *ev,
                                 const struct pw_demand *demand, struct pw_ctx *ctx)
{
  struct pw_dish_cost *dishes = pw_arena_array(ctx->arena, (size_t)demand->n_lines, sizeof *dishes);
  pw_cents *costs = pw_arena_array(ctx->arena, (size_t)ev->n_items, sizeof *costs);
  if (!dishes || !costs)
    return PW_ERR_MEMORY;
  for (int i = 0; i < out->n_lines; i++)
    if (ev->items[out->lines[i].item].category <= PW_CAT_DRINK)
      costs[out->lines[i].item] += out->lines[i].cost_cents;
  for (int i = 0; i < ev->n_items; i++) {
    double so_far = 0;
    pw_cents dealt = 0;
    for (int k = 0; k < demand->n_lines && costs[i] != 0; k++) {
      so_far += accounts[i].parts[k];
      pw_cents upto = pw_money_round((double)costs[i] * fmin(1, so_far / accounts[i].amount));
      dishes[k].food_cents += upto - dealt;
      dealt = upto;
    }
    out->shared_food_cents += costs[i] - dealt;
  }
  for (int k = 0; k < demand->n_lines; k++) {
    double cover = demand->lines[k].cover_frac;
    dishes[k].portions = portions_served(out, ev, demand, k);
    dishes[k].portion_cents = dishes[k].portions > 0 ? (double)dishes[k].food_cents / dishes[k].portions : 0;
    dishes[k].short_cents = cover < 1 ? dishes[k].portion_cents * cover / (1 - cover) : 0;
  }
  out->dishes = dishes;
  return PW_OK;
}

pw_status pw_purchase_make(struct pw_purchase *out, const struct pw_event *ev, const struct pw_demand *demand,
                           struct pw_ctx *ctx)
{
  *out = (struct pw_purchase){0};
  struct pw_purchase purchase = {0};
  struct pw_account *accounts = NULL;
  pw_status status = pw_pieces_make(&purchase, ev, demand, ctx);
  if (status == PW_OK)
    status = pw_ledger_make(&accounts, ev, demand, &purchase, ctx);
  if (status == PW_OK)
    status = list_make(&purchase, accounts, ev, ctx);
  if (status == PW_OK)
    status = dish_costs_make(&purchase, accounts, ev, demand, ctx);
  if (status == PW_OK)
    *out = purchase;
  return status;
}
