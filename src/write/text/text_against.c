/* text_against.c - see the header.  What is the same in both plans is not told: meals, dishes, orders, fires, shifts, money.
 * In: two plans, each with its event.  Out: lines of 80 columns. */
#include "write/text/text_against.h"

#include "base/arena.h"
#include "base/when.h"
#include "plan/demand/head_count.h"
#include "sheet/words.h"
#include "write/text/text_page.h"

#include <string.h>

struct both {
  struct pw_page page;
  const struct pw_plan *before, *now;
  const char *head; /**< of the section that is open but has no line yet, or NULL */
  int n_said;
};

static void say(struct both *b, const char *line)
{
  if (b->head)
    pw_page_head(&b->page, b->head);
  b->head = NULL;
  b->n_said++;
  pw_page_para(&b->page, 2, 6, line);
}

static const char *when(struct both *b, const struct pw_event *ev, int at_min)
{
  return pw_words(&b->page, "%s %s", pw_words(&b->page, "%s", pw_when_day_short(ev, at_min).s),
                  pw_when_clock(ev, at_min).s);
}

/* Two instants are one when people read the same day and time. */
static bool is_same_time(struct both *b, int before_min, int now_min)
{
  return strcmp(when(b, b->before->event, before_min), when(b, b->now->event, now_min)) == 0 &&
         b->before->event->date.year == b->now->event->date.year;
}

/* ---- meals --------------------------------------------------------------------------------------------- */

static int heads(const struct pw_event *ev, const struct pw_service *s)
{
  int n = 0;
  for (int g = 0; g < ev->n_classes; g++)
    n += s->guests[g];
  return n;
}

static const struct pw_service *service_of(const struct pw_event *ev, const char *id)
{
  for (int i = 0; i < ev->n_services; i++)
    if (strcmp(ev->services[i].id, id) == 0)
      return &ev->services[i];
  return NULL;
}

static bool has_dish(const struct pw_event *ev, const struct pw_service *s, const char *id)
{
  for (int m = 0; m < s->n_menu; m++)
    if (strcmp(ev->dishes[s->menu[m].dish].id, id) == 0)
      return true;
  return false;
}

/* Dishes of one event's meal that the other's does not have. */
static void dishes(struct both *b, const struct pw_event *of, const struct pw_service *mine,
                   const struct pw_event *other, const struct pw_service *theirs, const char *what)
{
  for (int m = 0; m < mine->n_menu; m++) {
    const struct pw_dish *dish = &of->dishes[mine->menu[m].dish];
    if (!has_dish(other, theirs, dish->id))
      say(b, pw_words(&b->page, "%s: %s %s", mine->name, what, dish->name));
  }
}

static void meals(struct both *b)
{
  const struct pw_event *old = b->before->event, *now = b->now->event;
  b->head = "Meals";
  for (int i = 0; i < old->n_services; i++)
    if (!service_of(now, old->services[i].id))
      say(b, pw_words(&b->page, "%s, %s: no longer", old->services[i].name, when(b, old, old->services[i].at_min)));
  for (int i = 0; i < now->n_services; i++) {
    const struct pw_service *s = &now->services[i], *was = service_of(old, s->id);
    if (!was) {
      say(b, pw_words(&b->page, "%s, %s: new, for %s", s->name, when(b, now, s->at_min),
                      pw_words_guests(heads(now, s)).s));
      continue;
    }
    if (!is_same_time(b, was->at_min, s->at_min))
      say(b, pw_words(&b->page, "%s: now %s, it was %s", s->name, when(b, now, s->at_min), when(b, old, was->at_min)));
    if (heads(now, s) != heads(old, was))
      say(b, pw_words(&b->page, "%s: now %s, it was %d", s->name, pw_words_guests(heads(now, s)).s, heads(old, was)));
    dishes(b, now, s, old, was, "also");
    dishes(b, old, was, now, s, "no longer");
  }
}

/* ---- orders ---------------------------------------------------------------------------------------------- */

static const struct pw_offer *offer_of(const struct pw_plan *plan, const struct pw_purchase_line *l)
{
  return &plan->event->items[l->item].offers[l->offer];
}

static bool is_one_thing(const struct pw_plan *a, const struct pw_purchase_line *x, const struct pw_plan *b,
                         const struct pw_purchase_line *y)
{
  return strcmp(a->event->items[x->item].id, b->event->items[y->item].id) == 0 &&
         strcmp(offer_of(a, x)->supplier, offer_of(b, y)->supplier) == 0 &&
         strcmp(offer_of(a, x)->pack, offer_of(b, y)->pack) == 0;
}

/* Packs of that thing in a plan. */
static int packs_of(const struct pw_plan *in, const struct pw_plan *of, const struct pw_purchase_line *l)
{
  int n = 0;
  for (int i = 0; i < in->purchase.n_lines; i++)
    if (is_one_thing(in, &in->purchase.lines[i], of, l))
      n += in->purchase.lines[i].packs;
  return n;
}

