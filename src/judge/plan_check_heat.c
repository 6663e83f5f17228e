/* plan_check_heat.c - the judge on safe food: what the plan says of each core against its loads, its rule and its warnings [J13].
 * The limits are taken from published codes once more, not from the file. */
#include "judge/plan_check_parts.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define SLACK_C          0.3          /* 145 F is printed as 62.8 or 63 C */
#define HOT_HOLD_C       57.2         /* 135 F, FDA Food Code 2022 3-501.16(A)(1) */
#define LEAST_CORE_C     57.2         /* 135 F, 3-401.13 and 3-403.11(C): no rule asks for less */
#define COME_UP_MOST_MIN 360          /* FSIS-GD-2021-14, 6 h from 50 to 130 F */
#define LEAST_LOG        6.5          /* 9 CFR 318.17 */
#define POULTRY_LOG      7.0          /* 9 CFR 381.150 */
#define ROAST_KG         4.5          /* 10 lb, FDA Food Code 2022 3-401.11(B)(2); as it goes on */
#define ROAST_SMALL_C    162.8        /* 325 F, moving air, below it */
#define ROAST_LARGE_C    121.1        /* 250 F, from it on; also FSIS-GD-2021-14: no humidity asked from 10 lb on */
#define FSIS_LARGE_KG    4.5359       /* 10 lb, FSIS-GD-2021-14 */
#define HUMID_FRAC       0.9          /* 3-401.11(B)(2), FSIS-GD-2021-14 table 1 */
#define LOG_MOST         99.0         /* beyond it the number says nothing more */
#define FALL_K           (25.0 / 1.8) /* hot to cool end of a small offset, 25 F: common practice, no source */

static bool is_said(const struct pw_seen_plan *plan, const char *code)
{
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    if (strcmp(plan->warnings[i].code, code) == 0)
      return true;
  return false;
}

/** Coolest or hottest place of a lot's stage by its loads; NAN without one. */
static double place_c(const struct pw_seen_plan *plan, int lot, int stage, bool is_hottest)
{
  double most = NAN;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    const struct pw_seen_zone *zone = pw_check_zone(plan, load);
    const struct pw_seen_finisher *finisher = pw_check_finisher(plan, load);
    double temp_c = zone ? zone->temp_c : finisher->temp_c;
    if (load->lot == lot && load->stage == stage && (is_hottest ? !(temp_c <= most) : !(temp_c >= most)))
      most = temp_c;
  }
  return most;
}

/** FDA Food Code 2022 3-401.11(A), 3-403.11(C), 3-401.13, 3-403.11(A): least core and how long, by enum pw_seen_safety. */
static const struct rule {
  double core_c;
  int hold_s;
} rules[] = {{62.8, 15}, {68.3, 17}, {68.3, 17}, {73.9, 1}, {57.2, 0}, {57.2, 0}, {73.9, 15}};

/** Raw meat, poultry and sausage warm up and are made safe by time and temperature (FSIS-GD-2021-14, 9 CFR 318.17, 381.150). */
static bool is_raw_meat(const struct pw_seen_lot *lot)
{
  return lot->kind != PW_SEEN_PLANT && lot->kind != PW_SEEN_FISH && lot->safety != PW_SEEN_PRECOOKED &&
         lot->safety != PW_SEEN_SAFE_PLANT && lot->safety != PW_SEEN_REHEATED;
}

static void wrong(struct pw_judge *judge, int i, const char *key, double is, double should)
{
  pw_judge_find(judge, "J13", "cores[%d].%s: is %.8g, what it follows from makes %.8g", i, key, is, should);
}

static void expect(struct pw_judge *judge, int i, const char *key, double is, double should)
{
  if (!isnan(is) && !isnan(should) && pw_check_differs(is, should))
    wrong(judge, i, key, is, should);
}

