/* xlsx_crew.c - what the crew pins up: shift sheet, fire list, temperature log.
 * Every row has a tick box or room for a reading and initials; type is 12 pt or more. */
#include "write/xlsx_book.h"

#include "base/arena.h"

#include <stdlib.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)
#define BOX "\xE2\x98\x90"

#define HOT_HOLD_C 57.0   /* FDA Food Code 2022 3-501.16(A)(1): hot holding at 57 C (135 F) or above */
#define COOL_FIRST_C 21.0 /* FDA Food Code 2022 3-501.14(A)(1): 57 C to 21 C within 2 hours */
#define COOL_LAST_C 5.0   /* FDA Food Code 2022 3-501.14(A)(2): to 5 C within 6 hours in all */

/* ---- shift sheet ---------------------------------------------------------------------------------- */

static const char *const task_heads[] = {"Done", "Time", "Min", "Role", "What", "Where", "Target", "Reading", "Initials"};
static const double task_widths[] = {7, 12, 6, 15, 46, 26, 25, 11, 10};
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

static void heads_repeat(struct book *b, struct sheet *s, int row)
{
  if (!s->ws)
    return;
  worksheet_freeze_panes(s->ws, (lxw_row_t)row + 1, 0);
  book_take(b, worksheet_repeat_rows(s->ws, (lxw_row_t)row, (lxw_row_t)row));
}

