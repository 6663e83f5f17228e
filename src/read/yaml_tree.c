/* yaml_tree.c - the only file that knows libyaml.  Its parser gives events; they become our own tree, and all that
 * the dialect leaves out is refused here with its place.  The bytes are checked first (source_check.c), because the
 * library reports bad bytes at line 1, column 1. */
#include "read/yaml_tree.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/text.h"
#include "read/source_check.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <yaml.h>

struct reader {
  yaml_parser_t *parser;
  const char *text;
  size_t n;
  const struct pw_origin *origin;
  struct pw_ctx *ctx;
};

static int line_of(yaml_mark_t mark) { return (int)mark.line + 1; }
static int col_of(yaml_mark_t mark) { return (int)mark.column + 1; }

static void fault_at(struct reader *r, const char *code, yaml_mark_t mark, const char *text)
{
  pw_diag_add(r->ctx, PW_ERROR, code, r->origin->file, line_of(mark), col_of(mark), "%s", text);
}

/* ---- syntax errors in kitchen words ---- */

static const struct {
  const char *problem; /* begins so, in the library's words */
  const char *text;
} WORDS[] = {
    {"mapping values are not allowed",
     "a second \":\" in this line, or wrong indentation: put text that contains \": \" in "
     "quotes, and begin keys of one block in one column"},
    {"could not find expected ':'",
     "a \"key: value\" line is expected here: the colon (or the blank after it) is missing"},
    {"did not find expected key",
     "this line does not fit the lines above: check its indentation, and brackets and quotes "
     "that were opened above"},
    {"did not find expected '-' indicator",
     "this line is not indented like those above it, or the \"- \" of a list item is missing"},
    {"did not find expected ',' or ']'", "a list that was opened with \"[\" misses a comma or its \"]\""},
    {"did not find expected ',' or '}'", "a map that was opened with \"{\" misses a comma or its \"}\""},
    {"found unexpected end of stream", "a quote that was opened is never closed"},
    {"found unexpected document indicator", "a quote that was opened is never closed"},
    {"block sequence entries are not allowed", "a list item \"- \" cannot stand here: begin it on a line of its own"},
    {"did not find expected node content", "a value is missing here"},
    {"found unknown escape character",
     "a backslash in double quotes begins a code such as \\n: write \\\\ for the character, or use "
     "single quotes"},
    {"found invalid Unicode character escape code",
     "this backslash code is not a character: write the character itself"},
    {"did not find expected <document start>",
     "there is text after the end of the file's one block: check the indentation"},
    {"found a tab character", "a tab is used for indentation: use blanks"},
    {"did not find expected alphabetic", "a word that begins with & or * needs quotes"},
};

static void syntax_fault(struct reader *r)
{
  yaml_parser_t *p = r->parser;
  const char *problem = p->problem ? p->problem : "this is not YAML", *text = NULL;
  if (strncmp(problem, "found character that cannot start any token", 43) == 0) {
    size_t at = pw_source_offset(r->text, r->n, line_of(p->problem_mark), col_of(p->problem_mark));
    char c = at < r->n ? r->text[at] : ' ';
    text = c == '\t' ? "a tab is used for indentation: use blanks" : "text that begins with @, ` or % needs quotes";
  }
  for (size_t i = 0; !text && i < sizeof WORDS / sizeof *WORDS; i++)
    if (strncmp(problem, WORDS[i].problem, strlen(WORDS[i].problem)) == 0)
      text = WORDS[i].text;
  if (!text)
    text = problem;
  if (p->context && p->context_mark.line != p->problem_mark.line)
    pw_diag_add(r->ctx, PW_ERROR, "yaml-syntax", r->origin->file, line_of(p->problem_mark), col_of(p->problem_mark),
                "%s (it belongs to what begins in line %d)", text, line_of(p->context_mark));
  else
    fault_at(r, "yaml-syntax", p->problem_mark, text);
}

/* ---- events to nodes ---- */

static pw_status next_event(struct reader *r, yaml_event_t *event)
{
  if (yaml_parser_parse(r->parser, event))
    return PW_OK;
  if (r->parser->error == YAML_MEMORY_ERROR)
    return PW_ERR_MEMORY;
  syntax_fault(r);
  return PW_ERR_INPUT;
}

static struct pw_node *node_new(struct reader *r, enum pw_node_kind kind, yaml_mark_t mark)
{
  struct pw_node *node = pw_arena_alloc(r->ctx->arena, sizeof *node);
  if (node)
    *node = (struct pw_node){.kind = kind, .origin = r->origin, .line = line_of(mark), .col = col_of(mark)};
  return node;
}

