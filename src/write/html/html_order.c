/* html_order.c - short sheets side by side with those whose last page has room for them.
 * Heights are guessed from the number of characters: only the order hangs on them, the browser keeps every sheet whole. */
#include "write/html/html_order.h"

#include "base/arena.h"
#include "base/text.h"
#include "write/html/svg.h"

#include <math.h>

/* Of the printed page of letter paper, in mm, and of the type of html_style.c; measured on one browser, a guess on another. */
static const double PAGE_MM = 254, A4_MORE_MM = 18, TITLE_MM = 19, LATER_TITLE_MM = 12, CLOSE_MM = 9, BAND_MM = 6.5,
                    SLIP_MM = 16, ROW_MM = 0.9, LINE_MM = 3.65, ACT_MM = 150, WIDE_MM = 172, BOLD_CHAR_MM = 2.3,
                    CHAR_MM = 1.62, NOTE_MM = 6,
                    BREAK_MM = 9 /* of a page: the head again, and what a row was too high for */,
                    LONG_MM = 120,    /* half a page: it may go on overleaf */
    STAYS_FRAC = 0.5, NEW_FRAC = 0.8, /* of racks on a slip of many */
    RACK_GAP_MM = 3, RACK_HEAD_MM = 6, SLIP_WIDE_MM = 192,
                    SURE_FRAC = 0.95, /* of the room behind slips, whose height is guessed most roughly */
    MUCH_FRAC = 0.4, LEAST_MM = 45;   /* a sheet that goes on overleaf begins with so much */

/** A row with several readings is as high as they are, lower on a longer sheet (html_sheets.c). */
static double readings_mm(int n_rows) { return n_rows > 26 ? 5.2 : n_rows > 14 ? 7.5 : 10.3; }

static double lines_mm(double text_mm, double wide_mm) { return ROW_MM + LINE_MM * fmax(1, ceil(text_mm / wide_mm)); }

static double row_mm(const struct pw_sheet_block *block, const struct pw_sheet_row *row)
{
  double high = 0, wide = WIDE_MM;
  int n_open = 0;
  if (row->kind != PW_ROW)
    return BAND_MM;
  for (int c = 0; c < block->n_columns && block->kind == PW_BLOCK_TABLE; c++)
    n_open += block->columns[c].role == PW_CELL_READING && !row->cells[c].is_off;
  if (n_open > 0)
    wide = ACT_MM;
  for (int c = 0; c < block->n_columns; c++) {
    const struct pw_sheet_cell *cell = &row->cells[c];
    if (block->kind == PW_BLOCK_TEXT || (block->kind == PW_BLOCK_TABLE && block->columns[c].role == PW_CELL_ACT))
      high = fmax(high, lines_mm(pw_text_width(cell->text) * BOLD_CHAR_MM +
                                     (cell->more ? pw_text_width(cell->more) * CHAR_MM : 0),
                                 wide));
  }
  return n_open > 1 ? fmax(high, readings_mm(block->n_rows)) : high;
}

double pw_html_rack_mm(const struct pw_sheet_block *block, int rack, const struct pw_view *view)
{
  enum { FEW_RACKS = 2 };
  const struct pw_view_map *map = &block->racks[rack].map;
  double whole_mm = pw_svg_rack_mm(&view->ev->pits[map->pit].racks[map->rack]);
  bool is_new = false;
  for (int i = 0; i < map->n_loads && !is_new; i++)
    is_new = view->plan->allocation.loads[map->loads[i]].start_at_min == map->from_at_min;
  return block->n_racks <= FEW_RACKS ? whole_mm : whole_mm * (is_new ? NEW_FRAC : STAYS_FRAC);
}

/** One pit at one moment: its racks side by side, in as many lines as they need, what goes on and what stays below. */
static double slip_mm(const struct pw_sheet_block *block, const struct pw_view *view)
{
  double high = 0, line_high = 0, wide = 0;
  for (int i = 0; i < block->n_racks; i++) {
    const struct pw_rack *r = &view->ev->pits[block->racks[i].map.pit].racks[block->racks[i].map.rack];
    double mm = pw_html_rack_mm(block, i, view);
    if (wide + mm > SLIP_WIDE_MM) {
      high += line_high + RACK_HEAD_MM;
      wide = line_high = 0;
    }
    wide += mm + RACK_GAP_MM;
    line_high = fmax(line_high, mm * r->depth_m / r->length_m);
  }
  high += line_high;
  int n_lines = block->n_racks < 2 ? 2 * block->n_rows : block->n_rows + 1;
  return SLIP_MM + high + LINE_MM * n_lines;
}

/** Of the paper the sheets are for, within its margins. */
static double page_mm(const struct pw_sheets *sheets)
{
  return sheets->view.ev->paper == PW_PAPER_A4 ? PAGE_MM + A4_MORE_MM : PAGE_MM;
}

