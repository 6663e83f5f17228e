/* staff_trim.c - shifts left out, shortened or given to cheaper people, each time with the tasks placed again [S2].
 * In: the roster of the program.  Out: a cheaper one on which every task keeps its hands. */
#include "base/arena.h"
#include "plan/crew/staff.h"
#include "plan/demand/head_count.h"

#include <string.h>

enum { ADDED_MOST = 4, ADD_TRIALS = 300, TRIALS = 160 }; /* times the tasks are placed again */

/* A shift covers a slot when it is there for all of it. */
static bool covers(const struct pw_staff *s, const struct pw_staff_shift *x, int slot)
{
  int from = s->from_min + slot * PW_STAFF_SLOT_MIN, to = from + PW_STAFF_SLOT_MIN;
  bool is_in_break = x->break_from_min < to && x->break_to_min > from;
  return x->from_min <= from && to <= x->to_min && !is_in_break;
}

static int hands_there(const struct pw_staff *s, const struct pw_staff_roster *r, const struct pw_cover_presence *p)
{
  int from = s->from_min + p->slot * PW_STAFF_SLOT_MIN, n = 0;
  for (int i = 0; i < r->n; i++)
    n += (p->groups >> r->shifts[i].pool & 1u) && covers(s, &r->shifts[i], p->slot);
  for (int c = 0; c < s->asked->n_crew; c++) {
    const struct pw_crew *crew = &s->asked->crew[c];
    if (crew->from_at_min > from || crew->to_at_min < from + PW_STAFF_SLOT_MIN)
      continue;
    for (int g = s->asked->n_pool; g < s->n_groups; g++)
      n += s->duties[g] == crew->duties && (p->groups >> g & 1u) ? pw_head_count_hands(s->asked, crew) : 0;
  }
  return n;
}

static int lack_of(const struct pw_staff *s, const struct pw_staff_roster *r, const struct pw_cover_presence *list,
                   size_t n, int *first_at_min)
{
  int lack = 0;
  for (size_t i = 0; i < n; i++) {
    int there = hands_there(s, r, &list[i]), at = s->from_min + list[i].slot * PW_STAFF_SLOT_MIN;
    if (there >= list[i].hands)
      continue;
    if (lack == 0 || at < *first_at_min)
      *first_at_min = at;
    lack += list[i].hands - there;
  }
  return lack;
}

struct pw_staff_absence pw_staff_absent(const struct pw_staff *s, const struct pw_staff_roster *r)
{
  struct pw_staff_absence a = {0};
  a.fire = lack_of(s, r, s->presences, s->n_presences, &a.fire_at_min);
  a.guests = lack_of(s, r, s->guests, s->n_guests, &a.guests_at_min);
  return a;
}

struct trim {
  struct pw_staff *s;
  struct pw_staff_roster *best;
  struct pw_staff_absence absent; /* of the best */
  struct pw_staff_roster trial;
  double tight_min; /* as tight as the program left it */
  int n_left;
  pw_status status;
};

/* Changes nothing but the trial's shift `i`; its break as near to the middle as everybody who must be there allows. */
static bool set_break(struct trim *t, int i)
{
  static const int places[] = {0, -1, 1, -2, 2, -3, 3, -4, 4};
  struct pw_staff_shift *x = &t->trial.shifts[i];
  const struct pw_work_rules *rules = &t->s->asked->rules;
  int length = x->to_min - x->from_min, pause = pw_staff_break(rules, length);
  x->break_from_min = x->break_to_min = 0;
  for (size_t k = 0; k < sizeof places / sizeof *places; k++) {
    if (pause > 0) {
      int middle = (length - pause) / 2 / PW_STAFF_SLOT_MIN * PW_STAFF_SLOT_MIN;
      int before = middle + places[k] * PW_STAFF_SLOT_MIN, after = length - pause - before;
      if (before <= 0 || after <= 0 || before > rules->break_after_min || after > rules->break_after_min)
        continue;
      x->break_from_min = x->from_min + before;
      x->break_to_min = x->break_from_min + pause;
    }
    struct pw_staff_absence a = pw_staff_absent(t->s, &t->trial);
    if (a.fire <= t->absent.fire && a.guests <= t->absent.guests)
      return true;
    if (pause == 0)
      return false;
  }
  return false;
}

