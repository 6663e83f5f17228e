/* xlsx_maps.c - rack maps as cell grids: merged cells for pieces, borders for the rack, to scale.
 * One map per distinct arrangement of a rack.  Rounding the edges of the pieces to the grid is monotonic, so
 * neighbours do not overlap; a cell is given out once all the same (overlapping merges damage a workbook). */
#include "write/xlsx_book.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)

enum { CELLS_MAX = 96, CELLS_MIN = 60, PAGE_PX = 880, STRIP_PX = 30, ROWS_TWICE = 18 };
enum { UP = 1, DOWN = 2, BEFORE = 4, AFTER = 8, ZONE_LINE = 16, N_MASKS = 32 };

struct maps {
  struct sheet s;
  double cell_m;
  const char *cell_text;
  int n_cols;            /* grid columns of the sheet */
  int px;                /* of a cell */
  lxw_format *edges[N_MASKS];
  double used_pt, page_pt;
};

/** One rack as cells. */
struct grid {
  int nx, ny, row0, col0;
  bool *is_taken;
};

static int round_cells(double m, double cell_m) { return (int)floor(m / cell_m + 0.5); }

/** The smallest of a few round cell sizes with which a rack fits the width, and small racks fit twice on a page;
 *  returns its cells. */
static int scale_choose(struct book *b, struct maps *m, const struct pw_rack *rack)
{
  static const double us_in[] = {1, 1.5, 2, 3, 4, 6, 12}, si_cm[] = {2, 2.5, 4, 5, 10, 15, 30};
  bool is_us = b->ev->units == PW_UNITS_US;
  for (int i = 0; i < 7; i++) {
    m->cell_m = is_us ? us_in[i] * 0.0254 : si_cm[i] * 0.01;
    m->cell_text = is_us ? TEXT("%g in", us_in[i]) : TEXT("%g cm", si_cm[i]);
    int nx = round_cells(rack->length_m, m->cell_m), ny = round_cells(rack->depth_m, m->cell_m);
    if (nx <= CELLS_MAX && (ny <= ROWS_TWICE || nx > CELLS_MAX / 2))
      break;
  }
  int n = round_cells(rack->length_m, m->cell_m);
  return n < CELLS_MIN ? CELLS_MIN : n > CELLS_MAX ? CELLS_MAX : n;
}

/** Columns of the sheet: as many as the map with most cells takes. */
static void columns_choose(struct book *b, struct maps *m)
{
  m->n_cols = CELLS_MIN;
  for (int i = 0; i < b->view->n_maps; i++) {
    int n = scale_choose(b, m, &b->ev->pits[b->view->maps[i].pit].racks[b->view->maps[i].rack]);
    m->n_cols = n > m->n_cols ? n : m->n_cols;
  }
  m->px = PAGE_PX / m->n_cols;
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
    book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
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
    enum style style = l->start_at_min == map->from_at_min ? ST_MAP_NEW : ST_MAP_OLD;
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
      int number = l->piece_ids ? l->piece_ids[k] + 1 : k + 1, room = (int)((y1 - y0 + 1) * m->px * 0.75 / 13);
      const char *texts[] = {TEXT("%s%d %s", mark, number, cut), TEXT("%s%d", mark, number)};
      put_merged(&m->s, g->row0 + y0, g->col0 + x0, g->row0 + y1, g->col0 + x1,
                 text_fitting(&m->s, g->col0 + x0, g->col0 + x1, room < 1 ? 1 : room > 2 ? 2 : room, texts, 2, style), style);
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
        put_blank(&m->s, g->row0 + y, g->col0 + x, ST_MAP_OUTSIDE);
        continue;
      }
      int mask = (is_inside(rack, g, x, y - 1) ? 0 : UP) | (is_inside(rack, g, x, y + 1) ? 0 : DOWN) |
                 (is_inside(rack, g, x - 1, y) ? 0 : BEFORE) | (is_inside(rack, g, x + 1, y) ? 0 : AFTER);
      if (!(mask & BEFORE) && is_zone_start(b, m, map, x))
        mask |= ZONE_LINE;
      if (mask)
        book_take(b, worksheet_write_blank(m->s.ws, (lxw_row_t)(g->row0 + y), (lxw_col_t)(g->col0 + x), edge_format(b, m, mask)));
    }
}

static void zone_heads(struct book *b, struct maps *m, const struct pw_view_map *map, const struct grid *g)
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
    const char *name = pw_view_zone(b->view, z), *temp = TEXT("%s", pw_format_temp(b->ev->units, pw_view_zone_temp_c(b->view, z, map->setting)).s);
    const char *texts[] = {TEXT("%s, %s", name, temp), temp};
    put_merged(&m->s, m->s.row, g->col0 + x0, m->s.row, g->col0 + x1, text_fitting(&m->s, g->col0 + x0, g->col0 + x1, 1, texts, 2, ST_MAP_ZONE), ST_MAP_ZONE);
    used = x1 + 1;
  }
  m->s.row++;
}

/** A table row across the narrow grid. */
static void grid_row(struct maps *m, const char *const *texts, const enum style *styles)
{
  static const int shares[] = {6, 36, 45, 54, 74, 88, 100}; /* right edges, percent */
  int from = 1;
  for (int i = 0; i < 7; i++) {
    int to = 1 + m->n_cols * shares[i] / 100 - 1;
    put_merged(&m->s, m->s.row, from, m->s.row, to, texts[i], styles[i]);
    from = to + 1;
  }
  m->s.row++;
}

