/* verdict.c - food safety on the day as it was [H1].
 * Input: state and belief.  Output: verdicts by rule.  Two rules: raw meat passes from 10 to 54.4 C within six hours (FSIS-GD-2021-14), counted
 * through every stretch without fire; cooked food that was read below 57.2 C is out of control since it was last read hot (Food Code 3-501.16,
 * 3-501.19): four hours, all such stretches together, or 74 C again (3-403.11). */
#include "day/verdict.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/when.h"
#include "heat/curve.h"
#include "heat/food_code.h"

#include <limits.h>
#include <math.h>
#include <string.h>

struct judgement {
  enum pw_verdict_kind kind;
  int until_min;
  const char *rule; /**< "FSIS 6 h": FSIS-GD-2021-14 */
  bool is_any;
};

static bool was_out(const struct pw_state *s, const struct pw_piece *p)
{
  const struct pw_piece_stage *st = &p->stage[PW_LOAD_SMOKE];
  for (int i = 0; i < s->n_outages; i++) {
    const struct pw_outage *o = &s->outages[i];
    bool was_before = st->is_carried && o->from_min < st->carried_min;
    int zone = was_before ? st->from_zone : st->zone;
    if (zone != PW_NONE && s->plan->lots.zones[zone].pit == o->pit && st->start_min < o->to_min &&
        o->from_min < s->now_min && st->start_min <= s->now_min)
      return true;
  }
  return false;
}

/** Minutes after it went on at which the core of pace 1 is so warm. */
struct climb {
  double at_10_min, at_54_min, at_57_min; /* HUGE_VAL: never */
};

static struct climb climb_of(const struct pw_state *s, const struct pw_piece *p, struct pw_ctx *ctx)
{
  const struct pw_piece_stage *st = &p->stage[PW_LOAD_SMOKE];
  struct climb c = {0, HUGE_VAL, HUGE_VAL};
  double air_c = pw_belief_air_c(s, st);
  if (!isfinite(air_c))
    return c;
  struct pw_curve_place place = {.smoke_c = air_c,
                                 .finish_c = air_c,
                                 .air = st->zone == PW_NONE
                                            ? pw_stage_air_mild()
                                            : pw_stage_air_of(s->plan->event, s->plan->lots.zones[st->zone].pit)};
  struct pw_curve curve;
  if (pw_curve_make(&curve, &s->plan->event->cuts[s->plan->lots.lots[p->lot].cut], &place, 5, ctx) != PW_OK)
    return c;
  for (int i = 0; i < curve.n_points; i++) {
    const struct pw_curve_point *at = &curve.points[i];
    if (at->core_c <= PW_COME_UP_FROM_C)
      c.at_10_min = at->at_min;
    if (at->core_c >= PW_COME_UP_TO_C && c.at_54_min == HUGE_VAL)
      c.at_54_min = at->at_min;
    if (at->core_c >= PW_FOOD_CODE_HOT_C && c.at_57_min == HUGE_VAL)
      c.at_57_min = at->at_min;
  }
  return c;
}

/* The minute at which its core is so warm, by readings before belief. */
static double warm_at(const struct pw_state *s, const struct pw_belief *b, int piece, double core_c, double usual_min)
{
  const struct pw_piece *p = &s->pieces[piece];
  const struct pw_piece_belief *of = &b->pieces[piece];
  double at = p->stage[PW_LOAD_SMOKE].start_min + usual_min * exp(of->pace[0].mean) + of->lost_min[0];
  for (int k = 0; k < p->n_readings; k++) {
    const struct pw_core_reading *r = &p->readings[k];
    if (r->core_c >= core_c)
      return fmin(at, r->at_min); /* it was there then, at the latest */
    at = fmax(at, r->at_min + 1);
  }
  return at;
}

/* Raw meat on its way through 10 to 54.4 C that lost its fire or is slow. */
static struct judgement raw_judgement(const struct pw_state *s, const struct pw_belief *b, int piece,
                                      struct pw_ctx *ctx)
{
  const struct pw_piece *p = &s->pieces[piece];
  const struct pw_cut *cut = &s->plan->event->cuts[s->plan->lots.lots[p->lot].cut];
  struct judgement none = {0};
  bool is_out = was_out(s, p), is_seen = b->lots[p->lot].n_seen > 0 && p->stage[PW_LOAD_SMOKE].start_min <= s->now_min;
  if (p->is_missing || p->where == PW_PIECE_RAW || !pw_food_code_has_come_up(cut->kind, cut->safety) ||
      (!is_out && !is_seen))
    return none;
  struct climb c = climb_of(s, p, ctx);
  double pace = exp(b->pieces[piece].pace[0].mean), there = warm_at(s, b, piece, PW_COME_UP_TO_C, c.at_54_min);
  int limit = p->stage[PW_LOAD_SMOKE].start_min + (int)(c.at_10_min * fmin(pace, 1)) + PW_COME_UP_MOST_MIN;
  if (there <= limit && (there <= s->now_min || !is_out))
    return none;
  bool is_read_late = false; /* a reading that says so, not belief */
  for (int k = 0; k < p->n_readings; k++)
    is_read_late = is_read_late || (p->readings[k].at_min >= limit && p->readings[k].core_c < PW_COME_UP_TO_C);
  if (there > limit && limit <= s->now_min)
    return (struct judgement){is_out || is_read_late ? PW_VERDICT_THROW_AWAY : PW_VERDICT_SOUND_UNTIL, limit,
                              "FSIS 6 h", true};
  return (struct judgement){PW_VERDICT_SOUND_UNTIL, limit, "FSIS 6 h", true};
}

