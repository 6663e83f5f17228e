/* chance.c - draws the day many times [R1] by the crew's rules [R2]: a piece leaves a stage when its core says so; a load goes on at
 * its time or as soon as its spot is free; what is early rests and holds; what is late keeps its spot until it is done.
 * Idea: pieces and their stages become items in order of their planned beginnings; each knows the items that lay on its spot before.
 * One draw is one walk over them, and one more each for what is told beside: late wrapped pieces moved away, fires that go wrong. */
#include "plan/chance/chance.h"

#include "base/arena.h"
#include "heat/food_code.h"
#include "plan/chance/draws.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>

struct pw_spread_shares pw_spread_shares(void)
{
  return (struct pw_spread_shares){0.4, 0.2, 0.4}; /* common practice, no source */
}

/* ---- items ----------------------------------------------------------------------------------------------- */

/** One piece in one stage at one place. */
struct item {
  int load;
  int lot, piece, nth;           /* piece of all pieces, of its lot */
  uint64_t lot_name, place_name; /* for its draws */
  struct pw_draw_stage varies;   /* sigma of the logarithm of its length, and with what it varies */
  int lot_at, place_at;          /* among the names drawn once a draw */
  int start, end;
  bool is_wrapped;
  int rack, finisher;      /* rack of all racks, or PW_NONE */
  int burn;                /* that it lies over, PW_NONE in an oven */
  double x0, x1, y0, y1;   /* on the rack */
  double room;             /* in the oven */
  int before, next;        /* the items of its stages before and behind, PW_NONE */
  int first_pred, n_preds; /* items that lay on its spot, or in its oven */
};

struct day {
  const struct pw_event *ev;
  const struct pw_lots *lots;
  const struct pw_allocation *al;
  const int *late_min; /* per lot, or NULL */
  struct item *items;
  int n_items;
  int *preds;
  size_t n_preds, cap_preds;
  int n_pieces;
  int *lot_of_piece, *last_item; /* of a piece */
  uint64_t *names;               /* of what several items share: a lot's stage, a place's */
  int n_names;
};

static int rack_of(const struct pw_lots *lots, int zone)
{
  int n = 0;
  for (int z = 1; z <= zone; z++)
    n += lots->zones[z].pit != lots->zones[z - 1].pit || lots->zones[z].rack != lots->zones[z - 1].rack;
  return n;
}

static int item_compare(const void *a, const void *b)
{
  const struct item *x = a, *y = b;
  if (x->start != y->start)
    return x->start < y->start ? -1 : 1;
  if (x->end != y->end)
    return x->end < y->end ? -1 : 1;
  if (x->lot_name != y->lot_name)
    return x->lot_name < y->lot_name ? -1 : 1;
  return (x->nth > y->nth) - (x->nth < y->nth);
}

/** Spread of a stage as that of a logarithm whose middle is the planned length. */
static double sigma_of(const struct pw_stage *stage) { return sqrt(log(1 + stage->spread_frac * stage->spread_frac)); }

static int burn_of(const struct pw_allocation *al, int pit, int at_min)
{
  int b = 0;
  while (b < al->n_burns &&
         !(al->burns[b].pit == pit && al->burns[b].lit_at_min <= at_min && al->burns[b].out_at_min > at_min))
    b++;
  return b < al->n_burns ? b : PW_NONE;
}

static void item_place(struct item *it, const struct day *d, const struct pw_load *l, int k)
{
  const struct pw_lots *lots = d->lots;
  it->rack = it->finisher = it->burn = PW_NONE;
  if (l->zone != PW_NONE) {
    it->rack = rack_of(lots, l->zone);
    it->burn = burn_of(d->al, lots->zones[l->zone].pit, l->start_at_min);
    it->place_name = pw_draw_name(d->ev->pits[lots->zones[l->zone].pit].id) + (uint64_t)(lots->lots[l->lot].day & 63);
    if (l->rects) {
      it->x0 = l->rects[k].x_m, it->x1 = it->x0 + l->rects[k].length_m;
      it->y0 = l->rects[k].y_m, it->y1 = it->y0 + l->rects[k].depth_m;
    }
  } else {
    const struct pw_cut *cut = &d->ev->cuts[lots->lots[l->lot].cut];
    it->finisher = l->finisher;
    it->place_name = pw_draw_name(d->ev->finishers[l->finisher].id);
    it->room = d->ev->finishers[l->finisher].is_in_pans
                   ? cut->pans_per_piece
                   : lots->lots[l->lot].wrapped_length_m * lots->lots[l->lot].wrapped_width_m;
  }
}

