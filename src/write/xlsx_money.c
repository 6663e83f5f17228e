/* xlsx_money.c - summary, the customer's quote, the owner's costs, purchases.
 * The quote sheet carries no cost, so that it can be handed out. */
#include "write/xlsx_book.h"

#include <limits.h>
#include <string.h>

#define TEXT(...) pw_view_printf(b->view, __VA_ARGS__)

/** Label and text value side by side. */
static void pair(struct sheet *s, const char *label, const char *value)
{
  put_text(s, s->row, 0, label, ST_LABEL);
  put_text(s, s->row, 1, value, ST_VALUE);
  s->row++;
}

/** Label and money side by side. */
static void pair_money(struct sheet *s, const char *label, pw_cents cents, enum style style)
{
  put_text(s, s->row, 0, label, style == ST_MONEY_BOLD ? ST_HEAD : ST_LABEL);
  put_money(s, s->row, 1, cents, style);
  s->row++;
}

static void section(struct sheet *s, const char *title)
{
  s->row++;
  put_text(s, s->row, 0, title, ST_SECTION);
  sheet_row_height(s, s->row, 22);
  s->row++;
}

static const char *guests_text(struct book *b, const struct pw_service *sv)
{
  const char *text = "";
  for (int k = 0; k < b->ev->n_classes; k++)
    if (sv->guests[k] > 0)
      text = TEXT("%s%s%d %s", text, text[0] ? ", " : "", sv->guests[k], b->ev->classes[k].name);
  return text;
}

static int guests_sum(const struct pw_event *ev, const struct pw_service *sv)
{
  int n = 0;
  for (int k = 0; k < ev->n_classes; k++)
    n += sv->guests[k];
  return n;
}

static const char *style_word(enum pw_style style)
{
  static const char *const words[] = {"buffet", "plated", "family style", "boxed", "drop-off"};
  return words[style];
}

/* ---- summary ------------------------------------------------------------------------------------ */

void xlsx_summary_write(struct book *b)
{
  const struct pw_event *ev = b->ev;
  const struct pw_allocation *al = &b->plan->allocation;
  struct sheet s;
  sheet_open(b, &s, "Summary", false);
  sheet_columns(&s, (double[]){30, 62}, 2);
  sheet_title(&s, ev->name, TEXT("%s%s%s", pw_view_date(b->view, ev->date), ev->site.place ? ", " : "", ev->site.place ? ev->site.place : ""), 1);
  if (al->n_missed > 0) {
    put_merged(&s, s.row, 0, s.row, 1, TEXT("%d pieces found no place. See Plan check before anything is ordered.", al->n_missed), ST_CAUTION);
    s.row += 2;
  }
  if (ev->customer && ev->customer[0])
    pair(&s, "Customer", ev->customer);
  pair(&s, "Head count", TEXT("%d", b->plan->demand.head_count));
  for (int i = 0; i < ev->n_services; i++) {
    const struct pw_service *sv = &ev->services[i];
    pair(&s, pw_view_service(b->view, i),
         TEXT("%s, %s for %s, %d guests (%s)", pw_view_when(b->view, sv->at_min), style_word(sv->style),
              pw_format_minutes(sv->length_min).s, guests_sum(ev, sv), guests_text(b, sv)));
  }
  pair(&s, "Price", TEXT("%s per guest, %s in all with tax", pw_money_format(ev, b->plan->quote.per_guest_cents).s,
                         pw_money_format(ev, b->plan->quote.total_cents).s));
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
         TEXT("%d pieces for %s, in the pit %s", lot->pieces, pw_view_service(b->view, lot->service), when));
  }
  section(&s, "Fires");
  for (int i = 0; i < al->n_burns; i++) {
    const struct pw_burn *burn = &al->burns[i];
    const struct pw_burn_fuel *fuel = i < b->plan->fuel.n_burns ? &b->plan->fuel.burns[i] : NULL;
    pair(&s, ev->pits[burn->pit].name,
         TEXT("light %s, out %s%s%s%s%s", pw_view_when(b->view, burn->lit_at_min), pw_view_when(b->view, burn->out_at_min),
              fuel ? "; " : "", fuel ? pw_format_weight(ev->units, fuel->wood_kg).s : "", fuel ? " wood, charcoal " : "",
              fuel ? pw_format_weight(ev->units, fuel->charcoal_kg).s : ""));
  }
  section(&s, "How sure");
  pair(&s, "Allocation", TEXT("%s; its cost is at most %s above the proved bound", pw_view_outcome_word(al->outcome), pw_format_percent(al->gap_frac).s));
  pair(&s, "Cover", TEXT("each dish lasts with a chance of at least %s", pw_format_percent(ev->terms.cover_frac).s));
  pair(&s, "Warnings", TEXT("%d, listed under Plan check", b->plan->n_warnings));
  section(&s, "Before you light anything");
  static const char *const cautions[] = {
    "Carbon monoxide: never a fire under a closed tent, in a trailer or a garage with people in it.",
    "Fire: keep clear of buildings, tents and dry grass; extinguisher and water within reach; ash stays in the pit until it is cold.",
    "Food: the temperatures on these sheets follow the FDA Food Code; local rules and the licensed person on site come first.",
    "Lifting: full racks, pans and boxes take two people; hot steel is marked and gloved.",
  };
  for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++, s.row++)
    put_merged(&s, s.row, 0, s.row, 1, cautions[i], ST_PLAIN);
  sheet_close(&s);
}