/* Takes the trial for the best when it is cheaper and no task lacks hands for it. */
static bool take(struct trim *t)
{
  pw_staff_price(t->s, &t->trial);
  if (t->trial.cents >= t->best->cents - 1e-6 || t->n_left <= 0 || t->status != PW_OK)
    return false;
  t->n_left--;
  t->status = pw_staff_try(t->s, &t->trial, false);
  if (t->status != PW_OK || t->trial.n_lacking > t->best->n_lacking || t->trial.lacking_min > t->best->lacking_min ||
      t->trial.tight_min > t->tight_min + 1e-9)
    return false;
  memcpy(t->best->shifts, t->trial.shifts, (size_t)t->trial.n * sizeof *t->trial.shifts);
  t->best->n = t->trial.n;
  t->best->cents = t->trial.cents;
  t->best->n_lacking = t->trial.n_lacking;
  t->best->lacking_min = t->trial.lacking_min;
  t->absent = pw_staff_absent(t->s, t->best);
  return true;
}

static void begin_trial(struct trim *t)
{
  memcpy(t->trial.shifts, t->best->shifts, (size_t)t->best->n * sizeof *t->trial.shifts);
  t->trial.n = t->best->n;
}

static bool leave_out(struct trim *t, int i)
{
  begin_trial(t);
  t->trial.n--;
  memmove(t->trial.shifts + i, t->trial.shifts + i + 1, (size_t)(t->trial.n - i) * sizeof *t->trial.shifts);
  struct pw_staff_absence a = pw_staff_absent(t->s, &t->trial);
  return a.fire <= t->absent.fire && a.guests <= t->absent.guests && take(t);
}

/* Later to come or sooner to go, no shorter than the least that is paid. */
static bool shorten(struct trim *t, int i, int later_min, int sooner_min)
{
  begin_trial(t);
  struct pw_staff_shift *x = &t->trial.shifts[i];
  x->from_min += later_min;
  x->to_min -= sooner_min;
  return x->to_min - x->from_min >= t->s->asked->pool[x->pool].least_min &&
         pw_staff_is_long_enough(t->s, x->from_min, x->to_min) && set_break(t, i) && take(t);
}

/* Somebody of that line who is rested before and after. */
static int rested(const struct trim *t, int pool, int except)
{
  const struct pw_staff_shift *x = &t->best->shifts[except];
  int rest = t->s->asked->rules.rest_min;
  for (int person = 0; person < t->s->asked->pool[pool].up_to; person++) {
    bool is_free = true;
    for (int i = 0; i < t->best->n; i++) {
      const struct pw_staff_shift *o = &t->best->shifts[i];
      if (i != except && o->pool == pool && o->person == person && o->from_min < x->to_min + rest &&
          x->from_min < o->to_min + rest)
        is_free = false;
    }
    if (is_free)
      return person;
  }
  return PW_NONE;
}

/* The same hours by a cheaper line of the pool that may work them. */
static bool cheaper(struct trim *t, int i)
{
  const struct pw_staff_shift *x = &t->best->shifts[i];
  const struct pw_event *ev = t->s->asked;
  for (int pool = 0; pool < ev->n_pool; pool++) {
    const struct pw_pool *line = &ev->pool[pool];
    int length = x->to_min - x->from_min, person = rested(t, pool, i);
    if (pool == x->pool || line->cents_per_h >= ev->pool[x->pool].cents_per_h || person == PW_NONE ||
        length > pw_staff_longest(line, &ev->rules) || length < line->least_min ||
        (line->has_from && x->from_min < line->from_at_min) || (line->has_to && x->to_min > line->to_at_min))
      continue;
    begin_trial(t);
    t->trial.shifts[i].pool = pool;
    t->trial.shifts[i].person = person;
    struct pw_staff_absence a = pw_staff_absent(t->s, &t->trial);
    if (a.fire <= t->absent.fire && a.guests <= t->absent.guests && take(t))
      return true;
  }
  return false;
}

