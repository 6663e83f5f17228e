/* visits.h - when the door of a pit is opened, and what is done while it is open [S1][F1].
 * One value for all who ask: the fire loses heat at these visits, the tasks stand in them, the plan counts them. */
#ifndef PW_PLAN_VISITS_H
#define PW_PLAN_VISITS_H

#include "base/ctx.h"
#include "pw/plan.h"

/** Minutes between visits of one pit where nothing asks for more: common practice, no source. */
enum { PW_VISIT_APART_MIN = 30 };
/** At an open door: common practice, no source. */
enum { PW_VISIT_HANDS = 2 };

/** Gathers what is done at each pit's racks into visits.
 *
 *  Food goes on, is wrapped, moved and comes off at the minutes of the loads, as the allocation priced them.  Scratch tests, mops
 *  and core readings have windows: they are done at one of those openings where one lies in the window, else gathered into as
 *  few more as their windows allow, half an hour from any other where the window has such a minute.  A mop that would open the
 *  door by itself sooner is left out; none is in the PW_MOP_LAST_BEFORE_MIN before its piece's stage ends.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_visits_make(struct pw_visits *out, const struct pw_event *ev, const struct pw_lots *lots,
                         const struct pw_allocation *a, struct pw_ctx *ctx);

/** The visits without what is not kept and without those that have nothing left to do; ids and reasons are those of what stays.
 *  `is_kept` is asked about act `act` of visit `visit`.  Errors: PW_ERR_MEMORY. */
pw_status pw_visits_keep(struct pw_visits *out, const struct pw_visits *visits,
                         bool (*is_kept)(void *user, int visit, int act), void *user, const struct pw_event *ev,
                         const struct pw_lots *lots, const struct pw_allocation *a, struct pw_ctx *ctx);

/** Index of the visit of this pit at this minute, or PW_NONE. */
int pw_visit_at(const struct pw_visits *visits, int pit, int at_min);
/** Minutes since the door of that pit was opened before, by begin; INT_MAX for a burn's first visit. */
int pw_visit_since_min(const struct pw_visits *visits, int visit);
/** Minutes in which a pit's door stands open in [from, to). */
double pw_visits_open_min(const struct pw_visits *visits, int pit, int from_at_min, int to_at_min);
/** Visits of one pit that begin in (from, to]: none is made when a fire is lit, one when its last food comes off. */
int pw_visits_count(const struct pw_visits *visits, int pit, int from_at_min, int to_at_min);

#endif
