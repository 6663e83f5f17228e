/* plan_check_chance.c - the told chance of each meal, and the room left for late pieces [J20].
 * In: services, lots with their spreads, loads, the shares of the spread.  Out: findings.  The day is drawn again from the file alone,
 * with draws of the judge's own: a piece's stage is log-normal about its planned length, it keeps its spot until it is done, and what
 * comes next there waits.  Drawn again with fires that burn clean late or are lost; and counted where something is held too long,
 * or a core takes longer from 10 to 54.4 C than the rule allows. */
#include "base/arena.h"
#include "judge/plan_check_parts.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <string.h>

enum { DRAWS = 1500, COME_UP_MOST_MIN = 360 }; /* FSIS-GD-2021-14, 6 h from 50 to 130 F */
static const double SLACK_FRAC = 0.01,
                    SIGMAS = 4; /* told and drawn may differ by so many standard errors and a point */

/** A piece in a stage. */
struct step {
  const struct pw_seen_load *load;
  const struct pw_seen_rect *rect; /* NULL in an oven */
  int load_no, piece, at_place;    /* piece of all lots; place or pit and day the spread is shared by */
  int burn;                        /* that it lies over, PW_SEEN_NONE in an oven */
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

static int burn_under(const struct pw_seen_plan *plan, int pit, int minute)
{
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++)
    if (plan->burns[b].pit == pit && plan->burns[b].lit_min <= minute && minute < plan->burns[b].out_min)
      return b;
  return PW_SEEN_NONE;
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
      s.burn = oven ? PW_SEEN_NONE : burn_under(plan, place, load->start_min);
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

/** A fire of one draw: clean from then on, and lost between the others (HUGE_VAL: never). */
struct seen_fire {
  double clean, lost, back;
};

static void draw_fires(struct seen_fire *fires, const struct pw_seen_plan *plan, struct rng *r)
{
  int now = plan->now_min == PW_SEEN_NO_TIME ? INT_MIN : plan->now_min;
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++) {
    const struct pw_seen_burn *burn = &plan->burns[b];
    const struct pw_seen_pit *pit = &plan->pits[burn->pit];
    double g = normal(r), u = uniform(r), lead = burn->ready_min - burn->lit_min;
    struct seen_fire fire = {burn->ready_min, HUGE_VAL, HUGE_VAL};
    if (burn->ready_min > now)
      fire.clean = burn->lit_min + lead * exp(sqrt(log(1 + pit->ready_spread_frac * pit->ready_spread_frac)) * g);
    double lost = fmax(burn->ready_min, now) - 60 * log(u) / pit->lost_per_h_frac;
    if (pit->lost_per_h_frac > 0 && lost < burn->out_min) {
      fire.lost = lost;
      fire.back = lost + pit->lost_min;
    }
    fires[b] = fire;
  }
}

/** By lot: how long its core takes from 10 to 54.4 C as planned; 0: no raw meat, or more than it may as planned, which is warned of [J13]. */
static double *come_ups(const struct pw_seen_plan *plan, struct pw_arena *arena)
{
  double *planned = pw_arena_array(arena, (size_t)plan->n[PW_SEEN_LOTS] + 1, sizeof *planned);
  for (int i = 0; i < plan->n[PW_SEEN_CORES] && planned; i++) {
    const struct pw_seen_core *core = &plan->cores[i];
    if (core->is_raw && core->come_up_min <= COME_UP_MOST_MIN)
      planned[core->lot] = core->come_up_min;
  }
  return planned;
}

/** Whether the core of a piece laid on at `begin` takes too long: in the measure in which its stage does, and what a lost fire costs. */
static bool is_slow(const struct step *s, double planned_min, double factor, double begin, const struct seen_fire *fire,
                    int now)
{
  double run = s->load->start_min < now ? now - s->load->start_min : 0;
  if (s->last != PW_SEEN_NONE || s->load->stage != PW_SEEN_SMOKE || run >= planned_min)
    return false;
  double took = run + (planned_min - run) * (s->load->end_min <= now ? 1 : factor);
  if (fire && begin < fire->lost && begin + took > fire->lost)
    took += fire->back - fire->lost;
  return took > COME_UP_MOST_MIN;
}

/** What of a meal goes wrong in a draw. */
struct wrongs {
  bool *is_late, *is_held, *is_slow; /* [service] */
};

/** A draw as it goes. */
struct course {
  double *done, *leaves; /* [step] */
  int *root;             /* [step] whose own length made it begin late, itself or another */
  bool *is_lot_late;     /* [lot] */
  double *late_by_min;   /* [service] by its latest piece */
  int *latest;           /* [service] its last step, where late */
};

