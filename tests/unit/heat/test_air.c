/* Moist air against the published ASHRAE 2017 table values that psychrolib's tests (MIT, tests/test_psychrolib_si.py,
 * commit 3066345) quote, and against ASHRAE Fundamentals 2017 ch. 1 example 1. */
#include "harness.h"
#include "heat/air.h"

/** ASHRAE Fundamentals 2017 ch. 1 Table 3. */
static const struct {
  double c, pa;
} saturation[] = {{-20, 103.24}, {-5, 401.74},    {5, 872.6},     {25, 3169.7},
                  {50, 12351.3}, {100, 101418.0}, {150, 476101.4}};

START_TEST(saturation_pressure) { PW_NEAR("pws", pw_air_saturation_pa(saturation[_i].c), saturation[_i].pa, 0, 3e-4); }
END_TEST

/** The same table in inch-pound units, psia. */
static const struct {
  double f, psia;
} saturation_ip[] = {{41, 0.12656}, {77, 0.45973}, {122, 1.79140}, {212, 14.7094}, {300, 67.0206}};

START_TEST(saturation_pressure_ip)
{
  PW_NEAR("pws", pw_air_saturation_pa((saturation_ip[_i].f - 32) / 1.8) / 6894.757, saturation_ip[_i].psia, 0, 3e-4);
}
END_TEST

/** ASHRAE Table 2, with the tolerances psychrolib grants. */
static const struct {
  double c, ratio, enthalpy_kj, tol;
} saturated[] = {{5, 0.005425, 18.639, 0.005},
                 {25, 0.020173, 76.504, 0.005},
                 {50, 0.086863, 275.353, 0.01},
                 {85, 0.838105, NAN, 0.02}};

START_TEST(saturated_air)
{
  double w = pw_air_saturated_ratio(saturated[_i].c, 101325);
  PW_NEAR("Ws", w, saturated[_i].ratio, 0, saturated[_i].tol);
  if (!isnan(saturated[_i].enthalpy_kj))
    PW_NEAR("h", pw_air_enthalpy_kj_kg(saturated[_i].c, w), saturated[_i].enthalpy_kj, 0, 0.01);
}
END_TEST

START_TEST(wet_bulb)
{
  PW_NEAR("W above freezing", pw_air_ratio_from_wet_bulb(30, 25, 95461), 0.0192281274, 0, 3e-4);
  PW_NEAR("W below freezing", pw_air_ratio_from_wet_bulb(-1, -5, 95461), 0.00120399820, 0, 3e-4);
  PW_NEAR("t*", pw_air_wet_bulb_c(7, pw_air_humidity_ratio(7, 0.61, 100000), 100000), 3.92667, 0, 1e-3);
  /* 86 F, 77 F, 14.175 psia (psychrolib's test in inch-pound units) */
  PW_NEAR("W inch-pound", pw_air_ratio_from_wet_bulb(30, 25, 14.175 * 6894.757), 0.0187193288, 0, 2e-3);
}
END_TEST

/* ASHRAE Fundamentals 2017 ch. 1, example 1: 40 C, wet bulb 20 C, standard pressure. */
START_TEST(ashrae_example_1)
{
  double w = pw_air_ratio_from_wet_bulb(40, 20, 101325);
  PW_NEAR("W", w, 0.0065, 1e-4, 0);
  PW_NEAR("dew point", pw_air_dew_point_c(w, 101325), 7, 0.5, 0);
  PW_NEAR("RH", pw_air_relative_frac(40, w, 101325), 0.14, 0.01, 0);
  PW_NEAR("h", pw_air_enthalpy_kj_kg(40, w), 56.7, 0.1, 0);
  PW_NEAR("v", pw_air_volume_m3_kg(40, w, 101325), 0.896, 0, 0.01);
}
END_TEST

static const struct {
  double m, pa;
} altitudes[] = {{-500, 107478}, {0, 101325}, {500, 95461}, {1000, 89875}, {4000, 61640}, {10000, 26436}};

START_TEST(standard_pressure) { PW_NEAR("p", pw_air_pressure_pa(altitudes[_i].m), altitudes[_i].pa, 1.0, 0); }
END_TEST

/** foodsafety.gov, high-altitude cooking: 198 F at 7,500 ft; 100 C at sea level, 95 C near 1,500 m (standard atmosphere tables), 93.4 C at
 *  1,905 m. */
