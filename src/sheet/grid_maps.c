/* grid_maps.c - rack maps as cell grids: merged cells for pieces, borders for the rack, to scale, up to three side by side.
 * One map each time something goes on a rack.  Rounding the edges of the pieces to the grid is monotonic, so
 * neighbours do not overlap; a cell is given out once all the same (overlapping merges damage a workbook). */
#include "sheet/grid_pen.h"
#include "sheet/view_maps.h"

#include "base/arena.h"

#include <limits.h>
#include <math.h>

enum { ALL_COLS = 96, GAP_COLS = 3, BESIDE_MAX = 3, MAP_ROWS_MAX = 60, CELL_PX = 7, LABEL_PT = 13 };

/** How the maps of a rack are drawn. */
struct scale {
  int cols, beside; /* of a map; how many stand side by side */
  double cell_m;
  const char *cell_text;
};

/** A rack as cells, its top left one at row0, col0. */
struct picture {
  const struct pw_view_map *map;
  const struct pw_rack *rack;
  double cell_m;
  int nx, ny, row0, col0, lost; /* lost: pieces that could not be drawn */
  bool *is_taken;
};

static int round_cells(double m, double cell_m) { return (int)floor(m / cell_m + 0.5); }
static int clamp(int x, int low, int high) { return x < low ? low : x > high ? high : x; }

/** Three maps side by side, two, or one over the whole width: the most whose cells are still small. */
static struct scale scale_choose(struct pw_grid *g, const struct pw_rack *rack)
{
  static const double us_in[] = {1, 1.5, 2, 3, 4, 6, 12}, si_cm[] = {2, 2.5, 4, 5, 6, 10, 30};
  static const double cell_most_m[] = {0, 1, 0.051, 0.041}; /* by maps side by side: 2 in or 5 cm, 1.5 in or 4 cm */
  bool is_us = g->of->ev->units == PW_UNITS_US;
  struct scale m = {.beside = BESIDE_MAX};
  for (;; m.beside--) {
    m.cols = (ALL_COLS - (m.beside - 1) * GAP_COLS) / m.beside;
    for (int i = 0; i < 7; i++) {
      m.cell_m = is_us ? us_in[i] * 0.0254 : si_cm[i] * 0.01;
      m.cell_text = is_us ? TEXT("%g in", us_in[i]) : TEXT("%g cm", si_cm[i]);
      if (round_cells(rack->length_m, m.cell_m) <= m.cols && round_cells(rack->depth_m, m.cell_m) <= MAP_ROWS_MAX)
        break;
    }
    if (m.beside == 1 || (m.cell_m <= cell_most_m[m.beside] && round_cells(rack->length_m, m.cell_m) <= m.cols))
      return m;
  }
}

static bool is_inside(const struct picture *p, int x, int y)
{
  if (x < 0 || y < 0 || x >= p->nx || y >= p->ny)
    return false;
  if (p->rack->outline == PW_RECTANGLE)
    return true;
  double rx = p->nx / 2.0, ry = p->ny / 2.0, dx = (x + 0.5 - rx) / rx, dy = (y + 0.5 - ry) / ry;
  return dx * dx + dy * dy <= 1.0;
}

