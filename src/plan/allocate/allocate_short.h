/* allocate_short.h - when pieces found no place: what was short and when. */
#ifndef PW_ALLOCATE_SHORT_H
#define PW_ALLOCATE_SHORT_H

#include "plan/allocate/allocate_search.h"

/** Fills out->shortages: for each lot with missing pieces the thing that bars most ways to cook one more.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_al_shortages(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                          struct pw_ctx *ctx);

#endif
