/* sheet_logs.c - every temperature of food that is read and written down: cores, on the way, holding, cooling, reheating. */
#include "heat/food_code.h"
#include "plan/lots/waves.h"
#include "sheet/heat_words.h"
#include "sheet/sheet_pen.h"
#include "sheet/view_cores.h"
#include "sheet/words.h"

#include <math.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

enum { HOLD_COLUMNS = 8, CORES_SHOWN = 8, COOLING_ROWS_LEAST = 5 };

static const char *cut_of(const struct pw_sheet_pen *pen, int lot)
{
  return pen->ev->cuts[pen->plan->lots.lots[lot].cut].name;
}

static void cores(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {{PW_CELL_TIME, "Time", 11},
                                                   {PW_CELL_ACT, "What and where", 0},
                                                   {PW_CELL_TARGET, "At least", 8},
                                                   {PW_CELL_READING, "Lowest read", 8},
                                                   {PW_CELL_READING, "When, who", 9}};
  pw_pen_table(pen, "Core at the end of each stage",
               "Probe the thickest part, away from bone. Clean the probe between kinds of meat.", COLUMNS(columns));
  for (int i = 0; i < pen->view->n_cores; i++) {
    const struct pw_view_check *c = &pen->view->cores[i];
    pw_pen_row(pen, TEXT("c%d", i + 1), c->at_min);
    pw_pen_cell(pen, pw_view_when(pen->view, c->at_min));
    pw_pen_cell_more(pen, pw_pen_named(pen, c->what, c->lot, c->ids, c->n_ids), c->where);
    pw_pen_cell(pen, TEXT("%s", pw_format_temp(pen->ev->units, c->least_c).s));
    pw_pen_open(pen);
    pw_pen_open(pen);
  }
  pw_pen_drop_empty(pen);
}

/** What the probe should say on the way, so that a slow piece is seen while there is time. */
static void on_the_way(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {{PW_CELL_ACT, "Lot", 30},
                                                   {PW_CELL_AMOUNT, "Wrap after", 11},
                                                   {PW_CELL_AMOUNT, "Done after", 11},
                                                   {PW_CELL_NOTE, "Hours on: the core reads", 0}};
  const struct pw_curve *curves = pw_view_cores(pen->view, 60.0);
  pw_pen_table(
      pen, TEXT("On the way, predicted, %s", pw_unit_temp(pen->ev->units)),
      "In the coolest place of each lot, hours from when it went on. The plan is later than this: it rounds up and "
      "keeps a margin. Far behind: more fire, a hotter place or an earlier wrap. Read the meat.",
      COLUMNS(columns));
  for (int l = 0; curves && l < pen->plan->lots.n_lots; l++) {
    const struct pw_curve *curve = &curves[l];
    if (curve->n_points == 0)
      continue;
    int hours = (int)floor(curve->points[curve->n_points - 1].at_min / 60.0), step = 1 + (hours - 1) / CORES_SHOWN;
    const char *text = "";
    for (int k = step; k <= hours; k += step) {
      const struct pw_curve_point *p = pw_view_core_at(curve, 60.0 * k);
      if (p)
        text =
            TEXT("%s%s%d\xC2\xA0h:\xC2\xA0%.0f", text, text[0] ? ", " : "", k, pw_in_temp(pen->ev->units, p->core_c));
    }
    pw_pen_row(pen, NULL, PW_SHEET_NO_TIME);
    pw_pen_cell(pen, TEXT("%s: %s", pen->view->lot_mark[l], cut_of(pen, l)));
    pw_pen_cell(pen, pen->plan->lots.lots[l].has_finish ? pw_view_hours(pen->view, curve->sum.wrap_min) : "");
    pw_pen_cell(pen, pw_view_hours(pen->view, curve->sum.done_min));
    pw_pen_cell(pen, text);
  }
  pw_pen_drop_empty(pen);
}

