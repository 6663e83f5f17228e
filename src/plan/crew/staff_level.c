/* staff_level.c - work in windows laid into slots, so that few people at a time can do it [S2].
 * In: works, presences.  Out: the same work in single slots.
 * What cannot move lies first; then the work with the narrowest window: into a slot where whoever must be there anyway has time for
 * it, else where it asks for the fewest hands more, beside what is there already, so that shifts hold together. */
#include "base/arena.h"
#include "base/clock.h"
#include "plan/crew/staff.h"

#include <math.h>
#include <stdlib.h>

struct leveller {
  struct pw_staff *s;
  uint32_t unions[PW_COVER_UNIONS_MAX];
  int n_unions;
  double *load;  /* [union * n_slots + t] */
  int *there;    /* [union * n_slots + t] who must be there */
  bool *is_busy; /* [t] anybody is there for anything */
  bool *is_late; /* [t] when people who need not be there are in bed */
};

static int by_window(const void *pa, const void *pb)
{
  const struct pw_cover_work *a = pa, *b = pb;
  int wa = a->last - a->first, wb = b->last - b->first;
  if (wa != wb)
    return wa < wb ? -1 : 1;
  if (a->first != b->first)
    return a->first < b->first ? -1 : 1;
  if (a->hands != b->hands)
    return a->hands > b->hands ? -1 : 1;
  return (a->groups > b->groups) - (a->groups < b->groups);
}

static int hands_of(double load) { return (int)ceil(load - 1e-9); }

static int max_int(int a, int b) { return a > b ? a : b; }

/* Hands asked for beyond those there, over all unions the work counts in, when `more` is laid into the slot. */
static int asked_for(const struct leveller *l, uint32_t groups, int t, double more)
{
  int sum = 0;
  for (int u = 0; u < l->n_unions; u++) {
    if ((groups & ~l->unions[u]) != 0)
      continue;
    size_t k = (size_t)u * (size_t)l->s->n_slots + (size_t)t;
    sum += max_int(hands_of(l->load[k] + more), l->there[k]) - max_int(hands_of(l->load[k]), l->there[k]);
  }
  return sum;
}

/* What fits into the slot without another hand. */
static double room(const struct leveller *l, uint32_t groups, int t)
{
  double least = HUGE_VAL;
  for (int u = 0; u < l->n_unions; u++) {
    size_t k = (size_t)u * (size_t)l->s->n_slots + (size_t)t;
    if ((groups & ~l->unions[u]) == 0)
      least = fmin(least, max_int(hands_of(l->load[k]), l->there[k]) - l->load[k]);
  }
  return least;
}

static int far_from_busy(const struct leveller *l, int t)
{
  for (int far = 0; far < l->s->n_slots; far++)
    if ((t - far >= 0 && l->is_busy[t - far]) || (t + far < l->s->n_slots && l->is_busy[t + far]))
      return far;
  return l->s->n_slots;
}

enum { LATE_FROM_HOUR = 21, LATE_TO_HOUR = 6 }; /* common practice, no source */

bool pw_staff_is_bed_time(const struct pw_staff *s, int t)
{
  enum { DAY_MIN = 24 * 60 };
  int at = s->from_min + t * PW_STAFF_SLOT_MIN;
  int hour = s->asked->clock ? pw_clock_local(s->asked->clock, at).hour : (at % DAY_MIN + DAY_MIN) % DAY_MIN / 60;
  return hour >= LATE_FROM_HOUR || hour < LATE_TO_HOUR;
}

static pw_status lay(struct leveller *l, const struct pw_cover_work *w, int t, double hands)
{
  struct pw_staff *s = l->s;
  for (int u = 0; u < l->n_unions; u++)
    if ((w->groups & ~l->unions[u]) == 0)
      l->load[(size_t)u * (size_t)s->n_slots + (size_t)t] += hands;
  l->is_busy[t] = true;
  for (size_t k = 0; k < s->n_level; k++)
    if (s->level[k].groups == w->groups && s->level[k].first == t) {
      s->level[k].hands += hands;
      return PW_OK;
    }
  if (pw_arena_grow(s->ctx->arena, &s->level, &s->cap_level, s->n_level, sizeof *s->level) != 0)
    return PW_ERR_MEMORY;
  s->level[s->n_level++] = (struct pw_cover_work){.groups = w->groups, .first = t, .last = t, .hands = hands};
  return PW_OK;
}

