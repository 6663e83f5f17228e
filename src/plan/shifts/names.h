/* names.h - counts of shifts become people [S2]: who works which, with rest in between, nights shared out. */
#ifndef PW_SHIFT_NAMES_H
#define PW_SHIFT_NAMES_H

#include "plan/shifts/cover.h"

/** One shift of one person. */
struct pw_shift_turn {
  int shift;  /**< index into the cover's shifts */
  int person; /**< number within the group, from 0; -1: nobody is left who has had the rest */
};

/** Turns by begin, end, group; each goes to the person of its group who is rested and has had the fewest nights (for a shift that
 *  lies in a night) and then the fewest slots.  With the rows [S2b] there is always one: shifts with the rest after them are
 *  intervals, and so many people are enough as overlap at once.  `is_night` per shift, or NULL.  Given shifts (least > 0) are
 *  left out.  *out in the arena of ctx.  Errors: PW_ERR_MEMORY. */
pw_status pw_shift_names(struct pw_shift_turn **out, int *n, const struct pw_cover *cover, const int *counts,
                         const bool *is_night, struct pw_ctx *ctx);

#endif
