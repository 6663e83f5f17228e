/* kept_plan.h - the text of one good plan, kept for the tests of a file that tell it otherwise. */
#ifndef PW_TEST_KEPT_PLAN_H
#define PW_TEST_KEPT_PLAN_H

#include "harness.h"

#include "judge/plan_check.h"
#include "write/plan_json.h"

#include <stdlib.h>
#include <string.h>

static char *plan_text;

/** Keeps the plan's text and closes its context. */
static inline void kept_plan_open(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const char *text = NULL;
  size_t n = 0;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  plan_text = strdup(text);
  pw_test_ctx_free(ctx);
  if (!plan_text)
    abort();
}

static inline void kept_plan_close(void) { free(plan_text); }

/** How much the judge finds in a plan's text. */
static inline int judged(const char *text, struct pw_ctx *ctx)
{
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text("plan.json", text, strlen(text), &n, ctx), PW_OK);
  return n;
}

START_TEST(the_plan_passes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n = judged(plan_text, ctx);
  ck_assert_msg(n == 0, "[%s] %s", ctx->n_diags ? ctx->diags[0].code : "", ctx->n_diags ? ctx->diags[0].text : "");
  pw_test_ctx_free(ctx);
}
END_TEST

#endif
