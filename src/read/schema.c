/* schema.c - one walk over a table: every key of the map must be in it, every required field must be in the map,
 * each value is read by its type and held against its limits.  All faults of a map are found in one go. */
#include "read/schema.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/diag.h"
#include "base/nearest.h"
#include "base/text.h"

#include <math.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

enum { ID_MAX = 40, TEXT_MAX = 600, SHOWN_MAX = 60 };

/* ---- faults --------------------------------------------------------------------------------------------------- */

static void add(struct pw_reader *r, enum pw_severity severity, const struct pw_node *at, const char *code,
                const char *format, va_list args) __attribute__((format(printf, 5, 0)));

static void add(struct pw_reader *r, enum pw_severity severity, const struct pw_node *at, const char *code,
                const char *format, va_list args)
{
  const char *text = pw_arena_vprintf(r->ctx->arena, format, args);
  if (!text) {
    r->is_out_of_memory = true;
    return;
  }
  const char *file = at ? at->origin->file : NULL;
  int line = at ? at->line : 0, col = at ? at->col : 0;
  for (int i = 0; i < r->ctx->n_diags; i++) {
    const struct pw_diag *d = &r->ctx->diags[i];
    if (d->line == line && d->col == col && d->file == file && strcmp(d->text, text) == 0)
      return;
  }
  pw_diag_add(r->ctx, severity, code, file, line, col, "%s", text);
}

void pw_reader_fault(struct pw_reader *r, const struct pw_node *at, const char *code, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  add(r, PW_ERROR, at, code, format, args);
  va_end(args);
}

void pw_reader_warn(struct pw_reader *r, const struct pw_node *at, const char *code, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  add(r, PW_WARNING, at, code, format, args);
  va_end(args);
}

void *pw_reader_array(struct pw_reader *r, int n, size_t size)
{
  void *p = pw_arena_array(r->ctx->arena, (size_t)n, size);
  if (!p)
    r->is_out_of_memory = true;
  return p;
}

static const char *keep(struct pw_reader *r, const char *text)
{
  if (!text)
    r->is_out_of_memory = true;
  return text ? text : "";
}

const char *pw_node_shown(struct pw_reader *r, const struct pw_node *node)
{
  size_t n = strlen(node->text);
  if (n <= SHOWN_MAX)
    return node->text;
  for (n = SHOWN_MAX; n > 0 && ((unsigned char)node->text[n] & 0xC0) == 0x80; n--)
    ;
  return keep(r, pw_arena_printf(r->ctx->arena, "%.*s...", (int)n, node->text));
}

static const char *name_at(const void *elements, int i, size_t size, size_t offset)
{
  const char *name;
  memcpy(&name, (const char *)elements + (size_t)i * size + offset, sizeof name);
  return name;
}

const char *pw_reader_suggest(struct pw_reader *r, const char *word, const void *elements, int n, size_t size,
                               size_t offset)
{
  struct pw_nearest nearest = {.word = word};
  for (int i = 0; i < n; i++)
    pw_nearest_offer(&nearest, name_at(elements, i, size, offset));
  if (nearest.best)
    return keep(r, pw_arena_printf(r->ctx->arena, "did you mean \"%s\"?", nearest.best));
  if (n == 0)
    return "there are none";
  const char *list = "";
  for (int i = 0; i < n && strlen(list) < 240; i++)
    list = keep(r, pw_arena_printf(r->ctx->arena, "%s%s%s", list, i ? ", " : "", name_at(elements, i, size, offset)));
  return keep(r, pw_arena_printf(r->ctx->arena, "there are: %s%s", list, strlen(list) < 240 ? "" : " ..."));
}

static const char *choice_list(struct pw_reader *r, const char *const *choices)
{
  const char *list = choices[0];
  for (int i = 1; choices[i]; i++)
    list = keep(r, pw_arena_printf(r->ctx->arena, "%s%s%s", list, choices[i + 1] ? ", " : " or ", choices[i]));
  return list;
}

/* ---- scalars ---------------------------------------------------------------------------------------------------- */

bool pw_id_is_sound(const char *id)
{
  size_t n = strlen(id);
  const char *alnum = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_";
  return n >= 1 && n <= ID_MAX && strspn(id, alnum) == n && *id != '-' && *id != '_';
}