/* One piece of work over the slots of its window; laid[] is what each holds of it already. */
static pw_status spread(struct leveller *l, const struct pw_cover_work *w, double *laid)
{
  double left = w->hands;
  pw_status st = PW_OK;
  for (int t = w->first; t <= w->last; t++)
    laid[t] = 0;
  while (left > 1e-9 && st == PW_OK) {
    int best = -1, best_more = 0, best_far = 0;
    for (int t = w->first; t <= w->last; t++) {
      double can = fmin(left, w->at_once - laid[t]);
      if (can <= 1e-9)
        continue;
      double fits = fmin(can, room(l, w->groups, t));
      int more = fits > 1e-9 ? 0 : asked_for(l, w->groups, t, can) + l->is_late[t], far = far_from_busy(l, t);
      if (best < 0 || more < best_more || (more == best_more && far < best_far)) {
        best = t;
        best_more = more;
        best_far = far;
      }
    }
    if (best < 0) /* more than may be done at a time: the last slot takes it */
      return lay(l, w, w->last, left);
    double can = fmin(left, w->at_once - laid[best]), fits = fmin(can, room(l, w->groups, best));
    double now = fits > 1e-9 ? fits : fmin(can, 1);
    st = lay(l, w, best, now);
    laid[best] += now;
    left -= now;
  }
  return st;
}

pw_status pw_staff_level(struct pw_staff *s)
{
  struct leveller *l = pw_arena_alloc(s->ctx->arena, sizeof *l);
  struct pw_cover_work *order = pw_arena_array(s->ctx->arena, s->n_works, sizeof *order);
  double *laid = pw_arena_array(s->ctx->arena, (size_t)s->n_slots, sizeof *laid);
  if (!l || !order || !laid)
    return PW_ERR_MEMORY;
  *l = (struct leveller){.s = s};
  l->n_unions = pw_cover_unions(l->unions, s->works, (int)s->n_works);
  size_t n = (size_t)l->n_unions * (size_t)s->n_slots;
  l->load = pw_arena_array(s->ctx->arena, n, sizeof *l->load);
  l->there = pw_arena_array(s->ctx->arena, n, sizeof *l->there);
  l->is_busy = pw_arena_array(s->ctx->arena, (size_t)s->n_slots, sizeof *l->is_busy);
  l->is_late = pw_arena_array(s->ctx->arena, (size_t)s->n_slots, sizeof *l->is_late);
  if (!l->load || !l->there || !l->is_busy || !l->is_late)
    return PW_ERR_MEMORY;
  for (size_t k = 0; k < n; k++)
    l->load[k] = l->there[k] = 0;
  for (int t = 0; t < s->n_slots; t++) {
    l->is_busy[t] = false;
    l->is_late[t] = pw_staff_is_bed_time(s, t);
  }
  for (size_t p = 0; p < s->n_presences; p++) {
    const struct pw_cover_presence *x = &s->presences[p];
    l->is_busy[x->slot] = true;
    for (int u = 0; u < l->n_unions; u++)
      if ((x->groups & ~l->unions[u]) == 0) {
        int *there = &l->there[(size_t)u * (size_t)s->n_slots + (size_t)x->slot];
        *there = max_int(*there, x->hands);
      }
  }
  for (size_t w = 0; w < s->n_works; w++)
    order[w] = s->works[w];
  if (s->n_works > 1)
    qsort(order, s->n_works, sizeof *order, by_window);
  s->n_level = 0;
  pw_status st = PW_OK;
  for (size_t w = 0; w < s->n_works && st == PW_OK; w++)
    st = order[w].first >= order[w].last ? lay(l, &order[w], order[w].first, order[w].hands)
                                         : spread(l, &order[w], laid);
  return st;
}
