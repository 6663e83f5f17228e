/* handling.h - how much a plan asks of the people at the doors: what the prices of `effort:` buy. */
#ifndef PW_HANDLING_H
#define PW_HANDLING_H

#include "base/ctx.h"
#include "pw/plan.h"

struct pw_handling {
  int n_openings;          /**< distinct instants at which a pit is opened to load, wrap, move or take off, all pits added */
  int *load_times;         /**< per service: distinct instants at which something of it goes on */
  int *places;             /**< per lot: distinct places (zones, ovens) its pieces smoke and finish in */
  int busiest_min;         /**< shortest time between two openings of one pit, 0 when no pit is opened twice */
};

/** Errors: PW_ERR_MEMORY. */
pw_status pw_handling_make(struct pw_handling *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
