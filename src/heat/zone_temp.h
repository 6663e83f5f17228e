/* zone_temp.h - the temperature field of a pit at rack level [T1]. */
#ifndef PW_HEAT_ZONE_TEMP_H
#define PW_HEAT_ZONE_TEMP_H

#include "pw/event.h"

/** Temperature at x_m from the hot end of a rack: the straight line from hot to cool end, the rack's offset, and what the cook's
 *  thermometers at this rack say beyond that. */
double pw_zone_temp_c(const struct pw_setting *set, const struct pw_rack *rack, int rack_index, double x_m);

/** The same in the middle of the k-th of the rack's equal stretches. */
double pw_zone_middle_c(const struct pw_setting *set, const struct pw_rack *rack, int rack_index, int k);

#endif
