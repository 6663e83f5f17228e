/* offer.c - see offer.h. */
#include "sheet/offer.h"

#include "base/arena.h"
#include "base/clock.h"
#include "base/when.h"
#include "sheet/customer_words.h"
#include "sheet/words.h"

#include <math.h>
#include <string.h>

enum { PARTS_MAX = 12 };

const char *const pw_offer_rung_heads[3] = {"Guests", "Per guest, before tax", "Total"};
const char *const pw_offer_sign_here = "Signature and date";

const char *pw_offer_contains(const struct pw_offer_row *dish)
{
  return dish->value[0] ? dish->value : "no allergen named";
}

struct pen {
  struct pw_offer_sheet *out;
  const struct pw_plan *plan;
  const struct pw_event *ev;
  struct pw_ctx *ctx;
  size_t cap;
  bool has_failed;
};

static const char *words(struct pen *p, const char *format, ...) __attribute__((format(printf, 2, 3)));

static const char *words(struct pen *p, const char *format, ...)
{
  va_list args;
  va_start(args, format);
  const char *text = pw_arena_vprintf(p->ctx->arena, format, args);
  va_end(args);
  p->has_failed = p->has_failed || !text;
  return text ? text : "";
}

static void part(struct pen *p, const char *id, const char *head)
{
  struct pw_offer_sheet *o = p->out;
  if (o->n_parts == PARTS_MAX) {
    p->has_failed = true;
    return;
  }
  o->parts[o->n_parts++] = (struct pw_offer_part){.id = id, .head = head};
  p->cap = 0;
}

static struct pw_offer_row *row(struct pen *p, enum pw_offer_kind kind, const char *label, const char *value)
{
  static struct pw_offer_row none;
  struct pw_offer_part *part = &p->out->parts[p->out->n_parts - 1];
  if (pw_arena_grow(p->ctx->arena, &part->rows, &p->cap, (size_t)part->n, sizeof *part->rows) != 0) {
    p->has_failed = true;
    return &none;
  }
  part->rows[part->n] = (struct pw_offer_row){.kind = kind, .label = label, .value = value};
  return &part->rows[part->n++];
}

static void say(struct pen *p, const char *text) { (void)row(p, PW_OFFER_SAY, text, ""); }

static void money(struct pen *p, enum pw_offer_kind kind, enum pw_offer_amount amount, const char *label,
                  pw_cents cents)
{
  struct pw_offer_row *r = row(p, kind, label, "");
  r->amount = amount;
  r->cents = cents;
}

/* ---- head ---- */

static void letterhead(struct pen *p)
{
  const struct pw_identity *i = &p->ev->identity;
  const char *reach =
      words(p, "%s%s%s", i->phone ? i->phone : "", i->phone && i->mail ? ", " : "", i->mail ? i->mail : "");
  const char *const lines[] = {i->name, i->address, reach, i->tax, i->licence};
  for (int k = 0; k < 5; k++)
    if (lines[k] && *lines[k])
      p->out->letterhead[p->out->n_letterhead++] = lines[k];
}

/* The quote's own number, or one that follows from day and name, the same each time the event is read. */
static const char *number(struct pen *p)
{
  const struct pw_event *ev = p->ev;
  unsigned hash = 2166136261u; /* FNV-1a, 32 bits: offset basis and prime of RFC 9923 */
  if (ev->number)
    return ev->number;
  for (const char *c = ev->name; *c; c++)
    hash = (hash ^ (unsigned char)*c) * 16777619u;
  for (const char *c = ev->customer ? ev->customer : ""; *c; c++)
    hash = (hash ^ (unsigned char)*c) * 16777619u;
  return words(p, "%04d%02d%02d-%04X", ev->date.year, ev->date.month, ev->date.day, (hash ^ hash >> 16) & 0xFFFFu);
}

static const char *HAND_WRITTEN = "________________";

