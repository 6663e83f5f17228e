/* xlsx_buy.c - purchases by category and supplier.
 * Needs follow the inputs sheet; packs are rounded up and costs follow the prices, which are marked. */
#include "sheet/fuel_words.h"
#include "sheet/words.h"
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)
#define SHEET     "Purchases"
#define L_PER_GAL 3.785411784 /* exact: US gallon, NIST SP 811 (2008), B.8 */

/* What the buyer prints comes first; holdings, prices and costs are to the right of the printed page. */
enum {
  C_GOT,
  C_ITEM,
  C_SUPPLIER,
  C_NEED,
  C_UNIT,
  C_PACKS,
  C_PACK,
  C_ORDER,
  C_DELIVER,
  C_THAW,
  C_KIND,
  C_HOLDS,
  C_PRICE,
  C_PER,
  C_COST,
  N_COLS
};

/** One line as the sheet needs it, in the user's units. */
struct row {
  const char *item, *supplier, *pack, *unit, *per;
  double need, holds, price, per_amount; /* price is for per_amount of the unit */
  int packs;
  pw_cents cost_cents;
  const char *term;   /* how the need follows the inputs, in the item's unit; NULL: it does not */
  double per_unit;    /* the item's unit in the user's */
  const char *others; /* of several packs of an item the one that brings the rest: what the others bring */
  bool is_floor;      /* of several packs one of the others: no more of it than are full */
};

static double user_amount(const struct pw_event *ev, enum pw_unit unit, double amount)
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

static pw_cents cost_of(const struct row *r, double money_unit)
{
  return (pw_cents)floor(r->packs * (r->per_amount > 0 ? r->holds / r->per_amount : 1) * r->price * money_unit + 0.5 +
                         1e-7);
}

/** Which of an item's lines brings the rest: the one that is not used up, else the one with the smallest packs. */
static int rest_line(const struct book *b, int item)
{
  const struct pw_purchase *pu = &b->plan->purchase;
  int rest = PW_NONE, n = 0;
  for (int i = 0; i < pu->n_lines; i++) {
    const struct pw_purchase_line *l = &pu->lines[i], *best = rest == PW_NONE ? NULL : &pu->lines[rest];
    if (l->item != item || l->packs <= 0)
      continue;
    n++;
    bool is_left = l->need < l->amount - 1e-9, best_is_left = best && best->need < best->amount - 1e-9;
    if (!best || (is_left && !best_is_left) ||
        (is_left == best_is_left && l->amount / l->packs < best->amount / best->packs))
      rest = i;
  }
  return n > 1 ? rest : PW_NONE;
}

/** What the other lines of an item bring, as a sum of cells. */
static const char *others_of(struct book *b, int line, const int *row_of)
{
  const struct pw_purchase *pu = &b->plan->purchase;
  const char *sum = "";
  for (int i = 0; i < pu->n_lines; i++)
    if (i != line && pu->lines[i].item == pu->lines[line].item && pu->lines[i].packs > 0)
      sum = TEXT("%s%s%s*%s", sum, sum[0] ? "+" : "", pw_cell_name(b, row_of[i], C_PACKS),
                 pw_cell_name(b, row_of[i], C_HOLDS));
  return sum;
}

static double need_of_item(const struct book *b, int item)
{
  double sum = 0;
  for (int i = 0; i < b->plan->purchase.n_lines; i++)
    sum += b->plan->purchase.lines[i].item == item ? b->plan->purchase.lines[i].need : 0;
  return sum;
}

static struct row purchase_row(struct book *b, const struct pw_purchase_line *l, const int *row_of)
{
  const struct pw_event *ev = b->ev;
  const struct pw_item *item = &ev->items[l->item];
  const struct pw_offer *o = &item->offers[l->offer];
  double content = l->packs > 0 ? l->amount / l->packs : 0;
  struct row r = {.item = item->name,
                  .supplier = o->supplier,
                  .unit = user_unit(ev, item->unit),
                  .packs = l->packs,
                  .cost_cents = l->cost_cents};
  r.per_unit = user_amount(ev, item->unit, 1);
  int rest = rest_line(b, l->item), line = (int)(l - b->plan->purchase.lines);
  r.is_floor = rest != PW_NONE && rest != line;
  r.others = rest == line ? others_of(b, line, row_of) : NULL;
  r.term = pw_xlsx_need_term(b, l->item, r.others ? need_of_item(b, l->item) : l->need);
  r.need = floor(user_amount(ev, item->unit, l->need) * 1e6 + 0.5) / 1e6; /* as the formula rounds it */
  r.holds = user_amount(ev, item->unit, content);
  r.pack = o->is_by_weight && o->pieces > 1 ? TEXT("%s of %d", o->pack, o->pieces) : o->pack;
  r.price = l->unit_price_cents / b->money_unit;
  r.per = o->pack;
  if (o->is_by_weight && item->unit == PW_UNIT_KG) {
    r.price /= pw_in_weight(ev->units, 1);
    r.per = pw_unit_weight(ev->units);
    r.per_amount = 1;
  }
  return r;
}

