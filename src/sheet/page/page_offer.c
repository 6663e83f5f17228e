/* page_offer.c - the quote for the customer [Q1] as a page: sheet/offer.h has what is in it. */
#include "base/format.h"
#include "sheet/offer.h"
#include "sheet/page/pages.h"

static void offer_row(struct pw_page *s, const struct pw_offer_row *r, bool is_first)
{
  static const struct pw_page_column facts[] = {{0, 18, PW_CELL_WHAT, ""}, {1, 60, PW_CELL_NOTE, ""}};
  switch (r->kind) {
  case PW_OFFER_FACT:
    pw_page_table_of(s, facts);
    pw_page_row(s, r->label, r->value);
    return;
  case PW_OFFER_MEAL:
    if (!is_first)
      pw_page_blank(s);
    pw_page_pair(s, 0, r->label, r->value);
    return;
  case PW_OFFER_COURSE:
    pw_page_para(s, 2, 2, r->label);
    return;
  case PW_OFFER_DISH:
    pw_page_say(s, 4, 6, r->value[0] ? "%s (contains %s)" : "%s (%s)", r->label, pw_offer_contains(r));
    return;
  case PW_OFFER_SAY:
    pw_page_para(s, 2, 4, r->label);
    return;
  case PW_OFFER_RUNG:
    if (is_first) {
      const char *const *heads = pw_offer_rung_heads;
      const struct pw_page_column rungs[] = {
          {2, 28, PW_CELL_WHAT, heads[0]}, {0, 24, PW_CELL_AMOUNT, heads[1]}, {2, 24, PW_CELL_AMOUNT, heads[2]}};
      pw_page_table_of(s, rungs);
    }
    pw_page_row(s, r->label, pw_money_format(s->ev, r->cents).s, pw_money_format(s->ev, r->total_cents).s);
    return;
  case PW_OFFER_SIGN:
    pw_page_blank(s);
    pw_page_para(s, 2, 2, "_____________________________________   Date ______________________");
    pw_page_para(s, 2, 2, r->label);
    return;
  default:
    pw_page_money(s, 2, r->label, r->cents);
  }
}

pw_status pw_page_offer(struct pw_page *s, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  *s = pw_page_open(plan, plan->event, ctx);
  struct pw_offer_sheet o;
  pw_status status = pw_offer_make(&o, plan, ctx);
  if (status)
    return status;
  for (int i = 0; i < o.n_letterhead; i++)
    pw_page_para(s, 0, 0, o.letterhead[i]);
  if (o.n_letterhead > 0)
    pw_page_blank(s);
  pw_page_title(s, o.title, "Quote");
  for (int i = 0; i < o.n_parts; i++) {
    if (o.parts[i].head[0])
      pw_page_head(s, o.parts[i].head);
    for (int k = 0; k < o.parts[i].n; k++)
      offer_row(s, &o.parts[i].rows[k], k == 0);
  }
  return pw_page_done(s);
}
