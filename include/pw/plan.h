/* plan.h - what the stages make, in pipeline order: the map of the program.
 * Each struct is written by one stage (named in its head line) and read by the later ones. */
#ifndef PW_PLAN_H
#define PW_PLAN_H

#include "pw/event.h"

/** What a person should know although the plan stands.  run.c adds up what the stages say. */
/* ---- demand (plan/demand/demand.c) ------------------------------------------------------------------ */

/** Need of one menu line. */
struct pw_demand_line {
  int service, dish;
  double guests_eq;            /**< guests x appetite, meat eaters only for meat dishes */
  double mean_kg, sd_kg;       /**< served weight wanted (by-count dishes: 0) */
  double mean_units, sd_units; /**< by-count dishes: units wanted */
  double cover_frac;
  double need_kg;     /**< by weight: served weight that covers the chance [D1] */
  double need_units;  /**< by count: whole units that cover it */
  int portions;       /**< portions expected to be taken, rounded up; for sides and disposables */
  int portions_cover; /**< portions at the cover quantile (exact binomial) */
};

/** How a guest of full appetite takes a menu line: takes it with take_frac, then a portion, then the same again with
 *  again_frac.  Kilograms or units. */
struct pw_law {
  double take_frac, portion, again_frac;
  double mean, square; /**< of the amount per guest: first and second moment */
  bool has_spread;     /**< a portion differs from guest to guest */
};

struct pw_demand {
  struct pw_demand_line *lines; /**< in order of service, then menu */
  int n_lines;
  int head_count;            /**< as the event counts heads */
  int covers;                /**< guests of all services added */
  struct pw_law *laws;       /**< one per line: of one guest of those who may take it, whatever their class */
  struct pw_law *class_laws; /**< [line * n_classes + class], where some line has a take rate of a class; else NULL: all
                                choose alike */
  double *cov;               /**< n_lines x n_lines: covariance of what two lines want, in their own units; 0 between
                                services; the diagonal is the variance */
};

/* ---- purchase (plan/buy/purchase.c) --------------------------------------------------------------- */

/** What the number of whole pieces rests on [P2]. */
struct pw_piece_law {
  double ask_kg, ask_sd_kg; /**< served weight wanted with the reserve: mean, spread; 0 when by count */
  double least_kg;          /**< largest need of one dish: the mean served weight reaches it; 0 when by count */
  double need_units;        /**< by count: units that cover the need, else 0 */
  double cover_frac;
  double piece_kg, piece_sd_kg; /**< what one piece serves */
  double want_kg, want_sd_kg;   /**< served weight wanted without the reserve: mean, spread */
  double cook_frac, carve_frac; /**< of the trimmed, of the cooked weight; chilling and reheating in the first */
};

/** Raw need of one cut for one service. */
struct pw_raw_need {
  int service, cut;
  double need_kg;     /**< served weight at cover; 0 when by count */
  double raw_mean_kg; /**< raw weight bought, mean */
  double yield_frac;  /**< served / raw, mean over its dishes */
  int pieces;         /**< whole pieces [P2] */
  double leftover_kg; /**< expected served weight left over */
  double runout_frac; /**< chance that it runs out */
  struct pw_piece_law law;
};

struct pw_purchase_line {
  int item, offer;
  double need; /**< in the item's unit, before rounding */
  int packs;
  double amount;           /**< bought, in the item's unit (kg by weight: mean) */
  int pieces;              /**< by weight: pieces bought, else 0 */
  double unit_price_cents; /**< per pack, or per kg */
  pw_cents cost_cents;
  int order_by_at_min, deliver_at_min;
  int thaw_from_at_min; /**< frozen goods: move to the refrigerator; INT_MIN when it does not apply */
};

/** How much of an item is mixed in the kitchen. */
struct pw_mix {
  int item;
  double amount; /**< in the item's unit; parts by the item's recipe */
};

/** What is ordered from one supplier. */
struct pw_order {
  const char *supplier;
  int n_lines;
  pw_cents goods_cents, delivery_cents;
  pw_cents top_up_cents;  /**< paid to reach the least order */
  pw_cents least_cents;   /**< the supplier's least order; 0: any */
  pw_cents without_cents; /**< what the whole list costs more, fees and top-ups included, bought without this supplier;
                                -1: nobody else sells all of it, or not asked (pw_purchase_without) */
};

/** What the food of one menu line costs; in the order of the demand lines. */
struct pw_dish_cost {
  pw_cents food_cents;  /**< its share of the items it uses, categories meat to drink */
  double portions;      /**< portions the purchase serves, mean yields */
  double portion_cents; /**< food_cents / portions: what one left over has cost */
  double short_cents;   /**< newsvendor: the cover acts as if a guest who goes without cost this much,
                                portion_cents x cover / (1 - cover); 0 for a cover of 1 */
};

