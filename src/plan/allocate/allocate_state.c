/* allocate_state.c - bookkeeping of the whole-piece search.  See allocate_state.h. */
#include "plan/allocate/allocate_state.h"

#include "base/arena.h"

#include <math.h>
#include <string.h>

static const double IMPOSSIBLE_CENTS = 1e9; /* burns that cannot be lit as asked: never kept */

/* Stretches of food at one setting, in order; false when there are too many: what is left over is not told. */
static bool stretches(int n_slots, const unsigned char *active, const signed char *setting,
                      struct pw_al_stretch seg[PW_AL_BURNS_MAX], int *n_out)
{
  int n = 0;
  *n_out = 0;
  for (int t = 0; t < n_slots;) {
    if (!active[t]) {
      t++;
      continue;
    }
    int a = t, s = setting[t];
    while (t < n_slots && active[t] && setting[t] == s)
      t++;
    if (n == PW_AL_BURNS_MAX)
      return false;
    seg[n++] = (struct pw_al_stretch){a, t, s};
    *n_out = n;
  }
  return true;
}

/* Burns over n stretches: which gaps are bridged, which are relit.  `cost` is what they cost already. */
static int burns_of(const struct pw_al_pit *pit, const struct pw_al_stretch *seg, int n, struct pw_al_stretch *out,
                    int max, double cost, double *cost_cents)
{
  /* [A5] which gaps are bridged and which are relit: relight where it must be or where it saves most */
  bool is_split[PW_AL_BURNS_MAX] = {false};
  int n_splits = 0;
  for (int i = 0; i + 1 < n; i++)
    if (seg[i].setting != seg[i + 1].setting) {
      is_split[i] = true;
      n_splits++;
      if (seg[i + 1].from - seg[i].to < pit->lead)
        cost += IMPOSSIBLE_CENTS;
    }
  if (n_splits > pit->n_burns_max - 1)
    cost += IMPOSSIBLE_CENTS;
  while (n_splits < pit->n_burns_max - 1) {
    int best = -1;
    double best_saved = 1e-9;
    for (int i = 0; i + 1 < n; i++) {
      int gap = seg[i + 1].from - seg[i].to;
      double saved = pw_al_lit_cents(pit, seg[i].setting, seg[i].to, seg[i + 1].from) - pit->light[seg[i + 1].setting];
      if (!is_split[i] && gap >= pit->lead && saved > best_saved) {
        best_saved = saved;
        best = i;
      }
    }
    if (best < 0)
      break;
    is_split[best] = true;
    n_splits++;
  }
  int n_out = 0;
  for (int i = 0; i < n;) {
    int j = i;
    while (j + 1 < n && !is_split[j])
      j++;
    cost += pit->light[seg[i].setting] + pw_al_lit_cents(pit, seg[i].setting, seg[i].from, seg[j].to);
    if (out && n_out < max)
      out[n_out] = (struct pw_al_stretch){seg[i].from, seg[j].to, seg[i].setting};
    n_out++;
    i = j + 1;
  }
  *cost_cents = cost;
  return n_out;
}

int pw_al_burns(const struct pw_al_pit *pit, int n_slots, const unsigned char *active, const signed char *setting,
                struct pw_al_stretch *out, int max, double *cost_cents)
{
  struct pw_al_stretch seg[PW_AL_BURNS_MAX];
  int n;
  bool is_whole = stretches(n_slots, active, setting, seg, &n);
  return burns_of(pit, seg, n, out, max, is_whole ? 0 : IMPOSSIBLE_CENTS, cost_cents);
}

static void pit_slots(const struct pw_al_state *st, int p, unsigned char *active, signed char *setting)
{
  const struct pw_al *al = st->al;
  memset(active, 0, (size_t)al->n_slots);
  memset(setting, 0, (size_t)al->n_slots);
  for (int d = 0; d < al->n_days; d++) {
    const unsigned short *food = st->food + ((size_t)p * (size_t)al->n_days + (size_t)d) * (size_t)al->n_slots;
    int s = st->setting[p * al->n_days + d];
    for (int t = 0; t < al->n_slots; t++)
      if (food[t]) {
        /* two days at once in one pit at two settings: marked as a third, which no burn can satisfy */
        setting[t] = (signed char)(active[t] && setting[t] != s ? -1 : s);
        active[t] = 1;
      }
  }
}

