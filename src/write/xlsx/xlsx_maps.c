/* xlsx_maps.c - rack maps as cell grids: merged cells for pieces, borders for the rack, to scale, up to three side by side.
 * One map each time something goes on a rack.  Rounding the edges of the pieces to the grid is monotonic, so
 * neighbours do not overlap; a cell is given out once all the same (overlapping merges damage a workbook). */
#include "sheet/view_maps.h"
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)

enum { ALL_COLS = 96, GAP_COLS = 3, MAP_ROWS_MAX = 60, CELL_PX = 7, LABEL_PT = 13 };
enum { UP = 1, DOWN = 2, BEFORE = 4, AFTER = 8, ZONE_LINE = 16, N_MASKS = 32 };

struct maps {
  struct sheet s;
  int cols, beside; /* of a map; how many stand side by side */
  double cell_m;
  const char *cell_text;
  lxw_format *edges[N_MASKS];
  double page_pt;
};

/** One rack as cells. */
struct grid {
  int nx, ny, row0, col0;
  bool *is_taken;
};

static int round_cells(double m, double cell_m) { return (int)floor(m / cell_m + 0.5); }

/** Three maps side by side, two, or one over the whole width: the most whose cells are still small. */
static void scale_choose(struct book *b, struct maps *m, const struct pw_rack *rack)
{
  static const double us_in[] = {1, 1.5, 2, 3, 4, 6, 12}, si_cm[] = {2, 2.5, 4, 5, 6, 10, 30};
  static const double cell_most_m[] = {0, 1, 0.051, 0.041}; /* by maps side by side: 2 in or 5 cm, 1.5 in or 4 cm */
  bool is_us = b->ev->units == PW_UNITS_US;
  for (m->beside = 3;; m->beside--) {
    m->cols = (ALL_COLS - (m->beside - 1) * GAP_COLS) / m->beside;
    for (int i = 0; i < 7; i++) {
      m->cell_m = is_us ? us_in[i] * 0.0254 : si_cm[i] * 0.01;
      m->cell_text = is_us ? TEXT("%g in", us_in[i]) : TEXT("%g cm", si_cm[i]);
      if (round_cells(rack->length_m, m->cell_m) <= m->cols && round_cells(rack->depth_m, m->cell_m) <= MAP_ROWS_MAX)
        break;
    }
    if (m->beside == 1 || (m->cell_m <= cell_most_m[m->beside] && round_cells(rack->length_m, m->cell_m) <= m->cols))
      return;
  }
}

static bool is_inside(const struct pw_rack *rack, const struct grid *g, int x, int y)
{
  if (x < 0 || y < 0 || x >= g->nx || y >= g->ny)
    return false;
  if (rack->outline == PW_RECTANGLE)
    return true;
  double rx = g->nx / 2.0, ry = g->ny / 2.0, dx = (x + 0.5 - rx) / rx, dy = (y + 0.5 - ry) / ry;
  return dx * dx + dy * dy <= 1.0;
}

static lxw_format *edge_format(struct book *b, struct maps *m, int mask)
{
  if (m->edges[mask])
    return m->edges[mask];
  lxw_format *f = workbook_add_format(b->wb);
  if (!f) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return NULL;
  }
  format_set_font_size(f, 6);
  if (mask & UP)
    format_set_top(f, LXW_BORDER_MEDIUM);
  if (mask & DOWN)
    format_set_bottom(f, LXW_BORDER_MEDIUM);
  if (mask & (BEFORE | ZONE_LINE))
    format_set_left(f, mask & BEFORE ? LXW_BORDER_MEDIUM : LXW_BORDER_DASHED);
  if (mask & AFTER)
    format_set_right(f, LXW_BORDER_MEDIUM);
  return m->edges[mask] = f;
}

