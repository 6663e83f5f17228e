/* air.h - moist air: saturation, humidity ratio, wet bulb (ASHRAE Handbook - Fundamentals 2017, ch. 1), and the
 * transport properties of dry air that the convection correlations need. */
#ifndef PW_HEAT_AIR_H
#define PW_HEAT_AIR_H

/** Standard pressure at an altitude, Pa (eq. 3), -5000 to 11000 m. */
double pw_air_pressure_pa(double altitude_m);
/** Saturation pressure over ice (below 0.01 C, eq. 5) or water (eq. 6), Pa, -100 to 200 C. */
double pw_air_saturation_pa(double temp_c);
/** Where water boils at that pressure, C: its saturation pressure is the air's. */
double pw_air_boiling_c(double pressure_pa);
/** Humidity ratio, kg water / kg dry air, from relative humidity 0..1 (eq. 20). */
double pw_air_humidity_ratio(double temp_c, double relative_frac, double pressure_pa);
/** Humidity ratio of saturated air; at or above boiling a large number (1e3). */
double pw_air_saturated_ratio(double temp_c, double pressure_pa);
/** Humidity ratio from dry and wet bulb (eq. 33 above freezing, 35 below). */
double pw_air_ratio_from_wet_bulb(double temp_c, double wet_c, double pressure_pa);
/** Wet bulb from dry bulb and humidity ratio: the root of the same equation. */
double pw_air_wet_bulb_c(double temp_c, double ratio, double pressure_pa);
/** Dew point of a humidity ratio. */
double pw_air_dew_point_c(double ratio, double pressure_pa);
/** Relative humidity 0..1 of a humidity ratio at a temperature. */
double pw_air_relative_frac(double temp_c, double ratio, double pressure_pa);
/** Enthalpy, kJ/kg dry air (eq. 30), and specific volume, m3/kg dry air (eq. 26). */
double pw_air_enthalpy_kj_kg(double temp_c, double ratio);
double pw_air_volume_m3_kg(double temp_c, double ratio, double pressure_pa);
/** Partial pressure of the vapour, Pa, at a humidity ratio. */
double pw_air_vapour_pa(double ratio, double pressure_pa);

/** Dry air at one temperature and pressure. */
struct pw_air {
  double density_kg_m3, cp_j_kgk, conductivity_w_mk, viscosity_pa_s;
  double kinematic_m2_s, diffusivity_m2_s, prandtl;
};
/** -40 to 600 C.  Density of an ideal gas; Sutherland's viscosity and conductivity. */
struct pw_air pw_air_at(double temp_c, double pressure_pa);

#endif
