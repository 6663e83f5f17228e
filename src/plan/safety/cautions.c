/* cautions.c - carbon monoxide, fire, burns, grease, lifting, food temperatures, ash [H].
 * In: event, purchase list.  Out: sentences.  The figures are those of published codes, named beside each; what holds
 * on the spot is for the local authorities to say. */
#include "plan/safety/cautions.h"

#include "base/arena.h"
#include "base/format.h"
#include "heat/food_code.h"

#include <string.h>

#define APART_M                                                                                                        \
  3.048 /* from buildings, vehicles and what burns: 10 ft, NFPA 1 (2014 proposal for 50.7), mobile cooking */
#define TWO_PEOPLE_KG 23.0 /* load constant of the revised lifting equation, NIOSH 94-110, from memory */
#define POULTRY_C     74.0 /* FDA Food Code 2022 3-401.11(A)(3), 165 F */

/* Heaviest pack on the purchase list, or PW_NONE when two hands carry everything. */
static int heaviest_pack(const struct pw_plan *plan, double *kg)
{
  int worst = PW_NONE;
  *kg = TWO_PEOPLE_KG;
  for (int i = 0; i < plan->purchase.n_lines; i++) {
    const struct pw_purchase_line *line = &plan->purchase.lines[i];
    if (plan->event->items[line->item].unit != PW_UNIT_KG || line->packs <= 0)
      continue;
    double each = line->amount / line->packs;
    if (each > *kg) {
      *kg = each;
      worst = i;
    }
  }
  return worst;
}

pw_status pw_cautions_make(struct pw_caution **out, int *n, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  struct pw_arena *arena = ctx->arena;
  double kg;
  int heavy = heaviest_pack(plan, &kg);
  const char *lifting = pw_arena_printf(arena, "Over %s two people lift, knees bent, way clear.",
                                        pw_format_weight(ev->units, TWO_PEOPLE_KG).s);
  if (heavy != PW_NONE && lifting) {
    const struct pw_item *item = &ev->items[plan->purchase.lines[heavy].item];
    lifting = pw_arena_printf(arena, "%s The heaviest pack of this job is %s of %s.", lifting,
                              pw_format_weight(ev->units, kg).s, item->name);
  }
  const struct pw_caution all[] = {
      {"Carbon monoxide",
       "Wood and charcoal give a gas that cannot be smelt and kills. No fire, no glowing coals and no warm ash in a "
       "closed tent, a garage, a vehicle or a trailer with people in it. Headache, dizziness, sickness: everybody out "
       "into fresh air at once, then call for help.",
       "common knowledge of the trade; NIOSH recommended limit 35 ppm over 8 h, ceiling 200 ppm"},
      {"Fire",
       pw_arena_printf(arena,
                       "Pits stand at least %s from buildings, tents, vehicles and anything that burns, never under a "
                       "tent with guests. Water or a charged hose and an extinguisher within reach, somebody awake at "
                       "every fire. If it gets away from you, call the fire service first.",
                       pw_format_length(ev->units, APART_M).s),
       "10 ft: NFPA 1, 2014 proposal for section 50.7, mobile and temporary cooking"},
      {"Hot steel",
       "Firebox, doors, racks and stack burn at a touch, for hours after the fire is out. Long gloves, closed shoes; "
       "open a door slowly and stand aside.",
       "common practice, no source"},
      {"Grease",
       "Let no grease run to the fire; empty the drip pan before it is half full. Grease that burns: doors and vents "
       "shut, a wet-chemical extinguisher, never water. Wipe spilt grease off the floor at once.",
       "common practice, no source"},
      {"Lifting", lifting, "NIOSH publication 94-110, load constant 23 kg, from memory"},
      {"Food",
       pw_arena_printf(
           arena,
           "Cold food at %s or less, hot food at %s or more. Poultry %s inside. Reheat to %s within 2 h. "
           "Leftovers from %s to %s in 2 h and to %s in 6 h in all, or they are thrown away. A clean, "
           "checked probe in every batch; hands washed, raw kept apart from cooked.",
           pw_format_temp(ev->units, PW_FOOD_CODE_COLD_C).s, pw_format_temp(ev->units, PW_FOOD_CODE_HOT_C).s,
           pw_format_temp(ev->units, POULTRY_C).s, pw_format_temp(ev->units, PW_FOOD_CODE_REHEAT_C).s,
           pw_format_temp(ev->units, PW_FOOD_CODE_HOT_C).s, pw_format_temp(ev->units, PW_FOOD_CODE_COOL_C).s,
           pw_format_temp(ev->units, PW_FOOD_CODE_COLD_C).s),
       "FDA Food Code 2022, 3-401.11, 3-403.11, 3-501.14, 3-501.16"},
      {"Ash",
       "Ash holds fire for days: take it as hot. It stays in the shut firebox for a day, or goes into a metal can with "
       "a lid, away from "
       "buildings and vehicles. No live coals on the road.",
       "common practice, no source"},
      {"Who decides",
       "Local codes, the fire authority and the health authority of the place decide, and licensed people where the "
       "law wants them. Ask them first; where they say more than this sheet, do more.",
       "common practice, no source"}};
  int fixed = (int)(sizeof all / sizeof *all), own = plan->safety.n_warnings, count = 0;
  struct pw_caution *copy = pw_arena_array(arena, (size_t)(fixed + own + plan->n_warnings), sizeof *copy);
  if (!copy)
    return PW_ERR_MEMORY;
  for (int i = 0; i < fixed; i++) {
    if (!all[i].text)
      return PW_ERR_MEMORY;
    /* what this job's own food brings stands before the last one, which says who decides: rules that the cook's basis stands in
     * for, then what the plan found */
    for (int k = 0; i == fixed - 1 && k < plan->n_warnings; k++)
      if (strcmp(plan->warnings[k].code, "food-code") == 0)
        copy[count++] = (struct pw_caution){"Of this job", plan->warnings[k].text, "the text names the rule"};
    for (int k = 0; i == fixed - 1 && k < own; k++)
      copy[count++] = (struct pw_caution){"Of this job", plan->safety.warnings[k].text,
                                          "heat theory, FDA Food Code 2022, FSIS-GD-2021-14: see the text"};
    copy[count++] = all[i];
  }
  *out = copy;
  *n = count;
  return PW_OK;
}
