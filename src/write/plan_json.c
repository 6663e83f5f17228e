/* plan_json.c - struct pw_plan -> JSON, one function per list.
 * In: a finished plan.  Out: text that says everything a reader needs to check it without the event file.
 * Idea: ids instead of indices.  A zone stands for a stretch of rack at one temperature, so a pit that is burned at
 * two settings gives each of its zones a second entry, "<zone>@<setting>". */
#include "write/plan_json.h"

#include "base/arena.h"
#include "base/outfile.h"
#include "heat/food_code.h"
#include "plan/chance/chance.h"
#include "plan/chance/on_time.h"
#include "plan/demand/meat.h"
#include "plan/lots/drips.h"
#include "plan/lots/pans_out.h"
#include "sheet/words.h"
#include "write/explain_json.h"
#include "write/plan_json_parts.h"

#include <math.h>

static pw_status find_used(struct pw_plan_json *w)
{
  const struct pw_allocation *a = &w->plan->allocation;
  w->used = pw_arena_array(w->ctx->arena, (size_t)w->ev->n_pits, sizeof *w->used);
  if (!w->used)
    return PW_ERR_MEMORY;
  for (int p = 0; p < w->ev->n_pits; p++) {
    struct pw_plan_json_used *u = &w->used[p];
    u->setting = pw_arena_array(w->ctx->arena, (size_t)w->ev->pits[p].n_settings, sizeof *u->setting);
    if (!u->setting)
      return PW_ERR_MEMORY;
    for (int b = 0; b < a->n_burns; b++) {
      bool is_new = a->burns[b].pit == p;
      for (int k = 0; is_new && k < u->n; k++)
        is_new = u->setting[k] != a->burns[b].setting;
      if (is_new)
        u->setting[u->n++] = a->burns[b].setting;
    }
    if (u->n == 0)
      u->setting[u->n++] = 0;
  }
  return PW_OK;
}

/** Id of a zone at the k-th used setting of its pit; "" when memory is out (the buffer fails soon after). */
static const char *zone_id(struct pw_plan_json *w, const struct pw_zone *zone, int k)
{
  if (k == 0)
    return zone->id;
  const struct pw_plan_json_used *u = &w->used[zone->pit];
  const char *id =
      pw_arena_printf(w->ctx->arena, "%s@%s", zone->id, w->ev->pits[zone->pit].settings[u->setting[k]].name);
  if (!id)
    w->out.buf.failed = true;
  return id ? id : "";
}

/** Which used setting of its pit a load on a rack runs at. */
static int setting_of_load(const struct pw_plan_json *w, const struct pw_load *load)
{
  int pit = w->plan->lots.zones[load->zone].pit, since = load->is_carried ? load->carried_at_min : load->start_at_min;
  const struct pw_allocation *a = &w->plan->allocation;
  for (int b = 0; b < a->n_burns; b++)
    if (a->burns[b].pit == pit && since >= a->burns[b].lit_at_min && since < a->burns[b].out_at_min)
      for (int k = 0; k < w->used[pit].n; k++)
        if (w->used[pit].setting[k] == a->burns[b].setting)
          return k;
  return 0; /* no fire: the judge says so */
}

static const char *rack_id(struct pw_plan_json *w, int pit, int rack)
{
  const char *id = pw_arena_printf(w->ctx->arena, "%s/%s", w->ev->pits[pit].id, w->ev->pits[pit].racks[rack].id);
  if (!id)
    w->out.buf.failed = true;
  return id ? id : "";
}

static void pair(struct pw_json_out *o, const char *key, double a, double b)
{
  pw_json_array(o, key);
  pw_json_real(o, NULL, a);
  pw_json_real(o, NULL, b);
  pw_json_end(o);
}

/* ---- who eats ------------------------------------------------------------------------------------ */

static void write_event(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_event *ev = w->ev;
  pw_json_object(o, "event");
  pw_json_text(o, "name", ev->name);
  pw_json_text(o, "date", pw_plan_json_date(w, ev->date));
  pw_json_int(o, "utc_offset_min", ev->utc_offset_min);
  static const char *const preps[] = {"either", "kitchen", "site"};
  pw_json_int(o, "travel_min", ev->site.travel_min);
  pw_json_text(o, "prep", preps[ev->site.prep]);
  pw_json_text(o, "zone", ev->zone);
  pw_json_text(o, "customer", ev->customer);
  pw_json_text(o, "place", ev->site.place);
  pw_json_int(o, "slot_min", w->plan->lots.slot_min);
  pw_json_int(o, "head_count", w->plan->demand.head_count);
  pw_json_bool(o, "head_count_is_sum", ev->is_head_count_sum);
  pw_json_text(o, "safety_basis", w->ev->safety_basis);
  pw_json_end(o);
}

