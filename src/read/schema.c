/* schema.c - one walk over a table: every key of the map must be in it, every required field must be in the map,
 * each value is read by its type and held against its limits.  All faults of a map are found in one go. */
#include "read/schema.h"

#include "read/fields.h"

#include <string.h>

/* ---- lists, maps, blocks ---- */

/* True when the node is of the kind; else a fault. */
static bool is_kind(const struct pw_field *f, const struct pw_node *node, enum pw_node_kind kind, struct pw_reader *r)
{
  if (node->kind == kind)
    return true;
  if (node->kind == PW_NODE_SCALAR && node->is_empty)
    pw_reader_fault(r, node, "no-value", "\"%s\" has nothing after its colon: write a value or delete the line",
                    f->key);
  else if (node->kind != PW_NODE_BROKEN)
    pw_reader_fault(r, node, "bad-kind",
                    kind == PW_NODE_LIST
                        ? "\"%s\" needs a list: write each item on a line of its own that begins with \"- \", or [a, b]"
                        : "\"%s\" needs a block of keys: write \"key: value\" lines under it, or {key: value, ...}",
                    f->key);
  return false;
}

static void words_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  if (!is_kind(f, node, PW_NODE_LIST, r))
    return;
  const char **words = pw_reader_array(r, node->n, sizeof *words);
  if (!words)
    return;
  int n = 0;
  for (int i = 0; i < node->n; i++) {
    struct pw_field one = {.key = f->key, .type = PW_FT_TEXT};
    pw_field_read(&one, node->items[i], &words[n], r);
    n += words[n] != NULL;
  }
  pw_field_put(out, f->offset, &words, sizeof words);
  pw_field_put(out, f->count_offset, &n, sizeof n);
}

static void flags_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  unsigned bits = 0;
  if (!is_kind(f, node, PW_NODE_LIST, r))
    return;
  for (int i = 0; i < node->n; i++) {
    int bit = pw_field_choice(f, node->items[i], r);
    if (bit >= 0)
      bits |= 1u << bit;
  }
  if (node->n == 0)
    pw_reader_fault(r, node, "no-value", "\"%s\" is an empty list; write one or more of %s", f->key,
                    pw_reader_choices(r, f->choices));
  pw_field_put(out, f->offset, &bits, sizeof bits);
}

/* {bare_key: text} for an item that is plain text. */
static const struct pw_node *item_as_map(const struct pw_table *table, const struct pw_node *item, struct pw_reader *r)
{
  if (item->kind != PW_NODE_SCALAR || item->is_empty || !table->bare_key)
    return item;
  struct pw_node *map = pw_reader_array(r, 1, sizeof *map);
  struct pw_pair *pair = pw_reader_array(r, 1, sizeof *pair);
  struct pw_node *value = pw_reader_array(r, 1, sizeof *value);
  if (!map || !pair || !value)
    return item;
  *value = *item;
  *pair = (struct pw_pair){table->bare_key, item->line, item->col, value};
  *map = (struct pw_node){
      .kind = PW_NODE_MAP, .origin = item->origin, .line = item->line, .col = item->col, .pairs = pair, .n = 1};
  return map;
}

static void list_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  if (!is_kind(f, node, PW_NODE_LIST, r))
    return;
  char *array = pw_reader_array(r, node->n, f->table->size);
  if (!array)
    return;
  int n = 0;
  for (int i = 0; i < node->n; i++) {
    const struct pw_node *item = item_as_map(f->table, node->items[i], r);
    if (item->kind == PW_NODE_MAP)
      pw_schema_read(f->table, item, array + (size_t)n++ * f->table->size, r);
    else if (item->kind != PW_NODE_BROKEN)
      pw_reader_fault(r, item, "bad-kind", "an item of \"%s\" must be %s: {key: value, ...}", f->key, f->table->what);
  }
  pw_field_put(out, f->offset, &array, sizeof array);
  pw_field_put(out, f->count_offset, &n, sizeof n);
}

