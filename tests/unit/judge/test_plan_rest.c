/* test_plan_rest.c - people planned too long [H3] [J18]: each kind is warned of by whom it is about, stands on that person's sheet, and a
 * plan without the warning that its own data ask for is broken. */
#include "planned.h"

#include "judge/plan_check.h"
#include "write/plan_json.h"

/** The party with one pitmaster from 04:00 to 21:30, who drives home; the wedding without the second pair of hands at night. */
static const struct {
  const char *code, *event, *gone, *longer;
  const char *of; /**< who it is about */
} rows[] = {{"long-shift", "tests/data/events/family-party.yaml", "second cook", "pitmaster", "pitmaster"},
            {"long-day", "tests/data/events/family-party.yaml", "second cook", "pitmaster", "pitmaster"},
            {"tired-driver", "tests/data/events/family-party.yaml", "second cook", "pitmaster", "pitmaster"},
            {"alone-at-night", "tests/data/events/lakeside-wedding.yaml", "night hand", NULL, "night fire tender"}};

static struct pw_event *tiring(int row, struct pw_ctx *ctx)
{
  struct pw_event *ev = planned_event(rows[row].event, ctx);
  int n = 0;
  for (int i = 0; i < ev->n_crew; i++) {
    if (rows[row].longer && strcmp(ev->crew[i].role, rows[row].longer) == 0)
      ev->crew[i].to_at_min = 21 * 60 + 30;
    if (strcmp(ev->crew[i].role, rows[row].gone) != 0)
      ev->crew[n++] = ev->crew[i];
  }
  ck_assert_int_eq(n, ev->n_crew - 1);
  ev->n_crew = n;
  return ev;
}

static const struct pw_warning *said(const struct pw_plan *plan, const char *code)
{
  for (int i = 0; i < plan->tasks.n_warnings; i++)
    if (strcmp(plan->tasks.warnings[i].code, code) == 0)
      return &plan->tasks.warnings[i];
  return NULL;
}

static int n_findings(const char *text, struct pw_ctx *ctx)
{
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text("plan.json", text, strlen(text), &n, ctx), PW_OK);
  return n;
}

START_TEST(what_tires_is_said)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(tiring(_i, ctx), true, PW_EFFORT_QUICK, ctx);
  const struct pw_warning *w = said(plan, rows[_i].code);
  ck_assert_msg(w != NULL, "%s is not said", rows[_i].code);
  ck_assert_msg(strncmp(w->text, rows[_i].of, strlen(rows[_i].of)) == 0, "%s", w->text);
  for (int p = 0; p < plan->tasks.n_people; p++)
    if (strcmp(plan->tasks.people[p].name, rows[_i].of) == 0)
      ck_assert(plan->tasks.people[p].caution && strstr(plan->tasks.people[p].caution, w->text));
  const char *text;
  size_t n;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  ck_assert_msg(n_findings(text, ctx) == 0, "%s", ctx->n_diags ? ctx->diags[ctx->n_diags - 1].text : "");
  /* the same plan, silent */
  char *silent = strdup(text), code[40];
  snprintf(code, sizeof code, "\"code\": \"%s\"", rows[_i].code);
  for (char *at; (at = strstr(silent, code)) != NULL;)
    at[strlen("\"code\": \"")] = 'x';
  struct pw_ctx *other = pw_test_ctx();
  ck_assert_int_ge(n_findings(silent, other), 1);
  bool is_found = false;
  for (int i = 0; i < other->n_diags; i++)
    is_found = is_found || (strcmp(other->diags[i].code, "J18") == 0 && strstr(other->diags[i].text, rows[_i].code));
  ck_assert(is_found);
  free(silent);
  pw_test_ctx_free(other);
  pw_test_ctx_free(ctx);
}
END_TEST

/** A warning about somebody else does not do. */
START_TEST(of_the_right_person)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(tiring(0, ctx), true, PW_EFFORT_QUICK, ctx);
  const char *text;
  size_t n;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  char *other = strdup(text), *at = strstr(other, "\"text\": \"pitmaster (");
  ck_assert_ptr_nonnull(at);
  memcpy(at + strlen("\"text\": \""), "pitmistres", 9);
  ck_assert_int_ge(n_findings(other, ctx), 1);
  free(other);
  pw_test_ctx_free(ctx);
}
END_TEST

/** The examples and the starter hold: nobody is planned too long. */
static const char *const examples[] = {"tests/data/events/family-party.yaml", "events/garden-lunch.yaml",
                                       "events/sunday-lunch.yaml", "tests/data/events/lakeside-wedding.yaml",
                                       "templates/starter.yaml"};

START_TEST(examples_let_people_sleep)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(examples[_i], ctx), true, PW_EFFORT_QUICK, ctx);
  for (int p = 0; p < plan->tasks.n_people; p++)
    ck_assert_msg(plan->tasks.people[p].caution == NULL, "%s", plan->tasks.people[p].caution);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_rest");
  TCase *t = tcase_create("plan_rest");
  tcase_set_timeout(t, 120);
  tcase_add_loop_test(t, what_tires_is_said, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_test(t, of_the_right_person);
  tcase_add_loop_test(t, examples_let_people_sleep, 0, (int)(sizeof examples / sizeof *examples));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
