/* goods.c - see goods.h. */
#include "sheet/goods.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/units.h"
#include "plan/buy/packs.h"
#include "sheet/fuel_words.h"
#include "sheet/words.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define L_PER_GAL 3.785411784 /* exact: US gallon, NIST SP 811 (2008), B.8 */

/* What the buyer looks at comes first; in the workbook holdings, prices and costs are to the right. */
enum {
  C_GOT,
  C_ITEM,
  C_SUPPLIER,
  C_NEED,
  C_UNIT,
  C_UNIT_SAID,
  C_PACKS,
  C_PACK,
  C_PACK_SAID,
  C_PACK_OF,
  C_PACKS_OF,
  C_AMOUNT,
  C_PIECES,
  C_ORDER,
  C_DELIVER,
  C_THAW,
  C_KIND,
  C_CATEGORY,
  C_HOLDS,
  C_PRICE,
  C_PER,
  C_COST,
  C_CURRENCY,
  N_COLUMNS
};

static const struct pw_table_column COLUMNS[N_COLUMNS] = {
    [C_GOT] = {PW_TABLE_TICK, .page = {1, 2, 3}, .sheet = {1, 3, PW_CELL_TICK}, .grid = {1, "Got", 5.5}},
    [C_ITEM] = {PW_TABLE_WORDS, .page = {4, 1, 28}, .sheet = {2, 0, PW_CELL_ACT, "Goods"},
                .grid = {2, "Item", 40, PW_G_BOLD}, .list = {2, "item"}},
    [C_SUPPLIER] = {PW_TABLE_WORDS, .grid = {3, "Supplier", 25}, .list = {3, "supplier"}},
    [C_NEED] = {PW_TABLE_NUMBER, .grid = {4, "Need", 9, PW_G_NUMBER2}},
    [C_UNIT] = {PW_TABLE_WORDS, .grid = {5, "Unit", 5.5}},
    [C_UNIT_SAID] = {PW_TABLE_WORDS, .list = {7, "unit"}},
    [C_PACKS] = {PW_TABLE_COUNT, .page = {2, 1, 5}, .grid = {6, "Packs", 7, PW_G_COUNT_BOLD}, .list = {4, "packs"}},
    [C_PACK] = {PW_TABLE_WORDS, .list = {5, "pack"}}, /* what kind, one of them */
    [C_PACK_SAID] = {PW_TABLE_WORDS, .page = {3, 1, 14}},
    [C_PACK_OF] = {PW_TABLE_WORDS, .grid = {7, "Pack", 15}},
    [C_PACKS_OF] = {PW_TABLE_WORDS, .sheet = {3, 10, PW_CELL_AMOUNT, "Packs"}},
    [C_AMOUNT] = {PW_TABLE_NUMBER, .page = {5, 1, 11}, .sheet = {4, 10, PW_CELL_AMOUNT, "In all"},
                  .list = {6, "amount"}},
    [C_PIECES] = {PW_TABLE_COUNT, .list = {8, "pieces"}},
    [C_ORDER] = {PW_TABLE_TIME, .grid = {8, "Order by", 17.5}, .list = {11, "order_by"}},
    [C_DELIVER] = {PW_TABLE_TIME, .grid = {9, "Deliver by", 17.5}, .list = {12, "deliver_by"}},
    [C_THAW] = {PW_TABLE_TIME, .grid = {10, "Thaw from", 11}, .list = {13, "thaw_from"}},
    [C_KIND] = {PW_TABLE_WORDS, .grid = {11, "Kind", 16, PW_G_LONG}},
    [C_CATEGORY] = {PW_TABLE_WORDS, .list = {1, "category"}},
    [C_HOLDS] = {PW_TABLE_NUMBER, .grid = {12, "Holds", 9, PW_G_NUMBER2}},
    [C_PRICE] = {PW_TABLE_MONEY, .grid = {13, "Price", 10}},
    [C_PER] = {PW_TABLE_WORDS, .grid = {14, "per", 9}},
    [C_COST] = {PW_TABLE_MONEY, .page = {6, 1, 12}, .grid = {15, "Cost", 12}, .list = {9, "cost"}},
    [C_CURRENCY] = {PW_TABLE_WORDS, .list = {10, "currency"}},
};

const char *pw_goods_called(enum pw_goods_kind kind)
{
  static const char *const words[] = {"Food", "Disposables, supplies, deliveries", "Disposables, supplies, deliveries",
                                      "Wood and charcoal"};
  return words[kind];
}

