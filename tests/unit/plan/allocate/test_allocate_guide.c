/* What the search reads out of the linear program: flows are whole pieces that add up to the lots, and rents are right by
 * complementary slackness (any textbook of linear programming: at an optimum every column in use costs, at the rows'
 * prices, exactly what its lot's row is worth, and no column costs less). */
#include "harness.h"

#include "../bench/instances.h"
#include "plan/allocate/allocate_guide.h"
#include "plan/allocate/allocate_uncross.h"
#include "plan/allocate/allocate_windows.h"

#include <math.h>

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

struct solved {
  struct pw_al al;
  struct pw_al_model model;
  struct pw_lp_result lp;
  struct pw_al_guide guide;
};

static struct solved solve(int seed, double room_frac)
{
  struct pw_instance_spec spec = {"guide", 40u + (unsigned)seed, 60 + 30 * seed, 1 + seed % 3, 3 + seed % 6, seed % 2,
                                  30,      1 + seed % 2};
  struct pw_instance *in = pw_instance_make(&spec, ctx);
  struct solved s;
  struct pw_al_model_options mo = {.room_frac = room_frac};
  struct pw_lp_options lo = {.cutoff = HUGE_VAL};
  ck_assert_int_eq(pw_al_make(&s.al, &in->event, &in->lots, &in->rates, ctx), PW_OK);
  ck_assert_int_eq(pw_al_model_make(&s.model, &s.al, &mo, ctx), PW_OK);
  ck_assert_int_eq(pw_lp_solve(&s.lp, &s.model.lp, &lo, ctx), PW_OK);
  ck_assert_int_eq(s.lp.state, PW_LP_OPTIMAL);
  ck_assert_int_eq(pw_al_guide_make(&s.guide, &s.model, &s.al, &s.lp, ctx), PW_OK);
  return s;
}

/* the program takes a group's least */
static double least_off(const struct solved *s, const double *off, int group, int setting)
{
  double least = HUGE_VAL;
  for (int i = s->guide.zone_first[group]; i < s->guide.zone_first[group + 1]; i++)
    least = fmin(least, off[s->guide.zones[i] * s->al.n_settings_max + setting]);
  return least;
}

/* what one piece of a flow costs with all it takes up at its price; smoke in zone z, finish in zone y or oven f */
static double price(const struct solved *s, const struct pw_al_flow *f, int z, int y)
{
  const struct pw_al *al = &s->al;
  const struct pw_al_lot *lot = &al->lot[f->lot];
  const struct pw_lot *src = &al->lots->lots[f->lot];
  const struct pw_al_guide *g = &s->guide;
  size_t n_t = (size_t)al->n_slots + 1, n_s = (size_t)al->n_settings_max, c = (size_t)f->lot, n_p = (size_t)al->n_pits;
  size_t zs = (size_t)z * n_s + (size_t)f->setting,
         ps = (c * n_p + (size_t)al->pit_of_zone[z]) * n_s + (size_t)f->setting;
  double cents = least_off(s, lot->off1, f->group, f->setting);
  cents += (g->rack_rent[zs * n_t + (size_t)f->mid] - g->rack_rent[zs * n_t + (size_t)f->start]) *
           src->footprint_length_m * src->footprint_width_m;
  cents += g->lot_rent[ps * n_t + (size_t)f->mid] - g->lot_rent[ps * n_t + (size_t)f->start];
  if (f->place_finisher != PW_NONE) {
    size_t at = (size_t)f->place_finisher * n_t, own = (c * (size_t)al->n_finishers + (size_t)f->place_finisher) * n_t;
    cents += g->lot_oven_rent[own + (size_t)f->done] - g->lot_oven_rent[own + (size_t)f->mid];
    cents += lot->off_oven[f->place_finisher] +
             (g->oven_rent[at + (size_t)f->done] - g->oven_rent[at + (size_t)f->mid]) * lot->area_oven_m2;
  } else if (f->place_group != PW_NONE) {
    size_t ys = (size_t)y * n_s + (size_t)f->place_setting,
           qs = (c * n_p + (size_t)al->pit_of_zone[y]) * n_s + (size_t)f->place_setting;
    cents += least_off(s, lot->off2, f->place_group, f->place_setting);
    cents += (g->rack_rent[ys * n_t + (size_t)f->done] - g->rack_rent[ys * n_t + (size_t)f->mid]) *
             src->wrapped_length_m * src->wrapped_width_m;
    cents += g->lot_rent[qs * n_t + (size_t)f->done] - g->lot_rent[qs * n_t + (size_t)f->mid];
  }
  double held = (double)(lot->whole_until_at_min - lot->rest_min - al->lots->start_at_min) / al->slot_min - f->done;
  cents += held > 0 ? held * lot->hold_cents : 0;
  if (f->done < lot->hold_end)
    cents += (g->hold_rent[lot->room_end] - g->hold_rent[f->done]) * lot->pans;
  return cents;
}

