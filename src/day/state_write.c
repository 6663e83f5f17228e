/* state_write.c - the state as a person reads it [N1]. */
#include "base/arena.h"
#include "base/format.h"
#include "base/text.h"
#include "base/when.h"
#include "day/state.h"

#include <math.h>
#include <string.h>

const char *pw_piece_word(enum pw_piece_where where)
{
  static const char *const words[] = {"not on yet", "smoking", "wrapped, finishing", "resting", "held hot",
                                      "served",     "missing"};
  return words[where];
}

static const char *place_of(const struct pw_state *s, const struct pw_piece_stage *stage)
{
  if (stage->zone != PW_NONE)
    return s->plan->lots.zones[stage->zone].id;
  return stage->finisher != PW_NONE ? s->plan->event->finishers[stage->finisher].id : "";
}

static int stage_now(const struct pw_piece *piece)
{
  switch (piece->where) {
  case PW_PIECE_SMOKES:
    return PW_LOAD_SMOKE;
  case PW_PIECE_FINISHES:
    return PW_LOAD_FINISH;
  case PW_PIECE_RESTS:
    return PW_LOAD_REST;
  case PW_PIECE_HOLDS:
    return PW_LOAD_HOLD;
  default:
    return PW_NONE;
  }
}

static bool is_alike(const struct pw_state *s, const struct pw_piece *a, const struct pw_piece *b)
{
  int g = stage_now(a);
  if (a->where != b->where)
    return false;
  if (g == PW_NONE)
    return true;
  return strcmp(place_of(s, &a->stage[g]), place_of(s, &b->stage[g])) == 0 &&
         a->stage[g].start_min == b->stage[g].start_min;
}

static void write_lot(struct pw_buf *out, const struct pw_state *s, int lot, struct pw_arena *arena)
{
  const struct pw_event *ev = s->plan->event;
  const char *letter = pw_lot_letter(lot, arena);
  pw_buf_printf(out, "%s  ", letter ? letter : "?");
  pw_text_add_line(out, ev->cuts[s->plan->lots.lots[lot].cut].name);
  pw_buf_add(out, "\n");
  for (int i = s->first[lot]; i < s->first[lot + 1]; i++) {
    const struct pw_piece *piece = &s->pieces[i];
    int n = 0, g = stage_now(piece);
    bool is_first = true;
    for (int k = s->first[lot]; k < s->first[lot + 1]; k++) {
      n += is_alike(s, piece, &s->pieces[k]);
      is_first = is_first && (k >= i || !is_alike(s, piece, &s->pieces[k]));
    }
    if (!is_first)
      continue;
    pw_buf_printf(out, "   %3d %s", n, pw_piece_word(piece->where));
    if (g != PW_NONE && piece->stage[g].load != PW_NONE)
      pw_buf_printf(out, ", %s, since %s", place_of(s, &piece->stage[g]), pw_when(ev, piece->stage[g].start_min).s);
    pw_buf_add(out, "\n");
  }
  for (int i = s->first[lot]; i < s->first[lot + 1]; i++) {
    const struct pw_piece *piece = &s->pieces[i];
    if (piece->n_readings > 0) {
      const struct pw_core_reading *r = &piece->readings[piece->n_readings - 1];
      pw_buf_printf(out, "       %s%d read %s at %s\n", letter ? letter : "?", piece->nth + 1,
                    pw_format_temp(ev->units, r->core_c).s, pw_when(ev, r->at_min).s);
    }
  }
}