static void map_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  if (!is_kind(f, node, PW_NODE_MAP, r))
    return;
  char *array = pw_reader_array(r, node->n, f->table->size);
  if (!array)
    return;
  int n = 0;
  for (int i = 0; i < node->n; i++) {
    const struct pw_pair *pair = &node->pairs[i];
    struct pw_field one = {.key = pair->key};
    if (pw_node_find(node, pair->key) != pair)
      continue; /* a second one, reported by the tree */
    struct pw_node place = {.origin = pair->value->origin, .line = pair->line, .col = pair->col};
    if (!pw_id_is_sound(pair->key))
      pw_reader_fault(r, &place, "bad-id", "\"%s\" is not a short name: use letters, digits, \"-\" and \"_\"",
                      pair->key);
    else if (is_kind(&one, pair->value, PW_NODE_MAP, r)) {
      void *element = array + (size_t)n++ * f->table->size;
      pw_field_put(element, f->table->id_offset, &pair->key, sizeof pair->key);
      pw_schema_read(f->table, pair->value, element, r);
    }
  }
  pw_field_put(out, f->offset, &array, sizeof array);
  pw_field_put(out, f->count_offset, &n, sizeof n);
}

static void field_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  switch (f->type) {
  case PW_FT_FLAGS:
    flags_read(f, node, out, r);
    return;
  case PW_FT_WORDS:
    words_read(f, node, out, r);
    return;
  case PW_FT_COUNTS:
    if (node->kind == PW_NODE_SCALAR ? !pw_node_text(r, node, f->key) : !is_kind(f, node, PW_NODE_MAP, r))
      return;
    break;
  case PW_FT_SHARES:
  case PW_FT_ENTRIES:
  case PW_FT_PICKS:
    if (!is_kind(f, node, f->type == PW_FT_PICKS ? PW_NODE_LIST : PW_NODE_MAP, r))
      return;
    break;
  case PW_FT_TIME:
  case PW_FT_AMOUNT:
  case PW_FT_PRICE:
    if (!pw_node_text(r, node, f->key))
      return;
    break;
  case PW_FT_BLOCK:
    if (is_kind(f, node, PW_NODE_MAP, r))
      pw_schema_read(f->table, node, (char *)out + f->offset, r);
    return;
  case PW_FT_LIST:
    list_read(f, node, out, r);
    return;
  case PW_FT_MAP:
    map_read(f, node, out, r);
    return;
  default:
    pw_field_read(f, node, out, r);
    return;
  }
  pw_field_put(out, f->offset, &node, sizeof node); /* typed late */
}

/* ---- tables ---- */

static const struct pw_field *field_find(const struct pw_table *table, const char *key)
{
  for (int i = 0; i < table->n; i++)
    if (strcmp(table->fields[i].key, key) == 0)
      return &table->fields[i];
  return NULL;
}

/* The block of this table that has the key, so that who forgot to put it in is told where it belongs; NULL. */
static const char *block_with(const struct pw_table *table, const char *key)
{
  for (int i = 0; i < table->n; i++)
    if (table->fields[i].type == PW_FT_BLOCK && field_find(table->fields[i].table, key))
      return table->fields[i].key;
  return NULL;
}

static bool is_block_of(const struct pw_table *root, const struct pw_table *table)
{
  bool is_one = false;
  for (int i = 0; i < root->n; i++)
    is_one = is_one || (root->fields[i].type == PW_FT_BLOCK && root->fields[i].table == table);
  return is_one;
}

