/* menus.c - see menus.h. */
#include "read/menus.h"

#include "read/tree_edit.h"

#include <string.h>

struct menus {
  const struct pw_node *own, *shelf; /* of event and house; of the catalog */
  struct pw_reader *r;
};

/* The dish a line of a menu is about. */
static const char *dish_of(const struct pw_node *line)
{
  return line->kind == PW_NODE_SCALAR ? line->text : pw_node_word(line, "dish");
}

/* What there is by the names of both. */
static const char *suggest(const struct menus *m, const char *name)
{
  const int n_own = m->own && m->own->kind == PW_NODE_MAP ? m->own->n : 0;
  struct pw_pair *all = pw_reader_array(m->r, n_own + m->shelf->n, sizeof *all);
  int n = 0;
  for (int i = 0; all && i < n_own; i++)
    all[n++] = m->own->pairs[i];
  for (int i = 0; all && i < m->shelf->n; i++)
    if (!pw_node_find(m->own, m->shelf->pairs[i].key))
      all[n++] = m->shelf->pairs[i];
  return pw_reader_suggest(m->r, name, all, n, sizeof *all, offsetof(struct pw_pair, key));
}

enum { USE_DEPTH_MAX = 12 };

/* The menu of that name, an own one over the one it uses or changes; NULL after a fault. */
static const struct pw_node *menu_named(const struct menus *m, const struct pw_node *at, int depth)
{
  const char *name = pw_node_text(m->r, at, "menu");
  const struct pw_node *own = name ? pw_node_get(m->own, name) : NULL, *base = NULL;
  if (!name)
    return NULL;
  if (own && own->kind == PW_NODE_MAP) {
    const struct pw_node *use = pw_node_get(own, "use");
    const char *used = pw_node_word(own, "use");
    if (used && strcmp(used, name) != 0 && pw_node_get(m->own, used) && depth == USE_DEPTH_MAX) {
      pw_reader_fault(m->r, use, "bad-use", "\"use\": \"%s\" leads in a circle, or through more than %d menus",
                      pw_node_shown(m->r, use), USE_DEPTH_MAX);
      return NULL;
    }
    base = used && strcmp(used, name) != 0 && pw_node_get(m->own, used) ? menu_named(m, use, depth + 1)
                                                                        : pw_node_get(m->shelf, used ? used : name);
    return base ? pw_entry_merge(base, own, m->r) : own;
  }
  base = pw_node_get(m->shelf, name);
  if (!own && !base)
    pw_reader_fault(m->r, at, "unknown-id", "there is no menu \"%s\"; %s", pw_node_shown(m->r, at), suggest(m, name));
  return own ? NULL : base; /* an own one that is no block has its fault */
}

static int line_of(const struct pw_node *list, const char *dish)
{
  for (int i = 0; i < list->n; i++) {
    const char *other = dish_of(list->items[i]);
    if (other && strcmp(other, dish) == 0)
      return i;
  }
  return -1;
}

/* A list of the block, NULL when it has none; a fault when it is no list. */
static const struct pw_node *list_of(const struct menus *m, const struct pw_node *block, const char *key)
{
  const struct pw_node *list = pw_node_get(block, key);
  if (list && list->kind != PW_NODE_LIST && list->kind != PW_NODE_BROKEN)
    pw_reader_fault(m->r, list, "bad-kind", "\"%s\" needs a list of dishes: [slaw, cookie]", key);
  return list && list->kind == PW_NODE_LIST ? list : NULL;
}

/* The dishes of a menu with those of the block taken out, changed or added. */
static struct pw_node *lines(const struct menus *m, const struct pw_node *dishes, const struct pw_node *block)
{
  const struct pw_node *without = list_of(m, block, "without"), *also = list_of(m, block, "also");
  struct pw_node *out = pw_node_copy(dishes, also ? also->n : 0, m->r);
  for (int i = 0; out && without && i < without->n; i++) {
    const struct pw_node *dish = without->items[i];
    const char *name = pw_node_text(m->r, dish, "without");
    int at = name ? line_of(out, name) : -1;
    if (name && at < 0)
      pw_reader_fault(m->r, dish, "unknown-dish", "\"without\": \"%s\" is not on this menu", pw_node_shown(m->r, dish));
    if (at < 0)
      continue;
    memmove(&out->items[at], &out->items[at + 1], (size_t)(out->n - at - 1) * sizeof(struct pw_node *));
    out->n--;
  }
  for (int i = 0; out && also && i < also->n; i++) {
    const char *name = dish_of(also->items[i]);
    int at = name ? line_of(out, name) : -1;
    struct pw_node *line = also->items[i];
    if (at < 0)
      at = out->n++;
    else if (line->kind == PW_NODE_MAP && out->items[at]->kind == PW_NODE_MAP)
      line = pw_entry_merge(out->items[at], line, m->r);
    if (!line)
      return NULL;
    out->items[at] = line;
  }
  return out;
}

