/* ladder.h - at which other head counts a job is priced. */
#ifndef PW_LADDER_H
#define PW_LADDER_H

#include "base/ctx.h"
#include "pw/event.h"

enum { PW_LADDER_RUNGS = 7 };

/** Head counts around `planned` >= 1: about 50, 70, 85, 100, 115, 130, 150 % of it, rounded to what people say
 *  (multiples of 5 from 20 up, of 10 from 100, of 50 from 1000), ascending and distinct, `planned` itself among
 *  them; small parties are filled up with neighbours. */
void pw_ladder_guests(int guests[PW_LADDER_RUNGS], int planned);

enum { PW_LADDER_MAX = 24, PW_LADDER_PROBES = 10 }; /**< rungs an event may ask for; plans more for the break-even */

/** The event's head counts (its ladder block, else those above) with the planned one among them, ascending and
 *  distinct.  Errors: PW_ERR_MEMORY. */
pw_status pw_ladder_make(int **guests, int *n, const struct pw_event *ev, int planned, struct pw_ctx *ctx);

#endif
