/* plan_check_chance.c - the told chance of each meal, and the room left for late pieces [J20].
 * In: services, lots with their spreads, loads, the shares of the spread.  Out: findings.  The day is drawn again from the file alone,
 * with draws of the judge's own: a piece's stage is log-normal about its planned length, it keeps its spot until it is done, and what
 * comes next there waits. */
#include "base/arena.h"
#include "judge/plan_check_parts.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>

enum { DRAWS = 1500 };
static const double SLACK_FRAC = 0.01,
                    SIGMAS = 4; /* told and drawn may differ by so many standard errors and a point */

/** A piece in a stage. */
struct step {
  const struct pw_seen_load *load;
  const struct pw_seen_rect *rect; /* NULL in an oven */
  int load_no, piece, at_place;    /* piece of all lots; place or pit and day the spread is shared by */
  int last;                        /* step of the piece before this one, PW_SEEN_NONE */
  bool is_end, is_in_oven, stays;
  double room, spread;
  int *waits_for; /* steps that had its spot */
  int n_waits;
};

struct rng {
  uint64_t s;
};

static double uniform(struct rng *r) /* xorshift64*: Marsaglia (2003), Vigna (2016) */
{
  r->s ^= r->s >> 12;
  r->s ^= r->s << 25;
  r->s ^= r->s >> 27;
  return ((double)((r->s * UINT64_C(2685821657736338717)) >> 11) + 0.5) * 0x1p-53;
}

static double normal(struct rng *r) /* Marsaglia's polar method (1964) */
{
  double u, v, q;
  do {
    u = 2 * uniform(r) - 1;
    v = 2 * uniform(r) - 1;
    q = u * u + v * v;
  } while (q >= 1 || q == 0);
  return u * sqrt(-2 * log(q) / q);
}

static bool is_cooking(const struct pw_seen_load *load)
{
  return load->stage == PW_SEEN_SMOKE || load->stage == PW_SEEN_FINISH;
}

static int rack_of(const struct pw_seen_plan *plan, const struct step *s)
{
  const struct pw_seen_zone *zone = pw_check_zone(plan, s->load);
  return zone ? zone->rack : PW_SEEN_NONE;
}

static bool do_meet(const struct pw_seen_plan *plan, const struct step *a, const struct step *b)
{
  const struct pw_seen_rect *p = a->rect, *q = b->rect;
  if (!p || !q)
    return !p && !q && a->load->place == b->load->place;
  return rack_of(plan, a) == rack_of(plan, b) && p->x_m < q->x_m + q->length_m - 1e-6 &&
         q->x_m < p->x_m + p->length_m - 1e-6 && p->y_m < q->y_m + q->depth_m - 1e-6 &&
         q->y_m < p->y_m + p->depth_m - 1e-6;
}

/** Of what begins at one minute the shorter goes first: a piece that moves on to its finish makes room before the next one comes. */
static bool is_after(const struct pw_seen_load *a, const struct pw_seen_load *b)
{
  return a->start_min != b->start_min ? a->start_min > b->start_min : a->end_min > b->end_min;
}

/** Steps in order of their beginnings; NULL when memory is out. */
static struct step *steps_make(int *n_out, const struct pw_seen_plan *plan, struct pw_arena *arena)
{
  int n = 0, most = 0, *first = pw_arena_array(arena, (size_t)plan->n[PW_SEEN_LOTS] + 1, sizeof *first);
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    most += is_cooking(&plan->loads[i]) ? plan->loads[i].n_ids : 0;
  struct step *steps = pw_arena_array(arena, (size_t)most + 1, sizeof *steps);
  if (!steps || !first)
    return NULL;
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
    first[l + 1] = first[l] + plan->lots[l].pieces;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    const struct pw_seen_lot *lot = &plan->lots[load->lot];
    const struct pw_seen_finisher *oven = pw_check_finisher(plan, load);
    for (int k = 0; is_cooking(load) && k < load->n_ids; k++) {
      int place = oven ? plan->n[PW_SEEN_PITS] + load->place : plan->racks[pw_check_zone(plan, load)->rack].pit;
      struct step s = {
          .load = load, .load_no = i, .piece = first[load->lot] + load->piece_ids[k], .last = PW_SEEN_NONE};
      s.is_in_oven = oven != NULL;
      s.rect = oven || k >= load->n_rects ? NULL : &load->rects[k];
      s.at_place = place;
      s.room = oven ? (oven->unit == 1 ? lot->pans : lot->wrapped_m[0] * lot->wrapped_m[1]) : 0;
      s.spread = load->stage == PW_SEEN_FINISH ? lot->finish_spread_frac : lot->smoke_spread_frac;
      int at = n++;
      for (; at > 0 && is_after(steps[at - 1].load, load); at--)
        steps[at] = steps[at - 1];
      steps[at] = s;
    }
  }
  *n_out = n;
  return steps;
}

