/* read_plan.h - a plan file as the judge sees it: ids turned into indices, types and ranges proved, nothing more.
 *
 * Reads JSON of any origin, also edited by hand or hostile.  What is wrong with its form is a finding [J0] with the
 * JSON path; a section with such a finding is marked, so that no rule is tried on data that is not there. */
#ifndef PW_READ_PLAN_H
#define PW_READ_PLAN_H

#include "base/clock.h"
#include "base/ctx.h"

#include <stdbool.h>
#include <stdint.h>

enum pw_seen_part {
  PW_SEEN_EVENT,
  PW_SEEN_CLASSES,
  PW_SEEN_SERVICES,
  PW_SEEN_PITS,
  PW_SEEN_RACKS,
  PW_SEEN_ZONES,
  PW_SEEN_FINISHERS,
  PW_SEEN_LOTS,
  PW_SEEN_BURNS,
  PW_SEEN_LOADS,
  PW_SEEN_VISITS,
  PW_SEEN_SIDE_PANS,
  PW_SEEN_TIME_LABELS,
  PW_SEEN_CHILLS,
  PW_SEEN_REHEATS,
  PW_SEEN_CORES,
  PW_SEEN_DEMAND,
  PW_SEEN_RAWS,
  PW_SEEN_NEEDS,
  PW_SEEN_PURCHASES,
  PW_SEEN_MIXES,
  PW_SEEN_ORDERS,
  PW_SEEN_CREW,
  PW_SEEN_PEOPLE,
  PW_SEEN_TASKS,
  PW_SEEN_FUELS,
  PW_SEEN_JOBS,
  PW_SEEN_WARNINGS,
  PW_SEEN_SHORTFALLS,
  PW_SEEN_REMEDIES,
  PW_SEEN_QUOTE,
  PW_SEEN_SOLUTION,
  PW_SEEN__COUNT
};

/* Keys a plan may leave out: numbers are NAN, counts and money -1, minutes PW_SEEN_NO_TIME when they are missing. */
enum { PW_SEEN_NONE = -1, PW_SEEN_NO_TIME = -2000000000 };
#define PW_SEEN_NO_MONEY INT64_MIN /* money that may be below nothing */

struct pw_seen_event {
  const char *name, *date, *safety_basis; /**< basis: NULL when none is named */
  const char *zone;                       /**< NULL when missing */
  int utc_offset_min;
  int slot_min, head_count; /**< PW_SEEN_NONE when missing */
  int is_sum;               /**< 0, 1: heads of all services added, else of the largest */
  int travel_min;           /**< PW_SEEN_NONE when missing */
  int prep;                 /**< 0 either, 1 kitchen, 2 site: where things are made ready; PW_SEEN_NONE when missing */
};

/** A class of guests. */
struct pw_seen_class {
  const char *id;
  double appetite_frac;
  int eats_meat; /**< 0, 1 */
};

/** What makes a meal late first in a share of all cooks. */
struct pw_seen_cause {
  const char *name;
  int lot;     /**< PW_SEEN_NONE: names none, a finding */
  int is_spot; /**< its pieces lie where others should go; 0: its own length */
  double frac;
};

/** How sure it is that a meal is ready when it begins. */
struct pw_seen_chance {
  double on_time_frac, moved_frac, standard_error_frac, target_frac; /**< NAN when missing */
  double weakest_late_frac, weakest_late_min;
  double with_fires_frac, held_long_frac, held_long_min, slow_core_frac, slow_core_min;
  int draws;                                     /**< 0: no chance is told */
  int weakest_lot, held_long_lot, slow_core_lot; /**< PW_SEEN_NONE: none */
  const char *weakest, *held_long, *slow_core;
  struct pw_seen_cause *held_back; /**< n_held_back of them; negative: missing */
  int n_held_back;
};

struct pw_seen_service {
  struct pw_seen_chance chance;
  const char *id;
  int at_min, length_min;
  bool is_handed_over;                         /**< dropped off: nobody serves */
  double guests;                               /**< all classes */
  int *of_class;                               /**< by guest_classes; NULL when those are not told */
  double walk_least_frac, walk_most_frac;      /**< NAN: as many as planned */
  double *arrivals;                            /**< shares of the guests in n equal stretches of its length */
  int n_arrivals;                              /**< 0: evenly */
  double meat_kg, meat_least_kg, meat_most_kg; /**< cooked meat a guest and what is usual; NAN: not told */
};

