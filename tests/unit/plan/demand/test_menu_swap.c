/* Another menu at one service: which lines it has, that covers go with their lines, that the rest of the event is shared, and that
 * meats which share what a guest eats grow where one of them is left out. */
#include "job.h"

#include "plan/demand/meat.h"
#include "plan/demand/menu_swap.h"
#include "plan/stages.h"

static struct job j;
static struct pw_ctx *ctx;
static struct pw_choice choices[JOB_N_SERVICES];

static void set_up(void)
{
  job_make(&j);
  ctx = pw_test_ctx();
  memset(choices, 0, sizeof choices);
  j.ev.choices = choices;
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

START_TEST(in_its_place_or_behind)
{
  static double covers[] = {0.9, 0.8, 0.7, 0.6, 0.55, 0.52};
  const struct pw_service *was = &j.ev.services[JOB_DINNER];
  const int n = was->n_menu, lunch = 1 - JOB_DINNER;
  ck_assert_int_le(n, 5);
  choices[JOB_DINNER].cover_frac = covers;
  const struct pw_menu_line line = {.dish = JOB_CHOPPED, .take_frac = 0.3, .portion_kg = 0.1};
  const struct pw_menu_option instead = {line, 1}, besides = {line, PW_NONE};
  const struct pw_event *a = NULL, *b = NULL;
  ck_assert_int_eq(pw_menu_with(&a, &j.ev, JOB_DINNER, &instead, ctx), PW_OK);
  ck_assert_int_eq(pw_menu_with(&b, &j.ev, JOB_DINNER, &besides, ctx), PW_OK);
  ck_assert_int_eq(a->services[JOB_DINNER].n_menu, n);
  ck_assert_int_eq(b->services[JOB_DINNER].n_menu, n + 1);
  for (int k = 0; k < n; k++) {
    ck_assert_int_eq(a->services[JOB_DINNER].menu[k].dish, k == 1 ? JOB_CHOPPED : was->menu[k].dish);
    ck_assert_int_eq(b->services[JOB_DINNER].menu[k].dish, was->menu[k].dish);
    ck_assert_double_eq_tol(a->choices[JOB_DINNER].cover_frac[k], k == 1 ? 0 : covers[k], 1e-12);
  }
  ck_assert_int_eq(b->services[JOB_DINNER].menu[n].dish, JOB_CHOPPED);
  ck_assert_double_eq_tol(b->choices[JOB_DINNER].cover_frac[n], 0, 1e-12);
  ck_assert_ptr_eq(a->services[lunch].menu, j.ev.services[lunch].menu);
  ck_assert_int_eq(was->n_menu, n); /* the event itself is as it was */
  ck_assert_double_eq_tol(covers[1], 0.8, 1e-12);
}
END_TEST

START_TEST(without)
{
  static double covers[] = {0.9, 0.8, 0.7, 0.6, 0.55, 0.52};
  const struct pw_service *was = &j.ev.services[JOB_DINNER];
  choices[JOB_DINNER].cover_frac = covers;
  for (int line = 0; line < was->n_menu; line++) {
    const struct pw_event *a = NULL;
    ck_assert_int_eq(pw_menu_without(&a, &j.ev, JOB_DINNER, line, ctx), PW_OK);
    ck_assert_int_eq(a->services[JOB_DINNER].n_menu, was->n_menu - 1);
    for (int k = 0; k < was->n_menu - 1; k++) {
      ck_assert_int_eq(a->services[JOB_DINNER].menu[k].dish, was->menu[k + (k >= line)].dish);
      ck_assert_double_eq_tol(a->choices[JOB_DINNER].cover_frac[k], covers[k + (k >= line)], 1e-12);
    }
  }
}
END_TEST

/* The last meat of a menu stays, and so does its last line. */
START_TEST(what_may_lack)
{
  struct pw_service *s = &j.services[JOB_DINNER];
  int n_meats = 0, meat = 0;
  for (int k = 0; k < s->n_menu; k++)
    n_meats += j.ev.dishes[s->menu[k].dish].cut != PW_NONE;
  ck_assert_int_ge(n_meats, 2);
  for (int k = 0; k < s->n_menu; k++)
    ck_assert(pw_menu_may_lack(&j.ev, JOB_DINNER, k));
  for (int k = 0; k < s->n_menu; k++) /* one meat is left: the first */
    if (j.ev.dishes[s->menu[k].dish].cut != PW_NONE && meat++ > 0)
      s->menu[k--] = s->menu[--s->n_menu];
  for (int k = 0; k < s->n_menu; k++)
    ck_assert(pw_menu_may_lack(&j.ev, JOB_DINNER, k) == (j.ev.dishes[s->menu[k].dish].cut == PW_NONE));
  s->n_menu = 1;
  ck_assert(!pw_menu_may_lack(&j.ev, JOB_DINNER, 0));
}
END_TEST

/* Two meats by weight of which everybody takes one or both: what a guest eats in all is the same without one of them. */
START_TEST(the_others_grow)
{
  j.menu[JOB_DINNER][1] =
      (struct pw_menu_line){.dish = JOB_CHOPPED, .take_frac = 0.35, .portion_kg = 0.12, .portion_sd_kg = 0.03};
  choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {0.4, 0.6, 0}, .total_kg = 0.2, .total_sd_kg = 0.05};
  struct pw_demand both, one;
  const struct pw_event *less = NULL;
  ck_assert_int_eq(pw_demand_make(&both, &j.ev, ctx), PW_OK);
  ck_assert_int_eq(pw_menu_without(&less, &j.ev, JOB_DINNER, 1, ctx), PW_OK);
  ck_assert_int_eq(pw_demand_make(&one, less, ctx), PW_OK);
  double was = pw_meat_per_guest_kg(&j.ev, &both, JOB_DINNER), is = pw_meat_per_guest_kg(less, &one, JOB_DINNER);
  int first = 0;
  for (int i = 0; i < both.n_lines; i++)
    if (both.lines[i].service == JOB_DINNER && both.lines[i].dish == j.menu[JOB_DINNER][0].dish)
      first = i;
  PW_NEAR("meat a guest", was, 0.2, 1e-9, 0);
  PW_NEAR("meat a guest without one", is, 0.2, 1e-9, 0);
  ck_assert(both.laws[first].mean < 0.19);
  PW_NEAR("the other takes its place", one.laws[first].mean, 0.2, 1e-9, 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("menu_swap");
  TCase *t = tcase_create("all");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, in_its_place_or_behind);
  tcase_add_test(t, without);
  tcase_add_test(t, what_may_lack);
  tcase_add_test(t, the_others_grow);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
