/* zone.h - the offsets of a time zone as its TZif file tells them (RFC 8536); for clock.c. */
#ifndef PW_ZONE_H
#define PW_ZONE_H

#include "pw/status.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct pw_arena;

enum { PW_ZONE_ABBR = 12, PW_ZONE_NAME_MAX = 60 };

#ifndef PW_ZONEINFO
#define PW_ZONEINFO "/usr/share/zoneinfo"
#endif

struct pw_zone_offset {
  int utc_s; /* local - UTC */
  bool is_dst;
  char abbr[PW_ZONE_ABBR];
};

struct pw_zone_change { /* POSIX TZ rule: the day, and the local second of it */
  char form;            /* 'M' month.week.day, 'J' 1..365 without leap day, '0' 0..365 */
  int month, week, day;
  int at_s;
};

struct pw_zone_rules {
  int64_t *from_s; /* instants, rising */
  unsigned char *type;
  int n_changes;
  struct pw_zone_offset *offsets;
  int n_offsets;
  bool has_rule, has_dst;
  struct pw_zone_offset standard, summer;
  struct pw_zone_change to_summer, to_standard;
};

/** Reads PW_ZONEINFO/<zone>.  Errors: PW_ERR_INPUT no such zone, or a name that is none; PW_ERR_IO the file cannot be
 *  read or is damaged; PW_ERR_MEMORY. */
pw_status pw_zone_read(struct pw_zone_rules *out, const char *zone, struct pw_arena *arena);

/** The offset in force at an instant (seconds since 1970-01-01 00:00 UTC). */
const struct pw_zone_offset *pw_zone_offset_at(const struct pw_zone_rules *rules, int64_t utc_s);

/** Rules from the n bytes of a file. */
pw_status pw_zone_decode(struct pw_zone_rules *out, const unsigned char *file, size_t n, struct pw_arena *arena);

#endif
