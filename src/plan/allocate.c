/* allocate.c - the allocation stage: the linear program for windows and a bound, then several searches over
 * whole pieces, the best one kept. */
#include "plan/allocate_cuts.h"
#include "plan/allocate_model.h"
#include "plan/allocate_result.h"
#include "plan/allocate_short.h"
#include "plan/stages.h"

#include "base/arena.h"
#include "base/parallel.h"

#include <math.h>
#include <stdatomic.h>
#include <string.h>
#include <time.h>

/* How much work each part may do: counts, never seconds, so that the same input gives the same plan. */
enum {
  QUICK_ROUNDS = 60,
  QUICK_ROUNDS_MISSED = 400, /* while pieces find no place */
  STARTS = 6,
  CUT_ROUNDS = 4,
  BRANCH_COLUMNS = 1200,   /* larger models are not branched on */
  MERGE_FROM_ZONES = 40    /* with more zones, those whose times differ by one slot are one group in the model */
};
static const double ROUNDS_PIECES = 800000; /* rounds times pieces of one start, about */
static const double TARGET_GAP_FRAC = 0.004; /* nearer than that is not worth a cook's waiting */
static const double BOUND_ROUNDING_FRAC = 1e-6;

static double now_s(void)
{
  struct timespec ts;
  return clock_gettime(CLOCK_MONOTONIC, &ts) ? 0 : (double)ts.tv_sec + 1e-9 * (double)ts.tv_nsec;
}

/* the relaxation with its cuts, then branch and bound for whole windows */
static pw_status bound_make(struct pw_al_model *model, struct pw_lp_result *best, double *bound_cents,
                            const struct pw_al *al, const struct pw_allocate_options *options, struct pw_ctx *ctx)
{
  struct pw_al_model_options model_options = {.merge_slots = al->n_zones > MERGE_FROM_ZONES ? 1 : 0};
  pw_status status = pw_al_model_make(model, al, &model_options, ctx);
  struct pw_al_cuts cuts;
  if (!status)
    status = pw_al_cuts_init(&cuts, model, al, ctx);
  struct pw_lp_result relaxed, *warm = NULL;
  struct pw_lp_options lp_options = {.seconds = options->seconds, .cutoff = HUGE_VAL};
  for (int k = 0; !status && k <= CUT_ROUNDS; k++) {
    lp_options.warm = warm;
    status = pw_lp_solve(&relaxed, &model->lp, &lp_options, ctx);
    if (status || relaxed.state != PW_LP_OPTIMAL)
      break;
    *best = relaxed;
    *bound_cents = fmax(*bound_cents, pw_lp_dual_bound(&model->lp, relaxed.dual));
    warm = best;
    int n_added = 0;
    if (k < CUT_ROUNDS)
      status = pw_al_cuts_add(&cuts, &model->lp, relaxed.x, &n_added);
    if (n_added == 0)
      break;
  }
  if (status || !warm || model->lp.n_cols > BRANCH_COLUMNS)
    return status;
  struct pw_lp_result whole;
  lp_options.warm = best;
  lp_options.as_integer = true;
  lp_options.gap_frac = 0.002;
  lp_options.n_iterations = 4000;
  status = pw_lp_solve(&whole, &model->lp, &lp_options, ctx);
  if (!status && (whole.state == PW_LP_OPTIMAL || whole.state == PW_LP_FEASIBLE)) {
    *bound_cents = fmax(*bound_cents, whole.bound);
    *best = whole;
  } else if (!status) {
    *bound_cents = fmax(*bound_cents, whole.bound);
  }
  return status;
}

static pw_status dump(const struct pw_al *al, const char *path, struct pw_ctx *ctx)
{
  struct pw_al_model model;
  struct pw_al_model_options options = {.pieces_whole = true, .has_names = true};
  pw_status status = pw_al_model_make(&model, al, &options, ctx);
  return status ? status : pw_lp_write(&model.lp, path, ctx);
}

struct plan_search {
  const struct pw_al *al;
  const struct pw_allocate_options *options;
  const struct pw_al_windows *windows;
  const int *settings;
  double target_cents;
  long work;
};

