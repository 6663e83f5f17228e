/* task_place.c - a time and a pair of hands for every draft [S1].
 * In: drafts.  Out: tasks with a crew line.
 * A crew line has as many tasks in hand at a minute as it has hands, and hands x 30 minutes in each half hour on shift.  A
 * draft goes to the line with its duty that is on shift for all of it and has most to spare; a stage change waits some minutes
 * for a free hand; work on many pieces is shared out in blocks; what finds no room is given to the least loaded line all the
 * same, and the plan says when the hands are short. */
#include "base/arena.h"
#include "base/when.h"
#include "plan/head_count.h"
#include "plan/task_list.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { HALF_HOUR_MIN = 30, STEP_MIN = 5, COARSE_STEP_MIN = 15, SMALLEST_BLOCK_MIN = 15, FINE_UP_TO_MIN = 240 };

/** One crew line's time: minutes of work given out in each half hour from `base`. */
struct line {
  int from, to, hands;
  unsigned duties;
  int base, n;
  int *used;               /* minutes of work in each half hour */
  unsigned short *busy;    /* [minute - from] tasks in hand */
  long total;
};

struct pw_hands {
  struct line *lines;
  int n;
  const struct pw_draft **of; size_t cap_of; /**< per task, as given out: its draft */
};

static int floor_half(int at) { return at / HALF_HOUR_MIN - (at % HALF_HOUR_MIN < 0 ? 1 : 0); }

static int floor_to(int at, int step) { return at - at % step - (at % step < 0 ? step : 0); }

static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }

static int overlap(int a_from, int a_to, int b_from, int b_to)
{
  return max_int(0, min_int(a_to, b_to) - max_int(a_from, b_from));
}

static bool make_hands(struct pw_task_list *list)
{
  const struct pw_event *ev = list->ev;
  struct pw_arena *arena = list->ctx->arena;
  list->hands = pw_arena_alloc(arena, sizeof *list->hands);
  if (!list->hands || !(list->hands->lines = pw_arena_array(arena, (size_t)ev->n_crew, sizeof(struct line))))
    return false;
  list->hands->n = ev->n_crew;
  for (int i = 0; i < ev->n_crew; i++) {
    const struct pw_crew *c = &ev->crew[i];
    struct line *l = &list->hands->lines[i];
    *l = (struct line){
        .from = c->from_at_min, .to = c->to_at_min, .hands = pw_head_count_hands(ev, c), .duties = c->duties};
    l->base = floor_half(l->from);
    l->n = floor_half(l->to) - l->base + 1;
    l->used = pw_arena_array(arena, (size_t)l->n, sizeof *l->used);
    l->busy = pw_arena_array(arena, (size_t)max_int(l->to - l->from, 0) + 1, sizeof *l->busy);
    if (!l->used || !l->busy)
      return false;
  }
  return true;
}

/* Whether a hand is free for all of it. */
static bool is_free(const struct line *l, int at, int minutes)
{
  for (int m = at; m < at + minutes; m++)
    if (l->busy[m - l->from] >= l->hands)
      return false;
  return true;
}

/* Minutes left in the tightest half hour after the work, or -1 when it does not fit; in parts of the hands. */
static double spare(const struct line *l, int at, int minutes)
{
  double least = HUGE_VAL;
  for (int h = floor_half(at); h * HALF_HOUR_MIN < at + minutes || h == floor_half(at); h++) {
    int from = h * HALF_HOUR_MIN, to = from + HALF_HOUR_MIN;
    int left = l->hands * overlap(from, to, l->from, l->to) - l->used[h - l->base] - overlap(from, to, at, at + minutes);
    least = fmin(least, (double)left / (l->hands * HALF_HOUR_MIN));
  }
  return least;
}

static bool is_on_shift(const struct line *l, int at, int minutes)
{
  return l->hands > 0 && at >= l->from && at < l->to && at + minutes <= l->to;
}

static unsigned duties_of(const struct pw_draft *d) { return d->also | 1u << d->duty; }

