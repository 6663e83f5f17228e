/* side_pans.c - room for the pans of sides in hot boxes [A7].
 * In: event, demand.  Out: lots.side_pans.  They are placed before the pieces: a side is full pans at a fixed time, the pieces
 * have other boxes, other times and ways out. */
#include "plan/lots/side_pans.h"

#include "base/arena.h"
#include "base/diag.h"
#include "plan/demand/portions.h"
#include "plan/lots/pans_out.h"

#include <math.h>

static int pans_at(const struct pw_lots *lots, int finisher, int at_min)
{
  int n = 0;
  for (int i = 0; i < lots->n_side_pans; i++) {
    const struct pw_side_pans *s = &lots->side_pans[i];
    n += s->finisher == finisher && s->from_at_min <= at_min && at_min < s->to_at_min ? s->pans : 0;
  }
  return n;
}

/* Most pans at one time between two times: it only grows where some go in. */
static int most_between(const struct pw_lots *lots, int finisher, int from, int to)
{
  int most = pans_at(lots, finisher, from);
  for (int i = 0; i < lots->n_side_pans; i++) {
    int at = lots->side_pans[i].from_at_min;
    if (lots->side_pans[i].finisher == finisher && at > from && at < to && pans_at(lots, finisher, at) > most)
      most = pans_at(lots, finisher, at);
  }
  return most;
}

double pw_side_pans_most(const struct pw_lots *lots, int finisher)
{
  int most = 0;
  for (int i = 0; i < lots->n_side_pans; i++)
    if (lots->side_pans[i].finisher == finisher && pans_at(lots, finisher, lots->side_pans[i].from_at_min) > most)
      most = pans_at(lots, finisher, lots->side_pans[i].from_at_min);
  return most;
}

static int room(const struct pw_lots *lots, const struct pw_event *ev, int f, int from, int to)
{
  const struct pw_finisher *box = &ev->finishers[f];
  return box->kind == PW_HOLD && box->is_in_pans ? (int)floor(box->capacity + 1e-9) - most_between(lots, f, from, to)
                                                 : 0;
}

/* The smallest box with room for n; else the roomiest.  PW_NONE: none has any. */
static int best_box(const struct pw_lots *lots, const struct pw_event *ev, int n, int from, int to)
{
  int best = PW_NONE, best_room = 0;
  for (int f = 0; f < ev->n_finishers; f++) {
    int r = room(lots, ev, f, from, to);
    bool is_better = r >= n ? best_room < n || ev->finishers[f].capacity < ev->finishers[best].capacity
                            : best_room < n && r > best_room;
    if (r <= 0 || !is_better)
      continue;
    best = f;
    best_room = r;
  }
  return best;
}

static pw_status put(struct pw_lots *lots, size_t *cap, struct pw_side_pans pans, struct pw_ctx *ctx)
{
  if (pw_arena_grow(ctx->arena, &lots->side_pans, cap, (size_t)lots->n_side_pans, sizeof *lots->side_pans))
    return PW_ERR_MEMORY;
  lots->side_pans[lots->n_side_pans++] = pans;
  return PW_OK;
}

static pw_status warn(const struct pw_event *ev, const struct pw_side_pans *pans, int of, struct pw_ctx *ctx)
{
  const char *dish = ev->dishes[pans->dish].name, *service = ev->services[pans->service].name;
  pw_diag_add(ctx, PW_WARNING, "hot-room", ev->file, 0, 0,
              "%d of %d %s of %s for %s %s no place in a hot box: take another box, or bring %s hot from the stove "
              "straight to the table",
              pans->pans, of, of == 1 ? "pan" : "pans", dish, service, pans->pans == 1 ? "has" : "have",
              pans->pans == 1 ? "it" : "them");
  return PW_OK;
}

/* The pans of a dish wait until the last of them goes out to the line [D4]. */
static int last_out(const struct pw_lots *lots, const struct pw_event *ev, const struct pw_demand_line *line, int pans)
{
  struct pw_pans_out out[PW_PANS_OUT_MAX];
  int n = pw_pans_out(out, ev, lots, line, pans);
  return n > 0 ? out[n - 1].at_min : ev->services[line->service].at_min;
}

pw_status pw_side_pans_make(struct pw_lots *lots, const struct pw_event *ev, const struct pw_demand *demand,
                            struct pw_ctx *ctx)
{
  size_t cap = 0;
  for (int i = 0; i < demand->n_lines; i++) {
    const struct pw_demand_line *line = &demand->lines[i];
    const struct pw_dish *dish = &ev->dishes[line->dish];
    int n = dish->cut == PW_NONE && dish->pan_portions > 0
                ? (int)ceil(pw_portions_made(line, dish) / dish->pan_portions - 1e-9)
                : 0;
    int from = ev->services[line->service].at_min - PW_SIDE_HOT_MIN, to = last_out(lots, ev, line, n);
    for (int left = n; left > 0;) {
      int f = dish->held == PW_HELD_HOT ? best_box(lots, ev, left, from, to) : PW_NONE;
      int here = f == PW_NONE || room(lots, ev, f, from, to) > left ? left : room(lots, ev, f, from, to);
      struct pw_side_pans pans = {line->service, line->dish, f, here, from, to};
      pw_status status = put(lots, &cap, pans, ctx);
      if (status == PW_OK && f == PW_NONE && dish->held == PW_HELD_HOT)
        status = warn(ev, &pans, n, ctx);
      if (status != PW_OK)
        return status;
      left -= here;
    }
  }
  return PW_OK;
}
