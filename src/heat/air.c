/* air.c - moist air and the transport properties of dry air.  Equation numbers: ASHRAE Handbook - Fundamentals
 * (SI) 2017, chapter 1. */
#include "heat/air.h"

#include <math.h>

#define MASS_RATIO    0.621945 /* water / dry air, ASHRAE 2017 ch. 1 eq. 20 */
#define GAS_DRY_AIR   287.042  /* J/(kg K), ASHRAE 2017 ch. 1 eq. 1 */
#define KELVIN        273.15   /* 0 C, definition */
#define RATIO_BOILING 1e3      /* stands for "as much as you like" where water boils */

double pw_air_pressure_pa(double altitude_m) { return 101325.0 * pow(1.0 - 2.25577e-5 * altitude_m, 5.2559); }

double pw_air_saturation_pa(double temp_c)
{
  double t = temp_c + KELVIN;
  if (temp_c < 0.01) /* triple point */
    return exp(-5.6745359e3 / t + 6.3925247 - 9.677843e-3 * t + 6.2215701e-7 * t * t + 2.0747825e-9 * t * t * t -
               9.484024e-13 * t * t * t * t + 4.1635019 * log(t));
  return exp(-5.8002206e3 / t + 1.3914993 - 4.8640239e-2 * t + 4.1764768e-5 * t * t - 1.4452093e-8 * t * t * t +
             6.5459673 * log(t));
}

static double ratio_of_vapour(double vapour_pa, double pressure_pa)
{
  double dry_pa = pressure_pa - vapour_pa;
  return dry_pa * RATIO_BOILING <= MASS_RATIO * vapour_pa ? RATIO_BOILING : MASS_RATIO * vapour_pa / dry_pa;
}

double pw_air_humidity_ratio(double temp_c, double relative_frac, double pressure_pa)
{
  return ratio_of_vapour(relative_frac * pw_air_saturation_pa(temp_c), pressure_pa);
}

double pw_air_saturated_ratio(double temp_c, double pressure_pa)
{
  return ratio_of_vapour(pw_air_saturation_pa(temp_c), pressure_pa);
}

double pw_air_vapour_pa(double ratio, double pressure_pa) { return pressure_pa * ratio / (MASS_RATIO + ratio); }

double pw_air_relative_frac(double temp_c, double ratio, double pressure_pa)
{
  return pw_air_vapour_pa(ratio, pressure_pa) / pw_air_saturation_pa(temp_c);
}

double pw_air_ratio_from_wet_bulb(double temp_c, double wet_c, double pressure_pa)
{
  double ws = pw_air_saturated_ratio(wet_c, pressure_pa);
  if (wet_c >= 0.0)
    return ((2501.0 - 2.326 * wet_c) * ws - 1.006 * (temp_c - wet_c)) / (2501.0 + 1.86 * temp_c - 4.186 * wet_c);
  return ((2830.0 - 0.24 * wet_c) * ws - 1.006 * (temp_c - wet_c)) / (2830.0 + 1.86 * temp_c - 2.1 * wet_c);
}

double pw_air_wet_bulb_c(double temp_c, double ratio, double pressure_pa)
{
  double lo = pw_air_dew_point_c(ratio, pressure_pa), hi = temp_c;
  if (lo >= hi)
    return hi;
  for (int i = 0; i < 60; i++) {
    double mid = 0.5 * (lo + hi);
    if (pw_air_ratio_from_wet_bulb(temp_c, mid, pressure_pa) > ratio)
      hi = mid;
    else
      lo = mid;
  }
  return 0.5 * (lo + hi);
}

/* The temperature of a saturation pressure. */
static double saturated_at_c(double vapour_pa)
{
  double lo = -100.0, hi = 200.0;
  for (int i = 0; i < 60; i++) {
    double mid = 0.5 * (lo + hi);
    if (pw_air_saturation_pa(mid) > vapour_pa)
      hi = mid;
    else
      lo = mid;
  }
  return 0.5 * (lo + hi);
}

double pw_air_dew_point_c(double ratio, double pressure_pa)
{
  return saturated_at_c(pw_air_vapour_pa(ratio, pressure_pa));
}

double pw_air_boiling_c(double pressure_pa) { return saturated_at_c(pressure_pa); }

double pw_air_enthalpy_kj_kg(double temp_c, double ratio) { return 1.006 * temp_c + ratio * (2501.0 + 1.86 * temp_c); }

double pw_air_volume_m3_kg(double temp_c, double ratio, double pressure_pa)
{
  return GAS_DRY_AIR * (temp_c + KELVIN) * (1.0 + 1.607858 * ratio) / pressure_pa;
}

struct pw_air pw_air_at(double temp_c, double pressure_pa)
{
  double t = temp_c + KELVIN;
  struct pw_air a;
  a.density_kg_m3 = pressure_pa / (GAS_DRY_AIR * t);
  /* parabola through 1007 J/(kg K) at 300 K and 1051 at 600 K of Incropera et al., table A.4 */
  a.cp_j_kgk = 1005.3 + 4.3e-4 * temp_c * temp_c;
  /* Sutherland's law with the constants of White, Viscous Fluid Flow (3rd ed., 2006), tables 1-2 and 1-3 */
  a.viscosity_pa_s = 1.716e-5 * pow(t / 273.0, 1.5) * (273.0 + 111.0) / (t + 111.0);
  a.conductivity_w_mk = 0.0241 * pow(t / 273.0, 1.5) * (273.0 + 194.0) / (t + 194.0);
  a.kinematic_m2_s = a.viscosity_pa_s / a.density_kg_m3;
  a.diffusivity_m2_s = a.conductivity_w_mk / (a.density_kg_m3 * a.cp_j_kgk);
  a.prandtl = a.kinematic_m2_s / a.diffusivity_m2_s;
  return a;
}
