/* words.c - see words.h. */
#include "sheet/words.h"

#include "base/arena.h"
#include "base/when.h"
#include "plan/demand/meat.h"
#include "plan/lots/pans_out.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

struct pw_short pw_words_count(int n, const char *one, const char *many)
{
  struct pw_short text;
  snprintf(text.s, sizeof text.s, "%d %s", n, n == 1 ? one : many);
  return text;
}

struct pw_plural pw_words_plural(const char *word, int n)
{
  static const char *const symbols[] = {"lb", "oz", "gal", "qt", "g", "kg", "l", "L", "ml", "mL", "each"};
  const char *of = strstr(word, " of "); /* what is counted stands before it */
  size_t len = of ? (size_t)(of - word) : strlen(word);
  const char *end = word + len;
  bool is_as_it_is = n == 1 || len < 2 || (end[-1] == 's' && end[-2] != 's') || end[-1] < 'a' || end[-1] > 'z';
  for (size_t i = 0; i < sizeof symbols / sizeof *symbols; i++)
    is_as_it_is = is_as_it_is || (strlen(symbols[i]) == len && strncmp(word, symbols[i], len) == 0);
  if (is_as_it_is)
    return (struct pw_plural){(int)len, "", end};
  if (len > 2 && strncmp(end - 2, "af", 2) == 0)
    return (struct pw_plural){(int)len - 1, "ves", end};
  if (end[-1] == 'y' && !strchr("aeiou", end[-2]))
    return (struct pw_plural){(int)len - 1, "ies", end};
  bool is_hissed = strchr("sxz", end[-1]) || (end[-1] == 'h' && strchr("cs", end[-2]));
  return (struct pw_plural){(int)len, is_hissed ? "es" : "s", end};
}

struct pw_short pw_words_guests(int n) { return pw_words_count(n, "guest", "guests"); }

struct pw_short pw_words_pieces(int n) { return pw_words_count(n, "piece", "pieces"); }

struct pw_short pw_words_edition(const struct pw_plan *plan)
{
  struct pw_short text = {""};
  if (plan->day)
    snprintf(text.s, sizeof text.s, "plan %d, %.30s, replaces %d", plan->day->edition,
             pw_when(plan->event, plan->day->now_min).s, plan->day->edition - 1);
  return text;
}

bool pw_words_has_ends(const struct pw_setting *set) { return set->hot_c > set->cool_c; }

struct pw_short pw_words_ends(enum pw_units units, const struct pw_setting *set)
{
  struct pw_short text;
  if (pw_words_has_ends(set))
    snprintf(text.s, sizeof text.s, "%.15s at the fire end, %.15s at the far end", pw_format_temp(units, set->hot_c).s,
             pw_format_temp(units, set->cool_c).s);
  else
    snprintf(text.s, sizeof text.s, "%.15s all over", pw_format_temp(units, set->hot_c).s);
  return text;
}

/* Up at this many steps a unit; what is a whole step but for rounding stays. */
static double rounded_up(double value, double steps) { return ceil(value * steps - 1e-9) / steps; }

bool pw_words_time_control(const struct pw_plan *plan, const struct pw_demand_line *line)
{
  const struct pw_service *service = &plan->event->services[line->service];
  for (int m = 0; m < service->n_menu; m++)
    if (service->menu[m].dish == line->dish)
      return service->menu[m].is_time_control;
  return false;
}

int pw_words_pans(const struct pw_plan *plan, const struct pw_demand_line *line)
{
  int n = 0;
  for (int i = 0; i < plan->lots.n_side_pans; i++) {
    const struct pw_side_pans *p = &plan->lots.side_pans[i];
    n += p->service == line->service && p->dish == line->dish ? p->pans : 0;
  }
  return n > 0 ? n : pw_pans_of(plan->event, &plan->lots, line);
}

int pw_words_whole_portions(double portions) { return (int)floor(portions + 1e-9); }

struct pw_short pw_words_search_cost(const struct pw_event *ev, const struct pw_allocation *allocation)
{
  return pw_money_format(ev, (pw_cents)llround(allocation->cost_cents));
}

struct pw_short pw_words_bound(const struct pw_event *ev, const struct pw_allocation *allocation)
{
  return pw_money_format(ev, (pw_cents)floor(allocation->bound_cents + 1e-9));
}

struct pw_short pw_words_gap(const struct pw_allocation *allocation)
{
  return pw_format_percent(rounded_up(allocation->gap_frac, 1000));
}