enum { SLOTS_MAX = 2048 };

static double pit_eval(struct pw_al_state *st, int p, unsigned char *active, signed char *setting,
                       unsigned char *burning)
{
  const struct pw_al *al = st->al;
  for (int t = 0; t < al->n_slots; t++)
    if (active[t] && setting[t] < 0)
      return IMPOSSIBLE_CENTS;
  struct pw_al_stretch burns[PW_AL_BURNS_MAX];
  double cost;
  int n = pw_al_burns(&al->pit[p], al->n_slots, active, setting, burns, PW_AL_BURNS_MAX, &cost);
  if (burning) {
    memset(burning, 0, (size_t)al->n_slots);
    for (int i = 0; i < n && i < PW_AL_BURNS_MAX; i++)
      memset(burning + burns[i].from, 1 + burns[i].setting, (size_t)(burns[i].to - burns[i].from));
  }
  return cost;
}

static double pit_cost(struct pw_al_state *st, int p)
{
  if (st->is_dirty[p]) {
    unsigned char *active = st->active + (size_t)p * (size_t)st->al->n_slots;
    signed char *setting = st->setting_at + (size_t)p * (size_t)st->al->n_slots;
    pit_slots(st, p, active, setting);
    st->version[p]++;
    st->pit_cents[p] = pit_eval(st, p, active, setting, st->burning + (size_t)p * (size_t)st->al->n_slots);
    int a = 0, b = st->al->n_slots;
    while (a < b && !active[a])
      a++;
    while (b > a && !active[b - 1])
      b--;
    struct pw_al_pit_food *food = &st->pit_food[p];
    food->is_whole = stretches(st->al->n_slots, active, setting, food->seg, &food->n) && food->n < PW_AL_BURNS_MAX;
    for (int i = 0; i < food->n; i++)
      food->is_whole = food->is_whole && food->seg[i].setting >= 0;
    st->food_from[p] = a;
    st->food_to[p] = b;
    st->is_dirty[p] = 0;
  }
  return st->pit_cents[p];
}

/* The same stretches with [a, b) at setting s among them: what meets it or lies in it becomes one with it. */
static double stretch_delta(const struct pw_al_pit *pit, const struct pw_al_pit_food *food, int s, int a, int b,
                            double now)
{
  struct pw_al_stretch seg[PW_AL_BURNS_MAX], fresh = {a, b, s};
  int n = 0, i = 0;
  for (; i < food->n && food->seg[i].to < a; i++)
    seg[n++] = food->seg[i];
  if (i < food->n && food->seg[i].to == a && food->seg[i].setting != s)
    seg[n++] = food->seg[i++];
  for (; i < food->n && food->seg[i].from < b; i++) {
    if (food->seg[i].setting != s)
      return IMPOSSIBLE_CENTS;
    fresh.from = food->seg[i].from < fresh.from ? food->seg[i].from : fresh.from;
    fresh.to = food->seg[i].to > fresh.to ? food->seg[i].to : fresh.to;
  }
  if (i < food->n && food->seg[i].from == fresh.to && food->seg[i].setting == s)
    fresh.to = food->seg[i++].to;
  seg[n++] = fresh;
  for (; i < food->n; i++)
    seg[n++] = food->seg[i];
  double cost;
  (void)burns_of(pit, seg, n, NULL, 0, 0, &cost);
  return cost - now;
}