const char *pw_node_text(struct pw_reader *r, const struct pw_node *node, const char *key)
{
  if (node->kind == PW_NODE_SCALAR && !node->is_empty)
    return node->text;
  if (node->kind == PW_NODE_SCALAR)
    pw_reader_fault(r, node, "no-value", "\"%s\" has nothing after its colon: write a value or delete the line", key);
  else if (node->kind != PW_NODE_BROKEN)
    pw_reader_fault(r, node, "bad-kind", "\"%s\" needs one value, not a %s", key,
                     node->kind == PW_NODE_MAP ? "block of keys" : "list");
  return NULL;
}

bool pw_node_quantity(struct pw_reader *r, const struct pw_node *node, const char *key, enum pw_dim dim, double *si)
{
  char why[512];
  const char *text = pw_node_text(r, node, key);
  if (!text)
    return false;
  if (pw_quantity_parse(text, dim, si, why, sizeof why)) {
    pw_reader_fault(r, node, "bad-quantity", "\"%s\": %s", key, why);
    return false;
  }
  return true;
}

bool pw_node_money(struct pw_reader *r, const struct pw_node *node, const char *key, pw_cents *cents)
{
  const char *text = pw_node_text(r, node, key);
  if (!text)
    return false;
  const char *example = r->money_digits == 0 ? "1250" : r->money_digits == 3 ? "12.500" : "12.50";
  const char *shown = pw_node_shown(r, node);
  switch (pw_cents_parse(text, r->money_digits, cents)) {
  case PW_MONEY_OK:
    return true;
  case PW_MONEY_SIGN:
    pw_reader_fault(r, node, "bad-money", "\"%s\": \"%s\" is negative; write an amount such as %s", key, shown, example);
    break;
  case PW_MONEY_DIGITS:
    pw_reader_fault(r, node, "bad-money", "\"%s\": \"%s\" has more decimals than the event's currency (%d); write an amount "
                     "such as %s", key, shown, r->money_digits, example);
    break;
  case PW_MONEY_LARGE:
    pw_reader_fault(r, node, "bad-money", "\"%s\": \"%s\" is more money than a job can cost", key, shown);
    break;
  default:
    pw_reader_fault(r, node, "bad-money", "\"%s\": \"%s\" is not an amount of money; write a number without sign, unit or "
                     "thousands comma, such as %s", key, shown, example);
  }
  return false;
}

bool pw_node_rate(struct pw_reader *r, const struct pw_node *node, const char *key, enum pw_dim dim, double *cents_per_si)
{
  char why[512];
  const char *text = pw_node_text(r, node, key);
  if (!text)
    return false;
  if (pw_rate_parse(text, dim, r->money_digits, cents_per_si, why, sizeof why)) {
    pw_reader_fault(r, node, "bad-price", "\"%s\": %s", key, why);
    return false;
  }
  return true;
}

static void *at(void *out, size_t offset) { return (char *)out + offset; }

static void put(void *out, size_t offset, const void *value, size_t size) { memcpy((char *)out + offset, value, size); }

/* Line breaks of folded text become blanks; blanks at the ends go. */
static void text_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  if (!text)
    return;
  const char *from = text + strspn(text, " \n\t");
  size_t n = strlen(from);
  while (n > 0 && strchr(" \n\t", from[n - 1]))
    n--;
  char *line = pw_arena_strndup(r->ctx->arena, from, n);
  if (!line) {
    r->is_out_of_memory = true;
    return;
  }
  for (char *p = line; *p; p++)
    if (*p == '\n' || *p == '\t')
      *p = ' ';
  if (n == 0)
    pw_reader_fault(r, node, "no-value", "\"%s\" is empty: write a text or delete the line", f->key);
  else if (n > TEXT_MAX)
    pw_reader_fault(r, node, "long-text", "\"%s\" is longer than %d characters", f->key, TEXT_MAX);
  else if (f->type == PW_FT_ID && !pw_id_is_sound(line))
    pw_reader_fault(r, node, "bad-id", "\"%s\": \"%s\" is no short name: use letters, digits, \"-\" and \"_\" (at most %d), such as "
                     "box-1", f->key, pw_node_shown(r, node), ID_MAX);
  else
    put(out, f->offset, &line, sizeof line);
}

