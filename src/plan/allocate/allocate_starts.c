/* allocate_starts.c - see allocate_starts.h.
 *
 * A guide is the linear program with racks that can be filled to a share only: real pieces leave gaps, and by how much
 * is not known beforehand, so there are several.  Each start takes a guide, reads windows out of it - a pit burns while
 * more than r - 1 + `share` of its class do - and searches from there.  Two start without a guide, and first: where they
 * meet the target no guide is made.  After a share of the work the best go on and the others rest. */
#include "plan/allocate/allocate_starts.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/diag.h"
#include "base/parallel.h"
#include "plan/allocate/allocate_guide.h"
#include "plan/allocate/allocate_tighten.h"
#include "plan/allocate/allocate_windows.h"

#include <math.h>
#include <stdatomic.h>
#include <string.h>

enum {
  SEEDS_APART = 1009, /* from one bout to the next */
  STARTS = 6,
  PLAIN_STARTS = 2,
  GO_ON = 2,
  GUIDES = 3,
  NO_GUIDE = -1,
  TIGHTEN_FROM_PIECES = 30,      /* fewer are soon where they will stay */
  GROUPED_PIECES = 40,           /* of a lot: those beyond hardly lengthen a round */
  FEWER_LOOKS = 6 * 1000 * 1000, /* of one fire fewer: above what a yard of six pits asks */
  BRANCH_COLUMNS = 800,
  BRANCH_ITERATIONS = 1000, /* a larger guide keeps its windows in fractions */
  GUIDES_COLUMNS = 9000     /* a larger program is solved for one guide only */
};

static const double ROOM_FRAC[GUIDES] = {0.75, 0.70, 0.80};
struct start_kind {
  int guide;
  unsigned seed;           /* beside the run's own */
  double share, heat_frac; /* heat: of a start without a guide */
};
static const struct start_kind KINDS[STARTS] = {
    {NO_GUIDE, 4, 0, 0.04}, {NO_GUIDE, 5, 0, 0.015}, {0, 0, 0.1, 0}, {1, 1, 0.1, 0}, {2, 2, 0.1, 0}, {0, 3, 0.3, 0},
};
/* rounds times pieces, about, from MANY_PIECES on, half of that for the fewest: inside the first windows, free of them,
 * in every start's trials, in those of the starts that go on, of a start without a guide before its trials, of the
 * last run, and of each search that shortens a fire */
static const double FIRST_PIECES = 250000, FREE_PIECES = 120000, TRIAL_PIECES = 250000, GO_ON_PIECES = 750000,
                    PLAIN_PIECES = 400000, LAST_PIECES = 300000, TIGHTEN_PIECES = 600000, MANY_PIECES = 45;
static const double COUNTED_WORK_FRAC =
    0.25; /* of a head count that nobody asked for: as much again for each would be most of a run */
static const double GUIDES_TIME_FRAC = 0.25,
                    STARTS_TIME_FRAC = 0.85; /* of the safety net; the rest is for the last run */

struct guide {
  struct pw_al_guide guide;
  struct pw_al_windows windows[STARTS];
  int *settings[STARTS];
  bool is_made;
  bool is_cut; /* the safety net cut it short */
  struct pw_ctx own;
  pw_status status;
};

/* the starts, each in memory of its own, so that they may run at the same time */
struct starts {
  const struct pw_al *al;
  const struct pw_al_starts_options *options;
  const struct pw_al_solution
      *quick;         /* a plan to be no dearer than: the quick one, then the best of the bouts before */
  unsigned seed;      /* of this bout */
  int n_pieces;       /* as counted_pieces() */
  double deadline_s;  /* 0: none */
  struct pw_ctx *ctx; /* for progress alone while the starts run */
  struct pw_al_listener listener;
  _Atomic double best_cents;  /* of all starts so far, for progress */
  atomic_flag is_telling;     /* one start at a time tells the progress */
  struct guide guide[GUIDES]; /* in memory of their own too, until the last bout */
  double guides_s;            /* their deadline */
  bool has_guides;
  struct pw_arena *arena[STARTS];
  struct pw_ctx own[STARTS]; /* each start's, with its arena */
  struct pw_al_trials *trials[STARTS];
  int going_on[GO_ON], n_going_on;
  bool is_cut; /* the safety net cut something short */
  pw_status status[STARTS];
  atomic_int n_wanted; /* those after the first that met the target are never looked at */
  struct pw_al_solution solution[STARTS];
};

