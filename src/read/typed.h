/* typed.h - amounts, times and days as people type them: "$1,900", "7 pm", "5/15/2027".  What can be read in one way only is read;
 * the rest is asked back by whoever calls. */
#ifndef PW_TYPED_H
#define PW_TYPED_H

#include "base/date.h"
#include "read/reader.h"

/** A number as it stands, or without the currency's own sign before it and without commas between its thousands ("1,900" with a
 *  third decimal in the currency, "1,90" and "19,00" stay as they are).  In the arena. */
const char *pw_typed_number(struct pw_reader *r, const char *text);

/** "17:30", "7 pm", "12:30pm", "7:05 A.M.", "noon": 12 am is midnight, 12 pm noon. */
bool pw_typed_clock(const char *text, int *hour, int *minute);
/** Is it a time of which only the half of the day is not said, "5:30" or "7"?  Its hour is 1 to 12. */
bool pw_typed_half(const char *text, int *hour, int *minute);

enum pw_typed_day {
  PW_DAY_NONE,   /**< no day as people type it; 2027-05-15, as it should be written, is none */
  PW_DAY_READ,   /**< *day is it */
  PW_DAY_EITHER, /**< month and day may be either way round: *day and *other */
  PW_DAY_SHORT,  /**< a year of two digits */
  PW_DAY_WRONG   /**< not in the calendar either way round */
};
/** "5/15/2027", "15.5.2027", "2027/5/15", "May 15, 2027", "15 May 2027". */
enum pw_typed_day pw_typed_day(const char *text, struct pw_date *day, struct pw_date *other);

#endif
