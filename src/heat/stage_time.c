/* stage_time.c - fitting the engine's one free parameter to the catalog's time, and running it elsewhere [T1]. */
#include "heat/stage_time.h"

#include "heat/air.h"
#include "heat/conduct.h"
#include "heat/food_props.h"
#include "heat/shell.h"

#include <math.h>
#include <stddef.h>

#define STEFAN_BOLTZMANN 5.670374419e-8 /* W/(m2 K4), CODATA 2018 */
#define KELVIN           273.15         /* 0 C, definition */
#define THETA_LEAST      0.15           /* a stage ends at 0.2 to 0.6 of the difference it began with */
#define THETA_MOST       0.7
#define EMISSIVITY       0.9  /* food surface, usual textbook value for wet and for dark surfaces */
#define DRAUGHT_M_S      0.3  /* air past the food: common practice, no source */
#define SURFACE_C        60.0 /* surface at which convection is taken; it hardly moves with it */
#define PROPERTY_C       60.0 /* temperature at which density and heat capacity are taken */
#define LET_GO_MOST_FRAC                                                                                               \
  0.345 /* of the raw weight: water held, 0.745 - 0.345 / (1 + 30 exp(-0.25 (T - 52))), van der Sman 2007 as in Feyissa and others 2013 (numbers seen in a public repository) */
#define LET_GO_FRAC 0.8 /* of the loss; the rest dries off the surface: no source */
#define JUICE_FRAC                                                                                                     \
  0.6 /* of the water let go, to the surface; most loss is juice, Kondjoyan and others 2013 (abstract); share: no source */
#define SKIN_WET_KG_M2     0.1   /* on a piece as it goes on: common practice, no source */
#define PAN_WATER_KG_M2    100.0 /* in a pan: more than will ever go */
#define WALLS_FRAC         0.06 /* walls of a pit below its air, of the air's lead over a mild day; no source: 6 K at 121 C */
#define MILD_C             20.0 /* the day catalog times are told for: common practice, no source */
#define MILD_RELATIVE_FRAC 0.5
#define MILD_WATER_KG_KG   0.79 /* water per kg of dry wood: 9 x 6 % hydrogen + 20 % wet basis */
/* per kg of dry wood, from the meat itself: 25 kg that give off a tenth in six hours over 1.7 kg of wood an hour: no source */
#define MEAT_WATER_KG_KG  0.25
#define MILD_AIR_KG_KG    30.0 /* air per kg of dry wood: 6 x (1 + 400 % excess) */
#define PAN_H             8.0  /* hours over which a water pan boils off: common practice, no source */
#define COALS_DRAUGHT_M_S 1.0  /* hot gas rising through a grate: common practice, no source */
/* bars of a grate: a tenth of the face at 400 W/m2K; patties between plates 250 to 650, abstract seen (Contact heat transfer coefficient
 * during double-sided cooking of hamburger patties); the tenth: no source */
#define GRATE_CONTACT_W_M2K 40.0
/* what the side away from the coals sees, of the grate's lead over the day: hot gas round the piece; under a lid far more: no source */
#define ABOVE_OPEN_FRAC 0.25
#define ABOVE_LID_FRAC  0.6
#define STEPS_PER_STAGE 100.0 /* to the reference time; ratios of times within 0.1 % of those of 1200 steps */
#define STEPS_TURNED    96    /* the same of a piece that is turned, */
#define STEPS_A_SIDE    12    /* ... and no fewer from turn to turn */
#define NEAR_END_K      12.0  /* closer to the air the core creeps, and so does the time */
#define FAR_FROM_REF_K  30.0  /* about 55 F from the temperature the time was told for */
#define FAR_IN_WEIGHT   1.6 /* heavier or lighter by this: as far as the turkey chart was followed; no source for more */
#define GONE_LEAST_FRAC                                                                                                \
  0.3 /* a piece served pink has let go little of its water; what it loses then is taken as fat and drip too */
#define PAN_WET_FRAC 0.5 /* a pan gives off steam at the top alone */
#define SCALE_LEAST  0.6 /* thickness for the heat over the catalog's thickest place, outside which they do not agree */
#define SCALE_MOST   1.6
#define PARAM_LOW    (-8.0)
#define PARAM_HIGH   4.0