/* Anchors and tags may stand before any node. */
static void refuse_marks(struct reader *r, const yaml_event_t *event, const yaml_char_t *anchor, const yaml_char_t *tag)
{
  if (anchor)
    fault_at(r, "yaml-anchor", event->start_mark,
             "\"&name\" anchors are not used here: write the entry out, or take it from the catalog with \"use: id\"");
  if (tag)
    fault_at(r, "yaml-tag", event->start_mark, "\"!type\" tags are not used here: write the value alone");
}

static pw_status scalar_new(struct reader *r, const yaml_event_t *event, struct pw_node **out)
{
  refuse_marks(r, event, event->data.scalar.anchor, event->data.scalar.tag);
  struct pw_node *node = node_new(r, PW_NODE_SCALAR, event->start_mark);
  const char *text = (const char *)event->data.scalar.value;
  size_t n = event->data.scalar.length;
  char *copy = node ? pw_arena_strndup(r->ctx->arena, text, n) : NULL;
  if (!copy)
    return PW_ERR_MEMORY;
  enum pw_text_fault fault = pw_text_check(text, n, SIZE_MAX, true, NULL);
  if (fault) { /* written as an escape: "\0", "\x1b" */
    pw_diag_add(r->ctx, PW_ERROR, "yaml-character", r->origin->file, node->line, node->col,
                "this text holds %s, written as an escape: only visible characters are allowed",
                pw_text_fault_words(fault));
    node->kind = PW_NODE_BROKEN;
  }
  bool is_plain = event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
  node->text = copy;
  node->is_empty = is_plain && (n == 0 || strcmp(copy, "~") == 0 || strcmp(copy, "null") == 0);
  *out = node;
  return PW_OK;
}

static pw_status node_read(struct reader *r, const yaml_event_t *event, int depth, struct pw_node **out);

static bool is_plain_scalar(const yaml_event_t *event)
{
  return event->type == YAML_SCALAR_EVENT && event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE;
}

static pw_status list_read(struct reader *r, struct pw_node *list, int depth)
{
  size_t cap = 0;
  for (;;) {
    yaml_event_t event;
    pw_status status = next_event(r, &event);
    if (status)
      return status;
    if (event.type == YAML_SEQUENCE_END_EVENT) {
      yaml_event_delete(&event);
      return PW_OK;
    }
    struct pw_node *item = NULL;
    status = node_read(r, &event, depth + 1, &item);
    yaml_event_delete(&event);
    if (!status && pw_arena_grow(r->ctx->arena, &list->items, &cap, (size_t)list->n, sizeof *list->items) != 0)
      status = PW_ERR_MEMORY;
    if (status)
      return status;
    list->items[list->n++] = item;
  }
}

static int pair_order(const void *a, const void *b)
{
  const struct pw_pair *x = *(const struct pw_pair *const *)a, *y = *(const struct pw_pair *const *)b;
  int order = strcmp(x->key, y->key);
  return order ? order : (x > y) - (x < y); /* equal keys in file order */
}

/* Every key that stands a second time is a fault; the first stays. */
static pw_status refuse_duplicates(struct reader *r, struct pw_node *map)
{
  struct pw_pair **sorted = pw_arena_array(r->ctx->arena, (size_t)map->n, sizeof(struct pw_pair *));
  if (!sorted)
    return PW_ERR_MEMORY;
  for (int i = 0; i < map->n; i++)
    sorted[i] = &map->pairs[i];
  qsort(sorted, (size_t)map->n, sizeof(struct pw_pair *), pair_order);
  for (int i = 1, first = 0; i < map->n; i++) {
    if (strcmp(sorted[i]->key, sorted[first]->key) != 0) {
      first = i;
      continue;
    }
    pw_diag_add(r->ctx, PW_ERROR, "duplicate-key", r->origin->file, sorted[i]->line, sorted[i]->col,
                "\"%s\" is here a second time, first in line %d: keep one of them", sorted[i]->key,
                sorted[first]->line);
  }
  return PW_OK;
}

