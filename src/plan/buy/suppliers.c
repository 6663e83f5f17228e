/* suppliers.c - suppliers with delivery fees and least orders [P3].
 *
 * A whole pack that stays unopened may be worth something on a later job: `carry` a unit, less than any pack costs a unit.
 * A cheapest cover leaves none, for a pack that is not needed costs more than it is worth; only a least order makes room
 * for it: then it may be a better buy than money paid up for nothing.
 * For a fixed set of suppliers the needs fall apart: each takes its cheapest exact cover (packs.c) from the set.
 * Sets are tried by their lower bound max(covers, least orders) + fees until no bound beats the best plan.
 * Where a set's covers miss a least order, the set becomes a master program
 *   min  sum cost_k u_k + sum f_s    one cover per need;  sum spend_ks u_k + f_s >= minimum_s  per supplier s
 * with f_s what is paid up.  Its relaxation is solved by column generation: with row prices pi, a need's next cover
 * is its cheapest at pack prices x (1 - pi of the pack's supplier).  Then whole numbers by branch and bound: covers
 * for most needs, single packs for those the relaxation splits. */
#include "plan/buy/suppliers.h"

#include "base/arena.h"
#include "plan/buy/packs.h"
#include "solve/lp.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { ROUNDS_MAX = 40, LOOSE_MAX = 12 };

#define GAP      1e-5  /* a plan this near its bound is good enough to stop at: a cent in a thousand */
#define NONE_YET 1e300 /* cost before the first plan; finite, so that tolerances may be taken off it */

struct choice {
  const struct pw_suppliers_need *needs;
  int n_needs;
  const struct pw_suppliers_terms *terms;
  int n_suppliers;
  struct pw_ctx *ctx;
  int **packs;        /* per need: best so far */
  double cost, bound; /* bound: over the sets dealt with so far */
  bool has_carry;
};

static bool is_in(unsigned set, int supplier) { return supplier == PW_NONE || (set >> supplier & 1u); }

/* Cheapest cover of a need from a set, with pack prices scaled per supplier (NULL: as they are).  Returns the scaled
 * cost, INFINITY when the set does not sell it. */
static double cover(const struct pw_suppliers_need *need, unsigned set, const double *scale, int *packs)
{
  double content[PW_PACKS_MAX], price[PW_PACKS_MAX];
  int which[PW_PACKS_MAX], chosen[PW_PACKS_MAX], n = 0;
  for (int o = 0; o < need->n_offers; o++) {
    packs[o] = 0;
    if (!is_in(set, need->supplier[o]))
      continue;
    content[n] = need->content[o];
    price[n] = need->price[o] * (scale && need->supplier[o] != PW_NONE ? scale[need->supplier[o]] : 1);
    which[n++] = o;
  }
  if (n == 0)
    return need->amount > 0 ? INFINITY : 0;
  double cost = pw_packs_cover(content, price, n, need->amount, chosen);
  for (int i = 0; i < n; i++)
    packs[which[i]] = chosen[i];
  return cost;
}

/* Value of the packs; adds what goes to each supplier to spend (may be NULL). */
static double value_of(const struct pw_suppliers_need *need, const int *packs, double *spend)
{
  double sum = 0;
  for (int o = 0; o < need->n_offers; o++) {
    double value = packs[o] * need->price[o];
    sum += value;
    if (spend && need->supplier[o] != PW_NONE)
      spend[need->supplier[o]] += value;
  }
  return sum;
}

/* Worth of the packs that stay whole. */
static double carried(const struct pw_suppliers_need *need, const int *packs)
{
  int unopened[PW_PACKS_MAX];
  return need->carry > 0 ? need->carry * pw_packs_unopened(need->content, packs, need->n_offers, need->amount, unopened)
                         : 0;
}

static bool is_met(const struct pw_suppliers_need *need, const int *packs)
{
  double have = 0;
  for (int o = 0; o < need->n_offers; o++)
    have += packs[o] * need->content[o];
  return have >= need->amount * (1 - 1e-8);
}