struct pw_stage_air pw_stage_air_mild(void)
{
  struct pw_stage_air air = {.pressure_pa = pw_air_pressure_pa(0.0), .above_frac = ABOVE_OPEN_FRAC};
  air.ratio = pw_air_humidity_ratio(MILD_C, MILD_RELATIVE_FRAC, air.pressure_pa) +
              (MILD_WATER_KG_KG + MEAT_WATER_KG_KG) / MILD_AIR_KG_KG;
  return air;
}

struct pw_stage_air pw_stage_air_of(const struct pw_event *ev, int pit)
{
  const struct pw_pit *p = &ev->pits[pit];
  const struct pw_fuel *wood = &ev->fuels[p->wood];
  struct pw_stage_air air = {.pressure_pa = pw_air_pressure_pa(ev->site.altitude_m),
                             .above_frac = p->coals.has_lid ? ABOVE_LID_FRAC : ABOVE_OPEN_FRAC};
  double outside_c = 0.5 * (ev->weather.low_c + ev->weather.high_c);
  double moisture = wood->moisture_wet_frac / (1.0 - wood->moisture_wet_frac);
  air.ratio =
      pw_air_humidity_ratio(outside_c, ev->weather.humidity_frac, air.pressure_pa) +
      (9.0 * wood->hydrogen_frac + moisture + MEAT_WATER_KG_KG) / (wood->stoich_air_kg_kg * (1.0 + p->excess_air_frac));
  /* a water pan's steam goes into the air of the wood that the cook's own figure burns meanwhile */
  double dry_kg_h = p->settings[0].splits_per_h * p->split_kg * (1.0 - wood->moisture_wet_frac);
  if (p->water_kg > 0.0 && dry_kg_h > 0.0)
    air.ratio += p->water_kg / PAN_H / (dry_kg_h * wood->stoich_air_kg_kg * (1.0 + p->excess_air_frac));
  return air;
}

double pw_stage_step_s(const struct pw_stage *stage) { return stage->ref_min * 60.0 / STEPS_PER_STAGE; }

/* ---- one run ------------------------------------------------------------------------------------- */

/** Thickness the engine takes over thickness in the catalog: what the open stage says; the wrapped one may only ask for less. */
static double scale_of(const struct pw_stage_model *m, bool is_wrapped, double param)
{
  return is_wrapped ? m->smoke.scale * exp(fmin(param, 0.0)) : exp(param);
}

double pw_stage_coals_above_c(double grate_c, bool has_lid)
{
  return MILD_C + (has_lid ? ABOVE_LID_FRAC : ABOVE_OPEN_FRAC) * (grate_c - MILD_C);
}

double pw_stage_coals_face_c(double grate_c, double above_c)
{
  double grate_k = grate_c + KELVIN, above_k = above_c + KELVIN;
  return pow(2.0 * pow(grate_k, 4.0) - pow(above_k, 4.0), 0.25) - KELVIN;
}

/** The two sides of a piece over coals whose grate is at grate_c: below radiation and rising gas, above what is left of them. */
static void coals_baths(const struct pw_engine_bath *bath, double half_m, double grate_c, bool has_bars,
                        const struct pw_stage_air *air, struct pw_engine_bath out[2])
{
  double above_c = MILD_C + air->above_frac * (grate_c - MILD_C);
  for (int k = 0; k < 2; k++) {
    out[k] = *bath;
    out[k].air_c = k == 0 ? grate_c : above_c;
    out[k].contact_w_m2k = k == 0 && has_bars ? GRATE_CONTACT_W_M2K : 0.0;
    out[k].walls_c = k == 0 ? pw_stage_coals_face_c(grate_c, above_c) : above_c;
    out[k].h_w_m2k = pw_shell_h_w_m2k(2.0 * half_m, SURFACE_C, out[k].air_c, k == 0 ? COALS_DRAUGHT_M_S : DRAUGHT_M_S,
                                      air->pressure_pa);
  }
}

/** Rolled about all the time: as much heat as the mean of both sides. */
static void mean_bath(struct pw_engine_bath *bath, const struct pw_engine_bath sides[2])
{
  double h = sides[0].h_w_m2k + sides[1].h_w_m2k, t4 = 0.0;
  bath->contact_w_m2k = 0.5 * sides[0].contact_w_m2k; /* at the mean gas: round pieces touch less */
  for (int k = 0; k < 2; k++)
    t4 += 0.5 * pow(sides[k].walls_c + KELVIN, 4.0);
  bath->h_w_m2k = 0.5 * h;
  bath->air_c = (sides[0].h_w_m2k * sides[0].air_c + sides[1].h_w_m2k * sides[1].air_c) / h;
  bath->walls_c = pow(t4, 0.25) - KELVIN;
}

