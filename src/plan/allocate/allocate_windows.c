/* allocate_windows.c - trials on burn windows.
 *
 * A trial names a window for every pit and day and asks the whole-piece search to get the food into them; pieces that
 * find no place count their share of the plan's worth several times over, so that rounds may trade one for another
 * and a plan with a piece in hand may lead to a cheaper one.  While pieces wait, trials widen windows or open a pit;
 * else they shorten them, or shorten one end and widen another, or close a pit.  When trials no longer help, waiting
 * pieces grow dearer. */
#include "plan/allocate/allocate_windows.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "plan/allocate/allocate_insert.h"

#include <math.h>
#include <string.h>

static const double MISS_TIMES = 4;             /* what a waiting piece counts of its share, to begin with */
static const double MISS_DEARER = 1.25;         /* and how much more after STALLED_TRIALS */
static const double HEAT_FRAC = 0.002;          /* of the worth of all pieces waiting */
static const double HEAT_FREE_FRAC = 0.005;     /* of the plan's cost */
static const double WORTH_KEEPING_FRAC = 0.002; /* a trial ends when it is better by so much */
enum {
  STALLED_TRIALS = 6,
  ROUNDS_OF_A_TRIAL = 300,
  ROUNDS_TO_CLOSE = 600,
  TRIALS_TO_CLOSE = 10,
  TIMES_TO_CLOSE = 2,
  NO_PLAN_CENTS = 1000000000
};

struct pw_al_trials {
  const struct pw_al *al;
  struct pw_al_run *run;
  struct pw_al_trials_options options;
  struct pw_al_solution best;
  struct pw_al_solution now;        /* may have pieces without a place; its cost counts them at `price` */
  struct pw_al_windows span, trial; /* [p * n_days + d] of `now`; of the trial */
  struct pw_al_rng rng;
  double price;            /* times its share that a waiting piece counts */
  unsigned char *is_tried; /* [p * n_days + d] closed once */
  long n_looks;            /* options looked at in trials */
  unsigned n_trials;
  int n_stalled; /* trials since one helped */
};

static int below(struct pw_al_trials *t, int n) { return pw_al_rng_below(&t->rng, n); }

static void stretch(struct pw_al_windows *w, int pd, int a, int b)
{
  bool is_first = w->from[pd] >= w->to[pd];
  w->from[pd] = is_first || a < w->from[pd] ? a : w->from[pd];
  w->to[pd] = is_first || b > w->to[pd] ? b : w->to[pd];
}

void pw_al_windows_of(struct pw_al_windows *w, const struct pw_al *al, const struct pw_al_solution *solution)
{
  int n = al->n_pits * al->n_days;
  for (int k = 0; k < n; k++)
    w->from[k] = w->to[k] = 0;
  for (int i = 0; i < solution->n_pieces; i++) {
    const struct pw_al_piece *piece = &solution->pieces[i];
    if (!piece->is_placed)
      continue;
    int day = al->lot[piece->lot].day;
    stretch(w, al->pit_of_zone[piece->zone] * al->n_days + day, piece->start, piece->mid);
    if (piece->place != PW_NONE && piece->place < al->n_zones)
      stretch(w, al->pit_of_zone[piece->place] * al->n_days + day, piece->mid, piece->done);
  }
}

static void spans_make(struct pw_al_trials *t) { pw_al_windows_of(&t->span, t->al, &t->now); }

static bool is_lit(const struct pw_al_windows *w, int pd) { return w->from[pd] < w->to[pd]; }

static int pick_lit(struct pw_al_trials *t)
{
  int n = t->al->n_pits * t->al->n_days, first = below(t, n);
  for (int k = 0; k < n; k++)
    if (is_lit(&t->span, (first + k) % n))
      return (first + k) % n;
  return PW_NONE;
}

static void trim(struct pw_al_trials *t, int pd, int by)
{
  if (below(t, 2))
    t->trial.from[pd] += by;
  else
    t->trial.to[pd] -= by;
  if (!is_lit(&t->trial, pd))
    t->trial.from[pd] = t->trial.to[pd] = 0;
}

