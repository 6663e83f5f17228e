/* read_entries.c - catalog entries with the event's changes on top.  Merging happens on trees, before any typing, so
 * an override can reach every field and keeps its own place for faults. */
#include "base/arena.h"
#include "base/diag.h"
#include "read/raw.h"
#include "read/tree_edit.h"

#include <stdlib.h>
#include <string.h>

/* ---- merging ---- */

/* Keys that say one thing in two ways: a new one drops the old one. */
static bool is_replaced(const char *key, const struct pw_node *over)
{
  static const char *const either[][2] = {
      {"area", "pans"}, {"length", "diameter"}, {"offers", "made_of"}, {"margin", "food_share"}};
  for (size_t i = 0; i < sizeof either / sizeof *either; i++)
    for (int k = 0; k < 2; k++)
      if (strcmp(key, either[i][k]) == 0 && pw_node_find(over, either[i][1 - k]) && !pw_node_find(over, key))
        return true;
  return false;
}

/* The base's source, and that it is no longer the whole truth. */
static void source_amend(struct pw_node *merged, const struct pw_node *over, struct pw_reader *r)
{
  struct pw_pair *source = pw_node_find(merged, "source");
  bool is_changed = false;
  for (int i = 0; i < over->n; i++)
    is_changed = is_changed || (over->pairs[i].value->kind != PW_NODE_MAP && strcmp(over->pairs[i].key, "use") != 0 &&
                                strcmp(over->pairs[i].key, "id") != 0 && strcmp(over->pairs[i].key, "name") != 0);
  if (!source || !is_changed || pw_node_find(over, "source") || source->value->kind != PW_NODE_SCALAR)
    return;
  struct pw_node *amended = pw_reader_array(r, 1, sizeof *amended);
  char *text = pw_arena_printf(r->ctx->arena, "%s; changed in the event file", source->value->text);
  if (!amended || !text) {
    r->is_out_of_memory = true;
    return;
  }
  *amended = *source->value;
  amended->text = text;
  source->value = amended;
}

struct pw_node *pw_entry_merge(const struct pw_node *base, const struct pw_node *over, struct pw_reader *r)
{
  struct pw_node *merged = pw_reader_array(r, 1, sizeof *merged);
  if (!merged)
    return NULL;
  *merged = *over;
  if (!base || base->kind != PW_NODE_MAP || over->kind != PW_NODE_MAP)
    return merged;
  merged->n = 0;
  merged->pairs = pw_reader_array(r, base->n + over->n, sizeof *merged->pairs);
  if (!merged->pairs)
    return NULL;
  for (int i = 0; i < base->n; i++) {
    struct pw_pair pair = base->pairs[i];
    const struct pw_node *change = pw_node_get(over, pair.key);
    if (is_replaced(pair.key, over))
      continue;
    if (change && !(pair.value = pw_entry_merge(pair.value, change, r)))
      return NULL;
    merged->pairs[merged->n++] = pair;
  }
  for (int i = 0; i < over->n; i++)
    if (!pw_node_find(base, over->pairs[i].key))
      merged->pairs[merged->n++] = over->pairs[i];
  source_amend(merged, over, r);
  return merged;
}

/* ---- entries ---- */

struct entry {
  const char *id;
  const struct pw_node *node;
  bool is_scratch; /* read for its faults only */
};

static int entry_order(const void *a, const void *b)
{
  return strcmp(((const struct entry *)a)->id, ((const struct entry *)b)->id);
}

/* Where the entries of one section come from. */
struct shelf {
  const struct pw_node *section; /* of the catalog */
  const struct pw_node *own;     /* of event and house: a map, or the list of what is on the job; may be NULL */
  const struct pw_node *house;   /* the house's list of what it has, for suggestions; NULL */
  const char *what;
  struct pw_reader *r;
};

/* The event's or house's own entry of that name, other than `self`; NULL: none. */
static const struct pw_node *own_named(const struct shelf *s, const char *id, const struct pw_node *self)
{
  const struct pw_node *found = s->own && s->own->kind == PW_NODE_MAP ? pw_node_get(s->own, id) : NULL;
  for (int i = 0; s->own && s->own->kind == PW_NODE_LIST && i < s->own->n && !found; i++) {
    const char *given = pw_node_word(s->own->items[i], "id");
    found = given && strcmp(given, id) == 0 && s->own->items[i] != self ? s->own->items[i] : NULL;
  }
  return found && found != self && found->kind == PW_NODE_MAP ? found : NULL;
}

