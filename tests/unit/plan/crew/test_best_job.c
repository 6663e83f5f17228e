/* test_best_job.c - of plans that have their chance the one whose whole job costs least is taken [R3, S2]: rank by rank, then on two
 * plans of the party whose people differ. */
#include "planned.h"

#include "plan/chance/on_time.h"
#include "plan/lots/side_pans.h"
#include "run_people.h"
#include "run_stages.h"

#include <math.h>

/** What decides between two jobs. */
struct told {
  int missed, undone, late_tasks, late_min;
  pw_cents cost_cents;
};

/** The first of each row is the better job. */
static const struct {
  const char *name;
  struct told better, worse;
} ranks[] = {
    {"a piece more has its place", {0, 5, 0, 0, 900}, {1, 0, 0, 0, 100}},
    {"a task more is done", {0, 0, 0, 0, 900}, {0, 1, 0, 0, 100}},
    {"cheaper", {0, 1, 0, 0, 100}, {0, 1, 0, 0, 101}},
    /* 30 an hour, four hands: 2.00 a minute */
    {"dearer, and 2 tasks less begin 10 min late", {0, 0, 0, 0, 10000}, {0, 0, 2, 10, 6001}},
    {"cheaper by more than 2 tasks of 10 min are worth", {0, 0, 2, 10, 5999}, {0, 0, 0, 0, 10000}},
};

static struct pw_plan job(const struct told *told, struct pw_warning *warnings, const struct pw_event *asked)
{
  warnings[0] = (struct pw_warning){.n_tasks = told->undone};
  warnings[1] = (struct pw_warning){.n_tasks = told->late_tasks, .late_min = told->late_min};
  return (struct pw_plan){.allocation.n_missed = told->missed,
                          .tasks = {.warnings = warnings, .n_warnings = told->late_tasks ? 2 : 1},
                          .staffing.asked = asked,
                          .quote.cost_cents = told->cost_cents};
}

START_TEST(ranked)
{
  struct pw_pool pool[] = {{.cents_per_h = 1700}, {.cents_per_h = 3000}, {.cents_per_h = 2500}};
  struct pw_event asked = {.pool = pool, .n_pool = 3};
  struct pw_warning of_better[2], of_worse[2];
  struct pw_plan better = job(&ranks[_i].better, of_better, &asked), worse = job(&ranks[_i].worse, of_worse, &asked);
  ck_assert_msg(pw_run_is_better_job(&better, &worse), "%s", ranks[_i].name);
  ck_assert_msg(!pw_run_is_better_job(&worse, &better), "%s: both are better", ranks[_i].name);
  ck_assert_msg(!pw_run_is_better_job(&better, &better), "%s: better than itself", ranks[_i].name);
}
END_TEST

static struct pw_found_plan found_of(const struct pw_plan *plan)
{
  return (struct pw_found_plan){
      .lots = plan->lots, .allocation = plan->allocation, .margins = plan->margins, .chance = plan->chance};
}

/* The party asked for two chances, its people to be called: the plan with the cheaper job is taken whichever of the two comes first,
 * whatever its fires cost, and a plan among others of itself stays. */