static void widen(struct pw_al_trials *t, int pd, int by)
{
  if (below(t, 2))
    t->trial.from[pd] = t->trial.from[pd] - by < 0 ? 0 : t->trial.from[pd] - by;
  else
    t->trial.to[pd] = t->trial.to[pd] + by > t->al->n_slots ? t->al->n_slots : t->trial.to[pd] + by;
}

/* slots by which a window changes: small steps mostly */
static int step(struct pw_al_trials *t)
{
  int k = below(t, 10);
  return k < 5 ? 1 : k < 8 ? 2 : k < 9 ? 3 : 5;
}

/* a further pit for some lot that waits: as late as that lot may cook */
static void open_pit(struct pw_al_trials *t)
{
  const struct pw_al *al = t->al;
  int p = below(t, al->n_pits), c = PW_NONE, n = 0;
  for (int i = 0; i < t->now.n_pieces; i++)
    if (!t->now.pieces[i].is_placed && below(t, ++n) == 0)
      c = t->now.pieces[i].lot;
  if (c == PW_NONE || al->pit[p].zone_end <= al->pit[p].zone_first)
    return;
  const struct pw_al_lot *lot = &al->lot[c];
  int pd = p * al->n_days + lot->day, z = al->pit[p].zone_first + below(t, al->pit[p].zone_end - al->pit[p].zone_first);
  size_t zs = (size_t)z * (size_t)al->n_settings_max + (size_t)t->now.settings[pd];
  if (is_lit(&t->trial, pd) || lot->d1[zs] == PW_NONE)
    return;
  int from = lot->done_last - lot->d1[zs] - (lot->d2[zs] > 0 ? lot->d2[zs] : 0) - below(t, 3);
  t->trial.from[pd] = from < al->pit[p].lead ? al->pit[p].lead : from;
  t->trial.to[pd] = lot->done_last;
}

/* shorter at one end and longer at another */
static void trade(struct pw_al_trials *t, int pd)
{
  trim(t, pd, step(t) + 1);
  int other = pick_lit(t);
  if (is_lit(&t->trial, other))
    widen(t, other, step(t));
}

/* one pit fewer, the others longer; or another in its place */
static void close_pit(struct pw_al_trials *t, int pd, bool is_swap)
{
  const struct pw_al *al = t->al;
  int n = al->n_pits * al->n_days, from = t->trial.from[pd], to = t->trial.to[pd];
  int q = below(t, al->n_pits) * al->n_days + pd % al->n_days;
  t->trial.from[pd] = t->trial.to[pd] = 0;
  if (is_swap && !is_lit(&t->trial, q)) {
    t->trial.from[q] = from > 0 ? from - 1 : from;
    t->trial.to[q] = to < al->n_slots ? to + 1 : to;
    return;
  }
  for (int k = 0; k < n; k++)
    if (is_lit(&t->trial, k)) {
      widen(t, k, 2);
      widen(t, k, 2);
    }
}

/* two pits of a day change their first hours, or their last: who burns through the night is not found by small steps */
static void exchange(struct pw_al_trials *t, int pd)
{
  const struct pw_al *al = t->al;
  int first = below(t, al->n_pits), other = PW_NONE;
  for (int k = 0; k < al->n_pits && other == PW_NONE; k++) {
    int q = (first + k) % al->n_pits * al->n_days + pd % al->n_days;
    other = q != pd && is_lit(&t->trial, q) ? q : PW_NONE;
  }
  if (other == PW_NONE) {
    trade(t, pd);
    return;
  }
  int *edge = below(t, 2) ? t->trial.to : t->trial.from, pair[] = {pd, other}, was = edge[pd];
  edge[pd] = edge[other];
  edge[other] = was;
  for (int i = 0; i < 2; i++)
    if (is_lit(&t->trial, pair[i])) { /* the same food takes its own time there */
      int from = t->trial.from[pair[i]] - 2, to = t->trial.to[pair[i]] + 2;
      t->trial.from[pair[i]] = from < 0 ? 0 : from;
      t->trial.to[pair[i]] = to > al->n_slots ? al->n_slots : to;
    } else {
      t->trial.from[pair[i]] = t->trial.to[pair[i]] = 0;
    }
}

