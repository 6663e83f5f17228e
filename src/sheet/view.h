/* view.h - what every sheet of the job pack shares: marks of the lots, rows of the timeline, the list of assumptions
 * with their sources, and texts in the user's units.
 * Reads a complete plan; decides layout only, computes no plan value. */
#ifndef PW_VIEW_H
#define PW_VIEW_H

#include "base/clock.h"
#include "base/ctx.h"
#include "base/format.h"
#include "pw/plan.h"

#include <stdbool.h>

enum pw_view_lane_kind { PW_LANE_FIRE, PW_LANE_ZONE, PW_LANE_OVEN, PW_LANE_HOLD, PW_LANE_COLD };

enum pw_view_bar_kind {
  PW_BAR_FIRE,
  PW_BAR_SMOKE,
  PW_BAR_FINISH,
  PW_BAR_REST,
  PW_BAR_HOLD,
  PW_BAR_SIDE,   /**< pans of a hot side, waiting in a box */
  PW_BAR_CHILL,  /**< in ice water, until it is cold [C1] */
  PW_BAR_REHEAT, /**< what was chilled, in an oven until it is hot */
  PW_BAR__COUNT
};

/** What is somewhere for a while: a fire, food in a place. */
struct pw_view_bar {
  enum pw_view_bar_kind kind;
  int from_at_min, to_at_min;
  int index;        /**< of the load, or of the burn; PW_NONE: neither */
  const char *mark; /**< its lot's letter; NULL: a fire or a side */
  const char *what; /**< its cut's name, or its dish's; NULL: a fire */
  int n;            /**< pieces; pans of a side */
};

/** A row of the timeline.  Bars in one lane never overlap in time; a place with several lots at once has
 *  several lanes. */
struct pw_view_lane {
  enum pw_view_lane_kind kind;
  int pit, zone, finisher;   /**< PW_NONE where it does not apply */
  bool is_first;             /**< first lane of its place */
  const char *name, *detail; /**< "main rack, hot end"; "270 °F" */
  struct pw_view_bar *bars;  /**< by start */
  int n_bars;
};

/** What lies on one rack from the moment something goes on until something goes on again or it is empty. */
struct pw_view_map {
  int pit, rack, setting;
  int from_at_min, to_at_min;
  int *loads; /**< on it at the start, some may end before to_at_min; by start */
  int n_loads;
  int nth, of; /**< 1-based number among the rack's maps */
};

/** A value the plan rests on. */
struct pw_view_fact {
  const char *group, *what, *value, *source;
};

/** A line of the fire list. */
struct pw_view_fire {
  int at_min, burn;
  bool is_turn; /**< light, ready, out: not a feeding */
  const char *what;
};

/** A temperature to read and write down. */
struct pw_view_check {
  int at_min; /**< when the first hands begin to take it off or to wrap it */
  const char *what, *where;
  double least_c;
  int lot, n_ids;
  const int *ids; /**< its pieces of the lot */
};

/** A role: all crew lines that carry its name. */
struct pw_view_role {
  const char *role;
  const char *shifts; /**< "Fri 22:00 to Sat 08:00; Sat 20:00 to Sun 08:00" */
};

struct pw_view {
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_arena *arena;
  bool failed;           /**< memory ran out somewhere: the texts are not to be used */
  const char **lot_mark; /**< "A", "B" ... per lot */
  struct pw_view_lane *lanes;
  int n_lanes;
  struct pw_view_map *maps;
  int n_maps;
  struct pw_view_fact *facts;
  int n_facts;
  struct pw_view_role *roles;
  int n_roles; /**< in the order of the event */
  struct pw_view_fire *fires;
  int n_fires; /**< by time, burn */
  struct pw_view_check *cores;
  int n_cores;                   /**< core at the end of smoke and finish, by time */
  int first_at_min, last_at_min; /**< first fire or load, last service's end; whole hours */
};

