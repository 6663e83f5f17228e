/* rack_bound.c - see rack_bound.h. */
#include "plan/rack_bound.h"

#include <math.h>

static const double CLOSE = 1e-6; /* sizes this near to a threshold count as on it, on the safe side */

/* thresholds of U(eps) */
static const double EPS[] = {0.15, 0.2, 0.25, 0.3, 1.0 / 3, 0.4, 0.45, 0.5};
enum { N_U = 5 }; /* u(1) .. u(5) */

double pw_rack_bound_dff(int k, double x)
{
  if (x <= 0)
    return 0;
  if (x > 1)
    x = 1;
  if (k == 0)
    return x;
  if (k <= N_U) {
    double m = (k + 1) * x, whole = round(m);
    if (fabs(m - whole) < CLOSE)
      return fmin(x, whole / (k + 1));
    return floor(m) / k;
  }
  double eps = EPS[k - 1 - N_U];
  if (x > 1 - eps + CLOSE)
    return 1;
  return x < eps - CLOSE ? 0 : x;
}

static double share(int f, int g, double a, double b)
{
  return a > 1 + CLOSE || b > 1 + CLOSE ? HUGE_VAL : pw_rack_bound_dff(f, a) * pw_rack_bound_dff(g, b);
}

double pw_rack_bound_share(int k, double length, double depth, double zone_length, double zone_depth, bool may_turn)
{
  int f = k % PW_RACK_BOUND_FUNCTIONS, g = k / PW_RACK_BOUND_FUNCTIONS;
  double one = share(f, g, length / zone_length, depth / zone_depth);
  double two = may_turn ? share(f, g, depth / zone_length, length / zone_depth) : HUGE_VAL;
  double least = fmin(one, two);
  return least < HUGE_VAL ? least : 1;
}
