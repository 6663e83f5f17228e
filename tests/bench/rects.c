/* rects.c - how near the rack grid comes on rectangles with known answers: rects [ORDERS].
 * A slot of the grid is a bin (or, for storage, an hour); each item goes to the snuggest place of the first bin with
 * room, as the search places a piece; the best of ORDERS orders counts: by area, then by length, then shuffled a
 * little.  No turning.
 *   bins     classes I to VI of Berkey, Wang, J. Oper. Res. Soc. 38 (1987), drawn from the published intervals with a seed of
 *            our own; ten of each size.  Bound: area, or items that exclude each other.
 *   storage  items with fixed hours that fill every hour to the brim (peak = capacity), made by cutting a full store up, so that
 *            a packing without waste is known.
 *   racks    a rack cut up without waste, likewise.
 * Lengths are rounded up to the grid's cells, 60 across: bins of 40, 100, 300 lose by that. */
#include "base/arena.h"
#include "plan/allocate/rack_grid.h"
#include "pw/status.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 100, BINS = 100, INSTANCES = 10, CELLS = PW_GRID_CELLS_Y };

struct item {
  double x, y;  /* size */
  int from, to; /* storage: hours */
};

static uint64_t state;

static int below(int n)
{
  state = state * 6364136223846793005u + 1442695040888963407u;
  return (int)((state >> 33) % (uint64_t)n);
}

static const struct item *g_items;
static const double *g_key;

static int by_key(const void *pa, const void *pb)
{
  int a = *(const int *)pa, b = *(const int *)pb;
  if (g_key[a] != g_key[b])
    return g_key[a] > g_key[b] ? -1 : 1;
  return a - b;
}

/* The first order goes by area, the second by the longer side, the rest by area shaken up to a half. */
static void make_order(int *order, double *key, int n, int nth)
{
  for (int i = 0; i < n; i++) {
    double area = g_items[i].x * g_items[i].y * (g_items[i].to - g_items[i].from);
    key[i] = nth == 1 ? fmax(g_items[i].x, g_items[i].y) : area * (nth < 2 ? 1 : 0.5 + below(1000) / 1000.0);
    order[i] = i;
  }
  g_key = key;
  qsort(order, (size_t)n, sizeof *order, by_key);
}

static bool put_snug(struct pw_rack_grid *g, int a, int b, struct pw_cells c)
{
  uint64_t at[PW_GRID_ROWS_MAX];
  int x, y;
  if (!c.is_fitting)
    return false;
  pw_rack_grid_free(g, a, b, c, at);
  if (!pw_rack_grid_snug(g, a, b, c, at, &x, &y))
    return false;
  pw_rack_grid_put(g, a, b, c, x, y);
  return true;
}

/* Bins used by the best of the orders; `is_timed`: items that find no place at their hours, at the least. */
static int pack(const struct item *items, int n, double size, int n_slots, bool is_timed, int orders)
{
  int best = n + 1, order[MOST];
  double key[MOST];
  struct pw_rack rack = {.outline = PW_RECTANGLE, .length_m = 0.6, .depth_m = 0.6, .n_zones = 1};
  g_items = items;
  for (int k = 0; k < orders && best > 0; k++) {
    struct pw_arena *arena = pw_arena_open();
    struct pw_rack_grid g;
    int used = 0, missed = 0;
    if (!arena || pw_rack_grid_init(&g, &rack, n_slots, arena))
      exit(1);
    make_order(order, key, n, k);
    for (int i = 0; i < n; i++) {
      const struct item *it = &items[order[i]];
      struct pw_cells c = pw_rack_grid_cells(&g, 0, 0.6, 0.6 * it->x / size, 0.6 * it->y / size);
      int bin = 0;
      if (is_timed) {
        missed += !put_snug(&g, it->from, it->to, c);
        continue;
      }
      while (bin < n_slots && !put_snug(&g, bin, bin + 1, c))
        bin++;
      used = bin + 1 > used ? bin + 1 : used;
    }
    best = is_timed ? (missed < best ? missed : best) : used < best ? used : best;
    pw_arena_close(arena);
  }
  return best;
}

