/* xlsx_book.c - styles, cells, heights, page set-up of the workbook.
 * Idea: colours are an extra only; every meaning is also a word, a border or a weight, so that a black and
 * white print says the same. */
#include "write/xlsx_book.h"

#include "base/arena.h"
#include "base/text.h"

#include <math.h>
#include <string.h>

#define FONT "Arial"
#define MARGIN_IN 0.5       /* left, right, top of each page */
#define MARGIN_FOOT_IN 0.65 /* bottom, holds the footer */

enum { INK = 0x1A1A1A, SHADE = 0xEDEBE6, INPUT_BG = 0xFFF6D6, WARM = 0xF3D9C6, COOL = 0xD5E3EC, DARK = 0x3A3530, LINE = 0x7A756E };

enum edge { NO_EDGE, HAIR, THIN, THICK, DASH, DOT };

/** One row per style. */
static const struct look {
  double points;
  bool is_bold, is_italic, wraps, is_white;
  int across, down; /* alignments of the library */
  enum edge edge;
  unsigned fill; /* 0: none */
  int rotation;
  const char *number; /* NULL: general; "M" money, "W" weight */
  bool is_unlocked;
} looks[ST__COUNT] = {
#define TOP LXW_ALIGN_VERTICAL_TOP
#define MID LXW_ALIGN_VERTICAL_CENTER
#define LEFT LXW_ALIGN_LEFT
#define RIGHT LXW_ALIGN_RIGHT
#define CENTRE LXW_ALIGN_CENTER
  [ST_PLAIN] = {11, 0, 0, 1, 0, LEFT, TOP, NO_EDGE, 0, 0, NULL, 0},
  [ST_TITLE] = {18, 1, 0, 0, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0},
  [ST_SUBTITLE] = {11, 0, 0, 0, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0},
  [ST_SECTION] = {13, 1, 0, 0, 0, LEFT, MID, NO_EDGE, 0, 0, NULL, 0},
  [ST_NOTE] = {10, 0, 1, 1, 0, LEFT, TOP, NO_EDGE, 0, 0, NULL, 0},
  [ST_HEAD] = {11, 1, 0, 1, 0, LEFT, MID, THIN, SHADE, 0, NULL, 0},
  [ST_HEAD_RIGHT] = {11, 1, 0, 1, 0, RIGHT, MID, THIN, SHADE, 0, NULL, 0},
  [ST_TEXT] = {11, 0, 0, 1, 0, LEFT, TOP, HAIR, 0, 0, NULL, 0},
  [ST_TEXT_BOLD] = {11, 1, 0, 1, 0, LEFT, TOP, HAIR, 0, 0, NULL, 0},
  [ST_TEXT_CENTRE] = {11, 0, 0, 1, 0, CENTRE, TOP, HAIR, 0, 0, NULL, 0},
  [ST_NUMBER] = {11, 0, 0, 0, 0, RIGHT, TOP, HAIR, 0, 0, "#,##0.##", 0},
  [ST_COUNT] = {11, 0, 0, 0, 0, RIGHT, TOP, HAIR, 0, 0, "#,##0", 0},
  [ST_WEIGHT] = {11, 0, 0, 0, 0, RIGHT, TOP, HAIR, 0, 0, "W", 0},
  [ST_PERCENT] = {11, 0, 0, 0, 0, RIGHT, TOP, HAIR, 0, 0, "0.0 %", 0},
  [ST_MONEY] = {11, 0, 0, 0, 0, RIGHT, TOP, HAIR, 0, 0, "M", 0},
  [ST_MONEY_BOLD] = {11, 1, 0, 0, 0, RIGHT, TOP, THIN, SHADE, 0, "M", 0},
  [ST_LABEL] = {11, 0, 0, 1, 0, LEFT, TOP, HAIR, 0, 0, NULL, 0},
  [ST_VALUE] = {11, 1, 0, 1, 0, LEFT, TOP, HAIR, 0, 0, NULL, 0},
  [ST_INPUT_TEXT] = {11, 0, 0, 1, 0, LEFT, TOP, THIN, INPUT_BG, 0, NULL, 1},
  [ST_INPUT_MONEY] = {11, 0, 0, 0, 0, RIGHT, TOP, THIN, INPUT_BG, 0, "M", 1},
  [ST_INPUT_NUMBER] = {11, 0, 0, 0, 0, RIGHT, TOP, THIN, INPUT_BG, 0, "#,##0.00##", 1},
  [ST_INPUT_COUNT] = {11, 0, 0, 0, 0, RIGHT, TOP, THIN, INPUT_BG, 0, "#,##0", 1},
  [ST_INPUT_PERCENT] = {11, 0, 0, 0, 0, RIGHT, TOP, THIN, INPUT_BG, 0, "0.00 %", 1},
  [ST_BIG] = {12, 0, 0, 1, 0, LEFT, TOP, HAIR, 0, 0, NULL, 0},
  [ST_BIG_BOLD] = {12, 1, 0, 1, 0, LEFT, TOP, HAIR, 0, 0, NULL, 0},
  [ST_BOX] = {12, 0, 0, 1, 0, LEFT, TOP, THIN, 0, 0, NULL, 1},
  [ST_TICK] = {16, 0, 0, 0, 0, CENTRE, MID, HAIR, 0, 0, NULL, 1},
  [ST_CAUTION] = {12, 1, 0, 1, 0, LEFT, MID, THICK, 0, 0, NULL, 0},
  [ST_GRID_HEAD] = {9, 1, 0, 0, 0, LEFT, MID, THIN, SHADE, 0, NULL, 0},
  [ST_GRID_NAME] = {9, 0, 0, 1, 0, LEFT, MID, THIN, 0, 0, NULL, 0},
  [ST_GRID_NAME_BOLD] = {10, 1, 0, 1, 0, LEFT, MID, THIN, SHADE, 0, NULL, 0},
  [ST_GRID_EMPTY] = {8, 0, 0, 0, 0, CENTRE, MID, DOT, 0, 0, NULL, 0},
  [ST_GRID_HOUR] = {9, 1, 0, 0, 0, LEFT, MID, THIN, SHADE, 0, NULL, 0},
  [ST_FIRE] = {9, 1, 0, 1, 1, CENTRE, MID, THIN, DARK, 0, NULL, 0},
  [ST_FIRE_UP] = {9, 1, 0, 1, 0, CENTRE, MID, THIN, SHADE, 0, NULL, 0},
  [ST_SMOKE] = {9, 1, 0, 1, 0, CENTRE, MID, THICK, WARM, 0, NULL, 0},
  [ST_FINISH] = {9, 0, 1, 1, 0, CENTRE, MID, THICK, COOL, 0, NULL, 0},
  [ST_REST] = {9, 0, 0, 1, 0, CENTRE, MID, DASH, 0, 0, NULL, 0},
  [ST_HOLD] = {9, 0, 0, 1, 0, CENTRE, MID, THIN, 0, 0, NULL, 0},
  [ST_SERVE] = {9, 1, 0, 1, 0, CENTRE, MID, THICK, 0, 0, NULL, 0},
  [ST_MAP_RACK] = {8, 0, 0, 0, 0, CENTRE, MID, NO_EDGE, 0, 0, NULL, 0},
  [ST_MAP_OUTSIDE] = {8, 0, 0, 0, 0, CENTRE, MID, NO_EDGE, 0xC9C4BC, 0, NULL, 0},
  [ST_MAP_NEW] = {10, 1, 0, 1, 0, CENTRE, MID, THICK, WARM, 0, NULL, 0},
  [ST_MAP_OLD] = {10, 0, 0, 1, 0, CENTRE, MID, THIN, 0, 0, NULL, 0},
  [ST_MAP_HOT] = {10, 1, 0, 1, 1, CENTRE, MID, THIN, DARK, 90, NULL, 0},
  [ST_MAP_COOL] = {10, 1, 0, 1, 0, CENTRE, MID, THIN, 0, 90, NULL, 0},
  [ST_MAP_ZONE] = {10, 1, 0, 1, 0, CENTRE, MID, THIN, SHADE, 0, NULL, 0},
};