enum pw_seen_stage { PW_SEEN_SMOKE, PW_SEEN_FINISH, PW_SEEN_REST, PW_SEEN_HOLD };

/** What one of several jobs bears. */
struct pw_seen_job {
  int64_t food_cents, supplies_cents, fuel_cents, labour_cents, rental_cents, travel_cents, overhead_cents, cost_cents;
};

/** A place is a zone index, or n[PW_SEEN_ZONES] + a finisher index. */
struct pw_seen_time {
  int stage, place, minutes;
};

struct pw_seen_lot {
  const char *id, *cut;
  int service, pieces, missed, rest_min, hold_max_min;
  double footprint_m[2], wrapped_m[2], height_m, pans;
  double piece_kg; /**< NAN when missing */
  bool has_finish_range;
  int drips;        /**< as in pw_seen_drips; PW_SEEN_NONE when missing */
  int kind, safety; /**< as in pw_seen_foods, pw_seen_safeties; PW_SEEN_NONE when missing */
  double best_c[2]; /**< the cook's favourite air for smoke, for finish; NAN when missing */
  double to_c[2];   /**< core at the end of smoke, of finish; NAN when missing */
  double range_c[2], smoke_range_c[2], finish_range_c[2]; /**< the last two: range_c when missing */
  int turns;                                              /**< 0, 1; 1 when missing */
  double prep_min, load_min, wrap_min, unload_min,
      carve_min; /**< of one pair of hands for one piece; NAN when missing */
  int brine_least_min,
      brine_most_min;         /**< so long it lies in brine before it is made ready; PW_SEEN_NO_TIME: no brine */
  double brine_min;           /**< of one pair of hands for one piece; NAN when missing */
  int coals_turns;            /**< over coals: times it is turned; PW_SEEN_NONE: not over coals */
  double coals_turn_work_min; /**< of one pair of hands for one piece, all its turns; NAN when missing */
  double smoke_spread_frac, finish_spread_frac; /**< of a stage's length; NAN when missing */
  int late_min;                                 /**< of a mended plan: rested so long after its time; 0 when missing */
  int by_min, knives_min, early_min,
      turn_min; /**< ready by; between rest and then for the knives, for the spread of the times;
                                                    its spot stays empty so long */
  struct pw_seen_time *times;
  int n_times;
  int wave, n_waves;               /**< 0, 1 when missing */
  int until_min;                   /**< last plate of its wave; PW_SEEN_NO_TIME when missing */
  int pan_hold_max_min;            /**< how long it keeps cut, in pans */
  int over_min;                    /**< held whole so much too long, and told */
  int is_day_before, chill_by_min; /**< 0, 1; the minute by which a lot cooked the day before is rested */
};

/** Of a lot cooked the day before: out of the rest, into ice water. */
struct pw_seen_chill {
  int lot, pieces, from_min, cool_by_min, cold_by_min;
  double cool_c, cold_c, thick_m;
};

/** Back in an oven on the day. */
struct pw_seen_reheat {
  int lot, place, pieces, from_min, ready_min, out_min;
  double room, depth_m, core_c;
  int is_precooked; /**< 0, 1 */
};

struct pw_seen_pit {
  const char *id;
  int ready_min, burns_max, lost_min;
  double ready_spread_frac, lost_per_h_frac;    /**< NAN when missing */
  const char *wood, *charcoal;                  /**< fuels; NULL when missing or none */
  double split_kg, start_charcoal_kg, water_kg; /**< NAN when missing */
};

struct pw_seen_rack {
  const char *id;
  int pit, shape; /**< shape: 0 rectangle, 1 disc */
  double length_m, depth_m, clear_height_m;
  int level, is_tray_below; /**< PW_SEEN_NONE when missing */
};

struct pw_seen_zone {
  const char *id;
  int rack;
  double x_m, length_m, temp_c;
};

