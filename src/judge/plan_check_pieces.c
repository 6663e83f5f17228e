/* plan_check_pieces.c - every piece's own day [J15]: the tasks its loads ask for, in the order a cook does them; the spot it
 * lies on is free before the next one comes; mops.
 * In: loads, tasks.  Out: findings and pairs. */
#include "base/arena.h"
#include "judge/plan_check_order.h"
#include "judge/plan_check_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
  LATE_MIN =
      30, /* a stage change waits so long for free hands before the plan has to say so; common practice, no source */
  SPOT_WITHIN_MIN = 90, /* what lay there longer ago was taken off long ago, or its own rule says so */
  PROBED_BEFORE_MIN = 30,
  PROBED_FROM_MIN = 75, /* what cooks so long is read before it comes off; half an hour before the end, in a visit */
  HOLD_READ_MIN = 180,  /* three quarters of the 4 h of FDA Food Code 2022 3-501.19(B) */
  MOP_WRAP_MIN = 45     /* no mop so shortly before the wrap: the crust dries first; common practice, no source */
};
#define COMPARE_MAX 4e8 /* pairs of rectangles looked at before giving up: no real plan comes near */

#define KIND(k) (1ull << PW_SEEN_##k)
enum { WRAPS = KIND(WRAP) | KIND(WRAP_CARRY), MOVES = KIND(CARRY) | KIND(WRAP_CARRY) };

/** Place of a task in the day of a piece, -1: not part of it. */
static int rank_of(const struct pw_seen_plan *plan, const struct pw_seen_task *task)
{
  static const enum pw_seen_task_kind order[][2] = {{PW_SEEN_THAW, PW_SEEN_THAW},
                                                    {PW_SEEN_BRINE, PW_SEEN_BRINE},
                                                    {PW_SEEN_PREP, PW_SEEN_PREP},
                                                    {PW_SEEN_LOAD, PW_SEEN_LOAD},
                                                    {PW_SEEN_BARK_TEST, PW_SEEN_BARK_TEST},
                                                    {PW_SEEN_MOP, PW_SEEN_MOP},
                                                    {PW_SEEN_TURN, PW_SEEN_TURN},
                                                    {PW_SEEN_CORE_READ, PW_SEEN_CORE_READ},
                                                    {PW_SEEN_WRAP, PW_SEEN_WRAP_CARRY},
                                                    {PW_SEEN_CARRY, PW_SEEN_CARRY},
                                                    {PW_SEEN_PROBE, PW_SEEN_PROBE},
                                                    {PW_SEEN_OFF, PW_SEEN_OFF},
                                                    {PW_SEEN_REST_OVER, PW_SEEN_REST_OVER},
                                                    {PW_SEEN_HOLD_CHECK, PW_SEEN_HOLD_CHECK},
                                                    {PW_SEEN_CHILL, PW_SEEN_CHILL},
                                                    {PW_SEEN_COOL_CHECK, PW_SEEN_COOL_CHECK},
                                                    {PW_SEEN_CUT, PW_SEEN_CUT},
                                                    {PW_SEEN_REHEAT, PW_SEEN_REHEAT},
                                                    {PW_SEEN_PAN_UP, PW_SEEN_PAN_UP}};
  const int n = (int)(sizeof order / sizeof *order);
  bool is_read = task->kind == PW_SEEN_PROBE || task->kind == PW_SEEN_CORE_READ || task->kind == PW_SEEN_HOLD_CHECK;
  for (int i = 0; is_read && i < plan->n[PW_SEEN_REHEATS]; i++) /* read once more when it is hot again */
    if (plan->reheats[i].lot == task->lot && task->at_min >= plan->reheats[i].from_min)
      return 2 * n - 1;
  for (int i = 0; i < n; i++)
    if (task->kind == (int)order[i][0] || task->kind == (int)order[i][1])
      return 2 * i;
  return -1;
}

/* ---- reading ---------------------------------------------------------------------------------------------------- */

