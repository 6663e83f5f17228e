/* allocation_rules.h - the rules of an allocation once more, in plain code that shares nothing with the program: a plan
 * is followed piece by piece (trips), its rectangles, stores, fires and hands are counted, its cost is added up. */
#ifndef PW_ALLOCATION_RULES_H
#define PW_ALLOCATION_RULES_H

#include "harness.h"
#include "plan/stages.h"

enum { TRIPS_MAX = 2000 };

struct problem {
  const struct pw_event *event;
  const struct pw_lots *lots;
  const struct pw_fuel_rates *rates;
};

/* what becomes of one piece; places count zones first, then finishers; -1: none */
struct trip {
  int lot, zone, place, box;
  int start, mid, done, hold_from, hold_to;
  bool is_placed;
};

static inline int setting_of(const struct pw_allocation *a, int pit, int from, int to)
{
  for (int b = 0; b < a->n_burns; b++)
    if (a->burns[b].pit == pit && a->burns[b].ready_at_min <= from && a->burns[b].out_at_min >= to)
      return a->burns[b].setting;
  return -1;
}

/* stages of one piece in order, one by one; lengths as the setting of the fire wants them */
static inline void rules_trip(struct trip *t, const struct problem *p, const struct pw_allocation *a,
                              const struct pw_load *l)
{
  const struct pw_lot *lot = &p->lots->lots[l->lot];
  int n_zones = p->lots->n_zones, minutes = l->end_at_min - l->start_at_min;
  int s = l->zone >= 0 ? setting_of(a, p->lots->zones[l->zone].pit, l->start_at_min, l->end_at_min) : 0;
  ck_assert_msg(s >= 0, "a load lies in a cold pit at %d", l->start_at_min);
  ck_assert(l->zone < 0 || p->event->pits[p->lots->zones[l->zone].pit].is_rentable == false);
  switch (l->stage) {
  case PW_LOAD_SMOKE:
    ck_assert(!t->is_placed && l->zone >= 0);
    ck_assert_int_eq(minutes, lot->smoke_min[l->zone][s]);
    *t = (struct trip){l->lot, l->zone, -1, -1, l->start_at_min, l->end_at_min, l->end_at_min, 0, 0, true};
    break;
  case PW_LOAD_FINISH:
    ck_assert(t->is_placed && t->place < 0 && lot->has_finish && l->start_at_min == t->mid);
    ck_assert_int_eq(minutes, l->zone >= 0 ? lot->finish_min[l->zone][s] : lot->oven_min[l->finisher]);
    t->place = l->zone >= 0 ? l->zone : n_zones + l->finisher;
    t->done = l->end_at_min;
    break;
  case PW_LOAD_REST:
    ck_assert(t->is_placed && t->box < 0 && l->start_at_min == t->done);
    ck_assert_int_eq(minutes, lot->rest_min);
    t->box = l->finisher;
    break;
  default:
    ck_assert(t->is_placed && l->start_at_min == t->done + lot->rest_min && (t->box < 0 || t->box == l->finisher));
    ck_assert(minutes > 0 && minutes <= lot->hold_max_min + lot->over_min);
    ck_assert_int_eq(l->end_at_min, lot->whole_until_at_min);
    t->box = l->finisher;
  }
}

/* fills trips, pieces of lot c from first[c], and returns how many; checks that each piece
 * goes through its stages once */
