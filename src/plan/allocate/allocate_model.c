/* allocate_model.c - rows and columns of the linear program.  See allocate_model.h for the letters. */
#include "plan/allocate/allocate_model.h"

#include "base/arena.h"
#include "plan/allocate/rack_grid.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct build {
  struct pw_al_model *model;
  const struct pw_al *al;
  struct pw_al_model_options options;
  double room_frac;          /* of racks, 1 for the bound */
  int *d1, *d2;              /* [gcs] shortest of the group's zones, PW_NONE where not allowed */
  double *off1, *off2;       /* [gcs] least of the group's zones */
  double *group_area;        /* [g] of one pit, all its zones, each with what pieces may reach over its ends */
  double reach_m;            /* half the longest piece along a rack */
  struct pw_rack_grid *grid; /* [r] the cells of a rack, as the search lays pieces; NULL: a guide, by true areas */
  int *row_a1;               /* [c] */
  int *row_a2;               /* [c * n_slots + t] */
  int *row_a4;               /* [((c * n_classes + k) * n_settings_max + s) * n_slots + t] */
  int *row_a3f, *row_a4f;    /* [f * n_slots + t], [(c * n_finishers + f) * n_slots + t] */
  int *row_a7, *row_a8;      /* [t] */
  int *row_a3t;              /* [kst of a rack group] */
  int turn_most;             /* [A3t] slots, of all lots */
  int *row_a12[2]; /* [(c * n_classes + k) * (n_slots + 1) + t] what goes on and comes off; where a pit cannot hold
                             the lot: what goes on, what comes off */
};

static const char *class_id(const struct build *b, int k) { return b->al->ev->pits[b->model->class_pit[k]].id; }
static const char *lot_id(const struct build *b, int c) { return b->al->lots->lots[c].id; }

static int *ints(struct pw_ctx *ctx, size_t n)
{
  int *p = pw_arena_array(ctx->arena, n + 1, sizeof *p);
  if (p)
    memset(p, -1, (n + 1) * sizeof *p);
  return p;
}

static bool is_shut(const struct pw_al *al, int p) { return al->ev->pits[p].is_rentable; }

static size_t gcs(const struct build *b, int g, int c, int s)
{
  return ((size_t)g * (size_t)b->al->n_lots + (size_t)c) * (size_t)b->al->n_settings_max + (size_t)s;
}

static const struct pw_rack *rack_of(const struct pw_al *al, int z)
{
  return &al->ev->pits[al->lots->zones[z].pit].racks[al->lots->zones[z].rack];
}

static bool is_same_rack_size(const struct pw_al *al, int y, int z)
{
  const struct pw_rack *r1 = rack_of(al, y), *r2 = rack_of(al, z);
  return fabs(r1->length_m - r2->length_m) < 1e-9 && fabs(r1->depth_m - r2->depth_m) < 1e-9 &&
         r1->outline == r2->outline && r1->n_zones == r2->n_zones;
}

/* whether zone z goes with zone y: racks of the same size, and stage times that agree closely enough */
static bool is_one_group(const struct build *b, int y, int z)
{
  const struct pw_al *al = b->al;
  if (!is_same_rack_size(al, y, z))
    return false;
  for (int c = 0; c < al->n_lots; c++)
    for (int s = 0; s < al->n_settings_max; s++) {
      size_t k1 = (size_t)y * (size_t)al->n_settings_max + (size_t)s,
             k2 = (size_t)z * (size_t)al->n_settings_max + (size_t)s;
      const struct pw_al_lot *lot = &al->lot[c];
      if ((lot->d1[k1] < 0) != (lot->d1[k2] < 0) || (lot->d2[k1] < 0) != (lot->d2[k2] < 0) ||
          abs(lot->d1[k1] - lot->d1[k2]) > b->options.merge_slots ||
          abs(lot->d2[k1] - lot->d2[k2]) > b->options.merge_slots)
        return false;
    }
  return true;
}

static void join(struct build *b, int g, int c, int s, int z, bool is_first)
{
  const struct pw_al_lot *lot = &b->al->lot[c];
  size_t zs = (size_t)z * (size_t)b->al->n_settings_max + (size_t)s, k = gcs(b, g, c, s);
  if (is_first || lot->d1[zs] < b->d1[k])
    b->d1[k] = lot->d1[zs];
  if (is_first || lot->d2[zs] < b->d2[k])
    b->d2[k] = lot->d2[zs];
  if (is_first || lot->off1[zs] < b->off1[k])
    b->off1[k] = lot->off1[zs];
  if (is_first || lot->off2[zs] < b->off2[k])
    b->off2[k] = lot->off2[zs];
}

