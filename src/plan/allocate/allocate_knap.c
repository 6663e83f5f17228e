/* allocate_knap.c - see allocate_knap.h. */
#include "plan/allocate/allocate_knap.h"

#include "base/arena.h"
#include "plan/allocate/rack_grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
  FRESH_PER_ROUND = 24, /* new weights looked for in one round */
  TRIES = 12,           /* packings found and sets left open before a search for weights is given up */
  PATTERNS_MAX = 600,   /* packings known of one size of rack */
  CORNERS = 2000,       /* of one laying, times the work asked for */
  CORNERS_MAX = 20000
};
static const double BROKEN_BY = 0.015;       /* a row broken by less, in racks, is not worth its place */
static const double FIRES_LEAST = 0.02;      /* below, a class hardly burns */
static const double LOOK_LEAVES_FRAC = 0.8;  /* of the work, for proofs */
static const double ROUND_LEAVES_FRAC = 0.2; /* of the work, for rounds to come */
static const double SMALL_PROGRAM = 300;     /* what one costs, in the work of knapsack_rack.h */
static const double NEAR = 0.9;              /* of what a rack holds */
static const double TINY = 1e-6;

/* ---- before ---------------------------------------------------------------------------------------------------------- */

static const struct pw_rack *rack_of(const struct pw_al_knaps *k, int r)
{
  const struct pw_zone *zone = &k->al->lots->zones[k->model->rack_zone[r]];
  return &k->al->ev->pits[zone->pit].racks[zone->rack];
}

static struct pw_knap_size size_of(const struct pw_al_knaps *k, const struct pw_rack_grid *g, int c, bool is_wrapped)
{
  const struct pw_lot *lot = &k->al->lots->lots[c];
  struct pw_knap_size size = {{0}, {0}};
  double l = is_wrapped ? lot->wrapped_length_m : lot->footprint_length_m,
         w = is_wrapped ? lot->wrapped_width_m : lot->footprint_width_m;
  int ways = k->al->ev->cuts[lot->cut].may_turn ? 2 : 1;
  for (int o = 0; o < ways; o++) {
    struct pw_cells cells = pw_rack_grid_cells(g, 0, g->length_m, o ? w : l, o ? l : w);
    size.x[o] = cells.x;
    size.y[o] = cells.y;
  }
  return size;
}

static pw_status racks_make(struct pw_al_knaps *k)
{
  int n = k->al->n_lots * 2;
  for (int r = 0; r < k->model->n_racks; r++) {
    const struct pw_rack *rack = rack_of(k, r);
    int first = 0;
    struct pw_rack_grid grid;
    if (rack->outline == PW_DISC) {
      k->first[r] = -1;
      continue;
    }
    while (first < r && (k->first[first] != first || fabs(rack_of(k, first)->length_m - rack->length_m) > 1e-9 ||
                         fabs(rack_of(k, first)->depth_m - rack->depth_m) > 1e-9))
      first++;
    k->first[r] = first;
    if (first < r)
      continue;
    if (pw_rack_grid_init(&grid, rack, 0, k->ctx->arena))
      return PW_ERR_MEMORY;
    if (!(k->pattern[r] = pw_arena_array(k->ctx->arena, PATTERNS_MAX, sizeof *k->pattern[r])))
      return PW_ERR_MEMORY;
    pw_status status = pw_knap_init(&k->knap[r], grid.n_x, PW_GRID_CELLS_Y, k->ctx);
    if (status)
      return status;
    for (int i = 0; i < n; i++)
      k->size[r * n + i] =
          i % 2 && !k->al->lot[i / 2].has_finish ? -1 : pw_knap_add(&k->knap[r], size_of(k, &grid, i / 2, i % 2 == 1));
  }
  return PW_OK;
}

