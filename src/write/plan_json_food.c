/* plan_json_food.c - of the plan file: demand by dish, raw needs, what is bought where, mixes, orders. */
#include "write/plan_json_parts.h"

#include "plan/buy/ledger.h"
#include "plan/buy/packs.h"
#include "plan/demand/demand.h"
#include "plan/demand/meat.h"
#include "sheet/words.h"

#include <limits.h>

enum { PERISHABLE_MIN = 60 * 24 * 60 }; /* what keeps longer than two months is not dated */

const char *pw_plan_json_date(struct pw_plan_json *w, struct pw_date d)
{
  const char *text = pw_arena_printf(w->ctx->arena, "%04d-%02d-%02d", d.year, d.month, d.day);
  if (!text)
    w->out.buf.failed = true;
  return text;
}

/* How one of each class takes a line, where they differ; nothing of who may not, or is not there. */
static void guest_classes(struct pw_plan_json *w, int line)
{
  struct pw_json_out *o = &w->out;
  pw_json_object(o, "by_class");
  for (int c = 0; c < w->ev->n_classes; c++) {
    static const struct pw_law none;
    const struct pw_demand_line *l = &w->plan->demand.lines[line];
    const struct pw_guest_class *class = &w->ev->classes[c];
    bool may_take = class->appetite_frac > 0 && (class->eats_meat || !pw_demand_is_meat(w->ev, l->dish)) &&
                    w->ev->services[l->service].guests[c] > 0;
    const struct pw_law *law = may_take ? pw_demand_law(&w->plan->demand, w->ev, line, c) : &none;
    pw_json_object(o, class->id);
    pw_json_real(o, "take_frac", law->take_frac);
    pw_json_real(o, "portion", law->portion);
    pw_json_real(o, "mean", law->mean);
    pw_json_real(o, "square", law->square);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* What the number of pieces rests on, so that a reader can work it out again. */
static void raw_law(struct pw_plan_json *w, const struct pw_raw_need *raw)
{
  struct pw_json_out *o = &w->out;
  const struct pw_cut *cut = &w->ev->cuts[raw->cut];
  const struct pw_piece_law *law = &raw->law;
  if (!(law->cook_frac > 0))
    return; /* a plan put together by hand */
  pw_json_text(o, "item", cut->item == PW_NONE ? NULL : w->ev->items[cut->item].id);
  pw_json_bool(o, "smoked", cut->smoke.is_used);
  pw_json_real(o, "raw_piece_kg", cut->piece_kg);
  pw_json_real(o, "trim_frac", cut->trim_frac);
  pw_json_real(o, "cook_frac", law->cook_frac);
  pw_json_real(o, "carve_frac", law->carve_frac);
  pw_json_real(o, "cover", law->cover_frac);
  if (law->need_units > 0) {
    pw_json_real(o, "need_units", law->need_units);
    pw_json_real(o, "units_per_piece", cut->units_per_piece);
    return;
  }
  pw_json_real(o, "want_kg", law->want_kg);
  pw_json_real(o, "want_sd_kg", law->want_sd_kg);
  pw_json_real(o, "ask_kg", law->ask_kg);
  pw_json_real(o, "ask_sd_kg", law->ask_sd_kg);
  pw_json_real(o, "least_kg", law->least_kg);
  pw_json_real(o, "served_piece_kg", law->piece_kg);
  pw_json_real(o, "served_piece_sd_kg", law->piece_sd_kg);
}

void pw_plan_json_demand(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_demand *d = &w->plan->demand;
  pw_json_array(o, "demand");
  for (int i = 0; i < d->n_lines; i++) {
    const struct pw_demand_line *line = &d->lines[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "dish", w->ev->dishes[line->dish].id);
    pw_json_text(o, "service", w->ev->services[line->service].id);
    pw_json_real(o, "mean_kg", line->mean_kg);
    pw_json_real(o, "sd_kg", line->sd_kg);
    pw_json_real(o, "cover", line->cover_frac);
    pw_json_real(o, "need_kg", line->need_kg);
    pw_json_real(o, "mean_units", line->mean_units);
    pw_json_real(o, "sd_units", line->sd_units);
    pw_json_real(o, "need_units", line->need_units);
    pw_json_int(o, "portions", line->portions);
    pw_json_int(o, "portions_cover", line->portions_cover);
    const struct pw_dish *dish = &w->ev->dishes[line->dish];
    pw_json_text(o, "cut", dish->cut == PW_NONE ? NULL : w->ev->cuts[dish->cut].id);
    pw_json_bool(o, "by_count", dish->is_by_count);
    pw_json_bool(o, "meat", dish->cut != PW_NONE && w->ev->cuts[dish->cut].kind != PW_KIND_PLANT);
    pw_json_real(o, "reserve_frac", dish->reserve_frac);
    if (d->laws) {
      const struct pw_law *law = &d->laws[i];
      pw_json_object(o, "guest"); /* how one guest of full appetite takes it */
      pw_json_real(o, "take_frac", law->take_frac);
      pw_json_real(o, "portion", law->portion);
      pw_json_real(o, "again_frac", law->again_frac);
      pw_json_real(o, "mean", law->mean);
      pw_json_real(o, "square", law->square);
      pw_json_bool(o, "spread", law->has_spread);
      if (dish->is_by_count && pw_demand_is_meat(w->ev, line->dish))
        pw_json_real(o, "unit_kg", pw_meat_unit_kg(w->ev, dish));
      if (d->class_laws)
        guest_classes(w, i);
      pw_json_end(o);
    }
    if (dish->cut == PW_NONE && dish->pan_portions > 0) {
      pw_json_real(o, "pan_portions", dish->pan_portions);
      pw_json_bool(o, "hot", dish->held == PW_HELD_HOT);
    }
    if (pw_words_time_control(w->plan, &d->lines[i]))
      pw_json_bool(o, "time_control", true);
    pw_json_end(o);
  }
  pw_json_end(o);
  const struct pw_purchase *p = &w->plan->purchase;
  pw_json_array(o, "raw_needs");
  for (int i = 0; i < p->n_raws; i++) {
    const struct pw_raw_need *raw = &p->raws[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "cut", w->ev->cuts[raw->cut].id);
    pw_json_text(o, "service", w->ev->services[raw->service].id);
    pw_json_real(o, "need_kg", raw->need_kg);
    pw_json_int(o, "pieces", raw->pieces);
    pw_json_real(o, "raw_mean_kg", raw->raw_mean_kg);
    pw_json_real(o, "yield_frac", raw->yield_frac);
    pw_json_real(o, "leftover_kg", raw->leftover_kg);
    pw_json_real(o, "runout_frac", raw->runout_frac);
    raw_law(w, raw);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* What is needed of every item, by the dish it is for; what no dish asked for is the event's own. */
static void write_needs(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  static const char *const stores[] = {"dry", "chilled", "frozen"};
  const struct pw_demand *d = &w->plan->demand;
  struct pw_account *accounts = NULL;
  if (!d->laws || !d->cov)
    return; /* a plan put together by hand */
  if (pw_ledger_make(&accounts, w->ev, d, &w->plan->purchase, w->ctx) != PW_OK) {
    o->buf.failed = true;
    return;
  }
  pw_json_array(o, "needs");
  for (int i = 0; i < w->ev->n_items; i++) {
    const struct pw_account *a = &accounts[i];
    if (!a->is_used || !(a->amount > 1e-9))
      continue;
    pw_json_object(o, NULL);
    pw_json_text(o, "item", w->ev->items[i].id);
    pw_json_text(o, "store", stores[w->ev->items[i].store]);
    pw_json_real(o, "amount", a->amount);
    pw_json_int(o, "pieces", a->pieces);
    pw_json_int(o, "prep_min", a->prep_at_min);
    pw_json_int(o, "last_min", a->last_at_min);
    pw_json_array(o, "for");
    for (int k = 0; k <= d->n_lines; k++) {
      if (!(a->parts[k] > 0))
        continue;
      const struct pw_demand_line *line = k < d->n_lines ? &d->lines[k] : NULL;
      pw_json_object(o, NULL);
      pw_json_text(o, "dish", line ? w->ev->dishes[line->dish].id : NULL);
      pw_json_text(o, "service", line ? w->ev->services[line->service].id : NULL);
      pw_json_real(o, "amount", a->parts[k]);
      pw_json_end(o);
    }
    pw_json_end(o);
    pw_json_end(o);
  }
  pw_json_end(o);
}

void pw_plan_json_purchases(struct pw_plan_json *w)
{
  write_needs(w);
  static const char *const units[] = {"kg", "L", "each"};
  static const char *const categories[PW_CAT__COUNT] = {"meat",  "side",       "bread",  "sauce", "seasoning",
                                                        "drink", "disposable", "supply", "fuel"};
  struct pw_json_out *o = &w->out;
  const struct pw_purchase *p = &w->plan->purchase;
  pw_json_array(o, "purchases");
  for (int i = 0; i < p->n_lines; i++) {
    const struct pw_purchase_line *line = &p->lines[i];
    const struct pw_item *item = &w->ev->items[line->item];
    const struct pw_offer *offer = &item->offers[line->offer];
    pw_json_object(o, NULL);
    pw_json_text(o, "item", item->id);
    pw_json_text(o, "name", item->name);
    pw_json_text(o, "category", categories[item->category]);
    pw_json_text(o, "supplier", offer->supplier);
    pw_json_text(o, "pack", offer->pack);
    pw_json_int(o, "packs", line->packs);
    pw_json_int(o, "pieces", line->pieces);
    pw_json_real(o, "need", line->need);
    pw_json_real(o, "amount", line->amount);
    pw_json_text(o, "unit", units[item->unit]);
    /* per unit, so that amount x price is the cost however it is packed and priced */
    bool is_per_kg = offer->is_by_weight && item->unit == PW_UNIT_KG;
    double exact_cents = offer->is_by_weight ? (double)line->cost_cents : line->packs * line->unit_price_cents;
    pw_json_real(o, "unit_price_cents",
                 is_per_kg || !(line->amount > 0) ? line->unit_price_cents : exact_cents / line->amount);
    if (!offer->is_by_weight)
      pw_json_real(o, "pack_price_cents", line->unit_price_cents);
    pw_json_int(o, "cost_cents", line->cost_cents);
    if (!p->elsewhere_cents || p->elsewhere_cents[i] < 0)
      pw_json_null(o, "elsewhere_cents");
    else
      pw_json_int(o, "elsewhere_cents", p->elsewhere_cents[i]);
    if (pw_is_pit_fuel(w->ev, line->item))
      pw_json_bool(o, "pit_fuel", true);
    pw_json_int(o, "carry_cents", p->carry_cents ? p->carry_cents[i] : 0);
    if (line->packs > 0)
      pw_json_real(o, "pack_amount", line->amount / line->packs);
    pw_json_int(o, "pack_pieces", offer->is_by_weight ? offer->pieces : 0);
    pw_json_int(o, "order_ahead_min", item->order_ahead_min);
    if (item->keeps_min > 0 && item->keeps_min <= PERISHABLE_MIN) {
      pw_json_int(o, "keeps_min", item->keeps_min);
      pw_json_int(o, "keeps_to_min", line->deliver_at_min + item->keeps_min);
    }
    pw_json_int(o, "order_by_min", line->order_by_at_min);
    pw_json_int(o, "deliver_min", line->deliver_at_min);
    if (line->thaw_from_at_min == INT_MIN)
      pw_json_null(o, "thaw_from_min");
    else
      pw_json_int(o, "thaw_from_min", line->thaw_from_at_min);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "mixes");
  for (int i = 0; i < p->n_mixes; i++) {
    const struct pw_item *mix = &w->ev->items[p->mixes[i].item];
    pw_json_object(o, NULL);
    pw_json_text(o, "item", mix->id);
    pw_json_text(o, "name", mix->name);
    pw_json_real(o, "amount", p->mixes[i].amount);
    pw_json_text(o, "unit", units[mix->unit]);
    pw_json_array(o, "parts");
    for (int k = 0; k < mix->n_parts; k++) {
      const struct pw_item *part = &w->ev->items[mix->parts[k].item];
      pw_json_object(o, NULL);
      pw_json_text(o, "item", part->id);
      pw_json_real(o, "amount", p->mixes[i].amount * mix->parts[k].amount);
      pw_json_real(o, "per_unit", mix->parts[k].amount);
      pw_json_text(o, "unit", units[part->unit]);
      pw_json_end(o);
    }
    pw_json_end(o);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "orders");
  for (int i = 0; i < p->n_orders; i++) {
    const struct pw_order *order = &p->orders[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "supplier", order->supplier);
    pw_json_int(o, "goods_cents", order->goods_cents);
    pw_json_int(o, "delivery_cents", order->delivery_cents);
    pw_json_int(o, "top_up_cents", order->top_up_cents);
    if (order->least_cents > 0)
      pw_json_int(o, "least_cents", order->least_cents);
    pw_json_int(o, "lines", order->n_lines);
    if (order->without_cents < 0)
      pw_json_null(o, "without_cents");
    else
      pw_json_int(o, "without_cents", order->without_cents);
    pw_json_end(o);
  }
  pw_json_end(o);
}