static void row_write(struct book *b, struct sheet *s, const struct row *r)
{
  int n = s->row;
  enum style number = r->unit[0] ? ST_NUMBER2 : ST_COUNT;
  /* A line whose numbers cannot be had from a plain formula keeps the plan's own. */
  bool follows = r->holds > 0 && (r->is_floor ? floor(floor(r->need / r->holds * 1e6 + 0.5) / 1e6)
                                              : ceil(floor(r->need / r->holds * 1e6 + 0.5) / 1e6)) == r->packs;
  pw_put_text(s, n, C_GOT, "\xE2\x98\x90", ST_TICK);
  pw_put_text(s, n, C_ITEM, r->item, ST_TEXT_BOLD);
  pw_put_text(s, n, C_SUPPLIER, r->supplier, ST_TEXT);
  if (r->term && r->others)
    pw_put_formula(s, n, C_NEED, TEXT("=ROUND(MAX(0,%.15g*(%s)-(%s)),6)", r->per_unit, r->term, r->others), r->need,
                   number);
  else if (r->term)
    pw_put_formula(s, n, C_NEED, TEXT("=ROUND(%.15g*(%s),6)", r->per_unit, r->term), r->need, number);
  else
    pw_put_number(s, n, C_NEED, r->need, number);
  pw_put_text(s, n, C_UNIT, r->unit, ST_TEXT);
  if (r->term && follows)
    pw_put_formula(s, n, C_PACKS,
                   TEXT("=%s(ROUND(%s/%s,6),0)", r->is_floor ? "ROUNDDOWN" : "ROUNDUP", pw_cell_name(b, n, C_NEED),
                        pw_cell_name(b, n, C_HOLDS)),
                   r->packs, ST_COUNT_BOLD);
  else
    pw_put_number(s, n, C_PACKS, r->packs, ST_COUNT_BOLD);
  pw_put_text(s, n, C_PACK, r->pack, ST_TEXT);
  pw_put_number(s, n, C_HOLDS, r->holds, r->unit[0] ? ST_NUMBER2 : ST_COUNT);
  if (cost_of(r, b->money_unit) == r->cost_cents) {
    pw_put_number(s, n, C_PRICE, r->price, ST_INPUT_MONEY);
    pw_allow_numbers(s, n, C_PRICE, n, C_PRICE, 0, 1e7, false);
    pw_put_formula(
        s, n, C_COST,
        r->per_amount > 0
            ? TEXT("=ROUND(%s*%s*%s,%d)", pw_cell_name(b, n, C_PACKS), pw_cell_name(b, n, C_HOLDS),
                   pw_cell_name(b, n, C_PRICE), b->ev->money_digits)
            : TEXT("=ROUND(%s*%s,%d)", pw_cell_name(b, n, C_PACKS), pw_cell_name(b, n, C_PRICE), b->ev->money_digits),
        (double)r->cost_cents / b->money_unit, ST_MONEY);
  } else {
    pw_put_number(s, n, C_PRICE, r->price, ST_MONEY);
    pw_put_money(s, n, C_COST, r->cost_cents, ST_INPUT_MONEY);
  }
  pw_put_text(s, n, C_PER, r->per, ST_TEXT);
}

static const char *day_time(struct book *b, int at_min)
{
  return TEXT("%s %s", pw_view_day(b->view, at_min), pw_view_clock(b->view, at_min));
}

/** Kind and dates of a line; times that do not apply stay empty. */
static void dates_write(struct book *b, struct sheet *s, const char *kind, const struct pw_purchase_line *l)
{
  pw_put_text(s, s->row, C_KIND, kind, ST_LONG);
  pw_put_text(s, s->row, C_ORDER, l ? day_time(b, pw_words_order_by_at_min(b->plan, l)) : "", ST_LONG);
  pw_put_text(s, s->row, C_DELIVER, l ? day_time(b, l->deliver_at_min) : "", ST_LONG);
  pw_put_text(s, s->row, C_THAW, l && l->thaw_from_at_min != INT_MIN ? day_time(b, l->thaw_from_at_min) : "", ST_LONG);
}

