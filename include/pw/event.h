/* event.h - one job as the program sees it after reading: SI units, indices instead of names, every
 * default filled in.  Constant from here on; each stage reads it and none writes it.
 *
 * Units are the last part of a name: _kg _m _m2 _l _c _min _kw _mj_kg _frac (0..1) _cents (minor money).
 * Instants end in _at_min: whole minutes since 00:00 local time of the event's date, real elapsed
 * minutes (a daylight-saving change does not bend them); the night before is negative.
 * Indices into the arrays of struct pw_event are plain ints; PW_NONE says "none". */
#ifndef PW_EVENT_H
#define PW_EVENT_H

#include "pw/pitwright.h" /* units, paper */

#include <stdbool.h>
#include <stdint.h>

enum { PW_NONE = -1 };

enum {
  PW_SETTINGS_MAX = 8,
  PW_DAYS_MAX = 16,
  PW_POOL_MAX = 12
}; /**< settings of one pit; days of an event, the days before of "cook: day_before" included; lines of a crew pool */

struct pw_clock;        /* base/clock.h */
struct pw_event_source; /* read/read.h */

typedef int64_t pw_cents; /**< minor units of the event's currency */

/** Who offers: what stands at the head of a quote.  NULL: not given. */
struct pw_identity {
  const char *file; /**< the house file as the event names it */
  const char *name, *address, *phone, *mail;
  const char *tax, *licence, *bank; /**< lines as they are to be printed */
};

struct pw_date {
  int year, month, day;
};

/* ---- what is bought ------------------------------------------------------------------------- */

enum pw_unit { PW_UNIT_KG, PW_UNIT_L, PW_UNIT_EACH }; /**< unit an item is counted in */
enum pw_store { PW_STORE_DRY, PW_STORE_CHILLED, PW_STORE_FROZEN };
/* order of the purchase list */
enum pw_category {
  PW_CAT_MEAT,
  PW_CAT_SIDE,
  PW_CAT_BREAD,
  PW_CAT_SAUCE,
  PW_CAT_SEASONING,
  PW_CAT_DRINK,
  PW_CAT_DISPOSABLE,
  PW_CAT_SUPPLY,
  PW_CAT_FUEL,
  PW_CAT__COUNT
};

/** One way to buy an item: a pack of a fixed amount at a price, or (is_by_weight) whole pieces priced by
 *  the kilogram, `pieces` of them to a pack. */
struct pw_offer {
  const char *supplier;
  const char *pack; /**< "case", "bag", "piece" */
  double amount;    /**< item units per pack; by weight: ignored, the cut's piece weight counts */
  int pieces;       /**< by weight: pieces in one pack (>= 1); else 0 */
  bool is_by_weight;
  double price_cents; /**< per pack, or per kg when by weight */
  const char *source;
};

/** Terms of a supplier, by the name that offers use.  Suppliers without an entry deliver free, any amount, any day. */
struct pw_supplier {
  const char *name;
  pw_cents delivery_cents; /**< fee of an order */
  pw_cents minimum_cents;  /**< least value of an order; a smaller one is paid up to it */
  unsigned days;           /**< weekdays it delivers: bit set of 1u << 0 (Sunday) .. 1u << 6; 0: every day */
  const char *source;
};

/** An ingredient of an item mixed in the kitchen. */
struct pw_part {
  int item;
  double amount; /**< item units in one unit of the mix */
};

struct pw_item {
  const char *id, *name;
  enum pw_category category;
  enum pw_unit unit;
  enum pw_store store;
  int order_ahead_min; /**< the supplier wants the order this long before delivery */
  int keeps_min;       /**< how long it keeps after delivery (delivery is planned inside this) */
  double piece_kg;     /**< items thawed whole: weight of one, for the thaw time; 0 if it does not apply */
  struct pw_offer *offers;
  int n_offers; /**< >= 1; 0 for a mix */
  const char *source;
  struct pw_part *parts; /**< a mix: what goes into one unit; never itself, by any way round */
  int n_parts;
  double litre_kg, each_kg; /**< what a litre, a piece of it weighs, stated for conversions; 0: not known */
  bool is_washed;           /**< raw fruit or vegetable, washed before it is cut: FDA Food Code 2022 3-302.15 */
};

