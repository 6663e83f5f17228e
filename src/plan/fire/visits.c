/* visits.c - door openings of every pit from the loads [S1][F1].
 * In: event, lots, allocation.  Out: visits by pit and time, each with what is done in it. */
#include "plan/fire/visits.h"

#include "base/arena.h"
#include "plan/fire/mop.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

/* Minutes of hands that no catalog entry holds: common practice, no source. */
enum { SCRATCH_WORK_MIN = 2, CORE_WORK_MIN = 3 };
enum {
  STEP_MIN = 5,          /* minutes at which a visit may begin */
  SCRATCH_WAIT_MIN = 60, /* a set rub may wait so long for its test: common practice, no source */
  MOP_SLIP_MIN = 20,     /* a mop comes so much sooner or later: common practice, no source */
  CORE_FROM_MIN = 45,    /* a core is read so long before its stage is planned to end, ... */
  CORE_TO_MIN = 15,      /* ... and not later than this: common practice, no source */
  READ_LONGER_MIN = 60,
  FINISH_READ_LONGER_MIN = 30 /* what cooks no longer is read when it comes off */
};

/** Something to be done at a pit between two instants. */
struct want {
  struct pw_visit_act act;
  int pit, from, to, due;
  bool is_fixed; /* at `due`, whatever else is done */
  int at;        /* INT_MIN: not placed yet; INT_MAX: left out */
};

struct wants {
  struct want *want;
  size_t n, cap;
};

static int max_int(int a, int b) { return a > b ? a : b; }
static int min_int(int a, int b) { return a < b ? a : b; }

static pw_status add(struct wants *wants, struct want want, struct pw_arena *arena)
{
  if (want.from > want.to)
    return PW_OK;
  if (pw_arena_grow(arena, &wants->want, &wants->cap, wants->n, sizeof *wants->want))
    return PW_ERR_MEMORY;
  want.at = want.is_fixed ? want.due : INT_MIN;
  wants->want[wants->n++] = want;
  return PW_OK;
}

static int up(int at_min) { return at_min + ((STEP_MIN - at_min % STEP_MIN) % STEP_MIN); }

/** Pieces of this smoke load are wrapped at its end; else they come off. */
static bool is_wrapped_after(const struct pw_allocation *a, int load)
{
  const struct pw_load *smoke = &a->loads[load];
  for (int i = 0; i < a->n_loads; i++)
    if (a->loads[i].lot == smoke->lot && a->loads[i].stage == PW_LOAD_FINISH &&
        a->loads[i].start_at_min == smoke->end_at_min)
      return true;
  return false;
}

/** Wrapped pieces that begin here and did not smoke on this pit's racks until that minute come from another place. */
static bool comes_from_elsewhere(const struct pw_lots *lots, const struct pw_allocation *a, int load, int pit)
{
  const struct pw_load *finish = &a->loads[load];
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *l = &a->loads[i];
    if (l->lot == finish->lot && l->stage == PW_LOAD_SMOKE && l->end_at_min == finish->start_at_min &&
        l->zone != PW_NONE && lots->zones[l->zone].pit == pit)
      return false;
  }
  return true;
}

