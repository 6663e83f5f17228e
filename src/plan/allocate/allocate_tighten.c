/* allocate_tighten.c - see allocate_tighten.h. */
#include "plan/allocate/allocate_tighten.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/parallel.h"
#include "plan/allocate/allocate_insert.h"
#include "plan/allocate/allocate_windows.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

enum {
  LOOKS = 6,     /* short searches, each in windows of its own */
  TRIES = 4,     /* long ones: the two nearest windows, from the plan and anew */
  LOOK_PART = 8, /* of a long search's rounds */
  PASSES = 8,
  PASSES_IN_VAIN = 3
};

static const double MISS_TIMES = 4; /* what a waiting piece counts of its share of the plan's worth, to begin with */
static const double HEAT_FRAC = 0.002;
static const double WORTH_KEEPING_FRAC = 0.002;

/* One search, in memory of its own. */
struct look {
  struct pw_al_windows windows;
  bool is_anew;
  unsigned seed;
  long n_rounds;
  struct pw_arena *arena;
  struct pw_al_solution found;
  pw_status status;
};

struct tighten {
  const struct pw_al *al;
  const struct pw_al_tighten_options *options;
  const struct pw_al_solution *best;
  struct pw_al_windows span; /* [p * n_days + d] of the best plan */
  struct look look[LOOKS], try[TRIES];
  struct look *now; /* those that run */
  struct pw_al_rng rng;
};

static int n_fires_max(const struct pw_al *al) { return al->n_pits * al->n_days; }

static bool is_lit(const struct pw_al_windows *w, int pd) { return w->from[pd] < w->to[pd]; }

static void look_run(void *user, int k)
{
  struct tighten *t = user;
  struct look *look = &t->now[k];
  const struct pw_al_tighten_options *o = t->options;
  struct pw_ctx own = {.arena = look->arena};
  struct pw_al_run *run;
  struct pw_al_search_options in = {.seed = look->seed,
                                    .n_rounds = look->n_rounds,
                                    .heat_frac = HEAT_FRAC,
                                    .is_pressing = true,
                                    .miss_all_cents = MISS_TIMES * o->worth_cents,
                                    .limits = &look->windows,
                                    .guide = o->guide,
                                    .is_lit = o->guide != NULL,
                                    .pieces = look->is_anew ? NULL : t->best->pieces,
                                    .settings = t->best->settings,
                                    .target_cents = t->best->cost_cents - WORTH_KEEPING_FRAC * o->worth_cents,
                                    .seconds = pw_deadline_left(o->deadline_s),
                                    .listener = o->listener};
  look->status = pw_al_run_open(&run, t->al, &own);
  if (!look->status)
    look->status = pw_al_run_search(run, &look->found, &in);
}

static pw_status run_all(struct tighten *t, struct look *looks, int n)
{
  pw_status status = PW_OK;
  for (int k = 0; k < n; k++)
    if (!(looks[k].arena = pw_arena_open()))
      status = PW_ERR_MEMORY;
  t->now = looks;
  if (!status)
    pw_parallel(n, look_run, t);
  for (int k = 0; k < n && !status; k++)
    status = looks[k].status;
  return status;
}

static void close_all(struct look *looks, int n)
{
  for (int k = 0; k < n; k++) {
    pw_arena_close(looks[k].arena);
    looks[k].arena = NULL;
  }
}

/* the one pit and day with a fire; PW_NONE: there are none, or several */
static int only_lit(const struct tighten *t)
{
  int lit = PW_NONE;
  for (int k = 0; k < n_fires_max(t->al); k++)
    if (is_lit(&t->span, k)) {
      if (lit != PW_NONE)
        return PW_NONE;
      lit = k;
    }
  return lit;
}

/* the plan's windows, but the fire's shorter by one or two slots, sooner or later */
static void look_make(struct tighten *t, int k, int lit, int nth)
{
  size_t n = (size_t)n_fires_max(t->al);
  struct look *look = &t->look[k];
  int by = 1 + k % 2, at = k / 2, *from = look->windows.from, *to = look->windows.to;
  memcpy(from, t->span.from, n * sizeof *from);
  memcpy(to, t->span.to, n * sizeof *to);
  from[lit] = from[lit] + at < 0 ? 0 : from[lit] + at;
  to[lit] = to[lit] + at - by > t->al->n_slots ? t->al->n_slots : to[lit] + at - by;
  look->is_anew = (k / 2 + nth) % 2;
  look->seed = (unsigned)pw_al_rng_next(&t->rng);
  look->n_rounds = t->options->n_rounds / LOOK_PART;
}

