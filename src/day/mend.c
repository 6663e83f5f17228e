/* mend.c - from belief to a plan from now on [N3].
 * Input: a state.  Output: the mended plan, what was done for late meals, what each meal looks like.  Idea: let everything run on as it is
 * believed to (retime.c); as long as a meal is late, try for its latest lot what a cook can do, keep what helps most, and try again. */
#include "day/mend.h"

#include "base/arena.h"
#include "day/restore.h"
#include "day/verdict.h"
#include "plan/chance/chance.h"
#include "plan/money/cost_parts.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { TRIES_MAX = 24, DAY_SEED = 11, TRY_DRAWS = 200, SAME_MIN = 15, SLACK_MIN = 120 };
#define CHANGE_RISK                                                                                                    \
  0.003 /* a change on the sheets is worth so much chance of a meal: 30 changes a tenth; common practice, no source */
#define RISK_NOISE 0.01 /* less is no difference between draws */
#define AT_RISK                                                                                                        \
  0.1 /* a meal not ready in so many of its draws is helped though nothing is late by the middle of them: common practice, no source */
#define BARK_SET_C 60.0 /* 140 F: below it a crust does not hold under a wrap; common practice, no source */

struct attempt {
  struct pw_allocation al;
  int *late_min;
  double *pace;
  struct pw_otherwise other;
  long piece_late_min; /* of all pieces: most of a dish in time is better than none of it */
  double risk;         /* meals to come that are not ready in time, of one each */
  int changes;         /* pieces that lie elsewhere or are moved by more than a quarter of an hour */
  long burn_min;       /* of all fires: what it costs, as far as the ways differ */
};

struct mend {
  const struct pw_state *s;
  const struct pw_belief *b;
  struct pw_ctx *ctx;
  struct pw_mended *out;
};

static pw_status attempt_make(struct attempt *a, const struct mend *m)
{
  size_t n_lots = (size_t)m->s->plan->lots.n_lots;
  a->late_min = pw_arena_array(m->ctx->arena, n_lots + 1, sizeof *a->late_min);
  a->other.wrap_now = pw_arena_array(m->ctx->arena, (size_t)m->s->n_pieces + 1, sizeof *a->other.wrap_now);
  a->other.oven = pw_arena_array(m->ctx->arena, (size_t)m->s->n_pieces + 1, sizeof *a->other.oven);
  a->other.spots = pw_arena_array(m->ctx->arena, (size_t)m->s->n_pieces * 2 + 2, sizeof *a->other.spots);
  a->other.carry = pw_arena_array(m->ctx->arena, (size_t)m->s->n_pieces + 1, sizeof *a->other.carry);
  if (!a->late_min || !a->other.carry || !a->other.spots || !a->other.wrap_now || !a->other.oven)
    return PW_ERR_MEMORY;
  for (int i = 0; i < m->s->n_pieces; i++)
    a->other.oven[i] = PW_NONE;
  return PW_OK;
}

/* Pieces that lie elsewhere than on the sheets, or a quarter of an hour from their time. */
static int changes_of(const struct attempt *a, const struct mend *m)
{
  int n = 0;
  for (int i = 0; i < a->al.n_loads; i++) {
    const struct pw_load *load = &a->al.loads[i];
    for (int k = 0; load->stage <= PW_LOAD_FINISH && load->end_at_min > m->s->now_min && k < load->pieces; k++) {
      const struct pw_piece *piece = &m->s->pieces[m->s->first[load->lot] + (load->piece_ids ? load->piece_ids[k] : k)];
      const struct pw_load *old = &m->s->plan->allocation.loads[piece->stage[load->stage].load];
      n += 2 * (old->zone != load->zone || old->finisher != load->finisher) +
           (abs(old->start_at_min - load->start_at_min) > SAME_MIN) +
           (abs(old->end_at_min - load->end_at_min) > SAME_MIN);
    }
  }
  return n;
}