/* ---- quote ---------------------------------------------------------------------------------------- */

static void quote_menu(struct book *b, struct sheet *s)
{
  const struct pw_event *ev = b->ev;
  for (int i = 0; i < ev->n_services; i++) {
    const struct pw_service *sv = &ev->services[i];
    section(s, TEXT("%s, %s, %d guests", pw_view_service(b->view, i), pw_view_when(b->view, sv->at_min), guests_sum(ev, sv)));
    for (int m = 0; m < sv->n_menu; m++) {
      const struct pw_dish *d = &ev->dishes[sv->menu[m].dish];
      const char *allergens = "";
      for (int k = 0; k < d->n_allergens; k++)
        allergens = TEXT("%s%s%s", allergens, k ? ", " : "contains ", d->allergens[k]);
      put_text(s, s->row, 0, d->name, ST_TEXT);
      put_text(s, s->row, 1, allergens, ST_TEXT);
      s->row++;
    }
  }
}

void xlsx_quote_write(struct book *b)
{
  const struct pw_event *ev = b->ev;
  const struct pw_quote *q = &b->plan->quote;
  struct sheet s;
  sheet_open(b, &s, "Quote", false);
  sheet_columns(&s, (double[]){56, 36}, 2);
  sheet_title(&s, TEXT("Quote: %s", ev->name), TEXT("%s%s%s", ev->customer && ev->customer[0] ? ev->customer : "", ev->customer && ev->customer[0] ? ", " : "",
                                                    pw_view_date(b->view, ev->date)), 1);
  if (ev->site.place)
    pair(&s, "Place", ev->site.place);
  quote_menu(b, &s);
  section(&s, "Price");
  put_text(&s, s.row, 0, "Guests", ST_LABEL);
  put_number(&s, s.row++, 1, q->guests, ST_COUNT);
  pair_money(&s, "Price per guest", q->per_guest_cents, ST_MONEY);
  pair_money(&s, "Price", q->price_cents, ST_MONEY);
  if (q->discount_cents)
    pair_money(&s, "Discount", -q->discount_cents, ST_MONEY);
  if (q->service_charge_cents)
    pair_money(&s, "Service charge", q->service_charge_cents, ST_MONEY);
  pair_money(&s, TEXT("Tax, %s", pw_format_percent(ev->terms.tax_frac).s), q->tax_cents, ST_MONEY);
  pair_money(&s, "Total", q->total_cents, ST_MONEY_BOLD);
  section(&s, "Payments");
  for (int i = 0; i < q->n_dues; i++)
    pair_money(&s, TEXT("%s, due %s", q->dues[i].name, pw_view_date(b->view, q->dues[i].date)), q->dues[i].cents, ST_MONEY);
  section(&s, "At another head count");
  put_heads(&s, s.row++, (const char *const[]){"Guests", "Per guest, before tax"}, 2);
  for (int i = 0; i < q->n_ladder; i++) {
    if (q->ladder[i].missed > 0)
      continue;
    put_text(&s, s.row, 0, TEXT("%d", q->ladder[i].guests), ST_TEXT);
    put_money(&s, s.row++, 1, q->ladder[i].per_guest_cents, ST_MONEY);
  }
  s.row++;
  put_merged(&s, s.row, 0, s.row, 1,
             TEXT("This quote is open for %d days. The final head count is due %d days before the event.", ev->terms.valid_days, ev->terms.final_count_days_before),
             ST_PLAIN);
  sheet_close(&s);
}

