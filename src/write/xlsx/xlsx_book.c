/* xlsx_book.c - sheets, cells, heights and pages of the workbook.
 * Idea: every row has an explicit height, so that the pages can be worked out here and break the same way in every
 * program. */
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "base/text.h"
#include "sheet/words.h"

#include <errno.h>
#include <math.h>
#include <string.h>

#define MARGIN_IN      0.4  /* left, right, top of each page */
#define MARGIN_FOOT_IN 0.6  /* bottom, holds the footer */
#define DEFAULT_ROW_PT 15.0 /* height of a row nobody set, as the format has it */
#define TIGHT_PT       2
#define FONT_SLACK                                                                                                     \
  1.06 /* a digit of the font is 5.56 points wide, 7 pixels are 5.25: some programs round, some do not */

/* The library merges cells and says nothing of a text for which memory was lacking: errno is the only sign, and it is looked
 * at before anything else can write over it. */
void pw_book_take(struct book *b, lxw_error error)
{
  if (b->error == LXW_NO_ERROR)
    b->error = error == LXW_NO_ERROR && errno == ENOMEM ? LXW_ERROR_MEMORY_MALLOC_FAILED : error;
}

static bool is_dead(const struct sheet *s) { return s->b->error != LXW_NO_ERROR || !s->ws; }

void pw_book_start(struct book *b)
{
  pw_styles_make(b);
  const char *name = pw_text_xlsx_header(b->view->arena, b->ev->name, 60);
  if (!name) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  const char *edition = b->plan->day ? pw_view_printf(b->view, "; %s", pw_words_edition(b->plan).s) : "";
  b->footer =
      pw_view_printf(b->view, "&L&\"" XLSX_FONT ",Regular\"&9%s, %s%s&R&9pitwright " PW_VERSION ", &A, page &P of &N",
                     name, pw_view_date(b->view, b->ev->date), edition);
}

/* ---- sheets ------------------------------------------------------------------------------------- */

void pw_sheet_open(struct book *b, struct sheet *s, const char *name, bool is_landscape)
{
  memset(s, 0, sizeof *s);
  s->b = b;
  s->head_row = PW_NONE;
  s->is_landscape = is_landscape;
  s->is_on_screen_only = true;
  s->least_scale = 1;
  if (b->error != LXW_NO_ERROR)
    return;
  s->ws = workbook_add_worksheet(b->wb, name);
  if (!s->ws) {
    pw_book_take(b, LXW_ERROR_PARAMETER_VALIDATION);
    return;
  }
  worksheet_set_paper(s->ws,
                      b->ev->paper == PW_PAPER_A4 ? 9 : 1); /* ST_PaperSize of ECMA-376 18.18.50: 1 Letter, 9 A4 */
  if (is_landscape)
    worksheet_set_landscape(s->ws);
  else
    worksheet_set_portrait(s->ws);
  worksheet_set_margins(s->ws, MARGIN_IN, MARGIN_IN, MARGIN_IN, MARGIN_FOOT_IN);
  worksheet_fit_to_pages(s->ws, 1, 0);
  worksheet_gridlines(s->ws, LXW_HIDE_ALL_GRIDLINES);
  pw_book_take(b, worksheet_set_footer(s->ws, b->footer));
  for (int c = 0; c < SHEET_COLS_MAX; c++)
    s->width[c] = 8.43; /* the format's default column width */
}

static double row_points(const struct sheet *s, size_t r)
{
  return s->rows[r].is_hidden ? 0 : s->rows[r].points > 0 ? s->rows[r].points : DEFAULT_ROW_PT;
}

/** Scale, 1 or less, with which columns of `width_px` fit the page. */
static double print_scale(const struct book *b, bool is_landscape, double width_px)
{
  bool is_a4 = b->ev->paper == PW_PAPER_A4;
  double short_in = is_a4 ? 210 / 25.4 : 8.5, long_in = is_a4 ? 297 / 25.4 : 11; /* ISO 216; ANSI/ASME Y14.1 */
  double wide_pt = ((is_landscape ? long_in : short_in) - MARGIN_IN - MARGIN_IN) * 72,
         sheet_pt = width_px * 0.75 * FONT_SLACK;
  return sheet_pt > wide_pt ? floor(wide_pt / sheet_pt * 100) / 100 : 1;
}

