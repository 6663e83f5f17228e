/* engine.c - finite volumes in one dimension: slab, cylinder, sphere, and between them [T1].
 * Area grows as x^(dims - 1) on the way out; the equations hold for any dims >= 1.
 * Cell i lies between i dx and (i+1) dx.  With C heat of a cell, K its exchange with its neighbours and B the heat through
 * the surface, a step of Crank-Nicolson is (2C/dt + K) T' = (2C/dt - K) T + B + B', and an implicit half step is
 * (2C/dt + K) T' = 2C/dt T + B': one matrix, swept once per run from the middle outwards.  The last row leaves the outermost
 * cell as a straight function of the surface temperature, which Newton's method then finds from the surface balance
 *   k (Ts - T_last) / (dx/2) = heat through the crust - L m(Ts),
 * where the heat comes by convection h (Ta - To) and radiation eps sigma (Tw^4 - To^4) to the outside of the crust, To, and on
 * through it, k_c (To - Ts) / crust.  m is what the film of juice gives (as much of a free water surface as is covered) and what
 * vapour comes through the crust beside it. */
#include "heat/engine.h"

#include "heat/air.h"
#include "heat/shell.h"

#include <assert.h>
#include <math.h>

#define KELVIN            273.15         /* 0 C, definition */
#define STEFAN_BOLTZMANN  5.670374419e-8 /* W/(m2 K4), CODATA 2018 */
#define AIR_CP_J_KGK      1009.0         /* dry air near 350 K, Incropera et al. table A.4 */
#define LEWIS_TWO_THIRDS  0.91           /* Le^(2/3), Le 0.87 of water vapour in air: ASHRAE Fundamentals 2017 ch. 6 */
#define MASS_RATIO        0.621945       /* water / dry air, ASHRAE Fundamentals 2017 ch. 1 */
#define VAPOUR_J_KGK      461.5          /* gas constant of water vapour, steam tables */
#define FILM_HALF_KG_M2   0.05   /* juice that covers half of the surface, 0.05 mm: no source; it hardly matters */
#define FILM_MOST_KG_M2   0.2    /* a thicker film runs off: no source; it hardly matters */
#define JUICE_DELAY_S     900.0  /* on its way from where it is let go: no source; it hardly matters */
#define CRUST_W_MK        0.25   /* dried meat, near that of dry protein, Choi and Okos 1986 */
#define CRUST_VAPOUR_M2_S 0.4e-6 /* vapour through dried meat; no source, from the stall of large cuts */
#define CRUST_KG_M3       600.0  /* water that a crust has lost: between raw meat, 780, and cooked, 420 */
#define BOIL_KG_M2SPA     3e-7   /* steam above boiling: enough to hold the surface there within a kelvin */
#define CRUST_LEAST_M     1e-9
#define LEFT_LEAST        1e-6 /* of a surface that gives no more: keeps divisions finite */

/** Area at x; 1, x, x^2 for slab, cylinder, sphere. */
static double face_area(double dims, double x_m) { return pow(x_m, dims - 1.0); }

/** Volume inside x, in the units of face_area. */
static double volume_inside(double dims, double x_m) { return pow(x_m, dims) / dims; }

double pw_engine_area_m2_m3(const struct pw_engine_body *body)
{
  return face_area(body->dims, body->half_m) / volume_inside(body->dims, body->half_m);
}

double pw_engine_gone_frac(double temp_c) { return 1.0 / (1.0 + 30.0 * exp(-0.25 * (temp_c - 52.0))); }