static pw_status items_make(struct day *d, struct pw_arena *arena)
{
  int *first = pw_arena_array(arena, (size_t)d->lots->n_lots + 1, sizeof *first);
  size_t n = 0;
  if (!first)
    return PW_ERR_MEMORY;
  for (int c = 0; c < d->lots->n_lots; c++)
    first[c + 1] = first[c] + d->lots->lots[c].pieces;
  d->n_pieces = first[d->lots->n_lots];
  for (int i = 0; i < d->al->n_loads; i++)
    n += d->al->loads[i].stage <= PW_LOAD_FINISH ? (size_t)d->al->loads[i].pieces : 0;
  d->items = pw_arena_array(arena, n + 1, sizeof *d->items);
  d->lot_of_piece = pw_arena_array(arena, (size_t)d->n_pieces + 1, sizeof *d->lot_of_piece);
  d->last_item = pw_arena_array(arena, (size_t)d->n_pieces + 1, sizeof *d->last_item);
  if (!d->items || !d->lot_of_piece || !d->last_item)
    return PW_ERR_MEMORY;
  for (int i = 0; i < d->al->n_loads; i++) {
    const struct pw_load *l = &d->al->loads[i];
    const struct pw_cut *cut = &d->ev->cuts[d->lots->lots[l->lot].cut];
    for (int k = 0; l->stage <= PW_LOAD_FINISH && k < l->pieces; k++) {
      struct item *it = &d->items[d->n_items++];
      *it = (struct item){.load = i,
                          .lot = l->lot,
                          .piece = first[l->lot] + (l->piece_ids ? l->piece_ids[k] : k),
                          .nth = l->piece_ids ? l->piece_ids[k] : k,
                          .lot_name = pw_draw_name(d->lots->lots[l->lot].id),
                          .start = l->start_at_min,
                          .end = l->end_at_min,
                          .is_wrapped = l->stage == PW_LOAD_FINISH,
                          .varies.sigma = sigma_of(l->stage == PW_LOAD_FINISH ? &cut->finish : &cut->smoke),
                          .before = PW_NONE,
                          .next = PW_NONE};
      item_place(it, d, l, k);
    }
  }
  qsort(d->items, (size_t)d->n_items, sizeof *d->items, item_compare);
  for (int p = 0; p < d->n_pieces; p++)
    d->last_item[p] = PW_NONE;
  for (int i = 0; i < d->n_items; i++) {
    struct item *it = &d->items[i];
    d->lot_of_piece[it->piece] = it->lot;
    it->before = d->last_item[it->piece];
    if (it->before != PW_NONE)
      d->items[it->before].next = i;
    d->last_item[it->piece] = i;
  }
  return PW_OK;
}

/** Whether item b wants room that a had before it. */
static bool is_on_spot(const struct item *a, const struct item *b)
{
  if (a->piece == b->piece || a->end > b->start)
    return false;
  if (b->rack != PW_NONE)
    return a->rack == b->rack && a->x0 < b->x1 - 1e-6 && b->x0 < a->x1 - 1e-6 && a->y0 < b->y1 - 1e-6 &&
           b->y0 < a->y1 - 1e-6;
  return b->finisher != PW_NONE && a->finisher == b->finisher;
}

/** The items before each on its spot.  In an oven only as many as leave it too little room if they stay: the last to leave. */
static pw_status preds_make(struct day *d, struct pw_arena *arena)
{
  for (int i = 0; i < d->n_items; i++) {
    struct item *it = &d->items[i];
    it->first_pred = (int)d->n_preds;
    double over = 0;
    if (it->finisher != PW_NONE) { /* what lies there by plan then, itself included, beside the oven's room */
      over = -d->ev->finishers[it->finisher].capacity;
      for (int k = 0; k < d->n_items; k++)
        if (d->items[k].finisher == it->finisher && d->items[k].start <= it->start && d->items[k].end > it->start)
          over += d->items[k].room;
    }
    for (int k = i - 1; k >= 0; k--) {
      if (!is_on_spot(&d->items[k], it))
        continue;
      over += d->items[k].room;
      if (it->finisher != PW_NONE && over <= 1e-9)
        continue;
      if (pw_arena_grow(arena, &d->preds, &d->cap_preds, d->n_preds, sizeof *d->preds) < 0)
        return PW_ERR_MEMORY;
      d->preds[d->n_preds++] = k;
      it->n_preds++;
    }
  }
  return PW_OK;
}

/* ---- one draw --------------------------------------------------------------------------------------------- */

