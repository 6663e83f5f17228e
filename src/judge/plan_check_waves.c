/* plan_check_waves.c - the judge on waves [J22]: the lots of a cut for a service are its waves, one after the other from the first
 * plate to the last, as many pieces to each as guests have come for; the last piece of each is whole no longer than it may be held
 * and in its pan no longer than it keeps there, or the plan says by how much it is.
 * In: services, lots.  Out: findings. */
#include "judge/plan_check_parts.h"

#include <math.h>

#define SHARES_OFF 1e-9 /* shares add up to 1 but for rounding */

int pw_check_begin_min(const struct pw_seen_plan *plan, const struct pw_seen_lot *lot)
{
  bool has_wave = lot->until_min != PW_SEEN_NO_TIME && lot->by_min != PW_SEEN_NO_TIME && !lot->is_day_before;
  return has_wave ? lot->by_min : plan->services[lot->service].at_min;
}

int pw_check_whole_min(const struct pw_seen_lot *lot)
{
  if (lot->until_min == PW_SEEN_NO_TIME || lot->by_min == PW_SEEN_NO_TIME || lot->is_day_before ||
      lot->pan_hold_max_min == 0)
    return 0;
  int whole = lot->until_min - lot->by_min - lot->pan_hold_max_min;
  return whole > 0 ? whole : 0;
}

double pw_check_come_frac(const struct pw_seen_service *s, int minute)
{
  double frac = 0;
  if (minute >= s->length_min)
    return 1;
  if (s->n_arrivals == 0)
    return (double)minute / s->length_min;
  for (int i = 0; i < s->n_arrivals; i++) {
    double from = (double)s->length_min * i / s->n_arrivals, step = (double)s->length_min / s->n_arrivals;
    frac += minute >= from + step ? s->arrivals[i] : minute > from ? s->arrivals[i] * (minute - from) / step : 0;
  }
  return frac;
}

int pw_check_span_min(const struct pw_seen_service *s)
{
  int n = s->n_arrivals;
  while (n > 1 && s->arrivals[n - 1] <= 0)
    n--;
  return n == s->n_arrivals ? s->length_min : (int)ceil((double)s->length_min * n / s->n_arrivals - 1e-9);
}

static bool is_alike(const struct pw_seen_lot *a, const struct pw_seen_lot *b)
{
  return a->service == b->service && pw_check_is(a->cut, b->cut);
}

/** Times and pieces of one wave, worked out again. */
static void check_wave(struct pw_judge *judge, const struct pw_seen_plan *plan, int i, long pieces)
{
  const struct pw_seen_lot *lot = &plan->lots[i];
  const struct pw_seen_service *s = &plan->services[lot->service];
  int span = pw_check_span_min(s), slot = plan->event.slot_min, n = lot->n_waves, ends[2] = {0, span};
  long upto[2] = {0, pieces};
  for (int k = 0; k < 2; k++) {
    int wave = lot->wave + k;
    if (wave > 0 && wave < n) {
      ends[k] = (int)floor((double)span * wave / n / slot + 0.5) * slot;
      upto[k] = (long)ceil((double)pieces * pw_check_come_frac(s, ends[k]) - 1e-9);
    }
  }
  if (lot->until_min != s->at_min + ends[1])
    pw_judge_find(judge, "J22", "lots[%d].until_min: %d, the last plate of wave %d of %d is at %d", i, lot->until_min,
                  lot->wave, n, s->at_min + ends[1]);
  if (lot->is_day_before)
    return;
  if (lot->by_min != s->at_min + ends[0])
    pw_judge_find(judge, "J22", "lots[%d].by_min: %d, \"%s\" is wanted at minute %d", i, lot->by_min, lot->id,
                  s->at_min + ends[0]);
  if (lot->pieces != upto[1] - upto[0])
    pw_judge_find(judge, "J22", "lots[%d].pieces: %d, %ld of %ld are for wave %d of %d", i, lot->pieces,
                  upto[1] - upto[0], pieces, lot->wave, n);
}

static void check_over(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_lot *lot = &plan->lots[i];
  bool is_told = false;
  for (int k = 0; k < plan->n[PW_SEEN_WARNINGS]; k++)
    is_told = is_told || pw_check_is(plan->warnings[k].code, "wave-long");
  if (lot->over_min > 0 && !is_told)
    pw_judge_find(judge, "J22", "lots[%d].over_min: \"%s\" is held %d min too long, which no warning says", i, lot->id,
                  lot->over_min);
  if (lot->over_min >= pw_check_whole_min(lot) + plan->event.slot_min) /* the grid may add less than a step */
    pw_judge_find(judge, "J22", "lots[%d].over_min: %d, the last piece is whole for %d min of its wave", i,
                  lot->over_min, pw_check_whole_min(lot));
  if (pw_check_whole_min(lot) > lot->hold_max_min + lot->over_min)
    pw_judge_find(judge, "J22", "lots[%d]: the last piece is whole %d min after the first plate, \"%s\" may be held %d",
                  i, pw_check_whole_min(lot), lot->id, lot->hold_max_min);
}

pw_status pw_check_waves(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++) {
    double sum = 0;
    for (int k = 0; k < plan->services[s].n_arrivals; k++)
      sum += plan->services[s].arrivals[k];
    if (plan->services[s].n_arrivals > 0 && fabs(sum - 1) > SHARES_OFF)
      pw_judge_find(judge, "J22", "services[%d].arrivals: the shares add up to %.10g, not to 1", s, sum);
  }
  if (plan->event.slot_min == PW_SEEN_NONE)
    return PW_OK;
  for (int i = 0; i < plan->n[PW_SEEN_LOTS]; i++) {
    const struct pw_seen_lot *lot = &plan->lots[i];
    long pieces = 0;
    int n = 0, n_same = 0;
    if (lot->until_min == PW_SEEN_NO_TIME || lot->by_min == PW_SEEN_NO_TIME)
      continue; /* an older plan */
    for (int k = 0; k < plan->n[PW_SEEN_LOTS]; k++)
      if (is_alike(lot, &plan->lots[k])) {
        n++;
        n_same += plan->lots[k].wave == lot->wave;
        pieces += plan->lots[k].pieces;
      }
    if (lot->n_waves != n || lot->wave >= n || n_same != 1)
      pw_judge_find(judge, "J22",
                    "lots[%d]: wave %d of %d, and %d lots are of that cut and service, %d with this number", i,
                    lot->wave, lot->n_waves, n, n_same);
    else
      check_wave(judge, plan, i, pieces);
    check_over(judge, plan, i);
  }
  return PW_OK;
}
