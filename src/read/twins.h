/* twins.h - `count: 2` at a pit or finisher: so many alike, written once.  Their ids and names get numbers: box-1, "Hot box 1". */
#ifndef PW_TWINS_H
#define PW_TWINS_H

#include "read/reader.h"

enum { PW_TWINS_MAX = 20 };

/** The tree with every entry of `pits` and `finishers` that has a `count` as so many entries.  A count that is no whole number from 1
 *  to PW_TWINS_MAX is a fault.  NULL when memory is out. */
struct pw_node *pw_twins_expand(const struct pw_node *root, struct pw_reader *r);

/** The number k of twin "ID-k" of a counted entry whose name (its id, else what it uses) is ID; 0: the name is none of its twins'. */
int pw_twin_number(const struct pw_node *entry, const char *name);

/** Twin number k of a counted entry, without its count; k 0: itself without its count.  NULL when memory is out. */
struct pw_node *pw_twin(const struct pw_node *entry, int k, struct pw_reader *r);

#endif
