/* fuel.c - wood and charcoal of each burn, the feed list, totals with reserve and cost [F1].
 * In: event, lots, allocation.  Out: struct pw_fuel_plan; pw_fuel_rates_make gives the allocator its prices.
 * Need is summed in steps of a few minutes: shell at the weather of the step, food on the pit, warming of the steel
 * until the pit is ready, less what the starting charcoal gives.  Divided by what a kilogram of wood leaves in the pit
 * it is a rising curve of wood needed, which plan/fire/feeds.c lays feeds ahead of. */
#include "base/arena.h"
#include "base/diag.h"
#include "base/format.h"
#include "plan/fire/feeds.h"
#include "plan/fire/oven_saving.h"
#include "plan/fire/pit_heat.h"
#include "plan/fire/visits.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>

enum { STEP_MIN = PW_NEED_STEP_MIN }; /* step of the heat sum */

/* ---- rates for the allocator ------------------------------------------------------------------ */

static pw_cents to_cents(double cents) { return (pw_cents)llround(cents); }

/** Wood of a burn that does not grow with its hours, kg: steel and half of the shell's steady loss while it warms, less the
 *  charcoal; then what the water pan boils off.  Charcoal beyond the lighting saves wood later (below 0) unless a cook's own
 *  figure says what is fed then. */
static double lighting_wood_kg(const struct pw_pit_heat *h, double ambient_c, double wind_m_s)
{
  double need_mj = pw_pit_heat_warm_up_mj(h, ambient_c) +
                   0.5 * pw_pit_heat_shell_kw(h, ambient_c, wind_m_s) * h->pit->ready_min * 60.0 / 1000.0;
  need_mj -= h->pit->start_charcoal_kg * pw_pit_heat_useful_mj_kg(h, h->charcoal, ambient_c);
  if (h->is_told)
    need_mj = fmax(need_mj, 0.0);
  return (need_mj + pw_pit_heat_pan_mj(h)) / pw_pit_heat_useful_mj_kg(h, h->wood, ambient_c);
}

pw_status pw_fuel_rates_make(struct pw_fuel_rates *out, const struct pw_event *ev, struct pw_ctx *ctx)
{
  struct pw_fuel_rates rates = {
      .burn_cents_per_h = pw_arena_array(ctx->arena, (size_t)ev->n_pits, sizeof *rates.burn_cents_per_h),
      .light_cents = pw_arena_array(ctx->arena, (size_t)ev->n_pits, sizeof *rates.light_cents)};
  *out = (struct pw_fuel_rates){0};
  if (!rates.burn_cents_per_h || !rates.light_cents)
    return PW_ERR_MEMORY;
  double mean_c = 0.5 * (ev->weather.low_c + ev->weather.high_c), wind = ev->weather.wind_m_s;
  for (int p = 0; p < ev->n_pits; p++) {
    size_t n = (size_t)ev->pits[p].n_settings;
    double *burn = rates.burn_cents_per_h[p] = pw_arena_array(ctx->arena, n, sizeof *burn);
    double *light = rates.light_cents[p] = pw_arena_array(ctx->arena, n, sizeof *light);
    if (!burn || !light)
      return PW_ERR_MEMORY;
    for (int s = 0; s < ev->pits[p].n_settings; s++) {
      struct pw_pit_heat h;
      pw_pit_heat_make(&h, ev, p, s);
      double useful = pw_pit_heat_useful_mj_kg(&h, h.wood, mean_c);
      burn[s] = pw_pit_heat_shell_kw(&h, mean_c, wind) * 3.6 / useful * h.wood->price_cents_per_kg;
      light[s] = h.pit->start_charcoal_kg * h.charcoal->price_cents_per_kg +
                 lighting_wood_kg(&h, mean_c, wind) * h.wood->price_cents_per_kg;
      light[s] = fmax(light[s], 0.0); /* nobody is paid for lighting a fire, however cheap the charcoal */
    }
  }
  *out = rates;
  return PW_OK;
}

/* ---- one burn ------------------------------------------------------------------------------------ */

/** Heat wanted once the fire is ready, by what wants it. */
struct need_parts {
  double shell_mj, food_mj, door_mj, pan_mj;
};

