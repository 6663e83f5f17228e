/* safety_words.h - what the check before planning and the report after it share [H1]. */
#ifndef PW_PLAN_SAFETY_WORDS_H
#define PW_PLAN_SAFETY_WORDS_H

#include "pw/event.h"

struct pw_arena;

#define PW_SAFETY_SLACK_C 0.3 /* 145 F is printed as 62.8 or 63 C */

/** Core with which a cut comes off. */
double pw_safety_end_core_c(const struct pw_cut *cut);

/** "takes 7 h 10 min from 50 F to 130 F, more than 6 h"; NULL when memory is out. */
const char *pw_safety_come_up_words(enum pw_units units, double minutes, struct pw_arena *arena);

#endif
