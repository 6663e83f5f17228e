/* test_plan_shifts.c - shifts worked out from a pool [S2]: the wedding and the party with the people of their crews to be called; the
 * judge finds nothing in the plan, and each of its rules [J21] is broken once. */
#include "planned.h"

#include "base/arena.h"
#include "judge/plan_check.h"
#include "plan/demand/head_count.h"
#include "read/read.h"
#include "run_stages.h"
#include "write/plan_json.h"

/** Whom one could call, in the place of the crew that the event gives from `from` to `to` of its file. */
static const struct {
  const char *file, *from, *to, *pool;
  double given_cents; /* what the shifts of the file cost */
} jobs[] = {
    {"tests/data/events/lakeside-wedding.yaml", "  - {role: prep cook", "\n# Whoever asks",
     "crew_pool:\n"
     "  - {role: pitmaster, duties: [fire, pit, carve, prep, drive], up_to: 1, rate: 32 per h, most: 12 h}\n"
     "  - {role: pit hand, duties: [fire, pit, prep, carve], up_to: 4, rate: 23 per h, most: 12 h}\n"
     "  - {role: prep cook, duties: [prep, pit, fire, drive], up_to: 2, rate: 21 per h, travel: 5.00}\n"
     "  - {role: server, duties: [serve, carve, clean], up_to: 6, guests_each: 45, rate: 19 per h, most: 8 h}\n",
     287500},
    {"tests/data/events/family-party.yaml", "  - {role: second cook",
     "\nsupplies:", /* prep cook and pitmaster as given */
     "crew_pool:\n"
     "  - {role: second cook, duties: [fire, pit, prep, carve, drive], rate: 19 per h, overtime: {after: 8 h}}\n"
     "  - {role: helper, duties: [pit, prep, carve, serve, clean], up_to: 2, rate: 17 per h}\n"
     "work_rules: eu\n",
     64500},
};

static struct pw_event *with_pool(int job, struct pw_ctx *ctx)
{
  static char text[1 << 16], out[1 << 17];
  FILE *f = fopen(jobs[job].file, "r");
  ck_assert_ptr_nonnull(f);
  size_t n = fread(text, 1, sizeof text - 1, f);
  ck_assert(fclose(f) == 0 && n > 0);
  text[n] = '\0';
  char *from = strstr(text, jobs[job].from);
  if (!from) { /* the example has a pool of its own */
    struct pw_event *ev = NULL;
    ck_assert_int_eq(pw_event_read_text(&ev, jobs[job].file, text, n, "templates", ctx), PW_OK);
    ck_assert_int_gt(ev->n_pool, 0);
    return ev;
  }
  char *to = strstr(from, jobs[job].to);
  ck_assert_ptr_nonnull(to);
  int used = snprintf(out, sizeof out, "%.*s%s%s", (int)(from - text), text, jobs[job].pool, to);
  struct pw_event *ev = NULL;
  pw_status st = pw_event_read_text(&ev, jobs[job].file, out, (size_t)used, "templates", ctx);
  ck_assert_msg(st == PW_OK, "%s", ctx->n_diags ? ctx->diags[0].text : "");
  return ev;
}

/* Findings with the label in what the judge says of the plan as it is now. */
static int n_found(const struct pw_plan *plan, const char *label)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text;
  size_t n;
  int n_all = 0, n_label = 0;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  (void)pw_plan_check_text("plan.json", text, n, &n_all, ctx);
  for (int i = 0; i < ctx->n_diags; i++)
    n_label += !label || strcmp(ctx->diags[i].code, label) == 0;
  if (!label && n_all > 0)
    printf("%s\n", ctx->diags[0].text);
  pw_test_ctx_free(ctx);
  return label ? n_label : n_all;
}

static void expect(const struct pw_plan *plan, const char *what)
{
  ck_assert_msg(n_found(plan, "J21") > 0, "%s: nothing found", what);
}

/* The event and the shifts are the plan's own: they may be changed and put back. */
static struct pw_event *event_of(struct pw_plan *plan)
{
  struct pw_event *ev;
  memcpy(&ev, &plan->event, sizeof ev);
  return ev;
}

static struct pw_worked_shift *worked_of(struct pw_crew *crew)
{
  struct pw_worked_shift *w;
  memcpy(&w, &crew->worked, sizeof w);
  return w;
}

