/* plan_check_reasons.c - the judge on what shifts are there for, what one hand more would buy, and given shifts against proposed [J21].
 * In: people, crew, pool, burns, loads, services, reasons, hands more, proposal.  Out: findings. */
#include "judge/plan_check_shifts.h"

#include <limits.h>
#include <math.h>
#include <string.h>

enum { STEP_MIN = 5, HALF_HOUR_MIN = 30 };

/* ---- what a shift is there for ---------------------------------------------------------------------------------- */

static bool is_watched(const struct pw_seen_plan *plan, int at, int except)
{
  return pw_check_there(plan, at, PW_CHECK_AT_FIRE, except) > 0 &&
         (!pw_check_is_night(plan, at) || pw_check_there(plan, at, PW_CHECK_AT_PIT, except) >= plan->rules.night_hands);
}

/* Something lies on a rack at that minute, and all of it is wrapped. */
static bool is_finish(const struct pw_seen_plan *plan, int at)
{
  bool is_any = false;
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++) {
    const struct pw_seen_load *load = &plan->loads[i];
    if (!pw_check_zone(plan, load) || load->start_min > at || load->end_min <= at)
      continue;
    if (load->stage != PW_SEEN_FINISH)
      return false;
    is_any = true;
  }
  return is_any;
}

static void check_fire(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_reason *told = &plan->reasons[i];
  int first = INT_MAX, last = INT_MIN, minutes = 0, from = 0, to = 0, pit = PW_SEEN_NONE;
  bool is_all = true;
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++) {
    first = plan->burns[b].lit_min < first ? plan->burns[b].lit_min : first;
    last = plan->burns[b].out_min > last ? plan->burns[b].out_min : last;
  }
  for (int at = first; first != INT_MAX && at <= last; at += STEP_MIN) {
    if (!pw_check_is_lit(plan, at) || is_watched(plan, at, told->person) || !is_watched(plan, at, PW_SEEN_NONE))
      continue;
    for (int b = 0; b < plan->n[PW_SEEN_BURNS] && minutes == 0 && pit == PW_SEEN_NONE; b++)
      if (plan->burns[b].lit_min <= at && at < plan->burns[b].out_min)
        pit = plan->burns[b].pit;
    from = minutes == 0 ? at : from;
    to = at + STEP_MIN;
    minutes += STEP_MIN;
    is_all = is_all && is_finish(plan, at);
  }
  if (told->fire_min != minutes)
    pw_judge_find(judge, "J21", "staffing.reasons[%d].fire_min: is %d, without them the fires are %d min alone", i,
                  told->fire_min, minutes);
  else if (minutes > 0 && (told->fire_from_min != from || told->fire_to_min != to || told->pit != pit ||
                           (told->is_finish != 0) != is_all))
    pw_judge_find(judge, "J21", "staffing.reasons[%d]: the fire from minute %d to %d, it is alone from %d to %d%s", i,
                  told->fire_from_min, told->fire_to_min, from, to, is_all ? ", all wrapped" : "");
}

static void check_guests(struct pw_judge *judge, const struct pw_seen_plan *plan, int i)
{
  const struct pw_seen_reason *told = &plan->reasons[i];
  double each = 0;
  int minutes = 0, first = PW_SEEN_NONE;
  for (int k = 0; k < plan->n_pool; k++)
    if (plan->pool[k].guests_per_hand > 0 && (each <= 0 || plan->pool[k].guests_per_hand < each))
      each = plan->pool[k].guests_per_hand;
  if ((told->guests_min > 0) != (told->service != PW_SEEN_NONE))
    pw_judge_find(judge, "J21", "staffing.reasons[%d].service: goes with guests_min alone", i);
  if (each <= 0) /* by the style of the service, which the file does not tell */
    return;
  for (int s = 0; s < plan->n[PW_SEEN_SERVICES]; s++) {
    const struct pw_seen_service *service = &plan->services[s];
    int asked = (int)ceil(service->guests / each - 1e-9);
    for (int at = service->at_min; !service->is_handed_over && at < service->at_min + service->length_min;
         at += STEP_MIN) {
      if (pw_check_there(plan, at, PW_CHECK_AT_TABLE, told->person) >= asked ||
          pw_check_there(plan, at, PW_CHECK_AT_TABLE, PW_SEEN_NONE) < asked)
        continue;
      first = minutes == 0 ? s : first;
      minutes += STEP_MIN;
    }
  }
  if (told->guests_min != minutes || told->service != first)
    pw_judge_find(judge, "J21", "staffing.reasons[%d].guests_min: is %d, without them guests have too few for %d min",
                  i, told->guests_min, minutes);
}

