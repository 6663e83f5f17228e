/* task_list.h - how tasks.c and its helpers build the list of tasks [S1]: drafts first (what, how much work, in
 * which window), then a place in somebody's time for each (task_place.c). */
#ifndef PW_TASK_LIST_H
#define PW_TASK_LIST_H

#include "base/ctx.h"
#include "pw/plan.h"

#include <stdbool.h>
#include <stddef.h>

enum {
  PW_TASK_LEAVE_AFTER_MIN = 60
}; /**< the crew drives home so long after the last service; common practice, no source */

/** Who gets a place in the day first. */
enum pw_rank {
  PW_RANK_FIRE,   /* lit and fed at their minute */
  PW_RANK_PIT,    /* stage changes: at their minute, or within `slip_min` of it once the hands are free */
  PW_RANK_KNIVES, /* cut as it is needed: whoever serves leaves the line for it */
  PW_RANK_SERVE,
  PW_RANK_TABLE, /* pan up, set up, drive */
  PW_RANK_BUY,   /* deliveries come when they come; trimming has a day */
  PW_RANK_PREP,
  PW_RANK_CHECK,
  PW_RANK_AFTER /* clear, cool, burn down, ash */
};

/** The day of a piece, in the order a cook does it. */
enum pw_chain {
  PW_CHAIN_NONE,
  PW_CHAIN_THAW,
  PW_CHAIN_BRINE,
  PW_CHAIN_PREP,
  PW_CHAIN_LOAD,
  PW_CHAIN_BARK,
  PW_CHAIN_MOP,
  PW_CHAIN_TURN,
  PW_CHAIN_CORE,
  PW_CHAIN_WRAP,
  PW_CHAIN_PROBE,
  PW_CHAIN_OFF,
  PW_CHAIN_REST_OVER,
  PW_CHAIN_HOLD_CHECK,
  PW_CHAIN_CHILL,
  PW_CHAIN_COOL_CHECK,
  PW_CHAIN_CUT,
  PW_CHAIN_REHEAT,
  PW_CHAIN_READ_AGAIN
};

/** Behind what is to be done with fish or nuts. */
#define PW_TASK_KEPT_LAST "; last of all, own board, knife, tongs and shelf"

struct pw_draft {
  enum pw_task_kind kind;
  enum pw_duty duty;
  unsigned also;     /**< further duties that may do it, 1u << enum pw_duty */
  bool prefers_duty; /**< those of `also` only where nobody with the duty itself has time */
  enum pw_rank rank;
  int first_at_min, last_at_min; /**< it may begin between these; equal: exactly then */
  int slip_min;                  /**< a fixed draft may begin so much later when every hand is at something else */
  int end_by_min;                /**< and must be over by then; INT_MAX: no such limit */
  bool is_late;                  /**< as late as it fits, else as early */
  double work_min;               /**< one pair of hands, all pieces */
  int block_min;                 /**< longest stretch given to one pair of hands when there are pieces to share */
  int lot, pit, pieces;          /**< PW_NONE / 0 where it does not apply; pieces > 1 can be shared */
  const struct pw_visit *visit;  /**< the opening of a pit's door it is done at, or NULL */
  const char *verb, *noun;       /**< with pieces: "verb 6 × noun", else the verb alone */
  const char *where, *target;
  enum pw_at at;
  bool
      may_be_on_site; /**< what belongs in the kitchen is done on site once the crew has left, or where nobody finds time there */
  int place, to_place; /**< as in struct pw_task */
  int service, dish;
  const int *ids;
  int n_ids; /**< pieces of the lot; as many as `pieces`, or with pieces 0 those a reading is of */
  const int *items;
  int n_items;
  enum pw_chain chain;    /**< place in the day of its pieces */
  bool is_before_service; /**< guests wait for it */
  bool may_be_left_out;   /**< better not at all than at the wrong minute */
  int plates_to_min;      /**< of a cut: the last plate its pieces feed; PW_NO_PLATES */
  bool is_in_parts;       /**< of a cut: in parts, as they are needed */
  bool is_kept_last;      /**< prep of fish or nuts: after all other prep [H2] */
  int follows;            /**< draft that is over before this one begins, PW_NONE */
  int hot_from_min,
      hot_to_min; /**< of a HEAT_UP: food goes in between these; equal: there was no time to wait for it */
  int lies_min;   /**< what comes after in the day of its pieces waits so long: they lie in brine */
};