/* The nearest look that is not taken yet. */
static int nearest(const struct tighten *t, int taken)
{
  int best = PW_NONE;
  for (int k = 0; k < LOOKS; k++)
    if (k != taken && (best == PW_NONE || t->look[k].found.cost_cents < t->look[best].found.cost_cents - 1e-9))
      best = k;
  return best;
}

static void take_over(struct pw_al_solution *best, const struct pw_al *al, const struct pw_al_solution *found)
{
  memcpy(best->pieces, found->pieces, (size_t)found->n_pieces * sizeof *found->pieces);
  memcpy(best->settings, found->settings, (size_t)n_fires_max(al) * sizeof *found->settings);
  best->cost_cents = found->cost_cents;
}

/* the two nearest windows, each from the plan and anew */
static void tries_make(struct tighten *t)
{
  int first = nearest(t, PW_NONE), second = nearest(t, first);
  for (int k = 0; k < TRIES; k++)
    t->try[k] = (struct look){.windows = t->look[k < TRIES / 2 ? first : second].windows,
                              .is_anew = k % 2,
                              .seed = (unsigned)pw_al_rng_next(&t->rng),
                              .n_rounds = t->options->n_rounds};
}

static void keep_cheapest(struct tighten *t, struct pw_al_solution *best)
{
  const struct pw_al_solution *cheapest = best;
  for (int k = 0; k < LOOKS + TRIES; k++) {
    const struct pw_al_solution *found = k < LOOKS ? &t->look[k].found : &t->try[k - LOOKS].found;
    best->n_rounds += found->n_rounds;
    if (!found->n_missed && found->cost_cents < cheapest->cost_cents - 1e-6)
      cheapest = found;
  }
  if (cheapest != best)
    take_over(best, t->al, cheapest);
}

static pw_status pass(struct tighten *t, struct pw_al_solution *best, int nth)
{
  int lit = only_lit(t);
  for (int k = 0; k < LOOKS; k++)
    look_make(t, k, lit, nth);
  pw_status status = run_all(t, t->look, LOOKS);
  if (!status) {
    tries_make(t);
    status = run_all(t, t->try, TRIES);
  }
  if (!status)
    keep_cheapest(t, best);
  close_all(t->look, LOOKS);
  close_all(t->try, TRIES);
  return status;
}

static pw_status windows_make(struct pw_al_windows *w, const struct pw_al *al, struct pw_ctx *ctx)
{
  size_t n = (size_t)n_fires_max(al) + 1;
  w->from = pw_arena_array(ctx->arena, n, sizeof *w->from);
  w->to = pw_arena_array(ctx->arena, n, sizeof *w->to);
  return w->from && w->to ? PW_OK : PW_ERR_MEMORY;
}

pw_status pw_al_tighten(struct pw_al_solution *best, const struct pw_al *al,
                        const struct pw_al_tighten_options *options, struct pw_ctx *ctx)
{
  struct tighten t = {
      .al = al, .options = options, .best = best, .rng.s = UINT64_C(0x9E3779B97F4A7C15) * (options->seed + 1u)};
  pw_status status = windows_make(&t.span, al, ctx);
  for (int k = 0; k < LOOKS && !status; k++)
    status = windows_make(&t.look[k].windows, al, ctx);
  if (status || best->n_missed > 0 || best->n_pieces == 0)
    return status;
  for (int k = 0, n_in_vain = 0; k < PASSES && n_in_vain < PASSES_IN_VAIN && !status; k++) {
    double was_cents = best->cost_cents;
    pw_al_windows_of(&t.span, al, best);
    if (only_lit(&t) == PW_NONE || was_cents <= options->target_cents || pw_deadline_is_over(options->deadline_s))
      break;
    status = pass(&t, best, k);
    n_in_vain = best->cost_cents < was_cents ? 0 : n_in_vain + 1;
  }
  return status;
}
