/* lp.h - a mixed-integer linear program as data: minimise c x, rows lo <= a x <= hi, columns lb <= x <= ub.
 * The only way in for numbers: each one is checked to be finite and of sane size (row limits may be
 * infinite).  A bad number or lack of memory is remembered and reported by the next solve or write. */
#ifndef PW_LP_H
#define PW_LP_H

#include "base/ctx.h"

#include <stdbool.h>

struct pw_arena;

struct pw_lp_entry {
  int row, col;
  double value;
};

struct pw_lp {
  struct pw_arena *arena;
  bool has_names; /**< keep names (only needed when the model is written) */
  int n_cols, n_rows;
  size_t n_entries;
  double *lb, *ub, *cost;
  unsigned char *is_int;
  double *row_lo, *row_hi;
  const char **col_name, **row_name;
  struct pw_lp_entry *entries;
  size_t cap_cols[5], cap_rows[3], cap_entries;
  pw_status error; /**< first trouble while filling, PW_OK while there is none */
};

void pw_lp_init(struct pw_lp *lp, struct pw_arena *arena, bool has_names);
/** Adds a column / row; the name is printf-like, ASCII, with the label first: "A3(long-pit/main/1,14)".
 *  Returns its index (0-based), or -1 after an error. */
int pw_lp_col(struct pw_lp *lp, double lb, double ub, double cost, bool is_int, const char *name, ...)
    __attribute__((format(printf, 6, 7)));
int pw_lp_row(struct pw_lp *lp, double lo, double hi, const char *name, ...) __attribute__((format(printf, 4, 5)));
/** Adds value at (row, col); entries of one place must not repeat. */
void pw_lp_put(struct pw_lp *lp, int row, int col, double value);

enum pw_lp_state { PW_LP_OPTIMAL, PW_LP_FEASIBLE, PW_LP_INFEASIBLE, PW_LP_UNKNOWN };

struct pw_lp_options {
  bool as_integer;   /**< branch and bound after the relaxation; else the relaxation alone */
  bool by_interior;  /**< relaxation by interior point (large models) */
  long n_iterations; /**< simplex iterations allowed in branch and bound, the deterministic limit; 0: none */
  double gap_frac;   /**< stop branch and bound at this relative gap */
  double seconds;    /**< safety net, <= 0: none */
  const struct pw_lp_result *warm; /**< start from this basis, or NULL */
  double cutoff;                   /**< nothing dearer than this is of interest; HUGE_VAL: none */
};

struct pw_lp_result {
  enum pw_lp_state state;
  double value;                       /**< of the best point found */
  double bound;                       /**< proved: no point is cheaper */
  double relaxed;                     /**< value of the relaxation */
  double *x;                          /**< best point, or the relaxation's where no integer point was found */
  double *dual;                       /**< of the relaxation, per row */
  signed char *row_basis, *col_basis; /**< the relaxation's basis, for a warm start; NULL without one */
  int n_basis_rows;                   /**< rows when it was taken; later rows start basic */
  bool is_by_time;                    /**< the safety net stopped it */
  long n_iterations, n_nodes;
};

/** Solves it.  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER (text in ctx), PW_ERR_INTERNAL after a bad number. */
pw_status pw_lp_solve(struct pw_lp_result *out, const struct pw_lp *lp, const struct pw_lp_options *options,
                      struct pw_ctx *ctx);

/** Writes LP text form, as GLPK reads it.  Errors: PW_ERR_IO, PW_ERR_MEMORY. */
pw_status pw_lp_write(const struct pw_lp *lp, const char *path, struct pw_ctx *ctx);

/** Takes out the rows with is_out[row]; those left move up, and to[row] says where (-1: gone; room for n_rows).  The basis of
 *  `result`, a solution before, moves with them and stays one if the rows taken out were basic in it; its prices are no longer the
 *  rows'.  What is left is a relaxation of what was. */
void pw_lp_take_rows(struct pw_lp *lp, const unsigned char *is_out, int *to, struct pw_lp_result *result);

/** A bound that needs no trust in the solver: for any row prices y it is sum of y b plus each column at its
 *  cheaper end of [lb, ub] (weak duality).  Rows priced against their open side count as zero. */
double pw_lp_dual_bound(const struct pw_lp *lp, const double *dual);

#endif
