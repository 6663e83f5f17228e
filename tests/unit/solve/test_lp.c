/* The linear-program layer: optima known by hand and by enumeration, bounds, hostile use of the library behind it, and
 * a written model solved by another reader. */
#include "dice.h"
#include "harness.h"

#include "base/diag.h"
#include "solve/lp.h"

#include <stdint.h>
#include <unistd.h>

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

/* ---- by hand ---- */

enum { NO = 1000 }; /* a row limit that is not there */

struct by_hand {
  const char *name;
  int n_cols, n_rows;
  double cost[4], ub[4];
  double a[3][4], lo[3], hi[3];
  double relaxed, whole;
};
static const struct by_hand by_hand[] = {
    /* 3x + 2y most: x + y <= 4, x + 3y <= 6, x <= 3 meet at (3, 1) */
    {"corner", 2, 2, {-3, -2}, {3, 10}, {{1, 1}, {1, 3}}, {-NO, -NO}, {4, 6}, -11, -11},
    /* 2x + 2y <= 3: 1.5 in fractions, 1 whole */
    {"odd", 2, 1, {-1, -1}, {5, 5}, {{2, 2}}, {-NO}, {3}, -1.5, -1},
    /* knapsack of 10 with (weight, value) (5, 10) (4, 7) (6, 11), each once: by value per weight 10 + 5/6 of 11;
     * whole: the last two */
    {"knapsack", 3, 1, {-10, -7, -11}, {1, 1, 1}, {{5, 4, 6}}, {-NO}, {10}, -10 - 5.0 / 6 * 11, -18},
    /* two makers of 3 and 4, two takers of 2 and 5; costs 1 4 / 2 3: 2 + 4 + 12 */
    {"transport",
     4,
     3,
     {1, 4, 2, 3},
     {9, 9, 9, 9},
     {{1, 1, 0, 0}, {0, 0, 1, 1}, {1, 0, 1, 0}},
     {3, 4, 2},
     {3, 4, 2},
     18,
     18},
    /* a row with two sides: 2 <= x - y <= 3, least x + y */
    {"between", 2, 1, {1, 1}, {9, 9}, {{1, -1}}, {2}, {3}, 2, 2},
    /* no row binds, the second has no limits at all: each at its cheaper end */
    {"box", 2, 2, {-1, 1}, {4, 7}, {{1, 1}, {1, 2}}, {-NO, -NO}, {20, NO}, -4, -4},
};

static void fill(struct pw_lp *lp, const struct by_hand *h, bool has_names)
{
  pw_lp_init(lp, ctx->arena, has_names);
  for (int j = 0; j < h->n_cols; j++)
    pw_lp_col(lp, 0, h->ub[j], h->cost[j], true, "n(long-pit/main/1,%d)", j);
  for (int i = 0; i < h->n_rows; i++) {
    pw_lp_row(lp, h->lo[i] > -NO ? h->lo[i] : -HUGE_VAL, h->hi[i] < NO ? h->hi[i] : HUGE_VAL, "A1(%d)", i);
    for (int j = 0; j < h->n_cols; j++)
      pw_lp_put(lp, i, j, h->a[i][j]);
  }
}

START_TEST(optima_by_hand)
{
  const struct by_hand *h = &by_hand[_i];
  struct pw_lp lp;
  struct pw_lp_result r, inner;
  struct pw_lp_options o = {.as_integer = true, .cutoff = HUGE_VAL};
  struct pw_lp_options interior = {.by_interior = true, .cutoff = HUGE_VAL};
  fill(&lp, h, false);
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_OK);
  ck_assert_int_eq(r.state, PW_LP_OPTIMAL);
  PW_NEAR(h->name, r.relaxed, h->relaxed, 1e-9, 0);
  PW_NEAR(h->name, r.value, h->whole, 1e-9, 0);
  PW_NEAR(h->name, r.bound, h->whole, 1e-9, 0);
  PW_NEAR(h->name, pw_lp_dual_bound(&lp, r.dual), h->relaxed, 1e-9, 0);
  ck_assert_int_eq(pw_lp_solve(&inner, &lp, &interior, ctx), PW_OK);
  PW_NEAR(h->name, inner.relaxed, h->relaxed, 1e-5, 0);
}
END_TEST

/* ---- by enumeration ---- */

