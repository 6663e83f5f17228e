/* reader.c - faults with places, suggestions, and the values that are typed late. */
#include "read/reader.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/nearest.h"
#include "read/typed.h"

#include <stdarg.h>
#include <string.h>

enum { SHOWN_MAX = 60 };

/* ---- faults ---- */

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

void pw_reader_note(struct pw_reader *r, const struct pw_node *at, const char *code, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  add(r, PW_NOTE, at, code, format, args);
  va_end(args);
}

bool pw_reader_has_fault(const struct pw_reader *r, const struct pw_node *node)
{
  for (int i = 0; i < r->ctx->n_diags; i++) {
    const struct pw_diag *d = &r->ctx->diags[i];
    if (d->severity == PW_ERROR && d->line == node->line && d->col == node->col && d->file == node->origin->file)
      return true;
  }
  return false;
}

void *pw_reader_array(struct pw_reader *r, int n, size_t size)
{
  void *p = pw_arena_array(r->ctx->arena, (size_t)n, size);
  if (!p)
    r->is_out_of_memory = true;
  return p;
}

const char *pw_reader_printf(struct pw_reader *r, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(r->ctx->arena, format, args);
  va_end(args);
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
  return pw_reader_printf(r, "%.*s...", (int)n, node->text);
}

static const char *name_at(const void *elements, int i, size_t size, size_t offset)
{
  const char *name;
  memcpy(&name, (const char *)elements + (size_t)i * size + offset, sizeof name);
  return name ? name : "?"; /* its own fault is reported elsewhere */
}

enum { ALIKE_MAX = 24, LIST_LETTERS = 240 };

/* Does one of the words hold the other?  "brisket" is in "brisket-whole", "slaw" in "coleslaw". */
static bool holds(const char *word, const char *name)
{
  return strlen(word) > 2 && strlen(name) > 2 && (strstr(name, word) || strstr(word, name));
}

/* Is it one of the words of a name, "beans" of "pit-beans"? */
static bool is_part(const char *word, const char *name)
{
  const size_t n = strlen(word);
  for (const char *at = strstr(name, word); at && n > 0; at = strstr(at + 1, word))
    if ((at == name || at[-1] == '-') && (at[n] == '-' || at[n] == '\0'))
      return true;
  return false;
}

/* As ids are written: "Pulled pork" is pulled-pork. */
static const char *as_id(struct pw_reader *r, const char *word)
{
  char *id = pw_arena_strdup(r->ctx->arena, word);
  r->is_out_of_memory = r->is_out_of_memory || !id;
  for (char *p = id; p && *p; p++)
    *p = *p == ' ' || *p == '_' ? '-' : *p >= 'A' && *p <= 'Z' ? (char)(*p - 'A' + 'a') : *p;
  return id ? id : word;
}

/* How many words of what is asked for are words of a name: both of "pulled-pork" are in "pork-pulled". */
static int words_in(const char *asked, const char *name)
{
  char word[PW_ID_MAX + 1];
  int n = 0;
  for (const char *p = asked; *p;) {
    size_t length = strcspn(p, "-");
    if (length > 2 && length < sizeof word) {
      memcpy(word, p, length);
      word[length] = '\0';
      n += is_part(word, name);
    }
    p += length + (p[length] == '-');
  }
  return n;
}

/* The names with most of the words that are asked for, listed as above; "" when none has any, or too many have. */
static const char *with_words(struct pw_reader *r, const char *asked, const void *elements, int n, size_t size,
                              size_t offset, int *n_alike)
{
  const char *alike = "";
  int most = 0;
  for (int i = 0; i < n; i++) {
    int words = words_in(asked, name_at(elements, i, size, offset));
    most = words > most ? words : most;
  }
  for (int i = 0; i < n && most > 0; i++) {
    const char *name = name_at(elements, i, size, offset);
    if (words_in(asked, name) == most && (*n_alike)++ < ALIKE_MAX)
      alike = pw_reader_printf(r, "%s%s\"%s\"", alike, *alike ? ", " : "", name);
  }
  return alike;
}

