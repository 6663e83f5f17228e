/* task_place.c - a time and a person for every draft, along the graph [S1].
 * In: drafts, edges, people.  Out: tasks, each after those that must be over before it.
 * Drafts are placed by rank, but what comes before one is placed before it: so nothing ever begins before what it waits for is
 * over.  Each has a window: its own, not before its predecessors are over, not later than what follows can bear.  Within it a free
 * person is looked for; where hands are short the work waits beyond the window, and all that follows waits with it. */
#include "base/arena.h"
#include "plan/crew/task_people.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { STEP_MIN = 5, COARSE_STEP_MIN = 15, SMALLEST_BLOCK_MIN = 15, FINE_UP_TO_MIN = 240 };
enum {
  TAKE_IN_WAIT_MIN = 12 * 60
}; /* dry goods left at the door are taken in by the next who comes; common practice, no source */
enum { LONG_WORK_MIN = 30 };
enum {
  WAIT_MOST_MIN = 240
}; /* work waits so long for hands before it is told as nobody's; common practice, no source */

static int floor_to(int at, int step) { return at - at % step - (at % step < 0 ? step : 0); }
static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }

static unsigned duties_of(const struct pw_draft *d) { return d->also | 1u << d->duty; }

static int minutes_of(const struct pw_draft *d, int pieces)
{
  double share = d->pieces > 0 ? (double)pieces / d->pieces : 1;
  return max_int(1, (int)ceil(d->work_min * share - 1e-9));
}

/* Minutes from begin to end with the work shared out in blocks: what a follower has to allow for. */
int pw_task_span(const struct pw_draft *d)
{
  int minutes = minutes_of(d, d->pieces);
  return d->pieces > 1 && minutes > d->block_min ? d->block_min : minutes;
}

/* What cannot wait for hands at all, or only until the guests have gone: from then on it is nobody's, and what comes before it may not
 * make it wait either.  INT_MAX: as long as may be. */
static int last_call(const struct pw_task_list *list, const struct pw_draft *d)
{
  if (d->kind == PW_TASK_ORDER || d->kind == PW_TASK_COOL_CHECK || d->rank == PW_RANK_FIRE ||
      d->rank ==
          PW_RANK_SERVE) /* an order that is late comes too late, and so does a reading that the law has a time for */
    return d->last_at_min + d->slip_min;
  if ((d->rank != PW_RANK_TABLE && d->rank != PW_RANK_KNIVES) || d->service == PW_NONE)
    return INT_MAX;
  const struct pw_service *service = &list->ev->services[d->service];
  return max_int(d->last_at_min, service->at_min + service->length_min - pw_task_span(d));
}

/* Latest begins that let all that follows begin in time, and those beyond which it is lost, from the last drafts backwards.  Edges
 * that go round are left alone: the passes are bounded. */
static void latest_begins(struct pw_task_list *list)
{
  enum { PASSES = 40 };
  int n = (int)list->n_drafts;
  for (int d = 0; d < n; d++) {
    const struct pw_draft *x = &list->drafts[d];
    list->state[d].minutes = minutes_of(x, x->pieces);
    list->state[d].latest_min = x->last_at_min;
    if (x->end_by_min != INT_MAX)
      list->state[d].latest_min = min_int(x->last_at_min, x->end_by_min - pw_task_span(x));
    list->state[d].last_call_min = last_call(list, x);
  }
  bool is_moved = true;
  for (int pass = 0; pass < PASSES && is_moved; pass++) {
    is_moved = false;
    for (size_t e = list->n_edges; e-- > 0;) {
      struct pw_draft_state *before = &list->state[list->edges[e].before];
      const struct pw_draft_state *after = &list->state[list->edges[e].after];
      int span = pw_task_span(&list->drafts[list->edges[e].before]) + list->edges[e].gap_min,
          by = after->latest_min - span;
      if (by < before->latest_min) {
        before->latest_min = by;
        is_moved = true;
      }
      if (after->last_call_min != INT_MAX && after->last_call_min - span < before->last_call_min) {
        before->last_call_min = after->last_call_min - span;
        is_moved = true;
      }
    }
  }
}

/* ---- one task --------------------------------------------------------------------------------------------- */