/* How hard to look: a free hand of those who do it first; of anybody who may; a hand with other things at the same minute
 * but time in the half hour; anybody who may. */
enum effort { FREE_OWN, FREE_ANY, SHARED, FORCED };

/* The line with most to spare at that time; ties: the one that worked less, then the earlier one. */
static int best_line(const struct pw_task_list *list, const struct pw_draft *d, int at, int minutes, enum effort effort)
{
  unsigned duties = effort == FREE_OWN && d->prefers_duty ? 1u << d->duty : duties_of(d);
  int best = PW_NONE;
  double most = 0;
  for (int i = 0; i < list->hands->n; i++) {
    const struct line *l = &list->hands->lines[i];
    if ((l->duties & duties) == 0 || !is_on_shift(l, at, minutes))
      continue;
    double left = spare(l, at, minutes);
    if ((left < 0 && effort != FORCED) || (effort < SHARED && !is_free(l, at, minutes)))
      continue;
    const struct line *b = best == PW_NONE ? NULL : &list->hands->lines[best];
    bool is_better = !b || left > most + 1e-9;
    if (b && !is_better && left > most - 1e-9) { /* equal: compare work so far per hand */
      double mine = (double)l->total / l->hands, theirs = (double)b->total / b->hands;
      is_better = mine < theirs - 1e-9;
    }
    if (is_better) {
      best = i;
      most = left;
    }
  }
  return best;
}

/* Books work on a line, or (by -1) takes it off again. */
static void book(struct line *l, int at, int minutes, int by)
{
  l->total += by * minutes;
  for (int m = at; m < at + minutes && m < l->to; m++)
    l->busy[m - l->from] = (unsigned short)(l->busy[m - l->from] + by);
  for (int h = floor_half(at); h * HALF_HOUR_MIN < at + minutes && h - l->base < l->n; h++)
    l->used[h - l->base] += by * overlap(h * HALF_HOUR_MIN, (h + 1) * HALF_HOUR_MIN, at, at + minutes);
}

static void give(struct pw_task_list *list, const struct pw_draft *d, int pieces, int at, int minutes, int crew)
{
  if (pw_arena_grow(list->ctx->arena, &list->tasks, &list->cap_tasks, list->n_tasks, sizeof *list->tasks) != 0) {
    list->failed = true;
    return;
  }
  struct pw_hands *hands = list->hands;
  if (pw_arena_grow(list->ctx->arena, &hands->of, &hands->cap_of, list->n_tasks, sizeof *hands->of) != 0) {
    list->failed = true;
    return;
  }
  hands->of[list->n_tasks] = d;
  struct pw_task *t = &list->tasks[list->n_tasks++];
  *t = (struct pw_task){.at_min = at,
                        .minutes = minutes,
                        .kind = d->kind,
                        .duty = d->duty,
                        .crew = crew,
                        .lot = d->lot,
                        .pit = d->pit,
                        .pieces = pieces,
                        .where = d->where ? d->where : "",
                        .target = d->target ? d->target : ""};
  t->what = pieces > 0 ? pw_task_words(list, "%s %d × %s", d->verb, pieces, d->noun) : d->verb;
  if (crew != PW_NONE)
    book(&hands->lines[crew], at, minutes, 1);
}

/* Looks through the window for a time with room; true when the work was given to somebody. */
static bool try_window(struct pw_task_list *list, const struct pw_draft *d, int pieces, int minutes, enum effort effort)
{
  int first = d->first_at_min, last = d->last_at_min + (effort < SHARED ? d->slip_min : 0);
  if (d->end_by_min != INT_MAX)
    last = min_int(last, d->end_by_min - minutes);
  int step = last - first > FINE_UP_TO_MIN ? COARSE_STEP_MIN : STEP_MIN;
  if (last - first >= 2 * STEP_MIN && d->slip_min == 0) { /* no crooked minutes where there is a choice */
    last = floor_to(last, STEP_MIN);
    first = -floor_to(-first, STEP_MIN);
  }
  for (int k = 0; first + k * step <= last; k++) {
    int at = d->is_late ? last - k * step : first + k * step;
    int crew = best_line(list, d, at, minutes, effort);
    if (crew != PW_NONE) {
      give(list, d, pieces, at, minutes, crew);
      return true;
    }
  }
  return false;
}

