/* plan_check_rest.c - the judge on people: shifts, days, drives and nights that are too long are told, and of whom [J18].
 * In: people, tasks, burns, warnings.  Out: findings: a warning that the plan's own data ask for and that is not there. */
#include "base/clock.h"
#include "judge/plan_check_parts.h"

#include <limits.h>
#include <string.h>

enum {
  DAY_MIN = 1440,
  SHIFT_MIN = 720,
  TASKS_MIN = 960,
  AWAKE_MIN = 960,
  NIGHT_HOURS = 5,
  ALONE_MIN = 120,
  STEP_MIN = 15
};

/** A warning with the code that begins with the person's name, and says in brackets which shift. */
static bool is_told(const struct pw_seen_plan *plan, const char *code, const char *name)
{
  size_t n = strlen(name);
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++) {
    const struct pw_seen_warning *w = &plan->warnings[i];
    if (strcmp(w->code, code) == 0 && w->text && strncmp(w->text, name, n) == 0 && strncmp(w->text + n, " (", 2) == 0)
      return true;
  }
  return false;
}

static void ask(struct pw_judge *judge, const struct pw_seen_plan *plan, int p, const char *code, int is, int most)
{
  const struct pw_seen_person *who = &plan->people[p];
  if (!is_told(plan, code, who->name ? who->name : who->id))
    pw_judge_find(judge, "J18", "people[%d]: \"%s\" has %d min, %d are enough, and no warning \"%s\" says so", p,
                  who->id, is, most, code);
}

static void check_person(struct pw_judge *judge, const struct pw_seen_plan *plan, int p)
{
  const struct pw_seen_person *who = &plan->people[p];
  int span = 0, awake = 0;
  if (who->to_min - who->from_min > SHIFT_MIN)
    ask(judge, plan, p, "long-shift", who->to_min - who->from_min, SHIFT_MIN);
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *a = &plan->tasks[i];
    if (a->person != p)
      continue;
    if (a->kind == PW_SEEN_DRIVE && a->at_min + a->minutes - who->from_min > awake)
      awake = a->at_min + a->minutes - who->from_min;
    for (int k = 0; k < plan->n[PW_SEEN_TASKS]; k++) {
      const struct pw_seen_task *b = &plan->tasks[k];
      int here = b->at_min + b->minutes - a->at_min;
      if (b->person == p && here <= DAY_MIN && here > span)
        span = here;
    }
  }
  if (span > TASKS_MIN)
    ask(judge, plan, p, "long-day", span, TASKS_MIN);
  if (awake >= AWAKE_MIN)
    ask(judge, plan, p, "tired-driver", awake, AWAKE_MIN);
}

static bool is_night(const struct pw_seen_plan *plan, int at)
{
  int hour = plan->clock ? pw_clock_local(plan->clock, at).hour : (at % DAY_MIN + DAY_MIN) % DAY_MIN / 60;
  return hour < NIGHT_HOURS;
}

/** The only person on shift while something burns; PW_SEEN_NONE. */
static int alone_at(const struct pw_seen_plan *plan, int at)
{
  bool is_lit = false;
  int one = PW_SEEN_NONE, n = 0;
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++)
    is_lit = is_lit || (plan->burns[b].lit_min <= at && at < plan->burns[b].out_min);
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++)
    if (plan->people[p].from_min <= at && at < plan->people[p].to_min) {
      one = n++ == 0 ? p : PW_SEEN_NONE;
    }
  return is_lit && n == 1 ? one : PW_SEEN_NONE;
}

static void check_nights(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  int first = INT_MAX, last = INT_MIN, alone = 0, who = PW_SEEN_NONE;
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++) {
    first = plan->burns[b].lit_min < first ? plan->burns[b].lit_min : first;
    last = plan->burns[b].out_min > last ? plan->burns[b].out_min : last;
  }
  for (int at = first; first != INT_MAX; at += STEP_MIN) {
    bool is_over = at >= last || !is_night(plan, at);
    int one = is_over ? PW_SEEN_NONE : alone_at(plan, at);
    if (one != PW_SEEN_NONE) {
      who = alone == 0 ? one : who;
      alone += STEP_MIN;
    }
    if (!is_over)
      continue;
    if (alone >= ALONE_MIN)
      ask(judge, plan, who, "alone-at-night", alone, ALONE_MIN);
    alone = 0;
    if (at >= last)
      return;
  }
}

pw_status pw_check_rest(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++)
    check_person(judge, plan, p);
  check_nights(judge, plan);
  return PW_OK;
}
