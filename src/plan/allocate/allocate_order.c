/* allocate_order.c - see allocate_order.h. */
#include "plan/allocate/allocate_order.h"

#include "base/arena.h"

#include <stdlib.h>
#include <string.h>

/* ---- there ---- */

struct key {
  int at_min; /* of the service; 0 for what has none */
  const char *first, *second;
  int was;
};

static int by_key(const void *pa, const void *pb)
{
  const struct key *a = pa, *b = pb;
  int order = a->at_min != b->at_min ? (a->at_min < b->at_min ? -1 : 1) : strcmp(a->first, b->first);
  if (order == 0)
    order = strcmp(a->second, b->second);
  return order != 0 ? order : (a->was > b->was) - (a->was < b->was);
}

/* The `was` of sorted keys. */
static int *sorted(struct key *keys, int n, struct pw_ctx *ctx)
{
  int *from = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *from);
  if (n > 1)
    qsort(keys, (size_t)n, sizeof *keys, by_key);
  for (int i = 0; from && i < n; i++)
    from[i] = keys[i].was;
  return from;
}

static int *inverse(const int *from, int n, struct pw_ctx *ctx)
{
  int *to = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *to);
  for (int i = 0; to && i < n; i++)
    to[from[i]] = i;
  return to;
}

static bool orders_make(struct pw_al_order *o, const struct pw_event *ev, const struct pw_lots *lots,
                        struct pw_ctx *ctx)
{
  size_t n_most = (size_t)(ev->n_pits + ev->n_finishers + lots->n_lots) + 1;
  struct key *keys = pw_arena_array(ctx->arena, n_most, sizeof *keys);
  o->zone = pw_arena_array(ctx->arena, (size_t)lots->n_zones + 1, sizeof *o->zone);
  if (!keys || !o->zone)
    return false;
  for (int p = 0; p < ev->n_pits; p++)
    keys[p] = (struct key){0, ev->pits[p].id, "", p};
  o->pit = sorted(keys, ev->n_pits, ctx);
  for (int f = 0; f < ev->n_finishers; f++)
    keys[f] = (struct key){0, ev->finishers[f].id, "", f};
  o->finisher = sorted(keys, ev->n_finishers, ctx);
  for (int c = 0; c < lots->n_lots; c++) {
    const struct pw_service *s = &ev->services[lots->lots[c].service];
    keys[c] = (struct key){s->at_min, s->id, ev->cuts[lots->lots[c].cut].id, c};
  }
  o->lot = sorted(keys, lots->n_lots, ctx);
  for (int p = 0, n = 0; o->pit && p < ev->n_pits; p++) /* zones follow their pits */
    for (int z = 0; z < lots->n_zones; z++)
      if (lots->zones[z].pit == o->pit[p])
        o->zone[n++] = z;
  return o->pit && o->finisher && o->lot;
}

/* The first pit in the new order among those alike. */
static void pits_make(struct pw_pit *pits, const struct pw_al_order *o, const struct pw_event *ev)
{
  for (int p = 0; p < ev->n_pits; p++) {
    pits[p] = ev->pits[o->pit[p]];
    for (int k = p; k >= 0; k--)
      if (ev->pits[o->pit[k]].alike == ev->pits[o->pit[p]].alike)
        pits[p].alike = k;
  }
}

static bool lot_make(struct pw_lot *lot, const struct pw_al_order *o, const struct pw_event *ev,
                     const struct pw_lots *lots, struct pw_ctx *ctx)
{
  const struct pw_lot was = *lot;
  lot->smoke_min = pw_arena_array(ctx->arena, (size_t)lots->n_zones + 1, sizeof *lot->smoke_min);
  lot->finish_min = pw_arena_array(ctx->arena, (size_t)lots->n_zones + 1, sizeof *lot->finish_min);
  lot->safe_min = pw_arena_array(ctx->arena, (size_t)lots->n_zones + 1, sizeof *lot->safe_min);
  lot->oven_min = pw_arena_array(ctx->arena, (size_t)ev->n_finishers + 1, sizeof *lot->oven_min);
  if (!lot->smoke_min || !lot->finish_min || !lot->safe_min || !lot->oven_min)
    return false;
  for (int z = 0; z < lots->n_zones; z++) {
    lot->smoke_min[z] = was.smoke_min[o->zone[z]];
    lot->finish_min[z] = was.finish_min[o->zone[z]];
    lot->safe_min[z] = was.safe_min ? was.safe_min[o->zone[z]] : NULL;
  }
  for (int f = 0; f < ev->n_finishers; f++)
    lot->oven_min[f] = was.oven_min[o->finisher[f]];
  return true;
}

