/* ways.c - which changes are planned, alone and together, and which of them are told. */
#include "plan/ways/ways.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/parallel.h"
#include "plan/lots/day_before.h"
#include "plan/ways/way_list.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

/* Plans made, at most: all alone, so many of two ways, of three and so on, each begun from the best of the last; and work
 * (allocate_search.h), after which no more are begun. */
enum { BATCH = 4, WIDER_MOST = 12, BASES = 2, TOLD_MOST = 8 };
static const long LOOKS_MOST = 9L * 1000 * 1000;
static const long LOOKS_PER_LOT =
    10 * 1000; /* what planning a lot takes beside the search, about: large events try fewer */

struct trial {
  const struct pw_way *way[PW_WAY_PARTS_MAX]; /* in the order of the list */
  int n;
  struct pw_arena *arena;
  pw_status status;
  struct pw_remedy remedy; /* missed_after INT_MAX: it cannot be */
  long n_looks;
};

struct ways {
  struct pw_plan *plan;
  const struct pw_ways_planner *planner;
  struct pw_ctx *ctx;
  struct pw_way *list;
  int n_list;
  struct trial *trials;
  int n, cap;
  int n_done; /* planned so far */
  long n_looks;
};

/* ---- one trial --------------------------------------------------------------------------------------- */

/* Pieces cooked the day before that find no oven to be reheated in. */
static int cold_pieces(const struct pw_plan *plan)
{
  int n = 0;
  for (int c = 0; c < plan->lots.n_lots; c++)
    if (plan->lots.lots[c].is_day_before)
      n += plan->lots.lots[c].pieces - pw_day_before_reheated(&plan->lots, c);
  return n;
}

static int portions_short(const struct pw_plan *plan)
{
  int n = 0;
  for (int i = 0; i < plan->n_shortfalls; i++)
    n += plan->shortfalls[i].portions;
  return n;
}

static const char *lines_of(const struct trial *t, struct pw_ctx *ctx)
{
  const char *lines = "";
  for (int i = 0; i < t->n && lines; i++)
    lines = pw_arena_printf(ctx->arena, "%s%s", lines, t->way[i]->lines);
  return lines;
}

static void try_one(void *user, int i)
{
  const struct ways *w = user;
  struct trial *t = &w->trials[w->n_done + i];
  struct pw_plan plan;
  t->remedy.missed_after = t->remedy.missed_portions_after = INT_MAX;
  if (!(t->arena = pw_arena_open())) {
    t->status = PW_ERR_MEMORY;
    return;
  }
  struct pw_ctx ctx = {.arena = t->arena};
  const char *lines = lines_of(t, &ctx);
  t->status = lines ? w->planner->plan(w->planner->user, &plan, lines, &ctx) : PW_ERR_MEMORY;
  if (t->status != PW_OK) {
    t->status = t->status == PW_ERR_MEMORY ? PW_ERR_MEMORY : PW_OK; /* what cannot be is no way out */
    return;
  }
  t->n_looks = plan.allocation.n_looks + LOOKS_PER_LOT * plan.lots.n_lots;
  if (cold_pieces(&plan) > cold_pieces(w->plan))
    return;
  t->remedy.missed_after = plan.allocation.n_missed;
  t->remedy.missed_portions_after = portions_short(&plan);
  t->remedy.plan_cost_cents = plan.quote.cost_cents;
  t->remedy.cost_cents = plan.quote.cost_cents - w->plan->quote.cost_cents;
}

/* Plans what was added since, some at a time; no more than so many looks and not after the deadline. */
static pw_status run(struct ways *w)
{
  while (w->n_done < w->n) {
    if (w->n_looks > LOOKS_MOST || pw_deadline_is_over(w->planner->deadline_s)) {
      w->n = w->n_done;
      break;
    }
    int n = w->n - w->n_done < BATCH ? w->n - w->n_done : BATCH;
    long room = 1 + (LOOKS_MOST - w->n_looks) / (LOOKS_PER_LOT * (w->plan->lots.n_lots + 1));
    n = n < room ? n : (int)room;
    pw_parallel(n, try_one, w);
    pw_status status = PW_OK;
    for (int i = w->n_done; i < w->n_done + n; i++) {
      pw_arena_close(w->trials[i].arena);
      w->n_looks += w->trials[i].n_looks;
      status = w->trials[i].status != PW_OK ? w->trials[i].status : status;
    }
    w->n_done += n;
    if (status != PW_OK)
      return status;
  }
  return PW_OK;
}

/* ---- which --------------------------------------------------------------------------------------------- */

