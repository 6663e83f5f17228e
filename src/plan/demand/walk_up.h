/* walk_up.h - how many come when nobody has to book: a range around the planned guests [D3]. */
#ifndef PW_WALK_UP_H
#define PW_WALK_UP_H

#include "base/stats.h"
#include "pw/event.h"
#include "pw/status.h"

/** The number that comes is triangular between the service's least and most, likeliest as planned; all below as shares
 *  of the planned guests.  Without a range: 1, 0, 1. */
double pw_walk_up_mean(const struct pw_choice *choice);
double pw_walk_up_variance(const struct pw_choice *choice);
/** Smallest share with P(share that comes <= it) >= prob, 0 <= prob <= 1. */
double pw_walk_up_quantile(const struct pw_choice *choice, double prob);

/** The choice block of a service, or NULL. */
const struct pw_choice *pw_walk_up_of(const struct pw_event *ev, int service);

/** pw_stats_sum_make() over an uncertain number of guests: a mixture over strata of the range, narrower towards its
 *  top, where covers lie.  Errors: PW_ERR_MEMORY. */
pw_status pw_walk_up_sum_make(struct pw_stats_sum *out, const struct pw_stats_group *groups, int n_groups,
                              const struct pw_choice *choice, struct pw_arena *arena);

#endif