/* Who works the crew line. */
static struct pw_person *person_of(const struct pw_plan *plan, const struct pw_crew *crew)
{
  for (int p = 0; p < plan->tasks.n_people; p++)
    if (&plan->event->crew[plan->tasks.people[p].crew] == crew)
      return &plan->tasks.people[p];
  ck_abort_msg("nobody works it");
}

#define BROKEN(plan, value, broken)                                                                                    \
  do {                                                                                                                 \
    __typeof__(value) was__ = (value);                                                                                 \
    (value) = (broken);                                                                                                \
    expect((plan), #value " = " #broken);                                                                              \
    (value) = was__;                                                                                                   \
  } while (0)

START_TEST(each_rule_broken_once)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(with_pool(_i, ctx), true, PW_EFFORT_QUICK, ctx);
  struct pw_event *ev = event_of(plan);
  struct pw_crew *first = NULL, *with_break = NULL;
  ck_assert_int_eq(n_found(plan, NULL), 0);
  for (int c = 0; c < ev->n_crew; c++)
    if (ev->crew[c].worked) {
      first = first ? first : &ev->crew[c];
      if (ev->crew[c].worked->break_to_at_min > ev->crew[c].worked->break_from_at_min)
        with_break = &ev->crew[c];
    }
  ck_assert_ptr_nonnull(first);
  BROKEN(plan, ev->rules.longest_min, 60);
  BROKEN(plan, ev->rules.awake_longest_min, 60);
  BROKEN(plan, ev->rules.break_after_min, 60);
  BROKEN(plan, ev->rules.night_shortest_min, 12 * 60);
  if (_i == 0) /* the party's fires are lit when the night is as good as over */
    BROKEN(plan, ev->rules.night_hands, 15);
  BROKEN(plan, ev->rules.week_overtime_after_min, 60);
  BROKEN(plan, ev->pool[first->worked->pool].most_min, 60);
  BROKEN(plan, ev->pool[first->worked->pool].least_min, 23 * 60);
  BROKEN(plan, ev->pool[first->worked->pool].cents_per_h, 1);
  BROKEN(plan, ev->pool[first->worked->pool].travel_cents, 12345);
  BROKEN(plan, worked_of(first)->extra_cents, 99999);
  BROKEN(plan, worked_of(first)->unpaid_min, 55);
  BROKEN(plan, person_of(plan, first)->name, NULL);
  struct pw_pool *line = &ev->pool[first->worked->pool];
  line->has_from = true;
  line->from_at_min = first->from_at_min + 15;
  expect(plan, "called too early");
  line->has_from = false;
  line->has_to = true;
  line->to_at_min = first->to_at_min - 15;
  expect(plan, "kept too long");
  line->has_to = false;
  if (with_break) {
    BROKEN(plan, worked_of(with_break)->break_to_at_min, with_break->worked->break_from_at_min);
    BROKEN(plan, worked_of(with_break)->break_from_at_min, with_break->from_at_min - 600);
  }
  for (int c = 0; c < ev->n_crew; c++) /* two shifts at once by one person */
    for (int k = 0; k < c; k++) {
      struct pw_crew *a = &ev->crew[k], *b = &ev->crew[c];
      if (!a->worked || !b->worked || a->worked->pool != b->worked->pool || a->to_at_min <= b->from_at_min)
        continue;
      BROKEN(plan, person_of(plan, b)->name, person_of(plan, a)->name);
      c = ev->n_crew - 1;
      break;
    }
  for (int p = 0; p < ev->n_pool; p++) /* more names than people */
    for (int c = 0; c < ev->n_crew; c++)
      if (ev->crew[c].worked && ev->crew[c].worked->pool == p && ev->pool[p].up_to == 1)
        for (int k = 0; k < c; k++)
          if (ev->crew[k].worked && ev->crew[k].worked->pool == p)
            BROKEN(plan, person_of(plan, &ev->crew[c])->name, "somebody else");
  unsigned duties[64];
  for (int c = 0; c < ev->n_crew; c++) {
    duties[c] = ev->crew[c].duties;
    ev->crew[c].duties &= ~(1u << PW_DUTY_FIRE);
  }
  expect(plan, "nobody awake");
  for (int c = 0; c < ev->n_crew; c++)
    ev->crew[c].duties = duties[c] & ~(1u << PW_DUTY_SERVE);
  if (_i == 0) /* the party's helpers go by the style of the service */
    expect(plan, "nobody for the guests");
  for (int c = 0; c < ev->n_crew; c++)
    ev->crew[c].duties = duties[c];
  ck_assert_int_eq(n_found(plan, NULL), 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Every task has its hands, for less than the shifts that were written; given shifts stay as they are; no two runs differ. */
START_TEST(cheaper_than_written)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = with_pool(_i, ctx);
  struct pw_plan *plan = planned(ev, false, PW_EFFORT_FULL, ctx);
  double paid_h = 0, task_h = 0;
  for (int t = 0; t < plan->tasks.n_tasks; t++) {
    bool is_office = plan->tasks.tasks[t].kind == PW_TASK_TAKE_IN; /* nobody is called for a delivery alone */
    ck_assert_msg(is_office || plan->tasks.tasks[t].person != PW_NONE, "nobody: %s", plan->tasks.tasks[t].what);
    task_h += plan->tasks.tasks[t].minutes / 60.0;
  }
  for (int w = 0; w < plan->n_warnings; w++)
    ck_assert_msg(strcmp(plan->warnings[w].code, "hands-short") != 0 &&
                      strcmp(plan->warnings[w].code, "nobody-awake") != 0,
                  "%s", plan->warnings[w].text);
  for (int c = 0; c < ev->n_crew; c++) {
    const struct pw_crew *is = &plan->event->crew[c];
    ck_assert(!is->worked && is->from_at_min == ev->crew[c].from_at_min && is->to_at_min == ev->crew[c].to_at_min);
  }
  for (int c = 0; c < plan->event->n_crew; c++)
    paid_h += plan->event->crew[c].cents_per_h > 0
                  ? (plan->event->crew[c].to_at_min - plan->event->crew[c].from_at_min) / 60.0
                  : 0;
  ck_assert_msg((double)plan->quote.labour_cents < jobs[_i].given_cents, "labour %lld",
                (long long)plan->quote.labour_cents);
  ck_assert(paid_h > task_h * 0.5);
  ck_assert_msg(plan->staffing.gap_frac >= 0 && plan->staffing.gap_frac <= 0.05, "gap %g", plan->staffing.gap_frac);
  ck_assert_int_eq(plan->staffing.n_reasons, plan->event->n_crew - ev->n_crew);
  for (int i = 0; i < plan->staffing.n_reasons; i++) { /* a shift nobody would miss was left out */
    struct pw_shift_reason *why = &plan->staffing.reasons[i];
    ck_assert_msg(why->fire_min > 0 || why->guests_min > 0 || why->n_tasks > 0 || why->late_min > 0 ||
                      why->tight_min > 0,
                  "%s is there for nothing", plan->event->crew[why->crew].worked->name);
    if (why->fire_min > 0) {
      BROKEN(plan, why->fire_min, why->fire_min + 5);
      BROKEN(plan, why->fire_from_at_min, why->fire_from_at_min + 5);
      BROKEN(plan, why->fire_to_at_min, why->fire_to_at_min - 5);
      BROKEN(plan, why->is_finish, !why->is_finish);
    }
    if (_i == 0 && why->guests_min > 0) /* the party's go by the style of the service, which the file does not tell */
      BROKEN(plan, why->guests_min, why->guests_min + 5);
    BROKEN(plan, why->crew, plan->staffing.reasons[(i + 1) % plan->staffing.n_reasons].crew);
  }
  for (int i = 0; i < plan->staffing.n_more; i++) {
    BROKEN(plan, plan->staffing.more[i].cents, plan->staffing.more[i].cents + 2);
    BROKEN(plan, plan->staffing.more[i].to_at_min, plan->staffing.more[i].to_at_min + 30);
    BROKEN(plan, plan->staffing.more[i].pool, ev->n_pool);
  }
  if (_i == 0) { /* the small one is planned twice */
    pw_test_ctx_free(ctx);
    return;
  }
  struct pw_ctx *other = pw_test_ctx();
  struct pw_plan *again = planned(with_pool(_i, other), false, PW_EFFORT_FULL, other);
  const char *a, *b;
  size_t na, nb;
  ck_assert_int_eq(pw_plan_json_text(&a, &na, plan, ctx), PW_OK);
  ck_assert_int_eq(pw_plan_json_text(&b, &nb, again, other), PW_OK);
  ck_assert(na == nb && memcmp(a, b, na) == 0);
  pw_test_ctx_free(other);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Of the party as it is written, the same people called as the work asks: no dearer, nothing late that was not; each figure that
 * follows from others broken once. */
START_TEST(given_against_proposed)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = NULL;
  ck_assert_int_eq(pw_event_read(&ev, _i == 0 ? "tests/data/events/family-party.yaml" : "events/garden-lunch.yaml",
                                 "templates", ctx),
                   PW_OK);
  if (ev->n_pool > 0) { /* the example calls people itself */
    pw_test_ctx_free(ctx);
    return;
  }
  struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
  struct pw_proposal *told = &plan->proposal;
  ck_assert_int_eq(pw_staff_propose(plan, ctx), PW_OK);
  ck_assert_ptr_nonnull(told->event);
  ck_assert_int_eq(n_found(plan, NULL), 0);
  ck_assert_msg(told->n_lacking > told->n_given_lacking || told->pay_cents <= told->given_cents, "%lld of %lld",
                (long long)told->pay_cents, (long long)told->given_cents);
  int n_people = 0, n_paid = 0;
  for (int c = 0; c < ev->n_crew; c++)
    n_paid += ev->crew[c].cents_per_h > 0 ? pw_head_count_hands(ev, &ev->crew[c]) : 0;
  for (int p = 0; p < told->event->n_pool; p++)
    n_people += told->event->pool[p].up_to;
  ck_assert_msg(n_people > 0 && n_people <= n_paid, "%d people of %d hands", n_people, n_paid);
  BROKEN(plan, told->given_cents, told->given_cents + 2);
  BROKEN(plan, told->pay_cents, told->pay_cents - 2);
  BROKEN(plan, told->given_h, told->given_h + 0.5);
  BROKEN(plan, told->paid_h, told->paid_h + 0.5);
  BROKEN(plan, told->given_task_h, told->given_h + 1);
  BROKEN(plan, told->task_h, told->paid_h + 1);
  pw_test_ctx_free(ctx);
}
END_TEST

/* A party at noon has a fire by night: planned again with what the night's hands cost, it costs no more than planned at the flat price of
 * tending, no meal is less likely ready, and what the allocation tells is its cost without those prices (the judge adds it up [J11]). */
START_TEST(hours_have_prices)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = planned_event_with(
      "tests/data/events/family-party.yaml",
      "---\nservices:\n  - {id: supper, time: \"11:00\"}\n"
      "crew_pool:\n"
      "  - {role: pitmaster, duties: [fire, pit, prep, carve, drive], rate: 24 per h, most: 12 h}\n"
      "  - {role: second cook, duties: [fire, pit, prep, carve, drive], up_to: 3, rate: 19 per h, most: 12 h}\n"
      "  - {role: helper, duties: [pit, prep, carve, serve, clean], up_to: 4, rate: 17 per h}\n"
      "work_rules: eu\n",
      ctx);
  ev->n_crew = 0; /* nobody is given */
  struct pw_plan *flat = pw_arena_alloc(ctx->arena, sizeof *flat), *plan = planned(ev, false, PW_EFFORT_FULL, ctx);
  struct pw_allocate_options allocate = {.effort = PW_EFFORT_FULL};
  ck_assert_int_eq(pw_run_stages(flat, ev, &allocate, NULL, NULL, ctx), PW_OK);
  ck_assert_int_gt(flat->staffing.n_watch, 0);
  ck_assert_msg(plan->quote.cost_cents <= flat->quote.cost_cents, "%lld at hourly prices, %lld at a flat one",
                (long long)plan->quote.cost_cents, (long long)flat->quote.cost_cents);
  ck_assert(plan->chance.services[0].on_time_frac >= flat->chance.services[0].on_time_frac - 1e-9);
  double night = 0;
  for (int k = 0; k < flat->staffing.n_watch; k++) {
    int at = flat->staffing.watch_from_at_min + k * 30;
    night += at >= 0 && at < 5 * 60 ? flat->staffing.watch_cents[k] : 0;
    ck_assert(flat->staffing.watch_cents[k] >= 0);
  }
  ck_assert_msg(night > 0, "the night costs nothing");
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_shifts");
  TCase *t = tcase_create("plan_shifts");
  tcase_set_timeout(t, 300);
  tcase_add_loop_test(t, each_rule_broken_once, 0, sizeof jobs / sizeof *jobs);
  tcase_add_loop_test(t, cheaper_than_written, 0, sizeof jobs / sizeof *jobs);
  tcase_add_loop_test(t, given_against_proposed, 0, 2);
  tcase_add_test(t, hours_have_prices);
  suite_add_tcase(s, t);
  return s;
}
PW_MAIN(suite)
