/* cost_parts.h - what the allocation's cost is made of. */
#ifndef PW_COST_PARTS_H
#define PW_COST_PARTS_H

#include "base/ctx.h"
#include "pw/plan.h"

/** Prices of one burn, cents. */
struct pw_burn_price {
  double fire_per_h, tend_per_h, light;
};

/** Parts of allocation.cost_cents, cents; `missed` is what pieces without a place are charged. */
struct pw_cost_parts {
  double fire, light, oven, openings, places, hold, off_best, moves, people, missed;
  struct pw_burn_price *burns; /**< one per burn */
  bool is_whole;               /**< they add up to the cost */
};

/** Works the parts out from the loads and burns.  Errors: PW_ERR_MEMORY. */
pw_status pw_cost_parts_make(struct pw_cost_parts *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
