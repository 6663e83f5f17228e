/* test_format.c - numbers in the user's units. */
#include "harness.h"

#include "base/format.h"

#include <limits.h>

#define DEG "\xC2\xB0"

enum what { WEIGHT, TEMP, DIFF, LENGTH, DISTANCE, VOLUME, AREA, SPEED };

/* conversions from NIST SP 811 (2008), appendix B.8: 1 lb = 0.45359237 kg, 1 in = 0.0254 m, 1 mi = 1609.344 m,
 * 1 gal = 3.785412 L, 1 ft2 = 0.09290304 m2 */
static const struct {
  const char *name;
  enum what what;
  enum pw_units units;
  double value;
  const char *out;
} rows[] = {
    {"zero", WEIGHT, PW_UNITS_US, 0, "0 oz"},
    {"ounces", WEIGHT, PW_UNITS_US, 0.15, "5.3 oz"},
    {"just under a pound", WEIGHT, PW_UNITS_US, 0.4535, "1 lb"},
    {"pound", WEIGHT, PW_UNITS_US, 0.45359237, "1 lb"},
    {"pounds and ounces", WEIGHT, PW_UNITS_US, 2.8349523, "6 lb 4 oz"},
    {"fourteen pounds", WEIGHT, PW_UNITS_US, 6.35029318, "14 lb"},
    {"ounces round to the next pound", WEIGHT, PW_UNITS_US, 3.1744, "7 lb"},
    {"many pounds", WEIGHT, PW_UNITS_US, 1000, "2,205 lb"},
    {"grams", WEIGHT, PW_UNITS_SI, 0.34, "340 g"},
    {"few grams", WEIGHT, PW_UNITS_SI, 0.0045, "4.5 g"},
    {"just under a kilogram", WEIGHT, PW_UNITS_SI, 0.9996, "1 kg"},
    {"kilograms", WEIGHT, PW_UNITS_SI, 12.36, "12.4 kg"},
    {"many kilograms", WEIGHT, PW_UNITS_SI, 1412.4, "1,412 kg"},
    {"negative", WEIGHT, PW_UNITS_US, -2.8349523, "-6 lb 4 oz"},
    {"not a number", WEIGHT, PW_UNITS_US, NAN, "?"},
    {"infinite", WEIGHT, PW_UNITS_SI, INFINITY, "?"},
    {"fahrenheit", TEMP, PW_UNITS_US, 121.1111, "250 " DEG "F"},
    {"celsius", TEMP, PW_UNITS_SI, 121.1111, "121 " DEG "C"},
    {"no minus zero", TEMP, PW_UNITS_SI, -0.2, "0 " DEG "C"},
    {"freezing", TEMP, PW_UNITS_US, 0, "32 " DEG "F"},
    {"difference", DIFF, PW_UNITS_US, 10, "18 " DEG "F"},
    {"inches", LENGTH, PW_UNITS_US, 0.508, "20 in"},
    {"half inches", LENGTH, PW_UNITS_US, 0.1397, "5.5 in"},
    {"feet", LENGTH, PW_UNITS_US, 3.6576, "12 ft"},
    {"centimetres", LENGTH, PW_UNITS_SI, 0.508, "51 cm"},
    {"metres", LENGTH, PW_UNITS_SI, 3.66, "3.7 m"},
    {"miles", DISTANCE, PW_UNITS_US, 45061.6, "28 mi"},
    {"few kilometres", DISTANCE, PW_UNITS_SI, 4500, "4.5 km"},
    {"gallons", VOLUME, PW_UNITS_US, 7.570824, "2 gal"},
    {"quarts", VOLUME, PW_UNITS_US, 1.419529, "1.5 qt"},
    {"fluid ounces", VOLUME, PW_UNITS_US, 0.118294, "4 fl oz"},
    {"litres", VOLUME, PW_UNITS_SI, 2.5, "2.5 L"},
    {"millilitres", VOLUME, PW_UNITS_SI, 0.25, "250 mL"},
    {"square feet", AREA, PW_UNITS_US, 0.390193, "4.2 ft2"},
    {"square metres", AREA, PW_UNITS_SI, 0.390193, "0.39 m2"},
    {"miles per hour", SPEED, PW_UNITS_US, 3.57632, "8 mph"},
    {"metres per second", SPEED, PW_UNITS_SI, 3.57632, "3.6 m/s"},
};

START_TEST(unit_row)
{
  enum pw_units u = rows[_i].units;
  double v = rows[_i].value;
  struct pw_short got = rows[_i].what == WEIGHT     ? pw_format_weight(u, v)
                        : rows[_i].what == TEMP     ? pw_format_temp(u, v)
                        : rows[_i].what == DIFF     ? pw_format_temp_difference(u, v)
                        : rows[_i].what == LENGTH   ? pw_format_length(u, v)
                        : rows[_i].what == DISTANCE ? pw_format_distance(u, v)
                        : rows[_i].what == VOLUME   ? pw_format_volume(u, v)
                        : rows[_i].what == AREA     ? pw_format_area(u, v)
                                                    : pw_format_speed(u, v);
  ck_assert_msg(strcmp(got.s, rows[_i].out) == 0, "%s: \"%s\"", rows[_i].name, got.s);
}
END_TEST

