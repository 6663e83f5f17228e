/* allocate_insert.c - enumerates (zone, finish place, end of cooking) for a lot, prices each by what it
 * adds per piece, and puts pieces down on the true rack until the option is full; then prices again. */
#include "plan/allocate/allocate_insert.h"

#include "base/deadline.h"
#include "plan/allocate/allocate_drips.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

uint64_t pw_al_rng_next(struct pw_al_rng *rng)
{
  /* splitmix64: Steele, Lea, Flood (2014), constants of the paper */
  uint64_t z = (rng->s += UINT64_C(0x9E3779B97F4A7C15));
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  return z ^ (z >> 31);
}

double pw_al_rng_unit(struct pw_al_rng *rng) { return (double)(pw_al_rng_next(rng) >> 11) * 0x1p-53; }

int pw_al_rng_below(struct pw_al_rng *rng, int n) { return (int)(pw_al_rng_next(rng) % (uint64_t)n); }

static const double ROOM_SLACK = 1e-9; /* capacity is compared with this much forgiveness for rounding */

static int store_room(const struct pw_al_state *st, int f, int a, int b, double each, int most)
{
  const struct pw_al *al = st->al;
  const double *used = st->used + (size_t)f * (size_t)al->n_slots;
  if (each <= 0)
    return most;
  for (int t = a; t < b && most > 0; t++) {
    double room = (al->capacity[f] - used[t] + ROOM_SLACK) / each;
    if (room < most)
      most = room < 1 ? 0 : (int)room;
  }
  return most;
}

/* [A7] A box without heat takes a lot only for as long as it keeps food hot by its own loss. */
static bool is_kept_hot(const struct pw_al *al, int f, int c, int done)
{
  const struct pw_al_lot *lot = &al->lot[c];
  return lot->box_until_at_min - lot->rest_min - (al->lots->start_at_min + done * al->slot_min) <= al->box_min[f];
}

static int box_room(const struct pw_al_state *st, int c, int done, int most)
{
  const struct pw_al *al = st->al;
  const struct pw_al_lot *lot = &al->lot[c];
  if (lot->pans <= 0 || done >= lot->hold_end)
    return most;
  int room = 0;
  for (int f = 0; f < al->n_finishers && room < most; f++)
    if (!al->is_oven[f] && is_kept_hot(al, f, c, done))
      room += store_room(st, f, done, lot->room_end, lot->pans, most - room);
  return room;
}

static int hands_room(const struct pw_al_state *st, int t, double each_min, int most)
{
  if (t >= st->al->n_slots || each_min <= 0)
    return most;
  double room = (st->al->hands_min[t] - st->work_min[t] + ROOM_SLACK) / each_min;
  return room < most ? (room < 1 ? 0 : (int)room) : most;
}

/* room for pieces in a zone by cells alone: an upper bound that is cheap to have */
static int rack_room(const struct pw_al_state *st, int z, int a, int b, const struct pw_cells c[2], int most)
{
  int cells = 0, reach = 0;
  for (int k = 0; k < 2; k++)
    if (c[k].is_fitting) {
      cells = cells == 0 || c[k].x * c[k].y < cells ? c[k].x * c[k].y : cells;
      reach = (c[k].x + 1) / 2 > reach ? (c[k].x + 1) / 2 : reach;
    }
  return cells ? pw_rack_grid_room(pw_al_grid(st, z), st->nth_of_zone[z], a, b, cells, reach, most) : 0;
}

static bool is_opened(const struct pw_al_state *st, int p, int t)
{
  return st->opened[(size_t)p * (size_t)(st->al->n_slots + 1) + (size_t)t] != 0;
}

static double open_cents(const struct pw_al_state *st, const struct pw_al_option *o)
{
  const struct pw_al *al = st->al;
  int p = al->pit_of_zone[o->zone], n = !is_opened(st, p, o->start) + !is_opened(st, p, o->mid);
  if (o->place != PW_NONE && o->place < al->n_zones) {
    int q = al->pit_of_zone[o->place];
    n += (q != p && !is_opened(st, q, o->mid)) + !is_opened(st, q, o->done);
  }
  return n * al->opening_cents;
}

static double place_cents(const struct pw_al_state *st, int c, const struct pw_al_option *o)
{
  const struct pw_al_group *g = st->group[c];
  if (st->n_groups[c] == 0)
    return 0;
  for (int k = 0; k < st->n_groups[c]; k++)
    if (g[k].zone == o->zone && g[k].place == o->place && g[k].start == o->start && g[k].done == o->done)
      return 0;
  return st->al->place_cents;
}

