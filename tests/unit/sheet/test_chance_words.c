/* Tests of a meal's chance in words: what was asked for keeps its tenth, a way out that brings the last of a hundred shows it, and a meal
 * below its target says how many ways stand in the plan. */
#include "harness.h"

#include "base/arena.h"
#include "plan/chance/chance.h"
#include "sheet/chance_words.h"

#include <string.h>

struct made {
  struct pw_event ev;
  struct pw_service services[2];
  struct pw_cut cuts[2];
  struct pw_lot lots[2];
  int blames[8];
  struct pw_plan plan;
  struct pw_service_chance chances[2];
  struct pw_remedy ways[3];
  struct pw_meal_chance after[3];
};

/* Two meals, ready in 983.5 and 999 of a thousand cooks; three ways, two of which raise the first. */
static void make(struct made *m, double target_frac)
{
  *m = (struct made){.services = {{.id = "supper", .name = "Supper"}, {.id = "lunch", .name = "Lunch"}},
                     .cuts = {{.name = "Sausage"}, {.name = "Ribs"}},
                     .lots = {{.cut = 0, .service = 0}, {.cut = 1, .service = 1}},
                     .chances = {{.on_time_frac = 0.9835, .weakest_lot = PW_NONE, .slow_core_lot = PW_NONE},
                                 {.on_time_frac = 0.999, .weakest_lot = PW_NONE, .slow_core_lot = PW_NONE}},
                     .after = {{.service = "supper", .name = "Supper", .on_time_frac = 0.9989},
                               {.service = "supper", .name = "Supper", .on_time_frac = 0.99},
                               {.service = "lunch", .name = "Lunch", .on_time_frac = 0.9995}}};
  m->services[0].on_time_frac = m->services[1].on_time_frac = target_frac;
  m->ev.services = m->services;
  m->ev.n_services = 2;
  m->ev.cuts = m->cuts;
  m->plan.event = &m->ev;
  m->plan.lots.lots = m->lots;
  m->plan.lots.n_lots = 2;
  m->plan.chance.blames = m->blames;
  m->plan.chance.n_draws = 2000;
  m->plan.chance.services = m->chances;
  for (int i = 0; i < 3; i++) {
    m->ways[i].chances = &m->after[i];
    m->ways[i].n_chances = 1;
  }
  m->plan.allocation.remedies = m->ways;
  m->plan.allocation.n_remedies = 3;
}

START_TEST(what_was_asked_keeps_its_tenth)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  make(&m, 0.998);
  ck_assert_str_eq(
      pw_chance_words(&m.plan, 0, ctx->arena),
      "98 of 100 cooks. 99.8 were asked for: these pits, boxes and hands give no more; 2 ways to be ready more "
      "often stand in the plan");
  ck_assert_str_eq(pw_chance_words(&m.plan, 1, ctx->arena), "99 of 100 cooks");
  make(&m, 0.99);
  m.plan.allocation.n_remedies = 1;
  ck_assert_str_eq(
      pw_chance_words(&m.plan, 0, ctx->arena),
      "98 of 100 cooks. 99 were asked for: these pits, boxes and hands give no more; 1 way to be ready more "
      "often stands in the plan");
  m.after[0].on_time_frac = 0.98; /* it helps another meal */
  ck_assert_str_eq(pw_chance_words(&m.plan, 0, ctx->arena),
                   "98 of 100 cooks. 99 were asked for: these pits, boxes and hands give no more");
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(the_last_of_a_hundred_has_tenths)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  make(&m, 0.998);
  ck_assert_str_eq(pw_chance_after_words(&m.plan, &m.ways[0], ctx->arena),
                   "Ready on time: 99.8 of 100 cooks, 98.3 without it."); /* never more than was drawn */
  ck_assert_str_eq(pw_chance_after_words(&m.plan, &m.ways[1], ctx->arena),
                   "Ready on time: 99 of 100 cooks, 98.3 without it.");
  m.chances[0].on_time_frac = 0.8765;
  ck_assert_str_eq(pw_chance_after_words(&m.plan, &m.ways[0], ctx->arena),
                   "Ready on time: 99.8 of 100 cooks, 87 without it.");
  pw_test_ctx_free(ctx);
}
END_TEST

/* What makes a meal late first is told: beside the chance where it is short of its target, with the rest where it is not. */
START_TEST(late_meals_have_causes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct made m;
  make(&m, 0.99);
  m.plan.allocation.n_remedies = 0;
  m.blames[pw_blame_at(2, 0, 0, PW_BLAME_OWN)] = 21;
  ck_assert_str_eq(pw_chance_words(&m.plan, 0, ctx->arena),
                   "98 of 100 cooks. First cause: a long cook of Sausage, 1 of 100. 99 were asked for: these pits, "
                   "boxes and hands give no more");
  m.blames[pw_blame_at(2, 0, 1, PW_BLAME_SPOT)] = 30; /* of the other meal: its name is said */
  ck_assert_str_eq(pw_chance_words(&m.plan, 0, ctx->arena),
                   "98 of 100 cooks. First causes: a spot still taken by Ribs of Lunch, 2 of 100; a long cook of "
                   "Sausage, 1 of 100. 99 were asked for: these pits, boxes and hands give no more");
  ck_assert_ptr_null(strstr(pw_chance_more_words(&m.plan, 0, ctx->arena), "cause"));
  m.services[0].on_time_frac = 0.9;
  ck_assert_str_eq(pw_chance_words(&m.plan, 0, ctx->arena), "98 of 100 cooks");
  m.blames[pw_blame_at(2, 0, 0, PW_BLAME_OWN)] = 19; /* fewer than one of a hundred */
  ck_assert_str_eq(pw_chance_more_words(&m.plan, 0, ctx->arena),
                   "First cause: a spot still taken by Ribs of Lunch, 2 of 100. With fires that are slow to burn clean "
                   "or are lost for a while: 0 of 100.");
  ck_assert_ptr_null(strstr(pw_chance_more_words(&m.plan, 1, ctx->arena), "cause")); /* none of its cooks is late */
  m.blames[pw_blame_at(2, 0, 1, PW_BLAME_SPOT)] = 4;
  m.blames[pw_blame_at(2, 0, 0, PW_BLAME_OWN)] = 2;
  ck_assert_ptr_nonnull(strstr(pw_chance_more_words(&m.plan, 0, ctx->arena),
                               "First cause: a spot still taken by Ribs of Lunch, fewer than 1 of"));
  ck_assert_str_eq(pw_chance_short_words(&m.plan, 0, ctx->arena), "98 of 100 cooks");
  m.chances[0].weakest_lot = 1;
  ck_assert_str_eq(pw_chance_short_words(&m.plan, 0, ctx->arena), "98 of 100 cooks, watch Ribs");
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("chance_words");
  TCase *t = tcase_create("words");
  tcase_add_test(t, what_was_asked_keeps_its_tenth);
  tcase_add_test(t, late_meals_have_causes);
  tcase_add_test(t, the_last_of_a_hundred_has_tenths);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
