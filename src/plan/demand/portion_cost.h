/* portion_cost.h - what a portion costs before anything is bought, for covers that weigh leftovers. */
#ifndef PW_PORTION_COST_H
#define PW_PORTION_COST_H

#include "pw/plan.h"

/** Food in one portion (kilograms or units as the dish is sold), at each item's cheapest unit price: the raw piece
 *  behind it, what the cut uses per piece or raw kilogram and what the dish uses per portion, piece or raw kilogram. */
double pw_portion_cost(const struct pw_event *ev, int dish, double portion);

/** Newsvendor: the chance of not running out that balances a portion left over (over_cents) against one short
 *  (short_cents): short / (short + over), held between 0.5 and 0.9999. */
double pw_newsvendor_cover(double short_cents, double over_cents);

#endif
