/* Cooked meat of a guest, all meats of a menu together, beside what is usual: worked out by hand, and warned of outside alone. */
#include "job.h"

#include "plan/demand/meat.h"
#include "plan/stages.h"

static struct job j;
static struct pw_ctx *ctx;
static struct pw_demand demand;

static double kg_with(double least_kg, double most_kg, int *n_warnings)
{
  job_make(&j);
  ctx = pw_test_ctx();
  for (int i = 0; i < PW_STYLE__COUNT; i++) {
    j.ev.styles[i].meat_least_kg = least_kg;
    j.ev.styles[i].meat_most_kg = most_kg;
  }
  ck_assert_int_eq(pw_demand_make(&demand, &j.ev, ctx), PW_OK);
  *n_warnings = 0;
  for (int i = 0; i < ctx->n_diags; i++)
    *n_warnings += strcmp(ctx->diags[i].code, "meat-per-guest") == 0;
  double kg = pw_meat_per_guest_kg(&j.ev, &demand, JOB_DINNER);
  pw_test_ctx_free(ctx);
  return kg;
}

/* Take times portion of each meat; a counted one by what is eaten of its piece; sides are none. */
START_TEST(adds_up)
{
  int n = 0;
  double want = 0, kg = kg_with(0, 0, &n);
  const struct pw_service *s = &j.ev.services[JOB_DINNER];
  for (int k = 0; k < s->n_menu; k++) {
    const struct pw_dish *d = &j.ev.dishes[s->menu[k].dish];
    if (d->cut == PW_NONE)
      continue;
    const struct pw_cut *c = &j.ev.cuts[d->cut];
    double unit_kg = c->piece_kg * c->trim_frac * c->cook_frac * d->carve_frac / c->units_per_piece;
    want += s->menu[k].take_frac * (d->is_by_count ? s->menu[k].portion_units * unit_kg : s->menu[k].portion_kg);
  }
  ck_assert(want > 0.05);
  PW_NEAR("kg a guest", kg, want, 1e-9, 0);
  ck_assert_int_eq(n, 0); /* nothing usual is told */
}
END_TEST

/* Each edge of the range; a service is warned of once. */
START_TEST(warns_outside)
{
  int n = 0;
  double kg = kg_with(0, 0, &n);
  kg_with(0, kg + 1, &n);
  int at_lunch_and_dinner = n; /* 0: nothing is above, nothing below 0 */
  ck_assert_int_eq(at_lunch_and_dinner, 0);
  kg_with(kg + 1, kg + 2, &n);
  ck_assert_int_eq(n, j.ev.n_services);
  kg_with(0, 1e-6, &n);
  ck_assert_int_eq(n, j.ev.n_services);
  kg_with(kg * 0.999, kg * 1.001, &n);
  ck_assert_int_lt(n, j.ev.n_services); /* the dinner is within */
}
END_TEST

/* Bones are not eaten; who eats no meat has none. */
START_TEST(bones_and_no_meat)
{
  int n = 0;
  double whole = kg_with(0, 0, &n), of_links = 0;
  const struct pw_service *s = &j.ev.services[JOB_DINNER];
  ctx = pw_test_ctx();
  for (int k = 0; k < s->n_menu; k++)
    if (j.ev.dishes[s->menu[k].dish].is_by_count && j.ev.dishes[s->menu[k].dish].cut != PW_NONE) {
      struct pw_dish *d = &j.ev.dishes[s->menu[k].dish];
      const struct pw_cut *c = &j.ev.cuts[d->cut];
      of_links += s->menu[k].take_frac * s->menu[k].portion_units * c->piece_kg * c->trim_frac * c->cook_frac *
                  d->carve_frac / c->units_per_piece;
      d->bone_frac = 0.25;
    }
  ck_assert_int_eq(pw_demand_make(&demand, &j.ev, ctx), PW_OK);
  PW_NEAR("without bones", pw_meat_per_guest_kg(&j.ev, &demand, JOB_DINNER), whole - 0.25 * of_links, 1e-9, 0);
  for (int g = 0; g < j.ev.n_classes; g++)
    j.ev.classes[g].eats_meat = false;
  ck_assert(pw_meat_per_guest_kg(&j.ev, &demand, JOB_DINNER) <= 0);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("meat");
  TCase *t = tcase_create("all");
  tcase_add_test(t, adds_up);
  tcase_add_test(t, warns_outside);
  tcase_add_test(t, bones_and_no_meat);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
