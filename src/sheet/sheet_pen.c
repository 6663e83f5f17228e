/* sheet_pen.c - appends sheets, blocks, rows and cells.  In: calls of the makers.  Out: struct pw_sheets. */
#include "sheet/sheet_pen.h"

#include "base/arena.h"
#include "base/num.h"

#include <stdlib.h>
#include <string.h>

#define TEXT(...) pw_view_printf(pen->view, __VA_ARGS__)

struct pw_sheet *pw_pen_sheet(struct pw_sheet_pen *pen, enum pw_sheet_kind kind, const char *id, const char *title,
                              const char *sub)
{
  struct pw_sheets *out = pen->out;
  if (pw_arena_grow(pen->view->arena, &out->sheets, &pen->cap_sheets, (size_t)out->n_sheets, sizeof *out->sheets) < 0) {
    pen->view->failed = true;
    return NULL;
  }
  pen->cap_blocks = 0;
  struct pw_sheet *sheet = &out->sheets[out->n_sheets++];
  *sheet = (struct pw_sheet){.kind = kind, .id = id, .title = title, .sub = sub, .is_new_page = kind <= PW_SHEET_DAY};
  sheet->is_one_page = kind == PW_SHEET_JOB || kind == PW_SHEET_SAFETY || kind == PW_SHEET_FIRE ||
                       kind == PW_SHEET_TRUCK || kind == PW_SHEET_SERVING;
  return sheet;
}

static struct pw_sheet *open_sheet(const struct pw_sheet_pen *pen)
{
  return pen->view->failed || pen->out->n_sheets == 0 ? NULL : &pen->out->sheets[pen->out->n_sheets - 1];
}

static struct pw_sheet_block *open_block(const struct pw_sheet_pen *pen)
{
  struct pw_sheet *sheet = open_sheet(pen);
  return sheet && sheet->n_blocks > 0 ? &sheet->blocks[sheet->n_blocks - 1] : NULL;
}

struct pw_sheet_block *pw_pen_block(struct pw_sheet_pen *pen, enum pw_block_kind kind, const char *head,
                                    const char *note)
{
  struct pw_sheet *sheet = open_sheet(pen);
  if (!sheet)
    return NULL;
  if (pw_arena_grow(pen->view->arena, &sheet->blocks, &pen->cap_blocks, (size_t)sheet->n_blocks,
                    sizeof *sheet->blocks) < 0) {
    pen->view->failed = true;
    return NULL;
  }
  pen->cap_rows = 0;
  struct pw_sheet_block *block = &sheet->blocks[sheet->n_blocks++];
  *block = (struct pw_sheet_block){.kind = kind, .head = head, .note = note, .n_columns = 2};
  return block;
}

struct pw_sheet_block *pw_pen_table(struct pw_sheet_pen *pen, const char *head, const char *note,
                                    const struct pw_sheet_column *columns, int n)
{
  struct pw_sheet_block *block = pw_pen_block(pen, PW_BLOCK_TABLE, head, note);
  if (!block)
    return NULL;
  block->n_columns = n;
  block->columns = pw_arena_array(pen->view->arena, (size_t)n, sizeof *block->columns);
  if (block->columns)
    memcpy(block->columns, columns, (size_t)n * sizeof *columns);
  else
    pen->view->failed = true;
  return block;
}

void pw_pen_keep(struct pw_sheet_pen *pen)
{
  struct pw_sheet_block *block = open_block(pen);
  if (block)
    block->is_kept = true;
}

void pw_pen_narrow(struct pw_sheet_pen *pen)
{
  struct pw_sheet_block *block = open_block(pen);
  if (block)
    block->is_narrow = true;
}

static struct pw_sheet_row *row_add(struct pw_sheet_pen *pen)
{
  struct pw_sheet_block *block = open_block(pen);
  if (!block)
    return NULL;
  if (pw_arena_grow(pen->view->arena, &block->rows, &pen->cap_rows, (size_t)block->n_rows, sizeof *block->rows) < 0) {
    pen->view->failed = true;
    return NULL;
  }
  struct pw_sheet_row *row = &block->rows[block->n_rows++];
  *row = (struct pw_sheet_row){.at_min = PW_SHEET_NO_TIME};
  row->cells =
      pw_arena_array(pen->view->arena, (size_t)(block->n_columns > 0 ? block->n_columns : 1), sizeof *row->cells);
  if (!row->cells) {
    pen->view->failed = true;
    return NULL;
  }
  for (int c = 0; c < block->n_columns; c++)
    row->cells[c] = (struct pw_sheet_cell){.text = "", .unit = ""};
  pen->n_cells = 0;
  return row;
}

