/* text.c - UTF-8, display width, wrapping and the escapers.
 * In: any bytes.  Out: text that its target shows and does not obey.  Idea: one reader of code points, one
 * question ("is it safe?"), one visible escape; each target adds only what its own format needs. */
#include "base/text.h"

#include "base/arena.h"
#include "base/text_width.h"

#include <stdio.h>
#include <string.h>

/* ---- reading -------------------------------------------------------------------------------- */

size_t pw_utf8_next(const char *text, size_t n, uint32_t *cp)
{
  *cp = PW_UTF8_BAD;
  if (n == 0)
    return 0;
  unsigned lead = (unsigned char)text[0];
  if (lead < 0x80) {
    *cp = lead;
    return 1;
  }
  size_t len = lead >= 0xC2 && lead <= 0xDF ? 2 : (lead & 0xF0) == 0xE0 ? 3 : lead >= 0xF0 && lead <= 0xF4 ? 4 : 0;
  if (len == 0 || len > n)
    return 1;
  uint32_t value = lead & (0x7Fu >> len);
  for (size_t i = 1; i < len; i++) {
    unsigned c = (unsigned char)text[i];
    if ((c & 0xC0) != 0x80)
      return 1;
    value = value << 6 | (c & 0x3F);
  }
  bool is_overlong = (len == 3 && value < 0x800) || (len == 4 && value < 0x10000);
  if (is_overlong || value > 0x10FFFF || (value >= 0xD800 && value <= 0xDFFF))
    return 1;
  *cp = value;
  return len;
}

size_t pw_utf8_length(const char *text)
{
  size_t n = strlen(text), count = 0;
  uint32_t cp;
  for (size_t i = 0; i < n; i += pw_utf8_next(text + i, n - i, &cp))
    count++;
  return count;
}

bool pw_text_is_unseen(const char *text)
{
  size_t n = strlen(text), i = 0;
  while (i < n) {
    uint32_t cp;
    i += pw_utf8_next(text + i, n - i, &cp);
    if (!pw_text_is_unseen_cp(cp))
      return false;
  }
  return true;
}

/** What is wrong with a code point on a line of its own. */
static enum pw_text_fault fault_of(uint32_t cp)
{
  if (cp == PW_UTF8_BAD)
    return PW_TEXT_BAD_UTF8;
  if (cp < 0x20 || (cp >= 0x7F && cp <= 0x9F))
    return PW_TEXT_CONTROL;
  if (cp == 0x061C || cp == 0x200E || cp == 0x200F || (cp >= 0x202A && cp <= 0x202E) || (cp >= 0x2066 && cp <= 0x2069))
    return PW_TEXT_BIDI;
  if (cp == 0x2028 || cp == 0x2029 || cp == 0xFEFF || (cp >= 0xFFF9 && cp <= 0xFFFB) ||
      (cp >= 0xFDD0 && cp <= 0xFDEF) || (cp & 0xFFFE) == 0xFFFE || (cp >= 0xE0000 && cp <= 0xE007F))
    return PW_TEXT_HIDDEN;
  return PW_TEXT_OK;
}

enum pw_text_fault pw_text_check(const char *text, size_t n, size_t max_chars, bool has_lines, size_t *at)
{
  size_t i = 0, count = 0;
  enum pw_text_fault fault = PW_TEXT_OK;
  while (i < n && fault == PW_TEXT_OK) {
    uint32_t cp;
    size_t len = pw_utf8_next(text + i, n - i, &cp);
    if (!(has_lines && (cp == '\n' || cp == '\t')))
      fault = fault_of(cp);
    if (fault == PW_TEXT_OK && ++count > max_chars)
      fault = PW_TEXT_LONG;
    if (fault == PW_TEXT_OK)
      i += len;
  }
  if (at)
    *at = i;
  return fault;
}

const char *pw_text_fault_words(enum pw_text_fault fault)
{
  static const char *const words[] = {
      [PW_TEXT_OK] = "no fault",
      [PW_TEXT_BAD_UTF8] = "a byte that is not UTF-8",
      [PW_TEXT_CONTROL] = "a control character",
      [PW_TEXT_BIDI] = "a character that changes the writing direction",
      [PW_TEXT_HIDDEN] = "an invisible or reserved character",
      [PW_TEXT_LONG] = "too many characters",
  };
  return words[fault];
}

/* ---- one visible piece of text ------------------------------------------------------------------- */

/** What one code point becomes: itself, a blank, or an escape; with its width. */
struct glyph {
  const char *bytes;
  size_t n;
  int width;
  uint32_t cp; /**< the code point, or PW_UTF8_BAD when `bytes` is an escape */
  char escape[12];
};

