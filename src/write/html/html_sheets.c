/* html_sheets.c - lays the pack's sheets (sheet/sheet.h) out as sections of a page: one look for each role of a cell.
 * On paper each sheet begins a page; on a phone the index of people comes first and a chosen sheet stands alone. */
#include "write/html/html_sheets.h"

#include "base/clock.h"
#include "base/text.h"
#include "base/when.h"
#include "write/html/html_fit.h"
#include "write/html/html_page.h"
#include "write/html/svg.h"

#include <string.h>

#define TEXT(...) pw_view_printf(&h->view, __VA_ARGS__)

enum {
  LEAD_MM = 6, /* the line under a head */
  DAY_MM = 160,
  DAY_WITH_WORDS_MM = 128
};                                     /* height of a day's drawing on a page across, alone or over its rules */
enum { NARROW_MM = 40, HALF_MM = 84 }; /* a rack with smaller words; the most of two side by side */

static const char *const role_class[PW_CELL__COUNT] = {"tick", "time", "mark", "act", "what", "where",
                                                       "who",  "aim",  "read", "n",   "note", "sort"};

/** Minutes since 1970 in UTC, for the browser's clock. */
static long long epoch_min(const struct html *h, int at_min)
{
  struct pw_local_time t = pw_view_local(h->ev, at_min);
  return (long long)pw_date_to_days(t.date) * 1440 + t.hour * 60 + t.minute - t.utc_offset_min;
}

static void key(struct html *h, const struct pw_sheet *sheet, const struct pw_sheet_row *row, int column)
{
  pw_html_raw(h, " data-k=\"");
  pw_text_add_attribute(h->buf, TEXT("%s/%s/%d", sheet->id, row->key ? row->key : "", column));
  pw_html_raw(h, "\"");
}

static void words(struct html *h, const struct pw_sheet_cell *cell, bool is_bold)
{
  if (cell->text[0])
    pw_html_el(h, is_bold ? "b" : "span", cell->text);
  if (cell->more) {
    if (cell->text[0])
      pw_html_raw(h, " ");
    pw_html_el(h, "span class=\"sub\"", cell->more);
  }
}

/** Whether the words of a row have the room of the last cell too: a reading that is not asked for, an amount there is none of. */
static bool has_room(const struct pw_sheet_block *block, const struct pw_sheet_row *row, int c)
{
  if (c + 2 != block->n_columns || block->columns[c].role != PW_CELL_ACT)
    return false;
  const struct pw_sheet_cell *last = &row->cells[c + 1];
  enum pw_cell_role role = block->columns[c + 1].role;
  return (role == PW_CELL_READING && last->is_off) ||
         ((role == PW_CELL_AMOUNT || role == PW_CELL_NOTE) && !last->text[0] && !last->more);
}

static void cell_write(struct html *h, const struct pw_sheet *sheet, const struct pw_sheet_block *block,
                       const struct pw_sheet_row *row, int c)
{
  const struct pw_sheet_column *column = &block->columns[c];
  const struct pw_sheet_cell *cell = &row->cells[c];
  bool is_open = column->role == PW_CELL_READING && !cell->text[0] && !cell->is_off;
  bool is_empty = !is_open && column->role != PW_CELL_TICK && !cell->text[0] && !cell->more;
  pw_html_rawf(h, "<td%s class=\"%s%s\" data-h=\"", has_room(block, row, c) ? " colspan=\"2\"" : "",
               role_class[column->role],
               is_open                                           ? " open"
               : column->role == PW_CELL_READING && cell->is_off ? " off"
               : is_empty                                        ? " none"
                                                                 : "");
  bool is_when = column->role == PW_CELL_TIME && strcmp(column->head, "Time") == 0; /* others say what happens then */
  bool has_own_place = is_when || column->role == PW_CELL_ACT || column->role == PW_CELL_TICK;
  pw_text_add_attribute(h->buf, has_own_place ? "" : column->head);
  pw_html_raw(h, "\">");
  if (column->role == PW_CELL_TICK) {
    pw_html_raw(h, "<input type=\"checkbox\" aria-label=\"done\"");
    key(h, sheet, row, c);
    pw_html_raw(h, "/>");
  } else if (is_open) {
    pw_html_raw(h, "<input type=\"text\" aria-label=\"");
    pw_text_add_attribute(h->buf, column->head[0] ? column->head : "write here");
    pw_html_raw(h, "\"");
    key(h, sheet, row, c);
    pw_html_raw(h, "/>");
  } else
    words(h, cell, column->role == PW_CELL_ACT);
  pw_html_raw(h, "</td>");
}

