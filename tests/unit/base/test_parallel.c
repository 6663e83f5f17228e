/* test_parallel.c - every job is done once, whatever the number of processors; a job beside the caller is done when it is waited for. */
#include "harness.h"

#include "base/deadline.h"
#include "base/parallel.h"

enum { MOST = 1000 };
static int g_done[MOST];

static void job(void *user, int i) { g_done[i] += *(const int *)user; }

static const int counts[] = {0, 1, 2, 7, MOST};
START_TEST(each_once)
{
  int n = counts[_i], by = 3;
  for (int i = 0; i < MOST; i++)
    g_done[i] = 0;
  pw_parallel(n, job, &by);
  for (int i = 0; i < MOST; i++)
    ck_assert_int_eq(g_done[i], i < n ? 3 : 0);
}
END_TEST

static void beside_job(void *user) { *(int *)user += 2; }

START_TEST(a_job_beside_is_done_at_its_end)
{
  struct pw_beside beside;
  int own = 1, n = 0;
  pw_beside_begin(&beside, beside_job, &own);
  pw_parallel(counts[4], job, &n); /* the caller goes on, with others */
  pw_beside_end(&beside);
  ck_assert_int_eq(own, 3);
}
END_TEST

static atomic_bool g_stop;
static void stopped_job(void *user) { *(bool *)user = pw_deadline_is_stopped(); }

START_TEST(a_job_beside_is_stopped_with_the_caller)
{
  bool was_stopped = false;
  struct pw_beside beside;
  atomic_store(&g_stop, true);
  pw_deadline_obey(&g_stop);
  pw_beside_begin(&beside, stopped_job, &was_stopped);
  pw_beside_end(&beside);
  pw_deadline_obey(NULL);
  ck_assert(was_stopped);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("parallel");
  TCase *t = tcase_create("all");
  tcase_add_loop_test(t, each_once, 0, (int)(sizeof counts / sizeof counts[0]));
  tcase_add_test(t, a_job_beside_is_done_at_its_end);
  tcase_add_test(t, a_job_beside_is_stopped_with_the_caller);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