static pw_status classes_make(struct build *b, struct pw_ctx *ctx)
{
  const struct pw_al *al = b->al;
  struct pw_al_model *model = b->model;
  model->class_pit = ints(ctx, (size_t)al->n_pits);
  model->class_n = ints(ctx, (size_t)al->n_pits);
  model->class_of_pit = ints(ctx, (size_t)al->n_pits);
  b->model->group_zone = ints(ctx, (size_t)al->n_zones);
  b->model->group_class = ints(ctx, (size_t)al->n_zones);
  b->group_area = pw_arena_array(ctx->arena, (size_t)al->n_zones + 1, sizeof *b->group_area);
  model->rack_zone = ints(ctx, (size_t)al->n_zones);
  model->rack_n = ints(ctx, (size_t)al->n_zones);
  model->rack_class = ints(ctx, (size_t)al->n_zones);
  model->group_rack = ints(ctx, (size_t)al->n_zones);
  model->group_of_zone = ints(ctx, (size_t)al->n_zones);
  if (!model->rack_zone || !model->rack_n || !model->rack_class || !model->group_rack || !model->group_of_zone)
    return PW_ERR_MEMORY;
  size_t n_gcs = (size_t)al->n_zones * (size_t)al->n_lots * (size_t)al->n_settings_max + 1;
  model->group_n = ints(ctx, (size_t)al->n_zones);
  b->d1 = ints(ctx, n_gcs);
  b->d2 = ints(ctx, n_gcs);
  b->off1 = pw_arena_array(ctx->arena, n_gcs, sizeof *b->off1);
  b->off2 = pw_arena_array(ctx->arena, n_gcs, sizeof *b->off2);
  if (!model->group_n || !b->d1 || !b->d2 || !b->off1 || !b->off2)
    return PW_ERR_MEMORY;
  if (!model->class_pit || !model->class_n || !model->class_of_pit || !b->model->group_zone || !b->model->group_class ||
      !b->group_area)
    return PW_ERR_MEMORY;
  for (int p = 0; p < al->n_pits; p++) {
    int first = al->ev->pits[p].alike;
    if (is_shut(al, p))
      continue;
    if (first != p && first >= 0 && first < p && model->class_of_pit[first] >= 0 && !is_shut(al, first)) {
      model->class_of_pit[p] = model->class_of_pit[first];
      model->class_n[model->class_of_pit[p]]++;
      continue;
    }
    int k = model->n_classes++, first_group = model->n_groups, first_rack = model->n_racks;
    model->class_pit[k] = p;
    model->class_n[k] = 1;
    model->class_of_pit[p] = k;
    for (int z = al->pit[p].zone_first; z < al->pit[p].zone_end; z++) {
      const struct pw_zone *zone = &al->lots->zones[z];
      int r = first_rack;
      while (r < model->n_racks && !is_same_rack_size(al, model->rack_zone[r], z))
        r++;
      if (r == model->n_racks) {
        model->rack_zone[r] = z;
        model->rack_class[r] = k;
        model->rack_n[r] = 0;
        model->n_racks++;
      }
      model->rack_n[r] += z == al->pit[p].zone_first || zone[-1].rack != zone->rack;
      int g = first_group;
      while (g < model->n_groups && !is_one_group(b, model->group_zone[g], z))
        g++;
      if (g == model->n_groups) {
        model->group_zone[g] = z;
        model->group_class[g] = k;
        model->group_rack[g] = r;
        model->group_n[g] = 0;
        model->n_groups++;
      }
      model->group_of_zone[z] = g;
      /* a disc's zone is taken as its rectangle: more than there is, so still a relaxation; a piece with its middle
       * in the zone reaches over an end by at most half its length */
      double end_m = rack_of(al, z)->length_m, low_m = fmax(zone->x_m - b->reach_m, 0),
             high_m = fmin(zone->x_m + zone->length_m + b->reach_m, end_m);
      b->group_area[g] += (high_m - low_m) * zone->depth_m;
      model->group_n[g]++;
      for (int c = 0; c < al->n_lots; c++)
        for (int s = 0; s < al->n_settings_max; s++)
          join(b, g, c, s, z, model->group_n[g] == 1);
    }
  }
  return PW_OK;
}

static size_t kst(const struct build *b, int k, int s, int t)
{
  return ((size_t)k * (size_t)b->al->n_settings_max + (size_t)s) * (size_t)b->al->n_slots + (size_t)t;
}

static size_t ckst(const struct build *b, int c, int k, int s, int t)
{
  return kst(b, c * b->model->n_classes + k, s, t);
}

static double cell_m2(const struct pw_rack_grid *g) { return g->cell_x_m * g->cell_y_m; }

static double rack_area(const struct build *b, int r)
{
  const struct pw_rack *rack = rack_of(b->al, b->model->rack_zone[r]);
  if (!b->grid)
    return rack->length_m * rack->depth_m;
  double cells = 0;
  for (int k = 0; k < b->grid[r].n_zones; k++)
    cells += b->grid[r].open_cells[k];
  return cells * cell_m2(&b->grid[r]);
}

/* a footprint of a lot, one way round or the other, in cells of rack group r; x 0: it does not fit */
static struct pw_cells cells_of(const struct build *b, int c, bool is_wrapped, bool is_turned, int r)
{
  const struct pw_lot *lot = &b->al->lots->lots[c];
  double l = is_wrapped ? lot->wrapped_length_m : lot->footprint_length_m,
         w = is_wrapped ? lot->wrapped_width_m : lot->footprint_width_m;
  const struct pw_rack_grid *g = &b->grid[r];
  if (is_turned && !b->al->ev->cuts[lot->cut].may_turn)
    return (struct pw_cells){0};
  return pw_rack_grid_cells(g, 0, g->length_m, is_turned ? w : l, is_turned ? l : w);
}

