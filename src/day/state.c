/* state.c - plays plan and log together up to now [N1].
 * Input: a plan and the lines of a log.  Output: pieces with their stages as they were, fires, hands, guests.  Idea: begin with every piece
 * as planned; each line, in order of time, moves what it means (state_lines.c); then what nobody logged is taken as done where it can have been. */
#include "day/state.h"

#include "base/arena.h"
#include "day/state_lines.h"
#include "day/state_piece.h"
#include "plan/lots/drips.h"

#include <math.h>
#include <stdlib.h>

#define FELL_K 3.0 /* two readings of a probe that lies otherwise differ by less: common practice, no source */

/* ---- as planned ------------------------------------------------------------------------------------------------- */

static pw_status pieces_make(struct pw_state *s, struct pw_arena *arena)
{
  const struct pw_lots *lots = &s->plan->lots;
  s->first = pw_arena_array(arena, (size_t)lots->n_lots + 1, sizeof *s->first);
  if (!s->first)
    return PW_ERR_MEMORY;
  for (int l = 0; l < lots->n_lots; l++)
    s->first[l + 1] = s->first[l] + lots->lots[l].pieces;
  s->n_pieces = s->first[lots->n_lots];
  if (!(s->pieces = pw_arena_array(arena, (size_t)s->n_pieces + 1, sizeof *s->pieces)))
    return PW_ERR_MEMORY;
  for (int l = 0; l < lots->n_lots; l++)
    for (int k = s->first[l]; k < s->first[l + 1]; k++) {
      s->pieces[k] = (struct pw_piece){.lot = l, .nth = k - s->first[l]};
      for (int g = 0; g < 4; g++)
        s->pieces[k].stage[g] = (struct pw_piece_stage){
            .load = PW_NONE, .start_min = PW_DAY_NEVER, .end_min = PW_DAY_NEVER, .zone = PW_NONE, .finisher = PW_NONE};
    }
  for (int i = 0; i < s->plan->allocation.n_loads; i++) {
    const struct pw_load *load = &s->plan->allocation.loads[i];
    for (int k = 0; k < load->pieces; k++)
      s->pieces[s->first[load->lot] + (load->piece_ids ? load->piece_ids[k] : k)].stage[load->stage] =
          (struct pw_piece_stage){.load = i,
                                  .start_min = load->start_at_min,
                                  .end_min = load->end_at_min,
                                  .zone = load->zone,
                                  .finisher = load->finisher};
  }
  for (int k = 0; k < s->n_pieces; k++)
    s->pieces[k].is_missing =
        s->pieces[k].stage[PW_LOAD_SMOKE].load == PW_NONE && s->pieces[k].stage[PW_LOAD_FINISH].load == PW_NONE;
  return PW_OK;
}

/* ---- now ---------------------------------------------------------------------------------------------------------------- */

/* When what does not burn yet is reckoned to: it takes as long again as it has taken. */
static void reckon_open(struct pw_state *s)
{
  enum { LEAST_MIN = 10, MOST_MIN = 60 }; /* common practice, no source */
  for (int i = 0; i < s->n_outages; i++) {
    struct pw_outage *o = &s->outages[i];
    int more = s->now_min - o->from_min;
    if (o->is_open)
      o->to_min = s->now_min + (more < LEAST_MIN ? LEAST_MIN : more > MOST_MIN ? MOST_MIN : more);
  }
}

/* Read at the end of a stage; and not well below it again since, where what follows is hotter yet. */
static bool was_read_at(const struct pw_piece *piece, int stage, double to_c)
{
  bool goes_on = stage == PW_LOAD_SMOKE && piece->stage[PW_LOAD_FINISH].load != PW_NONE, was = false;
  for (int k = 0; k < piece->n_readings; k++) {
    double core_c = piece->readings[k].core_c;
    was = (was && !(goes_on && core_c < to_c - FELL_K)) || core_c >= to_c - PW_PIECE_NEAR_K;
  }
  return was;
}