static const struct pw_node *block_of(const struct pw_node *entry, const char *key)
{
  const struct pw_node *block = entry && entry->kind == PW_NODE_MAP ? pw_node_get(entry, key) : NULL;
  return block && block->kind == PW_NODE_MAP ? block : NULL;
}

static const char *word_of(const struct pw_node *own, const struct pw_node *base, const char *key)
{
  const char *word = pw_node_word(own, key);
  return word ? word : pw_node_word(base, key);
}

/* A tray or a rack, of several units and no sphere: it is not thicker for being heavier. */
static bool is_several(const struct pw_node *own_piece, const struct pw_node *base_piece)
{
  const char *units = word_of(own_piece, base_piece, "units"), *shape = word_of(own_piece, base_piece, "shape");
  return units && strcmp(units, "1") != 0 && !(shape && strcmp(shape, "sphere") == 0);
}

/* A cut of another weight: the hours of its base were told for the base's piece, unless they are its own or say for which weight they
 * are. */
static bool stages_keep_weight(struct pw_node *merged, const struct pw_node *base, const struct pw_node *own,
                               struct pw_reader *r)
{
  static const char *const stages[] = {"smoke", "finish"};
  const struct pw_node *own_piece = block_of(own, "piece"), *base_piece = block_of(base, "piece");
  const struct pw_node *told_for = base_piece ? pw_node_get(base_piece, "weight") : NULL;
  if (!told_for || !own_piece || !pw_node_find(own_piece, "weight") || is_several(own_piece, base_piece))
    return true;
  for (size_t i = 0; i < sizeof stages / sizeof *stages; i++) {
    const struct pw_node *stage = block_of(merged, stages[i]), *own_stage = block_of(own, stages[i]);
    if (!block_of(base, stages[i]) || !stage || pw_node_find(stage, "weight") ||
        (own_stage && pw_node_find(own_stage, "time")))
      continue;
    struct pw_node *weighed = pw_node_copy(stage, 1, r), *weight = pw_node_copy(told_for, 0, r);
    if (!weighed || !weight)
      return false;
    pw_node_put(weighed, "weight", weight);
    pw_node_put(merged, stages[i], weighed);
  }
  return true;
}

/* The event's own node over its base, without "use" and "id". */
static struct pw_node *entry_make(const struct pw_node *base, const struct pw_node *own, struct pw_reader *r)
{
  struct pw_node *merged = pw_entry_merge(base, own, r);
  struct pw_pair *pairs = merged ? pw_reader_array(r, merged->n, sizeof *pairs) : NULL;
  if (!pairs)
    return NULL;
  if (merged->n)
    memcpy(pairs, merged->pairs, (size_t)merged->n * sizeof *pairs);
  merged->pairs = pairs; /* the parsed tree stays as it is */
  pw_node_drop(merged, "use");
  return stages_keep_weight(merged, base, own, r) ? merged : NULL;
}

enum { USE_DEPTH_MAX = 12 };

/* What could have been meant: the names of the house's own, of the event's own, of the catalog. */
static const char *suggest(const struct shelf *s, const char *id)
{
  const struct pw_node *own = s->own && s->own->kind == PW_NODE_MAP ? s->own : NULL,
                       *house = s->house && s->house->kind == PW_NODE_LIST ? s->house : NULL;
  struct name {
    const char *name;
  } *names = pw_reader_array(s->r, s->section->n + (own ? own->n : 0) + (house ? house->n : 0), sizeof *names);
  int n = 0;
  if (!names)
    return "";
  for (int i = 0; house && i < house->n; i++) {
    const struct pw_node *item = house->items[i];
    const char *name = item->kind == PW_NODE_SCALAR ? item->text
                       : pw_node_word(item, "id")   ? pw_node_word(item, "id")
                                                    : pw_node_word(item, "use");
    if (name && strcmp(name, id) != 0 && !pw_node_get(s->section, name))
      names[n++].name = name;
  }
  for (int i = 0; own && i < own->n; i++)
    if (strcmp(own->pairs[i].key, id) != 0 && !pw_node_get(s->section, own->pairs[i].key)) /* not itself */
      names[n++].name = own->pairs[i].key;
  for (int i = 0; i < s->section->n; i++)
    names[n++].name = s->section->pairs[i].key;
  return pw_reader_suggest(s->r, id, names, n, sizeof *names, offsetof(struct name, name));
}

/* What `use` of the entry `self` names: an entry of the event's or house's own, whole, else one of the catalog.  NULL after a fault;
 * *is_fine is false then. */