void book_take(struct book *b, lxw_error error)
{
  if (b->error == LXW_NO_ERROR)
    b->error = error;
}

static bool is_dead(const struct sheet *s) { return s->b->error != LXW_NO_ERROR || !s->ws; }

/** `"$"#,##0.00` for the event's currency. */
static const char *money_format(struct book *b)
{
  char sign[64] = "";
  size_t k = 0;
  for (const char *p = b->ev->money_sign; p && *p && k + 1 < sizeof sign; p++)
    if (*p != '"' && *p != '\\')
      sign[k++] = *p;
  sign[k] = '\0';
  const char *digits = b->ev->money_digits <= 0 ? "" : b->ev->money_digits == 1 ? ".0" : b->ev->money_digits == 2 ? ".00" : ".000";
  return pw_view_printf(b->view, "\"%s\"#,##0%s;-\"%s\"#,##0%s", sign, digits, sign, digits);
}

static void format_edges(lxw_format *f, enum edge edge)
{
  static const uint8_t borders[] = {LXW_BORDER_NONE, LXW_BORDER_HAIR, LXW_BORDER_THIN, LXW_BORDER_MEDIUM, LXW_BORDER_DASHED, LXW_BORDER_DOTTED};
  if (edge == NO_EDGE)
    return;
  format_set_border(f, borders[edge]);
  format_set_border_color(f, edge == HAIR || edge == DOT ? LINE : INK);
}

