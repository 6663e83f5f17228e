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
#define TWO_PEOPLE_KG                                                                                                  \
  16.0 /* hot or awkward: 0.7 of the 23 kg that NIOSH 94-110 allows a single ideal lift; the share from memory */
#define IDEAL_LIFT_KG 23.0   /* load constant of the revised lifting equation, 51 lb: NIOSH 94-110; osha.gov, poultry */
#define POULTRY_C     74.0   /* FDA Food Code 2022 3-401.11(A)(3), 165 F */
#define WIND_M_S      11.176 /* 25 mph: common practice, no source */

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
  const char *lifting =
      pw_arena_printf(arena,
                      "Two people for %s and more, and for every hot, wet or awkward load; %s is the most for one "
                      "ideal lift, close and level. Knees bent, the way clear, say where you go.",
                      pw_format_weight(ev->units, TWO_PEOPLE_KG).s, pw_format_weight(ev->units, IDEAL_LIFT_KG).s);
  if (heavy != PW_NONE && lifting) {
    const struct pw_item *item = &ev->items[plan->purchase.lines[heavy].item];
    lifting = pw_arena_printf(arena, "%s The heaviest pack of this job is %s of %s.", lifting,
                              pw_format_weight(ev->units, kg).s, item->name);
  }
  const struct pw_caution all[] = {
      {"Carbon monoxide",
       "Wood, charcoal and generators give a gas that cannot be smelt and kills. No fire, no glowing coals, no warm "
       "ash, "
       "no running engine in a closed tent, garage, vehicle or trailer. Headache, dizziness, sickness: everybody out "
       "into fresh air at once, then call for help.",
       "common knowledge of the trade; NIOSH recommended limit 35 ppm over 8 h, ceiling 200 ppm"},
      {"Fire",
       pw_arena_printf(arena,
                       "Pits at least %s from buildings, tents, vehicles and anything that burns, never under a tent "
                       "with guests. At hand: water or a class A extinguisher for wood, class K (wet chemical) for "
                       "grease. Somebody awake at every fire. If it gets away from you, call the fire service first.",
                       pw_format_length(ev->units, APART_M).s),
       "10 ft: NFPA 1, 2014 proposal for section 50.7; classes: NFPA 10 (2022), chapter 5; water or class K at small "
       "wood "
       "fireboxes: NFPA 10 6.6.3, second hand"},
      {"Grease",
       "Let no grease run to the fire; empty the drip pan before it is half full. Grease that burns: doors and vents "
       "shut, the class K extinguisher, never water. Wipe the floor at once.",
       "common practice, no source; class K: NFPA 10 (2022), chapter 5"},
      {"Fires out, ash",
       "Nobody drives off before every fire is checked and out. Never tow, leave or carry live coals. Ash holds fire "
       "for "
       "days: it stays in the cold, shut firebox, or goes into a metal can with a lid, for a day at least, away from "
       "everything. Never pour water on it from close by.",
       "common practice, no source; a lidded metal can: NFPA 96 chapter 14, from memory"},
      {"Wood",
       "Only clean wood: never painted, treated, glued or mouldy. Never fuel or spray to light or to help a fire.",
       "common practice, no source"},
      {"Gas, generator",
       "Propane and generators outdoors only, upright, shut off for the road; look for leaks with soapy water. Refuel "
       "cold engines only.",
       "common practice, no source; NFPA 58, from memory"},
      {"Hot steel, steam",
       "Firebox, doors, racks and stack burn at a touch, hours after the fire. Long gloves, closed shoes; open doors "
       "and "
       "wraps away from you: steam and fat scald. A burn: cool running water for 20 minutes at once, no ice; a large "
       "or "
       "deep one, or in the face: call for help.",
       "common practice, no source; 20 minutes of cool running water: first aid guidelines, from memory"},
      {"Knives",
       "Dry hands, a board that cannot slip, the blade away from the other hand. After a cut: dress it, glove over it, "
       "a new board.",
       "common practice, no source"},
      {"Lifting", lifting, "load constant: NIOSH publication 94-110; two people from 16 kg: from memory"},
      {"Weather",
       pw_arena_printf(
           arena,
           "Thunder: into a building or a car, away from masts and trees, until half an hour after the last "
           "of it. Wind over %s: canopies down, fires small. Heat: shade, a drink every 20 minutes; whoever stops "
           "sweating or talks confused: cool them at once and call for help.",
           pw_format_speed(ev->units, WIND_M_S).s),
       "thunder: US National Weather Service, from memory; drink: OSHA heat pages, from memory; wind: common practice"},
      {"People",
       "Whoever has vomiting, diarrhoea, jaundice, a sore throat with fever or an open sore stays away from food. "
       "Whoever has been awake for 16 hours neither drives nor tows.",
       "FDA Food Code 2022 2-201.11; OSHA, drowsy driving: 17 h awake is like 0.05 % blood alcohol"},
      {"Food",
       pw_arena_printf(
           arena,
           "Cold food at %s or less, hot food at %s or more. Poultry %s inside. Hot food found colder: throw it away "
           "after 4 h, or if nobody knows how long; else heat it to %s within 2 h. Leftovers from %s to %s in 2 h and "
           "to "
           "%s in 6 h in all, or throw them away. A clean, checked probe in every batch; hands washed; raw below and "
           "apart "
           "from cooked.",
           pw_format_temp(ev->units, PW_FOOD_CODE_COLD_C).s, pw_format_temp(ev->units, PW_FOOD_CODE_HOT_C).s,
           pw_format_temp(ev->units, POULTRY_C).s, pw_format_temp(ev->units, PW_FOOD_CODE_REHEAT_C).s,
           pw_format_temp(ev->units, PW_FOOD_CODE_HOT_C).s, pw_format_temp(ev->units, PW_FOOD_CODE_COOL_C).s,
           pw_format_temp(ev->units, PW_FOOD_CODE_COLD_C).s),
       "FDA Food Code 2022, 3-302.11, 3-401.11, 3-403.11, 3-501.14, 3-501.16, 3-501.19"},
      {"Allergens",
       "Fish and nuts last, on a rack, board and tongs of their own; tell a guest who asks what shared a rack or "
       "tongs with it. When in doubt: say so, serve something else.",
       "FDA Food Code 2022 3-302.11 (apart), 3-602.11 (told); order: common practice, no source"},
      {"Who decides",
       "Local codes, the fire authority and the health authority of the place decide, and licensed people where the "
       "law wants them. Ask them first; where they say more than this sheet, do more.",
       "common practice, no source"}};
  const struct pw_caution coals = {"Over the coals",
                                   "Outdoors only, never in a closed tent or under a low roof: glowing coals give off "
                                   "carbon monoxide as long as they "
                                   "glow. Fat that drips flares up: move the food to a cooler spot or raise the grate, "
                                   "never water. Long tongs, nothing "
                                   "loose at the sleeve. Tongs and trays for raw food apart from those for cooked. "
                                   "Nobody leaves a grate with food on it.",
                                   "common practice, no source; apart: FDA Food Code 2022 3-302.11"};
  bool has_coals = false;
  for (int b = 0; b < plan->allocation.n_burns; b++)
    has_coals = has_coals || ev->pits[plan->allocation.burns[b].pit].is_over_coals;
  int fixed = (int)(sizeof all / sizeof *all), own = plan->safety.n_warnings, count = 0;
  struct pw_caution *copy = pw_arena_array(arena, (size_t)(fixed + own + plan->n_warnings + 1), sizeof *copy);
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
    if (i == 0 && has_coals)
      copy[count++] = coals;
  }
  *out = copy;
  *n = count;
  return PW_OK;
}