START_TEST(optima_by_enumeration)
{
  state = 4000u + (unsigned)_i;
  int n_infeasible = 0;
  for (int trial = 0; trial < 40; trial++) {
    int n = 2 + below(3), m = 1 + below(3), cost[4], ub[4], a[3][4], lo[3], hi[3];
    struct pw_lp lp;
    pw_lp_init(&lp, ctx->arena, false);
    for (int j = 0; j < n; j++)
      pw_lp_col(&lp, 0, ub[j] = 1 + below(4), cost[j] = below(19) - 9, true, "x");
    for (int i = 0; i < m; i++) {
      lo[i] = below(2) ? below(9) - 2 : -999;
      hi[i] = lo[i] == -999 || below(2) ? (lo[i] == -999 ? 2 : lo[i]) + below(6) : 999;
      pw_lp_row(&lp, lo[i] == -999 ? -HUGE_VAL : lo[i], hi[i] == 999 ? HUGE_VAL : hi[i], "r");
      for (int j = 0; j < n; j++)
        pw_lp_put(&lp, i, j, a[i][j] = below(9) - 3);
    }
    bool is_any = false;
    int best = 0;
    for (int code = 0; code < 625; code++) {
      int x[4], value = 0, rest = code;
      bool ok = true;
      for (int j = 0; j < n; j++) {
        x[j] = rest % 5;
        rest /= 5;
        ok = ok && x[j] <= ub[j];
        value += cost[j] * x[j];
      }
      for (int i = 0; i < m && ok; i++) {
        int sum = 0;
        for (int j = 0; j < n; j++)
          sum += a[i][j] * x[j];
        ok = (lo[i] == -999 || sum >= lo[i]) && (hi[i] == 999 || sum <= hi[i]);
      }
      if (ok && rest == 0 && (!is_any || value < best)) {
        is_any = true;
        best = value;
      }
    }
    struct pw_lp_result r, again;
    struct pw_lp_options o = {.as_integer = true, .cutoff = HUGE_VAL};
    ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_OK);
    if (!is_any) {
      n_infeasible++;
      ck_assert_int_eq(r.state, PW_LP_INFEASIBLE);
      continue;
    }
    ck_assert_int_eq(r.state, PW_LP_OPTIMAL);
    PW_NEAR("whole", r.value, best, 1e-6, 0);
    ck_assert(r.bound <= best + 1e-6 && r.relaxed <= best + 1e-6);
    PW_NEAR("dual bound at the optimal prices", pw_lp_dual_bound(&lp, r.dual), r.relaxed, 1e-7, 0);
    for (int k = 0; k < 20; k++) { /* any prices give a bound */
      double y[3];
      for (int i = 0; i < m; i++)
        y[i] = r.dual[i] + (k ? 0.25 * (below(17) - 8) : 0);
      ck_assert(pw_lp_dual_bound(&lp, y) <= r.relaxed + 1e-7);
    }
    struct pw_lp_options warm = {.as_integer = true, .cutoff = HUGE_VAL, .warm = &r};
    ck_assert_int_eq(pw_lp_solve(&again, &lp, &warm, ctx), PW_OK);
    PW_NEAR("warm", again.value, best, 1e-6, 0);
  }
  ck_assert_int_lt(n_infeasible, 40);
}
END_TEST

/* a branch and bound cut short still tells a bound below the optimum (enumerated) */
START_TEST(bound_of_an_unfinished_tree)
{
  state = 77u + (unsigned)_i;
  enum { N = 14 };
  int weight[N], value[N], best = 0;
  struct pw_lp lp;
  struct pw_lp_result r;
  pw_lp_init(&lp, ctx->arena, false);
  int row = pw_lp_row(&lp, -HUGE_VAL, 60, "room");
  for (int j = 0; j < N; j++) {
    weight[j] = 7 + below(9);
    value[j] = weight[j] + 3;
    pw_lp_put(&lp, row, pw_lp_col(&lp, 0, 1, -value[j], true, "x"), weight[j]);
  }
  for (unsigned set = 0; set < 1u << N; set++) {
    int w = 0, v = 0;
    for (int j = 0; j < N; j++)
      if (set >> j & 1)
        w += weight[j], v += value[j];
    if (w <= 60 && v > best)
      best = v;
  }
  struct pw_lp_options o = {.as_integer = true, .cutoff = HUGE_VAL, .n_iterations = 1 + 3 * _i};
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_OK);
  ck_assert_msg(r.bound <= -best + 1e-6, "bound %.9g above the optimum %d", r.bound, -best);
  if (r.state == PW_LP_OPTIMAL || r.state == PW_LP_FEASIBLE)
    ck_assert(r.value >= -best - 1e-6);
}
END_TEST

