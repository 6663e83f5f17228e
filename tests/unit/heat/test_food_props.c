/* Choi-Okos properties of components and of cuts. */
#include "harness.h"
#include "heat/food_props.h"

/** Components at 20 and 60 C from the published coefficients (ASHRAE Refrigeration 2006 ch. 9), calculated apart; densities at
 *  20 C are also printed as 995.74, 1319.53, 917.23, 1592.89, 2418.18. */
static const struct {
  const char *name;
  enum pw_food_part part;
  double temp_c, cp_kj, k, density;
} components[] = {
    {"water 20", PW_FOOD_WATER, 20, 4.129272, 0.603659, 995.7399},
    {"protein 20", PW_FOOD_PROTEIN, 20, 2.031853, 0.201639, 1319.532},
    {"fat 20", PW_FOOD_FAT, 20, 2.011746, 0.175118, 917.2386},
    {"ash 20", PW_FOOD_ASH, 20, 1.128919, 0.356479, 2418.1874},
    {"carbohydrate 20", PW_FOOD_CARB, 20, 1.585674, 0.227426, 1592.8908},
    {"water 60", PW_FOOD_WATER, 60, 4.143151, 0.652707, 983.842},
    {"protein 60", PW_FOOD_PROTEIN, 60, 2.076008, 0.240774, 1298.796},
    {"fat 60", PW_FOOD_FAT, 60, 2.055315, 0.163509, 900.5358},
};

START_TEST(component)
{
  double cp, k, density;
  pw_food_part(components[_i].part, components[_i].temp_c, &cp, &k, &density);
  PW_NEAR(components[_i].name, cp / 1000, components[_i].cp_kj, 1e-6, 0);
  PW_NEAR(components[_i].name, k, components[_i].k, 1e-6, 0);
  PW_NEAR(components[_i].name, density, components[_i].density, 1e-3, 0);
}
END_TEST

/** Raw cuts, composition from USDA SR by NDB number (water, protein, fat, carbohydrate, ash in percent); properties
 *  calculated apart from the same equations. */
static const struct {
  const char *name;
  double water, protein, fat, carb, ash, temp_c, density, cp_kj, k_parallel, k_series, alpha_parallel, alpha_series;
} cuts[] = {
    {"13805 brisket flat", 59.07, 17.94, 22.18, 0, 0.81, 20, 1026.33, 3.2590, 0.4404, 0.3197, 1.317, 0.956},
    {"13805 brisket flat", 59.07, 17.94, 22.18, 0, 0.81, 60, 1011.95, 3.2853, 0.4723, 0.3285, 1.421, 0.988},
    {"13803 brisket whole", 61.08, 18.42, 19.06, 0, 1.44, 20, 1034.38, 3.2961, 0.4520, 0.3320, 1.326, 0.974},
    {"13803 brisket whole", 61.08, 18.42, 19.06, 0, 1.44, 60, 1020.11, 3.3220, 0.4860, 0.3440, 1.434, 1.015},
    {"10080 pork butt", 69.18, 17.42, 12.36, 0, 1.04, 20, 1035.38, 3.4710, 0.4878, 0.3733, 1.357, 1.039},
    {"10080 pork butt", 69.18, 17.42, 12.36, 0, 1.04, 60, 1021.60, 3.4943, 0.5266, 0.3940, 1.475, 1.104},
    {"10088 spareribs", 59.75, 15.47, 23.40, 0, 1.38, 40, 1016.16, 3.2802, 0.4596, 0.3256, 1.379, 0.977},
    {"05091 chicken thigh", 66.47, 16.52, 16.61, 0.25, 0.15, 40, 1018.67, 3.4312, 0.4917, 0.3613, 1.407, 1.034},
    {"05191 turkey breast", 70.05, 21.89, 7.02, 0, 1.04, 40, 1046.68, 3.5006, 0.5209, 0.4084, 1.422, 1.115},
};

START_TEST(cut)
{
  struct pw_food f = {cuts[_i].water / 100, cuts[_i].protein / 100, cuts[_i].fat / 100, cuts[_i].carb / 100, 0,
                      cuts[_i].ash / 100};
  struct pw_food_props p = pw_food_props_at(&f, cuts[_i].temp_c);
  PW_NEAR(cuts[_i].name, p.density_kg_m3, cuts[_i].density, 0.01, 0);
  PW_NEAR(cuts[_i].name, p.cp_j_kgk / 1000, cuts[_i].cp_kj, 1e-4, 0);
  PW_NEAR(cuts[_i].name, p.parallel_w_mk, cuts[_i].k_parallel, 1e-4, 0);
  PW_NEAR(cuts[_i].name, p.series_w_mk, cuts[_i].k_series, 1e-4, 0);
  double heat = p.density_kg_m3 * p.cp_j_kgk;
  PW_NEAR(cuts[_i].name, 1e7 * p.parallel_w_mk / heat, cuts[_i].alpha_parallel, 1e-3, 0);
  PW_NEAR(cuts[_i].name, 1e7 * p.series_w_mk / heat, cuts[_i].alpha_series, 1e-3, 0);
}
END_TEST

/* engineeringtoolbox.com d_2176, measured 40 to 65 C: beef chuck, 66 % water, 1.23e-7 m2/s; round, 71 %, 1.33e-7.  The
 * parallel model lies above the measured figure, the series model below, and the mean of both within 10 %. */
START_TEST(measured_beef_lies_between)
{
  static const struct {
    double water, protein, fat, alpha;
  } beef[] = {{0.66, 0.19, 0.14, 1.23e-7}, {0.71, 0.21, 0.07, 1.33e-7}};
  for (int i = 0; i < 2; i++) {
    struct pw_food f = {beef[i].water, beef[i].protein, beef[i].fat, 0, 0, 0.01};
    struct pw_food_props p = pw_food_props_at(&f, 52);
    double heat = p.density_kg_m3 * p.cp_j_kgk;
    ck_assert(p.parallel_w_mk / heat > beef[i].alpha && p.series_w_mk / heat < beef[i].alpha);
    PW_NEAR("mean of both", p.diffusivity_m2_s, beef[i].alpha, 0, 0.10);
  }
}
END_TEST

/** Every kind has a composition that adds up and a diffusivity in the range solvers use (1.1 to 1.5e-7, common practice). */
START_TEST(kinds)
{
  struct pw_food f = pw_food_of_kind((enum pw_kind)_i);
  double sum = f.water_frac + f.protein_frac + f.fat_frac + f.carb_frac + f.fibre_frac + f.ash_frac;
  PW_NEAR("sum", sum, 1.0, 0.02, 0);
  PW_NEAR("diffusivity", pw_food_props_at(&f, 60).diffusivity_m2_s, 1.25e-7, 0.2e-7, 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("food_props");
  TCase *t = tcase_create("food_props");
  tcase_add_loop_test(t, component, 0, (int)(sizeof components / sizeof components[0]));
  tcase_add_loop_test(t, cut, 0, (int)(sizeof cuts / sizeof cuts[0]));
  tcase_add_test(t, measured_beef_lies_between);
  tcase_add_loop_test(t, kinds, 0, PW_KIND_PLANT + 1);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