/* Reads one key.  *key is NULL for a key that is refused; its value is read all the same. */
static pw_status key_read(struct reader *r, const yaml_event_t *event, int depth, const char **key)
{
  struct pw_node *node = NULL;
  *key = NULL;
  if (event->type == YAML_SCALAR_EVENT && event->data.scalar.style == YAML_PLAIN_SCALAR_STYLE &&
      strcmp((const char *)event->data.scalar.value, "<<") == 0) {
    fault_at(r, "yaml-merge", event->start_mark,
             "\"<<\" merging is not used here: take an entry from the catalog with \"use: id\"");
    return PW_OK;
  }
  pw_status status = node_read(r, event, depth + 1, &node);
  if (status)
    return status;
  if (node->kind == PW_NODE_MAP || node->kind == PW_NODE_LIST)
    fault_at(r, "yaml-key", event->start_mark,
             "a key must be a plain word, not a list or a map: is \"{...}\" or \"[...]\" meant as a value?");
  else if (node->kind == PW_NODE_SCALAR && (node->is_empty || !*node->text))
    fault_at(r, "yaml-key", event->start_mark, "a key is missing before the colon");
  else if (node->kind == PW_NODE_SCALAR)
    *key = node->text;
  return PW_OK;
}

/* "1" or "$1" or "1,900": digits at its end, three at most, that a group of thousands may follow. */
static bool ends_in_group(const char *text)
{
  size_t n = strlen(text), digits = 0;
  while (digits < n && isdigit((unsigned char)text[n - 1 - digits]))
    digits++;
  char before = digits < n ? text[n - 1 - digits] : ' ';
  return digits >= 1 && digits <= 3 && (before != ',' || digits == 3) && before != '.';
}

/* "900" or "900.00" or "900 ft": three digits and no fourth. */
static bool is_group(const char *text)
{
  return strspn(text, "0123456789") == 3 && (text[3] == '\0' || text[3] == '.' || text[3] == ' ' || text[3] == '%');
}

/* "1,900" between braces: a comma ends a value there, so the reader finds 1 and then a key "900" without a value.  No key is a
 * number, and nothing but the comma stands between the two: it is put back as it was typed.  "1, 900" is not. */
static bool is_torn(const struct pw_node *last, size_t last_end, const struct pw_pair *pair, size_t pair_at)
{
  return last && last->kind == PW_NODE_SCALAR && !last->is_empty && pair_at == last_end + 1 && pair->key &&
         pair->value->kind == PW_NODE_SCALAR && pair->value->is_empty && ends_in_group(last->text) &&
         is_group(pair->key);
}

static pw_status map_read(struct reader *r, struct pw_node *map, int depth)
{
  size_t cap = 0, last_end = 0;
  bool is_last_plain = false;
  for (;;) {
    yaml_event_t event;
    pw_status status = next_event(r, &event);
    if (status)
      return status;
    if (event.type == YAML_MAPPING_END_EVENT) {
      yaml_event_delete(&event);
      return refuse_duplicates(r, map);
    }
    struct pw_pair pair = {.line = line_of(event.start_mark), .col = col_of(event.start_mark)};
    size_t key_at = event.start_mark.index, key_end = event.end_mark.index;
    bool is_key_plain = is_plain_scalar(&event);
    status = key_read(r, &event, depth, &pair.key);
    yaml_event_delete(&event);
    if (!status)
      status = next_event(r, &event);
    if (status)
      return status;
    size_t value_end = event.end_mark.index;
    bool is_value_plain = is_plain_scalar(&event);
    status = node_read(r, &event, depth + 1, &pair.value);
    yaml_event_delete(&event);
    struct pw_node *last = map->n > 0 && is_last_plain && is_key_plain ? map->pairs[map->n - 1].value : NULL;
    if (!status && is_torn(last, last_end, &pair, key_at)) {
      last->text = pw_arena_printf(r->ctx->arena, "%s,%s", last->text, pair.key);
      last_end = key_end;
      if (!last->text)
        return PW_ERR_MEMORY;
      continue;
    }
    last_end = value_end;
    is_last_plain = is_value_plain && pair.key;
    if (!status && pw_arena_grow(r->ctx->arena, &map->pairs, &cap, (size_t)map->n, sizeof *map->pairs) != 0)
      status = PW_ERR_MEMORY;
    if (status)
      return status;
    if (pair.key)
      map->pairs[map->n++] = pair;
  }
}

static pw_status node_read(struct reader *r, const yaml_event_t *event, int depth, struct pw_node **out)
{
  if (depth > PW_YAML_DEPTH_MAX) {
    fault_at(r, "yaml-depth", event->start_mark, "more than 64 levels of lists and maps inside each other");
    return PW_ERR_INPUT;
  }
  switch (event->type) {
  case YAML_SCALAR_EVENT:
    return scalar_new(r, event, out);
  case YAML_SEQUENCE_START_EVENT:
    refuse_marks(r, event, event->data.sequence_start.anchor, event->data.sequence_start.tag);
    if (!(*out = node_new(r, PW_NODE_LIST, event->start_mark)))
      return PW_ERR_MEMORY;
    return list_read(r, *out, depth);
  case YAML_MAPPING_START_EVENT:
    refuse_marks(r, event, event->data.mapping_start.anchor, event->data.mapping_start.tag);
    if (!(*out = node_new(r, PW_NODE_MAP, event->start_mark)))
      return PW_ERR_MEMORY;
    return map_read(r, *out, depth);
  default: /* an alias */
    fault_at(r, "yaml-alias", event->start_mark,
             "\"*name\" aliases are not used here: write the entry out, or take it from the catalog with \"use: id\"");
    return (*out = node_new(r, PW_NODE_BROKEN, event->start_mark)) ? PW_OK : PW_ERR_MEMORY;
  }
}

