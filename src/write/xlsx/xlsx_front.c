/* xlsx_front.c - the pages for people outside the kitchen: summary, the customer's quote, the serving sheet.
 * The quote carries no cost, so that it can be handed out on paper; its amounts follow the inputs. */
#include "sheet/customer_words.h"
#include "sheet/words.h"
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "base/clock.h"
#include "plan/safety/cautions.h"

#include <limits.h>
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
              fuel ? pw_format_weight(ev->units, fuel->wood_kg).s : "", fuel ? " wood, charcoal " : "",
              fuel ? pw_format_weight(ev->units, fuel->charcoal_kg).s : ""));
  }
  section(&s, "How sure");
  pair(&s, "Allocation",
       TEXT("%s; at most %s of its cost could be saved", pw_view_outcome_word(al->outcome), pw_words_gap(al).s));
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
  const struct pw_event *ev;
  const struct pw_quote *quote;
  const char *name;
  int service_first, n_services;
  bool follows;
};

static void quote_menu(struct book *b, struct sheet *s, const struct offer *o)
{
  const struct pw_event *ev = b->ev;
  for (int i = o->service_first; i < o->service_first + o->n_services; i++) {
    const struct pw_service *sv = &ev->services[i];
    section(s, TEXT("%s, %s, %s", pw_view_service(b->view, i), pw_view_when(b->view, sv->at_min),
                    pw_words_guests(pw_view_guest_count(b->view, i)).s));
    for (int m = 0; m < sv->n_menu; m++) {
      const struct pw_dish *d = &ev->dishes[sv->menu[m].dish];
      const char *allergens = pw_view_allergens(b->view, sv->menu[m].dish);
      pw_put_text(s, s->row, 0, d->name, ST_TEXT);
      pw_put_text(s, s->row, 1, allergens[0] ? TEXT("contains %s", allergens) : "no allergen named", ST_TEXT);
      s->row++;
    }
  }
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
static void dues_write(struct book *b, struct sheet *s, const struct offer *o)
{
  const struct pw_quote *q = o->quote;
  int first = s->row, digits = b->ev->money_digits;
  for (int i = 0; i < q->n_dues; i++) {
    const struct pw_due *due = &q->dues[i];
    bool is_deposit = i == 0 && q->deposit_cents != 0 && due->cents == q->deposit_cents;
    const char *before = i == 0 ? "0" : TEXT("SUM(%s:%s)", pw_cell_name(b, first, 1), pw_cell_name(b, s->row - 1, 1)),
               *formula = NULL;
    double share = is_deposit ? -1 : due_share(o->ev, due);
    if (is_deposit)
      formula = TEXT("=ROUND(price_total*deposit_rate,%d)", digits);
    else if (share >= 0)
      formula = TEXT("=MIN(ROUND(price_total*%.12g,%d),price_total-%s)", share, digits, before);
    else if (i == q->n_dues - 1)
      formula = TEXT("=price_total-%s", before);
    if (i + 1 < q->n_dues)
      pw_sheet_keep(s, s->row);
    pair_money(b, s, TEXT("%s, due %s", due->name, pw_view_date(b->view, due->date)), o->follows ? formula : NULL,
               due->cents, ST_MONEY);
  }
}

/** From the guests to the total. */
static void price_write(struct book *b, struct sheet *s, const struct offer *o)
{
  const struct pw_quote *q = o->quote;
  const char *tax = TEXT("Tax, %s %% as quoted", pw_format_number(o->ev->terms.tax_frac * 100, 3).s);
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
  if (q->discount_cents) {
    pair_money(b, s, "Discount", o->follows ? "=-discount_sum" : NULL, -q->discount_cents, ST_MONEY);
    pair_money(b, s, "Net", o->follows ? "=price_sum-discount_sum" : NULL, q->net_cents, ST_MONEY);
  }
  if (q->service_charge_cents)
    pair_money(b, s, "Service charge", o->follows ? "=charge_sum" : NULL, q->service_charge_cents, ST_MONEY);
  pair_money(b, s, tax, o->follows ? "=tax_sum" : NULL, q->tax_cents, ST_MONEY);
  pair_money(b, s, "Total", o->follows ? "=price_total" : NULL, q->total_cents, ST_MONEY_BOLD);
}

static void offer_write(struct book *b, struct sheet *s, const struct offer *o)
{
  const struct pw_event *ev = o->ev;
  const struct pw_quote *q = o->quote;
  if (ev->site.place)
    pair(s, "Place", ev->site.place);
  quote_menu(b, s, o);
  section(s, "Price");
  price_write(b, s, o);
  if (pw_words_no_labour_offered(ev, q))
    pw_put_text(s, s->row++, 0, pw_words_no_labour_offered(ev, q), ST_LABEL);
  section(s, "Payments");
  dues_write(b, s, o);
  section(s, "At another head count");
  pw_put_heads(s, s->row++, (const char *const[]){"Guests", "Per guest, before tax", "Total"}, 3);
  for (int i = 0; i < q->n_ladder; i++) {
    pw_put_text(s, s->row, 0, TEXT(q->ladder[i].missed > 0 ? "%d, on request" : "%d", q->ladder[i].guests), ST_TEXT);
    pw_put_money(s, s->row, 1, q->ladder[i].per_guest_cents, ST_MONEY);
    pw_put_money(s, s->row++, 2, q->ladder[i].total_cents, ST_MONEY);
  }
  s->row++;
  const char *valid = pw_customer_valid(ev, b->ctx);
  if (!valid)
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  pw_put_merged(
      s, s->row, 0, s->row, 1,
      TEXT("%s Final number of guests by %s.", valid ? valid : "",
           pw_view_date(b->view, pw_date_from_days(pw_date_to_days(ev->date) - ev->terms.final_count_days_before))),
      ST_PLAIN);
  s->row++;
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
    struct offer only = {b->ev, &plan->quote, b->ev->name, 0, b->ev->n_services, true};
    pw_sheet_title(&s, TEXT("Quote: %s", b->ev->name), for_whom(b, b->ev), 1);
    offer_write(b, &s, &only);
  } else
    pw_sheet_title(&s, "Quotes",
                   "One for each customer, each on its own page: the price of that job quoted alone. They do not "
                   "follow the inputs.",
                   1);
  for (int j = 0; j < plan->n_jobs; j++) {
    const struct pw_plan_job *job = &plan->jobs[j];
    struct offer one = {job->alone->event, &job->alone->quote, job->name, job->service_first, job->n_services, false};
    if (j > 0)
      pw_sheet_break(&s, s.row);
    pw_put_merged(&s, s.row, 0, s.row, 1, TEXT("Quote: %s", one.name), ST_TITLE);
    pw_put_merged(&s, s.row + 1, 0, s.row + 1, 1, for_whom(b, one.ev), ST_SUBTITLE);
    s.row += 3;
    offer_write(b, &s, &one);
  }
  pw_sheet_protect(&s);
  pw_sheet_close(&s);
}

