/* grid_costs.c - the owner's page: costs as bars, the way to the price, margin; below what is printed, tables to look things up in.
 * Formulas follow the inputs and the purchases; the values beside them are the plan's, to the cent. */
#include "sheet/costs.h"
#include "sheet/grid_pen.h"
#include "sheet/words.h"

#include "base/money.h"
#include "plan/money/quote.h"

#include <math.h>
#include <strings.h>

/** A figure worked out by a formula. */
struct figure {
  const char *label, *name; /**< what formulas call it; NULL */
  const char *formula;
  double value; /**< in the role's unit: money, else a share */
  enum pw_grid_role role;
};

#define FIGURE(label, name, formula, cents)                                                                            \
  {                                                                                                                    \
    label, name, formula, pw_grid_major(g, cents), PW_G_MONEY                                                          \
  }
#define FIGURES(rows) figures(g, rows, (int)(sizeof(rows) / sizeof *(rows)))

static void figures(struct pw_grid *g, const struct figure *f, int n)
{
  for (int i = 0; i < n; i++, f++) {
    struct pw_grid_cell cells[] = {f->role == PW_G_SUM ? SAY(HEAD, f->label) : SAY(CELL, f->label),
                                   {.role = f->role, .formula = f->formula, .value = f->value, .name = f->name}};
    pw_grid_row(g, cells, 2);
  }
}

static void cost_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  const char *no_labour = pw_words_no_labour(g->of->ev, q);
  struct pw_told_table t = pw_costs_lines(g->of->plan, g->of->view->arena);
  int first = pw_grid_next(g) + 1;
  if (no_labour) {
    pw_grid_line(g, PW_G_CAUTION, no_labour);
    first++;
  }
  pw_grid_lay(g, &t);
  ROW(SAY(HEAD, "Cost"),
      NAMED(CALC(SUM, TEXT("=SUM(B%d:B%d)", first, pw_grid_next(g) - 1), pw_grid_major(g, q->cost_cents)),
            "cost_total"));
}

/** True when the formula below gives the plan's price per guest: not where it goes by the food's share, or was named before. */
static bool price_follows(const struct pw_grid *g)
{
  const struct pw_terms *t = &g->of->ev->terms;
  return g->of->plan->quote.guests > 0 && t->margin_frac < 1 && !(t->food_share_frac > 0) &&
         t->quoted_per_guest_cents == 0;
}

static void price_rows(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  const struct pw_terms *t = &g->of->ev->terms;
  int d = g->of->ev->money_digits;
  const struct figure fee[] = {FIGURE("List price that leaves the least fee", "least_list",
                                      TEXT("=ROUNDUP(ROUND(least_price/(1-discount_rate),%d),%d)", d + 6, d),
                                      pw_money_price_up(t->min_fee_cents, t->discount_frac))};
  FIGURES(fee);
  if (price_follows(g)) {
    pw_cents asked = pw_money_price_up(pw_money_price_up(q->cost_cents, t->margin_frac), t->discount_frac);
    const struct figure rows[] = {
        FIGURE("A guest by cost, margin, discount", "price_stepped",
               TEXT("=ROUNDUP(ROUND(ROUNDUP(ROUND(ROUNDUP(ROUND(cost_total/(1-margin_rate),%d),%d)/(1-discount_rate),"
                    "%d),%d)/head_count/price_step,6),0)*price_step",
                    d + 6, d, d + 6, d),
               pw_money_split_up(asked, q->guests, t->round_per_guest_cents)),
        FIGURE("Price per guest", "price_per_guest",
               TEXT("=IF(head_count*price_stepped-ROUND(head_count*price_stepped*discount_rate,%d)<least_price,"
                    "ROUNDUP(ROUND(least_list/head_count,%d),%d),price_stepped)",
                    d, d + 6, d),
               q->per_guest_cents)};
    FIGURES(rows);
  } else
    ROW(SAY(CELL, "Price per guest, as quoted"), NAMED(MONEY_AS(IN_MONEY, q->per_guest_cents), "price_per_guest"));
  const char *each = price_follows(g) ? "price_stepped" : "price_per_guest";
  const struct figure list = {
      "List price", "price_sum",
      TEXT("=IF(head_count*%s-ROUND(head_count*%s*discount_rate,%d)<least_price,least_list,head_count*%s)", each, each,
           d, each),
      pw_grid_major(g, q->price_cents), PW_G_SUM};
  if (price_follows(g) || q->per_guest_cents * q->guests == q->price_cents)
    figures(g, &list, 1);
  else
    ROW(SAY(CELL, "List price, as quoted"), NAMED(MONEY_AS(IN_MONEY, q->price_cents), "price_sum"));
}

