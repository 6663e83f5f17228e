/* Packing bounds against plain enumeration: functions on exhaustive multisets, shares on everything a small exact
 * packer packs, on cut-up racks, and on published packings. */
#include "dice.h"
#include "harness.h"

#include "plan/allocate/rack_bound.h"

#include <stdint.h>

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

/* ---- the functions: Fekete and Schepers (2001), u(k) and U(eps) ---- */

enum { PARTS_MAX = 18 };

struct multiset {
  int base, n, part[PARTS_MAX];
};

/* function 1 .. 8 is u(k); 11 .. 20 is U at 0.05 .. 0.5; 21 .. 24 are U at halves of 1 / base */
static double value(int which, int base, double x)
{
  if (which <= 8)
    return pw_rack_bound_u(which, x);
  return pw_rack_bound_eps(which <= 20 ? 0.05 * (which - 10) : (which - 20) * 0.5 / base, x);
}

static void check_multiset(const struct multiset *m)
{
  for (int which = 1; which <= 24; which++) {
    if (which == 9 || which == 10 || (which - 20) * 0.5 > 0.5 * m->base)
      continue; /* eps goes up to a half */
    double sum = 0;
    for (int i = 0; i < m->n; i++)
      sum += value(which, m->base, (double)m->part[i] / m->base);
    if (sum > 1 + 1e-9)
      ck_abort_msg("function %d gives %.12g for %d parts of %d, the largest %d", which, sum, m->n, m->base, m->part[0]);
  }
}

static void each_multiset(struct multiset *m, int left, int largest)
{
  if (m->n)
    check_multiset(m);
  for (int p = largest < left ? largest : left; p >= 1 && m->n < PARTS_MAX; p--) {
    m->part[m->n++] = p;
    each_multiset(m, left - p, p);
    m->n--;
  }
}

START_TEST(functions_on_all_multisets_of_parts)
{
  struct multiset m = {.base = 2 + _i};
  each_multiset(&m, m.base, m.base);
}
END_TEST

/* Thresholds are met with a little rounding; nothing that adds to at most 1 may profit from it.  Parts of `base` are
 * pushed up and down by hair's breadths that together do not exceed zero. */
START_TEST(functions_near_their_thresholds)
{
  static const double hair[] = {0, 1e-10, -1e-10, 3e-7, -3e-7, 5e-7, -5e-7, -2e-6, 1e-6, 3e-6};
  state = 99u + (unsigned)_i;
  for (int trial = 0; trial < 4000; trial++) {
    int base = 2 + below(11), left = base, n = 0;
    double x[16], sum = 0;
    while (left > 0 && n < 16) {
      int part = 1 + below(left);
      x[n] = (double)part / base + hair[below(10)];
      sum += x[n++];
      left -= part;
    }
    if (sum > 1)
      x[0] -= sum - 1;
    for (int which = 1; which <= 20; which++) {
      double total = 0;
      for (int i = 0; i < n && which != 9 && which != 10; i++)
        total += value(which, base, fmax(x[i], 0));
      ck_assert_msg(total <= 1 + 2e-9, "function %d gives %.12g for %d parts of about 1/%d", which, total, n, base);
    }
  }
}
END_TEST

START_TEST(functions_sharpen)
{
  /* by hand: more than a half counts as all, less than a third as nothing */
  PW_NEAR("u(1) above a half", pw_rack_bound_u(1, 0.51), 1, 0, 0);
  PW_NEAR("u(1) at a half", pw_rack_bound_u(1, 0.5), 0.5, 1e-12, 0);
  PW_NEAR("u(1) below a half", pw_rack_bound_u(1, 0.49), 0, 0, 0);
  PW_NEAR("u(2) above a third", pw_rack_bound_u(2, 0.34), 0.5, 1e-12, 0);
  PW_NEAR("u(2) at two thirds", pw_rack_bound_u(2, 2.0 / 3), 2.0 / 3, 1e-9, 0);
  PW_NEAR("U(0.3) large", pw_rack_bound_eps(0.3, 0.71), 1, 0, 0);
  PW_NEAR("U(0.3) between", pw_rack_bound_eps(0.3, 0.5), 0.5, 0, 0);
  PW_NEAR("U(0.3) small", pw_rack_bound_eps(0.3, 0.29), 0, 0, 0);
}
END_TEST

/* ---- shares ---- */

/* What n pieces take together, by shares chosen for `amount` and sharpened: where `cells` on a rack of so many whole cells, and
 * each piece a little less than the cells it takes. */
