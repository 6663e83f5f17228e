/* json.c - a streaming writer and an arena copy of what the library parses.
 * In: values in order, or text.  Out: text, or a tree.  The only file with jansson.h. */
#include "base/json.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/text.h"

#include <inttypes.h>
#include <jansson.h>
#include <math.h>
#include <pthread.h>
#include <setjmp.h>
#include <string.h>

/* ---- writing -------------------------------------------------------------------------------- */

enum { DEPTH_MAX = (int)(sizeof((struct pw_json_out *)0)->is_empty) };

struct pw_json_out pw_json_out_in(struct pw_arena *arena)
{
  return (struct pw_json_out){.buf = pw_buf_in(arena), .is_empty = {true}};
}

/** Comma, line break and key before a value. */
static void lead(struct pw_json_out *out, const char *key)
{
  int d = out->depth;
  bool is_first = out->is_empty[d];
  out->is_empty[d] = false;
  if (d > 0 && !is_first)
    pw_buf_add_char(&out->buf, ',');
  if (d == 1 || d == 2) {
    pw_buf_add_char(&out->buf, '\n');
    pw_buf_add_times(&out->buf, ' ', d);
  } else if (d > 0 && !is_first)
    pw_buf_add_char(&out->buf, ' ');
  if (key) {
    pw_buf_add_char(&out->buf, '"');
    pw_text_add_json(&out->buf, key);
    pw_buf_add(&out->buf, "\": ");
  }
}

static void open_with(struct pw_json_out *out, const char *key, char bracket)
{
  lead(out, key);
  pw_buf_add_char(&out->buf, bracket);
  if (out->depth + 1 >= DEPTH_MAX) {
    out->buf.failed = true;
    return;
  }
  out->depth++;
  out->is_empty[out->depth] = true;
  out->is_object[out->depth] = bracket == '{';
}

void pw_json_object(struct pw_json_out *out, const char *key) { open_with(out, key, '{'); }

void pw_json_array(struct pw_json_out *out, const char *key) { open_with(out, key, '['); }

void pw_json_end(struct pw_json_out *out)
{
  int d = out->depth;
  if (d == 0) {
    out->buf.failed = true;
    return;
  }
  if (!out->is_empty[d] && d <= 2) {
    pw_buf_add_char(&out->buf, '\n');
    pw_buf_add_times(&out->buf, ' ', d - 1);
  }
  pw_buf_add_char(&out->buf, out->is_object[d] ? '}' : ']');
  out->depth--;
}

void pw_json_text(struct pw_json_out *out, const char *key, const char *text)
{
  if (!text) {
    pw_json_null(out, key);
    return;
  }
  lead(out, key);
  pw_buf_add_char(&out->buf, '"');
  pw_text_add_json(&out->buf, text);
  pw_buf_add_char(&out->buf, '"');
}

void pw_json_int(struct pw_json_out *out, const char *key, int64_t value)
{
  lead(out, key);
  pw_buf_printf(&out->buf, "%" PRId64, value);
}

void pw_json_real(struct pw_json_out *out, const char *key, double value)
{
  if (!isfinite(value)) {
    if (!out->bad_key)
      out->bad_key = key ? key : "an element of a list";
    value = 0;
  }
  lead(out, key);
  pw_buf_printf(&out->buf, "%.12g", value == 0 ? 0.0 : value); /* no "-0" */
}

void pw_json_bool(struct pw_json_out *out, const char *key, bool value)
{
  lead(out, key);
  pw_buf_add(&out->buf, value ? "true" : "false");
}

void pw_json_null(struct pw_json_out *out, const char *key)
{
  lead(out, key);
  pw_buf_add(&out->buf, "null");
}

pw_status pw_json_finish(struct pw_json_out *out, const char **text, size_t *n, struct pw_ctx *ctx)
{
  pw_buf_add_char(&out->buf, '\n');
  if (out->bad_key || out->depth != 0) {
    pw_diag_add(ctx, PW_ERROR, "json", NULL, 0, 0, "the plan cannot be written: %s",
                out->bad_key ? pw_arena_printf(ctx->arena, "\"%s\" is not a finite number", out->bad_key)
                             : "a bracket was left open");
    return PW_ERR_INTERNAL;
  }
  *text = pw_buf_text(&out->buf);
  *n = out->buf.n;
  return *text ? PW_OK : PW_ERR_MEMORY;
}

/* ---- reading ---------------------------------------------------------------------------------- */

enum copied { COPIED, NO_MEMORY, TOO_DEEP };

static enum copied copy_node(struct pw_json *node, json_t *from, int depth, struct pw_arena *arena);

static enum copied copy_list(struct pw_json *node, size_t n, struct pw_arena *arena)
{
  node->n = n;
  node->items = pw_arena_array(arena, n, sizeof *node->items);
  return node->items ? COPIED : NO_MEMORY;
}

static enum copied copy_array(struct pw_json *node, json_t *from, int depth, struct pw_arena *arena)
{
  enum copied r = copy_list(node, json_array_size(from), arena);
  for (size_t i = 0; r == COPIED && i < node->n; i++)
    r = copy_node(&node->items[i], json_array_get(from, i), depth + 1, arena);
  return r;
}

