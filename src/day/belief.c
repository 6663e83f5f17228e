/* belief.c - paces out of cores, wraps and ends [N2].
 * Input: a state.  Output: log-normal factors on stage lengths for every piece and lot.  Idea: only standard normals that were observed are
 * kept in the covariance; the engine's curve says when a piece of pace 1 has that core. */
#include "day/belief.h"

#include "base/arena.h"
#include "day/spots.h"
#include "heat/curve.h"
#include "plan/chance/chance.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LEAST_FRAC                                                                                                     \
  0.3 /* of a stage's length, however far the one before went beyond its end: the probe says the rest; common practice, no source */

#define READING_SD_K   1.5   /* of a probe and of where it is stuck: common practice, no source */
#define MODEL_SD       0.06  /* of the curve's shape, as a share of the time: common practice, no source */
#define END_SD         0.03  /* of a minute that somebody wrote down */
#define STEEL_J_KGK    490.0 /* carbon steel near 100 C, from memory */
#define SHELL_W_M2K    10.0  /* still air and radiation at a warm shell, from memory */
#define CURVE_STEP_MIN 5.0

enum { STAGES = 2, DAYS_MAX = 16 };

struct update {
  const struct pw_state *s;
  struct pw_ctx *ctx;
  struct pw_spread_shares shares;
  int n, cap;                      /* normals kept */
  double *mean, *cov;              /* [cap], [cap * cap] */
  int *of_lot, *of_pit, *of_piece; /* [(lot | pit * days | piece) * STAGES + stage], PW_NONE: not yet */
  struct pw_stage_model **model;   /* [cut] */
  struct pw_belief *b;
};

/* ---- the normals --------------------------------------------------------------------------------------------------- */

static double sigma_of(const struct update *u, int lot, int stage)
{
  const struct pw_cut *cut = &u->s->plan->event->cuts[u->s->plan->lots.lots[lot].cut];
  double frac = stage == PW_LOAD_FINISH ? cut->finish.spread_frac : cut->smoke.spread_frac;
  return sqrt(log(1 + frac * frac)); /* as chance.c: the middle is the planned length */
}

static int pit_slot(const struct update *u, const struct pw_piece *piece, int stage)
{
  const struct pw_event *ev = u->s->plan->event;
  const struct pw_piece_stage *st = &piece->stage[stage];
  int place = st->zone != PW_NONE ? u->s->plan->lots.zones[st->zone].pit
                                  : ev->n_pits + (st->finisher == PW_NONE ? 0 : st->finisher);
  int day = u->s->plan->lots.lots[piece->lot].day % (DAYS_MAX / 2) + DAYS_MAX / 2;
  return ((place * DAYS_MAX) + day) * STAGES + stage;
}

/* The index of a normal, which is made when first observed. */
static int normal_at(struct update *u, int *slot)
{
  if (*slot == PW_NONE && u->n < u->cap) {
    *slot = u->n++;
    u->cov[(size_t)*slot * (size_t)u->cap + (size_t)*slot] = 1;
  }
  return *slot;
}

/* One observation y = sum of h_k z_k + error. */
static void observe(struct update *u, const int *at, const double *h, int n_h, double y, double var)
{
  size_t cap = (size_t)u->cap;
  double *gain = pw_arena_array(u->ctx->arena, cap + 1, sizeof *gain), all = var, said = 0;
  if (!gain)
    return;
  for (int i = 0; i < u->n; i++)
    for (int k = 0; k < n_h; k++)
      gain[i] += u->cov[(size_t)i * cap + (size_t)at[k]] * h[k];
  for (int k = 0; k < n_h; k++) {
    all += gain[at[k]] * h[k];
    said += u->mean[at[k]] * h[k];
  }
  double over = (y - said) / all;
  for (int i = 0; i < u->n; i++) {
    u->mean[i] += gain[i] * over;
    for (int j = 0; j < u->n; j++)
      u->cov[(size_t)i * cap + (size_t)j] -= gain[i] * gain[j] / all;
  }
}

