/* test_table.c - tables that stand on several sheets: what is added to one reaches every form that has a place for it, in that form's
 * order; every line of the cost and every row of what is bought is where it belongs. */
#include "planned.h"

#include "sheet/costs.h"
#include "sheet/goods.h"
#include "sheet/grid_pen.h"
#include "sheet/page/page.h"
#include "write/csv.h"
#include "write/text/text_page.h"
#include "write/text/text_sheets.h"

static const struct pw_table_column COLUMNS[] = {
    {PW_TABLE_WORDS, .page = {2, 1, 8, "thing"}, .grid = {1, "Thing"}},
    {PW_TABLE_MONEY, .page = {3, 1, 9, "cost"}, .grid = {3, "Cost", .formula = "=[Number]*2+[first row]+[last row]"}},
    {PW_TABLE_COUNT, .page = {1, 0, 4}, .grid = {2, "Number"}},
    {PW_TABLE_SHARE, .page = {4, 1, 6, "part"}, .grid = {4, "Part"}},
};
enum { N_COLUMNS = sizeof COLUMNS / sizeof *COLUMNS };

static const char *page_text(struct pw_told_table *t, struct pw_ctx *ctx)
{
  struct pw_page page = pw_page_open(t->plan, t->plan->event, ctx);
  struct pw_buf out = pw_buf_in(ctx->arena);
  pw_page_lay(&page, t);
  ck_assert_int_eq(pw_text_page(&out, &page), PW_OK);
  return pw_buf_text(&out);
}

