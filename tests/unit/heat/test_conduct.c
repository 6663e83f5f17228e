/* Conduction series: published one-term coefficients and worked examples. */
#include "harness.h"
#include "heat/conduct.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_roots.h>
#include <gsl/gsl_sf_bessel.h>

static const double PI = 3.14159265358979323846;

/** Cengel, Heat and Mass Transfer, Table 4-2, as printed (wall, cylinder, sphere: zeta1, C1). */
static const struct {
  double bi, wall_zeta, wall_c, cyl_zeta, cyl_c, sphere_zeta, sphere_c;
} table_4_2[] = {
    {0.01, 0.0998, 1.0017, 0.1412, 1.0025, 0.1730, 1.0030}, {0.02, 0.1410, 1.0033, 0.1995, 1.0050, 0.2445, 1.0060},
    {0.04, 0.1987, 1.0066, 0.2814, 1.0099, 0.3450, 1.0120}, {0.06, 0.2425, 1.0098, 0.3438, 1.0148, 0.4217, 1.0179},
    {0.08, 0.2791, 1.0130, 0.3960, 1.0197, 0.4860, 1.0239}, {0.1, 0.3111, 1.0161, 0.4417, 1.0246, 0.5423, 1.0298},
    {0.2, 0.4328, 1.0311, 0.6170, 1.0483, 0.7593, 1.0592},  {0.3, 0.5218, 1.0450, 0.7465, 1.0712, 0.9208, 1.0880},
    {0.4, 0.5932, 1.0580, 0.8516, 1.0931, 1.0528, 1.1164},  {0.5, 0.6533, 1.0701, 0.9408, 1.1143, 1.1656, 1.1441},
    {0.6, 0.7051, 1.0814, 1.0184, 1.1345, 1.2644, 1.1713},  {0.8, 0.7910, 1.1016, 1.1490, 1.1724, 1.4320, 1.2236},
    {1.0, 0.8603, 1.1191, 1.2558, 1.2071, 1.5708, 1.2732},  {2.0, 1.0769, 1.1785, 1.5995, 1.3384, 2.0288, 1.4793},
    {3.0, 1.1925, 1.2102, 1.7887, 1.4191, 2.2889, 1.6227},  {4.0, 1.2646, 1.2287, 1.9081, 1.4698, 2.4556, 1.7202},
    {5.0, 1.3138, 1.2403, 1.9898, 1.5029, 2.5704, 1.7870},  {6.0, 1.3496, 1.2479, 2.0490, 1.5253, 2.6537, 1.8338},
    {8.0, 1.3978, 1.2570, 2.1286, 1.5526, 2.7654, 1.8920},  {10, 1.4289, 1.2620, 2.1795, 1.5677, 2.8363, 1.9249},
    {20, 1.4961, 1.2699, 2.2881, 1.5919, 2.9857, 1.9781},   {30, 1.5202, 1.2717, 2.3261, 1.5973, 3.0372, 1.9898},
    {50, 1.5400, 1.2727, 2.3572, 1.6002, 3.0788, 1.9962},   {100, 1.5552, 1.2731, 2.3809, 1.6015, 3.1102, 1.9990},
};

START_TEST(one_term_coefficients)
{
  const double *row = &table_4_2[_i].bi;
  static const enum pw_shape shapes[] = {PW_SHAPE_SLAB, PW_SHAPE_CYLINDER, PW_SHAPE_SPHERE};
  for (int k = 0; k < 3; k++) {
    struct pw_conduct c;
    pw_conduct_make(&c, shapes[k], row[0]);
    PW_NEAR("zeta", c.zeta[0], row[1 + 2 * k], 6e-5, 0);
    PW_NEAR("coefficient", c.coef[0], row[2 + 2 * k], 6e-5, 0);
  }
}
END_TEST

/** Spheres heated until the centre reaches `core`, seconds by the one-term solution that the books use. */
static const struct {
  const char *name;
  double radius_m, k, alpha, h, start, core, air, want_s, tol_s;
} centre_times[] = {
    /* sciemce.com/qa/KZkm9Ut1RNma: 1.5 kg roast, rho 1000, cp 4000; published 134 min */
    {"roast 1.5 kg", 0.0710122, 0.5, 1.25e-7, 18, 20, 77, 163, 134.28 * 60, 5},
    /* answer.ya.guru: egg 5.5 cm; exact roots in place of the page's read-off values */
    {"egg 5.5 cm, h 800", 0.0275, 0.607, 0.146e-6, 800, 4.3, 74, 100, 1105.9, 1},
    /* numerade.com: egg 5.5 cm; the book prints about 17.8 min */
    {"egg 5.5 cm, h 1400", 0.0275, 0.6, 0.14e-6, 1400, 8, 70, 97, 1064.5, 5},
    /* Cengel example 4-3: 865 s by the chart, 862.6 s with exact roots */
    {"egg 5 cm", 0.025, 0.627, 0.151e-6, 1200, 5, 70, 95, 862.6, 1},
};

