/* allocate_search.c - ruin and recreate under simulated annealing.
 *
 * A round takes some food off (a lot, a pit, the first or last hours of a burn, a zone, a stretch of time,
 * a few groups), perhaps narrows or closes a pit for this round, puts the waiting lots back by cheapest
 * insertion, and keeps the result when it is cheaper or the annealing says so. */
#include "plan/allocate/allocate_search.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "plan/allocate/allocate_guide.h"
#include "plan/allocate/allocate_insert.h"

#include <math.h>
#include <string.h>

struct pw_al_run {
  const struct pw_al *al;
  struct pw_al_state st;
  struct pw_al_rng rng;
  const struct pw_al_guide *rents;    /* or NULL */
  const struct pw_al_windows *limits; /* of the whole search, or NULL */
  int *from, *to;                     /* [p * n_days + d] limits of this round */
  int shut_pit, shut_from, shut_to;
  int *order;       /* lots */
  double *hardness; /* [c] */
  double *share;    /* [c] a piece's part of all the rack and time the food needs */
  double *key;      /* [c] */
  struct pw_al_piece *best;
  int *best_setting;
  double *plain_miss_cents; /* [c] what a waiting piece counts before pressing */
  double best_cents;
  bool best_has_missed;
  int n_asked; /* of the asker */
  double refused_cents;
};

static void limits_open(struct pw_al_run *r)
{
  r->shut_pit = PW_NONE;
  for (int k = 0; k < r->al->n_pits * r->al->n_days; k++) {
    r->from[k] = r->limits ? r->limits->from[k] : 0;
    r->to[k] = r->limits ? r->limits->to[k] : r->al->n_slots;
  }
}

/* lots by hardness, shaken so that no two rounds need agree */
static void order_lots(struct pw_al_run *r, double shake)
{
  int n = r->al->n_lots;
  for (int c = 0; c < n; c++) {
    r->order[c] = c;
    r->key[c] = r->hardness[c] * (1 + shake * (2 * pw_al_rng_unit(&r->rng) - 1));
  }
  for (int i = 1; i < n; i++) {
    int c = r->order[i], j = i;
    while (j > 0 && r->key[r->order[j - 1]] < r->key[c]) {
      r->order[j] = r->order[j - 1];
      j--;
    }
    r->order[j] = c;
  }
}

static void recreate(struct pw_al_run *r, double noise_frac, double skip_frac, double shake)
{
  struct pw_al_limits limits = {.rents = r->rents,
                                .from = r->from,
                                .to = r->to,
                                .shut_pit = r->shut_pit,
                                .shut_from = r->shut_from,
                                .shut_to = r->shut_to,
                                .noise_frac = noise_frac,
                                .skip_frac = skip_frac};
  order_lots(r, shake);
  for (int i = 0; i < r->al->n_lots; i++)
    if (r->st.n_missed[r->order[i]] > 0)
      pw_al_insert(&r->st, r->order[i], &limits, &r->rng);
}

/* ---- what a round may take off ---- */

static void narrow(struct pw_al_run *r, int p, int from, int to)
{
  for (int k = p * r->al->n_days; k < (p + 1) * r->al->n_days; k++) {
    r->from[k] = from > r->from[k] ? from : r->from[k];
    r->to[k] = to < r->to[k] ? to : r->to[k];
  }
}

static bool touches(const struct pw_al *al, const struct pw_al_piece *piece, int p, int a, int b)
{
  if (al->pit_of_zone[piece->zone] == p && piece->start < b && piece->mid > a)
    return true;
  return piece->place != PW_NONE && piece->place < al->n_zones && al->pit_of_zone[piece->place] == p &&
         piece->mid < b && piece->done > a;
}

static void take_touching(struct pw_al_run *r, int p, int a, int b)
{
  for (int i = 0; i < r->st.n_pieces; i++)
    if (r->st.piece[i].is_placed && touches(r->al, &r->st.piece[i], p, a, b))
      pw_al_state_take(&r->st, i);
}

static void take_lot(struct pw_al_run *r, int c)
{
  for (int i = r->st.first_piece[c]; i < r->st.first_piece[c + 1]; i++)
    if (r->st.piece[i].is_placed)
      pw_al_state_take(&r->st, i);
}

static void take_group(struct pw_al_run *r, int c, int k)
{
  struct pw_al_group g = r->st.group[c][k];
  for (int i = r->st.first_piece[c]; i < r->st.first_piece[c + 1]; i++) {
    const struct pw_al_piece *piece = &r->st.piece[i];
    if (piece->is_placed && piece->zone == g.zone && piece->place == g.place && piece->start == g.start &&
        piece->done == g.done)
      pw_al_state_take(&r->st, i);
  }
}

