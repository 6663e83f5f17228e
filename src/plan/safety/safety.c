/* safety.c - what the heat theory and the Food Code say of the plan [H1].
 * In: event; lots and allocation.  Out: core figures per lot; warnings with the rule's number, which the plan
 * carries.  Each lot is followed once, through the coolest open and the coolest wrapped place that any of its pieces has:
 * slowest come-up, least lethality.  Local codes and the health authority decide; the sheets say so. */
#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"
#include "heat/air.h"
#include "heat/box.h"
#include "heat/curve.h"
#include "heat/food_code.h"
#include "heat/lethality.h"
#include "plan/safety/safety_findings.h"
#include "plan/safety/safety_words.h"
#include "plan/stages.h"

#include <math.h>

#define FALL_K (25.0 / 1.8) /* hot to cool end of a small offset, 275 to 250 F: common practice, no source */

double pw_safety_end_core_c(const struct pw_cut *cut)
{
  return cut->finish.is_used ? cut->finish.to_c : cut->smoke.to_c;
}

const char *pw_safety_come_up_words(enum pw_units units, double minutes, struct pw_arena *arena)
{
  return pw_arena_printf(arena, "takes %s from %s to %s, more than %s",
                         isfinite(minutes) ? pw_format_minutes((int)lround(minutes)).s : "for ever",
                         pw_format_temp(units, PW_COME_UP_FROM_C).s, pw_format_temp(units, PW_COME_UP_TO_C).s,
                         pw_format_minutes(PW_COME_UP_MOST_MIN).s);
}

/** Air where a load lies; NAN when its pit is not lit (the judge speaks up then). */
static double load_air_c(const struct pw_plan *plan, const struct pw_load *load)
{
  if (load->finisher != PW_NONE)
    return plan->event->finishers[load->finisher].temp_c;
  const struct pw_zone *zone = &plan->lots.zones[load->zone];
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    if (burn->pit == zone->pit && burn->lit_at_min <= load->start_at_min && load->start_at_min < burn->out_at_min)
      return zone->temp_c[burn->setting];
  }
  return NAN;
}

/** Coolest place of a stage of a lot, and its pit. */
static double coolest_c(const struct pw_plan *plan, int lot, enum pw_load_stage stage, int *out_pit)
{
  double coolest = NAN;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->lot != lot || load->stage != stage)
      continue;
    double air_c = load_air_c(plan, load);
    if (isnan(coolest) || air_c < coolest) {
      coolest = air_c;
      *out_pit = load->zone == PW_NONE ? PW_NONE : plan->lots.zones[load->zone].pit;
    }
  }
  return coolest;
}

/** Hottest open place of a lot, and its pit (PW_NONE: an oven, on a day without its fire): its own steam and moisture belong to its times; NAN when no piece was placed. */
static double hottest_c(const struct pw_plan *plan, int lot, int *out_pit)
{
  double hottest = NAN;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->lot != lot || load->stage != PW_LOAD_SMOKE)
      continue;
    double air_c = load_air_c(plan, load);
    if (isnan(hottest) || air_c > hottest) {
      hottest = air_c;
      *out_pit = load->zone == PW_NONE ? PW_NONE : plan->lots.zones[load->zone].pit;
    }
  }
  return hottest;
}

/** Relative humidity of the driest open place of a lot: that of its pit's air at the place's temperature. */
static double least_humidity(const struct pw_plan *plan, int lot)
{
  double least = NAN;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->lot != lot || load->stage != PW_LOAD_SMOKE || load->zone == PW_NONE)
      continue;
    const struct pw_stage_air air = pw_stage_air_of(plan->event, plan->lots.zones[load->zone].pit);
    double here = pw_air_relative_frac(load_air_c(plan, load), air.ratio, air.pressure_pa);
    if (isnan(least) || here < least)
      least = here;
  }
  return least;
}

/** What the fall from the hot to the cool end of a small pit would do to the stage times. */
static void set_fall(struct pw_lot_heat *heat, const struct pw_stage_model *model, const struct pw_stage_air *air)
{
  const struct pw_cut *cut = model->cut;
  heat->cool_c = heat->hot_c - FALL_K;
  heat->hot_smoke_min = pw_stage_model_minutes(model, &cut->smoke, heat->hot_c, air);
  heat->cool_smoke_min = pw_stage_model_minutes(model, &cut->smoke, heat->cool_c, air);
  if (!cut->finish.is_used)
    return;
  heat->hot_finish_min = pw_stage_model_minutes(model, &cut->finish, heat->hot_c, air);
  heat->cool_finish_min = pw_stage_model_minutes(model, &cut->finish, heat->cool_c, air);
}

