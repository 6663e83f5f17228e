/* xlsx_cores.c - what theory says of the cores: what a cooler pit does to each cut, how long the way up takes, and the core of
 * each lot hour by hour in the coolest place it has [T1][H1].
 * In: the lots' heat of the safety report; the view's curves.  Numbers to look at, not to change. */
#include "sheet/heat_words.h"
#include "sheet/view_cores.h"
#include "write/xlsx/xlsx_book.h"

#include "heat/food_code.h"

#include <math.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)

enum {
  C_NAME,
  C_WRAP,
  C_DONE,
  C_HOUR,
  PAIRS = 6,
  LAST_PAIR = 2 * PAIRS,
  HOURS_SHOWN = 16,
  HOURS_MOST = 48,
  SLOW_SHOWN_MIN = 15
};

static const char *lot_name(struct book *b, int lot)
{
  return TEXT("%s  %s", b->view->lot_mark[lot], b->ev->cuts[b->plan->lots.lots[lot].cut].name);
}

/** A row of a name and six texts, each two columns wide. */
static void pairs(struct sheet *s, const char *name, const char *const *texts, enum style first, enum style rest)
{
  pw_put_text(s, s->row, C_NAME, name, first);
  for (int i = 0; i < PAIRS; i++)
    pw_put_merged(s, s->row, 1 + 2 * i, s->row, 2 + 2 * i, texts[i], rest);
  s->row++;
}

/** One row for each cut: its times in its hottest place, and 25 F below. */
static void cooler_part(struct book *b, struct sheet *s)
{
  const struct pw_plan *plan = b->plan;
  enum pw_units u = b->ev->units;
  bool has_head = false;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    if (!pw_heat_is_slowest(plan, l) || isnan(h->cool_c))
      continue;
    if (!has_head) {
      pw_put_section(s, 0, LAST_PAIR,
                     TEXT("If the pit runs %s cooler", pw_format_temp_difference(u, h->hot_c - h->cool_c).s));
      pairs(s, "Cut, predicted",
            (const char *const[]){"Hottest place", "Cooler", "Open there, h", "Open, cooler", "Wrapped there, h",
                                  "Wrapped, cooler"},
            ST_HEAD, ST_HEAD);
      pw_sheet_keep(s, s->row - 1);
      has_head = true;
    }
    bool wraps = plan->lots.lots[l].has_finish;
    pairs(s, b->ev->cuts[plan->lots.lots[l].cut].name,
          (const char *const[]){TEXT("%s", pw_format_temp(u, h->hot_c).s), TEXT("%s", pw_format_temp(u, h->cool_c).s),
                                pw_view_hours(b->view, h->hot_smoke_min), pw_view_hours(b->view, h->cool_smoke_min),
                                wraps ? pw_view_hours(b->view, h->hot_finish_min) : "",
                                wraps ? pw_view_hours(b->view, h->cool_finish_min) : ""},
          ST_TEXT_BOLD, ST_TEXT_CENTRE);
  }
  s->row += has_head;
}

/** One row for each lot: the way up, the slow stretch, the steam. */
static void way_up_part(struct book *b, struct sheet *s)
{
  const struct pw_plan *plan = b->plan;
  enum pw_units u = b->ev->units;
  bool has_head = false;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    if (isnan(h->smoke_c) || !isfinite(h->come_up_min))
      continue;
    if (!has_head) {
      pw_put_section(s, 0, LAST_PAIR, "The way up, in the coolest place each lot has");
      pairs(s, "Lot",
            (const char *const[]){
                "Air, open", "Air, wrapped",
                TEXT("%.0f to %s, h", pw_in_temp(u, PW_COME_UP_FROM_C), pw_format_temp(u, PW_COME_UP_TO_C).s),
                "Slow from", "Slow for, h", "Lost as steam"},
            ST_HEAD, ST_HEAD);
      pw_sheet_keep(s, s->row - 1);
      has_head = true;
    }
    bool is_slow = h->slow_min >= SLOW_SHOWN_MIN;
    bool is_warm = b->ev->cuts[plan->lots.lots[l].cut].start_c > PW_COME_UP_FROM_C;
    pairs(s, lot_name(b, l),
          (const char *const[]){TEXT("%s", pw_format_temp(u, h->smoke_c).s),
                                isnan(h->finish_c) ? "" : TEXT("%s", pw_format_temp(u, h->finish_c).s),
                                /* of a warm start the time before the fire is not known, and it counts */
                                TEXT("%s%s", is_warm ? "> " : "", pw_view_hours(b->view, h->come_up_min)),
                                is_slow ? TEXT("%s", pw_format_temp(u, h->slow_from_c).s) : "",
                                is_slow ? pw_view_hours(b->view, h->slow_min) : "",
                                TEXT("%.0f %%", 100.0 * fmax(h->evaporated_frac, 0.0))},
          ST_TEXT_BOLD, ST_TEXT_CENTRE);
  }
  s->row += has_head;
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