/* True when somebody with the duty is on shift for some of the window, busy or not; *at_min then is such a time. */
static bool is_anybody_there(const struct pw_task_list *list, const struct pw_draft *d, int minutes, int *at_min)
{
  int last = d->end_by_min == INT_MAX ? d->last_at_min : min_int(d->last_at_min, d->end_by_min - minutes);
  for (int i = 0; i < list->hands->n; i++) {
    const struct line *l = &list->hands->lines[i];
    int from = max_int(d->first_at_min, l->from), to = min_int(last, l->to - minutes);
    if ((l->duties & duties_of(d)) != 0 && l->hands > 0 && from <= to && from < l->to) {
      *at_min = d->is_late ? to : from;
      return true;
    }
  }
  return false;
}

static void place(struct pw_task_list *list, const struct pw_draft *d, int pieces)
{
  double share = d->pieces > 0 ? (double)pieces / d->pieces : 1;
  int minutes = max_int(1, (int)ceil(d->work_min * share - 1e-9));
  int at = d->is_late ? d->last_at_min : d->first_at_min;
  bool is_small = pieces <= 1 || minutes <= d->block_min;
  if (is_small)
    for (enum effort e = d->prefers_duty ? FREE_OWN : FREE_ANY; e <= SHARED; e++)
      if (try_window(list, d, pieces, minutes, e))
        return;
  int there = at;
  bool is_there = is_anybody_there(list, d, minutes, &there);
  if (pieces > 1 && minutes > SMALLEST_BLOCK_MIN && (is_there || is_anybody_there(list, d, SMALLEST_BLOCK_MIN, &there))) {
    place(list, d, (pieces + 1) / 2);
    place(list, d, pieces / 2);
    return;
  }
  give(list, d, pieces, is_there ? there : at, minutes,
       is_there ? best_line(list, d, there, minutes, FORCED) : PW_NONE);
}

static int by_rank(const void *a, const void *b)
{
  const struct pw_draft *x = *(const struct pw_draft *const *)a, *y = *(const struct pw_draft *const *)b;
  if (x->rank != y->rank)
    return x->rank < y->rank ? -1 : 1;
  if (x->first_at_min != y->first_at_min)
    return x->first_at_min < y->first_at_min ? -1 : 1;
  return x < y ? -1 : x > y; /* drafts lie in one array: their order of making */
}

/* ---- two at once ------------------------------------------------------------------------------------- */

/* More tasks than hands on its line at some minute of the task. */
static bool is_crowded(const struct line *l, const struct pw_task *t)
{
  for (int m = t->at_min; m < t->at_min + t->minutes && m < l->to; m++)
    if (l->busy[m - l->from] > l->hands)
      return true;
  return false;
}

/* The minute nearest to its own in the draft's window at which somebody is free for all of it, and who; false: none. */
static bool nearest_free(const struct pw_task_list *list, const struct pw_draft *d, const struct pw_task *t, int *at_min, int *crew)
{
  int first = d->first_at_min, last = d->last_at_min + d->slip_min;
  if (d->end_by_min != INT_MAX)
    last = min_int(last, d->end_by_min - t->minutes);
  int most = max_int(last - t->at_min, t->at_min - first);
  for (int off = 0; off <= most; off++)
    for (int side = 0; side < (off > 0 ? 2 : 1); side++) {
      int at = side == 0 ? t->at_min + off : t->at_min - off;
      if (at < first || at > last)
        continue;
      int who = best_line(list, d, at, t->minutes, FREE_ANY);
      if (who != PW_NONE) {
        *at_min = at;
        *crew = who;
        return true;
      }
    }
  return false;
}

