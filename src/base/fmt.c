/* fmt.c - the one place where SI numbers turn into the words of a sheet.  Unit factors: exact by definition
 * (international yard and pound agreement 1959; US gallon = 231 cubic inches). */
#include "base/fmt.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double KG_PER_LB = 0.45359237, M_PER_IN = 0.0254, M_PER_MI = 1609.344, L_PER_GAL = 3.785411784;

/* `value` with at most `digits` decimals, trailing zeros dropped, then the unit. */
static struct pw_fmt with_unit(double value, int digits, const char *unit)
{
  struct pw_fmt f;
  if (!isfinite(value)) {
    snprintf(f.s, sizeof f.s, "?%s", unit);
    return f;
  }
  char number[40];
  snprintf(number, sizeof number, "%.*f", digits, value);
  if (strchr(number, '.')) {
    size_t n = strlen(number);
    while (n > 0 && number[n - 1] == '0')
      number[--n] = '\0';
    if (n > 0 && number[n - 1] == '.')
      number[--n] = '\0';
  }
  if (strcmp(number, "-0") == 0)
    snprintf(number, sizeof number, "0");
  snprintf(f.s, sizeof f.s, "%.36s%.10s", number, unit);
  return f;
}

static int digits_for(double value) { return fabs(value) < 9.95 ? 2 : fabs(value) < 99.5 ? 1 : 0; }

struct pw_fmt pw_fmt_weight(const struct pw_event *ev, double kg)
{
  if (ev->units == PW_UNITS_US) {
    double lb = kg / KG_PER_LB;
    if (fabs(lb) < 0.995)
      return with_unit(lb * 16, fabs(lb * 16) < 0.95 ? 2 : 1, " oz");
    return with_unit(lb, fabs(lb) < 99.5 ? 1 : 0, " lb");
  }
  if (fabs(kg) < 0.9995)
    return with_unit(kg * 1000, 0, " g");
  return with_unit(kg, digits_for(kg), " kg");
}

struct pw_fmt pw_fmt_temp(const struct pw_event *ev, double c)
{
  return ev->units == PW_UNITS_US ? with_unit(c * 1.8 + 32, 0, " °F") : with_unit(c, 0, " °C");
}

struct pw_fmt pw_fmt_length(const struct pw_event *ev, double m)
{
  return ev->units == PW_UNITS_US ? with_unit(m / M_PER_IN, 1, " in") : with_unit(m * 100, 1, " cm");
}

struct pw_fmt pw_fmt_area(const struct pw_event *ev, double m2)
{
  double ft = 12 * M_PER_IN;
  return ev->units == PW_UNITS_US ? with_unit(m2 / (ft * ft), 1, " ft2") : with_unit(m2, 2, " m2");
}

struct pw_fmt pw_fmt_distance(const struct pw_event *ev, double m)
{
  return ev->units == PW_UNITS_US ? with_unit(m / M_PER_MI, 1, " mi") : with_unit(m / 1000, 1, " km");
}

struct pw_fmt pw_fmt_amount(const struct pw_event *ev, enum pw_unit unit, double amount)
{
  if (unit == PW_UNIT_KG)
    return pw_fmt_weight(ev, amount);
  if (unit == PW_UNIT_EACH)
    return with_unit(amount, digits_for(amount), "");
  if (ev->units == PW_UNITS_US) {
    double gal = amount / L_PER_GAL;
    return gal < 0.995 ? with_unit(gal * 4, 2, " qt") : with_unit(gal, digits_for(gal), " gal");
  }
  return amount < 0.9995 ? with_unit(amount * 1000, 0, " mL") : with_unit(amount, digits_for(amount), " L");
}

struct pw_fmt pw_fmt_number(double value) { return with_unit(value, digits_for(value), ""); }

struct pw_fmt pw_fmt_percent(double frac) { return with_unit(frac * 100, 1, " %"); }

struct pw_fmt pw_fmt_money(const struct pw_event *ev, pw_cents cents)
{
  int digits = ev->money_digits < 0 ? 0 : ev->money_digits > 4 ? 4 : ev->money_digits;
  uint64_t size = cents < 0 ? (uint64_t)0 - (uint64_t)cents : (uint64_t)cents, scale = 1;
  for (int i = 0; i < digits; i++)
    scale *= 10;
  char whole[24], grouped[32];
  int n = snprintf(whole, sizeof whole, "%llu", (unsigned long long)(size / scale)), out = 0;
  for (int i = 0; i < n; i++) {
    if (i > 0 && (n - i) % 3 == 0)
      grouped[out++] = ',';
    grouped[out++] = whole[i];
  }
  grouped[out] = '\0';
  struct pw_fmt f;
  const char *minus = cents < 0 ? "-" : "", *sign = ev->money_sign ? ev->money_sign : "";
  if (digits > 0)
    snprintf(f.s, sizeof f.s, "%s%.8s%.28s.%0*llu", minus, sign, grouped, digits, (unsigned long long)(size % scale));
  else
    snprintf(f.s, sizeof f.s, "%s%.8s%.28s", minus, sign, grouped);
  return f;
}