/* fills in the fixed cost; false when the pits could not burn that way */
static bool price(struct pw_al_state *st, int c, struct pw_al_option *o, bool is_lit)
{
  const struct pw_al *al = st->al;
  int p = al->pit_of_zone[o->zone], day = al->lot[c].day;
  double fixed = open_cents(st, o) + place_cents(st, c, o), small = fixed;
  if (o->place == PW_NONE) {
    fixed += pw_al_state_burn_delta(st, p, day, o->start, o->done);
  } else if (o->place < al->n_zones) {
    int q = al->pit_of_zone[o->place];
    if (q == p)
      fixed += pw_al_state_burn_delta(st, p, day, o->start, o->done);
    else
      fixed +=
          pw_al_state_burn_delta(st, p, day, o->start, o->mid) + pw_al_state_burn_delta(st, q, day, o->mid, o->done);
  } else {
    int f = o->place - al->n_zones;
    fixed += pw_al_state_burn_delta(st, p, day, o->start, o->mid);
    for (int t = o->mid; t < o->done; t++)
      if (!st->n_in[(size_t)f * (size_t)al->n_slots + (size_t)t])
        fixed += al->oven_cents[f];
  }
  o->fixed_cents = is_lit ? small : fixed;
  return fixed < 1e8;
}

/* the same of the smoke of an option; *known: what was worked out for it before, while nothing is put down, or -1 */
static int smoke_room(const struct pw_al_state *st, int c, const struct pw_al_option *o, int *known)
{
  const struct pw_al *al = st->al;
  if (*known < 0)
    *known =
        rack_room(st, o->zone, o->start, o->place == o->zone ? o->mid : pw_al_turned(al, c, o->mid),
                  pw_al_cells(st->cells1, al, c, o->zone), st->cap[(size_t)c * (size_t)al->n_zones + (size_t)o->zone]);
  return *known;
}

/* how many of `most` pieces the racks and hands could take, by everything but the exact geometry */
static int room(const struct pw_al_state *st, int c, const struct pw_al_option *o, int *known, int most)
{
  const struct pw_al *al = st->al;
  const struct pw_al_lot *lot = &al->lot[c];
  int done = pw_al_turned(al, c, o->done), smoke = smoke_room(st, c, o, known);
  most = smoke < most ? smoke : most;
  if (most <= 0)
    return 0;
  most = hands_room(st, o->start, lot->load_min, most);
  if (lot->has_finish)
    most = hands_room(st, o->mid, lot->wrap_min, most);
  if (most > 0 && o->place != PW_NONE) {
    if (o->place < al->n_zones) {
      most = rack_room(st, o->place, o->mid, done, pw_al_cells(st->cells2, al, c, o->place), most);
    } else {
      int f = o->place - al->n_zones;
      double each = al->ev->finishers[f].is_in_pans ? lot->pans : lot->area_oven_m2;
      most = store_room(st, f, o->mid, done, each, most);
    }
  }
  return most;
}

/* no food in pit p in some of [a, b), by the problem itself */
static bool is_shut(const struct pw_al *al, int p, int a, int b)
{
  return a < al->pit[p].shut_to && b > al->pit[p].shut_from;
}

static bool is_inside(const struct pw_al *al, const struct pw_al_limits *limits, int p, int day, int a, int b)
{
  int pd = p * al->n_days + day;
  if (is_shut(al, p, a, b))
    return false;
  if (p == limits->shut_pit && a < limits->shut_to && b > limits->shut_from)
    return false;
  return a >= limits->from[pd] && b <= limits->to[pd];
}

struct search {
  struct pw_al_state *st;
  const struct pw_al_limits *limits;
  struct pw_al_rng *rng;
  int c, n_waiting;
  int *room_by_done; /* [slot] pieces that find a box and hands when cooking ends there, -1: not known yet */
  int *
      room_by_mid; /* [stays][slot] pieces the zone looked at takes for the smoke that ends there, -1; NULL: each time anew */
  struct pw_al_option *list;
  double *score; /* of each in the list */
  int n, cap;
  bool has_threats; /* of the zone looked at, while nothing is put down */
  int n_threats;
  int step; /* slots from one end of cooking to the next that is looked at */
};

static int room_at_done(struct search *q, int done)
{
  int *known = &q->room_by_done[done];
  if (*known < 0)
    *known = box_room(q->st, q->c, done, hands_room(q->st, done, q->st->al->lot[q->c].unload_min, q->n_waiting));
  return *known;
}

