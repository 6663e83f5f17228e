/* deadline.c - see deadline.h. */
#include "base/deadline.h"

#include <stddef.h>
#include <time.h>

static const double LEAST_S = 0.01; /* 0 would mean no limit */

static _Thread_local const atomic_bool *g_stop; /* of the call this thread works for */

void pw_deadline_obey(const atomic_bool *stop) { g_stop = stop; }

const atomic_bool *pw_deadline_obeyed(void) { return g_stop; }

bool pw_deadline_is_stopped(void) { return g_stop != NULL && atomic_load(g_stop); }

double pw_now_s(void)
{
  struct timespec ts;
  return clock_gettime(CLOCK_MONOTONIC, &ts) ? 0 : (double)ts.tv_sec + 1e-9 * (double)ts.tv_nsec;
}

double pw_deadline_in(double seconds) { return seconds > 0 ? pw_now_s() + seconds : 0; }

bool pw_deadline_is_over(double deadline_s)
{
  return pw_deadline_is_stopped() || (deadline_s > 0 && pw_now_s() > deadline_s);
}

double pw_deadline_left(double deadline_s)
{
  if (pw_deadline_is_stopped())
    return LEAST_S;
  if (deadline_s <= 0)
    return 0;
  double left = deadline_s - pw_now_s();
  return left > LEAST_S ? left : LEAST_S;
}
