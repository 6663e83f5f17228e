/* lots.c - zones of all pits, lots from raw needs, stage times [T1] and the windows in which cooking may end.
 * In: event, purchase.raws.  Out: struct pw_lots.
 * A zone is an equal stretch of a rack; its temperature is read at the middle of the stretch from the straight line
 * between the pit's hot and cool end, plus the rack's offset, bent by the thermometers the cook has at the rack.  A stage time
 * is carried from the catalog's reference to the zone's temperature by the heat engine and rounded up to the slot; PW_NONE where
 * the temperature is outside the stage's range, one piece alone does not fit, or the core would warm up too slowly to be safe
 * [H1], unless the event says on what basis the cook proceeds.  Each (cut, stage, temperature, humidity) is computed once. */
#include "base/arena.h"
#include "heat/curve.h"
#include "heat/fit.h"
#include "heat/food_code.h"
#include "heat/zone_temp.h"
#include "plan/demand/cook_day.h"
#include "plan/demand/head_count.h"
#include "plan/lots/day_before.h"
#include "plan/lots/drips.h"
#include "plan/lots/grate.h"
#include "plan/lots/waves.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>

#define ONE_SIDED_90 1.2816 /* 90 % quantile of the standard normal distribution */
#define LONGEST_STAGES                                                                                                 \
  4.0 /* times the reference; beyond it a piece dries out before it is done: common practice, no source */

static int floor_to(int minute, int slot)
{
  int rest = minute % slot;
  return minute - (rest < 0 ? rest + slot : rest);
}

static int ceil_to(int minute, int slot) { return -floor_to(-minute, slot); }

static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }

/* ---- zones ------------------------------------------------------------------------------------ */

static int zones_of(const struct pw_event *ev)
{
  int n = 0;
  for (int p = 0; p < ev->n_pits; p++)
    for (int r = 0; r < ev->pits[p].n_racks; r++)
      n += ev->pits[p].racks[r].n_zones;
  return n;
}

static pw_status make_zone(struct pw_zone *z, const struct pw_pit *pit, int pit_index, int rack_index, int k,
                           struct pw_arena *arena)
{
  const struct pw_rack *rack = &pit->racks[rack_index];
  z->pit = pit_index;
  z->rack = rack_index;
  z->length_m = rack->length_m / rack->n_zones;
  z->x_m = k * z->length_m;
  z->depth_m = rack->depth_m;
  z->id = pw_arena_printf(arena, "%s/%s/%d", pit->id, rack->id, k + 1);
  z->temp_c = pw_arena_array(arena, (size_t)pit->n_settings, sizeof *z->temp_c);
  if (!z->id || !z->temp_c)
    return PW_ERR_MEMORY;
  for (int s = 0; s < pit->n_settings; s++)
    z->temp_c[s] = pw_zone_middle_c(&pit->settings[s], rack, rack_index, k);
  return PW_OK;
}

static pw_status make_zones(struct pw_lots *lots, const struct pw_event *ev, struct pw_arena *arena)
{
  lots->n_zones = zones_of(ev);
  lots->zones = pw_arena_array(arena, (size_t)lots->n_zones, sizeof *lots->zones);
  if (!lots->zones)
    return PW_ERR_MEMORY;
  int n = 0;
  for (int p = 0; p < ev->n_pits; p++)
    for (int r = 0; r < ev->pits[p].n_racks; r++)
      for (int k = 0; k < ev->pits[p].racks[r].n_zones; k++) {
        pw_status status = make_zone(&lots->zones[n++], &ev->pits[p], p, r, k, arena);
        if (status != PW_OK)
          return status;
      }
  return PW_OK;
}

/* ---- stage times --------------------------------------------------------------------------------- */

/** Times already worked out for one cut; temperatures repeat over alike pits and racks. */
struct known_time {
  const struct pw_stage *stage;
  double temp_c, ratio, minutes;
};

/** One cut as the heat engine knows it, fitted when first needed. */
struct timed_cut {
  bool is_fitted;
  struct pw_stage_model model;
  struct known_time *known;
  size_t n_known, cap;
};

/** Rounds up to the slot.  A few minutes over are let go: they are far inside the stage's spread, and the reference time in
 *  slightly drier or damper air than the catalog's must not cost a whole slot. */
