/* plan_check_work.c - fire [J7] and hands [J9].
 * In: burns and loads; crew and tasks.  Out: findings. */
#include "base/arena.h"
#include "judge/plan_check_parts.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define KG_SLACK 0.005 /* feeds are written to the gram or better */

/* ---- burns [J7] -------------------------------------------------------------------------------------------- */

static void check_burn(struct pw_judge *judge, const struct pw_seen_plan *plan, int b)
{
  const struct pw_seen_burn *burn = &plan->burns[b];
  const struct pw_seen_pit *pit = &plan->pits[burn->pit];
  if (burn->lit_min > burn->ready_min || burn->ready_min >= burn->out_min)
    pw_judge_find(judge, "J7", "burns[%d]: \"%s\" is lit at minute %d, ready at %d and out at %d: not in that order", b,
                  pit->id, burn->lit_min, burn->ready_min, burn->out_min);
  else if (pit->ready_min != PW_SEEN_NONE && burn->ready_min - burn->lit_min < pit->ready_min)
    pw_judge_find(judge, "J7", "burns[%d]: \"%s\" is called ready %d min after it is lit, it needs %d", b, pit->id,
                  burn->ready_min - burn->lit_min, pit->ready_min);
  double kg = 0;
  for (int i = 0; i < burn->n_feeds; i++) {
    const struct pw_seen_feed *feed = &burn->feeds[i];
    kg += feed->kg;
    if (feed->at_min < burn->lit_min || feed->at_min >= burn->out_min)
      pw_judge_find(judge, "J7", "burns[%d].feeds[%d]: at minute %d, the fire burns from %d to %d", b, i, feed->at_min,
                    burn->lit_min, burn->out_min);
    if (i > 0 && feed->at_min < burn->feeds[i - 1].at_min)
      pw_judge_find(judge, "J7", "burns[%d].feeds[%d]: at minute %d, before the feed in front of it", b, i,
                    feed->at_min);
  }
  if (fabs(kg - burn->fuel_kg) > KG_SLACK + 1e-9 * kg)
    pw_judge_find(judge, "J7", "burns[%d]: the feeds add up to %.6g kg, fuel_kg says %.6g", b, kg, burn->fuel_kg);
}

/** Burns of one pit do not overlap, and are no more than allowed. */
static void check_burns_of_pits(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  int n = plan->n[PW_SEEN_BURNS];
  const struct pw_seen_burn *burns = plan->burns;
  for (int b = 0; b < n; b++)
    for (int a = 0; a < b; a++)
      if (burns[a].pit == burns[b].pit && burns[b].lit_min < burns[a].out_min && burns[a].lit_min < burns[b].out_min)
        pw_judge_find(judge, "J7", "burns[%d]: \"%s\" is lit at minute %d while burns[%d] still burns", b,
                      plan->pits[burns[b].pit].id, burns[b].lit_min, a);
  for (int p = 0; p < plan->n[PW_SEEN_PITS]; p++) {
    int n_burns = 0;
    for (int b = 0; b < n; b++)
      n_burns += burns[b].pit == p;
    if (plan->pits[p].burns_max > 0 && n_burns > plan->pits[p].burns_max)
      pw_judge_find(judge, "J7", "burns: \"%s\" is lit %d times, it may be lit %d", plan->pits[p].id, n_burns,
                    plan->pits[p].burns_max);
  }
}

static void check_load_fire(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_load *load = &plan->loads[i];
  int pit = plan->racks[plan->zones[load->place].rack].pit;
  const struct pw_seen_burn *near = NULL; /* the burn it shares most minutes with */
  int most = 0;
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++) {
    const struct pw_seen_burn *burn = &plan->burns[b];
    if (burn->pit != pit)
      continue;
    if (load->start_min >= burn->ready_min && load->end_min <= burn->out_min)
      return;
    int from = load->start_min > burn->lit_min ? load->start_min : burn->lit_min;
    int to = load->end_min < burn->out_min ? load->end_min : burn->out_min;
    if (!near || to - from > most) {
      near = burn;
      most = to - from;
    }
  }
  if (!near)
    pw_judge_find(judge, "J7", "loads[%d]: lies in \"%s\", which is never lit", i, plan->pits[pit].id);
  else if (load->start_min < plan->now_min && load->end_min <= near->out_min)
    return; /* [J19] what is on is on */
  else if (load->start_min < near->ready_min)
    pw_judge_find(judge, "J7", "loads[%d]: goes on at minute %d, \"%s\" is ready at %d", i, load->start_min,
                  plan->pits[pit].id, near->ready_min);
  else
    pw_judge_find(judge, "J7", "loads[%d]: comes off at minute %d, \"%s\" is out at %d", i, load->end_min,
                  plan->pits[pit].id, near->out_min);
}

