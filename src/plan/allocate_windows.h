/* allocate_windows.h - a search over burn windows around the whole-piece search: from windows that a linear program
 * chose to a plan, then the same food in shorter or fewer burns. */
#ifndef PW_ALLOCATE_WINDOWS_H
#define PW_ALLOCATE_WINDOWS_H

#include "plan/allocate_search.h"

struct pw_al_windows_options {
  unsigned seed;
  long n_rounds_first;       /* of ruin and recreate inside the first windows */
  long n_rounds_free;        /* then without windows, from there */
  long n_rounds;             /* then over all trials */
  double seconds;            /* safety net for the whole; <= 0 for none */
  double target_cents;       /* stop at or below this cost */
  double worth_cents;        /* about what the plan will cost, at least: prices pieces without a place; > 0 */
  const struct pw_al_guide *guide;
  const struct pw_al_windows *windows; /* the first ones, too tight perhaps */
  const int *settings;       /* [p * n_days + d] */
  const struct pw_al_listener *listener; /* or NULL */
};

/** `out` lies in the run's or the context's memory, good until the run is used again.  `run` is used up.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_al_windows_search(struct pw_al_solution *out, struct pw_al_run *run, const struct pw_al *al,
                               const struct pw_al_windows_options *options, struct pw_ctx *ctx);

#endif