static void unknown_key(const struct pw_table *table, const struct pw_node *map, const struct pw_pair *pair,
                        struct pw_reader *r)
{
  struct pw_node place = {.origin = map->origin, .line = pair->line, .col = pair->col};
  place.origin = pair->value->origin;
  if (table->old_key && strcmp(pair->key, table->old_key) == 0) {
    pw_reader_fault(r, &place, "unknown-key", "%s has no \"%s\" any more: it is called \"%s\" now", table->what,
                    pair->key, table->new_key);
    return;
  }
  const char *block = block_with(table, pair->key);
  if (!block && r->root && is_block_of(r->root, table)) { /* of a block beside this one, or of none */
    if (field_find(r->root, pair->key)) {
      pw_reader_fault(r, &place, "unknown-key", "%s has no \"%s\"; \"%s:\" stands at the left margin, in no block",
                      table->what, pair->key, pair->key);
      return;
    }
    block = block_with(r->root, pair->key);
  }
  if (block) {
    pw_reader_fault(r, &place, "unknown-key", "%s has no \"%s\"; it belongs in the \"%s\" block: %s: {%s: ...}",
                    table->what, pair->key, block, block, pair->key);
    return;
  }
  if (pair->value->is_empty && pair->value->kind == PW_NODE_SCALAR && strspn(pair->key, "0123456789") > 0) {
    pw_reader_fault(
        r, &place, "unknown-key",
        "a comma ends a value between braces, so %s has a \"%s\" of its own here: write the value before it "
        "without a comma, or in quotes",
        table->what, pair->key);
    return;
  }
  pw_reader_fault(
      r, &place, "unknown-key", "%s has no \"%s\"; %s", table->what, pair->key,
      pw_reader_suggest(r, pair->key, table->fields, table->n, sizeof *table->fields, offsetof(struct pw_field, key)));
}

bool pw_field_is_own(const struct pw_field *f)
{
  bool is_own = f->is_own;
  for (int i = 0; f->type == PW_FT_BLOCK && i < f->table->n; i++)
    is_own = is_own || (f->table->fields[i].is_own && f->table->fields[i].is_required);
  return is_own;
}

/* What a missing field would look like. */
static const char *wanted(const struct pw_field *f, struct pw_reader *r)
{
  switch (f->type) {
  case PW_FT_QUANTITY:
  case PW_FT_WHOLE:
    return pw_reader_printf(r, "%s, such as \"%s: %s\"", pw_dim_noun(f->dim), f->key, pw_dim_example(f->dim));
  case PW_FT_CHOICE:
    return pw_reader_choices(r, f->choices);
  case PW_FT_DATE:
    return "such as 2027-06-12";
  case PW_FT_TIME:
    return "such as \"17:30\"";
  default:
    return f->help;
  }
}

static void missing_field(const struct pw_table *table, const struct pw_field *f, const struct pw_node *map, void *out,
                          struct pw_reader *r)
{
  struct pw_node *stand_in = pw_reader_array(r, 1, sizeof *stand_in);
  if (!stand_in)
    return;
  *stand_in = (struct pw_node){.kind = f->def ? PW_NODE_SCALAR : PW_NODE_MAP,
                               .origin = map->origin,
                               .line = map->line,
                               .col = map->col,
                               .text = f->def};
  if (f->def) {
    field_read(f, stand_in, out, r);
  } else if (f->is_source && !map->origin->is_catalog) {
    const char *source = "the event file";
    pw_field_put(out, f->offset, &source, sizeof source);
  } else if (f->is_source) {
    pw_reader_fault(r, map, "no-source",
                    "%s needs \"source\": where its numbers come from (\"our own weighings\" will do)", table->what);
  } else if (f->is_required && r->is_blind && !pw_field_is_own(f)) {
    return; /* it may stand in the file that could not be read */
  } else if (f->is_required) {
    pw_reader_fault(r, map, "missing-key", "%s needs \"%s\" (%s)", table->what, f->key, wanted(f, r));
  } else if (f->type == PW_FT_BLOCK && !f->seen_offset) { /* the defaults of an absent block */
    pw_schema_read(f->table, stand_in, (char *)out + f->offset, r);
  }
}

void pw_schema_read(const struct pw_table *table, const struct pw_node *map, void *out, struct pw_reader *r)
{
  if (table->at_offset)
    pw_field_put(out, table->at_offset - 1, &map, sizeof map);
  for (int i = 0; i < map->n; i++) {
    const struct pw_field *f = field_find(table, map->pairs[i].key);
    if (!f)
      unknown_key(table, map, &map->pairs[i], r);
  }
  for (int i = 0; i < table->n && !r->is_out_of_memory; i++) {
    const struct pw_field *f = &table->fields[i];
    const struct pw_pair *pair = pw_node_find(map, f->key);
    if (!pair) {
      missing_field(table, f, map, out, r);
      continue;
    }
    const bool is_seen = true;
    if (f->seen_offset)
      pw_field_put(out, f->seen_offset - 1, &is_seen, sizeof is_seen);
    field_read(f, pair->value, out, r);
  }
}