/* what the guide asks for the room an option takes */
static double rent_cents(const struct search *q, const struct pw_al_option *o)
{
  const struct pw_al *al = q->st->al;
  const struct pw_al_guide *g = q->limits->rents;
  const struct pw_al_lot *lot = &al->lot[q->c];
  const struct pw_lot *src = &al->lots->lots[q->c];
  size_t n_t = (size_t)al->n_slots + 1, n_s = (size_t)al->n_settings_max, s = (size_t)o->setting;
  const double *rack = g->rack_rent + ((size_t)o->zone * n_s + s) * n_t;
  const double *own =
      g->lot_rent + (((size_t)q->c * (size_t)al->n_pits + (size_t)al->pit_of_zone[o->zone]) * n_s + s) * n_t;
  double cents =
      (rack[o->mid] - rack[o->start]) * src->footprint_length_m * src->footprint_width_m + own[o->mid] - own[o->start];
  if (o->place != PW_NONE && o->place < al->n_zones) {
    int y = al->pit_of_zone[o->place];
    s = (size_t)q->st->setting[y * al->n_days + lot->day];
    rack = g->rack_rent + ((size_t)o->place * n_s + s) * n_t;
    own = g->lot_rent + (((size_t)q->c * (size_t)al->n_pits + (size_t)y) * n_s + s) * n_t;
    cents += (rack[o->done] - rack[o->mid]) * src->wrapped_length_m * src->wrapped_width_m + own[o->done] - own[o->mid];
  } else if (o->place != PW_NONE) {
    int f = o->place - al->n_zones;
    const double *oven = g->oven_rent + (size_t)f * n_t;
    own = g->lot_oven_rent + ((size_t)q->c * (size_t)al->n_finishers + (size_t)f) * n_t;
    cents += own[o->done] - own[o->mid];
    cents += (oven[o->done] - oven[o->mid]) * (al->ev->finishers[f].is_in_pans ? lot->pans : lot->area_oven_m2);
  }
  if (o->done < lot->hold_end)
    cents += (g->hold_rent[lot->room_end] - g->hold_rent[o->done]) * lot->pans;
  return cents;
}

/* fills in what o costs and how many it takes; false when it is no use */
static bool assess(struct search *q, struct pw_al_option *o)
{
  int anew = -1, *known = &anew;
  if (q->room_by_mid) /* a zone's smoke takes as long wherever it goes on */
    known = &q->room_by_mid[(o->place == o->zone ? q->st->al->n_slots + 1 : 0) + o->mid];
  o->n = room_at_done(q, o->done);
  if (o->n <= 0 || (o->n = room(q->st, q->c, o, known, o->n)) <= 0 ||
      !price(q->st, q->c, o, q->limits->rents != NULL) ||
      (q->has_threats ? pw_al_is_threatened(q->st, q->c, o, q->n_threats) : pw_al_is_soiled(q->st, q->c, o)))
    return false;
  o->score = o->fixed_cents / o->n + o->unit_cents + (q->limits->rents ? rent_cents(q, o) : 0);
  if (q->limits->noise_frac > 0)
    o->score *= 1 + q->limits->noise_frac * pw_al_rng_unit(q->rng);
  return true;
}

/* While one lot is put in, pieces only come on: where geometry refused one, in smoke or in both stages of an option that
 * stays in its zone, it goes on to do so. */
static unsigned *full_at(const struct pw_al_state *st, const struct pw_al_option *o, bool stays)
{
  return st->full + ((size_t)o->zone * 2 + stays) * (size_t)st->al->n_slots + (size_t)o->start;
}

static bool stays_put(const struct pw_al_option *o) { return o->place == PW_NONE || o->place == o->zone; }

static bool is_full(const struct pw_al_state *st, const struct pw_al_option *o)
{
  return *full_at(st, o, false) == st->n_insertions || (stays_put(o) && *full_at(st, o, true) == st->n_insertions);
}

enum { LOOKS_BETWEEN_CLOCKS = 2048 };

static void consider(struct search *q, struct pw_al_option *o)
{
  if (q->st->n_looks++ % LOOKS_BETWEEN_CLOCKS == 0)
    q->st->is_late = q->st->is_late || pw_deadline_is_over(q->st->deadline_s);
  if (is_full(q->st, o))
    return;
  const struct pw_al *al = q->st->al;
  const struct pw_al_lot *lot = &al->lot[q->c];
  if (q->limits->skip_frac > 0 && pw_al_rng_unit(q->rng) < q->limits->skip_frac)
    return;
  double held = (double)(lot->whole_until_at_min - lot->rest_min - al->lots->start_at_min) / al->slot_min - o->done;
  o->unit_cents += lot->hold_cents * (held > 0 ? held : 0);
  if (q->n < q->cap && assess(q, o)) {
    q->score[q->n] = o->score;
    q->list[q->n++] = *o;
  }
}