static void row_write(struct html *h, const struct pw_sheet *sheet, const struct pw_sheet_block *block,
                      const struct pw_sheet_row *row)
{
  if (row->kind != PW_ROW) {
    pw_html_rawf(h, "<tr class=\"%s\"><td colspan=\"%d\">", row->kind == PW_ROW_BAND ? "band" : "band low",
                 block->n_columns);
    pw_html_text(h, row->cells[0].text);
    pw_html_raw(h, "</td></tr>\n");
    return;
  }
  if (row->at_min == PW_SHEET_NO_TIME)
    pw_html_raw(h, "<tr>");
  else
    pw_html_rawf(h, "<tr data-at=\"%lld\">", epoch_min(h, row->at_min));
  for (int c = 0; c < block->n_columns; c++) {
    cell_write(h, sheet, block, row, c);
    c += has_room(block, row, c);
  }
  pw_html_raw(h, "</tr>\n");
}

static bool has_heads(const struct pw_sheet_block *block)
{
  for (int c = 0; c < block->n_columns; c++)
    if (block->columns[c].head[0])
      return true;
  return false;
}

static void table_write(struct html *h, const struct pw_sheet *sheet, const struct pw_sheet_block *block)
{
  pw_html_rawf(h, "<table class=\"%s\"><colgroup>", block->is_kept ? "keep" : "flow");
  for (int c = 0; c < block->n_columns; c++)
    if (block->columns[c].chars > 0)
      pw_html_rawf(h, "<col style=\"width:%dch\"/>", block->columns[c].chars);
    else
      pw_html_raw(h, "<col/>");
  pw_html_raw(h, "</colgroup>");
  if (has_heads(block)) {
    pw_html_raw(h, "<thead><tr>");
    for (int c = 0; c < block->n_columns; c++) { /* whose it is stands on each page of it */
      bool is_named = sheet->kind == PW_SHEET_PERSON && block->columns[c].role == PW_CELL_ACT;
      pw_html_el(h, TEXT("th scope=\"col\" class=\"%s\"", role_class[block->columns[c].role]),
                 is_named ? TEXT("%s: %s", sheet->title, block->columns[c].head) : block->columns[c].head);
    }
    pw_html_raw(h, "</tr></thead>");
  }
  pw_html_raw(h, "<tbody>\n");
  for (int r = 0; r < block->n_rows; r++)
    row_write(h, sheet, block, &block->rows[r]);
  pw_html_raw(h, "</tbody></table>\n");
}

static void text_write(struct html *h, const struct pw_sheet *sheet, const struct pw_sheet_block *block)
{
  pw_html_raw(h, "<div class=\"text\">");
  for (int r = 0; r < block->n_rows; r++) {
    const struct pw_sheet_cell *cells = block->rows[r].cells;
    pw_html_raw(h, "<p>");
    if (cells[0].text[0]) {
      pw_html_el(h, "b", TEXT("%s.", cells[0].text));
      pw_html_raw(h, " ");
    }
    if (cells[1].text[0])
      pw_html_text(h, cells[1].text);
    else {
      pw_html_raw(h, "<input class=\"wide\" type=\"text\" aria-label=\"write here\"");
      key(h, sheet, &block->rows[r], r);
      pw_html_raw(h, "/>");
    }
    pw_html_raw(h, "</p>\n");
  }
  pw_html_raw(h, "</div>\n");
}