/** Takes the cells of a rectangle; shrinks it by single cells where another piece has them already. */
static bool cells_take(struct grid *g, int *x0, int *y0, int *x1, int *y1)
{
  for (int tries = 0; tries < 8; tries++) {
    if (*x0 > *x1 || *y0 > *y1)
      return false;
    int hit_x = -1, hit_y = -1;
    for (int y = *y0; y <= *y1 && hit_x < 0; y++)
      for (int x = *x0; x <= *x1 && hit_x < 0; x++)
        if (g->is_taken[y * g->nx + x]) {
          hit_x = x;
          hit_y = y;
        }
    if (hit_x < 0) {
      for (int y = *y0; y <= *y1; y++)
        for (int x = *x0; x <= *x1; x++)
          g->is_taken[y * g->nx + x] = true;
      return true;
    }
    int from_left = hit_x - *x0, from_right = *x1 - hit_x, from_top = hit_y - *y0, from_bottom = *y1 - hit_y;
    int least = from_left;
    least = from_right < least ? from_right : least;
    least = from_top < least ? from_top : least;
    least = from_bottom < least ? from_bottom : least;
    if (least == from_left)
      *x0 = hit_x + 1;
    else if (least == from_right)
      *x1 = hit_x - 1;
    else if (least == from_top)
      *y0 = hit_y + 1;
    else
      *y1 = hit_y - 1;
  }
  return false;
}

/** Draws the pieces; returns how many could not be drawn. */
static int pieces_draw(struct book *b, struct maps *m, const struct pw_view_map *map, struct grid *g)
{
  int lost = 0;
  for (int i = 0; i < map->n_loads; i++) {
    const struct pw_load *l = &b->plan->allocation.loads[map->loads[i]];
    const char *cut = b->ev->cuts[b->plan->lots.lots[l->lot].cut].name, *mark = b->view->lot_mark[l->lot];
    enum style style = pw_view_lies_from(l) == map->from_at_min ? ST_MAP_NEW : ST_MAP_OLD;
    for (int k = 0; k < l->pieces && l->rects; k++) {
      const struct pw_rect *r = &l->rects[k];
      int x0 = round_cells(r->x_m, m->cell_m), x1 = round_cells(r->x_m + r->length_m, m->cell_m) - 1;
      int y0 = round_cells(r->y_m, m->cell_m), y1 = round_cells(r->y_m + r->depth_m, m->cell_m) - 1;
      x0 = x0 < 0 ? 0 : x0;
      y0 = y0 < 0 ? 0 : y0;
      x1 = x1 >= g->nx ? g->nx - 1 : x1;
      y1 = y1 >= g->ny ? g->ny - 1 : y1;
      if (!cells_take(g, &x0, &y0, &x1, &y1)) {
        lost++;
        continue;
      }
      int number = l->piece_ids ? l->piece_ids[k] + 1 : k + 1, room = (int)((y1 - y0 + 1) * CELL_PX * 0.75 / LABEL_PT);
      const char *texts[] = {TEXT("%s%d %s", mark, number, cut), TEXT("%s%d", mark, number)};
      const char *text = pw_text_fitting(&m->s, g->col0 + x0, g->col0 + x1,
                                         room < 1   ? 1
                                         : room > 2 ? 2
                                                    : room,
                                         texts, 2, style);
      bool is_tight =
          room < 1 || pw_text_lines(&m->s, g->col0 + x0, g->col0 + x1, text, style) > 1 + (text == texts[0]);
      pw_put_block(&m->s, g->row0 + y0, g->col0 + x0, g->row0 + y1, g->col0 + x1, text,
                   !is_tight             ? style
                   : style == ST_MAP_NEW ? ST_MAP_NEW_SMALL
                                         : ST_MAP_OLD_SMALL);
    }
  }
  return lost;
}

static bool is_zone_start(const struct book *b, const struct maps *m, const struct pw_view_map *map, int x)
{
  for (int z = 0; z < b->plan->lots.n_zones; z++) {
    const struct pw_zone *zone = &b->plan->lots.zones[z];
    if (zone->pit == map->pit && zone->rack == map->rack && x > 0 && round_cells(zone->x_m, m->cell_m) == x)
      return true;
  }
  return false;
}

