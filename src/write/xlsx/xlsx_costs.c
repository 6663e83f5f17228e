/* xlsx_costs.c - the owner's page: costs as bars, the way to the price, margin; below what is printed, tables to look things up in.
 * Formulas follow the inputs and the purchases; the values beside them are the plan's, to the cent. */
#include "sheet/chance_words.h"
#include "sheet/words.h"
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "base/money.h"
#include "plan/demand/head_count.h"
#include "plan/money/quote.h"

#include <math.h>
#include <string.h>
#include <strings.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)
#define SHEET     "Costs"

/** Label, formula with its value, name. */
static void line(struct book *b, struct sheet *s, const char *label, const char *formula, double value,
                 enum style style, const char *name)
{
  pw_put_text(s, s->row, 0, label, style == ST_MONEY_BOLD ? ST_HEAD : ST_LABEL);
  pw_put_formula(s, s->row, 1, formula, value, style);
  if (name)
    pw_book_name(b, name, SHEET, s->row, 1);
  s->row++;
}

static void cost_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  double unit = b->money_unit;
  int digits = b->ev->money_digits;
  const char *no_labour = pw_words_no_labour(b->ev, q);
  if (no_labour) {
    pw_put_merged(s, s->row, 0, s->row, 5, no_labour, ST_CAUTION);
    s->row++;
  }
  pw_put_heads(s, s->row++, (const char *const[]){"Cost", "Amount", "Share of cost"}, 3);
  int first = s->row;
  line(b, s, pw_words_cost(PW_COST_FOOD), "=food_cost", (double)q->food_cents / unit, ST_MONEY, NULL);
  line(b, s, pw_words_cost(PW_COST_SUPPLIES), "=supplies_cost", (double)q->supplies_cents / unit, ST_MONEY, NULL);
  line(b, s, pw_words_cost(PW_COST_FUEL), "=fuel_cost+oven_cost", (double)q->fuel_cents / unit, ST_MONEY, NULL);
  line(b, s, pw_words_cost(PW_COST_CREW), "=labour_cost", (double)q->labour_cents / unit, ST_MONEY, NULL);
  line(b, s, pw_words_cost(PW_COST_RENTAL), "=rental_cost", (double)q->rental_cents / unit, ST_MONEY, NULL);
  line(b, s, pw_words_cost(PW_COST_TRAVEL), TEXT("=ROUND(2*travel_distance*travel_rate,%d)", digits),
       (double)q->travel_cents / unit, ST_MONEY, NULL);
  line(b, s, pw_words_cost(PW_COST_OVERHEAD),
       TEXT("=overhead_fixed+ROUND(SUM(%s:%s)*overhead_rate,%d)", pw_cell_name(b, first, 1),
            pw_cell_name(b, first + 5, 1), digits),
       (double)q->overhead_cents / unit, ST_MONEY, NULL);
  line(b, s, "Cost", TEXT("=SUM(%s:%s)", pw_cell_name(b, first, 1), pw_cell_name(b, first + 6, 1)),
       (double)q->cost_cents / unit, ST_MONEY_BOLD, "cost_total");
  const pw_cents cents[] = {q->food_cents,   q->supplies_cents, q->fuel_cents,    q->labour_cents,
                            q->rental_cents, q->travel_cents,   q->overhead_cents};
  double most = 0;
  for (int i = 0; i < 7; i++)
    most = fmax(most, (double)cents[i]);
  for (int i = 0; i < 7; i++) {
    pw_put_formula(s, first + i, 2, TEXT("=IF(cost_total=0,0,%s/cost_total)", pw_cell_name(b, first + i, 1)),
                   q->cost_cents ? (double)cents[i] / unit / ((double)q->cost_cents / unit) : 0, ST_PERCENT);
    pw_put_bar(s, first + i, 3, pw_cell_name(b, first + i, 1),
               TEXT("%s:%s", pw_cell_name_fixed(b, first, 1), pw_cell_name_fixed(b, first + 6, 1)),
               most > 0 ? (double)cents[i] / most : 0);
  }
}

