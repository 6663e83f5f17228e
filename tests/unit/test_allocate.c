/* Whole allocations on problems made from a seed, checked by plain code that knows only rectangles and times. */
#include "harness.h"

#include "../bench/instances.h"
#include "plan/stages.h"

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

static struct pw_allocation plan(struct pw_instance *in, enum pw_effort effort)
{
  struct pw_allocation a;
  struct pw_allocate_options o = {.effort = effort, .seed = 7};
  ck_assert_int_eq(pw_allocate_make(&a, &in->event, &in->lots, &in->rates, &o, ctx), PW_OK);
  return a;
}

static void check_racks(const struct pw_instance *in, const struct pw_allocation *a)
{
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *l = &a->loads[i];
    for (int k = 0; l->zone != PW_NONE && k < l->pieces; k++) {
      const struct pw_zone *z = &in->lots.zones[l->zone];
      const struct pw_rect *r = &l->rects[k];
      ck_assert(r->x_m >= z->x_m - 1e-9 && r->x_m + r->length_m <= z->x_m + z->length_m + 1e-9);
      ck_assert(r->y_m >= -1e-9 && r->y_m + r->depth_m <= z->depth_m + 1e-9);
      for (int j = 0; j <= i; j++) {
        const struct pw_load *m = &a->loads[j];
        if (m->zone != l->zone || m->start_at_min >= l->end_at_min || l->start_at_min >= m->end_at_min)
          continue;
        for (int h = 0; h < (j == i ? k : m->pieces); h++) {
          const struct pw_rect *q = &m->rects[h];
          bool apart = q->x_m + q->length_m <= r->x_m + 1e-9 || r->x_m + r->length_m <= q->x_m + 1e-9 ||
                       q->y_m + q->depth_m <= r->y_m + 1e-9 || r->y_m + r->depth_m <= q->y_m + 1e-9;
          ck_assert_msg(apart, "loads %d and %d overlap", i, j);
        }
      }
    }
    bool is_burning = l->zone == PW_NONE;
    for (int b = 0; b < a->n_burns && l->zone != PW_NONE; b++)
      is_burning = is_burning || (a->burns[b].pit == in->lots.zones[l->zone].pit && a->burns[b].ready_at_min <= l->start_at_min &&
                                  a->burns[b].out_at_min >= l->end_at_min);
    ck_assert_msg(is_burning, "load %d lies in a cold pit", i);
  }
}

static void check_stores(const struct pw_instance *in, const struct pw_allocation *a)
{
  for (int f = 0; f < in->event.n_finishers; f++)
    for (int t = in->lots.start_at_min; t < in->lots.end_at_min; t += in->lots.slot_min) {
      double used = 0;
      for (int i = 0; i < a->n_loads; i++) {
        const struct pw_load *l = &a->loads[i];
        const struct pw_lot *lot = &in->lots.lots[l->lot];
        if (l->finisher == f && l->start_at_min <= t && t < l->end_at_min)
          used += l->pieces * (in->event.finishers[f].is_in_pans ? in->event.cuts[lot->cut].pans_per_piece
                                                                 : lot->wrapped_length_m * lot->wrapped_width_m);
      }
      ck_assert_msg(used <= in->event.finishers[f].capacity + 1e-6, "finisher %d over-full at %d", f, t);
    }
}