/* What was placed early knew nothing of what came later: tasks that share a hand's minute are tried again, to the minute, those
 * with least rank first; a task that finds nobody free stays. */
static void unravel(struct pw_task_list *list)
{
  enum { PASSES = 3 };
  bool is_moved = true;
  for (int pass = 0; pass < PASSES && is_moved; pass++) {
    is_moved = false;
    for (int rank = PW_RANK_AFTER; rank >= PW_RANK_FIRE; rank--)
      for (size_t i = 0; i < list->n_tasks; i++) {
        struct pw_task *t = &list->tasks[i];
        const struct pw_draft *d = list->hands->of[i];
        int at, crew;
        if (t->crew == PW_NONE || (int)d->rank != rank || !is_crowded(&list->hands->lines[t->crew], t))
          continue;
        book(&list->hands->lines[t->crew], t->at_min, t->minutes, -1);
        if (nearest_free(list, d, t, &at, &crew)) {
          t->at_min = at;
          t->crew = crew;
          is_moved = true;
        }
        book(&list->hands->lines[t->crew], t->at_min, t->minutes, 1);
      }
  }
}

/* ---- warnings --------------------------------------------------------------------------------------- */

static const char *const DUTIES[PW_DUTY__COUNT] = {"fire", "pit", "prep", "carve", "serve", "drive", "clean"};

static void warn(struct pw_task_list *list, const char *code, const char *text)
{
  if (pw_arena_grow(list->ctx->arena, &list->warnings, &list->cap_warnings, list->n_warnings,
                    sizeof *list->warnings) != 0) {
    list->failed = true;
    return;
  }
  list->warnings[list->n_warnings++] = (struct pw_warning){code, text};
}

static bool is_office(const struct pw_task *t) { return t->kind == PW_TASK_BUY || t->kind == PW_TASK_THAW; }

/* "on Wed 9 Jun at 17:00", or "from ... to ..." when it lasts. */
static const char *span_words(struct pw_task_list *list, int from, int to)
{
  if (from == to)
    return pw_task_words(list, "on %s at %s", pw_when_day_short(list->ev, from).s, pw_when_clock(list->ev, from).s);
  if (pw_when_day_number(list->ev, from) == pw_when_day_number(list->ev, to))
    return pw_task_words(list, "on %s from %s to %s", pw_when_day_short(list->ev, from).s, pw_when_clock(list->ev, from).s,
                         pw_when_clock(list->ev, to).s);
  return pw_task_words(list, "from %s %s to %s %s", pw_when_day_short(list->ev, from).s, pw_when_clock(list->ev, from).s,
                       pw_when_day_short(list->ev, to).s, pw_when_clock(list->ev, to).s);
}

/* Ordering, deliveries and thawing fall days before the first shift: one warning for all of them. */
static void warn_office(struct pw_task_list *list)
{
  const struct pw_task *first = NULL, *last = NULL;
  int n = 0;
  for (size_t i = 0; i < list->n_tasks; i++) {
    const struct pw_task *t = &list->tasks[i];
    if (t->crew != PW_NONE || !is_office(t))
      continue;
    first = first ? first : t;
    last = t;
    n++;
  }
  if (first)
    warn(list, "nobody-on-shift",
         pw_task_words(list,
                       "Nobody with the duty drive or prep is on shift %s: %d %s of ordering, taking in and thawing%s: %s.",
                       span_words(list, first->at_min, last->at_min), n, n == 1 ? "task" : "tasks",
                       n == 1 ? "" : ", the first", first->what));
}

