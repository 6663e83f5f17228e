/* handling.h - how much a plan asks of the people at the doors: what the prices of `effort:` buy. */
#ifndef PW_HANDLING_H
#define PW_HANDLING_H

#include "base/ctx.h"
#include "pw/plan.h"

struct pw_handling {
  int n_openings;  /**< visits of plan.visits, all pits added: as often a door is opened */
  int n_priced;    /**< of those, to load, wrap, move or take off: the openings the search pays for */
  int n_soon;      /**< visits less than PW_VISIT_APART_MIN after the one before, each with a reason */
  int *load_times; /**< per service: distinct instants at which something of it goes on */
  int *places;     /**< per lot: distinct places (zones, ovens) its pieces smoke and finish in */
};

/** Errors: PW_ERR_MEMORY. */
pw_status pw_handling_make(struct pw_handling *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
