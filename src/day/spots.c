/* spots.c - free places on racks [N3].
 * Input: state, belief, an allocation from now on.  Output: spots for pieces of one lot.  Idea: a free place touches the edge of its zone or a
 * neighbour, so only those corners are tried; the hottest zone first by its minutes. */
#include "day/spots.h"

#include "plan/lots/drips.h"

#include <math.h>

enum { CORNERS_MAX = 160 };
#define TOUCH_M 1e-6

int pw_spot_oven_min(const struct pw_lot *lot, int stage, int finisher)
{
  return stage == PW_LOAD_FINISH ? lot->oven_min[finisher] : lot->open_oven_min[finisher];
}

int pw_spot_stage_now(const struct pw_state *s, int piece)
{
  const struct pw_piece *p = &s->pieces[piece];
  const struct pw_piece_stage *smoke = &p->stage[PW_LOAD_SMOKE], *finish = &p->stage[PW_LOAD_FINISH];
  bool is_wrapped = finish->load != PW_NONE && finish->start_min <= s->now_min && smoke->end_min <= s->now_min;
  return smoke->load == PW_NONE || is_wrapped ? PW_LOAD_FINISH : PW_LOAD_SMOKE;
}

int pw_spot_min(const struct pw_lots *lots, int lot, int stage, int zone, int setting)
{
  const struct pw_lot *l = &lots->lots[lot];
  int **minutes = stage == PW_LOAD_FINISH ? l->finish_min : l->smoke_min;
  return l->coals_min || !minutes || !minutes[zone] ? PW_NONE : minutes[zone][setting];
}

int pw_spot_drips_min(const struct pw_event *ev, const struct pw_lots *lots, int lot, int zone, int setting,
                      int open_min)
{
  const struct pw_zone *z = &lots->zones[zone];
  const struct pw_lot *l = &lots->lots[lot];
  bool has_below = false;
  for (int r = 0; r < ev->pits[z->pit].n_racks; r++)
    has_below = has_below || pw_drips_above(&ev->pits[z->pit], z->rack, r);
  int safe = has_below && l->safe_min && l->safe_min[zone] ? l->safe_min[zone][setting] : 0;
  return safe < open_min ? safe : open_min;
}

/* ---- what lies there ------------------------------------------------------------------------------------------------------- */

static bool is_over(const struct pw_rect *p, const struct pw_rect *q)
{
  return p->x_m < q->x_m + q->length_m - TOUCH_M && q->x_m < p->x_m + p->length_m - TOUCH_M &&
         p->y_m < q->y_m + q->depth_m - TOUCH_M && q->y_m < p->y_m + p->depth_m - TOUCH_M;
}

struct try_at {
  const struct pw_state *s;
  const struct pw_allocation *al;
  const struct pw_spot *spots, *carry; /* NULL: none in this round */

  int lot, piece, stage, zone, start, end;
};

static int piece_of(const struct pw_state *s, const struct pw_load *load, int k)
{
  return s->first[load->lot] + (load->piece_ids ? load->piece_ids[k] : k);
}

static int since(const struct pw_load *load) { return load->is_carried ? load->carried_at_min : load->start_at_min; }

/* Whether a load matters for a rack of a pit in the time looked at. */
static bool is_then(const struct try_at *t, const struct pw_load *load)
{
  return load->stage <= PW_LOAD_FINISH && load->zone != PW_NONE && load->rects && since(load) < t->end &&
         load->end_at_min > t->start && t->s->plan->lots.zones[load->zone].pit == t->s->plan->lots.zones[t->zone].pit;
}

static bool is_free(const struct try_at *t, const struct pw_rect *rect)
{
  const struct pw_zone *zones = t->s->plan->lots.zones;
  for (int i = 0; i < t->al->n_loads; i++) {
    const struct pw_load *load = &t->al->loads[i];
    for (int k = 0; is_then(t, load) && zones[load->zone].rack == zones[t->zone].rack && k < load->pieces; k++)
      if (piece_of(t->s, load, k) != t->piece && is_over(rect, &load->rects[k]))
        return false;
  }
  for (int i = t->s->first[t->lot]; t->carry && i < t->s->first[t->lot + 1]; i++) {
    const struct pw_spot *spot = &t->carry[i];
    if (spot->is_moved && i != t->piece && spot->zone != PW_NONE && zones[spot->zone].pit == zones[t->zone].pit &&
        zones[spot->zone].rack == zones[t->zone].rack && is_over(rect, &spot->rect))
      return false;
  }
  for (int i = t->s->first[t->lot]; t->spots && i < t->s->first[t->lot + 1]; i++)
    for (int g = 0; g < 2; g++) { /* moved in this round, on no load yet: it is there all the time */
      const struct pw_spot *spot = &t->spots[PW_SPOT_AT(i, g)];
      if (spot->is_moved && i != t->piece && zones[spot->zone].pit == zones[t->zone].pit &&
          zones[spot->zone].rack == zones[t->zone].rack && is_over(rect, &spot->rect))
        return false;
    }
  return true;
}