/* Many pieces of a lot lie in few groups, and a round moves groups. */
static int counted_pieces(const struct pw_al *al)
{
  int n = 0;
  for (int c = 0; c < al->n_lots; c++)
    n += al->lot[c].n < GROUPED_PIECES ? al->lot[c].n : GROUPED_PIECES;
  return n;
}

static long rounds(const struct starts *s, double pieces)
{
  /* few pieces are soon where they will stay */
  double few = fmin(fmax(s->n_pieces / MANY_PIECES, 0.5), 1);
  double part = s->options->is_only_counted ? COUNTED_WORK_FRAC : 1;
  return (long)(few * (100 + floor(part * pieces / (s->n_pieces + 50))));
}

/* a start has a better plan: told by whichever start finds nobody telling, so that no call runs into another */
static void hear(void *user, double cost_cents)
{
  struct starts *s = user;
  double best = atomic_load(&s->best_cents);
  while (cost_cents < best && !atomic_compare_exchange_weak(&s->best_cents, &best, cost_cents))
    ;
  if (!s->ctx->progress || atomic_flag_test_and_set(&s->is_telling))
    return;
  s->ctx->progress(s->ctx->progress_user, "searching", atomic_load(&s->best_cents), fmax(s->options->bound_cents, 0));
  atomic_flag_clear(&s->is_telling);
}

static pw_status guide_make(const struct starts *s, int k, struct guide *g, struct pw_ctx *ctx)
{
  const struct pw_al *al = s->al;
  struct pw_al_model model;
  struct pw_al_model_options model_options = {.merge_slots = s->options->merge_slots, .room_frac = ROOM_FRAC[k]};
  struct pw_lp_options lp_options = {
      .seconds = pw_deadline_left(s->guides_s), .cutoff = HUGE_VAL, .warm = s->options->warm};
  struct pw_lp_result relaxed = {0}, whole;
  pw_status status = pw_al_model_make(&model, al, &model_options, ctx);
  if (!status && k > 0 && model.lp.n_cols > GUIDES_COLUMNS)
    return PW_OK; /* one guide must do */
  if (!status)
    status = pw_lp_solve(&relaxed, &model.lp, &lp_options, ctx);
  g->is_cut |= relaxed.is_by_time;
  if (status || relaxed.state != PW_LP_OPTIMAL)
    return status;
  if (k == 0 && model.lp.n_cols <= BRANCH_COLUMNS) {
    lp_options.warm = &relaxed;
    lp_options.as_integer = true;
    lp_options.gap_frac = 0.01;
    lp_options.n_iterations = BRANCH_ITERATIONS;
    status = pw_lp_solve(&whole, &model.lp, &lp_options, ctx);
    g->is_cut |= whole.is_by_time;
    if (!status && (whole.state == PW_LP_OPTIMAL || whole.state == PW_LP_FEASIBLE))
      relaxed = whole;
  }
  if (!status)
    status = pw_al_guide_make(&g->guide, &model, al, &relaxed, ctx);
  for (int n = 0; n < STARTS && !status; n++)
    if (KINDS[n].guide == k)
      status = pw_al_model_windows(&model, al, relaxed.x, KINDS[n].share, &g->windows[n], &g->settings[n], ctx);
  g->is_made = !status;
  return status;
}

