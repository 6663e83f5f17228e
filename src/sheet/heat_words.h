/* heat_words.h - which lot speaks for its cut in the tables on heat, for every writer [T1][H1]. */
#ifndef PW_HEAT_WORDS_H
#define PW_HEAT_WORDS_H

#include "pw/plan.h"

/** Whether this lot stands for its cut: the one whose core takes longest.  plan->safety.lots is not NULL. */
bool pw_heat_is_slowest(const struct pw_plan *plan, int lot);

#endif
