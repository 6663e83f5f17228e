/* json_schema.c - one walk over the field tables: every table becomes a definition, every kind of value a pattern.
 * A table has up to three forms: whole, as a catalog needs it; own, in an event, where a source may be missing; and
 * changed, where an entry names only what differs from the catalog's. */
#include "read/json_schema.h"

#include "base/arena.h"
#include "base/json.h"
#include "read/raw.h"
#include "read/twins.h"

#include <ctype.h>
#include <string.h>

enum form { FORM_WHOLE, FORM_OWN, FORM_LAID /* over a house file */, FORM_CHANGE, FORM_ENTRY, FORM_PICK };
static const char *const FORM_SUFFIX[] = {"", "", "", "-change", "-entry", "-pick"};

#define NUMBER     "[-+]?[0-9]+(\\.[0-9]+)?"
#define FRACTION   "\\+?([0-9]+ +\\+?)?[0-9]+/\\+?[0-9]+" /* 3/4, 1 1/2 */
#define ANY_NUMBER "(" NUMBER "|" FRACTION ")"
#define SIGN       "([^-+0-9,. ]{1,4} *)?" /* of a currency */
#define ID_PATTERN "^[A-Za-z0-9][A-Za-z0-9_-]{0,39}$"

enum { DEFS_MAX = 200 };

struct walk {
  struct pw_json_out out;
  struct pw_arena *arena;
  struct def {
    const struct pw_table *table;
    enum form form;
  } defs[DEFS_MAX]; /* wanted so far; those before `n_done` are written */
  int n_defs, n_done;
};

/* ---- names ---- */

/* "a \"piece\" block" -> "piece-block" */
static const char *slug(struct pw_arena *arena, const char *words, const char *suffix)
{
  if (strncmp(words, "a ", 2) == 0)
    words += 2;
  else if (strncmp(words, "an ", 3) == 0)
    words += 3;
  else if (strncmp(words, "the ", 4) == 0)
    words += 4;
  struct pw_buf buf = pw_buf_in(arena);
  for (const char *p = words; *p; p++)
    if (isalnum((unsigned char)*p) || *p == ' ')
      pw_buf_add_char(&buf, *p == ' ' ? '-' : *p);
  pw_buf_add(&buf, suffix);
  return pw_buf_text(&buf);
}

static void refer(struct walk *w, const char *key, const char *name)
{
  pw_json_text(&w->out, key, name ? pw_arena_printf(w->arena, "#/$defs/%s", name) : NULL);
}

static void refer_dim(struct walk *w, const char *before, enum pw_dim dim)
{
  refer(w, "$ref", pw_arena_printf(w->arena, "%s%s", before, slug(w->arena, pw_dim_noun(dim), "")));
}

/* Names a table in some form and remembers to write it. */
static void refer_table(struct walk *w, const struct pw_table *table, enum form form)
{
  int i = 0;
  while (i < w->n_defs && (w->defs[i].table != table || w->defs[i].form != form))
    i++;
  if (i == w->n_defs && i < DEFS_MAX)
    w->defs[w->n_defs++] = (struct def){table, form};
  else if (i == DEFS_MAX)
    w->out.buf.failed = true;
  refer(w, "$ref", slug(w->arena, table->what, FORM_SUFFIX[form]));
}

/* ---- patterns ---- */

/* "(?:lb|...)" for all spellings of one unit, in either case. */
static void add_spellings(struct pw_buf *buf, const char *names, bool is_first)
{
  for (const char *p = names + 1; *p;) {
    size_t n = strcspn(p, " ");
    if (!is_first)
      pw_buf_add_char(buf, '|');
    is_first = false;
    if (n == 4 && strncmp(p, "floz", 4) == 0)
      pw_buf_add(buf, "[fF][lL] *");
    for (size_t i = n == 4 && strncmp(p, "floz", 4) == 0 ? 2 : 0; i < n; i++)
      if (isalpha((unsigned char)p[i]))
        pw_buf_printf(buf, "[%c%c]", tolower((unsigned char)p[i]), toupper((unsigned char)p[i]));
      else
        pw_buf_add_char(buf, p[i]);
    p += n + 1;
  }
}