static bool chains_make(struct step *steps, int n, const struct pw_seen_plan *plan, struct pw_arena *arena)
{
  for (int i = 0; i < n; i++) {
    struct step *s = &steps[i];
    double over = 0;
    s->waits_for = pw_arena_array(arena, (size_t)i + 1, sizeof *s->waits_for);
    if (!s->waits_for)
      return false;
    s->is_end = true;
    if (s->is_in_oven) {
      over = -pw_check_finisher(plan, s->load)->capacity;
      for (int k = 0; k < n; k++)
        if (steps[k].is_in_oven && steps[k].load->place == s->load->place &&
            steps[k].load->start_min <= s->load->start_min && steps[k].load->end_min > s->load->start_min)
          over += steps[k].room;
    }
    for (int k = i - 1; k >= 0; k--) {
      if (steps[k].piece == s->piece) {
        s->last = k;
        steps[k].is_end = false;
      } else if (steps[k].load->end_min <= s->load->start_min && do_meet(plan, &steps[k], s)) {
        over += steps[k].room;
        if (s->rect || over > 1e-9)
          s->waits_for[s->n_waits++] = k;
      }
    }
  }
  return true;
}

/** Normals of a draw that several steps share, by stage. */
struct shared {
  double *lot, *place;
};

static void draw(struct step *steps, int n, const struct pw_seen_plan *plan, const struct shared *z, struct rng *r,
                 double *done, double *leaves, bool *is_late)
{
  for (int i = 0; i < n; i++) {
    const struct step *s = &steps[i];
    bool is_finish = s->load->stage == PW_SEEN_FINISH;
    const struct pw_seen_lot *lot = &plan->lots[s->load->lot];
    double begin = s->last == PW_SEEN_NONE ? s->load->start_min : done[s->last];
    for (int k = 0; k < s->n_waits; k++) {
      int p = s->waits_for[k];
      begin = fmax(begin, leaves[p] < 0 ? done[p] : leaves[p]);
    }
    if (s->last != PW_SEEN_NONE)
      leaves[s->last] = begin;
    double g = sqrt(plan->spread_shares.lot) * z->lot[s->load->lot * 2 + is_finish] +
               sqrt(plan->spread_shares.pit_day) * z->place[s->at_place * 2 + is_finish] +
               sqrt(plan->spread_shares.piece) * normal(r);
    int now = plan->now_min == PW_SEEN_NO_TIME ? INT_MIN : plan->now_min; /* of a mended plan the past is as it was */
    int run = s->load->start_min >= now ? 0
              : s->load->end_min <= now ? s->load->end_min - s->load->start_min
                                        : now - s->load->start_min;
    done[i] =
        begin + run + (s->load->end_min - s->load->start_min - run) * exp(sqrt(log(1 + s->spread * s->spread)) * g);
    leaves[i] = s->is_end ? done[i] : -1;
    bool is_iced = plan->now_min != PW_SEEN_NO_TIME && lot->is_day_before && lot->late_min > 0; /* makes no meal late */
    if (s->is_end && done[i] + lot->rest_min + lot->knives_min > lot->by_min + 1e-9 && !is_iced)
      is_late[lot->service] = true;
  }
}

/** A spot stays empty after a piece as long as its lot says. */
static void check_turns(struct pw_judge *judge, const struct pw_seen_plan *plan, struct step *steps, int n)
{
  for (int i = 0; i < n; i++) /* a piece whose next stage is in the same place leaves nothing empty */
    if (steps[i].last != PW_SEEN_NONE)
      steps[steps[i].last].stays = steps[i].load->place == steps[steps[i].last].load->place;
  for (int i = 0; i < n; i++)
    for (int k = 0; k < i; k++) {
      const struct step *a = &steps[k], *b = &steps[i];
      if (!a->rect || a->stays || a->piece == b->piece || a->load->end_min > b->load->start_min ||
          a->load->end_min + plan->lots[a->load->lot].turn_min <= b->load->start_min || !do_meet(plan, a, b))
        continue;
      int turn = plan->lots[a->load->lot].turn_min;
      pw_judge_find(
          judge, "J20",
          "loads[%d]: goes on at minute %d, where loads[%d] leaves at %d and its lot keeps the spot empty for %d min",
          b->load_no, b->load->start_min, a->load_no, a->load->end_min, turn);
    }
}

