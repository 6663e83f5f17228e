/* grid_buy.c - purchases by category and supplier (goods.h).
 * Needs follow the inputs sheet; packs are rounded up and costs follow the prices, which are marked. */
#include "sheet/goods.h"
#include "sheet/grid_pen.h"

#include "base/arena.h"
#include "base/format.h"
#include "plan/buy/need_growth.h"

#include <limits.h>
#include <math.h>
#include <string.h>

/** Where the column with a head stands, from 0, and its letter. */
static int place_of(const struct pw_goods *goods, const char *head)
{
  int c = 0;
  while (!goods->table.columns[c].grid.head || strcmp(goods->table.columns[c].grid.head, head) != 0)
    c++;
  return goods->table.columns[c].grid.at - 1;
}

static char column_of(const struct pw_goods *goods, const char *head) { return (char)('A' + place_of(goods, head)); }

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
static const char *others_of(struct pw_grid *g, const struct pw_goods *goods, int line, const int *row_of)
{
  const struct pw_purchase *pu = &g->of->plan->purchase;
  char packs = column_of(goods, "Packs"), holds = column_of(goods, "Holds");
  const char *sum = "";
  for (int i = 0; i < pu->n_lines; i++)
    if (i != line && pu->lines[i].item == pu->lines[line].item && pu->lines[i].packs > 0)
      sum = TEXT("%s%s%c%d*%c%d", sum, sum[0] ? "+" : "", packs, row_of[i], holds, row_of[i]);
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

/** The formulas of a row; true when its price may be changed. */
static bool follow(struct pw_grid *g, struct pw_goods *goods, int row, const int *row_of)
{
  struct pw_told_table *t = &goods->table;
  const struct pw_goods_line *of = &goods->lines[row];
  struct pw_table_cell *need = pw_table_cell(t, row, "Need"), *packs = pw_table_cell(t, row, "Packs"),
                       *holds = pw_table_cell(t, row, "Holds"), *price = pw_table_cell(t, row, "Price"),
                       *cost = pw_table_cell(t, row, "Cost");
  if (of->kind == PW_GOODS_FEE) {
    cost->role = PW_G_IN_MONEY;
    return false;
  }
  const struct pw_purchase *pu = &g->of->plan->purchase;
  int line = of->line ? (int)(of->line - pu->lines) : PW_NONE,
      rest = of->line ? rest_line(pu, of->line->item) : PW_NONE;
  bool is_floor = rest != PW_NONE && rest != line; /* of several packs one of the others: no more of it than are full */
  const char *term = NULL;
  if (of->line) {
    bool is_rest = rest == line;
    double per_unit = pw_goods_amount(g->of->ev, g->of->ev->items[of->line->item].unit, 1);
    term = need_term(g, of->line->item, is_rest ? need_of_item(pu, of->line->item) : of->line->need);
    need->formula = is_rest
                        ? TEXT("=ROUND(MAX(0,%.15g*(%s)-(%s)),6)", per_unit, term, others_of(g, goods, line, row_of))
                        : TEXT("=ROUND(%.15g*(%s),6)", per_unit, term);
  }
  /* A line whose numbers cannot be had from a plain formula keeps the plan's own. */
  double n = holds->value > 0 ? floor(need->value / holds->value * 1e6 + 0.5) / 1e6 : -1;
  if (term && n >= 0 && (is_floor ? floor(n) : ceil(n)) == packs->value)
    packs->formula = TEXT("=%s(ROUND([Need]/[Holds],6),0)", is_floor ? "ROUNDDOWN" : "ROUNDUP");
  double cents = packs->value * (of->is_per_weight ? holds->value : 1) * price->value;
  bool is_priced = floor(cents + 0.5 + 1e-7) == cost->value;
  price->role = is_priced ? PW_G_IN_MONEY : PW_G_MONEY;
  if (is_priced)
    cost->formula = TEXT("=ROUND([Packs]*%s[Price],[digits])", of->is_per_weight ? "[Holds]*" : "");
  else
    cost->role = PW_G_IN_MONEY;
  return is_priced;
}

/** Sum of the rows first..last of a column, below them. */
static void subtotal(struct pw_grid *g, const struct pw_goods *goods, const char *label, int first, int last,
                     pw_cents cents, const char *name)
{
  char column = column_of(goods, "Cost");
  int before = place_of(goods, "Holds"), wide = place_of(goods, "Cost") - before;
  ROW(SKIP(before), OVER(SAY(HEAD, label), wide),
      NAMED(last >= first ? CALC(SUM, TEXT("=SUM(%c%d:%c%d)", column, first, column, last), pw_grid_major(g, cents))
                          : NUM(SUM, 0),
            name));
}

/** Number of the row of each line of the purchase list, the first of the table's rows being `first`; NULL when memory is out. */
static int *rows_of(struct pw_grid *g, const struct pw_goods *goods, int first)
{
  const struct pw_purchase *pu = &g->of->plan->purchase;
  int *rows = pw_arena_array(g->of->view->arena, (size_t)pu->n_lines + 1, sizeof *rows);
  for (int row = 0; rows && row < goods->table.n_rows; row++)
    if (goods->lines[row].line)
      rows[goods->lines[row].line - pu->lines] = first + row; /* rows of other forms come after them */
  return rows;
}

/** The sheet's columns: those of the table, wider where there is nothing to thaw. */
static void open_sheet(struct pw_grid *g, const struct pw_goods *goods)
{
  double widths[PW_TABLE_COLUMNS_MAX];
  int n = 0;
  bool thaws = false;
  for (int i = 0; i < g->of->plan->purchase.n_lines; i++)
    thaws |= g->of->plan->purchase.lines[i].thaw_from_at_min != INT_MIN;
  for (int c = 0; c < goods->table.n_columns; c++) {
    const struct pw_table_column *column = &goods->table.columns[c];
    if (column->grid.at > 0)
      widths[column->grid.at - 1] = column->grid.width;
    n += column->grid.at > 0;
  }
  if (thaws) {
    widths[place_of(goods, "Item")] = 34;
    widths[place_of(goods, "Thaw from")] = widths[place_of(goods, "Deliver by")];
  }
  pw_grid_open(g, "Purchases", widths, n);
  g->last_col = place_of(goods, thaws ? "Thaw from" : "Deliver by");
}

void pw_grid_buy(struct pw_grid *g)
{
  static const char *const ticks[] = {"\xE2\x98\x90", "\xE2\x98\x91", "n/a", NULL};
  static const char *const names[PW_GOODS__COUNT] = {"food_cost", "supplies_cost", NULL, "fuel_cost"};
  struct pw_goods goods;
  if (pw_goods_make(&goods, g->of->plan, g->of->view->arena) != PW_OK) {
    g->of->view->failed = true;
    return;
  }
  open_sheet(g, &goods);
  g->is_landscape = g->is_protected = true;
  pw_grid_title(g, TEXT("Purchases: %s", g->of->ev->name),
                "Amounts are rounded up once, at the end, to whole pieces and packs. Prices stand to the right and "
                "are not printed.");
  pw_grid_lay_heads(g, &goods.table);
  pw_grid_stay(g, 2);
  int first = pw_grid_next(g), last[PW_GOODS__COUNT] = {0}, price = place_of(&goods, "Price"),
      got = place_of(&goods, "Got");
  const int *row_of = rows_of(g, &goods, first);
  if (!row_of) {
    g->of->view->failed = true;
    return;
  }
  for (int row = 0, kind = 0; row <= goods.table.n_rows; row++) {
    for (; kind < PW_GOODS__COUNT && (row == goods.table.n_rows || (int)goods.lines[row].kind > kind); kind++)
      last[kind] = pw_grid_next(g) - 1;
    if (row == goods.table.n_rows || !(goods.table.rows[row].forms & PW_FORM_GRID))
      continue;
    bool is_priced = follow(g, &goods, row, row_of);
    if (goods.lines[row].kind == PW_GOODS_FUEL) { /* how much that is stands beside its name */
      struct pw_table_cell *item = pw_table_cell(&goods.table, row, "Item");
      item->words = item->more[0] ? TEXT("%s, %s", item->words, item->more) : item->words;
    }
    pw_grid_lay_row(g, &goods.table, row, first);
    if (is_priced)
      pw_grid_numbers(g, 1, price, price, 0, 1e7, false);
  }
  pw_grid_table(g);
  pw_grid_words(g, pw_grid_next(g) - first, got, got, ticks);
  pw_grid_gap(g);
  pw_cents all = 0;
  for (int kind = 0, from = first; kind < PW_GOODS__COUNT; kind++) {
    if (kind == PW_GOODS_OTHER) /* fees are among them */
      continue;
    enum pw_goods_kind sum = kind == PW_GOODS_FEE ? PW_GOODS_OTHER : (enum pw_goods_kind)kind;
    subtotal(g, &goods, pw_goods_called(sum), from, last[kind], goods.cents[sum], names[sum]);
    from = last[kind] + 1;
    all += goods.cents[sum];
  }
  int before = place_of(&goods, "Holds");
  ROW(SKIP(before), OVER(SAY(HEAD, "To spend"), place_of(&goods, "Cost") - before),
      CALC(SUM, "=food_cost+supplies_cost+fuel_cost", pw_grid_major(g, all)));
}
