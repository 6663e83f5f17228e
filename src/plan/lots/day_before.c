/* day_before.c - what is cooked the day before: chilled in ice water, kept cold, reheated in ovens [C1].
 * In: event, lots, loads.  Out: reheats (with the lots, so that the allocation leaves their room alone), chills, warnings.
 * How thick a piece may be in the ice water and how deep a layer in the oven follow from conduction in a slab and the limits of
 * FDA Food Code 2022: 135 F to 70 F in 2 h and 41 F in 6 h (3-501.14(A)), 165 F within 2 h (3-403.11(A), (D)). */
#include "plan/lots/day_before.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/format.h"
#include "heat/food_code.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>

enum {
  DAY_MIN = 24 * 60,
  NOON_MIN = 12 * 60,
  COOL_FIRST_MIN = 120,
  COOL_ALL_MIN = 360,    /* FDA Food Code 2022 3-501.14(A) */
  REHEAT_MOST_MIN = 120, /* 3-403.11(D) */
  REHEAT_SPARE_MIN = 15, /* kept of the two hours for a cold oven and a slow pan; common practice, no source */
  READY_BEFORE_MIN = 30, /* hot so long before the service; common practice, no source */
  PAN_BEFORE_MIN = 120   /* sliced cold and panned up in these before; common practice, no source */
};
#define ICE_WATER_C       0.5   /* a bath with ice left in it; common practice, no source */
#define ICE_WATER_H_W_M2K 100.0 /* free convection in liquids, 50 to 1000: Incropera table 1.1, from memory */
#define OVEN_H_W_M2K      15.0 /* covered pan: radiation and free convection of a warm oven; common practice, no source */
#define FOOD_KG_M3        1050.0          /* cooked meat, from memory */
#define FILL_FRAC         0.9             /* slices do not lie without gaps; common practice, no source */
#define PAN_M2            (0.530 * 0.325) /* EN 631-1, GN 1/1 */
#define OFF_C             95.0            /* hottest core at the end of cooking, 203 F */
#define FOOD_KJ_KG_K      3.4             /* cooked meat, Choi-Okos at 60 % water, from memory */
#define MELT_KJ_KG        334.0           /* heat of melting of ice */

static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }

/* 00:00 of a day counted from the event's date. */
static int midnight(const struct pw_event *ev, int day)
{
  int at_min = day * DAY_MIN;
  if (ev->clock)
    pw_clock_at_min(ev->clock, pw_date_from_days(pw_date_to_days(ev->date) + day), 0, 0, &at_min);
  return at_min;
}

static int reheat_min(const struct pw_event *ev)
{
  int most = REHEAT_MOST_MIN - REHEAT_SPARE_MIN;
  return most - most % ev->slot_min;
}

static int reheat_from(const struct pw_event *ev, int service)
{
  return ev->services[service].at_min - READY_BEFORE_MIN - reheat_min(ev);
}

int pw_day_before_chill_by(const struct pw_event *ev, int service)
{
  int day = ev->services[service].day, begin = midnight(ev, day - 1), end = midnight(ev, day), there = INT_MIN;
  for (int k = 0; k < ev->n_crew; k++) {
    const struct pw_crew *crew = &ev->crew[k];
    if ((crew->duties & (1u << PW_DUTY_PIT | 1u << PW_DUTY_PREP)) != 0 && crew->from_at_min < end &&
        crew->to_at_min > begin + COOL_FIRST_MIN)
      there = max_int(there, min_int(crew->to_at_min, end + COOL_FIRST_MIN));
  }
  int by = min_int(end, reheat_from(ev, service) - PAN_BEFORE_MIN - COOL_ALL_MIN);
  if (there == INT_MIN)
    return by;
  return min_int(by, there - (there - COOL_ALL_MIN >= begin + NOON_MIN ? COOL_ALL_MIN : COOL_FIRST_MIN));
}

/* ---- reheating -------------------------------------------------------------------------------------- */

/* Room of one piece in the pans of an oven, in layers so deep; 0: it cannot be done there. */
static double room_of_piece(const struct pw_finisher *oven, const struct pw_lot *lot, const struct pw_cut *cut,
                            double depth_m)
{
  if (oven->kind != PW_OVEN || oven->temp_c < PW_REHEAT_OVEN_C || depth_m <= 0)
    return 0;
  double kg = lot->piece_kg * cut->cook_frac * (1 - cut->chill_loss_frac),
         area_m2 = kg / FOOD_KG_M3 / depth_m / FILL_FRAC;
  return oven->is_in_pans ? fmax(cut->pans_per_piece, area_m2 / PAN_M2) : area_m2;
}

static double depth_m(const struct pw_event *ev, const struct pw_finisher *oven)
{
  double thin = pw_cooling_depth_m(ICE_WATER_H_W_M2K, ICE_WATER_C);
  return fmin(thin, pw_reheat_depth_m(OVEN_H_W_M2K, oven->temp_c, PW_FOOD_CODE_REHEAT_C, reheat_min(ev)));
}

/* What other reheats leave free of an oven between two times. */
static double free_room(const struct pw_lots *lots, const struct pw_event *ev, int f, int from, int to)
{
  double room = ev->finishers[f].capacity;
  for (int i = 0; i < lots->n_reheats; i++) {
    const struct pw_reheat *r = &lots->reheats[i];
    if (r->finisher == f && r->from_at_min < to && from < r->out_at_min)
      room -= r->capacity;
  }
  return room;
}

