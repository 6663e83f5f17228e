/* xlsx_sheets.c - lays the pack's sheets (sheet/sheet.h) out in the workbook: a tab for each row of their list, one look for each role of
 * a cell.  Nothing here knows one sheet from another.
 * Idea: the tables of a tab share one grid of columns.  Where all have the same columns, they stand in it cell by cell under one head,
 * with filters; where they differ, a cell takes as many columns of the grid as its width asks for. */
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "sheet/sheet.h"

#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(t->s.b->view, __VA_ARGS__)
#define BOX       "\xE2\x98\x90"

enum {
  WIDE_CHARS = 104,
  FLEX_LEAST_CHARS = 34,
  HEAD_CHARS = 30, /* of a text */
  CUTS_MAX = 64,
  EXTRA_CHARS = 24
};
#define WRITE_IN_PT 25.5 /* 9 mm: a gloved hand writes in it */

/** A tab being written. */
struct tab {
  struct sheet s;
  const struct pw_sheets *sheets;
  int maker;
  const struct pw_sheet_block *like; /* its columns are those of all tables; NULL: they differ */
  int cuts[CUTS_MAX], n_cuts;        /* where columns of the grid begin, and the end of the last, in characters */
  int n_of;                          /* sheets on the tab */
  bool has_parts;                    /* bands or headed blocks: a column says which, to filter by */
  const char *sheet, *part;          /* what the extra columns say now */
  const char *word;                  /* whose rows are shown first; NULL: all */
};

static bool is_of(const struct tab *t, int i) { return t->sheets->sheets[i].maker == t->maker; }

static double wants_chars(const struct pw_sheet_column *c)
{
  return fmax(
      7, ceil(c->chars * (c->role == PW_CELL_TIME ? 1.6 : 1.3) + 2)); /* type of 14 and 12 points, of a column's 10 */
}

/** Where the columns of a block begin, and the end: at most WIDE_CHARS, or what its columns ask for. */
static int edges_of(const struct pw_sheet_block *block, int *edges)
{
  double fixed = 0;
  int n_flex = 0, at = 0;
  for (int c = 0; c < block->n_columns; c++) {
    fixed += block->columns[c].chars > 0 ? wants_chars(&block->columns[c]) : 0;
    n_flex += block->columns[c].chars == 0;
  }
  int flex = n_flex > 0 ? (int)fmax(FLEX_LEAST_CHARS, (WIDE_CHARS - fixed) / n_flex) : 0;
  for (int c = 0; c < block->n_columns; c++) {
    edges[c] = at;
    at += block->columns[c].chars > 0 ? (int)wants_chars(&block->columns[c]) : flex;
  }
  edges[block->n_columns] = at;
  return block->n_columns + 1;
}

static void cut_add(struct tab *t, int at)
{
  int i = 0;
  while (i < t->n_cuts && t->cuts[i] < at)
    i++;
  bool is_near = (i < t->n_cuts && t->cuts[i] - at < 2) || (i > 0 && at - t->cuts[i - 1] < 2);
  if (is_near || t->n_cuts == CUTS_MAX)
    return;
  for (int k = t->n_cuts++; k > i; k--)
    t->cuts[k] = t->cuts[k - 1];
  t->cuts[i] = at;
}

/** The column of the grid that begins nearest to that place. */
static int grid_column(const struct tab *t, int at)
{
  int best = 0;
  for (int i = 1; i < t->n_cuts; i++)
    if (abs(t->cuts[i] - at) < abs(t->cuts[best] - at))
      best = i;
  return best;
}

static bool has_same_columns(const struct pw_sheet_block *a, const struct pw_sheet_block *b)
{
  if (a->n_columns != b->n_columns)
    return false;
  for (int c = 0; c < a->n_columns; c++)
    if (a->columns[c].role != b->columns[c].role || a->columns[c].chars != b->columns[c].chars)
      return false;
  return true;
}

