/* grid_inputs.c - the cells a person may change, each with a name; costs, quote and purchases follow them.
 *
 * Another head count carries each need by the demand law [D1]: what is expected grows with the guests, the
 * cushion that covers chance grows with their square root:
 *   need x ((1 - q) s + q sqrt(s)),   s = head count / planned head count,   q = share of the cushion in the need.
 * Whole pieces are found anew from what a piece serves and how both spread [P2].  At the planned values every cell shows what
 * the plan says. */
#include "sheet/grid_pen.h"

#include "base/arena.h"
#include "base/stats.h"
#include "plan/buy/need_growth.h"
#include "plan/demand/head_count.h"
#include "plan/money/quote.h"

#include <math.h>

#define KM_PER_MILE 1.609344 /* exact: international mile, NIST SP 811 (2008), B.8 */

/** A row of label, value and remark. */
struct input {
  const char *label, *name; /**< what formulas call the value */
  struct pw_grid_cell value;
  const char *remark; /**< NULL: the formula says it */
};

static void inputs_write(struct pw_grid *g, const struct input *in, int n)
{
  static const struct {
    double low, high;
    bool is_whole;
  } limits[PW_G__COUNT] = {[PW_G_IN_PERCENT] = {0, 0.99, false},
                           [PW_G_IN_MONEY] = {0, 1e9, false},
                           [PW_G_IN_NUMBER] = {0, 1e9, false},
                           [PW_G_IN_COUNT] = {1, 100000, true}};
  static const char *const yes_no[] = {"yes", "no", NULL};
  for (int i = 0; i < n; i++, in++) {
    enum pw_grid_role role = in->value.role;
    struct pw_grid_cell cells[] = {OVER(SAY(CELL, in->label), 2), NAMED(in->value, in->name),
                                   OVER(SAY(NOTE, in->remark), g->n_columns - 3)};
    pw_grid_row(g, cells, in->remark ? 3 : 2);
    if (limits[role].high > 0)
      pw_grid_numbers(g, 1, 2, 2, limits[role].low, limits[role].high, limits[role].is_whole);
    else if (role == PW_G_IN_TEXT)
      pw_grid_words(g, 1, 2, 2, yes_no);
  }
}

static void job_part(struct pw_grid *g)
{
  const struct pw_event *ev = g->of->ev;
  double heads = g->of->plan->demand.head_count, km = ev->site.travel_m / 1000;
  bool is_us = ev->units == PW_UNITS_US;
  double each = is_us ? KM_PER_MILE : 1;
  const struct input rows[] = {
      {"Head count", "head_count", NUM(IN_COUNT, heads),
       "Amounts follow by the plan's own formula; racks and times need a new plan."},
      {"Head count of this plan", "planned_head_count", NUM(COUNT, heads), ""},
      {"Head count / head count of this plan", "guest_scale", CALC(NUMBER, "=head_count/planned_head_count", 1), NULL},
      {is_us ? "Distance one way, mi" : "Distance one way, km", "travel_distance", NUM(IN_NUMBER, km / each), ""},
      {is_us ? "Travel, price per mi" : "Travel, price per km", "travel_rate",
       NUM(IN_NUMBER, ev->terms.travel_cents_per_km * each / g->of->money_unit), "Out and back are counted."},
  };
  pw_grid_section(g, "Job");
  inputs_write(g, rows, (int)(sizeof rows / sizeof *rows));
}

static void terms_part(struct pw_grid *g)
{
  const struct pw_terms *t = &g->of->ev->terms;
  pw_cents step = t->round_per_guest_cents > 0 ? t->round_per_guest_cents : 1;
  const struct input rows[] = {
      {"Margin of the price", "margin_rate", NUM(IN_PERCENT, t->margin_frac),
       "Of the price after the discount, before charges and tax."},
      {"Overhead on direct costs", "overhead_rate", NUM(IN_PERCENT, t->overhead_frac), ""},
      {"Overhead, fixed", "overhead_fixed", MONEY_AS(IN_MONEY, t->overhead_cents), ""},
      {"Rental", "rental_cost", MONEY_AS(IN_MONEY, g->of->plan->quote.rental_cents), "Tents, tables, permits, pits."},
      {"Energy of the ovens", "oven_cost", MONEY_AS(IN_MONEY, g->of->plan->fuel.oven_cents), ""},
      {"Discount", "discount_rate", NUM(IN_PERCENT, t->discount_frac), ""},
      {"Service charge", "charge_rate", NUM(IN_PERCENT, t->service_charge_frac), ""},
      {"Service charge is taxed", "charge_taxed", SAY(IN_TEXT, t->is_service_charge_taxed ? "yes" : "no"), "yes or no"},
      {"Tax", "tax_rate", NUM(IN_PERCENT, t->tax_frac), ""},
      {"Deposit", "deposit_rate", NUM(IN_PERCENT, t->deposit_frac), "Of the total."},
      {"Least price for a job", "least_price", MONEY_AS(IN_MONEY, t->min_fee_cents), "After the discount."},
      {"Price per guest goes up in steps of", "price_step", MONEY_AS(IN_MONEY, step), ""},
  };
  pw_grid_part(g, "Terms");
  inputs_write(g, rows, (int)(sizeof rows / sizeof *rows));
  pw_grid_numbers(g, 1, 2, 2, 1 / g->of->money_unit, 1e6, false); /* a step of nothing divides by it */
}

