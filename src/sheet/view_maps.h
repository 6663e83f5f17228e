/* view_maps.h - the rack maps of a view (view.h). */
#ifndef PW_VIEW_MAPS_H
#define PW_VIEW_MAPS_H

#include "sheet/view.h"

/** A line below a map: what goes on now or stays, and when it comes off. */
struct pw_view_map_line {
  bool is_on;
  const char *head, *body, *off; /**< "ON B x12", "Chicken leg quarters, smoke, off", "Fri 17:00" */
};

/** Fills view->maps.  Returns -1 when memory is out. */
int pw_view_maps_make(struct pw_view *view);
/** Lines of a map, what goes on first; each lot once for each time it comes off.  Returns their number. */
int pw_view_map_lines(struct pw_view *view, const struct pw_view_map *map, struct pw_view_map_line **out);

#endif