START_TEST(cheapest_taken)
{
  struct pw_ctx *ctx = pw_test_ctx();
  static const char *const asks[] = {"---\nterms: {on_time: 0 %}\n", "---\nterms: {on_time: 97 %}\n"};
  struct pw_plan plans[2], jobs[2];
  struct pw_fuel_rates rates;
  const struct pw_allocate_options quick = {.effort = PW_EFFORT_QUICK};
  for (int i = 0; i < 2; i++) {
    const struct pw_event *ev = planned_event_with("events/family-party.yaml", asks[i], ctx);
    ck_assert_int_eq(pw_run_stages(&plans[i], ev, &quick, NULL, NULL, ctx), PW_OK);
    ck_assert_int_eq(pw_staff_open(&plans[i].event, ev, ctx), PW_OK); /* as before anybody is called */
    plans[i].staffing = (struct pw_staffing){.asked = ev};
    jobs[i] = plans[i];
    ck_assert_int_eq(pw_fuel_rates_make(&rates, plans[i].event, ctx), PW_OK);
    ck_assert_int_eq(pw_run_people(&jobs[i], &rates, false, false, ctx), PW_OK);
  }
  ck_assert_int_ne(jobs[0].quote.cost_cents, jobs[1].quote.cost_cents);
  int best = pw_run_is_better_job(&jobs[1], &jobs[0]);
  for (int first = 0; first < 2; first++) {
    struct pw_plan plan = plans[first];
    struct pw_found found = {.plans = {found_of(&plans[first]), found_of(&plans[!first])}, .n = 2};
    plan.allocation.work = 12345; /* of all that was searched, whichever is taken */
    bool has_people = false;
    ck_assert_int_eq(pw_run_best_job(&plan, &has_people, &found, &rates, ctx), PW_OK);
    ck_assert(has_people); /* the choice has worked them out */
    ck_assert_int_eq(plan.quote.cost_cents, jobs[best].quote.cost_cents);
    ck_assert_int_eq(plan.tasks.n_tasks, jobs[best].tasks.n_tasks);
    for (int t = 0; t < plan.tasks.n_tasks; t++)
      ck_assert_str_eq(plan.tasks.tasks[t].what, jobs[best].tasks.tasks[t].what);
    ck_assert_ptr_eq(plan.lots.lots, plans[best].lots.lots);
    ck_assert_ptr_eq(plan.allocation.loads, plans[best].allocation.loads);
    ck_assert_ptr_eq(plan.margins.early_min, plans[best].margins.early_min);
    ck_assert_ptr_eq(plan.chance.services, plans[best].chance.services);
    ck_assert_int_eq(plan.allocation.work, 12345);
    found.n = 0;
    plan = plans[first];
    ck_assert_int_eq(pw_run_best_job(&plan, &has_people, &found, &rates, ctx), PW_OK);
    ck_assert(!has_people);
    ck_assert_ptr_eq(plan.lots.lots, plans[first].lots.lots);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* The wedding, searched as thoroughly as it is planned: on the way to its cheapest fires other plans are met, each apart from the rest, with
 * its chance by the draws that are told, its own margins, and fires that cost at most a twentieth more. */
START_TEST(others_found)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *asked = planned_event("events/lakeside-wedding.yaml", ctx), *ev;
  const struct pw_allocate_options full = {.effort = PW_EFFORT_FULL};
  struct pw_fuel_rates rates;
  struct pw_lots times;
  ck_assert_int_eq(pw_staff_open(&ev, asked, ctx), PW_OK);
  struct pw_plan plan = {.event = ev, .staffing.asked = asked};
  ck_assert_int_eq(pw_demand_make(&plan.demand, ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&plan.purchase, ev, &plan.demand, ctx), PW_OK);
  ck_assert_int_eq(pw_fuel_rates_make(&rates, ev, ctx), PW_OK);
  ck_assert_int_eq(pw_lots_make_like(&times, ev, &plan.purchase, NULL, NULL, ctx), PW_OK);
  plan.lots = times;
  ck_assert_int_eq(pw_run_margins(&plan.margins, &plan, &rates, &full, ctx), PW_OK);
  ck_assert_int_eq(pw_lots_make_like(&plan.lots, ev, &plan.purchase, &plan.margins, &times, ctx), PW_OK);
  ck_assert_int_eq(pw_side_pans_make(&plan.lots, ev, &plan.demand, ctx), PW_OK);
  ck_assert_int_eq(pw_allocate_make(&plan.allocation, ev, &plan.lots, &rates, &full, ctx), PW_OK);
  struct pw_found found = {.n = 0};
  ck_assert_int_eq(pw_run_mend(&plan, &plan.margins, &found, &rates, &full, ctx), PW_OK);
  ck_assert_int_gt(found.n, 0);
  ck_assert_int_le(found.n, PW_FOUND_MOST);
  for (int i = 0; i < found.n; i++) {
    const struct pw_found_plan *f = &found.plans[i];
    ck_assert(pw_on_time_is_reached(ev, &f->chance));
    ck_assert(f->allocation.cost_cents <= 1.05 * plan.allocation.cost_cents);
    ck_assert_ptr_nonnull(f->margins.early_min);
    ck_assert_ptr_ne(f->margins.early_min, plan.margins.early_min);
    ck_assert(fabs(f->allocation.cost_cents - plan.allocation.cost_cents) > 1);
    for (int k = 0; k < i; k++)
      ck_assert(fabs(f->allocation.cost_cents - found.plans[k].allocation.cost_cents) > 1);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("best_job");
  TCase *t = tcase_create("best_job");
  tcase_set_timeout(t, 0);
  tcase_add_loop_test(t, ranked, 0, sizeof ranks / sizeof *ranks);
  tcase_add_test(t, cheapest_taken);
  tcase_add_test(t, others_found);
  suite_add_tcase(s, t);
  return s;
}
PW_MAIN(suite)