static bool holds(const struct trial *t, const struct pw_way *way)
{
  for (int i = 0; i < t->n; i++)
    if (t->way[i] == way)
      return true;
  return false;
}

/* Adds the trial of `base` and one more way, unless it is there, makes no sense or there is no room. */
static void add_with(struct ways *w, const struct trial *base, const struct pw_way *way)
{
  struct trial t = {.n = base->n + 1};
  if (w->n == w->cap || base->n == PW_WAY_PARTS_MAX || holds(base, way) ||
      (way->copy_of != PW_NONE && !holds(base, &w->list[way->copy_of])))
    return;
  for (int i = 0; i < base->n; i++)
    if (!pw_ways_agree(base->way[i], way))
      return;
  int at = 0;
  for (; at < base->n && base->way[at] < way; at++)
    t.way[at] = base->way[at];
  t.way[at] = way;
  for (; at < base->n; at++)
    t.way[at + 1] = base->way[at];
  for (int i = 0; i < w->n; i++)
    if (w->trials[i].n == t.n && memcmp(w->trials[i].way, t.way, (size_t)t.n * sizeof(struct pw_way *)) == 0)
      return;
  w->trials[w->n++] = t;
}

/* fewest portions missing, fewest pieces left, then cheapest, then as listed */
static int by_help(const void *pa, const void *pb)
{
  const struct trial *a = *(const struct trial *const *)pa, *b = *(const struct trial *const *)pb;
  if (a->remedy.missed_portions_after != b->remedy.missed_portions_after)
    return a->remedy.missed_portions_after < b->remedy.missed_portions_after ? -1 : 1;
  if (a->remedy.missed_after != b->remedy.missed_after)
    return a->remedy.missed_after < b->remedy.missed_after ? -1 : 1;
  if (a->remedy.cost_cents != b->remedy.cost_cents)
    return a->remedy.cost_cents < b->remedy.cost_cents ? -1 : 1;
  return (a > b) - (a < b);
}

/* Trials [from, to) that can be, the most helpful first; returns how many. */
static int sorted(const struct trial **out, const struct ways *w, int from, int to)
{
  int n = 0;
  for (int i = from; i < to; i++)
    if (w->trials[i].remedy.missed_after < INT_MAX)
      out[n++] = &w->trials[i];
  qsort(out, (size_t)n, sizeof *out, by_help);
  return n;
}

