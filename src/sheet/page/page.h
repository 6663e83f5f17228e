/* page.h - a page as data: lines of words, one after another, and rows of tables whose columns are declared.  Each page is made once
 * by its maker (page_*.c); a format lays it out and knows nothing of the plan.  The pen copies whatever it is given, so the `.s` of a
 * pw_format_*() may be passed as it is.  Lack of memory is remembered; every later call then does nothing. */
#ifndef PW_PAGE_H
#define PW_PAGE_H

#include "base/ctx.h"
#include "pw/plan.h"
#include "sheet/sheet.h"
#include "sheet/table.h"

#include <stdarg.h>

/** A column of a table. */
struct pw_page_column {
  int gap;   /**< blank characters before it: what is left of the first column is the table's indent */
  int chars; /**< width; what is longer is broken */
  enum pw_cell_role role;
  const char *head; /**< "" for none */
};

enum pw_page_kind {
  PW_PAGE_TITLE,   /**< what the page is about, and which page it is */
  PW_PAGE_HEAD,    /**< opens a part */
  PW_PAGE_PARA,    /**< sentences; `indent` before the first line, `hang` before the others */
  PW_PAGE_PAIR,    /**< words, and an amount or a time at the far margin */
  PW_PAGE_ROW,     /**< of a table, `indent` more before its first cell */
  PW_PAGE_HEADS,   /**< the heads of its columns as a row */
  PW_PAGE_BLANK,   /**< an empty line */
  PW_PAGE_VERBATIM /**< lines to be copied into a file as they are */
};

enum { PW_PAGE_TABLE_MAX = 12 }; /**< columns of a table */

/** How a table's columns stand. */
struct pw_page_table {
  const struct pw_page_column *columns;
  int n;
};

struct pw_page_line {
  enum pw_page_kind kind;
  int indent, hang;
  const char *left, *right;          /**< words; right: of a title or a pair */
  const struct pw_page_table *table; /**< of a row */
  const char **cells;                /**< as many as the table has columns */
};

struct pw_page {
  struct pw_arena *arena;
  const struct pw_plan *plan; /**< what the page tells of; NULL where it is no plan */
  const struct pw_event *ev;
  struct pw_page_line *lines;
  int n_lines;
  size_t cap_lines;
  const struct pw_page_table *table; /**< the open one */
  bool has_failed;
};

/** An empty page that tells of a plan, or of an event before it is planned; either may be NULL. */
struct pw_page pw_page_open(const struct pw_plan *plan, const struct pw_event *ev, struct pw_ctx *ctx);
/** PW_ERR_MEMORY when anything of the page is missing. */
pw_status pw_page_done(const struct pw_page *page);
/** printf into the arena; "" when memory is out. */
const char *pw_words(struct pw_page *page, const char *format, ...) __attribute__((format(printf, 2, 3)));
const char *pw_words_v(struct pw_page *page, const char *format, va_list args) __attribute__((format(printf, 2, 0)));
/** A text that somebody else made: "" and the page has failed when it is NULL. */
const char *pw_page_made(struct pw_page *page, const char *text);

/** Left: what the page is about; right: which page; of a mended plan its edition stands there too. */
void pw_page_title(struct pw_page *page, const char *left, const char *right);
/** Opens a part. */
void pw_page_head(struct pw_page *page, const char *name);
/** Sentences: the first line from column `indent`, the others from `hang`. */
void pw_page_para(struct pw_page *page, int indent, int hang, const char *text);
/** A paragraph put together by printf. */
void pw_page_say(struct pw_page *page, int indent, int hang, const char *format, ...)
    __attribute__((format(printf, 4, 5)));
/** Words from `indent`, an amount or a time at the far margin. */
void pw_page_pair(struct pw_page *page, int indent, const char *left, const char *right);
/** Words and money. */
void pw_page_money(struct pw_page *page, int indent, const char *left, pw_cents cents);
/** An empty line. */
void pw_page_blank(struct pw_page *page);
/** Lines as they are, to be copied into a file. */
void pw_page_verbatim(struct pw_page *page, const char *lines);

/** Opens a table of at most PW_PAGE_TABLE_MAX columns: rows that follow are its own, whatever stands between them.  Its heads are written
 *  if any column has one. */
void pw_page_table(struct pw_page *page, const struct pw_page_column *columns, int n);
/** A row of the open table, `indent` more before its first cell; cells that are not given are empty, more than columns are a mistake
 *  of the maker and left out. */
void pw_page_cells(struct pw_page *page, int indent, const char *const *cells, int n);
/** The same, cells as arguments. */
#define pw_page_row_in(page, indent, ...)                                                                              \
  pw_page_cells(page, indent, (const char *const[]){__VA_ARGS__},                                                      \
                (int)(sizeof((const char *const[]){__VA_ARGS__}) / sizeof(const char *)))
#define pw_page_row(page, ...) pw_page_row_in(page, 0, __VA_ARGS__)
/** A table by the name of its array of columns. */
#define pw_page_table_of(page, columns) pw_page_table(page, columns, (int)(sizeof(columns) / sizeof *(columns)))

/** A table that other forms show too: heads, then rows, bands over those that have one; it stays open. */
void pw_page_lay(struct pw_page *page, struct pw_told_table *t);
void pw_page_lay_heads(struct pw_page *page, struct pw_told_table *t);
void pw_page_lay_row(struct pw_page *page, struct pw_told_table *t, int row);
/** The same as a part of its own; nothing, and false, when it has no rows. */
bool pw_page_part(struct pw_page *page, const char *head, struct pw_told_table *t);

#endif