/* Stream: one document, or as many as are asked for, and nothing behind them.  NULL stands for an empty one. */
static pw_status documents_read(struct reader *r, struct pw_node **out, int *n, int most)
{
  int n_documents = 0;
  for (;;) {
    yaml_event_t event;
    pw_status status = next_event(r, &event);
    if (status)
      return status;
    yaml_event_type_t type = event.type;
    if (type == YAML_DOCUMENT_START_EVENT && ++n_documents > most) {
      if (most == 1)
        fault_at(r, "yaml-second", event.start_mark, "a second document begins here (\"---\"): one file holds one");
      else
        fault_at(r, "yaml-second", event.start_mark, "too many documents (\"---\"): write the changes into the first");
      yaml_event_delete(&event);
      return PW_OK;
    }
    if (type != YAML_STREAM_START_EVENT && type != YAML_DOCUMENT_START_EVENT && type != YAML_DOCUMENT_END_EVENT &&
        type != YAML_STREAM_END_EVENT) {
      status = node_read(r, &event, 1, &out[*n]);
      *n += status == PW_OK;
    }
    yaml_event_delete(&event);
    if (status || type == YAML_STREAM_END_EVENT)
      return status;
  }
}

static pw_status all_read(struct pw_node **out, int *n_out, int most, const char *text, size_t n,
                          const struct pw_origin *origin, struct pw_ctx *ctx)
{
  *n_out = 0;
  if (n > PW_YAML_BYTES_MAX) {
    pw_diag_add(ctx, PW_ERROR, "yaml-size", origin->file, 0, 0,
                "the file is larger than 1 MiB: this is not an event or a catalog");
    return PW_ERR_INPUT;
  }
  if (!pw_source_check(text, n, origin->file, ctx))
    return PW_ERR_INPUT;
  yaml_parser_t parser;
  if (!yaml_parser_initialize(&parser))
    return PW_ERR_MEMORY;
  struct reader r = {.parser = &parser, .text = text, .n = n, .origin = origin, .ctx = ctx};
  size_t skip = pw_source_mark_size(text, n);
  yaml_parser_set_input_string(&parser, (const unsigned char *)text + skip, n - skip);
  yaml_parser_set_encoding(&parser, YAML_UTF8_ENCODING);
  pw_status status = documents_read(&r, out, n_out, most);
  yaml_parser_delete(&parser);
  if (status)
    return status;
  if (*n_out == 0 || (out[0]->kind == PW_NODE_SCALAR && out[0]->is_empty)) {
    pw_diag_add(ctx, PW_ERROR, "yaml-empty", origin->file, 1, 1, "the file is empty");
    return PW_ERR_INPUT;
  }
  return PW_OK;
}

pw_status pw_yaml_read(struct pw_node **out, const char *text, size_t n, const struct pw_origin *origin,
                       struct pw_ctx *ctx)
{
  struct pw_node *root[1] = {NULL};
  int n_read = 0;
  pw_status status = all_read(root, &n_read, 1, text, n, origin, ctx);
  *out = status ? NULL : root[0];
  return status;
}

pw_status pw_yaml_read_all(struct pw_node *out[PW_YAML_DOCUMENTS_MAX], int *n_out, const char *text, size_t n,
                           const struct pw_origin *origin, struct pw_ctx *ctx)
{
  return all_read(out, n_out, PW_YAML_DOCUMENTS_MAX, text, n, origin, ctx);
}

struct pw_pair *pw_node_find(const struct pw_node *map, const char *key)
{
  if (!map || map->kind != PW_NODE_MAP)
    return NULL;
  for (int i = 0; i < map->n; i++)
    if (strcmp(map->pairs[i].key, key) == 0)
      return &map->pairs[i];
  return NULL;
}

struct pw_node *pw_node_get(const struct pw_node *map, const char *key)
{
  struct pw_pair *pair = pw_node_find(map, key);
  return pair ? pair->value : NULL;
}
