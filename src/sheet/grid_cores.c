/* grid_cores.c - what theory says of the cores: what a cooler pit does to each cut, how long the way up takes, and the core of
 * each lot hour by hour in the coolest place it has [T1][H1].
 * In: the lots' heat of the safety report; the view's curves.  Numbers to look at, not to change. */
#include "sheet/grid_pen.h"
#include "sheet/heat_words.h"
#include "sheet/view_cores.h"

#include "heat/food_code.h"

#include <math.h>

enum { N_BEFORE_HOURS = 3, PAIRS = 6, LAST_PAIR = 2 * PAIRS, HOURS_SHOWN = 16, HOURS_MOST = 48, SLOW_SHOWN_MIN = 15 };

#define DEGREES(c) TEXT("%s", pw_format_temp(g->of->ev->units, c).s)
#define HOURS(min) pw_view_hours(g->of->view, min)

static const char *lot_name(struct pw_grid *g, int lot)
{
  return TEXT("%s  %s", g->of->view->lot_mark[lot], g->of->ev->cuts[g->of->plan->lots.lots[lot].cut].name);
}

/** A row of a name and six texts, each two columns wide; texts[0] is the name. */
static void pairs(struct pw_grid *g, const char *const *texts, bool is_head)
{
  struct pw_grid_cell cells[1 + PAIRS] = {is_head ? SAY(HEAD, texts[0]) : SAY(BOLD, texts[0])};
  for (int i = 1; i <= PAIRS; i++)
    cells[i] = OVER(is_head ? SAY(HEAD, texts[i]) : SAY(CENTRE, texts[i]), 2);
  pw_grid_row(g, cells, 1 + PAIRS);
}

/** One row for each cut: its times in its hottest place, and 25 F below. */
static void cooler_part(struct pw_grid *g)
{
  static const char *const heads[] = {"Cut, predicted", "Hottest place",    "Cooler",         "Open there, h",
                                      "Open, cooler",   "Wrapped there, h", "Wrapped, cooler"};
  const struct pw_plan *plan = g->of->plan;
  bool has_head = false;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    if (!pw_heat_is_slowest(plan, l) || isnan(h->cool_c))
      continue;
    if (!has_head) {
      pw_grid_section(
          g, TEXT("If the pit runs %s cooler", pw_format_temp_difference(g->of->ev->units, h->hot_c - h->cool_c).s));
      pairs(g, heads, true);
    }
    has_head = true;
    bool wraps = plan->lots.lots[l].has_finish;
    pairs(g,
          (const char *const[]){g->of->ev->cuts[plan->lots.lots[l].cut].name, DEGREES(h->hot_c), DEGREES(h->cool_c),
                                HOURS(h->hot_smoke_min), HOURS(h->cool_smoke_min),
                                wraps ? HOURS(h->hot_finish_min) : "", wraps ? HOURS(h->cool_finish_min) : ""},
          false);
  }
  if (has_head)
    pw_grid_gap(g);
}

/** One row for each lot: the way up, the slow stretch, the steam. */
static void way_up_part(struct pw_grid *g)
{
  const struct pw_plan *plan = g->of->plan;
  bool has_head = false;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    if (isnan(h->smoke_c) || !isfinite(h->come_up_min))
      continue;
    if (!has_head) {
      pw_grid_section(g, "The way up, in the coolest place each lot has");
      pairs(g,
            (const char *const[]){
                "Lot", "Air, open", "Air, wrapped",
                TEXT("%.0f to %s, h", pw_in_temp(g->of->ev->units, PW_COME_UP_FROM_C), DEGREES(PW_COME_UP_TO_C)),
                "Slow from", "Slow for, h", "Lost as steam"},
            true);
    }
    has_head = true;
    bool is_slow = h->slow_min >= SLOW_SHOWN_MIN;
    bool is_warm = g->of->ev->cuts[plan->lots.lots[l].cut].start_c > PW_COME_UP_FROM_C;
    pairs(g,
          (const char *const[]){lot_name(g, l), DEGREES(h->smoke_c), isnan(h->finish_c) ? "" : DEGREES(h->finish_c),
                                /* of a warm start the time before the fire is not known, and it counts */
                                TEXT("%s%s", is_warm ? "> " : "", HOURS(h->come_up_min)),
                                is_slow ? DEGREES(h->slow_from_c) : "", is_slow ? HOURS(h->slow_min) : "",
                                TEXT("%.0f %%", 100.0 * fmax(h->evaporated_frac, 0.0))},
          false);
  }
  if (has_head)
    pw_grid_gap(g);
}

