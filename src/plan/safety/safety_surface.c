/* safety_surface.c - lethality at the surface: the FSIS tables hold where it stays moist (FSIS-GD-2021-14, Relative Humidity, table 1 and
 * "Situations when humidity is not needed") [H1].
 * In: lots, their places, their pits' air.  Out: which condition each lot meets; one warning for those that meet none. */
#include "base/arena.h"
#include "base/format.h"
#include "heat/food_code.h"
#include "plan/safety/safety_findings.h"
#include "plan/safety/safety_words.h"

#include <math.h>

pw_status pw_surface_findings_open(struct pw_surface_findings *out, struct pw_findings *f)
{
  *out = (struct pw_surface_findings){.f = f, .least_log = HUGE_VAL};
  out->is_dry = pw_arena_array(f->ctx->arena, (size_t)f->plan->event->n_cuts, sizeof *out->is_dry);
  return out->is_dry ? PW_OK : PW_ERR_MEMORY;
}

static enum pw_surface surface_of(const struct pw_cut *cut, const struct pw_lot *lot, const struct pw_lot_heat *heat)
{
  double coolest_c = fmin(heat->smoke_c, isnan(heat->finish_c) ? HUGE_VAL : heat->finish_c);
  if (cut->kind == PW_KIND_SAUSAGE)
    return PW_SURFACE_CASING;
  if (lot->piece_kg >= PW_FSIS_LARGE_KG - 1e-6 && coolest_c >= PW_FSIS_LARGE_AIR_C - PW_SAFETY_SLACK_C)
    return PW_SURFACE_LARGE;
  return heat->air_humidity_frac >= PW_FOOD_CODE_HUMID_FRAC ? PW_SURFACE_HUMID : PW_SURFACE_DRY;
}

void pw_surface_note(struct pw_surface_findings *s, const struct pw_lot *lot, struct pw_lot_heat *heat)
{
  const struct pw_cut *cut = &s->f->plan->event->cuts[lot->cut];
  if (!pw_food_code_has_come_up(cut->kind, cut->safety) || isnan(heat->smoke_c))
    return;
  heat->surface = surface_of(cut, lot, heat);
  if (heat->surface != PW_SURFACE_DRY)
    return;
  s->is_dry[lot->cut] = true;
  s->most_humidity_frac = fmax(s->most_humidity_frac, heat->air_humidity_frac);
  s->least_log = fmin(s->least_log, heat->surface_log_reduction);
}

void pw_surface_say(struct pw_surface_findings *s)
{
  const struct pw_event *ev = s->f->plan->event;
  const char *names = pw_findings_names(ev, s->is_dry, s->f->ctx->arena);
  if (!names)
    return;
  bool is_over_coals = true; /* all of them */
  for (int c = 0; c < ev->n_cuts; c++)
    is_over_coals = is_over_coals && (!s->is_dry[c] || ev->cuts[c].smoke.is_over_coals);
  const char *advice = is_over_coals ? "turn as the sheet says" : "mop once the rub has set, keep the water pan full";
  pw_findings_warn(
      s->f, "surface",
      "Dry surface: the time tables hold for moist cooking (FSIS-GD-2021-14, table 1: 90 %% humidity for a quarter of "
      "the cook and 1 h, or steam or a sealed oven for half of it); not asked of casings, nor of %s and more at %s or "
      "hotter. The air of these pits reaches %s %% at most, which meets none of this for %s. FSIS lists dry barbecue "
      "as a gap in "
      "its "
      "science. Theory gives the surface %s%s log; %s, probe every "
      "piece; the health authority decides.",
      pw_format_weight(ev->units, PW_FSIS_LARGE_KG).s, pw_format_temp(ev->units, PW_FSIS_LARGE_AIR_C).s,
      pw_format_number(100.0 * s->most_humidity_frac, 0).s, names, s->least_log > PW_LOG_SHOWN_MOST ? "more than " : "",
      pw_format_number(fmin(s->least_log, PW_LOG_SHOWN_MOST), 1).s, advice);
}
