/* page_costs.c - the owner's page of a quote [Q1]: costs, margin, choices, crew, what may go wrong, other head counts. */
#include "base/when.h"
#include "plan/money/quote.h"
#include "sheet/costs.h"
#include "sheet/page/page_parts.h"
#include "sheet/page/pages.h"
#include "sheet/words.h"

#include <math.h>

/* Under a meal's name where there are several. */
static void band(struct pw_page *s, int service, bool is_first)
{
  if (s->ev->n_services > 1 && is_first)
    pw_page_para(s, 2, 2, s->ev->services[service].name);
}

/* What could be left out to come to the price that was given, and where that leads. */
static void leave_out(struct pw_page *s)
{
  const struct pw_quote *q = &s->plan->quote;
  if (q->today_cents <= q->price_cents)
    return;
  pw_page_say(s, 2, 2, "That price is %s too low.%s", pw_money_format(s->ev, q->today_cents - q->price_cents).s,
              q->n_leaves > 0 ? " Leaving out dishes one after another, the dearest first, while guests eat more of "
                                "the others and crew and fires stay as planned:"
                              : " No dish left out would save anything.");
  if (q->n_leaves > 0) {
    struct pw_told_table t = pw_costs_leaves(s->plan, s->arena);
    pw_page_lay(s, &t);
  }
  if (q->n_leaves > 0)
    pw_page_para(s, 2, 2,
                 q->leaves[q->n_leaves - 1].price_cents <= q->price_cents
                     ? "Then the price covers what the terms ask."
                     : pw_words(s, "Even then the terms would ask %s.",
                                pw_money_format(s->ev, q->leaves[q->n_leaves - 1].price_cents).s));
}

/* A price that was given: what the asked margin would take, the least that pays, and what could be left out to come there. */
static void given_price(struct pw_page *s)
{
  const struct pw_quote *q = &s->plan->quote;
  const struct pw_terms *t = &s->ev->terms;
  pw_page_say(s, 2, 2, "The price of %s a guest was given. The terms would ask %s a guest, %s in all%s.",
              pw_money_format(s->ev, t->quoted_per_guest_cents).s, pw_money_format(s->ev, q->today_per_guest_cents).s,
              pw_money_format(s->ev, q->today_cents).s, q->discount_cents ? " before the discount" : "");
  pw_page_say(s, 2, 2, "The lowest price that makes no loss is %s a guest.",
              pw_money_format(s->ev, pw_quote_least_per_guest(q, t)).s);
  leave_out(s);
}

static void margin(struct pw_page *s)
{
  const struct pw_quote *q = &s->plan->quote;
  pw_cents net = q->net_cents;
  const struct pw_terms *t = &s->ev->terms;
  pw_page_head(s, "Margin");
  if (q->discount_cents) {
    pw_page_money(s, 2, "List price", q->price_cents);
    pw_page_money(s, 2, "Discount", -q->discount_cents);
  }
  pw_page_money(s, 2, q->discount_cents ? "Net, before taxes and charges" : "Price before taxes and charges", net);
  if (t->quoted_per_guest_cents > 0 && !t->quoted_price_on.year)
    given_price(s);
  else if (t->quoted_per_guest_cents > 0)
    pw_page_say(s, 2, 2,
                "%s %s a guest on %s, and kept. Today's price would be %s a guest, %s in all%s. Other head counts "
                "below are at today's prices.",
                t->agreed_cents > 0 ? "Agreed" : "Quoted", pw_money_format(s->ev, t->quoted_per_guest_cents).s,
                pw_when_date(t->quoted_price_on).s, pw_money_format(s->ev, q->today_per_guest_cents).s,
                pw_money_format(s->ev, q->today_cents).s, q->discount_cents ? " before the discount" : "");
  if (q->is_least_fee)
    pw_page_say(s, 2, 2, "The smallest fee for a job, %s, decides the price, not the cost.",
                pw_money_format(s->ev, t->min_fee_cents).s);
  pw_page_money(s, 2, "All costs except overhead", -(q->cost_cents - q->overhead_cents));
  pw_page_money(s, 2, "Contribution to overhead and profit", q->contribution_cents);
  pw_page_money(s, 2, "Overhead", -q->overhead_cents);
  pw_page_money(s, 2,
                pw_words(s, "%s, %s of the price", net >= q->cost_cents ? "Profit" : "Loss",
                         pw_format_percent(fabs(q->margin_frac)).s),
                net - q->cost_cents);
  if (net > 0)
    pw_page_say(s, 2, 2, "Food is %s of the price; food and crew together are %s.",
                pw_format_percent(q->food_share_frac).s, pw_format_percent((double)q->prime_cents / (double)net).s);
  const struct pw_turnout *turnouts[] = {&q->fewer, &q->more};
  for (int i = 0; i < 2; i++)
    if (turnouts[i]->guests > 0 && turnouts[i]->guests != q->guests)
      pw_page_money(s, 2,
                    pw_words(s, "If %d come and pay after the final count: %s %s", turnouts[i]->guests,
                             turnouts[i]->net_cents >= turnouts[i]->cost_cents ? "profit" : "loss",
                             pw_format_percent(fabs(turnouts[i]->margin_frac)).s),
                    turnouts[i]->net_cents - turnouts[i]->cost_cents);
  if (q->break_even_guests > 0)
    pw_page_say(s, 2, 2, "At this price per guest the job makes a profit from %s on.",
                pw_words_guests(q->break_even_guests).s);
  else if (q->break_even_guests == PW_NONE)
    pw_page_para(s, 2, 2, "At this price per guest the job makes a profit at none of the head counts below.");
}

