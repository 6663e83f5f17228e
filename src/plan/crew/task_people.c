/* task_people.c - one diary for each pair of hands: at one thing at a time, in one place at a time [S1].
 * In: crew lines.  Out: people, their diaries. */
#include "plan/crew/task_people.h"

#include "base/arena.h"
#include "plan/demand/head_count.h"

#include <limits.h>
#include <string.h>

struct turn {
  int from, to;
  struct pw_way way;
};

/** One person's time, turns in order. */
struct diary {
  int from, to;
  int break_from, break_to; /* equal: none */
  unsigned duties;
  struct turn *turns;
  size_t n, cap;
  long worked;
};

struct pw_hands {
  struct diary *diaries; /* one per person */
  int *order;            /* people as they are asked: by shift, role and duties, whatever the order of the file */
};

/* Which of two crew lines comes first, by what they say; 0: they say the same. */
static int line_order(const struct pw_crew *a, const struct pw_crew *b)
{
  if (a->from_at_min != b->from_at_min)
    return a->from_at_min < b->from_at_min ? -1 : 1;
  if (a->to_at_min != b->to_at_min)
    return a->to_at_min < b->to_at_min ? -1 : 1;
  int by_role = strcmp(a->role, b->role);
  if (by_role != 0)
    return by_role;
  if (a->duties != b->duties)
    return a->duties < b->duties ? -1 : 1;
  return (a->cents_per_h > b->cents_per_h) - (a->cents_per_h < b->cents_per_h);
}

static bool is_before(const struct pw_event *ev, int a, int b)
{
  int order = line_order(&ev->crew[a], &ev->crew[b]);
  return order < 0 || (order == 0 && a < b);
}

/* The last of people[0 .. n) is put in its place among the others. */
static void put_in_order(const struct pw_task_list *list, int n)
{
  int *order = list->hands->order, k = n - 1;
  for (; k > 0 && is_before(list->ev, list->people[n - 1].crew, list->people[order[k - 1]].crew); k--)
    order[k] = order[k - 1];
  order[k] = n - 1;
}

struct pw_way pw_task_way(const struct pw_draft *d, enum pw_at at)
{
  if (at == PW_AT_ROAD)
    return d->rank == PW_RANK_AFTER ? (struct pw_way){PW_AT_SITE, PW_AT_KITCHEN}
                                    : (struct pw_way){PW_AT_KITCHEN, PW_AT_SITE};
  return (struct pw_way){at, at};
}

const int *pw_hands_order(const struct pw_task_list *list) { return list->hands->order; }

bool pw_hands_make(struct pw_task_list *list)
{
  const struct pw_event *ev = list->ev;
  struct pw_arena *arena = list->ctx->arena;
  int most = 0;
  for (int i = 0; i < ev->n_crew; i++)
    most += pw_head_count_hands(ev, &ev->crew[i]);
  list->hands = pw_arena_alloc(arena, sizeof *list->hands);
  list->people = pw_arena_array(arena, (size_t)most, sizeof *list->people);
  struct diary *diaries = pw_arena_array(arena, (size_t)most, sizeof *diaries);
  int *order = pw_arena_array(arena, (size_t)most, sizeof *order);
  if (!list->hands || !list->people || !diaries || !order)
    return false;
  *list->hands = (struct pw_hands){.diaries = diaries, .order = order};
  for (int i = 0; i < ev->n_crew; i++) {
    const struct pw_crew *c = &ev->crew[i];
    for (int h = 0; h < pw_head_count_hands(ev, c); h++) {
      list->people[list->n_people] = (struct pw_person){.crew = i};
      diaries[list->n_people++] = (struct diary){.from = c->from_at_min,
                                                 .to = c->to_at_min,
                                                 .break_from = c->worked ? c->worked->break_from_at_min : 0,
                                                 .break_to = c->worked ? c->worked->break_to_at_min : 0,
                                                 .duties = c->duties};
      put_in_order(list, list->n_people);
    }
  }
  return pw_hands_name(list);
}

/* The first turn that ends after at_min. */
static size_t turn_after(const struct diary *d, int at_min)
{
  size_t lo = 0, hi = d->n;
  while (lo < hi) {
    size_t mid = (lo + hi) / 2;
    if (d->turns[mid].to <= at_min)
      lo = mid + 1;
    else
      hi = mid;
  }
  return lo;
}

/* Minutes between two instants that are no break. */
static int time_between(const struct diary *d, int from, int to)
{
  int a = d->break_from > from ? d->break_from : from, b = d->break_to < to ? d->break_to : to;
  return to - from - (b > a ? b - a : 0);
}

