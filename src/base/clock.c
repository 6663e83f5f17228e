/* clock.c - civil dates and TZif time zones.
 * A zone file (RFC 8536) is a list of instants from which on an offset holds, and a rule in the POSIX TZ form for
 * the time after the last one.  Both are kept in the clock; nothing global is touched, so clocks can be used side
 * by side.  Local to UTC: every offset in force within a day is tried, and those that lead back are the answers. */
#include "base/clock.h"

#include "base/arena.h"
#include "base/nearest.h"

#include <ctype.h>
#include <errno.h>
#include <stdio.h>
#include <string.h>

#ifndef PW_ZONEINFO
#define PW_ZONEINFO "/usr/share/zoneinfo"
#endif

enum { DAY_S = 86400, FILE_MAX = 32 * 1024, ZONE_NAME_MAX = 60, ABBR_MAX = 12, YEAR_FIRST = 1902, YEAR_LAST = 2200 };

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

struct offset {
  int utc_s; /* local - UTC */
  bool is_dst;
  char abbr[ABBR_MAX];
};

struct change { /* POSIX TZ rule: the day, and the local second of it */
  char form;    /* 'M' month.week.day, 'J' 1..365 without leap day, '0' 0..365 */
  int month, week, day;
  int at_s;
};

struct pw_clock {
  int64_t *from_s; /* instants, rising */
  unsigned char *type;
  int n_changes;
  struct offset *offsets;
  int n_offsets;
  bool has_rule, has_dst;
  struct offset standard, summer;
  struct change to_summer, to_standard;
  int64_t anchor_s; /* 00:00 local of the event's date, UTC */
};

static int64_t change_day(const struct change *c, int year)
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

static const struct offset *rule_offset(const struct pw_clock *clock, int64_t utc_s)
{
  if (!clock->has_dst)
    return &clock->standard;
  int year = pw_date_from_days((int)floor_div(utc_s + clock->standard.utc_s, DAY_S)).year;
  int64_t on = change_day(&clock->to_summer, year) * DAY_S + clock->to_summer.at_s - clock->standard.utc_s;
  int64_t off = change_day(&clock->to_standard, year) * DAY_S + clock->to_standard.at_s - clock->summer.utc_s;
  bool is_summer = on < off ? utc_s >= on && utc_s < off : utc_s >= on || utc_s < off; /* south: over new year */
  return is_summer ? &clock->summer : &clock->standard;
}

static const struct offset *offset_at(const struct pw_clock *clock, int64_t utc_s)
{
  int n = clock->n_changes;
  if (clock->has_rule && (n == 0 || utc_s >= clock->from_s[n - 1]))
    return rule_offset(clock, utc_s);
  int low = 0, high = n; /* first change after the instant */
  while (low < high) {
    int mid = (low + high) / 2;
    if (clock->from_s[mid] <= utc_s)
      low = mid + 1;
    else
      high = mid;
  }
  return &clock->offsets[low ? clock->type[low - 1] : 0];
}

/* ---- reading a zone file ---------------------------------------------------------------------------- */

static int64_t big_endian(const unsigned char *p, int n)
{
  uint64_t value = p[0] & 0x80 ? UINT64_MAX : 0;
  for (int i = 0; i < n; i++)
    value = value << 8 | p[i];
  return (int64_t)value;
}

/* "CST" or "<+0330>" */
static const char *rule_name(const char *p, char abbr[ABBR_MAX])
{
  bool is_quoted = *p == '<';
  size_t n = 0;
  for (p += is_quoted; is_quoted ? *p && *p != '>' : isalpha((unsigned char)*p); p++)
    if (n < ABBR_MAX - 1)
      abbr[n++] = *p;
  abbr[n] = '\0';
  if (is_quoted && *p++ != '>')
    return NULL;
  return n >= 3 ? p : NULL;
}

/* Number at *p of at most 3 digits, or -1. */
static int rule_number(const char **p)
{
  int value = -1;
  for (int i = 0; i < 3 && isdigit((unsigned char)**p); i++)
    value = (value < 0 ? 0 : value) * 10 + (*(*p)++ - '0');
  return value;
}

/* [+-]hh[:mm[:ss]] in seconds */
static const char *rule_time(const char *p, int *seconds)
{
  int sign = *p == '-' ? -1 : 1, sum = 0, unit = 3600;
  if (*p == '-' || *p == '+')
    p++;
  for (;; unit /= 60, p++) {
    int part = rule_number(&p);
    if (part < 0 || part > 167)
      return NULL;
    sum += part * unit;
    if (*p != ':' || unit == 1)
      break;
  }
  *seconds = sign * sum;
  return p;
}

