/* explain.h - what a plan's room, ovens, boxes and hands are worth, and what the last hour of each fire buys.
 *
 * Worth: dual values of the linear program of allocate_model.h on the plan's own grid, without the rows of shapes [A3d]:
 * areas, not rectangles, so a worth of nothing says that by area there is enough.  Each is told twice:
 *   fixed   the fires burn as planned, [A4] is then idle and left out; pieces may move
 *   free    the fires may change too: the relaxation at its root, where a fire may burn in part
 * Both are right for a little more only; a pair of hands is no little, so for hands the program is solved again with one more.  Where the program itself leaves pieces without a place, the worth is first counted
 * in pieces, then in money with as many pieces left out.
 * Last hour: the search of allocate_search.h run again from the plan, with no food in the pit in the burn's last hour. */
#ifndef PW_EXPLAIN_H
#define PW_EXPLAIN_H

#include "base/ctx.h"
#include "plan/allocate/allocate_model.h"
#include "pw/plan.h"

enum pw_worth_kind { PW_WORTH_RACK, PW_WORTH_OVEN, PW_WORTH_HOLD, PW_WORTH_HANDS };

/** One scarce thing.  A unit is a m2 of rack, a m2 or a pan of an oven, a pan of the hot boxes, one pair of hands. */
struct pw_worth {
  enum pw_worth_kind kind;
  int zone, n_racks,
      n_pits; /**< racks: a zone of the first of n_racks alike racks of the first of n_pits alike pits; else PW_NONE */
  int finisher; /**< ovens, else PW_NONE */
  int from_at_min,
      to_at_min; /**< first and last instant at which it counts, fires as planned (else free); equal: never */
  double fixed_cents, free_cents; /**< what one unit more, there for the whole job, would save */
  double fixed_pieces;            /**< pieces it would find a place for, by area; 0 when none lacks one */
};

/** What a fire is for. */
struct pw_burn_use {
  int lot, smoked, finished; /**< pieces in that burn */
  int from_at_min, to_at_min;
};

struct pw_burn_story {
  int burn;
  struct pw_burn_use *uses;
  int n_uses;        /**< by first load, lot */
  int late_pieces;   /**< pieces on the racks in the last hour */
  double hour_cents; /**< wood and tending of an hour of it */
  bool is_hour;      /**< false: the fire has no hour to lose after it is clean */
  double
      without_cents; /**< cost without the last hour less the plan's, both without what misses cost; below 0: no loss */
  int without_missed; /**< pieces that would find no place, beyond the plan's */
};

struct pw_explain {
  struct pw_worth *worths;
  int n_worths; /**< most valuable first, those worth nothing left out */
  struct pw_burn_story *burns;
  int n_burns;                          /**< one per burn, same order */
  double fixed_lp_cents, free_lp_cents; /**< optimum of the two programs */
  double lp_missed;                     /**< pieces without a place in the program with the fires as planned */
  bool is_merged;                       /**< zones whose times differ by a slot were taken together: a large yard */
};

/** Explains a plan made by pw_run_plan().  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER. */
pw_status pw_explain_make(struct pw_explain *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** The extract that a plan carries: uses of the fires, what their hours cost, worths with the fires as planned.  No search, two
 *  or three linear programs; none for a large yard (zones x slots x lots), whose worths stay empty.  Errors: as above. */
pw_status pw_explain_brief(struct pw_explain *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** Prices of rows: money with the misses as they must be, and pieces where some must miss. */
struct pw_prices {
  struct pw_lp_result money; /**< of a program whose misses are fixed at their least */
  double *pieces;            /**< per row, NULL when nothing must miss */
  double missed;
};

/** The model of a problem; `burns` (n of them) fixes the fires and drops [A4], NULL leaves them free.
 *  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER. */
pw_status pw_explain_prices(struct pw_prices *out, struct pw_al_model *model, const struct pw_al *al,
                            const struct pw_burn *burns, int n_burns, struct pw_ctx *ctx);

/** Worths out of the two sets of prices, sorted; hands by solving again with one more.  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER. */
pw_status pw_explain_worths(struct pw_explain *out, const struct pw_al *al, struct pw_al_model *model,
                            struct pw_al_model *free_model, const struct pw_prices *fixed,
                            const struct pw_prices *free_fires, struct pw_ctx *ctx);

#endif