/* ---- one more where work still waits --------------------------------------------------------------------------- */

static bool is_allowed(const struct trim *t, int i)
{
  const struct pw_staff_shift *x = &t->trial.shifts[i];
  const struct pw_event *ev = t->s->asked;
  const struct pw_pool *line = &ev->pool[x->pool];
  if (x->to_min - x->from_min > pw_staff_longest(line, &ev->rules) ||
      (line->has_from && x->from_min < line->from_at_min) || (line->has_to && x->to_min > line->to_at_min) ||
      !pw_staff_is_long_enough(t->s, x->from_min, x->to_min) || pw_staff_is_long_night(t->s, x->from_min, x->to_min))
    return false;
  for (int k = 0; k < t->trial.n; k++) {
    const struct pw_staff_shift *o = &t->trial.shifts[k];
    if (k != i && o->pool == x->pool && o->person == x->person && o->from_min < x->to_min + ev->rules.rest_min &&
        x->from_min < o->to_min + ev->rules.rest_min)
      return false;
  }
  return true;
}

/* Better than the best so far of this search: fewer tasks wait, or shorter, or for less. */
static void weigh(struct trim *t, int i, struct pw_staff_roster *found)
{
  if (t->n_left <= 0 || t->status != PW_OK || !is_allowed(t, i) || !set_break(t, i))
    return;
  t->n_left--;
  pw_staff_price(t->s, &t->trial);
  t->status = pw_staff_try(t->s, &t->trial, false);
  bool is_better = t->trial.n_lacking < found->n_lacking ||
                   (t->trial.n_lacking == found->n_lacking && t->trial.lacking_min < found->lacking_min) ||
                   (found->n > 0 && t->trial.n_lacking == found->n_lacking &&
                    t->trial.lacking_min == found->lacking_min && t->trial.cents < found->cents - 1e-6);
  if (t->status != PW_OK || !is_better)
    return;
  struct pw_staff_shift *shifts = found->shifts;
  memcpy(shifts, t->trial.shifts, (size_t)t->trial.n * sizeof *shifts);
  *found = t->trial;
  found->shifts = shifts;
}

/* A shift longer to either side, or one more of each line, over the first half hour in which work waits. */
static bool add_hand(struct trim *t, struct pw_staff_roster *found, double *lack)
{
  const struct pw_event *ev = t->s->asked;
  struct pw_staff_roster is = *t->best;
  enum { FAR_MIN = 180 };
  for (int k = 0; k < t->s->n_slots; k++)
    lack[k] = 0;
  t->s->lack = lack;
  t->status = pw_staff_try(t->s, &is, false);
  t->s->lack = NULL;
  int slot = 0;
  while (slot < t->s->n_slots && lack[slot] <= 0)
    slot++;
  if (slot == t->s->n_slots || t->status != PW_OK)
    return false;
  int from = t->s->from_min + slot * PW_STAFF_SLOT_MIN, to = from + PW_STAFF_SLOT_MIN;
  found->n = 0;
  found->n_lacking = is.n_lacking;
  found->lacking_min = is.lacking_min;
  for (int i = 0; i < t->best->n; i++) {
    const struct pw_staff_shift *x = &t->best->shifts[i];
    for (int more = 0; more <= 2 * PW_STAFF_SLOT_MIN; more += PW_STAFF_SLOT_MIN) {
      begin_trial(t);
      if (x->from_min >= to && x->from_min - from <= FAR_MIN)
        t->trial.shifts[i].from_min = from - more;
      else if (x->to_min <= from && to - x->to_min <= FAR_MIN)
        t->trial.shifts[i].to_min = to + more;
      else
        break;
      weigh(t, i, found);
    }
  }
  for (int p = 0; p < ev->n_pool; p++)
    for (int person = 0; person < ev->pool[p].up_to; person++) {
      int length = (ev->pool[p].least_min + PW_STAFF_SLOT_MIN - 1) / PW_STAFF_SLOT_MIN * PW_STAFF_SLOT_MIN,
          n = found->n;
      for (int before = 0; before <= 2; before++) { /* the wait at its begin, in its middle, at its end */
        begin_trial(t);
        int begin = from - before * (length - PW_STAFF_SLOT_MIN) / 2 / PW_STAFF_SLOT_MIN * PW_STAFF_SLOT_MIN;
        t->trial.shifts[t->trial.n++] =
            (struct pw_staff_shift){.pool = p, .person = person, .from_min = begin, .to_min = begin + length};
        weigh(t, t->trial.n - 1, found);
      }
      if (found->n > n)
        break; /* the others of the line are alike */
    }
  if (found->n == 0 || t->status != PW_OK)
    return false;
  memcpy(t->best->shifts, found->shifts, (size_t)found->n * sizeof *found->shifts);
  struct pw_staff_shift *shifts = t->best->shifts;
  *t->best = *found;
  t->best->shifts = shifts;
  t->absent = pw_staff_absent(t->s, t->best);
  return true;
}

