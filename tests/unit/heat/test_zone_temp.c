/* test_zone_temp.c - the temperature field of a rack, by hand: 3 m long, 150 C at the hot end, 120 C at the cool end, 5 K above
 * the pit's field, so 155 - 10 x. */
#include "harness.h"

#include "heat/zone_temp.h"

enum { OURS, OTHER };

static const struct {
  const char *name;
  int n_probes;
  struct pw_probe probes[3];
  double x_m, temp_c;
} rows[] = {
    {"hot end", 0, {{0}}, 0, 155},
    {"cool end", 0, {{0}}, 3, 125},
    {"a third", 0, {{0}}, 1, 145},
    {"a thermometer of another rack", 1, {{OTHER, 1, 200}}, 1, 145},
    {"at the thermometer", 1, {{OURS, 1, 149}}, 1, 149},
    {"beside a single one, hot side: its 4 K", 1, {{OURS, 1, 149}}, 0, 159},
    {"beside a single one, cool side", 1, {{OURS, 1, 149}}, 3, 129},
    {"between two: +4 K at 1 m, -2 K at 2 m", 2, {{OURS, 1, 149}, {OURS, 2, 133}}, 1.5, 140 + 1},
    {"a quarter of the way", 2, {{OURS, 2, 133}, {OURS, 1, 149}}, 1.25, 142.5 + 2.5},
    {"beyond two: the nearer one's", 2, {{OURS, 1, 149}, {OURS, 2, 133}}, 2.5, 130 - 2},
    {"before two", 2, {{OURS, 1, 149}, {OURS, 2, 133}}, 0.5, 150 + 4},
    {"at the second", 2, {{OURS, 1, 149}, {OURS, 2, 133}}, 2, 133},
    {"of three the two around it", 3, {{OURS, 0, 155}, {OURS, 2, 137}, {OURS, 1, 149}}, 1.5, 140 + 3},
    {"of three at one spot", 3, {{OURS, 1, 149}, {OURS, 1, 149}, {OTHER, 1, 90}}, 1, 149},
};

START_TEST(at_a_point)
{
  struct pw_probe probes[3];
  memcpy(probes, rows[_i].probes, sizeof probes);
  struct pw_setting set = {.hot_c = 150, .cool_c = 120, .probes = probes, .n_probes = rows[_i].n_probes};
  struct pw_rack rack = {.length_m = 3, .offset_c = 5, .n_zones = 3};
  PW_NEAR(rows[_i].name, pw_zone_temp_c(&set, &rack, OURS, rows[_i].x_m), rows[_i].temp_c, 1e-12, 0);
}
END_TEST

START_TEST(in_the_middle_of_a_zone)
{
  struct pw_setting set = {.hot_c = 150, .cool_c = 120};
  struct pw_rack rack = {.length_m = 3, .offset_c = 5, .n_zones = 3};
  PW_NEAR("first of three, 0.5 m", pw_zone_middle_c(&set, &rack, OURS, 0), 150, 1e-12, 0);
  PW_NEAR("last of three, 2.5 m", pw_zone_middle_c(&set, &rack, OURS, 2), 130, 1e-12, 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("zone_temp");
  TCase *t = tcase_create("field");
  tcase_add_loop_test(t, at_a_point, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_test(t, in_the_middle_of_a_zone);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