static const struct pw_node *use_find(const struct shelf *s, const struct pw_node *use, const struct pw_node *self,
                                      int depth, bool *is_fine)
{
  const char *id = pw_node_text(s->r, use, "use");
  const struct pw_node *base = NULL, *own = id ? own_named(s, id, self) : NULL;
  *is_fine = false;
  if (own && depth == USE_DEPTH_MAX) {
    pw_reader_fault(s->r, use, "bad-use", "\"use\": \"%s\" leads in a circle, or through more than %d entries",
                    pw_node_shown(s->r, use), USE_DEPTH_MAX);
  } else if (own) {
    const struct pw_node *next = pw_node_get(own, "use"), *under = NULL;
    *is_fine = true;
    if (next)
      under = use_find(s, next, own, depth + 1, is_fine);
    else if (s->own->kind == PW_NODE_MAP)
      under = pw_node_get(s->section, id); /* it changes the catalog's */
    struct pw_node *whole = *is_fine ? entry_make(under, own, s->r) : NULL;
    *is_fine = whole != NULL;
    if (whole)
      pw_node_drop(whole, "id");
    base = whole;
  } else if (id) {
    base = pw_node_get(s->section, id);
    *is_fine = base != NULL;
    if (!base)
      pw_reader_fault(s->r, use, "unknown-id", "the catalog has no %s \"%s\"; %s", s->what, pw_node_shown(s->r, use),
                      suggest(s, id));
  }
  return base;
}

/* Map sections: catalog entries the event leaves alone, and the event's own. */
static int entries_list(struct entry *out, const struct shelf *s)
{
  const struct pw_node *section = s->section, *own = s->own;
  struct pw_reader *r = s->r;
  int n = 0;
  for (int i = 0; i < section->n; i++)
    if (!pw_node_find(own, section->pairs[i].key))
      out[n++] = (struct entry){section->pairs[i].key, section->pairs[i].value, false};
  for (int i = 0; own && i < own->n; i++) {
    const struct pw_pair *pair = &own->pairs[i];
    struct pw_node place = {.origin = own->origin, .line = pair->line, .col = pair->col};
    if (pw_node_find(own, pair->key) != pair)
      continue; /* a second one, reported by the tree */
    if (!pw_id_is_sound(pair->key)) {
      pw_reader_fault(r, &place, "bad-id", "\"%s\" is not a short name: use letters, digits, \"-\" and \"_\"",
                      pair->key);
      continue;
    }
    if (pair->value->kind != PW_NODE_MAP) {
      if (pair->value->kind != PW_NODE_BROKEN)
        pw_reader_fault(r, &place, "bad-kind", "\"%s\" needs a block of keys under it: the fields to change",
                        pair->key);
      continue;
    }
    const struct pw_node *use = pw_node_get(pair->value, "use");
    bool is_fine = true;
    const struct pw_node *base = use ? use_find(s, use, pair->value, 0, &is_fine) : pw_node_get(section, pair->key);
    const struct pw_node *node = is_fine ? entry_make(base, pair->value, r) : NULL;
    if (node)
      out[n++] = (struct entry){pair->key, node, false};
  }
  return n;
}

/* List sections: what is on the job.  Catalog entries are listed as scratch behind it. */
static int picks_list(struct entry *out, const struct shelf *s)
{
  const struct pw_node *section = s->section, *list = s->own;
  const char *what = s->what;
  struct pw_reader *r = s->r;
  int n = 0;
  for (int i = 0; list && i < list->n; i++) {
    const struct pw_node *item = list->items[i], *base = NULL, *node = item, *id_node = item;
    const char *id = NULL;
    bool is_fine = true;
    if (item->kind == PW_NODE_SCALAR) {
      id = pw_node_text(r, item, what);
      node = id ? use_find(s, item, item, 0, &is_fine) : NULL;
    } else if (item->kind == PW_NODE_MAP) {
      const struct pw_node *use = pw_node_get(item, "use");
      const struct pw_node *given = pw_node_get(item, "id");
      id_node = given ? given : use;
      if (!id_node) {
        pw_reader_fault(r, item, "missing-key",
                        "a %s on the job needs \"use\" (an id of the catalog) or \"id\" (a name of its own)", what);
        continue;
      }
      id = pw_node_text(r, id_node, given ? "id" : "use");
      base = use ? use_find(s, use, item, 0, &is_fine) : id ? pw_node_get(section, id) : NULL;
      struct pw_node *merged = NULL;
      const struct pw_node *made = is_fine && id ? entry_make(base, item, r) : NULL;
      if (made && (merged = pw_reader_array(r, 1, sizeof *merged))) {
        *merged = *made;
        pw_node_drop(merged, "id");
      }
      node = merged;
    } else if (item->kind == PW_NODE_LIST) {
      pw_reader_fault(r, item, "bad-kind", "a %s on the job is an id or {use: id, ...}, not a list", what);
    }
    if (!id || !node || !is_fine)
      continue;
    if (!pw_id_is_sound(id)) {
      pw_reader_fault(r, id_node, "bad-id", "\"%s\" is not a short name: use letters, digits, \"-\" and \"_\"",
                      pw_node_shown(r, id_node));
      continue;
    }
    bool is_double = false;
    for (int k = 0; k < n; k++)
      is_double = is_double || strcmp(out[k].id, id) == 0;
    if (is_double)
      pw_reader_fault(r, id_node, "duplicate-id",
                      "%s \"%s\" is on the job already: give each its own id, {use: %s, id: %s-2}", what, id, id, id);
    else
      out[n++] = (struct entry){id, node, false};
  }
  for (int i = 0; i < section->n; i++)
    out[n++] = (struct entry){section->pairs[i].key, section->pairs[i].value, true};
  return n;
}

