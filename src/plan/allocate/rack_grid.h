/* rack_grid.h - what lies where on one rack, and when; free places as bit maps.
 *
 * A rack is cut into n_x rows along the pit and 60 cells across it (60 divides by 1 to 6, so that pieces
 * which just fit side by side still do).  A footprint is rounded up to whole cells, so two pieces that
 * share no cell cannot overlap in the real world; the judge checks that with real rectangles.
 * A piece belongs to the zone its middle lies in and may reach over into the next: a zone is a stretch of
 * temperature, not a fence. */
#ifndef PW_RACK_GRID_H
#define PW_RACK_GRID_H

#include "pw/plan.h"

#include <stddef.h>
#include <stdint.h>

struct pw_arena;

enum { PW_GRID_CELLS_Y = 60, PW_GRID_ROWS_MAX = 480 };

struct pw_laid { /* a footprint on the rack in slots [from, to), low corner in cell (x, y) */
  int from, to;
  short x, y, n_x, n_y;
};

struct pw_rack_grid {
  int n_x, n_slots, n_zones;
  double length_m, cell_x_m, cell_y_m;
  bool has_blocked;     /* a disc */
  struct pw_laid *laid; /* in any order */
  size_t n_laid, cap_laid;
  struct pw_arena *arena;
  bool is_out_of_memory; /* a footprint could not be remembered: nothing here is true any more */
  uint64_t *blocked;     /* [row] outside a disc's outline */
  int *open_cells;       /* [zone of the rack] cells inside the outline */
  int *used_cells;       /* [zone of the rack][slot]: cells taken by pieces */
};

/** A footprint in cells of one rack, for one of its zones.  Low corners in rows [from, to] put the piece's
 *  middle into the zone and keep it on the rack; is_fitting is false when there is no such row or the piece
 *  is too deep. */
struct pw_cells {
  int x, y, from, to;
  bool is_fitting;
};

/** How many rows a rack of this length is cut into. */
int pw_rack_grid_rows(double length_m);

/** Prepares a grid for a rack with n_zones equal zones; for a disc the cells outside the circle are blocked.
 *  Returns 0, or -1 when memory is out. */
int pw_rack_grid_init(struct pw_rack_grid *g, const struct pw_rack *rack, int n_slots, struct pw_arena *arena);

/** Footprint length (along the pit) x depth in cells, for the zone that reaches from x_m on for zone_length_m. */
struct pw_cells pw_rack_grid_cells(const struct pw_rack_grid *g, double zone_x_m, double zone_length_m, double length_m,
                                   double depth_m);

/** Free origins for one stage: every bit set in out[row], row in [c.from, c.to], is a cell where a footprint of `c`
 *  may have its low corner during slots [a, b).  Other rows are not written; out has room for PW_GRID_ROWS_MAX. */
void pw_rack_grid_free(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, uint64_t *out);

/** First free origin of those, nearest the hot end.  Returns false when there is none. */
bool pw_rack_grid_first(struct pw_cells c, const uint64_t *origins, int *x, int *y);

/** Of the corners of those origins the one where a piece that lies there during [a, b) is snuggest: longest in touch
 *  with its neighbours and the rack's edges, most of all beside what comes or goes at the same time, or just after or
 *  before another on the same spot; of equals the one nearest the hot end.  Returns false when there is none. */
bool pw_rack_grid_snug(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, const uint64_t *origins, int *x,
                       int *y);

void pw_rack_grid_put(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y);
void pw_rack_grid_take(struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y);

/** Takes everything off. */
void pw_rack_grid_clear(struct pw_rack_grid *g);

/** Removes from `origins` (made for footprint c) those that a piece of footprint d at (x, y) rules out. */
void pw_rack_grid_bar(uint64_t *origins, struct pw_cells c, struct pw_cells d, int x, int y);

/** At most so many pieces of footprint c can still go into zone k during [a, b), by cells alone; at most `most`. */
int pw_rack_grid_room(const struct pw_rack_grid *g, int k, int a, int b, int cells, int reach_x, int most);

#endif