pw_status pw_al_order_make(struct pw_al_order *o, const struct pw_event *ev, const struct pw_lots *lots,
                           const struct pw_fuel_rates *rates, struct pw_ctx *ctx)
{
  struct pw_arena *arena = ctx->arena;
  *o = (struct pw_al_order){.ev = *ev, .lots = *lots, .rates = *rates};
  if (!orders_make(o, ev, lots, ctx))
    return PW_ERR_MEMORY;
  const int *pit_to = inverse(o->pit, ev->n_pits, ctx), *lot_to = inverse(o->lot, lots->n_lots, ctx),
            *finisher_to = inverse(o->finisher, ev->n_finishers, ctx);
  struct pw_pit *pits = pw_arena_array(arena, (size_t)ev->n_pits + 1, sizeof *pits);
  o->ev.finishers = pw_arena_array(arena, (size_t)ev->n_finishers + 1, sizeof *o->ev.finishers);
  o->lots.zones = pw_arena_array(arena, (size_t)lots->n_zones + 1, sizeof *o->lots.zones);
  o->lots.lots = pw_arena_array(arena, (size_t)lots->n_lots + 1, sizeof *o->lots.lots);
  o->lots.reheats = pw_arena_array(arena, (size_t)lots->n_reheats + 1, sizeof *o->lots.reheats);
  o->lots.side_pans = pw_arena_array(arena, (size_t)lots->n_side_pans + 1, sizeof *o->lots.side_pans);
  o->rates.burn_cents_per_h = pw_arena_array(arena, (size_t)ev->n_pits + 1, sizeof *o->rates.burn_cents_per_h);
  o->rates.light_cents = pw_arena_array(arena, (size_t)ev->n_pits + 1, sizeof *o->rates.light_cents);
  if (!pit_to || !lot_to || !finisher_to || !pits || !o->ev.finishers || !o->lots.zones || !o->lots.lots ||
      !o->lots.reheats || !o->lots.side_pans || !o->rates.burn_cents_per_h || !o->rates.light_cents)
    return PW_ERR_MEMORY;
  pits_make(pits, o, ev);
  o->ev.pits = pits;
  for (int p = 0; p < ev->n_pits; p++) {
    o->rates.burn_cents_per_h[p] = rates->burn_cents_per_h[o->pit[p]];
    o->rates.light_cents[p] = rates->light_cents[o->pit[p]];
  }
  for (int f = 0; f < ev->n_finishers; f++)
    o->ev.finishers[f] = ev->finishers[o->finisher[f]];
  for (int z = 0; z < lots->n_zones; z++) {
    o->lots.zones[z] = lots->zones[o->zone[z]];
    o->lots.zones[z].pit = pit_to[o->lots.zones[z].pit];
  }
  for (int c = 0; c < lots->n_lots; c++) {
    o->lots.lots[c] = lots->lots[o->lot[c]];
    if (!lot_make(&o->lots.lots[c], o, ev, lots, ctx))
      return PW_ERR_MEMORY;
  }
  for (int i = 0; i < lots->n_reheats; i++) {
    o->lots.reheats[i] = lots->reheats[i];
    o->lots.reheats[i].lot = lot_to[lots->reheats[i].lot];
    o->lots.reheats[i].finisher = finisher_to[lots->reheats[i].finisher];
  }
  for (int i = 0; i < lots->n_side_pans; i++) {
    o->lots.side_pans[i] = lots->side_pans[i];
    if (lots->side_pans[i].finisher != PW_NONE)
      o->lots.side_pans[i].finisher = finisher_to[lots->side_pans[i].finisher];
  }
  return PW_OK;
}

/* ---- back ---- */

static int by_load(const void *pa, const void *pb)
{
  const struct pw_load *a = pa, *b = pb;
  const int from[] = {a->start_at_min, (int)a->stage, a->zone, a->finisher, a->lot, a->end_at_min};
  const int to[] = {b->start_at_min, (int)b->stage, b->zone, b->finisher, b->lot, b->end_at_min};
  for (size_t k = 0; k < sizeof from / sizeof *from; k++)
    if (from[k] != to[k])
      return from[k] < to[k] ? -1 : 1;
  return 0;
}

static int by_burn(const void *pa, const void *pb)
{
  const struct pw_burn *a = pa, *b = pb;
  return a->pit != b->pit ? (a->pit < b->pit ? -1 : 1)
                          : (a->lit_at_min > b->lit_at_min) - (a->lit_at_min < b->lit_at_min);
}

pw_status pw_al_order_back(struct pw_allocation *a, const struct pw_al_order *o, struct pw_ctx *ctx)
{
  int *missed = pw_arena_array(ctx->arena, (size_t)o->lots.n_lots + 1, sizeof *missed);
  if (!missed)
    return PW_ERR_MEMORY;
  for (int c = 0; a->missed && c < o->lots.n_lots; c++)
    missed[o->lot[c]] = a->missed[c];
  a->missed = missed;
  for (int i = 0; i < a->n_loads; i++) {
    struct pw_load *load = &a->loads[i];
    load->lot = o->lot[load->lot];
    load->zone = load->zone == PW_NONE ? PW_NONE : o->zone[load->zone];
    load->finisher = load->finisher == PW_NONE ? PW_NONE : o->finisher[load->finisher];
  }
  for (int i = 0; i < a->n_burns; i++)
    a->burns[i].pit = o->pit[a->burns[i].pit];
  for (int i = 0; i < a->n_shortages; i++)
    a->shortages[i].lot = o->lot[a->shortages[i].lot];
  if (a->n_loads > 1)
    qsort(a->loads, (size_t)a->n_loads, sizeof *a->loads, by_load);
  if (a->n_burns > 1)
    qsort(a->burns, (size_t)a->n_burns, sizeof *a->burns, by_burn);
  return PW_OK;
}
