/* portions.h - portions of a menu line that are made, panned and counted out: those at its cover and the dish's own reserve. */
#ifndef PW_PORTIONS_H
#define PW_PORTIONS_H

#include "pw/plan.h"

/** Whole portions, >= portions_cover. */
int pw_portions_made(const struct pw_demand_line *line, const struct pw_dish *dish);

#endif
