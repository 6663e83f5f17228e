/* Binomial and normal distribution against exact values, sums of groups against brute force. */
#include "harness.h"

#include "base/stats.h"

/* Quantiles: exact rational arithmetic (integers of any length), equal to R 4.2.2 qbinom. */
static const struct {
  int n;
  double p;
  int k[5]; /* at 0.50, 0.80, 0.90, 0.95, 0.99 */
} quantile_rows[] = {
    {20, 0.5, {10, 12, 13, 14, 15}},        {50, 0.9, {45, 47, 48, 48, 49}},
    {80, 0.7, {56, 59, 61, 63, 65}},        {100, 0.5, {50, 54, 56, 58, 62}},
    {100, 0.9, {90, 93, 94, 95, 96}},       {150, 0.85, {128, 131, 133, 134, 137}},
    {200, 0.8, {160, 165, 167, 169, 173}},  {250, 0.95, {238, 240, 242, 243, 245}},
    {300, 0.88, {264, 269, 271, 273, 276}}, {500, 0.6, {300, 309, 314, 318, 325}},
    {1000, 0.3, {300, 312, 319, 324, 334}},
};

START_TEST(binomial_quantile)
{
  static const double at[] = {0.5, 0.8, 0.9, 0.95, 0.99};
  for (int i = 0; i < 5; i++) {
    int k = pw_stats_binomial_quantile(quantile_rows[_i].n, quantile_rows[_i].p, at[i]);
    ck_assert_msg(k == quantile_rows[_i].k[i], "n %d p %g at %g: got %d, want %d", quantile_rows[_i].n,
                  quantile_rows[_i].p, at[i], k, quantile_rows[_i].k[i]);
  }
}
END_TEST

/* CDF: exact rational arithmetic to ten digits; standard tables print 0.9423 and 0.9793 for n 20, p 0.5. */
static const struct {
  const char *name;
  int n, k;
  double p, cdf;
} cdf_rows[] = {
    {"100 0.9 90", 100, 90, 0.9, 0.5487098346},
    {"100 0.9 93", 100, 93, 0.9, 0.8828443846},
    {"100 0.9 94", 100, 94, 0.9, 0.9424231135},
    {"100 0.9 95", 100, 95, 0.9, 0.9762889173},
    {"100 0.9 96", 100, 96, 0.9, 0.9921635129},
    {"150 0.85 128", 150, 128, 0.85, 0.5804112409},
    {"150 0.85 131", 150, 131, 0.85, 0.8188062784},
    {"150 0.85 133", 150, 133, 0.85, 0.9193074412},
    {"150 0.85 134", 150, 134, 0.85, 0.9506673784},
    {"150 0.85 137", 150, 137, 0.85, 0.9925149168},
    {"250 0.95 238", 250, 238, 0.95, 0.5984415253},
    {"250 0.95 243", 250, 243, 0.95, 0.9686150684},
    {"20 0.5 13", 20, 13, 0.5, 0.9423408508},
    {"20 0.5 14", 20, 14, 0.5, 0.9793052673},
    {"2 0.5 0", 2, 0, 0.5, 0.25},
    {"2 0.5 1", 2, 1, 0.5, 0.75},
    {"below", 7, -1, 0.5, 0},
    {"all", 7, 7, 0.5, 1},
    {"never", 7, 0, 0, 1},
    {"always", 7, 6, 1, 0},
};

START_TEST(binomial_cdf)
{
  PW_NEAR(cdf_rows[_i].name, pw_stats_binomial_cdf(cdf_rows[_i].k, cdf_rows[_i].n, cdf_rows[_i].p), cdf_rows[_i].cdf,
          6e-11, 0);
}
END_TEST

/* Ties, ends, and a crowd whose lower tail underflows. */
START_TEST(binomial_edges)
{
  ck_assert_int_eq(pw_stats_binomial_quantile(1, 0.5, 0.5), 0);
  ck_assert_int_eq(pw_stats_binomial_quantile(3, 0.5, 0.5), 1);
  ck_assert_int_eq(pw_stats_binomial_quantile(3, 0.5, 0.51), 2);
  ck_assert_int_eq(pw_stats_binomial_quantile(9, 0.3, 0), 0);
  ck_assert_int_eq(pw_stats_binomial_quantile(9, 0.3, 1), 9);
  ck_assert_int_eq(pw_stats_binomial_quantile(0, 0.3, 0.9), 0);
  ck_assert_int_eq(pw_stats_binomial_quantile(9, 1, 0.5), 9);
  ck_assert_int_eq(pw_stats_binomial_quantile(9, 0, 0.999), 0);
  int k = pw_stats_binomial_quantile(200000, 0.5, 0.975); /* normal: 100000 + 1.96 x 223.6 = 100438.3 */
  ck_assert_int_ge(k, 100437);
  ck_assert_int_le(k, 100440);
}
END_TEST

