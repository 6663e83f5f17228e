/* money.h - the one place where money is rounded.  Amounts are int64 minor units (pw_cents); halves go away
 * from zero; nothing else in the program turns a real number into money. */
#ifndef PW_MONEY_H
#define PW_MONEY_H

#include "pw/event.h"

/** Nearest whole minor unit, halves away from zero.  A value within 1e-12 (relative) of a half counts as the
 *  half, so that 1.005 x 100 rounds as written.  Values beyond +-9e15 are held there; NaN gives 0. */
pw_cents pw_money_round(double cents);

/** `frac` of `cents`, rounded as above, in integer arithmetic: frac is taken to nine decimals (8.25 % is
 *  exactly 0.0825).  -9 <= frac <= 9. */
pw_cents pw_money_share(pw_cents cents, double frac);

/** `cents` / `parts`, raised to the next multiple of `step` (step <= 0: one minor unit).  parts >= 1;
 *  never less than the exact quotient. */
pw_cents pw_money_split_up(pw_cents cents, int parts, pw_cents step);

/** Least whole price p with p x (1 - margin_frac) >= cost: cost / (1 - margin), raised to the next minor
 *  unit.  margin_frac to nine decimals, below 1. */
pw_cents pw_money_price_up(pw_cents cost_cents, double margin_frac);

#endif
