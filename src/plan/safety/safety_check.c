/* safety_check.c - rules that a look at the event settles, before anything is planned [H1]: final cores, warm-up in the hottest
 * place there is, holding temperatures.  A rule that cannot be met stops the plan unless the event names the cook's basis. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/format.h"
#include "heat/curve.h"
#include "heat/food_code.h"
#include "heat/zone_temp.h"
#include "plan/safety/safety_words.h"
#include "plan/stages.h"

#include <math.h>

static bool is_on_a_menu(const struct pw_event *ev, int cut)
{
  for (int s = 0; s < ev->n_services; s++)
    for (int i = 0; i < ev->services[s].n_menu; i++)
      if (ev->dishes[ev->services[s].menu[i].dish].cut == cut)
        return true;
  return false;
}

static void say_broken(const struct pw_event *ev, struct pw_ctx *ctx, const char *what, const char *rule,
                       const char *way_out)
{
  if (ev->safety_basis)
    pw_diag_add(ctx, PW_WARNING, "food-code", ev->file, 0, 0, "%s (%s). The cook's basis: %s.", what, rule,
                ev->safety_basis);
  else
    pw_diag_add(ctx, PW_ERROR, "food-code", ev->file, 0, 0,
                "%s (%s). %s, or say under event: safety_basis: on what basis it is served.", what, rule, way_out);
}

/** Final core of a cut against its rule. */
static pw_status check_core(const struct pw_event *ev, const struct pw_cut *cut, struct pw_ctx *ctx)
{
  const struct pw_food_rule *rule = pw_food_code_rule(cut->safety);
  if (pw_safety_end_core_c(cut) >= rule->core_c - PW_SAFETY_SLACK_C)
    return PW_OK;
  const char *what = pw_arena_printf(ctx->arena, "%s is cooked to %s at the core, %s needs %s", cut->name,
                                     pw_format_temp(ev->units, pw_safety_end_core_c(cut)).s, rule->food,
                                     pw_format_temp(ev->units, rule->core_c).s);
  const char *number = pw_arena_printf(ctx->arena, "FDA Food Code 2022 %s", rule->rule);
  if (!what || !number)
    return PW_ERR_MEMORY;
  say_broken(ev, ctx, what, number, "Cook it further");
  return PW_OK;
}

/** Raw meat that goes on warm has begun to warm up before: nobody knows how long that took, and it counts. */
static pw_status check_start(const struct pw_event *ev, const struct pw_cut *cut, struct pw_ctx *ctx)
{
  if (!pw_food_code_has_come_up(cut->kind, cut->safety) || cut->start_c <= PW_COME_UP_FROM_C + PW_SAFETY_SLACK_C)
    return PW_OK;
  const char *what =
      pw_arena_printf(ctx->arena,
                      "%s goes on at %s: above %s it was warming up before it went on, and that time counts in the %s "
                      "from %s to %s, which is not known here",
                      cut->name, pw_format_temp(ev->units, cut->start_c).s,
                      pw_format_temp(ev->units, PW_COME_UP_FROM_C).s, pw_format_minutes(PW_COME_UP_MOST_MIN).s,
                      pw_format_temp(ev->units, PW_COME_UP_FROM_C).s, pw_format_temp(ev->units, PW_COME_UP_TO_C).s);
  if (!what)
    return PW_ERR_MEMORY;
  say_broken(ev, ctx, what, "FSIS-GD-2021-14", "Put it on cold");
  return PW_OK;
}

enum { KNOWN_AIRS = 16 };