static double shares_of(const struct pw_rack_piece *p, const double *amount, int n, double length, double depth,
                        bool cells)
{
  double share[64], before = 0, after = 0, sum = 0;
  struct pw_rack_piece smaller[64];
  struct pw_rack_zone zone = {length, depth, cells ? (int)length : 0, cells ? (int)depth : 0};
  ck_assert_int_le(n, 64);
  for (int i = 0; i < n && cells; i++)
    smaller[i] = (struct pw_rack_piece){p[i].length - 0.3, p[i].depth - 0.4, p[i].may_turn};
  if (cells)
    p = smaller;
  ck_assert_int_eq(pw_rack_bound_shares(share, p, amount, n, &zone, ctx), PW_OK);
  for (int i = 0; i < n; i++)
    before += share[i] * amount[i];
  ck_assert_int_eq(pw_rack_bound_sharpen(share, p, amount, n, &zone, ctx), PW_OK);
  for (int i = 0; i < n; i++) {
    ck_assert(share[i] >= 0 && share[i] <= 1 + 1e-9);
    after += share[i] * amount[i];
    sum += share[i];
  }
  ck_assert(after >= before - 1e-12);
  return sum;
}

/* An exact packer for at most 64 cells: the first empty cell gets the corner of a piece, one way round or the other,
 * or stays empty, as long as the empty cells allow. */
struct packer {
  int x, y, n, l[8], d[8];
  bool may_turn, is_used[8];
};

static bool pack(struct packer *k, uint64_t taken, int waste)
{
  bool is_done = true;
  for (int i = 0; i < k->n; i++)
    is_done = is_done && k->is_used[i];
  if (is_done)
    return true;
  int cell = 0;
  while (cell < k->x * k->y && (taken >> cell & 1))
    cell++;
  if (cell == k->x * k->y)
    return false;
  int cx = cell % k->x, cy = cell / k->x;
  for (int i = 0; i < k->n; i++)
    for (int turned = 0; !k->is_used[i] && turned <= k->may_turn; turned++) {
      int l = turned ? k->d[i] : k->l[i], d = turned ? k->l[i] : k->d[i];
      if (cx + l > k->x || cy + d > k->y)
        continue;
      uint64_t m = 0;
      for (int y = cy; y < cy + d; y++)
        for (int x = cx; x < cx + l; x++)
          m |= UINT64_C(1) << (y * k->x + x);
      if (taken & m)
        continue;
      k->is_used[i] = true;
      bool ok = pack(k, taken | m, waste);
      k->is_used[i] = false;
      if (ok)
        return true;
    }
  return waste > 0 && pack(k, taken | UINT64_C(1) << cell, waste - 1);
}

START_TEST(shares_never_refuse_what_an_exact_packer_packs)
{
  state = 7000u + (unsigned)_i;
  int n_packed = 0, n_refused = 0;
  for (int trial = 0; trial < 40; trial++) {
    struct packer k = {.x = 5 + below(4), .y = 4 + below(4), .may_turn = trial % 2};
    struct pw_rack_piece p[8];
    double amount[8];
    int area = k.x * k.y;
    int want = 3 + below(5);
    while (k.n < want) {
      int l = 1 + below(k.x), d = 1 + below(k.y);
      if (l * d > area)
        break;
      k.l[k.n] = l, k.d[k.n] = d;
      p[k.n] = (struct pw_rack_piece){l, d, k.may_turn};
      amount[k.n++] = trial % 3 ? 1 : 1 + below(4);
      area -= l * d;
    }
    double sum = shares_of(p, amount, k.n, k.x, k.y, trial % 2);
    if (pack(&k, 0, area)) {
      n_packed++;
      ck_assert_msg(sum <= 1 + 1e-9, "trial %d: packed, but the shares add to %.12g", trial, sum);
    } else if (sum > 1 + 1e-6) {
      n_refused++;
    }
  }
  ck_assert_int_gt(n_packed, 5);
  ck_assert_int_gt(n_refused, 0); /* the bound knows more than areas, which always fit here */
}
END_TEST

/* A rack cut by straight cuts into pieces of any size: they fill it without waste. */
START_TEST(shares_of_a_rack_cut_up)
{
  state = 800u + (unsigned)_i;
  struct pw_rack_piece p[40] = {{0.4 + 0.013 * below(100), 0.3 + 0.007 * below(100), _i % 2}};
  double length = p[0].length, depth = p[0].depth, amount[40] = {1};
  int n = 1, want = 3 + below(30);
  while (n < want) {
    int i = below(n);
    double at = 0.1 + 0.05 * below(17);
    p[n] = p[i];
    if (below(2))
      p[n].length -= (p[i].length *= at);
    else
      p[n].depth -= (p[i].depth *= at);
    amount[n++] = 1 + below(5);
  }
  double sum = shares_of(p, amount, n, length, depth, false);
  ck_assert_msg(sum <= 1 + 1e-9, "%d pieces: %.12g", n, sum);
}
END_TEST