struct pw_purchase {
  struct pw_raw_need *raws; /**< by service, then cut */
  int n_raws;
  struct pw_purchase_line *lines; /**< by category, supplier, name; one per item and offer used */
  int n_lines;
  pw_cents food_cents, supplies_cents; /**< supplies: disposables, other non-food, deliveries; fuel is in neither */
  struct pw_dish_cost *dishes; /**< one per demand line; their food and shared_food_cents add up to food_cents */
  pw_cents shared_food_cents;  /**< food that no dish asked for (the event's own uses) */
  struct pw_mix *mixes;
  int n_mixes; /**< rubs, brines, sauces made from a recipe; by item */
  struct pw_order *orders;
  int n_orders;            /**< by name of the supplier */
  pw_cents delivery_cents; /**< fees and top-ups of all orders; part of supplies_cents */
  pw_cents *carry_cents;  /**< per line: worth on the next job of its packs that stay whole; 0 where it does not keep */
  pw_cents carried_cents; /**< their sum: it moved the choice of packs, it is not taken off the cost */
  pw_cents *elsewhere_cents; /**< per line: cheapest cover of the item's whole need without this supplier, goods
                                  alone; -1: nobody else sells it */
  double list_cents;         /**< of the packs' choice: goods, fees and top-ups, less what is carried; not rounded */
};

/* ---- zones and lots (plan/lots/lots.c) ------------------------------------------------------------- */

/** A stretch of a rack treated as one temperature.  Zones of all pits in one list, pit by pit, rack by
 *  rack, from the hot end. */
struct pw_zone {
  int pit, rack;                 /**< rack: index inside the pit */
  const char *id;                /**< "long-pit/main/1" */
  double x_m, length_m, depth_m; /**< x along the rack from the hot end */
  double *temp_c;                /**< per setting of the pit */
};

/** N identical pieces of one cut for one wave of a service.
 *  Stage times: minutes, a multiple of the slot, or PW_NONE where the stage may not run. */
struct pw_lot {
  const char *id; /**< "dinner/brisket-whole"; of several waves "lunch/chicken-halves/2" */
  int service, cut, pieces;
  double piece_kg;    /**< trimmed, as it goes on */
  int **smoke_min;    /**< [zone][setting] */
  int **finish_min;   /**< [zone][setting]; all PW_NONE when the cut has no finish */
  int *oven_min;      /**< [finisher], PW_NONE for boxes and unsuited ovens */
  int *open_oven_min; /**< [finisher] its open stage, for a day without its fire alone */
  bool has_finish;
  double footprint_length_m, footprint_width_m; /**< clearance included */
  double wrapped_length_m, wrapped_width_m;     /**< clearance included */
  int rest_min, hold_max_min;
  bool is_day_before;                /**< cooked the day before, chilled, reheated */
  int day;                           /**< day of cooking, counted from the event's date */
  int by_at_min;                     /**< rested by then: its wave's begin, or the last moment to begin chilling */
  int early_min;                     /**< planned earliness that covers the spread of the times */
  int done_first_min, done_last_min; /**< end of cooking allowed between these; both on the grid */
  int carve_min;                     /**< left between rest and service for the knives; 0: while they eat */
  int turn_min;                      /**< its spot stays empty so long after it, for a piece that takes longer [R3] */
  double **coals_min;                /**< [zone][setting] minutes a piece lies over coals; NULL: it does not */
  double **coals_turn_min;           /**< the same, from turn to turn; 0: rolled about all the time */
  int **safe_min;    /**< [zone][setting] smoke until the core is safe for what lies below [H2]; 0: no drips */
  int wave, n_waves; /**< 0-based; of the service and cut [D4] */
  int until_at_min;  /**< last plate of its wave */
  int whole_until_at_min; /**< its last piece stays whole, hot in the box, until then: by_at_min, or as long before until_at_min
                             as it keeps in a pan */
  int over_min; /**< held whole so much longer than hold_max_min, because no more waves can be made of it; warned of */
  int more_min; /**< earliness asked beyond the usual, before hold and grid cut it [R3] */
};

/** Pieces of a lot chilled the day before, back in an oven: warm by ready_at_min, kept hot there until the service. */
struct pw_reheat {
  int lot, finisher, pieces;
  int from_at_min, ready_at_min, out_at_min;
  double capacity; /**< of the finisher, in its unit, all pieces; set aside in it for the whole plan */
  double depth_m;  /**< deepest layer in the pans that is warm in time */
  double core_c;   /**< to be read in every pan */
};

/** Full pans of a side that is not cooked on the pit. */
struct pw_side_pans {
  int service, dish;
  int finisher; /**< the hot box they wait in; PW_NONE: cold, or no room (warned) */
  int pans;
  int from_at_min, to_at_min; /**< when the room is theirs */
};