enum pw_basis { PW_PER_PORTION, PW_PER_GUEST, PW_PER_PIECE, PW_PER_KG_RAW, PW_PER_SERVICE, PW_PER_EVENT };

/** `amount` item units are used per basis. */
struct pw_use {
  int item;
  double amount;
  enum pw_basis per;
};

/* ---- what is cooked ------------------------------------------------------------------------- */

enum pw_kind {
  PW_KIND_BEEF,
  PW_KIND_PORK,
  PW_KIND_LAMB,
  PW_KIND_POULTRY,
  PW_KIND_SAUSAGE,
  PW_KIND_FISH,
  PW_KIND_PLANT
};
/** Which Food Code cooking rule applies. */
enum pw_safety {
  PW_SAFE_INTACT,
  PW_SAFE_TENDERIZED,
  PW_SAFE_GROUND,
  PW_SAFE_POULTRY,
  PW_SAFE_PRECOOKED, /**< commercially cooked and packed: 3-403.11(C) */
  PW_SAFE_PLANT,
  PW_SAFE_REHEATED /**< cooked by us before, cooled: 3-403.11(A) */
};
enum pw_shape { PW_SHAPE_SLAB, PW_SHAPE_CYLINDER, PW_SHAPE_SPHERE };

/** What a cook measured: a stage took so long at so much. */
struct pw_reading {
  double air_c;
  int minutes;
};

/** A cooking stage as the catalog knows it: so long at so much for the catalog's piece. */
struct pw_stage {
  bool is_used;
  int ref_min;          /**< reference time */
  double ref_c;         /**< air temperature it was taken at */
  double from_c, to_c;  /**< core temperature at its start and at its end */
  double low_c, high_c; /**< air temperatures the stage may be run at */
  double best_c;        /**< the cook's favourite */
  double spread_frac;   /**< standard deviation of the time / time */
  bool in_oven;         /**< may run in an oven (finish only) */
  const char *look;     /**< what the cook looks for: "bark set, fat pools on top" */
  const char *source;
  double ref_kg;          /**< raw piece weight the reference time was taken for; 0: the cut's own piece */
  struct pw_reading *own; /**< the cook's own readings replace the theory between them */
  int n_own;
  bool is_over_coals; /**< lies open over glowing coals: temperatures are those of the grate (struct pw_coals) */
  bool is_on_spit;    /**< ... and turns on a spit: no bars touch it, and only a spit takes it */
  int turns;          /**< over coals: times it is turned, at even distances; 0: rolled about all the time */
};

/** A core comes no nearer to the boiling of its water in useful time: common practice, no source. */
#define PW_BELOW_BOILING_K 2.0

/** Raw pieces lie in salt water before they are rubbed. */
struct pw_brine {
  bool is_used;
  int item;                /**< what is stirred into the water; its amount is in the cut's uses */
  double water_frac;       /**< water, of the raw weight */
  int least_min, most_min; /**< how long they lie in it */
  double hands_min;        /**< hands, minutes per piece: stir, lay in */
};

struct pw_cut {
  const char *id, *name;
  enum pw_kind kind;
  enum pw_safety safety;
  int item; /**< what is bought, or PW_NONE (then `uses` lists what goes in) */

  double piece_kg, piece_sd_kg;       /**< raw piece as bought, before trimming */
  double length_m, width_m, height_m; /**< as it lies on the rack */
  double wrapped_length_m, wrapped_width_m;
  double clearance_m; /**< free space kept around: added once to length and width */
  bool may_turn;      /**< may lie either way round */
  enum pw_shape shape;
  double half_m;       /**< half thickness (slab) or radius (cylinder, sphere) for conduction */
  double thicker_frac; /**< half_m goes as weight to this power from piece to piece; 0: to 1/3, all alike in shape */
  double diffusivity_m2_s; /**< thermal diffusivity of the raw meat */
  double units_per_piece;  /**< servable units in one piece when sold by count (links on a tray); 1 if one */