/** What the last page of all slips leaves free; they follow each other, those of one rack in twos. */
static double free_after_slips(const struct pw_sheets *sheets)
{
  double used = 0, page = page_mm(sheets);
  for (int i = 0; i < sheets->n_sheets; i++) {
    const struct pw_sheet *sheet = &sheets->sheets[i];
    if (sheet->kind != PW_SHEET_SLIPS)
      continue;
    used = used + TITLE_MM > page ? TITLE_MM : used + (used > 0 ? LATER_TITLE_MM : TITLE_MM);
    for (int b = 0; b < sheet->n_blocks; b++) {
      double mm = slip_mm(&sheet->blocks[b], &sheets->view);
      if (sheet->blocks[b].n_racks < 2 && b + 1 < sheet->n_blocks && sheet->blocks[b + 1].n_racks < 2)
        mm = fmax(mm, slip_mm(&sheet->blocks[++b], &sheets->view));
      used = used + mm > page ? mm : used + mm;
    }
  }
  return used > 0 ? SURE_FRAC * (page - used) : 0;
}

static double sheet_mm(const struct pw_sheet *sheet)
{
  double mm = TITLE_MM + CLOSE_MM;
  for (int b = 0; b < sheet->n_blocks; b++) {
    const struct pw_sheet_block *block = &sheet->blocks[b];
    mm += block->note ? NOTE_MM : 0;
    for (int r = 0; r < block->n_rows; r++)
      mm += row_mm(block, &block->rows[r]);
  }
  return mm;
}

static bool may_move(const struct pw_sheet *sheet)
{
  return sheet->kind == PW_SHEET_PERSON || sheet->kind == PW_SHEET_FIRE;
}

/** A fire has one page: it goes on overleaf only where it is longer than that. */
bool pw_html_is_long(const struct pw_sheet *sheet)
{
  return sheet_mm(sheet) > (sheet->kind == PW_SHEET_PERSON ? LONG_MM : PAGE_MM) && may_move(sheet);
}

/** Which of the sheets first..last-1 not yet taken (mm < 0) goes on a page with `left` free: the largest that is whole there; else of
 *  those that may go on overleaf, which then begin there, the one that fills its own last page best; PW_NONE: none. */
static int next_on_page(const double *mm, const bool *may_break, int first, int last, double left)
{
  int best = PW_NONE;
  for (int k = first; k < last; k++)
    if (mm[k] >= 0 && mm[k] <= left && (best == PW_NONE || mm[k] > mm[best]))
      best = k;
  for (int k = first; k < last && left >= LEAST_MM && best == PW_NONE; k++)
    if (may_break[k] && mm[k] >= 0)
      best = k;
  for (int k = first; k < last && left >= LEAST_MM && best != PW_NONE && mm[best] > left; k++)
    if (may_break[k] && mm[k] > left && fmod(mm[k] - left, PAGE_MM) > fmod(mm[best] - left, PAGE_MM))
      best = k;
  return best;
}

/** Which begins a page of its own: the longest of those that take much of one and must be whole; else the first not yet taken. */
static int first_on_page(const double *mm, const bool *may_break, int first, int last)
{
  int best = PW_NONE, k = first;
  for (int i = first; i < last; i++)
    if (!may_break[i] && mm[i] > MUCH_FRAC * PAGE_MM && (best == PW_NONE || mm[i] > mm[best]))
      best = i;
  while (best == PW_NONE && mm[k] < 0)
    k++;
  return best == PW_NONE ? k : best;
}

/** Sheets first..last-1: each in its turn, and behind it what its last page has room for; `left` of a page is free before them. */
static void order_some(int *order, double *mm, bool *may_break, const struct pw_sheets *sheets, int first, int last,
                       double left)
{
  int n = first;
  for (int i = first; i < last; i++) {
    mm[i] = sheet_mm(&sheets->sheets[i]);
    may_break[i] = pw_html_is_long(&sheets->sheets[i]);
  }
  while (n < last) {
    int k = next_on_page(mm, may_break, first, last, left);
    if (k == PW_NONE) {
      k = first_on_page(mm, may_break, first, last);
      left = page_mm(sheets);
    }
    order[n++] = k;
    left = mm[k] <= left ? left - mm[k] : page_mm(sheets) - BREAK_MM - fmod(mm[k] - left, page_mm(sheets) - BREAK_MM);
    mm[k] = -1;
  }
}

const int *pw_html_order(const struct pw_sheets *sheets)
{
  int *order = pw_arena_array(sheets->view.arena, (size_t)sheets->n_sheets + 1, sizeof *order);
  double *mm = pw_arena_array(sheets->view.arena, (size_t)sheets->n_sheets + 1, sizeof *mm);
  bool *may_break = pw_arena_array(sheets->view.arena, (size_t)sheets->n_sheets + 1, sizeof *may_break);
  if (!order || !mm || !may_break)
    return NULL;
  for (int i = 0; i < sheets->n_sheets;) {
    int k = i;
    while (k < sheets->n_sheets && may_move(&sheets->sheets[k]))
      k++;
    order_some(order, mm, may_break, sheets, i, k,
               i > 0 && sheets->sheets[i - 1].kind == PW_SHEET_SLIPS ? free_after_slips(sheets) : 0);
    if (k == i)
      order[k++] = i;
    i = k;
  }
  return order;
}
