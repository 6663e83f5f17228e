/* combust.c - heat of wood by moisture, air for burning, heat in the exhaust [F1]. */
#include "heat/combust.h"

#define LATENT_25C_MJ_KG 2.442          /* water at 25 C, steam tables (ASHRAE Fundamentals 2017 ch. 1) */
#define AIR_CP_KJ_KGK    1.006          /* dry air, ASHRAE Fundamentals 2017 ch. 1 eq. 28 */
#define VAPOUR_CP_KJ_KGK 1.86           /* water vapour, ASHRAE Fundamentals 2017 ch. 1 eq. 29 */
#define CORD_M3          3.624556363776 /* 128 cubic feet, exact */

double pw_combust_dry_frac(double moisture_wet_frac) { return moisture_wet_frac / (1.0 - moisture_wet_frac); }
double pw_combust_wet_frac(double moisture_dry_frac) { return moisture_dry_frac / (1.0 + moisture_dry_frac); }

double pw_combust_net_mj_kg(double gross_mj_kg, double hydrogen_frac, double moisture_wet_frac)
{
  double dry = gross_mj_kg - 9.0 * hydrogen_frac * LATENT_25C_MJ_KG;
  return (1.0 - moisture_wet_frac) * dry - moisture_wet_frac * LATENT_25C_MJ_KG;
}

double pw_combust_stoich_air(double carbon_frac, double hydrogen_frac, double oxygen_frac)
{
  return 11.5 * carbon_frac + 34.3 * (hydrogen_frac - oxygen_frac / 8.0);
}

double pw_combust_flue_mj_kg(const struct pw_fuel *fuel, double excess_air_frac, double rise_k)
{
  double dry = 1.0 - fuel->moisture_wet_frac;
  double vapour = fuel->moisture_wet_frac + 9.0 * fuel->hydrogen_frac * dry;
  double gas = dry * (fuel->stoich_air_kg_kg * (1.0 + excess_air_frac) + 1.0 - 9.0 * fuel->hydrogen_frac);
  return (gas * AIR_CP_KJ_KGK + vapour * VAPOUR_CP_KJ_KGK) * rise_k / 1000.0;
}

double pw_combust_cords(double kg, double kg_per_m3_stacked) { return kg / (kg_per_m3_stacked * CORD_M3); }