/** Turned now and then: each side by itself. */
static bool is_two_sided(const struct pw_stage_model *m, const struct pw_stage *stage)
{
  return stage->is_over_coals && stage->turns > 0 && m->cut->shape == PW_SHAPE_SLAB;
}

static void set_run(const struct pw_stage_model *m, const struct pw_stage *stage, double param, double half_m,
                    double air_c, const struct pw_stage_air *air, struct pw_engine_body *body,
                    struct pw_engine_bath *bath)
{
  const struct pw_cut *cut = m->cut;
  bool is_wrapped = stage == &cut->finish;
  double scale = scale_of(m, is_wrapped, param), breathes = is_wrapped ? 1.0 - exp(-fmax(param, 0.0)) : 1.0;
  *body = (struct pw_engine_body){.dims = is_wrapped ? m->finish_dims : m->smoke_dims,
                                  .half_m = half_m * scale,
                                  .conductivity_w_mk = cut->diffusivity_m2_s * m->heat_j_m3k,
                                  .heat_j_m3k = m->heat_j_m3k,
                                  .cells = PW_STAGE_CELLS,
                                  .bound_kg_m3 = m->bound_kg_m3};
  *bath = (struct pw_engine_bath){
      .air_c = air_c,
      .h_w_m2k = pw_shell_h_w_m2k(2.0 * half_m, SURFACE_C, air_c, DRAUGHT_M_S, air->pressure_pa),
      .emissivity_frac = EMISSIVITY,
      .pressure_pa = air->pressure_pa,
      .vapour_pa = pw_air_vapour_pa(air->ratio, air->pressure_pa),
      .walls_c = air_c - WALLS_FRAC * fmax(air_c - MILD_C, 0.0),
      .wet_frac = breathes * (cut->kind == PW_KIND_PLANT ? PAN_WET_FRAC : 1.0),
      .juice_frac = JUICE_FRAC,
      .most_kg_m2 = cut->kind == PW_KIND_PLANT
                        ? fmax(1.0 - cut->cook_frac, 0.01) * m->density_kg_m3 / pw_engine_area_m2_m3(body)
                        : 0.0};
  if (!stage->is_over_coals)
    return;
  if (is_two_sided(m, stage))
    body->dims = 1.0;
  struct pw_engine_bath sides[2];
  coals_baths(bath, half_m, air_c, !stage->is_on_spit, air, sides);
  mean_bath(bath, sides);
}

struct pw_coals_heat pw_stage_coals_heat(double grate_c, double piece_c, double half_m, bool has_bars,
                                         const struct pw_stage_air *air)
{
  struct pw_engine_bath bath = {0}, sides[2];
  coals_baths(&bath, half_m, grate_c, has_bars, air, sides);
  return (struct pw_coals_heat){-pw_shell_radiation_w_m2(EMISSIVITY, piece_c, sides[0].walls_c),
                                sides[0].h_w_m2k * (grate_c - piece_c), sides[0].contact_w_m2k * (grate_c - piece_c)};
}

double pw_stage_coals_w_m2(double grate_c, double piece_c, double half_m, bool has_bars, const struct pw_stage_air *air)
{
  struct pw_coals_heat heat = pw_stage_coals_heat(grate_c, piece_c, half_m, has_bars, air);
  return heat.radiation_w_m2 + heat.gas_w_m2 + heat.bars_w_m2;
}

/** A run with a parameter: one of the three ways a piece is heated. */
static double run(const struct pw_stage_model *m, const struct pw_stage *stage, double param, double half_m,
                  double air_c, const struct pw_stage_air *air, struct pw_engine_state *state, double limit_s,
                  pw_engine_watch_fn watch, void *user)
{
  struct pw_engine_body body;
  struct pw_engine_bath bath, sides[2];
  set_run(m, stage, param, half_m, air_c, air, &body, &bath);
  if (!is_two_sided(m, stage))
    return pw_engine_run(&body, &bath, state, stage->to_c, pw_stage_step_s(stage), limit_s, watch, user);
  struct pw_engine_state half[2] = {*state, *state};
  coals_baths(&bath, half_m, air_c, !stage->is_on_spit, air, sides);
  double seconds = pw_engine_turned_run(
      &body, sides, half, stage->to_c, stage->turns,
      STEPS_TURNED / (stage->turns + 1) > STEPS_A_SIDE ? STEPS_TURNED / (stage->turns + 1) : STEPS_A_SIDE, limit_s,
      watch, user);
  *state = half[0];
  return seconds;
}