/** What follows from the lot's kind of food. */
static void check_food(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_core *core = &plan->cores[i];
  const struct pw_seen_lot *lot = &plan->lots[core->lot];
  bool has_finish = !isnan(lot->to_c[1]);
  if (lot->kind == PW_SEEN_NONE || lot->safety == PW_SEEN_NONE)
    return;
  if ((lot->kind == PW_SEEN_POULTRY && lot->safety != PW_SEEN_SAFE_POULTRY && lot->safety != PW_SEEN_PRECOOKED &&
       lot->safety != PW_SEEN_REHEATED) ||
      (lot->kind == PW_SEEN_PLANT) != (lot->safety == PW_SEEN_SAFE_PLANT))
    pw_judge_find(judge, "J13", "lots[%d].safety: \"%s\" is no rule for %s", core->lot, pw_seen_safeties[lot->safety],
                  pw_seen_foods[lot->kind]);
  if ((core->is_raw != 0) != is_raw_meat(lot))
    pw_judge_find(judge, "J13", "cores[%d].is_raw: says %s, \"%s\" is %s (%s)", i, core->is_raw ? "raw meat" : "none",
                  lot->id, pw_seen_foods[lot->kind], pw_seen_safeties[lot->safety]);
  if (core->is_raw && !isnan(core->smoke_c) &&
      core->log_needed != (lot->kind == PW_SEEN_POULTRY ? POULTRY_LOG : LEAST_LOG))
    wrong(judge, i, "log_needed", core->log_needed, lot->kind == PW_SEEN_POULTRY ? POULTRY_LOG : LEAST_LOG);
  if (fabs(core->rule_core_c - rules[lot->safety].core_c) > SLACK_C)
    wrong(judge, i, "rule_core_c", core->rule_core_c, rules[lot->safety].core_c);
  if (core->rule_hold_s != PW_SEEN_NONE && core->rule_hold_s != rules[lot->safety].hold_s)
    wrong(judge, i, "rule_hold_s", core->rule_hold_s, rules[lot->safety].hold_s);
  expect(judge, i, "end_core_c", core->end_core_c, lot->to_c[has_finish ? 1 : 0]);
  expect(judge, i, "come_up_most_min", core->come_up_most_min, COME_UP_MOST_MIN);
  if (has_finish && lot->to_c[0] >= lot->to_c[1])
    pw_judge_find(judge, "J13", "lots[%d].smoke_to_c: the smoke ends at %g, the finish at %g", core->lot, lot->to_c[0],
                  lot->to_c[1]);
}

/** True when a smoke load of the lot lies in the zone. */
static bool is_smoked_in(const struct pw_seen_plan *plan, int lot, const struct pw_seen_zone *zone)
{
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    if (plan->loads[i].lot == lot && plan->loads[i].stage == PW_SEEN_SMOKE &&
        pw_check_zone(plan, &plan->loads[i]) == zone)
      return true;
  return false;
}

/** The time where the lot lies hottest is that of stage_times, before it was rounded up to the grid.  Pits of one temperature may
 *  differ in their air (a water pan shortens the smoke): between the shortest and the longest of those it lies in. */
static void check_end_time(struct pw_judge *judge, const struct pw_seen_plan *plan, int i, int stage, double exact)
{
  const struct pw_seen_core *core = &plan->cores[i];
  const struct pw_seen_lot *lot = &plan->lots[core->lot];
  int slot = plan->event.slot_min, least = INT_MAX, most = INT_MIN;
  for (int t = 0; slot > 0 && t < lot->n_times; t++) {
    const struct pw_seen_time *time = &lot->times[t];
    if (time->stage != stage || time->place >= plan->n[PW_SEEN_ZONES])
      continue;
    const struct pw_seen_zone *zone = &plan->zones[time->place];
    if (fabs(zone->temp_c - core->ends[0].air_c) < 1e-6 && is_smoked_in(plan, core->lot, zone)) {
      least = time->minutes < least ? time->minutes : least;
      most = time->minutes > most ? time->minutes : most;
    }
  }
  if (most < least || isnan(exact))
    return;
  if (exact > most * 1.03 + slot / 6.0 || exact < 0.97 * ((double)least - slot))
    pw_judge_find(judge, "J13", "cores[%d].cooler_end[0]: takes %.6g min, stage_times says %d for %s there", i, exact,
                  exact > most ? most : least, pw_seen_stages[stage]);
}