pw_status pw_al_knaps_init(struct pw_al_knaps *k, const struct pw_al_model *model, const struct pw_al *al, double work,
                           double times, struct pw_ctx *ctx)
{
  *k = (struct pw_al_knaps){
      .model = model, .al = al, .ctx = ctx, .work = work, .corners_max = (int)fmin(CORNERS * times, CORNERS_MAX)};
  const struct pw_lp *lp = &model->lp;
  size_t n_lots = (size_t)al->n_lots, n_racks = (size_t)model->n_racks, n_rows = (size_t)lp->n_rows,
         n_a3 = n_racks * (size_t)al->n_settings_max * (size_t)al->n_slots;
  size_t *next = pw_arena_array(ctx->arena, n_rows + 2, sizeof *next);
  k->knap = pw_arena_array(ctx->arena, n_racks + 1, sizeof *k->knap);
  k->first = pw_arena_array(ctx->arena, n_racks + 1, sizeof *k->first);
  k->n_patterns = pw_arena_array(ctx->arena, n_racks + 1, sizeof *k->n_patterns);
  k->pattern = pw_arena_array(ctx->arena, n_racks + 1, sizeof *k->pattern);
  k->size = pw_arena_array(ctx->arena, n_racks * n_lots * 2 + 1, sizeof *k->size);
  k->rows = pw_arena_array(ctx->arena, n_a3 * 2 + 1, sizeof *k->rows);
  k->by_row = pw_arena_array(ctx->arena, lp->n_entries + 1, sizeof *k->by_row);
  k->active = pw_arena_array(ctx->arena, n_lots * 2 + 1, sizeof *k->active);
  if (!next || !k->knap || !k->first || !k->n_patterns || !k->pattern || !k->size || !k->rows || !k->by_row ||
      !k->active)
    return PW_ERR_MEMORY;
  for (size_t e = 0; e < lp->n_entries; e++)
    next[lp->entries[e].row + 1]++;
  for (size_t i = 0; i < n_rows; i++)
    next[i + 1] += next[i];
  for (size_t a = 0; a < n_a3; a++)
    for (int is_turn = 0; is_turn < 2; is_turn++) {
      int row = is_turn ? model->row_a3t[a] : model->row_a3[a];
      if (row >= 0)
        k->rows[k->n_rows++] = (struct pw_al_knap_row){
            row, (int)(a / ((size_t)al->n_settings_max * (size_t)al->n_slots)), next[row], next[row + 1]};
    }
  for (size_t e = 0; e < lp->n_entries; e++)
    k->by_row[next[lp->entries[e].row]++] = lp->entries[e];
  return racks_make(k);
}

/* ---- the point ------------------------------------------------------------------------------------------------------- */

/* What lies on the racks of a row, in pieces; false when nothing does.  *fires: pits, as the row counts them.  Pieces have
 * coefficients above 0 in it, fires below. */
static bool activity(struct pw_al_knaps *k, const struct pw_al_knap_row *row, const double *x, double *fires)
{
  bool is_any = false;
  memset(k->active, 0, (size_t)k->al->n_lots * 2 * sizeof *k->active);
  *fires = 0;
  for (size_t e = row->from; e < row->to; e++) {
    int col = k->by_row[e].col;
    if (k->by_row[e].value < 0) {
      *fires += x[col];
    } else if (x[col] > 1e-9) {
      k->active[k->model->col_lot[col] * 2 + k->model->col_is_wrapped[col]] += x[col];
      is_any = true;
    }
  }
  return is_any;
}

static double weight(const struct pw_al_knaps *k, const double *w)
{
  double sum = 0;
  for (int i = 0; i < k->al->n_lots * 2; i++)
    sum += k->active[i] * w[i];
  return sum;
}

/* ---- weights ----------------------------------------------------------------------------------------------------------- */

struct search {
  struct pw_al_knaps *k;
  struct pw_knap *knap;
  int n_kinds, kind[PW_KNAP_SIZES_MAX]; /* sizes that are active */
  double amount[PW_KNAP_SIZES_MAX];     /* on one rack of a burning pit */
  double w[PW_KNAP_SIZES_MAX];
  int *n_patterns, (*pattern)[PW_KNAP_SIZES_MAX];
};

/* the weights by which the point is heaviest while each known packing weighs 1 at most; *most what it weighs */
static pw_status heaviest(struct search *s, double *most)
{
  struct pw_lp lp;
  struct pw_lp_result result;
  const struct pw_lp_options options = {.cutoff = HUGE_VAL};
  pw_lp_init(&lp, s->k->ctx->arena, false);
  for (int i = 0; i < s->n_kinds; i++)
    pw_lp_col(&lp, 0, 1, -s->amount[s->kind[i]], false, "w");
  for (int p = 0; p < *s->n_patterns; p++) {
    int row = pw_lp_row(&lp, -HUGE_VAL, 1, "p");
    for (int i = 0; i < s->n_kinds; i++)
      if (s->pattern[p][s->kind[i]])
        pw_lp_put(&lp, row, i, s->pattern[p][s->kind[i]]);
  }
  s->k->work -= SMALL_PROGRAM;
  pw_status status = pw_lp_solve(&result, &lp, &options, s->k->ctx);
  memset(s->w, 0, sizeof s->w);
  *most = 0;
  for (int i = 0; i < s->n_kinds && !status && result.state == PW_LP_OPTIMAL; i++) {
    s->w[s->kind[i]] = result.x[i] > TINY ? result.x[i] : 0;
    *most += s->w[s->kind[i]] * s->amount[s->kind[i]];
  }
  return status;
}

