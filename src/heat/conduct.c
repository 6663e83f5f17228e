/* conduct.c - roots of the three eigenvalue equations by bisection between known brackets, and the series
 * over them [T1].  Brackets: the n-th slab root lies in ((n-1)pi, (n-1/2)pi), the n-th sphere root in
 * ((n-1)pi, n pi), the n-th cylinder root between the zeros j(1,n-1) and j(0,n) of the Bessel functions. */
#include "heat/conduct.h"

#include <assert.h>
#include <math.h>

static const double PI = 3.14159265358979323846;

/** The eigenvalue equations, written without poles. */
static double slab_f(double z, double bi) { return z * sin(z) - bi * cos(z); }
static double sphere_f(double z, double bi) { return (1.0 - bi) * sin(z) - z * cos(z); }
static double cylinder_f(double z, double bi) { return z * j1(z) - bi * j0(z); }
static double bessel0(double z, double unused) { return j0(z) + 0.0 * unused; }
static double bessel1(double z, double unused) { return j1(z) + 0.0 * unused; }

/** Root of f between lo and hi, where its signs differ. */
static double root(double (*f)(double, double), double bi, double lo, double hi)
{
  double f_lo = f(lo, bi);
  for (int i = 0; i < 100 && hi - lo > 1e-15 * hi; i++) {
    double mid = 0.5 * (lo + hi), f_mid = f(mid, bi);
    if ((f_mid < 0.0) == (f_lo < 0.0)) {
      lo = mid;
      f_lo = f_mid;
    } else {
      hi = mid;
    }
  }
  return 0.5 * (lo + hi);
}

/** n-th positive zero of J0 and of J1 (n >= 1), bracketed by McMahon's expansion, good to 0.05 from n = 1. */
static double zero_j0(int n) { return root(bessel0, 0.0, (n - 0.25) * PI - 0.1, (n - 0.25) * PI + 0.1); }
static double zero_j1(int n) { return root(bessel1, 0.0, (n + 0.25) * PI - 0.12, (n + 0.25) * PI + 0.12); }

static double nth_root(enum pw_shape shape, double bi, int n)
{
  double tiny = 1e-9;
  switch (shape) {
  case PW_SHAPE_SLAB:
    return root(slab_f, bi, (n - 1) * PI, (n - 0.5) * PI);
  case PW_SHAPE_SPHERE:
    return root(sphere_f, bi, n > 1 ? (n - 1) * PI : tiny, n * PI);
  case PW_SHAPE_CYLINDER:
    return root(cylinder_f, bi, n > 1 ? zero_j1(n - 1) : 0.0, zero_j0(n));
  }
  return 0.0;
}

static double coefficient(enum pw_shape shape, double z)
{
  switch (shape) {
  case PW_SHAPE_SLAB:
    return 4.0 * sin(z) / (2.0 * z + sin(2.0 * z));
  case PW_SHAPE_SPHERE:
    return 4.0 * (sin(z) - z * cos(z)) / (2.0 * z - sin(2.0 * z));
  case PW_SHAPE_CYLINDER:
    return 2.0 / z * j1(z) / (j0(z) * j0(z) + j1(z) * j1(z));
  }
  return 0.0;
}

/** The eigenfunction at x_frac, 1 at the centre. */
static double mode(enum pw_shape shape, double z, double x_frac)
{
  double zx = z * x_frac;
  switch (shape) {
  case PW_SHAPE_SLAB:
    return cos(zx);
  case PW_SHAPE_SPHERE:
    return zx < 1e-8 ? 1.0 : sin(zx) / zx;
  case PW_SHAPE_CYLINDER:
    return j0(zx);
  }
  return 0.0;
}

/** Its mean over the volume. */
static double mode_mean(enum pw_shape shape, double z)
{
  switch (shape) {
  case PW_SHAPE_SLAB:
    return sin(z) / z;
  case PW_SHAPE_SPHERE:
    return 3.0 * (sin(z) - z * cos(z)) / (z * z * z);
  case PW_SHAPE_CYLINDER:
    return 2.0 * j1(z) / z;
  }
  return 0.0;
}

void pw_conduct_make(struct pw_conduct *out, enum pw_shape shape, double bi)
{
  assert(bi > 0.0);
  out->shape = shape;
  out->bi = bi;
  for (int n = 0; n < PW_CONDUCT_TERMS; n++) {
    out->zeta[n] = nth_root(shape, bi, n + 1);
    out->coef[n] = coefficient(shape, out->zeta[n]);
  }
}

double pw_conduct_theta(const struct pw_conduct *c, double fo, double x_frac)
{
  if (fo <= 0.0 || (fo < PW_CONDUCT_FO_LOW && x_frac <= 0.0))
    return 1.0;
  double sum = 0.0;
  for (int n = 0; n < PW_CONDUCT_TERMS; n++) {
    double fade = exp(-c->zeta[n] * c->zeta[n] * fo);
    sum += c->coef[n] * fade * mode(c->shape, c->zeta[n], x_frac);
    if (fade < 1e-17)
      break;
  }
  return sum;
}

double pw_conduct_theta_one(const struct pw_conduct *c, double fo, double x_frac)
{
  return c->coef[0] * exp(-c->zeta[0] * c->zeta[0] * fo) * mode(c->shape, c->zeta[0], x_frac);
}