/* One of a lot above the other is done no later than what still drips on it, and they do not go on and off together. */
static bool is_dripped_on_late(const struct try_at *t, const struct pw_load *load)
{
  const struct pw_pit *pit = &t->s->plan->event->pits[t->s->plan->lots.zones[t->zone].pit];
  int here = t->s->plan->lots.zones[t->zone].rack, there = t->s->plan->lots.zones[load->zone].rack;
  if (since(load) == t->start && load->end_at_min == t->end)
    return false;
  return (pw_drips_above(pit, here, there) && load->end_at_min <= t->end) ||
         (pw_drips_above(pit, there, here) && t->end <= load->end_at_min);
}

/* [H2] By racks, not by outlines: nothing raw of another lot above or below it at that time, if it is open itself; of its own lot, nothing that
 * is done sooner below. */
static bool is_dry(const struct try_at *t)
{
  const struct pw_event *ev = t->s->plan->event;
  const struct pw_lots *lots = &t->s->plan->lots;
  const struct pw_zone *z = &lots->zones[t->zone];
  bool is_raw = pw_drips_raw(&ev->cuts[lots->lots[t->lot].cut]);
  for (int i = 0; t->stage == PW_LOAD_SMOKE && i < t->al->n_loads; i++) {
    const struct pw_load *load = &t->al->loads[i];
    if (!is_then(t, load) || load->stage != PW_LOAD_SMOKE)
      continue;
    if (load->lot == t->lot) {
      bool is_itself = load->pieces == 1 && piece_of(t->s, load, 0) == t->piece;
      if (is_raw && !is_itself && is_dripped_on_late(t, load))
        return false;
      continue;
    }
    int rack = lots->zones[load->zone].rack;
    if ((pw_drips_raw(&ev->cuts[lots->lots[load->lot].cut]) && pw_drips_above(&ev->pits[z->pit], rack, z->rack)) ||
        (is_raw && pw_drips_above(&ev->pits[z->pit], z->rack, rack)))
      return false;
  }
  return true;
}

/* ---- a place in a zone ---------------------------------------------------------------------------------------------------------- */

static bool is_inside(const struct pw_rack *rack, const struct pw_zone *zone, const struct pw_rect *r)
{
  double middle = r->x_m + r->length_m / 2, radius = rack->length_m / 2;
  if (middle < zone->x_m + TOUCH_M || middle > zone->x_m + zone->length_m - TOUCH_M || r->x_m < 0 || r->y_m < 0 ||
      r->x_m + r->length_m > rack->length_m || r->y_m + r->depth_m > rack->depth_m)
    return false;
  return rack->outline != PW_DISC || hypot(fmax(fabs(r->x_m - radius), fabs(r->x_m + r->length_m - radius)),
                                           fmax(fabs(r->y_m - radius), fabs(r->y_m + r->depth_m - radius))) <= radius;
}

