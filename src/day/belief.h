/* belief.h - what readings say of the times to come [N2].
 * The length of a stage of a piece is its planned length times exp(y), y = sigma (sqrt(a) z_lot + sqrt(b) z_pit + sqrt(c) z_piece): the law and the
 * shares of plan/chance/chance.h, one z per lot and stage, per pit, day and stage, and per piece and stage.  Every core reading and every
 * logged end observes one y with an error of its own; the update is the linear Gaussian one, exact for this law. */
#ifndef PW_DAY_BELIEF_H
#define PW_DAY_BELIEF_H

#include "day/state.h"

enum { PW_CARRY_MIN = 5 }; /**< what a piece that is carried loses by it: common practice, no source */

/** The grid of a mended plan: a day is mended on finer minutes than it is planned on, so that nothing waits for the next half hour. */
int pw_day_slot_min(const struct pw_plan *plan);

/** log of the factor on a planned length: mean and standard deviation. */
struct pw_pace {
  double mean, sd;
};

/** Of one piece, for its two cooking stages. */
struct pw_piece_belief {
  struct pw_pace pace[2];
  double lost_min[2]; /**< what a fire that was out has cost the stage, by the heat engine */
  int n_seen;         /**< readings and ends of it */
};

struct pw_lot_belief {
  struct pw_pace pace[2]; /**< of a piece of it that nobody has looked at */
  int n_seen;
};

struct pw_belief {
  struct pw_piece_belief *pieces; /**< as in the state */
  struct pw_lot_belief *lots;
  int probe_lot;    /**< one more reading here would help most; PW_NONE: none needed */
  int probe_within; /**< its end is known within so many minutes either way, 8 of 10 */
};

/** Believes.  Errors: PW_ERR_MEMORY. */
pw_status pw_belief_make(struct pw_belief *out, const struct pw_state *state, struct pw_ctx *ctx);

/** Minutes a stage takes by the belief of one piece whose planned length is so long: the middle of it (z 0), or its z-th deviation. */
double pw_belief_minutes(const struct pw_belief *b, int piece, int stage, int planned_min, double z);

/** Minutes the plan has for a stage of a piece in a zone: those of its load, or of the zone it was really laid in. */
int pw_belief_planned_min(const struct pw_state *state, int piece, int stage, int zone);

/** Its last core, else the lowest of those read of what lies beside it in its load, C; NAN: none was read. */
double pw_belief_core_c(const struct pw_state *state, int piece);

/** Minutes a finish takes from a core on, of what it takes from its usual one: a body whose heat goes by one resistance; 1 or more. */
double pw_belief_from_core(const struct pw_state *state, int lot, double core_c, double air_c);

/** Air where a stage of a piece runs, C; NAN: no such place. */
double pw_belief_air_c(const struct pw_state *state, const struct pw_piece_stage *stage);

#endif
