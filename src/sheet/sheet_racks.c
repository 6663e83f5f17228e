/* sheet_racks.c - where everything is: a page for each day, and for each pit a slip for every time something goes on.
 * A slip shows all racks of the pit at that moment, so that nobody holds two maps against each other. */
#include "base/arena.h"
#include "base/when.h"
#include "sheet/chance_words.h"
#include "sheet/sheet_pen.h"
#include "sheet/slack_words.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

enum {
  HOUR_MIN = 60,
  DAY_HOURS_MOST = 28,
  EVE_MOST_MIN = 5 * 60,
  ROWS_BESIDE_RULES = 45 /* with more bars a day fills its page */
};

/* ---- days ---------------------------------------------------------------------------------------------- */

/** First and last minute of the local day `day` (counted from the event's date) in which a fire burns, food lies somewhere or
 *  guests are served; false when there is none. */
static bool day_span(const struct pw_sheet_pen *pen, int day, int *from, int *to)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  *from = INT_MAX, *to = INT_MIN;
  for (int at = pen->view->first_at_min; at < pen->view->last_at_min; at += HOUR_MIN / 4) {
    if (pw_when_day_number(pen->ev, at) != day)
      continue;
    bool is_busy = false;
    for (int i = 0; i < al->n_burns && !is_busy; i++)
      is_busy = al->burns[i].lit_at_min < at + HOUR_MIN / 4 && al->burns[i].out_at_min > at;
    for (int i = 0; i < al->n_loads && !is_busy; i++)
      is_busy = al->loads[i].start_at_min < at + HOUR_MIN / 4 && al->loads[i].end_at_min > at;
    for (int i = 0; i < pen->plan->day_before.n_chills && !is_busy; i++)
      is_busy = pen->plan->day_before.chills[i].from_at_min < at + HOUR_MIN / 4 &&
                pen->plan->day_before.chills[i].cold_by_at_min > at;
    for (int i = 0; i < pen->plan->lots.n_reheats && !is_busy; i++)
      is_busy =
          pen->plan->lots.reheats[i].from_at_min < at + HOUR_MIN / 4 && pen->plan->lots.reheats[i].out_at_min > at;
    for (int i = 0; i < pen->ev->n_services && !is_busy; i++)
      is_busy = pen->ev->services[i].at_min < at + HOUR_MIN / 4 &&
                pen->ev->services[i].at_min + pen->ev->services[i].length_min > at;
    if (is_busy) {
      *from = at < *from ? at : *from;
      *to = at + HOUR_MIN / 4 > *to ? at + HOUR_MIN / 4 : *to;
    }
  }
  return *from < *to;
}

/** The same bars as rows, for what cannot draw: place by place. */
static void bar_rows(struct pw_sheet_pen *pen, int from_at_min, int to_at_min)
{
  const char *place = "";
  for (int i = 0; i < pen->view->n_lanes; i++) {
    const struct pw_view_lane *lane = &pen->view->lanes[i];
    const char *pit = lane->pit == PW_NONE || lane->kind == PW_LANE_FIRE ? "" : pen->ev->pits[lane->pit].name;
    place = lane->is_first || !place[0]
                ? TEXT("%s%s%s%s%s", pit, pit[0] ? ", " : "", lane->name, lane->detail && lane->detail[0] ? ", " : "",
                       lane->detail ? lane->detail : "")
                : place;
    for (int k = 0; k < lane->n_bars; k++) {
      const struct pw_view_bar *bar = &lane->bars[k];
      if (bar->from_at_min >= to_at_min || bar->to_at_min <= from_at_min)
        continue;
      pw_pen_row(pen, NULL, bar->from_at_min);
      pw_pen_cell(pen, pw_view_when(pen->view, bar->from_at_min));
      pw_pen_cell(pen, pw_view_when(pen->view, bar->to_at_min));
      pw_pen_cell(pen, bar->what ? TEXT("%s%s%d\xC2\xA0\xC3\x97 %s, %s", bar->mark ? bar->mark : "",
                                        bar->mark ? ": " : "", bar->n, bar->what, pw_view_bar_word(bar->kind))
                                 : pw_view_bar_word(bar->kind));
      pw_pen_cell(pen, place);
    }
  }
}

