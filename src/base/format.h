/* format.h - numbers in the user's units: the only place where kilograms become pounds on the way out.
 *
 * Each function returns a small value with the text inside, so nothing is freed and nothing can fail:
 *     pw_buf_printf(&b, "%s at %s", pw_format_weight(ev->units, kg).s, pw_format_temp(ev->units, c).s);
 * The text is ASCII but for the degree sign and the user's money sign.  A number that is not finite prints "?".
 * Times and dates are base/clock.h's. */
#ifndef PW_FORMAT_H
#define PW_FORMAT_H

#include "pw/event.h"

struct pw_short {
  char s[64];
};

/** US: "5.3 oz" below 1 lb, "6 lb 4 oz" below 20 lb, "412 lb" above.  SI: "340 g" below 1 kg, "12.4 kg" below
 *  100 kg, "412 kg" above. */
struct pw_short pw_format_weight(enum pw_units units, double kg);
/** Wood and charcoal, as it is said where nobody weighs: whole pounds from 2 lb, whole kilograms from 10 kg. */
struct pw_short pw_format_fuel(enum pw_units units, double kg);
/** Air or core temperature, whole degrees: "250 °F", "121 °C". */
struct pw_short pw_format_temp(enum pw_units units, double c);
/** A difference of temperatures, whole degrees. */
struct pw_short pw_format_temp_difference(enum pw_units units, double kelvin);
/** US: "20 in", "5.5 in", "12 ft" from 10 ft.  SI: "51 cm", "3.7 m" from 3 m. */
struct pw_short pw_format_length(enum pw_units units, double m);
/** Travel: "28 mi", "45 km"; one decimal below 10. */
struct pw_short pw_format_distance(enum pw_units units, double m);
/** US: gal, qt, fl oz; SI: L, mL. */
struct pw_short pw_format_volume(enum pw_units units, double litres);
/** "4.2 ft2", "0.39 m2". */
struct pw_short pw_format_area(enum pw_units units, double m2);
/** "8 mph", "3.6 m/s". */
struct pw_short pw_format_speed(enum pw_units units, double m_s);
/** An item's amount in its unit: weight, volume or a bare count ("12", "2.5"). */
struct pw_short pw_format_amount(enum pw_units units, enum pw_unit unit, double amount);
/** "97.5 %"; at most one decimal. */
struct pw_short pw_format_percent(double frac);
/** A duration: "45 min", "6 h", "6 h 30 min", "1 d 2 h"; negative with a leading minus. */
struct pw_short pw_format_minutes(int minutes);
/** A plain number with at most `decimals` (0..6) digits after the point, trailing zeros dropped, thousands
 *  separated by commas. */
struct pw_short pw_format_number(double value, int decimals);

/** "$1,234.50", "-$0.05", "EUR 12.00"; digits of the minor unit as the event says. */
struct pw_short pw_money_format(const struct pw_event *ev, pw_cents cents);
/** A price per item unit, in the user's units: "$4.60 per lb", "$3.10 per L", "$0.12 each". */
struct pw_short pw_money_format_per(const struct pw_event *ev, double price_cents, enum pw_unit unit);
/** Money for room, in the user's units: "$0.40 per ft2", "EUR 4.10 per m2". */
struct pw_short pw_money_format_per_area(const struct pw_event *ev, double cents_per_m2);

/** For column heads: "lb" or "kg"; "°F" or "°C". */
const char *pw_unit_weight(enum pw_units units);
const char *pw_unit_temp(enum pw_units units);
/** The bare number that goes under such a head. */
double pw_in_weight(enum pw_units units, double kg);
double pw_in_temp(enum pw_units units, double c);

#endif
