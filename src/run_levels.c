/* run_levels.c - cost against chance [R3].  In: the plan of an event.  Out: what the job costs when its meals are to be ready
 * more often, or less. */
#include "run_levels.h"
#include "run_side.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/money.h"
#include "base/parallel.h"
#include "plan/chance/chance.h"
#include "plan/chance/on_time.h"

#include <math.h>
#include <string.h>

static const double TIMES[] = {0, 0.5, 1, 1.5, 2}; /* the margins of the plan, so many times: 1 is the plan */
enum { N_TIMES = sizeof TIMES / sizeof *TIMES };

/* Of the seconds left for other plans, each row's. */
static const double LEVEL_TIME_FRAC = 0.2;

const struct pw_event *pw_run_with_chance(const struct pw_event *ev, double frac, struct pw_ctx *ctx)
{
  struct pw_event *own = pw_arena_alloc(ctx->arena, sizeof *own);
  struct pw_service *services = pw_arena_array(ctx->arena, (size_t)ev->n_services, sizeof *services);
  if (!own || !services)
    return NULL;
  *own = *ev;
  own->services = services;
  own->terms.on_time_frac = frac > 0 ? frac : 0;
  for (int s = 0; s < ev->n_services; s++) {
    services[s] = ev->services[s];
    services[s].on_time_frac = 0;
  }
  return own;
}

struct level {
  double times;
  struct pw_margins margins;
  struct pw_side_run run;
  struct pw_quote_level told;
};

struct levels {
  const struct pw_plan *given;
  const struct pw_event *ev;
  struct pw_allocate_options allocate;
  struct level list[N_TIMES];
  int n;
};

static struct pw_quote_level told(const struct pw_plan *plan, double times)
{
  struct pw_quote_level level = {.margin_frac = times, .chance_frac = 1, .cost_cents = plan->quote.cost_cents};
  for (int s = 0; s < plan->event->n_services; s++) {
    level.chance_frac = fmin(level.chance_frac, plan->chance.services[s].on_time_frac);
    level.late_meals_frac += 1 - plan->chance.services[s].on_time_frac;
  }
  return level;
}

static void level_plan(void *user, int i)
{
  struct levels *l = user;
  struct level *level = &l->list[i];
  struct pw_side_run *run = &level->run;
  if (!pw_side_open(run))
    return;
  const struct pw_chance_options draws = {.n_draws = PW_CHANCE_DRAWS, .seed = 1, .shares = pw_spread_shares()};
  pw_side_plan(run, l->ev, &l->allocate, &level->margins, &l->given->lots);
  struct pw_plan *plan = &run->plan;
  if (run->status == PW_OK)
    run->status = pw_chance_make(&plan->chance, plan->event, &plan->lots, &plan->allocation, &draws, &run->ctx);
  if (run->status != PW_OK)
    return;
  level->told = told(plan, level->times);
  double dearer_cents = plan->allocation.cost_cents - l->given->allocation.cost_cents;
  bool is_pool = l->ev->n_pool >
                 0; /* shifts worked out quickly differ by more than margins cost: people by the hour at the fires */
  if (is_pool)
    level->told.cost_cents = l->given->quote.cost_cents + pw_money_round(dearer_cents);
  if (is_pool && level->times > 1 &&
      dearer_cents <= 0) /* the plan is chosen by its shifts too: of a surer one they are not known */
    level->told.cost_cents = -1;
  if (plan->allocation.n_missed > 0) /* so much room cannot be had */
    level->told.cost_cents = -1;
}

/* False: a row like the one before it, or like the plan. */
static bool margins_scale(struct level *level, const struct pw_margins *from, size_t n, double times, int slot_min)
{
  bool is_plan = true, is_none = true;
  level->times = times;
  for (size_t k = 0; k < n; k++) {
    level->margins.early_min[k] = pw_on_time_times(from->early_min[k], times, slot_min);
    level->margins.turn_min[k] = pw_on_time_times(from->turn_min[k], times, slot_min);
    is_plan =
        is_plan && level->margins.early_min[k] == from->early_min[k] && level->margins.turn_min[k] == from->turn_min[k];
    is_none = is_none && level->margins.early_min[k] == 0 && level->margins.turn_min[k] == 0;
  }
  return !is_plan && (!is_none || times == 0);
}