/* Minutes by which pieces are rested too late, all together. */
static long piece_lateness(const struct attempt *a, const struct mend *m)
{
  long sum = 0;
  for (int i = 0; i < a->al.n_loads; i++) {
    const struct pw_load *load = &a->al.loads[i];
    const struct pw_lot *lot = &m->s->plan->lots.lots[load->lot];
    int late = load->end_at_min + lot->rest_min + lot->carve_min - lot->by_at_min;
    if (load->stage == (lot->has_finish ? PW_LOAD_FINISH : PW_LOAD_SMOKE) && late > 0)
      sum += (long)late * load->pieces;
  }
  return sum;
}

static pw_status run(struct attempt *a, const struct mend *m)
{
  const struct pw_chance_options draws = {.n_draws = TRY_DRAWS,
                                          .seed = DAY_SEED,
                                          .shares = pw_spread_shares(),
                                          .has_now = true,
                                          .now_min = m->s->now_min,
                                          .late_min = a->late_min};
  struct pw_chance chance;
  pw_status st = pw_retime(&a->al, a->late_min, &a->pace, m->s, m->b, &a->other, m->ctx);
  if (st == PW_OK)
    st = pw_chance_make(&chance, m->s->plan->event, &m->s->plan->lots, &a->al, &draws, m->ctx);
  if (st != PW_OK)
    return st;
  a->risk = 0;
  for (int i = 0; i < m->s->plan->event->n_services; i++)
    a->risk += m->s->plan->event->services[i].at_min > m->s->now_min ? 1 - chance.services[i].on_time_frac : 0;
  a->changes = changes_of(a, m);
  a->piece_late_min = piece_lateness(a, m);
  a->burn_min = 0;
  for (int b = 0; b < a->al.n_burns; b++)
    a->burn_min += a->al.burns[b].out_at_min - a->al.burns[b].lit_at_min;
  return PW_OK;
}

/* Minutes late, all lots together: the first count. */
static long lateness(const struct attempt *a, const struct mend *m)
{
  long sum = 0;
  for (int l = 0; l < m->s->plan->lots.n_lots; l++)
    sum += a->late_min[l] > 0 ? a->late_min[l] : 0;
  return sum;
}

/* Minutes late first, of lots and then of pieces, then chance against changes, then fires' hours. */
static bool is_better(const struct attempt *a, const struct attempt *b, const struct mend *m)
{
  long late_a = lateness(a, m), late_b = lateness(b, m);
  double worth = (b->risk - a->risk) + CHANGE_RISK * (b->changes - a->changes);
  if (labs(late_a - late_b) >= pw_day_slot_min(m->s->plan))
    return late_a < late_b;
  if (labs(a->piece_late_min - b->piece_late_min) >= pw_day_slot_min(m->s->plan))
    return a->piece_late_min < b->piece_late_min;
  return fabs(worth) > RISK_NOISE ? worth > 0
                                  : a->burn_min < b->burn_min && a->risk <= b->risk && a->changes <= b->changes;
}

/* From when on a load takes room where it lies. */
static int in_since(const struct pw_load *load) { return load->is_carried ? load->carried_at_min : load->start_at_min; }

/* Room a piece takes in an oven: open as it is, or wrapped. */
static double room_of(const struct pw_finisher *oven, const struct pw_cut *cut, const struct pw_lot *lot,
                      const struct pw_load *load)
{
  return oven->is_in_pans               ? cut->pans_per_piece
         : load->stage == PW_LOAD_SMOKE ? lot->footprint_length_m * lot->footprint_width_m
                                        : lot->wrapped_length_m * lot->wrapped_width_m;
}

/* Room in every oven at every moment. */
static bool has_room(const struct attempt *a, const struct mend *m)
{
  const struct pw_event *ev = m->s->plan->event;
  const struct pw_lots *lots = &m->s->plan->lots;
  for (int i = 0; i < a->al.n_loads; i++) {
    const struct pw_load *x = &a->al.loads[i];
    double used = 0;
    if (x->finisher == PW_NONE || ev->finishers[x->finisher].kind != PW_OVEN)
      continue;
    for (int k = 0; k < a->al.n_loads; k++) {
      const struct pw_load *y = &a->al.loads[k];
      const struct pw_lot *lot = &lots->lots[y->lot];
      if (y->finisher == x->finisher && in_since(y) <= in_since(x) && y->end_at_min > in_since(x))
        used += y->pieces * room_of(&ev->finishers[x->finisher], &ev->cuts[lot->cut], lot, y);
    }
    for (int r = 0; r < lots->n_reheats; r++)
      if (lots->reheats[r].finisher == x->finisher)
        used += lots->reheats[r].capacity;
    if (used > ev->finishers[x->finisher].capacity + 1e-9)
      return false;
  }
  return true;
}

