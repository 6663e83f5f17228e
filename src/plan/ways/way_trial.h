/* way_trial.h - changes that are planned to see what they would bring: which of the list, and what came of it. */
#ifndef PW_WAY_TRIAL_H
#define PW_WAY_TRIAL_H

#include "plan/ways/way_list.h"
#include "plan/ways/ways.h"

struct pw_arena;

struct pw_way_trial {
  const struct pw_way *way[PW_WAY_PARTS_MAX]; /* in the order of the list */
  int n;
  struct pw_arena *arena;
  struct pw_plan plan; /* while it is looked at */
  pw_status status;
  struct pw_remedy remedy; /* missed_after INT_MAX: it cannot be */
  double lack_frac;        /* what its meals lack to their chances */
  long n_looks;
};

/** Trials in order, and how far they are planned. */
struct pw_way_trials {
  struct pw_plan *plan; /* the one they are held against */
  const struct pw_ways_planner *planner;
  struct pw_ctx *ctx;
  enum pw_way_care care; /* of the next to be planned */
  struct pw_way_trial *trials;
  int n, cap;
  int n_done; /* planned so far */
  long n_looks, looks_most, looks_per_lot;
};

/** Plans what was added since, some at a time; none more once so many options were looked at, or after the deadline: those are
 *  taken off the end.  Errors: PW_ERR_MEMORY. */
pw_status pw_way_trials_run(struct pw_way_trials *w);

/** Adds the trial of `base` and one more way, unless it is there, makes no sense or there is no room. */
void pw_way_trials_add(struct pw_way_trials *w, const struct pw_way_trial *base, const struct pw_way *way,
                       const struct pw_way *list);
bool pw_way_trial_holds(const struct pw_way_trial *t, const struct pw_way *way);

/** The trial as it is told: its words, lines and parts added to what was planned.  Errors: PW_ERR_MEMORY. */
pw_status pw_way_trial_tell(struct pw_remedy *out, const struct pw_way_trial *t, struct pw_ctx *ctx);

/** Ways to be ready on time more often, of a plan in which all has a place (way_late.c).  Errors: PW_ERR_MEMORY. */
pw_status pw_ways_late(struct pw_plan *plan, const struct pw_ways_planner *planner, struct pw_ctx *ctx);

#endif
