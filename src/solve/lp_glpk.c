/* lp_glpk.c - the only file that knows GLPK: a struct pw_lp goes in, a point, a bound and prices come out.
 *
 * GLPK answers misuse and lack of memory by abort(); its error hook jumps back here instead, the
 * environment is freed, and the caller gets PW_ERR_SOLVER with GLPK's last words.  GLPK's chatter is
 * swallowed by the terminal hook. */
#include "solve/lp_live.h"

#include "base/arena.h"
#include "base/diag.h"

#include <glpk.h>
#include <limits.h>
#include <math.h>
#include <setjmp.h>
#include <stdio.h>
#include <string.h>

struct call {
  jmp_buf back;
  char words[256]; /* the last line GLPK printed */
  long n_iterations_max;
  double best_bound;
  long n_nodes;
  bool is_by_work;
};

static int swallow(void *info, const char *text)
{
  struct call *call = info;
  size_t n = strlen(text);
  if (n > 1)
    snprintf(call->words, sizeof call->words, "%.*s", (int)(n < 250 ? n - 1 : 250), text);
  return 1;
}

static void on_error(void *info)
{
  struct call *call = info;
  longjmp(call->back, 1);
}

static void on_node(glp_tree *tree, void *info)
{
  struct call *call = info;
  int node = glp_ios_best_node(tree);
  if (node)
    call->best_bound = glp_ios_node_bound(tree, node);
  int n_active, n_all, n_total;
  glp_ios_tree_size(tree, &n_active, &n_all, &n_total);
  call->n_nodes = n_total;
  if (call->n_iterations_max > 0 && glp_get_it_cnt(glp_ios_get_prob(tree)) > call->n_iterations_max) {
    call->is_by_work = true;
    glp_ios_terminate(tree);
  }
}

static int row_kind(double lo, double hi)
{
  if (isinf(lo))
    return isinf(hi) ? GLP_FR : GLP_UP;
  if (isinf(hi))
    return GLP_LO;
  return lo == hi ? GLP_FX : GLP_DB;
}

/* a name as other programs read it too: some take a slash for a division */
static const char *plain(char *out, size_t n, const char *name)
{
  if (strlen(name) >= n)
    return name; /* beyond GLPK's limit: it says so itself */
  memcpy(out, name, strlen(name) + 1);
  for (char *c = out; *c; c++)
    if (*c == '/')
      *c = '.';
  return out;
}

static void fill(glp_prob *prob, const struct pw_lp *lp, int *row, int *col, double *value)
{
  char name[256];
  glp_set_obj_dir(prob, GLP_MIN);
  if (lp->n_rows)
    glp_add_rows(prob, lp->n_rows);
  if (lp->n_cols)
    glp_add_cols(prob, lp->n_cols);
  for (int i = 0; i < lp->n_rows; i++) {
    glp_set_row_bnds(prob, i + 1, row_kind(lp->row_lo[i], lp->row_hi[i]), isinf(lp->row_lo[i]) ? 0 : lp->row_lo[i],
                     isinf(lp->row_hi[i]) ? 0 : lp->row_hi[i]);
    if (lp->row_name[i])
      glp_set_row_name(prob, i + 1, plain(name, sizeof name, lp->row_name[i]));
  }
  for (int j = 0; j < lp->n_cols; j++) {
    glp_set_col_bnds(prob, j + 1, lp->lb[j] == lp->ub[j] ? GLP_FX : GLP_DB, lp->lb[j], lp->ub[j]);
    glp_set_obj_coef(prob, j + 1, lp->cost[j]);
    if (lp->is_int[j])
      glp_set_col_kind(prob, j + 1, GLP_IV);
    if (lp->col_name[j])
      glp_set_col_name(prob, j + 1, plain(name, sizeof name, lp->col_name[j]));
  }
  for (size_t k = 0; k < lp->n_entries; k++) {
    row[k + 1] = lp->entries[k].row + 1;
    col[k + 1] = lp->entries[k].col + 1;
    value[k + 1] = lp->entries[k].value;
  }
  glp_load_matrix(prob, (int)lp->n_entries, row, col, value);
}

static void take_relaxed(struct pw_lp_result *out, glp_prob *prob, const struct pw_lp *lp, bool by_interior)
{
  for (int j = 0; j < lp->n_cols; j++)
    out->x[j] = by_interior ? glp_ipt_col_prim(prob, j + 1) : glp_get_col_prim(prob, j + 1);
  for (int i = 0; i < lp->n_rows; i++)
    out->dual[i] = by_interior ? glp_ipt_row_dual(prob, i + 1) : glp_get_row_dual(prob, i + 1);
  out->relaxed = by_interior ? glp_ipt_obj_val(prob) : glp_get_obj_val(prob);
}