/* ",M3.2.0/2" */
static const char *rule_change(const char *p, struct change *c)
{
  if (*p++ != ',')
    return NULL;
  c->form = *p == 'M' || *p == 'J' ? *p++ : '0';
  c->at_s = 2 * 3600; /* RFC 8536 3.3, POSIX: default 02:00:00 */
  if (c->form == 'M') {
    c->month = rule_number(&p);
    if (*p++ != '.')
      return NULL;
    c->week = rule_number(&p);
    if (*p++ != '.')
      return NULL;
  }
  c->day = rule_number(&p);
  bool is_ok = c->form == 'M' ? c->month >= 1 && c->month <= 12 && c->week >= 1 && c->week <= 5 && c->day >= 0 && c->day <= 6
                              : c->day >= (c->form == 'J') && c->day <= 365;
  if (!is_ok)
    return NULL;
  return *p == '/' ? rule_time(p + 1, &c->at_s) : p;
}

/* Footer "CST6CDT,M3.2.0,M11.1.0". */
static bool rule_read(struct pw_clock *clock, const char *p)
{
  int west_s;
  if (!(p = rule_name(p, clock->standard.abbr)) || !(p = rule_time(p, &west_s)))
    return false;
  clock->standard.utc_s = -west_s;
  clock->has_rule = true;
  if (!*p)
    return true;
  clock->summer.is_dst = clock->has_dst = true;
  clock->summer.utc_s = clock->standard.utc_s + 3600;
  if (!(p = rule_name(p, clock->summer.abbr)))
    return false;
  if (*p && *p != ',') {
    if (!(p = rule_time(p, &west_s)))
      return false;
    clock->summer.utc_s = -west_s;
  }
  return (p = rule_change(p, &clock->to_summer)) && (p = rule_change(p, &clock->to_standard)) && !*p;
}

struct header {
  int n_isut, n_isstd, n_leap, n_changes, n_types, n_chars;
};

/* Counts of the block at p (44 bytes), false when they cannot be. */
static bool header_read(const unsigned char *p, size_t left, struct header *h)
{
  if (left < 44 || memcmp(p, "TZif", 4) != 0)
    return false;
  int *counts[] = {&h->n_isut, &h->n_isstd, &h->n_leap, &h->n_changes, &h->n_types, &h->n_chars};
  for (int i = 0; i < 6; i++) {
    int64_t n = big_endian(p + 20 + 4 * i, 4);
    if (n < 0 || n > FILE_MAX)
      return false;
    *counts[i] = (int)n;
  }
  return h->n_types >= 1 && h->n_types <= 256 && h->n_leap == 0;
}

static size_t body_size(const struct header *h, size_t time_size)
{
  return (size_t)h->n_changes * (time_size + 1) + (size_t)h->n_types * 6 + (size_t)h->n_chars + (size_t)h->n_isstd +
         (size_t)h->n_isut;
}

/* Tables of one block: instants of time_size bytes, their types, the types, the names. */
static pw_status body_read(struct pw_clock *clock, const unsigned char *p, const struct header *h, int time_size,
                           struct pw_arena *arena)
{
  clock->n_changes = h->n_changes;
  clock->n_offsets = h->n_types;
  clock->from_s = pw_arena_array(arena, (size_t)h->n_changes, sizeof *clock->from_s);
  clock->type = pw_arena_array(arena, (size_t)h->n_changes, 1);
  clock->offsets = pw_arena_array(arena, (size_t)h->n_types, sizeof *clock->offsets);
  if (!clock->from_s || !clock->type || !clock->offsets)
    return PW_ERR_MEMORY;
  for (int i = 0; i < h->n_changes; i++, p += time_size) {
    clock->from_s[i] = big_endian(p, time_size);
    if (i > 0 && clock->from_s[i] <= clock->from_s[i - 1])
      return PW_ERR_IO;
  }
  for (int i = 0; i < h->n_changes; i++) {
    clock->type[i] = *p++;
    if (clock->type[i] >= h->n_types)
      return PW_ERR_IO;
  }
  const char *names = (const char *)p + (size_t)h->n_types * 6;
  for (int i = 0; i < h->n_types; i++, p += 6) {
    struct offset *o = &clock->offsets[i];
    o->utc_s = (int)big_endian(p, 4);
    o->is_dst = p[4] != 0;
    if (o->utc_s < -2 * DAY_S || o->utc_s > 2 * DAY_S || p[5] >= h->n_chars)
      return PW_ERR_IO;
    for (int k = p[5], n = 0; k < h->n_chars && names[k] && n < ABBR_MAX - 1; k++)
      o->abbr[n++] = names[k];
  }
  return PW_OK;
}

