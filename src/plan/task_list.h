/* task_list.h - how tasks.c and its helpers build the list of tasks [S1]: drafts first (what, how much work, in
 * which window), then a place in somebody's time for each (task_place.c). */
#ifndef PW_TASK_LIST_H
#define PW_TASK_LIST_H

#include "base/ctx.h"
#include "pw/plan.h"

#include <stdbool.h>
#include <stddef.h>

enum { PW_TASK_LEAVE_AFTER_MIN = 60 }; /**< the crew drives home so long after the last service; common practice, no source */

/** Who gets a place in the day first. */
enum pw_rank {
  PW_RANK_FIRE,  /* lit and fed at their minute */
  PW_RANK_PIT,   /* stage changes: at their minute, or within `slip_min` of it once the hands are free */
  PW_RANK_SERVE,
  PW_RANK_TABLE, /* carve, pan up, set up, drive */
  PW_RANK_BUY,   /* deliveries come when they come; trimming has a day */
  PW_RANK_PREP,
  PW_RANK_CHECK,
  PW_RANK_AFTER  /* clear, cool, burn down, ash */
};

struct pw_draft {
  enum pw_task_kind kind;
  enum pw_duty duty;
  unsigned also;           /**< further duties that may do it, 1u << enum pw_duty */
  bool prefers_duty;       /**< those of `also` only where nobody with the duty itself has time */
  enum pw_rank rank;
  int first_at_min, last_at_min; /**< it may begin between these; equal: exactly then */
  int slip_min;            /**< a fixed draft may begin so much later when every hand is at something else */
  int end_by_min;          /**< and must be over by then; INT_MAX: no such limit */
  bool is_late;            /**< as late as it fits, else as early */
  double work_min;         /**< one pair of hands, all pieces */
  int block_min;           /**< longest stretch given to one pair of hands when there are pieces to share */
  int lot, pit, pieces;    /**< PW_NONE / 0 where it does not apply; pieces > 1 can be shared */
  const char *verb, *noun; /**< with pieces: "verb 6 × noun", else the verb alone */
  const char *where, *target;
};

struct pw_hands;

struct pw_task_list {
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_ctx *ctx;
  struct pw_draft *drafts; size_t n_drafts, cap_drafts;
  struct pw_task *tasks;   size_t n_tasks, cap_tasks;
  struct pw_warning *warnings; size_t n_warnings, cap_warnings;
  struct pw_hands *hands;
  bool failed;             /**< memory ran out; what follows is void */
};

/** printf into the arena; "" when memory is out (then list->failed is set). */
const char *pw_task_words(struct pw_task_list *list, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** Adds a draft. */
void pw_task_draft(struct pw_task_list *list, struct pw_draft draft);

/** "Long trailer pit, main rack, zones 1-2" of the racks of n loads (indices into allocation.loads). */
const char *pw_task_where(struct pw_task_list *list, const int *loads, int n);
/** The name of a lot's cut, with its service when the event has several. */
const char *pw_task_noun(struct pw_task_list *list, int lot);

/** Stage changes of every piece, and the checks and mops between them (task_moves.c). */
void pw_task_moves(struct pw_task_list *list);
/** Light, ready, feed, burn down, ash (task_fire.c). */
void pw_task_fires(struct pw_task_list *list);
/** Order, take in, thaw, prep, drive, set up, carve, pan up, serve, clear, cool (task_table.c). */
void pw_task_table(struct pw_task_list *list);
/** Dishes made in the kitchen: wash and cut, count out, cook (task_kitchen.c). */
void pw_task_kitchen(struct pw_task_list *list);
/** What is cooked the day before: chilled, read, stored, panned, reheated (task_cold.c). */
void pw_task_cold(struct pw_task_list *list);
/** A temperature in the user's units, in the arena. */
const char *pw_task_temp(struct pw_task_list *list, double c);
/** Gives every draft a time and a crew line; warns where nobody is on shift or the hands are short (task_place.c). */
void pw_task_place(struct pw_task_list *list);

#endif
