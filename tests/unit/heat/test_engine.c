/* The finite-volume engine against the series solution, its orders of convergence, its energy and water books. */
#include "harness.h"
#include "heat/air.h"
#include "heat/conduct.h"
#include "heat/engine.h"

static const enum pw_shape shapes[] = {PW_SHAPE_SLAB, PW_SHAPE_CYLINDER, PW_SHAPE_SPHERE};
static const char *shape_names[] = {"slab", "cylinder", "sphere"};

static struct pw_engine_body body_of(enum pw_shape shape, int cells)
{
  return (struct pw_engine_body){.dims = pw_conduct_shape_dims(shape),
                                 .half_m = 0.05,
                                 .conductivity_w_mk = 0.45,
                                 .heat_j_m3k = 3.4e6,
                                 .cells = cells};
}

/** Convection only, as the series solution has it: dry surface, and air without vapour that could condense. */
static struct pw_engine_bath plain_bath(void)
{
  return (struct pw_engine_bath){.air_c = 120, .h_w_m2k = 18, .pressure_pa = 101325, .walls_c = 120};
}

static double time_to(enum pw_shape shape, int cells, double step_s, double target_c)
{
  struct pw_engine_body body = body_of(shape, cells);
  struct pw_engine_bath bath = plain_bath();
  struct pw_engine_state state;
  pw_engine_start(&state, &body, 5);
  return pw_engine_run(&body, &bath, &state, target_c, step_s, 1e6, NULL, NULL);
}

static double series_time(enum pw_shape shape, double target_c)
{
  struct pw_conduct c;
  struct pw_engine_body b = body_of(shape, 4);
  pw_conduct_make(&c, shape, 18 * b.half_m / b.conductivity_w_mk);
  return pw_conduct_fo(&c, (120 - target_c) / 115) * b.half_m * b.half_m * b.heat_j_m3k / b.conductivity_w_mk;
}

START_TEST(meets_the_series)
{
  for (double target = 30; target <= 110; target += 20)
    PW_NEAR(shape_names[_i], time_to(shapes[_i], 80, 10, target), series_time(shapes[_i], target), 0, 3e-4);
}
END_TEST

/** Finite bodies, half 5 cm, Bi 2 and 0.4: the short cylinder and the brick by the product solution (Carslaw and Jaeger), the
 *  engine in the dimensions that decay as fast. */
static const struct {
  const char *name;
  enum pw_shape shape;
  double h;
  int n;
  double halves[2];
} finite[] = {{"cube", PW_SHAPE_SLAB, 18, 2, {1, 1}},
              {"chicken half", PW_SHAPE_SLAB, 18, 2, {2.3, 3.2}},
              {"brisket", PW_SHAPE_SLAB, 18, 2, {2.75, 4.75}},
              {"square bar", PW_SHAPE_SLAB, 18, 1, {1}},
              {"short cylinder", PW_SHAPE_CYLINDER, 18, 1, {1}},
              {"picnic shoulder", PW_SHAPE_CYLINDER, 18, 1, {2}},
              {"cube, slow air", PW_SHAPE_SLAB, 3.6, 2, {1, 1}},
              {"short cylinder, slow air", PW_SHAPE_CYLINDER, 3.6, 1, {1}}};

START_TEST(finite_bodies_meet_the_product_solution)
{
  struct pw_engine_body body = body_of(finite[_i].shape, 40);
  struct pw_engine_bath bath = plain_bath();
  double bi = finite[_i].h * body.half_m / body.conductivity_w_mk,
         unit_s = body.half_m * body.half_m * body.heat_j_m3k / body.conductivity_w_mk;
  bath.h_w_m2k = finite[_i].h;
  struct pw_conduct_finite f;
  pw_conduct_finite_make(&f, finite[_i].shape, bi, finite[_i].halves, finite[_i].n);
  for (int late = 0; late < 2; late++) {
    body.dims = pw_conduct_finite_dims(&f, late ? 0.0 : 0.4);
    double times[6], want[6];
    for (int k = 0; k < 6; k++) { /* theta 0.6, 0.5 .. 0.1 */
      double theta = 0.6 - 0.1 * k;
      struct pw_engine_state state;
      pw_engine_start(&state, &body, 5);
      times[k] = pw_engine_run(&body, &bath, &state, 120 - theta * 115, 10, 1e6, NULL, NULL);
      want[k] = pw_conduct_finite_fo(&f, theta) * unit_s;
    }
    if (late)
      PW_NEAR(finite[_i].name, times[5] - times[4], want[5] - want[4], 0, 0.08);
    else
      for (int k = 0; k < 6; k++)
        PW_NEAR(finite[_i].name, times[k], want[k], 0, k == 2 ? 0.006 : k < 4 ? 0.06 : 0.12);
  }
}
END_TEST