struct pw_lots {
  struct pw_zone *zones;
  int n_zones;
  struct pw_lot *lots;
  int n_lots;
  int slot_min;
  int start_at_min; /**< first instant the plan may use (on the grid) */
  int end_at_min;   /**< begin of the last service or wave, or later (on the grid) */
  struct pw_reheat *reheats;
  int n_reheats; /**< by lot; pieces that find no oven are in none of them */
  struct pw_side_pans *side_pans;
  int n_side_pans; /**< by demand line; several lines where a dish is spread (plan/lots/side_pans.c) */
};

/* ---- allocation (plan/allocate*.c, rack_layout.c) --------------------------------------------- */

enum pw_outcome { PW_OUTCOME_OPTIMAL, PW_OUTCOME_FEASIBLE, PW_OUTCOME_SHORT, PW_OUTCOME_LIMIT };
enum pw_stop { PW_STOP_GAP, PW_STOP_WORK, PW_STOP_TIME };
enum pw_load_stage { PW_LOAD_SMOKE, PW_LOAD_FINISH, PW_LOAD_REST, PW_LOAD_HOLD };

struct pw_rect {
  double x_m, y_m, length_m, depth_m; /**< rack coordinates: x along the pit from the hot end, y across */
};

/** Pieces of one lot that share a stage, a place and a time. */
struct pw_load {
  int lot;
  enum pw_load_stage stage;
  int zone;     /**< index into lots.zones, or PW_NONE */
  int finisher; /**< index into event.finishers, or PW_NONE */
  int pieces;
  int start_at_min, end_at_min;
  struct pw_rect *rects; /**< on a rack: one per piece; else NULL */
  int *piece_ids;        /**< which pieces of the lot (0-based), one per piece: follows a piece through its stages */
  int drips_min;      /**< open and raw above another rack: it drips for so long from its start [H2]; 0: it does not */
  bool is_carried;    /**< of a day [N3]: it began elsewhere and was carried here in the middle of its stage */
  int carried_at_min; /**< when */
  int from_zone, from_finisher; /**< from where; PW_NONE: no such place */
};

struct pw_burn {
  int pit, setting;
  int lit_at_min, ready_at_min, out_at_min;
};

/** What ran short, when pieces found no place. */
struct pw_shortage {
  int lot, pieces;
  const char *resource; /**< "rack", "hold", "hands", "time" */
  int from_at_min, to_at_min;
  double area_m2;
  const char *text; /**< one sentence */
};

enum pw_way_kind {
  PW_WAY_BOX,
  PW_WAY_OVEN,
  PW_WAY_PIT,
  PW_WAY_HAND,
  PW_WAY_DAY_BEFORE,
  PW_WAY_SITTING,
  PW_WAY_PORTION,
  PW_WAY_TRAY,
  PW_WAY_WAVES,
  PW_WAY__COUNT
};

/** One change of the event: what is added or done otherwise. */
struct pw_way_part {
  enum pw_way_kind kind;
  const char *id; /**< of the pit, finisher, service; of a hand its role; of a dish otherwise cooked or served */
  bool is_new;    /**< the id is none of the event's yet */
};

enum { PW_WAY_PARTS_MAX = 5 };

/** How often a meal is ready in the plan of a way out. */
struct pw_meal_chance {
  const char *service; /**< its id; of a second sitting one that the event has not yet */
  const char *name;
  double on_time_frac, target_frac; /**< 0: none is asked */
};

/** A way out (plan/ways/ways.h): the event with lines added to its file, planned. */
struct pw_remedy {
  const char *what;
  pw_cents cost_cents; /**< cost of that plan, less this plan's; below 0: it costs less */
  int missed_after;
  pw_cents plan_cost_cents;  /**< cost of that plan */
  int missed_portions_after; /**< portions short of those expected, in that plan */
  const char *lines;         /**< to be written at the end of the event file; begins with "---" */
  struct pw_way_part parts[PW_WAY_PARTS_MAX];
  int n_parts;
  struct pw_meal_chance *chances; /**< of each meal of that plan, with margins of its own */
  int n_chances;                  /**< 0: not drawn, something is still without a place or no chance is asked */
};

/** What pieces without a place mean at the table: of one menu line. */
struct pw_shortfall {
  int service, dish;
  int wanted;       /**< portions expected to be taken */
  int portions;     /**< of them not there */
  bool is_none;     /**< no piece of it has a place */
  int *by_class;    /**< [n_classes] who goes without, adds up to portions */
  const char *text; /**< one sentence's worth, without a full stop */
};

struct pw_al_hint;