/** With more, each plan draws its own: so many stages would not be kept for long. */
enum { KEPT_ITEMS = 500 };

/** A fire in one draw: nothing goes on before it is clean, and what lies over it while it is lost loses that time. */
struct fire {
  double clean, lost_from, lost_to; /* HUGE_VAL: it is not lost */
};

/** What is walked besides the plan itself. */
enum turn { TURN_PLAN, TURN_MOVED, TURN_FIRES, TURN__COUNT };

struct draw {
  int now_min;                  /* what is past is drawn no more */
  struct fire *fires;           /* [burn] */
  double *shared;               /* [name] its normal of this draw */
  double *length;               /* [item] of its stage in this draw */
  const double **kept;          /* [item] its factors by draw, where they are kept; else NULL */
  double *begin, *done, *leave; /* [item] */
  int *root;                    /* [item] the item whose own length made it late, itself or another */
};

/** Where a name is drawn. */
static int name_at(struct day *d, uint64_t name)
{
  int k = 0;
  while (k < d->n_names && d->names[k] != name)
    k++;
  if (k == d->n_names)
    d->names[d->n_names++] = name;
  return k;
}

/** Each stage draws anew, as the margins of lots.c add them: the names of items that vary together are listed once. */
static pw_status names_make(struct day *d, const struct pw_spread_shares *shares, struct pw_arena *arena)
{
  d->names = pw_arena_array(arena, 2 * (size_t)d->n_items + 1, sizeof *d->names);
  if (!d->names)
    return PW_ERR_MEMORY;
  for (int i = 0; i < d->n_items; i++) {
    struct item *it = &d->items[i];
    it->varies = (struct pw_draw_stage){.lot = it->lot_name * 8 + it->is_wrapped + 2,
                                        .place = it->place_name * 8 + it->is_wrapped + 4,
                                        .piece = pw_draw_mix(it->lot_name * 8 + it->is_wrapped) + (uint64_t)it->nth,
                                        .lot_part = sqrt(shares->lot_frac),
                                        .place_part = sqrt(shares->pit_day_frac),
                                        .piece_part = sqrt(shares->piece_frac),
                                        .sigma = it->varies.sigma};
    it->lot_at = name_at(d, it->varies.lot);
    it->place_at = name_at(d, it->varies.place);
  }
  return PW_OK;
}

static pw_status draw_open(struct draw *w, const struct day *d, const struct pw_chance_options *options,
                           struct pw_arena *arena)
{
  size_t n = (size_t)d->n_items + 1;
  bool is_kept = options->kept && d->n_items <= KEPT_ITEMS && pw_kept_draws_begin(options->kept, options->seed);
  *w = (struct draw){.now_min = options->has_now ? options->now_min : INT_MIN,
                     .fires = pw_arena_array(arena, (size_t)d->al->n_burns + 1, sizeof *w->fires),
                     .shared = pw_arena_array(arena, (size_t)d->n_names + 1, sizeof *w->shared),
                     .length = pw_arena_array(arena, n, sizeof *w->length),
                     .begin = pw_arena_array(arena, n, sizeof *w->begin),
                     .done = pw_arena_array(arena, n, sizeof *w->done),
                     .leave = pw_arena_array(arena, n, sizeof *w->leave),
                     .root = pw_arena_array(arena, n, sizeof *w->root)};
  if (!w->fires || !w->shared || !w->length || !w->begin || !w->done || !w->leave || !w->root)
    return PW_ERR_MEMORY;
  if (is_kept && !(w->kept = pw_arena_array(arena, n, sizeof(const double *))))
    return PW_ERR_MEMORY;
  for (int i = 0; is_kept && i < d->n_items; i++)
    if (!(w->kept[i] = pw_kept_draws_factors(options->kept, &d->items[i].varies, options->n_draws)))
      return PW_ERR_MEMORY;
  return PW_OK;
}

/** Lengths of all items' stages in draw k from the seed's first, what is past as it was. */
static void lengths_draw(const struct day *d, struct draw *w, uint64_t first, int k)
{
  for (int n = 0; n < d->n_names && !w->kept; n++)
    w->shared[n] = pw_draw_normal(first + (uint64_t)k, d->names[n]);
  for (int i = 0; i < d->n_items; i++) {
    const struct item *it = &d->items[i];
    int run = it->start < w->now_min ? w->now_min - it->start : 0;
    w->length[i] = it->end - it->start; /* as it was */
    if (it->end > w->now_min)
      w->length[i] = run + (it->end - it->start - run) *
                               (w->kept ? w->kept[i][k]
                                        : pw_draw_factor(&it->varies, w->shared[it->lot_at], w->shared[it->place_at],
                                                         pw_draw_normal(first + (uint64_t)k, it->varies.piece)));
  }
}

