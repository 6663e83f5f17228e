/* xlsx_crew.c - what the crew pins up: shift sheet, fire list, temperature log.
 * Every row has a tick box or room for a reading and initials; type is 12 pt or more. */
#include "write/xlsx_book.h"

#include "base/arena.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)
#define BOX "\xE2\x98\x90"

#define HOT_HOLD_C 57.0   /* FDA Food Code 2022 3-501.16(A)(1): hot holding at 57 C (135 F) or above */
#define COOL_FIRST_C 21.0 /* FDA Food Code 2022 3-501.14(A)(1): 57 C to 21 C within 2 hours */
#define COOL_LAST_C 5.0   /* FDA Food Code 2022 3-501.14(A)(2): to 5 C within 6 hours in all */

/* ---- shift sheet ---------------------------------------------------------------------------------- */

static const char *const task_heads[] = {"Done", "Time", "Min", "Role", "What", "Where", "Target", "Reading", "Initials"};
static const double task_widths[] = {6, 12, 5, 13, 41, 24, 20, 9, 8};
enum { TASK_COLS = 9 };

static void task_rows(struct book *b, struct sheet *s, int crew)
{
  const struct pw_tasks *tasks = &b->plan->tasks;
  const char *day = "";
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    if (crew != PW_NONE && t->crew != crew)
      continue;
    const char *today = pw_view_day(b->view, t->at_min);
    if (strcmp(today, day) != 0) {
      put_merged(s, s->row, 0, s->row, TASK_COLS - 1, today, ST_HEAD);
      sheet_keep(s, s->row);
      s->row++;
      day = today;
    }
    const char *mark = t->lot == PW_NONE ? "" : TEXT("%s: ", b->view->lot_mark[t->lot]);
    put_text(s, s->row, 0, BOX, ST_TICK);
    put_text(s, s->row, 1, pw_view_when(b->view, t->at_min), ST_BIG_BOLD);
    put_text(s, s->row, 2, t->minutes > 0 ? TEXT("%d", t->minutes) : "", ST_BIG);
    put_text(s, s->row, 3, pw_view_role(b->view, t), ST_BIG);
    put_text(s, s->row, 4, TEXT("%s%s", mark, t->what), ST_BIG_BOLD);
    put_text(s, s->row, 5, t->where, ST_BIG);
    put_text(s, s->row, 6, t->target, ST_BIG);
    put_blank(s, s->row, 7, ST_BOX);
    put_blank(s, s->row, 8, ST_BOX);
    sheet_row_height(s, s->row, 26);
    s->row++;
  }
}

void xlsx_shift_write(struct book *b)
{
  struct sheet s;
  sheet_open(b, &s, "Shift sheet", true);
  sheet_columns(&s, task_widths, TASK_COLS);
  sheet_title(&s, TEXT("Shift sheet: %s", b->ev->name), "Everybody, in order of time. Letters are the lots of the rack plan.", TASK_COLS - 1);
  sheet_head_row(&s, s.row, 0);
  put_heads(&s, s.row++, task_heads, TASK_COLS);
  task_rows(b, &s, PW_NONE);
  sheet_close(&s);
}

void xlsx_roles_write(struct book *b)
{
  struct sheet s;
  sheet_open(b, &s, "Shift by role", true);
  sheet_columns(&s, task_widths, TASK_COLS);
  sheet_title(&s, TEXT("Shift by role: %s", b->ev->name), "One part per role, each on its own page.", TASK_COLS - 1);
  sheet_head_row(&s, s.row, 0);
  put_heads(&s, s.row++, task_heads, TASK_COLS);
  int first = s.row;
  for (int c = 0; c < b->ev->n_crew; c++) {
    const struct pw_crew *crew = &b->ev->crew[c];
    if (s.row > first)
      sheet_break(&s, s.row);
    put_section(&s, 0, TASK_COLS - 1, TEXT("%s, on shift %s", crew->role, pw_view_span(b->view, crew->from_at_min, crew->to_at_min)));
    task_rows(b, &s, c);
    s.row++;
  }
  sheet_close(&s);
}

/* ---- fire list -------------------------------------------------------------------------------------- */

struct fire_row {
  int at_min, burn, feed; /* feed: index, or FIRE_LIGHT, FIRE_READY, FIRE_OUT */
};
enum { FIRE_LIGHT = -3, FIRE_READY = -2, FIRE_OUT = -1 };