/* Mean and variance of sigma * (sum of its normals), those not yet observed at their prior. */
static struct pw_pace pace_of(const struct update *u, const int *at, const double *h)
{
  double mean = 0, var = 0;
  for (int k = 0; k < 3; k++) {
    mean += at[k] == PW_NONE ? 0 : u->mean[at[k]] * h[k];
    var += at[k] == PW_NONE ? h[k] * h[k] : 0;
    for (int j = 0; j < 3 && at[k] != PW_NONE; j++)
      if (at[j] != PW_NONE)
        var += u->cov[(size_t)at[k] * (size_t)u->cap + (size_t)at[j]] * h[k] * h[j];
  }
  return (struct pw_pace){mean, sqrt(fmax(var, 0))};
}

static void weights(const struct update *u, int lot, int stage, double h[3])
{
  double sigma = sigma_of(u, lot, stage);
  h[0] = sigma * sqrt(u->shares.lot_frac);
  h[1] = sigma * sqrt(u->shares.pit_day_frac);
  h[2] = sigma * sqrt(u->shares.piece_frac);
}

/* ---- heat ------------------------------------------------------------------------------------------------------------ */

static struct pw_stage_model *model_of(struct update *u, int cut)
{
  if (!u->model[cut] && (u->model[cut] = pw_arena_alloc(u->ctx->arena, sizeof **u->model)))
    pw_stage_model_make(u->model[cut], &u->s->plan->event->cuts[cut]);
  return u->model[cut];
}

static int setting_of(const struct pw_state *s, int pit, int at_min)
{
  for (int b = 0; b < s->plan->allocation.n_burns; b++)
    if (s->plan->allocation.burns[b].pit == pit && s->plan->allocation.burns[b].out_at_min >= at_min)
      return s->plan->allocation.burns[b].setting;
  return 0;
}

double pw_belief_air_c(const struct pw_state *s, const struct pw_piece_stage *st)
{
  if (st->zone == PW_NONE)
    return st->finisher == PW_NONE ? (double)NAN : s->plan->event->finishers[st->finisher].temp_c;
  const struct pw_zone *zone = &s->plan->lots.zones[st->zone];
  return zone->temp_c[setting_of(s, zone->pit, st->is_carried ? st->carried_min : st->start_min)];
}

/* Air on the mean of a stretch without fire: the steel keeps some heat. */
static double cold_air_c(const struct pw_state *s, int pit, double air_c, double minutes)
{
  const struct pw_pit *p = &s->plan->event->pits[pit];
  double outside = isnan(s->weather_c) ? s->plan->event->weather.low_c : s->weather_c;
  double tau_min =
      p->steel_kg > 0 && p->shell_m2 > 0 ? p->steel_kg * STEEL_J_KGK / (SHELL_W_M2K * p->shell_m2) / 60 : 45;
  return outside + (air_c - outside) * tau_min / minutes * (1 - exp(-minutes / tau_min));
}

