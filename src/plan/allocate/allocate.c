/* allocate.c - the allocation stage: the linear program for a bound, then the search over whole pieces, quick or full;
 * what runs short. */
#include "plan/allocate/allocate_bound.h"
#include "plan/allocate/allocate_exchange.h"
#include "plan/allocate/allocate_hint.h"
#include "plan/allocate/allocate_order.h"
#include "plan/allocate/allocate_result.h"
#include "plan/allocate/allocate_short.h"
#include "plan/allocate/allocate_starts.h"
#include "plan/allocate/allocate_uncross.h"
#include "plan/stages.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/diag.h"
#include "base/parallel.h"

#include <math.h>
#include <string.h>

/* How much work each part may do: counts, never seconds, so that the same input gives the same plan. */
enum {
  QUICK_ROUNDS = 60,
  QUICK_ROUNDS_MISSED = 400, /* while pieces find no place */
  LIKE_ROUNDS_MISSED =
      3000, /* the same, with most of them where they fit another head count: less than a full search */
  LARGE_ROUNDS = 2000,
  MERGE_FROM_ZONES = 40 /* with more zones, those whose times differ by one slot are one group in the model */
};
static const double LIKE_HEAT_FRAC = 0.005;  /* cool: what was good stays */
static const double TARGET_GAP_FRAC = 0.004; /* nearer than that is not worth a cook's waiting */
static const double BOUND_ROUNDING_FRAC = 1e-6;

static int merge_slots(const struct pw_al *al) { return al->n_zones > MERGE_FROM_ZONES ? 1 : 0; }

static const double BOUND_TIME_FRAC = 0.35; /* of the safety net: the bound's share */

struct asked {
  const struct pw_al *al;
  const struct pw_allocate_filter *filter;
};

/* A plan of the search as the stages behind it know plans. */
static bool is_wanted(void *user, const struct pw_al_solution *solution)
{
  const struct asked *a = user;
  struct pw_ctx own = {.arena = pw_arena_open()};
  struct pw_allocation told = {.cost_cents = solution->cost_cents};
  bool is_so = own.arena && pw_al_result(&told, a->al, solution, &own) == PW_OK &&
               a->filter->is_wanted(a->filter->user, a->al->ev, a->al->lots, &told);
  pw_arena_close(own.arena);
  return is_so;
}

/* A search within what may still be looked at. */
static pw_status search(struct pw_al_solution *found, const struct pw_al *al, struct pw_al_search_options *o,
                        const struct pw_allocate_options *options, struct pw_ctx *ctx)
{
  long *left = options->looks_left;
  o->looks_most = left ? (*left > 1 ? *left : 1) : 0;
  pw_status status = pw_al_search(found, al, o, ctx);
  if (left)
    *left -= found->n_looks;
  return status;
}

/* On from a plan, to cheaper ones that are wanted too. */
static pw_status wanted_search(struct pw_al_solution *best, const struct pw_al *al,
                               const struct pw_allocate_options *options, struct pw_ctx *ctx)
{
  struct pw_al_solution from;
  struct asked asked = {al, options->filter};
  const struct pw_al_asker asker = {is_wanted, &asked};
  pw_status status = pw_al_hint_read(&from, options->like->hint, al, ctx);
  struct pw_al_search_options o = {.seed = options->seed,
                                   .n_rounds = options->filter->n_rounds,
                                   .heat_frac = LIKE_HEAT_FRAC,
                                   .seconds = options->seconds,
                                   .pieces = from.pieces,
                                   .settings = from.settings,
                                   .asker = &asker};
  return status ? status : search(best, al, &o, options, ctx);
}

static pw_status quick_search(struct pw_al_solution *best, const struct pw_al *al,
                              const struct pw_allocate_options *options, struct pw_ctx *ctx)
{
  struct pw_al_search_options o = {.seed = options->seed,
                                   .n_rounds = QUICK_ROUNDS,
                                   .heat_frac = 0.015,
                                   .n_rounds_missed = QUICK_ROUNDS_MISSED,
                                   .seconds = options->seconds};
  struct pw_al_solution from = {0};
  if (options->filter && options->like)
    return wanted_search(best, al, options, ctx);
  pw_status status = search(best, al, &o, options, ctx);
  if (!status)
    status = pw_al_hint_read(&from, options->like ? options->like->hint : NULL, al, ctx);
  if (status || !from.pieces)
    return status;
  /* a plan for more guests holds one for fewer, and a plan for fewer most of one for more */
  struct pw_al_solution like;
  long n_rounds = best->n_rounds;
  o.pieces = from.pieces;
  o.settings = from.settings;
  o.heat_frac = LIKE_HEAT_FRAC;
  o.n_rounds_missed = options->looks_left ? QUICK_ROUNDS_MISSED : LIKE_ROUNDS_MISSED;
  status = search(&like, al, &o, options, ctx);
  if (!status && like.cost_cents < best->cost_cents - 1e-7)
    *best = like;
  best->n_rounds = n_rounds + like.n_rounds;
  return status;
}