static void take_zone(struct pw_al_run *r, int z, int a, int b)
{
  for (int i = 0; i < r->st.n_pieces; i++) {
    const struct pw_al_piece *piece = &r->st.piece[i];
    if (piece->is_placed && ((piece->zone == z && piece->start < b && piece->mid > a) ||
                             (piece->place == z && piece->mid < b && piece->done > a)))
      pw_al_state_take(&r->st, i);
  }
}

/* first and last slot with food in pit p; false when it is cold */
static bool food_span(const struct pw_al_run *r, int p, int *a, int *b)
{
  const struct pw_al *al = r->al;
  *a = al->n_slots;
  *b = 0;
  for (int d = 0; d < al->n_days; d++) {
    const unsigned short *food = r->st.food + ((size_t)p * (size_t)al->n_days + (size_t)d) * (size_t)al->n_slots;
    for (int t = 0; t < al->n_slots; t++)
      if (food[t]) {
        if (t < *a)
          *a = t;
        if (t + 1 > *b)
          *b = t + 1;
      }
  }
  return *a < *b;
}

static int pick_lit_pit(struct pw_al_run *r, int *a, int *b)
{
  int n = r->al->n_pits, first = pw_al_rng_below(&r->rng, n);
  for (int k = 0; k < n; k++) {
    int p = (first + k) % n;
    if (food_span(r, p, a, b))
      return p;
  }
  return PW_NONE;
}

static void ruin_pit_end(struct pw_al_run *r)
{
  int a, b, p = pick_lit_pit(r, &a, &b);
  if (p == PW_NONE)
    return;
  int k = 1 + pw_al_rng_below(&r->rng, 4);
  if (pw_al_rng_next(&r->rng) & 1) {
    take_touching(r, p, a, a + k);
    narrow(r, p, a + k, r->al->n_slots);
  } else {
    take_touching(r, p, b - k, b);
    narrow(r, p, 0, b - k);
  }
}

static void ruin_pit(struct pw_al_run *r, bool is_closed)
{
  int a, b, p = pick_lit_pit(r, &a, &b);
  if (p == PW_NONE)
    return;
  take_touching(r, p, 0, r->al->n_slots);
  if (is_closed)
    narrow(r, p, 0, 0);
}

/* one burn goes cold for this round */
static void ruin_burn(struct pw_al_run *r)
{
  const struct pw_al *al = r->al;
  int a, b, p = pick_lit_pit(r, &a, &b), n = 0, k;
  if (p == PW_NONE)
    return;
  /* burning[] is current: nothing was put or taken since the last cost */
  const unsigned char *burning = r->st.burning + (size_t)p * (size_t)al->n_slots;
  for (int t = a; t < b; t++)
    n += burning[t] && (t == a || !burning[t - 1]);
  k = n > 0 ? pw_al_rng_below(&r->rng, n) : 0;
  for (int t = a; t < b; t++)
    if (burning[t] && (t == a || !burning[t - 1]) && k-- == 0) {
      r->shut_from = t;
      while (t < b && burning[t])
        t++;
      r->shut_to = t;
      r->shut_pit = p;
      take_touching(r, p, r->shut_from, r->shut_to);
      if (pw_al_rng_next(&r->rng) & 1)
        for (int c = 0; c < al->n_lots; c++)
          if (al->lot[c].done_last > r->shut_from && al->lot[c].t_first < r->shut_to)
            take_lot(r, c);
      return;
    }
}

static void ruin_groups(struct pw_al_run *r)
{
  int n = 1 + pw_al_rng_below(&r->rng, 4);
  for (int k = 0; k < n; k++) {
    int c = pw_al_rng_below(&r->rng, r->al->n_lots);
    if (r->st.n_groups[c] > 0)
      take_group(r, c, pw_al_rng_below(&r->rng, r->st.n_groups[c]));
  }
}

static void ruin_time(struct pw_al_run *r)
{
  int a = pw_al_rng_below(&r->rng, r->al->n_slots), b = a + 2 + pw_al_rng_below(&r->rng, 6);
  int z = pw_al_rng_below(&r->rng, r->al->n_zones);
  take_zone(r, z, a, b);
  if (pw_al_rng_next(&r->rng) & 1)
    take_zone(r, pw_al_rng_below(&r->rng, r->al->n_zones), a, b);
}