/* The same table with a column and a row more: both forms have them, each in its own order, and nothing but the table was told. */
START_TEST(what_is_new_is_one_edit)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan =
      planned(planned_event("tests/data/events/garden-lunch.yaml", ctx), false, PW_EFFORT_QUICK, ctx);
  struct pw_view view = {.arena = ctx->arena};
  for (int more = 0; more <= 1; more++) {
    struct pw_grids grids = {.view = &view, .plan = plan, .ev = plan->event, .ctx = ctx, .money_unit = 100};
    struct pw_grid *g = &grids.grids[0];
    struct pw_told_table t = pw_table_open(plan, ctx->arena, COLUMNS, N_COLUMNS - 1 + more);
    *g = (struct pw_grid){.of = &grids, .stay_row = PW_NONE};
    OPEN("Try", 10, 10, 10, 10);
    pw_table_row(&t, NULL, pw_cell_words("ribs"), pw_cell_value(1250), pw_cell_both("four", 4), pw_cell_value(0.25));
    if (more)
      pw_table_row(&t, "over it", pw_cell_words("buns"), pw_cell_value(5), pw_cell_value(2), pw_cell_none());
    pw_table_row(&t, NULL, pw_cell_words("sum"));
    pw_table_only(&t, PW_FORM_PAGE);
    pw_grid_lay(g, &t);
    ck_assert(!view.failed);
    ck_assert_str_eq(page_text(&t, ctx),
                     more ? "     thing         cost   part\nfour ribs        €12.50   25 %\n  over it\n"
                            "   2 buns         €0.05\n     sum\n"
                          : "     thing         cost\nfour ribs        €12.50\n     sum\n");
    ck_assert_int_eq(g->n_rows, 2 + more); /* the sum is the page's own */
    ck_assert_int_eq(g->rows[1].n_cells, 3 + more);
    ck_assert(g->rows[1].cells[0].role == PW_G_CELL && g->rows[1].cells[1].role == PW_G_COUNT);
    ck_assert(g->rows[1].cells[1].value == 4 && g->rows[1].cells[2].value == 12.5);
    ck_assert_str_eq(g->rows[1].cells[2].formula, more ? "=B2*2+2+3" : "=B2*2+2+2");
    if (more)
      ck_assert(g->rows[1].cells[3].role == PW_G_PERCENT && g->rows[2].cells[3].role == PW_G_SKIP);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static const char *sheet_text(pw_status (*write)(struct pw_buf *, const struct pw_plan *, struct pw_ctx *),
                              const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_buf out = pw_buf_in(ctx->arena);
  ck_assert_int_eq(write(&out, plan, ctx), PW_OK);
  return pw_buf_text(&out);
}

/** Whether a cell of an owner's sheet says so. */
static bool grid_says(const struct pw_grids *grids, const char *name, const char *words)
{
  for (int i = 0; i < pw_grids_n(); i++)
    for (int r = 0; strcmp(grids->grids[i].name, name) == 0 && r < grids->grids[i].n_rows; r++)
      for (int c = 0; c < grids->grids[i].rows[r].n_cells; c++) {
        const char *text = grids->grids[i].rows[r].cells[c].text;
        if (text && strcmp(text, words) == 0)
          return true;
      }
  return false;
}

START_TEST(every_line_stands_in_every_form)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i], ctx), true, PW_EFFORT_QUICK, ctx);
  struct pw_view view;
  struct pw_grids grids;
  struct pw_goods goods;
  int n = 0, listed = 0;
  ck_assert_int_eq(pw_view_make(&view, plan, ctx), PW_OK);
  ck_assert_int_eq(pw_grids_make(&grids, &view, plan, ctx), PW_OK);
  ck_assert_int_eq(pw_goods_make(&goods, plan, ctx->arena), PW_OK);
  const struct pw_cost_line *lines = pw_cost_lines(&n);
  const char *costs = sheet_text(pw_text_quote_owner, plan, ctx), *bought = sheet_text(pw_text_buy, plan, ctx),
             *list = sheet_text(pw_csv_purchases_write, plan, ctx);
  pw_cents sum = 0;
  for (int i = 0; i < n; i++) {
    sum += pw_cost_of_quote(&lines[i], &plan->quote);
    ck_assert_msg(strstr(costs, lines[i].name) && grid_says(&grids, "Costs", lines[i].name), "%s", lines[i].name);
  }
  ck_assert_int_eq(sum, plan->quote.cost_cents);
  sum = 0;
  for (int row = 0; row < goods.table.n_rows; row++) {
    const struct pw_purchase_line *line = goods.lines[row].line;
    sum += goods.table.rows[row].forms & PW_FORM_LIST ? (pw_cents)pw_table_cell(&goods.table, row, "Cost")->value : 0;
    listed += (goods.table.rows[row].forms & PW_FORM_LIST) != 0;
    if (!line)
      continue;
    const char *name = plan->event->items[line->item].name;
    ck_assert_msg(grid_says(&grids, "Purchases", name) && strstr(list, name), "%s", name);
    ck_assert_msg(strstr(bought, strtok(pw_arena_strdup(ctx->arena, name), " ")), "%s", name);
  }
  for (const char *p = list; (p = strchr(p, '\n')); p++)
    listed--;
  ck_assert_int_eq(listed, -1); /* and the heads */
  ck_assert_int_eq(sum, goods.cents[PW_GOODS_FOOD] + goods.cents[PW_GOODS_OTHER] + goods.cents[PW_GOODS_FUEL]);
  int rows = 0;
  for (int i = 0; i < goods.n_suppliers; i++) {
    rows += goods.suppliers[i].n_rows;
    ck_assert(i == 0 || goods.suppliers[i - 1].order_by_at_min <= goods.suppliers[i].order_by_at_min);
    for (int k = 1; k < goods.suppliers[i].n_rows; k++)
      ck_assert_int_le(goods.lines[goods.suppliers[i].rows[k - 1]].line->deliver_at_min,
                       goods.lines[goods.suppliers[i].rows[k]].line->deliver_at_min);
  }
  for (int row = 0; row < goods.table.n_rows; row++)
    rows -= goods.lines[row].line != NULL;
  ck_assert_int_eq(rows, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/** Makes them all; false when memory ran out, which each has to notice. */
static bool made(const struct pw_plan *plan, struct pw_arena *arena)
{
  static struct pw_told_table (*const makers[])(const struct pw_plan *, struct pw_arena *) = {
      pw_costs_lines,     pw_costs_services, pw_costs_roles, pw_costs_dishes,
      pw_costs_suppliers, pw_costs_ladder,   pw_costs_levels};
  struct pw_goods goods;
  bool is_made = pw_goods_make(&goods, plan, arena) == PW_OK;
  for (size_t i = 0; i < sizeof makers / sizeof *makers && is_made; i++)
    is_made = !makers[i](plan, arena).has_failed;
  return is_made;
}

START_TEST(memory_may_run_out_anywhere)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan =
      planned(planned_event("tests/data/events/garden-lunch.yaml", ctx), true, PW_EFFORT_QUICK, ctx);
  long before = pw_arena_count(ctx->arena);
  ck_assert(made(plan, ctx->arena));
  long n = pw_arena_count(ctx->arena) - before;
  for (long k = 1; k <= n; k++) {
    pw_arena_fail_at(ctx->arena, k);
    ck_assert_msg(!made(plan, ctx->arena), "allocation %ld of %ld failed unnoticed", k, n);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("table");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 300);
  tcase_add_test(t, what_is_new_is_one_edit);
  tcase_add_loop_test(t, every_line_stands_in_every_form, 0, N_PLANNED_EVENTS);
  tcase_add_test(t, memory_may_run_out_anywhere);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
