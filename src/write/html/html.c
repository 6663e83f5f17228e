/* html.c - the two HTML files: the crew's, in the order of the job and without a price; the customer's, without a cost.
 * The crew's parts are html_crew.c and html_logs.c. */
#include "write/html/html.h"

#include "base/arena.h"
#include "base/clock.h"
#include "plan/safety/cautions.h"
#include "sheet/customer_words.h"
#include "sheet/fuel_words.h"
#include "write/html/html_page.h"

#include <string.h>

#define TEXT(...) pw_view_printf(&h->view, __VA_ARGS__)

static void def(struct html *h, const char *what, const char *value)
{
  pw_html_el(h, "dt", what);
  pw_html_el(h, "dd", value);
}

static void title(struct html *h, const char *kind)
{
  const struct pw_event *ev = h->ev;
  pw_html_raw(h, "<header>");
  pw_html_el(h, "p class=\"note\"", kind);
  pw_html_el(h, "h1", ev->name);
  pw_html_el(h, "p class=\"lead\"",
             TEXT("%s%s%s", pw_view_date(&h->view, ev->date), ev->site.place && ev->site.place[0] ? ", " : "",
                  ev->site.place ? ev->site.place : ""));
  pw_html_raw(h, "</header>\n");
}

/* ---- crew ------------------------------------------------------------------------------------------- */

static void overview(struct html *h, const struct pw_caution *cautions, int n)
{
  const struct pw_event *ev = h->ev;
  pw_html_section(h, "overview", "", "At a glance");
  pw_html_raw(h, "<dl>");
  for (int i = 0; i < ev->n_services; i++)
    def(h, pw_view_service(&h->view, i),
        TEXT("%s, %s, %d guests (%s)", pw_view_when(&h->view, ev->services[i].at_min),
             pw_view_style_word(ev->services[i].style), pw_view_guest_count(&h->view, i), pw_view_guests(&h->view, i)));
  for (int i = 0; i < h->plan->allocation.n_burns; i++) {
    const struct pw_burn *u = &h->plan->allocation.burns[i];
    def(h, ev->pits[u->pit].name,
        TEXT("light %s, food from %s, out %s", pw_view_when(&h->view, u->lit_at_min),
             pw_view_clock(&h->view, u->ready_at_min), pw_view_when(&h->view, u->out_at_min)));
  }
  for (int i = 0; i < h->plan->fuel.n_lines; i++) {
    const struct pw_fuel_line *l = &h->plan->fuel.lines[i];
    def(h, TEXT("Bring %s", ev->fuels[l->fuel].name), TEXT("%s, reserve included", pw_fuel_amount(ev, l).s));
  }
  pw_html_raw(h, "</dl>\n");
  static const char *const heads[] = {"Lot", "Meat", "Pieces", "For"};
  pw_html_el(h, "h3", "Lots: the letters on maps and sheets");
  pw_html_table(h, "compact", heads, 4);
  for (int i = 0; i < h->plan->lots.n_lots; i++) {
    const struct pw_lot *lot = &h->plan->lots.lots[i];
    pw_html_row(h, "");
    pw_html_cell(h, "b", heads[0], h->view.lot_mark[i]);
    pw_html_cell(h, "what b", heads[1], ev->cuts[lot->cut].name);
    pw_html_cell(h, "", heads[2], TEXT("%d", lot->pieces));
    pw_html_cell(h, "", heads[3], pw_view_service(&h->view, lot->service));
    pw_html_row_end(h);
  }
  pw_html_table_end(h);
  pw_html_section_end(h);

  pw_html_section(h, "cautions", "", "Before anything is lit");
  for (int i = 0; i < n; i++) {
    pw_html_raw(h, "<div class=\"caution\">");
    pw_html_el(h, "h3", cautions[i].head);
    pw_html_el(h, "p", cautions[i].text);
    pw_html_raw(h, "</div>\n");
  }
  pw_html_section_end(h);
}

