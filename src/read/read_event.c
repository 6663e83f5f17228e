/* read_event.c - the reader from end to end: event text to tree, catalogs, entries, names, checks. */
#include "read/read.h"

#include "base/arena.h"
#include "base/buf.h"
#include "base/diag.h"
#include "read/changes.h"
#include "read/house.h"
#include "read/menus.h"
#include "read/names_apart.h"
#include "read/resolve.h"
#include "read/service_names.h"
#include "read/source_file.h"
#include "read/twins.h"

#include <string.h>

/* Order for a person: the event file first, then by file, line, column. */
static bool comes_before(const struct pw_diag *a, const struct pw_diag *b, const char *event_file)
{
  bool a_first = a->file && strcmp(a->file, event_file) == 0, b_first = b->file && strcmp(b->file, event_file) == 0;
  if (a_first != b_first)
    return a_first;
  int order = strcmp(a->file ? a->file : "", b->file ? b->file : "");
  if (order)
    return order < 0;
  return a->line != b->line ? a->line < b->line : a->col < b->col;
}

static void sort_diags(struct pw_ctx *ctx, int first, const char *event_file)
{
  for (int i = first + 1; i < ctx->n_diags; i++) { /* insertion: stable, and few */
    struct pw_diag d = ctx->diags[i];
    int k = i;
    for (; k > first && comes_before(&d, &ctx->diags[k - 1], event_file); k--)
      ctx->diags[k] = ctx->diags[k - 1];
    ctx->diags[k] = d;
  }
}

/* The catalog is read from the folder, unless it is given. */
static pw_status read_tree(struct pw_event *ev, const struct pw_node *root, const char *catalog_dir,
                           struct pw_event_source *source, struct pw_reader *r)
{
  struct raw_event *raw = pw_reader_array(r, 1, sizeof *raw);
  struct pw_catalog *read = pw_reader_array(r, 1, sizeof *read);
  const struct pw_catalog *given = source->catalog;
  if (!raw || !read)
    return PW_ERR_MEMORY;
  if (!given && pw_catalog_is_none(catalog_dir, r))
    return r->is_out_of_memory ? PW_ERR_MEMORY : PW_ERR_INPUT;
  const struct pw_node *currency = pw_node_get(pw_node_get(root, "event"), "currency");
  r->money_digits = currency && currency->text ? pw_currency_digits(currency->text) : 2;
  r->money_sign = currency && currency->text ? pw_currency_sign(currency->text, r) : NULL;
  if (!given && pw_catalog_read(read, catalog_dir, r) != PW_OK)
    return PW_ERR_MEMORY;
  source->catalog = given ? given : read;
  if (!(root = pw_menus_fill(root, source->catalog, r)))
    return PW_ERR_MEMORY;
  source->root = root;
  r->root = &pw_table_event;
  pw_schema_read(&pw_table_event, root, raw, r);
  r->root = NULL; /* a catalog has other blocks */
  if (r->is_out_of_memory)
    return PW_ERR_MEMORY;
  pw_entries_read(raw, source->catalog, source->house, r);
  raw->ev.file = root->origin->file;
  void (*const steps[])(struct raw_event *, struct pw_reader *) = {pw_resolve_head, pw_resolve_entries, pw_resolve_job,
                                                                   pw_resolve_trade};
  for (size_t i = 0; i < sizeof steps / sizeof *steps && !r->is_out_of_memory; i++)
    steps[i](raw, r);
  if (!r->is_out_of_memory)
    pw_event_keep(ev, raw, r);
  if (!r->is_out_of_memory && pw_diag_status(r->ctx) == PW_OK && pw_names_apart(ev, r->ctx) != PW_OK)
    return PW_ERR_MEMORY;
  ev->source = source;
  return r->is_out_of_memory ? PW_ERR_MEMORY : pw_diag_status(r->ctx);
}

/* What stands behind "---" changes what stands above it. */
static pw_status change(struct pw_node **root, struct pw_node *const *documents, int n_documents, struct pw_reader *r)
{
  for (int i = 1; i < n_documents; i++) {
    if (documents[i]->kind == PW_NODE_SCALAR && documents[i]->is_empty)
      continue; /* a "---" with nothing behind it */
    if (documents[i]->kind != PW_NODE_MAP) {
      pw_reader_fault(r, documents[i], "bad-kind",
                      "what follows \"---\" changes the event above it: it needs blocks such as \"finishers:\"");
      return r->is_out_of_memory ? PW_ERR_MEMORY : PW_ERR_INPUT;
    }
    struct pw_node *lines = pw_twins_expand(documents[i], r);
    if (!lines || !(*root = pw_services_named(*root, r)) || !(*root = pw_changes_merge(*root, lines, r)))
      return PW_ERR_MEMORY;
  }
  return PW_OK;
}

/* Is it an event at all?  A plan of ours is none, nor is a house file. */
static pw_status expect_event(const struct pw_node *root, struct pw_reader *r)
{
  if (root->kind != PW_NODE_MAP) {
    pw_reader_fault(r, root, "bad-kind", "an event file needs blocks such as \"event:\", \"services:\" and \"terms:\"");
    return r->is_out_of_memory ? PW_ERR_MEMORY : PW_ERR_INPUT;
  }
  const struct pw_node *format = pw_node_get(root, "format"), *house = pw_node_get(root, "house");
  if (format && format->text && strncmp(format->text, "pitwright-", 10) == 0) { /* what we wrote, not what we read */
    pw_reader_fault(r, format, "no-event",
                    "this is a %s file, made from an event; plan the event file itself (a plan file is checked by "
                    "\"pitwright verify\")",
                    format->text + 10);
    return r->is_out_of_memory ? PW_ERR_MEMORY : PW_ERR_INPUT;
  }
  if (house && house->kind == PW_NODE_MAP && !pw_node_get(root, "services") &&
      !pw_node_get(pw_node_get(root, "event"), "date")) {
    pw_reader_fault(r, root, "no-event",
                    "this is a house file: it has no meals and no date of its own; plan an event that lies beside it");
    return r->is_out_of_memory ? PW_ERR_MEMORY : PW_ERR_INPUT;
  }
  return PW_OK;
}

