/* grid_buy.c - purchases by category and supplier.
 * Needs follow the inputs sheet; packs are rounded up and costs follow the prices, which are marked. */
#include "sheet/fuel_words.h"
#include "sheet/grid_pen.h"
#include "sheet/words.h"

#include "base/arena.h"
#include "plan/buy/need_growth.h"

#include <limits.h>
#include <math.h>

#define L_PER_GAL 3.785411784 /* exact: US gallon, NIST SP 811 (2008), B.8 */

/* What the buyer looks at comes first; holdings, prices and costs are to the right. */
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
struct line {
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

static pw_cents cost_of(const struct line *r, double money_unit)
{
  return (pw_cents)floor(r->packs * (r->per_amount > 0 ? r->holds / r->per_amount : 1) * r->price * money_unit + 0.5 +
                         1e-7);
}

/** Which of an item's lines brings the rest: the one that is not used up, else the one with the smallest packs. */
static int rest_line(const struct pw_purchase *pu, int item)
{
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

/** What the other lines of an item bring, as a sum of cells; row_of: number of each line's row. */
static const char *others_of(struct pw_grid *g, int line, const int *row_of)
{
  const struct pw_purchase *pu = &g->of->plan->purchase;
  const char *sum = "";
  for (int i = 0; i < pu->n_lines; i++)
    if (i != line && pu->lines[i].item == pu->lines[line].item && pu->lines[i].packs > 0)
      sum = TEXT("%s%s%c%d*%c%d", sum, sum[0] ? "+" : "", 'A' + C_PACKS, row_of[i], 'A' + C_HOLDS, row_of[i]);
  return sum;
}

static double need_of_item(const struct pw_purchase *pu, int item)
{
  double sum = 0;
  for (int i = 0; i < pu->n_lines; i++)
    sum += pu->lines[i].item == item ? pu->lines[i].need : 0;
  return sum;
}

/** How the need of an item follows the inputs, in its own unit: a term of a formula whose value is `need` at the planned ones. */
static const char *need_term(struct pw_grid *g, int item, double need)
{
  const struct pw_purchase *pu = &g->of->plan->purchase;
  struct pw_need_growth p;
  const char *term = "";
  if (!g->of->raw_pieces || pw_need_growth(&p, g->of->plan, item, need, g->of->ctx) != PW_OK) {
    g->of->view->failed = true;
    return term;
  }
  if (p.fixed > 0)
    term = TEXT("%.15g", p.fixed);
  if (p.by_guest > 0)
    term = TEXT("%s%s%.15g*guest_scale", term, term[0] ? "+" : "", p.by_guest);
  if (p.by_root > 0)
    term = TEXT("%s%s%.15g*SQRT(guest_scale)", term, term[0] ? "+" : "", p.by_root);
  for (int r = 0; r < pu->n_raws; r++)
    if (p.by_piece[r] > 0)
      term = TEXT("%s%s%.15g*%s", term, term[0] ? "+" : "", p.by_piece[r], g->of->raw_pieces[r]);
  return term;
}

static struct line purchase_line(struct pw_grid *g, const struct pw_purchase_line *l, const int *row_of)
{
  const struct pw_event *ev = g->of->ev;
  const struct pw_purchase *pu = &g->of->plan->purchase;
  const struct pw_item *item = &ev->items[l->item];
  const struct pw_offer *o = &item->offers[l->offer];
  int rest = rest_line(pu, l->item), at = (int)(l - pu->lines);
  struct line r = {.item = item->name,
                   .supplier = o->supplier,
                   .unit = user_unit(ev, item->unit),
                   .packs = l->packs,
                   .cost_cents = l->cost_cents,
                   .per_unit = user_amount(ev, item->unit, 1),
                   .is_floor = rest != PW_NONE && rest != at,
                   .others = rest == at ? others_of(g, at, row_of) : NULL,
                   .need = floor(user_amount(ev, item->unit, l->need) * 1e6 + 0.5) / 1e6, /* as the formula rounds it */
                   .holds = user_amount(ev, item->unit, l->packs > 0 ? l->amount / l->packs : 0),
                   .pack = o->is_by_weight && o->pieces > 1 ? TEXT("%s of %d", o->pack, o->pieces) : o->pack,
                   .price = l->unit_price_cents / g->of->money_unit,
                   .per = o->pack};
  r.term = need_term(g, l->item, r.others ? need_of_item(pu, l->item) : l->need);
  if (o->is_by_weight && item->unit == PW_UNIT_KG) {
    r.price /= pw_in_weight(ev->units, 1);
    r.per = pw_unit_weight(ev->units);
    r.per_amount = 1;
  }
  return r;
}

static const char *day_time(struct pw_grid *g, int at_min)
{
  return TEXT("%s %s", pw_view_day(g->of->view, at_min), pw_view_clock(g->of->view, at_min));
}

/** A row of the list; l: its dates, NULL: none.  Times that do not apply stay empty. */
static void line_row(struct pw_grid *g, const struct line *r, const char *kind, const struct pw_purchase_line *l)
{
  double packs = r->holds > 0 ? floor(r->need / r->holds * 1e6 + 0.5) / 1e6 : -1;
  /* A line whose numbers cannot be had from a plain formula keeps the plan's own. */
  bool follows = r->term && packs >= 0 && (r->is_floor ? floor(packs) : ceil(packs)) == r->packs;
  bool is_priced = cost_of(r, g->of->money_unit) == r->cost_cents;
  struct pw_grid_cell cells[N_COLS] = {
      [C_GOT] = SAY(TICK, "\xE2\x98\x90"),
      [C_ITEM] = SAY(BOLD, r->item),
      [C_SUPPLIER] = SAY(CELL, r->supplier),
      [C_NEED] = r->unit[0] ? NUM(NUMBER2, r->need) : NUM(COUNT, r->need),
      [C_UNIT] = SAY(CELL, r->unit),
      [C_PACKS] = NUM(COUNT_BOLD, r->packs),
      [C_PACK] = SAY(CELL, r->pack),
      [C_ORDER] = SAY(LONG, l ? day_time(g, pw_words_order_by_at_min(g->of->plan, l)) : ""),
      [C_DELIVER] = SAY(LONG, l ? day_time(g, l->deliver_at_min) : ""),
      [C_THAW] = SAY(LONG, l && l->thaw_from_at_min != INT_MIN ? day_time(g, l->thaw_from_at_min) : ""),
      [C_KIND] = SAY(LONG, kind),
      [C_HOLDS] = r->unit[0] ? NUM(NUMBER2, r->holds) : NUM(COUNT, r->holds),
      [C_PRICE] = is_priced ? NUM(IN_MONEY, r->price) : NUM(MONEY, r->price),
      [C_PER] = SAY(CELL, r->per),
      [C_COST] = is_priced ? MONEY(r->cost_cents) : MONEY_AS(IN_MONEY, r->cost_cents),
  };
  if (r->term)
    cells[C_NEED].formula = r->others ? TEXT("=ROUND(MAX(0,%.15g*(%s)-(%s)),6)", r->per_unit, r->term, r->others)
                                      : TEXT("=ROUND(%.15g*(%s),6)", r->per_unit, r->term);
  if (follows)
    cells[C_PACKS].formula = TEXT("=%s(ROUND([Need]/[Holds],6),0)", r->is_floor ? "ROUNDDOWN" : "ROUNDUP");
  if (is_priced)
    cells[C_COST].formula =
        TEXT("=ROUND([Packs]*%s[Price],%d)", r->per_amount > 0 ? "[Holds]*" : "", g->of->ev->money_digits);
  pw_grid_row(g, cells, N_COLS);
  if (is_priced)
    pw_grid_numbers(g, 1, C_PRICE, C_PRICE, 0, 1e7, false);
}

/** Food or the rest, without the pits' fuel. */
static bool is_listed(const struct pw_event *ev, const struct pw_purchase_line *l, bool is_food)
{
  const struct pw_item *item = &ev->items[l->item];
  return (item->category <= PW_CAT_DRINK) == is_food &&
         !(item->category == PW_CAT_FUEL && pw_view_is_pit_fuel(ev, l->item));
}

/** The lines of food or of the rest. */
static void lines_part(struct pw_grid *g, bool is_food, const int *row_of)
{
  const struct pw_purchase *pu = &g->of->plan->purchase;
  for (int i = 0; i < pu->n_lines; i++) {
    if (!is_listed(g->of->ev, &pu->lines[i], is_food))
      continue;
    struct line r = purchase_line(g, &pu->lines[i], row_of);
    line_row(g, &r, pw_view_category_word(g->of->ev->items[pu->lines[i].item].category), &pu->lines[i]);
  }
}

/** Fees of the deliveries and what is paid up to a least order. */
static void orders_part(struct pw_grid *g)
{
  const struct pw_purchase *pu = &g->of->plan->purchase;
  for (int i = 0; i < pu->n_orders; i++) {
    const struct pw_order *o = &pu->orders[i];
    struct pw_grid_cell cells[N_COLS];
    if (o->delivery_cents + o->top_up_cents == 0)
      continue;
    for (int c = 0; c < N_COLS; c++)
      cells[c] = SAY(CELL, "");
    cells[C_ITEM] = SAY(BOLD, o->top_up_cents > 0 ? TEXT("Delivery, %s of it to reach the least order",
                                                         pw_money_format(g->of->ev, o->top_up_cents).s)
                                                  : "Delivery");
    cells[C_SUPPLIER] = SAY(CELL, o->supplier);
    cells[C_KIND] = SAY(CELL, "Delivery");
    cells[C_COST] = MONEY_AS(IN_MONEY, o->delivery_cents + o->top_up_cents);
    pw_grid_row(g, cells, N_COLS);
  }
}

/** The list's line for a fuel: it has the dates; NULL when the list knows nothing of it. */
static const struct pw_purchase_line *fuel_dates(const struct pw_grid *g, const struct pw_fuel_line *l)
{
  for (int i = 0; i < g->of->plan->purchase.n_lines; i++)
    if (g->of->plan->purchase.lines[i].item == g->of->ev->fuels[l->fuel].item)
      return &g->of->plan->purchase.lines[i];
  return NULL;
}

/** Wood and charcoal as the fuel plan buys them: whole packs, else by weight. */
static struct line fuel_line(struct pw_grid *g, const struct pw_fuel_line *l)
{
  const struct pw_event *ev = g->of->ev;
  const struct pw_fuel *fuel = &ev->fuels[l->fuel];
  const char *measure = TEXT("%s", pw_fuel_measure(ev, l).s);
  struct line r = {.item = measure[0] ? TEXT("%s, %s", fuel->name, measure) : fuel->name,
                   .supplier = "",
                   .unit = pw_unit_weight(ev->units),
                   .per = pw_unit_weight(ev->units),
                   .pack = "by weight",
                   .per_amount = 1,
                   .packs = 1,
                   .cost_cents = l->cost_cents};
  r.need = r.holds = pw_in_weight(ev->units, l->buy_kg);
  r.price = l->buy_kg > 0 ? (double)l->cost_cents / g->of->money_unit / r.holds : 0;
  if (l->offer != PW_NONE)
    r.supplier = ev->items[fuel->item].offers[l->offer].supplier;
  if (l->packs > 0) {
    r.pack = r.per = l->pack;
    r.packs = l->packs;
    r.holds = pw_in_weight(ev->units, l->pack_kg);
    r.price = (l->offer == PW_NONE ? round(fuel->price_cents_per_kg * l->pack_kg)
                                   : ev->items[fuel->item].offers[l->offer].price_cents) /
              g->of->money_unit;
    r.per_amount = 0;
  }
  return r;
}

/** Rows from..to of the table, as formulas count them. */
struct part {
  int first, last;
};

/** Sum of a part of the table, below it. */
static void subtotal(struct pw_grid *g, const char *label, struct part of, pw_cents cents, const char *name)
{
  char column = 'A' + C_COST;
  ROW(SKIP(C_HOLDS), OVER(SAY(HEAD, label), C_COST - C_HOLDS),
      NAMED(of.last >= of.first
                ? CALC(SUM, TEXT("=SUM(%c%d:%c%d)", column, of.first, column, of.last), pw_grid_major(g, cents))
                : NUM(SUM, 0),
            name));
}

/** Number of the row of each line of the purchase list, the first of which is `row`; NULL when memory is out. */
static int *rows_of(struct pw_grid *g, int row)
{
  const struct pw_purchase *pu = &g->of->plan->purchase;
  int *rows = pw_arena_array(g->of->view->arena, (size_t)pu->n_lines + 1, sizeof *rows);
  for (int is_food = 1; rows && is_food >= 0; is_food--)
    for (int i = 0; i < pu->n_lines; i++)
      if (is_listed(g->of->ev, &pu->lines[i], is_food))
        rows[i] = row++;
  if (!rows)
    g->of->view->failed = true;
  return rows;
}

void pw_grid_buy(struct pw_grid *g)
{
  static const char *const heads[N_COLS] = {"Got",   "Item",  "Supplier", "Need",       "Unit",
                                            "Packs", "Pack",  "Order by", "Deliver by", "Thaw from",
                                            "Kind",  "Holds", "Price",    "per",        "Cost"};
  static const char *const ticks[] = {"\xE2\x98\x90", "\xE2\x98\x91", "n/a", NULL};
  const struct pw_plan *plan = g->of->plan;
  bool thaws = false;
  for (int i = 0; i < plan->purchase.n_lines; i++)
    thaws |= plan->purchase.lines[i].thaw_from_at_min != INT_MIN;
  OPEN("Purchases", 5.5, thaws ? 34 : 40, 25, 9, 5.5, 7, 15, 17.5, 17.5, thaws ? 17.5 : 11, 16, 9, 10, 9, 12);
  g->is_landscape = g->is_protected = true;
  g->last_col = thaws ? C_THAW : C_DELIVER;
  pw_grid_title(g, TEXT("Purchases: %s", g->of->ev->name),
                "Amounts are rounded up once, at the end, to whole pieces and packs. Prices stand to the right and "
                "are not printed.");
  pw_grid_heads(g, heads, N_COLS);
  pw_grid_stay(g, 2);
  const int *row_of = rows_of(g, pw_grid_next(g));
  if (!row_of)
    return;
  struct part food = {.first = pw_grid_next(g)}, other, fuel;
  lines_part(g, true, row_of);
  other.first = pw_grid_next(g);
  lines_part(g, false, row_of);
  orders_part(g);
  fuel.first = pw_grid_next(g);
  for (int i = 0; i < plan->fuel.n_lines; i++) {
    struct line r = fuel_line(g, &plan->fuel.lines[i]);
    line_row(g, &r, "Wood, charcoal", fuel_dates(g, &plan->fuel.lines[i]));
  }
  food.last = other.first - 1;
  other.last = fuel.first - 1;
  fuel.last = pw_grid_next(g) - 1;
  pw_grid_table(g);
  pw_grid_words(g, pw_grid_next(g) - food.first, C_GOT, C_GOT, ticks);
  pw_grid_gap(g);
  pw_cents fires_cents = plan->fuel.cost_cents - plan->fuel.oven_cents;
  subtotal(g, "Food", food, plan->purchase.food_cents, "food_cost");
  subtotal(g, "Disposables, supplies, deliveries", other, plan->purchase.supplies_cents, "supplies_cost");
  subtotal(g, "Wood and charcoal", fuel, fires_cents, "fuel_cost");
  ROW(SKIP(C_HOLDS), OVER(SAY(HEAD, "To spend"), C_COST - C_HOLDS),
      CALC(SUM, "=food_cost+supplies_cost+fuel_cost",
           pw_grid_major(g, plan->purchase.food_cents + plan->purchase.supplies_cents + fires_cents)));
}
