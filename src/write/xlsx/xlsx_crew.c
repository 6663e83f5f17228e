/* xlsx_crew.c - what the crew pins up: shift sheet, fire list, temperature log.
 * Every row has a tick box or room for a reading and initials; type is 12 pt or more. */
#include "heat/food_code.h"
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "sheet/fire_lines.h"
#include "sheet/fuel_words.h"
#include "sheet/slack_words.h"

#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)
#define BOX       "\xE2\x98\x90"

/* ---- shift sheet ---------------------------------------------------------------------------------- */

/* What paper carries comes first; what only filters and the screen need stands to the right of the printed page. */
static const char *const all_heads[] = {"Done", "Time", "Min",
                                        "Role", "What", "Reading",
                                        "Day",  "Kind", "Where and target"},
                         *const role_heads[] = {"Done", "Time", "What, where, target", "Reading", "Role", "Day"};
static const double role_widths[] = {6.5, 13.5, 63, 9.5, 18, 13};
enum { ALL_COLS = 9, ALL_PRINTED = 4, C_KIND = 7, ROLE_COLS = 6, ROLE_PRINTED = 3 };

/** Where and target as one text. */
static const char *details(struct book *b, const struct pw_task *t, const char **last)
{
  bool says_target = pw_view_says_target(t, last);
  const char *where = t->where ? t->where : "";
  const char *slack = TEXT("%s", pw_slack_words(b->ev, t).s), *target = says_target ? t->target : "";
  return TEXT("%s%s%s%s%s", where, where[0] && target[0] ? ": " : "", target,
              slack[0] ? (where[0] || target[0] ? "; " : "") : "", slack);
}

static const char MOVE[] = "move", ROUTINE[] = "routine";

/** True when the day that begins with task i brings routine only. */
static bool is_day_routine(struct book *b, int i, const char *day)
{
  const struct pw_tasks *tasks = &b->plan->tasks;
  for (; i < tasks->n_tasks && strcmp(pw_view_day(b->view, tasks->tasks[i].at_min), day) == 0; i++)
    if (!pw_view_is_routine(&tasks->tasks[i]))
      return false;
  return true;
}

/** The day in a row of its own, filtered like the tasks below it: by role, or by kind on everybody's sheet. */
static void day_row(struct sheet *s, const char *day, const char *role, const char *kind)
{
  int n_cols = role ? ROLE_COLS : ALL_COLS, c_day = role ? 5 : 6;
  for (int c = 0; c < n_cols; c++)
    pw_put_text(s, s->row, c,
                c == 1 || c == c_day   ? day
                : role && c == 4       ? role
                : !role && c == C_KIND ? kind
                                       : "",
                ST_DAY);
  if (kind == ROUTINE)
    pw_sheet_hide(s, s->row);
  pw_sheet_keep(s, s->row);
  s->row++;
}

/** Tasks of a role; of everybody, with minutes and role, when it is NULL. */
static void task_rows(struct book *b, struct sheet *s, const char *role)
{
  const struct pw_tasks *tasks = &b->plan->tasks;
  const char *day = "", *last[PW_TASK__COUNT] = {0};
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    if (!pw_fire_line_is(b->plan, i) || (role && !pw_view_is_for(b->view, t, role)))
      continue;
    const char *today = pw_view_day(b->view, t->at_min);
    if (strcmp(today, day) != 0) {
      day_row(s, today, role, !role && is_day_routine(b, i, today) ? ROUTINE : MOVE);
      day = today;
      memset(last, 0, sizeof last);
    }
    pw_put_text(s, s->row, 0, BOX, ST_TICK);
    pw_put_text(s, s->row, 1, pw_view_when(b->view, t->at_min), ST_WHEN);
    if (role) {
      pw_put_bold_and_plain(s, s->row, 2, pw_view_task(b->view, t), details(b, t, last), ST_BIG_BOLD, ST_BIG);
      pw_put_blank(s, s->row, 3, ST_BOX);
      pw_put_text(s, s->row, 4, role, ST_LONG);
      pw_put_text(s, s->row, 5, today, ST_LONG);
    } else {
      pw_put_text(s, s->row, 2, t->minutes > 0 ? TEXT("%d", t->minutes) : "", ST_BIG);
      pw_put_text(s, s->row, 3, pw_view_role(b->view, t), ST_BIG);
      pw_put_text(s, s->row, 4, pw_view_task(b->view, t), ST_BIG_BOLD);
      pw_put_blank(s, s->row, 5, ST_BOX);
      pw_put_text(s, s->row, 6, today, ST_LONG);
      pw_put_text(s, s->row, C_KIND, pw_view_is_routine(t) ? ROUTINE : MOVE, ST_LONG);
      pw_put_text(s, s->row, 8, details(b, t, last), ST_LONG);
      if (pw_view_is_routine(t))
        pw_sheet_hide(s, s->row);
    }
    s->row++;
  }
}

