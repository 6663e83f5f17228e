/* page_against.c - what changed between a pack given out before and a new plan: meals, dishes, orders, fires, cuts, shifts, money.  What
 * is the same in both is not told.  In: two plans, each with its event.  Out: a page. */
#include "base/arena.h"
#include "base/when.h"
#include "plan/demand/head_count.h"
#include "sheet/cook_spans.h"
#include "sheet/page/pages.h"
#include "sheet/words.h"

#include <limits.h>
#include <string.h>

/* One page, whatever changed: as long as it does not fit, the next of these is done too. */
enum brevity {
  WHOLE,
  CUTS_NAMED,    /* what cooks at other times is named without its times, which stand on the new sheets */
  SHIFTS_RUN_ON, /* shifts stand behind each other, without those of before */
  NO_BLANK_LINES,
  CALLS_COUNTED /* what a telephone call is about is counted where it is much: the lists of purchases name it */
};
_Static_assert(CALLS_COUNTED + 1 == PW_AGAINST_BREVITIES, "as many as the header says");

struct both {
  struct pw_page *page;
  const struct pw_plan *before, *now;
  const char *head; /**< of the section that is open but has no line yet, or NULL */
  enum brevity brevity;
  int n_said;
};

enum { THINGS_NAMED = 2 }; /* of a call that is counted */

static void say(struct both *b, const char *format, ...) __attribute__((format(printf, 2, 3)));
static void say(struct both *b, const char *format, ...)
{
  va_list args;
  if (b->head && b->brevity >= NO_BLANK_LINES)
    pw_page_say(b->page, 0, 0, "%s:", b->head);
  else if (b->head)
    pw_page_head(b->page, b->head);
  b->head = NULL;
  b->n_said++;
  va_start(args, format);
  pw_page_para(b->page, 2, 6, pw_words_v(b->page, format, args));
  va_end(args);
}

static const char *when(struct both *b, const struct pw_event *ev, int at_min)
{
  return pw_words(b->page, "%s %s", pw_when_day_short(ev, at_min).s, pw_when_clock(ev, at_min).s);
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
  const char *list = NULL;
  for (int m = 0; m < mine->n_menu; m++) {
    const struct pw_dish *dish = &of->dishes[mine->menu[m].dish];
    if (!has_dish(other, theirs, dish->id))
      list = pw_words(b->page, "%s%s%s", list ? list : "", list ? "; " : "", dish->name);
  }
  if (list)
    say(b, "%s: %s %s", mine->name, what, list);
}