/** Hours of the longest curve. */
static int hours_of(const struct pw_curve *curves, int n)
{
  double longest = 0;
  for (int l = 0; curves && l < n; l++)
    if (curves[l].n_points > 0)
      longest = fmax(longest, curves[l].points[curves[l].n_points - 1].at_min);
  int hours = (int)floor(longest / 60.0);
  return hours > HOURS_MOST ? HOURS_MOST : hours;
}

static void curve_part(struct pw_grid *g, const struct pw_curve *curves, int hours, int step)
{
  int n = N_BEFORE_HOURS + hours / step + 1;
  struct pw_grid_cell cells[N_BEFORE_HOURS + HOURS_MOST + 1] = {SAY(HEAD, "Lot"), SAY(HEAD, "Wrap after, h"),
                                                                SAY(HEAD, "Done after, h")};
  for (int i = N_BEFORE_HOURS; i < n; i++)
    cells[i] = SAY(HEAD, TEXT("%d", (i - N_BEFORE_HOURS) * step));
  pw_grid_section(g, TEXT("The core in %s, by hours after it went on", pw_unit_temp(g->of->ev->units)));
  pw_grid_row(g, cells, n);
  for (int l = 0; l < g->of->plan->lots.n_lots; l++) {
    const struct pw_curve *curve = &curves[l];
    if (curve->n_points == 0)
      continue;
    cells[0] = SAY(BOLD, lot_name(g, l));
    cells[1] = SAY(CENTRE, g->of->plan->lots.lots[l].has_finish ? HOURS(curve->sum.wrap_min) : "");
    cells[2] = SAY(CENTRE, HOURS(curve->sum.done_min));
    for (int i = N_BEFORE_HOURS; i < n; i++) {
      const struct pw_curve_point *p = pw_view_core_at(curve, 60.0 * (i - N_BEFORE_HOURS) * step);
      double core = p ? floor(pw_in_temp(g->of->ev->units, p->core_c) + 0.5) : 0;
      cells[i] = !p ? SAY(CORE, "") : p->is_wrapped ? NUM(CORE_WRAPPED, core) : NUM(CORE, core);
    }
    pw_grid_row(g, cells, n);
  }
  pw_grid_line(g, PW_G_NOTE,
               "Italic and bold: wrapped. This is before the plan rounds up to its time grid and adds its margin: the "
               "plan is later than this table, a real piece earlier or later.");
}

void pw_grid_cores(struct pw_grid *g)
{
  const struct pw_plan *plan = g->of->plan;
  bool has_heat = plan->safety.lots && plan->lots.n_lots > 0;
  struct pw_curve *curves = has_heat ? pw_view_cores(g->of->view, 60.0) : NULL;
  int hours = hours_of(curves, plan->lots.n_lots), step = hours > 2 * HOURS_SHOWN ? 4 : hours > HOURS_SHOWN ? 2 : 1;
  int last = N_BEFORE_HOURS + hours / step < LAST_PAIR ? LAST_PAIR : N_BEFORE_HOURS + hours / step;
  double widths[N_BEFORE_HOURS + HOURS_MOST + 1] = {40, 8, 8};
  for (int c = N_BEFORE_HOURS; c <= last; c++)
    widths[c] = 5;
  pw_grid_open(g, "Core temperatures", widths, last + 1);
  g->last_col = LAST_PAIR;
  pw_grid_title(g, TEXT("Core temperatures: %s", g->of->ev->name),
                "By theory, from each cut's own reference time. Read the meat, not the table.");
  if (has_heat) {
    cooler_part(g);
    way_up_part(g);
  }
  g->last_col = last;
  if (curves)
    curve_part(g, curves, hours, step);
  else
    pw_grid_line(g, PW_G_SUBTITLE, "No core in this plan was predicted.");
}