/** What makes the meal late first, by lot: its own length, or that its pieces still lie where others should go.  Together all
 *  cooks that are late. */
static void write_held_back(struct pw_plan_json *w, int service)
{
  struct pw_json_out *o = &w->out;
  const struct pw_chance *chance = &w->plan->chance;
  const struct pw_lots *lots = &w->plan->lots;
  pw_json_array(o, "held_back");
  for (int c = 0; c < lots->n_lots && chance->blames; c++)
    for (int kind = 0; kind < PW_BLAME__COUNT; kind++) {
      int n = chance->blames[pw_blame_at(lots->n_lots, service, c, (enum pw_blame_kind)kind)];
      if (n == 0)
        continue;
      pw_json_object(o, NULL);
      pw_json_text(o, "lot", lots->lots[c].id);
      pw_json_bool(o, "is_spot", kind == PW_BLAME_SPOT);
      pw_json_real(o, "frac", (double)n / chance->n_draws);
      pw_json_end(o);
    }
  pw_json_end(o);
}

/** [R1] How sure it is that a meal is ready when it begins. */
static void write_chance(struct pw_plan_json *w, int service)
{
  struct pw_json_out *o = &w->out;
  const struct pw_chance *chance = &w->plan->chance;
  if (!chance->services)
    return;
  const struct pw_service_chance *c = &chance->services[service];
  pw_json_object(o, "chance");
  pw_json_real(o, "on_time_frac", c->on_time_frac);
  pw_json_real(o, "standard_error_frac", c->standard_error_frac);
  pw_json_real(o, "target_frac", pw_on_time_target(w->ev, service));
  if (c->weakest_lot != PW_NONE) {
    pw_json_text(o, "weakest_lot", w->plan->lots.lots[c->weakest_lot].id);
    pw_json_real(o, "weakest_late_frac", c->weakest_late_frac);
    pw_json_real(o, "weakest_late_min", c->weakest_late_min);
  }
  write_held_back(w, service);
  pw_json_real(o, "moved_frac", c->moved_frac);           /* if late wrapped pieces are moved out of the way */
  pw_json_real(o, "with_fires_frac", c->with_fires_frac); /* if fires may be slow to burn clean, or lost */
  pw_json_real(o, "held_long_frac", c->held_long_frac);
  if (c->held_long_lot != PW_NONE) {
    pw_json_text(o, "held_long_lot", w->plan->lots.lots[c->held_long_lot].id);
    pw_json_real(o, "held_long_min", c->held_long_min);
  }
  pw_json_real(o, "slow_core_frac", c->slow_core_frac); /* not late but unsafe: a core too long between 10 and 54.4 C */
  if (c->slow_core_lot != PW_NONE) {
    pw_json_text(o, "slow_core_lot", w->plan->lots.lots[c->slow_core_lot].id);
    pw_json_real(o, "slow_core_min", c->slow_core_min);
  }
  pw_json_int(o, "draws", chance->n_draws);
  pw_json_end(o);
}

/* Cooked meat of one who eats meat, and what is usual. */
static void write_meat(struct pw_plan_json *w, int service)
{
  struct pw_json_out *o = &w->out;
  const struct pw_style_work *usual = &w->ev->styles[w->ev->services[service].style];
  double kg = w->plan->demand.laws ? pw_meat_per_guest_kg(w->ev, &w->plan->demand, service) : 0;
  if (!(kg > 0))
    return;
  pw_json_object(o, "meat");
  pw_json_real(o, "per_guest_kg", kg);
  if (usual->meat_most_kg > 0) {
    pw_json_real(o, "usual_least_kg", usual->meat_least_kg);
    pw_json_real(o, "usual_most_kg", usual->meat_most_kg);
  }
  pw_json_end(o);
}

