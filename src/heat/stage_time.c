/* stage_time.c - time = reference time x Fo(theta at air_c) / Fo(theta at the reference) [T1], Fo from the full
 * series for the cut's shape, so that the catalog's own point is met exactly. */
#include "heat/stage_time.h"

#include "heat/conduct.h"
#include "heat/shell.h"

#include <math.h>

#define FOOD_HEAT_J_M3K 3.5e6   /* density x heat capacity of raw meat: Choi and Okos 1986 for USDA SR 13803, 10080 */
#define SURFACE_H_W_M2K 8.0     /* natural convection at food in an oven, within 18 of Incropera-type roast examples */
#define SURFACE_EMISSIVITY 0.9  /* wet or dark food surface, common textbook value */

static double minutes_fo(const struct pw_cut *cut, const struct pw_stage *stage, double air_c)
{
  double theta = (air_c - stage->to_c) / (air_c - stage->from_c);
  if (!(theta > 0.0))
    return HUGE_VAL;
  double mean_c = 0.5 * (stage->from_c + stage->to_c);
  double h = SURFACE_H_W_M2K + pw_shell_radiation_w_m2(SURFACE_EMISSIVITY, air_c, mean_c) / (air_c - mean_c);
  struct pw_conduct c;
  pw_conduct_make(&c, cut->shape, h * cut->half_m / (cut->diffusivity_m2_s * FOOD_HEAT_J_M3K));
  return pw_conduct_fo(&c, theta);
}

double pw_stage_minutes(const struct pw_cut *cut, const struct pw_stage *stage, double air_c)
{
  double at_ref = minutes_fo(cut, stage, stage->ref_c);
  if (!isfinite(at_ref) || at_ref <= 0.0)
    return HUGE_VAL;
  return stage->ref_min * minutes_fo(cut, stage, air_c) / at_ref;
}