/* A job too large for the program: annealed a while longer from the quick plan, and that is told. */
static pw_status large_search(struct pw_al_solution *best, const struct pw_al *al,
                              const struct pw_allocate_options *options, struct pw_ctx *ctx)
{
  struct pw_al_search_options o = {.seed = options->seed + 1,
                                   .n_rounds = LARGE_ROUNDS,
                                   .heat_frac = 0.01,
                                   .pieces = best->pieces,
                                   .settings = best->settings};
  struct pw_al_solution longer = *best;
  bool is_worn = best->n_looks > PW_AL_LOOKS_MAX; /* as much again would not change much */
  pw_status status = is_worn ? PW_OK : pw_al_search(&longer, al, &o, ctx);
  longer.n_rounds += is_worn ? 0 : best->n_rounds;
  if (!status && longer.cost_cents < best->cost_cents - 1e-7)
    *best = longer;
  best->n_rounds = longer.n_rounds;
  if (!status)
    pw_diag_add(
        ctx, PW_WARNING, "large-job", NULL, 0, 0,
        "this is a very large job: it was searched coarsely, and how much cheaper it could be was not worked out");
  return status;
}

/* Some piece finds no place: searched again with misses priced so that they are shared out. */
static pw_status share(struct pw_al_solution *best, struct pw_al_solution *quick, struct pw_al *al,
                       struct pw_al_starts_options *starts, const struct pw_allocate_options *options,
                       struct pw_ctx *ctx)
{
  long n_rounds = best->n_rounds;
  pw_al_share(al);
  pw_status status = quick_search(quick, al, options, ctx);
  *best = *quick;
  if (!status && options->effort != PW_EFFORT_QUICK)
    status = pw_al_starts_search(best, al, starts, ctx);
  best->n_rounds += n_rounds;
  return status;
}

/* How far the plan is from what was proved. */
static void gap_tell(struct pw_allocation *out)
{
  if (out->bound_cents > out->cost_cents && out->bound_cents <= out->cost_cents * (1 + BOUND_ROUNDING_FRAC))
    out->bound_cents =
        out->cost_cents; /* equal but for rounding; a bound further above is a fault the judge must see */
  out->gap_frac = out->cost_cents > 0 ? (out->cost_cents - out->bound_cents) / out->cost_cents : 0;
  out->outcome = out->n_missed                     ? PW_OUTCOME_SHORT
                 : out->gap_frac <= 1e-6           ? PW_OUTCOME_OPTIMAL
                 : out->stopped_by == PW_STOP_TIME ? PW_OUTCOME_LIMIT
                                                   : PW_OUTCOME_FEASIBLE;
}

/* ---- what keeps people awake ------------------------------------------------------------------------------ */

static pw_status watch_make(struct pw_al *al, const struct pw_watch *watch, struct pw_ctx *ctx)
{
  double *sum = watch ? pw_arena_array(ctx->arena, (size_t)al->n_slots + 1, sizeof *sum) : NULL;
  if (!watch)
    return PW_OK;
  if (!sum)
    return PW_ERR_MEMORY;
  sum[0] = 0;
  for (int t = 0; t < al->n_slots; t++) {
    double cents = 0;
    for (int k = 0; k < watch->n; k++) {
      int from = watch->from_at_min + k * watch->slot_min, at = al->lots->start_at_min + t * al->slot_min;
      int a = from > at ? from : at,
          b = from + watch->slot_min < at + al->slot_min ? from + watch->slot_min : at + al->slot_min;
      cents += b > a ? watch->cents[k] * (b - a) / watch->slot_min : 0;
    }
    sum[t + 1] = sum[t] + cents;
  }
  for (int p = 0; p < al->n_pits; p++)
    al->pit[p].watch = sum;
  return PW_OK;
}

/* What of the solution's cost is people kept awake. */
static double watch_cents(const struct pw_al *al, const struct pw_allocation *out)
{
  double cents = 0;
  for (int b = 0; b < out->n_burns; b++) {
    const struct pw_burn *burn = &out->burns[b];
    const double *sum = al->pit[burn->pit].watch;
    int from = (burn->ready_at_min - al->lots->start_at_min) / al->slot_min,
        to = (burn->out_at_min - al->lots->start_at_min) / al->slot_min;
    cents += sum ? sum[to] - sum[from] : 0;
  }
  return cents;
}

