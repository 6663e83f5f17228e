/* slack_words.c - slack of tasks in words, and what it means for a load.  In: tasks of the plan.  Out: texts, minutes. */
#include "sheet/slack_words.h"

#include "base/when.h"

#include <stdio.h>

static struct pw_short words(const struct pw_event *ev, const struct pw_task *task, const char *before)
{
  struct pw_short out = {""};
  if (task->slack_min > 0)
    snprintf(out.s, sizeof out.s, "%s %.8s", before, pw_when_clock(ev, task->at_min + task->slack_min).s);
  return out;
}

struct pw_short pw_slack_words(const struct pw_event *ev, const struct pw_task *task)
{
  return words(ev, task, "still in time until");
}

struct pw_short pw_slack_short(const struct pw_event *ev, const struct pw_task *task)
{
  return words(ev, task, "latest");
}

/** Whether the task begins (is_end: ends) a load of that stage. */
static bool is_of_change(const struct pw_plan *plan, const struct pw_task *t, const struct pw_load *l, bool is_end)
{
  bool is_wrap = t->kind == PW_TASK_WRAP || t->kind == PW_TASK_CARRY || t->kind == PW_TASK_WRAP_CARRY;
  bool has_finish = plan->lots.lots[l->lot].has_finish;
  if (l->stage == PW_LOAD_SMOKE)
    return is_end && has_finish ? is_wrap : t->kind == (is_end ? PW_TASK_OFF : PW_TASK_LOAD);
  return l->stage == PW_LOAD_FINISH && (is_end ? t->kind == PW_TASK_OFF : is_wrap);
}

static bool has_piece(const struct pw_task *t, const struct pw_load *l)
{
  for (int i = 0; i < t->n_ids; i++)
    for (int k = 0; k < l->pieces && l->piece_ids; k++)
      if (l->piece_ids[k] == t->piece_ids[i])
        return true;
  return false;
}

int pw_slack_of_load(const struct pw_plan *plan, const struct pw_load *load, bool is_end)
{
  int at = is_end ? load->end_at_min : load->start_at_min, least = 0;
  bool is_any = false;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (t->lot != load->lot || !is_of_change(plan, t, load, is_end) || !has_piece(t, load))
      continue;
    int slack = t->slack_min > 0 ? t->at_min + t->slack_min - at : 0;
    least = !is_any || slack < least ? slack : least;
    is_any = true;
  }
  return least > 0 ? least : 0;
}

int pw_begin_of_load(const struct pw_plan *plan, const struct pw_load *load, bool is_end)
{
  int at = is_end ? load->end_at_min : load->start_at_min, first = at;
  bool is_any = false;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (t->lot != load->lot || !is_of_change(plan, t, load, is_end) || !has_piece(t, load))
      continue;
    first = !is_any || t->at_min < first ? t->at_min : first;
    is_any = true;
  }
  return first > at ? first : at;
}