/** A draft with nothing in it: every index PW_NONE, no limit. */
struct pw_draft pw_task_blank(enum pw_task_kind kind, enum pw_duty duty, enum pw_rank rank, enum pw_at at);

/** Draft `before` is over at least `gap_min` before draft `after` begins. */
struct pw_edge {
  int before, after, gap_min;
};

/** Which drafts put a piece into a load and take it out again: [offset of the load + place of the piece in it], PW_NONE. */
struct pw_handled {
  int *offset, *puts_in, *takes_out;
};

struct pw_hands;
struct pw_draft_state;

struct pw_task_list {
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_ctx *ctx;
  struct pw_draft *drafts;
  size_t n_drafts, cap_drafts;
  struct pw_task *tasks;
  size_t n_tasks, cap_tasks;
  struct pw_warning *warnings;
  size_t n_warnings, cap_warnings;
  int depart_min; /**< when the first drive to the site begins at the latest; INT_MAX: no drive */
  struct pw_person *people;
  int n_people;
  struct pw_handled handled;
  struct pw_edge *edges;
  size_t n_edges, cap_edges;
  int *first_edge;              /**< edges of draft d as `after`: edges[first_edge[d]] .. edges[first_edge[d + 1]] */
  struct pw_draft_state *state; /**< per draft */
  struct pw_hands *hands;
  bool *is_used;     /**< of a mended plan: per task of the plan before, that a draft has taken it up */
  bool knives_first; /**< pans wait for what is cut into them: where hands took them up too soon */
  bool is_trial;     /**< shifts are tried: pans are not placed again for the knives */
  bool failed;       /**< memory ran out; what follows is void */
};