static void navigation(struct html *h)
{
  pw_html_raw(h, "<nav aria-label=\"Parts\"><a href=\"#timeline\">Timeline</a><a href=\"#maps\">Rack maps</a><a "
                 "href=\"#shift\">Everybody</a>");
  for (int r = 0; r < h->view.n_roles; r++) {
    pw_html_rawf(h, "<a href=\"#role-%d\">", r + 1);
    pw_html_text(h, h->view.roles[r].role);
    pw_html_raw(h, "</a>");
  }
  pw_html_raw(h, "<a href=\"#fires\">Fires</a><a href=\"#buy\">Buying</a><a href=\"#prep\">Prep</a><a "
                 "href=\"#temperatures\">Temperatures</a>"
                 "<a href=\"#serving\">Serving</a><a href=\"#cooling\">Cooling</a></nav>\n");
}

/** True when the cautions say it already. */
static bool is_said(const struct pw_caution *cautions, int n, const char *text)
{
  for (int i = 0; i < n; i++)
    if (strcmp(cautions[i].text, text) == 0)
      return true;
  return false;
}

static void warnings(struct html *h, const struct pw_caution *cautions, int n)
{
  if (h->plan->allocation.n_missed > 0)
    pw_html_el(h, "p class=\"alert\"",
               TEXT("%d %s found no place in this plan.", h->plan->allocation.n_missed,
                    pw_view_pieces(h->plan->allocation.n_missed)));
  int n_new = 0;
  for (int i = 0; i < h->plan->n_warnings; i++)
    n_new += !is_said(cautions, n, h->plan->warnings[i].text);
  if (n_new == 0)
    return;
  pw_html_section(h, "warnings", "", "Look at this");
  pw_html_raw(h, "<ul>");
  for (int i = 0; i < h->plan->n_warnings; i++)
    if (!is_said(cautions, n, h->plan->warnings[i].text))
      pw_html_el(h, "li", h->plan->warnings[i].text);
  pw_html_raw(h, "</ul>\n");
  pw_html_section_end(h);
}

pw_status pw_html_crew_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct html page, *h = &page;
  pw_status status = pw_html_open(h, out, plan, "crew", ctx);
  if (status != PW_OK)
    return status;
  title(h, "For the crew");
  navigation(h);
  struct pw_caution *cautions = NULL;
  int n = 0;
  status = pw_cautions_make(&cautions, &n, plan, ctx);
  if (status != PW_OK)
    return status;
  overview(h, cautions, n);
  warnings(h, cautions, n);
  pw_html_timeline_write(h);
  pw_html_maps_write(h);
  pw_html_tasks_write(h);
  pw_html_logs_write(h);
  return pw_html_close(h);
}

/* ---- customer ----------------------------------------------------------------------------------------- */

static void menu(struct html *h)
{
  static const char *const heads[] = {"Dish", "Contains"};
  for (int i = 0; i < h->ev->n_services; i++) {
    const struct pw_service *sv = &h->ev->services[i];
    pw_html_section(h, TEXT("menu-%d", i + 1), "", pw_view_service(&h->view, i));
    pw_html_el(h, "p",
               TEXT("%s %s, %s, %d guests (%s)", pw_view_day(&h->view, sv->at_min), pw_view_clock(&h->view, sv->at_min),
                    pw_view_style_word(sv->style), pw_view_guest_count(&h->view, i), pw_view_guests(&h->view, i)));
    pw_html_table(h, "", heads, 2);
    for (int m = 0; m < sv->n_menu; m++) {
      const char *allergens = pw_view_allergens(&h->view, sv->menu[m].dish);
      pw_html_row(h, "");
      pw_html_cell(h, "what b", "", h->ev->dishes[sv->menu[m].dish].name);
      pw_html_cell(h, "", heads[1], allergens[0] ? allergens : "no allergen named"); /* a blank might mean: not asked */
      pw_html_row_end(h);
    }
    pw_html_table_end(h);
    pw_html_section_end(h);
  }
}

static void amount(struct html *h, const char *classes, const char *label, pw_cents cents)
{
  pw_html_row(h, classes);
  pw_html_cell(h, "what", "", label);
  pw_html_cell(h, "n", "", pw_money_format(h->ev, cents).s);
  pw_html_row_end(h);
}

