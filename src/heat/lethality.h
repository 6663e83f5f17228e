/* lethality.h - log reduction of Salmonella from temperature and time, after the FSIS tables [H1]. */
#ifndef PW_HEAT_LETHALITY_H
#define PW_HEAT_LETHALITY_H

#include "pw/event.h"

/** One row of a time-temperature table: the least time at a core temperature. */
struct pw_lethality_row {
  double fahrenheit;
  double seconds; /**< 0: reached the moment the core is there */
};

/** FSIS Appendix A (1999), meat, 6.5-log and 7-log; the 2021 guideline's table 2 has the same rows.  130 to 160 F. */
extern const struct pw_lethality_row pw_lethality_meat_65[31], pw_lethality_meat_70[31];
/** FDA Food Code 2022 3-401.11(B)(1), whole meat roasts. */
extern const struct pw_lethality_row pw_lethality_roast[17];

/** Log reduction a kind of food must reach: 6.5 for meat (9 CFR 318.17), 7 for poultry (9 CFR 381.150). */
double pw_lethality_need_log(enum pw_kind kind);

/** Log reductions per minute at a core temperature.  Meat: 10 F per decade through 112 min for 6.5 log at 130 F, which
 *  meets all rows of the table.  Poultry: the 7-log times of the 2021 guideline at 12 % fat, the slower of chicken and
 *  turkey, log-linear between the rows.  0 below the tables' first rows. */
double pw_lethality_rate_log_min(enum pw_kind kind, double core_c);

#endif
