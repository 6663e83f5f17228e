/* plan_check_cost.c - the cost of the solution by its parts, each worked out again from loads, burns and prices [J11].
 * In: loads, burns, lots, solution.  Out: findings. */
#include "judge/plan_check_parts.h"

#include "base/arena.h"

#include <math.h>
#include <stdlib.h>

enum { LOADS_MOST = 20000 }; /* keeps the judge's work bounded */
#define HOUR 60.0

static void part(struct pw_judge *judge, const char *key, double is, double should)
{
  if (fabs(is - should) > 1e-6 * fmax(1, fabs(should)))
    pw_judge_find(judge, "J11", "solution.parts.%s: is %.8g, the plan makes %.8g", key, is, should);
}

/** Where a piece was smoked and finished: loads, PW_SEEN_NONE where it was not. */
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

static double air_of(const struct pw_seen_plan *plan, int load)
{
  const struct pw_seen_zone *zone = pw_check_zone(plan, &plan->loads[load]);
  return zone ? zone->temp_c : pw_check_finisher(plan, &plan->loads[load])->temp_c;
}

/** Adds what the pieces of a lot cost; false when the loads do not say which pieces they are of. */
static bool add_lot(struct pw_seen_cost *sum, const struct pw_seen_plan *plan, int l, struct way *ways)
{
  const struct pw_seen_cost *price = &plan->parts;
  const struct pw_seen_lot *lot = &plan->lots[l];
  for (int p = 0; p < lot->pieces; p++)
    ways[p] = (struct way){PW_SEEN_NONE, PW_SEEN_NONE};
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    if (load->lot != l || load->stage > PW_SEEN_FINISH)
      continue;
    for (int k = 0; k < load->n_ids; k++) {
      if (load->piece_ids[k] >= lot->pieces)
        return false;
      *(load->stage == PW_SEEN_SMOKE ? &ways[load->piece_ids[k]].smoke : &ways[load->piece_ids[k]].finish) = i;
    }
    if (load->n_ids < 0)
      return false;
  }
  int by = lot->is_day_before ? lot->chill_by_min : pw_check_begin_min(plan, lot) + pw_check_whole_min(lot), n_ways = 0;
  if (lot->pieces > 1)
    qsort(ways, (size_t)lot->pieces, sizeof *ways, by_way);
  for (int p = 0; p < lot->pieces; p++) {
    const struct way *w = &ways[p];
    if (w->smoke == PW_SEEN_NONE)
      continue;
    n_ways += p == 0 || by_way(w, &ways[p - 1]) != 0;
    sum->off_best += price->off_best_cents * fabs(air_of(plan, w->smoke) - lot->best_c[0]);
    if (w->finish != PW_SEEN_NONE) {
      sum->off_best += price->off_best_cents * fabs(air_of(plan, w->finish) - lot->best_c[1]);
      sum->moves += plan->loads[w->finish].place != plan->loads[w->smoke].place ? price->move_cents : 0;
    }
    int held = by - lot->rest_min - plan->loads[w->finish != PW_SEEN_NONE ? w->finish : w->smoke].end_min;
    sum->hold += held > 0 ? price->hold_cents * held / HOUR : 0;
  }
  sum->places += n_ways > 1 ? price->place_cents * (n_ways - 1) : 0;
  return true;
}

/** A pit's door at a minute. */
struct door {
  int pit, at_min;
};

static int by_pit_and_minute(const void *pa, const void *pb)
{
  const struct door *a = pa, *b = pb;
  if (a->pit != b->pit)
    return a->pit < b->pit ? -1 : 1;
  return (a->at_min > b->at_min) - (a->at_min < b->at_min);
}

static int openings_of(const struct pw_seen_plan *plan, struct door *doors)
{
  int n = 0, openings = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_zone *zone = pw_check_zone(plan, &plan->loads[i]);
    if (!zone)
      continue;
    doors[n++] = (struct door){plan->racks[zone->rack].pit, plan->loads[i].start_min};
    doors[n++] = (struct door){plan->racks[zone->rack].pit, plan->loads[i].end_min};
  }
  if (n > 1)
    qsort(doors, (size_t)n, sizeof *doors, by_pit_and_minute);
  for (int i = 0; i < n; i++)
    openings += i == 0 || by_pit_and_minute(&doors[i], &doors[i - 1]) != 0;
  return openings;
}