static void price(struct html *h, struct pw_ctx *ctx)
{
  const struct pw_quote *q = &h->plan->quote;
  static const char *const price_heads[] = {"Price", "Amount"}, *const due_heads[] = {"Payment", "Amount"},
                           *const rung_heads[] = {"Guests", "Per guest, before tax"};
  pw_html_section(h, "price", "", "Price");
  pw_html_table(h, "keep", price_heads, 2);
  if (q->is_least_fee) /* the fee is no price per guest */
    amount(h, "", TEXT("%d %s: the least fee for a job", q->guests, q->guests == 1 ? "guest" : "guests"),
           q->price_cents);
  else {
    amount(h, "", TEXT("Per guest, %d %s", q->guests, q->guests == 1 ? "guest" : "guests"), q->per_guest_cents);
    amount(h, "", q->discount_cents != 0 ? "List price, all guests" : "All guests", q->price_cents);
  }
  if (q->discount_cents != 0) {
    amount(h, "", TEXT("Discount, %s %%", pw_format_number(h->ev->terms.discount_frac * 100, 3).s), -q->discount_cents);
    amount(h, "", "Net", q->net_cents);
  }
  if (q->service_charge_cents != 0)
    amount(h, "", "Service charge", q->service_charge_cents);
  amount(h, "",
         TEXT("Tax, %s %% on %s", pw_format_number(h->ev->terms.tax_frac * 100, 3).s,
              pw_money_format(h->ev, q->taxable_cents).s),
         q->tax_cents);
  amount(h, "sum", "Total", q->total_cents);
  pw_html_table_end(h);
  pw_html_el(h, "h3", "Payments");
  pw_html_table(h, "keep", due_heads, 2);
  for (int i = 0; i < q->n_dues; i++)
    amount(h, "", TEXT("%s, due %s", q->dues[i].name, pw_view_date(&h->view, q->dues[i].date)), q->dues[i].cents);
  pw_html_table_end(h);
  pw_html_el(h, "h3", "At another head count");
  pw_html_table(h, "keep", rung_heads, 2);
  for (int i = 0; i < q->n_ladder; i++)
    amount(h, "",
           TEXT("%d %s%s", q->ladder[i].guests, q->ladder[i].guests == 1 ? "guest" : "guests",
                q->ladder[i].missed > 0 ? ", on request" : ""),
           q->ladder[i].per_guest_cents);
  pw_html_table_end(h);
  const char *valid = pw_customer_valid(h->plan, ctx);
  if (!valid)
    h->buf->failed = true;
  pw_html_el(h, "p",
             TEXT("%s The final head count is due by %s.", valid ? valid : "",
                  pw_view_date(&h->view, pw_date_from_days(pw_date_to_days(h->ev->date) -
                                                           h->ev->terms.final_count_days_before))));
  pw_html_section_end(h);
}

/* A section that is a list of sentences. */
static void sentences(struct html *h, const char *id, const char *name, const char *const *lines, int n)
{
  pw_html_section(h, id, "", name);
  pw_html_raw(h, "<ul>");
  for (int i = 0; i < n; i++)
    pw_html_el(h, "li", lines[i]);
  pw_html_raw(h, "</ul>\n");
  pw_html_section_end(h);
}

pw_status pw_html_customer_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct html page, *h = &page;
  pw_status status = pw_html_open(h, out, plan, "quote", ctx);
  if (status != PW_OK)
    return status;
  title(h, h->ev->customer && h->ev->customer[0] ? TEXT("Quote for %s", h->ev->customer) : "Quote");
  menu(h);
  const char *const *lines = NULL;
  int n = 0;
  if ((status = pw_customer_included(&lines, &n, plan, ctx)) != PW_OK)
    return status;
  sentences(h, "included", "What is included", lines, n);
  price(h, ctx);
  if ((status = pw_customer_cautions(&lines, &n, plan, ctx)) != PW_OK)
    return status;
  sentences(h, "note", "Please note", lines, n);
  return pw_html_close(h);
}
