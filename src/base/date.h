/* date.h - days of the proleptic Gregorian calendar, and the forms in which they are written. */
#ifndef PW_DATE_H
#define PW_DATE_H

#include "pw/event.h"

#include <stdbool.h>
#include <stdint.h>

/** a / b rounded towards minus infinity, b > 0. */
int64_t pw_floor_div(int64_t a, int64_t b);
/** Days of a month, 1..12. */
int pw_month_days(int year, int month);
/** True for a day that exists, years 1..9999. */
bool pw_date_is_real(struct pw_date date);
/** Days since 1970-01-01 (before: negative), and back. */
int pw_date_to_days(struct pw_date date);
struct pw_date pw_date_from_days(int days);
/** 0 Sunday .. 6 Saturday. */
int pw_date_weekday(struct pw_date date);
/** "2027-06-12", all of the text, a day that exists. */
bool pw_date_parse(const char *text, struct pw_date *out);
/** "17:30", two digits each, 00:00..23:59, all of the text. */
bool pw_hhmm_parse(const char *text, int *hour, int *minute);

#endif