/* every end of cooking for smoke in zone z and finish at `place` */
static void consider_place(struct search *q, int z, int s, int place)
{
  const struct pw_al *al = q->st->al;
  const struct pw_al_lot *lot = &al->lot[q->c];
  size_t zs = (size_t)z * (size_t)al->n_settings_max + (size_t)s;
  int p = al->pit_of_zone[z], d1 = lot->d1[zs], d2 = 0;
  double unit = lot->off1[zs];
  if (place == PW_NONE) {
    d2 = 0;
  } else if (place < al->n_zones) {
    int pq = al->pit_of_zone[place];
    size_t k = (size_t)place * (size_t)al->n_settings_max + (size_t)q->st->setting[pq * al->n_days + lot->day];
    d2 = lot->d2[k];
    unit += lot->off2[k] + (place != z ? al->move_cents : 0);
  } else {
    d2 = lot->d_oven[place - al->n_zones];
    unit += lot->off_oven[place - al->n_zones];
  }
  if (d2 == PW_NONE)
    return;
  int first = lot->done_last - (lot->done_last - lot->done_first) / q->step * q->step;
  for (int done = first; done <= lot->done_last; done += q->step) {
    struct pw_al_option o = {
        .zone = z, .setting = s, .place = place, .start = done - d1 - d2, .mid = done - d2, .done = done};
    if (o.start < al->pit[p].lead)
      continue;
    bool stays = place == z || place == PW_NONE;
    if (!is_inside(al, q->limits, p, lot->day, o.start, stays ? done : o.mid))
      continue;
    if (!stays && place < al->n_zones &&
        (o.mid < al->pit[al->pit_of_zone[place]].lead ||
         !is_inside(al, q->limits, al->pit_of_zone[place], lot->day, o.mid, done)))
      continue;
    o.unit_cents = unit;
    consider(q, &o);
  }
}

enum { PLACES_AT_RANDOM = 2 };

static void consider_zone(struct search *q, int z)
{
  const struct pw_al *al = q->st->al;
  const struct pw_al_lot *lot = &al->lot[q->c];
  int p = al->pit_of_zone[z], s = q->st->setting[p * al->n_days + lot->day];
  if (lot->d1[(size_t)z * (size_t)al->n_settings_max + (size_t)s] == PW_NONE ||
      q->limits->from[p * al->n_days + lot->day] >= q->limits->to[p * al->n_days + lot->day])
    return;
  q->n_threats = pw_al_threats(q->st, q->c, z);
  memset(q->room_by_mid, -1, 2 * (size_t)(al->n_slots + 1) * sizeof *q->room_by_mid);
  if (!lot->has_finish) {
    consider_place(q, z, s, PW_NONE);
    return;
  }
  consider_place(q, z, s, z);
  for (int f = 0; f < al->n_finishers; f++)
    if (lot->d_oven[f] != PW_NONE)
      consider_place(q, z, s, al->n_zones + f);
  if (al->n_zones <= PW_AL_ALL_PLACES_UP_TO) {
    for (int y = 0; y < al->n_zones; y++)
      if (y != z)
        consider_place(q, z, s, y);
  } else {
    for (int k = 0; k < PLACES_AT_RANDOM; k++) {
      int y = pw_al_rng_below(q->rng, al->n_zones);
      if (y != z)
        consider_place(q, z, s, y);
    }
  }
}

static int box_for(const struct pw_al_state *st, int c, int done)
{
  const struct pw_al *al = st->al;
  for (int f = 0; f < al->n_finishers; f++)
    if (!al->is_oven[f] && is_kept_hot(al, f, c, done) &&
        store_room(st, f, done, al->lot[c].room_end, al->lot[c].pans, 1) == 1)
      return f;
  return PW_NONE;
}

/* Nearly every option that geometry refuses is refused in one slot, mostly the fullest: it is asked first, and while one lot is put
 * in a slot in which nothing more of it fits stays so. */
static bool is_a_slot_full(struct pw_al_state *st, const struct pw_al_option *o, struct pw_cells one, bool turned,
                           int end)
{
  const struct pw_rack_grid *g = pw_al_grid(st, o->zone);
  unsigned *full = st->full_slot + ((size_t)o->zone * 2 + turned) * (size_t)st->al->n_slots;
  const int *used = g->used_cells + (size_t)st->nth_of_zone[o->zone] * (size_t)st->al->n_slots;
  int fullest = o->start;
  for (int t = o->start; t < end; t++) {
    if (full[t] == st->n_insertions)
      return true;
    fullest = used[t] > used[fullest] ? t : fullest;
  }
  uint64_t at[PW_GRID_ROWS_MAX];
  int x, y;
  pw_rack_grid_free(g, fullest, fullest + 1, one, at);
  if (pw_rack_grid_first(one, at, &x, &y))
    return false;
  full[fullest] = st->n_insertions;
  return true;
}

/* puts up to `most` waiting pieces by option o, which nothing soils, `turned` way round; returns how many.  `is_full` stays true
 * when it was the rack of the smoke (of both stages, for an option that stays) that took no more. */
