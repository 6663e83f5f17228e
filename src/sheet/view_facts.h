/* view_facts.h - every number of the event and the catalogs that the plan rests on, with its source. */
#ifndef PW_VIEW_FACTS_H
#define PW_VIEW_FACTS_H

#include "sheet/view.h"

/** Fills view->facts.  Returns 0, or -1 when memory is out. */
int pw_view_facts_make(struct pw_view *view);

#endif
