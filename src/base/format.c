/* format.c - numbers in the user's units.  In: SI values.  Out: short texts.  Idea: round first, then choose
 * the unit, so that 0.9999 lb prints "1 lb" and not "16 oz". */
#include "base/format.h"

#include "base/text.h"

#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Exact by definition: NIST Special Publication 811 (2008), appendix B.8. */
static const double KG_PER_LB = 0.45359237, M_PER_IN = 0.0254, M_PER_MI = 1609.344, L_PER_GAL = 3.785411784;

#define SHORT(...)                                                                                                     \
  struct pw_short out;                                                                                                 \
  int n__ = snprintf(out.s, sizeof out.s, __VA_ARGS__);                                                                \
  if (n__ < 0 || (size_t)n__ >= sizeof out.s)                                                                          \
    out = (struct pw_short){"?"};                                                                                      \
  return out

/* Half goes up; what misses a half by the noise of binary arithmetic alone is one: 5.05 is written "5.1" wherever it comes from. */
static double round_to(double value, int decimals)
{
  const double noise = 1e-11; /* relative: above 2^-53 a few operations long, below what anybody states */
  double scale = pow(10, decimals), r = round(value * scale * (1 + noise)) / scale;
  return r == 0 ? 0 : r; /* no "-0" */
}

/** Digits of a non-negative whole number with thousands commas. */
static void group(char *out, size_t size, const char *digits)
{
  size_t n = strlen(digits), k = 0;
  for (size_t i = 0; i < n && k + 2 < size; i++) {
    if (i > 0 && (n - i) % 3 == 0)
      out[k++] = ',';
    out[k++] = digits[i];
  }
  out[k] = '\0';
}

struct pw_short pw_format_number(double value, int decimals)
{
  char digits[40], whole[48];
  decimals = decimals < 0 ? 0 : decimals > 6 ? 6 : decimals;
  if (!isfinite(value) || fabs(value) > 1e15)
    return (struct pw_short){"?"};
  value = round_to(value, decimals);
  snprintf(digits, sizeof digits, "%.*f", decimals, fabs(value));
  char *point = strchr(digits, '.');
  const char *tail = "";
  if (point) {
    *point = '\0';
    size_t n = strlen(point + 1);
    while (n > 0 && point[n] == '0')
      point[n--] = '\0';
    tail = n > 0 ? point + 1 : "";
  }
  group(whole, sizeof whole, digits);
  SHORT("%s%s%s%s", value < 0 ? "-" : "", whole, *tail ? "." : "", tail);
}

static struct pw_short with_unit(double value, int decimals, const char *unit)
{
  SHORT("%s %s", pw_format_number(value, decimals).s, unit);
}

struct pw_short pw_format_weight(enum pw_units units, double kg)
{
  double size = fabs(kg);
  if (!isfinite(kg))
    return (struct pw_short){"?"};
  if (units == PW_UNITS_SI) {
    if (size < 0.9995)
      return with_unit(kg * 1000, size < 0.01 ? 1 : 0, "g");
    return with_unit(kg, size < 99.95 ? 1 : 0, "kg");
  }
  double lb = size / KG_PER_LB;
  if (round_to(lb * 16, 1) < 16)
    return with_unit(kg / KG_PER_LB * 16, 1, "oz");
  double oz = round(lb * 16);
  if (oz >= 20 * 16)
    return with_unit(kg / KG_PER_LB, 0, "lb");
  int rest_oz = (int)fmod(oz, 16);
  if (rest_oz == 0)
    return with_unit(copysign(oz / 16, kg), 0, "lb");
  SHORT("%s%d lb %d oz", kg < 0 ? "-" : "", (int)(oz / 16), rest_oz);
}

struct pw_short pw_format_fuel(enum pw_units units, double kg)
{
  enum { LEAST_LB = 2, LEAST_KG = 10 };
  if (isfinite(kg) && units == PW_UNITS_SI && fabs(kg) >= LEAST_KG)
    return with_unit(kg, 0, "kg");
  if (isfinite(kg) && units == PW_UNITS_US && fabs(kg) / KG_PER_LB >= LEAST_LB)
    return with_unit(kg / KG_PER_LB, 0, "lb");
  return pw_format_weight(units, kg);
}

struct pw_short pw_format_temp(enum pw_units units, double c)
{
  return with_unit(pw_in_temp(units, c), 0, pw_unit_temp(units));
}

struct pw_short pw_format_temp_difference(enum pw_units units, double kelvin)
{
  return with_unit(units == PW_UNITS_US ? kelvin * 1.8 : kelvin, 0, pw_unit_temp(units));
}

struct pw_short pw_format_length(enum pw_units units, double m)
{
  double size = fabs(m);
  if (units == PW_UNITS_SI)
    return size < 2.995 ? with_unit(m * 100, size < 0.1 ? 1 : 0, "cm") : with_unit(m, 1, "m");
  double inches = m / M_PER_IN;
  return fabs(inches) < 119.95 ? with_unit(inches, 1, "in") : with_unit(inches / 12, 1, "ft");
}

struct pw_short pw_format_distance(enum pw_units units, double m)
{
  double value = units == PW_UNITS_US ? m / M_PER_MI : m / 1000;
  return with_unit(value, fabs(value) < 9.95 ? 1 : 0, units == PW_UNITS_US ? "mi" : "km");
}

