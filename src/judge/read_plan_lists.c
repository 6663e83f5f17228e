/* read_plan_lists.c - the tables of the plan file's lists, one block per list: fields, what a missing key stands for,
 * references.  Reads nothing by itself; see read_plan.c. */
#include "judge/plan_fields.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

enum { PITS_MAX = 2000, CLASSES_MAX = 200 };

const char *const pw_seen_stages[] = {"smoke", "finish", "rest", "hold", NULL};
const char *const pw_seen_categories[] = {"meat",  "side",       "bread",  "sauce", "seasoning",
                                          "drink", "disposable", "supply", "fuel",  NULL};
const char *const pw_seen_foods[] = {"beef", "pork", "lamb", "poultry", "sausage", "fish", "plant", NULL};
const char *const pw_seen_drips[] = {"poultry", "ground", "whole", "fish", "ready", NULL};
const char *const pw_seen_surfaces[] = {"casing", "large", "humid", "dry", NULL};
const char *const pw_seen_safeties[] = {"intact",    "tenderized", "ground",   "poultry",
                                        "precooked", "plant",      "reheated", NULL};
static const char *const shapes[] = {"rectangle", "disc", NULL}, *const kinds[] = {"oven", "hold", NULL},
                         *const units[] = {"area_m2", "pans", NULL};

enum { STRETCHES_MAX = 1000 };

/* ---- the lists ---------------------------------------------------------------------------------------- */

static const struct pw_seen_field service_fields[] = {
    F_TEXT(service, id, "id"),
    F_MIN(service, at_min, "at_min"),
    F_INT(service, length_min, "length_min", 0),
    {"is_handed_over", PW_SEEN_FLAG, AT(service, is_handed_over), 0, 0, true, NULL},
    O_REAL(service, walk_least_frac, "walk_least_frac", 0, 100),
    O_REAL(service, walk_most_frac, "walk_most_frac", 0, 100),
    END};

static const struct pw_seen_field class_fields[] = {
    F_TEXT(class, id, "id"),
    F_REAL(class, appetite_frac, "appetite_frac", 0, 100),
    {"eats_meat", PW_SEEN_FLAG, AT(class, eats_meat), 0, 0, false, NULL},
    END};
static const struct pw_seen_service service_blank = {.walk_least_frac = NAN,
                                                     .walk_most_frac = NAN,
                                                     .meat_kg = NAN,
                                                     .meat_least_kg = NAN,
                                                     .meat_most_kg = NAN,
                                                     .chance = {.with_fires_frac = NAN,
                                                                .held_long_frac = NAN,
                                                                .slow_core_frac = NAN,
                                                                .weakest_lot = PW_SEEN_NONE,
                                                                .held_long_lot = PW_SEEN_NONE,
                                                                .slow_core_lot = PW_SEEN_NONE}};

static const struct pw_seen_field chance_fields[] = {
    F_REAL(chance, on_time_frac, "on_time_frac", 0, 1),
    F_REAL(chance, moved_frac, "moved_frac", 0, 1),
    F_REAL(chance, standard_error_frac, "standard_error_frac", 0, 1),
    F_REAL(chance, target_frac, "target_frac", 0, 1),
    F_INT(chance, draws, "draws", 1),
    {"weakest_lot", PW_SEEN_TEXT, AT(chance, weakest), 0, 0, true, NULL},
    O_REAL(chance, weakest_late_frac, "weakest_late_frac", 0, 1),
    O_REAL(chance, weakest_late_min, "weakest_late_min", 0, MINUTES_MAX),
    O_REAL(chance, with_fires_frac, "with_fires_frac", 0, 1),
    O_REAL(chance, held_long_frac, "held_long_frac", 0, 1),
    {"held_long_lot", PW_SEEN_TEXT, AT(chance, held_long), 0, 0, true, NULL},
    O_REAL(chance, held_long_min, "held_long_min", 0, MINUTES_MAX),
    O_REAL(chance, slow_core_frac, "slow_core_frac", 0, 1),
    {"slow_core_lot", PW_SEEN_TEXT, AT(chance, slow_core), 0, 0, true, NULL},
    O_REAL(chance, slow_core_min, "slow_core_min", 0, MINUTES_MAX),
    END};

static const struct pw_seen_field cause_fields[] = {F_TEXT(cause, name, "lot"),
                                                    {"is_spot", PW_SEEN_FLAG, AT(cause, is_spot), 0, 0, false, NULL},
                                                    F_REAL(cause, frac, "frac", 0, 1),
                                                    END};
static const struct pw_seen_cause cause_blank = {.lot = PW_SEEN_NONE};
static const struct pw_seen_list cause_list = {
    "held_back", PW_SEEN_SERVICES, sizeof(struct pw_seen_cause), 0, SIZE_MAX, FEW, true, cause_fields, &cause_blank,
    NULL};

static const struct pw_seen_field meat_fields[] = {F_REAL(service, meat_kg, "per_guest_kg", 0, 1e3),
                                                   O_REAL(service, meat_least_kg, "usual_least_kg", 0, 1e3),
                                                   O_REAL(service, meat_most_kg, "usual_most_kg", 0, 1e3), END};

