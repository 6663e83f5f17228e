/* retime.c - every piece's stages by what is true and believed, then loads and fires out of them [N3].
 * Input: state, belief, what is done otherwise.  Output: an allocation that begins with the past as it was; from now on its minutes are on
 * the grid.  Idea: pieces in order of their planned beginnings, as the draws of plan/chance/chance.c walk them; a spot that is still taken
 * is waited for; nothing begins before now. */
#include "day/mend.h"

#include "base/arena.h"
#include "plan/lots/drips.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
  CLUSTER_MIN = 30
}; /* pieces of one load that are ready within so long are one load: common practice, no source */

/** A piece in a stage, before and after. */
struct step {
  int piece, stage;
  const struct pw_load *load;
  const struct pw_rect *rect;
  int old_start, old_end, start, end;
  int zone, finisher;
  const struct pw_spot *spot; /* NULL: as planned */
  bool is_carried;
  int carried_at, from_zone, from_finisher;
  double pace;
};

struct work {
  const struct pw_state *s;
  const struct pw_belief *b;
  const struct pw_plan *plan;
  const struct pw_otherwise *other;
  int slot, now; /* now: first minute of the grid that is still to come */
  struct step *steps;
  int n_steps, *last; /* step of a piece before, by piece */
  int *ready;         /* per pit: clean not before, for what is not on yet */
};

static int up_to(double at, int slot)
{
  int whole = (int)ceil(at - 1e-9), over = ((whole % slot) + slot) % slot;
  return over ? whole + slot - over : whole;
}

static int max_int(int a, int b) { return a > b ? a : b; }

static int by_start(const void *a, const void *b)
{
  const struct step *x = a, *y = b;
  if (x->old_start != y->old_start)
    return x->old_start < y->old_start ? -1 : 1;
  if (x->old_end != y->old_end)
    return x->old_end < y->old_end ? -1 : 1;
  if (x->piece != y->piece)
    return x->piece < y->piece ? -1 : 1;
  return (x->stage > y->stage) - (x->stage < y->stage);
}

/* What somebody laid elsewhere than planned, as the log says: each beside what really lies there by then, those before it included. */
static pw_status lay_elsewhere(struct work *w, struct pw_arena *arena)
{
  struct pw_allocation there = {.loads = pw_arena_array(arena, (size_t)w->n_steps + 1, sizeof *there.loads),
                                .n_loads = w->n_steps};
  if (!there.loads)
    return PW_ERR_MEMORY;
  for (int i = 0; i < w->n_steps; i++) {
    const struct step *x = &w->steps[i];
    const struct pw_piece *piece = &w->s->pieces[x->piece];
    const struct pw_piece_stage *st = &piece->stage[x->stage];
    struct pw_rect *rect = x->rect && x->zone == x->load->zone ? pw_arena_alloc(arena, sizeof *rect) : NULL;
    if (x->rect && x->zone == x->load->zone && !rect)
      return PW_ERR_MEMORY;
    if (rect)
      *rect = *x->rect;
    int *id = pw_arena_alloc(arena, sizeof *id);
    if (!id)
      return PW_ERR_MEMORY;
    *id = piece->nth;
    there.loads[i] = (struct pw_load){.lot = piece->lot,
                                      .stage = (enum pw_load_stage)x->stage,
                                      .pieces = 1,
                                      .piece_ids = id,
                                      .rects = rect,
                                      .zone = x->zone,
                                      .finisher = x->finisher,
                                      .start_at_min = st->start_min,
                                      .end_at_min = st->end_min,
                                      .is_carried = st->is_carried,
                                      .carried_at_min = st->carried_min};
  }
  for (int i = 0; i < w->n_steps; i++) {
    struct step *x = &w->steps[i];
    struct pw_rect *rect = NULL;
    if (x->zone == x->load->zone)
      continue;
    x->rect = NULL;
    if (x->zone != PW_NONE && !(rect = pw_arena_alloc(arena, sizeof *rect)))
      return PW_ERR_MEMORY;
    if (rect && pw_spot_laid(rect, &x->zone, w->s, &there, x->piece, x->stage)) {
      x->rect = there.loads[i].rects = rect;
      there.loads[i].zone = x->zone;
    }
    if (x->is_carried && x->zone == x->from_zone &&
        x->finisher == x->from_finisher) { /* no room over there: shown where it was */
      x->is_carried = false;
      x->from_zone = x->from_finisher = PW_NONE;
    }
  }
  return PW_OK;
}

