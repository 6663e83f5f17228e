/* task_kitchen.c - sides and other dishes made in the kitchen [S1].
 * In: menus, demand, purchase list.  Out: a draft for each dish without a cut that raw goods go into (category side), on the day
 * before its service or on the day, after the goods have come and in time to be panned up. */
#include "base/format.h"
#include "heat/food_code.h"
#include "plan/crew/task_list.h"
#include "plan/demand/portions.h"
#include "plan/lots/drips.h"
#include "plan/lots/side_pans.h"

#include <limits.h>
#include <math.h>

/* Minutes of hands: common practice, no source. */
enum { START_WORK_MIN = 10, DISH_BLOCK_MIN = 60, DAY_BEFORE_MIN = 30 * 60, DONE_BEFORE_MIN = 45 };
#define WORK_MIN_PER_PORTION 0.2 /* wash, cut, mix, a dozen seconds each; common practice, no source */

/* Raw goods that go into a dish; a drink is not made in the kitchen. */
static int n_goods(const struct pw_event *ev, const struct pw_dish *dish)
{
  int n_side = 0, n_food = 0;
  for (int u = 0; u < dish->n_uses; u++) {
    enum pw_category category = ev->items[dish->uses[u].item].category;
    if (category == PW_CAT_DRINK)
      return 0;
    n_side += category == PW_CAT_SIDE;
    n_food += category < PW_CAT_DRINK;
  }
  return dish->cut == PW_NONE && n_side > 0 ? n_food : 0;
}

/* When the last of its raw goods is in the house; INT_MIN when none is on the list. */
static int goods_at(const struct pw_task_list *list, const struct pw_dish *dish)
{
  const struct pw_purchase *p = &list->plan->purchase;
  int at = INT_MIN;
  for (int u = 0; u < dish->n_uses; u++)
    for (int i = 0; i < p->n_lines; i++)
      if (p->lines[i].item == dish->uses[u].item && p->lines[i].deliver_at_min > at)
        at = p->lines[i].deliver_at_min;
  return at;
}

/* "kitchen; then Hot box 2: 3 pans" of the boxes in which a dish waits. */
static const char *boxes(struct pw_task_list *list, int line)
{
  const struct pw_lots *lots = &list->plan->lots;
  const struct pw_demand_line *d = &list->plan->demand.lines[line];
  const char *words = "kitchen";
  for (int i = 0; i < lots->n_side_pans; i++) {
    const struct pw_side_pans *s = &lots->side_pans[i];
    if (s->service == d->service && s->dish == d->dish && s->finisher != PW_NONE)
      words = pw_task_words(list, "%s; then %s: %d %s", words, list->ev->finishers[s->finisher].name, s->pans,
                            s->pans == 1 ? "pan" : "pans");
  }
  return words;
}

static bool is_counted_out(const struct pw_dish *dish) { return dish->is_by_count && dish->form == PW_FORM_WHOLE; }

/* One bought thing is counted out, panned up or cut, several are made into a dish. */
static const char *verb_of(const struct pw_dish *dish, int n)
{
  if (is_counted_out(dish))
    return n > 1 ? "Make ready" : "Count out";
  if (n > 1)
    return "Make";
  return dish->form == PW_FORM_SPOONED ? "Pan up" : "Cut and portion";
}

static bool has_to_wash(const struct pw_event *ev, const struct pw_dish *dish)
{
  bool is_washed = false;
  for (int u = 0; u < dish->n_uses; u++)
    is_washed = is_washed || ev->items[dish->uses[u].item].is_washed;
  return is_washed;
}

/* How a cold dish is made and waits.  What is cut waits cold however it was stored: FDA Food Code 2022 1-201.10 counts cut
 * melons, leafy greens and tomatoes among the foods that need it; 3-302.15: raw fruits and vegetables are washed first. */
static const char *cold_target(struct pw_task_list *list, const struct pw_dish *dish)
{
  if (is_counted_out(dish)) {
    bool is_dry = true;
    for (int u = 0; u < dish->n_uses; u++) {
      const struct pw_item *item = &list->ev->items[dish->uses[u].item];
      is_dry = is_dry && (item->category >= PW_CAT_DRINK || item->store == PW_STORE_DRY);
    }
    return is_dry ? "clean hands or tongs; covered until it goes out"
                  : pw_task_words(list, "clean hands or tongs; chilled goods at %s or less until they go out",
                                  pw_task_temp(list, PW_FOOD_CODE_COLD_C));
  }
  return pw_task_words(list, "%s%s or less until it goes out",
                       has_to_wash(list->ev, dish) ? "fruit and greens washed first; " : "",
                       pw_task_temp(list, PW_FOOD_CODE_COLD_C));
}

/* The bought goods that go into it. */
static int *items_of(struct pw_task_list *list, const struct pw_dish *dish, int *n)
{
  int *items = pw_task_ints(list, NULL, dish->n_uses);
  *n = 0;
  for (int u = 0; items && u < dish->n_uses; u++)
    for (int i = 0; i < list->plan->purchase.n_lines; i++)
      if (list->plan->purchase.lines[i].item == dish->uses[u].item) {
        items[(*n)++] = dish->uses[u].item;
        break;
      }
  return items;
}

void pw_task_kitchen(struct pw_task_list *list)
{
  const struct pw_demand *demand = &list->plan->demand;
  for (int i = 0; i < demand->n_lines; i++) {
    const struct pw_demand_line *line = &demand->lines[i];
    const struct pw_dish *dish = &list->ev->dishes[line->dish];
    const struct pw_service *service = &list->ev->services[line->service];
    int n = n_goods(list->ev, dish), portions = pw_portions_made(line, dish);
    if (n == 0 || line->portions_cover <= 0)
      continue;
    bool is_hot = dish->held == PW_HELD_HOT;
    int by = service->at_min - (is_hot ? PW_SIDE_DONE_MIN : DONE_BEFORE_MIN), from = goods_at(list, dish);
    int first = service->at_min - (is_hot ? PW_SIDE_HOT_MIN : DAY_BEFORE_MIN);
    from = from > first ? from : first;
    from = from < by ? from : by;
    struct pw_draft d = pw_task_blank(PW_TASK_PREP, PW_DUTY_PREP, PW_RANK_PREP, PW_AT_KITCHEN);
    d.also = 1u << PW_DUTY_CARVE;
    d.prefers_duty = true;
    d.first_at_min = from;
    d.last_at_min = d.end_by_min = by;
    d.block_min = DISH_BLOCK_MIN;
    d.service = line->service;
    d.dish = line->dish;
    d.items = items_of(list, dish, &d.n_items);
    d.work_min = START_WORK_MIN + WORK_MIN_PER_PORTION * portions;
    const char *verb = verb_of(dish, n);
    d.verb = list->ev->n_services > 1
                 ? pw_task_words(list, "%s %s, %d portions (%s)", verb, dish->name, portions, service->name)
                 : pw_task_words(list, "%s %s, %d portions", verb, dish->name, portions);
    d.where = boxes(list, i);
    pw_task_prep_place(list, &d, true);
    d.target =
        is_hot ? pw_task_words(list, "%s or more when it goes into its pans", pw_task_temp(list, PW_FOOD_CODE_HOT_C))
               : cold_target(list, dish);
    d.is_kept_last = pw_drips_kept_last(dish);
    if (d.is_kept_last)
      d.target = pw_task_words(list, "%s%s", d.target, PW_TASK_KEPT_LAST);
    pw_task_draft_shared(list, d, is_hot ? pw_task_n_shares(d.work_min, by - first) : 1);
  }
}