static void service_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_service *service = element;
  const struct pw_json *chance = pw_json_get(object, "chance");
  if (chance) {
    pw_seen_fields(r, path, chance, chance_fields, &service->chance);
    const char *where = pw_arena_printf(r->arena, "%s.chance", path);
    service->chance.held_back =
        pw_seen_elements(r, where ? where : path, chance, &cause_list, &service->chance.n_held_back);
  }
  const struct pw_json *meat = pw_json_get(object, "meat");
  if (meat)
    pw_seen_fields(r, path, meat, meat_fields, service);
  const struct pw_json *come = pw_json_get(object, "arrivals");
  size_t n_come = come && come->type == PW_JSON_ARRAY ? come->n : 0;
  if (come && (n_come == 0 || n_come > STRETCHES_MAX))
    pw_seen_find(r, path, "arrivals", "must be a list of shares", "");
  else if (n_come > 0 && (service->arrivals = pw_seen_array(r, n_come, sizeof *service->arrivals))) {
    service->n_arrivals = (int)n_come;
    for (size_t k = 0; k < n_come; k++) {
      const struct pw_json *share = &come->items[k];
      bool is_share =
          (share->type == PW_JSON_INT || share->type == PW_JSON_REAL) && share->real >= 0 && share->real <= 1;
      service->arrivals[k] = is_share ? share->real : 0;
      if (!is_share)
        pw_seen_find(r, path, "arrivals", "must be a list of shares from 0 to 1", "");
    }
  }
  const struct pw_json *guests = pw_json_get(object, "guests");
  if (!guests || guests->type != PW_JSON_OBJECT) {
    pw_seen_find(r, path, "guests", guests ? "must be an object" : "is missing", "");
    return;
  }
  for (size_t i = 0; i < guests->n; i++)
    if (!pw_seen_is_whole(&guests->items[i]) || guests->items[i].real < 0 || guests->items[i].real > PIECES_MAX)
      pw_seen_find(r, path, "guests", "must be a whole number of guests for ", guests->items[i].key);
    else
      service->guests += guests->items[i].real;
  int n = r->plan->n[PW_SEEN_CLASSES];
  service->of_class = n > 0 ? pw_seen_array(r, (size_t)n, sizeof *service->of_class) : NULL;
  for (int c = 0; service->of_class && c < n; c++) {
    const struct pw_json *v = r->plan->classes[c].id ? pw_json_get(guests, r->plan->classes[c].id) : NULL;
    if (!v)
      pw_seen_find(r, path, "guests", "does not tell how many are of the class ",
                   r->plan->classes[c].id ? r->plan->classes[c].id : "");
    else if (pw_seen_is_whole(v) && v->real >= 0 && v->real <= PIECES_MAX)
      service->of_class[c] = (int)v->real;
  }
  if (service->of_class && guests->n != (size_t)n)
    pw_seen_find(r, path, "guests", "has other classes than guest_classes", "");
}

static const struct pw_seen_field pit_fields[] = {F_TEXT(pit, id, "id"),
                                                  O_INT(pit, ready_min, "ready_min", 0),
                                                  O_REAL(pit, ready_spread_frac, "ready_spread_frac", 0, 1),
                                                  O_REAL(pit, lost_per_h_frac, "lost_per_h_frac", 0, 1),
                                                  O_INT(pit, lost_min, "lost_min", 0),
                                                  O_INT(pit, burns_max, "burns_max", 0),
                                                  {"wood", PW_SEEN_TEXT, AT(pit, wood), 0, 0, true, NULL},
                                                  {"charcoal", PW_SEEN_TEXT, AT(pit, charcoal), 0, 0, true, NULL},
                                                  O_REAL(pit, split_kg, "split_kg", 0, 1e4),
                                                  O_REAL(pit, start_charcoal_kg, "start_charcoal_kg", 0, 1e4),
                                                  O_REAL(pit, water_kg, "water_kg", 0, 1e4),
                                                  END};
static const struct pw_seen_pit pit_blank = {.split_kg = NAN,
                                             .start_charcoal_kg = NAN,
                                             .water_kg = NAN,
                                             .ready_min = PW_SEEN_NONE,
                                             .burns_max = PW_SEEN_NONE,
                                             .ready_spread_frac = NAN,
                                             .lost_per_h_frac = NAN,
                                             .lost_min = PW_SEEN_NONE};

struct pw_seen_pit *pw_seen_pits_of_racks(struct pw_plan_reader *r, const struct pw_json *root, int *n)
{
  const struct pw_json *racks = pw_json_get(root, "racks");
  size_t most = racks && racks->type == PW_JSON_ARRAY ? racks->n : 0;
  struct pw_seen_pit *pits = pw_seen_array(r, most, sizeof *pits);
  *n = 0;
  for (size_t i = 0; pits && i < most && *n < PITS_MAX; i++) {
    const struct pw_json *pit = pw_json_get(&racks->items[i], "pit");
    bool is_new = pit && pit->type == PW_JSON_TEXT;
    for (int k = 0; is_new && k < *n; k++)
      is_new = strcmp(pits[k].id, pit->text) != 0;
    if (!is_new)
      continue;
    pits[*n] = pit_blank;
    pits[(*n)++].id = pit->text;
  }
  return pits;
}

static const struct pw_seen_field rack_fields[] = {
    F_TEXT(rack, id, "id"),
    F_CHOICE(rack, shape, "shape", shapes),
    F_REAL(rack, length_m, "length_m", 1e-3, 100),
    F_REAL(rack, depth_m, "depth_m", 1e-3, 100),
    F_REAL(rack, clear_height_m, "clear_height_m", 0, 100),
    O_INT(rack, level, "level", 0),
    {"tray_below", PW_SEEN_FLAG, AT(rack, is_tray_below), 0, 0, true, NULL},
    END};

static const struct pw_seen_rack rack_blank = {.level = PW_SEEN_NONE, .is_tray_below = PW_SEEN_NONE};

static void rack_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_rack *rack = element;
  rack->pit = pw_seen_refer(r, path, object, "pit", PW_SEEN_PITS, "pit");
}

static const struct pw_seen_field zone_fields[] = {F_TEXT(zone, id, "id"), F_REAL(zone, x_m, "x_m", -100, 100),
                                                   F_REAL(zone, length_m, "length_m", 0, 100),
                                                   F_REAL(zone, temp_c, "temp_c", -100, 1000), END};

static void zone_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_zone *zone = element;
  zone->rack = pw_seen_refer(r, path, object, "rack", PW_SEEN_RACKS, "rack");
}

static const struct pw_seen_field finisher_fields[] = {F_TEXT(finisher, id, "id"),
                                                       F_CHOICE(finisher, kind, "kind", kinds),
                                                       F_REAL(finisher, capacity, "capacity", 0, PIECES_MAX),
                                                       F_CHOICE(finisher, unit, "unit", units),
                                                       F_REAL(finisher, temp_c, "temp_c", -100, 1000),
                                                       O_REAL(finisher, cents_per_h, "cents_per_h", 0, 1e12),
                                                       O_REAL(finisher, loss_frac_h, "loss_frac_h", 0, 0.99),
                                                       O_REAL(finisher, outside_c, "outside_c", -100, 100),
                                                       O_INT(finisher, heat_up_min, "heat_up_min", 0),
                                                       O_INT(finisher, off_after_min, "off_after_min", 0),
                                                       END};
static const struct pw_seen_finisher finisher_blank = {.cents_per_h = NAN, .loss_frac_h = NAN, .outside_c = NAN};

