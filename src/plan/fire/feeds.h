/* feeds.h - the feed list of one burn [F1]: whole splits on live coals, alike in size, an hour ahead of the need.
 * In: the burn's need of wood over time, loads, visits.  Out: feeds, wood_kg and splits_per_h of struct pw_burn_fuel. */
#ifndef PW_PLAN_FIRE_FEEDS_H
#define PW_PLAN_FIRE_FEEDS_H

#include "plan/fire/visits.h"
#include "plan/stages.h"

enum { PW_NEED_STEP_MIN = 5 }; /**< step of the heat sum */

/** Wood needed since the fire was lit, at the end of each step: what the charcoal does not give. */
struct pw_need_curve {
  int lit_at_min, n_steps;
  int half_spent_at_min; /**< when half of the starting charcoal is burnt; lit_at_min without any */
  double *wood_kg;       /**< n_steps + 1 values, [0] = 0, never falling */
};

/** Wood needed until an instant, kg. */
double pw_need_at(const struct pw_need_curve *need, int at_min);

/** What is fed by the piece: a split of wood, a scoop of charcoal; n of them. */
const char *pw_feed_noun(const struct pw_fuel *fuel, int n);

/** Lays the feeds.  The pile of coals is what was laid less what was needed: the first feed goes on when the charcoal is half spent,
 *  and in time to have caught before food; from then on the pile holds the wood of the next hour; the last feed is the one with
 *  which it holds what the burn still needs.  None in the 20 minutes before a load, none in the last half hour.
 *  PW_ERR_MEMORY, else PW_OK. */
pw_status pw_feeds_make(struct pw_burn_fuel *fuel, const struct pw_need_curve *need, const struct pw_burn *burn,
                        const struct pw_event *ev, const struct pw_lots *lots, const struct pw_allocation *a,
                        const struct pw_visits *visits, struct pw_arena *arena);

#endif
