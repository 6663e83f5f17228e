/* verdict.c - food safety on the day as it was [H1].
 * Input: state and belief.  Output: verdicts by rule.  Two rules: raw meat passes from 10 to 54.4 C within six hours (FSIS-GD-2021-14), counted
 * through every stretch without fire; cooked food that was read below 57.2 C is out of control since then (Food Code 3-501.16, 3-501.19):
 * four hours, or 74 C again (3-403.11). */
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
  const char *rule;
  bool is_any;
};

static bool was_out(const struct pw_state *s, const struct pw_piece *p)
{
  const struct pw_piece_stage *st = &p->stage[PW_LOAD_SMOKE];
  for (int i = 0; i < s->n_outages; i++)
    if (st->zone != PW_NONE && s->plan->lots.zones[st->zone].pit == s->outages[i].pit &&
        st->start_min < s->outages[i].to_min && s->outages[i].from_min < s->now_min && st->start_min <= s->now_min)
      return true;
  return false;
}

/* Minutes after it went on at which the core of pace 1 is at 54.4 C, and at 10 C. */
static double come_up(const struct pw_state *s, const struct pw_piece *p, double *from_min, struct pw_ctx *ctx)
{
  const struct pw_piece_stage *st = &p->stage[PW_LOAD_SMOKE];
  const struct pw_zone *zone = &s->plan->lots.zones[st->zone];
  struct pw_curve_place place = {
      .smoke_c = zone->temp_c[0], .finish_c = zone->temp_c[0], .air = pw_stage_air_of(s->plan->event, zone->pit)};
  struct pw_curve curve;
  double at = HUGE_VAL;
  *from_min = 0;
  if (pw_curve_make(&curve, &s->plan->event->cuts[s->plan->lots.lots[p->lot].cut], &place, 5, ctx) != PW_OK)
    return at;
  for (int i = 0; i < curve.n_points; i++) {
    if (curve.points[i].core_c <= PW_COME_UP_FROM_C)
      *from_min = curve.points[i].at_min;
    if (curve.points[i].core_c >= PW_COME_UP_TO_C)
      return curve.points[i].at_min;
  }
  return at;
}

/* Raw meat on its way through 10 to 54.4 C while a fire was out. */
static struct judgement raw_judgement(const struct pw_state *s, const struct pw_belief *b, int piece,
                                      struct pw_ctx *ctx)
{
  const struct pw_piece *p = &s->pieces[piece];
  const struct pw_cut *cut = &s->plan->event->cuts[s->plan->lots.lots[p->lot].cut];
  struct judgement none = {0};
  if (p->is_missing || !pw_food_code_has_come_up(cut->kind, cut->safety) || !was_out(s, p))
    return none;
  double from = 0, at = come_up(s, p, &from, ctx), pace = exp(b->pieces[piece].pace[0].mean);
  int start = p->stage[PW_LOAD_SMOKE].start_min, limit = start + (int)(from * pace) + PW_COME_UP_MOST_MIN;
  double there = start + at * pace + b->pieces[piece].lost_min[0];
  for (int k = 0; k < p->n_readings; k++) { /* what was read counts before what is believed */
    if (p->readings[k].core_c >= PW_COME_UP_TO_C && p->readings[k].at_min <= limit)
      return none;
    if (p->readings[k].core_c < PW_COME_UP_TO_C && p->readings[k].at_min >= limit)
      there = p->readings[k].at_min + 1;
  }
  struct judgement j = {PW_VERDICT_SOUND_UNTIL, limit, "FSIS-GD-2021-14, 6 h", true};
  if (there > limit && limit <= s->now_min)
    j.kind = PW_VERDICT_THROW_AWAY;
  if (there <= s->now_min)
    j.is_any = false;
  return j;
}

/* Cooked, and read below 57.2 C. */
static struct judgement cooked_judgement(const struct pw_state *s, int piece)
{
  const struct pw_piece *p = &s->pieces[piece];
  struct judgement none = {0};
  int since = INT_MIN, last = p->stage[PW_LOAD_FINISH].load != PW_NONE ? PW_LOAD_FINISH : PW_LOAD_SMOKE;
  bool was_hot = false;
  if (p->is_missing)
    return none;
  for (int k = 0; k < p->n_readings; k++) {
    const struct pw_core_reading *r = &p->readings[k];
    bool is_cooked = was_hot || r->at_min >= p->stage[last].end_min;
    if (r->core_c >= PW_FOOD_CODE_HOT_C) {
      was_hot = true;
      since = INT_MIN;
    } else if (is_cooked && since == INT_MIN)
      since = k > 0 ? p->readings[k - 1].at_min : r->at_min; /* it fell some time since it was last read hot */
  }
  if (since == INT_MIN)
    return none;
  int limit = since + pw_food_code_out_hot_min();
  return (struct judgement){limit <= s->now_min ? PW_VERDICT_THROW_AWAY : PW_VERDICT_REHEAT, limit,
                            "Food Code 3-501.19", true};
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
    return pw_arena_printf(arena, "THROW AWAY %s, %d %s: its time ended %s (%s).", letter, v->pieces, of, at.s,
                           v->rule);
  case PW_VERDICT_REHEAT:
    return pw_arena_printf(arena, "%s, %d %s: to %s now, or eaten by %s, else away (%s).", letter, v->pieces, of,
                           reheat.s, at.s, v->rule);
  default:
    return pw_arena_printf(arena, "%s, %d %s: core at %s by %s, else THROW AWAY (%s).", letter, v->pieces, of, warm.s,
                           at.s, v->rule);
  }
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
      struct judgement j = cooked_judgement(s, i);
      if (!j.is_any)
        j = raw_judgement(s, b, i, ctx);
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