/* a plan without a guide, by annealing alone */
static pw_status plain_plan(const struct starts *s, int n, struct pw_al_run *run, struct pw_al_trials *trials)
{
  struct pw_al_solution found;
  struct pw_al_search_options o = {.seed = s->seed + KINDS[n].seed,
                                   .n_rounds = rounds(s, PLAIN_PIECES),
                                   .heat_frac =
                                       KINDS[n].heat_frac > 0 ? KINDS[n].heat_frac : KINDS[PLAIN_STARTS - 1].heat_frac,
                                   .seconds = pw_deadline_left(s->deadline_s),
                                   .target_cents = s->options->target_cents,
                                   .listener = &s->listener};
  pw_status status = pw_al_run_search(run, &found, &o);
  if (!status)
    pw_al_trials_from(trials, &found);
  return status;
}

static pw_status start_make(struct starts *s, int n, struct pw_ctx *ctx)
{
  const struct pw_al_starts_options *options = s->options;
  const struct guide *g =
      KINDS[n].guide != NO_GUIDE && s->guide[KINDS[n].guide].is_made ? &s->guide[KINDS[n].guide] : NULL;
  struct pw_al_trials_options o = {.seed = s->seed + KINDS[n].seed * 7919u,
                                   .n_rounds_first = rounds(s, FIRST_PIECES),
                                   .n_rounds_free = rounds(s, FREE_PIECES),
                                   .n_rounds_missed = rounds(s, TRIAL_PIECES + GO_ON_PIECES),
                                   .deadline_s = s->deadline_s,
                                   .target_cents = options->target_cents,
                                   .worth_cents =
                                       options->bound_cents > 0 ? options->bound_cents : s->quick->cost_cents,
                                   .listener = &s->listener};
  if (g) {
    o.guide = &g->guide;
    o.windows = &g->windows[n];
    o.settings = g->settings[n];
  }
  struct pw_al_run *run;
  pw_status status = pw_al_run_open(&run, s->al, ctx);
  if (!status)
    status = pw_al_trials_open(&s->trials[n], run, s->al, &o, ctx);
  if (!status)
    status = g ? pw_al_trials_first(s->trials[n]) : plain_plan(s, n, run, s->trials[n]);
  return status ? status : pw_al_trials_go(s->trials[n], rounds(s, TRIAL_PIECES));
}

static void start_run(void *user, int n)
{
  struct starts *s = user;
  if (n >= atomic_load(&s->n_wanted))
    return;
  s->own[n] = (struct pw_ctx){.arena = s->arena[n]};
  s->status[n] = start_make(s, n, &s->own[n]);
  if (s->status[n])
    return;
  int wanted = atomic_load(&s->n_wanted);
  while (pw_al_trials_best(s->trials[n])->stopped_by == PW_STOP_GAP && n + 1 < wanted &&
         !atomic_compare_exchange_weak(&s->n_wanted, &wanted, n + 1))
    ;
}

static void go_on(void *user, int k)
{
  struct starts *s = user;
  int n = s->going_on[k];
  s->status[n] = pw_al_trials_go(s->trials[n], rounds(s, GO_ON_PIECES));
  if (!s->status[n])
    s->status[n] = pw_al_trials_fewer(s->trials[n], FEWER_LOOKS);
}

/* fewer waiting pieces first, then the cost */
static bool is_better(const struct pw_al_solution *a, const struct pw_al_solution *b)
{
  return a->n_missed != b->n_missed ? a->n_missed < b->n_missed : a->cost_cents < b->cost_cents - 1e-7;
}

/* the cheapest so far; none when one has met the target */
static void pick_going_on(struct starts *s, int n_wanted)
{
  bool is_taken[STARTS] = {false};
  for (int n = 0; n < n_wanted; n++)
    if (pw_al_trials_best(s->trials[n])->stopped_by == PW_STOP_GAP)
      return;
  while (s->n_going_on < GO_ON && s->n_going_on < n_wanted) {
    int best = PW_NONE;
    for (int n = 0; n < n_wanted; n++)
      if (!is_taken[n] &&
          (best == PW_NONE || is_better(pw_al_trials_best(s->trials[n]), pw_al_trials_best(s->trials[best]))))
        best = n;
    is_taken[best] = true;
    s->going_on[s->n_going_on++] = best;
  }
}

