/* slip.h - what the crew holds after a plan was mended: the slip, and what stands behind it. */
#ifndef PW_DAY_SLIP_H
#define PW_DAY_SLIP_H

#include "day/mend.h"

enum { PW_SLIP_LINES = 12 };

/** At most PW_SLIP_LINES lines of at most 80 columns: when and which plan, each meal, what is unsafe, what to read first, what to do in the
 *  next two hours.  Errors: PW_ERR_MEMORY. */
pw_status pw_slip_write(struct pw_buf *out, const struct pw_mended *mended, struct pw_ctx *ctx);

/** What stands behind the slip: food safety lot by lot, what is short and what can be done, wood, then what changed.  Errors: PW_ERR_MEMORY. */
pw_status pw_behind_write(struct pw_buf *out, const struct pw_mended *mended, struct pw_ctx *ctx);

#endif