static const struct {
  const char *name;
  double l, w;
  int most;
} alone[] = {
    /* by hand on 0.64 x 0.76: no more lie there, whichever way round */
    {"0.50 x 0.19", 0.50, 0.19, 4},
    {"0.28 x 0.22", 0.28, 0.22, 6},
    {"0.54 x 0.34", 0.54, 0.34, 2},
};
START_TEST(single_lots)
{
  struct pw_rack_piece p = {alone[_i].l, alone[_i].w, true};
  double amount = 3, share = shares_of(&p, &amount, 1, 0.64, 0.76, false);
  PW_NEAR(alone[_i].name, share, 1.0 / alone[_i].most, 1e-7, 0);
}
END_TEST

/* ---- published packings ---- */

struct laid {
  int l, d, x, y;
};

/* Hopper, Turton, "An empirical investigation of meta-heuristic and heuristic algorithms for a 2D packing problem",
 * EJOR 128 (2001), C1 P1-P3: squares of 20 cut up without waste.  Sizes as in the packingsolver project's data
 * (MIT licence); the layouts were found for this test, which checks them. */
static const struct laid c1_1[] = {{2, 12, 18, 0}, {7, 12, 0, 0},  {8, 6, 7, 0},   {3, 6, 0, 12},
                                   {3, 5, 12, 13}, {5, 5, 7, 13},  {3, 12, 15, 0}, {3, 7, 12, 6},
                                   {5, 7, 7, 6},   {2, 6, 15, 12}, {3, 2, 17, 16}, {4, 2, 3, 16},
                                   {3, 4, 17, 12}, {4, 4, 3, 12},  {9, 2, 11, 18}, {11, 2, 0, 18}};
static const struct laid c1_2[] = {{4, 1, 0, 19},  {4, 1, 13, 17}, {4, 5, 4, 15},  {9, 4, 8, 10}, {3, 5, 17, 13},
                                   {3, 9, 0, 10},  {1, 4, 3, 15},  {5, 3, 8, 17},  {5, 5, 3, 10}, {7, 2, 10, 8},
                                   {7, 2, 13, 18}, {9, 3, 8, 14},  {3, 13, 17, 0}, {2, 8, 15, 0}, {15, 4, 0, 0},
                                   {5, 4, 10, 4},  {10, 6, 0, 4}};
static const struct laid c1_3[] = {{4, 14, 9, 0}, {5, 2, 13, 12}, {2, 2, 18, 12}, {9, 7, 0, 0},
                                   {5, 5, 13, 7}, {2, 5, 18, 7},  {7, 7, 13, 0},  {3, 5, 6, 7},
                                   {6, 5, 0, 7},  {3, 2, 6, 12},  {6, 2, 0, 18},  {4, 6, 16, 14},
                                   {6, 3, 0, 12}, {6, 3, 0, 15},  {10, 3, 6, 14}, {10, 3, 6, 17}};
static const struct {
  const char *name;
  const struct laid *piece;
  int n;
} perfect[] = {{"C1 P1", c1_1, 16}, {"C1 P2", c1_2, 17}, {"C1 P3", c1_3, 16}};

START_TEST(perfect_packings_are_not_refused)
{
  const struct laid *q = perfect[_i].piece;
  int n = perfect[_i].n, area = 0;
  for (int i = 0; i < n; i++) {
    ck_assert(q[i].x + q[i].l <= 20 && q[i].y + q[i].d <= 20);
    area += q[i].l * q[i].d;
    for (int j = 0; j < i; j++)
      ck_assert(q[i].x + q[i].l <= q[j].x || q[j].x + q[j].l <= q[i].x || q[i].y + q[i].d <= q[j].y ||
                q[j].y + q[j].d <= q[i].y);
  }
  ck_assert_int_eq(area, 400);
  for (int turn = 0; turn < 2; turn++)
    for (int round = 0; round < 12; round++) {
      struct pw_rack_piece p[17];
      double amount[17];
      state = 10u + (unsigned)round;
      for (int i = 0; i < n; i++) {
        p[i] = (struct pw_rack_piece){q[i].l, q[i].d, turn};
        amount[i] = round ? below(4) : 1;
      }
      amount[0] = 1;
      double sum = shares_of(p, amount, n, 20, 20, false);
      ck_assert_msg(sum <= 1 + 1e-9, "%s, round %d: %.12g", perfect[_i].name, round, sum);
    }
}
END_TEST

