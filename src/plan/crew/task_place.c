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
enum { LAST_PAN_MIN = 2 }; /* what the knife fills last goes straight to the line; common practice, no source */
enum {
  WAIT_MOST_MIN = 240
}; /* work waits so long for hands before it is told as nobody's; common practice, no source */

static int floor_to(int at, int step) { return at - at % step - (at % step < 0 ? step : 0); }
static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }

static unsigned duties_of(const struct pw_draft *d) { return d->also | 1u << d->duty; }

int pw_task_minutes(const struct pw_draft *d, int pieces)
{
  double share = d->pieces > 0 ? (double)pieces / d->pieces : 1;
  return max_int(1, (int)ceil(d->work_min * share - 1e-9));
}

/* Minutes from begin to end with the work shared out in blocks: what a follower has to allow for. */
int pw_task_span(const struct pw_draft *d)
{
  int minutes = pw_task_minutes(d, d->pieces);
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
  if (d->kind == PW_TASK_HEAT_UP) /* what goes in does not wait for who switches it on */
    return max_int(d->last_at_min, d->end_by_min - pw_task_span(d));
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
    list->state[d].minutes = pw_task_minutes(x, x->pieces);
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

void pw_task_give(struct pw_task_list *list, int draft, enum pw_at at_hand, int offset, int pieces, int at, int minutes,
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
      pw_task_give(list, draft, w.at, offset, pieces, at, minutes, who);
      return true;
    }
  }
  return false;
}

/* What is cut for the first guests of the meal whose pans are filled. */
static bool is_filled_after(const struct pw_draft *pans, const struct pw_draft *cut)
{
  return pans->kind == PW_TASK_PAN_UP && cut->kind == PW_TASK_CUT && cut->is_before_service &&
         cut->service == pans->service;
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

/* Pans are filled while the knives are at work, but the last of them is not full before the last of what is cut for the first guests:
 * the begin of panning up that lets it end no sooner.  INT_MIN: it waits for no knife. */
static int fills_from(const struct pw_task_list *list, int draft)
{
  const struct pw_draft *d = &list->drafts[draft];
  int cut_by = INT_MIN;
  for (int k = 0; d->kind == PW_TASK_PAN_UP && k < (int)list->n_drafts; k++)
    if (is_filled_after(d, &list->drafts[k]) && list->state[k].n_tasks > 0)
      cut_by = max_int(cut_by, list->state[k].end_min);
  return cut_by == INT_MIN
             ? INT_MIN
             : min_int(cut_by - LAST_PAN_MIN - pw_task_minutes(d, d->pieces), list->state[draft].latest_min);
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
      pw_task_give(list, draft, d->at, 0, 0, at, free, who);
      skip = free;
    } else if (!d->may_be_left_out && !is_cut_for(list, d->service, at, at + 1)) {
      while (at + skip < to && !is_cut_for(list, d->service, at + skip, at + skip + 1) &&
             pw_hands_longest(list, duties_of(d), at + skip, 1, pw_task_way(d, d->at), &free) == PW_NONE)
        skip++;
      pw_task_give(list, draft, d->at, 0, 0, at, skip, PW_NONE);
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
  int minutes = pw_task_minutes(d, pieces);
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
  pw_task_give(list, draft, d->at, offset, pieces, begin, minutes, PW_NONE);
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
  for (int k = 0; list->knives_first && k < (int)list->n_drafts; k++)
    if (is_filled_after(&list->drafts[draft], &list->drafts[k]))
      place(list, k);
  int earliest = max_int(earliest_of(list, draft), list->knives_first ? fills_from(list, draft) : INT_MIN);
  s->end_min = earliest; /* what is left out still hands on what it waited for */
  if (!list->plan->day || !pw_task_again(list, draft, earliest))
    place_part(list, draft, 0, list->drafts[draft].pieces, pw_task_from_now(list, draft, earliest));
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

/* Pans that are all up before what goes into them is cut. */
static bool is_panned_before_cut(const struct pw_task_list *list)
{
  for (int d = 0; d < (int)list->n_drafts; d++)
    if (list->state[d].n_tasks > 0 && list->state[d].begin_min < fills_from(list, d))
      return true;
  return false;
}

/** What nobody does, and how late work is begun in all. */
struct lack {
  int n_nobodys, late_min;
};

static struct lack lack_of(const struct pw_task_list *list)
{
  struct lack lack = {0};
  for (size_t i = 0; i < list->n_tasks; i++)
    lack.n_nobodys += list->tasks[i].person == PW_NONE;
  for (int d = 0; d < (int)list->n_drafts; d++)
    lack.late_min += list->state[d].late_min;
  return lack;
}

/* Every draft in its turn, from a day in which nobody does anything yet. */
static void place_all(struct pw_task_list *list, const struct ranked *order)
{
  size_t n = list->n_drafts;
  list->n_tasks = list->n_warnings = 0;
  list->n_people = 0;
  pw_task_windows(list);
  if (list->plan->day)
    list->is_used = pw_arena_array(list->ctx->arena, (size_t)list->plan->day->n_before + 1, sizeof *list->is_used);
  if (list->failed || (list->plan->day && !list->is_used) || !pw_hands_make(list)) {
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
  for (size_t i = 0; i < n && !list->failed; i++)
    pw_task_fact(list, order[i].draft);
  for (size_t i = 0; i < n && !list->failed; i++)
    place(list, order[i].draft);
}

void pw_task_place(struct pw_task_list *list)
{
  size_t n = list->n_drafts;
  struct ranked *order = pw_arena_array(list->ctx->arena, n, sizeof *order);
  if (list->failed || !order) {
    list->failed = true;
    return;
  }
  for (size_t i = 0; i < n; i++)
    order[i] =
        (struct ranked){list->drafts[i].rank, list->drafts[i].is_kept_last, list->drafts[i].first_at_min, (int)i};
  if (n > 1)
    qsort(order, n, sizeof *order, by_rank);
  place_all(list, order);
  if (!list->failed && !list->is_trial && is_panned_before_cut(list)) {
    struct lack now = lack_of(list);
    list->knives_first = true;
    place_all(list, order);
    struct lack then = lack_of(list);
    if (then.n_nobodys > now.n_nobodys ||
        then.late_min > now.late_min) { /* hands go before order: its words tell the rest */
      list->knives_first = false;
      place_all(list, order);
    }
  }
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