static void format_fill(lxw_format *f, unsigned colour)
{
  if (!colour)
    return;
  format_set_pattern(f, LXW_PATTERN_SOLID);
  format_set_fg_color(f, colour);
}

/** All formats of the workbook. */
static void styles_make(struct book *b)
{
  for (int i = 0; i < ST__COUNT; i++) {
    const struct look *k = &looks[i];
    lxw_format *f = workbook_add_format(b->wb);
    if (!f) {
      book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
      return;
    }
    format_set_font_name(f, FONT);
    format_set_font_size(f, k->points);
    format_set_font_color(f, k->is_white ? LXW_COLOR_WHITE : INK);
    if (k->is_bold)
      format_set_bold(f);
    if (k->is_italic)
      format_set_italic(f);
    if (k->wraps)
      format_set_text_wrap(f);
    format_set_align(f, (uint8_t)k->across);
    format_set_align(f, (uint8_t)k->down);
    format_edges(f, k->edge);
    format_fill(f, k->fill);
    if (k->rotation)
      format_set_rotation(f, (int16_t)k->rotation);
    if (k->is_unlocked)
      format_set_unlocked(f);
    if (k->number)
      format_set_num_format(f, k->number[0] == 'M'   ? money_format(b)
                               : k->number[0] == 'W' ? pw_view_printf(b->view, "#,##0.0\" %s\"", pw_unit_weight(b->ev->units))
                                                     : k->number);
    b->style[i] = f;
  }
}