static enum copied copy_object(struct pw_json *node, json_t *from, int depth, struct pw_arena *arena)
{
  enum copied r = copy_list(node, json_object_size(from), arena);
  size_t i = 0;
  for (void *it = json_object_iter(from); it && r == COPIED; it = json_object_iter_next(from, it), i++) {
    node->items[i].key = pw_arena_strdup(arena, json_object_iter_key(it));
    r = node->items[i].key ? copy_node(&node->items[i], json_object_iter_value(it), depth + 1, arena) : NO_MEMORY;
  }
  return r;
}

static enum copied copy_node(struct pw_json *node, json_t *from, int depth, struct pw_arena *arena)
{
  if (depth > PW_JSON_DEPTH_MAX)
    return TOO_DEEP;
  switch (json_typeof(from)) {
  case JSON_OBJECT:
    node->type = PW_JSON_OBJECT;
    return copy_object(node, from, depth, arena);
  case JSON_ARRAY:
    node->type = PW_JSON_ARRAY;
    return copy_array(node, from, depth, arena);
  case JSON_STRING:
    node->type = PW_JSON_TEXT;
    node->text = pw_arena_strdup(arena, json_string_value(from));
    return node->text ? COPIED : NO_MEMORY;
  case JSON_INTEGER:
    node->type = PW_JSON_INT;
    node->integer = json_integer_value(from);
    node->real = (double)node->integer;
    return COPIED;
  case JSON_REAL:
    node->type = PW_JSON_REAL;
    node->real = json_real_value(from);
    return COPIED;
  case JSON_TRUE:
  case JSON_FALSE:
    node->type = PW_JSON_BOOL;
    node->integer = json_is_true(from);
    return COPIED;
  case JSON_NULL:
    break;
  }
  node->type = PW_JSON_NULL;
  return COPIED;
}

/* The library overruns its buffers when memory runs out in it (seen by making each allocation fail).  So it never learns of
 * it: it allocates in the arena, and when that is out, a jump leaves it for good; nothing of it has to be freed. */
static _Thread_local struct {
  struct pw_arena *arena;
  jmp_buf out;
} g_parse;

static void *take(size_t size)
{
  void *p = pw_arena_alloc(g_parse.arena, size);
  if (!p)
    longjmp(g_parse.out, 1);
  return p;
}

static void leave(void *p) { (void)p; }

/* The library's allocator is one for the whole process: jobs in different threads parse one after the other. */
static pthread_mutex_t g_parsing = PTHREAD_MUTEX_INITIALIZER;

/** json_loadb() in the arena; NULL with *is_memory when that was out. */
static json_t *load(const char *text, size_t n, json_error_t *error, bool *is_memory, struct pw_arena *arena)
{
  json_malloc_t old_malloc;
  json_free_t old_free;
  (void)pthread_mutex_lock(&g_parsing); /* fails only for a mutex that is none */
  json_get_alloc_funcs(&old_malloc, &old_free);
  g_parse.arena = arena;
  *is_memory = true;
  json_t *volatile tree = NULL;
  if (!setjmp(g_parse.out)) {
    json_set_alloc_funcs(take, leave);
    tree = json_loadb(text, n, JSON_REJECT_DUPLICATES, error);
    *is_memory = false;
  }
  json_set_alloc_funcs(old_malloc, old_free);
  (void)pthread_mutex_unlock(&g_parsing);
  return tree;
}

pw_status pw_json_parse(const struct pw_json **root, const char *file, const char *text, size_t n, struct pw_ctx *ctx)
{
  *root = NULL;
  if (n > PW_JSON_BYTES_MAX) {
    pw_diag_add(ctx, PW_ERROR, "json", file, 0, 0, "the file is larger than %d MiB", PW_JSON_BYTES_MAX / 1024 / 1024);
    return PW_ERR_INPUT;
  }
  pw_status status = PW_OK;
  struct pw_json *node = pw_arena_alloc(ctx->arena, sizeof *node);
  json_error_t error = {.text = ""};
  bool is_memory = false;
  json_t *tree = load(text, n, &error, &is_memory, ctx->arena);
  enum copied copied = !node ? NO_MEMORY : tree ? copy_node(node, tree, 1, ctx->arena) : COPIED;
  if (copied == NO_MEMORY || is_memory) {
    pw_diag_add(ctx, PW_ERROR, "memory", file, 0, 0, "out of memory");
    status = PW_ERR_MEMORY;
  } else if (!tree) {
    const char *why = pw_text_line(ctx->arena, error.text);
    pw_diag_add(ctx, PW_ERROR, "json", file, error.line > 0 ? error.line : 1, error.column > 0 ? error.column : 1,
                "not JSON: %s", why ? why : "(out of memory)");
    status = PW_ERR_INPUT;
  } else if (copied == TOO_DEEP) {
    pw_diag_add(ctx, PW_ERROR, "json", file, 0, 0, "nested deeper than %d levels", PW_JSON_DEPTH_MAX);
    status = PW_ERR_INPUT;
  }
  if (status == PW_OK)
    *root = node;
  return status;
}

const struct pw_json *pw_json_get(const struct pw_json *object, const char *key)
{
  if (!object || object->type != PW_JSON_OBJECT)
    return NULL;
  for (size_t i = 0; i < object->n; i++)
    if (strcmp(object->items[i].key, key) == 0)
      return &object->items[i];
  return NULL;
}

const char *pw_json_type_words(enum pw_json_type type)
{
  static const char *const words[] = {"null",   "true or false", "a whole number", "a number",
                                      "a text", "a list",        "an object"};
  return words[type];
}
