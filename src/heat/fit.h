/* fit.h - may a piece of a cut lie in a zone of a rack at a setting of its pit, and if not, why.  The one place that says so:
 * the reader, the lots and with them the allocation, the explanation and the judge's plan all follow it. */
#ifndef PW_HEAT_FIT_H
#define PW_HEAT_FIT_H

#include "pw/event.h"

enum pw_fit {
  PW_FITS,
  PW_FIT_NO_STAGE,   /**< the cut has no such stage */
  PW_FIT_TOO_LOW,    /**< less free height above the rack than the piece is high */
  PW_FIT_TOO_SHORT,  /**< the piece with its clearance is longer than the rack, or reaches over its end */
  PW_FIT_TOO_NARROW, /**< deeper than the rack, or than a round rack is there */
  PW_FIT_TOO_COOL,   /**< the zone's air is below the stage's "low" */
  PW_FIT_TOO_HOT,    /**< above its "high" */
  PW_FIT_NO_COALS,   /**< it lies over coals, and these are none */
  PW_FIT_COALS,      /**< it does not lie over coals */
  PW_FIT_NO_SPIT,    /**< it turns on a spit, and this is a grate */
  PW_FIT_SPIT,       /**< it lies on a grate, and this is a spit */
  PW_FIT__COUNT
};

/** A piece of the cut, wrapped or not, in the k-th of the rack's equal stretches: room alone.  May turn where the cut may. */
enum pw_fit pw_fit_room(const struct pw_cut *cut, bool is_wrapped, const struct pw_rack *rack, int k);

/** Air of `temp_c` for the stage. */
enum pw_fit pw_fit_heat(const struct pw_stage *stage, double temp_c);

/** Both: the smoke or (is_finish, wrapped) the finish of a cut in the k-th stretch of rack `rack` of the pit at setting `s`. */
enum pw_fit pw_fit_zone(const struct pw_cut *cut, bool is_finish, const struct pw_pit *pit, int rack, int k, int s);

/** The finish of a cut in an oven: PW_FIT_NO_STAGE when it is no oven or the finish may not run in one, PW_FIT_TOO_SHORT when not
 *  even one piece finds room on its shelves or in its pans. */
enum pw_fit pw_fit_oven(const struct pw_cut *cut, const struct pw_finisher *oven);

/** The open stage of a cut in an oven: no plan does so, a day without its fire may. */
enum pw_fit pw_fit_oven_open(const struct pw_cut *cut, const struct pw_finisher *oven);

/** "too hot", "too low" ...: two or three words. */
const char *pw_fit_words(enum pw_fit why);

#endif