static int slots_of(double minutes, int slot)
{
  double let_go = fmin(0.02 * minutes, slot / 6.0);
  return max_int(slot, ceil_to((int)ceil(minutes - let_go - 1e-6), slot));
}

static pw_status stage_slots(int *out_min, struct timed_cut *timed, const struct pw_cut *cut,
                             const struct pw_stage *stage, double temp_c, const struct pw_stage_air *air,
                             bool is_come_up_bound, int slot, struct pw_arena *arena)
{
  *out_min = PW_NONE;
  if (!timed->is_fitted)
    pw_stage_model_make(&timed->model, cut);
  timed->is_fitted = true;
  double minutes = -1.0;
  for (size_t i = 0; i < timed->n_known && minutes < 0.0; i++) {
    const struct known_time *k = &timed->known[i];
    if (k->stage == stage && k->temp_c == temp_c && k->ratio == air->ratio)
      minutes = k->minutes;
  }
  if (minutes < 0.0) {
    if (pw_arena_grow(arena, &timed->known, &timed->cap, timed->n_known, sizeof *timed->known))
      return PW_ERR_MEMORY;
    minutes = pw_stage_model_minutes(&timed->model, stage, temp_c, air);
    if (is_come_up_bound && stage == &cut->smoke && minutes > PW_COME_UP_MOST_MIN &&
        pw_curve_come_up_min(&timed->model, temp_c, air) > PW_COME_UP_MOST_MIN)
      minutes = HUGE_VAL;
    timed->known[timed->n_known++] = (struct known_time){stage, temp_c, air->ratio, minutes};
  }
  /* a stage that would take longer than this is no way to cook the piece */
  if (minutes <= LONGEST_STAGES * stage->ref_min)
    *out_min = slots_of(minutes, slot);
  return PW_OK;
}

/** What really happens over coals inside the slots: how long a piece lies, and how often it is turned. */
static pw_status make_coals(struct pw_lot *lot, const struct pw_lots *lots, const struct pw_event *ev,
                            const struct pw_stage_air *airs, const struct timed_cut *timed, struct pw_arena *arena)
{
  const struct pw_cut *cut = &ev->cuts[lot->cut];
  lot->coals_min = pw_arena_array(arena, (size_t)lots->n_zones, sizeof *lot->coals_min);
  lot->coals_turn_min = pw_arena_array(arena, (size_t)lots->n_zones, sizeof *lot->coals_turn_min);
  if (!lot->coals_min || !lot->coals_turn_min)
    return PW_ERR_MEMORY;
  for (int i = 0; i < lots->n_zones; i++) {
    const struct pw_zone *z = &lots->zones[i];
    size_t n = (size_t)ev->pits[z->pit].n_settings;
    lot->coals_min[i] = pw_arena_array(arena, n, sizeof **lot->coals_min);
    lot->coals_turn_min[i] = pw_arena_array(arena, n, sizeof **lot->coals_turn_min);
    if (!lot->coals_min[i] || !lot->coals_turn_min[i])
      return PW_ERR_MEMORY;
    for (size_t s = 0; s < n; s++) {
      if (lot->smoke_min[i][s] == PW_NONE)
        continue;
      lot->coals_min[i][s] = pw_stage_model_minutes(&timed->model, &cut->smoke, z->temp_c[s], &airs[z->pit]);
      if (cut->smoke.turns > 0)
        lot->coals_turn_min[i][s] = lot->coals_min[i][s] / (cut->smoke.turns + 1);
    }
  }
  return PW_OK;
}

