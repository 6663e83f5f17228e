/* plan_check_event.c - the frame of a plan: zone, head count, grid [J0].
 * In: event, services, lots, loads, quote.  Out: findings. */
#include "judge/plan_check_parts.h"

#include <math.h>

enum { SLOT_LEAST_MIN = 15, SLOT_MOST_MIN = 60, LENGTH_MOST_MIN = 24 * 60 };

/** The grid of the plan: what is cooked begins and ends on it. */
static void check_grid(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  enum { MENDED_MIN = 5 }; /* [J19] from now on a mended plan goes by five minutes */
  int slot = plan->event.slot_min;
  if (slot < SLOT_LEAST_MIN || slot > SLOT_MOST_MIN || 60 % slot != 0) {
    pw_judge_find(judge, "J0", "event.slot_min: %d min is no planning grid", slot);
    return;
  }
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    bool is_cooked = load->stage == PW_SEEN_SMOKE || load->stage == PW_SEEN_FINISH;
    bool is_fact = plan->now_min != PW_SEEN_NO_TIME && load->start_min <= plan->now_min; /* it lies there already */
    int step = plan->now_min != PW_SEEN_NO_TIME && slot % MENDED_MIN == 0 ? MENDED_MIN : slot;
    if (is_cooked && ((!is_fact && load->start_min % step != 0) || load->end_min % step != 0))
      pw_judge_find(judge, "J0", "loads[%d]: from minute %d to %d is not on the grid of %d min", i, load->start_min,
                    load->end_min, step);
  }
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
    for (int k = 0; k < plan->lots[l].n_times; k++)
      if (plan->lots[l].times[k].stage <= PW_SEEN_FINISH && plan->lots[l].times[k].minutes % slot != 0)
        pw_judge_find(judge, "J0", "lots[%d].stage_times[%d].minutes: %d is not on the grid of %d min", l, k,
                      plan->lots[l].times[k].minutes, slot);
}

pw_status pw_check_event(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  double sum = 0, largest = 0;
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++) {
    sum += plan->services[s].guests;
    largest = fmax(largest, plan->services[s].guests);
    if (plan->services[s].length_min > LENGTH_MOST_MIN)
      pw_judge_find(judge, "J0", "services[%d].length_min: %d min is no meal", s, plan->services[s].length_min);
  }
  if (plan->clock && pw_clock_local(plan->clock, 0).utc_offset_min != plan->event.utc_offset_min)
    pw_judge_find(judge, "J0", "event.utc_offset_min: is %d, in %s it is %d on that day", plan->event.utc_offset_min,
                  plan->event.zone, pw_clock_local(plan->clock, 0).utc_offset_min);
  int heads = plan->event.head_count;
  if (heads != PW_SEEN_NONE && heads != (int)(plan->event.is_sum ? sum : largest))
    pw_judge_find(judge, "J0", "event.head_count: is %d, the services have %.0f", heads,
                  plan->event.is_sum ? sum : largest);
  if (heads != PW_SEEN_NONE && plan->quote.guests != heads)
    pw_judge_find(judge, "J0", "quote.guests: is %d, the event has %d", plan->quote.guests, heads);
  if (plan->event.slot_min != PW_SEEN_NONE)
    check_grid(judge, plan);
  return PW_OK;
}
