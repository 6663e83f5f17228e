/* engine.c - finite volumes in one dimension: slab, cylinder, sphere, and between them [T1].
 * Area grows as x^(dims - 1) on the way out; the equations hold for any dims >= 1.
 * Cell i lies between i dx and (i+1) dx.  With C heat of a cell, K its exchange with its neighbours and B the heat through
 * the surface, a step of Crank-Nicolson is (2C/dt + K) T' = (2C/dt - K) T + B + B', and an implicit half step is
 * (2C/dt + K) T' = 2C/dt T + B': one matrix, swept once per run from the middle outwards.  The last row leaves the outermost
 * cell as a straight function of the surface temperature, which Newton's method then finds from the surface balance
 *   k (Ts - T_last) / (dx/2) = h (Ta - Ts) + eps sigma (Ta^4 - Ts^4) - L m(Ts). */
#include "heat/engine.h"

#include "heat/air.h"
#include "heat/shell.h"

#include <assert.h>
#include <math.h>

#define KELVIN 273.15                   /* 0 C, definition */
#define STEFAN_BOLTZMANN 5.670374419e-8 /* W/(m2 K4), CODATA 2018 */
#define AIR_CP_J_KGK 1009.0             /* dry air near 350 K, Incropera et al. table A.4 */
#define LEWIS_TWO_THIRDS 0.91           /* Le^(2/3), Le 0.87 of water vapour in air: ASHRAE Fundamentals 2017 ch. 6 */
#define MASS_RATIO 0.621945             /* water / dry air, ASHRAE Fundamentals 2017 ch. 1 */

/** Area at x; 1, x, x^2 for slab, cylinder, sphere. */
static double face_area(double dims, double x_m) { return pow(x_m, dims - 1.0); }

/** Volume inside x, in the units of face_area. */
static double volume_inside(double dims, double x_m) { return pow(x_m, dims) / dims; }

double pw_engine_area_m2_m3(const struct pw_engine_body *body)
{
  return face_area(body->dims, body->half_m) / volume_inside(body->dims, body->half_m);
}

void pw_engine_start(struct pw_engine_state *state, const struct pw_engine_body *body, double temp_c)
{
  assert(body->cells >= 4 && body->cells <= PW_ENGINE_CELLS_MAX);
  for (int i = 0; i < body->cells; i++)
    state->cell_c[i] = temp_c;
  state->surface_c = temp_c;
  state->water_kg_m2 = state->water_rate_kg_m2s = state->time_s = 0.0;
}

double pw_engine_core_c(const struct pw_engine_state *state)
{
  return (9.0 * state->cell_c[0] - state->cell_c[1]) / 8.0;
}

double pw_engine_mean_c(const struct pw_engine_state *state, const struct pw_engine_body *body)
{
  double dx = body->half_m / body->cells, sum = 0.0;
  for (int i = 0; i < body->cells; i++)
    sum += state->cell_c[i] * (volume_inside(body->dims, (i + 1) * dx) - volume_inside(body->dims, i * dx));
  return sum / volume_inside(body->dims, body->half_m);
}

/* ---- the matrix ------------------------------------------------------------------------------- */

struct sweep {
  int n;
  double store[PW_ENGINE_CELLS_MAX];  /* 2C/dt */
  double inward[PW_ENGINE_CELLS_MAX]; /* exchange with cell i-1; [0] = 0 */
  double share[PW_ENGINE_CELLS_MAX];  /* exchange with i+1 over the swept diagonal */
  double pivot[PW_ENGINE_CELLS_MAX];  /* swept diagonal */
  double skin;                        /* exchange of the last cell with the surface */
  double area;                        /* of the surface */
};

static void sweep_make(struct sweep *s, const struct pw_engine_body *body, double step_s)
{
  double dx = body->half_m / body->cells, k = body->conductivity_w_mk;
  s->n = body->cells;
  s->area = face_area(body->dims, body->half_m);
  s->skin = k * s->area / (0.5 * dx);
  for (int i = 0; i < s->n; i++) {
    double volume = volume_inside(body->dims, (i + 1) * dx) - volume_inside(body->dims, i * dx);
    s->store[i] = 2.0 * body->heat_j_m3k * volume / step_s;
    s->inward[i] = i > 0 ? k * face_area(body->dims, i * dx) / dx : 0.0;
  }
  for (int i = 0; i < s->n; i++) {
    double outward = i + 1 < s->n ? s->inward[i + 1] : s->skin;
    s->pivot[i] = s->store[i] + s->inward[i] + outward - (i > 0 ? s->inward[i] * s->share[i - 1] : 0.0);
    s->share[i] = outward / s->pivot[i];
  }
}

/* ---- the surface ------------------------------------------------------------------------------- */

/** Saturation pressure and its slope at temp_c. */
static void saturation(double temp_c, double *out_pa, double *out_pa_k)
{
  double t = temp_c + KELVIN, pa = pw_air_saturation_pa(temp_c);
  *out_pa = pa;
  /* slope of ASHRAE 2017 ch. 1 eq. 6; below freezing it only steers Newton's method */
  *out_pa_k = pa * (5800.2206 / (t * t) - 0.048640239 + 8.3529536e-5 * t - 4.3356279e-8 * t * t + 6.5459673 / t);
}

