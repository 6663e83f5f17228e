/* rack_grid.c - bit-parallel search for free places on a rack zone over time.  See rack_grid.h. */
#include "plan/rack_grid.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

static const uint64_t FULL = (UINT64_C(1) << PW_GRID_CELLS_Y) - 1;

int pw_rack_grid_init(struct pw_rack_grid *g, enum pw_outline outline, double rack_length_m, double zone_x_m,
                      double length_m, double depth_m, int n_slots, struct pw_arena *arena)
{
  memset(g, 0, sizeof *g);
  g->n_x = length_m > 0.8 ? PW_GRID_ROWS_MAX : 60;
  g->n_slots = n_slots;
  g->cell_x_m = length_m / g->n_x;
  g->cell_y_m = depth_m / PW_GRID_CELLS_Y;
  g->bits = pw_arena_array(arena, (size_t)n_slots * (size_t)g->n_x, sizeof *g->bits);
  g->used_cells = pw_arena_array(arena, (size_t)n_slots, sizeof *g->used_cells);
  if (!g->bits || !g->used_cells)
    return -1;
  if (outline == PW_DISC) {
    double r_m = rack_length_m / 2;
    for (int i = 0; i < g->n_x; i++)
      for (int j = 0; j < PW_GRID_CELLS_Y; j++) {
        /* a cell is inside when its farthest corner is */
        double x0 = fabs(zone_x_m + i * g->cell_x_m - r_m), x1 = fabs(zone_x_m + (i + 1) * g->cell_x_m - r_m);
        double y0 = fabs(j * g->cell_y_m - depth_m / 2), y1 = fabs((j + 1) * g->cell_y_m - depth_m / 2);
        if (hypot(fmax(x0, x1), fmax(y0, y1)) > r_m + 1e-9) {
          g->blocked[i] |= UINT64_C(1) << j;
          g->blocked_cells++;
        }
      }
  }
  return 0;
}

struct pw_cells pw_rack_grid_cells(const struct pw_rack_grid *g, double length_m, double depth_m)
{
  double x = ceil(length_m / g->cell_x_m - 1e-6), y = ceil(depth_m / g->cell_y_m - 1e-6);
  struct pw_cells c = {0, 0, false};
  if (x >= 1 && y >= 1 && x <= g->n_x && y <= PW_GRID_CELLS_Y)
    c = (struct pw_cells){(int)x, (int)y, true};
  return c;
}

void pw_rack_grid_free(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, uint64_t *out)
{
  int n = g->n_x;
  memcpy(out, g->blocked, (size_t)n * sizeof *out);
  for (int t = a; t < b; t++) {
    const uint64_t *row = g->bits + (size_t)t * (size_t)n;
    for (int i = 0; i < n; i++)
      out[i] |= row[i];
  }
  for (int i = 0; i < n; i++)
    out[i] = ~out[i] & FULL;
  /* a run of c.y free cells starts at bit j iff bits j .. j+c.y-1 are free: halving intersects shifted copies */
  for (int k = 1; k < c.y;) {
    int step = k < c.y - k ? k : c.y - k;
    for (int i = 0; i < n; i++)
      out[i] &= out[i] >> step;
    k += step;
  }
  for (int k = 1; k < c.x;) {
    int step = k < c.x - k ? k : c.x - k;
    for (int i = 0; i < n - step; i++)
      out[i] &= out[i + step];
    memset(out + (n - step), 0, (size_t)step * sizeof *out);
    k += step;
  }
}

bool pw_rack_grid_first(const struct pw_rack_grid *g, const uint64_t *origins, int *x, int *y)
{
  for (int i = 0; i < g->n_x; i++)
    if (origins[i]) {
      *x = i;
      *y = __builtin_ctzll(origins[i]);
      return true;
    }
  return false;
}

static uint64_t run(int y, int n) { return ((UINT64_C(1) << n) - 1) << y; }

void pw_rack_grid_put(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y)
{
  uint64_t m = run(y, c.y);
  for (int t = a; t < b; t++) {
    uint64_t *row = g->bits + (size_t)t * (size_t)g->n_x + x;
    for (int i = 0; i < c.x; i++)
      row[i] |= m;
    g->used_cells[t] += c.x * c.y;
  }
}

void pw_rack_grid_take(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y)
{
  uint64_t m = ~run(y, c.y);
  for (int t = a; t < b; t++) {
    uint64_t *row = g->bits + (size_t)t * (size_t)g->n_x + x;
    for (int i = 0; i < c.x; i++)
      row[i] &= m;
    g->used_cells[t] -= c.x * c.y;
  }
}

void pw_rack_grid_bar(const struct pw_rack_grid *g, uint64_t *origins, struct pw_cells c, struct pw_cells d, int x,
                      int y)
{
  int x0 = x - c.x + 1 > 0 ? x - c.x + 1 : 0, x1 = x + d.x < g->n_x ? x + d.x : g->n_x;
  int y0 = y - c.y + 1 > 0 ? y - c.y + 1 : 0;
  uint64_t m = ~run(y0, y + d.y - y0);
  for (int i = x0; i < x1; i++)
    origins[i] &= m;
}
