/* xlsx_timeline.c - rack plan over time: pits, zones, ovens and boxes down, half hours across.
 * A block is as wide as a page, sixteen hours at the most, and left out when nothing happens in it; every filled cell carries the lot's mark and count, in words as
 * long as the cell allows. */
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"

#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)

enum {
  COL_NAME,
  COL_TEMP,
  COL_FIRST,
  BLOCK_MOST_MIN = 960,
  NAME_PX = 146,
  TEMP_PX = 80,
  GRID_PX = 744,
  ROW_PT = 20,
  HEADS_PT = 30
};

struct timeline {
  struct sheet s;
  int step_min, n_cols; /* minutes a column, columns of a block */
  int from_at_min;      /* of the block being written */
  int last_col;
  double page_pt;
  bool is_dry;    /* nothing is written: only high_pt is told */
  double high_pt; /* of the row, as far as it is known */
};

/** Day and hour heads of a block. */
static void block_head(struct book *b, struct timeline *t)
{
  struct sheet *s = &t->s;
  int per_hour = 60 / t->step_min;
  pw_put_merged(s, s->row, COL_NAME, s->row + 1, COL_TEMP, "Place", ST_GRID_HEAD);
  for (int c = 0; c < t->n_cols;) {
    int end = c;
    const char *day = pw_view_day(b->view, t->from_at_min + c * t->step_min);
    while (end < t->n_cols && strcmp(pw_view_day(b->view, t->from_at_min + end * t->step_min), day) == 0)
      end++;
    pw_put_merged(s, s->row, COL_FIRST + c, s->row, COL_FIRST + end - 1, day, ST_GRID_HEAD);
    c = end;
  }
  s->row++;
  for (int c = 0; c < t->n_cols; c += per_hour)
    pw_put_merged(s, s->row, COL_FIRST + c, s->row, COL_FIRST + c + per_hour - 1,
                  pw_view_clock(b->view, t->from_at_min + c * t->step_min), ST_GRID_HOUR);
  pw_sheet_row_height(s, s->row - 1, 15);
  pw_sheet_row_height(s, s->row, 15);
  s->row++;
}

/** Writes one stretch of a row if it meets the block; *used is the first free column. */
static void stretch(struct timeline *t, int *used, int from_at_min, int to_at_min, const char *const *texts, int n,
                    enum style style)
{
  int to_block = t->from_at_min + t->n_cols * t->step_min;
  int from = from_at_min > t->from_at_min ? from_at_min : t->from_at_min,
      to = to_at_min < to_block ? to_at_min : to_block;
  if (from >= to)
    return;
  int c0 = (from - t->from_at_min) / t->step_min, c1 = (to - t->from_at_min + t->step_min - 1) / t->step_min - 1;
  c0 = c0 < *used ? *used : c0;
  if (c1 < c0)
    return;
  const char *text = pw_text_fitting(&t->s, COL_FIRST + c0, COL_FIRST + c1, style == ST_SERVE ? 2 : 1, texts, n, style);
  if (t->is_dry) {
    double points = pw_lines_points(pw_text_lines(&t->s, COL_FIRST + c0, COL_FIRST + c1, text, style), style);
    t->high_pt = points > t->high_pt ? points : t->high_pt;
    *used = c1 + 1;
    return;
  }
  for (int c = *used; c < c0; c++)
    pw_put_blank(&t->s, t->s.row, COL_FIRST + c, ST_GRID_EMPTY);
  pw_put_merged(&t->s, t->s.row, COL_FIRST + c0, t->s.row, COL_FIRST + c1, text, style);
  *used = c1 + 1;
}

static void row_end(struct timeline *t, int used)
{
  for (int c = used; c < t->n_cols; c++)
    pw_put_blank(&t->s, t->s.row, COL_FIRST + c, ST_GRID_EMPTY);
  pw_sheet_row_height(&t->s, t->s.row, ROW_PT);
  t->s.row++;
}

