/* plan_json_heat.c - the plan file's part on heat: what each lot's core does and which rule it meets, fuels, ovens [H1][F1]. */
#include "heat/combust.h"
#include "heat/food_code.h"
#include "write/plan_json_parts.h"

#include <math.h>

#define LOG_MOST 99.0 /* beyond it the number says nothing more */

/** A figure that may not exist: no place, never reached. */
static void real_or_null(struct pw_json_out *o, const char *key, double value)
{
  if (isfinite(value))
    pw_json_real(o, key, value);
  else
    pw_json_text(o, key, NULL);
}

static void write_lot_heat(struct pw_plan_json *w, const struct pw_lot *lot, const struct pw_lot_heat *heat)
{
  struct pw_json_out *o = &w->out;
  const struct pw_cut *cut = &w->ev->cuts[lot->cut];
  const struct pw_food_rule *rule = pw_food_code_rule(cut->safety);
  pw_json_object(o, NULL);
  pw_json_text(o, "lot", lot->id);
  real_or_null(o, "smoke_c", heat->smoke_c);
  real_or_null(o, "finish_c", heat->finish_c);
  pw_json_real(o, "end_core_c", lot->has_finish ? cut->finish.to_c : cut->smoke.to_c);
  pw_json_bool(o, "is_raw", pw_food_code_has_come_up(cut->kind, cut->safety)); /* warm-up and lethality are asked for */
  pw_json_text(o, "rule", rule->rule);
  pw_json_real(o, "rule_core_c", rule->core_c);
  pw_json_int(o, "rule_hold_s", rule->hold_s);
  real_or_null(o, "come_up_min", heat->come_up_min);
  pw_json_int(o, "come_up_most_min", PW_COME_UP_MOST_MIN);
  real_or_null(o, "slow_from_c", heat->slow_from_c);
  pw_json_real(o, "slow_min", heat->slow_min);
  pw_json_array(o, "cooler_end"); /* hottest place it has, then 25 F less */
  const double air_c[] = {heat->hot_c, heat->cool_c}, smoke_min[] = {heat->hot_smoke_min, heat->cool_smoke_min},
               finish_min[] = {heat->hot_finish_min, heat->cool_finish_min};
  for (int i = 0; i < 2 && isfinite(heat->cool_c); i++) {
    pw_json_object(o, NULL);
    pw_json_real(o, "air_c", air_c[i]);
    real_or_null(o, "smoke_min", smoke_min[i]);
    if (lot->has_finish)
      real_or_null(o, "finish_min", finish_min[i]);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_real(o, "steam_loss_frac", heat->evaporated_frac);
  pw_json_real(o, "cook_loss_frac", 1.0 - cut->cook_frac);
  pw_json_real(o, "log_reduction", fmin(heat->log_reduction, LOG_MOST));
  pw_json_real(o, "hold_log_reduction", fmin(heat->hold_log, LOG_MOST));
  pw_json_real(o, "log_needed", heat->log_needed);
  static const char *const surfaces[] = {NULL, "casing", "large", "humid", "dry"}; /* by enum pw_surface */
  pw_json_text(o, "surface", surfaces[heat->surface]);
  pw_json_real(o, "surface_log_reduction", fmin(heat->surface_log_reduction, LOG_MOST));
  real_or_null(o, "air_humidity_frac", heat->air_humidity_frac);
  pw_json_end(o);
}

void pw_plan_json_heat(struct pw_plan_json *w)
{
  pw_json_array(&w->out, "cores");
  for (int l = 0; w->plan->safety.lots && l < w->plan->lots.n_lots; l++)
    write_lot_heat(w, &w->plan->lots.lots[l], &w->plan->safety.lots[l]);
  pw_json_end(&w->out);
}

void pw_plan_json_fuel(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_fuel_plan *fuel = &w->plan->fuel;
  pw_json_array(o, "fuels");
  for (int i = 0; i < fuel->n_lines; i++) {
    const struct pw_fuel_line *line = &fuel->lines[i];
    pw_json_object(o, NULL);
    const struct pw_fuel *of = &w->ev->fuels[line->fuel];
    pw_json_text(o, "fuel", of->id);
    pw_json_bool(o, "is_charcoal", of->is_charcoal);
    pw_json_real(o, "net_mj_kg", pw_combust_net_mj_kg(of->gross_mj_kg, of->hydrogen_frac, of->moisture_wet_frac));
    pw_json_real(o, "reserve_frac", w->ev->terms.fuel_reserve_frac);
    pw_json_real(o, line->packs > 0 ? "pack_cents" : "cents_per_kg",
                 line->buy_kg > 0 ? (double)line->cost_cents / (line->packs > 0 ? line->packs : line->buy_kg) : 0);
    pw_json_real(o, "need_kg", line->need_kg);
    pw_json_real(o, "buy_kg", line->buy_kg);
    pw_json_int(o, "splits", line->splits);
    if (line->packs > 0) {
      pw_json_text(o, "pack", line->pack);
      pw_json_int(o, "packs", line->packs);
      pw_json_real(o, "pack_kg", line->pack_kg);
    }
    if (line->stacked_m3 > 0.0)
      pw_json_real(o, "stacked_m3", line->stacked_m3);
    pw_json_int(o, "cost_cents", line->cost_cents);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_object(o, "ovens");
  pw_json_real(o, "hours", fuel->oven_h);
  pw_json_int(o, "cost_cents", fuel->oven_cents);
  pw_json_object(o, "saving");
  pw_json_int(o, "pieces", fuel->oven_saving.pieces);
  pw_json_real(o, "piece_h", fuel->oven_saving.piece_h);
  pw_json_real(o, "area_m2_h", fuel->oven_saving.area_m2_h);
  pw_json_int(o, "lit_min", fuel->oven_saving.lit_min);
  pw_json_real(o, "wood_kg", fuel->oven_saving.wood_kg);
  pw_json_int(o, "wood_cents", fuel->oven_saving.wood_cents);
  pw_json_end(o);
  pw_json_end(o);
}
