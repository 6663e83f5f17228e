/* Tests of a meal's chance in words: what was asked for keeps its tenth, a way out that brings the last of a hundred shows it, and a meal
 * below its target says how many ways stand in the plan. */
#include "harness.h"

#include "base/arena.h"
#include "sheet/chance_words.h"

struct made {
  struct pw_event ev;
  struct pw_service services[2];
  struct pw_cut cut;
  struct pw_lot lot;
  struct pw_plan plan;
  struct pw_service_chance chances[2];
  struct pw_remedy ways[3];
  struct pw_meal_chance after[3];
};

/* Two meals, ready in 983.5 and 999 of a thousand cooks; three ways, two of which raise the first. */
static void make(struct made *m, double target_frac)
{
  *m = (struct made){
      .services = {{.id = "supper", .name = "Supper"}, {.id = "lunch", .name = "Lunch"}},
      .cut = {.name = "Sausage"},
      .chances = {{.on_time_frac = 0.9835, .weakest_lot = PW_NONE}, {.on_time_frac = 0.999, .weakest_lot = PW_NONE}},
      .after = {{.service = "supper", .name = "Supper", .on_time_frac = 0.9989},
                {.service = "supper", .name = "Supper", .on_time_frac = 0.99},
                {.service = "lunch", .name = "Lunch", .on_time_frac = 0.9995}}};
  m->services[0].on_time_frac = m->services[1].on_time_frac = target_frac;
  m->ev.services = m->services;
  m->ev.n_services = 2;
  m->ev.cuts = &m->cut;
  m->plan.event = &m->ev;
  m->plan.lots.lots = &m->lot;
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

static Suite *suite(void)
{
  Suite *s = suite_create("chance_words");
  TCase *t = tcase_create("words");
  tcase_add_test(t, what_was_asked_keeps_its_tenth);
  tcase_add_test(t, the_last_of_a_hundred_has_tenths);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