struct pw_allocation {
  enum pw_outcome outcome;
  enum pw_stop stopped_by;
  double cost_cents, bound_cents; /**< of the allocation's own objective */
  double gap_frac;
  long work;             /**< search iterations done */
  double lp_s, search_s; /**< seconds by phase: for the terminal only, never written to a file */
  struct pw_load *loads;
  int n_loads; /**< by start, stage, place, lot */
  struct pw_burn *burns;
  int n_burns;  /**< by pit, then time */
  int *missed;  /**< per lot: pieces without a place */
  int n_missed; /**< all of them */
  struct pw_shortage *shortages;
  int n_shortages;
  struct pw_remedy *remedies;
  int n_remedies;
  bool is_quick;                 /**< planned quickly: the full search may find a cheaper plan */
  const struct pw_al_hint *hint; /**< where each piece is, for the plan of another head count to begin with */
  long n_looks;                  /**< of the quick search: how large the problem is; never written */
  struct pw_proof {
    double fractions_cents; /**< by areas alone, pieces, fires and doors in fractions; 0: not proved */
    double shapes_cents;    /**< with what the shapes of pieces and racks imply */
    bool is_whole;          /**< the bound has whole fires, ovens and openings: more work does not raise it */
  } proof;                  /**< how the bound came about */
};

/* ---- chance (plan/chance/chance.c) -------------------------------------------------------------------------- */

struct pw_service_chance {
  double on_time_frac; /**< share of draws in which all of it is rested and cut when the service begins */
  double standard_error_frac;
  double moved_frac;      /**< the same if late wrapped pieces are moved out of the way */
  double with_fires_frac; /**< the same where a fire may burn clean later than planned, or be lost for a while */
  double held_long_frac;  /**< draws in which something waits hot longer than its longest hold */
  double held_long_min;   /**< and by how much then, on the mean */
  int held_long_lot;      /**< most often, PW_NONE: nothing is */
  double
      slow_core_frac; /**< draws, fires that go wrong among them, in which a core takes longer from 10 to 54.4 C than it may */
  double slow_core_min;                       /**< and by how much then, on the mean */
  int slow_core_lot;                          /**< most often, PW_NONE: none does */
  int weakest_lot;                            /**< late most often, PW_NONE: none is */
  double weakest_late_frac, weakest_late_min; /**< how often, and by how much on the mean then */
};

/** [R3] What a plan that is to be ready on time leaves beyond the usual, by service and cut [service * n_cuts + cut]. */
struct pw_margins {
  int *early_min; /**< aimed so much earlier */
  int *turn_min;  /**< a spot stays empty so long after a piece */
};

struct pw_chance {
  struct pw_service_chance *services; /**< one per service; NULL: not asked */
  int *blames; /**< [service, lot, enum pw_blame_kind: pw_blame_at()] draws it is late in, by their first cause */
  int n_draws;
};

/* ---- visits (plan/fire/visits.c) ----------------------------------------------------------------------------- */

/** What is done at an opened door, in the order in which it is done. */
enum pw_visit_act_kind {
  PW_VISIT_OFF,  /**< off the pit, to rest, hold or table */
  PW_VISIT_WRAP, /**< wrapped, and carried where it finishes */
  PW_VISIT_IN,   /**< wrapped pieces put on this pit from another place */
  PW_VISIT_LOAD,
  PW_VISIT_SCRATCH,
  PW_VISIT_CORE,
  PW_VISIT_PROBE,
  PW_VISIT_MOP /**< mop last: what is tested is tested before */
};

struct pw_visit_act {
  enum pw_visit_act_kind kind;
  int load;        /**< of the allocation: the one that begins (IN, LOAD), ends (OFF, WRAP) or lies there */
  double work_min; /**< one pair of hands, all its pieces */
};

struct pw_visit {
  const char *id; /**< "long-pit/3": the third of that pit */
  int pit, at_min;
  struct pw_visit_act *acts;
  int n_acts;         /**< by kind, then load */
  double open_min;    /**< two hands at work */
  bool is_priced;     /**< the allocation counts it: food goes on, is wrapped, moved or comes off */
  const char *reason; /**< why it is less than PW_VISIT_APART_MIN after the one before; NULL when it is not */
};

struct pw_visits {
  struct pw_visit *visits;
  int n_visits; /**< by pit, then time */
};

/* ---- cooked the day before (plan/lots/day_before.c) -------------------------------------------------------- */

struct pw_warning;

/** Pieces of a lot that come off and are chilled together: FDA Food Code 2022 3-501.14(A). */
struct pw_chill {
  int lot, pieces;
  int from_at_min;                    /**< rested; into ice water */
  int cool_by_at_min, cold_by_at_min; /**< at 21 C, at 5 C by then */
  double thick_m;                     /**< thickest piece that ice water cools in time */
  double ice_kg;                      /**< what the heat melts, without what the bath keeps; 95 to 5 C */
};

struct pw_day_before {
  struct pw_chill *chills;
  int n_chills; /**< by lot, then time */
  struct pw_warning *warnings;
  int n_warnings;
};

struct pw_warning {
  const char *code, *text;
  const int *tasks; /**< of plan.tasks: those that nobody does or that begin late for it */
  int n_tasks;
  int late_min; /**< the latest of them begins so long after its time; 0: none does, or nobody does them */
};