START_TEST(binomial_quantile_is_inverse)
{
  for (int n = 1; n <= 60; n += 7)
    for (double p = 0.05; p < 1; p += 0.15)
      for (double prob = 0.02; prob < 1; prob += 0.06) {
        int k = pw_stats_binomial_quantile(n, p, prob);
        ck_assert(pw_stats_binomial_cdf(k, n, p) >= prob - 1e-11);
        ck_assert(pw_stats_binomial_cdf(k - 1, n, p) < prob);
      }
}
END_TEST

/* Normal quantiles: 50-digit series and bisection, equal to R 4.2.2 qnorm. */
static const struct {
  double prob, z;
} normal_rows[] = {
    {0.80, 0.841621233573},   {0.85, 1.036433389494},  {0.90, 1.281551565545},
    {0.95, 1.644853626951},   {0.975, 1.959963984540}, {0.99, 2.326347874041},
    {0.995, 2.575829303549},  {0.999, 3.090232306168}, {0.5, 0},
    {0.025, -1.959963984540},
};

START_TEST(normal)
{
  PW_NEAR("quantile", pw_stats_normal_quantile(normal_rows[_i].prob), normal_rows[_i].z, 1e-11, 0);
  ck_assert(pw_stats_normal_quantile(0) == -HUGE_VAL && pw_stats_normal_quantile(1) == HUGE_VAL);
  PW_NEAR("cdf", pw_stats_normal_cdf(normal_rows[_i].z), normal_rows[_i].prob, 1e-12, 0);
}
END_TEST

/* Newsvendor: under-stock 9, over-stock 1 -> critical ratio 0.9 -> n 100, p 0.9: order 94; and 94 is what least
 * expected cost says, which the exact distribution shows. */
