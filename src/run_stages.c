/* run_stages.c - the stages in order, for one event.  No formulas here. */
#include "run_stages.h"
#include "run_people.h"

#include "base/deadline.h"
#include "plan/chance/on_time.h"
#include "plan/lots/side_pans.h"

const struct pw_margins pw_usual_margins = {0};

static bool is_wider(const struct pw_margins *m, const struct pw_event *ev)
{
  bool is_so = false;
  for (int k = 0; m->early_min && k < ev->n_services * ev->n_cuts; k++)
    is_so = is_so || m->early_min[k] != 0 || m->turn_min[k] != 0;
  return is_so;
}

/* Whether the lots of the first search are those of the plan, whose bound may be proved beside it. */
static bool is_proved_beside(const struct pw_event *ev, const struct pw_allocate_options *allocate)
{
  return !pw_on_time_is_asked(ev) && !allocate->watch && !allocate->is_without_ways && !allocate->dump_model;
}

/* Lots with their margins, and a place for each of their pieces. */
static pw_status search(struct pw_plan *plan, const struct pw_margins *margins, const struct pw_lots *times,
                        const struct pw_fuel_rates *rates, const struct pw_allocate_options *allocate,
                        struct pw_ctx *ctx)
{
  pw_status st = pw_deadline_is_stopped()
                     ? PW_ERR_STOPPED
                     : pw_lots_make_like(&plan->lots, plan->event, &plan->purchase, margins, times, ctx);
  if (st == PW_OK)
    st = pw_side_pans_make(&plan->lots, plan->event, &plan->demand, ctx);
  struct pw_allocate_options own = *allocate;
  own.is_proved_beside = is_proved_beside(plan->event, allocate);
  return st == PW_OK ? pw_allocate_make(&plan->allocation, plan->event, &plan->lots, rates, &own, ctx) : st;
}

pw_status pw_run_stages(struct pw_plan *plan, const struct pw_event *asked, const struct pw_allocate_options *allocate,
                        const struct pw_margins *given, const struct pw_lots *like, struct pw_ctx *ctx)
{
  struct pw_fuel_rates rates;
  const struct pw_event *ev; /* with everybody there who could be called, until shifts are known */
  pw_status st;
  if (pw_deadline_is_stopped())
    return PW_ERR_STOPPED;
  if ((st = pw_staff_open(&ev, asked, ctx)) != PW_OK)
    return st;
  *plan = (struct pw_plan){.event = ev, .staffing.asked = asked->n_pool > 0 ? asked : NULL};
  if ((st = pw_demand_make(&plan->demand, ev, ctx)) != PW_OK)
    return st;
  if ((st = pw_purchase_make(&plan->purchase, ev, &plan->demand, ctx)) != PW_OK)
    return st;
  if ((st = pw_fuel_rates_make(&rates, ev, ctx)) != PW_OK)
    return st;
  bool is_asked = pw_on_time_is_asked(ev);
  struct pw_lots times; /* the heat's work, done once */
  if ((st = pw_lots_make_like(&times, ev, &plan->purchase, NULL, like, ctx)) != PW_OK)
    return st;
  plan->lots = times;
  /* what fits comes first: of a quick plan it is known at once, and what does not fit is not searched three times */
  bool is_short = false;
  if (is_asked && !given && allocate->effort == PW_EFFORT_QUICK) {
    st = search(plan, NULL, &times, &rates, allocate, ctx);
    is_short = plan->allocation.n_missed > 0;
  }
  if (st == PW_OK && is_asked && !given && !is_short)
    st = pw_run_margins(&plan->margins, plan, &rates, allocate, ctx);
  if (given)
    plan->margins = *given;
  if (st == PW_OK && !is_short)
    st = search(plan, is_asked ? &plan->margins : NULL, &times, &rates, allocate, ctx);
  if (st == PW_OK && !is_short && !given && is_asked && plan->allocation.n_missed > 0) {
    bool is_other = is_wider(&plan->margins, ev);
    plan->margins = pw_usual_margins;
    st = is_other ? search(plan, NULL, &times, &rates, allocate, ctx) : PW_OK;
  }
  if (st != PW_OK)
    return st;
  const struct pw_lot *searched = plan->lots.lots;
  struct pw_found found = {0};
  bool is_pooled = plan->staffing.asked && allocate->effort == PW_EFFORT_FULL;
  if (!given && (st = pw_run_mend(plan, &plan->margins, is_pooled ? &found : NULL, &rates, allocate, ctx)) != PW_OK)
    return st;
  bool has_people = false;
  if (!pw_deadline_is_over(allocate->deadline_s) &&
      (st = pw_run_best_job(plan, &has_people, &found, &rates, ctx)) != PW_OK)
    return st;
  bool is_shown = allocate->effort == PW_EFFORT_FULL && !allocate->is_without_ways;
  if (plan->lots.lots != searched) /* a bound holds for the windows it was proved for */
    plan->allocation.bound_cents = 0;
  if (!allocate->is_unproved && plan->allocation.proof.fractions_cents <= 0 &&
      (plan->lots.lots != searched || is_shown || allocate->dump_model))
    if ((st = pw_allocate_prove(&plan->allocation, ev, &plan->lots, &rates, allocate, ctx)) != PW_OK)
      return st;
  /* other head counts are never handed out */
  if (has_people)
    return given ? PW_OK : pw_task_slack_make(plan, ctx);
  return pw_run_people(plan, &rates, allocate->effort == PW_EFFORT_QUICK, !given, ctx);
}
