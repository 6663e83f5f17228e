/* Whole allocations: toys whose every plan is enumerated here, and problems made from a seed; each plan is checked by
 * plain code (allocation_rules.h), each bound against the best plan known. */
#include "allocation_rules.h"
#include "dice.h"

#include "../bench/instances.h"
#include "plan/allocate/allocate_cuts.h"

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

static struct pw_allocation plan(const struct problem *p, enum pw_effort effort)
{
  struct pw_allocation a;
  struct pw_allocate_options o = {.effort = effort, .seed = 7};
  ck_assert_int_eq(pw_allocate_make(&a, p->event, p->lots, p->rates, &o, ctx), PW_OK);
  return a;
}

/* The linear model's bound as it comes, which the plan's own figure cannot show: that is cut to the cost.  With all
 * cuts; `pieces_whole` solves the integer model that --dump-model writes. */
static double bare_bound(const struct problem *p, int merge_slots, bool pieces_whole)
{
  struct pw_al al;
  struct pw_al_model model;
  struct pw_al_cuts cuts;
  struct pw_lp_result r;
  struct pw_al_model_options mo = {.merge_slots = merge_slots, .pieces_whole = pieces_whole};
  struct pw_lp_options lo = {.cutoff = HUGE_VAL};
  double bound = 0;
  ck_assert_int_eq(pw_al_make(&al, p->event, p->lots, p->rates, ctx), PW_OK);
  ck_assert_int_eq(pw_al_model_make(&model, &al, &mo, ctx), PW_OK);
  ck_assert_int_eq(pw_al_cuts_init(&cuts, &model, &al, ctx), PW_OK);
  for (int k = 0, n_added = 1; k < 8 && n_added; k++) {
    ck_assert_int_eq(pw_lp_solve(&r, &model.lp, &lo, ctx), PW_OK);
    ck_assert_int_eq(r.state, PW_LP_OPTIMAL);
    double dual = pw_lp_dual_bound(&model.lp, r.dual);
    PW_NEAR("dual bound and relaxation", dual, r.relaxed, 1e-3, 1e-6);
    ck_assert(dual >= bound - 1e-3);
    bound = fmax(bound, dual);
    ck_assert_int_eq(pw_al_cuts_add(&cuts, &model.lp, r.x, &n_added), PW_OK);
  }
  if (model.lp.n_cols < 500 || pieces_whole) {
    lo.as_integer = true;
    lo.n_iterations = 20000;
    ck_assert_int_eq(pw_lp_solve(&r, &model.lp, &lo, ctx), PW_OK);
    bound = fmax(bound, r.bound);
  }
  return bound;
}

/* ---- toys: two pits of one zone, three lots, five pieces; a zone holds two pieces, the oven one ---- */

enum { SLOT = 60, N_LOTS = 3, OPTIONS_MAX = 64, HORIZON = 10 };

struct toy {
  double hot_c[2], rate[2], light[2];
  int smoke[N_LOTS][2], finish[N_LOTS][2], oven[N_LOTS]; /* slots, by pit */
  int service[N_LOTS];
  double hold_cents, box_pans, load_min;
  bool has_crew;
};

struct toy_variant {
  bool lots_reversed, pits_swapped, is_one_pit;
  int more_hold; /* slots */
};

static void *need(size_t n, size_t size)
{
  void *p = pw_arena_array(ctx->arena, n, size);
  ck_assert_ptr_nonnull(p);
  return p;
}
#define NEW(n, type) ((type *)need((size_t)(n), sizeof(type)))

static struct toy toy_draw(int seed)
{
  state = 2000u + (unsigned)seed;
  struct toy toy = {.hold_cents = 5 * below(5), .box_pans = 1.5 + 0.5 * below(3), .has_crew = seed % 3 == 1};
  for (int p = 0; p < 2; p++) {
    toy.hot_c[p] = 115 + below(20);
    toy.rate[p] = 100 + 10 * below(30);
    toy.light[p] = 150 + 10 * below(40);
  }
  for (int c = 0; c < N_LOTS; c++) {
    for (int p = 0; p < 2; p++) {
      toy.smoke[c][p] = 1 + below(3);
      toy.finish[c][p] = 1 + below(2);
    }
    toy.oven[c] = 1 + below(2);
    toy.service[c] = below(2);
  }
  toy.load_min = toy.has_crew ? 20 : 1;
  return toy;
}