static void give(struct pw_task_list *list, int draft, enum pw_at at_hand, int offset, int pieces, int at, int minutes,
                 int person)
{
  const struct pw_draft *d = &list->drafts[draft];
  struct pw_draft_state *s = &list->state[draft];
  if (pw_arena_grow(list->ctx->arena, &list->tasks, &list->cap_tasks, list->n_tasks, sizeof *list->tasks) != 0) {
    list->failed = true;
    return;
  }
  if (s->n_tasks++ == 0)
    s->first_task = (int)list->n_tasks;
  s->end_min = max_int(s->end_min, at + minutes);
  s->begin_min = s->n_tasks == 1 ? at : max_int(s->begin_min, at);
  if (person != PW_NONE || d->rank != PW_RANK_BUY) /* also where what it waits for was late */
    s->late_min = max_int(s->late_min, at - (d->last_at_min + d->slip_min));
  const char *where = d->where ? d->where : "";
  if (d->at == PW_AT_KITCHEN && at_hand == PW_AT_SITE && strncmp(where, "kitchen", 7) == 0)
    where = pw_task_words(list, "on site%s", where + 7);
  struct pw_task *t = &list->tasks[list->n_tasks++];
  *t = (struct pw_task){.at_min = at,
                        .minutes = minutes,
                        .kind = d->kind,
                        .duty = d->duty,
                        .crew = person == PW_NONE ? PW_NONE : list->people[person].crew,
                        .person = person,
                        .lot = d->lot,
                        .pit = d->pit,
                        .pieces = pieces,
                        .where = where,
                        .target = d->target ? d->target : "",
                        .at = at_hand,
                        .place = d->place,
                        .to_place = d->to_place,
                        .service = d->service,
                        .dish = d->dish,
                        .piece_ids = pieces > 0 && d->ids ? d->ids + offset : d->ids,
                        .n_ids = pieces > 0 ? (d->ids ? pieces : 0) : d->n_ids,
                        .items = d->items,
                        .n_items = d->n_items,
                        .plates_to_min = d->plates_to_min,
                        .is_in_parts = d->is_in_parts,
                        .visit = d->visit ? d->visit->id : NULL};
  t->what = pieces > 0 ? pw_task_words(list, "%s %d × %s", d->verb, pieces, d->noun) : d->verb;
  if (person != PW_NONE)
    pw_hands_book(list, person, at, minutes, pw_task_way(d, at_hand));
}

/** Where a piece of work looks for its time. */
struct window {
  int first, last;
  bool is_late; /* from the last minute back */
  enum pw_at at;
};

static int free_person(const struct pw_task_list *list, const struct pw_draft *d, int at, int minutes,
                       enum pw_at at_hand)
{
  int who = d->rank == PW_RANK_KNIVES ? /* whoever is not at the line goes first */
                pw_hands_free_without(list, duties_of(d), 1u << PW_DUTY_SERVE, at, minutes, pw_task_way(d, at_hand))
                                      : PW_NONE;
  if (who == PW_NONE)
    who = pw_hands_free(list, 1u << d->duty, at, minutes, pw_task_way(d, at_hand));
  return who != PW_NONE ? who : pw_hands_free(list, duties_of(d), at, minutes, pw_task_way(d, at_hand));
}

/* Looks through a window; true when the work was given to somebody. */
static bool try_window(struct pw_task_list *list, int draft, int offset, int pieces, int minutes, struct window w)
{
  const struct pw_draft *d = &list->drafts[draft];
  int step = w.last - w.first > FINE_UP_TO_MIN                      ? COARSE_STEP_MIN
             : w.last - w.first >= 2 * STEP_MIN && d->slip_min == 0 ? STEP_MIN
                                                                    : 1;
  if (list->plan->day && w.last - w.first <= FINE_UP_TO_MIN)
    step = 1;     /* the day is full already: every gap counts */
  if (step > 1) { /* no crooked minutes where there is a choice */
    w.last = floor_to(w.last, STEP_MIN);
    w.first = min_int(-floor_to(-w.first, STEP_MIN), w.last);
  }
  for (int k = 0; w.first + k * step <= w.last; k++) {
    int at = w.is_late ? w.last - k * step : w.first + k * step;
    int who = free_person(list, d, at, minutes, w.at);
    if (who != PW_NONE) {
      give(list, draft, w.at, offset, pieces, at, minutes, who);
      return true;
    }
  }
  return false;
}

/* The end of what must be over first. */
static int earliest_of(const struct pw_task_list *list, int draft)
{
  int at = INT_MIN;
  for (int e = list->first_edge[draft]; e < list->first_edge[draft + 1]; e++) {
    const struct pw_draft_state *before = &list->state[list->edges[e].before];
    if (before->is_placed)
      at = max_int(at, before->end_min + (before->n_tasks > 0 ? list->edges[e].gap_min : 0));
  }
  return at;
}

