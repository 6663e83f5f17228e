/* Food Code limits, time as a control, cooling. */
#include "harness.h"
#include "heat/box.h"
#include "heat/food_code.h"

/** FDA Food Code 2022 3-401.11, 3-401.13, 3-403.11: least core in F, and for how long. */
static const struct {
  const char *name;
  enum pw_safety safety;
  double f;
  int seconds;
} cores[] = {{"intact", PW_SAFE_INTACT, 145, 15},
             {"injected or tenderized", PW_SAFE_TENDERIZED, 155, 17},
             {"ground", PW_SAFE_GROUND, 155, 17},
             {"poultry", PW_SAFE_POULTRY, 165, 1},
             {"ready to eat", PW_SAFE_PRECOOKED, 135, 0},
             {"plant", PW_SAFE_PLANT, 135, 0},
             {"our own, reheated", PW_SAFE_REHEATED, 165, 15}};

START_TEST(least_core)
{
  const struct pw_food_rule *r = pw_food_code_rule(cores[_i].safety);
  PW_NEAR(cores[_i].name, r->core_c * 1.8 + 32, cores[_i].f, 0.1, 0);
  ck_assert_int_eq(r->hold_s, cores[_i].seconds);
  ck_assert(strncmp(r->rule, "3-40", 4) == 0);
}
END_TEST

/* 3-501.16 hot 135 F and cold 41 F, 3-403.11(A) reheat 165 F; FSIS-GD-2021-14: 50 to 130 F in six hours, for raw meat. */
START_TEST(limits)
{
  PW_NEAR("hot", PW_FOOD_CODE_HOT_C * 1.8 + 32, 135, 0.1, 0);
  PW_NEAR("cold", PW_FOOD_CODE_COLD_C * 1.8 + 32, 41, 0.1, 0);
  PW_NEAR("reheat", PW_FOOD_CODE_REHEAT_C * 1.8 + 32, 165, 0.1, 0);
  PW_NEAR("from", PW_COME_UP_FROM_C * 1.8 + 32, 50, 0.1, 0);
  PW_NEAR("to", PW_COME_UP_TO_C * 1.8 + 32, 130, 0.1, 0);
  ck_assert_int_eq(PW_COME_UP_MOST_MIN, 6 * 60);
  ck_assert(pw_food_code_has_come_up(PW_KIND_BEEF, PW_SAFE_INTACT) &&
            pw_food_code_has_come_up(PW_KIND_POULTRY, PW_SAFE_POULTRY) &&
            pw_food_code_has_come_up(PW_KIND_SAUSAGE, PW_SAFE_GROUND));
  ck_assert(!pw_food_code_has_come_up(PW_KIND_SAUSAGE, PW_SAFE_PRECOOKED) &&
            !pw_food_code_has_come_up(PW_KIND_PLANT, PW_SAFE_PLANT));
}
END_TEST

/* 3-401.11(B)(2), convection column: below 10 lb 325 F, else 250 F. */
START_TEST(roast_chart)
{
  PW_NEAR("9 lb", pw_food_code_roast_air_c(9 * 0.45359237) * 1.8 + 32, 325, 0.1, 0);
  PW_NEAR("10 lb", pw_food_code_roast_air_c(10 * 0.45359237) * 1.8 + 32, 250, 0.1, 0);
}
END_TEST

/* Newton's law by hand: 160 F in 60 F air, a tenth of the lead lost in an hour: 150 F after 1 h, 141 after 2, 132.9 after 3; 135 F when
 * 0.9^t = 0.75, t = 2.7305 h. */
START_TEST(a_box_without_heat)
{
  double temp_c = (160 - 32) / 1.8, out_c = (60 - 32) / 1.8;
  const double after_f[] = {160, 150, 141, 132.9};
  for (int h = 0; h < 4; h++)
    PW_NEAR("after", pw_box_temp_c(temp_c, out_c, 0.1, 60 * h) * 1.8 + 32, after_f[h], 1e-9, 0);
  PW_NEAR("hot for", pw_box_hot_min(temp_c, out_c, 0.1), 2.7305 * 60, 0.5, 0);
  PW_NEAR("heated", pw_box_temp_c(temp_c, out_c, 0, 600), temp_c, 0, 0);
  ck_assert(isinf(pw_box_hot_min(temp_c, out_c, 0)) && isinf(pw_box_hot_min(temp_c, 58, 0.1)));
  ck_assert(isinf(pw_box_hot_min(55, out_c, 0)) && pw_box_hot_min(55, out_c, 0.1) == 0);
}
END_TEST

