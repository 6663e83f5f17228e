/* kept.c - an event and its catalogs as one text, and back.
 * Input: an event with its source.  Output: JSON of format "pitwright-job", version 1.  What was changed after reading - units, paper, head
 * count, chances asked for - stands beside the texts. */
#include "read/kept.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/json.h"
#include "read/raw.h"
#include "read/read.h"

#include <math.h>
#include <string.h>

static const char *base_name(const char *path)
{
  const char *slash = strrchr(path, '/');
  return slash ? slash + 1 : path;
}

pw_status pw_kept_write(struct pw_buf *out, const struct pw_event *ev, int heads, struct pw_ctx *ctx)
{
  const struct pw_event_source *source = ev->source;
  if (!source || !source->catalog || source->catalog->n_texts == 0)
    return PW_OK;
  struct pw_json_out o = pw_json_out_in(ctx->arena);
  const char *text = NULL;
  size_t n = 0;
  pw_json_object(&o, NULL);
  pw_json_text(&o, "format", "pitwright-job");
  pw_json_int(&o, "version", 1);
  pw_json_int(&o, "head_count", heads);
  pw_json_text(&o, "units", ev->units == PW_UNITS_US ? "us" : "si");
  pw_json_text(&o, "paper", ev->paper == PW_PAPER_LETTER ? "letter" : "a4");
  pw_json_real(&o, "on_time_frac", ev->terms.on_time_frac);
  pw_json_array(&o, "services_on_time_frac");
  for (int s = 0; s < ev->n_services; s++)
    pw_json_real(&o, NULL, ev->services[s].on_time_frac);
  pw_json_end(&o);
  pw_json_text(&o, "event_name", base_name(source->name));
  pw_json_text(&o, "event", source->text);
  if (source->house) {
    pw_json_text(&o, "house_name", base_name(source->house->origin->file));
    pw_json_text(&o, "house", source->house_text);
  }
  pw_json_array(&o, "catalogs");
  for (int k = 0; k < source->catalog->n_texts; k++) {
    pw_json_object(&o, NULL);
    pw_json_text(&o, "name", source->catalog->texts[k].name);
    pw_json_text(&o, "text", source->catalog->texts[k].text);
    pw_json_end(&o);
  }
  pw_json_end(&o);
  pw_json_end(&o);
  pw_status st = pw_json_finish(&o, &text, &n, ctx);
  if (st == PW_OK)
    pw_buf_add_n(out, text, n);
  return st == PW_OK && out->failed ? PW_ERR_MEMORY : st;
}

static const char *text_of(const struct pw_json *object, const char *key)
{
  const struct pw_json *member = pw_json_get(object, key);
  return member && member->type == PW_JSON_TEXT ? member->text : NULL;
}

static bool is_frac(const struct pw_json *v)
{
  return v && v->type >= PW_JSON_INT && v->type <= PW_JSON_REAL && v->real >= 0 && v->real < 1;
}

static pw_status no_job(const char *file, const char *why, struct pw_ctx *ctx)
{
  pw_diag_add(ctx, PW_ERROR, "no-job", file, 0, 0, "this is not a job kept by a pack: %s", why);
  return PW_ERR_INPUT;
}

/* Chances asked for on the command line. */
static void put_chances(struct pw_event *ev, const struct pw_json *root)
{
  const struct pw_json *all = pw_json_get(root, "on_time_frac"), *each = pw_json_get(root, "services_on_time_frac");
  if (is_frac(all))
    ev->terms.on_time_frac = all->real;
  for (int s = 0; each && each->type == PW_JSON_ARRAY && s < ev->n_services && (size_t)s < each->n; s++)
    if (is_frac(&each->items[s]))
      ev->services[s].on_time_frac = each->items[s].real;
}

pw_status pw_kept_read(struct pw_event **out, int *heads, const char *file, const char *text, size_t n,
                       struct pw_ctx *ctx)
{
  const struct pw_json *root = NULL;
  struct pw_reader r = {.ctx = ctx, .money_digits = 2};
  struct pw_catalog *catalog = pw_arena_alloc(ctx->arena, sizeof *catalog);
  struct pw_catalog_text texts[PW_SECTION__COUNT];
  int n_texts = 0;
  *out = NULL;
  if (!catalog)
    return PW_ERR_MEMORY;
  pw_status st = pw_json_parse(&root, file, text, n, ctx);
  if (st != PW_OK)
    return st;
  const char *format = text_of(root, "format"), *event = text_of(root, "event"), *name = text_of(root, "event_name"),
             *units = text_of(root, "units"), *paper = text_of(root, "paper");
  const struct pw_json *list = pw_json_get(root, "catalogs"), *count = pw_json_get(root, "head_count");
  if (!format || strcmp(format, "pitwright-job") != 0)
    return no_job(file, "its format is not \"pitwright-job\"", ctx);
  if (!event || !name || !units || !paper || !list || list->type != PW_JSON_ARRAY || list->n > PW_SECTION__COUNT ||
      !count || count->type != PW_JSON_INT || count->integer < 1 || count->integer > 1000000)
    return no_job(file, "event, catalogs, units, paper or head_count are missing", ctx);
  const struct pw_kept_event kept = {name, event, text_of(root, "house_name"), text_of(root, "house")};
  if (kept.house_text && !kept.house_name)
    return no_job(file, "the house file has no name", ctx);
  for (size_t i = 0; i < list->n; i++) {
    const char *of = text_of(&list->items[i], "name"), *is = text_of(&list->items[i], "text");
    if (!of || !is)
      return no_job(file, "a catalog has no name or no text", ctx);
    texts[n_texts++] = (struct pw_catalog_text){of, is, strlen(is)};
  }
  st = pw_catalog_read_texts(catalog, texts, n_texts, &r);
  if (st == PW_OK)
    st = pw_event_read_kept(out, &kept, catalog, ctx);
  if (st != PW_OK)
    return st;
  (*out)->units = strcmp(units, "us") == 0 ? PW_UNITS_US : PW_UNITS_SI;
  (*out)->paper = strcmp(paper, "letter") == 0 ? PW_PAPER_LETTER : PW_PAPER_A4;
  put_chances(*out, root);
  *heads = (int)count->integer;
  return PW_OK;
}
