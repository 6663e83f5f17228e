/* box.c - Newton's law of cooling for an unheated box. */
#include "heat/box.h"

#include "heat/food_code.h"

#include <math.h>

/* what is left of the lead after a minute: the loss is told by the hour */
static double rate_per_min(double loss_frac_h) { return -log1p(-loss_frac_h) / 60.0; }

double pw_box_temp_c(double temp_c, double outside_c, double loss_frac_h, double minutes)
{
  if (loss_frac_h <= 0.0 || temp_c <= outside_c)
    return temp_c;
  return outside_c + (temp_c - outside_c) * exp(-rate_per_min(loss_frac_h) * minutes);
}

double pw_box_hot_min(double temp_c, double outside_c, double loss_frac_h)
{
  if (loss_frac_h <= 0.0)
    return HUGE_VAL; /* a heated box that is too cold is another rule's */
  if (temp_c < PW_FOOD_CODE_HOT_C)
    return 0.0;
  if (outside_c >= PW_FOOD_CODE_HOT_C)
    return HUGE_VAL;
  return log((temp_c - outside_c) / (PW_FOOD_CODE_HOT_C - outside_c)) / rate_per_min(loss_frac_h);
}
