/* allocate_short.c - names the short resource: puts the best plan back on the racks and asks, for one more
 * piece of each lot, what bars the most ways to cook it. */
#include "plan/allocate/allocate_short.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"
#include "plan/allocate/allocate_exchange.h"
#include "plan/allocate/allocate_insert.h"

static const char *const RESOURCE[PW_AL_BAR__COUNT] = {"rack", "oven", "hold", "hands", "rack"};

static int at_min(const struct pw_al *al, int slot) { return al->lots->start_at_min + slot * al->slot_min; }

/* the bar that matters: alone on most options; else among others on most */
static int worst_bar(const struct pw_al_bars *bars)
{
  int worst = 0;
  for (int k = 1; k < PW_AL_BAR__COUNT; k++)
    if (bars->n_alone[k] > bars->n_alone[worst] ||
        (bars->n_alone[k] == bars->n_alone[worst] && bars->n_among[k] > bars->n_among[worst]))
      worst = k;
  return worst;
}

static const char *shortage_text(const struct pw_al *al, int c, int pieces, const struct pw_al_bars *bars, int bar,
                                 double area_m2, struct pw_ctx *ctx)
{
  const struct pw_event *ev = al->ev;
  const struct pw_lot *lot = &al->lots->lots[c];
  const struct pw_service *service = &ev->services[lot->service];
  char *who = pw_arena_printf(ctx->arena, "%d of %d %s for %s", pieces, lot->pieces, ev->cuts[lot->cut].name,
                              service->name ? service->name : service->id);
  if (!who)
    return NULL;
  if (bars->n_options == 0)
    return pw_arena_printf(
        ctx->arena,
        "%s: no pit on the job can cook them in time at its temperature; look at the pits' settings, "
        "the cut's range and the hours before the service",
        who);
  struct pw_short from = pw_when(ev, at_min(al, bars->from[bar])), to = pw_when(ev, at_min(al, bars->to[bar]));
  switch (bar) {
  case PW_AL_BAR_RACK:
    return pw_arena_printf(
        ctx->arena, "%s: no rack has room for them; the first that is full is on %s, %s to %s; %s short", who,
        ev->pits[al->pit_of_zone[bars->zone[bar]]].name, from.s, to.s, pw_format_area(ev->units, area_m2).s);
  case PW_AL_BAR_DRIPS:
    return pw_arena_printf(
        ctx->arena,
        "%s: on %s, %s to %s, raw meat would drip on food that does not pass its kill step any more "
        "(FDA Food Code 2022 3-302.11): put a tray between the racks (tray_below), or move a service",
        who, ev->pits[al->pit_of_zone[bars->zone[bar]]].name, from.s, to.s);
  case PW_AL_BAR_OVEN:
    return pw_arena_printf(ctx->arena, "%s: the ovens are full, %s to %s", who, from.s, to.s);
  case PW_AL_BAR_HOLD:
    return pw_arena_printf(ctx->arena, "%s: the hot boxes are full from %s to %s; %s more pans are needed", who, from.s,
                           to.s, pw_format_number(al->lot[c].pans * pieces, 1).s);
  default:
    return pw_arena_printf(ctx->arena, "%s: not enough pit hands on shift to load, wrap and take them off, first at %s",
                           who, from.s);
  }
}

enum {
  BARS_LOOKS = 2000 * 1000,
  BARS_LEAST = 300
}; /* options looked at for the words, all lots together and each at least */

pw_status pw_al_shortages(struct pw_allocation *out, const struct pw_al *al, const struct pw_al_solution *best,
                          struct pw_ctx *ctx)
{
  struct pw_al_state st;
  pw_status status = pw_al_state_of(&st, al, best, ctx);
  if (status)
    return status;
  out->shortages = pw_arena_array(ctx->arena, (size_t)al->n_lots + 1, sizeof *out->shortages);
  if (!out->shortages)
    return PW_ERR_MEMORY;
  for (int c = 0; c < al->n_lots; c++) {
    if (out->missed[c] == 0)
      continue;
    struct pw_al_bars bars;
    pw_al_insert_bars(&st, c, BARS_LOOKS / al->n_lots + BARS_LEAST, &bars);
    int bar = worst_bar(&bars);
    const struct pw_lot *lot = &al->lots->lots[c];
    struct pw_shortage *s = &out->shortages[out->n_shortages++];
    *s = (struct pw_shortage){.lot = c, .pieces = out->missed[c], .resource = bars.n_options ? RESOURCE[bar] : "time"};
    if (bars.n_options) {
      s->from_at_min = at_min(al, bars.from[bar]);
      s->to_at_min = at_min(al, bars.to[bar]);
    }
    if (bars.n_options && bar == PW_AL_BAR_RACK)
      s->area_m2 = out->missed[c] * lot->footprint_length_m * lot->footprint_width_m;
    s->text = shortage_text(al, c, out->missed[c], &bars, bar, s->area_m2, ctx);
    if (!s->text)
      return PW_ERR_MEMORY;
  }
  return PW_OK;
}