/** Takes the cells of a rectangle; shrinks it by single cells where another piece has them already. */
static bool cells_take(struct picture *p, int *x0, int *y0, int *x1, int *y1)
{
  for (int tries = 0; tries < 8; tries++) {
    if (*x0 > *x1 || *y0 > *y1)
      return false;
    int hit_x = -1, hit_y = -1;
    for (int y = *y0; y <= *y1 && hit_x < 0; y++)
      for (int x = *x0; x <= *x1 && hit_x < 0; x++)
        if (p->is_taken[y * p->nx + x]) {
          hit_x = x;
          hit_y = y;
        }
    if (hit_x < 0) {
      for (int y = *y0; y <= *y1; y++)
        for (int x = *x0; x <= *x1; x++)
          p->is_taken[y * p->nx + x] = true;
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

/** Draws the pieces of a load. */
static void load_draw(struct pw_grid *g, struct picture *p, const struct pw_load *l)
{
  const char *cut = g->of->ev->cuts[g->of->plan->lots.lots[l->lot].cut].name, *mark = g->of->view->lot_mark[l->lot];
  bool is_new = pw_view_lies_from(l) == p->map->from_at_min;
  for (int k = 0; k < l->pieces && l->rects; k++) {
    const struct pw_rect *r = &l->rects[k];
    int x0 = round_cells(r->x_m, p->cell_m), x1 = round_cells(r->x_m + r->length_m, p->cell_m) - 1;
    int y0 = round_cells(r->y_m, p->cell_m), y1 = round_cells(r->y_m + r->depth_m, p->cell_m) - 1;
    x0 = x0 < 0 ? 0 : x0;
    y0 = y0 < 0 ? 0 : y0;
    x1 = x1 >= p->nx ? p->nx - 1 : x1;
    y1 = y1 >= p->ny ? p->ny - 1 : y1;
    if (!cells_take(p, &x0, &y0, &x1, &y1)) {
      p->lost++;
      continue;
    }
    int number = l->piece_ids ? l->piece_ids[k] + 1 : k + 1;
    struct pw_grid_cell cell = {.role = is_new ? PW_G_MAP_NEW : PW_G_MAP_OLD,
                                .over = x1 - x0,
                                .down = y1 - y0,
                                .texts = WORDS(TEXT("%s%d %s", mark, number, cut), TEXT("%s%d", mark, number)),
                                .lines = clamp((int)((y1 - y0 + 1) * CELL_PX * 0.75 / LABEL_PT), 0, 2)};
    pw_grid_spot(g, (struct pw_grid_spot){.row = p->row0 + y0,
                                          .col = p->col0 + x0,
                                          .cell = cell,
                                          .small = is_new ? PW_G_MAP_NEW_SMALL : PW_G_MAP_OLD_SMALL});
  }
}

static bool is_zone_start(const struct pw_grid *g, const struct picture *p, int x)
{
  for (int z = 0; z < g->of->plan->lots.n_zones; z++) {
    const struct pw_zone *zone = &g->of->plan->lots.zones[z];
    if (zone->pit == p->map->pit && zone->rack == p->map->rack && x > 0 && round_cells(zone->x_m, p->cell_m) == x)
      return true;
  }
  return false;
}

/** What of the rack no piece covers: its edge, where a zone starts, what is not rack. */
static void rack_draw(struct pw_grid *g, const struct picture *p)
{
  for (int y = 0; y < p->ny; y++)
    for (int x = 0; x < p->nx; x++) {
      struct pw_grid_spot spot = {.row = p->row0 + y, .col = p->col0 + x, .cell = SAY(PLAIN, "")};
      if (p->is_taken[y * p->nx + x])
        continue;
      if (!is_inside(p, x, y))
        spot.cell.role = PW_G_MAP_OUTSIDE;
      else
        spot.edges = (is_inside(p, x, y - 1) ? 0 : PW_GRID_UP) | (is_inside(p, x, y + 1) ? 0 : PW_GRID_DOWN) |
                     (is_inside(p, x - 1, y) ? 0 : PW_GRID_BEFORE) | (is_inside(p, x + 1, y) ? 0 : PW_GRID_AFTER) |
                     (is_inside(p, x - 1, y) && is_zone_start(g, p, x) ? PW_GRID_DASHED_BEFORE : 0);
      if (spot.edges || spot.cell.role == PW_G_MAP_OUTSIDE)
        pw_grid_spot(g, spot);
    }
}

static void picture_draw(struct pw_grid *g, struct picture *p)
{
  p->is_taken = pw_arena_array(g->of->view->arena, (size_t)p->nx * (size_t)p->ny, sizeof *p->is_taken);
  g->of->view->failed |= !p->is_taken;
  for (int i = 0; p->is_taken && i < p->map->n_loads; i++)
    load_draw(g, p, &g->of->plan->allocation.loads[p->map->loads[i]]);
  if (p->is_taken)
    rack_draw(g, p);
}

/** Cells over a picture: the temperature in the middle of each zone.  Returns the columns they take. */
static int zone_heads(struct pw_grid *g, const struct picture *p, struct pw_grid_cell *cells, int *n)
{
  int used = 0;
  for (int z = 0; z < g->of->plan->lots.n_zones; z++) {
    const struct pw_zone *zone = &g->of->plan->lots.zones[z];
    if (zone->pit != p->map->pit || zone->rack != p->map->rack)
      continue;
    int x0 = round_cells(zone->x_m, p->cell_m), x1 = round_cells(zone->x_m + zone->length_m, p->cell_m) - 1;
    x0 = x0 < used ? used : x0;
    x1 = x1 >= p->nx ? p->nx - 1 : x1;
    if (x1 < x0)
      continue;
    const char *temp =
        TEXT("%s", pw_format_temp(g->of->ev->units, pw_view_zone_temp_c(g->of->view, z, p->map->setting)).s);
    if (x0 > used)
      cells[(*n)++] = SKIP(x0 - used);
    cells[(*n)++] = (struct pw_grid_cell){
        .role = PW_G_MAP_ZONE, .over = x1 - x0, .texts = WORDS(TEXT("middle %s", temp), temp), .lines = 1};
    used = x1 + 1;
  }
  return used;
}

/** Maps side by side: when, zones, pictures, lines. */
static void maps_row(struct pw_grid *g, const struct scale *m, const struct pw_view_map *maps, int n)
{
  const struct pw_rack *rack = &g->of->ev->pits[maps->pit].racks[maps->rack];
  struct pw_grid_cell when[2 * BESIDE_MAX], zones[ALL_COLS], below[2 * BESIDE_MAX];
  struct pw_view_map_line *lines[BESIDE_MAX];
  int n_lines[BESIDE_MAX], most = 0, n_zones = 0, ny = clamp(round_cells(rack->depth_m, m->cell_m), 1, INT_MAX);
  for (int k = 0; k < n; k++) {
    const struct pw_view_map *map = &maps[k];
    struct picture p = {.map = map,
                        .rack = rack,
                        .cell_m = m->cell_m,
                        .nx = clamp(round_cells(rack->length_m, m->cell_m), 1, m->cols),
                        .ny = ny,
                        .row0 = g->n_rows + 2,
                        .col0 = k * (m->cols + GAP_COLS)};
    picture_draw(g, &p);
    int used = zone_heads(g, &p, zones, &n_zones);
    if (m->cols + GAP_COLS > used)
      zones[n_zones++] = SKIP(m->cols + GAP_COLS - used);
    when[2 * k] =
        OVER(SAY(MAP_WHEN, TEXT("%s to %s, map %d of %d%s", pw_view_when(g->of->view, map->from_at_min),
                                pw_view_when(g->of->view, map->to_at_min), map->nth, map->of,
                                p.lost ? TEXT(", %d %s too small to draw", p.lost, pw_view_pieces(p.lost)) : "")),
             m->cols);
    when[2 * k + 1] = below[2 * k + 1] = SKIP(GAP_COLS);
    n_lines[k] = pw_view_map_lines(g->of->view, map, &lines[k]);
    most = n_lines[k] > most ? n_lines[k] : most;
  }
  pw_grid_row(g, when, 2 * n - 1);
  pw_grid_row(g, zones, n_zones);
  for (int y = 0; y < ny; y++) {
    pw_grid_gap(g);
    pw_grid_high(g, CELL_PX * 0.75);
  }
  for (int i = 0; i < most; i++) {
    for (int k = 0; k < n; k++) {
      const struct pw_view_map_line *l = &lines[k][i];
      below[2 * k] = SKIP(m->cols);
      if (i < n_lines[k])
        below[2 * k] = OVER(l->is_on ? SAY(MAP_ON, TEXT("%s %s %s", l->head, l->body, l->off))
                                     : SAY(MAP_STAYS, TEXT("%s %s %s", l->head, l->body, l->off)),
                            m->cols);
    }
    pw_grid_row(g, below, 2 * n - 1);
  }
  pw_grid_gap(g);
  pw_grid_high(g, 10);
}

void pw_grid_maps(struct pw_grid *g)
{
  const struct pw_view *view = g->of->view;
  double widths[ALL_COLS];
  for (int c = 0; c < ALL_COLS; c++)
    widths[c] = CELL_PX;
  pw_grid_open(g, "Rack maps", widths, ALL_COLS);
  g->is_px = true;
  pw_grid_title(
      g, TEXT("Rack maps: %s", g->of->ev->name),
      "Racks from above, to scale, fire end left, the middle of each zone over it. Thick frame, bold: goes on now.");
  for (int i = 0, of; i < view->n_maps; i += of) { /* the maps of one rack stand together */
    const struct pw_pit *pit = &g->of->ev->pits[view->maps[i].pit];
    const struct pw_rack *rack = &pit->racks[view->maps[i].rack];
    struct scale m = scale_choose(g, rack);
    of = view->maps[i].of;
    struct pw_short across = pw_format_length(g->of->ev->units, rack->length_m),
                    deep = pw_format_length(g->of->ev->units, rack->depth_m);
    const char *size = rack->outline == PW_DISC ? TEXT("%s round", across.s) : TEXT("%s \xC3\x97 %s", across.s, deep.s);
    pw_grid_section(g, TEXT("%s, %s rack, %s, one cell is %s", pit->name, rack->id, size, m.cell_text));
    for (int k = 0; k < of; k += m.beside)
      maps_row(g, &m, &view->maps[i + k], of - k < m.beside ? of - k : m.beside);
  }
  if (view->n_maps == 0)
    pw_grid_line(g, PW_G_SUBTITLE, "Nothing goes on a rack in this plan.");
}
