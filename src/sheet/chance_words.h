/* chance_words.h - how sure it is that a meal is ready [R1], in words, the same on every sheet. */
#ifndef PW_CHANCE_WORDS_H
#define PW_CHANCE_WORDS_H

#include "base/arena.h"
#include "pw/plan.h"

/** "96 of 100 cooks; most often late: Pork shoulder, 4 of 100, by 18 min", below its target with the first causes and the ways out; "" when no chance was worked out, NULL when memory is out. */
const char *pw_chance_words(const struct pw_plan *plan, int service, struct pw_arena *arena);

/** "97 of 100 cooks, watch Pork shoulder": the dish that is late most often; as above. */
const char *pw_chance_short_words(const struct pw_plan *plan, int service, struct pw_arena *arena);

/** First causes of a meal that has its target, and what the chance leaves out, in sentences: fires that go wrong, and what is ready so early that it is held too long.  As above. */
const char *pw_chance_more_words(const struct pw_plan *plan, int service, struct pw_arena *arena);

/** "Ready on time: 97 of 100 cooks, 88 without it." of a way out; "" when its chance was not drawn, NULL when memory is out. */
const char *pw_chance_after_words(const struct pw_plan *plan, const struct pw_remedy *way, struct pw_arena *arena);

/** How much time to spare a row of the quote's levels leaves: "this plan", "none", "half", ... */
const char *pw_level_words(const struct pw_quote_level *level);

#endif