static inline int rules_trips(struct trip *trips, const struct problem *p, const struct pw_allocation *a)
{
  int n = 0, first[64], n_missed = 0;
  ck_assert_int_le(p->lots->n_lots, 64);
  for (int c = 0; c < p->lots->n_lots; c++) {
    first[c] = n;
    n += p->lots->lots[c].pieces;
  }
  ck_assert_int_le(n, TRIPS_MAX);
  memset(trips, 0, (size_t)n * sizeof *trips);
  for (int stage = PW_LOAD_SMOKE; stage <= PW_LOAD_HOLD; stage++)
    for (int i = 0; i < a->n_loads; i++)
      for (int k = 0; a->loads[i].stage == (enum pw_load_stage)stage && k < a->loads[i].pieces; k++) {
        int id = a->loads[i].piece_ids[k], c = a->loads[i].lot;
        ck_assert(id >= 0 && id < p->lots->lots[c].pieces);
        rules_trip(&trips[first[c] + id], p, a, &a->loads[i]);
      }
  for (int c = 0; c < p->lots->n_lots; c++) {
    const struct pw_lot *lot = &p->lots->lots[c];
    int placed = 0, service = lot->by_at_min;
    for (int i = first[c]; i < first[c] + lot->pieces; i++) {
      const struct trip *t = &trips[i];
      trips[i].lot = c;
      if (!t->is_placed)
        continue;
      placed++;
      ck_assert_int_eq(t->place >= 0, lot->has_finish);
      ck_assert(t->done >= lot->done_first_min && t->done <= lot->done_last_min && t->start >= p->lots->start_at_min);
      ck_assert(t->done + lot->rest_min <= service);
      if (p->event->cuts[lot->cut].pans_per_piece > 0 && t->done < service)
        ck_assert_msg(t->box >= 0 && p->event->finishers[t->box].kind == PW_HOLD, "lot %d is held nowhere", c);
    }
    ck_assert_int_eq(placed + a->missed[c], lot->pieces);
    n_missed += a->missed[c];
  }
  ck_assert_int_eq(n_missed, a->n_missed);
  return n;
}

static inline bool rules_is_size(const struct pw_rect *r, double l, double w, bool may_turn)
{
  return (fabs(r->length_m - l) < 1e-9 && fabs(r->depth_m - w) < 1e-9) ||
         (may_turn && fabs(r->length_m - w) < 1e-9 && fabs(r->depth_m - l) < 1e-9);
}

static inline void rules_racks(const struct problem *p, const struct pw_allocation *a)
{
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *l = &a->loads[i];
    const struct pw_lot *lot = &p->lots->lots[l->lot];
    bool is_wrapped = l->stage == PW_LOAD_FINISH;
    for (int k = 0; l->zone >= 0 && k < l->pieces; k++) {
      const struct pw_zone *z = &p->lots->zones[l->zone];
      const struct pw_rect *r = &l->rects[k];
      double length_m = is_wrapped ? lot->wrapped_length_m : lot->footprint_length_m;
      double width_m = is_wrapped ? lot->wrapped_width_m : lot->footprint_width_m;
      ck_assert(rules_is_size(r, length_m, width_m, p->event->cuts[lot->cut].may_turn));
      const struct pw_rack *rack = &p->event->pits[z->pit].racks[z->rack];
      double middle_m = r->x_m + r->length_m / 2;
      ck_assert(r->x_m >= -1e-9 && r->x_m + r->length_m <= rack->length_m + 1e-9);
      ck_assert(middle_m >= z->x_m - 1e-6 && middle_m <= z->x_m + z->length_m + 1e-6);
      ck_assert(r->y_m >= -1e-9 && r->y_m + r->depth_m <= z->depth_m + 1e-9);
      for (int j = 0; j <= i; j++) {
        const struct pw_load *m = &a->loads[j];
        const struct pw_zone *y = m->zone >= 0 ? &p->lots->zones[m->zone] : NULL;
        if (!y || y->pit != z->pit || y->rack != z->rack || m->start_at_min >= l->end_at_min ||
            l->start_at_min >= m->end_at_min)
          continue;
        for (int h = 0; h < (j == i ? k : m->pieces); h++) {
          const struct pw_rect *q = &m->rects[h];
          bool apart = q->x_m + q->length_m <= r->x_m + 1e-9 || r->x_m + r->length_m <= q->x_m + 1e-9 ||
                       q->y_m + q->depth_m <= r->y_m + 1e-9 || r->y_m + r->depth_m <= q->y_m + 1e-9;
          ck_assert_msg(apart, "loads %d and %d overlap", i, j);
        }
      }
    }
  }
}

