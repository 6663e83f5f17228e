/* allocate_windows.h - a search over burn windows around the whole-piece search: from windows that a linear program
 * chose to a plan, then the same food in shorter or fewer burns. */
#ifndef PW_ALLOCATE_WINDOWS_H
#define PW_ALLOCATE_WINDOWS_H

#include "plan/allocate/allocate_search.h"

struct pw_al_trials_options {
  unsigned seed;
  long n_rounds_first;             /* of ruin and recreate inside the first windows */
  long n_rounds_free;              /* then without windows, from there */
  long n_rounds_missed;            /* in all, before trials, while pieces find no place; at least n_rounds_free count */
  double deadline_s;               /* safety net (base/deadline.h); 0 for none */
  double target_cents;             /* stop at or below this cost */
  double worth_cents;              /* about what the plan will cost, at least: prices pieces without a place; > 0 */
  const struct pw_al_guide *guide; /* or NULL */
  const struct pw_al_windows *windows;   /* the first ones, too tight perhaps */
  const int *settings;                   /* [p * n_days + d] */
  const struct pw_al_listener *listener; /* or NULL */
};

/** Windows just as wide as a plan's food asks for. */
void pw_al_windows_of(struct pw_al_windows *w, const struct pw_al *al, const struct pw_al_solution *solution);

struct pw_al_trials; /* a search under way; in the context's memory */

/** `run` is the search's from now on, until the last call.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_trials_open(struct pw_al_trials **out, struct pw_al_run *run, const struct pw_al *al,
                            const struct pw_al_trials_options *options, struct pw_ctx *ctx);

/** A first plan by the guide, or that of `from` in its place. */
pw_status pw_al_trials_first(struct pw_al_trials *t);
void pw_al_trials_from(struct pw_al_trials *t, const struct pw_al_solution *from);

/** Trials for about so many rounds more; may be called again.  Does nothing when the first plan has pieces waiting, for
 *  then shorter burns are not the question, or when a target or the deadline has stopped the search already. */
pw_status pw_al_trials_go(struct pw_al_trials *t, long n_rounds);

/** From the best plan, each fire in turn, the shortest first: the plan without it.  No more are begun once so many options were looked at.
 *  As pw_al_trials_go() where nothing is to be done. */
pw_status pw_al_trials_fewer(struct pw_al_trials *t, long n_looks);

/** The best plan so far, good until the next call; with the rounds done in all and what stopped the search. */
const struct pw_al_solution *pw_al_trials_best(const struct pw_al_trials *t);

#endif
