/* harness.h - one Check program per file: PW_MAIN runs a suite, prints Check's closing line, gives its verdict. */
#ifndef PW_HARNESS_H
#define PW_HARNESS_H

#include "base/arena.h"
#include "base/ctx.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/** |got - want| <= abs + rel * |want|; the message names the row. */
#define PW_NEAR(name, got, want, abs_tol, rel_tol)                                                                     \
  do {                                                                                                                 \
    double got__ = (got), want__ = (want);                                                                             \
    ck_assert_msg(fabs(got__ - want__) <= (abs_tol) + (rel_tol)*fabs(want__), "%s: got %.12g, want %.12g", (name),     \
                  got__, want__);                                                                                      \
  } while (0)

static inline struct pw_ctx *pw_test_ctx(void)
{
  struct pw_ctx *ctx = calloc(1, sizeof *ctx);
  if (!ctx || !(ctx->arena = pw_arena_open()))
    abort();
  return ctx;
}

static inline void pw_test_ctx_free(struct pw_ctx *ctx)
{
  pw_arena_close(ctx->arena);
  free(ctx);
}

#define PW_MAIN(suite_fn)                                                                                              \
  int main(void)                                                                                                       \
  {                                                                                                                    \
    /* Check gives a test four seconds unless told otherwise: a stop for what hangs, not a judge of machines. */       \
    if (setenv("CK_TIMEOUT_MULTIPLIER", "60", 0) != 0)                                                                 \
      return 1;                                                                                                        \
    SRunner *runner = srunner_create(suite_fn());                                                                      \
    srunner_run_all(runner, CK_NORMAL);                                                                                \
    int failed = srunner_ntests_failed(runner);                                                                        \
    srunner_free(runner);                                                                                              \
    return failed ? 1 : 0;                                                                                             \
  }

#endif
