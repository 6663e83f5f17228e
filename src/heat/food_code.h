/* food_code.h - limits of the FDA Food Code 2022 as data: least core by kind of food, roast chart, holding, cooling, time as a
 * control [H1].  The 2026 edition has the same numbers.  Local codes and the health authority decide. */
#ifndef PW_HEAT_FOOD_CODE_H
#define PW_HEAT_FOOD_CODE_H

#include "pw/event.h"

#define PW_FOOD_CODE_HOT_C      57.2 /* 135 F, 3-501.16(A)(1) */
#define PW_FOOD_CODE_COLD_C     5.0  /* 41 F, 3-501.16(A)(2) */
#define PW_FOOD_CODE_COOL_C     21.1 /* 70 F, 3-501.14(A)(1): within 2 h */
#define PW_FOOD_CODE_REHEAT_C   73.9 /* 165 F, 3-403.11(A) */
#define PW_FOOD_CODE_HUMID_FRAC 0.9  /* 3-401.11(B)(2): over it for an hour; FSIS-GD-2021-14 table 1, options 3 and 4 */
#define PW_FSIS_LARGE_KG        4.5359237 /* 10 lb: from it on no humidity is asked at PW_FSIS_LARGE_AIR_C, FSIS-GD-2021-14 */
#define PW_FSIS_LARGE_AIR_C     121.1 /* 250 F, FSIS-GD-2021-14 */
#define PW_COME_UP_FROM_C       10.0  /* 50 F, FSIS-GD-2021-14 */
#define PW_COME_UP_TO_C         54.4  /* 130 F, FSIS-GD-2021-14 */
enum {
  PW_COME_UP_MOST_MIN = 360, /* 6 h, FSIS-GD-2021-14 */
  PW_HOLD_CHECK_EVERY_MIN =
      120 /* hot food in a box: half of the 4 h of 3-501.19(B), a cold box is found while it can be mended */
};

/** Least core temperature for a class of food. */
struct pw_food_rule {
  double core_c;
  int hold_s;       /**< for so long */
  const char *rule; /**< "3-401.11(A)(3)" */
  const char *food; /**< "poultry" */
};
const struct pw_food_rule *pw_food_code_rule(enum pw_safety safety);

/** Whether the core of such food must pass from 10 to 54.4 C within PW_COME_UP_MOST_MIN: raw meat, poultry, sausage. */
bool pw_food_code_has_come_up(enum pw_kind kind, enum pw_safety safety);

/** Whether it comes cooked: by its maker, or by us before. */
bool pw_food_code_is_cooked(enum pw_safety safety);

/** Least air temperature of the roast chart 3-401.11(B)(2) for a roast that weighs so much as it goes on, in a pit with a draught
 *  (convection column): 162.8 C below 4.5 kg, else 121.1 C.  Only for intact roasts of beef, pork, lamb. */
double pw_food_code_roast_air_c(double piece_kg);

/** Minutes that food may be out of temperature control, 3-501.19: hot (from 57 C) four hours; cold (from 5 C) six hours
 *  while never above 21 C, else PW_NONE: discard. */
int pw_food_code_out_hot_min(void);
int pw_food_code_out_cold_min(double warmest_c);

/** Cooling after cooking, 3-501.14(A): 57 to 21 C within two hours, to 5 C within six in all. */
struct pw_cooling {
  double to_21_min, to_5_min; /**< from 57 C */
  bool is_first_met, is_second_met;
};
/** Newton's law towards the air of a cooler, rate per hour. */
struct pw_cooling pw_cooling_newton(double rate_per_h, double air_c);
/** Middle of a layer of food so deep, cooled from above and below: conduction with the given film, series solution. */
struct pw_cooling pw_cooling_layer(double depth_m, double h_w_m2k, double air_c);
/** Minutes until the middle of a layer of food, cold at 5 C and heated from above and below with the given film, is at core_c;
 *  HUGE_VAL: never.  3-403.11(D) allows two hours. */
double pw_reheat_layer_min(double depth_m, double h_w_m2k, double air_c, double core_c);
/** Deepest layer that is there within so many minutes, 1 mm to 150 mm; 0 when not even 1 mm is. */
double pw_reheat_depth_m(double h_w_m2k, double air_c, double core_c, double minutes);
/** Deepest layer that meets both limits, 1 mm to 150 mm; 0 when not even 1 mm does. */
double pw_cooling_depth_m(double h_w_m2k, double air_c);

#endif