static const struct pw_seen_field time_fields[] = {F_CHOICE(time, stage, "stage", pw_seen_stages),
                                                   F_INT(time, minutes, "minutes", 0), END};

static void time_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_time *time = element;
  time->place = pw_seen_refer(r, path, object, "place", PW_SEEN_ZONES, "zone or finisher");
}

static const struct pw_seen_list time_list = {
    "stage_times", PW_SEEN_LOTS, sizeof(struct pw_seen_time), 0, SIZE_MAX, FEW, false, time_fields, NULL, time_more};

static const struct pw_seen_field lot_fields[] = {
    F_TEXT(lot, id, "id"),
    F_TEXT(lot, cut, "cut"),
    F_INT(lot, pieces, "pieces", 0),
    F_INT(lot, missed, "missed", 0),
    F_INT(lot, rest_min, "rest_min", 0),
    F_INT(lot, hold_max_min, "hold_max_min", 0),
    F_PAIR(lot, footprint_m, "footprint_m", 1e-3, 100),
    F_PAIR(lot, wrapped_m, "wrapped_footprint_m", 1e-3, 100),
    F_REAL(lot, height_m, "height_m", 0, 100),
    O_REAL(lot, piece_kg, "piece_kg", 0, 1e6),
    {"drips", PW_SEEN_CHOICE, AT(lot, drips), 0, 0, true, pw_seen_drips},
    {"kind", PW_SEEN_CHOICE, AT(lot, kind), 0, 0, true, pw_seen_foods},
    {"safety", PW_SEEN_CHOICE, AT(lot, safety), 0, 0, true, pw_seen_safeties},
    O_REAL(lot, best_c[0], "smoke_best_c", -100, 1000),
    O_REAL(lot, best_c[1], "finish_best_c", -100, 1000),
    O_REAL(lot, to_c[0], "smoke_to_c", -100, 1000),
    O_REAL(lot, to_c[1], "finish_to_c", -100, 1000),
    F_REAL(lot, pans, "pans_per_piece", 0, PIECES_MAX),
    F_PAIR(lot, range_c, "temp_range_c", -100, 1000),
    O_PAIR(lot, smoke_range_c, "smoke_range_c", -100, 1000),
    O_PAIR(lot, finish_range_c, "finish_range_c", -100, 1000),
    {"day_before", PW_SEEN_FLAG, AT(lot, is_day_before), 0, 0, true, NULL},
    O_MIN(lot, chill_by_min, "chill_by_min"),
    O_MIN(lot, by_min, "by_min"),
    O_MIN(lot, until_min, "until_min"),
    O_INT(lot, pan_hold_max_min, "pan_hold_max_min", 0),
    O_INT(lot, wave, "wave", 0),
    O_INT(lot, n_waves, "waves", 1),
    O_INT(lot, over_min, "over_min", 0),
    O_INT(lot, knives_min, "knives_min", 0),
    O_INT(lot, early_min, "early_min", 0),
    O_INT(lot, turn_min, "turn_min", 0),
    O_INT(lot, late_min, "late_min", 0),
    O_REAL(lot, prep_min, "prep_min", 0, 1e4),
    O_REAL(lot, load_min, "load_min", 0, 1e4),
    O_REAL(lot, wrap_min, "wrap_min", 0, 1e4),
    O_MIN(lot, brine_least_min, "brine_least_min"),
    O_MIN(lot, brine_most_min, "brine_most_min"),
    O_REAL(lot, brine_min, "brine_min", 0, 1e4),
    O_INT(lot, coals_turns, "coals_turns", 0),
    O_REAL(lot, coals_turn_work_min, "coals_turn_work_min", 0, 1e4),
    O_REAL(lot, unload_min, "unload_min", 0, 1e4),
    O_REAL(lot, carve_min, "carve_min", 0, 1e4),
    {"turns", PW_SEEN_FLAG, AT(lot, turns), 0, 0, true, NULL},
    END};
static const struct pw_seen_lot lot_blank = {.prep_min = NAN,
                                             .load_min = NAN,
                                             .wrap_min = NAN,
                                             .unload_min = NAN,
                                             .brine_least_min = PW_SEEN_NO_TIME,
                                             .brine_most_min = PW_SEEN_NO_TIME,
                                             .brine_min = NAN,
                                             .coals_turns = PW_SEEN_NONE,
                                             .coals_turn_work_min = NAN,
                                             .carve_min = NAN,
                                             .turns = 1,
                                             .piece_kg = NAN,
                                             .drips = PW_SEEN_NONE,
                                             .kind = PW_SEEN_NONE,
                                             .safety = PW_SEEN_NONE,
                                             .best_c = {NAN, NAN},
                                             .to_c = {NAN, NAN},
                                             .chill_by_min = PW_SEEN_NO_TIME,
                                             .by_min = PW_SEEN_NO_TIME,
                                             .until_min = PW_SEEN_NO_TIME,
                                             .n_waves = 1,
                                             .smoke_spread_frac = NAN,
                                             .finish_spread_frac = NAN,
                                             .smoke_range_c = {NAN, NAN},
                                             .finish_range_c = {NAN, NAN}};

static void lot_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_lot *lot = element;
  lot->has_finish_range = !isnan(lot->finish_range_c[0]);
  for (int k = 0; k < 2; k++) {
    if (isnan(lot->smoke_range_c[k]))
      lot->smoke_range_c[k] = lot->range_c[k];
    if (isnan(lot->finish_range_c[k]))
      lot->finish_range_c[k] = lot->range_c[k];
  }
  if (lot->is_day_before && lot->chill_by_min == PW_SEEN_NO_TIME)
    pw_seen_find(r, path, "chill_by_min", "is missing", "");
  lot->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
  const struct pw_json *spread = pw_json_get(object, "spread");
  static const struct pw_seen_field spread_fields[] = {O_REAL(lot, smoke_spread_frac, "smoke_frac", 0, 10),
                                                       O_REAL(lot, finish_spread_frac, "finish_frac", 0, 10), END};
  if (spread)
    pw_seen_fields(r, path, spread, spread_fields, lot);
  lot->times = pw_seen_elements(r, path, object, &time_list, &lot->n_times);
}

static const struct pw_seen_field feed_fields[] = {F_MIN(feed, at_min, "at_min"), F_REAL(feed, kg, "kg", 0, 1e6),
                                                   O_INT(feed, splits, "splits", 0), END};