static pw_status steps_make(struct work *w, struct pw_arena *arena)
{
  const struct pw_allocation *a = &w->plan->allocation;
  w->steps = pw_arena_array(arena, (size_t)w->s->n_pieces * 2 + 1, sizeof *w->steps);
  w->last = pw_arena_array(arena, (size_t)w->s->n_pieces + 1, sizeof *w->last);
  w->ready = pw_arena_array(arena, (size_t)w->plan->event->n_pits + 1, sizeof *w->ready);
  if (!w->steps || !w->last || !w->ready)
    return PW_ERR_MEMORY;
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *load = &a->loads[i];
    for (int k = 0; load->stage <= PW_LOAD_FINISH && k < load->pieces; k++) {
      int piece = w->s->first[load->lot] + (load->piece_ids ? load->piece_ids[k] : k);
      const struct pw_piece_stage *st = &w->s->pieces[piece].stage[load->stage];
      if (!w->s->pieces[piece].is_missing)
        w->steps[w->n_steps++] = (struct step){.piece = piece,
                                               .stage = load->stage,
                                               .load = load,
                                               .rect = load->rects ? &load->rects[k] : NULL,
                                               .old_start = load->start_at_min,
                                               .old_end = load->end_at_min,
                                               .zone = st->zone,
                                               .finisher = st->finisher,
                                               .is_carried = st->is_carried,
                                               .carried_at = st->carried_min,
                                               .from_zone = st->from_zone,
                                               .from_finisher = st->from_finisher,
                                               .pace = 1};
    }
  }
  pw_status st = lay_elsewhere(w, arena);
  if (st != PW_OK)
    return st;
  qsort(w->steps, (size_t)w->n_steps, sizeof *w->steps, by_start);
  for (int p = 0; p < w->s->n_pieces; p++)
    w->last[p] = PW_NONE;
  for (int p = 0; p < w->plan->event->n_pits; p++)
    w->ready[p] = INT_MIN;
  for (int b = 0; b < a->n_burns; b++) /* lit late: clean late */
    if (w->s->lit_min[b] != a->burns[b].lit_at_min) {
      int clean = w->s->lit_min[b] + (a->burns[b].ready_at_min - a->burns[b].lit_at_min);
      w->ready[a->burns[b].pit] = max_int(w->ready[a->burns[b].pit], clean);
    }
  for (int i = 0; i < w->s->n_outages; i++) { /* lost and lit again: clean again after as long as a fire takes */
    int pit = w->s->outages[i].pit, clean = w->s->outages[i].to_min + w->plan->event->pits[pit].ready_min / 2;
    w->ready[pit] = max_int(w->ready[pit], clean);
  }
  return PW_OK;
}

static bool is_on_spot(const struct work *w, const struct step *a, const struct step *b)
{
  if (a->piece == b->piece || a->zone == PW_NONE || b->zone == PW_NONE || !a->rect || !b->rect)
    return false;
  const struct pw_zone *x = &w->plan->lots.zones[a->zone], *y = &w->plan->lots.zones[b->zone];
  const struct pw_rect *p = a->rect, *q = b->rect;
  return x->pit == y->pit && x->rack == y->rack && p->x_m < q->x_m + q->length_m - 1e-6 &&
         q->x_m < p->x_m + p->length_m - 1e-6 && p->y_m < q->y_m + q->depth_m - 1e-6 &&
         q->y_m < p->y_m + p->depth_m - 1e-6;
}