/** [R1] "Ready on time: Lunch 99 of 100 cooks; dinner 97 of 100 cooks, watch Brisket." of the meals of a page; NULL where none is told. */
static const char *page_chance(struct pw_sheet_pen *pen, int from_at_min, int to_at_min)
{
  const char *text = NULL;
  for (int s = 0; s < pen->ev->n_services && pen->plan->chance.services; s++) {
    if (pen->ev->services[s].at_min < from_at_min || pen->ev->services[s].at_min >= to_at_min)
      continue;
    const char *words = pw_chance_short_words(pen->plan, s, pen->view->arena);
    pen->view->failed |= !words;
    text = TEXT("%s %s %s", text ? TEXT("%s;", text) : "Ready on time:", pw_view_service(pen->view, s),
                words ? words : "");
  }
  return text ? TEXT("%s.", text) : NULL;
}

/** What the crew does when the day is not as planned: the rules by which its chance was drawn [R2], and what keeps food safe [H2]. */
static void late_rules(struct pw_sheet_pen *pen)
{
  pw_pen_block(pen, PW_BLOCK_TEXT, "When a day runs late or early", NULL);
  pw_pen_keep(pen);
  pw_pen_text(
      pen, "Ready",
      "Core and feel decide, not the clock: a piece keeps its spot until it is done, and leaves it when it is.");
  pw_pen_text(pen, "Late",
              "On at its time, or as soon as the fire is clean and spot and hands are free; the earliest \"latest\" "
              "first. Past that, tell whoever runs the job.");
  pw_pen_text(pen, "Spot taken",
              "Use a free spot at the same end of the same pit, or an oven hot enough; else wait. A wrapped piece may "
              "make room, an open one stays. Nothing raw above cooked or ready-to-eat food.");
  pw_pen_text(pen, "Early", "Rest it, then hold it hot in its box, no longer than its line says.");
}

void pw_sheet_days(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_TIME, "From", 11}, {PW_CELL_TIME, "To", 11}, {PW_CELL_ACT, "What", 0}, {PW_CELL_WHERE, "Where", 36}};
  int first = pw_when_day_number(pen->ev, pen->view->first_at_min),
      last = pw_when_day_number(pen->ev, pen->view->last_at_min), nth = 0, eve = INT_MAX;
  bool has_rules = false;
  for (int day = first; day <= last; day++) {
    int from = 0, to = 0;
    int next = 0, end = 0;
    if (!day_span(pen, day, &from, &to))
      continue;
    if (to - from <= EVE_MOST_MIN && day < last && eve == INT_MAX && day_span(pen, day + 1, &next, &end) &&
        next - to < HOUR_MIN && end - from <= DAY_HOURS_MOST * HOUR_MIN) {
      eve = from; /* fires lit before midnight stand on the page of the day they cook for */
      continue;
    }
    const char *title = TEXT("%s%s", pw_when_day(pen->ev, from).s, eve == INT_MAX ? "" : ", and the evening before");
    from = eve < from ? eve : from;
    eve = INT_MAX;
    struct pw_sheet *sheet = pw_pen_sheet(pen, PW_SHEET_DAY, TEXT("day-%d", ++nth), title, NULL);
    if (!sheet)
      return;
    sheet->is_landscape = true;
    sheet->is_new_page = nth == 1; /* two short days share a page */
    from = from >= 0 ? from / HOUR_MIN * HOUR_MIN : -((-from + HOUR_MIN - 1) / HOUR_MIN) * HOUR_MIN;
    int hours = (to - from + HOUR_MIN - 1) / HOUR_MIN;
    struct pw_sheet_block *block = pw_pen_table(pen, NULL, NULL, COLUMNS(columns));
    if (block) {
      block->kind = PW_BLOCK_DAY;
      block->from_at_min = from;
      block->hours = hours > DAY_HOURS_MOST ? DAY_HOURS_MOST : hours;
      bar_rows(pen, from, from + block->hours * HOUR_MIN);
      sheet->sub = page_chance(pen, from, from + block->hours * HOUR_MIN);
    }
    if (!has_rules && block && (block->n_rows <= ROWS_BESIDE_RULES || day == last)) {
      late_rules(pen);
      has_rules = true;
    }
  }
}

/* ---- slips ---------------------------------------------------------------------------------------------- */

static int int_compare(const void *a, const void *b)
{
  int x = *(const int *)a, y = *(const int *)b;
  return (x > y) - (x < y);
}

static bool is_in_pit(const struct pw_plan *plan, const struct pw_load *l, int pit)
{
  return l->zone != PW_NONE && plan->lots.zones[l->zone].pit == pit;
}

