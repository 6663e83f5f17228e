/* allocate_tighten.h - the fire of a plan that has one, made shorter by a slot or two: short looks say which windows are nearest to
 * holding the food; long searches, in which waiting lots press for room, try those. */
#ifndef PW_ALLOCATE_TIGHTEN_H
#define PW_ALLOCATE_TIGHTEN_H

#include "plan/allocate/allocate_search.h"

struct pw_al_tighten_options {
  unsigned seed;
  long n_rounds;                         /* of a long search */
  double worth_cents;                    /* about what the plan costs: prices waiting pieces; > 0 */
  double target_cents;                   /* stop at or below this cost */
  double deadline_s;                     /* safety net (base/deadline.h); 0 for none */
  const struct pw_al_guide *guide;       /* or NULL */
  const struct pw_al_listener *listener; /* or NULL; is told from several searches at once */
};

/** Makes *best cheaper where it can; its n_rounds grows by the work done.  Nothing is done where pieces wait
 *  or several fires burn, where it was found to bring nothing.  On any number of processors the same.  Owned by the context's arena.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_tighten(struct pw_al_solution *best, const struct pw_al *al,
                        const struct pw_al_tighten_options *options, struct pw_ctx *ctx);

#endif