static pw_status make_times(struct pw_lot *lot, const struct pw_lots *lots, const struct pw_event *ev,
                            const struct pw_stage_air *airs, struct timed_cut *timed, struct pw_arena *arena)
{
  const struct pw_cut *cut = &ev->cuts[lot->cut];
  bool is_bound = !ev->safety_basis && pw_food_code_has_come_up(cut->kind, cut->safety);
  lot->smoke_min = pw_arena_array(arena, (size_t)lots->n_zones, sizeof *lot->smoke_min);
  lot->finish_min = pw_arena_array(arena, (size_t)lots->n_zones, sizeof *lot->finish_min);
  lot->oven_min = pw_arena_array(arena, (size_t)ev->n_finishers, sizeof *lot->oven_min);
  lot->open_oven_min = pw_arena_array(arena, (size_t)ev->n_finishers, sizeof *lot->open_oven_min);
  if (!lot->smoke_min || !lot->finish_min || !lot->oven_min || !lot->open_oven_min)
    return PW_ERR_MEMORY;
  for (int i = 0; i < lots->n_zones; i++) {
    const struct pw_zone *z = &lots->zones[i];
    const struct pw_pit *pit = &ev->pits[z->pit];
    int k = (int)(z->x_m / z->length_m + 0.5); /* which stretch of its rack */
    int *smoke = lot->smoke_min[i] = pw_arena_array(arena, (size_t)pit->n_settings, sizeof *smoke);
    int *finish = lot->finish_min[i] = pw_arena_array(arena, (size_t)pit->n_settings, sizeof *finish);
    if (!smoke || !finish)
      return PW_ERR_MEMORY;
    const struct pw_stage_air *air = &airs[z->pit];
    for (int s = 0; s < pit->n_settings; s++) {
      smoke[s] = finish[s] = PW_NONE;
      if (pw_fit_zone(cut, false, pit, z->rack, k, s) == PW_FITS &&
          stage_slots(&smoke[s], timed, cut, &cut->smoke, z->temp_c[s], air, is_bound, lots->slot_min, arena) != PW_OK)
        return PW_ERR_MEMORY;
      if (pw_fit_zone(cut, true, pit, z->rack, k, s) == PW_FITS &&
          stage_slots(&finish[s], timed, cut, &cut->finish, z->temp_c[s], air, is_bound, lots->slot_min, arena) !=
              PW_OK)
        return PW_ERR_MEMORY;
    }
  }
  if (cut->smoke.is_over_coals && make_coals(lot, lots, ev, airs, timed, arena) != PW_OK)
    return PW_ERR_MEMORY;
  struct pw_stage_air mild = pw_stage_air_mild(); /* a wrapped piece does not feel the oven's humidity */
  for (int f = 0; f < ev->n_finishers; f++) {
    lot->oven_min[f] = lot->open_oven_min[f] = PW_NONE;
    if (pw_fit_oven_open(cut, &ev->finishers[f]) == PW_FITS &&
        stage_slots(&lot->open_oven_min[f], timed, cut, &cut->smoke, ev->finishers[f].temp_c, &mild, is_bound,
                    lots->slot_min, arena) != PW_OK)
      return PW_ERR_MEMORY;
    if (pw_fit_oven(cut, &ev->finishers[f]) == PW_FITS &&
        stage_slots(&lot->oven_min[f], timed, cut, &cut->finish, ev->finishers[f].temp_c, &mild, false, lots->slot_min,
                    arena) != PW_OK)
      return PW_ERR_MEMORY;
  }
  return PW_OK;
}

/* Minutes: common practice, no source. */
enum { CARVE_LEAST_MIN = 10, CARVE_LONGEST_MIN = 60 };

/* ---- windows --------------------------------------------------------------------------------------- */

/** How early to aim: 1.28 standard deviations of the whole cooking time cover nine cooks in ten; the hold takes up
 *  what is not needed.  More where the day, drawn many times, asked for it [R3].  Never more than the hold allows. */
static int early_min(const struct pw_cut *cut, int slot, int more_min, int hold_min)
{
  double smoke = cut->smoke.is_used ? cut->smoke.spread_frac * cut->smoke.ref_min : 0.0;
  double finish = cut->finish.is_used ? cut->finish.spread_frac * cut->finish.ref_min : 0.0;
  double early = ONE_SIDED_90 * hypot(smoke, finish);
  int rounded = (int)floor(early / slot + 0.5) * slot + more_min;
  return min_int(rounded, floor_to(hold_min, slot));
}

/** Time the knives need between rest and service: all of the lot where plates, boxes or a van leave at once, half of it at a
 *  buffet, by the hands that carve then; an hour at most, and nothing where a few minutes do. */