static int put_turned(struct pw_al_state *st, int c, const struct pw_al_option *o, int most, bool turned, bool *is_full)
{
  const struct pw_al *al = st->al;
  const struct pw_al_lot *lot = &al->lot[c];
  struct pw_cells one = pw_al_cells(st->cells1, al, c, o->zone)[turned];
  if (!one.is_fitting)
    return 0;
  const struct pw_rack_grid *g = pw_al_grid(st, o->zone);
  bool on_rack2 = o->place != PW_NONE && o->place < al->n_zones;
  bool stays = o->place == o->zone;
  int spot_mid = stays ? o->mid : pw_al_turned(al, c, o->mid);
  bool is_out = false;
  struct pw_cells two = {0};
  bool turned2 = turned;
  if (on_rack2) {
    const struct pw_cells *w = pw_al_cells(st->cells2, al, c, o->place);
    if (!stays && !w[turned2].is_fitting)
      turned2 = !turned2;
    two = w[turned2];
    if (!two.is_fitting) {
      *is_full = *is_full && stays;
      return 0;
    }
  }
  uint64_t at1[PW_GRID_ROWS_MAX], at2[PW_GRID_ROWS_MAX];
  if (is_a_slot_full(st, o, one, turned, spot_mid))
    return 0;
  pw_rack_grid_free(g, o->start, spot_mid, one, at1);
  if (on_rack2) {
    /* a piece that stays keeps its low corner: what is free for both stages */
    if (stays && (two.from > one.from || two.to < one.to)) {
      one.from = two.from > one.from ? two.from : one.from;
      one.to = two.to < one.to ? two.to : one.to;
      if (one.from > one.to)
        return 0;
    }
    pw_rack_grid_free(pw_al_grid(st, o->place), o->mid, pw_al_turned(al, c, o->done), two, at2);
    if (stays)
      for (int i = one.from; i <= one.to; i++)
        at1[i] &= at2[i];
  }
  int n = 0, end = st->first_piece[c + 1];
  for (int i = st->first_piece[c]; i < end && n < most; i++) {
    if (st->piece[i].is_placed)
      continue;
    struct pw_al_piece r = {.zone = o->zone,
                            .setting = o->setting,
                            .place = o->place,
                            .start = o->start,
                            .mid = o->mid,
                            .done = o->done,
                            .box = PW_NONE,
                            .is_turned1 = turned,
                            .is_turned2 = turned2};
    if (!pw_rack_grid_snug(g, o->start, stays ? o->done : o->mid, one, at1, &r.x1, &r.y1)) {
      is_out = true;
      break;
    }
    if (stays) {
      r.x2 = r.x1;
      r.y2 = r.y1;
    } else if (on_rack2 && !pw_rack_grid_snug(pw_al_grid(st, o->place), o->mid, o->done, two, at2, &r.x2, &r.y2)) {
      break;
    }
    if (lot->pans > 0 && o->done < lot->hold_end && (r.box = box_for(st, c, o->done)) == PW_NONE)
      break;
    pw_al_state_put(st, i, &r);
    n++;
    pw_rack_grid_bar(at1, one, one, r.x1, r.y1);
    if (stays)
      pw_rack_grid_bar(at1, two, two, r.x2, r.y2);
    else if (on_rack2)
      pw_rack_grid_bar(at2, two, two, r.x2, r.y2);
  }
  *is_full = *is_full && is_out;
  return n;
}

/* both ways round */
static int put_both(struct pw_al_state *st, int c, const struct pw_al_option *o, int most, bool turned)
{
  bool is_full = true;
  int n = put_turned(st, c, o, most, turned, &is_full);
  if (n >= most)
    return n;
  n += put_turned(st, c, o, most - n, !turned, &is_full);
  if (is_full && n < most)
    *full_at(st, o, stays_put(o)) = st->n_insertions;
  return n;
}

enum { DENSER_WAY_PERCENT = 70 };

/* the way round of which more pieces lie on a stretch of rack, most of the time */
static bool way_round(struct pw_al_state *st, int c, int z, struct pw_al_rng *rng)
{
  const struct pw_cells *cells = pw_al_cells(st->cells1, st->al, c, z);
  uint64_t dice = pw_al_rng_next(rng);
  bool turned = dice & 1;
  if (!cells[0].is_fitting || !cells[1].is_fitting)
    return turned;
  double a = PW_GRID_CELLS_Y / cells[0].y / (double)cells[0].x, b = PW_GRID_CELLS_Y / cells[1].y / (double)cells[1].x;
  return (dice >> 8) % 100 < DENSER_WAY_PERCENT ? b > a : turned;
}

/* the first of the least of n numbers, n >= 1; an insertion looks often and at many, so four at a time */
static int least(const double *x, int n)
{
  double m[4] = {x[0], x[0], x[0], x[0]};
  int k = 0;
  for (; k + 4 <= n; k += 4)
    for (int j = 0; j < 4; j++)
      m[j] = x[k + j] < m[j] ? x[k + j] : m[j];
  for (; k < n; k++)
    m[0] = x[k] < m[0] ? x[k] : m[0];
  double min = fmin(fmin(m[0], m[1]), fmin(m[2], m[3]));
  for (k = 0; x[k] > min;)
    k++;
  return k;
}

