/* allocate_ways.c - ways out of a shortage, each one planned again: a pit on offer, one more hot box like the
 * largest, one more pit hand, a lot cooked on its own the day before and chilled. */
#include "plan/allocate_short.h"

#include "base/arena.h"
#include "base/format.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { WAY_ROUNDS = 300, WAY_ROUNDS_MISSED = 2000 };

struct way {
  struct pw_al al;
  const char *what;
  double extra_cents;
  int missed_aside;        /* pieces of a lot planned apart that still miss */
};

static pw_status try_way(struct pw_allocation *out, struct way *way, const struct pw_al_solution *best, double base_cents,
                         unsigned seed, struct pw_ctx *ctx)
{
  struct pw_al_solution fresh;
  struct pw_al_search_options options = {.seed = seed, .n_rounds = WAY_ROUNDS, .n_rounds_missed = WAY_ROUNDS_MISSED,
                                         .heat_frac = 0.02};
  pw_status status = pw_al_search(&fresh, &way->al, &options, ctx);
  if (status)
    return status;
  int missed = fresh.n_missed + way->missed_aside;
  if (missed >= best->n_missed)
    return PW_OK;
  double misses = way->al.n_lots ? way->al.lot[0].miss_cents * fresh.n_missed : 0;
  double cents = fresh.cost_cents - misses - base_cents + way->extra_cents;
  out->remedies[out->n_remedies++] =
      (struct pw_remedy){.what = way->what, .cost_cents = llround(fmax(cents, 0)), .missed_after = missed};
  return PW_OK;
}

/* a copy of the problem with lot c's pieces set to n (the arrays of the other lots are shared) */
static pw_status with_pieces(struct pw_al *out, const struct pw_al *al, int c, int n, bool is_alone, struct pw_ctx *ctx)
{
  *out = *al;
  out->lot = pw_arena_array(ctx->arena, (size_t)al->n_lots + 1, sizeof *out->lot);
  if (!out->lot)
    return PW_ERR_MEMORY;
  memcpy(out->lot, al->lot, (size_t)al->n_lots * sizeof *out->lot);
  for (int k = 0; k < al->n_lots; k++)
    if (k == c)
      out->lot[k].n = n;
    else if (is_alone)
      out->lot[k].n = 0;
  return PW_OK;
}

static pw_status way_day_before(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                                double base_cents, int c, unsigned seed, struct pw_ctx *ctx)
{
  const struct pw_service *service = &al->ev->services[al->lots->lots[c].service];
  enum pw_units units = al->ev->units;
  struct pw_al apart;
  struct pw_al_solution alone;
  struct pw_al_search_options options = {.seed = seed, .n_rounds = WAY_ROUNDS, .n_rounds_missed = WAY_ROUNDS_MISSED,
                                         .heat_frac = 0.02};
  pw_status status = with_pieces(&apart, al, c, al->lot[c].n, true, ctx);
  if (!status)
    status = pw_al_search(&alone, &apart, &options, ctx);
  if (status)
    return status;
  struct way way = {.missed_aside = alone.n_missed,
                    .extra_cents = alone.cost_cents - apart.lot[c].miss_cents * alone.n_missed};
  status = with_pieces(&way.al, al, c, 0, false, ctx);
  way.what = pw_arena_printf(ctx->arena,
                             "cook %s for %s on its own a day earlier, chill it (%s to %s in 2 h, to %s in 6 h in all) and "
                             "reheat it to %s within 2 h (FDA Food Code 2022 3-501.14, 3-403.11)",
                             al->ev->cuts[al->lots->lots[c].cut].name, service->name ? service->name : service->id,
                             pw_format_temp(units, 57).s, pw_format_temp(units, 21).s, pw_format_temp(units, 5).s,
                             pw_format_temp(units, 74).s);
  if (status || !way.what)
    return status ? status : PW_ERR_MEMORY;
  return try_way(out, &way, best, base_cents, seed, ctx);
}