/** Cooked food out of control: before, and since when it is. */
struct stretch {
  int closed_min, since_min; /* INT_MIN: it is not */
};

/* Out from its last hot reading before a low one until it is read at 74 C: 3-403.11, 3-501.16. */
static struct stretch cooked_stretch(const struct pw_state *s, const struct pw_piece *p)
{
  int last = p->stage[PW_LOAD_FINISH].load != PW_NONE ? PW_LOAD_FINISH : PW_LOAD_SMOKE;
  struct stretch out = {0, INT_MIN};
  bool was_hot = false;
  for (int k = 0; k < p->n_readings && p->readings[k].at_min <= s->now_min; k++) {
    const struct pw_core_reading *r = &p->readings[k];
    bool is_cooked = was_hot || r->at_min >= p->stage[last].end_min;
    was_hot = was_hot || r->core_c >= PW_FOOD_CODE_HOT_C;
    if (out.since_min != INT_MIN && r->core_c >= PW_FOOD_CODE_REHEAT_C) {
      out.closed_min += r->at_min - out.since_min;
      out.since_min = INT_MIN;
    } else if (out.since_min == INT_MIN && is_cooked && r->core_c < PW_FOOD_CODE_HOT_C)
      out.since_min = k > 0 ? p->readings[k - 1].at_min : r->at_min; /* it fell some time since */
  }
  return out;
}

static struct judgement cooked_judgement(const struct pw_state *s, int piece)
{
  const struct pw_piece *p = &s->pieces[piece];
  struct judgement none = {0};
  struct stretch out = cooked_stretch(s, p);
  int left = pw_food_code_out_hot_min() - out.closed_min;
  if (p->is_missing || (out.since_min == INT_MIN && left > 0))
    return none;
  int limit = out.since_min == INT_MIN ? s->now_min : out.since_min + left;
  return (struct judgement){limit <= s->now_min ? PW_VERDICT_THROW_AWAY : PW_VERDICT_REHEAT, limit,
                            "Food Code 3-501.19", true};
}

int pw_verdict_danger_min(const struct pw_state *s, const struct pw_belief *b, int piece, struct pw_ctx *ctx)
{
  const struct pw_piece *p = &s->pieces[piece];
  int start = p->stage[PW_LOAD_SMOKE].start_min;
  if (p->is_missing || p->stage[PW_LOAD_SMOKE].load == PW_NONE || start > s->now_min)
    return 0;
  struct climb c = climb_of(s, p, ctx);
  double hot = fmin(warm_at(s, b, piece, PW_FOOD_CODE_HOT_C, c.at_57_min), s->now_min);
  struct stretch out = cooked_stretch(s, p);
  return (int)ceil(hot - start) + out.closed_min + (out.since_min == INT_MIN ? 0 : s->now_min - out.since_min);
}

static const char *words_of(const struct pw_state *s, const struct pw_verdict *v, struct pw_arena *arena)
{
  const struct pw_event *ev = s->plan->event;
  const char *letter = pw_lot_letter(v->lot, arena);
  struct pw_short at = pw_when(ev, v->until_min), warm = pw_format_temp(ev->units, PW_COME_UP_TO_C),
                  reheat = pw_format_temp(ev->units, PW_FOOD_CODE_REHEAT_C);
  const char *of = v->pieces == 1 ? "piece" : "pieces";
  switch (v->kind) {
  case PW_VERDICT_THROW_AWAY:
    return pw_arena_printf(arena, "THROW AWAY %s, %d %s: out of time since %s (%s).", letter, v->pieces, of, at.s,
                           v->rule);
  case PW_VERDICT_REHEAT:
    return pw_arena_printf(arena, "%s, %d %s: heat to %s now or eat by %s, else THROW AWAY (%s).", letter, v->pieces,
                           of, reheat.s, at.s, v->rule);
  default:
    if (v->until_min <= s->now_min)
      return pw_arena_printf(arena, "%s, %d %s: probe now; below %s THROW AWAY, the limit was %s (%s).", letter,
                             v->pieces, of, warm.s, at.s, v->rule);
    return pw_arena_printf(arena, "%s, %d %s: core at %s by %s, else THROW AWAY (%s).", letter, v->pieces, of, warm.s,
                           at.s, v->rule);
  }
}