static struct problem toy_make(const struct toy *toy, struct toy_variant v)
{
  int n_pits = v.is_one_pit ? 1 : 2;
  struct pw_event *ev = NEW(1, struct pw_event);
  struct pw_lots *lots = NEW(1, struct pw_lots);
  struct pw_fuel_rates *rates = NEW(1, struct pw_fuel_rates);
  ev->file = "toy";
  ev->slot_min = SLOT;
  ev->effort = (struct pw_effort_prices){.opening_cents = 7,
                                         .place_cents = 4,
                                         .move_cents_per_piece = 9,
                                         .hold_cents_per_piece_h = toy->hold_cents,
                                         .tend_cents_per_h = 600,
                                         .off_best_cents_per_piece_k = 0.5};
  ev->n_services = 2;
  ev->services = NEW(2, struct pw_service);
  ev->services[0] = (struct pw_service){.id = "lunch", .at_min = 7 * SLOT};
  ev->services[1] = (struct pw_service){.id = "dinner", .at_min = HORIZON * SLOT};
  ev->n_crew = toy->has_crew;
  ev->crew = NEW(1, struct pw_crew);
  ev->crew[0] = (struct pw_crew){.role = "cook", .duties = 1u << PW_DUTY_PIT, .count = 1, .to_at_min = HORIZON * SLOT};
  ev->n_cuts = N_LOTS;
  ev->cuts = NEW(N_LOTS, struct pw_cut);
  ev->n_pits = n_pits;
  ev->pits = NEW(n_pits, struct pw_pit);
  ev->n_finishers = 2;
  ev->finishers = NEW(2, struct pw_finisher);
  ev->finishers[0] =
      (struct pw_finisher){.id = "oven", .kind = PW_OVEN, .capacity = 0.15, .temp_c = 125, .cents_per_h = 60};
  ev->finishers[1] =
      (struct pw_finisher){.id = "box", .kind = PW_HOLD, .capacity = toy->box_pans, .is_in_pans = true, .temp_c = 66};
  lots->zones = NEW(2, struct pw_zone);
  lots->n_zones = n_pits;
  lots->slot_min = SLOT;
  lots->end_at_min = HORIZON * SLOT;
  lots->n_lots = N_LOTS;
  lots->lots = NEW(N_LOTS, struct pw_lot);
  rates->burn_cents_per_h = NEW(2, double *);
  rates->light_cents = NEW(2, double *);
  for (int p = 0; p < n_pits; p++) {
    int k = v.pits_swapped ? 1 - p : p;
    struct pw_pit *pit = &ev->pits[p];
    *pit = (struct pw_pit){.id = k ? "second" : "first",
                           .alike = p,
                           .n_settings = 1,
                           .n_racks = 1,
                           .ready_min = 45,
                           .n_burns_max = 1,
                           .tend_min_per_h = 6};
    pit->settings = NEW(1, struct pw_setting);
    pit->racks = NEW(1, struct pw_rack);
    pit->racks[0] =
        (struct pw_rack){.id = "main", .outline = PW_RECTANGLE, .length_m = 0.6, .depth_m = 0.4, .n_zones = 1};
    lots->zones[p] = (struct pw_zone){.pit = p, .id = pit->id, .length_m = 0.6, .depth_m = 0.4};
    lots->zones[p].temp_c = NEW(1, double);
    lots->zones[p].temp_c[0] = toy->hot_c[k];
    rates->burn_cents_per_h[p] = NEW(1, double);
    rates->light_cents[p] = NEW(1, double);
    rates->burn_cents_per_h[p][0] = toy->rate[k];
    rates->light_cents[p][0] = toy->light[k];
  }
  for (int i = 0; i < N_LOTS; i++) {
    int c = v.lots_reversed ? N_LOTS - 1 - i : i;
    struct pw_lot *lot = &lots->lots[i];
    int service = ev->services[toy->service[c]].at_min;
    ev->cuts[c] = (struct pw_cut){.id = "cut",
                                  .smoke = {.is_used = true, .best_c = 120 + c},
                                  .finish = {.best_c = 125},
                                  .pans_per_piece = 0.5,
                                  .load_min = toy->load_min,
                                  .wrap_min = 2,
                                  .unload_min = 1};
    *lot = (struct pw_lot){.id = c == 0   ? "a"
                                 : c == 1 ? "b"
                                          : "c",
                           .cut = c,
                           .service = toy->service[c],
                           .pieces = c == 1 ? 1 : 2,
                           .has_finish = c == 1,
                           .footprint_length_m = 0.3,
                           .footprint_width_m = 0.4,
                           .wrapped_length_m = 0.3,
                           .wrapped_width_m = 0.4,
                           .rest_min = 15,
                           .hold_max_min = (2 + v.more_hold) * SLOT + 45};
    lot->by_at_min = lot->until_at_min = lot->whole_until_at_min = service;
    lot->done_last_min = service - SLOT;
    lot->done_first_min = service - (3 + v.more_hold) * SLOT;
    lot->smoke_min = NEW(2, int *);
    lot->finish_min = NEW(2, int *);
    lot->oven_min = NEW(2, int);
    lot->oven_min[0] = lot->has_finish ? toy->oven[c] * SLOT : PW_NONE;
    lot->oven_min[1] = PW_NONE;
    for (int p = 0; p < n_pits; p++) {
      int k = v.pits_swapped ? 1 - p : p;
      lot->smoke_min[p] = NEW(1, int);
      lot->finish_min[p] = NEW(1, int);
      lot->smoke_min[p][0] = toy->smoke[c][k] * SLOT;
      lot->finish_min[p][0] = lot->has_finish ? toy->finish[c][k] * SLOT : PW_NONE;
    }
  }
  return (struct problem){ev, lots, rates};
}

