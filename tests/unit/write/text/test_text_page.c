/* test_text_page.c - pages laid out as text: every kind of line, words that wrap, columns that stand where they were declared.  What is
 * new on a page is one edit where it is made: the layouter is told of nothing. */
#include "harness.h"

#include "write/text/text_page.h"

#include <string.h>

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

static const char *text_of(const struct pw_page *page)
{
  struct pw_buf out = pw_buf_in(ctx->arena);
  ck_assert_int_eq(pw_text_page(&out, page), PW_OK);
  return pw_buf_text(&out);
}

static const struct {
  const char *name;
  int indent, hang;
  const char *text, *want;
} PARAGRAPHS[] = {
    {"short", 2, 4, "one two", "  one two\n"},
    {"nothing", 0, 0, "", "\n"},
    {"wrapped with a hang", 0, 3,
     "a234567890 b234567890 c234567890 d234567890 e234567890 f234567890 g234567890 h234567890",
     "a234567890 b234567890 c234567890 d234567890 e234567890 f234567890 g234567890\n   h234567890\n"},
};

START_TEST(paragraphs)
{
  struct pw_page page = pw_page_open(NULL, NULL, ctx);
  pw_page_para(&page, PARAGRAPHS[_i].indent, PARAGRAPHS[_i].hang, PARAGRAPHS[_i].text);
  ck_assert_msg(strcmp(text_of(&page), PARAGRAPHS[_i].want) == 0, "%s: got\n%s", PARAGRAPHS[_i].name, text_of(&page));
}
END_TEST

START_TEST(a_row_of_cells)
{
  static const struct pw_page_column columns[] = {
      {0, 3, PW_CELL_AMOUNT, ""}, {1, 9, PW_CELL_WHAT, ""}, {1, 5, PW_CELL_AMOUNT, ""}};
  struct pw_page page = pw_page_open(NULL, NULL, ctx);
  pw_page_table_of(&page, columns);
  pw_page_row(&page, "12", "long words wrap", "9.00");
  ck_assert_str_eq(text_of(&page), " 12 long       9.00\n    words\n    wrap\n");
}
END_TEST

/* The sum of an amount is never cut: it takes further lines as words do. */
START_TEST(an_amount_too_wide_is_broken_not_cut)
{
  static const struct pw_page_column columns[] = {{0, 4, PW_CELL_WHAT, ""}, {1, 6, PW_CELL_AMOUNT, ""}};
  struct pw_page page = pw_page_open(NULL, NULL, ctx);
  pw_page_table_of(&page, columns);
  pw_page_row(&page, "a", "1,234 5,678");
  ck_assert_str_eq(text_of(&page), "a    1,234\n     5,678\n");
}
END_TEST

START_TEST(each_kind_of_line)
{
  static const struct pw_page_column columns[] = {{2, 12, PW_CELL_WHAT, "thing"}, {1, 8, PW_CELL_AMOUNT, "weight"}};
  struct pw_page page = pw_page_open(NULL, NULL, ctx);
  pw_page_title(&page, "Lunch", "Plan");
  pw_page_say(&page, 0, 0, "%d guests", 24);
  pw_page_head(&page, "Meat");
  pw_page_table_of(&page, columns);
  pw_page_row(&page, "brisket", "12 lb");
  pw_page_row_in(&page, 2, "whole", "12 lb");
  pw_page_blank(&page);
  pw_page_pair(&page, 2, "To spend", "$9");
  pw_page_verbatim(&page, "---\nguests: 24\n");
  ck_assert_str_eq(text_of(&page), "Lunch                                                                       Plan\n"
                                   "================================================================================\n"
                                   "24 guests\n"
                                   "\n"
                                   "Meat ---------------------------------------------------------------------------\n"
                                   "  thing          weight\n"
                                   "  brisket         12 lb\n"
                                   "    whole         12 lb\n"
                                   "\n"
                                   "  To spend                                                                    $9\n"
                                   "---\nguests: 24\n");
}
END_TEST

/* A column more and a line more: nothing but the page was told of them. */
START_TEST(what_is_new_is_one_edit)
{
  static const struct pw_page_column columns[] = {
      {0, 6, PW_CELL_WHAT, "thing"}, {1, 5, PW_CELL_AMOUNT, "kg"}, {1, 9, PW_CELL_NOTE, "why"}};
  const char *was = NULL, *is = NULL;
  for (int n = 2; n <= 3; n++) {
    struct pw_page page = pw_page_open(NULL, NULL, ctx);
    pw_page_table(&page, columns, n);
    pw_page_row(&page, "ribs", "4.5", "asked for");
    if (n == 3)
      pw_page_para(&page, 2, 2, "a line more");
    was = is;
    is = text_of(&page);
  }
  ck_assert_str_eq(was, "thing     kg\nribs     4.5\n");
  ck_assert_str_eq(is, "thing     kg why\nribs     4.5 asked for\n  a line more\n");
}
END_TEST

START_TEST(what_was_not_made_is_not_laid_out)
{
  struct pw_buf out = pw_buf_in(ctx->arena);
  struct pw_page page = pw_page_open(NULL, NULL, ctx);
  pw_page_para(&page, 0, 0, "half of it");
  (void)pw_page_made(&page, NULL);
  ck_assert_int_eq(pw_text_page(&out, &page), PW_ERR_MEMORY);
  ck_assert_int_eq((int)out.n, 0);
}
END_TEST

static Suite *text_page_suite(void)
{
  Suite *s = suite_create("text_page");
  TCase *t = tcase_create("all");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, paragraphs, 0, (int)(sizeof PARAGRAPHS / sizeof *PARAGRAPHS));
  tcase_add_test(t, a_row_of_cells);
  tcase_add_test(t, an_amount_too_wide_is_broken_not_cut);
  tcase_add_test(t, each_kind_of_line);
  tcase_add_test(t, what_is_new_is_one_edit);
  tcase_add_test(t, what_was_not_made_is_not_laid_out);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(text_page_suite)
