/* grid_time.c - rack plan over time: pits, zones, ovens and boxes down, half hours across.
 * A block is as wide as a screen, sixteen hours at the most, and left out when nothing happens in it; every filled cell carries the lot's
 * mark and count, in words as long as the cell allows. */
#include "sheet/grid_pen.h"

#include "base/arena.h"

#include <limits.h>
#include <string.h>

enum {
  NAMES = 2, /* columns before the first half hour: place, temperature */
  BLOCK_MOST_MIN = 960,
  COLS_MAX = NAMES + BLOCK_MOST_MIN / 15,
  NAME_PX = 146,
  TEMP_PX = 80,
  GRID_PX = 744,
  ROW_PT = 20
};

/** A block of hours, and the row of it that is being filled. */
struct block {
  struct pw_grid *g;
  int step_min, n_cols; /* minutes a column, columns */
  int from_at_min, to_at_min;
  struct pw_grid_cell cells[COLS_MAX];
  int n_cells, used; /* columns that are filled */
};

static void row_start(struct block *t, struct pw_grid_cell name, struct pw_grid_cell temp)
{
  t->cells[0] = name;
  t->cells[1] = temp;
  t->n_cells = name.over > 0 ? 1 : 2;
  t->used = 0;
}

static void empty_until(struct block *t, int column)
{
  for (; t->used < column; t->used++)
    t->cells[t->n_cells++] = SAY(T_EMPTY, "");
}

static void row_end(struct block *t)
{
  empty_until(t, t->n_cols);
  pw_grid_row(t->g, t->cells, t->n_cells);
  pw_grid_high(t->g, ROW_PT);
}

/** Writes one stretch of the row if it meets the block. */
static void stretch(struct block *t, int from_at_min, int to_at_min, const char *const *texts, enum pw_grid_role role)
{
  int from = from_at_min > t->from_at_min ? from_at_min : t->from_at_min,
      to = to_at_min < t->to_at_min ? to_at_min : t->to_at_min;
  if (from >= to)
    return;
  int c0 = (from - t->from_at_min) / t->step_min, c1 = (to - t->from_at_min + t->step_min - 1) / t->step_min - 1;
  c0 = c0 < t->used ? t->used : c0;
  if (c1 < c0)
    return;
  empty_until(t, c0);
  t->cells[t->n_cells++] =
      (struct pw_grid_cell){.role = role, .over = c1 - c0, .texts = texts, .lines = role == PW_G_T_SERVE ? 2 : 1};
  t->used = c1 + 1;
}

/** Day and hour heads of a block. */
static void block_head(struct block *t)
{
  struct pw_grid *g = t->g;
  int per_hour = 60 / t->step_min;
  struct pw_grid_cell place = OVER(SAY(T_HEAD, "Place"), NAMES);
  place.down = 1;
  row_start(t, place, place);
  while (t->used < t->n_cols) {
    const char *day = pw_view_day(g->of->view, t->from_at_min + t->used * t->step_min);
    int end = t->used;
    while (end < t->n_cols && strcmp(pw_view_day(g->of->view, t->from_at_min + end * t->step_min), day) == 0)
      end++;
    t->cells[t->n_cells++] = OVER(SAY(T_HEAD, day), end - t->used);
    t->used = end;
  }
  pw_grid_row(g, t->cells, t->n_cells);
  pw_grid_high(g, 15);
  const struct pw_grid_cell name = SKIP(NAMES), detail = SKIP(1);
  row_start(t, name, detail);
  for (int c = 0; c < t->n_cols; c += per_hour)
    t->cells[t->n_cells++] = OVER(SAY(T_HOUR, pw_view_clock(g->of->view, t->from_at_min + c * t->step_min)), per_hour);
  pw_grid_row(g, t->cells, t->n_cells);
  pw_grid_high(g, 15);
}