static void bool_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  if (!text)
    return;
  bool value = strcmp(text, "true") == 0 || strcmp(text, "yes") == 0;
  if (!value && strcmp(text, "false") != 0 && strcmp(text, "no") != 0)
    pw_reader_fault(r, node, "bad-yes-no", "\"%s\": \"%s\" is neither true nor false (yes or no)", f->key,
                     pw_node_shown(r, node));
  else
    put(out, f->offset, &value, sizeof value);
}

/* Index of the node's text in the choices, or -1 after a fault. */
static int choice_find(const struct pw_field *f, const struct pw_node *node, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  if (!text)
    return -1;
  struct pw_nearest nearest = {.word = text};
  for (int i = 0; f->choices[i]; i++) {
    if (strcmp(text, f->choices[i]) == 0)
      return i;
    pw_nearest_offer(&nearest, f->choices[i]);
  }
  const char *list = choice_list(r, f->choices);
  if (nearest.best)
    pw_reader_fault(r, node, "bad-choice", "\"%s\": \"%s\" is not known; did you mean \"%s\"? (%s)", f->key,
                     pw_node_shown(r, node), nearest.best, list);
  else
    pw_reader_fault(r, node, "bad-choice", "\"%s\": \"%s\" is not known; write %s", f->key, pw_node_shown(r, node), list);
  return -1;
}

/* Says which side of min..max was left. */
static void range_fault(const struct pw_field *f, const struct pw_node *node, struct pw_reader *r)
{
  const char *text = pw_node_shown(r, node);
  if (f->min && f->max)
    pw_reader_fault(r, node, "out-of-range", "\"%s\": %s cannot be; it must lie between %s and %s", f->key, text, f->min, f->max);
  else if (f->min)
    pw_reader_fault(r, node, "out-of-range", "\"%s\": %s cannot be; it must be at least %s", f->key, text, f->min);
  else
    pw_reader_fault(r, node, "out-of-range", "\"%s\": %s cannot be; it must be at most %s", f->key, text, f->max);
}

static void int_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  int value = 0, min = 0, max = 0;
  if (!text)
    return;
  if (!pw_int_parse(text, INT32_MIN, INT32_MAX, &value))
    pw_reader_fault(r, node, "bad-number", "\"%s\": \"%s\" is not a whole number; write digits only, such as 12", f->key,
                     pw_node_shown(r, node));
  else if ((f->min && pw_int_parse(f->min, INT32_MIN, INT32_MAX, &min) && value < min) ||
           (f->max && pw_int_parse(f->max, INT32_MIN, INT32_MAX, &max) && value > max))
    range_fault(f, node, r);
  else
    put(out, f->offset, &value, sizeof value);
}

static bool is_below(double si, const char *limit, enum pw_dim dim)
{
  char why[512];
  double bound;
  return limit && !pw_quantity_parse(limit, dim, &bound, why, sizeof why) && si < bound - 1e-12 * fabs(bound);
}

static bool is_above(double si, const char *limit, enum pw_dim dim)
{
  char why[512];
  double bound;
  return limit && !pw_quantity_parse(limit, dim, &bound, why, sizeof why) && si > bound + 1e-12 * fabs(bound);
}

static void quantity_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  double si;
  if (!pw_node_quantity(r, node, f->key, f->dim, &si))
    return;
  if (is_below(si, f->min, f->dim) || is_above(si, f->max, f->dim)) {
    range_fault(f, node, r);
    return;
  }
  si *= f->scale != 0 ? f->scale : 1;
  if (f->type == PW_FT_QUANTITY) {
    put(out, f->offset, &si, sizeof si);
    return;
  }
  int whole = (int)lround(si);
  if (fabs(si - whole) > 1e-6)
    pw_reader_fault(r, node, "not-whole", "\"%s\": \"%s\" must come to whole %s", f->key, pw_node_shown(r, node),
                     f->scale != 0 ? "days" : "minutes");
  else
    put(out, f->offset, &whole, sizeof whole);
}

static void money_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  if (f->type == PW_FT_MONEY) {
    pw_cents cents;
    if (pw_node_money(r, node, f->key, &cents))
      put(out, f->offset, &cents, sizeof cents);
    return;
  }
  struct pw_decimal d;
  const char *end, *text = pw_node_text(r, node, f->key);
  if (!text)
    return;
  if (pw_decimal_scan(text, &d, &end) != PW_NUM_OK || *end || d.is_negative || d.scale > r->money_digits + 4) {
    pw_reader_fault(r, node, "bad-money", "\"%s\": \"%s\" is not a small amount of money; write a number such as 0.10", f->key,
                     pw_node_shown(r, node));
    return;
  }
  double cents = pw_decimal_value(d);
  for (int i = 0; i < r->money_digits; i++)
    cents *= 10;
  put(out, f->offset, &cents, sizeof cents);
}