static int planned_of(const struct work *w, const struct step *x)
{
  const struct pw_lot *lot = &w->plan->lots.lots[w->s->pieces[x->piece].lot];
  if (x->spot)
    return pw_spot_min(&w->plan->lots, w->s->pieces[x->piece].lot, x->stage, x->zone, x->spot->setting);
  if (x->finisher != PW_NONE && x->finisher != x->load->finisher &&
      pw_spot_oven_min(lot, x->stage, x->finisher) != PW_NONE)
    return pw_spot_oven_min(lot, x->stage, x->finisher);
  return pw_belief_planned_min(w->s, x->piece, x->stage, x->zone);
}

static void time_step(struct work *w, int i)
{
  struct step *x = &w->steps[i];
  const struct pw_piece *piece = &w->s->pieces[x->piece];
  const struct pw_piece_stage *st = &piece->stage[x->stage];
  const struct step *before = w->last[x->piece] == PW_NONE ? NULL : &w->steps[w->last[x->piece]];
  bool is_on = st->start_min <= w->s->now_min && (!before || before->end <= w->s->now_min);
  bool is_last = x->stage == PW_LOAD_FINISH || piece->stage[PW_LOAD_FINISH].load == PW_NONE;
  int oven = is_last ? w->other->oven[x->piece] : PW_NONE;
  if (oven == PW_NONE && before && before->finisher != PW_NONE && x->finisher == PW_NONE)
    oven = before->finisher; /* carried there open, it is wrapped and stays */
  if (oven != PW_NONE && !is_on && pw_spot_oven_min(&w->plan->lots.lots[piece->lot], x->stage, oven) != PW_NONE) {
    x->finisher = oven;
    x->zone = PW_NONE;
    x->rect = NULL;
  }
  const struct pw_spot *spot = &w->other->spots[PW_SPOT_AT(x->piece, x->stage)];
  const struct pw_spot *carry = &w->other->carry[x->piece];
  if (carry->is_moved && carry->zone != PW_NONE && !is_on && x->stage == PW_LOAD_SMOKE)
    spot = carry; /* it is not on yet after all: it goes there at once */
  if (spot->is_moved && !is_on) {
    x->spot = spot;
    x->zone = spot->zone;
    x->finisher = PW_NONE;
    x->rect = &spot->rect;
  }
  double planned = planned_of(w, x), minutes = pw_belief_minutes(w->b, x->piece, x->stage, (int)planned, 0);
  if (is_on)
    x->start = st->start_min;
  else if (before)
    x->start = before->end;
  else {
    x->start = max_int(x->old_start, w->now);
    if (x->zone != PW_NONE)
      x->start = max_int(x->start, up_to(w->ready[w->plan->lots.zones[x->zone].pit], w->slot));
    if (x->spot)
      x->start = max_int(x->start, x->spot->from_min);
    for (int k = 0; k < i; k++)
      if (w->steps[k].end > x->start && w->steps[k].old_end <= x->old_start && is_on_spot(w, &w->steps[k], x))
        x->start = up_to(w->steps[k].end, w->slot);
  }
  if (is_on && st->end_min <= w->s->now_min) { /* over, as logged or as taken as done */
    x->end = st->end_min;
    return;
  }
  if (x->stage == PW_LOAD_SMOKE && w->other->wrap_now[x->piece] && is_on) {
    x->end = w->now;
    x->pace = (x->end - x->start) / planned;
    return;
  }
  double core_c = NAN;
  if (x->stage == PW_LOAD_FINISH && before && w->other->wrap_now[x->piece] &&
      isfinite(core_c = pw_belief_core_c(w->s, x->piece))) {
    double air_c =
        x->finisher != PW_NONE ? w->plan->event->finishers[x->finisher].temp_c : w->plan->lots.zones[x->zone].temp_c[0];
    minutes *= pw_belief_from_core(w->s, piece->lot, core_c, air_c);
  }
  if (carry->is_moved && is_on && x->stage == pw_spot_stage_now(w->s, x->piece)) {
    int there = carry->zone != PW_NONE ? pw_spot_min(&w->plan->lots, piece->lot, x->stage, carry->zone, carry->setting)
                                       : pw_spot_oven_min(&w->plan->lots.lots[piece->lot], x->stage, carry->finisher);
    x->is_carried = true;
    x->carried_at = w->now;
    x->from_zone = x->zone;
    x->from_finisher = x->finisher;
    x->zone = carry->zone;
    x->finisher = carry->finisher;
    x->rect = carry->zone != PW_NONE ? &carry->rect : NULL;
    x->end = max_int(up_to(x->start + pw_spot_carried_min(w->s, w->b, x->piece, x->stage, w->now, there), w->slot),
                     w->now + w->slot);
    x->pace = (x->end - x->start) / (double)there;
    return;
  }
  double end = x->start + minutes;
  bool is_as_planned =
      fabs(minutes - planned) < w->plan->lots.slot_min && w->b->pieces[x->piece].lost_min[x->stage] < 1;
  if (is_as_planned)
    end = x->start + planned;
  x->end = max_int(up_to(end, w->slot), is_on ? w->now : x->start + w->slot);
  x->pace = (x->end - x->start) / planned;
}

