/* xlsx_inputs.c - the cells a person may change, each with a name; costs, quote and purchases follow them.
 *
 * Another head count carries each need by the demand law [D1]: what is expected grows with the guests, the
 * cushion that covers chance grows with their square root:
 *   need x ((1 - q) s + q sqrt(s)),   s = head count / planned head count,   q = share of the cushion in the need.
 * Whole pieces are found anew from what a piece serves and how both spread [P2].  At the planned values every cell shows what
 * the plan says. */
#include "write/xlsx/xlsx_book.h"

#include "base/arena.h"
#include "base/stats.h"
#include "plan/demand/head_count.h"
#include "plan/money/quote.h"

#include <math.h>
#include <string.h>

#define TEXT(...)   pw_view_printf(b->view, __VA_ARGS__)
#define SHEET       "Inputs"
#define KM_PER_MILE 1.609344 /* exact: international mile, NIST SP 811 (2008), B.8 */

enum { LAST_COL = 7 };

/** Label, marked cell, remark; names the cell. */
static void input(struct book *b, struct sheet *s, const char *label, double value, enum style style, const char *name,
                  const char *remark)
{
  pw_put_merged(s, s->row, 0, s->row, 1, label, ST_LABEL);
  pw_put_number(s, s->row, 2, value, style);
  pw_put_merged(s, s->row, 3, s->row, LAST_COL, remark, ST_NOTE);
  if (style == ST_INPUT_PERCENT)
    pw_allow_numbers(s, s->row, 2, s->row, 2, 0, 0.99, false);
  else if (style == ST_INPUT_MONEY || style == ST_INPUT_NUMBER)
    pw_allow_numbers(s, s->row, 2, s->row, 2, 0, 1e9, false);
  else if (style == ST_INPUT_COUNT)
    pw_allow_numbers(s, s->row, 2, s->row, 2, 1, 100000, true);
  pw_book_name(b, name, SHEET, s->row, 2);
  s->row++;
}

static void job_part(struct book *b, struct sheet *s)
{
  const struct pw_event *ev = b->ev;
  double heads = b->plan->demand.head_count, km = ev->site.travel_m / 1000;
  bool is_us = ev->units == PW_UNITS_US;
  pw_put_section(s, 0, LAST_COL, "Job");
  input(b, s, "Head count", heads, ST_INPUT_COUNT, "head_count",
        "Amounts follow by the law of the demand; racks and times need a new plan.");
  input(b, s, "Head count of this plan", heads, ST_COUNT, "planned_head_count", "");
  pw_put_merged(s, s->row, 0, s->row, 1, "Head count / head count of this plan", ST_LABEL);
  pw_put_formula(s, s->row, 2, "=head_count/planned_head_count", 1, ST_NUMBER);
  pw_book_name(b, "guest_scale", SHEET, s->row++, 2);
  input(b, s, is_us ? "Distance one way, mi" : "Distance one way, km", is_us ? km / KM_PER_MILE : km, ST_INPUT_NUMBER,
        "travel_distance", "");
  input(b, s, is_us ? "Travel, price per mi" : "Travel, price per km",
        ev->terms.travel_cents_per_km * (is_us ? KM_PER_MILE : 1) / b->money_unit, ST_INPUT_NUMBER, "travel_rate",
        "Out and back are counted.");
}

static void terms_part(struct book *b, struct sheet *s)
{
  static char yes[] = "yes", no[] = "no";
  static char *yes_no[] = {yes, no, NULL};
  const struct pw_terms *t = &b->ev->terms;
  double unit = b->money_unit;
  s->row++;
  pw_put_section(s, 0, LAST_COL, "Terms");
  input(b, s, "Margin of the price", t->margin_frac, ST_INPUT_PERCENT, "margin_rate",
        "Of the price after the discount, before charges and tax.");
  input(b, s, "Overhead on direct costs", t->overhead_frac, ST_INPUT_PERCENT, "overhead_rate", "");
  input(b, s, "Overhead, fixed", (double)t->overhead_cents / unit, ST_INPUT_MONEY, "overhead_fixed", "");
  input(b, s, "Rental", (double)b->plan->quote.rental_cents / unit, ST_INPUT_MONEY, "rental_cost",
        "Tents, tables, permits, pits.");
  input(b, s, "Energy of the ovens", (double)b->plan->fuel.oven_cents / unit, ST_INPUT_MONEY, "oven_cost", "");
  input(b, s, "Discount", t->discount_frac, ST_INPUT_PERCENT, "discount_rate", "");
  input(b, s, "Service charge", t->service_charge_frac, ST_INPUT_PERCENT, "charge_rate", "");
  pw_put_merged(s, s->row, 0, s->row, 1, "Service charge is taxed", ST_LABEL);
  pw_put_text(s, s->row, 2, t->is_service_charge_taxed ? yes : no, ST_INPUT_TEXT);
  pw_put_merged(s, s->row, 3, s->row, LAST_COL, "yes or no", ST_NOTE);
  pw_allow_words(s, s->row, 2, s->row, 2, yes_no);
  pw_book_name(b, "charge_taxed", SHEET, s->row++, 2);
  input(b, s, "Tax", t->tax_frac, ST_INPUT_PERCENT, "tax_rate", "");
  input(b, s, "Deposit", t->deposit_frac, ST_INPUT_PERCENT, "deposit_rate", "Of the total.");
  input(b, s, "Least price for a job", (double)t->min_fee_cents / unit, ST_INPUT_MONEY, "least_price",
        "After the discount.");
  double step = t->round_per_guest_cents > 0 ? (double)t->round_per_guest_cents : 1;
  input(b, s, "Price per guest goes up in steps of", step / unit, ST_INPUT_MONEY, "price_step", "");
  pw_allow_numbers(s, s->row - 1, 2, s->row - 1, 2, 1 / unit, 1e6, false);
}