/* The lot to help: the latest; with none late but a meal at risk, the one that is nearest to late. */
static int latest_lot(const struct attempt *a, const struct mend *m, const bool *is_tried)
{
  int worst = PW_NONE, least = a->risk > AT_RISK ? -SLACK_MIN : 0;
  for (int l = 0; l < m->s->plan->lots.n_lots; l++)
    if (a->late_min[l] > least && !is_tried[l] && (worst == PW_NONE || a->late_min[l] > a->late_min[worst]))
      worst = l;
  return worst;
}

static pw_status like(struct attempt *to, const struct attempt *from, const struct mend *m)
{
  pw_status st = attempt_make(to, m);
  if (st != PW_OK)
    return st;
  memcpy(to->other.wrap_now, from->other.wrap_now, (size_t)m->s->n_pieces * sizeof *to->other.wrap_now);
  memcpy(to->other.spots, from->other.spots, (size_t)m->s->n_pieces * 2 * sizeof *to->other.spots);
  memcpy(to->other.carry, from->other.carry, (size_t)m->s->n_pieces * sizeof *to->other.carry);
  memcpy(to->other.oven, from->other.oven, (size_t)m->s->n_pieces * sizeof *to->other.oven);
  return PW_OK;
}

/* Whether anything of it smokes with a crust that holds; marks it to be wrapped now. */
static int wrap_what_holds(struct attempt *a, const struct mend *m, int lot)
{
  int n = 0;
  for (int i = m->s->first[lot]; i < m->s->first[lot + 1]; i++) {
    const struct pw_piece *p = &m->s->pieces[i];
    bool is_set = pw_belief_core_c(m->s, i) >= BARK_SET_C;
    if (p->where == PW_PIECE_SMOKES && p->stage[PW_LOAD_FINISH].load != PW_NONE && is_set) {
      a->other.wrap_now[i] = true;
      n++;
    }
  }
  return n;
}

/* Sends to an oven what of the lot has its last stage still to come.  How many. */
static int to_oven(int *ovens, const struct mend *m, int lot, int oven)
{
  int n = 0;
  for (int i = m->s->first[lot]; i < m->s->first[lot + 1]; i++) {
    const struct pw_piece *p = &m->s->pieces[i];
    bool is_to_come = p->where <= (m->s->plan->lots.lots[lot].has_finish ? PW_PIECE_SMOKES : PW_PIECE_RAW);
    if (p->is_missing || !is_to_come || ovens[i] == oven)
      continue;
    ovens[i] = oven;
    n++;
  }
  return n;
}

/* ---- as many as there is room for ------------------------------------------------------------------------------------------ */

struct candidate {
  int piece, end_min;
};

static int latest_first(const void *a, const void *b)
{
  const struct candidate *x = a, *y = b;
  return x->end_min != y->end_min ? (x->end_min < y->end_min) - (x->end_min > y->end_min)
                                  : (x->piece > y->piece) - (x->piece < y->piece);
}

/* The minute a piece is cooked. */
static int end_of(const struct attempt *a, const struct mend *m, int piece)
{
  int end = PW_DAY_NEVER;
  for (int i = 0; i < a->al.n_loads; i++)
    for (int k = 0; a->al.loads[i].stage <= PW_LOAD_FINISH && k < a->al.loads[i].pieces; k++)
      if (m->s->first[a->al.loads[i].lot] + a->al.loads[i].piece_ids[k] == piece && a->al.loads[i].end_at_min > end)
        end = a->al.loads[i].end_at_min;
  return end;
}

