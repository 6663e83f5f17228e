/* html.c - the two HTML files: the crew's, in the order of the job and without a price; the customer's, without a cost.
 * The crew's parts are the pack's sheets, laid out by html_sheets.c. */
#include "write/html/html.h"
#include "sheet/words.h"

#include "base/arena.h"
#include "base/clock.h"
#include "sheet/customer_words.h"
#include "write/html/html_page.h"
#include "write/html/html_sheets.h"

#include <string.h>

#define TEXT(...) pw_view_printf(&h->view, __VA_ARGS__)

static void title(struct html *h, const char *where, const char *kind)
{
  const struct pw_event *ev = h->ev;
  pw_html_rawf(h, "<header class=\"%s\">", where);
  pw_html_el(h, "p class=\"note\"", kind);
  pw_html_el(h, "h1", ev->name);
  pw_html_el(h, "p class=\"lead\"",
             TEXT("%s%s%s", pw_view_date(&h->view, ev->date), ev->site.place && ev->site.place[0] ? ", " : "",
                  ev->site.place ? ev->site.place : ""));
  pw_html_raw(h, "</header>\n");
}

/* ---- crew ------------------------------------------------------------------------------------------- */

pw_status pw_html_crew_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct html page, *h = &page;
  struct pw_sheets sheets;
  pw_status status = pw_sheets_make(&sheets, plan, ctx);
  if (status == PW_OK)
    status = pw_html_open(h, out, plan, "crew", ctx);
  if (status != PW_OK)
    return status;
  pw_html_rawf(h, "<div id=\"plan\" data-plan=\"%016llx\">\n", pw_html_sheets_digest(&sheets));
  title(h, "screen", "For the crew");
  pw_html_sheets(h, &sheets);
  pw_html_raw(h, "</div>\n");
  pw_html_script(h);
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
               TEXT("%s %s, %s, %s (%s)", pw_view_day(&h->view, sv->at_min), pw_view_clock(&h->view, sv->at_min),
                    pw_view_style_word(sv->style), pw_words_guests(pw_view_guest_count(&h->view, i)).s,
                    pw_view_guests(&h->view, i)));
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

static void rung(struct html *h, const struct pw_quote_rung *r)
{
  pw_html_row(h, "");
  pw_html_cell(h, "what", "", TEXT("%s%s", pw_words_guests(r->guests).s, r->missed > 0 ? ", on request" : ""));
  pw_html_cell(h, "n", "", pw_money_format(h->ev, r->per_guest_cents).s);
  pw_html_cell(h, "n", "", pw_money_format(h->ev, r->total_cents).s);
  pw_html_row_end(h);
}

static void price(struct html *h, struct pw_ctx *ctx)
{
  const struct pw_quote *q = &h->plan->quote;
  static const char *const price_heads[] = {"Price", "Amount"}, *const due_heads[] = {"Payment", "Amount"},
                           *const rung_heads[] = {"Guests", "Per guest, before tax", "Total"};
  pw_html_section(h, "price", "", "Price");
  pw_html_table(h, "keep", price_heads, 2);
  if (q->is_least_fee) /* the fee is no price per guest */
    amount(h, "", TEXT("%s: the least fee for a job", pw_words_guests(q->guests).s), q->price_cents);
  else {
    amount(h, "", TEXT("Per guest, %s", pw_words_guests(q->guests).s), q->per_guest_cents);
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
  if (pw_words_no_labour_offered(h->ev, q))
    pw_html_el(h, "p", pw_words_no_labour_offered(h->ev, q));
  pw_html_el(h, "h3", "Payments");
  pw_html_table(h, "keep", due_heads, 2);
  for (int i = 0; i < q->n_dues; i++)
    amount(h, "", TEXT("%s, due %s", q->dues[i].name, pw_view_date(&h->view, q->dues[i].date)), q->dues[i].cents);
  pw_html_table_end(h);
  pw_html_el(h, "h3", "At another head count");
  pw_html_table(h, "keep", rung_heads, 3);
  for (int i = 0; i < q->n_ladder; i++)
    rung(h, &q->ladder[i]);
  pw_html_table_end(h);
  const char *valid = pw_customer_valid(h->ev, ctx);
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
  title(h, "everywhere", h->ev->customer && h->ev->customer[0] ? TEXT("Quote for %s", h->ev->customer) : "Quote");
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