static void food_stretch(struct book *b, struct timeline *t, int *used, const struct pw_view_bar *bar)
{
  static const enum style styles[PW_BAR__COUNT] = {ST_FIRE, ST_SMOKE, ST_FINISH, ST_REST,
                                                   ST_HOLD, ST_HOLD,  ST_REST,   ST_FINISH};
  const char *mark = bar->mark ? bar->mark : bar->what, *word = pw_view_bar_word(bar->kind);
  const char *whole = bar->mark ? TEXT("%s  %s \xC3\x97%d", mark, bar->what, bar->n)
                                : TEXT("%s, %d %s", mark, bar->n, bar->n == 1 ? "pan" : "pans");
  const char *texts[] = {TEXT("%s, %s until %s", whole, word, pw_view_when(b->view, bar->to_at_min)),
                         TEXT("%s \xC3\x97%d %s until %s", mark, bar->n, word, pw_view_clock(b->view, bar->to_at_min)),
                         TEXT("%s \xC3\x97%d %s", mark, bar->n, word), TEXT("%s\xC3\x97%d %s", mark, bar->n, word),
                         TEXT("%s\xC3\x97%d", mark, bar->n)};
  stretch(t, used, bar->from_at_min, bar->to_at_min, texts, 5, styles[bar->kind]);
}

static void fire_stretch(struct book *b, struct timeline *t, int *used, int burn)
{
  const struct pw_burn *u = &b->plan->allocation.burns[burn];
  const struct pw_setting *set = &b->ev->pits[u->pit].settings[u->setting];
  const char *up[] = {TEXT("light %s", pw_view_clock(b->view, u->lit_at_min)), "light"};
  const char *on[] = {TEXT("fire at %s, %s hot end, %s cool end, out %s", set->name,
                           pw_format_temp(b->ev->units, set->hot_c).s, pw_format_temp(b->ev->units, set->cool_c).s,
                           pw_view_when(b->view, u->out_at_min)),
                      TEXT("fire, out %s", pw_view_clock(b->view, u->out_at_min)), "fire"};
  stretch(t, used, u->lit_at_min, u->ready_at_min, up, 2, ST_FIRE_UP);
  stretch(t, used, u->ready_at_min, u->out_at_min, on, 3, ST_FIRE);
}

static bool is_lit_in_block(const struct book *b, const struct timeline *t, int pit)
{
  int to_block = t->from_at_min + t->n_cols * t->step_min;
  for (int i = 0; i < b->plan->allocation.n_burns; i++) {
    const struct pw_burn *u = &b->plan->allocation.burns[i];
    if (u->pit == pit && u->lit_at_min < to_block && u->out_at_min > t->from_at_min)
      return true;
  }
  return false;
}

/** True for lanes the block shows: what has something on it, fire and every zone of a lit pit. */
static bool lane_meets(const struct book *b, const struct timeline *t, const struct pw_view_lane *lane)
{
  int to_block = t->from_at_min + t->n_cols * t->step_min;
  if (lane->kind == PW_LANE_FIRE)
    return is_lit_in_block(b, t, lane->pit);
  for (int i = 0; i < lane->n_bars; i++)
    if (lane->bars[i].from_at_min < to_block && lane->bars[i].to_at_min > t->from_at_min)
      return true;
  return lane->kind == PW_LANE_ZONE && lane->is_first && is_lit_in_block(b, t, lane->pit);
}

static void lane_stretches(struct book *b, struct timeline *t, const struct pw_view_lane *lane, int *used)
{
  for (int i = 0; i < lane->n_bars; i++) {
    if (lane->kind == PW_LANE_FIRE)
      fire_stretch(b, t, used, lane->bars[i].index);
    else
      food_stretch(b, t, used, &lane->bars[i]);
  }
}

