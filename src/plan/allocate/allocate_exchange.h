/* allocate_exchange.h - after the search of a job that does not fit: no dish vanishes while another can give way. */
#ifndef PW_ALLOCATE_EXCHANGE_H
#define PW_ALLOCATE_EXCHANGE_H

#include "plan/allocate/allocate_state.h"

/** The state that a solution describes.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_state_of(struct pw_al_state *st, const struct pw_al *al, const struct pw_al_solution *best,
                         struct pw_ctx *ctx);

/** For each lot of which nothing is placed, those that are all some guests have first: pieces of other lots are taken off, of
 *  none the last, until one of it finds a place; what was taken is put back where it still fits.  Where that is possible with
 *  the fires as they may burn it is done, so the plan may cost more than before; else *best is left as it is.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_al_exchange(struct pw_al_solution *best, const struct pw_al *al, struct pw_ctx *ctx);

#endif
