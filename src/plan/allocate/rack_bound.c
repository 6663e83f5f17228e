/* rack_bound.c - see rack_bound.h. */
#include "plan/allocate/rack_bound.h"

#include "base/arena.h"
#include "solve/lp.h"

#include <math.h>
#include <string.h>

static const double CLOSE = 1e-6; /* sizes this near to a threshold count as on it, on the safe side */
/* From below only rounding may: sizes that count as on a multiple of 1/(k+1) although they fall short of it make room
 * for others, and k+1 such gaps must stay smaller than CLOSE, by which those others must pass their own multiple. */
static const double ROUNDING = 1e-9;
static const double FIT_SLACK = 1e-6; /* of a cell, as in rack_grid.c */

static const double EPS_LEAST = 0.01;

enum { SHARPER_U_MAX = 40, U_MAX = 6, FUNCTIONS_MAX = 20, PRODUCTS_MAX = FUNCTIONS_MAX * FUNCTIONS_MAX };

double pw_rack_bound_u(int k, double x)
{
  double m = (k + 1) * x, whole = round(m);
  if (m - whole < CLOSE && whole - m < ROUNDING)
    return fmin(x, whole / (k + 1));
  return floor(m) / k;
}

double pw_rack_bound_eps(double eps, double x)
{
  if (x > 1 - eps + CLOSE)
    return 1;
  return x < eps - CLOSE ? 0 : x;
}

/* one axis: which functions are tried.  kind 0: x itself; 1 .. U_MAX: u(k); beyond: U(eps[kind - 1 - U_MAX]) */
struct axis {
  int n;
  double eps[FUNCTIONS_MAX];
};

static double apply(const struct axis *axis, int kind, double x)
{
  if (kind == 0)
    return x;
  return kind <= U_MAX ? pw_rack_bound_u(kind, x) : pw_rack_bound_eps(axis->eps[kind - 1 - U_MAX], x);
}

static void axis_add(struct axis *axis, double eps)
{
  if (eps <= 0.02 || eps > 0.5 || axis->n == FUNCTIONS_MAX)
    return;
  int n_eps = axis->n - 1 - U_MAX;
  for (int k = 0; k < n_eps; k++)
    if (fabs(axis->eps[k] - eps) < 1e-4)
      return;
  axis->eps[n_eps] = eps;
  axis->n++;
}

double pw_rack_bound_part(double size, double rack, int n)
{
  return n > 0 ? ceil(size / rack * n - FIT_SLACK) / n : size / rack;
}

static struct axis axis_make(const struct pw_rack_piece *pieces, const double *amount, int n, double size, int n_cells)
{
  struct axis axis = {.n = 1 + U_MAX};
  for (int i = 0; i < n; i++)
    if (amount[i] > 0) {
      double length = pw_rack_bound_part(pieces[i].length, size, n_cells),
             depth = pw_rack_bound_part(pieces[i].depth, size, n_cells);
      axis_add(&axis, length);
      axis_add(&axis, depth);
      axis_add(&axis, 1 - length);
      axis_add(&axis, 1 - depth);
    }
  return axis;
}

/* a product's value for a piece lying one way; 1 when it does not fit that way, since then it never lies so */
static double product(const struct axis *x, const struct axis *y, int k, double a, double b)
{
  if (a > 1 + CLOSE || b > 1 + CLOSE)
    return 1;
  return apply(x, k % x->n, fmin(a, 1)) * apply(y, k / x->n, fmin(b, 1));
}

/* the share that given weights leave to a piece: valid for any weights >= 0 that add to at most 1 */
static double share_of(const struct axis *x, const struct axis *y, const double *weight, const struct pw_rack_piece *p,
                       const struct pw_rack_zone *zone)
{
  double one = 0, two = 0;
  for (int k = 0; k < x->n * y->n; k++)
    if (weight[k] > 0) {
      one += weight[k] * product(x, y, k, pw_rack_bound_part(p->length, zone->length, zone->n_x),
                                 pw_rack_bound_part(p->depth, zone->depth, zone->n_y));
      two += weight[k] * product(x, y, k, pw_rack_bound_part(p->depth, zone->length, zone->n_x),
                                 pw_rack_bound_part(p->length, zone->depth, zone->n_y));
    }
  return p->may_turn ? fmin(one, two) : one;
}

