/* fmt.h - numbers, money and times as a person reads them, in the event's units.
 * Every function returns a small struct by value, so nothing is allocated and nothing can fail:
 *   pw_buf_printf(b, "%s at %s", pw_fmt_weight(ev, kg).s, pw_fmt_temp(ev, c).s);
 * Numbers that are not finite print as "?". */
#ifndef PW_FMT_H
#define PW_FMT_H

#include "pw/event.h"

struct pw_fmt {
  char s[64];
};

/** "14 lb", "212 lb", "5.2 oz" below a pound; "6.4 kg", "850 g" below a kilogram. */
struct pw_fmt pw_fmt_weight(const struct pw_event *ev, double kg);
/** "250 °F" or "121 °C", to the degree. */
struct pw_fmt pw_fmt_temp(const struct pw_event *ev, double c);
/** "36 in" or "91 cm". */
struct pw_fmt pw_fmt_length(const struct pw_event *ev, double m);
/** "12.4 ft2" or "1.15 m2". */
struct pw_fmt pw_fmt_area(const struct pw_event *ev, double m2);
/** "28 mi" or "45 km". */
struct pw_fmt pw_fmt_distance(const struct pw_event *ev, double m);
/** Amount of an item in its unit: weight, volume ("2.5 gal", "9.5 L") or a bare count. */
struct pw_fmt pw_fmt_amount(const struct pw_event *ev, enum pw_unit unit, double amount);
/** Count without needless digits: "12", "2.5". */
struct pw_fmt pw_fmt_number(double value);
/** "12.5 %" of 0.125; whole percents without the decimal. */
struct pw_fmt pw_fmt_percent(double frac);
/** "$1,234.50", the event's currency. */
struct pw_fmt pw_fmt_money(const struct pw_event *ev, pw_cents cents);
/** "6 h 30 min", "45 min", "2 d 4 h". */
struct pw_fmt pw_fmt_minutes(int minutes);

/** Local wall-clock time: "02:30". */
struct pw_fmt pw_fmt_clock(const struct pw_event *ev, int at_min);
/** "Sat 02:30". */
struct pw_fmt pw_fmt_when(const struct pw_event *ev, int at_min);
/** "Saturday 12 June 2027". */
struct pw_fmt pw_fmt_day(const struct pw_event *ev, int at_min);
/** "Sat 12 Jun". */
struct pw_fmt pw_fmt_day_short(const struct pw_event *ev, int at_min);
/** "Sat 12 Jun 2027". */
struct pw_fmt pw_fmt_date(struct pw_date date);
/** Whole local days between the event's date and the instant: 0 on the day, -1 the day before. */
int pw_fmt_day_number(const struct pw_event *ev, int at_min);
/** The date so many days after another (before: negative). */
struct pw_date pw_date_plus(struct pw_date date, int days);

#endif