/* Minutes that stretches without fire add to a stage that has run since `start`, by the engine. */
static double lost_at(struct update *u, const struct pw_piece *piece, const struct pw_piece_stage *st, int stage,
                      int from_min, int to_min)
{
  const struct pw_state *s = u->s;
  const struct pw_cut *cut = &s->plan->event->cuts[s->plan->lots.lots[piece->lot].cut];
  double sum = 0, air_c = pw_belief_air_c(s, st);
  bool is_to_come = stage == PW_LOAD_SMOKE && st->start_min > s->now_min; /* goes on when the fire burns clean */
  if (st->zone == PW_NONE || st->load == PW_NONE || is_to_come)
    return 0;
  int pit = s->plan->lots.zones[st->zone].pit;
  for (int i = 0; i < s->n_outages; i++) {
    const struct pw_outage *o = &s->outages[i];
    int from = o->from_min > from_min ? o->from_min : from_min, to = o->to_min < to_min ? o->to_min : to_min;
    struct pw_stage_model *m = model_of(u, s->plan->lots.lots[piece->lot].cut);
    if (o->pit != pit || to <= from || st->end_min + (int)sum <= from || !m)
      continue;
    const struct pw_stage *of = stage == PW_LOAD_FINISH ? &cut->finish : &cut->smoke;
    struct pw_engine_body body;
    struct pw_engine_bath bath;
    struct pw_stage_air air = pw_stage_air_of(s->plan->event, pit);
    struct pw_engine_state *state = pw_arena_alloc(u->ctx->arena, sizeof *state);
    if (!state)
      return sum;
    double step = pw_stage_step_s(of), before = (from - st->start_min - sum) * 60.0,
           out = fmin(to - from + s->plan->event->pits[pit].ready_min / 2.0, (double)to_min - from) * 60.0,
           whole = pw_stage_model_minutes(m, of, air_c, &air) * 60;
    pw_stage_model_set(m, of, air_c, &air, &body, &bath);
    *state = stage == PW_LOAD_FINISH ? m->wrapped : m->raw;
    (void)pw_engine_run(&body, &bath, state, 1000, step, before, NULL, NULL);
    pw_stage_model_set(m, of, cold_air_c(s, pit, air_c, out / 60), &air, &body, &bath);
    (void)pw_engine_run(&body, &bath, state, 1000, step, out, NULL, NULL);
    pw_stage_model_set(m, of, air_c, &air, &body, &bath);
    double rest = pw_engine_run(&body, &bath, state, of->to_c, step, 3 * whole, NULL, NULL);
    double more = (before + out + rest - whole) / 60;
    sum += isfinite(more) && more > 0 ? fmin(more, 3 * (to - from)) : to - from;
  }
  return sum;
}

/* Of a stage as it was: what was lost where it lay first counts in minutes of where it lies now. */
static double lost_min(struct update *u, int i, int stage)
{
  const struct pw_piece *piece = &u->s->pieces[i];
  const struct pw_piece_stage *st = &piece->stage[stage];
  if (!st->is_carried)
    return lost_at(u, piece, st, stage, st->start_min, INT_MAX);
  struct pw_piece_stage first = *st;
  first.zone = st->from_zone;
  first.finisher = st->from_finisher;
  double before = lost_at(u, piece, &first, stage, st->start_min, st->carried_min),
         ratio = pw_belief_planned_min(u->s, i, stage, st->zone) /
                 fmax(pw_belief_planned_min(u->s, i, stage, first.zone), 1);
  return (st->carried_min - st->start_min) * (1 - ratio) + before * ratio + PW_CARRY_MIN +
         lost_at(u, piece, st, stage, st->carried_min, INT_MAX);
}

double pw_belief_from_core(const struct pw_state *s, int lot, double core_c, double air_c)
{
  const struct pw_cut *cut = &s->plan->event->cuts[s->plan->lots.lots[lot].cut];
  double to = cut->finish.to_c, usual = log((air_c - cut->smoke.to_c) / (air_c - to)),
         now = log((air_c - core_c) / (air_c - to));
  return usual > 0.01 && isfinite(now) ? fmax(now / usual, 1) : 1;
}

double pw_belief_core_c(const struct pw_state *s, int piece)
{
  const struct pw_piece *p = &s->pieces[piece];
  double least = NAN;
  if (p->n_readings > 0)
    return p->readings[p->n_readings - 1].core_c;
  for (int i = s->first[p->lot]; i < s->first[p->lot + 1]; i++) {
    const struct pw_piece *o = &s->pieces[i];
    if (o->stage[0].load == p->stage[0].load && o->n_readings > 0)
      least = fmin(least, o->readings[o->n_readings - 1].core_c); /* fmin takes the number of two */
  }
  return least;
}

