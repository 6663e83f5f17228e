/* clock.h - local time of a named zone, without the C library's global zone.
 * An instant of an event is whole minutes of real elapsed time since 00:00 local of the event's date; this is the
 * one place that turns local wall-clock time into such minutes and back. */
#ifndef PW_CLOCK_H
#define PW_CLOCK_H

#include "base/ctx.h"
#include "base/date.h"

/* ---- time zones (TZif files, RFC 8536) ---------------------------------------------------------- */

struct pw_clock;

/** The zone's rules, anchored at 00:00 local of `date` (where a change skips midnight: the day's first minute).
 *  Reads PW_ZONEINFO/<zone> once.  Dates: years 1902..2200.  Errors: PW_ERR_INPUT no such zone, or a name that is none;
 * PW_ERR_IO the file cannot be read or is damaged; PW_ERR_MEMORY.  *out lives in the context's arena. */
pw_status pw_clock_open(struct pw_clock **out, const char *zone, struct pw_date date, struct pw_ctx *ctx);

/** A name that stands for whatever zone a computer is set to ("localtime", "posixrules"). */
bool pw_zone_is_local(const char *zone);
/** Name of the zone in PW_ZONEINFO/zone.tab most like `zone` (or whose city it names) into `name`; false when none is
 * near. */
bool pw_zone_nearest(const char *zone, char *name, size_t size);

enum pw_local_fault {
  PW_LOCAL_OK,
  PW_LOCAL_TWICE,  /**< exists twice (clocks go back); the first is given */
  PW_LOCAL_SKIPPED /**< does not exist (clocks go forward); at_min is untouched */
};

/** Local date and time to minutes since the anchor. */
enum pw_local_fault pw_clock_at_min(const struct pw_clock *clock, struct pw_date date, int hour, int minute,
                                    int *at_min);

struct pw_local_time {
  struct pw_date date;
  int weekday; /**< 0 Sunday .. 6 Saturday */
  int hour, minute;
  int utc_offset_min; /**< local - UTC */
  bool is_dst;
  const char *zone_abbr; /**< "CDT"; lives as long as the clock */
};

/** Minutes since the anchor to local time. */
struct pw_local_time pw_clock_local(const struct pw_clock *clock, int at_min);
/** Seconds since 1970-01-01 00:00 UTC. */
int64_t pw_clock_utc_s(const struct pw_clock *clock, int at_min);

#endif
