/* clock.c - local time of a zone as minutes of an event, and back.
 * The zone's rules are kept in the clock; nothing global is touched, so clocks can be used side by side.  Local to UTC:
 * every offset in force within a day is tried, and those that lead back are the answers. */
#include "base/clock.h"

#include "base/arena.h"
#include "base/nearest.h"
#include "base/zone.h"

#include <limits.h>
#include <stdio.h>
#include <string.h>

enum { DAY_S = 86400, YEAR_FIRST = 1902, YEAR_LAST = 2200 };

struct pw_clock {
  struct pw_zone_rules rules;
  int64_t anchor_s; /* 00:00 local of the event's date, UTC */
};

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

bool pw_zone_is_local(const char *zone)
{
  const char *last = strrchr(zone, '/'); /* "posix/localtime" too */
  last = last ? last + 1 : zone;
  return strcmp(last, "localtime") == 0 || strcmp(last, "posixrules") == 0;
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
  int tried_s = INT_MAX;
  for (int h = -15; h <= 13; h++) { /* offsets reach from -12 h to +14 h; an hour more on either side of a change */
    int offset_s = pw_zone_offset_at(&clock->rules, local_s + h * 3600)->utc_s;
    int64_t utc_s = local_s - offset_s;
    if (offset_s == tried_s)
      continue;
    tried_s = offset_s;
    if (utc_s + pw_zone_offset_at(&clock->rules, utc_s)->utc_s != local_s)
      continue;
    first = utc_s < first ? utc_s : first;
    last = utc_s > last ? utc_s : last;
  }
  if (first > last)
    return PW_LOCAL_SKIPPED;
  *at_min = (int)pw_floor_div(first - clock->anchor_s, 60);
  return first != last ? PW_LOCAL_TWICE : PW_LOCAL_OK;
}

int64_t pw_clock_utc_s(const struct pw_clock *clock, int at_min) { return clock->anchor_s + (int64_t)at_min * 60; }

struct pw_local_time pw_clock_local(const struct pw_clock *clock, int at_min)
{
  int64_t utc_s = pw_clock_utc_s(clock, at_min);
  const struct pw_zone_offset *offset = pw_zone_offset_at(&clock->rules, utc_s);
  int64_t local_s = utc_s + offset->utc_s, day = pw_floor_div(local_s, DAY_S);
  int second = (int)(local_s - day * DAY_S);
  struct pw_date date = pw_date_from_days((int)day);
  return (struct pw_local_time){.date = date,
                                .weekday = pw_date_weekday(date),
                                .hour = second / 3600,
                                .minute = second / 60 % 60,
                                .utc_offset_min = (int)pw_floor_div(offset->utc_s, 60),
                                .is_dst = offset->is_dst,
                                .zone_abbr = offset->abbr};
}
