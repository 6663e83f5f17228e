/* grate.c - see grate.h.  A grate is no pit: what comes off it keeps minutes, not hours, and is eaten while the next lies on.  So a service
 * gets as many waves as its grates and its cooks need to get through all of it, and none of them is larger than they are.
 * In: event, pieces of each cut.  Out: a number of waves, from which waves.c goes on. */
#include "plan/lots/grate.h"

#include "heat/fit.h"
#include "plan/demand/head_count.h"
#include "plan/lots/waves.h"

#include <math.h>

static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }

/* In rows on a stretch of a rack, one way round; a disc counts as the square in it, and takes one piece wherever one fits. */
static int in_rows(const struct pw_rack *rack, double stretch_m, double length_m, double width_m)
{
  double side = rack->outline == PW_DISC ? sqrt(0.5) : 1.0;
  return (int)floor(side * stretch_m / length_m + 1e-9) * (int)floor(side * rack->depth_m / width_m + 1e-9);
}

static int on_rack(const struct pw_cut *cut, const struct pw_pit *pit, int rack, int setting)
{
  const struct pw_rack *r = &pit->racks[rack];
  int n_fits = 0;
  for (int k = 0; k < r->n_zones; k++)
    n_fits += pw_fit_zone(cut, false, pit, rack, k, setting) == PW_FITS;
  double stretch_m = r->length_m * n_fits / r->n_zones, l = cut->length_m + cut->clearance_m,
         w = cut->width_m + cut->clearance_m;
  int n = in_rows(r, stretch_m, l, w);
  if (cut->may_turn)
    n = max_int(n, in_rows(r, stretch_m, w, l));
  return max_int(n, n_fits > 0);
}

int pw_grate_pieces(const struct pw_event *ev, int pit, int cut)
{
  int most = 0;
  for (int s = 0; s < ev->pits[pit].n_settings; s++) {
    int n = 0;
    for (int r = 0; r < ev->pits[pit].n_racks; r++)
      n += on_rack(&ev->cuts[cut], &ev->pits[pit], r, s);
    most = max_int(most, n);
  }
  return most;
}

/* Hands at the grates while a service eats: given shifts, and whoever could be called.  Shifts that were worked out are of those. */
static int cooks_at(const struct pw_event *ev, const struct pw_service *s)
{
  int n = 0;
  for (int c = 0; c < ev->n_crew; c++)
    if (!ev->crew[c].worked && (ev->crew[c].duties >> PW_DUTY_PIT & 1u) != 0 && ev->crew[c].from_at_min <= s->at_min &&
        ev->crew[c].to_at_min >= s->at_min + s->length_min)
      n += pw_head_count_hands(ev, &ev->crew[c]);
  for (int p = 0; p < ev->n_pool; p++)
    if ((ev->pool[p].duties >> PW_DUTY_PIT & 1u) != 0)
      n += ev->pool[p].up_to;
  return n;
}

static int cook_slots_min(const struct pw_event *ev, const struct pw_cut *cut)
{
  return (cut->smoke.ref_min + ev->slot_min - 1) / ev->slot_min * ev->slot_min;
}

/* Waves of a cut when the grates ask for n: no more than it has pieces, and each with time for its cook before the next. */
static int waves_of(const struct pw_event *ev, const struct pw_raw_need *raw, int n)
{
  const struct pw_service *s = &ev->services[raw->service];
  int has_time = (pw_last_plate_min(s) - s->at_min) / cook_slots_min(ev, &ev->cuts[raw->cut]);
  return max_int(1, min_int(n, min_int(has_time, raw->pieces)));
}

static bool share_a_pit(const struct pw_event *ev, int a, int b)
{
  for (int p = 0; p < ev->n_pits; p++)
    if (pw_grate_pieces(ev, p, a) > 0 && pw_grate_pieces(ev, p, b) > 0)
      return true;
  return false;
}

/* With n waves the largest of each cut that shares the cut's grates lies on them at once, and the cooks get round. */
static bool is_enough(const struct pw_event *ev, const struct pw_purchase *purchase, int service, int cut, int n)
{
  double grates = 0, work_min = 0;
  int cooks = cooks_at(ev, &ev->services[service]), shortest_min = cook_slots_min(ev, &ev->cuts[cut]);
  for (int i = 0; i < purchase->n_raws; i++) {
    const struct pw_raw_need *raw = &purchase->raws[i];
    const struct pw_cut *c = &ev->cuts[raw->cut];
    int at_once = 0;
    if (raw->service != service || raw->pieces <= 0 || !c->smoke.is_over_coals || !share_a_pit(ev, cut, raw->cut) ||
        cook_slots_min(ev, c) >
            ev->services[service].length_min) /* done before anybody eats, like the rest of the meal */
      continue;
    for (int p = 0; p < ev->n_pits; p++)
      at_once += pw_grate_pieces(ev, p, raw->cut);
    int waves = waves_of(ev, raw, n), most = (raw->pieces + waves - 1) / waves;
    grates += (double)most / at_once;
    work_min += most * (c->load_min + c->unload_min + c->turn_min * max_int(1, c->smoke.turns));
    shortest_min = min_int(shortest_min, cook_slots_min(ev, c));
  }
  return grates <= 1 + 1e-9 && (cooks == 0 || work_min <= cooks * shortest_min + 1e-9);
}

int pw_grate_waves(const struct pw_event *ev, const struct pw_purchase *purchase, int service, int cut)
{
  const struct pw_raw_need *own = NULL;
  for (int i = 0; i < purchase->n_raws; i++)
    if (purchase->raws[i].service == service && purchase->raws[i].cut == cut)
      own = &purchase->raws[i];
  enum pw_style style = ev->services[service].style;
  bool is_at_once =
      style == PW_PLATED || style == PW_BOXED || style == PW_DROP_OFF; /* nobody waits for a second load */
  if (!own || own->pieces <= 0 || !ev->cuts[cut].smoke.is_over_coals || is_at_once)
    return 1;
  int n = 1;
  while (n < PW_WAVES_MAX && !is_enough(ev, purchase, service, cut, n))
    n++;
  return waves_of(ev, own, n);
}
