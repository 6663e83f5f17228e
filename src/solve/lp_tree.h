/* lp_tree.h - a bound on a program in which some sums are known to be whole: a best-first tree on those sums.
 *
 * What is proved: every point that keeps the program's rows and limits and in which each of the given counts is a whole number
 * costs at least `bound`.  A node's bound is worked out from its row prices by weak duality (pw_lp_dual_bound) and not taken
 * from the solver; a node is left out only when prices show that it has no point at all.  The tree's bound is the lowest of
 * what is open.  No plan is looked for. */
#ifndef PW_LP_TREE_H
#define PW_LP_TREE_H

#include "solve/lp.h"

/** A count: a row of the program or a column whose value is whole in every point of interest. */
struct pw_lp_count {
  int row, col;   /**< one of them, the other < 0 */
  double weight;  /**< what branching on it is taken to bring while none of its weight has been branched on; > 0 */
  bool is_probed; /**< a few iterations tell what it brings: one place's, not the sum of many */
};

struct pw_lp_tree_options {
  const struct pw_lp_result *warm; /**< the relaxation's basis; rows added since start basic */
  double work;                     /**< to be done, counted: see pw_lp_tree_result */
  double seconds;                  /**< safety net, <= 0: none */
  double enough;                   /**< a bound as high as this ends it; HUGE_VAL: none */
  /** Adds rows to the program that hold at every point of interest and that x breaks; *n_added says how many.  Asked at the lowest
   *  node before it is branched on; it may solve programs of its own.  NULL: there are none. */
  pw_status (*cut)(void *user, struct pw_lp *lp, const double *x, int *n_added);
  void *user;
};

struct pw_lp_tree_result {
  double root;  /**< of the program as given */
  double bound; /**< proved; -HUGE_VAL when not even the root was solved */
  long n_nodes, n_iterations, n_cuts;
  double work;     /**< done: iterations times rows, and a factorisation for each node */
  bool is_whole;   /**< the lowest node has whole counts: no branching makes it better */
  bool is_by_time; /**< the safety net ended it */
};

/** Errors: PW_ERR_MEMORY, PW_ERR_SOLVER (text in ctx), PW_ERR_INTERNAL after a bad number.  The program's limits are as they
 *  were afterwards; the rows that `cut` added stay. */
pw_status pw_lp_tree(struct pw_lp_tree_result *out, struct pw_lp *lp, const struct pw_lp_count *counts, int n_counts,
                     const struct pw_lp_tree_options *options, struct pw_ctx *ctx);

#endif
