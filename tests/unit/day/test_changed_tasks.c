/* test_changed_tasks.c - what a mended plan tells as changed [N3]: an act that goes on by the same hand is no news, whatever
 * stretches it is told in. */
#include "harness.h"

#include "day/changes.h"

#include <string.h>

enum { NOW = 900, MOST = 3 };

struct stretch {
  int at_min, minutes, person;
};

static const struct {
  const char *name;
  struct stretch before[MOST], after[MOST]; /* minutes 0: none */
  int n_dropped, n_new;
} rows[] = {
    {"nothing changes", {{1000, 90, 0}}, {{1000, 90, 0}}, 0, 0},
    {"two stretches are joined", {{1000, 40, 0}, {1041, 49, 0}}, {{1000, 90, 0}}, 0, 0},
    {"one is divided", {{1000, 90, 0}}, {{1000, 40, 0}, {1045, 45, 0}}, 0, 0},
    {"the second is somebody else's and is dropped", {{1000, 40, 0}, {1041, 49, 1}}, {{1000, 90, 0}}, 1, 0},
    {"a second one comes", {{1000, 90, 0}}, {{1000, 90, 0}, {1030, 60, 1}}, 0, 1},
    {"the same hand stops early", {{1000, 40, 0}, {1080, 40, 0}}, {{1000, 40, 0}}, 1, 0},
};

static int fill(struct pw_task *tasks, const struct stretch *of)
{
  int n = 0;
  for (int i = 0; i < MOST; i++)
    if (of[i].minutes > 0)
      tasks[n++] = (struct pw_task){.at_min = of[i].at_min,
                                    .minutes = of[i].minutes,
                                    .kind = PW_TASK_SERVE,
                                    .person = of[i].person,
                                    .lot = PW_NONE,
                                    .pit = PW_NONE,
                                    .dish = PW_NONE,
                                    .what = "Serve"};
  return n;
}

START_TEST(an_act_that_goes_on_is_no_news)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_task before[MOST], after[MOST];
  struct pw_day_now day = {.now_min = NOW, .edition = 2, .before = before, .n_before = fill(before, rows[_i].before)};
  struct pw_plan plan = {.day = &day};
  struct pw_changes c;
  plan.tasks.tasks = after;
  plan.tasks.n_tasks = fill(after, rows[_i].after);
  ck_assert_int_eq(pw_changes_make(&c, &plan, ctx), PW_OK);
  int n_new = 0;
  for (int i = 0; i < plan.tasks.n_tasks; i++)
    n_new += c.kind[i] == PW_CHANGE_NEW;
  ck_assert_msg(c.n_dropped == rows[_i].n_dropped && n_new == rows[_i].n_new, "%s: %d dropped, %d new", rows[_i].name,
                c.n_dropped, n_new);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("changed tasks");
  TCase *tc = tcase_create("all");
  tcase_add_loop_test(tc, an_act_that_goes_on_is_no_news, 0, (int)(sizeof rows / sizeof *rows));
  suite_add_tcase(s, tc);
  return s;
}

PW_MAIN(suite)