/* In its own place; what may be done on site is done in the kitchen before the crew leaves, else there. */
static bool try_places(struct pw_task_list *list, int draft, int offset, int pieces, int minutes, struct window w)
{
  const struct pw_draft *d = &list->drafts[draft];
  struct window here = w;
  here.at = d->at;
  if (d->may_be_on_site && list->depart_min != INT_MAX)
    here.last = min_int(w.last, list->depart_min - minutes);
  if (here.first <= here.last && try_window(list, draft, offset, pieces, minutes, here))
    return true;
  w.at = PW_AT_SITE;
  if (d->may_be_on_site && list->depart_min != INT_MAX)
    w.first = max_int(w.first, list->depart_min + list->ev->site.travel_min);
  return d->may_be_on_site && w.first <= w.last && try_window(list, draft, offset, pieces, minutes, w);
}

/* ---- serving, but for the minutes at the knives ----------------------------------------------------------------- */

/* Is somebody at the knives for this service between two minutes? */
static bool is_cut_for(const struct pw_task_list *list, int service, int from, int to)
{
  for (size_t i = 0; i < list->n_tasks; i++) {
    const struct pw_task *t = &list->tasks[i];
    if (t->kind == PW_TASK_CUT && t->person != PW_NONE && t->service == service && t->at_min < to &&
        t->at_min + t->minutes > from)
      return true;
  }
  return false;
}

/* Stretches of the service by whoever is free for longest.  What is left over is nobody's, unless it is left for the knives; a hand
 * more at the line comes for no less than LINE_LEAST_MIN.  Who has a pit to load at the first plate's minute is at the line right
 * after, and that is told as late.  False when nobody comes within LINE_LATE_MIN. */
static bool place_serving(struct pw_task_list *list, int draft, int from, int minutes)
{
  enum { LINE_LEAST_MIN = 15, LINE_LATE_MIN = 15 }; /* common practice, no source */
  const struct pw_draft *d = &list->drafts[draft];
  struct pw_draft_state *s = &list->state[draft];
  int to = from + minutes, last = d->may_be_left_out ? from : min_int(from + LINE_LATE_MIN, to - 1), begin = from, free,
      who = pw_hands_longest(list, duties_of(d), from, minutes, pw_task_way(d, d->at), &free);
  while (who == PW_NONE && begin < last) {
    begin++;
    who = pw_hands_longest(list, duties_of(d), begin, to - begin, pw_task_way(d, d->at), &free);
  }
  if (who == PW_NONE)
    return false;
  for (int at = begin; at < to;) {
    int least = d->may_be_left_out ? min_int(LINE_LEAST_MIN, to - at) : 1, skip = 1;
    who = pw_hands_longest(list, duties_of(d), at, to - at, pw_task_way(d, d->at), &free);
    if (who != PW_NONE && free >= least) {
      give(list, draft, d->at, 0, 0, at, free, who);
      skip = free;
    } else if (!d->may_be_left_out && !is_cut_for(list, d->service, at, at + 1)) {
      while (at + skip < to && !is_cut_for(list, d->service, at + skip, at + skip + 1) &&
             pw_hands_longest(list, duties_of(d), at + skip, 1, pw_task_way(d, d->at), &free) == PW_NONE)
        skip++;
      give(list, draft, d->at, 0, 0, at, skip, PW_NONE);
    }
    at += skip;
  }
  s->late_min = max_int(0, begin - (d->last_at_min + d->slip_min)); /* a later stretch is no late begin */
  return true;
}

/* Gives pieces offset .. offset + pieces - 1 (or the whole work) a time. */
static void place_part(struct pw_task_list *list, int draft, int offset, int pieces, int earliest)
{
  const struct pw_draft *d = &list->drafts[draft];
  struct pw_draft_state *s = &list->state[draft];
  int minutes = minutes_of(d, pieces);
  bool is_shared = pieces > 1 && minutes > SMALLEST_BLOCK_MIN;
  struct window w = {.first = max_int(d->first_at_min, earliest), .last = s->latest_min, .is_late = d->is_late};
  if (d->end_by_min != INT_MAX)
    w.last = min_int(w.last, d->end_by_min - minutes);
  if (d->may_be_left_out && w.first > d->last_at_min)
    return;
  w.last = max_int(w.last, w.first);
  if (pieces <= 1 || minutes <= d->block_min)
    if (try_places(list, draft, offset, pieces, minutes, w))
      return;
  if (d->kind == PW_TASK_SERVE && w.first == w.last && place_serving(list, draft, w.first, minutes))
    return;
  if (d->may_be_left_out)
    return;
  int there;
  if (is_shared && pw_hands_on_shift(list, duties_of(d), w.first, w.last + WAIT_MOST_MIN, SMALLEST_BLOCK_MIN, &there)) {
    place_part(list, draft, offset, (pieces + 1) / 2, earliest);
    place_part(list, draft, offset + (pieces + 1) / 2, pieces / 2, earliest);
    return;
  }
  int begin = w.is_late ? w.last : w.first, on_time = w.last + d->slip_min;
  int wait_min = d->kind != PW_TASK_TAKE_IN ? WAIT_MOST_MIN : d->slip_min > 0 ? d->slip_min : TAKE_IN_WAIT_MIN;
  if (pw_hands_on_shift(list, duties_of(d), w.first, w.last + wait_min, minutes, &there)) {
    struct window wait = {.first = w.last + 1, .last = min_int(w.last + wait_min, s->last_call_min)};
    size_t n = list->n_tasks;
    if (try_places(list, draft, offset, pieces, minutes, wait)) {
      s->late_min = max_int(s->late_min, list->tasks[n].at_min - on_time);
      return;
    }
  }
  give(list, draft, d->at, offset, pieces, begin, minutes, PW_NONE);
}

