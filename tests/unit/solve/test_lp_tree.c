/* The tree on counts: what it proves against every whole point of small programs listed, and against optima known by hand. */
#include "dice.h"
#include "harness.h"

#include "solve/lp_tree.h"

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

enum { COLS = 5, ROWS = 4, MOST = 3 };

struct drawn {
  struct pw_lp lp;
  int a[ROWS][COLS], cost[COLS], lo[ROWS];
  struct pw_lp_count counts[COLS + 1];
  int n_counts;
};

/* covers: rows want at least so much of what columns give, each 0 to 3; one row more counts all columns */
static void draw(struct drawn *d, int seed)
{
  state = 400u + (unsigned)seed;
  memset(d, 0, sizeof *d);
  pw_lp_init(&d->lp, ctx->arena, false);
  for (int j = 0; j < COLS; j++) {
    d->cost[j] = 3 + below(20);
    pw_lp_col(&d->lp, 0, MOST, d->cost[j], false, "x");
    d->counts[d->n_counts++] = (struct pw_lp_count){-1, j, 1, true};
  }
  for (int i = 0; i < ROWS; i++) {
    d->lo[i] = 5 + below(12);
    pw_lp_row(&d->lp, d->lo[i], HUGE_VAL, "r");
    for (int j = 0; j < COLS; j++) {
      d->a[i][j] = below(3) ? below(7) : 0;
      pw_lp_put(&d->lp, i, j, d->a[i][j]);
    }
  }
  int all = pw_lp_row(&d->lp, -HUGE_VAL, HUGE_VAL, "all");
  for (int j = 0; j < COLS; j++)
    pw_lp_put(&d->lp, all, j, 1);
  d->counts[d->n_counts++] = (struct pw_lp_count){all, -1, 3, false};
}

static double least(const struct drawn *d)
{
  double best = HUGE_VAL;
  for (int code = 0; code < 1 << (2 * COLS); code++) {
    double cost = 0;
    bool keeps = true;
    for (int i = 0; i < ROWS && keeps; i++) {
      int sum = 0;
      for (int j = 0; j < COLS; j++)
        sum += d->a[i][j] * (code >> (2 * j) & 3);
      keeps = sum >= d->lo[i];
    }
    for (int j = 0; j < COLS; j++)
      cost += d->cost[j] * (code >> (2 * j) & 3);
    best = keeps && cost < best ? cost : best;
  }
  return best;
}

START_TEST(no_whole_point_lies_below)
{
  struct drawn d;
  struct pw_lp_tree_result r, again, some;
  draw(&d, _i);
  double best = least(&d), lb[COLS];
  memcpy(lb, d.lp.lb, sizeof lb);
  struct pw_lp_tree_options all = {.work = 1e9, .enough = HUGE_VAL}, few = {.work = 400, .enough = HUGE_VAL};
  ck_assert_int_eq(pw_lp_tree(&r, &d.lp, d.counts, d.n_counts, &all, ctx), PW_OK);
  if (isinf(best)) { /* and then the tree says so, or at least not that some point is there */
    ck_assert(r.bound > 1e9 || !r.is_whole);
    return;
  }
  PW_NEAR("tree to its end", r.bound, best, 1e-6, 0);
  ck_assert(r.is_whole && r.root <= best + 1e-6);
  /* limits are as they were: the same again */
  ck_assert(memcmp(lb, d.lp.lb, sizeof lb) == 0);
  ck_assert_int_eq(pw_lp_tree(&again, &d.lp, d.counts, d.n_counts, &all, ctx), PW_OK);
  ck_assert(again.bound == r.bound && again.n_iterations == r.n_iterations && again.n_nodes == r.n_nodes);
  /* with little work: between root and optimum */
  ck_assert_int_eq(pw_lp_tree(&some, &d.lp, d.counts, d.n_counts, &few, ctx), PW_OK);
  ck_assert(some.bound >= r.root - 1e-6 && some.bound <= best + 1e-6);
  ck_assert(some.n_nodes <= r.n_nodes);
}
END_TEST

/* enough is enough; a time that is up is told */
START_TEST(ends_where_it_is_told)
{
  struct drawn d;
  struct pw_lp_tree_result r, whole;
  int seed = 0;
  struct pw_lp_tree_options o = {.work = 1e9, .enough = HUGE_VAL};
  do { /* one that has to branch a good deal */
    draw(&d, seed++);
    ck_assert_int_eq(pw_lp_tree(&whole, &d.lp, d.counts, d.n_counts, &o, ctx), PW_OK);
  } while (whole.n_nodes < 9);
  o.enough = whole.root;
  ck_assert_int_eq(pw_lp_tree(&r, &d.lp, d.counts, d.n_counts, &o, ctx), PW_OK);
  ck_assert_int_eq(r.n_nodes, 1);
  ck_assert(!r.is_by_time && !r.is_whole);
  o.enough = HUGE_VAL;
  o.seconds = 1e-9;
  ck_assert_int_eq(pw_lp_tree(&r, &d.lp, d.counts, d.n_counts, &o, ctx), PW_OK);
  ck_assert(r.is_by_time && r.bound <= whole.bound + 1e-6);
}
END_TEST