/* One warning for each duty and local day in which tasks found nobody on shift. */
static void warn_nobody(struct pw_task_list *list)
{
  for (int duty = 0; duty < PW_DUTY__COUNT; duty++) {
    for (size_t i = 0; i < list->n_tasks;) {
      const struct pw_task *first = NULL, *last = NULL;
      int n = 0, day = 0;
      for (; i < list->n_tasks; i++) { /* tasks are in order of time */
        const struct pw_task *t = &list->tasks[i];
        if (t->crew != PW_NONE || (int)t->duty != duty || is_office(t))
          continue;
        if (first && pw_when_day_number(list->ev, t->at_min) != day)
          break;
        if (!first) {
          first = t;
          day = pw_when_day_number(list->ev, t->at_min);
        }
        last = t;
        n++;
      }
      if (!first)
        break;
      if (n == 1)
        warn(list, "nobody-on-shift",
             pw_task_words(list, "Nobody with the duty %s is on shift on %s at %s: %s.", DUTIES[duty],
                           pw_when_day_short(list->ev, first->at_min).s, pw_when_clock(list->ev, first->at_min).s,
                           first->what));
      else
        warn(list, "nobody-on-shift",
             pw_task_words(list, "Nobody with the duty %s is on shift %s: %d tasks, the first: %s.", DUTIES[duty],
                           span_words(list, first->at_min, last->at_min), n, first->what));
    }
  }
}

static void warn_short(struct pw_task_list *list)
{
  for (int i = 0; i < list->hands->n; i++) {
    const struct line *l = &list->hands->lines[i];
    for (int h = 0; h < l->n; h++) {
      int from = (l->base + h) * HALF_HOUR_MIN;
      int room = l->hands * overlap(from, from + HALF_HOUR_MIN, l->from, l->to);
      if (l->used[h] > room)
        warn(list, "hands-short",
             pw_task_words(list, "More work than hands for the %s on %s at %s: %d minutes of work, %d there.",
                           list->ev->crew[i].role, pw_when_day_short(list->ev, from).s, pw_when_clock(list->ev, from).s,
                           l->used[h], room));
    }
  }
}

/* One warning for each crew line that has more tasks in hand than hands at some minute, though time for them all. */
static void warn_two_at_once(struct pw_task_list *list)
{
  for (int i = 0; i < list->hands->n; i++) {
    const struct line *l = &list->hands->lines[i];
    int n = 0, first = 0, before = INT_MIN;
    for (int m = l->from; m < l->to && l->hands > 0; m++)
      if (l->busy[m - l->from] > l->hands) {
        first = n == 0 ? m : first;
        n += before != m - 1;
        before = m;
      }
    if (n > 0)
      warn(list, "two-at-once",
           pw_task_words(list, "More things at one minute than hands for the %s, %d %s, first on %s at %s: one after the other, "
                               "meat before checks.",
                         list->ev->crew[i].role, n, n == 1 ? "time" : "times", pw_when_day_short(list->ev, first).s,
                         pw_when_clock(list->ev, first).s));
  }
}

static int by_time(const void *a, const void *b)
{
  const struct pw_task *x = a, *y = b;
  if (x->at_min != y->at_min)
    return x->at_min < y->at_min ? -1 : 1;
  if (x->kind != y->kind)
    return x->kind < y->kind ? -1 : 1;
  int c = strcmp(x->where, y->where);
  if (c == 0)
    c = strcmp(x->what, y->what);
  if (c == 0)
    c = strcmp(x->target, y->target);
  return c ? c : (x->crew > y->crew) - (x->crew < y->crew);
}

void pw_task_place(struct pw_task_list *list)
{
  const struct pw_draft **order = pw_arena_array(list->ctx->arena, list->n_drafts, sizeof *order);
  if (!order || !make_hands(list)) {
    list->failed = true;
    return;
  }
  for (size_t i = 0; i < list->n_drafts; i++)
    order[i] = &list->drafts[i];
  qsort(order, list->n_drafts, sizeof *order, by_rank);
  for (size_t i = 0; i < list->n_drafts && !list->failed; i++)
    place(list, order[i], order[i]->pieces);
  if (list->failed)
    return;
  unravel(list);
  qsort(list->tasks, list->n_tasks, sizeof *list->tasks, by_time);
  warn_office(list);
  warn_nobody(list);
  warn_short(list);
  warn_two_at_once(list);
}
