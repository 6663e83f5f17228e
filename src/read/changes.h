/* changes.h - further documents of an event file: each changes what stands before it.  So a way out of a shortage is tried by
 * writing its lines at the end of the file, and taken back by striking them out. */
#ifndef PW_CHANGES_H
#define PW_CHANGES_H

#include "read/reader.h"

/** `base` with `change` on top.  Blocks are merged key by key, a value replaces a value.  An entry of a list (services, menu, pits,
 *  finishers, suppliers) changes the one of its id, else it is added behind them; crew lines, supplies and instalments have no id
 *  and are always added; any other list replaces the one there.  Neither tree is changed.  NULL: out of memory, noted in r. */
struct pw_node *pw_changes_merge(struct pw_node *base, struct pw_node *change, struct pw_reader *r);

#endif