/** For the hand at the pit: how much longer each cut takes where the pit runs cooler. */
static void cooler_pit(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {{PW_CELL_WHAT, "Meat", 0},
                                                   {PW_CELL_AMOUNT, "Air", 16},
                                                   {PW_CELL_AMOUNT, "Open, hours", 14},
                                                   {PW_CELL_AMOUNT, "Wrapped, hours", 14}};
  const struct pw_plan *plan = pen->plan;
  enum pw_units units = pen->ev->units;
  struct pw_sheet_block *block =
      pw_pen_table(pen, "If a pit runs cooler, predicted",
                   "First as hot as its best place should be, then that much cooler.", COLUMNS(columns));
  if (block)
    block->is_screen = true;
  for (int l = 0; plan->safety.lots && l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *heat = &plan->safety.lots[l];
    if (!pw_heat_is_slowest(plan, l) || isnan(heat->cool_c))
      continue;
    pw_pen_row(pen, NULL, PW_SHEET_NO_TIME);
    pw_pen_cell(pen, pen->ev->cuts[plan->lots.lots[l].cut].name);
    pw_pen_cell(pen, TEXT("%.0f, then %s", pw_in_temp(units, heat->hot_c), pw_format_temp(units, heat->cool_c).s));
    pw_pen_cell(pen, TEXT("%s, then %s", pw_view_hours(pen->view, heat->hot_smoke_min),
                          pw_view_hours(pen->view, heat->cool_smoke_min)));
    pw_pen_cell(pen, plan->lots.lots[l].has_finish ? TEXT("%s, then %s", pw_view_hours(pen->view, heat->hot_finish_min),
                                                          pw_view_hours(pen->view, heat->cool_finish_min))
                                                   : "");
  }
  pw_pen_drop_empty(pen);
}

/** Until when the pieces of a load are in their box: whole until the last of them is cut [D4]. */
static int in_box_until(const struct pw_plan *plan, const struct pw_load *l)
{
  int until = l->end_at_min;
  for (int i = 0; i < plan->tasks.n_tasks && l->stage == PW_LOAD_HOLD; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    int cut = t->is_in_parts && t->plates_to_min != PW_NO_PLATES ? t->plates_to_min : t->at_min;
    if (t->kind != PW_TASK_CUT || t->lot != l->lot || cut <= until)
      continue;
    for (int k = 0; k < t->n_ids; k++)
      for (int m = 0; m < l->pieces; m++)
        until = t->piece_ids[k] == l->piece_ids[m] && cut > until ? cut : until;
  }
  return until;
}

/** True when something of the lot lies in that box at that time. */
static bool is_in_box(const struct pw_sheet_pen *pen, int lot, int finisher, int at_min)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    if (l->lot == lot && l->zone == PW_NONE && l->finisher == finisher && l->start_at_min <= at_min &&
        at_min < in_box_until(pen->plan, l))
      return true;
  }
  return false;
}

/** True when pans of a hot side stand in that box at that time; lines of one dish and service stand together. */
static bool is_side_in_box(const struct pw_sheet_pen *pen, const struct pw_side_pans *side, int finisher, int at_min)
{
  for (int i = 0; i < pen->plan->lots.n_side_pans; i++) {
    const struct pw_side_pans *p = &pen->plan->lots.side_pans[i];
    if (p->dish == side->dish && p->service == side->service && p->finisher == finisher && p->from_at_min <= at_min &&
        at_min < p->to_at_min)
      return true;
  }
  return false;
}

static bool is_anything_in(const struct pw_sheet_pen *pen, int finisher, int at_min)
{
  for (int lot = 0; lot < pen->plan->lots.n_lots; lot++)
    if (is_in_box(pen, lot, finisher, at_min))
      return true;
  for (int i = 0; i < pen->plan->lots.n_side_pans; i++)
    if (is_side_in_box(pen, &pen->plan->lots.side_pans[i], finisher, at_min))
      return true;
  return false;
}

/** A cell of a box's row: open while what the row tells of is inside. */
static void hour_cell(struct pw_sheet_pen *pen, bool is_inside)
{
  if (is_inside)
    pw_pen_open(pen);
  else
    pw_pen_off(pen);
}

/** Rows of the hot sides in the box, each dish of a service once. */
static void side_hours(struct pw_sheet_pen *pen, int finisher, int from_at_min, int n_hours)
{
  const struct pw_lots *lots = &pen->plan->lots;
  for (int i = 0; i < lots->n_side_pans; i++) {
    const struct pw_side_pans *p = &lots->side_pans[i];
    bool is_ever = false, is_told = false;
    for (int k = 0; k < n_hours; k++)
      is_ever |= is_side_in_box(pen, p, finisher, from_at_min + k * 60);
    for (int k = 0; k < i; k++)
      is_told |= lots->side_pans[k].dish == p->dish && lots->side_pans[k].service == p->service;
    if (!is_ever || is_told)
      continue;
    pw_pen_row(pen, TEXT("h%d-%d-side-%d", finisher + 1, from_at_min / 60, i + 1), PW_SHEET_NO_TIME);
    pw_pen_cell(pen, TEXT("%s (%s)", pen->ev->dishes[p->dish].name, pw_view_service(pen->view, p->service)));
    for (int k = 0; k < n_hours; k++)
      hour_cell(pen, is_side_in_box(pen, p, finisher, from_at_min + k * 60));
  }
}

