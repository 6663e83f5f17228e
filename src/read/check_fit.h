/* check_fit.h - what the menus ask of pits, ovens and days. */
#ifndef PW_READ_CHECK_FIT_H
#define PW_READ_CHECK_FIT_H

#include "read/raw.h"

/** Cuts without a place, pits that take nothing, air too hot for a smoke, more days or settings than are planned.  cut_used: reached
 *  by a menu, by index in raw.  Faults have their places. */
void pw_fit_check(const struct raw_event *raw, const bool *cut_used, struct pw_reader *r);

#endif
