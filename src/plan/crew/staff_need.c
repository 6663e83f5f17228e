/* staff_need.c - what the tasks, fires and services ask of people, before anybody is there [S2].
 * In: drafts with their windows, burns, services.  Out: works and presences of the shift program. */
#include "base/arena.h"
#include "plan/crew/staff.h"
#include "plan/demand/head_count.h"

#include <limits.h>
#include <math.h>

enum {
  ROUND_MIN = 12 * 60, /* shifts begin and end within so long of the work */
  ALONE_MIN = 2 * 60,  /* of a night, from which on the rules ask for two: as in task_rest.c */
  SLOTS_MAX = 48 * 14
};

static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }
static int slot_of(const struct pw_staff *s, int at_min)
{
  return max_int(0, min_int(s->n_slots - 1, (at_min - s->from_min) / PW_STAFF_SLOT_MIN));
}

/* Orders and deliveries are the office's, days ahead: nobody is called for them; servers are counted by guests. */
static bool is_asked(const struct pw_draft *d)
{
  return d->kind != PW_TASK_ORDER && d->kind != PW_TASK_TAKE_IN && d->kind != PW_TASK_THAW &&
         d->kind != PW_TASK_SERVE && d->kind != PW_TASK_HEAT_UP;
}

static unsigned duties_of(const struct pw_draft *d) { return d->also | 1u << d->duty; }

/* ---- who there is ----------------------------------------------------------------------------------------- */

static pw_status groups_make(struct pw_staff *s)
{
  const struct pw_event *ev = s->asked;
  s->groups = pw_arena_array(s->ctx->arena, PW_COVER_GROUPS_MAX, sizeof *s->groups);
  if (!s->groups)
    return PW_ERR_MEMORY;
  for (int p = 0; p < ev->n_pool; p++) {
    s->duties[p] = ev->pool[p].duties;
    s->groups[p] = (struct pw_cover_group){.most = ev->pool[p].up_to,
                                           .rest = (ev->rules.rest_min + PW_STAFF_SLOT_MIN - 1) / PW_STAFF_SLOT_MIN};
  }
  s->n_groups = ev->n_pool;
  for (int c = 0; c < ev->n_crew; c++) {
    int g = ev->n_pool;
    while (g < s->n_groups && s->duties[g] != ev->crew[c].duties)
      g++;
    if (g == PW_COVER_GROUPS_MAX)
      continue; /* so many kinds of given people that the last help unseen */
    if (g == s->n_groups) {
      s->duties[g] = ev->crew[c].duties;
      s->groups[s->n_groups++] = (struct pw_cover_group){0};
    }
    s->groups[g].most += pw_head_count_hands(ev, &ev->crew[c]);
  }
  return PW_OK;
}

/* ---- what is to be done -------------------------------------------------------------------------------------- */

static pw_status add_work(struct pw_staff *s, struct pw_cover_work work)
{
  for (size_t w = 0; w < s->n_works; w++) /* alike work is one piece of work */
    if (s->works[w].groups == work.groups && s->works[w].first == work.first && s->works[w].last == work.last) {
      s->works[w].hands += work.hands;
      s->works[w].at_once += work.at_once;
      return PW_OK;
    }
  if (pw_arena_grow(s->ctx->arena, &s->works, &s->cap_works, s->n_works, sizeof *s->works) != 0)
    return PW_ERR_MEMORY;
  s->works[s->n_works++] = work;
  return PW_OK;
}

static pw_status add_to(struct pw_staff *s, struct pw_cover_presence **list, size_t *n, size_t *cap,
                        struct pw_cover_presence presence)
{
  if (pw_arena_grow(s->ctx->arena, list, cap, *n, sizeof **list) != 0)
    return PW_ERR_MEMORY;
  (*list)[(*n)++] = presence;
  return PW_OK;
}

static pw_status add_presence(struct pw_staff *s, unsigned duties, int slot, int hands)
{
  struct pw_cover_presence p = {.groups = pw_staff_groups(s, duties), .slot = slot, .hands = hands};
  return add_to(s, &s->presences, &s->n_presences, &s->cap_presences, p);
}

