/* task_again.c - of a plan mended from now on: a draft by who did it, or was to do it.
 * In: a draft and the tasks of the plan before.  Out: its tasks, where they can stay as they were; else it is placed anew
 * (task_place.c).  What was done is a fact and waits for nothing; nothing new begins in the past; what nobody did and is past stays
 * nobody's. */
#include "plan/crew/task_people.h"

#include <limits.h>
#include <string.h>

static int max_int(int a, int b) { return a > b ? a : b; }

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

static bool is_not_off(const struct pw_task_list *list, int draft);

/* What may be left out is not done on pieces whose turn has not come: the rub of some is still to be scratched, those beside them were
 * mopped. */
static bool is_still_to_come(const struct pw_task_list *list, const struct pw_draft *d)
{
  int draft = (int)(d - list->drafts);
  for (int e = list->first_edge[draft]; d->may_be_left_out && e < list->first_edge[draft + 1]; e++)
    if (!pw_task_is_fact(list, list->edges[e].before))
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
  pw_task_give(list, draft, t->at, 0, d->pieces, at, pw_task_minutes(d, d->pieces), t->person);
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
      pw_task_give(list, draft, t->at, d->pieces > 0 ? offset_of(d, t) : 0, t->pieces, at[k], t->minutes, t->person);
    else
      list->is_used[found[k]] = false;
  }
  bool is_open = d->kind == PW_TASK_CUT && is_not_off(list, draft);
  return is_ok || (d->first_at_min < day->now_min && !is_open && place_as_others(list, draft));
}

int pw_task_from_now(const struct pw_task_list *list, int draft, int earliest)
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
  if (d->kind == PW_TASK_HEAT_UP) /* food is in */
    return d->end_by_min < list->plan->day->now_min;
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

/* Pans of a meal that is on: guests eat from them, so somebody filled them. */
static bool is_panned_up(const struct pw_task_list *list, const struct pw_draft *d)
{
  return d->kind == PW_TASK_PAN_UP && list->ev->services[d->service].at_min <= list->plan->day->now_min;
}

/* What nobody did stays nobody's where it was: an order, which the office saw to or it is too late for, the pans of a meal that is on,
 * and work for a meal that is over. */
static bool place_as_nobodys(struct pw_task_list *list, int draft)
{
  const struct pw_draft *d = &list->drafts[draft];
  const struct pw_day_now *day = list->plan->day;
  if ((d->rank != PW_RANK_BUY && !is_panned_up(list, d) && !is_over(list, d)) ||
      (d->kind == PW_TASK_CUT && is_not_off(list, draft)))
    return false;
  for (int i = 0; i < day->n_before; i++) {
    const struct pw_task *t = &day->before[i];
    if (t->person != PW_NONE || t->kind != d->kind || t->lot != d->lot || t->pit != d->pit ||
        t->service != d->service || t->dish != d->dish || t->at_min >= day->now_min || t->n_items != d->n_items ||
        (d->pieces > 0 && !d->ids) || (d->n_items > 0 && t->items[0] != d->items[0]) ||
        (d->pieces > 0 && t->n_ids > 0 && t->piece_ids[0] != d->ids[0]))
      continue;
    pw_task_give(list, draft, t->at, 0, d->pieces, t->at_min, t->minutes, PW_NONE);
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

bool pw_task_is_fact(const struct pw_task_list *list, int draft)
{
  const struct pw_draft *d = &list->drafts[draft];
  const struct pw_day_now *day = list->plan->day;
  if (!day || d->first_at_min >= day->now_min || (d->kind == PW_TASK_CUT && is_not_off(list, draft)))
    return false;
  int t = nearest_before(list, d);
  return t == PW_NONE ? done_on_others(list, d) != NULL
                      : d->first_at_min == d->last_at_min || day->before[t].at_min < day->now_min;
}

bool pw_task_again(struct pw_task_list *list, int draft, int earliest)
{
  return place_as_before(list, draft, earliest) || place_as_nobodys(list, draft) || is_bygone(list, draft);
}

/* A fact waits for nothing: its hands are booked before those of what is to come, also of what should have been over first. */
void pw_task_fact(struct pw_task_list *list, int draft)
{
  struct pw_draft_state *s = &list->state[draft];
  if (s->is_placed || !pw_task_is_fact(list, draft))
    return;
  s->end_min = INT_MIN;
  s->is_placed = place_as_before(list, draft, INT_MIN);
}