static void slip_write(struct html *h, const struct pw_sheet_block *block)
{
  pw_html_raw(h, "<div class=\"racks\">");
  for (int i = 0; i < block->n_racks; i++) {
    const struct pw_sheet_rack *rack = &block->racks[i];
    double mm = pw_html_rack_mm(block, i, &h->view);
    pw_html_rawf(h, "<figure%s style=\"--w:%.0fmm\"><figcaption>", mm < NARROW_MM ? " class=\"low\"" : "", mm);
    if (rack->hot[0])
      pw_html_el(h, "span", rack->hot);
    if (h->ev->pits[rack->map.pit].n_racks > 1) /* the head says the pit */
      pw_html_el(h, "b", rack->name);
    if (rack->cool)
      pw_html_el(h, "span", rack->cool);
    pw_html_raw(h, "</figcaption>");
    pw_svg_rack(h->buf, &h->view, &rack->map);
    pw_html_raw(h, "</figure>");
  }
  pw_html_raw(h, "</div><ul class=\"lines\">");
  for (int r = 0; r < block->n_rows; r++) {
    const struct pw_sheet_row *row = &block->rows[r];
    pw_html_raw(h, "<li>");
    if (*row->cells[0].text)
      pw_html_el(h, row->key && strcmp(row->key, "on") == 0 ? "b" : "span", row->cells[0].text);
    pw_html_text(h, TEXT(" %s, ", row->cells[1].text));
    pw_html_el(h, "b class=\"nw\"", row->cells[2].text);
    pw_html_raw(h, "</li>");
  }
  pw_html_raw(h, "</ul>");
}

/** A table of a few readings, kept whole: two such stand side by side on paper. */
static bool is_narrow(const struct pw_sheet_block *block)
{
  enum { FEW_COLUMNS = 5 };
  for (int c = 1; c < block->n_columns; c++)
    if (block->columns[c].role != PW_CELL_READING)
      return false;
  return block->is_kept && block->n_columns <= FEW_COLUMNS;
}

static void block_write(struct html *h, const struct pw_sheet *sheet, const struct pw_sheet_block *block)
{
  static const char *const kinds[] = {"table", "words", "day", "slip"};
  bool is_half = block->kind == PW_BLOCK_TABLE ? is_narrow(block) : block->kind == PW_BLOCK_SLIP && block->n_racks < 2;
  bool is_long = is_half && block->kind == PW_BLOCK_SLIP && block->n_racks == 1 &&
                 pw_html_rack_mm(block, 0, &h->view) > HALF_MM; /* its lines stand beside it */
  pw_html_rawf(h, "<div class=\"block %s%s%s%s%s\">", kinds[block->kind], block->is_kept ? " keep" : "",
               block->is_screen ? " screen" : "", is_half ? " one" : "", is_long ? " long" : "");
  if (block->head)
    pw_html_el(h, "h3", block->head);
  if (block->note)
    pw_html_el(h, "p class=\"note\"", block->note);
  switch (block->kind) {
  case PW_BLOCK_TABLE:
    table_write(h, sheet, block);
    break;
  case PW_BLOCK_TEXT:
    text_write(h, sheet, block);
    break;
  case PW_BLOCK_DAY:
    pw_html_el(
        h, "p class=\"note\"",
        "Black: fire. Thick frame: smoke. Broken frame: finish, reheat. Dashed: rest, chill. Thin: hold. Line after a "
        "bar: it may be that much later.");
    pw_svg_day(h->buf, &h->view, block->from_at_min, block->hours,
               (sheet->n_blocks > 1 ? DAY_WITH_WORDS_MM : DAY_MM) - (sheet->sub ? LEAD_MM : 0));
    break;
  case PW_BLOCK_SLIP:
    slip_write(h, block);
    break;
  }
  pw_html_raw(h, "</div>\n");
}

static void sheet_write(struct html *h, const struct pw_sheet *sheet, double flow_pt)
{
  pw_html_rawf(h, "<section id=\"%s\" class=\"sheet %s%s%s%s\" style=\"--pt:%.2fpt;--cell:%.1fmm\">", sheet->id,
               sheet->word, sheet->is_landscape ? " across" : "", sheet->is_new_page ? " page" : " cut",
               pw_html_is_long(sheet, flow_pt) ? " long" : "", pw_html_type_pt(sheet, flow_pt),
               pw_html_cell_mm(sheet, flow_pt));
  pw_html_el(h, "h2", sheet->title);
  if (sheet->sub)
    pw_html_el(h, "p class=\"lead\"", sheet->sub);
  if (sheet->n_blocks > 0 && sheet->blocks[0].kind == PW_BLOCK_SLIP)
    pw_html_el(h, "p class=\"lead\"",
               "Racks from above, to scale, fire end left. Heavy frame: goes on now. Thin: stays.");
  for (int b = 0; b < sheet->n_blocks; b++) {
    bool is_narrow = sheet->blocks[b].is_narrow;
    if (is_narrow && (b == 0 || !sheet->blocks[b - 1].is_narrow))
      pw_html_raw(h, "<div class=\"two\">");
    block_write(h, sheet, &sheet->blocks[b]);
    if (is_narrow && (b + 1 == sheet->n_blocks || !sheet->blocks[b + 1].is_narrow))
      pw_html_raw(h, "</div>");
  }
  pw_html_section_end(h);
}