double pw_al_state_burn_delta(struct pw_al_state *st, int p, int day, int a, int b)
{
  const struct pw_al *al = st->al;
  double now = pit_cost(st, p);
  if (al->n_days == 1 && al->pit[p].n_burns_max == 1) {
    /* one burn at one setting: it only grows at its ends */
    int s = st->setting[p], from = st->food_from[p], to = st->food_to[p];
    if (from >= to)
      return al->pit[p].light[s] + pw_al_lit_cents(&al->pit[p], s, a, b);
    return (a < from ? pw_al_lit_cents(&al->pit[p], s, a, from) : 0) +
           (b > to ? pw_al_lit_cents(&al->pit[p], s, to, b) : 0);
  }
  const unsigned char *burning = st->burning + (size_t)p * (size_t)al->n_slots;
  int s = st->setting[p * al->n_days + day];
  int t = a;
  while (t < b && burning[t] == 1 + s)
    t++;
  if (t == b)
    return 0;
  struct pw_al_delta *known = &st->deltas[((unsigned)a * 61u + (unsigned)b * 31u + (unsigned)p * 1009u) % PW_AL_DELTAS];
  if (known->pit == p && known->setting == s && known->a == a && known->b == b && known->version == st->version[p])
    return known->cents;
  *known = (struct pw_al_delta){.pit = p, .setting = s, .a = a, .b = b, .version = st->version[p]};
  if (st->pit_food[p].is_whole)
    return known->cents = stretch_delta(&al->pit[p], &st->pit_food[p], s, a, b, now);
  unsigned char active[SLOTS_MAX];
  signed char setting[SLOTS_MAX];
  memcpy(active, st->active + (size_t)p * (size_t)al->n_slots, (size_t)al->n_slots);
  memcpy(setting, st->setting_at + (size_t)p * (size_t)al->n_slots, (size_t)al->n_slots);
  known->cents = IMPOSSIBLE_CENTS;
  for (t = a; t < b; t++) {
    if (active[t] && setting[t] != s)
      return IMPOSSIBLE_CENTS;
    active[t] = 1;
    setting[t] = (signed char)s;
  }
  return known->cents = pit_eval(st, p, active, setting, NULL) - now;
}

/* pieces of one lot that fit the zone of an empty rack, one way round first and then the other; `g` is empty again
 * afterwards */
static int cap_make(struct pw_rack_grid *g, const struct pw_cells one[2])
{
  int best = 0;
  for (int first = 0; first < 2; first++) {
    uint64_t at[PW_GRID_ROWS_MAX];
    int n = 0;
    for (int k = 0; k < 2; k++) {
      struct pw_cells c = one[first ^ k];
      int x, y;
      if (!c.is_fitting)
        continue;
      pw_rack_grid_free(g, 0, 1, c, at);
      while (pw_rack_grid_first(c, at, &x, &y)) {
        pw_rack_grid_put(g, 0, 1, c, x, y);
        pw_rack_grid_bar(at, c, c, x, y);
        n++;
      }
    }
    pw_rack_grid_clear(g);
    if (n > best)
      best = n;
  }
  return best;
}

static void cells_make(struct pw_al_state *st)
{
  const struct pw_al *al = st->al;
  for (int c = 0; c < al->n_lots; c++) {
    const struct pw_lot *lot = &al->lots->lots[c];
    bool may_turn = al->ev->cuts[lot->cut].may_turn;
    size_t n = (size_t)al->n_zones;
    int like = 0; /* an earlier lot of the same cut */
    while (like < c && al->lots->lots[like].cut != lot->cut)
      like++;
    if (like < c) {
      memcpy(st->cells1 + (size_t)c * n * 2, st->cells1 + (size_t)like * n * 2, n * 2 * sizeof *st->cells1);
      memcpy(st->cells2 + (size_t)c * n * 2, st->cells2 + (size_t)like * n * 2, n * 2 * sizeof *st->cells2);
      memcpy(st->cap + (size_t)c * n, st->cap + (size_t)like * n, n * sizeof *st->cap);
    }
    for (int z = 0; z < al->n_zones && like == c; z++) {
      struct pw_cells *one = st->cells1 + ((size_t)c * (size_t)al->n_zones + (size_t)z) * 2;
      struct pw_cells *two = st->cells2 + ((size_t)c * (size_t)al->n_zones + (size_t)z) * 2;
      struct pw_rack_grid *g = pw_al_grid(st, z);
      double x_m = al->lots->zones[z].x_m, zone_m = al->lots->zones[z].length_m;
      one[0] = pw_rack_grid_cells(g, x_m, zone_m, lot->footprint_length_m, lot->footprint_width_m);
      two[0] = pw_rack_grid_cells(g, x_m, zone_m, lot->wrapped_length_m, lot->wrapped_width_m);
      if (may_turn) {
        one[1] = pw_rack_grid_cells(g, x_m, zone_m, lot->footprint_width_m, lot->footprint_length_m);
        two[1] = pw_rack_grid_cells(g, x_m, zone_m, lot->wrapped_width_m, lot->wrapped_length_m);
      }
      st->cap[(size_t)c * (size_t)al->n_zones + (size_t)z] = cap_make(g, one);
    }
  }
}