/* The core it was wrapped at, if it was read within so long before and lies below that of the plan; NAN. */
static double wrapped_at_c(const struct pw_state *s, const struct pw_piece *piece)
{
  enum { BEFORE_MIN = 90 };
  const struct pw_piece_stage *smoke = &piece->stage[PW_LOAD_SMOKE];
  const struct pw_cut *cut = &s->plan->event->cuts[s->plan->lots.lots[piece->lot].cut];
  const struct pw_core_reading *last = NULL;
  for (int k = 0; k < piece->n_readings && smoke->is_end_logged; k++)
    if (piece->readings[k].at_min <= smoke->end_min && piece->readings[k].at_min > smoke->start_min)
      last = &piece->readings[k];
  return last && smoke->end_min - last->at_min <= BEFORE_MIN && piece->stage[PW_LOAD_FINISH].load != PW_NONE &&
                 last->core_c < cut->smoke.to_c - 3
             ? last->core_c
             : (double)NAN;
}

int pw_belief_planned_min(const struct pw_state *s, int piece, int stage, int zone)
{
  const struct pw_piece *p = &s->pieces[piece];
  const struct pw_load *load = &s->plan->allocation.loads[p->stage[stage].load];
  const struct pw_piece_stage *st = &p->stage[stage];
  int there = PW_NONE;
  if (zone != PW_NONE && zone != load->zone)
    there = pw_spot_min(&s->plan->lots, p->lot, stage, zone,
                        setting_of(s, s->plan->lots.zones[zone].pit,
                                   st->is_carried && zone == st->zone ? st->carried_min : st->start_min));
  if (zone == PW_NONE && st->finisher != PW_NONE && st->finisher != load->finisher)
    there = pw_spot_oven_min(&s->plan->lots.lots[p->lot], stage, st->finisher);
  return there == PW_NONE ? load->end_at_min - load->start_at_min : there;
}

/* ---- what was seen ------------------------------------------------------------------------------------------------------- */

/* Share of a stage's time at which a piece of pace 1 has this core, and how fast that share moves with a kelvin.  False: outside. */
static bool share_at(struct update *u, const struct pw_piece *piece, int stage, double core_c, double *share,
                     double *per_k)
{
  const struct pw_state *s = u->s;
  int cut = s->plan->lots.lots[piece->lot].cut;
  const struct pw_piece_stage *smoke = &piece->stage[PW_LOAD_SMOKE], *finish = &piece->stage[PW_LOAD_FINISH];
  struct pw_curve_place place = {.smoke_c = pw_belief_air_c(s, smoke),
                                 .finish_c =
                                     finish->load == PW_NONE ? pw_belief_air_c(s, smoke) : pw_belief_air_c(s, finish)};
  struct pw_curve curve;
  if (!isfinite(place.smoke_c) || !isfinite(place.finish_c))
    return false;
  place.air = smoke->zone != PW_NONE ? pw_stage_air_of(s->plan->event, s->plan->lots.zones[smoke->zone].pit)
                                     : pw_stage_air_mild();
  if (pw_curve_make(&curve, &s->plan->event->cuts[cut], &place, CURVE_STEP_MIN, u->ctx) != PW_OK ||
      !isfinite(curve.sum.wrap_min))
    return false;
  double from = stage == PW_LOAD_FINISH ? curve.sum.wrap_min : 0,
         to = stage == PW_LOAD_FINISH ? curve.sum.done_min : curve.sum.wrap_min;
  if (!isfinite(to) || to <= from)
    return false;
  for (int i = 1; i < curve.n_points; i++) {
    const struct pw_curve_point *a = &curve.points[i - 1], *b = &curve.points[i];
    if (b->at_min <= from || a->at_min < from - 1e-6 || b->core_c < core_c || a->core_c > core_c ||
        b->core_c - a->core_c < 1e-9)
      continue;
    double at = a->at_min + (core_c - a->core_c) / (b->core_c - a->core_c) * (b->at_min - a->at_min);
    if (at > to)
      return false;
    *share = (at - from) / (to - from);
    *per_k = (b->at_min - a->at_min) / (b->core_c - a->core_c) / (to - from);
    return *share > 0.05;
  }
  return false;
}

