/* num.h - strict decimal numbers: text to value without locale, rounding surprises or special values. */
#ifndef PW_NUM_H
#define PW_NUM_H

#include "pw/event.h"

#include <stdbool.h>
#include <stddef.h>

/** A decimal as written: (negative ? -1 : 1) * digits / 10^scale. */
struct pw_decimal {
  bool is_negative;
  int64_t digits; /**< at most 15 significant digits */
  int scale;      /**< digits after the point, 0..15 */
};

enum pw_num_fault {
  PW_NUM_OK,
  PW_NUM_NONE, /**< the text does not begin with a number */
  PW_NUM_LONG  /**< more than 15 significant digits or 15 decimals */
};

/** Reads [+-]digits[.digits] at the start of `text`; no blanks, exponents, hex, "inf", ".5" or "5.".
 *  *end is set behind the number when the result is PW_NUM_OK. */
enum pw_num_fault pw_decimal_scan(const char *text, struct pw_decimal *out, const char **end);

/** Nearest double; exact scaling, so the result is the correctly rounded one. */
double pw_decimal_value(struct pw_decimal d);

/** Whole number of the text, all of it, between least and most: false for anything else (leading zeros,
 *  signs other than "-", decimals, other characters). */
bool pw_int_parse(const char *text, int least, int most, int *out);

enum pw_money_fault {
  PW_MONEY_OK,
  PW_MONEY_NONE,   /**< no plain decimal */
  PW_MONEY_SIGN,   /**< negative */
  PW_MONEY_DIGITS, /**< more decimals than the currency has */
  PW_MONEY_LARGE   /**< above 10^12 minor units */
};

/** Money of the whole text into minor units, exactly; money_digits 0..3 are the currency's decimals. */
enum pw_money_fault pw_cents_parse(const char *text, int money_digits, pw_cents *out);

#endif