pw_status pw_al_state_init(struct pw_al_state *st, const struct pw_al *al, struct pw_ctx *ctx)
{
  memset(st, 0, sizeof *st);
  st->al = al;
  st->ctx = ctx;
  struct pw_arena *arena = ctx->arena;
  size_t n_slots = (size_t)al->n_slots, n_zones = (size_t)al->n_zones, n_lots = (size_t)al->n_lots,
         n_pits = (size_t)al->n_pits, n_days = (size_t)al->n_days, n_fin = (size_t)al->n_finishers;
  if (n_slots > SLOTS_MAX)
    return PW_ERR_INTERNAL;
  for (int c = 0; c < al->n_lots; c++)
    st->n_pieces += al->lot[c].n;
  st->first_piece = pw_arena_array(arena, n_lots + 1, sizeof *st->first_piece);
  st->piece = pw_arena_array(arena, (size_t)st->n_pieces + 1, sizeof *st->piece);
  st->grid = pw_arena_array(arena, n_zones + 1, sizeof *st->grid);
  st->rack_of_zone = pw_arena_array(arena, n_zones + 1, sizeof *st->rack_of_zone);
  st->nth_of_zone = pw_arena_array(arena, n_zones + 1, sizeof *st->nth_of_zone);
  st->cells1 = pw_arena_array(arena, n_lots * n_zones * 2 + 1, sizeof *st->cells1);
  st->cells2 = pw_arena_array(arena, n_lots * n_zones * 2 + 1, sizeof *st->cells2);
  st->food = pw_arena_array(arena, n_pits * n_days * n_slots + 1, sizeof *st->food);
  st->setting = pw_arena_array(arena, n_pits * n_days + 1, sizeof *st->setting);
  st->used = pw_arena_array(arena, n_fin * n_slots + 1, sizeof *st->used);
  st->n_in = pw_arena_array(arena, n_fin * n_slots + 1, sizeof *st->n_in);
  st->work_min = pw_arena_array(arena, n_slots + 1, sizeof *st->work_min);
  st->opened = pw_arena_array(arena, n_pits * (n_slots + 1) + 1, sizeof *st->opened);
  st->group = pw_arena_array(arena, n_lots + 1, sizeof *st->group);
  st->n_groups = pw_arena_array(arena, n_lots + 1, sizeof *st->n_groups);
  st->n_groups_cap = pw_arena_array(arena, n_lots + 1, sizeof *st->n_groups_cap);
  st->n_in_pit = pw_arena_array(arena, n_pits * n_lots + 1, sizeof *st->n_in_pit);
  st->pit_lot = pw_arena_array(arena, n_pits * n_lots + 1, sizeof *st->pit_lot);
  st->n_pit_lot = pw_arena_array(arena, n_pits + 1, sizeof *st->n_pit_lot);
  st->pit_cents = pw_arena_array(arena, n_pits + 1, sizeof *st->pit_cents);
  st->is_dirty = pw_arena_array(arena, n_pits + 1, sizeof *st->is_dirty);
  st->burning = pw_arena_array(arena, n_pits * n_slots + 1, sizeof *st->burning);
  st->active = pw_arena_array(arena, n_pits * n_slots + 1, sizeof *st->active);
  st->setting_at = pw_arena_array(arena, n_pits * n_slots + 1, sizeof *st->setting_at);
  st->deltas = pw_arena_array(arena, PW_AL_DELTAS, sizeof *st->deltas); /* zeros match nothing: versions begin at 1 */
  st->pit_food = pw_arena_array(arena, n_pits + 1, sizeof *st->pit_food);
  st->version = pw_arena_array(arena, n_pits + 1, sizeof *st->version);
  st->food_from = pw_arena_array(arena, n_pits + 1, sizeof *st->food_from);
  st->food_to = pw_arena_array(arena, n_pits + 1, sizeof *st->food_to);
  st->cap = pw_arena_array(arena, n_lots * n_zones + 1, sizeof *st->cap);
  int window = 1;
  for (int c = 0; c < al->n_lots; c++)
    if (al->lot[c].done_last - al->lot[c].done_first + 1 > window)
      window = al->lot[c].done_last - al->lot[c].done_first + 1;
  st->n_options_cap = al->n_zones * (al->n_finishers + 1 + PW_AL_PLACES_TRIED) * window;
  st->options = pw_arena_array(arena, (size_t)st->n_options_cap + 1, sizeof *st->options);
  st->option_score = pw_arena_array(arena, (size_t)st->n_options_cap + 1, sizeof *st->option_score);
  st->full = pw_arena_array(arena, n_zones * 2 * n_slots + 1, sizeof *st->full);
  st->full_slot = pw_arena_array(arena, n_zones * 2 * n_slots + 1, sizeof *st->full_slot);
  st->threat = pw_arena_array(arena, (size_t)st->n_pieces + 1, sizeof *st->threat);
  st->room_by_done = pw_arena_array(arena, n_slots + 1, sizeof *st->room_by_done);
  st->room_by_mid = pw_arena_array(arena, 2 * (n_slots + 1), sizeof *st->room_by_mid);
  st->n_missed = pw_arena_array(arena, n_lots + 1, sizeof *st->n_missed);
  st->miss_cents = pw_arena_array(arena, n_lots + 1, sizeof *st->miss_cents);
  if (!st->first_piece || !st->piece || !st->grid || !st->rack_of_zone || !st->nth_of_zone || !st->cells1 ||
      !st->cells2 || !st->food || !st->setting || !st->used || !st->n_in || !st->work_min || !st->opened ||
      !st->group || !st->n_groups || !st->n_groups_cap || !st->n_in_pit || !st->pit_lot || !st->n_pit_lot ||
      !st->active || !st->setting_at || !st->deltas || !st->version || !st->pit_food || !st->pit_cents ||
      !st->is_dirty || !st->burning || !st->n_missed || !st->miss_cents || !st->food_from || !st->food_to || !st->cap ||
      !st->options || !st->option_score || !st->room_by_done || !st->room_by_mid || !st->full || !st->full_slot ||
      !st->threat)
    return PW_ERR_MEMORY;
  int i = 0;
  for (int c = 0; c < al->n_lots; c++) {
    st->first_piece[c] = i;
    st->n_missed[c] = al->lot[c].n;
    st->miss_cents[c] = al->lot[c].miss_cents;
    /* one group per piece at the most, and one while it is between two */
    st->n_groups_cap[c] = al->lot[c].n + 1;
    st->group[c] = pw_arena_array(arena, (size_t)al->lot[c].n + 1, sizeof *st->group[c]);
    if (!st->group[c])
      return PW_ERR_MEMORY;
    for (int k = 0; k < al->lot[c].n; k++)
      st->piece[i++].lot = c;
  }
  st->first_piece[al->n_lots] = i;
  for (int p = 0; p < al->n_pits; p++)
    st->is_dirty[p] = 1;
  for (int z = 0; z < al->n_zones; z++) {
    const struct pw_zone *zone = &al->lots->zones[z];
    bool is_next = z > 0 && zone[-1].pit == zone->pit && zone[-1].rack == zone->rack;
    st->nth_of_zone[z] = is_next ? st->nth_of_zone[z - 1] + 1 : 0;
    st->rack_of_zone[z] = is_next ? st->n_racks - 1 : st->n_racks++;
    if (!is_next &&
        pw_rack_grid_init(&st->grid[st->n_racks - 1], &al->ev->pits[zone->pit].racks[zone->rack], al->n_slots, arena))
      return PW_ERR_MEMORY;
  }
  cells_make(st);
  return PW_OK;
}

