/* purchase.c - demand -> raw needs, then one purchase list for the event [P1]-[P3].
 *
 * Every source of a need (whole pieces of a cut; what a dish, a cut or the event uses per portion, guest, piece,
 * raw kilogram, service or event) is added to one account per item; packs are chosen and rounded up once, at
 * the end.  Then dates, backwards: prep is assumed at noon of the day before a service; frozen pieces are moved
 * to the refrigerator in whole days before that; goods arrive a day earlier unless they would not keep. */
#include "base/clock.h"
#include "base/diag.h"
#include "base/money.h"
#include "plan/demand.h"
#include "plan/packs.h"
#include "plan/pieces.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DAY_MIN = 24 * 60, PREP_AT_MIN = 12 * 60 };

#define THAW_KG_PER_DAY 2.26796185 /* 24 h in the refrigerator per 5 lb: USDA FSIS, "The Big Thaw" (2013) */
#define WHOLE 1e-9

struct account {
  double amount;   /* item units, apart from the whole pieces */
  int pieces;      /* whole pieces of cuts */
  double pieces_kg;
  bool is_used;
  int prep_at_min; /* first use: noon before the first service that needs it */
  int last_at_min; /* last use: raw meat the last noon, other goods the last service's begin */
  int first_service_at_min;
};

struct ledger {
  const struct pw_event *ev;
  const struct pw_demand *demand;
  struct account *accounts; /* per item */
};

/* Noon of the day before the service, on the wall clock. */
static int prep_at(const struct pw_event *ev, const struct pw_service *service)
{
  int at_min = (service->day - 1) * DAY_MIN + PREP_AT_MIN;
  if (ev->clock) /* no zone changes its clocks at noon */
    pw_clock_at_min(ev->clock, pw_date_from_days(pw_date_to_days(ev->date) + service->day - 1), PREP_AT_MIN / 60, 0,
                    &at_min);
  return at_min;
}

/* The item of account `item` is needed by `service` (PW_NONE: by all of them). */
static void touch(struct ledger *l, int item, int service)
{
  if (service == PW_NONE) {
    for (int s = 0; s < l->ev->n_services; s++)
      touch(l, item, s);
    return;
  }
  struct account *a = &l->accounts[item];
  const struct pw_service *s = &l->ev->services[service];
  int prep = prep_at(l->ev, s), last = l->ev->items[item].category == PW_CAT_MEAT ? prep : s->at_min;
  if (!a->is_used || prep < a->prep_at_min)
    a->prep_at_min = prep;
  if (!a->is_used || last > a->last_at_min)
    a->last_at_min = last;
  if (!a->is_used || s->at_min < a->first_service_at_min)
    a->first_service_at_min = s->at_min;
  a->is_used = true;
}

static void add(struct ledger *l, const struct pw_use *use, double times, int service)
{
  if (!(use->amount > 0) || !(times > 0))
    return;
  l->accounts[use->item].amount += use->amount * times;
  touch(l, use->item, service);
}

static int guests_of(const struct pw_event *ev, int service)
{
  int guests = 0;
  for (int c = 0; c < ev->n_classes; c++)
    guests += ev->services[service].guests[c];
  return guests;
}

/* Portions of a line that `item` goes with: a thing counted is taken whole by each taker, what is weighed or
 * poured follows the appetite and the dish's own need. */
static double portions_for(const struct ledger *l, int line, int item)
{
  const struct pw_demand_line *d = &l->demand->lines[line];
  const struct pw_dish *dish = &l->ev->dishes[d->dish];
  if (l->ev->items[item].unit == PW_UNIT_EACH)
    return ceil(d->portions_cover * (1 + dish->reserve_frac) - WHOLE);
  const struct pw_menu_line *menu = pw_demand_menu_line(l->ev, l->demand, line);
  double per_portion = dish->is_by_count ? menu->portion_units : menu->portion_kg;
  return per_portion > 0 ? (dish->is_by_count ? d->need_units : d->need_kg) / per_portion : 0;
}