struct pw_short pw_format_volume(enum pw_units units, double litres)
{
  double size = fabs(litres);
  if (units == PW_UNITS_SI)
    return size < 0.9995 ? with_unit(litres * 1000, 0, "mL") : with_unit(litres, size < 99.95 ? 1 : 0, "L");
  double gallons = litres / L_PER_GAL;
  if (fabs(gallons) >= 0.995)
    return with_unit(gallons, fabs(gallons) < 99.95 ? 1 : 0, "gal");
  if (fabs(gallons) * 4 >= 0.995)
    return with_unit(gallons * 4, 1, "qt");
  return with_unit(gallons * 128, 1, "fl oz");
}

struct pw_short pw_format_area(enum pw_units units, double m2)
{
  const double m2_per_ft2 = M_PER_IN * M_PER_IN * 144;
  if (units == PW_UNITS_US)
    return with_unit(m2 / m2_per_ft2, 1, "ft2");
  return with_unit(m2, 2, "m2");
}

struct pw_short pw_format_speed(enum pw_units units, double m_s)
{
  if (units == PW_UNITS_US)
    return with_unit(m_s * 3600 / M_PER_MI, 0, "mph");
  return with_unit(m_s, 1, "m/s");
}

struct pw_short pw_format_amount(enum pw_units units, enum pw_unit unit, double amount)
{
  return unit == PW_UNIT_KG  ? pw_format_weight(units, amount)
         : unit == PW_UNIT_L ? pw_format_volume(units, amount)
                             : pw_format_number(amount, 1);
}

struct pw_short pw_format_percent(double frac) { return with_unit(frac * 100, 1, "%"); }

struct pw_short pw_format_minutes(int minutes)
{
  const char *sign = minutes < 0 ? "-" : "";
  long m = labs((long)minutes), d = m / 1440, h = m / 60 % 24;
  m %= 60;
  char days[24] = "", hours[24] = "", mins[24] = "";
  if (d > 0)
    snprintf(days, sizeof days, "%ld d", d);
  if (h > 0)
    snprintf(hours, sizeof hours, "%s%ld h", d > 0 ? " " : "", h);
  if (m > 0 || (d == 0 && h == 0))
    snprintf(mins, sizeof mins, "%s%ld min", d > 0 || h > 0 ? " " : "", m);
  SHORT("%s%s%s%s", sign, days, hours, mins);
}

/* ---- money ------------------------------------------------------------------------------------- */

enum { MONEY_CHARS = 48 }; /* 20 digits of a uint64_t, commas, a point */

/** |amount| of 10^digits minor units (digits 0..6), grouped, without sign; written from the right. */
static void money_digits(char out[MONEY_CHARS], uint64_t amount, int digits)
{
  char *p = &out[MONEY_CHARS - 1];
  *p = '\0';
  for (int k = 0; k <= digits || amount > 0; k++, amount /= 10) {
    if (k == digits && digits > 0)
      *--p = '.';
    else if (k > digits && (k - digits) % 3 == 0)
      *--p = ',';
    *--p = (char)('0' + amount % 10);
  }
  memmove(out, p, strlen(p) + 1);
}

static int digits_of(const struct pw_event *ev)
{
  return ev->money_digits < 0 ? 0 : ev->money_digits > 6 ? 6 : ev->money_digits;
}

static uint64_t size_of(pw_cents cents) { return cents < 0 ? -(uint64_t)cents : (uint64_t)cents; }

struct pw_short pw_money_format(const struct pw_event *ev, pw_cents cents)
{
  char digits[MONEY_CHARS];
  const char *mark = ev->money_sign ? ev->money_sign : "";
  if (pw_text_check(mark, strlen(mark), 8, false, NULL) != PW_TEXT_OK)
    mark = ""; /* the reader refuses such a sign; an amount is printed whatever comes */
  money_digits(digits, size_of(cents), digits_of(ev));
  SHORT("%s%s%s", cents < 0 ? "-" : "", mark, digits);
}

struct pw_short pw_money_format_per(const struct pw_event *ev, double price_cents, enum pw_unit unit)
{
  bool is_us = ev->units == PW_UNITS_US;
  double price = price_cents * (unit == PW_UNIT_KG && is_us ? KG_PER_LB : unit == PW_UNIT_L && is_us ? L_PER_GAL : 1);
  const char *per = unit == PW_UNIT_KG  ? (is_us ? "per lb" : "per kg")
                    : unit == PW_UNIT_L ? (is_us ? "per gal" : "per L")
                                        : "each";
  if (!isfinite(price) || fabs(price) > 1e15)
    return (struct pw_short){"?"};
  SHORT("%s %s", pw_money_format(ev, (pw_cents)llround(price)).s, per);
}

struct pw_short pw_money_format_per_area(const struct pw_event *ev, double cents_per_m2)
{
  bool is_us = ev->units == PW_UNITS_US;
  double cents = cents_per_m2 * (is_us ? M_PER_IN * M_PER_IN * 144 : 1);
  if (!isfinite(cents) || fabs(cents) > 1e15)
    return (struct pw_short){"?"};
  SHORT("%s per %s", pw_money_format(ev, (pw_cents)llround(cents)).s, is_us ? "ft2" : "m2");
}

/* ---- column heads ---------------------------------------------------------------------------------- */

const char *pw_unit_weight(enum pw_units units) { return units == PW_UNITS_US ? "lb" : "kg"; }

const char *pw_unit_temp(enum pw_units units) { return units == PW_UNITS_US ? "\u00B0F" : "\u00B0C"; }

double pw_in_weight(enum pw_units units, double kg) { return units == PW_UNITS_US ? kg / KG_PER_LB : kg; }

double pw_in_temp(enum pw_units units, double c) { return units == PW_UNITS_US ? c * 1.8 + 32 : c; }
