/* show.h - what an event was read as, key by key, and where each value comes from: the event, its house file, a menu, a catalog, or the
 * program's own standard. */
#ifndef PW_READ_SHOW_H
#define PW_READ_SHOW_H

#include "base/buf.h"
#include "base/ctx.h"
#include "pw/event.h"

/** Lines "key: value  # place" of every block and list, standards included, and head counts of `planned`, the event as options changed it; nothing for an event that was not read from one text. */
pw_status pw_event_show(struct pw_buf *out, const struct pw_event *ev, const struct pw_event *planned,
                        struct pw_ctx *ctx);

#endif
