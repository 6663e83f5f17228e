/* food_code.c - Food Code limits and cooling arithmetic [H1]. */
#include "heat/food_code.h"

#include "heat/conduct.h"

#include <math.h>

#define FIRST_MIN       120.0  /* 3-501.14(A)(1) */
#define SECOND_MIN      360.0  /* 3-501.14(A)(2) */
#define FOOD_K_W_MK     0.45   /* cooked meat, middle of the Choi-Okos range for USDA SR 13803 and 10080 */
#define FOOD_ALPHA_M2_S 1.3e-7 /* beef 40-65 C, 1.23e-7 to 1.33e-7, engineeringtoolbox.com d_2176 */

const struct pw_food_rule *pw_food_code_rule(enum pw_safety safety)
{
  static const struct pw_food_rule rules[] = {
      [PW_SAFE_INTACT] = {62.8, 15, "3-401.11(A)(1)", "intact meat or fish"},
      [PW_SAFE_TENDERIZED] = {68.3, 17, "3-401.11(A)(2)", "injected or tenderized meat"},
      [PW_SAFE_GROUND] = {68.3, 17, "3-401.11(A)(2)", "ground meat"},
      [PW_SAFE_POULTRY] = {73.9, 1, "3-401.11(A)(3)", "poultry"},
      [PW_SAFE_PRECOOKED] = {57.2, 0, "3-403.11(C)", "commercially packed ready-to-eat food heated for hot holding"},
      [PW_SAFE_PLANT] = {57.2, 0, "3-401.13", "plant food for hot holding"},
      [PW_SAFE_REHEATED] = {73.9, 15, "3-403.11(A)", "food cooked before and reheated"}};
  return &rules[safety];
}

bool pw_food_code_has_come_up(enum pw_kind kind, enum pw_safety safety)
{
  return kind != PW_KIND_PLANT && kind != PW_KIND_FISH && safety != PW_SAFE_PLANT && !pw_food_code_is_cooked(safety);
}

bool pw_food_code_is_cooked(enum pw_safety safety) { return safety == PW_SAFE_PRECOOKED || safety == PW_SAFE_REHEATED; }

double pw_food_code_roast_air_c(double piece_kg)
{
  /* 10 lb, 325 F, 250 F: 3-401.11(B)(2) */
  return piece_kg < 4.5 ? 162.8 : 121.1;
}

int pw_food_code_out_hot_min(void) { return 240; /* 3-501.19(B) */ }

int pw_food_code_out_cold_min(double warmest_c)
{
  return warmest_c <= PW_FOOD_CODE_COOL_C + 0.05 ? 360 : PW_NONE; /* 3-501.19(C) */
}

static struct pw_cooling judged(double to_21_min, double to_5_min)
{
  return (struct pw_cooling){to_21_min, to_5_min, to_21_min <= FIRST_MIN, to_5_min <= SECOND_MIN};
}

struct pw_cooling pw_cooling_newton(double rate_per_h, double air_c)
{
  double start = PW_FOOD_CODE_HOT_C - air_c;
  if (rate_per_h <= 0.0 || air_c >= PW_FOOD_CODE_COLD_C)
    return judged(HUGE_VAL, HUGE_VAL);
  return judged(60.0 / rate_per_h * log(start / (PW_FOOD_CODE_COOL_C - air_c)),
                60.0 / rate_per_h * log(start / (PW_FOOD_CODE_COLD_C - air_c)));
}

struct pw_cooling pw_cooling_layer(double depth_m, double h_w_m2k, double air_c)
{
  if (air_c >= PW_FOOD_CODE_COLD_C)
    return judged(HUGE_VAL, HUGE_VAL);
  double half = 0.5 * depth_m, start = PW_FOOD_CODE_HOT_C - air_c, unit_min = half * half / FOOD_ALPHA_M2_S / 60.0;
  struct pw_conduct c;
  pw_conduct_make(&c, PW_SHAPE_SLAB, h_w_m2k * half / FOOD_K_W_MK);
  return judged(pw_conduct_fo(&c, (PW_FOOD_CODE_COOL_C - air_c) / start) * unit_min,
                pw_conduct_fo(&c, (PW_FOOD_CODE_COLD_C - air_c) / start) * unit_min);
}

double pw_reheat_layer_min(double depth_m, double h_w_m2k, double air_c, double core_c)
{
  if (air_c <= core_c)
    return HUGE_VAL;
  double half = 0.5 * depth_m;
  struct pw_conduct c;
  pw_conduct_make(&c, PW_SHAPE_SLAB, h_w_m2k * half / FOOD_K_W_MK);
  return pw_conduct_fo(&c, (air_c - core_c) / (air_c - PW_FOOD_CODE_COLD_C)) * half * half / FOOD_ALPHA_M2_S / 60.0;
}

double pw_reheat_depth_m(double h_w_m2k, double air_c, double core_c, double minutes)
{
  for (int mm = 150; mm >= 1; mm--)
    if (pw_reheat_layer_min(mm / 1000.0, h_w_m2k, air_c, core_c) <= minutes)
      return mm / 1000.0;
  return 0.0;
}

double pw_cooling_depth_m(double h_w_m2k, double air_c)
{
  for (int mm = 150; mm >= 1; mm--) {
    struct pw_cooling c = pw_cooling_layer(mm / 1000.0, h_w_m2k, air_c);
    if (c.is_first_met && c.is_second_met)
      return mm / 1000.0;
  }
  return 0.0;
}
