/* ics.h - the tasks as a calendar (RFC 5545). */
#ifndef PW_ICS_H
#define PW_ICS_H

#include "base/buf.h"
#include "pw/plan.h"
#include "pw/status.h"

/** One event per task with time, place, role and an alarm a quarter of an hour before; appends to *out.
 *  `crew`: index into event.crew for the calendar of one role, PW_NONE for all tasks.  Times are UTC, so midnight and
 *  clock changes need no zone rules in the file; identifiers stay the same when the same job is planned again and a
 *  task keeps its kind, lot and place in the order of its like.  Same plan, same bytes.  Errors: PW_ERR_MEMORY. */
pw_status pw_ics_write(struct pw_buf *out, const struct pw_plan *plan, int crew, struct pw_ctx *ctx);
/** All tasks: pw_ics_write() with PW_NONE, in the shape of the pack's list of outputs. */
pw_status pw_ics_all_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