static const struct pw_seen_feed feed_blank = {.splits = PW_SEEN_NONE};
static const struct pw_seen_list feed_list = {
    "feeds", PW_SEEN_BURNS, sizeof(struct pw_seen_feed), 0, SIZE_MAX, MANY, false, feed_fields, &feed_blank, NULL};

static const struct pw_seen_field burn_fields[] = {F_MIN(burn, lit_min, "lit_min"),
                                                   F_MIN(burn, ready_min, "ready_min"),
                                                   F_MIN(burn, out_min, "out_min"),
                                                   F_REAL(burn, fuel_kg, "fuel_kg", 0, 1e6),
                                                   F_REAL(burn, start_charcoal_kg, "start_charcoal_kg", 0, 1e6),
                                                   O_REAL(burn, splits_per_h, "splits_per_h", 0, 1e6),
                                                   O_REAL(burn, shell_kw, "shell_kw", -1e6, 1e6),
                                                   O_REAL(burn, exhaust_kw, "exhaust_kw", -1e6, 1e6),
                                                   O_REAL(burn, food_kw, "food_kw", -1e6, 1e6),
                                                   O_REAL(burn, door_kw, "door_kw", -1e6, 1e6),
                                                   O_REAL(burn, warm_up_mj, "warm_up_mj", -1e6, 1e6),
                                                   O_INT(burn, n_visits, "door_visits", 0),
                                                   END};
static const struct pw_seen_burn burn_blank = {.n_visits = PW_SEEN_NONE,
                                               .splits_per_h = NAN,
                                               .shell_kw = NAN,
                                               .exhaust_kw = NAN,
                                               .food_kw = NAN,
                                               .door_kw = NAN,
                                               .warm_up_mj = NAN};

static const struct pw_seen_field visit_fields[] = {F_TEXT(visit, id, "id"),
                                                    F_MIN(visit, at_min, "at_min"),
                                                    {"reason", PW_SEEN_TEXT, AT(visit, reason), 0, 0, true, NULL},
                                                    END};

static void visit_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_visit *visit = element;
  visit->pit = pw_seen_refer(r, path, object, "pit", PW_SEEN_PITS, "pit");
}

static void burn_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_burn *burn = element;
  burn->pit = pw_seen_refer(r, path, object, "pit", PW_SEEN_PITS, "pit");
  burn->feeds = pw_seen_elements(r, path, object, &feed_list, &burn->n_feeds);
}

static const struct pw_seen_field rect_fields[] = {
    F_REAL(rect, x_m, "x_m", -100, 100), F_REAL(rect, y_m, "y_m", -100, 100),
    F_REAL(rect, length_m, "length_m", 0, 100), F_REAL(rect, depth_m, "depth_m", 0, 100), END};
static const struct pw_seen_list rect_list = {
    "rects", PW_SEEN_LOADS, sizeof(struct pw_seen_rect), 0, SIZE_MAX, MANY, true, rect_fields, NULL, NULL};

static const struct pw_seen_field load_fields[] = {F_CHOICE(load, stage, "stage", pw_seen_stages),
                                                   F_INT(load, pieces, "pieces", 1),
                                                   F_MIN(load, start_min, "start_min"),
                                                   F_MIN(load, end_min, "end_min"),
                                                   O_MIN(load, drips_until_min, "drips_until_min"),
                                                   O_REAL(load, pace_frac, "pace_frac", 0, 100),
                                                   O_MIN(load, carried_min, "carried_min"),
                                                   END};
static const struct pw_seen_load load_blank = {
    .drips_until_min = PW_SEEN_NO_TIME, .pace_frac = NAN, .carried_min = PW_SEEN_NO_TIME, .carried_from = PW_SEEN_NONE};

static void load_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_load *load = element;
  load->lot = pw_seen_refer(r, path, object, "lot", PW_SEEN_LOTS, "lot");
  load->place = pw_seen_refer(r, path, object, "place", PW_SEEN_ZONES, "zone or finisher");
  load->rects = pw_seen_elements(r, path, object, &rect_list, &load->n_rects);
  load->n_rects = load->n_rects < 0 ? 0 : load->n_rects;
  load->n_ids = PW_SEEN_NONE;
  load->carried_from = PW_SEEN_NONE;
  if (pw_json_get(object, "carried_from"))
    load->carried_from = pw_seen_refer(r, path, object, "carried_from", PW_SEEN_ZONES, "zone or finisher");
  if (pw_json_get(object, "piece_ids"))
    load->piece_ids = pw_seen_numbers(r, path, object, "piece_ids", load->pieces, &load->n_ids);
}

static const struct pw_seen_field demand_fields[] = {
    F_TEXT(demand, dish, "dish"),
    F_REAL(demand, mean_kg, "mean_kg", 0, 1e6),
    F_REAL(demand, sd_kg, "sd_kg", 0, 1e6),
    F_REAL(demand, cover, "cover", 0, 1),
    F_REAL(demand, need_kg, "need_kg", 0, 1e6),
    O_REAL(demand, mean_units, "mean_units", 0, 1e6),
    O_REAL(demand, sd_units, "sd_units", 0, 1e6),
    O_REAL(demand, need_units, "need_units", 0, 1e6),
    O_INT(demand, portions, "portions", 0),
    {"cut", PW_SEEN_TEXT, AT(demand, cut), 0, 0, true, NULL},
    {"by_count", PW_SEEN_FLAG, AT(demand, is_by_count), 0, 0, true, NULL},
    {"meat", PW_SEEN_FLAG, AT(demand, is_meat), 0, 0, true, NULL},
    O_REAL(demand, reserve_frac, "reserve_frac", 0, 1e3),
    O_REAL(demand, pan_portions, "pan_portions", 0, 1e6),
    O_INT(demand, portions_cover, "portions_cover", 0),
    {"hot", PW_SEEN_FLAG, AT(demand, is_hot), 0, 0, true, NULL},
    {"time_control", PW_SEEN_FLAG, AT(demand, is_time_control), 0, 0, true, NULL},
    END};
static const struct pw_seen_demand demand_blank = {.mean_units = NAN,
                                                   .sd_units = NAN,
                                                   .need_units = NAN,
                                                   .pan_portions = NAN,
                                                   .portions_cover = PW_SEEN_NONE,
                                                   .is_by_count = PW_SEEN_NONE,
                                                   .is_meat = PW_SEEN_NONE,
                                                   .portions = PW_SEEN_NONE,
                                                   .reserve_frac = NAN,
                                                   .law_mean = NAN,
                                                   .unit_kg = NAN};
