/* empty_fire.c - walks each fire from its first clean minute to its last and looks for stretches without food. */
#include "plan/fire/empty_fire.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/money.h"
#include "base/when.h"

static bool is_on(const struct pw_load *l, const struct pw_lots *lots, int pit)
{
  return l->zone != PW_NONE && lots->zones[l->zone].pit == pit &&
         (l->stage == PW_LOAD_SMOKE || l->stage == PW_LOAD_FINISH);
}

/* The next stretch without food from `at` on, in [at, out): false when there is none. */
static bool next_empty(const struct pw_burn *burn, const struct pw_lots *lots, const struct pw_allocation *a, int at,
                       int *from, int *to)
{
  for (bool is_moved = true; is_moved;) { /* over what is on, and what goes on when that comes off */
    is_moved = false;
    for (int i = 0; i < a->n_loads; i++)
      if (is_on(&a->loads[i], lots, burn->pit) && a->loads[i].start_at_min <= at && a->loads[i].end_at_min > at) {
        at = a->loads[i].end_at_min;
        is_moved = true;
      }
  }
  *from = at;
  *to = burn->out_at_min;
  for (int i = 0; i < a->n_loads; i++)
    if (is_on(&a->loads[i], lots, burn->pit) && a->loads[i].start_at_min >= at && a->loads[i].start_at_min < *to)
      *to = a->loads[i].start_at_min;
  return *from < burn->out_at_min;
}

pw_status pw_empty_fires(struct pw_fuel_plan *fuel, const struct pw_event *ev, const struct pw_lots *lots,
                         const struct pw_allocation *allocation, const struct pw_fuel_rates *rates, struct pw_ctx *ctx)
{
  size_t most = (size_t)allocation->n_loads + (size_t)allocation->n_burns + 1;
  fuel->n_empty = 0;
  fuel->empty = pw_arena_array(ctx->arena, most, sizeof *fuel->empty);
  if (!fuel->empty)
    return PW_ERR_MEMORY;
  for (int b = 0; b < allocation->n_burns; b++) {
    const struct pw_burn *burn = &allocation->burns[b];
    const struct pw_pit *pit = &ev->pits[burn->pit];
    double cents_per_h =
        rates->burn_cents_per_h[burn->pit][burn->setting] + ev->effort.tend_cents_per_h * pit->tend_min_per_h / 60;
    for (int at = burn->ready_at_min, from, to; next_empty(burn, lots, allocation, at, &from, &to); at = to)
      if (to - from >= PW_EMPTY_LEAST_MIN)
        fuel->empty[fuel->n_empty++] =
            (struct pw_empty_fire){b, from, to, pw_money_round(cents_per_h * (to - from) / 60)};
  }
  return PW_OK;
}

const char *pw_empty_fire_words(const struct pw_empty_fire *empty, const struct pw_event *ev,
                                const struct pw_allocation *allocation, struct pw_ctx *ctx)
{
  return pw_arena_printf(
      ctx->arena,
      "%s burns with nothing on it from %s to %s, %s: about %s of wood and tending. Lighting it again "
      "would cost more, or it may be lit no more often.",
      ev->pits[allocation->burns[empty->burn].pit].name, pw_when(ev, empty->from_at_min).s,
      pw_when(ev, empty->to_at_min).s, pw_format_minutes(empty->to_at_min - empty->from_at_min).s,
      pw_money_format(ev, empty->cents).s);
}
