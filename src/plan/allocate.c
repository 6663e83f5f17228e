/* allocate.c - the allocation stage [A1]-[A9]: several searches over whole pieces, the best one kept. */
#include "plan/allocate_result.h"
#include "plan/stages.h"

#include <math.h>
#include <string.h>

pw_status pw_allocate_make(struct pw_allocation *out, const struct pw_event *ev, const struct pw_lots *lots,
                           const struct pw_fuel_rates *rates, const struct pw_allocate_options *options,
                           struct pw_ctx *ctx)
{
  struct pw_al al;
  memset(out, 0, sizeof *out);
  pw_status status = pw_al_make(&al, ev, lots, rates, ctx);
  if (status)
    return status;
  int n_starts = options->effort == PW_EFFORT_QUICK ? 1 : 3;
  struct pw_al_solution best = {.cost_cents = HUGE_VAL};
  for (int k = 0; k < n_starts; k++) {
    struct pw_al_solution one;
    struct pw_al_search_options search = {.seed = options->seed + (unsigned)k,
                                          .n_rounds = options->effort == PW_EFFORT_QUICK ? 60 : 2000,
                                          .seconds = options->seconds};
    status = pw_al_search(&one, &al, &search, ctx);
    if (status)
      return status;
    out->work += one.n_rounds;
    if (one.cost_cents < best.cost_cents)
      best = one;
  }
  out->stopped_by = best.stopped_by;
  out->cost_cents = best.cost_cents;
  status = pw_al_result(out, &al, &best, ctx);
  if (status)
    return status;
  out->bound_cents = 0;
  out->gap_frac = out->cost_cents > 0 ? 1 : 0;
  out->outcome = out->n_missed ? PW_OUTCOME_SHORT : PW_OUTCOME_FEASIBLE;
  return PW_OK;
}
