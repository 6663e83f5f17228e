/* house.h - the house file: what is the same at every job of a caterer, written once and laid under each event.
 * `house: FILE` in the event names it, within the event's folder or its parent; without that key house.yaml beside the event is
 * taken where there is one; `house: none` wants none.  It may hold every key of an event but those that make a job of its own:
 * services, and name, customer and date of the event. */
#ifndef PW_HOUSE_H
#define PW_HOUSE_H

#include "read/reader.h"

/** Finds and reads the house file of an event that lies (or would lie) at event_path ("-": in the current folder); where it names
 *  none and none lies there, `spare` is read, unless that is NULL.  *out is its
 *  tree and *text what it was read from, NULL for none.  Faults are diagnostics; after one r->is_blind says that what the file would have given is not known.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_house_read(const struct pw_node **out, const struct pw_node *event, const char *event_path,
                        const char *spare, const char **text, struct pw_reader *r);
/** The tree of a house file's text; NULL after a fault, and then r->is_blind.  Errors: PW_ERR_MEMORY. */
pw_status pw_house_read_text(const struct pw_node **out, const char *name, const char *text, size_t n,
                             struct pw_reader *r);

/** The event laid over its house (NULL: none): maps key by key, a list in place of the house's; but suppliers are added by name
 *  (an empty list wants none), and an entry of pits and finishers may name one of the house's, or one of its twins.  NULL when memory is out. */
struct pw_node *pw_house_under(const struct pw_node *house, const struct pw_node *event, struct pw_reader *r);

#endif
