/* grid_quote.c - the customer's quote (offer.h) in the owner's workbook: no cost is on it, so that it can be handed out on paper, and its
 * amounts follow the inputs.  Several jobs planned as one have a page each, which shows the job's own quote and follows nothing. */
#include "sheet/grid_pen.h"
#include "sheet/offer.h"

#include "base/clock.h"

#include <string.h>

/** What one customer is quoted. */
struct quoted {
  const struct pw_plan *plan;
  bool follows;  /**< the inputs */
  int first_due; /**< its row, as formulas say it */
};

/** Label and amount at the far margin; formula NULL: none. */
static void amount(struct pw_grid *g, const struct quoted *o, const char *label, const char *formula, pw_cents cents)
{
  struct pw_grid_cell cell = MONEY(cents);
  cell.formula = o->follows ? formula : NULL;
  ROW(OVER(SAY(CELL, label), 2), cell);
}

/** Share of an instalment by its name and date, or a negative number. */
static double due_share(const struct pw_event *ev, const struct pw_due *due)
{
  for (int i = 0; i < ev->n_instalments; i++) {
    const struct pw_instalment *part = &ev->instalments[i];
    if (strcmp(part->name, due->name) == 0 &&
        pw_date_to_days(ev->date) - part->days_before == pw_date_to_days(due->date))
      return part->frac;
  }
  return -1;
}

/** Deposit, instalments, and what is left on the day; together they are the total. */
static void due_row(struct pw_grid *g, struct quoted *o, const struct pw_offer_row *r)
{
  const struct pw_quote *q = &o->plan->quote;
  const struct pw_due *due = &q->dues[r->index];
  int i = r->index, digits = g->of->ev->money_digits;
  o->first_due = i == 0 ? pw_grid_next(g) : o->first_due;
  const char *before = i == 0 ? "0" : TEXT("SUM(C%d:C%d)", o->first_due, pw_grid_next(g) - 1), *formula = NULL;
  double share = due_share(o->plan->event, due);
  if (i == 0 && q->deposit_cents != 0 && due->cents == q->deposit_cents)
    formula = TEXT("=ROUND(price_total*deposit_rate,%d)", digits);
  else if (share >= 0)
    formula = TEXT("=MIN(ROUND(price_total*%.12g,%d),price_total-%s)", share, digits, before);
  else if (i == q->n_dues - 1)
    formula = TEXT("=price_total-%s", before);
  amount(g, o, r->label, formula, due->cents);
  if (i + 1 < q->n_dues)
    pw_grid_keep(g);
}

/** Guests, the price of one, the price of all: what may be changed in the inputs stands in cells of its own. */
static void price_rows(struct pw_grid *g, const struct quoted *o)
{
  const struct pw_quote *q = &o->plan->quote;
  ROW(OVER(SAY(CELL, "Guests"), 2), o->follows ? CALC(COUNT, "=head_count", q->guests) : NUM(COUNT, q->guests));
  pw_grid_keep(g);
  if (!q->is_least_fee) { /* the fee is no price per guest */
    amount(g, o, "Price per guest", "=price_per_guest", q->per_guest_cents);
    pw_grid_keep(g);
  }
  amount(g, o,
         q->is_least_fee     ? "Least fee for a job"
         : q->discount_cents ? "List price"
                             : "Price",
         "=price_sum", q->price_cents);
  pw_grid_keep(g);
}

/** A label that names a figure which follows the inputs says that it is the one of the quote. */
static void money_row(struct pw_grid *g, const struct quoted *o, const struct pw_offer_row *r)
{
  static const char *const formulas[] = {[PW_AMOUNT_DISCOUNT] = "=-discount_sum",
                                         [PW_AMOUNT_NET] = "=price_sum-discount_sum",
                                         [PW_AMOUNT_CHARGE] = "=charge_sum",
                                         [PW_AMOUNT_TAX] = "=tax_sum"};
  bool is_tax = r->amount == PW_AMOUNT_TAX;
  amount(g, o,
         is_tax ? TEXT("Tax, %s %% as quoted", pw_format_number(o->plan->event->terms.tax_frac * 100, 3).s) : r->label,
         formulas[r->amount], r->cents);
  pw_grid_keep(g); /* the total follows */
}