/* Takes over a plan if it is cheaper: its cost with fees and top-ups of the suppliers really used. */
static void offer_plan(struct choice *c, int *const *packs)
{
  double spend[PW_SUPPLIERS_MAX] = {0}, cost = 0;
  bool is_used[PW_SUPPLIERS_MAX] = {false};
  for (int i = 0; i < c->n_needs; i++) {
    cost += value_of(&c->needs[i], packs[i], spend) - carried(&c->needs[i], packs[i]);
    for (int o = 0; o < c->needs[i].n_offers; o++)
      if (packs[i][o] > 0 && c->needs[i].supplier[o] != PW_NONE)
        is_used[c->needs[i].supplier[o]] = true;
  }
  for (int s = 0; s < c->n_suppliers; s++)
    if (is_used[s])
      cost += c->terms[s].fee + fmax(0, c->terms[s].minimum - spend[s]);
  if (cost < c->cost - 1e-9 * (1 + fabs(cost))) {
    c->cost = cost;
    for (int i = 0; i < c->n_needs; i++)
      memcpy(c->packs[i], packs[i], (size_t)c->needs[i].n_offers * sizeof(int));
  }
}

/* ---- a set whose least orders bite ------------------------------------------------------------------ */

struct column {
  int need;
  int *packs;
};

struct master {
  struct pw_lp lp;
  int row_of_supplier[PW_SUPPLIERS_MAX]; /* -1: no least order in the set */
  struct column *columns;                /* LP column n_fills + k */
  size_t cap;
  int n_columns, n_fills;
};

static pw_status column_add(struct master *m, const struct choice *c, int need, const int *packs)
{
  const struct pw_suppliers_need *n = &c->needs[need];
  int *copy = pw_arena_array(c->ctx->arena, (size_t)n->n_offers, sizeof *copy);
  if (!copy || pw_arena_grow(c->ctx->arena, &m->columns, &m->cap, (size_t)m->n_columns, sizeof *m->columns))
    return PW_ERR_MEMORY;
  memcpy(copy, packs, (size_t)n->n_offers * sizeof *copy);
  double spend[PW_SUPPLIERS_MAX] = {0};
  double value = value_of(n, packs, spend) - carried(n, packs);
  int col = pw_lp_col(&m->lp, 0, 1, value, true, "P3(%d,%d)", need, m->n_columns);
  pw_lp_put(&m->lp, need, col, 1);
  for (int s = 0; s < c->n_suppliers; s++)
    if (m->row_of_supplier[s] >= 0 && spend[s] > 0)
      pw_lp_put(&m->lp, m->row_of_supplier[s], col, spend[s]);
  m->columns[m->n_columns++] = (struct column){need, copy};
  return m->lp.error;
}

static pw_status master_start(struct master *m, const struct choice *c, unsigned set)
{
  pw_lp_init(&m->lp, c->ctx->arena, false);
  for (int i = 0; i < c->n_needs; i++)
    pw_lp_row(&m->lp, 1, 1, "P3need(%d)", i);
  for (int s = 0; s < c->n_suppliers; s++) {
    m->row_of_supplier[s] = -1;
    if (!is_in(set, s) || !(c->terms[s].minimum > 0))
      continue;
    m->row_of_supplier[s] = pw_lp_row(&m->lp, c->terms[s].minimum, INFINITY, "P3least(%d)", s);
    int fill = pw_lp_col(&m->lp, 0, c->terms[s].minimum, 1, false, "P3fill(%d)", s);
    pw_lp_put(&m->lp, m->row_of_supplier[s], fill, 1);
    m->n_fills++;
  }
  for (int i = 0; i < c->n_needs; i++) {
    int packs[PW_PACKS_MAX];
    cover(&c->needs[i], set, NULL, packs);
    pw_status status = column_add(m, c, i, packs);
    if (status)
      return status;
  }
  return m->lp.error;
}

