/* xlsx_grid.c - lays the owner's sheets (sheet/grid.h) out in the workbook, row by row: a cell's role is its look (xlsx_style.c), and
 * nothing is known of what any sheet says. */
#include "sheet/grid.h"
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"

#include <math.h>

/* A number that has no decimals is shown without a point. */
static bool is_whole(const struct pw_grid_cell *cell)
{
  return cell->role == PW_G_NUMBER && fabs(cell->value - round(cell->value)) < 0.005;
}

static void cell_write(struct sheet *s, int r, int c, const struct pw_grid_cell *cell)
{
  int style = (int)cell->role;
  if (cell->formula && cell->text)
    pw_put_formula_text(s, r, c, cell->formula, cell->text, style);
  else if (cell->formula)
    pw_put_formula(s, r, c, cell->formula, cell->value, style);
  else if (cell->texts)
    pw_put_merged(s, r, c, r + cell->down, c + cell->over,
                  pw_text_fitting(s, c, c + cell->over, cell->lines, cell->texts, style), style);
  else if (cell->text)
    pw_put_merged(s, r, c, r + cell->down, c + cell->over, cell->text, style);
  else
    pw_put_number(s, r, c, cell->value, is_whole(cell) ? PW_G_COUNT : style);
}

static void row_write(struct sheet *s, const struct pw_grid *grid, int r)
{
  const struct pw_grid_row *row = &grid->rows[r];
  for (int i = 0, c = 0; i < row->n_cells; c += 1 + row->cells[i++].over) {
    if (row->cells[i].role != PW_G_SKIP)
      cell_write(s, r, c, &row->cells[i]);
    if (row->cells[i].name)
      pw_book_name(s->b, row->cells[i].name, grid->name, r, c);
  }
  if (row->points > 0)
    pw_sheet_row_height(s, r, row->points);
  if (row->keeps)
    pw_sheet_keep(s, r);
  if (row->is_page_start)
    pw_sheet_break(s, r);
}

static void spot_write(struct sheet *s, const struct pw_grid_spot *spot)
{
  const struct pw_grid_cell *cell = &spot->cell;
  int r = spot->row, c = spot->col, last = c + cell->over;
  if (!cell->texts) {
    if (spot->edges)
      pw_put_edges(s, r, c, spot->edges);
    else
      pw_put_blank(s, r, c, (int)cell->role);
    return;
  }
  int role = (int)cell->role, n = 0;
  while (cell->texts[n + 1])
    n++;
  const char *text = pw_text_fitting(s, c, last, cell->lines < 1 ? 1 : cell->lines, cell->texts, role);
  bool has_room = cell->lines >= 1 && (text != cell->texts[n] || pw_text_lines(s, c, last, text, role) == 1);
  pw_put_block(s, r, c, r + cell->down, last, text, has_room ? role : (int)spot->small);
}