struct pw_seen_finisher {
  const char *id;
  int kind, unit; /**< 0 oven, 1 hold; 0 area_m2, 1 pans */
  double capacity, temp_c;
  double cents_per_h; /**< NAN when missing */
  double loss_frac_h,
      outside_c; /**< a box without heat: what it loses in an hour of its lead over the outside; NAN when heated */
  int heat_up_min,
      off_after_min; /**< heated so long before food, empty at most so long; 0: needs none, or a plan of before */
};

struct pw_seen_feed {
  int at_min;
  int splits; /**< PW_SEEN_NONE when missing */
  double kg;
};

struct pw_seen_burn {
  int pit, lit_min, ready_min, out_min;
  double fuel_kg, start_charcoal_kg;
  double splits_per_h, shell_kw, exhaust_kw, food_kw, door_kw, warm_up_mj; /**< NAN when missing */
  struct pw_seen_feed *feeds;
  int n_feeds;
  int n_visits; /**< PW_SEEN_NONE when missing */
};

/** An opening of a pit's door. */
struct pw_seen_visit {
  const char *id, *reason; /**< reason: why so soon after the one before, NULL without */
  int pit, at_min;
};

struct pw_seen_rect {
  double x_m, y_m, length_m, depth_m;
};

struct pw_seen_load {
  int lot, stage, place, pieces, start_min, end_min;
  struct pw_seen_rect *rects;
  int n_rects;
  int *piece_ids;
  int n_ids;           /**< PW_SEEN_NONE when missing */
  double pace_frac;    /**< NAN when missing */
  int drips_until_min; /**< PW_SEEN_NO_TIME when missing */
  int carried_min;     /**< there only since then, PW_SEEN_NO_TIME: since its start */
  int carried_from;    /**< zone or finisher, PW_SEEN_NONE */
};

/** Pans of a side that is not from the pit. */
struct pw_seen_side_pans {
  const char *dish;
  int service, pans, from_min, to_min;
  int is_hot; /**< 0, 1 */
  int place;  /**< PW_SEEN_NONE: in no box */
};

/** On a pan that stands without heat or ice. */
struct pw_seen_time_label {
  const char *dish;
  int service, out_min, discard_by_min;
};

/** How one guest of a class takes a line. */
struct pw_seen_law {
  double take_frac, portion, mean, square;
};

struct pw_seen_demand {
  const char *dish;
  int service;
  double mean_kg, sd_kg, cover, need_kg, mean_units, sd_units, need_units;
  const char *cut;          /**< NULL: not from the pit, or not told */
  int is_by_count, is_meat; /**< 0, 1; PW_SEEN_NONE when missing */
  int portions;
  double reserve_frac;
  double take_frac, portion, again_frac, law_mean, law_square; /**< how one guest takes it; NAN when not told */
  struct pw_seen_law *of_class; /**< the same by guest_classes; NULL: every class takes it alike, or it is not told */
  double unit_kg;               /**< eaten of a counted unit of meat; NAN: not told */
  int has_spread;               /**< 0, 1 */
  double pan_portions;          /**< NAN: not panned, or from the pit */
  int is_time_control;          /**< 0, 1 */
  int portions_cover, is_hot;   /**< PW_SEEN_NONE when missing; 0, 1 */
};

struct pw_seen_raw {
  const char *cut;
  int service, pieces;
  const char *item; /**< what is bought; NULL when not told */
  int is_smoked;    /**< 0, 1; PW_SEEN_NONE when missing */
  /* NAN when missing */
  double need_kg, raw_mean_kg, yield_frac, leftover_kg, runout_frac;
  double raw_piece_kg, trim_frac, cook_frac, carve_frac, cover, need_units, units_per_piece;
  double want_kg, want_sd_kg, ask_kg, ask_sd_kg, least_kg, served_piece_kg, served_piece_sd_kg;
};

/** So much of an item for a dish of a service; for none: the event's own. */
struct pw_seen_for {
  const char *dish; /**< NULL: the event's own */
  int service;      /**< PW_SEEN_NONE: the event's own */
  double amount;
};

/** What is needed of an item, before packs. */
struct pw_seen_need {
  const char *item;
  int store; /**< 0 dry, 1 chilled, 2 frozen */
  double amount;
  int pieces, prep_min, last_min;
  struct pw_seen_for *parts;
  int n_parts;
};