/* ---- a plan mended from now on: who did it, and who was to do it ------------------------------------------------- */

/** Whether a task of the plan before is this draft's, or of a part of its pieces. */
static bool is_of(const struct pw_draft *d, const struct pw_task *t)
{
  if (t->person == PW_NONE || t->kind != d->kind || t->lot != d->lot || t->pit != d->pit || t->place != d->place ||
      t->service != d->service || t->dish != d->dish || t->n_items != d->n_items ||
      (t->pieces > 0) != (d->pieces > 0) || (d->n_items > 0 && t->items[0] != d->items[0]))
    return false;
  for (int k = 0; k < t->n_ids; k++) {
    bool is_there = false;
    for (int i = 0; i < (d->pieces > 0 ? d->pieces : d->n_ids) && d->ids && !is_there; i++)
      is_there = d->ids[i] == t->piece_ids[k];
    if (!is_there)
      return false;
  }
  return true;
}

/* Minutes between a task of the plan before and the draft's window. */
static int apart(const struct pw_draft *d, const struct pw_task *t)
{
  int last = max_int(d->last_at_min, d->first_at_min) + d->slip_min;
  return t->at_min < d->first_at_min ? d->first_at_min - t->at_min : t->at_min > last ? t->at_min - last : 0;
}

/* The load whose cores a draft reads; NULL: it reads none. */
static const struct pw_load *read_load(const struct pw_task_list *list, const struct pw_draft *d)
{
  const struct pw_allocation *al = &list->plan->allocation;
  if ((d->kind != PW_TASK_CORE && d->kind != PW_TASK_PROBE) || !d->ids)
    return NULL;
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    for (int k = 0; l->lot == d->lot && l->stage <= PW_LOAD_FINISH && k < l->pieces; k++)
      if (l->piece_ids[k] == d->ids[0] && l->start_at_min <= d->first_at_min && l->end_at_min > d->first_at_min)
        return l;
  }
  return NULL;
}

/* Read before that stage began, a core was another. */
static bool is_too_early(const struct pw_task_list *list, const struct pw_draft *d, const struct pw_task *t)
{
  const struct pw_load *l = read_load(list, d);
  return l && t->at_min < list->plan->day->now_min && t->at_min < l->start_at_min;
}

/* The unused task before that is nearest to the draft's window; of a draft whose pieces are shared all are wanted, one by one. */
static int nearest_before(const struct pw_task_list *list, const struct pw_draft *d)
{
  const struct pw_day_now *day = list->plan->day;
  bool is_by_turn =
      d->kind == PW_TASK_DRIVE || d->kind == PW_TASK_ASH; /* there before home, however late a fire was lit */
  int best = PW_NONE;
  for (int i = 0; i < day->n_before; i++)
    if (!list->is_used[i] && is_of(d, &day->before[i]) && !is_too_early(list, d, &day->before[i]) &&
        (best == PW_NONE || (is_by_turn ? day->before[i].at_min < day->before[best].at_min
                                        : apart(d, &day->before[i]) < apart(d, &day->before[best]))))
      best = i;
  return best;
}

static int offset_of(const struct pw_draft *d, const struct pw_task *t)
{
  for (int i = 0; d->ids && i + t->pieces <= d->pieces; i++)
    if (memcmp(d->ids + i, t->piece_ids, (size_t)t->pieces * sizeof *d->ids) == 0)
      return i;
  return PW_NONE;
}

static bool is_fact(const struct pw_task_list *list, int draft);
static bool is_not_off(const struct pw_task_list *list, int draft);

/* What may be left out is not done on pieces whose turn has not come: the rub of some is still to be scratched, those beside them were
 * mopped. */