static int by_start(const void *pa, const void *pb)
{
  const struct door *a = pa, *b = pb; /* pit: the begin, at_min: the end */
  return (a->pit > b->pit) - (a->pit < b->pit);
}

static double oven_cents(const struct pw_seen_plan *plan, int f, struct door *stays)
{
  int n = 0, until = INT32_MIN;
  long minutes = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    if (plan->loads[i].stage == PW_SEEN_FINISH && plan->loads[i].place == plan->n[PW_SEEN_ZONES] + f)
      stays[n++] = (struct door){plan->loads[i].start_min, plan->loads[i].end_min};
  if (n > 1)
    qsort(stays, (size_t)n, sizeof *stays, by_start);
  for (int i = 0; i < n; i++) {
    int from = stays[i].pit > until ? stays[i].pit : until;
    minutes += stays[i].at_min > from ? stays[i].at_min - from : 0;
    until = stays[i].at_min > until ? stays[i].at_min : until;
  }
  return (double)minutes / HOUR * plan->finishers[f].cents_per_h;
}

pw_status pw_check_parts(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_cost *told = &plan->parts;
  struct pw_seen_cost sum = {.fire = 0};
  int most = 1, missed = 0;
  if (isnan(told->fire) || isnan(told->opening_cents) || plan->n[PW_SEEN_LOADS] > LOADS_MOST)
    return PW_OK;
  if (told->n_burns != plan->n[PW_SEEN_BURNS]) {
    pw_judge_find(judge, "J11", "solution.prices.burns: has %d, there are %d fires", told->n_burns,
                  plan->n[PW_SEEN_BURNS]);
    return PW_OK;
  }
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++) {
    most = plan->lots[l].pieces > most ? plan->lots[l].pieces : most;
    missed += plan->lots[l].missed;
  }
  struct way *ways = pw_arena_array(judge->ctx->arena, (size_t)most, sizeof *ways);
  struct door *doors = pw_arena_array(judge->ctx->arena, 2 * (size_t)plan->n[PW_SEEN_LOADS] + 1, sizeof *doors);
  if (!ways || !doors)
    return PW_ERR_MEMORY;
  for (int b = 0; b < told->n_burns; b++) {
    const struct pw_seen_burn *burn = &plan->burns[b];
    double hours = (burn->out_min - burn->ready_min) / HOUR, lead = (burn->ready_min - burn->lit_min) / HOUR;
    sum.fire += told->burns[b].fire_cents_per_h * hours;
    sum.light += told->burns[b].light_cents;
    sum.people += told->burns[b].people_cents_per_h * (hours + lead);
    if (b < plan->n_stories && pw_check_differs(plan->stories[b].hour_cents,
                                                told->burns[b].fire_cents_per_h + told->burns[b].people_cents_per_h))
      pw_judge_find(judge, "J11", "explained.burns[%d].hour_cents: is %.8g, fire and hands cost %.8g", b,
                    plan->stories[b].hour_cents, told->burns[b].fire_cents_per_h + told->burns[b].people_cents_per_h);
  }
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
    if (!add_lot(&sum, plan, l, ways))
      return PW_OK; /* said by others */
  sum.openings = told->opening_cents * openings_of(plan, doors);
  for (int f = 0; f < plan->n[PW_SEEN_FINISHERS]; f++)
    sum.oven += plan->finishers[f].kind == 0 ? oven_cents(plan, f, doors) : 0;
  part(judge, "fire", told->fire, sum.fire);
  part(judge, "light", told->light, sum.light);
  part(judge, "oven", told->oven, sum.oven);
  part(judge, "openings", told->openings, sum.openings);
  part(judge, "places", told->places, sum.places);
  part(judge, "hold", told->hold, sum.hold);
  part(judge, "off_best", told->off_best, sum.off_best);
  part(judge, "moves", told->moves, sum.moves);
  part(judge, "people", told->people, sum.people);
  double all = told->fire + told->light + told->oven + told->openings + told->places + told->hold + told->off_best +
               told->moves + told->people + told->missed;
  if (fabs(all - plan->solution.cost) > 1e-6 * fmax(1, fabs(all)))
    pw_judge_find(judge, "J11", "solution.cost: is %.10g, its parts make %.10g", plan->solution.cost, all);
  if ((told->missed > 0) != (missed > 0))
    pw_judge_find(judge, "J11", "solution.parts.missed: is %.8g, %d pieces have no place", told->missed, missed);
  return PW_OK;
}
