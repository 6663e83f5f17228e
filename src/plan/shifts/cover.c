/* cover.c - the shift program [S2]: builds it, asks the solver, rounds where the solver found nothing whole.
 * In: struct pw_cover.  Out: counts of shifts, bound.  Rows as labelled in cover.h. */
#include "plan/shifts/cover.h"

#include "base/arena.h"
#include "solve/lp.h"

#include <math.h>
#include <string.h>

#define SHORT_TIMES 50.0 /* a slot without hands costs so many times the dearest slot of a shift: beyond any choice */

struct build {
  const struct pw_cover *cover;
  struct pw_lp lp;
  int *there; /* [g * n_slots + t] column N(g,t) */
  int *piece; /* [first_piece[w] + t - first] column of work w in slot t; a single slot has none */
  int *first_piece;
  int *short_col; /* per presence, then per work and slot */
  uint32_t *unions;
  int n_unions;
  int *cover_row; /* [t * n_unions + u] row, or -1 */
  double short_cost;
};

static bool is_fixed(const struct pw_cover_work *w) { return w->first >= w->last; }

/* ---- the unions of groups that matter ---------------------------------------------------------------------- */

static int add_union(uint32_t *unions, int n, uint32_t groups)
{
  for (int i = 0; i < n; i++)
    if (unions[i] == groups)
      return n;
  if (groups && n < PW_COVER_UNIONS_MAX)
    unions[n++] = groups;
  return n;
}

/* Two sets that share no group ask nothing together that they do not ask alone. */
int pw_cover_unions(uint32_t *unions, const struct pw_cover_work *works, int n_works)
{
  int n = 0;
  for (int w = 0; w < n_works; w++)
    n = add_union(unions, n, works[w].groups);
  for (int i = 0; i < n; i++)
    for (int k = 0; k < i; k++)
      if (unions[i] & unions[k])
        n = add_union(unions, n, unions[i] | unions[k]);
  return n;
}

/* ---- columns and rows ---------------------------------------------------------------------------------------- */

static double dearest_slot(const struct pw_cover *c)
{
  double most = 1;
  for (int s = 0; s < c->n_shifts; s++)
    if (c->shifts[s].to > c->shifts[s].from)
      most = fmax(most, c->shifts[s].cost / (c->shifts[s].to - c->shifts[s].from));
  return most;
}

static void add_columns(struct build *b)
{
  const struct pw_cover *c = b->cover;
  double all = 0;
  for (int s = 0; s < c->n_shifts; s++) {
    const struct pw_cover_shift *x = &c->shifts[s];
    pw_lp_col(&b->lp, x->least, x->most, x->cost + x->dislike, true, "S2(%d,%d,%d,%d)", s, x->group, x->from, x->to);
  }
  for (int g = 0; g < c->n_groups; g++)
    all = fmax(all, c->groups[g].most);
  for (int g = 0; g < c->n_groups; g++)
    for (int t = 0; t < c->n_slots; t++)
      b->there[g * c->n_slots + t] = pw_lp_col(&b->lp, 0, all, 0, false, "N(%d,%d)", g, t);
  for (int w = 0, n = 0; w < c->n_works; w++) {
    const struct pw_cover_work *x = &c->works[w];
    b->first_piece[w] = n;
    for (int t = x->first; t <= x->last && !is_fixed(x); t++)
      b->piece[n++] = pw_lp_col(&b->lp, 0, x->at_once, 0, false, "W(%d,%d)", w, t);
  }
}

/* [S2a]: what changes from slot to slot; a shift is in few rows. */
static void balance_rows(struct build *b)
{
  const struct pw_cover *c = b->cover;
  for (int g = 0; g < c->n_groups; g++) {
    int first = b->lp.n_rows;
    for (int t = 0; t < c->n_slots; t++) {
      int row = pw_lp_row(&b->lp, 0, 0, "S2a(%d,%d)", g, t);
      pw_lp_put(&b->lp, row, b->there[g * c->n_slots + t], 1);
      if (t > 0)
        pw_lp_put(&b->lp, row, b->there[g * c->n_slots + t - 1], -1);
    }
    for (int s = 0; s < c->n_shifts; s++) {
      const struct pw_cover_shift *x = &c->shifts[s];
      if (x->group != g)
        continue;
      pw_lp_put(&b->lp, first + x->from, s, -1);
      if (x->break_to > x->break_from) {
        pw_lp_put(&b->lp, first + x->break_from, s, 1);
        pw_lp_put(&b->lp, first + x->break_to, s, -1);
      }
      if (x->to < c->n_slots)
        pw_lp_put(&b->lp, first + x->to, s, 1);
    }
  }
}