static void food_stretch(struct block *t, const struct pw_view_bar *bar)
{
  static const enum pw_grid_role roles[PW_BAR__COUNT] = {PW_G_T_FIRE, PW_G_T_SMOKE, PW_G_T_FINISH, PW_G_T_REST,
                                                         PW_G_T_HOLD, PW_G_T_HOLD,  PW_G_T_REST,   PW_G_T_FINISH};
  struct pw_grid *g = t->g;
  const char *mark = bar->mark ? bar->mark : bar->what, *word = pw_view_bar_word(bar->kind);
  const char *whole = bar->mark ? TEXT("%s  %s \xC3\x97%d", mark, bar->what, bar->n)
                                : TEXT("%s, %d %s", mark, bar->n, bar->n == 1 ? "pan" : "pans");
  stretch(t, bar->from_at_min, bar->to_at_min,
          WORDS(TEXT("%s, %s until %s", whole, word, pw_view_when(g->of->view, bar->to_at_min)),
                TEXT("%s \xC3\x97%d %s until %s", mark, bar->n, word, pw_view_clock(g->of->view, bar->to_at_min)),
                TEXT("%s \xC3\x97%d %s", mark, bar->n, word), TEXT("%s\xC3\x97%d %s", mark, bar->n, word),
                TEXT("%s\xC3\x97%d", mark, bar->n)),
          roles[bar->kind]);
}

static void fire_stretch(struct block *t, int burn)
{
  struct pw_grid *g = t->g;
  enum pw_units units = g->of->ev->units;
  const struct pw_burn *u = &g->of->plan->allocation.burns[burn];
  const struct pw_setting *set = &g->of->ev->pits[u->pit].settings[u->setting];
  stretch(t, u->lit_at_min, u->ready_at_min,
          WORDS(TEXT("light %s", pw_view_clock(g->of->view, u->lit_at_min)), "light"), PW_G_T_FIRE_UP);
  stretch(t, u->ready_at_min, u->out_at_min,
          WORDS(TEXT("fire at %s, %s hot end, %s cool end, out %s", set->name, pw_format_temp(units, set->hot_c).s,
                     pw_format_temp(units, set->cool_c).s, pw_view_when(g->of->view, u->out_at_min)),
                TEXT("fire, out %s", pw_view_clock(g->of->view, u->out_at_min)), "fire"),
          PW_G_T_FIRE);
}

static bool is_lit_in_block(const struct block *t, int pit)
{
  const struct pw_allocation *al = &t->g->of->plan->allocation;
  for (int i = 0; i < al->n_burns; i++)
    if (al->burns[i].pit == pit && al->burns[i].lit_at_min < t->to_at_min && al->burns[i].out_at_min > t->from_at_min)
      return true;
  return false;
}

/** True for lanes the block shows: what has something on it, fire and every zone of a lit pit. */
static bool lane_meets(const struct block *t, const struct pw_view_lane *lane)
{
  if (lane->kind == PW_LANE_FIRE)
    return is_lit_in_block(t, lane->pit);
  for (int i = 0; i < lane->n_bars; i++)
    if (lane->bars[i].from_at_min < t->to_at_min && lane->bars[i].to_at_min > t->from_at_min)
      return true;
  return lane->kind == PW_LANE_ZONE && lane->is_first && is_lit_in_block(t, lane->pit);
}

static void lane_row(struct block *t, const struct pw_view_lane *lane)
{
  const char *name = lane->is_first ? lane->name : "", *detail = lane->is_first ? lane->detail : "";
  if (lane->kind == PW_LANE_FIRE)
    row_start(t, OVER(SAY(T_NAME_BOLD, lane->detail), NAMES), SKIP(1));
  else
    row_start(t, lane->kind == PW_LANE_ZONE ? SAY(T_NAME, name) : SAY(T_NAME_BOLD, name), SAY(T_NAME, detail));
  for (int i = 0; i < lane->n_bars; i++)
    if (lane->kind == PW_LANE_FIRE)
      fire_stretch(t, lane->bars[i].index);
    else
      food_stretch(t, &lane->bars[i]);
  row_end(t);
}

static bool service_meets(const struct block *t, const struct pw_service *sv)
{
  return sv->at_min < t->to_at_min && sv->at_min + sv->length_min > t->from_at_min;
}