/* what a piece takes of rack group r at least: its true area for a guide, else whole cells */
static double piece_m2(const struct build *b, int c, bool is_wrapped, int r)
{
  const struct pw_lot *lot = &b->al->lots->lots[c];
  double area = is_wrapped ? lot->wrapped_length_m * lot->wrapped_width_m
                           : lot->footprint_length_m * lot->footprint_width_m,
         least = HUGE_VAL;
  for (int turned = 0; turned < 2 && b->grid; turned++) {
    struct pw_cells cells = cells_of(b, c, is_wrapped, turned, r);
    if (cells.x > 0)
      least = fmin(least, cells.x * cells.y * cell_m2(&b->grid[r]));
  }
  return isfinite(least) ? least : area; /* where it does not fit at all it never lies */
}

/* most pieces of lot c, raw or wrapped, that one rack of group r can hold at once: by the smaller area; where they lie one way
 * round alone, and as large both ways, in straight rows, which nothing beats */
static double rack_holds(const struct build *b, int c, int r)
{
  bool has_finish = b->al->lot[c].has_finish;
  double raw = piece_m2(b, c, false, r), wrapped = has_finish ? piece_m2(b, c, true, r) : raw;
  double most = floor(rack_area(b, r) / fmin(raw, wrapped) + 1e-9);
  if (!b->grid || b->al->ev->cuts[b->al->lots->lots[c].cut].may_turn)
    return most;
  struct pw_cells one = cells_of(b, c, false, false, r), two = has_finish ? cells_of(b, c, true, false, r) : one;
  int x = one.x == 0 || (two.x > 0 && two.x < one.x) ? two.x : one.x,
      y = one.y == 0 || (two.y > 0 && two.y < one.y) ? two.y : one.y;
  return x > 0 ? fmin(most, (double)(b->grid[r].n_x / x) * (PW_GRID_CELLS_Y / y)) : 0;
}

/* what of a rack group's and a zone group's area may be filled */
static double rack_room_m2(const struct build *b, int r)
{
  return rack_area(b, r) * b->model->rack_n[r] * b->room_frac;
}
static double zone_room_m2(const struct build *b, int g) { return b->group_area[g] * b->room_frac; }

/* most pieces of lot c that a class can hold at once */
static double class_room(const struct build *b, int c, int k)
{
  double room = 0;
  for (int r = 0; r < b->model->n_racks; r++)
    if (b->model->rack_class[r] == k)
      room += b->model->rack_n[r] * rack_holds(b, c, r);
  return room;
}

static void rows_and_fires(struct build *b)
{
  const struct pw_al *al = b->al;
  struct pw_lp *lp = &b->model->lp;
  bool is_whole = b->options.has_doors; /* as the tree takes them; a guide has whole windows alone */
  for (int k = 0; k < b->model->n_classes; k++) {
    const struct pw_al_pit *pit = &al->pit[b->model->class_pit[k]];
    int n = b->model->class_n[k];
    int row_burns = pw_lp_row(lp, -HUGE_VAL, n * pit->n_burns_max, "A5burns(%s)", class_id(b, k));
    b->model->row_burns[k] = row_burns;
    for (int t = pit->lead; t < al->n_slots; t++) {
      int row_n = pit->n_settings > 1 ? pw_lp_row(lp, -HUGE_VAL, n, "A5one(%s,%d)", class_id(b, k), t) : -1;
      for (int s = 0; s < pit->n_settings; s++) {
        int on = pw_lp_col(lp, 0, n, pit->rate[s], true, "on(%s,%d,%d)", class_id(b, k), s, t);
        /* a burn is opened at least twice: food on, food off */
        double doors = b->model->open ? 0 : 2 * al->opening_cents;
        int lit = pw_lp_col(lp, 0, n, pit->light[s] + doors, is_whole, "lit(%s,%d,%d)", class_id(b, k), s, t);
        b->model->on[kst(b, k, s, t)] = on;
        b->model->lit[kst(b, k, s, t)] = lit;
        if (row_n >= 0)
          pw_lp_put(lp, row_n, on, 1);
        int row = pw_lp_row(lp, -HUGE_VAL, 0, "A5(%s,%d,%d)", class_id(b, k), s, t);
        pw_lp_put(lp, row, on, 1);
        pw_lp_put(lp, row, lit, -1);
        if (t > pit->lead)
          pw_lp_put(lp, row, b->model->on[kst(b, k, s, t - 1)], -1);
        pw_lp_put(lp, row_burns, lit, 1);
      }
    }
  }
  for (int f = 0; f < al->n_finishers; f++)
    for (int t = 0; t < al->n_slots && al->is_oven[f]; t++) {
      int use = pw_lp_col(lp, 0, 1, al->oven_cents[f], is_whole, "use(%s,%d)", al->ev->finishers[f].id, t);
      size_t ft = (size_t)f * (size_t)al->n_slots + (size_t)t;
      b->model->use[ft] = use;
      b->row_a3f[ft] = pw_lp_row(lp, -HUGE_VAL, 0, "A3(%s,%d)", al->ev->finishers[f].id, t);
      pw_lp_put(lp, b->row_a3f[ft], use, -al->capacity[f]);
      for (int c = 0; c < al->n_lots; c++)
        if (al->lot[c].d_oven[f] != PW_NONE) {
          size_t cft = ((size_t)c * (size_t)al->n_finishers + (size_t)f) * (size_t)al->n_slots + (size_t)t;
          b->row_a4f[cft] = pw_lp_row(lp, -HUGE_VAL, 0, "A4(%s,%s,%d)", lot_id(b, c), al->ev->finishers[f].id, t);
          pw_lp_put(lp, b->row_a4f[cft], use, -al->lot[c].n);
        }
    }
}