/** What a draw of all stages' factors comes to: done and leaves by step, and by meal what goes wrong; without fires (NULL) as
 *  planned. */
static void walk(const struct step *steps, int n, const struct pw_seen_plan *plan, const double *factor,
                 const double *come_up_min, const struct seen_fire *fires, struct course *w,
                 const struct wrongs *wrongs)
{
  double *done = w->done, *leaves = w->leaves;
  memset(w->is_lot_late, 0, (size_t)plan->n[PW_SEEN_LOTS] * sizeof *w->is_lot_late);
  memset(w->late_by_min, 0, (size_t)plan->n[PW_SEEN_SERVICES] * sizeof *w->late_by_min);
  int now = plan->now_min == PW_SEEN_NO_TIME ? INT_MIN : plan->now_min; /* of a mended plan the past is as it was */
  for (int i = 0; i < n; i++) {
    const struct step *s = &steps[i];
    const struct pw_seen_lot *lot = &plan->lots[s->load->lot];
    const struct seen_fire *fire = fires && s->burn != PW_SEEN_NONE ? &fires[s->burn] : NULL;
    double begin = s->last == PW_SEEN_NONE ? s->load->start_min : done[s->last];
    int root = s->last == PW_SEEN_NONE ? i : w->root[s->last];
    for (int k = 0; k < s->n_waits; k++) {
      int p = s->waits_for[k];
      double free_at = leaves[p] < 0 ? done[p] : leaves[p];
      root = free_at > begin + 1e-9 ? w->root[p] : root;
      begin = fmax(begin, free_at);
    }
    w->root[i] = begin > s->load->start_min + 1e-9 ? root : i;
    if (fire && s->load->start_min >= now)
      begin = fmax(begin, fire->clean);
    if (fire && s->load->start_min >= now && begin >= fire->lost && begin < fire->back)
      begin = fire->back;
    if (s->last != PW_SEEN_NONE)
      leaves[s->last] = begin;
    int run = s->load->start_min >= now ? 0
              : s->load->end_min <= now ? s->load->end_min - s->load->start_min
                                        : now - s->load->start_min;
    done[i] = begin + run + (s->load->end_min - s->load->start_min - run) * factor[i];
    if (fire && begin < fire->lost && done[i] > fire->lost)
      done[i] += fire->back - fire->lost;
    leaves[i] = s->is_end ? done[i] : -1;
    bool is_iced = plan->now_min != PW_SEEN_NO_TIME && lot->is_day_before && lot->late_min > 0; /* makes no meal late */
    double late_by = done[i] + lot->rest_min + lot->knives_min - lot->by_min;
    if (s->is_end && late_by > 1e-9 && !is_iced) {
      wrongs->is_late[lot->service] = w->is_lot_late[s->load->lot] = true;
      if (late_by > w->late_by_min[lot->service]) {
        w->late_by_min[lot->service] = late_by;
        w->latest[lot->service] = i;
      }
    }
    if (is_slow(s, come_up_min[s->load->lot], factor[i], begin, fire, now))
      wrongs->is_slow[lot->service] = true;
    double held = lot->by_min + pw_check_whole_min(lot) - lot->rest_min - done[i];
    if (s->is_end && !lot->is_day_before && done[i] > now &&
        held > lot->hold_max_min + (lot->over_min > 0 ? lot->over_min : 0) + plan->event.slot_min + 1e-9)
      wrongs->is_held[lot->service] = true;
  }
}

