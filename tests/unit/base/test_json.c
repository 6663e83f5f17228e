/* test_json.c - the writer's text and the reader's tree. */
#include "harness.h"

#include "base/json.h"

static const char *write_sample(struct pw_ctx *ctx, double value, size_t *n, pw_status *status)
{
  struct pw_json_out o = pw_json_out_in(ctx->arena);
  const char *text = NULL;
  pw_json_object(&o, NULL);
  pw_json_text(&o, "name", "R&B \"best\"");
  pw_json_array(&o, "loads");
  for (int i = 0; i < 2; i++) {
    pw_json_object(&o, NULL);
    pw_json_int(&o, "i", i);
    pw_json_array(&o, "rects");
    pw_json_real(&o, NULL, value);
    pw_json_real(&o, NULL, 1e-9);
    pw_json_end(&o);
    pw_json_end(&o);
  }
  pw_json_end(&o);
  pw_json_array(&o, "none");
  pw_json_end(&o);
  pw_json_text(&o, "missing", NULL);
  pw_json_bool(&o, "yes", true);
  pw_json_int(&o, "least", INT64_MIN);
  pw_json_end(&o);
  *status = pw_json_finish(&o, &text, n, ctx);
  return text;
}

START_TEST(one_element_to_a_line)
{
  struct pw_ctx *ctx = pw_test_ctx();
  size_t n;
  pw_status status;
  const char *text = write_sample(ctx, 0.1, &n, &status);
  ck_assert_int_eq(status, PW_OK);
  ck_assert_str_eq(text, "{\n"
                         " \"name\": \"R&B \\\"best\\\"\",\n"
                         " \"loads\": [\n"
                         "  {\"i\": 0, \"rects\": [0.1, 1e-09]},\n"
                         "  {\"i\": 1, \"rects\": [0.1, 1e-09]}\n"
                         " ],\n"
                         " \"none\": [],\n"
                         " \"missing\": null,\n"
                         " \"yes\": true,\n"
                         " \"least\": -9223372036854775808\n"
                         "}\n");
  ck_assert_uint_eq(n, strlen(text));
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *name;
  double value;
  const char *out;
} reals[] = {
    {"whole", 3, "3"},
    {"negative zero", -0.0, "0"},
    {"twelve digits", 1.0 / 3, "0.333333333333"},
    {"large", 123456789012.0, "123456789012"},
    {"tiny", -2.5e-30, "-2.5e-30"},
};

START_TEST(real_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_json_out o = pw_json_out_in(ctx->arena);
  pw_json_real(&o, NULL, reals[_i].value);
  ck_assert_msg(strcmp(pw_buf_text(&o.buf), reals[_i].out) == 0, "%s: %s", reals[_i].name, pw_buf_text(&o.buf));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_number_that_is_none_is_refused)
{
  struct pw_ctx *ctx = pw_test_ctx();
  size_t n;
  pw_status status;
  ck_assert_ptr_null(write_sample(ctx, NAN, &n, &status));
  ck_assert_int_eq(status, PW_ERR_INTERNAL);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "not a finite number"));
  struct pw_json_out o = pw_json_out_in(ctx->arena);
  const char *text;
  pw_json_object(&o, NULL);
  ck_assert_int_eq(pw_json_finish(&o, &text, &n, ctx), PW_ERR_INTERNAL);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(what_is_written_reads_back)
{
  struct pw_ctx *ctx = pw_test_ctx();
  /* every kind of text there is: all code points that are safe or not, in one string */
  const char *odd =
      "q\" b\\ n\n t\t e\x1B d\x7F c\xC2\x9B o\xE2\x80\xAE g\xF3\xA0\x81\x81 p\xF0\x9F\x8D\x96 \xEF\xBF\xBF";
  struct pw_json_out o = pw_json_out_in(ctx->arena);
  const char *text;
  size_t n;
  pw_json_object(&o, NULL);
  pw_json_text(&o, odd, odd);
  pw_json_real(&o, "r", 0.123456789012);
  pw_json_int(&o, "i", INT64_MAX);
  pw_json_null(&o, "z");
  pw_json_end(&o);
  ck_assert_int_eq(pw_json_finish(&o, &text, &n, ctx), PW_OK);
  const struct pw_json *root;
  ck_assert_int_eq(pw_json_parse(&root, NULL, text, n, ctx), PW_OK);
  ck_assert_int_eq(root->type, PW_JSON_OBJECT);
  ck_assert_uint_eq(root->n, 4);
  ck_assert_str_eq(root->items[0].key, odd);
  ck_assert_str_eq(pw_json_get(root, odd)->text, odd);
  ck_assert(pw_json_get(root, "r")->real == 0.123456789012);
  ck_assert(pw_json_get(root, "i")->integer == INT64_MAX);
  ck_assert_int_eq(pw_json_get(root, "z")->type, PW_JSON_NULL);
  ck_assert_ptr_null(pw_json_get(root, "no such key"));
  ck_assert_ptr_null(pw_json_get(NULL, "a"));
  ck_assert_ptr_null(pw_json_get(pw_json_get(root, "i"), "a"));
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *name, *text;
  int line, col; /* of the last character taken; 0: the fault has no place */
  const char *words;
} faults[] = {
    {"empty", "", 1, 1, "not JSON"},
    {"a missing comma", "{\"a\": 1\n \"b\": 2}", 2, 4, "near '\"b\"'"},
    {"columns count characters", "{\"caf\xC3\xA9\" 1}", 1, 9, "near '1'"},
    {"cut short", "{\"a\": [1, 2", 1, 11, "near end of file"},
    {"two documents", "{} {}", 1, 4, "end of file expected"},
    {"a key twice", "{\"a\": 1, \"a\": 2}", 1, 12, "duplicate object key"},
    {"not a number", "{\"a\": NaN}", 1, 9, "NaN"},
    {"too large an integer", "{\"a\": 123456789012345678901}", 1, 27, "too big integer"},
    {"too large a real", "{\"a\": 1e999}", 1, 11, "real number overflow"},
    {"bad UTF-8", "{\"a\": \"\xFF\"}", 1, 7, "byte 0xff"},
    {"NUL in a string", "{\"a\": \"\\u0000\"}", 1, 14, "\\u0000"},
    {"a raw control character", "{\"a\": \"\x1B[2J\"}", 1, 7, "control character"},
    {"nested too deep", "[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]", 0, 0,
     "deeper than 32"},
};