static void write_services(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, "guest_classes");
  for (int c = 0; c < w->ev->n_classes; c++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "id", w->ev->classes[c].id);
    pw_json_real(o, "appetite_frac", w->ev->classes[c].appetite_frac);
    pw_json_bool(o, "eats_meat", w->ev->classes[c].eats_meat);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "services");
  for (int i = 0; i < w->ev->n_services; i++) {
    const struct pw_service *s = &w->ev->services[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "id", s->id);
    pw_json_text(o, "name", s->name);
    pw_json_int(o, "at_min", s->at_min);
    pw_json_int(o, "length_min", s->length_min);
    if (s->style == PW_DROP_OFF)
      pw_json_bool(o, "is_handed_over", true);
    pw_json_object(o, "guests");
    for (int c = 0; c < w->ev->n_classes; c++)
      pw_json_int(o, w->ev->classes[c].id, s->guests[c]);
    pw_json_end(o);
    if (w->ev->choices && w->ev->choices[i].walk_most_frac > w->ev->choices[i].walk_least_frac) {
      pw_json_real(o, "walk_least_frac", w->ev->choices[i].walk_least_frac);
      pw_json_real(o, "walk_most_frac", w->ev->choices[i].walk_most_frac);
    }
    if (s->n_arrive > 0) {
      pw_json_array(o, "arrivals");
      for (int k = 0; k < s->n_arrive; k++)
        pw_json_real(o, NULL, s->arrive_frac[k]);
      pw_json_end(o);
    }
    write_meat(w, i);
    write_chance(w, i);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* ---- lots and where they may go ------------------------------------------------------------------- */

static void stage_time(struct pw_plan_json *w, const char *stage, const char *place, int minutes, const char *setting)
{
  struct pw_json_out *o = &w->out;
  pw_json_object(o, NULL);
  pw_json_text(o, "stage", stage);
  pw_json_text(o, "place", place);
  pw_json_int(o, "minutes", minutes);
  if (setting)
    pw_json_text(o, "setting", setting);
  pw_json_end(o);
}

static void zone_times(struct pw_plan_json *w, const char *stage, int *const *minutes)
{
  for (int z = 0; z < w->plan->lots.n_zones; z++) {
    const struct pw_zone *zone = &w->plan->lots.zones[z];
    const struct pw_plan_json_used *u = &w->used[zone->pit];
    for (int k = 0; k < u->n; k++) {
      int m = minutes[z][u->setting[k]];
      if (m != PW_NONE)
        stage_time(w, stage, zone_id(w, zone, k), m,
                   u->n > 1 ? w->ev->pits[zone->pit].settings[u->setting[k]].name : NULL);
    }
  }
}

static void write_stage_times(struct pw_plan_json *w, const struct pw_lot *lot)
{
  pw_json_array(&w->out, "stage_times");
  zone_times(w, "smoke", lot->smoke_min);
  if (lot->has_finish) {
    zone_times(w, "finish", lot->finish_min);
    for (int f = 0; f < w->ev->n_finishers; f++)
      if (lot->oven_min[f] != PW_NONE)
        stage_time(w, "finish", w->ev->finishers[f].id, lot->oven_min[f], NULL);
  }
  for (int f = 0; f < w->ev->n_finishers && w->plan->day; f++)
    if (lot->open_oven_min[f] != PW_NONE) /* where a lost fire's food may be carried */
      stage_time(w, "smoke", w->ev->finishers[f].id, lot->open_oven_min[f], NULL);
  for (int f = 0; f < w->ev->n_finishers; f++)
    if (w->ev->finishers[f].kind == PW_HOLD)
      stage_time(w, "rest", w->ev->finishers[f].id, lot->rest_min, NULL);
  pw_json_end(&w->out);
}

/** What a cut is to what lies below it. */
static const char *drips_words(const struct pw_cut *cut)
{
  if (!pw_drips_raw(cut))
    return "ready";
  if (cut->safety == PW_SAFE_POULTRY)
    return "poultry";
  if (cut->safety != PW_SAFE_INTACT)
    return "ground";
  return cut->kind == PW_KIND_FISH ? "fish" : "whole";
}

static void write_lots(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, "lots");
  for (int i = 0; i < w->plan->lots.n_lots; i++) {
    const struct pw_lot *lot = &w->plan->lots.lots[i];
    const struct pw_cut *cut = &w->ev->cuts[lot->cut];
    const struct pw_stage *smoke = &cut->smoke, *finish = lot->has_finish ? &cut->finish : &cut->smoke;
    pw_json_object(o, NULL);
    pw_json_text(o, "id", lot->id);
    pw_json_text(o, "cut", cut->id);
    pw_json_text(o, "service", w->ev->services[lot->service].id);
    pw_json_int(o, "pieces", lot->pieces);
    static const char *const kinds[] = {"beef", "pork", "lamb", "poultry", "sausage", "fish", "plant"};
    static const char *const safeties[] = {"intact",    "tenderized", "ground",  "poultry",
                                           "precooked", "plant",      "reheated"};
    pw_json_text(o, "kind", kinds[cut->kind]);
    pw_json_text(o, "safety", safeties[cut->safety]);
    pw_json_text(o, "drips", drips_words(cut));
    pw_json_real(o, "piece_kg", lot->piece_kg);
    pair(o, "footprint_m", lot->footprint_length_m, lot->footprint_width_m);
    pair(o, "wrapped_footprint_m", lot->wrapped_length_m, lot->wrapped_width_m);
    pw_json_bool(o, "turns", cut->may_turn);
    pw_json_real(o, "height_m", cut->height_m);
    pair(o, "temp_range_c", fmin(smoke->low_c, finish->low_c), fmax(smoke->high_c, finish->high_c));
    pair(o, "smoke_range_c", smoke->low_c, smoke->high_c);
    if (lot->has_finish)
      pair(o, "finish_range_c", finish->low_c, finish->high_c);
    pw_json_real(o, "smoke_best_c", cut->smoke.best_c);
    if (lot->has_finish)
      pw_json_real(o, "finish_best_c", cut->finish.best_c);
    pw_json_real(o, "smoke_to_c", cut->smoke.to_c);
    if (lot->has_finish)
      pw_json_real(o, "finish_to_c", cut->finish.to_c);
    pw_json_int(o, "rest_min", lot->rest_min);
    pw_json_int(o, "by_min", lot->by_at_min);
    pw_json_int(o, "until_min", lot->until_at_min); /* last plate of its wave */
    pw_json_int(o, "wave", lot->wave);
    pw_json_int(o, "waves", lot->n_waves);
    pw_json_int(o, "knives_min", lot->carve_min); /* between rest and by_min */
    pw_json_int(o, "early_min", lot->early_min);
    if (lot->more_min != 0)
      pw_json_int(o, "early_more_min", lot->more_min); /* to make the same lots of the job again */
    pw_json_int(o, "turn_min", lot->turn_min);
    if (w->plan->day && w->plan->day->late_min[i] > 0)
      pw_json_int(o, "late_min", w->plan->day->late_min[i]);
    pw_json_object(o, "spread");
    pw_json_real(o, "smoke_frac", cut->smoke.spread_frac);
    if (lot->has_finish)
      pw_json_real(o, "finish_frac", cut->finish.spread_frac);
    pw_json_end(o);
    pw_json_int(o, "hold_max_min", lot->hold_max_min);
    pw_json_int(o, "pan_hold_max_min", cut->pan_hold_min);
    if (lot->over_min > 0)
      pw_json_int(o, "over_min", lot->over_min);
    if (cut->brine.is_used) {
      pw_json_int(o, "brine_least_min", cut->brine.least_min);
      pw_json_int(o, "brine_most_min", cut->brine.most_min);
      pw_json_real(o, "brine_min", cut->brine.hands_min);
    }
    pw_json_real(o, "prep_min", cut->prep_min); /* of one pair of hands for one piece, and so on */
    pw_json_real(o, "load_min", cut->load_min);
    pw_json_real(o, "wrap_min", cut->wrap_min);
    if (lot->coals_min) { /* over coals: a must between laying on and taking off */
      pw_json_int(o, "coals_turns", cut->smoke.turns);
      pw_json_real(o, "coals_turn_work_min", cut->turn_min * (cut->smoke.turns > 0 ? cut->smoke.turns : 1));
    }
    pw_json_real(o, "unload_min", cut->unload_min);
    pw_json_real(o, "carve_min", cut->carve_min);
    pw_json_real(o, "pans_per_piece", cut->pans_per_piece);
    if (lot->is_day_before) {
      pw_json_bool(o, "day_before", true);
      pw_json_int(o, "chill_by_min", lot->by_at_min);
    }
    pw_json_int(o, "missed", w->plan->allocation.missed ? w->plan->allocation.missed[i] : 0);
    write_stage_times(w, lot);
    pw_json_end(o);
  }
  pw_json_end(o);
}