static double page_points(const struct book *b, bool is_landscape, double width_px)
{
  bool is_a4 = b->ev->paper == PW_PAPER_A4;
  double high_in = is_landscape ? (is_a4 ? 210 / 25.4 : 8.5) : (is_a4 ? 297 / 25.4 : 11);
  return (high_in - MARGIN_IN - MARGIN_FOOT_IN) * 72 / print_scale(b, is_landscape, width_px) * 0.97;
}

static size_t printed_rows(const struct sheet *s) { return s->print_rows > 0 ? (size_t)s->print_rows : s->n_rows; }

/** Starts pages where the one before is full.  Returns the number of pages. */
static int pages_flow(struct sheet *s, double page_pt)
{
  double head_pt = s->head_row == PW_NONE ? 0 : row_points(s, (size_t)s->head_row), used = 0;
  size_t start = 0;
  int n = 1;
  for (size_t r = 0; r < printed_rows(s); r++)
    s->rows[r].is_full_before = false;
  for (size_t r = 0; r < printed_rows(s); r++) {
    if (s->rows[r].is_page_start && r > 0) {
      used = head_pt;
      start = r;
      n++;
    }
    used += row_points(s, r);
    if (used <= page_pt || r == start)
      continue;
    size_t at = r;
    while (at > start + 1 && s->rows[at - 1].keeps_with_next)
      at--;
    if (at == start + 1 && s->rows[start].keeps_with_next)
      at = r;
    s->rows[at].is_full_before = true;
    start = at;
    n++;
    used = head_pt;
    for (size_t k = at; k <= r; k++)
      used += row_points(s, k);
  }
  return n;
}

/** Scale in hundredths, down to the sheet's least: the largest print for the fewest pages, whose breaks are then set. */
static double scale_choose(struct sheet *s, double width_px)
{
  enum { STEP = 2, PER = 100 };
  double own = print_scale(s->b, s->is_landscape, width_px), page_pt = page_points(s->b, s->is_landscape, width_px);
  int best = (int)floor(own * PER + 1e-9), least = pages_flow(s, page_pt);
  for (int at = best - STEP; at >= (int)ceil(s->least_scale * PER - 1e-9); at -= STEP) {
    int pages = pages_flow(s, page_pt * own * PER / at);
    best = pages < least ? at : best;
    least = pages < least ? pages : least;
  }
  (void)pages_flow(s, page_pt * own * PER / best);
  return (double)best / PER;
}

/** Where the printed part breaks, and its scale: by an empty column at its side, so that a program that prints with wider type still fits
 *  the page's width; one that is told a number of pages or a scale heeds no breaks, or cuts columns off. */
static void print_set_up(struct sheet *s)
{
  int width_px = 0, last_col = s->last_col, n_breaks = 0;
  lxw_row_t breaks[BREAKS_MAX + 1] = {0};
  for (int c = 0; c <= last_col; c++)
    width_px += s->px[c];
  int beside_px = (int)(width_px * (print_scale(s->b, s->is_landscape, width_px) / scale_choose(s, width_px) - 1));
  if (beside_px > 0)
    pw_sheet_columns_px(s, last_col + 1, last_col + 1, beside_px);
  if (printed_rows(s) > 0)
    pw_book_take(s->b, worksheet_print_area(s->ws, 0, 0, (lxw_row_t)printed_rows(s) - 1,
                                            (lxw_col_t)(last_col + (beside_px > 0))));
  worksheet_center_horizontally(s->ws);
  for (size_t r = 1; r < printed_rows(s); r++)
    if ((s->rows[r].is_page_start || s->rows[r].is_full_before) && n_breaks < BREAKS_MAX)
      breaks[n_breaks++] = (lxw_row_t)r;
  if (n_breaks > 0)
    pw_book_take(s->b, worksheet_set_h_pagebreaks(s->ws, breaks));
}