/** printf into the arena; "" when memory is out (then list->failed is set). */
const char *pw_task_words(struct pw_task_list *list, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** Adds a draft; its index, PW_NONE when memory is out. */
int pw_task_draft(struct pw_task_list *list, struct pw_draft draft);
/** So many pairs of hands share work_min if none is to be at it for longer than most_min; at least 1. */
int pw_task_n_shares(double work_min, double most_min);
/** The draft as n drafts, each of an n-th of its work, which say so. */
void pw_task_draft_shared(struct pw_task_list *list, struct pw_draft draft, int n);
/** n ints in the arena, copied from `from` unless NULL. */
int *pw_task_ints(struct pw_task_list *list, const int *from, int n);

/** "Long trailer pit, main rack, zones 1-2" of the racks of n loads (indices into allocation.loads). */
const char *pw_task_where(struct pw_task_list *list, const int *loads, int n);
/** The name of a lot's cut, with its service when the event has several. */
const char *pw_task_noun(struct pw_task_list *list, int lot);

/** As pw_tasks_make(), for shifts that are tried: who has time for what, a few minutes of panning up aside. */
pw_status pw_tasks_try(struct pw_tasks *out, const struct pw_plan *plan, struct pw_ctx *ctx);
/** All drafts and what must be over before what, nothing placed yet: the first half of pw_tasks_make(). */
void pw_task_drafts(struct pw_task_list *list);
/** minutes, latest_min and last_call_min of every draft's state, which is made here (task_place.c). */
void pw_task_windows(struct pw_task_list *list);
/** Minutes from begin to end with the work shared out in blocks (task_place.c). */
int pw_task_span(const struct pw_draft *draft);
/** Minutes that one pair of hands takes for so many of a draft's pieces, or for the whole work of one without; at least 1
 * (task_place.c). */
int pw_task_minutes(const struct pw_draft *draft, int pieces);
/** Makes a task of pieces offset .. offset + pieces - 1 of a draft, at a minute of the plan, by a person or PW_NONE, whose hands are
 * booked (task_place.c). */
void pw_task_give(struct pw_task_list *list, int draft, enum pw_at at_hand, int offset, int pieces, int at_min,
                  int minutes, int person);

/** Of a mended plan: whether the draft was begun before now by somebody of the plan before: a fact, whose hands are not free until it is
 * over (task_again.c, as the next three). */
bool pw_task_is_fact(const struct pw_task_list *list, int draft);
/** Places a fact; any other draft is left alone. */
void pw_task_fact(struct pw_task_list *list, int draft);
/** The draft as it was done or was to be done, or left as nobody's, or out.  False: it has to be placed anew. */
bool pw_task_again(struct pw_task_list *list, int draft, int earliest_min);
/** The earliest minute it may begin: nothing new begins in the past; what the loads say was done then stays there. */
int pw_task_from_now(const struct pw_task_list *list, int draft, int earliest_min);

/** Between 00:00 and 05:00 local time (task_rest.c). */
bool pw_task_is_night(const struct pw_event *ev, int at_min);
/** Hands that look after the guests of a service by its style; 0: nobody stays (task_table.c). */
int pw_task_servers(const struct pw_event *ev, int service, double guests_each);

/** Stage changes of every piece, and the checks and mops between them (task_moves.c). */
void pw_task_moves(struct pw_task_list *list);
/** What is read and mopped at the pits, visit by visit (task_visits.c). */
void pw_task_visits(struct pw_task_list *list);
/** The visit of a pit at a minute, or NULL. */
const struct pw_visit *pw_task_visit(const struct pw_task_list *list, int pit, int at_min);
/** What a probe of wrapped pieces should read. */
const char *pw_task_probe_target(struct pw_task_list *list, const struct pw_cut *cut);
/** Light, ready, feed, burn down, ash (task_fire.c). */
void pw_task_fires(struct pw_task_list *list);
/** Ovens and boxes made hot before food goes in (task_heat.c). */
void pw_task_heat(struct pw_task_list *list);
/** Names of heated ovens and boxes that are empty from the end of a meal on, and were not from the end of the one before; "": none. */
const char *pw_task_off_words(struct pw_task_list *list, int before_min, int end_min);
/** Order, take in, thaw, brine, prep, drive, set up, carve, pan up, serve, clear, cool (task_table.c). */
void pw_task_table(struct pw_task_list *list);
/** Dishes made in the kitchen: wash and cut, count out, cook (task_kitchen.c). */
void pw_task_kitchen(struct pw_task_list *list);
/** Where a draft of making ready is worked on, by the event's wish [S1]; may_be_on_site: what its kind allows where there is none. */
void pw_task_prep_place(struct pw_task_list *list, struct pw_draft *d, bool may_be_on_site);
/** What is cooked the day before: chilled, read, stored, panned, reheated (task_cold.c). */
void pw_task_cold(struct pw_task_list *list);
/** A temperature in the user's units, in the arena. */
const char *pw_task_temp(struct pw_task_list *list, double c);
/** What must be over before what: pieces, spots, fires, goods, services, the way home (task_graph.c). */
void pw_task_graph(struct pw_task_list *list);
/** Gives every draft a time and a person, along the graph (task_place.c). */
void pw_task_place(struct pw_task_list *list);
/** latest_min of every task, once all stand in their order and say what they come after (task_latest.c). */
void pw_task_latest(struct pw_task_list *list);
/** Says where nobody is on shift and where hands are short, once for each cause (task_warn.c). */
void pw_task_warn(struct pw_task_list *list);
/** Says who is planned too long, drives too tired or tends a fire alone by night (task_rest.c). */
void pw_task_rest(struct pw_task_list *list);

/** What became of a draft. */
struct pw_draft_state {
  bool is_placed, is_open; /**< is_open: its predecessors are being placed */
  int first_task, n_tasks; /**< in order of placing */
  int begin_min, end_min;  /**< of the last of its tasks */
  int latest_min;          /**< begin that lets all that follows begin in time */
  int last_call_min;       /**< begin beyond which it is lost, INT_MAX: none */
  int minutes;             /**< of one pair of hands, all pieces */
  int late_min;            /**< begun so long after its window; 0 */
};

#endif