/* ---- safety (plan/safety/safety.c) --------------------------------------------------------------------- */

/** Why the FSIS tables hold at the surface of a lot: FSIS-GD-2021-14, table 1 and situations without humidity. */
enum pw_surface {
  PW_SURFACE_NOT_ASKED, /**< no raw meat, or nothing of it is cooked */
  PW_SURFACE_CASING,
  PW_SURFACE_LARGE, /**< 10 lb and 250 F or more */
  PW_SURFACE_HUMID,
  PW_SURFACE_DRY /**< no reason: warned of */
};

/** What theory says of one lot as planned: its coolest open place and its coolest wrapped place. */
struct pw_lot_heat {
  double smoke_c, finish_c;         /**< those places; NAN when no piece was placed or there is no such stage */
  double come_up_min;               /**< core from 10 to 54.4 C; HUGE_VAL: never */
  double slow_from_c, slow_min;     /**< where the open stage slows to half its fastest rise (NAN), for how long */
  double evaporated_frac;           /**< of the trimmed weight */
  double log_reduction, log_needed; /**< Salmonella at the core at the end of cooking */
  double hold_log;                  /**< what the hot hold adds, at the least */
  double surface_log_reduction;     /**< at the surface at the end of cooking */
  double air_humidity_frac;         /**< of its driest open place; NAN when it has none */
  enum pw_surface surface;
  double hot_c, cool_c;                   /**< its hottest open place, and 25 F (13.9 K) less; NAN when it has none */
  double hot_smoke_min, cool_smoke_min;   /**< stage times there, not rounded; HUGE_VAL: never */
  double hot_finish_min, cool_finish_min; /**< the same of the finish */
};

struct pw_safety_report {
  struct pw_lot_heat *lots; /**< one per lot */
  struct pw_warning *warnings;
  int n_warnings; /**< run.c adds them to the plan's */
};

/* ---- fuel (plan/fire/fuel.c) ------------------------------------------------------------------------ */

struct pw_feed {
  int at_min;
  double wood_kg;
  int splits;
};

struct pw_burn_fuel {                   /* one per burn, same order */
  double shell_kw, exhaust_kw, food_kw; /**< means over the burn */
  double warm_up_mj;                    /**< steel and water pan */
  double charcoal_kg, wood_kg;
  double splits_per_h;
  struct pw_feed *feeds;
  int n_feeds;
  double door_kw; /**< lost through opened doors, mean over the burn */
  int n_visits;   /**< times its door is opened */
};

struct pw_fuel_line { /* one per fuel used */
  int fuel;
  double need_kg, buy_kg; /**< buy: with the reserve */
  int splits;
  pw_cents cost_cents;
  int packs; /**< whole sacks or other packs that hold buy_kg; 0: loose, by weight */
  double pack_kg;
  const char *pack;  /**< "sack"; NULL when loose */
  int offer;         /**< of the fuel's item, PW_NONE without one */
  double stacked_m3; /**< wood: what buy_kg takes up stacked; charcoal: 0 */
};

/** What finishing wrapped pieces in ovens saves against leaving each where it smoked, for as long as it would take there. */
struct pw_oven_saving {
  int pieces;       /**< pieces that could have stayed on the pit; 0: nothing to compare */
  double piece_h;   /**< hours on racks, times pieces */
  double area_m2_h; /**< hours times wrapped footprint */
  int lit_min;      /**< longer fires, all burns together */
  double wood_kg;
  pw_cents wood_cents; /**< the wood; what the ovens cost is oven_cents */
};

/** A fire that burns clean with nothing on it. */
struct pw_empty_fire {
  int burn; /**< of the allocation */
  int from_at_min, to_at_min;
  pw_cents cents; /**< wood and tending, as the search prices an hour of this fire */
};

struct pw_fuel_plan {
  struct pw_burn_fuel *burns;
  int n_burns;
  struct pw_fuel_line *lines;
  int n_lines;
  double oven_h;                   /**< oven hours used */
  pw_cents oven_cents, cost_cents; /**< cost: wood, charcoal and ovens */
  struct pw_oven_saving oven_saving;
  struct pw_empty_fire *empty;
  int n_empty; /**< by burn, then time; stretches of PW_EMPTY_LEAST_MIN and more (plan/fire/empty_fire.c) */
};

/* ---- tasks (plan/crew/tasks.c) ----------------------------------------------------------------------- */

