/* plan_check_flow.c - where every piece goes, stage by stage [J1] [J2] [J3] [J4] [J8].
 * In: lots, loads, places, services.  Out: findings.  Idea: a lot's pieces are all alike, so it is enough to count:
 * at each minute as many must enter a stage as left the one before. */
#include "base/arena.h"
#include "judge/plan_check_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define KELVIN_SLACK 1e-6 /* decimals of a file are rounded */

/** Loads of one lot: indices into plan->loads, by stage. */
struct flow {
  struct pw_judge *judge;
  const struct pw_seen_plan *plan;
  const struct pw_seen_lot *lot;
  int lot_index, service_at_min;
  const int *loads;
  int n_loads;
  int n_in[4]; /**< loads of each stage */
};

static const struct pw_seen_load *load_at(const struct flow *f, int k) { return &f->plan->loads[f->loads[k]]; }

/* ---- one load [J3] [J4] [J8] ----------------------------------------------------------------------------- */

static const char *place_name(const struct pw_seen_plan *plan, const struct pw_seen_load *load)
{
  const struct pw_seen_zone *zone = pw_check_zone(plan, load);
  return zone ? zone->id : pw_check_finisher(plan, load)->id;
}

static bool is_right_kind(const struct pw_seen_plan *plan, const struct pw_seen_load *load)
{
  const struct pw_seen_finisher *finisher = pw_check_finisher(plan, load);
  switch (load->stage) {
  case PW_SEEN_SMOKE: /* [J19] on a day without its fire an oven takes what is open */
    return !finisher || (finisher->kind == 0 && plan->now_min != PW_SEEN_NO_TIME);
  case PW_SEEN_FINISH:
    return !finisher || finisher->kind == 0;
  default:
    return finisher && finisher->kind == 1;
  }
}

static void check_length(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_load *load = &plan->loads[i];
  const struct pw_seen_lot *lot = &plan->lots[load->lot];
  int minutes = load->end_min - load->start_min, said = PW_SEEN_NONE;
  for (int k = 0; k < lot->n_times; k++)
    if (lot->times[k].stage == load->stage && lot->times[k].place == load->place) {
      said = lot->times[k].minutes;
      bool is_mended = plan->now_min != PW_SEEN_NO_TIME && !isnan(load->pace_frac);
      if (is_mended ? fabs(said * load->pace_frac - minutes) < 0.5 : said == minutes)
        return;
    }
  if (load->stage == PW_SEEN_REST || load->stage == PW_SEEN_HOLD)
    return; /* [J8] has their limits */
  if (said == PW_SEEN_NONE)
    pw_judge_find(judge, "J3", "loads[%d]: stage_times of \"%s\" has no %s in \"%s\"", i, lot->id,
                  pw_seen_stages[load->stage], place_name(plan, load));
  else
    pw_judge_find(judge, "J3", "loads[%d]: lasts %d min, stage_times says %d for %s of \"%s\" in \"%s\"", i, minutes,
                  said, pw_seen_stages[load->stage], lot->id, place_name(plan, load));
}

static void check_temperature(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_load *load = &plan->loads[i];
  const struct pw_seen_lot *lot = &plan->lots[load->lot];
  if (load->stage != PW_SEEN_SMOKE && load->stage != PW_SEEN_FINISH)
    return;
  const struct pw_seen_zone *zone = pw_check_zone(plan, load);
  double temp_c = zone ? zone->temp_c : pw_check_finisher(plan, load)->temp_c;
  const double *range = load->stage == PW_SEEN_SMOKE ? lot->smoke_range_c : lot->finish_range_c;
  if (temp_c < range[0] - KELVIN_SLACK || temp_c > range[1] + KELVIN_SLACK)
    pw_judge_find(judge, "J4", "loads[%d]: \"%s\" is at %.4g C, %s of \"%s\" wants %.4g to %.4g C", i,
                  place_name(plan, load), temp_c, pw_seen_stages[load->stage], lot->id, range[0], range[1]);
}

/** When a lot has to be rested: its service, or the last moment to begin chilling [J14]. */
static int due_min(const struct pw_seen_plan *plan, const struct pw_seen_lot *lot)
{
  int late_min = plan->now_min != PW_SEEN_NO_TIME ? lot->late_min : 0; /* [J19] asks that it is told */
  return (lot->is_day_before ? lot->chill_by_min : pw_check_begin_min(plan, lot)) + late_min;
}

