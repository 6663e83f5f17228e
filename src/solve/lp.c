/* lp.c - filling a linear program, and a bound by weak duality. */
#include "solve/lp.h"

#include "base/arena.h"

#include <math.h>
#include <stdarg.h>
#include <string.h>

/* Coefficients beyond this are a modelling fault, not a number of the trade. */
static const double SIZE_MAX_ABS = 1e12;

void pw_lp_init(struct pw_lp *lp, struct pw_arena *arena, bool has_names)
{
  memset(lp, 0, sizeof *lp);
  lp->arena = arena;
  lp->has_names = has_names;
}

static bool is_sane(double v) { return isfinite(v) && fabs(v) <= SIZE_MAX_ABS; }

static void fail(struct pw_lp *lp, pw_status status)
{
  if (!lp->error)
    lp->error = status;
}

static bool grow(struct pw_lp *lp, void *items, size_t *cap, int n, size_t size)
{
  if (pw_arena_grow(lp->arena, items, cap, (size_t)n, size)) {
    fail(lp, PW_ERR_MEMORY);
    return false;
  }
  return true;
}

int pw_lp_col(struct pw_lp *lp, double lb, double ub, double cost, bool is_int, const char *name, ...)
{
  if (!is_sane(lb) || !is_sane(ub) || !is_sane(cost) || lb > ub)
    fail(lp, PW_ERR_INTERNAL);
  int n = lp->n_cols;
  if (lp->error || !grow(lp, &lp->lb, &lp->cap_cols[0], n, sizeof *lp->lb) ||
      !grow(lp, &lp->ub, &lp->cap_cols[1], n, sizeof *lp->ub) ||
      !grow(lp, &lp->cost, &lp->cap_cols[2], n, sizeof *lp->cost) ||
      !grow(lp, &lp->is_int, &lp->cap_cols[3], n, sizeof *lp->is_int) ||
      !grow(lp, &lp->col_name, &lp->cap_cols[4], n, sizeof *lp->col_name))
    return -1;
  lp->lb[n] = lb;
  lp->ub[n] = ub;
  lp->cost[n] = cost;
  lp->is_int[n] = is_int;
  lp->col_name[n] = NULL;
  if (lp->has_names) {
    va_list args;
    va_start(args, name);
    if (!(lp->col_name[n] = pw_arena_vprintf(lp->arena, name, args)))
      fail(lp, PW_ERR_MEMORY);
    va_end(args);
  }
  return lp->n_cols++;
}

int pw_lp_row(struct pw_lp *lp, double lo, double hi, const char *name, ...)
{
  bool ok_lo = is_sane(lo) || (isinf(lo) && lo < 0), ok_hi = is_sane(hi) || (isinf(hi) && hi > 0);
  if (!ok_lo || !ok_hi || lo > hi)
    fail(lp, PW_ERR_INTERNAL);
  int n = lp->n_rows;
  if (lp->error || !grow(lp, &lp->row_lo, &lp->cap_rows[0], n, sizeof *lp->row_lo) ||
      !grow(lp, &lp->row_hi, &lp->cap_rows[1], n, sizeof *lp->row_hi) ||
      !grow(lp, &lp->row_name, &lp->cap_rows[2], n, sizeof *lp->row_name))
    return -1;
  lp->row_lo[n] = lo;
  lp->row_hi[n] = hi;
  lp->row_name[n] = NULL;
  if (lp->has_names) {
    va_list args;
    va_start(args, name);
    if (!(lp->row_name[n] = pw_arena_vprintf(lp->arena, name, args)))
      fail(lp, PW_ERR_MEMORY);
    va_end(args);
  }
  return lp->n_rows++;
}

void pw_lp_put(struct pw_lp *lp, int row, int col, double value)
{
  if (!is_sane(value) || row < 0 || col < 0 || row >= lp->n_rows || col >= lp->n_cols)
    fail(lp, PW_ERR_INTERNAL);
  if (lp->error || value == 0)
    return;
  if (pw_arena_grow(lp->arena, &lp->entries, &lp->cap_entries, lp->n_entries, sizeof *lp->entries)) {
    fail(lp, PW_ERR_MEMORY);
    return;
  }
  lp->entries[lp->n_entries++] = (struct pw_lp_entry){row, col, value};
}

void pw_lp_take_rows(struct pw_lp *lp, const unsigned char *is_out, int *to, struct pw_lp_result *result)
{
  int n = 0, n_basis = 0;
  for (int i = 0; i < lp->n_rows; i++) {
    to[i] = is_out[i] ? -1 : n;
    if (is_out[i])
      continue;
    lp->row_lo[n] = lp->row_lo[i];
    lp->row_hi[n] = lp->row_hi[i];
    lp->row_name[n] = lp->row_name[i];
    if (result->row_basis && i < result->n_basis_rows)
      result->row_basis[n_basis++] = result->row_basis[i];
    n++;
  }
  result->n_basis_rows = n_basis;
  lp->n_rows = n;
  size_t n_entries = 0;
  for (size_t e = 0; e < lp->n_entries; e++)
    if (to[lp->entries[e].row] >= 0) {
      lp->entries[n_entries] = lp->entries[e];
      lp->entries[n_entries++].row = to[lp->entries[e].row];
    }
  lp->n_entries = n_entries;
}

double pw_lp_dual_bound(const struct pw_lp *lp, const double *dual)
{
  double *reduced = pw_arena_array(lp->arena, (size_t)lp->n_cols + 1, sizeof *reduced);
  double *y = pw_arena_array(lp->arena, (size_t)lp->n_rows + 1, sizeof *y);
  if (!reduced || !y)
    return -HUGE_VAL;
  double bound = 0;
  for (int i = 0; i < lp->n_rows; i++) {
    y[i] = isfinite(dual[i]) ? dual[i] : 0;
    /* min c x: a row pushes up from its low side (y > 0) or down from its high side (y < 0) */
    if ((y[i] > 0 && isinf(lp->row_lo[i])) || (y[i] < 0 && isinf(lp->row_hi[i])))
      y[i] = 0;
    if (y[i] != 0)
      bound += y[i] * (y[i] > 0 ? lp->row_lo[i] : lp->row_hi[i]);
  }
  memcpy(reduced, lp->cost, (size_t)lp->n_cols * sizeof *reduced);
  for (size_t k = 0; k < lp->n_entries; k++)
    reduced[lp->entries[k].col] -= y[lp->entries[k].row] * lp->entries[k].value;
  for (int j = 0; j < lp->n_cols; j++)
    bound += reduced[j] * (reduced[j] > 0 ? lp->lb[j] : lp->ub[j]);
  return bound;
}
