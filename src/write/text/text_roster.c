/* text_roster.c - on the owner's page: who of the pool comes when, at what pay, and how near that is to the least there is [S2].
 * In: a plan with shifts worked out.  Out: a part of the quote. */
#include "write/text/text_roster.h"

#include "base/format.h"
#include "base/when.h"
#include "plan/money/quote.h"

#include <math.h>

static const char *span_words(struct pw_page *s, int from, int to)
{
  return pw_words(s, "%s to %s", pw_when(s->ev, from).s, pw_when_clock(s->ev, to).s);
}

void pw_text_roster(struct pw_page *s)
{
  const struct pw_staffing *staffing = &s->plan->staffing;
  double paid_h = 0, task_h = 0;
  if (!staffing->asked)
    return;
  pw_page_head(s, "Who comes when");
  const struct pw_cell head[] = {{2, 20, PW_LEFT, "of the pool"},
                                 {23, 24, PW_LEFT, "from, to"},
                                 {48, 13, PW_LEFT, "break"},
                                 {62, 6, PW_RIGHT, "hours"},
                                 {69, 11, PW_RIGHT, "pay"}};
  pw_page_row(s, head, 5);
  for (int c = 0; c < s->ev->n_crew; c++) {
    const struct pw_crew *crew = &s->ev->crew[c];
    const struct pw_worked_shift *w = crew->worked;
    if (!w)
      continue;
    double hours = (crew->to_at_min - crew->from_at_min - w->unpaid_min) / 60.0;
    paid_h += hours;
    const struct pw_cell row[] = {
        {2, 20, PW_LEFT, w->name},
        {23, 24, PW_LEFT, span_words(s, crew->from_at_min, crew->to_at_min)},
        {48, 13, PW_LEFT,
         w->break_to_at_min > w->break_from_at_min ? pw_words(s, "%s-%s", pw_when_clock(s->ev, w->break_from_at_min).s,
                                                              pw_when_clock(s->ev, w->break_to_at_min).s)
                                                   : ""},
        {62, 6, PW_RIGHT, pw_words(s, "%s", pw_format_number(hours, 1).s)},
        {69, 11, PW_RIGHT, pw_words(s, "%s", pw_money_format(s->ev, pw_quote_shift_cents(s->ev, crew)).s)}};
    pw_page_row(s, row, 5);
  }
  for (int t = 0; t < s->plan->tasks.n_tasks; t++)
    if (s->plan->tasks.tasks[t].crew != PW_NONE && s->ev->crew[s->plan->tasks.tasks[t].crew].worked)
      task_h += s->plan->tasks.tasks[t].minutes / 60.0;
  double free_frac = paid_h > 0 ? floor((paid_h - task_h) / paid_h * 100 + 0.5) / 100 : 0;
  pw_page_para(
      s, 2, 2,
      pw_words(s,
               "Worked out by the rules of: %s. %s of the paid hours are in no task: a share of each hour stays "
               "calm (%s), somebody is awake at every fire, and nobody is called for less than their shortest shift. "
               "Local law "
               "and the contract decide.",
               s->ev->rules.name, pw_format_percent(free_frac).s, pw_format_percent(s->ev->rules.calm_frac).s));
  pw_page_para(
      s, 2, 2,
      pw_words(s,
               "The shifts chosen first cost %s; none that cover the same work at the same times cost less than "
               "%s. Leaving out and shortening what every task can spare brought them to %s.",
               pw_money_format(s->ev, staffing->cover_cents).s, pw_money_format(s->ev, staffing->bound_cents).s,
               pw_money_format(s->ev, staffing->pay_cents).s));
}
