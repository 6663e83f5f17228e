/* cook_spans.h - from when to when each lot is over a fire or in an oven: takes a plan, gives one span a lot. */
#ifndef PW_SHEET_COOK_SPANS_H
#define PW_SHEET_COOK_SPANS_H

#include "base/arena.h"
#include "pw/plan.h"

/** A lot from its first piece on to its last one off the heat. */
struct pw_cook_span {
  int service, cut, pieces, from_at_min, to_at_min;
};

/** Lot by lot, those without a place left out.  NULL when memory is out. */
struct pw_cook_span *pw_cook_spans(const struct pw_plan *plan, int *n, struct pw_arena *arena);

#endif