/* in the order they are listed at one minute */
enum pw_task_kind {
  PW_TASK_ORDER,
  PW_TASK_TAKE_IN,
  PW_TASK_THAW,
  PW_TASK_BRINE,
  PW_TASK_PREP,
  PW_TASK_DRIVE,
  PW_TASK_SET_UP,
  PW_TASK_LIGHT,
  PW_TASK_FEED,
  PW_TASK_FIRE_CHECK,
  PW_TASK_HEAT_UP, /**< of an oven or a box, before food */
  PW_TASK_OFF,
  PW_TASK_LOAD,
  PW_TASK_BARK_TEST,
  PW_TASK_MOP,
  PW_TASK_TURN, /**< over coals */
  PW_TASK_CORE,
  PW_TASK_WRAP,
  PW_TASK_CARRY,
  PW_TASK_WRAP_CARRY,
  PW_TASK_PROBE,
  PW_TASK_REST_OVER,
  PW_TASK_HOLD_CHECK,
  PW_TASK_CHILL,
  PW_TASK_COOL_CHECK,
  PW_TASK_CUT,
  PW_TASK_REHEAT,
  PW_TASK_PAN_UP,
  PW_TASK_SERVE,
  PW_TASK_CLEAR,
  PW_TASK_COOL,
  PW_TASK_BURN_DOWN,
  PW_TASK_ASH,
  PW_TASK_MOVE, /**< of a day [N3]: in the middle of a stage to another fire or an oven */
  PW_TASK__COUNT
};

/** Where somebody is while doing a task. */
enum pw_at { PW_AT_KITCHEN, PW_AT_SITE, PW_AT_ROAD };

/** One pair of hands of a crew line: one shift of somebody. */
struct pw_person {
  const char *id;      /**< "pit-hand-2": the name in small letters; a later shift of theirs "pit-hand-2-shift-2" */
  const char *name;    /**< "pit hand 2": what every sheet, warning and log calls them */
  int hand;            /**< index of the first shift that is or may be theirs: equal for all shifts of one person */
  int crew;            /**< index into event.crew */
  const char *caution; /**< too long a shift, a day, awake at the wheel, alone by night [H3]; NULL: none */
};

enum { PW_NO_PLATES = -0x7fffffff }; /**< a minute that no event has */

struct pw_task {
  int at_min, minutes;
  enum pw_task_kind kind;
  enum pw_duty duty;
  int crew;                          /**< index into event.crew, or PW_NONE: nobody with this duty has time (warned) */
  int lot, pit, pieces;              /**< PW_NONE / 0 where it does not apply */
  const char *what, *where, *target; /**< words for the sheet; numbers in them are in the user's units */
  /* the order of work [S1] */
  int person; /**< index into tasks.people, PW_NONE with crew */
  enum pw_at at;
  int place,
      to_place;      /**< pit, or n_pits + finisher; PW_NONE: where `at` says; to_place: where pieces end up, PW_NONE */
  int service, dish; /**< PW_NONE where none is meant */
  const int *piece_ids;
  int n_ids; /**< of the lot; with pieces > 0 as many */
  const int *items;
  int n_items; /**< goods ordered, taken in or used: indices into event.items */
  int *after;
  int n_after; /**< tasks that are over before this one begins */
  int latest_min; /**< latest begin.  Work that can wait (order, brine, prep, drive, set up, pan up, clear, ash) may begin as
                            *   late as lets each task that comes after it begin at its at_min and its person be done by the end of the
                            *   shift, an order no later than its cut-off; all else - fire, food, guests, readings - and what nobody does
                            *   at at_min.  Never before at_min */
  const char *visit; /**< tasks of one opening of a pit's door share it; NULL */
  int slack_min; /**< of a load, a wrap, a carry, a taking off: begun so much later, all else as planned and with the same hands, hardly a
                  *   meal more is late (plan/chance/chance.h); 0: no slack, or other work */
  int plates_to_min; /**< of a cut: when the last plate of its pieces goes out; PW_NO_PLATES: other work, or cut up cold */
  bool is_in_parts; /**< of a cut: its plates go on for longer than a pan keeps, so it is cut as it is needed */
};

struct pw_tasks {
  struct pw_task *tasks;
  int n_tasks; /**< by time, kind, place */
  struct pw_person *people;
  int n_people; /**< by crew line; none in a plan made by hand for a test: then tasks have no order */
  struct pw_warning *warnings;
  int n_warnings; /**< nobody on shift, hands short; run.c adds them to the plan's */
};

/* ---- shifts worked out (plan/crew/staff.c) ------------------------------------------------------------- */

/** What the day lacks when one shift worked out is not worked, everybody else there (plan/crew/staff_why.c). */
struct pw_shift_reason {
  int crew;     /**< of event.crew */
  int fire_min; /**< so long too few more are awake at the fires, counted every five minutes, */
  int fire_from_at_min, fire_to_at_min, burn; /**< from the first to the last of it, at this burn and others */
  bool is_finish;                             /**< all that lies at those fires then is wrapped: an oven would do */
  int guests_min, service; /**< so long guests are looked after by too few, at first in this service */
  int n_tasks, late_min; /**< so many tasks more nobody does or that begin late, so late in all (an hour for nobody) */
  double tight_min;      /**< work beyond the share of each hour that is to stay calm, over all hours */
};