static pw_status quick_search(struct plan_search *ps, struct pw_al_solution *best, struct pw_ctx *ctx)
{
  struct pw_al_search_options o = {.seed = ps->options->seed, .n_rounds = QUICK_ROUNDS, .heat_frac = 0.015,
                                   .n_rounds_missed = QUICK_ROUNDS_MISSED, .seconds = ps->options->seconds};
  pw_status status = pw_al_search(best, ps->al, &o, ctx);
  ps->work = best->n_rounds;
  return status;
}

/* the lots of one service day as in `from`, the others as in `base` */
static pw_status cross_day(struct plan_search *ps, struct pw_al_solution *base, const struct pw_al_solution *from, int day,
                           struct pw_ctx *ctx)
{
  const struct pw_al *al = ps->al;
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
  if (!status && mixed.cost_cents < base->cost_cents - 1e-7)
    *base = mixed;
  return status;
}

/* the starts, each in memory of its own, so that they may run at the same time */
struct starts {
  struct plan_search *ps;
  long n_rounds;
  struct pw_arena *arena[STARTS];
  pw_status status[STARTS];
  atomic_int n_wanted;     /* those after the first that met the target are never looked at */
  struct pw_al_solution solution[STARTS];
};

static void start_run(void *user, int n)
{
  struct starts *s = user;
  const struct plan_search *ps = s->ps;
  const struct pw_allocate_options *options = ps->options;
  if (n >= atomic_load(&s->n_wanted))
    return;
  struct pw_ctx own = {.arena = s->arena[n]};
  struct pw_al_search_options o = {.seed = options->seed + (unsigned)n,
                                   .n_rounds = s->n_rounds,
                                   .heat_frac = n % 2 == 0 ? 0.015 : 0.04,
                                   .seconds = options->seconds > 0 ? fmax(options->seconds / (STARTS + 1), 0.01) : 0,
                                   .target_cents = ps->target_cents,
                                   .windows = n % 3 == 0 ? ps->windows : NULL,
                                   .settings = n % 3 == 0 ? ps->settings : NULL};
  s->status[n] = pw_al_search(&s->solution[n], ps->al, &o, &own);
  int wanted = atomic_load(&s->n_wanted);
  while (s->solution[n].stopped_by == PW_STOP_GAP && n + 1 < wanted &&
         !atomic_compare_exchange_weak(&s->n_wanted, &wanted, n + 1))
    ;
}

/* a copy in the run's own memory */
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

static pw_status starts_make(struct starts *s, struct pw_ctx *ctx)
{
  pw_status status = PW_OK;
  for (int n = 0; n < STARTS; n++)
    if (!(s->arena[n] = pw_arena_open()))
      status = PW_ERR_MEMORY;
  atomic_store(&s->n_wanted, STARTS);
  if (!status)
    pw_parallel(STARTS, start_run, s);
  for (int n = 0; n < STARTS; n++) {
    if (!status && n < atomic_load(&s->n_wanted))
      status = s->status[n];
    if (!status && n < atomic_load(&s->n_wanted))
      status = solution_keep(&s->solution[n], s->ps->al, ctx->arena);
    pw_arena_close(s->arena[n]);
  }
  return status;
}

