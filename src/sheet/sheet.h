/* sheet.h - the sheets of the pack as data: each is made once, from a plan, as blocks of rows of cells; a format (paper, screen,
 * workbook, text) only lays them out.  A new sheet is one maker and a line in sheets.c; a new field is one more cell there: no
 * format is told of either.  Words and roundings are decided here, looks are not. */
#ifndef PW_SHEET_H
#define PW_SHEET_H

#include "base/ctx.h"
#include "sheet/view.h"

/** In the order of the pack. */
enum pw_sheet_kind {
  PW_SHEET_JOB,     /**< meals, place, fires, wood, lots, people: one page */
  PW_SHEET_SAFETY,  /**< pinned up: one page */
  PW_SHEET_DAY,     /**< one a day, across: fires, racks, ovens, boxes, service */
  PW_SHEET_SLIPS,   /**< one a pit: its racks each time something goes on */
  PW_SHEET_PERSON,  /**< one for each pair of hands */
  PW_SHEET_FIRE,    /**< one for each fire: the only place for feeds */
  PW_SHEET_CREW,    /**< everybody's in one list, hour by hour */
  PW_SHEET_LOGS,    /**< the only place for readings of food */
  PW_SHEET_PREP,    /**< what is made before, amounts scaled */
  PW_SHEET_BUYING,  /**< by supplier */
  PW_SHEET_TRUCK,   /**< what goes along, in the order it is packed */
  PW_SHEET_SERVING, /**< portions, pans, allergens */
  PW_SHEET_OTHER,   /**< any other: no format does anything for it that it does not do for all */
  PW_SHEET__COUNT
};

/** What a cell is to its reader; a format gives each role its look. */
enum pw_cell_role {
  PW_CELL_TICK, /**< a box to tick */
  PW_CELL_TIME, /**< when: bold, never broken */
  PW_CELL_MARK, /**< a lot's letter, a piece */
  PW_CELL_ACT,  /**< what to do: bold; `more` says where and how far */
  PW_CELL_WHAT, /**< a thing */
  PW_CELL_WHERE,
  PW_CELL_WHO,
  PW_CELL_TARGET,  /**< a limit or an aim */
  PW_CELL_READING, /**< room to write in when it has no text */
  PW_CELL_AMOUNT,  /**< a number: to the right, its unit in it or in the head */
  PW_CELL_NOTE,
  PW_CELL_SORT, /**< a word to sort and filter by, where a format can */
  PW_CELL__COUNT
};

struct pw_sheet_column {
  enum pw_cell_role role;
  const char *head; /**< "" for none */
  int chars;        /**< width it asks for; 0: what is left */
};

struct pw_sheet_cell {
  const char *text; /**< never NULL */
  const char *more; /**< after it, lighter; NULL */
  bool is_off;      /**< a reading that is not asked for: nothing to write */
  bool is_number;   /**< the text is this value and its unit, as shown */
  double value;
  int decimals;
  const char *unit; /**< "lb"; "" for none */
};

enum pw_row_kind {
  PW_ROW,
  PW_ROW_BAND, /**< a heading over what follows: a day, a supplier; its text is cells[0] */
  PW_ROW_SUB   /**< the same, of a lower rank */
};

struct pw_sheet_row {
  enum pw_row_kind kind;
  const char *key; /**< the same in every format of one plan: "t12" a task; NULL */
  int at_min;      /**< PW_SHEET_NO_TIME: none */
  struct pw_sheet_cell *cells;
};
#define PW_SHEET_NO_TIME (-2147483647 - 1)

enum pw_block_kind {
  PW_BLOCK_TABLE,
  PW_BLOCK_TEXT, /**< rows of two cells: a heading and its words; either may be "" */
  PW_BLOCK_DAY,  /**< the timeline from from_at_min, `hours` of it; where it cannot be drawn its bars as rows */
  PW_BLOCK_SLIP /**< one pit at one moment: all its racks side by side, then lines as rows (mark, what, until); where a rack
                    cannot be drawn, the last cell says what lies where */
};

enum { PW_SHEET_MANY_PIECES = 13 }; /**< so many alike on a rack are told by their number and rows, not one by one */

/** A rack at the moment of a slip. */
struct pw_sheet_rack {
  struct pw_view_map map;        /**< loads on it then */
  const char *name, *hot, *cool; /**< "upper rack"; its ends' own temperatures, cool NULL when it has one zone */
};

struct pw_sheet_block {
  enum pw_block_kind kind;
  const char *head, *note; /**< NULL: none */
  bool is_kept;            /**< on one page */
  bool is_narrow;          /**< its rows are short: on paper it stands in two columns, with those next to it */
  bool is_screen;          /**< shown on phones and screens, not printed */
  const char *
      first_shown; /**< of a table whose last column is to sort by: the word whose rows are shown first; NULL: all are */
  bool has_least;  /**< a reading under `least` shows that it is */
  double least;
  struct pw_sheet_column *columns;
  int n_columns;
  struct pw_sheet_row *rows;
  int n_rows;
  int from_at_min, hours;
  struct pw_sheet_rack *racks;
  int n_racks;
};

struct pw_sheet {
  enum pw_sheet_kind kind;
  const char *id;    /**< "person-2" */
  const char *title; /**< "Server 2" */
  const char *sub;   /**< a line under it, NULL */
  const char *who;   /**< the role a person's sheet is of, NULL */
  const char *word;  /**< of its kind, "truck" */
  int maker;         /**< row of the list of sheets that made it */
  bool is_list;      /**< for a wide screen and plain text: on paper and phones everybody has their own instead */
  bool is_landscape;
  bool is_one_page; /**< it keeps to one page, whatever size of type that asks for */
  bool is_new_page; /**< it never shares a page; short ones of others may stand on one, to be cut apart */
  struct pw_sheet_block *blocks;
  int n_blocks;
};

struct pw_sheets {
  struct pw_view view;
  struct pw_sheet *sheets;
  int n_sheets;
};

/** How many rows the list of sheets has, and what their sheets are called together: "Load slips". */
int pw_sheets_n_makers(void);
const char *pw_sheets_called(int maker);

/** Makes all sheets of a complete plan, in the order of the pack.  All of it lives in the context's arena.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_sheets_make(struct pw_sheets *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
