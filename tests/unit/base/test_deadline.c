/* test_deadline.c - safety nets in seconds: no deadline never ends and has no limit, one that is past has the least there is. */
#include "harness.h"

#include "base/deadline.h"

START_TEST(deadlines)
{
  ck_assert(pw_deadline_in(0) == 0 && pw_deadline_in(-1) == 0);
  ck_assert(!pw_deadline_is_over(0) && pw_deadline_left(0) == 0 && pw_deadline_left(-1) == 0);
  double before = pw_now_s(), far = pw_deadline_in(1000), after = pw_now_s();
  ck_assert(before > 0 && far >= before + 1000 && far <= after + 1000);
  ck_assert(!pw_deadline_is_over(far));
  ck_assert(pw_deadline_left(far) <= 1000 && pw_deadline_left(far) > 0.01);
  ck_assert(pw_deadline_left(0.5) == 0.01); /* long past, and no "none" */
  double past = before - 1;
  ck_assert(past <= 0 || (pw_deadline_is_over(past) && pw_deadline_left(past) == 0.01));
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("deadline");
  TCase *t = tcase_create("deadline");
  tcase_add_test(t, deadlines);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
