/* changes.h - a mended plan against the one before it: which tasks are new, moved, given to others, dropped [N3]. */
#ifndef PW_DAY_CHANGES_H
#define PW_DAY_CHANGES_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/plan.h"

enum pw_change_kind {
  PW_CHANGE_NONE,
  PW_CHANGE_NEW,
  PW_CHANGE_MOVED, /**< by more than a quarter of an hour */
  PW_CHANGE_HANDS, /**< somebody else does it */
};

struct pw_changes {
  enum pw_change_kind *kind;  /**< [task of the plan] */
  const struct pw_task **was; /**< [task of the plan] the same task before; NULL: it is new */
  const struct pw_task **dropped;
  int n_dropped;
};

/** Of a plan with a day; what is past, and routine as feeds and readings are, is no change.  PW_ERR_MEMORY. */
pw_status pw_changes_make(struct pw_changes *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** All of them in order of time, then a list for each person whose day is another now, every task from now on, "*" where it changed.  Nothing
 *  for a plan that is not mended.  PW_ERR_MEMORY. */
pw_status pw_changes_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** Feeds, mops, readings that the fire's sheet has. */
bool pw_day_is_routine(enum pw_task_kind kind);
/** Who does it: "pit-hand-1", "nobody". */
const char *pw_day_who(const struct pw_plan *plan, const struct pw_task *task);
/** Words of a task with the lot's letter in the place of its name: "Wrap 4 x D"; NULL when memory is out. */
const char *pw_day_task_words(const struct pw_plan *plan, const struct pw_task *task, struct pw_arena *arena);

#endif
