/* page_roster.c - on the owner's page: who of the pool comes when, at what pay, and how near that is to the least there is [S2].
 * In: a plan with shifts worked out.  Out: a part of the quote. */
#include "base/format.h"
#include "base/when.h"
#include "plan/money/quote.h"
#include "sheet/page/page_parts.h"
#include "sheet/page/page_words.h"
#include "sheet/words.h"

#include <math.h>

static const char *minutes(struct pw_page *s, double min)
{
  return pw_words(s, "%s", pw_format_minutes((int)floor(min + 0.5)).s);
}

/* Of a shift worked out. */
static double paid_hours(const struct pw_crew *crew)
{
  return (crew->to_at_min - crew->from_at_min - crew->worked->unpaid_min) / 60.0;
}

static const char *joined(struct pw_page *s, const char *list, const char *more)
{
  return pw_words(s, "%s%s%s", list, *list ? "; " : "", more);
}

/* ---- what a shift is there for ------------------------------------------------------------------------------------- */

static const char *reason_words(struct pw_page *s, const struct pw_shift_reason *r)
{
  enum { TIGHT_TOLD_MIN = 10 };
  const char *words = "";
  if (r->fire_min > 0)
    words = pw_words(s, "too few awake at %s for %s, %s", s->ev->pits[s->plan->allocation.burns[r->burn].pit].name,
                     minutes(s, r->fire_min), pw_words_shift(s, r->fire_from_at_min, r->fire_to_at_min));
  if (r->guests_min > 0)
    words = joined(s, words,
                   pw_words(s, "too few for the guests of %s for %s", s->ev->services[r->service].name,
                            minutes(s, r->guests_min)));
  if (r->n_tasks > 0 || r->late_min > 0)
    words =
        joined(s, words,
               r->n_tasks > 0 ? pw_words(s, "%s late or undone", pw_words_count(r->n_tasks, "task is", "tasks are").s)
                              : pw_words(s, "tasks are %s later in all", minutes(s, r->late_min)));
  if (r->tight_min >= TIGHT_TOLD_MIN)
    words = joined(s, words, pw_words(s, "%s more work than calm hours have room for", minutes(s, r->tight_min)));
  return *words ? words : "the others could do its work";
}

/* The shifts that are there for the fires of one burn: told together, and what would save them. */
static void fire_story(struct pw_page *s, int burn)
{
  const struct pw_staffing *staffing = &s->plan->staffing;
  int n = 0, n_finish = 0, from = 0, to = 0;
  pw_cents cents = 0;
  for (int i = 0; i < staffing->n_reasons; i++) {
    const struct pw_shift_reason *r = &staffing->reasons[i];
    if (r->fire_min == 0 || r->burn != burn)
      continue;
    from = n == 0 || r->fire_from_at_min < from ? r->fire_from_at_min : from;
    to = n == 0 || r->fire_to_at_min > to ? r->fire_to_at_min : to;
    n++;
    n_finish += r->is_finish;
    cents += pw_quote_shift_cents(s->ev, &s->ev->crew[r->crew]);
  }
  if (n == 0)
    return;
  const char *oven =
      n_finish > 0
          ? pw_words(
                s,
                " Everything on the fires while %d of them %s needed is wrapped: finishing in an oven would save %s.",
                n_finish, n_finish == 1 ? "is" : "are", n_finish == 1 ? "it" : "them")
          : "";
  pw_page_say(s, 2, 2, "%s there for the fire of %s (%s): %s.%s",
              n == 1 ? "One shift is" : pw_words(s, "%d shifts are", n),
              s->ev->pits[s->plan->allocation.burns[burn].pit].name, pw_words_shift(s, from, to),
              pw_words_money(s, cents), oven);
}

static void service_story(struct pw_page *s, int service)
{
  const struct pw_staffing *staffing = &s->plan->staffing;
  int n = 0;
  pw_cents cents = 0;
  for (int i = 0; i < staffing->n_reasons; i++) {
    const struct pw_shift_reason *r = &staffing->reasons[i];
    if (r->guests_min == 0 || r->service != service)
      continue;
    n++;
    cents += pw_quote_shift_cents(s->ev, &s->ev->crew[r->crew]);
  }
  if (n > 0)
    pw_page_say(s, 2, 2, "%s there for the guests of %s: %s.",
                n == 1 ? "One shift is" : pw_words(s, "%d shifts are", n), s->ev->services[service].name,
                pw_words_money(s, cents));
}