/** Only where the event names the cook's basis do such places take meat at all. */
static void say_come_up(struct pw_findings *f, const struct pw_lot *lot, const struct pw_lot_heat *heat)
{
  const struct pw_event *ev = f->plan->event;
  const struct pw_cut *cut = &ev->cuts[lot->cut];
  if (cut->start_c > PW_COME_UP_FROM_C + PW_SAFETY_SLACK_C && pw_food_code_has_come_up(cut->kind, cut->safety))
    pw_findings_warn(
        f, "warm-start",
        "%s for %s goes on at %s: it passed %s before, and that time counts in the %s to %s (FSIS-GD-2021-14). The "
        "cook's basis: %s.",
        cut->name, ev->services[lot->service].name, pw_format_temp(ev->units, cut->start_c).s,
        pw_format_temp(ev->units, PW_COME_UP_FROM_C).s, pw_format_minutes(PW_COME_UP_MOST_MIN).s,
        pw_format_temp(ev->units, PW_COME_UP_TO_C).s, ev->safety_basis ? ev->safety_basis : "none is named");
  if (heat->come_up_min <= PW_COME_UP_MOST_MIN || !pw_food_code_has_come_up(cut->kind, cut->safety))
    return;
  const char *words = pw_safety_come_up_words(ev->units, heat->come_up_min, f->ctx->arena);
  if (!words)
    f->is_out_of_memory = true;
  else
    pw_findings_warn(f, "come-up", "%s for %s, %s air: the core %s (FSIS-GD-2021-14). %s%s%s", cut->name,
                     ev->services[lot->service].name, pw_format_temp(ev->units, heat->smoke_c).s, words,
                     ev->safety_basis ? "The cook's basis: " : "A hotter place or smaller pieces shorten it",
                     ev->safety_basis ? ev->safety_basis : "", ".");
}

static void say_lethality(struct pw_findings *f, const struct pw_lot *lot, const struct pw_lot_heat *heat)
{
  const struct pw_event *ev = f->plan->event;
  const struct pw_cut *cut = &ev->cuts[lot->cut];
  if (heat->log_reduction + heat->hold_log >= heat->log_needed || cut->kind == PW_KIND_PLANT ||
      pw_food_code_is_cooked(cut->safety) || cut->kind == PW_KIND_FISH)
    return;
  pw_findings_warn(
      f, "lethality",
      "%s for %s: predicted lethality at the core, cook and hold together, is %s log, the FSIS tables ask for %s (FDA "
      "Food "
      "Code 2022 3-401.11(B)(1)). Leave it in until a probe has shown %s for the time of the table.",
      cut->name, ev->services[lot->service].name, pw_format_number(heat->log_reduction + heat->hold_log, 1).s,
      pw_format_number(heat->log_needed, 1).s, pw_format_temp(ev->units, pw_safety_end_core_c(cut)).s);
}

/** One line per reason to doubt the times, with the cuts it concerns. */
static pw_status say_doubts(struct pw_findings *f)
{
  const struct pw_event *ev = f->plan->event;
  bool *marked = pw_arena_array(f->ctx->arena, (size_t)ev->n_cuts, sizeof *marked);
  if (!marked)
    return PW_ERR_MEMORY;
  for (int c = 0; c < ev->n_cuts; c++) {
    const char *doubt = f->doubt[c];
    if (!doubt)
      continue;
    for (int k = c; k < ev->n_cuts; k++) {
      marked[k] = f->doubt[k] == doubt;
      if (marked[k])
        f->doubt[k] = NULL;
    }
    const char *names = pw_findings_names(ev, marked, f->ctx->arena);
    if (!names)
      return PW_ERR_MEMORY;
    pw_findings_warn(f, "weak-theory", "Times to doubt, %s: %s. Start by the plan, finish by the probe.", names, doubt);
    for (int k = 0; k < ev->n_cuts; k++)
      marked[k] = false;
  }
  return PW_OK;
}

static void say_services(struct pw_findings *f)
{
  const struct pw_event *ev = f->plan->event;
  for (int s = 0; s < ev->n_services; s++) {
    const struct pw_service *service = &ev->services[s];
    if (service->length_min > pw_food_code_out_hot_min())
      pw_findings_warn(
          f, "time-control",
          "%s serves for %s. Food that is not kept at %s on the line is thrown away %s after it left the box, the "
          "first at %s (FDA Food Code 2022 3-501.19(B)).",
          service->name, pw_format_minutes(service->length_min).s, pw_format_temp(ev->units, PW_FOOD_CODE_HOT_C).s,
          pw_format_minutes(pw_food_code_out_hot_min()).s,
          pw_when_clock(ev, service->at_min + pw_food_code_out_hot_min()).s);
  }
}