/** True when the formula below gives the plan's price per guest: not where it goes by the food's share, or was named before. */
static bool price_follows(const struct book *b)
{
  const struct pw_quote *q = &b->plan->quote;
  const struct pw_terms *t = &b->ev->terms;
  return q->guests > 0 && t->margin_frac < 1 && !(t->food_share_frac > 0) && t->quoted_per_guest_cents == 0;
}

static void price_lines(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  const struct pw_terms *t = &b->ev->terms;
  double unit = b->money_unit;
  int d = b->ev->money_digits;
  pw_cents fee_list = pw_money_price_up(t->min_fee_cents, t->discount_frac);
  line(b, s, "List price that leaves the least fee",
       TEXT("=ROUNDUP(ROUND(least_price/(1-discount_rate),%d),%d)", d + 6, d), (double)fee_list / unit, ST_MONEY,
       "least_list");
  if (price_follows(b)) {
    pw_cents asked = pw_money_price_up(pw_money_price_up(q->cost_cents, t->margin_frac), t->discount_frac);
    pw_cents stepped = pw_money_split_up(asked, q->guests, t->round_per_guest_cents);
    line(b, s, "A guest, by cost, margin and discount",
         TEXT("=ROUNDUP(ROUND(ROUNDUP(ROUND(ROUNDUP(ROUND(cost_total/(1-margin_rate),%d),%d)/(1-discount_rate),%d),%d)/"
              "head_count/price_step,6),0)*price_step",
              d + 6, d, d + 6, d),
         (double)stepped / unit, ST_MONEY, "price_stepped");
    line(b, s, "Price per guest",
         TEXT("=IF(head_count*price_stepped-ROUND(head_count*price_stepped*discount_rate,%d)<least_price,"
              "ROUNDUP(ROUND(least_list/head_count,%d),%d),price_stepped)",
              d, d + 6, d),
         (double)q->per_guest_cents / unit, ST_MONEY, "price_per_guest");
    line(b, s, "List price",
         TEXT("=IF(head_count*price_stepped-ROUND(head_count*price_stepped*discount_rate,%d)<least_price,least_list,"
              "head_count*price_stepped)",
              d),
         (double)q->price_cents / unit, ST_MONEY_BOLD, "price_sum");
    return;
  }
  pw_put_text(s, s->row, 0, "Price per guest, as quoted", ST_LABEL);
  pw_put_money(s, s->row, 1, q->per_guest_cents, ST_INPUT_MONEY);
  pw_book_name(b, "price_per_guest", SHEET, s->row++, 1);
  if (q->per_guest_cents * q->guests == q->price_cents)
    line(b, s, "List price",
         TEXT("=IF(head_count*price_per_guest-ROUND(head_count*price_per_guest*discount_rate,%d)<least_price,least_"
              "list,head_count*price_per_guest)",
              d),
         (double)q->price_cents / unit, ST_MONEY_BOLD, "price_sum");
  else {
    pw_put_text(s, s->row, 0, "List price, as quoted", ST_LABEL);
    pw_put_money(s, s->row, 1, q->price_cents, ST_INPUT_MONEY);
    pw_book_name(b, "price_sum", SHEET, s->row++, 1);
  }
}

