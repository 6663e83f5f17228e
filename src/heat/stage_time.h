/* stage_time.h - a stage's catalog time carried to another air temperature [T1]. */
#ifndef PW_HEAT_STAGE_TIME_H
#define PW_HEAT_STAGE_TIME_H

#include "pw/event.h"

/** Minutes the stage takes in air at air_c: the catalog's reference time there, theory elsewhere.
 *  air_c must be above the stage's end temperature; HUGE_VAL otherwise. */
double pw_stage_minutes(const struct pw_cut *cut, const struct pw_stage *stage, double air_c);

#endif
