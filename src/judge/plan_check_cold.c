/* plan_check_cold.c - the judge on what is cooked the day before: chilled, cold, reheated, with room in the ovens and somebody to do
 * it [J14].  The limits are taken from the Food Code once more, not from the file; thickness is held against the best there could
 * be, a slab whose surface is as cold as ice or as hot as the oven. */
#include "judge/plan_check_parts.h"

#include <math.h>
#include <string.h>

enum { COOL_MIN = 120, COLD_MIN = 360, REHEAT_MIN = 120 }; /* FDA Food Code 2022 3-501.14(A), 3-403.11(D) */
#define HOT_C    57.2                                      /* 135 F, 3-501.14(A) */
#define COOL_C   21.1                                      /* 70 F, 3-501.14(A)(1) */
#define COLD_C   5.0                                       /* 41 F, 3-501.14(A)(2) */
#define REHEAT_C 73.9                                      /* 165 F, 3-403.11(A) */
#define SLACK_C  0.3                                       /* 145 F is printed as 62.8 or 63 C */
#define ALPHA_M2_S                                                                                                     \
  1.35e-7 /* no meat conducts much better: beef 40-65 C 1.23e-7 to 1.33e-7, engineeringtoolbox.com d_2176 */
#define ROOM_SLACK 1e-6

/** Thickest slab whose middle is down to `theta` of the difference after so long, its surface held at the bath (first term of the
 *  series: 4/pi exp(-pi^2/4 Fo)). */
static double thickest_m(double theta, double minutes)
{
  const double pi = 3.14159265358979;
  double fo = log(4 / pi / theta) / (pi * pi / 4);
  return fo > 0 ? 2 * sqrt(ALPHA_M2_S * minutes * 60 / fo) : HUGE_VAL;
}

static void check_chill(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_chill *c = &plan->chills[i];
  const struct pw_seen_lot *lot = &plan->lots[c->lot];
  if (!lot->is_day_before)
    pw_judge_find(judge, "J14", "chills[%d]: \"%s\" is not cooked the day before", i, lot->id);
  if (c->cool_c > COOL_C + SLACK_C || c->cool_by_min - c->from_min > COOL_MIN)
    pw_judge_find(judge, "J14", "chills[%d]: to %g C in %d min; %g C within %d min is the rule", i, c->cool_c,
                  c->cool_by_min - c->from_min, COOL_C, COOL_MIN);
  if (c->cold_c > COLD_C + SLACK_C || c->cold_by_min - c->from_min > COLD_MIN)
    pw_judge_find(judge, "J14", "chills[%d]: to %g C in %d min; %g C within %d min in all is the rule", i, c->cold_c,
                  c->cold_by_min - c->from_min, COLD_C, COLD_MIN);
  if (c->thick_m > thickest_m(COOL_C / HOT_C, COOL_MIN))
    pw_judge_find(judge, "J14", "chills[%d].thick_m: %g m is too thick to be at %g C within %d min, even in ice", i,
                  c->thick_m, COOL_C, COOL_MIN);
  if (c->from_min > lot->chill_by_min + (plan->now_min != PW_SEEN_NO_TIME ? lot->late_min : 0)) /* [J19]: told */
    pw_judge_find(judge, "J14", "chills[%d]: begins at minute %d, \"%s\" has to be in by %d", i, c->from_min, lot->id,
                  lot->chill_by_min);
}

static bool is_oven(const struct pw_seen_plan *plan, int place)
{
  return place >= plan->n[PW_SEEN_ZONES] && plan->finishers[place - plan->n[PW_SEEN_ZONES]].kind == 0;
}

