/* text_shift.c - the shift sheet [S1] as text: cautions, everybody hour by hour, the fire list, one list per role.
 * Boxes to tick, blanks for a reading and initials: it is written on at night, with gloves. */
#include "base/arena.h"
#include "base/when.h"
#include "plan/crew/task_kind.h"
#include "plan/safety/cautions.h"
#include "sheet/fire_lines.h"
#include "sheet/slack_words.h"
#include "sheet/words.h"
#include "write/text/text_page.h"
#include "write/text/text_sheets.h"

#include <string.h>

enum { TIME_COLUMN = 0, BOX_COLUMN = 6, TEXT_COLUMN = 10 };

static const char *role_of(const struct pw_page *s, const struct pw_task *task)
{
  return task->crew == PW_NONE ? "nobody on shift" : s->ev->crew[task->crew].role;
}

/* A date heading whenever the local day changes; *day is the day of the line before. */
static void day_heading(struct pw_page *s, int at_min, int *day)
{
  int now = pw_when_day_number(s->ev, at_min);
  if (now == *day)
    return;
  *day = now;
  pw_page_blank(s);
  pw_page_para(s, 0, 0, pw_when_day(s->ev, at_min).s);
}

static bool wants_reading(const struct pw_task *task) { return pw_task_kind_row(task->kind)->is_reading; }

static void task_in_full(struct pw_page *s, const struct pw_task *task)
{
  const char *role = role_of(s, task);
  int role_width = pw_text_width(role);
  role_width = role_width > 24 ? 24 : role_width;
  const struct pw_cell row[] = {{TIME_COLUMN, 5, PW_LEFT, pw_words(s, "%s", pw_when_clock(s->ev, task->at_min).s)},
                                {BOX_COLUMN, 3, PW_LEFT, "[ ]"},
                                {TEXT_COLUMN, PW_PAGE_COLUMNS - TEXT_COLUMN - role_width - 2, PW_LEFT, task->what},
                                {PW_PAGE_COLUMNS - role_width, role_width, PW_RIGHT, role}};
  pw_page_row(s, row, 4);
  const char *where = task->where && *task->where ? task->where : "";
  struct pw_short slack = pw_slack_words(s->ev, task);
  if (*where || task->minutes >= 15 || *slack.s)
    pw_page_para(s, TEXT_COLUMN, TEXT_COLUMN,
                 pw_words(s, "%s%s%s%s%s", where, *where ? ", " : "", pw_format_minutes(task->minutes).s,
                          *slack.s ? ", " : "", slack.s));
  if (task->target && *task->target)
    pw_page_para(s, TEXT_COLUMN, TEXT_COLUMN + 2, pw_words(s, "> %s", task->target));
  if (wants_reading(task))
    pw_page_pair(s, TEXT_COLUMN, "", "reading ________  initials ____");
}

static const char *fire_line(struct pw_page *s, const struct pw_task *task)
{
  const char *line = pw_fire_line(s->plan, task, s->arena);
  s->buf->failed = s->buf->failed || !line;
  return line ? line : "";
}

/* "Load 3 × Brisket (Trailer pit, hot end; still in time until 06:40)" */
static const char *in_brackets(struct pw_page *s, const struct pw_task *task)
{
  const char *where = task->where ? task->where : "";
  struct pw_short slack = pw_slack_words(s->ev, task);
  return *where || *slack.s ? pw_words(s, "%s (%s%s%s)", task->what, where, *where && *slack.s ? "; " : "", slack.s)
                            : task->what;
}

static void task_in_short(struct pw_page *s, const struct pw_task *task)
{
  const struct pw_cell row[] = {{TIME_COLUMN, 5, PW_LEFT, pw_words(s, "%s", pw_when_clock(s->ev, task->at_min).s)},
                                {BOX_COLUMN, 3, PW_LEFT, "[ ]"},
                                {TEXT_COLUMN, PW_PAGE_COLUMNS - TEXT_COLUMN, PW_LEFT,
                                 task->kind == PW_TASK_FEED ? fire_line(s, task) : in_brackets(s, task)}};
  pw_page_row(s, row, 3);
}

static void everybody(struct pw_page *s)
{
  const struct pw_tasks *t = &s->plan->tasks;
  int day = INT16_MIN;
  pw_page_head(s, "Everybody, hour by hour");
  pw_page_para(s, 0, 0, "Feeding the fires is on the fire list below.");
  for (int i = 0; i < t->n_tasks; i++) {
    if (t->tasks[i].kind == PW_TASK_FEED)
      continue;
    day_heading(s, t->tasks[i].at_min, &day);
    task_in_full(s, &t->tasks[i]);
  }
}