struct at {
  int rank, at_min, task;
};

static int by_rank(const void *pa, const void *pb)
{
  const struct at *a = pa, *b = pb;
  if (a->rank != b->rank)
    return a->rank < b->rank ? -1 : 1;
  if (a->at_min != b->at_min)
    return a->at_min < b->at_min ? -1 : 1;
  return (a->task > b->task) - (a->task < b->task);
}

static bool is_of_piece(const struct pw_seen_lot *lot, int piece) { return piece >= 0 && piece < lot->pieces; }

/* seen: per piece the last task that named it, + 1. */
static void find_twins(struct pw_order *o, int lot, const struct at *sorted, size_t n, int *seen)
{
  for (size_t i = 0; i < n; i++) {
    const struct pw_seen_task *task = &o->plan->tasks[sorted[i].task];
    for (int k = 0; k < task->n_ids; k++) {
      if (!is_of_piece(&o->plan->lots[lot], task->piece_ids[k]))
        continue;
      if (seen[task->piece_ids[k]] == sorted[i].task + 1)
        pw_judge_find(o->judge, "J15", "tasks[%d].piece_ids[%d]: piece %d of \"%s\" is there twice", sorted[i].task, k,
                      task->piece_ids[k], o->plan->lots[lot].id);
      seen[task->piece_ids[k]] = sorted[i].task + 1;
    }
  }
}

static void read_tasks(struct pw_order *o, int lot, const struct at *sorted, size_t n)
{
  const struct pw_seen_plan *plan = o->plan;
  struct pw_order_lot *of = &o->lots[lot];
  size_t pieces = (size_t)plan->lots[lot].pieces;
  memset(of->first, 0, (pieces + 2) * sizeof *of->first);
  size_t sum = 0;
  for (int pass = 0; pass < 2; pass++) {
    for (size_t i = 0; i < n; i++) {
      const struct pw_seen_task *task = &plan->tasks[sorted[i].task];
      for (int k = 0; k < task->n_ids; k++) {
        if (!is_of_piece(&plan->lots[lot], task->piece_ids[k])) {
          if (pass == 0)
            pw_judge_find(o->judge, "J15", "tasks[%d].piece_ids: \"%s\" has no piece %d", sorted[i].task,
                          plan->lots[lot].id, task->piece_ids[k]);
        } else if (pass == 0) {
          of->first[task->piece_ids[k] + 2]++;
          sum++;
        } else
          of->tasks[of->first[task->piece_ids[k] + 1]++] = sorted[i].task;
      }
    }
    if (pass == 1)
      return;
    for (size_t p = 0; p < pieces; p++)
      of->first[p + 2] += of->first[p + 1];
    of->tasks = pw_arena_array(o->judge->ctx->arena, sum, sizeof *of->tasks);
    if (!of->tasks) {
      o->has_no_memory = true;
      return;
    }
  }
}

static void read_loads(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    if (load->n_ids == PW_SEEN_NONE)
      pw_judge_find(o->judge, "J15", "loads[%d].piece_ids: is missing; the tasks name pieces", i);
    for (int k = 0; k < load->n_ids; k++)
      if (is_of_piece(&plan->lots[load->lot], load->piece_ids[k]))
        o->lots[load->lot].loads[load->piece_ids[k] * 4 + load->stage] = i;
  }
}

