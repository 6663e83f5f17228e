/* test_parallel.c - every job is done once, whatever the number of processors. */
#include "harness.h"

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

static Suite *suite(void)
{
  Suite *s = suite_create("parallel");
  TCase *t = tcase_create("all");
  tcase_add_loop_test(t, each_once, 0, (int)(sizeof counts / sizeof counts[0]));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
