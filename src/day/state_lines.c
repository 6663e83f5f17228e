/* state_lines.c - what a line of the log says [N1].
 * Input: pieces as they were up to the line's minute.  Output: those it means, moved; fires, hands and guests as it says.  Which pieces it means: named
 * ones, else those whose stage by plan is nearest to its minute.  What cannot have been is asked back. */
#include "day/state_lines.h"

#include "base/arena.h"
#include "base/diag.h"
#include "base/format.h"
#include "base/when.h"
#include "day/spots.h"
#include "day/state_piece.h"

#include <assert.h>
#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define FALL_MOST_K 22.0 /* 40 F: a core does not fall so far while its fire burns; common practice, no source */
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
  int last = pw_piece_last_cook(piece);
  const struct pw_piece_stage *s = &piece->stage[last];
  bool is_it = !piece->is_missing && s->load != PW_NONE && !s->is_end_logged &&
               piece->stage[PW_LOAD_SMOKE].start_min < p->line->at_min;
  return is_it ? abs(s->end_min - p->line->at_min) : -1;
}

static int fits_core(const struct play *p, const struct pw_piece *piece)
{
  const struct pw_piece_stage *s = &piece->stage[pw_piece_last_cook(piece)];
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
            "piece %s%d cannot %s at %s: by plan and log it is not at that stage. Is the letter, the time or an "
            "earlier line wrong?",
            lot_name(p, l->lot), l->piece_ids[i] + 1, what, clock_of(p, l->at_min));
        return 0;
      }
    }
    return l->n_ids;
  }
  int n = candidates(p, fits);
  if (n == 0 || (l->count != PW_NONE && l->count > n)) {
    ask(p, "%d of %s cannot %s at %s, only %d can: is the number wrong, or an earlier line?",
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
    int g = stage < 0 ? pw_piece_last_cook(piece) : stage, b = stage < 0 ? pw_piece_last_cook(best) : stage;
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
    ask(p, "%s has no fire in this plan: did you mean another pit?", ev->pits[pit].id);
  else if (!can && pit != PW_NONE && !burns)
    ask(p, "%s is not burning at %s by plan and log: log first when it was lit, or did you mean another pit?",
        ev->pits[pit].id, clock_of(p, l->at_min));
  else if (!can)
    ask(p,
        "%s cannot be cooked in %s: it is not hot enough there, or too hot. Did you mean another place? If it really "
        "lies there, write the line without the place and read its core often",
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
  return (last && last->core_c < cut->smoke.to_c - PW_PIECE_NEAR_K) ||
         (is_at_place(p, finish) && !is_at_place(p, smoke));
}

/* The stage in which a piece lies in the heat at the line's minute, as far as is known; -1: in none. */
static int cooks_in(const struct play *p, const struct pw_piece *piece)
{
  int last = pw_piece_last_cook(piece), g = last;
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
  int n = meant(p, fits_carried, -1, true, "be carried there");
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
      pw_piece_shift_after(piece, g, by);
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
      ask(p, "%s is not burning at %s by plan and log: log first when it was lit, or is the time or the day wrong?",
          p->names->ev->pits[pit].id, clock_of(p, p->line->at_min));
      return;
    }
  }
  for (int i = 0; i < n; i++) {
    struct pw_piece *piece = &p->s->pieces[p->order[i]];
    pw_piece_start(piece, PW_LOAD_SMOKE, p->line->at_min);
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
    ask(p, "%s is never wrapped in this plan: was it taken off (\"off %s\"), or did you mean another lot?",
        lot_name(p, p->line->lot), lot_name(p, p->line->lot));
    return;
  }
  int n = meant(p, fits_wrapped, PW_LOAD_SMOKE, true, "be wrapped");
  if (n > 0 && !can_cook(p, PW_LOAD_FINISH))
    return;
  for (int i = 0; i < n; i++) {
    struct pw_piece *piece = &p->s->pieces[p->order[i]];
    pw_piece_end(piece, PW_LOAD_SMOKE, p->line->at_min);
    piece->stage[PW_LOAD_FINISH].is_start_logged = true;
    move_to(p, &piece->stage[PW_LOAD_FINISH], PW_LOAD_FINISH);
  }
}

