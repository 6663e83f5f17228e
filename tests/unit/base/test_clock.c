/* Dates and zones.  The outside check is the C library: localtime_r under TZ, hour by hour over years. */
#define _DEFAULT_SOURCE /* tm_gmtoff, tm_zone */
#include "base/clock.h"
#include "harness.h"

#include <time.h>

static const struct {
  struct pw_date date;
  int days, weekday;
} days[] = {
    {{1970, 1, 1}, 0, 4},      {{2000, 2, 29}, 11016, 2}, {{2000, 3, 1}, 11017, 3},
    {{2027, 6, 12}, 20981, 6}, {{1969, 12, 31}, -1, 3},   {{1900, 3, 1}, -25508, 4},
    {{2100, 2, 28}, 47540, 0}, {{2100, 3, 1}, 47541, 1},  {{1, 1, 1}, -719162, 1},
};

START_TEST(date_days)
{
  ck_assert_int_eq(pw_date_to_days(days[_i].date), days[_i].days);
  ck_assert_int_eq(pw_date_weekday(days[_i].date), days[_i].weekday);
}
END_TEST

START_TEST(date_round_trip)
{
  struct pw_date last = pw_date_from_days(-800000);
  for (int n = -799999; n < 200000; n++) {
    struct pw_date d = pw_date_from_days(n);
    bool follows = d.day == last.day + 1 ? d.month == last.month && d.year == last.year
                                         : d.day == 1 && last.day >= 28 &&
                                               (d.month == last.month + 1 || (d.month == 1 && d.year == last.year + 1));
    if (!follows || pw_date_to_days(d) != n)
      ck_abort_msg("%d-%d-%d", d.year, d.month, d.day);
    last = d;
  }
}
END_TEST

static const struct {
  const char *text;
  bool is_ok;
} dates[] = {{"2027-06-12", true},  {"2024-02-29", true},   {"2027-02-29", false}, {"2027-02-30", false},
             {"2100-02-29", false}, {"2027-13-01", false},  {"2027-00-10", false}, {"2027-6-12", false},
             {"12/06/2027", false}, {"2027-06-12 ", false}, {"0000-01-01", false}, {"2027-06-31", false},
             {"2027/06/12", false}, {"+027-06-12", false}};

START_TEST(date_text)
{
  struct pw_date d;
  ck_assert_msg(pw_date_parse(dates[_i].text, &d) == dates[_i].is_ok, "%s", dates[_i].text);
}
END_TEST

static const struct {
  const char *text;
  int minutes; /* -1: refused */
} times[] = {{"17:30", 1050}, {"00:00", 0}, {"23:59", 1439},  {"24:00", -1}, {"7:30", -1}, {"17:60", -1},
             {"17.30", -1},   {"1730", -1}, {"17:30:00", -1}, {"", -1},      {"-1:30", -1}};

START_TEST(time_text)
{
  int h = 0, m = 0;
  bool is_ok = pw_hhmm_parse(times[_i].text, &h, &m);
  ck_assert_msg(is_ok == (times[_i].minutes >= 0), "%s", times[_i].text);
  ck_assert_int_eq(h * 60 + m, is_ok ? times[_i].minutes : 0);
}
END_TEST

/* Each zone against the C library, every 30 minutes of the given years. */
static const struct {
  const char *zone;
  int from, to;
} zones[] = {
    {"America/Chicago", 2024, 2028},
    {"America/Chicago", 2095, 2096},
    {"Europe/Berlin", 2027, 2028},
    {"Australia/Lord_Howe", 2027, 2028}, /* half-hour change, south */
    {"Pacific/Auckland", 2050, 2051},
    {"Asia/Kolkata", 2027, 2027},
    {"America/Santiago", 2027, 2028}, /* change at midnight */
    {"Africa/Casablanca", 2026, 2027},
    {"Asia/Tehran", 2022, 2023},
    {"Etc/GMT+5", 2027, 2027},
    {"Europe/Dublin", 2027, 2028},
    {"UTC", 2027, 2027},
    {"Pacific/Apia", 2011, 2012}, /* lost a day */
    {"America/Nuuk", 2030, 2031},
    {"America/New_York", 1970, 1975},
};