static void load_table(struct book *b, struct maps *m, const struct pw_view_map *map)
{
  static const enum style heads[] = {ST_HEAD, ST_HEAD, ST_HEAD, ST_HEAD, ST_HEAD, ST_HEAD, ST_HEAD};
  static const enum style cells[] = {ST_TEXT_BOLD, ST_TEXT, ST_TEXT, ST_TEXT, ST_TEXT, ST_TEXT_BOLD, ST_TEXT_BOLD};
  grid_row(m, (const char *const[]){"Lot", "Cut", "Stage", "Pieces", "Zone", "On", "Off"}, heads);
  for (int i = 0; i < map->n_loads; i++) {
    const struct pw_load *l = &b->plan->allocation.loads[map->loads[i]];
    const char *row[] = {b->view->lot_mark[l->lot], b->ev->cuts[b->plan->lots.lots[l->lot].cut].name, pw_view_stage_word(l->stage),
                         TEXT("%d", l->pieces), pw_view_zone(b->view, l->zone),
                         TEXT("%s%s", pw_view_when(b->view, l->start_at_min), l->start_at_min == map->from_at_min ? " now" : ""),
                         pw_view_when(b->view, l->end_at_min)};
    grid_row(m, row, cells);
  }
}

/** False for a pit that is as hot at one end as at the other. */
static bool has_ends(const struct book *b, const struct pw_view_map *map)
{
  const struct pw_pit *pit = &b->ev->pits[map->pit];
  const struct pw_setting *set = map->setting == PW_NONE ? &pit->settings[0] : &pit->settings[map->setting];
  return pit->racks[map->rack].n_zones > 1 || set->hot_c - set->cool_c > 5;
}

static void map_write(struct book *b, struct maps *m, const struct pw_view_map *map)
{
  const struct pw_pit *pit = &b->ev->pits[map->pit];
  const struct pw_rack *rack = &pit->racks[map->rack];
  struct sheet *s = &m->s;
  scale_choose(b, m, rack);
  struct grid g = {.nx = round_cells(rack->length_m, m->cell_m), .ny = round_cells(rack->depth_m, m->cell_m), .col0 = 1};
  g.nx = g.nx < 1 ? 1 : g.nx > m->n_cols ? m->n_cols : g.nx;
  g.ny = g.ny < 1 ? 1 : g.ny;
  g.is_taken = pw_arena_array(b->view->arena, (size_t)g.nx * (size_t)g.ny, sizeof *g.is_taken);
  if (!g.is_taken) {
    book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  double need_pt = 22 + 20 + 18 + g.ny * m->px * 0.75 + 12 + 18.0 * (map->n_loads + 1) + 20;
  if (m->used_pt > 0 && m->used_pt + need_pt > m->page_pt) {
    sheet_break(s, s->row);
    m->used_pt = 0;
  }
  m->used_pt += need_pt;
  put_merged(s, s->row, 0, s->row, m->n_cols + 1, TEXT("%s, %s rack: %s", pit->name, rack->id, pw_view_span(b->view, map->from_at_min, map->to_at_min)), ST_SECTION);
  s->row++;
  int subtitle = s->row++;
  zone_heads(b, m, map, &g);
  g.row0 = s->row;
  for (int y = 0; y < g.ny; y++)
    sheet_row_height(s, g.row0 + y, m->px * 0.75);
  int lost = pieces_draw(b, m, map, &g);
  rack_draw(b, m, map, &g);
  if (has_ends(b, map)) {
    put_merged(s, g.row0, 0, g.row0 + g.ny - 1, 0, "HOT END", ST_MAP_HOT);
    put_merged(s, g.row0, g.col0 + g.nx, g.row0 + g.ny - 1, g.col0 + g.nx + (g.nx < m->n_cols ? 1 : 0), "COOL END", ST_MAP_COOL);
  }
  put_merged(s, subtitle, 0, subtitle, m->n_cols + 1,
             TEXT("Map %d of %d of this rack. One cell is %s. Bold in a thick frame: goes on now.%s", map->nth, map->of, m->cell_text,
                  lost ? TEXT(" %d pieces are too small to draw.", lost) : ""),
             ST_SUBTITLE);
  s->row = g.row0 + g.ny + 1;
  load_table(b, m, map);
  s->row++;
}

void xlsx_maps_write(struct book *b)
{
  struct maps m = {0};
  columns_choose(b, &m);
  sheet_open(b, &m.s, "Rack maps", true);
  sheet_columns_px(&m.s, 0, 0, STRIP_PX);
  sheet_columns_px(&m.s, 1, m.n_cols, m.px);
  sheet_columns_px(&m.s, m.n_cols + 1, m.n_cols + 1, STRIP_PX);
  sheet_title(&m.s, TEXT("Rack maps: %s", b->ev->name), "Each picture is a rack seen from above, to scale, with the free space around each piece. The scale differs from rack to rack.", m.n_cols + 1);
  m.page_pt = page_points(b, true, 2.0 * STRIP_PX + m.n_cols * m.px);
  m.used_pt = 60;
  for (int i = 0; i < b->view->n_maps; i++)
    map_write(b, &m, &b->view->maps[i]);
  if (b->view->n_maps == 0)
    put_text(&m.s, m.s.row, 1, "Nothing goes on a rack in this plan.", ST_SUBTITLE);
  sheet_close(&m.s);
}
