/* deadline.c - see deadline.h. */
#include "base/deadline.h"

#include <time.h>

static const double LEAST_S = 0.01; /* 0 would mean no limit */

double pw_now_s(void)
{
  struct timespec ts;
  return clock_gettime(CLOCK_MONOTONIC, &ts) ? 0 : (double)ts.tv_sec + 1e-9 * (double)ts.tv_nsec;
}

double pw_deadline_in(double seconds) { return seconds > 0 ? pw_now_s() + seconds : 0; }

bool pw_deadline_is_over(double deadline_s) { return deadline_s > 0 && pw_now_s() > deadline_s; }

double pw_deadline_left(double deadline_s)
{
  if (deadline_s <= 0)
    return 0;
  double left = deadline_s - pw_now_s();
  return left > LEAST_S ? left : LEAST_S;
}