/* takes the cheapest option that is not full by now out of the list; false when there is none */
static bool pick(struct search *q, struct pw_al_option *o)
{
  while (q->n > 0) {
    int k = least(q->score, q->n);
    *o = q->list[k];
    q->list[k] = q->list[--q->n];
    q->score[k] = q->score[q->n];
    if (!is_full(q->st, o))
      return true;
  }
  return false;
}

enum { LOOKS_OF_A_LOT = 32768 }; /* in a yard where there are more for one lot, not every slot is looked at */

static int step_of(const struct pw_al *al, int c)
{
  int n_places =
      1 + (al->lot[c].has_finish
               ? al->n_finishers + (al->n_zones <= PW_AL_ALL_PLACES_UP_TO ? al->n_zones - 1 : PLACES_AT_RANDOM)
               : 0);
  double n = (double)al->n_zones * n_places * (al->lot[c].done_last - al->lot[c].done_first + 1);
  return (int)ceil(fmax(n, 1) / LOOKS_OF_A_LOT);
}

static int by_score(const void *a, const void *b)
{
  const struct pw_al_option *x = a, *y = b;
  if (x->score != y->score)
    return x->score < y->score ? -1 : 1;
  return x->zone != y->zone ? x->zone - y->zone : x->place != y->place ? x->place - y->place : x->done - y->done;
}

static int put_option(struct search *q, struct pw_al_option *o, int most);

/* The options as they stand, cheapest first, each as far as room goes. */
static void put_in_order(struct search *q)
{
  struct pw_al_state *st = q->st;
  qsort(q->list, (size_t)q->n, sizeof *q->list, by_score);
  for (int i = 0; i < q->n && st->n_missed[q->c] > 0; i++)
    if (!is_full(st, &q->list[i]))
      (void)put_option(q, &q->list[i], st->n_missed[q->c]);
}

void pw_al_insert(struct pw_al_state *st, int c, const struct pw_al_limits *limits, struct pw_al_rng *rng)
{
  const struct pw_al *al = st->al;
  struct search q = {.st = st,
                     .limits = limits,
                     .rng = rng,
                     .c = c,
                     .list = st->options,
                     .score = st->option_score,
                     .cap = st->n_options_cap,
                     .room_by_done = st->room_by_done,
                     .step = step_of(al, c)};
  st->n_insertions++;
  while (st->n_missed[c] > 0 && !st->is_late) {
    q.n_waiting = st->n_missed[c];
    q.n = 0;
    memset(q.room_by_done, -1, (size_t)(al->n_slots + 1) * sizeof *q.room_by_done);
    q.room_by_mid = st->room_by_mid;
    q.has_threats = true;
    for (int z = 0; z < al->n_zones; z++)
      consider_zone(&q, z);
    q.room_by_mid = NULL; /* from here on pieces are put down */
    q.has_threats = false;
    if (st->n_looks > st->looks_fine) {
      put_in_order(&q);
      return;
    }
    struct pw_al_option o;
    int n = 0;
    /* an option that the exact geometry refuses changes nothing: the next cheapest is still right */
    while (n == 0) {
      if (!pick(&q, &o))
        return;
      n = put_both(st, c, &o, o.n, way_round(st, c, o.zone, rng));
    }
  }
}

/* an option as far as room goes; returns how many went in */
static int put_option(struct search *q, struct pw_al_option *o, int most)
{
  struct pw_al_state *st = q->st;
  q->n_waiting = st->n_missed[q->c];
  memset(q->room_by_done, -1, (size_t)(st->al->n_slots + 1) * sizeof *q->room_by_done);
  if (!assess(q, o))
    return 0;
  most = o->n < most ? o->n : most;
  return put_both(st, q->c, o, most, way_round(st, q->c, o->zone, q->rng));
}

/* smoke in zone z, finish in zone y (or an oven, or none) at the guide's hours, or the zone's own if it is slower */
static int put_flow(struct search *q, const struct pw_al_flow *flow, int z, int place, int most)
{
  const struct pw_al *al = q->st->al;
  const struct pw_al_lot *lot = &al->lot[q->c];
  int p = al->pit_of_zone[z], s = q->st->setting[p * al->n_days + lot->day];
  int d1 = lot->d1[(size_t)z * (size_t)al->n_settings_max + (size_t)s], d2 = 0;
  if (s != flow->setting || d1 == PW_NONE)
    return 0;
  if (place != PW_NONE && place < al->n_zones) {
    int sq = q->st->setting[al->pit_of_zone[place] * al->n_days + lot->day];
    d2 = lot->d2[(size_t)place * (size_t)al->n_settings_max + (size_t)sq];
  } else if (place != PW_NONE) {
    d2 = lot->d_oven[place - al->n_zones];
  }
  if (d2 == PW_NONE)
    return 0;
  struct pw_al_option o = {
      .zone = z, .setting = s, .place = place, .start = flow->mid - d1, .mid = flow->mid, .done = flow->mid + d2};
  bool stays = place == z || place == PW_NONE, is_rack = place != PW_NONE && place < al->n_zones;
  if (o.start < al->pit[p].lead || o.done > lot->done_last ||
      !is_inside(al, q->limits, p, lot->day, o.start, stays ? o.done : o.mid) ||
      (!stays && is_rack &&
       (o.mid < al->pit[al->pit_of_zone[place]].lead ||
        !is_inside(al, q->limits, al->pit_of_zone[place], lot->day, o.mid, o.done))))
    return 0;
  return put_option(q, &o, most);
}