static bool ruin_setting(struct pw_al_run *r)
{
  const struct pw_al *al = r->al;
  int p = pw_al_rng_below(&r->rng, al->n_pits), d = pw_al_rng_below(&r->rng, al->n_days);
  int n = al->pit[p].n_settings;
  if (n < 2)
    return false;
  int now = r->st.setting[p * al->n_days + d], to = (now + 1 + pw_al_rng_below(&r->rng, n - 1)) % n;
  for (int i = 0; i < r->st.n_pieces; i++)
    if (r->st.piece[i].is_placed && al->lot[r->st.piece[i].lot].day == d &&
        touches(al, &r->st.piece[i], p, 0, al->n_slots))
      pw_al_state_take(&r->st, i);
  pw_al_state_set(&r->st, p, d, to);
  return true;
}

static void ruin(struct pw_al_run *r)
{
  int k = pw_al_rng_below(&r->rng, 100);
  if (k < 6 && r->al->n_settings_max > 1 && ruin_setting(r))
    return;
  if (k < 10)
    ruin_burn(r);
  else if (k < 30)
    ruin_pit_end(r);
  else if (k < 33)
    ruin_pit(r, true);
  else if (k < 36)
    ruin_burn(r);
  else if (k < 42)
    ruin_pit(r, false);
  else if (k < 54)
    take_lot(r, pw_al_rng_below(&r->rng, r->al->n_lots));
  else if (k < 66)
    take_zone(r, pw_al_rng_below(&r->rng, r->al->n_zones), 0, r->al->n_slots);
  else if (k < 78)
    ruin_time(r);
  else
    ruin_groups(r);
}

static bool is_in_window(const struct pw_al_run *r, int p, int day, int a, int b)
{
  int pd = p * r->al->n_days + day;
  return a >= r->from[pd] && b <= r->to[pd];
}

/* whether a piece keeps to this round's limits */
static bool is_within(const struct pw_al_run *r, const struct pw_al_piece *piece)
{
  const struct pw_al *al = r->al;
  int day = al->lot[piece->lot].day;
  bool is_on_rack = piece->place != PW_NONE && piece->place < al->n_zones;
  return is_in_window(r, al->pit_of_zone[piece->zone], day, piece->start, piece->mid) &&
         (!is_on_rack || is_in_window(r, al->pit_of_zone[piece->place], day, piece->mid, piece->done));
}

static bool has_missed(const struct pw_al_run *r)
{
  for (int c = 0; c < r->al->n_lots; c++)
    if (r->st.n_missed[c] > 0)
      return true;
  return false;
}

static void keep_best(struct pw_al_run *r, double cents)
{
  r->best_cents = cents;
  r->best_has_missed = has_missed(r);
  memcpy(r->best, r->st.piece, (size_t)r->st.n_pieces * sizeof *r->best);
  memcpy(r->best_setting, r->st.setting, (size_t)(r->al->n_pits * r->al->n_days) * sizeof *r->best_setting);
}

/* hardest first: what takes most rack for longest, then what has the tightest window */
static void hardness_make(struct pw_al_run *r)
{
  const struct pw_al *al = r->al;
  for (int c = 0; c < al->n_lots; c++) {
    const struct pw_lot *lot = &al->lots->lots[c];
    int longest = 0;
    for (int k = 0; k < al->n_zones * al->n_settings_max; k++)
      if (al->lot[c].d1[k] > longest)
        longest = al->lot[c].d1[k];
    r->hardness[c] = lot->footprint_length_m * lot->footprint_width_m * (longest + 4);
  }
}

/* a piece's share of all the rack and time the food needs */
static void share_make(struct pw_al_run *r)
{
  double all = 0;
  for (int c = 0; c < r->al->n_lots; c++)
    all += r->hardness[c] * r->al->lot[c].n;
  for (int c = 0; c < r->al->n_lots; c++)
    r->share[c] = all > 0 ? r->hardness[c] / all : 0;
}

pw_status pw_al_run_open(struct pw_al_run **out, const struct pw_al *al, struct pw_ctx *ctx)
{
  struct pw_al_run *r = pw_arena_alloc(ctx->arena, sizeof *r);
  if (!(*out = r))
    return PW_ERR_MEMORY;
  memset(r, 0, sizeof *r);
  r->al = al;
  pw_status status = pw_al_state_init(&r->st, al, ctx);
  if (status)
    return status;
  size_t n_pit_days = (size_t)(al->n_pits * al->n_days) + 1, n_lots = (size_t)al->n_lots + 1;
  r->from = pw_arena_array(ctx->arena, n_pit_days, sizeof *r->from);
  r->to = pw_arena_array(ctx->arena, n_pit_days, sizeof *r->to);
  r->order = pw_arena_array(ctx->arena, n_lots, sizeof *r->order);
  r->hardness = pw_arena_array(ctx->arena, n_lots, sizeof *r->hardness);
  r->share = pw_arena_array(ctx->arena, n_lots, sizeof *r->share);
  r->key = pw_arena_array(ctx->arena, n_lots, sizeof *r->key);
  r->plain_miss_cents = pw_arena_array(ctx->arena, n_lots, sizeof *r->plain_miss_cents);
  r->best = pw_arena_array(ctx->arena, (size_t)r->st.n_pieces + 1, sizeof *r->best);
  r->best_setting = pw_arena_array(ctx->arena, n_pit_days, sizeof *r->best_setting);
  if (!r->from || !r->to || !r->order || !r->hardness || !r->share || !r->key || !r->plain_miss_cents || !r->best ||
      !r->best_setting)
    return PW_ERR_MEMORY;
  hardness_make(r);
  share_make(r);
  return PW_OK;
}

