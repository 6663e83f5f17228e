/* Time to coals by weather and charcoal: by hand. */
#include "harness.h"

#include "read/resolve.h"

/** A pit of 130 C on average, told 75 min for a mild day of 20 C. */
static int ready_min(int told_min, double low_c, double charcoal_kg, int chimney_min)
{
  struct pw_setting set = {.hot_c = 140, .cool_c = 120};
  struct pw_fuel coal = {.is_charcoal = true, .chimney_min = chimney_min, .chimney_kg = 2};
  struct pw_pit pit = {.settings = &set, .n_settings = 1, .ready_min = told_min, .start_charcoal_kg = charcoal_kg};
  struct pw_event ev = {.pits = &pit, .n_pits = 1, .fuels = &coal, .n_fuels = 1, .weather = {.low_c = low_c}};
  pw_event_fires(&ev);
  return pit.ready_min;
}

START_TEST(by_weather)
{
  static const struct {
    double low_c;
    int ready_min;
  } rows[] = {{35, 75}, {20, 75}, {9, 85}, {-2, 90}, {-20, 105}}; /* 75 x (130 - low) / 110, up to five minutes */
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    ck_assert_msg(ready_min(75, rows[i].low_c, 3, 0) == rows[i].ready_min, "%g C: %d", rows[i].low_c,
                  ready_min(75, rows[i].low_c, 3, 0));
  ck_assert_int_eq(ready_min(73, 20, 3, 0), 73); /* what is told is not rounded */
}
END_TEST

/* Half a chimney 10 to 12 min, a full one 18 to 22 (a cook's table, text seen); eight times as much twice as long, no source. */
START_TEST(by_charcoal)
{
  ck_assert_int_eq(ready_min(5, 20, 1, 20), 15); /* 11.0 */
  ck_assert_int_eq(ready_min(5, 20, 2, 20), 20);
  ck_assert_int_eq(ready_min(5, 20, 16, 20), 40);
  ck_assert_int_eq(ready_min(5, 9, 16, 20), 45); /* 44.0 */
  ck_assert_int_eq(ready_min(75, 20, 16, 20), 75);
  ck_assert_int_eq(ready_min(5, 20, 0, 20), 5);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("fire_ready");
  TCase *t = tcase_create("fire_ready");
  tcase_add_test(t, by_weather);
  tcase_add_test(t, by_charcoal);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