struct pw_seen_purchase {
  const char *item, *supplier;
  int category; /**< as in pw_seen_categories */
  int packs, order_by_min, deliver_min, thaw_from_min;
  int pieces, pack_pieces, order_ahead_min, keeps_min, keeps_to_min; /**< PW_SEEN_NONE, _NO_TIME when missing */
  double pack_amount;                                                /**< NAN when missing */
  double amount, need, unit_price_cents, pack_price_cents;
  int64_t cost_cents, carry_cents; /**< carry: 0 when missing */
  int is_pit_fuel;                 /**< 0, 1: costed with the fuels; 0 when missing */
};

/** What is ordered from one supplier. */
struct pw_seen_order {
  const char *supplier;
  int64_t goods_cents, delivery_cents, top_up_cents;
  int64_t least_cents; /**< PW_SEEN_NONE when missing */
  int lines;           /**< PW_SEEN_NONE when missing */
};

/** Mixed in the kitchen: so much of it, of so much of each part. */
struct pw_seen_part_of_mix {
  const char *item;
  double amount, per_unit; /**< per_unit: NAN when missing */
};

struct pw_seen_mix {
  const char *item;
  double amount;
  struct pw_seen_part_of_mix *parts;
  int n_parts;
};

enum pw_seen_food {
  PW_SEEN_BEEF,
  PW_SEEN_PORK,
  PW_SEEN_LAMB,
  PW_SEEN_POULTRY,
  PW_SEEN_SAUSAGE,
  PW_SEEN_FISH,
  PW_SEEN_PLANT
};
enum pw_seen_safety {
  PW_SEEN_INTACT,
  PW_SEEN_TENDERIZED,
  PW_SEEN_GROUND,
  PW_SEEN_SAFE_POULTRY,
  PW_SEEN_PRECOOKED,
  PW_SEEN_SAFE_PLANT,
  PW_SEEN_REHEATED
};

/** The same piece where it lies, and 25 F cooler. */
struct pw_seen_end {
  double air_c, smoke_min, finish_min; /**< NAN: never, or no such stage */
};

/** What the plan says of one lot's core. */
struct pw_seen_core {
  int lot, is_raw;             /**< is_raw: warm-up and lethality are asked for */
  double smoke_c, come_up_min; /**< NAN: none */
  double finish_c, slow_from_c, slow_min, cook_loss_frac, steam_loss_frac, come_up_most_min; /**< NAN: none */
  int rule_hold_s; /**< PW_SEEN_NONE when missing */
  struct pw_seen_end *ends;
  int n_ends; /**< PW_SEEN_NONE when missing */
  double end_core_c, rule_core_c, log_reduction, hold_log_reduction, log_needed;
  double surface_log, humidity_frac; /**< NAN: none */
  int surface;                       /**< as in pw_seen_surfaces; PW_SEEN_NONE when none is told */
};

/** What a lot is to what lies below it. */
enum pw_seen_drips {
  PW_SEEN_DRIPS_POULTRY,
  PW_SEEN_DRIPS_GROUND,
  PW_SEEN_DRIPS_WHOLE,
  PW_SEEN_DRIPS_FISH,
  PW_SEEN_DRIPS_READY
};

/** Why the lethality tables hold at the surface. */
enum pw_seen_surface { PW_SEEN_CASING, PW_SEEN_LARGE, PW_SEEN_HUMID, PW_SEEN_DRY };

struct pw_seen_crew {
  const char *role;
  int count, from_min, to_min;
  double cents_per_h;
  int unpaid_min; /**< of a shift worked out; 0 */
  double extra_cents;
  int tends_fire, tends_pit, serves; /**< flags are read as int; told of a plan with a pool alone */
};

/** A line of the crew pool, and the rules its people work by.  0: no such rule. */
struct pw_seen_pool {
  const char *role, *name;
  int up_to, least_min, most_min, overtime_after_min;
  double cents_per_h, overtime_frac, guests_per_hand;
  int64_t travel_cents;
  int from_min, to_min; /**< PW_SEEN_NO_TIME: whenever asked */
};
struct pw_seen_rules {
  int longest_min, break_after_min, break_min, rest_min, night_shortest_min, night_longest_min, night_hands,
      week_overtime_after_min, awake_longest_min;
  int is_break_paid;
  double week_overtime_frac;
};

