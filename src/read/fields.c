/* fields.c - one value by the type of its field, held against the field's limits. */
#include "read/fields.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/nearest.h"
#include "base/text.h"
#include "read/typed.h"

#include <math.h>
#include <string.h>

void pw_field_put(void *out, size_t offset, const void *value, size_t size)
{
  memcpy((char *)out + offset, value, size);
}

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
  else if (pw_text_is_unseen(line))
    pw_reader_fault(r, node, "no-value",
                    "\"%s\" holds only characters that cannot be seen: write a text or delete the line", f->key);
  else if (pw_utf8_length(line) > PW_TEXT_MAX)
    pw_reader_fault(r, node, "long-text", "\"%s\" is longer than %d characters", f->key, PW_TEXT_MAX);
  else if (f->type == PW_FT_ID && !pw_id_is_sound(line))
    pw_reader_fault(
        r, node, "bad-id",
        "\"%s\": \"%s\" is not a short name: use letters, digits, \"-\" and \"_\" (at most %d), such as box-1", f->key,
        pw_node_shown(r, node), PW_ID_MAX);
  else
    pw_field_put(out, f->offset, &line, sizeof line);
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
    pw_field_put(out, f->offset, &value, sizeof value);
}

/* Index of the node's text in the choices, or -1 after a fault. */
int pw_field_choice(const struct pw_field *f, const struct pw_node *node, struct pw_reader *r)
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
  const char *list = pw_reader_choices(r, f->choices);
  if (nearest.best)
    pw_reader_fault(r, node, "bad-choice", "\"%s\": \"%s\" is not known; did you mean \"%s\"? (%s)", f->key,
                    pw_node_shown(r, node), nearest.best, list);
  else
    pw_reader_fault(r, node, "bad-choice", "\"%s\": \"%s\" is not known; write %s", f->key, pw_node_shown(r, node),
                    list);
  return -1;
}

/* Says which side of min..max was left. */
static void range_fault(const struct pw_field *f, const struct pw_node *node, struct pw_reader *r)
{
  const char *text = pw_node_shown(r, node);
  if (f->min && f->max)
    pw_reader_fault(r, node, "out-of-range", "\"%s\": %s is not possible; it must be between %s and %s", f->key, text,
                    f->min, f->max);
  else if (f->min)
    pw_reader_fault(r, node, "out-of-range", "\"%s\": %s is not possible; it must be at least %s", f->key, text,
                    f->min);
  else
    pw_reader_fault(r, node, "out-of-range", "\"%s\": %s is not possible; it must be at most %s", f->key, text, f->max);
}

static void int_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  int value = 0, min = 0, max = 0;
  if (!text)
    return;
  if (!pw_int_parse(pw_typed_number(r, text), INT32_MIN, INT32_MAX, &value))
    pw_reader_fault(r, node, "bad-number", "\"%s\": \"%s\" is not a whole number; write digits only, such as 12",
                    f->key, pw_node_shown(r, node));
  else if ((f->min && pw_int_parse(f->min, INT32_MIN, INT32_MAX, &min) && value < min) ||
           (f->max && pw_int_parse(f->max, INT32_MIN, INT32_MAX, &max) && value > max))
    range_fault(f, node, r);
  else
    pw_field_put(out, f->offset, &value, sizeof value);
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
    pw_field_put(out, f->offset, &si, sizeof si);
    return;
  }
  int whole = (int)lround(si);
  if (fabs(si - whole) > 1e-6)
    pw_reader_fault(r, node, "not-whole", "\"%s\": \"%s\" must come to whole %s", f->key, pw_node_shown(r, node),
                    f->scale != 0 ? "days" : "minutes");
  else
    pw_field_put(out, f->offset, &whole, sizeof whole);
}

static void money_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  if (f->type == PW_FT_MONEY) {
    pw_cents cents;
    if (pw_node_money(r, node, f->key, &cents))
      pw_field_put(out, f->offset, &cents, sizeof cents);
    return;
  }
  struct pw_decimal d;
  const char *end, *text = pw_node_text(r, node, f->key);
  if (!text)
    return;
  if (pw_decimal_scan(text, &d, &end) != PW_NUM_OK || *end || d.is_negative || d.scale > r->money_digits + 4) {
    pw_reader_fault(r, node, "bad-money", "\"%s\": \"%s\" is not a small amount of money; write a number such as 0.10",
                    f->key, pw_node_shown(r, node));
    return;
  }
  double cents = pw_decimal_value(d);
  for (int i = 0; i < r->money_digits; i++)
    cents *= 10;
  pw_field_put(out, f->offset, &cents, sizeof cents);
}

static void rate_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  double cents;
  if (!pw_node_rate(r, node, f->key, f->dim, &cents))
    return;
  cents *= f->scale != 0 ? f->scale : 1;
  pw_field_put(out, f->offset, &cents, sizeof cents);
}

static void date_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  struct pw_date date;
  if (!text)
    return;
  struct pw_date other;
  switch (pw_typed_day(text, &date, &other)) {
  case PW_DAY_EITHER:
    pw_reader_fault(r, node, "bad-date", "\"%s\": %s can be read in two ways: write %04d-%02d-%02d or %04d-%02d-%02d",
                    f->key, text, date.year, date.month, date.day, other.year, other.month, other.day);
    return;
  case PW_DAY_READ:
    text = pw_reader_printf(r, "%04d-%02d-%02d", date.year, date.month, date.day);
    pw_reader_note(r, node, "date-read", "\"%s\": read as %s", f->key, text);
    break;
  case PW_DAY_SHORT:
    pw_reader_fault(r, node, "bad-date", "\"%s\": write the year of %s in full, such as 2027-06-12", f->key, text);
    return;
  case PW_DAY_WRONG:
    pw_reader_fault(r, node, "bad-date", "\"%s\": there is no %s in the calendar; write such as 2027-06-12", f->key,
                    text);
    return;
  default:
    break;
  }
  if (pw_date_parse(text, &date) && date.year >= 1971 && date.year <= 2199)
    pw_field_put(out, f->offset, &date, sizeof date);
  else if (strlen(text) == 10 && text[4] == '-' && text[7] == '-' && strspn(text, "0123456789-") == 10)
    pw_reader_fault(r, node, "bad-date",
                    "\"%s\": there is no %s in the calendar (year 1971 to 2199, month 1 to 12, day of that "
                    "month)",
                    f->key, text);
  else
    pw_reader_fault(r, node, "bad-date", "\"%s\": \"%s\" is not a date; write year-month-day, such as 2027-06-12",
                    f->key, pw_node_shown(r, node));
}

static void ref_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
{
  const char *text = pw_node_text(r, node, f->key);
  struct pw_ref ref = {text, node};
  if (text && strcmp(text, "none") != 0)
    pw_field_put(out, f->offset, &ref, sizeof ref);
}

void pw_field_read(const struct pw_field *f, const struct pw_node *node, void *out, struct pw_reader *r)
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
    if ((choice = pw_field_choice(f, node, r)) >= 0)
      pw_field_put(out, f->offset, &choice, sizeof choice);
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
  default:
    ref_read(f, node, out, r);
  }
}