void pw_order_read_pieces(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  struct pw_arena *arena = o->judge->ctx->arena;
  struct at *sorted = pw_arena_array(arena, (size_t)plan->n[PW_SEEN_TASKS], sizeof *sorted);
  o->lots = pw_arena_array(arena, (size_t)plan->n[PW_SEEN_LOTS], sizeof *o->lots);
  if (!sorted || !o->lots) {
    o->has_no_memory = true;
    return;
  }
  for (int lot = 0; lot < plan->n[PW_SEEN_LOTS] && !o->has_no_memory; lot++) {
    size_t n = 0, pieces = (size_t)plan->lots[lot].pieces;
    for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
      int rank = plan->tasks[i].lot == lot && plan->tasks[i].kind != PW_SEEN_NONE ? rank_of(plan, &plan->tasks[i]) : -1;
      if (rank < 0)
        continue;
      if (plan->tasks[i].n_ids <= 0)
        pw_judge_find(o->judge, "J15", "tasks[%d].piece_ids: names no piece of \"%s\"", i, plan->lots[lot].id);
      sorted[n++] = (struct at){rank, plan->tasks[i].at_min, i};
    }
    if (n > 1)
      qsort(sorted, n, sizeof *sorted, by_rank);
    o->lots[lot].first = pw_arena_array(arena, pieces + 2, sizeof *o->lots[lot].first);
    o->lots[lot].loads = pw_arena_array(arena, pieces * 4, sizeof *o->lots[lot].loads);
    int *seen = pw_arena_array(arena, pieces, sizeof *seen);
    if (!o->lots[lot].first || !o->lots[lot].loads || !seen) {
      o->has_no_memory = true;
      return;
    }
    for (size_t i = 0; i < pieces * 4; i++)
      o->lots[lot].loads[i] = PW_SEEN_NONE;
    find_twins(o, lot, sorted, n, seen);
    read_tasks(o, lot, sorted, n);
  }
  if (!o->has_no_memory)
    read_loads(o);
}

int pw_order_task_of(const struct pw_order *o, int lot, int piece, unsigned long long kinds)
{
  const struct pw_order_lot *of = &o->lots[lot];
  for (size_t i = of->first[piece + 1]; i-- > of->first[piece];)
    if (kinds >> o->plan->tasks[of->tasks[i]].kind & 1u)
      return of->tasks[i];
  return PW_SEEN_NONE;
}

int pw_order_last_cook(const struct pw_order *o, int lot, int piece)
{
  const int *loads = o->lots[lot].loads + (size_t)piece * 4;
  return loads[PW_SEEN_FINISH] != PW_SEEN_NONE ? loads[PW_SEEN_FINISH] : loads[PW_SEEN_SMOKE];
}

int pw_order_puts_in(const struct pw_order *o, int lot, int piece, int load)
{
  const int *loads = o->lots[lot].loads + (size_t)piece * 4;
  bool is_second = o->plan->loads[load].stage == PW_SEEN_FINISH && loads[PW_SEEN_SMOKE] != PW_SEEN_NONE;
  return pw_order_task_of(o, lot, piece, is_second ? (unsigned)(WRAPS | MOVES) : KIND(LOAD));
}

int pw_order_takes_out(const struct pw_order *o, int lot, int piece, int load)
{
  if (load == pw_order_last_cook(o, lot, piece))
    return pw_order_task_of(o, lot, piece, KIND(OFF));
  return pw_order_task_of(o, lot, piece, WRAPS | MOVES);
}

/* ---- what the loads ask for ---------------------------------------------------------------------------------------- */

/** Where a load is, in the words of a task's place. */
static int in_words(const struct pw_seen_plan *plan, int place)
{
  int n_zones = plan->n[PW_SEEN_ZONES];
  return place < n_zones ? plan->racks[plan->zones[place].rack].pit : plan->n[PW_SEEN_PITS] + place - n_zones;
}

static int place_of(const struct pw_seen_plan *plan, int load) { return in_words(plan, plan->loads[load].place); }

