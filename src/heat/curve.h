/* curve.h - one piece through its stages at given air temperatures: core curve, slow stretch, water, lethality [T1][H1]. */
#ifndef PW_HEAT_CURVE_H
#define PW_HEAT_CURVE_H

#include "base/ctx.h"
#include "heat/stage_time.h"

#define PW_SLOW_K_H 5.0 /**< 9 F an hour: slower is what a cook calls a stall: common practice, no source */

/** Where the piece cooks. */
struct pw_curve_place {
  double smoke_c, finish_c; /**< finish_c counts only for a cut with a wrapped stage */
  struct pw_stage_air air;
};

struct pw_curve_point {
  double at_min; /**< since it went on */
  double air_c, surface_c, core_c;
  double evaporated_frac; /**< water evaporated / trimmed weight */
  double log_reduction;   /**< at the core, so far */
  bool is_wrapped;
};

/** Figures of the whole cook. */
struct pw_curve_sum {
  double wrap_min;    /**< open stage's length; HUGE_VAL when its end is never reached */
  double done_min;    /**< both stages */
  double come_up_min; /**< core from 10 to 54.4 C, counted from the start if it goes on warmer; HUGE_VAL if never */
  double
      slow_from_c; /**< the stall: longest stretch of the open stage slower than 5 K/h: core where it begins; NAN without one */
  double slow_to_c; /**< core where it ends: by itself, by the wrap, or with the stage */
  double slow_min;  /**< its length; 0 without one */
  double fastest_k_h;
  double evaporated_frac; /**< water that went as steam, of the trimmed weight */
  double drip_frac;       /**< juice that dripped; both together compare with the catalog's loss, which holds fat too */
  double loss_frac;       /**< the catalog's */
  double log_reduction, log_needed; /**< at the core at the end of cooking */
  double surface_log;               /**< the same at the surface */
  double end_core_c;
  const char *doubt; /**< where theory is weak, or NULL */
};

struct pw_curve {
  struct pw_curve_sum sum;
  struct pw_curve_point *points;
  int n_points;
};

/** The figures alone; no memory, cannot fail. */
struct pw_curve_sum pw_curve_sum(const struct pw_stage_model *model, const struct pw_curve_place *place);

/** Minutes the core takes from 10 to 54.4 C with the whole cook at air_c; HUGE_VAL when it never gets there. */
double pw_curve_come_up_min(const struct pw_stage_model *model, double air_c, const struct pw_stage_air *air);

/** Figures and a point every every_min minutes (>= 1), the wrap and the end among them.  When the cook's own readings replace
 *  theory, the curve's time is stretched to them.  Errors: PW_ERR_MEMORY. */
pw_status pw_curve_make(struct pw_curve *out, const struct pw_cut *cut, const struct pw_curve_place *place,
                        double every_min, struct pw_ctx *ctx);

#endif