/* What a line counts in of its cut: served kilograms, by count in kilograms of units. */
static double weight_in_cut(const struct pw_event *ev, const struct pw_demand_line *line)
{
  const struct pw_dish *dish = &ev->dishes[line->dish];
  const struct pw_cut *cut = &ev->cuts[dish->cut];
  double unit_kg = cut->piece_kg * cut->trim_frac * cut->cook_frac / cut->units_per_piece;
  return dish->is_by_count ? line->mean_units * unit_kg : line->mean_kg / dish->carve_frac;
}

/* This line's share of the pieces of its cut in its service. */
static double share_of_cut(const struct ledger *l, int line)
{
  const struct pw_demand_line *mine = &l->demand->lines[line];
  double all = 0;
  for (int i = 0; i < l->demand->n_lines; i++) {
    const struct pw_demand_line *d = &l->demand->lines[i];
    if (d->service == mine->service && l->ev->dishes[d->dish].cut == l->ev->dishes[mine->dish].cut)
      all += weight_in_cut(l->ev, d);
  }
  return all > 0 ? weight_in_cut(l->ev, mine) / all : 0;
}

static const struct pw_raw_need *raw_of(const struct pw_purchase *p, int service, int cut)
{
  for (int i = 0; i < p->n_raws; i++)
    if (p->raws[i].service == service && p->raws[i].cut == cut)
      return &p->raws[i];
  return NULL;
}

static bool is_first_line_of_dish(const struct pw_demand *demand, int line)
{
  for (int i = 0; i < line; i++)
    if (demand->lines[i].dish == demand->lines[line].dish)
      return false;
  return true;
}

static void add_dish_uses(struct ledger *l, const struct pw_purchase *p)
{
  const struct pw_event *ev = l->ev;
  for (int i = 0; i < l->demand->n_lines; i++) {
    const struct pw_demand_line *line = &l->demand->lines[i];
    const struct pw_dish *dish = &ev->dishes[line->dish];
    const struct pw_raw_need *raw = dish->cut == PW_NONE ? NULL : raw_of(p, line->service, dish->cut);
    for (int u = 0; u < dish->n_uses; u++) {
      const struct pw_use *use = &dish->uses[u];
      double times = 0;
      switch (use->per) {
      case PW_PER_PORTION: times = portions_for(l, i, use->item); break;
      case PW_PER_GUEST: times = guests_of(ev, line->service); break;
      case PW_PER_PIECE: times = raw ? raw->pieces * share_of_cut(l, i) : 0; break;
      case PW_PER_KG_RAW: times = raw ? raw->raw_mean_kg * share_of_cut(l, i) : 0; break;
      case PW_PER_SERVICE: times = 1; break;
      case PW_PER_EVENT: times = is_first_line_of_dish(l->demand, i) ? 1 : 0; break;
      }
      add(l, use, times, line->service);
    }
  }
}

static bool is_first_raw_of_cut(const struct pw_purchase *p, int raw)
{
  for (int i = 0; i < raw; i++)
    if (p->raws[i].cut == p->raws[raw].cut)
      return false;
  return true;
}

static void add_cuts(struct ledger *l, const struct pw_purchase *p)
{
  const struct pw_event *ev = l->ev;
  for (int r = 0; r < p->n_raws; r++) {
    const struct pw_raw_need *raw = &p->raws[r];
    const struct pw_cut *cut = &ev->cuts[raw->cut];
    if (cut->item != PW_NONE) {
      l->accounts[cut->item].pieces += raw->pieces;
      l->accounts[cut->item].pieces_kg += raw->raw_mean_kg;
      touch(l, cut->item, raw->service);
    }
    for (int u = 0; u < cut->n_uses; u++) {
      const struct pw_use *use = &cut->uses[u];
      double times = 0;
      switch (use->per) {
      case PW_PER_PORTION:
        for (int i = 0; i < l->demand->n_lines; i++)
          if (l->demand->lines[i].service == raw->service && ev->dishes[l->demand->lines[i].dish].cut == raw->cut)
            times += portions_for(l, i, use->item);
        break;
      case PW_PER_GUEST: times = guests_of(ev, raw->service); break;
      case PW_PER_PIECE: times = raw->pieces; break;
      case PW_PER_KG_RAW: times = raw->raw_mean_kg; break;
      case PW_PER_SERVICE: times = 1; break;
      case PW_PER_EVENT: times = is_first_raw_of_cut(p, r) ? 1 : 0; break;
      }
      add(l, use, times, raw->service);
    }
  }
}