/** Food or the rest, without the pits' fuel. */
static bool is_listed(const struct book *b, const struct pw_purchase_line *l, bool is_food)
{
  const struct pw_item *item = &b->ev->items[l->item];
  return (item->category <= PW_CAT_DRINK) == is_food &&
         !(item->category == PW_CAT_FUEL && pw_view_is_pit_fuel(b->ev, l->item));
}

/** Row of each line of the purchase list, from `row` on; NULL when memory is out. */
static int *rows_of(struct book *b, int row)
{
  const struct pw_purchase *pu = &b->plan->purchase;
  int *rows = pw_arena_array(b->view->arena, (size_t)pu->n_lines + 1, sizeof *rows);
  for (int is_food = 1; rows && is_food >= 0; is_food--)
    for (int i = 0; i < pu->n_lines; i++)
      if (is_listed(b, &pu->lines[i], is_food))
        rows[i] = row++;
  if (!rows)
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  return rows;
}

/** The lines of food or of the rest.  Returns the last row written, or -1. */
static int lines_write(struct book *b, struct sheet *s, bool is_food, const int *row_of)
{
  const struct pw_purchase *pu = &b->plan->purchase;
  int last = -1;
  for (int i = 0; i < pu->n_lines; i++) {
    const struct pw_purchase_line *l = &pu->lines[i];
    const struct pw_item *item = &b->ev->items[l->item];
    if (!row_of || !is_listed(b, l, is_food))
      continue;
    struct row r = purchase_row(b, l, row_of);
    row_write(b, s, &r);
    dates_write(b, s, pw_view_category_word(item->category), l);
    last = s->row++;
  }
  return last;
}

/** Fees of the deliveries and what is paid up to a least order.  Returns the last row written, or `last`. */
static int orders_write(struct book *b, struct sheet *s, int last)
{
  const struct pw_purchase *pu = &b->plan->purchase;
  for (int i = 0; i < pu->n_orders; i++) {
    const struct pw_order *o = &pu->orders[i];
    pw_cents cents = o->delivery_cents + o->top_up_cents;
    if (cents == 0)
      continue;
    for (int c = 0; c < N_COLS; c++)
      pw_put_blank(s, s->row, c, ST_TEXT);
    pw_put_text(s, s->row, C_ITEM,
                o->top_up_cents > 0
                    ? TEXT("Delivery, %s of it to reach the least order", pw_money_format(b->ev, o->top_up_cents).s)
                    : "Delivery",
                ST_TEXT_BOLD);
    pw_put_text(s, s->row, C_SUPPLIER, o->supplier, ST_TEXT);
    pw_put_text(s, s->row, C_KIND, "Delivery", ST_TEXT);
    pw_put_money(s, s->row, C_COST, cents, ST_INPUT_MONEY);
    last = s->row++;
  }
  return last;
}

/** The list's line for a fuel: it has the dates; NULL when the list knows nothing of it. */
static const struct pw_purchase_line *fuel_dates(const struct book *b, const struct pw_fuel_line *l)
{
  for (int i = 0; i < b->plan->purchase.n_lines; i++)
    if (b->plan->purchase.lines[i].item == b->ev->fuels[l->fuel].item)
      return &b->plan->purchase.lines[i];
  return NULL;
}

/** Wood and charcoal as the fuel plan buys them: whole packs, else by weight. */
static struct row fuel_row(struct book *b, const struct pw_fuel_line *l)
{
  const struct pw_event *ev = b->ev;
  const struct pw_fuel *fuel = &ev->fuels[l->fuel];
  const char *measure = TEXT("%s", pw_fuel_measure(ev, l).s);
  struct row r = {.item = measure[0] ? TEXT("%s, %s", fuel->name, measure) : fuel->name,
                  .supplier = "",
                  .unit = pw_unit_weight(ev->units),
                  .per = pw_unit_weight(ev->units),
                  .pack = "by weight",
                  .per_amount = 1,
                  .packs = 1,
                  .cost_cents = l->cost_cents};
  r.need = r.holds = pw_in_weight(ev->units, l->buy_kg);
  r.price = l->buy_kg > 0 ? (double)l->cost_cents / b->money_unit / r.holds : 0;
  if (l->offer != PW_NONE)
    r.supplier = ev->items[fuel->item].offers[l->offer].supplier;
  if (l->packs > 0) {
    r.pack = r.per = l->pack;
    r.packs = l->packs;
    r.holds = pw_in_weight(ev->units, l->pack_kg);
    r.price = (l->offer == PW_NONE ? round(fuel->price_cents_per_kg * l->pack_kg)
                                   : ev->items[fuel->item].offers[l->offer].price_cents) /
              b->money_unit;
    r.per_amount = 0;
  }
  return r;
}

