/* test_chance.c - the draws of the day against what probability says of days simple enough to be solved, each with its source:
 * quantiles of the log-normal; the greatest of n independent; two that share a factor (Sheppard 1899: the chance that two standard
 * normals of correlation r are both below 0 is 1/4 + asin(r) / 2 pi); two one after the other on a spot.  Then the examples. */
#include "harness.h"
#include "planned.h"

#include "base/stats.h"
#include "plan/chance/chance.h"
#include "plan/chance/on_time.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { DRAWS = 20000, LENGTH_MIN = 200, PIECES_MAX = 10 };
#define SPREAD 0.15

/** A made day: pieces of one lot, each on a spot of its own, or one after the other. */
struct made {
  struct pw_event ev;
  struct pw_cut cut;
  struct pw_service service;
  struct pw_pit pit;
  struct pw_lots lots;
  struct pw_lot lot;
  struct pw_zone zone;
  struct pw_allocation al;
  struct pw_load loads[PIECES_MAX];
  struct pw_rect rects[PIECES_MAX];
  int ids[PIECES_MAX];
};

static void make(struct made *m, int n, bool is_chain, int slack_min, double spread)
{
  memset(m, 0, sizeof *m);
  m->cut.smoke.spread_frac = spread;
  m->cut.smoke.is_used = true;
  m->service.at_min = (is_chain ? n : 1) * LENGTH_MIN + slack_min;
  m->ev.cuts = &m->cut, m->ev.n_cuts = 1;
  m->ev.services = &m->service, m->ev.n_services = 1;
  m->ev.pits = &m->pit, m->ev.n_pits = 1;
  m->lot = (struct pw_lot){.pieces = n, .by_at_min = m->service.at_min};
  m->lots = (struct pw_lots){.zones = &m->zone, .n_zones = 1, .lots = &m->lot, .n_lots = 1, .slot_min = 15};
  for (int i = 0; i < n; i++) {
    int from = is_chain ? i * LENGTH_MIN : 0;
    m->ids[i] = i;
    m->rects[i] = (struct pw_rect){is_chain ? 0 : i, 0, 1, 1};
    m->loads[i] = (struct pw_load){.stage = PW_LOAD_SMOKE,
                                   .finisher = PW_NONE,
                                   .pieces = 1,
                                   .start_at_min = from,
                                   .end_at_min = from + LENGTH_MIN,
                                   .rects = &m->rects[i],
                                   .piece_ids = &m->ids[i]};
  }
  m->al.loads = m->loads;
  m->al.n_loads = n;
}

static double chance_of(const struct made *m, struct pw_spread_shares shares, unsigned seed, struct pw_ctx *ctx)
{
  struct pw_chance chance;
  struct pw_chance_options options = {.n_draws = DRAWS, .seed = seed, .shares = shares};
  ck_assert_int_eq(pw_chance_make(&chance, &m->ev, &m->lots, &m->al, &options, ctx), PW_OK);
  ck_assert_double_eq_tol(chance.services[0].standard_error_frac,
                          sqrt(chance.services[0].on_time_frac * (1 - chance.services[0].on_time_frac) / DRAWS), 1e-12);
  return chance.services[0].on_time_frac;
}

static double sigma(double spread) { return sqrt(log(1 + spread * spread)); }

/** Five standard errors of a share drawn DRAWS times. */
static void check_near(double drawn, double want)
{
  ck_assert_msg(fabs(drawn - want) <= 5 * sqrt(want * (1 - want) / DRAWS) + 1e-9, "drawn %.4f, should be %.4f", drawn,
                want);
}

static const struct pw_spread_shares alone = {0, 0, 1}, by_lot = {1, 0, 0};

