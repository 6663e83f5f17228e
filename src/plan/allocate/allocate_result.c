/* allocate_result.c - pieces in slots and cells -> loads in minutes and metres, burns, shortages. */
#include "plan/allocate/allocate_result.h"
#include "plan/lots/drips.h"

#include "base/arena.h"
#include "plan/allocate/rack_grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct item { /* one piece in one stage */
  int lot, piece, zone, finisher, start_at_min, end_at_min, drips_min;
  enum pw_load_stage stage;
  struct pw_rect rect;
};

struct items {
  struct item *item;
  size_t n, cap;
};

static int item_order(const void *pa, const void *pb)
{
  const struct item *a = pa, *b = pb;
  if (a->start_at_min != b->start_at_min)
    return a->start_at_min < b->start_at_min ? -1 : 1;
  if (a->stage != b->stage)
    return a->stage < b->stage ? -1 : 1;
  if (a->zone != b->zone)
    return a->zone < b->zone ? -1 : 1;
  if (a->finisher != b->finisher)
    return a->finisher < b->finisher ? -1 : 1;
  if (a->lot != b->lot)
    return a->lot < b->lot ? -1 : 1;
  if (a->end_at_min != b->end_at_min)
    return a->end_at_min < b->end_at_min ? -1 : 1;
  return (a->piece > b->piece) - (a->piece < b->piece);
}

static bool is_same_load(const struct item *a, const struct item *b)
{
  return a->start_at_min == b->start_at_min && a->end_at_min == b->end_at_min && a->stage == b->stage &&
         a->zone == b->zone && a->finisher == b->finisher && a->lot == b->lot;
}

static int at_min(const struct pw_al *al, int slot) { return al->lots->start_at_min + slot * al->slot_min; }

/* real rectangle of a piece whose low corner is cell (x, y) of the rack that zone z is on */
static void rect_make(struct pw_rect *rect, const struct pw_rack_grid *grids, int z, int x, int y, double length_m,
                      double width_m, bool is_turned)
{
  rect->x_m = x * grids[z].cell_x_m;
  rect->y_m = y * grids[z].cell_y_m;
  rect->length_m = is_turned ? width_m : length_m;
  rect->depth_m = is_turned ? length_m : width_m;
}

static pw_status items_add(struct items *list, struct item item, struct pw_ctx *ctx)
{
  if (pw_arena_grow(ctx->arena, &list->item, &list->cap, list->n, sizeof *list->item))
    return PW_ERR_MEMORY;
  list->item[list->n++] = item;
  return PW_OK;
}

/* How long what lies open there drips on racks below; 0: it does not. */
static int drips_min(const struct pw_al *al, const struct pw_al_piece *piece)
{
  const struct pw_lot *lot = &al->lots->lots[piece->lot];
  const struct pw_zone *zone = &al->lots->zones[piece->zone];
  const struct pw_pit *pit = &al->ev->pits[zone->pit];
  bool has_below = false;
  for (int r = 0; r < pit->n_racks; r++)
    has_below = has_below || pw_drips_above(pit, zone->rack, r);
  int safe = has_below && lot->safe_min && lot->safe_min[piece->zone] ? lot->safe_min[piece->zone][piece->setting] : 0,
      open = (piece->mid - piece->start) * al->slot_min;
  return safe < open ? safe : open;
}

/** The double that is nearest to v at 12 significant digits, as plan.json has it: what is drawn from a plan and from its file is the same. */
static double at_12_digits(double v)
{
  if (v == 0)
    return 0;
  int decimals = 12 - (int)ceil(log10(fabs(v)));
  double power = pow(10, decimals);
  return round(v * power) / power;
}

static struct pw_rect as_written(const struct pw_rect *r)
{
  return (struct pw_rect){at_12_digits(r->x_m), at_12_digits(r->y_m), at_12_digits(r->length_m),
                          at_12_digits(r->depth_m)};
}

