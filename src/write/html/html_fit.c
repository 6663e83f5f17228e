/* html_fit.c - type and cells as large as a page allows.
 * Heights are guessed from the number of characters, for both papers, so that a sheet keeps to its page on either; the browser breaks
 * a sheet only where the guess was too low. */
#include "write/html/html_fit.h"

#include "base/text.h"
#include "write/html/svg.h"

#include <math.h>

/* Of a printed page within its margins, and of the type of html_style.c; measured on one browser, a guess on another. */
static const double GAP_MM = 7, /* between two columns */
    TITLE_MM = 14, CLOSE_MM = 3, MM_PER_PT = 0.3528, LEADING = 1.14, CHAR_EM = 0.475, BOLD_CHAR_EM = 0.52, CH_EM = 0.56,
                    ACT_FRAC = 1.05, ROW_MM = 0.8, CELL_MORE_MM = 0.1, NARROW_ROW_MM = 0.3, PAD_MM = 2;

enum {
  MOST_PT = 12,
  LEAST_PT = 10,
  SHORT_MM = 80,
  LEAST_CHARS = 20,
  LEAST_NARROW_CHARS = 15,
  TWO_MM = 8,
  FULL_CELL_MM = 9,
  LEAST_CELL_MM = 5
};

static const double FLOW_PT = 10.25, /* of sheets that go on overleaf, where people have many */
    PERSON_MORE_PT = 0.5;            /* people read their own by night */

/** Letter paper, A4: an event's sheets are printed on either. */
static const struct {
  double wide_mm, high_mm;
} papers[] = {{194, 252}, {188, 269}};

static double lines_mm(double pt, double text_mm, double wide_mm)
{
  return pt * MM_PER_PT * LEADING * fmax(1, ceil(text_mm / fmax(wide_mm, 1)));
}

static double text_mm(double pt, const char *text, double char_em)
{
  return text ? pw_text_width(text) * pt * MM_PER_PT * char_em : 0;
}

static double column_mm(const struct pw_sheet_block *block, int column, double pt, double wide_mm)
{
  double left = wide_mm;
  if (block->columns[column].chars > 0)
    return block->columns[column].chars * CH_EM * pt * MM_PER_PT;
  for (int c = 0; c < block->n_columns; c++)
    left -= block->columns[c].chars * CH_EM * pt * MM_PER_PT;
  return left;
}

static double row_mm(const struct pw_sheet_block *block, const struct pw_sheet_row *row, double pt, double wide_mm,
                     double cell_mm)
{
  double high = 0, between = block->is_narrow ? NARROW_ROW_MM : ROW_MM;
  if (block->kind == PW_BLOCK_TEXT)
    return between +
           (row->cells[1].text[0]
                ? lines_mm(pt, text_mm(pt, row->cells[0].text, BOLD_CHAR_EM) + text_mm(pt, row->cells[1].text, CHAR_EM),
                           wide_mm)
                : lines_mm(pt, 1, wide_mm) + FULL_CELL_MM);
  if (row->kind != PW_ROW)
    return ROW_MM + lines_mm(pt, text_mm(pt, row->cells[0].text, BOLD_CHAR_EM), wide_mm);
  for (int c = 0; c < block->n_columns; c++) {
    enum pw_cell_role role = block->columns[c].role;
    const struct pw_sheet_cell *cell = &row->cells[c];
    double act_em = block->is_narrow ? CHAR_EM : ACT_FRAC * BOLD_CHAR_EM; /* larger, and heavier where there is room */
    if (role == PW_CELL_READING && !cell->text[0] && !cell->is_off)
      high = fmax(high, cell_mm + CELL_MORE_MM);
    else
      high = fmax(high, lines_mm(pt,
                                 text_mm(pt, cell->text, role == PW_CELL_ACT ? act_em : CHAR_EM) +
                                     text_mm(pt, cell->more, CHAR_EM),
                                 column_mm(block, c, pt, wide_mm) - PAD_MM));
  }
  return high + between;
}

static double block_mm(const struct pw_sheet_block *block, double pt, double page_wide_mm, double cell_mm)
{
  double wide = block->is_narrow ? (page_wide_mm - GAP_MM) / 2 : page_wide_mm, mm = 0;
  if (block->head)
    mm += 1.7 * lines_mm(pt, 0, 1);
  if (block->note)
    mm += lines_mm(pt, text_mm(pt, block->note, CHAR_EM), wide);
  if (block->kind == PW_BLOCK_TABLE && block->columns[block->n_columns - 1].head[0])
    mm += ROW_MM + lines_mm(pt, 0, 1);
  for (int r = 0; r < block->n_rows; r++)
    mm += row_mm(block, &block->rows[r], pt, wide, cell_mm);
  return mm;
}