static bool find(struct pw_rect *out, const struct try_at *t)
{
  const struct pw_lots *lots = &t->s->plan->lots;
  const struct pw_zone *zone = &lots->zones[t->zone];
  const struct pw_rack *rack = &t->s->plan->event->pits[zone->pit].racks[zone->rack];
  const struct pw_lot *lot = &lots->lots[t->lot];
  double length = t->stage == PW_LOAD_FINISH ? lot->wrapped_length_m : lot->footprint_length_m,
         depth = t->stage == PW_LOAD_FINISH ? lot->wrapped_width_m : lot->footprint_width_m, x[CORNERS_MAX],
         y[CORNERS_MAX];
  int n = 0;
  x[n] = fmax(zone->x_m - length / 2 + 2 * TOUCH_M, 0);
  y[n++] = 0;
  for (int i = 0; i < t->al->n_loads; i++) {
    const struct pw_load *load = &t->al->loads[i];
    for (int k = 0;
         is_then(t, load) && lots->zones[load->zone].rack == zone->rack && k < load->pieces && n < CORNERS_MAX; k++) {
      x[n] = load->rects[k].x_m + load->rects[k].length_m;
      y[n++] = load->rects[k].y_m + load->rects[k].depth_m;
    }
  }
  for (int i = t->s->first[t->lot]; (t->spots || t->carry) && i < t->s->first[t->lot + 1] && n < CORNERS_MAX; i++) {
    const struct pw_spot *spot = t->carry ? &t->carry[i] : &t->spots[PW_SPOT_AT(i, t->stage)];
    if (spot->is_moved && spot->zone != PW_NONE && lots->zones[spot->zone].pit == zone->pit &&
        lots->zones[spot->zone].rack == zone->rack) {
      x[n] = spot->rect.x_m + spot->rect.length_m;
      y[n++] = spot->rect.y_m + spot->rect.depth_m;
    }
  }
  for (int i = 0; i < n; i++)
    for (int k = 0; k < n; k++) {
      struct pw_rect r = {x[i], y[k], length, depth};
      if (is_inside(rack, zone, &r) && is_free(t, &r)) {
        *out = r;
        return true;
      }
    }
  return false;
}

/* ---- pieces of a lot --------------------------------------------------------------------------------------------------------------- */

static const struct pw_load *load_of(const struct pw_state *s, const struct pw_allocation *al, int piece, int stage)
{
  for (int i = 0; i < al->n_loads; i++)
    for (int k = 0;
         (int)al->loads[i].stage == stage && al->loads[i].lot == s->pieces[piece].lot && k < al->loads[i].pieces; k++)
      if (piece_of(s, &al->loads[i], k) == piece)
        return &al->loads[i];
  return NULL;
}

/* The fire that burns clean there then, PW_NONE: none.  One that burns now may be kept up longer than planned. */
static const struct pw_burn *burn_of(const struct pw_state *s, const struct pw_allocation *al, int pit, int start)
{
  enum { KEPT_MOST_MIN = 180 };
  for (int b = 0; b < al->n_burns; b++) {
    const struct pw_burn *burn = &al->burns[b];
    bool is_kept = burn->ready_at_min <= s->now_min && burn->out_at_min >= s->now_min &&
                   start - burn->out_at_min < KEPT_MOST_MIN &&
                   (b + 1 == al->n_burns || al->burns[b + 1].pit != pit || al->burns[b + 1].lit_at_min > start);
    if (burn->pit == pit && burn->ready_at_min <= start && (burn->out_at_min > start || is_kept))
      return burn;
  }
  return NULL;
}

static bool was_lost(const struct pw_state *s, int pit)
{
  for (int i = 0; i < s->n_outages; i++)
    if (s->outages[i].pit == pit && s->outages[i].to_min + s->plan->event->pits[pit].ready_min / 2 > s->now_min)
      return true;
  return false;
}

static bool move_piece(struct pw_spot *spots, const struct pw_state *s, const struct pw_belief *b,
                       const struct pw_allocation *al, int piece, int stage)
{
  const struct pw_lots *lots = &s->plan->lots;
  const struct pw_load *load = load_of(s, al, piece, stage);
  int lot = s->pieces[piece].lot, slot = pw_day_slot_min(s->plan), best = PW_NONE;
  if (!load || load->start_at_min <= s->now_min)
    return false;
  const struct pw_load *planned = &s->plan->allocation.loads[s->pieces[piece].stage[stage].load];
  int now = (int)ceil((s->now_min + 1.0) / slot) * slot, start = stage == PW_LOAD_FINISH       ? load->start_at_min
                                                                 : planned->start_at_min > now ? planned->start_at_min
                                                                                               : now;
  for (int z = 0; z < lots->n_zones; z++)
    for (int at = start; at == start || at < load->start_at_min; at += slot) { /* or when it is free */
      const struct pw_burn *burn = burn_of(s, al, lots->zones[z].pit, at);
      int minutes =
          burn && !was_lost(s, lots->zones[z].pit) ? pw_spot_min(lots, lot, stage, z, burn->setting) : PW_NONE;
      if (minutes == PW_NONE)
        continue;
      int end = at + (int)ceil(pw_belief_minutes(b, piece, stage, minutes, 0));
      end = (int)ceil((double)end / slot) * slot;
      struct try_at t = {s, al, spots, NULL, lot, piece, stage, z, at, end};
      struct pw_rect rect;
      if (end + slot > load->end_at_min || (best != PW_NONE && end >= best) || !is_dry(&t) || !find(&rect, &t))
        continue;
      best = end;
      spots[PW_SPOT_AT(piece, stage)] = (struct pw_spot){true, z, burn->setting, rect, PW_NONE, at};
    }
  return best != PW_NONE;
}