static void rack_draw(struct book *b, struct maps *m, const struct pw_view_map *map, struct grid *g)
{
  const struct pw_rack *rack = &b->ev->pits[map->pit].racks[map->rack];
  for (int y = 0; y < g->ny && m->s.ws; y++)
    for (int x = 0; x < g->nx && b->error == LXW_NO_ERROR; x++) {
      if (g->is_taken[y * g->nx + x])
        continue;
      if (!is_inside(rack, g, x, y)) {
        pw_put_blank(&m->s, g->row0 + y, g->col0 + x, ST_MAP_OUTSIDE);
        continue;
      }
      int mask = (is_inside(rack, g, x, y - 1) ? 0 : UP) | (is_inside(rack, g, x, y + 1) ? 0 : DOWN) |
                 (is_inside(rack, g, x - 1, y) ? 0 : BEFORE) | (is_inside(rack, g, x + 1, y) ? 0 : AFTER);
      if (!(mask & BEFORE) && is_zone_start(b, m, map, x))
        mask |= ZONE_LINE;
      if (mask)
        pw_book_take(b, worksheet_write_blank(m->s.ws, (lxw_row_t)(g->row0 + y), (lxw_col_t)(g->col0 + x),
                                              edge_format(b, m, mask)));
    }
}

static void zone_heads(struct book *b, struct maps *m, const struct pw_view_map *map, const struct grid *g, int row)
{
  int used = 0;
  for (int z = 0; z < b->plan->lots.n_zones; z++) {
    const struct pw_zone *zone = &b->plan->lots.zones[z];
    if (zone->pit != map->pit || zone->rack != map->rack)
      continue;
    int x0 = round_cells(zone->x_m, m->cell_m), x1 = round_cells(zone->x_m + zone->length_m, m->cell_m) - 1;
    x0 = x0 < used ? used : x0;
    x1 = x1 >= g->nx ? g->nx - 1 : x1;
    if (x1 < x0)
      continue;
    const char *temp = TEXT("%s", pw_format_temp(b->ev->units, pw_view_zone_temp_c(b->view, z, map->setting)).s);
    const char *texts[] = {TEXT("middle %s", temp), temp};
    pw_put_merged(&m->s, row, g->col0 + x0, row, g->col0 + x1,
                  pw_text_fitting(&m->s, g->col0 + x0, g->col0 + x1, 1, texts, 2, ST_MAP_ZONE), ST_MAP_ZONE);
    used = x1 + 1;
  }
}

/** Rows of a rack's picture. */
static int rack_rows(const struct maps *m, const struct pw_rack *rack)
{
  int ny = round_cells(rack->depth_m, m->cell_m);
  return ny < 1 ? 1 : ny;
}

/** A map with its top left corner at row, col: when, zones, picture, lines. */
static void map_write(struct book *b, struct maps *m, const struct pw_view_map *map, int row, int col)
{
  const struct pw_rack *rack = &b->ev->pits[map->pit].racks[map->rack];
  struct sheet *s = &m->s;
  struct grid g = {
      .nx = round_cells(rack->length_m, m->cell_m), .ny = rack_rows(m, rack), .row0 = row + 2, .col0 = col};
  g.nx = g.nx < 1 ? 1 : g.nx > m->cols ? m->cols : g.nx;
  g.is_taken = pw_arena_array(b->view->arena, (size_t)g.nx * (size_t)g.ny, sizeof *g.is_taken);
  if (!g.is_taken) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  zone_heads(b, m, map, &g, row + 1);
  for (int y = 0; y < g.ny; y++)
    pw_sheet_row_height(s, g.row0 + y, CELL_PX * 0.75);
  int lost = pieces_draw(b, m, map, &g);
  rack_draw(b, m, map, &g);
  pw_put_merged(s, row, col, row, col + m->cols - 1,
                TEXT("%s to %s, map %d of %d%s", pw_view_when(b->view, map->from_at_min),
                     pw_view_when(b->view, map->to_at_min), map->nth, map->of,
                     lost ? TEXT(", %d %s too small to draw", lost, pw_view_pieces(lost)) : ""),
                ST_MAP_WHEN);
  struct pw_view_map_line *lines;
  int n = pw_view_map_lines(b->view, map, &lines);
  for (int i = 0; i < n; i++)
    pw_put_merged(s, g.row0 + g.ny + i, col, g.row0 + g.ny + i, col + m->cols - 1,
                  TEXT("%s %s %s", lines[i].head, lines[i].body, lines[i].off),
                  lines[i].is_on ? ST_MAP_ON : ST_MAP_STAYS);
}