static void facts(struct pen *p)
{
  const struct pw_event *ev = p->ev;
  const struct pw_terms *t = &ev->terms;
  part(p, "facts", "");
  if (ev->customer && *ev->customer)
    (void)row(p, PW_OFFER_FACT, "For", ev->customer);
  (void)row(p, PW_OFFER_FACT, "Number", number(p));
  (void)row(p, PW_OFFER_FACT, "Date of this offer",
            t->quoted.year ? words(p, "%s", pw_when_date(t->quoted).s) : HAND_WRITTEN);
  (void)row(p, PW_OFFER_FACT, "Day", words(p, "%s", pw_when_date(ev->date).s));
  if (ev->site.place && *ev->site.place)
    (void)row(p, PW_OFFER_FACT, "Place", ev->site.place);
}

/* ---- menu ---- */

static const char *style_words(enum pw_style style)
{
  static const char *const list[] = {"buffet", "plated", "family style", "boxed", "dropped off"};
  return list[style];
}

static const char *COURSES[] = {"From the pit", "Sides", "Bread", "Sauces and pickles", "Sweet", "Drinks"};

static const char *contains(struct pen *p, const struct pw_dish *dish)
{
  const char *list = "";
  for (int a = 0; a < dish->n_allergens; a++)
    list = words(p, "%s%s%s", list, a ? ", " : "", dish->allergens[a]);
  return list;
}

/* "150 adults, 22 children", in the order of the file; "" where there is one class only. */
static const char *classes(struct pen *p, const struct pw_service *service)
{
  const char *list = "";
  int n = 0;
  for (int g = 0; g < p->ev->n_classes; g++)
    if (service->guests[g] > 0)
      list = words(p, "%s%s%s: %d", list, n++ ? ", " : "", p->ev->classes[g].name, service->guests[g]);
  return n > 1 ? list : "";
}

static void meals(struct pen *p)
{
  const struct pw_event *ev = p->ev;
  part(p, "menu", "Menu");
  for (int i = 0; i < ev->n_services; i++) {
    const struct pw_service *s = &ev->services[i];
    const struct pw_choice *c = ev->choices ? &ev->choices[i] : NULL;
    int heads = 0;
    for (int g = 0; g < ev->n_classes; g++)
      heads += s->guests[g];
    const char *range = c && c->walk_most_frac > 0 ? words(p, " (%d to %d)", (int)lround(heads * c->walk_least_frac),
                                                           (int)lround(heads * c->walk_most_frac))
                                                   : "";
    (void)row(p, PW_OFFER_MEAL,
              words(p, "%s, %s at %s", s->name, pw_when_day(ev, s->at_min).s, pw_when_clock(ev, s->at_min).s),
              words(p, "%s%s", pw_words_guests(heads).s, range));
    const char *who = classes(p, s);
    say(p, words(p, "%s, %s%s%s", style_words(s->style), pw_format_minutes(s->length_min).s, *who ? "; " : "", who));
    for (unsigned done = 0; done != (1u << PW_COURSE__COUNT) - 1;) {
      int course = PW_NONE; /* the next by first mention */
      for (int m = 0; m < s->n_menu; m++) {
        const struct pw_dish *dish = &ev->dishes[s->menu[m].dish];
        if (course == PW_NONE && !(done >> dish->course & 1u)) {
          course = (int)dish->course;
          (void)row(p, PW_OFFER_COURSE, COURSES[course], "");
        }
        if (course == (int)dish->course)
          (void)row(p, PW_OFFER_DISH, dish->name, contains(p, dish));
      }
      if (course == PW_NONE)
        break;
      done |= 1u << course;
    }
  }
}

/* ---- money ---- */

/* The contract, and what more or fewer guests than agreed change. */
static void agreed(struct pen *p)
{
  const struct pw_quote *q = &p->plan->quote;
  const struct pw_terms *t = &p->ev->terms;
  const struct pw_event *ev = p->ev;
  int more = q->guests - t->agreed_guests;
  pw_cents change = q->price_cents - t->agreed_cents;
  say(p, words(p, "As agreed on %s: %s for %s.", pw_when_date(t->agreed_on).s, pw_money_format(ev, t->agreed_cents).s,
               pw_words_guests(t->agreed_guests).s));
  if (more != 0)
    say(p, words(p, "Since then %s %s: %s %s.", pw_words_guests(more > 0 ? more : -more).s, more > 0 ? "more" : "fewer",
                 words(p, "%s", pw_money_format(ev, change < 0 ? -change : change).s), change < 0 ? "less" : "more"));
}