static pw_status way_box(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                         double base_cents, unsigned seed, struct pw_ctx *ctx)
{
  int largest = PW_NONE;
  for (int f = 0; f < al->n_finishers; f++)
    if (!al->is_oven[f] && (largest == PW_NONE || al->capacity[f] > al->capacity[largest]))
      largest = f;
  if (largest == PW_NONE)
    return PW_OK;
  struct way way = {.al = *al};
  way.al.capacity = pw_arena_array(ctx->arena, (size_t)al->n_finishers + 1, sizeof *way.al.capacity);
  if (!way.al.capacity)
    return PW_ERR_MEMORY;
  memcpy(way.al.capacity, al->capacity, (size_t)al->n_finishers * sizeof *way.al.capacity);
  way.al.capacity[largest] *= 2;
  way.what = pw_arena_printf(ctx->arena, "one more %s (its hire is not in this figure)", al->ev->finishers[largest].name);
  return way.what ? try_way(out, &way, best, base_cents, seed, ctx) : PW_ERR_MEMORY;
}

/* another hand for as long as the pit crew's longest shift, at its rate */
static pw_status way_hand(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                          double base_cents, unsigned seed, struct pw_ctx *ctx)
{
  const struct pw_crew *crew = NULL;
  for (int k = 0; k < al->ev->n_crew; k++) {
    const struct pw_crew *one = &al->ev->crew[k];
    if ((one->duties & (1u << PW_DUTY_PIT)) &&
        (!crew || one->to_at_min - one->from_at_min > crew->to_at_min - crew->from_at_min))
      crew = one;
  }
  if (!crew)
    return PW_OK;
  struct way way = {.al = *al};
  way.al.hands_min = pw_arena_array(ctx->arena, (size_t)al->n_slots + 1, sizeof *way.al.hands_min);
  if (!way.al.hands_min)
    return PW_ERR_MEMORY;
  for (int t = 0; t < al->n_slots; t++) {
    int from = al->lots->start_at_min + t * al->slot_min;
    bool is_on = crew->from_at_min <= from && crew->to_at_min >= from + al->slot_min;
    way.al.hands_min[t] = al->hands_min[t] + (is_on ? al->slot_min * PW_AL_HANDS_SHARE_FRAC : 0);
  }
  way.extra_cents = crew->cents_per_h * (crew->to_at_min - crew->from_at_min) / 60.0;
  way.what = pw_arena_printf(ctx->arena, "one more %s on the shift of %s", crew->role,
                             pw_format_minutes(crew->to_at_min - crew->from_at_min).s);
  return way.what ? try_way(out, &way, best, base_cents, seed, ctx) : PW_ERR_MEMORY;
}

static int by_cost(const void *pa, const void *pb)
{
  const struct pw_remedy *a = pa, *b = pb;
  if (a->missed_after == 0 && b->missed_after > 0)
    return -1;
  if (b->missed_after == 0 && a->missed_after > 0)
    return 1;
  if (a->cost_cents != b->cost_cents)
    return a->cost_cents < b->cost_cents ? -1 : 1;
  return strcmp(a->what, b->what);
}

pw_status pw_al_remedies(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                         unsigned seed, struct pw_ctx *ctx)
{
  double base_cents = best->cost_cents - (al->n_lots ? al->lot[0].miss_cents * best->n_missed : 0);
  out->remedies = pw_arena_array(ctx->arena, (size_t)(al->n_pits + al->n_lots) + 3, sizeof *out->remedies);
  if (!out->remedies)
    return PW_ERR_MEMORY;
  pw_status status = way_box(out, al, best, base_cents, seed, ctx);
  if (!status)
    status = way_hand(out, al, best, base_cents, seed, ctx);
  for (int c = 0; c < al->n_lots && !status; c++)
    if (out->missed[c] > 0 && al->ev->cuts[al->lots->lots[c].cut].may_chill)
      status = way_day_before(out, al, best, base_cents, c, seed, ctx);
  for (int p = 0; p < al->n_pits && !status; p++) {
    const struct pw_pit *pit = &al->ev->pits[p];
    if (!pit->is_rentable)
      continue;
    struct way way = {.extra_cents = (double)pit->rent_cents,
                      .what = pw_arena_printf(ctx->arena, "hire %s", pit->name)};
    status = way.what ? pw_al_make_with(&way.al, al, p, ctx) : PW_ERR_MEMORY;
    if (!status)
      status = try_way(out, &way, best, base_cents, seed, ctx);
  }
  qsort(out->remedies, (size_t)out->n_remedies, sizeof *out->remedies, by_cost);
  return status;
}
