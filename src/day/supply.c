/* supply.c - wood, guests and portions against what is there [N3].
 * Input: state and the plan from now on.  Output: what is short, by how much, from when, and choices with their cost. */
#include "day/supply.h"

#include "base/arena.h"
#include "base/format.h"
#include "base/text.h"
#include "base/when.h"
#include "plan/fire/pit_heat.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <stdlib.h>

enum { CHOICES_MAX = 8 };

/* ---- weather and wood -------------------------------------------------------------------------------------------------- */

pw_status pw_supply_event(const struct pw_event **out, const struct pw_state *s, struct pw_ctx *ctx)
{
  const struct pw_event *ev = s->plan->event;
  *out = ev;
  if (isnan(s->weather_c))
    return PW_OK;
  struct pw_event *now = pw_arena_alloc(ctx->arena, sizeof *now);
  if (!now)
    return PW_ERR_MEMORY;
  *now = *ev;
  double by = s->weather_c - pw_weather_c(&ev->weather, s->weather_at_min);
  now->weather.low_c += by;
  now->weather.high_c += by;
  if (!isnan(s->wind_m_s))
    now->weather.wind_m_s = s->wind_m_s;
  *out = now;
  return PW_OK;
}

static double bought_kg(const struct pw_plan *plan)
{
  double sum = 0;
  for (int i = 0; i < plan->fuel.n_lines; i++)
    sum += plan->event->fuels[plan->fuel.lines[i].fuel].is_charcoal ? 0 : plan->fuel.lines[i].buy_kg;
  return sum;
}

static double fed_kg(const struct pw_fuel_plan *fuel, int from_min, int to_min)
{
  double sum = 0;
  for (int b = 0; b < fuel->n_burns; b++)
    for (int k = 0; k < fuel->burns[b].n_feeds; k++)
      if (fuel->burns[b].feeds[k].at_min >= from_min && fuel->burns[b].feeds[k].at_min < to_min)
        sum += fuel->burns[b].feeds[k].wood_kg;
  return sum;
}

/* The first minute at which more was fed since `from` than there was. */
static int out_at(const struct pw_fuel_plan *fuel, int from_min, double left_kg)
{
  int best = PW_DAY_OPEN;
  for (int b = 0; b < fuel->n_burns; b++)
    for (int k = 0; k < fuel->burns[b].n_feeds; k++) {
      int at = fuel->burns[b].feeds[k].at_min;
      if (at >= from_min && at < best && fed_kg(fuel, from_min, at + 1) > left_kg + 1e-9)
        best = at;
    }
  return best;
}

pw_status pw_supply_wood(struct pw_wood_left *out, const struct pw_state *s, const struct pw_plan *plan,
                         struct pw_ctx *ctx)
{
  struct pw_fuel_plan fuel;
  const struct pw_event *ev = NULL;
  *out = (struct pw_wood_left){.is_known = !isnan(s->wood_kg) || !isnan(s->weather_c),
                               .from_min = isnan(s->wood_kg) ? s->now_min : s->wood_at_min,
                               .out_at_min = PW_DAY_OPEN};
  if (!out->is_known)
    return PW_OK;
  pw_status st = pw_supply_event(&ev, s, ctx);
  if (st == PW_OK)
    st = pw_fuel_make(&fuel, ev, &plan->lots, &plan->allocation, &plan->visits, ctx);
  if (st != PW_OK)
    return st;
  out->left_kg =
      isnan(s->wood_kg) ? fmax(bought_kg(s->plan) - fed_kg(&s->plan->fuel, INT_MIN, s->now_min), 0) : s->wood_kg;
  out->need_kg = fed_kg(&fuel, out->from_min, INT_MAX);
  out->out_at_min = out_at(&fuel, out->from_min, out->left_kg);
  return PW_OK;
}

const char *pw_supply_wood_words(const struct pw_wood_left *w, const struct pw_event *ev, struct pw_arena *arena)
{
  if (!w->is_known)
    return NULL;
  struct pw_short need = pw_format_weight(ev->units, w->need_kg), left = pw_format_weight(ev->units, w->left_kg);
  if (w->out_at_min == PW_DAY_OPEN)
    return pw_arena_printf(arena, "Wood: %s left, %s needed to the end: enough.", left.s, need.s);
  return pw_arena_printf(arena, "WOOD: %s left, %s needed: none for the feed at %s. Bring %s.", left.s, need.s,
                         pw_when(ev, w->out_at_min).s, pw_format_weight(ev->units, w->need_kg - w->left_kg).s);
}

/* ---- portions ---------------------------------------------------------------------------------------------------------- */

static int guests_planned(const struct pw_event *ev, int service)
{
  int n = 0;
  for (int c = 0; c < ev->n_classes; c++)
    n += ev->services[service].guests[c];
  return n;
}

