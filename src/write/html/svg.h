/* svg.h - drawings inside the HTML sheets: a rack with what lies on it, to scale; a stretch of the timeline.
 * Shapes only carry classes; colours and line styles are the style sheet's, so that paper, light and dark screens
 * differ there and nowhere else. */
#ifndef PW_SVG_H
#define PW_SVG_H

#include "base/buf.h"
#include "sheet/view.h"

/** One rack map.  View box in millimetres of rack. */
void pw_svg_rack(struct pw_buf *out, struct pw_view *view, const struct pw_view_map *map);

/** One stretch of the timeline: `hours` hours from from_at_min on over `width` units, lanes lane .. lane + n - 1 of the
 *  view (only those with something on them), or the services when n is 0.  Class names tell which screen shows it.
 *  Nothing is added when nothing happens in that stretch; returns whether something was. */
bool pw_svg_timeline(struct pw_buf *out, struct pw_view *view, int from_at_min, int hours, int width, int lane, int n,
                     const char *classes);

#endif
