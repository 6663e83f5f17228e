/* staff_pay.c - which shifts the pool's people could work by the rules, and what each is paid [S2].
 * In: pool, rules, needs.  Out: columns of the shift program. */
#include "base/arena.h"
#include "plan/crew/staff.h"
#include "plan/demand/head_count.h"

#include <limits.h>

enum {
  NIGHT_LEAST_MIN = 60, /* of night work from which on nobody comes for a few hours; common practice, no source */
  NIGHT_WORK_MIN = 180, /* a shift of the night works so long of it: Directive 2003/88/EC Article 2(4) */
  COLUMNS_FINE = 6000   /* beyond so many shifts their lengths go by the hour */
};

static int min_int(int a, int b) { return a < b ? a : b; }
static int max_int(int a, int b) { return a > b ? a : b; }

int pw_staff_break(const struct pw_work_rules *rules, int minutes)
{
  return rules->break_after_min > 0 && minutes > rules->break_after_min ? rules->break_min : 0;
}

int pw_staff_longest(const struct pw_pool *pool, const struct pw_work_rules *rules)
{
  int longest = pool->most_min;
  if (rules->longest_min > 0)
    longest = min_int(longest, rules->longest_min);
  if (rules->awake_longest_min > 0)
    longest = min_int(longest, rules->awake_longest_min);
  if (rules->break_after_min > 0) /* one break is planned, and no stretch without it is longer */
    longest = min_int(longest, 2 * rules->break_after_min + rules->break_min);
  return longest;
}

struct pw_staff_pay pw_staff_pay(const struct pw_pool *pool, const struct pw_work_rules *rules, int minutes,
                                 int break_min)
{
  struct pw_staff_pay pay = {.unpaid_min = rules->is_break_paid ? 0 : break_min};
  int worked = minutes - pay.unpaid_min, paid = max_int(worked, pool->least_min);
  double more = paid - worked;
  if (pool->overtime_after_min > 0 && worked > pool->overtime_after_min)
    more += (worked - pool->overtime_after_min) * (pool->overtime_frac - 1);
  pay.extra_cents = more * pool->cents_per_h / 60 + (double)pool->travel_cents;
  pay.cents = worked * pool->cents_per_h / 60 + pay.extra_cents;
  return pay;
}

uint32_t pw_staff_groups(const struct pw_staff *s, unsigned duties)
{
  uint32_t groups = 0;
  for (int g = 0; g < s->n_groups; g++)
    if (s->duties[g] & duties)
      groups |= (uint32_t)1 << g;
  return groups;
}

static int night_of(const struct pw_event *ev, int from, int to)
{
  int night = 0;
  for (int at = from; at < to; at += PW_STAFF_SLOT_MIN)
    night += pw_task_is_night(ev, at) ? PW_STAFF_SLOT_MIN : 0;
  return night;
}

bool pw_staff_is_long_enough(const struct pw_staff *s, int from_min, int to_min)
{
  int least = s->asked->rules.night_shortest_min;
  return to_min - from_min >= least || night_of(s->asked, from_min, to_min) < NIGHT_LEAST_MIN;
}

bool pw_staff_is_long_night(const struct pw_staff *s, int from_min, int to_min)
{
  int most = s->asked->rules.night_longest_min;
  return most > 0 && to_min - from_min > most && night_of(s->asked, from_min, to_min) >= NIGHT_WORK_MIN;
}

/* Whether a group has anything to do in a slot. */
static bool *useful_slots(const struct pw_staff *s, int group)
{
  bool *is_useful = pw_arena_array(s->ctx->arena, (size_t)s->n_slots + 1, sizeof *is_useful);
  for (int t = 0; is_useful && t <= s->n_slots; t++)
    is_useful[t] = false;
  for (size_t w = 0; is_useful && w < s->n_level; w++)
    for (int t = s->level[w].first; (s->level[w].groups >> group & 1u) && t <= s->level[w].last; t++)
      is_useful[t] = true;
  for (size_t p = 0; is_useful && p < s->n_presences; p++)
    if (s->presences[p].groups >> group & 1u)
      is_useful[s->presences[p].slot] = true;
  return is_useful;
}

static pw_status add(struct pw_staff *s, struct pw_cover_shift shift)
{
  if (pw_arena_grow(s->ctx->arena, &s->shifts, &s->cap_shifts, s->n_shifts, sizeof *s->shifts) != 0)
    return PW_ERR_MEMORY;
  s->shifts[s->n_shifts++] = shift;
  return PW_OK;
}

