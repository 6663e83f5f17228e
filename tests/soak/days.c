/* days.c - days played: days N SEED [EVENT ...].  Each day has true paces by the law of plan/chance/chance.h, a fire that is lost on most of them.  It is played twice: by the first plan, each piece moving on when it is done and its spot is free; and
 * with the plan mended every hour, and when a fire is found out and lit again, by what the crew logs: loads, wraps, ends; cores of two pieces of
 * each lot, of all of the lot that the slip asks for, and of what by the sheets should be over.
 * Out: late services and minutes of both, and of each day that is late though mended by what it could have been saved: more room in ovens, looks
 * every quarter of an hour at every piece, both, or nothing of that; exit status 1 when mending makes the meals later all in all, a log of what was
 * is refused, or a slip fails. */
#define _POSIX_C_SOURCE 200809L
#include "base/arena.h"
#include "base/buf.h"
#include "base/when.h"
#include "day/slip.h"
#include "heat/curve.h"
#include "plan/chance/chance.h"
#include "read/read.h"
#include "run.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { EVERY_MIN = 60, CLOSE_MIN = 15, CORES = 2 };

static uint64_t g_state;
static bool g_tells; /* PW_TELL: day by day, what was late and what was done about it */

/* splitmix64: Steele, Lea, Flood (2014) */
static double uniform(void)
{
  uint64_t z = (g_state += UINT64_C(0x9E3779B97F4A7C15));
  z = (z ^ (z >> 30)) * UINT64_C(0xBF58476D1CE4E5B9);
  z = (z ^ (z >> 27)) * UINT64_C(0x94D049BB133111EB);
  return ((double)((z ^ (z >> 31)) >> 11) + 0.5) / 9007199254740992.0;
}

/* Box and Muller (1958) */
static double normal(void) { return sqrt(-2 * log(uniform())) * cos(6.283185307179586 * uniform()); }

struct day {
  const struct pw_plan *plan;
  const struct pw_names *names;
  struct pw_ctx *ctx;
  struct pw_buf log;
  double *pace; /* [piece * 2 + stage] logarithm of the true pace */
  int out_pit, out_from, out_min;
  int found_at; /* somebody stands at that fire: to feed it, or at the hour; or it was lit before that */
  enum { OUT_UNTOLD, OUT_STILL, OUT_OVER } out_told; /* what the log has of it */
  struct pw_state state;
  struct pw_allocation al; /* what truly happens from the last look on */
  int *late;
  struct pw_belief truth;
  int probe_lot; /* asked for by the slip before; PW_NONE */
  int every_min; /* between looks */
  int n_cores;   /* read of each lot at a look */
};

static void fail(const char *what, const struct day *d)
{
  fprintf(stderr, "days: %s\n%s\n", what, d->log.bytes ? d->log.bytes : "");
  for (int i = 0; i < d->ctx->n_diags; i++)
    fprintf(stderr, "  %s: %s\n", d->ctx->diags[i].code, d->ctx->diags[i].text);
  exit(1);
}

static void roll(struct day *d)
{
  const struct pw_plan *plan = d->plan;
  const struct pw_event *ev = plan->event;
  struct pw_spread_shares s = pw_spread_shares();
  double z_pit[64], z_lot[2];
  int i = 0;
  for (int p = 0; p < 64; p++)
    z_pit[p] = normal();
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_cut *cut = &ev->cuts[plan->lots.lots[l].cut];
    z_lot[0] = normal();
    z_lot[1] = normal();
    for (int k = 0; k < plan->lots.lots[l].pieces; k++, i++)
      for (int g = 0; g < 2; g++) {
        double frac = g ? cut->finish.spread_frac : cut->smoke.spread_frac, sigma = sqrt(log(1 + frac * frac));
        d->pace[i * 2 + g] = sigma * (sqrt(s.lot_frac) * z_lot[g] + sqrt(s.pit_day_frac) * z_pit[(l + g) % 64] +
                                      sqrt(s.piece_frac) * normal());
      }
  }
  const struct pw_burn *burn = &plan->allocation.burns[(int)(uniform() * plan->allocation.n_burns)];
  d->out_min = uniform() < 0.75 ? 30 + (int)(uniform() * 120) : 0;
  d->out_pit = burn->pit;
  d->out_from = burn->ready_at_min + (int)(uniform() * (burn->out_at_min - burn->ready_at_min) * 0.7);
}

