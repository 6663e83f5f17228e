/* page_buy.c - the purchase list [P1]-[P3]: supplier by supplier, in the order they must be called. */
#include "base/when.h"
#include "sheet/fuel_words.h"
#include "sheet/goods.h"
#include "sheet/page/pages.h"
#include "sheet/words.h"

#include <limits.h>

enum { NAME_AT = 27 }; /* where a thing's name stands */

/* What is to be known of a line beside its cells: the price of what is weighed, when it leaves the freezer. */
static void more_of(struct pw_page *s, const struct pw_goods *goods, int row)
{
  const struct pw_purchase_line *line = goods->lines[row].line;
  const struct pw_offer *offer = &s->ev->items[line->item].offers[line->offer];
  const char *more = "", *thaw = NULL;
  for (int c = 0; c < goods->table.n_columns; c++)
    thaw = goods->table.rows[row].cells[c].more ? goods->table.rows[row].cells[c].more : thaw;
  if (offer->is_by_weight)
    more = pw_words(s, "%s, about %s", pw_money_format_per(s->ev, line->unit_price_cents, PW_UNIT_KG).s,
                    pw_words_pieces(line->pieces).s);
  if (thaw)
    more = pw_words(s, "%s%s%s", more, *more ? "; " : "", thaw);
  if (*more)
    pw_page_para(s, NAME_AT, NAME_AT, more);
}

/* All that one supplier sends, a delivery day after the other. */
static void one_supplier(struct pw_page *s, struct pw_goods *goods, const struct pw_goods_supplier *from)
{
  int day = INT_MIN;
  pw_page_head(s, from->name);
  pw_page_money(s, 2, pw_words(s, "order by %s", pw_when_day_short(s->ev, from->order_by_at_min).s), from->cents);
  for (int i = 0; i < from->n_rows; i++) {
    int at_min = goods->lines[from->rows[i]].line->deliver_at_min;
    if (pw_when_day_number(s->ev, at_min) != day)
      pw_page_say(s, 2, 2, "in house %s", pw_when_day_short(s->ev, at_min).s);
    day = pw_when_day_number(s->ev, at_min);
    pw_page_lay_row(s, &goods->table, from->rows[i]);
    more_of(s, goods, from->rows[i]);
  }
  if (from->order && from->order->delivery_cents)
    pw_page_money(s, 6, "Delivery", from->order->delivery_cents);
  if (from->order && from->order->top_up_cents)
    pw_page_money(s, 6, "To reach their minimum order", from->order->top_up_cents);
}

static void fuel(struct pw_page *s)
{
  static const struct pw_page_column columns[] = {
      {2, 3, PW_CELL_TICK, ""}, {7, 44, PW_CELL_WHAT, ""}, {0, 11, PW_CELL_AMOUNT, ""}, {1, 12, PW_CELL_AMOUNT, ""}};
  const struct pw_fuel_plan *f = &s->plan->fuel;
  if (f->n_lines == 0)
    return;
  pw_page_head(s, pw_goods_called(PW_GOODS_FUEL));
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
  struct pw_goods goods;
  pw_status status = pw_goods_make(&goods, plan, ctx->arena);
  if (status != PW_OK)
    return status;
  pw_page_title(s, s->ev->name, "Purchase list");
  pw_page_say(s, 0, 0, "%s, %s", pw_when_date(s->ev->date).s, pw_words_guests(plan->demand.head_count).s);
  pw_page_lay_heads(s, &goods.table);
  for (int i = 0; i < goods.n_suppliers; i++)
    one_supplier(s, &goods, &goods.suppliers[i]);
  fuel(s);
  mixes(s);
  pw_page_head(s, "Sum");
  pw_cents all = 0;
  for (int kind = 0; kind < PW_GOODS__COUNT; kind++)
    if (kind != PW_GOODS_FEE) {
      pw_page_money(s, 2, pw_goods_called((enum pw_goods_kind)kind), goods.cents[kind]);
      all += goods.cents[kind];
    }
  pw_page_money(s, 2, "To spend", all);
  return pw_page_done(s);
}