/* Berkey, Wang, "Two-dimensional finite bin-packing algorithms", J. Oper. Res. Soc. 38 (1987), class 01, n = 20,
 * instance 1: bins of 10 x 10, no turning, 8 bins needed (packingsolver project's data, MIT licence).  What lies in a
 * bin has shares of at most 1, so all shares together are at most 8; areas alone say 6.48. */
static const int berkey_wang[20][2] = {{5, 9}, {4, 2},  {10, 6}, {5, 7}, {6, 3}, {10, 7}, {1, 5},
                                       {3, 5}, {6, 9},  {2, 4},  {6, 7}, {7, 2}, {8, 3},  {4, 10},
                                       {4, 5}, {10, 3}, {8, 3},  {7, 8}, {8, 3}, {8, 7}};
START_TEST(berkey_wang_bins)
{
  struct pw_rack_piece p[20];
  double amount[20];
  int area = 0;
  for (int i = 0; i < 20; i++) {
    p[i] = (struct pw_rack_piece){berkey_wang[i][0], berkey_wang[i][1], false};
    amount[i] = 1;
    area += berkey_wang[i][0] * berkey_wang[i][1];
  }
  ck_assert_int_eq(area, 648);
  double bins = shares_of(p, amount, 20, 10, 10, false);
  ck_assert_msg(bins <= 8 + 1e-9, "shares ask for %.9g bins, 8 are enough", bins);
  ck_assert_msg(bins > 6.48 + 0.1, "shares ask for %.9g bins, no more than areas do", bins);
}
END_TEST

/* Bengtsson, "Packing rectangular pieces - a heuristic approach", Comput. J. 25 (1982), BENG1 (packingsolver project's
 * data, MIT licence): 20 pieces that lie in a strip 25 wide and 30 high (height from memory; no packing can be lower,
 * their area is 741). */
static const int beng1[20][2] = {{6, 8}, {4, 11}, {3, 10}, {7, 4},  {6, 12}, {6, 11}, {8, 12}, {6, 3},  {3, 4}, {8, 3},
                                 {1, 9}, {3, 1},  {6, 8},  {3, 11}, {1, 11}, {8, 9},  {1, 9},  {5, 11}, {7, 1}, {8, 7}};
START_TEST(bengtsson_strip)
{
  struct pw_rack_piece p[20];
  double amount[20];
  int area = 0;
  for (int i = 0; i < 20; i++) {
    p[i] = (struct pw_rack_piece){beng1[i][0], beng1[i][1], _i};
    amount[i] = 1;
    area += beng1[i][0] * beng1[i][1];
  }
  ck_assert_int_eq(area, 741);
  double at_30 = shares_of(p, amount, 20, 25, 30, false), at_29 = shares_of(p, amount, 20, 25, 29, false);
  ck_assert_msg(at_30 <= 1 + 1e-9, "30 high: %.9g", at_30);
  ck_assert_msg(at_29 > 1, "29 high: %.9g", at_29);
}
END_TEST

START_TEST(memory_runs_out)
{
  struct pw_rack_piece p[3] = {{5, 3, true}, {4, 4, true}, {2, 6, false}};
  double amount[3] = {1, 1, 1}, share[3];
  long before = pw_arena_count(ctx->arena);
  ck_assert_int_eq(pw_rack_bound_shares(share, p, amount, 3, &(struct pw_rack_zone){10, 8, 0, 0}, ctx), PW_OK);
  long n = pw_arena_count(ctx->arena) - before;
  ck_assert_int_gt((int)n, 5);
  for (long k = 1; k <= n; k++) {
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_rack_bound_shares(share, p, amount, 3, &(struct pw_rack_zone){10, 8, 0, 0}, ctx);
    ck_assert_msg(status == PW_ERR_MEMORY || status == PW_OK, "allocation %ld: %d", k, (int)status);
    if (status == PW_OK)
      ck_assert(share[0] + share[1] + share[2] <= 1 + 1e-9);
    pw_arena_fail_at(ctx->arena, 0);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("rack bound");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, functions_on_all_multisets_of_parts, 0, 17);
  tcase_add_loop_test(t, functions_near_their_thresholds, 0, 4);
  tcase_add_test(t, functions_sharpen);
  tcase_add_loop_test(t, shares_never_refuse_what_an_exact_packer_packs, 0, 8);
  tcase_add_loop_test(t, shares_of_a_rack_cut_up, 0, 30);
  tcase_add_loop_test(t, single_lots, 0, 3);
  tcase_add_loop_test(t, perfect_packings_are_not_refused, 0, 3);
  tcase_add_test(t, berkey_wang_bins);
  tcase_add_loop_test(t, bengtsson_strip, 0, 2);
  tcase_add_test(t, memory_runs_out);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
