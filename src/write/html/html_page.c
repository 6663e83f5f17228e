/* html_page.c - document frame, tables, sections of the HTML sheets.  The security policy in the head forbids
 * any request and every script but the one below; the file is all there is. */
#include "write/html/html_page.h"

#include "base/arena.h"
#include "base/text.h"
#include "sheet/words.h"

#include <string.h>

void pw_html_raw(struct html *h, const char *markup) { pw_buf_add(h->buf, markup); }

void pw_html_rawf(struct html *h, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(h->view.arena, format, args);
  va_end(args);
  if (!text)
    h->buf->failed = true;
  else
    pw_buf_add(h->buf, text);
}

static bool is_degree(const char *word) { return strncmp(word, "\xC2\xB0", 2) == 0; }

/** Whether a unit begins here and ends with its word. */
static bool is_unit(const char *word)
{
  static const char *const units[] = {"h",  "min", "lb", "oz", "fl oz", "gal", "qt",  "g",   "kg",   "mL", "L",
                                      "in", "ft",  "mi", "cm", "m",     "km",  "mph", "m/s", "cord", "%",  "each"};
  bool is = false;
  for (size_t i = 0; i < sizeof units / sizeof *units && !is; i++) {
    size_t n = strlen(units[i]);
    is = strncmp(word, units[i], n) == 0 && !(word[n] >= '0' && word[n] <= '9') && !(word[n] >= 'a' && word[n] <= 'z');
  }
  return is;
}

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

static bool is_letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/** Whether one of the words begins here and ends with its word. */
static bool is_word(const char *at, const char *const *words, size_t n_words)
{
  bool is = false;
  for (size_t i = 0; i < n_words && !is; i++) {
    size_t n = strlen(words[i]);
    is = strncmp(at, words[i], n) == 0 && !is_letter(at[n]) && !is_digit(at[n]);
  }
  return is;
}

#define IS_WORD(at, words) is_word((at), (words), sizeof(words) / sizeof *(words))

/** Whether the blank at p stands between a number and the word that counts by it: "9 lb", "2 pans", "7:30 PM", "3 of 6". */
static bool is_counted(const char *text, const char *p)
{
  static const char *const halves[] = {"AM", "PM"}, *const links[] = {"to", "and",   "or",    "at",   "on",
                                                                      "of", "from",  "until", "with", "by",
                                                                      "is", "where", "when",  "for"};
  enum { LONGEST = 9 }; /* a longer word may stand alone */
  if (!is_digit(p[-1]))
    return false;
  const char *begin = p - 1;
  while (begin > text && (is_digit(begin[-1]) || strchr(".,:", begin[-1])))
    begin--;
  if (begin > text && is_letter(begin[-1]))
    return false; /* "D4" */
  size_t n = 0;
  while (p[1 + n] >= 'a' && p[1 + n] <= 'z')
    n++;
  if (strncmp(p + 1, "of ", 3) == 0 && is_digit(p[4]))
    return true;
  if (IS_WORD(p + 1, halves) || is_unit(p + 1) || strncmp(p + 1, "\xC3\x97", 2) == 0)
    return true;
  return !memchr(begin, ':', (size_t)(p - begin)) && n > 0 && n <= LONGEST && !is_letter(p[1 + n]) &&
         !IS_WORD(p + 1, links);
}

/** Whether the blank at p stands before the number of a thing: "zone 3", "of 6" behind a number, "Fri 18:30". */
static bool is_numbered(const char *text, const char *p)
{
  static const char *const things[] = {"zone", "opening", "wave",  "row", "rows", "about", "near",
                                       "Mon",  "Tue",     "Wed",   "Thu", "Fri",  "Sat",   "Sun",
                                       "off",  "latest",  "until", "by",  "below"};
  if (!is_digit(p[1]))
    return false;
  const char *begin = p;
  while (begin > text && is_letter(begin[-1]))
    begin--;
  bool is_of = p - begin == 2 && strncmp(begin, "of", 2) == 0 && begin > text + 1 && is_digit(begin[-2]);
  return is_of || (p > begin && IS_WORD(begin, things));
}

/* a line must not end between a number and its unit, nor between the words that make one place, amount or time */
void pw_html_text(struct html *h, const char *text)
{
  const char *rest = text ? text : "";
  for (const char *p = rest; (p = strchr(p, ' ')) != NULL; p++)
    if (is_degree(p + 1) || (p > text && (is_counted(text, p) || is_numbered(text, p)))) {
      pw_text_add_html(h->buf, pw_view_printf(&h->view, "%.*s", (int)(p - rest), rest));
      pw_buf_add(h->buf, "\xC2\xA0");
      rest = p + 1;
    }
  pw_text_add_html(h->buf, rest);
}

void pw_html_el(struct html *h, const char *open, const char *text)
{
  size_t n = strcspn(open, " ");
  pw_html_rawf(h, "<%s>", open);
  pw_html_text(h, text);
  pw_html_rawf(h, "</%.*s>", (int)n, open);
}