static double sheet_mm(const struct pw_sheet *sheet, double pt, double page_wide_mm, double cell_mm)
{
  double mm = TITLE_MM + CLOSE_MM + (sheet->sub ? lines_mm(pt, text_mm(pt, sheet->sub, CHAR_EM), page_wide_mm) : 0),
         two = 0;
  for (int b = 0; b < sheet->n_blocks; b++) {
    const struct pw_sheet_block *block = &sheet->blocks[b];
    two += block->is_narrow ? block_mm(block, pt, page_wide_mm, cell_mm) : 0;
    if (two > 0 && (!block->is_narrow || b + 1 == sheet->n_blocks)) {
      mm += two / 2 + TWO_MM; /* two columns are seldom of one height */
      two = 0;
    }
    mm += block->is_narrow || block->is_screen ? 0 : block_mm(block, pt, page_wide_mm, cell_mm);
  }
  return mm;
}

/** Whether the other columns of each table leave its words enough to stand in. */
static bool has_room(const struct pw_sheet *sheet, double pt, double page_wide_mm)
{
  bool has = true;
  for (int b = 0; b < sheet->n_blocks; b++) {
    const struct pw_sheet_block *block = &sheet->blocks[b];
    bool is_asked = block->kind == PW_BLOCK_TABLE &&
                    (!block->is_narrow || block->columns[block->n_columns - 1].role == PW_CELL_READING);
    double wide_mm = block->is_narrow ? (page_wide_mm - GAP_MM) / 2 : page_wide_mm;
    int least = block->is_narrow ? LEAST_NARROW_CHARS : LEAST_CHARS;
    for (int c = 0; c < block->n_columns && is_asked; c++)
      has = has && (block->columns[c].chars > 0 || column_mm(block, c, pt, wide_mm) >= least * CH_EM * pt * MM_PER_PT);
  }
  return has;
}

/** Whether it keeps to one page of either paper. */
static bool fits(const struct pw_sheet *sheet, double pt, double cell_mm)
{
  bool does = true;
  for (size_t i = 0; i < sizeof papers / sizeof *papers; i++)
    does = does && has_room(sheet, pt, papers[i].wide_mm) &&
           sheet_mm(sheet, pt, papers[i].wide_mm, cell_mm) <= papers[i].high_mm;
  return does;
}

double pw_html_flow_pt(const struct pw_sheets *sheets)
{
  static const double THIN_MM = 3 * 252, THIN_PT = 10.75; /* people of three pages */
  double mm = 0;
  for (int i = 0; i < sheets->n_sheets; i++)
    if (sheets->sheets[i].kind == PW_SHEET_PERSON)
      mm += sheet_mm(&sheets->sheets[i], LEAST_PT, papers[0].wide_mm, FULL_CELL_MM);
  return mm <= THIN_MM ? THIN_PT : FLOW_PT;
}

/** Whether there are cells to write in on each of its lines: they are what makes it long, not its words. */
static bool is_form(const struct pw_sheet *sheet)
{
  const struct pw_sheet_block *last = sheet->n_blocks > 0 ? &sheet->blocks[sheet->n_blocks - 1] : NULL;
  return last && last->kind == PW_BLOCK_TABLE && last->columns[last->n_columns - 1].role == PW_CELL_READING;
}

/** A list in two columns, which stands on what another sheet left of a page where it can. */
static bool is_filler(const struct pw_sheet *sheet)
{
  bool is = !sheet->is_new_page;
  for (int b = 0; b < sheet->n_blocks; b++)
    is = is && sheet->blocks[b].is_narrow;
  return is;
}

double pw_html_type_pt(const struct pw_sheet *sheet, double flow_pt)
{
  if (sheet->kind == PW_SHEET_PERSON)
    return flow_pt + PERSON_MORE_PT;
  if (!sheet->is_one_page || (!is_form(sheet) && is_filler(sheet) && flow_pt <= FLOW_PT))
    return flow_pt; /* a thick pack saves a page */
  double pt = MOST_PT;
  while (pt > LEAST_PT && !fits(sheet, pt, FULL_CELL_MM))
    pt -= 0.25;
  return pt;
}

double pw_html_cell_mm(const struct pw_sheet *sheet, double flow_pt)
{
  double mm = FULL_CELL_MM;
  while (sheet->is_one_page && is_form(sheet) && mm >= LEAST_CELL_MM && !fits(sheet, flow_pt, mm))
    mm -= 0.1;
  return mm >= LEAST_CELL_MM ? mm : FULL_CELL_MM; /* it takes two pages anyhow */
}