static void price_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  double unit = b->money_unit;
  int digits = b->ev->money_digits;
  double net = (double)(q->price_cents - q->discount_cents);
  s->row++;
  pw_put_section(s, 0, 5, "From the cost to the total");
  price_lines(b, s);
  line(b, s, "Discount", TEXT("=ROUND(price_sum*discount_rate,%d)", digits), (double)q->discount_cents / unit, ST_MONEY,
       "discount_sum");
  line(b, s, "Net", "=price_sum-discount_sum", net / unit, ST_MONEY, NULL);
  line(b, s, "Service charge", TEXT("=ROUND((price_sum-discount_sum)*charge_rate,%d)", digits),
       (double)q->service_charge_cents / unit, ST_MONEY, "charge_sum");
  line(b, s, "Taxable", "=price_sum-discount_sum+IF(charge_taxed=\"yes\",charge_sum,0)",
       (double)q->taxable_cents / unit, ST_MONEY, "taxable_sum");
  line(b, s, "Tax", TEXT("=ROUND(taxable_sum*tax_rate,%d)", digits), (double)q->tax_cents / unit, ST_MONEY, "tax_sum");
  line(b, s, "Total", "=price_sum-discount_sum+charge_sum+tax_sum", (double)q->total_cents / unit, ST_MONEY_BOLD,
       "price_total");
  line(b, s, "Left after all costs", "=price_sum-discount_sum-cost_total", (net - (double)q->cost_cents) / unit,
       ST_MONEY, NULL);
  line(b, s, "Margin", "=IF(price_sum-discount_sum=0,0,(price_sum-discount_sum-cost_total)/(price_sum-discount_sum))",
       net != 0 ? (net / unit - (double)q->cost_cents / unit) / (net / unit) : 0, ST_PERCENT, NULL);
  line(b, s, "Food share of the price", "=IF(price_sum-discount_sum=0,0,food_cost/(price_sum-discount_sum))",
       net != 0 ? (double)q->food_cents / unit / (net / unit) : 0, ST_PERCENT, NULL);
}

static void turnout_row(struct book *b, struct sheet *s, const char *label, const struct pw_turnout *t, bool is_last)
{
  if (!is_last)
    pw_sheet_keep(s, s->row);
  pw_put_text(s, s->row, 0, TEXT("%s, %s", label, pw_words_guests(t->guests).s), ST_LABEL);
  pw_put_money(s, s->row, 1, t->net_cents - t->cost_cents, ST_MONEY);
  pw_put_number(s, s->row++, 2, t->margin_frac, ST_PERCENT);
}

static void turnout_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  s->row++;
  pw_put_section(s, 0, 5, "If others come than were bought for, as planned");
  pw_put_heads(s, s->row++, (const char *const[]){"Guests", "Left", "Margin"}, 3);
  turnout_row(b, s, "A tenth fewer", &q->fewer, false);
  turnout_row(b, s, "A tenth more", &q->more, q->n_ladder == 0);
  if (q->n_ladder == 0)
    return;
  pw_put_text(s, s->row, 0, "The job makes a profit from", ST_LABEL);
  pw_put_merged(s, s->row, 1, s->row, 2,
                q->break_even_guests == PW_NONE ? "no head count of the ladder"
                : q->break_even_guests == 0     ? "every head count of the ladder"
                                                : TEXT("%s", pw_words_guests(q->break_even_guests).s),
                ST_VALUE);
  s->row++;
}

/** Cooked meat of a guest at each meal beside what is usual. */
static void meat_part(struct book *b, struct sheet *s)
{
  const struct pw_event *ev = b->ev;
  bool has_head = false;
  for (int i = 0; i < ev->n_services; i++) {
    const char *said = pw_words_meat(b->plan, i, b->view->arena);
    if (said && !*said)
      continue;
    if (!has_head) {
      s->row++;
      pw_put_section(s, 0, 5, "Meat on the plate, as planned");
    }
    has_head = true;
    pw_put_text(s, s->row, 0, ev->services[i].name, ST_LABEL);
    pw_put_merged(s, s->row, 1, s->row, 5, said ? said : "", ST_VALUE);
    s->row++;
  }
}