/* +1 or -1 reason to open pit p at slot boundary t */
static void open_add(struct pw_al_state *st, int p, int t, int by)
{
  unsigned short *n = &st->opened[(size_t)p * (size_t)(st->al->n_slots + 1) + (size_t)t];
  if (by > 0 && (*n)++ == 0)
    st->n_open++;
  else if (by < 0 && --(*n) == 0)
    st->n_open--;
}

/* +1 or -1 group of lot c in pit p */
static void pit_lot_add(struct pw_al_state *st, int p, int c, int by)
{
  int *n = &st->n_in_pit[(size_t)p * (size_t)st->al->n_lots + (size_t)c];
  int *list = &st->pit_lot[(size_t)p * (size_t)st->al->n_lots], k = 0;
  if (by > 0 && (*n)++ == 0)
    list[st->n_pit_lot[p]++] = c;
  if (by > 0 || --(*n) > 0)
    return;
  while (list[k] != c)
    k++;
  list[k] = list[--st->n_pit_lot[p]];
}

static void group_add(struct pw_al_state *st, const struct pw_al_piece *r, int by)
{
  struct pw_al_group *g = st->group[r->lot];
  int n = st->n_groups[r->lot], k = 0;
  while (k < n && (g[k].zone != r->zone || g[k].place != r->place || g[k].start != r->start || g[k].done != r->done))
    k++;
  if (k == n) {
    g[k] = (struct pw_al_group){r->zone, r->place, r->start, r->done, 0};
    st->n_groups[r->lot]++;
    pit_lot_add(st, st->al->pit_of_zone[r->zone], r->lot, 1);
  }
  g[k].n += by;
  if (g[k].n == 0) {
    g[k] = g[--st->n_groups[r->lot]];
    pit_lot_add(st, st->al->pit_of_zone[r->zone], r->lot, -1);
  }
}

