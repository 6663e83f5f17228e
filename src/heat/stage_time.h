/* stage_time.h - a stage's catalog time carried to another air, piece and start by the heat engine [T1].
 *
 * The catalog says "so long at so much for this piece".  One free parameter per stage is fitted so that the engine gives
 * exactly that time there.  Open stage: how thick the piece is for the heat, against its catalog measure (a piece is thinner
 * than its thickest place, pieces that touch are thicker); its surface is wet as long as juice comes.  Wrapped stage: how
 * much of the vapour the wrap lets through (foil none, paper some), so that a wrapped piece is never slower than an open one; if
 * even a tight wrap is too slow, how much thinner still the piece is.  Edges and ends count: the engine's body has the surface
 * over volume of a finite one.  The engine carries the rest; the water that goes is in all what the catalog says a piece loses.
 * A cook's own pairs of temperature and time replace the theory between them, and move it outside. */
#ifndef PW_HEAT_STAGE_TIME_H
#define PW_HEAT_STAGE_TIME_H

#include "heat/engine.h"
#include "pw/event.h"

enum {
  PW_STAGE_CELLS = 16
}; /**< cells of the engine: ratios of times within 0.1 % of those of 160 cells, the fit takes the rest */

/** Share of the cook loss that goes in the open stage when a wrapped one follows: common practice, no source. */
#define PW_STAGE_OPEN_LOSS_FRAC 0.75

/** Air of a pit, besides its temperature. */
struct pw_stage_air {
  double ratio; /**< kg water per kg dry air: the outside air's, the burning wood's, the meat's, a water pan's */
  double pressure_pa;
  double above_frac; /**< over coals: lead over the mild day of what the upper side sees, of the grate's lead */
};

/** Air of a pit on a mild day at sea level, in which catalog times are taken to be told. */
struct pw_stage_air pw_stage_air_mild(void);
/** Air of one pit of the event. */
struct pw_stage_air pw_stage_air_of(const struct pw_event *ev, int pit);

/** One stage after the fit. */
struct pw_stage_fit {
  double
      param; /**< the free parameter: open stage log of the scale; wrapped stage above 0 -log of the vapour held back, below 0 thinner */
  double scale;      /**< thickness the theory needs over thickness in the catalog */
  double correction; /**< what the fit leaves, as a factor: 1 unless the catalog's figures defy the engine */
};

/** One cut, fitted. */
struct pw_stage_model {
  const struct pw_cut *cut;
  struct pw_engine_state raw, wrapped; /**< at the start of the two stages */
  struct pw_stage_fit smoke, finish;
  double heat_j_m3k, density_kg_m3;
  double bound_kg_m3;             /**< water that the meat lets go by boiling */
  double smoke_dims, finish_dims; /**< of the engine's body: its ends and edges take heat too */
};

/** Half thickness of a piece of this cut that weighs kg. */
double pw_stage_half_m(const struct pw_cut *cut, double kg);

/** Fits both stages.  About 20 runs of the engine, 30 microseconds each. */
void pw_stage_model_make(struct pw_stage_model *out, const struct pw_cut *cut);

/** No stage may take more than this many times its reference. */
#define PW_STAGE_LIMIT 6.0

/** Minutes a stage (&cut->smoke or &cut->finish) takes at air_c; HUGE_VAL when it does not come to an end within
 *  PW_STAGE_LIMIT times the reference time. */
double pw_stage_model_minutes(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                              const struct pw_stage_air *air);

/** The same by theory alone, whatever the cook has measured. */
double pw_stage_model_theory_minutes(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                                     const struct pw_stage_air *air);

/** Runs a stage from *state, as the raw or the wrapped piece, to its end; over coals as a slab with two sides that is turned, or, rolled
 *  about, in the mean of both.  Seconds, HUGE_VAL at limit_s; the state at the end. */
double pw_stage_model_run(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                          const struct pw_stage_air *air, struct pw_engine_state *state, double limit_s,
                          pw_engine_watch_fn watch, void *user);
/** What the side away from the coals sees, of a grate at grate_c. */
double pw_stage_coals_above_c(double grate_c, bool has_lid);
/** Black-body temperature of what a thermometer on a bare grate faces below, which reads grate_c and gives off as much above, to above_c. */
double pw_stage_coals_face_c(double grate_c, double above_c);
/** Heat that reaches the lower side of a piece over coals, by its ways. */
struct pw_coals_heat {
  double radiation_w_m2, gas_w_m2, bars_w_m2;
};
struct pw_coals_heat pw_stage_coals_heat(double grate_c, double piece_c, double half_m, bool has_bars,
                                         const struct pw_stage_air *air);
/** All of it, for a grate at grate_c, W/m2. */
double pw_stage_coals_w_m2(double grate_c, double piece_c, double half_m, bool has_bars,
                           const struct pw_stage_air *air);

/** Body and bath of a run, for those who want the curve; over coals the mean of both sides. */
void pw_stage_model_set(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c,
                        const struct pw_stage_air *air, struct pw_engine_body *body, struct pw_engine_bath *bath);
/** Step that suits the stage, s. */
double pw_stage_step_s(const struct pw_stage *stage);

/** Where the theory is weak at this temperature, as half a sentence, or NULL. */
const char *pw_stage_model_doubt(const struct pw_stage_model *m, const struct pw_stage *stage, double air_c);

/** Fit and run in one call, in the mild air. */
double pw_stage_minutes(const struct pw_cut *cut, const struct pw_stage *stage, double air_c);

#endif
