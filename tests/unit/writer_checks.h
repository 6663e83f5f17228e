/* writer_checks.h - what every writer into a buffer must pass: the same bytes twice, and a clean end when memory is
 * out at any of its allocations. */
#ifndef PW_WRITER_CHECKS_H
#define PW_WRITER_CHECKS_H

#include "base/buf.h"
#include "fixture_plan.h"
#include "harness.h"

typedef pw_status (*writer_fn)(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** Text of one run; the caller frees the context. */
static inline const char *writer_text(struct pw_ctx *ctx, writer_fn write, const struct pw_plan *plan)
{
  struct pw_buf buf = pw_buf_in(ctx->arena);
  ck_assert_int_eq(write(&buf, plan, ctx), PW_OK);
  const char *text = pw_buf_text(&buf);
  ck_assert_ptr_nonnull(text);
  ck_assert_uint_eq(strlen(text), buf.n);
  return text;
}

/** The same with spaces where a line may not end: to look for words in. */
static inline const char *writer_plain(struct pw_ctx *ctx, const char *text)
{
  struct pw_buf buf = pw_buf_in(ctx->arena);
  for (const char *rest = text; *rest;) {
    const char *space = strstr(rest, "\xC2\xA0");
    pw_buf_add_n(&buf, rest, space ? (size_t)(space - rest) : strlen(rest));
    pw_buf_add(&buf, space ? " " : "");
    rest = space ? space + 2 : rest + strlen(rest);
  }
  ck_assert_ptr_nonnull(pw_buf_text(&buf));
  return pw_buf_text(&buf);
}

static inline void writer_check_same_bytes(writer_fn write)
{
  struct pw_ctx *a = pw_test_ctx(), *b = pw_test_ctx();
  ck_assert_str_eq(writer_text(a, write, fx_plan_make()), writer_text(b, write, fx_plan_make()));
  pw_test_ctx_free(a);
  pw_test_ctx_free(b);
}

static inline void writer_check_memory(writer_fn write)
{
  struct pw_ctx *ctx = pw_test_ctx();
  long before = pw_arena_count(ctx->arena);
  (void)writer_text(ctx, write, fx_plan_make());
  long n = pw_arena_count(ctx->arena) - before;
  pw_test_ctx_free(ctx);
  ck_assert_int_gt(n, 0);
  for (long k = 1; k < n; k += k < 400 ? 1 : 41) {
    ctx = pw_test_ctx();
    struct pw_buf buf = pw_buf_in(ctx->arena);
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = write(&buf, fx_plan_make(), ctx);
    ck_assert_msg(status == PW_ERR_MEMORY, "allocation %ld of %ld fails: status %d", k, n, (int)status);
    pw_test_ctx_free(ctx);
  }
}

#endif
