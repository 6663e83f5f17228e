/* test_side_pans.c - pans of sides: counted, placed in hot boxes, room taken from the pieces, warned of when there is none. */
#include "planned.h"

#include "plan/lots/side_pans.h"

enum { OVEN, SMALL, LARGE, BOXES };
enum { RICE, SLAW, BEANS, PULLED, BREAD, DISHES };

static const struct {
  const char *name;
  int portions[DISHES];          /* at cover; a pan holds 40 */
  double small, large;           /* room of the boxes, pans */
  int rice[BOXES], beans[BOXES]; /* pans in each */
  int missing, most_large;       /* pans with a warning; what the large box keeps for them */
} rows[] = {
    {"nothing hot", {0, 90, 0, 90, 90}, 4, 9, {0}, {0}, 0, 0},
    {"the smallest that takes them", {120, 40, 0, 0, 0}, 4, 9, {0, 3, 0}, {0}, 0, 0},
    {"a pan for one portion more", {121, 0, 0, 0, 0}, 3, 9, {0, 0, 4}, {0}, 0, 4},
    {"side by side", {120, 0, 160, 0, 0}, 4, 9, {0, 3, 0}, {0, 0, 4}, 0, 4},
    {"spread from the roomiest", {400, 0, 0, 0, 0}, 4, 9, {0, 1, 9}, {0}, 0, 9},
    {"of two as roomy the first", {320, 0, 0, 0, 0}, 5, 5, {0, 5, 3}, {0}, 0, 3},
    {"what is left", {400, 0, 200, 0, 0}, 4, 9, {0, 1, 9}, {0, 3, 0}, 2, 9},
    {"a box of half pans more", {80, 0, 0, 0, 0}, 1.5, 2.5, {0, 0, 2}, {0}, 0, 2},
    {"no box", {40, 0, 40, 0, 0}, 0, 0, {0}, {0}, 2, 0},
};

static int pans_of(const struct pw_lots *lots, int dish, int finisher)
{
  int n = 0;
  for (int i = 0; i < lots->n_side_pans; i++)
    n += lots->side_pans[i].dish == dish && lots->side_pans[i].finisher == finisher ? lots->side_pans[i].pans : 0;
  return n;
}

START_TEST(placed)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_finisher boxes[BOXES] = {{.id = "oven", .kind = PW_OVEN, .capacity = 5, .is_in_pans = true},
                                     {.id = "small", .kind = PW_HOLD, .capacity = rows[_i].small, .is_in_pans = true},
                                     {.id = "large", .kind = PW_HOLD, .capacity = rows[_i].large, .is_in_pans = true}};
  struct pw_dish dishes[DISHES] = {{.name = "Rice", .cut = PW_NONE, .pan_portions = 40, .held = PW_HELD_HOT},
                                   {.name = "Slaw", .cut = PW_NONE, .pan_portions = 40},
                                   {.name = "Beans", .cut = PW_NONE, .pan_portions = 40, .held = PW_HELD_HOT},
                                   {.name = "Pulled", .cut = 0, .pan_portions = 40, .held = PW_HELD_HOT},
                                   {.name = "Bread", .cut = PW_NONE, .held = PW_HELD_HOT}};
  struct pw_service service = {.id = "dinner", .name = "Dinner", .at_min = 1080};
  struct pw_demand_line lines[DISHES];
  struct pw_event ev = {.finishers = boxes,
                        .n_finishers = BOXES,
                        .dishes = dishes,
                        .n_dishes = DISHES,
                        .services = &service,
                        .n_services = 1};
  struct pw_demand demand = {.lines = lines, .n_lines = DISHES};
  struct pw_lots lots = {0};
  for (int i = 0; i < DISHES; i++)
    lines[i] = (struct pw_demand_line){.dish = i, .portions_cover = rows[_i].portions[i]};
  ck_assert_int_eq(pw_side_pans_make(&lots, &ev, &demand, ctx), PW_OK);
  for (int f = 0; f < BOXES; f++) {
    ck_assert_msg(pans_of(&lots, RICE, f) == rows[_i].rice[f], "%s: %d pans of rice in %s", rows[_i].name,
                  pans_of(&lots, RICE, f), boxes[f].id);
    ck_assert_msg(pans_of(&lots, BEANS, f) == rows[_i].beans[f], "%s: %d pans of beans in %s", rows[_i].name,
                  pans_of(&lots, BEANS, f), boxes[f].id);
  }
  ck_assert_int_eq(pans_of(&lots, RICE, PW_NONE) + pans_of(&lots, BEANS, PW_NONE), rows[_i].missing);
  ck_assert_int_eq(ctx->n_diags > 0, rows[_i].missing > 0);
  ck_assert_int_eq(pans_of(&lots, SLAW, PW_NONE), (rows[_i].portions[SLAW] + 39) / 40);
  ck_assert_int_eq(pans_of(&lots, PULLED, PW_NONE) + pans_of(&lots, BREAD, PW_NONE), 0);
  ck_assert_int_eq((int)pw_side_pans_most(&lots, LARGE), rows[_i].most_large);
  pw_test_ctx_free(ctx);
}
END_TEST