void pw_al_insert_flow(struct pw_al_state *st, const struct pw_al_guide *guide, const struct pw_al_flow *flow,
                       const struct pw_al_limits *limits, struct pw_al_rng *rng)
{
  int left = flow->n, c = flow->lot;
  st->n_insertions++;
  struct search q = {.st = st, .limits = limits, .rng = rng, .c = c, .room_by_done = st->room_by_done};
  for (int i = guide->zone_first[flow->group]; i < guide->zone_first[flow->group + 1]; i++) {
    int z = guide->zones[i];
    if (flow->place_group == PW_NONE || flow->place_group == flow->group) {
      int place = flow->place_finisher != PW_NONE ? st->al->n_zones + flow->place_finisher
                  : flow->place_group == PW_NONE  ? PW_NONE
                                                  : z;
      if (left > 0)
        left -= put_flow(&q, flow, z, place, left);
      continue;
    }
    for (int j = guide->zone_first[flow->place_group]; left > 0 && j < guide->zone_first[flow->place_group + 1]; j++)
      left -= put_flow(&q, flow, z, guide->zones[j], left);
  }
}

static bool is_free_at(const struct pw_rack_grid *g, int a, int b, struct pw_cells c, int x, int y)
{
  uint64_t at[PW_GRID_ROWS_MAX];
  if (!c.is_fitting || x < c.from || x > c.to || y < 0 || y >= PW_GRID_CELLS_Y)
    return false;
  pw_rack_grid_free(g, a, b, c, at);
  return at[x] >> y & 1;
}

bool pw_al_insert_at(struct pw_al_state *st, int i, const struct pw_al_piece *rec)
{
  const struct pw_al *al = st->al;
  int c = st->piece[i].lot;
  const struct pw_al_lot *lot = &al->lot[c];
  struct pw_al_piece r = *rec;
  int p = al->pit_of_zone[r.zone];
  size_t zs = (size_t)r.zone * (size_t)al->n_settings_max + (size_t)r.setting;
  if (r.setting != st->setting[p * al->n_days + lot->day] || lot->d1[zs] != r.mid - r.start ||
      is_shut(al, p, r.start, r.mid))
    return false;
  if (!is_free_at(pw_al_grid(st, r.zone), r.start, r.place == r.zone ? r.mid : pw_al_turned(al, c, r.mid),
                  pw_al_cells(st->cells1, al, c, r.zone)[r.is_turned1], r.x1, r.y1))
    return false;
  if (r.place != PW_NONE && r.place < al->n_zones) {
    int q = al->pit_of_zone[r.place];
    size_t zq = (size_t)r.place * (size_t)al->n_settings_max + (size_t)st->setting[q * al->n_days + lot->day];
    if (lot->d2[zq] != r.done - r.mid || is_shut(al, q, r.mid, r.done) ||
        !is_free_at(pw_al_grid(st, r.place), r.mid, pw_al_turned(al, c, r.done),
                    pw_al_cells(st->cells2, al, c, r.place)[r.is_turned2], r.x2, r.y2))
      return false;
  } else if (r.place != PW_NONE) {
    int f = r.place - al->n_zones;
    if (store_room(st, f, r.mid, pw_al_turned(al, c, r.done),
                   al->ev->finishers[f].is_in_pans ? lot->pans : lot->area_oven_m2, 1) < 1)
      return false;
  }
  const struct pw_al_option way = {
      .zone = r.zone, .setting = r.setting, .place = r.place, .start = r.start, .mid = r.mid, .done = r.done};
  if (pw_al_is_soiled(st, c, &way))
    return false;
  if (hands_room(st, r.start, lot->load_min, 1) < 1 ||
      (lot->has_finish && hands_room(st, r.mid, lot->wrap_min, 1) < 1) ||
      hands_room(st, r.done, lot->unload_min, 1) < 1)
    return false;
  r.box = PW_NONE;
  if (lot->pans > 0 && r.done < lot->hold_end && (r.box = box_for(st, c, r.done)) == PW_NONE)
    return false;
  pw_al_state_put(st, i, &r);
  return true;
}