double pw_goods_amount(const struct pw_event *ev, enum pw_unit unit, double amount)
{
  if (unit == PW_UNIT_KG)
    return pw_in_weight(ev->units, amount);
  return unit == PW_UNIT_L && ev->units == PW_UNITS_US ? amount / L_PER_GAL : amount;
}

static const char *user_unit(const struct pw_event *ev, enum pw_unit unit)
{
  if (unit == PW_UNIT_KG)
    return pw_unit_weight(ev->units);
  return unit == PW_UNIT_EACH ? "" : ev->units == PW_UNITS_US ? "gal" : "L";
}

/* Adds a row and what it is of. */
static void add(struct pw_goods *out, const struct pw_table_cell *cells, struct pw_goods_line of)
{
  struct pw_told_table *t = &out->table;
  int row = t->n_rows;
  pw_table_cells(t, NULL, cells, N_COLUMNS);
  t->has_failed =
      t->has_failed || pw_arena_grow(t->arena, &out->lines, &out->cap_lines, (size_t)row, sizeof *out->lines) != 0;
  if (!t->has_failed)
    out->lines[row] = of;
}

static void dates(struct pw_table_cell *cells, const struct pw_plan *plan, const struct pw_purchase_line *l)
{
  cells[C_ORDER] = cells[C_DELIVER] = cells[C_THAW] = pw_cell_words("");
  if (!l)
    return;
  cells[C_ORDER] = pw_cell_value(pw_words_order_by_at_min(plan, l));
  cells[C_DELIVER] = pw_cell_value(l->deliver_at_min);
  if (l->thaw_from_at_min != INT_MIN)
    cells[C_THAW] = pw_cell_value(l->thaw_from_at_min);
}

/** "bags" of "bag" where there are several. */
static const char *packs_said(struct pw_told_table *t, const char *pack, int n)
{
  struct pw_plural said = pw_words_plural(pack, n);
  return pw_table_words(t, "%.*s%s%s", said.n_stem, pack, said.ending, said.rest);
}

static void goods_row(struct pw_goods *out, const struct pw_purchase_line *l, enum pw_goods_kind kind)
{
  struct pw_told_table *t = &out->table;
  const struct pw_event *ev = t->plan->event;
  const struct pw_item *item = &ev->items[l->item];
  const struct pw_offer *o = &item->offers[l->offer];
  bool is_per_weight = o->is_by_weight && item->unit == PW_UNIT_KG;
  const char *unit = user_unit(ev, item->unit);
  const char *pack_of = o->is_by_weight && o->pieces > 1 ? pw_table_words(t, "%s of %d", o->pack, o->pieces) : o->pack;
  struct pw_table_cell cells[N_COLUMNS] = {
      [C_ITEM] = pw_cell_words(item->name),
      [C_SUPPLIER] = pw_cell_words(o->supplier),
      /* as the workbook's formula rounds it */
      [C_NEED] = pw_cell_value(floor(pw_goods_amount(ev, item->unit, l->need) * 1e6 + 0.5) / 1e6),
      [C_UNIT] = pw_cell_words(unit),
      [C_UNIT_SAID] = pw_cell_words(*unit ? unit : "each"),
      [C_PACKS] = pw_cell_value(l->packs),
      [C_PACK] = pw_cell_words(o->pack),
      [C_PACK_SAID] = pw_cell_words(packs_said(t, o->pack, l->packs)),
      [C_PACK_OF] = pw_cell_words(pack_of),
      [C_PACKS_OF] = pw_cell_words(pw_table_words(t, "%d %s", l->packs, packs_said(t, pack_of, l->packs))),
      [C_AMOUNT] = pw_cell_both(pw_table_words(t, "%s", pw_format_amount(ev->units, item->unit, l->amount).s),
                                pw_goods_amount(ev, item->unit, l->amount)),
      [C_PIECES] = pw_cell_value(l->pieces),
      [C_KIND] = pw_cell_words(pw_view_category_word(item->category)),
      [C_CATEGORY] = pw_cell_words(pw_view_category_word(item->category)),
      [C_HOLDS] = pw_cell_value(pw_goods_amount(ev, item->unit, l->packs > 0 ? l->amount / l->packs : 0)),
      [C_PRICE] = pw_cell_value(l->unit_price_cents / (is_per_weight ? pw_in_weight(ev->units, 1) : 1)),
      [C_PER] = pw_cell_words(is_per_weight ? pw_unit_weight(ev->units) : o->pack),
      [C_COST] = pw_cell_value((double)l->cost_cents),
      [C_CURRENCY] = pw_cell_words(ev->currency)};
  dates(cells, t->plan, l);
  if (l->thaw_from_at_min != INT_MIN)
    cells[C_ITEM].more = pw_table_words(t, "freezer to fridge %s", pw_table_text(t, &COLUMNS[C_THAW], &cells[C_THAW]));
  if (!*unit)
    cells[C_NEED].role = cells[C_HOLDS].role = PW_G_COUNT;
  add(out, cells, (struct pw_goods_line){.kind = kind, .line = l, .is_per_weight = is_per_weight});
}

