/* inject.h - calls of the C library that fail when asked to. */
#ifndef INJECT_H
#define INJECT_H

#include <stdbool.h>

/** Allocations of this process, our own and the libraries', are counted.  `before` (or NULL) is called with the count
 *  before each one; when it returns true the allocation fails. */
void inject_allocations(bool (*before)(long count));

enum inject_how { INJECT_FAIL, INJECT_KILL_BEFORE, INJECT_KILL_AFTER };
/** The k-th call from now on that touches files or processes (1-based) fails with `error`, or the process is killed there;
 *  0 switches it off. */
void inject_calls(long k, enum inject_how how, int error);
/** The same, but in a child the process makes, not in itself; there every later write of a stream fails too, as on a disk
 *  that is full. */
void inject_calls_in_child(void);
/** Such calls since the last inject_calls(). */
long inject_count(void);
/** Name of the call that failed, or NULL while none has. */
const char *inject_hit(void);

#endif