static int bound(const struct item *items, int n, double size)
{
  double area = 0;
  int large = 0;
  for (int i = 0; i < n; i++) {
    area += items[i].x * items[i].y;
    large += items[i].x > size / 2 && items[i].y > size / 2; /* no two of these in one bin */
  }
  int by_area = (int)ceil(area / (size * size) - 1e-9);
  return by_area > large ? by_area : large;
}

static void bins(int orders)
{
  static const struct {
    int most, size;
  } classes[] = {{10, 10}, {10, 30}, {35, 40}, {35, 100}, {100, 100}, {100, 300}};
  printf("Berkey and Wang's classes, %d instances of each: bins used / bound, best of %d orders\n%5s", INSTANCES,
         orders, "n");
  for (int c = 0; c < 6; c++)
    printf("   class %d", c + 1);
  printf("\n");
  for (int n = 20; n <= MOST; n += 40) {
    printf("%5d", n);
    for (int c = 0; c < 6; c++) {
      int used = 0, least = 0;
      for (int k = 0; k < INSTANCES; k++) {
        struct item items[MOST];
        state = (uint64_t)(10000 * n + 100 * c + k);
        for (int i = 0; i < n; i++)
          items[i] = (struct item){1 + below(classes[c].most), 1 + below(classes[c].most), 0, 1};
        used += pack(items, n, classes[c].size, BINS, false, orders);
        least += bound(items, n, classes[c].size);
      }
      printf("  %3d/%-3d", used, least);
    }
    printf("\n");
  }
}

/* Cuts a full rectangle (hours or length by cells) into n parts, always the largest, across its longer side or not. */
static void cut_up(struct item *items, int n, int hours, bool is_timed)
{
  int a[MOST], b[MOST], y[MOST];
  a[0] = 0, b[0] = hours, y[0] = CELLS;
  for (int k = 1; k < n;) {
    int big = 0;
    for (int i = 1; i < k; i++)
      if ((b[i] - a[i]) * y[i] > (b[big] - a[big]) * y[big])
        big = i;
    int span = b[big] - a[big];
    bool is_across = span > 1 && (y[big] < 2 || below(2) == 0);
    if (is_across) {
      int at = a[big] + 1 + below(span - 1);
      a[k] = at, b[k] = b[big], y[k] = y[big], b[big] = at;
    } else {
      int at = 1 + below(y[big] - 1);
      a[k] = a[big], b[k] = b[big], y[k] = y[big] - at, y[big] = at;
    }
    k++;
  }
  for (int i = 0; i < n; i++)
    items[i] = is_timed ? (struct item){CELLS, y[i], a[i], b[i]} : (struct item){b[i] - a[i], y[i], 0, 1};
}

static void perfect(const char *name, bool is_timed, int orders)
{
  printf("%s, %d instances of each: packed whole, items left out in all\n", name, INSTANCES);
  for (int n = 10; n <= 40; n *= 2) {
    int whole = 0, missed = 0;
    for (int k = 0; k < INSTANCES; k++) {
      struct item items[MOST];
      state = (uint64_t)(100 * n + k);
      int hours = is_timed ? 24 : CELLS;
      cut_up(items, n, hours, is_timed);
      int left = pack(items, n, CELLS, is_timed ? hours : 1, true, orders);
      whole += left == 0;
      missed += left;
    }
    printf("%5d %3d of %d %5d of %d\n", n, whole, INSTANCES, missed, INSTANCES * n);
  }
}

int main(int argc, char **argv)
{
  int orders = argc > 1 ? atoi(argv[1]) : 200;
  if (orders < 1)
    return 2;
  bins(orders);
  perfect("Storage filled to the brim at every hour", true, orders);
  perfect("Racks cut up without waste", false, orders);
  return 0;
}