static pw_status piece_items(struct items *list, const struct pw_al *al, const struct pw_rack_grid *grids,
                             const struct pw_al_piece *piece, int nth, struct pw_ctx *ctx)
{
  const struct pw_al_lot *lot = &al->lot[piece->lot];
  const struct pw_lot *src = &al->lots->lots[piece->lot];
  struct item it = {.lot = piece->lot,
                    .piece = nth,
                    .zone = piece->zone,
                    .finisher = PW_NONE,
                    .stage = PW_LOAD_SMOKE,
                    .start_at_min = at_min(al, piece->start),
                    .end_at_min = at_min(al, piece->mid)};
  it.drips_min = drips_min(al, piece);
  rect_make(&it.rect, grids, piece->zone, piece->x1, piece->y1, src->footprint_length_m, src->footprint_width_m,
            piece->is_turned1);
  pw_status status = items_add(list, it, ctx);
  if (!status && piece->place != PW_NONE) {
    it.stage = PW_LOAD_FINISH;
    it.start_at_min = it.end_at_min;
    it.end_at_min = at_min(al, piece->done);
    it.zone = piece->place < al->n_zones ? piece->place : PW_NONE;
    it.finisher = piece->place < al->n_zones ? PW_NONE : piece->place - al->n_zones;
    if (it.zone != PW_NONE)
      rect_make(&it.rect, grids, it.zone, piece->x2, piece->y2, src->wrapped_length_m, src->wrapped_width_m,
                piece->is_turned2);
    status = items_add(list, it, ctx);
  }
  if (!status && piece->box != PW_NONE) {
    int done_at_min = at_min(al, piece->done);
    it.zone = PW_NONE;
    it.finisher = piece->box;
    it.stage = PW_LOAD_REST;
    it.start_at_min = done_at_min;
    it.end_at_min = done_at_min + lot->rest_min;
    if (lot->rest_min > 0)
      status = items_add(list, it, ctx);
    it.stage = PW_LOAD_HOLD;
    it.start_at_min = done_at_min + lot->rest_min;
    it.end_at_min = lot->whole_until_at_min;
    if (!status && it.end_at_min > it.start_at_min)
      status = items_add(list, it, ctx);
  }
  return status;
}

static pw_status loads_make(struct pw_allocation *out, struct items *list, struct pw_ctx *ctx)
{
  if (list->n > 0) /* no list is made for none */
    qsort(list->item, list->n, sizeof *list->item, item_order);
  size_t n_loads = 0;
  for (size_t i = 0; i < list->n; i++)
    if (i == 0 || !is_same_load(&list->item[i - 1], &list->item[i]))
      n_loads++;
  out->loads = pw_arena_array(ctx->arena, n_loads + 1, sizeof *out->loads);
  if (!out->loads)
    return PW_ERR_MEMORY;
  for (size_t i = 0; i < list->n;) {
    size_t j = i;
    while (j < list->n && is_same_load(&list->item[i], &list->item[j]))
      j++;
    const struct item *it = &list->item[i];
    struct pw_load *load = &out->loads[out->n_loads++];
    *load = (struct pw_load){.lot = it->lot,
                             .stage = it->stage,
                             .zone = it->zone,
                             .finisher = it->finisher,
                             .pieces = (int)(j - i),
                             .start_at_min = it->start_at_min,
                             .end_at_min = it->end_at_min,
                             .drips_min = it->stage == PW_LOAD_SMOKE ? it->drips_min : 0};
    load->piece_ids = pw_arena_array(ctx->arena, j - i, sizeof *load->piece_ids);
    if (it->zone != PW_NONE)
      load->rects = pw_arena_array(ctx->arena, j - i, sizeof *load->rects);
    if (!load->piece_ids || (it->zone != PW_NONE && !load->rects))
      return PW_ERR_MEMORY;
    for (size_t k = i; k < j; k++) {
      load->piece_ids[k - i] = list->item[k].piece;
      if (load->rects)
        load->rects[k - i] = as_written(&list->item[k].rect);
    }
    i = j;
  }
  return PW_OK;
}

