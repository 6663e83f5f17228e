/* test_grid.c - the owner's sheets as data: places in formulas, and on planned events that every formula finds what it names. */
#include "planned.h"

#include "sheet/grid_pen.h"
#include "sheet/sheet.h"

#include <ctype.h>

static struct pw_ctx *ctx;
static struct pw_view view;
static struct pw_grids grids;
static struct pw_grid *g;

/** An empty sheet that no plan made. */
static void sheet_open(void)
{
  ctx = pw_test_ctx();
  view = (struct pw_view){.arena = ctx->arena};
  grids = (struct pw_grids){.view = &view, .money_unit = 100};
  g = &grids.grids[0];
  *g = (struct pw_grid){.of = &grids, .stay_row = PW_NONE};
  OPEN("Try", 10, 10, 10);
}

static const struct {
  const char *name, *formula, *want;
} places[] = {
    {"none", "=tax_rate*2", "=tax_rate*2"},
    {"its row", "=B#+C#", "=B3+C3"},
    {"under a head", "=[Price]*2", "=B3*2"},
    {"after a head over two columns", "=[Sum]/[Price]", "=D3/B3"},
    {"both", "=SUM(B1:B#)-[Sum]", "=SUM(B1:B3)-D3"},
    {"no such head", "=[Prise]*2", "=[Prise]*2"},
    {"a head's beginning", "=[Pri]", "=[Pri]"},
    {"not closed", "=[Price", "=[Price"},
    {"at the end", "=2*#", "=2*3"},
};