/** One hand more than the shifts worked out, where it helps most. */
struct pw_hand_more {
  int pool; /**< line of the pool */
  int from_at_min, to_at_min;
  pw_cents cents;
  int n_tasks, late_min; /**< tasks fewer that nobody does or that begin late; how late in all */
  double tight_min;      /**< less work beyond the calm share */
};

/** How the shifts of the pool came about [S2]; the shifts themselves are crew lines of the plan's event. */
struct pw_staffing {
  const struct pw_event *asked; /**< the event as read, without the shifts worked out; NULL: it has no crew pool */
  pw_cents pay_cents;           /**< of the shifts worked out */
  pw_cents cover_cents,
      bound_cents; /**< of the shift program: the shifts it chose, and below which none cover the same work */
  double gap_frac; /**< (cover - bound) / cover */
  struct pw_warning *warnings;
  int n_warnings; /**< nobody awake at a fire, too few for the guests: the pool is too small */
  int n_rounds;   /**< programs solved: the first and one for each time the tasks found too few hands */
  const double
      *watch_cents; /**< [n_watch] what somebody awake at the fires costs in each half hour from watch_from_at_min on */
  int n_watch, watch_from_at_min;
  struct pw_shift_reason *reasons;
  int n_reasons; /**< by crew line; none of a quick plan */
  struct pw_hand_more *more;
  int n_more; /**< by line of the pool: those that would help */
};

/** Shifts that were written against what the same people cost when they are called as the work asks (plan/crew/staff_propose.c). */
struct pw_proposal {
  const struct pw_event
      *event; /**< with the shifts proposed as crew lines, `worked`; NULL: not asked, or nobody is paid */
  pw_cents given_cents, pay_cents;
  double given_h, paid_h, given_task_h, task_h; /**< paid hours and what of them is in tasks */
  int n_given_lacking, n_lacking;               /**< tasks that nobody does or that begin late */
};

/* ---- quote (plan/money/quote.c) ------------------------------------------------------------------------ */

struct pw_quote_rung {
  int guests;
  pw_cents cost_cents, price_cents, total_cents, per_guest_cents;
  int missed; /**< pieces without a place at this head count */
};

/** What it costs with more or less time to spare (src/run_levels.c). */
struct pw_quote_level {
  double margin_frac;     /**< the margins of the plan, so many times; 0: none */
  double chance_frac;     /**< of the meal least likely to be ready */
  double late_meals_frac; /**< of all its meals, on average */
  pw_cents cost_cents;    /**< of the job */
  pw_cents
      late_meal_cents; /**< what a late meal must cost for this row to be right rather than the one before; 0: it costs nothing
                                 more, or spares nothing */
  bool is_plan;        /**< the plan itself */
};

struct pw_due {
  const char *name;
  struct pw_date date;
  pw_cents cents;
};

/** One role: hands paid by their shifts, and what the tasks ask of them. */
struct pw_role_cost {
  const char *role;
  double paid_h, task_h; /**< hand-hours */
  pw_cents cents;        /**< paid; the roles add up to labour_cents */
};

/** One service's part of the cost: the food of its own menu, all else by the guests it feeds. */
struct pw_service_cost {
  int guests;
  pw_cents food_cents, other_cents; /**< the services add up to cost_cents */
};

/** What the job brings if another number of heads comes than was bought and booked for. */
struct pw_turnout {
  int guests;
  pw_cents net_cents, cost_cents; /**< price less discount; cost */
  double margin_frac;
};

/** A choice of the menu, planned as quickly as the job as it stands beside it, both at today's prices. */
struct pw_quote_option {
  int service, dish;
  int instead_of;                                              /**< dish; PW_NONE: besides */
  int guests;                                                  /**< of its meal */
  pw_cents base_cost_cents, base_food_cents, base_price_cents; /**< the job as it stands */
  pw_cents cost_cents, food_cents, price_cents;                /**< with the choice */
  pw_cents more_per_guest_cents;                               /**< of its meal; rounded up; less than 0: cheaper */
  int missed;                                                  /**< pieces without a place: it cannot be had */
};

/** A dish left out of the menu after those before it, to come to a price that was given; the others are eaten more. */
struct pw_quote_leave {
  int service, dish;
  pw_cents cost_cents, food_cents; /**< of the job without it and without those before it; crew and fires as planned */
  pw_cents price_cents;            /**< what the terms would ask then */
  double margin_frac;              /**< at the price that was given */
};

