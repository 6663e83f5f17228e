/* allocate_guide.c - a solved program -> whole-piece flows and rents.  See allocate_guide.h. */
#include "plan/allocate/allocate_guide.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

static const double LEAST_PIECES = 1e-6;

static size_t n_slots1(const struct pw_al *al) { return (size_t)al->n_slots + 1; }

/* a row's price: what one unit more of its right side would save */
static double price(const struct pw_lp_result *lp, int row) { return row >= 0 ? fmax(-lp->dual[row], 0) : 0; }

static pw_status zones_make(struct pw_al_guide *g, const struct pw_al_model *model, const struct pw_al *al,
                            struct pw_ctx *ctx)
{
  g->n_groups = model->n_groups;
  g->zone_first = pw_arena_array(ctx->arena, (size_t)model->n_groups + 1, sizeof *g->zone_first);
  g->zones = pw_arena_array(ctx->arena, (size_t)al->n_zones + 1, sizeof *g->zones);
  if (!g->zone_first || !g->zones)
    return PW_ERR_MEMORY;
  int n = 0;
  for (int k = 0; k < model->n_groups; k++) {
    int first = al->pit[model->class_pit[model->group_class[k]]].zone_first;
    g->zone_first[k] = n;
    for (int p = 0; p < al->n_pits; p++)
      for (int z = al->pit[p].zone_first; model->class_of_pit[p] == model->group_class[k] && z < al->pit[p].zone_end;
           z++)
        if (model->group_of_zone[first + z - al->pit[p].zone_first] == k)
          g->zones[n++] = z;
  }
  g->zone_first[model->n_groups] = n;
  return PW_OK;
}

static pw_status rents_make(struct pw_al_guide *g, const struct pw_al_model *model, const struct pw_al *al,
                            const struct pw_lp_result *lp, struct pw_ctx *ctx)
{
  size_t n_t = n_slots1(al), n_s = (size_t)al->n_settings_max, n_z = (size_t)al->n_zones, n_c = (size_t)al->n_lots,
         n_p = (size_t)al->n_pits, n_f = (size_t)al->n_finishers, n_slots = (size_t)al->n_slots;
  g->rack_rent = pw_arena_array(ctx->arena, n_z * n_s * n_t + 1, sizeof *g->rack_rent);
  g->lot_rent = pw_arena_array(ctx->arena, n_c * n_p * n_s * n_t + 1, sizeof *g->lot_rent);
  g->oven_rent = pw_arena_array(ctx->arena, n_f * n_t + 1, sizeof *g->oven_rent);
  g->lot_oven_rent = pw_arena_array(ctx->arena, n_c * n_f * n_t + 1, sizeof *g->lot_oven_rent);
  g->hold_rent = pw_arena_array(ctx->arena, n_t + 1, sizeof *g->hold_rent);
  if (!g->rack_rent || !g->lot_rent || !g->oven_rent || !g->lot_oven_rent || !g->hold_rent)
    return PW_ERR_MEMORY;
  for (int k = 0; k < model->n_groups; k++)
    for (int i = g->zone_first[k]; i < g->zone_first[k + 1]; i++)
      for (size_t s = 0; s < n_s; s++) {
        double *sum = g->rack_rent + ((size_t)g->zones[i] * n_s + s) * n_t;
        for (size_t t = 0; t < n_slots; t++)
          sum[t + 1] = sum[t] + price(lp, model->row_a3[((size_t)model->group_rack[k] * n_s + s) * n_slots + t]) +
                       price(lp, model->row_a3z[((size_t)k * n_s + s) * n_slots + t]);
      }
  for (size_t c = 0; c < n_c; c++)
    for (size_t p = 0; p < n_p; p++)
      for (size_t s = 0; s < n_s && model->class_of_pit[p] >= 0; s++) {
        size_t k = (size_t)model->class_of_pit[p];
        double *sum = g->lot_rent + ((c * n_p + p) * n_s + s) * n_t;
        for (size_t t = 0; t < n_slots; t++)
          sum[t + 1] = sum[t] + price(lp, model->row_a4[((c * (size_t)model->n_classes + k) * n_s + s) * n_slots + t]);
      }
  for (size_t f = 0; f < n_f; f++)
    for (size_t t = 0; t < n_slots; t++)
      g->oven_rent[f * n_t + t + 1] = g->oven_rent[f * n_t + t] + price(lp, model->row_a3f[f * n_slots + t]);
  for (size_t cf = 0; cf < n_c * n_f; cf++)
    for (size_t t = 0; t < n_slots; t++)
      g->lot_oven_rent[cf * n_t + t + 1] = g->lot_oven_rent[cf * n_t + t] + price(lp, model->row_a4f[cf * n_slots + t]);
  for (size_t t = 0; t < n_slots; t++)
    g->hold_rent[t + 1] = g->hold_rent[t] + price(lp, model->row_a7[t]);
  return PW_OK;
}

