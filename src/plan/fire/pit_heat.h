/* pit_heat.h - heat balance of one pit at one setting: what the fire must give in the weather of the hour [F1]. */
#ifndef PW_PLAN_PIT_HEAT_H
#define PW_PLAN_PIT_HEAT_H

#include "pw/event.h"

/** One pit at one setting. */
struct pw_pit_heat {
  const struct pw_pit *pit;
  const struct pw_fuel *wood, *charcoal; /**< charcoal: the wood when the pit starts without any */
  double pit_c;                          /**< mean of hot and cool end */
  double pressure_pa;
  double inside_w_m2k; /**< film between gas and steel; from the cook's own splits per hour where told */
  double shell_factor; /**< what is left of those splits that no film explains; 1 without a figure */
  bool is_told;        /**< both come from a cook's figure: so much wood is fed once the fire is ready, whatever
                              charcoal is left of lighting it */
};

/** Air temperature at an instant: two half cosines between the day's low at 05:00 and its high at 16:00. */
double pw_weather_c(const struct pw_weather *weather, int at_min);

void pw_pit_heat_make(struct pw_pit_heat *out, const struct pw_event *ev, int pit, int setting);
/** What theory alone says a cook would feed on the mild, still day his own figure is told for, splits an hour. */
double pw_pit_heat_theory_splits_per_h(const struct pw_event *ev, int pit, int setting);
/** Heat through the shell, kW. */
double pw_pit_heat_shell_kw(const struct pw_pit_heat *h, double ambient_c, double wind_m_s);
/** Heat one kilogram of a fuel leaves in the pit: net heat burned less what the exhaust takes, MJ. */
double pw_pit_heat_useful_mj_kg(const struct pw_pit_heat *h, const struct pw_fuel *fuel, double ambient_c);
/** What the exhaust takes of one kilogram, MJ. */
double pw_pit_heat_flue_mj_kg(const struct pw_pit_heat *h, const struct pw_fuel *fuel, double ambient_c);
/** Heat that warms steel and water pan from ambient, MJ; what the pan boils off is pw_pit_heat_pan_mj. */
double pw_pit_heat_warm_up_mj(const struct pw_pit_heat *h, double ambient_c);

/** Heat that the water pan boils off in a burn, MJ: all of it, from the fire being ready to its end. */
double pw_pit_heat_pan_mj(const struct pw_pit_heat *h);
/** Heat that leaves through an open door, kW: warm air out at the top, cold in below. */
double pw_pit_heat_door_kw(const struct pw_pit_heat *h, double ambient_c);

/** Heat one piece takes up over its open and over its wrapped stage, MJ: warming, and the water it loses. */
void pw_food_heat_mj(const struct pw_cut *cut, double *out_smoke_mj, double *out_finish_mj);

#endif