/** ", Fri" of the first row with a minute, of a fire the last, the day it cooks for, where another sheet is headed alike. */
static const char *day_of(struct html *h, const struct pw_sheets *sheets, int i)
{
  const struct pw_sheet *s = &sheets->sheets[i];
  bool is_alone = true;
  for (int k = 0; k < sheets->n_sheets; k++)
    is_alone = is_alone && (k == i || strcmp(sheets->sheets[k].title, s->title) != 0);
  int at = PW_SHEET_NO_TIME;
  for (int b = 0; b < s->n_blocks && !is_alone; b++)
    for (int r = 0; r < s->blocks[b].n_rows; r++)
      if (s->blocks[b].rows[r].at_min != PW_SHEET_NO_TIME && (at == PW_SHEET_NO_TIME || s->kind == PW_SHEET_FIRE))
        at = s->blocks[b].rows[r].at_min;
  return at == PW_SHEET_NO_TIME ? "" : TEXT(", %s", pw_when_day_short(h->view.ev, at).s);
}

static void links(struct html *h, const struct pw_sheets *sheets, bool of_people)
{
  for (int i = 0; i < sheets->n_sheets; i++) {
    const struct pw_sheet *s = &sheets->sheets[i];
    if ((s->kind == PW_SHEET_PERSON) == of_people && !s->is_list) {
      pw_html_rawf(h, "<a href=\"#%s\">", s->id);
      pw_html_text(h, s->title);
      pw_html_text(h, day_of(h, sheets, i));
      pw_html_raw(h, "</a>");
    }
  }
}

void pw_html_sheets(struct html *h, const struct pw_sheets *sheets)
{
  pw_html_raw(h, "<nav id=\"top\" aria-label=\"Your own sheet\"><p>Your own sheet</p>");
  links(h, sheets, true);
  pw_html_raw(h, "</nav><nav aria-label=\"Sheets\"><p>All sheets</p>");
  links(h, sheets, false);
  pw_html_raw(h, "</nav>\n<p class=\"bar\"><a href=\"#top\">All</a> <button type=\"button\" id=\"now\" "
                 "hidden=\"hidden\">Now</button></p>\n");
  double flow_pt = pw_html_flow_pt(sheets);
  for (int i = 0; i < sheets->n_sheets; i++)
    if (!sheets->sheets[i].is_list)
      sheet_write(h, &sheets->sheets[i], flow_pt);
}

/* FNV-1a, 64 bit; the end of the words counts too, so that none run into the next */
static unsigned long long digest_add(unsigned long long digest, const char *words)
{
  const char *p = words ? words : "";
  do
    digest = (digest ^ (unsigned char)*p) * 1099511628211ULL;
  while (*p++);
  return digest;
}

/* Ticks of one plan are not shown on another's page: what and where, of which event. */
unsigned long long pw_html_sheets_digest(const struct pw_sheets *sheets)
{
  unsigned long long digest = digest_add(14695981039346656037ULL, sheets->view.ev->name);
  for (int i = 0; i < sheets->n_sheets; i++)
    for (int b = 0; b < sheets->sheets[i].n_blocks; b++) {
      const struct pw_sheet_block *block = &sheets->sheets[i].blocks[b];
      for (int r = 0; r < block->n_rows; r++)
        for (int c = 0; c < block->n_columns; c++)
          digest = digest_add(digest_add(digest, block->rows[r].cells[c].text), block->rows[r].cells[c].more);
    }
  return digest;
}