/** The rack as it lies from at_min on. */
static bool rack_fill(struct pw_sheet_pen *pen, struct pw_sheet_rack *out, int pit, int rack, int at_min)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  const struct pw_pit *p = &pen->ev->pits[pit];
  struct pw_view_map *map = &out->map;
  *map = (struct pw_view_map){pit, rack, pw_view_setting_at(pen->view, pit, at_min), at_min, at_min, NULL, 0, 0, 0};
  map->loads = pw_arena_array(pen->view->arena, (size_t)al->n_loads, sizeof *map->loads);
  if (!map->loads)
    return false;
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    if (is_in_pit(pen->plan, l, pit) && pen->plan->lots.zones[l->zone].rack == rack && pw_view_lies_from(l) <= at_min &&
        l->end_at_min > at_min) {
      map->loads[map->n_loads++] = i;
      map->to_at_min = l->end_at_min > map->to_at_min ? l->end_at_min : map->to_at_min;
    }
  }
  out->name = p->n_racks == 1 ? p->name : TEXT("%s rack", p->racks[rack].id);
  const enum pw_units units = pen->ev->units;
  double hot_c = pw_view_end_temp_c(pen->view, pit, rack, map->setting, false),
         cool_c = pw_view_end_temp_c(pen->view, pit, rack, map->setting, true);
  out->hot = isnan(hot_c) ? "" : TEXT("%s", pw_format_temp(units, hot_c).s);
  out->cool = isnan(cool_c) || p->racks[rack].n_zones == 1 ? NULL : TEXT("%s", pw_format_temp(units, cool_c).s);
  return true;
}

/** Whether load k of the pit is said in the line of load i: the same lot, stage, end, both new or both there before. */
static bool is_same_line(const struct pw_load *a, const struct pw_load *b, int at_min)
{
  return a->lot == b->lot && a->stage == b->stage && a->end_at_min == b->end_at_min &&
         (pw_view_lies_from(a) == at_min) == (pw_view_lies_from(b) == at_min);
}

/** Whether load o lies in the pit at that moment and is said in the line of load l. */
static bool is_in_line(const struct pw_sheet_pen *pen, int pit, const struct pw_load *l, const struct pw_load *o,
                       int at_min)
{
  return is_in_pit(pen->plan, o, pit) && pw_view_lies_from(o) <= at_min && o->end_at_min > at_min &&
         is_same_line(l, o, at_min);
}

/** Pieces of the line that lie across that rack `along_m` from its fire end, in one row each. */
static int pieces_across(const struct pw_sheet_pen *pen, int pit, int rack, const struct pw_load *l, int at_min,
                         double along_m)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  int n = 0;
  for (int k = 0; k < al->n_loads; k++) {
    const struct pw_load *o = &al->loads[k];
    if (!is_in_line(pen, pit, l, o, at_min) || pen->plan->lots.zones[o->zone].rack != rack)
      continue;
    for (int i = 0; i < o->pieces && o->rects; i++)
      n += o->rects[i].x_m <= along_m && along_m < o->rects[i].x_m + o->rects[i].length_m;
  }
  return n;
}

/** In how many rows the pieces of a line lie on that rack, counted where they lie closest; 0: none of them is there. */
static int rows_on_rack(const struct pw_sheet_pen *pen, int pit, int rack, const struct pw_load *l, int at_min)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  int most = 0;
  for (int k = 0; k < al->n_loads; k++) {
    const struct pw_load *o = &al->loads[k];
    if (!is_in_line(pen, pit, l, o, at_min) || pen->plan->lots.zones[o->zone].rack != rack)
      continue;
    for (int i = 0; i < o->pieces && o->rects; i++) {
      int n = pieces_across(pen, pit, rack, l, at_min, o->rects[i].x_m + o->rects[i].length_m / 2);
      most = n > most ? n : most;
    }
  }
  return most;
}

/** "in 5 rows"; of several racks "in 5 rows on each of 3 racks", "on 3 racks" where they differ. */
static const char *rows_words(struct pw_sheet_pen *pen, int pit, const struct pw_load *l, int at_min)
{
  int n_racks = 0, rows = 0;
  bool is_even = true;
  for (int r = 0; r < pen->ev->pits[pit].n_racks; r++) {
    int n = rows_on_rack(pen, pit, r, l, at_min);
    if (n == 0)
      continue;
    is_even = is_even && (n_racks == 0 || n == rows);
    rows = n;
    n_racks++;
  }
  const char *each = TEXT("in %d row%s", rows, rows == 1 ? "" : "s");
  return n_racks <= 1 ? each : is_even ? TEXT("%s on each of %d racks", each, n_racks) : TEXT("on %d racks", n_racks);
}