/* Rows of wider margins that cost as much as the plan and are late more often: quickly planned, they say nothing. */
static int drop_worse(struct pw_quote_level *levels, int n)
{
  int n_kept = 0;
  double best_frac = 0;
  for (int i = 0; i < n; i++) {
    if (levels[i].margin_frac > 1 && levels[i].chance_frac < best_frac)
      continue;
    best_frac = levels[i].is_plan ? levels[i].chance_frac : fmax(best_frac, levels[i].chance_frac);
    levels[n_kept++] = levels[i];
  }
  return n_kept;
}

/* Rows that leave less room and cost as much as one that leaves more: whoever takes them takes that one. */
static int drop_dearer(struct pw_quote_level *levels, int n)
{
  int first = n;
  for (int i = n - 1; i >= 0; i--)
    if (first == n || levels[i].is_plan || levels[i].cost_cents < levels[first].cost_cents)
      levels[--first] = levels[i];
  memmove(levels, levels + first, (size_t)(n - first) * sizeof *levels);
  return n - first;
}

/* Rows by rising margins. */
static void gather(struct pw_quote *q, const struct levels *l, const struct pw_plan *plan)
{
  struct pw_quote_level mine = told(plan, 1);
  bool is_in = false;
  mine.is_plan = true;
  for (int i = 0; i < l->n; i++) {
    if (!is_in && l->list[i].times > 1)
      q->levels[q->n_levels++] = mine, is_in = true;
    if (l->list[i].told.cost_cents >= 0)
      q->levels[q->n_levels++] = l->list[i].told;
  }
  if (!is_in)
    q->levels[q->n_levels++] = mine;
  q->n_levels = drop_dearer(q->levels, q->n_levels);
  q->n_levels = drop_worse(q->levels, q->n_levels);
  for (int i = 1; i < q->n_levels; i++) {
    struct pw_quote_level *more = &q->levels[i];
    double spared = q->levels[i - 1].late_meals_frac - more->late_meals_frac;
    pw_cents dearer = more->cost_cents - q->levels[i - 1].cost_cents;
    more->late_meal_cents = spared > 0 && dearer > 0 ? pw_money_round((double)dearer / spared) : 0;
  }
}

pw_status pw_run_levels(struct pw_plan *plan, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                        struct pw_ctx *ctx)
{
  struct pw_quote *q = &plan->quote;
  size_t n = (size_t)ev->n_services * (size_t)ev->n_cuts;
  if (plan->allocation.n_missed > 0 || !plan->chance.services || !plan->margins.early_min || n == 0 ||
      pw_deadline_is_over(allocate->deadline_s))
    return PW_OK;
  q->levels = pw_arena_array(ctx->arena, N_TIMES, sizeof *q->levels);
  struct levels *l = pw_arena_alloc(ctx->arena, sizeof *l);
  if (!q->levels || !l)
    return PW_ERR_MEMORY;
  *l = (struct levels){.given = plan, .ev = ev};
  l->allocate = pw_side_options(allocate, &plan->allocation, LEVEL_TIME_FRAC);
  for (int i = 0; i < N_TIMES; i++) {
    struct level *level = &l->list[l->n];
    level->margins.early_min = pw_arena_array(ctx->arena, n, sizeof(int));
    level->margins.turn_min = pw_arena_array(ctx->arena, n, sizeof(int));
    if (!level->margins.early_min || !level->margins.turn_min)
      return PW_ERR_MEMORY;
    l->n += margins_scale(level, &plan->margins, n, TIMES[i], plan->lots.slot_min);
  }
  if (ctx->progress)
    ctx->progress(ctx->progress_user, "pricing other chances to be on time", NAN, NAN);
  pw_parallel(l->n, level_plan, l);
  pw_status st = PW_OK;
  for (int i = 0; i < l->n; i++) {
    pw_side_close(&l->list[i].run);
    st = st == PW_OK ? l->list[i].run.status : st;
  }
  if (st == PW_OK)
    gather(q, l, plan);
  return st;
}
