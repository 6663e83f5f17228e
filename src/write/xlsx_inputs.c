/* xlsx_inputs.c - the cells a person may change, each with a name; costs, quote and purchases follow them.
 *
 * Another head count carries each need by the demand law [D1]: what is expected grows with the guests, the
 * cushion that covers chance grows with their square root:
 *   factor = (planned yield / yield) x ((1 - q) s + q sqrt(s)),   s = head count / planned head count,
 *   q = share of the cushion in the need.
 * At the planned values every factor is 1 and every cell shows what the plan says. */
#include "write/xlsx_book.h"

#include "base/arena.h"
#include "plan/head_count.h"

#include <math.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)
#define SHEET "Inputs"
#define KM_PER_MILE 1.609344 /* exact: international mile, NIST SP 811 (2008), B.8 */

enum { LAST_COL = 6 };

/** Label, marked cell, remark; names the cell. */
static void input(struct book *b, struct sheet *s, const char *label, double value, enum style style, const char *name, const char *remark)
{
  put_merged(s, s->row, 0, s->row, 1, label, ST_LABEL);
  put_number(s, s->row, 2, value, style);
  put_merged(s, s->row, 3, s->row, LAST_COL, remark, ST_NOTE);
  if (style == ST_INPUT_PERCENT)
    allow_numbers(s, s->row, 2, s->row, 2, 0, 0.99, false);
  else if (style == ST_INPUT_MONEY || style == ST_INPUT_NUMBER)
    allow_numbers(s, s->row, 2, s->row, 2, 0, 1e9, false);
  else if (style == ST_INPUT_COUNT)
    allow_numbers(s, s->row, 2, s->row, 2, 1, 100000, true);
  book_name(b, name, SHEET, s->row, 2);
  s->row++;
}

static void job_part(struct book *b, struct sheet *s)
{
  const struct pw_event *ev = b->ev;
  double heads = b->plan->demand.head_count, km = ev->site.travel_m / 1000;
  bool is_us = ev->units == PW_UNITS_US;
  put_section(s, 0, LAST_COL, "Job");
  input(b, s, "Head count", heads, ST_INPUT_COUNT, "head_count", "Amounts follow by the law of the demand; racks and times need a new plan.");
  input(b, s, "Head count of this plan", heads, ST_COUNT, "planned_head_count", "");
  put_merged(s, s->row, 0, s->row, 1, "Head count / head count of this plan", ST_LABEL);
  put_formula(s, s->row, 2, "=head_count/planned_head_count", 1, ST_NUMBER);
  book_name(b, "guest_scale", SHEET, s->row++, 2);
  input(b, s, is_us ? "Distance one way, mi" : "Distance one way, km", is_us ? km / KM_PER_MILE : km, ST_INPUT_NUMBER, "travel_distance", "");
  input(b, s, is_us ? "Travel, price per mi" : "Travel, price per km",
        ev->terms.travel_cents_per_km * (is_us ? KM_PER_MILE : 1) / b->money_unit, ST_INPUT_NUMBER, "travel_rate", "Out and back are counted.");
}