/** What follows from where the lot lies. */
static void check_where(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_core *core = &plan->cores[i];
  const struct pw_seen_lot *lot = &plan->lots[core->lot];
  double finish_c = place_c(plan, core->lot, PW_SEEN_FINISH, false),
         hot_c = place_c(plan, core->lot, PW_SEEN_SMOKE, true);
  expect(judge, i, "finish_c", core->finish_c, finish_c);
  if (!isnan(finish_c) && isnan(core->finish_c) && plan->n[PW_SEEN_NEEDS] > 0)
    pw_judge_find(judge, "J13", "cores[%d].finish_c: is not told, the coolest finish lies at %g", i, finish_c);
  for (int r = 0; r < plan->n[PW_SEEN_RAWS] && !lot->is_day_before; r++)
    if (plan->raws[r].service == lot->service && strcmp(plan->raws[r].cut, lot->cut) == 0)
      expect(judge, i, "cook_loss_frac", core->cook_loss_frac, 1 - plan->raws[r].cook_frac);
  if (core->n_ends != PW_SEEN_NONE && core->n_ends != 2) {
    pw_judge_find(judge, "J13", "cores[%d].cooler_end: has %d places, where it lies and one that is cooler are two", i,
                  core->n_ends);
    return;
  }
  for (int k = 0; k < core->n_ends; k++) {
    const struct pw_seen_end *end = &core->ends[k];
    if (fabs(end->air_c - (hot_c - k * FALL_K)) > 1e-4)
      pw_judge_find(judge, "J13", "cores[%d].cooler_end[%d].air_c: is %.6g, the hottest load lies at %.6g", i, k,
                    end->air_c, hot_c);
    if (k > 0 && (end->smoke_min < core->ends[0].smoke_min || end->finish_min < core->ends[0].finish_min))
      pw_judge_find(judge, "J13", "cores[%d].cooler_end[%d]: takes less time than where it is hotter", i, k);
  }
  if (core->n_ends == 2) {
    check_end_time(judge, plan, i, PW_SEEN_SMOKE, core->ends[0].smoke_min);
    check_end_time(judge, plan, i, PW_SEEN_FINISH, core->ends[0].finish_min);
  }
}

/** Most humidity that air of a temperature can have at sea level: from boiling on its steam is no more than the air's pressure
 *  (Antoine equation of water above 99 C: 8.14019, 1810.94, 244.485 in mmHg, from memory). */
static double most_humidity(double temp_c)
{
  double mm_hg = pow(10.0, 8.14019 - 1810.94 / (244.485 + temp_c));
  return temp_c <= 100 ? 1.0 : 760.0 / mm_hg;
}

/** Roasts below the oven temperatures of 3-401.11(B)(2) are told, and raw meat whose surface meets no condition of the FSIS tables. */
static void check_chart(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_core *core = &plan->cores[i];
  const struct pw_seen_lot *lot = &plan->lots[core->lot];
  bool is_humid = core->humidity_frac >= HUMID_FRAC;
  bool is_roast = lot->safety == PW_SEEN_INTACT &&
                  (lot->kind == PW_SEEN_BEEF || lot->kind == PW_SEEN_PORK || lot->kind == PW_SEEN_LAMB);
  if (core->humidity_frac > most_humidity(core->smoke_c) * 1.02)
    pw_judge_find(judge, "J13", "cores[%d].air_humidity_frac: is %g, air at %g C holds %g at most", i,
                  core->humidity_frac, core->smoke_c, most_humidity(core->smoke_c));
  if (isnan(lot->piece_kg) || lot->kind == PW_SEEN_NONE || lot->safety == PW_SEEN_NONE)
    return;
  double needed_c = lot->piece_kg < ROAST_KG ? ROAST_SMALL_C : ROAST_LARGE_C;
  if (is_roast && !is_humid && core->smoke_c < needed_c - SLACK_C && !is_said(plan, "roast-chart"))
    pw_judge_find(judge, "J13",
                  "cores[%d].smoke_c: is %g, roasts of %g kg are asked for %g, and no warning \"roast-chart\" says so",
                  i, core->smoke_c, lot->piece_kg, needed_c);
  bool is_large = lot->piece_kg >= FSIS_LARGE_KG - 1e-3 && core->smoke_c >= ROAST_LARGE_C - SLACK_C &&
                  !(core->finish_c < ROAST_LARGE_C - SLACK_C);
  int surface = lot->kind == PW_SEEN_SAUSAGE ? PW_SEEN_CASING
                : is_large                   ? PW_SEEN_LARGE
                : is_humid                   ? PW_SEEN_HUMID
                                             : PW_SEEN_DRY;
  if (core->is_raw && surface == PW_SEEN_DRY && !is_said(plan, "surface"))
    pw_judge_find(judge, "J13", "cores[%d].surface: nothing keeps it moist, and no warning \"surface\" says so", i);
  if (core->surface != (core->is_raw ? surface : PW_SEEN_NONE) && plan->n[PW_SEEN_NEEDS] > 0)
    pw_judge_find(judge, "J13", "cores[%d].surface: is %s, what it follows from makes %s", i,
                  core->surface == PW_SEEN_NONE ? "none" : pw_seen_surfaces[core->surface],
                  core->is_raw ? pw_seen_surfaces[surface] : "none");
  if (core->is_raw && core->surface_log < core->log_reduction - 1e-6)
    pw_judge_find(judge, "J13", "cores[%d].surface_log_reduction: is %g, the core has %g, which is never hotter", i,
                  core->surface_log, core->log_reduction);
}