/** What the day lacks without somebody of the pool. */
struct pw_seen_reason {
  int person; /**< of people; PW_SEEN_NONE: names none */
  int fire_min, fire_from_min, fire_to_min, pit, is_finish;
  int guests_min, service; /**< service: PW_SEEN_NONE when missing, as pit */
  int tasks, late_min;
  double tight_min;
};

/** One hand more. */
struct pw_seen_more {
  int pool, from_min, to_min, tasks, late_min;
  int64_t cents;
  double tight_min;
};

/** Given shifts against proposed. */
struct pw_seen_proposed {
  int role; /**< first crew line with it, PW_SEEN_NONE */
  int from_min, to_min, unpaid_min;
  double cents_per_h, extra_cents;
};
struct pw_seen_proposal {
  int64_t given_cents, pay_cents;
  double given_h, paid_h, given_task_h, task_h;
  int given_lacking, lacking;
  struct pw_seen_proposed *shifts;
  int n_shifts;
};

struct pw_seen_span {
  int from_min, to_min;
};

/** Somebody who is not there on the day. */
struct pw_seen_away {
  int person, from_min, to_min;
};

/** One pair of hands of the crew. */
struct pw_seen_person {
  const char *id, *name; /**< name: NULL when none is given */
  int role;              /**< first crew line with it */
  int from_min, to_min;
  double cents_per_h;
  struct pw_seen_span *breaks;
  int n_breaks;
  int pool; /**< line of the pool, PW_SEEN_NONE: given */
};

/** Kinds of tasks, as in pw_seen_kinds. */
enum pw_seen_task_kind {
  PW_SEEN_ORDER,
  PW_SEEN_TAKE_IN,
  PW_SEEN_PREP,
  PW_SEEN_LIGHT,
  PW_SEEN_FEED_FIRE,
  PW_SEEN_FIRE_CHECK,
  PW_SEEN_LOAD,
  PW_SEEN_BARK_TEST,
  PW_SEEN_MOP,
  PW_SEEN_TURN,
  PW_SEEN_CORE_READ,
  PW_SEEN_WRAP,
  PW_SEEN_CARRY,
  PW_SEEN_WRAP_CARRY,
  PW_SEEN_PROBE,
  PW_SEEN_OFF,
  PW_SEEN_REST_OVER,
  PW_SEEN_HOLD_CHECK,
  PW_SEEN_CUT,
  PW_SEEN_PAN_UP,
  PW_SEEN_DRIVE,
  PW_SEEN_SET_UP,
  PW_SEEN_SERVE,
  PW_SEEN_CLEAR,
  PW_SEEN_COOL,
  PW_SEEN_COOL_CHECK,
  PW_SEEN_BURN_DOWN,
  PW_SEEN_ASH,
  PW_SEEN_BRINE,
  PW_SEEN_THAW,
  PW_SEEN_CHILL,
  PW_SEEN_REHEAT,
  PW_SEEN_MOVE,
  PW_SEEN_HEAT_UP,
  PW_SEEN_N_KINDS
};

/** Where hands are when they are at no pit and no finisher; a pit is its index, a finisher n[PW_SEEN_PITS] + its index. */
enum { PW_SEEN_IN_KITCHEN = -2, PW_SEEN_ON_SITE = -3, PW_SEEN_ON_ROAD = -4 };

/** Beyond its first line everything may be missing: PW_SEEN_NONE, PW_SEEN_NO_TIME, NULL. */
struct pw_seen_task {
  int at_min, minutes, lot, pieces;
  int role; /**< first crew line with it, PW_SEEN_NONE: nobody */
  const char *id, *dish, *visit;
  int kind, person, service, latest_min, in_time_until_min; /**< PW_SEEN_NO_TIME: missing, no slack */
  int plates_to_min; /**< of a cut: the last plate of its pieces; PW_SEEN_NO_TIME */
  int is_in_parts;   /**< of a cut: 0, 1 */
  double temp_c;     /**< of a heat_up; NAN when missing */
  int place, to_place;
  int at_hand; /**< 0 kitchen, 1 site, 2 road */
  int told_late; /**< a warning names the task: nobody does it (0), or it begins so many minutes late; PW_SEEN_NONE: none does */
  int *piece_ids, n_ids;
  const char **items;
  int n_items;
  const char **after_ids;
  int *after, n_after; /**< indices of tasks, PW_SEEN_NONE where there is none of the name */
};