/* 3-501.19: hot food out at 11:30 is discarded at 15:30; cold, warmest 68 F, at 17:30; warmest 71 F: reject. */
START_TEST(time_as_a_control)
{
  int out = 11 * 60 + 30;
  ck_assert_int_eq(out + pw_food_code_out_hot_min(), 15 * 60 + 30);
  ck_assert_int_eq(out + pw_food_code_out_cold_min((68 - 32) / 1.8), 17 * 60 + 30);
  ck_assert_int_eq(pw_food_code_out_cold_min((71 - 32) / 1.8), PW_NONE);
}
END_TEST

/* Newton's law from 135 F towards a cooler of 38 F, T = 38 + 97 exp(-kt): 70 F at 2 h needs k >= 0.55449 per h, 41 F at 6 h
 * k >= 0.57935 (by calculation), so the second limit binds; at 0.56 the first is met and the second is not. */
static const struct {
  double k;
  bool first, second;
} newton[] = {
    {0.554, false, false}, {0.5550, true, false}, {0.56, true, false}, {0.5790, true, false}, {0.5800, true, true}};

START_TEST(cooling_by_newton)
{
  struct pw_cooling c = pw_cooling_newton(newton[_i].k, (38 - 32) / 1.8);
  ck_assert_msg(c.is_first_met == newton[_i].first && c.is_second_met == newton[_i].second, "k %g: %g and %g min",
                newton[_i].k, c.to_21_min, c.to_5_min);
}
END_TEST

/* "Within": on the minute is met.  At a rate that is half of, or a sixth of, the logarithm the limits of 3-501.14(A), 120 and
 * 360 min, are hit, for some air to the last bit. */
START_TEST(cooling_on_the_minute)
{
  int n_first = 0, n_second = 0;
  for (int k = 0; k < 98; k++) {
    double air_c = 0.05 * k, start = PW_FOOD_CODE_HOT_C - air_c;
    struct pw_cooling a = pw_cooling_newton(log(start / (PW_FOOD_CODE_COOL_C - air_c)) / 2, air_c);
    struct pw_cooling b = pw_cooling_newton(log(start / (PW_FOOD_CODE_COLD_C - air_c)) / 6, air_c);
    PW_NEAR("first", a.to_21_min, 120, 1e-9, 0);
    PW_NEAR("second", b.to_5_min, 360, 1e-9, 0);
    ck_assert(a.to_21_min != 120 || a.is_first_met);
    ck_assert(b.to_5_min != 360 || b.is_second_met);
    n_first += a.to_21_min == 120;
    n_second += b.to_5_min == 360;
  }
  ck_assert(n_first > 0 && n_second > 0);
}
END_TEST

START_TEST(cooling_in_layers)
{
  /* thin layers follow Newton's law: the film decides */
  double depth = 0.002, h = 10, k_h = h / (0.45 / 1.3e-7 * depth / 2) * 3600;
  struct pw_cooling thin = pw_cooling_layer(depth, h, 3), law = pw_cooling_newton(k_h, 3);
  PW_NEAR("thin", thin.to_5_min, law.to_5_min, 0, 0.02);
  /* deeper is slower, and the depth found is the last that passes */
  double still = pw_cooling_depth_m(8, 3), blown = pw_cooling_depth_m(25, 3), iced = pw_cooling_depth_m(150, 0.5);
  ck_assert_msg(still < blown && blown < iced, "%g %g %g", still, blown, iced);
  struct pw_cooling in = pw_cooling_layer(blown, 25, 3), over = pw_cooling_layer(blown + 0.001, 25, 3);
  ck_assert(in.is_first_met && in.is_second_met && !(over.is_first_met && over.is_second_met));
  /* 2 in is the depth the Food Code's pans are usually told with (3-501.15): a fan and both faces open make it */
  ck_assert_msg(blown > 0.045 && blown < 0.07, "%g m", blown);
  ck_assert(pw_cooling_depth_m(25, 6) == 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("food_code");
  TCase *t = tcase_create("food_code");
  tcase_add_loop_test(t, least_core, 0, (int)(sizeof cores / sizeof cores[0]));
  tcase_add_test(t, limits);
  tcase_add_test(t, roast_chart);
  tcase_add_test(t, a_box_without_heat);
  tcase_add_test(t, time_as_a_control);
  tcase_add_loop_test(t, cooling_by_newton, 0, (int)(sizeof newton / sizeof newton[0]));
  tcase_add_test(t, cooling_on_the_minute);
  tcase_add_test(t, cooling_in_layers);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