/** The time, its weekday only where the slip's own does not say it. */
static const char *when_on_slip(const struct pw_sheet_pen *pen, int slip_at_min, int at_min)
{
  bool is_same = pw_when_day_number(pen->ev, slip_at_min) == pw_when_day_number(pen->ev, at_min);
  return is_same ? pw_view_clock(pen->view, at_min) : pw_view_when(pen->view, at_min);
}

/** When the first of the line is laid on (is_end: comes off), to the minute of whoever does it. */
static int line_begin(const struct pw_sheet_pen *pen, int pit, const struct pw_load *l, int at_min, bool is_end)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  int first = INT_MAX;
  for (int k = 0; k < al->n_loads; k++)
    if (is_in_line(pen, pit, l, &al->loads[k], at_min)) {
      int begin = pw_begin_of_load(pen->plan, &al->loads[k], is_end);
      first = begin < first ? begin : first;
    }
  return first;
}

/** Until when the line drips on what lies below, counted from when it is laid on; INT_MIN: it does not [H2]. */
static int line_drips(const struct pw_sheet_pen *pen, int pit, const struct pw_load *l, int at_min)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  int until = INT_MIN;
  for (int k = 0; k < al->n_loads; k++) {
    const struct pw_load *o = &al->loads[k];
    if (is_in_line(pen, pit, l, o, at_min) && o->drips_min > 0 && o->start_at_min + o->drips_min > until)
      until = o->start_at_min + o->drips_min;
  }
  return until;
}

/** The least slack of the loads that share a line. */
static int line_slack(const struct pw_sheet_pen *pen, int pit, const struct pw_load *l, int at_min, bool is_end)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  int least = INT_MAX;
  for (int k = 0; k < al->n_loads; k++)
    if (is_in_line(pen, pit, l, &al->loads[k], at_min)) {
      int slack = pw_slack_of_load(pen->plan, &al->loads[k], is_end);
      least = slack < least ? slack : least;
    }
  return least == INT_MAX ? 0 : least;
}

/** "main rack, hot end: B1-B3; lower rack: 61": where the loads that share a line lie, piece by piece while they are few. */
static const char *lies_where(struct pw_sheet_pen *pen, int pit, const struct pw_load *l, int at_min)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  const char *text = "";
  for (int k = 0; k < al->n_loads; k++) {
    const struct pw_load *load = &al->loads[k];
    if (!is_in_line(pen, pit, l, load, at_min))
      continue;
    const char *pieces =
        load->pieces < PW_SHEET_MANY_PIECES ? pw_pen_pieces(pen, load->lot, load->piece_ids, load->pieces) : "";
    const char *zone = pw_view_zone(pen->view, load->zone);
    text = TEXT("%s%s%s%s%s", text, text[0] ? "; " : "", zone, zone[0] ? ": " : "",
                pieces[0] ? pieces : TEXT("%d", load->pieces));
  }
  return text;
}

/** "D3-D5, D7" of the loads that share a line while they are few, else "A x 26". */
static const char *line_pieces(struct pw_sheet_pen *pen, int pit, const struct pw_load *l, int at_min, int pieces)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  int ids[PW_SHEET_MANY_PIECES], n = 0;
  for (int k = 0; k < al->n_loads && pieces < PW_SHEET_MANY_PIECES; k++) {
    const struct pw_load *load = &al->loads[k];
    if (is_in_line(pen, pit, l, load, at_min))
      for (int i = 0; i < load->pieces && load->piece_ids; i++)
        ids[n++] = load->piece_ids[i];
  }
  return n == pieces ? pw_pen_pieces(pen, l->lot, ids, n)
                     : TEXT("%s\xC2\xA0\xC3\x97\xC2\xA0%d", pen->view->lot_mark[l->lot], pieces);
}

