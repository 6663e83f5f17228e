/* on_time.h - which margin to widen when a plan is late too often [R3]. */
#ifndef PW_ON_TIME_H
#define PW_ON_TIME_H

#include "plan/stages.h"

/** The chance that the event asks for a service: its own, or the event's; 0: none is asked. */
double pw_on_time_target(const struct pw_event *ev, int service);
/** Whether any service asks for a chance. */
bool pw_on_time_is_asked(const struct pw_event *ev);
/** Whether every service reaches its target. */
bool pw_on_time_is_reached(const struct pw_event *ev, const struct pw_chance *chance);
/** Whether a service asks for a chance and stays below it by more than its draws may err: two standard errors. */
bool pw_on_time_is_short(const struct pw_event *ev, const struct pw_chance *chance, int service);
/** How much the services lack to their targets, together. */
double pw_on_time_lack(const struct pw_event *ev, const struct pw_chance *chance);

/** Widens by one slot the margins of what was to blame most for services below the target; frozen[service * n_cuts + cut] are
 *  left alone (bit 1: the margin, bit 2: the spot).  `from` and `to` may be the same.  `is_one`: only what is blamed most.  Returns how many were widened. */
int pw_on_time_widen(struct pw_margins *margins, const unsigned char *frozen, bool is_one, const struct pw_event *ev,
                     const struct pw_lots *lots, const struct pw_chance *chance);

/** What was aimed at earlier than in the lots before and comes off no earlier, for its hold is too short, is not widened any more. */
void pw_on_time_freeze_idle(unsigned char *frozen, const struct pw_event *ev, const struct pw_lots *before,
                            const struct pw_lots *now);

/** A margin so many times, in whole slots: down where less is left, up where more. */
int pw_on_time_times(int margin_min, double times, int slot_min);

#endif
