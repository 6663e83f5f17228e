/* head_count.c - whole guests dealt in proportion, so that another head count is a true event of its own. */
#include "plan/demand/head_count.h"

#include "base/arena.h"
#include "base/diag.h"

#include <limits.h>
#include <math.h>
#include <stdint.h>

static int heads_of(const struct pw_event *ev, int service)
{
  int n = 0;
  for (int g = 0; g < ev->n_classes; g++)
    n += ev->services[service].guests[g];
  return n;
}

int pw_head_count(const struct pw_event *ev)
{
  int largest = 0, sum = 0;
  for (int s = 0; s < ev->n_services; s++) {
    int n = heads_of(ev, s);
    sum += n;
    largest = n > largest ? n : largest;
  }
  return ev->is_head_count_sum ? sum : largest;
}

/* Guests at table at one minute, all services that serve then. */
static int fed_at(const struct pw_event *ev, int at_min)
{
  int n = 0;
  for (int s = 0; s < ev->n_services; s++)
    if (ev->services[s].at_min <= at_min && at_min < ev->services[s].at_min + ev->services[s].length_min)
      n += heads_of(ev, s);
  return n;
}

int pw_head_count_fed(const struct pw_event *ev, const struct pw_crew *crew)
{
  int most = 0, day = INT_MIN, next = INT_MAX;
  for (int s = 0; s < ev->n_services; s++) { /* the most are there when one more service begins, or the shift does */
    const struct pw_service *at = &ev->services[s];
    int from = at->at_min > crew->from_at_min ? at->at_min : crew->from_at_min;
    if (from < crew->to_at_min && from < at->at_min + at->length_min) {
      int n = fed_at(ev, from);
      most = n > most ? n : most;
    }
    if (at->at_min >= crew->to_at_min && at->at_min < next) {
      next = at->at_min;
      day = at->day;
    }
  }
  if (most > 0)
    return most;
  for (int s = 0; s < ev->n_services && next == INT_MAX; s++)
    day = ev->services[s].day > day ? ev->services[s].day : day;
  for (int s = 0; s < ev->n_services; s++)
    if (ev->services[s].day == day && heads_of(ev, s) > most)
      most = heads_of(ev, s);
  return most;
}

int pw_head_count_hands(const struct pw_event *ev, const struct pw_crew *crew)
{
  int hands = crew->count;
  if (crew->guests_per_hand > 0) {
    int wanted = (int)ceil(pw_head_count_fed(ev, crew) / crew->guests_per_hand - 1e-9); /* 120/40 is 3, not 4 */
    hands = wanted > hands ? wanted : hands;
  }
  return hands;
}

/* Deals `total` whole units over n parts in proportion to old[]; sum of old is `sum` > 0. */
static void deal(int *fresh, const int *old, int n, int64_t sum, int64_t total, int64_t *rest)
{
  int64_t left = total;
  for (int i = 0; i < n; i++) {
    fresh[i] = (int)(old[i] * total / sum);
    rest[i] = old[i] * total % sum;
    left -= fresh[i];
  }
  for (; left > 0; left--) {
    int best = 0;
    for (int i = 1; i < n; i++)
      if (rest[i] > rest[best])
        best = i;
    fresh[best]++;
    rest[best] = -1;
  }
}

pw_status pw_head_count_deal(int *fresh, const struct pw_event *ev, int service, int heads, struct pw_ctx *ctx)
{
  int64_t *rest = pw_arena_array(ctx->arena, (size_t)ev->n_classes, sizeof *rest);
  const int now = heads_of(ev, service);
  if (!rest)
    return PW_ERR_MEMORY;
  for (int g = 0; g < ev->n_classes; g++)
    fresh[g] = g == 0 ? heads : 0;
  if (now > 0)
    deal(fresh, ev->services[service].guests, ev->n_classes, now, heads, rest);
  return PW_OK;
}

pw_status pw_head_count_scale(const struct pw_event **out, const struct pw_event *ev, int heads, struct pw_ctx *ctx)
{
  *out = NULL;
  int now = pw_head_count(ev);
  if (now <= 0) {
    pw_diag_add(ctx, PW_ERROR, "no-guests", ev->file, 0, 0,
                "the event has no guests: no other head count can be planned");
    return PW_ERR_INPUT;
  }
  size_t n = (size_t)(ev->n_classes > ev->n_services ? ev->n_classes : ev->n_services);
  struct pw_event *copy = pw_arena_alloc(ctx->arena, sizeof *copy);
  struct pw_service *services = pw_arena_array(ctx->arena, (size_t)ev->n_services, sizeof *services);
  int *old = pw_arena_array(ctx->arena, n, sizeof *old), *fresh = pw_arena_array(ctx->arena, n, sizeof *fresh);
  int64_t *rest = pw_arena_array(ctx->arena, n, sizeof *rest);
  if (!copy || !services || !old || !fresh || !rest)
    return PW_ERR_MEMORY;
  for (int s = 0; s < ev->n_services; s++)
    old[s] = heads_of(ev, s);
  if (ev->is_head_count_sum)
    deal(fresh, old, ev->n_services, now, heads, rest);
  else
    for (int s = 0; s < ev->n_services; s++)
      fresh[s] = (int)(((int64_t)old[s] * heads * 2 + now) / (2 * (int64_t)now)); /* nearest whole guest */
  for (int s = 0; s < ev->n_services; s++) {
    services[s] = ev->services[s];
    services[s].guests = pw_arena_array(ctx->arena, (size_t)ev->n_classes, sizeof(int));
    if (!services[s].guests)
      return PW_ERR_MEMORY;
    if (old[s] > 0)
      deal(services[s].guests, ev->services[s].guests, ev->n_classes, old[s], fresh[s], rest);
  }
  *copy = *ev;
  copy->services = services;
  *out = copy;
  return PW_OK;
}
