/* shortfall.c - pieces without a place as portions missing at the table, by dish and by whom they would have fed. */
#include "plan/ways/ways.h"

#include "base/arena.h"

#include <math.h>

/* Share of a line's lots that is cooked. */
static double cooked_frac(const struct pw_plan *plan, int service, int cut, int *n_missed)
{
  int pieces = 0;
  *n_missed = 0;
  for (int c = 0; c < plan->lots.n_lots; c++)
    if (plan->lots.lots[c].service == service && plan->lots.lots[c].cut == cut) {
      pieces += plan->lots.lots[c].pieces;
      *n_missed += plan->allocation.missed[c];
    }
  return pieces > 0 ? (double)(pieces - *n_missed) / pieces : 1;
}

/* Portions dealt to the classes that eat the dish, by their numbers; the largest remainders first, ties to the earlier class. */
static void deal(int *by_class, const struct pw_event *ev, const struct pw_shortfall *short_of)
{
  const struct pw_service *service = &ev->services[short_of->service];
  const struct pw_dish *dish = &ev->dishes[short_of->dish];
  bool is_meat = dish->cut != PW_NONE && ev->cuts[dish->cut].kind != PW_KIND_PLANT;
  int all = 0, left = short_of->portions;
  for (int k = 0; k < ev->n_classes; k++)
    all += is_meat && !ev->classes[k].eats_meat ? 0 : service->guests[k];
  if (all == 0)
    return;
  for (int k = 0; k < ev->n_classes; k++) {
    int eaters = is_meat && !ev->classes[k].eats_meat ? 0 : service->guests[k];
    by_class[k] = (int)((long)short_of->portions * eaters / all);
    left -= by_class[k];
  }
  for (; left > 0; left--) {
    int best = PW_NONE;
    long best_rest = 0;
    for (int k = 0; k < ev->n_classes; k++) {
      int eaters = is_meat && !ev->classes[k].eats_meat ? 0 : service->guests[k];
      long rest = (long)short_of->portions * eaters - (long)by_class[k] * all;
      if (best == PW_NONE || rest > best_rest) {
        best = k;
        best_rest = rest;
      }
    }
    by_class[best]++;
  }
}

/* "Birthday supper: 31 of 48 portions of Chicken thigh (25 Adults, 6 Children)" */
static const char *text_of(const struct pw_shortfall *s, const struct pw_event *ev, struct pw_ctx *ctx)
{
  const struct pw_dish *dish = &ev->dishes[s->dish];
  const struct pw_service *service = &ev->services[s->service];
  if (s->portions == 0)
    return pw_arena_printf(ctx->arena, "%s: no reserve of %s, the %d portions expected are there", service->name,
                           dish->name, s->wanted);
  if (s->is_none)
    return pw_arena_printf(ctx->arena, "%s: none of the %d portions of %s, even where other dishes give way",
                           service->name, s->wanted, dish->name);
  const char *who = "";
  for (int k = 0; k < ev->n_classes && who; k++)
    if (s->by_class[k] > 0)
      who = pw_arena_printf(ctx->arena, "%s%s%d %s", who, *who ? ", " : "", s->by_class[k], ev->classes[k].name);
  return who ? pw_arena_printf(ctx->arena, "%s: %d of %d portions of %s (%s)", service->name, s->portions, s->wanted,
                               dish->name, who)
             : NULL;
}

pw_status pw_shortfall_make(struct pw_plan *plan, struct pw_ctx *ctx)
{
  const struct pw_event *ev = plan->event;
  plan->n_shortfalls = 0;
  plan->shortfalls = pw_arena_array(ctx->arena, (size_t)plan->demand.n_lines + 1, sizeof *plan->shortfalls);
  if (!plan->shortfalls)
    return PW_ERR_MEMORY;
  for (int i = 0; i < plan->demand.n_lines; i++) {
    const struct pw_demand_line *line = &plan->demand.lines[i];
    int cut = ev->dishes[line->dish].cut, n_missed = 0;
    if (cut == PW_NONE)
      continue;
    double there = plan->purchase.dishes[i].portions * cooked_frac(plan, line->service, cut, &n_missed);
    if (n_missed == 0)
      continue;
    struct pw_shortfall *s = &plan->shortfalls[plan->n_shortfalls++];
    *s = (struct pw_shortfall){
        .service = line->service, .dish = line->dish, .wanted = line->portions, .is_none = !(there > 0)};
    s->portions = (int)fmin(fmax(ceil(line->portions - there - 1e-9), 0), line->portions);
    s->by_class = pw_arena_array(ctx->arena, (size_t)ev->n_classes + 1, sizeof *s->by_class);
    if (!s->by_class)
      return PW_ERR_MEMORY;
    deal(s->by_class, ev, s);
    if (!(s->text = text_of(s, ev, ctx)))
      return PW_ERR_MEMORY;
  }
  return PW_OK;
}
