/* parallel.h - independent jobs on the machine's processors. */
#ifndef PW_PARALLEL_H
#define PW_PARALLEL_H

#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>

/** Runs fn(user, i) once for every i in [0, n), in any order and several at a time, and returns when all are done.
 *  The jobs must not share what they write: each has its own arena, so that the number of processors changes nothing
 *  but the time.  Where no thread can be made the caller's own does all the work. */
void pw_parallel(int n, void (*fn)(void *user, int i), void *user);

/** One job that goes on beside the caller's own work; the caller keeps it, and what it works on, until its end. */
struct pw_beside {
  void (*fn)(void *user);
  void *user;
  const atomic_bool *stop; /**< the caller's, obeyed there too */
  pthread_t thread;
  bool is_threaded;
};

/** Begins fn(user), which shares with the caller nothing that either writes; where no thread can be made it is done before this
 *  returns.  Each begin has one pw_beside_end(), which waits for it. */
void pw_beside_begin(struct pw_beside *beside, void (*fn)(void *user), void *user);
void pw_beside_end(struct pw_beside *beside);

#endif