START_TEST(one_stage_is_log_normal)
{
  static const int slacks_min[] = {-20, 0, 10, 30, 60};
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  for (size_t i = 0; i < sizeof slacks_min / sizeof *slacks_min; i++) {
    make(&m, 1, false, slacks_min[i], SPREAD);
    check_near(chance_of(&m, pw_spread_shares(), 1, ctx),
               pw_stats_normal_cdf(log1p((double)slacks_min[i] / LENGTH_MIN) / sigma(SPREAD)));
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static struct pw_service_chance beside(const struct made *m, struct pw_ctx *ctx)
{
  struct pw_chance chance;
  struct pw_chance_options options = {.n_draws = DRAWS, .seed = 5, .shares = alone};
  ck_assert_int_eq(pw_chance_make(&chance, &m->ev, &m->lots, &m->al, &options, ctx), PW_OK);
  return chance.services[0];
}

/* A fire lost at a steady rate is not lost for a time t with chance exp(-rate t) (Poisson); what goes on when it burns clean is in time
 * if it is clean in time, which is log-normal.  Both at once multiply.  What the fire does leaves the chance of the stages alone. */
START_TEST(fires_are_lost_by_poisson)
{
  static const double RATES[] = {0, 0.01, 0.1, 0.5};
  enum { LEAD_MIN = 60 };
  struct pw_ctx *ctx = pw_test_ctx();
  for (size_t i = 0; i < sizeof RATES / sizeof *RATES; i++)
    for (int slack = 0; slack <= 20; slack += 10) {
      struct made m;
      make(&m, 1, false, slack, 0);
      struct pw_burn burn = {.lit_at_min = -LEAD_MIN, .ready_at_min = 0, .out_at_min = 10 * LENGTH_MIN};
      m.al.burns = &burn, m.al.n_burns = 1;
      m.pit = (struct pw_pit){.ready_spread_frac = SPREAD, .lost_per_h_frac = RATES[i], .lost_min = 30};
      double whole = exp(-RATES[i] * LENGTH_MIN / 60.0),
             clean = pw_stats_normal_cdf(log1p((double)slack / LEAD_MIN) / sigma(SPREAD));
      struct pw_service_chance told = beside(&m, ctx);
      ck_assert_double_eq(told.on_time_frac, 1);
      /* a late beginning is a little longer over the fire: at most slack minutes of it */
      double late_whole = exp(-RATES[i] * (LENGTH_MIN + slack) / 60.0);
      ck_assert_msg(told.with_fires_frac <= clean * whole + 0.02 && told.with_fires_frac >= clean * late_whole - 0.02,
                    "rate %g, %d min to spare: drawn %.4f, between %.4f and %.4f", RATES[i], slack,
                    told.with_fires_frac, clean * late_whole, clean * whole);
      burn.ready_at_min = -1000, burn.lit_at_min = -1000 - LEAD_MIN; /* long clean: only a loss makes it late */
      told = beside(&m, ctx);
      /* the first loss counts: one from which it burns again in time does no harm, nor does one when the food is off */
      check_near(told.with_fires_frac, 1 - (exp(-RATES[i] * (1000 - m.pit.lost_min + slack) / 60.0) -
                                            exp(-RATES[i] * (1000 + LENGTH_MIN) / 60.0)));
    }
  pw_test_ctx_free(ctx);
}
END_TEST

/* Held too long by more than a step of the grid: ready earlier by so much, a log-normal's lower tail. */
START_TEST(held_too_long_is_the_lower_tail)
{
  struct pw_ctx *ctx = pw_test_ctx();
  for (int hold = 0; hold <= 60; hold += 15) {
    struct made m;
    make(&m, 1, false, 30, SPREAD); /* done at LENGTH_MIN by plan, 30 min before it is served */
    m.lot.hold_max_min = hold;
    m.lot.whole_until_at_min = m.lot.by_at_min;
    double early = 30 - hold - m.lots.slot_min; /* done before LENGTH_MIN + early */
    struct pw_service_chance told = beside(&m, ctx);
    check_near(told.held_long_frac, pw_stats_normal_cdf(log1p(early / LENGTH_MIN) / sigma(SPREAD)));
    ck_assert_int_eq(told.held_long_lot, told.held_long_frac > 0 ? 0 : PW_NONE);
    ck_assert(told.held_long_lot == PW_NONE || told.held_long_min > m.lots.slot_min);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static struct pw_service_chance cores_of(const struct made *m, double come_up_min, struct pw_ctx *ctx)
{
  const struct pw_lot_heat heat = {.come_up_min = come_up_min};
  struct pw_service_chance told = {.slow_core_frac = NAN};
  struct pw_chance chance = {.services = &told, .n_draws = DRAWS};
  struct pw_chance_options options = {.seed = 5, .shares = alone};
  ck_assert_int_eq(pw_chance_cores(&chance, &m->ev, &m->lots, &m->al, &heat, &options, ctx), PW_OK);
  ck_assert_int_eq(told.slow_core_lot, told.slow_core_frac > 0 ? 0 : PW_NONE);
  ck_assert(told.slow_core_lot == PW_NONE ? told.slow_core_min == 0 : told.slow_core_min > 0);
  return told;
}

/* A core warms as slowly as its stage goes: the upper tail of a log-normal beyond the 6 h of FSIS-GD-2021-14.  What a lost fire adds
 * counts where it is lost while the core is on its way (Poisson).  Plants, and what is too slow by the plan itself, are not counted. */
START_TEST(cores_are_too_slow_by_the_upper_tail)
{
  static const double COME_UPS[] = {150, 250, 300, 330, 350};
  struct pw_ctx *ctx = pw_test_ctx();
  for (size_t i = 0; i < sizeof COME_UPS / sizeof *COME_UPS; i++) {
    double c = COME_UPS[i], rate = 0.1;
    struct made m;
    make(&m, 1, false, 0, SPREAD);
    check_near(cores_of(&m, c, ctx).slow_core_frac, 1 - pw_stats_normal_cdf(log(360 / c) / sigma(SPREAD)));
    m.cut.smoke.spread_frac = 0;
    struct pw_burn burn = {.lit_at_min = -60, .ready_at_min = 0, .out_at_min = 1000};
    m.al.burns = &burn, m.al.n_burns = 1;
    m.pit = (struct pw_pit){.lost_per_h_frac = rate, .lost_min = 45};
    check_near(cores_of(&m, c, ctx).slow_core_frac, c + 45 > 360 ? 1 - exp(-rate * c / 60) : 0);
    m.cut.kind = PW_KIND_PLANT, m.cut.safety = PW_SAFE_PLANT;
    ck_assert_double_eq(cores_of(&m, c, ctx).slow_core_frac, 0);
  }
  struct made m;
  make(&m, 1, false, 0, SPREAD);
  ck_assert_double_eq(cores_of(&m, 361, ctx).slow_core_frac, 0);
  ck_assert_double_eq(cores_of(&m, HUGE_VAL, ctx).slow_core_frac, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

static int slack_of(const struct made *m, int load, bool is_end, struct pw_ctx *ctx)
{
  struct pw_chance_options options = {.n_draws = DRAWS, .seed = 1, .shares = alone};
  int *begin = NULL, *end = NULL;
  ck_assert_int_eq(pw_chance_slack(&begin, &end, &m->ev, &m->lots, &m->al, &options, ctx), PW_OK);
  return is_end ? end[load] : begin[load];
}

/* A stage that begins d later is in time with chance Phi(ln((L + s - d) / L) / sigma): the slack is the greatest step at which that is at
 * most 2 in a hundred below what it is without.  Its end may slip as far as its meal allows. */
START_TEST(slack_is_what_the_quantile_leaves)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  for (int slack = 0; slack <= 160; slack += 20) {
    make(&m, 1, false, slack, SPREAD);
    double whole = pw_stats_normal_cdf(log1p((double)slack / LENGTH_MIN) / sigma(SPREAD));
    int want = 0;
    for (int d = PW_SLACK_STEP_MIN; d <= slack && d <= PW_SLACK_MOST_MIN; d += PW_SLACK_STEP_MIN)
      if (pw_stats_normal_cdf(log1p((double)(slack - d) / LENGTH_MIN) / sigma(SPREAD)) >= whole - 0.02)
        want = d;
    int drawn = slack_of(&m, 0, false, ctx);
    ck_assert_msg(abs(drawn - want) <= PW_SLACK_STEP_MIN, "%d min to spare: slack %d, by the quantile %d", slack, drawn,
                  want);
    ck_assert_int_eq(slack_of(&m, 0, true, ctx), slack / PW_SLACK_STEP_MIN * PW_SLACK_STEP_MIN);
    m.ev.services[0].at_min -= 10; /* what stays behind does not count: only the lot's own time does */
    ck_assert_int_eq(slack_of(&m, 0, false, ctx), drawn);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* The first of two on a spot has no more slack than the second, and none where the second has none; more time never takes any. */
START_TEST(slack_passes_down_a_spot)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  for (int slack = 0, before = 0; slack <= 200; slack += 25) {
    make(&m, 2, true, slack, SPREAD);
    int first = slack_of(&m, 0, false, ctx), second = slack_of(&m, 1, false, ctx), end = slack_of(&m, 0, true, ctx);
    ck_assert_int_le(first, second);
    ck_assert_int_le(end, second); /* it leaves when the second is to begin */
    ck_assert_int_ge(first, before);
    before = first;
  }
  make(&m, 2, true, 200, SPREAD);
  ck_assert_int_gt(slack_of(&m, 0, false, ctx), 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(the_greatest_of_n)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  for (int n = 2; n <= PIECES_MAX; n += 4) {
    make(&m, n, false, 30, SPREAD);
    double one = pw_stats_normal_cdf(log1p(30.0 / LENGTH_MIN) / sigma(SPREAD));
    check_near(chance_of(&m, alone, 2, ctx), pow(one, n));
    check_near(chance_of(&m, by_lot, 2, ctx), one); /* all alike: as one */
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(two_that_share_a_factor)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  make(&m, 2, false, 0, SPREAD);
  for (double r = 0; r < 1.01; r += 0.25)
    check_near(chance_of(&m, (struct pw_spread_shares){r / 2, r / 2, 1 - r}, 3, ctx),
               0.25 + asin(fmin(r, 1)) / (2 * acos(-1)));
  pw_test_ctx_free(ctx);
}
END_TEST

/* One after the other on a spot: the second waits for the first, so that it is late if the sum of both is, or the second alone:
 * begins at the later of its time and the first one's end.  The integral over the first, by the trapezium rule. */
START_TEST(two_on_one_spot)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  enum { STEPS = 4000 };
  make(&m, 2, true, 30, SPREAD);
  double s = sigma(SPREAD), sum = 0, h = 12.0 / STEPS;
  for (int k = 0; k <= STEPS; k++) {
    double z = -6 + k * h, first = LENGTH_MIN * exp(s * z), begin = fmax(LENGTH_MIN, first);
    double left = 2 * LENGTH_MIN + 30 - begin;
    double p = left > 0 ? pw_stats_normal_cdf(log(left / LENGTH_MIN) / s) : 0;
    sum += (k == 0 || k == STEPS ? 0.5 : 1) * p * exp(-z * z / 2) / sqrt(2 * acos(-1)) * h;
  }
  check_near(chance_of(&m, alone, 4, ctx), sum);
  struct pw_chance chance;
  struct pw_chance_options options = {.n_draws = DRAWS, .seed = 4, .shares = alone};
  ck_assert_int_eq(pw_chance_make(&chance, &m.ev, &m.lots, &m.al, &options, ctx), PW_OK);
  ck_assert_int_gt(chance.blames[PW_BLAME_SPOT], 0); /* the first kept the spot of the second */
  ck_assert_int_gt(chance.blames[PW_BLAME_OWN], 0);
  ck_assert_int_eq(chance.blames[PW_BLAME_SPOT] + chance.blames[PW_BLAME_OWN],
                   (int)floor((1 - chance.services[0].on_time_frac) * DRAWS + 0.5));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(other_seeds_agree_and_wider_is_no_surer)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  double before = 1;
  make(&m, 6, false, 40, SPREAD);
  check_near(chance_of(&m, pw_spread_shares(), 5, ctx), chance_of(&m, pw_spread_shares(), 6, ctx));
  ck_assert_double_eq(chance_of(&m, pw_spread_shares(), 5, ctx), chance_of(&m, pw_spread_shares(), 5, ctx));
  for (double spread = 0.02; spread < 0.4; spread += 0.04) {
    make(&m, 6, false, 40, spread);
    double now = chance_of(&m, pw_spread_shares(), 7, ctx); /* the same draws: no noise between them */
    ck_assert_double_le(now, before);
    before = now;
  }
  before = 0;
  for (int slack = -30; slack <= 120; slack += 15) {
    make(&m, 6, true, slack, SPREAD);
    double now = chance_of(&m, pw_spread_shares(), 7, ctx);
    ck_assert_double_ge(now, before);
    before = now;
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* The examples are ready as often as they ask for, by draws of another seed; without being asked they are not. */
START_TEST(examples_are_ready)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = planned_event(PLANNED_EVENTS[_i], ctx);
  const struct pw_plan *plan = planned(ev, false, PW_EFFORT_FULL, ctx);
  struct pw_chance again;
  struct pw_chance_options options = {.n_draws = DRAWS, .seed = 99, .shares = pw_spread_shares()};
  ck_assert_int_eq(pw_chance_make(&again, ev, &plan->lots, &plan->allocation, &options, ctx), PW_OK);
  for (int s = 0; s < ev->n_services; s++) {
    const struct pw_service_chance *told = &plan->chance.services[s];
    ck_assert_double_ge(told->on_time_frac, 0.95);
    ck_assert_double_ge(told->moved_frac, 0.95);
    /* the plan was not chosen by the draws that are told: they flatter it no more than others do */
    ck_assert_double_le(fabs(again.services[s].on_time_frac - told->on_time_frac), 4 * hypot(0.005, 0.0016));
    ck_assert_double_le(told->with_fires_frac, told->on_time_frac);
    ck_assert_double_ge(again.services[s].moved_frac, again.services[s].on_time_frac - 0.01);
  }
  for (int c = 0; c < plan->lots.n_lots; c++) { /* no margin wider than it is of use */
    const struct pw_lot *lot = &plan->lots.lots[c];
    const struct pw_cut *cut = &ev->cuts[lot->cut];
    double late_min = 5 * hypot(cut->smoke.is_used ? cut->smoke.spread_frac * cut->smoke.ref_min : 0,
                                cut->finish.is_used ? cut->finish.spread_frac * cut->finish.ref_min : 0);
    int slot_min = plan->lots.slot_min;
    ck_assert_msg(lot->more_min <= lot->early_min + 2 * slot_min,
                  "%s is aimed %d min earlier than usual, and %d is done", lot->id, lot->more_min, lot->early_min);
    ck_assert_msg(lot->turn_min <= 2 * (late_min + slot_min), "%s keeps its spot empty for %d min", lot->id,
                  lot->turn_min);
  }
  struct pw_plan *bare = NULL;
  struct pw_run_options as_before = {.effort = PW_EFFORT_FULL, .on_time_frac = -1};
  ck_assert_int_eq(pw_run_plan(&bare, ev, &as_before, ctx), PW_OK);
  double least = 1;
  for (int s = 0; s < ev->n_services; s++)
    least = fmin(least, bare->chance.services[s].on_time_frac);
  ck_assert_msg(_i == 3 || least < 0.9, "%s is ready %.3f without being asked", ev->name, least);
  pw_test_ctx_free(ctx);
}
END_TEST

/* What is kept from plan to plan is what would be drawn again: one day after another with other spreads, places and numbers of
 * draws, with what was kept and without, bit by bit; with another seed nothing kept is used. */
START_TEST(kept_draws_change_nothing)
{
  static const int DRAWS_OF[] = {100, 500, 40, 2000};
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_kept_draws *kept = pw_kept_draws_open(3);
  ck_assert_ptr_nonnull(kept);
  for (int turn = 0; turn < 24; turn++) {
    struct made m;
    make(&m, 1 + turn % 7, turn % 3 == 0, 20, turn % 2 ? SPREAD : 0.3);
    m.pit.id = turn % 5 ? "offset" : "trailer";
    const struct pw_chance_options anew = {
        .n_draws = DRAWS_OF[turn % 4], .seed = turn % 6 == 5 ? 4 : 3, .shares = pw_spread_shares()};
    struct pw_chance_options with = anew;
    with.kept = kept;
    struct pw_chance a, b;
    ck_assert_int_eq(pw_chance_make(&a, &m.ev, &m.lots, &m.al, &anew, ctx), PW_OK);
    ck_assert_int_eq(pw_chance_make(&b, &m.ev, &m.lots, &m.al, &with, ctx), PW_OK);
    ck_assert_mem_eq(&a.services[0].on_time_frac, &b.services[0].on_time_frac, sizeof(double));
    ck_assert_mem_eq(&a.services[0].moved_frac, &b.services[0].moved_frac, sizeof(double));
    ck_assert_mem_eq(&a.services[0].weakest_late_min, &b.services[0].weakest_late_min, sizeof(double));
    ck_assert_mem_eq(a.blames, b.blames, 2 * sizeof *a.blames);
    ck_assert(a.services[0].on_time_frac > 0.01 && a.services[0].on_time_frac < 0.99);
  }
  pw_kept_draws_close(kept);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Whether a chance is reached is the same said after all draws and as soon as it is known: around the chance itself too. */
START_TEST(a_decided_chance_is_the_whole_one)
{
  struct pw_ctx *ctx = pw_test_ctx();
  for (int n = 1; n < 8; n++) {
    struct made m;
    make(&m, n, false, 30, SPREAD);
    struct pw_chance_options draws = {.n_draws = 500, .seed = 3, .shares = pw_spread_shares(), .is_strict = true};
    struct pw_chance whole, part;
    ck_assert_int_eq(pw_chance_make(&whole, &m.ev, &m.lots, &m.al, &draws, ctx), PW_OK);
    for (int by = -3; by <= 3; by++) {
      const double least = whole.services[0].on_time_frac + by / 500.0 - 1e-9;
      draws.least_frac = &least;
      ck_assert_int_eq(pw_chance_make(&part, &m.ev, &m.lots, &m.al, &draws, ctx), PW_OK);
      ck_assert_msg((part.services[0].on_time_frac >= least) == (by <= 0),
                    "%d pieces, %d draws more asked: %.4f, whole %.4f", n, by, part.services[0].on_time_frac,
                    whole.services[0].on_time_frac);
    }
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* However many stages are asked for, what is kept stays within its bounds and right: each factor is that of its own names. */
START_TEST(kept_draws_forget_what_is_too_much)
{
  enum { N = 500, PLANS = 12 };
  struct pw_kept_draws *kept = pw_kept_draws_open(9);
  uint64_t first = pw_draw_first(9);
  ck_assert(!pw_kept_draws_begin(kept, 8));
  for (int plan = 0; plan < PLANS; plan++) {
    ck_assert(pw_kept_draws_begin(kept, 9));
    for (int i = 0; i < N; i++) {
      struct pw_draw_stage of = {.lot = 5 + (uint64_t)plan,
                                 .place = 77,
                                 .piece = (uint64_t)(1000 + plan * N + i),
                                 .lot_part = 0.6,
                                 .place_part = 0.4,
                                 .piece_part = 0.6,
                                 .sigma = 0.1 + 0.01 * (i % 3)};
      const double *factors = pw_kept_draws_factors(kept, &of, 2000);
      ck_assert_ptr_nonnull(factors);
      uint64_t k = first + (uint64_t)(i * 4 % 2000);
      double anew =
          pw_draw_factor(&of, pw_draw_normal(k, of.lot), pw_draw_normal(k, of.place), pw_draw_normal(k, of.piece));
      ck_assert_mem_eq(&factors[i * 4 % 2000], &anew, sizeof anew);
    }
  }
  pw_kept_draws_close(kept);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("chance");
  TCase *tc = tcase_create("all");
  tcase_set_timeout(tc, 300);
  tcase_add_test(tc, one_stage_is_log_normal);
  tcase_add_test(tc, fires_are_lost_by_poisson);
  tcase_add_test(tc, held_too_long_is_the_lower_tail);
  tcase_add_test(tc, cores_are_too_slow_by_the_upper_tail);
  tcase_add_test(tc, slack_is_what_the_quantile_leaves);
  tcase_add_test(tc, slack_passes_down_a_spot);
  tcase_add_test(tc, the_greatest_of_n);
  tcase_add_test(tc, two_that_share_a_factor);
  tcase_add_test(tc, two_on_one_spot);
  tcase_add_test(tc, other_seeds_agree_and_wider_is_no_surer);
  tcase_add_test(tc, kept_draws_change_nothing);
  tcase_add_test(tc, a_decided_chance_is_the_whole_one);
  tcase_add_test(tc, kept_draws_forget_what_is_too_much);
  tcase_add_loop_test(tc, examples_are_ready, 0, N_PLANNED_EVENTS);
  suite_add_tcase(s, tc);
  return s;
}

PW_MAIN(suite)