pw_status pw_rack_bound_shares(double *share, const struct pw_rack_piece *pieces, const double *amount, int n,
                               const struct pw_rack_zone *zone, struct pw_ctx *ctx)
{
  struct axis x = axis_make(pieces, amount, n, zone->length, zone->n_x),
              y = axis_make(pieces, amount, n, zone->depth, zone->n_y);
  int n_products = x.n * y.n;
  struct pw_lp lp;
  pw_lp_init(&lp, ctx->arena, false);
  int sum = pw_lp_row(&lp, -HUGE_VAL, 1, "sum");
  for (int k = 0; k < n_products; k++)
    pw_lp_put(&lp, sum, pw_lp_col(&lp, 0, 1, 0, false, "w(%d)", k), 1);
  for (int i = 0; i < n; i++) {
    if (amount[i] <= 0)
      continue;
    int col = pw_lp_col(&lp, 0, 1, -amount[i], false, "share(%d)", i);
    for (int turned = 0; turned <= pieces[i].may_turn; turned++) {
      double a = pw_rack_bound_part(turned ? pieces[i].depth : pieces[i].length, zone->length, zone->n_x),
             b = pw_rack_bound_part(turned ? pieces[i].length : pieces[i].depth, zone->depth, zone->n_y);
      int row = pw_lp_row(&lp, -HUGE_VAL, 0, "way(%d,%d)", i, turned);
      pw_lp_put(&lp, row, col, 1);
      for (int k = 0; k < n_products; k++)
        pw_lp_put(&lp, row, k, -product(&x, &y, k, a, b));
    }
  }
  struct pw_lp_result result;
  struct pw_lp_options options = {.cutoff = HUGE_VAL};
  pw_status status = pw_lp_solve(&result, &lp, &options, ctx);
  if (status)
    return status;
  double weight[PRODUCTS_MAX] = {0}, total = 0;
  for (int k = 0; k < n_products && result.state == PW_LP_OPTIMAL; k++) {
    weight[k] = result.x[k] > 1e-9 ? result.x[k] : 0;
    total += weight[k];
  }
  if (total <= 0) {
    weight[0] = 1; /* plain area */
    total = 1;
  }
  for (int k = 0; k < n_products; k++)
    weight[k] /= fmax(total, 1) * (1 + 1e-12);
  for (int i = 0; i < n; i++)
    share[i] = share_of(&x, &y, weight, &pieces[i], zone);
  return PW_OK;
}

static double sum_of(const double *share, const double *amount, int n)
{
  double sum = 0;
  for (int i = 0; i < n; i++)
    sum += amount[i] * share[i];
  return sum;
}

/* the area a piece takes at least, as a part of the rack's */
static double area_part(const struct pw_rack_piece *p, const struct pw_rack_zone *zone)
{
  double one =
      pw_rack_bound_part(p->length, zone->length, zone->n_x) * pw_rack_bound_part(p->depth, zone->depth, zone->n_y);
  double two =
      pw_rack_bound_part(p->depth, zone->length, zone->n_x) * pw_rack_bound_part(p->length, zone->depth, zone->n_y);
  return p->may_turn ? fmin(one, two) : one;
}

struct sharper {
  const double *from, *amount;
  double *tried, *best, most;
  int n;
};

/* u(k) for k >= 1, U(eps) for k = 0 */
static void try_function(struct sharper *s, int k, double eps)
{
  for (int i = 0; i < s->n; i++)
    s->tried[i] = k ? pw_rack_bound_u(k, s->from[i]) : pw_rack_bound_eps(eps, s->from[i]);
  double sum = sum_of(s->tried, s->amount, s->n);
  if (sum > s->most + 1e-9) {
    s->most = sum;
    memcpy(s->best, s->tried, (size_t)s->n * sizeof *s->best);
  }
}

pw_status pw_rack_bound_sharpen(double *share, const struct pw_rack_piece *pieces, const double *amount, int n,
                                const struct pw_rack_zone *zone, struct pw_ctx *ctx)
{
  double *from = pw_arena_array(ctx->arena, (size_t)n * 3 + 1, sizeof *from);
  if (!from)
    return PW_ERR_MEMORY;
  struct sharper s = {from, amount, from + n, from + n + n, sum_of(share, amount, n), n};
  memcpy(s.best, share, (size_t)n * sizeof *share);
  for (int is_area = 0; is_area < 2; is_area++) {
    for (int i = 0; i < n; i++)
      from[i] = fmin(is_area ? area_part(&pieces[i], zone) : share[i], 1);
    for (int k = 1; k <= SHARPER_U_MAX; k++)
      try_function(&s, k, 0);
    for (int i = 0; i < n; i++)
      if (amount[i] > 0) {
        if (from[i] >= EPS_LEAST && from[i] <= 0.5)
          try_function(&s, 0, from[i]);
        if (1 - from[i] >= EPS_LEAST && 1 - from[i] <= 0.5)
          try_function(&s, 0, 1 - from[i]);
      }
  }
  memcpy(share, s.best, (size_t)n * sizeof *share);
  return PW_OK;
}
