/* explain_lp.c - dual values of the allocation's linear program, with the fires as planned and with the fires free, and the
 * worth of rack, oven, box and hands made of them.
 * Idea: a row's price is what one unit more on its right side changes in the cost.  A rack enters [A3] as area * on, so a m2
 * more is worth the sum over the slots of -price * on; the same holds for an oven with use(f,t). */
#include "plan/explain/explain.h"

#include "base/arena.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double LEAST_CENTS = 0.5, LEAST_PIECES = 0.005; /* less is rounding */
static const double LEAST_PRICE = 1e-7;
enum { MERGE_FROM_ZONES = 40 }; /* as in allocate.c: more zones make a model too large */

static size_t kst(const struct pw_al *al, int k, int s, int t)
{
  return ((size_t)k * (size_t)al->n_settings_max + (size_t)s) * (size_t)al->n_slots + (size_t)t;
}

static void fix_column(struct pw_lp *lp, int col, double value) { lp->lb[col] = lp->ub[col] = value; }

/* on(k,s,t) as the burns have it; [A4] says nothing about a fire that is there */
static void fix_fires(struct pw_al_model *model, const struct pw_al *al, const struct pw_burn *burns, int n_burns)
{
  size_t n = (size_t)model->n_classes * (size_t)al->n_settings_max * (size_t)al->n_slots;
  for (size_t i = 0; i < n; i++)
    if (model->on[i] >= 0)
      fix_column(&model->lp, model->on[i], 0);
  for (int b = 0; b < n_burns; b++) {
    int k = model->class_of_pit[burns[b].pit];
    int from = (burns[b].ready_at_min - al->lots->start_at_min) / al->slot_min;
    int to = (burns[b].out_at_min - al->lots->start_at_min) / al->slot_min;
    for (int t = from; k >= 0 && t < to && t < al->n_slots; t++) {
      int col = model->on[kst(al, k, burns[b].setting, t)];
      if (col >= 0)
        fix_column(&model->lp, col, model->lp.lb[col] + 1);
    }
  }
  for (size_t i = 0; i < n * (size_t)al->n_lots; i++)
    if (model->row_a4[i] >= 0)
      model->lp.row_hi[model->row_a4[i]] = HUGE_VAL;
}

static pw_status solve(struct pw_lp_result *out, struct pw_lp *lp, struct pw_ctx *ctx)
{
  struct pw_lp_options options = {.cutoff = HUGE_VAL};
  pw_status st = pw_lp_solve(out, lp, &options, ctx);
  return st == PW_OK && out->state != PW_LP_OPTIMAL ? PW_ERR_SOLVER : st;
}

pw_status pw_explain_prices(struct pw_prices *out, struct pw_al_model *model, const struct pw_al *al,
                            const struct pw_burn *burns, int n_burns, struct pw_ctx *ctx)
{
  *out = (struct pw_prices){0};
  struct pw_al_model_options options = {.merge_slots = al->n_zones > MERGE_FROM_ZONES ? 1 : 0};
  pw_status st = pw_al_model_make(model, al, &options, ctx);
  if (st != PW_OK)
    return st;
  struct pw_lp *lp = &model->lp;
  if (burns)
    fix_fires(model, al, burns, n_burns);
  struct pw_lp_result pieces;
  double *money = lp->cost;
  double *ones = pw_arena_array(ctx->arena, (size_t)lp->n_cols + 1, sizeof *ones);
  if (!ones)
    return PW_ERR_MEMORY;
  for (int c = 0; c < al->n_lots; c++)
    ones[model->miss[c]] = 1;
  lp->cost = ones;
  st = solve(&pieces, lp, ctx);
  lp->cost = money;
  if (st != PW_OK)
    return st;
  out->missed = pieces.value > 1e-6 ? pieces.value : 0;
  out->pieces = out->missed > 0 ? pieces.dual : NULL;
  if (out->missed > 0) {
    /* money with no more misses than must be; which lot misses is left to the money */
    int row = pw_lp_row(lp, -HUGE_VAL, pieces.value + 1e-6, "least(miss)");
    for (int c = 0; c < al->n_lots; c++) {
      pw_lp_put(lp, row, model->miss[c], 1);
      lp->cost[model->miss[c]] = 0;
    }
  } else {
    for (int c = 0; c < al->n_lots; c++)
      fix_column(lp, model->miss[c], 0);
  }
  return lp->error ? lp->error : solve(&out->money, lp, ctx);
}