int pw_spots_move(struct pw_spot *spots, const struct pw_state *s, const struct pw_belief *b,
                  const struct pw_allocation *al, int lot, int stage)
{
  int n = 0;
  for (int i = s->first[lot]; i < s->first[lot + 1]; i++)
    n += !s->pieces[i].is_missing && !spots[PW_SPOT_AT(i, stage)].is_moved &&
         s->pieces[i].stage[stage].load != PW_NONE && move_piece(spots, s, b, al, i, stage);
  return n;
}

/* ---- carried in the middle of a stage ------------------------------------------------------------------------------------------------ */

double pw_spot_carried_min(const struct pw_state *s, const struct pw_belief *b, int piece, int stage, int at_min,
                           int there_min)
{
  const struct pw_piece_stage *st = &s->pieces[piece].stage[stage];
  double here = fmax(pw_belief_planned_min(s, piece, stage, st->zone), 1), lost = b->pieces[piece].lost_min[stage],
         ratio = there_min / here;
  for (int i = 0; i < s->n_outages; i++) { /* what the cold steel would still cost is spared */
    const struct pw_outage *o = &s->outages[i];
    double half = st->zone == PW_NONE ? 0 : s->plan->event->pits[s->plan->lots.zones[st->zone].pit].ready_min / 2.0;
    int from = o->from_min > st->start_min ? o->from_min : st->start_min;
    if (st->zone != PW_NONE && o->pit == s->plan->lots.zones[st->zone].pit && o->to_min + half > at_min &&
        at_min > from)
      lost *= (at_min - from) / (o->to_min + half - from);
  }
  return there_min * exp(b->pieces[piece].pace[stage].mean) + (at_min - st->start_min) * (1 - ratio) + lost * ratio +
         PW_CARRY_MIN;
}

/* What is still to be wrapped goes on open elsewhere only where its own fire was lost: otherwise it is wrapped where its core allows it. */
static bool lay_in_lost(const struct pw_state *s, const struct pw_piece_stage *st)
{
  for (int i = 0; i < s->n_outages && st->zone != PW_NONE; i++)
    if (s->outages[i].pit == s->plan->lots.zones[st->zone].pit && s->outages[i].to_min > st->start_min)
      return true;
  return false;
}

static bool carry_piece(struct pw_spot *carry, const struct pw_state *s, const struct pw_belief *b,
                        const struct pw_allocation *al, int piece)
{
  const struct pw_lots *lots = &s->plan->lots;
  const struct pw_piece *p = &s->pieces[piece];
  int lot = p->lot, slot = pw_day_slot_min(s->plan), best = PW_NONE, stage = pw_spot_stage_now(s, piece),
      now = (int)ceil((s->now_min + 1.0) / slot) * slot;
  const struct pw_load *load = load_of(s, al, piece, stage);
  if (!load || load->start_at_min > s->now_min || load->end_at_min <= now || p->is_missing ||
      p->stage[stage].is_carried ||
      (stage == PW_LOAD_SMOKE && lots->lots[lot].has_finish && !lay_in_lost(s, &p->stage[stage])))
    return false;
  for (int z = 0; z < lots->n_zones + s->plan->event->n_finishers; z++) {
    int oven = z - lots->n_zones, minutes = PW_NONE, setting = 0;
    struct pw_rect rect = {0};
    if (z < lots->n_zones) {
      const struct pw_burn *burn = burn_of(s, al, lots->zones[z].pit, now);
      if (burn && burn->lit_at_min <= load->start_at_min && !was_lost(s, lots->zones[z].pit) && z != load->zone &&
          z != p->stage[stage].zone) /* by the log it lies there, shown elsewhere for want of room by measure */
        minutes = pw_spot_min(lots, lot, stage, z, setting = burn->setting);
    } else if (oven != load->finisher)
      minutes = pw_spot_oven_min(&lots->lots[lot], stage, oven);
    if (minutes == PW_NONE)
      continue;
    int end = (int)ceil((load->start_at_min + pw_spot_carried_min(s, b, piece, stage, now, minutes)) / slot) * slot;
    end = end < now + slot ? now + slot : end;
    struct try_at t = {s, al, NULL, carry, lot, piece, stage, z, now, end};
    if (end + slot > load->end_at_min || (best != PW_NONE && end >= best) ||
        (z < lots->n_zones && (!is_dry(&t) || !find(&rect, &t))))
      continue;
    best = end;
    carry[piece] =
        (struct pw_spot){true, z < lots->n_zones ? z : PW_NONE, setting, rect, oven >= 0 ? oven : PW_NONE, now};
  }
  return best != PW_NONE;
}

