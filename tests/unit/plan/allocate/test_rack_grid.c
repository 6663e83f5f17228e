/* The rack grid against plain rectangles: every free origin, at every step of random puts and takes; discs; and
 * published storage problems placed on it. */
#include "dice.h"
#include "harness.h"

#include "plan/allocate/rack_grid.h"

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

enum { SLOTS = 7, PIECES = 30 };

struct placed {
  int a, b, x, y;
  struct pw_cells c;
};

static bool is_free(const struct placed *p, int n, int a, int b, struct pw_cells c, int x, int y)
{
  for (int i = 0; i < n; i++)
    if (p[i].a < b && a < p[i].b && p[i].x < x + c.x && x < p[i].x + p[i].c.x && p[i].y < y + c.y &&
        y < p[i].y + p[i].c.y)
      return false;
  return true;
}

static struct pw_rack rack_of(enum pw_outline outline, double length_m, double depth_m, int n_zones)
{
  return (struct pw_rack){.outline = outline, .length_m = length_m, .depth_m = depth_m, .n_zones = n_zones};
}

/* the whole rack as one zone */
static struct pw_cells cells(const struct pw_rack_grid *g, double length_m, double depth_m)
{
  return pw_rack_grid_cells(g, 0, g->length_m, length_m, depth_m);
}

static int zone_row(const struct pw_rack_grid *g, int k) { return g->n_x * k / g->n_zones; }

static void check_origins(const struct pw_rack_grid *g, const struct placed *p, int n, int a, int b, struct pw_cells c,
                          const uint64_t *at)
{
  int first_x = -1, first_y = -1, x, y;
  for (int i = c.from; i <= c.to; i++) {
    uint64_t want = 0;
    for (int j = 0; j < PW_GRID_CELLS_Y; j++)
      if (i + c.x <= g->n_x && j + c.y <= PW_GRID_CELLS_Y && is_free(p, n, a, b, c, i, j)) {
        want |= UINT64_C(1) << j;
        if (first_x < 0)
          first_x = i, first_y = j;
      }
    ck_assert_msg(at[i] == want, "row %d: %llx, want %llx", i, (unsigned long long)at[i], (unsigned long long)want);
  }
  bool is_any = pw_rack_grid_first(c, at, &x, &y);
  ck_assert_int_eq(is_any, first_x >= 0);
  if (is_any)
    ck_assert(x == first_x && y == first_y);
  ck_assert_int_eq(pw_rack_grid_snug(g, a, b, c, at, &x, &y), is_any);
  if (is_any) {
    ck_assert_msg(at[x] >> y & 1, "snug at %d, %d, which is not free", x, y);
    bool is_held_x = x == c.from || x == c.to || !(at[x - 1] >> y & 1) || !(at[x + 1] >> y & 1);
    bool is_held_y = y == 0 || y + c.y == PW_GRID_CELLS_Y || !(at[x] >> (y - 1) & 1) || !(at[x] >> (y + 1) & 1);
    ck_assert_msg(is_held_x && is_held_y, "%d, %d is no corner", x, y);
  }
}