/* Portions of a line that are there and that are wanted; false: nothing is known of it. */
static bool portions_of(const struct pw_state *s, int i, double *have, double *wanted)
{
  const struct pw_plan *plan = s->plan;
  const struct pw_demand_line *line = &plan->demand.lines[i];
  int guests = guests_planned(plan->event, line->service), there = 0, pieces = 0,
      cut = plan->event->dishes[line->dish].cut;
  if (!plan->purchase.dishes || guests == 0)
    return false;
  for (int l = 0; l < plan->lots.n_lots && cut != PW_NONE; l++)
    for (int k = s->first[l];
         k < s->first[l + 1] && plan->lots.lots[l].service == line->service && plan->lots.lots[l].cut == cut; k++) {
      pieces++;
      there += !s->pieces[k].is_missing;
    }
  if (cut != PW_NONE && pieces == 0)
    return false;
  int now = s->guests[line->service] == PW_NONE ? guests : s->guests[line->service];
  *wanted = (double)line->portions * now / guests;
  *have = plan->purchase.dishes[i].portions * (cut == PW_NONE ? 1 : (double)there / pieces);
  return there < pieces || now != guests;
}

pw_status pw_supply_shorts(struct pw_short_dish **out, int *n, const struct pw_state *s, struct pw_ctx *ctx)
{
  struct pw_short_dish *all = pw_arena_array(ctx->arena, (size_t)s->plan->demand.n_lines + 1, sizeof *all);
  *out = all;
  *n = 0;
  if (!all)
    return PW_ERR_MEMORY;
  for (int i = 0; i < s->plan->demand.n_lines; i++) {
    const struct pw_service *service = &s->plan->event->services[s->plan->demand.lines[i].service];
    double have = 0, wanted = 0;
    if (service->at_min + service->length_min > s->now_min && portions_of(s, i, &have, &wanted) && wanted > have + 1e-6)
      all[(*n)++] = (struct pw_short_dish){i, (int)ceil(wanted - have - 1e-6), wanted, have};
  }
  return PW_OK;
}

/* ---- choices ----------------------------------------------------------------------------------------------------------- */

struct choice {
  pw_cents cents;
  const char *text;
};

/* Least minutes from now until a piece that goes on at once is rested; INT_MAX: nowhere. */
static int cook_min(const struct pw_plan *plan, int service, int cut)
{
  int best = INT_MAX;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    int smoke = INT_MAX, finish = lot->has_finish ? INT_MAX : 0;
    if (lot->service != service || lot->cut != cut)
      continue;
    for (int z = 0; z < plan->lots.n_zones; z++)
      for (int k = 0; k < plan->event->pits[plan->lots.zones[z].pit].n_settings; k++) {
        if (lot->smoke_min[z][k] != PW_NONE && lot->smoke_min[z][k] < smoke)
          smoke = lot->smoke_min[z][k];
        if (lot->has_finish && lot->finish_min[z][k] != PW_NONE && lot->finish_min[z][k] < finish)
          finish = lot->finish_min[z][k];
      }
    for (int f = 0; lot->has_finish && f < plan->event->n_finishers; f++)
      if (lot->oven_min[f] != PW_NONE && lot->oven_min[f] < finish)
        finish = lot->oven_min[f];
    if (smoke < INT_MAX && finish < INT_MAX && smoke + finish + lot->rest_min + lot->carve_min < best)
      best = smoke + finish + lot->rest_min + lot->carve_min;
  }
  return best;
}

static const char *smaller_words(const struct pw_plan *plan, const struct pw_short_dish *d, struct pw_arena *arena)
{
  const struct pw_dish *dish = &plan->event->dishes[plan->demand.lines[d->line].dish];
  double frac = d->have / d->wanted;
  if (dish->is_by_count || dish->portion_kg <= 0)
    return pw_arena_printf(arena, "first come, first served: enough for %d of %d", (int)floor(d->have + 1e-6),
                           (int)ceil(d->wanted - 1e-6));
  return pw_arena_printf(arena, "smaller portions: %s instead of %s",
                         pw_format_weight(plan->event->units, dish->portion_kg * frac).s,
                         pw_format_weight(plan->event->units, dish->portion_kg).s);
}

static const char *buy_words(const struct pw_state *s, const struct pw_short_dish *d, pw_cents cents,
                             struct pw_arena *arena)
{
  const struct pw_plan *plan = s->plan;
  const struct pw_demand_line *line = &plan->demand.lines[d->line];
  const struct pw_event *ev = plan->event;
  int cut = ev->dishes[line->dish].cut, begin = ev->services[line->service].at_min,
      takes = cut == PW_NONE ? 0 : cook_min(plan, line->service, cut);
  struct pw_short money = pw_money_format(ev, cents);
  if (cut == PW_NONE)
    return pw_arena_printf(arena, "buy %d more portions, about %s", d->lacks, money.s);
  if (takes == INT_MAX || s->now_min + takes > begin)
    return pw_arena_printf(arena, "too late to cook more: buy %d portions ready to eat; raw they would cost about %s",
                           d->lacks, money.s);
  return pw_arena_printf(arena, "buy and cook %d more portions, about %s: on by %s where a spot is free", d->lacks,
                         money.s, pw_when(ev, begin - takes).s);
}

