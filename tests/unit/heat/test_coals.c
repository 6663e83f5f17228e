/* Pieces over coals: the two-sided run against a published worked example, against the run of one side, and the catalog's grates. */
#include "harness.h"

#include "base/ctx.h"
#include "heat/coals.h"
#include "heat/stage_time.h"
#include "heat/zone_temp.h"
#include "read/read.h"

#include <math.h>

/** Thiffeault, The mathematics of burger flipping, Physica D 2022 (news on it seen, the paper not): a patty of 1 cm at 25 C on a plate of
 *  200 C, 900 W/m2K, its upper side in air of 25 C, 60 W/m2K, done when all of it has been at 70 C.  Conductivity 0.416 W/mK from memory;
 *  diffusivity 0.12 mm2/s is the one figure chosen here, and then both times come out. */
static double patty_s(int turns)
{
  struct pw_engine_body body = {
      .dims = 1.0, .half_m = 0.005, .conductivity_w_mk = 0.416, .heat_j_m3k = 0.416 / 1.2e-7, .cells = 32};
  struct pw_engine_bath baths[2] = {{.air_c = 200.0, .h_w_m2k = 900.0, .pressure_pa = 101325.0},
                                    {.air_c = 25.0, .h_w_m2k = 60.0, .pressure_pa = 101325.0}};
  struct pw_engine_state half[2];
  pw_engine_start(&half[0], &body, 25.0);
  half[1] = half[0];
  return pw_engine_turned_run(&body, baths, half, 70.0, turns, 100, 3600.0, NULL, NULL);
}

START_TEST(burger_flipping)
{
  PW_NEAR("one turn", patty_s(1), 80.0, 0.02 * 80.0, 0);
  PW_NEAR("ten turns", patty_s(10), 69.0, 0.01 * 69.0, 0);
  double none = patty_s(0);
  ck_assert_msg(none > 3.0 * patty_s(1), "never turned: %g s", none); /* "could take forever" */
}
END_TEST

/** Both sides alike, it is the run of a half slab with a middle plane through which no heat goes. */
START_TEST(alike_sides_are_one)
{
  struct pw_engine_body body = {
      .dims = 1.0, .half_m = 0.012, .conductivity_w_mk = 0.45, .heat_j_m3k = 3.5e6, .cells = 24, .bound_kg_m3 = 250.0};
  struct pw_engine_bath bath = {.air_c = 200.0,
                                .h_w_m2k = 15.0,
                                .contact_w_m2k = 40.0,
                                .emissivity_frac = 0.9,
                                .pressure_pa = 101325.0,
                                .vapour_pa = 1500.0,
                                .walls_c = 250.0,
                                .wet_frac = 1.0,
                                .juice_frac = 0.6};
  struct pw_engine_bath both[2] = {bath, bath};
  struct pw_engine_state half[2], one;
  pw_engine_start(&one, &body, 5.0);
  half[0] = half[1] = one;
  double turned = pw_engine_turned_run(&body, both, half, 70.0, 0, 400, 1e4, NULL, NULL),
         plain = pw_engine_run(&body, &bath, &one, 70.0, 2.0, 1e5, NULL, NULL);
  PW_NEAR("seconds", turned, plain, 0.002 * plain, 0);
  PW_NEAR("steam", half[1].water_kg_m2, one.water_kg_m2, 0.005 * one.water_kg_m2, 0);
}
END_TEST

/** Halving cells and steps changes little. */
START_TEST(turned_run_converges)
{
  double seconds[2];
  for (int k = 0; k < 2; k++) {
    struct pw_engine_body body = {.dims = 1.0,
                                  .half_m = 0.01,
                                  .conductivity_w_mk = 0.45,
                                  .heat_j_m3k = 3.5e6,
                                  .cells = 16 << k,
                                  .bound_kg_m3 = 250.0};
    struct pw_engine_bath baths[2] = {{.air_c = 232.0,
                                       .h_w_m2k = 15.0,
                                       .contact_w_m2k = 40.0,
                                       .emissivity_frac = 0.9,
                                       .pressure_pa = 101325.0,
                                       .vapour_pa = 1500.0,
                                       .walls_c = 300.0,
                                       .wet_frac = 1.0,
                                       .juice_frac = 0.6}};
    baths[1] = baths[0];
    baths[1].air_c = baths[1].walls_c = 70.0;
    baths[1].contact_w_m2k = 0.0;
    struct pw_engine_state half[2];
    pw_engine_start(&half[0], &body, 4.0);
    half[1] = half[0];
    seconds[k] = pw_engine_turned_run(&body, baths, half, 70.0, 3, 24 << k, 1e4, NULL, NULL);
  }
  PW_NEAR("16 and 32 cells", seconds[0], seconds[1], 0.02 * seconds[1], 0);
}
END_TEST

/** Aligned parallel squares, Incropera and others: 0.1998 at a distance of one side (from memory); far apart side squared over pi times
 *  distance squared, which is the law of a small source; close together nearly all.  Strips: sqrt(1 + h2) - h, crossed strings. */
