/* changes.c - a tree on top of a tree, before anything is typed: entries of lists are known by their ids. */
#include "read/changes.h"

#include "read/tree_edit.h"

#include <string.h>

/* Lists whose entries are changed or added one by one, and what names an entry; NULL: nothing does. */
static const struct {
  const char *key, *id, *or_id;
} LISTS[] = {{"services", "id", NULL},   {"menu", "dish", NULL},     {"options", "dish", NULL},
             {"pits", "id", "use"},      {"finishers", "id", "use"}, {"suppliers", "name", NULL},
             {"crew", NULL, NULL},       {"crew_pool", NULL, NULL},  {"supplies", NULL, NULL},
             {"instalments", NULL, NULL}};
enum { N_LISTS = sizeof LISTS / sizeof *LISTS };

static int list_of(const char *key)
{
  for (int i = 0; i < N_LISTS; i++)
    if (strcmp(key, LISTS[i].key) == 0)
      return i;
  return -1;
}

/* What names an entry; a bare word names itself. */
static const char *name_of(const struct pw_node *entry, int list)
{
  if (!LISTS[list].id || entry->kind == PW_NODE_SCALAR)
    return LISTS[list].id ? entry->text : NULL;
  const struct pw_node *id = pw_node_get(entry, LISTS[list].id);
  if (!id && LISTS[list].or_id)
    id = pw_node_get(entry, LISTS[list].or_id);
  return id && id->kind == PW_NODE_SCALAR ? id->text : NULL;
}

static struct pw_node *copy_of(const struct pw_node *node, struct pw_reader *r)
{
  struct pw_node *copy = pw_reader_array(r, 1, sizeof *copy);
  if (copy)
    *copy = *node;
  return copy;
}

/* A bare word of a list as the block it stands for: "corn-ear" is {dish: corn-ear}, "long-trailer" is {use: long-trailer}. */
static struct pw_node *as_block(struct pw_node *word, int list, struct pw_reader *r)
{
  struct pw_node *block = copy_of(word, r);
  struct pw_pair *pair = pw_reader_array(r, 1, sizeof *pair);
  if (!block || !pair)
    return NULL;
  *pair = (struct pw_pair){.key = LISTS[list].or_id ? LISTS[list].or_id : LISTS[list].id,
                           .line = word->line,
                           .col = word->col,
                           .value = word};
  block->kind = PW_NODE_MAP;
  block->text = NULL;
  block->pairs = pair;
  block->n = 1;
  return block;
}

static struct pw_node *merge(const char *key, struct pw_node *base, struct pw_node *change, struct pw_reader *r);

static struct pw_node *merge_entry(struct pw_node *base, struct pw_node *change, int list, struct pw_reader *r)
{
  if (change->kind != PW_NODE_MAP)
    return base; /* the bare word again: it stands there already */
  if (base->kind == PW_NODE_SCALAR && !(base = as_block(base, list, r)))
    return NULL;
  return merge("", base, change, r);
}

static struct pw_node *merge_list(struct pw_node *base, struct pw_node *change, int list, struct pw_reader *r)
{
  struct pw_node *merged = copy_of(base, r);
  if (!merged || !(merged->items = pw_reader_array(r, base->n + change->n, sizeof *merged->items)))
    return NULL;
  if (base->n > 0)
    memcpy(merged->items, base->items, (size_t)base->n * sizeof *merged->items);
  for (int i = 0; i < change->n; i++) {
    const char *name = name_of(change->items[i], list);
    int at = 0;
    for (; at < merged->n; at++) {
      const char *other = name_of(merged->items[at], list);
      if (name && other && strcmp(name, other) == 0)
        break;
    }
    struct pw_node *entry =
        at < merged->n ? merge_entry(merged->items[at], change->items[i], list, r) : change->items[i];
    if (!entry)
      return NULL;
    merged->items[at] = entry;
    merged->n += at == merged->n;
  }
  return merged;
}

static struct pw_node *merge_map(struct pw_node *base, const struct pw_node *change, struct pw_reader *r)
{
  struct pw_node *merged = copy_of(base, r);
  if (!merged || !(merged->pairs = pw_reader_array(r, base->n + change->n, sizeof *merged->pairs)))
    return NULL;
  if (base->n > 0)
    memcpy(merged->pairs, base->pairs, (size_t)base->n * sizeof *merged->pairs);
  for (int i = 0; i < change->n; i++) {
    struct pw_pair *there = pw_node_find(merged, change->pairs[i].key);
    if (!there) {
      merged->pairs[merged->n++] = change->pairs[i];
      continue;
    }
    struct pw_node *value = merge(there->key, there->value, change->pairs[i].value, r);
    if (!value)
      return NULL;
    *there = change->pairs[i];
    there->value = value;
  }
  return merged;
}

/* Lines of a menu on top of one taken by its name: {use: NAME, also: [...]}. */
static struct pw_node *merge_menu(struct pw_node *base, struct pw_node *change, int list, struct pw_reader *r)
{
  struct pw_node *also = base->kind == PW_NODE_MAP ? pw_node_get(base, "also") : NULL;
  struct pw_node *out = base->kind == PW_NODE_MAP ? base : pw_node_block("use", base, r);
  if (also && also->kind == PW_NODE_LIST)
    change = merge_list(also, change, list, r);
  if (!out || !change || !(out = pw_node_copy(out, 1, r)))
    return NULL;
  pw_node_put(out, "also", change);
  return out;
}

static bool is_named_menu(const char *key, const struct pw_node *base)
{
  return strcmp(key, "menu") == 0 && (base->kind == PW_NODE_MAP || (base->kind == PW_NODE_SCALAR && !base->is_empty));
}

static struct pw_node *merge(const char *key, struct pw_node *base, struct pw_node *change, struct pw_reader *r)
{
  int list = list_of(key);
  if (base->kind == PW_NODE_MAP && change->kind == PW_NODE_MAP)
    return merge_map(base, change, r);
  if (list >= 0 && base->kind == PW_NODE_LIST && change->kind == PW_NODE_LIST)
    return merge_list(base, change, list, r);
  if (change->kind == PW_NODE_LIST && is_named_menu(key, base))
    return merge_menu(base, change, list, r);
  return change;
}

struct pw_node *pw_changes_merge(struct pw_node *base, struct pw_node *change, struct pw_reader *r)
{
  return merge("", base, change, r);
}