void pw_sheet_close(struct sheet *s)
{
  if (is_dead(s))
    return;
  if (s->is_on_screen_only) /* an area with nothing in it: no page comes of it */
    pw_book_take(s->b, worksheet_print_area(s->ws, (lxw_row_t)s->n_rows + 1, SHEET_COLS_MAX, (lxw_row_t)s->n_rows + 1,
                                            SHEET_COLS_MAX));
  else
    print_set_up(s);
  for (size_t r = 0; r < s->n_rows && !is_dead(s); r++) {
    lxw_row_col_options options = {.hidden = s->rows[r].is_hidden ? LXW_TRUE : LXW_FALSE};
    if (s->rows[r].points > 0)
      pw_book_take(s->b, worksheet_set_row_opt(s->ws, (lxw_row_t)r, s->rows[r].points > 409 ? 409 : s->rows[r].points,
                                               NULL, &options)); /* the format's limit */
  }
}

void pw_sheet_columns(struct sheet *s, const double *widths, int n)
{
  for (int c = 0; c < n && !is_dead(s); c++) {
    s->width[c] = widths[c];
    s->px[c] = (int)(widths[c] * 7 + 5.5); /* 7 pixels a character and 5 of padding: ECMA-376 18.3.1.13 */
    s->last_col = c > s->last_col ? c : s->last_col;
    pw_book_take(s->b, worksheet_set_column(s->ws, (lxw_col_t)c, (lxw_col_t)c, widths[c], NULL));
  }
}

void pw_sheet_columns_px(struct sheet *s, int first, int last, int px)
{
  if (is_dead(s))
    return;
  pw_book_take(s->b, worksheet_set_column_pixels(s->ws, (lxw_col_t)first, (lxw_col_t)last, (uint32_t)px, NULL));
  for (int c = first; c <= last && c < SHEET_COLS_MAX; c++) {
    s->width[c] = px / 7.0; /* one character of the default font is 7 pixels */
    s->px[c] = px;
  }
  s->last_col = last > s->last_col ? last : s->last_col;
}

/** The row's look, the rows before it made as need be; NULL when memory is out. */
static struct row_look *row_look(struct sheet *s, int row)
{
  if (s->b->error != LXW_NO_ERROR)
    return NULL;
  while (s->n_rows <= (size_t)row) {
    if (pw_arena_grow(s->b->view->arena, &s->rows, &s->cap_rows, s->n_rows, sizeof *s->rows) < 0) {
      pw_book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
      return NULL;
    }
    s->rows[s->n_rows++] = (struct row_look){0};
  }
  return &s->rows[row];
}

void pw_sheet_row_height(struct sheet *s, int row, double points)
{
  struct row_look *look = row_look(s, row);
  if (look && look->points < points)
    look->points = points;
}

void pw_sheet_keep(struct sheet *s, int row)
{
  struct row_look *look = row_look(s, row);
  if (look)
    look->keeps_with_next = true;
}

void pw_sheet_break(struct sheet *s, int row)
{
  struct row_look *look = row > 0 ? row_look(s, row) : NULL;
  if (look)
    look->is_page_start = true;
}

int pw_text_lines(const struct sheet *s, int c0, int c1, const char *text, int style)
{
  double width = 0;
  for (int c = c0; c <= c1 && c < SHEET_COLS_MAX; c++)
    width += s->width[c];
  return pw_lines_needed(text, width, style);
}

const char *pw_text_fitting(const struct sheet *s, int c0, int c1, int max_lines, const char *const *texts, int style)
{
  while (texts[1] && pw_text_lines(s, c0, c1, texts[0], style) > max_lines)
    texts++;
  return texts[0];
}

/** Points of height a row of so many lines takes in a style. */
static double lines_points(int lines, int style)
{
  double points = pw_style_points(style);
  return lines * points * 1.22 + (points > 10 ? 4.5 : 2.5);
}

static void row_fit(struct sheet *s, int row, double width, const char *text, int style)
{
  double points = lines_points(pw_style_wraps(style) ? pw_lines_needed(text, width, style) : 1, style);
  pw_sheet_row_height(s, row, points - (s->is_tight ? TIGHT_PT : 0));
}