int pw_spots_carry(struct pw_spot *carry, const struct pw_state *s, const struct pw_belief *b,
                   const struct pw_allocation *al, int lot)
{
  int n = 0;
  for (int i = s->first[lot]; i < s->first[lot + 1]; i++)
    n += !carry[i].is_moved && carry_piece(carry, s, b, al, i);
  return n;
}

bool pw_spots_hold(const struct pw_spot *spots, const struct pw_state *s, const struct pw_allocation *al)
{
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *load = &al->loads[i];
    for (int k = 0; load->stage <= PW_LOAD_FINISH && load->zone != PW_NONE && load->rects && k < load->pieces; k++) {
      int piece = piece_of(s, load, k);
      struct try_at t = {s,          al,          spots,           NULL, load->lot, piece, (int)load->stage,
                         load->zone, since(load), load->end_at_min};
      if (!spots[PW_SPOT_AT(piece, load->stage)].is_moved && !(load->is_carried && load->carried_at_min > s->now_min))
        continue;
      const struct pw_zone *zones = s->plan->lots.zones;
      for (int j = 0; j < al->n_loads; j++)
        for (int q = 0; is_then(&t, &al->loads[j]) && zones[al->loads[j].zone].rack == zones[load->zone].rack &&
                        q < al->loads[j].pieces;
             q++)
          if (piece_of(s, &al->loads[j], q) != piece && is_over(&load->rects[k], &al->loads[j].rects[q]))
            return false;
      if (!is_dry(&t))
        return false;
    }
  }
  return true;
}

int pw_spot_setting(const struct pw_state *s, int zone, int at_min)
{
  const struct pw_allocation *a = &s->plan->allocation;
  int pit = s->plan->lots.zones[zone].pit, setting = PW_NONE;
  for (int b = 0; b < a->n_burns; b++)
    if (a->burns[b].pit == pit && (setting == PW_NONE || s->lit_min[b] <= at_min))
      setting = a->burns[b].setting;
  return setting;
}

bool pw_spot_cooks(const struct pw_state *s, int lot, int stage, int zone, int at_min)
{
  int setting = pw_spot_setting(s, zone, at_min);
  return setting != PW_NONE && pw_spot_min(&s->plan->lots, lot, stage, zone, setting) != PW_NONE;
}

bool pw_spot_laid(struct pw_rect *out, int *zone, const struct pw_state *s, const struct pw_allocation *al, int piece,
                  int stage)
{
  const struct pw_piece *p = &s->pieces[piece];
  const struct pw_piece_stage *st = &p->stage[stage];
  const struct pw_zone *zones = s->plan->lots.zones, *said = &zones[*zone];
  const struct pw_allocation nothing = {0};
  int from = st->is_carried ? st->carried_min : st->start_min;
  struct try_at t = {s, al, NULL, NULL, p->lot, piece, stage, *zone, from, st->end_min};
  if (find(out, &t))
    return true;
  for (int other_rack = 0; other_rack < 2; other_rack++) /* as it is said, or nearly: by measure there is no room */
    for (int z = 0; z < s->plan->lots.n_zones; z++) {
      t.zone = z;
      if (zones[z].pit == said->pit && (zones[z].rack != said->rack) == (other_rack > 0) &&
          pw_spot_cooks(s, p->lot, stage, z, from) && find(out, &t)) {
        *zone = z;
        return true;
      }
    }
  t.zone = *zone;
  t.al = &nothing;
  return find(out, &t);
}
