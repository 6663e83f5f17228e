/* date.c - the day count: years begin in March, so that the leap day is the last one; 400 years are 146097 days. */
#include "base/date.h"

#include <ctype.h>
#include <string.h>

static bool is_leap(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

int pw_month_days(int year, int month)
{
  static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return days[month - 1] + (month == 2 && is_leap(year));
}

bool pw_date_is_real(struct pw_date d)
{
  return d.year >= 1 && d.year <= 9999 && d.month >= 1 && d.month <= 12 && d.day >= 1 &&
         d.day <= pw_month_days(d.year, d.month);
}

int64_t pw_floor_div(int64_t a, int64_t b) { return a / b - (a % b < 0); }

/* Years begin in March, so that the leap day is the last; 400 years are 146097 days. */
int pw_date_to_days(struct pw_date d)
{
  int year = d.year - (d.month <= 2);
  int era = (int)pw_floor_div(year, 400), year_of_era = year - era * 400;
  int day_of_year = (153 * (d.month + (d.month > 2 ? -3 : 9)) + 2) / 5 + d.day - 1;
  return era * 146097 + year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year - 719468;
}

struct pw_date pw_date_from_days(int days)
{
  days += 719468; /* days from 0000-03-01 to 1970-01-01 */
  int era = (int)pw_floor_div(days, 146097), day = days - era * 146097;
  int year = (day - day / 1460 + day / 36524 - day / 146096) / 365;
  int day_of_year = day - (365 * year + year / 4 - year / 100), m = (5 * day_of_year + 2) / 153;
  int month = m < 10 ? m + 3 : m - 9;
  return (struct pw_date){year + era * 400 + (month <= 2), month, day_of_year - (153 * m + 2) / 5 + 1};
}

int pw_date_weekday(struct pw_date date)
{
  int day = pw_date_to_days(date) + 4; /* 1970-01-01 was a Thursday */
  return day - 7 * (int)pw_floor_div(day, 7);
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
