/* csv.h - lists for other programs (RFC 4180): CRLF, a head line, UTF-8.  Numbers are plain, in the user's units named
 * in the head; texts that a spreadsheet would take for a formula are disarmed. */
#ifndef PW_CSV_H
#define PW_CSV_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/plan.h"

/** The purchase list, wood and charcoal at its end.  Appends to *out.  Same plan, same bytes.  Errors: PW_ERR_MEMORY. */
pw_status pw_csv_purchases_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
/** The tasks, times local with their offset from UTC.  As above. */
pw_status pw_csv_tasks_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