/* ---- rest and hold, late or not ---------------------------------------------------------------------------------------- */

static int last_of(const struct work *w, int piece) { return w->last[piece]; }

/* Held no longer than it may be: what would be ready too early stays on as planned. */
static void keep_holds(struct work *w, int i)
{
  struct step *x = &w->steps[i];
  const struct pw_lot *lot = &w->plan->lots.lots[w->s->pieces[x->piece].lot];
  int due = lot->whole_until_at_min, held = due - x->end - lot->rest_min;
  if (lot->is_day_before || x->end <= w->s->now_min || held <= lot->hold_max_min + lot->over_min ||
      x->end >= x->old_end)
    return;
  x->end = x->old_end;
  x->pace = (x->end - x->start) / fmax(planned_of(w, x), 1);
}

/* Pieces of one load that end nearly together end together, with the last. */
static void cluster(struct work *w)
{
  for (int i = 0; i < w->n_steps; i++)
    for (int k = 0; k < w->n_steps; k++) {
      struct step *x = &w->steps[i], *y = &w->steps[k];
      if (x->load == y->load && x->zone == y->zone && x->finisher == y->finisher && x->start == y->start &&
          x->end > w->s->now_min && y->end > x->end && y->end - x->end <= CLUSTER_MIN &&
          !w->other->wrap_now[x->piece] && x->end > x->old_end) {
        x->end = y->end;
        x->pace = y->pace;
      }
    }
}

static void move_by(struct step *x, int by_min)
{
  x->start += by_min;
  x->end += by_min;
}

/* The stage before ends only then; what follows is moved by whoever asked.  False: it is over already. */
static bool wait_in_smoke(struct work *w, const struct step *y, int until)
{
  for (int k = 0; k < w->n_steps; k++) {
    struct step *x = &w->steps[k];
    if (x->piece != y->piece || x->stage != PW_LOAD_SMOKE || x->end <= w->s->now_min || x->end >= until)
      continue;
    x->end = until;
    return true;
  }
  return false;
}

/* Somebody laid it elsewhere than planned. */
static bool is_laid_elsewhere(const struct step *x)
{
  return x->zone != x->load->zone && x->zone != PW_NONE && !x->spot;
}

/* How long a smoke step drips on what lies below: as its load says, or by where it lies now. */
static int drips_min(const struct work *w, const struct step *x)
{
  if (!is_laid_elsewhere(x))
    return x->load->drips_min;
  int setting = pw_spot_setting(w->s, x->zone, x->is_carried ? x->carried_at : x->start);
  return setting == PW_NONE ? x->load->drips_min
                            : pw_spot_drips_min(w->plan->event, &w->plan->lots, w->s->pieces[x->piece].lot, x->zone,
                                                setting, x->end - x->start);
}