/** What a cell may hold; a line must not end between a number and its degrees. */
static const char *gate(struct sheet *s, const char *text)
{
  const char *safe = pw_text_xlsx_cell(s->b->view->arena, text ? text : "");
  if (!safe)
    pw_book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  for (const char *degree; safe && (degree = strstr(safe, " \xC2\xB0")) != NULL;)
    safe = pw_view_printf(s->b->view, "%.*s\xC2\xA0%s", (int)(degree - safe), safe, degree + 1);
  return safe ? safe : "";
}

void pw_put_text(struct sheet *s, int row, int col, const char *text, int style)
{
  if (is_dead(s))
    return;
  const char *safe = gate(s, text);
  row_fit(s, row, s->width[col], safe, style);
  if (safe[0])
    pw_book_take(s->b, worksheet_write_string(s->ws, (lxw_row_t)row, (lxw_col_t)col, safe, s->b->style[style]));
  else
    pw_put_blank(s, row, col, style);
}

void pw_put_number(struct sheet *s, int row, int col, double value, int style)
{
  if (is_dead(s))
    return;
  row_fit(s, row, s->width[col], "", style);
  if (!isfinite(value))
    pw_put_text(s, row, col, "?", style);
  else
    pw_book_take(s->b, worksheet_write_number(s->ws, (lxw_row_t)row, (lxw_col_t)col, value, s->b->style[style]));
}

void pw_put_blank(struct sheet *s, int row, int col, int style)
{
  if (!is_dead(s))
    pw_book_take(s->b, worksheet_write_blank(s->ws, (lxw_row_t)row, (lxw_col_t)col, s->b->style[style]));
}

void pw_put_formula(struct sheet *s, int row, int col, const char *formula, double value, int style)
{
  if (is_dead(s))
    return;
  if (!isfinite(value)) {
    pw_book_take(s->b, LXW_ERROR_PARAMETER_VALIDATION);
    return;
  }
  row_fit(s, row, s->width[col], "", style);
  pw_book_take(s->b,
               worksheet_write_formula_num(s->ws, (lxw_row_t)row, (lxw_col_t)col, formula, s->b->style[style], value));
}

void pw_put_formula_text(struct sheet *s, int row, int col, const char *formula, const char *text, int style)
{
  if (!is_dead(s))
    pw_book_take(s->b, worksheet_write_formula_str(s->ws, (lxw_row_t)row, (lxw_col_t)col, formula, s->b->style[style],
                                                   gate(s, text)));
}

void pw_put_merged(struct sheet *s, int r0, int c0, int r1, int c1, const char *text, int style)
{
  if (is_dead(s))
    return;
  if (r0 == r1 && c0 == c1) {
    pw_put_text(s, r0, c0, text, style);
    return;
  }
  double width = 0;
  for (int c = c0; c <= c1 && c < SHEET_COLS_MAX; c++)
    width += s->width[c];
  const char *safe = gate(s, text);
  if (r0 == r1)
    row_fit(s, r0, width, safe, style);
  pw_book_take(s->b, worksheet_merge_range(s->ws, (lxw_row_t)r0, (lxw_col_t)c0, (lxw_row_t)r1, (lxw_col_t)c1, safe,
                                           s->b->style[style]));
}

void pw_put_amount(struct sheet *s, int row, int c0, int c1, double value, int decimals, const char *unit, int style)
{
  if (is_dead(s))
    return;
  row_fit(s, row, s->width[c0], "", style);
  lxw_format *format = pw_style_amount(s->b, style, decimals, unit);
  if (c1 > c0 && !is_dead(s))
    pw_book_take(
        s->b, worksheet_merge_range(s->ws, (lxw_row_t)row, (lxw_col_t)c0, (lxw_row_t)row, (lxw_col_t)c1, "", format));
  if (!is_dead(s))
    pw_book_take(s->b, worksheet_write_number(s->ws, (lxw_row_t)row, (lxw_col_t)c0, value, format));
}