/* The house file is found, unless the source has it already. */
static pw_status read_text(struct pw_event **out, const char *name, const char *text, size_t n, const char *catalog_dir,
                           const struct pw_event_source *given, struct pw_ctx *ctx)
{
  *out = NULL;
  struct pw_reader r = {.ctx = ctx, .money_digits = 2};
  int first = ctx->n_diags;
  struct pw_origin *origin = pw_arena_alloc(ctx->arena, sizeof *origin);
  struct pw_event *ev = pw_arena_alloc(ctx->arena, sizeof *ev);
  char *file = pw_arena_strdup(ctx->arena, name);
  struct pw_event_source *source = pw_arena_alloc(ctx->arena, sizeof *source);
  char *kept = pw_arena_strndup(ctx->arena, text, n);
  struct pw_node *documents[PW_YAML_DOCUMENTS_MAX] = {NULL}, *root = NULL;
  int n_documents = 0;
  if (!origin || !ev || !file || !source || !kept)
    return PW_ERR_MEMORY;
  *origin = (struct pw_origin){file, false};
  *source = given ? *given : (struct pw_event_source){0};
  source->name = file;
  source->text = kept;
  source->n = n;
  pw_status status = pw_yaml_read_all(documents, &n_documents, text, n, origin, ctx);
  if (!status)
    status = expect_event(documents[0], &r);
  if (!status && !(given && given->is_house_known))
    status = pw_house_read(&source->house, documents[0], file, source->spare_house, &source->house_text, &r);
  source->is_house_known = true;
  if (!status && (!(root = pw_house_under(source->house, documents[0], &r)) || !(root = pw_twins_expand(root, &r))))
    status = PW_ERR_MEMORY;
  if (!status)
    status = change(&root, documents, n_documents, &r);
  if (!status)
    status = read_tree(ev, root, catalog_dir, source, &r);
  sort_diags(ctx, first, file);
  if (!status)
    *out = ev;
  return status;
}

pw_status pw_event_read_text(struct pw_event **out, const char *name, const char *text, size_t n,
                             const char *catalog_dir, struct pw_ctx *ctx)
{
  return read_text(out, name, text, n, catalog_dir, NULL, ctx);
}

pw_status pw_event_read_with(struct pw_event **out, const char *name, const char *text, size_t n,
                             const struct pw_catalog *catalog, struct pw_ctx *ctx)
{
  const struct pw_event_source given = {.catalog = catalog};
  return read_text(out, name, text, n, NULL, &given, ctx);
}

pw_status pw_event_read_kept(struct pw_event **out, const struct pw_kept_event *kept, const struct pw_catalog *catalog,
                             struct pw_ctx *ctx)
{
  struct pw_reader r = {.ctx = ctx, .money_digits = 2};
  struct pw_event_source given = {.catalog = catalog, .is_house_known = true, .house_text = kept->house_text};
  *out = NULL;
  pw_status status = kept->house_text ? pw_house_read_text(&given.house, kept->house_name, kept->house_text,
                                                           strlen(kept->house_text), &r)
                                      : PW_OK;
  return status ? status : read_text(out, kept->name, kept->text, strlen(kept->text), NULL, &given, ctx);
}

pw_status pw_event_read_spare(struct pw_event **out, const char *name, const char *text, size_t n,
                              const char *catalog_dir, const char *spare_house, struct pw_ctx *ctx)
{
  const struct pw_event_source given = {.spare_house = spare_house};
  return read_text(out, name, text, n, catalog_dir, &given, ctx);
}

const char *pw_event_house(const struct pw_event *ev)
{
  return ev->source && ev->source->house ? ev->source->house->origin->file : "";
}

pw_status pw_event_change(struct pw_event **out, const struct pw_event *ev, const char *lines, struct pw_ctx *ctx)
{
  const struct pw_event_source *source = ev->source;
  *out = NULL;
  if (!source)
    return PW_ERR_USAGE;
  struct pw_buf text = pw_buf_in(ctx->arena);
  pw_buf_add_n(&text, source->text, source->n);
  pw_buf_printf(&text, "\n%s", lines);
  if (!pw_buf_text(&text))
    return PW_ERR_MEMORY;
  pw_status status = read_text(out, source->name, pw_buf_text(&text), text.n, NULL, source, ctx);
  if (!status) {
    (*out)->units = ev->units; /* how it is shown is no part of the file alone */
    (*out)->paper = ev->paper;
  }
  return status;
}

pw_status pw_event_read(struct pw_event **out, const char *event_path, const char *catalog_dir, struct pw_ctx *ctx)
{
  char *text;
  size_t n;
  *out = NULL;
  pw_status status = pw_source_read(&text, &n, event_path, ctx);
  return status ? status : pw_event_read_text(out, event_path, text, n, catalog_dir, ctx);
}