static void write_pits(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, "pits");
  for (int p = 0; p < w->ev->n_pits; p++) {
    const struct pw_pit *pit = &w->ev->pits[p];
    pw_json_object(o, NULL);
    pw_json_text(o, "id", pit->id);
    pw_json_text(o, "name", pit->name);
    pw_json_int(o, "ready_min", pit->ready_min);
    pw_json_real(o, "ready_spread_frac", pit->ready_spread_frac);
    pw_json_real(o, "lost_per_h_frac", pit->lost_per_h_frac);
    pw_json_int(o, "lost_min", pit->lost_min);
    pw_json_int(o, "burns_max", pit->n_burns_max);
    pw_json_text(o, "wood", w->ev->fuels[pit->wood].id);
    pw_json_text(o, "charcoal", pit->charcoal == PW_NONE ? NULL : w->ev->fuels[pit->charcoal].id);
    pw_json_real(o, "split_kg", pit->split_kg);
    pw_json_real(o, "start_charcoal_kg", pit->start_charcoal_kg);
    pw_json_real(o, "water_kg", pit->water_kg);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "racks");
  for (int p = 0; p < w->ev->n_pits; p++)
    for (int r = 0; r < w->ev->pits[p].n_racks; r++) {
      const struct pw_rack *rack = &w->ev->pits[p].racks[r];
      pw_json_object(o, NULL);
      pw_json_text(o, "id", rack_id(w, p, r));
      pw_json_text(o, "pit", w->ev->pits[p].id);
      pw_json_text(o, "shape", rack->outline == PW_DISC ? "disc" : "rectangle");
      pw_json_real(o, "length_m", rack->length_m);
      pw_json_real(o, "depth_m", rack->depth_m);
      pw_json_real(o, "clear_height_m", rack->clear_height_m);
      pw_json_int(o, "level", rack->level);
      pw_json_bool(o, "tray_below", rack->has_tray_below);
      pw_json_end(o);
    }
  pw_json_end(o);
}

