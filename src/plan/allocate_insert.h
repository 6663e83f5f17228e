/* allocate_insert.h - cheapest insertion: puts a lot's waiting pieces where they cost least. */
#ifndef PW_ALLOCATE_INSERT_H
#define PW_ALLOCATE_INSERT_H

#include "plan/allocate_state.h"

/** Small deterministic generator (splitmix64); the seed names the run. */
struct pw_al_rng {
  uint64_t s;
};
uint64_t pw_al_rng_next(struct pw_al_rng *rng);
double pw_al_rng_unit(struct pw_al_rng *rng); /* [0, 1) */
int pw_al_rng_below(struct pw_al_rng *rng, int n); /* 0 .. n-1, n >= 1 */

/** Limits of an insertion. */
struct pw_al_limits {
  const int *from, *to;    /* per pit: food only in slots [from, to) */
  double noise_frac;       /* scores are raised by up to this share, at random */
  double skip_frac;        /* chance that an option is overlooked */
};

/** Puts as many waiting pieces of lot c as find a place. */
void pw_al_insert(struct pw_al_state *st, int c, const struct pw_al_limits *limits, struct pw_al_rng *rng);

#endif
