/* house.c - where a house file lies, what it may hold, and how an event is laid over it: tree on tree, before anything is typed, so
 * that every key an event has, now or later, may stand in the house and keeps its own place for faults. */
#include "read/house.h"

#include "base/arena.h"
#include "read/raw.h"
#include "read/source_file.h"
#include "read/tree_edit.h"
#include "read/twins.h"

#include <string.h>
#include <unistd.h>

/* ---- where it lies ---- */

/* The part of a path up to and with its last slash; "" for the current folder. */
static const char *folder_of(const char *path, struct pw_reader *r)
{
  const char *slash = strrchr(path, '/');
  return slash ? pw_reader_printf(r, "%.*s", (int)(slash - path) + 1, path) : "";
}

/* Within the event's folder or its parent: relative, and ".." only at its very beginning. */
static bool stays_near(const char *path)
{
  if (strncmp(path, "../", 3) == 0)
    path += 3;
  if (*path == '/' || *path == '\0')
    return false;
  for (; path; path = strchr(path, '/') ? strchr(path, '/') + 1 : NULL)
    if (strncmp(path, "..", 2) == 0 && (path[2] == '/' || path[2] == '\0'))
      return false;
  return true;
}

/* What the event says: the scalar itself, or "file" of a block; NULL: nothing. */
static const struct pw_node *name_node(const struct pw_node *event)
{
  const struct pw_node *house = pw_node_get(event, "house");
  return house && house->kind == PW_NODE_MAP ? pw_node_get(house, "file") : house;
}

/* *path is NULL when there is none to be read. */
static void find(const char **path, const struct pw_node *event, const char *event_path, struct pw_reader *r)
{
  const struct pw_node *named = name_node(event);
  const char *folder = folder_of(event_path, r);
  *path = NULL;
  if (!named) {
    const char *beside = pw_reader_printf(r, "%shouse.yaml", folder);
    if (strcmp(beside, event_path) != 0 && access(beside, F_OK) == 0)
      *path = beside;
    return;
  }
  const char *text = pw_node_text(r, named, "house");
  r->is_blind = r->is_blind || !text;
  if (!text || strcmp(text, "none") == 0)
    return;
  const char *wanted = pw_reader_printf(r, "%s%s", folder, text);
  if (!stays_near(text))
    pw_reader_fault(r, named, "bad-house",
                    "\"house\": \"%s\" does not lie in the event's folder or the one above it; write a name such as "
                    "house.yaml or ../house.yaml, or none",
                    pw_node_shown(r, named));
  else if (strcmp(wanted, event_path) == 0)
    pw_reader_fault(r, named, "bad-house", "\"house\": an event is not its own house file");
  else if (access(wanted, F_OK) != 0)
    pw_reader_fault(r, named, "bad-house", "\"house\": there is no file \"%s\"; write none to do without a house file",
                    pw_node_shown(r, named));
  else
    *path = wanted;
  r->is_blind = r->is_blind || !*path;
}

/* ---- what it may hold ---- */

/* What only an event can say, by the tables of the event. */
static void check(const struct pw_node *house, const struct pw_table *table, struct pw_reader *r)
{
  for (int i = 0; i < table->n; i++) {
    const struct pw_field *f = &table->fields[i];
    const struct pw_pair *pair = pw_node_find(house, f->key);
    if (pair && f->is_own) {
      const struct pw_node place = {.origin = house->origin, .line = pair->line, .col = pair->col};
      pw_reader_fault(r, &place, "of-event", "a house file has no \"%s\": it belongs to an event", f->key);
    } else if (pair && f->type == PW_FT_BLOCK) {
      check(pair->value, f->table, r);
    }
  }
}

pw_status pw_house_read_text(const struct pw_node **out, const char *name, const char *text, size_t n,
                             struct pw_reader *r)
{
  struct pw_node *root = NULL;
  struct pw_origin *origin = pw_reader_array(r, 1, sizeof *origin);
  *out = NULL;
  if (!origin)
    return PW_ERR_MEMORY;
  *origin = (struct pw_origin){.file = name};
  pw_status status = pw_yaml_read(&root, text, n, origin, r->ctx);
  if (status == PW_ERR_MEMORY)
    return status;
  if (!status && root && root->kind != PW_NODE_MAP)
    pw_reader_fault(r, root, "bad-kind", "a house file needs blocks such as \"pits:\", \"terms:\" and \"menus:\"");
  if (status || !root || root->kind != PW_NODE_MAP) {
    r->is_blind = true;
    return PW_OK;
  }
  check(root, &pw_table_event, r);
  *out = root;
  return r->is_out_of_memory ? PW_ERR_MEMORY : PW_OK;
}