  double trim_frac, trim_sd_frac; /**< trimmed weight / bought weight */
  double cook_frac, cook_sd_frac; /**< cooked weight / trimmed weight, at this job's end core and hold */
  double yield_core_c;            /**< end core the catalog's figure was weighed at; 0: the figure holds as it is */
  double yield_per_k_frac;        /**< what each kelvin more costs, of the trimmed weight */
  int yield_hold_min;             /**< rest and hot hold before the catalog's figure was weighed */
  double yield_per_h_frac;        /**< what each hour of them more costs, of the trimmed weight */
  const char *yield_source;

  struct pw_brine brine;
  struct pw_stage smoke, finish;
  int rest_min;           /**< least rest after cooking */
  int hold_max_min;       /**< longest hot hold after the rest, whole */
  int pan_hold_min;       /**< longest it keeps cut, in covered pans at the line, at 57 C or more; 0: no limit told */
  double pans_per_piece;  /**< room in a hot box */
  double serve_core_c;    /**< least core temperature at the end of cooking (Food Code or doneness, the higher) */
  bool may_chill;         /**< may be cooked the day before, chilled and reheated */
  double chill_loss_frac; /**< of the cooked weight, lost while it is chilled and reheated */
  double chill_min;       /**< hands, minutes per piece: cut down, bag, into ice water */
  struct pw_use *chill_uses; /**< ice, bags: only for pieces cooked the day before */
  int n_chill_uses;

  double turn_min;                                            /**< hands, minutes per piece for one turn over coals */
  double prep_min, load_min, wrap_min, unload_min, carve_min; /**< hands, minutes per piece */
  int mop_every_min;   /**< mop or spritz interval after the rub has set; 0 for none */
  int rub_set_min;     /**< no mop before this long in the smoke */
  struct pw_use *uses; /**< rub, paper, ... per piece or per kg raw */
  int n_uses;
  const char *source;
  double start_c;        /**< core when it goes on; 0: as in the smoke stage's reference (from_c) */
  double salt_most_frac; /**< the cook's limit for salt by raw weight; 0: none */
};

enum pw_held { PW_HELD_COLD, PW_HELD_HOT }; /**< how a dish that is not from the pit waits for its service */

enum pw_form { PW_FORM_SLICED, PW_FORM_PULLED, PW_FORM_CHOPPED, PW_FORM_WHOLE, PW_FORM_SPOONED };

/** In the usual order of a menu. */
enum pw_course {
  PW_COURSE_PIT,
  PW_COURSE_SIDE,
  PW_COURSE_BREAD,
  PW_COURSE_SAUCE,
  PW_COURSE_SWEET,
  PW_COURSE_DRINK,
  PW_COURSE__COUNT
};

struct pw_dish {
  const char *id, *name;
  int cut; /**< from the pit, or PW_NONE: bought or made elsewhere */
  enum pw_form form;
  double carve_frac, carve_sd_frac; /**< served weight / cooked weight */
  double bone_frac;                 /**< of a counted portion's weight, not eaten */
  bool is_by_count;                 /**< portion is counted in units, else in kilograms */
  double portion_units;             /**< by count: units per taken portion */
  double portion_kg, portion_sd_kg; /**< by weight: served weight per taken portion */
  double take_frac;                 /**< default chance that a guest takes it */
  bool is_taken_by_class; /**< its classes of guests take it each at a rate of its own, unless a line says otherwise */
  double reserve_frac;    /**< extra over need where no spread is known (sides); 0 for pit dishes */
  double pan_portions;    /**< portions in one full-size pan, 0 if not panned */
  const char **allergens;
  int n_allergens;
  struct pw_use *uses;
  int n_uses;
  const char *source;
  enum pw_course course; /**< under which the customer reads it */
  enum pw_held held;     /**< without a cut: its pans wait hot in a box, or cold */
};

/* ---- where it is cooked --------------------------------------------------------------------- */

enum pw_outline { PW_RECTANGLE, PW_DISC };

/** A thermometer at a rack, read while the pit held a setting. */
struct pw_probe {
  int rack;   /**< index inside the pit */
  double x_m; /**< along the rack from the hot end */
  double temp_c;
};