/* What each choice costs and asks, also those that cannot be had. */
static void choices(struct pw_page *s)
{
  struct pw_told_table t = pw_costs_choices(s->plan, s->arena);
  if (pw_page_part(s, "Choices", &t))
    pw_page_para(s, 2, 2,
                 "Cost and price of the whole job with the choice, and without it. Both planned quickly, at today's "
                 "prices.");
}

/* Cooked meat of a guest beside what is usual; a menu without meat has no line. */
static void meat(struct pw_page *s)
{
  for (int i = 0; i < s->ev->n_services; i++) {
    const char *said = pw_page_made(s, pw_words_meat(s->plan, i, s->arena));
    if (*said)
      pw_page_para(s, 2, 4, s->ev->n_services > 1 ? pw_words(s, "%s, %s", s->ev->services[i].name, said) : said);
  }
}

static void chances(struct pw_page *s)
{
  const struct pw_purchase *p = &s->plan->purchase;
  if (p->n_raws == 0)
    return;
  pw_page_head(s, "Enough to eat");
  meat(s);
  static const struct pw_page_column columns[] = {{2, 5, PW_CELL_AMOUNT, ""},
                                                  {1, 46, PW_CELL_WHAT, ""},
                                                  {2, 10, PW_CELL_AMOUNT, "runs out"},
                                                  {2, 12, PW_CELL_AMOUNT, "left over"}};
  pw_page_table_of(s, columns);
  for (int i = 0; i < p->n_raws; i++) {
    const struct pw_raw_need *r = &p->raws[i];
    band(s, r->service, i == 0 || r->service != p->raws[i - 1].service);
    pw_page_row(s, pw_words(s, "%d", r->pieces), pw_words(s, "× %s", s->ev->cuts[r->cut].name),
                r->runout_frac < 0.001 ? "< 0.1 %" : pw_format_percent(r->runout_frac).s,
                r->leftover_kg > 0 ? pw_format_weight(s->ev->units, r->leftover_kg).s : "");
  }
  pw_page_para(s, 2, 2, "The chance that it runs out, and the cooked weight left over on average.");
}

/* Who costs what, and how much of it the tasks fill. */
static void roles(struct pw_page *s)
{
  const struct pw_quote *q = &s->plan->quote;
  if (q->n_roles == 0)
    return;
  struct pw_told_table t = pw_costs_roles(s->plan, s->arena);
  (void)pw_page_part(s, "Crew by role", &t);
  const char *unpaid = "", *over = "";
  for (int i = 0; i < q->n_roles; i++) {
    const struct pw_role_cost *r = &q->roles[i];
    if (r->paid_h > 0 && r->cents == 0)
      unpaid = pw_words(s, "%s%s%s", unpaid, *unpaid ? ", " : "", r->role);
    if (r->task_h > r->paid_h)
      over = pw_words(s, "%s%s%s", over, *over ? ", " : "", r->role);
  }
  pw_page_para(s, 2, 2,
               "Hours of all hands together, paid by the shift. Free hours are for watching, waiting, eating, talking "
               "to guests.");
  if (*unpaid)
    pw_page_say(s, 2, 2, "Unpaid, so not in the cost: %s.", unpaid);
  if (*over)
    pw_page_say(s, 2, 2,
                "More work than paid hours: %s. Give them a longer shift or another hand; the cost is too low.", over);
  double nobody_h = 0;
  for (int i = 0; i < s->plan->tasks.n_tasks; i++)
    nobody_h += s->plan->tasks.tasks[i].crew == PW_NONE ? s->plan->tasks.tasks[i].minutes / 60.0 : 0;
  if (nobody_h > 0)
    pw_page_say(s, 2, 2, "%s hours of work have nobody on shift: they are unpaid and not in the cost.",
                pw_format_number(ceil(nobody_h * 10 - 1e-9) / 10, 1).s);
}