/** Finds the grid of the tab's blocks. */
static void grid_make(struct tab *t)
{
  int edges[SHEET_COLS_MAX], n_tables = 0;
  bool is_like = true, has_text = false;
  for (int i = 0; i < t->sheets->n_sheets; i++)
    for (int k = 0; is_of(t, i) && k < t->sheets->sheets[i].n_blocks; k++) {
      const struct pw_sheet_block *block = &t->sheets->sheets[i].blocks[k];
      has_text = has_text || block->kind == PW_BLOCK_TEXT;
      if (!block->columns)
        continue;
      /* a person without a reading to take has one column less: the longest has them all */
      if (!t->like || block->n_columns > t->like->n_columns)
        t->like = block;
      n_tables++;
    }
  for (int i = 0; i < t->sheets->n_sheets; i++)
    for (int k = 0; is_of(t, i) && k < t->sheets->sheets[i].n_blocks; k++) {
      const struct pw_sheet_block *block = &t->sheets->sheets[i].blocks[k];
      struct pw_sheet_block some = t->like ? *t->like : (struct pw_sheet_block){0};
      some.n_columns = block->n_columns < some.n_columns ? block->n_columns : some.n_columns;
      is_like = is_like && (!block->columns || has_same_columns(block, &some));
      t->has_parts = t->has_parts || block->kind == PW_BLOCK_SLIP;
      for (int r = 0; r < block->n_rows; r++)
        t->has_parts = t->has_parts || block->rows[r].kind == PW_ROW_BAND;
    }
  t->like = is_like && n_tables > 0 ? t->like : NULL;
  t->word = t->like ? t->like->first_shown : NULL;
  for (int i = 0; i < t->sheets->n_sheets && !t->like; i++)
    for (int k = 0; is_of(t, i) && k < t->sheets->sheets[i].n_blocks; k++)
      if (t->sheets->sheets[i].blocks[k].columns)
        for (int c = 0, n = edges_of(&t->sheets->sheets[i].blocks[k], edges); c < n; c++)
          cut_add(t, edges[c]);
  if (t->like)
    for (int c = 0, n = edges_of(t->like, edges); c < n; c++) {
      t->cuts[c] = edges[c];
      t->n_cuts = c + 1;
    }
  if (!t->like && (has_text || t->n_cuts == 0)) {
    cut_add(t, 0);
    cut_add(t, HEAD_CHARS);
    cut_add(t, WIDE_CHARS);
  }
}

/** Column of the grid where column c of a block begins. */
static int column_of(const struct tab *t, const struct pw_sheet_block *block, int c)
{
  int edges[SHEET_COLS_MAX];
  if (t->like)
    return c;
  edges_of(block, edges);
  return grid_column(t, edges[c]);
}

static int last_column(const struct tab *t) { return t->n_cuts - 2; }

/** The column with the most room, for words that belong to none. */
static int wide_column(const struct tab *t)
{
  int best = 0;
  for (int c = 0; c + 1 < t->n_cuts; c++)
    if (t->cuts[c + 1] - t->cuts[c] > t->cuts[best + 1] - t->cuts[best])
      best = c;
  return best;
}

static int n_extra(const struct tab *t) { return t->like ? (t->n_of > 1) + t->has_parts : 0; }

/** What the row is filtered by, to the right of what is read: which sheet, under which heading, and of which sort. */
static void extras(struct tab *t, bool is_first_shown)
{
  int c = last_column(t) + 1;
  if (t->word && is_first_shown)
    pw_put_text(&t->s, t->s.row, c - 1, t->word, PW_G_LONG);
  if (t->word && !is_first_shown)
    pw_sheet_hide(&t->s, t->s.row);
  if (t->like && t->n_of > 1)
    pw_put_text(&t->s, t->s.row, c++, t->sheet, PW_G_LONG);
  if (t->like && t->has_parts)
    pw_put_text(&t->s, t->s.row, c, t->part, PW_G_LONG);
}

/** A line of words over the whole width; where filters are, in the widest column, as nothing may be merged there. */
static void line(struct tab *t, const char *text, int style, bool is_first_shown)
{
  if (t->like) {
    int c = style == PW_G_SECTION || style == ST_BAND || style == ST_SUB_BAND ? 0 : wide_column(t);
    pw_put_text(&t->s, t->s.row, c, text, style);
    extras(t, is_first_shown);
  } else
    pw_put_merged(&t->s, t->s.row, 0, t->s.row, last_column(t), text, style);
  t->s.row++;
}

static int style_of(enum pw_cell_role role)
{
  static const int styles[PW_CELL__COUNT] = {
      [PW_CELL_TICK] = PW_G_TICK,       [PW_CELL_TIME] = ST_CELL_TIME,     [PW_CELL_MARK] = ST_CELL_BOLD,
      [PW_CELL_ACT] = ST_CELL_BOLD,     [PW_CELL_WHAT] = ST_CELL,          [PW_CELL_WHERE] = ST_CELL,
      [PW_CELL_WHO] = ST_CELL,          [PW_CELL_TARGET] = ST_CELL_TARGET, [PW_CELL_READING] = ST_CELL,
      [PW_CELL_AMOUNT] = ST_CELL_RIGHT, [PW_CELL_NOTE] = ST_CELL,          [PW_CELL_SORT] = PW_G_LONG};
  return styles[role];
}