/** The fires of draw k: how long each takes to burn clean, log-normal about its time, and when it is lost first, at a steady
 *  rate while it burns.  Of what is past nothing is drawn. */
static void fires_draw(const struct day *d, struct draw *w, uint64_t first, int k)
{
  enum { CLEAN_NAME = 6, LOST_NAME = 7 }; /* beside the stages' names of a place */
  for (int b = 0; b < d->al->n_burns; b++) {
    const struct pw_burn *burn = &d->al->burns[b];
    const struct pw_pit *pit = &d->ev->pits[burn->pit];
    uint64_t name = pw_draw_mix(pw_draw_name(pit->id) + (uint64_t)(b & 1023)) * 8;
    double sigma = sqrt(log(1 + pit->ready_spread_frac * pit->ready_spread_frac));
    double ready = burn->ready_at_min - burn->lit_at_min;
    struct fire *fire = &w->fires[b];
    *fire = (struct fire){burn->ready_at_min, HUGE_VAL, HUGE_VAL};
    if (burn->ready_at_min > w->now_min)
      fire->clean = burn->lit_at_min + ready * exp(sigma * pw_draw_normal(first + (uint64_t)k, name + CLEAN_NAME));
    if (!(pit->lost_per_h_frac > 0))
      continue;
    double from = fmax(burn->ready_at_min, w->now_min),
           after_h = -log(pw_draw_unit(first + (uint64_t)k, name + LOST_NAME)) / pit->lost_per_h_frac;
    if (from + after_h * 60 < burn->out_at_min) {
      fire->lost_from = from + after_h * 60;
      fire->lost_to = fire->lost_from + pit->lost_min;
    }
  }
}

size_t pw_blame_at(int n_lots, int service, int lot, enum pw_blame_kind kind)
{
  return ((size_t)service * (size_t)n_lots + (size_t)lot) * PW_BLAME__COUNT + kind;
}

static void item_walk(const struct day *d, struct draw *w, int i, enum turn turn)
{
  const struct item *it = &d->items[i];
  const struct fire *fire = turn == TURN_FIRES && it->burn != PW_NONE ? &w->fires[it->burn] : NULL;
  double begin = it->before == PW_NONE ? it->start : w->done[it->before];
  int root = it->before == PW_NONE ? i : w->root[it->before];
  for (int k = 0; k < it->n_preds; k++) {
    int p = d->preds[it->first_pred + k];
    if (turn == TURN_MOVED && d->items[p].is_wrapped)
      continue;
    double free_at = w->leave[p] < 0 ? w->done[p] : w->leave[p]; /* both move at one minute: they change places */
    if (free_at > begin + 1e-9) {
      begin = free_at;
      root = w->root[p];
    }
  }
  if (fire && it->start >= w->now_min) {
    begin = fmax(begin, fire->clean);
    if (begin >= fire->lost_from && begin < fire->lost_to)
      begin = fire->lost_to;
  }
  w->begin[i] = begin;
  if (it->before != PW_NONE)
    w->leave[it->before] = begin;
  w->done[i] = begin + w->length[i];
  if (fire && begin < fire->lost_from && w->done[i] > fire->lost_from)
    w->done[i] += fire->lost_to - fire->lost_from;
  w->leave[i] = d->last_item[it->piece] == i ? w->done[i] : -1;
  w->root[i] = begin <= it->start + 1e-9 ? i : root;
}

/** What of a service is late in a draw. */
struct late {
  int item;
  double by_min;
};

static void draw_walk(const struct day *d, struct draw *w, enum turn turn, struct late *late, double *lot_late)
{
  for (int s = 0; s < d->ev->n_services; s++)
    late[s] = (struct late){PW_NONE, 0};
  for (int c = 0; c < d->lots->n_lots; c++)
    lot_late[c] = 0;
  for (int i = 0; i < d->n_items; i++)
    item_walk(d, w, i, turn);
  for (int p = 0; p < d->n_pieces; p++) {
    int i = d->last_item[p];
    if (i == PW_NONE)
      continue;
    const struct pw_lot *lot = &d->lots->lots[d->items[i].lot];
    double by = w->done[i] + lot->rest_min + lot->carve_min - lot->by_at_min;
    if (d->late_min && lot->is_day_before && d->late_min[d->items[i].lot] > 0)
      continue; /* chilled later than planned: its meal does not wait for that */
    if (by > 1e-9 && by > lot_late[d->items[i].lot])
      lot_late[d->items[i].lot] = by;
    if (by > 1e-9 && by > late[lot->service].by_min)
      late[lot->service] = (struct late){i, by};
  }
}

