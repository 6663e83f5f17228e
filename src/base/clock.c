/* clock.c - civil dates, and local time of a zone as minutes of an event and back.
 * The zone's rules are kept in the clock; nothing global is touched, so clocks can be used side by side.  Local to UTC:
 * every offset in force within a day is tried, and those that lead back are the answers. */
#include "base/clock.h"

#include "base/arena.h"
#include "base/nearest.h"
#include "base/zone_file.h"

#include <ctype.h>
#include <stdio.h>
#include <string.h>

enum { DAY_S = 86400, YEAR_FIRST = 1902, YEAR_LAST = 2200 };

/* ---- dates -------------------------------------------------------------------------------------- */

static bool is_leap(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

static int month_days(int year, int month)
{
  static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return days[month - 1] + (month == 2 && is_leap(year));
}

bool pw_date_is_real(struct pw_date d)
{
  return d.year >= 1 && d.year <= 9999 && d.month >= 1 && d.month <= 12 && d.day >= 1 &&
         d.day <= month_days(d.year, d.month);
}

static int64_t floor_div(int64_t a, int64_t b) { return a / b - (a % b < 0); }

/* Years begin in March, so that the leap day is the last; 400 years are 146097 days. */
int pw_date_to_days(struct pw_date d)
{
  int year = d.year - (d.month <= 2);
  int era = (int)floor_div(year, 400), year_of_era = year - era * 400;
  int day_of_year = (153 * (d.month + (d.month > 2 ? -3 : 9)) + 2) / 5 + d.day - 1;
  return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - 719468;
}

struct pw_date pw_date_from_days(int days)
{
  days += 719468; /* days from 0000-03-01 to 1970-01-01 */
  int era = (int)floor_div(days, 146097), day = days - era * 146097;
  int year = (day - day / 1460 + day / 36524 - day / 146096) / 365;
  int day_of_year = day - (365 * year + year / 4 - year / 100), m = (5 * day_of_year + 2) / 153;
  int month = m < 10 ? m + 3 : m - 9;
  return (struct pw_date){year + era * 400 + (month <= 2), month, day_of_year - (153 * m + 2) / 5 + 1};
}

int pw_date_weekday(struct pw_date date)
{
  int day = pw_date_to_days(date) + 4; /* 1970-01-01 was a Thursday */
  return day - 7 * (int)floor_div(day, 7);
}

/* n digits at text, or -1. */
static int digits(const char *text, int n)
{
  int value = 0;
  for (int i = 0; i < n; i++) {
    if (!isdigit((unsigned char)text[i]))
      return -1;
    value = value * 10 + (text[i] - '0');
  }
  return value;
}

bool pw_date_parse(const char *text, struct pw_date *out)
{
  if (strlen(text) != 10 || text[4] != '-' || text[7] != '-')
    return false;
  struct pw_date d = {digits(text, 4), digits(text + 5, 2), digits(text + 8, 2)};
  if (!pw_date_is_real(d))
    return false;
  *out = d;
  return true;
}

bool pw_hhmm_parse(const char *text, int *hour, int *minute)
{
  if (strlen(text) != 5 || text[2] != ':')
    return false;
  int h = digits(text, 2), m = digits(text + 3, 2);
  if (h < 0 || h > 23 || m < 0 || m > 59)
    return false;
  *hour = h;
  *minute = m;
  return true;
}

/* ---- zone rules ---------------------------------------------------------------------------------- */

struct pw_clock {
  struct pw_zone_rules rules;
  int64_t anchor_s; /* 00:00 local of the event's date, UTC */
};

static int64_t change_day(const struct pw_zone_change *c, int year)
{
  int64_t first = pw_date_to_days((struct pw_date){year, 1, 1});
  if (c->form == '0')
    return first + c->day;
  if (c->form == 'J')
    return first + c->day - 1 + (is_leap(year) && c->day >= 60);
  struct pw_date d = {year, c->month, 1};
  int day = 1 + (c->day - pw_date_weekday(d) + 7) % 7 + (c->week - 1) * 7;
  while (day > month_days(year, c->month))
    day -= 7;
  return pw_date_to_days(d) + day - 1;
}

static const struct pw_zone_offset *rule_offset(const struct pw_zone_rules *rules, int64_t utc_s)
{
  if (!rules->has_dst)
    return &rules->standard;
  int year = pw_date_from_days((int)floor_div(utc_s + rules->standard.utc_s, DAY_S)).year;
  int64_t on = change_day(&rules->to_summer, year) * DAY_S + rules->to_summer.at_s - rules->standard.utc_s;
  int64_t off = change_day(&rules->to_standard, year) * DAY_S + rules->to_standard.at_s - rules->summer.utc_s;
  bool is_summer = on < off ? utc_s >= on && utc_s < off : utc_s >= on || utc_s < off; /* south: over new year */
  return is_summer ? &rules->summer : &rules->standard;
}

static const struct pw_zone_offset *offset_at(const struct pw_zone_rules *rules, int64_t utc_s)
{
  int n = rules->n_changes;
  if (rules->has_rule && (n == 0 || utc_s >= rules->from_s[n - 1]))
    return rule_offset(rules, utc_s);
  int low = 0, high = n; /* first change after the instant */
  while (low < high) {
    int mid = (low + high) / 2;
    if (rules->from_s[mid] <= utc_s)
      low = mid + 1;
    else
      high = mid;
  }
  return &rules->offsets[low ? rules->type[low - 1] : 0];
}

pw_status pw_clock_open(struct pw_clock **out, const char *zone, struct pw_date date, struct pw_ctx *ctx)
{
  *out = NULL;
  if (!pw_date_is_real(date) || date.year < YEAR_FIRST || date.year > YEAR_LAST)
    return PW_ERR_INPUT;
  struct pw_clock *clock = pw_arena_alloc(ctx->arena, sizeof *clock);
  if (!clock)
    return PW_ERR_MEMORY;
  pw_status status = pw_zone_read(&clock->rules, zone, ctx->arena);
  if (status)
    return status;
  int at_min;
  for (int minute = 0; minute < 24 * 60; minute++) /* midnight, or the first minute that exists */
    if (pw_clock_at_min(clock, date, minute / 60, minute % 60, &at_min) != PW_LOCAL_SKIPPED) {
      clock->anchor_s = (int64_t)at_min * 60;
      *out = clock;
      return PW_OK;
    }
  return PW_ERR_INPUT; /* a day that a zone skipped as a whole */
}

bool pw_zone_nearest(const char *zone, char *name, size_t size)
{
  struct pw_nearest nearest = {.word = zone};
  char line[256], tab_path[] = PW_ZONEINFO "/zone.tab", best[PW_ZONE_NAME_MAX + 1] = "";
  FILE *file = fopen(tab_path, "r");
  if (!file)
    return false;
  while (fgets(line, sizeof line, file)) { /* country, place, name, remarks: between tabs */
    char *third = *line == '#' ? NULL : strchr(line, '\t');
    third = third ? strchr(third + 1, '\t') : NULL;
    if (!third || strcspn(third + 1, "\t\n") > PW_ZONE_NAME_MAX)
      continue;
    third[1 + strcspn(third + 1, "\t\n")] = '\0';
    const char *before = nearest.best, *city = strrchr(third, '/');
    pw_nearest_offer(&nearest, third + 1);
    if (city && !before && pw_edit_distance(zone, city + 1) <= 1) { /* "Chicago" */
      nearest.best = third + 1;
      nearest.distance = 2;
    }
    if (nearest.best == third + 1) {
      snprintf(best, sizeof best, "%s", third + 1);
      nearest.best = best;
    }
  }
  bool is_read = !ferror(file);
  if (fclose(file) != 0 || !is_read || !*best)
    return false;
  snprintf(name, size, "%s", best);
  return true;
}

/* ---- conversion ----------------------------------------------------------------------------------------- */

enum pw_local_fault pw_clock_at_min(const struct pw_clock *clock, struct pw_date date, int hour, int minute,
                                    int *at_min)
{
  int64_t local_s = (int64_t)pw_date_to_days(date) * DAY_S + hour * 3600 + minute * 60;
  int64_t first = INT64_MAX, last = INT64_MIN;
  for (int h = -26; h <= 26; h++) { /* offsets reach from -12 h to +14 h */
    int64_t utc_s = local_s - offset_at(&clock->rules, local_s + h * 3600)->utc_s;
    if (utc_s + offset_at(&clock->rules, utc_s)->utc_s != local_s)
      continue;
    first = utc_s < first ? utc_s : first;
    last = utc_s > last ? utc_s : last;
  }
  if (first > last)
    return PW_LOCAL_SKIPPED;
  *at_min = (int)floor_div(first - clock->anchor_s, 60);
  return first != last ? PW_LOCAL_TWICE : PW_LOCAL_OK;
}

int64_t pw_clock_utc_s(const struct pw_clock *clock, int at_min) { return clock->anchor_s + (int64_t)at_min * 60; }

struct pw_local_time pw_clock_local(const struct pw_clock *clock, int at_min)
{
  int64_t utc_s = pw_clock_utc_s(clock, at_min);
  const struct pw_zone_offset *offset = offset_at(&clock->rules, utc_s);
  int64_t local_s = utc_s + offset->utc_s, day = floor_div(local_s, DAY_S);
  int second = (int)(local_s - day * DAY_S);
  struct pw_date date = pw_date_from_days((int)day);
  return (struct pw_local_time){.date = date,
                                .weekday = pw_date_weekday(date),
                                .hour = second / 3600,
                                .minute = second / 60 % 60,
                                .utc_offset_min = (int)floor_div(offset->utc_s, 60),
                                .is_dst = offset->is_dst,
                                .zone_abbr = offset->abbr};
}