static const struct pw_seen_field guest_fields[] = {
    F_REAL(demand, take_frac, "take_frac", 0, 1e3), F_REAL(demand, portion, "portion", 0, 1e6),
    F_REAL(demand, again_frac, "again_frac", 0, 1), F_REAL(demand, law_mean, "mean", 0, 1e6),
    F_REAL(demand, law_square, "square", 0, 1e12),  {"spread", PW_SEEN_FLAG, AT(demand, has_spread), 0, 0, false, NULL},
    O_REAL(demand, unit_kg, "unit_kg", 0, 1e6),     END};

static const struct pw_seen_field law_fields[] = {
    {"take_frac", PW_SEEN_REAL, offsetof(struct pw_seen_law, take_frac), 0, 1e3, false, NULL},
    {"portion", PW_SEEN_REAL, offsetof(struct pw_seen_law, portion), 0, 1e6, false, NULL},
    {"mean", PW_SEEN_REAL, offsetof(struct pw_seen_law, mean), 0, 1e6, false, NULL},
    {"square", PW_SEEN_REAL, offsetof(struct pw_seen_law, square), 0, 1e12, false, NULL},
    END};

/* How each class takes a line, where the file tells classes apart: all of guest_classes and no others. */
static void classes_more(struct pw_plan_reader *r, const char *path, const struct pw_json *by_class,
                         struct pw_seen_demand *line)
{
  int n = r->plan->n[PW_SEEN_CLASSES];
  if (by_class->type != PW_JSON_OBJECT || by_class->n != (size_t)n) {
    pw_seen_find(r, path, "by_class", "must tell of each of guest_classes and of no other", "");
    return;
  }
  line->of_class = pw_seen_array(r, (size_t)n, sizeof *line->of_class);
  for (int c = 0; line->of_class && c < n; c++) {
    const struct pw_json *law = r->plan->classes[c].id ? pw_json_get(by_class, r->plan->classes[c].id) : NULL;
    if (law && law->type == PW_JSON_OBJECT)
      pw_seen_fields(r, path, law, law_fields, &line->of_class[c]);
    else
      pw_seen_find(r, path, "by_class", "does not tell how it is taken by the class ",
                   r->plan->classes[c].id ? r->plan->classes[c].id : "");
  }
}

static void demand_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_demand *line = element;
  line->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
  const struct pw_json *guest = pw_json_get(object, "guest");
  if (guest)
    pw_seen_fields(r, path, guest, guest_fields, line);
  const struct pw_json *by_class = guest ? pw_json_get(guest, "by_class") : NULL;
  if (by_class)
    classes_more(r, path, by_class, line);
}

static const struct pw_seen_field raw_fields[] = {F_TEXT(raw, cut, "cut"),
                                                  F_INT(raw, pieces, "pieces", 0),
                                                  {"item", PW_SEEN_TEXT, AT(raw, item), 0, 0, true, NULL},
                                                  {"smoked", PW_SEEN_FLAG, AT(raw, is_smoked), 0, 0, true, NULL},
                                                  O_REAL(raw, need_kg, "need_kg", 0, 1e6),
                                                  O_REAL(raw, raw_mean_kg, "raw_mean_kg", 0, 1e6),
                                                  O_REAL(raw, yield_frac, "yield_frac", 0, 1e3),
                                                  O_REAL(raw, leftover_kg, "leftover_kg", 0, 1e6),
                                                  O_REAL(raw, runout_frac, "runout_frac", 0, 1),
                                                  O_REAL(raw, raw_piece_kg, "raw_piece_kg", 0, 1e6),
                                                  O_REAL(raw, trim_frac, "trim_frac", 0, 1),
                                                  O_REAL(raw, cook_frac, "cook_frac", 0, 1e3),
                                                  O_REAL(raw, carve_frac, "carve_frac", 0, 1e3),
                                                  O_REAL(raw, cover, "cover", 0, 1),
                                                  O_REAL(raw, need_units, "need_units", 0, 1e6),
                                                  O_REAL(raw, units_per_piece, "units_per_piece", 1e-9, 1e6),
                                                  O_REAL(raw, want_kg, "want_kg", 0, 1e6),
                                                  O_REAL(raw, want_sd_kg, "want_sd_kg", 0, 1e6),
                                                  O_REAL(raw, ask_kg, "ask_kg", 0, 1e6),
                                                  O_REAL(raw, ask_sd_kg, "ask_sd_kg", 0, 1e6),
                                                  O_REAL(raw, least_kg, "least_kg", 0, 1e6),
                                                  O_REAL(raw, served_piece_kg, "served_piece_kg", 0, 1e6),
                                                  O_REAL(raw, served_piece_sd_kg, "served_piece_sd_kg", 0, 1e6),
                                                  END};
static const struct pw_seen_raw raw_blank = {.is_smoked = PW_SEEN_NONE,
                                             .need_kg = NAN,
                                             .raw_mean_kg = NAN,
                                             .yield_frac = NAN,
                                             .leftover_kg = NAN,
                                             .runout_frac = NAN,
                                             .raw_piece_kg = NAN,
                                             .trim_frac = NAN,
                                             .cook_frac = NAN,
                                             .carve_frac = NAN,
                                             .cover = NAN,
                                             .need_units = NAN,
                                             .units_per_piece = NAN,
                                             .want_kg = NAN,
                                             .want_sd_kg = NAN,
                                             .ask_kg = NAN,
                                             .ask_sd_kg = NAN,
                                             .least_kg = NAN,
                                             .served_piece_kg = NAN,
                                             .served_piece_sd_kg = NAN};

static void raw_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_raw *raw = element;
  raw->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
}

static const char *const stores[] = {"dry", "chilled", "frozen", NULL};
static const struct pw_seen_field for_fields[] = {
    {"dish", PW_SEEN_TEXT, AT(for, dish), 0, 0, true, NULL}, F_REAL(for, amount, "amount", 0, 1e9), END};

static void for_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_for *part = element;
  part->service = PW_SEEN_NONE;
  if (part->dish)
    part->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
}

static const struct pw_seen_list for_list = {
    "for", PW_SEEN_NEEDS, sizeof(struct pw_seen_for), 0, SIZE_MAX, FEW, false, for_fields, NULL, for_more};
