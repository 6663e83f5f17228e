/* names_apart.h - two things of one name are told apart on every sheet. */
#ifndef PW_NAMES_APART_H
#define PW_NAMES_APART_H

#include "base/ctx.h"
#include "pw/event.h"

/** Pits and finishers, cuts, dishes, items, fuels, guest classes and services of one event that share a name (case aside) get their id behind it:
 *  "Small offset (left)".  Says nothing where all names differ.  Errors: PW_ERR_MEMORY. */
pw_status pw_names_apart(struct pw_event *ev, struct pw_ctx *ctx);

#endif