static void compare(struct pw_judge *judge, const struct pw_seen_plan *plan, int s, double drawn)
{
  const struct pw_seen_chance *told = &plan->services[s].chance;
  double error = sqrt(drawn * (1 - drawn) / DRAWS), both = hypot(error, told->standard_error_frac);
  if (fabs(told->on_time_frac - drawn) > SIGMAS * both + SLACK_FRAC)
    pw_judge_find(judge, "J20", "services[%d].chance.on_time_frac: is %.4g, drawn anew from the file it is %.4g", s,
                  told->on_time_frac, drawn);
  double p = told->on_time_frac, se = told->draws > 0 ? sqrt(p * (1 - p) / told->draws) : 0;
  if (pw_check_differs(told->standard_error_frac, se))
    pw_judge_find(judge, "J20", "services[%d].chance.standard_error_frac: is %.6g, %d draws make it %.6g", s,
                  told->standard_error_frac, told->draws, se);
  if (told->moved_frac < told->on_time_frac - SIGMAS * told->standard_error_frac)
    pw_judge_find(judge, "J20", "services[%d].chance.moved_frac: %.4g is less than %.4g, though less stands in the way",
                  s, told->moved_frac, told->on_time_frac);
  if (told->weakest_lot != PW_SEEN_NONE && plan->lots[told->weakest_lot].service != s)
    pw_judge_find(judge, "J20", "services[%d].chance.weakest_lot: \"%s\" is of another meal", s,
                  plan->lots[told->weakest_lot].id);
}

pw_status pw_check_chance(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  struct pw_arena *arena = judge->ctx->arena;
  int n = 0, n_services = plan->n[PW_SEEN_SERVICES];
  bool is_asked = false;
  for (int s = 0; s < n_services; s++)
    is_asked |= plan->services[s].chance.draws > 0;
  if (!is_asked)
    return PW_OK;
  if (isnan(plan->spread_shares.lot) ||
      fabs(plan->spread_shares.lot + plan->spread_shares.pit_day + plan->spread_shares.piece - 1) > 1e-9) {
    pw_judge_find(judge, "J20", "spread_shares: the shares of a spread add up to 1");
    return PW_OK;
  }
  struct step *steps = steps_make(&n, plan, arena);
  double *done = pw_arena_array(arena, (size_t)n + 1, sizeof *done),
         *leaves = pw_arena_array(arena, (size_t)n + 1, sizeof *leaves);
  int n_places = plan->n[PW_SEEN_PITS] + plan->n[PW_SEEN_ZONES] + plan->n[PW_SEEN_FINISHERS];
  struct shared z = {pw_arena_array(arena, (size_t)plan->n[PW_SEEN_LOTS] * 2 + 1, sizeof(double)),
                     pw_arena_array(arena, (size_t)n_places * 2 + 1, sizeof(double))};
  bool *is_late = pw_arena_array(arena, (size_t)n_services + 1, sizeof *is_late);
  int *n_ready = pw_arena_array(arena, (size_t)n_services + 1, sizeof *n_ready);
  if (!steps || !done || !leaves || !z.lot || !z.place || !is_late || !n_ready || !chains_make(steps, n, plan, arena))
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++)
    if (isnan(steps[i].spread)) {
      pw_judge_find(judge, "J20", "lots[%d].spread: is missing, and a chance is told", steps[i].load->lot);
      return PW_OK;
    }
  if (plan->now_min == PW_SEEN_NO_TIME) /* mended, the empty minutes are used up */
    check_turns(judge, plan, steps, n);
  struct rng r = {UINT64_C(88172645463325252)};
  for (int k = 0; k < DRAWS; k++) {
    for (int i = 0; i < plan->n[PW_SEEN_LOTS] * 2; i++)
      z.lot[i] = normal(&r);
    for (int i = 0; i < n_places * 2; i++)
      z.place[i] = normal(&r);
    for (int s = 0; s < n_services; s++)
      is_late[s] = false;
    draw(steps, n, plan, &z, &r, done, leaves, is_late);
    for (int s = 0; s < n_services; s++)
      n_ready[s] += !is_late[s];
  }
  for (int s = 0; s < n_services; s++)
    if (plan->services[s].chance.draws > 0)
      compare(judge, plan, s, (double)n_ready[s] / DRAWS);
  return PW_OK;
}
