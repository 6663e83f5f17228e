/* svg.h - drawings inside the HTML sheets: a rack with what lies on it, to scale; a day.
 * Shapes only carry classes; colours and line styles are the style sheet's, so that paper, light and dark screens
 * differ there and nowhere else. */
#ifndef PW_SVG_H
#define PW_SVG_H

#include "base/buf.h"
#include "sheet/view.h"

/** Width on paper, in millimetres: a long rack about 80, a square one less, so that its shelves stand side by side. */
double pw_svg_rack_mm(const struct pw_rack *rack);
/** One rack map.  View box in millimetres of rack. */
void pw_svg_rack(struct pw_buf *out, struct pw_view *view, const struct pw_view_map *map);

/** A day across the page: `hours` hours from from_at_min on, every lane of the view with something on it then, and the services.
 *  A bar too short for its words has them beside it.
 *  Lanes and letters are as large as `room_mm`, the height there is for it on a page across, allows. */
void pw_svg_day(struct pw_buf *out, struct pw_view *view, int from_at_min, int hours, double room_mm);

#endif