static int fire_compare(const void *a, const void *b)
{
  const struct fire_row *x = a, *y = b;
  if (x->at_min != y->at_min)
    return x->at_min < y->at_min ? -1 : 1;
  if (x->burn != y->burn)
    return x->burn < y->burn ? -1 : 1;
  return (x->feed > y->feed) - (x->feed < y->feed);
}

static struct fire_row *fire_rows(struct book *b, int *n)
{
  const struct pw_allocation *al = &b->plan->allocation;
  const struct pw_fuel_plan *fuel = &b->plan->fuel;
  size_t max = (size_t)al->n_burns * 3;
  for (int i = 0; i < fuel->n_burns; i++)
    max += (size_t)fuel->burns[i].n_feeds;
  struct fire_row *rows = pw_arena_array(b->view->arena, max, sizeof *rows);
  *n = 0;
  if (!rows) {
    b->view->failed = true;
    return NULL;
  }
  for (int i = 0; i < al->n_burns; i++) {
    const struct pw_burn *u = &al->burns[i];
    rows[(*n)++] = (struct fire_row){u->lit_at_min, i, FIRE_LIGHT};
    rows[(*n)++] = (struct fire_row){u->ready_at_min, i, FIRE_READY};
    rows[(*n)++] = (struct fire_row){u->out_at_min, i, FIRE_OUT};
    for (int k = 0; i < fuel->n_burns && k < fuel->burns[i].n_feeds; k++)
      rows[(*n)++] = (struct fire_row){fuel->burns[i].feeds[k].at_min, i, k};
  }
  qsort(rows, (size_t)*n, sizeof *rows, fire_compare);
  return rows;
}

static const char *fire_words(struct book *b, const struct fire_row *r)
{
  const struct pw_burn_fuel *fuel = r->burn < b->plan->fuel.n_burns ? &b->plan->fuel.burns[r->burn] : NULL;
  if (r->feed == FIRE_LIGHT)
    return fuel ? TEXT("Light with %s charcoal", pw_format_weight(b->ev->units, fuel->charcoal_kg).s) : "Light";
  if (r->feed == FIRE_READY)
    return "Clean fire, thin blue smoke: food may go on";
  if (r->feed == FIRE_OUT)
    return "Last food is out: let it burn down, close the air; ash stays until it is cold";
  if (!fuel)
    return "";
  const struct pw_feed *f = &fuel->feeds[r->feed];
  return f->splits > 0 ? TEXT("Feed %d split%s, %s", f->splits, f->splits == 1 ? "" : "s", pw_format_weight(b->ev->units, f->wood_kg).s)
                       : TEXT("Feed %s", pw_format_weight(b->ev->units, f->wood_kg).s);
}

void xlsx_fire_write(struct book *b)
{
  struct sheet s;
  int n = 0;
  sheet_open(b, &s, "Fire list", true);
  sheet_columns(&s, (double[]){6, 12, 23, 45, 16, 12, 12, 9}, 8);
  sheet_title(&s, TEXT("Fire list: %s", b->ev->name), "Feed little and often; not in the minutes before food goes on. Write down what the gauges say.", 7);
  for (int i = 0; i < b->plan->fuel.n_lines; i++, s.row++) {
    const struct pw_fuel_line *l = &b->plan->fuel.lines[i];
    put_merged(&s, s.row, 0, s.row, 7,
               TEXT("Bring %s of %s%s, the reserve included.", pw_format_weight(b->ev->units, l->buy_kg).s, b->ev->fuels[l->fuel].name,
                    l->splits > 0 ? TEXT(" (%d splits are planned to burn)", l->splits) : ""),
               ST_BIG_BOLD);
  }
  s.row++;
  sheet_head_row(&s, s.row, 0);
  put_heads(&s, s.row++, (const char *const[]){"Done", "Time", "Pit", "What", "Aim at, hot to cool end", "Hot end reads", "Cool end reads", "Initials"}, 8);
  struct fire_row *rows = fire_rows(b, &n);
  for (int i = 0; rows && i < n; i++, s.row++) {
    const struct pw_burn *u = &b->plan->allocation.burns[rows[i].burn];
    const struct pw_pit *pit = &b->ev->pits[u->pit];
    const struct pw_setting *set = &pit->settings[u->setting];
    put_text(&s, s.row, 0, BOX, ST_TICK);
    put_text(&s, s.row, 1, pw_view_when(b->view, rows[i].at_min), ST_BIG_BOLD);
    put_text(&s, s.row, 2, pit->name, ST_BIG);
    put_text(&s, s.row, 3, fire_words(b, &rows[i]), rows[i].feed < 0 ? ST_BIG_BOLD : ST_BIG);
    put_text(&s, s.row, 4, TEXT("%s to %s", pw_format_temp(b->ev->units, set->hot_c).s, pw_format_temp(b->ev->units, set->cool_c).s), ST_BIG);
    for (int c = 5; c < 8; c++)
      put_blank(&s, s.row, c, ST_BOX);
    sheet_row_height(&s, s.row, 24);
  }
  sheet_close(&s);
}

