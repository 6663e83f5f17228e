/* allocate_search.h - whole pieces: takes the allocation problem, gives each piece a place and a time.
 *
 * Ruin and recreate: part of the plan is taken off the racks and put back by cheapest insertion, and the
 * result is kept by simulated annealing.  Every state it visits is true to the racks (bit maps), ovens,
 * boxes and hands; what finds no place waits in a pool that costs more than anything else. */
#ifndef PW_ALLOCATE_SEARCH_H
#define PW_ALLOCATE_SEARCH_H

#include "plan/allocate/allocate_data.h"

/** One piece.  Undefined but for `is_placed` while it waits in the pool. */
struct pw_al_piece {
  int lot;
  bool is_placed;
  int zone, setting;
  int place;            /* of the finish: a zone, n_zones + f, or PW_NONE when the cut has no finish */
  int start, mid, done; /* slots: smoke [start, mid), finish [mid, done); without a finish mid == done */
  int box;              /* finisher it rests and is held in, or PW_NONE when it needs none */
  int x1, y1, x2, y2;   /* cells of the smoke and of the finish on a rack */
  bool is_turned1, is_turned2;
};

/** Windows that limit a search, [p * n_days + d]: pit p may have food of day d on in slots [from, to);
 *  from == to closes it. */
struct pw_al_windows {
  int *from, *to;
};

struct pw_al_guide;

/** Is told of every plan without waiting pieces that is the search's best so far. */
struct pw_al_listener {
  void (*hear)(void *user, double cost_cents);
  void *user;
};

enum {
  PW_AL_LOOKS_MAX = 9 * 1000 * 1000
}; /* options looked at, after which a search ends: far above what any yard asks */

struct pw_al_solution {
  struct pw_al_piece *pieces; /* lot by lot */
  int n_pieces;
  double cost_cents;
  int n_missed;
  int *settings; /* [p * n_days + day] */
  long n_rounds; /* done */
  long n_looks;  /* options looked at */
  enum pw_stop stopped_by;
};

/** Is asked of a plan without waiting pieces before it becomes the search's best: false, and the search does not go there. */
struct pw_al_asker {
  bool (*is_wanted)(void *user, const struct pw_al_solution *solution);
  void *user;
};

struct pw_al_search_options {
  unsigned seed;
  long n_rounds;        /* ruin-and-recreate rounds: the deterministic limit */
  long n_rounds_missed; /* rounds in all that may be spent while pieces find no place; at least n_rounds counts */
  long looks_most;      /* options looked at, after which it ends; 0: PW_AL_LOOKS_MAX */
  double seconds;       /* safety net; <= 0 for none */
  double target_cents;  /* stop at or below this cost */
  const struct pw_al_windows *limits; /* for every round, or NULL */
  const struct pw_al_guide *guide;    /* sends the first pieces and prices room, or NULL */
  bool is_lit;                        /* within the limits fires count as lit: room costs the guide's rent */
  double miss_all_cents; /* > 0: what all the food without a place would count, a piece its share of rack and time,
                                so that rounds may trade one for another; 0: the problem's price */
  bool
      is_pressing; /* with miss_all_cents: a lot counts more for each round it waits; a plan without waiting pieces is better
                       than any with, and only one meets the target */
  const struct pw_al_piece *pieces;      /* a plan to start from, as far as it fits, or NULL */
  double heat_frac;                      /* first temperature of the annealing / best cost */
  const int *settings;                   /* [p * n_days + day] to start with, or NULL for the first setting */
  const struct pw_al_listener *listener; /* or NULL */
  const struct pw_al_asker *asker;       /* or NULL; `pieces` are then a plan that is wanted */
};

/** The memory of a search, to run several with: the solution of one is overwritten by the next. */
struct pw_al_run;
/** Errors: PW_ERR_MEMORY.  Owned by the context's arena. */
pw_status pw_al_run_open(struct pw_al_run **out, const struct pw_al *al, struct pw_ctx *ctx);
/** Runs one search; `out` is good until the next one.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_run_search(struct pw_al_run *run, struct pw_al_solution *out,
                           const struct pw_al_search_options *options);

/** What part of all the rack and time the food needs is one piece of lot c. */
double pw_al_run_share(const struct pw_al_run *run, int c);

/** What the misses of a solution cost. */
double pw_al_solution_missed_cents(const struct pw_al *al, const struct pw_al_solution *solution);

/** Both in one.  Errors: PW_ERR_MEMORY. */
pw_status pw_al_search(struct pw_al_solution *out, const struct pw_al *al, const struct pw_al_search_options *options,
                       struct pw_ctx *ctx);

/** Stretches of slots in which pit p must burn for the given food; returns how many (at most max).
 *  `active[t]`: food on; `setting[t]`: its setting.  Bridges or relights, whichever is cheaper. */
struct pw_al_stretch {
  int from, to, setting;
};
int pw_al_burns(const struct pw_al_pit *pit, int n_slots, const unsigned char *active, const signed char *setting,
                struct pw_al_stretch *out, int max, double *cost_cents);

#endif