double pw_stage_half_m(const struct pw_cut *cut, double kg)
{
  double times = kg / cut->piece_kg;
  return cut->half_m * (cut->thicker_frac > 0.0 ? pow(times, cut->thicker_frac) : cbrt(times));
}

/** Half thickness of the piece the reference time was taken for. */
static double reference_half_m(const struct pw_cut *cut, const struct pw_stage *stage)
{
  return stage->ref_kg > 0.0 ? pw_stage_half_m(cut, stage->ref_kg) : cut->half_m;
}

/** Runs a stage at its reference with a parameter; leaves the state at its end. */
static double reference_minutes(const struct pw_stage_model *m, const struct pw_stage *stage, double param,
                                struct pw_engine_state *state)
{
  struct pw_stage_air air = pw_stage_air_mild();
  return run(m, stage, param, reference_half_m(m->cut, stage), stage->ref_c, &air, state, 3.0 * 60.0 * stage->ref_min,
             NULL, NULL) /
         60.0;
}

/* ---- the fit ------------------------------------------------------------------------------------- */

/** log(time / reference) at a parameter: rises with it; HUGE_VAL when the stage does not end. */
static double misfit(const struct pw_stage_model *m, const struct pw_stage *stage, const struct pw_engine_state *start,
                     double param)
{
  struct pw_engine_state state = *start;
  return log(reference_minutes(m, stage, param, &state) / stage->ref_min);
}

struct bracket {
  double lo, hi, f_lo, f_hi;
};

/** Parameters on either side of the reference time, from 0 outwards in growing strides. */
static struct bracket bracket_make(const struct pw_stage_model *m, const struct pw_stage *stage,
                                   const struct pw_engine_state *start)
{
  double f = misfit(m, stage, start, 0.0), stride = f > 0.0 ? -0.2 : 0.2;
  struct bracket b = {0.0, 0.0, f, f};
  if (f > 0.0)
    while (b.f_lo > 0.0 && b.lo > PARAM_LOW) {
      b.hi = b.lo;
      b.f_hi = b.f_lo;
      b.lo += stride;
      b.f_lo = misfit(m, stage, start, b.lo);
      stride *= 2.0;
    }
  else
    while (b.f_hi < 0.0 && b.hi < PARAM_HIGH) {
      b.lo = b.hi;
      b.f_lo = b.f_hi;
      b.hi += stride;
      b.f_hi = misfit(m, stage, start, b.hi);
      stride *= 2.0;
    }
  return b;
}

/** Regula falsi in the Illinois form; halves while one side has no finite time. */
static double fit_param(const struct pw_stage_model *m, const struct pw_stage *stage,
                        const struct pw_engine_state *start)
{
  struct bracket b = bracket_make(m, stage, start);
  int side = 0;
  double param = b.f_lo >= 0.0 ? b.lo : b.hi; /* of a bracket that does not close, the end nearer to the reference */
  for (int i = 0; i < 60 && b.f_lo < 0.0 && b.f_hi > 0.0 && b.hi - b.lo > 1e-9; i++) {
    param = isfinite(b.f_hi) ? (b.lo * b.f_hi - b.hi * b.f_lo) / (b.f_hi - b.f_lo) : 0.5 * (b.lo + b.hi);
    double f = misfit(m, stage, start, param);
    if (fabs(f) < 1e-6)
      break;
    if (f < 0.0) {
      b.lo = param;
      b.f_lo = f;
      b.f_hi *= side == -1 ? 0.5 : 1.0;
      side = -1;
    } else {
      b.hi = param;
      b.f_hi = f;
      b.f_lo *= side == 1 ? 0.5 : 1.0;
      side = 1;
    }
  }
  return param;
}