/* ---- hostile use ---- */

enum fault { TWICE, LONG_NAME, CONTROL_NAME, FAULTS };
START_TEST(library_gives_up_in_words)
{
  struct pw_lp lp, good;
  struct pw_lp_result r;
  struct pw_lp_options o = {.cutoff = HUGE_VAL};
  pw_lp_init(&lp, ctx->arena, true);
  char name[400];
  memset(name, 'a', sizeof name);
  name[sizeof name - 1] = 0;
  int x = pw_lp_col(&lp, 0, 1, 1, false, "%s", _i == LONG_NAME ? name : _i == CONTROL_NAME ? "a\nb" : "x");
  int row = pw_lp_row(&lp, 0, 1, "row");
  pw_lp_put(&lp, row, x, 1);
  if (_i == TWICE)
    pw_lp_put(&lp, row, x, 2);
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_ERR_SOLVER);
  ck_assert_int_gt(ctx->n_diags, 0);
  ck_assert_int_eq(pw_lp_write(&lp, "/dev/null", ctx), PW_ERR_SOLVER);
  /* and the next one is solved as if nothing had been */
  fill(&good, &by_hand[0], false);
  ck_assert_int_eq(pw_lp_solve(&r, &good, &o, ctx), PW_OK);
  PW_NEAR("after", r.value, by_hand[0].relaxed, 1e-9, 0);
}
END_TEST

static const struct {
  const char *name;
  double lo, hi;
} bad_rows[] = {
    {"low above high", 2, 1},
    {"NaN low", NAN, 1},
    {"NaN high", 0, NAN},
    {"low is +inf", HUGE_VAL, HUGE_VAL},
    {"high is -inf", -HUGE_VAL, -HUGE_VAL},
    {"huge", 0, 1e13},
};
START_TEST(gate_refuses_bad_rows_and_places)
{
  struct pw_lp lp;
  struct pw_lp_result r;
  struct pw_lp_options o = {.cutoff = HUGE_VAL};
  fill(&lp, &by_hand[0], false);
  ck_assert_int_eq(pw_lp_row(&lp, bad_rows[_i].lo, bad_rows[_i].hi, "bad"), -1);
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_ERR_INTERNAL);
  ck_assert_int_eq(pw_lp_write(&lp, "/dev/null", ctx), PW_ERR_INTERNAL);
  fill(&lp, &by_hand[0], false);
  pw_lp_put(&lp, 0, _i % 2 ? 2 : -1, 1);
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_ERR_INTERNAL);
}
END_TEST

START_TEST(memory_runs_out)
{
  struct pw_lp_result r;
  struct pw_lp_options o = {.as_integer = true, .cutoff = HUGE_VAL};
  long before = pw_arena_count(ctx->arena);
  struct pw_lp lp;
  fill(&lp, &by_hand[3], true);
  ck_assert_int_eq(pw_lp_solve(&r, &lp, &o, ctx), PW_OK);
  long n = pw_arena_count(ctx->arena) - before;
  int n_failed = 0;
  for (long k = 1; k <= n; k++) {
    pw_arena_fail_at(ctx->arena, k);
    fill(&lp, &by_hand[3], true);
    pw_status status = pw_lp_solve(&r, &lp, &o, ctx);
    pw_arena_fail_at(ctx->arena, 0);
    ck_assert_msg(status == PW_OK || status == PW_ERR_MEMORY, "allocation %ld: status %d", k, (int)status);
    n_failed += status == PW_ERR_MEMORY;
    if (status == PW_OK)
      PW_NEAR("value", r.value, by_hand[3].whole, 1e-9, 0);
  }
  ck_assert_int_gt(n_failed, 10);
}
END_TEST

/* ---- the written model ---- */