/* every way to cook a piece of lot c, and not to cook it */
static int toy_options(struct trip *out, const struct problem *p, int c)
{
  const struct pw_lot *lot = &p->lots->lots[c];
  int n = 0, n_zones = p->lots->n_zones;
  out[n++] = (struct trip){.lot = c};
  for (int done = lot->done_first_min; done <= lot->done_last_min; done += SLOT)
    for (int z = 0; z < n_zones; z++)
      for (int place = lot->has_finish ? 0 : -1; place < (lot->has_finish ? n_zones + 1 : 0); place++) {
        int mid = done - (place < 0 ? 0 : place < n_zones ? lot->finish_min[place][0] : lot->oven_min[0]);
        int start = mid - lot->smoke_min[z][0];
        if (start < SLOT) /* the fire takes 45 minutes: nothing goes on in the first slot */
          continue;
        ck_assert_int_lt(n, OPTIONS_MAX);
        out[n++] = (struct trip){c, z, place, 1, start, mid, done, 0, 0, true};
      }
  return n;
}

/* cost of five trips, or HUGE_VAL: a zone holds two at a time; a pit burns from its first food to its last */
static double toy_cost(const struct problem *p, const struct trip *trips)
{
  int n_zones = p->lots->n_zones, n_burns = 0;
  struct pw_burn burns[2];
  for (int z = 0; z < n_zones; z++) {
    int from = HORIZON * SLOT, to = 0;
    for (int t = 0; t < HORIZON * SLOT; t += SLOT) {
      int n = 0;
      for (int i = 0; i < 5; i++) {
        const struct trip *r = &trips[i];
        bool smokes = r->zone == z && r->start <= t && t < r->mid;
        n += r->is_placed && (smokes || (r->place == z && r->mid <= t && t < r->done));
      }
      if (n > 2)
        return HUGE_VAL;
      if (n) {
        from = t < from ? t : from;
        to = t + SLOT;
      }
    }
    if (from < to)
      burns[n_burns++] = (struct pw_burn){.pit = z, .ready_at_min = from, .out_at_min = to};
  }
  return rules_has_room(p, trips, 5) ? rules_cost(p, trips, 5, burns, n_burns) : HUGE_VAL;
}

static double toy_optimum(const struct problem *p, int *n_missed)
{
  static struct trip o[N_LOTS][OPTIONS_MAX];
  int n[N_LOTS], one = 0, two[2], k = 0;
  for (int c = 0; c < N_LOTS; c++) {
    n[c] = toy_options(o[c], p, c);
    if (p->lots->lots[c].pieces == 1)
      one = c;
    else
      two[k++] = c;
  }
  double best = HUGE_VAL;
  struct trip t[5];
  for (int a = 0; a < n[two[0]]; a++)
    for (int b = a; b < n[two[0]]; b++)
      for (int c = 0; c < n[one]; c++)
        for (int d = 0; d < n[two[1]]; d++)
          for (int e = d; e < n[two[1]]; e++) {
            t[0] = o[two[0]][a], t[1] = o[two[0]][b], t[2] = o[one][c], t[3] = o[two[1]][d], t[4] = o[two[1]][e];
            double cost = toy_cost(p, t);
            if (cost < best) {
              best = cost;
              *n_missed = !t[0].is_placed + !t[1].is_placed + !t[2].is_placed + !t[3].is_placed + !t[4].is_placed;
            }
          }
  return best;
}

