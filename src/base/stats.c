/* stats.c - exact binomial by the ratio of neighbouring terms, sums of weighted binomials by convolution,
 * normal distribution through erfc. */
#include "base/stats.h"

#include <math.h>
#include <string.h>

#define TIE        1e-12 /* a chance reached within rounding counts as reached */
#define NEGLIGIBLE 1e-18 /* terms this far below the largest change no digit of a double sum */

enum { LATTICE_MAX = 400 }; /* finest lattice: a quarter per cent of the largest weight */

static double clamp01(double p) { return p < 0 ? 0 : p > 1 ? 1 : p; }

/* Largest term of binomial(n, p), 0 < p < 1. */
static int mode_of(int n, double p)
{
  int m = (int)floor((n + 1) * p);
  return m > n ? n : m;
}

/* pmf(k + 1) / pmf(k) */
static double ratio_up(int k, int n, double odds) { return (n - k) * odds / (k + 1); }

double pw_stats_binomial_cdf(int k, int n, double p)
{
  p = clamp01(p);
  if (k < 0)
    return 0;
  if (k >= n || p <= 0)
    return 1;
  if (p >= 1)
    return 0;
  double odds = p / (1 - p), below = 0, above = 0;
  int m = mode_of(n, p);
  double term = 1;
  for (int i = m; i >= 0 && term > 0; i--) {
    *(i <= k ? &below : &above) += term;
    if (i > 0)
      term /= ratio_up(i - 1, n, odds);
  }
  term = 1;
  for (int i = m; i < n && term > 0; i++) {
    term *= ratio_up(i, n, odds);
    *(i + 1 <= k ? &below : &above) += term;
  }
  return below / (below + above);
}

int pw_stats_binomial_quantile(int n, double p, double prob)
{
  p = clamp01(p);
  if (prob <= 0 || p <= 0 || n <= 0)
    return 0;
  if (prob >= 1 || p >= 1)
    return n;
  double odds = p / (1 - p), first = 1;
  int m = mode_of(n, p), k = m;
  for (; k > 0 && first > NEGLIGIBLE; k--)
    first /= ratio_up(k - 1, n, odds);
  double total = first, term = first;
  for (int i = k; i < n && (i < m || term > NEGLIGIBLE); i++) {
    term *= ratio_up(i, n, odds);
    total += term;
  }
  double sum = first;
  for (term = first; sum < (prob - TIE) * total && k < n; k++) {
    term *= ratio_up(k, n, odds);
    sum += term;
  }
  return k;
}

double pw_stats_normal_cdf(double z) { return 0.5 * erfc(-z * sqrt(0.5)); }

double pw_stats_normal_quantile(double prob)
{
  if (prob <= 0)
    return -INFINITY;
  if (prob >= 1)
    return INFINITY;
  if (prob == 0.5)
    return 0;
  double tail = prob < 0.5 ? prob : 1 - prob; /* work in the lower tail, where erfc keeps its digits */
  double lo = -39, hi = 0;
  for (int i = 0; i < 200; i++) {
    double mid = 0.5 * (lo + hi);
    if (mid <= lo || mid >= hi)
      break;
    if (pw_stats_normal_cdf(mid) < tail)
      lo = mid;
    else
      hi = mid;
  }
  return prob < 0.5 ? hi : -hi;
}

double pw_stats_normal_plus(double mean, double sd)
{
  if (!(sd > 0))
    return mean > 0 ? mean : 0;
  double z = mean / sd;
  double density = exp(-0.5 * z * z) / sqrt(2 * acos(-1.0));
  double e = mean * pw_stats_normal_cdf(z) + sd * density;
  return e > 0 ? e : 0;
}

/* Steps of the lattice in the largest weight: the least that holds all weights, at most LATTICE_MAX. */
static int lattice_steps(const struct pw_stats_group *groups, int n_groups, double largest)
{
  for (int steps = 1; steps < LATTICE_MAX; steps++) {
    int fits = 1;
    for (int g = 0; g < n_groups && fits; g++) {
      double w = groups[g].weight / largest * steps;
      fits = groups[g].n <= 0 || fabs(w - nearbyint(w)) < 1e-9 * steps;
    }
    if (fits)
      return steps;
  }
  return LATTICE_MAX;
}

struct window {
  int first, n;
  double *prob;
};

/* All terms of binomial(n, p) into prob[n + 1]. */
static void window_fill(double *prob, int n, double p)
{
  memset(prob, 0, ((size_t)n + 1) * sizeof *prob);
  if (p <= 0 || p >= 1) {
    prob[p <= 0 ? 0 : n] = 1;
    return;
  }
  double odds = p / (1 - p), total = 1;
  int m = mode_of(n, p);
  prob[m] = 1;
  for (int i = m; i > 0; i--)
    total += prob[i - 1] = prob[i] / ratio_up(i - 1, n, odds);
  for (int i = m; i < n; i++)
    total += prob[i + 1] = prob[i] * ratio_up(i, n, odds);
  for (int i = 0; i <= n; i++)
    prob[i] /= total;
}

