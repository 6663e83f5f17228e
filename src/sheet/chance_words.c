/* chance_words.c - the chance of a meal in words.  In: the plan's draws.  Out: a sentence. */
#include "sheet/chance_words.h"

#include "base/format.h"
#include "heat/food_code.h"
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
  text = pw_arena_printf(arena, "%s. %s were asked for: these pits, boxes and hands give no more", text,
                         pw_format_number(target * 100, 1).s);
  if (text && n_ways > 0)
    text = pw_arena_printf(arena,
                           n_ways == 1 ? "%s; %d way to be ready more often stands in the plan"
                                       : "%s; %d ways to be ready more often stand in the plan",
                           text, n_ways);
  return text;
}

const char *pw_chance_more_words(const struct pw_plan *plan, int service, struct pw_arena *arena)
{
  if (!plan->chance.services)
    return "";
  const struct pw_service_chance *c = &plan->chance.services[service];
  const char *text =
      pw_arena_printf(arena, "With fires that are slow to burn clean or are lost for a while: %d of 100.",
                      of_hundred(fmin(c->with_fires_frac, c->on_time_frac)));
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