/* One length at one begin, with its break in the middle, and an hour to either side where the stretches stay short enough. */
static pw_status add_breaks(struct pw_staff *s, int pool, int from, int length, bool is_fine, const bool *is_useful)
{
  static const int places[] = {0, -2, 2};
  const struct pw_pool *line = &s->asked->pool[pool];
  const struct pw_work_rules *rules = &s->asked->rules;
  int minutes = length * PW_STAFF_SLOT_MIN, pause = pw_staff_break(rules, minutes);
  int slots = (pause + PW_STAFF_SLOT_MIN - 1) / PW_STAFF_SLOT_MIN, most = rules->break_after_min / PW_STAFF_SLOT_MIN;
  struct pw_staff_pay pay = pw_staff_pay(line, rules, minutes, pause);
  struct pw_cover_shift x = {.group = pool, .from = from, .to = from + length, .most = line->up_to, .cost = pay.cents};
  for (int t = from; t < from + length; t++)
    x.dislike += PW_COVER_DISLIKE_MOST / 2 * (pw_staff_is_bed_time(s, t) + !is_useful[t]);
  if (pause == 0)
    return add(s, x);
  pw_status st = PW_OK;
  for (int k = 0; k < (is_fine ? 3 : 1) && st == PW_OK; k++) {
    int before = (length - slots) / 2 + places[k], after = length - slots - before;
    if (before < 1 || after < 1 || before > most || after > most)
      continue;
    x.break_from = from + before;
    x.break_to = x.break_from + slots;
    st = add(s, x);
  }
  return st;
}

static pw_status pool_columns(struct pw_staff *s, int pool, int step, bool is_fine)
{
  const struct pw_pool *line = &s->asked->pool[pool];
  const struct pw_work_rules *rules = &s->asked->rules;
  const bool *is_useful = useful_slots(s, pool);
  int least = (line->least_min + PW_STAFF_SLOT_MIN - 1) / PW_STAFF_SLOT_MIN;
  int most = pw_staff_longest(line, rules) / PW_STAFF_SLOT_MIN;
  if (!is_useful)
    return PW_ERR_MEMORY;
  pw_status st = PW_OK;
  least = max_int(1, min_int(least, most));
  for (int from = 0; from + least <= s->n_slots && st == PW_OK; from++) {
    int at = s->from_min + from * PW_STAFF_SLOT_MIN;
    if (line->has_from && at < line->from_at_min)
      continue;
    for (int length = least; length <= most && from + length <= s->n_slots && st == PW_OK; length += step) {
      int to = at + length * PW_STAFF_SLOT_MIN;
      bool begins_idle = !is_useful[from], ends_idle = !is_useful[from + length - 1];
      bool is_least = length == least || !pw_staff_is_long_enough(s, at, to - step * PW_STAFF_SLOT_MIN);
      if ((line->has_to && to > line->to_at_min) || (!is_least && (begins_idle || ends_idle)) ||
          (begins_idle && ends_idle))
        continue;
      if (pw_staff_is_long_night(s, at, to) || !pw_staff_is_long_enough(s, at, to))
        continue;
      st = add_breaks(s, pool, from, length, is_fine, is_useful);
    }
  }
  return st;
}

static pw_status given_columns(struct pw_staff *s)
{
  pw_status st = PW_OK;
  for (int c = 0; c < s->asked->n_crew && st == PW_OK; c++) {
    const struct pw_crew *crew = &s->asked->crew[c];
    int group = s->asked->n_pool, hands = pw_head_count_hands(s->asked, crew);
    while (group < s->n_groups && s->duties[group] != crew->duties)
      group++;
    int from = max_int(0, (crew->from_at_min - s->from_min + PW_STAFF_SLOT_MIN - 1) / PW_STAFF_SLOT_MIN);
    int to = min_int(s->n_slots, (crew->to_at_min - s->from_min) / PW_STAFF_SLOT_MIN);
    if (group < s->n_groups && from < to && hands > 0 && crew->to_at_min > s->from_min)
      st = add(s, (struct pw_cover_shift){.group = group, .from = from, .to = to, .least = hands, .most = hands});
  }
  return st;
}

pw_status pw_staff_columns(struct pw_staff *s, bool is_coarse)
{
  pw_status st = PW_OK;
  for (int level = is_coarse ? 2 : 0; level < 3; level++) { /* fine; breaks in the middle alone; lengths by the hour */
    s->n_shifts = 0;
    for (int p = 0; p < s->asked->n_pool && st == PW_OK; p++)
      st = pool_columns(s, p, level == 2 ? 2 : 1, level == 0);
    if (st != PW_OK || s->n_shifts <= COLUMNS_FINE)
      break;
  }
  return st == PW_OK ? given_columns(s) : st;
}