/* What truly is: nothing is over or on that was not told, the fire is out as long as it is, and minutes are finer than the plan's. */
static struct pw_state *true_state(const struct day *d)
{
  enum { FINE_MIN = 5 };
  struct pw_arena *arena = d->ctx->arena;
  struct pw_state *s = pw_arena_alloc(arena, sizeof *s);
  struct pw_plan *fine = pw_arena_alloc(arena, sizeof *fine);
  struct pw_piece *pieces = pw_arena_array(arena, (size_t)d->state.n_pieces + 1, sizeof *pieces);
  struct pw_outage *out = pw_arena_alloc(arena, sizeof *out);
  if (!s || !fine || !pieces || !out)
    exit(2);
  *fine = *d->plan;
  fine->lots.slot_min = FINE_MIN;
  *s = d->state;
  s->plan = fine;
  memcpy(pieces, d->state.pieces, (size_t)d->state.n_pieces * sizeof *pieces);
  s->pieces = pieces;
  for (int i = 0; i < s->n_pieces; i++)
    for (int g = 0; g < 2; g++) {
      struct pw_piece_stage *st = &pieces[i].stage[g];
      if (!st->is_start_logged && st->start_min <= s->now_min)
        st->start_min = s->now_min + 1;
      if (!st->is_end_logged && st->end_min <= s->now_min)
        st->end_min = s->now_min + 1;
    }
  *out = (struct pw_outage){d->out_pit, d->out_from, d->out_from + d->out_min, false};
  s->outages = out;
  s->n_outages = d->out_min > 0 && d->out_from < s->now_min;
  return s;
}

/* State, and what truly follows from it when `decided` is done. */
static void look(struct day *d, int now, const struct pw_otherwise *decided)
{
  struct pw_log *log = pw_arena_alloc(d->ctx->arena, sizeof *log);
  struct pw_belief truth;
  double *pace = NULL;
  if (!log || pw_log_read(log, "day.log", d->log.bytes ? d->log.bytes : "", d->log.n, d->names, d->ctx) != PW_OK ||
      pw_state_make(&d->state, d->plan, log, d->names, now, d->ctx) != PW_OK)
    fail("a log of a played day is refused", d);
  const struct pw_state *s = true_state(d);
  if (pw_belief_make(&truth, s, d->ctx) != PW_OK)
    fail("no belief", d);
  for (int i = 0; i < s->n_pieces; i++)
    for (int g = 0; g < 2; g++)
      truth.pieces[i].pace[g] = (struct pw_pace){d->pace[i * 2 + g], 0};
  d->truth = truth;
  if (pw_retime(&d->al, d->late, &pace, s, &truth, decided, d->ctx) != PW_OK)
    fail("no retiming", d);
}

static const char *place_of(const struct day *d, const struct pw_load *load)
{
  return load->zone != PW_NONE       ? d->plan->lots.zones[load->zone].id
         : load->finisher != PW_NONE ? d->plan->event->finishers[load->finisher].id
                                     : "";
}

struct told {
  int at_min, order;
  const char *text;
};

static int by_minute(const void *a, const void *b)
{
  const struct told *x = a, *y = b;
  return x->at_min != y->at_min ? (x->at_min > y->at_min) - (x->at_min < y->at_min)
                                : (x->order > y->order) - (x->order < y->order);
}