bool pw_html_is_long(const struct pw_sheet *sheet, double flow_pt)
{
  double pt = pw_html_type_pt(sheet, flow_pt), cell_mm = pw_html_cell_mm(sheet, flow_pt);
  if (sheet->is_landscape)
    return false; /* a drawing is never parted from its head */
  if (sheet->is_one_page)
    return !fits(sheet, pt, cell_mm);
  return sheet->kind != PW_SHEET_PERSON || sheet_mm(sheet, pt, papers[0].wide_mm, cell_mm) > SHORT_MM;
}

/** Width of a rack on a slip before they are made to stand side by side. */
static double rack_mm(const struct pw_sheet_block *block, int rack, const struct pw_view *view)
{
  enum { FEW_RACKS = 2 };
  static const double STAYS_FRAC = 0.5, NEW_FRAC = 0.8, /* of racks on a slip of many */
      PAIR_FRAC = 0.94;                                 /* of two side by side: four such slips on a page */
  const struct pw_view_map *map = &block->racks[rack].map;
  double whole_mm = pw_svg_rack_mm(&view->ev->pits[map->pit].racks[map->rack]);
  bool is_new = false;
  for (int i = 0; i < map->n_loads && !is_new; i++)
    is_new = pw_view_lies_from(&view->plan->allocation.loads[map->loads[i]]) == map->from_at_min;
  return block->n_racks == 1           ? whole_mm
         : block->n_racks <= FEW_RACKS ? whole_mm * PAIR_FRAC
                                       : whole_mm * (is_new ? NEW_FRAC : STAYS_FRAC);
}

double pw_html_rack_mm(const struct pw_sheet_block *block, int rack, const struct pw_view *view)
{
  static const double RACK_GAP_MM = 3.5; /* with what is lost to whole millimetres */
  double all_mm = 0, room_mm = papers[1].wide_mm - RACK_GAP_MM * block->n_racks;
  for (int r = 0; r < block->n_racks; r++)
    all_mm += rack_mm(block, r, view);
  double mm = rack_mm(block, rack, view);
  return all_mm > room_mm && room_mm > 0 ? mm * room_mm / all_mm : mm; /* all of a moment in one line on either paper */
}

/* ---- the quote ---- */

/** A row of the quote, in mm; a part's first row has its head's height besides. */
static double offer_row_mm(const struct pw_offer_row *r, double pt)
{
  enum { MEAL_MM = 7, SIGN_MM = 21 };
  const double more_mm = 0.7; /* its padding, and the hairline under it */
  switch (r->kind) {
  case PW_OFFER_COURSE: /* beside its first dish */
    return 0;
  case PW_OFFER_MEAL:
    return MEAL_MM;
  case PW_OFFER_SAY:
    return more_mm + 1.08 * lines_mm(pt, text_mm(pt, r->label, CHAR_EM), papers[1].wide_mm - 6);
  case PW_OFFER_SIGN:
    return SIGN_MM;
  case PW_OFFER_FACT: /* two side by side */
    return (more_mm + lines_mm(pt, 0, 1)) / 2;
  default:
    return more_mm + lines_mm(pt, 0, 1);
  }
}

/** Pages it takes: meals and parts are whole on a page, and who signs stands under the notes. */
static int offer_pages(const struct pw_offer_sheet *offer, double pt)
{
  const double HEAD_MM = 5, BLOCK_MM = 8.5, LETTER_MM = 5;
  int pages = 1;
  double used = TITLE_MM + LETTER_MM * (offer->n_letterhead < 2 ? offer->n_letterhead : 2), block = 0;
  for (int i = 0; i < offer->n_parts; i++) {
    const struct pw_offer_part *part = &offer->parts[i];
    block += BLOCK_MM + (part->n > 0 && part->rows[0].kind == PW_OFFER_RUNG ? HEAD_MM : 0);
    for (int k = 0; k < part->n; k++) {
      block += offer_row_mm(&part->rows[k], pt);
      bool is_meals_last = k + 1 < part->n && part->rows[k + 1].kind == PW_OFFER_MEAL;
      if (!is_meals_last && (k + 1 < part->n || i + 2 == offer->n_parts))
        continue;
      if (used + block > papers[0].high_mm) {
        pages++;
        used = 0;
      }
      used += block;
      block = 0;
    }
  }
  return pages;
}

double pw_html_offer_pt(const struct pw_offer_sheet *offer)
{
  static const double sizes[] = {10.5, 10.25, 10, 9.75, 9.5};
  for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++)
    if (offer_pages(offer, sizes[i]) <= 2)
      return sizes[i];
  return sizes[0]; /* it takes three all the same */
}