/** Hot food is held at this or more; less is struck where a reading is typed in. */
static void at_least_hot(struct pw_sheet_pen *pen, struct pw_sheet_block *block)
{
  if (block) {
    block->has_least = true;
    block->least = floor(pw_in_temp(pen->ev->units, PW_HOT_HOLD_C) + 0.5);
  }
}

/** Some hours of one box: a row for each lot and each hot side, a cell for each hour. */
static void box_hours(struct pw_sheet_pen *pen, int finisher, int from_at_min, int n_hours)
{
  struct pw_sheet_column columns[HOLD_COLUMNS + 1] = {{PW_CELL_ACT, "Inside", 0}};
  for (int k = 0; k < n_hours; k++)
    columns[k + 1] = (struct pw_sheet_column){PW_CELL_READING, pw_view_when(pen->view, from_at_min + k * 60), 7};
  at_least_hot(pen, pw_pen_table(pen,
                                 TEXT("%s, %s or more, every hour", pen->ev->finishers[finisher].name,
                                      pw_format_temp(pen->ev->units, PW_HOT_HOLD_C).s),
                                 NULL, columns, n_hours + 1));
  pw_pen_keep(pen);
  for (int lot = 0; lot < pen->plan->lots.n_lots; lot++) {
    bool is_ever = false;
    for (int k = 0; k < n_hours; k++)
      is_ever |= is_in_box(pen, lot, finisher, from_at_min + k * 60);
    if (!is_ever)
      continue;
    pw_pen_row(pen, TEXT("h%d-%d-%d", finisher + 1, from_at_min / 60, lot + 1), PW_SHEET_NO_TIME);
    pw_pen_cell(pen, TEXT("%s: %s", pen->view->lot_mark[lot], cut_of(pen, lot)));
    for (int k = 0; k < n_hours; k++)
      hour_cell(pen, is_in_box(pen, lot, finisher, from_at_min + k * 60));
  }
  side_hours(pen, finisher, from_at_min, n_hours);
  pw_pen_row(pen, TEXT("h%d-%d-who", finisher + 1, from_at_min / 60), PW_SHEET_NO_TIME);
  pw_pen_cell(pen, "Initials");
}

static void holding(struct pw_sheet_pen *pen)
{
  for (int f = 0; f < pen->ev->n_finishers; f++) {
    if (pen->ev->finishers[f].kind != PW_HOLD)
      continue;
    for (int at = pen->view->first_at_min; at < pen->view->last_at_min;) {
      int n = 0;
      while (n < HOLD_COLUMNS && is_anything_in(pen, f, at + n * 60))
        n++;
      if (n > 0)
        box_hours(pen, f, at, n);
      at += n > 0 ? n * 60 : 60;
    }
  }
}

/** What is at the line, hot in covered pans, from the first plate of a service to the last: a row for each hot dish, a cell for each
 *  hour; what goes by the clock has its labels instead. */
static void line_hours(struct pw_sheet_pen *pen, int service)
{
  const struct pw_service *sv = &pen->ev->services[service];
  struct pw_sheet_column columns[HOLD_COLUMNS + 1] = {{PW_CELL_ACT, "Pans", 0}};
  int last = pw_last_plate_min(sv), n = 0;
  for (int at = sv->at_min; at <= last && n < HOLD_COLUMNS; at += 60)
    columns[++n] = (struct pw_sheet_column){PW_CELL_READING, pw_view_when(pen->view, at), 7};
  if (sv->style == PW_BOXED || sv->style == PW_DROP_OFF)
    return; /* no line: it is closed and gone */
  at_least_hot(pen,
               pw_pen_table(pen,
                            TEXT("At the line, %s, %s or more, every hour to the last plate",
                                 pw_view_service(pen->view, service), pw_format_temp(pen->ev->units, PW_HOT_HOLD_C).s),
                            NULL, columns, n + 1));
  pw_pen_keep(pen);
  bool has_any = false;
  for (int i = 0; i < pen->plan->demand.n_lines; i++) {
    const struct pw_demand_line *d = &pen->plan->demand.lines[i];
    const struct pw_dish *dish = &pen->ev->dishes[d->dish];
    if (d->service != service || d->portions <= 0 || (dish->cut == PW_NONE && dish->held != PW_HELD_HOT) ||
        pw_words_time_control(pen->plan, d))
      continue;
    has_any = true;
    pw_pen_row(pen, TEXT("p%d-%d", service + 1, i + 1), PW_SHEET_NO_TIME);
    pw_pen_cell(pen, dish->name);
    for (int k = 0; k < n; k++)
      pw_pen_open(pen);
  }
  if (has_any) {
    pw_pen_row(pen, TEXT("p%d-who", service + 1), PW_SHEET_NO_TIME);
    pw_pen_cell(pen, "Initials");
  }
  pw_pen_drop_empty(pen);
}