static double food_mj_per_min(const struct pw_load *load, const struct pw_event *ev, const struct pw_lots *lots)
{
  double smoke_mj, finish_mj;
  pw_food_heat_mj(&ev->cuts[lots->lots[load->lot].cut], &smoke_mj, &finish_mj);
  double mj = load->stage == PW_LOAD_SMOKE ? smoke_mj : finish_mj;
  return load->pieces * mj / fmax(load->end_at_min - load->start_at_min, 1.0);
}

static bool is_on_pit(const struct pw_load *load, const struct pw_lots *lots, int pit)
{
  return load->zone != PW_NONE && lots->zones[load->zone].pit == pit;
}

/** Heat into the food on the pit between two instants, MJ. */
static double food_mj(const struct pw_event *ev, const struct pw_lots *lots, const struct pw_allocation *a, int pit,
                      int from_at_min, int to_at_min)
{
  double sum = 0.0;
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *load = &a->loads[i];
    int from = load->start_at_min > from_at_min ? load->start_at_min : from_at_min;
    int to = load->end_at_min < to_at_min ? load->end_at_min : to_at_min;
    if (is_on_pit(load, lots, pit) && to > from)
      sum += food_mj_per_min(load, ev, lots) * (to - from);
  }
  return sum;
}

static pw_status make_need(struct pw_need_curve *out, struct need_parts *parts, struct pw_burn_fuel *fuel,
                           const struct pw_burn *burn, const struct pw_event *ev, const struct pw_lots *lots,
                           const struct pw_allocation *a, const struct pw_visits *visits, struct pw_arena *arena)
{
  struct pw_pit_heat h;
  pw_pit_heat_make(&h, ev, burn->pit, burn->setting);
  int span = burn->out_at_min - burn->lit_at_min, warm_min = burn->ready_at_min - burn->lit_at_min;
  out->lit_at_min = burn->lit_at_min;
  out->n_steps = (span + STEP_MIN - 1) / STEP_MIN;
  out->wood_kg = pw_arena_array(arena, (size_t)out->n_steps + 1, sizeof *out->wood_kg);
  if (!out->wood_kg)
    return PW_ERR_MEMORY;
  double lit_c = pw_weather_c(&ev->weather, burn->lit_at_min);
  fuel->charcoal_kg = h.pit->start_charcoal_kg;
  fuel->warm_up_mj = pw_pit_heat_warm_up_mj(&h, lit_c);
  double charcoal_mj = fuel->charcoal_kg * pw_pit_heat_useful_mj_kg(&h, h.charcoal, lit_c);
  double shell_sum_mj = 0.0, food_sum_mj = 0.0, door_sum_mj = 0.0, wood_kg = 0.0, flue_mj_kg = 0.0,
         owed_mj = -charcoal_mj, spent_mj = 0.0;
  out->half_spent_at_min = charcoal_mj > 0.0 ? burn->out_at_min : burn->lit_at_min;
  for (int k = 0; k < out->n_steps; k++) {
    int from = burn->lit_at_min + k * STEP_MIN;
    int to = from + STEP_MIN < burn->out_at_min ? from + STEP_MIN : burn->out_at_min;
    double ambient_c = pw_weather_c(&ev->weather, from + (to - from) / 2);
    /* while the steel warms, its loss grows in a straight line */
    double warmth = warm_min > 0 ? fmin((0.5 * (from + to) - burn->lit_at_min) / warm_min, 1.0) : 1.0;
    double shell = warmth * pw_pit_heat_shell_kw(&h, ambient_c, ev->weather.wind_m_s) * (to - from) * 60.0 / 1000.0;
    double food = food_mj(ev, lots, a, burn->pit, from, to);
    int warming = (to < burn->ready_at_min ? to : burn->ready_at_min) - from;
    double steel = warming > 0 ? fuel->warm_up_mj * warming / warm_min : 0.0;
    int boiling = to - (from > burn->ready_at_min ? from : burn->ready_at_min);
    double pan = boiling > 0 ? pw_pit_heat_pan_mj(&h) * boiling / (span - warm_min) : 0.0;
    double door = pw_visits_open_min(visits, burn->pit, from, to) * pw_pit_heat_door_kw(&h, ambient_c) * 60.0 / 1000.0;
    if (from >= burn->ready_at_min) {
      parts->shell_mj += shell;
      parts->food_mj += food;
      parts->door_mj += door;
      parts->pan_mj += pan;
    }
    shell_sum_mj += shell;
    door_sum_mj += door;
    food_sum_mj += food;
    if (h.is_told && from >= burn->ready_at_min) /* the cook feeds what he told, whatever charcoal is left */
      owed_mj = fmax(owed_mj, 0.0);
    owed_mj += shell + food + steel + pan + door;
    spent_mj += shell + food + steel + pan + door;
    if (spent_mj >= 0.5 * charcoal_mj && from < out->half_spent_at_min)
      out->half_spent_at_min = from;
    if (owed_mj > 0.0) {
      wood_kg += owed_mj / pw_pit_heat_useful_mj_kg(&h, h.wood, ambient_c);
      owed_mj = 0.0;
    }
    flue_mj_kg += pw_pit_heat_flue_mj_kg(&h, h.wood, ambient_c) / out->n_steps;
    out->wood_kg[k + 1] = wood_kg;
  }
  double seconds = fmax(span, 1) * 60.0;
  fuel->shell_kw = shell_sum_mj * 1000.0 / seconds;
  fuel->door_kw = door_sum_mj * 1000.0 / seconds;
  fuel->food_kw = food_sum_mj * 1000.0 / seconds;
  fuel->exhaust_kw =
      (wood_kg * flue_mj_kg + fuel->charcoal_kg * pw_pit_heat_flue_mj_kg(&h, h.charcoal, lit_c)) * 1000.0 / seconds;
  return PW_OK;
}