/** A way to run a pit. */
struct pw_setting {
  const char *name;
  double hot_c, cool_c;    /**< at rack level, firebox end and far end; hot_c >= cool_c */
  double splits_per_h;     /**< the cook's own figure on a mild day (calibration), 0 if unknown */
  struct pw_probe *probes; /**< readings that correct the straight fall from hot to cool end; may be none */
  int n_probes;
};

struct pw_rack {
  const char *id;
  enum pw_outline outline;
  double length_m, depth_m, clear_height_m; /**< disc: length = depth = diameter */
  double offset_c;                          /**< this rack against the pit's field (upper racks are hotter) */
  int n_zones;                              /**< equal stretches along the pit, from the hot end */
  int level;           /**< order from the bottom, 0 the lowest; racks of one level stand side by side */
  bool has_tray_below; /**< a tray between it and what stands below */
};

/** A bed of glowing coals with a grate over it: a place of its own.  The zones' temperatures are those a black plate on the grate takes
 *  on, its face to the coals. */
struct pw_coals {
  double bed_c;    /**< of the glowing bed */
  double height_m; /**< grate above it */
  bool has_lid;
  bool is_spit; /**< a spit above it, no grate: takes only what turns on one */
  const char *source;
};

struct pw_pit {
  const char *id, *name;
  int alike; /**< index of the first pit that is identical in all but the name (own index if none) */
  struct pw_setting *settings;
  int n_settings; /**< >= 1 */
  struct pw_rack *racks;
  int n_racks;
  int ready_min;            /**< lit -> clean fire, food may go on; in this job's weather */
  double ready_spread_frac; /**< one standard deviation of that time, as a share */
  double lost_per_h_frac;   /**< chance in each hour it burns that the fire is lost */
  int lost_min;             /**< and must be lit anew for so long */
  int n_burns_max;          /**< burns allowed per event (default: one a service day) */
  double steel_kg, shell_m2, emissivity_frac;
  double length_m;                        /**< outer length, for wind convection */
  double excess_air_frac, exhaust_over_c; /**< exhaust gas above the pit's mean temperature */
  double combustion_frac;                 /**< share of the wood's net heat that is released */
  double start_charcoal_kg;
  double water_kg;    /**< water pan: boiled off in a burn */
  int charcoal, wood; /**< index into fuels; charcoal PW_NONE when start_charcoal_kg is 0 */
  double split_kg;
  double tend_min_per_h; /**< hands per lit hour */
  bool is_rentable;      /**< not owned: only offered as a way out when the job does not fit */
  pw_cents rent_cents;
  const char *source;
  bool is_over_coals; /**< then coals are its fire: nothing but what lies over coals goes on it */
  struct pw_coals coals;
};

struct pw_fuel {
  const char *id, *name;
  bool is_charcoal;
  double gross_mj_kg;   /**< gross heat, oven-dry */
  double hydrogen_frac; /**< hydrogen by dry mass, for the net heat */
  double moisture_wet_frac;
  double stoich_air_kg_kg;  /**< air per dry fuel */
  double kg_per_m3_stacked; /**< weight of a stacked cubic metre, for cords */
  int item;                 /**< what is bought, or PW_NONE */
  double price_cents_per_kg;
  int chimney_min; /**< charcoal: a full chimney of chimney_kg is grey after so long on a mild day; 0: not known */
  double chimney_kg;
  double sack_kg; /**< sold in whole sacks of this weight, 0: loose; packs of `item` come before it */
  const char *source;
};

enum pw_finisher_kind { PW_OVEN, PW_HOLD };
#define PW_REHEAT_OVEN_C                                                                                               \
  85.0 /* an oven colder than this does not reheat food to 165 F in two hours: 11 K over it, common practice, no source */

struct pw_finisher {
  const char *id, *name;
  enum pw_finisher_kind kind;
  double capacity; /**< ovens: m2 of shelf or pans; boxes: pans */
  bool is_in_pans;
  double temp_c;
  double cents_per_h; /**< ovens: energy per hour in use */
  double
      loss_frac_h; /**< a box without heat: share of its lead over the outside air that it loses in an hour; heated: 0 */
  const char *source;
  int heat_up_min; /**< from cold to hot and empty: switched on, or filled with hot water, so long before food; 0: needs none */
  int off_after_min; /**< empty for longer than this it is switched off, and heated again before the next food */
};