struct pw_quote {
  int guests;
  pw_cents food_cents, supplies_cents, fuel_cents, labour_cents, rental_cents, travel_cents, overhead_cents;
  pw_cents cost_cents; /**< sum of the seven */
  pw_cents
      price_cents; /**< the list price, before discount, service charge and tax: per_guest x guests, or as much as leaves
                                the least fee after the discount */
  pw_cents per_guest_cents;
  bool is_least_fee;  /**< the least fee decides: price is not per_guest x guests */
  pw_cents net_cents; /**< price - discount */
  pw_cents today_cents,
      today_per_guest_cents; /**< list price by this plan where an earlier one was named (terms.quoted_price);
                                                    else the same as price and per guest */
  pw_cents discount_cents, service_charge_cents, taxable_cents, tax_cents, total_cents, deposit_cents;
  double margin_frac;            /**< (net - cost) / net */
  double food_share_frac;        /**< food / net */
  pw_cents prime_cents;          /**< food + labour */
  pw_cents contribution_cents;   /**< price - discount - direct costs: left for overhead and profit */
  struct pw_turnout fewer, more; /**< a tenth fewer or more than planned, after the final count; more.guests 0:
                                     not planned */
  int break_even_guests; /**< least head count from which on the job pays at this price per guest, by the costs of
                                the head counts planned; 0: on every one, or no ladder; PW_NONE: on none */
  struct pw_role_cost *roles;
  int n_roles;                      /**< in order of the crew list */
  struct pw_service_cost *services; /**< one per service */
  struct pw_due *dues;
  int n_dues; /**< deposit, instalments, balance: add up to total_cents */
  struct pw_quote_rung *ladder;
  int n_ladder; /**< the event's head counts or seven, and the planned one; each planned */
  struct pw_quote_rung *tried;
  int n_tried; /**< the ladder, and between its rungs what the break-even asked for; each
                                                 planned; ascending.  NULL: the ladder alone */
  struct pw_quote_option *options;
  int n_options; /**< choices of the menus, priced; none for a plan with pieces missing */
  struct pw_quote_leave *leaves;
  int n_leaves; /**< in order; beside a price that was given below today's */
  struct pw_quote_level *levels;
  int n_levels; /**< by rising margins, the plan's own among them; 0: none has any, or something is short */
};

/* ---- the whole ------------------------------------------------------------------------------------ */

enum pw_effort { PW_EFFORT_QUICK, PW_EFFORT_FULL };

struct pw_explain;

/** One of several jobs planned as one: its services and what it bears (plan/joint/joint.h). */
struct pw_plan_job {
  const char *name, *customer;
  int service_first, n_services;
  pw_cents food_cents, supplies_cents, fuel_cents, labour_cents, rental_cents, travel_cents, overhead_cents;
  pw_cents cost_cents;  /**< sum of the seven; those of all jobs are the plan's */
  pw_cents alone_cents; /**< cost planned alone */
  pw_cents price_cents; /**< of its own quote, less discount */
  double rack_m2_h;
  const struct pw_plan *alone; /**< the job planned by itself, with its own quote */
};

/* ---- the day itself (day/mend.c) ---------------------------------------------------------------------------- */

/** Somebody who is not there. */
struct pw_away {
  int person; /**< of tasks.people */
  int from_at_min, to_at_min;
};

/** A stretch without its fire, as it was logged. */
struct pw_fire_out {
  int pit, from_at_min, to_at_min;
  bool is_open; /**< it does not burn yet: the end is reckoned */
};

/** What a mended plan begins with: its past is fact, and its future follows from what is believed now [N3]. */
struct pw_day_now {
  int now_min;
  int edition; /**< 2 for the first mended plan */
  const char *const *log;
  int n_log;           /**< lines that were not taken back */
  const int *late_min; /**< per lot: rested so long after its time; 0 and below: in time */
  const double *pace;  /**< per load: its length, of what stage times say */
  const struct pw_task
      *before; /**< tasks of the plan it replaces: done up to now, kept where they can be from now on */
  int n_before;
  const struct pw_away *away;
  int n_away;
  const struct pw_fire_out *outs;
  int n_outs;
};

struct pw_plan {
  const struct pw_event *event;
  const struct pw_day_now *day; /**< NULL: as planned from the start */
  struct pw_demand demand;
  struct pw_purchase purchase;
  struct pw_lots lots;
  struct pw_allocation allocation;
  struct pw_margins margins;
  struct pw_chance chance;
  struct pw_visits visits;
  struct pw_day_before day_before;
  struct pw_safety_report safety;
  struct pw_fuel_plan fuel;
  struct pw_staffing staffing;
  struct pw_proposal proposal;
  struct pw_tasks tasks;
  struct pw_quote quote;
  struct pw_shortfall *shortfalls;
  int n_shortfalls; /**< of each menu line with pieces missing; by demand line (plan/ways/shortfall.c) */
  int n_ways_tried; /**< plans made to look for ways out */
  struct pw_plan_job *jobs;
  int n_jobs; /**< several jobs planned as one; 0: one job */
  const struct pw_explain
      *brief; /**< what each fire is for and where room is worth most (plan/explain/explain.h); NULL: a quick plan */
  struct pw_warning *warnings;
  int n_warnings;
};

#endif