/** Services of the block, in as many rows as overlap asks for. */
static void service_rows(struct block *t)
{
  struct pw_grid *g = t->g;
  const struct pw_event *ev = g->of->ev;
  bool *is_done = pw_arena_array(g->of->view->arena, (size_t)ev->n_services, sizeof *is_done);
  int left = 0;
  g->of->view->failed |= !is_done;
  for (int i = 0; is_done && i < ev->n_services; i++) {
    is_done[i] = !service_meets(t, &ev->services[i]);
    left += !is_done[i];
  }
  while (left > 0) {
    int free_at_min = INT_MIN;
    row_start(t, OVER(SAY(T_NAME_BOLD, "Serve"), NAMES), SKIP(1));
    for (int next = 0; next != PW_NONE;) {
      next = PW_NONE;
      for (int i = 0; i < ev->n_services; i++)
        if (!is_done[i] && ev->services[i].at_min >= free_at_min &&
            (next == PW_NONE || ev->services[i].at_min < ev->services[next].at_min))
          next = i;
      if (next == PW_NONE)
        continue;
      const struct pw_service *sv = &ev->services[next];
      const char *name = pw_view_service(g->of->view, next);
      stretch(t, sv->at_min, sv->at_min + sv->length_min,
              WORDS(TEXT("%s %s", pw_view_clock(g->of->view, sv->at_min), name), name, sv->id), PW_G_T_SERVE);
      free_at_min = sv->at_min + sv->length_min;
      is_done[next] = true;
      left--;
    }
    row_end(t);
  }
}

static void block_rows(struct block *t)
{
  const struct pw_view *view = t->g->of->view;
  block_head(t);
  service_rows(t);
  for (int i = 0; i < view->n_lanes; i++)
    if (lane_meets(t, &view->lanes[i]))
      lane_row(t, &view->lanes[i]);
}

static bool is_empty(const struct block *t)
{
  for (int i = 0; i < t->g->of->view->n_lanes; i++)
    if (lane_meets(t, &t->g->of->view->lanes[i]))
      return false;
  for (int i = 0; i < t->g->of->ev->n_services; i++)
    if (service_meets(t, &t->g->of->ev->services[i]))
      return false;
  return true;
}

static void lot_key(struct pw_grid *g)
{
  const char *key = "";
  for (int i = 0; i < g->of->plan->lots.n_lots; i++) {
    const struct pw_lot *lot = &g->of->plan->lots.lots[i];
    key = TEXT("%s%s%s = %s, %d %s, %s", key, i ? ";  " : "", g->of->view->lot_mark[i], g->of->ev->cuts[lot->cut].name,
               lot->pieces, pw_view_pieces(lot->pieces), pw_view_service(g->of->view, lot->service));
  }
  pw_grid_line(g, PW_G_PLAIN, key);
  pw_grid_line(g, PW_G_NOTE,
               "Thick frame, bold: smoke. Thick frame, italic: finish, reheat. Dashed frame: rest, chill. Thin frame: "
               "hold. Dark: fire.");
  pw_grid_gap(g);
}

void pw_grid_time(struct pw_grid *g)
{
  const struct pw_view *view = g->of->view;
  struct block t = {.g = g, .step_min = g->of->ev->slot_min == 15 ? 15 : 30};
  /* Blocks of equal length, whole hours. */
  int span_min = view->last_at_min - view->first_at_min, n = (span_min + BLOCK_MOST_MIN - 1) / BLOCK_MOST_MIN;
  int block_min = n > 0 ? (span_min / 60 + n - 1) / n * 60 : BLOCK_MOST_MIN;
  double widths[COLS_MAX] = {NAME_PX, TEMP_PX};
  bool is_first = true;
  t.n_cols = block_min / t.step_min;
  for (int c = 0; c < t.n_cols; c++)
    widths[NAMES + c] = GRID_PX / t.n_cols; /* whole pixels */
  pw_grid_open(g, "Rack plan", widths, NAMES + t.n_cols);
  g->is_landscape = g->is_px = true;
  g->stay_cols = NAMES;
  pw_grid_title(g, TEXT("Rack plan: %s", g->of->ev->name),
                "Pits, zones, ovens and boxes down; time across. Places that stay empty are left out.");
  lot_key(g);
  for (t.from_at_min = view->first_at_min; t.from_at_min < view->last_at_min; t.from_at_min += block_min) {
    t.to_at_min = t.from_at_min + block_min;
    if (is_empty(&t))
      continue;
    if (!is_first)
      pw_grid_gap(g);
    block_rows(&t);
    is_first = false;
  }
}