static int carve_min(const struct pw_lot *lot, const struct pw_event *ev)
{
  const struct pw_service *service = &ev->services[lot->service];
  double work = lot->pieces * ev->cuts[lot->cut].carve_min;
  int hands = 0;
  for (int c = 0; c < ev->n_crew; c++)
    if ((ev->crew[c].duties >> PW_DUTY_CARVE & 1u) != 0 &&
        ev->crew[c].from_at_min <= lot->by_at_min - CARVE_LONGEST_MIN / 2 && ev->crew[c].to_at_min >= lot->by_at_min)
      hands += pw_head_count_hands(ev, &ev->crew[c]);
  bool is_all = service->style == PW_PLATED || service->style == PW_BOXED || service->style == PW_DROP_OFF;
  int minutes = (int)ceil(work * (is_all ? 1 : 0.5) / (hands > 0 ? hands : 1));
  return minutes < CARVE_LEAST_MIN ? 0 : min_int(minutes, CARVE_LONGEST_MIN);
}

/** Times hang on the cut alone: those of a lot of the same cut are taken over. */
static bool times_like(struct pw_lot *lot, const struct pw_lots *lots)
{
  for (int i = 0; lots && i < lots->n_lots; i++)
    if (lots->lots[i].cut == lot->cut && lots->lots[i].smoke_min) {
      lot->smoke_min = lots->lots[i].smoke_min;
      lot->finish_min = lots->lots[i].finish_min;
      lot->oven_min = lots->lots[i].oven_min;
      lot->open_oven_min = lots->lots[i].open_oven_min;
      lot->safe_min = lots->lots[i].safe_min;
      lot->coals_min = lots->lots[i].coals_min;
      lot->coals_turn_min = lots->lots[i].coals_turn_min;
      return true;
    }
  return false;
}

/** Cooked the day before: rested within some hours before the last moment to begin chilling. */
static void make_day_before(struct pw_lot *lot, const struct pw_event *ev, int slot, int more_min)
{
  lot->day = ev->services[lot->service].day - 1;
  lot->by_at_min = floor_to(pw_day_before_chill_by(ev, lot->service), slot);
  lot->whole_until_at_min = lot->by_at_min;
  lot->early_min = early_min(&ev->cuts[lot->cut], slot, more_min, ev->cuts[lot->cut].hold_max_min);
  lot->done_last_min = floor_to(lot->by_at_min - lot->rest_min - lot->early_min, slot);
  lot->done_first_min = lot->done_last_min - floor_to(PW_DAY_BEFORE_WINDOW_MIN, slot);
  lot->hold_max_min = lot->by_at_min - lot->rest_min - lot->done_first_min;
}

/* Minutes that the day, drawn many times, asked for beyond the usual. */
static int more_of(const struct pw_margins *margins, const struct pw_event *ev, int service, int cut)
{
  return margins && margins->early_min ? margins->early_min[(size_t)service * (size_t)ev->n_cuts + (size_t)cut] : 0;
}

static void make_window(struct pw_lot *lot, const struct pw_event *ev, int slot, const struct pw_margins *margins)
{
  size_t k = (size_t)lot->service * (size_t)ev->n_cuts + (size_t)lot->cut;
  bool has_more = margins && margins->early_min;
  int more_min = more_of(margins, ev, lot->service, lot->cut);
  lot->turn_min = has_more ? margins->turn_min[k] : 0;
  lot->more_min = more_min;
  lot->day = ev->services[lot->service].day;
  lot->is_day_before = pw_is_day_before(ev, lot->service, lot->cut);
  if (lot->is_day_before) {
    make_day_before(lot, ev, slot, more_min);
    return;
  }
  int rested = lot->by_at_min - lot->rest_min,
      hold = max_int(0, lot->hold_max_min -
                            (lot->whole_until_at_min - lot->by_at_min)); /* of it, before the first plate */
  lot->early_min = early_min(&ev->cuts[lot->cut], slot, more_min, hold);
  lot->carve_min = carve_min(lot, ev);
  lot->done_last_min = floor_to(rested - lot->early_min - lot->carve_min, slot);
  lot->done_first_min = ceil_to(rested - hold, slot);
  if (lot->done_first_min > lot->done_last_min) { /* a hold too short for both: it is carved while they eat */
    lot->carve_min = 0;
    lot->done_last_min = floor_to(rested - lot->early_min, slot);
  }
  if (lot->done_first_min > lot->done_last_min && lot->done_first_min <= floor_to(rested, slot)) {
    lot->early_min = floor_to(rested - lot->done_first_min, slot); /* as early as the hold and the grid let it be */
    lot->done_last_min = lot->done_first_min;
  }
  if (lot->done_first_min > lot->done_last_min) {
    /* a hold shorter than the grid: the last instant on the grid that leaves the rest whole */
    lot->early_min = 0;
    lot->done_last_min = floor_to(rested, slot);
    lot->done_first_min = min_int(lot->done_first_min, lot->done_last_min);
  }
  lot->over_min = /* of a long wave, or of a hold shorter than a step of the grid */
      max_int(0, lot->whole_until_at_min - lot->rest_min - lot->done_first_min - lot->hold_max_min);
}

