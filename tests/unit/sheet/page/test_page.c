/* test_page.c - pages as data: the pen keeps what it was given, tables have the cells that were declared, every maker's page is whole. */
#include "harness.h"
#include "planned.h"

#include "base/arena.h"
#include "sheet/page/pages.h"

#include <string.h>

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

static const struct pw_page_column TWO[] = {{2, 10, PW_CELL_WHAT, "thing"}, {1, 6, PW_CELL_AMOUNT, ""}};

START_TEST(the_pen_copies)
{
  char text[] = "before";
  struct pw_page_column columns[] = {{0, 9, PW_CELL_WHAT, text}};
  struct pw_page page = pw_page_open(NULL, NULL, ctx);
  pw_page_title(&page, text, text);
  pw_page_pair(&page, 2, text, text);
  pw_page_say(&page, 2, 4, "%s %d", text, 7);
  pw_page_table_of(&page, columns);
  pw_page_row(&page, text);
  memcpy(text, "after!", sizeof text);
  columns[0].chars = 1;
  ck_assert_int_eq(pw_page_done(&page), PW_OK);
  ck_assert_int_eq(page.n_lines, 5);
  ck_assert_str_eq(page.lines[0].right, "before");
  ck_assert_str_eq(page.lines[1].left, "before");
  ck_assert_str_eq(page.lines[2].left, "before 7");
  ck_assert_str_eq(page.lines[3].cells[0], "before");
  ck_assert_int_eq(page.lines[4].table->columns[0].chars, 9);
  ck_assert_str_eq(page.lines[4].table->columns[0].head, "before");
  ck_assert_str_eq(page.lines[4].cells[0], "before");
}
END_TEST

START_TEST(a_row_has_the_cells_of_its_table)
{
  struct pw_page page = pw_page_open(NULL, NULL, ctx);
  pw_page_table_of(&page, TWO);
  pw_page_row(&page, "one");
  pw_page_row_in(&page, 3, "one", "two", "too many");
  ck_assert_int_eq(pw_page_done(&page), PW_OK);
  ck_assert_int_eq(page.lines[0].kind, PW_PAGE_HEADS);
  ck_assert_str_eq(page.lines[0].cells[0], "thing");
  ck_assert_str_eq(page.lines[1].cells[1], "");
  ck_assert_int_eq(page.lines[2].indent, 3);
  ck_assert_int_eq(page.lines[2].table->n, 2);
  ck_assert_str_eq(page.lines[2].cells[1], "two");
}
END_TEST

START_TEST(heads_only_where_there_are_some)
{
  static const struct pw_page_column bare[] = {{2, 10, PW_CELL_WHAT, ""}, {1, 6, PW_CELL_AMOUNT, ""}};
  struct pw_page page = pw_page_open(NULL, NULL, ctx);
  pw_page_table_of(&page, bare);
  ck_assert_int_eq(page.n_lines, 0);
  pw_page_row(&page, "a", "1");
  pw_page_head(&page, "between");
  pw_page_row(&page, "b", "2");
  ck_assert_ptr_eq(page.lines[0].table, page.lines[2].table);
}
END_TEST

START_TEST(mistakes_of_a_maker_are_no_pages)
{
  static const struct pw_page_column many[PW_PAGE_TABLE_MAX + 1] = {{0, 1, PW_CELL_WHAT, ""}};
  struct pw_page none = pw_page_open(NULL, NULL, ctx), wide = none, missing = none;
  pw_page_row(&none, "a row of no table");
  ck_assert_int_eq(pw_page_done(&none), PW_ERR_MEMORY);
  pw_page_table(&wide, many, PW_PAGE_TABLE_MAX + 1);
  ck_assert_int_eq(pw_page_done(&wide), PW_ERR_MEMORY);
  ck_assert_str_eq(pw_page_made(&missing, NULL), "");
  ck_assert_int_eq(pw_page_done(&missing), PW_ERR_MEMORY);
}
END_TEST

typedef pw_status (*maker)(struct pw_page *, const struct pw_plan *, struct pw_ctx *);
static const maker MAKERS[] = {pw_page_plan, pw_page_offer, pw_page_costs, pw_page_buy};
enum { N_MAKERS = sizeof MAKERS / sizeof *MAKERS };

/* The same in every format: a title first of all but a letterhead, and every line with the words its kind has. */
START_TEST(each_page_is_whole)
{
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i / N_MAKERS], ctx), true, PW_EFFORT_QUICK, ctx);
  struct pw_page page;
  int n[PW_PAGE_VERBATIM + 1] = {0};
  ck_assert_int_eq(MAKERS[_i % N_MAKERS](&page, plan, ctx), PW_OK);
  for (int i = 0; i < page.n_lines; i++) {
    const struct pw_page_line *line = &page.lines[i];
    bool is_row = line->kind == PW_PAGE_ROW || line->kind == PW_PAGE_HEADS;
    n[line->kind]++;
    ck_assert_int_eq(is_row, line->table != NULL);
    ck_assert_int_eq(is_row || line->kind == PW_PAGE_BLANK, line->left == NULL);
    ck_assert_int_eq(line->kind == PW_PAGE_TITLE || line->kind == PW_PAGE_PAIR, line->right != NULL);
    for (int c = 0; is_row && c < line->table->n; c++)
      ck_assert_ptr_nonnull(line->cells[c]);
  }
  ck_assert_int_eq(n[PW_PAGE_TITLE], 1);
  ck_assert_int_gt(n[PW_PAGE_HEAD], 1);
  ck_assert_int_gt(n[PW_PAGE_ROW], 1);
}
END_TEST

START_TEST(a_mended_plan_names_its_edition)
{
  struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[0], ctx), true, PW_EFFORT_QUICK, ctx);
  struct pw_day_now day = {.edition = 3};
  struct pw_page page;
  plan->day = &day;
  ck_assert_int_eq(pw_page_buy(&page, plan, ctx), PW_OK);
  ck_assert_ptr_nonnull(strstr(page.lines[0].right, "Purchase list, plan 3"));
}
END_TEST

START_TEST(memory_may_run_out_anywhere)
{
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[0], ctx), true, PW_EFFORT_QUICK, ctx);
  struct pw_page page;
  long before = pw_arena_count(ctx->arena);
  ck_assert_int_eq(MAKERS[_i](&page, plan, ctx), PW_OK);
  long n = pw_arena_count(ctx->arena) - before, step = n / 200 + 1;
  for (long k = 1; k <= n; k += step) {
    pw_arena_fail_at(ctx->arena, k);
    ck_assert_msg(MAKERS[_i](&page, plan, ctx) == PW_ERR_MEMORY, "allocation %ld of %ld failed unnoticed", k, n);
  }
  pw_arena_fail_at(ctx->arena, 0);
}
END_TEST

static Suite *page_suite(void)
{
  Suite *s = suite_create("page");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, the_pen_copies);
  tcase_add_test(t, a_row_has_the_cells_of_its_table);
  tcase_add_test(t, heads_only_where_there_are_some);
  tcase_add_test(t, mistakes_of_a_maker_are_no_pages);
  tcase_add_loop_test(t, each_page_is_whole, 0, N_MAKERS * N_PLANNED_EVENTS);
  tcase_add_test(t, a_mended_plan_names_its_edition);
  tcase_add_loop_test(t, memory_may_run_out_anywhere, 0, N_MAKERS);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(page_suite)