static void price_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  int digits = g->of->ev->money_digits;
  pw_cents net = q->price_cents - q->discount_cents;
  double unit = g->of->money_unit, net_major = pw_grid_major(g, net);
  const struct figure rows[] = {
      FIGURE("Discount", "discount_sum", TEXT("=ROUND(price_sum*discount_rate,%d)", digits), q->discount_cents),
      FIGURE("Net", NULL, "=price_sum-discount_sum", net),
      FIGURE("Service charge", "charge_sum", TEXT("=ROUND((price_sum-discount_sum)*charge_rate,%d)", digits),
             q->service_charge_cents),
      FIGURE("Taxable", "taxable_sum", "=price_sum-discount_sum+IF(charge_taxed=\"yes\",charge_sum,0)",
             q->taxable_cents),
      FIGURE("Tax", "tax_sum", TEXT("=ROUND(taxable_sum*tax_rate,%d)", digits), q->tax_cents),
      {"Total", "price_total", "=price_sum-discount_sum+charge_sum+tax_sum", pw_grid_major(g, q->total_cents),
       PW_G_SUM},
      FIGURE("Left after all costs", NULL, "=price_sum-discount_sum-cost_total", net - q->cost_cents),
      {"Margin", NULL, "=IF(price_sum-discount_sum=0,0,(price_sum-discount_sum-cost_total)/(price_sum-discount_sum))",
       net != 0 ? (net_major - (double)q->cost_cents / unit) / net_major : 0, PW_G_PERCENT},
      {"Food share of the price", NULL, "=IF(price_sum-discount_sum=0,0,food_cost/(price_sum-discount_sum))",
       net != 0 ? (double)q->food_cents / unit / net_major : 0, PW_G_PERCENT},
  };
  pw_grid_part(g, "From the cost to the total");
  price_rows(g);
  FIGURES(rows);
}

static void turnout_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  pw_grid_part(g, "If fewer or more come than were bought for, as planned");
  HEADS("Guests", "Left", "Margin");
  for (int i = 0; i < 2; i++) {
    const struct pw_turnout *t = i == 0 ? &q->fewer : &q->more;
    if (t->guests <= 0 || t->guests == q->guests) /* not planned; so few that a tenth is nobody */
      continue;
    ROW(SAY(CELL, TEXT("A tenth %s, %s", i == 0 ? "fewer" : "more", pw_words_guests(t->guests).s)),
        MONEY(t->net_cents - t->cost_cents), NUM(PERCENT, t->margin_frac));
    if (i == 0 || q->n_ladder > 0)
      pw_grid_keep(g);
  }
  if (q->n_ladder > 0)
    ROW(SAY(CELL, "The job makes a profit from"),
        OVER(SAY(BOLD, q->break_even_guests == PW_NONE ? "no head count of the ladder"
                       : q->break_even_guests == 0     ? "every head count of the ladder"
                                                       : TEXT("%s", pw_words_guests(q->break_even_guests).s)),
             2));
}

