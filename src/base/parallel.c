/* parallel.c - a counter hands out the jobs; the caller works too.  A job beside the caller has a thread of its own. */
#include "base/parallel.h"

#include "base/deadline.h"

#include <pthread.h>
#include <stdatomic.h>
#include <unistd.h>

enum { THREADS_MAX = 8, STACK_BYTES = 4 << 20 /* whatever the shell allows: some give threads a few pages */ };

struct jobs {
  void (*fn)(void *user, int i);
  void *user;
  int n;
  atomic_int next;
  const atomic_bool *stop; /* the caller's: its threads obey it too */
};

static void *work(void *p)
{
  struct jobs *jobs = p;
  pw_deadline_obey(jobs->stop);
  for (int i = atomic_fetch_add(&jobs->next, 1); i < jobs->n; i = atomic_fetch_add(&jobs->next, 1))
    jobs->fn(jobs->user, i);
  return NULL;
}

/* false: the machine gives none */
static bool thread_attr(pthread_attr_t *attr)
{
  if (pthread_attr_init(attr) != 0)
    return false;
  if (pthread_attr_setstacksize(attr, STACK_BYTES) == 0)
    return true;
  (void)pthread_attr_destroy(attr);
  return false;
}

void pw_parallel(int n, void (*fn)(void *user, int i), void *user)
{
  struct jobs jobs = {.fn = fn, .user = user, .n = n, .next = 0, .stop = pw_deadline_obeyed()};
  pthread_t thread[THREADS_MAX];
  long n_processors = sysconf(_SC_NPROCESSORS_ONLN);
  int n_more = n_processors < 1             ? 0
               : n_processors > THREADS_MAX ? THREADS_MAX - 1
                                            : (int)n_processors - 1,
      n_threads = 0;
  if (n_more > n - 1)
    n_more = n - 1;
  pthread_attr_t attr;
  if (n_more > 0 && thread_attr(&attr)) {
    while (n_threads < n_more && pthread_create(&thread[n_threads], &attr, work, &jobs) == 0)
      n_threads++;
    (void)pthread_attr_destroy(&attr);
  }
  work(&jobs);
  for (int k = 0; k < n_threads; k++)
    (void)pthread_join(thread[k], NULL); /* fails only for a thread that is not there */
}

static void *beside_work(void *p)
{
  struct pw_beside *beside = p;
  pw_deadline_obey(beside->stop);
  beside->fn(beside->user);
  return NULL;
}

void pw_beside_begin(struct pw_beside *beside, void (*fn)(void *user), void *user)
{
  pthread_attr_t attr;
  *beside = (struct pw_beside){.fn = fn, .user = user, .stop = pw_deadline_obeyed()};
  if (thread_attr(&attr)) {
    beside->is_threaded = pthread_create(&beside->thread, &attr, beside_work, beside) == 0;
    (void)pthread_attr_destroy(&attr);
  }
  if (!beside->is_threaded)
    fn(user);
}

void pw_beside_end(struct pw_beside *beside)
{
  if (beside->is_threaded)
    (void)pthread_join(beside->thread, NULL);
  beside->is_threaded = false;
}
