/* allocate_guide.h - what the linear program's optimum tells the search: which lots go where and when, in fractions,
 * and what room is worth there (dual values). */
#ifndef PW_ALLOCATE_GUIDE_H
#define PW_ALLOCATE_GUIDE_H

#include "plan/allocate/allocate_model.h"

struct pw_al_flow { /* so many pieces of a lot take this way */
  int lot, n, setting;
  int group, start, mid; /* smoke */
  int place_group;       /* finish: a group, or PW_NONE */
  int place_finisher;    /* an oven, or PW_NONE */
  int place_setting, done;
};

struct pw_al_guide {
  int n_flows;
  struct pw_al_flow *flows; /* by start */
  int n_groups;
  int *zone_first; /* [g], and [n_groups]: into zones */
  int *zones;      /* of all pits of the class */
  /* summed from slot 0 up to t, so that a stage costs a difference; n_t = n_slots + 1 */
  double *rack_rent;     /* [(z * n_settings_max + s) * n_t + t] cents a m2 */
  double *lot_rent;      /* [((c * n_pits + p) * n_settings_max + s) * n_t + t] cents a piece, [A4] */
  double *oven_rent;     /* [f * n_t + t] cents a unit of its capacity */
  double *lot_oven_rent; /* [(c * n_finishers + f) * n_t + t] cents a piece, [A4] */
  double *hold_rent;     /* [t] cents a pan */
};

/** Errors: PW_ERR_MEMORY. */
pw_status pw_al_guide_make(struct pw_al_guide *guide, const struct pw_al_model *model, const struct pw_al *al,
                           const struct pw_lp_result *lp, struct pw_ctx *ctx);

#endif
