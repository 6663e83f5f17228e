/* chance_words.c - the chance of a meal in words.  In: the plan's draws.  Out: a sentence. */
#include "sheet/chance_words.h"

#include "base/format.h"
#include "heat/food_code.h"
#include "plan/chance/chance.h"
#include "plan/chance/on_time.h"

#include <math.h>
#include <string.h>

/** Of a hundred: never more than was drawn, and not "100" where some were late. */
static int of_hundred(double frac) { return (int)floor(frac * 100 + 1e-9); }

/* With a tenth where the last of a hundred are what is paid for: "99.8", "96". */
static const char *tenths_of_hundred(double frac, struct pw_arena *arena)
{
  static const double FROM_FRAC = 0.98;
  double tenths = floor(frac * 1000 + 1e-9);
  return frac < FROM_FRAC || fmod(tenths, 10) == 0 ? pw_arena_printf(arena, "%d", of_hundred(frac))
                                                   : pw_arena_printf(arena, "%.1f", tenths / 10);
}

/* Ways out that are told with the plan and raise this meal's chance. */
static int ways_of(const struct pw_plan *plan, int service)
{
  const char *id = plan->event->services[service].id;
  double now = plan->chance.services[service].on_time_frac;
  int n = 0;
  for (int i = 0; i < plan->allocation.n_remedies; i++) {
    const struct pw_remedy *way = &plan->allocation.remedies[i];
    bool helps = false;
    for (int k = 0; k < way->n_chances; k++)
      helps = helps || (strcmp(way->chances[k].service, id) == 0 && way->chances[k].on_time_frac > now);
    n += helps;
  }
  return n;
}

/* What makes a meal late first. */
struct cause {
  int lot;
  enum pw_blame_kind kind;
  int n_draws;
};

/* "a long cook of Brisket, 4 of 100", "a spot still taken by Pork butt, 1 of 100". */
static const char *cause_words(const struct pw_plan *plan, int service, const struct cause *cause,
                               struct pw_arena *arena)
{
  const struct pw_lot *lot = &plan->lots.lots[cause->lot];
  const struct pw_service *meal = &plan->event->services[lot->service];
  const char *of = lot->service == service
                       ? ""
                       : pw_arena_printf(arena, " of %s", meal->name && *meal->name ? meal->name : meal->id);
  int n = (int)floor((double)cause->n_draws / plan->chance.n_draws * 100 + 0.5);
  const char *often = n > 0 ? pw_arena_printf(arena, "%d", n) : "fewer than 1";
  return of && often ? pw_arena_printf(arena, "%s %s%s, %s of 100",
                                       cause->kind == PW_BLAME_OWN ? "a long cook of" : "a spot still taken by",
                                       plan->event->cuts[lot->cut].name, of, often)
                     : NULL;
}

/* "First causes: ...; ...": the two that make the meal late most often, the second where it is one cook of a hundred; "" for none. */
static const char *causes_words(const struct pw_plan *plan, int service, struct pw_arena *arena)
{
  struct cause first = {.n_draws = 0}, second = first;
  for (int c = 0; c < plan->lots.n_lots && plan->chance.blames; c++)
    for (int kind = 0; kind < PW_BLAME__COUNT; kind++) {
      struct cause now = {c, (enum pw_blame_kind)kind, 0};
      now.n_draws = plan->chance.blames[pw_blame_at(plan->lots.n_lots, service, c, now.kind)];
      if (now.n_draws > first.n_draws) {
        second = first;
        first = now;
      } else if (now.n_draws > second.n_draws)
        second = now;
    }
  if (first.n_draws == 0)
    return "";
  const char *one = cause_words(plan, service, &first, arena);
  if (second.n_draws * 100 < plan->chance.n_draws)
    return one ? pw_arena_printf(arena, "First cause: %s", one) : NULL;
  const char *two = cause_words(plan, service, &second, arena);
  return one && two ? pw_arena_printf(arena, "First causes: %s; %s", one, two) : NULL;
}

const char *pw_chance_words(const struct pw_plan *plan, int service, struct pw_arena *arena)
{
  if (!plan->chance.services)
    return "";
  const struct pw_service_chance *c = &plan->chance.services[service];
  double target = pw_on_time_target(plan->event, service);
  const char *text = pw_arena_printf(arena, "%d of 100 cooks", of_hundred(c->on_time_frac));
  int late = (int)ceil(c->weakest_late_frac * 100 - 1e-9);
  if (text && c->weakest_lot != PW_NONE)
    text = pw_arena_printf(arena, "%s; most often late: %s, %d of 100, by %d min", text,
                           plan->event->cuts[plan->lots.lots[c->weakest_lot].cut].name, late,
                           (int)floor(c->weakest_late_min + 0.5));
  if (!text || target <= 0 || c->on_time_frac >= target)
    return text;
  int n_ways = ways_of(plan, service);
  const char *causes = causes_words(plan, service, arena);
  text = causes && *causes ? pw_arena_printf(arena, "%s. %s", text, causes) : causes ? text : NULL;
  text = text ? pw_arena_printf(arena, "%s. %s were asked for: these pits, boxes and hands give no more", text,
                                pw_format_number(target * 100, 1).s)
              : NULL;
  if (text && n_ways > 0)
    text = pw_arena_printf(arena,
                           n_ways == 1 ? "%s; %d way to be ready more often stands in the plan"
                                       : "%s; %d ways to be ready more often stand in the plan",
                           text, n_ways);
  return text;
}