static const struct {
  double m, c;
} boils[] = {{0, 100}, {7500 * 0.3048, (198 - 32) / 1.8}, {1500, 95}, {1905, 93.4}};

START_TEST(water_boils_early_up_there)
{
  PW_NEAR("boils", pw_air_boiling_c(pw_air_pressure_pa(boils[_i].m)), boils[_i].c, 0.35, 0);
}
END_TEST

/** Pit air: ambient heated with no water added, and richer air; wet bulb by equations 33 and 6 in another program. */
static const struct {
  double air_f, ratio, wet_c;
} pits[] = {
    {225, 0.00726, 35.44}, {250, 0.00726, 37.59}, {275, 0.00726, 39.56}, {300, 0.00726, 41.36}, {250, 0.01604, 40.63},
    {250, 0.00431, 36.46}, {225, 0.05, 48.03},    {250, 0.05, 49.32},    {275, 0.05, 50.53},    {250, 0.10, 57.50},
    {275, 0.10, 58.35},    {225, 0.20, 66.54},    {250, 0.20, 67.12},    {275, 0.20, 67.66},
};

START_TEST(wet_bulb_of_pit_air)
{
  double air_c = (pits[_i].air_f - 32) / 1.8;
  PW_NEAR("t*", pw_air_wet_bulb_c(air_c, pits[_i].ratio, 101325), pits[_i].wet_c, 0.02, 0);
}
END_TEST

START_TEST(water_boils)
{
  ck_assert(pw_air_saturated_ratio(100.5, 101325) > 100);
  ck_assert(pw_air_saturated_ratio(96, pw_air_pressure_pa(1600)) > 100);
  double w = pw_air_humidity_ratio(20, 0.5, 101325);
  PW_NEAR("vapour pressure", pw_air_vapour_pa(w, 101325), 0.5 * pw_air_saturation_pa(20), 1e-9, 1e-12);
  PW_NEAR("saturated: wet bulb is dry bulb", pw_air_wet_bulb_c(30, pw_air_saturated_ratio(30, 101325), 101325), 30,
          1e-6, 0);
}
END_TEST

/** Dry air, Incropera et al., Fundamentals of Heat and Mass Transfer, table A.4 (from memory). */
static const struct {
  double kelvin, density, cp, viscosity, conductivity, prandtl;
} dry[] = {{300, 1.1614, 1007, 184.6e-7, 26.3e-3, 0.707},
           {400, 0.8711, 1014, 230.1e-7, 33.8e-3, 0.690},
           {500, 0.6964, 1030, 270.1e-7, 40.7e-3, 0.684},
           {600, 0.5804, 1051, 305.8e-7, 46.9e-3, 0.685}};

START_TEST(transport_properties)
{
  struct pw_air a = pw_air_at(dry[_i].kelvin - 273.15, 101325);
  PW_NEAR("density", a.density_kg_m3, dry[_i].density, 0, 0.015);
  PW_NEAR("cp", a.cp_j_kgk, dry[_i].cp, 0, 0.004);
  PW_NEAR("viscosity", a.viscosity_pa_s, dry[_i].viscosity, 0, 0.015);
  PW_NEAR("conductivity", a.conductivity_w_mk, dry[_i].conductivity, 0, 0.02);
  PW_NEAR("Prandtl", a.prandtl, dry[_i].prandtl, 0, 0.02);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("air");
  TCase *t = tcase_create("air");
  tcase_add_loop_test(t, saturation_pressure, 0, (int)(sizeof saturation / sizeof saturation[0]));
  tcase_add_loop_test(t, saturation_pressure_ip, 0, (int)(sizeof saturation_ip / sizeof saturation_ip[0]));
  tcase_add_loop_test(t, saturated_air, 0, (int)(sizeof saturated / sizeof saturated[0]));
  tcase_add_test(t, wet_bulb);
  tcase_add_test(t, ashrae_example_1);
  tcase_add_loop_test(t, standard_pressure, 0, (int)(sizeof altitudes / sizeof altitudes[0]));
  tcase_add_loop_test(t, water_boils_early_up_there, 0, (int)(sizeof boils / sizeof boils[0]));
  tcase_add_loop_test(t, wet_bulb_of_pit_air, 0, (int)(sizeof pits / sizeof pits[0]));
  tcase_add_test(t, water_boils);
  tcase_add_loop_test(t, transport_properties, 0, (int)(sizeof dry / sizeof dry[0]));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