/* A reading below the end of a stage says that the stage goes on, whatever the plan said; not once it was read at that end, or is off. */
static void reopen(struct pw_state *s, struct pw_piece *piece)
{
  const struct pw_cut *cut = &s->plan->event->cuts[s->plan->lots.lots[piece->lot].cut];
  const struct pw_core_reading *last = piece->n_readings > 0 ? &piece->readings[piece->n_readings - 1] : NULL;
  for (int g = PW_LOAD_SMOKE; g <= PW_LOAD_FINISH && last; g++) {
    struct pw_piece_stage *st = &piece->stage[g];
    double to_c = g == PW_LOAD_SMOKE ? cut->smoke.to_c : cut->finish.to_c;
    bool is_past = st->is_end_logged || (g == PW_LOAD_SMOKE && piece->stage[PW_LOAD_FINISH].is_end_logged);
    if (st->load == PW_NONE || is_past || st->end_min > s->now_min || was_read_at(piece, g, to_c) ||
        last->at_min < st->end_min - 5)
      continue;
    int by = s->now_min + 1 - st->end_min;
    st->end_min += by;
    pw_piece_shift_after(piece, g, by);
  }
}

static bool is_with(const struct pw_piece *a, const struct pw_piece *b, int g)
{
  return a->stage[g].load == b->stage[g].load && a->stage[g].load != PW_NONE && !b->is_missing;
}

/* What nobody logged or read is not taken as done before what lies beside it in one load, if a reading says that goes on, nor as if a fire had
 * burned that was out. */
static void keep_on(struct pw_state *s, struct pw_piece *piece)
{
  for (int g = PW_LOAD_SMOKE; g <= PW_LOAD_FINISH; g++) {
    struct pw_piece_stage *st = &piece->stage[g];
    bool is_past = st->is_end_logged || (g == PW_LOAD_SMOKE && piece->stage[PW_LOAD_FINISH].is_end_logged);
    int by = 0;
    if (st->load == PW_NONE || piece->is_missing || is_past || st->end_min > s->now_min)
      continue;
    for (int i = 0; i < s->n_outages && st->zone != PW_NONE && piece->n_readings == 0; i++) {
      const struct pw_outage *o = &s->outages[i];
      int from = o->from_min > st->start_min ? o->from_min : st->start_min,
          to = o->to_min < s->now_min ? o->to_min : s->now_min;
      if (o->pit == s->plan->lots.zones[st->zone].pit && to > from && from < st->end_min + by)
        by += to - from;
    }
    for (int k = s->first[piece->lot]; k < s->first[piece->lot + 1] && piece->n_readings == 0; k++) {
      const struct pw_piece *other = &s->pieces[k];
      if (is_with(piece, other, g) && other->n_readings > 0 && !other->stage[g].is_end_logged &&
          other->stage[g].start_min <= s->now_min && other->stage[g].end_min - st->end_min > by)
        by = other->stage[g].end_min - st->end_min;
    }
    st->end_min += by;
    pw_piece_shift_after(piece, g, by);
  }
}

static const struct pw_rect *rect_of(const struct pw_state *s, const struct pw_piece *piece, int stage)
{
  const struct pw_load *load = &s->plan->allocation.loads[piece->stage[stage].load];
  for (int k = 0; load->rects && k < load->pieces; k++)
    if ((load->piece_ids ? load->piece_ids[k] : k) == piece->nth)
      return &load->rects[k];
  return NULL;
}

static bool is_in_the_way(const struct pw_state *s, const struct pw_piece *a, int g, const struct pw_piece *b)
{
  const struct pw_piece_stage *x = &a->stage[g], *y = &b->stage[PW_LOAD_SMOKE];
  if (a == b || a->is_missing || x->load == PW_NONE || x->zone == PW_NONE || y->zone == PW_NONE)
    return false;
  const struct pw_zone *p = &s->plan->lots.zones[x->zone], *q = &s->plan->lots.zones[y->zone];
  int planned_end = s->plan->allocation.loads[x->load].end_at_min;
  if (p->pit != q->pit || p->rack != q->rack || x->start_min > s->now_min || x->end_min <= y->start_min ||
      planned_end > s->plan->allocation.loads[y->load].start_at_min)
    return false;
  const struct pw_rect *u = rect_of(s, a, g), *v = rect_of(s, b, PW_LOAD_SMOKE);
  return u && v && u->x_m < v->x_m + v->length_m - 1e-6 && v->x_m < u->x_m + u->length_m - 1e-6 &&
         u->y_m < v->y_m + v->depth_m - 1e-6 && v->y_m < u->y_m + u->depth_m - 1e-6;
}