void pw_pen_row(struct pw_sheet_pen *pen, const char *key, int at_min)
{
  struct pw_sheet_row *row = row_add(pen);
  if (row) {
    row->key = key;
    row->at_min = at_min;
  }
}

void pw_pen_band(struct pw_sheet_pen *pen, enum pw_row_kind kind, const char *text)
{
  struct pw_sheet_block *block = open_block(pen);
  while (block && block->n_rows > 0 && block->rows[block->n_rows - 1].kind != PW_ROW &&
         block->rows[block->n_rows - 1].kind >= kind)
    block->n_rows--; /* nothing came under it */
  struct pw_sheet_row *row = row_add(pen);
  if (row) {
    row->kind = kind;
    row->cells[0].text = text;
  }
}

static struct pw_sheet_cell *cell_next(struct pw_sheet_pen *pen)
{
  struct pw_sheet_block *block = open_block(pen);
  if (!block || block->n_rows == 0 || pen->n_cells >= block->n_columns)
    return NULL;
  return &block->rows[block->n_rows - 1].cells[pen->n_cells++];
}

/** "1,250 lb" is a value and its unit; "2 h 30 min" and "4 of 12" are words. */
static void take_number(struct pw_sheet_cell *cell)
{
  char digits[32];
  size_t n = 0;
  const char *p = cell->text;
  for (; (*p >= '0' && *p <= '9') || *p == '.' || (*p == ',' && p > cell->text) || (*p == '-' && p == cell->text); p++)
    if (*p != ',' && n < sizeof digits - 1)
      digits[n++] = *p;
  digits[n] = '\0';
  const char *unit = *p == ' ' ? p + 1 : p, *end = digits;
  struct pw_decimal number;
  if ((*p && *p != ' ') || (*p && !*unit) || strpbrk(unit, "0123456789,;:\"\\") ||
      pw_decimal_scan(digits, &number, &end) != PW_NUM_OK || *end)
    return;
  cell->value = pw_decimal_value(number);
  cell->decimals = number.scale;
  cell->unit = unit;
  cell->is_number = true;
}

void pw_pen_cell_more(struct pw_sheet_pen *pen, const char *text, const char *more)
{
  struct pw_sheet_cell *cell = cell_next(pen);
  if (cell) {
    enum pw_cell_role role = PW_CELL_NOTE;
    const struct pw_sheet_block *block = open_block(pen);
    if (block->columns)
      role = block->columns[pen->n_cells - 1].role;
    cell->text = text ? text : "";
    cell->more = more && more[0] ? more : NULL;
    if (role == PW_CELL_AMOUNT || role == PW_CELL_TARGET)
      take_number(cell);
  }
}

void pw_pen_cell(struct pw_sheet_pen *pen, const char *text) { pw_pen_cell_more(pen, text, NULL); }
void pw_pen_open(struct pw_sheet_pen *pen) { (void)cell_next(pen); }

void pw_pen_off(struct pw_sheet_pen *pen)
{
  struct pw_sheet_cell *cell = cell_next(pen);
  if (cell)
    cell->is_off = true;
}

static int sheet_at(const struct pw_table_column *column) { return column->sheet.at; }

void pw_pen_lay_heads(struct pw_sheet_pen *pen, const struct pw_told_table *t)
{
  int order[PW_TABLE_COLUMNS_MAX], n = t->has_failed ? 0 : pw_table_order(t, sheet_at, order);
  struct pw_sheet_column columns[PW_TABLE_COLUMNS_MAX];
  pen->view->failed = pen->view->failed || t->has_failed;
  for (int c = 0; c < n; c++) {
    const struct pw_table_column *column = &t->columns[order[c]];
    columns[c] =
        (struct pw_sheet_column){column->sheet.role, column->sheet.head ? column->sheet.head : "", column->sheet.chars};
  }
  (void)pw_pen_table(pen, NULL, NULL, columns, n);
}

