/* run_people.c - see run_people.h.  No formulas of the stages here. */
#include "run_people.h"
#include "run_side.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/parallel.h"
#include "plan/fire/empty_fire.h"
#include "plan/fire/visits.h"
#include "plan/money/quote.h"
#include "plan/ways/ways.h"

#include <math.h>

enum { LATE_HANDS = 4 }; /* in a job's price; common practice, no source */

pw_status pw_run_people(struct pw_plan *plan, const struct pw_fuel_rates *rates, bool is_quick, bool is_with_slack,
                        struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event; /* with everybody there who could be called, until shifts are known */
  pw_status st;
  if ((st = pw_day_before_make(&plan->day_before, plan, ctx)) != PW_OK)
    return st;
  if ((st = pw_visits_make(&plan->visits, ev, &plan->lots, &plan->allocation, ctx)) != PW_OK)
    return st;
  if ((st = pw_fuel_make(&plan->fuel, ev, &plan->lots, &plan->allocation, &plan->visits, ctx)) != PW_OK)
    return st;
  if ((st = pw_empty_fires(&plan->fuel, ev, &plan->lots, &plan->allocation, rates, ctx)) != PW_OK)
    return st;
  if ((st = pw_staff_make(plan, is_quick, ctx)) != PW_OK)
    return st;
  if ((st = pw_task_doors_make(plan, rates, ctx)) != PW_OK)
    return st;
  if (is_with_slack && (st = pw_task_slack_make(plan, ctx)) != PW_OK)
    return st;
  if ((st = pw_shortfall_make(plan, ctx)) != PW_OK)
    return st;
  return pw_quote_make(&plan->quote, plan, ctx);
}

/* What nobody does, and hours without enough people awake or with the guests. */
static int undone(const struct pw_plan *plan)
{
  int n = plan->staffing.n_warnings;
  for (int w = 0; w < plan->tasks.n_warnings; w++)
    n += plan->tasks.warnings[w].late_min == 0 ? plan->tasks.warnings[w].n_tasks : 0;
  return n;
}

/* The job and what begins late for want of hands: each of its minutes counts as LATE_HANDS of the dearest hand of the pool. */
static double job_cents(const struct pw_plan *plan)
{
  const struct pw_event *asked = plan->staffing.asked;
  double late_min = 0, cents_per_h = 0;
  for (int w = 0; w < plan->tasks.n_warnings; w++)
    late_min += (double)plan->tasks.warnings[w].late_min * plan->tasks.warnings[w].n_tasks;
  for (int p = 0; asked && p < asked->n_pool; p++)
    cents_per_h = fmax(cents_per_h, asked->pool[p].cents_per_h);
  return (double)plan->quote.cost_cents + LATE_HANDS * late_min * cents_per_h / 60;
}

bool pw_run_is_better_job(const struct pw_plan *a, const struct pw_plan *b)
{
  if (a->allocation.n_missed != b->allocation.n_missed)
    return a->allocation.n_missed < b->allocation.n_missed;
  int a_lacks = undone(a), b_lacks = undone(b);
  return a_lacks != b_lacks ? a_lacks < b_lacks : job_cents(a) < job_cents(b);
}

/* ---- the best of several --------------------------------------------------------------------------------------- */

/* The plan itself, then those found. */
struct jobs {
  const struct pw_fuel_rates *rates;
  struct pw_side_run *runs;
};

static void job_make(void *user, int i)
{
  const struct jobs *jobs = user;
  struct pw_side_run *run = &jobs->runs[i];
  if (pw_side_open(run))
    run->status = pw_run_people(&run->plan, jobs->rates, false, false, &run->ctx);
}

static void take(struct pw_plan *plan, const struct pw_found_plan *found)
{
  struct pw_allocation al = found->allocation;
  al.work = plan->allocation.work; /* of all that was searched, also after it was found */
  al.stopped_by = plan->allocation.stopped_by;
  al.lp_s = plan->allocation.lp_s;
  al.search_s = plan->allocation.search_s;
  plan->allocation = al;
  plan->lots = found->lots;
  plan->margins = found->margins;
  plan->chance = found->chance;
}

pw_status pw_run_best_job(struct pw_plan *plan, bool *has_people, const struct pw_found *found,
                          const struct pw_fuel_rates *rates, struct pw_ctx *ctx)
{
  *has_people = false;
  struct jobs jobs = {rates, pw_arena_array(ctx->arena, (size_t)found->n + 1, sizeof *jobs.runs)};
  if (!jobs.runs)
    return PW_ERR_MEMORY;
  if (found->n == 0)
    return PW_OK;
  if (ctx->progress)
    ctx->progress(ctx->progress_user, "working out who comes", NAN, NAN);
  for (int i = 0; i <= found->n; i++) {
    jobs.runs[i].plan = *plan;
    if (i > 0)
      take(&jobs.runs[i].plan, &found->plans[i - 1]);
  }
  pw_parallel(found->n + 1, job_make, &jobs);
  pw_status st = PW_OK;
  int best = 0;
  for (int i = 0; i <= found->n && st == PW_OK; i++) {
    st = jobs.runs[i].status;
    if (st == PW_OK && pw_run_is_better_job(&jobs.runs[i].plan, &jobs.runs[best].plan))
      best = i;
  }
  if (st == PW_OK) {
    *plan = jobs.runs[best].plan;
    *has_people = true;
    pw_diag_take(ctx, &jobs.runs[best].ctx, false);
    pw_arena_adopt(ctx->arena, jobs.runs[best].arena);
    jobs.runs[best].arena = NULL;
  }
  for (int i = 0; i <= found->n; i++)
    pw_side_close(&jobs.runs[i]);
  return st;
}
