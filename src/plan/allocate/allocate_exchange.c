/* allocate_exchange.c - one piece of a dish that vanished against pieces of others, tried in a fixed order; no chance in it. */
#include "plan/allocate/allocate_exchange.h"

#include "base/arena.h"
#include "plan/allocate/allocate_insert.h"
#include "plan/allocate/allocate_search.h"

#include <string.h>

pw_status pw_al_state_of(struct pw_al_state *st, const struct pw_al *al, const struct pw_al_solution *best,
                         struct pw_ctx *ctx)
{
  pw_status status = pw_al_state_init(st, al, ctx);
  if (status)
    return status;
  for (int p = 0; p < al->n_pits; p++)
    for (int d = 0; d < al->n_days; d++)
      pw_al_state_set(st, p, d, best->settings[p * al->n_days + d]);
  for (int i = 0; i < best->n_pieces; i++)
    if (best->pieces[i].is_placed)
      pw_al_state_put(st, i, &best->pieces[i]);
  return st->is_out_of_memory ? PW_ERR_MEMORY : PW_OK;
}

static int n_placed(const struct pw_al_state *st, int c) { return st->al->lot[c].n - st->n_missed[c]; }

/* The state, and windows that keep nothing out. */
struct exchange {
  struct pw_al_state *st;
  int *from, *to; /* [p * n_days + d] */
  int *order;     /* lots */
};

static void put(struct exchange *x, int c)
{
  struct pw_al_limits limits = {.from = x->from, .to = x->to, .shut_pit = PW_NONE};
  struct pw_al_rng rng = {0};
  pw_al_insert(x->st, c, &limits, &rng);
}

static bool is_cold(const struct pw_al_state *st, int p, int day)
{
  for (int i = 0; i < st->n_pieces; i++) {
    const struct pw_al_piece *piece = &st->piece[i];
    bool is_finish_there = piece->is_placed && piece->place >= 0 && piece->place < st->al->n_zones &&
                           st->al->pit_of_zone[piece->place] == p;
    if (piece->is_placed && (st->al->pit_of_zone[piece->zone] == p || is_finish_there) &&
        st->al->lot[piece->lot].day == day)
      return false;
  }
  return true;
}

/* As the fires are set, else with a cold pit set otherwise. */
static void insert(struct exchange *x, int c)
{
  struct pw_al_state *st = x->st;
  int day = st->al->lot[c].day;
  put(x, c);
  for (int p = 0; p < st->al->n_pits && n_placed(st, c) == 0; p++) {
    int was = st->setting[p * st->al->n_days + day];
    for (int s = 0; s < st->al->pit[p].n_settings && n_placed(st, c) == 0 && is_cold(st, p, day); s++) {
      pw_al_state_set(st, p, day, s);
      put(x, c);
    }
    if (n_placed(st, c) == 0 && is_cold(st, p, day))
      pw_al_state_set(st, p, day, was);
  }
}

/* Takes the last placed piece of lot c off. */
static void take_one(struct pw_al_state *st, int c)
{
  for (int i = st->first_piece[c + 1] - 1; i >= st->first_piece[c]; i--)
    if (st->piece[i].is_placed) {
      pw_al_state_take(st, i);
      return;
    }
}

/* The lots, those with most left of themselves first. */
static void by_plenty(const struct pw_al_state *st, int *order)
{
  int n = st->al->n_lots;
  for (int c = 0; c < n; c++) {
    int k = c;
    double share = (double)n_placed(st, c) / st->al->lot[c].n;
    for (; k > 0 && share > (double)n_placed(st, order[k - 1]) / st->al->lot[order[k - 1]].n; k--)
      order[k] = order[k - 1];
    order[k] = c;
  }
}

/* What was taken off of other lots goes back as far as there is room. */
static bool settled(struct exchange *x, int c)
{
  struct pw_al_state *st = x->st;
  insert(x, c);
  if (n_placed(st, c) == 0)
    return false;
  for (int k = 0; k < st->al->n_lots; k++)
    if (x->order[k] != c)
      put(x, x->order[k]);
  return true;
}

/* First one other lot gives way, piece by piece, then all of them, each down to its last piece. */
static bool give_way(struct exchange *x, int c)
{
  struct pw_al_state *st = x->st;
  int *order = x->order;
  int n = st->al->n_lots;
  by_plenty(st, order);
  for (int k = 0; k < n && st->n_looks <= PW_AL_LOOKS_MAX; k++) {
    st->n_journal = 0;
    while (order[k] != c && n_placed(st, order[k]) > 1 && st->n_looks <= PW_AL_LOOKS_MAX) {
      take_one(st, order[k]);
      insert(x, c);
      if (n_placed(st, c) > 0)
        return settled(x, c);
    }
    pw_al_state_undo(st);
  }
  st->n_journal = 0;
  for (bool is_more = st->n_looks <= PW_AL_LOOKS_MAX; is_more;) {
    is_more = false;
    for (int k = 0; k < n; k++)
      if (order[k] != c && n_placed(st, order[k]) > 1) {
        take_one(st, order[k]);
        is_more = true;
      }
    if (is_more && settled(x, c))
      return true;
  }
  pw_al_state_undo(st);
  return false;
}

static pw_status take_over(struct pw_al_solution *best, struct pw_al_state *st, struct pw_ctx *ctx)
{
  const struct pw_al *al = st->al;
  struct pw_al_piece *pieces = pw_arena_array(ctx->arena, (size_t)st->n_pieces + 1, sizeof *pieces);
  int *settings = pw_arena_array(ctx->arena, (size_t)(al->n_pits * al->n_days) + 1, sizeof *settings);
  if (!pieces || !settings)
    return PW_ERR_MEMORY;
  memcpy(pieces, st->piece, (size_t)st->n_pieces * sizeof *pieces);
  memcpy(settings, st->setting, (size_t)(al->n_pits * al->n_days) * sizeof *settings);
  best->pieces = pieces;
  best->settings = settings;
  best->n_missed = 0;
  for (int i = 0; i < st->n_pieces; i++)
    best->n_missed += !pieces[i].is_placed;
  best->cost_cents = pw_al_state_cost(st);
  return PW_OK;
}

pw_status pw_al_exchange(struct pw_al_solution *best, const struct pw_al *al, struct pw_ctx *ctx)
{
  struct pw_al_state st = {0};
  size_t n_windows = (size_t)(al->n_pits * al->n_days) + 1;
  struct exchange x = {.st = &st,
                       .from = pw_arena_array(ctx->arena, n_windows, sizeof *x.from),
                       .to = pw_arena_array(ctx->arena, n_windows, sizeof *x.to),
                       .order = pw_arena_array(ctx->arena, (size_t)al->n_lots + 1, sizeof *x.order)};
  pw_status status = x.from && x.to && x.order ? pw_al_state_of(&st, al, best, ctx) : PW_ERR_MEMORY;
  bool is_changed = false;
  for (size_t i = 0; i < n_windows && !status; i++)
    x.to[i] = al->n_slots;
  st.looks_fine = PW_AL_LOOKS_MAX;
  for (int pass = 0; pass < 2 && !status; pass++)
    for (int c = 0; c < al->n_lots && st.n_looks <= PW_AL_LOOKS_MAX;
         c++) /* of a very large yard not every dish gets its turn */
      if (n_placed(&st, c) == 0 && (pass == 1 || pw_al_is_only_dish(al, c)))
        is_changed |= give_way(&x, c);
  if (!status && pw_al_state_is_out_of_memory(&st))
    status = PW_ERR_MEMORY;
  return status || !is_changed ? status : take_over(best, &st, ctx);
}
