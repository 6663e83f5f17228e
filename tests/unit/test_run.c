/* Tests of the pipeline as a whole and of other head counts: what a quote promises the pack keeps. */
#include "planned.h"

#include "plan/head_count.h"
#include "plan/ladder.h"

START_TEST(quote_and_pack_name_one_price)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = planned_event(PLANNED_EVENTS[_i], ctx);
  const struct pw_quote *quick = &planned(ev, true, PW_EFFORT_QUICK, ctx)->quote;
  const struct pw_plan *plan = planned(ev, true, PW_EFFORT_FULL, ctx);
  const struct pw_quote *full = &plan->quote;
  ck_assert_int_eq(full->price_cents, quick->price_cents);
  ck_assert_int_eq(full->total_cents, quick->total_cents);
  ck_assert_int_eq(full->deposit_cents, quick->deposit_cents);
  ck_assert_int_eq(full->n_ladder, quick->n_ladder);
  ck_assert_int_eq(full->fuel_cents, plan->fuel.cost_cents);
  pw_cents sum = full->food_cents + full->supplies_cents + full->fuel_cents + full->labour_cents + full->rental_cents +
                 full->travel_cents + full->overhead_cents;
  ck_assert_int_eq(full->cost_cents, sum);
  double net = (double)(full->price_cents - full->discount_cents);
  PW_NEAR("margin", full->margin_frac, (net - (double)sum) / net, 1e-12, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(each_rung_is_a_plan_of_its_own)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = planned_event(PLANNED_EVENTS[0], ctx);
  const struct pw_quote *q = &planned(ev, true, PW_EFFORT_QUICK, ctx)->quote;
  ck_assert_int_ge(q->n_ladder, 7);
  bool has_planned = false;
  for (int i = 0; i < q->n_ladder; i++) {
    const struct pw_event *other = NULL;
    ck_assert_int_eq(pw_head_count_scale(&other, ev, q->ladder[i].guests, ctx), PW_OK);
    const struct pw_plan *alone = planned(other, false, PW_EFFORT_QUICK, ctx);
    ck_assert_int_eq(alone->quote.cost_cents, q->ladder[i].cost_cents);
    ck_assert_int_eq(alone->quote.price_cents, q->ladder[i].price_cents);
    ck_assert_int_eq(alone->allocation.n_missed, q->ladder[i].missed);
    has_planned = has_planned || (q->ladder[i].guests == q->guests && q->ladder[i].total_cents == q->total_cents);
  }
  ck_assert(has_planned);
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

static const struct {
  const char *name;
  int heads, least, want;
  double per_hand;
} HANDS[] = {
    {"fixed", 500, 3, 3, 0},      {"exactly three", 120, 1, 3, 40}, {"one more guest, one more hand", 121, 1, 4, 40},
    {"never below the least", 20, 2, 2, 40},
};

START_TEST(hands)
{
  int guests = HANDS[_i].heads;
  struct pw_service service = {.guests = &guests};
  struct pw_event ev = {.n_classes = 1, .services = &service, .n_services = 1};
  struct pw_crew crew = {.count = HANDS[_i].least, .guests_per_hand = HANDS[_i].per_hand};
  ck_assert_msg(pw_head_count_hands(&ev, &crew) == HANDS[_i].want, "%s: got %d", HANDS[_i].name, pw_head_count_hands(&ev, &crew));
}
END_TEST

static Suite *run_suite(void)
{
  Suite *s = suite_create("run");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 240);
  tcase_add_loop_test(t, quote_and_pack_name_one_price, 0, 2);
  tcase_add_test(t, each_rung_is_a_plan_of_its_own);
  tcase_add_test(t, more_guests_never_buy_less);
  tcase_add_loop_test(t, scaled_guests, 0, (int)(sizeof SCALES / sizeof *SCALES));
  tcase_add_test(t, no_guests_no_scale);
  tcase_add_loop_test(t, hands, 0, (int)(sizeof HANDS / sizeof *HANDS));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(run_suite)
