/* grid.h - the owner's sheets as data: rows of cells at places of a grid, each with what it is, its value, and where it follows from
 * others the formula as spreadsheets write it.  Made once, from the plan; a format lays the rows out and knows no sheet from another.
 * The crew's sheets are blocks of rows (sheet.h): here cells stand where formulas look for them. */
#ifndef PW_GRID_H
#define PW_GRID_H

#include "base/ctx.h"
#include "sheet/view.h"

/** What a cell is to its reader; a format gives each its look. */
enum pw_grid_role {
  PW_G_SKIP,  /**< nothing stands there */
  PW_G_PLAIN, /**< words outside of a table */
  PW_G_TITLE,
  PW_G_SUBTITLE,
  PW_G_SECTION,
  PW_G_NOTE,
  PW_G_CAUTION,
  PW_G_HEAD,       /**< over a column, before a sum */
  PW_G_HEAD_RIGHT, /**< over a column of numbers */
  PW_G_CELL,       /**< words in a table */
  PW_G_BOLD,
  PW_G_CENTRE,
  PW_G_LONG,  /**< words that are not wrapped */
  PW_G_SMALL, /**< of a list to look things up in */
  PW_G_SMALL_PERCENT,
  PW_G_TICK,
  PW_G_NUMBER,  /**< up to two decimals */
  PW_G_NUMBER2, /**< always two */
  PW_G_COUNT,
  PW_G_COUNT_BOLD,
  PW_G_PERCENT,
  PW_G_MONEY,
  PW_G_SUM,     /**< of money */
  PW_G_IN_TEXT, /**< this and those below may be changed: what follows from them says so by its formula */
  PW_G_IN_MONEY,
  PW_G_IN_NUMBER,
  PW_G_IN_COUNT,
  PW_G_IN_PERCENT,
  PW_G_CORE,         /**< a temperature in whole degrees */
  PW_G_CORE_WRAPPED, /**< of wrapped meat */
  PW_G_T_HEAD,       /**< of a timeline: days, hours, places, what is there */
  PW_G_T_HOUR,
  PW_G_T_NAME,
  PW_G_T_NAME_BOLD,
  PW_G_T_EMPTY,
  PW_G_T_FIRE,
  PW_G_T_FIRE_UP,
  PW_G_T_SMOKE,
  PW_G_T_FINISH,
  PW_G_T_REST,
  PW_G_T_HOLD,
  PW_G_T_SERVE,
  PW_G_MAP_OUTSIDE, /**< of a rack map: not rack; a piece that goes on now, one that lay there before, both with little room */
  PW_G_MAP_NEW,
  PW_G_MAP_OLD,
  PW_G_MAP_NEW_SMALL,
  PW_G_MAP_OLD_SMALL,
  PW_G_MAP_ZONE,
  PW_G_MAP_WHEN,
  PW_G_MAP_ON,
  PW_G_MAP_STAYS,
  PW_G__COUNT
};

struct pw_grid_cell {
  enum pw_grid_role role;
  int over, down;   /**< columns and rows it covers besides its own */
  const char *text; /**< NULL: it is a number */
  const char *const
      *texts; /**< NULL-ended, from the longest: the first that takes at most `lines` lines there, or the last; NULL */
  int lines;
  const char *formula; /**< NULL: none; else text or value is what it gives */
  double value;
  const char *name; /**< what formulas call it; NULL */
};

/** Cells from the first column on. */
struct pw_grid_row {
  struct pw_grid_cell *cells;
  int n_cells;
  double points; /**< height at least */
  bool keeps;    /**< not the last row of a page */
  bool is_page_start;
};

/** What may be typed in cells, rows and columns counted from 0: numbers from low to high, or one of some words. */
struct pw_grid_limits {
  int r0, c0, r1, c1;
  double low, high;
  bool is_whole;
  const char *const *words; /**< NULL-ended; NULL: numbers */
};

/** Rows head..last are a table to filter and sort; none of its cells covers several columns, no two heads are alike. */
struct pw_grid_table {
  int head, last;
};

/** Sides of a cell of a drawing. */
enum {
  PW_GRID_UP = 1,
  PW_GRID_DOWN = 2,
  PW_GRID_BEFORE = 4,
  PW_GRID_AFTER = 8,
  PW_GRID_DASHED_BEFORE = 16,
  PW_GRID_EDGES = 32
};

/** A cell of a drawing: it stands on rows that are there, and has no say in how high they are. */
struct pw_grid_spot {
  int row, col;
  struct pw_grid_cell cell;
  enum pw_grid_role small; /**< its role where no line has room, or the shortest of its texts takes more than one */
  int edges;               /**< lines at its sides, instead of a role's look */
};

/** Lines over the rows head+1..last: one for each of the n columns after the first, which says where; values 0..1. */
struct pw_grid_chart {
  int row; /**< where its top stands */
  int head, last, n;
  const char *title, *about; /**< about: what a reader who does not see it is told; NULL: there is no chart */
};

struct pw_grids;

struct pw_grid {
  struct pw_grids *of;
  const char *name; /**< "Costs" */
  bool is_landscape;
  bool is_printed;      /**< by the owner, from here; all else is for the screen */
  bool is_tight;        /**< printed, where a page less is worth lower rows */
  bool is_protected;    /**< all but what may be changed */
  double least_scale;   /**< smallest print it may have to save a page */
  int print_rows;       /**< rows that are printed, 0: all of them */
  int stay_row;         /**< it and those above stay in sight; PW_NONE */
  int stay_cols;        /**< as many columns do */
  const double *widths; /**< of the columns, in characters of the type; with is_px in pixels */
  bool is_px;
  int n_columns, last_col; /**< last_col: how far a line over the whole width goes */
  struct pw_grid_row *rows;
  int n_rows;
  struct pw_grid_limits *limits;
  int n_limits;
  struct pw_grid_table *tables;
  int n_tables;
  struct pw_grid_spot *spots;
  int n_spots;
  struct pw_grid_chart chart;
  size_t cap_rows, cap_limits, cap_tables, cap_spots;
  int heads_row; /**< the last row of heads, while it is made */
};

enum { PW_GRIDS_MAX = 10 };

/** All of them, and what one maker tells those after it. */
struct pw_grids {
  struct pw_view *view;
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_ctx *ctx;
  double money_unit;                   /**< minor units in one major unit */
  const char **raw_pieces;             /**< per raw need: cell of its whole pieces on the inputs */
  const char *crew_roles, *crew_costs; /**< ranges of the shifts on the inputs; NULL without a crew */
  struct pw_grid grids[PW_GRIDS_MAX];
};

/** How many there are, and how many of them the owner works with: they come before the crew's sheets, the others after. */
int pw_grids_n(void);
int pw_grids_n_before(void);

/** Makes all of them from a complete plan and its view, in the order of the list (grids.c).  Errors: PW_ERR_MEMORY. */
pw_status pw_grids_make(struct pw_grids *out, struct pw_view *view, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