/** Room taken in an oven at a minute. */
static double taken(const struct pw_seen_plan *plan, int place, int at_min)
{
  const struct pw_seen_finisher *oven = &plan->finishers[place - plan->n[PW_SEEN_ZONES]];
  double room = 0;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    const struct pw_seen_lot *lot = &plan->lots[load->lot];
    if (load->place == place && load->start_min <= at_min && at_min < load->end_min)
      room += load->pieces * (oven->unit == 1 ? lot->pans : lot->wrapped_m[0] * lot->wrapped_m[1]);
  }
  for (int i = 0; i < plan->n[PW_SEEN_REHEATS]; i++)
    if (plan->reheats[i].place == place && plan->reheats[i].from_min <= at_min && at_min < plan->reheats[i].out_min)
      room += plan->reheats[i].room;
  return room;
}

/** Room at every instant of a reheat at which something goes in, itself first. */
static void check_reheat_room(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_reheat *r = &plan->reheats[i];
  const struct pw_seen_finisher *oven = &plan->finishers[r->place - plan->n[PW_SEEN_ZONES]];
  if (oven->unit == 1 && r->room < r->pieces * plan->lots[r->lot].pans - ROOM_SLACK)
    pw_judge_find(judge, "J14", "reheats[%d].room: %g pans for %d pieces of %g", i, r->room, r->pieces,
                  plan->lots[r->lot].pans);
  double most = 0;
  for (int k = 0; k < plan->n[PW_SEEN_LOADS]; k++) {
    const struct pw_seen_load *load = &plan->loads[k];
    if (load->place == r->place && load->start_min > r->from_min && load->start_min < r->out_min)
      most = fmax(most, taken(plan, r->place, load->start_min));
  }
  for (int k = 0; k < plan->n[PW_SEEN_REHEATS]; k++)
    if (plan->reheats[k].place == r->place && plan->reheats[k].from_min >= r->from_min &&
        plan->reheats[k].from_min < r->out_min)
      most = fmax(most, taken(plan, r->place, plan->reheats[k].from_min));
  if (most > oven->capacity + ROOM_SLACK * (1 + oven->capacity))
    pw_judge_find(judge, "J14", "reheats[%d]: \"%s\" holds %.6g, %.6g are in it", i, oven->id, oven->capacity, most);
}

static void check_reheat(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_reheat *r = &plan->reheats[i];
  const struct pw_seen_lot *lot = &plan->lots[r->lot];
  double least_c =
      REHEAT_C; /* also what its maker had cooked: opened and cooked by us it is not commercially packed, 3-403.11(C) */
  int service = plan->services[lot->service].at_min;
  if (!lot->is_day_before)
    pw_judge_find(judge, "J14", "reheats[%d]: \"%s\" is not cooked the day before", i, lot->id);
  if (!is_oven(plan, r->place)) {
    pw_judge_find(judge, "J14", "reheats[%d]: its place is no oven", i);
    return;
  }
  const struct pw_seen_finisher *oven = &plan->finishers[r->place - plan->n[PW_SEEN_ZONES]];
  if (r->core_c < least_c - SLACK_C)
    pw_judge_find(judge, "J14", "reheats[%d].core_c: is %g, the rule asks for %g", i, r->core_c, least_c);
  if (r->ready_min - r->from_min > REHEAT_MIN || r->ready_min <= r->from_min)
    pw_judge_find(judge, "J14", "reheats[%d]: takes %d min, %d are allowed", i, r->ready_min - r->from_min, REHEAT_MIN);
  if (r->ready_min > service || r->out_min < r->ready_min || r->out_min > service)
    pw_judge_find(judge, "J14", "reheats[%d]: warm at minute %d, out at %d, the service begins at %d", i, r->ready_min,
                  r->out_min, service);
  if (oven->temp_c <= r->core_c)
    pw_judge_find(judge, "J14", "reheats[%d]: an oven at %g C brings no core to %g C", i, oven->temp_c, r->core_c);
  else if (r->depth_m > thickest_m((oven->temp_c - r->core_c) / (oven->temp_c - COLD_C), r->ready_min - r->from_min))
    pw_judge_find(judge, "J14", "reheats[%d].depth_m: %g m is too deep to be warm in %d min", i, r->depth_m,
                  r->ready_min - r->from_min);
  for (int k = 0; k < plan->n[PW_SEEN_CHILLS]; k++)
    if (plan->chills[k].lot == r->lot && plan->chills[k].cold_by_min > r->from_min)
      pw_judge_find(judge, "J14", "reheats[%d]: begins at minute %d, chills[%d] is cold at %d only", i, r->from_min, k,
                    plan->chills[k].cold_by_min);
  check_reheat_room(judge, plan, i);
}