static void play_off(struct play *p)
{
  int n = meant(p, fits_off, -1, true, "come off");
  for (int i = 0; i < n; i++) {
    struct pw_piece *piece = &p->s->pieces[p->order[i]];
    int last = pw_piece_last_cook(piece);
    if (last == PW_LOAD_FINISH && !piece->stage[PW_LOAD_SMOKE].is_end_logged &&
        piece->stage[PW_LOAD_SMOKE].end_min >= p->line->at_min) {
      int half =
          piece->stage[PW_LOAD_SMOKE].start_min + (p->line->at_min - piece->stage[PW_LOAD_SMOKE].start_min) * 2 / 3;
      pw_piece_end(piece, PW_LOAD_SMOKE, half); /* wrapped before it came off, nobody said when */
    }
    pw_piece_end(piece, last, p->line->at_min);
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
  const struct pw_piece_stage *s = &piece->stage[pw_piece_last_cook(piece)];
  const struct pw_core_reading *last = piece->n_readings > 0 ? &piece->readings[piece->n_readings - 1] : NULL;
  int pit = s->zone == PW_NONE ? PW_NONE : p->names->lots->zones[s->zone].pit;
  if (last && last->core_c - core_c > FALL_MOST_K && p->line->at_min <= s->end_min &&
      (pit == PW_NONE || has_fire(p->s, pit, last->at_min, p->line->at_min)))
    ask(p,
        "piece %s%d read %s at %s and %s at %s while its fire burned: a core does not fall that far. Is it another "
        "piece "
        "or the other unit, or was the fire out?",
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
          "%s%d was read at %s, but by plan and log it was not on yet, or already served. Is the piece, the time or an "
          "earlier line "
          "wrong?",
          lot_name(p, l->lot), l->piece_ids[i] + 1, clock_of(p, l->at_min));
      return;
    }
  }
  if (n == 0 && (n = candidates(p, fits_core)) < l->n_temps) {
    ask(p,
        "%d readings of %s at %s, but %d of it %s cooking by plan and log: did you mean another lot, or did it go on "
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
      pw_piece_shift_after(piece, PW_LOAD_SMOKE, by);
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
        "%s was burning before %s by the log: was it out until then? Log for how long, as in \"fire-out %s 90 min\"; "
        "if "
        "it is still out, log \"fire-out %s 40 min still\", and lit when it burns",
        p->names->ev->pits[p->line->pit].id, clock_of(p, p->line->at_min), p->names->ev->pits[p->line->pit].id,
        p->names->ev->pits[p->line->pit].id);
  else if (s->is_lit_told[best])
    ask(p, "%s was lit at %s by an earlier line: was it out in between? Log that with fire-out, or take that line back",
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
    ask(p, "no %s has a shift from %s on, or all of them are already away", ev->crew[l->role].role,
        clock_of(p, l->at_min));
  else if (n == 0)
    ask(p, "%s has no shift from %s on%s", tasks->people[hand].name, clock_of(p, l->at_min),
        l->until_min == PW_NONE ? "" : " that begins before they are back");
}

pw_status pw_state_play(struct pw_state *s, const struct pw_log_line *line, const struct pw_names *names, int *order,
                        struct pw_ctx *ctx)
{
  struct play play = {.s = s, .names = names, .line = line, .ctx = ctx, .order = order}, *p = &play;
  if (line->at_min > s->now_min) {
    ask(p, "this line says %s, but it is now %s: is the time or the day wrong?", clock_of(p, line->at_min),
        clock_of(p, s->now_min));
    return PW_ERR_INPUT;
  }
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
  return play.is_bad ? PW_ERR_INPUT : PW_OK;
}
