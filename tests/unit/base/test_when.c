/* Tests of when: instants in the words of the zone.  Outside checks: clocks in Germany go forward on the last Sunday of
 * March at 02:00 and back on the last Sunday of October at 03:00 (directive 2000/84/EC); 2027-03-28 and 2027-10-31. */
#include "harness.h"

#include "base/clock.h"
#include "base/when.h"

static const struct {
  const char *name;
  const char *zone; /* NULL: no rules */
  struct pw_date date;
  int at_min;
  const char *when, *day;
  int day_number;
} WHENS[] = {
    {"midnight", "Europe/Berlin", {2027, 6, 12}, 0, "Sat 00:00", "Saturday 12 June 2027", 0},
    {"the night before", "Europe/Berlin", {2027, 6, 12}, -90, "Fri 22:30", "Friday 11 June 2027", -1},
    {"next day", "America/Chicago", {2027, 6, 12}, 1440 + 61, "Sun 01:01", "Sunday 13 June 2027", 1},
    {"before clocks go forward", "Europe/Berlin", {2027, 3, 28}, 119, "Sun 01:59", "Sunday 28 March 2027", 0},
    {"after clocks went forward", "Europe/Berlin", {2027, 3, 28}, 120, "Sun 03:00", "Sunday 28 March 2027", 0},
    {"the day has 23 hours", "Europe/Berlin", {2027, 3, 28}, 23 * 60, "Mon 00:00", "Monday 29 March 2027", 1},
    {"first half past two", "Europe/Berlin", {2027, 10, 31}, 150, "Sun 02:30 CEST", "Sunday 31 October 2027", 0},
    {"second half past two", "Europe/Berlin", {2027, 10, 31}, 210, "Sun 02:30 CET", "Sunday 31 October 2027", 0},
    {"half past three", "Europe/Berlin", {2027, 10, 31}, 270, "Sun 03:30", "Sunday 31 October 2027", 0},
    {"no rules known", NULL, {2027, 10, 31}, 210, "Sun 03:30", "Sunday 31 October 2027", 0},
    {"no rules, day before", NULL, {2024, 3, 1}, -1, "Thu 23:59", "Thursday 29 February 2024", -1},
};

START_TEST(whens)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event ev = {.date = WHENS[_i].date};
  struct pw_clock *clock = NULL;
  if (WHENS[_i].zone)
    ck_assert_int_eq(pw_clock_open(&clock, WHENS[_i].zone, ev.date, ctx), PW_OK);
  ev.clock = clock;
  struct pw_short when = pw_when(&ev, WHENS[_i].at_min), day = pw_when_day(&ev, WHENS[_i].at_min);
  ck_assert_msg(strcmp(when.s, WHENS[_i].when) == 0, "%s: got '%s'", WHENS[_i].name, when.s);
  ck_assert_msg(strcmp(day.s, WHENS[_i].day) == 0, "%s: got '%s'", WHENS[_i].name, day.s);
  ck_assert_int_eq(pw_when_day_number(&ev, WHENS[_i].at_min), WHENS[_i].day_number);
  ck_assert_str_eq(pw_when_clock(&ev, WHENS[_i].at_min).s, WHENS[_i].when + 4);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *when_suite(void)
{
  Suite *s = suite_create("when");
  TCase *t = tcase_create("all");
  tcase_add_loop_test(t, whens, 0, (int)(sizeof WHENS / sizeof *WHENS));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(when_suite)