/* [S2b]: at work or resting. */
static void people_rows(struct build *b)
{
  const struct pw_cover *c = b->cover;
  for (int g = 0; g < c->n_groups; g++) {
    int first = b->lp.n_rows, before = -1;
    for (int t = 0; t < c->n_slots; t++) {
      int busy = pw_lp_col(&b->lp, 0, c->groups[g].most, 0, false, "B(%d,%d)", g, t);
      int row = pw_lp_row(&b->lp, 0, 0, "S2b(%d,%d)", g, t);
      pw_lp_put(&b->lp, row, busy, 1);
      if (t > 0)
        pw_lp_put(&b->lp, row, before, -1);
      before = busy;
    }
    for (int s = 0; s < c->n_shifts; s++) {
      const struct pw_cover_shift *x = &c->shifts[s];
      if (x->group != g)
        continue;
      pw_lp_put(&b->lp, first + x->from, s, -1);
      if (x->to + c->groups[g].rest < c->n_slots)
        pw_lp_put(&b->lp, first + x->to + c->groups[g].rest, s, 1);
    }
  }
}

static void put_hands(struct build *b, int row, uint32_t groups, int t)
{
  for (int g = 0; g < b->cover->n_groups; g++)
    if (groups >> g & 1u)
      pw_lp_put(&b->lp, row, b->there[g * b->cover->n_slots + t], 1);
}

static int add_short(struct build *b, double most)
{
  return pw_lp_col(&b->lp, 0, fmax(most, 1), b->short_cost, false, "short(%d)", b->lp.n_cols);
}

/* [S2c] and, for work that may move, that all of it is done. */
static void cover_rows(struct build *b)
{
  const struct pw_cover *c = b->cover;
  for (int w = 0; w < c->n_works; w++) {
    const struct pw_cover_work *x = &c->works[w];
    if (is_fixed(x))
      continue;
    int row = pw_lp_row(&b->lp, x->hands, HUGE_VAL, "S2w(%d)", w), late = add_short(b, x->hands);
    for (int t = x->first; t <= x->last; t++)
      pw_lp_put(&b->lp, row, b->piece[b->first_piece[w] + t - x->first], 1);
    pw_lp_put(&b->lp, row, late, 1);
    b->short_col[c->n_presences + w] = late;
  }
  for (int t = 0; t < c->n_slots; t++)
    for (int u = 0; u < b->n_unions; u++) {
      double fixed = 0;
      bool has_moving = false;
      for (int w = 0; w < c->n_works; w++) {
        const struct pw_cover_work *x = &c->works[w];
        if ((x->groups & ~b->unions[u]) != 0 || t < x->first || t > (is_fixed(x) ? x->first : x->last))
          continue;
        fixed += is_fixed(x) ? x->hands : 0;
        has_moving = has_moving || !is_fixed(x);
      }
      b->cover_row[t * b->n_unions + u] = -1;
      if (fixed <= 0 && !has_moving)
        continue;
      double least = has_moving ? fixed : ceil(fixed - 1e-9); /* hands are whole */
      int row = pw_lp_row(&b->lp, least, HUGE_VAL, "S2c(%d,%d)", t, u);
      b->cover_row[t * b->n_unions + u] = row;
      put_hands(b, row, b->unions[u], t);
      for (int w = 0; w < c->n_works; w++) {
        const struct pw_cover_work *x = &c->works[w];
        if ((x->groups & ~b->unions[u]) == 0 && !is_fixed(x) && x->first <= t && t <= x->last)
          pw_lp_put(&b->lp, row, b->piece[b->first_piece[w] + t - x->first], -1);
      }
    }
  for (int w = 0; w < c->n_works; w++) { /* fixed work that finds nobody: one column over all the unions it counts in */
    const struct pw_cover_work *x = &c->works[w];
    if (!is_fixed(x))
      continue;
    int late = add_short(b, ceil(x->hands));
    b->short_col[c->n_presences + w] = late;
    for (int u = 0; u < b->n_unions; u++)
      if ((x->groups & ~b->unions[u]) == 0)
        pw_lp_put(&b->lp, b->cover_row[x->first * b->n_unions + u], late, 1);
  }
}

