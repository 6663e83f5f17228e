/* ways.c - which changes are planned, alone and together, and which of them are told. */
#include "plan/ways/ways.h"

#include "base/arena.h"
#include "plan/chance/on_time.h"
#include "plan/ways/way_trial.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

/* Work for the chances of the ways that are told. */
static const long CHANCE_LOOKS_MOST = 6L * 1000 * 1000;

/* Plans made, at most: all alone, so many of two ways, of three and so on, each begun from the best of the last; and work
 * (allocate_search.h), after which no more are begun. */
enum { WIDER_MOST = 12, BASES = 2, TOLD_MOST = 8 };
static const long LOOKS_MOST = 9L * 1000 * 1000;
static const long LOOKS_PER_LOT =
    10 * 1000; /* what planning a lot takes beside the search, about: large events try fewer */

struct ways {
  struct pw_plan *plan;
  struct pw_way *list;
  int n_list;
  struct pw_way_trials t;
};

/* ---- which --------------------------------------------------------------------------------------------- */

/* fewest portions missing, fewest pieces left, then cheapest, then as listed */
static int by_help(const void *pa, const void *pb)
{
  const struct pw_way_trial *a = *(const struct pw_way_trial *const *)pa, *b = *(const struct pw_way_trial *const *)pb;
  if (a->remedy.missed_portions_after != b->remedy.missed_portions_after)
    return a->remedy.missed_portions_after < b->remedy.missed_portions_after ? -1 : 1;
  if (a->remedy.missed_after != b->remedy.missed_after)
    return a->remedy.missed_after < b->remedy.missed_after ? -1 : 1;
  if (a->remedy.cost_cents != b->remedy.cost_cents)
    return a->remedy.cost_cents < b->remedy.cost_cents ? -1 : 1;
  return (a > b) - (a < b);
}

/* Trials [from, to) that can be, the most helpful first; returns how many. */
static int sorted(const struct pw_way_trial **out, const struct ways *w, int from, int to)
{
  int n = 0;
  for (int i = from; i < to; i++)
    if (w->t.trials[i].remedy.missed_after < INT_MAX)
      out[n++] = &w->t.trials[i];
  qsort(out, (size_t)n, sizeof *out, by_help);
  return n;
}

static bool is_solved(const struct ways *w)
{
  for (int i = 0; i < w->t.n_done; i++)
    if (w->t.trials[i].remedy.missed_after == 0)
      return true;
  return false;
}

/* The most helpful single way of each kind, those that bring racks and room before those that bring hands; NULL: none of the kind.
 * One that cannot be alone (cold food and no oven to warm it) may still be what another lacks. */
static void best_of_kinds(const struct pw_way *best[PW_WAY__COUNT], const struct ways *w)
{
  static const enum pw_way_kind ORDER[PW_WAY__COUNT] = {PW_WAY_TRAY,       PW_WAY_PIT,     PW_WAY_BOX,
                                                        PW_WAY_DAY_BEFORE, PW_WAY_OVEN,    PW_WAY_WAVES,
                                                        PW_WAY_PORTION,    PW_WAY_SITTING, PW_WAY_HAND};
  for (int k = 0; k < PW_WAY__COUNT; k++) {
    const struct pw_way_trial *found = NULL;
    for (int i = 0; i < w->t.n && w->t.trials[i].n == 1; i++) {
      const struct pw_way_trial *t = &w->t.trials[i];
      if (t->way[0]->part.kind == ORDER[k] && (!found || by_help(&t, &found) < 0))
        found = t;
    }
    best[k] = found ? found->way[0] : NULL;
  }
}

/* Fewest portions missing of the trials [from, to). */
static int least_short(const struct ways *w, int from, int to)
{
  int least = INT_MAX;
  for (int i = from; i < to; i++)
    least = w->t.trials[i].remedy.missed_portions_after < least ? w->t.trials[i].remedy.missed_portions_after : least;
  return least;
}

