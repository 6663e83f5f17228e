/* view_cores.h - the core of each lot by theory, in the coolest place the plan gives it [T1][H1]. */
#ifndef PW_VIEW_CORES_H
#define PW_VIEW_CORES_H

#include "heat/curve.h"
#include "sheet/view.h"

/** One curve a lot, a point every every_min minutes; lots that theory does not follow have no points.  In the view's
 *  memory.  NULL when that is out. */
struct pw_curve *pw_view_cores(struct pw_view *view, double every_min);

/** The point so many minutes after the lot went on; NULL when the piece is off by then, or there is no such point. */
const struct pw_curve_point *pw_view_core_at(const struct pw_curve *curve, double at_min);

/** "6:15", to five minutes; "never" for a stage that does not end. */
const char *pw_view_hours(struct pw_view *view, double minutes);

#endif