/* the plan there was is better than every start: the last of those that go on does so from it */
static void go_on_from_quick(struct starts *s)
{
  if (s->n_going_on < GO_ON || s->quick->n_missed > 0 ||
      is_better(pw_al_trials_best(s->trials[s->going_on[0]]), s->quick))
    return;
  struct pw_al_solution from = *s->quick;
  from.n_rounds = 0;
  from.stopped_by = PW_STOP_WORK;
  pw_al_trials_from(s->trials[s->going_on[GO_ON - 1]], &from);
}

/* a copy in memory that lasts */
static pw_status solution_keep(struct pw_al_solution *solution, const struct pw_al *al, struct pw_arena *arena)
{
  size_t n_settings = (size_t)(al->n_pits * al->n_days), n_pieces = (size_t)solution->n_pieces;
  struct pw_al_piece *pieces = pw_arena_array(arena, n_pieces + 1, sizeof *pieces);
  int *settings = pw_arena_array(arena, n_settings + 1, sizeof *settings);
  if (!pieces || !settings)
    return PW_ERR_MEMORY;
  memcpy(pieces, solution->pieces, n_pieces * sizeof *pieces);
  memcpy(settings, solution->settings, n_settings * sizeof *settings);
  solution->pieces = pieces;
  solution->settings = settings;
  return PW_OK;
}

static pw_status first_fault(const struct starts *s, int n_wanted)
{
  for (int n = 0; n < n_wanted; n++)
    if (s->status[n])
      return s->status[n];
  return PW_OK;
}

/* The starts without a guide, and beside them the guides for the others, in the first bout: no start waits for a guide alone. */
static void first_run(void *user, int i)
{
  struct starts *s = user;
  struct guide *g = i < PLAIN_STARTS ? NULL : &s->guide[i - PLAIN_STARTS];
  if (!g)
    start_run(s, i);
  else if (atomic_load(&s->n_wanted) == STARTS) /* else none of them is looked at */
    g->status = guide_make(s, i - PLAIN_STARTS, g, &g->own);
}

static pw_status firsts_run(struct starts *s)
{
  int n_guides = s->al->n_lots > 0 && !s->has_guides ? GUIDES : 0;                           /* once for all bouts */
  s->guides_s = fmin(s->deadline_s, pw_deadline_in(s->options->seconds * GUIDES_TIME_FRAC)); /* none of both, or both */
  for (int k = 0; k < n_guides; k++)
    if (!(s->guide[k].own = (struct pw_ctx){.arena = pw_arena_open()}).arena)
      return PW_ERR_MEMORY;
  pw_parallel(PLAIN_STARTS + n_guides, first_run, s);
  int n_wanted = atomic_load(&s->n_wanted);
  pw_status status = first_fault(s, PLAIN_STARTS < n_wanted ? PLAIN_STARTS : n_wanted);
  if (status || n_wanted < STARTS)
    return status;
  for (int k = 0; k < n_guides && !status; k++) {
    status = s->guide[k].status;
    s->is_cut |= s->guide[k].is_cut;
    pw_diag_take(s->ctx, &s->guide[k].own, false);
  }
  s->has_guides = true;
  return status;
}

static void guides_close(struct starts *s)
{
  for (int k = 0; k < GUIDES; k++)
    pw_arena_close(s->guide[k].own.arena);
}

static void guided_run(void *user, int k) { start_run(user, PLAIN_STARTS + k); }