/* Two kinds together: a way that opens nothing alone (racks without a box to hold what comes off) may be what the other lacks. */
static pw_status pairs(struct ways *w)
{
  const struct pw_way *best[PW_WAY__COUNT];
  best_of_kinds(best, w);
  int end = w->t.n;
  for (int sum = 1; sum < 2 * PW_WAY__COUNT; sum++)
    for (int i = 0; 2 * i < sum && i < PW_WAY__COUNT; i++) {
      int k = sum - i;
      struct pw_way_trial one = {.way = {best[i]}, .n = 1};
      if (k < PW_WAY__COUNT && best[i] && best[k] && w->t.n - end < WIDER_MOST)
        pw_way_trials_add(&w->t, &one, best[k], w->list);
    }
  return pw_way_trials_run(&w->t);
}

/* The best of the last round with one more on top: of a pit that is among them another, else of each kind. */
static pw_status widen(struct ways *w, int from)
{
  const struct pw_way_trial **base = pw_arena_array(w->t.ctx->arena, (size_t)w->t.cap, sizeof *base);
  const struct pw_way *best[PW_WAY__COUNT];
  if (!base)
    return PW_ERR_MEMORY;
  best_of_kinds(best, w);
  int end = w->t.n, n = sorted(base, w, from, end);
  for (int i = 0; i < n && i < BASES; i++) {
    for (int k = 0; k < w->n_list && w->t.n - end < WIDER_MOST; k++)
      if (w->list[k].copy_of != PW_NONE)
        pw_way_trials_add(&w->t, base[i], &w->list[k], w->list);
    for (int k = 0; k < PW_WAY__COUNT && w->t.n - end < WIDER_MOST; k++)
      if (best[k])
        pw_way_trials_add(&w->t, base[i], best[k], w->list);
  }
  return pw_way_trials_run(&w->t);
}

/* ---- what is told --------------------------------------------------------------------------------------- */

/* A way out that leaves most of it short is none. */
static bool gets_out(const struct pw_remedy *remedy, int n_missed) { return remedy->missed_after <= n_missed / 2; }

static int by_cost(const void *pa, const void *pb)
{
  const struct pw_way_trial *a = *(const struct pw_way_trial *const *)pa, *b = *(const struct pw_way_trial *const *)pb;
  bool a_solves = a->remedy.missed_after == 0, b_solves = b->remedy.missed_after == 0;
  if (a_solves != b_solves)
    return a_solves ? -1 : 1;
  if (a->remedy.cost_cents != b->remedy.cost_cents)
    return a->remedy.cost_cents < b->remedy.cost_cents ? -1 : 1;
  return (a > b) - (a < b);
}

/* The same change by less: as many guests helped by fewer waves of the same dishes. */
static bool is_same_by_less(const struct pw_way_trial *t, const struct pw_way_trial *other)
{
  bool is_alike = other->n == t->n && other < t && other->remedy.missed_after <= t->remedy.missed_after;
  for (int k = 0; k < t->n && is_alike; k++)
    is_alike = other->way[k] == t->way[k] ||
               (t->way[k]->part.kind == PW_WAY_WAVES && other->way[k]->part.kind == PW_WAY_WAVES &&
                other->way[k]->service == t->way[k]->service);
  return is_alike;
}

/* Every part of it alone, or some of them, does as well. */
static bool is_more_than_needed(const struct ways *w, const struct pw_way_trial *t)
{
  for (int i = 0; i < w->t.n_done; i++) {
    const struct pw_way_trial *other = &w->t.trials[i];
    bool is_part = other->n < t->n;
    for (int k = 0; k < other->n && is_part; k++)
      is_part = pw_way_trial_holds(t, other->way[k]);
    if ((is_part && other->remedy.missed_after <= t->remedy.missed_after) || is_same_by_less(t, other))
      return true;
  }
  return false;
}