START_TEST(time_to_core)
{
  struct pw_conduct c;
  pw_conduct_make(&c, PW_SHAPE_SPHERE, centre_times[_i].h * centre_times[_i].radius_m / centre_times[_i].k);
  double theta = (centre_times[_i].core - centre_times[_i].air) / (centre_times[_i].start - centre_times[_i].air);
  double unit_s = centre_times[_i].radius_m * centre_times[_i].radius_m / centre_times[_i].alpha;
  double one_term_s = log(c.coef[0] / theta) / (c.zeta[0] * c.zeta[0]) * unit_s;
  PW_NEAR(centre_times[_i].name, one_term_s, centre_times[_i].want_s, centre_times[_i].tol_s, 0);
  /* at Fo 0.2 the further terms take off about one part in a hundred, and never add */
  double seconds = pw_conduct_fo(&c, theta) * unit_s;
  PW_NEAR(centre_times[_i].name, seconds, one_term_s, 0, 0.012);
  ck_assert(seconds < one_term_s);
}
END_TEST

/* Cengel example 4-5: stainless shaft of 20 cm, 600 C, into 200 C, h 80, 45 min: centre 360 C by chart, 364.3 exact;
 * heat given off 0.636 of the most there is. */
START_TEST(shaft)
{
  struct pw_conduct c;
  pw_conduct_make(&c, PW_SHAPE_CYLINDER, 80 * 0.1 / 14.9);
  double fo = 3.95e-6 * 45 * 60 / 0.01;
  PW_NEAR("centre", 200 + 400 * pw_conduct_theta(&c, fo, 0), 364.3, 0.1, 0);
  PW_NEAR("heat share", 1 - pw_conduct_theta_mean(&c, fo), 0.63576, 2e-3, 0);
}
END_TEST

/* Cengel problem 4-77: 3.2 kg rib roast, centre 4.5 -> 60 C in 2 h 45 min at 163 C.  Fo is 0.12, so the one-term
 * answer (Bi 28) and the full series (Bi 18) must differ. */
START_TEST(short_time_needs_the_series)
{
  double radius = cbrt(3.2 / 1200 * 3 / (4 * PI)), alpha = 0.91e-7, fo = alpha * 165 * 60 / (radius * radius);
  double theta = (163.0 - 60.0) / (163.0 - 4.5);
  PW_NEAR("Fo", fo, 0.12174, 5e-5, 0);
  struct pw_conduct c;
  pw_conduct_make(&c, PW_SHAPE_SPHERE, 28.33);
  PW_NEAR("one term meets the book", pw_conduct_theta_one(&c, fo, 0), theta, 1e-3, 0);
  ck_assert_msg(pw_conduct_theta(&c, fo, 0) < theta - 0.005, "the series agrees with one term at Fo 0.12");
  pw_conduct_make(&c, PW_SHAPE_SPHERE, 17.86);
  PW_NEAR("series", pw_conduct_theta(&c, fo, 0), theta, 2e-4, 0);
}
END_TEST

/** The eigenvalue equations once more, with the GNU Scientific Library's Bessel functions, for its root finder. */
struct equation {
  enum pw_shape shape;
  double bi;
};

static double equation_at(double z, void *params)
{
  const struct equation *e = params;
  if (e->shape == PW_SHAPE_SLAB)
    return z * sin(z) - e->bi * cos(z);
  if (e->shape == PW_SHAPE_SPHERE)
    return (1 - e->bi) * sin(z) - z * cos(z);
  return z * gsl_sf_bessel_J1(z) - e->bi * gsl_sf_bessel_J0(z);
}