static pw_status starts_run(struct starts *s, struct pw_ctx *ctx)
{
  pw_status status = PW_OK;
  for (int n = 0; n < STARTS; n++)
    if (!(s->arena[n] = pw_arena_open()))
      status = PW_ERR_MEMORY;
  atomic_store(&s->n_wanted, STARTS);
  if (!status)
    status = firsts_run(s);
  if (!status && atomic_load(&s->n_wanted) == STARTS)
    pw_parallel(STARTS - PLAIN_STARTS, guided_run, s);
  int n_wanted = atomic_load(&s->n_wanted);
  if (!status)
    status = first_fault(s, n_wanted);
  if (!status) {
    pick_going_on(s, n_wanted);
    go_on_from_quick(s);
    pw_parallel(s->n_going_on, go_on, s);
    status = first_fault(s, n_wanted);
  }
  for (int n = 0; n < STARTS; n++) {
    if (!status && n < n_wanted) {
      s->solution[n] = *pw_al_trials_best(s->trials[n]);
      status = solution_keep(&s->solution[n], s->al, ctx->arena);
    }
    pw_arena_close(s->arena[n]);
  }
  return status;
}

/* the lots of one service day as in `from`, the others as in `base` */
static pw_status cross_day(const struct pw_al *al, struct pw_al_solution *base, const struct pw_al_solution *from,
                           int day, struct pw_ctx *ctx)
{
  size_t n_settings = (size_t)(al->n_pits * al->n_days);
  struct pw_al_piece *pieces = pw_arena_array(ctx->arena, (size_t)base->n_pieces + 1, sizeof *pieces);
  int *settings = pw_arena_array(ctx->arena, n_settings + 1, sizeof *settings);
  if (!pieces || !settings)
    return PW_ERR_MEMORY;
  memcpy(settings, base->settings, n_settings * sizeof *settings);
  for (int p = 0; p < al->n_pits; p++)
    settings[p * al->n_days + day] = from->settings[p * al->n_days + day];
  for (int i = 0; i < base->n_pieces; i++)
    pieces[i] = al->lot[base->pieces[i].lot].day == day ? from->pieces[i] : base->pieces[i];
  struct pw_al_solution mixed;
  struct pw_al_search_options o = {.pieces = pieces, .settings = settings, .heat_frac = 0.01};
  pw_status status = pw_al_search(&mixed, al, &o, ctx);
  if (!status && is_better(&mixed, base))
    *base = mixed;
  return status;
}

/* a last cool run from the best of all */
static pw_status last_run(const struct starts *s, struct pw_al_solution *best, struct pw_ctx *ctx)
{
  struct pw_al_solution last;
  struct pw_al_search_options o = {.seed = s->seed + STARTS,
                                   .n_rounds = rounds(s, LAST_PIECES),
                                   .heat_frac = 0.01,
                                   .seconds = pw_deadline_left(s->deadline_s),
                                   .target_cents = s->options->target_cents,
                                   .pieces = best->pieces,
                                   .settings = best->settings,
                                   .listener = &s->listener};
  bool is_cut = best->stopped_by == PW_STOP_TIME;
  pw_status status = pw_al_search(&last, s->al, &o, ctx);
  if (status)
    return status;
  last.n_rounds += best->n_rounds;
  best->n_rounds = last.n_rounds;
  is_cut |= last.stopped_by == PW_STOP_TIME;
  if (!is_better(best, &last))
    *best = last;
  if (is_cut && best->stopped_by == PW_STOP_WORK)
    best->stopped_by = PW_STOP_TIME;
  return PW_OK;
}

/* a fire of many pieces made shorter by searches that do nothing else */
static pw_status tighten(struct starts *s, struct pw_al_solution *best, struct pw_ctx *ctx)
{
  struct pw_al_tighten_options o = {.seed = s->seed,
                                    .n_rounds = rounds(s, TIGHTEN_PIECES),
                                    .worth_cents =
                                        s->options->bound_cents > 0 ? s->options->bound_cents : s->quick->cost_cents,
                                    .target_cents = s->options->target_cents,
                                    .deadline_s = s->deadline_s,
                                    .guide = s->guide[0].is_made ? &s->guide[0].guide : NULL,
                                    .listener = &s->listener};
  if (s->options->is_only_counted || best->n_missed > 0 || best->n_pieces < TIGHTEN_FROM_PIECES)
    return PW_OK;
  pw_status status = solution_keep(best, s->al, ctx->arena);
  return status ? status : pw_al_tighten(best, s->al, &o, ctx);
}

