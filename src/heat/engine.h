/* engine.h - heating of one piece in one dimension by finite volumes [T1]: conduction inside; convection, radiation and
 * evaporation (or condensation) at the surface.  The open wet surface is held back by the water it evaporates until a
 * crust has formed; a wrapped one is nearly dry. */
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
};

/** What it lies in. */
struct pw_engine_bath {
  double air_c;           /**< what a thermometer beside it reads: gas and walls together */
  double h_w_m2k;         /**< convection */
  double emissivity_frac;
  double pressure_pa, vapour_pa;
  double wet_frac;        /**< evaporating share of a free water surface, 0 (dry or sealed) .. 1 */
  double crust_kg_m2;     /**< water lost that halves the evaporation; the crust grows with it */
  double dry_kg_m2;       /**< water lost at which the surface gives no more */
};

struct pw_engine_state {
  double cell_c[PW_ENGINE_CELLS_MAX];
  double surface_c;
  double water_kg_m2;     /**< evaporated since the start of the run, per surface */
  double water_rate_kg_m2s;
  double time_s;
};

/** Sees the state after every step; a false answer ends the run. */
typedef bool (*pw_engine_watch_fn)(void *user, const struct pw_engine_state *state, double core_c);

/** A piece at one temperature. */
void pw_engine_start(struct pw_engine_state *state, const struct pw_engine_body *body, double temp_c);

/** Temperature in the middle, from a parabola through the two innermost cells. */
double pw_engine_core_c(const struct pw_engine_state *state);
/** Mean temperature over the volume. */
double pw_engine_mean_c(const struct pw_engine_state *state, const struct pw_engine_body *body);
/** Surface over volume, 1/m. */
double pw_engine_area_m2_m3(const struct pw_engine_body *body);

/** Steps of step_s until the core reaches target_c from below or limit_s have passed.  Crank-Nicolson after two first
 *  steps in implicit halves (Rannacher); second order in cell width and in step.  Leaves the state at the crossing (linear
 *  between steps) and returns the seconds it took, or HUGE_VAL at the limit or when the watcher ended it. */
double pw_engine_run(const struct pw_engine_body *body, const struct pw_engine_bath *bath, struct pw_engine_state *state,
                     double target_c, double step_s, double limit_s, pw_engine_watch_fn watch, void *user);

#endif
