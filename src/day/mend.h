/* mend.h - the plan mended from now on [N3]: what lies on a rack stays, what is believed of its pace moves its end, what follows waits; then,
 * where a meal would be late, what can be done about it, each way really tried. */
#ifndef PW_DAY_MEND_H
#define PW_DAY_MEND_H

#include "day/belief.h"
#include "day/spots.h"
#include "day/supply.h"

/** What was tried for a late lot and kept. */
enum pw_mend_kind { PW_MEND_OVEN, PW_MEND_WRAP_NOW, PW_MEND_SPOTS, PW_MEND_CARRY };

struct pw_mend_act {
  enum pw_mend_kind kind;
  int lot, pieces;
  int finisher;  /**< of PW_MEND_OVEN */
  int gains_min; /**< so much earlier is the lot ready */
};

/** A meal as it stands. */
struct pw_mend_meal {
  int late_min;            /**< its last lot is ready so long after it begins; 0: in time */
  int lot;                 /**< that lot; PW_NONE: in time */
  double chance;           /**< share of draws in which all of it is ready when it begins */
  double before;           /**< the same if the first plan is followed */
  int short_of;            /**< portions that are wanted and not there, all dishes from the pit */
  const char *short_words; /**< "41 of Pulled pork, 12 of Turkey"; NULL: none */
};

/** How much is tried: the slip must come whatever a plan of more ends in. */
enum pw_mend_care {
  PW_MEND_WAYS,  /**< late meals are helped */
  PW_MEND_RUNS,  /**< all runs on as it is believed to */
  PW_MEND_BARE,  /**< the same, and no new sheets: times of the racks alone */
  PW_MEND_PLACES /**< late meals are helped, and no new sheets: for who plays many days */
};

/** What is done otherwise than planned. */
struct pw_otherwise {
  bool *wrap_now;        /**< [piece] its smoke ends at the next slot */
  int *oven;             /**< [piece] finisher its last stage moves to, PW_NONE */
  struct pw_spot *spots; /**< [PW_SPOT_AT()] */
  struct pw_spot *carry; /**< [piece] where it is carried from where it lies now; is_moved: it is */
};

struct pw_mended {
  const struct pw_state *state;
  enum pw_mend_care care;
  struct pw_belief belief;
  bool is_changed;               /**< anything at all is other than planned */
  struct pw_plan *plan;          /**< from now on; NULL when nothing is changed, or bare */
  struct pw_otherwise otherwise; /**< of the acts */
  struct pw_mend_act *acts;
  int n_acts;
  struct pw_mend_meal *meals; /**< [service] */
  struct pw_short_dish *shorts;
  int n_shorts;
  struct pw_wood_left wood;
  const int *late_min;             /**< [lot] */
  struct pw_allocation allocation; /**< from now on; is in the plan too when there is one */
};

/** Believes, moves, tries.  `plan` of the state is left alone.  Errors: PW_ERR_MEMORY; those of the stages, none of them when care is bare. */
pw_status pw_mend(struct pw_mended *out, const struct pw_state *state, enum pw_mend_care care, struct pw_ctx *ctx);

/** The steps of it (retime.c): loads and fires of the state by the belief, from now on.  late_min[lot] is set. */
pw_status pw_retime(struct pw_allocation *out, int *late_min, double **pace, const struct pw_state *state,
                    const struct pw_belief *belief, const struct pw_otherwise *otherwise, struct pw_ctx *ctx);

#endif
