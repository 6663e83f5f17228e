/* allocate_cuts.c - see allocate_cuts.h.  Only an [A3] row's own columns take part, so a cut has its form:
 * sum share * active <= racks in the group * on. */
#include "plan/allocate/allocate_cuts.h"

#include "base/arena.h"
#include "plan/allocate/rack_grid.h"

#include <math.h>
#include <string.h>

enum { FRESH_PER_ROUND = 60 };        /* new shares looked for in one round */
static const double BROKEN_BY = 0.02; /* a row broken by less, in racks, is not worth its place */

pw_status pw_al_cuts_init(struct pw_al_cuts *cuts, const struct pw_al_model *model, const struct pw_al *al,
                          struct pw_ctx *ctx)
{
  memset(cuts, 0, sizeof *cuts);
  cuts->model = model;
  cuts->al = al;
  cuts->ctx = ctx;
  cuts->has_cells = model->open != NULL;
  const struct pw_lp *lp = &model->lp;
  size_t n_a3 = (size_t)model->n_racks * (size_t)al->n_settings_max * (size_t)al->n_slots;
  struct pw_arena *arena = ctx->arena;
  cuts->pieces = pw_arena_array(arena, (size_t)al->n_lots * 2 + 1, sizeof *cuts->pieces);
  cuts->active = pw_arena_array(arena, (size_t)al->n_lots * 2 + 1, sizeof *cuts->active);
  cuts->row_first = pw_arena_array(arena, n_a3 + 2, sizeof *cuts->row_first);
  cuts->by_row = pw_arena_array(arena, lp->n_entries + 1, sizeof *cuts->by_row);
  int *a3_of_row = pw_arena_array(arena, (size_t)lp->n_rows + 1, sizeof *a3_of_row);
  size_t *next = pw_arena_array(arena, n_a3 + 1, sizeof *next);
  if (!cuts->pieces || !cuts->active || !cuts->row_first || !cuts->by_row || !a3_of_row || !next)
    return PW_ERR_MEMORY;
  for (int c = 0; c < al->n_lots; c++) {
    const struct pw_lot *lot = &al->lots->lots[c];
    bool may_turn = al->ev->cuts[lot->cut].may_turn;
    cuts->pieces[c * 2] = (struct pw_rack_piece){lot->footprint_length_m, lot->footprint_width_m, may_turn};
    cuts->pieces[c * 2 + 1] = (struct pw_rack_piece){lot->wrapped_length_m, lot->wrapped_width_m, may_turn};
  }
  memset(a3_of_row, -1, ((size_t)lp->n_rows + 1) * sizeof *a3_of_row);
  for (size_t a = 0; a < n_a3; a++)
    if (model->row_a3[a] >= 0)
      a3_of_row[model->row_a3[a]] = (int)a;
  for (size_t e = 0; e < lp->n_entries; e++)
    if (a3_of_row[lp->entries[e].row] >= 0)
      cuts->row_first[a3_of_row[lp->entries[e].row] + 1]++;
  for (size_t a = 0; a < n_a3; a++)
    cuts->row_first[a + 1] += cuts->row_first[a];
  memcpy(next, cuts->row_first, n_a3 * sizeof *next);
  for (size_t e = 0; e < lp->n_entries; e++) {
    int a = a3_of_row[lp->entries[e].row];
    if (a >= 0)
      cuts->by_row[next[a]++] = lp->entries[e];
  }
  return PW_OK;
}

static double used(const struct pw_al_cuts *cuts, const double *share)
{
  double sum = 0;
  for (int i = 0; i < cuts->al->n_lots * 2; i++)
    sum += cuts->active[i] * share[i];
  return sum;
}

/* what is active in the [A3] row at x; false when nothing is */
static bool activity(struct pw_al_cuts *cuts, size_t a, int on, const double *x)
{
  const struct pw_al_model *model = cuts->model;
  bool is_any = false;
  memset(cuts->active, 0, (size_t)cuts->al->n_lots * 2 * sizeof *cuts->active);
  for (size_t e = cuts->row_first[a]; e < cuts->row_first[a + 1]; e++) {
    int col = cuts->by_row[e].col;
    if (col != on && x[col] > 1e-9) {
      cuts->active[model->col_lot[col] * 2 + model->col_is_wrapped[col]] += x[col];
      is_any = true;
    }
  }
  return is_any;
}

