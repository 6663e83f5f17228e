/* run_options.h - what other menus would cost: choices of the customer, and dishes left out to come to a price that was given. */
#ifndef PW_RUN_OPTIONS_H
#define PW_RUN_OPTIONS_H

#include "plan/stages.h"

/** Prices the choices of every menu: each planned quickly, beside the job as it stands planned as quickly.  Nothing where pieces
 *  are missing.  Errors: those of the stages. */
pw_status pw_run_options(struct pw_plan *plan, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                         struct pw_ctx *ctx);

/** Where a price was given below what the terms ask: which dishes, left out one after the other, bring the job to it; food alone is
 *  worked out again, crew and fires stay as planned.  Errors: those of demand and purchase. */
pw_status pw_run_leaves(struct pw_plan *plan, struct pw_ctx *ctx);

#endif
