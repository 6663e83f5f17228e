/* rack_grid.c - bit-parallel search for free places on a rack over time.  See rack_grid.h. */
#include "plan/rack_grid.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

static const uint64_t FULL = (UINT64_C(1) << PW_GRID_CELLS_Y) - 1;
enum { ROWS_STEP = 60 };                  /* rows come in sixties, for the same reason as the cells across */
static const double ROWS_STEP_M = 0.75;   /* a stretch that gets sixty rows: 12 mm, finer than a cook lays meat */
static const double FIT_SLACK_M = 1e-6;   /* a piece exactly as long as its place fits */

static int zone_first_row(const struct pw_rack_grid *g, int k) { return g->n_x * k / g->n_zones; }

static void disc_block(struct pw_rack_grid *g)
{
  double r_m = g->length_m / 2, depth_m = g->cell_y_m * PW_GRID_CELLS_Y;
  for (int k = 0; k < g->n_zones; k++)
    for (int i = zone_first_row(g, k); i < zone_first_row(g, k + 1); i++)
      for (int j = 0; j < PW_GRID_CELLS_Y; j++) {
        /* a cell is inside when its farthest corner is */
        double x0 = fabs(i * g->cell_x_m - r_m), x1 = fabs((i + 1) * g->cell_x_m - r_m);
        double y0 = fabs(j * g->cell_y_m - depth_m / 2), y1 = fabs((j + 1) * g->cell_y_m - depth_m / 2);
        if (hypot(fmax(x0, x1), fmax(y0, y1)) > r_m + 1e-9) {
          g->blocked[i] |= UINT64_C(1) << j;
          g->open_cells[k]--;
        }
      }
}

int pw_rack_grid_init(struct pw_rack_grid *g, const struct pw_rack *rack, int n_slots, struct pw_arena *arena)
{
  memset(g, 0, sizeof *g);
  double steps = ceil(rack->length_m / ROWS_STEP_M - 1e-9);
  g->n_x = steps < 1 ? ROWS_STEP : steps * ROWS_STEP > PW_GRID_ROWS_MAX ? PW_GRID_ROWS_MAX : (int)steps * ROWS_STEP;
  g->n_slots = n_slots;
  g->n_zones = rack->n_zones < 1 ? 1 : rack->n_zones;
  g->length_m = rack->length_m;
  g->cell_x_m = rack->length_m / g->n_x;
  g->cell_y_m = rack->depth_m / PW_GRID_CELLS_Y;
  size_t n_x = (size_t)g->n_x, n_zones = (size_t)g->n_zones, n_t = (size_t)n_slots;
  g->bits = pw_arena_array(arena, n_t * n_x + 1, sizeof *g->bits);
  g->blocked = pw_arena_array(arena, n_x, sizeof *g->blocked);
  g->open_cells = pw_arena_array(arena, n_zones, sizeof *g->open_cells);
  g->used_cells = pw_arena_array(arena, n_zones * n_t + 1, sizeof *g->used_cells);
  if (!g->bits || !g->blocked || !g->open_cells || !g->used_cells)
    return -1;
  for (int k = 0; k < g->n_zones; k++)
    g->open_cells[k] = (zone_first_row(g, k + 1) - zone_first_row(g, k)) * PW_GRID_CELLS_Y;
  if (rack->outline == PW_DISC)
    disc_block(g);
  return 0;
}

struct pw_cells pw_rack_grid_cells(const struct pw_rack_grid *g, double zone_x_m, double zone_length_m, double length_m,
                                   double depth_m)
{
  double x = ceil(length_m / g->cell_x_m - FIT_SLACK_M), y = ceil(depth_m / g->cell_y_m - FIT_SLACK_M);
  struct pw_cells c = {0};
  if (!(x >= 1 && y >= 1 && x <= g->n_x && y <= PW_GRID_CELLS_Y))
    return c;
  c.x = (int)x;
  c.y = (int)y;
  double from = ceil((zone_x_m - length_m / 2) / g->cell_x_m - FIT_SLACK_M);
  double to = floor((zone_x_m + zone_length_m - length_m / 2) / g->cell_x_m + FIT_SLACK_M);
  c.from = from < 0 ? 0 : from > g->n_x ? g->n_x : (int)from;
  c.to = to > g->n_x - c.x ? g->n_x - c.x : to < -1 ? -1 : (int)to;
  c.is_fitting = c.from <= c.to;
  return c;
}

