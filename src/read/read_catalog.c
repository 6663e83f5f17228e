/* read_catalog.c - the catalog files of a folder into one map of entries for each section. */
#include "base/arena.h"
#include "base/buf.h"
#include "base/diag.h"
#include "read/raw.h"
#include "read/source_file.h"

#include <string.h>
#include <unistd.h>

static const char *const FILES[] = {"cuts.yaml",           "dishes.yaml",  "items.yaml", "pits.yaml",
                                    "finishers.yaml",      "fuels.yaml",   "menus.yaml", "work_rules.yaml",
                                    "service_styles.yaml", "arrivals.yaml"};
enum {
  N_FILES = sizeof FILES / sizeof *FILES,
  N_NEEDED = 6 /* the others are asked for by who names what is in them */
};
_Static_assert((int)N_FILES <= (int)PW_SECTION__COUNT, "a text for each file");

/* Adds the entries of one section of one file. */
static void section_add(struct pw_node *section, size_t *cap, const struct pw_node *map, struct pw_reader *r)
{
  for (int i = 0; i < map->n; i++) {
    const struct pw_pair *pair = &map->pairs[i], *old = pw_node_find(section, pair->key);
    struct pw_node place = {.origin = map->origin, .line = pair->line, .col = pair->col};
    if (!pw_id_is_sound(pair->key)) {
      pw_reader_fault(r, &place, "bad-id", "\"%s\" is not a short name: use letters, digits, \"-\" and \"_\"",
                      pair->key);
    } else if (old && old->value->origin != map->origin) {
      pw_reader_fault(r, &place, "duplicate-id", "\"%s\" is in %s as well (line %d): keep one of them", pair->key,
                      old->value->origin->file, old->line);
    } else if (!old && pair->value->kind == PW_NODE_MAP) {
      if (pw_arena_grow(r->ctx->arena, &section->pairs, cap, (size_t)section->n, sizeof *section->pairs) != 0) {
        r->is_out_of_memory = true;
        return;
      }
      section->pairs[section->n++] = *pair;
    } else if (!old && pair->value->kind != PW_NODE_BROKEN) {
      pw_reader_fault(r, &place, "bad-kind", "\"%s\" needs a block of keys under it", pair->key);
    }
  }
}

static pw_status catalog_open(struct pw_catalog *out, struct pw_reader *r)
{
  *out = (struct pw_catalog){0};
  for (int s = 0; s < PW_SECTION__COUNT; s++) {
    if (!(out->sections[s] = pw_reader_array(r, 1, sizeof *out->sections[s])))
      return PW_ERR_MEMORY;
    out->sections[s]->kind = PW_NODE_MAP;
  }
  return PW_OK;
}

/* One file's text; PW_ERR_INPUT when no tree can be made of it. */
static pw_status text_add(struct pw_catalog *out, size_t *caps, const char *path, const char *text, size_t n,
                          struct pw_reader *r)
{
  struct pw_node *root = NULL;
  const struct pw_node *maps[PW_SECTION__COUNT] = {0};
  struct pw_origin *origin = pw_reader_array(r, 1, sizeof *origin);
  if (!origin)
    return PW_ERR_MEMORY;
  *origin = (struct pw_origin){path, true};
  pw_status status = pw_yaml_read(&root, text, n, origin, r->ctx);
  if (status || !root)
    return status;
  if (root->kind == PW_NODE_MAP)
    pw_schema_read(&pw_table_catalog, root, maps, r);
  else
    pw_reader_fault(r, root, "bad-kind", "a catalog file needs blocks such as \"cuts:\" or \"items:\"");
  for (int s = 0; s < PW_SECTION__COUNT; s++)
    if (maps[s])
      section_add(out->sections[s], &caps[s], maps[s], r);
  return r->is_out_of_memory ? PW_ERR_MEMORY : PW_OK;
}

bool pw_catalog_is_none(const char *dir, struct pw_reader *r)
{
  struct pw_buf names = pw_buf_in(r->ctx->arena);
  for (int k = 0; k < N_NEEDED; k++) {
    const char *path = pw_arena_printf(r->ctx->arena, "%s/%s", dir, FILES[k]);
    r->is_out_of_memory = r->is_out_of_memory || !path;
    if (!path || access(path, F_OK) == 0)
      return false;
    pw_buf_printf(&names, "%s%s", k == 0 ? "" : k == N_NEEDED - 1 ? " and " : ", ", FILES[k]);
  }
  const char *text = pw_buf_text(&names);
  r->is_out_of_memory = r->is_out_of_memory || !text;
  if (text)
    pw_diag_add(r->ctx, PW_ERROR, "no-catalog", dir, 0, 0, "there are no catalogs in this folder: it needs %s", text);
  return true;
}

pw_status pw_catalog_read(struct pw_catalog *out, const char *dir, struct pw_reader *r)
{
  size_t caps[PW_SECTION__COUNT] = {0};
  pw_status status = catalog_open(out, r);
  for (int k = 0; k < N_FILES && status != PW_ERR_MEMORY; k++) {
    char *path = pw_arena_printf(r->ctx->arena, "%s/%s", dir, FILES[k]), *text;
    size_t n;
    if (path && k >= N_NEEDED && access(path, F_OK) != 0)
      continue;
    status = path ? pw_source_read_ordinary(&text, &n, path, r->ctx) : PW_ERR_MEMORY;
    if (!status) {
      status = text_add(out, caps, path, text, n, r);
      out->texts[out->n_texts++] = (struct pw_catalog_text){FILES[k], text, n};
    }
  }
  return status == PW_ERR_MEMORY ? status : PW_OK;
}

pw_status pw_catalog_read_texts(struct pw_catalog *out, const struct pw_catalog_text *texts, int n, struct pw_reader *r)
{
  size_t caps[PW_SECTION__COUNT] = {0};
  pw_status status = catalog_open(out, r);
  for (int k = 0; k < n && k < PW_SECTION__COUNT && status != PW_ERR_MEMORY; k++) {
    status = text_add(out, caps, texts[k].name, texts[k].text, texts[k].n, r);
    out->texts[out->n_texts++] = texts[k];
  }
  return status == PW_ERR_MEMORY ? status : PW_OK;
}

pw_status pw_catalog_read_text(struct pw_catalog *out, const char *name, const char *text, size_t n,
                               struct pw_reader *r)
{
  size_t caps[PW_SECTION__COUNT] = {0};
  pw_status status = catalog_open(out, r);
  if (!status)
    status = text_add(out, caps, name, text, n, r);
  return status == PW_ERR_MEMORY ? status : PW_OK;
}
