/* The order of pits, boxes, dishes, crew and guest classes in a file is the order printed and nothing else: the same event in
 * another order gets a plan of the same cost, bound, purchases, price and hands. */
#include "planned.h"
#include "shuffle.h"

static bool keeps_keys(const char *key, int depth)
{
  return depth == 1 && strcmp(key, "guests") == 0; /* classes of guests: any order */
}

static bool is_list_of_the_yard(const char *key)
{
  static const char *const keys[] = {"pits", "finishers", "menu", "crew", "services", "supplies", "suppliers"};
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (strcmp(key, keys[i]) == 0)
      return true;
  return false;
}

static const char *const EVENTS[] = {"tests/data/events/family-party.yaml", "tests/data/events/lakeside-wedding.yaml",
                                     "events/sunday-lunch.yaml"};

static double count(const struct pw_plan *plan, int what)
{
  double sum = 0;
  if (what == 0)
    for (int i = 0; i < plan->purchase.n_lines; i++)
      sum += plan->purchase.lines[i].packs;
  if (what == 1)
    for (int c = 0; c < plan->lots.n_lots; c++)
      sum += plan->lots.lots[c].pieces;
  if (what == 2)
    for (int i = 0; i < plan->demand.n_lines; i++)
      sum += plan->demand.lines[i].need_kg + plan->demand.lines[i].need_units;
  return sum;
}

START_TEST(cost_does_not_hang_on_it)
{
  struct pw_ctx *ctx = pw_test_ctx();
  unsigned state = 7 + (unsigned)_i;
  enum pw_effort effort = _i == 2 ? PW_EFFORT_FULL : PW_EFFORT_QUICK; /* the smallest with its bound */
  const struct pw_plan *plain = planned(planned_event(EVENTS[_i], ctx), false, effort, ctx);
  ck_assert(_i != 2 || plain->allocation.bound_cents > 0);
  for (int round = 0; round < (_i == 2 ? 2 : 4); round++) {
    char *text = shuffled(EVENTS[_i], keeps_keys, is_list_of_the_yard, &state, ctx);
    struct pw_event *ev = NULL;
    ck_assert_int_eq(pw_event_read_text(&ev, EVENTS[_i], text, strlen(text), "templates", ctx), PW_OK);
    const struct pw_plan *mixed = planned(ev, false, effort, ctx);
    PW_NEAR("cost", mixed->allocation.cost_cents, plain->allocation.cost_cents, 1e-9, 1e-6);
    PW_NEAR("bound", mixed->allocation.bound_cents, plain->allocation.bound_cents, 1e-9, 1e-6);
    ck_assert_int_eq(mixed->quote.cost_cents, plain->quote.cost_cents);
    ck_assert_int_eq(mixed->quote.total_cents, plain->quote.total_cents);
    ck_assert_int_eq(mixed->purchase.n_lines, plain->purchase.n_lines);
    for (int what = 0; what < 3; what++)
      PW_NEAR("count", count(mixed, what), count(plain, what), 1e-12, 1e-9);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* The menu of a service turned round comes out turned round, and everything made of it. */
START_TEST(order_of_the_file_is_kept)
{
  static const char *const text =
      "event: {name: Job, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
      "weather: {low: 60 F, high: 80 F, wind: 6 mph}\n"
      "guests: {veggies: {meat: false}, adults: {}, babies: {appetite: 10 %%}}\n"
      "services: [{id: dinner, time: \"17:30\", length: 1 h, guests: {adults: 40, veggies: 2}, menu: [%s]}]\n"
      "pits: [%s]\nfinishers: [%s]\n"
      "crew: [{role: cook, duties: [fire, pit, carve, serve, prep], from: \"2027-06-11 22:00\", to: \"2027-06-12 "
      "20:00\", "
      "rate: 25 per h}]\n"
      "terms: {margin: 20 %%, tax: 8.25 %%, travel: 0.70 per mi, deposit: 30 %%}\n";
  static const char *const menus[2] = {"slaw, roll, pulled", "pulled, roll, slaw"};
  static const char *const pits[2] = {"offset, {use: drum, id: b}, {use: drum, id: a}",
                                      "{use: drum, id: a}, {use: drum, id: b}, offset"};
  static const char *const finishers[2] = {"oven, box", "box, oven"};
  static const char *const dish_ids[] = {"slaw", "roll", "pulled"}, *const pit_ids[] = {"offset", "b", "a"},
                           *const finisher_ids[] = {"oven", "box"},
                           *const class_ids[] = {"veggies", "adults", "babies"};
  struct pw_ctx *ctx = pw_test_ctx();
  for (int way = 0; way < 2; way++) {
    char event[2048];
    struct pw_event *ev = NULL;
    snprintf(event, sizeof event, text, menus[way], pits[way], finishers[way]);
    ck_assert_msg(pw_event_read_text(&ev, "order.yaml", event, strlen(event), "tests/cases/catalog", ctx) == PW_OK,
                  "%s", ctx->n_diags ? ctx->diags[0].text : "?");
    for (int i = 0; i < 3; i++) {
      int k = way ? 2 - i : i;
      ck_assert_str_eq(ev->dishes[ev->services[0].menu[i].dish].id, dish_ids[k]);
      ck_assert_str_eq(ev->dishes[i].id, dish_ids[k]);
      ck_assert_str_eq(ev->pits[i].id, pit_ids[k]);
      ck_assert_str_eq(ev->classes[i].id, class_ids[i]);
    }
    for (int i = 0; i < 2; i++)
      ck_assert_str_eq(ev->finishers[i].id, finisher_ids[way ? 1 - i : i]);
    const struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
    for (int i = 0; i < 3; i++)
      ck_assert_str_eq(ev->dishes[plan->demand.lines[i].dish].id, dish_ids[way ? 2 - i : i]);
    for (int i = 1; i < plan->allocation.n_burns; i++)
      ck_assert_int_le(plan->allocation.burns[i - 1].pit, plan->allocation.burns[i].pit);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *order_suite(void)
{
  Suite *s = suite_create("order");
  TCase *t = tcase_create("order");
  tcase_set_timeout(t, 300);
  tcase_add_loop_test(t, cost_does_not_hang_on_it, 0, sizeof EVENTS / sizeof *EVENTS);
  tcase_add_test(t, order_of_the_file_is_kept);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(order_suite)
