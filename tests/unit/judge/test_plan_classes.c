/* test_plan_classes.c - the judge on classes of guests that take a dish each at a rate of its own [J12]: the plan passes, and each
 * number that is told of a class, a little more or less, is found.  No outside values: identities of sums. */
#include "kept_plan.h"
#include "planned.h"

#include "judge/plan_check.h"
#include "write/plan_json.h"

#include <stdlib.h>
#include <string.h>

static const char event_text[] =
    "event: {name: Classes, date: 2027-06-12}\n"
    "services:\n"
    "  - {time: \"17:30\", guests: {adults: 50, children: 20, no-meat: 4}, menu: {use: chicken-and-pork, also: [{dish: "
    "slaw-vinegar, take: 60 %, take_of: {children: 10 %}}, {dish: chicken-quarter, take: 80 %, take_of: {children: 95 "
    "%}}]}}\n";

static void setup(void)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = NULL;
  ck_assert_int_eq(pw_event_read_spare(&ev, "classes.yaml", event_text, sizeof event_text - 1, "templates",
                                       "templates/starter-house.yaml", ctx),
                   PW_OK);
  const struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
  kept_plan_open(plan, ctx);
}

/* Every number behind a colon of every by_class block, by 2 % (of nothing: 0.1 more). */
START_TEST(every_number_of_a_class_counts)
{
  int n_blocks = 0, n_numbers = 0;
  size_t length = strlen(plan_text);
  for (const char *block = plan_text; (block = strstr(block, "\"by_class\":")) != NULL; block++, n_blocks++) {
    const char *end = strstr(block, "}}");
    ck_assert_ptr_nonnull(end);
    for (const char *p = block + 11; p < end; p++) {
      if (p[-1] != ' ' || p[-2] != ':' || (*p != '-' && (*p < '0' || *p > '9')))
        continue;
      char *after;
      double value = strtod(p, &after);
      char *text = malloc(length + 40);
      if (!text)
        abort();
      snprintf(text, length + 40, "%.*s%.12g%s", (int)(p - plan_text), plan_text, value > 0 ? value * 1.02 : 0.1,
               after);
      struct pw_ctx *ctx = pw_test_ctx();
      ck_assert_msg(judged(text, ctx) > 0, "%.30s of %.60s: %g may be another", p - 20, block, value);
      pw_test_ctx_free(ctx);
      free(text);
      n_numbers++;
    }
  }
  ck_assert_int_eq(n_blocks, 9);
  ck_assert_int_ge(n_numbers, 9 * 3 * 4);
}
END_TEST

/* A class left out, or another in its place. */
START_TEST(classes_are_those_of_the_job)
{
  static const char *const rows[][2] = {{"\"by_class\": {\"adults\":", "\"by_class\": {\"grown\":"},
                                        {"\"by_class\": {", "\"by_class\": {\"dogs\":{},"}};
  const char *at = strstr(plan_text, rows[_i][0]);
  ck_assert_ptr_nonnull(at);
  size_t length = strlen(plan_text) + 40;
  char *text = malloc(length);
  if (!text)
    abort();
  snprintf(text, length, "%.*s%s%s", (int)(at - plan_text), plan_text, rows[_i][1], at + strlen(rows[_i][0]));
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert_int_gt(judged(text, ctx), 0);
  pw_test_ctx_free(ctx);
  free(text);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_classes");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 60);
  tcase_add_unchecked_fixture(t, setup, kept_plan_close);
  tcase_add_test(t, the_plan_passes);
  tcase_add_test(t, every_number_of_a_class_counts);
  tcase_add_loop_test(t, classes_are_those_of_the_job, 0, 2);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
