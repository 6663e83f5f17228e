/* Tests of the pipeline as a whole and of other head counts: what a quote promises the pack keeps. */
#include "planned.h"

#include "plan/demand/head_count.h"
#include "plan/money/ladder.h"

#include <limits.h>
#include <math.h>

/* Costs, price, its rung: all of the one plan; a quick plan says that it is one. */
START_TEST(one_plan_one_price)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = planned_event(PLANNED_EVENTS[_i / 2], ctx);
  const struct pw_plan *plan = planned(ev, true, _i % 2 ? PW_EFFORT_QUICK : PW_EFFORT_FULL, ctx);
  const struct pw_plan *again = planned(ev, false, _i % 2 ? PW_EFFORT_QUICK : PW_EFFORT_FULL, ctx);
  const struct pw_quote *q = &plan->quote;
  ck_assert_int_eq(plan->allocation.is_quick, _i % 2);
  ck_assert_int_eq(q->fuel_cents, plan->fuel.cost_cents);
  ck_assert_int_eq(again->quote.price_cents, q->price_cents); /* the ladder changes nothing of the plan */
  ck_assert_int_eq(again->quote.cost_cents, q->cost_cents);
  pw_cents sum = q->food_cents + q->supplies_cents + q->fuel_cents + q->labour_cents + q->rental_cents +
                 q->travel_cents + q->overhead_cents;
  ck_assert_int_eq(q->cost_cents, sum);
  double net = (double)(q->price_cents - q->discount_cents);
  PW_NEAR("margin", q->margin_frac, (net - (double)sum) / net, 1e-12, 0);
  int n_own = 0;
  for (int i = 0; i < q->n_ladder; i++)
    n_own += q->ladder[i].guests == q->guests && q->ladder[i].cost_cents == q->cost_cents &&
             q->ladder[i].price_cents == q->price_cents && q->ladder[i].total_cents == q->total_cents &&
             q->ladder[i].missed == plan->allocation.n_missed;
  ck_assert_int_eq(n_own, 1);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Rungs begin with the plan beside them, so they lie near what a plan of their own costs, fit where that fits, and no party costs
 * more than a larger one. */
