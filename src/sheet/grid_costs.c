/* grid_costs.c - the owner's page: costs as bars, the way to the price, margin; below what is printed, tables to look things up in.
 * Formulas follow the inputs and the purchases; the values beside them are the plan's, to the cent. */
#include "sheet/chance_words.h"
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

/** A share 0..1 as a bar of blocks. */
static const char *bar_words(struct pw_grid *g, double share)
{
  const char *bar = "";
  for (int i = 0; i < (int)floor(share * 20 + 0.5) && i < 20; i++)
    bar = TEXT("%s\xE2\x96\x88", bar);
  return bar;
}

static void cost_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  double unit = g->of->money_unit;
  int digits = g->of->ev->money_digits;
  const char *no_labour = pw_words_no_labour(g->of->ev, q);
  if (no_labour)
    pw_grid_line(g, PW_G_CAUTION, no_labour);
  HEADS("Cost", "Amount", "Share of cost");
  int first = pw_grid_next(g), last = first + PW_COST__COUNT - 1;
  const struct {
    pw_cents cents;
    const char *formula;
  } lines[PW_COST__COUNT] = {
      [PW_COST_FOOD] = {q->food_cents, "=food_cost"},
      [PW_COST_SUPPLIES] = {q->supplies_cents, "=supplies_cost"},
      [PW_COST_FUEL] = {q->fuel_cents, "=fuel_cost+oven_cost"},
      [PW_COST_CREW] = {q->labour_cents, "=labour_cost"},
      [PW_COST_RENTAL] = {q->rental_cents, "=rental_cost"},
      [PW_COST_TRAVEL] = {q->travel_cents, TEXT("=ROUND(2*travel_distance*travel_rate,%d)", digits)},
      [PW_COST_OVERHEAD] = {q->overhead_cents,
                            TEXT("=overhead_fixed+ROUND(SUM(B%d:B%d)*overhead_rate,%d)", first, last - 1, digits)},
  };
  double most = 0;
  for (int i = 0; i < PW_COST__COUNT; i++)
    most = fmax(most, (double)lines[i].cents);
  const char *all = TEXT("$B$%d:$B$%d", first, last);
  for (int i = 0; i < PW_COST__COUNT; i++) {
    struct pw_grid_cell bar = SAY(SUBTITLE, bar_words(g, most > 0 ? (double)lines[i].cents / most : 0));
    bar.formula = TEXT("=IF(MAX(%s)>0,REPT(\"\xE2\x96\x88\",ROUND(20*B#/MAX(%s),0)),\"\")", all, all);
    ROW(SAY(CELL, pw_words_cost((enum pw_cost_line)i)), CALC(MONEY, lines[i].formula, pw_grid_major(g, lines[i].cents)),
        CALC(PERCENT, "=IF(cost_total=0,0,B#/cost_total)",
             q->cost_cents ? (double)lines[i].cents / unit / ((double)q->cost_cents / unit) : 0),
        bar);
  }
  ROW(SAY(HEAD, "Cost"),
      NAMED(CALC(SUM, TEXT("=SUM(B%d:B%d)", first, last), pw_grid_major(g, q->cost_cents)), "cost_total"));
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
        FIGURE("A guest, by cost, margin and discount", "price_stepped",
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
  pw_grid_part(g, "If others come than were bought for, as planned");
  HEADS("Guests", "Left", "Margin");
  for (int i = 0; i < 2; i++) {
    const struct pw_turnout *t = i == 0 ? &q->fewer : &q->more;
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
  if (!plan->purchase.dishes)
    return;
  pw_grid_part(g, "Food by dish, as planned");
  HEADS("Dish", "Food", "Portions", "Food per portion");
  for (int i = 0; i < plan->demand.n_lines; i++) {
    const struct pw_dish_cost *d = &plan->purchase.dishes[i];
    ROW(SAY(CELL, TEXT("%s, %s", g->of->ev->dishes[plan->demand.lines[i].dish].name,
                       pw_view_service(g->of->view, plan->demand.lines[i].service))),
        MONEY(d->food_cents), NUM(COUNT, pw_words_whole_portions(d->portions)),
        NUM(MONEY, d->portion_cents / g->of->money_unit));
  }
  pw_grid_table(g);
  ROW(SAY(CELL, "No dish's own"), MONEY(plan->purchase.shared_food_cents));
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
  HEADS("Role", "Cost", "Hours paid, as planned", "Hours in tasks, as planned", "Filled");
  for (int i = 0; i < q->n_roles; i++) {
    const struct pw_role_cost *r = &q->roles[i];
    struct pw_grid_cell cost = MONEY(r->cents);
    if (shifts_cents(g->of->ev, r->role) == r->cents)
      cost.formula = TEXT("=SUMPRODUCT((%s=[Role])*%s)", g->of->crew_roles, g->of->crew_costs);
    ROW(SAY(CELL, r->role), cost, NUM(NUMBER, r->paid_h), NUM(NUMBER, r->task_h),
        CALC(PERCENT, "=IF(C#=0,0,D#/C#)", r->paid_h > 0 ? r->task_h / r->paid_h : 0));
  }
}

static void service_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  double power = pow(10, g->of->ev->money_digits);
  if (!q->services)
    return;
  pw_grid_part(g, "Cost by service, as planned: food by its own menu, all else by the guests it feeds");
  HEADS("Service", "All of it", "Food", "All else", "Guests", "A guest");
  for (int i = 0; i < g->of->ev->n_services; i++) {
    const struct pw_service_cost *c = &q->services[i];
    double all = pw_grid_major(g, c->food_cents) + pw_grid_major(g, c->other_cents);
    ROW(SAY(CELL, g->of->ev->services[i].name), CALC(MONEY, "=[Food]+[All else]", all), MONEY(c->food_cents),
        MONEY(c->other_cents), NUM(COUNT, c->guests),
        CALC(MONEY, TEXT("=IF([Guests]=0,0,ROUND([All of it]/[Guests],%d))", g->of->ev->money_digits),
             c->guests > 0 ? floor(all / c->guests * power + 0.5 + 1e-7) / power : 0));
  }
}

