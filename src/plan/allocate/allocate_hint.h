/* allocate_hint.h - a plan kept so that the same event with another head count may begin with it. */
#ifndef PW_ALLOCATE_HINT_H
#define PW_ALLOCATE_HINT_H

#include "plan/allocate/allocate_search.h"

/** Keeps where each piece is.  Owned by the context's arena.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_hint_make(const struct pw_al_hint **out, const struct pw_al *al, const struct pw_al_solution *solution,
                          struct pw_ctx *ctx);

/** The pieces and settings of `hint` for another problem: lots are matched by id, their first pieces lie where those of the hint
 *  do, the others wait.  out->pieces is NULL where there is no hint or the problems have different pits, days or slots.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_al_hint_read(struct pw_al_solution *out, const struct pw_al_hint *hint, const struct pw_al *al,
                          struct pw_ctx *ctx);

#endif