/* ---- worths ---------------------------------------------------------------------------------- */

/* adds the price of a row, `amount` units of it, at slot t */
static void add(struct pw_worth *w, const struct pw_al *al, int row, double amount, int t,
                const struct pw_prices *fixed, const struct pw_prices *free_fires, double amount_free)
{
  if (row < 0)
    return;
  double mine = -fixed->money.dual[row] * amount, pieces = fixed->pieces ? -fixed->pieces[row] * amount : 0;
  double open = -free_fires->money.dual[row] * amount_free;
  mine = mine > 0 ? mine : 0;
  pieces = pieces > 0 ? pieces : 0;
  w->fixed_cents += mine;
  w->fixed_pieces += pieces;
  w->free_cents += open > 0 ? open : 0;
  if (mine <= LEAST_PRICE && pieces <= LEAST_PRICE && open <= LEAST_PRICE)
    return;
  int from = al->lots->start_at_min + t * al->slot_min;
  if (w->from_at_min == w->to_at_min)
    w->from_at_min = from;
  w->to_at_min = from + al->slot_min;
}

static void keep(struct pw_explain *out, const struct pw_worth *w)
{
  if (w->fixed_cents >= LEAST_CENTS || w->free_cents >= LEAST_CENTS || w->fixed_pieces >= LEAST_PIECES)
    out->worths[out->n_worths++] = *w;
}

/* most pieces, then most money; racks before ovens, boxes, hands; by place and time */
static int by_worth(const void *pa, const void *pb)
{
  const struct pw_worth *a = pa, *b = pb;
  if (fabs(a->fixed_pieces - b->fixed_pieces) > LEAST_PIECES)
    return a->fixed_pieces > b->fixed_pieces ? -1 : 1;
  double x = fmax(a->fixed_cents, a->free_cents), y = fmax(b->fixed_cents, b->free_cents);
  if (a->kind != b->kind)
    return a->kind < b->kind ? -1 : 1; /* units differ: no ranking between kinds */
  if (x != y)
    return x > y ? -1 : 1;
  if (a->zone != b->zone)
    return a->zone < b->zone ? -1 : 1;
  if (a->finisher != b->finisher)
    return a->finisher < b->finisher ? -1 : 1;
  return (a->from_at_min > b->from_at_min) - (a->from_at_min < b->from_at_min);
}

static double column(const struct pw_prices *p, int col) { return col >= 0 ? p->money.x[col] : 0; }

static void racks(struct pw_explain *out, const struct pw_al *al, const struct pw_al_model *model,
                  const struct pw_prices *fixed, const struct pw_prices *free_fires)
{
  for (int r = 0; r < model->n_racks; r++) {
    int k = model->rack_class[r];
    struct pw_worth w = {.kind = PW_WORTH_RACK,
                         .zone = model->rack_zone[r],
                         .n_racks = model->rack_n[r],
                         .n_pits = model->class_n[k],
                         .finisher = PW_NONE};
    for (int t = 0; t < al->n_slots; t++)
      for (int s = 0; s < al->n_settings_max; s++) {
        int col = model->on[kst(al, k, s, t)];
        /* a m2 in each pit of the class would count on times: one m2 is a share of that */
        add(&w, al, model->row_a3[kst(al, r, s, t)], column(fixed, col) / w.n_pits, t, fixed, free_fires,
            column(free_fires, col) / w.n_pits);
      }
    keep(out, &w);
  }
}

static void ovens(struct pw_explain *out, const struct pw_al *al, const struct pw_al_model *model,
                  const struct pw_prices *fixed, const struct pw_prices *free_fires)
{
  for (int f = 0; f < al->n_finishers; f++) {
    struct pw_worth w = {.kind = PW_WORTH_OVEN, .zone = PW_NONE, .finisher = f};
    for (int t = 0; t < al->n_slots && al->is_oven[f]; t++) {
      size_t ft = (size_t)f * (size_t)al->n_slots + (size_t)t;
      add(&w, al, model->row_a3f[ft], column(fixed, model->use[ft]), t, fixed, free_fires,
          column(free_fires, model->use[ft]));
    }
    keep(out, &w);
  }
}

