/* html.c - the two HTML files: the crew's, in the order of the job and without a price; the customer's, without a cost.
 * The crew's parts are the pack's sheets, laid out by html_sheets.c. */
#include "write/html/html.h"

#include "base/arena.h"
#include "sheet/offer.h"
#include "write/html/html_fit.h"
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

static void amount(struct html *h, const char *classes, const struct pw_offer_row *r)
{
  pw_html_row(h, classes);
  pw_html_cell(h, "what", "", r->label);
  pw_html_cell(h, "n", "", pw_money_format(h->ev, r->cents).s);
  if (r->kind == PW_OFFER_RUNG)
    pw_html_cell(h, "n", "", pw_money_format(h->ev, r->total_cents).s);
  pw_html_row_end(h);
}

static void fact(struct html *h, const struct pw_offer_row *r)
{
  pw_html_row(h, "");
  pw_html_cell(h, "what", "", r->label);
  pw_html_cell(h, "", "", r->value);
  pw_html_row_end(h);
}

/* A dish; its course stands beside the first of them. */
static void dish(struct html *h, const struct pw_offer_row *r, const char *course)
{
  pw_html_row(h, "");
  pw_html_cell(h, "what", "", course);
  pw_html_cell(h, "what b", "", r->label);
  pw_html_cell(h, "", "", TEXT(r->value[0] ? "contains %s" : "%s", pw_offer_contains(r)));
  pw_html_row_end(h);
}

enum shape { NO_TABLE, LIST, FACTS, MENU, AMOUNTS, RUNGS, SIGNS };

/* Sentences are a list where the part is nothing else. */
static enum shape shape_of(enum pw_offer_kind kind, bool is_list)
{
  switch (kind) {
  case PW_OFFER_MEAL:
    return NO_TABLE;
  case PW_OFFER_SAY:
    return is_list ? LIST : NO_TABLE;
  case PW_OFFER_FACT:
    return FACTS;
  case PW_OFFER_COURSE:
  case PW_OFFER_DISH:
    return MENU;
  case PW_OFFER_RUNG:
    return RUNGS;
  case PW_OFFER_SIGN:
    return SIGNS;
  default:
    return AMOUNTS;
  }
}

static void open_shape(struct html *h, enum shape shape)
{
  static const char *const none[] = {"", "", ""};
  const char *const signs[] = {"Name", pw_offer_sign_here};
  if (shape == LIST)
    pw_html_raw(h, "<ul>");
  else if (shape != NO_TABLE)
    pw_html_table(h, shape == FACTS ? "facts keep" : "keep",
                  shape == RUNGS   ? pw_offer_rung_heads
                  : shape == SIGNS ? signs
                                   : none,
                  shape == RUNGS || shape == MENU ? 3 : 2,
                  shape == RUNGS     ? 2
                  : shape == AMOUNTS ? 1
                                     : 0);
}

static void close_shape(struct html *h, enum shape shape)
{
  if (shape == LIST)
    pw_html_raw(h, "</ul>\n");
  else if (shape != NO_TABLE)
    pw_html_table_end(h);
}

static void offer_row(struct html *h, const struct pw_offer_row *r, bool is_list)
{
  switch (r->kind) {
  case PW_OFFER_MEAL:
    pw_html_el(h, "h3", TEXT("%s: %s", r->label, r->value));
    return;
  case PW_OFFER_SAY:
    pw_html_el(h, is_list ? "li" : "p", r->label);
    return;
  case PW_OFFER_COURSE:
    return; /* beside its first dish */
  case PW_OFFER_DISH:
    dish(h, r, r[-1].kind == PW_OFFER_COURSE ? r[-1].label : "");
    return;
  case PW_OFFER_FACT:
    fact(h, r);
    return;
  case PW_OFFER_SIGN:
    pw_html_row(h, "");
    pw_html_cell(h, "what", "", r->label);
    pw_html_fill(h, pw_offer_sign_here);
    pw_html_row_end(h);
    return;
  default:
    amount(h, r->kind == PW_OFFER_TOTAL ? "sum" : "", r);
  }
}

/* Rows of one shape that follow each other share a table or a list. */
static void offer_part(struct html *h, const struct pw_offer_part *part)
{
  enum shape open = NO_TABLE;
  bool is_list = true;
  for (int i = 0; i < part->n; i++)
    is_list = is_list && part->rows[i].kind == PW_OFFER_SAY;
  pw_html_section(h, part->id, "", part->head[0] ? part->head : "Quote");
  for (int i = 0; i < part->n; i++) {
    enum shape shape = shape_of(part->rows[i].kind, is_list);
    if (shape != open) {
      close_shape(h, open);
      open_shape(h, shape);
    }
    open = shape;
    offer_row(h, &part->rows[i], is_list);
  }
  close_shape(h, open);
  pw_html_section_end(h);
}

pw_status pw_html_customer_write(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct html page, *h = &page;
  struct pw_offer_sheet o;
  pw_status status = pw_offer_make(&o, plan, ctx);
  if (status == PW_OK)
    status = pw_html_open(h, out, plan, "quote", ctx);
  if (status != PW_OK)
    return status;
  pw_html_rawf(h, "<div class=\"offer\" style=\"--pt:%.3gpt\">\n", pw_html_offer_pt(&o));
  pw_html_raw(h, "<header class=\"everywhere\">");
  for (int i = 0; i < o.n_letterhead; i++)
    pw_html_el(h, i == 0 ? "p class=\"lead\"" : "p class=\"note\"", o.letterhead[i]);
  pw_html_el(h, "h1", o.title);
  pw_html_raw(h, "</header>\n");
  for (int i = 0; i < o.n_parts; i++)
    offer_part(h, &o.parts[i]);
  pw_html_raw(h, "</div>\n");
  return pw_html_close(h);
}
