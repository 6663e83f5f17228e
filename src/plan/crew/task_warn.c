/* task_warn.c - where nobody is on shift and where hands are short, once for each cause [S1].
 * In: drafts as placed, people.  Out: warnings: who is missing, from when to when, what waits for it, what it would cost. */
#include "base/arena.h"
#include "base/format.h"
#include "base/money.h"
#include "base/when.h"
#include "plan/crew/task_people.h"

#include <limits.h>
#include <math.h>

enum { ONE_CAUSE_MIN = 120 }; /* short again within so long is the same want: common practice, no source */

static const char *const DUTIES[PW_DUTY__COUNT] = {"fire", "pit", "prep", "carve", "serve", "drive", "clean"};

/** One want: tasks of one duty that nobody does, or that wait, close together. */
struct want {
  int n, from, to, late_min, first; /* first: index of its first task */
  int *tasks;                       /* all n, as placed */
  size_t cap;
};

static void warn(struct pw_task_list *list, const char *code, const char *text, const struct want *w)
{
  if (pw_arena_grow(list->ctx->arena, &list->warnings, &list->cap_warnings, list->n_warnings, sizeof *list->warnings) !=
      0) {
    list->failed = true;
    return;
  }
  list->warnings[list->n_warnings++] = (struct pw_warning){code, text, w->tasks, w->n, w->late_min};
}

/* "on Wed 9 Jun at 17:00", or "from ... to ..." when it lasts. */
static const char *span_words(struct pw_task_list *list, int from, int to)
{
  if (from == to)
    return pw_task_words(list, "on %s at %s", pw_when_day_short(list->ev, from).s, pw_when_clock(list->ev, from).s);
  if (pw_when_day_number(list->ev, from) == pw_when_day_number(list->ev, to))
    return pw_task_words(list, "on %s from %s to %s", pw_when_day_short(list->ev, from).s,
                         pw_when_clock(list->ev, from).s, pw_when_clock(list->ev, to).s);
  return pw_task_words(list, "from %s %s to %s %s", pw_when_day_short(list->ev, from).s,
                       pw_when_clock(list->ev, from).s, pw_when_day_short(list->ev, to).s,
                       pw_when_clock(list->ev, to).s);
}

static bool is_office(const struct pw_draft *d)
{
  return d->kind == PW_TASK_ORDER || d->kind == PW_TASK_TAKE_IN || d->kind == PW_TASK_THAW;
}

/* What one more pair of hands with the duty is paid for so long; < 0: no crew line has it. */
static double cents_for(const struct pw_task_list *list, int duty, int minutes)
{
  double least = -1;
  for (int c = 0; c < list->ev->n_crew; c++)
    if ((list->ev->crew[c].duties >> duty & 1u) != 0 && (least < 0 || list->ev->crew[c].cents_per_h < least))
      least = list->ev->crew[c].cents_per_h;
  return least < 0 ? -1 : least * ceil(minutes / 60.0);
}

static const char *mend_words(struct pw_task_list *list, int duty, const struct want *w)
{
  double cents = cents_for(list, duty, w->to - w->from);
  if (cents <= 0)
    return pw_task_words(list, "one more pair of hands with the duty %s then would solve it", DUTIES[duty]);
  return pw_task_words(list, "one more pair of hands with the duty %s then would solve it, about %s", DUTIES[duty],
                       pw_money_format(list->ev, pw_money_round(cents)).s);
}

enum cause { FINE, NOBODY, OFFICE, SHORT, LATE };

static void say(struct pw_task_list *list, int duty, const struct want *w, enum cause cause)
{
  const char *what = list->tasks[w->first].what, *span = span_words(list, w->from, w->to);
  const char *late = w->late_min > 0 ? pw_task_words(list, ", up to %s late", pw_format_minutes(w->late_min).s) : "";
  if (cause == OFFICE)
    warn(list, "nobody-on-shift",
         pw_task_words(
             list, "Nobody with the duty drive or prep is on shift %s: %d %s of ordering, taking in and thawing%s: %s.",
             span_words(list, list->tasks[w->first].at_min, w->to), w->n, w->n == 1 ? "task" : "tasks",
             w->n == 1 ? "" : ", the first", what),
         w);
  else if (cause == NOBODY)
    warn(list, "nobody-on-shift",
         pw_task_words(list, "Nobody with the duty %s is on shift %s: %s%s%s.", DUTIES[duty], span,
                       w->n == 1 ? "" : pw_task_words(list, "%d tasks, the first: ", w->n), what, late),
         w);
  else if (cause == LATE)
    warn(list, "hands-short",
         pw_task_words(list, "Hands are short %s: %d %s up to %s late, the first: %s; %s.", span, w->n,
                       w->n == 1 ? "task begins" : "tasks begin", pw_format_minutes(w->late_min).s, what,
                       mend_words(list, duty, w)),
         w);
  else
    warn(list, "hands-short",
         pw_task_words(list, "Hands are short %s: nobody has time for %s%s%s; %s.", span,
                       w->n == 1 ? "" : pw_task_words(list, "%d tasks, the first: ", w->n), what, late,
                       mend_words(list, duty, w)),
         w);
}

