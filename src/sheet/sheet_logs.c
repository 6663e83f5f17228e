/* sheet_logs.c - every temperature of food that is read and written down: cores, on the way, holding, cooling, reheating. */
#include "base/arena.h"
#include "base/when.h"
#include "heat/food_code.h"
#include "plan/lots/waves.h"
#include "sheet/heat_words.h"
#include "sheet/sheet_pen.h"
#include "sheet/view_cores.h"
#include "sheet/words.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

enum { LINE_COLUMNS = 8, CORES_SHOWN = 8, COOLING_ROWS_LEAST = 5 };

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
                   "First figure: its best place as hot as planned. Second: that much cooler.", COLUMNS(columns));
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

/** Hot food is held at this or more; less is struck where a reading is typed in. */
static void at_least_hot(struct pw_sheet_pen *pen, struct pw_sheet_block *block)
{
  if (block) {
    block->has_least = true;
    block->least = floor(pw_in_temp(pen->ev->units, PW_HOT_HOLD_C) + 0.5);
  }
}

/** One reading of a box: of a task, or of the pans of a hot side, which nobody's sheet has. */
struct hold_line {
  int at_min, task, side; /* PW_NONE: the other */
};

static void line_add(struct pw_sheet_pen *pen, struct hold_line **lines, size_t *cap, int *n, struct hold_line line)
{
  if (pw_arena_grow(pen->view->arena, lines, cap, (size_t)*n, sizeof **lines) < 0) {
    pen->view->failed = true;
    return;
  }
  int at = (*n)++;
  for (; at > 0 && (*lines)[at - 1].at_min > line.at_min; at--)
    (*lines)[at] = (*lines)[at - 1];
  (*lines)[at] = line;
}

/** When the first of a dish is made for a service; INT_MIN where nobody makes it. */
static int made_at(const struct pw_sheet_pen *pen, const struct pw_side_pans *pans)
{
  const struct pw_tasks *tasks = &pen->plan->tasks;
  int at = INT_MIN;
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    if (t->kind == PW_TASK_PREP && t->dish == pans->dish && t->service == pans->service &&
        (at == INT_MIN || t->at_min + t->minutes < at))
      at = t->at_min + t->minutes;
  }
  return at;
}

/** Pans of one dish and service in one box are read together: as the first of them go in, then as often as meat is. */
static void side_lines(struct pw_sheet_pen *pen, int finisher, struct hold_line **lines, size_t *cap, int *n)
{
  const struct pw_lots *lots = &pen->plan->lots;
  for (int i = 0; i < lots->n_side_pans; i++) {
    const struct pw_side_pans *p = &lots->side_pans[i];
    int from = p->from_at_min, to = p->to_at_min;
    bool is_told = p->finisher != finisher;
    for (int k = 0; k < lots->n_side_pans; k++) {
      const struct pw_side_pans *o = &lots->side_pans[k];
      if (o->dish != p->dish || o->service != p->service || o->finisher != p->finisher)
        continue;
      is_told = is_told || k < i;
      from = o->from_at_min < from ? o->from_at_min : from;
      to = o->to_at_min > to ? o->to_at_min : to;
    }
    int made = made_at(pen, p); /* its room in the box is kept from the earliest that it may be made */
    from = made > from && made < to ? made : from;
    for (int at = from; !is_told && at < to; at += PW_HOLD_CHECK_EVERY_MIN)
      line_add(pen, lines, cap, n, (struct hold_line){at, PW_NONE, i});
  }
}

