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

/** Label and text value side by side. */
static void pair(struct sheet *s, const char *label, const char *value)
{
  pw_put_text(s, s->row, 0, label, ST_LABEL);
  pw_put_text(s, s->row, 1, value, ST_VALUE);
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
  pw_put_section(s, 0, 1, title);
}

/* ---- summary ------------------------------------------------------------------------------------ */

static const char *price_words(struct book *b, const struct pw_quote *q)
{
  return TEXT("%s per guest, %s in all with tax", pw_money_format(b->ev, q->per_guest_cents).s,
              pw_money_format(b->ev, q->total_cents).s);
}

void pw_xlsx_summary_write(struct book *b)
{
  const struct pw_event *ev = b->ev;
  const struct pw_allocation *al = &b->plan->allocation;
  struct sheet s;
  pw_sheet_open(b, &s, "Summary", false);
  s.least_scale = 0.8;
  pw_sheet_columns(&s, (double[]){30, 62}, 2);
  pw_sheet_title(
      &s, ev->name,
      TEXT("%s%s%s", pw_view_date(b->view, ev->date), ev->site.place ? ", " : "", ev->site.place ? ev->site.place : ""),
      1);
  if (al->n_missed > 0) {
    pw_put_merged(&s, s.row, 0, s.row, 1,
                  TEXT("%d %s found no place. See Plan check before anything is ordered.", al->n_missed,
                       pw_view_pieces(al->n_missed)),
                  ST_CAUTION);
    s.row += 2;
  }
  if (ev->customer && ev->customer[0])
    pair(&s, "Customer", ev->customer);
  pair(&s, "Head count", TEXT("%d", b->plan->demand.head_count));
  pair(&s, "On paper",
       "Quote and Costs are printed from here, the crew's sheets from crew.html. All else is for the screen.");
  for (int i = 0; i < ev->n_services; i++) {
    const struct pw_service *sv = &ev->services[i];
    pair(&s, pw_view_service(b->view, i),
         TEXT("%s, %s for %s, %s (%s)", pw_view_when(b->view, sv->at_min), pw_view_style_word(sv->style),
              pw_format_minutes(sv->length_min).s, pw_words_guests(pw_view_guest_count(b->view, i)).s,
              pw_view_guests(b->view, i)));
  }
  for (int j = 0; j < b->plan->n_jobs; j++)
    pair(&s, TEXT("Price, %s", b->plan->jobs[j].name), price_words(b, &b->plan->jobs[j].alone->quote));
  if (b->plan->n_jobs == 0)
    pair(&s, "Price as planned", price_words(b, &b->plan->quote));
  section(&s, "The cook");
  for (int i = 0; i < b->plan->lots.n_lots; i++) {
    const struct pw_lot *lot = &b->plan->lots.lots[i];
    int first = INT_MAX, last = INT_MIN;
    for (int k = 0; k < al->n_loads; k++)
      if (al->loads[k].lot == i && al->loads[k].stage <= PW_LOAD_FINISH) {
        first = al->loads[k].start_at_min < first ? al->loads[k].start_at_min : first;
        last = al->loads[k].end_at_min > last ? al->loads[k].end_at_min : last;
      }
    const char *when = first < last ? pw_view_span(b->view, first, last) : "no place";
    pair(&s, TEXT("%s  %s", b->view->lot_mark[i], ev->cuts[lot->cut].name),
         TEXT("%d %s for %s, in the pit %s", lot->pieces, lot->pieces == 1 ? "piece" : "pieces",
              pw_view_service(b->view, lot->service), when));
  }
  section(&s, "Fires");
  for (int i = 0; i < al->n_burns; i++) {
    const struct pw_burn *burn = &al->burns[i];
    const struct pw_burn_fuel *fuel = i < b->plan->fuel.n_burns ? &b->plan->fuel.burns[i] : NULL;
    pair(&s, ev->pits[burn->pit].name,
         TEXT("light %s, out %s%s%s%s%s", pw_view_when(b->view, burn->lit_at_min),
              pw_view_when(b->view, burn->out_at_min), fuel ? "; " : "",
              fuel ? pw_format_fuel(ev->units, fuel->wood_kg).s : "", fuel ? " wood, charcoal " : "",
              fuel ? pw_format_fuel(ev->units, fuel->charcoal_kg).s : ""));
  }
  section(&s, "How sure");
  pair(&s, "Allocation",
       pw_words_is_proved(al)
           ? TEXT("%s; at most %s of its cost could be saved", pw_view_outcome_word(al->outcome), pw_words_gap(al).s)
           : pw_view_outcome_word(al->outcome));
  pair(&s, "Cover", TEXT("each dish lasts with a chance of at least %s", pw_format_percent(ev->terms.cover_frac).s));
  pair(&s, "Warnings", TEXT("%d, listed under Plan check", b->plan->n_warnings));
  section(&s, "Before you light anything");
  struct pw_caution *cautions = NULL;
  int n_cautions = 0;
  if (pw_cautions_make(&cautions, &n_cautions, b->plan, b->ctx) != PW_OK)
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  for (int i = 0; i < n_cautions; i++, s.row++) {
    pw_put_text(&s, s.row, 0, cautions[i].head, ST_VALUE);
    pw_put_text(&s, s.row, 1, cautions[i].text, ST_LABEL);
  }
  pw_sheet_protect(&s);
  pw_sheet_close(&s);
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
  pair_money(b, s, label, o->follows ? formulas[r->amount] : NULL, r->cents, ST_MONEY);
}

