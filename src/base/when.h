/* when.h - an instant of the event as people on the job say it: local time of its zone.
 * Small values with the text inside: nothing is freed, nothing fails.  Without the zone's rules (ev->clock NULL)
 * the elapsed minutes themselves are the clock. */
#ifndef PW_WHEN_H
#define PW_WHEN_H

#include "base/format.h"
#include "pw/event.h"

/** "02:30"; "02:30 CEST" when the clock shows it twice that night. */
struct pw_short pw_when_clock(const struct pw_event *ev, int at_min);
/** "Sat 02:30", likewise. */
struct pw_short pw_when(const struct pw_event *ev, int at_min);
/** "Saturday 12 June 2027". */
struct pw_short pw_when_day(const struct pw_event *ev, int at_min);
/** "Sat 12 Jun". */
struct pw_short pw_when_day_short(const struct pw_event *ev, int at_min);
/** "Sat 12 Jun 2027". */
struct pw_short pw_when_date(struct pw_date date);
/** Local days between the event's date and the instant: 0 on the day, -1 the day before. */
int pw_when_day_number(const struct pw_event *ev, int at_min);

#endif
