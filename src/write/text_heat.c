/* text_heat.c - the plan's words on heat: what each core does, what hot and cool end do to the times, what the fires take and
 * what ovens save [T1][H1][F1]. */
#include "base/format.h"
#include "heat/food_code.h"
#include "write/fuel_words.h"
#include "write/text_page.h"
#include "write/text_sheets.h"

#include <math.h>

#define COOLER_C 3.3           /* 38 F, usual setting: common practice, no source */
#define COOLER_H_W_M2K 20.0    /* air blown over an open pan: usual textbook range 10 to 30 */

/** What theory says of each lot's core in the coolest places it has. */
static void cores(struct pw_page *s)
{
  const struct pw_plan *plan = s->plan;
  enum pw_units u = s->ev->units;
  bool has_head = false;
  for (int l = 0; plan->safety.lots && l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    const struct pw_lot *lot = &plan->lots.lots[l];
    if (isnan(h->smoke_c) || !isfinite(h->come_up_min))
      continue;
    if (!has_head) {
      const struct pw_cell head[] = {
          {2, 32, PW_LEFT, "The core, by theory, in the coolest place it has"},
          {35, 7, PW_RIGHT, "air"},
          {44, 11, PW_LEFT, pw_words(s, "%.0f to %.0f", pw_in_temp(u, PW_COME_UP_FROM_C), pw_in_temp(u, PW_COME_UP_TO_C))},
          {56, 17, PW_LEFT, "slow from, for"},
          {73, 7, PW_RIGHT, "steam"}};
      pw_page_blank(s);
      pw_page_row(s, head, 5);
      has_head = true;
    }
    const char *slow = h->slow_min < 15.0 ? ""
                                          : pw_words(s, "%s, %s", pw_format_temp(u, h->slow_from_c).s,
                                                     pw_format_minutes((int)lround(h->slow_min)).s);
    const struct pw_cell row[] = {
        {4, 30, PW_LEFT, pw_words(s, "%s, %s", s->ev->cuts[lot->cut].name, s->ev->services[lot->service].name)},
        {35, 7, PW_RIGHT, pw_words(s, "%s", pw_format_temp(u, h->smoke_c).s)},
        {44, 11, PW_LEFT, pw_words(s, "%s", pw_format_minutes((int)lround(h->come_up_min)).s)},
        {56, 17, PW_LEFT, slow},
        {73, 7, PW_RIGHT, pw_words(s, "%.0f %%", 100.0 * fmax(h->evaporated_frac, 0.0))}};
    pw_page_row(s, row, 5);
  }
}

/** Hottest and coolest zone of a pit at a setting in which the cut may smoke; false when they are one. */
static bool two_ends(const struct pw_plan *plan, const struct pw_burn *burn, const struct pw_lot *lot, int *hot, int *cool)
{
  const struct pw_lots *lots = &plan->lots;
  *hot = *cool = PW_NONE;
  for (int z = 0; z < lots->n_zones; z++) {
    if (lots->zones[z].pit != burn->pit || lot->smoke_min[z][burn->setting] == PW_NONE)
      continue;
    double temp_c = lots->zones[z].temp_c[burn->setting];
    if (*hot == PW_NONE || temp_c > lots->zones[*hot].temp_c[burn->setting])
      *hot = z;
    if (*cool == PW_NONE || temp_c < lots->zones[*cool].temp_c[burn->setting])
      *cool = z;
  }
  return *hot != *cool;
}

static bool cooks_on(const struct pw_plan *plan, const struct pw_burn *burn, int lot)
{
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    if (load->lot == lot && load->stage == PW_LOAD_SMOKE && load->zone != PW_NONE &&
        plan->lots.zones[load->zone].pit == burn->pit && load->start_at_min >= burn->lit_at_min &&
        load->start_at_min < burn->out_at_min)
      return true;
  }
  return false;
}

static const char *against(struct pw_page *s, int hot_min, int cool_min)
{
  return pw_words(s, "%s / %s", pw_format_minutes(hot_min).s, pw_format_minutes(cool_min).s);
}