START_TEST(toys_reach_the_enumerated_optimum)
{
  struct toy toy = toy_draw(_i);
  struct problem p = toy_make(&toy, (struct toy_variant){0});
  int n_missed = 0;
  double best = toy_optimum(&p, &n_missed);
  struct pw_allocation a = plan(&p, PW_EFFORT_FULL);
  rules_check(&p, &a);
  PW_NEAR("cost", a.cost_cents, best, 1e-6, 0);
  ck_assert_int_eq(a.n_missed, n_missed);
  for (int merge = 0; merge < 2; merge++) {
    double bound = bare_bound(&p, merge, false);
    ck_assert_msg(bound <= best + 1e-6, "bound %.9g, optimum %.9g", bound, best);
    ck_assert(n_missed > 0 ||
              bound > 0.3 * best); /* the program counts a missing piece as if it were its lot's first */
  }
  double whole = bare_bound(&p, 0, true);
  ck_assert_msg(whole <= best + 1e-6, "integer model %.9g, optimum %.9g", whole, best);
}
END_TEST

/* what must and must not change the optimum: the plans reach each variant's own, which is enumerated */
START_TEST(toys_varied)
{
  struct toy toy = toy_draw(_i);
  static const struct toy_variant variants[] = {
      {0}, {.lots_reversed = true}, {.pits_swapped = true}, {.is_one_pit = true}, {.more_hold = 1}};
  double cost[5], best[5];
  int missed[5];
  for (int k = 0; k < 5; k++) {
    struct problem p = toy_make(&toy, variants[k]);
    best[k] = toy_optimum(&p, &missed[k]);
    struct pw_allocation a = plan(&p, PW_EFFORT_FULL);
    rules_check(&p, &a);
    cost[k] = a.cost_cents;
    PW_NEAR("optimum", cost[k], best[k], 1e-6, 0);
  }
  PW_NEAR("lots in another order", cost[1], cost[0], 1e-6, 0);
  PW_NEAR("pits in another order", cost[2], cost[0], 1e-6, 0);
  ck_assert_int_ge(missed[3], missed[0]);
  if (missed[3] == 0) /* what a missed piece costs depends on the pits there are */
    ck_assert_msg(cost[3] >= cost[0] - 1e-6, "one pit %.9g, two %.9g", cost[3], cost[0]);
  ck_assert_msg(cost[4] <= cost[0] + 1e-6, "longer hold %.9g, shorter %.9g", cost[4], cost[0]);
}
END_TEST

/* ---- problems made from a seed ---- */

static struct problem problem_make(const struct pw_instance_spec *spec, bool has_crew)
{
  struct pw_instance *in = pw_instance_make(spec, ctx);
  if (has_crew) { /* one pair of hands by night, two more by day */
    in->event.crew = NEW(2, struct pw_crew);
    in->event.n_crew = 2;
    unsigned duties = 1u << PW_DUTY_PIT;
    in->event.crew[0] = (struct pw_crew){.role = "night", .duties = duties, .count = 1, .from_at_min = -4000};
    in->event.crew[0].to_at_min = 4000;
    in->event.crew[1] = (struct pw_crew){.role = "day", .duties = duties, .count = 2, .from_at_min = 360};
    in->event.crew[1].to_at_min = 1320;
  }
  return (struct problem){&in->event, &in->lots, &in->rates};
}

START_TEST(random_problems_keep_every_rule)
{
  struct pw_instance_spec spec = {"random", 100u + (unsigned)_i, 20 + 17 * (_i % 11), 1 + _i % 4, 3 + _i % 9, _i % 2,
                                  30,       1 + _i % 3};
  struct problem p = problem_make(&spec, _i % 5 == 0);
  struct pw_allocation a = plan(&p, PW_EFFORT_QUICK);
  rules_check(&p, &a);
  if (spec.n_pits <= 2 && spec.n_lots <= 6) {
    double bound = bare_bound(&p, _i % 2, false);
    ck_assert_msg(bound <= a.cost_cents + 1e-6, "bound %.9g, a plan costs %.9g", bound, a.cost_cents);
  }
}
END_TEST

START_TEST(a_small_problem)
{
  struct pw_instance_spec spec = {"tiny", 900u + (unsigned)_i, 12, 1, 3, false, 60, 1 + _i};
  struct problem p = problem_make(&spec, _i);
  struct pw_allocation a = plan(&p, PW_EFFORT_QUICK);
  rules_check(&p, &a);
}
END_TEST

