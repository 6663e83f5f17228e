/* state.c - plays plan and log together up to now [N1].
 * Input: a plan and the lines of a log.  Output: pieces with their stages as they were, fires, hands, guests.  Idea: begin with every piece
 * as planned; each line, in order of time, moves the pieces it means: named ones, else those whose stage by plan is nearest to its minute. */
#include "day/state.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/format.h"
#include "base/when.h"
#include "day/spots.h"
#include "plan/lots/drips.h"

#include <assert.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FALL_MOST_K 22.0 /* 40 F: a core does not fall so far while its fire burns; common practice, no source */
#define NEAR_K      1.0  /* as good as there */
#define FELL_K      3.0  /* two readings of a probe that lies otherwise differ by less: common practice, no source */
enum {
  AHEAD_MOST_MIN = 480, /* a line means pieces planned within so long of it */
  FAR_MIN = 720,        /* what goes on so long before or after its plan is another piece, or another day */
  KEPT_MIN = 120,       /* a fire is kept up so long beyond its plan for what is laid on it */
  OVER_MIN = 240        /* what by plan is off for so long is not carried any more */
};

struct play {
  struct pw_state *s;
  const struct pw_names *names;
  const struct pw_log_line *line;
  struct pw_ctx *ctx;
  int *order; /* pieces of a lot, best first */
  bool is_bad;
};