static inline void rules_burns(const struct problem *p, const struct pw_allocation *a)
{
  for (int b = 0; b < a->n_burns; b++) {
    const struct pw_burn *burn = &a->burns[b];
    const struct pw_pit *pit = &p->event->pits[burn->pit];
    int n = 0;
    ck_assert_int_eq(burn->lit_at_min, burn->ready_at_min - pit->ready_min);
    ck_assert(burn->lit_at_min >= p->lots->start_at_min && burn->ready_at_min < burn->out_at_min);
    ck_assert(burn->setting >= 0 && burn->setting < pit->n_settings);
    for (int c = 0; c < a->n_burns; c++)
      if (a->burns[c].pit == burn->pit) {
        n++;
        ck_assert(c == b || a->burns[c].out_at_min <= burn->lit_at_min || burn->out_at_min <= a->burns[c].lit_at_min);
      }
    ck_assert_int_le(n, pit->n_burns_max);
  }
}

/* ovens, boxes and hands, slot by slot; places as in `trip` */
static inline bool rules_has_room(const struct problem *p, const struct trip *trips, int n)
{
  const struct pw_event *ev = p->event;
  int slot = p->lots->slot_min, n_zones = p->lots->n_zones;
  for (int t = p->lots->start_at_min; t < p->lots->end_at_min; t += slot) {
    double used[16] = {0}, work = 0, hands = 0;
    for (int i = 0; i < n; i++) {
      const struct trip *r = &trips[i];
      if (!r->is_placed)
        continue;
      const struct pw_lot *lot = &p->lots->lots[r->lot];
      const struct pw_cut *cut = &ev->cuts[lot->cut];
      int f = r->place - n_zones;
      if (f >= 0 && r->mid <= t && t < r->done)
        used[f] += ev->finishers[f].is_in_pans ? cut->pans_per_piece : lot->wrapped_length_m * lot->wrapped_width_m;
      if (r->box >= 0 && r->done <= t && t < ev->services[lot->service].at_min)
        used[r->box] += cut->pans_per_piece;
      work += (r->start == t ? cut->load_min : 0) + (lot->has_finish && r->mid == t ? cut->wrap_min : 0) +
              (r->done == t ? cut->unload_min : 0);
    }
    for (int f = 0; f < ev->n_finishers; f++)
      if (used[f] > ev->finishers[f].capacity + 1e-6)
        return false;
    for (int k = 0; k < ev->n_crew; k++)
      if ((ev->crew[k].duties & 1u << PW_DUTY_PIT) && ev->crew[k].from_at_min <= t && ev->crew[k].to_at_min >= t + slot)
        hands += ev->crew[k].count;
    if (ev->n_crew && work > hands * slot * 0.6 + 1e-6) /* six tenths of a shift; the rest is for fires and checks */
      return false;
  }
  return true;
}

/* ---- cost, term by term ---- */

static inline double rules_tend(const struct problem *p, int pit)
{
  return p->event->pits[pit].tend_min_per_h / 60 * p->event->effort.tend_cents_per_h;
}

static inline double rules_miss_cents(const struct problem *p)
{
  double cents = 1000, hours = (p->lots->end_at_min - p->lots->start_at_min) / 60.0;
  for (int q = 0; q < p->event->n_pits; q++)
    for (int s = 0; s < p->event->pits[q].n_settings; s++)
      cents += p->rates->light_cents[q][s] + rules_tend(p, q) * p->event->pits[q].ready_min / 60 +
               (p->rates->burn_cents_per_h[q][s] + rules_tend(p, q)) * hours;
  return cents;
}

/* rack and time a piece asks for: footprint by the longest smoke anywhere (in slots) and four */
static inline double rules_bulk(const struct problem *p, const struct pw_lot *lot)
{
  int longest = 0;
  for (int z = 0; z < p->lots->n_zones; z++) {
    const struct pw_pit *pit = &p->event->pits[p->lots->zones[z].pit];
    for (int s = 0; s < pit->n_settings && !pit->is_rentable; s++)
      if (lot->smoke_min[z][s] > longest)
        longest = lot->smoke_min[z][s];
  }
  int slots = (longest + p->lots->slot_min - 1) / p->lots->slot_min;
  return lot->footprint_length_m * lot->footprint_width_m * (slots + 4);
}

