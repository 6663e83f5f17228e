/* purchase.c - demand -> whole pieces [P1][P2] -> one account per item -> one purchase list for the event [P3].
 *
 * Suppliers and packs are chosen for all items at once and rounded up once, at the end.  Offers of a supplier who
 * does not come on a day that would do are left out where others sell the same.  Last, the cost of the food is dealt
 * out to the dishes. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/money.h"
#include "plan/buy/delivery.h"
#include "plan/buy/ledger.h"
#include "plan/buy/packs.h"
#include "plan/buy/pieces.h"
#include "plan/buy/salt.h"
#include "plan/buy/suppliers.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define WHOLE 1e-9 /* an amount below this is nothing */

/* ---- offers ------------------------------------------------------------------------------------- */

/* One item with the offers that can be used. */
struct basket {
  int item, n_offers;
  double piece_kg, carry; /* carry: worth of a unit in a whole pack left for the next job */
  int offer[PW_PACKS_MAX];
  double content[PW_PACKS_MAX], price[PW_PACKS_MAX];
  int supplier[PW_PACKS_MAX]; /* index into the event's suppliers, or PW_NONE */
  int packs[PW_PACKS_MAX];
  struct pw_delivery delivery[PW_PACKS_MAX];
};

static int supplier_of(const struct pw_event *ev, const struct pw_offer *offer)
{
  for (int s = 0; s < ev->n_suppliers; s++)
    if (strcmp(ev->suppliers[s].name, offer->supplier) == 0)
      return s;
  return PW_NONE;
}

static void basket_fill(struct basket *b, int item_i, const struct pw_account *a, const struct pw_event *ev)
{
  const struct pw_item *item = &ev->items[item_i];
  *b = (struct basket){.item = item_i, .piece_kg = a->pieces > 0 ? a->pieces_kg / a->pieces : item->piece_kg};
  for (int round = 0; round < 2 && b->n_offers == 0; round++) /* the second takes offers that come on no good day */
    for (int o = 0; o < item->n_offers && b->n_offers < PW_PACKS_MAX; o++) {
      const struct pw_offer *offer = &item->offers[o];
      int n = b->n_offers, supplier = supplier_of(ev, offer);
      b->delivery[n] =
          pw_delivery_make(ev, item_i, a, b->piece_kg, supplier == PW_NONE ? 0 : ev->suppliers[supplier].days);
      if (b->delivery[n].has_no_day && round == 0)
        continue;
      double pack_kg = offer->pieces * (b->piece_kg > 0 ? b->piece_kg : 1); /* loose goods: a "piece" is a kilogram */
      b->offer[n] = o;
      b->content[n] = !offer->is_by_weight ? offer->amount : item->unit == PW_UNIT_EACH ? offer->pieces : pack_kg;
      b->price[n] = offer->is_by_weight ? offer->price_cents * pack_kg : offer->price_cents;
      b->supplier[n] = supplier;
      b->n_offers++;
    }
}

/* Worth of a unit that is left: a share of the cheapest unit price, where all its packs keep until the next job. */
static double carry_of(const struct basket *b, const struct pw_event *ev)
{
  double cheapest = INFINITY;
  if (ev->terms.next_job_days <= 0)
    return 0;
  for (int o = 0; o < b->n_offers; o++) {
    const struct pw_delivery *d = &b->delivery[o];
    if (d->thaw_from_at_min != INT_MIN ||
        d->deliver_at_min + ev->items[b->item].keeps_min < ev->terms.next_job_days * 24 * 60)
      return 0;
    cheapest = fmin(cheapest, b->price[o] / b->content[o]);
  }
  return b->n_offers > 0 ? fmin(ev->terms.carry_frac, 0.95) * cheapest : 0;
}

/* Cheapest cover of the need without the offers of one supplier (by name), goods alone; -1: nobody else sells it. */
static pw_cents cost_elsewhere(const struct basket *b, double need, const char *supplier, const struct pw_item *item)
{
  double content[PW_PACKS_MAX], price[PW_PACKS_MAX];
  int packs[PW_PACKS_MAX], n = 0;
  for (int o = 0; o < b->n_offers; o++)
    if (strcmp(item->offers[b->offer[o]].supplier, supplier) != 0) {
      content[n] = b->content[o];
      price[n++] = b->price[o];
    }
  return n > 0 ? pw_money_round(pw_packs_cover(content, price, n, need, packs)) : -1;
}

/* ---- the list --------------------------------------------------------------------------------- */

