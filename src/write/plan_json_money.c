/* plan_json_money.c - the second half of the plan file: demand, purchases, crew, tasks, quote, proof. */
#include "write/plan_json_parts.h"

#include "base/arena.h"
#include "base/clock.h"
#include "plan/buy/ledger.h"
#include "plan/crew/task_kind.h"
#include "plan/demand/demand.h"
#include "plan/demand/head_count.h"
#include "plan/demand/meat.h"
#include "plan/money/cost_parts.h"
#include "sheet/words.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>

enum { PERISHABLE_MIN = 60 * 24 * 60 }; /* what keeps longer than two months is not dated */

const char *pw_plan_json_date(struct pw_plan_json *w, struct pw_date d)
{
  const char *text = pw_arena_printf(w->ctx->arena, "%04d-%02d-%02d", d.year, d.month, d.day);
  if (!text)
    w->out.buf.failed = true;
  return text;
}

/* ---- food, hands, money ----------------------------------------------------------------------------- */

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

/* Bought here, costed by the fuel plan. */
static bool is_pit_fuel(const struct pw_event *ev, int item)
{
  for (int f = 0; f < ev->n_fuels && ev->items[item].category == PW_CAT_FUEL; f++)
    if (ev->fuels[f].item == item)
      return true;
  return false;
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
    if (is_pit_fuel(w->ev, line->item))
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

/* A pit or finisher by its id, else where the hands are. */
static const char *place_id(const struct pw_event *ev, int place, enum pw_at at)
{
  static const char *const words[] = {"kitchen", "site", "road"};
  if (place == PW_NONE)
    return words[at];
  return place < ev->n_pits ? ev->pits[place].id : ev->finishers[place - ev->n_pits].id;
}

/* Who, where, with what, after what [S1]. */
static void task_order(struct pw_plan_json *w, int i)
{
  static const char *const hands_at[] = {"kitchen", "site", "road"};
  struct pw_json_out *o = &w->out;
  const struct pw_task *t = &w->plan->tasks.tasks[i];
  char id[16];
  snprintf(id, sizeof id, "t%d", i + 1);
  pw_json_text(o, "id", id);
  pw_json_text(o, "kind", pw_task_kind_row(t->kind)->word);
  pw_json_text(o, "person", t->person == PW_NONE ? NULL : w->plan->tasks.people[t->person].id);
  pw_json_text(o, "at_hand", hands_at[t->at]);
  pw_json_text(o, "place", place_id(w->ev, t->place, t->at));
  pw_json_text(o, "to_place", t->to_place == PW_NONE ? NULL : place_id(w->ev, t->to_place, t->at));
  pw_json_text(o, "service", t->service == PW_NONE ? NULL : w->ev->services[t->service].id);
  pw_json_text(o, "dish", t->dish == PW_NONE ? NULL : w->ev->dishes[t->dish].id);
  pw_json_array(o, "piece_ids");
  for (int k = 0; k < t->n_ids; k++)
    pw_json_int(o, NULL, t->piece_ids[k]);
  pw_json_end(o);
  pw_json_array(o, "items");
  for (int k = 0; k < t->n_items; k++)
    pw_json_text(o, NULL, w->ev->items[t->items[k]].id);
  pw_json_end(o);
  pw_json_array(o, "after");
  for (int k = 0; k < t->n_after; k++) {
    snprintf(id, sizeof id, "t%d", t->after[k] + 1);
    pw_json_text(o, NULL, id);
  }
  pw_json_end(o);
  pw_json_int(o, "latest_min", t->latest_min);
  if (t->slack_min > 0)
    pw_json_int(o, "in_time_until_min", t->at_min + t->slack_min);
  else
    pw_json_null(o, "in_time_until_min");
  pw_json_text(o, "visit", t->visit);
  if (t->kind == PW_TASK_CUT && t->plates_to_min != PW_NO_PLATES) {
    pw_json_int(o, "plates_to_min", t->plates_to_min);
    pw_json_bool(o, "is_in_parts", t->is_in_parts);
  }
}

void pw_plan_json_tasks(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, "crew");
  for (int i = 0; i < w->ev->n_crew; i++) {
    const struct pw_crew *c = &w->ev->crew[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "role", c->role);
    pw_json_int(o, "count", pw_head_count_hands(w->ev, c));
    pw_json_int(o, "from_min", c->from_at_min);
    pw_json_int(o, "to_min", c->to_at_min);
    pw_json_real(o, "cents_per_h", c->cents_per_h);
    pw_plan_json_shift(w, c);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "people");
  for (int i = 0; i < w->plan->tasks.n_people; i++) {
    const struct pw_person *p = &w->plan->tasks.people[i];
    const struct pw_crew *c = &w->ev->crew[p->crew];
    pw_json_object(o, NULL);
    pw_json_text(o, "id", p->id);
    pw_json_text(o, "role", c->role);
    pw_json_text(o, "name", p->name);
    pw_json_int(o, "from_min", c->from_at_min);
    pw_json_int(o, "to_min", c->to_at_min);
    pw_json_array(o, "breaks");
    if (c->worked && c->worked->break_to_at_min > c->worked->break_from_at_min) {
      pw_json_object(o, NULL);
      pw_json_int(o, "from_min", c->worked->break_from_at_min);
      pw_json_int(o, "to_min", c->worked->break_to_at_min);
      pw_json_end(o);
    }
    pw_json_end(o);
    pw_json_real(o, "cents_per_h", c->cents_per_h);
    if (c->worked)
      pw_json_int(o, "pool", c->worked->pool);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "tasks");
  for (int i = 0; i < w->plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &w->plan->tasks.tasks[i];
    pw_json_object(o, NULL);
    if (w->plan->tasks.n_people > 0)
      task_order(w, i);
    pw_json_int(o, "at_min", t->at_min);
    pw_json_int(o, "minutes", t->minutes);
    pw_json_text(o, "role", t->crew == PW_NONE ? "" : w->ev->crew[t->crew].role); /* "": nobody with the duty */
    pw_json_text(o, "what", t->what ? t->what : "");
    pw_json_text(o, "where", t->where ? t->where : "");
    pw_json_text(o, "lot", t->lot == PW_NONE ? NULL : w->plan->lots.lots[t->lot].id);
    pw_json_int(o, "pieces", t->pieces);
    pw_json_text(o, "target", t->target ? t->target : "");
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* What the price was made by, and how long it stands. */
static void quote_terms(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_terms *t = &w->ev->terms;
  pw_json_real(o, "discount_frac", t->discount_frac);
  pw_json_real(o, "service_charge_frac", t->service_charge_frac);
  pw_json_bool(o, "service_charge_taxed", t->is_service_charge_taxed);
  pw_json_real(o, "tax_frac", t->tax_frac);
  pw_json_real(o, "deposit_frac", t->deposit_frac);
  pw_json_int(o, "ladder_step", w->ev->ladder.step);
  if (w->ev->ladder.step > 0) {
    pw_json_int(o, "ladder_from", w->ev->ladder.from);
    pw_json_int(o, "ladder_to", w->ev->ladder.to);
  }
  pw_json_int(o, "min_fee_cents", t->min_fee_cents);
  pw_json_real(o, "asked_margin_frac", t->margin_frac);
  pw_json_real(o, "asked_food_share_frac", t->food_share_frac); /* 0: the price goes by the margin */
  pw_json_int(o, "round_per_guest_cents", t->round_per_guest_cents);
  pw_json_int(o, "today_per_guest_cents", w->plan->quote.today_per_guest_cents);
  pw_json_int(o, "today_price_cents", w->plan->quote.today_cents);
  if (t->quoted_per_guest_cents > 0) {
    pw_json_object(o, "quoted_price");
    pw_json_int(o, "per_guest_cents", t->quoted_per_guest_cents);
    if (t->quoted_price_on.year)
      pw_json_text(o, "on", pw_plan_json_date(w, t->quoted_price_on));
    pw_json_end(o);
  }
  if (t->agreed_cents > 0) {
    pw_json_object(o, "agreed");
    pw_json_int(o, "price_cents", t->agreed_cents);
    pw_json_int(o, "guests", t->agreed_guests);
    pw_json_text(o, "on", pw_plan_json_date(w, t->agreed_on));
    pw_json_end(o);
  }
  pw_json_int(o, "valid_days", t->valid_days);
  bool is_dated = t->quoted.year != 0;
  pw_json_text(o, "quoted", is_dated ? pw_plan_json_date(w, t->quoted) : NULL);
  pw_json_text(o, "valid_until",
               is_dated ? pw_plan_json_date(w, pw_date_from_days(pw_date_to_days(t->quoted) + t->valid_days)) : NULL);
  pw_json_text(o, "final_count_by",
               pw_plan_json_date(w, pw_date_from_days(pw_date_to_days(w->ev->date) - t->final_count_days_before)));
}

static void quote_dishes(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_purchase *p = &w->plan->purchase;
  pw_json_int(o, "shared_food_cents", p->shared_food_cents);
  pw_json_array(o, "dishes");
  for (int i = 0; p->dishes && i < w->plan->demand.n_lines; i++) {
    const struct pw_demand_line *line = &w->plan->demand.lines[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "dish", w->ev->dishes[line->dish].id);
    pw_json_text(o, "service", w->ev->services[line->service].id);
    pw_json_int(o, "food_cents", p->dishes[i].food_cents);
    pw_json_real(o, "portions", p->dishes[i].portions);
    pw_json_real(o, "portion_cents", p->dishes[i].portion_cents);
    pw_json_real(o, "short_cents", p->dishes[i].short_cents);
    pw_json_end(o);
  }
  pw_json_end(o);
}

static void quote_turnout(struct pw_plan_json *w, const char *key, const struct pw_turnout *t)
{
  struct pw_json_out *o = &w->out;
  pw_json_object(o, key);
  pw_json_int(o, "guests", t->guests);
  pw_json_int(o, "net_cents", t->net_cents);
  pw_json_int(o, "cost_cents", t->cost_cents);
  pw_json_real(o, "margin_frac", t->margin_frac);
  pw_json_end(o);
}

static void quote_rungs(struct pw_plan_json *w, const char *key, const struct pw_quote_rung *rungs, int n)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, key);
  for (int i = 0; i < n; i++) {
    pw_json_object(o, NULL);
    pw_json_int(o, "guests", rungs[i].guests);
    pw_json_int(o, "cost_cents", rungs[i].cost_cents);
    pw_json_int(o, "price_cents", rungs[i].price_cents);
    pw_json_int(o, "total_cents", rungs[i].total_cents);
    pw_json_int(o, "per_guest_cents", rungs[i].per_guest_cents);
    pw_json_int(o, "missed", rungs[i].missed);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* Choices of the menus beside the job as it stands, both planned quickly and at today's prices. */
static void quote_options(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_quote *q = &w->plan->quote;
  pw_json_array(o, "options");
  for (int i = 0; i < q->n_options; i++) {
    const struct pw_quote_option *t = &q->options[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "service", w->ev->services[t->service].id);
    pw_json_text(o, "dish", w->ev->dishes[t->dish].id);
    if (t->instead_of != PW_NONE)
      pw_json_text(o, "instead_of", w->ev->dishes[t->instead_of].id);
    pw_json_int(o, "base_cost_cents", t->base_cost_cents);
    pw_json_int(o, "base_food_cents", t->base_food_cents);
    pw_json_int(o, "base_price_cents", t->base_price_cents);
    pw_json_int(o, "cost_cents", t->cost_cents);
    pw_json_int(o, "food_cents", t->food_cents);
    pw_json_int(o, "price_cents", t->price_cents);
    pw_json_int(o, "more_per_guest_cents", t->more_per_guest_cents);
    pw_json_int(o, "missed_pieces", t->missed);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* Dishes left out one after the other to come to the price that was given. */
static void quote_leaves(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_quote *q = &w->plan->quote;
  pw_json_array(o, "leave_out");
  for (int i = 0; i < q->n_leaves; i++) {
    const struct pw_quote_leave *t = &q->leaves[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "service", w->ev->services[t->service].id);
    pw_json_text(o, "dish", w->ev->dishes[t->dish].id);
    pw_json_int(o, "cost_cents", t->cost_cents);
    pw_json_int(o, "food_cents", t->food_cents);
    pw_json_int(o, "price_cents", t->price_cents);
    pw_json_real(o, "margin_frac", t->margin_frac);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* What other chances to be on time would cost. */
static void quote_levels(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_quote *q = &w->plan->quote;
  pw_json_array(o, "on_time_levels");
  for (int i = 0; i < q->n_levels; i++) {
    const struct pw_quote_level *level = &q->levels[i];
    pw_json_object(o, NULL);
    pw_json_real(o, "margin_frac", level->margin_frac);
    pw_json_real(o, "chance_frac", level->chance_frac);
    pw_json_real(o, "late_meals_frac", level->late_meals_frac);
    pw_json_int(o, "cost_cents", level->cost_cents);
    pw_json_int(o, "late_meal_cents", level->late_meal_cents);
    pw_json_bool(o, "is_plan", level->is_plan);
    pw_json_end(o);
  }
  pw_json_end(o);
}

void pw_plan_json_quote(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_quote *q = &w->plan->quote;
  pw_json_object(o, "quote");
  pw_json_text(o, "currency", w->ev->currency);
  pw_json_int(o, "guests", q->guests);
  pw_json_int(o, "food_cents", q->food_cents);
  pw_json_int(o, "fuel_cents", q->fuel_cents);
  pw_json_int(o, "labour_cents", q->labour_cents);
  pw_json_int(o, "other_cents", q->supplies_cents + q->rental_cents + q->travel_cents);
  pw_json_int(o, "supplies_cents", q->supplies_cents);
  pw_json_int(o, "rental_cents", q->rental_cents);
  pw_json_int(o, "travel_cents", q->travel_cents);
  pw_json_int(o, "overhead_cents", q->overhead_cents);
  pw_json_int(o, "cost_cents", q->cost_cents);
  pw_json_int(o, "price_cents", q->price_cents);
  pw_json_int(o, "per_guest_cents", q->per_guest_cents);
  pw_json_int(o, "list_price_cents", q->price_cents);
  pw_json_int(o, "discount_cents", q->discount_cents);
  pw_json_int(o, "net_cents", q->net_cents);
  pw_json_int(o, "service_charge_cents", q->service_charge_cents);
  pw_json_int(o, "taxable_cents", q->taxable_cents);
  pw_json_int(o, "tax_cents", q->tax_cents);
  pw_json_int(o, "total_cents", q->total_cents);
  pw_json_int(o, "deposit_cents", q->deposit_cents);
  pw_json_real(o, "margin_frac", q->margin_frac);
  pw_json_real(o, "food_share_frac", q->food_share_frac);
  pw_json_int(o, "prime_cents", q->prime_cents);
  pw_json_int(o, "contribution_cents", q->contribution_cents);
  quote_terms(w);
  quote_dishes(w);
  quote_turnout(w, "fewer", &q->fewer);
  if (q->more.guests > 0)
    quote_turnout(w, "more", &q->more);
  pw_json_array(o, "roles");
  for (int i = 0; i < q->n_roles; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "role", q->roles[i].role);
    pw_json_real(o, "paid_h", q->roles[i].paid_h);
    pw_json_real(o, "task_h", q->roles[i].task_h);
    pw_json_int(o, "cents", q->roles[i].cents);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "services");
  for (int i = 0; q->services && i < w->ev->n_services; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "service", w->ev->services[i].id);
    pw_json_int(o, "guests", q->services[i].guests);
    pw_json_int(o, "food_cents", q->services[i].food_cents);
    pw_json_int(o, "other_cents", q->services[i].other_cents);
    pw_json_end(o);
  }
  pw_json_end(o);
  if (q->break_even_guests == PW_NONE)
    pw_json_null(o, "pays_from_guests");
  else
    pw_json_int(o, "pays_from_guests", q->break_even_guests);
  pw_json_array(o, "dues");
  for (int i = 0; i < q->n_dues; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "name", q->dues[i].name);
    pw_json_text(o, "date", pw_plan_json_date(w, q->dues[i].date));
    pw_json_int(o, "cents", q->dues[i].cents);
    pw_json_end(o);
  }
  pw_json_end(o);
  quote_rungs(w, "ladder", q->ladder, q->n_ladder);
  if (q->n_tried > 0)
    quote_rungs(w, "tried", q->tried, q->n_tried);
  if (q->n_levels > 0)
    quote_levels(w);
  if (q->n_options > 0)
    quote_options(w);
  if (q->n_leaves > 0)
    quote_leaves(w);
  pw_json_end(o);
}

/* ---- how good it is ------------------------------------------------------------------------------------ */

/* The cost by what it is for, and the prices behind it.  Nothing where the parts do not make the cost. */
static void write_parts(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  struct pw_cost_parts parts;
  const struct pw_effort_prices *price = &w->ev->effort;
  if (!w->plan->demand.laws)
    return; /* a plan put together by hand */
  if (pw_cost_parts_make(&parts, w->plan, w->ctx) != PW_OK) {
    o->buf.failed = true;
    return;
  }
  if (!parts.is_whole)
    return;
  pw_json_object(o, "parts");
  pw_json_real(o, "fire", parts.fire);
  pw_json_real(o, "light", parts.light);
  pw_json_real(o, "oven", parts.oven);
  pw_json_real(o, "openings", parts.openings);
  pw_json_real(o, "places", parts.places);
  pw_json_real(o, "hold", parts.hold);
  pw_json_real(o, "off_best", parts.off_best);
  pw_json_real(o, "moves", parts.moves);
  pw_json_real(o, "people", parts.people);
  if (parts.missed > 0)
    pw_json_real(o, "missed", parts.missed);
  pw_json_end(o);
  pw_json_object(o, "prices");
  pw_json_real(o, "opening_cents", price->opening_cents);
  pw_json_real(o, "place_cents", price->place_cents);
  pw_json_real(o, "hold_cents_per_piece_h", price->hold_cents_per_piece_h);
  pw_json_real(o, "off_best_cents_per_piece_k", price->off_best_cents_per_piece_k);
  pw_json_real(o, "move_cents_per_piece", price->move_cents_per_piece);
  pw_json_array(o, "burns");
  for (int b = 0; b < w->plan->allocation.n_burns; b++) {
    pw_json_object(o, NULL);
    pw_json_real(o, "fire_cents_per_h", parts.burns[b].fire_per_h);
    pw_json_real(o, "people_cents_per_h", parts.burns[b].tend_per_h);
    pw_json_real(o, "light_cents", parts.burns[b].light);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_end(o);
}

/** The tasks a warning is about, and how late the latest of them begins. */
static void write_late(struct pw_plan_json *w, const struct pw_warning *warning)
{
  struct pw_json_out *o = &w->out;
  char id[24];
  if (warning->n_tasks == 0 || w->plan->tasks.n_people == 0) /* without people tasks have no names */
    return;
  pw_json_int(o, "late_min", warning->late_min);
  pw_json_array(o, "tasks");
  for (int k = 0; k < warning->n_tasks; k++) {
    snprintf(id, sizeof id, "t%d", warning->tasks[k] + 1);
    pw_json_text(o, NULL, id);
  }
  pw_json_end(o);
}

void pw_plan_json_solution(struct pw_plan_json *w)
{
  static const char *const outcomes[] = {"optimal", "feasible", "short", "limit"}, *const stops[] = {"gap", "work",
                                                                                                     "time"};
  struct pw_json_out *o = &w->out;
  const struct pw_allocation *a = &w->plan->allocation;
  /* no bound found: nothing is cheaper than free */
  bool has_bound = isfinite(a->bound_cents);
  double bound = has_bound ? a->bound_cents : 0, gap = has_bound && isfinite(a->gap_frac) ? a->gap_frac : 1;
  if (!has_bound && a->cost_cents == 0)
    gap = 0;
  pw_json_object(o, "solution");
  pw_json_text(o, "outcome", outcomes[a->outcome]);
  pw_json_real(o, "cost", a->cost_cents);
  pw_json_real(o, "bound", bound);
  pw_json_real(o, "gap_frac", gap);
  if (a->proof.fractions_cents > 0) {
    pw_json_real(o, "bound_fractions", a->proof.fractions_cents);
    pw_json_real(o, "bound_shapes", a->proof.shapes_cents);
    pw_json_bool(o, "bound_is_whole", a->proof.is_whole);
  }
  pw_json_text(o, "stopped_by", stops[a->stopped_by]);
  pw_json_int(o, "work", a->work);
  write_parts(w);
  pw_json_text(o, "effort", a->is_quick ? "quick" : "full");
  pw_json_end(o);
  pw_json_array(o, "shortages");
  for (int i = 0; i < a->n_shortages; i++) {
    const struct pw_shortage *s = &a->shortages[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "lot", s->lot == PW_NONE ? NULL : w->plan->lots.lots[s->lot].id);
    pw_json_int(o, "pieces", s->pieces);
    pw_json_text(o, "resource", s->resource);
    pw_json_int(o, "from_min", s->from_at_min);
    pw_json_int(o, "to_min", s->to_at_min);
    pw_json_real(o, "area_m2", s->area_m2);
    pw_json_text(o, "text", s->text);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_plan_json_ways(w);
  pw_json_array(o, "warnings");
  for (int i = 0; i < w->plan->n_warnings; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "code", w->plan->warnings[i].code);
    pw_json_text(o, "text", w->plan->warnings[i].text);
    write_late(w, &w->plan->warnings[i]);
    pw_json_end(o);
  }
  pw_json_end(o);
}