static void price(struct pen *p)
{
  const struct pw_quote *q = &p->plan->quote;
  const struct pw_terms *t = &p->ev->terms;
  const struct pw_event *ev = p->ev;
  part(p, "price", "Price");
  if (ev->n_services > 1)
    say(p, ev->is_head_count_sum
               ? "Each guest counts once at every meal they come to."
               : "The number of guests is that of the largest meal; the other meals are included in the price.");
  const char *list = q->discount_cents ? "List price, " : "";
  const bool is_contract = t->agreed_cents > 0 && t->agreed_guests == q->guests &&
                           q->price_cents != q->per_guest_cents * q->guests; /* no whole coin a guest */
  money(p, PW_OFFER_PRICE, PW_AMOUNT_NONE,
        is_contract ? words(p, "%s%s, as agreed", list, pw_words_guests(q->guests).s)
        : q->is_least_fee
            ? words(p, "%s%s: the smallest fee for a job%s", list, pw_words_guests(q->guests).s,
                    q->discount_cents ? ", before the discount" : "")
            : words(p, "%s%s at %s", list, pw_words_guests(q->guests).s, pw_money_format(ev, q->per_guest_cents).s),
        q->price_cents);
  if (t->agreed_cents > 0)
    agreed(p);
  else if (t->quoted_per_guest_cents > 0 && t->quoted_price_on.year)
    say(p, words(p, "As quoted on %s: %s a guest.", pw_when_date(t->quoted_price_on).s,
                 pw_money_format(ev, t->quoted_per_guest_cents).s));
  if (q->discount_cents) {
    money(p, PW_OFFER_MONEY, PW_AMOUNT_DISCOUNT,
          words(p, "Discount of %s %%", pw_format_number(t->discount_frac * 100, 3).s), -q->discount_cents);
    money(p, PW_OFFER_MONEY, PW_AMOUNT_NET, "Net", q->net_cents);
  }
  if (q->service_charge_cents)
    money(p, PW_OFFER_MONEY, PW_AMOUNT_CHARGE,
          words(p, "Service charge of %s %%", pw_format_number(t->service_charge_frac * 100, 3).s),
          q->service_charge_cents);
  if (q->tax_cents)
    money(p, PW_OFFER_MONEY, PW_AMOUNT_TAX,
          words(p, "Tax of %s %% on %s", pw_format_number(t->tax_frac * 100, 3).s,
                pw_money_format(ev, q->taxable_cents).s),
          q->tax_cents);
  money(p, PW_OFFER_TOTAL, PW_AMOUNT_NONE, "Total", q->total_cents);
  if (pw_words_no_labour_offered(ev, q))
    say(p, pw_words_no_labour_offered(ev, q));
}

static void dues(struct pen *p)
{
  const struct pw_quote *q = &p->plan->quote;
  const struct pw_terms *t = &p->ev->terms;
  part(p, "payments", "To pay");
  for (int i = 0; i < q->n_dues; i++) {
    const struct pw_due *due = &q->dues[i];
    struct pw_offer_row *r = row(p, PW_OFFER_DUE,
                                 due->date.year ? words(p, "%s, by %s", due->name, pw_when_date(due->date).s)
                                                : words(p, "%s, on acceptance", due->name),
                                 "");
    r->cents = due->cents;
    r->index = i;
  }
  if (p->ev->identity.bank)
    say(p, p->ev->identity.bank);
  const char *valid = pw_customer_valid(p->ev, p->ctx);
  p->has_failed = p->has_failed || !valid;
  if (valid && t->valid_days > 0 && t->agreed_cents == 0) /* a contract stands */
    say(p, valid);
  if (t->final_count_days_before > 0)
    say(p, words(p, "Final number of guests by %s.",
                 pw_when_date(pw_date_from_days(pw_date_to_days(p->ev->date) - t->final_count_days_before)).s));
}

