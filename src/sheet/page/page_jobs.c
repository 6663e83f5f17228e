/* page_jobs.c - the owner's sheet of several jobs: costs dealt out, fires shared, purchases together and apart. */
#include "base/when.h"
#include "sheet/costs.h"
#include "sheet/page/page_words.h"
#include "sheet/page/pages.h"
#include "sheet/words.h"

#include <string.h>

static void heads(struct pw_page *s, const struct pw_joint_plan *jobs)
{
  for (int j = 0; j < jobs->joint->n_jobs; j++) {
    const struct pw_joint_job *job = &jobs->joint->jobs[j];
    const struct pw_plan *alone = jobs->alone[j];
    pw_page_pair(s, 2, pw_words(s, "%c  %s", 'A' + j, job->event->name),
                 pw_words(s, "%s, %s", pw_when_date(job->event->date).s, pw_words_guests(alone->demand.head_count).s));
  }
}

/* Below the lines of the cost: what a job bears in all, would cost alone, is paid less its discount, leaves. */
enum { BORNE, ALONE, NET, LEFT, N_BELOW };

static pw_cents cents_below(int what, const struct pw_job_share *share, const struct pw_quote *quote)
{
  pw_cents net = quote->price_cents - quote->discount_cents;
  const pw_cents all[N_BELOW] = {
      [BORNE] = share->cost_cents, [ALONE] = share->alone_cents, [NET] = net, [LEFT] = net - share->cost_cents};
  return all[what];
}

/* A column for each job, the sum last. */
static void costs(struct pw_page *s, const struct pw_joint_plan *jobs)
{
  static const char *const below[N_BELOW] = {
      [BORNE] = "Cost together", [ALONE] = "Cost alone", [NET] = "Price less discount", [LEFT] = "Left"};
  struct pw_page_column columns[PW_JOINT_MAX + 2] = {{2, 22, PW_CELL_WHAT, ""}};
  int n_lines, n = jobs->joint->n_jobs;
  const struct pw_cost_line *lines = pw_cost_lines(&n_lines);
  int width = 54 / (n + 1) < 14 ? 54 / (n + 1) : 14;
  for (int j = 0; j <= n; j++)
    columns[j + 1] =
        (struct pw_page_column){1, width - 1, PW_CELL_AMOUNT, j < n ? pw_words(s, "%c", 'A' + j) : "together"};
  pw_page_head(s, "What each job bears");
  pw_page_table(s, columns, n + 2);
  for (int row = 0; row < n_lines + N_BELOW; row++) {
    const char *cells[PW_JOINT_MAX + 2] = {row < n_lines ? lines[row].name : below[row - n_lines]};
    pw_cents sum = 0;
    for (int j = 0; j < n; j++) {
      const struct pw_job_share *share = &jobs->shares->jobs[j];
      pw_cents cents = row < n_lines ? pw_cost_of_share(&lines[row], share)
                                     : cents_below(row - n_lines, share, &jobs->alone[j]->quote);
      cells[j + 1] = pw_words_money(s, cents);
      sum += cents;
    }
    cells[n + 1] = pw_words_money(s, sum);
    pw_page_cells(s, 0, cells, n + 2);
  }
  pw_page_para(s, 2, 2,
               "A fire is shared by rack hours (area and time of each job's pieces on it), an oven by space and time, "
               "the crew by the minutes of its tasks for each job, overhead by the costs under it, the rest in "
               "proportion to what the jobs would cost alone. Each customer's price is that of the job quoted alone.");
  for (int j = 0; j < n; j++)
    if (jobs->joint->jobs[j].event->n_crew == 0)
      pw_page_say(s, 2, 2,
                  "File %c names no crew, so its price has no labour in it; its share of the crew here costs %s.",
                  'A' + j, pw_money_format(s->ev, jobs->shares->jobs[j].labour_cents).s);
}

static void fires(struct pw_page *s, const struct pw_joint_plan *jobs)
{
  pw_page_head(s, "Whose fire");
  for (int b = 0; b < jobs->plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &jobs->plan->allocation.burns[b];
    pw_page_money(s, 2,
                  pw_words(s, "%s, lit %s, out %s", s->ev->pits[burn->pit].name, pw_when(s->ev, burn->lit_at_min).s,
                           pw_when(s->ev, burn->out_at_min).s),
                  jobs->shares->burn_cents[b]);
    for (int j = 0; j < jobs->joint->n_jobs; j++)
      if (jobs->shares->jobs[j].burn_cents[b] > 0)
        pw_page_money(s, 6, jobs->joint->jobs[j].event->name, jobs->shares->jobs[j].burn_cents[b]);
  }
}

/* What a job needs of a thing, by name: ids differ where two events describe it differently. */
static double need_of(const struct pw_plan *plan, const struct pw_item *item)
{
  double need = 0;
  for (int i = 0; i < plan->purchase.n_lines; i++) {
    const struct pw_item *it = &plan->event->items[plan->purchase.lines[i].item];
    if (strcmp(it->name, item->name) == 0 && it->unit == item->unit)
      need += plan->purchase.lines[i].amount;
  }
  return need;
}

static void purchases(struct pw_page *s, const struct pw_joint_plan *jobs)
{
  static const struct pw_page_column columns[] = {
      {2, 30, PW_CELL_WHAT, ""}, {1, 12, PW_CELL_AMOUNT, ""}, {2, 33, PW_CELL_NOTE, ""}};
  const struct pw_purchase *p = &jobs->plan->purchase;
  pw_page_head(s, "Purchases, together and by job alone");
  pw_page_table_of(s, columns);
  for (int i = 0; i < p->n_lines; i++) {
    const struct pw_purchase_line *line = &p->lines[i];
    const struct pw_item *item = &s->ev->items[line->item];
    bool is_said = false;
    double all = 0;
    for (int k = 0; k < p->n_lines; k++) {
      const struct pw_item *other = &s->ev->items[p->lines[k].item];
      bool is_it = strcmp(other->name, item->name) == 0 && other->unit == item->unit;
      is_said = is_said || (is_it && k < i);
      all += is_it ? p->lines[k].amount : 0;
    }
    if (is_said)
      continue;
    const char *by = "";
    for (int j = 0; j < jobs->joint->n_jobs; j++) {
      double need = need_of(jobs->alone[j], item);
      if (need > 0)
        by = pw_words(s, "%s%s%c %s", by, *by ? ", " : "", 'A' + j, pw_format_amount(s->ev->units, item->unit, need).s);
    }
    pw_page_row(s, item->name, pw_format_amount(s->ev->units, item->unit, all).s, by);
  }
  pw_cents goods = 0;
  for (int j = 0; j < jobs->joint->n_jobs; j++)
    goods += jobs->alone[j]->quote.food_cents + jobs->alone[j]->quote.supplies_cents;
  pw_page_say(s, 2, 2, "Bought together %s, bought job by job %s.",
              pw_words_money(s, jobs->plan->quote.food_cents + jobs->plan->quote.supplies_cents),
              pw_words_money(s, goods));
}

pw_status pw_page_jobs(struct pw_page *s, const struct pw_joint_plan *jobs, struct pw_ctx *ctx)
{
  *s = pw_page_open(jobs->plan, jobs->plan->event, ctx);
  pw_page_title(s, "Jobs planned together", "For the owner");
  heads(s, jobs);
  costs(s, jobs);
  fires(s, jobs);
  purchases(s, jobs);
  return pw_page_done(s);
}