/* One pricing round: adds every cover that would improve the relaxation.  *n_added says how many. */
static pw_status price_round(struct master *m, const struct choice *c, unsigned set, const double *dual, int *n_added)
{
  double scale[PW_SUPPLIERS_MAX];
  for (int s = 0; s < c->n_suppliers; s++)
    scale[s] = m->row_of_supplier[s] >= 0 ? fmin(1, fmax(0, 1 - dual[m->row_of_supplier[s]])) : 1;
  *n_added = 0;
  for (int i = 0; i < c->n_needs; i++) {
    int packs[PW_PACKS_MAX];
    double reduced = cover(&c->needs[i], set, scale, packs) - dual[i];
    if (reduced > -1e-7 * (1 + fabs(dual[i])))
      continue;
    pw_status status = column_add(m, c, i, packs);
    if (status)
      return status;
    ++*n_added;
  }
  return PW_OK;
}

/* Which needs the whole-number program decides pack by pack: those the relaxation splits between covers, then those
 * with most covers to choose from, the finest packs first; few enough for branch and bound. */
static pw_status loose_needs(bool **out, const struct master *m, const struct choice *c, unsigned set, const double *x)
{
  bool *is_loose = pw_arena_array(c->ctx->arena, (size_t)c->n_needs, sizeof *is_loose);
  int *n_covers = pw_arena_array(c->ctx->arena, (size_t)c->n_needs, sizeof *n_covers);
  if (!is_loose || !n_covers)
    return PW_ERR_MEMORY;
  int n = 0;
  for (int k = 0; k < m->n_columns; k++) {
    int need = m->columns[k].need;
    double share = x[m->n_fills + k];
    n_covers[need]++;
    if (!is_loose[need] && share > 1e-6 && share < 1 - 1e-6 && n < LOOSE_MAX) {
      is_loose[need] = true;
      n++;
    }
  }
  while (n < LOOSE_MAX) {
    int best = -1;
    double finest = 0;
    for (int i = 0; i < c->n_needs; i++) {
      double pack = INFINITY;
      for (int o = 0; o < c->needs[i].n_offers; o++)
        if (is_in(set, c->needs[i].supplier[o]))
          pack = fmin(pack, c->needs[i].price[o]);
      if (is_loose[i] || n_covers[i] < 2)
        continue;
      if (best < 0 || n_covers[i] > n_covers[best] || (n_covers[i] == n_covers[best] && pack < finest)) {
        best = i;
        finest = pack;
      }
    }
    if (best < 0)
      break;
    is_loose[best] = true;
    n++;
  }
  *out = is_loose;
  return PW_OK;
}

/* Packs beyond the need that keep until the next job, bought so that a least order is reached.  *out: per need and offer
 * the column, -1: none. */
static pw_status spare_cols(int ***out, struct pw_lp *lp, const struct choice *c, const int *row_of_supplier)
{
  int **spare = pw_arena_array(c->ctx->arena, (size_t)c->n_needs, sizeof *spare);
  if (!spare)
    return PW_ERR_MEMORY;
  for (int i = 0; i < c->n_needs; i++) {
    const struct pw_suppliers_need *need = &c->needs[i];
    if (!(need->carry > 0))
      continue;
    spare[i] = pw_arena_array(c->ctx->arena, (size_t)need->n_offers, sizeof **spare);
    if (!spare[i])
      return PW_ERR_MEMORY;
    for (int o = 0; o < need->n_offers; o++) {
      int s = need->supplier[o];
      spare[i][o] = -1;
      if (s == PW_NONE || row_of_supplier[s] < 0 || !(need->price[o] > 0))
        continue;
      double most = ceil(c->terms[s].minimum / need->price[o]);
      spare[i][o] =
          pw_lp_col(lp, 0, most, need->price[o] - need->carry * need->content[o], true, "P3spare(%d,%d)", i, o);
      pw_lp_put(lp, row_of_supplier[s], spare[i][o], need->price[o]);
    }
  }
  *out = spare;
  return PW_OK;
}

/* The master in whole numbers: generated covers, packs themselves for the loose needs, and packs to keep.  Offers what it
 * finds. */
