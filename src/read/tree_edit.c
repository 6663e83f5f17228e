/* tree_edit.c - see tree_edit.h. */
#include "read/tree_edit.h"

#include <string.h>

struct pw_node *pw_node_copy(const struct pw_node *node, int more, struct pw_reader *r)
{
  struct pw_node *copy = pw_reader_array(r, 1, sizeof *copy);
  if (!copy)
    return NULL;
  *copy = *node;
  if (node->kind == PW_NODE_MAP) {
    if (!(copy->pairs = pw_reader_array(r, node->n + more, sizeof *copy->pairs)))
      return NULL;
    if (node->n > 0)
      memcpy(copy->pairs, node->pairs, (size_t)node->n * sizeof *copy->pairs);
  } else if (node->kind == PW_NODE_LIST) {
    if (!(copy->items = pw_reader_array(r, node->n + more, sizeof *copy->items)))
      return NULL;
    if (node->n > 0)
      memcpy(copy->items, node->items, (size_t)node->n * sizeof *copy->items);
  }
  return copy;
}

struct pw_node *pw_node_text_at(const struct pw_node *at, const char *text, struct pw_reader *r)
{
  struct pw_node *node = pw_reader_array(r, 1, sizeof *node);
  if (node)
    *node =
        (struct pw_node){.kind = PW_NODE_SCALAR, .origin = at->origin, .line = at->line, .col = at->col, .text = text};
  return node;
}

struct pw_node *pw_node_block(const char *key, struct pw_node *value, struct pw_reader *r)
{
  struct pw_node *block = pw_reader_array(r, 1, sizeof *block);
  struct pw_pair *pair = pw_reader_array(r, 1, sizeof *pair);
  if (!block || !pair)
    return NULL;
  *pair = (struct pw_pair){.key = key, .line = value->line, .col = value->col, .value = value};
  *block = (struct pw_node){
      .kind = PW_NODE_MAP, .origin = value->origin, .line = value->line, .col = value->col, .pairs = pair, .n = 1};
  return block;
}

void pw_node_put(struct pw_node *map, const char *key, struct pw_node *value)
{
  struct pw_pair *pair = pw_node_find(map, key);
  if (!pair)
    pair = &map->pairs[map->n++];
  *pair = (struct pw_pair){.key = key, .line = value->line, .col = value->col, .value = value};
}

void pw_node_drop(struct pw_node *map, const char *key)
{
  struct pw_pair *pair = pw_node_find(map, key);
  if (!pair)
    return;
  int i = (int)(pair - map->pairs);
  memmove(pair, pair + 1, (size_t)(map->n - i - 1) * sizeof *pair);
  map->n--;
}

const char *pw_node_word(const struct pw_node *map, const char *key)
{
  const struct pw_node *node = pw_node_get(map, key);
  return node && node->kind == PW_NODE_SCALAR && !node->is_empty && *node->text ? node->text : NULL;
}
