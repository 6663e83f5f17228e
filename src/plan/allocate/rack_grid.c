/* rack_grid.c - bit-parallel search for free places on a rack over time.  See rack_grid.h.
 * Each footprint that lies there in the asked slots rules out a rectangle of low corners; a row of corners is a word. */
#include "plan/allocate/rack_grid.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

static const uint64_t FULL = (UINT64_C(1) << PW_GRID_CELLS_Y) - 1;
enum { ROWS_STEP = 60 };                /* rows come in sixties, for the same reason as the cells across */
static const double ROWS_STEP_M = 0.75; /* a stretch that gets sixty rows: 12 mm, finer than a cook lays meat */
static const double FIT_SLACK_M = 1e-6; /* a piece exactly as long as its place fits */

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

int pw_rack_grid_rows(double length_m)
{
  double steps = ceil(length_m / ROWS_STEP_M - 1e-9);
  return steps < 1 ? ROWS_STEP : steps * ROWS_STEP > PW_GRID_ROWS_MAX ? PW_GRID_ROWS_MAX : (int)steps * ROWS_STEP;
}

int pw_rack_grid_init(struct pw_rack_grid *g, const struct pw_rack *rack, int n_slots, struct pw_arena *arena)
{
  memset(g, 0, sizeof *g);
  g->n_x = pw_rack_grid_rows(rack->length_m);
  g->n_slots = n_slots;
  g->n_zones = rack->n_zones < 1 ? 1 : rack->n_zones;
  g->length_m = rack->length_m;
  g->cell_x_m = rack->length_m / g->n_x;
  g->cell_y_m = rack->depth_m / PW_GRID_CELLS_Y;
  g->arena = arena;
  g->has_blocked = rack->outline == PW_DISC;
  size_t n_x = (size_t)g->n_x, n_zones = (size_t)g->n_zones, n_t = (size_t)n_slots;
  g->blocked = pw_arena_array(arena, n_x, sizeof *g->blocked);
  g->open_cells = pw_arena_array(arena, n_zones, sizeof *g->open_cells);
  g->used_cells = pw_arena_array(arena, n_zones * n_t + 1, sizeof *g->used_cells);
  if (!g->blocked || !g->open_cells || !g->used_cells)
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

static uint64_t run(int y, int n) { return ((UINT64_C(1) << n) - 1) << y; }

/* low corners of c that a disc's outline rules out: a run of free cells that starts there is too short.
 * Halving intersects shifted copies. */
static void free_of_outline(const struct pw_rack_grid *g, struct pw_cells c, uint64_t *out)
{
  int n = c.to + c.x - c.from;
  uint64_t *at = out + c.from;
  for (int i = 0; i < n; i++)
    at[i] = ~g->blocked[c.from + i] & FULL;
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

/* removes the low corners of c at which it would overlap an n_x by n_y footprint at (x, y) */
static void rule_out(uint64_t *origins, struct pw_cells c, int x, int y, int n_x, int n_y)
{
  int x0 = x - c.x + 1 > c.from ? x - c.x + 1 : c.from, x1 = x + n_x - 1 < c.to ? x + n_x - 1 : c.to;
  int y0 = y - c.y + 1 > 0 ? y - c.y + 1 : 0;
  uint64_t m = ~run(y0, y + n_y - y0);
  for (int i = x0; i <= x1; i++)
    origins[i] &= m;
}

void pw_rack_grid_free(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, uint64_t *out)
{
  if (g->has_blocked) {
    free_of_outline(g, c, out);
  } else {
    uint64_t all = run(0, PW_GRID_CELLS_Y - c.y + 1);
    for (int i = c.from; i <= c.to; i++)
      out[i] = all;
  }
  for (size_t k = 0; k < g->n_laid; k++) {
    const struct pw_laid *l = &g->laid[k];
    if (l->from < b && l->to > a)
      rule_out(out, c, l->x, l->y, l->n_x, l->n_y);
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

static int overlap(int a, int b, int c, int d)
{
  int from = a > c ? a : c, to = b < d ? b : d;
  return to > from ? to - from : 0;
}

/* weights of contact, found by trial on the bench's problems */
enum { SIDE = 2, SAME_HOUR = 1, STACK_DIVISOR = 8 };

/* how snugly a footprint would lie at (x, y) in [a, b): its sides along what lies there and along the rack's edges,
 * hour by hour, most beside what comes or goes with it; and where it follows, or is followed, without a pause */
static int snugness(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y)
{
  int edges = (x == 0 || x + c.x == g->n_x ? c.y : 0) + (y == 0 || y + c.y == PW_GRID_CELLS_Y ? c.x : 0);
  int score = (SIDE + SAME_HOUR) * (b - a) * edges;
  for (size_t k = 0; k < g->n_laid; k++) {
    const struct pw_laid *l = &g->laid[k];
    int slots = overlap(a, b, l->from, l->to);
    if (slots == 0) {
      if (l->to == a || l->from == b)
        score += overlap(x, x + c.x, l->x, l->x + l->n_x) * overlap(y, y + c.y, l->y, l->y + l->n_y) / STACK_DIVISOR;
      continue;
    }
    int weight = slots * (SIDE + SAME_HOUR * ((l->from == a) + (l->to == b)));
    if (l->x + l->n_x == x || x + c.x == l->x)
      score += weight * overlap(y, y + c.y, l->y, l->y + l->n_y);
    else if (l->y + l->n_y == y || y + c.y == l->y)
      score += weight * overlap(x, x + c.x, l->x, l->x + l->n_x);
  }
  return score;
}

bool pw_rack_grid_snug(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, const uint64_t *origins, int *x,
                       int *y)
{
  int best = -1;
  for (int i = c.from; i <= c.to; i++) {
    uint64_t o = origins[i];
    /* corners of what is free: nowhere else does it touch on two sides */
    uint64_t beside = ~(i > c.from ? origins[i - 1] : 0) | ~(i < c.to ? origins[i + 1] : 0);
    uint64_t corners = o & (~(o << 1) | ~(o >> 1)) & beside;
    for (; corners; corners &= corners - 1) {
      int j = __builtin_ctzll(corners), score = snugness(g, a, b, c, i, j);
      if (score > best) {
        best = score;
        *x = i;
        *y = j;
      }
    }
  }
  return best >= 0;
}

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
  if (pw_arena_grow(g->arena, &g->laid, &g->cap_laid, g->n_laid, sizeof *g->laid)) {
    g->is_out_of_memory = true;
    return;
  }
  g->laid[g->n_laid++] = (struct pw_laid){a, b, (short)x, (short)y, (short)c.x, (short)c.y};
  count(g, a, b, c, x, 1);
}

void pw_rack_grid_take(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y)
{
  for (size_t k = g->n_laid; k-- > 0;) {
    const struct pw_laid *l = &g->laid[k];
    if (l->x == x && l->y == y && l->from == a && l->to == b) {
      g->laid[k] = g->laid[--g->n_laid];
      count(g, a, b, c, x, -1);
      return;
    }
  }
}

void pw_rack_grid_clear(struct pw_rack_grid *g)
{
  g->n_laid = 0;
  memset(g->used_cells, 0, (size_t)g->n_zones * (size_t)g->n_slots * sizeof *g->used_cells);
}

void pw_rack_grid_bar(uint64_t *origins, struct pw_cells c, struct pw_cells d, int x, int y)
{
  rule_out(origins, c, x, y, d.x, d.y);
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