/* the shortest stage of any lot in class k at setting s: no fire burns for less */
static int shortest_stage(const struct build *b, int k, int s)
{
  int least = b->al->n_slots;
  for (int g = 0; g < b->model->n_groups; g++)
    for (int c = 0; c < b->al->n_lots && b->model->group_class[g] == k; c++) {
      int d1 = b->d1[gcs(b, g, c, s)], d2 = b->al->lot[c].has_finish ? b->d2[gcs(b, g, c, s)] : PW_NONE;
      least = d1 != PW_NONE && d1 < least ? d1 : least;
      least = d2 != PW_NONE && d2 < least ? d2 : least;
    }
  return least > 0 ? least : 1;
}

/* [A5m] a fire burns for a stage at least: lit(t - shortest + 1) + .. + lit(t) <= on(t); [A5r] and a pit that burns is not
 * lit anew within its lead: on(t) + lit(t + 1) + .. + lit(t + lead) <= pits, over all settings */
static void fires_last(struct build *b)
{
  const struct pw_al *al = b->al;
  struct pw_lp *lp = &b->model->lp;
  for (int k = 0; k < b->model->n_classes; k++) {
    const struct pw_al_pit *pit = &al->pit[b->model->class_pit[k]];
    for (int s = 0; s < pit->n_settings; s++) {
      int least = shortest_stage(b, k, s);
      for (int t = pit->lead; t < al->n_slots; t++) {
        int row = pw_lp_row(lp, -HUGE_VAL, 0, "A5m(%s,%d,%d)", class_id(b, k), s, t);
        pw_lp_put(lp, row, b->model->on[kst(b, k, s, t)], -1);
        for (int u = t - least + 1 > pit->lead ? t - least + 1 : pit->lead; u <= t; u++)
          pw_lp_put(lp, row, b->model->lit[kst(b, k, s, u)], 1);
        if (t > al->n_slots - least)
          lp->ub[b->model->lit[kst(b, k, s, t)]] = 0;
      }
    }
    for (int t = pit->lead; t + 1 < al->n_slots; t++) {
      int row = pw_lp_row(lp, -HUGE_VAL, b->model->class_n[k], "A5r(%s,%d)", class_id(b, k), t);
      for (int s = 0; s < pit->n_settings; s++) {
        pw_lp_put(lp, row, b->model->on[kst(b, k, s, t)], 1);
        for (int u = t + 1; u <= t + pit->lead && u < al->n_slots; u++)
          pw_lp_put(lp, row, b->model->lit[kst(b, k, s, u)], 1);
      }
    }
  }
}

/* one of very many rows, which a proof may leave out where they say nothing */
static void mark_side(struct build *b, int row)
{
  struct pw_al_model *model = b->model;
  if (row < 0)
    return;
  while ((size_t)row >= model->cap_row_is_side)
    if (pw_arena_grow(model->lp.arena, &model->row_is_side, &model->cap_row_is_side, model->cap_row_is_side, 1)) {
      model->lp.error = PW_ERR_MEMORY;
      return;
    }
  for (; model->n_side_rows < row; model->n_side_rows++)
    model->row_is_side[model->n_side_rows] = 0;
  model->row_is_side[model->n_side_rows++] = 1;
}

static size_t kb(const struct build *b, int k, int t) { return (size_t)k * (size_t)(b->al->n_slots + 1) + (size_t)t; }

/* [A12] pits opened at each slot boundary: those whose first food goes on and those whose last comes off are not the same */
static void doors(struct build *b)
{
  const struct pw_al *al = b->al;
  struct pw_lp *lp = &b->model->lp;
  for (int k = 0; k < b->model->n_classes && b->model->open; k++) {
    const struct pw_al_pit *pit = &al->pit[b->model->class_pit[k]];
    for (int t = pit->lead; t <= al->n_slots; t++) {
      int open = pw_lp_col(lp, 0, b->model->class_n[k], al->opening_cents, true, "open(%s,%d)", class_id(b, k), t);
      int row = pw_lp_row(lp, -HUGE_VAL, 0, "A12(%s,%d)", class_id(b, k), t);
      b->model->open[kb(b, k, t)] = open;
      pw_lp_put(lp, row, open, -1);
      for (int s = 0; s < pit->n_settings; s++) {
        if (t > pit->lead)
          pw_lp_put(lp, row, b->model->on[kst(b, k, s, t - 1)], 1);
        if (t < al->n_slots) {
          pw_lp_put(lp, row, b->model->on[kst(b, k, s, t)], -1);
          pw_lp_put(lp, row, b->model->lit[kst(b, k, s, t)], 2);
        }
      }
    }
  }
}