/* ---- doubts ------------------------------------------------------------------------------------------- */

#define DOUBT_FRAC                                                                                                     \
  (1.0 /                                                                                                               \
   3.0) /* a told figure of splits an hour further from theory for the same mild day is doubted: common practice, no source */

static bool is_far(double told, double other) { return fabs(other - told) > DOUBT_FRAC * told; }

static struct pw_short number(double x) { return pw_format_number(x, 1); }

/** A burn's splits an hour once it is ready, beside what the cook told: they differ by weather, food, doors and pan. */
struct feeding {
  double told, planned, theory; /* told 0: no figure for this setting */
  struct need_parts parts;
};

static struct feeding feeding_of(const struct pw_event *ev, const struct pw_burn *burn,
                                 const struct pw_need_curve *need, const struct need_parts *parts)
{
  const struct pw_pit *pit = &ev->pits[burn->pit];
  double hours = (burn->out_at_min - burn->ready_at_min) / 60.0;
  struct feeding f = {.told = pit->settings[burn->setting].splits_per_h, .parts = *parts};
  if (hours <= 0.0)
    f.told = 0.0;
  if (f.told > 0.0) {
    f.planned = (pw_need_at(need, burn->out_at_min) - pw_need_at(need, burn->ready_at_min)) / pit->split_kg / hours;
    f.theory = pw_pit_heat_theory_splits_per_h(ev, burn->pit, burn->setting);
  }
  return f;
}

/** A cook's figure counts; that the plan feeds another number, or that the heat balance does not bear it out, is told: one
 *  sentence for a pit, of the burn that is furthest off. */
