/* nearest.h - "did you mean": how far apart two words are, and the nearest of several. */
#ifndef PW_NEAREST_H
#define PW_NEAREST_H

#include <stddef.h>

/** Letters to insert, drop, change or swap with the next one (case ignored) to turn a into b; words above 64
 *  bytes count as far apart. */
int pw_edit_distance(const char *a, const char *b);

/** Best candidate so far; begin with {.word = what was written}. */
struct pw_nearest {
  const char *word;
  const char *best; /**< NULL: nothing near enough (a third of the letters, at least one) */
  int distance;
};

/** Offers one more candidate; the first of equals stays. */
void pw_nearest_offer(struct pw_nearest *n, const char *candidate);

#endif