static void set_basis(glp_prob *prob, const struct pw_lp *lp, const struct pw_lp_result *warm)
{
  if (!warm || !warm->row_basis) {
    glp_std_basis(prob); /* an advanced basis took three times as long on these programs */
    return;
  }
  for (int i = 0; i < lp->n_rows; i++)
    glp_set_row_stat(prob, i + 1, i < warm->n_basis_rows ? warm->row_basis[i] : GLP_BS);
  for (int j = 0; j < lp->n_cols; j++)
    glp_set_col_stat(prob, j + 1, warm->col_basis[j]);
}

static void take_basis(struct pw_lp_result *out, glp_prob *prob, const struct pw_lp *lp, struct pw_arena *arena)
{
  out->row_basis = pw_arena_array(arena, (size_t)lp->n_rows + 1, 1);
  out->col_basis = pw_arena_array(arena, (size_t)lp->n_cols + 1, 1);
  if (!out->row_basis || !out->col_basis) {
    out->row_basis = NULL; /* only a slower start is lost */
    return;
  }
  for (int i = 0; i < lp->n_rows; i++)
    out->row_basis[i] = (signed char)glp_get_row_stat(prob, i + 1);
  for (int j = 0; j < lp->n_cols; j++)
    out->col_basis[j] = (signed char)glp_get_col_stat(prob, j + 1);
  out->n_basis_rows = lp->n_rows;
}

/* the relaxation; true when it has an optimum */
static bool relax(struct pw_lp_result *out, glp_prob *prob, const struct pw_lp *lp, const struct pw_lp_options *options,
                  struct pw_arena *arena)
{
  if (options->by_interior) {
    glp_iptcp ipt;
    glp_init_iptcp(&ipt);
    ipt.msg_lev = GLP_MSG_OFF;
    ipt.ord_alg = GLP_ORD_AMD;
    if (glp_interior(prob, &ipt) == 0 && glp_ipt_status(prob) == GLP_OPT) {
      take_relaxed(out, prob, lp, true);
      return true;
    }
  }
  glp_smcp smcp;
  glp_init_smcp(&smcp);
  smcp.msg_lev = GLP_MSG_OFF;
  smcp.meth = GLP_DUALP;
  smcp.presolve = GLP_OFF;
  if (options->seconds > 0)
    smcp.tm_lim = (int)fmin(options->seconds * 1000 + 1, 1e9);
  glp_scale_prob(prob, GLP_SF_GM | GLP_SF_EQ | GLP_SF_2N);
  set_basis(prob, lp, options->warm);
  int ret = glp_simplex(prob, &smcp);
  out->is_by_time = ret == GLP_ETMLIM;
  if (glp_get_status(prob) == GLP_OPT) {
    take_relaxed(out, prob, lp, false);
    take_basis(out, prob, lp, arena);
    return true;
  }
  out->state = glp_get_status(prob) == GLP_NOFEAS ? PW_LP_INFEASIBLE : PW_LP_UNKNOWN;
  return false;
}

static void branch(struct pw_lp_result *out, glp_prob *prob, const struct pw_lp *lp,
                   const struct pw_lp_options *options, struct call *call)
{
  glp_iocp iocp;
  glp_init_iocp(&iocp);
  iocp.msg_lev = GLP_MSG_OFF;
  iocp.br_tech = GLP_BR_DTH; /* pseudo-costs found the same bounds here in about ten times the time */
  iocp.bt_tech = GLP_BT_BLB;
  iocp.mip_gap = options->gap_frac;
  iocp.cb_func = on_node;
  iocp.cb_info = call;
  if (options->seconds > 0)
    iocp.tm_lim = (int)fmin(options->seconds * 1000 + 1, 1e9);
  call->n_iterations_max = options->n_iterations > 0 ? glp_get_it_cnt(prob) + options->n_iterations : 0;
  call->best_bound = out->relaxed;
  int ret = glp_intopt(prob, &iocp);
  int status = glp_mip_status(prob);
  out->is_by_time = out->is_by_time || ret == GLP_ETMLIM;
  out->n_nodes = call->n_nodes;
  out->bound = call->best_bound;
  if (status == GLP_OPT || status == GLP_FEAS) {
    for (int j = 0; j < lp->n_cols; j++)
      out->x[j] = glp_mip_col_val(prob, j + 1);
    out->value = glp_mip_obj_val(prob);
    out->state = status == GLP_OPT && ret == 0 ? PW_LP_OPTIMAL : PW_LP_FEASIBLE;
    if (out->state == PW_LP_OPTIMAL)
      out->bound = out->value;
    if (out->bound > out->value)
      out->bound = out->value;
  } else {
    /* nothing found: with a cut-off row, an exhausted tree proves that nothing is cheaper than the cut-off */
    out->state = status == GLP_NOFEAS ? PW_LP_INFEASIBLE : PW_LP_UNKNOWN;
    if (out->state == PW_LP_INFEASIBLE)
      out->bound = options->cutoff < HUGE_VAL ? options->cutoff : out->relaxed;
  }
}