pw_status pw_day_before_reheats(struct pw_lots *lots, const struct pw_event *ev, struct pw_ctx *ctx)
{
  size_t cap = 0;
  for (int l = 0; l < lots->n_lots; l++) {
    const struct pw_lot *lot = &lots->lots[l];
    const struct pw_cut *cut = &ev->cuts[lot->cut];
    int left = lot->is_day_before ? lot->pieces : 0, from = left ? reheat_from(ev, lot->service) : 0;
    for (int f = 0; f < ev->n_finishers && left > 0; f++) {
      const struct pw_finisher *oven = &ev->finishers[f];
      double deep = depth_m(ev, oven), each = room_of_piece(oven, lot, cut, deep);
      int out = ev->services[lot->service].at_min;
      int n = each > 0 ? min_int(left, (int)floor(free_room(lots, ev, f, from, out) / each + 1e-9)) : 0;
      if (n <= 0)
        continue;
      if (pw_arena_grow(ctx->arena, &lots->reheats, &cap, (size_t)lots->n_reheats, sizeof *lots->reheats))
        return PW_ERR_MEMORY;
      lots->reheats[lots->n_reheats++] = (struct pw_reheat){.lot = l,
                                                            .finisher = f,
                                                            .pieces = n,
                                                            .from_at_min = from,
                                                            .ready_at_min = from + reheat_min(ev),
                                                            .out_at_min = out,
                                                            .capacity = n * each,
                                                            .depth_m = deep,
                                                            .core_c = PW_FOOD_CODE_REHEAT_C};
      left -= n;
    }
  }
  return PW_OK;
}

int pw_day_before_reheated(const struct pw_lots *lots, int lot)
{
  int n = 0;
  for (int r = 0; r < lots->n_reheats; r++)
    n += lots->reheats[r].lot == lot ? lots->reheats[r].pieces : 0;
  return n;
}

/* ---- chilling --------------------------------------------------------------------------------------- */

/* Pieces of a lot whose cooking ends with this load. */
static bool is_last_stage(const struct pw_plan *plan, const struct pw_load *load)
{
  return load->stage == (plan->lots.lots[load->lot].has_finish ? PW_LOAD_FINISH : PW_LOAD_SMOKE);
}

static pw_status warn(struct pw_day_before *out, size_t *cap, const char *code, const char *text, struct pw_ctx *ctx)
{
  if (!text || pw_arena_grow(ctx->arena, &out->warnings, cap, (size_t)out->n_warnings, sizeof *out->warnings))
    return PW_ERR_MEMORY;
  out->warnings[out->n_warnings++] = (struct pw_warning){.code = code, .text = text};
  return PW_OK;
}

static pw_status chills_of_lot(struct pw_day_before *out, size_t *cap, const struct pw_plan *plan, int l,
                               struct pw_ctx *ctx)
{
  const struct pw_lot *lot = &plan->lots.lots[l];
  int first = out->n_chills;
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->lot != l || !is_last_stage(plan, load))
      continue;
    int at = load->end_at_min + lot->rest_min, k = first;
    while (k < out->n_chills && out->chills[k].from_at_min < at)
      k++;
    if (k == out->n_chills || out->chills[k].from_at_min != at) {
      if (pw_arena_grow(ctx->arena, &out->chills, cap, (size_t)out->n_chills, sizeof *out->chills))
        return PW_ERR_MEMORY;
      for (int m = out->n_chills++; m > k; m--)
        out->chills[m] = out->chills[m - 1];
      out->chills[k] = (struct pw_chill){.lot = l,
                                         .from_at_min = at,
                                         .cool_by_at_min = at + COOL_FIRST_MIN,
                                         .cold_by_at_min = at + COOL_ALL_MIN,
                                         .thick_m = pw_cooling_depth_m(ICE_WATER_H_W_M2K, ICE_WATER_C)};
    }
    out->chills[k].pieces += load->pieces;
  }
  double ice =
      lot->piece_kg * plan->event->cuts[lot->cut].cook_frac * FOOD_KJ_KG_K * (OFF_C - PW_FOOD_CODE_COLD_C) / MELT_KJ_KG;
  for (int k = first; k < out->n_chills; k++)
    out->chills[k].ice_kg = out->chills[k].pieces * ice;
  return PW_OK;
}

pw_status pw_day_before_make(struct pw_day_before *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  size_t cap = 0, cap_warnings = 0;
  const struct pw_event *ev = plan->event;
  struct pw_day_before made = {0};
  *out = made;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    if (!lot->is_day_before)
      continue;
    if (chills_of_lot(&made, &cap, plan, l, ctx) != PW_OK)
      return PW_ERR_MEMORY;
    int cold = lot->pieces - (plan->allocation.missed ? plan->allocation.missed[l] : 0) -
               pw_day_before_reheated(&plan->lots, l);
    if (cold <= 0)
      continue;
    const char *text = pw_arena_printf(ctx->arena,
                                       "%d of %d × %s for %s, cooked the day before, find no oven to be reheated in, "
                                       "in layers that reach %s within 2 h (FDA "
                                       "Food Code 2022 3-403.11): take another oven, or cook them on the day.",
                                       cold, lot->pieces, ev->cuts[lot->cut].name, ev->services[lot->service].name,
                                       pw_format_temp(ev->units, PW_FOOD_CODE_REHEAT_C).s);
    if (warn(&made, &cap_warnings, "reheat-room", text, ctx) != PW_OK)
      return PW_ERR_MEMORY;
  }
  *out = made;
  return PW_OK;
}