/** Width in which every role stands on one line, within reason. */
static double role_chars(const struct book *b)
{
  enum { LEAST = 10, MOST = 22 };
  double width = LEAST;
  for (int r = 0; r < b->view->n_roles; r++)
    while (width < MOST && pw_lines_needed(b->view->roles[r].role, width, ST_BIG) > 1)
      width += 1;
  return width;
}

void pw_xlsx_shift_write(struct book *b)
{
  struct sheet s;
  double role_width = role_chars(b);
  pw_sheet_open(b, &s, "Shift sheet", false);
  pw_sheet_columns(&s, (double[]){6.5, 13.5, 6, role_width, 68 - role_width, 9.5, 13, 10, 110}, ALL_COLS);
  pw_sheet_title(&s, TEXT("Shift sheet: %s", b->ev->name),
                 "The moves of the whole crew. Buying, prep, feeds, mops, readings: by role, or here under Kind.",
                 ALL_PRINTED);
  s.print_col = ALL_PRINTED;
  pw_sheet_head_row(&s, s.row, 0);
  pw_put_heads(&s, s.row++, all_heads, ALL_COLS);
  int head = s.row - 1;
  task_rows(b, &s, NULL);
  pw_sheet_filter(&s, head, 0, s.row - 1, ALL_COLS - 1);
  if (s.row - 1 > head)
    pw_sheet_filter_word(&s, C_KIND, MOVE);
  pw_sheet_close(&s);
}

/** Too long a shift or day, awake at the wheel, alone by night: over the tasks of whom it is about [H3]. */
static void cautions(struct book *b, struct sheet *s, const char *role)
{
  const struct pw_tasks *tasks = &b->plan->tasks;
  for (int p = 0; p < tasks->n_people; p++) {
    const struct pw_person *person = &tasks->people[p];
    if (!person->caution || person->crew == PW_NONE || strcmp(b->ev->crew[person->crew].role, role) != 0)
      continue;
    for (int c = 0; c < ROLE_COLS; c++)
      pw_put_text(s, s->row, c, c == 2 ? TEXT("Take care: %s", person->caution) : c == 4 ? role : "", ST_LONG);
    pw_sheet_keep(s, s->row++);
  }
}

void pw_xlsx_roles_write(struct book *b)
{
  struct sheet s;
  pw_sheet_open(b, &s, "Shift by role", false);
  pw_sheet_columns(&s, role_widths, ROLE_COLS);
  pw_sheet_title(&s, TEXT("Shift by role: %s", b->ev->name),
                 "One part per role, each on its own page. Filter by role to see one alone.", ROLE_PRINTED);
  s.print_col = ROLE_PRINTED;
  pw_sheet_head_row(&s, s.row, 0);
  pw_put_heads(&s, s.row++, role_heads, ROLE_COLS);
  int first = s.row;
  for (int r = 0; r < b->view->n_roles; r++) {
    const struct pw_view_role *role = &b->view->roles[r];
    if (s.row > first)
      pw_sheet_break(&s, s.row);
    for (int c = 0; c < ROLE_COLS; c++)
      pw_put_text(&s, s.row, c,
                  c == 2   ? TEXT("%s, on shift %s", role->role, role->shifts)
                  : c == 4 ? role->role
                           : "",
                  ST_BIG_BOLD);
    pw_sheet_row_height(&s, s.row, 26);
    pw_sheet_keep(&s, s.row++);
    cautions(b, &s, role->role);
    task_rows(b, &s, role->role);
  }
  pw_sheet_filter(&s, first - 1, 0, s.row - 1, ROLE_COLS - 1);
  pw_sheet_close(&s);
}