/* [A12] A piece of lot c goes on (or comes off) in class k at boundary t: the pit is open.  One row for both where a pit may hold
 * the whole lot: no piece does both at once. */
static void door(struct build *b, int col, int c, int k, int t, bool is_off)
{
  if (!b->model->open || b->options.merge_slots > 0) /* grouped zones have the times of the quickest */
    return;
  double room = class_room(b, c, k), n = b->al->lot[c].n;
  int *row = &b->row_a12[is_off && room < n][kb(b, c * b->model->n_classes + k, t)];
  if (*row < 0) {
    *row =
        pw_lp_row(&b->model->lp, -HUGE_VAL, 0, "A12(%s,%s,%d,%d)", lot_id(b, c), class_id(b, k), t, is_off && room < n);
    mark_side(b, *row);
    pw_lp_put(&b->model->lp, *row, b->model->open[kb(b, k, t)], -fmin(n, room));
  }
  pw_lp_put(&b->model->lp, *row, col, 1);
}

/* the [A3] and [A4] rows are made when the first column needs them */
static int row_rack(struct build *b, int r, int s, int t)
{
  int *row = &b->model->row_a3[kst(b, r, s, t)];
  if (*row < 0) {
    const struct pw_zone *zone = &b->al->lots->zones[b->model->rack_zone[r]];
    *row = pw_lp_row(&b->model->lp, -HUGE_VAL, 0, "A3(%s,%d,%d)", zone->id, s, t);
    pw_lp_put(&b->model->lp, *row, b->model->on[kst(b, b->model->rack_class[r], s, t)], -rack_room_m2(b, r));
  }
  return *row;
}

/* [A3t] pits that burned in one of the last slots, whatever of them is still taken */
static int row_turn(struct build *b, int r, int s, int t)
{
  int *row = &b->row_a3t[kst(b, r, s, t)], k = b->model->rack_class[r];
  if (*row < 0) {
    const struct pw_zone *zone = &b->al->lots->zones[b->model->rack_zone[r]];
    int first = t - b->turn_most, lead = b->al->pit[b->model->class_pit[k]].lead;
    *row = pw_lp_row(&b->model->lp, -HUGE_VAL, 0, "A3t(%s,%d,%d)", zone->id, s, t);
    if (first >= lead)
      pw_lp_put(&b->model->lp, *row, b->model->on[kst(b, k, s, first)], -rack_room_m2(b, r));
    for (int u = first >= lead ? first + 1 : lead; u <= t; u++)
      pw_lp_put(&b->model->lp, *row, b->model->lit[kst(b, k, s, u)], -rack_room_m2(b, r));
  }
  return *row;
}

static int row_zone(struct build *b, int g, int s, int t)
{
  int *row = &b->model->row_a3z[kst(b, g, s, t)];
  if (*row < 0) {
    *row =
        pw_lp_row(&b->model->lp, -HUGE_VAL, 0, "A3z(%s,%d,%d)", b->al->lots->zones[b->model->group_zone[g]].id, s, t);
    mark_side(b, *row);
    pw_lp_put(&b->model->lp, *row, b->model->on[kst(b, b->model->group_class[g], s, t)], -zone_room_m2(b, g));
  }
  return *row;
}

static int row_lot(struct build *b, int c, int k, int s, int t)
{
  int *row = &b->row_a4[ckst(b, c, k, s, t)];
  if (*row < 0) {
    double room = fmin(b->al->lot[c].n, class_room(b, c, k));
    *row = pw_lp_row(&b->model->lp, -HUGE_VAL, 0, "A4(%s,%s,%d,%d)", lot_id(b, c), class_id(b, k), s, t);
    mark_side(b, *row);
    pw_lp_put(&b->model->lp, *row, b->model->on[kst(b, k, s, t)], -room);
  }
  return *row;
}

/* remembers which lot's pieces a column counts, for the cuts */
static void mark_col(struct build *b, int col, int c, bool is_wrapped)
{
  struct pw_al_model *model = b->model;
  struct pw_arena *arena = model->lp.arena;
  while (col >= 0 && (size_t)col >= model->cap_col_lot)
    if (pw_arena_grow(arena, &model->col_lot, &model->cap_col_lot, model->cap_col_lot, sizeof *model->col_lot) ||
        pw_arena_grow(arena, &model->col_is_wrapped, &model->cap_col_is_wrapped, model->cap_col_is_wrapped, 1)) {
      model->lp.error = PW_ERR_MEMORY;
      return;
    }
  if (col >= 0) {
    model->col_lot[col] = c;
    model->col_is_wrapped[col] = is_wrapped;
  }
}