static bool is_fire(const struct pw_task *task, int pit) { return task->pit == pit && task->duty == PW_DUTY_FIRE; }

static void fire_list(struct pw_page *s)
{
  const struct pw_tasks *t = &s->plan->tasks;
  for (int p = 0; p < s->ev->n_pits; p++) {
    int day = INT16_MIN;
    bool is_headed = false;
    for (int i = 0; i < t->n_tasks; i++) {
      const struct pw_task *task = &t->tasks[i];
      if (!is_fire(task, p))
        continue;
      if (!is_headed) {
        pw_page_head(s, pw_words(s, "Fire list: %s", s->ev->pits[p].name));
        pw_page_para(s, 0, 0, "Small, dry, on live coals; wait for clean smoke. Read both ends each time.");
        const struct pw_cell names[] = {
            {58, 4, PW_LEFT, "hot"}, {63, 5, PW_LEFT, "cool"}, {69, 8, PW_LEFT, "initials"}};
        pw_page_row(s, names, 3);
        is_headed = true;
      }
      day_heading(s, task->at_min, &day);
      const struct pw_cell row[] = {{TIME_COLUMN, 5, PW_LEFT, pw_words(s, "%s", pw_when_clock(s->ev, task->at_min).s)},
                                    {BOX_COLUMN, 3, PW_LEFT, "[ ]"},
                                    {TEXT_COLUMN, 46, PW_LEFT, task->what},
                                    {58, 19, PW_LEFT, "____ ____  ________"}};
      pw_page_row(s, row, 4);
    }
  }
}

/* Crew lines of one role; PW_NONE is a role of its own. */
static bool is_same_role(const struct pw_event *ev, int a, int b)
{
  return a == PW_NONE || b == PW_NONE ? a == b : strcmp(ev->crew[a].role, ev->crew[b].role) == 0;
}

/* One list per role word; lines with the same role (two shifts of it) share a list. */
static void by_role(struct pw_page *s)
{
  const struct pw_tasks *t = &s->plan->tasks;
  for (int c = PW_NONE; c < s->ev->n_crew; c++) { /* PW_NONE first: what nobody has taken */
    const char *role = c == PW_NONE ? NULL : s->ev->crew[c].role;
    bool is_again = false, is_headed = false;
    for (int k = 0; k < c && !is_again; k++)
      is_again = is_same_role(s->ev, k, c);
    int day = INT16_MIN;
    for (int i = 0; i < t->n_tasks && !is_again; i++) {
      const struct pw_task *task = &t->tasks[i];
      if (!is_same_role(s->ev, task->crew, c))
        continue;
      if (!pw_fire_line_is(s->plan, i))
        continue;
      if (!is_headed)
        pw_page_head(s, role ? pw_words(s, "For the %s", role) : "Nobody on shift: find somebody");
      for (int p = 0; p < t->n_people && !is_headed; p++) /* [H3] */
        if (c != PW_NONE && t->people[p].caution && is_same_role(s->ev, t->people[p].crew, c))
          pw_page_para(s, 0, 2, t->people[p].caution);
      is_headed = true;
      day_heading(s, task->at_min, &day);
      task_in_short(s, task);
    }
  }
}

pw_status pw_text_shift(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_page page = pw_page_open(out, plan, ctx), *s = &page;
  struct pw_caution *cautions = NULL;
  int n_cautions = 0;
  pw_status st = pw_cautions_make(&cautions, &n_cautions, plan, ctx);
  if (st != PW_OK)
    return st;
  pw_page_title(s, s->ev->name, "Shift sheet");
  pw_page_para(s, 0, 0,
               pw_words(s, "%s, %s, times of %s", pw_when_date(s->ev->date).s,
                        pw_words_guests(plan->demand.head_count).s, s->ev->zone));
  for (int i = 0; i < s->ev->n_services; i++) {
    const struct pw_service *service = &s->ev->services[i];
    pw_page_para(s, 0, 0,
                 pw_words(s, "%s: %s, food at %s", service->name, pw_when_day(s->ev, service->at_min).s,
                          pw_when_clock(s->ev, service->at_min).s));
  }
  pw_page_head(s, "First, this");
  for (int i = 0; i < n_cautions; i++)
    pw_page_para(s, 0, 2, pw_words(s, "%s. %s", cautions[i].head, cautions[i].text));
  everybody(s);
  fire_list(s);
  by_role(s);
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}