/* ---- who works, who eats, what it costs ------------------------------------------------------ */

enum pw_duty {
  PW_DUTY_FIRE,
  PW_DUTY_PIT,
  PW_DUTY_PREP,
  PW_DUTY_CARVE,
  PW_DUTY_SERVE,
  PW_DUTY_DRIVE,
  PW_DUTY_CLEAN,
  PW_DUTY__COUNT
};

/** What a shift worked out from the pool has besides [S2]. */
struct pw_worked_shift {
  int pool;                               /**< index into event.pool */
  const char *name;                       /**< who it is: "hand 2", or the name in the pool */
  int break_from_at_min, break_to_at_min; /**< equal: no break */
  int unpaid_min;                         /**< of the shift */
  double extra_cents;                     /**< overtime, travel, hours paid up to the least; for each hand */
};

struct pw_crew {
  const char *role;       /**< the user's word */
  unsigned duties;        /**< bit set of 1u << enum pw_duty */
  int count;              /**< hands at any head count; how many there are: pw_head_count_hands() */
  double guests_per_hand; /**< when > 0: ceil(guests fed in the shift / this) hands, at least `count` */
  int from_at_min, to_at_min;
  double cents_per_h;
  const struct pw_worked_shift *worked; /**< NULL: given */
};

/** People who could be called: the program says who comes, and from when to when [S2]. */
struct pw_pool {
  const char *role;
  const char *name; /**< one certain person, then up_to is 1; NULL: several who are alike */
  unsigned duties;  /**< as in struct pw_crew */
  int up_to;        /**< people there are */
  double cents_per_h;
  int least_min, most_min; /**< shortest paid and longest shift */
  int overtime_after_min;  /**< of one shift; 0: no overtime */
  double overtime_frac;    /**< what an hour of it is paid, of the rate */
  double guests_per_hand;  /**< of who serves: guests one looks after; 0: by the style of the service */
  pw_cents travel_cents;   /**< paid for each shift besides the hours */
  int from_at_min, to_at_min;
  bool has_from, has_to; /**< not before, not after; without them: whenever asked */
};

/** What may be asked of people who are called.  0: no such rule.  Local law and the contract decide. */
struct pw_work_rules {
  const char *id, *name;
  const char **zones; /**< begins of the time zones whose events go by it unless they say otherwise */
  int n_zones;
  int longest_min; /**< of one shift */
  int break_after_min,
      break_min; /**< a shift longer than the first has a break of the second, and no stretch without one is longer */
  bool is_break_paid;
  int rest_min;                /**< between two shifts of one person */
  int night_shortest_min;      /**< of a shift that works an hour or more between 00:00 and 05:00 */
  int night_longest_min;       /**< of a shift that works three hours or more between 00:00 and 05:00 */
  int night_hands;             /**< at a fire by night */
  int week_overtime_after_min; /**< paid time of one person on the job beyond which the rest is overtime */
  double week_overtime_frac;
  int awake_longest_min; /**< from the begin of a shift to the last work at a fire or a wheel */
  double calm_frac;      /**< share of each hour that stays free of work */
  const char *shift_source, *break_source, *rest_source, *night_source, *week_source, *awake_source, *source;
};

struct pw_guest_class {
  const char *id, *name;
  double appetite_frac; /**< share of a full portion */
  bool eats_meat;
};

enum pw_style { PW_BUFFET, PW_PLATED, PW_FAMILY, PW_BOXED, PW_DROP_OFF, PW_STYLE__COUNT };

/** What a style of service asks of hands. */
struct pw_style_work {
  const char *id;         /**< the style's word */
  double guests_per_hand; /**< guests that one who serves looks after; without meaning where nobody serves */
  double set_up_min, set_up_guest_min, clear_min, clear_guest_min; /**< minutes of work, and more for each guest */
  double meat_least_kg, meat_most_kg; /**< usual cooked meat a guest who eats meat is served; most 0: none is usual */
  const char *source;
};