/** Fits a stage and moves the state to its end. */
static struct pw_stage_fit fit(const struct pw_stage_model *m, const struct pw_stage *stage,
                               struct pw_engine_state *state)
{
  struct pw_stage_fit out = {.scale = 1.0, .correction = 1.0};
  if (stage->ref_c <= stage->to_c || stage->to_c <= pw_engine_core_c(state))
    return out;
  out.param = fit_param(m, stage, state);
  double minutes = reference_minutes(m, stage, out.param, state);
  out.correction = isfinite(minutes) ? stage->ref_min / minutes : 1.0;
  bool is_wrapped = stage == &m->cut->finish;
  out.scale = scale_of(m, is_wrapped, out.param);
  return out;
}

/** Dimensions of a piece from its size on the rack: the engine's body has the piece's thickness and its surface over volume, edges and
 *  ends counted, since what comes in and what evaporates are in proportion to the surface. */
static double dims_of(const struct pw_cut *cut)
{
  double longer = fmax(cut->length_m, cut->width_m), shorter = fmin(cut->length_m, cut->width_m);
  double dims = pw_conduct_shape_dims(cut->shape);
  if (cut->shape != PW_SHAPE_SPHERE)
    dims += cut->half_m / fmax(0.5 * longer, cut->half_m);
  if (cut->shape == PW_SHAPE_SLAB)
    dims += cut->half_m / fmax(0.5 * shorter, cut->half_m);
  return fmin(dims, 3.0);
}

/** The water that the meat lets go: as much as the catalog says a piece loses by the end of cooking.  A dish in a pan has its water
 *  lying free. */
static void set_water(struct pw_stage_model *m)
{
  const struct pw_cut *cut = m->cut;
  double end_c = cut->finish.is_used ? cut->finish.to_c : cut->smoke.to_c;
  double let_go = LET_GO_FRAC * (1.0 - cut->cook_frac) / fmax(pw_engine_gone_frac(end_c), GONE_LEAST_FRAC);
  m->bound_kg_m3 = cut->kind == PW_KIND_PLANT ? 0.0 : fmin(let_go, LET_GO_MOST_FRAC) * m->density_kg_m3;
}

void pw_stage_model_make(struct pw_stage_model *out, const struct pw_cut *cut)
{
  struct pw_food food = pw_food_of_kind(cut->kind);
  struct pw_food_props props = pw_food_props_at(&food, PROPERTY_C);
  struct pw_engine_state state;
  out->cut = cut;
  out->density_kg_m3 = props.density_kg_m3;
  out->heat_j_m3k = props.density_kg_m3 * props.cp_j_kgk;
  out->smoke_dims = out->finish_dims = dims_of(cut);
  set_water(out);
  struct pw_engine_body body = {.dims = out->smoke_dims, .half_m = cut->half_m, .cells = PW_STAGE_CELLS};
  body.free_kg_m2 = cut->kind == PW_KIND_PLANT ? PAN_WATER_KG_M2 : SKIN_WET_KG_M2;
  out->smoke = out->finish = (struct pw_stage_fit){.scale = 1.0, .correction = 1.0};
  pw_engine_start(&out->raw, &body, cut->start_c > 0.0 ? cut->start_c : cut->smoke.from_c);
  pw_engine_start(&state, &body, cut->smoke.from_c);
  if (cut->smoke.is_used)
    out->smoke = fit(out, &cut->smoke, &state);
  if (cut->finish.is_used) {
    /* the profile of the open stage's end, moved to the core the finish says it starts from */
    double move_k = cut->finish.from_c - pw_engine_core_c(&state);
    for (int i = 0; i < PW_STAGE_CELLS; i++)
      state.cell_c[i] += move_k;
    state.surface_c += move_k;
    out->wrapped = state;
    out->finish = fit(out, &cut->finish, &state);
  } else {
    out->wrapped = state;
  }
}

/* ---- elsewhere ------------------------------------------------------------------------------------ */

void pw_stage_model_set(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                        const struct pw_stage_air *air, struct pw_engine_body *body, struct pw_engine_bath *bath)
{
  const struct pw_stage_fit *f = stage == &m->cut->finish ? &m->finish : &m->smoke;
  set_run(m, stage, f->param, m->cut->half_m, air_c, air, body, bath);
}

double pw_stage_model_run(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                          const struct pw_stage_air *air, struct pw_engine_state *state, double limit_s,
                          pw_engine_watch_fn watch, void *user)
{
  const struct pw_stage_fit *f = stage == &m->cut->finish ? &m->finish : &m->smoke;
  return run(m, stage, f->param, m->cut->half_m, air_c, air, state, limit_s, watch, user);
}