/* ---- temperature and cooling logs ---------------------------------------------------------------------- */

enum { LOG_COLS = 8, C_LIMIT = 3, C_READ = 4 };

/** A reading under the limit in the column before is struck and framed, so that it shows without colour. */
static void warn_below(struct book *b, struct sheet *s, int r0, int r1, int col)
{
  lxw_conditional_format rule = {.type = LXW_CONDITIONAL_TYPE_FORMULA,
                                 .value_string = pw_arena_printf(b->view->arena, "=AND(ISNUMBER(%s),%s<$%s)", cell_name(b, r0, col), cell_name(b, r0, col), cell_name(b, r0, C_LIMIT))};
  lxw_format *f = b->error == LXW_NO_ERROR && r1 >= r0 && s->ws ? workbook_add_format(b->wb) : NULL;
  if (!f || !rule.value_string) {
    b->view->failed |= !rule.value_string;
    return;
  }
  format_set_bold(f);
  format_set_underline(f, LXW_UNDERLINE_SINGLE);
  format_set_border(f, LXW_BORDER_THIN);
  format_set_bg_color(f, 0xF3B9A8);
  rule.format = f;
  book_take(b, worksheet_conditional_format_range(s->ws, (lxw_row_t)r0, (lxw_col_t)col, (lxw_row_t)r1, (lxw_col_t)col, &rule));
  allow_numbers(s, r0, col, r1, col, -40, 900, false);
}

static void log_part(struct sheet *s, const char *title, const char *const *heads)
{
  put_section(s, 0, LOG_COLS - 1, title);
  put_heads(s, s->row++, heads, LOG_COLS);
}

static void log_row(struct book *b, struct sheet *s, const char *when, const char *what, const char *where, double limit_c)
{
  put_text(s, s->row, 0, when, ST_BIG_BOLD);
  put_text(s, s->row, 1, what, ST_BIG);
  put_text(s, s->row, 2, where, ST_BIG);
  put_number(s, s->row, C_LIMIT, floor(pw_in_temp(b->ev->units, limit_c) + 0.5), ST_LIMIT);
  for (int c = C_READ; c < LOG_COLS; c++)
    put_blank(s, s->row, c, ST_BOX);
  sheet_row_height(s, s->row, 26);
  s->row++;
}

/** Ends of smoke and finish, by time. */
static int core_order(struct book *b, int *order)
{
  const struct pw_allocation *al = &b->plan->allocation;
  int n = 0;
  for (int i = 0; i < al->n_loads; i++) {
    if (al->loads[i].stage > PW_LOAD_FINISH)
      continue;
    int at = n++;
    for (; at > 0 && al->loads[order[at - 1]].end_at_min > al->loads[i].end_at_min; at--)
      order[at] = order[at - 1];
    order[at] = i;
  }
  return n;
}