const char *pw_chance_short_words(const struct pw_plan *plan, int service, struct pw_arena *arena)
{
  if (!plan->chance.services)
    return "";
  const struct pw_service_chance *c = &plan->chance.services[service];
  bool has_weakest = c->weakest_lot != PW_NONE;
  return pw_arena_printf(arena, "%d of 100 cooks%s%s", of_hundred(c->on_time_frac), has_weakest ? ", watch " : "",
                         has_weakest ? plan->event->cuts[plan->lots.lots[c->weakest_lot].cut].name : "");
}

const char *pw_chance_more_words(const struct pw_plan *plan, int service, struct pw_arena *arena)
{
  if (!plan->chance.services)
    return "";
  const struct pw_service_chance *c = &plan->chance.services[service];
  bool is_short =
      c->on_time_frac < pw_on_time_target(plan->event, service); /* then its causes stand beside the chance */
  const char *causes = is_short ? "" : causes_words(plan, service, arena);
  const char *text =
      causes ? pw_arena_printf(arena, "%s%sWith fires that are slow to burn clean or are lost for a while: %d of 100.",
                               causes, *causes ? ". " : "", of_hundred(fmin(c->with_fires_frac, c->on_time_frac)))
             : NULL;
  int held = (int)floor(c->held_long_frac * 100 + 0.5);
  if (text && held > 0 && c->held_long_lot != PW_NONE)
    text = pw_arena_printf(
        arena,
        "%s Ready so early that it is held more than %d min beyond its longest hold: %d of 100, most often %s, by "
        "%d min.",
        text, plan->lots.slot_min, held, plan->event->cuts[plan->lots.lots[c->held_long_lot].cut].name,
        (int)ceil(c->held_long_min - 1e-9));
  int slow = (int)floor(c->slow_core_frac * 100 + 0.5);
  if (text && c->slow_core_lot != PW_NONE)
    text = pw_arena_printf(
        arena, "%s Not late but unsafe, its core more than %s between %s and %s: %s of 100, most often %s.", text,
        pw_format_minutes(PW_COME_UP_MOST_MIN).s, pw_format_temp(plan->event->units, PW_COME_UP_FROM_C).s,
        pw_format_temp(plan->event->units, PW_COME_UP_TO_C).s,
        slow > 0 ? pw_arena_printf(arena, "%d", slow) : "fewer than 1",
        plan->event->cuts[plan->lots.lots[c->slow_core_lot].cut].name);
  return text;
}

/* "88 without it": of a meal that is there now, where all has a place. */
static const char *now_words(const struct pw_plan *plan, const char *service, struct pw_arena *arena)
{
  for (int s = 0; s < plan->event->n_services && plan->chance.services && plan->allocation.n_missed == 0; s++)
    if (strcmp(plan->event->services[s].id, service) == 0)
      return pw_arena_printf(arena, "%s without it", tenths_of_hundred(plan->chance.services[s].on_time_frac, arena));
  return "";
}

const char *pw_chance_after_words(const struct pw_plan *plan, const struct pw_remedy *way, struct pw_arena *arena)
{
  const char *text = way->n_chances > 0 ? "Ready on time:" : "";
  for (int i = 0; i < way->n_chances && text; i++) {
    const struct pw_meal_chance *c = &way->chances[i];
    const char *now = now_words(plan, c->service, arena), *ready = tenths_of_hundred(c->on_time_frac, arena),
               *name = way->n_chances > 1 ? pw_arena_printf(arena, " %s,", *c->name ? c->name : c->service) : "";
    text = now && name && ready ? pw_arena_printf(arena, "%s%s %s of 100 cooks%s%s%s", text, name, ready,
                                                  *now ? ", " : "", now, i + 1 < way->n_chances ? ";" : ".")
                                : NULL;
  }
  return text;
}

const char *pw_level_words(const struct pw_quote_level *level)
{
  return level->is_plan            ? "this plan"
         : level->margin_frac == 0 ? "none"
         : level->margin_frac < 1  ? "half"
         : level->margin_frac < 2  ? "half as much again"
                                   : "twice as much";
}