/* ---- bounds beside searches --------------------------------------------------------------------------------- */

struct proving {
  const struct pw_al *al;
  struct pw_al_bound_options options;
  double seconds_spent;
  struct pw_al_bound bound;
  struct pw_ctx own;
  pw_status status;
  struct pw_beside beside;
};

static void bound_make(void *user)
{
  struct proving *p = user;
  double began_s = pw_now_s();
  p->status = pw_al_bound_make(&p->bound, p->al, &p->options, &p->own);
  p->seconds_spent = pw_now_s() - began_s;
}

/* `seconds`: the whole search's safety net, <= 0: none */
static pw_status proving_begin(struct proving *p, const struct pw_al *al, enum pw_al_proof proof, double seconds)
{
  p->al = al;
  p->options.proof = proof;
  p->options.merge_slots = merge_slots(al);
  p->options.seconds = seconds * BOUND_TIME_FRAC;
  if (!(p->own.arena = pw_arena_open()))
    return PW_ERR_MEMORY;
  pw_beside_begin(&p->beside, bound_make, p);
  return PW_OK;
}

/* What was proved lives in ctx from here on. */
static pw_status proving_end(struct proving *p, struct pw_ctx *ctx)
{
  pw_beside_end(&p->beside);
  pw_diag_take(ctx, &p->own, false);
  pw_arena_adopt(ctx->arena, p->own.arena);
  p->own.arena = NULL;
  return p->status;
}

/* The problem in order of id. */
static pw_status allocate(struct pw_allocation *out, const struct pw_event *ev, const struct pw_lots *lots,
                          const struct pw_fuel_rates *rates, const struct pw_allocate_options *given,
                          struct pw_ctx *ctx)
{
  struct pw_al al;
  struct pw_allocate_options own = *given, *options = &own;
  memset(out, 0, sizeof *out);
  pw_status status = pw_al_make(&al, ev, lots, rates, ctx);
  if (status)
    return status;
  if ((status = watch_make(&al, given->watch, ctx)) != PW_OK)
    return status;
  al.deadline_s = given->deadline_s;
  if (al.deadline_s > 0)
    own.seconds =
        given->seconds > 0 ? fmin(given->seconds, pw_deadline_left(al.deadline_s)) : pw_deadline_left(al.deadline_s);
  bool is_large = pw_al_model_columns(&al) > PW_AL_MODEL_COLUMNS_MAX;
  if (is_large && ctx->progress)
    ctx->progress(ctx->progress_user, "a very large job: this takes a minute or two", NAN, NAN);
  if (options->dump_model && is_large) {
    pw_diag_add(ctx, PW_ERROR, "large-job", NULL, 0, 0,
                "this job is too large for its model to be written: leave --dump-model out");
    return PW_ERR_INPUT;
  }