void pw_pen_lay_row(struct pw_sheet_pen *pen, struct pw_told_table *t, int row, const char *key, int at_min)
{
  int order[PW_TABLE_COLUMNS_MAX], n = t->has_failed ? 0 : pw_table_order(t, sheet_at, order);
  if (n == 0 || !(t->rows[row].forms & PW_FORM_SHEET))
    return;
  pw_pen_row(pen, key, at_min);
  for (int c = 0; c < n; c++) {
    const struct pw_table_cell *cell = &t->rows[row].cells[order[c]];
    if (t->columns[order[c]].kind == PW_TABLE_TICK)
      pw_pen_open(pen);
    else
      pw_pen_cell_more(pen, pw_table_text(t, &t->columns[order[c]], cell), cell->more);
  }
  pen->view->failed = pen->view->failed || t->has_failed;
}

void pw_pen_text(struct pw_sheet_pen *pen, const char *head, const char *text)
{
  pw_pen_row(pen, NULL, PW_SHEET_NO_TIME);
  pw_pen_cell(pen, head);
  pw_pen_cell(pen, text);
}

void pw_pen_drop_empty(struct pw_sheet_pen *pen)
{
  struct pw_sheet *sheet = open_sheet(pen);
  if (sheet && sheet->n_blocks > 0 && sheet->blocks[sheet->n_blocks - 1].n_rows == 0)
    sheet->n_blocks--;
}

static int id_compare(const void *a, const void *b)
{
  int x = *(const int *)a, y = *(const int *)b;
  return (x > y) - (x < y);
}

const char *pw_pen_pieces(struct pw_sheet_pen *pen, int lot, const int *ids, int n)
{
  int *sorted = n > 0 && ids ? pw_arena_array(pen->view->arena, (size_t)n, sizeof *sorted) : NULL;
  const char *text = "", *mark = pen->view->lot_mark[lot];
  if (!sorted) {
    pen->view->failed |= n > 0 && ids;
    return "";
  }
  memcpy(sorted, ids, (size_t)n * sizeof *ids);
  qsort(sorted, (size_t)n, sizeof *sorted, id_compare);
  for (int i = 0; i < n;) {
    int k = i;
    while (k + 1 < n && sorted[k + 1] == sorted[k] + 1)
      k++;
    text = k == i
               ? TEXT("%s%s%s%d", text, text[0] ? ", " : "", mark, sorted[i] + 1)
               : TEXT("%s%s%s%d\xE2\x80\x93%s%d", text, text[0] ? ", " : "", mark, sorted[i] + 1, mark, sorted[k] + 1);
    i = k + 1;
  }
  return text;
}

const char *pw_pen_named(struct pw_sheet_pen *pen, const char *words, int lot, const int *ids, int n)
{
  enum { SHORT_ENOUGH = 24 };
  const char *pieces = n > 0 && n < pen->plan->lots.lots[lot].pieces ? pw_pen_pieces(pen, lot, ids, n) : "",
             *mark = pen->view->lot_mark[lot];
  size_t n_mark = strlen(mark);
  bool has_mark = n_mark > 0 && strncmp(words, mark, n_mark) == 0 && words[n_mark] == ':';
  return pieces[0] && strlen(pieces) <= SHORT_ENOUGH && has_mark ? TEXT("%s%s", pieces, words + n_mark) : words;
}

/** The words without the meal and wave in brackets at their end: the lot's letter before them tells both. */
static const char *without_meal(struct pw_sheet_pen *pen, const char *words, int lot)
{
  const char *mark = pen->view->lot_mark[lot], *meal = pen->ev->services[pen->plan->lots.lots[lot].service].name,
             *tail = strrchr(words, '(');
  size_t n_mark = strlen(mark), n_meal = strlen(meal), n = strlen(words);
  bool is_marked = n_mark > 0 && strncmp(words, mark, n_mark) == 0 && words[n_mark] == ':';
  bool is_meal = tail && tail > words && tail[-1] == ' ' && words[n - 1] == ')' && n_meal > 0 &&
                 strncmp(tail + 1, meal, n_meal) == 0;
  return is_marked && is_meal ? TEXT("%.*s", (int)(tail - 1 - words), words) : words;
}

const char *pw_pen_task(struct pw_sheet_pen *pen, const struct pw_task *t)
{
  const char *words = pw_view_task(pen->view, t);
  if (t->lot != PW_NONE)
    words = without_meal(pen, words, t->lot);
  return t->lot == PW_NONE ? words : pw_pen_named(pen, words, t->lot, t->piece_ids, t->n_ids);
}
