/* allocate_insert.h - cheapest insertion: puts a lot's waiting pieces where they cost least. */
#ifndef PW_ALLOCATE_INSERT_H
#define PW_ALLOCATE_INSERT_H

#include "plan/allocate/allocate_guide.h"
#include "plan/allocate/allocate_state.h"

/** Small deterministic generator (splitmix64); the seed names the run. */
struct pw_al_rng {
  uint64_t s;
};
uint64_t pw_al_rng_next(struct pw_al_rng *rng);
double pw_al_rng_unit(struct pw_al_rng *rng);      /* [0, 1) */
int pw_al_rng_below(struct pw_al_rng *rng, int n); /* 0 .. n-1, n >= 1 */

/** Limits of an insertion. */
struct pw_al_limits {
  const int *from, *to; /* [p * n_days + d] food of day d in pit p only in slots [from, to) */
  int shut_pit;         /* a pit without food in [shut_from, shut_to), or PW_NONE */
  int shut_from, shut_to;
  const struct pw_al_guide *rents; /* fires within the limits count as lit, room costs its rent; NULL: fires count */
  double noise_frac;               /* scores are raised by up to this share, at random */
  double skip_frac;                /* chance that an option is overlooked */
};

/** Puts as many waiting pieces of lot c as find a place. */
void pw_al_insert(struct pw_al_state *st, int c, const struct pw_al_limits *limits, struct pw_al_rng *rng);

/** Puts pieces of the flow's lot where the guide sends them, as far as there is room and the limits allow. */
void pw_al_insert_flow(struct pw_al_state *st, const struct pw_al_guide *guide, const struct pw_al_flow *flow,
                       const struct pw_al_limits *limits, struct pw_al_rng *rng);

/** Puts piece i exactly where `rec` says if it fits there now; its box may be another.  Returns whether it did. */
bool pw_al_insert_at(struct pw_al_state *st, int i, const struct pw_al_piece *rec);

/** Why waiting pieces of lot c find no place: options for one more piece, counted by the one thing that bars
 *  them, with the first stretch of slots where it does. */
enum pw_al_bar { PW_AL_BAR_RACK, PW_AL_BAR_OVEN, PW_AL_BAR_HOLD, PW_AL_BAR_HANDS, PW_AL_BAR_DRIPS, PW_AL_BAR__COUNT };
struct pw_al_bars {
  int n_options;
  int n_alone[PW_AL_BAR__COUNT], n_among[PW_AL_BAR__COUNT]; /* barred by it alone / by it and others too */
  int zone[PW_AL_BAR__COUNT];                               /* of the first option it bars */
  int from[PW_AL_BAR__COUNT], to[PW_AL_BAR__COUNT];
};
/* about `most` options at most, evenly spread over the zones */
void pw_al_insert_bars(const struct pw_al_state *st, int c, int most, struct pw_al_bars *bars);

#endif