/** A box without heat cools by its own loss: nothing is held in it beyond 57 C [A7]. */
static void check_box(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_load *load = &plan->loads[i];
  const struct pw_seen_finisher *box = pw_check_finisher(plan, load);
  if (!box || load->stage != PW_SEEN_HOLD || !(box->loss_frac_h > 0) || isnan(box->outside_c))
    return;
  double hours = (load->end_min - load->start_min) / 60.0;
  double end_c = box->outside_c + (box->temp_c - box->outside_c) * pow(1 - box->loss_frac_h, hours);
  if (box->temp_c > box->outside_c && end_c < HOT_HOLD_C - 1e-6)
    pw_judge_find(judge, "J13",
                  "loads[%d]: \"%s\" is at %.4g C when the hold ends at minute %d, hot food is held at %g", i, box->id,
                  end_c, load->end_min, HOT_HOLD_C);
}

static void check_core(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_core *core = &plan->cores[i];
  double coolest = place_c(plan, core->lot, PW_SEEN_SMOKE, false);
  check_food(judge, plan, i);
  if (isnan(coolest))
    return; /* nothing of it is cooked */
  check_where(judge, plan, i);
  if (!(fabs(core->smoke_c - coolest) < 1e-6))
    pw_judge_find(judge, "J13", "cores[%d].smoke_c: is %g, the coolest load of the lot lies at %g", i, core->smoke_c,
                  coolest);
  if (core->rule_core_c < LEAST_CORE_C - SLACK_C)
    pw_judge_find(judge, "J13", "cores[%d].rule_core_c: is %g, no rule asks for less than %g", i, core->rule_core_c,
                  LEAST_CORE_C);
  check_chart(judge, plan, i);
  if (core->end_core_c < core->rule_core_c - SLACK_C && !plan->has_safety_basis)
    pw_judge_find(judge, "J13", "cores[%d].end_core_c: is %g, the rule asks for %g, and the event names no basis", i,
                  core->end_core_c, core->rule_core_c);
  if (core->log_reduction > LOG_MOST || core->hold_log_reduction > LOG_MOST)
    pw_judge_find(judge, "J13", "cores[%d].log_reduction: is %g and %g in the hold, beyond %g the number says nothing",
                  i, core->log_reduction, core->hold_log_reduction, LOG_MOST);
  if (!core->is_raw)
    return;
  if (!(core->come_up_min <= COME_UP_MOST_MIN) && !is_said(plan, "come-up"))
    pw_judge_find(judge, "J13", "cores[%d].come_up_min: is %g, more than %d, and no warning \"come-up\" says so", i,
                  core->come_up_min, COME_UP_MOST_MIN);
  if (core->log_needed < LEAST_LOG)
    pw_judge_find(judge, "J13", "cores[%d].log_needed: is %g, less than %g", i, core->log_needed, LEAST_LOG);
  if (!(core->log_reduction + core->hold_log_reduction >= core->log_needed) && !is_said(plan, "lethality"))
    pw_judge_find(
        judge, "J13",
        "cores[%d].log_reduction: is %g and %g in the hold, %g are asked for, and no warning \"lethality\" says so", i,
        core->log_reduction, core->hold_log_reduction, core->log_needed);
}

/** Every lot that is cooked has its line, and one only. */
static void check_all_there(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++) {
    int lines = 0;
    for (int i = 0; i < plan->n[PW_SEEN_CORES]; i++)
      lines += plan->cores[i].lot == l;
    if (lines > 1 || (lines == 0 && plan->n[PW_SEEN_NEEDS] > 0))
      pw_judge_find(judge, "J13", "cores: %d lines for \"%s\", one is asked for", lines, plan->lots[l].id);
  }
}

pw_status pw_check_heat(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  check_all_there(judge, plan);
  for (int i = 0; i < plan->n[PW_SEEN_CORES]; i++)
    check_core(judge, plan, i);
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    check_box(judge, plan, i);
  for (int i = 0; i < plan->n[PW_SEEN_FINISHERS]; i++)
    if (plan->finishers[i].kind == 1 && plan->finishers[i].temp_c < HOT_HOLD_C - SLACK_C && !plan->has_safety_basis)
      pw_judge_find(judge, "J13", "finishers[%d].temp_c: is %g, hot food is held at %g, and the event names no basis",
                    i, plan->finishers[i].temp_c, HOT_HOLD_C);
  return PW_OK;
}