/* All starts, the days of the best crossed, the last run.  What it keeps lives in `ctx`, which may be closed after a copy. */
static pw_status bout(struct pw_al_solution *out, struct starts *s, double whole_s, struct pw_ctx *ctx)
{
  const struct pw_al *al = s->al;
  pw_status status = starts_run(s, ctx);
  if (status)
    return status;
  int n_looked_at = 0, k_best = 0;
  long work = 0;
  for (bool is_done = false; n_looked_at < STARTS && !is_done; n_looked_at++) {
    const struct pw_al_solution *start = &s->solution[n_looked_at];
    work += start->n_rounds;
    if (is_better(start, &s->solution[k_best]))
      k_best = n_looked_at;
    s->is_cut |= start->stopped_by == PW_STOP_TIME;
    is_done = start->stopped_by == PW_STOP_GAP;
  }
  bool is_quick_best = !is_better(&s->solution[k_best], s->quick);
  *out = is_quick_best ? *s->quick : s->solution[k_best];
  out->n_rounds = work;
  if (s->solution[n_looked_at - 1].stopped_by == PW_STOP_GAP) {
    out->stopped_by = PW_STOP_GAP;
    return PW_OK;
  }
  for (int d = 0; d < al->n_days && al->n_days > 1 && !status; d++)
    for (int k = 0; k < n_looked_at && !status; k++)
      if (is_quick_best || k != k_best) {
        status = cross_day(al, out, &s->solution[k], d, ctx);
        out->n_rounds = work;
      }
  if (s->is_cut)
    out->stopped_by = PW_STOP_TIME; /* whichever start was the best: more time might have made another */
  double starts_s = s->deadline_s;
  s->deadline_s = whole_s;
  if (!status)
    status = tighten(s, out, ctx);
  if (!status)
    status = last_run(s, out, ctx);
  s->deadline_s = starts_s;
  return status;
}

/* More work is more bouts, each with other dice and no dearer than what the ones before it found: so that more work repeats all
 * that less work does, and never ends with a dearer plan. */
pw_status pw_al_starts_search(struct pw_al_solution *out, const struct pw_al *al,
                              const struct pw_al_starts_options *options, struct pw_ctx *ctx)
{
  struct starts s = {.al = al,
                     .options = options,
                     .quick = options->quick,
                     .n_pieces = counted_pieces(al),
                     .ctx = ctx,
                     .is_telling = ATOMIC_FLAG_INIT};
  s.listener = (struct pw_al_listener){hear, &s};
  atomic_store(&s.best_cents, options->quick->cost_cents);
  double whole_s = pw_deadline_in(options->seconds);
  s.deadline_s = pw_deadline_in(options->seconds * STARTS_TIME_FRAC);
  struct pw_al_solution best = *options->quick;
  int n_bouts = options->work_times > 1 ? (int)options->work_times : 1;
  long work = 0;
  pw_status status = PW_OK;
  for (int k = 0; k < n_bouts && !status; k++) {
    struct pw_ctx own = {.arena = pw_arena_open()};
    s.seed = options->seed + (unsigned)k * SEEDS_APART;
    s.quick = &best;
    s.n_going_on = 0;
    struct pw_al_solution found = {0};
    status = own.arena ? bout(&found, &s, whole_s, &own) : PW_ERR_MEMORY;
    if (!status)
      status = solution_keep(&found, al, ctx->arena);
    pw_arena_close(own.arena);
    if (status)
      break;
    work += found.n_rounds;
    best = found;
    if (found.stopped_by != PW_STOP_WORK)
      break;
  }
  guides_close(&s);
  *out = best;
  out->n_rounds = work;
  return status;
}