/* random puts and takes; all origins of a random footprint and time are compared at every step */
START_TEST(free_put_and_take)
{
  struct pw_rack_grid g;
  state = 31u + (unsigned)_i;
  struct pw_rack rack = rack_of(PW_RECTANGLE, _i % 2 ? 0.7 : 1.3, 0.75, 1 + _i % 3);
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, SLOTS, ctx->arena), 0);
  ck_assert_int_eq(g.n_x, _i % 2 ? 60 : 120);
  struct placed p[PIECES];
  int n = 0, most = 0;
  for (int step = 0; step < 90; step++) {
    int a = below(SLOTS), b = a + 1 + below(SLOTS - a);
    double zone_m = rack.length_m / rack.n_zones, zone_x_m = below(rack.n_zones) * zone_m,
           length_m = 0.03 + 0.01 * below(60);
    struct pw_cells c = pw_rack_grid_cells(&g, zone_x_m, zone_m, length_m, 0.03 + 0.01 * below(60));
    if (!c.is_fitting)
      continue; /* its middle cannot lie in an end zone shorter than half of it */
    ck_assert(c.from >= 0 && c.to + c.x <= g.n_x);
    for (int i = 0; i + c.x <= g.n_x; i++) {
      double middle_m = i * g.cell_x_m + length_m / 2, inside = fmin(middle_m - zone_x_m, zone_x_m + zone_m - middle_m);
      if (fabs(inside) > 1e-6)
        ck_assert_int_eq(i >= c.from && i <= c.to, inside > 0);
    }
    uint64_t at[PW_GRID_ROWS_MAX];
    pw_rack_grid_free(&g, a, b, c, at);
    check_origins(&g, p, n, a, b, c, at);
    int x = c.from + below(c.to - c.from + 1), y = below(PW_GRID_CELLS_Y - c.y + 1);
    if (!(at[x] >> y & 1) && !pw_rack_grid_first(c, at, &x, &y))
      x = -1;
    if (x >= 0 && n < PIECES && below(3)) {
      pw_rack_grid_put(&g, a, b, c, x, y);
      p[n++] = (struct placed){a, b, x, y, c};
    } else if (n > 0) {
      int k = below(n);
      pw_rack_grid_take(&g, p[k].a, p[k].b, p[k].c, p[k].x, p[k].y);
      p[k] = p[--n];
    }
    most = n > most ? n : most;
    for (int z = 0; z < rack.n_zones; z++)
      for (int t = 0; t < SLOTS; t++) {
        int used = 0, low = zone_row(&g, z), high = zone_row(&g, z + 1);
        for (int i = 0; i < n; i++) {
          int from = p[i].x > low ? p[i].x : low, to = p[i].x + p[i].c.x < high ? p[i].x + p[i].c.x : high;
          used += p[i].a <= t && t < p[i].b && to > from ? (to - from) * p[i].c.y : 0;
        }
        ck_assert_int_eq(g.used_cells[z * SLOTS + t], used);
      }
  }
  ck_assert_int_ge(most, 4);
}
END_TEST

/* origins barred by a piece are those that are gone when the piece is put */
START_TEST(bar_is_put_and_free_again)
{
  struct pw_rack_grid g;
  state = 500u + (unsigned)_i;
  struct pw_rack rack = rack_of(PW_RECTANGLE, _i % 2 ? 0.7 : 0.9, 0.6, 1);
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, 2, ctx->arena), 0);
  for (int n = 0; n < 12; n++) {
    struct pw_cells c = cells(&g, 0.02 + 0.01 * below(40), 0.02 + 0.01 * below(40));
    struct pw_cells d = cells(&g, 0.02 + 0.01 * below(30), 0.02 + 0.01 * below(30));
    uint64_t at[PW_GRID_ROWS_MAX], after[PW_GRID_ROWS_MAX], where[PW_GRID_ROWS_MAX];
    int x, y;
    pw_rack_grid_free(&g, 0, 2, c, at);
    pw_rack_grid_free(&g, 0, 2, d, where);
    if (!pw_rack_grid_first(d, where, &x, &y))
      break;
    int rx = below(d.to + 1), ry = below(PW_GRID_CELLS_Y);
    if (where[rx] >> ry & 1)
      x = rx, y = ry;
    pw_rack_grid_put(&g, 0, 2, d, x, y);
    pw_rack_grid_bar(at, c, d, x, y);
    pw_rack_grid_free(&g, 0, 2, c, after);
    ck_assert(memcmp(at, after, ((size_t)c.to + 1) * sizeof *at) == 0);
  }
}
END_TEST

/* by hand, on a rack of 60 by 60 cells, everything 20 by 20 */
static const struct {
  const char *name;
  int n;
  struct {
    int from, to, x, y;
  } laid[9];
  int from, to, x, y; /* x -1: no room */
} snug[] = {
    {"an empty rack: the corner at the hot end", 0, {{0}}, 0, 2, 0, 0},
    {"a nook between two", 2, {{0, 2, 0, 0}, {0, 2, 40, 0}}, 0, 2, 20, 0},
    {"beside what comes and goes with it", 2, {{0, 4, 0, 0}, {0, 2, 40, 40}}, 0, 2, 20, 40},
    {"where another has just left", 1, {{0, 2, 40, 0}}, 2, 4, 40, 0},
    {"where another comes just after", 1, {{4, 6, 40, 40}}, 2, 4, 40, 40},
    {"not where another left long before", 1, {{0, 1, 40, 0}}, 2, 4, 0, 0},
    {"full", 4, {{0, 2, 10, 10}, {0, 2, 10, 30}, {0, 2, 30, 10}, {0, 2, 30, 30}}, 0, 2, -1, -1},
};