/* Is it told at an earlier line of its own plan? */
static bool is_told(const struct pw_plan *plan, int line)
{
  for (int i = 0; i < line; i++)
    if (is_one_thing(plan, &plan->purchase.lines[i], plan, &plan->purchase.lines[line]))
      return true;
  return false;
}

/* Lines of `from` that the other plan has more, or fewer, of. */
static void order_lines(struct both *b, const struct pw_plan *from, const struct pw_plan *other, bool is_more)
{
  struct pw_page *p = &b->page;
  for (int i = 0; i < from->purchase.n_lines; i++) {
    const struct pw_purchase_line *l = &from->purchase.lines[i];
    int change = packs_of(from, from, l) - packs_of(other, from, l);
    if (change <= 0 || is_told(from, i))
      continue;
    const struct pw_offer *offer = offer_of(from, l);
    say(b, pw_words(p, "[ ] %s %d %s %s, %s, %s %s", is_more ? "+" : "-", change, offer->pack,
                    from->event->items[l->item].name, offer->supplier,
                    is_more ? "order by" : "if ordered, cancel; it was to be ordered by",
                    pw_when_day_short(from->event, l->order_by_at_min).s));
  }
}

static void orders(struct both *b)
{
  b->head = "To order on top";
  order_lines(b, b->now, b->before, true);
  b->head = "To cancel, or to keep for another job";
  order_lines(b, b->before, b->now, false);
  b->head = "Wood and charcoal";
  for (int i = 0; i < b->now->fuel.n_lines; i++) {
    const struct pw_fuel_line *l = &b->now->fuel.lines[i];
    const char *id = b->now->event->fuels[l->fuel].id;
    double was = 0;
    for (int k = 0; k < b->before->fuel.n_lines; k++)
      if (strcmp(b->before->event->fuels[b->before->fuel.lines[k].fuel].id, id) == 0)
        was = b->before->fuel.lines[k].buy_kg;
    const char *is = pw_words(&b->page, "%s", pw_format_fuel(b->now->event->units, l->buy_kg).s);
    const char *old = pw_words(&b->page, "%s", pw_format_fuel(b->now->event->units, was).s);
    if (strcmp(is, old) != 0)
      say(b, pw_words(&b->page, "%s: now %s, it was %s", b->now->event->fuels[l->fuel].name, is, old));
  }
}

/* ---- fires, shifts ----------------------------------------------------------------------------------------- */

/* "fire from Fri 11 Jun 20:00 to Sat 12 Jun 17:30" of every burn of a plan. */
static const char **fires_of(struct both *b, const struct pw_plan *plan, int *n)
{
  const struct pw_allocation *a = &plan->allocation;
  const char **list = pw_arena_array(b->page.arena, (size_t)a->n_burns, sizeof *list);
  *n = list ? a->n_burns : 0;
  for (int i = 0; i < *n; i++)
    list[i] = pw_words(&b->page, "%s: lit %s, out %s", plan->event->pits[a->burns[i].pit].name,
                       when(b, plan->event, a->burns[i].lit_at_min), when(b, plan->event, a->burns[i].out_at_min));
  b->page.buf->failed = b->page.buf->failed || !list;
  return list;
}

/** A shift: whose, and from when to when. */
struct shift {
  const char *who, *when;
  bool is_told;
};

static struct shift *shifts_of(struct both *b, const struct pw_plan *plan)
{
  const struct pw_event *ev = plan->event;
  struct shift *list = pw_arena_array(b->page.arena, (size_t)ev->n_crew + 1, sizeof *list);
  b->page.buf->failed = b->page.buf->failed || !list;
  for (int i = 0; list && i < ev->n_crew; i++) {
    const struct pw_crew *c = &ev->crew[i];
    list[i].who = c->worked ? pw_words(&b->page, "%s, %s", c->role, c->worked->name)
                            : pw_words(&b->page, "%s, %d", c->role, pw_head_count_hands(ev, c));
    list[i].when = pw_words(&b->page, "%s to %s", when(b, ev, c->from_at_min), when(b, ev, c->to_at_min));
  }
  return list;
}

/* Shifts that both have are told of neither; then one's time of before beside the one of now, as far as both last. */
static void shifts(struct both *b)
{
  struct shift *old = shifts_of(b, b->before), *now = shifts_of(b, b->now);
  int n_old = b->before->event->n_crew, n_now = b->now->event->n_crew;
  b->head = "Shifts";
  if (!old || !now)
    return;
  for (int is_same = 1; is_same >= 0; is_same--)
    for (int i = 0; i < n_now; i++)
      for (int k = 0; k < n_old && !now[i].is_told; k++)
        if (!old[k].is_told && strcmp(old[k].who, now[i].who) == 0 &&
            (!is_same || strcmp(old[k].when, now[i].when) == 0)) {
          if (!is_same)
            say(b, pw_words(&b->page, "%s: now %s, it was %s", now[i].who, now[i].when, old[k].when));
          old[k].is_told = now[i].is_told = true;
        }
  for (int k = 0; k < n_old; k++)
    if (!old[k].is_told)
      say(b, pw_words(&b->page, "no longer: %s: %s", old[k].who, old[k].when));
  for (int i = 0; i < n_now; i++)
    if (!now[i].is_told)
      say(b, pw_words(&b->page, "now: %s: %s", now[i].who, now[i].when));
}