static void add_units(struct pw_buf *buf, enum pw_dim dim)
{
  pw_buf_add(buf, "(");
  for (int i = 0; pw_dim_spellings(dim, i); i++)
    add_spellings(buf, pw_dim_spellings(dim, i), i == 0);
  pw_buf_add(buf, ")");
}

static const char *quantity_pattern(struct pw_arena *arena, enum pw_dim dim)
{
  struct pw_buf buf = pw_buf_in(arena);
  pw_buf_add(&buf, "^");
  if (pw_dim_is_compound(dim)) {
    pw_buf_add(&buf, "(?=.)");
    for (int i = 0; pw_dim_spellings(dim, i); i++) {
      pw_buf_add(&buf, "(" ANY_NUMBER " *(");
      add_spellings(&buf, pw_dim_spellings(dim, i), true);
      pw_buf_add(&buf, ") *)?");
    }
  } else if (dim == PW_DIM_NUMBER) {
    pw_buf_add(&buf, ANY_NUMBER " *");
  } else if (dim == PW_DIM_PER_HOUR) {
    pw_buf_add(&buf, ANY_NUMBER " *(/[hH]|[pP][eE][rR] +([hH]|[hH][rR][sS]?|[hH][oO][uU][rR][sS]?)) *");
  } else {
    pw_buf_add(&buf, ANY_NUMBER " *");
    add_units(&buf, dim);
    pw_buf_add(&buf, dim == PW_DIM_EACH ? "? *" : " *");
  }
  pw_buf_add(&buf, "$");
  return pw_buf_text(&buf);
}

static const char *rate_pattern(struct pw_arena *arena, enum pw_dim dim)
{
  struct pw_buf buf = pw_buf_in(arena);
  pw_buf_add(&buf, "^(" SIGN "([0-9]+|[1-9][0-9]{0,2}(,[0-9]{3})+)|\\+?[0-9]+)(\\.[0-9]+)? *(/ *|per +)");
  add_units(&buf, dim);
  pw_buf_add(&buf, "$");
  return pw_buf_text(&buf);
}

/* ---- definitions of plain values ---- */

static void types(struct walk *w, const char *const *names, int n)
{
  pw_json_array(&w->out, "type");
  for (int i = 0; i < n; i++)
    pw_json_text(&w->out, NULL, names[i]);
  pw_json_end(&w->out);
}

static void value_def(struct walk *w, const char *name, const char *other_type, const char *pattern, const char *say)
{
  pw_json_object(&w->out, name);
  const char *const both[] = {"string", other_type};
  if (other_type)
    types(w, both, 2);
  else
    pw_json_text(&w->out, "type", "string");
  pw_json_text(&w->out, "pattern", pattern);
  pw_json_text(&w->out, "patternErrorMessage", say); /* what editors show in place of the pattern */
  pw_json_end(&w->out);
}

static void dim_defs(struct walk *w)
{
  static const enum pw_dim rates[] = {PW_DIM_MASS, PW_DIM_LENGTH, PW_DIM_DURATION};
  for (int d = 0; d < PW_DIM__COUNT; d++) {
    const char *units = pw_dim_units(d);
    bool is_plain = d == PW_DIM_NUMBER || d == PW_DIM_EACH;
    value_def(w, slug(w->arena, pw_dim_noun(d), ""), is_plain ? "number" : NULL, quantity_pattern(w->arena, d),
              pw_arena_printf(w->arena, "write %s such as \"%s\"%s%s%s", pw_dim_noun(d), pw_dim_example(d),
                              *units ? " (units: " : "", units, *units ? ")" : ""));
  }
  for (size_t i = 0; i < sizeof rates / sizeof *rates; i++)
    value_def(w, pw_arena_printf(w->arena, "money-per-%s", slug(w->arena, pw_dim_noun(rates[i]), "")), NULL,
              rate_pattern(w->arena, rates[i]),
              pw_arena_printf(w->arena, "write money per unit such as \"4.20 per %s\" (units: %s)",
                              rates[i] == PW_DIM_MASS     ? "lb"
                              : rates[i] == PW_DIM_LENGTH ? "mi"
                                                          : "h",
                              pw_dim_units(rates[i])));
}

