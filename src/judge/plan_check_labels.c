/* plan_check_labels.c - the judge on time as a public health control [J22]: what stands at the line without heat or ice carries the time
 * it went out and the time by which it is thrown away (FDA Food Code 2022 3-501.19(B): 4 h).
 * In: services, demand, lots, labels.  Out: findings. */
#include "judge/plan_check_parts.h"

enum { OUT_MOST_MIN = 240 }; /* FDA Food Code 2022 3-501.19(B)(1), (3) */

static bool is_of(const struct pw_seen_demand *d, const struct pw_seen_time_label *label)
{
  return d->service == label->service && pw_check_is(d->dish, label->dish);
}

/** A lot of the dish's cut is ready in a wave at that minute. */
static bool is_ready_at(const struct pw_seen_plan *plan, const struct pw_seen_demand *d, int minute)
{
  for (int l = 0; l < plan->n[PW_SEEN_LOTS]; l++)
    if (plan->lots[l].service == d->service && d->cut && pw_check_is(plan->lots[l].cut, d->cut) &&
        pw_check_begin_min(plan, &plan->lots[l]) == minute)
      return true;
  return false;
}

pw_status pw_check_time_labels(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++) {
    const struct pw_seen_demand *d = &plan->demand[i];
    const struct pw_seen_service *s = &plan->services[d->service];
    int first = PW_SEEN_NO_TIME;
    for (int k = 0; k < plan->n[PW_SEEN_TIME_LABELS]; k++) {
      const struct pw_seen_time_label *label = &plan->time_labels[k];
      if (!is_of(d, label))
        continue;
      if (first == PW_SEEN_NO_TIME || label->out_min < first)
        first = label->out_min;
      if (d->is_time_control != 1)
        pw_judge_find(judge, "J22", "time_labels[%d]: \"%s\" is kept hot or cold, it needs no label", k, label->dish);
      if (label->discard_by_min != label->out_min + OUT_MOST_MIN)
        pw_judge_find(judge, "J22",
                      "time_labels[%d].discard_by_min: %d, \"%s\" goes out at %d and is thrown away %d min later", k,
                      label->discard_by_min, label->dish, label->out_min, OUT_MOST_MIN);
      bool is_quarter = (label->out_min - s->at_min) % 5 == 0; /* pans go out on the dial, or as a wave is ready */
      if (label->out_min < s->at_min || label->out_min >= s->at_min + s->length_min ||
          !(is_quarter || is_ready_at(plan, d, label->out_min)))
        pw_judge_find(judge, "J22", "time_labels[%d].out_min: %d, \"%s\" is served from %d to %d", k, label->out_min,
                      label->dish, s->at_min, s->at_min + s->length_min);
    }
    if (d->is_time_control == 1 && first != s->at_min)
      pw_judge_find(judge, "J22", "demand[%d].time_control: no label of \"%s\" from when the service begins, minute %d",
                    i, d->dish, s->at_min);
    if (d->is_time_control == 1 && s->length_min > OUT_MOST_MIN)
      pw_judge_find(judge, "J22", "demand[%d].time_control: \"%s\" is served for %d min, it may stand for %d", i,
                    d->dish, s->length_min, OUT_MOST_MIN);
  }
  for (int k = 0; k < plan->n[PW_SEEN_TIME_LABELS]; k++) {
    int n = 0;
    for (int i = 0; i < plan->n[PW_SEEN_DEMAND]; i++)
      n += is_of(&plan->demand[i], &plan->time_labels[k]);
    if (n == 0)
      pw_judge_find(judge, "J22", "time_labels[%d]: \"%s\" is on no menu of that service", k,
                    plan->time_labels[k].dish);
  }
  return PW_OK;
}
