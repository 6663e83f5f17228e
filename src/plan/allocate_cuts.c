/* allocate_cuts.c - [A3d]: rows that the shapes of pieces and racks imply, added where a point breaks them.
 * Only [A3] rows' own columns take part, so a cut has the same form: sum share * active <= zones in the group * on. */
#include "plan/allocate_model.h"

#include "base/arena.h"
#include "plan/rack_bound.h"

#include <math.h>
#include <string.h>

static size_t share_at(const struct pw_al_cuts *cuts, int g, int c, int is_wrapped)
{
  return (((size_t)g * (size_t)cuts->al->n_lots + (size_t)c) * 2 + (size_t)is_wrapped) * PW_RACK_BOUNDS;
}

static bool prepare(struct pw_al_cuts *cuts, const struct pw_lp *lp)
{
  const struct pw_al_model *model = cuts->model;
  const struct pw_al *al = cuts->al;
  size_t n_a3 = (size_t)model->n_groups * (size_t)al->n_settings_max * (size_t)al->n_slots;
  struct pw_arena *arena = cuts->ctx->arena;
  cuts->share = pw_arena_array(arena, (size_t)model->n_groups * (size_t)al->n_lots * 2 * PW_RACK_BOUNDS + 1, sizeof *cuts->share);
  cuts->row_first = pw_arena_array(arena, n_a3 + 2, sizeof *cuts->row_first);
  cuts->by_row = pw_arena_array(arena, lp->n_entries + 1, sizeof *cuts->by_row);
  cuts->active = pw_arena_array(arena, (size_t)al->n_lots * 2 + 1, sizeof *cuts->active);
  cuts->is_added = pw_arena_alloc(arena, n_a3 * PW_RACK_BOUNDS + 1);
  int *a3_of_row = pw_arena_array(arena, (size_t)lp->n_rows + 1, sizeof *a3_of_row);
  if (!cuts->share || !cuts->row_first || !cuts->by_row || !cuts->active || !cuts->is_added || !a3_of_row)
    return false;
  for (int g = 0; g < model->n_groups; g++) {
    const struct pw_zone *zone = &al->lots->zones[model->group_zone[g]];
    for (int c = 0; c < al->n_lots; c++) {
      const struct pw_lot *lot = &al->lots->lots[c];
      bool may_turn = al->ev->cuts[lot->cut].may_turn;
      for (int k = 0; k < PW_RACK_BOUNDS; k++) {
        cuts->share[share_at(cuts, g, c, 0) + (size_t)k] = pw_rack_bound_share(
            k, lot->footprint_length_m, lot->footprint_width_m, zone->length_m, zone->depth_m, may_turn);
        cuts->share[share_at(cuts, g, c, 1) + (size_t)k] = pw_rack_bound_share(
            k, lot->wrapped_length_m, lot->wrapped_width_m, zone->length_m, zone->depth_m, may_turn);
      }
    }
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
  size_t *next = pw_arena_array(arena, n_a3 + 1, sizeof *next);
  if (!next)
    return false;
  memcpy(next, cuts->row_first, n_a3 * sizeof *next);
  for (size_t e = 0; e < lp->n_entries; e++) {
    int a = a3_of_row[lp->entries[e].row];
    if (a >= 0)
      cuts->by_row[next[a]++] = lp->entries[e];
  }
  return true;
}

static bool is_piece(const struct pw_al_model *model, int col)
{
  return (size_t)col < model->cap_col_lot && model->col_lot[col] >= 0 && col >= 0;
}

int pw_al_cut(struct pw_al_cuts *cuts, struct pw_lp *lp, const double *x)
{
  const struct pw_al_model *model = cuts->model;
  const struct pw_al *al = cuts->al;
  if (!cuts->share && !prepare(cuts, lp))
    return -1;
  int n_added = 0;
  size_t n_st = (size_t)al->n_settings_max * (size_t)al->n_slots, n_a3 = (size_t)model->n_groups * n_st;
  for (size_t a = 0; a < n_a3; a++) {
    size_t e0 = cuts->row_first[a], e1 = cuts->row_first[a + 1];
    if (e0 == e1)
      continue;
    int g = (int)(a / n_st), k_class = model->group_class[g];
    int on = model->on[(size_t)k_class * n_st + a % n_st];
    memset(cuts->active, 0, (size_t)al->n_lots * 2 * sizeof *cuts->active);
    bool is_any = false;
    for (size_t e = e0; e < e1; e++) {
      int col = cuts->by_row[e].col;
      if (x[col] > 1e-9 && col != on) {
        cuts->active[model->col_lot[col] * 2 + model->col_is_wrapped[col]] += x[col];
        is_any = true;
      }
    }
    if (!is_any)
      continue;
    double worst = 0.02; /* a row broken by less is not worth its place */
    int best = -1;
    for (int k = 1; k < PW_RACK_BOUNDS; k++) {
      double sum = 0;
      for (int c = 0; c < al->n_lots; c++)
        for (int w = 0; w < 2; w++)
          if (cuts->active[c * 2 + w] > 0)
            sum += cuts->active[c * 2 + w] * cuts->share[share_at(cuts, g, c, w) + (size_t)k];
      double over = sum - model->group_n[g] * x[on];
      if (over > worst && !cuts->is_added[a * PW_RACK_BOUNDS + (size_t)k]) {
        worst = over;
        best = k;
      }
    }
    if (best < 0)
      continue;
    cuts->is_added[a * PW_RACK_BOUNDS + (size_t)best] = 1;
    int row = pw_lp_row(lp, -HUGE_VAL, 0, "A3d(%s,%d,%d)", al->lots->zones[model->group_zone[g]].id,
                        (int)(a % n_st), best);
    pw_lp_put(lp, row, on, -model->group_n[g]);
    for (size_t e = e0; e < e1; e++) {
      int col = cuts->by_row[e].col;
      if (col != on && is_piece(model, col))
        pw_lp_put(lp, row, col,
                  cuts->share[share_at(cuts, g, model->col_lot[col], model->col_is_wrapped[col]) + (size_t)best]);
    }
    n_added++;
  }
  return n_added;
}