static pw_status whole_solve(struct choice *c, const struct master *m, unsigned set, const bool *is_loose)
{
  struct pw_lp lp;
  int row_of_supplier[PW_SUPPLIERS_MAX];
  int **spare = NULL, **col = pw_arena_array(c->ctx->arena, (size_t)c->n_needs, sizeof *col);
  int **packs = pw_arena_array(c->ctx->arena, (size_t)c->n_needs, sizeof *packs);
  if (!col || !packs)
    return PW_ERR_MEMORY;
  pw_lp_init(&lp, c->ctx->arena, false);
  for (int i = 0; i < c->n_needs; i++)
    pw_lp_row(&lp, is_loose[i] ? c->needs[i].amount * (1 - 1e-9) : 1, is_loose[i] ? INFINITY : 1, "P3need(%d)", i);
  for (int s = 0; s < c->n_suppliers; s++) {
    row_of_supplier[s] = -1;
    if (m->row_of_supplier[s] < 0)
      continue;
    row_of_supplier[s] = pw_lp_row(&lp, c->terms[s].minimum, INFINITY, "P3least(%d)", s);
    pw_lp_put(&lp, row_of_supplier[s], pw_lp_col(&lp, 0, c->terms[s].minimum, 1, false, "P3fill(%d)", s), 1);
  }
  int first_cover = lp.n_cols;
  for (int k = 0; k < m->n_columns; k++) { /* covers of loose needs are held at zero */
    const struct column *column = &m->columns[k];
    double spend[PW_SUPPLIERS_MAX] = {0};
    double value =
        value_of(&c->needs[column->need], column->packs, spend) - carried(&c->needs[column->need], column->packs);
    int at = pw_lp_col(&lp, 0, is_loose[column->need] ? 0 : 1, value, true, "P3(%d,%d)", column->need, k);
    pw_lp_put(&lp, column->need, at, is_loose[column->need] ? 0 : 1);
    for (int s = 0; s < c->n_suppliers; s++)
      if (row_of_supplier[s] >= 0 && spend[s] > 0)
        pw_lp_put(&lp, row_of_supplier[s], at, spend[s]);
  }
  for (int i = 0; i < c->n_needs; i++) {
    const struct pw_suppliers_need *need = &c->needs[i];
    packs[i] = pw_arena_array(c->ctx->arena, (size_t)need->n_offers, sizeof **packs);
    if (!packs[i])
      return PW_ERR_MEMORY;
    if (!is_loose[i])
      continue;
    col[i] = pw_arena_array(c->ctx->arena, (size_t)need->n_offers, sizeof **col);
    if (!col[i])
      return PW_ERR_MEMORY;
    for (int o = 0; o < need->n_offers; o++) {
      double most = is_in(set, need->supplier[o]) ? ceil(need->amount / need->content[o]) : 0;
      col[i][o] = pw_lp_col(&lp, 0, most, need->price[o], true, "P3packs(%d,%d)", i, o);
      pw_lp_put(&lp, i, col[i][o], need->content[o]);
      if (need->supplier[o] != PW_NONE && row_of_supplier[need->supplier[o]] >= 0)
        pw_lp_put(&lp, row_of_supplier[need->supplier[o]], col[i][o], need->price[o]);
    }
  }
  pw_status status = spare_cols(&spare, &lp, c, row_of_supplier);
  if (status)
    return status;
  struct pw_lp_options options = {.as_integer = true, .n_iterations = 2000, .gap_frac = GAP, .cutoff = HUGE_VAL};
  struct pw_lp_result result;
  status = pw_lp_solve(&result, &lp, &options, c->ctx);
  if (status || (result.state != PW_LP_OPTIMAL && result.state != PW_LP_FEASIBLE))
    return status;
  for (int k = 0; k < m->n_columns; k++)
    if (result.x[first_cover + k] > 0.5)
      memcpy(packs[m->columns[k].need], m->columns[k].packs,
             (size_t)c->needs[m->columns[k].need].n_offers * sizeof(int));
  for (int i = 0; i < c->n_needs; i++) {
    for (int o = 0; is_loose[i] && o < c->needs[i].n_offers; o++)
      packs[i][o] = (int)floor(result.x[col[i][o]] + 0.5);
    for (int o = 0; spare[i] && o < c->needs[i].n_offers; o++)
      if (spare[i][o] >= 0)
        packs[i][o] += (int)floor(result.x[spare[i][o]] + 0.5);
    if (!is_met(&c->needs[i], packs[i]))
      return PW_OK; /* the solver's tolerance went too far: the set's plain covers stand */
  }
  offer_plan(c, packs);
  return PW_OK;
}