void pw_html_table(struct html *h, const char *classes, const char *const *heads, int n, int n_numbers)
{
  bool has_heads = false;
  for (int i = 0; i < n; i++)
    has_heads = has_heads || heads[i][0];
  pw_html_rawf(h, "<table class=\"%s\">", classes);
  if (has_heads)
    pw_html_raw(h, "<thead><tr>");
  for (int i = 0; has_heads && i < n; i++)
    pw_html_el(h, i < n - n_numbers ? "th scope=\"col\"" : "th scope=\"col\" class=\"n\"", heads[i]);
  pw_html_raw(h, has_heads ? "</tr></thead><tbody>\n" : "<tbody>\n");
}

void pw_html_row(struct html *h, const char *classes)
{
  pw_html_rawf(h, classes[0] ? "<tr class=\"%s\">" : "<tr>", classes);
}

void pw_html_cell(struct html *h, const char *classes, const char *head, const char *text)
{
  pw_html_rawf(h, "<td class=\"%s%s\" data-h=\"", classes, text && text[0] ? "" : " none");
  pw_text_add_attribute(h->buf, head);
  pw_html_raw(h, "\">");
  pw_html_text(h, text);
  pw_html_raw(h, "</td>");
}

void pw_html_fill(struct html *h, const char *head)
{
  pw_html_raw(h, "<td class=\"fill\" data-h=\"");
  pw_text_add_attribute(h->buf, head);
  pw_html_raw(h, "\"></td>");
}

void pw_html_tick(struct html *h)
{
  pw_html_raw(h, "<td class=\"tick\" data-h=\"\"><input type=\"checkbox\" aria-label=\"done\"/></td>");
}
void pw_html_row_end(struct html *h) { pw_html_raw(h, "</tr>\n"); }
void pw_html_table_end(struct html *h) { pw_html_raw(h, "</tbody></table>\n"); }

void pw_html_section(struct html *h, const char *id, const char *classes, const char *title)
{
  pw_html_rawf(h, "<section id=\"%s\" class=\"%s\">", id, classes);
  pw_html_el(h, "h2", title);
  pw_html_raw(h, "\n");
}

void pw_html_section_end(struct html *h) { pw_html_raw(h, "</section>\n"); }

/** A name as a string of the style sheet's print footer: quotes and backslashes escaped, angle brackets as code. */
static void css_string(struct html *h, const char *text)
{
  const char *line = pw_text_line(h->view.arena, text);
  if (!line) {
    h->buf->failed = true;
    return;
  }
  for (const char *p = line; *p; p++) {
    if (*p == '"' || *p == '\\' || *p == '<' || *p == '>' || *p == '&')
      pw_html_rawf(h, "\\%06x ", (unsigned)(unsigned char)*p);
    else
      pw_buf_add_char(h->buf, *p);
  }
}

pw_status pw_html_open(struct html *h, struct pw_buf *out, const struct pw_plan *plan, const char *kind,
                       struct pw_ctx *ctx)
{
  memset(h, 0, sizeof *h);
  pw_status status = pw_view_make(&h->view, plan, ctx);
  if (status != PW_OK)
    return status;
  h->buf = out;
  h->plan = plan;
  h->ev = plan->event;
  pw_html_raw(
      h,
      "<!DOCTYPE html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"/>\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\"/>\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'; "
      "script-src 'sha256-" PW_HTML_SCRIPT_SHA256 "'\"/>\n"
      "<meta name=\"color-scheme\" content=\"light dark\"/>\n<meta name=\"generator\" content=\"pitwright " PW_VERSION
      "\"/>\n<title>");
  pw_html_text(h, h->ev->name);
  pw_html_rawf(h, ": %s</title>\n<style>\n", kind);
  for (int i = 0; pw_html_style[i]; i++)
    pw_html_raw(h, pw_html_style[i]);
  if (strcmp(kind, "quote") == 0) /* a letter, not a sheet on the wall */
    pw_html_raw(
        h, "@media print{.offer{font-size:var(--pt)}section h2{font-size:13pt;margin:5pt 0 2pt}td.fill{height:20mm}"
           ".everywhere .note{display:inline-block;margin-right:6mm}.facts "
           "tbody{display:grid;grid-template-columns:1fr 1fr;column-gap:8mm}"
           ".facts tr{display:grid;grid-template-columns:2fr 3fr}}\n");
  const char *paper = h->ev->paper == PW_PAPER_A4 ? "A4" : "letter";
  pw_html_rawf(h, "@page across{size:%s landscape}\n@page{size:%s;margin:10mm 11mm 15mm;@bottom-left{content:\"", paper,
               paper);
  css_string(h, h->ev->name);
  pw_html_rawf(h, ", %s", pw_view_date(&h->view, h->ev->date));
  if (plan->day)
    pw_html_rawf(h, "; %s", pw_words_edition(plan).s);
  pw_html_raw(h, "\";font:9pt sans-serif}@bottom-right{content:\"pitwright " PW_VERSION
                 ", page \" counter(page) \" of \" counter(pages);font:9pt sans-serif}}\n</style></head>\n<body>\n");
  if (plan->day) {
    pw_html_raw(h, "<p class=\"edition screen\">");
    pw_html_text(h, pw_words_edition(plan).s);
    pw_html_raw(h, "</p>\n");
  }
  return PW_OK;
}

pw_status pw_html_close(struct html *h)
{
  pw_html_raw(h, "</body></html>\n");
  return h->buf->failed || h->view.failed ? PW_ERR_MEMORY : PW_OK;
}