static void observe_piece(struct update *u, int i, int stage, double y, double sd)
{
  const struct pw_piece *piece = &u->s->pieces[i];
  double h[3];
  weights(u, piece->lot, stage, h);
  int at[3] = {normal_at(u, &u->of_lot[piece->lot * STAGES + stage]),
               normal_at(u, &u->of_pit[pit_slot(u, piece, stage)]), normal_at(u, &u->of_piece[i * STAGES + stage])};
  if (at[0] == PW_NONE || at[1] == PW_NONE || at[2] == PW_NONE || h[0] <= 0)
    return;
  observe(u, at, h, 3, y, sd * sd);
  u->b->pieces[i].n_seen++;
  u->b->lots[piece->lot].n_seen++;
}

/* An end that was written down, and every core; of readings in one stage the last says most, so the others count little. */
static void see_piece(struct update *u, int i)
{
  const struct pw_piece *piece = &u->s->pieces[i];
  const struct pw_cut *cut = &u->s->plan->event->cuts[u->s->plan->lots.lots[piece->lot].cut];
  for (int g = 0; g < STAGES; g++) {
    const struct pw_piece_stage *st = &piece->stage[g];
    if (st->load == PW_NONE || st->start_min > u->s->now_min)
      continue;
    double planned = pw_belief_planned_min(u->s, i, g, st->zone), lost = u->b->pieces[i].lost_min[g], share = 0,
           per_k = 0;
    double early_c = g == PW_LOAD_SMOKE ? wrapped_at_c(u->s, piece) : (double)NAN;
    if (st->is_end_logged && st->end_min > st->start_min && isnan(early_c)) { /* wrapped early says nothing of pace */
      observe_piece(u, i, g, log(fmax(st->end_min - st->start_min - lost, 1) / planned), lost > 1 ? MODEL_SD : END_SD);
      continue;
    }
    const struct pw_core_reading *last = NULL;
    for (int k = 0; k < piece->n_readings; k++)
      if (piece->readings[k].at_min > st->start_min &&
          (g == 1 || piece->stage[1].load == PW_NONE || piece->readings[k].at_min <= piece->stage[1].start_min))
        last = &piece->readings[k];
    if (!last || last->at_min - st->start_min - lost < 20)
      continue;
    double run = last->at_min - st->start_min - lost, to_c = g == 1 ? cut->finish.to_c : cut->smoke.to_c;
    if (last->core_c >= to_c - 0.5)
      observe_piece(u, i, g, log(run / planned), MODEL_SD);
    else if (share_at(u, piece, g, last->core_c, &share, &per_k))
      observe_piece(u, i, g, log(run / (planned * share)), hypot(MODEL_SD, READING_SD_K * per_k / share));
  }
}

/* Where another reading would help most: much of the lot still to come, little known, little time to spare. */
static void pick_probe(struct update *u)
{
  const struct pw_state *s = u->s;
  double best = 0;
  u->b->probe_lot = PW_NONE;
  for (int i = 0; i < s->n_pieces; i++) {
    const struct pw_piece *piece = &s->pieces[i];
    int g = piece->where == PW_PIECE_SMOKES ? 0 : piece->where == PW_PIECE_FINISHES ? 1 : -1;
    if (g < 0 || piece->stage[g].load == PW_NONE)
      continue;
    const struct pw_lot *lot = &s->plan->lots.lots[piece->lot];
    double within = 1.28 * u->b->pieces[i].pace[g].sd * pw_belief_planned_min(s, i, g, piece->stage[g].zone);
    int last = piece->stage[1].load != PW_NONE ? 1 : 0;
    double slack = lot->by_at_min - lot->rest_min - lot->carve_min - piece->stage[last].end_min,
           score = within / fmax(slack, 15);
    if (s->now_min - piece->stage[g].start_min < 60 || score <= best)
      continue;
    best = score;
    u->b->probe_lot = piece->lot;
    u->b->probe_within = (int)ceil(within);
  }
}

static int *slots_make(size_t n, struct pw_arena *arena)
{
  int *slots = pw_arena_array(arena, n + 1, sizeof *slots);
  for (size_t i = 0; slots && i < n; i++)
    slots[i] = PW_NONE;
  return slots;
}

