/* allocate_drips.c - [A10] see allocate_drips.h.  The program leaves the rule out: its bound is one for plans that keep it too. */
#include "plan/allocate/allocate_drips.h"

#include "plan/lots/drips.h"

#include <math.h>

static int minute(const struct pw_al *al, int slot) { return al->lots->start_at_min + slot * al->slot_min; }

/* How far a piece may reach out of the zone its middle is in, with the margin. */
static double reach_m(const struct pw_al *al, int c)
{
  const struct pw_lot *lot = &al->lots->lots[c];
  double length_m =
      al->ev->cuts[lot->cut].may_turn ? fmax(lot->footprint_length_m, lot->footprint_width_m) : lot->footprint_length_m;
  return length_m / 2 + PW_DRIP_MARGIN_M;
}

/* Racks of unlike length: where one lies above the other nobody told, so everywhere. */
static bool may_overlap(const struct pw_al *al, int za, int ca, int zb, int cb)
{
  const struct pw_zone *a = &al->lots->zones[za], *b = &al->lots->zones[zb];
  const struct pw_rack *ra = &al->ev->pits[a->pit].racks[a->rack], *rb = &al->ev->pits[b->pit].racks[b->rack];
  double gap_m = fmax(a->x_m, b->x_m) - fmin(a->x_m + a->length_m, b->x_m + b->length_m);
  return fabs(ra->length_m - rb->length_m) > 1e-6 || gap_m < reach_m(al, ca) + reach_m(al, cb);
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
  const struct pw_zone *zone = &al->lots->zones[o->zone];
  const struct pw_pit *pit = &al->ev->pits[zone->pit];
  if (pit->n_racks < 2)
    return false;
  struct pw_drip_span mine = span(al, c, o->zone, o->setting, o->start, o->done);
  bool is_raw = pw_drips_raw(mine.cut);
  const int *lots = &st->pit_lot[(size_t)zone->pit * (size_t)al->n_lots];
  for (int n = 0; n < st->n_pit_lot[zone->pit]; n++)
    for (int i = 0, k = lots[n]; i < st->n_groups[k]; i++) {
      const struct pw_al_group *g = &st->group[k][i];
      const struct pw_zone *other = &al->lots->zones[g->zone];
      if (other->pit != zone->pit || other->rack == zone->rack || g->start >= o->mid || g->done <= o->start)
        continue; /* not one above the other, or not at one time */
      bool is_over = is_raw && pw_drips_above(pit, zone->rack, other->rack),
           is_under = pw_drips_above(pit, other->rack, zone->rack);
      if ((!is_over && !is_under) || !may_overlap(al, o->zone, c, g->zone, k))
        continue;
      struct pw_drip_span its =
          span(al, k, g->zone, st->setting[zone->pit * al->n_days + al->lot[k].day], g->start, g->done);
      if (is_over ? pw_drips_spoil(&mine, &its) : pw_drips_spoil(&its, &mine))
        return true;
    }
  return false;
}