/* several starts from the model's windows and without them; the best days of all; a last cool run from there */
static pw_status full_search(struct plan_search *ps, struct pw_al_solution *best, struct pw_ctx *ctx)
{
  const struct pw_al *al = ps->al;
  const struct pw_allocate_options *options = ps->options;
  int n_pieces = 0;
  for (int c = 0; c < al->n_lots; c++)
    n_pieces += al->lot[c].n;
  struct starts s = {.ps = ps, .n_rounds = 500 + (long)(ROUNDS_PIECES / (n_pieces + 50))};
  const struct pw_al_solution *start = s.solution;
  int n = 0, k_best = 0;
  /* the quick plan is a start too, so that the price's plan is never the better one */
  struct pw_al_solution quick;
  pw_status status = quick_search(ps, &quick, ctx);
  if (status)
    return status;
  status = starts_make(&s, ctx);
  if (status)
    return status;
  for (; n < STARTS; n++) {
    ps->work += start[n].n_rounds;
    if (start[n].cost_cents < start[k_best].cost_cents - 1e-7)
      k_best = n;
    if (ctx->progress)
      ctx->progress(ctx->progress_user, "searching", start[k_best].cost_cents, ps->target_cents / (1 + TARGET_GAP_FRAC));
    if (start[n].stopped_by == PW_STOP_GAP) {
      *best = start[n].cost_cents <= quick.cost_cents ? start[n] : quick;
      best->stopped_by = PW_STOP_GAP;
      return PW_OK;
    }
  }
  *best = start[k_best].cost_cents <= quick.cost_cents ? start[k_best] : quick;
  enum pw_stop stopped_by = best->stopped_by;
  for (int d = 0; d < al->n_days && al->n_days > 1 && !status; d++)
    for (int k = 0; k < n && !status; k++)
      if (k != k_best)
        status = cross_day(ps, best, &start[k], d, ctx);
  if (status)
    return status;
  struct pw_al_solution last;
  struct pw_al_search_options o = {.seed = options->seed + STARTS, .n_rounds = s.n_rounds, .heat_frac = 0.01,
                                   .seconds = options->seconds > 0 ? fmax(options->seconds / (STARTS + 1), 0.01) : 0,
                                   .target_cents = ps->target_cents, .pieces = best->pieces, .settings = best->settings};
  status = pw_al_search(&last, al, &o, ctx);
  if (status)
    return status;
  ps->work += last.n_rounds;
  if (last.cost_cents < best->cost_cents + 1e-7) {
    *best = last;
    if (stopped_by == PW_STOP_TIME)
      best->stopped_by = PW_STOP_TIME;
  }
  return PW_OK;
}

pw_status pw_allocate_make(struct pw_allocation *out, const struct pw_event *ev, const struct pw_lots *lots,
                           const struct pw_fuel_rates *rates, const struct pw_allocate_options *options,
                           struct pw_ctx *ctx)
{
  struct pw_al al;
  memset(out, 0, sizeof *out);
  pw_status status = pw_al_make(&al, ev, lots, rates, ctx);
  if (!status && options->dump_model)
    status = dump(&al, options->dump_model, ctx);
  if (status)
    return status;

  bool is_quick = options->effort == PW_EFFORT_QUICK;
  double began_s = now_s();
  struct pw_al_windows windows;
  int *settings = NULL;
  if (!is_quick && al.n_lots > 0) {
    struct pw_al_model model;
    struct pw_lp_result lp = {0};
    status = bound_make(&model, &lp, &out->bound_cents, &al, options, ctx);
    if (!status && lp.x)
      status = pw_al_model_windows(&model, &al, lp.x, &windows, &settings, ctx);
    if (status)
      return status;
  }
  double lp_done_s = now_s();
  out->lp_s = lp_done_s - began_s;

  struct pw_al_solution best;
  struct plan_search ps = {.al = &al, .options = options, .windows = settings ? &windows : NULL, .settings = settings,
                           .target_cents = out->bound_cents * (1 + TARGET_GAP_FRAC)};
  status = is_quick ? quick_search(&ps, &best, ctx) : full_search(&ps, &best, ctx);
  if (status)
    return status;
  out->work = ps.work;
  out->search_s = now_s() - lp_done_s;
  out->stopped_by = best.stopped_by;
  out->cost_cents = best.cost_cents;
  status = pw_al_result(out, &al, &best, ctx);
  if (!status && out->n_missed && !is_quick)
    status = pw_al_shortages(out, &al, &best, ctx);
  if (!status && out->n_missed && !is_quick)
    status = pw_al_remedies(out, &al, &best, options->seed, ctx);
  if (status)
    return status;
  if (out->bound_cents > out->cost_cents && out->bound_cents <= out->cost_cents * (1 + BOUND_ROUNDING_FRAC))
    out->bound_cents = out->cost_cents; /* equal but for rounding; a bound further above is a fault the judge must see */
  out->gap_frac = out->cost_cents > 0 ? (out->cost_cents - out->bound_cents) / out->cost_cents : 0;
  out->outcome = out->n_missed                       ? PW_OUTCOME_SHORT
                 : out->gap_frac <= 1e-6             ? PW_OUTCOME_OPTIMAL
                 : out->stopped_by == PW_STOP_TIME   ? PW_OUTCOME_LIMIT
                                                     : PW_OUTCOME_FEASIBLE;
  return PW_OK;
}
