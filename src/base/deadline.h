/* deadline.h - safety nets in seconds: the one place of the library that asks a clock.  A deadline of 0 is none. */
#ifndef PW_DEADLINE_H
#define PW_DEADLINE_H

#include <stdatomic.h>
#include <stdbool.h>

/** Seconds of the monotonic clock; for figures of time spent. */
double pw_now_s(void);
/** The deadline `seconds` from now; none when they are <= 0. */
double pw_deadline_in(double seconds);
bool pw_deadline_is_over(double deadline_s);
/** Seconds left, at least a hundredth, as a limit for others; 0 when there is no deadline. */
double pw_deadline_left(double deadline_s);

/** From now on every deadline of this thread, and of those it starts (base/parallel.h), also where there is none, is over as soon as *stop is
 *  true; NULL: no more. */
void pw_deadline_obey(const atomic_bool *stop);
const atomic_bool *pw_deadline_obeyed(void);
/** Somebody asked to stop: what goes on is given up. */
bool pw_deadline_is_stopped(void);

#endif