/** How much longer than its longest hold something of each lot waits hot, in the draw walked last; 0: none does, or by a step of the
 *  grid at most. */
static void holds_walk(const struct day *d, const struct draw *w, double *lot_over)
{
  for (int c = 0; c < d->lots->n_lots; c++)
    lot_over[c] = 0;
  for (int p = 0; p < d->n_pieces; p++) {
    int i = d->last_item[p];
    const struct pw_lot *lot = i == PW_NONE ? NULL : &d->lots->lots[d->items[i].lot];
    if (!lot || lot->is_day_before || w->done[i] <= w->now_min)
      continue;
    double over = lot->whole_until_at_min - lot->rest_min - w->done[i] - lot->hold_max_min;
    /* by more than a step of the grid, which is as near as a plan goes; what it holds too long itself is warned of elsewhere */
    if (over > fmax(lot->over_min, 0) + d->lots->slot_min + 1e-9)
      lot_over[d->items[i].lot] = fmax(lot_over[d->items[i].lot], over);
  }
}

/** What is too long by lot: held, or on its way to a safe core. */
struct over {
  double *of_draw, *sum; /* [lot] minutes of one draw, of all */
  int *n;                /* [lot] draws */
};

/** Counts the draw; whether something of the service was too long in it. */
static bool over_count(const struct day *d, struct over *o, int service)
{
  bool is_over = false;
  for (int c = 0; c < d->lots->n_lots; c++)
    if (d->lots->lots[c].service == service && o->of_draw[c] > 0) {
      o->n[c]++;
      o->sum[c] += o->of_draw[c];
      is_over = true;
    }
  return is_over;
}

/** The lot of the service that was too long most often, PW_NONE: none was. */
static int over_most(const struct day *d, const struct over *o, int service)
{
  int most = PW_NONE;
  for (int c = 0; c < d->lots->n_lots; c++)
    if (d->lots->lots[c].service == service && o->n[c] > 0 && (most == PW_NONE || o->n[c] > o->n[most]))
      most = c;
  return most;
}

static void held_tell(const struct day *d, const struct over *h, int n_draws, int s, struct pw_service_chance *chance)
{
  chance->held_long_frac /= n_draws;
  chance->held_long_lot = over_most(d, h, s);
  if (chance->held_long_lot != PW_NONE)
    chance->held_long_min = h->sum[chance->held_long_lot] / h->n[chance->held_long_lot];
}

/* ---- the whole --------------------------------------------------------------------------------------------- */

/* What is drawn, from a day whose event, lots and allocation are set. */
static pw_status day_open(struct day *d, struct draw *w, const struct pw_chance_options *options,
                          struct pw_arena *arena)
{
  pw_status st = items_make(d, arena);
  if (st == PW_OK)
    st = preds_make(d, arena);
  if (st == PW_OK)
    st = names_make(d, &options->shares, arena);
  return st == PW_OK ? draw_open(w, d, options, arena) : st;
}