/* ---- costs ------------------------------------------------------------------------------------------ */

void xlsx_costs_write(struct book *b)
{
  const struct pw_quote *q = &b->plan->quote;
  struct sheet s;
  sheet_open(b, &s, "Costs", false);
  sheet_columns(&s, (double[]){34, 16, 16, 16, 14}, 5);
  sheet_title(&s, TEXT("Costs: %s", b->ev->name), "For the owner. Not for the customer.", 4);
  put_heads(&s, s.row++, (const char *const[]){"Cost", "Amount", "Share of cost"}, 3);
  static const char *const names[] = {"Food", "Disposables and supplies", "Wood, charcoal, ovens", "Labour", "Rental", "Travel", "Overhead"};
  const pw_cents cents[] = {q->food_cents, q->supplies_cents, q->fuel_cents, q->labour_cents, q->rental_cents, q->travel_cents, q->overhead_cents};
  int first = s.row, total = first + 7;
  for (int i = 0; i < 7; i++, s.row++) {
    put_text(&s, s.row, 0, names[i], ST_LABEL);
    put_money(&s, s.row, 1, cents[i], ST_MONEY);
    put_formula(&s, s.row, 2, TEXT("=IF(%s=0,0,%s/%s)", cell_name_fixed(b, total, 1), cell_name(b, s.row, 1), cell_name_fixed(b, total, 1)),
                q->cost_cents ? (double)cents[i] / (double)q->cost_cents : 0, ST_PERCENT);
  }
  put_text(&s, total, 0, "Cost", ST_HEAD);
  put_formula(&s, total, 1, TEXT("=SUM(%s:%s)", cell_name(b, first, 1), cell_name(b, total - 1, 1)), (double)q->cost_cents / b->money_unit, ST_MONEY_BOLD);
  s.row = total + 1;
  section(&s, "Price and margin");
  pair_money(&s, "Price before charges and tax", q->price_cents, ST_MONEY);
  pair_money(&s, "Discount", q->discount_cents, ST_MONEY);
  put_text(&s, s.row, 0, "Margin of the price after discount", ST_LABEL);
  put_number(&s, s.row++, 1, q->margin_frac, ST_PERCENT);
  put_text(&s, s.row, 0, "Food share of the price", ST_LABEL);
  put_number(&s, s.row++, 1, q->food_share_frac, ST_PERCENT);
  section(&s, "Ladder of head counts, each planned");
  put_heads(&s, s.row++, (const char *const[]){"Guests", "Cost", "Price", "Total with tax", "Per guest"}, 5);
  for (int i = 0; i < q->n_ladder; i++, s.row++) {
    const struct pw_quote_rung *r = &q->ladder[i];
    put_text(&s, s.row, 0, r->missed ? TEXT("%d (short: %d pieces without a place)", r->guests, r->missed) : TEXT("%d%s", r->guests, r->guests == q->guests ? " (this plan)" : ""),
             ST_TEXT);
    put_money(&s, s.row, 1, r->cost_cents, ST_MONEY);
    put_money(&s, s.row, 2, r->price_cents, ST_MONEY);
    put_money(&s, s.row, 3, r->total_cents, ST_MONEY);
    put_money(&s, s.row, 4, r->per_guest_cents, ST_MONEY);
  }
  sheet_close(&s);
}

