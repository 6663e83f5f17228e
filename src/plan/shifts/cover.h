/* cover.h - the shift program [S2] as data: shifts that could be worked, work that must be done, who may do it; the cheapest
 * shifts come out, with a bound.  Set covering over shifts (Dantzig 1954, a comment on Edie's traffic delays), work in windows.
 *
 * Time is counted in slots of one length; groups are people with the same duties and pay, told apart only by name afterwards.
 * Rows, for each slot t and group g:
 *   [S2a] N(g,t) = N(g,t-1) + shifts that begin - shifts that end, and their breaks
 *   [S2b] people at work or resting after it <= group.most
 *   [S2c] for every union U of the groups that pieces of work may go to: sum N(g,t), g in U >= work that only U may do
 *   [S2d] sum N(g,t), g in presence.groups >= presence.hands
 * Work that finds no hands is short at a price beyond any wage, so there is always an answer. */
#ifndef PW_COVER_H
#define PW_COVER_H

#include "base/ctx.h"

#include <stdbool.h>
#include <stdint.h>

enum { PW_COVER_GROUPS_MAX = 31 }; /**< sets of groups are bit sets */
#define PW_COVER_DISLIKE_MOST 0.01 /* cents: all of a roster's stay below a coin; common practice, no source */

/** People of one duty and pay. */
struct pw_cover_group {
  int most; /**< people there are */
  int rest; /**< slots between the end of one shift and the begin of the next of the same person */
};

/** A shift that could be worked: slots from .. to - 1 without break_from .. break_to - 1 (equal: no break). */
struct pw_cover_shift {
  int group, from, to, break_from, break_to;
  int least; /**< given already: so many are worked and cost nothing here; else 0 */
  int most;  /**< so many may work it */
  double cost;
  double dislike; /**< decides between shifts that cost the same; at most PW_COVER_DISLIKE_MOST for each of its slots */
};

/** Work of `hands` times one slot in all, somewhere in slots first .. last, at most `at_once` in each. */
struct pw_cover_work {
  uint32_t groups;
  int first, last;
  double hands, at_once;
};

/** So many hands are there, whatever else they do. */
struct pw_cover_presence {
  uint32_t groups;
  int slot, hands;
};

struct pw_cover {
  int n_slots, n_groups;
  const struct pw_cover_group *groups;
  const struct pw_cover_shift *shifts;
  int n_shifts;
  const struct pw_cover_work *works;
  int n_works;
  const struct pw_cover_presence *presences;
  int n_presences;
};

struct pw_cover_options {
  long n_iterations;      /**< of branch and bound: the deterministic limit */
  double gap_frac;        /**< good enough */
  double seconds;         /**< safety net, <= 0: none */
  const char *dump_model; /**< write the program here in LP text form, or NULL */
};

struct pw_cover_result {
  int *counts;            /**< per shift */
  double cost;            /**< of the shifts chosen, without what is short */
  double bound, gap_frac; /**< no choice that leaves as little short is cheaper; (cost - bound) / cost */
  double short_hands;     /**< slots of work that found nobody */
  double *watch;          /**< [n_presences] what one hand fewer would save there (row prices) */
  double *price;          /**< [n_groups * n_slots] what one more hand of the group in a slot would save (row prices) */
};

enum { PW_COVER_UNIONS_MAX = 256 };

/** The sets of groups that rows [S2c] are about: what some work may go to, and together where they overlap.  Returns how many. */
int pw_cover_unions(uint32_t *unions, const struct pw_cover_work *works, int n_works);

/** Everything in the arena of ctx.  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER, PW_ERR_IO (dump_model). */
pw_status pw_cover_solve(struct pw_cover_result *out, const struct pw_cover *cover,
                         const struct pw_cover_options *options, struct pw_ctx *ctx);

#endif