/** What is read in one box: a line for each time that somebody's own sheet sends them there, at that time and by its words. */
static void box(struct pw_sheet_pen *pen, int finisher)
{
  static const struct pw_sheet_column columns[] = {{PW_CELL_TIME, "Time", 7},
                                                   {PW_CELL_ACT, "Inside", 0},
                                                   {PW_CELL_READING, "Lowest read", 8},
                                                   {PW_CELL_READING, "Who", 7}};
  const struct pw_tasks *tasks = &pen->plan->tasks;
  struct hold_line *lines = NULL;
  size_t cap = 0;
  int n = 0;
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    if ((t->kind == PW_TASK_REST_OVER || t->kind == PW_TASK_HOLD_CHECK) &&
        (t->to_place != PW_NONE ? t->to_place : t->place) == pen->ev->n_pits + finisher)
      line_add(pen, &lines, &cap, &n, (struct hold_line){t->at_min, i, PW_NONE});
  }
  side_lines(pen, finisher, &lines, &cap, &n);
  at_least_hot(pen, pw_pen_table(pen,
                                 TEXT("%s, %s or more", pen->ev->finishers[finisher].name,
                                      pw_format_temp(pen->ev->units, PW_HOT_HOLD_C).s),
                                 NULL, COLUMNS(columns)));
  pw_pen_narrow(pen);
  const char *day = "";
  for (int i = 0; i < n && !pen->view->failed; i++) {
    const char *today = TEXT("%s", pw_when_day(pen->ev, lines[i].at_min).s);
    if (strcmp(today, day) != 0)
      pw_pen_band(pen, PW_ROW_BAND, today);
    day = today;
    if (lines[i].task != PW_NONE) {
      const struct pw_task *t = &tasks->tasks[lines[i].task];
      pw_pen_row(pen, TEXT("h%d", lines[i].task + 1), t->at_min);
      pw_pen_cell(pen, TEXT("%s", pw_when_clock(pen->ev, t->at_min).s));
      pw_pen_cell(pen, pw_pen_named(pen, TEXT("%s: %s", pen->view->lot_mark[t->lot], cut_of(pen, t->lot)), t->lot,
                                    t->piece_ids, t->n_ids));
    } else {
      const struct pw_side_pans *p = &pen->plan->lots.side_pans[lines[i].side];
      pw_pen_row(pen, TEXT("hs%d-%d", lines[i].side + 1, lines[i].at_min), lines[i].at_min);
      pw_pen_cell(pen, TEXT("%s", pw_when_clock(pen->ev, lines[i].at_min).s));
      pw_pen_cell_more(pen, pen->ev->dishes[p->dish].name, pw_view_service(pen->view, p->service));
    }
  }
  pw_pen_drop_empty(pen);
}

/** What is at the line, hot in covered pans, from the first plate of a service to the last: a row for each hot dish, a cell for each
 *  hour; what goes by the clock has its labels instead. */
static void line_hours(struct pw_sheet_pen *pen, int service)
{
  const struct pw_service *sv = &pen->ev->services[service];
  struct pw_sheet_column columns[LINE_COLUMNS + 1] = {{PW_CELL_ACT, "Pans", 0}};
  int last = pw_last_plate_min(sv), n = 0;
  for (int at = sv->at_min; at <= last && n < LINE_COLUMNS; at += 60)
    columns[++n] = (struct pw_sheet_column){PW_CELL_READING, pw_view_when(pen->view, at), 7};
  at_least_hot(pen,
               pw_pen_table(pen,
                            TEXT("At the line, %s, %s or more, every hour to the last plate",
                                 pw_view_service(pen->view, service), pw_format_temp(pen->ev->units, PW_HOT_HOLD_C).s),
                            NULL, columns, n + 1));
  pw_pen_keep(pen);
  bool has_any = false;
  for (int i = 0; i < pen->plan->demand.n_lines; i++) {
    const struct pw_demand_line *d = &pen->plan->demand.lines[i];
    if (d->service != service || !pw_view_is_read_at_line(pen->plan, i))
      continue;
    has_any = true;
    pw_pen_row(pen, TEXT("p%d-%d", service + 1, i + 1), PW_SHEET_NO_TIME);
    pw_pen_cell(pen, pen->ev->dishes[d->dish].name);
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
  for (int f = 0; f < pen->ev->n_finishers; f++)
    box(pen, f);
  for (int s = 0; s < pen->ev->n_services; s++)
    line_hours(pen, s);
  reheating(pen);
  cooling(pen);
}