static void supplier_part(struct pw_grid *g)
{
  const struct pw_purchase *p = &g->of->plan->purchase;
  if (p->n_orders == 0)
    return;
  pw_grid_part(g, "Suppliers chosen, and the next best, as planned");
  ROW(SAY(HEAD, "Supplier"), SAY(HEAD, "Order"), SAY(HEAD, "Goods"), SAY(HEAD, "Fee, top-up"),
      OVER(SAY(HEAD, "Without them"), 2));
  pw_grid_keep(g);
  for (int i = 0; i < p->n_orders; i++) {
    const struct pw_order *o = &p->orders[i];
    pw_cents extra = o->delivery_cents + o->top_up_cents;
    ROW(SAY(CELL, o->supplier), CALC(MONEY, "=C#+D#", pw_grid_major(g, o->goods_cents + extra)), MONEY(o->goods_cents),
        MONEY(extra),
        OVER(SAY(CELL, o->without_cents < 0 ? "no one else sells it all"
                                            : TEXT("%s more in all", pw_money_format(g->of->ev, o->without_cents).s)),
             2));
  }
}

static void ladder_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  if (q->n_ladder == 0)
    return;
  pw_grid_part(g, "Other head counts, each really planned");
  HEADS("Guests", "Cost", "Price", "Total with tax", "Per guest");
  for (int i = 0; i < q->n_ladder; i++) {
    const struct pw_quote_rung *r = &q->ladder[i];
    const char *remark = r->missed > 0            ? TEXT("short by %d %s", r->missed, pw_view_pieces(r->missed))
                         : r->guests == q->guests ? "this plan"
                                                  : NULL;
    ROW(NUM(COUNT, r->guests), MONEY(r->cost_cents), MONEY(r->price_cents), MONEY(r->total_cents),
        MONEY(r->per_guest_cents), remark ? SAY(CELL, remark) : SKIP(1));
  }
}