/* what is left of the columns above zero while flows are read off them */
struct rest {
  const struct pw_al_col **col;
  double *left;
  int n;
  double carry; /* of the lot at hand: what rounding held back */
};

static void flow_add(struct pw_al_guide *g, struct rest *rest, double amount, struct pw_al_flow flow)
{
  flow.n = (int)floor(rest->carry + amount + 0.5);
  rest->carry += amount - flow.n;
  if (flow.n > 0)
    g->flows[g->n_flows++] = flow;
}

/* the lot's smoke columns meet the finish columns that start as they end; those of the same group first */
static void meet(struct pw_al_guide *g, struct rest *rest, int c, bool is_same)
{
  for (int i = 0; i < rest->n; i++) {
    const struct pw_al_col *n = rest->col[i];
    for (int j = 0; j < rest->n && n->lot == c && !n->is_finish && rest->left[i] >= LEAST_PIECES; j++) {
      const struct pw_al_col *m = rest->col[j];
      if (m->lot != c || !m->is_finish || m->from != n->to || rest->left[j] < LEAST_PIECES ||
          (is_same && (m->group != n->group || m->setting != n->setting)))
        continue;
      double amount = fmin(rest->left[i], rest->left[j]);
      rest->left[i] -= amount;
      rest->left[j] -= amount;
      flow_add(
          g, rest, amount,
          (struct pw_al_flow){c, 0, n->setting, n->group, n->from, n->to, m->group, m->finisher, m->setting, m->to});
    }
  }
}

static pw_status flows_make(struct pw_al_guide *g, const struct pw_al_model *model, const struct pw_al *al,
                            const struct pw_lp_result *lp, struct pw_ctx *ctx)
{
  struct rest rest = {0};
  size_t n = 1;
  for (size_t i = 0; i < model->n_piece_cols; i++)
    n += lp->x[model->cols[i].col] >= LEAST_PIECES;
  rest.col = pw_arena_array(ctx->arena, n, sizeof *rest.col);
  rest.left = pw_arena_array(ctx->arena, n, sizeof *rest.left);
  /* each flow takes at least one column to nothing */
  g->flows = pw_arena_array(ctx->arena, n, sizeof *g->flows);
  if (!rest.col || !rest.left || !g->flows)
    return PW_ERR_MEMORY;
  for (size_t i = 0; i < model->n_piece_cols; i++)
    if (lp->x[model->cols[i].col] >= LEAST_PIECES) {
      rest.col[rest.n] = &model->cols[i];
      rest.left[rest.n++] = lp->x[model->cols[i].col];
    }
  for (int c = 0; c < al->n_lots; c++) {
    rest.carry = 0;
    if (al->lot[c].has_finish) {
      meet(g, &rest, c, true);
      meet(g, &rest, c, false);
      continue;
    }
    for (int i = 0; i < rest.n; i++) {
      const struct pw_al_col *k = rest.col[i];
      if (k->lot == c)
        flow_add(g, &rest, rest.left[i],
                 (struct pw_al_flow){c, 0, k->setting, k->group, k->from, k->to, PW_NONE, PW_NONE, 0, k->to});
    }
  }
  /* earliest first, so that those with the longest need of a rack lie at its end */
  for (int i = 1; i < g->n_flows; i++) {
    struct pw_al_flow f = g->flows[i];
    int j = i;
    for (; j > 0 && g->flows[j - 1].start > f.start; j--)
      g->flows[j] = g->flows[j - 1];
    g->flows[j] = f;
  }
  return PW_OK;
}

pw_status pw_al_guide_make(struct pw_al_guide *guide, const struct pw_al_model *model, const struct pw_al *al,
                           const struct pw_lp_result *lp, struct pw_ctx *ctx)
{
  memset(guide, 0, sizeof *guide);
  pw_status status = zones_make(guide, model, al, ctx);
  if (!status)
    status = rents_make(guide, model, al, lp, ctx);
  return status ? status : flows_make(guide, model, al, lp, ctx);
}