/* [H2] Whether a, longer raw than planned above b, would still drip on it where the plan had them one after the other. */
static bool is_dripping_on(const struct pw_state *s, const struct pw_piece *a, const struct pw_piece *b)
{
  const struct pw_piece_stage *x = &a->stage[PW_LOAD_SMOKE], *y = &b->stage[PW_LOAD_SMOKE];
  const struct pw_event *ev = s->plan->event;
  if (a == b || a->is_missing || x->load == PW_NONE || x->zone == PW_NONE || y->zone == PW_NONE ||
      x->start_min > s->now_min || !pw_drips_raw(&ev->cuts[s->plan->lots.lots[a->lot].cut]))
    return false;
  const struct pw_zone *p = &s->plan->lots.zones[x->zone], *q = &s->plan->lots.zones[y->zone];
  const struct pw_load *of = &s->plan->allocation.loads[x->load], *on = &s->plan->allocation.loads[y->load];
  if (p->pit != q->pit || !pw_drips_above(&ev->pits[p->pit], p->rack, q->rack))
    return false;
  int drips = of->drips_min < of->end_at_min - of->start_at_min ? of->drips_min : of->end_at_min - of->start_at_min,
      longer = x->end_min - of->end_at_min;
  return longer > 0 && of->start_at_min + drips <= on->start_at_min && of->start_at_min + drips + longer > y->start_min;
}

/* From when on the fire a piece was to go on by burned clean, where it was lit later than planned. */
static int clean_from(const struct pw_state *s, const struct pw_piece_stage *st)
{
  const struct pw_allocation *a = &s->plan->allocation;
  int pit = st->zone == PW_NONE ? PW_NONE : s->plan->lots.zones[st->zone].pit, clean = st->start_min;
  for (int b = 0; b < a->n_burns; b++) {
    const struct pw_burn *burn = &a->burns[b];
    int ready = s->lit_min[b] + burn->ready_at_min - burn->lit_at_min;
    if (burn->pit == pit && s->lit_min[b] > burn->lit_at_min && burn->lit_at_min <= st->start_min &&
        st->start_min < burn->out_at_min && ready > clean)
      clean = ready;
  }
  return clean;
}

/* What nobody logged is not taken as on when a line says that it waits, before its fire burned clean, where something still lies that should
 * have been off, nor under what still drips. */
static void hold_back(struct pw_state *s)
{
  for (int i = 0; i < s->n_pieces; i++) {
    struct pw_piece *piece = &s->pieces[i];
    struct pw_piece_stage *st = &piece->stage[PW_LOAD_SMOKE];
    bool is_taken = piece->is_waiting;
    if (piece->is_missing || st->load == PW_NONE || st->is_start_logged || st->is_end_logged ||
        st->start_min > s->now_min || piece->n_readings > 0)
      continue;
    for (int k = 0; k < s->n_pieces && !is_taken; k++)
      for (int g = PW_LOAD_SMOKE; g <= PW_LOAD_FINISH && !is_taken; g++)
        is_taken = is_in_the_way(s, &s->pieces[k], g, piece) || is_dripping_on(s, &s->pieces[k], piece);
    int clean = clean_from(s, st);
    if (!is_taken && clean <= st->start_min)
      continue;
    int by = (is_taken || clean > s->now_min ? s->now_min + 1 : clean) - st->start_min; /* as soon as it was clean */
    st->start_min += by;
    st->end_min += by;
    pw_piece_shift_after(piece, PW_LOAD_SMOKE, by);
  }
}

/* Has its wave begun? */
static bool is_on_table(const struct pw_state *s, const struct pw_lot *lot)
{
  return (lot->is_day_before ? s->plan->event->services[lot->service].at_min : lot->by_at_min) <= s->now_min;
}