START_TEST(flows_add_up_and_cost_alike)
{
  struct solved s = solve(_i, _i % 2 ? 0.75 : 0);
  const struct pw_al *al = &s.al;
  int n[64] = {0}, n_priced = 0;
  double worth[64] = {0};
  for (int i = 0; i < s.guide.n_flows; i++) {
    const struct pw_al_flow *f = &s.guide.flows[i];
    const struct pw_al_lot *lot = &al->lot[f->lot];
    ck_assert_int_gt(f->n, 0);
    n[f->lot] += f->n;
    ck_assert(f->start < f->mid && f->mid <= f->done && f->done >= lot->done_first && f->done <= lot->done_last);
    ck_assert(i == 0 || s.guide.flows[i - 1].start <= f->start);
    int z = s.guide.zones[s.guide.zone_first[f->group]];
    int y = f->place_group == PW_NONE ? z : s.guide.zones[s.guide.zone_first[f->place_group]];
    ck_assert_int_eq(f->mid - f->start, lot->d1[z * al->n_settings_max + f->setting]);
    double cents = price(&s, f, z, y);
    if (worth[f->lot] > 0) {
      PW_NEAR("two ways of one lot", cents, worth[f->lot], 1e-4, 1e-6);
      n_priced++;
    }
    worth[f->lot] = cents;
  }
  for (int c = 0; c < al->n_lots; c++)
    ck_assert_int_eq(n[c], al->lot[c].n);
  ck_assert_int_gt(n_priced, 0);
}
END_TEST

START_TEST(less_room_never_costs_less)
{
  struct solved all = solve(_i, 0), part = solve(_i, 0.8), less = solve(_i, 0.7);
  ck_assert_msg(all.lp.value <= part.lp.value + 1e-6 && part.lp.value <= less.lp.value + 1e-6, "%g %g %g", all.lp.value,
                part.lp.value, less.lp.value);
}
END_TEST

/* the window search keeps its promises: the same twice, no dearer than the plan it began with, at least the bound */
START_TEST(windows_repeat_and_keep_above_the_bound)
{
  struct solved s = solve(_i, 0.75), free = solve(_i, 0);
  struct pw_al_windows w;
  int *settings;
  double cents[2] = {0}, first[2];
  long work[2] = {0};
  ck_assert_int_eq(pw_al_model_windows(&s.model, &s.al, s.lp.x, 0.1, &w, &settings, ctx), PW_OK);
  for (int k = 0; k < 2; k++) {
    struct pw_al_run *run;
    struct pw_al_trials *trials;
    struct pw_al_trials_options o = {.seed = 3,
                                     .n_rounds_first = 200,
                                     .n_rounds_free = 100,
                                     .n_rounds_missed = 1500,
                                     .worth_cents = free.lp.value,
                                     .guide = &s.guide,
                                     .windows = &w,
                                     .settings = settings};
    ck_assert_int_eq(pw_al_run_open(&run, &s.al, ctx), PW_OK);
    ck_assert_int_eq(pw_al_trials_open(&trials, run, &s.al, &o, ctx), PW_OK);
    ck_assert_int_eq(pw_al_trials_first(trials), PW_OK);
    const struct pw_al_solution *best = pw_al_trials_best(trials);
    first[k] = best->cost_cents;
    ck_assert_int_eq(pw_al_trials_go(trials, 600), PW_OK);
    ck_assert_int_eq(pw_al_trials_go(trials, 900), PW_OK);
    ck_assert_int_eq(best->n_missed, 0);
    ck_assert(best->cost_cents >= free.lp.value - 1e-6);
    ck_assert(best->cost_cents <= first[k] + 1e-9);
    ck_assert(best->n_rounds >= 1500);
    cents[k] = best->cost_cents;
    work[k] = best->n_rounds;
    /* a target that is met ends it before a trial is made */
    o.target_cents = 2 * first[k];
    ck_assert_int_eq(pw_al_trials_open(&trials, run, &s.al, &o, ctx), PW_OK);
    ck_assert_int_eq(pw_al_trials_first(trials), PW_OK);
    long before = pw_al_trials_best(trials)->n_rounds;
    ck_assert_int_eq(pw_al_trials_go(trials, 900), PW_OK);
    ck_assert_int_eq(pw_al_trials_best(trials)->n_rounds, before);
    ck_assert_int_eq(pw_al_trials_best(trials)->stopped_by, PW_STOP_GAP);
  }
  ck_assert(cents[0] == cents[1] && work[0] == work[1]);
}
END_TEST

