/* text_against.h - what changed between a pack given out before and a new plan, on one page, in words. */
#ifndef PW_TEXT_AGAINST_H
#define PW_TEXT_AGAINST_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/plan.h"

/** Both plans of one event each.  Same plans, same bytes; of a plan against itself it says that nothing changed.  Errors: PW_ERR_MEMORY. */
pw_status pw_text_against(struct pw_buf *out, const struct pw_plan *before, const struct pw_plan *now,
                          struct pw_ctx *ctx);

#endif
