/* shuffle.h - for tests of order: a YAML file in flow style, keys of maps and items of lists shuffled where a test says so. */
#ifndef PW_TEST_SHUFFLE_H
#define PW_TEST_SHUFFLE_H

#include "harness.h"

#include "base/buf.h"
#include "read/source_file.h"
#include "read/yaml_tree.h"

/** May the keys of the map under `key`, `depth` maps and lists below the top, be shuffled? */
typedef bool shuffle_map(const char *key, int depth);
/** May the items of the list under `key`? */
typedef bool shuffle_list(const char *key);

static inline unsigned shuffle_random(unsigned *state) { return *state = *state * 1664525u + 1013904223u; }

static inline void emit_text(struct pw_buf *b, const char *text)
{
  pw_buf_add_char(b, '"');
  for (const char *p = text; *p; p++) {
    if (*p == '"' || *p == '\\')
      pw_buf_add_char(b, '\\');
    if (*p == '\n')
      pw_buf_add(b, "\\n");
    else
      pw_buf_add_char(b, *p);
  }
  pw_buf_add_char(b, '"');
}

static inline void emit_shuffled(struct pw_buf *b, const struct pw_node *node, const char *key, int depth,
                                 shuffle_map *may_map, shuffle_list *may_list, unsigned *state)
{
  int order[512], n = node->n;
  ck_assert_int_le(n, 512);
  for (int i = 0; i < n; i++)
    order[i] = i;
  if (node->kind == PW_NODE_MAP ? may_map(key, depth) : node->kind == PW_NODE_LIST && may_list(key))
    for (int i = n - 1; i > 0; i--) {
      int k = (int)(shuffle_random(state) >> 8) % (i + 1), keep = order[i];
      order[i] = order[k];
      order[k] = keep;
    }
  if (node->kind == PW_NODE_SCALAR) {
    emit_text(b, node->text);
    return;
  }
  pw_buf_add(b, node->kind == PW_NODE_MAP ? "{" : "[");
  for (int i = 0; i < n; i++) {
    pw_buf_add(b, i ? ",\n" : "");
    if (node->kind == PW_NODE_MAP) {
      const struct pw_pair *p = &node->pairs[order[i]];
      emit_text(b, p->key);
      pw_buf_add(b, ": ");
      emit_shuffled(b, p->value, p->key, depth + 1, may_map, may_list, state);
    } else {
      emit_shuffled(b, node->items[order[i]], "", depth + 1, may_map, may_list, state);
    }
  }
  pw_buf_add(b, node->kind == PW_NODE_MAP ? "}" : "]");
}

/** The file at `path`, shuffled by *state; in ctx->arena. */
static inline char *shuffled(const char *path, shuffle_map *may_map, shuffle_list *may_list, unsigned *state,
                             struct pw_ctx *ctx)
{
  static const struct pw_origin origin = {"shuffled", false};
  struct pw_node *root;
  char *text;
  size_t n;
  ck_assert_int_eq(pw_source_read(&text, &n, path, ctx), PW_OK);
  ck_assert_int_eq(pw_yaml_read(&root, text, n, &origin, ctx), PW_OK);
  struct pw_buf b = pw_buf_in(ctx->arena);
  emit_shuffled(&b, root, "", 0, may_map, may_list, state);
  return pw_buf_text(&b);
}

#endif