enum keep { KEEP_NONE = 0, KEEP_NEWLINE = 1, KEEP_TAB = 2 };

/** Reads the next glyph; returns the bytes taken.  Newline and tab stay or become a blank, by `keep`. */
static size_t glyph_next(struct glyph *g, const char *text, size_t n, unsigned keep)
{
  uint32_t cp;
  size_t taken = pw_utf8_next(text, n, &cp);
  g->bytes = text;
  g->n = taken;
  g->cp = cp;
  if (cp == '\n' || cp == '\t') {
    if (!(keep & (cp == '\n' ? KEEP_NEWLINE : KEEP_TAB))) {
      g->bytes = " ";
      g->cp = ' ';
    }
    g->width = 1;
    return taken;
  }
  if (fault_of(cp) == PW_TEXT_OK) {
    g->width = pw_text_width_of(cp);
    return taken;
  }
  if (cp == PW_UTF8_BAD)
    cp = (unsigned char)text[0];
  int len = snprintf(g->escape, sizeof g->escape, cp <= 0xFF ? "\\x%02x" : cp <= 0xFFFF ? "\\u%04x" : "\\U%06x", cp);
  g->bytes = g->escape;
  g->n = (size_t)len;
  g->width = len;
  g->cp = PW_UTF8_BAD;
  return taken;
}

int pw_text_width(const char *text)
{
  size_t n = strlen(text);
  int width = 0;
  struct glyph g;
  for (size_t i = 0; i < n;) {
    i += glyph_next(&g, text + i, n - i, KEEP_NONE);
    width += g.width;
  }
  return width;
}

/** Bytes of safe text that fit into `columns`; *width is what they take. */
static size_t fit(const char *text, int columns, int *width)
{
  size_t n = strlen(text), i = 0;
  *width = 0;
  while (i < n) {
    struct glyph g;
    size_t taken = glyph_next(&g, text + i, n - i, KEEP_NONE);
    if (*width + g.width > columns)
      break;
    *width += g.width;
    i += taken;
  }
  return i;
}

static void add_line_n(struct pw_buf *buf, const char *text, size_t n)
{
  struct glyph g;
  for (size_t i = 0; i < n;) {
    i += glyph_next(&g, text + i, n - i, KEEP_NONE);
    pw_buf_add_n(buf, g.bytes, g.n);
  }
}

void pw_text_add_padded(struct pw_buf *buf, const char *text, int columns, enum pw_align align)
{
  if (columns <= 0)
    return;
  int width;
  size_t n = fit(text, columns, &width);
  bool is_cut = text[n] != '\0';
  if (is_cut)
    n = fit(text, columns - 1, &width);
  int spare = columns - width - (is_cut ? 1 : 0);
  int before = align == PW_RIGHT ? spare : align == PW_CENTRE ? spare / 2 : 0;
  pw_buf_add_times(buf, ' ', before);
  add_line_n(buf, text, n);
  if (is_cut)
    pw_buf_add(buf, "\xE2\x80\xA6"); /* horizontal ellipsis */
  pw_buf_add_times(buf, ' ', spare - before);
}

/* ---- wrapping ---------------------------------------------------------------------------------- */

struct wrapper {
  struct pw_arena *arena;
  struct pw_buf line;
  int width, columns;
  char **lines;
  size_t n, cap;
  bool failed;
};

static void line_end(struct wrapper *w)
{
  char *text = pw_buf_text(&w->line);
  if (!text || pw_arena_grow(w->arena, &w->lines, &w->cap, w->n, sizeof *w->lines)) {
    w->failed = true;
    return;
  }
  w->lines[w->n++] = text;
  w->line = pw_buf_in(w->arena);
  w->width = 0;
}

/** Adds one word of already safe text, on this line or the next ones. */
static void word_put(struct wrapper *w, const char *word)
{
  int width = pw_text_width(word);
  if (w->width > 0 && w->width + 1 + width > w->columns)
    line_end(w);
  if (w->width > 0) {
    pw_buf_add_char(&w->line, ' ');
    w->width++;
  }
  while (width > w->columns - w->width && !w->failed) {
    int took;
    size_t n = fit(word, w->columns, &took);
    if (n == 0) { /* a wide character in a one-column line: let it stick out */
      struct glyph g;
      n = glyph_next(&g, word, strlen(word), KEEP_NONE);
      took = g.width;
    }
    pw_buf_add_n(&w->line, word, n);
    word += n;
    width -= took;
    if (*word == '\0') {
      w->width += took;
      return;
    }
    line_end(w);
  }
  pw_buf_add(&w->line, word);
  w->width += width;
}

