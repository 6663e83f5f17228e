/* Served need per menu line [D1]. */
#include "job.h"

#include "base/stats.h"
#include "plan/demand/demand.h"
#include "plan/stages.h"

static struct job j;
static struct pw_ctx *ctx;
static struct pw_demand demand;

static void set_up(void)
{
  job_make(&j);
  ctx = pw_test_ctx();
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static void make(void) { ck_assert_int_eq(pw_demand_make(&demand, &j.ev, ctx), PW_OK); }

static const struct pw_demand_line *line_of(int service, int dish)
{
  for (int i = 0; i < demand.n_lines; i++)
    if (demand.lines[i].service == service && demand.lines[i].dish == dish)
      return &demand.lines[i];
  ck_abort_msg("no such line");
  return NULL;
}

START_TEST(moments)
{
  make();
  ck_assert_int_eq(demand.n_lines, 6);
  ck_assert_int_eq(demand.covers, 165);
  ck_assert_int_eq(demand.head_count, 125);
  const struct pw_demand_line *d = line_of(JOB_DINNER, JOB_SLICED);
  PW_NEAR("no-meat guests leave meat alone", d->guests_eq, 110, 1e-9, 0);
  PW_NEAR("mean", d->mean_kg, 110 * 0.7 * 0.14, 1e-9, 0); /* n p mu */
  /* n a^2 (p s^2 + p (1 - p) mu^2) with sum of n a^2 = 100 + 20 / 4 */
  PW_NEAR("sd", d->sd_kg, sqrt(105 * (0.7 * 0.035 * 0.035 + 0.7 * 0.3 * 0.14 * 0.14)), 1e-9, 0);
  PW_NEAR("need", d->need_kg, d->mean_kg + 1.959963984540 * d->sd_kg, 1e-6, 0);
  ck_assert_int_eq(d->portions, 84);
  ck_assert_int_eq(d->portions_cover, pw_stats_binomial_quantile(120, 0.7, 0.975));
  PW_NEAR("no-meat guests take the slaw", line_of(JOB_DINNER, JOB_SLAW)->guests_eq, 115, 1e-9, 0);
  j.ev.is_head_count_sum = true;
  make();
  ck_assert_int_eq(demand.head_count, 165);
}
END_TEST

/* Classes with take rates of their own: the moments add up class by class, n p mu and n a^2 (p s^2 + p (1 - p) mu^2); a meat only
 * adults take is wanted as by adults alone, in whole portions too; and the rate everybody has, said of each, changes nothing. */
START_TEST(classes_take_at_their_own_rates)
{
  const double some[] = {0.7, 0.2, 0.7}, none[] = {0.7, 0, 0.7}, same[] = {0.7, 0.7, 0.7}, links[] = {0.5, 0.5, 0.5};
  make();
  const struct pw_demand_line all = *line_of(JOB_DINNER, JOB_SLICED), slaw = *line_of(JOB_DINNER, JOB_SLAW);
  ck_assert_ptr_null(demand.class_laws);
  j.menu[JOB_DINNER][0].take_of_frac = some;
  make();
  const struct pw_demand_line *d = line_of(JOB_DINNER, JOB_SLICED);
  double of_adults = 0.7 * 0.035 * 0.035 + 0.7 * 0.3 * 0.14 * 0.14,
         of_children = 0.2 * 0.035 * 0.035 + 0.2 * 0.8 * 0.14 * 0.14;
  PW_NEAR("mean", d->mean_kg, 100 * 0.7 * 0.14 + 20 * 0.5 * 0.2 * 0.14, 1e-9, 0);
  PW_NEAR("sd", d->sd_kg, sqrt(100 * of_adults + 20 * 0.25 * of_children), 1e-9, 0);
  ck_assert_int_eq(d->portions, 74);
  PW_NEAR("of nobody in particular", demand.laws[d - demand.lines].take_frac, (100 * 0.7 + 20 * 0.2) / 120, 1e-12, 0);
  PW_NEAR("variance", demand.cov[(d - demand.lines) * (demand.n_lines + 1)], d->sd_kg * d->sd_kg, 1e-9, 0);
  PW_NEAR("other dishes stay", line_of(JOB_DINNER, JOB_SLAW)->need_kg, slaw.need_kg, 1e-9, 0);
  j.menu[JOB_DINNER][0].take_of_frac = none;
  make();
  const struct pw_demand_line adults = *line_of(JOB_DINNER, JOB_SLICED);
  ck_assert_int_eq(adults.portions_cover, pw_stats_binomial_quantile(100, 0.7, 0.975));
  j.menu[JOB_DINNER][0].take_of_frac = NULL;
  j.guests[JOB_DINNER][JOB_CHILDREN] = 0;
  make();
  PW_NEAR("adults alone", adults.need_kg, line_of(JOB_DINNER, JOB_SLICED)->need_kg, 1e-9, 0);
  j.guests[JOB_DINNER][JOB_CHILDREN] = 20;
  j.menu[JOB_DINNER][0].take_of_frac = same;
  j.menu[JOB_DINNER][1].take_of_frac = links;
  make();
  d = line_of(JOB_DINNER, JOB_SLICED);
  PW_NEAR("need", d->need_kg, all.need_kg, 1e-9, 0);
  ck_assert_int_eq(d->portions, all.portions);
  ck_assert_int_eq(d->portions_cover, all.portions_cover);
}
END_TEST

/* By count: the binomial quantile itself.  Rows: exact rational arithmetic, equal to R 4.2.2 qbinom. */
static const struct {
  int n;
  double p, cover;
  int units;
} count_rows[] = {
    {100, 0.9, 0.9, 94}, {150, 0.85, 0.95, 134}, {50, 0.9, 0.8, 47}, {500, 0.6, 0.99, 325}, {1000, 0.3, 0.95, 324}};

START_TEST(count_is_exact)
{
  j.guests[JOB_DINNER][JOB_ADULTS] = count_rows[_i].n;
  j.guests[JOB_DINNER][JOB_CHILDREN] = 0;
  j.menu[JOB_DINNER][1].take_frac = count_rows[_i].p;
  j.ev.terms.cover_frac = count_rows[_i].cover;
  make();
  const struct pw_demand_line *d = line_of(JOB_DINNER, JOB_LINK);
  ck_assert_double_eq(d->need_units, count_rows[_i].units);
  ck_assert_int_eq(d->portions_cover, count_rows[_i].units);
  PW_NEAR("mean", d->mean_units, count_rows[_i].n * count_rows[_i].p, 1e-9, 0);
  ck_assert_double_eq(d->need_kg, 0);
  j.menu[JOB_DINNER][1].portion_units = 2;
  make();
  ck_assert_double_eq(line_of(JOB_DINNER, JOB_LINK)->need_units, 2 * count_rows[_i].units);
}
END_TEST

/* A side without a spread: exact takers x portion x (1 + reserve). */
START_TEST(side)
{
  j.guests[JOB_DINNER][JOB_CHILDREN] = 0;
  make();
  const struct pw_demand_line *d = line_of(JOB_DINNER, JOB_BEANS);
  PW_NEAR("beans", d->need_kg, pw_stats_binomial_quantile(105, 0.6, 0.975) * 0.13 * 1.1, 1e-9, 0);
}
END_TEST

/* Three guests who take it with 0.02, cover 0.95: nobody takes it with 0.94119, so one portion is needed; the
 * normal form alone would say 0.064 kg. */
START_TEST(small_party)
{
  j.guests[JOB_DINNER][JOB_ADULTS] = 3;
  j.guests[JOB_DINNER][JOB_CHILDREN] = 0;
  j.menu[JOB_DINNER][0].take_frac = 0.02;
  j.menu[JOB_DINNER][0].portion_sd_kg = 0.001;
  j.ev.terms.cover_frac = 0.95;
  make();
  PW_NEAR("one portion", line_of(JOB_DINNER, JOB_SLICED)->need_kg, 0.14, 1e-9, 0);
}
END_TEST

START_TEST(nobody)
{
  for (int c = 0; c < JOB_N_CLASSES; c++)
    j.guests[JOB_LUNCH][c] = 0;
  make();
  const struct pw_demand_line *d = line_of(JOB_LUNCH, JOB_CHOPPED);
  ck_assert_double_eq(d->need_kg, 0);
  ck_assert_int_eq(d->portions_cover, 0);
}
END_TEST

/* One more guest of any class, seeded jobs: no need falls. */
START_TEST(more_guests_never_less)
{
  for (unsigned seed = 1; seed <= 60; seed++) {
    job_shuffle(&j, seed);
    make();
    struct pw_demand before = demand;
    int class = (int)(seed % JOB_N_CLASSES);
    j.guests[JOB_DINNER][class]++;
    j.guests[JOB_LUNCH][class]++;
    make();
    for (int i = 0; i < demand.n_lines; i++) {
      ck_assert_msg(demand.lines[i].need_kg >= before.lines[i].need_kg - 1e-12, "seed %u line %d", seed, i);
      ck_assert_msg(demand.lines[i].need_units >= before.lines[i].need_units, "seed %u line %d", seed, i);
      ck_assert_msg(demand.lines[i].portions_cover >= before.lines[i].portions_cover, "seed %u line %d", seed, i);
    }
  }
}
END_TEST

/* Portions and spreads x k: every weight x k. */
START_TEST(scaling)
{
  static const double k = 1.7;
  for (unsigned seed = 1; seed <= 30; seed++) {
    job_shuffle(&j, seed);
    make();
    struct pw_demand before = demand;
    for (int s = 0; s < JOB_N_SERVICES; s++)
      for (int m = 0; m < j.services[s].n_menu; m++) {
        j.menu[s][m].portion_kg *= k;
        j.menu[s][m].portion_sd_kg *= k;
      }
    make();
    for (int i = 0; i < demand.n_lines; i++) {
      PW_NEAR("need", demand.lines[i].need_kg, k * before.lines[i].need_kg, 1e-9, 1e-9);
      PW_NEAR("sd", demand.lines[i].sd_kg, k * before.lines[i].sd_kg, 1e-9, 1e-9);
    }
  }
}
END_TEST

/* The stated cover holds against dice: 4000 evenings of 110 guests. */
START_TEST(cover_holds)
{
  j.ev.terms.cover_frac = 0.95;
  make();
  const struct pw_demand_line *d = line_of(JOB_DINNER, JOB_SLICED);
  unsigned long long r = 20270612;
  int enough = 0;
  enum { EVENINGS = 4000 };
  for (int e = 0; e < EVENINGS; e++) {
    double eaten = 0;
    for (int g = 0; g < 120; g++) {
      double u = (double)(job_random(&r) >> 11) / 9007199254740992.0,
             v = (double)(job_random(&r) >> 11) / 9007199254740992.0;
      if (u < 0.7) /* portion: mean mu, spread sigma, uniform (its shape does not matter to the sum) */
        eaten += (g < 100 ? 1 : 0.5) * (0.14 + 0.035 * sqrt(12) * (v - 0.5));
    }
    enough += eaten <= d->need_kg;
  }
  PW_NEAR("share of evenings", (double)enough / EVENINGS, 0.95, 0.0104, 0); /* 3 standard errors */
}
END_TEST

START_TEST(out_of_memory)
{
  make();
  int failures = 0;
  for (long k = 1; k < 200; k++) {
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_demand_make(&demand, &j.ev, ctx);
    pw_arena_fail_at(ctx->arena, 0);
    if (!status)
      break;
    ck_assert_int_eq(status, PW_ERR_MEMORY);
    ck_assert_ptr_null(demand.lines);
    failures++;
  }
  ck_assert_int_gt(failures, 10);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("demand");
  TCase *t = tcase_create("demand");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, moments);
  tcase_add_test(t, classes_take_at_their_own_rates);
  tcase_add_loop_test(t, count_is_exact, 0, (int)(sizeof count_rows / sizeof *count_rows));
  tcase_add_test(t, side);
  tcase_add_test(t, small_party);
  tcase_add_test(t, nobody);
  tcase_add_test(t, more_guests_never_less);
  tcase_add_test(t, scaling);
  tcase_add_test(t, cover_holds);
  tcase_add_test(t, out_of_memory);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