static void cell_write(struct tab *t, const struct pw_sheet_block *block, const struct pw_sheet_row *row, int c)
{
  const struct pw_sheet_cell *cell = &row->cells[c];
  enum pw_cell_role role = block->columns[c].role;
  int style = style_of(role);
  int r = t->s.row, c0 = column_of(t, block, c), c1 = column_of(t, block, c + 1) - 1;
  c1 = c1 < c0 ? c0 : c1;
  if (role == PW_CELL_TICK)
    pw_put_merged(&t->s, r, c0, r, c1, BOX, PW_G_TICK);
  else if (role == PW_CELL_READING && !cell->text[0] && !cell->is_off) {
    pw_put_merged(&t->s, r, c0, r, c1, "", ST_BOX);
    pw_sheet_row_height(&t->s, r, WRITE_IN_PT);
  } else if (cell->is_number && !cell->more)
    pw_put_amount(&t->s, r, c0, c1, cell->value, cell->decimals, cell->unit, style);
  else if (cell->more)
    pw_put_bold_and_plain(&t->s, r, c0, c1, cell->text, cell->more, role == PW_CELL_ACT ? ST_CELL_BOLD : style,
                          ST_CELL);
  else
    pw_put_merged(&t->s, r, c0, r, c1, cell->text, style);
}

/** Whether some row under the band is shown first. */
static bool is_shown(const struct tab *t, const struct pw_sheet_block *block, int row)
{
  if (!t->word || block->rows[row].kind == PW_ROW)
    return !t->word || strcmp(block->rows[row].cells[block->n_columns - 1].text, t->word) == 0;
  for (int r = row + 1; r < block->n_rows && block->rows[r].kind == PW_ROW; r++)
    if (strcmp(block->rows[r].cells[block->n_columns - 1].text, t->word) == 0)
      return true;
  return false;
}

static void heads_write(struct tab *t, const struct pw_sheet_block *block)
{
  for (int c = 0; c < block->n_columns; c++) {
    int c0 = column_of(t, block, c), c1 = column_of(t, block, c + 1) - 1;
    enum pw_cell_role role = block->columns[c].role;
    const char *head = block->columns[c].head;
    pw_put_merged(&t->s, t->s.row, c0, t->s.row, c1 < c0 ? c0 : c1, head[0] || role != PW_CELL_TICK ? head : "Done",
                  role == PW_CELL_AMOUNT ? ST_CELL_HEAD_RIGHT : ST_CELL_HEAD);
  }
  for (int i = 0; i < n_extra(t); i++)
    pw_put_text(&t->s, t->s.row, last_column(t) + 1 + i, i == 0 && t->n_of > 1 ? "Sheet" : "Part", ST_CELL_HEAD);
  t->s.row++;
}

/** Readings are struck where they are under what the row or the block asks for at least. */
static void readings_watch(struct tab *t, const struct pw_sheet_block *block, int first, int last)
{
  for (int c = 1; c < block->n_columns && last >= first; c++) {
    if (block->columns[c].role != PW_CELL_READING)
      continue;
    int col = column_of(t, block, c);
    if (block->columns[c - 1].role == PW_CELL_TARGET) {
      pw_warn_below(&t->s, first, last, col, TEXT("$%s", pw_cell_name(t->s.b, first, column_of(t, block, c - 1))));
      pw_allow_numbers(&t->s, first, col, last, col, -40, 900, false);
    } else if (block->has_least)
      pw_warn_below(&t->s, first, last, col, TEXT("%.15g", block->least));
  }
}

static void table_write(struct tab *t, const struct pw_sheet_block *block)
{
  if (!t->like)
    heads_write(t, block);
  int first = t->s.row;
  for (int r = 0; r < block->n_rows; r++) {
    const struct pw_sheet_row *row = &block->rows[r];
    bool is_first = is_shown(t, block, r);
    if (row->kind != PW_ROW) {
      t->part = row->kind == PW_ROW_BAND ? row->cells[0].text : t->part;
      line(t, row->cells[0].text, row->kind == PW_ROW_BAND ? ST_BAND : ST_SUB_BAND, is_first);
      continue;
    }
    for (int c = 0; c < block->n_columns; c++)
      cell_write(t, block, row, c);
    extras(t, is_first);
    t->s.row++;
  }
  readings_watch(t, block, first, t->s.row - 1);
}

static void text_write(struct tab *t, const struct pw_sheet_block *block)
{
  for (int r = 0; r < block->n_rows; r++) {
    const char *head = block->rows[r].cells[0].text, *text = block->rows[r].cells[1].text;
    int c = grid_column(t, HEAD_CHARS);
    if (t->like || !head[0]) {
      line(t, head[0] ? TEXT("%s: %s", head, text) : text, ST_CELL, true);
      continue;
    }
    pw_put_merged(&t->s, t->s.row, 0, t->s.row, c - 1, head, ST_CELL_BOLD);
    pw_put_merged(&t->s, t->s.row, c, t->s.row, last_column(t), text, text[0] ? ST_CELL : ST_BOX);
    if (!text[0])
      pw_sheet_row_height(&t->s, t->s.row, WRITE_IN_PT);
    t->s.row++;
  }
}

