/* conduct.h - transient conduction in a slab, long cylinder or sphere of uniform properties, started at one
 * temperature and put into air at another: the exact series solution (Carslaw and Jaeger 1959, ch. 3, 7, 9).
 * Bi = h * half / k, with half = half thickness of a slab or the radius; Fo = diffusivity * time / half^2;
 * theta = (T - T_air) / (T_start - T_air), 1 at the start and 0 at the end. */
#ifndef PW_HEAT_CONDUCT_H
#define PW_HEAT_CONDUCT_H

#include "pw/event.h"

enum { PW_CONDUCT_TERMS = 48 }; /**< terms summed; exact to 1e-9 for Fo >= PW_CONDUCT_FO_LOW */
#define PW_CONDUCT_FO_LOW 2e-3  /* below, the centre has not moved by 1e-9 and is taken as still at the start */
#define PW_CONDUCT_FO_ONE 0.2   /* one term is within 2 % from here on: Cengel, Heat Transfer, ch. 4 */

/** Roots and coefficients of one shape and Biot number. */
struct pw_conduct {
  enum pw_shape shape;
  double bi;
  double zeta[PW_CONDUCT_TERMS], coef[PW_CONDUCT_TERMS];
};

/** Fills `out`.  bi > 0.  Roots of z tan z = Bi (slab), z J1(z)/J0(z) = Bi (cylinder), 1 - z cot z = Bi (sphere). */
void pw_conduct_make(struct pw_conduct *out, enum pw_shape shape, double bi);

/** theta at x_frac of the way from the centre (0) to the surface (1), from the full series. */
double pw_conduct_theta(const struct pw_conduct *c, double fo, double x_frac);

/** The same from the first term alone, for comparison: wrong by more than 2 % below Fo 0.2. */
double pw_conduct_theta_one(const struct pw_conduct *c, double fo, double x_frac);

/** Fo at which the centre reaches theta, 0 < theta < 1. */
double pw_conduct_fo(const struct pw_conduct *c, double theta);

/** Mean theta over the volume (heat still to come / heat to come in all). */
double pw_conduct_theta_mean(const struct pw_conduct *c, double fo);

/** A shape cut to a length, or a slab cut to a width and a length; halves are those other half lengths over the shape's own
 *  half. */
struct pw_conduct_finite {
  struct pw_conduct parts[3];
  double halves[3]; /**< [0] = 1 */
  int n;
};
/** n_halves 0..2. */
void pw_conduct_finite_make(struct pw_conduct_finite *out, enum pw_shape shape, double bi, const double *halves,
                            int n_halves);

/** Product solution (Carslaw and Jaeger 1959, 1.15): theta in the middle; fo is that of the shape's half. */
double pw_conduct_finite_theta(const struct pw_conduct_finite *f, double fo);
/** Fo at which the middle reaches theta, 0 < theta < 1. */
double pw_conduct_finite_fo(const struct pw_conduct_finite *f, double theta);

/** Dimensions (1 slab, 2 cylinder, 3 sphere) of the one-dimensional body of the same half whose middle reaches theta at the
 *  same moment; theta 0: that decays as fast in the end.  Bodies of D dimensions: first root z J(D/2, z) / J(D/2 - 1, z) = Bi.
 *  For Bi -> 0 it has the same surface by volume.  How far the two are apart at other thetas: tests/unit/heat/test_engine.c. */
double pw_conduct_finite_dims(const struct pw_conduct_finite *f, double theta);

/** Dimensions of the shape itself. */
double pw_conduct_shape_dims(enum pw_shape shape);

#endif
