/* page_buy.c - the purchase list [P1]-[P3]: supplier by supplier, in the order they must be called. */
#include "base/arena.h"
#include "base/when.h"
#include "sheet/fuel_words.h"
#include "sheet/page/pages.h"
#include "sheet/words.h"

#include <limits.h>
#include <string.h>

/* Of a line bought and of one of wood alike. */
static const struct pw_page_column COLUMNS[] = {{2, 3, PW_CELL_TICK, ""},    {1, 5, PW_CELL_AMOUNT, ""},
                                                {1, 14, PW_CELL_NOTE, ""},   {1, 28, PW_CELL_WHAT, ""},
                                                {1, 11, PW_CELL_AMOUNT, ""}, {1, 12, PW_CELL_AMOUNT, ""}};
enum { NAME_AT = 27 }; /* where a thing's name stands */

static const struct pw_offer *offer_of(const struct pw_page *s, const struct pw_purchase_line *line)
{
  return &s->ev->items[line->item].offers[line->offer];
}

static bool is_one_supplier(const struct pw_page *s, const struct pw_purchase_line *a, const struct pw_purchase_line *b)
{
  return strcmp(offer_of(s, a)->supplier, offer_of(s, b)->supplier) == 0;
}

static void one_line(struct pw_page *s, const struct pw_purchase_line *line)
{
  const struct pw_item *item = &s->ev->items[line->item];
  const struct pw_offer *offer = offer_of(s, line);
  pw_page_row(s, "[ ]", pw_words(s, "%d", line->packs), offer->pack, item->name,
              pw_format_amount(s->ev->units, item->unit, line->amount).s, pw_money_format(s->ev, line->cost_cents).s);
  const char *more = "";
  if (offer->is_by_weight)
    more = pw_words(s, "%s, about %s", pw_money_format_per(s->ev, line->unit_price_cents, PW_UNIT_KG).s,
                    pw_words_pieces(line->pieces).s);
  if (line->thaw_from_at_min != INT_MIN)
    more = pw_words(s, "%s%sfreezer to refrigerator %s at %s", more, *more ? "; " : "",
                    pw_when_day_short(s->ev, line->thaw_from_at_min).s, pw_when_clock(s->ev, line->thaw_from_at_min).s);
  if (*more)
    pw_page_para(s, NAME_AT, NAME_AT, more);
}

/* All that one supplier sends, a delivery day after the other; ordered in one go by the earliest date. */
static void one_order(struct pw_page *s, const struct pw_purchase_line *head)
{
  const struct pw_purchase *p = &s->plan->purchase;
  int order_by = head->order_by_at_min, first_day = INT_MAX, last_day = INT_MIN;
  pw_cents sum = 0;
  for (int i = 0; i < p->n_lines; i++) {
    if (!is_one_supplier(s, head, &p->lines[i]))
      continue;
    int day = pw_when_day_number(s->ev, p->lines[i].deliver_at_min);
    first_day = day < first_day ? day : first_day;
    last_day = day > last_day ? day : last_day;
    order_by = p->lines[i].order_by_at_min < order_by ? p->lines[i].order_by_at_min : order_by;
    sum += p->lines[i].cost_cents;
  }
  const char *supplier = offer_of(s, head)->supplier;
  const struct pw_order *order = NULL;
  for (int i = 0; i < p->n_orders && !order; i++)
    if (strcmp(p->orders[i].supplier, supplier) == 0)
      order = &p->orders[i];
  if (order)
    sum += order->delivery_cents + order->top_up_cents;
  pw_page_head(s, supplier);
  pw_page_money(s, 2, pw_words(s, "order by %s", pw_when_day_short(s->ev, order_by).s), sum);
  for (int day = first_day; day <= last_day; day++) {
    bool is_said = false;
    for (int i = 0; i < p->n_lines; i++) {
      const struct pw_purchase_line *line = &p->lines[i];
      if (!is_one_supplier(s, head, line) || pw_when_day_number(s->ev, line->deliver_at_min) != day)
        continue;
      if (!is_said)
        pw_page_say(s, 2, 2, "in house %s", pw_when_day_short(s->ev, line->deliver_at_min).s);
      is_said = true;
      one_line(s, line);
    }
  }
  if (order && order->delivery_cents)
    pw_page_money(s, 6, "Delivery", order->delivery_cents);
  if (order && order->top_up_cents)
    pw_page_money(s, 6, "Up to their least order", order->top_up_cents);
}