pw_status pw_check_fire(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++)
    check_burn(judge, plan, b);
  check_burns_of_pits(judge, plan);
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    if (pw_check_zone(plan, &plan->loads[i]))
      check_load_fire(judge, plan, i);
  return PW_OK;
}

/* ---- hands [J9] ---------------------------------------------------------------------------------------------- */

enum { HALF_HOUR_MIN = 30 };

static int n_warnings(const struct pw_seen_plan *plan, const char *code)
{
  int n = 0;
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    n += strcmp(plan->warnings[i].code, code) == 0;
  return n;
}

static int overlap_min(int a_from, int a_to, int b_from, int b_to)
{
  int from = a_from > b_from ? a_from : b_from, to = a_to < b_to ? a_to : b_to;
  return to > from ? to - from : 0;
}

static bool is_role(const struct pw_seen_plan *plan, int crew, int role)
{
  return crew == role || strcmp(plan->crew[crew].role, plan->crew[role].role) == 0;
}

/** Somebody of the role is on shift for all of the task, in one shift or in several that meet. */
static bool is_on_shift(const struct pw_seen_plan *plan, const struct pw_seen_task *task)
{
  int at = task->at_min, end = task->at_min + task->minutes;
  for (bool is_moving = true; is_moving;) {
    is_moving = false;
    for (int i = 0; i < plan->n[PW_SEEN_CREW]; i++) {
      const struct pw_seen_crew *c = &plan->crew[i];
      if (c->count == 0 || !is_role(plan, i, task->role) || c->from_min > at || c->to_min < at)
        continue;
      if (c->to_min >= end)
        return true;
      is_moving = is_moving || c->to_min > at;
      at = c->to_min > at ? c->to_min : at;
    }
  }
  return false;
}

/** Minutes of work in one half hour for one role. */
struct work {
  int role, half_hour, minutes, task;
};

static int by_role_and_time(const void *pa, const void *pb)
{
  const struct work *a = pa, *b = pb;
  if (a->role != b->role)
    return a->role < b->role ? -1 : 1;
  if (a->half_hour != b->half_hour)
    return a->half_hour < b->half_hour ? -1 : 1;
  return (a->task > b->task) - (a->task < b->task);
}

static int half_hour_of(int at_min)
{
  return at_min >= 0 ? at_min / HALF_HOUR_MIN : -((HALF_HOUR_MIN - 1 - at_min) / HALF_HOUR_MIN);
}

/** Minutes the hands of a role have in a half hour. */
static long minutes_there(const struct pw_seen_plan *plan, int role, int half_hour)
{
  int from = half_hour * HALF_HOUR_MIN;
  long there = 0;
  for (int i = 0; i < plan->n[PW_SEEN_CREW]; i++) {
    const struct pw_seen_crew *c = &plan->crew[i];
    if (is_role(plan, i, role))
      there += (long)c->count * overlap_min(from, from + HALF_HOUR_MIN, c->from_min, c->to_min);
  }
  return there;
}

/** Half hours with more work than hands; each is a finding when `is_said` is not set. */
static int check_half_hours(struct pw_judge *judge, const struct pw_seen_plan *plan, const struct work *work, size_t n,
                            bool is_said)
{
  int n_over = 0;
  for (size_t i = 0; i < n;) {
    const struct work *first = &work[i];
    long minutes = 0;
    for (; i < n && work[i].role == first->role && work[i].half_hour == first->half_hour; i++)
      minutes += work[i].minutes;
    long there = minutes_there(plan, first->role, first->half_hour);
    if (minutes <= there)
      continue;
    n_over++;
    if (!is_said)
      pw_judge_find(judge, "J9", "tasks[%d]: %ld minutes of work for \"%s\" in the half hour from minute %d, %ld there",
                    first->task, minutes, plan->crew[first->role].role, first->half_hour * HALF_HOUR_MIN, there);
  }
  return n_over;
}