static void propose(struct pw_al_trials *t)
{
  int n = t->al->n_pits * t->al->n_days, kind = below(t, 100), pd = pick_lit(t);
  memcpy(t->trial.from, t->span.from, (size_t)n * sizeof *t->span.from);
  memcpy(t->trial.to, t->span.to, (size_t)n * sizeof *t->span.to);
  if (t->now.n_missed && (pd == PW_NONE || below(t, 100) < 60)) {
    if (pd != PW_NONE && below(t, 100) < 75)
      widen(t, pd, step(t));
    else
      open_pit(t);
  } else if (pd == PW_NONE || kind < 10) {
    return; /* the same windows again: other dice */
  } else if (kind < 40) {
    trim(t, pd, step(t));
  } else if (kind < 75) {
    trade(t, pd);
  } else if (kind < 85) {
    exchange(t, pd);
  } else {
    close_pit(t, pd, kind >= 93);
  }
}

static void copy(const struct pw_al *al, struct pw_al_solution *to, const struct pw_al_solution *from)
{
  memcpy(to->pieces, from->pieces, (size_t)from->n_pieces * sizeof *from->pieces);
  memcpy(to->settings, from->settings, (size_t)(al->n_pits * al->n_days) * sizeof *from->settings);
  to->cost_cents = from->cost_cents;
  to->n_missed = from->n_missed;
  to->n_pieces = from->n_pieces;
}

static pw_status room_for(struct pw_al_solution *solution, const struct pw_al *al, struct pw_ctx *ctx)
{
  int n_pieces = 0;
  for (int c = 0; c < al->n_lots; c++)
    n_pieces += al->lot[c].n;
  memset(solution, 0, sizeof *solution);
  solution->pieces = pw_arena_array(ctx->arena, (size_t)n_pieces + 1, sizeof *solution->pieces);
  solution->settings = pw_arena_array(ctx->arena, (size_t)(al->n_pits * al->n_days) + 1, sizeof *solution->settings);
  solution->cost_cents = NO_PLAN_CENTS;
  return solution->pieces && solution->settings ? PW_OK : PW_ERR_MEMORY;
}

/* the same plan, waiting pieces at a higher price */
static void make_dearer(struct pw_al_trials *t)
{
  double share = 0, more = t->price * MISS_DEARER;
  for (int i = 0; i < t->now.n_pieces; i++)
    if (!t->now.pieces[i].is_placed)
      share += pw_al_run_share(t->run, t->now.pieces[i].lot);
  t->now.cost_cents += (more - t->price) * t->options.worth_cents * share;
  t->price = more;
}

pw_status pw_al_trials_first(struct pw_al_trials *t)
{
  const struct pw_al_trials_options *o = &t->options;
  struct pw_al_solution found;
  struct pw_al_search_options in = {.seed = o->seed,
                                    .n_rounds = o->n_rounds_first,
                                    .heat_frac = HEAT_FRAC,
                                    .limits = o->windows,
                                    .miss_all_cents = t->price * o->worth_cents,
                                    .guide = o->guide,
                                    .is_lit = o->guide != NULL,
                                    .settings = o->settings,
                                    .seconds = pw_deadline_left(o->deadline_s),
                                    .listener = o->listener};
  pw_status status = pw_al_run_search(t->run, &found, &in);
  if (status)
    return status;
  copy(t->al, &t->now, &found);
  t->best.n_rounds += found.n_rounds;
  /* then, from there, wherever it costs least */
  struct pw_al_search_options out = {.seed = o->seed,
                                     .n_rounds = o->n_rounds_free,
                                     .heat_frac = HEAT_FREE_FRAC,
                                     .n_rounds_missed = o->n_rounds_missed,
                                     .pieces = t->now.pieces,
                                     .settings = t->now.settings,
                                     .target_cents = o->target_cents,
                                     .seconds = pw_deadline_left(o->deadline_s),
                                     .listener = o->listener};
  status = pw_al_run_search(t->run, &found, &out);
  if (!status)
    pw_al_trials_from(t, &found);
  return status;
}