static double gsl_root(struct equation *e, double lo, double hi)
{
  gsl_function f = {equation_at, e};
  gsl_root_fsolver *solver = gsl_root_fsolver_alloc(gsl_root_fsolver_brent);
  ck_assert_int_eq(gsl_root_fsolver_set(solver, &f, lo, hi), GSL_SUCCESS);
  for (int i = 0; i < 200; i++) {
    gsl_root_fsolver_iterate(solver);
    if (gsl_root_test_interval(gsl_root_fsolver_x_lower(solver), gsl_root_fsolver_x_upper(solver), 0, 1e-14) ==
        GSL_SUCCESS)
      break;
  }
  double z = gsl_root_fsolver_root(solver);
  gsl_root_fsolver_free(solver);
  return z;
}

/** theta(x) times the area at x, for the mean over the volume. */
struct profile {
  const struct pw_conduct *c;
  double fo;
};

static double weighted_theta(double x, void *params)
{
  const struct profile *p = params;
  double weight = p->c->shape == PW_SHAPE_SLAB ? 1 : p->c->shape == PW_SHAPE_CYLINDER ? 2 * x : 3 * x * x;
  return weight * pw_conduct_theta(p->c, p->fo, x);
}

static const double biots[] = {0.003, 0.05, 0.4, 1.0, 2.5564, 17.86, 300, 4e4};

START_TEST(second_opinion_on_roots_and_means)
{
  gsl_integration_workspace *work = gsl_integration_workspace_alloc(200);
  for (int k = 0; k < 3; k++) {
    static const enum pw_shape shapes[] = {PW_SHAPE_SLAB, PW_SHAPE_CYLINDER, PW_SHAPE_SPHERE};
    struct equation e = {shapes[k], biots[_i]};
    struct pw_conduct c;
    pw_conduct_make(&c, e.shape, e.bi);
    for (int n = 1; n <= 30; n++) {
      double lo = (n - 1) * PI, hi = e.shape == PW_SHAPE_SLAB ? (n - 0.5) * PI : n * PI;
      if (e.shape == PW_SHAPE_CYLINDER) {
        lo = n > 1 ? gsl_sf_bessel_zero_J1((unsigned)n - 1) : 0;
        hi = gsl_sf_bessel_zero_J0((unsigned)n);
      }
      PW_NEAR("root", c.zeta[n - 1], gsl_root(&e, lo + 1e-8, hi), 0, 1e-9);
    }
    struct profile p = {&c, 0.08};
    gsl_function f = {weighted_theta, &p};
    double mean, error;
    ck_assert_int_eq(gsl_integration_qag(&f, 0, 1, 0, 1e-9, 200, GSL_INTEG_GAUSS31, work, &mean, &error), GSL_SUCCESS);
    PW_NEAR("mean over the volume", pw_conduct_theta_mean(&c, p.fo), mean, 0, 1e-7);
  }
  gsl_integration_workspace_free(work);
}
END_TEST

/* Cengel example 4-7 (from memory): brass cylinder 10 cm across and 12 cm high, 120 C, in air of 25 C, h 60, k 110, alpha
 * 33.9e-6, after 15 min: centre 63 C by the charts, 62.7 by the series. */
START_TEST(short_brass_cylinder)
{
  double half = 0.06 / 0.05, fo = 33.9e-6 * 900 / (0.05 * 0.05);
  struct pw_conduct_finite f;
  pw_conduct_finite_make(&f, PW_SHAPE_CYLINDER, 60 * 0.05 / 110, &half, 1);
  double theta = pw_conduct_finite_theta(&f, fo);
  PW_NEAR("book", 25 + 95 * theta, 63, 0.5, 0);
  PW_NEAR("inverse", pw_conduct_finite_fo(&f, theta), fo, 0, 1e-9);
}
END_TEST

/** Shape and halves: dimensions that must come out between. */
static const struct {
  const char *name;
  enum pw_shape shape;
  int n;
  double halves[2], least, most;
} pieces[] = {{"slab", PW_SHAPE_SLAB, 0, {0}, 1, 1},
              {"sphere", PW_SHAPE_SPHERE, 0, {0}, 3, 3},
              {"endless cylinder", PW_SHAPE_CYLINDER, 1, {1e3}, 2, 2.001},
              {"square bar", PW_SHAPE_SLAB, 1, {1}, 1.7, 2},
              {"cube", PW_SHAPE_SLAB, 2, {1, 1}, 2.3, 3},
              {"short cylinder", PW_SHAPE_CYLINDER, 1, {1}, 2.6, 3},
              {"brisket", PW_SHAPE_SLAB, 2, {2.75, 4.75}, 1.1, 1.575}};