bool pw_words_is_proved(const struct pw_allocation *allocation)
{
  return allocation->bound_cents > 0 && allocation->gap_frac < 1 && allocation->n_missed == 0;
}

static struct pw_short money_down(const struct pw_event *ev, double cents)
{
  return pw_money_format(ev, (pw_cents)floor(cents + 1e-9));
}

const char *pw_words_proof(const struct pw_event *ev, const struct pw_allocation *allocation, struct pw_arena *arena)
{
  const struct pw_proof *p = &allocation->proof;
  if (!(p->fractions_cents > 0) || !pw_words_is_proved(allocation) || allocation->gap_frac <= 1e-6)
    return "";
  const char *between =
      p->is_whole
          ? "In that last step fires, ovens and openings are whole. The rest of the gap is pieces that fit by area but "
            "not by shape, pieces that stay where they lie, or a better plan: how much of each is not known."
          : "More work (--work) may raise it. The rest of the gap is fires in fractions, pieces that fit by area but "
            "not by shape, or a better plan: how much of each is not known.";
  return pw_arena_printf(
      arena,
      "How that limit was found: %s with pieces, fires and openings in fractions, by areas; %s with the "
      "shapes of pieces and racks; %s with whole fires, ovens and openings. %s",
      money_down(ev, p->fractions_cents).s, money_down(ev, p->shapes_cents).s, pw_words_bound(ev, allocation).s,
      between);
}

int pw_words_order_by_at_min(const struct pw_plan *plan, const struct pw_purchase_line *line)
{
  const struct pw_item *items = plan->event->items;
  const char *supplier = items[line->item].offers[line->offer].supplier;
  int at_min = line->order_by_at_min;
  for (int i = 0; i < plan->purchase.n_lines; i++) {
    const struct pw_purchase_line *other = &plan->purchase.lines[i];
    if (other->order_by_at_min < at_min && strcmp(items[other->item].offers[other->offer].supplier, supplier) == 0)
      at_min = other->order_by_at_min;
  }
  return at_min;
}

const char *pw_words_dish_at(const struct pw_event *ev, int service, int dish, struct pw_arena *arena)
{
  const char *name = ev->dishes[dish].name;
  return ev->n_services > 1 ? pw_arena_printf(arena, "%s: %s", ev->services[service].name, name) : name;
}

const char *pw_words_choice(const struct pw_event *ev, const struct pw_quote_option *option, struct pw_arena *arena)
{
  const char *dish = pw_words_dish_at(ev, option->service, option->dish, arena);
  if (!dish || option->instead_of == PW_NONE)
    return dish ? pw_arena_printf(arena, "%s in addition", dish) : NULL;
  return pw_arena_printf(arena, "%s instead of %s", dish, ev->dishes[option->instead_of].name);
}

const char *pw_words_no_labour(const struct pw_event *ev, const struct pw_quote *quote)
{
  if (ev->n_crew == 0)
    return "No crew is named: there is no labour in the cost or in the price.";
  return quote->labour_cents == 0 ? "Nobody in the crew is paid: there is no labour in the cost or in the price."
                                  : NULL;
}

const char *pw_words_no_labour_offered(const struct pw_event *ev, const struct pw_quote *quote)
{
  return pw_words_no_labour(ev, quote) ? "No labour is in this price." : NULL;
}

const char *pw_words_meat(const struct pw_plan *plan, int service, struct pw_arena *arena)
{
  const struct pw_event *ev = plan->event;
  const struct pw_style_work *usual = &ev->styles[ev->services[service].style];
  double kg = plan->demand.laws ? pw_meat_per_guest_kg(ev, &plan->demand, service) : 0;
  const int side = kg > 0 ? pw_meat_outside(ev, &plan->demand, service) : 0;
  if (!(kg > 0))
    return "";
  const struct pw_short amount = pw_format_weight(ev->units, kg);
  const struct pw_short least = pw_format_weight(ev->units, usual->meat_least_kg);
  const struct pw_short most = pw_format_weight(ev->units, usual->meat_most_kg);
  if (!(usual->meat_most_kg > 0))
    return pw_arena_printf(arena, "cooked meat for each guest who eats meat: %s.", amount.s);
  return pw_arena_printf(
      arena, "cooked meat for each guest who eats meat: %s, %s the usual %s to %s (common practice, no source).",
      amount.s,
      side < 0   ? "LESS THAN"
      : side > 0 ? "MORE THAN"
                 : "within",
      least.s, most.s);
}