static void plain_defs(struct walk *w)
{
  value_def(w, "id", "integer", ID_PATTERN, "a short name: up to 40 letters, digits, \"-\" and \"_\"");
  value_def(w, "date", NULL, "^([0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])|[0-9]{1,2}/[0-9]{1,2}/[0-9]{4})$",
            "write a date such as 2027-06-12");
  value_def(w, "time", NULL,
            "^([0-9]{4}-[0-9]{2}-[0-9]{2}[ T])?(([01][0-9]|2[0-3]):[0-5][0-9]|(0?[1-9]|1[0-2])(:[0-5][0-9])? "
            "*[aApP]\\.?[mM]\\.?)$",
            "write a time such as \"17:30\", or \"2027-06-11 20:00\" for another day");
  value_def(w, "money", "number", "^(" SIGN "([0-9]+|[1-9][0-9]{0,2}(,[0-9]{3})+)|\\+?[0-9]+)(\\.[0-9]+)?$",
            "write an amount of money such as 12.50");
  pw_json_object(&w->out, "text");
  static const char *const kinds[] = {"string", "number", "boolean"};
  types(w, kinds, 3);
  pw_json_text(&w->out, "pattern", "\\S");
  pw_json_end(&w->out);
  pw_json_object(&w->out, "yes-no");
  pw_json_array(&w->out, "enum");
  pw_json_bool(&w->out, NULL, true);
  pw_json_bool(&w->out, NULL, false);
  static const char *const words[] = {"true", "false", "yes", "no"};
  for (int i = 0; i < 4; i++)
    pw_json_text(&w->out, NULL, words[i]);
  pw_json_end(&w->out);
  pw_json_end(&w->out);
  static const enum pw_dim amounts[] = {PW_DIM_EACH, PW_DIM_MASS, PW_DIM_VOLUME};
  pw_json_object(&w->out, "amount");
  pw_json_array(&w->out, "anyOf");
  for (int i = 0; i < 3; i++) {
    pw_json_object(&w->out, NULL);
    refer_dim(w, "", amounts[i]);
    pw_json_end(&w->out);
  }
  pw_json_end(&w->out);
  pw_json_end(&w->out);
  pw_json_object(&w->out, "price");
  pw_json_array(&w->out, "anyOf");
  pw_json_object(&w->out, NULL);
  refer(w, "$ref", "money");
  pw_json_end(&w->out);
  pw_json_object(&w->out, NULL);
  refer_dim(w, "money-per-", PW_DIM_MASS);
  pw_json_end(&w->out);
  pw_json_end(&w->out);
  pw_json_end(&w->out);
}

/* ---- one field ---- */

static void describe(struct walk *w, const struct pw_field *f)
{
  struct pw_buf buf = pw_buf_in(w->arena);
  pw_buf_add(&buf, f->help);
  if (f->min && f->max)
    pw_buf_printf(&buf, "; from %s to %s", f->min, f->max);
  else if (f->min || f->max)
    pw_buf_printf(&buf, "; %s %s", f->min ? "at least" : "at most", f->min ? f->min : f->max);
  pw_json_text(&w->out, "description", pw_buf_text(&buf));
  if (!f->def)
    return;
  int whole;
  if (f->type == PW_FT_BOOL)
    pw_json_bool(&w->out, "default", strcmp(f->def, "true") == 0);
  else if (f->type == PW_FT_INT && pw_int_parse(f->def, INT32_MIN, INT32_MAX, &whole))
    pw_json_int(&w->out, "default", whole);
  else
    pw_json_text(&w->out, "default", f->def);
}