struct pw_menu_line {
  int dish;
  double take_frac;
  double portion_kg, portion_sd_kg; /**< by weight */
  double portion_units;             /**< by count */
  bool is_day_before;               /**< cooked the day before, chilled, reheated; alike in all lines of one cut */
  int n_waves;                /**< cooked in so many waves; 0: as the service says; alike in all lines of one cut */
  bool is_time_control;       /**< stands at the line without heat or ice, and is thrown away by a time on its label */
  const double *take_of_frac; /**< per class of guests, n_classes of them; NULL: take_frac of all */
};

/** What the customer may have instead of a dish of the menu, or besides: priced, not planned. */
struct pw_menu_option {
  struct pw_menu_line line;
  int instead_of; /**< line of the menu; PW_NONE: besides all of it */
};

struct pw_service {
  const char *id, *name;
  int day; /**< days after the event's date */
  int at_min, length_min;
  enum pw_style style;
  int *guests; /**< per class, n_classes of them */
  struct pw_menu_line *menu;
  int n_menu;
  const struct pw_menu_option *options;
  int n_options;
  double on_time_frac;       /**< its own chance to be ready when it begins, 0 for the event's */
  int n_waves;               /**< each dish from the pit in so many waves; 0: as the holds and the grates want [D4] */
  const double *arrive_frac; /**< who comes in each of n_arrive equal stretches of its length; adds up to 1 */
  int n_arrive;              /**< 0: evenly */
  const char *arrive_source; /**< where a catalog's curve comes from; NULL: the event's own, or none */
};

/** How the guests of one service choose, beyond a take rate per dish [D2][D3].  All zero: each dish by itself. */
struct pw_choice {
  double kinds_frac[3]; /**< chance that a meat eater takes one, two, three kinds of meat; the remainder take none */
  double total_kg, total_sd_kg; /**< served meat per full appetite, split evenly over the kinds taken; 0: no joint
                                choice.  Kinds are drawn by their take rates; counted dishes keep their portion */
  double seconds_frac;          /**< chance that who takes a dish comes back for another portion of it */
  double no_show_frac;          /**< chance that an invited guest does not come */
  double
      walk_least_frac; /**< walk-ups: fewest who come, as a share of the planned guests, who are the likeliest number */
  double walk_most_frac; /**< the same: most who come; both 0: they come as planned */
  double *cover_frac;    /**< per menu line: its own cover, 0 for the event's; NULL: none has its own */
};

/** Where meat is trimmed and dishes are made. */
enum pw_prep_place {
  PW_PREP_EITHER, /**< in the kitchen until the crew leaves, then on site, or where somebody finds time for it */
  PW_PREP_KITCHEN,
  PW_PREP_SITE
};

struct pw_site {
  const char *place;
  enum pw_prep_place prep;
  double travel_m; /**< one way */
  int travel_min;
  double altitude_m;
};

struct pw_weather {
  double low_c, high_c, wind_m_s, humidity_frac;
};

struct pw_instalment {
  const char *name;
  double frac;
  int days_before; /**< due so many days before the event's date */
};

struct pw_terms {
  double margin_frac;      /**< target margin on the price before tax */
  double overhead_frac;    /**< of direct costs */
  pw_cents overhead_cents; /**< fixed, per event */
  double travel_cents_per_km;
  pw_cents rental_cents; /**< tents, tables, permits ... as one sum */
  double service_charge_frac, tax_frac, discount_frac, deposit_frac;
  bool is_service_charge_taxed;
  pw_cents min_fee_cents, round_per_guest_cents; /**< price per guest is rounded up to this, 0 = to the cent */
  int valid_days, final_count_days_before;
  double fuel_reserve_frac;
  double cover_frac;   /**< chance that a dish does not run out */
  double on_time_frac; /**< chance that a service is ready when it begins; 0: none is asked */
  const char **included;
  int n_included;        /**< what the price includes, for the customer, besides what the event shows */
  struct pw_date quoted; /**< date of the offer, from which it stands valid_days; year 0: not dated */
  pw_cents
      quoted_per_guest_cents; /**< list price per guest named in an offer, kept whatever the plan costs now; 0: none */
  struct pw_date quoted_price_on; /**< when it was named */
  pw_cents
      agreed_cents; /**< list price of the contract, for so many guests; 0: none.  Its share of a guest is the quoted price */
  int agreed_guests;
  struct pw_date agreed_on;
  double food_share_frac; /**< price by the food's share of it: food / this; 0: price by the margin */
  int next_job_days;      /**< days from the event to a job that can use what is left; 0: none in view */
  double carry_frac;      /**< what a whole pack carried to it is worth, of its cheapest price */
  pw_cents
      short_cents; /**< what a portion short costs in goodwill: covers follow from it (newsvendor); 0: cover_frac */
};

