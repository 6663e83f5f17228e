/* packs.h - the cheapest set of packs that covers a need, and what is bought by another plan [P3]. */
#ifndef PW_PACKS_H
#define PW_PACKS_H

#include "pw/event.h"

enum { PW_PACKS_MAX = 16 }; /**< offers looked at for one item */

/** Least-cost whole numbers of packs with sum(packs x content) >= need; exact (branch and bound with the
 *  relaxed cover as bound).  content > 0, price >= 0, 1 <= n <= PW_PACKS_MAX.  A need met within 1e-9 of a
 *  pack's size counts as met.  Among equal costs: the pack with the lower price per content first, then the
 *  larger.  Fills packs[n]; returns the cost. */
double pw_packs_cover(const double *content, const double *price, int n, double need, int *packs);

/** Packs that stay unopened when `need` is taken out of the packs bought: the largest that fit what is left, larger ones
 *  first.  Fills unopened[n] (0 .. packs); returns their content together, at most sum(packs x content) - need. */
double pw_packs_unopened(const double *content, const int *packs, int n, double need, int *unopened);
/** True for wood and charcoal of the pits: bought with the rest where a list asks for it, costed by the fuel plan. */
bool pw_is_pit_fuel(const struct pw_event *ev, int item);

#endif