pw_status pw_staff_add(struct pw_staff *s, struct pw_staff_roster *r)
{
  size_t most = (size_t)r->n + ADDED_MOST + 2;
  struct pw_staff_shift *shifts = pw_arena_array(s->ctx->arena, most, sizeof *shifts);
  double *lack = pw_arena_array(s->ctx->arena, (size_t)s->n_slots + 1, sizeof *lack);
  struct pw_staff_roster found = {.shifts = pw_arena_array(s->ctx->arena, most, sizeof *shifts)};
  struct trim t = {.s = s, .best = r, .absent = pw_staff_absent(s, r), .n_left = ADD_TRIALS};
  t.trial.shifts = pw_arena_array(s->ctx->arena, most, sizeof *shifts);
  if (!shifts || !lack || !found.shifts || !t.trial.shifts)
    return PW_ERR_MEMORY;
  memcpy(shifts, r->shifts, (size_t)r->n * sizeof *shifts);
  r->shifts = shifts;
  for (int i = 0; i < ADDED_MOST && r->n_lacking > 0 && add_hand(&t, &found, lack); i++)
    ;
  return t.status;
}

static bool begins_in_bed_time(const struct pw_staff *s, const struct pw_staff_shift *x)
{
  return pw_staff_is_bed_time(s, (x->from_min - s->from_min) / PW_STAFF_SLOT_MIN);
}

pw_status pw_staff_trim(struct pw_staff *s, struct pw_staff_roster *r)
{
  static const int steps[] = {120, 60, 30};
  struct trim t = {.s = s, .best = r, .absent = pw_staff_absent(s, r), .tight_min = r->tight_min, .n_left = TRIALS};
  t.trial.shifts = pw_arena_array(s->ctx->arena, (size_t)r->n + 1, sizeof *t.trial.shifts);
  if (!t.trial.shifts)
    return PW_ERR_MEMORY;
  for (int i = 0; i < r->n && t.status == PW_OK; i++)
    if (leave_out(&t, i))
      i--;
  for (int i = 0; i < r->n && t.status == PW_OK; i++)
    cheaper(&t, i);
  for (size_t k = 0; k < sizeof steps / sizeof *steps; k++)
    for (int i = 0; i < r->n && t.status == PW_OK; i++) {
      bool is_night_first = begins_in_bed_time(s, &r->shifts[i]); /* of two ends the one by night */
      while (is_night_first && shorten(&t, i, steps[k], 0))
        ;
      while (shorten(&t, i, 0, steps[k]))
        ;
      while (shorten(&t, i, steps[k], 0))
        ;
    }
  return t.status;
}