static void terms_part(struct book *b, struct sheet *s)
{
  static char yes[] = "yes", no[] = "no";
  static char *yes_no[] = {yes, no, NULL};
  const struct pw_terms *t = &b->ev->terms;
  double unit = b->money_unit;
  s->row++;
  put_section(s, 0, LAST_COL, "Terms");
  input(b, s, "Margin of the price", t->margin_frac, ST_INPUT_PERCENT, "margin_rate", "Of the price before charges and tax.");
  input(b, s, "Overhead on direct costs", t->overhead_frac, ST_INPUT_PERCENT, "overhead_rate", "");
  input(b, s, "Overhead, fixed", (double)t->overhead_cents / unit, ST_INPUT_MONEY, "overhead_fixed", "");
  input(b, s, "Rental", (double)b->plan->quote.rental_cents / unit, ST_INPUT_MONEY, "rental_cost", "Tents, tables, permits, pits.");
  input(b, s, "Energy of the ovens", (double)b->plan->fuel.oven_cents / unit, ST_INPUT_MONEY, "oven_cost", "");
  input(b, s, "Discount", t->discount_frac, ST_INPUT_PERCENT, "discount_rate", "");
  input(b, s, "Service charge", t->service_charge_frac, ST_INPUT_PERCENT, "charge_rate", "");
  put_merged(s, s->row, 0, s->row, 1, "Service charge is taxed", ST_LABEL);
  put_text(s, s->row, 2, t->is_service_charge_taxed ? yes : no, ST_INPUT_TEXT);
  put_merged(s, s->row, 3, s->row, LAST_COL, "yes or no", ST_NOTE);
  allow_words(s, s->row, 2, s->row, 2, yes_no);
  book_name(b, "charge_taxed", SHEET, s->row++, 2);
  input(b, s, "Tax", t->tax_frac, ST_INPUT_PERCENT, "tax_rate", "");
  input(b, s, "Deposit", t->deposit_frac, ST_INPUT_PERCENT, "deposit_rate", "Of the total.");
  input(b, s, "Least price for a job", (double)t->min_fee_cents / unit, ST_INPUT_MONEY, "least_price", "");
  double step = t->round_per_guest_cents > 0 ? (double)t->round_per_guest_cents : 1;
  input(b, s, "Price per guest goes up in steps of", step / unit, ST_INPUT_MONEY, "price_step", "");
  allow_numbers(s, s->row - 1, 2, s->row - 1, 2, 1 / unit, 1e6, false);
}

static void crew_part(struct book *b, struct sheet *s)
{
  const struct pw_event *ev = b->ev;
  s->row++;
  put_section(s, 0, LAST_COL, "Crew");
  put_heads(s, s->row++, (const char *const[]){"Role", "Hands at least", "One hand for so many guests", "Hours", "Rate per h", "Hands", "Cost"}, 7);
  int first = s->row;
  for (int i = 0; i < ev->n_crew; i++, s->row++) {
    const struct pw_crew *c = &ev->crew[i];
    int r = s->row, hands = pw_head_count_hands(ev, c);
    double minutes = c->to_at_min - c->from_at_min;
    sheet_keep(s, r);
    put_text(s, r, 0, c->role, ST_TEXT);
    put_number(s, r, 1, c->count, ST_INPUT_COUNT);
    put_number(s, r, 2, c->guests_per_hand, ST_INPUT_NUMBER);
    put_number(s, r, 3, minutes / 60, ST_INPUT_NUMBER);
    put_number(s, r, 4, c->cents_per_h / b->money_unit, ST_INPUT_MONEY);
    put_formula(s, r, 5, TEXT("=MAX(%s,IF(%s>0,ROUNDUP(ROUND(head_count/%s,6),0),0))", cell_name(b, r, 1), cell_name(b, r, 2), cell_name(b, r, 2)), hands, ST_COUNT);
    double cost = floor(hands * minutes * c->cents_per_h / 60 + 0.5 + 1e-6) / b->money_unit;
    put_formula(s, r, 6, TEXT("=ROUND(%s*%s*%s,%d)", cell_name(b, r, 5), cell_name(b, r, 3), cell_name(b, r, 4), ev->money_digits), cost, ST_MONEY);
  }
  if (s->row > first) {
    allow_numbers(s, first, 1, s->row - 1, 1, 0, 1000, true);
    allow_numbers(s, first, 2, s->row - 1, 4, 0, 1e6, false);
    b->crew_roles = TEXT("'%s'!%s:%s", SHEET, cell_name_fixed(b, first, 0), cell_name_fixed(b, s->row - 1, 0));
    b->crew_costs = TEXT("'%s'!%s:%s", SHEET, cell_name_fixed(b, first, 6), cell_name_fixed(b, s->row - 1, 6));
  }
  put_merged(s, s->row, 0, s->row, 5, "Labour", ST_HEAD);
  if (s->row > first)
    put_formula(s, s->row, 6, TEXT("=SUM(%s:%s)", cell_name(b, first, 6), cell_name(b, s->row - 1, 6)), (double)b->plan->quote.labour_cents / b->money_unit, ST_MONEY_BOLD);
  else
    put_number(s, s->row, 6, 0, ST_MONEY_BOLD);
  book_name(b, "labour_cost", SHEET, s->row++, 6);
}

