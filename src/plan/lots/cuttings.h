/* cuttings.h - in which goes a lot is cut, and between which minutes each begins and ends [D4]. */
#ifndef PW_CUTTINGS_H
#define PW_CUTTINGS_H

#include "pw/plan.h"

/** Some pieces cut one after the other, and the plates they feed. */
struct pw_cutting {
  int pieces;           /**< 1 or more */
  int first_min;        /**< first plate, by which they should be cut */
  int last_min;         /**< last plate */
  int no_sooner_at_min; /**< what is cut sooner stands in its pan for longer than it keeps; INT_MIN: no limit told */
  bool
      is_in_parts; /**< its plates go on for longer than a pan keeps: cut a part for the first of them, the rest not before
                     *   no_sooner_at_min */
};

enum { PW_CUTTINGS_MAX = 12 };

/** In how many goes `pieces` of a lot are cut: one where all plates leave at once, else two, more where the pans ask for it.  Each is
 *  cut so late that its last plate is within pan_hold of its knives, and so soon that its first plate does not wait.  Returns how
 *  many, by time; 0 for no pieces. */
int pw_cuttings(struct pw_cutting out[PW_CUTTINGS_MAX], const struct pw_event *ev, const struct pw_lot *lot,
                int pieces);

/** Until when pieces of a lot may lie in their box: the first plate of what is cut last; the last plate, where it is cut in parts. */
int pw_box_until_min(const struct pw_event *ev, const struct pw_lot *lot);

#endif
