/* zone_temp.c - hot end, cool end, rack offset, thermometer readings: one temperature at any point of a rack [T1]. */
#include "heat/zone_temp.h"

#include <math.h>

/** The straight line from the hot to the cool end, plus the rack's offset. */
static double line_temp_c(const struct pw_setting *set, const struct pw_rack *rack, double x_m)
{
  return set->hot_c + (set->cool_c - set->hot_c) * x_m / rack->length_m + rack->offset_c;
}

/** What the thermometers of a setting say beyond the straight line, at x along a rack: linear between two readings of that
 *  rack, and the nearest one's outside them; 0 without readings. */
static double probe_shift_k(const struct pw_setting *set, const struct pw_rack *rack, int rack_index, double x_m)
{
  double below_x = -HUGE_VAL, above_x = HUGE_VAL, below_k = 0.0, above_k = 0.0;
  for (int i = 0; i < set->n_probes; i++) {
    const struct pw_probe *probe = &set->probes[i];
    if (probe->rack != rack_index)
      continue;
    double shift = probe->temp_c - line_temp_c(set, rack, probe->x_m);
    if (probe->x_m <= x_m && probe->x_m > below_x) {
      below_x = probe->x_m;
      below_k = shift;
    }
    if (probe->x_m >= x_m && probe->x_m < above_x) {
      above_x = probe->x_m;
      above_k = shift;
    }
  }
  if (isfinite(below_x) && isfinite(above_x))
    return above_x > below_x ? below_k + (above_k - below_k) * (x_m - below_x) / (above_x - below_x) : below_k;
  return isfinite(below_x) ? below_k : above_k;
}

double pw_zone_temp_c(const struct pw_setting *set, const struct pw_rack *rack, int rack_index, double x_m)
{
  return line_temp_c(set, rack, x_m) + probe_shift_k(set, rack, rack_index, x_m);
}

double pw_zone_middle_c(const struct pw_setting *set, const struct pw_rack *rack, int rack_index, int k)
{
  return pw_zone_temp_c(set, rack, rack_index, (k + 0.5) * rack->length_m / rack->n_zones);
}