static void note_col(struct build *b, struct pw_al_col col)
{
  struct pw_al_model *model = b->model;
  if (col.col < 0)
    return;
  if (pw_arena_grow(model->lp.arena, &model->cols, &model->cap_piece_cols, model->n_piece_cols, sizeof *model->cols)) {
    model->lp.error = PW_ERR_MEMORY;
    return;
  }
  model->cols[model->n_piece_cols++] = col;
}

static void occupy(struct build *b, int col, int c, int g, int s, int a, int e, double area, bool is_last)
{
  int r = b->model->group_rack[g];
  bool is_less = zone_room_m2(b, g) < rack_room_m2(b, r) - 1e-9;
  for (int t = a; t < e; t++) {
    pw_lp_put(&b->model->lp, row_rack(b, r, s, t), col, area);
    if (is_less)
      pw_lp_put(&b->model->lp, row_zone(b, g, s, t), col, area);
    pw_lp_put(&b->model->lp, row_lot(b, c, b->model->group_class[g], s, t), col, 1);
  }
  for (int t = a; b->turn_most > 0 && t < (is_last ? pw_al_turned(b->al, c, e) : e); t++)
    pw_lp_put(&b->model->lp, row_turn(b, r, s, t), col, area);
}

static void work(struct build *b, int col, int t, double minutes)
{
  if (t < b->al->n_slots && minutes > 0 && b->row_a8[t] >= 0)
    pw_lp_put(&b->model->lp, b->row_a8[t], col, minutes);
}

/* what follows the end of cooking: unloading, rest and hold */
static void finish_rows(struct build *b, int col, int c, int done)
{
  const struct pw_al_lot *lot = &b->al->lot[c];
  work(b, col, done, lot->unload_min);
  for (int t = done; t < lot->room_end && done < lot->hold_end && lot->pans > 0; t++)
    pw_lp_put(&b->model->lp, b->row_a7[t], col, lot->pans);
}

static double hold_cents(const struct build *b, int c, int done)
{
  const struct pw_al_lot *lot = &b->al->lot[c];
  double held = (double)(lot->whole_until_at_min - lot->rest_min - b->al->lots->start_at_min) / b->al->slot_min - done;
  return held > 0 ? held * lot->hold_cents : 0;
}

static bool fits(const struct build *b, int c, int g, bool is_wrapped)
{
  const struct pw_lot *lot = &b->al->lots->lots[c];
  const struct pw_rack *rack = rack_of(b->al, b->model->group_zone[g]);
  double l = is_wrapped ? lot->wrapped_length_m : lot->footprint_length_m,
         w = is_wrapped ? lot->wrapped_width_m : lot->footprint_width_m;
  bool one = l <= rack->length_m + 1e-9 && w <= rack->depth_m + 1e-9;
  bool two = w <= rack->length_m + 1e-9 && l <= rack->depth_m + 1e-9;
  return one || (two && b->al->ev->cuts[lot->cut].may_turn);
}

/* a smoke column for each (group, setting, start) from which some end of cooking can be reached */
static void smoke_columns(struct build *b, int c, int first_mid, int last_mid)
{
  const struct pw_al *al = b->al;
  const struct pw_al_lot *lot = &al->lot[c];
  struct pw_lp *lp = &b->model->lp;
  for (int g = 0; g < b->model->n_groups; g++) {
    int p = b->model->class_pit[b->model->group_class[g]];
    if (!fits(b, c, g, false))
      continue;
    for (int s = 0; s < al->pit[p].n_settings; s++) {
      size_t k = gcs(b, g, c, s);
      int d1 = b->d1[k];
      for (int mid = first_mid; d1 != PW_NONE && mid <= last_mid; mid++) {
        int t = mid - d1;
        if (t < al->pit[p].lead ||
            (lot->has_finish && b->row_a2[(size_t)c * (size_t)(al->n_slots + 1) + (size_t)mid] < 0))
          continue;
        double cost = b->off1[k] + (lot->has_finish ? 0 : hold_cents(b, c, mid));
        int n = pw_lp_col(lp, 0, lot->n, cost, b->options.pieces_whole, "n(%s,%s,%d,%d)", lot_id(b, c),
                          al->lots->zones[b->model->group_zone[g]].id, s, t);
        mark_col(b, n, c, false);
        note_col(b, (struct pw_al_col){n, c, g, PW_NONE, s, t, mid, false});
        pw_lp_put(lp, b->row_a1[c], n, 1);
        occupy(b, n, c, g, s, t, mid, piece_m2(b, c, false, b->model->group_rack[g]), !lot->has_finish);
        door(b, n, c, b->model->group_class[g], t, false);
        door(b, n, c, b->model->group_class[g], mid, true);
        work(b, n, t, lot->load_min);
        if (lot->has_finish) {
          pw_lp_put(lp, b->row_a2[(size_t)c * (size_t)(al->n_slots + 1) + (size_t)mid], n, 1);
          work(b, n, mid, lot->wrap_min);
        } else {
          finish_rows(b, n, c, mid);
        }
      }
    }
  }
}

static int a2_row(struct build *b, int c, int mid)
{
  int *row = &b->row_a2[(size_t)c * (size_t)(b->al->n_slots + 1) + (size_t)mid];
  if (*row < 0)
    *row = pw_lp_row(&b->model->lp, 0, 0, "A2(%s,%d)", lot_id(b, c), mid);
  return *row;
}