void pw_engine_start(struct pw_engine_state *state, const struct pw_engine_body *body, double temp_c)
{
  assert(body->cells >= 4 && body->cells <= PW_ENGINE_CELLS_MAX);
  *state = (struct pw_engine_state){.surface_c = temp_c, .film_kg_m2 = body->free_kg_m2};
  for (int i = 0; i < body->cells; i++) {
    state->cell_c[i] = temp_c;
    state->gone_frac[i] = pw_engine_gone_frac(temp_c);
  }
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

/** What the surface does at one temperature: rates and their slopes. */
struct surface {
  double heat_w_m2, heat_slope; /* into the meat */
  double film_rate, crust_rate; /* evaporation from the film, through the crust, kg/(m2 s); negative film rate: dew */
};

/** Film at the end of a step in which `had` was there or came and a full cover gives off `cap` kg/m2, implicitly: cover
 *  F / (F + half) at the end; d/dcap of what went. */
static double film_after(double had, double cap, double *out_gone_slope)
{
  double b = had - cap - FILM_HALF_KG_M2, root = sqrt(b * b + 4.0 * FILM_HALF_KG_M2 * had);
  double film = b > 0.0 ? 0.5 * (b + root) : 2.0 * FILM_HALF_KG_M2 * had / fmax(root - b, 1e-300);
  *out_gone_slope = root > 0.0 ? film / root : 0.0;
  return film;
}

/** The surface at surface_c over a step of span_s, from the state before it. */
static struct surface surface_at(const struct pw_engine_bath *bath, const struct pw_engine_state *state,
                                 double surface_c, double span_s)
{
  struct surface out = {0};
  double pa, pa_k, slope = 0.0, latent_j_kg = 2.501e6 - 2361.0 * surface_c; /* water, 0 to 120 C, steam tables */
  saturation(surface_c, &pa, &pa_k);
  double film_kg_m2spa = bath->h_w_m2k / (AIR_CP_J_KGK * LEWIS_TWO_THIRDS) * MASS_RATIO / bath->pressure_pa;
  if (pa <= bath->vapour_pa) { /* dew, not slowed by dryness */
    out.film_rate = film_kg_m2spa * (pa - bath->vapour_pa);
    slope = film_kg_m2spa * pa_k;
  } else if (bath->wet_frac > 0.0) {
    double had = state->film_kg_m2 + span_s * state->juice_rate_kg_m2s, gone_slope;
    double left =
        bath->most_kg_m2 > 0.0 ? fmax(1.0 - fmax(state->water_kg_m2, 0.0) / bath->most_kg_m2, LEFT_LEAST) : 1.0;
    double share = bath->wet_frac * left, open_kg_m2spa = film_kg_m2spa * share,
           cap = span_s * open_kg_m2spa * (pa - bath->vapour_pa);
    double film = film_after(had, cap, &gone_slope), bare = FILM_HALF_KG_M2 / (film + FILM_HALF_KG_M2);
    double crust_m = fmax(state->crust_m, CRUST_LEAST_M);
    double through =
        share * bare / (1.0 / film_kg_m2spa + crust_m * VAPOUR_J_KGK * (surface_c + KELVIN) / CRUST_VAPOUR_M2_S);
    out.film_rate = (had - film) / span_s;
    out.crust_rate = through * (pa - bath->vapour_pa);
    slope = (gone_slope * open_kg_m2spa + through) * pa_k;
  }
  if (pa > bath->pressure_pa &&
      bath->juice_frac > 0.0) { /* it boils: steam finds its way out of any wrap and any crust */
    out.crust_rate += BOIL_KG_M2SPA * (pa - bath->pressure_pa);
    slope += BOIL_KG_M2SPA * pa_k;
  }
  /* heat by way of the outside of the crust: radiation taken as linear about the temperature found there */
  double outer_c = surface_c, crust_k_m2_w = state->crust_m / CRUST_W_MK;
  for (int i = 0; i < 3; i++) {
    double a = bath->walls_c + KELVIN, o = outer_c + KELVIN;
    double radiant = bath->emissivity_frac * STEFAN_BOLTZMANN * (a * a + o * o) * (a + o);
    double warm = bath->h_w_m2k + bath->contact_w_m2k, both = warm + radiant,
           drive_c = (warm * bath->air_c + radiant * bath->walls_c) / both;
    out.heat_w_m2 = 1.0 / (1.0 / both + crust_k_m2_w) * (drive_c - surface_c);
    if (crust_k_m2_w <= 0.0)
      break;
    outer_c = surface_c + out.heat_w_m2 * crust_k_m2_w;
  }
  double t = outer_c + KELVIN; /* slope of radiation itself at the outside */
  double outside = bath->h_w_m2k + bath->contact_w_m2k + 4.0 * bath->emissivity_frac * STEFAN_BOLTZMANN * t * t * t;
  out.heat_slope = -1.0 / (1.0 / outside + crust_k_m2_w) - latent_j_kg * slope;
  out.heat_w_m2 -= latent_j_kg * (out.film_rate + out.crust_rate);
  return out;
}

/** Surface temperature at which the last cell, a + b Ts, and the surface balance agree. */
static double solve_surface(const struct sweep *s, const struct pw_engine_bath *bath, double a, double b,
                            const struct pw_engine_state *state, double span_s, struct surface *out)
{
  double ts = state->surface_c;
  for (int i = 0; i < 30; i++) {
    *out = surface_at(bath, state, ts, span_s);
    double change =
        (s->area * out->heat_w_m2 - s->skin * (ts - (a + b * ts))) / (s->skin * (1.0 - b) - s->area * out->heat_slope);
    ts += fmin(fmax(change, -30.0), 30.0);
    if (fabs(change) < 1e-9)
      break;
  }
  return ts;
}

/* ---- stepping ------------------------------------------------------------------------------------ */

/** What the cells let go in a step comes to the surface, or drips; the film and the crust change with what evaporated. */
static void move_water(struct pw_engine_state *state, const struct pw_engine_body *body,
                       const struct pw_engine_bath *bath, const struct surface *now, double span_s)
{
  double dx = body->half_m / body->cells, gone = 0.0;
  for (int i = 0; i < body->cells && body->bound_kg_m3 > 0.0; i++) {
    double frac = pw_engine_gone_frac(state->cell_c[i]);
    if (frac <= state->gone_frac[i])
      continue;
    gone +=
        (frac - state->gone_frac[i]) * (volume_inside(body->dims, (i + 1) * dx) - volume_inside(body->dims, i * dx));
    state->gone_frac[i] = frac;
  }
  gone *= body->bound_kg_m3 / face_area(body->dims, body->half_m);
  double came = span_s * state->juice_rate_kg_m2s, film = state->film_kg_m2 + came - span_s * now->film_rate;
  double over = fmin(fmax(film - FILM_MOST_KG_M2, 0.0), came); /* what lay there at the start stays */
  state->film_kg_m2 = fmax(film - over, 0.0);
  state->drip_kg_m2 += over + (1.0 - bath->juice_frac) * gone;
  state->juice_kg_m2 += bath->juice_frac * gone;
  state->juice_rate_kg_m2s = state->juice_kg_m2 / (JUICE_DELAY_S + span_s);
  state->juice_kg_m2 -= span_s * state->juice_rate_kg_m2s;
  state->crust_m += span_s * now->crust_rate / CRUST_KG_M3;
}

static void step(struct pw_engine_state *state, const struct sweep *s, const struct pw_engine_body *body,
                 const struct pw_engine_bath *bath, double step_s, bool is_half)
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
  double span_s = is_half ? 0.5 * step_s : step_s;
  struct surface now;
  double ts = solve_surface(s, bath, swept[n - 1], s->share[n - 1], state, span_s, &now);
  t[n - 1] = swept[n - 1] + s->share[n - 1] * ts;
  for (int i = n - 2; i >= 0; i--)
    t[i] = swept[i] + s->share[i] * t[i + 1];
  state->surface_c = ts;
  state->water_rate_kg_m2s = now.film_rate + now.crust_rate;
  state->water_kg_m2 += span_s * state->water_rate_kg_m2s;
  move_water(state, body, bath, &now, span_s);
  state->time_s += span_s;
}

