/* ladder.c - head counts of the ladder: shares of the planned one, rounded to what people say. */
#include "plan/money/ladder.h"

#include "base/arena.h"

#include <math.h>
#include <stddef.h>

static int spoken(double guests)
{
  int step = guests < 20 ? 1 : guests < 100 ? 5 : guests < 1000 ? 10 : 50;
  int n = (int)nearbyint(guests / step) * step;
  return n < 1 ? 1 : n;
}

static int insert(int *guests, int n, int value)
{
  int at = n;
  for (int i = 0; i < n; i++)
    if (guests[i] == value)
      return n;
  for (; at > 0 && guests[at - 1] > value; at--)
    guests[at] = guests[at - 1];
  guests[at] = value;
  return n + 1;
}

void pw_ladder_guests(int guests[PW_LADDER_RUNGS], int planned)
{
  static const double shares[] = {0.5, 0.7, 0.85, 1.15, 1.3, 1.5};
  int n = insert(guests, 0, planned < 1 ? 1 : planned);
  for (size_t i = 0; i < sizeof shares / sizeof *shares; i++)
    n = insert(guests, n, spoken(shares[i] * planned));
  for (int step = 1; n < PW_LADDER_RUNGS; step++) { /* a small party: its neighbours */
    if (planned - step >= 1)
      n = insert(guests, n, planned - step);
    if (n < PW_LADDER_RUNGS)
      n = insert(guests, n, planned + step);
  }
}

pw_status pw_ladder_make(int **guests, int *n, const struct pw_event *ev, int planned, struct pw_ctx *ctx)
{
  const struct pw_ladder_terms *l = &ev->ladder;
  int *list = pw_arena_array(ctx->arena, PW_LADDER_MAX + PW_LADDER_RUNGS + 1, sizeof *list);
  if (!list)
    return PW_ERR_MEMORY;
  *n = PW_LADDER_RUNGS;
  if (l->step > 0) {
    *n = insert(list, 0, planned < 1 ? 1 : planned);
    for (int k = 0; k < PW_LADDER_MAX && l->from + k * l->step <= l->to; k++)
      *n = insert(list, *n, l->from + k * l->step);
  } else {
    pw_ladder_guests(list, planned);
  }
  *guests = list;
  return PW_OK;
}
