/* Suppliers with fees and least orders [P3]: by hand, against enumeration, against one plain integer program. */
#include "job.h"

#include "plan/buy/packs.h"
#include "plan/buy/suppliers.h"
#include "solve/lp.h"

#include <unistd.h>

enum { NEEDS_MAX = 320, OFFERS_MAX = 6 };

static struct pw_ctx *ctx;
static struct pw_suppliers_need needs[NEEDS_MAX];
static struct pw_suppliers_terms terms[PW_SUPPLIERS_MAX];
static double content[NEEDS_MAX][OFFERS_MAX], price[NEEDS_MAX][OFFERS_MAX];
static int supplier[NEEDS_MAX][OFFERS_MAX], packs[NEEDS_MAX][OFFERS_MAX];
static int n_needs, n_suppliers;
static struct pw_suppliers_choice choice;

static void set_up(void)
{
  ctx = pw_test_ctx();
  memset(terms, 0, sizeof terms);
  n_needs = n_suppliers = 0;
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static void need(double amount)
{
  needs[n_needs] =
      (struct pw_suppliers_need){amount, 0, content[n_needs], price[n_needs], supplier[n_needs], packs[n_needs], 0};
  n_needs++;
}

static void offer(int from, double holds, double cents)
{
  struct pw_suppliers_need *n = &needs[n_needs - 1];
  content[n_needs - 1][n->n_offers] = holds;
  price[n_needs - 1][n->n_offers] = cents;
  supplier[n_needs - 1][n->n_offers++] = from;
}

/* Most content of whole packs that fits what is left, by trying every way to set packs aside. */
static double whole_left(int i, const int *bought, int o, double left)
{
  double best = 0;
  if (o == needs[i].n_offers)
    return 0;
  for (int k = 0; k <= bought[o] && k * content[i][o] <= left + 1e-9; k++)
    best = fmax(best, k * content[i][o] + whole_left(i, bought, o + 1, left - k * content[i][o]));
  return best;
}

/* What the packs cost with fees and least orders, worked out from the result alone; every need is met. */
static double cost_of_packs(void)
{
  double goods[PW_SUPPLIERS_MAX] = {0}, cost = 0;
  bool is_used[PW_SUPPLIERS_MAX] = {false};
  for (int i = 0; i < n_needs; i++) {
    double have = 0;
    for (int o = 0; o < needs[i].n_offers; o++) {
      have += packs[i][o] * content[i][o];
      cost += packs[i][o] * price[i][o];
      if (packs[i][o] > 0 && supplier[i][o] != PW_NONE) {
        goods[supplier[i][o]] += packs[i][o] * price[i][o];
        is_used[supplier[i][o]] = true;
      }
    }
    ck_assert(have >= needs[i].amount - 1e-6);
    cost -= needs[i].carry * whole_left(i, packs[i], 0, have - needs[i].amount);
  }
  for (int s = 0; s < n_suppliers; s++) {
    double top_up = is_used[s] ? fmax(0, terms[s].minimum - goods[s]) : 0;
    ck_assert(choice.is_used[s] == is_used[s]);
    PW_NEAR("goods", choice.goods[s], goods[s], 1e-6, 0);
    PW_NEAR("top-up", choice.top_up[s], top_up, 1e-6, 0);
    cost += top_up + (is_used[s] ? terms[s].fee : 0);
  }
  return cost;
}

static void choose(void)
{
  ck_assert_int_eq(pw_suppliers_choose(&choice, needs, n_needs, terms, n_suppliers, ctx), PW_OK);
  PW_NEAR("cost of the packs", choice.cost, cost_of_packs(), 1e-6, 1e-9);
  ck_assert(choice.bound <= choice.cost);
}

/* Meat 10 kg: near 90 a kilogram, far 80; bread 20: near 5 each.  The far yard's fee decides. */
START_TEST(fee_by_hand)
{
  n_suppliers = 2;
  need(10), offer(0, 1, 90), offer(1, 1, 80);
  need(20), offer(0, 1, 5);
  terms[1].fee = 99;
  choose();
  PW_NEAR("worth the fee", choice.cost, 800 + 99 + 100, 1e-9, 0);
  terms[1].fee = 101;
  choose();
  PW_NEAR("not worth it", choice.cost, 900 + 100, 1e-9, 0);
  ck_assert(!choice.is_used[1]);
  terms[1].fee = 0;
  terms[1].minimum = 850;
  choose(); /* far: 800 paid up to 850 and bread 100 = 950, near alone 1000; ten far and one more is 880 */
  PW_NEAR("paid up", choice.cost, 950, 1e-9, 0);
  PW_NEAR("paid up", choice.top_up[1], 50, 1e-9, 0);
  terms[1].minimum = 901;
  choose();
  PW_NEAR("too high", choice.cost, 1000, 1e-9, 0);
}
END_TEST

/* A least order pulls goods over that are a little dearer there: the second need moves to reach it. */
START_TEST(goods_move_to_reach_the_least_order)
{
  n_suppliers = 2;
  need(10), offer(0, 1, 50);
  need(10), offer(0, 1, 42), offer(1, 1, 40);
  terms[0].minimum = 900;
  choose(); /* 500 + 42 x 10 = 920 all from 0; 500 + 400 paid up to 900 is 1300; 8 moved: 836 + 64 + 80 = 980 */
  PW_NEAR("all from one", choice.cost, 920, 1e-6, 0);
  terms[0].minimum = 660;
  choose(); /* four moved: 668 + 240 = 908 against 500 + 160 + 400 */
  PW_NEAR("four moved", choice.cost, 908, 1e-6, 0);
  ck_assert_int_eq(packs[1][0], 4);
}
END_TEST

START_TEST(nothing_to_buy)
{
  n_suppliers = 1;
  terms[0].fee = 500;
  choose();
  PW_NEAR("nothing", choice.cost, 0, 0, 0);
  need(0), offer(0, 1, 10);
  choose();
  PW_NEAR("no need", choice.cost, 0, 0, 0);
}
END_TEST

static void random_case(unsigned long long seed, int most_needs, int most_suppliers, int most_amount, bool has_least)
{
  unsigned long long r = seed * 0x9E3779B97F4A7C15ull + 3;
  n_needs = 0;
  n_suppliers = job_between(&r, 1, most_suppliers);
  double all = 0;
  int count = job_between(&r, 1, most_needs);
  for (int i = 0; i < count; i++) {
    need(job_between(&r, 0, most_amount * 2) / 2.0);
    int n = job_between(&r, 1, 3), unit = job_between(&r, 20, 200);
    for (int o = 0; o < n; o++) {
      double holds = job_between(&r, 1, 6) / 2.0;
      offer(job_between(&r, o ? 0 : -1, n_suppliers - 1), holds, ceil(holds * unit * job_between(&r, 85, 115) / 100));
    }
    all += needs[i].amount * unit;
  }
  for (int s = 0; s < n_suppliers; s++)
    terms[s] = (struct pw_suppliers_terms){job_between(&r, 0, 30) / 100.0 * all / n_suppliers,
                                           has_least ? job_between(&r, 0, 150) / 100.0 * all / n_suppliers : 0};
}

/* Beyond what covers the need, and what reaches a least order, no pack can be a gain. */
static int most_packs(int i, int o)
{
  double spare = needs[i].carry > 0 && supplier[i][o] != PW_NONE ? terms[supplier[i][o]].minimum / price[i][o] : 0;
  return (int)(ceil(needs[i].amount / content[i][o]) + ceil(spare));
}

/* Every combination of packs. */
static double brute(int i, double *goods, double cost)
{
  if (i == n_needs) {
    for (int s = 0; s < n_suppliers; s++)
      if (goods[s] >= 0)
        cost += terms[s].fee + fmax(0, terms[s].minimum - goods[s]);
    return cost;
  }
  double best = INFINITY;
  int count[OFFERS_MAX] = {0}, n = needs[i].n_offers;
  for (;;) {
    double have = 0, here = 0, next[PW_SUPPLIERS_MAX];
    memcpy(next, goods, sizeof next);
    for (int o = 0; o < n; o++) {
      have += count[o] * content[i][o];
      here += count[o] * price[i][o];
      if (count[o] > 0 && supplier[i][o] != PW_NONE)
        next[supplier[i][o]] = fmax(0, next[supplier[i][o]]) + count[o] * price[i][o];
    }
    if (have >= needs[i].amount - 1e-9)
      best = fmin(best,
                  brute(i + 1, next, cost + here - needs[i].carry * whole_left(i, count, 0, have - needs[i].amount)));
    int o = 0;
    while (o < n && count[o] >= most_packs(i, o))
      count[o++] = 0;
    if (o == n)
      return best;
    count[o]++;
  }
}

START_TEST(against_enumeration)
{
  for (unsigned seed = 1; seed <= 250; seed++) {
    random_case(seed, 3, 3, 3, seed % 3 != 0);
    choose();
    double goods[PW_SUPPLIERS_MAX];
    for (int s = 0; s < PW_SUPPLIERS_MAX; s++)
      goods[s] = -1; /* not used */
    double best = brute(0, goods, 0);
    ck_assert_msg(choice.cost >= best - 1e-6 && choice.bound <= best + 1e-6, "seed %u: cost %g bound %g best %g", seed,
                  choice.cost, choice.bound, best);
    if (seed % 3 == 0)
      PW_NEAR("without least orders exact", choice.cost, best, 1e-6, 1e-9);
    ck_assert_msg(choice.cost <= best * (1 + 2e-5) + 1e-6, "seed %u: cost %g best %g", seed, choice.cost, best);
  }
}
END_TEST

/* A pack that is opened is worth nothing later, however much is left in it: 23 by tens at 9.99 or a crate of 40 at 30. */
START_TEST(opened_packs_are_not_carried)
{
  need(23), offer(PW_NONE, 10, 9.99), offer(PW_NONE, 40, 30);
  choose();
  ck_assert_int_eq(packs[0][0], 3);
  needs[0].carry = 0.3;
  choose();
  ck_assert_int_eq(packs[0][0], 3);
  PW_NEAR("nothing whole is left", choice.cost, 29.97, 1e-9, 0);
}
END_TEST

/* Ten at 50 with a least order of 700: fourteen, of which four keep at 40 each, rather than 200 paid for nothing; at 5
 * each too, for a pack that is worth something is better than none; worth nothing, ten. */
START_TEST(whole_packs_by_hand)
{
  n_suppliers = 1;
  need(10), offer(0, 1, 50);
  terms[0].minimum = 700;
  choose();
  ck_assert_int_eq(packs[0][0], 10);
  needs[0].carry = 40;
  choose();
  ck_assert_int_eq(packs[0][0], 14);
  PW_NEAR("four kept", choice.cost, 700 - 160, 1e-9, 0);
  needs[0].carry = 5;
  choose();
  PW_NEAR("four kept for little", choice.cost, 700 - 20, 1e-9, 0);
}
END_TEST

static const struct {
  double content[3];
  int packs[3];
  double need;
  int unopened[3];
} OPENED[] = {
    {{10, 1, 0}, {1, 3, 0}, 11.5, {0, 1, 0}},  /* 1.5 left: one single */
    {{10, 1, 0}, {1, 3, 0}, 9, {0, 3, 0}},     /* 4 left: the three singles */
    {{10, 1, 0}, {1, 3, 0}, 3, {1, 0, 0}},     /* 10 left: the crate */
    {{10, 1, 0}, {1, 3, 0}, 13, {0, 0, 0}},    /* all is used */
    {{2, 2, 0.5}, {3, 1, 5}, 5.9, {2, 0, 1}},  /* 4.6 left */
    {{1.55, 0, 0}, {2, 0, 0}, 1.6, {0, 0, 0}}, /* an opened tub */
};

START_TEST(which_packs_stay_whole)
{
  int unopened[3] = {0};
  double kept = 0;
  int n = OPENED[_i].content[2] > 0 ? 3 : OPENED[_i].content[1] > 0 ? 2 : 1;
  double told = pw_packs_unopened(OPENED[_i].content, OPENED[_i].packs, n, OPENED[_i].need, unopened);
  for (int o = 0; o < n; o++) {
    ck_assert_int_eq(unopened[o], OPENED[_i].unopened[o]);
    kept += unopened[o] * OPENED[_i].content[o];
  }
  PW_NEAR("content", told, kept, 1e-12, 0);
}
END_TEST

START_TEST(leftovers_against_enumeration)
{
  int n_moved = 0;
  for (unsigned seed = 1; seed <= 200; seed++) {
    random_case(5000 + seed, seed % 3 == 0 ? 1 : 3, 3, 3, seed % 3 == 0);
    for (int s = 0; s < n_suppliers; s++) /* so high that they bite */
      terms[s].minimum *= 2;
    for (int o = 0; seed % 3 == 0 && o < needs[0].n_offers; o++)
      supplier[0][o] = supplier[0][o] == PW_NONE ? 0 : supplier[0][o];
    choose();
    int before[NEEDS_MAX][OFFERS_MAX];
    memcpy(before, packs, sizeof before);
    for (int i = 0; i < n_needs; i++) {
      double cheapest = INFINITY;
      for (int o = 0; o < needs[i].n_offers; o++)
        cheapest = fmin(cheapest, price[i][o] / content[i][o]);
      needs[i].carry = (seed + (unsigned)i) % 4 * 0.3 * cheapest;
    }
    choose();
    n_moved += memcmp(before, packs, sizeof before) != 0;
    double goods[PW_SUPPLIERS_MAX];
    for (int s = 0; s < PW_SUPPLIERS_MAX; s++)
      goods[s] = -1;
    double best = brute(0, goods, 0);
    ck_assert_msg(choice.cost >= best - 1e-6 && choice.bound <= best + 1e-6, "seed %u: cost %g bound %g best %g", seed,
                  choice.cost, choice.bound, best);
    PW_NEAR("exact", choice.cost, best, 1e-6, seed % 3 == 0 ? 2e-5 : 1e-9);
  }
  ck_assert_int_gt(n_moved, 5);
}
END_TEST

/* The same as one integer program: packs, yes-no per supplier, money paid up.  Another formulation altogether. */
static void plain_make(struct pw_lp *lp)
{
  int yes[PW_SUPPLIERS_MAX], goods_row[PW_SUPPLIERS_MAX];
  pw_lp_init(lp, ctx->arena, false);
  for (int s = 0; s < n_suppliers; s++) {
    yes[s] = pw_lp_col(lp, 0, 1, terms[s].fee, true, "y(%d)", s);
    goods_row[s] = pw_lp_row(lp, 0, INFINITY, "least(%d)", s);
    pw_lp_put(lp, goods_row[s], yes[s], -terms[s].minimum);
    pw_lp_put(lp, goods_row[s], pw_lp_col(lp, 0, terms[s].minimum, 1, false, "f(%d)", s), 1);
  }
  for (int i = 0; i < n_needs; i++) {
    int row = pw_lp_row(lp, needs[i].amount, INFINITY, "need(%d)", i);
    for (int o = 0; o < needs[i].n_offers; o++) {
      double most = ceil(needs[i].amount / content[i][o]);
      int col = pw_lp_col(lp, 0, most, price[i][o], true, "x(%d,%d)", i, o);
      pw_lp_put(lp, row, col, content[i][o]);
      if (supplier[i][o] == PW_NONE)
        continue;
      pw_lp_put(lp, goods_row[supplier[i][o]], col, price[i][o]);
      int link = pw_lp_row(lp, -INFINITY, 0, "link(%d,%d)", i, o);
      pw_lp_put(lp, link, col, 1);
      pw_lp_put(lp, link, yes[supplier[i][o]], -most);
    }
  }
}

static double plain_program(double *bound)
{
  struct pw_lp lp;
  plain_make(&lp);
  struct pw_lp_options options = {.as_integer = true, .n_iterations = 60000, .gap_frac = 1e-9, .cutoff = HUGE_VAL};
  struct pw_lp_result result;
  ck_assert_int_eq(pw_lp_solve(&result, &lp, &options, ctx), PW_OK);
  *bound = result.bound;
  return result.state == PW_LP_OPTIMAL || result.state == PW_LP_FEASIBLE ? result.value : HUGE_VAL;
}

START_TEST(against_a_plain_program)
{
  for (unsigned seed = 1; seed <= 100; seed++) {
    random_case(1000 + seed, 8, 4, 8, true);
    choose();
    double bound, best = plain_program(&bound);
    ck_assert_msg(choice.bound <= best * (1 + 1e-7) + 1e-6, "seed %u: bound %g above %g", seed, choice.bound, best);
    ck_assert_msg(choice.cost >= bound * (1 - 1e-7) - 1e-6, "seed %u: cost %g below %g", seed, choice.cost, bound);
    ck_assert_msg(choice.cost <= best * (1 + 2e-5) + 1e-6, "seed %u: cost %g best %g", seed, choice.cost, best);
  }
}
END_TEST

/* The same hundred as models in a file each, solved by Debian's coinor-cbc: another solver altogether. */
START_TEST(against_cbc)
{
  enum { CASES = 100 };
  if (system("command -v cbc >/dev/null") != 0) {
    fprintf(stderr, "SKIPPED: pack covers against cbc; install coinor-cbc (.ci/deps test)\n");
    return;
  }
  char dir[256], path[300], command[400], line[512];
  const char *base = getenv("TMPDIR");
  snprintf(dir, sizeof dir, "%s/pw-packs-XXXXXX", base && *base ? base : P_tmpdir);
  ck_assert_ptr_nonnull(mkdtemp(dir));
  snprintf(path, sizeof path, "%s/m.lp", dir);
  for (int k = 0; k < CASES; k++) {
    random_case(1001 + (unsigned)k, 8, 4, 8, true);
    choose();
    struct pw_lp lp;
    plain_make(&lp);
    ck_assert_int_eq(pw_lp_write(&lp, path, ctx), PW_OK);
    snprintf(command, sizeof command, "cbc '%s' ratio 0 allow 1e-9 solve 2>&1", path);
    FILE *f = popen(command, "r");
    ck_assert_ptr_nonnull(f);
    double best = NAN;
    while (fgets(line, sizeof line, f))
      sscanf(line, "Objective value: %lf", &best);
    ck_assert_int_eq(pclose(f), 0);
    ck_assert_msg(fabs(choice.cost - best) <= 2e-5 * best + 1e-6, "case %d: %.9g, cbc %.9g", k, choice.cost, best);
    ck_assert_int_eq(unlink(path), 0);
  }
  ck_assert_int_eq(rmdir(dir), 0);
}
END_TEST

/* 300 needs, 5 suppliers: near the bound (how long it takes is for `make bench`). */
START_TEST(large)
{
  unsigned long long seed = 7000;
  for (int trial = 0; trial < 4; trial++) {
    do
      random_case(seed++, 300, 5, 40, true);
    while (n_suppliers < 5 || n_needs < 250);
    choose();
    ck_assert_msg(choice.cost <= choice.bound * 1.0005, "cost %g bound %g", choice.cost, choice.bound);
  }
}
END_TEST

START_TEST(out_of_memory)
{
  random_case(42, 6, 3, 6, true);
  int failures = 0;
  for (long k = 1; k < 3000; k++) {
    struct pw_ctx *mine = pw_test_ctx();
    pw_arena_fail_at(mine->arena, k);
    pw_status status = pw_suppliers_choose(&choice, needs, n_needs, terms, n_suppliers, mine);
    pw_test_ctx_free(mine);
    if (!status)
      break;
    ck_assert_int_eq(status, PW_ERR_MEMORY);
    failures++;
  }
  ck_assert_int_gt(failures, 10);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("suppliers");
  TCase *t = tcase_create("suppliers");
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, fee_by_hand);
  tcase_add_test(t, goods_move_to_reach_the_least_order);
  tcase_add_test(t, nothing_to_buy);
  tcase_add_test(t, against_enumeration);
  tcase_add_test(t, opened_packs_are_not_carried);
  tcase_add_test(t, whole_packs_by_hand);
  tcase_add_loop_test(t, which_packs_stay_whole, 0, sizeof OPENED / sizeof *OPENED);
  tcase_add_test(t, leftovers_against_enumeration);
  tcase_add_test(t, against_a_plain_program);
  tcase_add_test(t, against_cbc);
  tcase_add_test(t, large);
  tcase_add_test(t, out_of_memory);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
