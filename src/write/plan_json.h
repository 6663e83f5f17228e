/* plan_json.h - the whole plan as one JSON object, format "pitwright-plan", version 1. */
#ifndef PW_PLAN_JSON_H
#define PW_PLAN_JSON_H

#include "base/ctx.h"
#include "pw/plan.h"

#include <stddef.h>

/** The plan as text (UTF-8, ends with a newline) in the context's arena.  The same plan gives the same bytes.
 *  Amounts of money are minor units; times are minutes from 00:00 local of the event's date.
 *  Errors: PW_ERR_MEMORY; PW_ERR_INTERNAL with a diagnostic when a figure of the plan is not finite. */
pw_status pw_plan_json_text(const char **text, size_t *n, const struct pw_plan *plan, struct pw_ctx *ctx);

/** The same into a file, whole or not at all; "-" is standard output.  Also PW_ERR_IO. */
pw_status pw_plan_json_write(const struct pw_plan *plan, const char *path, struct pw_ctx *ctx);

#endif