START_TEST(full_plans_are_bounded_repeatable_and_no_worse_than_quick)
{
  struct pw_instance_spec spec = {"small", 500u + (unsigned)_i, 30 + 10 * _i, 1 + _i % 2, 3, false, 30, 1 + _i % 2};
  struct problem p = problem_make(&spec, _i == 1);
  struct pw_allocation quick = plan(&p, PW_EFFORT_QUICK), a = plan(&p, PW_EFFORT_FULL), b = plan(&p, PW_EFFORT_FULL);
  rules_check(&p, &a);
  ck_assert(a.cost_cents <= quick.cost_cents + 1e-6);
  ck_assert(a.bound_cents > 0);
  double bound = bare_bound(&p, 0, false);
  ck_assert_msg(bound <= a.cost_cents + 1e-6, "bound %.9g, a plan costs %.9g", bound, a.cost_cents);
  ck_assert(a.cost_cents == b.cost_cents && a.bound_cents == b.bound_cents && a.work == b.work);
  ck_assert(a.n_loads == b.n_loads && a.n_burns == b.n_burns);
  ck_assert(memcmp(a.burns, b.burns, (size_t)a.n_burns * sizeof *a.burns) == 0);
  for (int i = 0; i < a.n_loads; i++) {
    struct pw_load l = a.loads[i], m = b.loads[i];
    size_t n = (size_t)l.pieces;
    ck_assert(l.pieces == m.pieces && l.zone == m.zone && l.finisher == m.finisher && l.lot == m.lot);
    ck_assert(l.stage == m.stage && l.start_at_min == m.start_at_min && l.end_at_min == m.end_at_min);
    ck_assert(memcmp(l.piece_ids, m.piece_ids, n * sizeof *l.piece_ids) == 0);
    ck_assert_int_eq(l.rects != NULL, m.rects != NULL);
    ck_assert(!l.rects || memcmp(l.rects, m.rects, n * sizeof *l.rects) == 0);
  }
}
END_TEST

/* The safety net is told of, and what it leaves is a plan that keeps every rule. */
START_TEST(a_plan_says_that_its_time_was_up)
{
  struct pw_instance_spec spec = {"hurried", 30, 60, 2, 5, false, 30, 1};
  struct problem p = problem_make(&spec, false);
  struct pw_allocate_options o = {.effort = PW_EFFORT_FULL, .seed = 7};
  struct pw_allocation whole, cut;
  ck_assert_int_eq(pw_allocate_make(&whole, p.event, p.lots, p.rates, &o, ctx), PW_OK);
  o.seconds = 1e-6;
  ck_assert_int_eq(pw_allocate_make(&cut, p.event, p.lots, p.rates, &o, ctx), PW_OK);
  rules_check(&p, &cut);
  ck_assert_int_ne(whole.stopped_by, PW_STOP_TIME);
  ck_assert_int_eq(cut.stopped_by, PW_STOP_TIME);
  ck_assert(cut.work < whole.work);
}
END_TEST

START_TEST(too_little_rack_is_named)
{
  struct pw_instance_spec spec = {"short", 9, 60, 1, 4, false, 30, 1};
  struct pw_instance *in = pw_instance_make(&spec, ctx);
  struct problem p = {&in->event, &in->lots, &in->rates};
  for (int c = 0; c < in->lots.n_lots; c++)
    in->lots.lots[c].pieces *= 12;
  struct pw_allocation a = plan(&p, PW_EFFORT_FULL);
  rules_check(&p, &a);
  ck_assert_int_eq(a.outcome, PW_OUTCOME_SHORT);
  ck_assert_int_gt(a.n_missed, 0);
  ck_assert_int_gt(a.n_shortages, 0);
  int n = 0;
  for (int i = 0; i < a.n_shortages; i++) {
    n += a.shortages[i].pieces;
    ck_assert_ptr_nonnull(a.shortages[i].text);
  }
  ck_assert_int_eq(n, a.n_missed);
  for (int i = 0; i < a.n_remedies; i++)
    ck_assert_int_lt(a.remedies[i].missed_after, a.n_missed);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("allocate");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 240); /* for the sanitizers; nothing here asserts a time */
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, toys_reach_the_enumerated_optimum, 0, 6);
  tcase_add_loop_test(t, toys_varied, 6, 8);
  tcase_add_loop_test(t, random_problems_keep_every_rule, 0, 100);
  tcase_add_loop_test(t, full_plans_are_bounded_repeatable_and_no_worse_than_quick, 0, 3);
  tcase_add_test(t, a_plan_says_that_its_time_was_up);
  tcase_add_test(t, too_little_rack_is_named);
  suite_add_tcase(s, t);
  TCase *few = tcase_create("few"); /* what the memory check has the patience for */
  tcase_set_timeout(few, 240);
  tcase_add_checked_fixture(few, set_up, tear_down);
  tcase_add_loop_test(few, a_small_problem, 0, 2);
  suite_add_tcase(s, few);
  return s;
}

PW_MAIN(suite)