START_TEST(view_of_the_bed)
{
  PW_NEAR("a cube's opposite side", pw_coals_view_frac(1, 1, 1), 0.1998, 1e-4, 0);
  PW_NEAR("far", pw_coals_view_frac(1, 1, 50), 1 / (3.14159265358979 * 2500), 1e-6, 0);
  PW_NEAR("strips", pw_coals_view_frac(1, 1e4, 0.5), sqrt(1 + 0.25) - 0.5, 1e-3, 0);
  ck_assert(pw_coals_view_frac(1, 1, 0.01) > 0.97);
  struct pw_rack rack = {.length_m = 1.5, .depth_m = 0.6};
  struct pw_coals low = {.bed_c = 600, .height_m = 0.1}, high = {.bed_c = 600, .height_m = 0.4},
                  cold = {.bed_c = 500, .height_m = 0.1};
  double most = pw_coals_grate_most_c(&low, &rack);
  ck_assert(most > pw_coals_grate_most_c(&high, &rack) && most > pw_coals_grate_most_c(&cold, &rack) && most < 600);
}
END_TEST

/* ---- the catalog's grates ------------------------------------------------------------------------------ */

static const char job[] =
    "event: {name: Coals, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
    "weather: {low: 60 F, high: 80 F, wind: 0 mph}\nguests: {adults: {}}\nsite: {altitude: 0 m}\n"
    "services: [{time: \"13:00\", guests: 20, menu: [burger-coals, sausage-coals, chop-coals, steak-coals, "
    "short-rib-strip, lamb-spit-carved]}]\n"
    "pits: [parrilla, braai-grid, kettle-grate, spit]\nfinishers: [hot-box-large]\nterms: {margin: 20 %}\n";

/** The engine explains the catalog's times within the limits that the program does not doubt; hotter grates are never slower, a
 *  kelvin at a time, and 15 % quicker over the whole range; what lies on the grate gets the heat of a hot fire: 10 to 30 kW/m2 on a cold piece, and 3 to 8 what
 *  turns on a spit far above the coals and is touched by no bars (orders of magnitude; common practice, no source). */
START_TEST(times_over_coals)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *event;
  ck_assert_int_eq(pw_event_read_text(&event, "coals.yaml", job, strlen(job), "templates", ctx), PW_OK);
  struct pw_event ev = *event;
  ck_assert_int_eq(ev.n_cuts, 6);
  struct pw_stage_air air = pw_stage_air_mild();
  for (int c = 0; c < ev.n_cuts; c++) {
    struct pw_stage_model m;
    struct pw_cut cut = ev.cuts[c];
    pw_stage_model_make(&m, &cut);
    ck_assert_msg(cut.smoke.is_over_coals && m.smoke.scale > 0.6 && m.smoke.scale < 1.6, "%s: scale %g", cut.id,
                  m.smoke.scale);
    double before = HUGE_VAL;
    for (double grate_c = cut.smoke.low_c; grate_c <= cut.smoke.high_c; grate_c += 1.0) {
      double minutes = pw_stage_model_minutes(&m, &cut.smoke, grate_c, &air);
      ck_assert_msg(minutes <= before, "%s: %g min at %g C, %g cooler", cut.id, minutes, grate_c, before);
      before = minutes;
      double flux = pw_stage_coals_w_m2(grate_c, 20.0, cut.half_m, !cut.smoke.is_on_spit, &air);
      bool is_on_spit = cut.smoke.is_on_spit;
      ck_assert_msg(flux > (is_on_spit ? 3e3 : 10e3) && flux < (is_on_spit ? 8e3 : 32e3), "%s: %g W/m2 at %g C", cut.id,
                    flux, grate_c);
    }
    ck_assert(before < 0.85 * pw_stage_model_minutes(&m, &cut.smoke, cut.smoke.low_c, &air));
    PW_NEAR(cut.id, pw_stage_model_minutes(&m, &cut.smoke, cut.smoke.ref_c, &air), cut.smoke.ref_min, 0.001, 0);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/** Cooking on charcoal compared with gas and plates, J. Home Econ. Jpn. 55 (2004) no. 9 (abstract seen): 100 mm above steady white charcoal of
 *  750 C the heat flux was 11 kW/m2, about 75 % of it radiation.  Ours, at the grate whose radiation and gas give as much: half.  The
 *  program takes too little radiation and too much hot gas; what is cooked by it follows the catalog's time all the same. */
START_TEST(share_of_radiation)
{
  struct pw_stage_air air = pw_stage_air_mild();
  double low_c = 100, high_c = 400;
  while (high_c - low_c > 0.01) {
    double mid_c = 0.5 * (low_c + high_c);
    struct pw_coals_heat heat = pw_stage_coals_heat(mid_c, 20, 0.01, true, &air);
    if (heat.radiation_w_m2 + heat.gas_w_m2 < 11e3)
      low_c = mid_c;
    else
      high_c = mid_c;
  }
  struct pw_coals_heat heat = pw_stage_coals_heat(low_c, 20, 0.01, true, &air);
  PW_NEAR("share", heat.radiation_w_m2 / 11e3, 0.75, 0.25, 0);
  PW_NEAR("all of it", heat.radiation_w_m2 + heat.gas_w_m2 + heat.bars_w_m2,
          pw_stage_coals_w_m2(low_c, 20, 0.01, true, &air), 1e-6, 0);
  ck_assert_msg(low_c > 190 && low_c < 290, "grate at %g C", low_c); /* 375 to 550 F: a hand stands 2 to 5 s */
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("coals");
  TCase *t = tcase_create("coals");
  tcase_add_test(t, burger_flipping);
  tcase_add_test(t, alike_sides_are_one);
  tcase_add_test(t, turned_run_converges);
  tcase_add_test(t, view_of_the_bed);
  tcase_add_test(t, times_over_coals);
  tcase_add_test(t, share_of_radiation);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