/** Share of the cushion in the need of a cut's dishes, each dish by its own unit. */
static double cushion_share(const struct book *b, int cut)
{
  double sum = 0;
  int n = 0;
  for (int i = 0; i < b->plan->demand.n_lines; i++) {
    const struct pw_demand_line *l = &b->plan->demand.lines[i];
    const struct pw_dish *d = &b->ev->dishes[l->dish];
    double mean = d->is_by_count ? l->mean_units : l->mean_kg, need = d->is_by_count ? l->need_units : l->need_kg;
    if (d->cut != cut || !(need > 0))
      continue;
    sum += 1 - mean / need;
    n++;
  }
  double q = n > 0 ? sum / n : 0;
  return q < 0 ? 0 : q > 1 ? 1 : floor(q * 1000 + 0.5) / 1000;
}

static void yield_part(struct book *b, struct sheet *s)
{
  const struct pw_event *ev = b->ev;
  b->cut_factor = pw_arena_array(b->view->arena, (size_t)ev->n_cuts + 1, sizeof *b->cut_factor);
  if (!b->cut_factor) {
    book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  s->row++;
  put_section(s, 0, LAST_COL, "Yields of what is cooked");
  put_heads(s, s->row++, (const char *const[]){"Cut", "Pieces planned", "Trimmed of bought", "Cooked of trimmed", "Both, as planned", "Cushion in the need", "Need follows by"}, 7);
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    int pieces = 0, r = s->row;
    for (int i = 0; i < b->plan->purchase.n_raws; i++)
      pieces += b->plan->purchase.raws[i].cut == c ? b->plan->purchase.raws[i].pieces : 0;
    if (pieces == 0)
      continue;
    put_text(s, r, 0, cut->name, ST_TEXT);
    put_number(s, r, 1, pieces, ST_COUNT);
    put_number(s, r, 2, cut->trim_frac, ST_INPUT_PERCENT);
    put_number(s, r, 3, cut->cook_frac, ST_INPUT_PERCENT);
    put_number(s, r, 4, cut->trim_frac * cut->cook_frac, ST_PERCENT);
    put_number(s, r, 5, cushion_share(b, c), ST_INPUT_PERCENT);
    put_formula(s, r, 6, TEXT("=%s/(%s*%s)*((1-%s)*guest_scale+%s*SQRT(guest_scale))", cell_name(b, r, 4), cell_name(b, r, 2), cell_name(b, r, 3), cell_name(b, r, 5), cell_name(b, r, 5)),
                1, ST_NUMBER);
    allow_numbers(s, r, 2, r, 3, 0.05, 1.5, false);
    allow_numbers(s, r, 5, r, 5, 0, 1, false);
    b->cut_factor[c] = TEXT("'%s'!%s", SHEET, cell_name_fixed(b, r, 6));
    s->row++;
  }
}

void xlsx_inputs_write(struct book *b)
{
  struct sheet s;
  sheet_open(b, &s, SHEET, false);
  s.least_scale = 0.75;
  sheet_columns(&s, (double[]){26, 11, 13, 12, 12, 12, 14}, 7);
  sheet_title(&s, TEXT("Inputs: %s", b->ev->name), "Change the marked cells here and the prices under Purchases: costs, quote and purchases follow.", LAST_COL);
  put_merged(&s, s.row, 0, s.row, LAST_COL,
             "At another head count each need grows with the guests, its cushion with their square root, and packs are rounded up again. What is used "
             "once per service or event is scaled too. Pits, racks, fires and shifts stay as planned: for those plan again with that head count.",
             ST_NOTE);
  s.row += 2;
  job_part(b, &s);
  terms_part(b, &s);
  crew_part(b, &s);
  yield_part(b, &s);
  sheet_protect(&s);
  sheet_close(&s);
}
