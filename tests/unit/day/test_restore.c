/* test_restore.c - a plan out of its file and the job kept beside it: written again it is the same file, sheets included. */
#include "base/json.h"
#include "day/restore.h"
#include "plan/demand/head_count.h"
#include "planned.h"
#include "read/kept.h"
#include "write/html/html.h"
#include "write/plan_json.h"
#include "write/text/text_sheets.h"

static pw_status (*const SHEETS[])(struct pw_buf *, const struct pw_plan *, struct pw_ctx *) = {
    pw_text_quote_customer, pw_text_quote_owner, pw_text_buy, pw_text_plan, pw_text_shift, pw_html_crew_write};

/* What the plan looks like after it went through its file and its kept job. */
static const struct pw_plan *through_files(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_buf kept = pw_buf_in(ctx->arena);
  const char *text = NULL;
  size_t n = 0;
  int heads = 0;
  struct pw_event *ev = NULL;
  const struct pw_event *scaled = NULL;
  const struct pw_json *root = NULL;
  struct pw_plan *again = NULL;
  ck_assert(pw_kept_write(&kept, plan->event, plan->demand.head_count, ctx) == PW_OK && kept.n > 0);
  ck_assert(pw_kept_read(&ev, &heads, "job.json", kept.bytes, kept.n, ctx) == PW_OK);
  ck_assert_int_eq(heads, plan->demand.head_count);
  scaled = ev;
  if (heads != pw_head_count(ev))
    ck_assert(pw_head_count_scale(&scaled, ev, heads, ctx) == PW_OK);
  ck_assert(pw_plan_json_text(&text, &n, plan, ctx) == PW_OK);
  ck_assert(pw_json_parse(&root, "plan.json", text, n, ctx) == PW_OK);
  ck_assert_msg(pw_restore(&again, scaled, root, ctx) == PW_OK, "%s: %s", plan->event->name,
                ctx->n_diags ? ctx->diags[ctx->n_diags - 1].text : "?");
  return again;
}

static void same(const char *name, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_plan *again = through_files(plan, ctx);
  const char *text, *other;
  size_t n, n_other;
  ck_assert(pw_plan_json_text(&text, &n, plan, ctx) == PW_OK &&
            pw_plan_json_text(&other, &n_other, again, ctx) == PW_OK);
  size_t at = 0;
  while (at < n && at < n_other && text[at] == other[at])
    at++;
  ck_assert_msg(n == n_other && at == n, "%s: plan.json differs at byte %zu: %.60s / %.60s", name, at, text + at,
                other + at);
  for (size_t i = 0; i < sizeof SHEETS / sizeof *SHEETS; i++) {
    struct pw_buf a = pw_buf_in(ctx->arena), b = pw_buf_in(ctx->arena);
    ck_assert(SHEETS[i](&a, plan, ctx) == PW_OK && SHEETS[i](&b, again, ctx) == PW_OK);
    ck_assert_msg(strcmp(pw_buf_text(&a), pw_buf_text(&b)) == 0, "%s: sheet %zu differs", name, i);
  }
}

START_TEST(test_the_same_plan_and_sheets)
{
  for (int i = 0; i < N_PLANNED_EVENTS; i++) {
    struct pw_ctx *ctx = pw_test_ctx();
    same(PLANNED_EVENTS[i], planned(planned_event(PLANNED_EVENTS[i], ctx), false, PW_EFFORT_QUICK, ctx), ctx);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

START_TEST(test_a_full_plan_with_ladder_and_another_head_count)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *scaled = NULL;
  ck_assert(pw_head_count_scale(&scaled, planned_event("tests/data/events/family-party.yaml", ctx), 52, ctx) == PW_OK);
  same("family for 52", planned(scaled, true, PW_EFFORT_FULL, ctx), ctx);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_another_job_is_refused)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan =
      planned(planned_event("tests/data/events/family-party.yaml", ctx), false, PW_EFFORT_QUICK, ctx);
  const char *text = NULL;
  size_t n = 0;
  const struct pw_json *root = NULL;
  struct pw_plan *again = NULL;
  ck_assert(pw_plan_json_text(&text, &n, plan, ctx) == PW_OK &&
            pw_json_parse(&root, "plan.json", text, n, ctx) == PW_OK);
  ck_assert(pw_restore(&again, planned_event("events/garden-lunch.yaml", ctx), root, ctx) == PW_ERR_INPUT);
  ck_assert(!again && strstr(ctx->diags[ctx->n_diags - 1].text, "job kept beside it"));
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("restore");
  TCase *t = tcase_create("restore");
  tcase_add_test(t, test_the_same_plan_and_sheets);
  tcase_add_test(t, test_a_full_plan_with_ladder_and_another_head_count);
  tcase_add_test(t, test_another_job_is_refused);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