static const struct pw_seen_field need_fields[] = {F_TEXT(need, item, "item"),
                                                   F_CHOICE(need, store, "store", stores),
                                                   F_REAL(need, amount, "amount", 0, 1e9),
                                                   F_INT(need, pieces, "pieces", 0),
                                                   F_MIN(need, prep_min, "prep_min"),
                                                   F_MIN(need, last_min, "last_min"),
                                                   END};

static void need_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_need *need = element;
  need->parts = pw_seen_elements(r, path, object, &for_list, &need->n_parts);
  need->n_parts = need->n_parts < 0 ? 0 : need->n_parts;
}

static const struct pw_seen_field purchase_fields[] = {
    F_TEXT(purchase, item, "item"),
    F_INT(purchase, packs, "packs", 0),
    F_REAL(purchase, amount, "amount", 0, 1e9),
    O_REAL(purchase, need, "need", 0, 1e9),
    F_REAL(purchase, unit_price_cents, "unit_price_cents", 0, 1e12),
    F_CENTS(purchase, cost_cents, "cost_cents"),
    F_MIN(purchase, order_by_min, "order_by_min"),
    O_MIN(purchase, deliver_min, "deliver_min"),
    O_MIN(purchase, thaw_from_min, "thaw_from_min"),
    {"category", PW_SEEN_CHOICE, AT(purchase, category), 0, 0, true, pw_seen_categories},
    O_REAL(purchase, pack_price_cents, "pack_price_cents", 0, 1e12),
    O_REAL(purchase, pack_amount, "pack_amount", 0, 1e9),
    O_INT(purchase, pieces, "pieces", 0),
    O_INT(purchase, pack_pieces, "pack_pieces", 0),
    O_MIN(purchase, order_ahead_min, "order_ahead_min"),
    O_MIN(purchase, keeps_min, "keeps_min"),
    O_MIN(purchase, keeps_to_min, "keeps_to_min"),
    O_CENTS(purchase, carry_cents, "carry_cents"),
    F_TEXT(purchase, supplier, "supplier"),
    {"pit_fuel", PW_SEEN_FLAG, AT(purchase, is_pit_fuel), 0, 0, true, NULL},
    END};
static const struct pw_seen_purchase purchase_blank = {.category = PW_SEEN_NONE,
                                                       .pack_price_cents = NAN,
                                                       .pack_amount = NAN,
                                                       .pieces = PW_SEEN_NONE,
                                                       .pack_pieces = PW_SEEN_NONE,
                                                       .order_ahead_min = PW_SEEN_NO_TIME,
                                                       .keeps_min = PW_SEEN_NO_TIME,
                                                       .keeps_to_min = PW_SEEN_NO_TIME,
                                                       .need = NAN,
                                                       .deliver_min = PW_SEEN_NO_TIME,
                                                       .thaw_from_min = PW_SEEN_NO_TIME};

static void purchase_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  (void)element;
  const char *texts[] = {"pack", "unit"};
  for (int i = 0; i < 2; i++) {
    const char *text = NULL;
    const struct pw_seen_field f[] = {{texts[i], PW_SEEN_TEXT, 0, 0, 0, false, NULL}, END};
    pw_seen_fields(r, path, object, f, &text);
  }
}

static const struct pw_seen_field order_fields[] = {F_TEXT(order, supplier, "supplier"),
                                                    F_CENTS(order, goods_cents, "goods_cents"),
                                                    F_CENTS(order, delivery_cents, "delivery_cents"),
                                                    F_CENTS(order, top_up_cents, "top_up_cents"),
                                                    O_CENTS(order, least_cents, "least_cents"),
                                                    O_INT(order, lines, "lines", 0),
                                                    END};
static const struct pw_seen_order order_blank = {.least_cents = PW_SEEN_NONE, .lines = PW_SEEN_NONE};

static const struct pw_seen_field part_fields[] = {F_TEXT(part_of_mix, item, "item"),
                                                   F_REAL(part_of_mix, amount, "amount", 0, 1e9),
                                                   O_REAL(part_of_mix, per_unit, "per_unit", 0, 1e9), END};
static const struct pw_seen_part_of_mix part_blank = {.per_unit = NAN};
static const struct pw_seen_list part_list = {
    "parts",     PW_SEEN_MIXES, sizeof(struct pw_seen_part_of_mix), 0, SIZE_MAX, FEW, false, part_fields,
    &part_blank, NULL};
static const struct pw_seen_field mix_fields[] = {F_TEXT(mix, item, "item"), F_REAL(mix, amount, "amount", 0, 1e9),
                                                  END};

static void mix_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_mix *mix = element;
  mix->parts = pw_seen_elements(r, path, object, &part_list, &mix->n_parts);
  mix->n_parts = mix->n_parts < 0 ? 0 : mix->n_parts;
}

static const struct pw_seen_field crew_fields[] = {F_TEXT(crew, role, "role"),
                                                   F_INT(crew, count, "count", 0),
                                                   F_MIN(crew, from_min, "from_min"),
                                                   F_MIN(crew, to_min, "to_min"),
                                                   O_REAL(crew, cents_per_h, "cents_per_h", 0, 1e12),
                                                   O_INT(crew, unpaid_min, "unpaid_min", 0),
                                                   O_REAL(crew, extra_cents, "extra_cents", 0, 1e12),
                                                   {"tends_fire", PW_SEEN_FLAG, AT(crew, tends_fire), 0, 0, true, NULL},
                                                   {"tends_pit", PW_SEEN_FLAG, AT(crew, tends_pit), 0, 0, true, NULL},
                                                   {"serves", PW_SEEN_FLAG, AT(crew, serves), 0, 0, true, NULL},
                                                   END};
static const struct pw_seen_crew crew_blank = {.cents_per_h = NAN};

static const struct pw_seen_field job_fields[] = {F_CENTS(job, food_cents, "food_cents"),
                                                  F_CENTS(job, supplies_cents, "supplies_cents"),
                                                  F_CENTS(job, fuel_cents, "fuel_cents"),
                                                  F_CENTS(job, labour_cents, "labour_cents"),
                                                  F_CENTS(job, rental_cents, "rental_cents"),
                                                  F_CENTS(job, travel_cents, "travel_cents"),
                                                  F_CENTS(job, overhead_cents, "overhead_cents"),
                                                  F_CENTS(job, cost_cents, "cost_cents"),
                                                  END};