/** Quickest come-up of a cut on any pit of the event, and where it is had; HUGE_VAL when it may smoke nowhere. */
static double quickest_come_up_min(const struct pw_event *ev, const struct pw_cut *cut, double *out_air_c)
{
  struct pw_stage_model model;
  double quickest = HUGE_VAL, known_c[KNOWN_AIRS], known_ratio[KNOWN_AIRS], known_min[KNOWN_AIRS];
  int n_known = 0; /* pits are often alike */
  pw_stage_model_make(&model, cut);
  for (int p = 0; p < ev->n_pits; p++) {
    const struct pw_pit *pit = &ev->pits[p];
    const struct pw_stage_air air = pw_stage_air_of(ev, p);
    double hottest_c = -HUGE_VAL;
    for (int s = 0; s < pit->n_settings; s++)
      for (int r = 0; r < pit->n_racks; r++)
        for (int k = 0; k < pit->racks[r].n_zones; k++) {
          double air_c = pw_zone_middle_c(&pit->settings[s], &pit->racks[r], r, k);
          if (air_c > hottest_c && air_c >= cut->smoke.low_c && air_c <= cut->smoke.high_c)
            hottest_c = air_c;
        }
    int k = 0;
    while (k < n_known && !(known_c[k] == hottest_c && known_ratio[k] == air.ratio))
      k++;
    double minutes = k < n_known           ? known_min[k]
                     : isfinite(hottest_c) ? pw_curve_come_up_min(&model, hottest_c, &air)
                                           : HUGE_VAL;
    if (k == n_known && n_known < KNOWN_AIRS) {
      known_c[k] = hottest_c;
      known_ratio[k] = air.ratio;
      known_min[k] = minutes;
      n_known++;
    }
    if (isfinite(hottest_c) && (minutes < quickest || !isfinite(quickest))) {
      quickest = minutes;
      *out_air_c = hottest_c;
    }
  }
  return quickest;
}

/** Come-up of a cut in the hottest place it may have. */
static pw_status check_come_up(const struct pw_event *ev, const struct pw_cut *cut, struct pw_ctx *ctx)
{
  double air_c = NAN;
  if (!cut->smoke.is_used || !pw_food_code_has_come_up(cut->kind, cut->safety))
    return PW_OK;
  double minutes = quickest_come_up_min(ev, cut, &air_c);
  if (isnan(air_c) || minutes <= PW_COME_UP_MOST_MIN)
    return PW_OK;
  const char *words = pw_safety_come_up_words(ev->units, minutes, ctx->arena);
  const char *what = words ? pw_arena_printf(ctx->arena, "The core of %s %s even at %s, the hottest place it may have",
                                             cut->name, words, pw_format_temp(ev->units, air_c).s)
                           : NULL;
  if (!what)
    return PW_ERR_MEMORY;
  say_broken(ev, ctx, what, "FSIS-GD-2021-14", "Take a hotter pit or smaller pieces");
  return PW_OK;
}

pw_status pw_safety_check(const struct pw_event *ev, struct pw_ctx *ctx)
{
  for (int c = 0; c < ev->n_cuts; c++) {
    if (!is_on_a_menu(ev, c))
      continue;
    pw_status status = check_core(ev, &ev->cuts[c], ctx);
    if (status == PW_OK)
      status = check_start(ev, &ev->cuts[c], ctx);
    if (status == PW_OK)
      status = check_come_up(ev, &ev->cuts[c], ctx);
    if (status != PW_OK)
      return status;
  }
  for (int f = 0; f < ev->n_finishers; f++) {
    const struct pw_finisher *box = &ev->finishers[f];
    if (box->kind != PW_HOLD || box->temp_c >= PW_FOOD_CODE_HOT_C - PW_SAFETY_SLACK_C)
      continue;
    const char *what =
        pw_arena_printf(ctx->arena, "%s holds at %s, hot food needs %s", box->name,
                        pw_format_temp(ev->units, box->temp_c).s, pw_format_temp(ev->units, PW_FOOD_CODE_HOT_C).s);
    if (!what)
      return PW_ERR_MEMORY;
    say_broken(ev, ctx, what, "FDA Food Code 2022 3-501.16(A)(1)", "Hold it hotter");
  }
  return pw_diag_status(ctx);
}