/** Counts the half hours a task touches, or fills them in. */
static size_t spread(const struct pw_seen_task *task, int index, struct work *out)
{
  size_t n = 0;
  int end = task->at_min + task->minutes;
  for (int h = half_hour_of(task->at_min); h * HALF_HOUR_MIN < end; h++, n++)
    if (out)
      out[n] = (struct work){task->role, h, overlap_min(h * HALF_HOUR_MIN, (h + 1) * HALF_HOUR_MIN, task->at_min, end),
                             index};
  return n;
}

/** A task begins (+1) or ends (-1), or hands come on shift and leave. */
struct turn {
  int role, at_min, tasks, task;
  long hands;
};

static int by_role_and_minute(const void *pa, const void *pb)
{
  const struct turn *a = pa, *b = pb;
  if (a->role != b->role)
    return a->role < b->role ? -1 : 1;
  return (a->at_min > b->at_min) - (a->at_min < b->at_min);
}

static int first_of_role(const struct pw_seen_plan *plan, int role)
{
  int first = 0;
  while (!is_role(plan, first, role))
    first++;
  return first;
}

/** Roles with more tasks in hand than hands on shift at some minute; each is a finding when `is_said` is not set. */
static int check_minutes(struct pw_judge *judge, const struct pw_seen_plan *plan, const struct turn *turns, size_t n,
                         bool is_said)
{
  int n_over = 0;
  for (size_t i = 0; i < n;) {
    int role = turns[i].role, tasks = 0, last = PW_SEEN_NONE;
    long hands = 0;
    bool is_over = false;
    while (i < n && turns[i].role == role) {
      int at = turns[i].at_min;
      for (; i < n && turns[i].role == role && turns[i].at_min == at; i++) {
        tasks += turns[i].tasks;
        hands += turns[i].hands;
        last = turns[i].tasks > 0 ? turns[i].task : last;
      }
      if (tasks <= hands || is_over || last == PW_SEEN_NONE)
        continue;
      is_over = true;
      n_over++;
      if (!is_said)
        pw_judge_find(judge, "J9", "tasks[%d]: \"%s\" has %d tasks in hand at minute %d and %ld hands", last,
                      plan->crew[role].role, tasks, at, hands);
    }
  }
  return n_over;
}

/** Every minute: as many tasks as hands, or a warning that says so for the role. */
static pw_status check_two_at_once(struct pw_judge *judge, const struct pw_seen_plan *plan, int n_half_hours_over)
{
  size_t n = 0, most = 2 * ((size_t)plan->n[PW_SEEN_TASKS] + (size_t)plan->n[PW_SEEN_CREW]);
  struct turn *turns = pw_arena_array(judge->ctx->arena, most, sizeof *turns);
  if (!turns)
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++) {
    const struct pw_seen_task *t = &plan->tasks[i];
    if (t->role == PW_SEEN_NONE || t->minutes == 0 || !is_on_shift(plan, t))
      continue; /* found already */
    int role = first_of_role(plan, t->role);
    turns[n++] = (struct turn){role, t->at_min, 1, i, 0};
    turns[n++] = (struct turn){role, t->at_min + t->minutes, -1, i, 0};
  }
  for (int i = 0; i < plan->n[PW_SEEN_CREW]; i++) {
    const struct pw_seen_crew *c = &plan->crew[i];
    if (c->from_min >= c->to_min)
      continue;
    turns[n++] = (struct turn){first_of_role(plan, i), c->from_min, 0, PW_SEEN_NONE, c->count};
    turns[n++] = (struct turn){first_of_role(plan, i), c->to_min, 0, PW_SEEN_NONE, -(long)c->count};
  }
  if (n > 1)
    qsort(turns, n, sizeof *turns, by_role_and_minute);
  /* a half hour too full has its own finding or warning */
  if (check_minutes(judge, plan, turns, n, true) > n_warnings(plan, "two-at-once") + n_half_hours_over)
    (void)check_minutes(judge, plan, turns, n, false);
  return PW_OK;
}

