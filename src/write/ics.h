/* ics.h - the tasks as a calendar (RFC 5545). */
#ifndef PW_ICS_H
#define PW_ICS_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/plan.h"

/** One event per task with time, place and role, and for at most 25 tasks of a person and day an alarm a quarter of an hour
 *  before; appends to *out.
 *  `role`: only tasks of crew lines with this role; NULL for all tasks; nothing is added where there is no task.  Times are UTC, so midnight and clock changes
 *  need no zone rules in the file; identifiers stay the same when the same job is planned again and a task keeps its
 *  kind, lot and place in the order of its like.  Same plan, same bytes.  Errors: PW_ERR_MEMORY. */
pw_status pw_ics_write(struct pw_buf *out, const struct pw_plan *plan, const char *role, struct pw_ctx *ctx);
/** All tasks, in the shape of the pack's list of outputs. */
pw_status pw_ics_all_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** Every feed of every fire, without alarms, for those who want them on a clock of their own. */
pw_status pw_ics_feeds_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** A crew's role and the name of its calendar file: "calendar-night-fire-tender.ics", plain ASCII, no two alike. */
struct pw_ics_role {
  const char *role, *file;
};
/** The distinct roles in the order of the event.  *out lives in the arena.  Errors: PW_ERR_MEMORY. */
pw_status pw_ics_roles(struct pw_ics_role **out, int *n, const struct pw_event *ev, struct pw_ctx *ctx);

#endif
