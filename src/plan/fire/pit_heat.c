/* pit_heat.c - shell, exhaust, steel and food [F1].
 * Two films in series: from the gas, taken at the pit's mean temperature, to the steel, and from the steel to the weather.  A
 * cook's own "so many splits an hour" on a mild, still day says how much the inner film lets through (and, where no film would
 * explain so much, a factor on both); weather then acts on the outer film alone. */
#include "plan/fire/pit_heat.h"

#include "heat/air.h"
#include "heat/combust.h"
#include "heat/shell.h"
#include "heat/stage_time.h"

#include <math.h>

static const double PI = 3.14159265358979323846;

#define STEEL_CP_KJ_KGK   0.448   /* SAE 1010 steel, a179.net data sheet */
#define LATENT_100C_MJ_KG 2.257   /* water at 100 C, steam tables */
#define WATER_CP_KJ_KGK   4.19    /* water, steam tables */
#define KELVIN            273.15  /* 0 C, definition */
#define GRAVITY           9.80665 /* m/s2, standard gravity */
#define DOOR_WIDTH_FRAC   0.5     /* door over outer length: common practice, no source */
#define DOOR_HEIGHT_M     0.4     /* common practice, no source */
#define DOOR_FLOW         0.6     /* orifice coefficient of an opening: Brown and Solvason 1962, from memory */
#define FOOD_CP_KJ_KGK    3.4     /* raw meat: Choi and Okos 1986 for USDA SR 13803 and 10080 */
#define MILD_DAY_C        20.0    /* the day a cook's splits per hour are told for: common practice, no source */
#define INSIDE_W_M2K                                                                                                   \
  38.0 /* gas to steel, flames and firebox included: middle of what the told splits of the catalog's offsets ask, 25 to 55 */
#define INSIDE_MOST_W_M2K 60.0 /* a told figure that asks more than any of them is taken as a hotter or larger pit */
#define USEFUL_LEAST_FRAC 0.10 /* of the net heat; guards against settings that blow all heat out of the stack */

double pw_weather_c(const struct pw_weather *weather, int at_min)
{
  enum { DAY_MIN = 1440, LOW_AT_MIN = 300, HIGH_AT_MIN = 960 };
  int since_low = ((at_min - LOW_AT_MIN) % DAY_MIN + DAY_MIN) % DAY_MIN;
  int rise_min = HIGH_AT_MIN - LOW_AT_MIN;
  double mean = 0.5 * (weather->low_c + weather->high_c), swing = 0.5 * (weather->high_c - weather->low_c);
  if (since_low <= rise_min)
    return mean - swing * cos(PI * since_low / rise_min);
  return mean + swing * cos(PI * (since_low - rise_min) / (DAY_MIN - rise_min));
}

static struct pw_shell shell_of(const struct pw_pit *pit)
{
  return (struct pw_shell){pit->shell_m2, pit->length_m, pit->emissivity_frac};
}

static double shell_theory_kw(const struct pw_pit_heat *h, double ambient_c, double wind_m_s)
{
  struct pw_shell shell = shell_of(h->pit);
  return pw_shell_through_w(&shell, h->inside_w_m2k, h->pit_c, ambient_c, wind_m_s, h->pressure_pa) / 1000.0;
}

double pw_pit_heat_shell_kw(const struct pw_pit_heat *h, double ambient_c, double wind_m_s)
{
  return h->shell_factor * shell_theory_kw(h, ambient_c, wind_m_s);
}

double pw_pit_heat_flue_mj_kg(const struct pw_pit_heat *h, const struct pw_fuel *fuel, double ambient_c)
{
  return pw_combust_flue_mj_kg(fuel, h->pit->excess_air_frac, h->pit_c + h->pit->exhaust_over_c - ambient_c);
}

double pw_pit_heat_useful_mj_kg(const struct pw_pit_heat *h, const struct pw_fuel *fuel, double ambient_c)
{
  double net = pw_combust_net_mj_kg(fuel->gross_mj_kg, fuel->hydrogen_frac, fuel->moisture_wet_frac);
  double useful = net * h->pit->combustion_frac - pw_pit_heat_flue_mj_kg(h, fuel, ambient_c);
  return fmax(useful, USEFUL_LEAST_FRAC * net);
}

double pw_pit_heat_warm_up_mj(const struct pw_pit_heat *h, double ambient_c)
{
  double steel_kj = h->pit->steel_kg * STEEL_CP_KJ_KGK * (h->pit_c - ambient_c);
  double water_kj = h->pit->water_kg * WATER_CP_KJ_KGK * fmax(fmin(h->pit_c, 100.0) - ambient_c, 0.0);
  return (steel_kj + water_kj) / 1000.0;
}

double pw_pit_heat_pan_mj(const struct pw_pit_heat *h) { return h->pit->water_kg * LATENT_100C_MJ_KG; }

