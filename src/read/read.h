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
struct pw_node;

/** The same with a catalog that was read before (raw.h); its arena must outlive the event.  Its own faults are not told again. */
pw_status pw_event_read_with(struct pw_event **out, const char *name, const char *text, size_t n,
                             const struct pw_catalog *catalog, struct pw_ctx *ctx);

/** An event and its house file as texts that were kept; house_text NULL: it had none, and none is looked for. */
struct pw_kept_event {
  const char *name, *text;
  const char *house_name, *house_text;
};

/** The event of such texts, with a catalog as above. */
pw_status pw_event_read_kept(struct pw_event **out, const struct pw_kept_event *kept, const struct pw_catalog *catalog,
                             struct pw_ctx *ctx);
/** The same with catalogs of a folder and a house file to be taken where the event names none and none lies beside it. */
pw_status pw_event_read_spare(struct pw_event **out, const char *name, const char *text, size_t n,
                              const char *catalog_dir, const char *spare_house, struct pw_ctx *ctx);

/** The house file it was laid over; "" for none. */
const char *pw_event_house(const struct pw_event *ev);

/** Where an event was read from, kept with it. */
struct pw_event_source {
  const char *name; /**< of the file */
  const char *text;
  size_t n;
  const struct pw_catalog *catalog;
  const struct pw_node *root;  /**< tree of the event over its house, as it was typed */
  const struct pw_node *house; /**< tree of its house file, NULL: it has none */
  const char *house_text;      /**< what that was read from */
  bool is_house_known;         /**< it was looked for */
  const char *spare_house;     /**< for want of one, or NULL */
};

/** The event as its file would give it with these lines (further documents, each begun by "---") at its end; units and paper as
 *  `ev` has them, another head count or what else was changed after reading is not kept.  `ev` must outlive it.
 *  Errors: those of reading; PW_ERR_USAGE when the event was not read from one text. */
pw_status pw_event_change(struct pw_event **out, const struct pw_event *ev, const char *lines, struct pw_ctx *ctx);

#endif
