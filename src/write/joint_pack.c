/* joint_pack.c - the owner's sheet of several jobs: costs dealt out, fires shared, purchases together and apart. */
#include "write/joint_pack.h"
#include "sheet/words.h"

#include "base/arena.h"
#include "base/when.h"
#include "write/text/text_page.h"

#include <string.h>

static const char *money(struct pw_page *s, pw_cents cents)
{
  return pw_words(s, "%s", pw_money_format(s->ev, cents).s);
}

static void heads(struct pw_page *s, const struct pw_joint_plan *jobs)
{
  for (int j = 0; j < jobs->joint->n_jobs; j++) {
    const struct pw_joint_job *job = &jobs->joint->jobs[j];
    const struct pw_plan *alone = jobs->alone[j];
    pw_page_pair(s, 2, pw_words(s, "%c  %s", 'A' + j, job->event->name),
                 pw_words(s, "%s, %s", pw_when_date(job->event->date).s, pw_words_guests(alone->demand.head_count).s));
  }
}

/* A row of amounts: one column a job, the sum last. */
static void row(struct pw_page *s, const char *what, const struct pw_joint_plan *jobs,
                pw_cents (*of)(const struct pw_joint_plan *, int))
{
  struct pw_cell cells[PW_JOINT_MAX + 2] = {{2, 22, PW_LEFT, what}};
  int n = jobs->joint->n_jobs, width = 54 / (n + 1) < 14 ? 54 / (n + 1) : 14;
  pw_cents sum = 0;
  for (int j = 0; j <= n; j++) {
    pw_cents cents = j < n ? of(jobs, j) : sum;
    sum += cents;
    cells[j + 1] = (struct pw_cell){25 + j * (width + 0), width - 1, PW_RIGHT, money(s, cents)};
  }
  pw_page_row(s, cells, n + 2);
}

static pw_cents food(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].food_cents; }
static pw_cents supplies(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].supplies_cents; }
static pw_cents fuel(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].fuel_cents; }
static pw_cents labour(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].labour_cents; }
static pw_cents rental(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].rental_cents; }
static pw_cents travel(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].travel_cents; }
static pw_cents overhead(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].overhead_cents; }
static pw_cents cost(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].cost_cents; }
static pw_cents alone_cost(const struct pw_joint_plan *p, int j) { return p->shares->jobs[j].alone_cents; }
static pw_cents net(const struct pw_joint_plan *p, int j)
{
  return p->alone[j]->quote.price_cents - p->alone[j]->quote.discount_cents;
}
static pw_cents left(const struct pw_joint_plan *p, int j) { return net(p, j) - cost(p, j); }

static void costs(struct pw_page *s, const struct pw_joint_plan *jobs)
{
  static const struct {
    const char *what;
    pw_cents (*of)(const struct pw_joint_plan *, int);
  } rows[] = {{"Food", food},
              {"Disposables, supplies, deliveries", supplies},
              {"Wood, charcoal, ovens", fuel},
              {"Crew", labour},
              {"Rental", rental},
              {"Travel", travel},
              {"Overhead", overhead},
              {"Cost together", cost},
              {"Cost alone", alone_cost},
              {"Price less discount", net},
              {"Left", left}};
  struct pw_cell cells[PW_JOINT_MAX + 2] = {{2, 22, PW_LEFT, ""}};
  int n = jobs->joint->n_jobs, width = 54 / (n + 1) < 14 ? 54 / (n + 1) : 14;
  pw_page_head(s, "What each job bears");
  for (int j = 0; j <= n; j++)
    cells[j + 1] =
        (struct pw_cell){25 + j * width, width - 1, PW_RIGHT, j < n ? pw_words(s, "%c", 'A' + j) : "together"};
  pw_page_row(s, cells, n + 2);
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    row(s, rows[i].what, jobs, rows[i].of);
  pw_page_para(s, 2, 2,
               "A fire is shared by rack hours (area and time of each job's pieces on it), an oven by room and time, "
               "the crew by the "
               "minutes of its tasks for each job, overhead by the costs under it; the rest in proportion to what the "
               "jobs would cost "
               "alone. Each customer's price is that of the job quoted alone.");
  for (int j = 0; j < n; j++)
    if (jobs->joint->jobs[j].event->n_crew == 0)
      pw_page_para(
          s, 2, 2,
          pw_words(s, "The file of %c names no crew: no labour is in its price, its part of the crew here costs %s.",
                   'A' + j, pw_money_format(s->ev, jobs->shares->jobs[j].labour_cents).s));
}

static void fires(struct pw_page *s, const struct pw_joint_plan *jobs)
{
  pw_page_head(s, "Whose fire");
  for (int b = 0; b < jobs->plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &jobs->plan->allocation.burns[b];
    pw_page_pair(s, 2,
                 pw_words(s, "%s, lit %s, out %s", s->ev->pits[burn->pit].name, pw_when(s->ev, burn->lit_at_min).s,
                          pw_when(s->ev, burn->out_at_min).s),
                 money(s, jobs->shares->burn_cents[b]));
    for (int j = 0; j < jobs->joint->n_jobs; j++)
      if (jobs->shares->jobs[j].burn_cents[b] > 0)
        pw_page_pair(s, 6, jobs->joint->jobs[j].event->name, money(s, jobs->shares->jobs[j].burn_cents[b]));
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
  const struct pw_purchase *p = &jobs->plan->purchase;
  pw_page_head(s, "Purchases, together and by job alone");
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
    const struct pw_cell cells[] = {
        {2, 30, PW_LEFT, item->name},
        {33, 12, PW_RIGHT, pw_words(s, "%s", pw_format_amount(s->ev->units, item->unit, all).s)},
        {47, 33, PW_LEFT, by}};
    pw_page_row(s, cells, 3);
  }
  pw_cents goods = 0;
  for (int j = 0; j < jobs->joint->n_jobs; j++)
    goods += jobs->alone[j]->quote.food_cents + jobs->alone[j]->quote.supplies_cents;
  pw_page_para(s, 2, 2,
               pw_words(s, "Bought together %s, bought job by job %s.",
                        money(s, jobs->plan->quote.food_cents + jobs->plan->quote.supplies_cents), money(s, goods)));
}

pw_status pw_text_jobs(struct pw_buf *out, const struct pw_joint_plan *jobs, struct pw_ctx *ctx)
{
  struct pw_page page = pw_page_open(out, jobs->plan, ctx), *s = &page;
  pw_page_title(s, "Jobs planned together", "For the owner");
  heads(s, jobs);
  costs(s, jobs);
  fires(s, jobs);
  purchases(s, jobs);
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}