static void limits(struct walk *w, const struct pw_field *f)
{
  struct pw_decimal d;
  const char *end;
  if (f->min && pw_decimal_scan(f->min, &d, &end) == PW_NUM_OK && !*end)
    pw_json_real(&w->out, "minimum", pw_decimal_value(d));
  if (f->max && pw_decimal_scan(f->max, &d, &end) == PW_NUM_OK && !*end)
    pw_json_real(&w->out, "maximum", pw_decimal_value(d));
}

static void choices(struct walk *w, const struct pw_field *f)
{
  pw_json_array(&w->out, "enum");
  for (int i = 0; f->choices[i]; i++)
    pw_json_text(&w->out, NULL, f->choices[i]);
  pw_json_end(&w->out);
}

static void whole_number(struct walk *w, const char *pattern)
{
  static const char *const kinds[] = {"integer", "string"};
  types(w, kinds, 2);
  pw_json_text(&w->out, "pattern", pattern);
}

/* In an event, entries are changes to the catalog's: their table is the catalog's of the same key. */
static const struct pw_table *entries_table(const struct pw_field *f)
{
  for (int i = 0; i < pw_table_catalog.n; i++)
    if (strcmp(pw_table_catalog.fields[i].key, f->key) == 0)
      return pw_table_catalog.fields[i].table;
  return f->table;
}

/* An object whose keys are ids and whose values are by a table. */
static void entries(struct walk *w, const struct pw_table *table, enum form form)
{
  pw_json_text(&w->out, "type", "object");
  pw_json_object(&w->out, "propertyNames");
  refer(w, "$ref", "id");
  pw_json_end(&w->out);
  pw_json_object(&w->out, "additionalProperties");
  refer_table(w, table, form);
  pw_json_end(&w->out);
}

/* A list of items by a table, which may also be a bare name. */
static void items(struct walk *w, const struct pw_table *table, enum form form, bool has_names)
{
  pw_json_text(&w->out, "type", "array");
  pw_json_object(&w->out, "items");
  if (has_names) {
    pw_json_array(&w->out, "anyOf");
    pw_json_object(&w->out, NULL);
    refer(w, "$ref", "id");
    pw_json_end(&w->out);
    pw_json_object(&w->out, NULL);
  }
  refer_table(w, table, form);
  if (has_names) {
    pw_json_end(&w->out);
    pw_json_end(&w->out);
  }
  pw_json_end(&w->out);
}

/* A list, or the name of one, or {use: NAME, without: [...], also: [...]} (read/menus.h). */
static void named_or_list(struct walk *w, const struct pw_table *table, enum form form)
{
  pw_json_array(&w->out, "anyOf");
  pw_json_object(&w->out, NULL);
  items(w, table, form, table->bare_key != NULL);
  pw_json_end(&w->out);
  pw_json_object(&w->out, NULL);
  refer(w, "$ref", "id");
  pw_json_end(&w->out);
  pw_json_object(&w->out, NULL);
  pw_json_text(&w->out, "type", "object");
  pw_json_bool(&w->out, "additionalProperties", false);
  pw_json_object(&w->out, "properties");
  pw_json_object(&w->out, "use");
  pw_json_text(&w->out, "description", "the name of a menu");
  refer(w, "$ref", "id");
  pw_json_end(&w->out);
  pw_json_object(&w->out, "without");
  pw_json_text(&w->out, "description", "dishes of it that are left out");
  pw_json_text(&w->out, "type", "array");
  pw_json_object(&w->out, "items");
  refer(w, "$ref", "id");
  pw_json_end(&w->out);
  pw_json_end(&w->out);
  pw_json_object(&w->out, "also");
  pw_json_text(&w->out, "description", "further dishes, or lines of it that are changed");
  items(w, table, form, table->bare_key != NULL);
  pw_json_end(&w->out);
  pw_json_end(&w->out);
  pw_json_array(&w->out, "required");
  pw_json_text(&w->out, NULL, "use");
  pw_json_end(&w->out);
  pw_json_end(&w->out);
  pw_json_end(&w->out);
}