struct pw_seen_fuel {
  const char *fuel;
  int is_charcoal;   /**< 0, 1; PW_SEEN_NONE when missing */
  int splits, packs; /**< PW_SEEN_NONE when missing; packs: loose */
  double net_mj_kg, need_kg, buy_kg, reserve_frac, pack_kg, pack_cents, cents_per_kg,
      stacked_m3; /**< NAN when missing */
  int64_t cost_cents;
};

struct pw_seen_warning {
  const char *code, *text; /**< text: NULL when missing */
  int late_min;            /**< 0 when missing */
  const char **task_ids;
  int n_tasks; /**< tasks that nobody does or that begin late for it */
};

struct pw_seen_way_part {
  int kind; /**< by enum pw_seen_way */
  const char *id;
  int is_new; /**< 0, 1 */
};

enum pw_seen_way {
  PW_SEEN_WAY_BOX,
  PW_SEEN_WAY_OVEN,
  PW_SEEN_WAY_PIT,
  PW_SEEN_WAY_HAND,
  PW_SEEN_WAY_DAY_BEFORE,
  PW_SEEN_WAY_SITTING,
  PW_SEEN_WAY_PORTION,
  PW_SEEN_WAY_TRAY,
  PW_SEEN_WAY_WAVES
};

/** How often a meal is ready in the plan of a way out. */
struct pw_seen_meal_chance {
  const char *service; /**< may be none of this plan: a second sitting */
  const char *name;
  double on_time_frac, target_frac;
};

struct pw_seen_remedy {
  int missed_after;
  int missed_portions_after;           /**< PW_SEEN_NONE when missing */
  int64_t cost_cents, plan_cost_cents; /**< PW_SEEN_NONE when missing; cost: may be below 0 */
  struct pw_seen_way_part *parts;
  int n_parts; /**< PW_SEEN_NONE when missing */
  const char **lines;
  int n_lines;
  struct pw_seen_meal_chance *chances;
  int n_chances; /**< PW_SEEN_NONE when missing */
};

/** Portions of a dish that are missing at the table. */
struct pw_seen_shortfall {
  int service, wanted, portions;
  const char *dish;
  int *by_class; /**< in the order of the classes */
  int n_by_class;
};

struct pw_seen_rung {
  int guests;
  int64_t total_cents, per_guest_cents;
  int64_t cost_cents, price_cents; /**< may be missing */
  int missed;                      /**< PW_SEEN_NONE when missing */
};

/** A choice of the menu beside the job as it stands. */
struct pw_seen_option {
  int service, missed;
  const char *dish, *instead_of;
  int64_t base_cost_cents, base_food_cents, base_price_cents, cost_cents, food_cents, price_cents, more_cents;
};

/** A dish left out to come to a price that was given. */
struct pw_seen_leave {
  int service;
  const char *dish;
  int64_t cost_cents, food_cents, price_cents;
  double margin_frac;
};

/** The job made for another chance of its meals. */
struct pw_seen_level {
  double margin_frac, chance_frac, late_meals_frac;
  int64_t cost_cents, late_meal_cents;
  int is_plan;
};

struct pw_seen_due {
  int64_t cents;
  const char *date; /**< NULL when missing */
};

struct pw_seen_role {
  const char *role;
  double paid_h, task_h;
  int64_t cents;
};

/** A service's part of the cost. */
struct pw_seen_share {
  int service, guests;
  int64_t food_cents, other_cents;
};

struct pw_seen_dish {
  const char *dish;
  int service;
  int64_t food_cents;
  double portions, portion_cents;
  double short_cents; /**< NAN when missing */
};

/** If another number of heads comes. */
struct pw_seen_turnout {
  int guests;
  int64_t net_cents, cost_cents;
  double margin_frac;
};