static void crew_part(struct book *b, struct sheet *s)
{
  const struct pw_event *ev = b->ev;
  s->row++;
  pw_put_section(s, 0, LAST_COL, "Crew");
  pw_put_heads(s, s->row++,
               (const char *const[]){"Role", "Hands at least", "One hand for so many fed in the shift", "Hours paid",
                                     "Rate per h", "Overtime, travel, per hand", "Hands", "Cost"},
               LAST_COL + 1);
  int first = s->row;
  for (int i = 0; i < ev->n_crew; i++, s->row++) {
    const struct pw_crew *c = &ev->crew[i];
    int r = s->row, hands = pw_head_count_hands(ev, c);
    double minutes = c->to_at_min - c->from_at_min - (c->worked ? c->worked->unpaid_min : 0);
    pw_sheet_keep(s, r);
    pw_put_text(s, r, 0, c->role, ST_TEXT);
    pw_put_number(s, r, 1, c->count, ST_INPUT_COUNT);
    pw_put_number(s, r, 2, c->guests_per_hand, ST_INPUT_NUMBER);
    pw_put_number(s, r, 3, minutes / 60, ST_INPUT_NUMBER);
    pw_put_number(s, r, 4, c->cents_per_h / b->money_unit, ST_INPUT_MONEY);
    pw_put_number(s, r, 5, (c->worked ? c->worked->extra_cents : 0) / b->money_unit, ST_INPUT_MONEY);
    pw_put_formula(s, r, 6,
                   TEXT("=MAX(%s,IF(%s>0,ROUNDUP(ROUND(head_count*%d/%d/%s,6),0),0))", pw_cell_name(b, r, 1),
                        pw_cell_name(b, r, 2), pw_head_count_fed(ev, c), pw_head_count(ev) > 0 ? pw_head_count(ev) : 1,
                        pw_cell_name(b, r, 2)),
                   hands, ST_COUNT);
    pw_put_formula(s, r, 7,
                   TEXT("=ROUND(%s*(%s*%s+%s),%d)", pw_cell_name(b, r, 6), pw_cell_name(b, r, 3), pw_cell_name(b, r, 4),
                        pw_cell_name(b, r, 5), ev->money_digits),
                   (double)pw_quote_shift_cents(ev, c) / b->money_unit, ST_MONEY);
  }
  if (s->row > first) {
    pw_allow_numbers(s, first, 1, s->row - 1, 1, 0, 1000, true);
    pw_allow_numbers(s, first, 2, s->row - 1, 5, 0, 1e6, false);
    b->crew_roles = TEXT("'%s'!%s:%s", SHEET, pw_cell_name_fixed(b, first, 0), pw_cell_name_fixed(b, s->row - 1, 0));
    b->crew_costs = TEXT("'%s'!%s:%s", SHEET, pw_cell_name_fixed(b, first, 7), pw_cell_name_fixed(b, s->row - 1, 7));
  }
  pw_put_merged(s, s->row, 0, s->row, 6, "Crew", ST_HEAD);
  if (s->row > first)
    pw_put_formula(s, s->row, 7, TEXT("=SUM(%s:%s)", pw_cell_name(b, first, 7), pw_cell_name(b, s->row - 1, 7)),
                   (double)b->plan->quote.labour_cents / b->money_unit, ST_MONEY_BOLD);
  else
    pw_put_number(s, s->row, 7, 0, ST_MONEY_BOLD);
  pw_book_name(b, "labour_cost", SHEET, s->row++, 7);
}