static void racks_write(struct tab *t, const struct pw_sheet_block *block)
{
  const char *text = "";
  for (int i = 0; i < block->n_racks; i++) {
    const struct pw_sheet_rack *rack = &block->racks[i];
    text = TEXT("%s%s%s %s%s%s", text, text[0] ? "; " : "", rack->name, rack->hot, rack->cool ? " to " : "",
                rack->cool ? rack->cool : "");
  }
  if (text[0])
    line(t, text, PW_G_NOTE, true);
}

static void sheet_write(struct tab *t, const struct pw_sheet *sheet)
{
  t->sheet = sheet->title;
  t->part = "";
  if (t->n_of > 1) {
    pw_sheet_row_height(&t->s, t->s.row, 28);
    line(t, sheet->title, PW_G_SECTION, true);
    if (sheet->sub)
      line(t, sheet->sub, ST_CELL, true);
  }
  for (int k = 0; k < sheet->n_blocks; k++) {
    const struct pw_sheet_block *block = &sheet->blocks[k];
    if (block->head) {
      t->part = block->head;
      t->s.row += !t->like;
      line(t, block->head, ST_BAND, true);
    }
    if (block->note)
      line(t, block->note, PW_G_NOTE, true);
    racks_write(t, block);
    if (block->columns)
      table_write(t, block);
    else
      text_write(t, block);
  }
}

/** Columns as wide as the grid asks for, and what stands over the first sheet. */
static void tab_open(struct tab *t, const struct pw_sheet *only)
{
  struct book *b = t->s.b;
  double widths[SHEET_COLS_MAX];
  int n = 0;
  for (; n + 1 < t->n_cuts; n++)
    widths[n] = t->cuts[n + 1] - t->cuts[n];
  for (int i = 0; i < n_extra(t); i++)
    widths[n++] = EXTRA_CHARS;
  pw_sheet_columns(&t->s, widths, n);
  pw_put_merged(&t->s, 0, 0, 0, last_column(t),
                only ? only->title : TEXT("%s: %s", pw_sheets_called(t->maker), b->ev->name), PW_G_TITLE);
  pw_sheet_row_height(&t->s, 0, 30);
  t->s.row = 1;
  if (only && only->sub) {
    pw_put_merged(&t->s, 1, 0, 1, last_column(t), only->sub, ST_CELL);
    t->s.row = 2;
  }
  if (t->maker == 0) {
    pw_put_merged(&t->s, t->s.row, 0, t->s.row, last_column(t),
                  "On paper: Quote and Costs are printed from here, the crew's sheets from crew.html. All else is for "
                  "the screen.",
                  PW_G_NOTE);
    t->s.row++;
  }
}

void pw_xlsx_sheets_write(struct book *b, const struct pw_sheets *sheets, int maker)
{
  struct tab tab = {.sheets = sheets, .maker = maker, .sheet = "", .part = ""}, *t = &tab;
  const struct pw_sheet *only = NULL;
  bool is_landscape = false;
  for (int i = 0; i < sheets->n_sheets; i++)
    if (is_of(t, i)) {
      only = &sheets->sheets[i];
      t->n_of++;
      for (int k = 0; k < only->n_blocks; k++)
        is_landscape = is_landscape || (only->blocks[k].columns && only->blocks[k].n_columns > 4);
    }
  pw_sheet_open(b, &t->s, pw_sheets_called(maker), is_landscape);
  grid_make(t);
  tab_open(t, t->n_of == 1 ? only : NULL);
  int head = t->s.row;
  if (t->like) {
    pw_sheet_head_row(&t->s, head, 0);
    heads_write(t, t->like);
  }
  bool is_first = true;
  for (int i = 0; i < sheets->n_sheets; i++)
    if (is_of(t, i)) {
      t->s.row += !is_first && !t->like;
      sheet_write(t, &sheets->sheets[i]);
      is_first = false;
    }
  if (t->n_of == 0)
    pw_put_text(&t->s, t->s.row++, 0, "None in this plan.", ST_CELL);
  if (t->like && t->s.row - 1 > head) {
    pw_sheet_filter(&t->s, head, 0, t->s.row - 1, last_column(t) + n_extra(t));
    if (t->like->first_shown)
      pw_sheet_filter_word(&t->s, last_column(t), t->like->first_shown);
  }
  pw_sheet_close(&t->s);
}
