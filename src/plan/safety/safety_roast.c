/* safety_roast.c - the roast rule, FDA Food Code 2022 3-401.11(B): time and temperature inside (1) and an oven temperature (2) by weight,
 * both; or high humidity [H1].
 * In: lots and where they lie.  Out: one warning: what the code asks, what the plan does, who must agree. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/format.h"
#include "heat/food_code.h"
#include "plan/safety/safety_findings.h"
#include "plan/safety/safety_words.h"

#include <math.h>

pw_status pw_roast_findings_open(struct pw_roast_findings *out, struct pw_findings *f)
{
  *out = (struct pw_roast_findings){.f = f, .coolest_c = HUGE_VAL, .least_log = HUGE_VAL};
  out->is_below = pw_arena_array(f->ctx->arena, (size_t)f->plan->event->n_cuts, sizeof *out->is_below);
  return out->is_below ? PW_OK : PW_ERR_MEMORY;
}

/* The chart counts the weight that is cooked: trimmed, as it goes on.  Where it is wrapped it is past 158 F, and the chart done. */
void pw_roast_note(struct pw_roast_findings *r, const struct pw_lot *lot, const struct pw_lot_heat *heat)
{
  const struct pw_cut *cut = &r->f->plan->event->cuts[lot->cut];
  bool is_roast = cut->safety == PW_SAFE_INTACT &&
                  (cut->kind == PW_KIND_BEEF || cut->kind == PW_KIND_PORK || cut->kind == PW_KIND_LAMB);
  double needed_c = pw_food_code_roast_air_c(lot->piece_kg);
  if (!is_roast || isnan(heat->smoke_c) || heat->smoke_c >= needed_c - PW_SAFETY_SLACK_C ||
      heat->air_humidity_frac > PW_FOOD_CODE_HUMID_FRAC)
    return;
  r->is_below[lot->cut] = true;
  r->needed_c = fmax(r->needed_c, needed_c);
  r->coolest_c = fmin(r->coolest_c, heat->smoke_c);
  r->longest_come_up_min = fmax(r->longest_come_up_min, heat->come_up_min);
  r->least_log = fmin(r->least_log, heat->log_reduction);
  r->most_humidity_frac = fmax(r->most_humidity_frac, heat->air_humidity_frac);
}

/* Settings of the job's pits that are hot enough from end to end; NULL: none, or memory is out. */
static const char *hot_settings(const struct pw_event *ev, double needed_c, struct pw_arena *arena)
{
  struct pw_buf text = pw_buf_in(arena);
  bool has_any = false;
  for (int p = 0; p < ev->n_pits; p++)
    for (int s = 0; s < ev->pits[p].n_settings; s++)
      if (ev->pits[p].settings[s].cool_c >= needed_c - PW_SAFETY_SLACK_C) {
        pw_buf_add(&text, has_any ? "; " : "");
        pw_buf_add(&text, ev->pits[p].name);
        pw_buf_add(&text, ", ");
        pw_buf_add(&text, ev->pits[p].settings[s].name);
        has_any = true;
      }
  return has_any ? pw_buf_text(&text) : NULL;
}

void pw_roast_say(struct pw_roast_findings *r)
{
  const struct pw_event *ev = r->f->plan->event;
  const char *names = pw_findings_names(ev, r->is_below, r->f->ctx->arena);
  if (!names)
    return;
  const char *hot = hot_settings(ev, r->needed_c, r->f->ctx->arena);
  pw_findings_warn(
      r->f, "roast-chart",
      "Whole roasts below the oven temperatures of FDA Food Code 2022 3-401.11(B)(2): %s, in places from %s up. It "
      "asks "
      "for (1) and (2) together: time and temperature inside, and moving air at %s, or %s from %s as it goes on; or at "
      "most %s with more than 90 %% humidity for 1 h, or in a moisture-tight bag. The air of these pits is at %s %% at "
      "most; hot enough for all of them: %s. The plan does (1) alone: %s%s log predicted where 6.5 are asked, %s to %s "
      "in %s of the %s allowed. That is no exemption: the health authority agrees first, or grants a variance "
      "(8-103.10). Basis named by the event: %s. Probe every piece.",
      names, pw_format_temp(ev->units, r->coolest_c).s, pw_format_temp(ev->units, pw_food_code_roast_air_c(0.0)).s,
      pw_format_temp(ev->units, pw_food_code_roast_air_c(10.0)).s, pw_format_weight(ev->units, PW_FSIS_LARGE_KG).s,
      pw_format_temp(ev->units, pw_food_code_roast_air_c(10.0)).s, pw_format_number(100.0 * r->most_humidity_frac, 0).s,
      hot ? hot : "no setting", r->least_log > PW_LOG_SHOWN_MOST ? "more than " : "at least ",
      pw_format_number(fmin(r->least_log, PW_LOG_SHOWN_MOST), 1).s, pw_format_temp(ev->units, PW_COME_UP_FROM_C).s,
      pw_format_temp(ev->units, PW_COME_UP_TO_C).s,
      isfinite(r->longest_come_up_min) ? pw_format_minutes((int)lround(r->longest_come_up_min)).s : "no time",
      pw_format_minutes(PW_COME_UP_MOST_MIN).s, ev->safety_basis ? ev->safety_basis : "none");
}