static const double HEAT_LAST_FRAC = 1e-4;
static const double PRESS_FRAC = 0.1; /* of what a waiting piece counts, a round */
enum { CLOCK_EVERY = 16 };            /* rounds between looks at the clock */
/* Work of one search, counted in options looked at, of which a busy core does some millions a second: a job beyond any yard is
 * searched more coarsely, then not at all. */
enum { LOOKS_FINE = 6 * 1000 * 1000 };

enum { ASKED_MOST = 40 }; /* plans whose asker is asked in one search: it draws their day many times */

/* Of a plan cheaper than the best: whether the search may go there. */
static bool is_wanted(struct pw_al_run *r, const struct pw_al_search_options *options, double cents)
{
  struct pw_al_solution at = {
      .pieces = r->st.piece, .n_pieces = r->st.n_pieces, .cost_cents = cents, .settings = r->st.setting};
  if (!options->asker || cents >= r->best_cents - 1e-7)
    return true;
  for (int c = 0; c < r->al->n_lots; c++)
    if (r->st.n_missed[c] > 0)
      return false;
  if (r->n_asked >= ASKED_MOST || fabs(cents - r->refused_cents) < 1e-7)
    return false;
  r->n_asked++;
  bool is_so = options->asker->is_wanted(options->asker->user, &at);
  r->refused_cents = is_so ? HUGE_VAL : cents;
  return is_so;
}

/* Lots that wait count more from round to round, so that others make room for them. */
static double press(struct pw_al_run *r, double cost)
{
  for (int c = 0; c < r->al->n_lots; c++)
    if (r->st.n_missed[c] > 0) {
      double more_cents = PRESS_FRAC * r->plain_miss_cents[c];
      r->st.miss_cents[c] += more_cents;
      cost += more_cents * r->st.n_missed[c];
    }
  return cost;
}

/* The state's cost as it was before pressing. */
static double plain_cents(const struct pw_al_run *r, double cost)
{
  for (int c = 0; c < r->al->n_lots; c++)
    cost -= (r->st.miss_cents[c] - r->plain_miss_cents[c]) * r->st.n_missed[c];
  return cost;
}

static bool is_best(const struct pw_al_run *r, const struct pw_al_search_options *options, double cents)
{
  if (options->is_pressing && has_missed(r) != r->best_has_missed)
    return r->best_has_missed;
  return cents < r->best_cents - 1e-7;
}

static void anneal(struct pw_al_run *r, const struct pw_al_search_options *options, struct pw_al_solution *out)
{
  double cost = pw_al_state_cost(&r->st);
  const long looks_most = options->looks_most > 0 ? options->looks_most : PW_AL_LOOKS_MAX;
  out->stopped_by = PW_STOP_WORK;
  long k = 0;
  for (; k < options->n_rounds || (r->best_has_missed && k < options->n_rounds_missed); k++) {
    if (r->best_cents <= options->target_cents && !(options->is_pressing && r->best_has_missed)) {
      out->stopped_by = PW_STOP_GAP;
      break;
    }
    if (r->st.is_late || (k % CLOCK_EVERY == 0 && pw_deadline_is_over(r->st.deadline_s))) {
      out->stopped_by = PW_STOP_TIME;
      break;
    }
    if (r->st.n_looks > looks_most)
      break;
    /* temperature falls geometrically, as shares of the best cost */
    double done = fmin(1, (double)k / (double)options->n_rounds);
    double basis = options->miss_all_cents > 0 ? options->miss_all_cents : fmin(r->best_cents, 1e6);
    double heat = basis * options->heat_frac * pow(HEAT_LAST_FRAC / options->heat_frac, done);
    r->st.n_journal = 0;
    limits_open(r);
    ruin(r);
    if (!r->st.n_journal && !r->best_has_missed)
      continue;
    if (options->is_pressing && r->best_has_missed)
      cost = press(r, cost);
    recreate(r, 0.08, 0.01, 0.5);
    double fresh = pw_al_state_cost(&r->st);
    if ((fresh < cost - 1e-9 || pw_al_rng_unit(&r->rng) < exp((cost - fresh) / fmax(heat, 1e-6))) &&
        is_wanted(r, options, fresh)) {
      cost = fresh;
      double plain = options->is_pressing ? plain_cents(r, cost) : cost;
      if (is_best(r, options, plain)) {
        keep_best(r, plain);
        if (options->listener && !r->best_has_missed)
          options->listener->hear(options->listener->user, cost);
      }
    } else {
      pw_al_state_undo(&r->st);
    }
  }
  out->n_rounds = k;
}