/** What the fall from hot to cool end does to the times of every cut on a pit; cuts it does not touch are left out. */
static void ends(struct pw_page *s)
{
  const struct pw_plan *plan = s->plan;
  enum pw_units u = s->ev->units;
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    bool has_head = false;
    for (int l = 0; l < plan->lots.n_lots; l++) {
      const struct pw_lot *lot = &plan->lots.lots[l];
      int hot, cool, set = burn->setting;
      if (!cooks_on(plan, burn, l) || !two_ends(plan, burn, lot, &hot, &cool))
        continue;
      bool has_finish = lot->has_finish && lot->finish_min[hot][set] != PW_NONE && lot->finish_min[cool][set] != PW_NONE;
      bool differs = lot->smoke_min[hot][set] != lot->smoke_min[cool][set] ||
                     (has_finish && lot->finish_min[hot][set] != lot->finish_min[cool][set]);
      if (!differs)
        continue;
      if (!has_head) {
        const struct pw_cell head[] = {{2, 30, PW_LEFT, s->ev->pits[burn->pit].name},
                                       {33, 23, PW_LEFT, "hottest / coolest place"},
                                       {57, 23, PW_LEFT, "wrapped"}};
        pw_page_blank(s);
        pw_page_row(s, head, 3);
        has_head = true;
      }
      const struct pw_cell row[] = {
          {4, 28, PW_LEFT,
           pw_words(s, "%s, %s / %s", s->ev->cuts[lot->cut].name, pw_format_temp(u, plan->lots.zones[hot].temp_c[set]).s,
                    pw_format_temp(u, plan->lots.zones[cool].temp_c[set]).s)},
          {33, 23, PW_LEFT, against(s, lot->smoke_min[hot][set], lot->smoke_min[cool][set])},
          {57, 23, PW_LEFT, has_finish ? against(s, lot->finish_min[hot][set], lot->finish_min[cool][set]) : ""}};
      pw_page_row(s, row, 3);
    }
  }
}

static void fuel(struct pw_page *s)
{
  const struct pw_fuel_plan *f = &s->plan->fuel;
  enum pw_units u = s->ev->units;
  for (int i = 0; i < f->n_lines; i++) {
    const struct pw_fuel_line *line = &f->lines[i];
    const struct pw_fuel *fuel = &s->ev->fuels[line->fuel];
    const char *measure = pw_words(s, "%s", pw_fuel_measure(s->ev, line).s);
    pw_page_pair(s, 2,
                 pw_words(s, "%s: %s needed, %s with the reserve%s%s", fuel->name, pw_format_weight(u, line->need_kg).s,
                          pw_format_weight(u, line->buy_kg).s, *measure ? ", " : "", measure),
                 pw_money_format(s->ev, line->cost_cents).s);
  }
  const struct pw_oven_saving *o = &f->oven_saving;
  if (o->pieces == 0)
    return;
  const char *longer = o->lit_min > 0 ? pw_words(s, ", %s less of lit fire", pw_format_minutes(o->lit_min).s) : "";
  pw_page_para(s, 2, 4,
               pw_words(s,
                        "Finishing %d wrapped %s in the oven saves %s of wood (%s) and %s hours of one piece's place on the "
                        "racks%s, for %s of oven.",
                        o->pieces, o->pieces == 1 ? "piece" : "pieces", pw_format_weight(u, o->wood_kg).s,
                        pw_money_format(s->ev, o->wood_cents).s, pw_format_number(o->piece_h, 0).s, longer,
                        pw_money_format(s->ev, f->oven_cents).s));
}

/** Leftovers to expect, and the layer that cools in time by theory: open pans in the moving air of a cooler. */
static void cooling(struct pw_page *s)
{
  enum pw_units u = s->ev->units;
  double kg = 0.0, depth_m = pw_cooling_depth_m(COOLER_H_W_M2K, COOLER_C);
  for (int i = 0; i < s->plan->purchase.n_raws; i++)
    kg += fmax(s->plan->purchase.raws[i].leftover_kg, 0.0);
  if (kg < 0.5 || depth_m <= 0.0)
    return;
  struct pw_cooling c = pw_cooling_layer(depth_m, COOLER_H_W_M2K, COOLER_C);
  pw_page_blank(s);
  pw_page_para(s, 2, 4,
               pw_words(s,
                        "About %s of meat is left if as many come as expected. Kept, it is cooled in layers no deeper than %s, "
                        "open, in the moving air of a cooler at %s: by theory to %s in %s and to %s in %s (FDA Food Code 2022 "
                        "3-501.14(A): %s and %s). Deeper pans need ice underneath.",
                        pw_format_weight(u, kg).s, pw_format_length(u, depth_m).s, pw_format_temp(u, COOLER_C).s,
                        pw_format_temp(u, 21.1).s, pw_format_minutes((int)ceil(c.to_21_min)).s,
                        pw_format_temp(u, PW_FOOD_CODE_COLD_C).s, pw_format_minutes((int)ceil(c.to_5_min)).s,
                        pw_format_minutes(120).s, pw_format_minutes(360).s));
}

void pw_text_heat(struct pw_page *page)
{
  pw_page_head(page, "Heat and fuel");
  fuel(page);
  ends(page);
  cores(page);
  cooling(page);
}