/* adds (by = 1) or removes (by = -1) the marks of a placed piece everywhere */
static void mark(struct pw_al_state *st, const struct pw_al_piece *r, int by)
{
  const struct pw_al *al = st->al;
  const struct pw_al_lot *lot = &al->lot[r->lot];
  int p = al->pit_of_zone[r->zone], d = lot->day;
  void (*grid_do)(struct pw_rack_grid *, int, int, struct pw_cells, int, int) =
      by > 0 ? pw_rack_grid_put : pw_rack_grid_take;

  int spot_mid = r->place == r->zone ? r->mid : pw_al_turned(al, r->lot, r->mid); /* [A3t] */
  int spot_done = pw_al_turned(al, r->lot, r->done);
  grid_do(pw_al_grid(st, r->zone), r->start, spot_mid, pw_al_cells(st->cells1, al, r->lot, r->zone)[r->is_turned1],
          r->x1, r->y1);
  unsigned short *food = st->food + ((size_t)p * (size_t)al->n_days + (size_t)d) * (size_t)al->n_slots;
  for (int t = r->start; t < r->mid; t++)
    food[t] = (unsigned short)(food[t] + by);
  st->is_dirty[p] = 1;
  open_add(st, p, r->start, by);
  open_add(st, p, r->mid, by);
  st->work_min[r->start] += by * lot->load_min;
  st->unit_cents += by * lot->off1[(size_t)r->zone * (size_t)al->n_settings_max + (size_t)r->setting];

  if (r->place != PW_NONE && r->place < al->n_zones) {
    int q = al->pit_of_zone[r->place];
    grid_do(pw_al_grid(st, r->place), r->mid, spot_done, pw_al_cells(st->cells2, al, r->lot, r->place)[r->is_turned2],
            r->x2, r->y2);
    unsigned short *food2 = st->food + ((size_t)q * (size_t)al->n_days + (size_t)d) * (size_t)al->n_slots;
    for (int t = r->mid; t < r->done; t++)
      food2[t] = (unsigned short)(food2[t] + by);
    st->is_dirty[q] = 1;
    if (q != p)
      open_add(st, q, r->mid, by);
    open_add(st, q, r->done, by);
    int s = st->setting[q * al->n_days + d];
    st->unit_cents += by * (lot->off2[(size_t)r->place * (size_t)al->n_settings_max + (size_t)s] +
                            (r->place != r->zone ? al->move_cents : 0));
  } else if (r->place != PW_NONE) {
    int f = r->place - al->n_zones;
    double room = al->ev->finishers[f].is_in_pans ? lot->pans : lot->area_oven_m2;
    for (int t = r->mid; t < spot_done; t++) {
      size_t k = (size_t)f * (size_t)al->n_slots + (size_t)t;
      st->used[k] += by * room;
      st->n_in[k] = (unsigned short)(st->n_in[k] + (t < r->done ? by : 0));
    }
    st->unit_cents += by * lot->off_oven[f];
  }
  if (lot->has_finish && r->mid < al->n_slots)
    st->work_min[r->mid] += by * lot->wrap_min;
  if (r->done < al->n_slots)
    st->work_min[r->done] += by * lot->unload_min;
  if (r->box != PW_NONE)
    for (int t = r->done; t < lot->room_end && r->done < lot->hold_end; t++) {
      size_t k = (size_t)r->box * (size_t)al->n_slots + (size_t)t;
      st->used[k] += by * lot->pans;
      st->n_in[k] = (unsigned short)(st->n_in[k] + by);
    }
  double held_slots =
      (double)(lot->whole_until_at_min - lot->rest_min - al->lots->start_at_min) / al->slot_min - r->done;
  st->unit_cents += by * lot->hold_cents * (held_slots > 0 ? held_slots : 0);
  group_add(st, r, by);
  st->n_missed[r->lot] -= by;
}

