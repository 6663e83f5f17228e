/* verdict.h - what the true past means for the food [H1][N3]: minutes between 5 and 57 C, and what to do now. */
#ifndef PW_DAY_VERDICT_H
#define PW_DAY_VERDICT_H

#include "day/belief.h"

enum pw_verdict_kind {
  PW_VERDICT_SOUND_UNTIL, /**< still sound; at until_min it is no more */
  PW_VERDICT_REHEAT,      /**< cooked, cooled: to 165 F now, or served or thrown away by until_min */
  PW_VERDICT_THROW_AWAY
};

struct pw_verdict {
  enum pw_verdict_kind kind;
  int lot, pieces;
  int until_min;
  const char *rule; /**< "FSIS 6 h" (FSIS-GD-2021-14), "Food Code 3-501.19" */
  const char *text; /**< one line: what, until when, by which rule */
};

/** Minutes up to now in which the core of a piece was between 5 and 57.2 C: raw on its way up by readings and belief, and cooked since
 *  it was last read hot until it was read at 74 C again. */
int pw_verdict_danger_min(const struct pw_state *state, const struct pw_belief *belief, int piece, struct pw_ctx *ctx);

/** Marks what has to be thrown away as missing in `pieces`, a copy of the state's: nothing that is to come may use it.  How many. */
int pw_verdict_condemn(struct pw_piece *pieces, const struct pw_state *state, const struct pw_belief *belief,
                       struct pw_ctx *ctx);

/** Of every lot that has begun: those minutes, its verdict, "no line puts it in doubt" else.  PW_ERR_MEMORY. */
pw_status pw_verdicts_write(struct pw_buf *out, const struct pw_state *state, const struct pw_belief *belief,
                            struct pw_ctx *ctx);

/** Of every lot that a lost fire, a slow core or a low reading puts in doubt; most pressing first.  PW_ERR_MEMORY. */
pw_status pw_verdicts_make(struct pw_verdict **out, int *n, const struct pw_state *state,
                           const struct pw_belief *belief, struct pw_ctx *ctx);

#endif