/* 54 portions at cover with a reserve of 12 % are 60.48, so 61 are made: a pan of 60 is not enough. */
START_TEST(reserve)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_dish dish = {.name = "Slaw", .cut = PW_NONE, .pan_portions = 60, .reserve_frac = _i * 0.01};
  struct pw_service service = {.id = "dinner", .name = "Dinner", .at_min = 1080};
  struct pw_demand_line line = {.portions_cover = 54};
  struct pw_event ev = {.dishes = &dish, .n_dishes = 1, .services = &service, .n_services = 1};
  struct pw_demand demand = {.lines = &line, .n_lines = 1};
  struct pw_lots lots = {0};
  ck_assert_int_eq(pw_side_pans_make(&lots, &ev, &demand, ctx), PW_OK);
  ck_assert_int_eq(pans_of(&lots, 0, PW_NONE), _i < 12 ? 1 : 2); /* 54 x 1.11 = 59.94 */
  pw_test_ctx_free(ctx);
}
END_TEST

/* Two services use one box one after the other, whichever is placed first; two at once share it. */
START_TEST(times)
{
  for (int round = 0; round < 4; round++) {
    bool apart = round & 1, late_first = round & 2;
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_finisher box = {.id = "box", .kind = PW_HOLD, .capacity = 4, .is_in_pans = true};
    struct pw_dish rice = {.name = "Rice", .cut = PW_NONE, .pan_portions = 40, .held = PW_HELD_HOT};
    struct pw_service services[2] = {{.id = "a", .name = "A", .at_min = 1080},
                                     {.id = "b", .name = "B", .at_min = 1080 + (apart ? 150 : 149)}};
    struct pw_demand_line lines[2] = {{.service = late_first, .portions_cover = 120},
                                      {.service = !late_first, .portions_cover = 120}};
    struct pw_event ev = {
        .finishers = &box, .n_finishers = 1, .dishes = &rice, .n_dishes = 1, .services = services, .n_services = 2};
    struct pw_demand demand = {.lines = lines, .n_lines = 2};
    struct pw_lots lots = {0};
    ck_assert_int_eq(pw_side_pans_make(&lots, &ev, &demand, ctx), PW_OK);
    ck_assert_int_eq((int)pw_side_pans_most(&lots, 0), apart ? 3 : 4);
    ck_assert_int_eq(pans_of(&lots, 0, PW_NONE), apart ? 0 : 2);
    ck_assert_int_eq(lots.n_side_pans, apart ? 2 : 3); /* not dribbled in pan by pan */
    pw_test_ctx_free(ctx);
  }
}
END_TEST

/* Room until the last pan goes out: three hours, guests come evenly, a quarter every 45 minutes; two of a dish: the second with the
 * third quarter (half of the guests are fed by the first), four: the last with the fourth. */
START_TEST(until_the_last_goes_out)
{
  static const int pans[] = {1, 2, 3, 4, 9}, until[] = {0, 90, 90, 135, 135};
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_finisher box = {.id = "box", .kind = PW_HOLD, .capacity = 9, .is_in_pans = true};
  struct pw_dish rice = {.name = "Rice", .cut = PW_NONE, .pan_portions = 40, .held = PW_HELD_HOT};
  struct pw_service service = {.id = "a", .name = "A", .at_min = 1080, .length_min = 180};
  struct pw_demand_line line = {.portions_cover = 40 * pans[_i]};
  struct pw_event ev = {
      .finishers = &box, .n_finishers = 1, .dishes = &rice, .n_dishes = 1, .services = &service, .n_services = 1};
  struct pw_demand demand = {.lines = &line, .n_lines = 1};
  struct pw_lots lots = {0};
  ck_assert_int_eq(pw_side_pans_make(&lots, &ev, &demand, ctx), PW_OK);
  ck_assert_int_eq(lots.n_side_pans, 1);
  ck_assert_int_eq(lots.side_pans[0].from_at_min, 1080 - PW_SIDE_HOT_MIN);
  ck_assert_int_eq(lots.side_pans[0].to_at_min, 1080 + until[_i]);
  pw_test_ctx_free(ctx);
}
END_TEST

/* The party with a hot salad that takes eight pans and more of its nine: the pieces get what is left of the room. */
START_TEST(pieces_give_way)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event ev = *planned_event("tests/data/events/family-party.yaml", ctx);
  int n_held[2] = {0, 0};
  for (int hot = 0; hot < 2; hot++) {
    struct pw_dish *dishes = pw_arena_array(ctx->arena, (size_t)ev.n_dishes, sizeof *dishes);
    ck_assert_ptr_nonnull(dishes);
    memcpy(dishes, ev.dishes, (size_t)ev.n_dishes * sizeof *dishes);
    for (int i = 0; i < ev.n_dishes; i++)
      if (hot && strcmp(dishes[i].id, "potato-salad") == 0) {
        dishes[i].held = PW_HELD_HOT;
        dishes[i].pan_portions = 5;
      }
    ev.dishes = dishes;
    struct pw_plan *plan = planned(&ev, false, PW_EFFORT_QUICK, ctx);
    for (int i = 0; i < plan->allocation.n_loads; i++)
      if (plan->allocation.loads[i].stage == PW_LOAD_HOLD)
        n_held[hot] += plan->allocation.loads[i].pieces;
  }
  ck_assert_int_gt(n_held[0], n_held[1]);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("side_pans");
  TCase *t = tcase_create("side_pans");
  tcase_add_loop_test(t, placed, 0, sizeof rows / sizeof *rows);
  tcase_add_loop_test(t, reserve, 0, 15);
  tcase_add_test(t, times);
  tcase_add_loop_test(t, until_the_last_goes_out, 0, 5);
  tcase_add_test(t, pieces_give_way);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