void pw_part_shift_reasons(struct pw_page *s)
{
  const struct pw_staffing *staffing = &s->plan->staffing;
  if (staffing->n_reasons == 0)
    return;
  pw_page_head(s, "What each shift is there for, and what one more would buy");
  for (int b = 0; b < s->plan->allocation.n_burns; b++)
    fire_story(s, b);
  for (int k = 0; k < s->ev->n_services; k++)
    service_story(s, k);
  for (int i = 0; i < staffing->n_reasons; i++) {
    const struct pw_shift_reason *r = &staffing->reasons[i];
    const struct pw_crew *crew = &s->ev->crew[r->crew];
    pw_page_pair(
        s, 2, pw_words(s, "without %s, %s", crew->worked->name, pw_words_shift(s, crew->from_at_min, crew->to_at_min)),
        pw_words(s, "saves %s", pw_words_money(s, pw_quote_shift_cents(s->ev, crew))));
    pw_page_para(s, 4, 4, reason_words(s, r));
  }
  for (int i = 0; i < staffing->n_more; i++) {
    const struct pw_hand_more *m = &staffing->more[i];
    pw_page_pair(s, 2,
                 pw_words(s, "one %s more, %s", s->plan->staffing.asked->pool[m->pool].role,
                          pw_words_shift(s, m->from_at_min, m->to_at_min)),
                 pw_words(s, "costs %s", pw_words_money(s, m->cents)));
    pw_page_para(s, 4, 4,
                 m->n_tasks > 0 || m->late_min > 0
                     ? pw_words(s, "%s fewer late or undone, %s less in all",
                                pw_words_count(m->n_tasks, "task", "tasks").s, minutes(s, m->late_min))
                     : pw_words(s, "%s less work beyond what calm hours have room for", minutes(s, m->tight_min)));
  }
  pw_page_para(
      s, 2, 2,
      staffing->n_more == 0
          ? "One more pair of hands would gain nothing: no task waits for hands, and hardly an hour is too busy. Door "
            "times are worked out for two people, and each meal's chance for a crew that is complete: neither changes "
            "with one more."
          : "Door times are worked out for two people, and each meal's chance for a crew that is complete: what one "
            "fewer costs shows only as late tasks.");
}

/* ---- given against proposed ------------------------------------------------------------------------------------------ */

static const char *share(struct pw_page *s, double task_h, double paid_h)
{
  double free_frac = paid_h > 0 ? fmax(0, floor((paid_h - task_h) / paid_h * 100 + 0.5) / 100) : 0;
  return pw_words(s, "%s", pw_format_percent(free_frac).s);
}

static void proposal_row(struct pw_page *s, const char *what, pw_cents cents, double hours, double task_h, int lacking)
{
  pw_page_row(s, what, pw_words_money(s, cents), pw_format_number(hours, 1).s, share(s, task_h, hours),
              pw_words(s, "%d", lacking));
}

void pw_part_proposal(struct pw_page *s)
{
  static const struct pw_page_column pay[] = {{2, 30, PW_CELL_WHAT, ""},
                                              {1, 12, PW_CELL_AMOUNT, "pay"},
                                              {1, 8, PW_CELL_AMOUNT, "hours"},
                                              {1, 10, PW_CELL_AMOUNT, "in no task"},
                                              {1, 13, PW_CELL_AMOUNT, "late, undone"}};
  static const struct pw_page_column who[] = {{2, 24, PW_CELL_WHO, "who would come"},
                                              {1, 26, PW_CELL_TIME, "from, to"},
                                              {9, 6, PW_CELL_AMOUNT, "hours"},
                                              {1, 11, PW_CELL_AMOUNT, "pay"}};
  const struct pw_proposal *p = &s->plan->proposal;
  if (!p->event)
    return;
  pw_page_head(s, "The shifts as written, and the same people called only when there is work");
  pw_page_table_of(s, pay);
  proposal_row(s, "as written", p->given_cents, p->given_h, p->given_task_h, p->n_given_lacking);
  proposal_row(s, "called when there is work", p->pay_cents, p->paid_h, p->task_h, p->n_lacking);
  pw_page_table_of(s, who);
  for (int c = 0; c < p->event->n_crew; c++) {
    const struct pw_crew *crew = &p->event->crew[c];
    if (!crew->worked)
      continue;
    pw_page_row(s, crew->worked->name, pw_words_shift(s, crew->from_at_min, crew->to_at_min),
                pw_format_number(paid_hours(crew), 1).s, pw_words_money(s, pw_quote_shift_cents(p->event, crew)));
  }
  pw_page_say(s, 2, 2,
              "By the rules of: %s; no shift under four hours, food and fires as planned. Write \"crew_pool:\" in the "
              "event instead of \"crew:\" to plan it this way. Local law and the contract decide.",
              s->ev->rules.name);
}