/* What nobody logged and the plan has before now. */
static int write_taken(struct pw_buf *out, const struct pw_state *s, struct pw_arena *arena)
{
  static const char *const words[] = {"on", "wrapped", "off"};
  const struct pw_event *ev = s->plan->event;
  int n_told = 0;
  for (int i = 0; i < s->plan->allocation.n_loads; i++) {
    const struct pw_load *load = &s->plan->allocation.loads[i];
    if (load->stage > PW_LOAD_REST)
      continue;
    int n = 0;
    for (int k = 0; k < load->pieces; k++) {
      const struct pw_piece *piece = &s->pieces[s->first[load->lot] + (load->piece_ids ? load->piece_ids[k] : k)];
      const struct pw_piece_stage *stage = &piece->stage[load->stage];
      int before = load->stage - 1;
      while (before >= 0 && piece->stage[before].load == PW_NONE)
        before--;
      bool is_logged = stage->is_start_logged || (before >= 0 && piece->stage[before].is_end_logged);
      n += !piece->is_missing && !is_logged && stage->start_min <= s->now_min;
    }
    if (n == 0)
      continue;
    const char *letter = pw_lot_letter(load->lot, arena);
    pw_buf_printf(out, "  %s %s %s %d\n", pw_when(ev, load->start_at_min).s, words[load->stage], letter ? letter : "?",
                  n);
    n_told++;
  }
  for (int b = 0; b < s->plan->allocation.n_burns; b++)
    if (s->lit_min[b] <= s->now_min && s->lit_min[b] == s->plan->allocation.burns[b].lit_at_min) {
      pw_buf_printf(out, "  %s lit %s\n", pw_when(ev, s->lit_min[b]).s, ev->pits[s->plan->allocation.burns[b].pit].id);
      n_told++;
    }
  return n_told;
}

pw_status pw_state_write(struct pw_buf *out, const struct pw_state *s, struct pw_ctx *ctx)
{
  const struct pw_event *ev = s->plan->event;
  pw_buf_printf(out, "State at %s\n\n", pw_when(ev, s->now_min).s);
  for (int l = 0; l < s->plan->lots.n_lots; l++)
    write_lot(out, s, l, ctx->arena);
  pw_buf_add(out, "\nFires\n");
  for (int b = 0; b < s->plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &s->plan->allocation.burns[b];
    bool is_lit = s->lit_min[b] <= s->now_min && burn->out_at_min > s->now_min;
    pw_buf_printf(out, "  %s: %s %s\n", ev->pits[burn->pit].id,
                  is_lit                       ? "burning, lit"
                  : s->lit_min[b] > s->now_min ? "to be lit"
                                               : "out since",
                  pw_when(ev, is_lit || s->lit_min[b] > s->now_min ? s->lit_min[b] : burn->out_at_min).s);
  }
  for (int i = 0; i < s->n_outages; i++) {
    const struct pw_outage *o = &s->outages[i];
    pw_buf_printf(out,
                  o->is_open ? "  %s: out since %s, expected to burn again at %s\n" : "  %s: was out from %s to %s\n",
                  ev->pits[o->pit].id, pw_when(ev, o->from_min).s, pw_when(ev, o->to_min).s);
  }
  for (int i = 0; i < s->n_absences; i++)
    pw_buf_printf(out, "%s  %s is away from %s%s%s\n", i == 0 ? "\nHands\n" : "",
                  s->plan->tasks.people[s->absences[i].person].name, pw_when(ev, s->absences[i].from_min).s,
                  s->absences[i].to_min == PW_DAY_OPEN || s->absences[i].to_min > 1000000 ? "" : " until ",
                  s->absences[i].to_min > 1000000 ? "" : pw_when(ev, s->absences[i].to_min).s);
  for (int i = 0, is_told = 0; i < ev->n_services; i++)
    if (s->guests[i] != PW_NONE) {
      pw_buf_printf(out, "%s  %s: %d\n", is_told ? "" : "\nGuests\n", ev->services[i].id, s->guests[i]);
      is_told = 1;
    }
  if (!isnan(s->wood_kg))
    pw_buf_printf(out, "\nWood left: %s\n", pw_format_weight(ev->units, s->wood_kg).s);
  pw_buf_add(out, "\nAssumed done, since no line says otherwise:\n");
  if (write_taken(out, s, ctx->arena) == 0)
    pw_buf_add(out, "  nothing\n");
  return pw_buf_text(out) ? PW_OK : PW_ERR_MEMORY;
}
