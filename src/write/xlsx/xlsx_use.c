/* xlsx_use.c - how full pits, ovens and boxes are over time, as a table and a chart.
 * A pit counts the rectangles on its racks against the racks' area; an oven its shelf or pans; a box its pans,
 * those of hot sides included; what is warmed again counts as in the plan. */
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"

#include <math.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)
#define SHEET     "Use over time"

enum { STEP_MIN = 60, LOOK_MIN = 5, PLACES_MAX = 100 };

/** A column: a pit, or an oven or box. */
struct place {
  int pit, finisher;
};

static double rack_area_m2(const struct pw_pit *pit)
{
  double sum = 0;
  for (int r = 0; r < pit->n_racks; r++) {
    double box = pit->racks[r].length_m * pit->racks[r].depth_m;
    sum += pit->racks[r].outline == PW_DISC ? box * 0.78539816339744831 : box; /* pi / 4: a disc in its square */
  }
  return sum;
}

/** What a load takes of its place, 0..1. */
static double share_of(const struct book *b, const struct pw_load *l)
{
  const struct pw_lot *lot = &b->plan->lots.lots[l->lot];
  double sum = 0;
  if (l->zone != PW_NONE) {
    for (int k = 0; k < l->pieces && l->rects; k++)
      sum += l->rects[k].length_m * l->rects[k].depth_m;
    double area = rack_area_m2(&b->ev->pits[b->plan->lots.zones[l->zone].pit]);
    return area > 0 ? sum / area : 0;
  }
  const struct pw_finisher *f = &b->ev->finishers[l->finisher];
  double each = f->is_in_pans ? b->ev->cuts[lot->cut].pans_per_piece : lot->wrapped_length_m * lot->wrapped_width_m;
  return f->capacity > 0 ? l->pieces * each / f->capacity : 0;
}

static double use_at(const struct book *b, const struct place *place, int at_min)
{
  const struct pw_allocation *al = &b->plan->allocation;
  double sum = 0;
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    bool is_here = l->zone != PW_NONE ? place->pit == b->plan->lots.zones[l->zone].pit
                                      : place->pit == PW_NONE && place->finisher == l->finisher;
    if (is_here && l->start_at_min <= at_min && at_min < l->end_at_min)
      sum += share_of(b, l);
  }
  for (int i = 0; i < b->plan->lots.n_side_pans && place->pit == PW_NONE; i++) { /* hot sides wait in the boxes too */
    const struct pw_side_pans *p = &b->plan->lots.side_pans[i];
    const struct pw_finisher *f = &b->ev->finishers[place->finisher];
    if (p->finisher == place->finisher && f->capacity > 0 && p->from_at_min <= at_min && at_min < p->to_at_min)
      sum += p->pans / f->capacity;
  }
  for (int i = 0; i < b->plan->lots.n_reheats && place->pit == PW_NONE;
       i++) { /* what was cooked the day before, warmed again */
    const struct pw_reheat *r = &b->plan->lots.reheats[i];
    if (r->finisher == place->finisher && b->ev->finishers[place->finisher].capacity > 0 && r->from_at_min <= at_min &&
        at_min < r->out_at_min)
      sum += r->capacity / b->ev->finishers[place->finisher].capacity;
  }
  return sum;
}

static double most_in_hour(const struct book *b, const struct place *place, int from_at_min)
{
  double most = 0;
  for (int at = from_at_min; at < from_at_min + STEP_MIN; at += LOOK_MIN)
    most = fmax(most, use_at(b, place, at));
  return most;
}

/** Places that hold something at some time, pits first. */
static int places_find(const struct book *b, struct place *places)
{
  const struct pw_allocation *al = &b->plan->allocation;
  int n = 0, total = b->ev->n_pits + b->ev->n_finishers;
  for (int i = 0; i < total && n < PLACES_MAX; i++) {
    struct place p = i < b->ev->n_pits ? (struct place){i, PW_NONE} : (struct place){PW_NONE, i - b->ev->n_pits};
    bool is_used = false;
    for (int k = 0; k < al->n_loads && !is_used; k++) {
      int pit = al->loads[k].zone == PW_NONE ? PW_NONE : b->plan->lots.zones[al->loads[k].zone].pit;
      is_used = pit != PW_NONE ? pit == p.pit : p.pit == PW_NONE && al->loads[k].finisher == p.finisher;
    }
    for (int k = 0; k < b->plan->lots.n_side_pans && !is_used && p.pit == PW_NONE; k++)
      is_used = b->plan->lots.side_pans[k].finisher == p.finisher;
    for (int k = 0; k < b->plan->lots.n_reheats && !is_used && p.pit == PW_NONE; k++)
      is_used = b->plan->lots.reheats[k].finisher == p.finisher;
    if (is_used)
      places[n++] = p;
  }
  return n;
}