static const struct pw_seen_field fuel_fields[] = {
    F_CENTS(fuel, cost_cents, "cost_cents"),
    {"fuel", PW_SEEN_TEXT, AT(fuel, fuel), 0, 0, true, NULL},
    {"is_charcoal", PW_SEEN_FLAG, AT(fuel, is_charcoal), 0, 0, true, NULL},
    O_INT(fuel, splits, "splits", 0),
    O_INT(fuel, packs, "packs", 0),
    O_REAL(fuel, net_mj_kg, "net_mj_kg", 0, 1e3),
    O_REAL(fuel, need_kg, "need_kg", 0, 1e9),
    O_REAL(fuel, buy_kg, "buy_kg", 0, 1e9),
    O_REAL(fuel, reserve_frac, "reserve_frac", 0, 1e3),
    O_REAL(fuel, pack_kg, "pack_kg", 0, 1e9),
    O_REAL(fuel, pack_cents, "pack_cents", 0, 1e12),
    O_REAL(fuel, cents_per_kg, "cents_per_kg", 0, 1e12),
    O_REAL(fuel, stacked_m3, "stacked_m3", 0, 1e9),
    END};
static const struct pw_seen_fuel fuel_blank = {.is_charcoal = PW_SEEN_NONE,
                                               .splits = PW_SEEN_NONE,
                                               .packs = PW_SEEN_NONE,
                                               .net_mj_kg = NAN,
                                               .need_kg = NAN,
                                               .buy_kg = NAN,
                                               .reserve_frac = NAN,
                                               .pack_kg = NAN,
                                               .pack_cents = NAN,
                                               .cents_per_kg = NAN,
                                               .stacked_m3 = NAN};
static const struct pw_seen_field warning_fields[] = {
    F_TEXT(warning, code, "code"),
    {"text", PW_SEEN_TEXT, AT(warning, text), 0, 0, true, NULL},
    {"late_min", PW_SEEN_COUNT, AT(warning, late_min), 0, 100000, true, NULL},
    END};

#define LIST(key, part, type, member, id_at, most, is_optional, blank, more)                                           \
  {                                                                                                                    \
    key, part, sizeof(struct pw_seen_##type), offsetof(struct pw_seen_plan, member), id_at, most, is_optional,         \
        type##_fields, blank, more                                                                                     \
  }

static const struct pw_seen_field end_fields[] = {F_REAL(end, air_c, "air_c", -100, 1000),
                                                  O_REAL(end, smoke_min, "smoke_min", 0, 1e7),
                                                  O_REAL(end, finish_min, "finish_min", 0, 1e7), END};
static const struct pw_seen_end end_blank = {NAN, NAN, NAN};
static const struct pw_seen_list end_list = {
    "cooler_end", PW_SEEN_CORES, sizeof(struct pw_seen_end), 0, SIZE_MAX, 2, true, end_fields, &end_blank, NULL};
static const struct pw_seen_field core_fields[] = {
    O_REAL(core, finish_c, "finish_c", -100, 1000),
    O_REAL(core, slow_from_c, "slow_from_c", -100, 1000),
    O_REAL(core, slow_min, "slow_min", 0, 1e6),
    O_REAL(core, cook_loss_frac, "cook_loss_frac", -1, 1),
    O_REAL(core, steam_loss_frac, "steam_loss_frac", -1, 1),
    O_REAL(core, come_up_most_min, "come_up_most_min", 0, 1e6),
    O_INT(core, rule_hold_s, "rule_hold_s", 0),
    F_REAL(core, end_core_c, "end_core_c", -100, 1000),
    F_REAL(core, rule_core_c, "rule_core_c", -100, 1000),
    F_REAL(core, log_reduction, "log_reduction", 0, 1e9),
    O_REAL(core, hold_log_reduction, "hold_log_reduction", 0, 1e9),
    F_REAL(core, log_needed, "log_needed", 0, 1e3),
    O_REAL(core, smoke_c, "smoke_c", -100, 1000),
    O_REAL(core, come_up_min, "come_up_min", 0, 1e6),
    O_REAL(core, surface_log, "surface_log_reduction", 0, 1e9),
    O_REAL(core, humidity_frac, "air_humidity_frac", 0, 1.5),
    {"surface", PW_SEEN_CHOICE, AT(core, surface), 0, 0, true, pw_seen_surfaces},
    {"is_raw", PW_SEEN_FLAG, AT(core, is_raw), 0, 0, false, NULL},
    END};
static const struct pw_seen_core core_blank = {.smoke_c = NAN,
                                               .come_up_min = NAN,
                                               .finish_c = NAN,
                                               .slow_from_c = NAN,
                                               .slow_min = NAN,
                                               .cook_loss_frac = NAN,
                                               .steam_loss_frac = NAN,
                                               .come_up_most_min = NAN,
                                               .surface_log = NAN,
                                               .humidity_frac = NAN,
                                               .surface = PW_SEEN_NONE,
                                               .rule_hold_s = PW_SEEN_NONE};

static void core_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_core *core = element;
  core->lot = pw_seen_refer(r, path, object, "lot", PW_SEEN_LOTS, "lot");
  core->ends = pw_seen_elements(r, path, object, &end_list, &core->n_ends);
}

static const struct pw_seen_field side_pans_fields[] = {F_TEXT(side_pans, dish, "dish"),
                                                        F_INT(side_pans, pans, "pans", 1),
                                                        F_MIN(side_pans, from_min, "from_min"),
                                                        F_MIN(side_pans, to_min, "to_min"),
                                                        {"hot", PW_SEEN_FLAG, AT(side_pans, is_hot), 0, 0, false, NULL},
                                                        END};

static void side_pans_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_side_pans *pans = element;
  const struct pw_json *place = pw_json_get(object, "place");
  pans->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
  pans->place = PW_SEEN_NONE;
  if (!place || place->type != PW_JSON_NULL)
    pans->place = pw_seen_refer(r, path, object, "place", PW_SEEN_ZONES, "zone or finisher");
}

static const struct pw_seen_field time_label_fields[] = {F_TEXT(time_label, dish, "dish"),
                                                         F_MIN(time_label, out_min, "out_min"),
                                                         F_MIN(time_label, discard_by_min, "discard_by_min"), END};

static void time_label_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_time_label *label = element;
  label->service = pw_seen_refer(r, path, object, "service", PW_SEEN_SERVICES, "service");
}