/* Terms of binomial(n, p) that count, normalised. */
static pw_status window_make(struct window *out, int n, double p, struct pw_arena *arena)
{
  p = clamp01(p);
  if (p <= 0 || p >= 1) {
    out->first = p <= 0 ? 0 : n;
    out->n = 1;
    out->prob = pw_arena_array(arena, 1, sizeof *out->prob);
    if (!out->prob)
      return PW_ERR_MEMORY;
    out->prob[0] = 1;
    return PW_OK;
  }
  double odds = p / (1 - p), term = 1;
  int m = mode_of(n, p), lo = m, hi = m;
  for (; lo > 0 && term > NEGLIGIBLE; lo--)
    term /= ratio_up(lo - 1, n, odds);
  for (term = 1; hi < n && term > NEGLIGIBLE; hi++)
    term *= ratio_up(hi, n, odds);
  out->first = lo;
  out->n = hi - lo + 1;
  out->prob = pw_arena_array(arena, (size_t)out->n, sizeof *out->prob);
  if (!out->prob)
    return PW_ERR_MEMORY;
  double total = 0;
  out->prob[m - lo] = 1;
  for (int i = m; i > lo; i--)
    out->prob[i - 1 - lo] = out->prob[i - lo] / ratio_up(i - 1, n, odds);
  for (int i = m; i < hi; i++)
    out->prob[i + 1 - lo] = out->prob[i - lo] * ratio_up(i, n, odds);
  for (int i = 0; i < out->n; i++)
    total += out->prob[i];
  for (int i = 0; i < out->n; i++)
    out->prob[i] /= total;
  return PW_OK;
}

/* Helpings of one group: takers, and of every number of takers those who come again. */
static pw_status helpings_make(struct window *out, const struct pw_stats_group *group, struct pw_arena *arena)
{
  struct window takers;
  pw_status status = window_make(&takers, group->n, group->p, arena);
  if (status || !(group->again > 0)) {
    *out = takers;
    return status;
  }
  int last = takers.first + takers.n - 1;
  *out = (struct window){.first = takers.first, .n = 2 * last - takers.first + 1};
  out->prob = pw_arena_array(arena, (size_t)out->n, sizeof *out->prob);
  double *again = pw_arena_array(arena, (size_t)last + 1, sizeof *again);
  if (!out->prob || !again)
    return PW_ERR_MEMORY;
  for (int t = 0; t < takers.n; t++) {
    int n = takers.first + t;
    window_fill(again, n, group->again);
    for (int k = 0; k <= n; k++)
      out->prob[t + k] += takers.prob[t] * again[k];
  }
  return PW_OK;
}

pw_status pw_stats_sum_make(struct pw_stats_sum *out, const struct pw_stats_group *groups, int n_groups,
                            struct pw_arena *arena)
{
  *out = (struct pw_stats_sum){0};
  double largest = 0;
  for (int g = 0; g < n_groups; g++)
    if (groups[g].n > 0 && groups[g].weight > largest)
      largest = groups[g].weight;
  int steps = largest > 0 ? lattice_steps(groups, n_groups, largest) : 1;
  struct pw_stats_sum sum = {.step = largest > 0 ? largest / steps : 1, .n_points = 1};
  sum.prob = pw_arena_array(arena, 1, sizeof *sum.prob);
  if (!sum.prob)
    return PW_ERR_MEMORY;
  sum.prob[0] = 1;
  for (int g = 0; g < n_groups; g++) {
    long w = groups[g].n > 0 ? (long)ceil(groups[g].weight / largest * steps - 1e-9 * steps) : 0;
    if (w <= 0)
      continue;
    struct window win;
    pw_status status = helpings_make(&win, &groups[g], arena);
    if (status)
      return status;
    long n = sum.n_points + (win.n - 1) * w;
    double *next = pw_arena_array(arena, (size_t)n, sizeof *next);
    if (!next)
      return PW_ERR_MEMORY;
    for (long i = 0; i < sum.n_points; i++)
      for (int k = 0; sum.prob[i] > 0 && k < win.n; k++)
        next[i + k * w] += sum.prob[i] * win.prob[k];
    sum.first += win.first * w;
    sum.n_points = n;
    sum.prob = next;
  }
  *out = sum;
  return PW_OK;
}

double pw_stats_sum_quantile(const struct pw_stats_sum *sum, double prob)
{
  if (prob <= 0)
    return 0;
  double below = 0;
  long i = 0;
  for (; i < sum->n_points; i++) {
    below += sum->prob[i];
    if (below >= prob - TIE)
      break;
  }
  if (i == sum->n_points)
    i--;
  return (double)(sum->first + i) * sum->step;
}

double pw_stats_sum_above(const struct pw_stats_sum *sum, double x)
{
  double above = 0;
  for (long i = sum->n_points - 1; i >= 0 && (double)(sum->first + i) * sum->step > x + 1e-9 * sum->step; i--)
    above += sum->prob[i];
  return above < 1 ? above : 1;
}

double pw_stats_sum_left(const struct pw_stats_sum *sum, double x)
{
  double left = 0;
  for (long i = 0; i < sum->n_points; i++) {
    double v = (double)(sum->first + i) * sum->step;
    if (v >= x)
      break;
    left += (x - v) * sum->prob[i];
  }
  return left;
}