/** A warning of a mended plan: came off early, held longer than it may. */
static bool is_held_long_told(const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    if (pw_check_is(plan->warnings[i].code, "held-long"))
      return true;
  return false;
}

static void check_rest_and_hold(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_load *load = &plan->loads[i];
  const struct pw_seen_lot *lot = &plan->lots[load->lot];
  int minutes = load->end_min - load->start_min, service = due_min(plan, lot), whole = pw_check_whole_min(lot);
  if (load->stage == PW_SEEN_REST && minutes < lot->rest_min)
    pw_judge_find(judge, "J8", "loads[%d]: rests %d min, \"%s\" needs %d", i, minutes, lot->id, lot->rest_min);
  if (load->stage == PW_SEEN_REST && minutes > lot->rest_min + lot->hold_max_min + lot->over_min)
    pw_judge_find(judge, "J8", "loads[%d]: rests %d min, longer than rest and longest hold of \"%s\" (%d + %d)", i,
                  minutes, lot->id, lot->rest_min, lot->hold_max_min);
  bool is_fact =
      plan->now_min != PW_SEEN_NO_TIME && load->start_min - lot->rest_min < plan->now_min; /* [J19] it is off */
  if (load->stage == PW_SEEN_HOLD && minutes > lot->hold_max_min + lot->over_min &&
      !(is_fact && is_held_long_told(plan)))
    pw_judge_find(judge, "J8", "loads[%d]: holds %d min, \"%s\" may hold %d", i, minutes, lot->id, lot->hold_max_min);
  if (load->stage == PW_SEEN_HOLD && load->end_min != service + whole &&
      (lot->late_min == 0 || load->end_min != pw_check_begin_min(plan, lot) + whole))
    pw_judge_find(judge, "J8", "loads[%d]: the hold ends at minute %d, the service begins at %d%s", i, load->end_min,
                  service, whole > 0 ? " and the last piece is whole beyond that" : "");
  else if (load->end_min > service + whole)
    pw_judge_find(judge, "J8", "loads[%d]: ends at minute %d, after its service begins at %d", i, load->end_min,
                  service);
}

/** False when the load makes no sense as such: then the counts would only repeat it. */
static bool check_load(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_load *load = &plan->loads[i];
  if (load->end_min <= load->start_min) {
    pw_judge_find(judge, "J3", "loads[%d]: ends at minute %d, not after it starts at %d", i, load->end_min,
                  load->start_min);
    return false;
  }
  if (!is_right_kind(plan, load)) {
    pw_judge_find(judge, "J2", "loads[%d]: \"%s\" is no place for the stage %s", i, place_name(plan, load),
                  pw_seen_stages[load->stage]);
    return false;
  }
  check_length(judge, plan, i);
  check_temperature(judge, plan, i);
  check_rest_and_hold(judge, plan, i);
  return true;
}

/* ---- counting [J1] [J2] ------------------------------------------------------------------------------------ */

static void check_placed(const struct flow *f)
{
  long placed = 0;
  for (int k = 0; k < f->n_loads; k++)
    if (load_at(f, k)->stage == PW_SEEN_SMOKE)
      placed += load_at(f, k)->pieces;
  if (f->lot->missed > f->lot->pieces)
    pw_judge_find(f->judge, "J1", "lots[%d]: %d pieces missed of %d", f->lot_index, f->lot->missed, f->lot->pieces);
  else if (placed != f->lot->pieces - f->lot->missed)
    pw_judge_find(f->judge, "J1", "lots[%d]: \"%s\" has %d pieces, %d missed, but %ld in smoke loads", f->lot_index,
                  f->lot->id, f->lot->pieces, f->lot->missed, placed);
}

struct change {
  int at_min;
  long leave, enter;
};

static int by_minute(const void *pa, const void *pb)
{
  const struct change *a = pa, *b = pb;
  return (a->at_min > b->at_min) - (a->at_min < b->at_min);
}

/** What leaves stage `from` at a minute enters stage `to` at that minute.  Nothing has to enter at or after the
 *  service when `may_end` is set.  Returns the number of findings. */