static pw_status zone_decode(struct pw_clock *clock, const unsigned char *file, size_t n, struct pw_arena *arena)
{
  struct header h;
  if (n < 4 || memcmp(file, "TZif", 4) != 0) /* a list that lies beside the zones */
    return PW_ERR_INPUT;
  if (!header_read(file, n, &h))
    return PW_ERR_IO;
  if (file[4] < '2') /* version 1: 32-bit instants, no rule */
    return n - 44 >= body_size(&h, 4) ? body_read(clock, file + 44, &h, 4, arena) : PW_ERR_IO;
  size_t at = 44 + body_size(&h, 4);
  if (at > n || !header_read(file + at, n - at, &h))
    return PW_ERR_IO;
  at += 44;
  size_t body = body_size(&h, 8);
  if (body > n - at)
    return PW_ERR_IO;
  pw_status status = body_read(clock, file + at, &h, 8, arena);
  if (status)
    return status;
  at += body;
  char rule[80] = "";
  if (at + 2 <= n && file[at] == '\n') {
    const unsigned char *close = memchr(file + at + 1, '\n', n - at - 1);
    size_t len = close ? (size_t)(close - file) - at - 1 : sizeof rule;
    if (len >= sizeof rule)
      return PW_ERR_IO;
    memcpy(rule, file + at + 1, len);
  }
  return !*rule || rule_read(clock, rule) ? PW_OK : PW_ERR_IO;
}

/* A name of the data base: words of letters, digits, "_", "-", "+" between slashes; cannot leave the directory. */
static bool zone_name_is_sound(const char *zone)
{
  size_t n = strlen(zone);
  if (n == 0 || n > ZONE_NAME_MAX || zone[n - 1] == '/')
    return false;
  for (const char *p = zone; *p; p++) {
    bool starts = p == zone || p[-1] == '/';
    if (!(isalpha((unsigned char)*p) || (!starts && (isdigit((unsigned char)*p) || strchr("_-+/", *p)))))
      return false;
  }
  return true;
}

static pw_status zone_load(struct pw_clock *clock, const char *zone, struct pw_arena *arena)
{
  unsigned char *bytes = pw_arena_alloc(arena, FILE_MAX);
  char *path = pw_arena_printf(arena, "%s/%s", PW_ZONEINFO, zone);
  if (!bytes || !path)
    return PW_ERR_MEMORY;
  FILE *file = fopen(path, "rb");
  if (!file)
    return errno == ENOENT || errno == ENOTDIR ? PW_ERR_INPUT : PW_ERR_IO;
  size_t n = fread(bytes, 1, FILE_MAX, file);
  bool is_bad = ferror(file) || n == FILE_MAX;
  int is_dir = ferror(file) && errno == EISDIR;
  if (fclose(file) != 0)
    is_bad = true;
  if (is_dir) /* "America" */
    return PW_ERR_INPUT;
  return is_bad ? PW_ERR_IO : zone_decode(clock, bytes, n, arena);
}

pw_status pw_clock_open(struct pw_clock **out, const char *zone, struct pw_date date, struct pw_ctx *ctx)
{
  *out = NULL;
  if (!zone_name_is_sound(zone) || !pw_date_is_real(date) || date.year < YEAR_FIRST || date.year > YEAR_LAST)
    return PW_ERR_INPUT;
  struct pw_clock *clock = pw_arena_alloc(ctx->arena, sizeof *clock);
  if (!clock)
    return PW_ERR_MEMORY;
  pw_status status = zone_load(clock, zone, ctx->arena);
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
  char line[256], tab_path[] = PW_ZONEINFO "/zone.tab", best[ZONE_NAME_MAX + 1] = "";
  FILE *file = fopen(tab_path, "r");
  if (!file)
    return false;
  while (fgets(line, sizeof line, file)) { /* country, place, name, remarks: between tabs */
    char *third = *line == '#' ? NULL : strchr(line, '\t');
    third = third ? strchr(third + 1, '\t') : NULL;
    if (!third || strcspn(third + 1, "\t\n") > ZONE_NAME_MAX)
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
    int64_t utc_s = local_s - offset_at(clock, local_s + h * 3600)->utc_s;
    if (utc_s + offset_at(clock, utc_s)->utc_s != local_s)
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
  const struct offset *offset = offset_at(clock, utc_s);
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