static void meals(struct both *b)
{
  const struct pw_event *old = b->before->event, *now = b->now->event;
  b->head = "Meals";
  for (int i = 0; i < old->n_services; i++)
    if (!service_of(now, old->services[i].id))
      say(b, "%s, %s: no longer", old->services[i].name, when(b, old, old->services[i].at_min));
  for (int i = 0; i < now->n_services; i++) {
    const struct pw_service *s = &now->services[i], *was = service_of(old, s->id);
    if (!was) {
      say(b, "%s, %s: new, for %s", s->name, when(b, now, s->at_min), pw_words_guests(heads(now, s)).s);
      continue;
    }
    if (!is_same_time(b, was->at_min, s->at_min))
      say(b, "%s: now %s, it was %s", s->name, when(b, now, s->at_min), when(b, old, was->at_min));
    if (heads(now, s) != heads(old, was))
      say(b, "%s: now %s, it was %d", s->name, pw_words_guests(heads(now, s)).s, heads(old, was));
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

/* How many packs of a line one plan has and the other lacks; 0 at further lines of the same thing. */
static int more_of(const struct pw_plan *plan, const struct pw_plan *other, int line)
{
  const struct pw_purchase_line *l = &plan->purchase.lines[line];
  int n = packs_of(plan, plan, l) - packs_of(other, plan, l);
  return n > 0 && !is_told(plan, line) ? n : 0;
}

/* Are two lines told in one telephone call: one supplier, one last day, or in short his first? */
static bool is_one_call(const struct pw_plan *plan, const struct pw_purchase_line *a, const struct pw_purchase_line *b,
                        enum brevity brevity)
{
  if (strcmp(offer_of(plan, a)->supplier, offer_of(plan, b)->supplier) != 0)
    return false;
  return brevity >= CALLS_COUNTED || strcmp(pw_when_day_short(plan->event, a->order_by_at_min).s,
                                            pw_when_day_short(plan->event, b->order_by_at_min).s) == 0;
}

/* What `from` has more of than the other plan, a paragraph for each call. */
static void order_lines(struct both *b, const struct pw_plan *from, const struct pw_plan *other, bool is_more)
{
  struct pw_page *p = b->page;
  const struct pw_purchase_line *lines = from->purchase.lines;
  bool *is_done = pw_arena_array(p->arena, (size_t)from->purchase.n_lines + 1, sizeof *is_done);
  p->has_failed = p->has_failed || !is_done;
  for (int i = 0; is_done && i < from->purchase.n_lines; i++) {
    const char *list = NULL;
    int n_things = 0, first_at_min = INT_MAX;
    for (int k = i; k < from->purchase.n_lines; k++) {
      int n = more_of(from, other, k);
      if (is_done[k] || n == 0 || !is_one_call(from, &lines[i], &lines[k], b->brevity))
        continue;
      is_done[k] = true;
      first_at_min = lines[k].order_by_at_min < first_at_min ? lines[k].order_by_at_min : first_at_min;
      n_things++;
      const char *pack = offer_of(from, &lines[k])->pack;
      struct pw_plural said = pw_words_plural(pack, n);
      list = pw_words(p, "%s%s%s %d %.*s%s%s %s", list ? list : "", list ? "; " : "", is_more ? "+" : "-", n,
                      said.n_stem, pack, said.ending, said.rest, from->event->items[lines[k].item].name);
    }
    if (list && b->brevity >= CALLS_COUNTED && n_things > THINGS_NAMED)
      list = is_more ? pw_words(p, "+ %d things, by the new list", n_things)
                     : pw_words(p, "- %d things, by the old list", n_things);
    if (list)
      say(b, "[ ] %s, %s %s: %s", offer_of(from, &lines[i])->supplier, is_more ? "by" : "was for",
          pw_when_day_short(from->event, first_at_min).s, list);
  }
}

static const char *last_day(struct both *b, const struct pw_plan *plan, const struct pw_purchase_line *l)
{
  return pw_words(b->page, "%s", pw_when_day_short(plan->event, l->order_by_at_min).s);
}

/* Where the same thing is to be ordered by another day: "Dale Dry Goods: now by Wed 13 Oct, it was Wed 6 Oct", once. */
static void order_days(struct both *b)
{
  const struct pw_purchase *now = &b->now->purchase, *old = &b->before->purchase;
  const char **said = pw_arena_array(b->page->arena, (size_t)now->n_lines + 1, sizeof *said);
  int n = 0;
  b->page->has_failed = b->page->has_failed || !said;
  for (int i = 0; said && i < now->n_lines; i++)
    for (int k = 0; k < old->n_lines; k++) {
      const char *is = last_day(b, b->now, &now->lines[i]), *was = last_day(b, b->before, &old->lines[k]);
      if (!is_one_thing(b->now, &now->lines[i], b->before, &old->lines[k]) || strcmp(is, was) == 0)
        continue;
      const char *words =
          pw_words(b->page, "%s: now by %s, it was %s", offer_of(b->now, &now->lines[i])->supplier, is, was);
      bool is_new = true;
      for (int j = 0; j < n; j++)
        is_new = is_new && strcmp(said[j], words) != 0;
      if (is_new)
        say(b, "%s", said[n++] = words);
      break;
    }
}

static double fuel_kg(const struct pw_plan *plan, const char *id)
{
  double kg = 0;
  for (int i = 0; i < plan->fuel.n_lines; i++)
    if (strcmp(plan->event->fuels[plan->fuel.lines[i].fuel].id, id) == 0)
      kg = plan->fuel.lines[i].buy_kg;
  return kg;
}

static void fuels(struct both *b)
{
  const struct pw_plan *plans[2] = {b->now, b->before};
  const enum pw_units units = b->now->event->units;
  for (int side = 0; side < 2; side++)
    for (int i = 0; i < plans[side]->fuel.n_lines; i++) {
      const struct pw_fuel *fuel = &plans[side]->event->fuels[plans[side]->fuel.lines[i].fuel];
      double now_kg = fuel_kg(b->now, fuel->id), was_kg = fuel_kg(b->before, fuel->id);
      const struct pw_short now = pw_format_fuel(units, now_kg), was = pw_format_fuel(units, was_kg);
      if (side == 1 && !(now_kg > 0))
        say(b, "%s: no longer, it was %s", fuel->name, was.s);
      else if (side == 0 && !(was_kg > 0))
        say(b, "%s: now %s, none before", fuel->name, now.s);
      else if (side == 0 && strcmp(now.s, was.s) != 0)
        say(b, "%s: now %s, it was %s", fuel->name, now.s, was.s);
    }
}

static void orders(struct both *b)
{
  b->head = "To order in addition, by its last day";
  order_lines(b, b->now, b->before, true);
  b->head = "To cancel if already ordered, or to keep for another job";
  order_lines(b, b->before, b->now, false);
  b->head = "Orders with a new last day";
  order_days(b);
  b->head = "Wood and charcoal";
  fuels(b);
}

/* ---- what moves from and to: fires, cuts, shifts ------------------------------------------------------------- */

/** Something that lasts: whose, and from when to when. */
struct span {
  const char *who;
  int from_min, to_min;
  const char *more; /**< told behind the times, or "" */
  bool is_told;
};

/* "lit Sat 12 Jun 05:35, out 17:30"; a day that was just named is left out. */
static const char *from_to(struct both *b, const struct pw_event *ev, const struct span *s, const char *verbs[2],
                           const char *named_day)
{
  const struct pw_short day = pw_when_day_short(ev, s->from_min), last = pw_when_day_short(ev, s->to_min);
  const bool is_named = strcmp(day.s, named_day) == 0, is_last = strcmp(day.s, last.s) == 0;
  return pw_words(b->page, "%s%s%s%s%s%s%s%s%s", verbs[0], is_named ? "" : day.s, is_named ? "" : " ",
                  pw_when_clock(ev, s->from_min).s, verbs[1], is_last ? "" : last.s, is_last ? "" : " ",
                  pw_when_clock(ev, s->to_min).s, s->more);
}

/* Marks what both have alike, which is told of neither. */
static void spans_alike(struct both *b, struct span *old, int n_old, struct span *now, int n_now, const char *verbs[2])
{
  for (int i = 0; i < n_now; i++)
    for (int k = 0; k < n_old && !now[i].is_told; k++)
      if (!old[k].is_told && strcmp(old[k].who, now[i].who) == 0 &&
          strcmp(from_to(b, b->before->event, &old[k], verbs, ""), from_to(b, b->now->event, &now[i], verbs, "")) == 0)
        old[k].is_told = now[i].is_told = true;
}

/* One's time of before beside the one of now, as far as both last. */
static void spans(struct both *b, struct span *old, int n_old, struct span *now, int n_now, const char *verbs[2])
{
  const struct pw_event *before = b->before->event, *after = b->now->event;
  for (int i = 0; i < n_now; i++)
    for (int k = 0; k < n_old && !now[i].is_told; k++) {
      if (old[k].is_told || strcmp(old[k].who, now[i].who) != 0)
        continue;
      const struct pw_short day = pw_when_day_short(after, now[i].from_min);
      say(b, "%s: now %s; it was %s", now[i].who, from_to(b, after, &now[i], verbs, ""),
          from_to(b, before, &old[k], verbs, day.s));
      old[k].is_told = now[i].is_told = true;
    }
  for (int k = 0; k < n_old; k++)
    if (!old[k].is_told)
      say(b, "%s: no longer %s", old[k].who, from_to(b, before, &old[k], verbs, ""));
  for (int i = 0; i < n_now; i++)
    if (!now[i].is_told)
      say(b, "%s: also %s", now[i].who, from_to(b, after, &now[i], verbs, ""));
}

static bool is_one_day(const struct pw_event *x, int x_min, const struct pw_event *y, int y_min)
{
  return strcmp(pw_when_day_short(x, x_min).s, pw_when_day_short(y, y_min).s) == 0;
}

/* Behind each other, by day: those of now, then whoever does not come on that day any more. */
static void spans_run_on(struct both *b, const struct span *old, int n_old, const struct span *now, int n_now,
                         const char *verbs[2])
{
  const struct pw_event *evs[2] = {b->now->event, b->before->event};
  for (int side = 0; side < 2; side++) {
    const char *list = NULL, *day = "";
    for (int i = 0; i < (side ? n_old : n_now); i++) {
      const struct span *s = side ? &old[i] : &now[i];
      bool is_known = s->is_told;
      for (int k = 0; k < n_now && side; k++)
        is_known =
            is_known || (strcmp(now[k].who, s->who) == 0 && is_one_day(evs[0], now[k].from_min, evs[1], s->from_min));
      if (is_known)
        continue;
      const char *its = pw_words(b->page, "%s", pw_when_day_short(evs[side], s->from_min).s);
      bool is_new_day = strcmp(its, day) != 0;
      list = pw_words(b->page, "%s%s%s%s%s %s", list ? list : "", list ? "; " : "", is_new_day ? its : "",
                      is_new_day ? ": " : "", s->who, from_to(b, evs[side], s, verbs, its));
      day = its;
    }
    if (list)
      say(b, "%s %s", side ? "no longer" : "now", list);
  }
}

static struct span *spans_open(struct both *b, int n)
{
  struct span *list = pw_arena_array(b->page->arena, (size_t)n + 1, sizeof *list);
  b->page->has_failed = b->page->has_failed || !list;
  return list;
}

static struct span *fires_of(struct both *b, const struct pw_plan *plan, int *n)
{
  const struct pw_allocation *a = &plan->allocation;
  struct span *list = spans_open(b, a->n_burns);
  *n = list ? a->n_burns : 0;
  for (int i = 0; i < *n; i++)
    list[i] = (struct span){.who = plan->event->pits[a->burns[i].pit].name,
                            .from_min = a->burns[i].lit_at_min,
                            .to_min = a->burns[i].out_at_min,
                            .more = ""};
  return list;
}

/* Each lot, with its meal where there are several. */
static struct span *cooks_of(struct both *b, const struct pw_plan *plan, int *n)
{
  const struct pw_event *ev = plan->event;
  struct pw_cook_span *cooks = pw_cook_spans(plan, n, b->page->arena);
  struct span *list = spans_open(b, cooks ? *n : 0);
  *n = cooks && list ? *n : 0;
  b->page->has_failed = b->page->has_failed || !cooks;
  for (int i = 0; i < *n; i++) {
    const char *cut = ev->cuts[cooks[i].cut].name;
    list[i] = (struct span){
        .who = ev->n_services == 1 ? cut : pw_words(b->page, "%s, %s", cut, ev->services[cooks[i].service].name),
        .from_min = cooks[i].from_at_min,
        .to_min = cooks[i].to_at_min,
        .more = pw_words(b->page, ", %s", pw_words_pieces(cooks[i].pieces).s)};
  }
  return list;
}

static struct span *shifts_of(struct both *b, const struct pw_plan *plan, int *n)
{
  const struct pw_event *ev = plan->event;
  struct span *list = spans_open(b, ev->n_crew);
  *n = list ? ev->n_crew : 0;
  for (int i = 0; i < *n; i++) {
    const struct pw_crew *c = &ev->crew[i];
    bool is_plain = c->worked && strncmp(c->worked->name, c->role, strlen(c->role)) == 0; /* "helper 2" is a helper */
    list[i] = (struct span){.who = is_plain    ? c->worked->name
                                   : c->worked ? pw_words(b->page, "%s, %s", c->role, c->worked->name)
                                               : pw_words(b->page, "%s, %d", c->role, pw_head_count_hands(ev, c)),
                            .from_min = c->from_at_min,
                            .to_min = c->to_at_min,
                            .more = ""};
  }
  return list;
}

static void moves(struct both *b, const char *head, struct span *(*of)(struct both *, const struct pw_plan *, int *),
                  const char *from, const char *to, bool is_run_on)
{
  int n_old = 0, n_now = 0;
  struct span *old = of(b, b->before, &n_old), *now = of(b, b->now, &n_now);
  const char *verbs[2] = {from, to};
  b->head = head;
  if (!old || !now)
    return;
  spans_alike(b, old, n_old, now, n_now, verbs);
  if (is_run_on)
    spans_run_on(b, old, n_old, now, n_now, verbs);
  else
    spans(b, old, n_old, now, n_now, verbs);
}

/* The names alone of what cooks otherwise than before. */
static void cooks_named(struct both *b)
{
  struct pw_page *p = b->page;
  int n_old = 0, n_now = 0;
  struct span *old = cooks_of(b, b->before, &n_old), *now = cooks_of(b, b->now, &n_now);
  const char *verbs[2] = {"", " "}, *list = NULL;
  b->head = "Cooking";
  if (!old || !now)
    return;
  spans_alike(b, old, n_old, now, n_now, verbs);
  for (int i = 0; i < n_now + n_old; i++) {
    const struct span *s = i < n_now ? &now[i] : &old[i - n_now];
    bool is_said = s->is_told;
    for (int k = 0; k < i && !is_said; k++) {
      const struct span *earlier = k < n_now ? &now[k] : &old[k - n_now];
      is_said = !earlier->is_told && strcmp(earlier->who, s->who) == 0;
    }
    if (!is_said)
      list = pw_words(p, "%s%s%s", list ? list : "", list ? "; " : "", s->who);
  }
  if (list)
    say(b, "other times or pieces, by the new sheets: %s", list);
}

/* ---- money --------------------------------------------------------------------------------------------------- */

static void money(struct both *b)
{
  const struct pw_quote *was = &b->before->quote, *is = &b->now->quote;
  const struct pw_event *ev = b->now->event;
  b->head = "What the customer owes";
  if (strcmp(ev->currency, b->before->event->currency) != 0) {
    say(b, "The two are in different currencies.");
    return;
  }
  pw_cents more = is->total_cents - was->total_cents;
  if (more != 0)
    say(b, "Total now %s, it was %s: %s %s.", pw_money_format(ev, is->total_cents).s,
        pw_money_format(ev, was->total_cents).s, pw_money_format(ev, more < 0 ? -more : more).s,
        more < 0 ? "less" : "more");
  else if (b->n_said > 0)
    say(b, "Total as before: %s.", pw_money_format(ev, is->total_cents).s);
  for (int i = 0; i < is->n_dues; i++) {
    const struct pw_due *due = &is->dues[i];
    bool is_known = false;
    for (int k = 0; k < was->n_dues; k++)
      is_known = is_known || (strcmp(was->dues[k].name, due->name) == 0 && was->dues[k].cents == due->cents &&
                              was->dues[k].date.year == due->date.year && was->dues[k].date.month == due->date.month &&
                              was->dues[k].date.day == due->date.day);
    if (!is_known)
      say(b, "%s%s%s: %s", due->name, due->date.year ? ", by " : "", due->date.year ? pw_when_date(due->date).s : "",
          pw_money_format(ev, due->cents).s);
  }
  pw_cents cost = is->cost_cents - was->cost_cents;
  b->head = "For the owner";
  if (cost != 0)
    say(b, "It costs %s %s than before; the margin is %s, it was %s.", pw_money_format(ev, cost < 0 ? -cost : cost).s,
        cost < 0 ? "less" : "more", pw_format_percent(is->margin_frac).s, pw_format_percent(was->margin_frac).s);
  if (b->now->allocation.n_missed > 0)
    say(b, "DOES NOT FIT: %s no place.", pw_words_count(b->now->allocation.n_missed, "piece has", "pieces have").s);
  if (b->n_said > 0 && b->now->allocation.is_quick && !b->before->allocation.is_quick)
    say(b, "Planned quickly: the thorough plan may differ and cost less.");
}

pw_status pw_page_against(struct pw_page *page, const struct pw_plan *before, const struct pw_plan *now, int brevity,
                          struct pw_ctx *ctx)
{
  struct both both = {.page = page, .before = before, .now = now, .brevity = (enum brevity)brevity}, *b = &both;
  *page = pw_page_open(now, now->event, ctx);
  pw_page_title(b->page, now->event->name, "What changed");
  if (strcmp(pw_when_date(before->event->date).s, pw_when_date(now->event->date).s) != 0)
    say(b, "THE DAY: now %s, it was %s.", pw_when_date(now->event->date).s, pw_when_date(before->event->date).s);
  meals(b);
  orders(b);
  moves(b, "Fires", fires_of, "lit ", ", out ", false);
  if (b->brevity >= CUTS_NAMED)
    cooks_named(b);
  else
    moves(b, "Cooking", cooks_of, "on ", ", off ", false);
  moves(b, "Shifts", shifts_of, "", " to ", b->brevity >= SHIFTS_RUN_ON);
  money(b);
  b->head = NULL;
  if (b->n_said == 0)
    say(b, "Nothing: meals, orders, fires, shifts and money are as before.");
  else {
    pw_page_blank(b->page);
    pw_page_para(b->page, 0, 0, "The sheets handed out before are out of date: collect them.");
  }
  return pw_page_done(page);
}