static int check_pass(const struct flow *f, int from, int to, bool may_end, struct change *changes)
{
  int n = 0, n_found = 0;
  for (int k = 0; k < f->n_loads; k++) {
    const struct pw_seen_load *load = load_at(f, k);
    if (load->stage == from)
      changes[n++] = (struct change){load->end_min, load->pieces, 0};
    else if (load->stage == to)
      changes[n++] = (struct change){load->start_min, 0, load->pieces};
  }
  qsort(changes, (size_t)n, sizeof *changes, by_minute);
  for (int i = 0; i < n;) {
    struct change sum = {changes[i].at_min, 0, 0};
    for (; i < n && changes[i].at_min == sum.at_min; i++) {
      sum.leave += changes[i].leave;
      sum.enter += changes[i].enter;
    }
    bool is_served = may_end && sum.at_min >= f->service_at_min - f->lot->late_min && sum.enter == 0;
    if (sum.leave == sum.enter || is_served)
      continue;
    pw_judge_find(f->judge, "J2", "lots[%d]: at minute %d %ld pieces of \"%s\" leave the %s and %ld enter the %s",
                  f->lot_index, sum.at_min, sum.leave, f->lot->id, pw_seen_stages[from], sum.enter, pw_seen_stages[to]);
    n_found++;
  }
  return n_found;
}

/** Cooked in time for the service, for pieces that are neither rested nor held in a box [J8]. */
static void check_unboxed(const struct flow *f, int last)
{
  for (int k = 0; k < f->n_loads; k++) {
    const struct pw_seen_load *load = load_at(f, k);
    int spare = f->service_at_min - f->lot->rest_min - load->end_min;
    if (load->stage == last &&
        (spare < 0 || spare + pw_check_whole_min(f->lot) > f->lot->hold_max_min + f->lot->over_min))
      pw_judge_find(
          f->judge, "J8",
          "loads[%d]: done at minute %d; with %d min rest and at most %d min hold it misses the service at %d",
          f->loads[k], load->end_min, f->lot->rest_min, f->lot->hold_max_min, f->service_at_min);
  }
}

/** The lot is cooked as early as it says it is aimed, and its hour is that of its meal (or of its chilling) [J20]. */
static void check_aim(const struct flow *f, int last)
{
  const struct pw_seen_lot *lot = f->lot;
  int late_min = f->plan->now_min == PW_SEEN_NO_TIME ? 0 : lot->late_min;
  if (lot->by_min != PW_SEEN_NO_TIME && lot->by_min != f->service_at_min - late_min)
    pw_judge_find(f->judge, "J20", "lots[%d].by_min: %d, \"%s\" is wanted at minute %d", f->lot_index, lot->by_min,
                  lot->id, f->service_at_min);
  for (int k = 0; k < f->n_loads; k++) {
    const struct pw_seen_load *load = load_at(f, k);
    if (f->plan->now_min == PW_SEEN_NO_TIME && lot->early_min > 0 && load->stage == last && /* mended, it is used up */
        load->end_min + lot->rest_min + lot->knives_min + lot->early_min > f->service_at_min)
      pw_judge_find(
          f->judge, "J20",
          "lots[%d].early_min: %d, and loads[%d] ends at minute %d: rest, knives and so long before %d is later",
          f->lot_index, lot->early_min, f->loads[k], load->end_min, f->service_at_min);
  }
}

static int check_passes(const struct flow *f, struct change *changes)
{
  int n_found = 0, last = PW_SEEN_SMOKE;
  bool has_finish = f->n_in[PW_SEEN_FINISH] > 0;
  for (int k = 0; k < f->lot->n_times; k++)
    has_finish = has_finish || f->lot->times[k].stage == PW_SEEN_FINISH;
  if (has_finish) {
    n_found += check_pass(f, PW_SEEN_SMOKE, PW_SEEN_FINISH, false, changes);
    last = PW_SEEN_FINISH;
  }
  check_aim(f, last);
  bool is_boxed =
      (f->lot->pans > 0 && !f->lot->is_day_before) || f->n_in[PW_SEEN_REST] > 0 || f->n_in[PW_SEEN_HOLD] > 0;
  if (!is_boxed) {
    check_unboxed(f, last);
    return n_found;
  }
  if (f->lot->rest_min > 0 || f->n_in[PW_SEEN_REST] > 0) {
    n_found += check_pass(f, last, PW_SEEN_REST, false, changes);
    last = PW_SEEN_REST;
  }
  return n_found + check_pass(f, last, PW_SEEN_HOLD, true, changes);
}

/* ---- piece by piece, when the plan names the pieces ---------------------------------------------------------- */