static void add_event_uses(struct ledger *l, const struct pw_purchase *p)
{
  const struct pw_event *ev = l->ev;
  for (int u = 0; u < ev->n_uses; u++) {
    const struct pw_use *use = &ev->uses[u];
    if (use->per == PW_PER_EVENT) {
      add(l, use, 1, PW_NONE);
      continue;
    }
    for (int s = 0; s < ev->n_services; s++) {
      double times = 0;
      if (use->per == PW_PER_GUEST)
        times = guests_of(ev, s);
      else if (use->per == PW_PER_SERVICE)
        times = 1;
      else if (use->per == PW_PER_PORTION) {
        for (int i = 0; i < l->demand->n_lines; i++)
          times += l->demand->lines[i].service == s ? portions_for(l, i, use->item) : 0;
      } else {
        for (int r = 0; r < p->n_raws; r++)
          if (p->raws[r].service == s)
            times += use->per == PW_PER_PIECE ? p->raws[r].pieces : p->raws[r].raw_mean_kg;
      }
      add(l, use, times, s);
    }
  }
}

/* ---- dates ------------------------------------------------------------------------------------ */

/* Delivery a day before the first use, later when the goods would not keep until the last one. */
static void date_line(struct pw_purchase_line *line, bool *is_too_short, const struct account *a, double piece_kg,
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
static int buy(struct pw_purchase_line *lines, bool *is_too_short, int item_i, const struct account *a,
               const struct pw_event *ev)
{
  const struct pw_item *item = &ev->items[item_i];
  double piece_kg = a->pieces > 0 ? a->pieces_kg / a->pieces : item->piece_kg;
  double need = a->amount + (item->unit == PW_UNIT_EACH ? a->pieces : a->pieces_kg);
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

static pw_status list_make(struct pw_purchase *out, const struct ledger *l, struct pw_ctx *ctx)
{
  const struct pw_event *ev = l->ev;
  int n_max = 0, n = 0;
  for (int i = 0; i < ev->n_items; i++)
    n_max += l->accounts[i].is_used ? ev->items[i].n_offers : 0;
  struct pw_purchase_line *lines = pw_arena_array(ctx->arena, (size_t)n_max, sizeof *lines);
  struct sort_key *keys = pw_arena_array(ctx->arena, (size_t)n_max, sizeof *keys);
  if (!lines || !keys)
    return PW_ERR_MEMORY;
  for (int i = 0; i < ev->n_items; i++) {
    if (!l->accounts[i].is_used)
      continue;
    bool is_too_short = false;
    n += buy(lines + n, &is_too_short, i, &l->accounts[i], ev);
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

pw_status pw_purchase_make(struct pw_purchase *out, const struct pw_event *ev, const struct pw_demand *demand,
                           struct pw_ctx *ctx)
{
  *out = (struct pw_purchase){0};
  struct pw_purchase purchase = {0};
  struct ledger l = {ev, demand, pw_arena_array(ctx->arena, (size_t)ev->n_items, sizeof(struct account))};
  if (!l.accounts)
    return PW_ERR_MEMORY;
  pw_status status = pw_pieces_make(&purchase, ev, demand, ctx);
  if (status)
    return status;
  add_cuts(&l, &purchase);
  add_dish_uses(&l, &purchase);
  add_event_uses(&l, &purchase);
  status = list_make(&purchase, &l, ctx);
  if (status)
    return status;
  *out = purchase;
  return PW_OK;
}