/** Cooked meat of a guest at each meal beside what is usual. */
static void meat_part(struct pw_grid *g)
{
  bool has_head = false;
  for (int i = 0; i < g->of->ev->n_services; i++) {
    const char *said = pw_words_meat(g->of->plan, i, g->of->view->arena);
    if (said && !*said)
      continue;
    if (!has_head) {
      pw_grid_part(g, "Meat on the plate, as planned");
    }
    has_head = true;
    ROW(SAY(CELL, g->of->ev->services[i].name), OVER(SAY(BOLD, said ? said : ""), 5));
  }
}

static void dish_part(struct pw_grid *g)
{
  const struct pw_plan *plan = g->of->plan;
  struct pw_told_table t = pw_costs_dishes(plan, g->of->view->arena);
  if (!plan->purchase.dishes)
    return;
  pw_grid_part(g, "Food by dish, as planned");
  pw_grid_lay(g, &t);
  pw_grid_table(g);
  ROW(SAY(CELL, "For the whole event"), MONEY(plan->purchase.shared_food_cents));
}

/** Paid for the role's shifts as the inputs sheet adds them up; upper and lower case alike, as formulas compare. */
static pw_cents shifts_cents(const struct pw_event *ev, const char *role)
{
  pw_cents sum = 0;
  for (int i = 0; i < ev->n_crew; i++)
    if (strcasecmp(ev->crew[i].role, role) == 0)
      sum += pw_quote_shift_cents(ev, &ev->crew[i]);
  return sum;
}

static void role_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  if (q->n_roles == 0 || !g->of->crew_roles || !g->of->crew_costs)
    return;
  pw_grid_part(g, "Crew by role");
  struct pw_told_table t = pw_costs_roles(g->of->plan, g->of->view->arena);
  for (int i = 0; i < q->n_roles && !t.has_failed; i++)
    if (shifts_cents(g->of->ev, q->roles[i].role) == q->roles[i].cents)
      pw_table_cell(&t, i, "Cost")->formula = TEXT("=SUMPRODUCT((%s=[Role])*%s)", g->of->crew_roles, g->of->crew_costs);
  pw_grid_lay(g, &t);
}

/** A table that follows no input, under its heading; nothing where it has no rows. */
static void table_part(struct pw_grid *g, const char *heading,
                       struct pw_told_table (*make)(const struct pw_plan *, struct pw_arena *))
{
  struct pw_told_table t = make(g->of->plan, g->of->view->arena);
  g->of->view->failed = g->of->view->failed || t.has_failed;
  if (t.n_rows == 0)
    return;
  pw_grid_part(g, heading);
  pw_grid_lay(g, &t);
}

static void service_part(struct pw_grid *g)
{
  table_part(g, "Cost by service, as planned: food by its own menu, all else by the guests it feeds",
             pw_costs_services);
}

static void supplier_part(struct pw_grid *g)
{
  table_part(g, "Suppliers chosen, and the next best, as planned", pw_costs_suppliers);
}

static void ladder_part(struct pw_grid *g) { table_part(g, "Other head counts, each really planned", pw_costs_ladder); }