/* A core of what lies there, by its true pace. */
static double core_of(const struct day *d, const struct pw_load *load, int piece, int now)
{
  const struct pw_piece *p = &d->state.pieces[piece];
  struct pw_piece_stage smoke = p->stage[PW_LOAD_SMOKE], finish = p->stage[PW_LOAD_FINISH];
  struct pw_curve_place place = {.smoke_c = pw_belief_air_c(&d->state, &smoke), .air = pw_stage_air_mild()};
  struct pw_curve curve;
  place.finish_c = finish.load == PW_NONE ? place.smoke_c : pw_belief_air_c(&d->state, &finish);
  if (smoke.zone != PW_NONE)
    place.air = pw_stage_air_of(d->plan->event, d->plan->lots.zones[smoke.zone].pit);
  if (!isfinite(place.smoke_c) || !isfinite(place.finish_c) ||
      pw_curve_make(&curve, &d->plan->event->cuts[d->plan->lots.lots[p->lot].cut], &place, 5, d->ctx) != PW_OK ||
      !isfinite(curve.sum.done_min))
    return NAN;
  double from = load->stage == PW_LOAD_FINISH ? curve.sum.wrap_min : 0,
         to = load->stage == PW_LOAD_FINISH ? curve.sum.done_min : curve.sum.wrap_min,
         lost = fmax(d->truth.pieces[piece].lost_min[load->stage], 0),
         till = fmin(lost, fmax(now - fmax(d->out_from, load->start_at_min), 0)), /* without fire it does not come on */
      share = fmax(now - load->start_at_min - till, 1) / fmax(load->end_at_min - load->start_at_min - lost, 1),
         at = from + share * (to - from);
  for (int i = 1; i < curve.n_points; i++)
    if (curve.points[i].at_min >= at)
      return curve.points[i].core_c;
  return NAN;
}

/* By the sheets it should be over: it is read before it comes off. */
static bool is_due(const struct day *d, int piece, int stage, int now)
{
  return d->plan->allocation.loads[d->state.pieces[piece].stage[stage].load].end_at_min <= now;
}

/* Writes what truly was between two looks. */
static void tell(struct day *d, int from, int now)
{
  struct told *rows = pw_arena_array(d->ctx->arena, (size_t)d->state.n_pieces * 8 + 8, sizeof *rows);
  int n = 0;
  if (!rows)
    exit(2);
  int lit = d->out_from + d->out_min;
  const char *out_pit = d->plan->event->pits[d->out_pit].id;
  if (d->out_min && now >= d->found_at && now < lit && d->out_told == OUT_UNTOLD) {
    rows[n++] =
        (struct told){now, n, pw_arena_printf(d->ctx->arena, "fire-out %s %d min still", out_pit, now - d->out_from)};
    d->out_told = OUT_STILL;
  } else if (d->out_min && now >= lit && d->out_told != OUT_OVER) {
    rows[n++] = (struct told){lit, n,
                              d->out_told == OUT_STILL
                                  ? pw_arena_printf(d->ctx->arena, "lit %s", out_pit)
                                  : pw_arena_printf(d->ctx->arena, "fire-out %s %d min", out_pit, d->out_min)};
    d->out_told = OUT_OVER;
  }
  for (int i = 0, n_cores = 0, lot = -1; i < d->al.n_loads; i++) {
    const struct pw_load *load = &d->al.loads[i];
    if (load->lot != lot)
      n_cores = 0;
    lot = load->lot;
    for (int k = 0; load->stage <= PW_LOAD_FINISH && k < load->pieces; k++) {
      const char *letter = pw_lot_letter(load->lot, d->ctx->arena);
      int piece = d->state.first[load->lot] + load->piece_ids[k], nth = load->piece_ids[k] + 1;
      bool is_last = load->stage == PW_LOAD_FINISH || d->state.pieces[piece].stage[PW_LOAD_FINISH].load == PW_NONE;
      if (load->stage == PW_LOAD_SMOKE && load->start_at_min > now &&
          d->plan->allocation.loads[d->state.pieces[piece].stage[PW_LOAD_SMOKE].load].start_at_min <= now)
        rows[n++] = (struct told){now, n, pw_arena_printf(d->ctx->arena, "waits %s%d", letter, nth)};
      if (load->start_at_min > from && load->start_at_min <= now)
        rows[n++] =
            (struct told){load->start_at_min, n,
                          pw_arena_printf(d->ctx->arena, "%s %s%d %s", load->stage == PW_LOAD_FINISH ? "wrapped" : "on",
                                          letter, nth, place_of(d, load))};
      if (load->is_carried && load->carried_at_min > from && load->carried_at_min <= now)
        rows[n++] = (struct told){load->carried_at_min, n,
                                  pw_arena_printf(d->ctx->arena, "carried %s%d %s", letter, nth, place_of(d, load))};
      if (is_last && load->end_at_min > from && load->end_at_min <= now)
        rows[n++] = (struct told){load->end_at_min, n, pw_arena_printf(d->ctx->arena, "off %s%d", letter, nth)};
      if (load->start_at_min + 60 < now && load->end_at_min > now &&
          (n_cores < d->n_cores || load->lot == d->probe_lot || is_due(d, piece, load->stage, now))) {
        double c = core_of(d, load, piece, now);
        n_cores++;
        if (isfinite(c))
          rows[n++] = (struct told){now, n, pw_arena_printf(d->ctx->arena, "core %s%d %.1f C", letter, nth, c)};
      }
    }
  }
  qsort(rows, (size_t)n, sizeof *rows, by_minute);
  for (int i = 0; i < n; i++)
    pw_buf_printf(&d->log, "%s %s\n", pw_when(d->plan->event, rows[i].at_min).s, rows[i].text);
}

