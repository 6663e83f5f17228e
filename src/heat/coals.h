/* coals.h - what a bed of glowing coals gives to the grate above it: radiation by view factor [T1]. */
#ifndef PW_HEAT_COALS_H
#define PW_HEAT_COALS_H

#include "pw/event.h"

/** Share of what one of two equal rectangles, a x b and height_m apart, gives off that reaches the other, 0 .. 1.
 *  Source: Incropera and others, aligned parallel rectangles. */
double pw_coals_view_frac(double a_m, double b_m, double height_m);

/** What a thermometer on a bare grate reads at most, C: over a bed of the rack's size that glows all over. */
double pw_coals_grate_most_c(const struct pw_coals *coals, const struct pw_rack *rack);

#endif