pw_status pw_house_read(const struct pw_node **out, const struct pw_node *event, const char *event_path,
                        const char *spare, const char **text, struct pw_reader *r)
{
  const char *path = NULL;
  char *bytes = NULL;
  size_t n = 0;
  *out = NULL;
  *text = NULL;
  find(&path, event, event_path, r);
  if (!path && spare && !name_node(event))
    path = spare;
  if (!path || r->is_out_of_memory)
    return r->is_out_of_memory ? PW_ERR_MEMORY : PW_OK;
  pw_status status = pw_source_read_ordinary(&bytes, &n, path, r->ctx);
  if (status == PW_ERR_MEMORY)
    return status;
  if (status) {
    r->is_blind = true;
    return PW_OK;
  }
  *text = bytes;
  return pw_house_read_text(out, path, bytes, n, r);
}

/* ---- an event over it ---- */

/* The entry of a list of pits or finishers that goes by this name: its id, else what it uses, else the bare word itself; or the twin
 * of a counted entry, "box-2" of {id: box, count: 2}.  *is_none tells that there is none, for NULL is also want of memory. */
static struct pw_node *entry_named(const struct pw_node *list, const char *name, bool *is_none, struct pw_reader *r)
{
  *is_none = false;
  for (int i = 0; i < list->n; i++) {
    const struct pw_node *entry = list->items[i];
    const char *own = entry->kind == PW_NODE_SCALAR       ? entry->text
                      : pw_node_word(entry, "id") != NULL ? pw_node_word(entry, "id")
                                                          : pw_node_word(entry, "use");
    if (own && strcmp(own, name) == 0)
      return list->items[i];
  }
  for (int i = 0; i < list->n; i++) {
    int k = pw_twin_number(list->items[i], name);
    if (k > 0)
      return pw_twin(list->items[i], k, r);
  }
  *is_none = true;
  return NULL;
}

/* One entry of the event's list with the house's entry under it, if it names one; else itself. */
static struct pw_node *picked(const struct pw_node *house_list, struct pw_node *item, struct pw_reader *r)
{
  const char *name = item->kind == PW_NODE_SCALAR ? item->text : pw_node_word(item, "use");
  bool is_none = true;
  if (!name)
    name = pw_node_word(item, "id");
  struct pw_node *base = name ? entry_named(house_list, name, &is_none, r) : NULL;
  if (is_none)
    return item;
  if (!base || item->kind != PW_NODE_MAP)
    return base;
  if (base->kind == PW_NODE_SCALAR && !(base = pw_node_block("use", base, r)))
    return NULL;
  struct pw_node *over = pw_node_copy(item, 0, r);
  if (!over || !(base = pw_node_copy(base, 0, r)))
    return NULL;
  if (pw_node_get(over, "use") && pw_node_get(over, "id"))
    pw_node_drop(base, "count"); /* one more like it, by another name */
  pw_node_drop(over, "use");
  return pw_entry_merge(base, over, r);
}

static struct pw_node *picks(const struct pw_node *house_list, const struct pw_node *list, struct pw_reader *r)
{
  struct pw_node *out = pw_node_copy(list, 0, r);
  for (int i = 0; out && i < out->n; i++)
    if (!(out->items[i] = picked(house_list, out->items[i], r)))
      return NULL;
  return out;
}

/* Suppliers of both; of one name the event's counts.  An empty list wants none of the house's. */
static struct pw_node *suppliers(const struct pw_node *house_list, const struct pw_node *list, struct pw_reader *r)
{
  struct pw_node *out = pw_node_copy(list, house_list->n, r);
  if (!out)
    return NULL;
  for (int i = 0; list->n > 0 && i < house_list->n; i++) {
    const char *name = pw_node_word(house_list->items[i], "name");
    bool is_there = false;
    for (int k = 0; k < list->n && name; k++) {
      const char *own = pw_node_word(list->items[k], "name");
      is_there = is_there || (own && strcmp(own, name) == 0);
    }
    if (!is_there)
      out->items[out->n++] = house_list->items[i];
  }
  return out;
}

/* A list of the event with what it takes from the house's list of the same key. */
static bool lay_list(struct pw_node *event, const struct pw_node *house, const char *key,
                     struct pw_node *(*lay)(const struct pw_node *, const struct pw_node *, struct pw_reader *),
                     struct pw_reader *r)
{
  struct pw_pair *own = pw_node_find(event, key);
  const struct pw_node *base = pw_node_get(house, key);
  if (own && base && own->value->kind == PW_NODE_LIST && base->kind == PW_NODE_LIST)
    return (own->value = lay(base, own->value, r)) != NULL;
  return true;
}

struct pw_node *pw_house_under(const struct pw_node *house, const struct pw_node *event, struct pw_reader *r)
{
  struct pw_node *over = pw_node_copy(event, 0, r);
  struct pw_pair *named = pw_node_find(over, "house");
  if (!over)
    return NULL;
  if (named && named->value->kind == PW_NODE_SCALAR && !named->value->is_empty &&
      !(named->value = pw_node_block("file", named->value, r)))
    return NULL;
  if (!house)
    return over;
  if (!lay_list(over, house, "pits", picks, r) || !lay_list(over, house, "finishers", picks, r) ||
      !lay_list(over, house, "suppliers", suppliers, r))
    return NULL;
  return pw_entry_merge(house, over, r);
}