static void dish_part(struct book *b, struct sheet *s)
{
  const struct pw_plan *plan = b->plan;
  if (!plan->purchase.dishes)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "Food by dish, as planned");
  int head = s->row++;
  for (int i = 0; i < plan->demand.n_lines; i++, s->row++) {
    const struct pw_dish_cost *d = &plan->purchase.dishes[i];
    pw_put_text(s, s->row, 0,
                TEXT("%s, %s", b->ev->dishes[plan->demand.lines[i].dish].name,
                     pw_view_service(b->view, plan->demand.lines[i].service)),
                ST_LABEL);
    pw_put_money(s, s->row, 1, d->food_cents, ST_MONEY);
    pw_put_number(s, s->row, 2, pw_words_whole_portions(d->portions), ST_COUNT);
    pw_put_number(s, s->row, 3, d->portion_cents / b->money_unit, ST_MONEY);
  }
  pw_sheet_table(s, head, 0, s->row - 1, (const char *const[]){"Dish", "Food", "Portions", "Food per portion"}, 4);
  pw_put_text(s, s->row, 0, "No dish's own", ST_LABEL);
  pw_put_money(s, s->row++, 1, plan->purchase.shared_food_cents, ST_MONEY);
}

/** Paid for the role's shifts as the inputs sheet adds them up; upper and lower case alike, as formulas compare. */
static pw_cents shifts_cents(const struct pw_event *ev, const char *role)
{
  pw_cents sum = 0;
  for (int i = 0; i < ev->n_crew; i++) {
    const struct pw_crew *c = &ev->crew[i];
    if (strcasecmp(c->role, role) == 0)
      sum += pw_quote_shift_cents(ev, c);
  }
  return sum;
}

static void role_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  if (q->n_roles == 0 || !b->crew_roles || !b->crew_costs)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "Crew by role");
  pw_put_heads(s, s->row++,
               (const char *const[]){"Role", "Cost", "Hours paid, as planned", "Hours in tasks, as planned", "Filled"},
               5);
  for (int i = 0; i < q->n_roles; i++, s->row++) {
    const struct pw_role_cost *r = &q->roles[i];
    pw_put_text(s, s->row, 0, r->role, ST_LABEL);
    if (shifts_cents(b->ev, r->role) == r->cents)
      pw_put_formula(s, s->row, 1,
                     TEXT("=SUMPRODUCT((%s=%s)*%s)", b->crew_roles, pw_cell_name(b, s->row, 0), b->crew_costs),
                     (double)r->cents / b->money_unit, ST_MONEY);
    else
      pw_put_money(s, s->row, 1, r->cents, ST_MONEY);
    pw_put_number(s, s->row, 2, r->paid_h, ST_NUMBER);
    pw_put_number(s, s->row, 3, r->task_h, ST_NUMBER);
    pw_put_formula(
        s, s->row, 4,
        TEXT("=IF(%s=0,0,%s/%s)", pw_cell_name(b, s->row, 2), pw_cell_name(b, s->row, 3), pw_cell_name(b, s->row, 2)),
        r->paid_h > 0 ? r->task_h / r->paid_h : 0, ST_PERCENT);
  }
}

static void service_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  double unit = b->money_unit, power = pow(10, b->ev->money_digits);
  if (!q->services)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "Cost by service, as planned: food by its own menu, all else by the guests it feeds");
  pw_put_heads(s, s->row++, (const char *const[]){"Service", "All of it", "Food", "All else", "Guests", "A guest"}, 6);
  for (int i = 0; i < b->ev->n_services; i++, s->row++) {
    const struct pw_service_cost *c = &q->services[i];
    double food = (double)c->food_cents / unit, other = (double)c->other_cents / unit;
    pw_put_text(s, s->row, 0, b->ev->services[i].name, ST_LABEL);
    pw_put_formula(s, s->row, 1, TEXT("=%s+%s", pw_cell_name(b, s->row, 2), pw_cell_name(b, s->row, 3)), food + other,
                   ST_MONEY);
    pw_put_money(s, s->row, 2, c->food_cents, ST_MONEY);
    pw_put_money(s, s->row, 3, c->other_cents, ST_MONEY);
    pw_put_number(s, s->row, 4, c->guests, ST_COUNT);
    pw_put_formula(s, s->row, 5,
                   TEXT("=IF(%s=0,0,ROUND(%s/%s,%d))", pw_cell_name(b, s->row, 4), pw_cell_name(b, s->row, 1),
                        pw_cell_name(b, s->row, 4), b->ev->money_digits),
                   c->guests > 0 ? floor((food + other) / c->guests * power + 0.5 + 1e-7) / power : 0, ST_MONEY);
  }
}