/** Fixed and loose wants of one load on a pit. */
static pw_status wants_of(struct wants *wants, const struct pw_event *ev, const struct pw_lots *lots,
                          const struct pw_allocation *a, int load, struct pw_arena *arena)
{
  const struct pw_load *l = &a->loads[load];
  const struct pw_cut *cut = &ev->cuts[lots->lots[l->lot].cut];
  int pit = lots->zones[l->zone].pit, on = l->start_at_min, off = l->end_at_min;
  bool is_smoke = l->stage == PW_LOAD_SMOKE, is_wrapped = is_smoke && is_wrapped_after(a, load);
  struct want want = {
      .pit = pit, .from = on, .to = on, .due = on, .is_fixed = true, .act = {.kind = PW_VISIT_LOAD, .load = load}};
  want.act.work_min = l->pieces * cut->load_min;
  if (l->is_carried)
    want.from = want.to = want.due = l->carried_at_min;
  if (!is_smoke || l->is_carried)
    want.act.kind = PW_VISIT_IN;
  pw_status status = PW_OK;
  if (is_smoke || l->is_carried || comes_from_elsewhere(lots, a, load, pit))
    status = add(wants, want, arena);
  want.from = want.to = want.due = off;
  want.act.kind = is_wrapped ? PW_VISIT_WRAP : PW_VISIT_OFF;
  want.act.work_min = l->pieces * (is_wrapped ? cut->wrap_min : cut->unload_min);
  if (status == PW_OK)
    status = add(wants, want, arena);
  /* read before it ends */
  if (status == PW_OK && off - on > (is_smoke ? READ_LONGER_MIN : FINISH_READ_LONGER_MIN)) {
    want = (struct want){.pit = pit,
                         .from = up(max_int(on, off - CORE_FROM_MIN)),
                         .to = off - CORE_TO_MIN,
                         .due = off - PW_VISIT_APART_MIN,
                         .act = {is_smoke ? PW_VISIT_CORE : PW_VISIT_PROBE, load, CORE_WORK_MIN}};
    status = add(wants, want, arena);
  }
  if (!is_smoke || status != PW_OK)
    return status;
  bool has_bark = cut->kind == PW_KIND_BEEF || cut->kind == PW_KIND_PORK || cut->kind == PW_KIND_LAMB;
  int mop_min = (int)ceil(pw_mop_work_min(l->pieces)), set_at = on + cut->rub_set_min,
      last_mop = off - PW_MOP_LAST_BEFORE_MIN - mop_min;
  int slip = min_int(MOP_SLIP_MIN, cut->mop_every_min / 3),
      first_mop = pw_mop_next_at_min(cut, on, off - mop_min, set_at);
  /* a rub tested early is torn; one that is mopped is tested before, whatever meat it is on */
  if (first_mop != INT_MAX || (has_bark && cut->rub_set_min > 0 && set_at < last_mop)) {
    int by = first_mop == INT_MAX ? last_mop : up(max_int(first_mop - slip, set_at));
    want = (struct want){.pit = pit,
                         .from = up(set_at),
                         .to = min_int(set_at + SCRATCH_WAIT_MIN, by),
                         .due = set_at,
                         .act = {PW_VISIT_SCRATCH, load, SCRATCH_WORK_MIN}};
    status = add(wants, want, arena);
  }
  for (int at = set_at; status == PW_OK && (at = pw_mop_next_at_min(cut, on, off - mop_min, at)) < off;) {
    want = (struct want){.pit = pit,
                         .from = up(max_int(at - slip, set_at)),
                         .to = min_int(at + slip, last_mop),
                         .due = at,
                         .act = {PW_VISIT_MOP, load, pw_mop_work_min(l->pieces)}};
    status = add(wants, want, arena);
  }
  return status;
}

/* ---- loose wants of one pit: n of them, w the first ------------------------------------------------------ */

static bool is_open(const struct want *w) { return w->at != INT_MIN && w->at != INT_MAX; }

/** Minutes from at_min to the nearest opening so far. */
static int nearest_min(const struct want *w, size_t n, int at_min)
{
  int best = INT_MAX;
  for (size_t i = 0; i < n; i++)
    if (is_open(&w[i]))
      best = min_int(best, abs(w[i].at - at_min));
  return best;
}

/** Takes each want that waits to the opening in its window that is nearest to when it is due, if there is one. */
static void join(struct want *w, size_t n)
{
  for (size_t i = 0; i < n; i++) {
    int best = INT_MIN;
    for (size_t k = 0; k < n && w[i].at == INT_MIN; k++)
      if (is_open(&w[k]) && w[k].at >= w[i].from && w[k].at <= w[i].to &&
          (best == INT_MIN || abs(w[k].at - w[i].due) < abs(best - w[i].due)))
        best = w[k].at;
    if (best != INT_MIN)
      w[i].at = best;
  }
}

/** How many of those that wait could be met at this minute. */
static int n_met(const struct want *w, size_t n, int at_min)
{
  int met = 0;
  for (size_t i = 0; i < n; i++)
    met += w[i].at == INT_MIN && w[i].from <= at_min && at_min <= w[i].to;
  return met;
}

/** A minute of the window for a door that has to be opened: apart from others first, then where most is done at once, then near
 *  to what is due.  *is_apart says whether it is PW_VISIT_APART_MIN from every other. */
static int best_minute(const struct want *w, size_t n, const struct want *want, bool *is_apart)
{
  int best = want->from, best_apart = -1, best_met = -1;
  for (int at = want->from; at <= want->to; at += STEP_MIN) {
    int apart = min_int(nearest_min(w, n, at), PW_VISIT_APART_MIN), met = n_met(w, n, at);
    bool is_better = apart != best_apart ? apart > best_apart
                     : met != best_met   ? met > best_met
                                         : abs(at - want->due) < abs(best - want->due);
    if (is_better) {
      best = at;
      best_apart = apart;
      best_met = met;
    }
  }
  *is_apart = best_apart >= PW_VISIT_APART_MIN;
  return best;
}

