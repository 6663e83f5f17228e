/* salt.h - is a cut salted beyond the cook's limit? */
#ifndef PW_SALT_H
#define PW_SALT_H

#include "base/ctx.h"
#include "pw/plan.h"

/** Salt on a cut as a share of its raw weight: what it uses per raw kilogram and per piece, by the salt known to be in
 *  each item.  0 where nothing is known. */
double pw_salt_frac(const struct pw_event *ev, int cut);

/** Warns ("salty") of every cut on the purchase that gets more than its salt_most_frac, once each. */
void pw_salt_check(const struct pw_event *ev, const struct pw_purchase *purchase, struct pw_ctx *ctx);

#endif
