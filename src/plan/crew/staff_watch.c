/* staff_watch.c - of shifts that stay as they were while the plan around them moves: fires nobody is awake at, guests too few look after
 * [S2].  In: crew lines of the event, burns, services.  Out: staffing.warnings. */
#include "base/arena.h"
#include "base/clock.h"
#include "base/format.h"
#include "base/when.h"
#include "plan/demand/head_count.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>

enum {
  STEP_MIN = 15,
  NOBODY_STEP_MIN = 5,
  NIGHT_HOURS = 5 /* from 00:00: Directive 2003/88/EC Article 2(3), as the work rules count it */
};

/** People of a crew line who were said not to be there. */
static int away(const struct pw_plan *plan, int crew, int at)
{
  int n = 0;
  for (int i = 0; plan->day && i < plan->day->n_away; i++) {
    const struct pw_away *a = &plan->day->away[i];
    n += plan->tasks.people[a->person].crew == crew && a->from_at_min <= at && at < a->to_at_min;
  }
  return n;
}

/** Hands of crew lines with one of the duties who are there, and unless `with_breaks` not on their break. */
static int there(const struct pw_plan *plan, int at, unsigned duties, bool with_breaks)
{
  const struct pw_event *ev = plan->event;
  int n = 0;
  for (int c = 0; c < ev->n_crew; c++) {
    const struct pw_crew *line = &ev->crew[c];
    bool is_break = line->worked && line->worked->break_from_at_min <= at && at < line->worked->break_to_at_min;
    if ((line->duties & duties) != 0 && line->from_at_min <= at && at < line->to_at_min && (with_breaks || !is_break))
      n += pw_head_count_hands(ev, line) - away(plan, c, at);
  }
  return n;
}

static bool is_lit(const struct pw_allocation *a, int at)
{
  for (int b = 0; b < a->n_burns; b++)
    if (a->burns[b].lit_at_min <= at && at < a->burns[b].out_at_min)
      return true;
  return false;
}

/** First minute at which too few are at a lit fire; INT_MAX: never.  *lacking_min: for how long in all. */
static int fire_from(const struct pw_plan *plan, int *lacking_min)
{
  const struct pw_event *ev = plan->event;
  const struct pw_allocation *a = &plan->allocation;
  int from = INT_MAX, first = INT_MAX, last = INT_MIN;
  *lacking_min = 0;
  for (int b = 0; b < a->n_burns; b++) {
    first = a->burns[b].lit_at_min < first ? a->burns[b].lit_at_min : first;
    last = a->burns[b].out_at_min > last ? a->burns[b].out_at_min : last;
  }
  for (int at = first; first != INT_MAX && at <= last; at += NOBODY_STEP_MIN) {
    bool is_night = pw_clock_local(ev->clock, at).hour < NIGHT_HOURS;
    unsigned hands = 1u << PW_DUTY_FIRE | 1u << PW_DUTY_PIT;
    if (!is_lit(a, at) || (there(plan, at, 1u << PW_DUTY_FIRE, false) > 0 &&
                           (!is_night || there(plan, at, hands, false) >= ev->rules.night_hands)))
      continue;
    from = from == INT_MAX ? at : from;
    *lacking_min += NOBODY_STEP_MIN;
  }
  return from;
}

/** First minute of a meal at which one looks after more guests than the pool says; INT_MAX: never. */
static int guests_from(const struct pw_plan *plan)
{
  const struct pw_event *ev = plan->event;
  double each = 0;
  for (int i = 0; i < ev->n_pool; i++)
    if (ev->pool[i].guests_per_hand > 0 && (each <= 0 || ev->pool[i].guests_per_hand < each))
      each = ev->pool[i].guests_per_hand;
  for (int s = 0; s < ev->n_services && each > 0; s++) {
    const struct pw_service *service = &ev->services[s];
    int guests = 0;
    for (int k = 0; k < ev->n_classes; k++)
      guests += service->guests[k];
    for (int at = service->at_min; at < service->at_min + service->length_min; at += STEP_MIN)
      if (there(plan, at, 1u << PW_DUTY_SERVE, false) < (int)ceil(guests / each - 1e-9))
        return at;
  }
  return INT_MAX;
}

bool pw_staff_nobody(const struct pw_plan *plan, int from_at_min, int *from, int *to)
{
  const struct pw_allocation *a = &plan->allocation;
  int last = INT_MIN;
  *from = INT_MAX;
  for (int b = 0; b < a->n_burns; b++)
    last = a->burns[b].out_at_min > last ? a->burns[b].out_at_min : last;
  for (int at = from_at_min; at < last; at += NOBODY_STEP_MIN) {
    bool is_nobody = is_lit(a, at) && there(plan, at, 1u << PW_DUTY_FIRE, true) == 0;
    if (is_nobody && *from == INT_MAX)
      *from = at;
    *to = at;
    if (!is_nobody && *from != INT_MAX)
      return true;
  }
  *to = last;
  return *from != INT_MAX;
}

pw_status pw_staff_watch(struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_staffing *told = &plan->staffing;
  int lacking = 0, fire = fire_from(plan, &lacking), guests = guests_from(plan);
  told->n_warnings = told->n_reasons = told->n_more = 0; /* of the plan before, with other fires */
  told->warnings = pw_arena_array(ctx->arena, 2, sizeof *told->warnings);
  if (!told->warnings)
    return PW_ERR_MEMORY;
  if (fire != INT_MAX)
    told->warnings[told->n_warnings++] = (struct pw_warning){
        .code = "nobody-awake",
        .text = pw_arena_printf(
            ctx->arena,
            "Too few are awake at the fire for %s in all, the first time on %s: the shifts stay as they "
            "were. Somebody rested with the duty fire stays on or comes.",
            pw_format_minutes(lacking).s, pw_when(plan->event, fire).s)};
  if (guests != INT_MAX)
    told->warnings[told->n_warnings++] = (struct pw_warning){
        .code = "few-servers",
        .text = pw_arena_printf(ctx->arena,
                                "Too few look after the guests, the first time on %s: the shifts stay as they were.",
                                pw_when(plan->event, guests).s)};
  for (int i = 0; i < told->n_warnings; i++)
    if (!told->warnings[i].text)
      return PW_ERR_MEMORY;
  return PW_OK;
}