/* Halving the cells' width quarters the error: order 2 in space, against the exact series. */
START_TEST(second_order_in_space)
{
  double exact = series_time(shapes[_i], 71);
  double coarse = fabs(time_to(shapes[_i], 10, 4, 71) - exact), fine = fabs(time_to(shapes[_i], 20, 4, 71) - exact),
         finer = fabs(time_to(shapes[_i], 40, 4, 71) - exact);
  double order = log2(coarse / fine), order2 = log2(fine / finer);
  ck_assert_msg(order > 1.8 && order < 2.3 && order2 > 1.8 && order2 < 2.3, "%s: orders %.2f, %.2f", shape_names[_i],
                order, order2);
}
END_TEST

/** Core after two hours by step length; wet: evaporation, dew and crust too. */
static double core_after(enum pw_shape shape, double step_s, bool is_wet)
{
  struct pw_engine_body body = body_of(shape, 20);
  struct pw_engine_bath bath = plain_bath();
  struct pw_engine_state state;
  bath.emissivity_frac = 0.9;
  if (is_wet) {
    bath.vapour_pa = 4000;
    bath.wet_frac = 0.8;
    bath.juice_frac = 0.6;
    body.bound_kg_m3 = 300;
    body.free_kg_m2 = 0.1;
  }
  pw_engine_start(&state, &body, 5);
  pw_engine_run(&body, &bath, &state, 1e3, step_s, 2 * 3600, NULL, NULL);
  return pw_engine_core_c(&state);
}

/* Halving the step quarters the error with conduction, convection and radiation. */
START_TEST(second_order_in_time)
{
  double exact = core_after(shapes[_i], 1.875, false);
  double coarse = fabs(core_after(shapes[_i], 240, false) - exact),
         fine = fabs(core_after(shapes[_i], 120, false) - exact),
         finer = fabs(core_after(shapes[_i], 60, false) - exact);
  double order = log2(coarse / fine), order2 = log2(fine / finer);
  ck_assert_msg(order > 1.8 && order < 2.5 && order2 > 1.8 && order2 < 2.5,
                "%s: errors %.2e %.2e %.2e, orders %.2f, %.2f", shape_names[_i], coarse, fine, finer, order, order2);
}
END_TEST

/* With dew, juice, film and a growing crust the steps are of first order: from 240 s to 15 s, sixteen times shorter, the error
 * falls at least eight times, and at 120 s it is a quarter of a kelvin at most. */
START_TEST(converges_in_time_when_wet)
{
  double exact = core_after(shapes[_i], 0.9375, true);
  double coarse = fabs(core_after(shapes[_i], 240, true) - exact),
         usual = fabs(core_after(shapes[_i], 120, true) - exact), fine = fabs(core_after(shapes[_i], 15, true) - exact);
  ck_assert_msg((fine < coarse / 8 || fine < 0.02) && usual < 0.25, "%s: errors %.2e %.2e %.2e", shape_names[_i],
                coarse, usual, fine);
}
END_TEST

/** Heat through the surface, summed by the watcher from the outside. */
struct books {
  const struct pw_engine_body *body;
  const struct pw_engine_bath *bath;
  double last_s, heat_j_m2, water_kg_m2, last_flux, last_rate;
};

static double flux_of(const struct books *b, const struct pw_engine_state *s)
{
  double dx = b->body->half_m / b->body->cells;
  return b->body->conductivity_w_mk * (s->surface_c - s->cell_c[b->body->cells - 1]) / (0.5 * dx);
}

static bool keep_books(void *user, const struct pw_engine_state *s, double core_c)
{
  struct books *b = user;
  double flux = flux_of(b, s), dt = s->time_s - b->last_s;
  ck_assert(core_c < 200);
  b->heat_j_m2 += 0.5 * (flux + b->last_flux) * dt;
  b->water_kg_m2 += 0.5 * (s->water_rate_kg_m2s + b->last_rate) * dt;
  b->last_s = s->time_s;
  b->last_flux = flux;
  b->last_rate = s->water_rate_kg_m2s;
  return true;
}

