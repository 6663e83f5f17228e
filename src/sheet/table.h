/* table.h - a table that stands on several sheets: its columns and rows once, each cell with its value and its words.  A column says
 * where it stands in each form of it and what it is called there; a form leaves out the columns that have no place in it.  The makers of
 * sheets say where a table begins; a page of text (page/page.h), a crew's sheet (sheet_pen.h), an owner's (grid_pen.h) and a list for
 * other programs (write/csv.c) put it there.
 * Lack of memory is remembered; every later call then does nothing. */
#ifndef PW_TABLE_H
#define PW_TABLE_H

#include "sheet/grid.h"
#include "sheet/sheet.h"

struct pw_arena;

/** What the values of a column are, and so how they are written and on which side they stand. */
enum pw_table_kind {
  PW_TABLE_WORDS,
  PW_TABLE_TICK, /**< a box: each form has its own */
  PW_TABLE_COUNT,
  PW_TABLE_NUMBER, /**< a decimal */
  PW_TABLE_MONEY,  /**< in minor units; parts of one are allowed */
  PW_TABLE_SHARE,  /**< 0..1, printed as per cent */
  PW_TABLE_TIME    /**< a minute of the event (event.h) */
};

/** A column.  `at` is its place among those of the form, counted from 1; 0: it has none there. */
struct pw_table_column {
  enum pw_table_kind kind;
  struct {
    int at, gap, chars; /**< blank characters before it, its width */
    const char *head;   /**< NULL: none */
  } page;
  struct {
    int at, chars; /**< chars 0: what is left */
    enum pw_cell_role role;
    const char *head; /**< NULL: none */
  } sheet;
  struct {
    int at;
    const char *head;
    double width;           /**< where the maker asks for it, in characters */
    enum pw_grid_role role; /**< 0: by its kind */
    int over;               /**< columns of the sheet it covers besides its own */
    const char
        *formula; /**< of every row that has none of its own; NULL.  Beside "#" and "[Head]" (grid_pen.h) it may say
                              "[first row]" and "[last row]" of the table, "[row above]" its own, "[digits]" of the money */
  } grid;
  struct {
    int at;
    const char *name;
  } list;
};

/** A cell: a value, words, or both, of which the page shows the words and the workbook the value. */
struct pw_table_cell {
  const char *words; /**< NULL: those of the value */
  const char *more;  /**< lighter, on a crew's sheet; NULL */
  bool has_value;
  double value;
  const char *formula;    /**< in the workbook; NULL: the column's */
  enum pw_grid_role role; /**< there; 0: the column's */
};

/** Forms a row may stand in. */
enum { PW_FORM_PAGE = 1, PW_FORM_SHEET = 2, PW_FORM_GRID = 4, PW_FORM_LIST = 8, PW_FORM_ALL = 15 };

struct pw_table_row {
  const char *band; /**< stands over it on a page; NULL */
  unsigned forms;   /**< a sum, say, that the workbook works out for itself stands on the page alone */
  struct pw_table_cell *cells;
};

enum { PW_TABLE_COLUMNS_MAX = 32 };

struct pw_told_table {
  const struct pw_plan *plan;
  struct pw_arena *arena;
  const struct pw_table_column *columns;
  int n_columns;
  struct pw_table_row *rows;
  int n_rows;
  size_t cap_rows;
  bool is_kept; /**< in the workbook no row of it is the last of a page */
  bool has_failed;
};

/** An empty table of n columns, which must outlive it. */
struct pw_told_table pw_table_open(const struct pw_plan *plan, struct pw_arena *arena,
                                   const struct pw_table_column *columns, int n);
#define pw_table_of(plan, arena, columns)                                                                              \
  pw_table_open(plan, arena, columns, (int)(sizeof(columns) / sizeof *(columns)))

/** printf into the table's arena; "" when memory is out. */
const char *pw_table_words(struct pw_told_table *t, const char *format, ...) __attribute__((format(printf, 2, 3)));
/** A row under a band, which may be NULL; cells in the order of the columns, copied; those not given are empty. */
void pw_table_cells(struct pw_told_table *t, const char *band, const struct pw_table_cell *cells, int n);
#define pw_table_row(t, band, ...)                                                                                     \
  pw_table_cells(t, band, (const struct pw_table_cell[]){__VA_ARGS__},                                                 \
                 (int)(sizeof((const struct pw_table_cell[]){__VA_ARGS__}) / sizeof(struct pw_table_cell)))
/** The last row is for these forms alone. */
void pw_table_only(struct pw_told_table *t, unsigned forms);

static inline struct pw_table_cell pw_cell_words(const char *words) { return (struct pw_table_cell){.words = words}; }
static inline struct pw_table_cell pw_cell_value(double value)
{
  return (struct pw_table_cell){.has_value = true, .value = value};
}
/** A value that a page tells in words of its own. */
static inline struct pw_table_cell pw_cell_both(const char *words, double value)
{
  return (struct pw_table_cell){.words = words, .has_value = true, .value = value};
}
static inline struct pw_table_cell pw_cell_none(void) { return (struct pw_table_cell){.words = NULL}; }
/** A value whose formula is its own row's. */
static inline struct pw_table_cell pw_cell_calc(const char *formula, double value)
{
  return (struct pw_table_cell){.has_value = true, .value = value, .formula = formula};
}

/** What a page of text shows of a cell; "" for none. */
const char *pw_table_text(struct pw_told_table *t, const struct pw_table_column *column,
                          const struct pw_table_cell *cell);

/** The cell of a row under a head of the workbook; it has to be there. */
struct pw_table_cell *pw_table_cell(struct pw_told_table *t, int row, const char *head);

/** Places of the columns of a form in its order: fills in which column stands where, returns how many.  `at_of` tells a column's place. */
int pw_table_order(const struct pw_told_table *t, int (*at_of)(const struct pw_table_column *), int *order);

#endif
