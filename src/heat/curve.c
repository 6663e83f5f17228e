/* curve.c - the engine run through both stages with a watcher that adds up what the sheets and the checks need [T1][H1]. */
#include "heat/curve.h"

#include "base/arena.h"
#include "heat/food_code.h"
#include "heat/lethality.h"

#include <math.h>

struct watch {
  const struct pw_stage_model *model;
  double area_m2_m3; /* surface over volume of the body */
  struct pw_curve_sum sum;
  double stretch;        /* minutes of the plan per minute of theory in this stage */
  double stage_from_min; /* plan's time at which the stage began */
  double engine_from_s;  /* the engine's clock then */
  double air_c;
  bool is_wrapped;
  struct pw_curve_point last; /* where the engine was a step ago */
  double last_rate, last_surface_rate;
  double come_up_from_min; /* core passed 10 C; < 0 not yet */
  double slow_from_min;    /* of the slow stretch that lasts; < 0: none */
  double slow_from_c;
  double water_frac_before, drip_frac_before; /* evaporated, dripped in earlier stages */
  double water_from_kg_m2, drip_from_kg_m2;
  double every_min, next_min;
  struct pw_curve *curve; /* NULL: figures only */
  struct pw_arena *arena;
  size_t cap;
  bool is_out_of_memory;
};

static double crossing(double from_min, double to_min, double from_c, double to_c, double level_c)
{
  return from_min + (to_min - from_min) * (level_c - from_c) / (to_c - from_c);
}

static bool add_point(struct watch *w, const struct pw_curve_point *p)
{
  if (!w->curve)
    return true;
  if (pw_arena_grow(w->arena, &w->curve->points, &w->cap, (size_t)w->curve->n_points, sizeof *w->curve->points)) {
    w->is_out_of_memory = true;
    return false;
  }
  w->curve->points[w->curve->n_points++] = *p;
  w->next_min = (floor(p->at_min / w->every_min + 1e-9) + 1.0) * w->every_min;
  return true;
}

static struct pw_curve_point between(const struct pw_curve_point *a, const struct pw_curve_point *b, double at_min)
{
  double way = (at_min - a->at_min) / (b->at_min - a->at_min);
  struct pw_curve_point p = *b;
  p.at_min = at_min;
  p.surface_c = a->surface_c + way * (b->surface_c - a->surface_c);
  p.core_c = a->core_c + way * (b->core_c - a->core_c);
  p.evaporated_frac = a->evaporated_frac + way * (b->evaporated_frac - a->evaporated_frac);
  p.log_reduction = a->log_reduction + way * (b->log_reduction - a->log_reduction);
  return p;
}

/** The engine's state as a point; points on the grid that lie before it are added on the way. */
static bool reach(struct watch *w, double at_min, double surface_c, double core_c)
{
  struct pw_curve_point here = {at_min,       w->air_c, surface_c, core_c, w->sum.evaporated_frac, w->sum.log_reduction,
                                w->is_wrapped};
  while (w->curve && w->next_min < at_min - 1e-9) {
    struct pw_curve_point p = between(&w->last, &here, w->next_min);
    if (!add_point(w, &p))
      return false;
  }
  w->last = here;
  return true;
}

/** The stall: the longest stretch of the open stage in which the core rises less than PW_SLOW_K_H, after it has begun to rise. */
static void watch_rise(struct watch *w, double at_min, double core_c)
{
  double rise_k_h = 60.0 * (core_c - w->last.core_c) / (at_min - w->last.at_min);
  if (rise_k_h > w->sum.fastest_k_h)
    w->sum.fastest_k_h = rise_k_h;
  if (rise_k_h >= PW_SLOW_K_H || w->sum.fastest_k_h < PW_SLOW_K_H) {
    w->slow_from_min = -1.0;
    return;
  }
  if (w->slow_from_min < 0.0) {
    w->slow_from_min = w->last.at_min;
    w->slow_from_c = w->last.core_c;
  }
  if (at_min - w->slow_from_min > w->sum.slow_min) {
    w->sum.slow_min = at_min - w->slow_from_min;
    w->sum.slow_from_c = w->slow_from_c;
    w->sum.slow_to_c = core_c;
  }
}

static bool watch_step(void *user, const struct pw_engine_state *s, double core_c)
{
  struct watch *w = user;
  double at_min = w->stage_from_min + (s->time_s - w->engine_from_s) / 60.0 * w->stretch;
  double span_min = at_min - w->last.at_min, rate = pw_lethality_rate_log_min(w->model->cut->kind, core_c),
         surface_rate = pw_lethality_rate_log_min(w->model->cut->kind, s->surface_c);
  if (span_min <= 0.0)
    return true;
  if (w->come_up_from_min < 0.0 && core_c >= PW_COME_UP_FROM_C)
    w->come_up_from_min = crossing(w->last.at_min, at_min, w->last.core_c, core_c, PW_COME_UP_FROM_C);
  if (!isfinite(w->sum.come_up_min) && core_c >= PW_COME_UP_TO_C)
    w->sum.come_up_min =
        crossing(w->last.at_min, at_min, w->last.core_c, core_c, PW_COME_UP_TO_C) - w->come_up_from_min;
  if (!w->is_wrapped)
    watch_rise(w, at_min, core_c);
  w->sum.log_reduction += 0.5 * (rate + w->last_rate) * span_min;
  w->sum.evaporated_frac =
      w->water_frac_before + (s->water_kg_m2 - w->water_from_kg_m2) * w->area_m2_m3 / w->model->density_kg_m3;
  w->sum.surface_log += 0.5 * (surface_rate + w->last_surface_rate) * span_min;
  w->sum.drip_frac =
      w->drip_frac_before + (s->drip_kg_m2 - w->drip_from_kg_m2) * w->area_m2_m3 / w->model->density_kg_m3;
  w->last_rate = rate;
  w->last_surface_rate = surface_rate;
  return reach(w, at_min, s->surface_c, core_c);
}