/* guests without meat, and no other cut for them */
static inline bool rules_is_only(const struct problem *p, const struct pw_lot *lot)
{
  const struct pw_event *ev = p->event;
  const struct pw_service *s = &ev->services[lot->service];
  int guests = 0, others = 0;
  for (int i = 0; i < ev->n_classes; i++)
    guests += ev->classes[i].eats_meat ? 0 : s->guests[i];
  for (int k = 0; k < s->n_menu; k++) {
    int cut = ev->dishes[s->menu[k].dish].cut;
    others += cut != PW_NONE && cut != lot->cut && ev->cuts[cut].kind == PW_KIND_PLANT;
  }
  return guests > 0 && others == 0 && ev->cuts[lot->cut].kind == PW_KIND_PLANT;
}

/* m of a lot's n pieces missing: the first price times m (1 + 40 m / n), by the lot's bulk, threefold for an only dish */
static inline double rules_misses_cents(const struct problem *p, const struct trip *trips, int n)
{
  double cents = 0, least = HUGE_VAL;
  for (int c = 0; c < p->lots->n_lots; c++)
    least = fmin(least, rules_bulk(p, &p->lots->lots[c]));
  for (int c = 0; c < p->lots->n_lots; c++) {
    const struct pw_lot *lot = &p->lots->lots[c];
    int m = 0;
    for (int i = 0; i < n; i++)
      m += trips[i].lot == c && !trips[i].is_placed;
    cents += rules_miss_cents(p) * rules_bulk(p, lot) / least * (rules_is_only(p, lot) ? 3 : 1) * m *
             (1 + 40.0 * m / lot->pieces);
  }
  return cents;
}

static inline double off_best(const struct problem *p, const struct pw_stage *stage, double temp_c)
{
  return p->event->effort.off_best_cents_per_piece_k * fabs(temp_c - stage->best_c);
}

/* opened[] are pit and time of every reason to open a pit; each pair is paid for once */
struct rules_openings {
  int n, pit[4 * TRIPS_MAX], at[4 * TRIPS_MAX];
};
static inline void rules_open(struct rules_openings *o, int pit, int at)
{
  for (int i = 0; i < o->n; i++)
    if (o->pit[i] == pit && o->at[i] == at)
      return;
  o->pit[o->n] = pit;
  o->at[o->n++] = at;
}