const char *pw_reader_suggest(struct pw_reader *r, const char *word, const void *elements, int n, size_t size,
                              size_t offset)
{
  word = as_id(r, word);
  struct pw_nearest nearest = {.word = word};
  const char *list = "", *alike = "";
  int n_alike = 0;
  bool is_word = false; /* of some name: that says more than letters that are alike */
  for (int i = 0; i < n; i++) {
    const char *name = name_at(elements, i, size, offset);
    pw_nearest_offer(&nearest, name);
    is_word = is_word || is_part(word, name);
    if (holds(word, name) && n_alike++ < ALIKE_MAX)
      alike = pw_reader_printf(r, "%s%s\"%s\"", alike, *alike ? ", " : "", name);
  }
  if (nearest.best && !(is_word && n_alike <= ALIKE_MAX))
    return pw_reader_printf(r, "did you mean \"%s\"?", nearest.best);
  if (n == 0)
    return "there are none";
  if (n_alike == 0)
    alike = with_words(r, word, elements, n, size, offset, &n_alike);
  if (n_alike == 1)
    return pw_reader_printf(r, "did you mean %s?", alike);
  if (n_alike > 1 && n_alike <= ALIKE_MAX)
    return pw_reader_printf(r, "there are %s", alike);
  for (int i = 0; i < n && strlen(list) < LIST_LETTERS; i++)
    list = pw_reader_printf(r, "%s%s%s", list, i ? ", " : "", name_at(elements, i, size, offset));
  return strlen(list) < LIST_LETTERS ? pw_reader_printf(r, "there are: %s", list)
                                     : pw_reader_printf(r, "none of the %d that exist has a similar name", n);
}

const char *pw_reader_choices(struct pw_reader *r, const char *const *choices)
{
  const char *list = choices[0];
  for (int i = 1; choices[i]; i++)
    list = pw_reader_printf(r, "%s%s%s", list, choices[i + 1] ? ", " : " or ", choices[i]);
  return list;
}

/* ---- scalars ---- */

bool pw_id_is_sound(const char *id)
{
  size_t n = strlen(id);
  const char *alnum = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_";
  return n >= 1 && n <= PW_ID_MAX && strspn(id, alnum) == n && *id != '-' && *id != '_';
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
  switch (pw_cents_parse(pw_typed_number(r, text), r->money_digits, cents)) {
  case PW_MONEY_OK:
    return true;
  case PW_MONEY_SIGN:
    pw_reader_fault(r, node, "bad-money", "\"%s\": \"%s\" is negative; write an amount such as %s", key, shown,
                    example);
    break;
  case PW_MONEY_DIGITS:
    pw_reader_fault(r, node, "bad-money",
                    "\"%s\": \"%s\" has more decimals than the event's currency (%d); write an amount "
                    "such as %s",
                    key, shown, r->money_digits, example);
    break;
  case PW_MONEY_LARGE:
    pw_reader_fault(r, node, "bad-money", "\"%s\": \"%s\" is more money than a job can cost", key, shown);
    break;
  default:
    pw_reader_fault(r, node, "bad-money",
                    "\"%s\": \"%s\" is not an amount of money; write a number without unit, with a point "
                    "before its decimals, such as %s",
                    key, shown, example);
  }
  return false;
}

bool pw_node_has_more_digits(const struct pw_reader *r, const struct pw_node *node)
{
  pw_cents cents;
  return node->text && pw_cents_parse(node->text, r->money_digits, &cents) == PW_MONEY_DIGITS;
}

bool pw_node_rate(struct pw_reader *r, const struct pw_node *node, const char *key, enum pw_dim dim,
                  double *cents_per_si)
{
  char why[512];
  const char *text = pw_node_text(r, node, key);
  if (!text)
    return false;
  if (pw_rate_parse(pw_typed_number(r, text), dim, r->money_digits, cents_per_si, why, sizeof why)) {
    pw_reader_fault(r, node, "bad-price", "\"%s\": %s", key, why);
    return false;
  }
  return true;
}
