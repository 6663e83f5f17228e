/* text_shift.c - the pack's sheets (sheet/sheet.h) as text of 80 columns: boxes to tick, blanks for a reading.
 * Nothing here knows one sheet from another. */
#include "base/when.h"
#include "sheet/sheet.h"
#include "sheet/words.h"
#include "write/text/text_page.h"
#include "write/text/text_sheets.h"

#include <string.h>

enum { COLUMNS_MAX = PW_PAGE_TABLE_MAX, FLEX_LEAST = 26, LEAST = 5, BLANK_MOST = 8 };

/** Where the columns of a table stand. */
struct columns {
  int at[COLUMNS_MAX], width[COLUMNS_MAX], n;
};

/** Widths as the columns ask for them; the widest give way until what is left is enough for words. */
static struct columns columns_of(const struct pw_sheet_block *block)
{
  struct columns c = {.n = block->n_columns < COLUMNS_MAX ? block->n_columns : COLUMNS_MAX};
  int n_flex = 0, fixed = 0, at = 0;
  for (int i = 0; i < c.n; i++) {
    bool is_hidden = block->columns[i].role == PW_CELL_SORT;
    c.width[i] = is_hidden ? 0 : block->columns[i].chars;
    n_flex += block->columns[i].chars == 0;
    fixed += is_hidden ? 0 : c.width[i] + 1;
  }
  while (PW_PAGE_COLUMNS - fixed < n_flex * FLEX_LEAST || fixed > PW_PAGE_COLUMNS) {
    int widest = 0;
    for (int i = 1; i < c.n; i++)
      widest = c.width[i] > c.width[widest] ? i : widest;
    if (c.width[widest] <= LEAST)
      break;
    c.width[widest]--;
    fixed--;
  }
  for (int i = 0; i < c.n; i++) {
    if (block->columns[i].chars == 0)
      c.width[i] = (PW_PAGE_COLUMNS - fixed) / n_flex - 1;
    c.at[i] = at;
    at += c.width[i] > 0 ? c.width[i] + 1 : 0;
  }
  return c;
}

static const char *blank(struct pw_page *s, int width)
{
  return pw_words(s, "%.*s", width < BLANK_MOST ? width : BLANK_MOST, "________");
}

static const char *cell_words(struct pw_page *s, const struct pw_sheet_block *block, const struct pw_sheet_row *row,
                              int c, int width)
{
  const struct pw_sheet_cell *cell = &row->cells[c];
  enum pw_cell_role role = block->columns[c].role;
  if (role == PW_CELL_TICK)
    return "[ ]";
  if (role == PW_CELL_READING && !cell->text[0])
    return cell->is_off ? "" : blank(s, width);
  return cell->more && role != PW_CELL_ACT ? pw_words(s, "%s%s%s", cell->text, cell->text[0] ? " " : "", cell->more)
         : cell->text[0] || !cell->more    ? cell->text
                                           : cell->more;
}

static void row(struct pw_page *s, const struct pw_sheet_block *block, const struct columns *c,
                const struct pw_sheet_row *row)
{
  const char *cells[COLUMNS_MAX];
  for (int i = 0; i < c->n; i++)
    cells[i] = cell_words(s, block, row, i, c->width[i]);
  pw_page_cells(s, 0, cells, c->n);
  for (int i = 0; i < c->n; i++)
    if (block->columns[i].role == PW_CELL_ACT && row->cells[i].text[0] && row->cells[i].more)
      pw_page_para(s, c->at[i] + 2, c->at[i] + 2, row->cells[i].more);
}

static void table(struct pw_page *s, const struct pw_sheet_block *block)
{
  struct columns c = columns_of(block);
  struct pw_page_column columns[COLUMNS_MAX];
  for (int i = 0, end = 0; i < c.n; i++) {
    columns[i] = (struct pw_page_column){c.width[i] > 0 ? c.at[i] - end : 0, c.width[i], block->columns[i].role,
                                         block->columns[i].head};
    end += columns[i].gap + columns[i].chars;
  }
  pw_page_table(s, columns, c.n);
  for (int r = 0; r < block->n_rows; r++) {
    if (block->rows[r].kind == PW_ROW_BAND)
      pw_page_blank(s);
    if (block->rows[r].kind == PW_ROW)
      row(s, block, &c, &block->rows[r]);
    else
      pw_page_para(s, 0, 2, block->rows[r].cells[0].text);
  }
}

static void text(struct pw_page *s, const struct pw_sheet_block *block)
{
  for (int r = 0; r < block->n_rows; r++) {
    const struct pw_sheet_cell *cells = block->rows[r].cells;
    pw_page_para(s, 0, 2,
                 pw_words(s, "%s%s%s", cells[0].text, cells[0].text[0] ? ". " : "",
                          cells[1].text[0] ? cells[1].text : "________________________"));
  }
}

static void racks(struct pw_page *s, const struct pw_sheet_block *block)
{
  for (int i = 0; i < block->n_racks; i++) {
    const struct pw_sheet_rack *rack = &block->racks[i];
    pw_page_para(
        s, 0, 2,
        pw_words(s, "%s: %s%s%s", rack->name, rack->hot, rack->cool ? " to " : "", rack->cool ? rack->cool : ""));
  }
}

static void sheet(struct pw_page *s, const struct pw_sheet *sheet)
{
  bool is_role_told = !sheet->who || strncmp(sheet->title, sheet->who, strlen(sheet->who)) == 0;
  pw_page_head(s, is_role_told ? sheet->title : pw_words(s, "%s (%s)", sheet->title, sheet->who));
  if (sheet->sub)
    pw_page_para(s, 0, 0, sheet->sub);
  for (int b = 0; b < sheet->n_blocks; b++) {
    const struct pw_sheet_block *block = &sheet->blocks[b];
    if (block->head) {
      pw_page_blank(s);
      pw_page_para(s, 0, 2, pw_words(s, "%s:", block->head));
    }
    if (block->note)
      pw_page_para(s, 0, 0, block->note);
    racks(s, block);
    if (block->columns)
      table(s, block);
    else
      text(s, block);
  }
}

pw_status pw_text_shift(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_page page = pw_page_open(plan, plan->event, ctx), *s = &page;
  struct pw_sheets sheets;
  pw_status st = pw_sheets_make(&sheets, plan, ctx);
  if (st != PW_OK)
    return st;
  pw_page_title(s, s->ev->name, "Shift sheet");
  pw_page_para(s, 0, 0,
               pw_words(s, "%s, %s, times of %s", pw_when_date(s->ev->date).s,
                        pw_words_guests(plan->demand.head_count).s, s->ev->zone));
  for (int i = 0; i < sheets.n_sheets; i++)
    sheet(s, &sheets.sheets[i]);
  return pw_text_page(out, s);
}
