/* zone.c - TZif version 1 to 4: instants from which on an offset holds, and a footer in the POSIX TZ form for
 * the time after the last one.  Every count and index of the file is checked before it is used. */
#include "base/zone.h"

#include "base/arena.h"
#include "base/date.h"

#include <ctype.h>
#include <errno.h>
#include <stdio.h>
#include <string.h>

enum { DAY_S = 86400, FILE_MAX = 32 * 1024 };

/* ---- the offset at an instant ---- */

static int64_t change_day(const struct pw_zone_change *c, int year)
{
  int64_t first = pw_date_to_days((struct pw_date){year, 1, 1});
  if (c->form == '0')
    return first + c->day;
  if (c->form == 'J')
    return first + c->day - 1 + (pw_month_days(year, 2) == 29 && c->day >= 60);
  struct pw_date d = {year, c->month, 1};
  int day = 1 + (c->day - pw_date_weekday(d) + 7) % 7 + (c->week - 1) * 7;
  while (day > pw_month_days(year, c->month))
    day -= 7;
  return pw_date_to_days(d) + day - 1;
}

static const struct pw_zone_offset *rule_offset(const struct pw_zone_rules *rules, int64_t utc_s)
{
  if (!rules->has_dst)
    return &rules->standard;
  int year = pw_date_from_days((int)pw_floor_div(utc_s + rules->standard.utc_s, DAY_S)).year;
  int64_t on = change_day(&rules->to_summer, year) * DAY_S + rules->to_summer.at_s - rules->standard.utc_s;
  int64_t off = change_day(&rules->to_standard, year) * DAY_S + rules->to_standard.at_s - rules->summer.utc_s;
  bool is_summer = on < off ? utc_s >= on && utc_s < off : utc_s >= on || utc_s < off; /* south: over new year */
  return is_summer ? &rules->summer : &rules->standard;
}

const struct pw_zone_offset *pw_zone_offset_at(const struct pw_zone_rules *rules, int64_t utc_s)
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

/* ---- reading a file ---- */

static int64_t big_endian(const unsigned char *p, int n)
{
  uint64_t value = p[0] & 0x80 ? UINT64_MAX : 0;
  for (int i = 0; i < n; i++)
    value = value << 8 | p[i];
  return (int64_t)value;
}

/* "CST" or "<+0330>" */
static const char *rule_name(const char *p, char abbr[PW_ZONE_ABBR])
{
  bool is_quoted = *p == '<';
  size_t n = 0;
  for (p += is_quoted; is_quoted ? *p && *p != '>' : isalpha((unsigned char)*p); p++)
    if (n < PW_ZONE_ABBR - 1)
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
static const char *rule_change(const char *p, struct pw_zone_change *c)
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
  bool is_ok = c->form == 'M'
                   ? c->month >= 1 && c->month <= 12 && c->week >= 1 && c->week <= 5 && c->day >= 0 && c->day <= 6
                   : c->day >= (c->form == 'J') && c->day <= 365;
  if (!is_ok)
    return NULL;
  return *p == '/' ? rule_time(p + 1, &c->at_s) : p;
}