static void unknown_keys(const struct menus *m, const struct pw_node *block)
{
  static const struct {
    const char *key;
  } keys[] = {{"use"}, {"without"}, {"also"}};
  for (int i = 0; i < block->n; i++) {
    const struct pw_pair *pair = &block->pairs[i];
    bool is_known = false;
    for (int k = 0; k < 3; k++)
      is_known = is_known || strcmp(pair->key, keys[k].key) == 0;
    const struct pw_node place = {.origin = block->origin, .line = pair->line, .col = pair->col};
    if (!is_known)
      pw_reader_fault(m->r, &place, "unknown-key", "a menu taken by its name has no \"%s\"; %s", pair->key,
                      pw_reader_suggest(m->r, pair->key, keys, 3, sizeof *keys, 0));
  }
}

/* The service with its named menu filled in; itself when it lists dishes.  After a fault its menu is broken, so that no more is
 * said of it. */
static struct pw_node *fill(const struct menus *m, struct pw_node *service)
{
  const struct pw_node *menu = pw_node_get(service, "menu");
  bool is_block = menu && menu->kind == PW_NODE_MAP;
  if (!menu || (!is_block && (menu->kind != PW_NODE_SCALAR || menu->is_empty)))
    return service;
  struct pw_node *out = pw_node_copy(service, 4, m->r), *broken = pw_node_copy(menu, 0, m->r), *filled = NULL;
  if (!out || !broken)
    return NULL;
  broken->kind = PW_NODE_BROKEN;
  const struct pw_node *name = is_block ? pw_node_get(menu, "use") : menu;
  if (!name)
    pw_reader_fault(m->r, menu, "missing-key",
                    "\"menu\" needs a list of dishes, or the name of a menu: {use: NAME, ...}");
  const struct pw_node *named = name ? menu_named(m, name, 0) : NULL, *dishes = pw_node_get(named, "dishes");
  if (is_block)
    unknown_keys(m, menu);
  if (named && !dishes)
    pw_reader_fault(m->r, name, "no-dishes", "the menu \"%s\" has no \"dishes\"", pw_node_shown(m->r, name));
  if (dishes && dishes->kind == PW_NODE_LIST && !(filled = lines(m, dishes, is_block ? menu : NULL)))
    return NULL;
  pw_node_put(out, "menu", filled ? filled : broken);
  static const char *const along[] = {"choice", "style", "length", "options"};
  for (int i = 0; i < 4; i++) {
    struct pw_node *value = pw_node_get(named, along[i]), *own = pw_node_get(out, along[i]);
    if (value && own && value->kind == PW_NODE_MAP && own->kind == PW_NODE_MAP)
      value = pw_entry_merge(value, own, m->r);
    else if (own)
      value = own;
    if (value)
      pw_node_put(out, along[i], value);
  }
  return out;
}

struct pw_node *pw_menus_fill(const struct pw_node *root, const struct pw_catalog *catalog, struct pw_reader *r)
{
  const struct menus m = {pw_node_get(root, "menus"), catalog->sections[PW_MENUS], r};
  const struct pw_node *services = pw_node_get(root, "services");
  struct pw_node *out = pw_node_copy(root, 1, r);
  if (!out || !services || services->kind != PW_NODE_LIST)
    return out;
  struct pw_node *list = pw_node_copy(services, 0, r);
  for (int i = 0; list && i < list->n; i++)
    if (list->items[i]->kind == PW_NODE_MAP && !(list->items[i] = fill(&m, list->items[i])))
      return NULL;
  if (!list)
    return NULL;
  pw_node_find(out, "services")->value = list;
  return out;
}