static void reheating(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_TIME, "In at", 11},     {PW_CELL_ACT, "What and where", 0},   {PW_CELL_TIME, "Hot by", 11},
      {PW_CELL_TARGET, "At least", 9}, {PW_CELL_READING, "Lowest read", 12}, {PW_CELL_READING, "When, who", 12}};
  pw_pen_table(pen, "Reheating", NULL, COLUMNS(columns));
  pw_pen_keep(pen);
  for (int i = 0; i < pen->plan->lots.n_reheats; i++) {
    const struct pw_reheat *r = &pen->plan->lots.reheats[i];
    pw_pen_row(pen, TEXT("r%d", i + 1), r->from_at_min);
    pw_pen_cell(pen, pw_view_when(pen->view, r->from_at_min));
    pw_pen_cell_more(pen, TEXT("%s: %d \xC3\x97 %s", pen->view->lot_mark[r->lot], r->pieces, cut_of(pen, r->lot)),
                     pen->ev->finishers[r->finisher].name);
    pw_pen_cell(pen, pw_view_when(pen->view, r->ready_at_min));
    pw_pen_cell(pen, TEXT("%s", pw_format_temp(pen->ev->units, r->core_c).s));
    pw_pen_open(pen);
    pw_pen_open(pen);
  }
  pw_pen_drop_empty(pen);
}

static void cooling(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_ACT, "Food", 0},           {PW_CELL_READING, "Started", 12},   {PW_CELL_READING, "Start reads", 11},
      {PW_CELL_READING, "After 2 h", 10}, {PW_CELL_READING, "After 4 h", 10}, {PW_CELL_READING, "After 6 h", 10},
      {PW_CELL_READING, "Who", 7}};
  enum pw_units units = pen->ev->units;
  const struct pw_day_before *d = &pen->plan->day_before;
  pw_pen_table(
      pen, "Cooling",
      TEXT("From %s to %s within 2 hours, to %s within 6 hours in all (FDA Food Code 2022, 3-501.14). What misses a "
           "limit is thrown away.",
           pw_format_temp(units, PW_HOT_HOLD_C).s, pw_format_temp(units, PW_FOOD_CODE_COOL_C).s,
           pw_format_temp(units, PW_FOOD_CODE_COLD_C).s),
      COLUMNS(columns));
  pw_pen_keep(pen);
  for (int i = 0; i < d->n_chills || i < COOLING_ROWS_LEAST; i++) {
    pw_pen_row(pen, TEXT("k%d", i + 1), PW_SHEET_NO_TIME);
    if (i >= d->n_chills) /* what is left over, to be written in */
      continue;
    pw_pen_cell(pen, TEXT("%s: %d \xC3\x97 %s", pen->view->lot_mark[d->chills[i].lot], d->chills[i].pieces,
                          cut_of(pen, d->chills[i].lot)));
    pw_pen_cell(pen, pw_view_when(pen->view, d->chills[i].from_at_min));
  }
}

void pw_sheet_logs(struct pw_sheet_pen *pen)
{
  pw_pen_sheet(pen, PW_SHEET_LOGS, "logs", "Temperature logs",
               "Limits: each cut's own target and FDA Food Code 2022, 3-401.11 and 3-501.16. Local rules come first.");
  cores(pen);
  on_the_way(pen);
  cooler_pit(pen);
  holding(pen);
  for (int s = 0; s < pen->ev->n_services; s++)
    line_hours(pen, s);
  reheating(pen);
  cooling(pen);
}
