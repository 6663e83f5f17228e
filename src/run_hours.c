/* run_hours.c - prices of hours go from the shifts to the fires and back [S2].  No formulas of the stages here. */
#include "run_hours.h"
#include "run_people.h"
#include "run_stages.h"

#include "base/arena.h"
#include "plan/chance/on_time.h"

#include <math.h>

enum { ROUNDS = 2 };

/* Each of the fires lit at a time bears its part of who is awake at them. */
static pw_status prices(struct pw_watch *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_staffing *s = &plan->staffing;
  double *cents = pw_arena_array(ctx->arena, (size_t)s->n_watch + 1, sizeof *cents);
  *out = (struct pw_watch){.cents = cents, .n = s->n_watch, .from_at_min = s->watch_from_at_min, .slot_min = 30};
  for (int k = 0; cents && k < s->n_watch; k++) {
    int at = s->watch_from_at_min + k * out->slot_min, n_lit = 0;
    for (int b = 0; b < plan->allocation.n_burns; b++)
      n_lit += plan->allocation.burns[b].lit_at_min < at + out->slot_min && plan->allocation.burns[b].out_at_min > at;
    cents[k] = s->watch_cents[k] / (n_lit > 1 ? n_lit : 1);
  }
  return cents ? PW_OK : PW_ERR_MEMORY;
}

static bool is_better(const struct pw_plan *a, const struct pw_plan *b)
{
  if (!pw_run_is_better_job(a, b))
    return false;
  for (int s = 0; s < a->event->n_services && a->chance.services && b->chance.services; s++) {
    double asked = pw_on_time_target(b->event, s),
           has = b->chance.services[s].on_time_frac; /* more than asked is no merit */
    if (a->chance.services[s].on_time_frac < (asked > 0 ? fmin(asked, has) : has) - 1e-9)
      return false;
  }
  return (a->chance.services != NULL) == (b->chance.services != NULL);
}

pw_status pw_run_hours(struct pw_plan *plan, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                       struct pw_ctx *ctx)
{
  for (int round = 0; round < ROUNDS; round++) {
    struct pw_watch watch;
    struct pw_allocate_options again = *allocate;
    struct pw_ctx side = {.arena = ctx->arena, .progress = ctx->progress, .progress_user = ctx->progress_user};
    struct pw_plan next;
    pw_status st = prices(&watch, plan, ctx);
    again.watch = &watch;
    again.dump_model = NULL;
    again.is_without_ways = again.is_unproved = true; /* the kept one alone is proved, by whoever asks */
    if (st == PW_OK)
      st = pw_run_stages(&next, ev, &again, NULL, &plan->lots, &side);
    if (st != PW_OK)
      return st;
    if (!is_better(&next, plan))
      break; /* the prices of a plan that is no better lead no further */
    *plan = next;
    plan->allocation.bound_cents = 0; /* with the prices of hours in it, which are not in the cost told */
  }
  return PW_OK;
}
