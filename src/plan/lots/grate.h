/* grate.h - how many pieces the grates over coals take at once, and in how many waves that lets a service eat [D4]. */
#ifndef PW_GRATE_H
#define PW_GRATE_H

#include "pw/plan.h"

/** Pieces of a cut that lie on a pit's grates at once, side by side, at the setting that takes most; 0: none fits. */
int pw_grate_pieces(const struct pw_event *ev, int pit, int cut);

/** The fewest waves of a cut cooked over coals in which every wave of all such cuts of the service goes on the grates at once and is
 *  turned by the cooks who stand there, as far as the cook's own length leaves time for so many; 1 for anything else, and where plates, boxes or a van leave at
 *  once. */
int pw_grate_waves(const struct pw_event *ev, const struct pw_purchase *purchase, int service, int cut);

#endif