/* ---- fire list -------------------------------------------------------------------------------------- */

static bool has_fire_work(const struct pw_plan *plan, int person)
{
  for (int i = 0; i < plan->tasks.n_tasks; i++)
    if (plan->tasks.tasks[i].person == person && plan->tasks.tasks[i].duty == PW_DUTY_FIRE)
      return true;
  return false;
}

/** Too long a shift or day, alone by night: said where whoever feeds looks [H3]. */
static void fire_cautions(struct book *b, struct sheet *s)
{
  const struct pw_tasks *tasks = &b->plan->tasks;
  for (int p = 0; p < tasks->n_people; p++)
    if (tasks->people[p].caution && has_fire_work(b->plan, p)) {
      pw_put_merged(s, s->row, 0, s->row, 7, TEXT("Take care: %s", tasks->people[p].caution), ST_NOTE);
      s->row++;
    }
}

void pw_xlsx_fire_write(struct book *b)
{
  struct sheet s;
  pw_sheet_open(b, &s, "Fire list", true);
  pw_sheet_columns(&s, (double[]){6.5, 13.5, 20, 43, 18, 11, 11, 9}, 8);
  pw_sheet_title(&s, TEXT("Fire list: %s", b->ev->name),
                 "Feed little and often; not in the minutes before food goes on. Write down what the gauges say.", 7);
  for (int i = 0; i < b->plan->fuel.n_lines; i++, s.row++) {
    const struct pw_fuel_line *l = &b->plan->fuel.lines[i];
    pw_put_merged(&s, s.row, 0, s.row, 7,
                  TEXT("Bring %s: %s, the reserve included.", b->ev->fuels[l->fuel].name, pw_fuel_amount(b->ev, l).s),
                  ST_BIG_BOLD);
  }
  fire_cautions(b, &s);
  s.row++;
  pw_sheet_head_row(&s, s.row, 0);
  pw_put_heads(&s, s.row++,
               (const char *const[]){"Done", "Time", "Pit", "What", "Aim at, hot to cool end", "Hot end reads",
                                     "Cool end reads", "Initials"},
               8);
  for (int i = 0; i < b->view->n_fires; i++, s.row++) {
    const struct pw_view_fire *fire = &b->view->fires[i];
    const struct pw_burn *u = &b->plan->allocation.burns[fire->burn];
    const struct pw_pit *pit = &b->ev->pits[u->pit];
    const struct pw_setting *set = &pit->settings[u->setting];
    pw_put_text(&s, s.row, 0, BOX, ST_TICK);
    pw_put_text(&s, s.row, 1, pw_view_when(b->view, fire->at_min), ST_WHEN);
    pw_put_text(&s, s.row, 2, pit->name, ST_BIG);
    pw_put_text(&s, s.row, 3, fire->what, fire->is_turn ? ST_BIG_BOLD : ST_BIG);
    const char *cool = TEXT("%s", pw_format_temp(b->ev->units, set->cool_c).s),
               *hot = TEXT("%s", pw_format_temp(b->ev->units, set->hot_c).s);
    pw_put_text(&s, s.row, 4,
                strcmp(hot, cool) == 0 ? hot : TEXT("%.0f to %s", pw_in_temp(b->ev->units, set->hot_c), cool), ST_BIG);
    for (int c = 5; c < 8; c++)
      pw_put_blank(&s, s.row, c, ST_BOX);
    pw_sheet_row_height(&s, s.row, 20.5);
  }
  pw_sheet_filter(&s, s.head_row, 0, s.row - 1, 7);
  pw_sheet_close(&s);
}