static void table_write(struct sheet *s, const struct pw_grid *grid, const struct pw_grid_table *table)
{
  const struct pw_grid_row *row = &grid->rows[table->head];
  const char **heads = pw_arena_array(s->b->view->arena, (size_t)row->n_cells + 1, sizeof *heads);
  if (!heads) {
    pw_book_take(s->b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  for (int c = 0; c < row->n_cells; c++)
    heads[c] = row->cells[c].text;
  pw_sheet_table(s, table->head, 0, table->last, heads, row->n_cells);
}

static const char *range(struct book *b, const struct pw_grid *grid, int r0, int r1, int col)
{
  return pw_view_printf(b->view, "='%s'!%s:%s", grid->name, pw_cell_name_fixed(b, r0, col),
                        pw_cell_name_fixed(b, r1, col));
}

/** One line a column; without colour they differ by dash. */
static void chart_write(struct sheet *s, const struct pw_grid *grid)
{
  static const uint8_t dashes[] = {LXW_CHART_LINE_DASH_SOLID,     LXW_CHART_LINE_DASH_DASH,
                                   LXW_CHART_LINE_DASH_ROUND_DOT, LXW_CHART_LINE_DASH_DASH_DOT,
                                   LXW_CHART_LINE_DASH_LONG_DASH, LXW_CHART_LINE_DASH_LONG_DASH_DOT};
  static const lxw_color_t inks[] = {0x1A1A1A, 0xA0522D, 0x2B6A8F, 0x6B8E23, 0x7A4E8A, 0x8C7A3A};
  const struct pw_grid_chart *k = &grid->chart;
  struct book *b = s->b;
  lxw_chart *chart = b->error == LXW_NO_ERROR && s->ws ? workbook_add_chart(b->wb, LXW_CHART_LINE) : NULL;
  for (int i = 0; chart && i < k->n; i++) {
    const char *where = range(b, grid, k->head + 1, k->last, 0), *values = range(b, grid, k->head + 1, k->last, i + 1),
               *name = pw_view_printf(b->view, "='%s'!%s", grid->name, pw_cell_name_fixed(b, k->head, i + 1));
    /* the library would read a range cut short as a very long one */
    lxw_chart_series *line = b->view->failed ? NULL : chart_add_series(chart, where, values);
    if (!line) {
      pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
      return;
    }
    lxw_chart_line look = {.color = inks[i % 6], .width = 1.75f, .dash_type = dashes[i % 6]};
    chart_series_set_line(line, &look);
    chart_series_set_marker_type(line, LXW_CHART_MARKER_NONE);
    chart_series_set_name(line, name);
  }
  if (!chart)
    return;
  lxw_chart_options options = {
      .x_scale = 1.42, .y_scale = 1.1, .description = pw_arena_strdup(b->view->arena, k->about)};
  if (!options.description)
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  chart_title_set_name(chart, k->title);
  chart_legend_set_position(chart, LXW_CHART_LEGEND_BOTTOM);
  chart_axis_set_max(chart->y_axis, 1);
  chart_axis_set_min(chart->y_axis, 0);
  chart_axis_set_num_format(chart->y_axis, "0 %");
  chart_axis_set_interval_unit(chart->x_axis, 2);
  pw_book_take(b, worksheet_insert_chart_opt(s->ws, (lxw_row_t)k->row, 0, chart, &options));
}

void pw_xlsx_grid_write(struct book *b, const struct pw_grid *grid)
{
  struct sheet s;
  pw_sheet_open(b, &s, grid->name, grid->is_landscape);
  s.is_on_screen_only = !grid->is_printed;
  s.least_scale = grid->least_scale;
  s.is_tight = grid->is_tight;
  s.print_rows = grid->print_rows;
  for (int c = 0, next; grid->is_px && c < grid->n_columns; c = next) {
    for (next = c + 1; next < grid->n_columns && grid->widths[next] == grid->widths[c]; next++)
      ;
    pw_sheet_columns_px(&s, c, next - 1, (int)grid->widths[c]);
  }
  if (!grid->is_px)
    pw_sheet_columns(&s, grid->widths, grid->n_columns);
  for (int r = 0; r < grid->n_rows && b->error == LXW_NO_ERROR; r++)
    row_write(&s, grid, r);
  for (int i = 0; i < grid->n_spots && b->error == LXW_NO_ERROR; i++)
    spot_write(&s, &grid->spots[i]);
  for (int i = 0; i < grid->n_tables; i++)
    table_write(&s, grid, &grid->tables[i]);
  for (const struct pw_grid_limits *l = grid->limits; l < grid->limits + grid->n_limits; l++) {
    if (l->words)
      pw_allow_words(&s, l->r0, l->c0, l->r1, l->c1, l->words);
    else
      pw_allow_numbers(&s, l->r0, l->c0, l->r1, l->c1, l->low, l->high, l->is_whole);
  }
  if (grid->chart.about && grid->chart.n > 0 && grid->chart.last > grid->chart.head)
    chart_write(&s, grid);
  if (grid->stay_row != PW_NONE)
    pw_sheet_head_row(&s, grid->stay_row, grid->stay_cols);
  else if (grid->stay_cols > 0 && s.ws)
    worksheet_freeze_panes(s.ws, 0, (lxw_col_t)grid->stay_cols);
  if (grid->is_protected)
    pw_sheet_protect(&s);
  pw_sheet_close(&s);
}
