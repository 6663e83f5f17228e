/* xlsx_front.c - the pages for people outside the kitchen: summary, the customer's quote, the serving sheet.
 * The quote carries no cost, so that it can be handed out on paper; its amounts follow the inputs. */
#include "sheet/offer.h"
#include "sheet/words.h"
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/text.h"
#include "plan/lots/drips.h"
#include "plan/safety/cautions.h"

#include <limits.h>
#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)

enum { LAST_COL = 2 }; /* label or course, amount or dish, what it contains */

/** Label and text value side by side. */
static void pair(struct sheet *s, const char *label, const char *value)
{
  pw_put_text(s, s->row, 0, label, ST_LABEL);
  pw_put_merged(s, s->row, 1, s->row, LAST_COL, value, ST_VALUE);
  s->row++;
}

/** Label and money side by side; a formula when one is given. */
static void pair_money(struct book *b, struct sheet *s, const char *label, const char *formula, pw_cents cents,
                       enum style style)
{
  pw_put_text(s, s->row, 0, label, style == ST_MONEY_BOLD ? ST_HEAD : ST_LABEL);
  if (formula)
    pw_put_formula(s, s->row, 1, formula, (double)cents / b->money_unit, style);
  else
    pw_put_money(s, s->row, 1, cents, style);
  s->row++;
}

static void section(struct sheet *s, const char *title)
{
  s->row++;
  pw_put_section(s, 0, LAST_COL, title);
}

/* ---- quote ---------------------------------------------------------------------------------------- */

/** What one customer is quoted.  The only job of a plan follows the inputs; one of several shows its own quote. */
struct offer {
  const struct pw_plan *plan;
  bool follows;
};

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

/** Deposit, instalments, and what is left on the day; together they are the total.  `first`: row of the first of them. */
static void due_write(struct book *b, struct sheet *s, const struct offer *o, const struct pw_offer_row *r, int first)
{
  const struct pw_quote *q = &o->plan->quote;
  const struct pw_due *due = &q->dues[r->index];
  int i = r->index, digits = b->ev->money_digits;
  bool is_deposit = i == 0 && q->deposit_cents != 0 && due->cents == q->deposit_cents;
  const char *before = i == 0 ? "0" : TEXT("SUM(%s:%s)", pw_cell_name(b, first, 1), pw_cell_name(b, s->row - 1, 1)),
             *formula = NULL;
  double share = is_deposit ? -1 : due_share(o->plan->event, due);
  if (is_deposit)
    formula = TEXT("=ROUND(price_total*deposit_rate,%d)", digits);
  else if (share >= 0)
    formula = TEXT("=MIN(ROUND(price_total*%.12g,%d),price_total-%s)", share, digits, before);
  else if (i == q->n_dues - 1)
    formula = TEXT("=price_total-%s", before);
  if (i + 1 < q->n_dues)
    pw_sheet_keep(s, s->row);
  pair_money(b, s, r->label, o->follows ? formula : NULL, due->cents, ST_MONEY);
}

/** Guests, the price of one, the price of all: what may be changed in the inputs stands in cells of its own. */
static void price_write(struct book *b, struct sheet *s, const struct offer *o)
{
  const struct pw_quote *q = &o->plan->quote;
  for (int i = 0; i < 3; i++)
    pw_sheet_keep(s, s->row + i);
  pw_put_text(s, s->row, 0, "Guests", ST_LABEL);
  if (o->follows)
    pw_put_formula(s, s->row++, 1, "=head_count", q->guests, ST_COUNT);
  else
    pw_put_number(s, s->row++, 1, q->guests, ST_COUNT);
  if (!q->is_least_fee) /* the fee is no price per guest */
    pair_money(b, s, "Price per guest", o->follows ? "=price_per_guest" : NULL, q->per_guest_cents, ST_MONEY);
  pair_money(b, s,
             q->is_least_fee     ? "Least fee for a job"
             : q->discount_cents ? "List price"
                                 : "Price",
             o->follows ? "=price_sum" : NULL, q->price_cents, ST_MONEY);
}

/** A label that names a figure which follows the inputs says that it is the one of the quote. */
static void money_write(struct book *b, struct sheet *s, const struct offer *o, const struct pw_offer_row *r)
{
  static const char *const formulas[] = {[PW_AMOUNT_DISCOUNT] = "=-discount_sum",
                                         [PW_AMOUNT_NET] = "=price_sum-discount_sum",
                                         [PW_AMOUNT_CHARGE] = "=charge_sum",
                                         [PW_AMOUNT_TAX] = "=tax_sum"};
  const char *label = r->amount == PW_AMOUNT_TAX
                          ? TEXT("Tax, %s %% as quoted", pw_format_number(o->plan->event->terms.tax_frac * 100, 3).s)
                          : r->label;
  pw_sheet_keep(s, s->row); /* the total follows */
  pair_money(b, s, label, o->follows ? formulas[r->amount] : NULL, r->cents, ST_MONEY);
}