/** One task of the kinds for the piece, begun at the minute or little later. */
static void ask(struct pw_order *o, int lot, int piece, unsigned long long kinds, const char *words, int at_min)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_order_lot *of = &o->lots[lot];
  int n = 0, task = pw_order_task_of(o, lot, piece, kinds);
  for (size_t i = of->first[piece]; i < of->first[piece + 1]; i++)
    n += (kinds >> plan->tasks[of->tasks[i]].kind & 1u) != 0;
  if (n != 1)
    pw_judge_find(o->judge, "J15", "tasks: piece %d of \"%s\" has %d tasks to %s, it needs one", piece,
                  plan->lots[lot].id, n, words);
  else if (at_min != PW_SEEN_NO_TIME &&
           (plan->tasks[task].at_min < at_min ||
            (plan->tasks[task].person != PW_SEEN_NONE && /* what nobody does is told as such, and has no minute */
             plan->tasks[task].at_min > at_min + LATE_MIN + pw_order_told_late(&plan->tasks[task]))))
    pw_judge_find(o->judge, "J15", "tasks[%d]: to %s piece %d of \"%s\" at minute %d, its load says %d", task, words,
                  piece, plan->lots[lot].id, plan->tasks[task].at_min, at_min);
}

static void ask_place(struct pw_order *o, int lot, int piece, int task, int load)
{
  const struct pw_seen_plan *plan = o->plan;
  int from = plan->loads[load].carried_from; /* [J19] it went there first */
  if (task == PW_SEEN_NONE || plan->tasks[task].to_place == place_of(plan, load) ||
      (from != PW_SEEN_NONE && plan->tasks[task].to_place == in_words(plan, from)))
    return;
  pw_judge_find(o->judge, "J15", "tasks[%d].to_place: piece %d of \"%s\" goes to \"%s\"", task, piece,
                plan->lots[lot].id,
                plan->loads[load].place < plan->n[PW_SEEN_ZONES]
                    ? plan->pits[place_of(plan, load)].id
                    : plan->finishers[plan->loads[load].place - plan->n[PW_SEEN_ZONES]].id);
}

static bool is_work(double minutes) { return isnan(minutes) || minutes > 0; }

/** Read while it is in the load. */
static bool is_read_in(const struct pw_order *o, int lot, int piece, int load)
{
  const struct pw_order_lot *of = &o->lots[lot];
  for (size_t i = of->first[piece]; i < of->first[piece + 1]; i++) {
    const struct pw_seen_task *task = &o->plan->tasks[of->tasks[i]];
    if ((task->kind == PW_SEEN_CORE_READ || task->kind == PW_SEEN_PROBE) &&
        task->at_min >= o->plan->loads[load].start_min)
      return true;
  }
  return false;
}

/** Cooked the day before: which of its pieces find an oven the file does not say, so not each has to be cut. */
static bool chilled_to_be_reheated(const struct pw_seen_plan *plan, int lot)
{
  int reheated = 0;
  bool is = false;
  for (int i = 0; i < plan->n[PW_SEEN_CHILLS]; i++)
    is = is || plan->chills[i].lot == lot;
  for (int i = 0; i < plan->n[PW_SEEN_REHEATS]; i++)
    reheated += plan->reheats[i].lot == lot ? plan->reheats[i].pieces : 0;
  return is && reheated < plan->lots[lot].pieces;
}

/** In its brine so long as the lot asks, out of it when it is made ready; or a warning that it is not brined. */
static void ask_brine(struct pw_order *o, int lot, int piece)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_lot *l = &plan->lots[lot];
  int in = pw_order_task_of(o, lot, piece, KIND(BRINE)), out = pw_order_task_of(o, lot, piece, KIND(PREP));
  bool is_told = false;
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    is_told = is_told || strcmp(plan->warnings[i].code, "not-brined") == 0;
  if (l->brine_least_min == PW_SEEN_NO_TIME || (in == PW_SEEN_NONE && is_told))
    return;
  ask(o, lot, piece, KIND(BRINE), "brine", PW_SEEN_NO_TIME);
  if (in == PW_SEEN_NONE || out == PW_SEEN_NONE)
    return;
  int lies = plan->tasks[out].at_min - plan->tasks[in].at_min - plan->tasks[in].minutes;
  if (lies < l->brine_least_min || lies > l->brine_most_min + pw_order_told_late(&plan->tasks[out]))
    pw_judge_find(o->judge, "J15", "tasks[%d]: piece %d of \"%s\" lies %d min in brine, %d to %d are asked for", out,
                  piece, l->id, lies, l->brine_least_min, l->brine_most_min);
}