/* Earliest begins along the graph.  Edges that go round are left alone: the passes are bounded. */
static int *earliest_begins(struct pw_staff *s)
{
  enum { PASSES = 40 };
  struct pw_task_list *list = &s->list;
  int n = (int)list->n_drafts, *at = pw_task_ints(list, NULL, n);
  bool is_moved = at != NULL;
  for (int d = 0; at && d < n; d++)
    at[d] = list->drafts[d].first_at_min;
  for (int pass = 0; pass < PASSES && is_moved; pass++) {
    is_moved = false;
    for (size_t e = 0; e < list->n_edges; e++) {
      const struct pw_edge *edge = &list->edges[e];
      int by = at[edge->before] + pw_task_span(&list->drafts[edge->before]) + edge->gap_min;
      if (by > at[edge->after]) {
        at[edge->after] = by;
        is_moved = true;
      }
    }
  }
  return at;
}

/* A fixed piece of work lies where it lies, in part in each slot. */
static pw_status fixed_work(struct pw_staff *s, uint32_t groups, int at, int minutes, double hands)
{
  pw_status st = PW_OK;
  for (int t = slot_of(s, at); t <= slot_of(s, at + minutes - 1) && st == PW_OK; t++) {
    int from = s->from_min + t * PW_STAFF_SLOT_MIN, to = from + PW_STAFF_SLOT_MIN;
    double share = (double)(min_int(to, at + minutes) - max_int(from, at)) / PW_STAFF_SLOT_MIN;
    if (share > 0)
      st = add_work(
          s, (struct pw_cover_work){.groups = groups, .first = t, .last = t, .hands = share * hands, .at_once = 1});
  }
  return st;
}

static pw_status draft_work(struct pw_staff *s, int draft, int earliest)
{
  const struct pw_draft *d = &s->list.drafts[draft];
  const struct pw_draft_state *state = &s->list.state[draft];
  int minutes = state->minutes, span = pw_task_span(d), latest = state->latest_min;
  uint32_t groups = pw_staff_groups(s, duties_of(d));
  double calm = 1 / (1 - s->asked->rules.calm_frac);
  if (earliest > latest)
    earliest = latest = d->is_late ? latest : min_int(earliest, d->last_at_min + d->slip_min);
  int first = slot_of(s, earliest), last = slot_of(s, latest + span - 1);
  int at_once = (minutes + span - 1) / span; /* shared out in blocks: so many at a time */
  if (last - first < 1 || latest - earliest < PW_STAFF_SLOT_MIN)
    return fixed_work(s, groups, earliest, span, calm * minutes / span);
  return add_work(s, (struct pw_cover_work){.groups = groups,
                                            .first = first,
                                            .last = last,
                                            .hands = calm * minutes / PW_STAFF_SLOT_MIN,
                                            .at_once = calm * at_once});
}

/* ---- who must be there ------------------------------------------------------------------------------------------ */

static bool is_lit(const struct pw_allocation *al, int from, int to)
{
  for (int b = 0; b < al->n_burns; b++)
    if (al->burns[b].lit_at_min < to && al->burns[b].out_at_min > from)
      return true;
  return false;
}

/* Somebody awake at every fire; by night as many as the rules ask for, where it is a night and not the end of one. */
static pw_status fire_presences(struct pw_staff *s)
{
  const struct pw_allocation *al = &s->plan->allocation;
  pw_status st = PW_OK;
  int night = 0; /* slots of the night that lies behind, all lit */
  for (int t = 0; t <= s->n_slots && st == PW_OK; t++) {
    int at = s->from_min + t * PW_STAFF_SLOT_MIN;
    bool is_on = t < s->n_slots && is_lit(al, at, at + PW_STAFF_SLOT_MIN);
    if (is_on)
      st = add_presence(s, 1u << PW_DUTY_FIRE, t, 1);
    if (is_on && pw_task_is_night(s->asked, at)) {
      night++;
      continue;
    }
    for (int k = t - night; k < t && night * PW_STAFF_SLOT_MIN >= ALONE_MIN && st == PW_OK; k++)
      if (s->asked->rules.night_hands > 1)
        st = add_presence(s, 1u << PW_DUTY_FIRE | 1u << PW_DUTY_PIT, k, s->asked->rules.night_hands);
    night = 0;
  }
  return st;
}

