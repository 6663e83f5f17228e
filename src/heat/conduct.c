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
  case PW_SHAPE_SLAB: return root(slab_f, bi, (n - 1) * PI, (n - 0.5) * PI);
  case PW_SHAPE_SPHERE: return root(sphere_f, bi, n > 1 ? (n - 1) * PI : tiny, n * PI);
  case PW_SHAPE_CYLINDER: return root(cylinder_f, bi, n > 1 ? zero_j1(n - 1) : 0.0, zero_j0(n));
  }
  return 0.0;
}

static double coefficient(enum pw_shape shape, double z)
{
  switch (shape) {
  case PW_SHAPE_SLAB: return 4.0 * sin(z) / (2.0 * z + sin(2.0 * z));
  case PW_SHAPE_SPHERE: return 4.0 * (sin(z) - z * cos(z)) / (2.0 * z - sin(2.0 * z));
  case PW_SHAPE_CYLINDER: return 2.0 / z * j1(z) / (j0(z) * j0(z) + j1(z) * j1(z));
  }
  return 0.0;
}

/** The eigenfunction at x_frac, 1 at the centre. */
static double mode(enum pw_shape shape, double z, double x_frac)
{
  double zx = z * x_frac;
  switch (shape) {
  case PW_SHAPE_SLAB: return cos(zx);
  case PW_SHAPE_SPHERE: return zx < 1e-8 ? 1.0 : sin(zx) / zx;
  case PW_SHAPE_CYLINDER: return j0(zx);
  }
  return 0.0;
}

/** Its mean over the volume. */
static double mode_mean(enum pw_shape shape, double z)
{
  switch (shape) {
  case PW_SHAPE_SLAB: return sin(z) / z;
  case PW_SHAPE_SPHERE: return 3.0 * (sin(z) - z * cos(z)) / (z * z * z);
  case PW_SHAPE_CYLINDER: return 2.0 * j1(z) / z;
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
