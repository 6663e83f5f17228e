/* allocate_result.h - the search's pieces as loads with clock times, burns, and what is missing. */
#ifndef PW_ALLOCATE_RESULT_H
#define PW_ALLOCATE_RESULT_H

#include "plan/allocate/allocate_search.h"

/** Writes loads, burns, missed and shortages of `out`.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_result(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                       struct pw_ctx *ctx);

#endif