static void curve_part(struct book *b, struct sheet *s, const struct pw_curve *curves, int hours, int step)
{
  int n_cols = hours / step + 1, last_col = C_HOUR + n_cols - 1 < LAST_PAIR ? LAST_PAIR : C_HOUR + n_cols - 1;
  pw_put_section(s, 0, last_col, TEXT("The core, %s, so many hours after it went on", pw_unit_temp(b->ev->units)));
  pw_put_heads(s, s->row, (const char *const[]){"Lot", "Wrap after, h", "Done after, h"}, C_HOUR);
  for (int i = 0; i < n_cols; i++)
    pw_put_text(s, s->row, C_HOUR + i, TEXT("%d", i * step), ST_HEAD);
  s->row++;
  for (int l = 0; l < b->plan->lots.n_lots; l++) {
    const struct pw_curve *curve = &curves[l];
    if (curve->n_points == 0)
      continue;
    bool wraps = b->plan->lots.lots[l].has_finish;
    pw_put_text(s, s->row, C_NAME, lot_name(b, l), ST_TEXT_BOLD);
    pw_put_text(s, s->row, C_WRAP, wraps ? pw_view_hours(b->view, curve->sum.wrap_min) : "", ST_TEXT_CENTRE);
    pw_put_text(s, s->row, C_DONE, pw_view_hours(b->view, curve->sum.done_min), ST_TEXT_CENTRE);
    for (int i = 0; i < n_cols; i++) {
      const struct pw_curve_point *p = pw_view_core_at(curve, 60.0 * i * step);
      if (p)
        pw_put_number(s, s->row, C_HOUR + i, floor(pw_in_temp(b->ev->units, p->core_c) + 0.5),
                      p->is_wrapped ? ST_CORE_WRAPPED : ST_CORE);
      else
        pw_put_blank(s, s->row, C_HOUR + i, ST_CORE);
    }
    s->row++;
  }
  pw_put_merged(s, s->row, 0, s->row, last_col,
                "Slanted and bold: wrapped. Before the plan rounds up to its time grid and adds its margin: the plan "
                "is later than this table, a real piece earlier or later.",
                ST_NOTE);
  s->row++;
}

void pw_xlsx_cores_write(struct book *b)
{
  struct sheet s;
  bool has_heat = b->plan->safety.lots && b->plan->lots.n_lots > 0;
  struct pw_curve *curves = has_heat ? pw_view_cores(b->view, 60.0) : NULL;
  int hours = hours_of(curves, b->plan->lots.n_lots),
      step = hours > 2 * HOURS_SHOWN ? 4
             : hours > HOURS_SHOWN   ? 2
                                     : 1,
      last = C_HOUR + hours / step;
  double widths[C_HOUR + HOURS_MOST + 1] = {40};
  for (int c = 1; c <= (last < LAST_PAIR ? LAST_PAIR : last); c++)
    widths[c] = c < C_HOUR ? 8 : 5;
  pw_sheet_open(b, &s, "Core temperatures", false);
  s.least_scale = 0.7;
  pw_sheet_columns(&s, widths, (last < LAST_PAIR ? LAST_PAIR : last) + 1);
  pw_sheet_title(&s, TEXT("Core temperatures: %s", b->ev->name),
                 "By theory, from each cut's own reference time. Read the meat, not the table.", LAST_PAIR);
  if (has_heat) {
    cooler_part(b, &s);
    way_up_part(b, &s);
  }
  if (curves && hours >= 0)
    curve_part(b, &s, curves, hours, step);
  else
    pw_put_merged(&s, s.row, 0, s.row, LAST_PAIR, "No core in this plan was predicted.", ST_SUBTITLE);
  pw_sheet_close(&s);
}