/* ---- who comes when ------------------------------------------------------------------------------------------------------ */

/* Of a job that has both: shifts as given, and what the pool adds. */
static void given(struct pw_page *s)
{
  pw_cents cents = 0;
  for (int c = 0; c < s->ev->n_crew; c++)
    if (!s->ev->crew[c].worked)
      cents += pw_quote_shift_cents(s->ev, &s->ev->crew[c]);
  if (cents > 0)
    pw_page_say(s, 2, 2, "The shifts given in the event cost another %s.", pw_words_money(s, cents));
}

void pw_part_roster(struct pw_page *s)
{
  const struct pw_staffing *staffing = &s->plan->staffing;
  double paid_h = 0, task_h = 0;
  if (!staffing->asked)
    return;
  pw_page_head(s, "Who comes when");
  static const struct pw_page_column columns[] = {{2, 20, PW_CELL_WHO, "of the pool"},
                                                  {1, 24, PW_CELL_TIME, "from, to"},
                                                  {1, 13, PW_CELL_TIME, "break"},
                                                  {1, 6, PW_CELL_AMOUNT, "hours"},
                                                  {1, 11, PW_CELL_AMOUNT, "pay"}};
  pw_page_table_of(s, columns);
  for (int c = 0; c < s->ev->n_crew; c++) {
    const struct pw_crew *crew = &s->ev->crew[c];
    const struct pw_worked_shift *w = crew->worked;
    if (!w)
      continue;
    paid_h += paid_hours(crew);
    pw_page_row(s, w->name, pw_words_shift(s, crew->from_at_min, crew->to_at_min),
                w->break_to_at_min > w->break_from_at_min
                    ? pw_words(s, "%s-%s", pw_when_clock(s->ev, w->break_from_at_min).s,
                               pw_when_clock(s->ev, w->break_to_at_min).s)
                    : "",
                pw_format_number(paid_hours(crew), 1).s, pw_money_format(s->ev, pw_quote_shift_cents(s->ev, crew)).s);
  }
  for (int t = 0; t < s->plan->tasks.n_tasks; t++)
    if (s->plan->tasks.tasks[t].crew != PW_NONE && s->ev->crew[s->plan->tasks.tasks[t].crew].worked)
      task_h += s->plan->tasks.tasks[t].minutes / 60.0;
  double free_frac = paid_h > 0 ? floor((paid_h - task_h) / paid_h * 100 + 0.5) / 100 : 0;
  pw_page_say(s, 2, 2,
              "Worked out by the rules of: %s. %s of the paid hours have no task in them: %s of each hour is "
              "kept free, somebody is awake at every fire, and nobody is called for less than their shortest shift. "
              "Local law and the contract decide.",
              s->ev->rules.name, pw_format_percent(free_frac).s, pw_format_percent(s->ev->rules.calm_frac).s);
  pw_page_say(s, 2, 2,
              "The shifts chosen first cost %s; no shifts that cover the same work at the same times cost less than "
              "%s. Leaving out or shortening shifts where no task became late brought that to %s.",
              pw_money_format(s->ev, staffing->cover_cents).s, pw_money_format(s->ev, staffing->bound_cents).s,
              pw_money_format(s->ev, staffing->pay_cents).s);
  given(s);
}