static void presence_rows(struct build *b)
{
  const struct pw_cover *c = b->cover;
  for (int p = 0; p < c->n_presences; p++) {
    const struct pw_cover_presence *x = &c->presences[p];
    int row = pw_lp_row(&b->lp, x->hands, HUGE_VAL, "S2d(%d,%d)", x->slot, p), late = add_short(b, x->hands);
    put_hands(b, row, x->groups, x->slot);
    pw_lp_put(&b->lp, row, late, 1);
    b->short_col[p] = late;
  }
}

static bool build_make(struct build *b, const struct pw_cover *c, bool has_names, struct pw_ctx *ctx)
{
  size_t n = (size_t)c->n_groups * (size_t)c->n_slots + 1, n_pieces = 1;
  for (int w = 0; w < c->n_works; w++)
    n_pieces += is_fixed(&c->works[w]) ? 0 : (size_t)(c->works[w].last - c->works[w].first + 1);
  *b = (struct build){.cover = c, .short_cost = SHORT_TIMES * dearest_slot(c)};
  b->there = pw_arena_array(ctx->arena, n, sizeof *b->there);
  b->piece = pw_arena_array(ctx->arena, n_pieces, sizeof *b->piece);
  b->first_piece = pw_arena_array(ctx->arena, (size_t)c->n_works + 1, sizeof *b->first_piece);
  b->short_col = pw_arena_array(ctx->arena, (size_t)(c->n_presences + c->n_works) + 1, sizeof *b->short_col);
  b->unions = pw_arena_array(ctx->arena, PW_COVER_UNIONS_MAX, sizeof *b->unions);
  if (!b->there || !b->piece || !b->first_piece || !b->short_col || !b->unions)
    return false;
  b->n_unions = pw_cover_unions(b->unions, c->works, c->n_works);
  b->cover_row = pw_arena_array(ctx->arena, (size_t)c->n_slots * (size_t)b->n_unions + 1, sizeof *b->cover_row);
  if (!b->cover_row)
    return false;
  pw_lp_init(&b->lp, ctx->arena, has_names);
  add_columns(b);
  balance_rows(b);
  people_rows(b);
  cover_rows(b);
  presence_rows(b);
  return true;
}

/* ---- the answer ------------------------------------------------------------------------------------------------- */

static void take(struct pw_cover_result *out, const struct build *b, const double *x)
{
  const struct pw_cover *c = b->cover;
  out->cost = out->short_hands = 0;
  for (int s = 0; s < c->n_shifts; s++) {
    out->counts[s] = (int)floor(x[s] + 0.5);
    out->cost += out->counts[s] * c->shifts[s].cost;
  }
  for (int i = 0; i < c->n_presences + c->n_works; i++)
    out->short_hands += x[b->short_col[i]];
}

/* Prices of the rows: what a hand of a group is worth in a slot, over all unions and presences it counts in. */
static void take_prices(struct pw_cover_result *out, const struct build *b, const double *dual)
{
  const struct pw_cover *c = b->cover;
  for (int g = 0; g < c->n_groups; g++)
    for (int t = 0; t < c->n_slots; t++) {
      double sum = 0;
      for (int u = 0; u < b->n_unions; u++)
        if ((b->unions[u] >> g & 1u) && b->cover_row[t * b->n_unions + u] >= 0)
          sum += dual[b->cover_row[t * b->n_unions + u]];
      out->price[g * c->n_slots + t] = sum;
    }
  int first = b->lp.n_rows - c->n_presences;
  for (int p = 0; p < c->n_presences; p++)
    out->watch[p] = fmax(0, dual[first + p]);
  for (int p = 0; p < c->n_presences; p++)
    for (int g = 0; g < c->n_groups; g++)
      if (c->presences[p].groups >> g & 1u)
        out->price[g * c->n_slots + c->presences[p].slot] += dual[first + p];
}