START_TEST(dimensions_of_finite_bodies)
{
  double last = 9;
  for (double bi = 1e-3; bi < 2e3; bi *= 4) {
    struct pw_conduct_finite f;
    pw_conduct_finite_make(&f, pieces[_i].shape, bi, pieces[_i].halves, pieces[_i].n);
    double dims = pw_conduct_finite_dims(&f, 0.0);
    ck_assert_msg(dims > pieces[_i].least - 1e-9 && dims < pieces[_i].most + 1e-9, "%s: %g at Bi %g", pieces[_i].name,
                  dims, bi);
    ck_assert_msg(dims < last + 1e-9, "%s: %g after %g", pieces[_i].name, dims, last);
    /* z J(D/2)/J(D/2 - 1) = Bi with the GNU Scientific Library's functions, z of the product solution */
    double square = 0;
    for (int i = 0; i < f.n; i++)
      square += f.parts[i].zeta[0] * f.parts[i].zeta[0] / (f.halves[i] * f.halves[i]);
    double z = sqrt(square), below = dims < 2 ? 0 : gsl_sf_bessel_Jnu(0.5 * dims - 1, z);
    if (dims < 2) /* J of a negative order by the recurrence */
      below = dims / z * gsl_sf_bessel_Jnu(0.5 * dims, z) - gsl_sf_bessel_Jnu(0.5 * dims + 1, z);
    PW_NEAR(pieces[_i].name, z * gsl_sf_bessel_Jnu(0.5 * dims, z) / below, bi, 0, 1e-6);
    last = dims;
  }
  /* without resistance inside it is the surface by volume that counts: 1 + 1/b1 + 1/b2 and so on */
  double want = pw_conduct_shape_dims(pieces[_i].shape);
  for (int i = 0; i < pieces[_i].n; i++)
    want += 1 / pieces[_i].halves[i];
  struct pw_conduct_finite f;
  pw_conduct_finite_make(&f, pieces[_i].shape, 1e-5, pieces[_i].halves, pieces[_i].n);
  PW_NEAR(pieces[_i].name, pw_conduct_finite_dims(&f, 0.0), want, 1e-4, 0);
  PW_NEAR(pieces[_i].name, pw_conduct_finite_dims(&f, 0.4), want, 1e-3, 0);
}
END_TEST

START_TEST(limits)
{
  static const double large_bi[] = {1.57079633, 2.40482556, 3.14159265}; /* pi/2, first zero of J0, pi */
  static const enum pw_shape shapes[] = {PW_SHAPE_SLAB, PW_SHAPE_CYLINDER, PW_SHAPE_SPHERE};
  for (int k = 0; k < 3; k++) {
    struct pw_conduct c;
    pw_conduct_make(&c, shapes[k], 1e7);
    PW_NEAR("root at large Bi", c.zeta[0], large_bi[k], 1e-6, 0);
    pw_conduct_make(&c, shapes[k], 0.7);
    PW_NEAR("start", pw_conduct_theta(&c, 3e-3, 0), 1.0, 1e-9, 0);
    PW_NEAR("mean at the start", pw_conduct_theta_mean(&c, 1e-9), 1.0, 2e-3, 0);
    double fo = pw_conduct_fo(&c, 0.37);
    PW_NEAR("inverse", pw_conduct_theta(&c, fo, 0), 0.37, 1e-11, 0);
    for (int n = 1; n < PW_CONDUCT_TERMS; n++)
      ck_assert(c.zeta[n] > c.zeta[n - 1] + 2.5 && c.zeta[n] < c.zeta[n - 1] + 4.0);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("conduct");
  TCase *t = tcase_create("conduct");
  tcase_add_loop_test(t, one_term_coefficients, 0, (int)(sizeof table_4_2 / sizeof table_4_2[0]));
  tcase_add_loop_test(t, time_to_core, 0, (int)(sizeof centre_times / sizeof centre_times[0]));
  tcase_add_test(t, shaft);
  tcase_add_test(t, short_time_needs_the_series);
  tcase_add_loop_test(t, second_opinion_on_roots_and_means, 0, (int)(sizeof biots / sizeof biots[0]));
  tcase_add_test(t, short_brass_cylinder);
  tcase_add_loop_test(t, dimensions_of_finite_bodies, 0, (int)(sizeof pieces / sizeof pieces[0]));
  tcase_add_test(t, limits);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