/* ---- temperature and cooling logs ---------------------------------------------------------------------- */

enum { LOG_COLS = 8, C_LIMIT = 3, C_READ = 4 };

/** A reading under the limit in the column before is struck and framed, so that it shows without colour. */
static void warn_below(struct book *b, struct sheet *s, int r0, int r1, int col)
{
  lxw_conditional_format rule = {.type = LXW_CONDITIONAL_TYPE_FORMULA,
                                 .value_string = pw_arena_printf(b->view->arena, "=AND(ISNUMBER(%s),%s<$%s)",
                                                                 pw_cell_name(b, r0, col), pw_cell_name(b, r0, col),
                                                                 pw_cell_name(b, r0, C_LIMIT))};
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
  pw_book_take(b, worksheet_conditional_format_range(s->ws, (lxw_row_t)r0, (lxw_col_t)col, (lxw_row_t)r1,
                                                     (lxw_col_t)col, &rule));
  pw_allow_numbers(s, r0, col, r1, col, -40, 900, false);
}

static void log_row(struct book *b, struct sheet *s, const char *when, const char *what, const char *where,
                    double limit_c)
{
  pw_put_text(s, s->row, 0, when, ST_WHEN);
  pw_put_text(s, s->row, 1, what, ST_BIG);
  pw_put_text(s, s->row, 2, where, ST_BIG);
  pw_put_number(s, s->row, C_LIMIT, floor(pw_in_temp(b->ev->units, limit_c) + 0.5), ST_LIMIT);
  for (int c = C_READ; c < LOG_COLS; c++)
    pw_put_blank(s, s->row, c, ST_BOX);
  pw_sheet_row_height(s, s->row, 21.5);
  s->row++;
}

/** The log's one table, with filters. */
static void log_part(struct book *b, struct sheet *s, const char *const *heads, const struct pw_view_check *checks,
                     int n)
{
  s->row++;
  pw_sheet_head_row(s, s->row, 0);
  int first = ++s->row;
  for (int i = 0; i < n; i++)
    log_row(b, s, pw_view_when(b->view, checks[i].at_min), checks[i].what, checks[i].where, checks[i].least_c);
  pw_sheet_table(s, first - 1, 0, s->row - 1, heads, LOG_COLS);
  warn_below(b, s, first, s->row - 1, C_READ);
}

/** Cores at the end of each stage, and what is warmed again [C1], in order of time. */
static struct pw_view_check *log_checks(struct book *b, int *n)
{
  const struct pw_lots *lots = &b->plan->lots;
  struct pw_view_check *all =
      pw_arena_array(b->view->arena, (size_t)(b->view->n_cores + lots->n_reheats) + 1, sizeof *all);
  *n = 0;
  if (!all) {
    b->view->failed = true;
    return NULL;
  }
  for (int i = 0; i < b->view->n_cores; i++)
    all[(*n)++] = b->view->cores[i];
  for (int i = 0; i < lots->n_reheats; i++) {
    const struct pw_reheat *r = &lots->reheats[i];
    int at = (*n)++;
    for (; at > 0 && all[at - 1].at_min > r->ready_at_min; at--)
      all[at] = all[at - 1];
    all[at] = (struct pw_view_check){
        r->ready_at_min,
        TEXT("%s: %d %s, reheated, in at %s, middle of every pan", b->view->lot_mark[r->lot], r->pieces,
             b->ev->cuts[lots->lots[r->lot].cut].name, pw_view_when(b->view, r->from_at_min)),
        b->ev->finishers[r->finisher].name, r->core_c};
  }
  return all;
}