static void check_lots(const struct pw_instance *in, const struct pw_allocation *a)
{
  for (int c = 0; c < in->lots.n_lots; c++) {
    const struct pw_lot *lot = &in->lots.lots[c];
    int n[4] = {0};
    for (int i = 0; i < a->n_loads; i++) {
      const struct pw_load *l = &a->loads[i];
      if (l->lot != c)
        continue;
      n[l->stage] += l->pieces;
      int minutes = l->end_at_min - l->start_at_min;
      if (l->stage == PW_LOAD_SMOKE)
        ck_assert_int_eq(minutes, lot->smoke_min[l->zone][0]);
      else if (l->stage == PW_LOAD_FINISH)
        ck_assert_int_eq(minutes, l->zone != PW_NONE ? lot->finish_min[l->zone][0] : lot->oven_min[l->finisher]);
      else if (l->stage == PW_LOAD_REST)
        ck_assert_int_eq(minutes, lot->rest_min);
      else
        ck_assert_int_le(minutes, lot->hold_max_min);
    }
    ck_assert_int_eq(n[PW_LOAD_SMOKE] + a->missed[c], lot->pieces);
    ck_assert_int_eq(n[PW_LOAD_FINISH], lot->has_finish ? n[PW_LOAD_SMOKE] : 0);
  }
}

static void check_all(const struct pw_instance *in, const struct pw_allocation *a)
{
  ck_assert(a->bound_cents <= a->cost_cents + 1e-6);
  check_racks(in, a);
  check_stores(in, a);
  check_lots(in, a);
}

START_TEST(random_problems_keep_every_rule)
{
  struct pw_instance_spec spec = {"random", 100u + (unsigned)_i, 30 + 37 * (_i % 9), 1 + _i % 4, 3 + _i % 9, _i % 2, 30, 1};
  struct pw_instance *in = pw_instance_make(&spec, ctx);
  struct pw_allocation a = plan(in, PW_EFFORT_QUICK);
  check_all(in, &a);
}
END_TEST

START_TEST(full_plans_are_bounded_repeatable_and_no_worse_than_quick)
{
  struct pw_instance_spec spec = {"small", 500u + (unsigned)_i, 30 + 10 * _i, 1 + _i % 2, 3, false, 30, 1};
  struct pw_instance *in = pw_instance_make(&spec, ctx);
  struct pw_allocation quick = plan(in, PW_EFFORT_QUICK), a = plan(in, PW_EFFORT_FULL), b = plan(in, PW_EFFORT_FULL);
  check_all(in, &a);
  ck_assert(a.cost_cents <= quick.cost_cents + 1e-6);
  ck_assert(a.bound_cents <= quick.cost_cents + 1e-6);
  ck_assert(a.bound_cents > 0);
  ck_assert(a.cost_cents == b.cost_cents);
  ck_assert_int_eq(a.n_loads, b.n_loads);
  for (int i = 0; i < a.n_loads; i++)
    ck_assert(a.loads[i].zone == b.loads[i].zone && a.loads[i].start_at_min == b.loads[i].start_at_min &&
              a.loads[i].pieces == b.loads[i].pieces && a.loads[i].lot == b.loads[i].lot);
}
END_TEST

START_TEST(too_little_rack_is_named)
{
  struct pw_instance_spec spec = {"short", 9, 60, 1, 4, false, 30, 1};
  struct pw_instance *in = pw_instance_make(&spec, ctx);
  for (int c = 0; c < in->lots.n_lots; c++)
    in->lots.lots[c].pieces *= 12;
  struct pw_allocation a = plan(in, PW_EFFORT_FULL);
  check_all(in, &a);
  ck_assert_int_eq(a.outcome, PW_OUTCOME_SHORT);
  ck_assert_int_gt(a.n_missed, 0);
  ck_assert_int_gt(a.n_shortages, 0);
  int n = 0;
  for (int i = 0; i < a.n_shortages; i++) {
    n += a.shortages[i].pieces;
    ck_assert_ptr_nonnull(a.shortages[i].text);
  }
  ck_assert_int_eq(n, a.n_missed);
  for (int i = 0; i < a.n_remedies; i++)
    ck_assert_int_lt(a.remedies[i].missed_after, a.n_missed);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("allocate");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120); /* for the sanitizers; nothing here asserts a time */
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, random_problems_keep_every_rule, 0, 60);
  tcase_add_loop_test(t, full_plans_are_bounded_repeatable_and_no_worse_than_quick, 0, 3);
  tcase_add_test(t, too_little_rack_is_named);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