static void ask_for_piece(struct pw_order *o, int lot, int piece)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_seen_lot *l = &plan->lots[lot];
  const int *loads = o->lots[lot].loads + (size_t)piece * 4;
  int cook = pw_order_last_cook(o, lot, piece), smoke = loads[PW_SEEN_SMOKE], finish = loads[PW_SEEN_FINISH];
  if (cook == PW_SEEN_NONE) {
    if (o->lots[lot].first[piece] != o->lots[lot].first[piece + 1] && plan->n[PW_SEEN_REHEATS] == 0)
      pw_judge_find(o->judge, "J15", "tasks[%d]: piece %d of \"%s\" is cooked nowhere",
                    o->lots[lot].tasks[o->lots[lot].first[piece]], piece, l->id);
    return;
  }
  if (!isnan(l->prep_min) && l->prep_min > 0)
    ask(o, lot, piece, KIND(PREP), "make ready", PW_SEEN_NO_TIME);
  ask_brine(o, lot, piece);
  if (smoke != PW_SEEN_NONE) {
    ask(o, lot, piece, KIND(LOAD), "load", plan->loads[smoke].start_min);
    ask_place(o, lot, piece, pw_order_task_of(o, lot, piece, KIND(LOAD)), smoke);
    if (l->coals_turns != PW_SEEN_NONE && !isnan(l->coals_turn_work_min) && l->coals_turn_work_min > 0)
      ask(o, lot, piece, KIND(TURN), "turn", PW_SEEN_NO_TIME);
  }
  if (smoke != PW_SEEN_NONE && finish != PW_SEEN_NONE) {
    bool is_moved = place_of(plan, smoke) != place_of(plan, finish);
    int at = plan->loads[finish].start_min;
    if (is_work(l->wrap_min))
      ask(o, lot, piece, WRAPS, "wrap", at);
    if (is_moved && pw_order_task_of(o, lot, piece, KIND(WRAP_CARRY)) == PW_SEEN_NONE)
      ask(o, lot, piece, KIND(CARRY), "carry", is_work(l->wrap_min) ? PW_SEEN_NO_TIME : at);
    if (is_moved)
      ask_place(o, lot, piece, pw_order_task_of(o, lot, piece, MOVES), finish);
  }
  if (plan->now_min != PW_SEEN_NO_TIME && plan->loads[cook].end_min < plan->now_min)
    return; /* [J19] it is off */
  ask(o, lot, piece, KIND(OFF), "take off", plan->loads[cook].end_min);
  const struct pw_seen_service *meal = &plan->services[l->service];
  bool is_bygone =
      plan->now_min != PW_SEEN_NO_TIME && (plan->loads[cook].end_min - PROBED_BEFORE_MIN < plan->now_min ||
                                           meal->at_min + meal->length_min <= plan->now_min); /* nobody eats it */
  if (!is_bygone && plan->loads[cook].end_min - plan->loads[cook].start_min >= PROBED_FROM_MIN &&
      !is_read_in(o, lot, piece,
                  cook)) /* [J19] a reading that was due before now and not made is made as it comes off */
    pw_judge_find(o->judge, "J15", "tasks: piece %d of \"%s\" comes off at minute %d and nobody reads its core before",
                  piece, l->id, plan->loads[cook].end_min);
  if (l->is_day_before)
    ask(o, lot, piece, KIND(CHILL), "chill", PW_SEEN_NO_TIME);
  bool is_reheated = chilled_to_be_reheated(plan, lot);
  if (!isnan(l->carve_min) && l->carve_min > 0 &&
      (!is_reheated || pw_order_task_of(o, lot, piece, KIND(CUT)) != PW_SEEN_NONE))
    ask(o, lot, piece, KIND(CUT), "cut", PW_SEEN_NO_TIME);
}