/* the pool's shares that say most about what is active on a rack of this size */
static const struct pw_al_cut_shares *best_of_pool(const struct pw_al_cuts *cuts, const struct pw_rack *rack,
                                                   double *most)
{
  const struct pw_al_cut_shares *best = NULL;
  for (const struct pw_al_cut_shares *s = cuts->pool; s; s = s->next)
    if (fabs(s->rack_length_m - rack->length_m) < 1e-9 && fabs(s->rack_depth_m - rack->depth_m) < 1e-9) {
      double sum = used(cuts, s->share);
      if (sum > *most) {
        *most = sum;
        best = s;
      }
    }
  return best;
}

static pw_status fresh_shares(struct pw_al_cuts *cuts, const struct pw_rack *rack, struct pw_al_cut_shares **out)
{
  struct pw_al_cut_shares *s = pw_arena_alloc(cuts->ctx->arena, sizeof *s);
  int n = cuts->al->n_lots * 2;
  if (!s || !(s->share = pw_arena_array(cuts->ctx->arena, (size_t)n, sizeof *s->share)))
    return PW_ERR_MEMORY;
  s->rack_length_m = rack->length_m;
  s->rack_depth_m = rack->depth_m;
  *out = s;
  const struct pw_rack_zone zone = {rack->length_m, rack->depth_m,
                                    cuts->has_cells ? pw_rack_grid_rows(rack->length_m) : 0,
                                    cuts->has_cells ? PW_GRID_CELLS_Y : 0};
  pw_status status = pw_rack_bound_shares(s->share, cuts->pieces, cuts->active, n, &zone, cuts->ctx);
  return status || !cuts->has_cells /* a search's bound stays as it was */
             ? status
             : pw_rack_bound_sharpen(s->share, cuts->pieces, cuts->active, n, &zone, cuts->ctx);
}

static void row_add(const struct pw_al_cuts *cuts, struct pw_lp *lp, size_t a, int r, int on, const double *share)
{
  const struct pw_al_model *model = cuts->model;
  size_t n_st = (size_t)cuts->al->n_settings_max * (size_t)cuts->al->n_slots;
  int row = pw_lp_row(lp, -HUGE_VAL, 0, "A3d(%s,%d,%d)", cuts->al->lots->zones[model->rack_zone[r]].id, (int)(a % n_st),
                      lp->n_rows);
  pw_lp_put(lp, row, on, -model->rack_n[r]);
  for (size_t e = cuts->row_first[a]; e < cuts->row_first[a + 1]; e++) {
    int col = cuts->by_row[e].col;
    if (col != on)
      pw_lp_put(lp, row, col, share[model->col_lot[col] * 2 + model->col_is_wrapped[col]]);
  }
}

pw_status pw_al_cuts_add(struct pw_al_cuts *cuts, struct pw_lp *lp, const double *x, int *n_added)
{
  const struct pw_al_model *model = cuts->model;
  const struct pw_al *al = cuts->al;
  size_t n_st = (size_t)al->n_settings_max * (size_t)al->n_slots, n_a3 = (size_t)model->n_racks * n_st;
  int n_fresh = 0;
  *n_added = 0;
  for (size_t a = 0; a < n_a3; a++) {
    int r = (int)(a / n_st);
    if (cuts->row_first[a] == cuts->row_first[a + 1])
      continue;
    int on = model->on[(size_t)model->rack_class[r] * n_st + a % n_st];
    if (!activity(cuts, a, on, x))
      continue;
    const struct pw_zone *first = &al->lots->zones[model->rack_zone[r]];
    const struct pw_rack *rack = &al->ev->pits[first->pit].racks[first->rack];
    double limit = model->rack_n[r] * x[on] + BROKEN_BY, most = limit;
    const struct pw_al_cut_shares *best = best_of_pool(cuts, rack, &most);
    if (!best && n_fresh < FRESH_PER_ROUND) {
      struct pw_al_cut_shares *fresh;
      pw_status status = fresh_shares(cuts, rack, &fresh);
      if (status)
        return status;
      n_fresh++;
      if (used(cuts, fresh->share) > limit) {
        fresh->next = cuts->pool;
        cuts->pool = fresh;
        best = fresh;
      }
    }
    if (best) {
      row_add(cuts, lp, a, r, on, best->share);
      ++*n_added;
    }
  }
  return lp->error;
}