/* Until when a raw step above another still drips. */
static int drips_until(const struct work *w, const struct step *x, int start, int end)
{
  int safe = start + drips_min(w, x);
  return safe < end ? safe : end;
}

/* [H2] Until when y waits because of x, one of them raw above the other, where the plan had them one after the other: INT_MIN when it need
 * not.  By racks, not by outlines: it may wait longer than it must. */
static int drips_wait(const struct work *w, const struct step *x, const struct step *y)
{
  if (x->zone == PW_NONE || y->zone == PW_NONE || x->stage != PW_LOAD_SMOKE || y->stage != PW_LOAD_SMOKE)
    return INT_MIN;
  const struct pw_zone *zx = &w->plan->lots.zones[x->zone], *zy = &w->plan->lots.zones[y->zone];
  const struct pw_event *ev = w->plan->event;
  const struct pw_cut *cx = &ev->cuts[w->plan->lots.lots[w->s->pieces[x->piece].lot].cut],
                      *cy = &ev->cuts[w->plan->lots.lots[w->s->pieces[y->piece].lot].cut];
  if (zx->pit != zy->pit)
    return INT_MIN;
  if (pw_drips_raw(cy) && pw_drips_above(&ev->pits[zy->pit], zy->rack, zx->rack) && x->start <= w->s->now_min &&
      x->end > y->start && drips_until(w, y, y->start, y->end) >= x->end)
    return x->end; /* it is on, and would be done before what comes above it drips no more */
  if (pw_drips_raw(cy) && pw_drips_above(&ev->pits[zy->pit], zy->rack, zx->rack) && x->old_end <= y->old_start)
    return x->end;
  if (pw_drips_raw(cx) && pw_drips_above(&ev->pits[zx->pit], zx->rack, zy->rack) &&
      drips_until(w, x, x->old_start, x->old_end) <= y->old_start)
    return drips_until(w, x, x->start, x->end);
  if (pw_drips_raw(cx) && pw_drips_above(&ev->pits[zx->pit], zx->rack, zy->rack) && is_laid_elsewhere(x) &&
      x->start <= w->s->now_min && drips_until(w, x, x->start, x->end) > y->start)
    return drips_until(w, x, x->start, x->end);
  if (pw_drips_raw(cx) && pw_drips_above(&ev->pits[zx->pit], zx->rack, zy->rack) && x->old_start < y->old_end &&
      drips_until(w, x, x->start, x->end) > y->start) { /* the one below is done so long after it as planned */
    int until = drips_until(w, x, x->start, x->end),
        late = until - drips_until(w, x, x->old_start, x->old_end) - (y->end - y->old_end);
    return late > 0 ? (y->start + late < until ? y->start + late : until) : INT_MIN;
  }
  return INT_MIN;
}

/* What was put together or held back moves what comes after it, and what waits for its spot, until nothing moves. */
static void settle(struct work *w)
{
  enum { PASSES = 12 };
  bool is_moved = true;
  for (int pass = 0; pass < PASSES && is_moved; pass++) {
    is_moved = false;
    for (int i = 0; i < w->n_steps; i++)
      for (int k = 0; k < w->n_steps; k++) {
        const struct step *x = &w->steps[i];
        struct step *y = &w->steps[k];
        if (y->start <= w->s->now_min || x == y)
          continue;
        bool is_next = y->piece == x->piece && y->stage > x->stage && y->start != x->end;
        bool is_first = y->stage == PW_LOAD_SMOKE || w->s->pieces[y->piece].stage[PW_LOAD_SMOKE].load == PW_NONE;
        bool is_behind = x->old_end <= y->old_start || x->start < y->start; /* by plan, or by what became of it */
        bool is_blocked = is_first && is_behind && x->end > y->start && is_on_spot(w, x, y);
        bool is_elsewhere = is_laid_elsewhere(x) && x->start < y->start;
        if (!is_first && !is_next && x->piece != y->piece && (x->old_end <= y->old_start || is_elsewhere) &&
            x->end > y->start && is_on_spot(w, x, y))
          is_moved = wait_in_smoke(w, y, up_to(x->end, w->slot)) || is_moved; /* it stays where it smokes until then */
        int drips = is_first && x->piece != y->piece ? drips_wait(w, x, y) : INT_MIN;
        if (drips > y->start) {
          move_by(y, up_to(drips, w->slot) - y->start);
          is_moved = true;
        }
        if (is_next || is_blocked) {
          move_by(y, up_to(x->end, w->slot) - y->start);
          is_moved = true;
        }
      }
  }
}