static pw_status burns_make(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                            struct pw_ctx *ctx)
{
  size_t n_slots = (size_t)al->n_slots + 1, cap = 0;
  unsigned char *active = pw_arena_alloc(ctx->arena, n_slots);
  signed char *setting = pw_arena_alloc(ctx->arena, n_slots);
  if (!active || !setting)
    return PW_ERR_MEMORY;
  for (int p = 0; p < al->n_pits; p++) {
    memset(active, 0, n_slots);
    for (int i = 0; i < best->n_pieces; i++) {
      const struct pw_al_piece *piece = &best->pieces[i];
      if (!piece->is_placed)
        continue;
      int s = best->settings[p * al->n_days + al->lot[piece->lot].day];
      if (al->pit_of_zone[piece->zone] == p)
        for (int t = piece->start; t < piece->mid; t++) {
          active[t] = 1;
          setting[t] = (signed char)s;
        }
      if (piece->place != PW_NONE && piece->place < al->n_zones && al->pit_of_zone[piece->place] == p)
        for (int t = piece->mid; t < piece->done; t++) {
          active[t] = 1;
          setting[t] = (signed char)s;
        }
    }
    struct pw_al_stretch burns[64];
    double cost;
    int n = pw_al_burns(&al->pit[p], al->n_slots, active, setting, burns, 64, &cost);
    for (int k = 0; k < n && k < 64; k++) {
      if (pw_arena_grow(ctx->arena, &out->burns, &cap, (size_t)out->n_burns, sizeof *out->burns))
        return PW_ERR_MEMORY;
      int ready = at_min(al, burns[k].from);
      out->burns[out->n_burns++] = (struct pw_burn){.pit = p,
                                                    .setting = burns[k].setting,
                                                    .ready_at_min = ready,
                                                    .lit_at_min = ready - al->ev->pits[p].ready_min,
                                                    .out_at_min = at_min(al, burns[k].to)};
    }
  }
  return PW_OK;
}

/* as a cook meets them: lot by lot, by the time they go on, from the hot end along the rack; those without a place last */
static int number_order(const void *pa, const void *pb)
{
  const struct pw_al_piece *a = pa, *b = pb;
  if (a->lot != b->lot)
    return a->lot < b->lot ? -1 : 1;
  if (!a->is_placed || !b->is_placed)
    return b->is_placed - a->is_placed;
  int from[4] = {a->start, a->zone, a->x1, a->y1}, to[4] = {b->start, b->zone, b->x1, b->y1};
  for (int k = 0; k < 4; k++)
    if (from[k] != to[k])
      return from[k] < to[k] ? -1 : 1;
  return 0;
}

pw_status pw_al_result(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                       struct pw_ctx *ctx)
{
  out->missed = pw_arena_array(ctx->arena, (size_t)al->n_lots + 1, sizeof *out->missed);
  struct pw_rack_grid *grids = pw_arena_array(ctx->arena, (size_t)al->n_zones + 1, sizeof *grids);
  if (!out->missed || !grids)
    return PW_ERR_MEMORY;
  for (int z = 0; z < al->n_zones; z++) {
    const struct pw_zone *zone = &al->lots->zones[z];
    if (pw_rack_grid_init(&grids[z], &al->ev->pits[zone->pit].racks[zone->rack], 0, ctx->arena))
      return PW_ERR_MEMORY;
  }
  struct pw_al_piece *pieces = pw_arena_array(ctx->arena, (size_t)best->n_pieces + 1, sizeof *pieces);
  if (!pieces)
    return PW_ERR_MEMORY;
  if (best->n_pieces > 0) { /* the piece numbers on maps and sheets */
    memcpy(pieces, best->pieces, (size_t)best->n_pieces * sizeof *pieces);
    qsort(pieces, (size_t)best->n_pieces, sizeof *pieces, number_order);
  }
  struct items list = {0};
  pw_status status = PW_OK;
  int nth = 0;
  for (int i = 0; i < best->n_pieces && !status; i++) {
    nth = i > 0 && pieces[i - 1].lot == pieces[i].lot ? nth + 1 : 0;
    if (pieces[i].is_placed) {
      struct pw_al_piece piece = pieces[i]; /* its own setting is that of the moment it was put down */
      piece.setting = best->settings[al->pit_of_zone[piece.zone] * al->n_days + al->lot[piece.lot].day];
      status = piece_items(&list, al, grids, &piece, nth, ctx);
    } else {
      out->missed[pieces[i].lot]++;
      out->n_missed++;
    }
  }
  if (!status)
    status = loads_make(out, &list, ctx);
  if (!status)
    status = burns_make(out, al, best, ctx);
  return status;
}