/** Share of the cushion in the need of a cut's dishes, each dish by its own unit; the reserve grows with the guests. */
static double cushion_share(const struct book *b, int cut)
{
  double sum = 0;
  int n = 0;
  for (int i = 0; i < b->plan->demand.n_lines; i++) {
    const struct pw_demand_line *l = &b->plan->demand.lines[i];
    if (b->ev->dishes[l->dish].cut != cut)
      continue;
    sum += pw_xlsx_line_cushion(b, i);
    n++;
  }
  return n > 0 ? floor(sum / n * 1000 + 0.5) / 1000 : 0;
}

/** Rows of the yields table: cells of a cut. */
struct cut_cells {
  const char *yield, *cushion; /**< yield / planned yield; share of the cushion */
  double cushion_frac;
};

static void yield_part(struct book *b, struct sheet *s, struct cut_cells *cells)
{
  const struct pw_event *ev = b->ev;
  s->row++;
  pw_put_section(s, 0, LAST_COL, "Yields of what is cooked");
  pw_put_heads(s, s->row++,
               (const char *const[]){"Cut", "Pieces planned", "Trimmed of bought", "Cooked of trimmed",
                                     "Both, as planned", "Cushion in the need", "Yield / planned"},
               7);
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    int pieces = 0, r = s->row;
    for (int i = 0; i < b->plan->purchase.n_raws; i++)
      pieces += b->plan->purchase.raws[i].cut == c ? b->plan->purchase.raws[i].pieces : 0;
    if (pieces == 0)
      continue;
    cells[c].cushion_frac = cushion_share(b, c);
    pw_put_text(s, r, 0, cut->name, ST_TEXT);
    pw_put_number(s, r, 1, pieces, ST_COUNT);
    pw_put_number(s, r, 2, cut->trim_frac, ST_INPUT_PERCENT);
    pw_put_number(s, r, 3, cut->cook_frac, ST_INPUT_PERCENT);
    pw_put_number(s, r, 4, cut->trim_frac * cut->cook_frac, ST_PERCENT);
    pw_put_number(s, r, 5, cells[c].cushion_frac, ST_INPUT_PERCENT);
    pw_put_formula(s, r, 6, TEXT("=%s*%s/%s", pw_cell_name(b, r, 2), pw_cell_name(b, r, 3), pw_cell_name(b, r, 4)), 1,
                   ST_NUMBER);
    pw_allow_numbers(s, r, 2, r, 3, 0.05, 1.5, false);
    pw_allow_numbers(s, r, 5, r, 5, 0, 1, false);
    cells[c].yield = pw_cell_name_fixed(b, r, 6);
    cells[c].cushion = pw_cell_name_fixed(b, r, 5);
    s->row++;
  }
}

/** A number rounded up to a whole one, as the formulas do. */
static double round_up(double x) { return ceil(floor(x * 1e6 + 0.5) / 1e6); }

/** Pieces by the formula below at the planned values. */
static double pieces_by_law(const struct pw_piece_law *law, double z)
{
  double m = law->piece_kg, a = law->ask_kg, b = 2 * m * a + z * z * law->piece_sd_kg * law->piece_sd_kg;
  double root =
      (b + sqrt(fmax(0, b * b - 4 * m * m * (a * a - z * z * law->ask_sd_kg * law->ask_sd_kg)))) / (2 * m * m);
  return fmax(round_up(fmax(law->least_kg, a) / m), round_up(root));
}

/** Pieces of one service and cut, as a formula of guests and yield; NULL when no formula gives the plan's number.
 *  By weight [P2]: n m - A >= z sqrt(n s^2 + V), solved for n, and n m >= the largest need of one dish. */
static const char *pieces_formula(struct book *b, const struct pw_raw_need *raw, const struct cut_cells *cut, int row)
{
  const struct pw_piece_law *law = &raw->law;
  const char *least =
      TEXT("%s*((1-%s)*guest_scale+%s*SQRT(guest_scale))", pw_cell_name(b, row, 3), cut->cushion, cut->cushion);
  double per_piece = b->ev->cuts[raw->cut].units_per_piece;
  if (law->need_units > 0 && per_piece > 0)
    return round_up(round_up(law->need_units) / per_piece) == raw->pieces
               ? TEXT("=ROUNDUP(ROUND(ROUNDUP(ROUND(%s,6),0)/%.12g,6),0)", least, per_piece)
               : NULL;
  double z = law->cover_frac > 0.5 && law->cover_frac < 1 ? pw_stats_normal_quantile(law->cover_frac) : -1;
  if (z < 0 || !(law->piece_kg > 0) || pieces_by_law(law, z) != raw->pieces)
    return NULL;
  const char *m = TEXT("(%s*%s)", pw_cell_name(b, row, 4), cut->yield),
             *sd = TEXT("(%s*%s)", pw_cell_name(b, row, 5), cut->yield);
  const char *a = TEXT("(%s*guest_scale)", pw_cell_name(b, row, 1)),
             *v = TEXT("(%s^2*guest_scale)", pw_cell_name(b, row, 2));
  const char *half = TEXT("(2*%s*%s+%.12g*%s^2)", m, a, z * z, sd);
  return TEXT("=MAX(ROUNDUP(ROUND(MAX(%s,%s)/%s,6),0),ROUNDUP(ROUND((%s+SQRT(MAX(0,%s^2-4*%s^2*(%s^2-%.12g*%s))))/"
              "(2*%s^2),6),0))",
              least, a, m, half, half, m, a, z * z, v, m);
}