pw_status pw_belief_make(struct pw_belief *out, const struct pw_state *s, struct pw_ctx *ctx)
{
  struct pw_arena *arena = ctx->arena;
  const struct pw_event *ev = s->plan->event;
  struct update u = {.s = s, .ctx = ctx, .shares = pw_spread_shares(), .b = out};
  int n_lots = s->plan->lots.n_lots, n_seen = 0;
  *out = (struct pw_belief){.probe_lot = PW_NONE};
  for (int i = 0; i < s->n_pieces; i++)
    n_seen += s->pieces[i].n_readings > 0 || s->pieces[i].stage[0].is_end_logged || s->pieces[i].stage[1].is_end_logged;
  u.cap = STAGES * (2 * n_lots + n_seen) + STAGES * (ev->n_pits + ev->n_finishers) + 4;
  size_t n_places = (size_t)(ev->n_pits + ev->n_finishers + 1) * DAYS_MAX * STAGES;
  u.mean = pw_arena_array(arena, (size_t)u.cap, sizeof *u.mean);
  u.cov = pw_arena_array(arena, (size_t)u.cap * (size_t)u.cap, sizeof *u.cov);
  u.of_lot = slots_make((size_t)n_lots * STAGES, arena);
  u.of_pit = slots_make(n_places, arena);
  u.of_piece = slots_make((size_t)s->n_pieces * STAGES, arena);
  u.model = pw_arena_array(arena, (size_t)ev->n_cuts + 1, sizeof(struct pw_stage_model *));
  out->pieces = pw_arena_array(arena, (size_t)s->n_pieces + 1, sizeof *out->pieces);
  out->lots = pw_arena_array(arena, (size_t)n_lots + 1, sizeof *out->lots);
  if (!u.mean || !u.cov || !u.of_lot || !u.of_pit || !u.of_piece || !u.model || !out->pieces || !out->lots)
    return PW_ERR_MEMORY;
  for (int i = 0; i < s->n_pieces; i++)
    for (int g = 0; g < STAGES; g++)
      out->pieces[i].lost_min[g] = s->n_outages > 0 || s->pieces[i].stage[g].is_carried ? lost_min(&u, i, g) : 0;
  for (int i = 0; i < s->n_pieces; i++) { /* wrapped before its time, the finish has more to do */
    double core_c = wrapped_at_c(s, &s->pieces[i]);
    if (!isnan(core_c))
      out->pieces[i].lost_min[1] +=
          pw_belief_planned_min(s, i, 1, s->pieces[i].stage[1].zone) *
          (pw_belief_from_core(s, s->pieces[i].lot, core_c, pw_belief_air_c(s, &s->pieces[i].stage[1])) - 1);
  }
  for (int i = 0; i < s->n_pieces; i++)
    see_piece(&u, i);
  for (int i = 0; i < s->n_pieces; i++)
    for (int g = 0; g < STAGES; g++) {
      double h[3];
      const struct pw_piece *piece = &s->pieces[i];
      weights(&u, piece->lot, g, h);
      int at[3] = {u.of_lot[piece->lot * STAGES + g], u.of_pit[pit_slot(&u, piece, g)], u.of_piece[i * STAGES + g]};
      out->pieces[i].pace[g] = pace_of(&u, at, h);
      at[2] = PW_NONE;
      out->lots[piece->lot].pace[g] = pace_of(&u, at, h);
    }
  pick_probe(&u);
  return PW_OK;
}

int pw_day_slot_min(const struct pw_plan *plan)
{
  enum { FINE_MIN = 5 };
  int slot = plan->lots.slot_min;
  return slot % FINE_MIN == 0 ? FINE_MIN : slot;
}

double pw_belief_minutes(const struct pw_belief *b, int piece, int stage, int planned, double z)
{
  const struct pw_piece_belief *p = &b->pieces[piece];
  return fmax(planned * exp(p->pace[stage].mean + z * p->pace[stage].sd) + p->lost_min[stage], planned * LEAST_FRAC);
}
