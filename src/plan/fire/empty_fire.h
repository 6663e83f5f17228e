/* empty_fire.h - fires that burn with nothing on them, and what that costs. */
#ifndef PW_EMPTY_FIRE_H
#define PW_EMPTY_FIRE_H

#include "plan/stages.h"

enum { PW_EMPTY_LEAST_MIN = 30 }; /* shorter is a cook's breath between two loads; common practice, no source */

/** Fills fuel->empty.  PW_ERR_MEMORY. */
pw_status pw_empty_fires(struct pw_fuel_plan *fuel, const struct pw_event *ev, const struct pw_lots *lots,
                         const struct pw_allocation *allocation, const struct pw_fuel_rates *rates, struct pw_ctx *ctx);

/** One sentence: which fire, from when to when, what it costs; NULL: out of memory. */
const char *pw_empty_fire_words(const struct pw_empty_fire *empty, const struct pw_event *ev,
                                const struct pw_allocation *allocation, struct pw_ctx *ctx);

#endif