START_TEST(formulas_find_their_places)
{
  sheet_open();
  pw_grid_gap(g);
  ROW(SAY(HEAD, "What"), OVER(SAY(HEAD, "Price"), 2), SAY(HEAD, "Sum"));
  g->heads_row = 1;
  ROW(SAY(CELL, "a"), CALC(MONEY, places[_i].formula, 4));
  ck_assert_msg(strcmp(g->rows[2].cells[1].formula, places[_i].want) == 0, "%s: %s", places[_i].name,
                g->rows[2].cells[1].formula);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(rows_limits_and_tables)
{
  static const char *const words[] = {"yes", "no", NULL};
  sheet_open();
  pw_grid_title(g, "A", "b");
  HEADS("What", "Price", "Sum");
  pw_grid_stay(g, 1);
  ROW(SAY(CELL, "x"), SKIP(1), MONEY(250));
  ROW(SAY(CELL, "y"), NAMED(MONEY_AS(IN_MONEY, -5), "cost_total"), SAY(CELL, ""));
  pw_grid_numbers(g, 2, 1, 2, 0, 9, true);
  pw_grid_words(g, 1, 0, 0, words);
  pw_grid_words(g, 0, 0, 0, words); /* of no rows: none */
  pw_grid_table(g);
  pw_grid_keep(g);
  pw_grid_page(g);
  ck_assert(g->n_rows == 6 && pw_grid_next(g) == 7 && g->rows[2].n_cells == 0 && g->rows[0].cells[0].over == 2);
  ck_assert(g->stay_row == 3 && g->stay_cols == 1 && g->rows[3].keeps && !g->rows[4].keeps);
  ck_assert(g->rows[5].keeps && g->rows[5].is_page_start && g->rows[4].cells[1].role == PW_G_SKIP);
  ck_assert(g->rows[4].cells[2].value == 2.5 && g->rows[5].cells[1].value == -0.05);
  ck_assert_str_eq(g->rows[5].cells[1].name, "cost_total");
  ck_assert(g->n_limits == 2 && g->limits[0].r0 == 4 && g->limits[0].r1 == 5 && !g->limits[0].words);
  ck_assert(g->limits[1].r0 == 5 && g->limits[1].words == words && g->n_tables == 1);
  ck_assert(g->tables[0].head == 3 && g->tables[0].last == 5);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(lack_of_memory_is_remembered)
{
  int failed = 0, last = -1;
  for (long k = 1; last != 0; k++) {
    sheet_open();
    bool opened = !view.failed;
    pw_arena_fail_at(ctx->arena, k);
    HEADS("What", "Price");
    ROW(SAY(CELL, "x"), CALC(MONEY, "=[Price]+#", 1));
    pw_grid_numbers(g, 1, 1, 1, 0, 9, false);
    pw_grid_table(g);
    ck_assert(opened && (view.failed || (g->n_rows == 2 && g->n_limits == 1 && g->n_tables == 1)));
    last = view.failed;
    failed += last;
    pw_test_ctx_free(ctx);
  }
  ck_assert_int_ge(failed, 1);
}
END_TEST

/** Whether some cell of any sheet has that name, n characters of it. */
static int n_named(const char *name, size_t n)
{
  int found = 0;
  for (int i = 0; i < pw_grids_n(); i++)
    for (int r = 0; r < grids.grids[i].n_rows; r++)
      for (int c = 0; c < grids.grids[i].rows[r].n_cells; c++) {
        const char *said = grids.grids[i].rows[r].cells[c].name;
        found += said && strncmp(said, name, n) == 0 && said[n] == '\0';
      }
  return found;
}

/** Cells a formula calls by name are there, those it calls by place have something in them. */
static void formula_check(const struct pw_grid *grid, const char *formula)
{
  ck_assert_msg(formula[0] == '=' && !strpbrk(formula, "#[]"), "%s: %s", grid->name, formula);
  int depth = 0;
  for (const char *p = formula; *p; p++) {
    if (*p == '"' || *p == '\'') /* words; a sheet's name */
      p += 1 + strcspn(p + 1, *p == '"' ? "\"" : "'");
    depth += (*p == '(') - (*p == ')');
    if (!isalpha((unsigned char)*p))
      continue;
    size_t n = strspn(p, "abcdefghijklmnopqrstuvwxyz_");
    if (n > 0)
      ck_assert_msg(n_named(p, n) == 1, "%s: no name %.*s: %s", grid->name, (int)n, p, formula);
    else if (isdigit((unsigned char)p[1]) && p[-1] != '$' && p[-1] != '!') {
      int row = atoi(p + 1) - 1, at = 0, c = 0;
      ck_assert_msg(row >= 0 && row < grid->n_rows, "%s: no row %d: %s", grid->name, row + 1, formula);
      for (; c < grid->rows[row].n_cells && at < *p - 'A'; c++)
        at += 1 + grid->rows[row].cells[c].over;
      ck_assert_msg(c < grid->rows[row].n_cells && grid->rows[row].cells[c].role != PW_G_SKIP,
                    "%s: nothing in %c%d: %s", grid->name, *p, row + 1, formula);
    }
    p += strspn(p, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz_0123456789$") - 1;
  }
  ck_assert_msg(depth == 0, "%s: %s", grid->name, formula);
}

/** Cells of a drawing stand on rows that are there, over no other one, and none is wider than the sheet. */
static void drawing_check(const struct pw_grid *grid, struct pw_arena *arena)
{
  bool *is_taken = pw_arena_array(arena, (size_t)grid->n_rows * (size_t)grid->n_columns, sizeof *is_taken);
  ck_assert_ptr_nonnull(is_taken);
  for (int i = 0; i < grid->n_spots; i++) {
    const struct pw_grid_spot *s = &grid->spots[i];
    ck_assert(s->row >= 0 && s->row + s->cell.down < grid->n_rows && grid->rows[s->row].n_cells == 0);
    ck_assert(s->col >= 0 && s->col + s->cell.over < grid->n_columns && s->edges < PW_GRID_EDGES);
    for (int r = s->row; r <= s->row + s->cell.down; r++)
      for (int c = s->col; c <= s->col + s->cell.over; c++) {
        ck_assert_msg(!is_taken[r * grid->n_columns + c], "%s: two cells in row %d", grid->name, r + 1);
        is_taken[r * grid->n_columns + c] = true;
      }
  }
}

START_TEST(formulas_of_planned_events_find_what_they_name)
{
  struct pw_sheets sheets;
  int n_formulas = 0;
  ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i], ctx), true, PW_EFFORT_QUICK, ctx);
  ck_assert_int_eq(pw_sheets_make(&sheets, plan, ctx), PW_OK);
  ck_assert_int_eq(pw_grids_make(&grids, &sheets.view, plan, ctx), PW_OK);
  for (int i = 0; i < pw_grids_n(); i++) {
    const struct pw_grid *grid = &grids.grids[i];
    for (int k = 0; k < i; k++)
      ck_assert_str_ne(grid->name, grids.grids[k].name);
    ck_assert(strlen(grid->name) <= 31 && grid->n_columns > 0 && grid->n_rows > 3);
    for (int r = 0; r < grid->n_rows; r++)
      for (int c = 0, at = 0; c < grid->rows[r].n_cells; at += 1 + grid->rows[r].cells[c++].over) {
        const struct pw_grid_cell *cell = &grid->rows[r].cells[c];
        ck_assert_msg(cell->role == PW_G_SKIP || at + cell->over < grid->n_columns,
                      "%s: row %d is wider than the sheet", grid->name, r + 1);
        ck_assert(r + cell->down < grid->n_rows && (!cell->texts || (cell->texts[0] && cell->lines > 0)));
        ck_assert_msg(!cell->name || n_named(cell->name, strlen(cell->name)) == 1, "%s twice", cell->name);
        if (cell->formula)
          formula_check(grid, cell->formula);
        n_formulas += cell->formula != NULL;
      }
    for (int k = 0; k < grid->n_tables; k++)
      for (int r = grid->tables[k].head; r <= grid->tables[k].last; r++)
        for (int c = 0; c < grid->rows[r].n_cells; c++)
          ck_assert_msg(grid->rows[r].cells[c].over == 0, "%s: a table with a wide cell", grid->name);
    drawing_check(grid, ctx->arena);
    for (int k = 0; k < grid->n_limits; k++)
      ck_assert(grid->limits[k].r0 >= 0 && grid->limits[k].r1 < grid->n_rows &&
                (grid->limits[k].words || grid->limits[k].low < grid->limits[k].high));
  }
  ck_assert_int_ge(n_formulas, 50);
  /* every piece on a rack is drawn when it goes on, by its name */
  int n_new = 0, n_on = 0;
  for (int i = 0; i < pw_grids_n(); i++)
    for (int k = 0; k < grids.grids[i].n_spots; k++)
      n_new += grids.grids[i].spots[k].cell.role == PW_G_MAP_NEW;
  for (int i = 0; i < plan->allocation.n_loads; i++)
    n_on += plan->allocation.loads[i].zone != PW_NONE ? plan->allocation.loads[i].pieces : 0;
  ck_assert_int_gt(n_on, 0);
  ck_assert_int_eq(n_new, n_on);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("grid");
  TCase *t = tcase_create("pen");
  tcase_add_loop_test(t, formulas_find_their_places, 0, (int)(sizeof places / sizeof *places));
  tcase_add_test(t, rows_limits_and_tables);
  tcase_add_test(t, lack_of_memory_is_remembered);
  suite_add_tcase(s, t);
  t = tcase_create("planned events");
  tcase_add_loop_test(t, formulas_of_planned_events_find_what_they_name, 0, N_PLANNED_EVENTS);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
