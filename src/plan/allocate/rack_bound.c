/* rack_bound.c - see rack_bound.h. */
#include "plan/allocate/rack_bound.h"

#include "base/arena.h"
#include "solve/lp.h"

#include <math.h>

static const double CLOSE = 1e-6; /* sizes this near to a threshold count as on it, on the safe side */
/* From below only rounding may: sizes that count as on a multiple of 1/(k+1) although they fall short of it make room
 * for others, and k+1 such gaps must stay smaller than CLOSE, by which those others must pass their own multiple. */
static const double ROUNDING = 1e-9;

enum { U_MAX = 6, FUNCTIONS_MAX = 20, PRODUCTS_MAX = FUNCTIONS_MAX * FUNCTIONS_MAX };

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

static struct axis axis_make(const struct pw_rack_piece *pieces, const double *amount, int n, double size)
{
  struct axis axis = {.n = 1 + U_MAX};
  for (int i = 0; i < n; i++)
    if (amount[i] > 0) {
      axis_add(&axis, pieces[i].length / size);
      axis_add(&axis, pieces[i].depth / size);
      axis_add(&axis, 1 - pieces[i].length / size);
      axis_add(&axis, 1 - pieces[i].depth / size);
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
                       double zone_length, double zone_depth)
{
  double one = 0, two = 0;
  for (int k = 0; k < x->n * y->n; k++)
    if (weight[k] > 0) {
      one += weight[k] * product(x, y, k, p->length / zone_length, p->depth / zone_depth);
      two += weight[k] * product(x, y, k, p->depth / zone_length, p->length / zone_depth);
    }
  return p->may_turn ? fmin(one, two) : one;
}

pw_status pw_rack_bound_shares(double *share, const struct pw_rack_piece *pieces, const double *amount, int n,
                               double zone_length, double zone_depth, struct pw_ctx *ctx)
{
  struct axis x = axis_make(pieces, amount, n, zone_length), y = axis_make(pieces, amount, n, zone_depth);
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
      double a = turned ? pieces[i].depth : pieces[i].length, b = turned ? pieces[i].length : pieces[i].depth;
      int row = pw_lp_row(&lp, -HUGE_VAL, 0, "way(%d,%d)", i, turned);
      pw_lp_put(&lp, row, col, 1);
      for (int k = 0; k < n_products; k++)
        pw_lp_put(&lp, row, k, -product(&x, &y, k, a / zone_length, b / zone_depth));
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
    share[i] = share_of(&x, &y, weight, &pieces[i], zone_length, zone_depth);
  return PW_OK;
}