static double between(double from, double to, double way) { return from + way * (to - from); }

/** The state at a share of the way from before to now. */
static void blend(struct pw_engine_state *state, const struct pw_engine_state *before, double way, int n)
{
  for (int i = 0; i < n; i++) {
    state->cell_c[i] = between(before->cell_c[i], state->cell_c[i], way);
    state->gone_frac[i] = between(before->gone_frac[i], state->gone_frac[i], way);
  }
  state->surface_c = between(before->surface_c, state->surface_c, way);
  state->water_kg_m2 = between(before->water_kg_m2, state->water_kg_m2, way);
  state->drip_kg_m2 = between(before->drip_kg_m2, state->drip_kg_m2, way);
  state->juice_kg_m2 = between(before->juice_kg_m2, state->juice_kg_m2, way);
  state->film_kg_m2 = between(before->film_kg_m2, state->film_kg_m2, way);
  state->crust_m = between(before->crust_m, state->crust_m, way);
  state->time_s = between(before->time_s, state->time_s, way);
}

double pw_engine_run(const struct pw_engine_body *body, const struct pw_engine_bath *bath,
                     struct pw_engine_state *state, double target_c, double step_s, double limit_s,
                     pw_engine_watch_fn watch, void *user)
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
    before = *state;
    if (k < HALVED) {
      step(state, &s, body, bath, step_s, true);
      step(state, &s, body, bath, step_s, true);
    } else {
      step(state, &s, body, bath, step_s, false);
    }
    core_c = pw_engine_core_c(state);
    if (core_c >= target_c)
      blend(state, &before, (target_c - core_before_c) / (core_c - core_before_c), s.n);
    if (watch && !watch(user, state, fmin(core_c, target_c)))
      return HUGE_VAL;
  }
  return state->time_s - start_s;
}

