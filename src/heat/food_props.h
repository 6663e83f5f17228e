/* food_props.h - density, heat capacity and conductivity of unfrozen food from its composition: Choi and Okos 1986, as in
 * ASHRAE Handbook - Refrigeration 2006 ch. 9.  -40 to 150 C; no freezing is modelled, so use above 0 C. */
#ifndef PW_HEAT_FOOD_PROPS_H
#define PW_HEAT_FOOD_PROPS_H

#include "pw/event.h"

/** Mass fractions; they need not add to 1 (ash is what is missing when left 0 by pw_food_close). */
struct pw_food {
  double water_frac, protein_frac, fat_frac, carb_frac, fibre_frac, ash_frac;
};

struct pw_food_props {
  double density_kg_m3, cp_j_kgk;
  double parallel_w_mk, series_w_mk; /**< conductivity along and across layers */
  double conductivity_w_mk;          /**< what the program uses: the mean of the two, the measured meats lie between */
  double diffusivity_m2_s;           /**< conductivity / (density * cp) */
};

enum pw_food_part {
  PW_FOOD_WATER,
  PW_FOOD_PROTEIN,
  PW_FOOD_FAT,
  PW_FOOD_CARB,
  PW_FOOD_FIBRE,
  PW_FOOD_ASH,
  PW_FOOD__COUNT
};

/** Properties of a pure component: cp J/(kg K), k W/(m K), density kg/m3. */
void pw_food_part(enum pw_food_part part, double temp_c, double *out_cp, double *out_k, double *out_density);
/** Properties of the mixture. */
struct pw_food_props pw_food_props_at(const struct pw_food *food, double temp_c);
/** Typical raw composition by kind of food, USDA SR. */
struct pw_food pw_food_of_kind(enum pw_kind kind);

#endif
