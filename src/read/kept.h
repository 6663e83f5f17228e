/* kept.h - the event of a plan, kept beside it: everything it was read from as one file of the pack, "job.json", so that the plan can be
 * shown, mended and planned again on any machine, years later, when catalogs have long changed. */
#ifndef PW_KEPT_H
#define PW_KEPT_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/event.h"

#define PW_KEPT_NAME "job.json"

/** Event, catalogs, units, paper and what was said on the command line; adds nothing for an event that was not read from one text
 *  (several jobs planned as one).  `heads`: the head count it is planned for.  PW_ERR_MEMORY. */
pw_status pw_kept_write(struct pw_buf *out, const struct pw_event *ev, int heads, struct pw_ctx *ctx);

/** The event again; *heads the head count to scale it to.  `file` names the text in diagnostics.  PW_ERR_INPUT, PW_ERR_MEMORY. */
pw_status pw_kept_read(struct pw_event **out, int *heads, const char *file, const char *text, size_t n,
                       struct pw_ctx *ctx);

#endif