/** Height of the lane's row in the block; 0: it is not shown. */
static double lane_points(struct book *b, struct timeline *t, const struct pw_view_lane *lane)
{
  if (!lane_meets(b, t, lane))
    return 0;
  int used = 0, last = lane->kind == PW_LANE_FIRE ? COL_TEMP : COL_NAME;
  enum style style = lane->kind == PW_LANE_ZONE ? ST_GRID_NAME : ST_GRID_NAME_BOLD;
  double name_pt = lane->is_first
                       ? pw_lines_points(pw_text_lines(&t->s, COL_NAME, last,
                                                       lane->kind == PW_LANE_FIRE ? lane->detail : lane->name, style),
                                         style)
                       : 0;
  t->is_dry = true;
  t->high_pt = name_pt > ROW_PT ? name_pt : ROW_PT;
  lane_stretches(b, t, lane, &used);
  t->is_dry = false;
  return t->high_pt;
}

static void lane_row(struct book *b, struct timeline *t, const struct pw_view_lane *lane)
{
  int used = 0;
  if (lane->kind == PW_LANE_FIRE)
    pw_put_merged(&t->s, t->s.row, COL_NAME, t->s.row, COL_TEMP, lane->detail, ST_GRID_NAME_BOLD);
  else {
    pw_put_text(&t->s, t->s.row, COL_NAME, lane->is_first ? lane->name : "",
                lane->kind == PW_LANE_ZONE ? ST_GRID_NAME : ST_GRID_NAME_BOLD);
    pw_put_text(&t->s, t->s.row, COL_TEMP, lane->is_first ? lane->detail : "", ST_GRID_NAME);
  }
  lane_stretches(b, t, lane, &used);
  row_end(t, used);
}

/** True when the service is on in the block. */
static bool service_meets(const struct book *b, const struct timeline *t, int service)
{
  const struct pw_service *sv = &b->ev->services[service];
  return sv->at_min < t->from_at_min + t->n_cols * t->step_min && sv->at_min + sv->length_min > t->from_at_min;
}

/** Services of the block, in as many rows as overlap asks for. */
static void service_rows(struct book *b, struct timeline *t)
{
  const struct pw_event *ev = b->ev;
  bool *is_done = pw_arena_array(b->view->arena, (size_t)ev->n_services, sizeof *is_done);
  if (!is_done) {
    b->view->failed = true;
    return;
  }
  int left = 0;
  for (int i = 0; i < ev->n_services; i++) {
    is_done[i] = !service_meets(b, t, i);
    left += !is_done[i];
  }
  while (left > 0) {
    int used = 0, free_at_min = INT32_MIN;
    pw_put_merged(&t->s, t->s.row, COL_NAME, t->s.row, COL_TEMP, "Serve", ST_GRID_NAME_BOLD);
    for (;;) {
      int next = PW_NONE;
      for (int i = 0; i < ev->n_services; i++)
        if (!is_done[i] && ev->services[i].at_min >= free_at_min &&
            (next == PW_NONE || ev->services[i].at_min < ev->services[next].at_min))
          next = i;
      if (next == PW_NONE)
        break;
      const struct pw_service *sv = &ev->services[next];
      const char *texts[] = {TEXT("%s %s", pw_view_clock(b->view, sv->at_min), pw_view_service(b->view, next)),
                             pw_view_service(b->view, next), sv->id};
      stretch(t, &used, sv->at_min, sv->at_min + sv->length_min, texts, 3, ST_SERVE);
      free_at_min = sv->at_min + sv->length_min;
      is_done[next] = true;
      left--;
    }
    row_end(t, used);
  }
}

static void new_page(struct book *b, struct timeline *t)
{
  pw_sheet_break(&t->s, t->s.row);
  block_head(b, t);
}

/** Lanes from i on that belong together: a pit, or an oven or box. */
static int group_size(const struct pw_view *view, int i)
{
  int n = 1;
  while (i + n < view->n_lanes &&
         (view->lanes[i].kind == PW_LANE_FIRE ? view->lanes[i + n].pit == view->lanes[i].pit
                                              : view->lanes[i + n].finisher == view->lanes[i].finisher &&
                                                    view->lanes[i + n].kind == view->lanes[i].kind))
    n++;
  return n;
}

/** Height of a block below its heads, with one row of services; 0: nothing happens in it. */
static double block_points(struct book *b, struct timeline *t)
{
  double points = 0;
  for (int i = 0; i < b->view->n_lanes; i++)
    points += lane_points(b, t, &b->view->lanes[i]);
  for (int i = 0; i < b->ev->n_services; i++)
    if (service_meets(b, t, i))
      return points + pw_lines_points(2, ST_SERVE);
  return points;
}