/** Points the lines below a map take. */
static double below_points(struct book *b, const struct maps *m, const struct pw_view_map *map, int *n)
{
  struct pw_view_map_line *lines;
  double points = 0;
  *n = pw_view_map_lines(b->view, map, &lines);
  for (int i = 0; i < *n; i++)
    points += 4.5 + 16 * pw_text_lines(&m->s, 0, m->cols - 1,
                                       TEXT("%s %s %s", lines[i].head, lines[i].body, lines[i].off), ST_MAP_ON);
  return points;
}

/** The maps of one rack, n of them, two beside each other in the order of time. */
static void rack_write(struct book *b, struct maps *m, const struct pw_view_map *maps, int n)
{
  const struct pw_pit *pit = &b->ev->pits[maps->pit];
  const struct pw_rack *rack = &pit->racks[maps->rack];
  scale_choose(b, m, rack);
  int ny = rack_rows(m, rack);
  for (int i = 0; i < n; i += m->beside) {
    int most = 0, beside = n - i < m->beside ? n - i : m->beside;
    double below = 0;
    for (int k = 0; k < beside; k++) {
      int lines = 0;
      double points = below_points(b, m, &maps[i + k], &lines);
      most = lines > most ? lines : most;
      below = points > below ? points : below;
    }
    double need_pt = (i == 0 ? 24 : 0) + 20 + 17 + ny * CELL_PX * 0.75 + below + 12;
    bool is_full = pw_sheet_used_points(&m->s) + need_pt > m->page_pt;
    if (is_full)
      pw_sheet_break(&m->s, m->s.row);
    if (is_full && i > 0)
      pw_put_section(&m->s, 0, ALL_COLS - 1, TEXT("%s, %s rack, further", pit->name, rack->id));
    if (i == 0)
      pw_put_section(&m->s, 0, ALL_COLS - 1,
                     TEXT("%s, %s rack, %s \xC3\x97 %s, one cell is %s", pit->name, rack->id,
                          pw_format_length(b->ev->units, rack->length_m).s,
                          pw_format_length(b->ev->units, rack->depth_m).s, m->cell_text));
    for (int k = 0; k < beside; k++)
      map_write(b, m, &maps[i + k], m->s.row, k * (m->cols + GAP_COLS));
    m->s.row += 2 + ny + most;
    pw_sheet_row_height(&m->s, m->s.row++, 10);
  }
}

void pw_xlsx_maps_write(struct book *b)
{
  struct maps m = {0};
  pw_sheet_open(b, &m.s, "Rack maps", false);
  pw_sheet_columns_px(&m.s, 0, ALL_COLS - 1, CELL_PX);
  pw_sheet_title(
      &m.s, TEXT("Rack maps: %s", b->ev->name),
      "Racks from above, to scale, fire end left, the middle of each zone over it. Thick frame, bold: goes on now.",
      ALL_COLS - 1);
  m.page_pt = pw_page_points(b, false, ALL_COLS * CELL_PX);
  for (int i = 0; i < b->view->n_maps; i += b->view->maps[i].of)
    rack_write(b, &m, &b->view->maps[i], b->view->maps[i].of);
  if (b->view->n_maps == 0)
    pw_put_merged(&m.s, m.s.row, 0, m.s.row, ALL_COLS - 1, "Nothing goes on a rack in this plan.", ST_SUBTITLE);
  pw_sheet_close(&m.s);
}