/* The cost of each service and of a guest in it. */
static void by_service(struct pw_page *s)
{
  struct pw_told_table t = pw_costs_services(s->plan, s->arena);
  pw_page_head(s, s->ev->n_services > 1 ? "Cost by service" : "Cost per guest");
  pw_page_lay(s, &t);
  if (s->ev->n_services > 1)
    pw_page_para(s, 2, 2, "Food is counted by each menu; all else is shared by the number of guests.");
}

/* The purchase as chosen, and what it would cost without each supplier. */
static void next_best(struct pw_page *s)
{
  const struct pw_purchase *p = &s->plan->purchase;
  if (p->n_orders == 0)
    return;
  struct pw_told_table t = pw_costs_suppliers(s->plan, s->arena);
  (void)pw_page_part(s, "Suppliers chosen, and the next best", &t);
  if (p->carried_cents > 0)
    pw_page_say(s, 2, 2,
                "Whole packs left over that keep until the next job, %d days on, are worth %s there. The choice of "
                "packs takes that into account; it is not taken off the cost.",
                s->ev->terms.next_job_days, pw_money_format(s->ev, p->carried_cents).s);
}

/* What each dish costs, and what one portion left over has cost. */
static void dishes(struct pw_page *s)
{
  struct pw_told_table t = pw_costs_dishes(s->plan, s->arena);
  if (!pw_page_part(s, "Food by dish", &t))
    return;
  pw_page_para(s, 2, 2,
               "Each: what a portion left over has cost. If short: the cover is right if a guest who goes without "
               "costs you this much; lower the cover if that is too much.");
  if (s->plan->purchase.shared_food_cents)
    pw_page_money(s, 4, "For the whole event", s->plan->purchase.shared_food_cents);
}

static void ladder(struct pw_page *s)
{
  const struct pw_quote *q = &s->plan->quote;
  struct pw_told_table t = pw_costs_ladder(s->plan, s->arena);
  if (!pw_page_part(s, "Head counts, each one planned", &t))
    return;
  pw_page_say(s, 2, 2, "Prices are before taxes and charges%s; the customer's list includes those in its totals.",
              q->discount_cents ? " and before the discount; the margin is after it" : "");
}

pw_status pw_page_costs(struct pw_page *s, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_quote *q = &plan->quote;
  *s = pw_page_open(plan, plan->event, ctx);
  pw_page_title(s, s->ev->name, "For the owner only");
  if (plan->allocation.is_quick)
    pw_page_para(s, 0, 0,
                 "Planned quickly: the thorough plan may cost less and so give another price. Quote the event's "
                 "file without --quick for that one.");
  if (pw_words_no_labour(s->ev, q))
    pw_page_para(s, 0, 0, pw_words_no_labour(s->ev, q));
  if (plan->allocation.n_missed > 0 && plan->allocation.is_quick)
    pw_page_say(s, 0, 0,
                "MAY NOT FIT: searched quickly, %s. Promise nothing before the thorough plan: it finds more "
                "room, or says what is short and what would help.",
                pw_words_count(plan->allocation.n_missed, "piece found no place", "pieces found no place").s);
  else if (plan->allocation.n_missed > 0)
    pw_page_say(s, 0, 0, "%s: the job does not fit its pits. The plan says what is short and what would help.",
                pw_words_count(plan->allocation.n_missed, "piece finds no place", "pieces find no place").s);
  for (int i = 0; i < plan->n_shortfalls; i++)
    if (plan->shortfalls[i].portions > 0)
      pw_page_say(s, 2, 4, "Missing at the table: %s.", plan->shortfalls[i].text);
  struct pw_told_table lines = pw_costs_lines(plan, s->arena);
  pw_page_lay(s, &lines);
  margin(s);
  choices(s);
  by_service(s);
  roles(s);
  pw_part_roster(s);
  pw_part_shift_reasons(s);
  pw_part_proposal(s);
  chances(s);
  pw_part_levels(s);
  pw_part_ways_late(s);
  dishes(s);
  next_best(s);
  ladder(s);
  if (plan->n_warnings > 0)
    pw_page_say(s, 0, 0, "The plan has %s to look at.", pw_words_count(plan->n_warnings, "thing", "things").s);
  return pw_page_done(s);
}