static void supplier_part(struct book *b, struct sheet *s)
{
  const struct pw_purchase *p = &b->plan->purchase;
  if (p->n_orders == 0)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "Suppliers chosen, and the next best, as planned");
  pw_put_heads(s, s->row, (const char *const[]){"Supplier", "Order", "Goods", "Fee, top-up"}, 4);
  pw_put_merged(s, s->row, 4, s->row, 5, "Without them", ST_HEAD);
  s->row++;
  for (int i = 0; i < p->n_orders; i++, s->row++) {
    const struct pw_order *o = &p->orders[i];
    pw_cents extra = o->delivery_cents + o->top_up_cents;
    pw_put_text(s, s->row, 0, o->supplier, ST_LABEL);
    pw_put_formula(s, s->row, 1, TEXT("=%s+%s", pw_cell_name(b, s->row, 2), pw_cell_name(b, s->row, 3)),
                   (double)(o->goods_cents + extra) / b->money_unit, ST_MONEY);
    pw_put_money(s, s->row, 2, o->goods_cents, ST_MONEY);
    pw_put_money(s, s->row, 3, extra, ST_MONEY);
    pw_put_merged(s, s->row, 4, s->row, 5,
                  o->without_cents < 0 ? "no one else sells it all"
                                       : TEXT("%s more in all", pw_money_format(b->ev, o->without_cents).s),
                  ST_TEXT);
  }
}

static void ladder_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  if (q->n_ladder == 0)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "Other head counts, each really planned");
  pw_put_heads(s, s->row++, (const char *const[]){"Guests", "Cost", "Price", "Total with tax", "Per guest"}, 5);
  for (int i = 0; i < q->n_ladder; i++, s->row++) {
    const struct pw_quote_rung *r = &q->ladder[i];
    pw_put_number(s, s->row, 0, r->guests, ST_COUNT);
    pw_put_money(s, s->row, 1, r->cost_cents, ST_MONEY);
    pw_put_money(s, s->row, 2, r->price_cents, ST_MONEY);
    pw_put_money(s, s->row, 3, r->total_cents, ST_MONEY);
    pw_put_money(s, s->row, 4, r->per_guest_cents, ST_MONEY);
    if (r->missed > 0)
      pw_put_text(s, s->row, 5, TEXT("short by %d %s", r->missed, pw_view_pieces(r->missed)), ST_TEXT);
    else if (r->guests == q->guests)
      pw_put_text(s, s->row, 5, "this plan", ST_TEXT);
  }
}