static void draw_factors(double *factor, const struct step *steps, int n, const struct pw_seen_plan *plan,
                         const struct shared *z, struct rng *r)
{
  for (int i = 0; i < n; i++) {
    const struct step *s = &steps[i];
    bool is_finish = s->load->stage == PW_SEEN_FINISH;
    double g = sqrt(plan->spread_shares.lot) * z->lot[s->load->lot * 2 + is_finish] +
               sqrt(plan->spread_shares.pit_day) * z->place[s->at_place * 2 + is_finish] +
               sqrt(plan->spread_shares.piece) * normal(r);
    factor[i] = exp(sqrt(log(1 + s->spread * s->spread)) * g);
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

/** Of the draws of one meal. */
struct counted {
  int n_ready, n_ready_with_fires, n_held, n_slow;
  int *late; /* [lot] draws in which something of it is late */
  int *held; /* [lot * 2 + is_spot] draws in which it makes the meal late first */
};

/** What is told beside the chance, by the same measure. */
static void compare_more(struct pw_judge *judge, int s, const char *what, double told, int draws, double drawn)
{
  double error = sqrt(drawn * (1 - drawn) / DRAWS), own = draws > 0 ? sqrt(told * (1 - told) / draws) : 0;
  if (isnan(told))
    pw_judge_find(judge, "J20", "services[%d].chance.%s: is missing, and a chance is told", s, what);
  else if (fabs(told - drawn) > SIGMAS * hypot(error, own) + SLACK_FRAC)
    pw_judge_find(judge, "J20", "services[%d].chance.%s: is %.4g, drawn anew from the file it is %.4g", s, what, told,
                  drawn);
}

/** What makes the meal late first: every late cook has one cause, and each is met as often as it is told. */
static void compare_causes(struct pw_judge *judge, const struct pw_seen_plan *plan, int s,
                           const struct counted *counted)
{
  const struct pw_seen_chance *told = &plan->services[s].chance;
  double sum = 0;
  int n = plan->n[PW_SEEN_LOTS], n_same = 0;
  double *frac = pw_arena_array(judge->ctx->arena, 2 * (size_t)n + 1, sizeof *frac);
  if (told->n_held_back < 0 || !frac) {
    pw_judge_find(judge, "J20", "services[%d].chance.held_back: is missing, and a chance is told", s);
    return;
  }
  for (int i = 0; i < told->n_held_back; i++) {
    const struct pw_seen_cause *cause = &told->held_back[i];
    if (cause->lot == PW_SEEN_NONE)
      continue;
    double *of = &frac[cause->lot * 2 + (cause->is_spot != 0)];
    n_same += *of > 0;
    *of += cause->frac;
    sum += cause->frac;
  }
  if (n_same > 0)
    pw_judge_find(judge, "J20", "services[%d].chance.held_back: one cause is told twice", s);
  if (pw_check_differs(sum, 1 - told->on_time_frac))
    pw_judge_find(judge, "J20", "services[%d].chance.held_back: causes of %.4g of all cooks, and %.4g are late", s, sum,
                  1 - told->on_time_frac);
  for (int k = 0; k < 2 * n; k++) {
    double drawn = (double)counted->held[k] / DRAWS,
           error = hypot(sqrt(drawn * (1 - drawn) / DRAWS), sqrt(frac[k] * (1 - frac[k]) / told->draws));
    if (fabs(frac[k] - drawn) > SIGMAS * error + SLACK_FRAC)
      pw_judge_find(
          judge, "J20",
          "services[%d].chance.held_back: \"%s\" %s is told as first cause of %.4g, drawn anew from the file it "
          "is %.4g",
          s, plan->lots[k / 2].id, k % 2 ? "in another's way" : "itself", frac[k], drawn);
  }
}

static void compare(struct pw_judge *judge, const struct pw_seen_plan *plan, int s, const struct counted *counted)
{
  double drawn = (double)counted->n_ready / DRAWS;
  const struct pw_seen_chance *chance = &plan->services[s].chance;
  compare_more(judge, s, "with_fires_frac", chance->with_fires_frac, chance->draws,
               (double)counted->n_ready_with_fires / DRAWS);
  compare_more(judge, s, "held_long_frac", chance->held_long_frac, chance->draws, (double)counted->n_held / DRAWS);
  compare_more(judge, s, "slow_core_frac", chance->slow_core_frac, chance->draws, (double)counted->n_slow / DRAWS);
  if (chance->slow_core_lot != PW_SEEN_NONE && plan->lots[chance->slow_core_lot].service != s)
    pw_judge_find(judge, "J20", "services[%d].chance.slow_core_lot: \"%s\" is of another meal", s,
                  plan->lots[chance->slow_core_lot].id);
  if ((chance->slow_core_lot != PW_SEEN_NONE) != (chance->slow_core_frac > 0))
    pw_judge_find(judge, "J20", "services[%d].chance.slow_core_lot: named only where a core is too slow in some draws",
                  s);
  if (chance->held_long_lot != PW_SEEN_NONE && plan->lots[chance->held_long_lot].service != s)
    pw_judge_find(judge, "J20", "services[%d].chance.held_long_lot: \"%s\" is of another meal", s,
                  plan->lots[chance->held_long_lot].id);

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
  else if (told->weakest_lot != PW_SEEN_NONE)
    compare_more(judge, s, "weakest_late_frac", told->weakest_late_frac, told->draws,
                 (double)counted->late[told->weakest_lot] / DRAWS);
  compare_causes(judge, plan, s, counted);
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
  size_t n_lots = (size_t)plan->n[PW_SEEN_LOTS];
  struct course w = {pw_arena_array(arena, (size_t)n + 1, sizeof *w.done),
                     pw_arena_array(arena, (size_t)n + 1, sizeof *w.leaves),
                     pw_arena_array(arena, (size_t)n + 1, sizeof *w.root),
                     pw_arena_array(arena, n_lots + 1, sizeof *w.is_lot_late),
                     pw_arena_array(arena, (size_t)n_services + 1, sizeof *w.late_by_min),
                     pw_arena_array(arena, (size_t)n_services + 1, sizeof *w.latest)};
  int n_places = plan->n[PW_SEEN_PITS] + plan->n[PW_SEEN_ZONES] + plan->n[PW_SEEN_FINISHERS];
  struct shared z = {pw_arena_array(arena, (size_t)plan->n[PW_SEEN_LOTS] * 2 + 1, sizeof(double)),
                     pw_arena_array(arena, (size_t)n_places * 2 + 1, sizeof(double))};
  size_t n_wrongs = 3 * (size_t)n_services;
  bool *wrong = pw_arena_array(arena, 2 * n_wrongs + 1, sizeof *wrong); /* as planned, with fires */
  const double *come_up_min = come_ups(plan, arena);
  double *factor = pw_arena_array(arena, (size_t)n + 1, sizeof *factor);
  struct seen_fire *fires = pw_arena_array(arena, (size_t)plan->n[PW_SEEN_BURNS] + 1, sizeof *fires);
  struct counted *counted = pw_arena_array(arena, (size_t)n_services + 1, sizeof *counted);
  bool has_counts = counted != NULL;
  for (int s = 0; s < n_services && has_counts; s++) {
    counted[s].late = pw_arena_array(arena, n_lots + 1, sizeof *counted[s].late);
    counted[s].held = pw_arena_array(arena, 2 * n_lots + 1, sizeof *counted[s].held);
    has_counts = counted[s].late && counted[s].held;
  }
  if (!has_counts || !w.done || !w.leaves || !w.root || !w.is_lot_late || !w.late_by_min || !w.latest || !steps ||
      !z.lot || !z.place || !wrong || !come_up_min || !factor || !fires || !chains_make(steps, n, plan, arena))
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++)
    if (isnan(steps[i].spread)) {
      pw_judge_find(judge, "J20", "lots[%d].spread: is missing, and a chance is told", steps[i].load->lot);
      return PW_OK;
    }
  for (int p = 0; p < plan->n[PW_SEEN_PITS]; p++)
    if (isnan(plan->pits[p].ready_spread_frac) || isnan(plan->pits[p].lost_per_h_frac) ||
        plan->pits[p].lost_min == PW_SEEN_NONE) {
      pw_judge_find(judge, "J20", "pits[%d]: how its fires may fail is missing, and a chance is told", p);
      return PW_OK;
    }
  if (plan->now_min == PW_SEEN_NO_TIME) /* mended, the empty minutes are used up */
    check_turns(judge, plan, steps, n);
  const struct wrongs by_plan = {wrong, wrong + n_services, wrong + 2 * (size_t)n_services},
                      with_fires = {wrong + n_wrongs, wrong + n_wrongs + n_services,
                                    wrong + n_wrongs + 2 * (size_t)n_services};
  struct rng r = {UINT64_C(88172645463325252)};
  for (int k = 0; k < DRAWS; k++) {
    for (int i = 0; i < plan->n[PW_SEEN_LOTS] * 2; i++)
      z.lot[i] = normal(&r);
    for (int i = 0; i < n_places * 2; i++)
      z.place[i] = normal(&r);
    memset(wrong, 0, 2 * n_wrongs * sizeof *wrong);
    draw_factors(factor, steps, n, plan, &z, &r);
    draw_fires(fires, plan, &r);
    walk(steps, n, plan, factor, come_up_min, fires, &w, &with_fires);
    walk(steps, n, plan, factor, come_up_min, NULL, &w, &by_plan);
    for (int s = 0; s < n_services; s++) {
      counted[s].n_ready += !by_plan.is_late[s];
      counted[s].n_ready_with_fires += !with_fires.is_late[s];
      counted[s].n_held += by_plan.is_held[s];
      counted[s].n_slow += with_fires.is_slow[s];
      for (size_t l = 0; l < n_lots; l++)
        counted[s].late[l] += w.is_lot_late[l] && plan->lots[l].service == s;
      if (by_plan.is_late[s]) {
        const struct step *late = &steps[w.latest[s]], *root = &steps[w.root[w.latest[s]]];
        counted[s].held[root->load->lot * 2 + (root->piece != late->piece)]++;
      }
    }
  }
  for (int s = 0; s < n_services; s++)
    if (plan->services[s].chance.draws > 0)
      compare(judge, plan, s, &counted[s]);
  return PW_OK;
}
