/* quote.h - how each line of the quote is computed [Q1].
 *
 * All amounts are whole minor units; each line below is rounded once (base/money.h) and only sums of rounded
 * lines follow, so that the columns add up to the cent.
 *
 *   food, supplies  from the purchase list; supplies with delivery fees and top-ups to least orders
 *   fuel            from the fuel plan: wood, charcoal, ovens
 *   labour          per shift: hands x hours x rate; hands = count, or ceil(head count / guests_per_hand) if more
 *                   by role: the shifts of one word together; beside it the hand-hours its tasks ask for
 *   rental          terms.rental + rent of the pits on the job (a rentable pit only if it is lit)
 *   travel          2 x one-way distance x price per km
 *   overhead        overhead_cents + overhead_frac x (food + supplies + fuel + labour + rental + travel)
 *   cost            sum of the seven
 *   by service      the food of its menu lines; all else dealt out by guests fed, so that the services add up to cost
 *   asked           what must be left after the discount: cost / (1 - margin), or food / food_share_frac when the price goes
 *                   by that, raised to the next cent
 *   list            asked / (1 - discount_frac), raised to the next cent
 *   per guest       list / head count, raised to the next multiple of round_per_guest; or the price named before
 *                   (terms.quoted_price), and what it would be today stands beside it;
 *                   a contract's price for its own guests is kept to the cent, also below the least fee
 *   price           the list price: per guest x head count; if that leaves less than the least fee after the discount, the
 *                   fee / (1 - discount_frac), and per guest is then price / head count raised to the next cent
 *   discount        discount_frac x price;                    net = price - discount
 *   service charge  service_charge_frac x net
 *   taxable         net + service charge if it is taxed
 *   tax             tax_frac x taxable
 *   total           net + service charge + tax
 *   dues            deposit = deposit_frac x total, due on acceptance and at the latest on the date given: that of
 *                   the final count or of the first instalment, the earlier; each instalment its share of the total
 *                   but never more than is still open, earliest first; balance = what is open then, due on the
 *                   event's date; dues of zero are left out, except that at least the balance is listed
 *   margin          (net - cost) / net;   food share = food / net;   0 where net is 0
 *   prime           food + labour;   contribution = net - (cost - overhead)
 *   fewer           nine tenths of the heads: net for them (never below the least fee), cost as planned: the goods are
 *                   bought, the hands booked
 *   more            eleven tenths: net for them; cost as planned for so many, crew, fires and packs in their steps (only
 *                   with a ladder)
 *   break-even      the interval between the last head count that does not pay and the next that does is halved,
 *                   a plan for each, until both are neighbours or the plans are used up; then the least head count planned
 *                   that pays (a stretch of loss between two planned head counts that both pay is not seen)
 */
#ifndef PW_QUOTE_H
#define PW_QUOTE_H

#include "plan/stages.h"

/** Fills what follows from price, costs and ladder: margin, food share, prime, contribution, fewer, more,
 *  break-even.  pw_quote_make() has called it; call it again after changing any of those. */
void pw_quote_outlook(struct pw_quote *q, const struct pw_terms *terms);

/** What the hands of a crew line are paid, overtime and travel with it. */
pw_cents pw_quote_shift_cents(const struct pw_event *ev, const struct pw_crew *crew);

/** A tenth more heads than quoted: planned with the ladder. */
int pw_quote_more_guests(const struct pw_quote *q);

/** The head count to plan next for the break-even, between those in q->tried (ascending); 0: it is found, or none of
 *  them pays. */
int pw_quote_probe(const struct pw_quote *q, const struct pw_terms *terms);

/** The least price per guest before discount and tax at which nothing is lost, rounded as the terms round; 0 without guests. */
pw_cents pw_quote_least_per_guest(const struct pw_quote *q, const struct pw_terms *terms);

#endif