static int pits_in_use(const struct pw_al *al, const struct pw_al_solution *plan)
{
  bool is_used[8] = {false};
  int n = 0;
  for (int i = 0; i < plan->n_pieces; i++) {
    const struct pw_al_piece *piece = &plan->pieces[i];
    is_used[al->pit_of_zone[piece->zone]] = true;
    if (piece->place != PW_NONE && piece->place < al->n_zones)
      is_used[al->pit_of_zone[piece->place]] = true;
  }
  for (int p = 0; p < al->n_pits; p++)
    n += is_used[p];
  return n;
}

/* the plan of a search that may use pit p alone */
static struct pw_al_solution alone(const struct pw_al *al, int p)
{
  struct pw_al_windows w = {pw_arena_array(ctx->arena, 8, sizeof(int)), pw_arena_array(ctx->arena, 8, sizeof(int))};
  struct pw_al_solution found;
  w.to[p] = al->n_slots;
  struct pw_al_search_options o = {.seed = 1, .n_rounds = 300, .heat_frac = 0.01, .limits = &w};
  ck_assert_int_eq(pw_al_search(&found, al, &o, ctx), PW_OK);
  ck_assert_int_eq(found.n_missed, 0);
  ck_assert_int_eq(pits_in_use(al, &found), 1);
  return found;
}

/* what one pit holds alone, cooked on two: the search over windows lets one of the fires out, whichever it is */
START_TEST(a_fire_too_many_goes_out)
{
  struct pw_instance_spec spec = {"two fires", 40u + (unsigned)_i, 40, 2, 4, false, 30, 1};
  struct pw_instance *in = pw_instance_make(&spec, ctx);
  struct pw_al al;
  struct pw_al_run *run;
  struct pw_al_trials *trials;
  ck_assert_int_eq(pw_al_make(&al, &in->event, &in->lots, &in->rates, ctx), PW_OK);
  ck_assert(al.n_pits == 2 && al.n_days == 1);
  struct pw_al_solution one[2] = {alone(&al, 0), alone(&al, 1)}, two;
  struct pw_al_piece *pieces = pw_arena_array(ctx->arena, (size_t)one[0].n_pieces, sizeof *pieces);
  for (int i = 0; i < one[0].n_pieces; i++)
    pieces[i] = one[one[0].pieces[i].lot % 2].pieces[i];
  struct pw_al_search_options as_it_is = {.pieces = pieces, .settings = one[0].settings};
  ck_assert_int_eq(pw_al_search(&two, &al, &as_it_is, ctx), PW_OK);
  ck_assert_int_eq(two.n_missed, 0);
  ck_assert_int_eq(pits_in_use(&al, &two), 2);
  double least = fmin(one[0].cost_cents, one[1].cost_cents);
  ck_assert(two.cost_cents > 1.1 * least);
  struct pw_al_trials_options o = {.seed = 3, .worth_cents = least};
  ck_assert_int_eq(pw_al_run_open(&run, &al, ctx), PW_OK);
  ck_assert_int_eq(pw_al_trials_open(&trials, run, &al, &o, ctx), PW_OK);
  pw_al_trials_from(trials, &two);
  ck_assert_int_eq(pw_al_trials_fewer(trials, 1000 * 1000), PW_OK);
  const struct pw_al_solution *best = pw_al_trials_best(trials);
  ck_assert_int_eq(best->n_missed, 0);
  ck_assert_int_eq(pits_in_use(&al, best), 1);
  ck_assert_msg(best->cost_cents < 1.1 * least, "%g, on two %g, alone %g", best->cost_cents, two.cost_cents, least);
  /* the last fire is not tried: nobody could take its food */
  long before = best->n_rounds;
  ck_assert_int_eq(pw_al_trials_fewer(trials, 1000 * 1000), PW_OK);
  ck_assert_int_eq(best->n_rounds, before);
}
END_TEST