/* Of what goes into an oven beyond *now, the first n stay there, the others are as they were. */
static void keep_in_oven(struct attempt *other, const struct attempt *now, const struct attempt *whole,
                         const struct candidate *list, int n_list, int n)
{
  for (int i = 0; i < n_list; i++) {
    int piece = list[i].piece;
    const struct attempt *from = i < n ? whole : now;
    other->other.oven[piece] = from->other.oven[piece];
    other->other.carry[piece] = from->other.carry[piece];
  }
}

/* An oven that is too small for all of them takes the latest it has room for.  act->pieces becomes how many; 0: none. */
static pw_status fill_ovens(struct attempt *other, struct pw_mend_act *act, const struct attempt *now,
                            const struct mend *m, int lot)
{
  struct attempt whole;
  int first = m->s->first[lot], n_pieces = m->s->first[lot + 1] - first, n_list = 0;
  struct candidate *list = pw_arena_array(m->ctx->arena, (size_t)n_pieces + 1, sizeof *list);
  pw_status st = list ? like(&whole, other, m) : PW_ERR_MEMORY;
  for (int i = first; st == PW_OK && i < first + n_pieces; i++) {
    const struct pw_spot *carry = &other->other.carry[i];
    bool is_carried_in = carry->is_moved && carry->zone == PW_NONE && !now->other.carry[i].is_moved;
    if (is_carried_in || other->other.oven[i] != now->other.oven[i])
      list[n_list++] = (struct candidate){i, end_of(now, m, i)};
  }
  if (st == PW_OK)
    st = pw_retime(&other->al, other->late_min, &other->pace, m->s, m->b, &other->other, m->ctx);
  if (st != PW_OK || n_list == 0 || has_room(other, m))
    return st;
  qsort(list, (size_t)n_list, sizeof *list, latest_first);
  int fits = 0;
  for (int least = 1, most = n_list - 1; least <= most && st == PW_OK;) {
    int n = (least + most + 1) / 2;
    keep_in_oven(other, now, &whole, list, n_list, n);
    st = pw_retime(&other->al, other->late_min, &other->pace, m->s, m->b, &other->other, m->ctx);
    if (st == PW_OK && has_room(other, m)) {
      fits = n;
      least = n + 1;
    } else
      most = n - 1;
  }
  keep_in_oven(other, now, &whole, list, n_list, fits);
  act->pieces -= n_list - fits;
  return st;
}

/* One way for a lot set up in *other; false: there is nothing to it. */
static bool set_way(struct attempt *other, struct pw_mend_act *act, const struct attempt *now, const struct mend *m,
                    int lot, int way)
{
  const struct pw_lot *l = &m->s->plan->lots.lots[lot];
  int n_ovens = m->s->plan->event->n_finishers;
  *act = (struct pw_mend_act){.lot = lot, .finisher = PW_NONE, .kind = PW_MEND_SPOTS};
  if (way < n_ovens) {
    act->kind = PW_MEND_OVEN;
    act->finisher = way;
    if (pw_spot_oven_min(l, l->has_finish ? PW_LOAD_FINISH : PW_LOAD_SMOKE, way) == PW_NONE)
      return false;
    act->pieces = to_oven(other->other.oven, m, lot, way);
    if (!l->has_finish) /* what lies in a lost fire goes there with it */
      act->pieces += pw_spots_carry(other->other.carry, m->s, m->b, &now->al, lot);
    return act->pieces > 0;
  }
  if (way == n_ovens) {
    act->kind = PW_MEND_WRAP_NOW;
    act->pieces = wrap_what_holds(other, m, lot);
  } else if (way == n_ovens + 3) {
    act->kind = PW_MEND_CARRY;
    act->pieces = pw_spots_carry(other->other.carry, m->s, m->b, &now->al, lot);
  } else
    act->pieces = pw_spots_move(other->other.spots, m->s, m->b, &now->al, lot,
                                way == n_ovens + 1 ? PW_LOAD_SMOKE : PW_LOAD_FINISH);
  return act->pieces > 0;
}