static void rate_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  double cents;
  if (!pw_node_rate(r, node, f->key, f->dim, &cents))
    return;
  cents *= f->scale != 0 ? f->scale : 1;
  put(out, f->offset, &cents, sizeof cents);
}

static void date_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  struct pw_date date;
  if (!text)
    return;
  if (pw_date_parse(text, &date) && date.year >= 1971 && date.year <= 2199)
    put(out, f->offset, &date, sizeof date);
  else if (strlen(text) == 10 && text[4] == '-' && text[7] == '-' && strspn(text, "0123456789-") == 10)
    pw_reader_fault(r, node, "bad-date", "\"%s\": there is no %s in the calendar (year 1971 to 2199, month 1 to 12, day of that "
                     "month)", f->key, text);
  else
    pw_reader_fault(r, node, "bad-date", "\"%s\": \"%s\" is not a date; write year-month-day, such as 2027-06-12", f->key,
                     pw_node_shown(r, node));
}

/* ---- lists, maps, blocks ------------------------------------------------------------------------------------------ */

/* True when the node is of the kind; else a fault. */
static bool is_kind(const struct pw_field *f, const struct pw_node *node, enum pw_node_kind kind, struct pw_reader *r)
{
  if (node->kind == kind)
    return true;
  if (node->kind == PW_NODE_SCALAR && node->is_empty)
    pw_reader_fault(r, node, "no-value", "\"%s\" has nothing after its colon: write a value or delete the line", f->key);
  else if (node->kind != PW_NODE_BROKEN)
    pw_reader_fault(r, node, "bad-kind", kind == PW_NODE_LIST
                         ? "\"%s\" needs a list: write each item on a line of its own that begins with \"- \", or [a, b]"
                         : "\"%s\" needs a block of keys: write \"key: value\" lines under it, or {key: value, ...}", f->key);
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
    text_read(&one, node->items[i], &words[n], r);
    n += words[n] != NULL;
  }
  put(out, f->offset, &words, sizeof words);
  put(out, f->count_offset, &n, sizeof n);
}

static void flags_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  unsigned bits = 0;
  if (!is_kind(f, node, PW_NODE_LIST, r))
    return;
  for (int i = 0; i < node->n; i++) {
    int bit = choice_find(f, node->items[i], r);
    if (bit >= 0)
      bits |= 1u << bit;
  }
  if (node->n == 0)
    pw_reader_fault(r, node, "no-value", "\"%s\" is an empty list; write one or more of %s", f->key, choice_list(r, f->choices));
  put(out, f->offset, &bits, sizeof bits);
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
  *map = (struct pw_node){.kind = PW_NODE_MAP, .origin = item->origin, .line = item->line, .col = item->col, .pairs = pair, .n = 1};
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
  put(out, f->offset, &array, sizeof array);
  put(out, f->count_offset, &n, sizeof n);
}

static int pair_order(const void *a, const void *b)
{
  const struct pw_pair *x = *(const struct pw_pair *const *)a, *y = *(const struct pw_pair *const *)b;
  int order = strcmp(x->key, y->key);
  return order ? order : (x->line > y->line) - (x->line < y->line);
}

static void map_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  if (!is_kind(f, node, PW_NODE_MAP, r))
    return;
  char *array = pw_reader_array(r, node->n, f->table->size);
  const struct pw_pair **sorted = pw_reader_array(r, node->n, sizeof *sorted);
  if (!array || !sorted)
    return;
  for (int i = 0; i < node->n; i++)
    sorted[i] = &node->pairs[i];
  qsort(sorted, (size_t)node->n, sizeof *sorted, pair_order);
  int n = 0;
  for (int i = 0; i < node->n; i++) {
    const struct pw_pair *pair = sorted[i];
    struct pw_field one = {.key = pair->key};
    if (i > 0 && strcmp(pair->key, sorted[i - 1]->key) == 0)
      continue; /* reported by the tree */
    if (!pw_id_is_sound(pair->key))
      pw_reader_fault(r, pair->value, "bad-id", "\"%s\" is no short name: use letters, digits, \"-\" and \"_\"", pair->key);
    else if (is_kind(&one, pair->value, PW_NODE_MAP, r)) {
      void *element = array + (size_t)n++ * f->table->size;
      put(element, f->table->id_offset, &pair->key, sizeof pair->key);
      pw_schema_read(f->table, pair->value, element, r);
    }
  }
  put(out, f->offset, &array, sizeof array);
  put(out, f->count_offset, &n, sizeof n);
}

