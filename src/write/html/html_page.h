/* html_page.h - the pen of the HTML sheets.  Markup literals go in as they are; every text from the plan goes through
 * the gate of base/text.h.  The markup is well formed as XML too (void elements are closed), so that a plain
 * checker can prove the nesting. */
#ifndef PW_HTML_PAGE_H
#define PW_HTML_PAGE_H

#include "base/buf.h"
#include "sheet/view.h"

#define PW_HTML_SCRIPT_SHA256 "1eIfhqzYlSShzEHEA4xKhONQvEetYoZ574H0SlD8KDg=" /* of the text in html_script.c */

struct html {
  struct pw_buf *buf;
  struct pw_view view;
  const struct pw_plan *plan;
  const struct pw_event *ev;
};

/** Opens a document: head, style sheet for screen and paper, title block.  Errors: PW_ERR_MEMORY. */
pw_status pw_html_open(struct html *h, struct pw_buf *out, const struct pw_plan *plan, const char *kind,
                       struct pw_ctx *ctx);
/** Ends it.  Errors: PW_ERR_MEMORY when anything before ran out of memory. */
pw_status pw_html_close(struct html *h);

/** Trusted markup. */
void pw_html_raw(struct html *h, const char *markup);
/** Trusted format, numbers and trusted words only. */
void pw_html_rawf(struct html *h, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** Escaped text. */
void pw_html_text(struct html *h, const char *text);
/** <tag>text</tag>; `open` is the tag with its attributes: "p class=\"note\"". */
void pw_html_el(struct html *h, const char *open, const char *text);

/** Table: classes, head words, n columns, the last n_numbers of them numbers; then rows of cells; then the end.  Each cell knows its head, which phones
 *  show beside it. */
void pw_html_table(struct html *h, const char *classes, const char *const *heads, int n, int n_numbers);
void pw_html_row(struct html *h, const char *classes);
/** Cell of the open row; `head` is its column's, "" for none. */
void pw_html_cell(struct html *h, const char *classes, const char *head, const char *text);
/** Empty cell with room to write. */
void pw_html_fill(struct html *h, const char *head);
/** Tick box cell. */
void pw_html_tick(struct html *h);
void pw_html_row_end(struct html *h);
void pw_html_table_end(struct html *h);

/** <section id class><h2>title</h2> ... pw_html_section_end. */
void pw_html_section(struct html *h, const char *id, const char *classes, const char *title);
void pw_html_section_end(struct html *h);

/** Pieces of the style sheet, NULL at the end. */
extern const char *const pw_html_style[];

/** What keeps ticks and readings over a reload and finds the line of now; the page reads without it. */
void pw_html_script(struct html *h);

#endif
