/* lp_live.h - a linear program kept open in the solver: solved again and again while limits of rows and columns change.
 * Behind it is the same library as behind lp.h (lp_glpk.c).  In one thread only one is open at a time, and nothing else is
 * solved in that thread until it is closed: the library's memory is the thread's. */
#ifndef PW_LP_LIVE_H
#define PW_LP_LIVE_H

#include "solve/lp.h"

struct pw_lp_live;

/** Opens it.  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER (text in ctx), PW_ERR_INTERNAL after a bad number. */
pw_status pw_lp_live_open(struct pw_lp_live **out, const struct pw_lp *lp, struct pw_ctx *ctx);
void pw_lp_live_close(struct pw_lp_live *live);

/** New limits, as of the next solve; row limits may be infinite. */
void pw_lp_live_row(struct pw_lp_live *live, int row, double lo, double hi);
void pw_lp_live_col(struct pw_lp_live *live, int col, double lb, double ub);

/* where a variable of a basis stands, by the library's own numbers (held by lp_glpk.c) */
enum { PW_LP_BASIC = 1, PW_LP_AT_LOW = 2 };

struct pw_lp_live_result {
  enum pw_lp_state state; /**< UNKNOWN: cut off by iterations or seconds */
  double *x;              /**< [n_cols] given by the caller; the point reached */
  double *dual;       /**< [n_rows] given by the caller; row prices, of a point cut off too; where state is INFEASIBLE
                               the prices that show it: with no costs at all they make a dual bound above 0 */
  signed char *basis; /**< [n_rows + n_cols] given by the caller: taken from, left as it was in the end */
  long n_iterations;
  bool is_by_time;
};

/** The relaxation by dual simplex from `result->basis`.  `n_iterations` at most, `seconds` <= 0: no safety net; it ends once
 *  the value is above `enough`, HUGE_VAL: never.
 *  Errors: PW_ERR_SOLVER (text in ctx); the program is closed then. */
pw_status pw_lp_live_solve(struct pw_lp_live *live, struct pw_lp_live_result *result, long n_iterations, double seconds,
                           double enough);

#endif