static void doubt_told(const struct pw_event *ev, const struct pw_allocation *a, const struct feeding *fed,
                       struct pw_ctx *ctx)
{
  for (int p = 0; p < ev->n_pits; p++) {
    double most = 0.0;
    int burn = PW_NONE;
    for (int b = 0; b < a->n_burns; b++) {
      const struct feeding *f = &fed[b];
      if (a->burns[b].pit != p || f->told <= 0.0 ||
          !is_far(f->told, f->theory)) /* weather and food are on top of both */
        continue;
      double off = fabs(f->theory - f->told) / f->told;
      if (off > most) {
        most = off;
        burn = b;
      }
    }
    if (burn == PW_NONE)
      continue;
    const struct feeding *f = &fed[burn];
    const char *noun = pw_feed_noun(&ev->fuels[ev->pits[p].wood], 2);
    double each = f->planned / (f->parts.shell_mj + f->parts.food_mj + f->parts.door_mj + f->parts.pan_mj);
    pw_diag_add(ctx, PW_WARNING, "splits-doubted", ev->file, 0, 0,
                "%s, %s: its figure is %s %s an hour on a mild, still day, and the plan goes by that. %s are planned: "
                "%s for this air and wind, %s for the food, %s for opened doors, %s for the water pan. Heat theory "
                "without that figure says %s for such a day%s",
                ev->pits[p].name, ev->pits[p].settings[a->burns[burn].setting].name, number(f->told).s, noun,
                number(f->planned).s, number(each * f->parts.shell_mj).s, number(each * f->parts.food_mj).s,
                number(each * f->parts.door_mj).s, number(each * f->parts.pan_mj).s, number(f->theory).s,
                is_far(f->told, f->theory) ? ": weigh one and count an hour's feeds before you trust the wood bought"
                                           : "");
  }
}

/* ---- totals ------------------------------------------------------------------------------------------ */

/** Whole packs that hold at least buy_kg: the cheapest single offer of the fuel's item, else its own sack, else loose by
 *  weight.  Fills packs and cost. */
static void buy_fuel(struct pw_fuel_line *line, const struct pw_event *ev)
{
  const struct pw_fuel *fuel = &ev->fuels[line->fuel];
  const struct pw_item *item = fuel->item == PW_NONE ? NULL : &ev->items[fuel->item];
  double packs = fuel->sack_kg > 0.0 ? ceil(line->buy_kg / fuel->sack_kg - 1e-9) : 0.0;
  double best =
      packs > 0.0 ? packs * round(fuel->price_cents_per_kg * fuel->sack_kg) : fuel->price_cents_per_kg * line->buy_kg;
  line->packs = (int)packs;
  line->pack_kg = fuel->sack_kg;
  line->pack = packs > 0.0 ? "sack" : NULL;
  line->offer = PW_NONE;
  for (int o = 0; item && item->unit == PW_UNIT_KG && o < item->n_offers; o++) {
    const struct pw_offer *offer = &item->offers[o];
    packs = offer->is_by_weight ? 0.0 : ceil(line->buy_kg / offer->amount - 1e-9);
    double cents = (offer->is_by_weight ? line->buy_kg : packs) * offer->price_cents;
    if (line->offer != PW_NONE && cents >= best)
      continue;
    best = cents;
    line->offer = o;
    line->packs = (int)packs;
    line->pack_kg = offer->is_by_weight ? 0.0 : offer->amount;
    line->pack = offer->is_by_weight ? NULL : offer->pack;
  }
  line->cost_cents = to_cents(best);
}

static pw_status make_lines(struct pw_fuel_plan *plan, const struct pw_event *ev, const struct pw_allocation *a,
                            struct pw_arena *arena)
{
  double *need_kg = pw_arena_array(arena, (size_t)ev->n_fuels, sizeof *need_kg);
  double *splits = pw_arena_array(arena, (size_t)ev->n_fuels, sizeof *splits);
  plan->lines = pw_arena_array(arena, (size_t)ev->n_fuels, sizeof *plan->lines);
  if (!need_kg || !splits || !plan->lines)
    return PW_ERR_MEMORY;
  double with_reserve = 1.0 + ev->terms.fuel_reserve_frac;
  for (int b = 0; b < plan->n_burns; b++) {
    const struct pw_pit *pit = &ev->pits[a->burns[b].pit];
    need_kg[pit->wood] += plan->burns[b].wood_kg;
    if (pit->charcoal != PW_NONE)
      need_kg[pit->charcoal] += plan->burns[b].charcoal_kg;
    splits[pit->wood] += plan->burns[b].wood_kg / pit->split_kg;
  }
  for (int f = 0; f < ev->n_fuels; f++) {
    if (need_kg[f] <= 0.0)
      continue;
    struct pw_fuel_line *line = &plan->lines[plan->n_lines++];
    line->fuel = f;
    line->need_kg = need_kg[f];
    line->buy_kg = need_kg[f] * with_reserve;
    line->splits = (int)ceil(splits[f] * with_reserve - 1e-6);
    if (!ev->fuels[f].is_charcoal && ev->fuels[f].kg_per_m3_stacked > 0.0)
      line->stacked_m3 = line->buy_kg / ev->fuels[f].kg_per_m3_stacked;
    buy_fuel(line, ev);
    plan->cost_cents += line->cost_cents;
  }
  return PW_OK;
}