/* Columns of the unit that stands at `at` and must not be parted from its number ("41 / °F" is read as 41 of something); 0: none does. */
static int unit_width(const char *at)
{
  static const char *const units[] = {"%", "°F", "°C",  "lb",  "oz", "kg",   "g",  "t",  "min", "h",  "d",
                                      "s", "L",  "ml",  "gal", "qt", "in",   "ft", "yd", "mi",  "mm", "cm",
                                      "m", "km", "mph", "ft2", "m2", "cord", "MJ", "kW", "log"};
  size_t whole = strcspn(at, " \n"), n = whole;
  while (n > 0 && strchr(".,;:)", at[n - 1]))
    n--;
  for (size_t i = 0; i < sizeof units / sizeof *units; i++)
    if (strlen(units[i]) == n && strncmp(at, units[i], n) == 0)
      return pw_text_width(units[i]) + (int)(whole - n);
  return 0;
}

/* Whether the blank after a number belongs to it, and the two fit on a line. */
static bool is_kept_blank(const struct pw_buf *word, const char *next, int columns)
{
  if (word->n == 0 || word->bytes[word->n - 1] < '0' || word->bytes[word->n - 1] > '9')
    return false;
  int unit = unit_width(next);
  return unit > 0 && pw_text_width(word->bytes) + 1 + unit <= columns;
}

int pw_text_wrap(struct pw_arena *arena, const char *text, int columns, char ***lines)
{
  struct wrapper w = {.arena = arena, .line = pw_buf_in(arena), .columns = columns < 1 ? 1 : columns};
  struct pw_buf word = pw_buf_in(arena);
  size_t n = strlen(text);
  for (size_t i = 0; i <= n && !w.failed && !word.failed;) {
    struct glyph g = {.cp = '\n'}; /* the end closes the last word and line */
    i += i < n ? glyph_next(&g, text + i, n - i, KEEP_NEWLINE) : 1;
    if (g.cp != ' ' && g.cp != '\n') {
      pw_buf_add_n(&word, g.bytes, g.n);
      continue;
    }
    if (g.cp == ' ' && is_kept_blank(&word, text + i, w.columns)) {
      pw_buf_add_char(&word, ' ');
      continue;
    }
    if (word.n > 0) {
      word_put(&w, word.bytes);
      word.n = 0;
    }
    /* a final newline ends its line, it does not open an empty one */
    if (g.cp == '\n' && !(i > n && w.n > 0 && w.width == 0))
      line_end(&w);
  }
  if (w.failed || word.failed)
    return -1;
  *lines = w.lines;
  return (int)w.n;
}

/* ---- escaping ------------------------------------------------------------------------------------ */

void pw_text_add_line(struct pw_buf *buf, const char *text) { add_line_n(buf, text, strlen(text)); }

static void add_markup(struct pw_buf *buf, const char *text, bool is_attribute)
{
  size_t n = strlen(text);
  struct glyph g;
  for (size_t i = 0; i < n;) {
    i += glyph_next(&g, text + i, n - i, KEEP_NEWLINE | KEEP_TAB);
    const char *entity = g.cp == '&'     ? "&amp;"
                         : g.cp == '<'   ? "&lt;"
                         : g.cp == '>'   ? "&gt;"
                         : !is_attribute ? NULL
                         : g.cp == '"'   ? "&quot;"
                         : g.cp == '\''  ? "&#39;"
                         : g.cp == '\n'  ? "&#10;"
                         : g.cp == '\t'  ? "&#9;"
                                         : NULL;
    if (entity)
      pw_buf_add(buf, entity);
    else
      pw_buf_add_n(buf, g.bytes, g.n);
  }
}

void pw_text_add_html(struct pw_buf *buf, const char *text) { add_markup(buf, text, false); }

void pw_text_add_attribute(struct pw_buf *buf, const char *text) { add_markup(buf, text, true); }

void pw_text_add_csv(struct pw_buf *buf, const char *text)
{
  size_t n = strlen(text);
  /* cells a spreadsheet takes for a formula: OWASP, "CSV Injection" */
  const char *first = text + strspn(text, " \t\r\n");
  bool is_formula = *first != '\0' && strchr("=+-@", *first) != NULL;
  for (const char *p = text; !is_formula && (p = strchr(p, '\n')) != NULL;) {
    p += strspn(p, " \t\r\n");
    is_formula = *p != '\0' && strchr("=+-@", *p) != NULL;
  }
  bool is_quoted = strpbrk(text, ",\"\n;") != NULL || text[0] == ' ' || (n > 0 && text[n - 1] == ' ');
  if (is_quoted)
    pw_buf_add_char(buf, '"');
  if (is_formula)
    pw_buf_add_char(buf, '\'');
  struct glyph g;
  for (size_t i = 0; i < n;) {
    i += glyph_next(&g, text + i, n - i, KEEP_NEWLINE);
    if (g.cp == '"')
      pw_buf_add_char(buf, '"');
    pw_buf_add_n(buf, g.bytes, g.n);
  }
  if (is_quoted)
    pw_buf_add_char(buf, '"');
}