START_TEST(snug_by_hand)
{
  struct pw_rack_grid g;
  struct pw_rack rack = rack_of(PW_RECTANGLE, 0.75, 0.75, 1);
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, SLOTS, ctx->arena), 0);
  struct pw_cells c = cells(&g, 0.25, 0.25);
  ck_assert(c.x == 20 && c.y == 20);
  for (int k = 0; k < snug[_i].n; k++)
    pw_rack_grid_put(&g, snug[_i].laid[k].from, snug[_i].laid[k].to, c, snug[_i].laid[k].x, snug[_i].laid[k].y);
  uint64_t at[PW_GRID_ROWS_MAX];
  int x = -1, y = -1;
  pw_rack_grid_free(&g, snug[_i].from, snug[_i].to, c, at);
  ck_assert_int_eq(pw_rack_grid_snug(&g, snug[_i].from, snug[_i].to, c, at, &x, &y), snug[_i].x >= 0);
  ck_assert_msg(x == snug[_i].x && y == snug[_i].y, "%s: %d, %d", snug[_i].name, x, y);
}
END_TEST

/* a disc: an origin is free when all four corners of the piece lie in the circle */
START_TEST(disc_outline)
{
  static const int n_zones[] = {1, 2, 2, 3}, nth[] = {0, 0, 1, 1};
  static const double piece[][2] = {{0.02, 0.02}, {0.3, 0.2}, {0.19, 0.5}, {0.3, 0.7}, {0.12, 0.85}};
  double diameter = 0.9, r = diameter / 2;
  struct pw_rack_grid g;
  struct pw_rack rack = rack_of(PW_DISC, diameter, diameter, n_zones[_i]);
  double zone_m = diameter / n_zones[_i];
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, 1, ctx->arena), 0);
  int n_free = 0, n_barred = 0;
  for (size_t k = 0; k < sizeof piece / sizeof piece[0]; k++) {
    struct pw_cells c = pw_rack_grid_cells(&g, nth[_i] * zone_m, zone_m, piece[k][0], piece[k][1]);
    uint64_t at[PW_GRID_ROWS_MAX];
    if (!c.is_fitting)
      continue;
    pw_rack_grid_free(&g, 0, 1, c, at);
    for (int i = c.from; i <= c.to; i++)
      for (int j = 0; j + c.y <= PW_GRID_CELLS_Y; j++) {
        double far = 0;
        for (int corner = 0; corner < 4; corner++)
          far = fmax(
              far, hypot((i + (corner & 1 ? c.x : 0)) * g.cell_x_m - r, (j + (corner & 2 ? c.y : 0)) * g.cell_y_m - r));
        if (fabs(far - r) < 1e-7)
          continue; /* on the rim either answer is right */
        ck_assert_int_eq((int)(at[i] >> j & 1), far < r);
        n_free += far < r;
        n_barred += far > r;
      }
  }
  ck_assert(n_free > 100 && n_barred > 100);
}
END_TEST

/* pieces that just fit side by side still do, on sizes that binary fractions do not hit */
static const double sizes_m[] = {0.3, 0.61, 0.7, 0.762, 1.1, 1.219, 1.83};
START_TEST(just_fitting_pieces_fit)
{
  struct pw_rack_grid g;
  double size = sizes_m[_i];
  struct pw_rack rack = rack_of(PW_RECTANGLE, size, size, 1);
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, 1, ctx->arena), 0);
  for (int k = 1; k <= 6; k++) {
    double one = size / k, more = one * 1.0001;
    struct pw_cells c = cells(&g, one, one), d = cells(&g, more, more);
    ck_assert(c.is_fitting);
    ck_assert_int_eq(g.n_x / c.x, k);
    ck_assert_int_eq(PW_GRID_CELLS_Y / c.y, k);
    ck_assert_int_eq(d.is_fitting, k > 1);
    if (k > 1)
      ck_assert(g.n_x / d.x == k - 1 && PW_GRID_CELLS_Y / d.y == k - 1);
  }
}
END_TEST

/* ---- storage over time: one dimension along the depth of a zone, the other is time ---- */

struct store {
  int from, to, size;
};

/* Items, capacity, answer: tests/solver_test.cc ("InfeasibleTricky" and its neighbours) and examples/input.12.csv of
 * the minimalloc project (Apache-2.0).  In the seven-item case no slot holds more than 4, yet 4 is not enough. */