/** One person for each hand of a crew line, there as long as the line says and paid as it says. */
static void check_people(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  long hands = 0;
  for (int c = 0; c < plan->n[PW_SEEN_CREW]; c++)
    hands += plan->crew[c].count;
  if (plan->n[PW_SEEN_PEOPLE] == 0)
    return;
  if (plan->n[PW_SEEN_PEOPLE] != hands)
    pw_judge_find(judge, "J9", "people: %d of them, the crew is %ld", plan->n[PW_SEEN_PEOPLE], hands);
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++) {
    const struct pw_seen_person *person = &plan->people[p];
    bool is_there = person->role == PW_SEEN_NONE;
    for (int c = 0; c < plan->n[PW_SEEN_CREW] && !is_there; c++) {
      const struct pw_seen_crew *line = &plan->crew[c];
      is_there = line->count > 0 && is_role(plan, c, person->role) && line->from_min == person->from_min &&
                 line->to_min == person->to_min &&
                 (isnan(line->cents_per_h) || isnan(person->cents_per_h) ||
                  !pw_check_differs(person->cents_per_h, line->cents_per_h));
    }
    if (!is_there)
      pw_judge_find(judge, "J9", "people[%d]: there from minute %d to %d for %g an hour, no line of the crew says so",
                    p, person->from_min, person->to_min, person->cents_per_h);
  }
}

pw_status pw_check_hands(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  enum { WORK_MAX = 2000000 };
  int n_tasks = plan->n[PW_SEEN_TASKS];
  size_t n = 0;
  check_people(judge, plan);
  for (int i = 0; i < plan->n[PW_SEEN_CREW]; i++)
    if (plan->crew[i].from_min > plan->crew[i].to_min)
      pw_judge_find(judge, "J9", "crew[%d]: the shift of \"%s\" ends at minute %d, before it begins at %d", i,
                    plan->crew[i].role, plan->crew[i].to_min, plan->crew[i].from_min);
  for (int i = 0; i < n_tasks; i++) {
    const struct pw_seen_task *task = &plan->tasks[i];
    if (task->lot == PW_SEEN_NONE ? task->pieces != 0 : task->pieces > plan->lots[task->lot].pieces)
      pw_judge_find(judge, "J9", "tasks[%d].pieces: %d pieces of %s", i, task->pieces,
                    task->lot == PW_SEEN_NONE ? "no lot" : plan->lots[task->lot].id);
    if (task->role == PW_SEEN_NONE) {
      /* without people tasks have no names */
      bool is_said = task->id ? task->told_late != PW_SEEN_NONE
                              : n_warnings(plan, "nobody-on-shift") + n_warnings(plan, "hands-short") > 0;
      if (!is_said)
        pw_judge_find(judge, "J9", "tasks[%d]: nobody does it, and no warning names it", i);
      continue;
    }
    if (!is_on_shift(plan, task))
      pw_judge_find(judge, "J9", "tasks[%d]: \"%s\" works from minute %d to %d, outside the shift", i,
                    plan->crew[task->role].role, task->at_min, task->at_min + task->minutes);
    n += spread(task, i, NULL);
  }
  if (n > WORK_MAX) {
    pw_judge_find(judge, "J9", "tasks: too much work to add up");
    return PW_OK;
  }
  struct work *work = pw_arena_array(judge->ctx->arena, n, sizeof *work);
  if (!work)
    return PW_ERR_MEMORY;
  n = 0;
  for (int i = 0; i < n_tasks; i++)
    if (plan->tasks[i].role != PW_SEEN_NONE)
      n += spread(&plan->tasks[i], i, work + n);
  if (n > 1)
    qsort(work, n, sizeof *work, by_role_and_time);
  /* a plan may ask more than the hands can do when it says so: one warning for each such half hour */
  int n_over = check_half_hours(judge, plan, work, n, true);
  if (n_over > n_warnings(plan, "hands-short"))
    (void)check_half_hours(judge, plan, work, n, false);
  return check_two_at_once(judge, plan, n_over);
}