/* What a supplier asks beside the goods: together in the workbook, one by one in a list, so that its column adds up to what is spent. */
static void fee_row(struct pw_goods *out, const char *what, const struct pw_order *o, pw_cents cents, unsigned forms)
{
  struct pw_table_cell cells[N_COLUMNS];
  if (cents == 0)
    return;
  for (int c = 0; c < N_COLUMNS; c++)
    cells[c] = (struct pw_table_cell){.words = "", .role = PW_G_CELL};
  cells[C_ITEM] = pw_cell_words(what);
  cells[C_SUPPLIER].words = o->supplier;
  cells[C_KIND].words = "Delivery";
  cells[C_CATEGORY].words = "Deliveries";
  cells[C_COST] = pw_cell_value((double)cents);
  cells[C_CURRENCY].words = out->table.plan->event->currency;
  add(out, cells, (struct pw_goods_line){.kind = PW_GOODS_FEE});
  pw_table_only(&out->table, forms);
}

static void fee_rows(struct pw_goods *out, const struct pw_order *o)
{
  struct pw_told_table *t = &out->table;
  fee_row(out,
          o->top_up_cents > 0 ? pw_table_words(t, "Delivery, %s of it to reach the minimum order",
                                               pw_money_format(t->plan->event, o->top_up_cents).s)
                              : "Delivery",
          o, o->delivery_cents + o->top_up_cents, PW_FORM_GRID);
  fee_row(out, "Delivery", o, o->delivery_cents, PW_FORM_LIST);
  fee_row(out, "To reach the minimum order", o, o->top_up_cents, PW_FORM_LIST);
}

/* The list's line for a fuel: it has the dates; NULL when the list knows nothing of it. */
static const struct pw_purchase_line *fuel_dates(const struct pw_plan *plan, const struct pw_fuel_line *l)
{
  for (int i = 0; i < plan->purchase.n_lines; i++)
    if (plan->purchase.lines[i].item == plan->event->fuels[l->fuel].item)
      return &plan->purchase.lines[i];
  return NULL;
}

/* Wood and charcoal as the fuel plan buys them: whole packs, else by weight. */
static void fuel_row(struct pw_goods *out, const struct pw_fuel_line *l)
{
  struct pw_told_table *t = &out->table;
  const struct pw_event *ev = t->plan->event;
  const struct pw_fuel *fuel = &ev->fuels[l->fuel];
  const struct pw_offer *o = l->offer == PW_NONE ? NULL : &ev->items[fuel->item].offers[l->offer];
  bool is_packed = l->packs > 0;
  const char *unit = pw_unit_weight(ev->units);
  double weight = pw_in_weight(ev->units, l->buy_kg), price;
  if (is_packed)
    price = o ? (double)o->price_cents : round(fuel->price_cents_per_kg * l->pack_kg);
  else
    price = l->buy_kg > 0 ? (double)l->cost_cents / weight : 0;
  struct pw_table_cell cells[N_COLUMNS] = {
      [C_ITEM] = {.words = fuel->name, .more = pw_table_words(t, "%s", pw_fuel_measure(ev, l).s)},
      [C_SUPPLIER] = pw_cell_words(o ? o->supplier : ""),
      [C_NEED] = pw_cell_value(weight),
      [C_UNIT] = pw_cell_words(unit),
      [C_UNIT_SAID] = pw_cell_words(unit),
      [C_PACKS] = pw_cell_value(is_packed ? l->packs : 1),
      [C_PACK] = pw_cell_words(is_packed ? l->pack : "by weight"),
      [C_PACK_SAID] = pw_cell_words(is_packed ? packs_said(t, l->pack, l->packs) : "by weight"),
      [C_PACK_OF] = pw_cell_words(is_packed ? l->pack : "by weight"),
      [C_AMOUNT] = pw_cell_both(pw_table_words(t, "%s", pw_format_fuel(ev->units, l->buy_kg).s), weight),
      [C_KIND] = pw_cell_words("Wood, charcoal"),
      [C_CATEGORY] = pw_cell_words(pw_view_category_word(PW_CAT_FUEL)),
      [C_HOLDS] = pw_cell_value(is_packed ? pw_in_weight(ev->units, l->pack_kg) : weight),
      [C_PRICE] = pw_cell_value(price),
      [C_PER] = pw_cell_words(is_packed ? l->pack : unit),
      [C_COST] = pw_cell_value((double)l->cost_cents),
      [C_CURRENCY] = pw_cell_words(ev->currency)};
  dates(cells, t->plan, fuel_dates(t->plan, l));
  add(out, cells, (struct pw_goods_line){.kind = PW_GOODS_FUEL, .fuel = l, .is_per_weight = !is_packed});
}

