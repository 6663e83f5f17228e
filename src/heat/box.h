/* box.h - a box for hot hold that has no heat of its own cools by its own loss [H1]. */
#ifndef PW_HEAT_BOX_H
#define PW_HEAT_BOX_H

/** Its temperature after so long, C: Newton's law, loss_frac_h of its lead over the outside air goes each hour.  No loss: heated. */
double pw_box_temp_c(double temp_c, double outside_c, double loss_frac_h, double minutes);
/** Minutes it keeps food at 57 C or more (FDA Food Code 2022 3-501.16(A)(1)); HUGE_VAL without loss, or where it is as warm outside;
 *  0 when it loses and is colder from the start. */
double pw_box_hot_min(double temp_c, double outside_c, double loss_frac_h);

#endif