pw_status pw_chance_make(struct pw_chance *out, const struct pw_event *ev, const struct pw_lots *lots,
                         const struct pw_allocation *allocation, const struct pw_chance_options *options,
                         struct pw_ctx *ctx)
{
  struct day d = {.ev = ev, .lots = lots, .al = allocation, .late_min = options->late_min};
  const uint64_t first = pw_draw_first(options->seed);
  struct draw w;
  size_t n_lots = (size_t)lots->n_lots, n_services = (size_t)ev->n_services;
  *out = (struct pw_chance){0};
  pw_status st = day_open(&d, &w, options, ctx->arena);
  if (st != PW_OK)
    return st;
  struct late *late = pw_arena_array(ctx->arena, n_services + 1, sizeof *late);
  double *lot_late = pw_arena_array(ctx->arena, n_lots + 1, sizeof *lot_late);
  double *late_sum = pw_arena_array(ctx->arena, n_lots + 1, sizeof *late_sum);
  int *n_late = pw_arena_array(ctx->arena, n_lots + 1, sizeof *n_late);
  struct pw_service_chance *services = pw_arena_array(ctx->arena, n_services + 1, sizeof *services);
  int *blames = pw_arena_array(ctx->arena, n_services * n_lots * PW_BLAME__COUNT + 1, sizeof *blames);
  struct over held = {pw_arena_array(ctx->arena, n_lots + 1, sizeof *held.of_draw),
                      pw_arena_array(ctx->arena, n_lots + 1, sizeof *held.sum),
                      pw_arena_array(ctx->arena, n_lots + 1, sizeof *held.n)};
  if (!held.of_draw || !held.sum || !held.n)
    return PW_ERR_MEMORY;
  if (!late || !lot_late || !late_sum || !n_late || !services || !blames)
    return PW_ERR_MEMORY;
  bool is_decided = false;
  for (int k = 0; k < options->n_draws && !is_decided; k++) {
    lengths_draw(&d, &w, first, k);
    if (!options->is_strict)
      fires_draw(&d, &w, first, k);
    for (enum turn turn = TURN_PLAN; turn < (options->is_strict ? TURN_MOVED : TURN__COUNT); turn++) {
      draw_walk(&d, &w, turn, late, lot_late);
      for (int s = 0; s < ev->n_services; s++) {
        bool is_ready = late[s].item == PW_NONE;
        *(turn == TURN_PLAN    ? &services[s].on_time_frac
          : turn == TURN_MOVED ? &services[s].moved_frac
                               : &services[s].with_fires_frac) += is_ready ? 1 : 0;
        if (turn == TURN_PLAN && !is_ready) {
          int root = w.root[late[s].item];
          bool is_own = d.items[root].piece == d.items[late[s].item].piece;
          blames[pw_blame_at(lots->n_lots, s, d.items[root].lot, is_own ? PW_BLAME_OWN : PW_BLAME_SPOT)]++;
        }
      }
      if (turn == TURN_PLAN && !options->is_strict) {
        holds_walk(&d, &w, held.of_draw);
        for (int s = 0; s < ev->n_services; s++)
          services[s].held_long_frac += over_count(&d, &held, s) ? 1 : 0;
      }
      for (size_t c = 0; c < n_lots && turn == TURN_PLAN; c++)
        if (lot_late[c] > 0) {
          n_late[c]++;
          late_sum[c] += lot_late[c];
        }
    }
    for (int s = 0; s < ev->n_services && options->least_frac && !is_decided; s++) {
      double most = services[s].on_time_frac + (options->n_draws - 1 - k);
      is_decided = most / options->n_draws < options->least_frac[s];
      if (is_decided)
        services[s].on_time_frac = most;
    }
  }
  for (int s = 0; s < ev->n_services; s++) {
    struct pw_service_chance *chance = &services[s];
    chance->on_time_frac /= options->n_draws; /* counts until here */
    chance->moved_frac /= options->n_draws;
    chance->with_fires_frac /= options->n_draws;
    held_tell(&d, &held, options->n_draws, s, chance);
    double p = chance->on_time_frac;
    chance->standard_error_frac = options->n_draws > 0 ? sqrt(p * (1 - p) / options->n_draws) : 0;
    chance->weakest_lot = chance->slow_core_lot = PW_NONE;
    for (int c = 0; c < lots->n_lots; c++)
      if (lots->lots[c].service == s && n_late[c] > 0 &&
          (chance->weakest_lot == PW_NONE || n_late[c] > n_late[chance->weakest_lot]))
        chance->weakest_lot = c;
    if (chance->weakest_lot != PW_NONE) {
      chance->weakest_late_frac = (double)n_late[chance->weakest_lot] / options->n_draws;
      chance->weakest_late_min = late_sum[chance->weakest_lot] / n_late[chance->weakest_lot];
    }
  }
  *out = (struct pw_chance){services, blames, options->n_draws};
  return PW_OK;
}

/* ---- cores -------------------------------------------------------------------------------------------------- */

/** How long the core of a piece that was laid on takes from 10 to 54.4 C, in the draw walked last: a piece that cooks slower warms
 *  slower in the same measure, and a fire that is lost meanwhile costs its time.  0: that was over before now. */
static double come_up_of(const struct day *d, const struct draw *w, int i, double planned_min)
{
  const struct item *it = &d->items[i];
  double run = it->start < w->now_min ? w->now_min - it->start : 0;
  double factor = it->end > w->now_min ? (w->length[i] - run) / (it->end - it->start - run) : 1;
  if (run >= planned_min)
    return 0;
  double took = run + (planned_min - run) * factor;
  const struct fire *fire = it->burn != PW_NONE ? &w->fires[it->burn] : NULL;
  if (fire && w->begin[i] < fire->lost_from && w->begin[i] + took > fire->lost_from)
    took += fire->lost_to - fire->lost_from;
  return took;
}