/** Longest time a stage may take anywhere, 0 if it has none. */
static void longest_times(const struct pw_lot *lot, const struct pw_lots *lots, const struct pw_event *ev,
                          int *out_smoke, int *out_finish)
{
  *out_smoke = *out_finish = 0;
  for (int i = 0; i < lots->n_zones; i++)
    for (int s = 0; s < ev->pits[lots->zones[i].pit].n_settings; s++) {
      *out_smoke = max_int(*out_smoke, lot->smoke_min[i][s]);
      *out_finish = max_int(*out_finish, lot->finish_min[i][s]);
    }
  for (int f = 0; f < ev->n_finishers; f++)
    *out_finish = max_int(*out_finish, lot->oven_min[f]);
}

static void make_horizon(struct pw_lots *lots, const struct pw_event *ev)
{
  int ready = 0, start = INT_MAX, end = INT_MIN;
  for (int p = 0; p < ev->n_pits; p++)
    ready = max_int(ready, ev->pits[p].ready_min);
  for (int c = 0; c < lots->n_lots; c++) {
    int smoke, finish;
    longest_times(&lots->lots[c], lots, ev, &smoke, &finish);
    start = min_int(start, lots->lots[c].done_first_min - smoke - finish - ready);
  }
  for (int i = 0; i < ev->n_services; i++) {
    end = max_int(end, ev->services[i].at_min);
    start = min_int(start, ev->services[i].at_min);
  }
  for (int c = 0; c < lots->n_lots; c++)
    end = max_int(end, lots->lots[c].whole_until_at_min);
  lots->start_at_min = start == INT_MAX ? 0 : floor_to(start, lots->slot_min);
  lots->end_at_min = end == INT_MIN ? 0 : ceil_to(end, lots->slot_min);
}

static pw_status make_lot(struct pw_lot *lot, const struct pw_raw_need *raw, const struct pw_waves *waves, int wave,
                          const struct pw_event *ev, struct pw_arena *arena)
{
  const struct pw_cut *cut = &ev->cuts[raw->cut];
  lot->service = raw->service;
  lot->cut = raw->cut;
  lot->pieces = waves->list[wave].pieces;
  lot->wave = wave;
  lot->n_waves = waves->n;
  lot->by_at_min = waves->list[wave].from_at_min;
  lot->until_at_min = waves->list[wave].until_at_min;
  lot->whole_until_at_min = lot->by_at_min + pw_wave_whole_min(&waves->list[wave], cut);
  lot->id = waves->n == 1 ? pw_arena_printf(arena, "%s/%s", ev->services[raw->service].id, cut->id)
                          : pw_arena_printf(arena, "%s/%s/%d", ev->services[raw->service].id, cut->id, wave + 1);
  if (!lot->id)
    return PW_ERR_MEMORY;
  lot->piece_kg = cut->piece_kg * cut->trim_frac;
  lot->has_finish = cut->finish.is_used;
  lot->footprint_length_m = cut->length_m + cut->clearance_m;
  lot->footprint_width_m = cut->width_m + cut->clearance_m;
  lot->wrapped_length_m = cut->wrapped_length_m + cut->clearance_m;
  lot->wrapped_width_m = cut->wrapped_width_m + cut->clearance_m;
  lot->rest_min = cut->rest_min;
  lot->hold_max_min = cut->hold_max_min;
  return PW_OK;
}