/** Runs one stage; returns its length in plan minutes. */
static double run_stage(struct watch *w, const struct pw_stage *stage, const struct pw_curve_place *place, double air_c)
{
  const struct pw_stage_model *m = w->model;
  bool is_wrapped = stage == &m->cut->finish;
  struct pw_engine_state state = is_wrapped ? m->wrapped : m->raw;
  struct pw_engine_body body;
  struct pw_engine_bath bath;
  double planned_min = pw_stage_model_minutes(m, stage, air_c, &place->air);
  double theory_min = pw_stage_model_theory_minutes(m, stage, air_c, &place->air);
  pw_stage_model_set(m, stage, air_c, &place->air, &body, &bath);
  w->area_m2_m3 = pw_engine_area_m2_m3(&body);
  w->air_c = air_c;
  w->is_wrapped = is_wrapped;
  w->engine_from_s = state.time_s;
  w->water_from_kg_m2 = state.water_kg_m2;
  w->water_frac_before = w->sum.evaporated_frac;
  w->drip_from_kg_m2 = state.drip_kg_m2;
  w->drip_frac_before = w->sum.drip_frac;
  w->stage_from_min = w->last.at_min;
  w->last = (struct pw_curve_point){
      w->last.at_min,       air_c,     state.surface_c, pw_engine_core_c(&state), w->sum.evaporated_frac,
      w->sum.log_reduction, is_wrapped};
  w->stretch = isfinite(planned_min) && isfinite(theory_min) && theory_min > 0.0 ? planned_min / theory_min : 1.0;
  w->stretch *= is_wrapped ? m->finish.correction : m->smoke.correction;
  if (w->come_up_from_min < 0.0 && w->last.core_c >= PW_COME_UP_FROM_C)
    w->come_up_from_min = w->last.at_min;
  if (!isfinite(w->sum.come_up_min) && w->last.core_c >= PW_COME_UP_TO_C)
    w->sum.come_up_min = 0.0;
  if (!is_wrapped && !add_point(w, &w->last))
    return HUGE_VAL;
  /* a stage that never ends is followed for as long as it may take */
  double seconds =
      pw_stage_model_run(m, stage, air_c, &place->air, &state, PW_STAGE_LIMIT * 60.0 * stage->ref_min, watch_step, w);
  /* turned: the middle is hotter by then than the part that was last */
  w->sum.end_core_c =
      stage->is_over_coals && stage->turns > 0 ? fmin(w->last.core_c, stage->to_c) : pw_engine_core_c(&state);
  if (w->curve && w->curve->n_points > 0 && w->curve->points[w->curve->n_points - 1].at_min < w->last.at_min &&
      !add_point(w, &w->last))
    return HUGE_VAL;
  return isfinite(seconds) ? w->last.at_min - w->stage_from_min : HUGE_VAL;
}

static struct pw_curve_sum run_all(struct watch *w, const struct pw_curve_place *place)
{
  const struct pw_cut *cut = w->model->cut;
  w->sum = (struct pw_curve_sum){.come_up_min = HUGE_VAL,
                                 .slow_from_c = NAN,
                                 .slow_to_c = NAN,
                                 .loss_frac = 1.0 - cut->cook_frac,
                                 .log_needed = pw_lethality_need_log(cut->kind)};
  w->come_up_from_min = w->slow_from_min = -1.0;
  w->sum.wrap_min = cut->smoke.is_used ? run_stage(w, &cut->smoke, place, place->smoke_c) : 0.0;
  w->sum.done_min = w->sum.wrap_min;
  if (cut->finish.is_used && isfinite(w->sum.wrap_min))
    w->sum.done_min += run_stage(w, &cut->finish, place, place->finish_c);
  w->sum.doubt = cut->smoke.is_used ? pw_stage_model_doubt(w->model, &cut->smoke, place->smoke_c) : NULL;
  if (!w->sum.doubt && cut->finish.is_used)
    w->sum.doubt = pw_stage_model_doubt(w->model, &cut->finish, place->finish_c);
  return w->sum;
}

struct pw_curve_sum pw_curve_sum(const struct pw_stage_model *model, const struct pw_curve_place *place)
{
  struct watch w = {.model = model, .every_min = 1.0, .next_min = HUGE_VAL};
  return run_all(&w, place);
}

double pw_curve_come_up_min(const struct pw_stage_model *model, double air_c, const struct pw_stage_air *air)
{
  struct pw_curve_place place = {air_c, air_c, *air};
  return pw_curve_sum(model, &place).come_up_min;
}

pw_status pw_curve_make(struct pw_curve *out, const struct pw_cut *cut, const struct pw_curve_place *place,
                        double every_min, struct pw_ctx *ctx)
{
  struct pw_stage_model model;
  struct pw_curve curve = {0};
  *out = curve;
  pw_stage_model_make(&model, cut);
  struct watch w = {.model = &model, .every_min = every_min, .curve = &curve, .arena = ctx->arena};
  curve.sum = run_all(&w, place);
  if (w.is_out_of_memory)
    return PW_ERR_MEMORY;
  *out = curve;
  return PW_OK;
}