static inline double rules_cost(const struct problem *p, const struct trip *trips, int n, const struct pw_burn *burns,
                                int n_burns)
{
  static struct rules_openings o;
  const struct pw_event *ev = p->event;
  const struct pw_zone *zones = p->lots->zones;
  int n_zones = p->lots->n_zones;
  double cents = 0;
  for (int b = 0; b < n_burns; b++) {
    int q = burns[b].pit, s = burns[b].setting;
    cents += p->rates->light_cents[q][s] + rules_tend(p, q) * ev->pits[q].ready_min / 60;
    cents += (p->rates->burn_cents_per_h[q][s] + rules_tend(p, q)) * (burns[b].out_at_min - burns[b].ready_at_min) / 60;
  }
  cents += rules_misses_cents(p, trips, n);
  o.n = 0;
  for (int i = 0; i < n; i++) {
    const struct trip *t = &trips[i];
    const struct pw_lot *lot = &p->lots->lots[t->lot];
    const struct pw_cut *cut = &ev->cuts[lot->cut];
    if (!t->is_placed)
      continue;
    int q = zones[t->zone].pit, s = 0, s2 = 0;
    for (int b = 0; b < n_burns; b++) {
      if (burns[b].pit == q && burns[b].ready_at_min <= t->start && burns[b].out_at_min >= t->mid)
        s = burns[b].setting;
      if (t->place >= 0 && t->place < n_zones && burns[b].pit == zones[t->place].pit &&
          burns[b].ready_at_min <= t->mid && burns[b].out_at_min >= t->done)
        s2 = burns[b].setting;
    }
    rules_open(&o, q, t->start);
    rules_open(&o, q, t->mid);
    cents += off_best(p, &cut->smoke, zones[t->zone].temp_c[s]);
    if (t->place >= 0 && t->place < n_zones) {
      rules_open(&o, zones[t->place].pit, t->mid);
      rules_open(&o, zones[t->place].pit, t->done);
      cents += off_best(p, &cut->finish, zones[t->place].temp_c[s2]);
    } else if (t->place >= 0) {
      cents += off_best(p, &cut->finish, ev->finishers[t->place - n_zones].temp_c);
    }
    if (t->place >= 0 && t->place != t->zone)
      cents += ev->effort.move_cents_per_piece;
    int held = ev->services[lot->service].at_min - lot->rest_min - t->done;
    cents += held > 0 ? held / 60.0 * ev->effort.hold_cents_per_piece_h : 0;
    bool is_new_place = false; /* a way of cooking that no earlier piece of the lot has */
    for (int j = i - 1; j >= 0 && trips[j].lot == t->lot; j--) {
      if (!trips[j].is_placed)
        continue;
      is_new_place = true;
      if (trips[j].zone == t->zone && trips[j].place == t->place && trips[j].start == t->start &&
          trips[j].done == t->done) {
        is_new_place = false;
        break;
      }
    }
    cents += is_new_place ? ev->effort.place_cents : 0;
  }
  cents += o.n * ev->effort.opening_cents;
  for (int f = 0; f < ev->n_finishers; f++)
    for (int t = p->lots->start_at_min; t < p->lots->end_at_min; t += p->lots->slot_min)
      for (int i = 0; i < n && ev->finishers[f].kind == PW_OVEN; i++)
        if (trips[i].is_placed && trips[i].place == n_zones + f && trips[i].mid <= t && t < trips[i].done) {
          cents += ev->finishers[f].cents_per_h * p->lots->slot_min / 60;
          break;
        }
  return cents;
}

/* pieces carry numbers as a cook meets them: earlier loads first, in one load from the hot end on */
static inline void numbers_check(const struct problem *p, const struct pw_allocation *a)
{
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *l = &a->loads[i];
    if (l->stage != PW_LOAD_SMOKE)
      continue;
    ck_assert_int_lt(l->piece_ids[l->pieces - 1], p->lots->lots[l->lot].pieces - a->missed[l->lot]);
    for (int k = 1; k < l->pieces; k++) {
      const struct pw_rect *r = &l->rects[k - 1], *q = &l->rects[k];
      ck_assert_int_lt(l->piece_ids[k - 1], l->piece_ids[k]);
      ck_assert(r->x_m < q->x_m || (r->x_m <= q->x_m && r->y_m < q->y_m));
    }
    for (int j = i + 1; j < a->n_loads; j++) {
      const struct pw_load *m = &a->loads[j];
      if (m->stage == PW_LOAD_SMOKE && m->lot == l->lot && m->start_at_min > l->start_at_min)
        ck_assert_int_lt(l->piece_ids[l->pieces - 1], m->piece_ids[0]);
    }
  }
}

/* everything above for a plan */
static inline void rules_check(const struct problem *p, const struct pw_allocation *a)
{
  numbers_check(p, a);
  static struct trip trips[TRIPS_MAX];
  int n = rules_trips(trips, p, a);
  rules_racks(p, a);
  rules_burns(p, a);
  ck_assert_msg(rules_has_room(p, trips, n), "an oven, a box or the hands are over-full");
  PW_NEAR("cost", a->cost_cents, rules_cost(p, trips, n, a->burns, a->n_burns), 1e-6, 1e-9);
  ck_assert(a->bound_cents <= a->cost_cents + 1e-6);
}

#endif
