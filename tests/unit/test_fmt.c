/* Tests of fmt and utf8: what a person reads, and what may leave the program.
 * Outside checks: weekdays and leap years from the Gregorian rule (2000-02-29 was a Tuesday, 2100 has no
 * 29 February); UTF-8 rows from RFC 3629 section 4 and 10 (overlong, surrogate, beyond U+10FFFF). */
#include "base/fmt.h"
#include "base/utf8.h"
#include "harness.h"

static struct pw_event event_in(enum pw_units units)
{
  return (struct pw_event){.units = units, .date = {2027, 6, 12}, .money_sign = "$", .money_digits = 2};
}

enum what { WEIGHT, TEMP, LENGTH, MONEY, PERCENT, MINUTES, CLOCK, WHEN, DAY, LITRES, EACH };
static const struct {
  const char *name;
  enum what what;
  enum pw_units units;
  double value;
  const char *want;
} FORMS[] = {
    {"fourteen pounds", WEIGHT, PW_UNITS_US, 14 * 0.45359237, "14 lb"},
    {"five ounces", WEIGHT, PW_UNITS_US, 5 * 0.028349523125, "5 oz"},
    {"just under a pound", WEIGHT, PW_UNITS_US, 0.4535, "1 lb"},
    {"grams", WEIGHT, PW_UNITS_SI, 0.142, "142 g"},
    {"kilograms", WEIGHT, PW_UNITS_SI, 6.35, "6.35 kg"},
    {"hundreds of kilograms", WEIGHT, PW_UNITS_SI, 212.4, "212 kg"},
    {"no weight known", WEIGHT, PW_UNITS_SI, NAN, "? kg"},
    {"pit temperature", TEMP, PW_UNITS_US, 121.11111, "250 °F"},
    {"pit temperature SI", TEMP, PW_UNITS_SI, 121.11111, "121 °C"},
    {"freezing", TEMP, PW_UNITS_SI, -0.2, "0 °C"},
    {"rack length", LENGTH, PW_UNITS_US, 0.9144, "36 in"},
    {"thousands", MONEY, PW_UNITS_US, 123456789, "$1,234,567.89"},
    {"cents only", MONEY, PW_UNITS_US, 7, "$0.07"},
    {"owed", MONEY, PW_UNITS_US, -150, "-$1.50"},
    {"half percent", PERCENT, PW_UNITS_US, 0.125, "12.5 %"},
    {"whole percent", PERCENT, PW_UNITS_US, 0.3, "30 %"},
    {"hours and minutes", MINUTES, PW_UNITS_US, 390, "6 h 30 min"},
    {"one day", MINUTES, PW_UNITS_US, 1440, "1 d"},
    {"a day and a half", MINUTES, PW_UNITS_US, 2160, "36 h"},
    {"three days and some", MINUTES, PW_UNITS_US, 4380, "3 d 1 h"},
    {"night before", CLOCK, PW_UNITS_US, -90, "22:30"},
    {"night before, weekday", WHEN, PW_UNITS_US, -1, "Fri 23:59"},
    {"midnight", WHEN, PW_UNITS_US, 0, "Sat 00:00"},
    {"next day", DAY, PW_UNITS_US, 1440, "Sunday 13 June 2027"},
    {"gallons", LITRES, PW_UNITS_US, 9.4635, "2.5 gal"},
    {"quarts", LITRES, PW_UNITS_US, 0.946352946, "1 qt"},
    {"litres", LITRES, PW_UNITS_SI, 9.46, "9.46 L"},
    {"counted", EACH, PW_UNITS_SI, 240, "240"},
};

START_TEST(forms)
{
  struct pw_event ev = event_in(FORMS[_i].units);
  double v = FORMS[_i].value;
  struct pw_fmt got;
  switch (FORMS[_i].what) {
  case WEIGHT: got = pw_fmt_weight(&ev, v); break;
  case TEMP: got = pw_fmt_temp(&ev, v); break;
  case LENGTH: got = pw_fmt_length(&ev, v); break;
  case MONEY: got = pw_fmt_money(&ev, (pw_cents)v); break;
  case PERCENT: got = pw_fmt_percent(v); break;
  case MINUTES: got = pw_fmt_minutes((int)v); break;
  case CLOCK: got = pw_fmt_clock(&ev, (int)v); break;
  case WHEN: got = pw_fmt_when(&ev, (int)v); break;
  case DAY: got = pw_fmt_day(&ev, (int)v); break;
  case LITRES: got = pw_fmt_amount(&ev, PW_UNIT_L, v); break;
  default: got = pw_fmt_amount(&ev, PW_UNIT_EACH, v); break;
  }
  ck_assert_msg(strcmp(got.s, FORMS[_i].want) == 0, "%s: got '%s', want '%s'", FORMS[_i].name, got.s, FORMS[_i].want);
}
END_TEST

