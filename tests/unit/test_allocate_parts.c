/* Tests of what the allocation stands on: the linear-program layer, the rack grid, the packing bounds. */
#include "harness.h"

#include "plan/rack_bound.h"
#include "plan/rack_grid.h"
#include "solve/lp.h"

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

/* max 3x + 2y, x + y <= 4, x + 3y <= 6, x <= 3: by hand (3, 1), value 11 */
static void small_lp(struct pw_lp *lp, bool is_int)
{
  pw_lp_init(lp, ctx->arena, true);
  int x = pw_lp_col(lp, 0, 3, -3, is_int, "x"), y = pw_lp_col(lp, 0, 10, -2, is_int, "y");
  int a = pw_lp_row(lp, -HUGE_VAL, 4, "a"), b = pw_lp_row(lp, -HUGE_VAL, 6, "b");
  pw_lp_put(lp, a, x, 1);
  pw_lp_put(lp, a, y, 1);
  pw_lp_put(lp, b, x, 1);
  pw_lp_put(lp, b, y, 3);
}

START_TEST(known_optimum_and_its_dual_bound)
{
  struct pw_lp lp;
  struct pw_lp_result r;
  struct pw_lp_options o = {.as_integer = _i, .cutoff = HUGE_VAL};
  small_lp(&lp, _i);
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_OK);
  ck_assert_int_eq(r.state, PW_LP_OPTIMAL);
  PW_NEAR("value", r.value, -11, 1e-9, 0);
  PW_NEAR("x", r.x[0], 3, 1e-9, 0);
  PW_NEAR("dual bound at the optimum", pw_lp_dual_bound(&lp, r.dual), -11, 1e-9, 0);
  double other[2] = {-1, -0.5};
  ck_assert(pw_lp_dual_bound(&lp, other) < -11 - 1e-9);
}
END_TEST

START_TEST(whole_numbers_matter)
{
  /* max x + y, 2x + 2y <= 3: 1.5 in fractions, 1 in whole numbers */
  struct pw_lp lp;
  struct pw_lp_result r;
  pw_lp_init(&lp, ctx->arena, false);
  int x = pw_lp_col(&lp, 0, 5, -1, true, "x"), y = pw_lp_col(&lp, 0, 5, -1, true, "y"), a = pw_lp_row(&lp, -HUGE_VAL, 3, "a");
  pw_lp_put(&lp, a, x, 2);
  pw_lp_put(&lp, a, y, 2);
  struct pw_lp_options o = {.as_integer = true, .cutoff = HUGE_VAL};
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_OK);
  PW_NEAR("relaxed", r.relaxed, -1.5, 1e-9, 0);
  PW_NEAR("whole", r.value, -1, 1e-9, 0);
}
END_TEST

START_TEST(infeasible_is_an_answer)
{
  struct pw_lp lp;
  struct pw_lp_result r;
  pw_lp_init(&lp, ctx->arena, false);
  int x = pw_lp_col(&lp, 0, 1, 1, false, "x"), a = pw_lp_row(&lp, 2, HUGE_VAL, "a");
  pw_lp_put(&lp, a, x, 1);
  struct pw_lp_options o = {.cutoff = HUGE_VAL};
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_OK);
  ck_assert_int_eq(r.state, PW_LP_INFEASIBLE);
}
END_TEST

static const double bad_numbers[] = {NAN, HUGE_VAL, -HUGE_VAL, 1e13};
START_TEST(the_gate_refuses_bad_numbers)
{
  struct pw_lp lp;
  struct pw_lp_result r;
  struct pw_lp_options o = {.cutoff = HUGE_VAL};
  small_lp(&lp, false);
  pw_lp_put(&lp, 0, 0, bad_numbers[_i]);
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_ERR_INTERNAL);
  small_lp(&lp, false);
  pw_lp_col(&lp, 0, 1, bad_numbers[_i], false, "z");
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_ERR_INTERNAL);
}
END_TEST

/* ---- the grid against plain rectangles ---- */

START_TEST(grid_agrees_with_rectangles)
{
  struct pw_rack_grid g;
  ck_assert_int_eq(pw_rack_grid_init(&g, PW_RECTANGLE, 1.2, 0, 0.6, 0.6, 8, ctx->arena), 0);
  struct { int a, b, x, y; struct pw_cells c; } put[24];
  int n = 0;
  unsigned s = 12345u + (unsigned)_i;
  for (int k = 0; k < 200 && n < 24; k++) {
    int v[6];
    for (int j = 0; j < 6; j++)
      v[j] = (int)((s = s * 1103515245u + 12345u) >> 16 & 0x7fff);
    struct pw_cells c = pw_rack_grid_cells(&g, 0.05 + v[0] % 25 * 0.01, 0.05 + v[1] % 25 * 0.01);
    ck_assert(c.is_fitting);
    int a = v[2] % 6, b = a + 1 + v[3] % 2, x = v[4] % (g.n_x - c.x + 1), y = v[5] % (PW_GRID_CELLS_Y - c.y + 1);
    bool is_free = true;
    for (int i = 0; i < n; i++)
      is_free = is_free && !(put[i].a < b && a < put[i].b && put[i].x < x + c.x && x < put[i].x + put[i].c.x &&
                             put[i].y < y + c.y && y < put[i].y + put[i].c.y);
    uint64_t at[PW_GRID_ROWS_MAX];
    pw_rack_grid_free(&g, a, b, c, at);
    ck_assert_int_eq((int)(at[x] >> y & 1), is_free);
    if (is_free) {
      pw_rack_grid_put(&g, a, b, c, x, y);
      put[n].a = a, put[n].b = b, put[n].x = x, put[n].y = y, put[n].c = c;
      n++;
    }
  }
  ck_assert_int_gt(n, 5);
  while (n--)
    pw_rack_grid_take(&g, put[n].a, put[n].b, put[n].c, put[n].x, put[n].y);
  for (int t = 0; t < 8; t++)
    ck_assert_int_eq(g.used_cells[t], 0);
}
END_TEST