pw_status pw_lp_solve(struct pw_lp_result *out, const struct pw_lp *lp, const struct pw_lp_options *options,
                      struct pw_ctx *ctx)
{
  memset(out, 0, sizeof *out);
  out->state = PW_LP_UNKNOWN;
  out->bound = out->relaxed = -HUGE_VAL;
  if (lp->error)
    return lp->error;
  size_t n = lp->n_entries + 1 + (size_t)lp->n_cols;
  int *row = pw_arena_array(ctx->arena, n, sizeof *row), *col = pw_arena_array(ctx->arena, n, sizeof *col);
  double *value = pw_arena_array(ctx->arena, n, sizeof *value);
  struct call *call = pw_arena_alloc(ctx->arena, sizeof *call);
  out->x = pw_arena_array(ctx->arena, (size_t)lp->n_cols + 1, sizeof *out->x);
  out->dual = pw_arena_array(ctx->arena, (size_t)lp->n_rows + 1, sizeof *out->dual);
  if (!row || !col || !value || !call || !out->x || !out->dual || lp->n_entries > INT_MAX - 1)
    return PW_ERR_MEMORY;

  if (glp_init_env() > 1)
    return PW_ERR_MEMORY;
  glp_term_hook(swallow, call);
  glp_error_hook(on_error, call);
  if (setjmp(call->back)) {
    glp_free_env();
    pw_diag_add(ctx, PW_ERROR, "solver", NULL, 0, 0, "the linear-programming library gave up: %s", call->words);
    return PW_ERR_SOLVER;
  }
  glp_prob *prob = glp_create_prob();
  fill(prob, lp, row, col, value);
  if (relax(out, prob, lp, options, ctx->arena)) {
    out->value = out->relaxed;
    out->bound = out->relaxed;
    out->state = PW_LP_OPTIMAL;
    if (options->as_integer && !options->by_interior)
      branch(out, prob, lp, options, call);
  }
  out->n_iterations = glp_get_it_cnt(prob);
  glp_free_env();
  return PW_OK;
}

pw_status pw_lp_write(const struct pw_lp *lp, const char *path, struct pw_ctx *ctx)
{
  if (lp->error)
    return lp->error;
  size_t n = lp->n_entries + 1;
  int *row = pw_arena_array(ctx->arena, n, sizeof *row), *col = pw_arena_array(ctx->arena, n, sizeof *col);
  double *value = pw_arena_array(ctx->arena, n, sizeof *value);
  struct call *call = pw_arena_alloc(ctx->arena, sizeof *call);
  if (!row || !col || !value || !call || lp->n_entries > INT_MAX - 1)
    return PW_ERR_MEMORY;
  if (glp_init_env() > 1)
    return PW_ERR_MEMORY;
  glp_term_hook(swallow, call);
  glp_error_hook(on_error, call);
  if (setjmp(call->back)) {
    glp_free_env();
    pw_diag_add(ctx, PW_ERROR, "solver", NULL, 0, 0, "the linear-programming library gave up: %s", call->words);
    return PW_ERR_SOLVER;
  }
  glp_prob *prob = glp_create_prob();
  fill(prob, lp, row, col, value);
  int failed = glp_write_lp(prob, NULL, path);
  glp_free_env();
  if (failed) {
    pw_diag_add(ctx, PW_ERROR, "write", path, 0, 0, "the model could not be written: %s", call->words);
    return PW_ERR_IO;
  }
  return PW_OK;
}

/* ---- a program kept open ---------------------------------------------------------------------------------------- */

_Static_assert((int)PW_LP_BASIC == GLP_BS && (int)PW_LP_AT_LOW == GLP_NL, "a basis in the library's own numbers");

struct pw_lp_live {
  glp_prob *prob; /* NULL once closed */
  const struct pw_lp *lp;
  struct pw_ctx *ctx;
  struct call call;
  double *ray; /* [n_rows + 1] */
};

static pw_status given_up(struct pw_lp_live *live)
{
  glp_free_env();
  live->prob = NULL;
  pw_diag_add(live->ctx, PW_ERROR, "solver", NULL, 0, 0, "the linear-programming library gave up: %s",
              live->call.words);
  return PW_ERR_SOLVER;
}

