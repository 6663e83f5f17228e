/* restore.h - a plan from its file: what was searched for is read, all else follows from the event and is worked out again by the
 * stages that made it.  Written again it is the same file, byte for byte. */
#ifndef PW_DAY_RESTORE_H
#define PW_DAY_RESTORE_H

#include "base/json.h"
#include "plan/stages.h"

/** From a plan file (its root) that the judge passes and the event it was made from (read/kept.h), scaled to its head count.
 *  Errors: PW_ERR_INPUT, with a diagnostic, when file and event are not of one plan; PW_ERR_MEMORY; those of the stages. */
pw_status pw_restore(struct pw_plan **out, const struct pw_event *ev, const struct pw_json *root, struct pw_ctx *ctx);

/** The stages after the allocation, from plan->{event .. allocation} on: day before, visits, fuel, tasks, shortfall, quote (no
 *  ladder), safety.  What they warn of beside their own lists are diagnostics of ctx. */
pw_status pw_restore_rest(struct pw_plan *plan, struct pw_ctx *ctx);

/** Of restore_json.c: the parts that are read.  PW_ERR_INPUT: something named is not in the event. */
pw_status pw_restore_margins(struct pw_margins *out, bool *is_asked, const struct pw_event *ev,
                             const struct pw_json *root, struct pw_ctx *ctx);
pw_status pw_restore_allocation(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx);
pw_status pw_restore_chance(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx);
pw_status pw_restore_quote(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx);
pw_status pw_restore_warnings(struct pw_plan *plan, const struct pw_json *root, struct pw_ctx *ctx);

/** The tasks of a plan file as they stand there, for what is planned after it: all that tells them apart, who does them, when, and
 *  their words; not what they wait for and how long they can wait.  `plan`: restored from the same job.  PW_ERR_INPUT, PW_ERR_MEMORY. */
pw_status pw_restore_tasks(const struct pw_task **out, int *n, const struct pw_plan *plan, const struct pw_json *root,
                           struct pw_ctx *ctx);

#endif
