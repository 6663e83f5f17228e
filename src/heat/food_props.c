/* food_props.c - Choi and Okos component equations and mixing rules. */
#include "heat/food_props.h"

/* Coefficients of 1, t, t^2 with t in C.  ASHRAE Handbook - Refrigeration 2006 ch. 9 tables 1 and 2 (Choi and Okos 1986). */
static const struct {
  double cp_kj[3], k[3], density[3];
} parts[PW_FOOD__COUNT] = {
    [PW_FOOD_WATER] = {{4.1289, -9.0864e-5, 5.4731e-6},
                       {0.57109, 1.7625e-3, -6.7036e-6},
                       {997.18, 3.1439e-3, -3.7574e-3}},
    [PW_FOOD_PROTEIN] = {{2.0082, 1.2089e-3, -1.3129e-6}, {0.17881, 1.1958e-3, -2.7178e-6}, {1329.9, -0.51840, 0.0}},
    [PW_FOOD_FAT] = {{1.9842, 1.4733e-3, -4.8008e-6}, {0.18071, -2.7604e-4, -1.7749e-7}, {925.59, -0.41757, 0.0}},
    [PW_FOOD_CARB] = {{1.5488, 1.9625e-3, -5.9399e-6}, {0.20141, 1.3874e-3, -4.3312e-6}, {1599.1, -0.31046, 0.0}},
    [PW_FOOD_FIBRE] = {{1.8459, 1.8306e-3, -4.6509e-6}, {0.18331, 1.2497e-3, -3.1683e-6}, {1311.5, -0.36589, 0.0}},
    [PW_FOOD_ASH] = {{1.0926, 1.8896e-3, -3.6817e-6}, {0.32962, 1.4011e-3, -2.9069e-6}, {2423.8, -0.28063, 0.0}}};

static double poly(const double c[3], double t) { return c[0] + t * (c[1] + t * c[2]); }

void pw_food_part(enum pw_food_part part, double temp_c, double *out_cp, double *out_k, double *out_density)
{
  *out_cp = 1000.0 * poly(parts[part].cp_kj, temp_c);
  *out_k = poly(parts[part].k, temp_c);
  *out_density = poly(parts[part].density, temp_c);
}

struct pw_food_props pw_food_props_at(const struct pw_food *food, double temp_c)
{
  const double mass[PW_FOOD__COUNT] = {food->water_frac, food->protein_frac, food->fat_frac,
                                       food->carb_frac,  food->fibre_frac,   food->ash_frac};
  double mass_sum = 0.0, cp_sum = 0.0, volume = 0.0, k_volume = 0.0, volume_over_k = 0.0;
  for (int i = 0; i < PW_FOOD__COUNT; i++) {
    double cp, k, density;
    pw_food_part((enum pw_food_part)i, temp_c, &cp, &k, &density);
    mass_sum += mass[i];
    cp_sum += mass[i] * cp;
    volume += mass[i] / density;
    k_volume += mass[i] / density * k;
    volume_over_k += mass[i] / density / k;
  }
  struct pw_food_props p;
  p.density_kg_m3 = mass_sum / volume;
  p.cp_j_kgk = cp_sum / mass_sum;
  p.parallel_w_mk = k_volume / volume;
  p.series_w_mk = volume / volume_over_k;
  p.conductivity_w_mk = 0.5 * (p.parallel_w_mk + p.series_w_mk);
  p.diffusivity_m2_s = p.conductivity_w_mk / (p.density_kg_m3 * p.cp_j_kgk);
  return p;
}

struct pw_food pw_food_of_kind(enum pw_kind kind)
{
  /* water, protein, fat, carbohydrate, fibre, ash: USDA SR legacy, raw; NDB number in the comment */
  static const struct pw_food foods[] = {
      [PW_KIND_BEEF] = {0.6108, 0.1842, 0.1906, 0.0, 0.0, 0.0144},         /* 13803 brisket, whole */
      [PW_KIND_PORK] = {0.6918, 0.1742, 0.1236, 0.0, 0.0, 0.0104},         /* 10080 shoulder, Boston butt */
      [PW_KIND_LAMB] = {0.6108, 0.1842, 0.1906, 0.0, 0.0, 0.0144},         /* as 13803, for want of a row */
      [PW_KIND_POULTRY] = {0.6599, 0.1860, 0.1506, 0.0, 0.0, 0.0035},      /* 05006 chicken, meat and skin */
      [PW_KIND_SAUSAGE] = {0.5500, 0.1500, 0.2700, 0.0, 0.0, 0.0300},      /* from memory: smoked link sausage, about */
      [PW_KIND_FISH] = {0.7300, 0.2000, 0.0600, 0.0, 0.0, 0.0100},         /* from memory: salmon, about */
      [PW_KIND_PLANT] = {0.7500, 0.0400, 0.0200, 0.1500, 0.0300, 0.0100}}; /* from memory: baked beans, about */
  return foods[kind];
}