static void bar_add(struct pw_al_bars *bars, enum pw_al_bar bar, bool is_alone, int zone, int from, int to)
{
  bool is_first = is_alone ? bars->n_alone[bar] == 0 : bars->n_alone[bar] == 0 && bars->n_among[bar] == 0;
  bars->n_alone[bar] += is_alone;
  bars->n_among[bar]++;
  if (is_first || (is_alone && from < bars->from[bar])) {
    bars->zone[bar] = zone;
    bars->from[bar] = from;
    bars->to[bar] = to;
  }
}

/* one option for one more piece: which of the four things bar it */
static void bars_of(const struct pw_al_state *st, int c, const struct pw_al_option *o, struct pw_al_bars *bars)
{
  const struct pw_al *al = st->al;
  const struct pw_al_lot *lot = &al->lot[c];
  bool is_barred[PW_AL_BAR__COUNT] = {false};
  int from[PW_AL_BAR__COUNT] = {o->start, o->mid, o->done, o->start, o->start},
      to[PW_AL_BAR__COUNT] = {o->mid, o->done, lot->room_end, o->start + 1, o->mid};
  bool stays = o->place == o->zone || o->place == PW_NONE;
  int end = stays ? o->done : o->mid;
  const struct pw_cells *cells = pw_al_cells(st->cells1, al, c, o->zone);
  is_barred[PW_AL_BAR_RACK] = true;
  for (int turned = 0; turned < 2 && is_barred[PW_AL_BAR_RACK]; turned++) {
    uint64_t at[PW_GRID_ROWS_MAX];
    int x, y;
    if (!cells[turned].is_fitting)
      continue;
    pw_rack_grid_free(pw_al_grid(st, o->zone), o->start, pw_al_turned(al, c, end), cells[turned], at);
    is_barred[PW_AL_BAR_RACK] = !pw_rack_grid_first(cells[turned], at, &x, &y);
  }
  to[PW_AL_BAR_RACK] = end;
  is_barred[PW_AL_BAR_DRIPS] = pw_al_is_soiled(st, c, o);
  if (!stays) {
    int f = o->place - al->n_zones;
    is_barred[PW_AL_BAR_OVEN] = store_room(st, f, o->mid, pw_al_turned(al, c, o->done),
                                           al->ev->finishers[f].is_in_pans ? lot->pans : lot->area_oven_m2, 1) < 1;
  }
  is_barred[PW_AL_BAR_HOLD] = box_room(st, c, o->done, 1) < 1;
  int at_hands[3] = {o->start, o->mid, o->done};
  double minutes[3] = {lot->load_min, lot->has_finish ? lot->wrap_min : 0, lot->unload_min};
  for (int k = 2; k >= 0; k--)
    if (hands_room(st, at_hands[k], minutes[k], 1) < 1) {
      is_barred[PW_AL_BAR_HANDS] = true;
      from[PW_AL_BAR_HANDS] = at_hands[k];
      to[PW_AL_BAR_HANDS] = at_hands[k] + 1;
    }
  int n = 0;
  for (int k = 0; k < PW_AL_BAR__COUNT; k++)
    n += is_barred[k];
  bars->n_options++;
  for (int k = 0; k < PW_AL_BAR__COUNT; k++)
    if (is_barred[k])
      bar_add(bars, (enum pw_al_bar)k, n == 1, o->zone, from[k], to[k]);
}

void pw_al_insert_bars(const struct pw_al_state *st, int c, int most, struct pw_al_bars *bars)
{
  const struct pw_al *al = st->al;
  const struct pw_al_lot *lot = &al->lot[c];
  memset(bars, 0, sizeof *bars);
  double in_a_zone = (double)(lot->done_last - lot->done_first + 1) * (1 + (lot->has_finish ? al->n_finishers : 0));
  int step = (int)fmax(1, floor(al->n_zones * in_a_zone / most));
  for (int z = 0; z < al->n_zones; z += step) {
    int p = al->pit_of_zone[z], s = st->setting[p * al->n_days + lot->day];
    size_t zs = (size_t)z * (size_t)al->n_settings_max + (size_t)s;
    if (lot->d1[zs] == PW_NONE)
      continue;
    for (int f = -1; f < (lot->has_finish ? al->n_finishers : 0); f++) {
      int d2 = !lot->has_finish ? 0 : f < 0 ? lot->d2[zs] : lot->d_oven[f];
      for (int done = lot->done_first; d2 != PW_NONE && done <= lot->done_last; done++) {
        struct pw_al_option o = {.zone = z,
                                 .setting = s,
                                 .start = done - d2 - lot->d1[zs],
                                 .mid = done - d2,
                                 .done = done,
                                 .place = !lot->has_finish ? PW_NONE
                                          : f < 0          ? z
                                                           : al->n_zones + f};
        if (o.start >= al->pit[p].lead)
          bars_of(st, c, &o, bars);
      }
    }
  }
}