void pw_al_trials_from(struct pw_al_trials *t, const struct pw_al_solution *from)
{
  copy(t->al, &t->now, from);
  copy(t->al, &t->best, from);
  t->best.n_rounds += from->n_rounds;
  t->best.stopped_by = from->stopped_by;
  spans_make(t);
}

/* A search that a trial asked for; counts its rounds and looks. */
static pw_status look(struct pw_al_trials *t, const struct pw_al_search_options *options, struct pw_al_solution *found,
                      long *n_used)
{
  pw_status status = pw_al_run_search(t->run, found, options);
  if (status)
    return status;
  *n_used += found->n_rounds;
  t->n_looks += found->n_looks;
  return PW_OK;
}

static void keep_if_best(struct pw_al_trials *t, const struct pw_al_solution *found)
{
  if (!found->n_missed && found->cost_cents < t->best.cost_cents - 1e-6)
    copy(t->al, &t->best, found);
}

/* the proposed windows, searched */
static pw_status trial(struct pw_al_trials *t, long n_rounds, long *n_used)
{
  const struct pw_al_trials_options *o = &t->options;
  struct pw_al_solution found;
  struct pw_al_search_options options = {.seed = o->seed + ++t->n_trials,
                                         .n_rounds = n_rounds,
                                         .heat_frac = HEAT_FRAC,
                                         .miss_all_cents = t->price * o->worth_cents,
                                         .limits = &t->trial,
                                         .guide = o->guide,
                                         .is_lit = o->guide != NULL,
                                         .pieces = t->now.pieces,
                                         .settings = t->now.settings,
                                         .target_cents = t->now.cost_cents - WORTH_KEEPING_FRAC * o->worth_cents,
                                         .seconds = pw_deadline_left(o->deadline_s),
                                         .listener = o->listener};
  pw_status status = look(t, &options, &found, n_used);
  if (status)
    return status;
  ++*n_used; /* one that found nothing was work too */
  if (found.cost_cents < t->now.cost_cents - 1e-6) {
    copy(t->al, &t->now, &found);
    spans_make(t);
    t->n_stalled = 0;
    keep_if_best(t, &found);
  } else if (++t->n_stalled >= STALLED_TRIALS && t->now.n_missed) {
    t->n_stalled = 0;
    make_dearer(t);
  }
  return PW_OK;
}

pw_status pw_al_trials_go(struct pw_al_trials *t, long n_rounds)
{
  if (t->best.n_missed || t->best.stopped_by != PW_STOP_WORK)
    return PW_OK;
  pw_status status = PW_OK;
  long n_used = 0;
  while (!status && n_used < n_rounds && t->best.stopped_by == PW_STOP_WORK) {
    if (t->best.cost_cents <= t->options.target_cents)
      t->best.stopped_by = PW_STOP_GAP;
    else if (pw_deadline_is_over(t->options.deadline_s))
      t->best.stopped_by = PW_STOP_TIME;
    else {
      propose(t);
      status = trial(t, ROUNDS_OF_A_TRIAL, &n_used);
    }
  }
  if (t->best.cost_cents <= t->options.target_cents)
    t->best.stopped_by = PW_STOP_GAP;
  t->best.n_rounds += n_used;
  return status;
}

/* from the best plan again */
static void back_to_best(struct pw_al_trials *t)
{
  copy(t->al, &t->now, &t->best);
  spans_make(t);
}

/* what still waits goes wherever it costs least */
static pw_status place_waiting(struct pw_al_trials *t, long *n_used)
{
  const struct pw_al_trials_options *o = &t->options;
  struct pw_al_solution found;
  struct pw_al_search_options options = {.seed = o->seed + ++t->n_trials,
                                         .n_rounds = ROUNDS_TO_CLOSE,
                                         .heat_frac = HEAT_FREE_FRAC,
                                         .pieces = t->now.pieces,
                                         .settings = t->now.settings,
                                         .target_cents = o->target_cents,
                                         .seconds = pw_deadline_left(o->deadline_s),
                                         .listener = o->listener};
  pw_status status = look(t, &options, &found, n_used);
  if (!status)
    keep_if_best(t, &found);
  return status;
}

