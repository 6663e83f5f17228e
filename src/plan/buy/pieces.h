/* pieces.h - whole raw pieces per service and cut [P1][P2]; the first half of the purchase stage. */
#ifndef PW_PIECES_H
#define PW_PIECES_H

#include "plan/stages.h"

/** Fills out->raws and n_raws, by service, then cut; cuts nobody wants are left out.  Errors: PW_ERR_MEMORY. */
pw_status pw_pieces_make(struct pw_purchase *out, const struct pw_event *ev, const struct pw_demand *demand,
                         struct pw_ctx *ctx);

#endif