/** By lot: how long its core takes as planned, 0 where nothing is asked of it or the plan itself is warned of. */
static double *come_ups(const struct day *d, const struct pw_lot_heat *heat, struct pw_arena *arena)
{
  double *planned = pw_arena_array(arena, (size_t)d->lots->n_lots + 1, sizeof *planned);
  for (int c = 0; c < d->lots->n_lots && planned; c++) {
    const struct pw_cut *cut = &d->ev->cuts[d->lots->lots[c].cut];
    if (pw_food_code_has_come_up(cut->kind, cut->safety) && heat[c].come_up_min <= PW_COME_UP_MOST_MIN)
      planned[c] = heat[c].come_up_min;
  }
  return planned;
}

/** The day with its fires once, and by how much the slowest core of each lot is too slow then. */
static void cores_walk(const struct day *d, struct draw *w, const double *planned_min, double *lot_over)
{
  for (int c = 0; c < d->lots->n_lots; c++)
    lot_over[c] = 0;
  for (int i = 0; i < d->n_items; i++) {
    const struct item *it = &d->items[i];
    item_walk(d, w, i, TURN_FIRES);
    if (it->before == PW_NONE && !it->is_wrapped && planned_min[it->lot] > 0)
      lot_over[it->lot] = fmax(lot_over[it->lot], come_up_of(d, w, i, planned_min[it->lot]) - PW_COME_UP_MOST_MIN);
  }
}

pw_status pw_chance_cores(struct pw_chance *chance, const struct pw_event *ev, const struct pw_lots *lots,
                          const struct pw_allocation *allocation, const struct pw_lot_heat *heat,
                          const struct pw_chance_options *options, struct pw_ctx *ctx)
{
  struct day d = {.ev = ev, .lots = lots, .al = allocation};
  const uint64_t first = pw_draw_first(options->seed);
  struct draw w;
  size_t n = (size_t)lots->n_lots + 1;
  if (!chance->services || chance->n_draws == 0)
    return PW_OK;
  pw_status st = day_open(&d, &w, options, ctx->arena);
  if (st != PW_OK)
    return st;
  struct over slow = {pw_arena_array(ctx->arena, n, sizeof *slow.of_draw),
                      pw_arena_array(ctx->arena, n, sizeof *slow.sum), pw_arena_array(ctx->arena, n, sizeof *slow.n)};
  const double *planned_min = come_ups(&d, heat, ctx->arena);
  if (!slow.of_draw || !slow.sum || !slow.n || !planned_min)
    return PW_ERR_MEMORY;
  for (int s = 0; s < ev->n_services; s++)
    chance->services[s].slow_core_frac = chance->services[s].slow_core_min = 0;
  for (int k = 0; k < chance->n_draws; k++) {
    lengths_draw(&d, &w, first, k);
    fires_draw(&d, &w, first, k);
    cores_walk(&d, &w, planned_min, slow.of_draw);
    for (int s = 0; s < ev->n_services; s++)
      chance->services[s].slow_core_frac += over_count(&d, &slow, s) ? 1 : 0;
  }
  for (int s = 0; s < ev->n_services; s++) {
    struct pw_service_chance *told = &chance->services[s];
    told->slow_core_frac /= chance->n_draws;
    told->slow_core_lot = over_most(&d, &slow, s);
    if (told->slow_core_lot != PW_NONE)
      told->slow_core_min = slow.sum[told->slow_core_lot] / slow.n[told->slow_core_lot];
  }
  return PW_OK;
}

/* ---- slack -------------------------------------------------------------------------------------------------- */

/* Of 100 cooks so many more may be late for a slack: less than the target leaves open; common practice, no source. */
static const double SLACK_SHARE = 0.02, SLACK_LEAST_SHARE = 0.5;

enum { SLACK_SLOTS = PW_SLACK_MOST_MIN / PW_SLACK_STEP_MIN + 1 };

/** Latest begins and ends of one draw, from behind: what rests and is cut by its meal, what makes room for what comes next there. */
struct deadlines {
  double *begin, *done, *length; /* [item]; the lengths are the draw's */
};

