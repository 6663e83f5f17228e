/* parallel.h - independent jobs on the machine's processors. */
#ifndef PW_PARALLEL_H
#define PW_PARALLEL_H

/** Runs fn(user, i) once for every i in [0, n), in any order and several at a time, and returns when all are done.
 *  The jobs must not share what they write: each has its own arena, so that the number of processors changes nothing
 *  but the time.  Where no thread can be made the caller's own does all the work. */
void pw_parallel(int n, void (*fn)(void *user, int i), void *user);

#endif
