/* rack_grid.h - what lies where on one rack zone, slot by slot, as bit maps.
 *
 * A zone is cut into n_x rows along the pit and 60 cells across it (60 divides by 1 to 6, so that pieces
 * which just fit side by side still do).  A footprint is rounded up to whole cells, so two pieces that
 * share no cell cannot overlap in the real world; the judge checks that with real rectangles. */
#ifndef PW_RACK_GRID_H
#define PW_RACK_GRID_H

#include "pw/plan.h"

#include <stdint.h>

struct pw_arena;

enum { PW_GRID_CELLS_Y = 60, PW_GRID_ROWS_MAX = 120 };

struct pw_rack_grid {
  int n_x, n_slots;
  double cell_x_m, cell_y_m;
  uint64_t *bits;          /* [slot][row]: 1 = taken */
  uint64_t blocked[PW_GRID_ROWS_MAX]; /* outside a disc's outline */
  int blocked_cells;
  int *used_cells;         /* [slot]: cells taken by pieces */
};

/** A footprint in cells of one zone; is_fitting is false when it is larger than the zone. */
struct pw_cells {
  int x, y;
  bool is_fitting;
};

/** Prepares a grid for a zone of length x depth; for a disc the cells outside the circle are blocked.
 *  zone_x_m: where the zone begins on the rack.  Returns 0, or -1 when memory is out. */
int pw_rack_grid_init(struct pw_rack_grid *g, enum pw_outline outline, double rack_length_m, double zone_x_m,
                      double length_m, double depth_m, int n_slots, struct pw_arena *arena);

/** Footprint length (along the pit) x depth in cells. */
struct pw_cells pw_rack_grid_cells(const struct pw_rack_grid *g, double length_m, double depth_m);

/** Free origins for one stage: every bit set in out[row] is a cell where a footprint of `c` may have its low
 *  corner during slots [a, b). */
void pw_rack_grid_free(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, uint64_t *out);

/** First free origin, nearest the hot end.  Returns false when there is none. */
bool pw_rack_grid_first(const struct pw_rack_grid *g, const uint64_t *origins, int *x, int *y);

void pw_rack_grid_put(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y);
void pw_rack_grid_take(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y);

/** Removes from `origins` (made for footprint c) those that a piece of footprint d at (x, y) rules out. */
void pw_rack_grid_bar(const struct pw_rack_grid *g, uint64_t *origins, struct pw_cells c, struct pw_cells d, int x,
                      int y);

#endif