/* ---- serving ---------------------------------------------------------------------------------------- */

static void serving_row(struct book *b, struct sheet *s, const struct pw_demand_line *line,
                        const struct pw_menu_line *menu)
{
  const struct pw_event *ev = b->ev;
  const struct pw_dish *d = &ev->dishes[line->dish];
  const char *allergens = pw_view_allergens(b->view, line->dish);
  int pans = pw_words_pans(b->plan, line);
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
  pw_put_text(s, s->row, 5, pans > 0 ? TEXT("%d", pans) : "", ST_BIG);
  pw_put_text(s, s->row, 6, allergens[0] ? allergens : "none listed", ST_BIG_BOLD);
  pw_put_text(s, s->row, 7, pw_view_service(b->view, line->service), ST_LONG);
  pw_sheet_row_height(s, s->row, 22);
  s->row++;
}

void pw_xlsx_serving_write(struct book *b)
{
  const struct pw_demand *demand = &b->plan->demand;
  struct sheet s;
  int line = 0;
  pw_sheet_open(b, &s, "Serving", true);
  pw_sheet_columns(&s, (double[]){30, 12, 14, 19, 14, 10, 36, 24}, 8);
  s.print_col = 6; /* the service stands to the right for the filter */
  pw_sheet_title(&s, TEXT("Serving and allergens: %s", b->ev->name),
                 "Allergens as the dishes list them; read the labels of what was really bought. Hot food goes back "
                 "into a hot box within minutes or is thrown away.",
                 6);
  pw_sheet_head_row(&s, s.row, 0);
  pw_put_heads(
      &s, s.row++,
      (const char *const[]){"Dish", "Form", "Portion", "Portions", "Ready in all", "Pans", "Allergens", "Service"}, 8);
  int head = s.row - 1;
  for (int i = 0; i < b->ev->n_services; i++) {
    const struct pw_service *sv = &b->ev->services[i];
    if (i > 0)
      pw_sheet_break(&s, s.row);
    pw_put_text(&s, s.row, 7, pw_view_service(b->view, i), ST_LONG);
    pw_sheet_row_height(&s, s.row, 24);
    pw_sheet_keep(&s, s.row);
    pw_put_text(&s, s.row++, 0,
                TEXT("%s, %s, %s, %s", pw_view_service(b->view, i), pw_view_when(b->view, sv->at_min),
                     pw_view_style_word(sv->style), pw_view_guests(b->view, i)),
                ST_SECTION);
    for (int m = 0; m < sv->n_menu && line < demand->n_lines; m++)
      serving_row(b, &s, &demand->lines[line++], &sv->menu[m]);
  }
  pw_sheet_filter(&s, head, 0, s.row - 1, 7);
  pw_sheet_close(&s);
}