void pw_rack_grid_free(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, uint64_t *out)
{
  /* only the rows that a piece with its low corner in [from, to] can cover */
  int first = c.from, n = c.to + c.x - c.from;
  uint64_t *at = out + first;
  memcpy(at, g->blocked + first, (size_t)n * sizeof *at);
  for (int t = a; t < b; t++) {
    const uint64_t *row = g->bits + (size_t)t * (size_t)g->n_x + first;
    for (int i = 0; i < n; i++)
      at[i] |= row[i];
  }
  for (int i = 0; i < n; i++)
    at[i] = ~at[i] & FULL;
  /* a run of c.y free cells starts at bit j iff bits j .. j+c.y-1 are free: halving intersects shifted copies */
  for (int k = 1; k < c.y;) {
    int step = k < c.y - k ? k : c.y - k;
    for (int i = 0; i < n; i++)
      at[i] &= at[i] >> step;
    k += step;
  }
  for (int k = 1; k < c.x;) {
    int step = k < c.x - k ? k : c.x - k;
    n -= step;
    for (int i = 0; i < n; i++)
      at[i] &= at[i + step];
    k += step;
  }
}

bool pw_rack_grid_first(struct pw_cells c, const uint64_t *origins, int *x, int *y)
{
  for (int i = c.from; i <= c.to; i++)
    if (origins[i]) {
      *x = i;
      *y = __builtin_ctzll(origins[i]);
      return true;
    }
  return false;
}

static uint64_t run(int y, int n) { return ((UINT64_C(1) << n) - 1) << y; }

static void count(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int by)
{
  for (int k = x * g->n_zones / g->n_x; k < g->n_zones && zone_first_row(g, k) < x + c.x; k++) {
    int from = zone_first_row(g, k), to = zone_first_row(g, k + 1);
    int rows = (to < x + c.x ? to : x + c.x) - (from > x ? from : x);
    if (rows <= 0)
      continue;
    int *used = g->used_cells + (size_t)k * (size_t)g->n_slots;
    for (int t = a; t < b; t++)
      used[t] += by * rows * c.y;
  }
}

void pw_rack_grid_put(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y)
{
  uint64_t m = run(y, c.y);
  for (int t = a; t < b; t++) {
    uint64_t *row = g->bits + (size_t)t * (size_t)g->n_x + x;
    for (int i = 0; i < c.x; i++)
      row[i] |= m;
  }
  count(g, a, b, c, x, 1);
}

void pw_rack_grid_take(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y)
{
  uint64_t m = ~run(y, c.y);
  for (int t = a; t < b; t++) {
    uint64_t *row = g->bits + (size_t)t * (size_t)g->n_x + x;
    for (int i = 0; i < c.x; i++)
      row[i] &= m;
  }
  count(g, a, b, c, x, -1);
}

void pw_rack_grid_bar(uint64_t *origins, struct pw_cells c, struct pw_cells d, int x, int y)
{
  int x0 = x - c.x + 1 > c.from ? x - c.x + 1 : c.from, x1 = x + d.x - 1 < c.to ? x + d.x - 1 : c.to;
  int y0 = y - c.y + 1 > 0 ? y - c.y + 1 : 0;
  uint64_t m = ~run(y0, y + d.y - y0);
  for (int i = x0; i <= x1; i++)
    origins[i] &= m;
}

int pw_rack_grid_room(const struct pw_rack_grid *g, int k, int a, int b, int cells, int reach_x, int most)
{
  /* pieces may reach half their length into the zones beside it, as far as those are free */
  int reach = reach_x * PW_GRID_CELLS_Y, room = most * cells;
  const int *used = g->used_cells + (size_t)k * (size_t)g->n_slots;
  const int *low = k > 0 ? used - g->n_slots : NULL, *high = k + 1 < g->n_zones ? used + g->n_slots : NULL;
  for (int t = a; t < b; t++) {
    int left = g->open_cells[k] - used[t];
    if (low) {
      int more = g->open_cells[k - 1] - low[t];
      left += more < reach ? more : reach;
    }
    if (high) {
      int more = g->open_cells[k + 1] - high[t];
      left += more < reach ? more : reach;
    }
    room = left < room ? left : room;
  }
  return room < 0 ? 0 : room / cells;
}
