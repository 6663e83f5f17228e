/* test_child.c - work in a child: its answer arrives, its crash is told, its memory is its own. */
#include "harness.h"

#include "base/child.h"
#include "base/diag.h"

#include <signal.h>
#include <sys/resource.h>
#include <unistd.h>

static pw_status says(void *arg, struct pw_ctx *ctx)
{
  int *n = arg;
  pw_diag_add(ctx, PW_WARNING, "first", "a.yaml", 3, 4, "one %d", *n);
  pw_diag_add(ctx, PW_ERROR, "second", NULL, 0, 0, "two");
  *n = 99;
  return PW_ERR_IO;
}

static pw_status crashes(void *arg, struct pw_ctx *ctx)
{
  (void)ctx;
  struct rlimit none = {0, 0};
  (void)setrlimit(RLIMIT_CORE, &none);
  (void)raise(*(int *)arg);
  return PW_OK;
}

static pw_status leaves(void *arg, struct pw_ctx *ctx)
{
  (void)arg;
  (void)ctx;
  _exit(0);
}

START_TEST(the_answer_arrives)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n = 7;
  pw_diag_add(ctx, PW_NOTE, "before", NULL, 0, 0, "there already");
  ck_assert_int_eq(pw_child_run(says, &n, "the test", ctx), PW_ERR_IO);
  ck_assert_int_eq(n, 7);
  ck_assert_int_eq(ctx->n_diags, 3);
  ck_assert_int_eq(ctx->n_errors, 1);
  ck_assert_str_eq(ctx->diags[1].code, "first");
  ck_assert_str_eq(ctx->diags[1].file, "a.yaml");
  ck_assert_str_eq(ctx->diags[1].text, "one 7");
  ck_assert_int_eq(ctx->diags[1].line, 3);
  ck_assert_int_eq(ctx->diags[1].col, 4);
  ck_assert_int_eq(ctx->diags[1].severity, PW_WARNING);
  ck_assert_ptr_null(ctx->diags[2].file);
  pw_test_ctx_free(ctx);
}
END_TEST

static pw_status mutters(void *arg, struct pw_ctx *ctx)
{
  (void)ctx;
  fprintf(stderr, "[ERROR] %s\n", (const char *)arg);
  return PW_OK;
}

static const struct {
  const char *name;
  char words[40];
  pw_status status;
} muttering[] = {
    {"memory", "Memory allocation failed.", PW_ERR_MEMORY},
    {"anything else", "no such sheet", PW_ERR_INTERNAL},
};

START_TEST(words_on_standard_error_are_a_failure)
{
#ifdef __SANITIZE_ADDRESS__ /* the sanitizers speak on standard error themselves: the work's word counts (child.c) */
  pw_status wanted = PW_OK;
#else
  pw_status wanted = muttering[_i].status;
#endif
  struct pw_ctx *ctx = pw_test_ctx();
  char words[40];
  memcpy(words, muttering[_i].words, sizeof words);
  ck_assert_msg(pw_child_run(mutters, words, "the test", ctx) == wanted, "%s", muttering[_i].name);
  pw_test_ctx_free(ctx);
}
END_TEST

static const int signals[] = {SIGSEGV, SIGABRT, SIGFPE, SIGKILL};

START_TEST(a_crash_is_told)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int number = signals[_i];
  ck_assert_int_eq(pw_child_run(crashes, &number, "the test", ctx), PW_ERR_INTERNAL);
  ck_assert_int_eq(ctx->n_errors, 1);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "the test broke off"));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(silence_is_told)
{
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert_int_eq(pw_child_run(leaves, NULL, "the test", ctx), PW_ERR_INTERNAL);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "without a word"));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(no_memory_for_the_answer)
{
  for (long k = 1; k <= 6; k++) { /* two texts in the child, then three and more here */
    struct pw_ctx *ctx = pw_test_ctx();
    int n = 7;
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_child_run(says, &n, "the test", ctx);
    ck_assert_msg(status == PW_ERR_MEMORY || status == PW_ERR_IO, "allocation %ld: %d", k, (int)status);
    ck_assert_msg(k > 3 || status == PW_ERR_MEMORY, "allocation %ld: %d", k, (int)status);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

START_TEST(no_descriptor_left)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct rlimit old, tight;
  int n = 7;
  ck_assert_int_eq(getrlimit(RLIMIT_NOFILE, &old), 0);
  tight = old;
  tight.rlim_cur = 3;
  ck_assert_int_eq(setrlimit(RLIMIT_NOFILE, &tight), 0);
  pw_status status = pw_child_run(says, &n, "the test", ctx);
  ck_assert_int_eq(setrlimit(RLIMIT_NOFILE, &old), 0);
  ck_assert_int_eq(status, PW_ERR_MEMORY);
  ck_assert_int_eq(ctx->n_errors, 1);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("child");
  TCase *t = tcase_create("child");
  tcase_add_test(t, the_answer_arrives);
  tcase_add_loop_test(t, a_crash_is_told, 0, (int)(sizeof signals / sizeof *signals));
  tcase_add_loop_test(t, words_on_standard_error_are_a_failure, 0, (int)(sizeof muttering / sizeof *muttering));
  tcase_add_test(t, silence_is_told);
  tcase_add_test(t, no_memory_for_the_answer);
  tcase_add_test(t, no_descriptor_left);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
