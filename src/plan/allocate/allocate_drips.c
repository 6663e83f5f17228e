/* allocate_drips.c - [A10] see allocate_drips.h.  The program leaves the rule out: its bound is one for plans that keep it too. */
#include "plan/allocate/allocate_drips.h"

#include "plan/lots/drips.h"

#include <math.h>

static int minute(const struct pw_al *al, int slot) { return al->lots->start_at_min + slot * al->slot_min; }

/* Racks of unlike length: where one lies above the other nobody told, so everywhere. */
static bool may_overlap(const struct pw_al *al, int za, int ca, int zb, int cb)
{
  const struct pw_zone *a = &al->lots->zones[za], *b = &al->lots->zones[zb];
  const struct pw_rack *ra = &al->ev->pits[a->pit].racks[a->rack], *rb = &al->ev->pits[b->pit].racks[b->rack];
  double gap_m = fmax(a->x_m, b->x_m) - fmin(a->x_m + a->length_m, b->x_m + b->length_m);
  return fabs(ra->length_m - rb->length_m) > 1e-6 || gap_m < al->lot[ca].drip_reach_m + al->lot[cb].drip_reach_m;
}

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

bool pw_al_is_soiled(const struct pw_al_state *st, int c, const struct pw_al_option *o)
{
  const struct pw_al *al = st->al;
  int p = al->pit_of_zone[o->zone];
  if (al->ev->pits[p].n_racks < 2)
    return false;
  size_t n_z = (size_t)al->n_zones, mine_z = (size_t)o->zone;
  const int *lots = &st->pit_lot[(size_t)p * (size_t)al->n_lots];
  for (int n = 0; n < st->n_pit_lot[p]; n++) {
    int k = lots[n];
    if (!al->lot[c].is_raw && !al->lot[k].is_raw)
      continue;
    for (int i = 0; i < st->n_groups[k]; i++) {
      const struct pw_al_group *g = &st->group[k][i];
      if (g->start >= o->mid || g->done <= o->start || al->pit_of_zone[g->zone] != p)
        continue; /* not at one time */
      bool is_over = al->lot[c].is_raw && al->is_above[mine_z * n_z + (size_t)g->zone],
           is_under = al->lot[k].is_raw && al->is_above[(size_t)g->zone * n_z + mine_z];
      if ((!is_over && !is_under) || !may_overlap(al, o->zone, c, g->zone, k))
        continue; /* not one above the other */
      struct pw_drip_span mine = span(al, c, o->zone, o->setting, o->start, o->done),
                          its = span(al, k, g->zone, st->setting[p * al->n_days + al->lot[k].day], g->start, g->done);
      if (is_over ? pw_drips_spoil(&mine, &its) : pw_drips_spoil(&its, &mine))
        return true;
    }
  }
  return false;
}