/** Sum of a part of the table, below it. */
static void subtotal(struct book *b, struct sheet *s, const char *label, int first, int last, pw_cents cents,
                     const char *name)
{
  pw_put_merged(s, s->row, C_HOLDS, s->row, C_PER, label, ST_HEAD);
  if (last >= first)
    pw_put_formula(s, s->row, C_COST,
                   TEXT("=SUM(%s:%s)", pw_cell_name(b, first, C_COST), pw_cell_name(b, last, C_COST)),
                   (double)cents / b->money_unit, ST_MONEY_BOLD);
  else
    pw_put_number(s, s->row, C_COST, 0, ST_MONEY_BOLD);
  pw_book_name(b, name, SHEET, s->row++, C_COST);
}

void pw_xlsx_purchases_write(struct book *b)
{
  static const char *const heads[N_COLS] = {"Got",   "Item",  "Supplier", "Need",       "Unit",
                                            "Packs", "Pack",  "Order by", "Deliver by", "Thaw from",
                                            "Kind",  "Holds", "Price",    "per",        "Cost"};
  const struct pw_plan *plan = b->plan;
  bool thaws = false;
  for (int i = 0; i < plan->purchase.n_lines; i++)
    thaws |= plan->purchase.lines[i].thaw_from_at_min != INT_MIN;
  struct sheet s;
  pw_sheet_open(b, &s, SHEET, true);
  pw_sheet_columns(
      &s, (double[]){5.5, thaws ? 34 : 40, 25, 9, 5.5, 7, 15, 17.5, 17.5, thaws ? 17.5 : 11, 16, 9, 10, 9, 12}, N_COLS);
  s.print_col = thaws ? C_THAW : C_DELIVER;
  s.least_scale = 0.85;
  pw_sheet_title(&s, TEXT("Purchases: %s", b->ev->name),
                 "Amounts are rounded up once, at the end, to whole pieces and packs. Prices stand to the right and "
                 "are not printed.",
                 s.print_col);
  pw_sheet_head_row(&s, s.row, 2);
  int head = s.row++, food = s.row, *row_of = rows_of(b, food), last_food = lines_write(b, &s, true, row_of);
  int other = s.row, last_other = orders_write(b, &s, lines_write(b, &s, false, row_of));
  int fuel = s.row, last_fuel = -1;
  for (int i = 0; i < plan->fuel.n_lines; i++) {
    struct row r = fuel_row(b, &plan->fuel.lines[i]);
    row_write(b, &s, &r);
    dates_write(b, &s, "Wood, charcoal", fuel_dates(b, &plan->fuel.lines[i]));
    last_fuel = s.row++;
  }
  pw_sheet_table(&s, head, 0, s.row - 1, heads, N_COLS);
  static char box[] = "\xE2\x98\x90", tick[] = "\xE2\x98\x91", none[] = "n/a";
  static char *ticks[] = {box, tick, none, NULL};
  if (s.row > food)
    pw_allow_words(&s, food, C_GOT, s.row - 1, C_GOT, ticks);
  s.row++;
  subtotal(b, &s, "Food", food, last_food, plan->purchase.food_cents, "food_cost");
  subtotal(b, &s, "Disposables, supplies, deliveries", other, last_other, plan->purchase.supplies_cents,
           "supplies_cost");
  subtotal(b, &s, "Wood and charcoal", fuel, last_fuel, plan->fuel.cost_cents - plan->fuel.oven_cents, "fuel_cost");
  pw_put_merged(&s, s.row, C_HOLDS, s.row, C_PER, "To spend", ST_HEAD);
  pw_put_formula(&s, s.row, C_COST, "=food_cost+supplies_cost+fuel_cost",
                 (double)(plan->purchase.food_cents + plan->purchase.supplies_cents + plan->fuel.cost_cents -
                          plan->fuel.oven_cents) /
                     b->money_unit,
                 ST_MONEY_BOLD);
  pw_sheet_protect(&s);
  pw_sheet_close(&s);
}