/* Lines of one item from the packs chosen; returns how many. */
static int lines_fill(struct pw_purchase_line *lines, const struct basket *b, double need, const struct pw_event *ev)
{
  const struct pw_item *item = &ev->items[b->item];
  int n = 0, unopened[PW_PACKS_MAX];
  double left = need;
  pw_packs_unopened(b->content, b->packs, b->n_offers, need, unopened);
  for (int o = 0; o < b->n_offers; o++) {
    if (b->packs[o] == 0)
      continue;
    const struct pw_offer *offer = &item->offers[b->offer[o]];
    struct pw_purchase_line *line = &lines[n++];
    *line = (struct pw_purchase_line){.item = b->item,
                                      .offer = b->offer[o],
                                      .packs = b->packs[o],
                                      .amount = b->packs[o] * b->content[o],
                                      .pieces = offer->is_by_weight ? b->packs[o] * offer->pieces : 0,
                                      .unit_price_cents = offer->price_cents,
                                      .cost_cents = pw_money_round(b->packs[o] * b->price[o]),
                                      .order_by_at_min = b->delivery[o].order_by_at_min,
                                      .deliver_at_min = b->delivery[o].deliver_at_min,
                                      .thaw_from_at_min = b->delivery[o].thaw_from_at_min};
    line->need = fmin(left, line->amount - unopened[o] * b->content[o]);
    left -= line->need;
  }
  return n;
}

static void warn(const struct basket *b, const struct pw_event *ev, struct pw_ctx *ctx)
{
  const struct pw_item *item = &ev->items[b->item];
  for (int o = 0; o < b->n_offers; o++) {
    if (b->packs[o] == 0 || !(b->delivery[o].is_too_short || b->delivery[o].has_no_day))
      continue;
    if (b->delivery[o].is_too_short)
      pw_diag_add(ctx, PW_WARNING, "keeps-short", NULL, 0, 0,
                  "%s keeps %d h after delivery, too short from its first use to its last: order it in two parts",
                  item->name, item->keeps_min / 60);
    else
      pw_diag_add(ctx, PW_WARNING, "no-delivery-day", NULL, 0, 0,
                  "%s: %s does not deliver on a day that keeps it fresh for its use: fetch it or buy it elsewhere",
                  item->name, item->offers[b->offer[o]].supplier);
    return;
  }
}

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

static pw_status lines_sort(struct pw_purchase *out, const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct sort_key *keys = pw_arena_array(ctx->arena, (size_t)out->n_lines, sizeof *keys);
  if (!keys)
    return PW_ERR_MEMORY;
  for (int i = 0; i < out->n_lines; i++)
    keys[i] = (struct sort_key){out->lines[i], &ev->items[out->lines[i].item]};
  if (out->n_lines > 1)
    qsort(keys, (size_t)out->n_lines, sizeof *keys, by_category_supplier_name);
  for (int i = 0; i < out->n_lines; i++)
    out->lines[i] = keys[i].line;
  return PW_OK;
}

/* Which packs of all baskets: the cheapest together. */
static pw_status packs_choose(struct pw_suppliers_choice *choice, struct basket *baskets, int n,
                              const struct pw_account *accounts, const struct pw_event *ev, struct pw_ctx *ctx)
{
  if (ev->n_suppliers > PW_SUPPLIERS_MAX) {
    pw_diag_add(ctx, PW_ERROR, "too-many-suppliers", ev->file, 0, 0, "%d suppliers with terms of their own; at most %d",
                ev->n_suppliers, PW_SUPPLIERS_MAX);
    return PW_ERR_INPUT;
  }
  struct pw_suppliers_need *needs = pw_arena_array(ctx->arena, (size_t)n, sizeof *needs);
  struct pw_suppliers_terms terms[PW_SUPPLIERS_MAX];
  if (!needs)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    struct basket *b = &baskets[i];
    needs[i] = (struct pw_suppliers_need){
        accounts[b->item].amount, b->n_offers, b->content, b->price, b->supplier, b->packs, b->carry};
  }
  for (int s = 0; s < ev->n_suppliers; s++)
    terms[s] =
        (struct pw_suppliers_terms){(double)ev->suppliers[s].delivery_cents, (double)ev->suppliers[s].minimum_cents};
  return pw_suppliers_choose(choice, needs, n, terms, ev->n_suppliers, ctx);
}