static void finish_columns(struct build *b, int c)
{
  const struct pw_al *al = b->al;
  const struct pw_al_lot *lot = &al->lot[c];
  struct pw_lp *lp = &b->model->lp;
  for (int done = lot->done_first; done <= lot->done_last; done++) {
    for (int g = 0; g < b->model->n_groups; g++) {
      int p = b->model->class_pit[b->model->group_class[g]];
      for (int s = 0; s < al->pit[p].n_settings && fits(b, c, g, true); s++) {
        size_t k = gcs(b, g, c, s);
        int d2 = b->d2[k], mid = done - d2;
        if (d2 == PW_NONE || mid < al->pit[p].lead)
          continue;
        int m = pw_lp_col(lp, 0, lot->n, b->off2[k] + hold_cents(b, c, done), b->options.pieces_whole, "m(%s,%s,%d,%d)",
                          lot_id(b, c), al->lots->zones[b->model->group_zone[g]].id, s, mid);
        mark_col(b, m, c, true);
        note_col(b, (struct pw_al_col){m, c, g, PW_NONE, s, mid, done, true});
        pw_lp_put(lp, a2_row(b, c, mid), m, -1);
        occupy(b, m, c, g, s, mid, done, piece_m2(b, c, true, b->model->group_rack[g]), true);
        door(b, m, c, b->model->group_class[g], done, true);
        finish_rows(b, m, c, done);
      }
    }
    for (int f = 0; f < al->n_finishers; f++) {
      int d2 = lot->d_oven[f], mid = done - d2;
      if (d2 == PW_NONE || mid < 0)
        continue;
      int m = pw_lp_col(lp, 0, lot->n, lot->off_oven[f] + hold_cents(b, c, done), b->options.pieces_whole,
                        "m(%s,%s,%d)", lot_id(b, c), al->ev->finishers[f].id, mid);
      note_col(b, (struct pw_al_col){m, c, PW_NONE, f, 0, mid, done, true});
      pw_lp_put(lp, a2_row(b, c, mid), m, -1);
      for (int t = mid; t < done; t++) {
        pw_lp_put(lp, b->row_a3f[(size_t)f * (size_t)al->n_slots + (size_t)t], m,
                  al->ev->finishers[f].is_in_pans ? lot->pans : lot->area_oven_m2);
        pw_lp_put(lp, b->row_a4f[((size_t)c * (size_t)al->n_finishers + (size_t)f) * (size_t)al->n_slots + (size_t)t],
                  m, 1);
      }
      finish_rows(b, m, c, done);
    }
  }
}

/* most pieces of lot c that one zone can hold at once, by area with what may reach over its ends */
static double zone_room(const struct build *b, int c)
{
  const struct pw_al *al = b->al;
  const struct pw_lot *lot = &al->lots->lots[c];
  double l = lot->footprint_length_m, w = lot->footprint_width_m, most = 0;
  double reach_m = (al->ev->cuts[lot->cut].may_turn ? fmax(l, w) : l) / 2;
  for (int z = 0; z < al->n_zones; z++) {
    const struct pw_zone *zone = &al->lots->zones[z];
    double low_m = fmax(zone->x_m - reach_m, 0),
           high_m = fmin(zone->x_m + zone->length_m + reach_m, rack_of(al, z)->length_m);
    bool is_used = false;
    for (int s = 0; s < al->n_settings_max; s++)
      is_used |= al->lot[c].d1[(size_t)z * (size_t)al->n_settings_max + (size_t)s] != PW_NONE;
    if (is_used)
      most = fmax(most, floor((high_m - low_m) * zone->depth_m / (l * w) + 1e-9));
  }
  return most;
}

/* [A1s] a lot that no zone holds at once has further places; each piece missed may spare one */
static void split_row(struct build *b, int c, int miss)
{
  double room = zone_room(b, c), least = room >= 1 ? ceil(b->al->lot[c].n / room - 1e-9) - 1 : 0;
  if (least < 1 || b->al->place_cents <= 0)
    return;
  int splits = pw_lp_col(&b->model->lp, 0, b->al->lot[c].n, b->al->place_cents, b->options.has_doors, "splits(%s)",
                         lot_id(b, c));
  b->model->splits[c] = splits;
  int row = pw_lp_row(&b->model->lp, -HUGE_VAL, -least, "A1s(%s)", lot_id(b, c));
  pw_lp_put(&b->model->lp, row, splits, -1);
  pw_lp_put(&b->model->lp, row, miss, -1);
}

static void shared_rows(struct build *b)
{
  const struct pw_al *al = b->al;
  double pans = 0;
  for (int f = 0; f < al->n_finishers; f++)
    if (!al->is_oven[f])
      pans += al->capacity[f];
  for (int t = 0; t < al->n_slots; t++) {
    b->row_a7[t] = pw_lp_row(&b->model->lp, -HUGE_VAL, pans, "A7(%d)", t);
    if (isfinite(al->hands_min[t]))
      b->row_a8[t] = pw_lp_row(&b->model->lp, -HUGE_VAL, al->hands_min[t], "A8(%d)", t);
  }
}