/* Best plan of the set by column generation; *bound is what no plan of the set goes below (goods and top-ups, without
 * the fees). */
static pw_status set_solve(struct choice *c, unsigned set, double fees, double *bound)
{
  struct master m = {.cap = 0};
  pw_status status = master_start(&m, c, set);
  struct pw_lp_options relax = {.cutoff = HUGE_VAL};
  struct pw_lp_result result;
  int n_added = 1;
  for (int round = 0; !status && n_added > 0 && round < ROUNDS_MAX; round++) {
    status = pw_lp_solve(&result, &m.lp, &relax, c->ctx);
    if (!status && result.state != PW_LP_OPTIMAL)
      return PW_OK; /* no bound beyond the set's own; its covers stand as they are */
    if (!status)
      status = price_round(&m, c, set, result.dual, &n_added);
  }
  if (status)
    return status;
  if (n_added == 0 && !c->has_carry) /* prices held at zero while pricing: no bound of the relaxation then */
    *bound = fmax(*bound, result.relaxed);
  if (*bound + fees >= c->cost * (1 - GAP))
    return PW_OK;
  bool *is_loose = NULL;
  status = loose_needs(&is_loose, &m, c, set, result.x);
  return status ? status : whole_solve(c, &m, set, is_loose);
}

/* ---- all sets ----------------------------------------------------------------------------------------- */

struct set_bound {
  unsigned set;
  double bound;
};

static int by_bound(const void *pa, const void *pb)
{
  const struct set_bound *a = pa, *b = pb;
  if (a->bound < b->bound || a->bound > b->bound)
    return a->bound < b->bound ? -1 : 1;
  return (a->set > b->set) - (a->set < b->set);
}

/* Lower bound of every set, sets that cannot meet a need left out.  A need's cover depends only on the suppliers
 * that sell it, so it is computed once per subset of these. */
static pw_status sets_make(struct set_bound **out, int *n_out, const struct choice *c)
{
  unsigned n_sets = 1u << c->n_suppliers;
  struct set_bound *sets = pw_arena_array(c->ctx->arena, n_sets, sizeof *sets);
  double *memo = pw_arena_array(c->ctx->arena, n_sets, sizeof *memo);
  if (!sets || !memo)
    return PW_ERR_MEMORY;
  for (unsigned set = 0; set < n_sets; set++)
    sets[set].set = set;
  for (int i = 0; i < c->n_needs; i++) {
    unsigned sellers = 0;
    for (int o = 0; o < c->needs[i].n_offers; o++)
      if (c->needs[i].supplier[o] != PW_NONE)
        sellers |= 1u << c->needs[i].supplier[o];
    for (unsigned set = 0; set < n_sets; set++) { /* set & sellers comes at or before set */
      int packs[PW_PACKS_MAX];
      memo[set] = (set & sellers) == set ? cover(&c->needs[i], set, NULL, packs) : memo[set & sellers];
      sets[set].bound += memo[set];
    }
  }
  int n = 0;
  for (unsigned set = 0; set < n_sets; set++) {
    double least = 0, fees = 0;
    for (int s = 0; s < c->n_suppliers; s++)
      if (is_in(set, s)) {
        least += c->terms[s].minimum;
        fees += c->terms[s].fee;
      }
    sets[set].bound = (c->has_carry ? sets[set].bound : fmax(sets[set].bound, least)) + fees;
    if (isfinite(sets[set].bound))
      sets[n++] = sets[set];
  }
  if (n > 1)
    qsort(sets, (size_t)n, sizeof *sets, by_bound);
  *out = sets;
  *n_out = n;
  return PW_OK;
}

