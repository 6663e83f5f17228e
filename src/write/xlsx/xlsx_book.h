/* xlsx_book.h - the pen the workbook's sheets are written with.  Included by src/write/xlsx*.c only; these are
 * the files that know xlsxwriter.h.
 *
 * Every call folds the library's error into book->error (sticky, the first one wins), every text passes the
 * gate of base/text.h, and each row gets an explicit height that fits its wrapped texts. */
#ifndef PW_XLSX_BOOK_H
#define PW_XLSX_BOOK_H

#include "sheet/grid.h"

#include <stdbool.h>
#include <xlsxwriter.h>

#define XLSX_FONT "Arial" /* has metric twins on every system */

/** Looks: those of the owner's cells by their role (sheet/grid.h), then those of the crew's. */
enum {
  ST_CELL = PW_G__COUNT, /**< 12 pt, a hairline under it */
  ST_CELL_BOLD,
  ST_CELL_TIME, /**< 14 pt */
  ST_CELL_RIGHT,
  ST_CELL_TARGET,
  ST_CELL_HEAD,
  ST_CELL_HEAD_RIGHT,
  ST_BAND, /**< a heading over what follows; not wrapped */
  ST_SUB_BAND,
  ST_BOX, /**< empty ruled cell to write in by hand; may be edited */
  ST__COUNT
};

/** A number's format with its unit. */
struct book_amount {
  int style;
  int decimals;
  const char *unit;
  lxw_format *format;
};

struct book {
  lxw_workbook *wb;
  struct pw_view *view;
  const struct pw_plan *plan;
  struct pw_ctx *ctx;
  const struct pw_event *ev;
  lxw_error error;
  lxw_format *style[ST__COUNT];
  struct book_amount *amounts; /**< made as they are asked for */
  int n_amounts;
  size_t cap_amounts;
  lxw_format *edges[PW_GRID_EDGES]; /**< of cells of drawings, as they are asked for */
  lxw_format *struck;               /**< a reading that is too low */
  const char *footer;               /**< event, version, page x of y */
};

enum { SHEET_COLS_MAX = 128, BREAKS_MAX = 1000 };

/** A sheet being written. */
struct sheet {
  struct book *b;
  lxw_worksheet *ws;
  double width[SHEET_COLS_MAX]; /**< characters */
  int px[SHEET_COLS_MAX];       /**< pixels */
  struct row_look {
    double points; /**< height; 0: not set */
    bool is_page_start, is_full_before, keeps_with_next, is_hidden;
  } * rows;
  size_t n_rows, cap_rows;
  int last_col;   /**< last column with a width of its own */
  int print_rows; /**< rows that are printed, 0: all of them */
  int head_row;   /**< repeated on every page, or PW_NONE */
  bool is_landscape;
  bool is_on_screen_only; /**< nothing of it is printed */
  bool is_tight;          /**< rows as low as their type allows: on paper, where a page less is worth it */
  double least_scale;     /**< smallest print it may have to save a page; 1: none smaller than its width asks for */
  int row;                /**< next free row, kept by the helpers that say so */
};

/** Formats and footer of a new workbook; wb, view, plan and ev are set. */
void pw_book_start(struct book *b);
/** All formats (xlsx_style.c). */
void pw_styles_make(struct book *b);
/** A style's format for a number with decimals and a unit behind it, "" for none. */
lxw_format *pw_style_amount(struct book *b, int style, int decimals, const char *unit);
/** What shows that a reading is too low, without colour too; NULL when memory is out. */
lxw_format *pw_style_struck(struct book *b);
/** Lines at the sides of a cell of a drawing; NULL when memory is out. */
lxw_format *pw_style_edges(struct book *b, int edges);
/** Type size; whether texts wrap. */
double pw_style_points(int style);
bool pw_style_wraps(int style);
/** Lines a text takes in `width` characters of the default column; words stay whole. */
int pw_lines_needed(const char *text, double width, int style);

/** Opens a sheet; name is a literal of at most 31 characters.  It is for the screen alone until is_on_screen_only is taken away.  On
 *  failure the book has an error and every later call on the sheet does nothing. */
void pw_sheet_open(struct book *b, struct sheet *s, const char *name, bool is_landscape);
/** Sets row heights, print scale and page breaks: where a page is full, and where one was asked for; a row that keeps
 *  with the next is not left alone at a page's foot.  Call once when the sheet is complete. */