static const struct store seven[] = {{0, 1, 3}, {0, 3, 1}, {4, 5, 3}, {2, 5, 1}, {1, 2, 2}, {3, 4, 2}, {1, 4, 1}};
static const struct store five[] = {{1, 2, 1}, {0, 2, 1}, {2, 3, 2}, {1, 3, 1}, {0, 1, 2}};
static const struct store twelve[] = {{0, 3, 4}, {3, 9, 4}, {0, 9, 4}, {9, 21, 4}, {0, 21, 4}};
static const struct {
  const char *name;
  const struct store *item;
  int n, capacity, peak;
  bool fits;
} stores[] = {
    {"seven items in 4", seven, 7, 4, 4, false},
    {"seven items in 5", seven, 7, 5, 4, true},
    {"five items in 3", five, 5, 3, 3, true},
    {"input.12 in 12", twelve, 5, 12, 12, true},
};

/* sizes are whole, so pushing everything down leads to whole offsets: those are all that need trying */
static bool place(struct pw_rack_grid *g, const struct store *item, int n, int k, int unit)
{
  if (k == n)
    return true;
  struct pw_cells c = {g->n_x, item[k].size * unit, 0, 0, true};
  uint64_t at[PW_GRID_ROWS_MAX];
  pw_rack_grid_free(g, item[k].from, item[k].to, c, at);
  for (int y = 0; y < PW_GRID_CELLS_Y; y += unit)
    if (at[0] >> y & 1) {
      pw_rack_grid_put(g, item[k].from, item[k].to, c, 0, y);
      bool ok = place(g, item, n, k + 1, unit);
      pw_rack_grid_take(g, item[k].from, item[k].to, c, 0, y);
      if (ok)
        return true;
    }
  return false;
}

START_TEST(dynamic_storage)
{
  struct pw_rack_grid g;
  int unit = PW_GRID_CELLS_Y / stores[_i].capacity, peak = 0;
  struct pw_rack rack = rack_of(PW_RECTANGLE, 0.5, 0.6, 1);
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, 21, ctx->arena), 0);
  for (int t = 0; t < 21; t++) {
    int load = 0;
    for (int i = 0; i < stores[_i].n; i++)
      load += stores[_i].item[i].from <= t && t < stores[_i].item[i].to ? stores[_i].item[i].size : 0;
    peak = load > peak ? load : peak;
  }
  ck_assert_int_eq(peak, stores[_i].peak);
  ck_assert_msg(place(&g, stores[_i].item, stores[_i].n, 0, unit) == stores[_i].fits, "%s", stores[_i].name);
}
END_TEST

/* Berkey, Wang, J. Oper. Res. Soc. 38 (1987), class 01, n = 20, instance 1: bins of 10 x 10, no turning, 8 are needed and
 * enough (packingsolver project's data, MIT licence).  A slot of the grid is a bin; each piece goes to the first free place. */
static const int berkey_wang[20][2] = {{5, 9}, {4, 2},  {10, 6}, {5, 7}, {6, 3}, {10, 7}, {1, 5},
                                       {3, 5}, {6, 9},  {2, 4},  {6, 7}, {7, 2}, {8, 3},  {4, 10},
                                       {4, 5}, {10, 3}, {8, 3},  {7, 8}, {8, 3}, {8, 7}};

START_TEST(berkey_wang_bins)
{
  enum { N = 20, ORDERS = 40, UNIT = PW_GRID_CELLS_Y / 10 };
  struct pw_rack rack = rack_of(PW_RECTANGLE, 0.6, 0.6, 1);
  int least = N, at_once = 0;
  state = 1;
  for (int k = 0; k < ORDERS; k++) {
    struct pw_rack_grid g;
    int order[N], used = 0;
    ck_assert_int_eq(pw_rack_grid_init(&g, &rack, N, ctx->arena), 0);
    for (int i = 0; i < N; i++)
      order[i] = i;
    for (int i = 1; i < N; i++) /* by area */
      for (int j = i; j > 0 && berkey_wang[order[j]][0] * berkey_wang[order[j]][1] >
                                   berkey_wang[order[j - 1]][0] * berkey_wang[order[j - 1]][1];
           j--) {
        int swap = order[j];
        order[j] = order[j - 1], order[j - 1] = swap;
      }
    for (int s = 0; s < 2 * k; s++) { /* and two neighbours changed, more often each time */
      int i = below(N - 1), swap = order[i];
      order[i] = order[i + 1], order[i + 1] = swap;
    }
    for (int i = 0; i < N; i++) {
      struct pw_cells c = cells(&g, 0.06 * berkey_wang[order[i]][0], 0.06 * berkey_wang[order[i]][1]);
      uint64_t at[PW_GRID_ROWS_MAX];
      int bin = 0, x, y;
      ck_assert(c.is_fitting && c.x == UNIT * berkey_wang[order[i]][0] && c.y == UNIT * berkey_wang[order[i]][1]);
      while (pw_rack_grid_free(&g, bin, bin + 1, c, at), !pw_rack_grid_first(c, at, &x, &y))
        ck_assert_int_lt(++bin, N);
      pw_rack_grid_put(&g, bin, bin + 1, c, x, y);
      used = bin + 1 > used ? bin + 1 : used;
    }
    at_once = k == 0 ? used : at_once;
    least = used < least ? used : least;
  }
  ck_assert_msg(least == 8, "%d bins, 8 are needed and enough", least);
  ck_assert_msg(at_once <= 9, "%d bins by area alone", at_once);
}
END_TEST

