/* view_cores.c - see view_cores.h. */
#include "sheet/view_cores.h"

#include "base/arena.h"

#include <math.h>

/** The pit of the lot's coolest open place; PW_NONE when it has none. */
static int coolest_pit(const struct pw_view *view, int lot)
{
  const struct pw_plan *plan = view->plan;
  double coolest = HUGE_VAL;
  int pit = PW_NONE;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->lot != lot || load->stage != PW_LOAD_SMOKE || load->zone == PW_NONE)
      continue;
    int here = plan->lots.zones[load->zone].pit;
    double air_c = pw_view_zone_temp_c(view, load->zone, pw_view_setting_at(view, here, load->start_at_min));
    if (air_c < coolest) {
      coolest = air_c;
      pit = here;
    }
  }
  return pit;
}

struct pw_curve *pw_view_cores(struct pw_view *view, double every_min)
{
  const struct pw_plan *plan = view->plan;
  struct pw_ctx ctx = {.arena = view->arena};
  struct pw_curve *curves = pw_arena_array(view->arena, (size_t)plan->lots.n_lots + 1, sizeof *curves);
  for (int l = 0; curves && plan->safety.lots && l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    int pit = coolest_pit(view, l);
    if (pit == PW_NONE || isnan(h->smoke_c) || !isfinite(h->come_up_min))
      continue;
    struct pw_curve_place place = {h->smoke_c, h->finish_c, pw_stage_air_of(plan->event, pit)};
    if (pw_curve_make(&curves[l], &plan->event->cuts[plan->lots.lots[l].cut], &place, every_min, &ctx) != PW_OK)
      curves = NULL;
  }
  view->failed |= !curves;
  return curves;
}

const struct pw_curve_point *pw_view_core_at(const struct pw_curve *curve, double at_min)
{
  for (int i = 0; i < curve->n_points; i++)
    if (fabs(curve->points[i].at_min - at_min) < 1e-6)
      return &curve->points[i];
  return NULL;
}

const char *pw_view_hours(struct pw_view *view, double minutes)
{
  int m = isfinite(minutes) ? (int)lround(minutes / 5.0) * 5 : 0;
  return isfinite(minutes) ? pw_view_printf(view, "%d:%02d", m / 60, m % 60) : "never";
}
