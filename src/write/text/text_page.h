/* text_page.h - plain sheets, 80 columns: headings, paragraphs, rows of cells.  Every text passes the gate of
 * base/text.h on its way; trailing blanks are never written. */
#ifndef PW_TEXT_PAGE_H
#define PW_TEXT_PAGE_H

#include "base/buf.h"
#include "base/ctx.h"
#include "base/text.h"
#include "pw/plan.h"

enum { PW_PAGE_COLUMNS = 80 };

struct pw_page {
  struct pw_buf *buf;
  struct pw_arena *arena; /**< for words and wrapped lines */
  const struct pw_plan *plan;
  const struct pw_event *ev;
};

struct pw_page pw_page_open(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);
/** printf into the arena; "" when memory is out (the buffer then counts as failed). */
const char *pw_words(struct pw_page *page, const char *format, ...) __attribute__((format(printf, 2, 3)));

/** One column of a row: where it starts, how wide it is, how it is set.  Text wider than the column is wrapped when
 *  it stands left (the row grows), cut when it stands right. */
struct pw_cell {
  int column, width;
  enum pw_align align;
  const char *text;
};

void pw_page_blank(struct pw_page *page);
/** The sheet's name in capitals left, something right, a double rule under both. */
void pw_page_title(struct pw_page *page, const char *left, const char *right);
/** A blank line and "Name ------" over the whole width. */
void pw_page_head(struct pw_page *page, const char *name);
/** A wrapped paragraph: first line from column `indent`, the others from `hang`. */
void pw_page_para(struct pw_page *page, int indent, int hang, const char *text);
/** Lines as they are, from the first column: to be copied into a file. */
void pw_page_verbatim(struct pw_page *page, const char *lines);
/** Text left from `indent`, wrapped before an amount that stands at the right margin of the first line. */
void pw_page_pair(struct pw_page *page, int indent, const char *left, const char *right);
/** A row of cells, columns ascending. */
void pw_page_row(struct pw_page *page, const struct pw_cell *cells, int n);

#endif