/** Evaporation, kg/(m2 s), and its slope; condensation is not slowed by dryness. */
static double evaporation(const struct pw_engine_bath *bath, double surface_c, double water_kg_m2, double *out_slope)
{
  double pa, pa_k;
  saturation(surface_c, &pa, &pa_k);
  double conductance = bath->h_w_m2k / (AIR_CP_J_KGK * LEWIS_TWO_THIRDS) * MASS_RATIO / bath->pressure_pa;
  if (pa > bath->vapour_pa) {
    double lost = fmax(water_kg_m2, 0.0);
    conductance *= bath->wet_frac * fmax(1.0 - lost / bath->dry_kg_m2, 0.0) / (1.0 + lost / bath->crust_kg_m2);
  }
  *out_slope = conductance * pa_k;
  return conductance * (pa - bath->vapour_pa);
}

/** Net heat into the surface, W/m2, and its slope. */
static double surface_heat(const struct pw_engine_bath *bath, double surface_c, double water_kg_m2, double *out_slope,
                           double *out_rate)
{
  double latent_j_kg = 2.501e6 - 2361.0 * surface_c; /* water, 0 to 120 C, steam tables */
  double rate_slope, t = surface_c + KELVIN;
  *out_rate = evaporation(bath, surface_c, water_kg_m2, &rate_slope);
  *out_slope = -bath->h_w_m2k - 4.0 * bath->emissivity_frac * STEFAN_BOLTZMANN * t * t * t - latent_j_kg * rate_slope;
  return bath->h_w_m2k * (bath->air_c - surface_c) + pw_shell_radiation_w_m2(bath->emissivity_frac, bath->air_c, surface_c) -
         latent_j_kg * *out_rate;
}

/** Surface temperature at which the last cell, a + b Ts, and the surface balance agree. */
static double solve_surface(const struct sweep *s, const struct pw_engine_bath *bath, double a, double b, double guess_c,
                            double water_kg_m2, double *out_rate)
{
  double ts = guess_c;
  for (int i = 0; i < 30; i++) {
    double slope, heat = surface_heat(bath, ts, water_kg_m2, &slope, out_rate);
    double change = (s->area * heat - s->skin * (ts - (a + b * ts))) / (s->skin * (1.0 - b) - s->area * slope);
    ts += fmin(fmax(change, -30.0), 30.0);
    if (fabs(change) < 1e-9)
      break;
  }
  return ts;
}

/* ---- stepping ------------------------------------------------------------------------------------ */

static void step(struct pw_engine_state *state, const struct sweep *s, const struct pw_engine_bath *bath, double step_s,
                 bool is_half)
{
  double swept[PW_ENGINE_CELLS_MAX];
  double *t = state->cell_c;
  int n = s->n;
  for (int i = 0; i < n; i++) {
    double right = s->store[i] * t[i];
    if (!is_half) {
      double outside = i + 1 < n ? s->inward[i + 1] * (t[i + 1] - t[i]) : s->skin * (state->surface_c - t[i]);
      double inside = i > 0 ? s->inward[i] * (t[i - 1] - t[i]) : 0.0;
      right += outside + inside;
    }
    swept[i] = (right + (i > 0 ? s->inward[i] * swept[i - 1] : 0.0)) / s->pivot[i];
  }
  double span_s = is_half ? 0.5 * step_s : step_s, rate;
  /* water lost by the end of the step, ahead of the balance that decides it: second order is kept */
  double ahead = state->water_kg_m2 + span_s * state->water_rate_kg_m2s;
  double ts = solve_surface(s, bath, swept[n - 1], s->share[n - 1], state->surface_c, ahead, &rate);
  t[n - 1] = swept[n - 1] + s->share[n - 1] * ts;
  for (int i = n - 2; i >= 0; i--)
    t[i] = swept[i] + s->share[i] * t[i + 1];
  state->surface_c = ts;
  state->water_kg_m2 += is_half ? span_s * rate : 0.5 * span_s * (rate + state->water_rate_kg_m2s);
  state->water_rate_kg_m2s = rate;
  state->time_s += span_s;
}

static void keep(struct pw_engine_state *copy, const struct pw_engine_state *state, int n)
{
  for (int i = 0; i < n; i++)
    copy->cell_c[i] = state->cell_c[i];
  copy->surface_c = state->surface_c;
  copy->water_kg_m2 = state->water_kg_m2;
  copy->time_s = state->time_s;
}

static void blend(struct pw_engine_state *state, const struct pw_engine_state *before, double way, int n)
{
  for (int i = 0; i < n; i++)
    state->cell_c[i] = before->cell_c[i] + way * (state->cell_c[i] - before->cell_c[i]);
  state->surface_c = before->surface_c + way * (state->surface_c - before->surface_c);
  state->water_kg_m2 = before->water_kg_m2 + way * (state->water_kg_m2 - before->water_kg_m2);
  state->time_s = before->time_s + way * (state->time_s - before->time_s);
}

double pw_engine_run(const struct pw_engine_body *body, const struct pw_engine_bath *bath, struct pw_engine_state *state,
                     double target_c, double step_s, double limit_s, pw_engine_watch_fn watch, void *user)
{
  enum { HALVED = 2 };
  struct sweep s;
  struct pw_engine_state before;
  double start_s = state->time_s, core_c = pw_engine_core_c(state);
  sweep_make(&s, body, step_s);
  for (int k = 0; core_c < target_c; k++) {
    double core_before_c = core_c;
    if (state->time_s - start_s >= limit_s)
      return HUGE_VAL;
    keep(&before, state, s.n);
    if (k < HALVED) {
      step(state, &s, bath, step_s, true);
      step(state, &s, bath, step_s, true);
    } else {
      step(state, &s, bath, step_s, false);
    }
    core_c = pw_engine_core_c(state);
    if (core_c >= target_c)
      blend(state, &before, (target_c - core_before_c) / (core_c - core_before_c), s.n);
    if (watch && !watch(user, state, fmin(core_c, target_c)))
      return HUGE_VAL;
  }
  return state->time_s - start_s;
}
