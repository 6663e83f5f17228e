/* handling.c - openings, load times and places counted from the visits and loads of a plan. */
#include "plan/lots/handling.h"

#include "base/arena.h"

static bool is_cooking(const struct pw_load *l) { return l->stage <= PW_LOAD_FINISH; }

static int place_of(const struct pw_lots *lots, const struct pw_load *l)
{
  return l->zone != PW_NONE ? l->zone : lots->n_zones + l->finisher;
}

static int count_load_times(const struct pw_plan *plan, int service)
{
  const struct pw_allocation *a = &plan->allocation;
  int n = 0, last = 0;
  for (int i = 0; i < a->n_loads; i++) { /* by start */
    const struct pw_load *l = &a->loads[i];
    if (l->stage != PW_LOAD_SMOKE || plan->lots.lots[l->lot].service != service)
      continue;
    n += n == 0 || l->start_at_min != last;
    last = l->start_at_min;
  }
  return n;
}

static int count_places(const struct pw_plan *plan, int lot)
{
  const struct pw_allocation *a = &plan->allocation;
  int n = 0;
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *l = &a->loads[i];
    bool is_new = l->lot == lot && is_cooking(l);
    for (int k = 0; k < i && is_new; k++)
      is_new = a->loads[k].lot != lot || !is_cooking(&a->loads[k]) ||
               place_of(&plan->lots, &a->loads[k]) != place_of(&plan->lots, l);
    n += is_new;
  }
  return n;
}

pw_status pw_handling_make(struct pw_handling *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_handling h = {0};
  *out = h;
  h.load_times = pw_arena_array(ctx->arena, (size_t)plan->event->n_services + 1, sizeof *h.load_times);
  h.places = pw_arena_array(ctx->arena, (size_t)plan->lots.n_lots + 1, sizeof *h.places);
  if (!h.load_times || !h.places)
    return PW_ERR_MEMORY;
  h.n_openings = plan->visits.n_visits;
  for (int v = 0; v < plan->visits.n_visits; v++) {
    h.n_priced += plan->visits.visits[v].is_priced;
    h.n_soon += plan->visits.visits[v].reason != NULL;
  }
  for (int s = 0; s < plan->event->n_services; s++)
    h.load_times[s] = count_load_times(plan, s);
  for (int l = 0; l < plan->lots.n_lots; l++)
    h.places[l] = count_places(plan, l);
  *out = h;
  return PW_OK;
}
