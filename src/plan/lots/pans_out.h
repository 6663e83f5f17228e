/* pans_out.h - when which pans of a dish go out to the line [D4]. */
#ifndef PW_PANS_OUT_H
#define PW_PANS_OUT_H

#include "pw/plan.h"

struct pw_pans_out {
  int at_min, pans;
};

enum { PW_PANS_OUT_MAX = 32 };

/** By when a pan that went out at `at_min` without heat or ice is thrown away, whatever is left of it: FDA Food Code 2022 3-501.19(B). */
int pw_pans_discard_min(int at_min);

/** Full-size pans of a panned dish: those it is cooked in, where each piece is a pan that goes to the line as it is; else as many as its
 *  portions fill.  0: it comes in none. */
int pw_pans_of(const struct pw_event *ev, const struct pw_lots *lots, const struct pw_demand_line *line);

/** Splits the pans of a demand line over its service: in quarters of the guests, each out before they come; of what is cooked in waves
 *  no more than is ready by then, the rest as it is.  The first are out when the service begins.  Returns how many, by time; 0 for no pans. */
int pw_pans_out(struct pw_pans_out out[PW_PANS_OUT_MAX], const struct pw_event *ev, const struct pw_lots *lots,
                const struct pw_demand_line *line, int pans);

#endif