static bool is_still_to_come(const struct pw_task_list *list, const struct pw_draft *d)
{
  int draft = (int)(d - list->drafts);
  for (int e = list->first_edge[draft]; d->may_be_left_out && e < list->first_edge[draft + 1]; e++)
    if (!is_fact(list, list->edges[e].before))
      return true;
  return false;
}

/* Work of the past whose pieces are not all there any more: the task of the plan before that was done on the others; NULL. */
static const struct pw_task *done_on_others(const struct pw_task_list *list, const struct pw_draft *d)
{
  const struct pw_day_now *day = list->plan->day;
  if (is_still_to_come(list, d))
    return NULL;
  for (int i = 0; i < day->n_before && d->ids; i++) {
    const struct pw_task *t = &day->before[i];
    bool is_shared = false;
    if (t->kind != d->kind || t->lot != d->lot || t->at_min >= day->now_min || t->person == PW_NONE)
      continue;
    for (int k = 0; k < t->n_ids && !is_shared; k++)
      for (int m = 0; m < (d->pieces > 0 ? d->pieces : d->n_ids) && !is_shared; m++)
        is_shared = d->ids[m] == t->piece_ids[k];
    if (is_shared && !is_too_early(list, d, t))
      return t;
  }
  return NULL;
}

/* When and by whom it was done on those. */
static bool place_as_others(struct pw_task_list *list, int draft)
{
  const struct pw_draft *d = &list->drafts[draft];
  const struct pw_task *t = done_on_others(list, d);
  if (!t)
    return false;
  int at = d->first_at_min == d->last_at_min && d->first_at_min > t->at_min ? d->first_at_min : t->at_min;
  give(list, draft, t->at, 0, d->pieces, at, minutes_of(d, d->pieces), t->person);
  return true;
}

/* As it was done before now, or by who was to do it if that can still be.  False: it has to be placed anew. */
static bool place_as_before(struct pw_task_list *list, int draft, int earliest)
{
  const struct pw_draft *d = &list->drafts[draft];
  const struct pw_day_now *day = list->plan->day;
  const struct pw_draft_state *s = &list->state[draft];
  int found[64], at[64], n = 0, pieces = 0, last = max_int(d->last_at_min, d->first_at_min) + d->slip_min;
  bool is_ok = true, is_past = false;
  for (int t; n < 64 && (n == 0 || pieces < d->pieces) && (t = nearest_before(list, d)) != PW_NONE; n++) {
    list->is_used[t] = true;
    found[n] = t;
    pieces += day->before[t].pieces;
  }
  is_ok = n > 0 && (d->pieces == 0 || pieces == d->pieces);
  for (int k = 0; k < n && is_ok; k++) {
    const struct pw_task *t = &day->before[found[k]];
    int first = max_int(d->first_at_min, earliest);
    bool is_fixed = d->first_at_min == d->last_at_min;
    at[k] = is_fixed && (t->at_min < d->first_at_min || t->at_min > last) ? d->first_at_min : t->at_min;
    is_past =
        d->first_at_min < day->now_min && at[k] < day->now_min && !(d->kind == PW_TASK_CUT && is_not_off(list, draft));
    is_ok = d->pieces == 0 || offset_of(d, t) != PW_NONE;
    if (!is_past && at[k] < first)
      at[k] = first;
    if (is_ok && !is_past && d->kind == PW_TASK_CUT) /* the first of a lot is to be the first again */
      is_ok = false;
    if (is_ok && !is_past)
      is_ok = at[k] >= day->now_min && at[k] <= max_int(max_int(s->latest_min, last), first) &&
              (!d->may_be_left_out || at[k] <= d->last_at_min) &&
              pw_hands_is_free(list, t->person, at[k], t->minutes, pw_task_way(d, t->at));
    for (int j = 0; j < k && is_ok && !is_past; j++) { /* parts moved to one minute are not in one hand at once */
      const struct pw_task *o = &day->before[found[j]];
      is_ok = o->person != t->person || (at[k] == t->at_min && at[j] == o->at_min) || at[j] + o->minutes <= at[k] ||
              at[k] + t->minutes <= at[j];
    }
  }
  for (int k = 0; k < n; k++) {
    const struct pw_task *t = &day->before[found[k]];
    if (is_ok)
      give(list, draft, t->at, d->pieces > 0 ? offset_of(d, t) : 0, t->pieces, at[k], t->minutes, t->person);
    else
      list->is_used[found[k]] = false;
  }
  bool is_open = d->kind == PW_TASK_CUT && is_not_off(list, draft);
  return is_ok || (d->first_at_min < day->now_min && !is_open && place_as_others(list, draft));
}