/* More of another dish of the meal of which there is enough. */
static void others(struct choice *to, int *n, const struct pw_short_dish *d, const struct pw_short_dish *all, int n_all,
                   const struct pw_plan *plan, struct pw_arena *arena)
{
  const struct pw_demand_line *line = &plan->demand.lines[d->line];
  int best = PW_NONE;
  for (int i = 0; i < plan->demand.n_lines; i++) {
    bool is_short = plan->demand.lines[i].service != line->service ||
                    plan->event->dishes[plan->demand.lines[i].dish].cut != PW_NONE ||
                    plan->purchase.dishes[i].portion_cents <= 0;
    for (int k = 0; k < n_all && !is_short; k++)
      is_short = all[k].line == i;
    if (!is_short &&
        (best == PW_NONE || plan->purchase.dishes[i].portion_cents < plan->purchase.dishes[best].portion_cents))
      best = i;
  }
  if (best == PW_NONE)
    return;
  pw_cents cents = (pw_cents)llround(plan->purchase.dishes[best].portion_cents * d->lacks);
  to[(*n)++] = (struct choice){cents, pw_arena_printf(arena, "stretch with %d portions of %s, about %s", d->lacks,
                                                      plan->event->dishes[plan->demand.lines[best].dish].name,
                                                      pw_money_format(plan->event, cents).s)};
}

static int by_cost(const void *a, const void *b)
{
  const struct choice *x = a, *y = b;
  return (x->cents > y->cents) - (x->cents < y->cents);
}

pw_status pw_supply_choices_write(struct pw_buf *out, const struct pw_short_dish *d, const struct pw_short_dish *all,
                                  int n_all, const struct pw_state *s, struct pw_ctx *ctx)
{
  const struct pw_plan *plan = s->plan;
  const struct pw_demand_line *line = &plan->demand.lines[d->line];
  struct choice choices[CHOICES_MAX];
  int n = 0;
  choices[n++] = (struct choice){0, smaller_words(plan, d, ctx->arena)};
  others(choices, &n, d, all, n_all, plan, ctx->arena);
  pw_cents cents = (pw_cents)llround(plan->purchase.dishes[d->line].portion_cents * d->lacks);
  choices[n++] = (struct choice){cents > 0 ? cents : 1, buy_words(s, d, cents, ctx->arena)};
  if (plan->event->dishes[line->dish].cut == PW_NONE) { /* a side: its two choices in one line */
    const char *side = pw_arena_printf(ctx->arena, "%s: %d of %d short; %s, or buy more for about %s",
                                       plan->event->dishes[line->dish].name, d->lacks, (int)ceil(d->wanted - 1e-6),
                                       choices[0].text ? choices[0].text : "", pw_money_format(plan->event, cents).s);
    char **lines = NULL;
    int n_lines = side ? pw_text_wrap(ctx->arena, side, 76, &lines) : -1;
    for (int k = 0; k < n_lines; k++)
      pw_buf_printf(out, "%s%s\n", k == 0 ? "  " : "    ", lines[k]);
    return n_lines < 0 || out->failed ? PW_ERR_MEMORY : PW_OK;
  }
  qsort(choices, (size_t)n, sizeof *choices, by_cost);
  const char *head = pw_arena_printf(ctx->arena, "%s, %s: %d of %d portions short. What can be done, cheapest first:",
                                     plan->event->services[line->service].name, plan->event->dishes[line->dish].name,
                                     d->lacks, (int)ceil(d->wanted - 1e-6));
  char **lines = NULL;
  int n_lines = head ? pw_text_wrap(ctx->arena, head, 78, &lines) : -1;
  for (int k = 0; k < n_lines; k++)
    pw_buf_printf(out, "%s%s\n", k == 0 ? "  " : "    ", lines[k]);
  for (int i = 0; i < n; i++) {
    int n_wrapped = choices[i].text ? pw_text_wrap(ctx->arena, choices[i].text, 72, &lines) : -1;
    if (n_wrapped < 0)
      return PW_ERR_MEMORY;
    for (int k = 0; k < n_wrapped; k++)
      pw_buf_printf(out, "%s%s\n", k == 0 ? "    - " : "      ", lines[k]);
  }
  return n_lines < 0 || out->failed ? PW_ERR_MEMORY : PW_OK;
}