/* When the fire is found out: as somebody comes to feed it by the plan, at the hour, or as it is lit again. */
static int found_at(const struct day *d, int first)
{
  enum { SEEN_MIN = 5 }; /* cold to the eye */
  int seen = d->out_from + SEEN_MIN, at = d->out_from + d->out_min,
      hour = first + ((seen - first) / d->every_min + 1) * d->every_min;
  at = hour < at ? hour : at;
  for (int b = 0; b < d->plan->allocation.n_burns; b++) {
    const struct pw_burn_fuel *fuel = &d->plan->fuel.burns[b];
    for (int i = 0; d->plan->allocation.burns[b].pit == d->out_pit && i < fuel->n_feeds; i++)
      if (fuel->feeds[i].at_min >= seen && fuel->feeds[i].at_min < at)
        at = fuel->feeds[i].at_min;
  }
  return at;
}

/* Every hour, and when a fire is lost, found out and lit again. */
static int next_look(const struct day *d, int first, int before)
{
  int next = first + ((before - first) / d->every_min + 1) * d->every_min;
  const int at[] = {d->out_from + 1, d->found_at, d->out_from + d->out_min};
  for (int i = 0; d->out_min && i < 3; i++)
    next = at[i] > before && at[i] < next ? at[i] : next;
  return next;
}

/* Plays it: late minutes of each service into late[]. */
static void play(struct day *d, bool is_mended, int *late, long *n_mends)
{
  const struct pw_plan *plan = d->plan;
  int first = plan->allocation.burns[0].lit_at_min, last = 0, n_pieces = 0;
  for (int b = 0; b < plan->allocation.n_burns; b++)
    first = plan->allocation.burns[b].lit_at_min < first ? plan->allocation.burns[b].lit_at_min : first;
  for (int i = 0; i < plan->event->n_services; i++)
    last = plan->event->services[i].at_min > last ? plan->event->services[i].at_min : last;
  for (int l = 0; l < plan->lots.n_lots; l++)
    n_pieces += plan->lots.lots[l].pieces;
  struct pw_otherwise none = {.wrap_now = pw_arena_array(d->ctx->arena, (size_t)n_pieces + 1, sizeof(bool)),
                              .oven = pw_arena_array(d->ctx->arena, (size_t)n_pieces + 1, sizeof(int)),
                              .spots = pw_arena_array(d->ctx->arena, (size_t)n_pieces * 2 + 2, sizeof(struct pw_spot)),
                              .carry = pw_arena_array(d->ctx->arena, (size_t)n_pieces + 1, sizeof(struct pw_spot))};
  d->late = pw_arena_array(d->ctx->arena, (size_t)plan->lots.n_lots + 1, sizeof *d->late);
  if (!none.wrap_now || !none.oven || !none.spots || !none.carry || !d->late)
    exit(2);
  for (int i = 0; i < n_pieces; i++)
    none.oven[i] = PW_NONE;
  d->log = pw_buf_in(d->ctx->arena);
  d->probe_lot = PW_NONE;
  d->found_at = found_at(d, first);
  d->out_told = OUT_UNTOLD;
  struct pw_otherwise decided = none;
  look(d, first, &none);
  for (int before = first, now; before < last; before = now) {
    struct pw_mended *m = pw_arena_alloc(d->ctx->arena, sizeof *m);
    struct pw_buf slip = pw_buf_in(d->ctx->arena);
    now = next_look(d, first, before);
    tell(d, before, now);
    look(d, now, &none);
    if (!is_mended)
      continue;
    if (now == d->out_from + 1) { /* nobody knows it yet: they go on by the last slip */
      for (int i = 0; i < d->state.n_pieces; i++)
        for (int g = 0; g < 2; g++)
          decided.carry[i].is_moved = decided.carry[i].is_moved && !d->state.pieces[i].stage[g].is_carried;
      look(d, now, &decided);
      continue;
    }
    if (!m || pw_mend(m, &d->state, PW_MEND_PLACES, d->ctx) != PW_OK || pw_slip_write(&slip, m, d->ctx) != PW_OK)
      fail("no mended plan", d);
    ++*n_mends;
    d->probe_lot = m->belief.probe_lot;
    decided = m->otherwise;
    look(d, now, &decided);
    if (g_tells) {
      bool any = false;
      for (int l = 0; l < plan->lots.n_lots; l++)
        any = any || d->late[l] > 0 || m->late_min[l] > 0;
      if (any) {
        printf("   %s:", pw_when(plan->event, now).s);
        for (int l = 0; l < plan->lots.n_lots; l++)
          if (d->late[l] > 0 || m->late_min[l] > 0)
            printf(" %s believed %d true %d;", pw_lot_letter(l, d->ctx->arena), m->late_min[l], d->late[l]);
        for (int i = 0; i < m->n_acts; i++)
          printf(" [act %d lot %s x%d gains %d fin %d]", m->acts[i].kind, pw_lot_letter(m->acts[i].lot, d->ctx->arena),
                 m->acts[i].pieces, m->acts[i].gains_min, m->acts[i].finisher);
        printf("\n");
      }
    }
  }
  for (int l = 0; l < plan->lots.n_lots; l++)
    if (!plan->lots.lots[l].is_day_before && d->late[l] > late[plan->lots.lots[l].service])
      late[plan->lots.lots[l].service] = d->late[l];
}

