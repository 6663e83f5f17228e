/* Zones, stage times in zones, windows. */
#include "harness.h"
#include "heat/stage_time.h"
#include "heat_fixture.h"
#include "plan/stages.h"

static struct pw_ctx *ctx;
static struct heat_fixture fix;
static struct pw_lots lots;

static void set_up(void)
{
  ctx = pw_test_ctx();
  heat_fixture_make(&fix);
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static void plan(void) { ck_assert_int_eq(pw_lots_make(&lots, &fix.ev, &fix.purchase, NULL, ctx), PW_OK); }

/** Up to the slot, a fiftieth (at most 5 minutes of 30) let go. */
static int ceil_slot(double minutes, int slot)
{
  return (int)ceil((minutes - fmin(minutes / 50, slot / 6.0)) / slot - 1e-9) * slot;
}

START_TEST(zones_fall_from_hot_to_cool)
{
  plan();
  ck_assert_int_eq(lots.n_zones, 2 + 3 + 1);
  ck_assert_str_eq(lots.zones[0].id, "long/main/1");
  ck_assert_str_eq(lots.zones[4].id, "long/upper/3");
  ck_assert_str_eq(lots.zones[5].id, "drum/ring/1");
  /* 275 F to 250 F over two stretches: a quarter and three quarters of the fall */
  PW_NEAR("main 1", lots.zones[0].temp_c[0], fix_c(275 - 25 * 0.25), 1e-9, 0);
  PW_NEAR("main 2", lots.zones[1].temp_c[0], fix_c(275 - 25 * 0.75), 1e-9, 0);
  PW_NEAR("upper 2, hot", lots.zones[3].temp_c[1], fix_c(285) + 5.0, 1e-9, 0);
  PW_NEAR("x", lots.zones[4].x_m, 1.2, 1e-12, 0);
  PW_NEAR("length", lots.zones[4].length_m, 0.6, 1e-12, 0);
}
END_TEST

/* Rack main is 1.8 m: 135 C at the fire end falls to 121.1 C; the middles of its zones are at 0.45 and 1.35 m. */
START_TEST(thermometers_bend_the_line)
{
  struct pw_probe probes[] = {{0, 1.7, 119}, {0, 0.3, 140}, {1, 0.9, 131}};
  fix.steady[0] = (struct pw_setting){.name = "steady", .hot_c = 135, .cool_c = 121, .probes = probes, .n_probes = 3};
  plan();
  /* shifts: 140 - 132.667 = 7.333 at 0.3 m, 119 - 121.778 = -2.778 at 1.7 m */
  double slope = (-2.77778 - 7.33333) / 1.4;
  PW_NEAR("main 1", lots.zones[0].temp_c[0], 131.5 + 7.33333 + slope * 0.15, 1e-4, 0);
  PW_NEAR("main 2", lots.zones[1].temp_c[0], 124.5 + 7.33333 + slope * 1.05, 1e-4, 0);
  /* one reading on the upper rack moves all of it: line there 128 + 5 */
  PW_NEAR("upper 1", lots.zones[2].temp_c[0], 135 - 14.0 / 6 + 5 - 2, 1e-9, 0);
  PW_NEAR("upper 3", lots.zones[4].temp_c[0], 135 - 14.0 * 5 / 6 + 5 - 2, 1e-9, 0);
  /* another setting keeps its own line; with both readings beyond a zone the nearer one counts */
  PW_NEAR("hot", lots.zones[0].temp_c[1], fix_c(300 - 30 * 0.25), 1e-9, 0);
  probes[1] = (struct pw_probe){0, 1.5, 125};
  plan();
  PW_NEAR("main 1", lots.zones[0].temp_c[0], 131.5 + 125 - (135 - 14 * 1.5 / 1.8), 1e-9, 0);
}
END_TEST

START_TEST(lots_of_needed_cuts)
{
  plan();
  ck_assert_int_eq(lots.n_lots, 2);
  ck_assert_str_eq(lots.lots[0].id, "dinner/brisket");
  ck_assert_int_eq(lots.lots[0].pieces, 8);
  PW_NEAR("trimmed", lots.lots[0].piece_kg, 6.35 * 0.85, 1e-12, 0);
  PW_NEAR("footprint", lots.lots[0].footprint_length_m, 0.54, 1e-12, 0);
  PW_NEAR("wrapped", lots.lots[0].wrapped_width_m, 0.32, 1e-12, 0);
  ck_assert(lots.lots[0].has_finish && !lots.lots[1].has_finish);
  fix.raws[2].pieces = 2;
  plan();
  ck_assert_int_eq(lots.n_lots, 3);
  ck_assert_int_gt(lots.lots[2].smoke_min[0][0], 0); /* a pan of beans takes its place on a rack like meat */
}
END_TEST

START_TEST(reference_time_is_met_exactly)
{
  const struct pw_cut *c = &fix.cuts[FIX_BRISKET];
  PW_NEAR("smoke", pw_stage_minutes(c, &c->smoke, c->smoke.ref_c), c->smoke.ref_min, 0.5, 0);
  PW_NEAR("finish", pw_stage_minutes(c, &c->finish, c->finish.ref_c), c->finish.ref_min, 0.5, 0);
  ck_assert(pw_stage_minutes(c, &c->smoke, fix_c(275)) < c->smoke.ref_min - 20);
  ck_assert(pw_stage_minutes(c, &c->smoke, fix_c(225)) > c->smoke.ref_min + 20);
}
END_TEST

START_TEST(stage_times_are_slots_in_range)
{
  plan();
  for (int l = 0; l < lots.n_lots; l++) {
    const struct pw_lot *lot = &lots.lots[l];
    const struct pw_cut *cut = &fix.cuts[lot->cut];
    for (int z = 0; z < lots.n_zones; z++)
      for (int s = 0; s < fix.pits[lots.zones[z].pit].n_settings; s++) {
        double temp = lots.zones[z].temp_c[s];
        int m = lot->smoke_min[z][s];
        if (temp < cut->smoke.low_c || temp > cut->smoke.high_c)
          ck_assert_int_eq(m, PW_NONE);
        else if (m != PW_NONE) {
          struct pw_stage_model model;
          struct pw_stage_air air = pw_stage_air_of(&fix.ev, lots.zones[z].pit);
          pw_stage_model_make(&model, cut);
          ck_assert_int_eq(m, ceil_slot(pw_stage_model_minutes(&model, &cut->smoke, temp, &air), 30));
        }
      }
  }
  /* 0.12 m of brisket does not go under 0.11 m of upper rack; nor 0.54 x 0.34 m on a disc of 0.56 m */
  ck_assert_int_eq(lots.lots[0].smoke_min[2][0], PW_NONE);
  ck_assert_int_eq(lots.lots[0].smoke_min[5][0], PW_NONE);
  ck_assert_int_gt(lots.lots[1].smoke_min[5][0], 0);
  ck_assert_int_eq(lots.lots[1].finish_min[0][0], PW_NONE);
}
END_TEST

START_TEST(ovens_only_where_allowed)
{
  plan();
  ck_assert_int_eq(lots.lots[0].oven_min[0], 270);
  ck_assert_int_eq(lots.lots[0].oven_min[1], PW_NONE);
  ck_assert_int_eq(lots.lots[1].oven_min[0], PW_NONE);
  fix.cuts[FIX_BRISKET].finish.in_oven = false;
  plan();
  ck_assert_int_eq(lots.lots[0].oven_min[0], PW_NONE);
  fix.cuts[FIX_BRISKET].finish.in_oven = true;
  fix.finishers[0].capacity = 0.1; /* smaller than one piece */
  plan();
  ck_assert_int_eq(lots.lots[0].oven_min[0], PW_NONE);
}
END_TEST

/* A piece just as high as there is room goes on; a hair higher it does not. */
START_TEST(as_high_as_the_rack)
{
  fix.racks[0].clear_height_m = fix.cuts[FIX_BRISKET].height_m;
  plan();
  ck_assert_int_gt(lots.lots[0].smoke_min[0][0], 0);
  fix.racks[0].clear_height_m -= 0.001;
  plan();
  ck_assert_int_eq(lots.lots[0].smoke_min[0][0], PW_NONE);
}
END_TEST

/* Two pits as hot as each other with different air: each has its own times. */
START_TEST(air_of_each_pit)
{
  fix.low[0] = fix.steady[0] = (struct pw_setting){.name = "even", .hot_c = fix_c(250), .cool_c = fix_c(250)};
  fix.ev.slot_min = 5;
  fix.cuts[FIX_BRISKET].length_m = 0.3; /* goes on the drum too */
  fix.cuts[FIX_BRISKET].width_m = 0.2;
  fix.pits[0].excess_air_frac = 9;
  fix.pits[1].excess_air_frac = 1;
  plan();
  const struct pw_cut *cut = &fix.cuts[FIX_BRISKET];
  int got[2] = {lots.lots[0].smoke_min[0][0], lots.lots[0].smoke_min[5][0]};
  for (int pit = 0; pit < 2; pit++) {
    struct pw_stage_model model;
    struct pw_stage_air air = pw_stage_air_of(&fix.ev, pit);
    pw_stage_model_make(&model, cut);
    ck_assert_int_eq(got[pit], ceil_slot(pw_stage_model_minutes(&model, &cut->smoke, fix_c(250), &air), 5));
  }
  ck_assert_int_ne(got[0], got[1]);
}
END_TEST

START_TEST(a_piece_may_turn_to_fit)
{
  fix.racks[0] = (struct pw_rack){"main", PW_RECTANGLE, 0.5, 0.60, 0.35, 0.0, 2, 0, false}; /* piece 0.54 x 0.34 */
  plan();
  ck_assert_int_gt(lots.lots[0].smoke_min[0][0], 0);
  fix.cuts[FIX_BRISKET].may_turn = false;
  plan();
  ck_assert_int_eq(lots.lots[0].smoke_min[0][0], PW_NONE);
  /* a rack just as large as the piece takes it, one a millimetre less does not */
  for (int less = 0; less < 3; less++) {
    fix.racks[0] = (struct pw_rack){
        "main", PW_RECTANGLE, less == 1 ? 0.539 : 0.54, less == 2 ? 0.339 : 0.34, 0.35, 0.0, 1, 0, false};
    plan();
    ck_assert_msg((lots.lots[0].smoke_min[0][0] > 0) == (less == 0), "rack of %g x %g m", fix.racks[0].length_m,
                  fix.racks[0].depth_m);
  }
  /* zones of 0.2 m: the middle of a piece 0.54 m long can lie in the second, not so near the end as in the first */
  fix.racks[0] = (struct pw_rack){"main", PW_RECTANGLE, 1.2, 0.60, 0.35, 0.0, 6, 0, false};
  plan();
  ck_assert_int_eq(lots.lots[0].smoke_min[0][0], PW_NONE);
  ck_assert_int_gt(lots.lots[0].smoke_min[1][0], 0);
}
END_TEST

/** Service 17:30 unless told; want in minutes. */
static const struct {
  const char *name;
  int at, rest, hold, want_early, want_first, want_last;
} windows[] = {
    /* early: 1.28 x hypot(42, 32.4) = 68 -> 60 */
    {"on the grid", 1050, 60, 300, 60, 690, 930},
    {"off the grid", 1065, 60, 300, 60, 720, 930},
    {"short hold caps the earliness", 1050, 60, 30, 30, 960, 960},
    {"hold shorter than a slot", 1065, 60, 10, 0, 990, 990},
    {"no hold", 1050, 60, 0, 0, 990, 990},
};

START_TEST(window)
{
  fix.services[0].at_min = windows[_i].at;
  fix.cuts[FIX_BRISKET].rest_min = windows[_i].rest;
  fix.cuts[FIX_BRISKET].hold_max_min = windows[_i].hold;
  plan();
  const struct pw_lot *lot = &lots.lots[0];
  ck_assert_msg(lot->early_min == windows[_i].want_early, "%s: early %d", windows[_i].name, lot->early_min);
  ck_assert_msg(lot->done_first_min == windows[_i].want_first, "%s: first %d", windows[_i].name, lot->done_first_min);
  ck_assert_msg(lot->done_last_min == windows[_i].want_last, "%s: last %d", windows[_i].name, lot->done_last_min);
}
END_TEST

/* Half of eight briskets of 10 min are 40 min for one who carves, 20 for two: who stays until the service begins and who comes half an
 * hour before it are hands, a minute less and they are none. */
START_TEST(hands_that_carve)
{
  fix.ev.slot_min = 10;
  fix.cuts[FIX_BRISKET].carve_min = 10;
  struct pw_crew crew[2] = {
      {.role = "a", .duties = 1u << PW_DUTY_CARVE, .count = 1, .from_at_min = 600, .to_at_min = 1050},
      {.role = "b", .duties = 1u << PW_DUTY_CARVE, .count = 1, .from_at_min = 1020, .to_at_min = 1200}};
  fix.ev.crew = crew;
  fix.ev.n_crew = 2;
  plan();
  int two = lots.lots[0].done_last_min;
  crew[0].to_at_min = 1049;
  plan();
  int one = lots.lots[0].done_last_min;
  crew[0].to_at_min = 1050;
  crew[1].from_at_min = 1021;
  plan();
  ck_assert_int_eq(two - one, 20);
  ck_assert_int_eq(lots.lots[0].done_last_min, one);
}
END_TEST

START_TEST(horizon)
{
  plan();
  const struct pw_lot *b = &lots.lots[0];
  int longest = 0, finish = b->oven_min[0];
  for (int z = 0; z < 5; z++)
    for (int s = 0; s < 2; s++) {
      longest = b->smoke_min[z][s] > longest ? b->smoke_min[z][s] : longest;
      finish = b->finish_min[z][s] > finish ? b->finish_min[z][s] : finish;
    }
  ck_assert_int_eq(lots.start_at_min, b->done_first_min - longest - finish - 90);
  ck_assert_int_eq(lots.end_at_min, 1050);
  ck_assert_int_eq(lots.start_at_min % 30, 0);
}
END_TEST

START_TEST(memory_running_out_is_reported)
{
  plan();
  long n = pw_arena_count(ctx->arena);
  for (long k = 1; k <= n; k++) {
    struct pw_ctx *c = pw_test_ctx();
    struct pw_lots got;
    pw_arena_fail_at(c->arena, k);
    ck_assert_int_eq(pw_lots_make(&got, &fix.ev, &fix.purchase, NULL, c), PW_ERR_MEMORY);
    ck_assert_int_eq(got.n_lots, 0);
    pw_test_ctx_free(c);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("lots");
  TCase *t = tcase_create("lots");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, zones_fall_from_hot_to_cool);
  tcase_add_test(t, thermometers_bend_the_line);
  tcase_add_test(t, lots_of_needed_cuts);
  tcase_add_test(t, reference_time_is_met_exactly);
  tcase_add_test(t, stage_times_are_slots_in_range);
  tcase_add_test(t, ovens_only_where_allowed);
  tcase_add_test(t, as_high_as_the_rack);
  tcase_add_test(t, air_of_each_pit);
  tcase_add_test(t, a_piece_may_turn_to_fit);
  tcase_add_loop_test(t, window, 0, (int)(sizeof windows / sizeof windows[0]));
  tcase_add_test(t, hands_that_carve);
  tcase_add_test(t, horizon);
  tcase_add_test(t, memory_running_out_is_reported);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