/* Every way for a lot; the best goes into *now. */
static pw_status try_ways(struct attempt *now, const struct mend *m, int lot)
{
  struct attempt best = *now;
  struct pw_mend_act act = {0};
  bool has_better = false;
  for (int way = 0; way < m->s->plan->event->n_finishers + 4; way++) {
    struct attempt other;
    struct pw_mend_act what;
    pw_status st = like(&other, now, m);
    if (st != PW_OK)
      return st;
    if (!set_way(&other, &what, now, m, lot, way))
      continue;
    if ((st = fill_ovens(&other, &what, now, m, lot)) != PW_OK)
      return st;
    if (what.pieces <= 0)
      continue;
    if ((st = run(&other, m)) != PW_OK)
      return st;
    what.gains_min = now->late_min[lot] - other.late_min[lot];
    if (has_room(&other, m) && pw_spots_hold(other.other.spots, m->s, &other.al) && is_better(&other, &best, m)) {
      best = other;
      act = what;
      has_better = true;
    }
  }
  if (has_better) {
    *now = best;
    m->out->acts[m->out->n_acts++] = act;
  }
  return PW_OK;
}

/* ---- the plan ----------------------------------------------------------------------------------------------------------- */

static bool is_same(const struct pw_allocation *a, const struct pw_allocation *b)
{
  if (a->n_loads != b->n_loads || a->n_missed != b->n_missed || a->n_burns != b->n_burns)
    return false;
  for (int i = 0; i < a->n_burns; i++)
    if (memcmp(&a->burns[i], &b->burns[i], sizeof a->burns[i]) != 0)
      return false;
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *x = &a->loads[i];
    bool is_there = false;
    for (int k = 0; k < b->n_loads && !is_there; k++) {
      const struct pw_load *y = &b->loads[k];
      is_there = x->lot == y->lot && x->stage == y->stage && x->zone == y->zone && x->finisher == y->finisher &&
                 x->pieces == y->pieces && x->start_at_min == y->start_at_min && x->end_at_min == y->end_at_min;
    }
    if (!is_there)
      return false;
  }
  return true;
}

/* In the log's own words, each with its day: read again they are the same lines. */
static const char *const *log_lines(int *n, const struct pw_state *s, struct pw_ctx *ctx)
{
  const char **lines = pw_arena_array(ctx->arena, s->log->n + 1, sizeof(const char *));
  struct pw_names names;
  *n = 0;
  if (!lines || pw_names_make(&names, s->plan, ctx) != PW_OK)
    return NULL;
  for (size_t i = 0; i < s->log->n; i++) {
    struct pw_buf line = pw_buf_in(ctx->arena);
    if (s->log->lines[i].is_cancelled)
      continue;
    pw_log_line_write(&line, &s->log->lines[i], &names);
    if (!(lines[*n] = pw_buf_text(&line)))
      return NULL;
    ++*n;
  }
  return lines;
}