/** What each of several jobs bears: a column a job; the sums are those of the cost above. */
static void jobs_part(struct book *b, struct sheet *s)
{
  enum { N_LINES = PW_COST__COUNT };
  const struct pw_plan *plan = b->plan;
  double unit = b->money_unit;
  if (plan->n_jobs == 0)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "What each job bears");
  for (int first = 0; first < plan->n_jobs; first += 4) { /* four jobs side by side, then the next four */
    int n = plan->n_jobs - first < 4 ? plan->n_jobs - first : 4;
    pw_put_text(s, s->row, 0, "", ST_HEAD);
    for (int j = 0; j < n; j++)
      pw_put_text(s, s->row, 1 + j, plan->jobs[first + j].name, ST_HEAD);
    pw_sheet_keep(s, s->row);
    int top = ++s->row;
    for (int k = 0; k < N_LINES; k++, s->row++) {
      pw_sheet_keep(s, s->row);
      pw_put_text(s, s->row, 0, pw_words_cost((enum pw_cost_line)k), ST_LABEL);
      for (int j = 0; j < n; j++) {
        const struct pw_plan_job *job = &plan->jobs[first + j];
        const pw_cents cents[N_LINES] = {job->food_cents,   job->supplies_cents, job->fuel_cents,    job->labour_cents,
                                         job->rental_cents, job->travel_cents,   job->overhead_cents};
        pw_put_money(s, s->row, 1 + j, cents[k], ST_MONEY);
      }
    }
    pw_put_text(s, s->row, 0, "Cost together", ST_HEAD);
    for (int j = 0; j < n; j++)
      pw_put_formula(s, s->row, 1 + j,
                     TEXT("=SUM(%s:%s)", pw_cell_name(b, top, 1 + j), pw_cell_name(b, top + N_LINES - 1, 1 + j)),
                     (double)plan->jobs[first + j].cost_cents / unit, ST_MONEY_BOLD);
    pw_sheet_keep(s, s->row);
    int cost = s->row++;
    pw_put_text(s, s->row, 0, "Cost alone", ST_LABEL);
    for (int j = 0; j < n; j++)
      pw_put_money(s, s->row, 1 + j, plan->jobs[first + j].alone_cents, ST_MONEY);
    pw_sheet_keep(s, s->row);
    s->row++;
    pw_put_text(s, s->row, 0, "Price of its own quote, less discount", ST_LABEL);
    for (int j = 0; j < n; j++)
      pw_put_money(s, s->row, 1 + j, plan->jobs[first + j].price_cents, ST_MONEY);
    pw_sheet_keep(s, s->row);
    int price = s->row++;
    pw_put_text(s, s->row, 0, "Left", ST_HEAD);
    for (int j = 0; j < n; j++)
      pw_put_formula(s, s->row, 1 + j, TEXT("=%s-%s", pw_cell_name(b, price, 1 + j), pw_cell_name(b, cost, 1 + j)),
                     (double)plan->jobs[first + j].price_cents / unit - (double)plan->jobs[first + j].cost_cents / unit,
                     ST_MONEY_BOLD);
    s->row += 2;
  }
  pw_put_merged(s, s->row, 0, s->row, 5,
                "Shares as planned; they do not follow the inputs. The price above is that of all jobs as if they were "
                "one; each customer's is under Quote.",
                ST_NOTE);
  s->row++;
}

/* What each choice costs and asks, beside the job as it stands planned as quickly, those that do not fit too. */
static void choice_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  if (q->n_options == 0)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "Choices, planned quickly, at today's prices");
  pw_put_heads(s, s->row++,
               (const char *const[]){"Choice", "Cost", "Price", "Cost without", "Price without", "More a guest"}, 6);
  for (int i = 0; i < q->n_options; i++, s->row++) {
    const struct pw_quote_option *t = &q->options[i];
    const char *of =
        t->instead_of == PW_NONE ? "in addition" : TEXT("instead of %s", b->ev->dishes[t->instead_of].name);
    pw_put_text(s, s->row, 0,
                TEXT("%s%s%s %s", b->ev->n_services > 1 ? pw_view_service(b->view, t->service) : "",
                     b->ev->n_services > 1 ? ": " : "", b->ev->dishes[t->dish].name, of),
                ST_LABEL);
    if (t->missed > 0) {
      pw_put_merged(s, s->row, 1, s->row, 5,
                    TEXT("does not fit, %d %s without a place; not offered", t->missed, pw_view_pieces(t->missed)),
                    ST_TEXT);
      continue;
    }
    pw_put_money(s, s->row, 1, t->cost_cents, ST_MONEY);
    pw_put_money(s, s->row, 2, t->price_cents, ST_MONEY);
    pw_put_money(s, s->row, 3, t->base_cost_cents, ST_MONEY);
    pw_put_money(s, s->row, 4, t->base_price_cents, ST_MONEY);
    pw_put_money(s, s->row, 5, t->more_per_guest_cents, ST_MONEY);
  }
}

