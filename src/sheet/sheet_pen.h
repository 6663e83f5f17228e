/* sheet_pen.h - how makers write sheets (sheet.h): a sheet, its blocks, their rows, their cells, one after another.
 * Lack of memory is remembered in the view and every later call does nothing. */
#ifndef PW_SHEET_PEN_H
#define PW_SHEET_PEN_H

#include "sheet/sheet.h"
#include "sheet/table.h"

struct pw_sheet_pen {
  struct pw_view *view;
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_ctx *ctx;
  struct pw_sheets *out;
  size_t cap_sheets, cap_blocks, cap_rows;
  int n_cells; /**< written in the open row */
};

/** Opens a sheet on a page of its own. */
struct pw_sheet *pw_pen_sheet(struct pw_sheet_pen *pen, enum pw_sheet_kind kind, const char *id, const char *title,
                              const char *sub);
/** Opens a block of the open sheet; head and note may be NULL. */
struct pw_sheet_block *pw_pen_block(struct pw_sheet_pen *pen, enum pw_block_kind kind, const char *head,
                                    const char *note);
/** A table: n columns, copied. */
struct pw_sheet_block *pw_pen_table(struct pw_sheet_pen *pen, const char *head, const char *note,
                                    const struct pw_sheet_column *columns, int n);
/** The open block stands on one page. */
void pw_pen_keep(struct pw_sheet_pen *pen);
/** The open block's rows are short. */
void pw_pen_narrow(struct pw_sheet_pen *pen);
/** Opens a row of the open block; its cells follow in the order of the columns. */
void pw_pen_row(struct pw_sheet_pen *pen, const char *key, int at_min);
/** A band over the rows that follow; one that nothing followed goes away when the next of its rank comes. */
void pw_pen_band(struct pw_sheet_pen *pen, enum pw_row_kind kind, const char *text);
/** The next cell; where an amount or a target is one number and a unit, it is kept as those too. */
void pw_pen_cell(struct pw_sheet_pen *pen, const char *text);
/** The same with lighter words after it; `more` may be "" or NULL. */
void pw_pen_cell_more(struct pw_sheet_pen *pen, const char *text, const char *more);
/** Room to write, or a box to tick. */
void pw_pen_open(struct pw_sheet_pen *pen);
/** A reading that is not asked for. */
void pw_pen_off(struct pw_sheet_pen *pen);
/** A table that other forms show too: its heads, and one of its rows. */
void pw_pen_lay_heads(struct pw_sheet_pen *pen, const struct pw_told_table *t);
void pw_pen_lay_row(struct pw_sheet_pen *pen, struct pw_told_table *t, int row, const char *key, int at_min);
/** A row of a text block. */
void pw_pen_text(struct pw_sheet_pen *pen, const char *head, const char *text);
/** Takes the open block away again if nothing was written in it. */
void pw_pen_drop_empty(struct pw_sheet_pen *pen);

/** "B1-B3, B5": pieces of a lot by the names the maps print; "" without ids. */
const char *pw_pen_pieces(struct pw_sheet_pen *pen, int lot, const int *ids, int n);

/** Words that begin with a lot's letter ("B: ..."), with its pieces by name instead where they are some of the lot ("B1-B3: ..."). */
const char *pw_pen_named(struct pw_sheet_pen *pen, const char *words, int lot, const int *ids, int n);
/** What a task is, with its pieces by their names where it is about some of a lot: "B1-B3: Load 3 x Pork shoulder". */
const char *pw_pen_task(struct pw_sheet_pen *pen, const struct pw_task *task);

/** The makers, one sheet or kind of sheet each. */
void pw_sheet_job(struct pw_sheet_pen *pen);
void pw_sheet_safety(struct pw_sheet_pen *pen);
void pw_sheet_days(struct pw_sheet_pen *pen);
void pw_sheet_slips(struct pw_sheet_pen *pen);
void pw_sheet_people(struct pw_sheet_pen *pen);
/** "Sat 09:00 to 16:30, break 12:30 to 13:00; Sun 10:00 to 14:00": all shifts of the person whose first is tasks.people[hand]. */
const char *pw_sheet_shifts(struct pw_sheet_pen *pen, int hand);
void pw_sheet_crew(struct pw_sheet_pen *pen);
void pw_sheet_fires(struct pw_sheet_pen *pen);
void pw_sheet_logs(struct pw_sheet_pen *pen);
void pw_sheet_prep(struct pw_sheet_pen *pen);
void pw_sheet_buying(struct pw_sheet_pen *pen);
void pw_sheet_truck(struct pw_sheet_pen *pen);
void pw_sheet_serving(struct pw_sheet_pen *pen);

#endif