static pw_status plan_make(struct mend *m, const struct attempt *a)
{
  struct pw_arena *arena = m->ctx->arena;
  const struct pw_state *s = m->s;
  struct pw_plan *plan = pw_arena_alloc(arena, sizeof *plan);
  struct pw_day_now *day = pw_arena_alloc(arena, sizeof *day);
  struct pw_away *away = pw_arena_array(arena, (size_t)s->n_absences + 1, sizeof *away);
  struct pw_fire_out *outs = pw_arena_array(arena, (size_t)s->n_outages + 1, sizeof *outs);
  struct pw_cost_parts parts;
  if (!plan || !day || !away || !outs)
    return PW_ERR_MEMORY;
  for (int i = 0; i < s->n_outages; i++)
    outs[i] =
        (struct pw_fire_out){s->outages[i].pit, s->outages[i].from_min, s->outages[i].to_min, s->outages[i].is_open};
  for (int i = 0; i < s->n_absences; i++)
    away[i] = (struct pw_away){s->absences[i].person, s->absences[i].from_min, s->absences[i].to_min};
  *day = (struct pw_day_now){.now_min = s->now_min,
                             .edition = s->held.edition + 1,
                             .late_min = a->late_min,
                             .pace = a->pace,
                             .before = s->held.tasks,
                             .n_before = s->held.n_tasks,
                             .away = away,
                             .n_away = s->n_absences,
                             .outs = outs,
                             .n_outs = s->n_outages};
  if (!(day->log = log_lines(&day->n_log, s, m->ctx)))
    return PW_ERR_MEMORY;
  *plan = *s->plan;
  pw_status st = pw_supply_event(&plan->event, s, m->ctx);
  if (st != PW_OK)
    return st;
  plan->day = day;
  plan->allocation = a->al;
  plan->allocation.n_shortages = plan->allocation.n_remedies = 0;
  plan->allocation.outcome = a->al.n_missed > 0 ? PW_OUTCOME_SHORT : PW_OUTCOME_FEASIBLE;
  plan->allocation.bound_cents = 0; /* nothing is proved of a mended plan */
  plan->allocation.proof = (struct pw_proof){0};
  plan->allocation.gap_frac = 1;
  plan->brief = NULL;
  plan->proposal = (struct pw_proposal){0};
  plan->quote.n_ladder = plan->quote.n_tried = plan->quote.n_levels = 0;
  st = pw_cost_parts_make(&parts, plan, m->ctx);
  if (st != PW_OK)
    return st;
  plan->allocation.cost_cents = parts.fire + parts.light + parts.oven + parts.openings + parts.places + parts.hold +
                                parts.off_best + parts.moves + parts.people + parts.missed;
  m->out->plan = plan;
  return PW_OK;
}

static struct pw_chance_options draws_from_now(const struct mend *m)
{
  return (struct pw_chance_options){.n_draws = PW_CHANCE_DRAWS,
                                    .seed = DAY_SEED,
                                    .shares = pw_spread_shares(),
                                    .has_now = true,
                                    .now_min = m->s->now_min};
}

static pw_status chances(struct mend *m, const struct pw_allocation *first, const struct pw_allocation *mended,
                         const int *late_min)
{
  const struct pw_plan *plan = m->s->plan;
  const struct pw_chance_options draws = draws_from_now(m);
  struct pw_chance a = {0}, b = {0};
  pw_status st = pw_chance_make(&a, plan->event, &plan->lots, first, &draws, m->ctx);
  struct pw_chance_options then = draws;
  then.late_min = late_min;
  if (st == PW_OK)
    st = pw_chance_make(&b, plan->event, &plan->lots, mended, &then, m->ctx);
  for (int i = 0; st == PW_OK && i < plan->event->n_services; i++) {
    m->out->meals[i].before = a.services[i].on_time_frac;
    m->out->meals[i].chance = b.services[i].on_time_frac;
  }
  if (st == PW_OK && m->out->plan)
    m->out->plan->chance = b;
  return st;
}

/* Portions that are wanted and not there; those of the pit are told by meal. */
static pw_status count_short(struct mend *m)
{
  const struct pw_plan *plan = m->s->plan;
  pw_status st = pw_supply_shorts(&m->out->shorts, &m->out->n_shorts, m->s, m->ctx);
  for (int i = 0; i < m->out->n_shorts && st == PW_OK; i++) {
    const struct pw_short_dish *d = &m->out->shorts[i];
    struct pw_mend_meal *meal = &m->out->meals[plan->demand.lines[d->line].service];
    if (plan->event->dishes[plan->demand.lines[d->line].dish].cut == PW_NONE)
      continue; /* stands behind the slip */
    meal->short_of += d->lacks;
    meal->short_words = pw_arena_printf(m->ctx->arena, "%s%s%d of %s", meal->short_words ? meal->short_words : "",
                                        meal->short_words ? ", " : "", d->lacks,
                                        plan->event->dishes[plan->demand.lines[d->line].dish].name);
    if (!meal->short_words)
      st = PW_ERR_MEMORY;
  }
  return st;
}

static void count_late(struct mend *m, const int *late_min)
{
  const struct pw_lots *lots = &m->s->plan->lots;
  for (int i = 0; i < m->s->plan->event->n_services; i++)
    m->out->meals[i].lot = PW_NONE;
  for (int l = 0; l < lots->n_lots; l++) {
    struct pw_mend_meal *meal = &m->out->meals[lots->lots[l].service];
    if (lots->lots[l].is_day_before || late_min[l] <= meal->late_min)
      continue; /* what goes into the ice later makes no meal late for that, and a warning says so */
    meal->late_min = late_min[l];
    meal->lot = l;
  }
}

