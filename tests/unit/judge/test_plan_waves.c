/* test_plan_waves.c - a long walk-up lunch in waves: the judge finds nothing in the plan, and what it says of waves [J22] is broken
 * number by number. */
#include "planned.h"

#include "judge/plan_check.h"
#include "read/read.h"
#include "write/plan_json.h"

#define LONG                                                                                                           \
  "---\nservices:\n  - id: dinner\n    length: 3 h 30 min\n    arrivals: [10 %, 20 %, 25 %, 20 %, 15 %, 5 %, 5 %]\n"

static struct pw_plan *long_lunch(struct pw_ctx *ctx)
{
  struct pw_event *ev = NULL, *longer = NULL;
  ck_assert_int_eq(pw_event_read(&ev, "tests/data/events/lakeside-wedding.yaml", "templates", ctx), PW_OK);
  pw_status st = pw_event_change(&longer, ev, LONG, ctx);
  ck_assert_msg(st == PW_OK, "%s", ctx->n_diags ? ctx->diags[0].text : "");
  return planned(longer, false, PW_EFFORT_QUICK, ctx);
}

static int n_found(const struct pw_plan *plan, const char *label)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text;
  size_t n;
  int n_all = 0, n_label = 0;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  (void)pw_plan_check_text("plan.json", text, n, &n_all, ctx);
  for (int i = 0; i < ctx->n_diags; i++)
    n_label += strcmp(ctx->diags[i].code, label) == 0;
  pw_test_ctx_free(ctx);
  return *label ? n_label : n_all;
}

START_TEST(no_piece_is_held_too_long)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = long_lunch(ctx);
  int n_waves = 0, pieces = 0, bought = 0;
  for (int i = 0; i < plan->purchase.n_raws; i++)
    bought += plan->purchase.raws[i].pieces;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    int keeps = plan->event->cuts[lot->cut].hold_max_min + plan->event->cuts[lot->cut].pan_hold_min;
    n_waves += lot->n_waves > 1;
    pieces += lot->pieces;
    for (int i = 0; i < plan->allocation.n_loads; i++) {
      const struct pw_load *load = &plan->allocation.loads[i];
      if (load->lot == l && load->stage == PW_LOAD_HOLD) /* from the rest to the last plate */
        ck_assert_int_le(lot->until_at_min - load->start_at_min, keeps + lot->over_min);
    }
    ck_assert_int_ge(lot->by_at_min, plan->event->services[lot->service].at_min);
  }
  ck_assert_int_gt(n_waves, 1);
  ck_assert_int_eq(pieces, bought); /* waves split what is bought, and buy nothing */
  ck_assert_int_eq(n_found(plan, ""), 0);
  pw_test_ctx_free(ctx);
}
END_TEST

#define BROKEN(value, broken)                                                                                          \
  do {                                                                                                                 \
    __typeof__(value) was__ = (value);                                                                                 \
    (value) = (broken);                                                                                                \
    ck_assert_msg(n_found(plan, "") > 0, #value " = " #broken ": nothing found");                                      \
    (value) = was__;                                                                                                   \
  } while (0)

START_TEST(each_number_broken)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = long_lunch(ctx);
  struct pw_event *ev;
  memcpy(&ev, &plan->event, sizeof ev);
  double shares[7];
  memcpy(shares, ev->services[1].arrive_frac, sizeof shares);
  ev->services[1].arrive_frac = shares;
  ck_assert_int_eq(n_found(plan, ""), 0);
  int n = 0;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    struct pw_lot *lot = &plan->lots.lots[l];
    if (lot->n_waves < 2)
      continue;
    n++;
    BROKEN(lot->by_at_min, lot->by_at_min + 15);
    BROKEN(lot->by_at_min, lot->by_at_min - 15);
    BROKEN(lot->until_at_min, lot->until_at_min + 1);
    BROKEN(lot->until_at_min, lot->until_at_min - 1);
    BROKEN(lot->wave, lot->wave + 1);
    BROKEN(lot->n_waves, lot->n_waves - 1);
    BROKEN(lot->n_waves, lot->n_waves + 1);
    BROKEN(lot->pieces, lot->pieces + 1);
    BROKEN(lot->over_min, 500);
  }
  ck_assert_int_gt(n, 1);
  for (int k = 0; k < 7; k++)
    BROKEN(shares[k], shares[k] + 0.01);
  BROKEN(ev->services[1].length_min, ev->services[1].length_min + 1);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("waves judged");
  TCase *t = tcase_create("waves judged");
  tcase_add_test(t, no_piece_is_held_too_long);
  tcase_add_test(t, each_number_broken);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
