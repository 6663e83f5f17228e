/* allocate_drips.h - [A10] what drips on what, in the search over whole pieces [H2]. */
#ifndef PW_ALLOCATE_DRIPS_H
#define PW_ALLOCATE_DRIPS_H

#include "plan/allocate/allocate_state.h"

/** Whether pieces of lot c by option o would drip on what lies below them, or be dripped on.  By zones, not by outlines: it may bar more
 *  than it must, never less. */
bool pw_al_is_soiled(const struct pw_al_state *st, int c, const struct pw_al_option *o);

/** The same for many options in one zone, none of which is put down meanwhile: first what lies in its pit that could matter, into
 *  st->threat; returns how many. */
int pw_al_threats(struct pw_al_state *st, int c, int zone);
bool pw_al_is_threatened(const struct pw_al_state *st, int c, const struct pw_al_option *o, int n_threats);

#endif