struct pw_seen_quote {
  int guests;
  int64_t food_cents, fuel_cents, labour_cents, other_cents, overhead_cents, cost_cents, price_cents, per_guest_cents,
      tax_cents, total_cents, deposit_cents;
  int64_t supplies_cents, rental_cents, travel_cents, discount_cents, service_charge_cents; /**< may be missing */
  int64_t oven_cents;
  int64_t list_price_cents, net_cents, round_per_guest_cents, today_per_guest_cents,
      today_price_cents;          /**< may be missing */
  int64_t quoted_per_guest_cents; /**< a price named before; PW_SEEN_NONE: none */
  const char *quoted_on;          /**< NULL: the price was given on no day */
  int64_t agreed_price_cents;     /**< of a contract; PW_SEEN_NONE: none */
  int agreed_guests;
  const char *agreed_on;
  double asked_margin_frac, asked_food_share_frac; /**< may be missing; a food share of 0: by the margin */
  int64_t taxable_cents, prime_cents, contribution_cents, min_fee_cents, shared_food_cents; /**< may be missing */
  int ladder_from, ladder_to, ladder_step; /**< PW_SEEN_NONE when missing; step 0: seven around the planned one */
  double discount_frac, service_charge_frac, tax_frac, deposit_frac, margin_frac,
      food_share_frac;              /**< may be missing */
  int is_charge_taxed;              /**< 0, 1 */
  int valid_days;                   /**< PW_SEEN_NONE when missing */
  const char *quoted, *valid_until; /**< dates, NULL when missing */
  int pays_from;                    /**< head count; PW_SEEN_NONE: on none */
  bool has_pays_from;
  bool has_fewer, has_more;
  struct pw_seen_turnout fewer, more;
  struct pw_seen_due *dues;
  struct pw_seen_rung *ladder, *tried;
  struct pw_seen_level *levels;
  struct pw_seen_option *options;
  struct pw_seen_leave *leaves;
  int n_options, n_leaves; /**< PW_SEEN_NONE when missing */
  struct pw_seen_role *roles;
  struct pw_seen_share *services;
  struct pw_seen_dish *dishes;
  int n_ladder;
  int n_dues, n_tried, n_levels, n_roles, n_services, n_dishes; /**< PW_SEEN_NONE when missing */
};

/** What a fire is for, as the plan tells it. */
struct pw_seen_story_use {
  int lot, smoked, finished, from_at_min, to_at_min;
};

struct pw_seen_story {
  int pit, lit_at_min, out_at_min, late_pieces;
  double hour_cents; /**< NAN when missing */
  struct pw_seen_story_use *uses;
  int n_uses;
};

/** What a little more room would be worth. */
struct pw_seen_worth {
  int from_at_min, to_at_min, racks, pits;
  double pieces;
};

/** Hours in ovens, and what they save on the pits. */
struct pw_seen_ovens {
  double hours, piece_h, area_m2_h, wood_kg; /**< NAN when missing */
  int pieces, lit_min;
  int64_t wood_cents;
};

enum pw_seen_outcome { PW_SEEN_OPTIMAL, PW_SEEN_FEASIBLE, PW_SEEN_SHORT, PW_SEEN_LIMIT };

/** Prices of one burn. */
struct pw_seen_burn_price {
  double fire_cents_per_h, people_cents_per_h, light_cents;
};

/** The cost by what it is for, and the prices behind it; NAN when missing. */
struct pw_seen_cost {
  double fire, light, oven, openings, places, hold, off_best, moves, people, missed;
  double opening_cents, place_cents, hold_cents, off_best_cents, move_cents;
  struct pw_seen_burn_price *burns;
  int n_burns;
};

struct pw_seen_solution {
  int outcome, stopped_by;
  double cost, bound, gap_frac, work;
  double bound_fractions, bound_shapes; /**< steps of the proof; 0: not told */
};