/* ---- loads ----------------------------------------------------------------------------------------------------------------- */

struct gather {
  struct pw_load *loads;
  double *pace;
  size_t n, cap, cap_pace;
  struct pw_arena *arena;
};

/* Adds a piece to the load it shares stage, place and minutes with. */
static bool add(struct gather *g, const struct pw_load *load, int nth, const struct pw_rect *rect, double pace)
{
  struct pw_load *at = NULL;
  for (size_t i = 0; i < g->n && !at; i++)
    if (g->loads[i].lot == load->lot && g->loads[i].stage == load->stage && g->loads[i].zone == load->zone &&
        g->loads[i].finisher == load->finisher && g->loads[i].start_at_min == load->start_at_min &&
        g->loads[i].end_at_min == load->end_at_min && g->loads[i].is_carried == load->is_carried &&
        (!load->is_carried ||
         (g->loads[i].carried_at_min == load->carried_at_min && g->loads[i].from_zone == load->from_zone &&
          g->loads[i].from_finisher == load->from_finisher)) &&
        (g->loads[i].rects != NULL) == (rect != NULL))
      at = &g->loads[i];
  if (!at) {
    if (pw_arena_grow(g->arena, &g->loads, &g->cap, g->n, sizeof *g->loads) < 0 ||
        pw_arena_grow(g->arena, &g->pace, &g->cap_pace, g->n, sizeof *g->pace) < 0)
      return false;
    g->pace[g->n] = pace;
    at = &g->loads[g->n++];
    *at = *load;
    at->pieces = 0;
    at->rects = NULL;
    at->piece_ids = NULL;
  }
  int *ids = pw_arena_array(g->arena, (size_t)at->pieces + 1, sizeof *ids);
  struct pw_rect *rects = rect ? pw_arena_array(g->arena, (size_t)at->pieces + 1, sizeof *rects) : NULL;
  if (!ids || (rect && !rects))
    return false;
  for (int k = 0; k < at->pieces; k++) {
    ids[k] = at->piece_ids[k];
    if (rect)
      rects[k] = at->rects[k];
  }
  ids[at->pieces] = nth;
  if (rect)
    rects[at->pieces] = *rect;
  at->piece_ids = ids;
  at->rects = rects;
  at->pieces++;
  return true;
}

static bool add_step(struct gather *g, const struct work *w, const struct step *x)
{
  struct pw_load load = *x->load;
  load.start_at_min = x->start;
  load.end_at_min = x->end;
  load.zone = x->zone;
  load.finisher = x->finisher;
  load.is_carried = x->is_carried;
  load.carried_at_min = x->is_carried ? x->carried_at : 0;
  load.from_zone = x->is_carried ? x->from_zone : PW_NONE;
  load.from_finisher = x->is_carried ? x->from_finisher : PW_NONE;
  if (x->zone == PW_NONE)
    load.drips_min = 0;
  if (x->spot)
    load.drips_min = x->stage == PW_LOAD_SMOKE ? pw_spot_drips_min(w->plan->event, &w->plan->lots, load.lot, x->zone,
                                                                   x->spot->setting, x->end - x->start)
                                               : 0;
  else if (x->stage == PW_LOAD_SMOKE && is_laid_elsewhere(x))
    load.drips_min = drips_min(w, x);
  if (load.drips_min > x->end - x->start)
    load.drips_min = x->end - x->start;
  return add(g, &load, w->s->pieces[x->piece].nth, x->rect, x->pace);
}