double pw_pit_heat_door_kw(const struct pw_pit_heat *h, double ambient_c)
{
  if (h->pit->is_over_coals && !h->pit->coals.has_lid)
    return 0.0; /* nothing to open */
  double rise_k = fmax(h->pit_c - ambient_c, 0.0), mean_k = 0.5 * (h->pit_c + ambient_c) + KELVIN;
  double width_m = DOOR_WIDTH_FRAC * h->pit->length_m;
  double flow_m3_s = DOOR_FLOW / 3.0 * width_m * DOOR_HEIGHT_M * sqrt(GRAVITY * DOOR_HEIGHT_M * rise_k / mean_k);
  struct pw_air air = pw_air_at(h->pit_c, h->pressure_pa);
  return flow_m3_s * air.density_kg_m3 * air.cp_j_kgk * rise_k / 1000.0;
}

static void place(struct pw_pit_heat *h, const struct pw_event *ev, int pit, int setting)
{
  h->pit = &ev->pits[pit];
  h->wood = &ev->fuels[h->pit->wood];
  h->charcoal = h->pit->charcoal == PW_NONE ? h->wood : &ev->fuels[h->pit->charcoal];
  h->pit_c = 0.5 * (h->pit->settings[setting].hot_c + h->pit->settings[setting].cool_c);
  h->pressure_pa = pw_air_pressure_pa(ev->site.altitude_m);
  h->inside_w_m2k = INSIDE_W_M2K;
  h->shell_factor = 1.0;
}

/** What the told figure of one setting says of the pit's shell: the inner film, and a factor where no film explains it.
 *  False without a figure. */
static bool told_shell(const struct pw_event *ev, int pit, int setting, double *out_inside_w_m2k, double *out_factor)
{
  double splits_per_h = ev->pits[pit].settings[setting].splits_per_h;
  if (splits_per_h <= 0.0)
    return false;
  struct pw_pit_heat h;
  place(&h, ev, pit, setting);
  double told_kw = splits_per_h * h.pit->split_kg * pw_pit_heat_useful_mj_kg(&h, h.wood, MILD_DAY_C) / 3.6;
  h.inside_w_m2k = INSIDE_MOST_W_M2K;
  double most_kw = shell_theory_kw(&h, MILD_DAY_C, 0.0);
  *out_inside_w_m2k = INSIDE_MOST_W_M2K;
  *out_factor = told_kw / most_kw;
  if (told_kw < most_kw) {
    struct pw_shell shell = shell_of(h.pit);
    double steel_c = pw_shell_surface_c(&shell, 1000.0 * told_kw, h.pit_c, MILD_DAY_C, 0.0, h.pressure_pa);
    *out_inside_w_m2k = 1000.0 * told_kw / (shell.area_m2 * (h.pit_c - steel_c));
    *out_factor = 1.0;
  }
  return true;
}

double pw_pit_heat_theory_splits_per_h(const struct pw_event *ev, int pit, int setting)
{
  struct pw_pit_heat h;
  place(&h, ev, pit, setting);
  double kg_per_h = shell_theory_kw(&h, MILD_DAY_C, 0.0) * 3.6 / pw_pit_heat_useful_mj_kg(&h, h.wood, MILD_DAY_C);
  return kg_per_h / h.pit->split_kg;
}

void pw_pit_heat_make(struct pw_pit_heat *out, const struct pw_event *ev, int pit, int setting)
{
  double inside, factor, inside_sum = 0.0, factor_sum = 0.0;
  int n = 0;
  place(out, ev, pit, setting);
  out->is_told = told_shell(ev, pit, setting, &out->inside_w_m2k, &out->shell_factor);
  /* a setting without a figure of its own takes the mean of the pit's others */
  for (int s = 0; s < ev->pits[pit].n_settings && !out->is_told; s++)
    if (told_shell(ev, pit, s, &inside, &factor)) {
      inside_sum += inside;
      factor_sum += factor;
      n++;
    }
  if (n > 0) {
    out->inside_w_m2k = inside_sum / n;
    out->shell_factor = factor_sum / n;
    out->is_told = true;
  }
}

void pw_food_heat_mj(const struct pw_cut *cut, double *out_smoke_mj, double *out_finish_mj)
{
  double kg = cut->piece_kg * cut->trim_frac;
  double water_mj = kg * (1.0 - cut->cook_frac) * LATENT_100C_MJ_KG; /* fat that drips is counted as water: high side */
  double open = cut->finish.is_used ? PW_STAGE_OPEN_LOSS_FRAC : 1.0;
  *out_smoke_mj = kg * FOOD_CP_KJ_KGK * fmax(cut->smoke.to_c - cut->smoke.from_c, 0.0) / 1000.0 + open * water_mj;
  *out_finish_mj = cut->finish.is_used ? kg * cut->cook_frac * FOOD_CP_KJ_KGK *
                                                 fmax(cut->finish.to_c - cut->finish.from_c, 0.0) / 1000.0 +
                                             (1.0 - open) * water_mj
                                       : 0.0;
}