pw_status pw_al_run_search(struct pw_al_run *r, struct pw_al_solution *out, const struct pw_al_search_options *options)
{
  const struct pw_al *al = r->al;
  memset(out, 0, sizeof *out);
  pw_al_state_clear(&r->st);
  r->rng.s = UINT64_C(0x5DEECE66D) * (options->seed + 1u);
  r->limits = options->limits;
  r->st.is_soft = options->miss_all_cents > 0;
  for (int c = 0; c < al->n_lots; c++)
    r->st.miss_cents[c] = options->miss_all_cents > 0
                              ? fmin(options->miss_all_cents * r->share[c], al->lot[c].miss_cents)
                              : al->lot[c].miss_cents;
  memcpy(r->plain_miss_cents, r->st.miss_cents, (size_t)al->n_lots * sizeof *r->plain_miss_cents);
  for (int p = 0; p < al->n_pits; p++)
    for (int d = 0; d < al->n_days; d++)
      pw_al_state_set(&r->st, p, d, options->settings ? options->settings[p * al->n_days + d] : 0);
  r->st.n_looks = 0;
  r->st.looks_fine = LOOKS_FINE;
  r->st.deadline_s = pw_deadline_in(options->seconds);
  if (al->deadline_s > 0 && !(r->st.deadline_s > 0 && r->st.deadline_s < al->deadline_s))
    r->st.deadline_s = al->deadline_s;
  r->st.is_late = false;
  limits_open(r);
  if (options->pieces)
    for (int i = 0; i < r->st.n_pieces; i++)
      if (options->pieces[i].is_placed && is_within(r, &options->pieces[i]))
        pw_al_insert_at(&r->st, i, &options->pieces[i]);
  r->rents = options->is_lit ? options->guide : NULL;
  if (options->guide && !options->pieces) {
    struct pw_al_limits limits = {.from = r->from, .to = r->to, .shut_pit = PW_NONE, .rents = options->guide};
    for (int i = 0; i < options->guide->n_flows; i++)
      pw_al_insert_flow(&r->st, options->guide, &options->guide->flows[i], &limits, &r->rng);
  }
  recreate(r, 0, 0, 0);
  r->n_asked = 0;
  r->refused_cents = HUGE_VAL;
  keep_best(r, pw_al_state_cost(&r->st));
  if (al->n_lots > 0 && al->n_pits > 0 && al->n_zones > 0)
    anneal(r, options, out);
  if (pw_al_state_is_out_of_memory(&r->st))
    return PW_ERR_MEMORY;

  out->n_looks = r->st.n_looks;
  if (r->st.is_late)
    out->stopped_by = PW_STOP_TIME;
  out->pieces = r->best;
  out->n_pieces = r->st.n_pieces;
  out->cost_cents = r->best_cents;
  out->settings = r->best_setting;
  for (int i = 0; i < out->n_pieces; i++)
    out->n_missed += !r->best[i].is_placed;
  return PW_OK;
}

double pw_al_run_share(const struct pw_al_run *run, int c) { return run->share[c]; }

double pw_al_solution_missed_cents(const struct pw_al *al, const struct pw_al_solution *solution)
{
  double cents = 0;
  for (int i = 0; i < solution->n_pieces;) { /* lot by lot */
    int c = solution->pieces[i].lot, n = 0;
    for (; i < solution->n_pieces && solution->pieces[i].lot == c; i++)
      n += !solution->pieces[i].is_placed;
    cents += al->lot[c].miss_cents * pw_al_miss_weight(al, c, n);
  }
  return cents;
}

pw_status pw_al_search(struct pw_al_solution *out, const struct pw_al *al, const struct pw_al_search_options *options,
                       struct pw_ctx *ctx)
{
  struct pw_al_run *r;
  pw_status status = pw_al_run_open(&r, al, ctx);
  return status ? status : pw_al_run_search(r, out, options);
}