double pw_staff_guests_each(const struct pw_event *ev)
{
  double each = 0;
  for (int p = 0; p < ev->n_pool; p++)
    if ((ev->pool[p].duties >> PW_DUTY_SERVE & 1u) != 0 && ev->pool[p].guests_per_hand > 0 &&
        (each <= 0 || ev->pool[p].guests_per_hand < each))
      each = ev->pool[p].guests_per_hand;
  return each;
}

static pw_status guest_works(struct pw_staff *s)
{
  const struct pw_event *ev = s->asked;
  double each = pw_staff_guests_each(ev);
  pw_status st = PW_OK;
  for (int k = 0; k < ev->n_services && st == PW_OK; k++) {
    int hands = pw_task_servers(ev, k, each);
    int from = slot_of(s, ev->services[k].at_min),
        to = slot_of(s, ev->services[k].at_min + ev->services[k].length_min - 1);
    for (int t = from; t <= to && hands > 0 && st == PW_OK; t++) {
      struct pw_cover_presence p = {.groups = pw_staff_groups(s, 1u << PW_DUTY_SERVE), .slot = t, .hands = hands};
      st = add_to(s, &s->guests, &s->n_guests, &s->cap_guests, p);
    }
    if (hands > 0 && st == PW_OK)
      st = fixed_work(s, pw_staff_groups(s, 1u << PW_DUTY_SERVE), ev->services[k].at_min, ev->services[k].length_min,
                      hands);
  }
  return st;
}

/* ---- all of it ------------------------------------------------------------------------------------------------------ */

static void horizon(struct pw_staff *s, const int *earliest)
{
  int first = INT_MAX, last = INT_MIN;
  for (int d = 0; d < (int)s->list.n_drafts; d++)
    if (is_asked(&s->list.drafts[d])) {
      first = min_int(first, min_int(earliest[d], s->list.state[d].latest_min));
      last = max_int(last, s->list.state[d].latest_min + pw_task_span(&s->list.drafts[d]));
    }
  for (int k = 0; k < s->asked->n_services; k++) {
    first = min_int(first, s->asked->services[k].at_min);
    last = max_int(last, s->asked->services[k].at_min + s->asked->services[k].length_min);
  }
  first -= ROUND_MIN;
  s->from_min = first - (first % PW_STAFF_SLOT_MIN + PW_STAFF_SLOT_MIN) % PW_STAFF_SLOT_MIN;
  s->n_slots = min_int(SLOTS_MAX, (last + ROUND_MIN - s->from_min + PW_STAFF_SLOT_MIN - 1) / PW_STAFF_SLOT_MIN);
}

pw_status pw_staff_needs(struct pw_staff *s)
{
  const int *earliest = earliest_begins(s);
  if (!earliest)
    return PW_ERR_MEMORY;
  pw_status st = groups_make(s);
  horizon(s, earliest);
  for (int d = 0; d < (int)s->list.n_drafts && st == PW_OK; d++)
    if (is_asked(&s->list.drafts[d]))
      st = draft_work(s, d, earliest[d]);
  if (st == PW_OK)
    st = guest_works(s);
  return st == PW_OK ? fire_presences(s) : st;
}

pw_status pw_staff_lack(struct pw_staff *s, unsigned duties, int from_min, int to_min)
{
  pw_status st = PW_OK;
  for (int t = slot_of(s, from_min); t <= slot_of(s, max_int(from_min, to_min - 1)) && st == PW_OK; t++)
    st = add_work(s, (struct pw_cover_work){
                         .groups = pw_staff_groups(s, duties), .first = t, .last = t, .hands = 1, .at_once = 1});
  return st;
}