static void crew_part(struct pw_grid *g)
{
  const struct pw_event *ev = g->of->ev;
  int heads = pw_head_count(ev) > 0 ? pw_head_count(ev) : 1;
  pw_grid_part(g, "Crew");
  HEADS("Role", "Hands at least", "One hand for this many guests in the shift", "Hours paid", "Rate per h",
        "Overtime, travel, per hand", "Hands", "Cost");
  int first = pw_grid_next(g), last = first + ev->n_crew - 1;
  for (int i = 0; i < ev->n_crew; i++) {
    const struct pw_crew *c = &ev->crew[i];
    double minutes = c->to_at_min - c->from_at_min - (c->worked ? c->worked->unpaid_min : 0),
           extra = c->worked ? c->worked->extra_cents : 0;
    ROW(SAY(CELL, c->role), NUM(IN_COUNT, c->count), NUM(IN_NUMBER, c->guests_per_hand), NUM(IN_NUMBER, minutes / 60),
        NUM(IN_MONEY, c->cents_per_h / g->of->money_unit), NUM(IN_MONEY, extra / g->of->money_unit),
        CALC(COUNT,
             TEXT("=MAX(B#,IF(C#>0,ROUNDUP(ROUND(head_count*%d/%d/C#,6),0),0))", pw_head_count_fed(ev, c), heads),
             pw_head_count_hands(ev, c)),
        CALC(MONEY, TEXT("=ROUND([Hands]*([Hours paid]*[Rate per h]+F#),%d)", ev->money_digits),
             pw_grid_major(g, pw_quote_shift_cents(ev, c))));
  }
  if (ev->n_crew > 0) {
    pw_grid_numbers(g, ev->n_crew, 1, 1, 0, 1000, true);
    pw_grid_numbers(g, ev->n_crew, 2, 5, 0, 1e6, false);
    g->of->crew_roles = TEXT("'%s'!$A$%d:$A$%d", g->name, first, last);
    g->of->crew_costs = TEXT("'%s'!$H$%d:$H$%d", g->name, first, last);
  }
  ROW(OVER(SAY(HEAD, "Crew"), 7), NAMED(ev->n_crew > 0 ? CALC(SUM, TEXT("=SUM(H%d:H%d)", first, last),
                                                              pw_grid_major(g, g->of->plan->quote.labour_cents))
                                                       : NUM(SUM, 0),
                                        "labour_cost"));
}

/** Share of the cushion in the need of a cut's dishes, each dish by its own unit; the reserve grows with the guests. */
static double cushion_share(const struct pw_plan *plan, int cut)
{
  double sum = 0;
  int n = 0;
  for (int i = 0; i < plan->demand.n_lines; i++)
    if (plan->event->dishes[plan->demand.lines[i].dish].cut == cut) {
      sum += pw_need_cushion_frac(plan, i);
      n++;
    }
  return n > 0 ? floor(sum / n * 1000 + 0.5) / 1000 : 0;
}