/* Nothing new begins in the past; what the loads say was done then stays there. */
static int from_now(const struct pw_task_list *list, int draft, int earliest)
{
  const struct pw_draft *d = &list->drafts[draft];
  const struct pw_day_now *day = list->plan->day;
  bool is_past = day && d->first_at_min == d->last_at_min && d->first_at_min < day->now_min;
  return day && !is_past ? max_int(earliest, day->now_min) : earliest;
}

/* What would have been before now and never was: a reading or a mop by the minutes of now. */
static bool is_bygone(const struct pw_task_list *list, int draft)
{
  const struct pw_draft *d = &list->drafts[draft];
  bool is_missed = d->last_at_min + d->slip_min < list->plan->day->now_min;
  if (d->rank != PW_RANK_CHECK && d->kind != PW_TASK_COOL_CHECK && !d->may_be_left_out)
    return false;
  for (size_t e = 0; e < list->n_edges && !is_missed; e++) { /* what it was to come before is done */
    const struct pw_draft_state *after = &list->state[list->edges[e].after];
    is_missed = list->edges[e].before == draft && after->n_tasks > 0 && after->begin_min < list->plan->day->now_min;
  }
  return is_missed;
}

/* A meal that was over before now: nothing is done for it any more. */
static bool is_over(const struct pw_task_list *list, const struct pw_draft *d)
{
  int s = d->service != PW_NONE ? d->service : d->lot != PW_NONE ? list->plan->lots.lots[d->lot].service : PW_NONE;
  return s != PW_NONE && list->ev->services[s].at_min + list->ev->services[s].length_min <= list->plan->day->now_min;
}

/* What nobody did stays nobody's where it was: an order, which the office saw to or it is too late for, and work for a meal that is
 * over. */
static bool place_as_nobodys(struct pw_task_list *list, int draft)
{
  const struct pw_draft *d = &list->drafts[draft];
  const struct pw_day_now *day = list->plan->day;
  if ((d->rank != PW_RANK_BUY && !is_over(list, d)) || (d->kind == PW_TASK_CUT && is_not_off(list, draft)))
    return false;
  for (int i = 0; i < day->n_before; i++) {
    const struct pw_task *t = &day->before[i];
    if (t->person != PW_NONE || t->kind != d->kind || t->lot != d->lot || t->pit != d->pit ||
        t->service != d->service || t->dish != d->dish || t->at_min >= day->now_min || t->n_items != d->n_items ||
        (d->pieces > 0 && !d->ids) || (d->n_items > 0 && t->items[0] != d->items[0]) ||
        (d->pieces > 0 && t->n_ids > 0 && t->piece_ids[0] != d->ids[0]))
      continue;
    give(list, draft, t->at, 0, d->pieces, t->at_min, t->minutes, PW_NONE);
    return true;
  }
  return false;
}

/* What is cut was to come off first, and that is still to come. */
static bool is_not_off(const struct pw_task_list *list, int draft)
{
  for (int e = list->first_edge[draft]; e < list->first_edge[draft + 1]; e++) {
    const struct pw_draft *before = &list->drafts[list->edges[e].before];
    if (before->kind == PW_TASK_OFF && before->first_at_min >= list->plan->day->now_min)
      return true;
  }
  return false;
}

/* Begun before now by somebody of the plan before: a fact, whose hands are not free until it is over. */
static bool is_fact(const struct pw_task_list *list, int draft)
{
  const struct pw_draft *d = &list->drafts[draft];
  const struct pw_day_now *day = list->plan->day;
  if (!day || d->first_at_min >= day->now_min || (d->kind == PW_TASK_CUT && is_not_off(list, draft)))
    return false;
  int t = nearest_before(list, d);
  return t == PW_NONE ? done_on_others(list, d) != NULL
                      : d->first_at_min == d->last_at_min || day->before[t].at_min < day->now_min;
}

/* A fact waits for nothing: its hands are booked before those of what is to come, also of what should have been over first. */
static void place_fact(struct pw_task_list *list, int draft)
{
  struct pw_draft_state *s = &list->state[draft];
  if (s->is_placed)
    return;
  s->end_min = INT_MIN;
  s->is_placed = place_as_before(list, draft, INT_MIN);
}