/** Read while it is held: often enough until it is cut or served, and not after its service. */
static void ask_hold_checks(struct pw_order *o, int lot, int piece)
{
  const struct pw_seen_plan *plan = o->plan;
  const struct pw_order_lot *of = &o->lots[lot];
  const struct pw_seen_service *service = &plan->services[plan->lots[lot].service];
  int begin = pw_check_begin_min(plan, &plan->lots[lot]);
  int hold = of->loads[(size_t)piece * 4 + PW_SEEN_HOLD];
  int cut = pw_order_task_of(o, lot, piece, KIND(CUT) | KIND(CHILL));
  int until = cut != PW_SEEN_NONE && plan->tasks[cut].at_min < begin ? plan->tasks[cut].at_min : begin;
  if (hold == PW_SEEN_NONE || plan->loads[hold].start_min < plan->now_min) /* [J19] */
    return;
  int read = plan->loads[hold].start_min, gap = 0;
  bool is_told = false; /* readings that nobody has time for */
  for (size_t i = of->first[piece]; i < of->first[piece + 1]; i++) {
    const struct pw_seen_task *task = &plan->tasks[of->tasks[i]];
    if (task->kind != PW_SEEN_HOLD_CHECK)
      continue;
    if (task->at_min + task->minutes > service->at_min + service->length_min)
      pw_judge_find(o->judge, "J15", "tasks[%d]: \"%s\" is read at minute %d, its service is over at %d", of->tasks[i],
                    plan->lots[lot].id, task->at_min, service->at_min + service->length_min);
    is_told = is_told || task->told_late != PW_SEEN_NONE;
    if (task->at_min - read > gap)
      gap = task->at_min - read;
    read = task->at_min > read ? task->at_min : read;
  }
  if (until - read > gap)
    gap = until - read;
  if (gap > HOLD_READ_MIN && !is_told)
    pw_judge_find(o->judge, "J15", "tasks: piece %d of \"%s\" is held for %d min without being read, at most %d", piece,
                  plan->lots[lot].id, gap, HOLD_READ_MIN);
}

void pw_order_pieces(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  for (int lot = 0; lot < plan->n[PW_SEEN_LOTS] && !o->has_no_memory; lot++) {
    const struct pw_order_lot *of = &o->lots[lot];
    for (int piece = 0; piece < plan->lots[lot].pieces; piece++) {
      ask_for_piece(o, lot, piece);
      ask_hold_checks(o, lot, piece);
      for (size_t i = of->first[piece] + 1; i < of->first[piece + 1]; i++)
        pw_order_pair_add(o, of->tasks[i - 1], of->tasks[i], "the same pieces");
    }
  }
}

/* ---- mops ------------------------------------------------------------------------------------------------------------ */

void pw_order_mops(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *mop = &plan->tasks[i];
    if (mop->kind != PW_SEEN_MOP || mop->lot == PW_SEEN_NONE)
      continue;
    for (int k = 0; k < mop->n_ids; k++) {
      int piece = mop->piece_ids[k];
      if (!is_of_piece(&plan->lots[mop->lot], piece))
        continue;
      int wrap = pw_order_task_of(o, mop->lot, piece, WRAPS);
      int smoke = o->lots[mop->lot].loads[piece * 4 + PW_SEEN_SMOKE];
      bool is_fact = plan->now_min != PW_SEEN_NO_TIME && smoke != PW_SEEN_NONE &&
                     plan->loads[smoke].start_min < plan->now_min; /* a test of the past may be nobody's any more */
      if (!is_fact && pw_order_task_of(o, mop->lot, piece, KIND(BARK_TEST)) == PW_SEEN_NONE) {
        pw_judge_find(o->judge, "J15", "tasks[%d]: piece %d of \"%s\" is mopped, its rub was never scratched", i, piece,
                      plan->lots[mop->lot].id);
        break;
      }
      bool is_done =
          plan->now_min != PW_SEEN_NO_TIME && mop->at_min < plan->now_min; /* [J19] wrapped sooner than planned */
      if (!is_done && wrap != PW_SEEN_NONE && plan->tasks[wrap].at_min - (mop->at_min + mop->minutes) < MOP_WRAP_MIN) {
        pw_judge_find(o->judge, "J15", "tasks[%d]: a mop at minute %d, %d min before the wrap, tasks[%d]: at least %d",
                      i, mop->at_min, plan->tasks[wrap].at_min - mop->at_min - mop->minutes, wrap, MOP_WRAP_MIN);
        break;
      }
    }
  }
}