static bool is_free(const struct pw_task_list *list, const struct diary *d, int at, int minutes, struct pw_way way)
{
  int travel = list->ev->site.travel_min;
  if (at < d->from || at + minutes > d->to || time_between(d, at, at + minutes) < minutes)
    return false;
  size_t k = turn_after(d, at);
  if (k < d->n && d->turns[k].from < at + minutes)
    return false;
  if (k > 0 && d->turns[k - 1].way.to != way.from && time_between(d, d->turns[k - 1].to, at) < travel)
    return false;
  return k == d->n || way.to == d->turns[k].way.from || time_between(d, at + minutes, d->turns[k].from) >= travel;
}

int pw_hands_free(const struct pw_task_list *list, unsigned duties, int at_min, int minutes, struct pw_way way)
{
  int best = PW_NONE;
  for (int k = 0; k < list->n_people; k++) {
    int i = list->hands->order[k];
    const struct diary *d = &list->hands->diaries[i];
    if ((d->duties & duties) == 0 || (best != PW_NONE && d->worked >= list->hands->diaries[best].worked))
      continue;
    if (is_free(list, d, at_min, minutes, way))
      best = i;
  }
  return best;
}

int pw_hands_free_without(const struct pw_task_list *list, unsigned duties, unsigned without, int at_min, int minutes,
                          struct pw_way way)
{
  int best = PW_NONE;
  for (int k = 0; k < list->n_people; k++) {
    int i = list->hands->order[k];
    const struct diary *d = &list->hands->diaries[i];
    if ((d->duties & duties) != 0 && (d->duties & without) == 0 &&
        (best == PW_NONE || d->worked < list->hands->diaries[best].worked) && is_free(list, d, at_min, minutes, way))
      best = i;
  }
  return best;
}

int pw_hands_longest(const struct pw_task_list *list, unsigned duties, int at_min, int most_min, struct pw_way way,
                     int *minutes)
{
  int best = PW_NONE;
  *minutes = 0;
  for (int k = 0; k < list->n_people; k++) {
    int i = list->hands->order[k], free = *minutes;
    const struct diary *d = &list->hands->diaries[i];
    if ((d->duties & duties) == 0)
      continue;
    while (free < most_min && is_free(list, d, at_min, free + 1, way))
      free++;
    bool is_as_long = best != PW_NONE && free == *minutes && is_free(list, d, at_min, free, way);
    if (free > *minutes || (is_as_long && d->worked < list->hands->diaries[best].worked)) {
      best = i;
      *minutes = free;
    }
  }
  return best;
}

bool pw_hands_is_free(const struct pw_task_list *list, int person, int at_min, int minutes, struct pw_way way)
{
  return person < list->n_people && is_free(list, &list->hands->diaries[person], at_min, minutes, way);
}

void pw_hands_book(struct pw_task_list *list, int person, int at_min, int minutes, struct pw_way way)
{
  struct diary *d = &list->hands->diaries[person];
  if (pw_arena_grow(list->ctx->arena, &d->turns, &d->cap, d->n, sizeof *d->turns) != 0) {
    list->failed = true;
    return;
  }
  size_t k = turn_after(d, at_min), end = k;
  struct turn turn = {at_min, at_min + minutes, way};
  for (; end < d->n && d->turns[end].from < turn.to; end++) { /* facts may lie across each other: busy for both */
    const struct turn *other = &d->turns[end];
    if (other->from < turn.from)
      turn.from = other->from, turn.way.from = other->way.from;
    if (other->to > turn.to)
      turn.to = other->to, turn.way.to = other->way.to;
  }
  memmove(d->turns + k + 1, d->turns + end, (d->n - end) * sizeof *d->turns);
  d->turns[k] = turn;
  d->n += 1 - (end - k);
  d->worked += minutes;
}

bool pw_hands_on_shift(const struct pw_task_list *list, unsigned duties, int first_min, int last_min, int minutes,
                       int *at_min)
{
  bool is_there = false;
  for (int i = 0; i < list->n_people; i++) {
    const struct diary *d = &list->hands->diaries[i];
    int from = d->from > first_min ? d->from : first_min, to = d->to - minutes < last_min ? d->to - minutes : last_min;
    if ((d->duties & duties) == 0 || from > to || (is_there && from >= *at_min))
      continue;
    *at_min = from;
    is_there = true;
  }
  return is_there;
}