static enum pw_piece_where where_now(const struct pw_state *s, const struct pw_piece *piece)
{
  if (piece->is_missing)
    return PW_PIECE_LOST;
  int last = PW_NONE;
  for (int g = 0; g < 4; g++)
    if (piece->stage[g].load != PW_NONE && piece->stage[g].start_min <= s->now_min)
      last = g;
  if (last == PW_NONE)
    return PW_PIECE_RAW;
  if (piece->stage[last].end_min <= s->now_min)
    return last >= pw_piece_last_cook(piece) && is_on_table(s, &s->plan->lots.lots[piece->lot]) ? PW_PIECE_SERVED
                                                                                                : PW_PIECE_RESTS;
  return (enum pw_piece_where)(PW_PIECE_SMOKES + last);
}

static int by_minute(const void *a, const void *b)
{
  const struct pw_log_line *x = *(const struct pw_log_line *const *)a, *y = *(const struct pw_log_line *const *)b;
  if (x->at_min != y->at_min)
    return x->at_min < y->at_min ? -1 : 1;
  return x < y ? -1 : x > y;
}

pw_status pw_state_make(struct pw_state *out, const struct pw_plan *plan, const struct pw_log *log,
                        const struct pw_names *names, int now_min, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  struct pw_state s = {.plan = plan,
                       .held = {plan->tasks.tasks, plan->tasks.n_tasks, 1},
                       .log = log,
                       .now_min = now_min,
                       .wood_kg = NAN,
                       .weather_c = NAN,
                       .wind_m_s = NAN};
  bool is_bad = false;
  const struct pw_log_line **lines = pw_arena_array(ctx->arena, log->n + 1, sizeof *lines);
  *out = (struct pw_state){0};
  pw_status st = pieces_make(&s, ctx->arena);
  s.outages = pw_arena_array(ctx->arena, log->n + 1, sizeof *s.outages);
  s.absences = pw_arena_array(ctx->arena, (log->n + 1) * ((size_t)plan->tasks.n_people + 1), sizeof *s.absences);
  s.lit_min = pw_arena_array(ctx->arena, (size_t)plan->allocation.n_burns + 1, sizeof *s.lit_min);
  s.is_lit_told = pw_arena_array(ctx->arena, (size_t)plan->allocation.n_burns + 1, sizeof *s.is_lit_told);
  s.guests = pw_arena_array(ctx->arena, (size_t)ev->n_services + 1, sizeof *s.guests);
  s.got = pw_arena_array(ctx->arena, (size_t)plan->lots.n_lots + 1, sizeof *s.got);
  int *order = pw_arena_array(ctx->arena, (size_t)s.n_pieces + PW_LOG_TEMPS_MAX + 1, sizeof *order);
  if (st != PW_OK || !lines || !s.outages || !s.absences || !s.lit_min || !s.is_lit_told || !s.guests || !s.got ||
      !order)
    return PW_ERR_MEMORY;
  for (int b = 0; b < plan->allocation.n_burns; b++)
    s.lit_min[b] = plan->allocation.burns[b].lit_at_min;
  for (int i = 0; i < ev->n_services; i++)
    s.guests[i] = PW_NONE;
  for (int l = 0; l < plan->lots.n_lots; l++)
    s.got[l] = PW_NONE;
  for (size_t i = 0; i < log->n; i++)
    lines[i] = &log->lines[i];
  if (log->n > 1)
    qsort(lines, log->n, sizeof(const struct pw_log_line *), by_minute);
  for (size_t i = 0; i < log->n; i++) {
    if (!lines[i]->is_cancelled && pw_state_play(&s, lines[i], names, order, ctx) != PW_OK)
      is_bad = true;
  }
  reckon_open(&s);
  for (int k = 0; k < s.n_pieces; k++)
    reopen(&s, &s.pieces[k]);
  for (int k = 0; k < s.n_pieces; k++)
    keep_on(&s, &s.pieces[k]);
  hold_back(&s);
  for (int k = 0; k < s.n_pieces; k++) {
    s.pieces[k].where = where_now(&s, &s.pieces[k]);
  }
  *out = s;
  return is_bad ? PW_ERR_INPUT : PW_OK;
}