/* Rest from the end of cooking on, hold until the meal; how late it is rested. */
static bool add_rest(struct gather *g, const struct work *w, int piece, int *late_min)
{
  const struct pw_piece *p = &w->s->pieces[piece];
  const struct pw_lot *lot = &w->plan->lots.lots[p->lot];
  const struct pw_allocation *a = &w->plan->allocation;
  int end = w->steps[last_of(w, piece)].end, old_end = w->steps[last_of(w, piece)].old_end,
      due = lot->whole_until_at_min;
  int late = end + lot->rest_min + lot->carve_min - lot->by_at_min;
  *late_min = late > *late_min ? late : *late_min;
  const struct pw_load *rest = p->stage[PW_LOAD_REST].load == PW_NONE ? NULL : &a->loads[p->stage[PW_LOAD_REST].load];
  const struct pw_load *hold = p->stage[PW_LOAD_HOLD].load == PW_NONE ? NULL : &a->loads[p->stage[PW_LOAD_HOLD].load];
  if (!rest && !hold)
    return true;
  int rested = end;
  if (rest) {
    struct pw_load load = *rest;
    load.start_at_min = end;
    rested = load.end_at_min = end + (hold || end != old_end ? lot->rest_min : rest->end_at_min - rest->start_at_min);
    if (!hold && rested < due && !lot->is_day_before) /* it rested until the meal, and still does */
      rested = load.end_at_min = due;
    if (!add(g, &load, p->nth, NULL, 1))
      return false;
  }
  const struct pw_load *like = hold ? hold : rest;
  int until = hold ? hold->end_at_min : rested;
  if (!like || rested >= until)
    return true;
  struct pw_load load = *like;
  load.stage = PW_LOAD_HOLD;
  load.start_at_min = rested;
  load.end_at_min = until;
  return add(g, &load, p->nth, NULL, 1);
}

static int by_load(const void *a, const void *b)
{
  const struct pw_load *x = *(const struct pw_load *const *)a, *y = *(const struct pw_load *const *)b;
  const int keys[][2] = {{x->start_at_min, y->start_at_min},
                         {(int)x->stage, (int)y->stage},
                         {x->zone, y->zone},
                         {x->finisher, y->finisher},
                         {x->lot, y->lot},
                         {x->end_at_min, y->end_at_min}};
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (keys[i][0] != keys[i][1])
      return keys[i][0] < keys[i][1] ? -1 : 1;
  return 0;
}

static pw_status put_loads(struct pw_allocation *out, double **pace, struct gather *g)
{
  struct pw_load *loads = pw_arena_array(g->arena, g->n + 1, sizeof *loads);
  const struct pw_load **order = pw_arena_array(g->arena, g->n + 1, sizeof(const struct pw_load *));
  *pace = pw_arena_array(g->arena, g->n + 1, sizeof **pace);
  if (!loads || !order || !*pace)
    return PW_ERR_MEMORY;
  for (size_t i = 0; i < g->n; i++)
    order[i] = &g->loads[i];
  qsort(order, g->n, sizeof(const struct pw_load *), by_load);
  for (size_t i = 0; i < g->n; i++) {
    loads[i] = *order[i];
    (*pace)[i] = g->pace[order[i] - g->loads];
  }
  out->loads = loads;
  out->n_loads = (int)g->n;
  return PW_OK;
}