struct pw_fmt pw_fmt_minutes(int minutes)
{
  struct pw_fmt f;
  const char *minus = minutes < 0 ? "-" : "";
  int d = abs(minutes / 1440), h = abs(minutes / 60) % 24, m = abs(minutes % 60);
  if (d > 0 && h == 0 && m == 0)
    snprintf(f.s, sizeof f.s, "%s%d d", minus, d);
  else if (d > 1)
    snprintf(f.s, sizeof f.s, "%s%d d %d h", minus, d, h);
  else if (d * 24 + h > 0 && m == 0)
    snprintf(f.s, sizeof f.s, "%s%d h", minus, d * 24 + h);
  else if (d * 24 + h > 0)
    snprintf(f.s, sizeof f.s, "%s%d h %02d min", minus, d * 24 + h, m);
  else
    snprintf(f.s, sizeof f.s, "%s%d min", minus, m);
  return f;
}

/* ---- calendar ---------------------------------------------------------------------------------- */

/* Days since 1970-01-01 of the proleptic Gregorian calendar, and back. */
static int days_from_date(struct pw_date d)
{
  int y = d.month <= 2 ? d.year - 1 : d.year;
  int era = (y >= 0 ? y : y - 399) / 400, yoe = y - era * 400;
  int doy = (153 * (d.month + (d.month > 2 ? -3 : 9)) + 2) / 5 + d.day - 1;
  return era * 146097 + yoe * 365 + yoe / 4 - yoe / 100 + doy - 719468;
}

static struct pw_date date_from_days(int days)
{
  days += 719468;
  int era = (days >= 0 ? days : days - 146096) / 146097, doe = days - era * 146097;
  int yoe = (doe - doe / 1460 + doe / 36524 - doe / 146096) / 365, doy = doe - (365 * yoe + yoe / 4 - yoe / 100);
  int mp = (5 * doy + 2) / 153, month = mp < 10 ? mp + 3 : mp - 9;
  return (struct pw_date){yoe + era * 400 + (month <= 2 ? 1 : 0), month, doy - (153 * mp + 2) / 5 + 1};
}

struct pw_date pw_date_plus(struct pw_date date, int days) { return date_from_days(days_from_date(date) + days); }

static const char *const DAYS[] = {"Sunday", "Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday"};
static const char *const MONTHS[] = {"January", "February", "March",     "April",   "May",      "June",
                                     "July",    "August",   "September", "October", "November", "December"};

static const char *day_name(struct pw_date d)
{
  int w = (days_from_date(d) + 4) % 7; /* 1970-01-01 was a Thursday */
  return DAYS[w < 0 ? w + 7 : w];
}

static const char *month_name(struct pw_date d) { return MONTHS[d.month >= 1 && d.month <= 12 ? d.month - 1 : 0]; }

static int floor_div(int a, int b) { return a / b - (a % b < 0 ? 1 : 0); }

int pw_fmt_day_number(const struct pw_event *ev, int at_min)
{
  (void)ev;
  return floor_div(at_min, 1440);
}

struct pw_fmt pw_fmt_clock(const struct pw_event *ev, int at_min)
{
  struct pw_fmt f;
  int m = at_min - 1440 * pw_fmt_day_number(ev, at_min);
  snprintf(f.s, sizeof f.s, "%02d:%02d", m / 60, m % 60);
  return f;
}

struct pw_fmt pw_fmt_when(const struct pw_event *ev, int at_min)
{
  struct pw_fmt f;
  struct pw_date d = pw_date_plus(ev->date, pw_fmt_day_number(ev, at_min));
  snprintf(f.s, sizeof f.s, "%.3s %.8s", day_name(d), pw_fmt_clock(ev, at_min).s);
  return f;
}

struct pw_fmt pw_fmt_day(const struct pw_event *ev, int at_min)
{
  struct pw_fmt f;
  struct pw_date d = pw_date_plus(ev->date, pw_fmt_day_number(ev, at_min));
  snprintf(f.s, sizeof f.s, "%s %d %s %d", day_name(d), d.day, month_name(d), d.year);
  return f;
}

struct pw_fmt pw_fmt_day_short(const struct pw_event *ev, int at_min)
{
  struct pw_fmt f;
  struct pw_date d = pw_date_plus(ev->date, pw_fmt_day_number(ev, at_min));
  snprintf(f.s, sizeof f.s, "%.3s %d %.3s", day_name(d), d.day, month_name(d));
  return f;
}

struct pw_fmt pw_fmt_date(struct pw_date date)
{
  struct pw_fmt f;
  snprintf(f.s, sizeof f.s, "%.3s %d %.3s %d", day_name(date), date.day, month_name(date), date.year);
  return f;
}