/* Lines of one list that the other does not have, each as often as it lacks. */
static void only_in(struct both *b, const char *const *mine, int n, const char *const *theirs, int n_theirs,
                    const char *what)
{
  for (int i = 0; i < n; i++) {
    int here = 0, there = 0;
    for (int k = 0; k <= i; k++)
      here += strcmp(mine[k], mine[i]) == 0;
    for (int k = 0; k < n_theirs; k++)
      there += strcmp(theirs[k], mine[i]) == 0;
    if (here > there)
      say(b, pw_words(&b->page, "%s %s", what, mine[i]));
  }
}

static void lists(struct both *b, const char *head, const char **(*of)(struct both *, const struct pw_plan *, int *))
{
  int n_old = 0, n_now = 0;
  const char **old = of(b, b->before, &n_old), **now = of(b, b->now, &n_now);
  b->head = head;
  only_in(b, old, n_old, now, n_now, "no longer:");
  only_in(b, now, n_now, old, n_old, "now:");
}

/* ---- money --------------------------------------------------------------------------------------------------- */

static void money(struct both *b)
{
  struct pw_page *p = &b->page;
  const struct pw_quote *was = &b->before->quote, *is = &b->now->quote;
  const struct pw_event *ev = b->now->event;
  b->head = "What the customer owes";
  if (strcmp(ev->currency, b->before->event->currency) != 0) {
    say(b, "The two are in different currencies.");
    return;
  }
  pw_cents more = is->total_cents - was->total_cents;
  if (more != 0)
    say(b, pw_words(p, "Total now %s, it was %s: %s %s.", pw_words(p, "%s", pw_money_format(ev, is->total_cents).s),
                    pw_words(p, "%s", pw_money_format(ev, was->total_cents).s),
                    pw_words(p, "%s", pw_money_format(ev, more < 0 ? -more : more).s), more < 0 ? "less" : "more"));
  for (int i = 0; i < is->n_dues; i++) {
    const struct pw_due *due = &is->dues[i];
    bool is_known = false;
    for (int k = 0; k < was->n_dues; k++)
      is_known = is_known || (strcmp(was->dues[k].name, due->name) == 0 && was->dues[k].cents == due->cents &&
                              was->dues[k].date.year == due->date.year && was->dues[k].date.month == due->date.month &&
                              was->dues[k].date.day == due->date.day);
    if (!is_known)
      say(b, pw_words(p, "%s%s%s: %s", due->name, due->date.year ? ", by " : "",
                      due->date.year ? pw_words(p, "%s", pw_when_date(due->date).s) : "",
                      pw_words(p, "%s", pw_money_format(ev, due->cents).s)));
  }
  pw_cents cost = is->cost_cents - was->cost_cents;
  b->head = "For the owner";
  if (cost != 0)
    say(b, pw_words(p, "It costs %s %s than before; the margin is %s, it was %s.",
                    pw_words(p, "%s", pw_money_format(ev, cost < 0 ? -cost : cost).s), cost < 0 ? "less" : "more",
                    pw_words(p, "%s", pw_format_percent(is->margin_frac).s),
                    pw_words(p, "%s", pw_format_percent(was->margin_frac).s)));
  if (b->now->allocation.n_missed > 0)
    say(b, pw_words(p, "DOES NOT FIT: %d pieces have no place.", b->now->allocation.n_missed));
}

pw_status pw_text_against(struct pw_buf *out, const struct pw_plan *before, const struct pw_plan *now,
                          struct pw_ctx *ctx)
{
  struct both both = {.page = pw_page_open(out, now, ctx), .before = before, .now = now}, *b = &both;
  pw_page_title(&b->page, now->event->name, "What changed");
  if (strcmp(pw_words(&b->page, "%s", pw_when_date(before->event->date).s), pw_when_date(now->event->date).s) != 0)
    say(b, pw_words(&b->page, "THE DAY: now %s, it was %s.", pw_words(&b->page, "%s", pw_when_date(now->event->date).s),
                    pw_words(&b->page, "%s", pw_when_date(before->event->date).s)));
  meals(b);
  orders(b);
  lists(b, "Fires", fires_of);
  shifts(b);
  money(b);
  b->head = NULL;
  if (b->n_said == 0)
    say(b, "Nothing: meals, orders, fires, shifts and money are as before.");
  else {
    pw_page_blank(&b->page);
    pw_page_para(&b->page, 0, 0, "Sheets given out before are no longer good: take them back.");
  }
  return out->failed ? PW_ERR_MEMORY : PW_OK;
}