static void journal_add(struct pw_al_state *st, int piece, const struct pw_al_piece *old)
{
  if (pw_arena_grow(st->ctx->arena, &st->journal, &st->cap_journal, st->n_journal, sizeof *st->journal)) {
    st->is_out_of_memory = true;
    return;
  }
  st->journal[st->n_journal++] = (struct pw_al_change){piece, *old};
}

void pw_al_state_put(struct pw_al_state *st, int i, const struct pw_al_piece *rec)
{
  journal_add(st, i, &st->piece[i]);
  int lot = st->piece[i].lot;
  st->piece[i] = *rec;
  st->piece[i].lot = lot;
  st->piece[i].is_placed = true;
  mark(st, &st->piece[i], 1);
}

void pw_al_state_take(struct pw_al_state *st, int i)
{
  journal_add(st, i, &st->piece[i]);
  mark(st, &st->piece[i], -1);
  st->piece[i].is_placed = false;
}

void pw_al_state_set(struct pw_al_state *st, int p, int d, int setting)
{
  int k = p * st->al->n_days + d;
  struct pw_al_piece old = {.setting = st->setting[k]};
  journal_add(st, -1 - k, &old);
  st->setting[k] = setting;
  st->is_dirty[p] = 1;
}

void pw_al_state_clear(struct pw_al_state *st)
{
  const struct pw_al *al = st->al;
  for (int i = 0; i < st->n_pieces; i++)
    if (st->piece[i].is_placed)
      pw_al_state_take(st, i);
  st->n_journal = 0;
  st->unit_cents = 0;
  memset(st->used, 0, (size_t)al->n_finishers * (size_t)al->n_slots * sizeof *st->used);
  memset(st->work_min, 0, (size_t)al->n_slots * sizeof *st->work_min);
}

void pw_al_state_undo(struct pw_al_state *st)
{
  while (st->n_journal) {
    struct pw_al_change *ch = &st->journal[--st->n_journal];
    if (ch->piece < 0) {
      st->setting[-1 - ch->piece] = ch->old.setting;
      st->is_dirty[(-1 - ch->piece) / st->al->n_days] = 1;
      continue;
    }
    struct pw_al_piece *now = &st->piece[ch->piece];
    if (now->is_placed)
      mark(st, now, -1);
    *now = ch->old;
    if (now->is_placed)
      mark(st, now, 1);
  }
}

bool pw_al_state_is_out_of_memory(const struct pw_al_state *st)
{
  bool is_lost = st->is_out_of_memory;
  for (int r = 0; r < st->n_racks; r++)
    is_lost |= st->grid[r].is_out_of_memory;
  return is_lost;
}

double pw_al_state_cost(struct pw_al_state *st)
{
  const struct pw_al *al = st->al;
  double cost = st->unit_cents + al->opening_cents * st->n_open;
  for (int p = 0; p < al->n_pits; p++)
    cost += pit_cost(st, p);
  for (int f = 0; f < al->n_finishers; f++)
    if (al->is_oven[f])
      for (int t = 0; t < al->n_slots; t++)
        if (st->n_in[(size_t)f * (size_t)al->n_slots + (size_t)t])
          cost += al->oven_cents[f];
  for (int c = 0; c < al->n_lots; c++) {
    cost += st->miss_cents[c] * (st->is_soft ? st->n_missed[c] : pw_al_miss_weight(al, c, st->n_missed[c]));
    if (st->n_groups[c] > 1)
      cost += al->place_cents * (st->n_groups[c] - 1);
  }
  return cost;
}
