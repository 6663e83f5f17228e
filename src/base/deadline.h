/* deadline.h - safety nets in seconds: the one place of the library that asks a clock.  A deadline of 0 is none. */
#ifndef PW_DEADLINE_H
#define PW_DEADLINE_H

#include <stdbool.h>

/** Seconds of the monotonic clock; for figures of time spent. */
double pw_now_s(void);
/** The deadline `seconds` from now; none when they are <= 0. */
double pw_deadline_in(double seconds);
bool pw_deadline_is_over(double deadline_s);
/** Seconds left, at least a hundredth, as a limit for others; 0 when there is no deadline. */
double pw_deadline_left(double deadline_s);

#endif