static bool is_solved(const struct ways *w)
{
  for (int i = 0; i < w->n_done; i++)
    if (w->trials[i].remedy.missed_after == 0)
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
    const struct trial *found = NULL;
    for (int i = 0; i < w->n && w->trials[i].n == 1; i++) {
      const struct trial *t = &w->trials[i];
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
    least = w->trials[i].remedy.missed_portions_after < least ? w->trials[i].remedy.missed_portions_after : least;
  return least;
}

/* Two kinds together: a way that opens nothing alone (racks without a box to hold what comes off) may be what the other lacks. */
static pw_status pairs(struct ways *w)
{
  const struct pw_way *best[PW_WAY__COUNT];
  best_of_kinds(best, w);
  int end = w->n;
  for (int sum = 1; sum < 2 * PW_WAY__COUNT; sum++)
    for (int i = 0; 2 * i < sum && i < PW_WAY__COUNT; i++) {
      int k = sum - i;
      struct trial one = {.way = {best[i]}, .n = 1};
      if (k < PW_WAY__COUNT && best[i] && best[k] && w->n - end < WIDER_MOST)
        add_with(w, &one, best[k]);
    }
  return run(w);
}

/* The best of the last round with one more on top: of a pit that is among them another, else of each kind. */
static pw_status widen(struct ways *w, int from)
{
  const struct trial **base = pw_arena_array(w->ctx->arena, (size_t)w->cap, sizeof *base);
  const struct pw_way *best[PW_WAY__COUNT];
  if (!base)
    return PW_ERR_MEMORY;
  best_of_kinds(best, w);
  int end = w->n, n = sorted(base, w, from, end);
  for (int i = 0; i < n && i < BASES; i++) {
    for (int k = 0; k < w->n_list && w->n - end < WIDER_MOST; k++)
      if (w->list[k].copy_of != PW_NONE)
        add_with(w, base[i], &w->list[k]);
    for (int k = 0; k < PW_WAY__COUNT && w->n - end < WIDER_MOST; k++)
      if (best[k])
        add_with(w, base[i], best[k]);
  }
  return run(w);
}

/* ---- what is told --------------------------------------------------------------------------------------- */

/* A way out that leaves most of it short is none. */
static bool gets_out(const struct pw_remedy *remedy, int n_missed) { return remedy->missed_after <= n_missed / 2; }

static int by_cost(const void *pa, const void *pb)
{
  const struct trial *a = *(const struct trial *const *)pa, *b = *(const struct trial *const *)pb;
  bool a_solves = a->remedy.missed_after == 0, b_solves = b->remedy.missed_after == 0;
  if (a_solves != b_solves)
    return a_solves ? -1 : 1;
  if (a->remedy.cost_cents != b->remedy.cost_cents)
    return a->remedy.cost_cents < b->remedy.cost_cents ? -1 : 1;
  return (a > b) - (a < b);
}

/* The same change by less: as many guests helped by fewer waves of the same dishes. */
static bool is_same_by_less(const struct trial *t, const struct trial *other)
{
  bool is_alike = other->n == t->n && other < t && other->remedy.missed_after <= t->remedy.missed_after;
  for (int k = 0; k < t->n && is_alike; k++)
    is_alike = other->way[k] == t->way[k] ||
               (t->way[k]->part.kind == PW_WAY_WAVES && other->way[k]->part.kind == PW_WAY_WAVES &&
                other->way[k]->service == t->way[k]->service);
  return is_alike;
}

/* Every part of it alone, or some of them, does as well. */
static bool is_more_than_needed(const struct ways *w, const struct trial *t)
{
  for (int i = 0; i < w->n_done; i++) {
    const struct trial *other = &w->trials[i];
    bool is_part = other->n < t->n;
    for (int k = 0; k < other->n && is_part; k++)
      is_part = holds(t, other->way[k]);
    if ((is_part && other->remedy.missed_after <= t->remedy.missed_after) || is_same_by_less(t, other))
      return true;
  }
  return false;
}

static pw_status tell(struct ways *w)
{
  struct pw_allocation *a = &w->plan->allocation;
  const struct trial **told = pw_arena_array(w->ctx->arena, (size_t)w->cap, sizeof *told);
  a->remedies = pw_arena_array(w->ctx->arena, TOLD_MOST, sizeof *a->remedies);
  if (!told || !a->remedies)
    return PW_ERR_MEMORY;
  int n = 0;
  bool has_solved = is_solved(w);
  for (int i = 0; i < w->n_done; i++) {
    const struct trial *t = &w->trials[i];
    bool is_noise = t->n > 1 && has_solved && t->remedy.missed_after > 0;
    if (gets_out(&t->remedy, a->n_missed) && !is_noise && !is_more_than_needed(w, t))
      told[n++] = t;
  }
  qsort(told, (size_t)n, sizeof *told, by_cost);
  for (int i = 0; i < n && i < TOLD_MOST; i++) {
    struct pw_remedy *r = &a->remedies[a->n_remedies];
    *r = told[i]->remedy;
    r->lines = lines_of(told[i], w->ctx);
    for (int k = 0; k < told[i]->n; k++) {
      r->what = k == 0 ? told[i]->way[k]->what
                       : pw_arena_printf(w->ctx->arena, "%s; and %s", r->what ? r->what : "", told[i]->way[k]->what);
      r->parts[r->n_parts++] = told[i]->way[k]->part;
    }
    if (!r->what || !r->lines)
      return PW_ERR_MEMORY;
    a->n_remedies++;
  }
  return PW_OK;
}

pw_status pw_ways_make(struct pw_plan *plan, const struct pw_ways_planner *planner, struct pw_ctx *ctx)
{
  struct ways w = {.plan = plan, .planner = planner, .ctx = ctx};
  pw_status st = pw_way_list_make(&w.list, &w.n_list, plan, ctx);
  if (st != PW_OK)
    return st;
  w.cap = w.n_list + (PW_WAY_PARTS_MAX - 1) * WIDER_MOST;
  w.trials = pw_arena_array(ctx->arena, (size_t)w.cap + 1, sizeof *w.trials);
  if (!w.trials)
    return PW_ERR_MEMORY;
  struct trial none = {0};
  for (int i = 0; i < w.n_list; i++)
    add_with(&w, &none, &w.list[i]);
  st = run(&w);
  for (int from = 0, n = 2; st == PW_OK && n <= PW_WAY_PARTS_MAX && !is_solved(&w) && w.n > from; n++) {
    int end = w.n;
    st = n == 2 ? pairs(&w) : widen(&w, from);
    if (least_short(&w, end, w.n) >= least_short(&w, 0, end)) /* no more of it helps */
      break;
    from = end;
  }
  plan->n_ways_tried = w.n_done;
  return st == PW_OK ? tell(&w) : st;
}