void pw_warn_below(struct sheet *s, int r0, int r1, int col, const char *limit)
{
  if (is_dead(s) || r1 < r0)
    return;
  const char *cell = pw_cell_name(s->b, r0, col);
  lxw_conditional_format rule = {.type = LXW_CONDITIONAL_TYPE_FORMULA,
                                 .value_string =
                                     pw_arena_printf(s->b->view->arena, "=AND(ISNUMBER(%s),%s<%s)", cell, cell, limit),
                                 .format = pw_style_struck(s->b)};
  if (!rule.format || !rule.value_string)
    pw_book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  else
    pw_book_take(s->b, worksheet_conditional_format_range(s->ws, (lxw_row_t)r0, (lxw_col_t)col, (lxw_row_t)r1,
                                                          (lxw_col_t)col, &rule));
}

void pw_put_block(struct sheet *s, int r0, int c0, int r1, int c1, const char *text, int style)
{
  if (is_dead(s))
    return;
  const char *safe = gate(s, text);
  if (r0 == r1 && c0 == c1)
    pw_book_take(s->b, worksheet_write_string(s->ws, (lxw_row_t)r0, (lxw_col_t)c0, safe, s->b->style[style]));
  else
    pw_book_take(s->b, worksheet_merge_range(s->ws, (lxw_row_t)r0, (lxw_col_t)c0, (lxw_row_t)r1, (lxw_col_t)c1, safe,
                                             s->b->style[style]));
}

void pw_put_edges(struct sheet *s, int row, int col, int edges)
{
  lxw_format *look = is_dead(s) ? NULL : pw_style_edges(s->b, edges);
  if (look)
    pw_book_take(s->b, worksheet_write_blank(s->ws, (lxw_row_t)row, (lxw_col_t)col, look));
}