  bool is_quick = options->effort == PW_EFFORT_QUICK;
  double began_s = pw_now_s(), deadline_s = pw_deadline_in(options->seconds);
  bool is_proved = is_quick || is_large || options->known_bound_cents > 0;
  if (!is_proved && ctx->progress)
    ctx->progress(ctx->progress_user, "proving a bound", NAN, NAN);
  /* the quick plan is a start too, so that the price's plan is never the better one */
  struct pw_al_solution quick, best;
  struct proving p = {0}, told = {0};
  if (!is_proved && al.n_lots > 0 && (status = proving_begin(&p, &al, PW_AL_PROOF_SEARCH, options->seconds)) != PW_OK)
    return status;
  status = quick_search(&quick, &al, options, ctx);
  double quick_done_s = pw_now_s();
  pw_status proved = proving_end(&p, ctx);
  if (status || (status = proved) != PW_OK)
    return status;
  const struct pw_al_bound *proof = &p.bound;
  out->bound_cents = fmax(proof->bound_cents, options->known_bound_cents);
  bool is_cut = proof->is_cut;
  double waited_s = pw_now_s() - quick_done_s;
  out->lp_s = p.seconds_spent;
  best = quick;
  struct pw_al_starts_options starts = {.seed = options->seed,
                                        .bound_cents = out->bound_cents,
                                        .target_cents = out->bound_cents * (1 + TARGET_GAP_FRAC),
                                        .seconds = pw_deadline_left(deadline_s),
                                        .work_times = options->work_times,
                                        .merge_slots = merge_slots(&al),
                                        .warm = proof->first.x ? &proof->first : NULL,
                                        .quick = &quick,
                                        .is_only_counted = options->is_only_counted};
  told.options.cost_cents = quick.n_missed ? 0 : quick.cost_cents;
  told.options.work_times = options->work_times;
  if (options->is_proved_beside && !is_proved && al.n_lots > 0 &&
      (status = proving_begin(&told, &al, PW_AL_PROOF_PLAN, options->seconds)) != PW_OK)
    return status;
  if (!status && !is_quick && is_large)
    status = large_search(&best, &al, options, ctx);
  else if (!status && !is_quick)
    status = pw_al_starts_search(&best, &al, &starts, ctx);
  starts.seconds = pw_deadline_left(deadline_s);
  if (!status && best.n_missed > 0 && !is_large && !options->is_only_counted)
    status = share(&best, &quick, &al, &starts, options, ctx);
  if (!status && best.n_missed > 0)
    status = pw_al_exchange(&best, &al, ctx);
  if (!status)
    status = pw_al_uncross(&best, &al, ctx);
  double search_s = pw_now_s() - began_s - waited_s;
  proved = proving_end(&told, ctx);
  if (status || (status = proved) != PW_OK)
    return status;
  out->bound_cents = fmax(out->bound_cents, told.bound.bound_cents);
  out->proof = told.bound.proof;
  is_cut |= told.bound.is_cut;
  out->work = best.n_rounds + (is_quick ? 0 : quick.n_rounds);
  out->n_looks = quick.n_looks;
  out->search_s = search_s;
  out->stopped_by =
      best.stopped_by == PW_STOP_WORK && is_cut ? PW_STOP_TIME : best.stopped_by; /* the bound's part of the time too */
  out->cost_cents = best.cost_cents;
  out->is_quick = is_quick;
  status = pw_al_result(out, &al, &best, ctx);
  if (!status)
    out->cost_cents -= watch_cents(&al, out);
  if (!status)
    status = pw_al_hint_make(&out->hint, &al, &best, ctx);
  if (!status && out->n_missed && !is_quick && !options->is_without_ways)
    status = pw_al_shortages(out, &al, &best, ctx);
  if (status)
    return status;
  gap_tell(out);
  return PW_OK;
}

pw_status pw_allocate_make(struct pw_allocation *out, const struct pw_event *ev, const struct pw_lots *lots,
                           const struct pw_fuel_rates *rates, const struct pw_allocate_options *options,
                           struct pw_ctx *ctx)
{
  struct pw_al_order order;
  memset(out, 0, sizeof *out);
  pw_status status = pw_al_order_make(&order, ev, lots, rates, ctx);
  if (!status)
    status = allocate(out, &order.ev, &order.lots, &order.rates, options, ctx);
  return status ? status : pw_al_order_back(out, &order, ctx);
}

static pw_status prove(struct pw_allocation *out, const struct pw_al_order *order,
                       const struct pw_allocate_options *options, struct pw_ctx *ctx)
{
  struct pw_al al;
  struct pw_al_bound proof = {0};
  if (out->is_quick && !options->dump_model)
    return PW_OK;
  pw_status status = pw_al_make(&al, &order->ev, &order->lots, &order->rates, ctx);
  if (status)
    return status;
  double seconds = options->seconds;
  if (options->deadline_s > 0)
    seconds = fmin(seconds > 0 ? seconds : HUGE_VAL, pw_deadline_left(options->deadline_s));
  struct pw_al_bound_options o = {.proof = out->is_quick ? PW_AL_PROOF_SEARCH : PW_AL_PROOF_PLAN,
                                  .merge_slots = merge_slots(&al),
                                  .seconds = seconds * BOUND_TIME_FRAC,
                                  .cost_cents = out->is_quick ? 0 : out->cost_cents,
                                  .work_times = options->work_times,
                                  .dump_path = options->dump_model};
  if (al.n_lots > 0 && pw_al_model_columns(&al) <= PW_AL_MODEL_COLUMNS_MAX) {
    if (ctx->progress)
      ctx->progress(ctx->progress_user, "proving a bound", NAN, NAN);
    status = pw_al_bound_make(&proof, &al, &o, ctx);
  }
  if (status || out->is_quick)
    return status;
  out->bound_cents = fmax(out->bound_cents, proof.bound_cents);
  out->proof = proof.proof;
  if (proof.is_cut)
    out->stopped_by = PW_STOP_TIME;
  gap_tell(out);
  return PW_OK;
}

pw_status pw_allocate_prove(struct pw_allocation *allocation, const struct pw_event *ev, const struct pw_lots *lots,
                            const struct pw_fuel_rates *rates, const struct pw_allocate_options *options,
                            struct pw_ctx *ctx)
{
  struct pw_al_order order;
  pw_status status = pw_al_order_make(&order, ev, lots, rates, ctx);
  return status ? status : prove(allocation, &order, options, ctx);
}