/* the solvers of the Debian packages glpk-utils and coinor-cbc read it; one that is not there is passed over */
START_TEST(written_model_is_solved_by_others)
{
  const struct by_hand *h = &by_hand[_i];
  char dir[256], path[280], command[400], line[256];
  const char *base = getenv("TMPDIR");
  snprintf(dir, sizeof dir, "%s/pw-lp-XXXXXX", base && *base ? base : P_tmpdir);
  ck_assert_ptr_nonnull(mkdtemp(dir));
  snprintf(path, sizeof path, "%s/m.lp", dir);
  struct pw_lp lp;
  fill(&lp, h, true);
  ck_assert_int_eq(pw_lp_write(&lp, path, ctx), PW_OK);
  static const struct {
    const char *program, *before;
  } readers[] = {{"glpsol", "c Objective:"}, {"cbc", "Objective value:"}};
  for (int k = 0; k < 2; k++) {
    snprintf(command, sizeof command, "command -v %s >/dev/null", readers[k].program);
    if (system(command) != 0)
      continue;
    int n = snprintf(command, sizeof command, "%s ", readers[k].program);
    n += snprintf(command + n, sizeof command - (size_t)n, k ? "%s solve" : "--lp %s -w /dev/stdout", path);
    snprintf(command + n, sizeof command - (size_t)n, " 2>&1");
    FILE *f = popen(command, "r");
    ck_assert_ptr_nonnull(f);
    double value = NAN;
    while (fgets(line, sizeof line, f)) {
      const char *at = strstr(line, readers[k].before);
      if (at) {
        const char *sign = k ? NULL : strchr(at, '=');
        value = strtod(sign ? sign + 1 : at + strlen(readers[k].before), NULL);
      }
    }
    ck_assert_int_eq(pclose(f), 0);
    PW_NEAR(readers[k].program, value, h->whole, 1e-6, 0);
  }
  ck_assert_int_eq(unlink(path), 0);
  ck_assert_int_eq(pw_lp_write(&lp, "/nowhere/at/all.lp", ctx), PW_ERR_IO);
  ck_assert_int_eq(rmdir(dir), 0);
}
END_TEST

/* without a row that holds nothing back the optimum stays; without one that does it is another's */
START_TEST(rows_taken_out)
{
  for (int k = 0; k < 2; k++) {
    struct pw_lp lp;
    struct pw_lp_result first, second;
    struct pw_lp_options o = {.cutoff = HUGE_VAL};
    pw_lp_init(&lp, ctx->arena, false);
    for (int j = 0; j < 2; j++)
      pw_lp_col(&lp, 0, 10, -1 - j, false, "x(%d)", j);
    /* most x + 2y with x <= 3, x + y <= 20, y <= 4: 3 + 8; without the last y goes up to its own 10: 3 + 20 */
    for (int i = 0; i < 3; i++)
      pw_lp_row(&lp, -HUGE_VAL, i == 0 ? 3 : i == 1 ? 20 : 4, "r(%d)", i);
    pw_lp_put(&lp, 0, 0, 1);
    pw_lp_put(&lp, 1, 0, 1);
    pw_lp_put(&lp, 1, 1, 1);
    pw_lp_put(&lp, 2, 1, 1);
    ck_assert_int_eq(pw_lp_solve(&first, &lp, &o, ctx), PW_OK);
    PW_NEAR("whole", first.relaxed, -11, 1e-9, 0);
    unsigned char is_out[3] = {0, k == 0, k == 1};
    int to[3];
    pw_lp_take_rows(&lp, is_out, to, &first);
    ck_assert_int_eq(lp.n_rows, 2);
    ck_assert_int_eq(to[0], 0);
    ck_assert_int_eq(to[1], k == 0 ? -1 : 1);
    ck_assert_int_eq(to[2], k == 0 ? 1 : -1);
    o.warm = k == 0 ? &first : NULL; /* the row taken out was basic in the first alone */
    ck_assert_int_eq(pw_lp_solve(&second, &lp, &o, ctx), PW_OK);
    PW_NEAR("left", second.relaxed, k == 0 ? -11 : -23, 1e-9, 0);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("lp");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  int n_by_hand = (int)(sizeof by_hand / sizeof by_hand[0]);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, optima_by_hand, 0, n_by_hand);
  tcase_add_loop_test(t, optima_by_enumeration, 0, 10);
  tcase_add_loop_test(t, bound_of_an_unfinished_tree, 0, 10);
  tcase_add_loop_test(t, library_gives_up_in_words, 0, FAULTS);
  tcase_add_loop_test(t, gate_refuses_bad_rows_and_places, 0, (int)(sizeof bad_rows / sizeof bad_rows[0]));
  tcase_add_test(t, rows_taken_out);
  tcase_add_test(t, memory_runs_out);
  tcase_add_loop_test(t, written_model_is_solved_by_others, 0, n_by_hand);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