/** What each of several jobs bears: a column a job; the sums are those of the cost above. */
static void jobs_part(struct pw_grid *g)
{
  enum { BESIDE = 4, SUM = PW_COST__COUNT, ALONE, PRICE, LEFT, N_LINES };
  static const char *const labels[] = {
      [SUM] = "Cost together", "Cost alone", "Price of its own quote, less discount", "Left"};
  const struct pw_plan *plan = g->of->plan;
  if (plan->n_jobs == 0)
    return;
  pw_grid_part(g, "What each job bears");
  for (int first = 0; first < plan->n_jobs; first += BESIDE) { /* four jobs side by side, then the next four */
    int n = plan->n_jobs - first < BESIDE ? plan->n_jobs - first : BESIDE, top = pw_grid_next(g) + 1;
    struct pw_grid_cell cells[1 + N_LINES][1 + BESIDE] = {{SAY(HEAD, "")}};
    for (int k = 0; k < N_LINES; k++) {
      const char *label = k < SUM ? pw_words_cost((enum pw_cost_line)k) : labels[k];
      cells[1 + k][0] = k == SUM || k == LEFT ? SAY(HEAD, label) : SAY(CELL, label);
    }
    for (int j = 0; j < n; j++) {
      const struct pw_plan_job *job = &plan->jobs[first + j];
      const pw_cents cents[] = {job->food_cents,   job->supplies_cents, job->fuel_cents,     job->labour_cents,
                                job->rental_cents, job->travel_cents,   job->overhead_cents, job->cost_cents,
                                job->alone_cents,  job->price_cents};
      char column = (char)('B' + j);
      cells[0][1 + j] = SAY(HEAD, job->name);
      for (int k = 0; k < LEFT; k++)
        cells[1 + k][1 + j] = MONEY(cents[k]);
      cells[1 + SUM][1 + j] =
          CALC(SUM, TEXT("=SUM(%c%d:%c%d)", column, top, column, top + SUM - 1), pw_grid_major(g, job->cost_cents));
      cells[1 + LEFT][1 + j] = CALC(SUM, TEXT("=%c%d-%c%d", column, top + PRICE, column, top + SUM),
                                    pw_grid_major(g, job->price_cents) - pw_grid_major(g, job->cost_cents));
    }
    for (int k = 0; k <= N_LINES; k++) {
      pw_grid_row(g, cells[k], 1 + n);
      if (k < N_LINES)
        pw_grid_keep(g);
    }
    pw_grid_gap(g);
  }
  pw_grid_line(g, PW_G_NOTE,
               "Shares as planned; they do not follow the inputs. The price above is that of all jobs as if they were "
               "one; each customer's is under Quote.");
}

/** A dish of a meal; the meal is named where there are several. */
static const char *dish_at(struct pw_grid *g, int service, int dish)
{
  bool is_of_many = g->of->ev->n_services > 1;
  return TEXT("%s%s%s", is_of_many ? pw_view_service(g->of->view, service) : "", is_of_many ? ": " : "",
              g->of->ev->dishes[dish].name);
}

/** What each choice costs and asks, beside the job as it stands planned as quickly, those that do not fit too. */
static void choice_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  if (q->n_options == 0)
    return;
  pw_grid_part(g, "Choices, planned quickly, at today's prices");
  HEADS("Choice", "Cost", "Price", "Cost without", "Price without", "More a guest");
  for (int i = 0; i < q->n_options; i++) {
    const struct pw_quote_option *t = &q->options[i];
    const char *of =
        t->instead_of == PW_NONE ? "in addition" : TEXT("instead of %s", g->of->ev->dishes[t->instead_of].name);
    struct pw_grid_cell what = SAY(CELL, TEXT("%s %s", dish_at(g, t->service, t->dish), of));
    if (t->missed > 0)
      ROW(what, OVER(SAY(CELL, TEXT("does not fit, %d %s without a place; not offered", t->missed,
                                    pw_view_pieces(t->missed))),
                     5));
    else
      ROW(what, MONEY(t->cost_cents), MONEY(t->price_cents), MONEY(t->base_cost_cents), MONEY(t->base_price_cents),
          MONEY(t->more_per_guest_cents));
  }
}

/** What could be left out to come to a price that was given, one after the other. */
static void leave_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  pw_cents before = q->cost_cents;
  if (q->n_leaves == 0)
    return;
  pw_grid_part(g, "What could be left out for the price given, one after the other");
  HEADS("Left out", "Saves", "Cost then", "Terms would ask", "Margin");
  for (int i = 0; i < q->n_leaves; i++) {
    const struct pw_quote_leave *t = &q->leaves[i];
    ROW(SAY(CELL, dish_at(g, t->service, t->dish)), MONEY(before - t->cost_cents), MONEY(t->cost_cents),
        MONEY(t->price_cents), NUM(PERCENT, t->margin_frac));
    before = t->cost_cents;
  }
}

/** What being ready on time costs. */
static void level_part(struct pw_grid *g)
{
  const struct pw_quote *q = &g->of->plan->quote;
  if (q->n_levels == 0)
    return;
  pw_grid_part(g, "Ready on time, and what it costs");
  HEADS("Time to spare", "On time, of 100", "Late, 100 jobs", "Cost", "If late costs");
  for (int i = 0; i < q->n_levels; i++) {
    const struct pw_quote_level *level = &q->levels[i];
    ROW(SAY(CELL, pw_level_words(level)), NUM(COUNT, floor(level->chance_frac * 100 + 1e-9)),
        NUM(COUNT, nearbyint(level->late_meals_frac * 100)), MONEY(level->cost_cents),
        level->late_meal_cents > 0 ? MONEY(level->late_meal_cents) : SKIP(1));
    pw_grid_keep(g);
  }
  pw_grid_line(g, PW_G_NOTE,
               "A row pays, against the row above, for whom a late meal costs so much in money or goodwill. What costs "
               "more and is late more often is left out.");
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