double pw_stage_model_theory_minutes(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                                     const struct pw_stage_air *air)
{
  bool is_wrapped = stage == &m->cut->finish;
  struct pw_engine_state state = is_wrapped ? m->wrapped : m->raw;
  if (stage->to_c <= pw_engine_core_c(&state))
    return stage->ref_min; /* a stage for colour: heat does not decide it */
  if (air_c <= stage->to_c)
    return HUGE_VAL;
  double seconds = pw_stage_model_run(m, stage, air_c, air, &state, PW_STAGE_LIMIT * 60.0 * stage->ref_min, NULL, NULL);
  return seconds / 60.0 * (is_wrapped ? m->finish.correction : m->smoke.correction);
}

/** Theory from the open stage's profile at its reference.  In a much hotter pit the outside of a piece is hotter by then than that
 *  profile says: the wrapped stage takes no longer than the rest of the way would take unwrapped there. */
static double carried_minutes(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                              const struct pw_stage_air *air)
{
  double minutes = pw_stage_model_theory_minutes(m, stage, air_c, air);
  const struct pw_cut *cut = m->cut;
  if (stage != &cut->finish || !cut->smoke.is_used || air_c <= cut->finish.to_c ||
      cut->finish.to_c <= cut->smoke.to_c || fabs(m->finish.correction - 1.0) > 1e-3)
    return minutes;
  struct pw_engine_body body;
  struct pw_engine_bath bath;
  struct pw_engine_state state = m->raw;
  pw_stage_model_set(m, &cut->smoke, air_c, air, &body, &bath);
  double step_s = pw_stage_step_s(&cut->smoke), limit_s = PW_STAGE_LIMIT * 60.0 * cut->smoke.ref_min;
  if (!isfinite(pw_engine_run(&body, &bath, &state, cut->smoke.to_c, step_s, limit_s, NULL, NULL)))
    return minutes;
  return fmin(minutes, pw_engine_run(&body, &bath, &state, cut->finish.to_c, step_s, limit_s, NULL, NULL) / 60.0);
}

double pw_stage_model_minutes(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                              const struct pw_stage_air *air)
{
  const struct pw_reading *below = NULL, *above = NULL;
  for (int i = 0; i < stage->n_own; i++) {
    const struct pw_reading *r = &stage->own[i];
    if (r->air_c <= air_c && (!below || r->air_c > below->air_c))
      below = r;
    if (r->air_c >= air_c && (!above || r->air_c < above->air_c))
      above = r;
  }
  if (below && above) {
    double way = above->air_c > below->air_c ? (air_c - below->air_c) / (above->air_c - below->air_c) : 0.0;
    return exp(log(below->minutes) + way * (log(above->minutes) - log(below->minutes)));
  }
  double minutes = carried_minutes(m, stage, air_c, air);
  const struct pw_reading *only = below ? below : above;
  return only ? minutes * only->minutes / carried_minutes(m, stage, only->air_c, air) : minutes;
}

const char *pw_stage_model_doubt(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c)
{
  const struct pw_stage_fit *f = stage == &m->cut->finish ? &m->finish : &m->smoke;
  double told_kg = stage->ref_kg > 0.0 ? stage->ref_kg : m->cut->piece_kg;
  if (stage->n_own > 1)
    return NULL;
  if (air_c - stage->to_c < NEAR_END_K)
    return "the air is so little above the end temperature that a few degrees change the time a lot";
  if (fabs(air_c - stage->ref_c) > FAR_FROM_REF_K)
    return "the air is far from the temperature the catalog's time was told for";
  if (told_kg > FAR_IN_WEIGHT * m->cut->piece_kg || m->cut->piece_kg > FAR_IN_WEIGHT * told_kg)
    return "the piece is far from the weight the catalog's time was told for";
  if (f->scale < SCALE_LEAST)
    return "heat alone would take longer than the catalog says: its size and its time do not agree";
  if (f->scale > SCALE_MOST)
    return "heat alone would be much quicker than the catalog says: colour or tenderness decides this stage";
  return NULL;
}

double pw_stage_minutes(const struct pw_cut *cut, const struct pw_stage *stage, double air_c)
{
  struct pw_stage_model model;
  struct pw_stage_air air = pw_stage_air_mild();
  pw_stage_model_make(&model, cut);
  return pw_stage_model_minutes(&model, stage, air_c, &air);
}