/* What must be over first, then the draft itself. */
static void place(struct pw_task_list *list, int draft)
{
  struct pw_draft_state *s = &list->state[draft];
  if (s->is_placed || s->is_open || list->failed)
    return;
  s->is_open = true;
  for (int is_short = 0; is_short < 2; is_short++) /* long work first: it needs the wider gap */
    for (int e = list->first_edge[draft]; e < list->first_edge[draft + 1]; e++)
      if ((list->state[list->edges[e].before].minutes < LONG_WORK_MIN) == (is_short > 0))
        place(list, list->edges[e].before);
  int earliest = earliest_of(list, draft);
  s->end_min = earliest; /* what is left out still hands on what it waited for */
  bool is_done = list->plan->day &&
                 (place_as_before(list, draft, earliest) || place_as_nobodys(list, draft) || is_bygone(list, draft));
  if (!is_done)
    place_part(list, draft, 0, list->drafts[draft].pieces, from_now(list, draft, earliest));
  s->is_open = false;
  s->is_placed = true;
}

/* ---- all of them ------------------------------------------------------------------------------------------- */

struct ranked {
  enum pw_rank rank;
  bool is_kept_last;
  int first_at_min, draft;
};

static int by_rank(const void *a, const void *b)
{
  const struct ranked *x = a, *y = b;
  if (x->rank != y->rank)
    return x->rank < y->rank ? -1 : 1;
  if (x->is_kept_last != y->is_kept_last)
    return x->is_kept_last ? 1 : -1;
  if (x->first_at_min != y->first_at_min)
    return x->first_at_min < y->first_at_min ? -1 : 1;
  return (x->draft > y->draft) - (x->draft < y->draft);
}

/** A task and where it stood before the sorting. */
struct sorted {
  struct pw_task task;
  int was;
};

static int by_time(const void *a, const void *b)
{
  const struct pw_task *x = &((const struct sorted *)a)->task, *y = &((const struct sorted *)b)->task;
  if (x->at_min != y->at_min)
    return x->at_min < y->at_min ? -1 : 1;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  int c = strcmp(x->where, y->where);
  if (c == 0)
    c = strcmp(x->what, y->what);
  if (c == 0)
    c = strcmp(x->target, y->target);
  if (c == 0)
    c = (x->person > y->person) - (x->person < y->person);
  return c ? c
           : (((const struct sorted *)a)->was > ((const struct sorted *)b)->was) -
                 (((const struct sorted *)a)->was < ((const struct sorted *)b)->was);
}

/* Tasks in the order of the sheet; now[] of where each stood before. */
static int *sort_tasks(struct pw_task_list *list)
{
  size_t n = list->n_tasks;
  struct sorted *sorted = pw_arena_array(list->ctx->arena, n, sizeof *sorted);
  int *now = pw_task_ints(list, NULL, (int)n);
  if (!sorted || !now) {
    list->failed = true;
    return NULL;
  }
  for (size_t i = 0; i < n; i++)
    sorted[i] = (struct sorted){list->tasks[i], (int)i};
  if (n > 1)
    qsort(sorted, n, sizeof *sorted, by_time);
  for (size_t i = 0; i < n; i++) {
    list->tasks[i] = sorted[i].task;
    now[sorted[i].was] = (int)i;
  }
  return now;
}

/** What a draft comes after, gathered. */
struct gather {
  int *tasks;
  size_t n, cap;
  int *met; /* by draft: the last draft it was met for */
};

/* Tasks of all drafts that are over before this one; of one that was left out, what it came after. */
static void gather(struct pw_task_list *list, struct gather *g, const int *now, int draft, int begin, int of)
{
  for (int e = list->first_edge[draft]; e < list->first_edge[draft + 1] && !list->failed; e++) {
    const struct pw_draft_state *before = &list->state[list->edges[e].before];
    if (g->met[list->edges[e].before] == of)
      continue;
    g->met[list->edges[e].before] = of;
    if (before->n_tasks == 0)
      gather(list, g, now, list->edges[e].before, begin, of);
    for (int k = 0; k < before->n_tasks; k++) {
      int task = now[before->first_task + k];
      if (list->tasks[task].at_min + list->tasks[task].minutes > begin) /* the edges went round */
        continue;
      if (pw_arena_grow(list->ctx->arena, &g->tasks, &g->cap, g->n, sizeof *g->tasks) != 0) {
        list->failed = true;
        return;
      }
      g->tasks[g->n++] = task;
    }
  }
}

static void tell_after(struct pw_task_list *list, const int *now)
{
  int *met = pw_task_ints(list, NULL, (int)list->n_drafts);
  for (int d = 0; met && d < (int)list->n_drafts; d++)
    met[d] = PW_NONE;
  for (int d = 0; d < (int)list->n_drafts && !list->failed; d++) {
    const struct pw_draft_state *s = &list->state[d];
    struct gather g = {.met = met};
    int begin = INT_MAX;
    for (int m = 0; m < s->n_tasks; m++)
      begin = min_int(begin, list->tasks[now[s->first_task + m]].at_min);
    if (s->n_tasks > 0)
      gather(list, &g, now, d, begin, d);
    for (int m = 0; m < s->n_tasks; m++) {
      list->tasks[now[s->first_task + m]].after = g.tasks;
      list->tasks[now[s->first_task + m]].n_after = (int)g.n;
    }
  }
}