/** What goes on at that moment, what stays, each with its end; first what goes on. */
static void slip_lines(struct pw_sheet_pen *pen, int pit, int at_min)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  for (int is_on = 1; is_on >= 0; is_on--)
    for (int i = 0; i < al->n_loads; i++) {
      const struct pw_load *l = &al->loads[i];
      if (!is_in_pit(pen->plan, l, pit) || pw_view_lies_from(l) > at_min || l->end_at_min <= at_min ||
          (pw_view_lies_from(l) == at_min) != (is_on == 1))
        continue;
      int pieces = 0, first = -1;
      for (int k = 0; k < al->n_loads; k++)
        if (is_in_line(pen, pit, l, &al->loads[k], at_min)) {
          first = first < 0 ? k : first;
          pieces += al->loads[k].pieces;
        }
      if (first != i)
        continue;
      const char *cut = pen->ev->cuts[pen->plan->lots.lots[l->lot].cut].name;
      int on = is_on ? line_slack(pen, pit, l, at_min, false) : 0,
          begin = is_on && !l->is_carried ? line_begin(pen, pit, l, at_min, false) : at_min;
      const char *when = begin > at_min ? TEXT(", on %s", pw_view_clock(pen->view, begin)) : "";
      const char *late =
          on > 0 ? TEXT("%s latest %s", when[0] ? "," : ", on", pw_view_clock(pen->view, at_min + on)) : "";
      pw_pen_row(pen, is_on ? "on" : "stays", l->end_at_min);
      pw_pen_cell(pen, TEXT("%s %s", is_on ? "ON" : "stays", line_pieces(pen, pit, l, at_min, pieces)));
      pw_pen_cell(pen, !is_on ? cut
                       : pieces >= PW_SHEET_MANY_PIECES
                           ? TEXT("%s, %s, %s%s%s", cut, pw_view_stage_word(l->stage), rows_words(pen, pit, l, at_min),
                                  when, late)
                           : TEXT("%s, %s%s%s", cut, pw_view_stage_word(l->stage), when, late));
      int off = line_slack(pen, pit, l, at_min, true);
      pw_pen_cell(pen, TEXT("off %s%s", when_on_slip(pen, at_min, line_begin(pen, pit, l, at_min, true)),
                            off > 0 ? TEXT(", latest %s", pw_view_clock(pen->view, l->end_at_min + off)) : ""));
      pw_pen_cell(pen, lies_where(pen, pit, l, at_min));
      int dry_at_min = line_drips(pen, pit, l, at_min);
      if (dry_at_min <= at_min)
        continue;
      pw_pen_row(pen, "drips", dry_at_min); /* raw above another rack [H2] */
      pw_pen_cell(pen, "");
      pw_pen_cell(pen, TEXT("%s drips: nothing below except what is drawn", pen->view->lot_mark[l->lot]));
      pw_pen_cell(pen, TEXT("until %s", when_on_slip(pen, at_min, dry_at_min)));
    }
}

static void slip(struct pw_sheet_pen *pen, int pit, int at_min)
{
  const struct pw_pit *p = &pen->ev->pits[pit];
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_MARK, "", 13}, {PW_CELL_ACT, "What", 0}, {PW_CELL_TIME, "Until", 26}, {PW_CELL_WHERE, "Where", 40}};
  struct pw_sheet_block *block =
      pw_pen_table(pen, TEXT("%s: %s", pw_view_when(pen->view, at_min), p->name), NULL, COLUMNS(columns));
  if (!block)
    return;
  block->kind = PW_BLOCK_SLIP;
  block->from_at_min = at_min;
  block->is_kept = true;
  block->racks = pw_arena_array(pen->view->arena, (size_t)p->n_racks, sizeof *block->racks);
  if (!block->racks) {
    pen->view->failed = true;
    return;
  }
  for (int r = 0; r < p->n_racks; r++) {
    if (!rack_fill(pen, &block->racks[block->n_racks], pit, r, at_min)) {
      pen->view->failed = true;
      return;
    }
    block->n_racks += block->racks[block->n_racks].map.n_loads > 0; /* an empty rack needs no map */
  }
  slip_lines(pen, pit, at_min);
}

void pw_sheet_slips(struct pw_sheet_pen *pen)
{
  const struct pw_allocation *al = &pen->plan->allocation;
  int *starts = pw_arena_array(pen->view->arena, (size_t)al->n_loads + 1, sizeof *starts), nth = 0;
  if (!starts) {
    pen->view->failed = true;
    return;
  }
  for (int p = 0; p < pen->ev->n_pits && !pen->view->failed; p++) {
    int n = 0;
    for (int i = 0; i < al->n_loads; i++)
      if (is_in_pit(pen->plan, &al->loads[i], p))
        starts[n++] = pw_view_lies_from(&al->loads[i]);
    if (n == 0)
      continue;
    qsort(starts, (size_t)n, sizeof *starts, int_compare);
    pw_pen_sheet(pen, PW_SHEET_SLIPS, TEXT("pit-%d", ++nth), TEXT("Load slips: %s", pen->ev->pits[p].name), NULL);
    for (int i = 0; i < n; i++)
      if (i == 0 || starts[i] != starts[i - 1])
        slip(pen, p, starts[i]);
  }
}