/* Plans that use just this set: its covers as they come, then with least orders in view.  Lowers c->bound to the
 * set's bound. */
static pw_status set_try(struct choice *c, const struct set_bound *set, int **packs)
{
  double spend[PW_SUPPLIERS_MAX] = {0}, fees = 0, bound = set->bound;
  bool is_biting = false;
  for (int i = 0; i < c->n_needs; i++) {
    cover(&c->needs[i], set->set, NULL, packs[i]);
    value_of(&c->needs[i], packs[i], spend);
  }
  for (int s = 0; s < c->n_suppliers; s++) {
    if (!is_in(set->set, s))
      continue;
    fees += c->terms[s].fee;
    is_biting = is_biting || spend[s] < c->terms[s].minimum - 1e-9;
  }
  offer_plan(c, packs);
  if (is_biting) {
    bound -= fees;
    pw_status status = set_solve(c, set->set, fees, &bound);
    if (status)
      return status;
    bound += fees;
  }
  c->bound = fmin(c->bound, bound);
  return PW_OK;
}

pw_status pw_suppliers_choose(struct pw_suppliers_choice *out, const struct pw_suppliers_need *needs, int n_needs,
                              const struct pw_suppliers_terms *terms, int n_suppliers, struct pw_ctx *ctx)
{
  *out = (struct pw_suppliers_choice){0};
  struct choice c = {needs, n_needs, terms, n_suppliers, ctx, NULL, NONE_YET, INFINITY, false};
  struct pw_suppliers_choice result = {0};
  struct set_bound *sets = NULL;
  int n_sets = 0, **packs = pw_arena_array(ctx->arena, (size_t)n_needs, sizeof *packs);
  c.packs = pw_arena_array(ctx->arena, (size_t)n_needs, sizeof *c.packs);
  result.goods = pw_arena_array(ctx->arena, (size_t)n_suppliers, sizeof *result.goods);
  result.top_up = pw_arena_array(ctx->arena, (size_t)n_suppliers, sizeof *result.top_up);
  result.is_used = pw_arena_array(ctx->arena, (size_t)n_suppliers, sizeof *result.is_used);
  if (!packs || !c.packs || !result.goods || !result.top_up || !result.is_used)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n_needs; i++) {
    c.has_carry = c.has_carry || needs[i].carry > 0;
    packs[i] = pw_arena_array(ctx->arena, (size_t)needs[i].n_offers, sizeof(int));
    c.packs[i] = pw_arena_array(ctx->arena, (size_t)needs[i].n_offers, sizeof(int));
    if (!packs[i] || !c.packs[i])
      return PW_ERR_MEMORY;
  }
  pw_status status = sets_make(&sets, &n_sets, &c);
  int at = 0;
  for (; !status && at < n_sets && sets[at].bound < c.cost - 1e-9 * (1 + fabs(c.cost)); at++)
    status = set_try(&c, &sets[at], packs);
  if (status)
    return status;
  if (at < n_sets)
    c.bound = fmin(c.bound, sets[at].bound);
  result.cost = c.cost;
  result.bound = fmin(c.bound, c.cost);
  for (int i = 0; i < n_needs; i++) {
    memcpy(needs[i].packs, c.packs[i], (size_t)needs[i].n_offers * sizeof(int));
    value_of(&needs[i], needs[i].packs, result.goods);
    for (int o = 0; o < needs[i].n_offers; o++)
      if (needs[i].packs[o] > 0 && needs[i].supplier[o] != PW_NONE)
        result.is_used[needs[i].supplier[o]] = true;
  }
  for (int s = 0; s < n_suppliers; s++)
    if (result.is_used[s])
      result.top_up[s] = fmax(0, terms[s].minimum - result.goods[s]);
  *out = result;
  return PW_OK;
}