static pw_status make_lots(struct pw_lots *lots, const struct pw_event *ev, const struct pw_purchase *purchase,
                           const struct pw_margins *margins, const struct pw_lots *like, struct pw_arena *arena)
{
  struct timed_cut *timed = pw_arena_array(arena, (size_t)ev->n_cuts, sizeof *timed);
  struct pw_stage_air *airs = pw_arena_array(arena, (size_t)ev->n_pits, sizeof *airs);
  size_t cap = 0;
  if (!timed || !airs)
    return PW_ERR_MEMORY;
  for (int p = 0; p < ev->n_pits; p++)
    airs[p] = pw_stage_air_of(ev, p);
  for (int i = 0; i < purchase->n_raws; i++) {
    const struct pw_raw_need *raw = &purchase->raws[i];
    if (raw->pieces <= 0)
      continue;
    const struct pw_cut *cut = &ev->cuts[raw->cut];
    struct pw_waves waves;
    pw_waves_make(&waves, ev, raw->service, raw->cut, raw->pieces,
                  early_min(cut, lots->slot_min, more_of(margins, ev, raw->service, raw->cut), cut->hold_max_min),
                  pw_grate_waves(ev, purchase, raw->service, raw->cut), pw_is_day_before(ev, raw->service, raw->cut));
    for (int k = 0; k < waves.n; k++) {
      if (pw_arena_grow(arena, &lots->lots, &cap, (size_t)lots->n_lots, sizeof *lots->lots))
        return PW_ERR_MEMORY;
      struct pw_lot *lot = &lots->lots[lots->n_lots];
      *lot = (struct pw_lot){0};
      pw_status status = make_lot(lot, raw, &waves, k, ev, arena);
      if (status == PW_OK && !times_like(lot, like) && !times_like(lot, lots))
        status = make_times(lot, lots, ev, airs, &timed[raw->cut], arena);
      if (status != PW_OK)
        return status;
      make_window(lot, ev, lots->slot_min, margins);
      lots->n_lots++;
    }
  }
  return PW_OK;
}

pw_status pw_lots_day_before(struct pw_lots *out, const struct pw_lots *lots, const struct pw_event *ev, int lot,
                             struct pw_ctx *ctx)
{
  struct pw_lots moved = *lots;
  *out = (struct pw_lots){0};
  moved.lots = pw_arena_array(ctx->arena, (size_t)lots->n_lots, sizeof *moved.lots);
  if (!moved.lots)
    return PW_ERR_MEMORY;
  for (int c = 0; c < lots->n_lots; c++)
    moved.lots[c] = lots->lots[c];
  moved.lots[lot].is_day_before = true;
  make_day_before(&moved.lots[lot], ev, lots->slot_min, 0);
  make_horizon(&moved, ev);
  moved.reheats = NULL;
  moved.n_reheats = 0;
  pw_status status = pw_day_before_reheats(&moved, ev, ctx);
  if (status == PW_OK)
    *out = moved;
  return status;
}

pw_status pw_lots_make(struct pw_lots *out, const struct pw_event *ev, const struct pw_purchase *purchase,
                       const struct pw_margins *margins, struct pw_ctx *ctx)
{
  return pw_lots_make_like(out, ev, purchase, margins, NULL, ctx);
}

pw_status pw_lots_make_like(struct pw_lots *out, const struct pw_event *ev, const struct pw_purchase *purchase,
                            const struct pw_margins *margins, const struct pw_lots *like, struct pw_ctx *ctx)
{
  struct pw_lots lots = {.slot_min = ev->slot_min};
  *out = (struct pw_lots){0};
  pw_status status = make_zones(&lots, ev, ctx->arena);
  if (status == PW_OK)
    status = make_lots(&lots, ev, purchase, margins, like, ctx->arena);
  if (status != PW_OK)
    return status;
  make_horizon(&lots, ev);
  if (pw_drips_make(&lots, ev, ctx) != PW_OK)
    return PW_ERR_MEMORY;
  status = pw_day_before_reheats(&lots, ev, ctx);
  if (status != PW_OK)
    return status;
  *out = lots;
  return PW_OK;
}
