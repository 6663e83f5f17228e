/* way_late.c - ways to be ready on time more often [R3], where all has a place and a meal stays below its target.  Changes that may
 * help what is to blame are planned, each with margins of its own, then the best of them by twos. */
#include "plan/ways/way_trial.h"

#include "base/arena.h"
#include "plan/chance/on_time.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* Plans made, at most, and work (allocate_search.h), after which no more are begun. */
enum { ALONE_MOST = 12, PAIRS_MOST = 4, BASES = 2, TOLD_MOST = 5 };
static const long LOOKS_MOST = 9L * 1000 * 1000;
static const long LOOKS_PER_LOT =
    60 * 1000; /* what rounds and draws take beside the search, about: large events try fewer */

static const double GAIN_LEAST_FRAC = 0.01, /* what raises a chance by less is not told: draws err by half as much */
    GAIN_LEAST_SHARE = 0.25,                /* of what is lacking: a way that leaves more is none */
    REACHED_FRAC = 0.005;                   /* a target is had that is missed by less than draws err */

/* Where little is lacking half of it will do. */
static double least_gain(double lack_frac)
{
  return fmax(GAIN_LEAST_SHARE * lack_frac, fmin(GAIN_LEAST_FRAC, lack_frac / 2));
}

struct late {
  struct pw_plan *plan;
  struct pw_way_trials t;
  struct pw_way *list;
  int n_list;
  double lack_frac; /* of the plan */
};

/* Whether no meal is ready less often for it than before, but for what it has beyond its target. */
static bool harms_none(const struct late *w, const struct pw_remedy *r)
{
  const struct pw_event *ev = w->plan->event;
  for (int s = 0; s < ev->n_services; s++)
    for (int i = 0; i < r->n_chances; i++) {
      double now = w->plan->chance.services[s].on_time_frac, target = pw_on_time_target(ev, s);
      if (strcmp(r->chances[i].service, ev->services[s].id) == 0 && target > 0 &&
          r->chances[i].on_time_frac < fmin(now, target) - GAIN_LEAST_FRAC)
        return false;
    }
  return true;
}

static double gain(const struct late *w, const struct pw_way_trial *t) { return w->lack_frac - t->lack_frac; }

static bool helps(const struct late *w, const struct pw_way_trial *t)
{
  return t->remedy.missed_after == 0 && t->remedy.n_chances > 0 && gain(w, t) >= least_gain(w->lack_frac) &&
         harms_none(w, &t->remedy);
}

/* The targets are had, but for what draws may err. */
static bool reaches(const struct pw_way_trial *t) { return t->lack_frac < REACHED_FRAC; }

/* those that reach the targets first, the cheapest first; then by price for what is gained; then as listed */
static int by_worth(const struct late *w, const struct pw_way_trial *a, const struct pw_way_trial *b)
{
  if (reaches(a) != reaches(b))
    return reaches(a) ? -1 : 1;
  double of_a = (double)a->remedy.cost_cents, of_b = (double)b->remedy.cost_cents;
  if (!reaches(a)) { /* what costs less the more it gains the better */
    of_a = of_a > 0 ? of_a / gain(w, a) : of_a;
    of_b = of_b > 0 ? of_b / gain(w, b) : of_b;
  }
  if (of_a != of_b)
    return of_a < of_b ? -1 : 1;
  return (a > b) - (a < b);
}

/* Sorted: few. */
static int sorted(const struct pw_way_trial **out, const struct late *w, const struct pw_way_trials *of)
{
  int n = 0;
  for (int i = 0; i < of->n_done; i++) {
    if (!helps(w, &of->trials[i]))
      continue;
    int k = n++;
    for (; k > 0 && by_worth(w, &of->trials[i], out[k - 1]) < 0; k--)
      out[k] = out[k - 1];
    out[k] = &of->trials[i];
  }
  return n;
}

/* A part of it alone does as well. */
static bool is_more_than_needed(const struct pw_way_trial **list, int n, const struct pw_way_trial *t)
{
  for (int i = 0; i < n; i++) {
    bool is_part = list[i]->n < t->n;
    for (int k = 0; k < list[i]->n && is_part; k++)
      is_part = pw_way_trial_holds(t, list[i]->way[k]);
    if (is_part && list[i]->lack_frac < t->lack_frac + GAIN_LEAST_FRAC)
      return true;
  }
  return false;
}

/* The best with one more, where none reaches the targets alone. */
static pw_status pairs(struct late *w)
{
  const struct pw_way_trial **best = pw_arena_array(w->t.ctx->arena, (size_t)w->t.cap + 1, sizeof *best);
  if (!best)
    return PW_ERR_MEMORY;
  int n = sorted(best, w, &w->t), end = w->t.n;
  if (n == 0 || reaches(best[0]))
    return PW_OK;
  for (int i = 0; i < n && i < BASES; i++)
    for (int k = i + 1; k < n && w->t.n - end < PAIRS_MOST; k++)
      pw_way_trials_add(&w->t, best[i], best[k]->way[0], w->list);
  return pw_way_trials_run(&w->t);
}

static pw_status tell(struct late *w)
{
  struct pw_allocation *a = &w->plan->allocation;
  const struct pw_way_trial **told = pw_arena_array(w->t.ctx->arena, (size_t)w->t.cap + 1, sizeof *told);
  a->remedies = pw_arena_array(w->t.ctx->arena, TOLD_MOST, sizeof *a->remedies);
  if (!told || !a->remedies)
    return PW_ERR_MEMORY;
  int n = sorted(told, w, &w->t);
  pw_status st = PW_OK;
  for (int i = 0; i < n && a->n_remedies < TOLD_MOST && st == PW_OK; i++)
    if (!is_more_than_needed(told, n, told[i]))
      st = pw_way_trial_tell(&a->remedies[a->n_remedies++], told[i], w->t.ctx);
  return st;
}

pw_status pw_ways_late(struct pw_plan *plan, const struct pw_ways_planner *planner, struct pw_ctx *ctx)
{
  struct late w = {.plan = plan,
                   .t = {.plan = plan,
                         .planner = planner,
                         .ctx = ctx,
                         .care = PW_WAY_ON_TIME,
                         .looks_most = LOOKS_MOST,
                         .looks_per_lot = LOOKS_PER_LOT}};
  bool is_short = false;
  for (int s = 0; s < plan->event->n_services; s++)
    is_short = is_short || pw_on_time_is_short(plan->event, &plan->chance, s);
  pw_status st = is_short ? pw_way_list_make(&w.list, &w.n_list, plan, ctx) : PW_OK;
  if (!is_short || st != PW_OK)
    return st;
  w.lack_frac = pw_on_time_lack(plan->event, &plan->chance);
  w.t.cap = w.n_list + PAIRS_MOST;
  w.t.trials = pw_arena_array(ctx->arena, (size_t)w.t.cap + 1, sizeof *w.t.trials);
  if (!w.t.trials)
    return PW_ERR_MEMORY;
  struct pw_way_trial none = {0};
  for (int i = 0; i < w.n_list && w.t.n < ALONE_MOST; i++)
    pw_way_trials_add(&w.t, &none, &w.list[i], w.list);
  st = pw_way_trials_run(&w.t);
  if (st == PW_OK)
    st = pairs(&w);
  plan->n_ways_tried = w.t.n_done;
  return st == PW_OK ? tell(&w) : st;
}