static void ref_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  struct pw_ref ref = {text, node};
  if (text && strcmp(text, "none") != 0)
    put(out, f->offset, &ref, sizeof ref);
}

static void field_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  int choice;
  switch (f->type) {
  case PW_FT_TEXT:
  case PW_FT_ID:
    text_read(f, node, out, r);
    return;
  case PW_FT_BOOL:
    bool_read(f, node, out, r);
    return;
  case PW_FT_INT:
    int_read(f, node, out, r);
    return;
  case PW_FT_CHOICE:
    if ((choice = choice_find(f, node, r)) >= 0)
      put(out, f->offset, &choice, sizeof choice);
    return;
  case PW_FT_FLAGS:
    flags_read(f, node, out, r);
    return;
  case PW_FT_QUANTITY:
  case PW_FT_WHOLE:
    quantity_read(f, node, out, r);
    return;
  case PW_FT_MONEY:
  case PW_FT_CENTS:
    money_read(f, node, out, r);
    return;
  case PW_FT_RATE:
    rate_read(f, node, out, r);
    return;
  case PW_FT_DATE:
    date_read(f, node, out, r);
    return;
  case PW_FT_WORDS:
    words_read(f, node, out, r);
    return;
  case PW_FT_REF:
    ref_read(f, node, out, r);
    return;
  case PW_FT_COUNTS:
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
      pw_schema_read(f->table, node, at(out, f->offset), r);
    return;
  case PW_FT_LIST:
    list_read(f, node, out, r);
    return;
  case PW_FT_MAP:
    map_read(f, node, out, r);
    return;
  }
  put(out, f->offset, &node, sizeof node); /* typed late */
}

/* ---- tables ----------------------------------------------------------------------------------------------------- */

static const struct pw_field *field_find(const struct pw_table *table, const char *key)
{
  for (int i = 0; i < table->n; i++)
    if (strcmp(table->fields[i].key, key) == 0)
      return &table->fields[i];
  return NULL;
}

static void unknown_key(const struct pw_table *table, const struct pw_node *map, const struct pw_pair *pair, struct pw_reader *r)
{
  struct pw_node place = {.origin = map->origin, .line = pair->line, .col = pair->col};
  place.origin = pair->value->origin;
  pw_reader_fault(r, &place, "unknown-key", "%s has no \"%s\"; %s", table->what, pair->key,
                   pw_reader_suggest(r, pair->key, table->fields, table->n, sizeof *table->fields, offsetof(struct pw_field, key)));
}

/* What a missing field would look like. */
static const char *wanted(const struct pw_field *f, struct pw_reader *r)
{
  switch (f->type) {
  case PW_FT_QUANTITY:
  case PW_FT_WHOLE:
    return keep(r, pw_arena_printf(r->ctx->arena, "%s, such as \"%s: %s\"", pw_dim_noun(f->dim), f->key, pw_dim_example(f->dim)));
  case PW_FT_CHOICE:
    return choice_list(r, f->choices);
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
    put(out, f->offset, &source, sizeof source);
  } else if (f->is_source) {
    pw_reader_fault(r, map, "no-source", "%s needs \"source\": where its numbers come from (\"our own weighings\" will do)", table->what);
  } else if (f->is_required) {
    pw_reader_fault(r, map, "missing-key", "%s needs \"%s\" (%s)", table->what, f->key, wanted(f, r));
  } else if (f->type == PW_FT_BLOCK && !f->seen_offset) { /* the defaults of an absent block */
    pw_schema_read(f->table, stand_in, at(out, f->offset), r);
  }
}

void pw_schema_read(const struct pw_table *table, const struct pw_node *map, void *out, struct pw_reader *r)
{
  if (table->at_offset)
    put(out, table->at_offset - 1, &map, sizeof map);
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
      put(out, f->seen_offset - 1, &is_seen, sizeof is_seen);
    field_read(f, pair->value, out, r);
  }
}