/* the best plan without one of its fires, the others' windows wider; then trials for what waits */
static pw_status close_one(struct pw_al_trials *t, int pd, long looks_most, long *n_used)
{
  size_t n = (size_t)(t->al->n_pits * t->al->n_days);
  memcpy(t->trial.from, t->span.from, n * sizeof *t->span.from);
  memcpy(t->trial.to, t->span.to, n * sizeof *t->span.to);
  close_pit(t, pd, false);
  pw_status status = trial(t, ROUNDS_TO_CLOSE, n_used);
  for (int k = 0; k < TRIALS_TO_CLOSE && t->now.n_missed && t->n_looks < looks_most && !status; k++) {
    propose(t);
    status = trial(t, ROUNDS_OF_A_TRIAL, n_used);
  }
  if (t->now.n_missed && t->n_looks < looks_most && !status)
    status = place_waiting(t, n_used);
  back_to_best(t);
  return status;
}

/* whether another pit burns that day, which could take its food */
static bool has_other(const struct pw_al_trials *t, int pd)
{
  const struct pw_al *al = t->al;
  for (int k = pd % al->n_days; k < al->n_pits * al->n_days; k += al->n_days)
    if (k != pd && is_lit(&t->span, k))
      return true;
  return false;
}

/* the shortest fire not tried yet, the first of several; PW_NONE: none is left */
static int shortest(const struct pw_al_trials *t)
{
  int best = PW_NONE;
  for (int pd = 0; pd < t->al->n_pits * t->al->n_days; pd++)
    if (is_lit(&t->span, pd) && !t->is_tried[pd] && has_other(t, pd) &&
        (best == PW_NONE || t->span.to[pd] - t->span.from[pd] < t->span.to[best] - t->span.from[best]))
      best = pd;
  return best;
}

pw_status pw_al_trials_fewer(struct pw_al_trials *t, long n_looks)
{
  if (t->best.n_missed || t->best.stopped_by != PW_STOP_WORK)
    return PW_OK;
  pw_status status = PW_OK;
  long n_used = 0, most = t->n_looks + n_looks;
  back_to_best(t);
  for (int i = 0; i < TIMES_TO_CLOSE; i++) {
    memset(t->is_tried, 0, (size_t)(t->al->n_pits * t->al->n_days));
    for (int pd; !status && t->n_looks < most && !pw_deadline_is_over(t->options.deadline_s) &&
                 (pd = shortest(t)) != PW_NONE;) {
      t->is_tried[pd] = 1;
      status = close_one(t, pd, most, &n_used);
    }
  }
  t->best.n_rounds += n_used;
  return status;
}

const struct pw_al_solution *pw_al_trials_best(const struct pw_al_trials *t) { return &t->best; }

static int *ints(struct pw_ctx *ctx, int n) { return pw_arena_array(ctx->arena, (size_t)n + 1, sizeof(int)); }

pw_status pw_al_trials_open(struct pw_al_trials **out, struct pw_al_run *run, const struct pw_al *al,
                            const struct pw_al_trials_options *options, struct pw_ctx *ctx)
{
  int n = al->n_pits * al->n_days;
  struct pw_al_trials *t = pw_arena_alloc(ctx->arena, sizeof *t);
  if (!(*out = t))
    return PW_ERR_MEMORY;
  *t = (struct pw_al_trials){.al = al,
                             .run = run,
                             .options = *options,
                             .price = MISS_TIMES,
                             .span = {ints(ctx, n), ints(ctx, n)},
                             .trial = {ints(ctx, n), ints(ctx, n)},
                             .rng.s = UINT64_C(0x9E3779B97F4A7C15) * (options->seed + 1u)};
  t->is_tried = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *t->is_tried);
  if (!t->is_tried || !t->span.from || !t->span.to || !t->trial.from || !t->trial.to)
    return PW_ERR_MEMORY;
  pw_status status = room_for(&t->best, al, ctx);
  return status ? status : room_for(&t->now, al, ctx);
}