static void block_write(struct book *b, struct timeline *t)
{
  const struct pw_view *view = b->view;
  service_rows(b, t);
  for (int i = 0; i < view->n_lanes;) {
    int n = group_size(view, i);
    double points = 0;
    for (int k = i; k < i + n; k++)
      points += lane_points(b, t, &view->lanes[k]);
    if (points > 0 && pw_sheet_used_points(&t->s) + points > t->page_pt)
      new_page(b, t);
    for (int k = i; k < i + n; k++)
      if ((points = lane_points(b, t, &view->lanes[k])) > 0) {
        if (pw_sheet_used_points(&t->s) + points > t->page_pt) /* more lanes than a page holds */
          new_page(b, t);
        lane_row(b, t, &view->lanes[k]);
      }
    i += n;
  }
}

static void lot_key(struct book *b, struct timeline *t)
{
  struct sheet *s = &t->s;
  const char *key = "";
  for (int i = 0; i < b->plan->lots.n_lots; i++) {
    const struct pw_lot *lot = &b->plan->lots.lots[i];
    key = TEXT("%s%s%s = %s, %d %s, %s", key, i ? ";  " : "", b->view->lot_mark[i], b->ev->cuts[lot->cut].name,
               lot->pieces, pw_view_pieces(lot->pieces), pw_view_service(b->view, lot->service));
  }
  pw_put_merged(s, s->row, 0, s->row, t->last_col, key, ST_PLAIN);
  s->row++;
  pw_put_merged(s, s->row, 0, s->row, t->last_col,
                "Thick frame, bold: smoke. Thick frame, slanted: finish, reheat. Dashed frame: rest, chill. Thin "
                "frame: hold. Dark: "
                "fire.",
                ST_NOTE);
  s->row += 2;
}

void pw_xlsx_timeline_write(struct book *b)
{
  struct timeline t = {0};
  t.step_min = b->ev->slot_min == 15 ? 15 : 30;
  /* Blocks of equal length, whole hours, none longer than a page carries. */
  int span_min = b->view->last_at_min - b->view->first_at_min,
      n_blocks = (span_min + BLOCK_MOST_MIN - 1) / BLOCK_MOST_MIN;
  int block_min = n_blocks > 0 ? (span_min / 60 + n_blocks - 1) / n_blocks * 60 : BLOCK_MOST_MIN;
  t.n_cols = block_min / t.step_min;
  t.last_col = COL_FIRST + t.n_cols - 1;
  pw_sheet_open(b, &t.s, "Rack plan", true);
  pw_sheet_columns_px(&t.s, COL_NAME, COL_NAME, NAME_PX);
  pw_sheet_columns_px(&t.s, COL_TEMP, COL_TEMP, TEMP_PX);
  pw_sheet_columns_px(&t.s, COL_FIRST, t.last_col, GRID_PX / t.n_cols);
  pw_sheet_title(&t.s, TEXT("Rack plan: %s", b->ev->name),
                 "Pits, zones, ovens and boxes down; time across. A place that is empty all the while is left out.",
                 t.last_col);
  lot_key(b, &t);
  t.page_pt = pw_page_points(b, true, NAME_PX + TEMP_PX + GRID_PX);
  bool is_first = true;
  for (int at = b->view->first_at_min; at < b->view->last_at_min; at += block_min) {
    t.from_at_min = at;
    double points = block_points(b, &t);
    if (points <= 0)
      continue;
    if (!is_first)
      t.s.row++;
    if (is_first || pw_sheet_used_points(&t.s) + HEADS_PT + points <= t.page_pt)
      block_head(b, &t);
    else
      new_page(b, &t);
    is_first = false;
    block_write(b, &t);
  }
  if (t.s.ws)
    worksheet_freeze_panes(t.s.ws, 0, COL_FIRST);
  pw_sheet_close(&t.s);
}
