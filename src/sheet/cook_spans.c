/* cook_spans.c - see the header. */
#include "sheet/cook_spans.h"

#include <limits.h>

struct pw_cook_span *pw_cook_spans(const struct pw_plan *plan, int *n, struct pw_arena *arena)
{
  const struct pw_allocation *a = &plan->allocation;
  struct pw_cook_span *list = pw_arena_array(arena, (size_t)plan->lots.n_lots + 1, sizeof *list);
  *n = 0;
  for (int l = 0; list && l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    int from = INT_MAX, to = INT_MIN;
    for (int i = 0; i < a->n_loads; i++)
      if (a->loads[i].lot == l && (a->loads[i].stage == PW_LOAD_SMOKE || a->loads[i].stage == PW_LOAD_FINISH)) {
        from = a->loads[i].start_at_min < from ? a->loads[i].start_at_min : from;
        to = a->loads[i].end_at_min > to ? a->loads[i].end_at_min : to;
      }
    if (from <= to)
      list[(*n)++] = (struct pw_cook_span){lot->service, lot->cut, lot->pieces, from, to};
  }
  return list;
}