static void field(struct walk *w, const struct pw_field *f, enum form form)
{
  /* a list given in a change stands for the whole list */
  enum form nested = form == FORM_WHOLE ? FORM_WHOLE : FORM_OWN;
  pw_json_object(&w->out, f->key);
  describe(w, f);
  switch (f->type) {
  case PW_FT_TEXT:
  case PW_FT_REF:
    refer(w, "$ref", "text");
    break;
  case PW_FT_ID:
    refer(w, "$ref", "id");
    break;
  case PW_FT_BOOL:
    refer(w, "$ref", "yes-no");
    break;
  case PW_FT_INT:
    whole_number(w, "^-?(0|[1-9][0-9]*|[1-9][0-9]{0,2}(,[0-9]{3})+)$");
    limits(w, f);
    break;
  case PW_FT_CHOICE:
    choices(w, f);
    break;
  case PW_FT_FLAGS:
    pw_json_text(&w->out, "type", "array");
    pw_json_int(&w->out, "minItems", 1);
    pw_json_object(&w->out, "items");
    choices(w, f);
    pw_json_end(&w->out);
    break;
  case PW_FT_QUANTITY:
  case PW_FT_WHOLE:
    refer_dim(w, "", f->dim);
    if (f->dim == PW_DIM_NUMBER || f->dim == PW_DIM_EACH)
      limits(w, f);
    break;
  case PW_FT_MONEY:
  case PW_FT_CENTS:
    refer(w, "$ref", "money");
    pw_json_int(&w->out, "minimum", 0);
    break;
  case PW_FT_RATE:
    refer_dim(w, "money-per-", f->dim);
    break;
  case PW_FT_DATE:
    refer(w, "$ref", "date");
    break;
  case PW_FT_TIME:
    refer(w, "$ref", "time");
    break;
  case PW_FT_AMOUNT:
    refer(w, "$ref", "amount");
    break;
  case PW_FT_PRICE:
    refer(w, "$ref", "price");
    break;
  case PW_FT_WORDS:
    pw_json_text(&w->out, "type", "array");
    pw_json_object(&w->out, "items");
    refer(w, "$ref", "text");
    pw_json_end(&w->out);
    break;
  case PW_FT_COUNTS:
    pw_json_array(&w->out, "anyOf");
    pw_json_object(&w->out, NULL);
    pw_json_text(&w->out, "type", "object");
    pw_json_object(&w->out, "additionalProperties");
    whole_number(w, "^(0|[1-9][0-9]*|[1-9][0-9]{0,2}(,[0-9]{3})+)$");
    pw_json_int(&w->out, "minimum", 0);
    pw_json_end(&w->out);
    pw_json_end(&w->out);
    pw_json_object(&w->out, NULL);
    whole_number(w, "^(0|[1-9][0-9]*|[1-9][0-9]{0,2}(,[0-9]{3})+)$");
    pw_json_int(&w->out, "minimum", 0);
    pw_json_end(&w->out);
    pw_json_end(&w->out);
    break;
  case PW_FT_SHARES:
    pw_json_text(&w->out, "type", "object");
    pw_json_object(&w->out, "additionalProperties");
    refer_dim(w, "", PW_DIM_FRACTION);
    pw_json_end(&w->out);
    break;
  case PW_FT_ENTRIES:
    entries(w, entries_table(f), form == FORM_WHOLE ? FORM_WHOLE : FORM_ENTRY);
    break;
  case PW_FT_PICKS:
    items(w, entries_table(f), FORM_PICK, true);
    break;
  case PW_FT_BLOCK:
    if (f->table->bare_key) {
      pw_json_array(&w->out, "anyOf");
      pw_json_object(&w->out, NULL);
      refer(w, "$ref", "text");
      pw_json_end(&w->out);
      pw_json_object(&w->out, NULL);
    }
    refer_table(w, f->table, form >= FORM_CHANGE ? FORM_CHANGE : form);
    if (f->table->bare_key) {
      pw_json_end(&w->out);
      pw_json_end(&w->out);
    }
    break;
  case PW_FT_LIST:
    if (f->is_named)
      named_or_list(w, f->table, nested);
    else
      items(w, f->table, nested, f->table->bare_key != NULL);
    break;
  case PW_FT_MAP:
    entries(w, f->table, nested);
    break;
  }
  pw_json_end(&w->out);
}

