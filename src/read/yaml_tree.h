/* yaml_tree.h - YAML text to a tree of maps, lists and scalars, each with its place in the file.
 * The dialect is small on purpose: no anchors, aliases, tags, merge keys, keys that are not plain text, duplicate
 * keys; at most 1 MiB of text and 64 levels.  Scalars stay text: the schema gives them types. */
#ifndef PW_YAML_TREE_H
#define PW_YAML_TREE_H

#include "base/ctx.h"

#include <stdbool.h>
#include <stddef.h>

enum { PW_YAML_BYTES_MAX = 1024 * 1024, PW_YAML_DEPTH_MAX = 64, PW_YAML_DOCUMENTS_MAX = 32 };

/** Where a node was read from. */
struct pw_origin {
  const char *file; /**< as the user named it */
  bool is_catalog;  /**< its entries must carry a source */
};

enum pw_node_kind {
  PW_NODE_SCALAR,
  PW_NODE_MAP,
  PW_NODE_LIST,
  PW_NODE_BROKEN /**< stood for something refused; a diagnostic was given, later steps keep quiet */
};

struct pw_node;

struct pw_pair {
  const char *key;
  int line, col; /**< of the key, 1-based; col counts characters */
  struct pw_node *value;
};

struct pw_node {
  enum pw_node_kind kind;
  const struct pw_origin *origin;
  int line, col;          /**< 1-based; col counts characters */
  const char *text;       /**< scalar: its text, else NULL */
  bool is_empty;          /**< scalar: nothing written, or a plain ~ or null */
  struct pw_pair *pairs;  /**< map: in file order */
  struct pw_node **items; /**< list */
  int n;                  /**< pairs or items */
};

/** Reads n bytes that hold one document.  *out is NULL for an empty document (a fault too).  Faults go to the diagnostics with code
 *  "yaml-..."; the tree is still given where one can be made.  Errors: PW_ERR_INPUT when no tree can be made,
 *  PW_ERR_MEMORY. */
pw_status pw_yaml_read(struct pw_node **out, const char *text, size_t n, const struct pw_origin *origin,
                       struct pw_ctx *ctx);

/** The same for a file whose further documents ("---") change the first (read/changes.h): all of them, in order, *n_out >= 1.
 *  Errors: as above. */
pw_status pw_yaml_read_all(struct pw_node *out[PW_YAML_DOCUMENTS_MAX], int *n_out, const char *text, size_t n,
                           const struct pw_origin *origin, struct pw_ctx *ctx);

/** The pair with this key, or NULL (also for a node that is no map, or NULL). */
struct pw_pair *pw_node_find(const struct pw_node *map, const char *key);
/** Its value, or NULL. */
struct pw_node *pw_node_get(const struct pw_node *map, const char *key);

#endif