/* A draft that somebody with its duty could do, were they not at something else. */
static bool is_anybody_there(const struct pw_task_list *list, const struct pw_draft *d, const struct pw_task *t)
{
  int there;
  return pw_hands_on_shift(list, d->also | 1u << d->duty, t->at_min, t->at_min, t->minutes, &there);
}

static enum cause cause_of(const struct pw_task_list *list, int draft, const struct pw_task *t)
{
  const struct pw_draft *d = &list->drafts[draft];
  if (t->person != PW_NONE)
    return list->state[draft].late_min > 0 ? LATE : FINE;
  if (is_anybody_there(list, d, t))
    return SHORT;
  return is_office(d) ? OFFICE : NOBODY;
}

/* All wants of one cause and duty, in order of time. */
static void wants(struct pw_task_list *list, enum cause cause, int duty)
{
  struct want w = {0};
  int after = INT_MIN;
  for (;;) { /* tasks are not yet sorted: the next one after the last told */
    int best = PW_NONE, best_draft = PW_NONE;
    for (int d = 0; d < (int)list->n_drafts; d++)
      for (int k = 0; k < list->state[d].n_tasks; k++) {
        int i = list->state[d].first_task + k;
        const struct pw_task *t = &list->tasks[i];
        bool is_of = cause_of(list, d, t) == cause && (cause == OFFICE || (int)t->duty == duty);
        if (is_of && t->at_min > after && (best == PW_NONE || t->at_min < list->tasks[best].at_min)) {
          best = i;
          best_draft = d;
        }
      }
    const struct pw_task *t = best == PW_NONE ? NULL : &list->tasks[best];
    bool is_same = t && w.n > 0 &&
                   (cause == OFFICE ||
                    (cause == NOBODY ? pw_when_day_number(list->ev, t->at_min) == pw_when_day_number(list->ev, w.from)
                                     : t->at_min - w.to <= ONE_CAUSE_MIN));
    if (w.n > 0 && !is_same) {
      say(list, duty, &w, cause);
      w = (struct want){0};
    }
    if (!t || list->failed)
      return;
    after = t->at_min;
    if (w.n == 0)
      w = (struct want){.from = t->at_min, .to = t->at_min, .first = best};
    for (int d = 0; d < (int)list->n_drafts; d++) /* all that begin then */
      for (int k = 0; k < list->state[d].n_tasks; k++) {
        const struct pw_task *x = &list->tasks[list->state[d].first_task + k];
        if (x->at_min != t->at_min || cause_of(list, d, x) != cause || (cause != OFFICE && (int)x->duty != duty))
          continue;
        if (pw_arena_grow(list->ctx->arena, &w.tasks, &w.cap, (size_t)w.n, sizeof *w.tasks) != 0) {
          list->failed = true;
          return;
        }
        w.tasks[w.n++] = list->state[d].first_task + k;
        if (cause != OFFICE && cause != NOBODY && x->at_min + x->minutes > w.to)
          w.to = x->at_min + x->minutes;
        if (list->state[d].late_min > w.late_min && cause != OFFICE)
          w.late_min = list->state[d].late_min;
      }
    if (cause == OFFICE || cause == NOBODY)
      w.to = t->at_min;
    else if (cause == LATE && t->at_min - list->state[best_draft].late_min < w.from)
      w.from = t->at_min - list->state[best_draft].late_min;
  }
}

/* Rubbed without: it tastes of less, and nobody is harmed. */
static void not_brined(struct pw_task_list *list)
{
  for (int d = 0; d < (int)list->n_drafts && !list->failed; d++) {
    const struct pw_draft *x = &list->drafts[d];
    if (x->kind != PW_TASK_BRINE || list->state[d].n_tasks > 0)
      continue;
    warn(list, "not-brined",
         pw_task_words(
             list,
             "Nobody finds the time to brine %d × %s: %s in it at least, and out of it before it is made ready. "
             "Rub it without, or have it in the house earlier and somebody there for it.",
             x->pieces, x->noun, pw_format_minutes(x->lies_min).s),
         &(struct want){0});
  }
}

void pw_task_warn(struct pw_task_list *list)
{
  not_brined(list);
  wants(list, OFFICE, 0);
  for (int duty = 0; duty < PW_DUTY__COUNT; duty++) {
    wants(list, NOBODY, duty);
    wants(list, SHORT, duty);
    wants(list, LATE, duty);
  }
}