void xlsx_shift_write(struct book *b)
{
  struct sheet s;
  sheet_open(b, &s, "Shift sheet", true);
  sheet_columns(&s, task_widths, TASK_COLS);
  sheet_title(&s, TEXT("Shift sheet: %s", b->ev->name), "Everybody, in order of time. Letters are the lots of the rack plan.", TASK_COLS - 1);
  heads_repeat(b, &s, s.row);
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
  heads_repeat(b, &s, s.row);
  put_heads(&s, s.row++, task_heads, TASK_COLS);
  int first = s.row;
  for (int c = 0; c < b->ev->n_crew; c++) {
    const struct pw_crew *crew = &b->ev->crew[c];
    if (s.row > first)
      sheet_break(&s, s.row);
    put_merged(&s, s.row, 0, s.row, TASK_COLS - 1,
               TEXT("%s, on shift %s", crew->role, pw_view_span(b->view, crew->from_at_min, crew->to_at_min)), ST_SECTION);
    sheet_row_height(&s, s.row, 24);
    s.row++;
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
  sheet_columns(&s, (double[]){7, 13, 28, 52, 17, 15, 15, 11}, 8);
  sheet_title(&s, TEXT("Fire list: %s", b->ev->name), "Feed little and often; not in the minutes before food goes on. Write down what the gauges say.", 7);
  heads_repeat(b, &s, s.row);
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
  s.row++;
  put_text(&s, s.row, 3, "Fuel to bring, with the reserve", ST_SECTION);
  s.row++;
  for (int i = 0; i < b->plan->fuel.n_lines; i++, s.row++) {
    const struct pw_fuel_line *l = &b->plan->fuel.lines[i];
    put_text(&s, s.row, 3, TEXT("%s: %s%s", b->ev->fuels[l->fuel].name, pw_format_weight(b->ev->units, l->buy_kg).s, l->splits > 0 ? TEXT(", about %d splits to burn", l->splits) : ""), ST_BIG);
  }
  sheet_close(&s);
}

/* ---- temperature log ---------------------------------------------------------------------------------- */

enum { LOG_COLS = 8 };

static void log_part(struct sheet *s, const char *title, const char *const *heads)
{
  put_merged(s, s->row, 0, s->row, LOG_COLS - 1, title, ST_SECTION);
  sheet_row_height(s, s->row, 24);
  s->row++;
  put_heads(s, s->row++, heads, LOG_COLS);
}

static void log_row(struct sheet *s, const char *when, const char *what, const char *where, const char *limit)
{
  put_text(s, s->row, 0, when, ST_BIG_BOLD);
  put_text(s, s->row, 1, what, ST_BIG);
  put_text(s, s->row, 2, where, ST_BIG);
  put_text(s, s->row, 3, limit, ST_BIG_BOLD);
  for (int c = 4; c < LOG_COLS; c++)
    put_blank(s, s->row, c, ST_BOX);
  sheet_row_height(s, s->row, 24);
  s->row++;
}

static void log_core(struct book *b, struct sheet *s)
{
  const struct pw_allocation *al = &b->plan->allocation;
  log_part(s, "Core temperature at the end of each stage", (const char *const[]){"Time", "Lot", "Place", "Core should be", "Lowest read", "Highest read", "Time read", "Initials"});
  for (int i = 0; i < al->n_loads; i++) {
    const struct pw_load *l = &al->loads[i];
    const struct pw_cut *cut = &b->ev->cuts[b->plan->lots.lots[l->lot].cut];
    if (l->stage > PW_LOAD_FINISH)
      continue;
    const struct pw_stage *st = l->stage == PW_LOAD_SMOKE ? &cut->smoke : &cut->finish;
    bool is_done = l->stage == PW_LOAD_FINISH || !cut->finish.is_used;
    double least_c = is_done && cut->serve_core_c > st->to_c ? cut->serve_core_c : st->to_c;
    log_row(s, pw_view_when(b->view, l->end_at_min), TEXT("%s: %d %s, end of %s", b->view->lot_mark[l->lot], l->pieces, cut->name, pw_view_stage_word(l->stage)),
            pw_view_place(b->view, l), TEXT("%s or above%s", pw_format_temp(b->ev->units, least_c).s, is_done ? "" : ", then wrap"));
  }
}

/** Hours in which a box holds something. */
static void log_hold(struct book *b, struct sheet *s)
{
  const struct pw_allocation *al = &b->plan->allocation;
  const char *limit = TEXT("%s or above", pw_format_temp(b->ev->units, HOT_HOLD_C).s);
  log_part(s, "Hot holding, every hour while something is inside", (const char *const[]){"Time", "Box", "Inside", "Food should be", "Food reads", "Box reads", "Time read", "Initials"});
  for (int f = 0; f < b->ev->n_finishers; f++) {
    if (b->ev->finishers[f].kind != PW_HOLD)
      continue;
    for (int at = b->view->first_at_min; at <= b->view->last_at_min; at += 60) {
      const char *inside = "";
      for (int i = 0; i < al->n_loads; i++)
        if (al->loads[i].zone == PW_NONE && al->loads[i].finisher == f && al->loads[i].start_at_min <= at && at < al->loads[i].end_at_min)
          inside = TEXT("%s%s%s\xC3\x97%d", inside, inside[0] ? ", " : "", b->view->lot_mark[al->loads[i].lot], al->loads[i].pieces);
      if (inside[0])
        log_row(s, pw_view_when(b->view, at), b->ev->finishers[f].name, inside, limit);
    }
  }
}

static void log_cooling(struct book *b, struct sheet *s)
{
  log_part(s, TEXT("Cooling leftovers: to %s within 2 h, to %s within 6 h in all", pw_format_temp(b->ev->units, COOL_FIRST_C).s, pw_format_temp(b->ev->units, COOL_LAST_C).s),
           (const char *const[]){"Started", "Food", "Where", "Started at", "After 2 h", "After 4 h", "After 6 h", "Initials"});
  for (int i = 0; i < 8; i++, s->row++) {
    for (int c = 0; c < LOG_COLS; c++)
      put_blank(s, s->row, c, ST_BOX);
    sheet_row_height(s, s->row, 26);
  }
}

void xlsx_log_write(struct book *b)
{
  struct sheet s;
  sheet_open(b, &s, "Temperature log", true);
  sheet_columns(&s, (double[]){13, 44, 40, 24, 14, 14, 12, 11}, LOG_COLS);
  sheet_title(&s, TEXT("Temperature log: %s", b->ev->name), "Probe the thickest part, away from bone. Clean the probe between kinds of meat.", LOG_COLS - 1);
  log_core(b, &s);
  s.row++;
  sheet_break(&s, s.row);
  log_hold(b, &s);
  s.row++;
  sheet_break(&s, s.row);
  log_cooling(b, &s);
  s.row++;
  put_merged(&s, s.row, 0, s.row, LOG_COLS - 1, "Limits: FDA Food Code 2022, 3-401.11, 3-501.14 and 3-501.16. Local rules come first.", ST_NOTE);
  sheet_close(&s);
}