static void offer_row(struct pw_grid *g, struct quoted *o, const struct pw_offer_row *r, const char *course)
{
  switch (r->kind) {
  case PW_OFFER_FACT:
    ROW(SAY(CELL, r->label), OVER(SAY(BOLD, r->value), 2));
    return;
  case PW_OFFER_MEAL:
    ROW(OVER(SAY(HEAD, r->label), 2), SAY(HEAD, r->value));
    pw_grid_keep(g);
    return;
  case PW_OFFER_COURSE: /* stands before its first dish */
    return;
  case PW_OFFER_DISH:
    ROW(SAY(CELL, course), SAY(CELL, r->label),
        SAY(CELL, TEXT(r->value[0] ? "contains %s" : "%s", pw_offer_contains(r))));
    return;
  case PW_OFFER_SAY:
    pw_grid_line(g, PW_G_PLAIN, r->label);
    return;
  case PW_OFFER_PRICE:
    price_rows(g, o);
    return;
  case PW_OFFER_TOTAL:
    ROW(OVER(SAY(HEAD, r->label), 2),
        o->follows ? CALC(SUM, "=price_total", pw_grid_major(g, r->cents)) : MONEY_AS(SUM, r->cents));
    return;
  case PW_OFFER_DUE:
    due_row(g, o, r);
    return;
  case PW_OFFER_RUNG:
    ROW(SAY(CELL, r->label), MONEY(r->cents), MONEY(r->total_cents));
    return;
  case PW_OFFER_SIGN:
    ROW(SAY(CELL, r->label), OVER(SAY(CELL, TEXT("%s: ______________________________", pw_offer_sign_here)), 2));
    pw_grid_keep(g);
    pw_grid_high(g, 30);
    return;
  default:
    money_row(g, o, r);
  }
}

static void offer_rows(struct pw_grid *g, struct quoted o)
{
  struct pw_offer_sheet doc;
  if (pw_offer_make(&doc, o.plan, g->of->ctx) != PW_OK) {
    g->of->view->failed = true;
    return;
  }
  for (int i = 0; i < doc.n_letterhead; i++)
    pw_grid_line(g, PW_G_PLAIN, doc.letterhead[i]);
  if (doc.n_letterhead > 0)
    pw_grid_gap(g);
  for (int i = 0; i < doc.n_parts; i++) {
    const struct pw_offer_part *part = &doc.parts[i];
    if (part->head[0]) {
      pw_grid_part(g, part->head);
    }
    if (part->n > 0 && part->rows[0].kind == PW_OFFER_RUNG)
      pw_grid_heads(g, pw_offer_rung_heads, 3);
    for (int k = 0; k < part->n; k++) {
      offer_row(g, &o, &part->rows[k],
                k > 0 && part->rows[k - 1].kind == PW_OFFER_COURSE ? part->rows[k - 1].label : "");
      if (part->rows[k].kind == PW_OFFER_SAY && k + 1 < part->n && part->rows[k + 1].kind == PW_OFFER_SAY)
        pw_grid_keep(g); /* a list is not parted from its head, nor its last line from the rest */
    }
  }
}

static const char *for_whom(struct pw_grid *g, const struct pw_event *ev)
{
  bool has_customer = ev->customer && ev->customer[0];
  return TEXT("%s%s%s", has_customer ? ev->customer : "", has_customer ? ", " : "",
              pw_view_date(g->of->view, ev->date));
}

void pw_grid_quote(struct pw_grid *g)
{
  const struct pw_plan *plan = g->of->plan;
  OPEN("Quote", 34, 30, 32);
  g->is_printed = g->is_tight = g->is_protected = true;
  g->least_scale = 0.75;
  if (plan->n_jobs == 0) {
    pw_grid_title(g, TEXT("Quote: %s", g->of->ev->name), for_whom(g, g->of->ev));
    offer_rows(g, (struct quoted){plan, true, 0});
    return;
  }
  pw_grid_title(g, "Quotes",
                "One for each customer, each on its own page: the price of that job quoted alone. They do not "
                "follow the inputs.");
  for (int j = 0; j < plan->n_jobs; j++) {
    const struct pw_plan_job *job = &plan->jobs[j];
    pw_grid_line(g, PW_G_TITLE, TEXT("Quote: %s", job->name));
    if (j > 0)
      pw_grid_page(g);
    pw_grid_line(g, PW_G_SUBTITLE, for_whom(g, job->alone->event));
    pw_grid_gap(g);
    offer_rows(g, (struct quoted){job->alone, false, 0});
  }
}
