/* cost_parts.c - the allocation's cost by what it is for, from its loads and burns.
 * In: a plan with its allocation.  Out: fires, lighting, ovens, openings, places, hold, distance from the best heat, moves, hands. */
#include "plan/money/cost_parts.h"

#include "base/arena.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

/** Loads in which a piece is smoked and finished; PW_NONE where it is not. */
struct way {
  int smoke, finish;
};

static int by_way(const void *pa, const void *pb)
{
  const struct way *a = pa, *b = pb;
  if (a->smoke != b->smoke)
    return a->smoke < b->smoke ? -1 : 1;
  return (a->finish > b->finish) - (a->finish < b->finish);
}

/** Ways of a lot's pieces, sorted. */
static void ways_fill(struct way *ways, const struct pw_allocation *a, int lot, int n_pieces)
{
  for (int p = 0; p < n_pieces; p++)
    ways[p] = (struct way){PW_NONE, PW_NONE};
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *load = &a->loads[i];
    if (load->lot != lot || !load->piece_ids || (load->stage != PW_LOAD_SMOKE && load->stage != PW_LOAD_FINISH))
      continue;
    for (int k = 0; k < load->pieces; k++)
      if (load->piece_ids[k] < n_pieces)
        *(load->stage == PW_LOAD_SMOKE ? &ways[load->piece_ids[k]].smoke : &ways[load->piece_ids[k]].finish) = i;
  }
  if (n_pieces > 1)
    qsort(ways, (size_t)n_pieces, sizeof *ways, by_way);
}

static double air_c(const struct pw_plan *plan, const struct pw_load *load)
{
  if (load->finisher != PW_NONE)
    return plan->event->finishers[load->finisher].temp_c;
  const struct pw_zone *zone = &plan->lots.zones[load->zone];
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    if (burn->pit == zone->pit && burn->lit_at_min <= load->start_at_min && load->start_at_min < burn->out_at_min)
      return zone->temp_c[burn->setting];
  }
  return zone->temp_c[0];
}

static bool is_same_place(const struct pw_load *a, const struct pw_load *b)
{
  return a->zone == b->zone && a->finisher == b->finisher;
}

static void add_lot(struct pw_cost_parts *out, const struct pw_plan *plan, int l, struct way *ways)
{
  const struct pw_lot *lot = &plan->lots.lots[l];
  const struct pw_cut *cut = &plan->event->cuts[lot->cut];
  const struct pw_effort_prices *price = &plan->event->effort;
  int n_ways = 0;
  ways_fill(ways, &plan->allocation, l, lot->pieces);
  for (int p = 0; p < lot->pieces; p++) {
    if (ways[p].smoke == PW_NONE)
      continue;
    const struct pw_load *smoke = &plan->allocation.loads[ways[p].smoke];
    const struct pw_load *finish = ways[p].finish == PW_NONE ? NULL : &plan->allocation.loads[ways[p].finish];
    n_ways += p == 0 || by_way(&ways[p], &ways[p - 1]) != 0;
    out->off_best += price->off_best_cents_per_piece_k * fabs(air_c(plan, smoke) - cut->smoke.best_c);
    if (finish) {
      out->off_best += price->off_best_cents_per_piece_k * fabs(air_c(plan, finish) - cut->finish.best_c);
      out->moves += is_same_place(smoke, finish) ? 0 : price->move_cents_per_piece;
    }
    int held = lot->whole_until_at_min - lot->rest_min - (finish ? finish : smoke)->end_at_min;
    out->hold += held > 0 ? price->hold_cents_per_piece_h * held / 60.0 : 0;
  }
  out->places += n_ways > 1 ? price->place_cents * (n_ways - 1) : 0;
}

/** Minutes at which a pit is opened. */
static int openings_of(const struct pw_plan *plan, int pit)
{
  const struct pw_allocation *a = &plan->allocation;
  int n = 0;
  for (int i = 0; i < 2 * a->n_loads; i++) { /* begins and ends in turn; the first of each minute counts */
    const struct pw_load *load = &a->loads[i / 2];
    int at = i % 2 ? load->end_at_min : load->start_at_min;
    bool is_new = load->zone != PW_NONE && plan->lots.zones[load->zone].pit == pit;
    for (int k = 0; k < i && is_new; k++) {
      const struct pw_load *before = &a->loads[k / 2];
      is_new = before->zone == PW_NONE || plan->lots.zones[before->zone].pit != pit ||
               (k % 2 ? before->end_at_min : before->start_at_min) != at;
    }
    n += is_new;
  }
  return n;
}

/** Minutes in which at least one load is in an oven; loads are sorted by start. */
static double oven_cents(const struct pw_plan *plan, int finisher)
{
  const struct pw_allocation *a = &plan->allocation;
  int minutes = 0, until = INT_MIN;
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *load = &a->loads[i];
    if (load->finisher != finisher || load->stage != PW_LOAD_FINISH || load->end_at_min <= until)
      continue;
    minutes += load->end_at_min - (load->start_at_min > until ? load->start_at_min : until);
    until = load->end_at_min;
  }
  return minutes / 60.0 * plan->event->finishers[finisher].cents_per_h;
}

pw_status pw_cost_parts_make(struct pw_cost_parts *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  const struct pw_allocation *a = &plan->allocation;
  struct pw_cost_parts parts = {.burns = pw_arena_array(ctx->arena, (size_t)a->n_burns, sizeof *parts.burns)};
  struct pw_fuel_rates rates;
  *out = (struct pw_cost_parts){0};
  if (!parts.burns || pw_fuel_rates_make(&rates, ev, ctx) != PW_OK)
    return PW_ERR_MEMORY;
  for (int b = 0; b < a->n_burns; b++) {
    const struct pw_burn *burn = &a->burns[b];
    const struct pw_pit *pit = &ev->pits[burn->pit];
    double hours = (burn->out_at_min - burn->ready_at_min) / 60.0;
    struct pw_burn_price *price = &parts.burns[b];
    *price = (struct pw_burn_price){rates.burn_cents_per_h[burn->pit][burn->setting],
                                    pit->tend_min_per_h / 60.0 * ev->effort.tend_cents_per_h,
                                    rates.light_cents[burn->pit][burn->setting]};
    parts.fire += price->fire_per_h * hours;
    parts.light += price->light;
    parts.people += price->tend_per_h * (hours + pit->ready_min / 60.0);
  }
  int most = 1;
  for (int l = 0; l < plan->lots.n_lots; l++)
    most = plan->lots.lots[l].pieces > most ? plan->lots.lots[l].pieces : most;
  struct way *ways = pw_arena_array(ctx->arena, (size_t)most, sizeof *ways);
  if (!ways)
    return PW_ERR_MEMORY;
  for (int l = 0; l < plan->lots.n_lots; l++)
    add_lot(&parts, plan, l, ways);
  for (int p = 0; p < ev->n_pits; p++)
    parts.openings += ev->effort.opening_cents * openings_of(plan, p);
  for (int f = 0; f < ev->n_finishers; f++)
    if (ev->finishers[f].kind == PW_OVEN)
      parts.oven += oven_cents(plan, f);
  double sum = parts.fire + parts.light + parts.oven + parts.openings + parts.places + parts.hold + parts.off_best +
               parts.moves + parts.people;
  parts.missed = a->n_missed > 0 ? a->cost_cents - sum : 0;
  parts.is_whole =
      fabs(sum + parts.missed - a->cost_cents) <= 1e-6 * fmax(1, fabs(a->cost_cents)) && parts.missed > -1e-6;
  *out = parts;
  return PW_OK;
}
