/* allocate_drips.c - [A10] see allocate_drips.h.  The program leaves the rule out: its bound is one for plans that keep it too. */
#include "plan/allocate/allocate_drips.h"

#include "plan/lots/drips.h"

#include <math.h>

static int minute(const struct pw_al *al, int slot) { return al->lots->start_at_min + slot * al->slot_min; }

static struct pw_drip_span span(const struct pw_al *al, int c, int zone, int setting, int start, int done)
{
  const struct pw_lot *lot = &al->lots->lots[c];
  int d1 = al->lot[c].d1[(size_t)zone * (size_t)al->n_settings_max + (size_t)setting], at = minute(al, start);
  return (struct pw_drip_span){
      .cut = &al->ev->cuts[lot->cut],
      .lot = c,
      .start_min = at,
      .safe_min = at + (lot->safe_min && lot->safe_min[zone] ? lot->safe_min[zone][setting] : d1 * al->slot_min),
      .open_min = at + d1 * al->slot_min,
      .done_min = minute(al, done)};
}

/* Whether lots c and k, in the smoke of two zones of one pit, may drip on each other's food. */
static bool may_spoil(const struct pw_al *al, int c, int zone, int k, int its_zone, bool *is_over)
{
  size_t n_z = (size_t)al->n_zones, over = (size_t)zone * n_z + (size_t)its_zone,
         under = (size_t)its_zone * n_z + (size_t)zone;
  bool is_under = al->lot[k].is_raw && al->is_above[under];
  *is_over = al->lot[c].is_raw && al->is_above[over];
  return (*is_over || is_under) && al->drip_gap_m[over] < al->lot[c].drip_reach_m + al->lot[k].drip_reach_m;
}

/* The same, at their hours: c laid by o, the other as in t. */
static bool does_spoil(const struct pw_al_state *st, int c, const struct pw_al_option *o, const struct pw_al_threat *t)
{
  const struct pw_al *al = st->al;
  struct pw_drip_span mine = span(al, c, o->zone, o->setting, o->start, o->done),
                      its = span(al, t->lot, t->zone,
                                 st->setting[al->pit_of_zone[t->zone] * al->n_days + al->lot[t->lot].day], t->start,
                                 t->done);
  return t->is_over ? pw_drips_spoil(&mine, &its) : pw_drips_spoil(&its, &mine);
}

int pw_al_threats(struct pw_al_state *st, int c, int zone)
{
  const struct pw_al *al = st->al;
  int p = al->pit_of_zone[zone], n = 0;
  if (al->ev->pits[p].n_racks < 2)
    return 0;
  const int *lots = &st->pit_lot[(size_t)p * (size_t)al->n_lots];
  for (int i = 0; i < st->n_pit_lot[p]; i++)
    for (int j = 0; j < st->n_groups[lots[i]]; j++) {
      const struct pw_al_group *g = &st->group[lots[i]][j];
      struct pw_al_threat t = {.lot = lots[i], .zone = g->zone, .start = g->start, .done = g->done};
      if (al->pit_of_zone[g->zone] == p && may_spoil(al, c, zone, t.lot, t.zone, &t.is_over))
        st->threat[n++] = t;
    }
  return n;
}

bool pw_al_is_threatened(const struct pw_al_state *st, int c, const struct pw_al_option *o, int n_threats)
{
  for (int i = 0; i < n_threats; i++)
    if (st->threat[i].start < o->mid && st->threat[i].done > o->start && does_spoil(st, c, o, &st->threat[i]))
      return true;
  return false;
}

bool pw_al_is_soiled(const struct pw_al_state *st, int c, const struct pw_al_option *o)
{
  const struct pw_al *al = st->al;
  int p = al->pit_of_zone[o->zone], n_lots = st->n_pit_lot[p], mid = o->mid, start = o->start;
  if (n_lots == 0 || al->ev->pits[p].n_racks < 2)
    return false;
  const int *lots = &st->pit_lot[(size_t)p * (size_t)al->n_lots];
  bool is_raw = al->lot[c].is_raw;
  for (int n = 0; n < n_lots; n++) {
    int k = lots[n];
    if (!is_raw && !al->lot[k].is_raw)
      continue;
    const struct pw_al_group *g = st->group[k], *end = g + st->n_groups[k];
    for (; g < end; g++)
      if (g->start < mid && g->done > start && al->pit_of_zone[g->zone] == p) {
        struct pw_al_threat t = {.lot = k, .zone = g->zone, .start = g->start, .done = g->done};
        if (may_spoil(al, c, o->zone, k, g->zone, &t.is_over) && does_spoil(st, c, o, &t))
          return true;
      }
  }
  return false;
}