double pw_conduct_theta_mean(const struct pw_conduct *c, double fo)
{
  double sum = 0.0;
  for (int n = 0; n < PW_CONDUCT_TERMS; n++)
    sum += c->coef[n] * exp(-c->zeta[n] * c->zeta[n] * fo) * mode_mean(c->shape, c->zeta[n]);
  return fo <= 0.0 ? 1.0 : sum;
}

double pw_conduct_fo(const struct pw_conduct *c, double theta)
{
  assert(theta > 0.0 && theta < 1.0);
  /* the first term bounds the series from above for C >= 1, so its answer closes the bracket */
  double lo = 0.0, hi = log(c->coef[0] / theta) / (c->zeta[0] * c->zeta[0]);
  while (pw_conduct_theta(c, hi, 0.0) > theta)
    hi *= 2.0;
  for (int i = 0; i < 80 && hi - lo > 1e-13 * hi; i++) {
    double mid = 0.5 * (lo + hi);
    if (pw_conduct_theta(c, mid, 0.0) > theta)
      lo = mid;
    else
      hi = mid;
  }
  return 0.5 * (lo + hi);
}

/* ---- finite bodies ------------------------------------------------------------------------------ */

void pw_conduct_finite_make(struct pw_conduct_finite *out, enum pw_shape shape, double bi, const double *halves,
                            int n_halves)
{
  assert(n_halves >= 0 && n_halves <= 2);
  out->n = n_halves + 1;
  for (int i = 0; i < out->n; i++) {
    out->halves[i] = i > 0 ? halves[i - 1] : 1.0;
    pw_conduct_make(&out->parts[i], i > 0 ? PW_SHAPE_SLAB : shape, bi * out->halves[i]);
  }
}

double pw_conduct_finite_theta(const struct pw_conduct_finite *f, double fo)
{
  double theta = 1.0;
  for (int i = 0; i < f->n; i++)
    theta *= pw_conduct_theta(&f->parts[i], fo / (f->halves[i] * f->halves[i]), 0.0);
  return theta;
}

double pw_conduct_finite_fo(const struct pw_conduct_finite *f, double theta)
{
  double lo = 0.0, hi = pw_conduct_fo(&f->parts[0], theta); /* edges only hasten it */
  for (int i = 0; i < 60 && hi - lo > 1e-12 * hi; i++) {
    double mid = 0.5 * (lo + hi);
    if (pw_conduct_finite_theta(f, mid) > theta)
      lo = mid;
    else
      hi = mid;
  }
  return 0.5 * (lo + hi);
}

/** J(order, z) without the factor (z/2)^order / gamma(order + 1): 1 - (z^2/4)/(1 (order+1)) + ...; z up to about 6. */
static double bessel_series(double order, double z)
{
  double term = 1.0, sum = 1.0;
  for (int k = 1; k < 60 && fabs(term) > 1e-16; k++) {
    term *= -0.25 * z * z / (k * (order + k));
    sum += term;
  }
  return sum;
}

/** z J(D/2)/J(D/2 - 1), rising in z from 0 to infinity at the first zero of J(D/2 - 1), and infinite beyond it. */
static double root_ratio(double dims, double z)
{
  double below = bessel_series(0.5 * dims - 1.0, z);
  return below > 0.0 ? z * z / dims * bessel_series(0.5 * dims, z) / below : HUGE_VAL;
}

/** theta of the first term in D dimensions: C = 2 Bi / (psi (Bi^2 + z^2 - (D - 2) Bi)), psi the eigenfunction at the surface. */
static double first_term(double dims, double bi, double fo)
{
  double lo = 0.0, hi = 1.5 + 0.7 * dims; /* above the first zero: pi/2, 2.405, pi, 3.83 for 1 to 4 */
  for (int i = 0; i < 50; i++) {
    double mid = 0.5 * (lo + hi);
    if (root_ratio(dims, mid) < bi)
      lo = mid;
    else
      hi = mid;
  }
  double coef = 2.0 * bi / (bessel_series(0.5 * dims - 1.0, lo) * (bi * bi + lo * lo - (dims - 2.0) * bi));
  return coef * exp(-lo * lo * fo);
}

double pw_conduct_shape_dims(enum pw_shape shape)
{
  return shape == PW_SHAPE_SLAB ? 1.0 : shape == PW_SHAPE_CYLINDER ? 2.0 : 3.0;
}

double pw_conduct_finite_dims(const struct pw_conduct_finite *f, double theta)
{
  double bi = f->parts[0].bi, square = 0.0, lo = pw_conduct_shape_dims(f->parts[0].shape), hi = lo + f->n - 1.0;
  double fo = theta > 0.0 ? pw_conduct_finite_fo(f, theta) : 0.0;
  for (int i = 0; i < f->n; i++)
    square += f->parts[i].zeta[0] * f->parts[i].zeta[0] / (f->halves[i] * f->halves[i]);
  for (int i = 0; f->n > 1 && i < 40; i++) {
    double dims = 0.5 * (lo + hi);
    if (theta > 0.0 ? first_term(dims, bi, fo) > theta : root_ratio(dims, sqrt(square)) > bi)
      lo = dims;
    else
      hi = dims;
  }
  return 0.5 * (lo + hi);
}