/** What each of several jobs bears: a column a job; the sums are those of the cost above. */
static void jobs_part(struct pw_grid *g)
{
  enum { BESIDE = 4, SUM = 0, ALONE, PRICE, LEFT, N_BELOW, LINES_MAX = 20 };
  static const char *const labels[] = {
      [SUM] = "Cost together", [ALONE] = "Cost alone", "Price of its own quote, less discount", "Left"};
  int n_lines;
  const struct pw_cost_line *lines = pw_cost_lines(&n_lines);
  n_lines = n_lines < LINES_MAX ? n_lines : LINES_MAX;
  const struct pw_plan *plan = g->of->plan;
  if (plan->n_jobs == 0)
    return;
  pw_grid_part(g, "What each job bears");
  for (int first = 0; first < plan->n_jobs; first += BESIDE) { /* four jobs side by side, then the next four */
    int n = plan->n_jobs - first < BESIDE ? plan->n_jobs - first : BESIDE, top = pw_grid_next(g) + 1;
    struct pw_grid_cell cells[1 + LINES_MAX + N_BELOW][1 + BESIDE] = {{SAY(HEAD, "")}}, *below[N_BELOW];
    for (int k = 0; k < n_lines; k++)
      cells[1 + k][0] = SAY(CELL, lines[k].name);
    for (int k = 0; k < N_BELOW; k++) {
      below[k] = cells[1 + n_lines + k];
      below[k][0] = k == SUM || k == LEFT ? SAY(HEAD, labels[k]) : SAY(CELL, labels[k]);
    }
    for (int j = 0; j < n; j++) {
      const struct pw_plan_job *job = &plan->jobs[first + j];
      char column = (char)('B' + j);
      int sum_row = top + n_lines;
      cells[0][1 + j] = SAY(HEAD, job->name);
      for (int k = 0; k < n_lines; k++)
        cells[1 + k][1 + j] = MONEY(pw_cost_of_job(&lines[k], job));
      below[SUM][1 + j] =
          CALC(SUM, TEXT("=SUM(%c%d:%c%d)", column, top, column, sum_row - 1), pw_grid_major(g, job->cost_cents));
      below[ALONE][1 + j] = MONEY(job->alone_cents);
      below[PRICE][1 + j] = MONEY(job->price_cents);
      below[LEFT][1 + j] = CALC(SUM, TEXT("=%c%d-%c%d", column, sum_row + PRICE, column, sum_row),
                                pw_grid_major(g, job->price_cents) - pw_grid_major(g, job->cost_cents));
    }
    for (int k = 0; k <= n_lines + N_BELOW; k++) {
      pw_grid_row(g, cells[k], 1 + n);
      if (k < n_lines + N_BELOW)
        pw_grid_keep(g);
    }
    pw_grid_gap(g);
  }
  pw_grid_line(g, PW_G_NOTE,
               "Shares as planned; they do not follow the inputs. The price above is that of all jobs as if they were "
               "one; each customer's is under Quote.");
}

/** What each choice costs and asks, beside the job as it stands planned as quickly, those that do not fit too. */
static void choice_part(struct pw_grid *g)
{
  table_part(g, "Choices, planned quickly, at today's prices", pw_costs_choices);
}

/** What could be left out to come to a price that was given, one after the other. */
static void leave_part(struct pw_grid *g)
{
  table_part(g, "What could be left out for the price given, one after the other", pw_costs_leaves);
}

/** What being ready on time costs. */
static void level_part(struct pw_grid *g)
{
  if (g->of->plan->quote.n_levels == 0)
    return;
  table_part(g, "Ready on time, and what it costs", pw_costs_levels);
  pw_grid_line(g, PW_G_NOTE,
               "A row is worth its cost over the row above if one late meal would cost you more than the last column "
               "says, in money or goodwill. " PW_COSTS_LEVELS_LEFT_OUT);
  if (g->of->plan->event->n_pool > 0)
    pw_grid_line(g, PW_G_NOTE, PW_COSTS_LEVELS_BY_HOUR);
}

void pw_grid_costs(struct pw_grid *g)
{
  static void (*const printed[])(struct pw_grid *) = {cost_part,  price_part,   turnout_part, choice_part,
                                                      leave_part, level_part,   service_part, role_part,
                                                      jobs_part,  supplier_part};
  OPEN("Costs", 38, 13, 12, 12, 11, 12);
  g->is_printed = g->is_tight = g->is_protected = true;
  g->least_scale = 0.75;
  pw_grid_title(g, TEXT("Costs: %s", g->of->ev->name), "For the owner. Not for the customer.");
  for (size_t i = 0; i < sizeof printed / sizeof *printed; i++)
    printed[i](g);
  g->print_rows = g->n_rows;
  pw_grid_gap(g);
  pw_grid_line(g, PW_G_NOTE, "What follows is for the screen and is not printed.");
  ladder_part(g);
  meat_part(g);
  dish_part(g);
}