/* one packing for each size alone */
static void first_patterns(struct search *s)
{
  for (int i = 0; i < s->n_kinds; i++) {
    bool is_known = false;
    for (int p = 0; p < *s->n_patterns; p++)
      is_known |= s->pattern[p][s->kind[i]] > 0;
    if (is_known || *s->n_patterns + 1 >= PATTERNS_MAX)
      continue;
    memset(s->w, 0, sizeof s->w);
    s->w[s->kind[i]] = 1;
    (void)pw_knap_cut(s->knap, s->w, s->pattern[(*s->n_patterns)++]);
  }
}

/* Weights by which no packing by straight cuts weighs more than 1; *most is what the point weighs then.  New packings become
 * patterns. */
static pw_status cut_weights(struct search *s, double *most)
{
  first_patterns(s);
  for (;;) {
    double before = s->knap->work;
    pw_status status = heaviest(s, most);
    if (status || *most <= 1 + BROKEN_BY || *s->n_patterns + 1 >= PATTERNS_MAX)
      return status;
    double heavy = pw_knap_cut(s->knap, s->w, s->pattern[*s->n_patterns]);
    s->k->work -= s->knap->work - before;
    if (heavy <= 1 + TINY)
      return status;
    ++*s->n_patterns;
  }
}

/* Weights for what is active by which no packing weighs more than 1, and the point does; *is_found false without them.  A packing
 * found on the way becomes a pattern, and a set of pieces of which nothing was found out counts as one. */
static pw_status weights_find(struct search *s, bool *is_found)
{
  *is_found = false;
  for (int i = 0; i < TRIES && s->k->work > 0; i++) {
    enum pw_knap_answer answer;
    double most;
    pw_status status = cut_weights(s, &most);
    if (status || most <= 1 + BROKEN_BY || *s->n_patterns + 1 >= PATTERNS_MAX)
      return status;
    int *next = s->pattern[*s->n_patterns];
    double before = s->knap->work;
    status = pw_knap_above(&answer, s->knap, s->w, 1 + TINY, s->k->corners_max, next);
    s->k->work -= s->knap->work - before;
    *is_found = answer == PW_KNAP_NONE;
    if (status || *is_found || !pw_knap_is_any(s->knap, next))
      return status;
    ++*s->n_patterns;
  }
  return PW_OK;
}

/* what is active on one rack of a burning pit, by sizes */
static struct search *search_for(struct pw_al_knaps *k, int rack, double racks)
{
  struct search *s = pw_arena_alloc(k->ctx->arena, sizeof *s);
  int n = k->al->n_lots * 2, first = k->first[rack];
  if (!s)
    return NULL;
  s->k = k;
  s->knap = &k->knap[first];
  s->n_patterns = &k->n_patterns[first];
  s->pattern = k->pattern[first];
  for (int i = 0; i < n; i++)
    if (k->active[i] > TINY && k->size[first * n + i] >= 0)
      s->amount[k->size[first * n + i]] += k->active[i] / racks;
  for (int i = 0; i < s->knap->n; i++)
    if (s->amount[i] > 0)
      s->kind[s->n_kinds++] = i;
  return s;
}

static pw_status fresh(struct pw_al_knaps *k, int rack, double racks, struct pw_al_knap_weights **out)
{
  struct search *s = search_for(k, rack, racks);
  int n = k->al->n_lots * 2, first = k->first[rack];
  bool is_found;
  *out = NULL;
  pw_status status = s ? weights_find(s, &is_found) : PW_ERR_MEMORY;
  if (status || !is_found)
    return status;
  struct pw_al_knap_weights *w = pw_arena_alloc(k->ctx->arena, sizeof *w);
  if (!w || !(w->w = pw_arena_array(k->ctx->arena, (size_t)n + 1, sizeof *w->w)))
    return PW_ERR_MEMORY;
  (void)pw_knap_cut(s->knap, s->w, NULL);
  for (int i = 0; i < n; i++)
    if (k->size[first * n + i] >= 0)
      w->w[i] = pw_knap_worth(s->knap, s->knap->size[k->size[first * n + i]]);
  w->rack = first;
  w->most = 1 + 2 * TINY;
  *out = w;
  return PW_OK;
}

static const struct pw_al_knap_weights *best_of_pool(const struct pw_al_knaps *k, int rack, double racks,
                                                     double *broken)
{
  const struct pw_al_knap_weights *best = NULL;
  for (const struct pw_al_knap_weights *w = k->pool; w; w = w->next) {
    double by = weight(k, w->w) / w->most - racks;
    if (w->rack == k->first[rack] && by > *broken) {
      *broken = by;
      best = w;
    }
  }
  return best;
}