/* ---- a slab with two faces ----------------------------------------------------------------------- */

/** The whole slab of 2n cells: what a degree of the lower face's temperature adds to each; the upper's is its mirror image. */
struct slab {
  struct sweep s; /* of a half: cells are alike */
  int n;          /* cells in all */
  double answer[2 * PW_ENGINE_CELLS_MAX];
};

static void slab_solve(const struct slab *b, double *x)
{
  double share[2 * PW_ENGINE_CELLS_MAX], between_cells = 0.5 * b->s.skin;
  for (int i = 0; i < b->n; i++) {
    bool is_end = i == 0 || i == b->n - 1;
    double pivot = b->s.store[0] + between_cells + (is_end ? b->s.skin : between_cells);
    if (i > 0) {
      pivot -= between_cells * share[i - 1];
      x[i] += between_cells * x[i - 1];
    }
    share[i] = between_cells / pivot;
    x[i] /= pivot;
  }
  for (int i = b->n - 2; i >= 0; i--)
    x[i] += share[i] * x[i + 1];
}

static void slab_make(struct slab *b, const struct pw_engine_body *body, double step_s)
{
  sweep_make(&b->s, body, step_s);
  b->n = 2 * body->cells;
  for (int i = 0; i < b->n; i++)
    b->answer[i] = i == 0 ? b->s.skin : 0.0;
  slab_solve(b, b->answer);
}

/** The slab's cells from the lower face up. */
static double *slab_cell(struct pw_engine_state half[2], int n, int i)
{
  return i < n ? &half[0].cell_c[n - 1 - i] : &half[1].cell_c[i - n];
}

static void slab_step(struct pw_engine_state half[2], const struct slab *b, const struct pw_engine_body *body,
                      const struct pw_engine_bath bath[2], double step_s, bool is_half)
{
  enum { ROUNDS = 20 };
  double x[2 * PW_ENGINE_CELLS_MAX], between_cells = 0.5 * b->s.skin, span_s = is_half ? 0.5 * step_s : step_s;
  int n = body->cells, last = b->n - 1;
  assert(last > 0 && last + 1 == 2 * n);
  for (int i = 0; i <= last; i++) {
    double t = *slab_cell(half, n, i);
    x[i] = b->s.store[0] * t;
    if (is_half)
      continue;
    x[i] += i > 0 ? between_cells * (*slab_cell(half, n, i - 1) - t) : b->s.skin * (half[0].surface_c - t);
    x[i] += i < last ? between_cells * (*slab_cell(half, n, i + 1) - t) : b->s.skin * (half[1].surface_c - t);
  }
  slab_solve(b, x);
  struct surface now[2];
  double face_c[2] = {half[0].surface_c, half[1].surface_c};
  for (int i = 0; i < ROUNDS; i++) { /* each face answers the other through the whole slab: hardly at all */
    double was = face_c[0];
    face_c[0] =
        solve_surface(&b->s, &bath[0], x[0] + b->answer[last] * face_c[1], b->answer[0], &half[0], span_s, &now[0]);
    face_c[1] =
        solve_surface(&b->s, &bath[1], x[last] + b->answer[last] * face_c[0], b->answer[0], &half[1], span_s, &now[1]);
    if (fabs(face_c[0] - was) < 1e-9)
      break;
  }
  for (int i = 0; i <= last; i++)
    *slab_cell(half, n, i) = x[i] + b->answer[i] * face_c[0] + b->answer[last - i] * face_c[1];
  for (int k = 0; k < 2; k++) {
    half[k].surface_c = face_c[k];
    half[k].water_rate_kg_m2s = now[k].film_rate + now[k].crust_rate;
    half[k].water_kg_m2 += span_s * half[k].water_rate_kg_m2s;
    move_water(&half[k], body, &bath[k], &now[k], span_s);
    half[k].time_s += span_s;
  }
}