static bool is_said(const struct pw_seen_plan *plan, const char *code)
{
  for (int i = 0; i < plan->n[PW_SEEN_WARNINGS]; i++)
    if (strcmp(plan->warnings[i].code, code) == 0)
      return true;
  return false;
}

/** Somebody has something to do with the lot that begins between the two minutes. */
static bool has_task(const struct pw_seen_plan *plan, int lot, int from_min, int to_min)
{
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    if (plan->tasks[i].lot == lot && plan->tasks[i].at_min >= from_min && plan->tasks[i].at_min < to_min)
      return true;
  return false;
}

static void check_lot(struct pw_judge *judge, const struct pw_seen_plan *plan, int l)
{
  enum { LATE_MIN = 30 }; /* a task may wait for hands */
  const struct pw_seen_lot *lot = &plan->lots[l];
  long chilled = 0, reheated = 0, cooked = lot->pieces - lot->missed;
  bool has_finish = false;
  for (int k = 0; k < lot->n_times; k++)
    has_finish = has_finish || lot->times[k].stage == PW_SEEN_FINISH;
  for (int i = 0; i < plan->n[PW_SEEN_CHILLS]; i++) {
    const struct pw_seen_chill *c = &plan->chills[i];
    long off = 0;
    if (c->lot != l)
      continue;
    chilled += c->pieces;
    for (int k = 0; k < plan->n[PW_SEEN_LOADS]; k++) {
      const struct pw_seen_load *load = &plan->loads[k];
      if (load->lot == l && load->stage == (has_finish ? PW_SEEN_FINISH : PW_SEEN_SMOKE) &&
          load->end_min + lot->rest_min == c->from_min)
        off += load->pieces;
    }
    if (off != c->pieces)
      pw_judge_find(judge, "J14", "chills[%d]: %d pieces of \"%s\" at minute %d, %ld have rested then", i, c->pieces,
                    lot->id, c->from_min, off);
    if (!has_task(plan, l, c->from_min, c->from_min + LATE_MIN) ||
        !has_task(plan, l, c->from_min + LATE_MIN, c->cool_by_min) ||
        !has_task(plan, l, c->cool_by_min, c->cold_by_min))
      pw_judge_find(judge, "J14", "chills[%d]: no task for the ice water, the reading by minute %d or that by %d", i,
                    c->cool_by_min, c->cold_by_min);
  }
  for (int i = 0; i < plan->n[PW_SEEN_REHEATS]; i++) {
    const struct pw_seen_reheat *r = &plan->reheats[i];
    if (r->lot != l)
      continue;
    reheated += r->pieces;
    if (cooked > 0 && !has_task(plan, l, r->from_min, r->from_min + LATE_MIN))
      pw_judge_find(judge, "J14", "reheats[%d]: no task puts it into the oven at minute %d", i, r->from_min);
  }
  if (chilled != cooked)
    pw_judge_find(judge, "J14", "lots[%d]: %ld pieces of \"%s\" are cooked the day before, %ld chilled", l, cooked,
                  lot->id, chilled);
  if (reheated > lot->pieces || (reheated < cooked && !is_said(plan, "reheat-room")))
    pw_judge_find(judge, "J14",
                  "lots[%d]: %ld pieces of \"%s\" are chilled, %ld reheated, and no warning \"reheat-room\" says so", l,
                  chilled, lot->id, reheated);
}

pw_status pw_check_day_before(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_CHILLS]; i++)
    check_chill(judge, plan, i);
  for (int i = 0; i < plan->n[PW_SEEN_REHEATS]; i++)
    check_reheat(judge, plan, i);
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
    if (plan->lots[l].is_day_before)
      check_lot(judge, plan, l);
  return PW_OK;
}
