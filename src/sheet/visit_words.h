/* visit_words.h - what one opening of a pit's door is for, in order, and why it comes so soon. */
#ifndef PW_VISIT_WORDS_H
#define PW_VISIT_WORDS_H

#include "sheet/view.h"

/** Openings of the pit's door while one burn lasts. */
int pw_visit_count(const struct pw_plan *plan, int burn);

/** "Door 3 of Wide offset: take off, load, read cores; 10 min after the last: ..."; "" where the task belongs to no visit or an
 *  earlier task of `is_same` hands has told it: the first task of a visit on a sheet tells it for all. */
const char *pw_visit_words(struct pw_view *view, int task, bool (*is_same)(const struct pw_task *t, const void *whose),
                           const void *whose);

#endif