/* Every shift of the relaxation rounded up: dear, but it covers all that the relaxation covers, within the people there are. */
static pw_status round_up(struct build *b, double *x, const struct pw_lp_options *how, struct pw_ctx *ctx)
{
  const struct pw_cover *c = b->cover;
  struct pw_lp_result fixed;
  for (int s = 0; s < c->n_shifts; s++) /* whole from now on, the others nothing; the rest of the columns follows */
    b->lp.ub[s] = fmin(c->shifts[s].most, ceil(x[s] - 1e-6)), b->lp.lb[s] = fmin(b->lp.lb[s], b->lp.ub[s]);
  struct pw_lp_options again = *how;
  again.warm = NULL;
  pw_status st = pw_lp_solve(&fixed, &b->lp, &again, ctx);
  if (st == PW_OK && (fixed.state == PW_LP_OPTIMAL || fixed.state == PW_LP_FEASIBLE)) {
    for (int s = 0; s < c->n_shifts; s++)
      if (fabs(fixed.x[s] - floor(fixed.x[s] + 0.5)) > 1e-6)
        return PW_OK; /* only the relaxation again */
    memcpy(x, fixed.x, (size_t)b->lp.n_cols * sizeof *x);
  }
  return st;
}

/* Of the relaxation's value what is pay. */
static double pay_share(const struct build *b, const struct pw_lp_result *relaxed)
{
  double lacking = 0;
  for (int i = 0; i < b->cover->n_presences + b->cover->n_works; i++)
    lacking += relaxed->x[b->short_col[i]];
  return relaxed->value > 0 ? fmax(0, 1 - lacking * b->short_cost / relaxed->value) : 1;
}

/* No roster is disliked more: everybody at work in every slot. */
static double dislike_most(const struct pw_cover *c)
{
  double people = 0;
  bool has_any = false;
  for (int s = 0; s < c->n_shifts; s++)
    has_any = has_any || c->shifts[s].dislike > 0;
  for (int g = 0; g < c->n_groups; g++)
    people += c->groups[g].most;
  return has_any ? people * c->n_slots * PW_COVER_DISLIKE_MOST : 0;
}

pw_status pw_cover_solve(struct pw_cover_result *out, const struct pw_cover *cover,
                         const struct pw_cover_options *options, struct pw_ctx *ctx)
{
  struct build b;
  *out = (struct pw_cover_result){0};
  out->counts = pw_arena_array(ctx->arena, (size_t)cover->n_shifts + 1, sizeof *out->counts);
  out->price = pw_arena_array(ctx->arena, (size_t)cover->n_groups * (size_t)cover->n_slots + 1, sizeof *out->price);
  out->watch = pw_arena_array(ctx->arena, (size_t)cover->n_presences + 1, sizeof *out->watch);
  if (!out->counts || !out->price || !out->watch || !build_make(&b, cover, options->dump_model != NULL, ctx))
    return PW_ERR_MEMORY;
  pw_status st = options->dump_model ? pw_lp_write(&b.lp, options->dump_model, ctx) : PW_OK;
  struct pw_lp_options how = {.as_integer = true,
                              .n_iterations = options->n_iterations,
                              .gap_frac = options->gap_frac,
                              .seconds = options->seconds,
                              .cutoff = HUGE_VAL};
  struct pw_lp_result found, relaxed;
  struct pw_lp_options first = how;
  first.as_integer = false;
  if (st == PW_OK)
    st = pw_lp_solve(&relaxed, &b.lp, &first, ctx);
  if (st == PW_OK && relaxed.state == PW_LP_OPTIMAL) { /* the gap asked is one of pay, not of what is short besides */
    how.gap_frac *= pay_share(&b, &relaxed);
    how.warm = &relaxed;
  }
  if (st == PW_OK)
    st = pw_lp_solve(&found, &b.lp, &how, ctx);
  if (st != PW_OK)
    return st;
  take_prices(out, &b, found.dual);
  double bound = found.bound;
  if (found.state != PW_LP_OPTIMAL && found.state != PW_LP_FEASIBLE) { /* out of work before anything whole */
    st = round_up(&b, found.x, &how, ctx);
    if (st != PW_OK)
      return st;
  }
  take(out, &b, found.x);
  out->bound = fmin(out->cost, fmax(0, bound - b.short_cost * out->short_hands - dislike_most(cover)));
  out->gap_frac = out->cost > 0 ? (out->cost - out->bound) / out->cost : 0;
  return PW_OK;
}