START_TEST(rungs_beside_the_plan)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = planned_event(PLANNED_EVENTS[0], ctx);
  const struct pw_quote *q = &planned(ev, true, PW_EFFORT_FULL, ctx)->quote;
  ck_assert_int_ge(q->n_ladder, 7);
  for (int i = 0; i < q->n_ladder; i += 2) {
    const struct pw_event *other = NULL;
    ck_assert_int_eq(pw_head_count_scale(&other, ev, q->ladder[i].guests, ctx), PW_OK);
    const struct pw_plan *alone = planned(other, false, PW_EFFORT_FULL, ctx);
    ck_assert_int_eq(alone->allocation.n_missed, q->ladder[i].missed);
    PW_NEAR("cost of a rung", (double)q->ladder[i].cost_cents, (double)alone->quote.cost_cents, 0, 0.02);
    if (i > 0)
      ck_assert_int_ge(q->ladder[i].cost_cents, q->ladder[i - 2].cost_cents);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(more_guests_never_buy_less)
{
  static const int heads[] = {20, 40, 41, 60, 95, 120};
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = planned_event(PLANNED_EVENTS[0], ctx);
  double before = 0;
  for (size_t i = 0; i < sizeof heads / sizeof *heads; i++) {
    const struct pw_event *other = NULL;
    ck_assert_int_eq(pw_head_count_scale(&other, ev, heads[i], ctx), PW_OK);
    const struct pw_plan *plan = planned(other, false, PW_EFFORT_QUICK, ctx);
    double raw = 0;
    for (int r = 0; r < plan->purchase.n_raws; r++)
      raw += plan->purchase.raws[r].raw_mean_kg;
    ck_assert_msg(raw >= before, "%d guests: %.2f kg, fewer got %.2f kg", heads[i], raw, before);
    before = raw;
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *name;
  bool is_sum;
  int guests[2][2]; /* service, class */
  int heads;
  int want[2][2];
} SCALES[] = {
    {"itself", false, {{30, 10}, {20, 4}}, 40, {{30, 10}, {20, 4}}},
    {"twice", false, {{30, 10}, {20, 4}}, 80, {{60, 20}, {40, 8}}},
    {"half", false, {{30, 10}, {20, 4}}, 20, {{15, 5}, {10, 2}}},
    {"largest remainder to the earlier class", false, {{3, 3}, {0, 0}}, 5, {{3, 2}, {0, 0}}},
    {"one head", false, {{30, 10}, {20, 4}}, 1, {{1, 0}, {1, 0}}},
    {"added over services", true, {{30, 10}, {20, 0}}, 120, {{60, 20}, {40, 0}}},
    {"added, odd", true, {{30, 10}, {20, 0}}, 61, {{31, 10}, {20, 0}}},
};

START_TEST(scaled_guests)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_service services[2] = {0};
  int guests[2][2];
  memcpy(guests, SCALES[_i].guests, sizeof guests);
  services[0].guests = guests[0];
  services[1].guests = guests[1];
  struct pw_event ev = {.n_classes = 2, .services = services, .n_services = 2, .is_head_count_sum = SCALES[_i].is_sum};
  const struct pw_event *out = NULL;
  ck_assert_int_eq(pw_head_count_scale(&out, &ev, SCALES[_i].heads, ctx), PW_OK);
  ck_assert_int_eq(pw_head_count(out), SCALES[_i].heads);
  for (int s = 0; s < 2; s++)
    for (int g = 0; g < 2; g++)
      ck_assert_msg(out->services[s].guests[g] == SCALES[_i].want[s][g], "%s: service %d class %d: got %d, want %d",
                    SCALES[_i].name, s, g, out->services[s].guests[g], SCALES[_i].want[s][g]);
  ck_assert_msg(memcmp(guests, SCALES[_i].guests, sizeof guests) == 0, "the original was changed");
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(no_guests_no_scale)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event ev = {0};
  const struct pw_event *out = &ev;
  ck_assert_int_eq(pw_head_count_scale(&out, &ev, 10, ctx), PW_ERR_INPUT);
  ck_assert_ptr_null(out);
  ck_assert_int_eq(ctx->n_errors, 1);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Events small enough to be planned often, some of them too large for their pits. */
static const struct {
  const char *event;
  int heads;
} WORKED[] = {{"events/garden-lunch.yaml", 24},
              {"events/garden-lunch.yaml", 70},
              {"events/sunday-lunch.yaml", 36},
              {"templates/starter.yaml", 13}};

/* More work never leaves more without a place, and where as many are left costs no more. */
START_TEST(more_work_is_never_dearer)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = NULL;
  ck_assert_int_eq(pw_head_count_scale(&ev, planned_event(WORKED[_i].event, ctx), WORKED[_i].heads, ctx), PW_OK);
  int missed = INT_MAX;
  double cents = HUGE_VAL;
  for (int work = 1; work <= 4; work *= 2) {
    struct pw_plan *plan = NULL;
    struct pw_run_options options = {.effort = PW_EFFORT_FULL, .work_times = work};
    ck_assert_int_eq(pw_run_plan(&plan, ev, &options, ctx), PW_OK);
    const struct pw_allocation *a = &plan->allocation;
    ck_assert_msg(a->n_missed < missed || (a->n_missed == missed && a->cost_cents <= cents + 1e-6),
                  "%s, %d guests, work %d: %d missed, cost %.3f; less work: %d, %.3f", WORKED[_i].event,
                  WORKED[_i].heads, work, a->n_missed, a->cost_cents, missed, cents);
    missed = a->n_missed;
    cents = a->cost_cents;
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *name;
  int heads, least, want;
  double per_hand;
} HANDS[] = {
    {"fixed", 500, 3, 3, 0},
    {"exactly three", 120, 1, 3, 40},
    {"one more guest, one more hand", 121, 1, 4, 40},
    {"never below the least", 20, 2, 2, 40},
};

START_TEST(hands)
{
  int guests = HANDS[_i].heads;
  struct pw_service service = {.guests = &guests, .at_min = 600, .length_min = 60};
  struct pw_event ev = {.n_classes = 1, .services = &service, .n_services = 1};
  struct pw_crew crew = {
      .count = HANDS[_i].least, .guests_per_hand = HANDS[_i].per_hand, .from_at_min = 540, .to_at_min = 700};
  ck_assert_msg(pw_head_count_hands(&ev, &crew) == HANDS[_i].want, "%s: got %d", HANDS[_i].name,
                pw_head_count_hands(&ev, &crew));
}
END_TEST

/* One hand for 40 guests: supper for 60 the day before, lunch for 200 and a late snack for 90 that begins before it ends. */
static const struct {
  const char *name;
  int from, to, want;
} SHIFTS[] = {
    {"supper", -400, -200, 2},
    {"lunch alone", 600, 640, 5},
    {"lunch and snack at once", 600, 900, 8},
    {"the end of the snack", 760, 900, 3},
    {"night before lunch: works for that day's largest", -190, 500, 5},
    {"after the last meal: that day's", 1000, 1100, 5},
    {"morning before supper", -700, -450, 2},
    {"over both days", -400, 900, 8},
};

START_TEST(hands_follow_who_is_fed_in_the_shift)
{
  int guests[] = {60, 200, 90};
  struct pw_service services[] = {{.guests = &guests[0], .at_min = -360, .length_min = 90, .day = -1},
                                  {.guests = &guests[1], .at_min = 600, .length_min = 120},
                                  {.guests = &guests[2], .at_min = 700, .length_min = 120}};
  struct pw_event ev = {.n_classes = 1, .services = services, .n_services = 3};
  struct pw_crew crew = {.count = 1, .guests_per_hand = 40, .from_at_min = SHIFTS[_i].from, .to_at_min = SHIFTS[_i].to};
  ck_assert_msg(pw_head_count_hands(&ev, &crew) == SHIFTS[_i].want, "%s: got %d", SHIFTS[_i].name,
                pw_head_count_hands(&ev, &crew));
}
END_TEST

static Suite *run_suite(void)
{
  Suite *s = suite_create("run");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 240);
  tcase_add_loop_test(t, one_plan_one_price, 0, 4);
  tcase_add_test(t, rungs_beside_the_plan);
  tcase_add_test(t, more_guests_never_buy_less);
  tcase_add_loop_test(t, more_work_is_never_dearer, 0, (int)(sizeof WORKED / sizeof *WORKED));
  tcase_add_loop_test(t, scaled_guests, 0, (int)(sizeof SCALES / sizeof *SCALES));
  tcase_add_test(t, no_guests_no_scale);
  tcase_add_loop_test(t, hands, 0, (int)(sizeof HANDS / sizeof *HANDS));
  tcase_add_loop_test(t, hands_follow_who_is_fed_in_the_shift, 0, (int)(sizeof SHIFTS / sizeof *SHIFTS));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(run_suite)