/* ---- days ---------------------------------------------------------------------------------------------------------------- */

/* How a day is played. */
struct way {
  bool is_mended, has_room; /* has_room: no oven is ever full */
  int every_min, n_cores;
};

struct game {
  const struct pw_plan *plan, *roomy; /* roomy: the same plan, its ovens without end */
  const struct pw_names *names, *roomy_names;
  uint64_t seed;
};

/* One day, played so: late minutes by service; who was late and by what, when asked. */
static void play_day(const struct game *g, int n, struct way way, int late[64], long *n_mends, struct pw_buf *words)
{
  struct pw_ctx own = {.arena = pw_arena_open()};
  const struct pw_plan *plan = way.has_room ? g->roomy : g->plan;
  const struct pw_event *ev = plan->event;
  struct day d = {.plan = plan,
                  .names = way.has_room ? g->roomy_names : g->names,
                  .ctx = &own,
                  .every_min = way.every_min,
                  .n_cores = way.n_cores};
  int n_pieces = 0;
  for (int l = 0; l < plan->lots.n_lots; l++)
    n_pieces += plan->lots.lots[l].pieces;
  d.pace = pw_arena_array(own.arena, (size_t)n_pieces * 2 + 2, sizeof *d.pace);
  if (!d.pace)
    exit(2);
  g_state = g->seed * 1000003u + (uint64_t)n;
  memset(late, 0, 64 * sizeof *late);
  roll(&d);
  play(&d, way.is_mended, late, n_mends);
  if (words) {
    pw_buf_printf(words, "out %s from %s %d min; late", ev->pits[d.out_pit].id, pw_when(ev, d.out_from).s, d.out_min);
    for (int i = 0; i < ev->n_services && i < 64; i++)
      pw_buf_printf(words, " %d", late[i]);
    for (int l = 0; l < plan->lots.n_lots; l++)
      if (d.late[l] > 0)
        pw_buf_printf(words, " lot %s %s %d", pw_lot_letter(l, own.arena), ev->cuts[plan->lots.lots[l].cut].id,
                      d.late[l]);
  }
  pw_arena_close(own.arena);
}

static bool is_late(const int late[64])
{
  for (int i = 0; i < 64; i++)
    if (late[i] > 0)
      return true;
  return false;
}