/* Each fire as it was lit, burning until its last food is off. */
static pw_status put_burns(struct pw_allocation *out, const struct work *w, struct pw_arena *arena)
{
  const struct pw_allocation *a = &w->plan->allocation;
  out->burns = pw_arena_array(arena, (size_t)a->n_burns + 1, sizeof *out->burns);
  out->n_burns = 0;
  if (!out->burns)
    return PW_ERR_MEMORY;
  for (int b = 0; b < a->n_burns; b++) {
    struct pw_burn burn = a->burns[b];
    int next = b + 1 < a->n_burns && a->burns[b + 1].pit == burn.pit ? w->s->lit_min[b + 1] : INT_MAX;
    int by = w->s->lit_min[b] - burn.lit_at_min;
    if (by > 0 || (by < 0 && w->s->lit_min[b] <= w->s->now_min)) {
      burn.lit_at_min += by;
      burn.ready_at_min += by;
    }
    for (int i = 0; i < w->n_steps; i++) {
      const struct step *x = &w->steps[i];
      bool is_moved =
          x->is_carried || x->spot || x->zone != x->load->zone; /* it may find the fire burning longer than planned */
      int at = x->is_carried ? x->carried_at : is_moved ? x->start : x->old_start;
      bool is_of = x->zone != PW_NONE && w->plan->lots.zones[x->zone].pit == burn.pit && at >= a->burns[b].lit_at_min &&
                   at < (is_moved ? next : a->burns[b].out_at_min);
      if (is_of && x->end > burn.out_at_min)
        burn.out_at_min = x->end;
    }
    burn.out_at_min = max_int(burn.out_at_min, burn.ready_at_min + w->slot); /* lit for nothing */
    struct pw_burn *last = out->n_burns > 0 ? &out->burns[out->n_burns - 1] : NULL;
    if (last && last->pit == burn.pit && last->setting == burn.setting && last->out_at_min >= burn.lit_at_min)
      last->out_at_min = max_int(last->out_at_min, burn.out_at_min); /* it never went out in between */
    else {
      if (burn.out_at_min > next && a->burns[b + 1].setting != burn.setting)
        burn.out_at_min = next;
      out->burns[out->n_burns++] = burn;
    }
  }
  return PW_OK;
}

pw_status pw_retime(struct pw_allocation *out, int *late_min, double **pace, const struct pw_state *s,
                    const struct pw_belief *belief, const struct pw_otherwise *otherwise, struct pw_ctx *ctx)
{
  const struct pw_plan *plan = s->plan;
  struct work w = {.s = s, .b = belief, .plan = plan, .other = otherwise, .slot = pw_day_slot_min(plan)};
  struct gather g = {.arena = ctx->arena};
  w.now = up_to(s->now_min + 1, w.slot);
  *out = plan->allocation;
  pw_status st = steps_make(&w, ctx->arena);
  if (st != PW_OK)
    return st;
  for (int i = 0; i < w.n_steps; i++) {
    time_step(&w, i);
    w.last[w.steps[i].piece] = i;
    if (w.steps[i].stage == PW_LOAD_FINISH || s->pieces[w.steps[i].piece].stage[PW_LOAD_FINISH].load == PW_NONE)
      keep_holds(&w, i);
  }
  cluster(&w);
  settle(&w);
  for (int l = 0; l < plan->lots.n_lots; l++)
    late_min[l] = INT_MIN;
  bool is_ok = true;
  for (int i = 0; i < w.n_steps && is_ok; i++)
    is_ok = add_step(&g, &w, &w.steps[i]);
  for (int p = 0; p < s->n_pieces && is_ok; p++)
    if (last_of(&w, p) != PW_NONE)
      is_ok = add_rest(&g, &w, p, &late_min[s->pieces[p].lot]);
  if (!is_ok)
    return PW_ERR_MEMORY;
  st = put_loads(out, pace, &g);
  if (st == PW_OK)
    st = put_burns(out, &w, ctx->arena);
  if (!(out->missed = pw_arena_array(ctx->arena, (size_t)plan->lots.n_lots + 1, sizeof *out->missed)))
    return PW_ERR_MEMORY;
  out->n_missed = 0;
  for (int p = 0; p < s->n_pieces; p++) {
    out->missed[s->pieces[p].lot] += last_of(&w, p) == PW_NONE;
    out->n_missed += last_of(&w, p) == PW_NONE;
  }
  return st;
}