static int by_number_down(const void *a, const void *b)
{
  int x = *(const int *)a, y = *(const int *)b;
  return (x < y) - (x > y);
}

/* Takes away what follows from the rest: a task that comes before another of the list.  Tasks are in order of time, so what comes
 * before one has a lower number. */
static void thin_after(struct pw_task_list *list)
{
  enum { TASKS_MAX = 6000, BITS = 64 }; /* a table of every task by every task: beyond this it is left long */
  size_t n = list->n_tasks, words = (n + BITS - 1) / BITS;
  if (n == 0 || n > TASKS_MAX)
    return;
  uint64_t *before = pw_arena_array(list->ctx->arena, n * words, sizeof *before);
  if (!before) {
    list->failed = true;
    return;
  }
  memset(before, 0, n * words * sizeof *before);
  for (size_t i = 0; i < n && !list->failed; i++) {
    struct pw_task *t = &list->tasks[i];
    uint64_t *mine = before + i * words;
    int *all = pw_task_ints(list, t->after, t->n_after), kept = 0;
    if (!all)
      return;
    if (t->n_after > 1)
      qsort(all, (size_t)t->n_after, sizeof *all, by_number_down);
    for (int k = 0; k < t->n_after; k++) {
      size_t p = (size_t)all[k];
      if (mine[p / BITS] >> p % BITS & 1u)
        continue;
      all[kept++] = all[k];
      mine[p / BITS] |= (uint64_t)1 << p % BITS;
      for (size_t w = 0; w < words; w++)
        mine[w] |= before[p * words + w];
    }
    t->after = all;
    t->n_after = kept;
  }
}

void pw_task_windows(struct pw_task_list *list)
{
  list->state = pw_arena_array(list->ctx->arena, list->n_drafts, sizeof *list->state);
  if (!list->state) {
    list->failed = true;
    return;
  }
  for (size_t i = 0; i < list->n_drafts; i++)
    list->state[i] = (struct pw_draft_state){0};
  latest_begins(list);
}

void pw_task_place(struct pw_task_list *list)
{
  size_t n = list->n_drafts;
  struct ranked *order = pw_arena_array(list->ctx->arena, n, sizeof *order);
  pw_task_windows(list);
  if (list->plan->day)
    list->is_used = pw_arena_array(list->ctx->arena, (size_t)list->plan->day->n_before + 1, sizeof *list->is_used);
  if (list->failed || !order || (list->plan->day && !list->is_used) || !pw_hands_make(list)) {
    list->failed = true;
    return;
  }
  for (int i = 0; list->plan->day && i < list->plan->day->n_away; i++) { /* who is not there does nothing */
    const struct pw_away *away = &list->plan->day->away[i];
    int shift_to = list->ev->crew[list->people[away->person].crew].to_at_min,
        to = away->to_at_min < shift_to ? away->to_at_min : shift_to;
    if (away->person < list->n_people && to > away->from_at_min)
      pw_hands_book(list, away->person, away->from_at_min, to - away->from_at_min,
                    (struct pw_way){PW_AT_SITE, PW_AT_SITE});
  }
  for (size_t i = 0; i < n; i++)
    order[i] =
        (struct ranked){list->drafts[i].rank, list->drafts[i].is_kept_last, list->drafts[i].first_at_min, (int)i};
  if (n > 1)
    qsort(order, n, sizeof *order, by_rank);
  for (size_t i = 0; i < n && !list->failed; i++)
    if (is_fact(list, order[i].draft))
      place_fact(list, order[i].draft);
  for (size_t i = 0; i < n && !list->failed; i++)
    place(list, order[i].draft);
  if (!list->failed)
    pw_task_warn(list);
  if (!list->failed)
    pw_task_rest(list);
  if (list->failed)
    return;
  const int *now = sort_tasks(list);
  for (size_t i = 0; now && i < list->n_warnings; i++) {
    int *tasks = pw_task_ints(list, list->warnings[i].tasks, list->warnings[i].n_tasks);
    for (int k = 0; tasks && k < list->warnings[i].n_tasks; k++)
      tasks[k] = now[tasks[k]];
    list->warnings[i].tasks = tasks;
  }
  if (now && !list->failed)
    tell_after(list, now);
  if (!list->failed)
    thin_after(list);
  if (now && !list->failed)
    pw_task_latest(list);
}