static const struct pw_seen_field chill_fields[] = {
    F_INT(chill, pieces, "pieces", 1),           F_MIN(chill, from_min, "from_min"),
    F_MIN(chill, cool_by_min, "cool_by_min"),    F_MIN(chill, cold_by_min, "cold_by_min"),
    F_REAL(chill, cool_c, "cool_c", -100, 1000), F_REAL(chill, cold_c, "cold_c", -100, 1000),
    F_REAL(chill, thick_m, "thick_m", 0, 100),   END};

static void chill_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_chill *chill = element;
  chill->lot = pw_seen_refer(r, path, object, "lot", PW_SEEN_LOTS, "lot");
}

static const struct pw_seen_field reheat_fields[] = {
    F_INT(reheat, pieces, "pieces", 1),
    F_MIN(reheat, from_min, "from_min"),
    F_MIN(reheat, ready_min, "ready_min"),
    F_MIN(reheat, out_min, "out_min"),
    F_REAL(reheat, room, "room", 0, PIECES_MAX),
    F_REAL(reheat, depth_m, "depth_m", 0, 100),
    F_REAL(reheat, core_c, "core_c", -100, 1000),
    {"precooked", PW_SEEN_FLAG, AT(reheat, is_precooked), 0, 0, false, NULL},
    END};

static void reheat_more(struct pw_plan_reader *r, const char *path, const struct pw_json *object, void *element)
{
  struct pw_seen_reheat *reheat = element;
  reheat->lot = pw_seen_refer(r, path, object, "lot", PW_SEEN_LOTS, "lot");
  reheat->place = pw_seen_refer(r, path, object, "place", PW_SEEN_ZONES, "zone or finisher");
}

/* in the order in which they refer to each other */
const struct pw_seen_list pw_seen_lists[] = {
    LIST("guest_classes", PW_SEEN_CLASSES, class, classes, AT(class, id), CLASSES_MAX, true, NULL, NULL),
    LIST("services", PW_SEEN_SERVICES, service, services, AT(service, id), FEW, false, &service_blank, service_more),
    LIST("pits", PW_SEEN_PITS, pit, pits, AT(pit, id), PITS_MAX, true, &pit_blank, NULL),
    LIST("racks", PW_SEEN_RACKS, rack, racks, AT(rack, id), FEW, false, &rack_blank, rack_more),
    LIST("zones", PW_SEEN_ZONES, zone, zones, AT(zone, id), FEW, false, NULL, zone_more),
    LIST("finishers", PW_SEEN_FINISHERS, finisher, finishers, AT(finisher, id), FEW, false, &finisher_blank, NULL),
    LIST("lots", PW_SEEN_LOTS, lot, lots, AT(lot, id), FEW, false, &lot_blank, lot_more),
    LIST("burns", PW_SEEN_BURNS, burn, burns, SIZE_MAX, FEW, false, &burn_blank, burn_more),
    LIST("loads", PW_SEEN_LOADS, load, loads, SIZE_MAX, MANY, false, &load_blank, load_more),
    LIST("visits", PW_SEEN_VISITS, visit, visits, AT(visit, id), MANY, true, NULL, visit_more),
    LIST("side_pans", PW_SEEN_SIDE_PANS, side_pans, side_pans, SIZE_MAX, FEW, true, NULL, side_pans_more),
    LIST("time_labels", PW_SEEN_TIME_LABELS, time_label, time_labels, SIZE_MAX, FEW, true, NULL, time_label_more),
    LIST("chills", PW_SEEN_CHILLS, chill, chills, SIZE_MAX, FEW, true, NULL, chill_more),
    LIST("reheats", PW_SEEN_REHEATS, reheat, reheats, SIZE_MAX, FEW, true, NULL, reheat_more),
    LIST("cores", PW_SEEN_CORES, core, cores, SIZE_MAX, FEW, true, &core_blank, core_more),
    LIST("demand", PW_SEEN_DEMAND, demand, demand, SIZE_MAX, MANY, false, &demand_blank, demand_more),
    LIST("raw_needs", PW_SEEN_RAWS, raw, raws, SIZE_MAX, FEW, true, &raw_blank, raw_more),
    LIST("needs", PW_SEEN_NEEDS, need, needs, AT(need, item), FEW, true, NULL, need_more),
    LIST("purchases", PW_SEEN_PURCHASES, purchase, purchases, SIZE_MAX, MANY, false, &purchase_blank, purchase_more),
    LIST("mixes", PW_SEEN_MIXES, mix, mixes, AT(mix, item), FEW, true, NULL, mix_more),
    LIST("orders", PW_SEEN_ORDERS, order, orders, AT(order, supplier), FEW, true, &order_blank, NULL),
    LIST("crew", PW_SEEN_CREW, crew, crew, AT(crew, role), CREW_MAX, false, &crew_blank, NULL),
    {"people", PW_SEEN_PEOPLE, sizeof(struct pw_seen_person), offsetof(struct pw_seen_plan, people), AT(person, id),
     FEW, true, pw_seen_person_fields, &pw_seen_person_blank, pw_seen_person_more},
    {"tasks", PW_SEEN_TASKS, sizeof(struct pw_seen_task), offsetof(struct pw_seen_plan, tasks), AT(task, id), MANY,
     false, pw_seen_task_fields, &pw_seen_task_blank, pw_seen_task_more},
    LIST("jobs", PW_SEEN_JOBS, job, jobs, SIZE_MAX, FEW, true, NULL, NULL),
    LIST("fuels", PW_SEEN_FUELS, fuel, fuels, SIZE_MAX, MANY, true, &fuel_blank, NULL),
    LIST("warnings", PW_SEEN_WARNINGS, warning, warnings, SIZE_MAX, MANY, false, NULL, pw_seen_warning_more),
    {"shortfalls", PW_SEEN_SHORTFALLS, sizeof(struct pw_seen_shortfall), offsetof(struct pw_seen_plan, shortfalls),
     SIZE_MAX, FEW, true, pw_seen_shortfall_fields, NULL, pw_seen_shortfall_more},
    {"remedies", PW_SEEN_REMEDIES, sizeof(struct pw_seen_remedy), offsetof(struct pw_seen_plan, remedies), SIZE_MAX,
     FEW, true, pw_seen_remedy_fields, &pw_seen_remedy_blank, pw_seen_remedy_more},
};
const size_t pw_seen_n_lists = sizeof pw_seen_lists / sizeof *pw_seen_lists;