static void fuel(struct pw_page *s)
{
  static const struct pw_page_column columns[] = {
      {2, 3, PW_CELL_TICK, ""}, {7, 44, PW_CELL_WHAT, ""}, {0, 11, PW_CELL_AMOUNT, ""}, {1, 12, PW_CELL_AMOUNT, ""}};
  const struct pw_fuel_plan *f = &s->plan->fuel;
  if (f->n_lines == 0)
    return;
  pw_page_head(s, "Wood and charcoal");
  pw_page_table_of(s, columns);
  for (int i = 0; i < f->n_lines; i++) {
    const struct pw_fuel_line *line = &f->lines[i];
    const struct pw_fuel_text measure = pw_fuel_measure(s->ev, line);
    pw_page_row(s, "[ ]", pw_words(s, "%s%s%s", s->ev->fuels[line->fuel].name, *measure.s ? ", " : "", measure.s),
                pw_format_fuel(s->ev->units, line->buy_kg).s, pw_money_format(s->ev, line->cost_cents).s);
    pw_page_say(s, NAME_AT, NAME_AT, "%s will burn, the rest is the reserve",
                pw_format_weight(s->ev->units, line->need_kg).s);
  }
}

/* What the kitchen mixes from what was bought, each by its recipe. */
static void mixes(struct pw_page *s)
{
  static const struct pw_page_column columns[] = {{6, 49, PW_CELL_WHAT, ""}, {1, 11, PW_CELL_AMOUNT, ""}};
  const struct pw_purchase *p = &s->plan->purchase;
  if (p->n_mixes == 0)
    return;
  pw_page_head(s, "To mix");
  pw_page_table_of(s, columns);
  for (int i = 0; i < p->n_mixes; i++) {
    const struct pw_item *mix = &s->ev->items[p->mixes[i].item];
    pw_page_row(s, mix->name, pw_format_amount(s->ev->units, mix->unit, p->mixes[i].amount).s);
    for (int k = 0; k < mix->n_parts; k++) {
      const struct pw_item *part = &s->ev->items[mix->parts[k].item];
      pw_page_row_in(s, 4, part->name,
                     pw_format_amount(s->ev->units, part->unit, p->mixes[i].amount * mix->parts[k].amount).s);
    }
  }
}

pw_status pw_page_buy(struct pw_page *s, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  *s = pw_page_open(plan, plan->event, ctx);
  const struct pw_purchase *p = &plan->purchase;
  pw_page_title(s, s->ev->name, "Purchase list");
  pw_page_say(s, 0, 0, "%s, %s", pw_when_date(s->ev->date).s, pw_words_guests(plan->demand.head_count).s);
  pw_page_table_of(s, COLUMNS);
  bool *is_done = pw_arena_array(ctx->arena, (size_t)p->n_lines, sizeof *is_done);
  if (!is_done)
    return PW_ERR_MEMORY;
  for (;;) { /* suppliers by their first order date; lines stay in the list's own order */
    const struct pw_purchase_line *next = NULL;
    for (int i = 0; i < p->n_lines; i++)
      if (!is_done[i] && (!next || pw_when_day_number(s->ev, p->lines[i].order_by_at_min) <
                                       pw_when_day_number(s->ev, next->order_by_at_min)))
        next = &p->lines[i];
    if (!next)
      break;
    one_order(s, next);
    for (int i = 0; i < p->n_lines; i++)
      is_done[i] = is_done[i] || is_one_supplier(s, next, &p->lines[i]);
  }
  fuel(s);
  mixes(s);
  pw_page_head(s, "Sum");
  pw_page_money(s, 2, "Food", p->food_cents);
  pw_page_money(s, 2, "Disposables, supplies, deliveries", p->supplies_cents);
  pw_cents fuels = 0;
  for (int i = 0; i < plan->fuel.n_lines; i++)
    fuels += plan->fuel.lines[i].cost_cents;
  pw_page_money(s, 2, "Wood and charcoal", fuels);
  pw_page_money(s, 2, "To spend", p->food_cents + p->supplies_cents + fuels);
  return pw_page_done(s);
}