static struct judgement judgement_of(const struct pw_state *s, const struct pw_belief *b, int piece, struct pw_ctx *ctx)
{
  struct judgement j = cooked_judgement(s, piece);
  return j.is_any ? j : raw_judgement(s, b, piece, ctx);
}

int pw_verdict_condemn(struct pw_piece *pieces, const struct pw_state *s, const struct pw_belief *b, struct pw_ctx *ctx)
{
  int n = 0;
  for (int i = 0; i < s->n_pieces; i++) {
    struct judgement j = judgement_of(s, b, i, ctx);
    if (!j.is_any || j.kind != PW_VERDICT_THROW_AWAY || pieces[i].where == PW_PIECE_SERVED)
      continue;
    pieces[i].is_missing = true;
    pieces[i].where = PW_PIECE_LOST;
    n++;
  }
  return n;
}

pw_status pw_verdicts_make(struct pw_verdict **out, int *n, const struct pw_state *s, const struct pw_belief *b,
                           struct pw_ctx *ctx)
{
  struct pw_verdict *all = pw_arena_array(ctx->arena, (size_t)s->plan->lots.n_lots * 6 + 1, sizeof *all);
  int n_all = 0;
  *out = all;
  *n = 0;
  if (!all)
    return PW_ERR_MEMORY;
  for (int l = 0; l < s->plan->lots.n_lots; l++) {
    int first = n_all;
    for (int i = s->first[l]; i < s->first[l + 1]; i++) {
      struct judgement j = judgement_of(s, b, i, ctx);
      if (!j.is_any)
        continue;
      int k = first;
      while (k < n_all && (all[k].kind != j.kind || all[k].rule != j.rule))
        k++;
      if (k == n_all && n_all - first < 6)
        all[n_all++] = (struct pw_verdict){j.kind, l, 0, j.until_min, j.rule, NULL};
      if (k < n_all) {
        all[k].pieces++;
        all[k].until_min = j.until_min < all[k].until_min ? j.until_min : all[k].until_min;
      }
    }
  }
  for (int i = 1; i < n_all; i++) { /* worst first */
    struct pw_verdict v = all[i];
    int k = i;
    for (; k > 0 && (all[k - 1].kind < v.kind || (all[k - 1].kind == v.kind && all[k - 1].until_min > v.until_min));
         k--)
      all[k] = all[k - 1];
    all[k] = v;
  }
  for (int i = 0; i < n_all; i++)
    if (!(all[i].text = words_of(s, &all[i], ctx->arena)))
      return PW_ERR_MEMORY;
  *n = n_all;
  return PW_OK;
}

/* The worst of a lot: most minutes, and how many pieces have begun. */
static void write_lot(struct pw_buf *out, const struct pw_state *s, const struct pw_belief *b, int lot, bool is_doubted,
                      struct pw_ctx *ctx)
{
  int most = 0, n = 0, worst = PW_NONE;
  for (int i = s->first[lot]; i < s->first[lot + 1]; i++) {
    if (s->pieces[i].is_missing || s->pieces[i].where == PW_PIECE_RAW || s->pieces[i].where == PW_PIECE_SERVED)
      continue;
    int min = pw_verdict_danger_min(s, b, i, ctx);
    n++;
    if (min > most || worst == PW_NONE) {
      most = min;
      worst = i;
    }
  }
  const char *letter = pw_lot_letter(lot, ctx->arena);
  const struct pw_event *ev = s->plan->event;
  if (n > 0)
    pw_buf_printf(out, "  %s  between %s and %s for up to %s so far, longest %s%d%s\n", letter ? letter : "?",
                  pw_format_temp(ev->units, PW_FOOD_CODE_COLD_C).s, pw_format_temp(ev->units, PW_FOOD_CODE_HOT_C).s,
                  pw_format_minutes(most).s, letter ? letter : "?", s->pieces[worst].nth + 1,
                  is_doubted ? ":" : "; nothing puts it in doubt");
}

pw_status pw_verdicts_write(struct pw_buf *out, const struct pw_state *s, const struct pw_belief *b, struct pw_ctx *ctx)
{
  struct pw_verdict *all = NULL;
  int n = 0;
  pw_status st = pw_verdicts_make(&all, &n, s, b, ctx);
  for (int l = 0; l < s->plan->lots.n_lots && st == PW_OK; l++) {
    bool is_doubted = false;
    for (int i = 0; i < n; i++)
      is_doubted = is_doubted || all[i].lot == l;
    write_lot(out, s, b, l, is_doubted, ctx);
    for (int i = 0; i < n; i++)
      if (all[i].lot == l)
        pw_buf_printf(out, "     %s\n", all[i].text);
  }
  pw_buf_add(out, "  From readings where there are any, otherwise estimated.\n  The health authority decides; local "
                  "codes come first.\n");
  return st != PW_OK ? st : out->failed ? PW_ERR_MEMORY : PW_OK;
}