void pw_put_bold_and_plain(struct sheet *s, int row, int c0, int c1, const char *bold, const char *plain,
                           int bold_style, int style)
{
  if (!bold[0] || !plain[0]) {
    pw_put_merged(s, row, c0, row, c1, bold[0] ? bold : plain, bold[0] ? bold_style : style);
    return;
  }
  if (is_dead(s))
    return;
  char *a = pw_text_xlsx_cell(s->b->view->arena, pw_view_printf(s->b->view, "%s ", bold)),
       *b = pw_text_xlsx_cell(s->b->view->arena, plain);
  if (!a || !b) {
    pw_book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  double width = 0;
  for (int c = c0; c <= c1 && c < SHEET_COLS_MAX; c++)
    width += s->width[c];
  row_fit(s, row, width, pw_view_printf(s->b->view, "%s%s", a, b), bold_style);
  if (c1 > c0)
    pw_book_take(s->b, worksheet_merge_range(s->ws, (lxw_row_t)row, (lxw_col_t)c0, (lxw_row_t)row, (lxw_col_t)c1, "",
                                             s->b->style[style]));
  lxw_rich_string_tuple parts[] = {{s->b->style[bold_style], a}, {s->b->style[style], b}},
                        *list[] = {&parts[0], &parts[1], NULL};
  if (!is_dead(s) && a[0] && b[0])
    pw_book_take(s->b, worksheet_write_rich_string(s->ws, (lxw_row_t)row, (lxw_col_t)c0, list, s->b->style[style]));
}

void pw_sheet_filter(struct sheet *s, int head_row, int c0, int last_row, int c1)
{
  if (!is_dead(s) && last_row > head_row)
    pw_book_take(s->b,
                 worksheet_autofilter(s->ws, (lxw_row_t)head_row, (lxw_col_t)c0, (lxw_row_t)last_row, (lxw_col_t)c1));
}

void pw_sheet_filter_word(struct sheet *s, int col, const char *word)
{
  char text[32]; /* the library copies it */
  snprintf(text, sizeof text, "%s", word);
  lxw_filter_rule rule = {.criteria = LXW_FILTER_CRITERIA_EQUAL_TO, .value_string = text};
  if (!is_dead(s))
    pw_book_take(s->b, worksheet_filter_column(s->ws, (lxw_col_t)col, &rule));
}

void pw_sheet_hide(struct sheet *s, int row)
{
  struct row_look *look = row_look(s, row);
  if (look)
    look->is_hidden = true;
}

void pw_sheet_table(struct sheet *s, int head_row, int c0, int last_row, const char *const *heads, int n)
{
  enum { COLS_MAX = 24 };
  lxw_table_column columns[COLS_MAX] = {{0}}, *list[COLS_MAX + 1] = {NULL};
  if (is_dead(s) || n > COLS_MAX)
    return;
  for (int c = 0; c < n; c++) { /* the library copies the texts */
    pw_put_text(s, head_row, c0 + c, heads[c], PW_G_HEAD);
    columns[c].header = pw_arena_strdup(s->b->view->arena, heads[c]);
    columns[c].header_format = s->b->style[PW_G_HEAD];
    list[c] = &columns[c];
    if (!columns[c].header)
      pw_book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  }
  pw_sheet_keep(s, head_row);
  if (is_dead(s) || last_row <= head_row)
    return;
  lxw_table_options options = {
      .columns = list, .style_type = LXW_TABLE_STYLE_TYPE_LIGHT, .style_type_number = 0, .no_banded_rows = LXW_TRUE};
  pw_book_take(s->b, worksheet_add_table(s->ws, (lxw_row_t)head_row, (lxw_col_t)c0, (lxw_row_t)last_row,
                                         (lxw_col_t)(c0 + n - 1), &options));
}

void pw_book_name(struct book *b, const char *name, const char *sheet, int row, int col)
{
  if (b->error == LXW_NO_ERROR)
    pw_book_take(b, workbook_define_name(b->wb, name,
                                         pw_view_printf(b->view, "='%s'!%s", sheet, pw_cell_name_fixed(b, row, col))));
}

void pw_sheet_protect(struct sheet *s)
{
  lxw_protection options = {.format_columns = LXW_TRUE,
                            .format_rows = LXW_TRUE,
                            .format_cells = LXW_TRUE,
                            .autofilter = LXW_TRUE,
                            .sort = LXW_TRUE};
  if (!is_dead(s))
    worksheet_protect(s->ws, NULL, &options);
}

void pw_allow_numbers(struct sheet *s, int r0, int c0, int r1, int c1, double low, double high, bool is_whole)
{
  char title[] = "Not possible";
  lxw_data_validation rule = {.validate = is_whole ? LXW_VALIDATION_TYPE_INTEGER : LXW_VALIDATION_TYPE_DECIMAL,
                              .criteria = LXW_VALIDATION_CRITERIA_BETWEEN,
                              .minimum_number = low,
                              .maximum_number = high,
                              .error_title = title};
  char message[128];
  snprintf(message, sizeof message, "A %snumber from %.15g to %.15g goes here.", is_whole ? "whole " : "", low, high);
  rule.error_message = message;
  if (!is_dead(s))
    pw_book_take(s->b, worksheet_data_validation_range(s->ws, (lxw_row_t)r0, (lxw_col_t)c0, (lxw_row_t)r1,
                                                       (lxw_col_t)c1, &rule));
}

void pw_allow_words(struct sheet *s, int r0, int c0, int r1, int c1, const char *const *words)
{
  enum { WORDS_MAX = 8 };
  char *list[WORDS_MAX + 1] = {NULL}; /* the library copies them */
  for (int i = 0; i < WORDS_MAX && words[i] && !is_dead(s); i++)
    if (!(list[i] = pw_arena_strdup(s->b->view->arena, words[i])))
      pw_book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  lxw_data_validation rule = {.validate = LXW_VALIDATION_TYPE_LIST, .value_list = list};
  if (!is_dead(s))
    pw_book_take(s->b, worksheet_data_validation_range(s->ws, (lxw_row_t)r0, (lxw_col_t)c0, (lxw_row_t)r1,
                                                       (lxw_col_t)c1, &rule));
}

void pw_sheet_head_row(struct sheet *s, int row, int cols)
{
  if (is_dead(s))
    return;
  s->head_row = row;
  worksheet_freeze_panes(s->ws, (lxw_row_t)row + 1, (lxw_col_t)cols);
  pw_book_take(s->b, worksheet_repeat_rows(s->ws, (lxw_row_t)row, (lxw_row_t)row));
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

const char *pw_cell_name(struct book *b, int row, int col) { return name_of(b, row, col, ""); }
const char *pw_cell_name_fixed(struct book *b, int row, int col) { return name_of(b, row, col, "$"); }