static void offer_row(struct book *b, struct sheet *s, const struct offer *o, const struct pw_offer_row *r,
                      bool follows_course, int *first_due)
{
  switch (r->kind) {
  case PW_OFFER_FACT:
    pair(s, r->label, r->value);
    return;
  case PW_OFFER_MEAL:
    pw_put_merged(s, s->row, 0, s->row, 1, r->label, ST_HEAD);
    pw_put_text(s, s->row, LAST_COL, r->value, ST_HEAD);
    pw_sheet_keep(s, s->row++);
    return;
  case PW_OFFER_COURSE: /* stands before its first dish */
    pw_put_text(s, s->row, 0, r->label, ST_LABEL);
    return;
  case PW_OFFER_DISH:
    if (!follows_course)
      pw_put_blank(s, s->row, 0, ST_LABEL);
    pw_put_text(s, s->row, 1, r->label, ST_TEXT);
    pw_put_text(s, s->row++, LAST_COL, r->value[0] ? TEXT("contains %s", r->value) : "no allergen named", ST_TEXT);
    return;
  case PW_OFFER_SAY:
    pw_put_merged(s, s->row, 0, s->row, LAST_COL, r->label, ST_PLAIN);
    s->row++;
    return;
  case PW_OFFER_PRICE:
    price_write(b, s, o);
    return;
  case PW_OFFER_TOTAL:
    pair_money(b, s, r->label, o->follows ? "=price_total" : NULL, r->cents, ST_MONEY_BOLD);
    return;
  case PW_OFFER_DUE:
    *first_due = r->index == 0 ? s->row : *first_due;
    due_write(b, s, o, r, *first_due);
    return;
  case PW_OFFER_RUNG:
    pw_put_text(s, s->row, 0, r->label, ST_TEXT);
    pw_put_money(s, s->row, 1, r->cents, ST_MONEY);
    pw_put_money(s, s->row++, 2, r->total_cents, ST_MONEY);
    return;
  case PW_OFFER_SIGN:
    pw_put_text(s, s->row, 0, r->label, ST_TEXT);
    pw_put_merged(s, s->row, 1, s->row, LAST_COL, "Signature and date: ______________________________", ST_TEXT);
    pw_sheet_keep(s, s->row);
    pw_sheet_row_height(s, s->row++, 30);
    return;
  default:
    money_write(b, s, o, r);
  }
}

static void offer_write(struct book *b, struct sheet *s, const struct offer *o)
{
  struct pw_offer_sheet doc;
  int first_due = 0;
  if (pw_offer_make(&doc, o->plan, b->ctx) != PW_OK) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  for (int i = 0; i < doc.n_letterhead; i++) {
    pw_put_merged(s, s->row, 0, s->row, LAST_COL, doc.letterhead[i], ST_PLAIN);
    s->row++;
  }
  for (int i = 0; i < doc.n_parts; i++) {
    const struct pw_offer_part *part = &doc.parts[i];
    if (part->head[0])
      section(s, part->head);
    if (part->n > 0 && part->rows[0].kind == PW_OFFER_RUNG)
      pw_put_heads(s, s->row++, (const char *const[]){"Guests", "Per guest, before tax", "Total"}, 3);
    for (int k = 0; k < part->n; k++)
      offer_row(b, s, o, &part->rows[k], k > 0 && part->rows[k - 1].kind == PW_OFFER_COURSE, &first_due);
  }
}

static const char *for_whom(struct book *b, const struct pw_event *ev)
{
  bool has_customer = ev->customer && ev->customer[0];
  return TEXT("%s%s%s", has_customer ? ev->customer : "", has_customer ? ", " : "", pw_view_date(b->view, ev->date));
}

void pw_xlsx_quote_write(struct book *b)
{
  const struct pw_plan *plan = b->plan;
  struct sheet s;
  pw_sheet_open(b, &s, "Quote", false);
  s.least_scale = 0.75;
  s.is_tight = true;
  pw_sheet_columns(&s, (double[]){34, 30, 32}, LAST_COL + 1);
  if (plan->n_jobs == 0) {
    struct offer only = {plan, true};
    pw_sheet_title(&s, TEXT("Quote: %s", b->ev->name), for_whom(b, b->ev), LAST_COL);
    offer_write(b, &s, &only);
  } else
    pw_sheet_title(&s, "Quotes",
                   "One for each customer, each on its own page: the price of that job quoted alone. They do not "
                   "follow the inputs.",
                   LAST_COL);
  for (int j = 0; j < plan->n_jobs; j++) {
    const struct pw_plan_job *job = &plan->jobs[j];
    struct offer one = {job->alone, false};
    if (j > 0)
      pw_sheet_break(&s, s.row);
    pw_put_merged(&s, s.row, 0, s.row, LAST_COL, TEXT("Quote: %s", job->name), ST_TITLE);
    pw_put_merged(&s, s.row + 1, 0, s.row + 1, LAST_COL, for_whom(b, one.plan->event), ST_SUBTITLE);
    s.row += 3;
    offer_write(b, &s, &one);
  }
  pw_sheet_protect(&s);
  pw_sheet_close(&s);
}