/** Places the loose wants of a pit: always the one whose window closes first, and with it all that it opens the door for. */
static void gather(struct want *w, size_t n)
{
  join(w, n);
  for (;;) {
    struct want *next = NULL;
    for (size_t i = 0; i < n; i++)
      if (w[i].at == INT_MIN && (!next || w[i].to < next->to))
        next = &w[i];
    if (!next)
      return;
    bool is_apart = false;
    int at = best_minute(w, n, next, &is_apart);
    bool is_left_out = !is_apart && next->act.kind == PW_VISIT_MOP;
    next->at = is_left_out ? INT_MAX : at;
    for (size_t i = 0; i < n && !is_left_out; i++)
      if (w[i].at == INT_MIN && w[i].from <= at && at <= w[i].to)
        w[i].at = at;
  }
}

static int by_pit(const void *pa, const void *pb)
{
  const struct want *a = pa, *b = pb;
  const int keys[][2] = {
      {a->pit, b->pit}, {a->to, b->to}, {(int)a->act.kind, (int)b->act.kind}, {a->act.load, b->act.load}};
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (keys[i][0] != keys[i][1])
      return keys[i][0] < keys[i][1] ? -1 : 1;
  return 0;
}

static int by_visit(const void *pa, const void *pb)
{
  const struct want *a = pa, *b = pb;
  const int keys[][2] = {
      {a->pit, b->pit}, {a->at, b->at}, {(int)a->act.kind, (int)b->act.kind}, {a->act.load, b->act.load}};
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (keys[i][0] != keys[i][1])
      return keys[i][0] < keys[i][1] ? -1 : 1;
  return 0;
}

/** Why the door is opened again so soon: the first thing that cannot wait. */
static const char *reason_of(const struct pw_event *ev, const struct pw_lots *lots, const struct pw_allocation *a,
                             const struct pw_visit *visit, struct pw_arena *arena)
{
  static const struct {
    const char *before, *after;
  } words[] = {[PW_VISIT_OFF] = {"", " is done then"},
               [PW_VISIT_WRAP] = {"", " is ready to wrap then"},
               [PW_VISIT_IN] = {"wrapped ", " comes over then"},
               [PW_VISIT_LOAD] = {"", " has to go on then to be done in time"},
               [PW_VISIT_SCRATCH] = {"the rub of ", " is tested before its first mop"},
               [PW_VISIT_CORE] = {"", " is read before its stage ends"},
               [PW_VISIT_PROBE] = {"", " is read before it comes off"},
               [PW_VISIT_MOP] = {"", " is mopped"}};
  const struct pw_visit_act *act = &visit->acts[0];
  return pw_arena_printf(arena, "%s%s%s", words[act->kind].before,
                         ev->cuts[lots->lots[a->loads[act->load].lot].cut].name, words[act->kind].after);
}

/** Ids in their order, and reasons of those that follow soon. */
static pw_status name_all(struct pw_visits *out, const struct pw_event *ev, const struct pw_lots *lots,
                          const struct pw_allocation *a, struct pw_arena *arena)
{
  for (int v = 0, first = 0; v < out->n_visits; v++) {
    struct pw_visit *visit = &out->visits[v];
    first = visit->pit == out->visits[first].pit ? first : v;
    visit->id = pw_arena_printf(arena, "%s/%d", ev->pits[visit->pit].id, v - first + 1);
    bool is_soon = pw_visit_since_min(out, v) < PW_VISIT_APART_MIN;
    visit->reason = NULL;
    if (is_soon)
      visit->reason = reason_of(ev, lots, a, visit, arena);
    if (!visit->id || (is_soon && !visit->reason))
      return PW_ERR_MEMORY;
  }
  return PW_OK;
}

static pw_status fill(struct pw_visits *out, const struct wants *wants, const struct pw_event *ev,
                      const struct pw_lots *lots, const struct pw_allocation *a, struct pw_arena *arena)
{
  out->visits = pw_arena_array(arena, wants->n + 1, sizeof *out->visits);
  struct pw_visit_act *acts = pw_arena_array(arena, wants->n + 1, sizeof *acts);
  if (!out->visits || !acts)
    return PW_ERR_MEMORY;
  for (size_t i = 0; i < wants->n; i++) {
    const struct want *w = &wants->want[i];
    acts[i] = w->act;
    if (w->at == INT_MAX)
      continue;
    struct pw_visit *visit = out->n_visits ? &out->visits[out->n_visits - 1] : NULL;
    if (!visit || visit->pit != w->pit || visit->at_min != w->at) {
      visit = &out->visits[out->n_visits++];
      *visit = (struct pw_visit){.pit = w->pit, .at_min = w->at, .acts = &acts[i]};
    }
    visit->n_acts++;
    visit->open_min += w->act.work_min / PW_VISIT_HANDS;
    visit->is_priced = visit->is_priced || w->is_fixed;
  }
  return name_all(out, ev, lots, a, arena);
}