static void head_counts(struct pen *p)
{
  const struct pw_quote *q = &p->plan->quote;
  if (q->n_ladder == 0)
    return;
  part(p, "head-counts", "If more or fewer come");
  for (int i = 0; i < q->n_ladder; i++) {
    const struct pw_quote_rung *r = &q->ladder[i];
    struct pw_offer_row *at = row(p, PW_OFFER_RUNG,
                                  words(p, "%s%s", pw_words_guests(r->guests).s,
                                        r->missed                ? ", on request"
                                        : r->guests == q->guests ? ", this quote"
                                                                 : ""),
                                  "");
    at->cents = r->per_guest_cents;
    at->total_cents = r->total_cents;
    at->index = r->guests;
  }
  say(p, p->ev->terms.quoted_per_guest_cents > 0 ? "Prices per guest are before taxes and charges, totals include "
                                                   "them; head counts other than this quote's are at today's prices."
                                                 : "Prices per guest are before taxes and charges, totals include "
                                                   "them. Meat, packs, pits and crew come in whole "
                                                   "units, so the price moves in steps.");
}

/* Choices with their price before charges and taxes; what cannot be had is not offered. */
static void choices(struct pen *p)
{
  const struct pw_quote *q = &p->plan->quote;
  const struct pw_event *ev = p->ev;
  bool has_head = false;
  for (int i = 0; i < q->n_options; i++) {
    const struct pw_quote_option *t = &q->options[i];
    pw_cents more = t->more_per_guest_cents;
    if (t->missed > 0)
      continue;
    if (!has_head)
      part(p, "choices", "Other choices");
    has_head = true;
    const char *what = pw_words_choice(ev, t, p->ctx->arena);
    p->has_failed = p->has_failed || !what;
    if (what)
      say(p, more == 0 ? words(p, "%s: at the same price", what)
                       : words(p, "%s: %s a guest %s", what, pw_money_format(ev, more < 0 ? -more : more).s,
                               more < 0 ? "less" : "more"));
  }
  if (has_head)
    say(p, "Each choice on its own, before charges and taxes, at today's prices.");
}

static void sentences(struct pen *p, const char *id, const char *head,
                      pw_status (*make)(const char *const **, int *, const struct pw_plan *, struct pw_ctx *))
{
  const char *const *lines = NULL;
  int n = 0;
  part(p, id, head);
  p->has_failed = make(&lines, &n, p->plan, p->ctx) != PW_OK || p->has_failed;
  for (int i = 0; i < n; i++)
    say(p, lines[i]);
}

static void signatures(struct pen *p)
{
  const struct pw_event *ev = p->ev;
  part(p, "signatures", "Accepted");
  (void)row(p, PW_OFFER_SIGN, ev->customer && *ev->customer ? ev->customer : "Customer", "");
  (void)row(p, PW_OFFER_SIGN, ev->identity.name ? ev->identity.name : "Caterer", "");
}

pw_status pw_offer_make(struct pw_offer_sheet *out, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pen pen = {.out = out, .plan = plan, .ev = plan->event, .ctx = ctx}, *p = &pen;
  *out = (struct pw_offer_sheet){.title = plan->event->name,
                                 .parts = pw_arena_array(ctx->arena, PARTS_MAX, sizeof *out->parts)};
  if (!out->parts)
    return PW_ERR_MEMORY;
  letterhead(p);
  facts(p);
  meals(p);
  sentences(p, "included", "What is included", pw_customer_included);
  price(p);
  dues(p);
  choices(p);
  head_counts(p);
  sentences(p, "note", "Please note", pw_customer_cautions);
  signatures(p);
  return p->has_failed ? PW_ERR_MEMORY : PW_OK;
}