/* What all baskets cost without the offers of one supplier, by name; -1 when something is then sold by nobody. */
static pw_status cost_without(pw_cents *out, const char *supplier, const struct basket *baskets, int n,
                              const struct pw_account *accounts, const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct basket *left = pw_arena_array(ctx->arena, (size_t)n, sizeof *left);
  struct pw_suppliers_choice choice;
  *out = -1;
  if (!left)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    const struct basket *b = &baskets[i];
    left[i] = (struct basket){.item = b->item, .piece_kg = b->piece_kg, .carry = b->carry};
    for (int o = 0; o < b->n_offers; o++) {
      int k = left[i].n_offers;
      if (strcmp(ev->items[b->item].offers[b->offer[o]].supplier, supplier) == 0)
        continue;
      left[i].offer[k] = b->offer[o];
      left[i].content[k] = b->content[o];
      left[i].price[k] = b->price[o];
      left[i].supplier[k] = b->supplier[o];
      left[i].n_offers++;
    }
    if (left[i].n_offers == 0)
      return PW_OK;
  }
  pw_status status = packs_choose(&choice, left, n, accounts, ev, ctx);
  if (!status)
    *out = pw_money_round(choice.cost);
  return status;
}

/* One order per supplier, by name; its fee and what is paid to reach its least order. */
static pw_status orders_make(struct pw_purchase *out, const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct pw_order *orders = pw_arena_array(ctx->arena, (size_t)out->n_lines, sizeof *orders);
  if (!orders)
    return PW_ERR_MEMORY;
  int n = 0;
  for (int i = 0; i < out->n_lines; i++) {
    const struct pw_purchase_line *line = &out->lines[i];
    const struct pw_offer *offer = &ev->items[line->item].offers[line->offer];
    int at = 0;
    while (at < n && strcmp(orders[at].supplier, offer->supplier) < 0)
      at++;
    if (at == n || strcmp(orders[at].supplier, offer->supplier) != 0) {
      memmove(orders + at + 1, orders + at, (size_t)(n - at) * sizeof *orders);
      orders[at] = (struct pw_order){.supplier = offer->supplier, .without_cents = -1};
      n++;
    }
    orders[at].n_lines++;
    orders[at].goods_cents += line->cost_cents;
  }
  for (int i = 0; i < n; i++)
    for (int s = 0; s < ev->n_suppliers; s++)
      if (strcmp(ev->suppliers[s].name, orders[i].supplier) == 0) {
        orders[i].delivery_cents = ev->suppliers[s].delivery_cents;
        orders[i].least_cents = ev->suppliers[s].minimum_cents;
        if (orders[i].goods_cents < ev->suppliers[s].minimum_cents)
          orders[i].top_up_cents = ev->suppliers[s].minimum_cents - orders[i].goods_cents;
        out->delivery_cents += orders[i].delivery_cents + orders[i].top_up_cents;
        break;
      }
  out->orders = orders;
  out->n_orders = n;
  return PW_OK;
}

/* One basket for each item that is bought. */
static pw_status baskets_make(struct basket **out, int *n_out, const struct pw_account *accounts,
                              const struct pw_event *ev, struct pw_ctx *ctx)
{
  int n = 0;
  struct basket *baskets = pw_arena_array(ctx->arena, (size_t)ev->n_items, sizeof *baskets);
  if (!baskets)
    return PW_ERR_MEMORY;
  for (int i = 0; i < ev->n_items; i++)
    if (accounts[i].is_used && accounts[i].amount > WHOLE && ev->items[i].n_offers > 0) {
      basket_fill(&baskets[n], i, &accounts[i], ev);
      baskets[n].carry = carry_of(&baskets[n], ev);
      n++;
    }
  *out = baskets;
  *n_out = n;
  return PW_OK;
}

static pw_status list_make(struct pw_purchase *out, const struct pw_account *accounts, const struct pw_event *ev,
                           struct pw_ctx *ctx)
{
  int n_max = 0, n = 0;
  struct basket *baskets = NULL;
  struct pw_suppliers_choice choice;
  pw_status status = baskets_make(&baskets, &n, accounts, ev, ctx);
  if (status == PW_OK)
    status = packs_choose(&choice, baskets, n, accounts, ev, ctx);
  if (status)
    return status;
  for (int i = 0; i < n; i++)
    n_max += baskets[i].n_offers;
  out->lines = pw_arena_array(ctx->arena, (size_t)n_max, sizeof *out->lines);
  if (!out->lines)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    out->n_lines += lines_fill(out->lines + out->n_lines, &baskets[i], accounts[baskets[i].item].amount, ev);
    warn(&baskets[i], ev, ctx);
  }
  status = lines_sort(out, ev, ctx);
  if (status)
    return status;
  out->elsewhere_cents = pw_arena_array(ctx->arena, (size_t)out->n_lines, sizeof *out->elsewhere_cents);
  out->carry_cents = pw_arena_array(ctx->arena, (size_t)out->n_lines, sizeof *out->carry_cents);
  if (!out->elsewhere_cents || !out->carry_cents)
    return PW_ERR_MEMORY;
  for (int i = 0; i < out->n_lines; i++) {
    const struct pw_purchase_line *line = &out->lines[i];
    const struct pw_item *item = &ev->items[line->item];
    int at = 0;
    while (baskets[at].item != line->item)
      at++;
    out->elsewhere_cents[i] =
        cost_elsewhere(&baskets[at], accounts[line->item].amount, item->offers[line->offer].supplier, item);
  }
  for (int i = 0; i < out->n_lines; i++) {
    int at = 0;
    while (baskets[at].item != out->lines[i].item)
      at++;
    const struct basket *b = &baskets[at];
    int unopened[PW_PACKS_MAX], o = 0;
    pw_packs_unopened(b->content, b->packs, b->n_offers, accounts[b->item].amount, unopened);
    while (b->offer[o] != out->lines[i].offer)
      o++;
    out->carry_cents[i] = pw_money_round(b->carry * unopened[o] * b->content[o]);
    out->carried_cents += out->carry_cents[i];
  }
  status = orders_make(out, ev, ctx);
  out->list_cents = choice.cost;
  return status;
}