static pw_status grids_make(struct build *b, struct pw_ctx *ctx)
{
  if (!(b->grid = pw_arena_array(ctx->arena, (size_t)b->model->n_racks + 1, sizeof *b->grid)))
    return PW_ERR_MEMORY;
  for (int r = 0; r < b->model->n_racks; r++)
    if (pw_rack_grid_init(&b->grid[r], rack_of(b->al, b->model->rack_zone[r]), 0, ctx->arena))
      return PW_ERR_MEMORY;
  return PW_OK;
}

pw_status pw_al_model_make(struct pw_al_model *model, const struct pw_al *al, const struct pw_al_model_options *options,
                           struct pw_ctx *ctx)
{
  memset(model, 0, sizeof *model);
  pw_lp_init(&model->lp, ctx->arena, options->has_names);
  struct build b = {
      .model = model, .al = al, .options = *options, .room_frac = options->room_frac > 0 ? options->room_frac : 1};
  for (int c = 0; c < al->n_lots; c++) {
    const struct pw_lot *lot = &al->lots->lots[c];
    double along = al->ev->cuts[lot->cut].may_turn ? fmax(lot->footprint_length_m, lot->footprint_width_m)
                                                   : lot->footprint_length_m;
    double wrapped =
        al->ev->cuts[lot->cut].may_turn ? fmax(lot->wrapped_length_m, lot->wrapped_width_m) : lot->wrapped_length_m;
    b.reach_m = fmax(b.reach_m, fmax(along, wrapped) / 2);
  }
  pw_status status = classes_make(&b, ctx);
  if (status)
    return status;
  size_t n_s = (size_t)al->n_settings_max, n_t = (size_t)al->n_slots + 1, n_c = (size_t)al->n_lots,
         n_k = (size_t)model->n_classes, n_f = (size_t)al->n_finishers;
  model->on = ints(ctx, n_k * n_s * n_t);
  model->lit = ints(ctx, n_k * n_s * n_t);
  model->row_burns = ints(ctx, n_k);
  for (int c = 0; c < al->n_lots && options->has_doors; c++)
    b.turn_most = al->lot[c].turn > b.turn_most ? al->lot[c].turn : b.turn_most;
  if (!(b.row_a3t = ints(ctx, (size_t)model->n_racks * n_s * n_t)))
    return PW_ERR_MEMORY;
  if (options->has_doors && !(model->open = ints(ctx, n_k * n_t)))
    return PW_ERR_MEMORY;
  if (options->has_doors && (status = grids_make(&b, ctx)) != PW_OK)
    return status;
  for (int i = 0; i < 2; i++)
    if (!(b.row_a12[i] = ints(ctx, n_c * n_k * n_t)))
      return PW_ERR_MEMORY;
  b.row_a1 = ints(ctx, n_c);
  model->splits = ints(ctx, n_c);
  b.row_a2 = ints(ctx, n_c * n_t);
  model->row_a3 = ints(ctx, (size_t)model->n_racks * n_s * n_t);
  model->row_a3z = ints(ctx, (size_t)model->n_groups * n_s * n_t);
  b.row_a4 = ints(ctx, n_c * n_k * n_s * n_t);
  b.row_a3f = ints(ctx, n_f * n_t);
  b.row_a4f = ints(ctx, n_c * n_f * n_t);
  b.row_a7 = ints(ctx, n_t);
  b.row_a8 = ints(ctx, n_t);
  model->miss = ints(ctx, n_c);
  model->use = ints(ctx, n_f * n_t);
  model->row_a3f = b.row_a3f;
  model->row_a3t = b.row_a3t;
  model->row_a4 = b.row_a4;
  model->row_a4f = b.row_a4f;
  model->row_a7 = b.row_a7;
  model->row_a8 = b.row_a8;
  if (!model->on || !model->lit || !model->row_burns || !model->miss || !model->splits || !model->use || !b.row_a1 ||
      !b.row_a2 || !model->row_a3 || !model->row_a3z || !b.row_a4 || !b.row_a3f || !b.row_a4f || !b.row_a7 || !b.row_a8)
    return PW_ERR_MEMORY;

  rows_and_fires(&b);
  doors(&b);
  if (options->has_doors)
    fires_last(&b);
  shared_rows(&b);
  for (int c = 0; c < al->n_lots; c++) {
    int n = al->lot[c].n;
    b.row_a1[c] = pw_lp_row(&model->lp, n, n, "A1(%s)", lot_id(&b, c));
    int miss = pw_lp_col(&model->lp, 0, n, al->lot[c].miss_cents, b.options.pieces_whole, "miss(%s)", lot_id(&b, c));
    pw_lp_put(&model->lp, b.row_a1[c], miss, 1);
    split_row(&b, c, miss);
    model->miss[c] = miss;
    if (al->lot[c].has_finish) {
      finish_columns(&b, c);
      smoke_columns(&b, c, 0, al->n_slots);
    } else {
      smoke_columns(&b, c, al->lot[c].done_first, al->lot[c].done_last);
    }
  }
  return model->lp.error;
}
