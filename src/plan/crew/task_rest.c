/* task_rest.c - people who are planned too long, drive too tired or tend a fire alone at night [H3].
 * In: people, their tasks, burns.  Out: warnings, one for each cause, and a word for each person it is about.
 * A person is one pair of hands of one crew line: who works two lines of the crew is known to the caterer alone. */
#include "base/arena.h"
#include "base/clock.h"
#include "base/format.h"
#include "base/when.h"
#include "plan/crew/task_list.h"

#include <limits.h>

enum {
  DAY_MIN = 24 * 60,
  SHIFT_MOST_MIN =
      12 * 60, /* OSHA, long work hours and worker fatigue: 12 h shifts have 37 % more injuries, from memory */
  TASKS_MOST_MIN = 16 * 60, /* between the first and the last task in 24 h; leaves 8 h: CDC, 7 h of sleep or more */
  AWAKE_MOST_MIN =
      16 * 60, /* OSHA, drowsy driving (17 h awake is like 0.05 % blood alcohol), an hour of way to work before it */
  NIGHT_TO_HOUR = 5,       /* night from 00:00: Directive 2003/88/EC Article 2(3) */
  ALONE_FROM_MIN = 2 * 60, /* alone for so long of one night: common practice, no source */
  LOOK_EVERY_MIN = 15
};

static void add(struct pw_task_list *list, int person, const char *code, const char *text)
{
  struct pw_person *p = &list->people[person];
  if (pw_arena_grow(list->ctx->arena, &list->warnings, &list->cap_warnings, list->n_warnings, sizeof *list->warnings)) {
    list->failed = true;
    return;
  }
  list->warnings[list->n_warnings++] = (struct pw_warning){.code = code, .text = text};
  p->caution = p->caution ? pw_task_words(list, "%s %s", p->caution, text) : text;
}

/* "pit hand 2 (Sat 06:00 to 18:30)" */
static const char *who(struct pw_task_list *list, int person)
{
  const struct pw_crew *c = &list->ev->crew[list->people[person].crew];
  return pw_task_words(list, "%s (%s, %s %s to %s)", list->people[person].name, c->role,
                       pw_when_day_short(list->ev, c->from_at_min).s, pw_when_clock(list->ev, c->from_at_min).s,
                       pw_when_clock(list->ev, c->to_at_min).s);
}

static void long_shift(struct pw_task_list *list, int person)
{
  const struct pw_crew *c = &list->ev->crew[list->people[person].crew];
  if (c->to_at_min - c->from_at_min > SHIFT_MOST_MIN)
    add(list, person, "long-shift",
        pw_task_words(list,
                      "%s is on shift for %s, more than %s: tired people burn and cut themselves (OSHA, worker "
                      "fatigue). Share it between two; local law and the contract may ask for less.",
                      who(list, person), pw_format_minutes(c->to_at_min - c->from_at_min).s,
                      pw_format_minutes(SHIFT_MOST_MIN).s));
}

/* Longest stretch from the begin of one task of theirs to the end of another, within 24 h. */
static int longest_day(const struct pw_task_list *list, int person)
{
  int longest = 0;
  for (size_t i = 0; i < list->n_tasks; i++)
    for (size_t k = 0; k < list->n_tasks && list->tasks[i].person == person; k++) {
      int span = list->tasks[k].at_min + list->tasks[k].minutes - list->tasks[i].at_min;
      if (list->tasks[k].person == person && span <= DAY_MIN && span > longest)
        longest = span;
    }
  return longest;
}

static void long_day(struct pw_task_list *list, int person)
{
  int span = longest_day(list, person);
  if (span > TASKS_MOST_MIN)
    add(list, person, "long-day",
        pw_task_words(list,
                      "%s has %s from the first task to the last, more than %s of 24 h: too little is left for sleep. "
                      "Give the early or the late tasks to somebody else.",
                      who(list, person), pw_format_minutes(span).s, pw_format_minutes(TASKS_MOST_MIN).s));
}

static void tired_driver(struct pw_task_list *list, int person)
{
  const struct pw_crew *c = &list->ev->crew[list->people[person].crew];
  for (size_t i = 0; i < list->n_tasks; i++) {
    const struct pw_task *t = &list->tasks[i];
    int awake = t->at_min + t->minutes - c->from_at_min;
    if (t->person != person || t->kind != PW_TASK_DRIVE || awake < AWAKE_MOST_MIN)
      continue;
    add(list, person, "tired-driver",
        pw_task_words(list,
                      "%s drives until %s, awake for %s or more by then: 17 h awake is like 0.05 %% blood alcohol "
                      "(OSHA, drowsy driving). Somebody rested drives and tows, or they sleep first.",
                      who(list, person), pw_when(list->ev, t->at_min + t->minutes).s, pw_format_minutes(awake).s));
    return;
  }
}

static bool is_lit(const struct pw_allocation *al, int at)
{
  for (int b = 0; b < al->n_burns; b++)
    if (al->burns[b].lit_at_min <= at && at < al->burns[b].out_at_min)
      return true;
  return false;
}

/* Who is the only one on shift; PW_NONE: nobody, or more than one. */
static int only_one(const struct pw_task_list *list, int at)
{
  int one = PW_NONE;
  for (int p = 0; p < list->n_people; p++) {
    const struct pw_crew *c = &list->ev->crew[list->people[p].crew];
    if (c->from_at_min > at || c->to_at_min <= at)
      continue;
    if (one != PW_NONE)
      return PW_NONE;
    one = p;
  }
  return one;
}

bool pw_task_is_night(const struct pw_event *ev, int at)
{
  int hour = ev->clock ? pw_clock_local(ev->clock, at).hour : (at % DAY_MIN + DAY_MIN) % DAY_MIN / 60;
  return hour < NIGHT_TO_HOUR;
}

static void alone_at_night(struct pw_task_list *list)
{
  const struct pw_allocation *al = &list->plan->allocation;
  int first = INT_MAX, last = INT_MIN;
  for (int b = 0; b < al->n_burns; b++) {
    first = al->burns[b].lit_at_min < first ? al->burns[b].lit_at_min : first;
    last = al->burns[b].out_at_min > last ? al->burns[b].out_at_min : last;
  }
  int alone = 0, from = 0, person = PW_NONE;
  for (int at = first; first != INT_MAX; at += LOOK_EVERY_MIN) {
    bool is_over = at >= last || !pw_task_is_night(list->ev, at);
    int one = !is_over && is_lit(al, at) ? only_one(list, at) : PW_NONE;
    if (one != PW_NONE) {
      from = alone == 0 ? at : from;
      person = alone == 0 ? one : person;
      alone += LOOK_EVERY_MIN;
    }
    if (is_over && alone >= ALONE_FROM_MIN)
      add(list, person, "alone-at-night",
          pw_task_words(list,
                        "%s is the only one on shift at a lit fire for %s of the night, from %s on: nobody is there "
                        "for a burn, a fall or gas, and nobody wakes who nods off. Two at a fire by night.",
                        who(list, person), pw_format_minutes(alone).s, pw_when(list->ev, from).s));
    if (is_over)
      alone = 0;
    if (at >= last)
      return;
  }
}

void pw_task_rest(struct pw_task_list *list)
{
  for (int p = 0; p < list->n_people && !list->failed; p++) {
    long_shift(list, p);
    long_day(list, p);
    tired_driver(list, p);
  }
  if (!list->failed)
    alone_at_night(list);
}