/* What `amount` more on the right of the rows of slots [a, b) really saves: solved again, for a pair of hands is no little. */
static pw_status saving(double *cents, struct pw_al_model *model, const int *rows, int a, int b, double amount,
                        const struct pw_prices *prices, struct pw_ctx *ctx)
{
  struct pw_lp_result more;
  struct pw_lp_options options = {.cutoff = HUGE_VAL, .warm = &prices->money};
  for (int t = a; t < b; t++)
    if (rows[t] >= 0)
      model->lp.row_hi[rows[t]] += amount;
  pw_status st = pw_lp_solve(&more, &model->lp, &options, ctx);
  for (int t = a; t < b; t++)
    if (rows[t] >= 0)
      model->lp.row_hi[rows[t]] -= amount;
  *cents = st == PW_OK && more.state == PW_LP_OPTIMAL ? fmax(0, prices->money.value - more.value) : 0;
  return st;
}

static pw_status whole_hand(struct pw_worth *w, const struct pw_al *al, struct pw_al_model *model,
                            struct pw_al_model *free_model, const struct pw_prices *fixed,
                            const struct pw_prices *free_fires, struct pw_ctx *ctx)
{
  int a = (w->from_at_min - al->lots->start_at_min) / al->slot_min,
      b = (w->to_at_min - al->lots->start_at_min) / al->slot_min;
  double amount = al->slot_min * PW_AL_HANDS_SHARE_FRAC;
  w->fixed_pieces = fmin(w->fixed_pieces, fixed->missed);
  pw_status st = saving(&w->fixed_cents, model, model->row_a8, a, b, amount, fixed, ctx);
  return st == PW_OK ? saving(&w->free_cents, free_model, free_model->row_a8, a, b, amount, free_fires, ctx) : st;
}

/* one entry for the boxes together, one for each stretch in which hands count */
static void boxes_and_hands(struct pw_explain *out, const struct pw_al *al, const struct pw_al_model *model,
                            const struct pw_prices *fixed, const struct pw_prices *free_fires)
{
  struct pw_worth box = {.kind = PW_WORTH_HOLD, .zone = PW_NONE, .finisher = PW_NONE};
  struct pw_worth none = {.kind = PW_WORTH_HANDS, .zone = PW_NONE, .finisher = PW_NONE}, hands = none;
  for (int t = 0; t < al->n_slots; t++) {
    add(&box, al, model->row_a7[t], 1, t, fixed, free_fires, 1);
    int before = hands.to_at_min;
    add(&hands, al, model->row_a8[t], al->slot_min * PW_AL_HANDS_SHARE_FRAC, t, fixed, free_fires,
        al->slot_min * PW_AL_HANDS_SHARE_FRAC);
    if (hands.to_at_min == before || t == al->n_slots - 1) {
      keep(out, &hands);
      hands = none;
    }
  }
  keep(out, &box);
}

pw_status pw_explain_worths(struct pw_explain *out, const struct pw_al *al, struct pw_al_model *model,
                            struct pw_al_model *free_model, const struct pw_prices *fixed,
                            const struct pw_prices *free_fires, struct pw_ctx *ctx)
{
  size_t n = (size_t)(model->n_groups + al->n_finishers + al->n_slots) + 2;
  out->worths = pw_arena_array(ctx->arena, n, sizeof *out->worths);
  if (!out->worths)
    return PW_ERR_MEMORY;
  racks(out, al, model, fixed, free_fires);
  ovens(out, al, model, fixed, free_fires);
  boxes_and_hands(out, al, model, fixed, free_fires);
  int n_kept = 0;
  for (int i = 0; i < out->n_worths; i++) {
    struct pw_worth w = out->worths[i];
    pw_status st = w.kind == PW_WORTH_HANDS ? whole_hand(&w, al, model, free_model, fixed, free_fires, ctx) : PW_OK;
    if (st != PW_OK)
      return st;
    if (w.fixed_cents >= LEAST_CENTS || w.free_cents >= LEAST_CENTS || w.fixed_pieces >= LEAST_PIECES)
      out->worths[n_kept++] = w;
  }
  out->n_worths = n_kept;
  qsort(out->worths, (size_t)out->n_worths, sizeof *out->worths, by_worth);
  return PW_OK;
}