void pw_text_add_xlsx_header(struct pw_buf *buf, const char *text, size_t max_chars)
{
  size_t n = strlen(text), used = 0;
  struct glyph g;
  for (size_t i = 0; i < n;) {
    i += glyph_next(&g, text + i, n - i, KEEP_NONE);
    size_t chars = g.cp == PW_UTF8_BAD ? g.n : g.cp == '&' ? 2 : 1;
    if (used + chars > max_chars)
      return;
    used += chars;
    if (g.cp == '&')
      pw_buf_add_char(buf, '&');
    pw_buf_add_n(buf, g.bytes, g.n);
  }
}

/** "_xHHHH_" at p: readers of workbooks decode it (ECMA-376 part 1, 22.4.2.4). */
static bool is_xlsx_escape(const char *p)
{
  return p[0] == '_' && p[1] == 'x' && strspn(p + 2, "0123456789abcdefABCDEF") >= 4 && p[6] == '_';
}

void pw_text_add_xlsx_cell(struct pw_buf *buf, const char *text)
{
  enum { CELL_UNITS = 32767 }; /* longest string of a cell, UTF-16 units: ECMA-376 readers' limit */
  size_t n = strlen(text), used = 0;
  struct glyph g;
  for (size_t i = 0; i < n;) {
    bool is_escape = is_xlsx_escape(text + i);
    i += glyph_next(&g, text + i, n - i, KEEP_NEWLINE);
    size_t units = (g.cp == PW_UTF8_BAD ? g.n : g.cp > 0xFFFF ? 2 : 1) + (is_escape ? 6 : 0);
    if (used + units > CELL_UNITS)
      return;
    used += units;
    if (is_escape)
      pw_buf_add(buf, "_x005F");
    pw_buf_add_n(buf, g.bytes, g.n);
  }
}

void pw_text_add_ics(struct pw_buf *buf, const char *text)
{
  size_t n = strlen(text);
  struct glyph g;
  for (size_t i = 0; i < n;) {
    i += glyph_next(&g, text + i, n - i, KEEP_NEWLINE);
    if (g.cp == '\n') {
      pw_buf_add(buf, "\\n");
      continue;
    }
    if (g.cp == ';' || g.cp == ',')
      pw_buf_add_char(buf, '\\');
    for (size_t k = 0; k < g.n; k++) { /* escapes start with a backslash too */
      if (g.bytes[k] == '\\')
        pw_buf_add_char(buf, '\\');
      pw_buf_add_char(buf, g.bytes[k]);
    }
  }
}

void pw_text_add_json(struct pw_buf *buf, const char *text)
{
  size_t n = strlen(text);
  for (size_t i = 0; i < n;) {
    uint32_t cp;
    size_t taken = pw_utf8_next(text + i, n - i, &cp);
    if (cp == '"' || cp == '\\')
      pw_buf_add_char(buf, '\\');
    if (cp == '\n')
      pw_buf_add(buf, "\\n");
    else if (cp == PW_UTF8_BAD)
      pw_buf_add(buf, "\\ufffd");
    else if (fault_of(cp) == PW_TEXT_OK)
      pw_buf_add_n(buf, text + i, taken);
    else if (cp <= 0xFFFF)
      pw_buf_printf(buf, "\\u%04x", cp);
    else /* a surrogate pair */
      pw_buf_printf(buf, "\\u%04x\\u%04x", 0xD7C0 + (cp >> 10), 0xDC00 + (cp & 0x3FF));
    i += taken;
  }
}

#define INTO_STRING(call)                                                                                              \
  struct pw_buf buf = pw_buf_in(arena);                                                                                \
  call;                                                                                                                \
  return pw_buf_text(&buf)

char *pw_text_line(struct pw_arena *arena, const char *text) { INTO_STRING(pw_text_add_line(&buf, text)); }

char *pw_text_xlsx_header(struct pw_arena *arena, const char *text, size_t max_chars)
{
  INTO_STRING(pw_text_add_xlsx_header(&buf, text, max_chars));
}

char *pw_text_xlsx_cell(struct pw_arena *arena, const char *text) { INTO_STRING(pw_text_add_xlsx_cell(&buf, text)); }