/* ---- purchases ---------------------------------------------------------------------------------------- */

void xlsx_purchases_write(struct book *b)
{
  const struct pw_event *ev = b->ev;
  const struct pw_purchase *pu = &b->plan->purchase;
  struct sheet s;
  sheet_open(b, &s, "Purchases", true);
  sheet_columns(&s, (double[]){7, 30, 22, 12, 15, 15, 13, 14, 15, 15, 15}, 11);
  sheet_title(&s, TEXT("Purchases: %s", ev->name), "Amounts are rounded up at the end, to whole pieces and packs. Tick when it is in the van.", 10);
  int head = s.row;
  put_heads(&s, head, (const char *const[]){"Got", "Item", "Supplier", "Packs", "Pack", "Amount", "Price", "Cost", "Order by", "Deliver by", "Thaw from"}, 11);
  s.row++;
  int first = s.row;
  for (int i = 0; i < pu->n_lines; i++) {
    const struct pw_purchase_line *l = &pu->lines[i];
    const struct pw_item *item = &ev->items[l->item];
    const struct pw_offer *o = &item->offers[l->offer];
    if (i == 0 || ev->items[pu->lines[i - 1].item].category != item->category) {
      put_merged(&s, s.row, 0, s.row, 10, pw_view_category_word(item->category), ST_HEAD);
      s.row++;
    }
    put_text(&s, s.row, 0, "\xE2\x98\x90", ST_TICK);
    put_text(&s, s.row, 1, item->name, ST_TEXT_BOLD);
    put_text(&s, s.row, 2, o->supplier, ST_TEXT);
    put_number(&s, s.row, 3, l->packs, ST_COUNT);
    put_text(&s, s.row, 4, o->is_by_weight ? TEXT("%s of %d", o->pack, o->pieces) : TEXT("%s of %s", o->pack, pw_format_amount(ev->units, item->unit, o->amount).s), ST_TEXT);
    put_text(&s, s.row, 5, l->pieces ? TEXT("%d pieces, %s", l->pieces, pw_format_amount(ev->units, item->unit, l->amount).s)
                                     : TEXT("%s", pw_format_amount(ev->units, item->unit, l->amount).s), ST_TEXT);
    put_text(&s, s.row, 6, o->is_by_weight ? TEXT("%s", pw_money_format_per(ev, l->unit_price_cents, PW_UNIT_KG).s)
                                           : TEXT("%s a %s", pw_money_format(ev, (pw_cents)(l->unit_price_cents + 0.5)).s, o->pack), ST_TEXT);
    put_money(&s, s.row, 7, l->cost_cents, ST_MONEY);
    put_text(&s, s.row, 8, TEXT("%s %s", pw_view_day(b->view, l->order_by_at_min), pw_view_clock(b->view, l->order_by_at_min)), ST_TEXT);
    put_text(&s, s.row, 9, TEXT("%s %s", pw_view_day(b->view, l->deliver_at_min), pw_view_clock(b->view, l->deliver_at_min)), ST_TEXT);
    put_text(&s, s.row, 10, l->thaw_from_at_min == INT_MIN ? "" : TEXT("%s %s", pw_view_day(b->view, l->thaw_from_at_min), pw_view_clock(b->view, l->thaw_from_at_min)), ST_TEXT);
    s.row++;
  }
  pw_cents sum = 0;
  for (int i = 0; i < pu->n_lines; i++)
    sum += pu->lines[i].cost_cents;
  put_merged(&s, s.row, 0, s.row, 6, "All purchases", ST_HEAD);
  put_formula(&s, s.row, 7, TEXT("=SUM(%s:%s)", cell_name(b, first, 7), cell_name(b, s.row - 1, 7)), (double)sum / b->money_unit, ST_MONEY_BOLD);
  if (s.ws) {
    worksheet_freeze_panes(s.ws, (lxw_row_t)first, 2);
    book_take(b, worksheet_repeat_rows(s.ws, (lxw_row_t)head, (lxw_row_t)head));
  }
  sheet_close(&s);
}
