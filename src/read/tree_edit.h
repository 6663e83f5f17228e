/* tree_edit.h - new trees from old ones: what was parsed stays as it is, and every node keeps the place it was written at. */
#ifndef PW_TREE_EDIT_H
#define PW_TREE_EDIT_H

#include "read/reader.h"

/** A copy whose pairs and items are its own (their values are shared); room for `more` further ones.  NULL when memory is out,
 *  which is noted. */
struct pw_node *pw_node_copy(const struct pw_node *node, int more, struct pw_reader *r);

/** A text at the place of another node. */
struct pw_node *pw_node_text_at(const struct pw_node *at, const char *text, struct pw_reader *r);

/** {key: value} at the place of the value. */
struct pw_node *pw_node_block(const char *key, struct pw_node *value, struct pw_reader *r);

/** Sets a key of a map that has room for one more (or has the key); the key's place is that of the value. */
void pw_node_put(struct pw_node *map, const char *key, struct pw_node *value);

/** Takes a key out of a map of our own. */
void pw_node_drop(struct pw_node *map, const char *key);

/** The text of a key of a map when it is a scalar with something in it, else NULL; no fault. */
const char *pw_node_word(const struct pw_node *map, const char *key);

#endif
