/* when.c - local times in words; base/clock knows the zone. */
#include "base/when.h"

#include "base/clock.h"

#include <stdio.h>

static const char *const DAYS[] = {"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};
static const char *const MONTHS[] = {"January", "February", "March",     "April",   "May",      "June",
                                     "July",    "August",   "September", "October", "November", "December"};

static const char *day_of(struct pw_date d) { return DAYS[pw_date_weekday(d)]; }

static const char *month_of(struct pw_date d) { return MONTHS[d.month >= 1 && d.month <= 12 ? d.month - 1 : 0]; }

static struct pw_local_time local(const struct pw_event *ev, int at_min)
{
  if (ev->clock)
    return pw_clock_local(ev->clock, at_min);
  int day = at_min / 1440 - (at_min % 1440 < 0 ? 1 : 0), minute = at_min - day * 1440;
  struct pw_date date = pw_date_from_days(pw_date_to_days(ev->date) + day);
  return (struct pw_local_time){
      .date = date, .weekday = pw_date_weekday(date), .hour = minute / 60, .minute = minute % 60, .zone_abbr = ""};
}

/* " CEST" where the clock shows the same time twice (it goes back that night), else nothing. */
static const char *which(const struct pw_event *ev, int at_min, struct pw_local_time t, char text[16])
{
  text[0] = '\0';
  for (int side = -1; side <= 1 && ev->clock; side += 2) {
    struct pw_local_time other = pw_clock_local(ev->clock, at_min + side * 60);
    if (other.hour == t.hour && other.minute == t.minute)
      snprintf(text, 16, " %.10s", t.zone_abbr);
  }
  return text;
}

struct pw_short pw_when_clock(const struct pw_event *ev, int at_min)
{
  struct pw_local_time t = local(ev, at_min);
  struct pw_short out;
  char abbr[16];
  snprintf(out.s, sizeof out.s, "%02d:%02d%.15s", t.hour, t.minute, which(ev, at_min, t, abbr));
  return out;
}

struct pw_short pw_when(const struct pw_event *ev, int at_min)
{
  struct pw_local_time t = local(ev, at_min);
  struct pw_short out;
  char abbr[16];
  snprintf(out.s, sizeof out.s, "%.3s %02d:%02d%.15s", day_of(t.date), t.hour, t.minute, which(ev, at_min, t, abbr));
  return out;
}

struct pw_short pw_when_day(const struct pw_event *ev, int at_min)
{
  struct pw_date d = local(ev, at_min).date;
  struct pw_short out;
  snprintf(out.s, sizeof out.s, "%s %d %s %d", day_of(d), d.day, month_of(d), d.year);
  return out;
}

struct pw_short pw_when_day_short(const struct pw_event *ev, int at_min)
{
  struct pw_date d = local(ev, at_min).date;
  struct pw_short out;
  snprintf(out.s, sizeof out.s, "%.3s %d %.3s", day_of(d), d.day, month_of(d));
  return out;
}

struct pw_short pw_when_date(struct pw_date d)
{
  struct pw_short out;
  snprintf(out.s, sizeof out.s, "%.3s %d %.3s %d", day_of(d), d.day, month_of(d), d.year);
  return out;
}

int pw_when_day_number(const struct pw_event *ev, int at_min)
{
  return pw_date_to_days(local(ev, at_min).date) - pw_date_to_days(ev->date);
}
