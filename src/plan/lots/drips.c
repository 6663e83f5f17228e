/* drips.c - see drips.h. */
#include "plan/lots/drips.h"

#include "base/arena.h"
#include "heat/food_code.h"
#include "heat/stage_time.h"

#include <math.h>
#include <string.h>

#define SLACK_C 0.3 /* 145 F is printed as 62.8 or 63 C */

bool pw_drips_raw(const struct pw_cut *cut)
{
  return cut->kind != PW_KIND_PLANT && cut->safety != PW_SAFE_PLANT && !pw_food_code_is_cooked(cut->safety);
}

double pw_drips_kill_c(const struct pw_cut *cut) { return pw_food_code_rule(cut->safety)->core_c; }

double pw_drips_end_c(const struct pw_cut *cut) { return cut->finish.is_used ? cut->finish.to_c : cut->smoke.to_c; }

enum pw_drips_class pw_drips_class(const struct pw_cut *cut)
{
  if (!pw_drips_raw(cut))
    return PW_DRIPS_READY;
  if (cut->safety == PW_SAFE_POULTRY)
    return PW_DRIPS_POULTRY;
  if (cut->safety != PW_SAFE_INTACT)
    return PW_DRIPS_GROUND;
  return cut->kind == PW_KIND_FISH ? PW_DRIPS_FISH : PW_DRIPS_WHOLE;
}

bool pw_drips_kept_last(const struct pw_dish *dish)
{
  for (int a = 0; a < dish->n_allergens; a++)
    if (strstr(dish->allergens[a], "fish") || strstr(dish->allergens[a], "nut"))
      return true;
  return false;
}

bool pw_drips_cut_kept_last(const struct pw_event *ev, int service, int cut)
{
  for (int m = 0; m < ev->services[service].n_menu; m++) {
    const struct pw_dish *dish = &ev->dishes[ev->services[service].menu[m].dish];
    if (dish->cut == cut && pw_drips_kept_last(dish))
      return true;
  }
  return false;
}

bool pw_drips_above(const struct pw_pit *pit, int upper, int lower)
{
  int high = pit->racks[upper].level, low = pit->racks[lower].level;
  if (high <= low)
    return false;
  for (int r = 0; r < pit->n_racks; r++)
    if (pit->racks[r].has_tray_below && pit->racks[r].level > low && pit->racks[r].level <= high)
      return false;
  return true;
}

bool pw_drips_spoil(const struct pw_drip_span *upper, const struct pw_drip_span *lower)
{
  int last =
      upper->safe_min < lower->open_min ? upper->safe_min : lower->open_min; /* the last drip that reaches it open */
  if (!pw_drips_raw(upper->cut) || upper->start_min >= last || lower->start_min >= last)
    return false;
  if (upper->lot == lower->lot && upper->start_min == lower->start_min && upper->done_min == lower->done_min)
    return false;
  return pw_drips_end_c(lower->cut) < pw_drips_kill_c(upper->cut) - SLACK_C || lower->done_min <= last;
}

/* Minutes of the smoke until the core is at the kill temperature: the same fit, a nearer end.  A cook's own readings tell the whole stage
 * alone, so then all of it counts. */
static int safe_min(const struct pw_stage_model *model, const struct pw_cut *cut, double air_c,
                    const struct pw_stage_air *air, int smoke_min)
{
  if (pw_drips_kill_c(cut) >= cut->smoke.to_c - SLACK_C || cut->smoke.n_own > 0)
    return smoke_min;
  struct pw_cut nearer = *cut;
  struct pw_stage_model m = *model;
  nearer.smoke.to_c = pw_drips_kill_c(cut);
  m.cut = &nearer;
  double minutes = pw_stage_model_minutes(&m, &nearer.smoke, air_c, air);
  return minutes < smoke_min ? (int)ceil(minutes) : smoke_min;
}

/** Minutes already worked out for one cut; temperatures repeat over alike pits and racks. */
struct known {
  double temp_c, ratio;
  int smoke_min, safe_min;
};

static pw_status lot_make(struct pw_lot *lot, const struct pw_lots *lots, const struct pw_event *ev,
                          struct pw_arena *arena)
{
  const struct pw_cut *cut = &ev->cuts[lot->cut];
  struct pw_stage_model model;
  struct known *known = NULL;
  size_t n_known = 0, cap = 0;
  bool is_raw = pw_drips_raw(cut);
  lot->safe_min = pw_arena_array(arena, (size_t)lots->n_zones, sizeof *lot->safe_min);
  if (!lot->safe_min)
    return PW_ERR_MEMORY;
  if (is_raw)
    pw_stage_model_make(&model, cut);
  for (int z = 0; z < lots->n_zones; z++) {
    const struct pw_zone *zone = &lots->zones[z];
    const struct pw_pit *pit = &ev->pits[zone->pit];
    const struct pw_stage_air air = pw_stage_air_of(ev, zone->pit);
    lot->safe_min[z] = pw_arena_array(arena, (size_t)pit->n_settings, sizeof **lot->safe_min);
    if (!lot->safe_min[z])
      return PW_ERR_MEMORY;
    for (int s = 0; s < pit->n_settings && is_raw; s++) {
      int smoke_min = lot->smoke_min[z][s];
      double temp_c = zone->temp_c[s];
      size_t k = 0;
      if (smoke_min == PW_NONE)
        continue;
      while (k < n_known &&
             !(known[k].temp_c == temp_c && known[k].ratio == air.ratio && known[k].smoke_min == smoke_min))
        k++;
      if (k == n_known) {
        if (pw_arena_grow(arena, &known, &cap, n_known, sizeof *known) != 0)
          return PW_ERR_MEMORY;
        known[n_known++] = (struct known){temp_c, air.ratio, smoke_min, safe_min(&model, cut, temp_c, &air, smoke_min)};
      }
      lot->safe_min[z][s] = known[k].safe_min;
    }
  }
  return PW_OK;
}

pw_status pw_drips_make(struct pw_lots *lots, const struct pw_event *ev, struct pw_ctx *ctx)
{
  for (int l = 0; l < lots->n_lots; l++) {
    struct pw_lot *lot = &lots->lots[l];
    for (int k = 0; k < l && !lot->safe_min; k++) /* it hangs on the cut alone */
      lot->safe_min = lots->lots[k].cut == lot->cut ? lots->lots[k].safe_min : NULL;
    if (!lot->safe_min && lot_make(lot, lots, ev, ctx->arena) != PW_OK)
      return PW_ERR_MEMORY;
  }
  return PW_OK;
}
