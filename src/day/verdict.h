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
  const char *rule; /**< "FSIS-GD-2021-14, 6 h" */
  const char *text; /**< one line: what, until when, by which rule */
};

/** Of every lot that a fire that was lost or a low reading puts in doubt; most pressing first.  PW_ERR_MEMORY. */
pw_status pw_verdicts_make(struct pw_verdict **out, int *n, const struct pw_state *state,
                           const struct pw_belief *belief, struct pw_ctx *ctx);

#endif
