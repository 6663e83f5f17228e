/* text_buy.c - the purchase list [P1]-[P3] as text: supplier by supplier, in the order they must be called. */
#include "base/arena.h"
#include "base/when.h"
#include "sheet/fuel_words.h"
#include "write/text/text_page.h"
#include "write/text/text_sheets.h"

#include <limits.h>
#include <string.h>

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
  const struct pw_cell row[] = {
      {2, 3, PW_LEFT, "[ ]"},
      {6, 5, PW_RIGHT, pw_words(s, "%d", line->packs)},
      {12, 14, PW_LEFT, offer->pack},
      {27, 28, PW_LEFT, item->name},
      {56, 11, PW_RIGHT, pw_words(s, "%s", pw_format_amount(s->ev->units, item->unit, line->amount).s)},
      {68, 12, PW_RIGHT, pw_words(s, "%s", pw_money_format(s->ev, line->cost_cents).s)}};
  pw_page_row(s, row, 6);
  const char *more = "";
  if (offer->is_by_weight)
    more = pw_words(s, "%s, about %d %s", pw_money_format_per(s->ev, line->unit_price_cents, PW_UNIT_KG).s,
                    line->pieces, line->pieces == 1 ? "piece" : "pieces");
  if (line->thaw_from_at_min != INT_MIN)
    more = pw_words(s, "%s%sfreezer to refrigerator %s at %s", more, *more ? "; " : "",
                    pw_when_day_short(s->ev, line->thaw_from_at_min).s, pw_when_clock(s->ev, line->thaw_from_at_min).s);
  if (*more)
    pw_page_para(s, 27, 27, more);
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
  pw_page_pair(s, 2, pw_words(s, "order by %s", pw_when_day_short(s->ev, order_by).s),
               pw_words(s, "%s", pw_money_format(s->ev, sum).s));
  for (int day = first_day; day <= last_day; day++) {
    bool is_said = false;
    for (int i = 0; i < p->n_lines; i++) {
      const struct pw_purchase_line *line = &p->lines[i];
      if (!is_one_supplier(s, head, line) || pw_when_day_number(s->ev, line->deliver_at_min) != day)
        continue;
      if (!is_said)
        pw_page_para(s, 2, 2, pw_words(s, "in house %s", pw_when_day_short(s->ev, line->deliver_at_min).s));
      is_said = true;
      one_line(s, line);
    }
  }
  if (order && order->delivery_cents)
    pw_page_pair(s, 6, "Delivery", pw_money_format(s->ev, order->delivery_cents).s);
  if (order && order->top_up_cents)
    pw_page_pair(s, 6, "Up to their least order", pw_money_format(s->ev, order->top_up_cents).s);
}

static void fuel(struct pw_page *s)
{
  const struct pw_fuel_plan *f = &s->plan->fuel;
  if (f->n_lines == 0)
    return;
  pw_page_head(s, "Wood and charcoal");
  for (int i = 0; i < f->n_lines; i++) {
    const struct pw_fuel_line *line = &f->lines[i];
    const char *measure = pw_words(s, "%s", pw_fuel_measure(s->ev, line).s);
    const char *name = pw_words(s, "%s%s%s", s->ev->fuels[line->fuel].name, *measure ? ", " : "", measure);
    const struct pw_cell row[] = {{2, 3, PW_LEFT, "[ ]"},
                                  {12, 44, PW_LEFT, name},
                                  {56, 11, PW_RIGHT, pw_words(s, "%s", pw_format_fuel(s->ev->units, line->buy_kg).s)},
                                  {68, 12, PW_RIGHT, pw_words(s, "%s", pw_money_format(s->ev, line->cost_cents).s)}};
    pw_page_row(s, row, 4);
    pw_page_para(s, 27, 27,
                 pw_words(s, "%s will burn, the rest is the reserve", pw_format_weight(s->ev->units, line->need_kg).s));
  }
}

/* What the kitchen mixes from what was bought, each by its recipe. */
static void mixes(struct pw_page *s)
{
  const struct pw_purchase *p = &s->plan->purchase;
  if (p->n_mixes == 0)
    return;
  pw_page_head(s, "To mix");
  for (int i = 0; i < p->n_mixes; i++) {
    const struct pw_item *mix = &s->ev->items[p->mixes[i].item];
    const struct pw_cell head[] = {
        {6, 50, PW_LEFT, mix->name},
        {56, 11, PW_RIGHT, pw_words(s, "%s", pw_format_amount(s->ev->units, mix->unit, p->mixes[i].amount).s)}};
    pw_page_row(s, head, 2);
    for (int k = 0; k < mix->n_parts; k++) {
      const struct pw_item *part = &s->ev->items[mix->parts[k].item];
      const struct pw_cell row[] = {
          {10, 45, PW_LEFT, part->name},
          {56, 11, PW_RIGHT,
           pw_words(s, "%s", pw_format_amount(s->ev->units, part->unit, p->mixes[i].amount * mix->parts[k].amount).s)}};
      pw_page_row(s, row, 2);
    }
  }
}

pw_status pw_text_buy(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_page page = pw_page_open(out, plan, ctx), *s = &page;
  const struct pw_purchase *p = &plan->purchase;
  pw_page_title(s, s->ev->name, "Purchase list");
  pw_page_para(s, 0, 0,
               pw_words(s, "%s, %d guest%s", pw_when_date(s->ev->date).s, plan->demand.head_count,
                        plan->demand.head_count == 1 ? "" : "s"));
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
  pw_page_pair(s, 2, "Food", pw_money_format(s->ev, p->food_cents).s);
  pw_page_pair(s, 2, "Disposables, supplies, deliveries", pw_money_format(s->ev, p->supplies_cents).s);
  pw_cents fuels = 0;
  for (int i = 0; i < plan->fuel.n_lines; i++)
    fuels += plan->fuel.lines[i].cost_cents;
  pw_page_pair(s, 2, "Wood and charcoal", pw_money_format(s->ev, fuels).s);
  pw_page_pair(s, 2, "To spend", pw_money_format(s->ev, p->food_cents + p->supplies_cents + fuels).s);
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}