static int n_carried(const struct pw_al *al, const struct pw_al_solution *plan)
{
  int n = 0;
  for (int i = 0; i < plan->n_pieces; i++)
    n += plan->pieces[i].place != PW_NONE && plan->pieces[i].place < al->n_zones &&
         plan->pieces[i].place != plan->pieces[i].zone;
  return n;
}

/* Like pieces that are carried past each other stay where they are; a plan without such is left as it is. */
START_TEST(like_pieces_do_not_cross)
{
  struct pw_instance_spec spec = {"crossing", 70u + (unsigned)_i, 300, 3, 8, false, 30, 1};
  struct pw_instance *in = pw_instance_make(&spec, ctx);
  struct pw_al al;
  struct pw_al_solution plan;
  struct pw_al_search_options o = {.seed = 1, .n_rounds = 200, .heat_frac = 0.01};
  int n_crossed = 0;
  ck_assert_int_eq(pw_al_make(&al, &in->event, &in->lots, &in->rates, ctx), PW_OK);
  ck_assert_int_eq(pw_al_search(&plan, &al, &o, ctx), PW_OK);
  ck_assert_int_eq(plan.n_missed, 0);
  ck_assert_int_eq(pw_al_uncross(&plan, &al, ctx), PW_OK);
  double cents = plan.cost_cents;
  int n = n_carried(&al, &plan);
  const struct pw_al_piece *was = plan.pieces;
  ck_assert_int_eq(pw_al_uncross(&plan, &al, ctx), PW_OK);
  ck_assert_ptr_eq(plan.pieces, was);
  for (int i = 0; i < plan.n_pieces; i++)
    for (int k = i + 1; k < plan.n_pieces; k++) {
      struct pw_al_piece *a = &plan.pieces[i], *b = &plan.pieces[k], old = *a;
      bool is_alike = a->lot == b->lot && a->mid == b->mid && a->zone == a->place && b->zone == b->place;
      if (!is_alike || a->zone == b->zone)
        continue;
      a->place = b->place, a->done = b->done, a->box = b->box;
      a->x2 = b->x2, a->y2 = b->y2, a->is_turned2 = b->is_turned2;
      b->place = old.place, b->done = old.done, b->box = old.box;
      b->x2 = old.x2, b->y2 = old.y2, b->is_turned2 = old.is_turned2;
      plan.cost_cents += 2 * al.move_cents;
      n_crossed++;
      i = plan.n_pieces;
      break;
    }
  ck_assert_int_gt(n_crossed, 0);
  ck_assert_int_eq(n_carried(&al, &plan), n + 2);
  ck_assert_int_eq(pw_al_uncross(&plan, &al, ctx), PW_OK);
  ck_assert_int_eq(n_carried(&al, &plan), n);
  PW_NEAR("cost", plan.cost_cents, cents, 0, 1e-6);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("allocate_guide");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 240);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, flows_add_up_and_cost_alike, 0, 8);
  tcase_add_loop_test(t, less_room_never_costs_less, 0, 4);
  tcase_add_loop_test(t, windows_repeat_and_keep_above_the_bound, 0, 2);
  tcase_add_loop_test(t, a_fire_too_many_goes_out, 0, 4);
  tcase_add_loop_test(t, like_pieces_do_not_cross, 0, 3);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
