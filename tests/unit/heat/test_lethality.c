/* Lethality by integration against the FSIS and Food Code tables. */
#include "harness.h"
#include "heat/food_code.h"
#include "heat/lethality.h"

static double in_c(double f) { return (f - 32) / 1.8; }

/** Log reduction of a hold, summed in steps as a curve would. */
static double hold_log(enum pw_kind kind, double core_c, double seconds)
{
  double sum = 0;
  enum { STEPS = 97 };
  for (int i = 0; i < STEPS; i++)
    sum += pw_lethality_rate_log_min(kind, core_c) * seconds / 60 / STEPS;
  return sum;
}

/* Each of the 31 rows of FSIS Appendix A, 6.5-log column: a hold of the printed time gives 6.5 log, never less than 0.5 % short;
 * rows printed in whole minutes are rounded up by at most 13 %.  The rows of 0 s need no more than 11 s by the formula. */
START_TEST(fsis_meat)
{
  const struct pw_lethality_row *row = &pw_lethality_meat_65[_i];
  double log = hold_log(PW_KIND_BEEF, in_c(row->fahrenheit), row->seconds > 0 ? row->seconds : 10.7);
  ck_assert_msg(log > 6.5 * 0.995 && (log < 6.5 * 1.14 || row->seconds == 0), "%g F: %g log", row->fahrenheit, log);
  /* the 7-log column asks for as much or more, by at most 15 % (136 F: 32 against 28 min) */
  double more = pw_lethality_meat_70[_i].seconds;
  ck_assert(pw_lethality_meat_70[_i].fahrenheit == row->fahrenheit);
  ck_assert(more >= row->seconds && more <= 1.15 * row->seconds);
}
END_TEST

/* FDA Food Code 2022 Annex 3: 112 min at 130 F equals 4 min at 145 F. */
START_TEST(annex_3)
{
  PW_NEAR("112 min at 130 F", hold_log(PW_KIND_PORK, in_c(130), 112 * 60), 6.5, 1e-9, 0);
  PW_NEAR("4 min at 145 F", hold_log(PW_KIND_PORK, in_c(145), 240), 6.5, 0, 0.13);
  PW_NEAR(
      "z",
      log10(pw_lethality_rate_log_min(PW_KIND_BEEF, in_c(150)) / pw_lethality_rate_log_min(PW_KIND_BEEF, in_c(140))), 1,
      1e-9, 0);
  PW_NEAR("D at 140 F", 1 / pw_lethality_rate_log_min(PW_KIND_BEEF, in_c(140)), 1.723, 1e-3, 0);
  ck_assert(pw_lethality_rate_log_min(PW_KIND_BEEF, in_c(129)) == 0);
  ck_assert(pw_lethality_rate_log_min(PW_KIND_BEEF, 54.4) > 0); /* printed for 130 F */
}
END_TEST

START_TEST(food_code_roast)
{
  const struct pw_lethality_row *row = &pw_lethality_roast[_i];
  double log = hold_log(PW_KIND_BEEF, in_c(row->fahrenheit), row->seconds > 0 ? row->seconds : 10.7);
  ck_assert_msg(log > 6.5 * 0.995 && log < 6.5 * 1.14, "%g F: %g log", row->fahrenheit, log);
}
END_TEST

/** FSIS-GD-2021-14, 12 % fat: 7-log times of chicken (table 3) and turkey (table 4), seconds. */
static const struct {
  const char *bird;
  double f, seconds;
} birds[] = {
    {"chicken", 136, 81.4 * 60}, {"chicken", 137, 65.5 * 60}, {"chicken", 138, 52.9 * 60}, {"chicken", 139, 43 * 60},
    {"chicken", 140, 35 * 60},   {"chicken", 141, 28.7 * 60}, {"chicken", 142, 23.7 * 60}, {"chicken", 143, 19.8 * 60},
    {"chicken", 144, 16.6 * 60}, {"chicken", 145, 13 * 60},   {"chicken", 150, 4.2 * 60},  {"chicken", 155, 54.4},
    {"chicken", 160, 16.9},      {"turkey", 140, 33.7 * 60},  {"turkey", 145, 13.8 * 60},  {"turkey", 150, 4.9 * 60},
    {"turkey", 155, 78},         {"turkey", 160, 26.9},       {"turkey", 164, 11.7}};

/* The program does not tell chicken from turkey: it takes the slower, so no row is credited with more than 7 log (2 % for the
 * rows between those it keeps), nor with less than half of it. */
START_TEST(fsis_poultry)
{
  double log = hold_log(PW_KIND_POULTRY, in_c(birds[_i].f), birds[_i].seconds);
  ck_assert_msg(log < 7.15 && log > 4.3, "%s at %g F: %g log", birds[_i].bird, birds[_i].f, log);
}
END_TEST

START_TEST(poultry_edges)
{
  ck_assert(pw_lethality_rate_log_min(PW_KIND_POULTRY, in_c(135)) == 0);
  ck_assert(pw_lethality_need_log(PW_KIND_POULTRY) == 7 && pw_lethality_need_log(PW_KIND_PORK) == 6.5);
  /* at 165 F the table says at once: ten seconds by the line through its last rows */
  ck_assert(hold_log(PW_KIND_POULTRY, in_c(165), 10.5) > 7);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("lethality");
  TCase *t = tcase_create("lethality");
  tcase_add_loop_test(t, fsis_meat, 0, 31);
  tcase_add_test(t, annex_3);
  tcase_add_loop_test(t, food_code_roast, 0, 17);
  tcase_add_loop_test(t, fsis_poultry, 0, (int)(sizeof birds / sizeof birds[0]));
  tcase_add_test(t, poultry_edges);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