pw_status pw_visits_keep(struct pw_visits *out, const struct pw_visits *visits,
                         bool (*is_kept)(void *user, int visit, int act), void *user, const struct pw_event *ev,
                         const struct pw_lots *lots, const struct pw_allocation *a, struct pw_ctx *ctx)
{
  size_t n_acts = 0;
  *out = (struct pw_visits){0};
  for (int v = 0; v < visits->n_visits; v++)
    n_acts += (size_t)visits->visits[v].n_acts;
  struct pw_visits kept = {pw_arena_array(ctx->arena, (size_t)visits->n_visits + 1, sizeof *kept.visits), 0};
  struct pw_visit_act *acts = pw_arena_array(ctx->arena, n_acts + 1, sizeof *acts);
  if (!kept.visits || !acts)
    return PW_ERR_MEMORY;
  for (int v = 0; v < visits->n_visits; v++) {
    struct pw_visit *visit = &kept.visits[kept.n_visits];
    *visit = visits->visits[v];
    visit->acts = acts;
    visit->n_acts = 0;
    visit->open_min = 0;
    for (int k = 0; k < visits->visits[v].n_acts; k++)
      if (is_kept(user, v, k)) {
        visit->acts[visit->n_acts++] = visits->visits[v].acts[k];
        visit->open_min += visits->visits[v].acts[k].work_min / PW_VISIT_HANDS;
      }
    acts += visit->n_acts;
    kept.n_visits += visit->n_acts > 0;
  }
  pw_status status = name_all(&kept, ev, lots, a, ctx->arena);
  if (status == PW_OK)
    *out = kept;
  return status;
}

pw_status pw_visits_make(struct pw_visits *out, const struct pw_event *ev, const struct pw_lots *lots,
                         const struct pw_allocation *a, struct pw_ctx *ctx)
{
  struct wants wants = {0};
  struct pw_visits visits = {0};
  *out = visits;
  pw_status status = PW_OK;
  for (int i = 0; i < a->n_loads && status == PW_OK; i++)
    if (a->loads[i].zone != PW_NONE)
      status = wants_of(&wants, ev, lots, a, i, ctx->arena);
  if (status != PW_OK)
    return status;
  if (wants.n > 1)
    qsort(wants.want, wants.n, sizeof *wants.want, by_pit);
  for (size_t i = 0, k; i < wants.n; i = k) {
    for (k = i + 1; k < wants.n && wants.want[k].pit == wants.want[i].pit; k++)
      ;
    gather(&wants.want[i], k - i);
  }
  if (wants.n > 1)
    qsort(wants.want, wants.n, sizeof *wants.want, by_visit);
  status = fill(&visits, &wants, ev, lots, a, ctx->arena);
  if (status == PW_OK)
    *out = visits;
  return status;
}

int pw_visit_at(const struct pw_visits *visits, int pit, int at_min)
{
  for (int v = 0; v < visits->n_visits; v++)
    if (visits->visits[v].pit == pit && visits->visits[v].at_min == at_min)
      return v;
  return PW_NONE;
}

int pw_visit_since_min(const struct pw_visits *visits, int visit)
{
  const struct pw_visit *v = &visits->visits[visit];
  return visit > 0 && v[-1].pit == v->pit ? v->at_min - v[-1].at_min : INT_MAX;
}

double pw_visits_open_min(const struct pw_visits *visits, int pit, int from_at_min, int to_at_min)
{
  double until = from_at_min, sum = 0.0; /* one door: what overlaps counts once */
  for (int v = 0; v < visits->n_visits; v++) {
    const struct pw_visit *visit = &visits->visits[v];
    if (visit->pit != pit || visit->at_min >= to_at_min)
      continue;
    double a = fmax(visit->at_min, until), b = fmin(visit->at_min + visit->open_min, to_at_min);
    if (b > a) {
      sum += b - a;
      until = b;
    }
  }
  return sum;
}

int pw_visits_count(const struct pw_visits *visits, int pit, int from_at_min, int to_at_min)
{
  int n = 0;
  for (int v = 0; v < visits->n_visits; v++)
    n +=
        visits->visits[v].pit == pit && visits->visits[v].at_min > from_at_min && visits->visits[v].at_min <= to_at_min;
  return n;
}