START_TEST(a_disc_has_no_corners)
{
  struct pw_rack_grid g;
  uint64_t at[PW_GRID_ROWS_MAX];
  ck_assert_int_eq(pw_rack_grid_init(&g, PW_DISC, 0.6, 0, 0.6, 0.6, 1, ctx->arena), 0);
  pw_rack_grid_free(&g, 0, 1, pw_rack_grid_cells(&g, 0.01, 0.01), at);
  ck_assert_int_eq((int)(at[0] & 1), 0);
  ck_assert_int_eq((int)(at[30] >> 30 & 1), 1);
  /* the largest square in a circle of 0.6 m has a side of 0.424 m */
  pw_rack_grid_free(&g, 0, 1, pw_rack_grid_cells(&g, 0.44, 0.44), at);
  int x, y;
  ck_assert(!pw_rack_grid_first(&g, at, &x, &y));
  pw_rack_grid_free(&g, 0, 1, pw_rack_grid_cells(&g, 0.40, 0.40), at);
  ck_assert(pw_rack_grid_first(&g, at, &x, &y));
}
END_TEST

/* ---- packing bounds ---- */

static const struct { const char *name; double l, w; int most; } alone[] = {
    /* counted by hand on a zone of 0.64 x 0.76: so many lie there, and no more can */
    {"0.50 x 0.19", 0.50, 0.19, 4}, {"0.28 x 0.22", 0.28, 0.22, 6}, {"0.34 x 0.26", 0.34, 0.26, 4},
    {"0.30 x 0.24", 0.30, 0.24, 6}, {"0.54 x 0.34", 0.54, 0.34, 2}, {"0.32 x 0.26", 0.32, 0.26, 4},
};
START_TEST(one_cut_alone)
{
  struct pw_rack_piece p = {alone[_i].l, alone[_i].w, true};
  double amount = 1, share;
  ck_assert_int_eq(pw_rack_bound_shares(&share, &p, &amount, 1, 0.64, 0.76, ctx), PW_OK);
  PW_NEAR(alone[_i].name, 1 / share, alone[_i].most, 1e-6, 0);
}
END_TEST

/* Hopper and Turton (2001), strip packing instance C1 P1: 16 rectangles that fill 20 x 20 without waste (sizes as in
 * the packingsolver project's data, MIT licence).  They lie together, so their shares may not add to more than 1. */
static const double c1_1[16][2] = {{2, 12}, {7, 12}, {8, 6}, {3, 6}, {3, 5}, {5, 5}, {3, 12}, {3, 7},
                                   {5, 7},  {2, 6},  {3, 2}, {4, 2}, {3, 4}, {4, 4}, {9, 2},  {11, 2}};
START_TEST(a_perfect_packing_is_not_refused)
{
  struct pw_rack_piece p[16];
  double amount[16], share[16], sum = 0, area = 0;
  for (int i = 0; i < 16; i++) {
    p[i] = (struct pw_rack_piece){c1_1[i][0], c1_1[i][1], _i % 2 == 1};
    amount[i] = 1 + (_i * (i + 3)) % 5;
    area += c1_1[i][0] * c1_1[i][1];
  }
  PW_NEAR("area", area, 400, 1e-9, 0);
  ck_assert_int_eq(pw_rack_bound_shares(share, p, amount, 16, 20, 20, ctx), PW_OK);
  for (int i = 0; i < 16; i++)
    sum += share[i];
  ck_assert_msg(sum <= 1 + 1e-9, "shares add to %.12g", sum);
}
END_TEST

/* Fekete and Schepers (2001): u(k) and U(eps) are dual feasible: multisets of tenths and twelfths that add to at most 1
 * still do, tried exhaustively up to four parts. */
static double dff(int which, double x) { return which < 6 ? pw_rack_bound_u(which + 1, x) : pw_rack_bound_eps(0.1 * (which - 5), x); }
START_TEST(functions_are_dual_feasible)
{
  for (int base = 10; base <= 12; base += 2)
    for (int a = 1; a <= base; a++)
      for (int b = 0; b <= a && a + b <= base; b++)
        for (int c = 0; c <= b && a + b + c <= base; c++)
          for (int d = 0; d <= c && a + b + c + d <= base; d++) {
            double n = base, sum = dff(_i, a / n) + (b ? dff(_i, b / n) : 0) + (c ? dff(_i, c / n) : 0) + (d ? dff(_i, d / n) : 0);
            ck_assert_msg(sum <= 1 + 1e-9, "function %d: %d %d %d %d of %d give %.9g", _i, a, b, c, d, base, sum);
          }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("allocate parts");
  TCase *t = tcase_create("all");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, known_optimum_and_its_dual_bound, 0, 2);
  tcase_add_test(t, whole_numbers_matter);
  tcase_add_test(t, infeasible_is_an_answer);
  tcase_add_loop_test(t, the_gate_refuses_bad_numbers, 0, 4);
  tcase_add_loop_test(t, grid_agrees_with_rectangles, 0, 40);
  tcase_add_test(t, a_disc_has_no_corners);
  tcase_add_loop_test(t, one_cut_alone, 0, (int)(sizeof alone / sizeof alone[0]));
  tcase_add_loop_test(t, a_perfect_packing_is_not_refused, 0, 10);
  tcase_add_loop_test(t, functions_are_dual_feasible, 0, 11);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