void pw_sheet_close(struct sheet *s);
/** Column widths in characters, from column 0. */
void pw_sheet_columns(struct sheet *s, const double *widths, int n);
/** Equal columns in pixels. */
void pw_sheet_columns_px(struct sheet *s, int first, int last, int px);
/** At least so many points for the row. */
void pw_sheet_row_height(struct sheet *s, int row, double points);
/** The row is not the last one of a page. */
void pw_sheet_keep(struct sheet *s, int row);
/** A page starts at this row. */
void pw_sheet_break(struct sheet *s, int row);
void pw_put_text(struct sheet *s, int row, int col, const char *text, int style);
void pw_put_number(struct sheet *s, int row, int col, double value, int style);
void pw_put_blank(struct sheet *s, int row, int col, int style);
/** Formula in A1 form with its value computed here. */
void pw_put_formula(struct sheet *s, int row, int col, const char *formula, double value, int style);
/** The same with a text. */
void pw_put_formula_text(struct sheet *s, int row, int col, const char *formula, const char *text, int style);
/** Text over several cells; a single cell is written plainly. */
void pw_put_merged(struct sheet *s, int r0, int c0, int r1, int c1, const char *text, int style);
/** Cells of a drawing at its sides have lines (PW_GRID_UP and so on), nothing in them. */
void pw_put_edges(struct sheet *s, int row, int col, int edges);
/** The same without a say in the rows' heights. */
void pw_put_block(struct sheet *s, int r0, int c0, int r1, int c1, const char *text, int style);
/** A number and its unit as the style has them, over columns c0..c1. */
void pw_put_amount(struct sheet *s, int row, int c0, int c1, double value, int decimals, const char *unit, int style);
/** Typed numbers of a column below a limit, in A1 form of the first row, show as too low. */
void pw_warn_below(struct sheet *s, int r0, int r1, int col, const char *limit);
/** A bold text and a plain one after it over columns c0..c1, in a style that wraps; either may be empty. */
void pw_put_bold_and_plain(struct sheet *s, int row, int c0, int c1, const char *bold, const char *plain,
                           int bold_style, int style);
/** Filter arrows on the head row of a table; works on a protected sheet too. */
void pw_sheet_filter(struct sheet *s, int head_row, int c0, int last_row, int c1);
/** Filters column `col` of the filter last set for one word; the rows without it are hidden by pw_sheet_hide. */
void pw_sheet_filter_word(struct sheet *s, int col, const char *word);
/** The row is there but not shown, as a filter would have it. */
void pw_sheet_hide(struct sheet *s, int row);
/** Makes rows head_row..last_row of n columns from c0 a table with filters; its heads are written by this.  No cell of it may be
 *  merged, no two heads alike. */
void pw_sheet_table(struct sheet *s, int head_row, int c0, int last_row, const char *const *heads, int n);
/** Lines a text takes in columns c0..c1 in a style; words stay whole. */
int pw_text_lines(const struct sheet *s, int c0, int c1, const char *text, int style);
/** First of the texts, a NULL-ended list, that takes at most max_lines there; the last one if none does. */
const char *pw_text_fitting(const struct sheet *s, int c0, int c1, int max_lines, const char *const *texts, int style);
/** "A1", "$B$3" and so on, in the view's arena. */
const char *pw_cell_name(struct book *b, int row, int col);
const char *pw_cell_name_fixed(struct book *b, int row, int col);
/** Takes an error of a library call. */
void pw_book_take(struct book *b, lxw_error error);

/** Gives a cell of the sheet named `sheet` a name formulas may use; lower case letters and underscores. */
void pw_book_name(struct book *b, const char *name, const char *sheet, int row, int col);
/** Locks all cells but the input styles against slips; no password. */
void pw_sheet_protect(struct sheet *s);
/** Only numbers from low to high may be typed there. */
void pw_allow_numbers(struct sheet *s, int r0, int c0, int r1, int c1, double low, double high, bool is_whole);
/** Only the words of a NULL-ended list may be chosen there. */
void pw_allow_words(struct sheet *s, int r0, int c0, int r1, int c1, const char *const *words);
/** Repeats the row on every page and freezes it with what is above, and `cols` columns. */
void pw_sheet_head_row(struct sheet *s, int row, int cols);

struct pw_sheets;
/** The tab of one row of the list of sheets (sheet/sheets.c). */
void pw_xlsx_sheets_write(struct book *b, const struct pw_sheets *sheets, int maker);

/** An owner's sheet (sheet/grid.h). */
void pw_xlsx_grid_write(struct book *b, const struct pw_grid *grid);

#endif