/* Footer "CST6CDT,M3.2.0,M11.1.0". */
static bool rule_read(struct pw_zone_rules *out, const char *p)
{
  int west_s;
  if (!(p = rule_name(p, out->standard.abbr)) || !(p = rule_time(p, &west_s)))
    return false;
  out->standard.utc_s = -west_s;
  out->has_rule = true;
  if (!*p)
    return true;
  out->summer.is_dst = out->has_dst = true;
  out->summer.utc_s = out->standard.utc_s + 3600;
  if (!(p = rule_name(p, out->summer.abbr)))
    return false;
  if (*p && *p != ',') {
    if (!(p = rule_time(p, &west_s)))
      return false;
    out->summer.utc_s = -west_s;
  }
  return (p = rule_change(p, &out->to_summer)) && (p = rule_change(p, &out->to_standard)) && !*p;
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
static pw_status body_read(struct pw_zone_rules *out, const unsigned char *p, const struct header *h, int time_size,
                           struct pw_arena *arena)
{
  out->n_changes = h->n_changes;
  out->n_offsets = h->n_types;
  out->from_s = pw_arena_array(arena, (size_t)h->n_changes, sizeof *out->from_s);
  out->type = pw_arena_array(arena, (size_t)h->n_changes, 1);
  out->offsets = pw_arena_array(arena, (size_t)h->n_types, sizeof *out->offsets);
  if (!out->from_s || !out->type || !out->offsets)
    return PW_ERR_MEMORY;
  for (int i = 0; i < h->n_changes; i++, p += time_size) {
    out->from_s[i] = big_endian(p, time_size);
    if (i > 0 && out->from_s[i] <= out->from_s[i - 1])
      return PW_ERR_IO;
  }
  for (int i = 0; i < h->n_changes; i++) {
    out->type[i] = *p++;
    if (out->type[i] >= h->n_types)
      return PW_ERR_IO;
  }
  const char *names = (const char *)p + (size_t)h->n_types * 6;
  for (int i = 0; i < h->n_types; i++, p += 6) {
    struct pw_zone_offset *o = &out->offsets[i];
    o->utc_s = (int)big_endian(p, 4);
    o->is_dst = p[4] != 0;
    if (o->utc_s < -2 * DAY_S || o->utc_s > 2 * DAY_S || p[5] >= h->n_chars)
      return PW_ERR_IO;
    for (int k = p[5], n = 0; k < h->n_chars && names[k] && n < PW_ZONE_ABBR - 1; k++)
      o->abbr[n++] = names[k];
  }
  return PW_OK;
}

pw_status pw_zone_decode(struct pw_zone_rules *out, const unsigned char *file, size_t n, struct pw_arena *arena)
{
  struct header h;
  if (n < 4 || memcmp(file, "TZif", 4) != 0) /* a list that lies beside the zones */
    return PW_ERR_INPUT;
  if (!header_read(file, n, &h))
    return PW_ERR_IO;
  if (file[4] < '2') /* version 1: 32-bit instants, no rule */
    return n - 44 >= body_size(&h, 4) ? body_read(out, file + 44, &h, 4, arena) : PW_ERR_IO;
  size_t at = 44 + body_size(&h, 4);
  if (at > n || !header_read(file + at, n - at, &h))
    return PW_ERR_IO;
  at += 44;
  size_t body = body_size(&h, 8);
  if (body > n - at)
    return PW_ERR_IO;
  pw_status status = body_read(out, file + at, &h, 8, arena);
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
  return !*rule || rule_read(out, rule) ? PW_OK : PW_ERR_IO;
}

/* A name of the data base: words of letters, digits, "_", "-", "+" between slashes; cannot leave the directory. */
static bool zone_name_is_sound(const char *zone)
{
  size_t n = strlen(zone);
  if (n == 0 || n > PW_ZONE_NAME_MAX || zone[n - 1] == '/')
    return false;
  for (const char *p = zone; *p; p++) {
    bool starts = p == zone || p[-1] == '/';
    if (!(isalpha((unsigned char)*p) || (!starts && (isdigit((unsigned char)*p) || strchr("_-+/", *p)))))
      return false;
  }
  return true;
}

pw_status pw_zone_read(struct pw_zone_rules *out, const char *zone, struct pw_arena *arena)
{
  if (!zone_name_is_sound(zone))
    return PW_ERR_INPUT;
  unsigned char *bytes = pw_arena_alloc(arena, FILE_MAX);
  char *path = pw_arena_printf(arena, "%s/%s", PW_ZONEINFO, zone);
  if (!bytes || !path)
    return PW_ERR_MEMORY;
  FILE *file = fopen(path, "rb");
  if (!file)
    return errno == ENOENT || errno == ENOTDIR ? PW_ERR_INPUT : errno == ENOMEM ? PW_ERR_MEMORY : PW_ERR_IO;
  size_t n = fread(bytes, 1, FILE_MAX, file);
  bool is_bad = ferror(file) || n == FILE_MAX, is_dir = ferror(file) && errno == EISDIR;
  if (fclose(file) != 0)
    is_bad = true;
  if (is_dir) /* "America" */
    return PW_ERR_INPUT;
  return is_bad ? PW_ERR_IO : pw_zone_decode(out, bytes, n, arena);
}
