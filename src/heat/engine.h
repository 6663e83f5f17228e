/* engine.h - heating of one piece in one dimension by finite volumes [T1]: conduction inside; convection, radiation and
 * evaporation (or condensation) at the surface.
 *
 * Meat that is heated lets its water go: what it can hold falls with temperature, most steeply near 66 C.  A share of what is let
 * go reaches the surface as juice and evaporates there, the rest drips.  As long as juice comes, the open surface stays near its
 * wet bulb, and each further degree inside costs the latent heat of the juice it sets free: that is the stall.  Where no juice
 * comes, a dry crust grows; heat and vapour then pass through it.  A wrapped piece evaporates nothing and does not stall. */
#ifndef PW_HEAT_ENGINE_H
#define PW_HEAT_ENGINE_H

#include "pw/event.h"

enum { PW_ENGINE_CELLS_MAX = 320 };

/** The piece: a slab of half thickness, a long cylinder or a sphere of radius half_m, cut into equal cells; dims 1, 2, 3.
 *  Between them lie bodies of finite length: pw_conduct_dims() says where. */
struct pw_engine_body {
  double dims;
  double half_m, conductivity_w_mk, heat_j_m3k; /**< heat: density x heat capacity */
  int cells;                                    /**< 4 .. PW_ENGINE_CELLS_MAX */
  double bound_kg_m3;                           /**< water let go between raw and boiling, per volume; 0: none */
  double free_kg_m2;                            /**< water that lies on the surface at the start, per surface */
};

/** What it lies in. */
struct pw_engine_bath {
  double air_c;   /**< what a thermometer beside it reads: gas and walls together */
  double h_w_m2k; /**< convection */
  double
      contact_w_m2k; /**< through bars it lies on, at the air's temperature, over the whole face; carries no vapour */
  double emissivity_frac;
  double pressure_pa, vapour_pa;
  double walls_c;    /**< what the piece radiates to: walls, as a rule cooler than the air */
  double wet_frac;   /**< evaporating share of a free water surface, 0 (dry or sealed) .. 1 */
  double juice_frac; /**< share of the water let go that reaches the surface; the rest drips */
  double most_kg_m2; /**< evaporation comes to an end as it nears this much; 0: it does not */
};

struct pw_engine_state {
  double cell_c[PW_ENGINE_CELLS_MAX];
  double gone_frac[PW_ENGINE_CELLS_MAX]; /**< share of the bound water that each cell has let go; never comes back */
  double surface_c;                      /**< of the moist meat: under the crust */
  double water_kg_m2;                    /**< evaporated since the start of the run, per surface */
  double water_rate_kg_m2s;
  double drip_kg_m2;        /**< dripped */
  double film_kg_m2;        /**< juice on the surface */
  double juice_kg_m2;       /**< on its way to the surface */
  double juice_rate_kg_m2s; /**< coming to the surface in the next step */
  double crust_m;           /**< dry crust over the moist meat */
  double time_s;
};

/** Sees the state after every step; a false answer ends the run. */
typedef bool (*pw_engine_watch_fn)(void *user, const struct pw_engine_state *state, double core_c);

/** Share of the water that meat lets go on the way to boiling which is gone at temp_c, 0 .. 1: what it can hold follows
 *  0.745 - 0.345 / (1 + 30 exp(-0.25 (T - 52))) kg/kg.  Source: van der Sman (2007), J. Food Eng. 83, used by Feyissa, Adler-Nissen
 *  and Gernaey (2009); coefficients as in a published reimplementation, the papers from memory. */
double pw_engine_gone_frac(double temp_c);

/** A piece at one temperature. */
void pw_engine_start(struct pw_engine_state *state, const struct pw_engine_body *body, double temp_c);

/** Temperature in the middle, from a parabola through the two innermost cells. */
double pw_engine_core_c(const struct pw_engine_state *state);
/** Mean temperature over the volume. */
double pw_engine_mean_c(const struct pw_engine_state *state, const struct pw_engine_body *body);
/** Surface over volume, 1/m. */
double pw_engine_area_m2_m3(const struct pw_engine_body *body);

/** Steps of step_s until the core reaches target_c from below or limit_s have passed.  Crank-Nicolson after two first
 *  steps in implicit halves (Rannacher); second order in cell width, and in step where nothing evaporates; the film on the surface
 *  is stepped implicitly, first order.  Leaves the state at the crossing (linear
 *  between steps) and returns the seconds it took, or HUGE_VAL at the limit or when the watcher ended it. */
double pw_engine_run(const struct pw_engine_body *body, const struct pw_engine_bath *bath,
                     struct pw_engine_state *state, double target_c, double step_s, double limit_s,
                     pw_engine_watch_fn watch, void *user);

/** A slab over coals, turned so many times after even spans: half[0] lies below, half[1] above, each with its cells from the middle
 *  plane outwards, body->half_m of the whole thickness and dims 1; baths likewise, and they change places with each turn.  The shortest
 *  such cook after which every part has once been at target_c (cooked meat cannot uncook: Thiffeault 2022): hotter baths
 *  never take longer.  Each span is so many steps.  The watcher sees the mean of both halves, and as the core what every part
 *  has once been at.  Otherwise as pw_engine_run(). */
double pw_engine_turned_run(const struct pw_engine_body *body, const struct pw_engine_bath bath[2],
                            struct pw_engine_state half[2], double target_c, int turns, int steps, double limit_s,
                            pw_engine_watch_fn watch, void *user);

#endif