/* An 80 x 29 in rack in three zones, pieces of 21.5 x 13.5 in: three lengths, two abreast, and the 15.5 in that are
 * left take a seventh turned across.  Zones as fences, 26.7 in each, hold two each, by hand. */
START_TEST(pieces_reach_over_zones)
{
  const double inch_m = 0.0254;
  struct pw_rack_grid g;
  struct pw_rack rack = rack_of(PW_RECTANGLE, 80 * inch_m, 29 * inch_m, 3);
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, 1, ctx->arena), 0);
  int n = 0, per_zone[3] = {0};
  for (int turned = 0; turned < 2; turned++)
    for (int z = 0; z < 3; z++) {
      struct pw_cells c = pw_rack_grid_cells(&g, z * rack.length_m / 3, rack.length_m / 3,
                                             (turned ? 13.5 : 21.5) * inch_m, (turned ? 21.5 : 13.5) * inch_m);
      uint64_t at[PW_GRID_ROWS_MAX];
      int x, y;
      pw_rack_grid_free(&g, 0, 1, c, at);
      while (pw_rack_grid_first(c, at, &x, &y)) {
        int room = pw_rack_grid_room(&g, z, 0, 1, c.x * c.y, (c.x + 1) / 2, 99);
        ck_assert_int_ge(room, 1); /* the quick estimate never says full before it is */
        pw_rack_grid_put(&g, 0, 1, c, x, y);
        pw_rack_grid_bar(at, c, c, x, y);
        per_zone[z]++;
        n++;
      }
    }
  ck_assert_int_eq(n, 7);
  for (int z = 0; z < 3; z++)
    ck_assert_int_ge(per_zone[z], 2);
}
END_TEST

START_TEST(memory_runs_out)
{
  struct pw_rack_grid g;
  struct pw_rack rack = rack_of(PW_RECTANGLE, 1, 1, 2);
  for (long k = 1; k <= 3; k++) {
    pw_arena_fail_at(ctx->arena, k);
    ck_assert_int_eq(pw_rack_grid_init(&g, &rack, 5, ctx->arena), -1);
    pw_arena_fail_at(ctx->arena, 0);
  }
  ck_assert_int_eq(pw_rack_grid_init(&g, &rack, 5, ctx->arena), 0);
  struct pw_cells c = cells(&g, 0.1, 0.1);
  pw_arena_fail_at(ctx->arena, 1);
  pw_rack_grid_put(&g, 0, 2, c, 0, 0);
  pw_arena_fail_at(ctx->arena, 0);
  ck_assert(g.is_out_of_memory);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("rack grid");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, free_put_and_take, 0, 12);
  tcase_add_loop_test(t, bar_is_put_and_free_again, 0, 40);
  tcase_add_loop_test(t, snug_by_hand, 0, (int)(sizeof snug / sizeof snug[0]));
  tcase_add_loop_test(t, disc_outline, 0, 4);
  tcase_add_loop_test(t, just_fitting_pieces_fit, 0, (int)(sizeof sizes_m / sizeof sizes_m[0]));
  tcase_add_test(t, berkey_wang_bins);
  tcase_add_loop_test(t, dynamic_storage, 0, 4);
  tcase_add_test(t, pieces_reach_over_zones);
  tcase_add_test(t, memory_runs_out);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