/** Numbers of the rows of the yields table by cut, 0: not in it; share of the cushion in F, yield / planned yield in G. */
static void yield_part(struct pw_grid *g, int *row_of)
{
  const struct pw_event *ev = g->of->ev;
  const struct pw_purchase *pu = &g->of->plan->purchase;
  pw_grid_part(g, "Yields of what is cooked");
  HEADS("Cut", "Pieces planned", "Trimmed of bought", "Cooked of trimmed", "Both, as planned", "Cushion in the need",
        "Yield / planned");
  for (int c = 0; c < ev->n_cuts; c++) {
    const struct pw_cut *cut = &ev->cuts[c];
    int pieces = 0;
    for (int i = 0; i < pu->n_raws; i++)
      pieces += pu->raws[i].cut == c ? pu->raws[i].pieces : 0;
    if (pieces == 0)
      continue;
    row_of[c] = pw_grid_next(g);
    ROW(SAY(CELL, cut->name), NUM(COUNT, pieces), NUM(IN_PERCENT, cut->trim_frac), NUM(IN_PERCENT, cut->cook_frac),
        NUM(PERCENT, cut->trim_frac * cut->cook_frac), NUM(IN_PERCENT, cushion_share(g->of->plan, c)),
        CALC(NUMBER, "=[Trimmed of bought]*[Cooked of trimmed]/[Both, as planned]", 1));
    pw_grid_numbers(g, 1, 2, 3, 0.05, 1.5, false);
    pw_grid_numbers(g, 1, 5, 5, 0, 1, false);
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

/** Pieces of one service and cut, as a formula of guests and yield in a row of B wanted, C its spread, D least, E what a piece serves, F its
 *  spread; NULL when no formula gives the plan's number.
 *  By weight [P2]: n m - A >= z sqrt(n s^2 + V), solved for n, and n m >= the largest need of one dish. */
static const char *pieces_formula(struct pw_grid *g, const struct pw_raw_need *raw, int yields)
{
  const struct pw_piece_law *law = &raw->law;
  const char *least = TEXT("D#*((1-$F$%d)*guest_scale+$F$%d*SQRT(guest_scale))", yields, yields);
  double per_piece = g->of->ev->cuts[raw->cut].units_per_piece;
  if (law->need_units > 0 && per_piece > 0)
    return round_up(round_up(law->need_units) / per_piece) == raw->pieces
               ? TEXT("=ROUNDUP(ROUND(ROUNDUP(ROUND(%s,6),0)/%.12g,6),0)", least, per_piece)
               : NULL;
  double z = law->cover_frac > 0.5 && law->cover_frac < 1 ? pw_stats_normal_quantile(law->cover_frac) : -1;
  if (z < 0 || !(law->piece_kg > 0) || pieces_by_law(law, z) != raw->pieces)
    return NULL;
  const char *m = TEXT("(E#*$G$%d)", yields), *sd = TEXT("(F#*$G$%d)", yields), *a = "(B#*guest_scale)",
             *v = "(C#^2*guest_scale)", *half = TEXT("(2*%s*%s+%.12g*%s^2)", m, a, z * z, sd);
  return TEXT("=MAX(ROUNDUP(ROUND(MAX(%s,%s)/%s,6),0),ROUNDUP(ROUND((%s+SQRT(MAX(0,%s^2-4*%s^2*(%s^2-%.12g*%s))))/"
              "(2*%s^2),6),0))",
              least, a, m, half, half, m, a, z * z, v, m);
}

static void pieces_part(struct pw_grid *g, const int *yields)
{
  const struct pw_event *ev = g->of->ev;
  const struct pw_purchase *pu = &g->of->plan->purchase;
  const struct pw_grid_cell none = SAY(NUMBER2, "");
  double unit = pw_in_weight(ev->units, 1);
  g->of->raw_pieces = pw_arena_array(g->of->view->arena, (size_t)pu->n_raws + 1, sizeof *g->of->raw_pieces);
  if (!g->of->raw_pieces) {
    g->of->view->failed = true;
    return;
  }
  pw_grid_part(g, TEXT("Whole pieces, served weight in %s or units", pw_unit_weight(ev->units)));
  HEADS("Cut, service", "Wanted, mean", "Its spread", "Least", "A piece serves", "Its spread", "Whole pieces");
  for (int i = 0; i < pu->n_raws; i++) {
    const struct pw_raw_need *raw = &pu->raws[i];
    const struct pw_piece_law *law = &raw->law;
    bool is_by_count = law->need_units > 0;
    const char *formula = yields[raw->cut] > 0 ? pieces_formula(g, raw, yields[raw->cut]) : NULL;
    g->of->raw_pieces[i] = TEXT("'%s'!$G$%d", g->name, pw_grid_next(g));
    ROW(SAY(CELL, TEXT("%s, %s", ev->cuts[raw->cut].name, pw_view_service(g->of->view, raw->service))),
        is_by_count ? none : NUM(NUMBER2, law->ask_kg * unit), is_by_count ? none : NUM(NUMBER2, law->ask_sd_kg * unit),
        NUM(NUMBER2, is_by_count ? law->need_units : law->least_kg * unit),
        NUM(NUMBER2, is_by_count ? ev->cuts[raw->cut].units_per_piece : law->piece_kg * unit),
        is_by_count ? none : NUM(NUMBER2, law->piece_sd_kg * unit),
        CALC(COUNT_BOLD, formula ? formula : TEXT("=ROUNDUP(ROUND(%d*guest_scale,6),0)", raw->pieces), raw->pieces));
  }
}

void pw_grid_inputs(struct pw_grid *g)
{
  int *yields = pw_arena_array(g->of->view->arena, (size_t)g->of->ev->n_cuts + 1, sizeof *yields);
  if (!yields) {
    g->of->view->failed = true;
    return;
  }
  OPEN("Inputs", 26, 11, 13, 11, 11, 12, 11, 14);
  g->is_protected = true;
  pw_grid_title(g, TEXT("Inputs: %s", g->of->ev->name),
                "Change the marked cells here and the prices under Purchases: costs, quote and purchases follow.");
  pw_grid_line(g, PW_G_NOTE,
               "At another head count portions grow with the guests, their cushion with the square root, whole pieces "
               "by what each serves; what is used "
               "once per service or event stays. Packs are rounded up again, but their kinds and the suppliers stay "
               "as planned: a new plan chooses them "
               "anew, and its food cost may differ by a tenth. Pits, racks, fires and shifts stay too: plan again "
               "with that head count.");
  pw_grid_gap(g);
  job_part(g);
  terms_part(g);
  crew_part(g);
  yield_part(g, yields);
  pieces_part(g, yields);
}