static void deadlines_walk(const struct day *d, const struct deadlines *w)
{
  for (int i = 0; i < d->n_items; i++) {
    const struct pw_lot *lot = &d->lots->lots[d->items[i].lot];
    w->begin[i] = HUGE_VAL;
    w->done[i] = d->items[i].next == PW_NONE ? lot->by_at_min - lot->rest_min - lot->carve_min : HUGE_VAL;
  }
  for (int i = d->n_items - 1; i >= 0; i--) { /* what waits for an item stands behind it */
    const struct item *it = &d->items[i];
    w->begin[i] = fmin(w->begin[i], w->done[i] - w->length[i]);
    if (it->before != PW_NONE)
      w->done[it->before] = fmin(w->done[it->before], w->begin[i]);
    for (int k = 0; k < it->n_preds; k++) {
      int p = d->preds[it->first_pred + k], next = d->items[p].next;
      double *until =
          next != PW_NONE && next < i ? &w->begin[next] : &w->done[p]; /* it leaves when its next stage begins */
      *until = fmin(*until, w->begin[i]);
    }
  }
}

/** The least float of each load's pieces in one draw. */
static void floats_of(const struct day *d, const struct deadlines *w, double *begin, double *end)
{
  for (int l = 0; l < d->al->n_loads; l++)
    begin[l] = end[l] = HUGE_VAL;
  for (int i = 0; i < d->n_items; i++) {
    const struct item *it = &d->items[i];
    begin[it->load] = fmin(begin[it->load], w->begin[i] - it->start);
    end[it->load] = fmin(end[it->load], w->done[i] - it->end);
  }
}

static void count_float(int *counts, double minutes)
{
  if (minutes >= 0)
    counts[(int)fmin(minutes / PW_SLACK_STEP_MIN, SLACK_SLOTS - 1)]++;
}

/** The longest slack that hardly a draw more is late for, at most the float of a day that goes by the plan. */
static int slack_of(const int *counts, int n_draws, double planned_min)
{
  int n = 0, slots = 0, at_least = 0;
  for (int k = 0; k < SLACK_SLOTS; k++)
    n += counts[k];
  if (n < SLACK_LEAST_SHARE * n_draws || !(planned_min >= 0))
    return 0;
  for (int k = SLACK_SLOTS - 1; k > 0 && slots == 0; k--) {
    at_least += counts[k];
    if (at_least >= n - SLACK_SHARE * n_draws)
      slots = k;
  }
  return PW_SLACK_STEP_MIN * (int)fmin(slots, planned_min / PW_SLACK_STEP_MIN);
}

pw_status pw_chance_slack(int **begin_min, int **end_min, const struct pw_event *ev, const struct pw_lots *lots,
                          const struct pw_allocation *allocation, const struct pw_chance_options *options,
                          struct pw_ctx *ctx)
{
  struct day d = {.ev = ev, .lots = lots, .al = allocation};
  const uint64_t first = pw_draw_first(options->seed);
  size_t n = (size_t)allocation->n_loads + 1;
  struct draw drawn;
  pw_status st = day_open(&d, &drawn, options, ctx->arena);
  if (st != PW_OK)
    return st;
  struct deadlines w = {drawn.begin, drawn.done, drawn.length};
  double *floats = pw_arena_array(ctx->arena, 4 * n, sizeof *floats);
  int *counts = pw_arena_array(ctx->arena, 2 * n * SLACK_SLOTS, sizeof *counts);
  *begin_min = pw_arena_array(ctx->arena, n, sizeof **begin_min);
  *end_min = pw_arena_array(ctx->arena, n, sizeof **end_min);
  if (!floats || !counts || !*begin_min || !*end_min)
    return PW_ERR_MEMORY;
  for (int k = 0; k < options->n_draws; k++) {
    lengths_draw(&d, &drawn, first, k);
    deadlines_walk(&d, &w);
    floats_of(&d, &w, floats, floats + n);
    for (int l = 0; l < allocation->n_loads; l++) {
      count_float(counts + (size_t)l * SLACK_SLOTS, floats[l]);
      count_float(counts + (n + (size_t)l) * SLACK_SLOTS, floats[n + (size_t)l]);
    }
  }
  for (int i = 0; i < d.n_items; i++) /* the day that goes by the plan */
    w.length[i] = d.items[i].end - d.items[i].start;
  deadlines_walk(&d, &w);
  floats_of(&d, &w, floats + 2 * n, floats + 3 * n);
  for (int l = 0; l < allocation->n_loads; l++) {
    bool is_cooked = floats[2 * n + (size_t)l] < HUGE_VAL; /* rests and holds have no item */
    (*begin_min)[l] =
        is_cooked ? slack_of(counts + (size_t)l * SLACK_SLOTS, options->n_draws, floats[2 * n + (size_t)l]) : 0;
    (*end_min)[l] =
        is_cooked ? slack_of(counts + (n + (size_t)l) * SLACK_SLOTS, options->n_draws, floats[3 * n + (size_t)l]) : 0;
  }
  return PW_OK;
}