static void log_core(struct book *b, struct sheet *s)
{
  const struct pw_allocation *al = &b->plan->allocation;
  int *order = pw_arena_array(b->view->arena, (size_t)al->n_loads, sizeof *order);
  if (!order) {
    book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  log_part(s, "Core temperature at the end of each stage", (const char *const[]){"Time", "Lot", "Place", "Core at least", "Lowest read", "Highest read", "Time read", "Initials"});
  int first = s->row, n = core_order(b, order);
  for (int i = 0; i < n; i++) {
    const struct pw_load *l = &al->loads[order[i]];
    const struct pw_cut *cut = &b->ev->cuts[b->plan->lots.lots[l->lot].cut];
    const struct pw_stage *st = l->stage == PW_LOAD_SMOKE ? &cut->smoke : &cut->finish;
    bool is_done = l->stage == PW_LOAD_FINISH || !cut->finish.is_used;
    log_row(b, s, pw_view_when(b->view, l->end_at_min),
            TEXT("%s: %d %s, %s", b->view->lot_mark[l->lot], l->pieces, cut->name, is_done ? "done" : "end of smoke, wrap"), pw_view_place(b->view, l),
            is_done && cut->serve_core_c > st->to_c ? cut->serve_core_c : st->to_c);
  }
  warn_below(b, s, first, s->row - 1, C_READ);
}

/** Hours in which a box holds something. */
static void log_hold(struct book *b, struct sheet *s)
{
  const struct pw_allocation *al = &b->plan->allocation;
  log_part(s, "Hot holding, every hour while something is inside", (const char *const[]){"Time", "Box", "Inside", "Food at least", "Food reads", "Box reads", "Time read", "Initials"});
  int first = s->row;
  for (int f = 0; f < b->ev->n_finishers; f++) {
    if (b->ev->finishers[f].kind != PW_HOLD)
      continue;
    for (int at = b->view->first_at_min; at <= b->view->last_at_min; at += 60) {
      const char *inside = "";
      for (int i = 0; i < al->n_loads; i++)
        if (al->loads[i].zone == PW_NONE && al->loads[i].finisher == f && al->loads[i].start_at_min <= at && at < al->loads[i].end_at_min)
          inside = TEXT("%s%s%s\xC3\x97%d", inside, inside[0] ? ", " : "", b->view->lot_mark[al->loads[i].lot], al->loads[i].pieces);
      if (inside[0])
        log_row(b, s, pw_view_when(b->view, at), b->ev->finishers[f].name, inside, HOT_HOLD_C);
    }
  }
  warn_below(b, s, first, s->row - 1, C_READ);
}

void xlsx_log_write(struct book *b)
{
  struct sheet s;
  sheet_open(b, &s, "Temperature log", true);
  sheet_columns(&s, (double[]){12, 40, 37, 10, 11, 11, 9, 8}, LOG_COLS);
  sheet_title(&s, TEXT("Temperature log, %s: %s", pw_unit_temp(b->ev->units), b->ev->name), "Probe the thickest part, away from bone. Clean the probe between kinds of meat.", LOG_COLS - 1);
  log_core(b, &s);
  s.row++;
  sheet_break(&s, s.row);
  log_hold(b, &s);
  s.row++;
  put_merged(&s, s.row, 0, s.row, LOG_COLS - 1, "Limits: the cut's own target and FDA Food Code 2022, 3-401.11 and 3-501.16. Local rules come first. A reading under its limit shows bold and underlined.", ST_NOTE);
  sheet_close(&s);
}

void xlsx_cooling_write(struct book *b)
{
  struct sheet s;
  enum { ROWS = 16 };
  sheet_open(b, &s, "Cooling log", true);
  sheet_columns(&s, (double[]){14, 40, 26, 13, 13, 13, 13, 9}, LOG_COLS);
  sheet_title(&s, TEXT("Cooling log, %s: %s", pw_unit_temp(b->ev->units), b->ev->name),
              TEXT("From %s to %s within 2 hours, to %s within 6 hours in all; shallow pans, lids ajar, ice or a cold room.", pw_format_temp(b->ev->units, HOT_HOLD_C).s,
                   pw_format_temp(b->ev->units, COOL_FIRST_C).s, pw_format_temp(b->ev->units, COOL_LAST_C).s),
              LOG_COLS - 1);
  put_heads(&s, s.row++, (const char *const[]){"Started", "Food", "Where", "Start reads", "After 2 h", "After 4 h", "After 6 h", "Initials"}, LOG_COLS);
  for (int i = 0; i < ROWS; i++, s.row++) {
    for (int c = 0; c < LOG_COLS; c++)
      put_blank(&s, s.row, c, ST_BOX);
    sheet_row_height(&s, s.row, 24);
  }
  put_merged(&s, s.row, 0, s.row, LOG_COLS - 1, "Limits: FDA Food Code 2022, 3-501.14(A). What misses a limit is thrown away. Local rules come first.", ST_NOTE);
  sheet_close(&s);
}