/** Fills *out from a complete plan.  Errors: PW_ERR_MEMORY. */
pw_status pw_view_make(struct pw_view *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** printf into the view's arena; "" when memory is out (then view->failed is set). */
const char *pw_view_printf(struct pw_view *view, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** Local date and time; the event's offset throughout when it has no clock. */
struct pw_local_time pw_view_local(const struct pw_event *ev, int at_min);
/** Local clock time, "02:30". */
const char *pw_view_clock(struct pw_view *view, int at_min);
/** "piece" or "pieces", for a number of them. */
static inline const char *pw_view_pieces(int n) { return n == 1 ? "piece" : "pieces"; }
/** "Sat 02:30". */
const char *pw_view_when(struct pw_view *view, int at_min);
/** "Sat 18 Sep". */
const char *pw_view_day(struct pw_view *view, int at_min);
/** "Sat 18 Sep 2027". */
const char *pw_view_date(struct pw_view *view, struct pw_date date);
/** "Fri 22:30 to Sat 05:00"; the day is said once when it is the same. */
const char *pw_view_span(struct pw_view *view, int from_at_min, int to_at_min);
/** Where a load is: "Long trailer pit, main rack, hot end", "Deck oven". */
const char *pw_view_place(struct pw_view *view, const struct pw_load *load);
/** Place of a zone inside its pit: "main rack, hot end"; without the rack when the pit has one. */
const char *pw_view_zone(struct pw_view *view, int zone);
/** Role of a task: the crew's word, or "nobody on shift". */
const char *pw_view_role(struct pw_view *view, const struct pw_task *task);

/** Who does it, by the name on their sheet; the role where nobody is named. */
/** The words with a capital at their head. */
const char *pw_view_capital(struct pw_view *view, const char *words);
/** A person as the head of a sheet or a line says them: "Hand 3", where the name is made of the role; a given name as typed. */
const char *pw_view_person_head(struct pw_view *view, int person);
const char *pw_view_who(struct pw_view *view, const struct pw_task *task);
/** Words of a task for a sheet that lists the lots: its letter in front, and no service's name behind it, which the
 *  letter stands for. */
const char *pw_view_task(struct pw_view *view, const struct pw_task *task);
/** True when a sheet that lists tasks in order says this one's target: a routine target (feeding, mopping, ordering,
 *  prep) is not repeated while it stays the same; limits of temperature are said every time.  last[] has room for each
 *  kind, NULL at the start of a part of the sheet. */
bool pw_view_says_target(const struct pw_task *task, const char *last[PW_TASK__COUNT]);
/** True for what everybody's printed sheet leaves to the roles' own: buying, prep, feeds, mops, readings. */
bool pw_view_is_routine(const struct pw_task *task);
/** Whether a line of the demand is read at the line, from the first plate of its service to the last: hot food, under temperature
 *  control, at a service that has a line. */
bool pw_view_is_read_at_line(const struct pw_plan *plan, int line);
/** Where the figure that a task reads is written down: "core", "hold", "line", "cool", "reheat" of the logs, "fire" of a fire's sheet; "": it reads
 *  none. */
const char *pw_view_log_word(const struct pw_plan *plan, const struct pw_task *task);
/** Name of a service, its id when it has none. */
const char *pw_view_service(const struct pw_view *view, int service);

/** "40 Adults, 8 Children" of a service; their number. */
const char *pw_view_guests(struct pw_view *view, int service);
int pw_view_guest_count(const struct pw_view *view, int service);
/** "egg, mustard", "" when the dish lists none. */
const char *pw_view_allergens(struct pw_view *view, int dish);
/** "2, 18:05 +1, 18:35 +1": pans of a demand line at the start, then when how many more. */
const char *pw_view_pans_out(struct pw_view *view, int line);
/** "out 18:00, discard by 22:00" of each pan of a demand line that stands without heat or ice: FDA Food Code 2022 3-501.19. */
const char *pw_view_labels(struct pw_view *view, int line);
/** What is done with such pans, in a sentence. */
const char *pw_view_by_the_clock(struct pw_view *view);
const char *pw_view_style_word(enum pw_style style);
/** How it is served: "sliced"; "" for what is whole, poured or counted, and when the dish's name says it. */
const char *pw_view_form(const struct pw_dish *dish);

/** Limits printed beside readings. */
#define PW_HOT_HOLD_C 57.0 /* FDA Food Code 2022 3-501.16(A)(1) as it prints it for a thermometer in C; 135 F is 57.2 */

const char *pw_view_stage_word(enum pw_load_stage stage);
const char *pw_view_bar_word(enum pw_view_bar_kind kind);
const char *pw_view_category_word(enum pw_category category);
const char *pw_view_outcome_word(enum pw_outcome outcome);
/** Since when a load lies where it is: from its start, or from when it was carried there [N3]. */
int pw_view_lies_from(const struct pw_load *load);
/** What was measured at the fire end or the far end under a setting, Celsius, and by how much this rack differs; NAN when the
 *  setting is not known. */
double pw_view_end_temp_c(const struct pw_view *view, int pit, int rack, int setting, bool is_far);
/** Air temperature in the middle of a zone under a setting, Celsius; NAN when the setting is not known. */
double pw_view_zone_temp_c(const struct pw_view *view, int zone, int setting);
/** Setting of the pit at an instant, or PW_NONE when it is not lit then. */
int pw_view_setting_at(const struct pw_view *view, int pit, int at_min);

#endif
