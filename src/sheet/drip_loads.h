/* drip_loads.h - loads of a plan that drip raw, and what lies below them [H2]: for the page that explains it and for its JSON. */
#ifndef PW_DRIP_LOADS_H
#define PW_DRIP_LOADS_H

#include "pw/plan.h"

/** What a load lies on and is; pit and rack only of one that lies on a pit. */
const struct pw_pit *pw_load_pit(const struct pw_plan *plan, const struct pw_load *load);
int pw_load_rack(const struct pw_plan *plan, const struct pw_load *load);
const struct pw_cut *pw_load_cut(const struct pw_plan *plan, const struct pw_load *load);
/** The first load of its lot, rack, stage and minute: pieces of it in several zones are told once. */
bool pw_load_is_first(const struct pw_plan *plan, int load);
/** A first load that drips raw. */
bool pw_load_drips(const struct pw_plan *plan, int load);
/** Whether one lies on a lower rack of the same pit, nothing between, while the other still drips. */
bool pw_load_drips_on(const struct pw_plan *plan, const struct pw_load *up, const struct pw_load *low);

#endif