struct pw_seen_plan {
  int now_min, edition; /**< of a mended plan; PW_SEEN_NO_TIME, PW_SEEN_NONE: planned from the start */
  struct pw_seen_class *classes;
  struct pw_seen_service *services;
  struct pw_seen_pit *pits; /**< those listed, else those the racks name */
  struct pw_seen_rack *racks;
  struct pw_seen_zone *zones;
  struct pw_seen_finisher *finishers;
  struct pw_seen_lot *lots;
  struct pw_seen_burn *burns;
  struct pw_seen_load *loads;
  struct pw_seen_visit *visits;
  struct pw_seen_side_pans *side_pans;
  struct pw_seen_time_label *time_labels;
  struct pw_seen_chill *chills;
  struct pw_seen_reheat *reheats;
  struct pw_seen_core *cores;
  struct pw_seen_demand *demand;
  struct pw_seen_raw *raws;
  struct pw_seen_need *needs;
  struct pw_seen_purchase *purchases;
  struct pw_seen_mix *mixes;
  struct pw_seen_order *orders;
  struct pw_seen_crew *crew;
  struct pw_seen_person *people;
  struct pw_seen_task *tasks;
  struct pw_seen_fuel *fuels;
  struct pw_seen_job *jobs;
  struct pw_seen_warning *warnings;
  struct pw_seen_shortfall *shortfalls;
  struct pw_seen_remedy *remedies;
  struct pw_seen_quote quote;
  struct pw_seen_pool *pool;
  int n_pool; /**< PW_SEEN_NONE: no pool */
  struct pw_seen_rules rules;
  struct {
    int64_t pay_cents, cover_cents, bound_cents;
    double gap_frac;
  } staffing; /**< beside a pool */
  struct pw_seen_reason *reasons;
  struct pw_seen_more *more;
  int n_reasons, n_more; /**< 0 or PW_SEEN_NONE: not told */
  struct pw_seen_away *away;
  int n_away; /**< PW_SEEN_NONE: not told */
  struct pw_seen_proposal proposal;
  bool has_proposal;
  struct pw_seen_story *stories;
  struct pw_seen_worth *worths;
  int n_stories, n_worths; /**< PW_SEEN_NONE when missing */
  struct pw_seen_ovens ovens;
  struct pw_seen_cost parts;
  struct pw_seen_solution solution;
  struct {
    double lot, pit_day, piece; /**< NAN when missing */
  } spread_shares;
  int n[PW_SEEN__COUNT];       /**< elements of each list */
  bool is_bad[PW_SEEN__COUNT]; /**< this section has a finding */
  int travel_min;              /**< from the kitchen to the site; PW_SEEN_NONE when missing */
  struct pw_seen_event event;
  const struct pw_clock *clock; /**< of the event's zone; NULL: no zone told, or none that is known */
  bool has_safety_basis;        /**< the event says on what basis the cook goes below a rule */
};

extern const char *const pw_seen_foods[], *const pw_seen_safeties[]; /**< by enum pw_seen_food, enum pw_seen_safety */
extern const char *const pw_seen_ways[];       /**< "box" ... by enum pw_seen_way, NULL at the end */
extern const char *const pw_seen_drips[];      /**< what a lot is to what lies below it */
extern const char *const pw_seen_surfaces[];   /**< why the lethality tables hold at the surface */
extern const char *const pw_seen_stages[];     /**< "smoke" ... by enum pw_seen_stage, NULL at the end */
extern const char *const pw_seen_kinds[];      /**< "order" ... by enum pw_seen_task_kind, NULL at the end */
extern const char *const pw_seen_categories[]; /**< "meat" ... in the order of the purchase list, NULL at the end */

/** What the judge has said so far.  All findings are counted; the context keeps the first ones. */
struct pw_judge {
  struct pw_ctx *ctx;
  const char *file;
  int n_findings;
  const struct pw_seen_plan *plan; /**< once it is read: of a mended plan what was before now is fact [J19] */
};

/** A finding: an error with the rule's label as its code; the text begins with the JSON path.  Made safe to print. */
void pw_judge_find(struct pw_judge *judge, const char *label, const char *format, ...)
    __attribute__((format(printf, 3, 4)));

/** Fills *out, all in the arena.  Findings of form are [J0].  PW_ERR_INPUT when the text is not JSON, or no plan of
 *  this format and version; PW_ERR_MEMORY; else PW_OK, also with findings. */
pw_status pw_read_plan(struct pw_seen_plan *out, const char *text, size_t n, struct pw_judge *judge);

#endif
