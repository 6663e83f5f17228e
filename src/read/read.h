/* read.h - an event file and its catalogs into struct pw_event.  All faults of one run are found together; they are
 * diagnostics in the context, in order of file, line and column. */
#ifndef PW_READ_H
#define PW_READ_H

#include "base/ctx.h"
#include "pw/event.h"

#include <stddef.h>

/** Reads the event file and cuts, dishes, items, pits, finishers and fuels .yaml of catalog_dir.
 *  path "-" is standard input.  *out is NULL on failure.  The event lives in the context's arena.
 *  Errors: PW_ERR_INPUT see the diagnostics; PW_ERR_IO the event file cannot be read; PW_ERR_MEMORY. */
pw_status pw_event_read(struct pw_event **out, const char *event_path, const char *catalog_dir, struct pw_ctx *ctx);

/** The same from n bytes of text; `name` stands for the file in messages. */
pw_status pw_event_read_text(struct pw_event **out, const char *name, const char *text, size_t n,
                             const char *catalog_dir, struct pw_ctx *ctx);

struct pw_catalog;

/** The same with a catalog that was read before (raw.h); its arena must outlive the event.  Its own faults are not told again. */
pw_status pw_event_read_with(struct pw_event **out, const char *name, const char *text, size_t n,
                             const struct pw_catalog *catalog, struct pw_ctx *ctx);

#endif