/** Head counts of the ladder: from, from + step ... to; step 0: seven around the planned one. */
struct pw_ladder_terms {
  int from, to, step;
};

/** Prices of a plan's awkwardness, in money, so that a person can weigh them. */
struct pw_effort_prices {
  double opening_cents;              /**< each distinct time a pit is opened */
  double place_cents;                /**< each further place a lot is split over */
  double hold_cents_per_piece_h;     /**< waiting after the rest */
  double off_best_cents_per_piece_k; /**< per kelvin from the cut's favourite temperature */
  double move_cents_per_piece;       /**< carried to another place for the finish */
  double tend_cents_per_h;           /**< a lit pit wants somebody awake: money per tending hour of work */
};

/** A stretch of services: first .. first + n - 1. */
struct pw_service_range {
  int first, n;
};

struct pw_event {
  struct pw_identity identity;
  const char *file, *name, *customer;
  const char *number; /**< of the quote, or NULL: worked out from day and names */
  const struct pw_event_source
      *source; /**< the text it was read from, to read it again with a change; NULL: of several */
  struct pw_date date;
  const char *zone;             /**< IANA name */
  int utc_offset_min;           /**< at 00:00 local of the date */
  const struct pw_clock *clock; /**< the zone's rules, opened by whoever reads the event; NULL: no clock changes */
  const char *currency;         /**< ISO 4217 code */
  const char *money_sign;       /**< "$", "EUR " ... printed before an amount */
  int money_digits;             /**< digits of the minor unit: 2, 0, 3 */
  enum pw_units units;
  enum pw_paper paper;
  int slot_min;             /**< planning grid, 15, 30 or 60 */
  const char *safety_basis; /**< on what basis the cook goes below a Food Code temperature; NULL: not at all */
  bool is_head_count_sum;   /**< head count = all services added, else the largest service */

  struct pw_site site;
  struct pw_weather weather;
  struct pw_terms terms;
  struct pw_effort_prices effort;

  struct pw_guest_class *classes;
  int n_classes;
  struct pw_item *items;
  int n_items;
  double *item_salt_frac; /**< per item: kilograms of salt that one unit of it puts into meat, or NULL */
  struct pw_supplier *suppliers;
  int n_suppliers; /**< at most 12 */
  struct pw_fuel *fuels;
  int n_fuels;
  struct pw_cut *cuts;
  int n_cuts;
  struct pw_dish *dishes;
  int n_dishes;
  struct pw_pit *pits;
  int n_pits;
  struct pw_finisher *finishers;
  int n_finishers;
  const struct pw_pit
      *catalog_pits; /**< of the catalogs, whether on the job or not: what could be hired; fuels PW_NONE */
  int n_catalog_pits;
  const struct pw_finisher *catalog_finishers;
  int n_catalog_finishers;
  struct pw_crew *crew;
  int n_crew;
  struct pw_pool *pool;
  int n_pool;                 /**< at most PW_POOL_MAX */
  struct pw_work_rules rules; /**< of those in the pool */
  struct pw_style_work styles[PW_STYLE__COUNT];
  struct pw_service *services;
  int n_services;
  struct pw_choice *choices; /**< one per service, or NULL: each dish by itself everywhere */
  struct pw_instalment *instalments;
  int n_instalments;
  struct pw_ladder_terms ladder; /**< at which other head counts the job is priced */
  struct pw_use *uses;
  int n_uses; /**< disposables, ice, gloves ... per guest, service, event */
  const struct pw_service_range
      *use_services; /**< per use the services it is for (several jobs as one), or NULL: all */
};

#endif