START_TEST(zone_against_libc)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_date date = {zones[_i].from, 1, 1};
  struct pw_clock *clock;
  ck_assert_msg(pw_clock_open(&clock, zones[_i].zone, date, ctx) == PW_OK, "%s", zones[_i].zone);
  setenv("TZ", zones[_i].zone, 1);
  tzset();
  int span = (zones[_i].to - zones[_i].from + 1) * 366 * 24 * 60;
  for (int at = -24 * 60; at < span; at += 30) {
    time_t t = (time_t)pw_clock_utc_s(clock, at);
    struct tm tm;
    localtime_r(&t, &tm);
    struct pw_local_time l = pw_clock_local(clock, at);
    if (!(l.date.year == tm.tm_year + 1900 && l.date.month == tm.tm_mon + 1 && l.date.day == tm.tm_mday &&
          l.hour == tm.tm_hour && l.minute == tm.tm_min && l.weekday == tm.tm_wday &&
          l.utc_offset_min == tm.tm_gmtoff / 60 && l.is_dst == (tm.tm_isdst > 0) &&
          strcmp(l.zone_abbr, tm.tm_zone) == 0))
      ck_abort_msg("%s %d: %04d-%02d-%02d %02d:%02d %s", zones[_i].zone, at, l.date.year, l.date.month, l.date.day,
                   l.hour, l.minute, l.zone_abbr);
    int back = INT32_MIN;
    enum pw_local_fault f = pw_clock_at_min(clock, l.date, l.hour, l.minute, &back);
    if (!(f == PW_LOCAL_OK ? back == at : f == PW_LOCAL_TWICE && back <= at && at - back <= 60))
      ck_abort_msg("%s %d -> %d", zones[_i].zone, at, back);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* Rules of the zones: US 2027 changes on 14 March and 7 November; EU on the last Sundays. */
static const struct {
  const char *name, *zone;
  struct pw_date anchor, date;
  int hour, minute;
  enum pw_local_fault fault;
  int at_min;
} locals[] = {
    {"plain", "America/Chicago", {2027, 6, 12}, {2027, 6, 12}, 17, 30, PW_LOCAL_OK, 1050},
    {"night before", "America/Chicago", {2027, 6, 12}, {2027, 6, 11}, 20, 0, PW_LOCAL_OK, -240},
    {"skipped hour", "America/Chicago", {2027, 3, 14}, {2027, 3, 14}, 2, 30, PW_LOCAL_SKIPPED, 0},
    {"after the skip", "America/Chicago", {2027, 3, 14}, {2027, 3, 14}, 3, 0, PW_LOCAL_OK, 120},
    {"overnight over the skip", "America/Chicago", {2027, 3, 14}, {2027, 3, 13}, 20, 0, PW_LOCAL_OK, -240},
    {"anchor before the skip", "America/Chicago", {2027, 3, 13}, {2027, 3, 14}, 12, 0, PW_LOCAL_OK, 36 * 60 - 60},
    {"twice: the first", "America/Chicago", {2027, 11, 7}, {2027, 11, 7}, 1, 30, PW_LOCAL_TWICE, 90},
    {"after the second", "America/Chicago", {2027, 11, 7}, {2027, 11, 7}, 2, 0, PW_LOCAL_OK, 180},
    {"Berlin skipped", "Europe/Berlin", {2027, 3, 28}, {2027, 3, 28}, 2, 30, PW_LOCAL_SKIPPED, 0},
    {"Berlin twice", "Europe/Berlin", {2027, 10, 31}, {2027, 10, 31}, 2, 0, PW_LOCAL_TWICE, 120},
    {"no midnight: the day begins at 01:00", "America/Santiago", {2027, 9, 5}, {2027, 9, 5}, 1, 0, PW_LOCAL_OK, 0},
    {"no midnight", "America/Santiago", {2027, 9, 5}, {2027, 9, 5}, 0, 30, PW_LOCAL_SKIPPED, 0},
    {"half-hour step", "Australia/Lord_Howe", {2027, 10, 3}, {2027, 10, 3}, 3, 0, PW_LOCAL_OK, 150},
    {"no zone changes", "UTC", {2027, 3, 28}, {2027, 3, 29}, 2, 30, PW_LOCAL_OK, 26 * 60 + 30},
};

START_TEST(local_to_minutes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_clock *clock;
  ck_assert_msg(pw_clock_open(&clock, locals[_i].zone, locals[_i].anchor, ctx) == PW_OK, "%s", locals[_i].name);
  int at = 0;
  enum pw_local_fault f = pw_clock_at_min(clock, locals[_i].date, locals[_i].hour, locals[_i].minute, &at);
  ck_assert_msg(f == locals[_i].fault && at == locals[_i].at_min, "%s: %d %d", locals[_i].name, (int)f, at);
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *zone;
  const char *near;
} wrong[] = {{"America/Chicgo", "America/Chicago"},
             {"america/new_york", "America/New_York"},
             {"Chicago", "America/Chicago"},
             {"../../etc/passwd", NULL},
             {"/etc/localtime", NULL},
             {"America", NULL},
             {"", NULL},
             {"zone.tab", NULL},
             {"leapseconds", NULL},
             {"America/", NULL},
             {"America//Chicago", NULL},
             {"Nowhere/Atall", NULL},
             {"CST6CDT,M3.2.0,M11.1.0", NULL}};

START_TEST(wrong_zone)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_clock *clock;
  ck_assert_msg(pw_clock_open(&clock, wrong[_i].zone, (struct pw_date){2027, 6, 12}, ctx) == PW_ERR_INPUT && !clock,
                "%s", wrong[_i].zone);
  if (wrong[_i].near) {
    char name[80] = "";
    ck_assert(pw_zone_nearest(wrong[_i].zone, name, sizeof name));
    ck_assert_str_eq(name, wrong[_i].near);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(memory_out)
{
  for (long k = 1;; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_clock *clock;
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_clock_open(&clock, "America/Chicago", (struct pw_date){2027, 6, 12}, ctx);
    pw_test_ctx_free(ctx);
    if (status == PW_OK) {
      ck_assert_int_gt(k, 3);
      break;
    }
    ck_assert_int_eq(status, PW_ERR_MEMORY);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("clock");
  TCase *t = tcase_create("clock");
  tcase_add_loop_test(t, date_days, 0, sizeof days / sizeof *days);
  tcase_add_test(t, date_round_trip);
  tcase_add_loop_test(t, date_text, 0, sizeof dates / sizeof *dates);
  tcase_add_loop_test(t, time_text, 0, sizeof times / sizeof *times);
  tcase_add_loop_test(t, zone_against_libc, 0, sizeof zones / sizeof *zones);
  tcase_add_loop_test(t, local_to_minutes, 0, sizeof locals / sizeof *locals);
  tcase_add_loop_test(t, wrong_zone, 0, sizeof wrong / sizeof *wrong);
  tcase_add_test(t, memory_out);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