/* Late meals, one lot after the other. */
static pw_status help(struct attempt *now, struct mend *m)
{
  bool *is_tried = pw_arena_array(m->ctx->arena, (size_t)m->s->plan->lots.n_lots + 1, sizeof *is_tried);
  pw_status st = is_tried ? PW_OK : PW_ERR_MEMORY;
  for (int i = 0, lot; i < TRIES_MAX && st == PW_OK && (lot = latest_lot(now, m, is_tried)) != PW_NONE; i++) {
    int n = m->out->n_acts;
    st = try_ways(now, m, lot);
    is_tried[lot] = m->out->n_acts == n; /* nothing helped it */
  }
  return st;
}

/* What has to be thrown away is not cooked on: from here on it is lost, and the slip says so by the state as it is. */
static pw_status without_condemned(struct mend *m)
{
  struct pw_state *sound = pw_arena_alloc(m->ctx->arena, sizeof *sound);
  struct pw_piece *pieces = pw_arena_array(m->ctx->arena, (size_t)m->s->n_pieces + 1, sizeof *pieces);
  if (!sound || !pieces)
    return PW_ERR_MEMORY;
  memcpy(pieces, m->s->pieces, (size_t)m->s->n_pieces * sizeof *pieces);
  if (pw_verdict_condemn(pieces, m->s, m->b, m->ctx) == 0)
    return PW_OK;
  *sound = *m->s;
  sound->pieces = pieces;
  m->s = sound;
  return PW_OK;
}

pw_status pw_mend(struct pw_mended *out, const struct pw_state *s, enum pw_mend_care care, struct pw_ctx *ctx)
{
  struct mend m = {.s = s, .ctx = ctx, .out = out};
  struct attempt now;
  *out = (struct pw_mended){.state = s, .care = care};
  out->acts = pw_arena_array(ctx->arena, TRIES_MAX + 1, sizeof *out->acts);
  out->meals = pw_arena_array(ctx->arena, (size_t)s->plan->event->n_services + 1, sizeof *out->meals);
  if (!out->acts || !out->meals)
    return PW_ERR_MEMORY;
  pw_status st = pw_belief_make(&out->belief, s, ctx);
  m.b = &out->belief;
  if (st == PW_OK)
    st = without_condemned(&m);
  if (st == PW_OK)
    st = attempt_make(&now, &m);
  if (st == PW_OK)
    st = run(&now, &m);
  if (st != PW_OK)
    return st;
  const struct pw_allocation first = now.al;
  if (care == PW_MEND_WAYS || care == PW_MEND_PLACES)
    st = help(&now, &m);
  if (st != PW_OK)
    return st;
  out->late_min = now.late_min;
  out->otherwise = now.other;
  out->allocation = now.al;
  out->is_changed = !is_same(&now.al, &s->plan->allocation) || s->n_absences > 0 || !isnan(s->weather_c);
  count_late(&m, now.late_min);
  st = count_short(&m);
  if (st == PW_OK && out->is_changed && care < PW_MEND_BARE)
    st = plan_make(&m, &now);
  if (st == PW_OK)
    st = chances(&m, &first, &now.al, now.late_min);
  if (st == PW_OK && out->plan)
    st = pw_restore_rest(out->plan, ctx);
  if (st == PW_OK && out->plan)
    st = pw_safety_make(&out->plan->safety, out->plan, ctx);
  if (st == PW_OK && out->plan) {
    const struct pw_chance_options draws = draws_from_now(&m);
    st = pw_chance_cores(&out->plan->chance, s->plan->event, &out->plan->lots, &out->plan->allocation,
                         out->plan->safety.lots, &draws, ctx);
  }
  return st == PW_OK ? pw_supply_wood(&out->wood, m.s, out->plan ? out->plan : s->plan, ctx) : st;
}
