/* allocate_uncross.h - after the search: like pieces do not change pits crosswise. */
#ifndef PW_ALLOCATE_UNCROSS_H
#define PW_ALLOCATE_UNCROSS_H

#include "plan/allocate/allocate_search.h"

/** Of pieces of one lot that are wrapped in the same slot, those that would be carried past each other stay where they are: they change places in
 *  their finish.  Done where the plan is no dearer so; else *best is left as it is.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_uncross(struct pw_al_solution *best, const struct pw_al *al, struct pw_ctx *ctx);

#endif