static const struct {
  const char *name, *sign;
  int digits;
  pw_cents cents;
  const char *out;
} moneys[] = {
    {"dollars", "$", 2, 123450, "$1,234.50"},
    {"cents", "$", 2, 5, "$0.05"},
    {"negative", "$", 2, -5, "-$0.05"},
    {"zero", "$", 2, 0, "$0.00"},
    {"euro word", "EUR ", 2, 1200, "EUR 12.00"},
    {"no minor unit", "JPY ", 0, 1234567, "JPY 1,234,567"},
    {"three digits", "BHD ", 3, 1234567, "BHD 1,234.567"},
    {"millions", "$", 2, 123456789012, "$1,234,567,890.12"},
    {"hundreds get no comma", "$", 2, 99999, "$999.99"},
    {"least", "$", 2, INT64_MIN, "-$92,233,720,368,547,758.08"},
    {"hostile sign is dropped", "\x1B[31m", 2, 100, "1.00"},
    {"no sign", NULL, 2, 100, "1.00"},
};

START_TEST(money_row)
{
  struct pw_event ev = {.money_sign = moneys[_i].sign, .money_digits = moneys[_i].digits};
  struct pw_short got = pw_money_format(&ev, moneys[_i].cents);
  ck_assert_msg(strcmp(got.s, moneys[_i].out) == 0, "%s: \"%s\"", moneys[_i].name, got.s);
}
END_TEST

START_TEST(prices_per_unit)
{
  struct pw_event us = {.money_sign = "$", .money_digits = 2, .units = PW_UNITS_US};
  struct pw_event si = {.money_sign = "EUR ", .money_digits = 2, .units = PW_UNITS_SI};
  ck_assert_str_eq(pw_money_format_per(&us, 460 / 0.45359237, PW_UNIT_KG).s, "$4.60 per lb");
  ck_assert_str_eq(pw_money_format_per(&us, 100, PW_UNIT_L).s, "$3.79 per gal");
  ck_assert_str_eq(pw_money_format_per(&us, 12, PW_UNIT_EACH).s, "$0.12 each");
  ck_assert_str_eq(pw_money_format_per(&si, 310, PW_UNIT_KG).s, "EUR 3.10 per kg");
  ck_assert_str_eq(pw_money_format_per(&si, 115, PW_UNIT_L).s, "EUR 1.15 per L");
  ck_assert_str_eq(pw_money_format_per(&si, NAN, PW_UNIT_L).s, "?");
}
END_TEST

static const struct {
  int minutes;
  const char *out;
} durations[] = {
    {0, "0 min"},        {45, "45 min"},      {60, "1 h"},
    {390, "6 h 30 min"}, {1440, "1 d"},       {1565, "1 d 2 h 5 min"},
    {-15, "-15 min"},    {1445, "1 d 5 min"}, {INT_MIN, "-1491308 d 2 h 8 min"},
};

START_TEST(duration_row) { ck_assert_str_eq(pw_format_minutes(durations[_i].minutes).s, durations[_i].out); }
END_TEST

static const struct {
  double value;
  int decimals;
  const char *out;
} numbers[] = {
    {0, 2, "0"},      {1.5, 2, "1.5"},           {1.005, 0, "1"},      {1234567.891, 2, "1,234,567.89"},
    {-0.004, 2, "0"}, {-12.3, 1, "-12.3"},       {999.96, 1, "1,000"}, {100, 0, "100"},
    {1e300, 0, "?"},  {0.000001, 9, "0.000001"}, {10, 3, "10"},
};

START_TEST(number_row)
{
  ck_assert_str_eq(pw_format_number(numbers[_i].value, numbers[_i].decimals).s, numbers[_i].out);
}
END_TEST

START_TEST(amounts_and_percent)
{
  ck_assert_str_eq(pw_format_amount(PW_UNITS_US, PW_UNIT_KG, 6.35029318).s, "14 lb");
  ck_assert_str_eq(pw_format_amount(PW_UNITS_SI, PW_UNIT_L, 2).s, "2 L");
  ck_assert_str_eq(pw_format_amount(PW_UNITS_SI, PW_UNIT_EACH, 1200).s, "1,200");
  ck_assert_str_eq(pw_format_percent(0.975).s, "97.5 %");
  ck_assert_str_eq(pw_format_percent(1).s, "100 %");
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("format");
  TCase *t = tcase_create("format");
#define ROWS(fn, table) tcase_add_loop_test(t, fn, 0, (int)(sizeof(table) / sizeof *(table)))
  ROWS(unit_row, rows);
  ROWS(money_row, moneys);
  ROWS(duration_row, durations);
  ROWS(number_row, numbers);
  tcase_add_test(t, prices_per_unit);
  tcase_add_test(t, amounts_and_percent);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