START_TEST(newsvendor)
{
  ck_assert_int_eq(pw_stats_binomial_quantile(100, 0.9, 9.0 / (9 + 1)), 94);
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_stats_group group = {100, 0.9, 1, 0};
  struct pw_stats_sum sum;
  ck_assert_int_eq(pw_stats_sum_make(&sum, &group, 1, ctx->arena), PW_OK);
  int best = -1;
  double least = INFINITY;
  for (int q = 0; q <= 100; q++) {
    double left = pw_stats_sum_left(&sum, q), short_of = left + 90 - q; /* E(D - q)+ = E(q - D)+ + E D - q */
    if (left + 9 * short_of < least - 1e-12) {
      least = left + 9 * short_of;
      best = q;
    }
  }
  ck_assert_int_eq(best, 94);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(normal_plus)
{
  PW_NEAR("at 0", pw_stats_normal_plus(0, 1), 0.398942280401, 1e-12, 0); /* 1 / sqrt(2 pi) */
  PW_NEAR("sure", pw_stats_normal_plus(3, 0), 3, 0, 0);
  PW_NEAR("sure not", pw_stats_normal_plus(-3, 0), 0, 0, 0);
  PW_NEAR("mirror", pw_stats_normal_plus(1.3, 2) - pw_stats_normal_plus(-1.3, 2), 1.3, 1e-12, 0);
}
END_TEST

/* All outcomes of small groups, one by one. */
static double brute_cdf(const struct pw_stats_group *g, int n_groups, double x)
{
  if (n_groups == 0)
    return x >= -1e-9;
  double sum = 0, choose = 1;
  for (int k = 0; k <= g->n; k++) {
    double choose_again = 1;
    for (int a = 0; a <= k; a++) {
      sum += choose * pow(g->p, k) * pow(1 - g->p, g->n - k) * choose_again * pow(g->again, a) *
             pow(1 - g->again, k - a) * brute_cdf(g + 1, n_groups - 1, x - (k + a) * g->weight);
      choose_again = choose_again * (k - a) / (a + 1);
    }
    choose = choose * (g->n - k) / (k + 1);
  }
  return sum;
}

static const struct {
  const char *name;
  int n_groups;
  struct pw_stats_group groups[3];
  double step;
} sum_rows[] = {
    {"one class", 1, {{12, 0.35, 1, 0}}, 1},
    {"children at half", 2, {{9, 0.6, 2, 0}, {7, 0.6, 1, 0}}, 1},
    {"three appetites", 3, {{6, 0.7, 1, 0}, {5, 0.7, 0.5, 0}, {4, 0.7, 0.35, 0}}, 0.05},
    {"two dishes", 2, {{8, 0.25, 3, 0}, {8, 0.5, 2, 0}}, 1},
    {"second helpings", 2, {{5, 0.6, 2, 0.3}, {4, 0.5, 1, 0.25}}, 1},
    {"always again", 1, {{6, 0.5, 1, 1}}, 1},
    {"always and never", 3, {{3, 1, 1, 0}, {4, 0, 1, 0}, {5, 0.5, 1, 0}}, 1},
};

START_TEST(sum_of_groups)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_stats_sum sum;
  const char *name = sum_rows[_i].name;
  ck_assert_int_eq(pw_stats_sum_make(&sum, sum_rows[_i].groups, sum_rows[_i].n_groups, ctx->arena), PW_OK);
  PW_NEAR(name, sum.step, sum_rows[_i].step, 1e-12, 0);
  double most = 0;
  for (int g = 0; g < sum_rows[_i].n_groups; g++)
    most += 2 * sum_rows[_i].groups[g].n * sum_rows[_i].groups[g].weight;
  for (double x = 0; x <= most; x += sum.step) {
    double cdf = brute_cdf(sum_rows[_i].groups, sum_rows[_i].n_groups, x);
    PW_NEAR(name, 1 - pw_stats_sum_above(&sum, x), cdf, 1e-12, 0);
    if (cdf > 1e-6 && cdf < 1 - 1e-9)
      ck_assert_msg(pw_stats_sum_quantile(&sum, cdf - 1e-9) <= x + 1e-9, "%s: quantile above %g", name, x);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* Nobody, or nothing of each: nothing, in steps of one. */
START_TEST(sum_of_nothing)
{
  static const struct pw_stats_group nothing[] = {{0, 0.5, 3, 0}, {9, 0.5, 0, 0}};
  for (int n = 0; n <= 2; n++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_stats_sum sum;
    ck_assert_int_eq(pw_stats_sum_make(&sum, nothing, n, ctx->arena), PW_OK);
    ck_assert(sum.step == 1 && sum.n_points == 1 && sum.prob[0] == 1);
    ck_assert(pw_stats_sum_quantile(&sum, 0.99) == 0 && pw_stats_sum_quantile(&sum, 0) == 0 &&
              pw_stats_sum_quantile(&sum, 2) == 0);
    ck_assert(pw_stats_sum_above(&sum, 0) == 0 && pw_stats_sum_left(&sum, 5) == 5);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

/* A weight off every lattice is rounded up, never down. */
START_TEST(sum_off_lattice)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_stats_group groups[] = {{40, 0.5, 1, 0}, {40, 0.5, sqrt(0.5), 0}};
  struct pw_stats_sum sum;
  ck_assert_int_eq(pw_stats_sum_make(&sum, groups, 2, ctx->arena), PW_OK);
  double mean = 0;
  for (long i = 0; i < sum.n_points; i++)
    mean += (double)(sum.first + i) * sum.step * sum.prob[i];
  double truth = 20 + 20 * sqrt(0.5);
  ck_assert(mean >= truth && mean < truth + 20.0 / 400 + 1e-9);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(sum_out_of_memory)
{
  struct pw_stats_group groups[] = {{9, 0.5, 1, 0}, {9, 1, 0.5, 0}};
  int failures = 0;
  for (long k = 1; k <= 20; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_stats_sum sum;
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_stats_sum_make(&sum, groups, 2, ctx->arena);
    if (status) {
      ck_assert_int_eq(status, PW_ERR_MEMORY);
      ck_assert_ptr_null(sum.prob);
      failures++;
    }
    pw_test_ctx_free(ctx);
  }
  ck_assert_int_eq(failures, 5);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("stats");
  TCase *t = tcase_create("stats");
  tcase_add_loop_test(t, binomial_quantile, 0, (int)(sizeof quantile_rows / sizeof *quantile_rows));
  tcase_add_loop_test(t, binomial_cdf, 0, (int)(sizeof cdf_rows / sizeof *cdf_rows));
  tcase_add_test(t, binomial_edges);
  tcase_add_test(t, binomial_quantile_is_inverse);
  tcase_add_loop_test(t, normal, 0, (int)(sizeof normal_rows / sizeof *normal_rows));
  tcase_add_test(t, newsvendor);
  tcase_add_test(t, normal_plus);
  tcase_add_loop_test(t, sum_of_groups, 0, (int)(sizeof sum_rows / sizeof *sum_rows));
  tcase_add_test(t, sum_of_nothing);
  tcase_add_test(t, sum_off_lattice);
  tcase_add_test(t, sum_out_of_memory);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
