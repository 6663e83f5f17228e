/* coals.c - see coals.h.  The grate takes from a full bed below and gives off as much up as down; hot gas is left out, as it warms and
 * cools a bare bar alike. */
#include "heat/coals.h"

#include "heat/stage_time.h"

#include <math.h>

#define KELVIN        273.15 /* 0 C, definition */
#define BED_EMIT_FRAC 0.9    /* glowing charcoal under a thin ash: usual textbook value for rough dark surfaces */
#define DAY_C         20.0   /* what the rest of its view is at; it hardly matters */
static const double PI = 3.14159265358979323846;

double pw_coals_view_frac(double a_m, double b_m, double height_m)
{
  double x = a_m / height_m, y = b_m / height_m, x1 = sqrt(1.0 + x * x), y1 = sqrt(1.0 + y * y);
  double sum = 0.5 * log(x1 * x1 * y1 * y1 / (1.0 + x * x + y * y)) + x * y1 * atan(x / y1) + y * x1 * atan(y / x1) -
               x * atan(x) - y * atan(y);
  return 2.0 / (PI * x * y) * sum;
}

double pw_coals_grate_most_c(const struct pw_coals *coals, const struct pw_rack *rack)
{
  /* a disc gives and takes about as a square of its area */
  double side = rack->outline == PW_DISC ? sqrt(0.25 * PI) : 1.0;
  double seen = BED_EMIT_FRAC * pw_coals_view_frac(side * rack->length_m, side * rack->depth_m, coals->height_m);
  double face_c = pow(seen * pow(coals->bed_c + KELVIN, 4.0) + (1.0 - seen) * pow(DAY_C + KELVIN, 4.0), 0.25) - KELVIN;
  double low_c = DAY_C, high_c = coals->bed_c; /* the reading that faces this: rises with it */
  for (int i = 0; i < 60; i++) {
    double middle_c = 0.5 * (low_c + high_c);
    if (pw_stage_coals_face_c(middle_c, pw_stage_coals_above_c(middle_c, coals->has_lid)) < face_c)
      low_c = middle_c;
    else
      high_c = middle_c;
  }
  return low_c;
}