/* ---- one table ---- */

static void extra_key(struct walk *w, const char *key, const char *say)
{
  pw_json_object(&w->out, key);
  pw_json_text(&w->out, "description", say);
  refer(w, "$ref", "id");
  pw_json_end(&w->out);
}

/* What only an entry of the job's pits or finishers has. */
static void pick_keys(struct walk *w)
{
  extra_key(w, "id", "a name of its own, when two of a kind are taken");
  pw_json_object(&w->out, "count");
  pw_json_text(&w->out, "description", "so many alike: box with count 2 is box-1 and box-2");
  whole_number(w, "^([1-9]|1[0-9]|20)$");
  pw_json_int(&w->out, "minimum", 1);
  pw_json_int(&w->out, "maximum", PW_TWINS_MAX);
  pw_json_end(&w->out);
}

static void table_body(struct walk *w, const struct pw_table *table, enum form form)
{
  pw_json_text(&w->out, "type", "object");
  pw_json_bool(&w->out, "additionalProperties", false);
  pw_json_object(&w->out, "properties");
  for (int i = 0; i < table->n; i++)
    if (form != FORM_CHANGE || !table->fields[i].is_own) /* not in a house file */
      field(w, &table->fields[i], form);
  if (form == FORM_ENTRY || form == FORM_PICK)
    extra_key(w, "use", "id of the entry this one begins as, of the catalog, the house or the event");
  if (form == FORM_PICK)
    pick_keys(w);
  pw_json_end(&w->out);
  if (form == FORM_PICK) {
    static const char *const either[] = {"use", "id"};
    pw_json_array(&w->out, "anyOf");
    for (int i = 0; i < 2; i++) {
      pw_json_object(&w->out, NULL);
      pw_json_array(&w->out, "required");
      pw_json_text(&w->out, NULL, either[i]);
      pw_json_end(&w->out);
      pw_json_end(&w->out);
    }
    pw_json_end(&w->out);
  }
  if (form >= FORM_CHANGE)
    return;
  pw_json_array(&w->out, "required");
  for (int i = 0; i < table->n; i++)
    if ((table->fields[i].is_required && (form != FORM_LAID || pw_field_is_own(&table->fields[i]))) ||
        (table->fields[i].is_source && form == FORM_WHOLE))
      pw_json_text(&w->out, NULL, table->fields[i].key);
  pw_json_end(&w->out);
}

pw_status pw_json_schema_text(const char **text, size_t *n, enum pw_schema_kind kind, struct pw_ctx *ctx)
{
  struct walk *w = pw_arena_alloc(ctx->arena, sizeof *w);
  if (!w)
    return PW_ERR_MEMORY;
  bool is_catalog = kind == PW_SCHEMA_CATALOG;
  w->arena = ctx->arena;
  w->out = pw_json_out_in(ctx->arena);
  pw_json_object(&w->out, NULL);
  pw_json_text(&w->out, "$schema", "https://json-schema.org/draft/2020-12/schema");
  pw_json_text(&w->out, "title",
               is_catalog                ? "pitwright catalog file"
               : kind == PW_SCHEMA_HOUSE ? "pitwright house file"
                                         : "pitwright event file");
  table_body(w, is_catalog ? &pw_table_catalog : &pw_table_event,
             is_catalog                ? FORM_WHOLE
             : kind == PW_SCHEMA_HOUSE ? FORM_CHANGE
                                       : FORM_LAID);
  pw_json_object(&w->out, "$defs");
  plain_defs(w);
  dim_defs(w);
  for (; w->n_done < w->n_defs && !w->out.buf.failed; w->n_done++) {
    const struct def def = w->defs[w->n_done];
    pw_json_object(&w->out, slug(w->arena, def.table->what, FORM_SUFFIX[def.form]));
    table_body(w, def.table, def.form);
    pw_json_end(&w->out);
  }
  pw_json_end(&w->out);
  pw_json_end(&w->out);
  return pw_json_finish(&w->out, text, n, ctx);
}
