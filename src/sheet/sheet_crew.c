/* sheet_crew.c - everybody's tasks in one list, hour by hour: for whoever leads the crew, on a screen, to sort and to filter.
 * Feeds stand on the fires' sheets; one line for each fire and role sends somebody there. */
#include "base/when.h"
#include "plan/crew/task_kind.h"
#include "sheet/fire_lines.h"
#include "sheet/sheet_pen.h"
#include "sheet/slack_words.h"

#include <string.h>

#define TEXT(...)     pw_view_printf(pen->view, __VA_ARGS__)
#define COLUMNS(list) (list), (int)(sizeof(list) / sizeof *(list))

static const char MOVE[] = "move", ROUTINE[] = "routine";

/** Where, how far, and until when it is still in time. */
static const char *details(struct pw_sheet_pen *pen, const struct pw_task *t, const char **last)
{
  bool says_target = pw_view_says_target(t, last);
  const char *where = t->where ? t->where : "", *target = says_target && t->target ? t->target : "",
             *slack = TEXT("%s", pw_slack_words(pen->ev, t).s);
  return TEXT("%s%s%s%s%s", where, where[0] && target[0] ? ": " : "", target,
              slack[0] && (where[0] || target[0]) ? "; " : "", slack);
}

void pw_sheet_crew(struct pw_sheet_pen *pen)
{
  static const struct pw_sheet_column columns[] = {
      {PW_CELL_TICK, "", 3},      {PW_CELL_TIME, "Time", 11},
      {PW_CELL_AMOUNT, "Min", 4}, {PW_CELL_ACT, "What, where, when it is right", 0},
      {PW_CELL_WHO, "Who", 14},   {PW_CELL_NOTE, "Log", 6},
      {PW_CELL_SORT, "Kind", 9}};
  const struct pw_tasks *tasks = &pen->plan->tasks;
  const char *day = "", *last[PW_TASK__COUNT] = {0};
  struct pw_sheet *sheet = pw_pen_sheet(pen, PW_SHEET_CREW, "crew", "Everybody, hour by hour",
                                        "The moves of the whole crew. Feeding the fires is on the fire list.");
  if (sheet)
    sheet->is_list = true;
  struct pw_sheet_block *block = pw_pen_table(pen, NULL, NULL, COLUMNS(columns));
  if (block)
    block->first_shown = MOVE;
  for (int i = 0; i < tasks->n_tasks; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    if (!pw_fire_line_is(pen->plan, i))
      continue;
    const char *today = TEXT("%s", pw_when_day(pen->ev, t->at_min).s);
    if (strcmp(today, day) != 0) {
      pw_pen_band(pen, PW_ROW_BAND, today);
      day = today;
      memset(last, 0, sizeof last);
    }
    pw_pen_row(pen, TEXT("t%d", i + 1), t->at_min);
    pw_pen_open(pen);
    pw_pen_cell(pen, pw_view_when(pen->view, t->at_min));
    pw_pen_cell(pen, t->minutes > 0 ? TEXT("%d", t->minutes) : "");
    if (t->kind == PW_TASK_FEED) {
      const char *line = pw_fire_line(pen->plan, t, pen->view->arena);
      pen->view->failed |= !line;
      pw_pen_cell(pen, line);
    } else
      pw_pen_cell_more(pen, pw_view_task(pen->view, t), details(pen, t, last));
    pw_pen_cell(pen, pw_view_who(pen->view, t));
    pw_pen_cell(pen, pw_view_log_word(pen->plan, t));
    pw_pen_cell(pen, pw_view_is_routine(t) ? ROUTINE : MOVE);
  }
}
