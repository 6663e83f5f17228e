/* show.c - see show.h.  One walk over the event's tables beside its tree, the event's laid over its house's. */
#include "read/show.h"

#include "base/text.h"
#include "read/raw.h"
#include "read/read.h"

#include <string.h>

enum { VALUE_COLUMN = 34, PLACE_COLUMN = 64 };

struct walk {
  struct pw_buf *out;
  const struct pw_event *ev;
};

static void pad(struct walk *w, size_t from, size_t column)
{
  size_t width = w->out->n - from;
  do
    pw_buf_add_char(w->out, ' ');
  while (++width < column);
}

static void line(struct walk *w, int depth, const char *key, const char *value, const struct pw_node *at,
                 const char *origin)
{
  size_t from = w->out->n;
  for (int i = 0; i < 2 * depth; i++)
    pw_buf_add_char(w->out, ' ');
  pw_text_add_line(w->out, key);
  pw_buf_add_char(w->out, ':');
  pad(w, from, VALUE_COLUMN);
  pw_text_add_line(w->out, value);
  pad(w, from, PLACE_COLUMN);
  pw_buf_add(w->out, "# ");
  if (at) {
    const char *slash = at->origin->is_catalog ? strrchr(at->origin->file, '/') : NULL; /* a folder nobody works in */
    pw_buf_add(w->out, at->origin->is_catalog ? "catalog " : "");
    pw_text_add_line(w->out, slash ? slash + 1 : at->origin->file);
    pw_buf_printf(w->out, ":%d", at->line);
  } else {
    pw_buf_add(w->out, origin);
  }
  pw_buf_add_char(w->out, '\n');
}

static void node_show(struct walk *w, int depth, const char *key, const struct pw_node *node);

static void entries_show(struct walk *w, int depth, const struct pw_node *node)
{
  for (int i = 0; i < node->n; i++)
    if (node->kind == PW_NODE_MAP)
      node_show(w, depth, node->pairs[i].key, node->pairs[i].value);
    else
      node_show(w, depth, "-", node->items[i]);
}

/* As it is written, whatever it is. */
static void node_show(struct walk *w, int depth, const char *key, const struct pw_node *node)
{
  line(w, depth, key, node->kind == PW_NODE_SCALAR ? node->text : "", node, NULL);
  if (node->kind == PW_NODE_MAP || node->kind == PW_NODE_LIST)
    entries_show(w, depth + 1, node);
}

static void table_show(struct walk *w, const struct pw_table *table, const struct pw_node *map, int depth);

/* A key that is not written: its standard, or what its help says comes instead. */
static void standard_show(struct walk *w, const struct pw_field *f, int depth)
{
  const char *words = f->help ? strstr(f->help, "default: ") : NULL;
  if (f->type == PW_FT_BLOCK && !f->seen_offset) {
    line(w, depth, f->key, "", NULL, "not written: its standards");
    table_show(w, f->table, NULL, depth + 1);
  } else if (f->def || words) {
    line(w, depth, f->key, f->def ? f->def : words + strlen("default: "), NULL, "the program's standard");
  }
}

static void field_show(struct walk *w, const struct pw_field *f, const struct pw_node *node, int depth)
{
  if (f->type == PW_FT_BLOCK && node->kind == PW_NODE_MAP) {
    line(w, depth, f->key, "", node, NULL);
    table_show(w, f->table, node, depth + 1);
  } else if (f->type == PW_FT_LIST && node->kind == PW_NODE_LIST) {
    line(w, depth, f->key, "", node, NULL);
    for (int i = 0; i < node->n; i++) {
      const bool is_word = node->items[i]->kind != PW_NODE_MAP;
      line(w, depth + 1, "-", is_word && node->items[i]->text ? node->items[i]->text : "", node->items[i], NULL);
      if (!is_word)
        table_show(w, f->table, node->items[i], depth + 2);
    }
  } else {
    node_show(w, depth, f->key, node);
  }
}

static void table_show(struct walk *w, const struct pw_table *table, const struct pw_node *map, int depth)
{
  for (int i = 0; i < table->n; i++) {
    const struct pw_field *f = &table->fields[i];
    const struct pw_node *node = pw_node_get(map, f->key);
    if (node)
      field_show(w, f, node, depth);
    else
      standard_show(w, f, depth);
  }
}

static int heads_of(const struct pw_event *ev, int service)
{
  int heads = 0;
  for (int g = 0; g < ev->n_classes; g++)
    heads += ev->services[service].guests[g];
  return heads;
}

pw_status pw_event_show(struct pw_buf *out, const struct pw_event *ev, const struct pw_event *planned,
                        struct pw_ctx *ctx)
{
  (void)ctx;
  struct walk w = {.out = out, .ev = ev};
  if (!ev->source || !ev->source->root)
    return PW_OK;
  table_show(&w, &pw_table_event, ev->source->root, 0);
  pw_buf_add(out, "What was worked out from these:\n");
  for (int s = 0; s < ev->n_services; s++) {
    int heads = heads_of(ev, s), asked = heads_of(planned, s);
    pw_buf_add(out, "  meal ");
    pw_text_add_line(out, ev->services[s].id);
    pw_buf_printf(out, ": %d guests", asked);
    if (asked != heads)
      pw_buf_printf(out, " by option, %d in the file", heads);
    pw_buf_printf(out, ", %d dishes, %d min\n", ev->services[s].n_menu, ev->services[s].length_min);
  }
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}