static void ask(struct play *p, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void ask(struct play *p, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(p->ctx->arena, format, args);
  va_end(args);
  pw_diag_add(p->ctx, PW_ERROR, "log-ask", p->s->log->file, p->line->line, 1, "%s", text ? text : "out of memory");
  p->is_bad = true;
}

static const char *clock_of(const struct play *p, int at_min)
{
  return pw_arena_printf(p->ctx->arena, "%s", pw_when(p->names->ev, at_min).s);
}
static const char *lot_name(const struct play *p, int lot) { return pw_lot_letter(lot, p->ctx->arena); }

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

/** The last stage in which it is cooked. */
static int last_cook(const struct pw_piece *piece)
{
  return piece->stage[PW_LOAD_FINISH].load != PW_NONE ? PW_LOAD_FINISH : PW_LOAD_SMOKE;
}

/* All that follows a stage moves with its end. */
static void shift_after(struct pw_piece *piece, int stage, int by_min)
{
  for (int g = stage + 1; g < 4 && by_min != 0; g++)
    if (piece->stage[g].load != PW_NONE && !piece->stage[g].is_start_logged) {
      piece->stage[g].start_min += by_min;
      if (!piece->stage[g].is_end_logged && g != PW_LOAD_HOLD)
        piece->stage[g].end_min += by_min;
    }
}

static void start_stage(struct pw_piece *piece, int stage, int at_min)
{
  struct pw_piece_stage *s = &piece->stage[stage];
  int by_min = at_min - s->start_min;
  s->start_min = at_min;
  s->is_start_logged = true;
  if (!s->is_end_logged) {
    s->end_min += by_min;
    shift_after(piece, stage, by_min);
  }
}

static void end_stage(struct pw_piece *piece, int stage, int at_min)
{
  struct pw_piece_stage *s = &piece->stage[stage];
  int by_min = at_min - s->end_min;
  s->end_min = at_min;
  s->is_end_logged = true;
  shift_after(piece, stage, by_min);
}

/* ---- which pieces a line means ------------------------------------------------------------------------------------ */

typedef int (*fits_fn)(const struct play *p,
                       const struct pw_piece *piece); /* minutes from its plan; -1: not this one */

static bool is_at_place(const struct play *p, const struct pw_piece_stage *s)
{
  const struct pw_log_line *l = p->line;
  if (l->zone != PW_NONE)
    return s->zone == l->zone;
  if (l->pit != PW_NONE)
    return s->zone != PW_NONE && p->names->lots->zones[s->zone].pit == l->pit;
  return l->finisher == PW_NONE || s->finisher == l->finisher;
}

static int fits_on(const struct play *p, const struct pw_piece *piece)
{
  const struct pw_piece_stage *s = &piece->stage[PW_LOAD_SMOKE];
  bool was_on =
      s->is_start_logged || s->is_end_logged || piece->stage[PW_LOAD_FINISH].is_end_logged || piece->n_readings > 0;
  return piece->is_missing || was_on || s->load == PW_NONE ||
                 (!piece->is_waiting && abs(s->start_min - p->line->at_min) > FAR_MIN)
             ? -1
             : abs(s->start_min - p->line->at_min) + (is_at_place(p, s) ? 0 : AHEAD_MOST_MIN / 2);
}

static int fits_wrapped(const struct play *p, const struct pw_piece *piece)
{
  const struct pw_piece_stage *s = &piece->stage[PW_LOAD_SMOKE];
  bool is_it = !piece->is_missing && piece->stage[PW_LOAD_FINISH].load != PW_NONE && !s->is_end_logged &&
               !piece->stage[PW_LOAD_FINISH].is_end_logged && s->start_min < p->line->at_min;
  return is_it ? abs(s->end_min - p->line->at_min) : -1;
}

static int fits_off(const struct play *p, const struct pw_piece *piece)
{
  int last = last_cook(piece);
  const struct pw_piece_stage *s = &piece->stage[last];
  bool is_it = !piece->is_missing && s->load != PW_NONE && !s->is_end_logged &&
               piece->stage[PW_LOAD_SMOKE].start_min < p->line->at_min;
  return is_it ? abs(s->end_min - p->line->at_min) : -1;
}

static int fits_core(const struct play *p, const struct pw_piece *piece)
{
  const struct pw_piece_stage *s = &piece->stage[last_cook(piece)];
  bool is_it = !piece->is_missing && piece->stage[PW_LOAD_SMOKE].start_min < p->line->at_min;
  const struct pw_service *service = &p->names->ev->services[p->names->lots->lots[piece->lot].service];
  int over = p->line->at_min - s->end_min;
  bool is_late =
      !s->is_end_logged && s->end_min > service->at_min; /* on so late that it missed its meal: it is there still */
  is_it = is_it && (is_late || p->line->at_min < service->at_min + service->length_min);
  return is_it ? (over > 0 ? (s->is_end_logged ? AHEAD_MOST_MIN + over : over) : 0) : -1;
}

static int fits_lost(const struct play *p, const struct pw_piece *piece)
{
  (void)p;
  return piece->is_missing ? -1 : piece->stage[PW_LOAD_SMOKE].is_start_logged ? 1 : 0;
}

/* Pieces of the line's lot that fit, the best first; how many. */
static int candidates(struct play *p, fits_fn fits)
{
  const struct pw_state *s = p->s;
  int n = 0, lot = p->line->lot;
  for (int i = s->first[lot]; i < s->first[lot + 1]; i++) {
    int how = fits(p, &s->pieces[i]);
    if (how < 0)
      continue;
    int k = n++;
    for (; k > 0 && fits(p, &s->pieces[p->order[k - 1]]) > how; k--)
      p->order[k] = p->order[k - 1];
    p->order[k] = i;
  }
  return n;
}

/* The pieces a line means, into p->order; 0 after a question.  Without a count: those planned at the minute of the best. */
static int meant(struct play *p, fits_fn fits, int stage, bool by_end, const char *what)
{
  const struct pw_log_line *l = p->line;
  const struct pw_state *s = p->s;
  if (l->n_ids > 0) {
    for (int i = 0; i < l->n_ids; i++) {
      p->order[i] = s->first[l->lot] + l->piece_ids[i];
      if (fits(p, &s->pieces[p->order[i]]) < 0) {
        ask(p,
            "piece %s%d cannot be %s at %s: by plan and log it is not at that stage. Is the letter, the time or an "
            "earlier line wrong?",
            lot_name(p, l->lot), l->piece_ids[i] + 1, what, clock_of(p, l->at_min));
        return 0;
      }
    }
    return l->n_ids;
  }
  int n = candidates(p, fits);
  if (n == 0 || (l->count != PW_NONE && l->count > n)) {
    ask(p, "%d of %s %s at %s, but only %d can be: what did the lines before say, or is the number wrong?",
        l->count == PW_NONE ? s->first[l->lot + 1] - s->first[l->lot] : l->count, lot_name(p, l->lot), what,
        clock_of(p, l->at_min), n);
    return 0;
  }
  if (l->count != PW_NONE)
    return l->count;
  if (l->is_all)
    return n;
  const struct pw_piece *best = &s->pieces[p->order[0]];
  int same = 0;
  for (int i = 0; i < n; i++) {
    const struct pw_piece *piece = &s->pieces[p->order[i]];
    int g = stage < 0 ? last_cook(piece) : stage, b = stage < 0 ? last_cook(best) : stage;
    int at = by_end ? piece->stage[g].end_min : piece->stage[g].start_min,
        of = by_end ? best->stage[b].end_min : best->stage[b].start_min;
    if (at == of && is_at_place(p, &piece->stage[g]))
      p->order[same++] = p->order[i];
  }
  return same > 0 ? same : n;
}

/* ---- lines ---------------------------------------------------------------------------------------------------------- */

static void move_to(const struct play *p, struct pw_piece_stage *s, int stage)
{
  const struct pw_log_line *l = p->line;
  if (is_at_place(p, s))
    return;
  s->finisher = l->finisher;
  s->zone = l->zone;
  for (int z = 0; z < p->names->lots->n_zones && s->zone == PW_NONE && l->pit != PW_NONE;
       z++) /* of a pit: its first zone that will do */
    if (p->names->lots->zones[z].pit == l->pit && pw_spot_cooks(p->s, l->lot, stage, z, l->at_min))
      s->zone = z;
}

/* A fire burns in a pit then, or did until not long ago and is kept up. */
static bool burns_at(const struct play *p, int pit, int at_min)
{
  const struct pw_allocation *a = &p->s->plan->allocation;
  for (int b = 0; b < a->n_burns; b++)
    if (a->burns[b].pit == pit && p->s->lit_min[b] <= at_min && at_min < a->burns[b].out_at_min + KEPT_MIN)
      return true;
  return false;
}

/* The same of the pit that the line names. */
static bool pit_burns(const struct play *p)
{
  const struct pw_log_line *l = p->line;
  return burns_at(p, l->zone != PW_NONE ? p->names->lots->zones[l->zone].pit : l->pit, l->at_min);
}

/* A place that a line names, where a piece would not lie by plan, must be able to cook it: sheets have no minutes for it else. */
static bool can_cook(struct play *p, int stage)
{
  const struct pw_log_line *l = p->line;
  const struct pw_lots *lots = p->names->lots;
  const struct pw_event *ev = p->names->ev;
  bool can = l->zone == PW_NONE && l->pit == PW_NONE && l->finisher == PW_NONE, has_fire = false, burns = pit_burns(p);
  int pit = l->zone != PW_NONE ? lots->zones[l->zone].pit : l->pit;
  for (int i = p->s->first[l->lot]; i < p->s->first[l->lot + 1] && !can; i++) {
    const struct pw_piece_stage *st = &p->s->pieces[i].stage[stage];
    can = st->load != PW_NONE && is_at_place(p, st); /* as planned */
  }
  if (!can && l->finisher != PW_NONE)
    can = pw_spot_oven_min(&lots->lots[l->lot], stage, l->finisher) != PW_NONE;
  for (int z = 0; z < lots->n_zones && !can; z++)
    can = burns && (l->zone != PW_NONE ? z == l->zone : lots->zones[z].pit == l->pit && l->pit != PW_NONE) &&
          pw_spot_cooks(p->s, l->lot, stage, z, l->at_min);
  for (int b = 0; b < p->s->plan->allocation.n_burns; b++)
    has_fire = has_fire || p->s->plan->allocation.burns[b].pit == pit;
  const char *place = l->finisher != PW_NONE ? ev->finishers[l->finisher].id
                      : l->zone != PW_NONE   ? lots->zones[l->zone].id
                      : l->pit != PW_NONE    ? ev->pits[l->pit].id
                                             : "";
  if (!can && pit != PW_NONE && !has_fire)
    ask(p, "%s has no fire in this plan: is another pit meant?", ev->pits[pit].id);
  else if (!can && pit != PW_NONE && !burns)
    ask(p, "%s does not burn at %s by plan and log: say first when it was lit, or is another pit meant?",
        ev->pits[pit].id, clock_of(p, l->at_min));
  else if (!can)
    ask(p,
        "%s cannot be cooked in %s: it is not hot enough there, or too hot. Another place? If it lies there all the "
        "same, "
        "say the line without the place and read its core often",
        lot_name(p, l->lot), place);
  return can;
}

/* By plan it is wrapped, but nobody said so: it still smokes when its last core says that, or when the line has it go to where it would lie
 * wrapped. */
static bool smokes_on(const struct play *p, const struct pw_piece *piece)
{
  const struct pw_piece_stage *smoke = &piece->stage[PW_LOAD_SMOKE], *finish = &piece->stage[PW_LOAD_FINISH];
  const struct pw_cut *cut = &p->names->ev->cuts[p->names->lots->lots[piece->lot].cut];
  const struct pw_core_reading *last = piece->n_readings > 0 ? &piece->readings[piece->n_readings - 1] : NULL;
  if (smoke->load == PW_NONE || smoke->is_end_logged || finish->is_start_logged)
    return false;
  return (last && last->core_c < cut->smoke.to_c - NEAR_K) || (is_at_place(p, finish) && !is_at_place(p, smoke));
}

/* The stage in which a piece lies in the heat at the line's minute, as far as is known; -1: in none. */
static int cooks_in(const struct play *p, const struct pw_piece *piece)
{
  int last = last_cook(piece), g = last;
  if (last == PW_LOAD_FINISH && (piece->stage[PW_LOAD_FINISH].start_min >= p->line->at_min || smokes_on(p, piece)))
    g = PW_LOAD_SMOKE;
  const struct pw_piece_stage *s = &piece->stage[g];
  bool is_it = !piece->is_missing && s->load != PW_NONE && s->start_min < p->line->at_min && !s->is_end_logged &&
               s->end_min + OVER_MIN > p->line->at_min;
  return is_it ? g : -1;
}

static int fits_carried(const struct play *p, const struct pw_piece *piece)
{
  int g = cooks_in(p, piece);
  return g < 0 || is_at_place(p, &piece->stage[g]) || piece->stage[g].is_carried
             ? -1
             : abs(piece->stage[g].end_min - p->line->at_min);
}

static void play_carried(struct play *p)
{
  bool is_there = p->line->n_ids > 0;
  for (int i = 0; i < p->line->n_ids && is_there; i++) {
    const struct pw_piece *piece = &p->s->pieces[p->s->first[p->line->lot] + p->line->piece_ids[i]];
    int g = cooks_in(p, piece);
    is_there = g >= 0 && is_at_place(p, &piece->stage[g]) && !piece->stage[g].is_carried;
  }
  if (is_there)
    return; /* they lie there already, as was said */
  int n = meant(p, fits_carried, -1, true, "carried there");
  for (int i = 0; i < n; i++)
    if (!can_cook(p, cooks_in(p, &p->s->pieces[p->order[i]])))
      return;
  for (int i = 0; i < n; i++) {
    struct pw_piece *piece = &p->s->pieces[p->order[i]];
    int g = cooks_in(p, piece);
    struct pw_piece_stage *s = &piece->stage[g];
    if (s->end_min <= p->line->at_min) { /* it goes on */
      int by = p->line->at_min + 1 - s->end_min;
      s->end_min += by;
      shift_after(piece, g, by);
    }
    s->is_carried = true;
    s->is_start_logged = true; /* it was on */
    s->carried_min = p->line->at_min;
    s->from_zone = s->zone;
    s->from_finisher = s->finisher;
    move_to(p, s, g);
    struct pw_piece_stage *finish = &piece->stage[PW_LOAD_FINISH];
    if (g == PW_LOAD_SMOKE && s->finisher != PW_NONE && finish->load != PW_NONE && !finish->is_start_logged &&
        pw_spot_oven_min(&p->names->lots->lots[piece->lot], PW_LOAD_FINISH, s->finisher) != PW_NONE) {
      finish->zone = PW_NONE; /* wrapped there, it stays */
      finish->finisher = s->finisher;
    }
  }
}

static void play_on(struct play *p)
{
  int n = meant(p, fits_on, PW_LOAD_SMOKE, false, "go on");
  if (n > 0 && !can_cook(p, PW_LOAD_SMOKE))
    return;
  for (int i = 0; i < n; i++) {
    const struct pw_piece_stage *st = &p->s->pieces[p->order[i]].stage[PW_LOAD_SMOKE];
    int pit = st->zone == PW_NONE ? PW_NONE : p->names->lots->zones[st->zone].pit;
    if (pit != PW_NONE && is_at_place(p, st) && !burns_at(p, pit, p->line->at_min)) {
      ask(p, "%s does not burn at %s by plan and log: say first when it was lit, or is the time or the day wrong?",
          p->names->ev->pits[pit].id, clock_of(p, p->line->at_min));
      return;
    }
  }
  for (int i = 0; i < n; i++) {
    struct pw_piece *piece = &p->s->pieces[p->order[i]];
    start_stage(piece, PW_LOAD_SMOKE, p->line->at_min);
    move_to(p, &piece->stage[PW_LOAD_SMOKE], PW_LOAD_SMOKE);
  }
}

static int fits_waits(const struct play *p, const struct pw_piece *piece)
{
  const struct pw_piece_stage *s = &piece->stage[PW_LOAD_SMOKE];
  bool is_it = !piece->is_missing && s->load != PW_NONE && !s->is_start_logged && !s->is_end_logged &&
               !piece->stage[PW_LOAD_FINISH].is_end_logged && piece->n_readings == 0 &&
               s->start_min <= p->line->at_min && (piece->is_waiting || s->start_min + FAR_MIN > p->line->at_min);
  return is_it ? p->line->at_min - s->start_min : -1;
}

static void play_waits(struct play *p)
{
  int n = meant(p, fits_waits, PW_LOAD_SMOKE, false, "still wait");
  for (int i = 0; i < n; i++)
    p->s->pieces[p->order[i]].is_waiting = true;
}

static void play_wrapped(struct play *p)
{
  if (!p->s->plan->lots.lots[p->line->lot].has_finish) {
    ask(p, "%s is never wrapped by plan: was it taken off (\"off %s\"), or is another lot meant?",
        lot_name(p, p->line->lot), lot_name(p, p->line->lot));
    return;
  }
  int n = meant(p, fits_wrapped, PW_LOAD_SMOKE, true, "be wrapped");
  if (n > 0 && !can_cook(p, PW_LOAD_FINISH))
    return;
  for (int i = 0; i < n; i++) {
    struct pw_piece *piece = &p->s->pieces[p->order[i]];
    end_stage(piece, PW_LOAD_SMOKE, p->line->at_min);
    piece->stage[PW_LOAD_FINISH].is_start_logged = true;
    move_to(p, &piece->stage[PW_LOAD_FINISH], PW_LOAD_FINISH);
  }
}

static void play_off(struct play *p)
{
  int n = meant(p, fits_off, -1, true, "come off");
  for (int i = 0; i < n; i++) {
    struct pw_piece *piece = &p->s->pieces[p->order[i]];
    int last = last_cook(piece);
    if (last == PW_LOAD_FINISH && !piece->stage[PW_LOAD_SMOKE].is_end_logged &&
        piece->stage[PW_LOAD_SMOKE].end_min >= p->line->at_min) {
      int half =
          piece->stage[PW_LOAD_SMOKE].start_min + (p->line->at_min - piece->stage[PW_LOAD_SMOKE].start_min) * 2 / 3;
      end_stage(piece, PW_LOAD_SMOKE, half); /* wrapped before it came off, nobody said when */
    }
    end_stage(piece, last, p->line->at_min);
  }
}

static bool has_fire(const struct pw_state *s, int pit, int from_min, int to_min)
{
  for (int i = 0; i < s->n_outages; i++)
    if (s->outages[i].pit == pit && s->outages[i].from_min < to_min && s->outages[i].to_min > from_min - 60)
      return false;
  return true;
}

static void read_piece(struct play *p, struct pw_piece *piece, double core_c)
{
  const struct pw_piece_stage *s = &piece->stage[last_cook(piece)];
  const struct pw_core_reading *last = piece->n_readings > 0 ? &piece->readings[piece->n_readings - 1] : NULL;
  int pit = s->zone == PW_NONE ? PW_NONE : p->names->lots->zones[s->zone].pit;
  if (last && last->core_c - core_c > FALL_MOST_K && p->line->at_min <= s->end_min &&
      (pit == PW_NONE || has_fire(p->s, pit, last->at_min, p->line->at_min)))
    ask(p,
        "piece %s%d read %s at %s and %s at %s while its fire burned: a core does not fall so far. Another piece, the "
        "other unit, or was the fire out?",
        lot_name(p, piece->lot), piece->nth + 1, pw_format_temp(p->names->ev->units, last->core_c).s,
        clock_of(p, last->at_min), pw_format_temp(p->names->ev->units, core_c).s, clock_of(p, p->line->at_min));
  struct pw_core_reading *more = pw_arena_array(p->ctx->arena, (size_t)piece->n_readings + 1, sizeof *more);
  if (!more)
    return;
  assert(piece->n_readings == 0 || piece->readings);
  if (piece->n_readings > 0)
    memcpy(more, piece->readings, (size_t)piece->n_readings * sizeof *more);
  more[piece->n_readings] = (struct pw_core_reading){p->line->at_min, core_c, p->line->line};
  piece->readings = more;
  piece->n_readings++;
}

static void play_core(struct play *p)
{
  const struct pw_log_line *l = p->line;
  int n = l->n_ids;
  for (int i = 0; i < n; i++) {
    p->order[i] = p->s->first[l->lot] + l->piece_ids[i];
    if (fits_core(p, &p->s->pieces[p->order[i]]) < 0) {
      ask(p,
          "%s%d is read at %s: by plan and log it is not on then, or served. Is the piece, the time or an earlier line "
          "wrong?",
          lot_name(p, l->lot), l->piece_ids[i] + 1, clock_of(p, l->at_min));
      return;
    }
  }
  if (n == 0 && (n = candidates(p, fits_core)) < l->n_temps) {
    ask(p,
        "%d readings of %s at %s, but %d of it %s cooking by plan and log: is another lot meant, or did it go on "
        "earlier?",
        l->n_temps, lot_name(p, l->lot), clock_of(p, l->at_min), n, n == 1 ? "is" : "are");
    return;
  }
  for (int i = 0; i < n && i < l->n_temps; i++)
    read_piece(p, &p->s->pieces[p->order[i]], l->temps_c[i]);
  for (int i = l->n_temps; i < l->n_ids; i++) /* one reading for all that are named */
    read_piece(p, &p->s->pieces[p->order[i]], l->temps_c[0]);
}

/* The fire of a pit that was told to be out still. */
static struct pw_outage *open_outage(const struct pw_state *s, int pit)
{
  for (int i = 0; i < s->n_outages; i++)
    if (s->outages[i].pit == pit && s->outages[i].is_open)
      return &s->outages[i];
  return NULL;
}

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

static void play_fire_out(struct play *p)
{
  struct pw_state *s = p->s;
  const struct pw_log_line *l = p->line;
  const struct pw_burn *burn = NULL;
  for (int b = 0; b < s->plan->allocation.n_burns; b++)
    if (s->plan->allocation.burns[b].pit == l->pit && s->lit_min[b] <= l->at_min &&
        s->plan->allocation.burns[b].out_at_min + AHEAD_MOST_MIN >= l->at_min - l->minutes)
      burn = &s->plan->allocation.burns[b];
  if (!burn) {
    ask(p, "%s is not lit at %s by plan and log: which fire was out?", p->names->ev->pits[l->pit].id,
        clock_of(p, l->at_min));
    return;
  }
  int from = l->at_min - l->minutes, to = l->is_still ? PW_DAY_OPEN : l->at_min;
  struct pw_outage *same = open_outage(s, l->pit);
  for (int i = 0; i < s->n_outages && !same; i++)
    if (s->outages[i].pit == l->pit && from <= s->outages[i].to_min && s->outages[i].from_min <= l->at_min)
      same = &s->outages[i];
  if (same) { /* told further */
    same->from_min = from < same->from_min ? from : same->from_min;
    same->to_min = same->is_open || to > same->to_min ? to : same->to_min;
    same->is_open = l->is_still;
  } else
    s->outages[s->n_outages++] = (struct pw_outage){l->pit, from, to, l->is_still};
}

/* By the log a fire burned before that minute: something was laid on it, taken off it or read there, or it was told to have been out for a
 * while. */
static bool has_burned(const struct pw_state *s, const struct pw_burn *burn, int at_min)
{
  for (int i = 0; i < s->n_outages; i++)
    if (s->outages[i].pit == burn->pit && s->outages[i].from_min >= burn->lit_at_min)
      return true;
  for (int i = 0; i < s->n_pieces; i++) {
    const struct pw_piece *piece = &s->pieces[i];
    for (int g = PW_LOAD_SMOKE; g <= PW_LOAD_FINISH; g++) {
      const struct pw_piece_stage *st = &piece->stage[g];
      int zone = st->is_carried ? st->from_zone : st->zone;
      if (st->load != PW_NONE && zone != PW_NONE && s->plan->lots.zones[zone].pit == burn->pit &&
          (st->is_start_logged || st->is_end_logged || piece->n_readings > 0) && st->start_min < at_min &&
          st->start_min >= burn->lit_at_min && st->start_min < burn->out_at_min)
        return true;
    }
  }
  return false;
}

/* Lit later than planned: what nobody said to be on is on no earlier than it burned clean. */
static void wait_for_clean(struct pw_state *s, const struct pw_burn *burn, int clean_min)
{
  for (int i = 0; i < s->n_pieces; i++) {
    struct pw_piece *piece = &s->pieces[i];
    struct pw_piece_stage *st = &piece->stage[PW_LOAD_SMOKE];
    if (st->load != PW_NONE && st->zone != PW_NONE && s->plan->lots.zones[st->zone].pit == burn->pit &&
        !st->is_start_logged && st->start_min >= burn->lit_at_min && st->start_min < burn->out_at_min &&
        st->start_min < clean_min) {
      int by = clean_min - st->start_min;
      st->start_min += by;
      st->end_min += by;
      shift_after(piece, PW_LOAD_SMOKE, by);
    }
  }
}

static void play_lit(struct play *p)
{
  struct pw_state *s = p->s;
  struct pw_outage *open = open_outage(s, p->line->pit);
  int best = PW_NONE;
  if (open) {
    open->to_min = p->line->at_min;
    open->is_open = false;
    return;
  }
  for (int b = 0; b < s->plan->allocation.n_burns; b++)
    if (s->plan->allocation.burns[b].pit == p->line->pit &&
        (best == PW_NONE || abs(s->plan->allocation.burns[b].lit_at_min - p->line->at_min) <
                                abs(s->plan->allocation.burns[best].lit_at_min - p->line->at_min)))
      best = b;
  if (best == PW_NONE)
    ask(p, "%s has no fire in this plan: what is it lit for?", p->names->ev->pits[p->line->pit].id);
  else if (has_burned(s, &s->plan->allocation.burns[best], p->line->at_min))
    ask(p,
        "%s burned before %s by the log: was it out until then? Say for how long, as in \"fire-out %s 90 min\"; one "
        "that "
        "still is out is told by \"fire-out %s 40 min still\", and then by lit",
        p->names->ev->pits[p->line->pit].id, clock_of(p, p->line->at_min), p->names->ev->pits[p->line->pit].id,
        p->names->ev->pits[p->line->pit].id);
  else if (s->is_lit_told[best])
    ask(p, "%s was lit at %s by an earlier line: was it out in between? Say so with fire-out, or take that line back",
        p->names->ev->pits[p->line->pit].id, clock_of(p, s->lit_min[best]));
  else if (p->line->at_min < s->plan->allocation.burns[best].out_at_min) {
    const struct pw_burn *burn = &s->plan->allocation.burns[best];
    s->lit_min[best] = p->line->at_min;
    s->is_lit_told[best] = true;
    wait_for_clean(s, burn, p->line->at_min + burn->ready_at_min - burn->lit_at_min);
  }
}

static void play_lost(struct play *p)
{
  int n = p->line->count == PW_NONE ? 0 : p->line->count, there = candidates(p, fits_lost);
  if (p->line->n_ids > 0)
    there = meant(p, fits_lost, 0, false, "be lost");
  if (n == 0 && !isnan(p->line->amount_kg)) {
    double each = p->s->plan->lots.lots[p->line->lot].piece_kg;
    n = (int)ceil(p->line->amount_kg / each - 1e-9);
  }
  if (n > there)
    ask(p, "%d of %s lost, but there are only %d", n, lot_name(p, p->line->lot), there);
  for (int i = 0; i < n && i < there; i++)
    p->s->pieces[p->order[i]].is_missing = true;
}

static void play_got(struct play *p)
{
  const struct pw_log_line *l = p->line;
  if (l->lot == PW_NONE)
    return; /* goods that are no lot: kept in the log */
  int n = l->count == PW_NONE ? (int)floor(l->amount_kg / p->s->plan->lots.lots[l->lot].piece_kg + 1e-9) : l->count;
  p->s->got[l->lot] = n;
  for (int i = p->s->first[l->lot + 1] - 1, left = p->s->first[l->lot + 1] - p->s->first[l->lot] - n;
       left > 0 && i >= p->s->first[l->lot]; i--)
    if (!p->s->pieces[i].is_missing && !p->s->pieces[i].stage[PW_LOAD_SMOKE].is_start_logged) {
      p->s->pieces[i].is_missing = true;
      left--;
    }
}

static bool is_away(const struct pw_state *s, int hand)
{
  for (int k = 0; k < s->n_absences; k++)
    if (s->plan->tasks.people[s->absences[k].person].hand == hand)
      return true;
  return false;
}

/* Somebody is away: from every shift of theirs that is not over before, and does not begin after. */
static void play_absent(struct play *p)
{
  const struct pw_log_line *l = p->line;
  const struct pw_event *ev = p->names->ev;
  const struct pw_tasks *tasks = &p->s->plan->tasks;
  int to = l->until_min == PW_NONE ? INT_MAX : l->until_min, hand = l->person, n = 0;
  for (int i = 0; i < tasks->n_people && hand == PW_NONE;
       i++) { /* of a role: the next on shift who is not away already */
    const struct pw_crew *crew = &ev->crew[tasks->people[i].crew];
    if (!is_away(p->s, tasks->people[i].hand) && strcmp(crew->role, ev->crew[l->role].role) == 0 &&
        crew->to_at_min > l->at_min)
      hand = tasks->people[i].hand;
  }
  for (int i = 0; i < tasks->n_people && hand != PW_NONE; i++) {
    const struct pw_crew *crew = &ev->crew[tasks->people[i].crew];
    if (tasks->people[i].hand != hand || crew->to_at_min <= l->at_min || crew->from_at_min >= to)
      continue;
    p->s->absences[p->s->n_absences++] = (struct pw_absence){i, l->at_min, to};
    n++;
  }
  if (hand == PW_NONE)
    ask(p, "nobody of the role %s has a shift from %s on that is not away already", ev->crew[l->role].role,
        clock_of(p, l->at_min));
  else if (n == 0)
    ask(p, "%s has no shift from %s on%s", tasks->people[hand].name, clock_of(p, l->at_min),
        l->until_min == PW_NONE ? "" : " that begins before they are back");
}

static void play(struct play *p)
{
  switch (p->line->verb) {
  case PW_LOG_ON:
    play_on(p);
    break;
  case PW_LOG_WAITS:
    play_waits(p);
    break;
  case PW_LOG_WRAPPED:
    play_wrapped(p);
    break;
  case PW_LOG_CARRIED:
    play_carried(p);
    break;
  case PW_LOG_OFF:
    play_off(p);
    break;
  case PW_LOG_CORE:
    play_core(p);
    break;
  case PW_LOG_FIRE_OUT:
    play_fire_out(p);
    break;
  case PW_LOG_LIT:
    play_lit(p);
    break;
  case PW_LOG_GOT:
    play_got(p);
    break;
  case PW_LOG_LOST:
    play_lost(p);
    break;
  case PW_LOG_ABSENT:
    play_absent(p);
    break;
  case PW_LOG_GUESTS:
    p->s->guests[p->line->service] = p->line->count;
    break;
  case PW_LOG_WOOD:
    p->s->wood_kg = p->line->amount_kg;
    p->s->wood_at_min = p->line->at_min;
    break;
  case PW_LOG_WEATHER:
    p->s->weather_c = p->line->temp_c;
    p->s->weather_at_min = p->line->at_min;
    p->s->wind_m_s = p->line->wind_m_s;
    break;
  default:
    break;
  }
}

/* ---- now ---------------------------------------------------------------------------------------------------------------- */

/* Read at the end of a stage; and not well below it again since, where what follows is hotter yet. */
static bool was_read_at(const struct pw_piece *piece, int stage, double to_c)
{
  bool goes_on = stage == PW_LOAD_SMOKE && piece->stage[PW_LOAD_FINISH].load != PW_NONE, was = false;
  for (int k = 0; k < piece->n_readings; k++) {
    double core_c = piece->readings[k].core_c;
    was = (was && !(goes_on && core_c < to_c - FELL_K)) || core_c >= to_c - NEAR_K;
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
    shift_after(piece, g, by);
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
    shift_after(piece, g, by);
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
    shift_after(piece, PW_LOAD_SMOKE, by);
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
    return last >= last_cook(piece) && is_on_table(s, &s->plan->lots.lots[piece->lot]) ? PW_PIECE_SERVED
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
  struct play p = {.s = &s, .names = names, .ctx = ctx};
  const struct pw_log_line **lines = pw_arena_array(ctx->arena, log->n + 1, sizeof *lines);
  *out = (struct pw_state){0};
  pw_status st = pieces_make(&s, ctx->arena);
  s.outages = pw_arena_array(ctx->arena, log->n + 1, sizeof *s.outages);
  s.absences = pw_arena_array(ctx->arena, (log->n + 1) * ((size_t)plan->tasks.n_people + 1), sizeof *s.absences);
  s.lit_min = pw_arena_array(ctx->arena, (size_t)plan->allocation.n_burns + 1, sizeof *s.lit_min);
  s.is_lit_told = pw_arena_array(ctx->arena, (size_t)plan->allocation.n_burns + 1, sizeof *s.is_lit_told);
  s.guests = pw_arena_array(ctx->arena, (size_t)ev->n_services + 1, sizeof *s.guests);
  s.got = pw_arena_array(ctx->arena, (size_t)plan->lots.n_lots + 1, sizeof *s.got);
  p.order = pw_arena_array(ctx->arena, (size_t)s.n_pieces + PW_LOG_TEMPS_MAX + 1, sizeof *p.order);
  if (st != PW_OK || !lines || !s.outages || !s.absences || !s.lit_min || !s.is_lit_told || !s.guests || !s.got ||
      !p.order)
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
    p.line = lines[i];
    if (p.line->is_cancelled)
      continue;
    if (p.line->at_min > now_min)
      ask(&p, "this line says %s, and now is %s: is the time or the day wrong?", clock_of(&p, p.line->at_min),
          clock_of(&p, now_min));
    else
      play(&p);
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
  return p.is_bad ? PW_ERR_INPUT : PW_OK;
}