void pw_check_reasons(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  if (plan->n_reasons <= 0 && plan->n_more <= 0)
    return;
  for (int p = 0; p < plan->n[PW_SEEN_PEOPLE]; p++) {
    int lines = 0;
    for (int i = 0; i < plan->n_reasons; i++)
      lines += plan->reasons[i].person == p;
    if (lines != (plan->people[p].pool != PW_SEEN_NONE))
      pw_judge_find(judge, "J21", "staffing.reasons: %d lines for \"%s\"", lines, plan->people[p].id);
  }
  for (int i = 0; i < plan->n_reasons; i++) {
    check_fire(judge, plan, i);
    check_guests(judge, plan, i);
  }
  for (int i = 0; i < plan->n_more; i++) {
    const struct pw_seen_more *m = &plan->more[i];
    if (m->pool >= plan->n_pool) {
      pw_judge_find(judge, "J21", "staffing.more[%d].pool: %d is no line of the pool", i, m->pool);
      continue;
    }
    const struct pw_seen_pool *line = &plan->pool[m->pool];
    int length = m->to_min - m->from_min, least = (line->least_min + HALF_HOUR_MIN - 1) / HALF_HOUR_MIN * HALF_HOUR_MIN;
    double due = pw_check_shift_pay(line, length);
    if (length != least || fabs(due - (double)m->cents) > 1)
      pw_judge_find(judge, "J21", "staffing.more[%d]: %d min for %.0f, the shortest shift is %d min for %.2f", i,
                    length, (double)m->cents, least, due);
  }
}

/* ---- given against proposed ----------------------------------------------------------------------------------------- */

void pw_check_proposal(struct pw_judge *judge, const struct pw_seen_plan *plan)
{
  const struct pw_seen_proposal *told = &plan->proposal;
  double given = 0, given_h = 0, pay = 0, hours = 0;
  for (int c = 0; c < plan->n[PW_SEEN_CREW]; c++) {
    const struct pw_seen_crew *line = &plan->crew[c];
    double line_h = line->cents_per_h > 0 ? line->count * (line->to_min - line->from_min) / 60.0 : 0;
    given_h += line_h;
    given += line_h > 0 ? line_h * line->cents_per_h : 0;
  }
  for (int i = 0; i < told->n_shifts; i++) {
    const struct pw_seen_proposed *x = &told->shifts[i];
    double shift_h = (x->to_min - x->from_min - x->unpaid_min) / 60.0;
    bool is_known = false;
    for (int c = 0; c < plan->n[PW_SEEN_CREW] && x->role != PW_SEEN_NONE; c++)
      is_known = is_known || (plan->crew[c].cents_per_h == x->cents_per_h &&
                              strcmp(plan->crew[c].role, plan->crew[x->role].role) == 0);
    if (!is_known || shift_h <= 0)
      pw_judge_find(judge, "J21", "proposal.shifts[%d]: nobody of the crew at %g an hour, or no time", i,
                    x->cents_per_h);
    hours += shift_h;
    pay += shift_h * x->cents_per_h + x->extra_cents;
  }
  if (plan->n_pool > 0)
    pw_judge_find(judge, "J21", "proposal: the shifts of this plan come of a pool already");
  if (fabs(given - (double)told->given_cents) > 1 || fabs(given_h - told->given_h) > 1e-6)
    pw_judge_find(judge, "J21", "proposal.given_cents: is %.0f for %g h, the crew is paid %.2f for %g h",
                  (double)told->given_cents, told->given_h, given, given_h);
  if (fabs(pay - (double)told->pay_cents) > 1 || fabs(hours - told->paid_h) > 1e-6)
    pw_judge_find(judge, "J21", "proposal.pay_cents: is %.0f for %g h, its shifts are paid %.2f for %g h",
                  (double)told->pay_cents, told->paid_h, pay, hours);
  if (told->given_task_h > given_h + 1e-6 || told->task_h > hours + 1e-6)
    pw_judge_find(judge, "J21", "proposal.task_h: more hours in tasks than are paid");
}
