/* view_lists.h - fire list and the temperatures to write down, as every sheet shows them. */
#ifndef PW_VIEW_LISTS_H
#define PW_VIEW_LISTS_H

#include "sheet/view.h"

/** Fills view->fires, cores and holds.  Returns 0, or -1 when memory is out. */
int pw_view_lists_make(struct pw_view *view);

#endif