/* ---- spots ----------------------------------------------------------------------------------------------------------- */

struct spot {
  int rack, start_min, load, piece, takes_out, puts_in;
  const struct pw_seen_rect *rect;
};

static int by_rack_and_start(const void *pa, const void *pb)
{
  const struct spot *a = pa, *b = pb;
  if (a->rack != b->rack)
    return a->rack < b->rack ? -1 : 1;
  if (a->start_min != b->start_min)
    return a->start_min < b->start_min ? -1 : 1;
  if (a->load != b->load)
    return a->load < b->load ? -1 : 1;
  return (a->piece > b->piece) - (a->piece < b->piece);
}

static bool is_overlap(const struct pw_seen_rect *a, const struct pw_seen_rect *b)
{
  const double slack = 1e-3; /* a millimetre */
  return a->x_m + a->length_m > b->x_m + slack && b->x_m + b->length_m > a->x_m + slack &&
         a->y_m + a->depth_m > b->y_m + slack && b->y_m + b->depth_m > a->y_m + slack;
}

/** Two wraps that trade spots are done on the table side by side: at one pit, or at one minute from each of two to the other. */
static bool is_trade(const struct pw_seen_plan *plan, int out, int in, int gap_min)
{
  const struct pw_seen_task *a = &plan->tasks[out], *b = &plan->tasks[in];
  return (WRAPS >> a->kind & 1u) && (WRAPS >> b->kind & 1u) &&
         (a->place == b->place || (gap_min == 0 && a->place == b->to_place && b->place == a->to_place));
}

void pw_order_spots(struct pw_order *o)
{
  const struct pw_seen_plan *plan = o->plan;
  size_t n = 0, most = 0;
  double n_compared = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    most += (size_t)plan->loads[i].n_rects;
  struct spot *spots = pw_arena_array(o->judge->ctx->arena, most, sizeof *spots);
  if (!spots) {
    o->has_no_memory = true;
    return;
  }
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    for (int k = 0; k < load->n_rects && k < load->n_ids && load->place < plan->n[PW_SEEN_ZONES]; k++)
      if (is_of_piece(&plan->lots[load->lot], load->piece_ids[k]))
        spots[n++] = (struct spot){plan->zones[load->place].rack,
                                   load->start_min,
                                   i,
                                   load->piece_ids[k],
                                   pw_order_takes_out(o, load->lot, load->piece_ids[k], i),
                                   pw_order_puts_in(o, load->lot, load->piece_ids[k], i),
                                   &load->rects[k]};
  }
  if (n > 1)
    qsort(spots, n, sizeof *spots, by_rack_and_start);
  for (size_t b = 0; b < n && n_compared < COMPARE_MAX; b++)
    for (size_t a = b; a-- > 0 && spots[a].rack == spots[b].rack; n_compared++) {
      int gap = spots[b].start_min - plan->loads[spots[a].load].end_min;
      if (gap < 0 || gap > SPOT_WITHIN_MIN || spots[a].takes_out == PW_SEEN_NONE || spots[b].puts_in == PW_SEEN_NONE ||
          !is_overlap(spots[a].rect, spots[b].rect) || is_trade(plan, spots[a].takes_out, spots[b].puts_in, gap))
        continue;
      pw_order_pair_add(o, spots[a].takes_out, spots[b].puts_in, "the spot on the rack is still taken");
    }
}