/* ---- suppliers ---------------------------------------------------------------------------------------------- */

static int by_order_date(const void *a, const void *b)
{
  const struct pw_goods_supplier *x = a, *y = b;
  if (x->order_by_at_min != y->order_by_at_min)
    return x->order_by_at_min < y->order_by_at_min ? -1 : 1;
  return (x->rows[0] > y->rows[0]) - (x->rows[0] < y->rows[0]);
}

static struct pw_goods_supplier *supplier_of(struct pw_goods *out, const struct pw_purchase_line *l)
{
  const struct pw_plan *plan = out->table.plan;
  const char *name = plan->event->items[l->item].offers[l->offer].supplier;
  for (int i = 0; i < out->n_suppliers; i++)
    if (strcmp(out->suppliers[i].name, name) == 0)
      return &out->suppliers[i];
  struct pw_goods_supplier *s = &out->suppliers[out->n_suppliers++];
  *s = (struct pw_goods_supplier){.name = name,
                                  .order_by_at_min = INT_MAX,
                                  .rows = pw_arena_array(out->table.arena, (size_t)out->table.n_rows, sizeof *s->rows)};
  for (int i = 0; i < plan->purchase.n_orders; i++)
    if (strcmp(plan->purchase.orders[i].supplier, name) == 0) {
      s->order = &plan->purchase.orders[i];
      s->cents = s->order->delivery_cents + s->order->top_up_cents;
    }
  out->table.has_failed = out->table.has_failed || !s->rows;
  return s;
}

static void suppliers(struct pw_goods *out)
{
  struct pw_told_table *t = &out->table;
  out->suppliers = pw_arena_array(t->arena, (size_t)t->n_rows + 1, sizeof *out->suppliers);
  t->has_failed = t->has_failed || !out->suppliers;
  for (int row = 0; row < t->n_rows && !t->has_failed; row++) {
    const struct pw_purchase_line *l = out->lines[row].line;
    struct pw_goods_supplier *s = l ? supplier_of(out, l) : NULL;
    if (!s || t->has_failed)
      continue;
    int k = s->n_rows++;
    for (; k > 0 && out->lines[s->rows[k - 1]].line->deliver_at_min > l->deliver_at_min; k--)
      s->rows[k] = s->rows[k - 1];
    s->rows[k] = row;
    s->cents += l->cost_cents;
    s->order_by_at_min = l->order_by_at_min < s->order_by_at_min ? l->order_by_at_min : s->order_by_at_min;
  }
  if (!t->has_failed && out->n_suppliers > 1)
    qsort(out->suppliers, (size_t)out->n_suppliers, sizeof *out->suppliers, by_order_date);
}

pw_status pw_goods_make(struct pw_goods *out, const struct pw_plan *plan, struct pw_arena *arena)
{
  const struct pw_purchase *p = &plan->purchase;
  *out = (struct pw_goods){.table = pw_table_of(plan, arena, COLUMNS)};
  for (int kind = PW_GOODS_FOOD; kind <= PW_GOODS_OTHER; kind++)
    for (int i = 0; i < p->n_lines; i++) {
      enum pw_category category = plan->event->items[p->lines[i].item].category;
      bool is_fires = pw_is_pit_fuel(plan->event, p->lines[i].item);
      if ((category <= PW_CAT_DRINK ? PW_GOODS_FOOD : PW_GOODS_OTHER) == kind &&
          !is_fires) /* fires have rows of their own */
        goods_row(out, &p->lines[i], (enum pw_goods_kind)kind);
    }
  for (int i = 0; i < p->n_orders; i++)
    fee_rows(out, &p->orders[i]);
  for (int i = 0; i < plan->fuel.n_lines; i++)
    fuel_row(out, &plan->fuel.lines[i]);
  suppliers(out);
  out->cents[PW_GOODS_FOOD] = p->food_cents;
  out->cents[PW_GOODS_OTHER] = p->supplies_cents;
  for (int i = 0; i < plan->fuel.n_lines; i++)
    out->cents[PW_GOODS_FUEL] += plan->fuel.lines[i].cost_cents;
  return out->table.has_failed ? PW_ERR_MEMORY : PW_OK;
}