static void pieces_part(struct book *b, struct sheet *s, const struct cut_cells *cells)
{
  const struct pw_purchase *pu = &b->plan->purchase;
  double unit = pw_in_weight(b->ev->units, 1);
  b->raw_pieces = pw_arena_array(b->view->arena, (size_t)pu->n_raws + 1, sizeof *b->raw_pieces);
  if (!b->raw_pieces) {
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
    return;
  }
  s->row++;
  pw_put_section(s, 0, LAST_COL, TEXT("Whole pieces, served weight in %s or units", pw_unit_weight(b->ev->units)));
  pw_put_heads(s, s->row++,
               (const char *const[]){"Cut, service", "Wanted, mean", "Its spread", "Least", "A piece serves",
                                     "Its spread", "Whole pieces"},
               7);
  for (int i = 0; i < pu->n_raws; i++, s->row++) {
    const struct pw_raw_need *raw = &pu->raws[i];
    const struct pw_piece_law *law = &raw->law;
    const struct cut_cells *cut = &cells[raw->cut];
    bool is_by_count = law->need_units > 0;
    pw_put_text(s, s->row, 0, TEXT("%s, %s", b->ev->cuts[raw->cut].name, pw_view_service(b->view, raw->service)),
                ST_TEXT);
    pw_put_number(s, s->row, 3, is_by_count ? law->need_units : law->least_kg * unit, ST_NUMBER2);
    pw_put_number(s, s->row, 4, is_by_count ? b->ev->cuts[raw->cut].units_per_piece : law->piece_kg * unit, ST_NUMBER2);
    if (is_by_count)
      for (int c = 0; c < 3; c++)
        pw_put_blank(s, s->row, (const int[]){1, 2, 5}[c], ST_NUMBER2);
    else {
      pw_put_number(s, s->row, 1, law->ask_kg * unit, ST_NUMBER2);
      pw_put_number(s, s->row, 2, law->ask_sd_kg * unit, ST_NUMBER2);
      pw_put_number(s, s->row, 5, law->piece_sd_kg * unit, ST_NUMBER2);
    }
    const char *formula = cut->yield ? pieces_formula(b, raw, cut, s->row) : NULL;
    pw_put_formula(s, s->row, 6, formula ? formula : TEXT("=ROUNDUP(ROUND(%d*guest_scale,6),0)", raw->pieces),
                   raw->pieces, ST_COUNT_BOLD);
    b->raw_pieces[i] = TEXT("'%s'!%s", SHEET, pw_cell_name_fixed(b, s->row, 6));
  }
}

void pw_xlsx_inputs_write(struct book *b)
{
  struct sheet s;
  pw_sheet_open(b, &s, SHEET, false);
  s.least_scale = 0.75;
  pw_sheet_columns(&s, (double[]){26, 11, 13, 11, 11, 12, 11, 14}, LAST_COL + 1);
  pw_sheet_title(&s, TEXT("Inputs: %s", b->ev->name),
                 "Change the marked cells here and the prices under Purchases: costs, quote and purchases follow.",
                 LAST_COL);
  pw_put_merged(&s, s.row, 0, s.row, LAST_COL,
                "At another head count portions grow with the guests, their cushion with the square root, whole pieces "
                "by what each serves; what is used "
                "once per service or event stays. Packs are rounded up again, but their kinds and the suppliers stay "
                "as planned: a new plan chooses them "
                "anew, and its food cost may differ by a tenth. Pits, racks, fires and shifts stay too: plan again "
                "with that head count.",
                ST_NOTE);
  s.row += 2;
  job_part(b, &s);
  terms_part(b, &s);
  crew_part(b, &s);
  struct cut_cells *cells = pw_arena_array(b->view->arena, (size_t)b->ev->n_cuts + 1, sizeof *cells);
  if (!cells)
    pw_book_take(b, LXW_ERROR_MEMORY_MALLOC_FAILED);
  else {
    yield_part(b, &s, cells);
    pieces_part(b, &s, cells);
  }
  pw_sheet_protect(&s);
  pw_sheet_close(&s);
}