pw_status pw_purchase_without(struct pw_purchase *purchase, const struct pw_event *ev, const struct pw_demand *demand,
                              struct pw_ctx *ctx)
{
  struct pw_account *accounts = NULL;
  struct basket *baskets = NULL;
  int n = 0;
  pw_status status = pw_ledger_make(&accounts, ev, demand, purchase, ctx);
  if (status == PW_OK)
    status = baskets_make(&baskets, &n, accounts, ev, ctx);
  for (int i = 0; i < purchase->n_orders && status == PW_OK; i++) {
    struct pw_order *order = &purchase->orders[i];
    pw_cents without = -1;
    status = cost_without(&without, order->supplier, baskets, n, accounts, ev, ctx);
    order->without_cents = without < 0 ? -1 : without - pw_money_round(purchase->list_cents);
    if (without >= 0 && order->without_cents < 0) /* both are within their bounds' hair of the best */
      order->without_cents = 0;
  }
  return status;
}

static pw_status mixes_make(struct pw_purchase *out, const struct pw_account *accounts, const struct pw_event *ev,
                            struct pw_ctx *ctx)
{
  out->mixes = pw_arena_array(ctx->arena, (size_t)ev->n_items, sizeof *out->mixes);
  if (!out->mixes)
    return PW_ERR_MEMORY;
  for (int i = 0; i < ev->n_items; i++)
    if (accounts[i].is_used && accounts[i].amount > WHOLE && ev->items[i].n_parts > 0)
      out->mixes[out->n_mixes++] = (struct pw_mix){i, accounts[i].amount};
  return PW_OK;
}

static void sums_fill(struct pw_purchase *out, const struct pw_event *ev)
{
  out->supplies_cents = out->delivery_cents;
  for (int i = 0; i < out->n_lines; i++) {
    enum pw_category category = ev->items[out->lines[i].item].category;
    if (category <= PW_CAT_DRINK)
      out->food_cents += out->lines[i].cost_cents;
    else if (!pw_is_pit_fuel(ev, out->lines[i].item)) /* pit fuel is costed by the fuel plan */
      out->supplies_cents += out->lines[i].cost_cents;
  }
}

/* ---- cost of the dishes ------------------------------------------------------------------------- */

/* Portions the purchase serves on the mean: of a pit dish its share of the pieces, else what was asked for. */
static double portions_served(const struct pw_purchase *p, const struct pw_event *ev, const struct pw_demand *demand,
                              int line)
{
  const struct pw_demand_line *d = &demand->lines[line];
  const struct pw_dish *dish = &ev->dishes[d->dish];
  double portion = demand->laws[line].portion;
  double served = dish->is_by_count ? d->need_units : d->need_kg;
  const struct pw_raw_need *raw = dish->cut == PW_NONE ? NULL : pw_ledger_raw(p, d->service, dish->cut);
  if (raw) {
    const struct pw_cut *cut = &ev->cuts[dish->cut];
    double per_piece =
        dish->is_by_count ? cut->units_per_piece : cut->piece_kg * cut->trim_frac * cut->cook_frac * dish->carve_frac;
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
    status = mixes_make(&purchase, accounts, ev, ctx);
  if (status == PW_OK)
    sums_fill(&purchase, ev);
  if (status == PW_OK)
    status = dish_costs_make(&purchase, accounts, ev, demand, ctx);
  if (status == PW_OK) {
    pw_salt_check(ev, &purchase, ctx);
    *out = purchase;
  }
  return status;
}