/* Those that place everything once more, with margins of their own: then they cost what they will, and have a chance. */
static pw_status draw_chances(const struct pw_way_trial **told, int n, const struct ways *w)
{
  struct pw_way_trials again = w->t;
  again.care = PW_WAY_ON_TIME;
  again.n = again.n_done = 0;
  again.n_looks = 0;
  again.looks_most = CHANCE_LOOKS_MOST;
  again.trials = pw_arena_array(w->t.ctx->arena, (size_t)n + 1, sizeof *again.trials);
  int *of = pw_arena_array(w->t.ctx->arena, (size_t)n + 1, sizeof *of);
  if (!again.trials || !of)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n && pw_on_time_is_asked(w->plan->event); i++)
    if (told[i]->remedy.missed_after == 0) {
      of[again.n] = i;
      again.trials[again.n] = (struct pw_way_trial){.n = told[i]->n};
      memcpy(again.trials[again.n++].way, told[i]->way, sizeof told[i]->way);
    }
  pw_status st = pw_way_trials_run(&again);
  for (int i = 0; i < again.n_done && st == PW_OK; i++)
    if (again.trials[i].remedy.missed_after == 0)
      told[of[i]] = again.trials + i; /* in the arena */
  return st;
}

static pw_status tell(struct ways *w)
{
  struct pw_allocation *a = &w->plan->allocation;
  const struct pw_way_trial **told = pw_arena_array(w->t.ctx->arena, (size_t)w->t.cap, sizeof *told);
  a->remedies = pw_arena_array(w->t.ctx->arena, TOLD_MOST, sizeof *a->remedies);
  if (!told || !a->remedies)
    return PW_ERR_MEMORY;
  int n = 0;
  bool has_solved = is_solved(w);
  for (int i = 0; i < w->t.n_done; i++) {
    const struct pw_way_trial *t = &w->t.trials[i];
    bool is_noise = t->n > 1 && has_solved && t->remedy.missed_after > 0;
    if (gets_out(&t->remedy, a->n_missed) && !is_noise && !is_more_than_needed(w, t))
      told[n++] = t;
  }
  qsort(told, (size_t)n, sizeof *told, by_cost);
  n = n < TOLD_MOST ? n : TOLD_MOST;
  pw_status st = draw_chances(told, n, w);
  if (st == PW_OK)
    qsort(told, (size_t)n, sizeof *told, by_cost);
  for (int i = 0; i < n && st == PW_OK; i++)
    st = pw_way_trial_tell(&a->remedies[a->n_remedies++], told[i], w->t.ctx);
  return st;
}

pw_status pw_ways_make(struct pw_plan *plan, const struct pw_ways_planner *planner, struct pw_ctx *ctx)
{
  if (plan->allocation.n_missed == 0)
    return pw_ways_late(plan, planner, ctx);
  struct ways w = {.plan = plan,
                   .t = {.plan = plan,
                         .planner = planner,
                         .ctx = ctx,
                         .care = PW_WAY_FITS,
                         .looks_most = LOOKS_MOST,
                         .looks_per_lot = LOOKS_PER_LOT}};
  pw_status st = pw_way_list_make(&w.list, &w.n_list, plan, ctx);
  if (st != PW_OK)
    return st;
  w.t.cap = w.n_list + (PW_WAY_PARTS_MAX - 1) * WIDER_MOST;
  w.t.trials = pw_arena_array(ctx->arena, (size_t)w.t.cap + 1, sizeof *w.t.trials);
  if (!w.t.trials)
    return PW_ERR_MEMORY;
  struct pw_way_trial none = {0};
  for (int i = 0; i < w.n_list; i++)
    pw_way_trials_add(&w.t, &none, &w.list[i], w.list);
  st = pw_way_trials_run(&w.t);
  for (int from = 0, n = 2; st == PW_OK && n <= PW_WAY_PARTS_MAX && !is_solved(&w) && w.t.n > from; n++) {
    int end = w.t.n;
    st = n == 2 ? pairs(&w) : widen(&w, from);
    if (least_short(&w, end, w.t.n) >= least_short(&w, 0, end)) /* no more of it helps */
      break;
    from = end;
  }
  plan->n_ways_tried = w.t.n_done;
  return st == PW_OK ? tell(&w) : st;
}