static const struct {
  const char *name;
  struct pw_date from;
  int days;
  const char *want;
} DATES[] = {
    {"leap day of 2000", {2000, 2, 28}, 1, "Tue 29 Feb 2000"},
    {"no leap day in 2100", {2100, 2, 28}, 1, "Mon 1 Mar 2100"},
    {"back over new year", {2027, 1, 1}, -1, "Thu 31 Dec 2026"},
    {"the epoch", {1970, 1, 1}, 0, "Thu 1 Jan 1970"},
    {"400 years are 146097 days", {1600, 3, 1}, 146097, "Wed 1 Mar 2000"},
};

START_TEST(dates)
{
  struct pw_fmt got = pw_fmt_date(pw_date_plus(DATES[_i].from, DATES[_i].days));
  ck_assert_msg(strcmp(got.s, DATES[_i].want) == 0, "%s: got '%s', want '%s'", DATES[_i].name, got.s, DATES[_i].want);
}
END_TEST

static const struct {
  const char *name, *in, *want;
  int width;
} CLEAN[] = {
    {"plain", "Brisket", "Brisket", 7},
    {"accent", "Caf\xC3\xA9", "Caf\xC3\xA9", 4},
    {"wide", "\xE7\x82\xAD", "\xE7\x82\xAD", 2},
    {"combining", "e\xCC\x81", "e\xCC\x81", 1},
    {"escape", "a\x1B[31m", "a<U+001B>[31m", 13},
    {"new line", "a\nb", "a<U+000A>b", 10},
    {"tab", "a\tb", "a b", 3},
    {"overlong slash", "\xC0\xAF", "<C0><AF>", 8},
    {"surrogate", "\xED\xA0\x80", "<ED><A0><80>", 12},
    {"beyond the last plane", "\xF4\x90\x80\x80", "<F4><90><80><80>", 16},
    {"cut off", "\xE2\x82", "<E2><82>", 8},
    {"right-to-left override", "\xE2\x80\xAE" "x", "<U+202E>x", 9},
    {"byte-order mark", "\xEF\xBB\xBF", "<U+FEFF>", 8},
    {"C1 control", "\xC2\x9B", "<U+009B>", 8},
};

START_TEST(clean)
{
  char out[64];
  pw_utf8_clean(out, sizeof out, CLEAN[_i].in, strlen(CLEAN[_i].in));
  ck_assert_msg(strcmp(out, CLEAN[_i].want) == 0, "%s: got '%s', want '%s'", CLEAN[_i].name, out, CLEAN[_i].want);
  ck_assert_msg(pw_utf8_text_width(CLEAN[_i].in) == CLEAN[_i].width, "%s: width %d, want %d", CLEAN[_i].name,
                pw_utf8_text_width(CLEAN[_i].in), CLEAN[_i].width);
}
END_TEST

START_TEST(clean_never_cuts_a_character)
{
  char out[6];
  ck_assert_uint_eq(pw_utf8_clean(out, sizeof out, "abcd\xC3\xA9", 6), 4);
  ck_assert_str_eq(out, "abcd");
}
END_TEST

static Suite *fmt_suite(void)
{
  Suite *s = suite_create("fmt");
  TCase *t = tcase_create("all");
  tcase_add_loop_test(t, forms, 0, (int)(sizeof FORMS / sizeof *FORMS));
  tcase_add_loop_test(t, dates, 0, (int)(sizeof DATES / sizeof *DATES));
  tcase_add_loop_test(t, clean, 0, (int)(sizeof CLEAN / sizeof *CLEAN));
  tcase_add_test(t, clean_never_cuts_a_character);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(fmt_suite)