pw_status pw_lp_live_open(struct pw_lp_live **out, const struct pw_lp *lp, struct pw_ctx *ctx)
{
  *out = NULL;
  if (lp->error)
    return lp->error;
  size_t n = lp->n_entries + 1 + (size_t)lp->n_cols;
  int *row = pw_arena_array(ctx->arena, n, sizeof *row), *col = pw_arena_array(ctx->arena, n, sizeof *col);
  double *value = pw_arena_array(ctx->arena, n, sizeof *value);
  struct pw_lp_live *live = pw_arena_alloc(ctx->arena, sizeof *live);
  if (!row || !col || !value || !live || lp->n_entries > INT_MAX - 1)
    return PW_ERR_MEMORY;
  memset(live, 0, sizeof *live);
  live->lp = lp;
  live->ctx = ctx;
  live->ray = pw_arena_array(ctx->arena, (size_t)lp->n_rows + 1, sizeof *live->ray);
  if (!live->ray || glp_init_env() > 1)
    return PW_ERR_MEMORY;
  glp_term_hook(swallow, &live->call);
  glp_error_hook(on_error, &live->call);
  if (setjmp(live->call.back))
    return given_up(live);
  live->prob = glp_create_prob();
  fill(live->prob, lp, row, col, value);
  glp_scale_prob(live->prob, GLP_SF_GM | GLP_SF_EQ | GLP_SF_2N);
  *out = live;
  return PW_OK;
}

void pw_lp_live_close(struct pw_lp_live *live)
{
  if (live && live->prob)
    glp_free_env();
  if (live)
    live->prob = NULL;
}

void pw_lp_live_row(struct pw_lp_live *live, int row, double lo, double hi)
{
  if (live->prob) /* within limits GLPK has no reason to give up */
    glp_set_row_bnds(live->prob, row + 1, row_kind(lo, hi), isinf(lo) ? 0 : lo, isinf(hi) ? 0 : hi);
}

void pw_lp_live_col(struct pw_lp_live *live, int col, double lb, double ub)
{
  if (live->prob)
    glp_set_col_bnds(live->prob, col + 1, lb == ub ? GLP_FX : GLP_DB, lb, ub);
}

/* The prices that show that no point keeps all rows: the row of the basis' inverse that belongs to the basic variable which
 * cannot come within its limits.  Which way they count is for the caller's check to find, so both are tried. */
static void take_ray(struct pw_lp_live *live, double *dual)
{
  int n_rows = live->lp->n_rows, k = glp_get_unbnd_ray(live->prob);
  memset(dual, 0, (size_t)n_rows * sizeof *dual);
  if (k <= 0 || !glp_bf_exists(live->prob))
    return;
  int at = k <= n_rows ? glp_get_row_bind(live->prob, k) : glp_get_col_bind(live->prob, k - n_rows);
  if (at <= 0)
    return;
  memset(live->ray, 0, ((size_t)n_rows + 1) * sizeof *live->ray);
  live->ray[at] = 1;
  glp_btran(live->prob, live->ray);
  memcpy(dual, live->ray + 1, (size_t)n_rows * sizeof *dual);
}

pw_status pw_lp_live_solve(struct pw_lp_live *live, struct pw_lp_live_result *result, long n_iterations, double seconds,
                           double enough)
{
  const struct pw_lp *lp = live->lp;
  glp_prob *prob = live->prob;
  if (!prob)
    return PW_ERR_SOLVER;
  if (setjmp(live->call.back))
    return given_up(live);
  glp_smcp smcp;
  glp_init_smcp(&smcp);
  smcp.msg_lev = GLP_MSG_OFF;
  smcp.meth = GLP_DUALP;
  smcp.it_lim = n_iterations < INT_MAX ? (int)n_iterations : INT_MAX;
  if (isfinite(enough))
    smcp.obj_ul = enough;
  if (seconds > 0)
    smcp.tm_lim = (int)fmin(seconds * 1000 + 1, 1e9);
  for (int i = 0; i < lp->n_rows; i++)
    glp_set_row_stat(prob, i + 1, result->basis[i]);
  for (int j = 0; j < lp->n_cols; j++)
    glp_set_col_stat(prob, j + 1, result->basis[lp->n_rows + j]);
  int before = glp_get_it_cnt(prob), ret = glp_simplex(prob, &smcp), status = glp_get_status(prob);
  result->n_iterations = glp_get_it_cnt(prob) - before;
  result->is_by_time = ret == GLP_ETMLIM;
  result->state = status == GLP_OPT ? PW_LP_OPTIMAL : status == GLP_NOFEAS ? PW_LP_INFEASIBLE : PW_LP_UNKNOWN;
  for (int i = 0; i < lp->n_rows; i++) {
    result->dual[i] = glp_get_row_dual(prob, i + 1);
    result->basis[i] = (signed char)glp_get_row_stat(prob, i + 1);
  }
  for (int j = 0; j < lp->n_cols; j++) {
    result->x[j] = glp_get_col_prim(prob, j + 1);
    result->basis[lp->n_rows + j] = (signed char)glp_get_col_stat(prob, j + 1);
  }
  if (result->state == PW_LP_INFEASIBLE)
    take_ray(live, result->dual);
  return PW_OK;
}