static void write_zones(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  pw_json_array(o, "zones");
  for (int z = 0; z < w->plan->lots.n_zones; z++) {
    const struct pw_zone *zone = &w->plan->lots.zones[z];
    const struct pw_plan_json_used *u = &w->used[zone->pit];
    for (int k = 0; k < u->n; k++) {
      pw_json_object(o, NULL);
      pw_json_text(o, "id", zone_id(w, zone, k));
      pw_json_text(o, "rack", rack_id(w, zone->pit, zone->rack));
      pw_json_real(o, "x_m", zone->x_m);
      pw_json_real(o, "length_m", zone->length_m);
      pw_json_real(o, "temp_c", zone->temp_c[u->setting[k]]);
      pw_json_text(o, "setting", w->ev->pits[zone->pit].settings[u->setting[k]].name);
      pw_json_end(o);
    }
  }
  pw_json_end(o);
  pw_json_array(o, "finishers");
  for (int f = 0; f < w->ev->n_finishers; f++) {
    const struct pw_finisher *fin = &w->ev->finishers[f];
    pw_json_object(o, NULL);
    pw_json_text(o, "id", fin->id);
    pw_json_text(o, "name", fin->name);
    pw_json_text(o, "kind", fin->kind == PW_OVEN ? "oven" : "hold");
    pw_json_real(o, "capacity", fin->capacity);
    pw_json_text(o, "unit", fin->is_in_pans ? "pans" : "area_m2");
    pw_json_real(o, "temp_c", fin->temp_c);
    pw_json_int(o, "heat_up_min", fin->heat_up_min);
    pw_json_int(o, "off_after_min", fin->off_after_min);
    if (fin->kind == PW_OVEN)
      pw_json_real(o, "cents_per_h", fin->cents_per_h);
    if (fin->loss_frac_h > 0.0) { /* no heat of its own */
      pw_json_real(o, "loss_frac_h", fin->loss_frac_h);
      pw_json_real(o, "outside_c", w->ev->weather.low_c);
    }
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* ---- fire and loads --------------------------------------------------------------------------------- */

static void write_burns(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_allocation *a = &w->plan->allocation;
  pw_json_array(o, "burns");
  for (int b = 0; b < a->n_burns; b++) {
    const struct pw_burn *burn = &a->burns[b];
    const struct pw_pit *pit = &w->ev->pits[burn->pit];
    static const struct pw_burn_fuel cold = {0};
    const struct pw_burn_fuel *fuel = b < w->plan->fuel.n_burns ? &w->plan->fuel.burns[b] : &cold;
    pw_json_object(o, NULL);
    pw_json_text(o, "pit", pit->id);
    pw_json_text(o, "setting", pit->settings[burn->setting].name);
    pw_json_int(o, "lit_min", burn->lit_at_min);
    pw_json_int(o, "ready_min", burn->ready_at_min);
    pw_json_int(o, "out_min", burn->out_at_min);
    pw_json_real(o, "fuel_kg", fuel->wood_kg);
    pw_json_real(o, "start_charcoal_kg", fuel->charcoal_kg);
    pw_json_real(o, "splits_per_h", fuel->splits_per_h);
    pw_json_real(o, "shell_kw", fuel->shell_kw);
    pw_json_real(o, "exhaust_kw", fuel->exhaust_kw);
    pw_json_real(o, "food_kw", fuel->food_kw);
    pw_json_real(o, "door_kw", fuel->door_kw);
    pw_json_real(o, "warm_up_mj", fuel->warm_up_mj);
    if (w->plan->visits.n_visits > 0)
      pw_json_int(o, "door_visits", fuel->n_visits);
    pw_json_array(o, "feeds");
    for (int i = 0; i < fuel->n_feeds; i++) {
      pw_json_object(o, NULL);
      pw_json_int(o, "at_min", fuel->feeds[i].at_min);
      pw_json_real(o, "kg", fuel->feeds[i].wood_kg);
      pw_json_int(o, "splits", fuel->feeds[i].splits);
      pw_json_end(o);
    }
    pw_json_end(o);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/** Of a mended plan: how long a load lasts, of what stage_times says for its place. */
static double pace_of(const struct pw_plan_json *w, const struct pw_load *load)
{
  const struct pw_lot *lot = &w->plan->lots.lots[load->lot];
  int minutes = PW_NONE;
  if (load->zone == PW_NONE)
    minutes = (load->stage == PW_LOAD_FINISH ? lot->oven_min : lot->open_oven_min)[load->finisher];
  else {
    int setting = w->used[w->plan->lots.zones[load->zone].pit].setting[setting_of_load(w, load)];
    minutes = (load->stage == PW_LOAD_SMOKE ? lot->smoke_min : lot->finish_min)[load->zone][setting];
  }
  return minutes > 0 ? (double)(load->end_at_min - load->start_at_min) / minutes : 1;
}

static void write_loads(struct pw_plan_json *w)
{
  static const char *const stages[] = {"smoke", "finish", "rest", "hold"};
  struct pw_json_out *o = &w->out;
  const struct pw_allocation *a = &w->plan->allocation;
  pw_json_array(o, "loads");
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *load = &a->loads[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "lot", w->plan->lots.lots[load->lot].id);
    pw_json_text(o, "stage", stages[load->stage]);
    pw_json_text(o, "place",
                 load->zone != PW_NONE       ? zone_id(w, &w->plan->lots.zones[load->zone], setting_of_load(w, load))
                 : load->finisher != PW_NONE ? w->ev->finishers[load->finisher].id
                                             : "");
    pw_json_int(o, "pieces", load->pieces);
    pw_json_int(o, "start_min", load->start_at_min);
    pw_json_int(o, "end_min", load->end_at_min);
    if (w->plan->day && load->stage <= PW_LOAD_FINISH)
      pw_json_real(o, "pace_frac", pace_of(w, load));
    if (load->is_carried) {
      struct pw_load from = *load;
      from.zone = load->from_zone;
      pw_json_int(o, "carried_min", load->carried_at_min);
      pw_json_text(o, "carried_from",
                   from.zone != PW_NONE ? zone_id(w, &w->plan->lots.zones[from.zone], setting_of_load(w, &from))
                                        : w->ev->finishers[load->from_finisher].id);
    }
    if (load->drips_min > 0)
      pw_json_int(o, "drips_until_min", load->start_at_min + load->drips_min);
    pw_json_array(o, "rects");
    for (int k = 0; load->rects && k < load->pieces; k++) {
      const struct pw_rect *r = &load->rects[k];
      pw_json_object(o, NULL);
      pw_json_real(o, "x_m", r->x_m);
      pw_json_real(o, "y_m", r->y_m);
      pw_json_real(o, "length_m", r->length_m);
      pw_json_real(o, "depth_m", r->depth_m);
      pw_json_end(o);
    }
    pw_json_end(o);
    if (load->piece_ids) {
      pw_json_array(o, "piece_ids");
      for (int k = 0; k < load->pieces; k++)
        pw_json_int(o, NULL, load->piece_ids[k]);
      pw_json_end(o);
    }
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* Pans of sides that are not cooked on the pit. */
static void write_side_pans(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_lots *lots = &w->plan->lots;
  pw_json_array(o, "side_pans");
  for (int i = 0; i < lots->n_side_pans; i++) {
    const struct pw_side_pans *s = &lots->side_pans[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "dish", w->ev->dishes[s->dish].id);
    pw_json_text(o, "service", w->ev->services[s->service].id);
    pw_json_int(o, "pans", s->pans);
    pw_json_bool(o, "hot", w->ev->dishes[s->dish].held == PW_HELD_HOT);
    pw_json_text(o, "place", s->finisher == PW_NONE ? NULL : w->ev->finishers[s->finisher].id);
    pw_json_int(o, "from_min", s->from_at_min);
    pw_json_int(o, "to_min", s->to_at_min);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* Labels of pans that stand at the line without heat or ice.  Nothing is written when none does. */
static void write_time_labels(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_demand *d = &w->plan->demand;
  bool is_open = false;
  for (int i = 0; i < d->n_lines; i++) {
    struct pw_pans_out out[PW_PANS_OUT_MAX];
    if (!pw_words_time_control(w->plan, &d->lines[i]))
      continue;
    int pans = pw_words_pans(w->plan, &d->lines[i]),
        n = pw_pans_out(out, w->ev, &w->plan->lots, &d->lines[i], pans > 0 ? pans : 1);
    if (!is_open)
      pw_json_array(o, "time_labels");
    is_open = true;
    for (int k = 0; k < n; k++) {
      pw_json_object(o, NULL);
      pw_json_text(o, "dish", w->ev->dishes[d->lines[i].dish].id);
      pw_json_text(o, "service", w->ev->services[d->lines[i].service].id);
      pw_json_int(o, "out_min", out[k].at_min);
      pw_json_int(o, "discard_by_min", pw_pans_discard_min(out[k].at_min));
      pw_json_end(o);
    }
  }
  if (is_open)
    pw_json_end(o);
}

/* What is cooked the day before: chilled, reheated.  Nothing is written when nothing is. */
static void write_day_before(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_day_before *d = &w->plan->day_before;
  const struct pw_lots *lots = &w->plan->lots;
  if (d->n_chills == 0)
    return;
  pw_json_array(o, "chills");
  for (int i = 0; i < d->n_chills; i++) {
    const struct pw_chill *c = &d->chills[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "lot", lots->lots[c->lot].id);
    pw_json_int(o, "pieces", c->pieces);
    pw_json_int(o, "from_min", c->from_at_min);
    pw_json_int(o, "cool_by_min", c->cool_by_at_min);
    pw_json_int(o, "cold_by_min", c->cold_by_at_min);
    pw_json_real(o, "cool_c", 21.1);
    pw_json_real(o, "cold_c", PW_FOOD_CODE_COLD_C);
    pw_json_real(o, "thick_m", c->thick_m);
    pw_json_real(o, "ice_kg", c->ice_kg);
    pw_json_end(o);
  }
  pw_json_end(o);
  pw_json_array(o, "reheats");
  for (int i = 0; i < lots->n_reheats; i++) {
    const struct pw_reheat *r = &lots->reheats[i];
    pw_json_object(o, NULL);
    pw_json_text(o, "lot", lots->lots[r->lot].id);
    pw_json_text(o, "place", w->ev->finishers[r->finisher].id);
    pw_json_int(o, "pieces", r->pieces);
    pw_json_int(o, "from_min", r->from_at_min);
    pw_json_int(o, "ready_min", r->ready_at_min);
    pw_json_int(o, "out_min", r->out_at_min);
    pw_json_real(o, "room", r->capacity);
    pw_json_real(o, "depth_m", r->depth_m);
    pw_json_real(o, "core_c", r->core_c);
    pw_json_bool(o, "precooked", w->ev->cuts[lots->lots[r->lot].cut].safety == PW_SAFE_PRECOOKED);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/* Several jobs planned as one, and what each bears. */
static void write_jobs(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  if (w->plan->n_jobs == 0)
    return;
  pw_json_array(o, "jobs");
  for (int j = 0; j < w->plan->n_jobs; j++) {
    const struct pw_plan_job *job = &w->plan->jobs[j];
    pw_json_object(o, NULL);
    pw_json_text(o, "name", job->name);
    pw_json_text(o, "customer", job->customer);
    pw_json_array(o, "services");
    for (int s = 0; s < job->n_services; s++)
      pw_json_text(o, NULL, w->ev->services[job->service_first + s].id);
    pw_json_end(o);
    pw_json_int(o, "food_cents", job->food_cents);
    pw_json_int(o, "supplies_cents", job->supplies_cents);
    pw_json_int(o, "fuel_cents", job->fuel_cents);
    pw_json_int(o, "labour_cents", job->labour_cents);
    pw_json_int(o, "rental_cents", job->rental_cents);
    pw_json_int(o, "travel_cents", job->travel_cents);
    pw_json_int(o, "overhead_cents", job->overhead_cents);
    pw_json_int(o, "cost_cents", job->cost_cents);
    pw_json_int(o, "alone_cents", job->alone_cents);
    pw_json_int(o, "price_cents", job->price_cents);
    pw_json_real(o, "rack_m2_h", job->rack_m2_h);
    pw_json_end(o);
  }
  pw_json_end(o);
}

/** [N3] A mended plan: from when on it plans, what was logged until then, who is not there. */
static void write_day(struct pw_plan_json *w)
{
  struct pw_json_out *o = &w->out;
  const struct pw_day_now *day = w->plan->day;
  if (!day)
    return;
  pw_json_int(o, "now_min", day->now_min);
  pw_json_int(o, "edition", day->edition);
  pw_json_array(o, "log");
  for (int i = 0; i < day->n_log; i++)
    pw_json_text(o, NULL, day->log[i]);
  pw_json_end(o);
  pw_json_array(o, "away");
  for (int i = 0; i < day->n_away; i++) {
    pw_json_object(o, NULL);
    pw_json_text(o, "person", w->plan->tasks.people[day->away[i].person].id);
    pw_json_int(o, "from_min", day->away[i].from_at_min);
    pw_json_int(o, "to_min", day->away[i].to_at_min > 1000000 ? 1000000 : day->away[i].to_at_min);
    pw_json_end(o);
  }
  pw_json_end(o);
}

pw_status pw_plan_json_text(const char **text, size_t *n, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_plan_json w = {.out = pw_json_out_in(ctx->arena), .plan = plan, .ev = plan->event, .ctx = ctx};
  pw_status status = find_used(&w);
  if (status != PW_OK)
    return status;
  pw_json_object(&w.out, NULL);
  pw_json_text(&w.out, "format", "pitwright-plan");
  pw_json_int(&w.out, "version", 1);
  write_day(&w);
  write_event(&w);
  write_services(&w);
  struct pw_spread_shares shares = pw_spread_shares();
  pw_json_object(&w.out, "spread_shares");
  pw_json_real(&w.out, "lot", shares.lot_frac);
  pw_json_real(&w.out, "pit_day", shares.pit_day_frac);
  pw_json_real(&w.out, "piece", shares.piece_frac);
  pw_json_end(&w.out);
  write_lots(&w);
  write_pits(&w);
  write_zones(&w);
  write_burns(&w);
  write_loads(&w);
  pw_plan_json_visits(&w);
  write_side_pans(&w);
  write_time_labels(&w);
  write_day_before(&w);
  pw_plan_json_demand(&w);
  pw_plan_json_purchases(&w);
  pw_plan_json_tasks(&w);
  pw_plan_json_pool(&w);
  pw_plan_json_proposal(&w);
  pw_plan_json_heat(&w);
  pw_plan_json_fuel(&w);
  pw_plan_json_quote(&w);
  write_jobs(&w);
  pw_plan_json_solution(&w);
  pw_json_brief(&w.out, plan);
  pw_json_end(&w.out);
  return pw_json_finish(&w.out, text, n, ctx);
}

pw_status pw_plan_json_write(const struct pw_plan *plan, const char *path, struct pw_ctx *ctx)
{
  const char *text;
  size_t n;
  pw_status status = pw_plan_json_text(&text, &n, plan, ctx);
  return status == PW_OK ? pw_outfile_write(path, text, n, ctx) : status;
}
