/* test_html.c - the HTML sheets: well nested, every link leads somewhere, nothing from outside, user text escaped,
 * no money in the crew's file and no cost in the customer's. */
#include "write/html/html.h"
#include "writer_checks.h"

static const writer_fn writers[] = {pw_html_crew_write, pw_html_customer_write};
enum { N_WRITERS = sizeof writers / sizeof writers[0] };

/** Walks the tags; an element must be closed by its own end tag or close itself. */
static void check_nesting(const char *text)
{
  char stack[64][24];
  int depth = 0;
  for (const char *p = strchr(text, '<'); p; p = strchr(p + 1, '<')) {
    if (p[1] == '!')
      continue;
    const char *end = strchr(p, '>');
    ck_assert_ptr_nonnull(end);
    size_t n = strcspn(p + 1 + (p[1] == '/'), " />");
    ck_assert_uint_lt(n, sizeof stack[0]);
    if (p[1] == '/') {
      ck_assert_int_gt(depth, 0);
      depth--;
      ck_assert_msg(strlen(stack[depth]) == n && memcmp(stack[depth], p + 2, n) == 0, "<%s> closed by %.*s",
                    stack[depth], (int)(n + 3), p);
    } else if (end[-1] != '/') {
      ck_assert_int_lt(depth, 64);
      memcpy(stack[depth], p + 1, n);
      stack[depth++][n] = '\0';
    }
    p = end;
  }
  ck_assert_int_eq(depth, 0);
}

START_TEST(test_nesting)
{
  struct pw_ctx *ctx = pw_test_ctx();
  check_nesting(writer_text(ctx, writers[_i], fx_plan_make()));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_links_and_ids)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = writer_text(ctx, writers[_i], fx_plan_make());
  char id[80];
  for (const char *p = strstr(text, "href=\"#"); p; p = strstr(p + 1, "href=\"#")) {
    size_t n = strcspn(p + 7, "\"");
    snprintf(id, sizeof id, " id=\"%.*s\"", (int)n, p + 7);
    ck_assert_msg(strstr(text, id) != NULL, "no%s", id);
  }
  for (const char *p = strstr(text, " id=\""); p; p = strstr(p + 1, " id=\"")) {
    size_t n = strcspn(p + 5, "\"") + 6;
    snprintf(id, sizeof id, "%.*s", (int)n, p);
    ck_assert_msg(strstr(p + 1, id) == NULL, "twice:%s", id);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* What may not be in either file: a request, text that was not escaped. */
static const char *const forbidden[] = {
    "http:", "https:", "src=", "@import", "url(", "javascript:", "<one>", "Orchard & press", "onclick"};

START_TEST(test_nothing_foreign)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = writer_text(ctx, writers[_i], fx_plan_make());
  for (size_t i = 0; i < sizeof forbidden / sizeof forbidden[0]; i++)
    ck_assert_msg(strstr(text, forbidden[i]) == NULL, "%s", forbidden[i]);
  ck_assert_ptr_nonnull(strstr(text, "Orchard &amp; press"));
  /* one script in the crew's file, which its head allows by its checksum; none in the customer's */
  const char *script = strstr(text, "<script");
  ck_assert((script != NULL) == (writers[_i] == pw_html_crew_write));
  if (script)
    ck_assert(strstr(script + 1, "<script") == NULL && strncmp(script, "<script>", 8) == 0 &&
              strstr(text, "script-src 'sha256-"));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_crew_has_no_money)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = writer_plain(ctx, writer_text(ctx, pw_html_crew_write, fx_plan_make()));
  ck_assert_ptr_null(strchr(text, '$'));
  ck_assert_ptr_null(strstr(text, "57.50"));
  ck_assert_ptr_null(strstr(text, "margin:22"));
  for (int c = 0; c < fx_event.n_crew; c++)
    ck_assert_ptr_nonnull(strstr(text, fx_crew[c].role + 1)); /* at the head of a line with a capital */
  for (int i = 0; i < fx_plan.tasks.n_tasks; i++)
    if (!strpbrk(fx_tasks[i].what, "<&'\"")) /* those are escaped */
      ck_assert_msg(strstr(text, fx_tasks[i].what) != NULL, "missing: %s", fx_tasks[i].what);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_customer_has_no_cost)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = writer_plain(ctx, writer_text(ctx, pw_html_customer_write, fx_plan_make()));
  ck_assert_ptr_nonnull(strstr(text, "$4,108.09")); /* total */
  ck_assert_ptr_nonnull(strstr(text, "$57.50"));    /* per guest */
  ck_assert_ptr_nonnull(strstr(text, "egg, mustard"));
  ck_assert_ptr_null(strstr(text, "2,957.13")); /* cost */
  ck_assert_ptr_null(strstr(text, "559.07"));   /* food */
  ck_assert_ptr_null(strstr(text, "Hill Street Meats"));
  ck_assert_ptr_nonnull(
      strstr(text, "110 guests, on request")); /* a head count that does not fit is in every list, and so in each */
  ck_assert_ptr_nonnull(strstr(text, "90 guests<"));
  pw_test_ctx_free(ctx);
}
END_TEST

/* PW_HTML=folder keeps both files for the tests that open them with a browser. */
START_TEST(test_keeps_both)
{
  const char *folder = getenv("PW_HTML");
  static const char *const names[] = {"crew.html", "customer.html"};
  struct pw_ctx *ctx = pw_test_ctx();
  for (int i = 0; folder && i < N_WRITERS; i++) {
    char path[512];
    snprintf(path, sizeof path, "%s/%s", folder, names[i]);
    FILE *file = fopen(path, "wb");
    ck_assert_ptr_nonnull(file);
    ck_assert_int_ge(fputs(writer_text(ctx, writers[i], fx_plan_make()), file), 0);
    ck_assert_int_eq(fclose(file), 0);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_same_bytes) { writer_check_same_bytes(writers[_i]); }
END_TEST

START_TEST(test_memory) { writer_check_memory(writers[_i]); }
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("html");
  TCase *tc = tcase_create("core");
  tcase_set_timeout(tc, 120);
  tcase_add_loop_test(tc, test_nesting, 0, N_WRITERS);
  tcase_add_loop_test(tc, test_links_and_ids, 0, N_WRITERS);
  tcase_add_loop_test(tc, test_nothing_foreign, 0, N_WRITERS);
  tcase_add_test(tc, test_crew_has_no_money);
  tcase_add_test(tc, test_customer_has_no_cost);
  tcase_add_test(tc, test_keeps_both);
  tcase_add_loop_test(tc, test_same_bytes, 0, N_WRITERS);
  tcase_add_loop_test(tc, test_memory, 0, N_WRITERS);
  suite_add_tcase(s, tc);
  return s;
}

PW_MAIN(suite)