/* Reads the entries of one section; returns the array, the number that are not scratch, and all. */
static void *section_read(enum pw_section section, const struct pw_catalog *catalog, const struct pw_node *own,
                          const struct pw_node *house, int *n, int *n_read, struct pw_reader *r)
{
  const struct pw_table *table = pw_catalog_table(section);
  const struct pw_node *all = catalog->sections[section];
  struct entry *entries = pw_reader_array(r, all->n + (own ? own->n : 0), sizeof *entries);
  *n = *n_read = 0;
  if (!entries)
    return NULL;
  const bool is_list = section == PW_PITS || section == PW_FINISHERS;
  const struct shelf shelf = {all, own, house, pw_section_noun(section), r};
  int found = is_list ? picks_list(entries, &shelf) : entries_list(entries, &shelf);
  int n_own =
      0; /* pits and finishers stay as the event lists them; of the rest, what is reached is put in order by keep.c */
  while (is_list && n_own < found && !entries[n_own].is_scratch)
    n_own++;
  if (found > n_own)
    qsort(entries + n_own, (size_t)(found - n_own), sizeof *entries, entry_order);
  char *array = pw_reader_array(r, found, table->size);
  if (!array)
    return NULL;
  for (int i = 0; i < found; i++) {
    char *element = array + (size_t)i * table->size;
    memcpy(element + table->id_offset, &entries[i].id, sizeof entries[i].id);
    pw_schema_read(table, entries[i].node, element, r);
    *n += !entries[i].is_scratch;
    *n_read = found;
  }
  return array;
}

void pw_entries_read(struct raw_event *raw, const struct pw_catalog *catalog, const struct pw_node *house,
                     struct pw_reader *r)
{
  int n_read;
  raw->cuts = section_read(PW_CUTS, catalog, raw->entries[PW_CUTS], NULL, &raw->n_cuts, &n_read, r);
  raw->dishes = section_read(PW_DISHES, catalog, raw->entries[PW_DISHES], NULL, &raw->n_dishes, &n_read, r);
  raw->items = section_read(PW_ITEMS, catalog, raw->entries[PW_ITEMS], NULL, &raw->n_items, &n_read, r);
  raw->fuels = section_read(PW_FUELS, catalog, raw->entries[PW_FUELS], NULL, &raw->n_fuels, &n_read, r);
  raw->menus = section_read(PW_MENUS, catalog, raw->entries[PW_MENUS], NULL, &raw->n_menus, &n_read, r);
  raw->rules = section_read(PW_RULES, catalog, raw->entries[PW_RULES], NULL, &raw->n_rules, &n_read, r);
  raw->styles = section_read(PW_STYLES, catalog, raw->entries[PW_STYLES], NULL, &raw->n_styles, &n_read, r);
  raw->arrivals = section_read(PW_ARRIVALS, catalog, raw->entries[PW_ARRIVALS], NULL, &raw->n_arrivals, &n_read, r);
  raw->pits = section_read(PW_PITS, catalog, raw->entries[PW_PITS], pw_node_get(house, "pits"), &raw->n_pits,
                           &raw->n_pits_read, r);
  raw->finishers = section_read(PW_FINISHERS, catalog, raw->entries[PW_FINISHERS], pw_node_get(house, "finishers"),
                                &raw->n_finishers, &raw->n_finishers_read, r);
}
