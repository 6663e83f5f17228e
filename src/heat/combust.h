/* combust.h - what wood and charcoal give when burned, and what the flue takes [F1]. */
#ifndef PW_HEAT_COMBUST_H
#define PW_HEAT_COMBUST_H

#include "pw/event.h"

/** Moisture on a dry basis (water / dry wood) from wet basis (water / whole), 0 <= wet < 1, and back. */
double pw_combust_dry_frac(double moisture_wet_frac);
double pw_combust_wet_frac(double moisture_dry_frac);

/** Net (lower) heat as fired, MJ/kg: (1 - M)(HHV - 9 H r) - M r, M wet basis, H hydrogen by dry mass,
 *  r latent heat of water at 25 C.  Water formed is 9 kg per kg of hydrogen. */
double pw_combust_net_mj_kg(double gross_mj_kg, double hydrogen_frac, double moisture_wet_frac);

/** Stoichiometric air, kg per kg dry fuel, from mass fractions: 11.5 C + 34.3 (H - O/8). */
double pw_combust_stoich_air(double carbon_frac, double hydrogen_frac, double oxygen_frac);

/** Sensible heat the exhaust carries away, MJ per kg of fuel as fired, when it leaves `rise_k` above the
 *  air it came from: air drawn = stoich * (1 + excess) per dry kg, plus the fuel's own gas and vapour. */
double pw_combust_flue_mj_kg(const struct pw_fuel *fuel, double excess_air_frac, double rise_k);

/** Stacked cords (4 x 4 x 8 ft) in so many kilograms of wood that weighs kg_per_m3_stacked by the stacked cubic metre. */
double pw_combust_cords(double kg, double kg_per_m3_stacked);

#endif