void pw_xlsx_log_write(struct book *b)
{
  int n = 0;
  const struct pw_view_check *checks = log_checks(b, &n);
  struct sheet s;
  pw_sheet_open(b, &s, "Temperature log", true);
  pw_sheet_columns(&s, (double[]){13.5, 39, 35, 9.5, 10, 10, 9, 8.5}, LOG_COLS);
  pw_sheet_title(&s, TEXT("Temperature log, %s: %s", pw_unit_temp(b->ev->units), b->ev->name),
                 "Probe the thickest part, away from bone. Clean the probe between kinds of meat.", LOG_COLS - 1);
  pw_put_merged(
      &s, 2, 0, 2, LOG_COLS - 1,
      "Core at the end of each stage, and what is warmed again. Limits: the cut's own target and FDA Food Code "
      "2022, 3-401.11, 3-403.11. Local rules come first. A reading under its limit shows bold and underlined.",
      ST_NOTE);
  log_part(b, &s,
           (const char *const[]){"Time", "Lot", "Place", "Core at least", "Lowest read", "Highest read", "Time read",
                                 "Initials"},
           checks, n);
  pw_sheet_close(&s);
}

void pw_xlsx_holding_write(struct book *b)
{
  struct sheet s;
  pw_sheet_open(b, &s, "Holding log", true);
  pw_sheet_columns(&s, (double[]){13.5, 39, 35, 9.5, 10, 10, 9, 8.5}, LOG_COLS);
  pw_sheet_title(&s, TEXT("Holding log, %s: %s", pw_unit_temp(b->ev->units), b->ev->name),
                 "Every hour while something is inside: the coolest food in the box, and the box.", LOG_COLS - 1);
  pw_put_merged(&s, 2, 0, 2, LOG_COLS - 1,
                "Limit: FDA Food Code 2022, 3-501.16. Local rules come first. A reading under its limit shows bold and "
                "underlined.",
                ST_NOTE);
  log_part(b, &s,
           (const char *const[]){"Time", "Inside", "Box", "Food at least", "Food reads", "Box reads", "Time read",
                                 "Initials"},
           b->view->holds, b->view->n_holds);
  pw_sheet_close(&s);
}

void pw_xlsx_cooling_write(struct book *b)
{
  struct sheet s;
  enum { ROWS = 16 };
  pw_sheet_open(b, &s, "Cooling log", true);
  pw_sheet_columns(&s, (double[]){14, 35, 24, 12.5, 12.5, 12.5, 12.5, 10}, LOG_COLS);
  pw_sheet_title(
      &s, TEXT("Cooling log, %s: %s", pw_unit_temp(b->ev->units), b->ev->name),
      TEXT("From %s to %s within 2 hours, to %s within 6 hours in all; shallow pans, lids ajar, ice or a cold room.",
           pw_format_temp(b->ev->units, PW_HOT_HOLD_C).s, pw_format_temp(b->ev->units, PW_FOOD_CODE_COOL_C).s,
           pw_format_temp(b->ev->units, PW_FOOD_CODE_COLD_C).s),
      LOG_COLS - 1);
  pw_put_heads(&s, s.row++,
               (const char *const[]){"Started", "Food", "Where", "Start reads", "After 2 h", "After 4 h", "After 6 h",
                                     "Initials"},
               LOG_COLS);
  for (int i = 0; i < ROWS; i++, s.row++) {
    const struct pw_day_before *d = &b->plan->day_before;
    bool is_planned = i < d->n_chills; /* what is chilled by the plan comes first */
    if (is_planned) {
      pw_put_text(&s, s.row, 0, pw_view_when(b->view, d->chills[i].from_at_min), ST_WHEN);
      pw_put_text(&s, s.row, 1,
                  TEXT("%d × %s", d->chills[i].pieces, b->ev->cuts[b->plan->lots.lots[d->chills[i].lot].cut].name),
                  ST_BIG);
      pw_put_text(&s, s.row, 2, "Ice water", ST_BIG);
    }
    for (int c = is_planned ? 3 : 0; c < LOG_COLS; c++)
      pw_put_blank(&s, s.row, c, ST_BOX);
    pw_sheet_row_height(&s, s.row, 24);
  }
  pw_put_merged(&s, s.row, 0, s.row, LOG_COLS - 1,
                "Limits: FDA Food Code 2022, 3-501.14(A). What misses a limit is thrown away. Local rules come first.",
                ST_NOTE);
  pw_sheet_close(&s);
}