/** What both halves come to, for who watches: means, and the cooler face. */
static struct pw_engine_state slab_mean(const struct pw_engine_state half[2], int n)
{
  struct pw_engine_state mean = half[0];
  blend(&mean, &half[1], 0.5, n);
  mean.water_rate_kg_m2s = between(half[1].water_rate_kg_m2s, half[0].water_rate_kg_m2s, 0.5);
  mean.surface_c = fmin(half[0].surface_c, half[1].surface_c);
  return mean;
}

/** The least of what each part has once been at. */
static double least_reached(struct pw_engine_state half[2], double *most_c, int n)
{
  double least = HUGE_VAL;
  for (int i = 0; i < 2 * n; i++) {
    most_c[i] = fmax(most_c[i], half[i / n].cell_c[i % n]);
    least = fmin(least, most_c[i]);
  }
  return least;
}

/** turns + 1 phases of phase_s each, a turn between two of them; from the state in half.  The least of what each part has once been at. */
static double turned_phases(const struct pw_engine_body *body, const struct pw_engine_bath bath[2],
                            struct pw_engine_state half[2], double phase_s, int turns, int steps,
                            pw_engine_watch_fn watch, void *user)
{
  enum { HALVED = 2 }; /* a turn is as sudden as the start */
  struct slab b;
  struct pw_engine_bath now[2] = {bath[0], bath[1]};
  double most_c[2 * PW_ENGINE_CELLS_MAX], step_s = phase_s / steps;
  slab_make(&b, body, step_s);
  for (int i = 0; i < 2 * body->cells; i++)
    most_c[i] = -HUGE_VAL;
  double least_c = least_reached(half, most_c, body->cells);
  for (int i = 0; i < (turns + 1) * steps; i++) {
    if (i > 0 && i % steps == 0) {
      struct pw_engine_bath below = now[0];
      now[0] = now[1];
      now[1] = below;
    }
    if (i % steps < HALVED) {
      slab_step(half, &b, body, now, step_s, true);
      slab_step(half, &b, body, now, step_s, true);
    } else {
      slab_step(half, &b, body, now, step_s, false);
    }
    least_c = least_reached(half, most_c, body->cells);
    struct pw_engine_state mean = slab_mean(half, body->cells);
    if (watch && !watch(user, &mean, least_c))
      return -HUGE_VAL;
  }
  return least_c;
}

double pw_engine_turned_run(const struct pw_engine_body *body, const struct pw_engine_bath bath[2],
                            struct pw_engine_state half[2], double target_c, int turns, int steps, double limit_s,
                            pw_engine_watch_fn watch, void *user)
{
  assert(body->dims == 1.0 && body->cells >= 4 && body->cells <= PW_ENGINE_CELLS_MAX);
  const double close_k = 1e-6;
  struct pw_engine_state from[2] = {half[0], half[1]};
  double most_c[2 * PW_ENGINE_CELLS_MAX], start_s = half[0].time_s;
  for (int i = 0; i < 2 * body->cells; i++)
    most_c[i] = -HUGE_VAL;
  double lo_s = 0.0, lo = least_reached(half, most_c, body->cells) - target_c, hi_s = limit_s / (turns + 1);
  if (lo >= 0.0)
    return 0.0;
  double hi = turned_phases(body, bath, half, hi_s, turns, steps, NULL, NULL) - target_c;
  if (hi < 0.0)
    return HUGE_VAL;
  /* regula falsi in the Illinois form, halving first: far from the end a longer phase hardly adds anything */
  int side = 0;
  for (int i = 0; i < 80 && hi_s - lo_s > 1e-9 * hi_s; i++) {
    double phase_s = i < 4 ? 0.5 * (lo_s + hi_s) : (lo_s * hi - hi_s * lo) / (hi - lo);
    half[0] = from[0];
    half[1] = from[1];
    double off = turned_phases(body, bath, half, phase_s, turns, steps, NULL, NULL) - target_c;
    if (off < 0.0) {
      lo_s = phase_s;
      lo = off;
      hi *= side == -1 ? 0.5 : 1.0;
      side = -1;
    } else {
      hi_s = phase_s;
      hi = off;
      lo *= side == 1 ? 0.5 : 1.0;
      side = 1;
      if (off < close_k)
        break;
    }
  }
  half[0] = from[0];
  half[1] = from[1];
  if (turned_phases(body, bath, half, hi_s, turns, steps, watch, user) < target_c)
    return HUGE_VAL; /* the watcher ended it */
  return half[0].time_s - start_s;
}
