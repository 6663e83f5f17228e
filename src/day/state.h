/* state.h - what is true now [N1]: the plan up to now, with what the log says in its place.
 * Every piece has the stages of its plan with the minutes at which they really began and ended; what nobody logged is taken as done as
 * planned, and told. */
#ifndef PW_DAY_STATE_H
#define PW_DAY_STATE_H

#include "day/log.h"

enum { PW_DAY_NEVER = -2000000000, PW_DAY_OPEN = 2000000000 }; /**< has not begun; has not ended */

/** Where a piece is now. */
enum pw_piece_where {
  PW_PIECE_RAW,
  PW_PIECE_SMOKES,
  PW_PIECE_FINISHES,
  PW_PIECE_RESTS,
  PW_PIECE_HOLDS,
  PW_PIECE_SERVED,
  PW_PIECE_LOST
};

/** A stage of a piece. */
struct pw_piece_stage {
  int load;               /**< of the allocation; PW_NONE: the piece has no such stage */
  int start_min, end_min; /**< as it was or, from now on, as planned */
  bool is_start_logged, is_end_logged;
  int zone, finisher; /**< where it really is; PW_NONE: no such place */
  bool is_carried;    /**< there since carried_min, and before that at from_zone or from_finisher */
  int carried_min, from_zone, from_finisher;
};

/** A core temperature that was read. */
struct pw_core_reading {
  int at_min;
  double core_c;
  int line; /**< of the log */
};

struct pw_piece {
  int lot, nth;                   /**< nth of its lot, from 0: "B2" is 1 */
  struct pw_piece_stage stage[4]; /**< by enum pw_load_stage */
  enum pw_piece_where where;      /**< now */
  struct pw_core_reading *readings;
  int n_readings;
  bool is_waiting; /**< somebody said that it is not on yet, and nobody since that it is */
  bool is_missing; /**< never found a place, did not come, or lost */
};

/** A stretch without fire. */
struct pw_outage {
  int pit, from_min, to_min;
  bool is_open; /**< it does not burn yet: to_min is reckoned */
};

struct pw_absence {
  int person; /**< of tasks.people */
  int from_min, to_min;
};

/** What the crew goes by: the tasks of the newest plan that was handed out. */
struct pw_handed {
  const struct pw_task *tasks;
  int n_tasks, edition; /**< 1: the first plan */
};

struct pw_state {
  const struct pw_plan *plan; /**< the first: what is believed is counted from its minutes */
  struct pw_handed held;      /**< of that plan until the caller says otherwise */
  const struct pw_log *log;
  int now_min;
  struct pw_piece *pieces;
  int n_pieces, *first; /**< pieces of lot l: first[l] .. first[l + 1] - 1 */
  struct pw_outage *outages;
  int n_outages;
  struct pw_absence *absences;
  int n_absences;
  int *lit_min;                    /**< [burn] as it was lit */
  bool *is_lit_told;               /**< [burn] a line says so */
  int *guests;                     /**< [service] PW_NONE: as planned */
  int *got;                        /**< [lot] pieces that really came; PW_NONE: as planned */
  double wood_kg;                  /**< left; NAN: nobody said */
  double weather_c, wind_m_s;      /**< NAN: nobody said */
  int wood_at_min, weather_at_min; /**< when it was said */
};

/** Plays plan and log up to now_min.  What cannot have been - more off than on, a piece wrapped that was not on, a core that falls by 22 K
 *  (40 F) though the fire burned - is asked back as a diagnostic at its line.  Errors: PW_ERR_INPUT with those; PW_ERR_MEMORY. */
pw_status pw_state_make(struct pw_state *out, const struct pw_plan *plan, const struct pw_log *log,
                        const struct pw_names *names, int now_min, struct pw_ctx *ctx);

/** The state as a sheet of 80 columns: lot by lot, fires, hands, guests; then "Taken as done". */
pw_status pw_state_write(struct pw_buf *out, const struct pw_state *state, struct pw_ctx *ctx);

/** What a piece does now, one word. */
const char *pw_piece_word(enum pw_piece_where where);

#endif
