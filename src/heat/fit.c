/* fit.c - height, length and depth of a piece against its rack, air against its stage: one answer for all who ask. */
#include "heat/fit.h"

#include "heat/zone_temp.h"

#include <math.h>

#define FIT_SLACK_M 1e-6 /* a piece exactly as long as its zone fits */
#define FIT_SLACK_K 1e-9

/* One way round.  The middle of the piece lies in the zone; its ends may reach over into the next, but not off the rack. */
static enum pw_fit as_laid(const struct pw_rack *rack, int k, double length_m, double width_m)
{
  double zone_m = rack->length_m / rack->n_zones, x_m = k * zone_m;
  if (length_m > rack->length_m + FIT_SLACK_M)
    return PW_FIT_TOO_SHORT;
  if (width_m > rack->depth_m + FIT_SLACK_M)
    return PW_FIT_TOO_NARROW;
  double from = fmax(x_m - 0.5 * length_m, 0), to = fmin(x_m + zone_m - 0.5 * length_m, rack->length_m - length_m);
  if (from > to + FIT_SLACK_M)
    return PW_FIT_TOO_SHORT;
  if (rack->outline == PW_RECTANGLE)
    return PW_FITS;
  /* the widest place for it in the stretch is the one nearest the middle of the disc */
  double radius = 0.5 * rack->length_m;
  double x = fmin(fmax(radius - 0.5 * length_m, from), to);
  double far = fmax(fabs(x - radius), fabs(x + length_m - radius));
  return far < radius && 0.5 * width_m <= sqrt(radius * radius - far * far) + FIT_SLACK_M ? PW_FITS : PW_FIT_TOO_NARROW;
}

enum pw_fit pw_fit_room(const struct pw_cut *cut, bool is_wrapped, const struct pw_rack *rack, int k)
{
  double length_m = (is_wrapped ? cut->wrapped_length_m : cut->length_m) + cut->clearance_m;
  double width_m = (is_wrapped ? cut->wrapped_width_m : cut->width_m) + cut->clearance_m;
  if (cut->height_m > rack->clear_height_m + FIT_SLACK_M)
    return PW_FIT_TOO_LOW;
  enum pw_fit why = as_laid(rack, k, length_m, width_m);
  return why != PW_FITS && cut->may_turn && as_laid(rack, k, width_m, length_m) == PW_FITS ? PW_FITS : why;
}

enum pw_fit pw_fit_heat(const struct pw_stage *stage, double temp_c)
{
  if (!stage->is_used)
    return PW_FIT_NO_STAGE;
  if (temp_c < stage->low_c - FIT_SLACK_K)
    return PW_FIT_TOO_COOL;
  return temp_c > stage->high_c + FIT_SLACK_K ? PW_FIT_TOO_HOT : PW_FITS;
}

enum pw_fit pw_fit_zone(const struct pw_cut *cut, bool is_finish, const struct pw_pit *pit, int rack, int k, int s)
{
  const struct pw_stage *stage = is_finish ? &cut->finish : &cut->smoke;
  if (!stage->is_used)
    return PW_FIT_NO_STAGE;
  if (stage->is_over_coals != pit->is_over_coals)
    return stage->is_over_coals ? PW_FIT_NO_COALS : PW_FIT_COALS;
  if (pit->is_over_coals && stage->is_on_spit != pit->coals.is_spit)
    return stage->is_on_spit ? PW_FIT_NO_SPIT : PW_FIT_SPIT;
  enum pw_fit why = pw_fit_room(cut, is_finish, &pit->racks[rack], k);
  return why != PW_FITS ? why : pw_fit_heat(stage, pw_zone_middle_c(&pit->settings[s], &pit->racks[rack], rack, k));
}

static enum pw_fit fit_oven(const struct pw_cut *cut, const struct pw_stage *stage, const struct pw_finisher *oven)
{
  double one = oven->is_in_pans
                   ? cut->pans_per_piece
                   : (cut->wrapped_length_m + cut->clearance_m) * (cut->wrapped_width_m + cut->clearance_m);
  return one > oven->capacity + FIT_SLACK_M ? PW_FIT_TOO_SHORT : pw_fit_heat(stage, oven->temp_c);
}

enum pw_fit pw_fit_oven(const struct pw_cut *cut, const struct pw_finisher *oven)
{
  if (oven->kind != PW_OVEN || !cut->finish.is_used || !cut->finish.in_oven)
    return PW_FIT_NO_STAGE;
  return fit_oven(cut, &cut->finish, oven);
}

enum pw_fit pw_fit_oven_open(const struct pw_cut *cut, const struct pw_finisher *oven)
{
  if (oven->kind != PW_OVEN || cut->smoke.is_over_coals)
    return PW_FIT_NO_STAGE;
  return fit_oven(cut, &cut->smoke, oven);
}

const char *pw_fit_words(enum pw_fit why)
{
  static const char *const WORDS[PW_FIT__COUNT] = {"fits",
                                                   "no such stage",
                                                   "too low",
                                                   "too short",
                                                   "too narrow",
                                                   "too cool",
                                                   "too hot",
                                                   "no coals to lie over",
                                                   "not over coals",
                                                   "no spit",
                                                   "for what turns on a spit"};
  return WORDS[why];
}