/* a count on columns that are free to be fractions themselves: x + y whole, 1.5 at least; x costs 1, y 2 */
START_TEST(sums_alone_may_be_whole)
{
  struct pw_lp lp;
  struct pw_lp_tree_result r;
  pw_lp_init(&lp, ctx->arena, false);
  pw_lp_col(&lp, 0, 1.25, 1, false, "x");
  pw_lp_col(&lp, 0, 9, 2, false, "y");
  pw_lp_row(&lp, 1.5, HUGE_VAL, "sum");
  pw_lp_put(&lp, 0, 0, 1);
  pw_lp_put(&lp, 0, 1, 1);
  struct pw_lp_count count = {.row = 0, .col = -1, .weight = 1};
  struct pw_lp_tree_options o = {.work = 1e9, .enough = HUGE_VAL};
  ck_assert_int_eq(pw_lp_tree(&r, &lp, &count, 1, &o, ctx), PW_OK);
  PW_NEAR("root", r.root, 1.25 + 2 * 0.25, 1e-9, 0);
  PW_NEAR("two in all", r.bound, 1.25 + 2 * 0.75, 1e-9, 0);
}
END_TEST

/* rows that come at nodes: half way to the best whole point each time, which every whole point keeps */
struct half_way {
  const struct drawn *d;
  double best;
  int n_asked;
  pw_status status;
};

static pw_status half_way(void *user, struct pw_lp *lp, const double *x, int *n_added)
{
  struct half_way *h = user;
  double cost = 0;
  for (int j = 0; j < COLS; j++)
    cost += h->d->cost[j] * x[j];
  h->n_asked++;
  *n_added = h->best - cost > 1e-3;
  if (*n_added == 0)
    return h->status;
  /* as a cut may: a program of its own in between */
  struct pw_lp own;
  struct pw_lp_result r;
  const struct pw_lp_options o = {.cutoff = HUGE_VAL};
  pw_lp_init(&own, ctx->arena, false);
  pw_lp_col(&own, 0, 2, -1, false, "x");
  ck_assert_int_eq(pw_lp_solve(&r, &own, &o, ctx), PW_OK);
  int row = pw_lp_row(lp, (cost + h->best) / 2, HUGE_VAL, "half");
  for (int j = 0; j < COLS; j++)
    pw_lp_put(lp, row, j, h->d->cost[j]);
  return h->status;
}

START_TEST(rows_that_come_at_nodes)
{
  struct drawn d;
  struct pw_lp_tree_result plain, r;
  draw(&d, _i);
  const struct pw_lp_count all = d.counts[d.n_counts - 1]; /* the sum alone: columns stay fractions */
  struct half_way h = {.d = &d, .best = least(&d)};
  struct pw_lp_tree_options o = {.work = 1e9, .enough = HUGE_VAL};
  if (isinf(h.best))
    return;
  ck_assert_int_eq(pw_lp_tree(&plain, &d.lp, &all, 1, &o, ctx), PW_OK);
  o.cut = half_way;
  o.user = &h;
  ck_assert_int_eq(pw_lp_tree(&r, &d.lp, &all, 1, &o, ctx), PW_OK);
  ck_assert(r.bound <= h.best + 1e-6 && r.is_whole && h.n_asked > 0);
  ck_assert_msg(r.bound >= plain.bound + 0.9 * (h.best - plain.bound) - 1e-3, "%g without, %g with, %g is the best",
                plain.bound, r.bound, h.best);
  ck_assert_int_eq(r.n_cuts, d.lp.n_rows - ROWS - 1);
  ck_assert(d.lp.row_lo[ROWS] == -HUGE_VAL && d.lp.row_hi[ROWS] == HUGE_VAL);
  /* what goes wrong there is told */
  draw(&d, _i);
  h.status = PW_ERR_MEMORY;
  ck_assert_int_eq(pw_lp_tree(&r, &d.lp, &all, 1, &o, ctx), PW_ERR_MEMORY);
  ck_assert(d.lp.row_lo[ROWS] == -HUGE_VAL && d.lp.row_hi[ROWS] == HUGE_VAL);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("lp_tree");
  TCase *t = tcase_create("all");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, no_whole_point_lies_below, 0, 60);
  tcase_add_test(t, ends_where_it_is_told);
  tcase_add_test(t, sums_alone_may_be_whole);
  tcase_add_loop_test(t, rows_that_come_at_nodes, 0, 30);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
