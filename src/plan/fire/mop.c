/* mop.c - one clock and one price in work for mopping [S1][F1].  A rub is not mopped before it has set. */
#include "plan/fire/mop.h"

#include <limits.h>

#define WORK_MIN_PER_PIECE 0.5 /* common practice, no source */

double pw_mop_work_min(int pieces) { return WORK_MIN_PER_PIECE * pieces; }

int pw_mop_next_at_min(const struct pw_cut *cut, int on_at_min, int off_at_min, int after_at_min)
{
  if (cut->mop_every_min <= 0)
    return INT_MAX;
  int set_at = on_at_min + cut->rub_set_min, rounds = 1;
  if (after_at_min >= set_at)
    rounds += (after_at_min - set_at) / cut->mop_every_min;
  int at = set_at + rounds * cut->mop_every_min;
  return at <= off_at_min - PW_MOP_LAST_BEFORE_MIN ? at : INT_MAX;
}
