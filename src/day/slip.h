/* slip.h - what the crew holds after a plan was mended: the slip, and what changed. */
#ifndef PW_DAY_SLIP_H
#define PW_DAY_SLIP_H

#include "day/mend.h"

enum { PW_SLIP_LINES = 12 };

/** At most PW_SLIP_LINES lines of at most 80 columns: when and which plan, each meal, what is unsafe, what to read first, what to do in the
 *  next two hours.  Errors: PW_ERR_MEMORY. */
pw_status pw_slip_write(struct pw_buf *out, const struct pw_mended *mended, struct pw_ctx *ctx);

/** Old and new in order of time: moved, new, dropped, given to somebody else; nothing else.  Errors: PW_ERR_MEMORY. */
pw_status pw_changes_write(struct pw_buf *out, const struct pw_mended *mended, struct pw_ctx *ctx);

#endif
