/* The core curve of a cook and the figures read from it. */
#include "harness.h"
#include "heat/curve.h"
#include "heat/lethality.h"
#include "heat_fixture.h"

static struct pw_ctx *ctx;
static struct heat_fixture fix;
static struct pw_curve curve;
static struct pw_curve_place place;

static void set_up(void)
{
  ctx = pw_test_ctx();
  heat_fixture_make(&fix);
  place = (struct pw_curve_place){fix_c(250), fix_c(250), pw_stage_air_mild()};
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static void make(const struct pw_cut *cut) { ck_assert_int_eq(pw_curve_make(&curve, cut, &place, 10, ctx), PW_OK); }

START_TEST(brisket)
{
  const struct pw_cut *cut = &fix.cuts[FIX_BRISKET];
  make(cut);
  const struct pw_curve_sum *s = &curve.sum;
  PW_NEAR("wrap", s->wrap_min, 420, 0.01, 0);
  PW_NEAR("done", s->done_min, 690, 0.02, 0);
  PW_NEAR("core at the end", s->end_core_c, cut->finish.to_c, 1e-6, 0);
  /* open and wet the core slows long before the wrap, and the surface stays under boiling until then */
  ck_assert_msg(s->slow_from_c > 45 && s->slow_from_c < 68, "slow from %g C", s->slow_from_c);
  ck_assert_msg(s->slow_min > 60 && s->slow_min < 300, "slow for %g min", s->slow_min);
  ck_assert(s->evaporated_frac > 0.04 && s->evaporated_frac < s->loss_frac);
  ck_assert(s->log_reduction > 50 && s->log_needed == 6.5);
  ck_assert_msg(s->come_up_min > 120 && s->come_up_min < 360, "come-up %g min", s->come_up_min);
  ck_assert_ptr_null(s->doubt);
}
END_TEST

START_TEST(points_tell_the_same_story)
{
  const struct pw_cut *cut = &fix.cuts[FIX_BRISKET];
  make(cut);
  ck_assert_int_gt(curve.n_points, 60);
  const struct pw_curve_point *first = &curve.points[0], *last = &curve.points[curve.n_points - 1];
  PW_NEAR("starts cold", first->core_c, cut->smoke.from_c, 1e-9, 0);
  PW_NEAR("ends done", last->at_min, curve.sum.done_min, 1e-9, 0);
  PW_NEAR("ends done", last->core_c, cut->finish.to_c, 1e-6, 0);
  PW_NEAR("log", last->log_reduction, curve.sum.log_reduction, 1e-9, 0);
  double log = 0, from = NAN, to = NAN;
  for (int i = 1; i < curve.n_points; i++) {
    const struct pw_curve_point *a = &curve.points[i - 1], *b = &curve.points[i];
    ck_assert(b->at_min > a->at_min && b->at_min - a->at_min < 16);
    ck_assert(b->core_c >= a->core_c - 1e-6);
    ck_assert(b->evaporated_frac >= a->evaporated_frac - 2e-3 /* dew on a cold piece */);
    ck_assert(b->surface_c < b->air_c && (b->is_wrapped || b->surface_c < 100));
    log += 0.5 * (pw_lethality_rate_log_min(cut->kind, a->core_c) + pw_lethality_rate_log_min(cut->kind, b->core_c)) *
           (b->at_min - a->at_min);
    if (a->core_c < 10 && b->core_c >= 10)
      from = a->at_min + (10 - a->core_c) / (b->core_c - a->core_c) * (b->at_min - a->at_min);
    if (a->core_c < 54.4 && b->core_c >= 54.4)
      to = a->at_min + (54.4 - a->core_c) / (b->core_c - a->core_c) * (b->at_min - a->at_min);
  }
  PW_NEAR("log summed from the points", log, curve.sum.log_reduction, 0, 0.05);
  PW_NEAR("come-up read from the points", to - from, curve.sum.come_up_min, 2, 0);
}
END_TEST

START_TEST(figures_alone_are_the_same)
{
  struct pw_stage_model m;
  make(&fix.cuts[FIX_BRISKET]);
  pw_stage_model_make(&m, &fix.cuts[FIX_BRISKET]);
  struct pw_curve_sum s = pw_curve_sum(&m, &place);
  PW_NEAR("done", s.done_min, curve.sum.done_min, 1e-12, 0);
  PW_NEAR("log", s.log_reduction, curve.sum.log_reduction, 0, 1e-12);
  PW_NEAR("slow", s.slow_min, curve.sum.slow_min, 1e-12, 0);
}
END_TEST

START_TEST(no_wrapped_stage)
{
  make(&fix.cuts[FIX_SAUSAGE]);
  PW_NEAR("done", curve.sum.done_min, 60, 0.01, 0);
  for (int i = 0; i < curve.n_points; i++)
    ck_assert(!curve.points[i].is_wrapped);
  /* its yield allows a tenth: no more water than that is boiled off */
  ck_assert(curve.sum.evaporated_frac <= 0.10);
}
END_TEST

START_TEST(own_readings_stretch_the_curve)
{
  struct pw_cut cut = fix.cuts[FIX_BRISKET];
  struct pw_reading own[] = {{fix_c(250), 480}};
  cut.smoke.own = own;
  cut.smoke.n_own = 1;
  double come_up = (make(&fix.cuts[FIX_BRISKET]), curve.sum.come_up_min);
  make(&cut);
  PW_NEAR("wrap", curve.sum.wrap_min, 480, 0.01, 0);
  PW_NEAR("come-up", curve.sum.come_up_min, come_up * 480 / 420, 0.1, 0);
}
END_TEST

START_TEST(warm_start_and_cold_pit)
{
  struct pw_cut cut = fix.cuts[FIX_BRISKET];
  cut.start_c = 15;
  make(&cut);
  ck_assert(curve.sum.come_up_min < curve.sum.wrap_min); /* counted from the start */
  place.smoke_c = 72;                                    /* hardly above the end temperature */
  make(&cut);
  ck_assert(isinf(curve.sum.wrap_min) && isinf(curve.sum.done_min));
  ck_assert_ptr_nonnull(curve.sum.doubt);
  place.smoke_c = 50;
  make(&cut);
  ck_assert(isinf(curve.sum.come_up_min) && curve.sum.log_reduction == 0);
}
END_TEST

START_TEST(memory_running_out_is_reported)
{
  long before = pw_arena_count(ctx->arena);
  make(&fix.cuts[FIX_BRISKET]);
  long n = pw_arena_count(ctx->arena) - before;
  ck_assert_int_gt(n, 1);
  for (long k = 1; k <= n; k++) {
    struct pw_curve got;
    pw_arena_fail_at(ctx->arena, k);
    ck_assert_int_eq(pw_curve_make(&got, &fix.cuts[FIX_BRISKET], &place, 10, ctx), PW_ERR_MEMORY);
    ck_assert(got.points == NULL && got.n_points == 0);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("curve");
  TCase *t = tcase_create("curve");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, brisket);
  tcase_add_test(t, points_tell_the_same_story);
  tcase_add_test(t, figures_alone_are_the_same);
  tcase_add_test(t, no_wrapped_stage);
  tcase_add_test(t, own_readings_stretch_the_curve);
  tcase_add_test(t, warm_start_and_cold_pit);
  tcase_add_test(t, memory_running_out_is_reported);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