/** One line per place; without colour they differ by dash and mark. */
static void chart_write(struct book *b, struct sheet *s, int first, int last, int n)
{
  static const uint8_t dashes[] = {LXW_CHART_LINE_DASH_SOLID,     LXW_CHART_LINE_DASH_DASH,
                                   LXW_CHART_LINE_DASH_ROUND_DOT, LXW_CHART_LINE_DASH_DASH_DOT,
                                   LXW_CHART_LINE_DASH_LONG_DASH, LXW_CHART_LINE_DASH_LONG_DASH_DOT};
  static const lxw_color_t inks[] = {0x1A1A1A, 0xA0522D, 0x2B6A8F, 0x6B8E23, 0x7A4E8A, 0x8C7A3A};
  lxw_chart *chart = b->error == LXW_NO_ERROR && s->ws ? workbook_add_chart(b->wb, LXW_CHART_LINE) : NULL;
  for (int i = 0; chart && i < n; i++) {
    lxw_chart_series *line = pw_book_series(
        b, chart, TEXT("='%s'!%s:%s", SHEET, pw_cell_name_fixed(b, first, 0), pw_cell_name_fixed(b, last, 0)),
        TEXT("='%s'!%s:%s", SHEET, pw_cell_name_fixed(b, first, i + 1), pw_cell_name_fixed(b, last, i + 1)));
    if (!line) {
      pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
      return;
    }
    lxw_chart_line look = {.color = inks[i % 6], .width = 1.75f, .dash_type = dashes[i % 6]};
    chart_series_set_line(line, &look);
    chart_series_set_marker_type(line, LXW_CHART_MARKER_NONE);
    const char *name = TEXT("='%s'!%s", SHEET, pw_cell_name_fixed(b, first - 1, i + 1));
    if (!b->view->failed)
      chart_series_set_name(line, name);
  }
  if (!chart)
    return;
  static char alt[] = "Lines: share of each pit, oven and box in use over time";
  lxw_chart_options options = {.x_scale = 1.42, .y_scale = 1.1, .description = alt};
  chart_title_set_name(chart, "Share in use");
  chart_legend_set_position(chart, LXW_CHART_LEGEND_BOTTOM);
  chart_axis_set_max(chart->y_axis, 1);
  chart_axis_set_min(chart->y_axis, 0);
  chart_axis_set_num_format(chart->y_axis, "0 %");
  chart_axis_set_interval_unit(chart->x_axis, 2);
  pw_book_take(b, worksheet_insert_chart_opt(s->ws, 3, 0, chart, &options));
}

void pw_xlsx_use_write(struct book *b)
{
  enum { CHART_ROWS = 17, TIME_PX = 90, PLACE_PX = 85, PLACES_LEAST = 7 };
  struct place places[PLACES_MAX];
  struct sheet s;
  int n = places_find(b, places), last_col = n < PLACES_LEAST ? PLACES_LEAST : n;
  pw_sheet_open(b, &s, SHEET, false);
  s.least_scale = 0.75;
  pw_sheet_columns_px(&s, 0, 0, TIME_PX);
  pw_sheet_columns_px(&s, 1, last_col, PLACE_PX);
  pw_sheet_title(&s, TEXT("Use over time: %s", b->ev->name),
                 "Rack area, oven shelf and box pans taken, the most in each hour.", last_col);
  int head = 3 + CHART_ROWS;
  pw_put_text(&s, head, 0, "Time", ST_HEAD);
  for (int i = 0; i < n; i++)
    pw_put_text(&s, head, i + 1,
                places[i].pit != PW_NONE ? b->ev->pits[places[i].pit].name : b->ev->finishers[places[i].finisher].name,
                ST_HEAD);
  s.row = head + 1;
  for (int at = b->view->first_at_min; at < b->view->last_at_min; at += STEP_MIN, s.row++) {
    pw_put_text(&s, s.row, 0, pw_view_when(b->view, at), ST_SMALL);
    for (int i = 0; i < n; i++)
      pw_put_number(&s, s.row, i + 1, most_in_hour(b, &places[i], at), ST_SMALL_PERCENT);
  }
  if (n > 0 && s.row > head + 1)
    chart_write(b, &s, head + 1, s.row - 1, n);
  pw_sheet_close(&s);
}