static void row_add(struct pw_al_knaps *k, struct pw_lp *lp, const struct pw_al_knap_row *from,
                    const struct pw_al_knap_weights *w)
{
  int row =
      pw_lp_row(lp, -HUGE_VAL, 0, "A3h(%s,%d)", k->al->lots->zones[k->model->rack_zone[from->rack]].id, lp->n_rows);
  k->n_added++;
  for (size_t e = from->from; e < from->to; e++) {
    int col = k->by_row[e].col;
    double value = k->by_row[e].value < 0 ? -k->model->rack_n[from->rack]
                                          : w->w[k->model->col_lot[col] * 2 + k->model->col_is_wrapped[col]] / w->most;
    if (value != 0)
      pw_lp_put(lp, row, col, value);
  }
}

/* new weights go at once into every row that is near them, for the program would move on to the next slot */
static void rows_add(struct pw_al_knaps *k, struct pw_lp *lp, const double *x, const struct pw_al_knap_weights *w,
                     int *n_added)
{
  for (int i = 0; i < k->n_rows; i++) {
    const struct pw_al_knap_row *row = &k->rows[i];
    double fires;
    if (k->first[row->rack] != w->rack || !activity(k, row, x, &fires))
      continue;
    double racks = fires * k->model->rack_n[row->rack];
    if (weight(k, w->w) / w->most >= NEAR * racks) {
      row_add(k, lp, row, w);
      ++*n_added;
    }
  }
}

/* a row whose point no packing by straight cuts reaches, and by how much not */
struct candidate {
  int row;
  double by;
};

static int farther(const void *a, const void *b)
{
  const struct candidate *x = a, *y = b;
  return x->by != y->by ? (x->by < y->by) - (x->by > y->by) : (x->row > y->row) - (x->row < y->row);
}

/* The pool's weights into each row that x breaks by them; the other rows that are worth a search become candidates. */
static pw_status look_through(struct pw_al_knaps *k, struct pw_lp *lp, const double *x, struct candidate *list, int *n,
                              int *n_added)
{
  double given = k->work;
  for (int i = 0; i < k->n_rows; i++) {
    const struct pw_al_knap_row *row = &k->rows[i];
    double fires, broken = BROKEN_BY, most = 0;
    if (k->first[row->rack] < 0 || !activity(k, row, x, &fires) || fires < FIRES_LEAST)
      continue;
    double racks = fires * k->model->rack_n[row->rack];
    const struct pw_al_knap_weights *best = best_of_pool(k, row->rack, racks, &broken);
    if (best) {
      row_add(k, lp, row, best);
      ++*n_added;
    } else if (k->work > given * LOOK_LEAVES_FRAC) {
      struct search *s = search_for(k, row->rack, racks);
      pw_status status = s ? cut_weights(s, &most) : PW_ERR_MEMORY;
      if (status)
        return status;
      if (most > 1 + BROKEN_BY)
        list[(*n)++] = (struct candidate){i, (most - 1) * racks};
    }
  }
  return PW_OK;
}

pw_status pw_al_knaps_add(struct pw_al_knaps *k, struct pw_lp *lp, const double *x, int *n_added)
{
  struct candidate *list = pw_arena_array(k->ctx->arena, (size_t)k->n_rows + 1, sizeof *list);
  int n = 0, n_fresh = 0;
  double given = k->work;
  *n_added = 0;
  pw_status status = list ? look_through(k, lp, x, list, &n, n_added) : PW_ERR_MEMORY;
  if (status)
    return status;
  qsort(list, (size_t)n, sizeof *list, farther);
  for (int i = 0; i < n && n_fresh < FRESH_PER_ROUND && k->work > given * ROUND_LEAVES_FRAC; i++) {
    const struct pw_al_knap_row *row = &k->rows[list[i].row];
    struct pw_al_knap_weights *found;
    double fires, broken = BROKEN_BY;
    (void)activity(k, row, x, &fires);
    double racks = fires * k->model->rack_n[row->rack];
    if (best_of_pool(k, row->rack, racks, &broken)) /* found for another row of this round, and in this one already */
      continue;
    n_fresh++;
    if ((status = fresh(k, row->rack, racks, &found)) != PW_OK)
      return status;
    (void)activity(k, row, x, &fires);
    if (found && weight(k, found->w) / found->most > racks + BROKEN_BY) {
      found->next = k->pool;
      k->pool = found;
      rows_add(k, lp, x, found, n_added);
    }
  }
  return lp->error;
}
