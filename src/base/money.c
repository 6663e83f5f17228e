/* money.c - rounding of money.  Shares are computed in integers as value x parts-per-billion, split so that
 * no product leaves 64 bits. */
#include "base/money.h"

#include <math.h>

static const int64_t BILLION = 1000000000;
static const double LARGEST = 9e15; /* all whole numbers up to here are exact in a double */
/* What a product of decimals may lack to the half it stands for: a few units in its last place, and never so much that an amount
 * other than a half is taken for one. */
static const double SLACK = 1e-12, SLACK_MOST = 0.01;

pw_cents pw_money_round(double cents)
{
  if (isnan(cents))
    return 0;
  if (fabs(cents) >= LARGEST)
    return cents > 0 ? (pw_cents)LARGEST : -(pw_cents)LARGEST;
  double size = fabs(cents);
  double whole = floor(size);
  double rounded = size - whole >= 0.5 - fmin(SLACK * (1 + size), SLACK_MOST) ? whole + 1 : whole;
  return (pw_cents)(cents < 0 ? -rounded : rounded);
}

pw_cents pw_money_share(pw_cents cents, double frac)
{
  int64_t ppb = llround(frac * 1e9);
  int sign = (cents < 0) != (ppb < 0) ? -1 : 1;
  int64_t a = cents < 0 ? -cents : cents, b = ppb < 0 ? -ppb : ppb;
  int64_t share = a / BILLION * b + (a % BILLION * b + BILLION / 2) / BILLION;
  return sign * share;
}

pw_cents pw_money_split_up(pw_cents cents, int parts, pw_cents step)
{
  if (parts < 1)
    parts = 1;
  if (step < 1)
    step = 1;
  if (cents <= 0)
    return 0;
  int64_t each = cents / parts + (cents % parts != 0);
  return (each / step + (each % step != 0)) * step;
}

pw_cents pw_money_price_up(pw_cents cost_cents, double margin_frac)
{
  int64_t keep = BILLION - llround(margin_frac * 1e9); /* share of the price that pays the cost, in ppb */
  if (cost_cents <= 0 || keep < 1)
    return cost_cents > 0 ? (pw_cents)LARGEST : 0;
  /* cost x 1e9 / keep without leaving 64 bits: whole part first, then long division by decades */
  int64_t price = cost_cents / keep, rest = cost_cents % keep;
  for (int i = 0; i < 9; i++) {
    rest *= 10;
    price = price * 10 + rest / keep;
    rest %= keep;
  }
  return price + (rest != 0);
}