/** What the hot hold adds at the core, at the least: the shortest hold of the lot, at the cooler of the box - a box
 *  without heat as it is at the end - and the core it came off with.  0 when a piece is not held. */
static double hold_log(const struct pw_plan *plan, int lot, double end_c)
{
  const struct pw_event *ev = plan->event;
  const struct pw_cut *cut = &ev->cuts[plan->lots.lots[lot].cut];
  double least = HUGE_VAL;
  int held = 0;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->lot != lot || load->stage != PW_LOAD_HOLD || load->finisher == PW_NONE)
      continue;
    const struct pw_finisher *box = &ev->finishers[load->finisher];
    double box_c =
        pw_box_temp_c(box->temp_c, ev->weather.low_c, box->loss_frac_h, load->end_at_min - load->start_at_min);
    double rate = pw_lethality_rate_log_min(cut->kind, fmin(end_c, box_c));
    least = fmin(least, rate * (load->end_at_min - load->start_at_min));
    held += load->pieces;
  }
  int missed = plan->allocation.missed ? plan->allocation.missed[lot] : 0;
  return held > 0 && held >= plan->lots.lots[lot].pieces - missed ? least : 0.0;
}

/* Air of a pit, or of an oven. */
static struct pw_stage_air air_of(const struct pw_plan *plan, int pit)
{
  return pit == PW_NONE ? pw_stage_air_mild() : pw_stage_air_of(plan->event, pit);
}

static void follow_lot(struct pw_findings *f, int l, struct pw_lot_heat *heat, const struct pw_stage_model *model)
{
  const struct pw_plan *plan = f->plan;
  int pit = PW_NONE, hot_pit = PW_NONE, unused;
  *heat = (struct pw_lot_heat){.smoke_c = coolest_c(plan, l, PW_LOAD_SMOKE, &pit),
                               .finish_c = coolest_c(plan, l, PW_LOAD_FINISH, &unused),
                               .hot_c = hottest_c(plan, l, &hot_pit),
                               .cool_c = NAN,
                               .come_up_min = HUGE_VAL,
                               .air_humidity_frac = NAN,
                               .slow_from_c = NAN};
  if (isnan(heat->smoke_c) || (model->cut->finish.is_used && isnan(heat->finish_c)))
    return;
  struct pw_curve_place place = {heat->smoke_c, heat->finish_c, air_of(plan, pit)};
  struct pw_curve_sum sum = pw_curve_sum(model, &place);
  const struct pw_stage_air hot_air = air_of(plan, hot_pit);
  set_fall(heat, model, &hot_air);
  heat->come_up_min = sum.come_up_min;
  heat->slow_from_c = sum.slow_from_c;
  heat->slow_min = sum.slow_min;
  heat->evaporated_frac = sum.evaporated_frac;
  heat->log_reduction = sum.log_reduction;
  heat->log_needed = sum.log_needed;
  heat->surface_log_reduction = sum.surface_log;
  heat->air_humidity_frac = least_humidity(plan, l);
  heat->hold_log = hold_log(plan, l, sum.end_core_c);
  const struct pw_lot *lot = &plan->lots.lots[l];
  if (sum.doubt && !f->doubt[lot->cut])
    f->doubt[lot->cut] = sum.doubt;
  say_come_up(f, lot, heat);
  say_lethality(f, lot, heat);
}

pw_status pw_safety_make(struct pw_safety_report *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  struct pw_safety_report safety = {.lots = pw_arena_array(ctx->arena, (size_t)plan->lots.n_lots, sizeof *safety.lots)};
  struct pw_roast_findings roasts;
  struct pw_surface_findings surfaces;
  struct pw_findings f = {
      .plan = plan, .ctx = ctx, .doubt = pw_arena_array(ctx->arena, (size_t)ev->n_cuts, sizeof *f.doubt)};
  *out = (struct pw_safety_report){0};
  if (!safety.lots || !f.doubt || pw_roast_findings_open(&roasts, &f) || pw_surface_findings_open(&surfaces, &f))
    return PW_ERR_MEMORY;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    struct pw_stage_model model;
    pw_stage_model_make(&model, &ev->cuts[plan->lots.lots[l].cut]);
    follow_lot(&f, l, &safety.lots[l], &model);
    pw_roast_note(&roasts, &plan->lots.lots[l], &safety.lots[l]);
    pw_surface_note(&surfaces, &plan->lots.lots[l], &safety.lots[l]);
  }
  pw_roast_say(&roasts);
  pw_surface_say(&surfaces);
  say_services(&f);
  pw_status status = say_doubts(&f);
  if (status != PW_OK || f.is_out_of_memory)
    return PW_ERR_MEMORY;
  safety.warnings = f.warnings;
  safety.n_warnings = (int)f.n_warnings;
  *out = safety;
  return PW_OK;
}
