/* Tests of the quote as a document: what the maker says stands in the text and on the page, in its order and with its amounts; courses,
 * letterhead, number, signatures. */
#include "planned.h"

#include "base/format.h"
#include "sheet/offer.h"
#include "write/html/html.h"
#include "write/text/text_sheets.h"

#include <ctype.h>

/* One blank for any white space, markup left out, the usual entities back. */
static const char *plain(const char *text, struct pw_ctx *ctx)
{
  static const struct {
    const char *is, *as;
  } entities[] = {{"&amp;", "&"}, {"&lt;", "<"}, {"&gt;", ">"}, {"&#39;", "'"}, {"&quot;", "\""}, {"\xC2\xA0", " "}};
  struct pw_buf b = pw_buf_in(ctx->arena);
  bool is_blank = true;
  for (const char *p = text; *p;) {
    if (*p == '<') {
      p += strcspn(p, ">");
      p += *p == '>';
      continue;
    }
    size_t e = 0;
    while (e < 6 && strncmp(p, entities[e].is, strlen(entities[e].is)) != 0)
      e++;
    const char *next = e < 6 ? entities[e].as : p;
    p += e < 6 ? strlen(entities[e].is) : 1;
    if (!isspace((unsigned char)*next))
      pw_buf_add_char(&b, *next);
    else if (!is_blank)
      pw_buf_add_char(&b, ' ');
    is_blank = isspace((unsigned char)*next) != 0;
  }
  return pw_buf_text(&b);
}

/* Where the words stand at or after `from`; the test fails when they do not. */
static const char *after(const char *from, const char *words, const char *file, const struct pw_event *ev)
{
  const char *at = strstr(from, words);
  ck_assert_msg(at != NULL, "%s of %s: \"%s\" is not there in its order: %.200s", file, ev->name, words, from);
  return at + 1;
}

START_TEST(text_and_page_say_what_the_maker_says)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = planned_event(PLANNED_EVENTS[_i], ctx);
  ev->identity = (struct pw_identity){
      .name = "Hill House & Co", .address = "12 Mill Lane", .phone = "555 0100", .bank = "Pay here"};
  ev->terms.discount_frac = _i == 1 ? 0.05 : 0;
  const struct pw_plan *plan = planned(ev, true, PW_EFFORT_QUICK, ctx);
  struct pw_offer_sheet o;
  struct pw_buf text = pw_buf_in(ctx->arena), page = pw_buf_in(ctx->arena);
  ck_assert_int_eq(pw_offer_make(&o, plan, ctx), PW_OK);
  ck_assert_int_eq(pw_text_quote_customer(&text, plan, ctx), PW_OK);
  ck_assert_int_eq(pw_html_customer_write(&page, plan, ctx), PW_OK);
  const char *in_text = plain(pw_buf_text(&text), ctx), *in_page = strstr(pw_buf_text(&page), "<body>");
  ck_assert_ptr_nonnull(in_page);
  in_page = plain(in_page, ctx);
  ck_assert_str_eq(o.letterhead[0], "Hill House & Co");
  int n_money = 0, n_sign = 0, n_total = 0;
  for (int i = 0; i < o.n_letterhead; i++) {
    in_text = after(in_text, o.letterhead[i], "quote.txt", ev);
    in_page = after(in_page, o.letterhead[i], "customer.html", ev);
  }
  for (int k = 0; k < o.n_parts; k++)
    for (int i = 0; i < o.parts[k].n; i++) {
      const struct pw_offer_row *r = &o.parts[k].rows[i];
      if (i == 0 && o.parts[k].head[0]) {
        in_text = after(in_text, o.parts[k].head, "quote.txt", ev);
        in_page = after(in_page, o.parts[k].head, "customer.html", ev);
      }
      const char *money = "";
      n_total += r->kind == PW_OFFER_TOTAL;
      n_sign += r->kind == PW_OFFER_SIGN;
      in_text = after(in_text, r->label, "quote.txt", ev);
      in_page = after(in_page, r->label, "customer.html", ev);
      if (r->value[0]) {
        in_text = after(in_text, r->value, "quote.txt", ev);
        in_page = after(in_page, r->value, "customer.html", ev);
      }
      if (r->kind < PW_OFFER_PRICE || r->kind > PW_OFFER_RUNG)
        continue;
      n_money++;
      struct pw_short amount = pw_money_format(ev, r->cents);
      money = amount.s;
      in_text = after(in_text, money, "quote.txt", ev);
      in_page = after(in_page, money, "customer.html", ev);
      if (r->kind != PW_OFFER_RUNG)
        continue;
      amount = pw_money_format(ev, r->total_cents);
      in_text = after(in_text, amount.s, "quote.txt", ev);
      in_page = after(in_page, amount.s, "customer.html", ev);
    }
  const struct pw_quote *q = &plan->quote;
  ck_assert_int_eq(n_money, 2 + 2 * (q->discount_cents != 0) + (q->service_charge_cents != 0) + (q->tax_cents != 0) +
                                q->n_dues + q->n_ladder);
  ck_assert(n_total == 1 && n_sign == 2);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Courses by first mention, dishes in the order of the file inside them; each dish once. */
START_TEST(menu_by_course)
{
  static const char *const wanted[] = {"Drinks",         "Iced tea", "Bottled water", "From the pit", "Pulled pork",
                                       "Sliced brisket", "Sides",    "Cabbage slaw",  "Sweet",        "Cookies"};
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = NULL;
  static const char text[] =
      "event: {name: Job, date: 2027-06-12, zone: America/Chicago, currency: USD, number: 27-9}\n"
      "weather: {low: 60 F, high: 80 F, wind: 6 mph}\nterms: {margin: 20 %, quoted: 2027-05-01}\n"
      "pits: [trailer-two-rack]\n"
      "services: [{time: \"17:30\", guests: 30, menu: [iced-tea, pork-pulled, slaw, brisket-sliced, cookie, water]}]\n";
  ck_assert_int_eq(pw_event_read_text(&ev, "test/job.yaml", text, strlen(text), "templates", ctx), PW_OK);
  struct pw_offer_sheet o;
  ck_assert_int_eq(pw_offer_make(&o, planned(ev, false, PW_EFFORT_QUICK, ctx), ctx), PW_OK);
  size_t n = 0;
  for (int k = 0; k < o.n_parts; k++)
    for (int i = 0; i < o.parts[k].n; i++) {
      const struct pw_offer_row *r = &o.parts[k].rows[i];
      if (strcmp(r->label, "Number") == 0)
        ck_assert_str_eq(r->value, "27-9");
      if (strcmp(r->label, "Date of this offer") == 0)
        ck_assert_str_eq(r->value, "Sat 1 May 2027");
      if (r->kind != PW_OFFER_COURSE && r->kind != PW_OFFER_DISH)
        continue;
      ck_assert_uint_lt(n, sizeof wanted / sizeof *wanted);
      ck_assert_str_eq(r->label, wanted[n++]);
    }
  ck_assert_uint_eq(n, sizeof wanted / sizeof *wanted);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("offer");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_loop_test(t, text_and_page_say_what_the_maker_says, 0, N_PLANNED_EVENTS);
  tcase_add_test(t, menu_by_course);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