/* What would have saved a day that was late though mended. */
static const char *what_saves(const struct game *g, int n)
{
  const struct {
    struct way way;
    const char *words;
  } tries[] = {{{true, false, CLOSE_MIN, INT_MAX}, "a look every quarter of an hour at every piece saves it"},
               {{true, true, EVERY_MIN, CORES}, "more room in ovens saves it"},
               {{true, true, CLOSE_MIN, INT_MAX}, "closer looks and more room in ovens save it"}};
  int late[64];
  long n_mends = 0;
  bool tells = g_tells;
  g_tells = false;
  for (size_t i = 0; i < sizeof tries / sizeof *tries; i++) {
    play_day(g, n, tries[i].way, late, &n_mends, NULL);
    if (!is_late(late)) {
      g_tells = tells;
      return tries[i].words;
    }
  }
  g_tells = tells;
  return "neither closer looks nor ovens without end save it";
}

/* The plan with ovens without end. */
static struct pw_plan *roomy_plan(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_plan *roomy = pw_arena_alloc(ctx->arena, sizeof *roomy);
  struct pw_event *ev = pw_arena_alloc(ctx->arena, sizeof *ev);
  struct pw_finisher *ovens = pw_arena_array(ctx->arena, (size_t)plan->event->n_finishers + 1, sizeof *ovens);
  if (!roomy || !ev || !ovens)
    exit(2);
  *roomy = *plan;
  *ev = *plan->event;
  for (int f = 0; f < ev->n_finishers; f++) {
    ovens[f] = ev->finishers[f];
    ovens[f].capacity = 1e6;
  }
  ev->finishers = ovens;
  roomy->event = ev;
  return roomy;
}

int main(int argc, char **argv)
{
  static const char *const usual[] = {"tests/data/events/family-party.yaml", "tests/data/events/lakeside-wedding.yaml"};
  int n_days = argc > 1 ? atoi(argv[1]) : 20, seed = argc > 2 ? atoi(argv[2]) : 1, n_files = argc > 3 ? argc - 3 : 2,
      is_bad = 0;
  const char *const *files = argc > 3 ? (const char *const *)(argv + 3) : usual;
  g_tells = getenv("PW_TELL") != NULL;
  printf("%-28s %6s %8s %22s %22s %8s\n", "event", "days", "services", "late, first plan", "late, mended hourly",
         "mends");
  for (int f = 0; f < n_files; f++) {
    struct pw_ctx ctx = {.arena = pw_arena_open()};
    struct pw_event *ev = NULL;
    struct pw_plan *plan = NULL;
    struct pw_names names, roomy_names;
    struct pw_run_options options = {.effort = PW_EFFORT_QUICK};
    int n_late[2] = {0};
    long minutes[2] = {0}, n_mends = 0;
    if (pw_event_read(&ev, files[f], "templates", &ctx) != PW_OK || pw_run_plan(&plan, ev, &options, &ctx) != PW_OK ||
        pw_names_make(&names, plan, &ctx) != PW_OK)
      return 2;
    struct game g = {.plan = plan, .roomy = roomy_plan(plan, &ctx), .names = &names, .roomy_names = &roomy_names};
    g.seed = (uint64_t)seed;
    if (pw_names_make(&roomy_names, g.roomy, &ctx) != PW_OK)
      return 2;
    struct pw_buf lates = pw_buf_in(ctx.arena);
    for (int n = 0; n < n_days; n++)
      for (int is_mended = 0; is_mended < 2; is_mended++) {
        int late[64];
        struct pw_buf words = pw_buf_in(ctx.arena);
        play_day(&g, n, (struct way){is_mended != 0, false, EVERY_MIN, CORES}, late, &n_mends, &words);
        if (g_tells)
          printf("day %d %s: %s\n", n, is_mended ? "mended" : "first", pw_buf_text(&words));
        if (is_mended && is_late(late))
          pw_buf_printf(&lates, "  day %d: %s: %s\n", n, pw_buf_text(&words), what_saves(&g, n));
        for (int i = 0; i < ev->n_services && i < 64; i++) {
          n_late[is_mended] += late[i] > 0;
          minutes[is_mended] += late[i];
        }
      }
    printf("%-28.28s %6d %8d %9d, %6ld min %10d, %6ld min %8ld\n", ev->name, n_days, n_days * ev->n_services, n_late[0],
           minutes[0], n_late[1], minutes[1], n_mends);
    printf("%s", pw_buf_text(&lates) ? pw_buf_text(&lates) : "");
    fflush(stdout);
    is_bad |= minutes[1] > minutes[0];
    pw_arena_close(ctx.arena);
  }
  return is_bad;
}