START_TEST(heat_and_water_add_up)
{
  struct pw_engine_body body = body_of(shapes[_i], 40);
  struct pw_engine_bath bath = plain_bath();
  struct pw_engine_state state;
  bath.emissivity_frac = 0.9;
  bath.vapour_pa = 500;
  bath.wet_frac = 0.5;
  bath.juice_frac = 0.6;
  body.bound_kg_m3 = 300;
  pw_engine_start(&state, &body, 40);
  /* the first minute is stepped without the books: its surface jumps */
  pw_engine_run(&body, &bath, &state, 1e3, 1, 60, NULL, NULL);
  double start_c = pw_engine_mean_c(&state, &body), start_water = state.water_kg_m2;
  struct books books = {&body, &bath, state.time_s, 0, 0, 0, state.water_rate_kg_m2s};
  books.last_flux = flux_of(&books, &state);
  pw_engine_run(&body, &bath, &state, 1e3, 10, 4 * 3600, keep_books, &books);
  double taken = body.heat_j_m3k * (pw_engine_mean_c(&state, &body) - start_c) / pw_engine_area_m2_m3(&body);
  PW_NEAR("heat", taken, books.heat_j_m2, 0, 1e-3);
  PW_NEAR("water", state.water_kg_m2 - start_water, books.water_kg_m2, 0, 1e-3);
  ck_assert(state.water_kg_m2 > 0.5);
}
END_TEST

/* A fully wet thin piece without radiation settles at the wet bulb of its air (ASHRAE 2017 ch. 1 eq. 33: 57.50 C at 250 F
 * and a humidity ratio of 0.10), apart from the psychrometer constant of forced air: within 2 K. */
START_TEST(wet_piece_settles_at_the_wet_bulb)
{
  static const double ratios[] = {0.05, 0.10, 0.20};
  for (int i = 0; i < 3; i++) {
    struct pw_engine_body body = body_of(PW_SHAPE_SLAB, 8);
    struct pw_engine_bath bath = plain_bath();
    struct pw_engine_state state;
    body.half_m = 0.004;
    bath.air_c = (250 - 32) / 1.8;
    bath.vapour_pa = pw_air_vapour_pa(ratios[i], 101325);
    bath.wet_frac = 1;
    body.free_kg_m2 = 1e9;
    pw_engine_start(&state, &body, 20);
    pw_engine_run(&body, &bath, &state, 1e3, 20, 4 * 3600, NULL, NULL);
    PW_NEAR("wet bulb", state.surface_c, pw_air_wet_bulb_c(bath.air_c, ratios[i], 101325), 2.0, 0);
    PW_NEAR("all through", pw_engine_core_c(&state), state.surface_c, 0.01, 0);
  }
}
END_TEST

START_TEST(cold_piece_gathers_dew)
{
  struct pw_engine_body body = body_of(PW_SHAPE_SLAB, 20);
  struct pw_engine_bath bath = plain_bath();
  struct pw_engine_state state;
  bath.vapour_pa = 5000;
  pw_engine_start(&state, &body, 2);
  pw_engine_run(&body, &bath, &state, 1e3, 10, 120, NULL, NULL);
  ck_assert(state.water_kg_m2 < 0);
}
END_TEST

START_TEST(limit_and_start)
{
  struct pw_engine_body body = body_of(PW_SHAPE_SPHERE, 20);
  struct pw_engine_bath bath = plain_bath();
  struct pw_engine_state state;
  pw_engine_start(&state, &body, 60);
  ck_assert(pw_engine_run(&body, &bath, &state, 50, 60, 3600, NULL, NULL) == 0); /* already there */
  ck_assert(isinf(pw_engine_run(&body, &bath, &state, 119.99, 60, 3600, NULL, NULL)));
  PW_NEAR("stopped at the limit", state.time_s, 3600, 60.1, 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("engine");
  TCase *t = tcase_create("engine");
  tcase_add_loop_test(t, meets_the_series, 0, 3);
  tcase_add_loop_test(t, finite_bodies_meet_the_product_solution, 0, (int)(sizeof finite / sizeof finite[0]));
  tcase_add_loop_test(t, second_order_in_space, 0, 3);
  tcase_add_loop_test(t, second_order_in_time, 0, 3);
  tcase_add_loop_test(t, converges_in_time_when_wet, 0, 3);
  tcase_add_loop_test(t, heat_and_water_add_up, 0, 3);
  tcase_add_test(t, wet_piece_settles_at_the_wet_bulb);
  tcase_add_test(t, cold_piece_gathers_dew);
  tcase_add_test(t, limit_and_start);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