static void offer_row(struct book *b, struct sheet *s, const struct offer *o, const struct pw_offer_row *r,
                      int *first_due)
{
  switch (r->kind) {
  case PW_OFFER_FACT:
    pair(s, r->label, r->value);
    return;
  case PW_OFFER_MEAL:
    pw_put_text(s, s->row, 0, r->label, ST_HEAD);
    pw_put_text(s, s->row++, 1, r->value, ST_HEAD);
    return;
  case PW_OFFER_COURSE:
    pw_put_text(s, s->row++, 0, r->label, ST_LABEL);
    return;
  case PW_OFFER_DISH:
    pw_put_text(s, s->row, 0, r->label, ST_TEXT);
    pw_put_text(s, s->row++, 1, r->value[0] ? TEXT("contains %s", r->value) : "no allergen named", ST_TEXT);
    return;
  case PW_OFFER_SAY: { /* a merged cell does not grow by itself */
    enum { CHARS = 92, LINE_PT = 15 };
    pw_put_merged(s, s->row, 0, s->row, 1, r->label, ST_PLAIN);
    pw_sheet_row_height(s, s->row++, LINE_PT * (1 + (double)(pw_utf8_length(r->label) / CHARS)));
    return;
  }
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
    pw_put_text(s, s->row, 1, "Signature and date: ______________________________", ST_TEXT);
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
    pw_put_merged(s, s->row, 0, s->row, 1, doc.letterhead[i], ST_PLAIN);
    s->row++;
  }
  for (int i = 0; i < doc.n_parts; i++) {
    const struct pw_offer_part *part = &doc.parts[i];
    if (part->head[0])
      section(s, part->head);
    if (part->n > 0 && part->rows[0].kind == PW_OFFER_RUNG)
      pw_put_heads(s, s->row++, (const char *const[]){"Guests", "Per guest, before tax", "Total"}, 3);
    for (int k = 0; k < part->n; k++)
      offer_row(b, s, o, &part->rows[k], &first_due);
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
  pw_sheet_columns(&s, (double[]){60, 34, 16}, 3);
  if (plan->n_jobs == 0) {
    struct offer only = {plan, true};
    pw_sheet_title(&s, TEXT("Quote: %s", b->ev->name), for_whom(b, b->ev), 1);
    offer_write(b, &s, &only);
  } else
    pw_sheet_title(&s, "Quotes",
                   "One for each customer, each on its own page: the price of that job quoted alone. They do not "
                   "follow the inputs.",
                   1);
  for (int j = 0; j < plan->n_jobs; j++) {
    const struct pw_plan_job *job = &plan->jobs[j];
    struct offer one = {job->alone, false};
    if (j > 0)
      pw_sheet_break(&s, s.row);
    pw_put_merged(&s, s.row, 0, s.row, 1, TEXT("Quote: %s", job->name), ST_TITLE);
    pw_put_merged(&s, s.row + 1, 0, s.row + 1, 1, for_whom(b, one.plan->event), ST_SUBTITLE);
    s.row += 3;
    offer_write(b, &s, &one);
  }
  pw_sheet_protect(&s);
  pw_sheet_close(&s);
}

/* ---- serving ---------------------------------------------------------------------------------------- */

/* Some dish stands without heat or ice. */
static bool has_labels(const struct pw_plan *plan)
{
  for (int i = 0; i < plan->demand.n_lines; i++)
    if (pw_words_time_control(plan, &plan->demand.lines[i]))
      return true;
  return false;
}

#define LINE_HIGH 16.0 /* points of a line of a long text */

/* Lines that a text takes in a column so many characters wide. */
static double lines_of(const char *text, int wide) { return ceil(1.15 * (double)strlen(text) / wide); }

static void serving_row(struct book *b, struct sheet *s, int nth, const struct pw_menu_line *menu)
{
  const struct pw_event *ev = b->ev;
  const struct pw_demand_line *line = &b->plan->demand.lines[nth];
  const struct pw_dish *d = &ev->dishes[line->dish];
  const char *allergens = pw_view_allergens(b->view, line->dish);
  int col = 7;
  pw_put_text(s, s->row, 0, d->name, ST_BIG_BOLD);
  pw_put_text(s, s->row, 1, pw_view_form(d), ST_BIG);
  pw_put_text(s, s->row, 2,
              d->is_by_count ? TEXT("%s each", pw_format_number(menu->portion_units, 2).s)
                             : TEXT("%s", pw_format_weight(ev->units, menu->portion_kg).s),
              ST_BIG);
  pw_put_text(s, s->row, 3, TEXT("%d, up to %d", line->portions, line->portions_cover), ST_BIG);
  pw_put_text(s, s->row, 4,
              d->is_by_count ? TEXT("%s", pw_format_number(line->need_units, 0).s)
                             : TEXT("%s", pw_format_weight(ev->units, line->need_kg).s),
              ST_BIG);
  pw_put_text(s, s->row, 5, pw_view_pans_out(b->view, nth), ST_TEXT);
  pw_put_text(s, s->row, 6,
              !allergens[0]           ? "none listed"
              : pw_drips_kept_last(d) ? TEXT("%s: own tongs, out last", allergens)
                                      : allergens,
              ST_BIG_BOLD);
  if (has_labels(b->plan))
    pw_put_text(s, s->row, col++, menu->is_time_control ? pw_view_labels(b->view, nth) : "", ST_TEXT);
  pw_put_text(s, s->row, col, pw_view_service(b->view, line->service), ST_LONG);
  double labels = has_labels(b->plan) && menu->is_time_control ? lines_of(pw_view_labels(b->view, nth), 26) : 1,
         pans = lines_of(pw_view_pans_out(b->view, nth), 20);
  pw_sheet_row_height(s, s->row, fmax(22, LINE_HIGH * fmax(labels, pans)));
  s->row++;
}

void pw_xlsx_serving_write(struct book *b)
{
  const struct pw_demand *demand = &b->plan->demand;
  struct sheet s;
  int line = 0;
  bool has = has_labels(b->plan);
  int last = has ? 8 : 7;
  pw_sheet_open(b, &s, "Serving", true);
  if (has)
    pw_sheet_columns(&s, (double[]){30, 12, 14, 19, 14, 20, 32, 26, 24}, 9);
  else
    pw_sheet_columns(&s, (double[]){30, 12, 14, 19, 14, 20, 36, 24}, 8);
  s.print_col = last - 1; /* the service stands to the right for the filter */
  pw_sheet_title(&s, TEXT("Serving and allergens: %s", b->ev->name),
                 "Read the labels of what was bought. Hot food goes back into a hot box within minutes or is thrown "
                 "away. Pans out: at the start, then when how many more.",
                 last - 1);
  if (has) { /* FDA Food Code 2022 3-501.19 */
    pw_put_merged(&s, s.row, 0, s.row, last - 1,
                  TEXT("By the clock, without heat or ice: %s", pw_view_by_the_clock(b->view)), ST_TEXT);
    pw_sheet_row_height(&s, s.row++, 3 * LINE_HIGH);
  }
  pw_sheet_head_row(&s, s.row, 0);
  pw_put_heads(&s, s.row++,
               has ? (const char *const[]){"Dish", "Form", "Portion", "Portions", "Ready in all", "Pans out",
                                           "Allergens", "By the clock, label each pan", "Service"}
                   : (const char *const[]){"Dish", "Form", "Portion", "Portions", "Ready in all", "Pans out",
                                           "Allergens", "Service"},
               last + 1);
  int head = s.row - 1;
  for (int i = 0; i < b->ev->n_services; i++) {
    const struct pw_service *sv = &b->ev->services[i];
    if (i > 0)
      pw_sheet_break(&s, s.row);
    pw_put_text(&s, s.row, last, pw_view_service(b->view, i), ST_LONG);
    pw_sheet_row_height(&s, s.row, 24);
    pw_sheet_keep(&s, s.row);
    pw_put_text(&s, s.row++, 0,
                TEXT("%s, %s, %s, %s", pw_view_service(b->view, i), pw_view_when(b->view, sv->at_min),
                     pw_view_style_word(sv->style), pw_view_guests(b->view, i)),
                ST_SECTION);
    for (int m = 0; m < sv->n_menu && line < demand->n_lines; m++)
      serving_row(b, &s, line++, &sv->menu[m]);
  }
  pw_sheet_filter(&s, head, 0, s.row - 1, last);
  pw_sheet_close(&s);
}