/* What could be left out to come to a price that was given, one after the other. */
static void leave_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  pw_cents before = q->cost_cents;
  if (q->n_leaves == 0)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "What could be left out for the price given, one after the other");
  pw_put_heads(s, s->row++, (const char *const[]){"Left out", "Saves", "Cost then", "Terms would ask", "Margin"}, 5);
  for (int i = 0; i < q->n_leaves; i++, s->row++) {
    const struct pw_quote_leave *t = &q->leaves[i];
    pw_put_text(s, s->row, 0,
                TEXT("%s%s%s", b->ev->n_services > 1 ? pw_view_service(b->view, t->service) : "",
                     b->ev->n_services > 1 ? ": " : "", b->ev->dishes[t->dish].name),
                ST_LABEL);
    pw_put_money(s, s->row, 1, before - t->cost_cents, ST_MONEY);
    pw_put_money(s, s->row, 2, t->cost_cents, ST_MONEY);
    pw_put_money(s, s->row, 3, t->price_cents, ST_MONEY);
    pw_put_number(s, s->row, 4, t->margin_frac, ST_PERCENT);
    before = t->cost_cents;
  }
}

/* What being ready on time costs. */
static void level_part(struct book *b, struct sheet *s)
{
  const struct pw_quote *q = &b->plan->quote;
  if (q->n_levels == 0)
    return;
  s->row++;
  pw_put_section(s, 0, 5, "Ready on time, and what it costs");
  pw_put_heads(s, s->row++,
               (const char *const[]){"Time to spare", "On time, of 100", "Late, 100 jobs", "Cost", "If late costs"}, 5);
  for (int i = 0; i < q->n_levels; i++, s->row++) {
    const struct pw_quote_level *level = &q->levels[i];
    pw_sheet_keep(s, s->row);
    pw_put_text(s, s->row, 0, pw_level_words(level), ST_LABEL);
    pw_put_number(s, s->row, 1, floor(level->chance_frac * 100 + 1e-9), ST_COUNT);
    pw_put_number(s, s->row, 2, nearbyint(level->late_meals_frac * 100), ST_COUNT);
    pw_put_money(s, s->row, 3, level->cost_cents, ST_MONEY);
    if (level->late_meal_cents > 0)
      pw_put_money(s, s->row, 4, level->late_meal_cents, ST_MONEY);
  }
  pw_put_merged(
      s, s->row, 0, s->row, 5,
      "A row pays, against the row above, for whom a late meal costs so much in money or goodwill. What costs more "
      "and is late more often is left out.",
      ST_NOTE);
  s->row++;
}

void pw_xlsx_costs_write(struct book *b)
{
  struct sheet s;
  pw_sheet_open(b, &s, SHEET, false);
  s.least_scale = 0.75;
  s.is_tight = true;
  pw_sheet_columns(&s, (double[]){38, 13, 12, 12, 11, 12}, 6);
  pw_sheet_title(&s, TEXT("Costs: %s", b->ev->name), "For the owner. Not for the customer.", 5);
  cost_part(b, &s);
  price_part(b, &s);
  turnout_part(b, &s);
  choice_part(b, &s);
  leave_part(b, &s);
  level_part(b, &s);
  service_part(b, &s);
  role_part(b, &s);
  jobs_part(b, &s);
  supplier_part(b, &s);
  s.print_rows = s.row++;
  pw_put_merged(&s, s.row, 0, s.row, 5, "What follows is for the screen and is not printed.", ST_NOTE);
  s.row++;
  ladder_part(b, &s);
  meat_part(b, &s);
  dish_part(b, &s);
  pw_sheet_protect(&s);
  pw_sheet_close(&s);
}