struct trace {
  int start_min[4], end_min[4];
  int seen_by[4]; /**< lot index + 1 that wrote the stage */
};

/** Notes when each piece is in each stage; false after a finding. */
static bool trace_loads(const struct flow *f, struct trace *traces)
{
  for (int k = 0; k < f->n_loads; k++) {
    const struct pw_seen_load *load = load_at(f, k);
    for (int i = 0; i < load->n_ids; i++) {
      int id = load->piece_ids[i];
      if (id >= f->lot->pieces || traces[id].seen_by[load->stage] == f->lot_index + 1) {
        pw_judge_find(f->judge, "J1", "loads[%d].piece_ids[%d]: piece %d of \"%s\" %s", f->loads[k], i, id, f->lot->id,
                      id >= f->lot->pieces ? "does not exist" : "is there twice in this stage");
        return false;
      }
      traces[id].seen_by[load->stage] = f->lot_index + 1;
      traces[id].start_min[load->stage] = load->start_min;
      traces[id].end_min[load->stage] = load->end_min;
    }
  }
  return true;
}

static void check_pieces(const struct flow *f, struct trace *traces)
{
  for (int k = 0; k < f->n_loads; k++)
    if (load_at(f, k)->n_ids == PW_SEEN_NONE)
      return;
  if (!trace_loads(f, traces))
    return;
  for (int k = 0; k < f->n_loads; k++) {
    const struct pw_seen_load *load = load_at(f, k);
    for (int i = 0; i < load->n_ids; i++) {
      const struct trace *t = &traces[load->piece_ids[i]];
      int last = load->stage - 1;
      while (last >= 0 && t->seen_by[last] != f->lot_index + 1)
        last--;
      if (last >= 0 && t->end_min[last] != load->start_min) {
        pw_judge_find(f->judge, "J2", "loads[%d].piece_ids[%d]: piece %d of \"%s\" left the %s at minute %d, not %d",
                      f->loads[k], i, load->piece_ids[i], f->lot->id, pw_seen_stages[last], t->end_min[last],
                      load->start_min);
        break;
      }
    }
  }
}

/* ---- all lots -------------------------------------------------------------------------------------------------- */

pw_status pw_check_flow(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  struct pw_arena *arena = judge->ctx->arena;
  size_t n_loads = (size_t)plan->n[PW_SEEN_LOADS], n_lots = (size_t)plan->n[PW_SEEN_LOTS];
  int *order = pw_arena_array(arena, n_loads, sizeof *order), *first = pw_arena_array(arena, n_lots + 2, sizeof *first);
  bool *is_broken = pw_arena_array(arena, n_lots, sizeof *is_broken);
  struct change *changes = pw_arena_array(arena, n_loads, sizeof *changes);
  int most = 0;
  for (size_t c = 0; c < n_lots; c++)
    most = plan->lots[c].pieces > most ? plan->lots[c].pieces : most;
  struct trace *traces = pw_arena_array(arena, (size_t)most, sizeof *traces);
  if (!order || !first || !is_broken || !changes || !traces)
    return PW_ERR_MEMORY;
  for (size_t i = 0; i < n_loads; i++) {
    if (!check_load(judge, plan, (int)i))
      is_broken[plan->loads[i].lot] = true;
    first[plan->loads[i].lot + 2]++;
  }
  for (size_t c = 2; c < n_lots + 2; c++) /* loads in order of their lot: counting sort */
    first[c] += first[c - 1];
  for (size_t i = 0; i < n_loads; i++)
    order[first[plan->loads[i].lot + 1]++] = (int)i;
  for (size_t c = 0; c < n_lots; c++) {
    const struct pw_seen_lot *lot = &plan->lots[c];
    struct flow f = {.judge = judge,
                     .plan = plan,
                     .lot = lot,
                     .lot_index = (int)c,
                     .service_at_min = due_min(plan, lot),
                     .loads = order + first[c],
                     .n_loads = first[c + 1] - first[c]};
    for (int k = 0; k < f.n_loads; k++)
      f.n_in[load_at(&f, k)->stage]++;
    if (is_broken[c])
      continue;
    int n_before = judge->n_findings;
    check_placed(&f);
    int n_found = check_passes(&f, changes);
    if (n_found == 0 && judge->n_findings == n_before)
      check_pieces(&f, traces);
  }
  return PW_OK;
}
