/* stats.h - the few distributions that quantities for guests need: exact binomial, weighted sums of
 * binomials on a lattice, normal.  Doubles only; no tables, no randomness. */
#ifndef PW_STATS_H
#define PW_STATS_H

#include "base/arena.h"
#include "pw/status.h"

/** P(X <= k) for X ~ binomial(n, p), by the term ratio outward from the mode and one normalisation: relative
 *  error about n machine epsilons.  n >= 0, 0 <= p <= 1 (clamped).  k < 0 gives 0, k >= n gives 1. */
double pw_stats_binomial_cdf(int k, int n, double p);

/** Smallest k with P(X <= k) >= prob.  A tie within 1e-12 counts as reached.  prob <= 0 gives 0, >= 1 gives n. */
int pw_stats_binomial_quantile(int n, double p, double prob);

/** P(Z <= z), Z standard normal. */
double pw_stats_normal_cdf(double z);

/** z with P(Z <= z) = prob, to about 1e-14; -INFINITY at 0, INFINITY at 1. */
double pw_stats_normal_quantile(double prob);

/** E max(0, X) for X ~ normal(mean, sd); sd 0 gives max(0, mean). */
double pw_stats_normal_plus(double mean, double sd);

/** `n` persons who each want `weight` with chance `p` (and nothing otherwise); of those who do, each wants the same
 *  again with chance `again`. */
struct pw_stats_group {
  int n;
  double p, weight, again;
};

/** Distribution of the sum over groups: value (first + i) * step has chance prob[i]; i = 0 .. n_points - 1. */
struct pw_stats_sum {
  double step;
  long first, n_points;
  double *prob;
};

/** Exact distribution of the sum of independent groups, convolved on the coarsest lattice (at most 1/400 of
 *  the largest weight) that holds all weights; a weight off that lattice is rounded up to it.  Terms below
 *  1e-18 of the largest are dropped.  The result lives in the arena.  Errors: PW_ERR_MEMORY. */
pw_status pw_stats_sum_make(struct pw_stats_sum *out, const struct pw_stats_group *groups, int n_groups,
                            struct pw_arena *arena);

/** Smallest lattice value v with P(sum <= v) >= prob (ties as above). */
double pw_stats_sum_quantile(const struct pw_stats_sum *sum, double prob);
/** P(sum > x). */
double pw_stats_sum_above(const struct pw_stats_sum *sum, double x);
/** E max(0, x - sum): what is expected to be left over of x. */
double pw_stats_sum_left(const struct pw_stats_sum *sum, double x);

#endif