START_TEST(fault_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_json *root;
  ck_assert_msg(pw_json_parse(&root, "plan.json", faults[_i].text, strlen(faults[_i].text), ctx) == PW_ERR_INPUT, "%s",
                faults[_i].name);
  ck_assert_ptr_null(root);
  const struct pw_diag *d = &ctx->diags[0];
  ck_assert_str_eq(d->file, "plan.json");
  ck_assert_msg(strstr(d->text, faults[_i].words) != NULL, "%s: %s", faults[_i].name, d->text);
  ck_assert_msg(d->line == faults[_i].line && d->col == faults[_i].col, "%s: at %d:%d (%s)", faults[_i].name, d->line,
                d->col, d->text);
  for (const char *p = d->text; *p; p++)
    ck_assert_msg((unsigned char)*p >= 0x20, "%s: raw control character", faults[_i].name);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_huge_file_is_refused_unread)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_json *root;
  ck_assert_int_eq(pw_json_parse(&root, "x", "{}", (size_t)PW_JSON_BYTES_MAX + 1, ctx), PW_ERR_INPUT);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "256 MiB"));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(memory_failures_are_reported)
{
  const char *text = "{\"a\": [1, \"two\", {\"b\": 3.5}], \"c\": null}";
  for (long k = 1;; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    pw_arena_fail_at(ctx->arena, k);
    const struct pw_json *root;
    pw_status status = pw_json_parse(&root, NULL, text, strlen(text), ctx);
    bool is_past = pw_arena_count(ctx->arena) < k;
    ck_assert_msg(status == (is_past ? PW_OK : PW_ERR_MEMORY) && (root != NULL) == is_past, "allocation %ld", k);
    pw_test_ctx_free(ctx);
    if (is_past)
      break;
  }
}
END_TEST

/* Lists and blocks in each other as deep as is allowed, and one deeper. */
START_TEST(as_deep_as_allowed)
{
  for (int more = 0; more < 2; more++)
    for (int kind = 0; kind < 3; kind++) {
      char text[8 * (PW_JSON_DEPTH_MAX + 2)] = "", close[PW_JSON_DEPTH_MAX + 2] = "";
      int depth = PW_JSON_DEPTH_MAX - 1 + more; /* the number is a level too */
      for (int d = 0; d < depth; d++) {
        bool is_block = kind == 1 || (kind == 2 && d % 2);
        strcat(text, is_block ? "{\"a\":" : "[");
        close[depth - 1 - d] = is_block ? '}' : ']';
      }
      strcat(text, "1");
      strcat(text, close);
      struct pw_ctx *ctx = pw_test_ctx();
      const struct pw_json *root = NULL;
      ck_assert_msg(pw_json_parse(&root, "deep.json", text, strlen(text), ctx) == (more ? PW_ERR_INPUT : PW_OK), "%s",
                    text);
      pw_test_ctx_free(ctx);
    }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("json");
  TCase *t = tcase_create("json");
#define ROWS(fn, table) tcase_add_loop_test(t, fn, 0, (int)(sizeof(table) / sizeof *(table)))
  tcase_add_test(t, one_element_to_a_line);
  ROWS(real_row, reals);
  tcase_add_test(t, a_number_that_is_none_is_refused);
  tcase_add_test(t, what_is_written_reads_back);
  ROWS(fault_row, faults);
  tcase_add_test(t, a_huge_file_is_refused_unread);
  tcase_add_test(t, memory_failures_are_reported);
  tcase_add_test(t, as_deep_as_allowed);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