/** Minutes in which at least one load is in this oven; loads are sorted by start. */
static int oven_minutes(const struct pw_allocation *a, int finisher)
{
  int minutes = 0, until = INT_MIN;
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *load = &a->loads[i];
    if (load->finisher != finisher || load->stage > PW_LOAD_FINISH || load->end_at_min <= until)
      continue;
    minutes += load->end_at_min - (load->start_at_min > until ? load->start_at_min : until);
    until = load->end_at_min;
  }
  return minutes;
}

/** Minutes in which something is reheated and no load is in this oven. */
static int reheat_minutes(const struct pw_lots *lots, const struct pw_allocation *a, int finisher)
{
  int n = 0;
  for (int m = lots->start_at_min; m < lots->end_at_min; m++) {
    bool is_in = false, is_on = false;
    for (int r = 0; r < lots->n_reheats && !is_in; r++)
      is_in =
          lots->reheats[r].finisher == finisher && lots->reheats[r].from_at_min <= m && m < lots->reheats[r].out_at_min;
    for (int i = 0; i < a->n_loads && is_in && !is_on; i++)
      is_on = a->loads[i].finisher == finisher && a->loads[i].stage == PW_LOAD_FINISH &&
              a->loads[i].start_at_min <= m && m < a->loads[i].end_at_min;
    n += is_in && !is_on;
  }
  return n;
}

static void make_ovens(struct pw_fuel_plan *plan, const struct pw_event *ev, const struct pw_lots *lots,
                       const struct pw_allocation *a)
{
  double cents = 0.0;
  for (int f = 0; f < ev->n_finishers; f++) {
    if (ev->finishers[f].kind != PW_OVEN)
      continue;
    double hours = (oven_minutes(a, f) + reheat_minutes(lots, a, f)) / 60.0;
    plan->oven_h += hours;
    cents += hours * ev->finishers[f].cents_per_h;
  }
  plan->oven_cents = to_cents(cents);
  plan->cost_cents += plan->oven_cents;
}

pw_status pw_fuel_make(struct pw_fuel_plan *out, const struct pw_event *ev, const struct pw_lots *lots,
                       const struct pw_allocation *allocation, const struct pw_visits *visits, struct pw_ctx *ctx)
{
  struct pw_fuel_plan plan = {.n_burns = allocation->n_burns};
  *out = (struct pw_fuel_plan){0};
  plan.burns = pw_arena_array(ctx->arena, (size_t)plan.n_burns, sizeof *plan.burns);
  struct feeding *fed = pw_arena_array(ctx->arena, (size_t)plan.n_burns, sizeof *fed);
  if (!plan.burns || !fed)
    return PW_ERR_MEMORY;
  for (int b = 0; b < plan.n_burns; b++) {
    struct pw_need_curve need = {0};
    struct need_parts parts = {0};
    pw_status status =
        make_need(&need, &parts, &plan.burns[b], &allocation->burns[b], ev, lots, allocation, visits, ctx->arena);
    plan.burns[b].n_visits = pw_visits_count(visits, allocation->burns[b].pit, allocation->burns[b].lit_at_min,
                                             allocation->burns[b].out_at_min);
    if (status == PW_OK)
      status = pw_feeds_make(&plan.burns[b], &need, &allocation->burns[b], ev, lots, allocation, visits, ctx->arena);
    if (status != PW_OK)
      return status;
    fed[b] = feeding_of(ev, &allocation->burns[b], &need, &parts);
  }
  doubt_told(ev, allocation, fed, ctx);
  pw_status status = make_lines(&plan, ev, allocation, ctx->arena);
  if (status != PW_OK)
    return status;
  make_ovens(&plan, ev, lots, allocation);
  pw_oven_saving_make(&plan.oven_saving, ev, lots, allocation);
  *out = plan;
  return PW_OK;
}
