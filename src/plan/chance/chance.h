/* chance.h - the chance that each service is ready on time [R1]: one cook of the day is one draw of every stage's length.
 * A pure function of plan, spreads, rules and seed: the same input, the same bytes. */
#ifndef PW_CHANCE_H
#define PW_CHANCE_H

#include "base/ctx.h"
#include "plan/chance/draws.h"
#include "pw/plan.h"

/** What the draws say of one piece of a lot: told to whoever sets margins. */
enum pw_blame_kind {
  PW_BLAME_OWN,  /**< the piece itself took longer than its margin */
  PW_BLAME_SPOT, /**< a piece of this lot was still where another should have gone */
  PW_BLAME__COUNT
};

/** Where the draws that a lot's kind made a service late in are counted: an index of pw_chance.blames. */
size_t pw_blame_at(int n_lots, int service, int lot, enum pw_blame_kind kind);

/** Shares of a stage's variance that all pieces of a lot, all food of a pit and day, and each piece have in common; add up to 1.
 *  Common practice, no source, until a cook's log says better. */
struct pw_spread_shares {
  double lot_frac, pit_day_frac, piece_frac;
};
struct pw_spread_shares pw_spread_shares(void);

enum { PW_CHANCE_DRAWS = 2000 }; /**< of a chance that is told: a standard error of half a per cent at 95 */

struct pw_chance_options {
  int n_draws;
  unsigned seed;
  struct pw_spread_shares shares;
  bool is_strict;             /**< only what is asked of a plan: what is told beside stays 0 */
  struct pw_kept_draws *kept; /**< of the plans drawn before with this seed, or NULL: saves time, changes nothing */
  const double
      *least_frac; /**< per service, or NULL: as soon as one cannot reach its own any more, the rest is not drawn and
                                   its on_time_frac is the most it could still have been */
  bool has_now;    /**< a mended plan: what was before now_min is drawn no more, what is under way has its rest drawn */
  int now_min;
  const int
      *late_min; /**< of a mended plan, per lot: what goes into the ice later than planned makes no meal late; NULL */
};

/** Draws the day n_draws times.  out->services has one entry a service; blames [pw_blame_at()] count
 *  the draws in which the service is late, by their first cause.  All in the context's arena.  Errors: PW_ERR_MEMORY. */
pw_status pw_chance_make(struct pw_chance *out, const struct pw_event *ev, const struct pw_lots *lots,
                         const struct pw_allocation *allocation, const struct pw_chance_options *options,
                         struct pw_ctx *ctx);

/** Food that is unsafe, told apart from food that is late: fills slow_core_* of chance->services by as many draws as it has, fires that
 *  are lost among them.  heat: one entry a lot (plan/safety/safety.c).  A lot whose core is too slow by the plan itself is warned of
 *  there and not counted.  Does nothing where no chance is told.  Errors: PW_ERR_MEMORY. */
pw_status pw_chance_cores(struct pw_chance *chance, const struct pw_event *ev, const struct pw_lots *lots,
                          const struct pw_allocation *allocation, const struct pw_lot_heat *heat,
                          const struct pw_chance_options *options, struct pw_ctx *ctx);

enum {
  PW_SLACK_STEP_MIN = 5,   /**< slack is told in steps of this */
  PW_SLACK_MOST_MIN = 180, /**< and no longer: more is no slack but another plan */
  PW_SLACK_DRAWS = 500
};

/** How much later each load may begin, and its pieces leave the heat, all else as planned, for at most SLACK_SHARE of the cooks more
 *  to be late and none of what then takes as long as planned: *begin_min and *end_min, one entry a load, 0 where there is none.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_chance_slack(int **begin_min, int **end_min, const struct pw_event *ev, const struct pw_lots *lots,
                          const struct pw_allocation *allocation, const struct pw_chance_options *options,
                          struct pw_ctx *ctx);

#endif
