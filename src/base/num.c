/* num.c - strict decimals.  A number is read as an integer of at most 15 digits and a power of ten of at most
 * 10^15: both are exact doubles, so one division gives the correctly rounded value (Clinger 1990, fast path). */
#include "base/num.h"

#include <string.h>

enum { DIGITS_MAX = 15 };

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

enum pw_num_fault pw_decimal_scan(const char *text, struct pw_decimal *out, const char **end)
{
  struct pw_decimal d = {0};
  const char *p = text;
  if (*p == '-' || *p == '+')
    d.is_negative = *p++ == '-';
  if (!is_digit(*p))
    return PW_NUM_NONE;
  int n = 0;
  bool is_long = false;
  for (bool after_point = false;; p++) {
    if (*p == '.' && !after_point && is_digit(p[1])) {
      after_point = true;
      continue;
    }
    if (!is_digit(*p))
      break;
    if (n == DIGITS_MAX || d.scale == DIGITS_MAX) {
      is_long = true;
      continue;
    }
    d.digits = d.digits * 10 + (*p - '0');
    n += n > 0 || *p != '0';
    d.scale += after_point;
  }
  if (is_long)
    return PW_NUM_LONG;
  *out = d;
  *end = p;
  return PW_NUM_OK;
}

double pw_decimal_value(struct pw_decimal d)
{
  double power = 1;
  for (int i = 0; i < d.scale; i++)
    power *= 10;
  double value = (double)d.digits / power;
  return d.is_negative ? -value : value;
}

bool pw_int_parse(const char *text, int least, int most, int *out)
{
  struct pw_decimal d;
  const char *end = text;
  const char *first = text + (*text == '-');
  if (*text == '+' || (first[0] == '0' && first[1] != '\0') || pw_decimal_scan(text, &d, &end) != PW_NUM_OK || *end ||
      d.scale > 0)
    return false;
  int64_t value = d.is_negative ? -d.digits : d.digits;
  if (value < least || value > most)
    return false;
  *out = (int)value;
  return true;
}

enum pw_money_fault pw_cents_parse(const char *text, int money_digits, pw_cents *out)
{
  struct pw_decimal d;
  const char *end = text;
  enum pw_num_fault fault = pw_decimal_scan(text, &d, &end);
  if (fault == PW_NUM_LONG)
    return PW_MONEY_LARGE;
  if (fault != PW_NUM_OK || *end || *text == '+')
    return PW_MONEY_NONE;
  if (d.is_negative)
    return PW_MONEY_SIGN;
  for (; d.scale > money_digits; d.scale--) {
    if (d.digits % 10)
      return PW_MONEY_DIGITS;
    d.digits /= 10;
  }
  const int64_t most = INT64_C(1000000000000);
  for (; d.scale < money_digits; d.scale++) {
    if (d.digits > most)
      return PW_MONEY_LARGE;
    d.digits *= 10;
  }
  if (d.digits > most)
    return PW_MONEY_LARGE;
  *out = d.digits;
  return PW_MONEY_OK;
}
