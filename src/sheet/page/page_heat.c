/* page_heat.c - the plan's words on heat: what to bring for the fires, what ovens save, what each core does, what a cooler end does
 * to each cut's times, how to cool what is left [T1][H1][F1].  Tables first, sentences last. */
#include "base/format.h"
#include "heat/food_code.h"
#include "sheet/fuel_words.h"
#include "sheet/heat_words.h"
#include "sheet/page/page_parts.h"

#include <math.h>

#define COOLER_C       3.3    /* 38 F, usual setting: common practice, no source */
#define COOLER_H_W_M2K 20.0   /* air blown over an open pan: usual textbook range 10 to 30 */
enum { SLOW_SHOWN_MIN = 15 }; /* shorter slow stretches are not worth a cook's glance */

/** "6:15"; "never" for a stage that does not end. */
static const char *clock_words(struct pw_page *s, double minutes)
{
  int m = isfinite(minutes) ? (int)lround(minutes / 5.0) * 5 : 0;
  return isfinite(minutes) ? pw_words(s, "%d:%02d", m / 60, m % 60) : "never";
}

/** What theory says of each cut's core in the coolest place it has. */
static void cores(struct pw_page *s)
{
  const struct pw_plan *plan = s->plan;
  enum pw_units u = s->ev->units;
  bool has_head = false;
  for (int l = 0; plan->safety.lots && l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    if (!pw_heat_is_slowest(plan, l) || !isfinite(h->come_up_min))
      continue;
    if (!has_head) {
      const struct pw_page_column columns[] = {
          {2, 35, PW_CELL_WHAT, "Predicted core, coolest spot used"},
          {1, 7, PW_CELL_AMOUNT, "air"},
          {2, 11, PW_CELL_WHAT,
           pw_words(s, "%.0f to %.0f", pw_in_temp(u, PW_COME_UP_FROM_C), pw_in_temp(u, PW_COME_UP_TO_C))},
          {1, 14, PW_CELL_NOTE, "slow from, for"},
          {1, 6, PW_CELL_AMOUNT, "steam"}};
      pw_page_blank(s);
      pw_page_table_of(s, columns);
      has_head = true;
    }
    const char *slow = h->slow_min < SLOW_SHOWN_MIN
                           ? ""
                           : pw_words(s, "%s, %s", pw_format_temp(u, h->slow_from_c).s, clock_words(s, h->slow_min));
    pw_page_row_in(s, 2, s->ev->cuts[plan->lots.lots[l].cut].name, pw_format_temp(u, h->smoke_c).s,
                   pw_words(s, "%s%s h", s->ev->cuts[plan->lots.lots[l].cut].start_c > PW_COME_UP_FROM_C ? "> " : "",
                            clock_words(s, h->come_up_min)),
                   slow, pw_words(s, "%.0f %%", 100.0 * fmax(h->evaporated_frac, 0.0)));
  }
}

static const char *longer(struct pw_page *s, double hot_min, double cool_min)
{
  return pw_words(s, "%s, %s", clock_words(s, hot_min), clock_words(s, cool_min));
}

/** What 25 F less does to the time of each cut. */
static void ends(struct pw_page *s)
{
  const struct pw_plan *plan = s->plan;
  enum pw_units u = s->ev->units;
  bool has_head = false;
  for (int l = 0; plan->safety.lots && l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    const struct pw_lot *lot = &plan->lots.lots[l];
    if (!pw_heat_is_slowest(plan, l) || isnan(h->cool_c))
      continue;
    if (!has_head) {
      const struct pw_page_column columns[] = {
          {2, 35, PW_CELL_WHAT,
           pw_words(s, "Hot end, and %s cooler", pw_format_temp_difference(u, h->hot_c - h->cool_c).s)},
          {1, 16, PW_CELL_WHAT, pw_words(s, "air, %s", pw_unit_temp(u))},
          {1, 12, PW_CELL_WHAT, "open, h"},
          {1, 12, PW_CELL_WHAT, "wrapped, h"}};
      pw_page_blank(s);
      pw_page_table_of(s, columns);
      has_head = true;
    }
    pw_page_row_in(s, 2, s->ev->cuts[lot->cut].name,
                   pw_words(s, "%.0f, %.0f", pw_in_temp(u, h->hot_c), pw_in_temp(u, h->cool_c)),
                   longer(s, h->hot_smoke_min, h->cool_smoke_min),
                   lot->has_finish ? longer(s, h->hot_finish_min, h->cool_finish_min) : "");
  }
}

static void fuel(struct pw_page *s)
{
  const struct pw_fuel_plan *f = &s->plan->fuel;
  enum pw_units u = s->ev->units;
  for (int i = 0; i < f->n_lines; i++) {
    const struct pw_fuel_line *line = &f->lines[i];
    pw_page_money(s, 2, pw_words(s, "Bring %s: %s", s->ev->fuels[line->fuel].name, pw_fuel_amount(s->ev, line).s),
                  line->cost_cents);
    pw_page_say(s, 4, 4, "%s will burn, the rest is the reserve", pw_format_weight(u, line->need_kg).s);
  }
  const struct pw_oven_saving *o = &f->oven_saving;
  if (o->pieces == 0)
    return;
  const char *lit = o->lit_min > 0 ? pw_words(s, ", %s of lit fire", pw_format_minutes(o->lit_min).s) : "";
  pw_page_say(s, 2, 4,
              "Finishing %d wrapped %s in the oven saves %s of wood (%s) and %s hours of rack space for "
              "one piece%s; the oven costs %s.",
              o->pieces, o->pieces == 1 ? "piece" : "pieces", pw_format_weight(u, o->wood_kg).s,
              pw_money_format(s->ev, o->wood_cents).s, pw_format_number(o->piece_h, 0).s, lit,
              pw_money_format(s->ev, f->oven_cents).s);
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
  pw_page_say(s, 2, 4,
              "Left over if the expected number comes: about %s of meat. To keep it, cool it uncovered, at most %s "
              "deep, in "
              "moving air at %s: %s in %s, %s in %s (FDA Food Code 2022 3-501.14(A): 2 h, 6 h). Deeper pans need ice. "
              "Reheat it to %s within 2 h (3-403.11).",
              pw_format_weight(u, kg).s, pw_format_length(u, depth_m).s, pw_format_temp(u, COOLER_C).s,
              pw_format_temp(u, 21.1).s, pw_format_minutes((int)ceil(c.to_21_min)).s,
              pw_format_temp(u, PW_FOOD_CODE_COLD_C).s, pw_format_minutes((int)ceil(c.to_5_min)).s,
              pw_format_temp(u, PW_FOOD_CODE_REHEAT_C).s);
}

void pw_part_heat(struct pw_page *page)
{
  pw_page_head(page, "Heat and fuel");
  fuel(page);
  ends(page);
  cores(page);
  cooling(page);
}
