/* typed.h - amounts, times and days as people type them: "$1,900", "7 pm", "5/15/2027".  What can be read in one way only is read;
 * the rest is asked back by whoever calls. */
#ifndef PW_TYPED_H
#define PW_TYPED_H

#include "base/date.h"
#include "read/reader.h"

/** A number as it stands, or without the currency's own sign before it and without commas between its thousands ("1,900" with a
 *  third decimal in the currency, "1,90" and "19,00" stay as they are).  In the arena. */
const char *pw_typed_number(struct pw_reader *r, const char *text);

/** "17:30", "7 pm", "12:30pm", "7:05 A.M.": 12 am is midnight, 12 pm noon. */
bool pw_typed_clock(const char *text, int *hour, int *minute);

enum pw_typed_day {
  PW_DAY_NONE,   /**< no day in numbers with slashes */
  PW_DAY_READ,   /**< *day is it */
  PW_DAY_EITHER, /**< month and day may be either way round: *day and *other */
  PW_DAY_WRONG   /**< not in the calendar either way round */
};
/** "5/15/2027", "15/5/2027". */
enum pw_typed_day pw_typed_slashes(const char *text, struct pw_date *day, struct pw_date *other);

#endif
