/* walk_up.c - heads of a service as a random share F of those planned: triangular from least over 1 to most [D3].
 *   mean (a + 1 + b) / 3,   variance (a^2 + 1 + b^2 - a - b - a b) / 18
 * A sum over n F guests has mean E F x (that of n) and variance E F x (that of n) + Var F x mean^2; its distribution is
 * the mixture of those at fixed F.  Strata of the mixture end at 1 - (1 - k / STRATA)^2. */
#include "plan/demand/walk_up.h"

#include "base/arena.h"

#include <math.h>

enum { STRATA = 16 };

static bool has_range(const struct pw_choice *c) { return c && c->walk_most_frac > c->walk_least_frac; }

double pw_walk_up_mean(const struct pw_choice *c)
{
  return has_range(c) ? (c->walk_least_frac + 1 + c->walk_most_frac) / 3 : 1;
}

double pw_walk_up_variance(const struct pw_choice *c)
{
  if (!has_range(c))
    return 0;
  double a = c->walk_least_frac, b = c->walk_most_frac;
  return (a * a + 1 + b * b - a - b - a * b) / 18;
}

double pw_walk_up_quantile(const struct pw_choice *c, double prob)
{
  if (!has_range(c))
    return 1;
  double a = c->walk_least_frac, b = c->walk_most_frac, below = (1 - a) / (b - a);
  return prob <= below ? a + sqrt(prob * (b - a) * (1 - a)) : b - sqrt((1 - prob) * (b - a) * (b - 1));
}

const struct pw_choice *pw_walk_up_of(const struct pw_event *ev, int service)
{
  return ev->choices ? &ev->choices[service] : NULL;
}

pw_status pw_walk_up_sum_make(struct pw_stats_sum *out, const struct pw_stats_group *groups, int n_groups,
                              const struct pw_choice *choice, struct pw_arena *arena)
{
  if (!has_range(choice))
    return pw_stats_sum_make(out, groups, n_groups, arena);
  *out = (struct pw_stats_sum){0};
  struct pw_stats_sum parts[STRATA];
  double weight[STRATA];
  struct pw_stats_group *some = pw_arena_array(arena, (size_t)n_groups, sizeof *some);
  if (!some)
    return PW_ERR_MEMORY;
  long first = 0, end = 0;
  for (int k = 0; k < STRATA; k++) {
    double from = 1 - pow(1 - (double)k / STRATA, 2), to = 1 - pow(1 - (double)(k + 1) / STRATA, 2);
    double share = pw_walk_up_quantile(choice, (from + to) / 2);
    weight[k] = to - from;
    for (int g = 0; g < n_groups; g++) {
      some[g] = groups[g];
      some[g].n = groups[g].n > 0 ? (int)fmax(1, round(groups[g].n * share)) : 0; /* none gone: one lattice for all */
    }
    pw_status status = pw_stats_sum_make(&parts[k], some, n_groups, arena);
    if (status)
      return status;
    first = k == 0 || parts[k].first < first ? parts[k].first : first;
    end = k == 0 || parts[k].first + parts[k].n_points > end ? parts[k].first + parts[k].n_points : end;
  }
  double *prob = pw_arena_array(arena, (size_t)(end - first), sizeof *prob);
  if (!prob)
    return PW_ERR_MEMORY;
  for (int k = 0; k < STRATA; k++) /* one lattice: it follows from the weights alone, which are the same */
    for (long i = 0; i < parts[k].n_points; i++)
      prob[parts[k].first - first + i] += weight[k] * parts[k].prob[i];
  *out = (struct pw_stats_sum){parts[0].step, first, end - first, prob};
  return PW_OK;
}