void book_start(struct book *b)
{
  b->money_unit = 1;
  for (int i = 0; i < b->ev->money_digits; i++)
    b->money_unit *= 10;
  styles_make(b);
  const char *name = pw_text_xlsx_header(b->view->arena, b->ev->name, 80);
  if (!name) {
    book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  b->footer = pw_view_printf(b->view, "&L&\"" FONT ",Regular\"&9%s, %s&C&9pitwright " PW_VERSION "&R&9&A, page &P of &N", name,
                             pw_view_date(b->view, b->ev->date));
}

/* ---- sheets ------------------------------------------------------------------------------------- */

void sheet_open(struct book *b, struct sheet *s, const char *name, bool is_landscape)
{
  memset(s, 0, sizeof *s);
  s->b = b;
  if (b->error != LXW_NO_ERROR)
    return;
  s->ws = workbook_add_worksheet(b->wb, name);
  if (!s->ws) {
    book_take(b, LXW_ERROR_PARAMETER_VALIDATION);
    return;
  }
  worksheet_set_paper(s->ws, b->ev->paper == PW_PAPER_A4 ? 9 : 1); /* ST_PaperSize of ECMA-376 18.18.50: 1 Letter, 9 A4 */
  if (is_landscape)
    worksheet_set_landscape(s->ws);
  else
    worksheet_set_portrait(s->ws);
  worksheet_set_margins(s->ws, MARGIN_IN, MARGIN_IN, MARGIN_IN, MARGIN_FOOT_IN);
  worksheet_fit_to_pages(s->ws, 1, 0);
  worksheet_gridlines(s->ws, LXW_HIDE_ALL_GRIDLINES);
  book_take(b, worksheet_set_footer(s->ws, b->footer));
  for (int c = 0; c < SHEET_COLS_MAX; c++)
    s->width[c] = 8.43; /* the format's default column width */
}

void sheet_close(struct sheet *s)
{
  for (size_t r = 0; r < s->n_rows && !is_dead(s); r++)
    if (s->height[r] > 0)
      book_take(s->b, worksheet_set_row(s->ws, (lxw_row_t)r, s->height[r] > 409 ? 409 : s->height[r], NULL)); /* the format's limit */
  if (!is_dead(s) && s->n_breaks > 0)
    book_take(s->b, worksheet_set_h_pagebreaks(s->ws, s->breaks));
}

void sheet_columns(struct sheet *s, const double *widths, int n)
{
  for (int c = 0; c < n && !is_dead(s); c++) {
    s->width[c] = widths[c];
    book_take(s->b, worksheet_set_column(s->ws, (lxw_col_t)c, (lxw_col_t)c, widths[c], NULL));
  }
}

void sheet_columns_px(struct sheet *s, int first, int last, int px)
{
  if (is_dead(s))
    return;
  book_take(s->b, worksheet_set_column_pixels(s->ws, (lxw_col_t)first, (lxw_col_t)last, (uint32_t)px, NULL));
  for (int c = first; c <= last && c < SHEET_COLS_MAX; c++)
    s->width[c] = px / 7.0; /* one character of the default font is 7 pixels */
}

void sheet_row_height(struct sheet *s, int row, double points)
{
  if (s->b->error != LXW_NO_ERROR)
    return;
  while (s->n_rows <= (size_t)row) {
    if (pw_arena_grow(s->b->view->arena, &s->height, &s->cap_rows, s->n_rows, sizeof *s->height) < 0) {
      book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
      return;
    }
    s->height[s->n_rows++] = 0;
  }
  if (s->height[row] < points)
    s->height[row] = points;
}

void sheet_break(struct sheet *s, int row)
{
  if (s->n_breaks < BREAKS_MAX && row > 0)
    s->breaks[s->n_breaks++] = (lxw_row_t)row;
}

/** Lines a text takes in `width` characters of the style's size; words stay whole. */
static int lines_needed(const char *text, double width, const struct look *k)
{
  double per_char = k->points / 11.0 * (k->is_bold ? 1.06 : 0.98), room = width - 1.0, used = 0;
  int lines = 1;
  if (room < 1)
    room = 1;
  for (const char *p = text; *p;) {
    size_t n = strcspn(p, " \n");
    char word[256];
    snprintf(word, sizeof word, "%.*s", (int)(n < 250 ? n : 250), p);
    double w = pw_text_width(word) * per_char;
    if (used > 0 && used + per_char + w > room) {
      lines++;
      used = 0;
    }
    used += (used > 0 ? per_char : 0) + w;
    while (used > room) {
      lines++;
      used -= room;
    }
    p += n;
    if (*p == '\n') {
      lines++;
      used = 0;
    }
    if (*p)
      p++;
  }
  return lines;
}

int text_lines(const struct sheet *s, int c0, int c1, const char *text, enum style style)
{
  double width = 0;
  for (int c = c0; c <= c1 && c < SHEET_COLS_MAX; c++)
    width += s->width[c];
  return lines_needed(text, width, &looks[style]);
}

const char *text_fitting(const struct sheet *s, int c0, int c1, int max_lines, const char *const *texts, int n, enum style style)
{
  for (int i = 0; i + 1 < n; i++)
    if (text_lines(s, c0, c1, texts[i], style) <= max_lines)
      return texts[i];
  return texts[n - 1];
}

double page_points(const struct book *b, bool is_landscape, double width_px)
{
  bool is_a4 = b->ev->paper == PW_PAPER_A4;
  double short_in = is_a4 ? 210 / 25.4 : 8.5, long_in = is_a4 ? 297 / 25.4 : 11; /* ISO 216; ANSI/ASME Y14.1 */
  double wide_pt = ((is_landscape ? long_in : short_in) - MARGIN_IN - MARGIN_IN) * 72;
  double high_pt = ((is_landscape ? short_in : long_in) - MARGIN_IN - MARGIN_FOOT_IN) * 72;
  double sheet_pt = width_px * 0.75;
  return high_pt * (sheet_pt > wide_pt ? sheet_pt / wide_pt : 1) * 0.97;
}

static void row_fit(struct sheet *s, int row, double width, const char *text, enum style style)
{
  const struct look *k = &looks[style];
  int lines = k->wraps && !k->rotation ? lines_needed(text, width, k) : 1;
  sheet_row_height(s, row, lines * k->points * 1.22 + (k->points > 10 ? 4.5 : 2.5));
}

static const char *gate(struct sheet *s, const char *text)
{
  char *safe = pw_text_xlsx_cell(s->b->view->arena, text ? text : "");
  if (!safe)
    book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  return safe ? safe : "";
}

void put_text(struct sheet *s, int row, int col, const char *text, enum style style)
{
  if (is_dead(s))
    return;
  const char *safe = gate(s, text);
  row_fit(s, row, s->width[col], safe, style);
  if (safe[0])
    book_take(s->b, worksheet_write_string(s->ws, (lxw_row_t)row, (lxw_col_t)col, safe, s->b->style[style]));
  else
    put_blank(s, row, col, style);
}

void put_number(struct sheet *s, int row, int col, double value, enum style style)
{
  if (is_dead(s))
    return;
  sheet_row_height(s, row, looks[style].points * 1.22 + 4.5);
  if (!isfinite(value))
    put_text(s, row, col, "?", style);
  else
    book_take(s->b, worksheet_write_number(s->ws, (lxw_row_t)row, (lxw_col_t)col, value, s->b->style[style]));
}

void put_money(struct sheet *s, int row, int col, pw_cents cents, enum style style)
{
  put_number(s, row, col, (double)cents / s->b->money_unit, style);
}

void put_blank(struct sheet *s, int row, int col, enum style style)
{
  if (!is_dead(s))
    book_take(s->b, worksheet_write_blank(s->ws, (lxw_row_t)row, (lxw_col_t)col, s->b->style[style]));
}

void put_formula(struct sheet *s, int row, int col, const char *formula, double value, enum style style)
{
  if (is_dead(s))
    return;
  if (!isfinite(value)) {
    book_take(s->b, LXW_ERROR_PARAMETER_VALIDATION);
    return;
  }
  sheet_row_height(s, row, looks[style].points * 1.22 + 4.5);
  book_take(s->b, worksheet_write_formula_num(s->ws, (lxw_row_t)row, (lxw_col_t)col, formula, s->b->style[style], value));
}

void put_merged(struct sheet *s, int r0, int c0, int r1, int c1, const char *text, enum style style)
{
  if (is_dead(s))
    return;
  if (r0 == r1 && c0 == c1) {
    put_text(s, r0, c0, text, style);
    return;
  }
  double width = 0;
  for (int c = c0; c <= c1 && c < SHEET_COLS_MAX; c++)
    width += s->width[c];
  const char *safe = gate(s, text);
  if (r0 == r1)
    row_fit(s, r0, width, safe, style);
  book_take(s->b, worksheet_merge_range(s->ws, (lxw_row_t)r0, (lxw_col_t)c0, (lxw_row_t)r1, (lxw_col_t)c1, safe, s->b->style[style]));
}

void put_heads(struct sheet *s, int row, const char *const *heads, int n)
{
  for (int c = 0; c < n; c++)
    put_text(s, row, c, heads[c], ST_HEAD);
}

void sheet_title(struct sheet *s, const char *title, const char *subtitle, int last_col)
{
  put_merged(s, 0, 0, 0, last_col, title, ST_TITLE);
  put_merged(s, 1, 0, 1, last_col, subtitle, ST_SUBTITLE);
  sheet_row_height(s, 0, 28);
  s->row = 3;
}

static const char *name_of(struct book *b, int row, int col, const char *fixed)
{
  char letters[8];
  int n = 0;
  for (int c = col + 1; c > 0; c = (c - 1) / 26)
    letters[n++] = (char)('A' + (c - 1) % 26);
  for (int i = 0; i < n / 2; i++) {
    char swap = letters[i];
    letters[i] = letters[n - 1 - i];
    letters[n - 1 - i] = swap;
  }
  letters[n] = '\0';
  return pw_view_printf(b->view, "%s%s%s%d", fixed, letters, fixed, row + 1);
}

const char *cell_name(struct book *b, int row, int col) { return name_of(b, row, col, ""); }
const char *cell_name_fixed(struct book *b, int row, int col) { return name_of(b, row, col, "$"); }
