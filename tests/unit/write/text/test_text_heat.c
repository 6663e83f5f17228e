/* The plan's section on heat and fuel, and the curve as table and plot. */
#include "base/json.h"
#include "base/text.h"
#include "heat/curve.h"
#include "heat_fixture.h"
#include "planned.h"
#include "sheet/fuel_words.h"
#include "sheet/page/page_parts.h"
#include "write/plan_json.h"
#include "write/text/text_page.h"
#include "write/text/text_sheets.h"

static struct pw_ctx *ctx;

static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

static const char *section(struct pw_plan *plan)
{
  struct pw_buf out = pw_buf_in(ctx->arena);
  struct pw_page page = pw_page_open(plan, plan->event, ctx);
  pw_part_heat(&page);
  ck_assert_int_eq(pw_text_page(&out, &page), PW_OK);
  return pw_buf_text(&out);
}

static void fits_the_paper(const char *text)
{
  for (const char *line = text, *end; *line; line = end + 1) {
    end = strchr(line, '\n');
    ck_assert_ptr_nonnull(end);
    char *copy = pw_arena_strndup(ctx->arena, line, (size_t)(end - line));
    ck_assert_msg(pw_utf8_length(copy) <= 80, "%s", copy);
  }
}

START_TEST(section_of_each_example)
{
  struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i], ctx), false, PW_EFFORT_QUICK, ctx);
  const char *text = section(plan);
  ck_assert_ptr_nonnull(strstr(text, "Heat and fuel"));
  ck_assert_ptr_nonnull(strstr(text, "will burn, the rest is the reserve"));
  /* wood by the share of a cord or, for those who count in litres, by the stacked cubic metre; charcoal by the sack */
  bool is_us = plan->event->units == PW_UNITS_US;
  ck_assert_ptr_nonnull(strstr(text, is_us ? "cord" : "stacked"));
  ck_assert_ptr_null(strstr(text, is_us ? "stacked" : "cord"));
  ck_assert_ptr_nonnull(strstr(text, "sack"));
  ck_assert_ptr_nonnull(strstr(text, "Predicted core"));
  /* 25 F from hot to cool end, for every cut that is placed */
  ck_assert_ptr_nonnull(strstr(text, is_us ? "25 \xC2\xB0"
                                             "F cooler"
                                           : "14 \xC2\xB0"
                                             "C cooler"));
  fits_the_paper(text);
  /* every lot that has a place has its line, with what was worked out for it */
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    const struct pw_lot *lot = &plan->lots.lots[l];
    if (isnan(h->smoke_c))
      continue;
    ck_assert(h->come_up_min > 0);
    PW_NEAR(lot->id, h->hot_c - h->cool_c, 25 / 1.8, 1e-9, 0);
    ck_assert_msg(h->cool_smoke_min > 1.1 * h->hot_smoke_min, "%s: %g and %g min", lot->id, h->hot_smoke_min,
                  h->cool_smoke_min);
    ck_assert_msg(!lot->has_finish || h->cool_finish_min > 1.05 * h->hot_finish_min, "%s wrapped", lot->id);
  }
}
END_TEST

START_TEST(what_an_oven_saves_is_said)
{
  struct pw_plan *plan =
      planned(planned_event("tests/data/events/lakeside-wedding.yaml", ctx), false, PW_EFFORT_QUICK, ctx);
  plan->fuel.oven_saving = (struct pw_oven_saving){0};
  ck_assert_ptr_null(strstr(section(plan), "saves"));
  plan->fuel.oven_saving =
      (struct pw_oven_saving){.pieces = 6, .piece_h = 27, .lit_min = 150, .wood_kg = 10, .wood_cents = 260};
  plan->fuel.oven_cents = 720;
  const char *text = section(plan);
  static const char *const words[] = {
      "Finishing 6 wrapped pieces", "22 lb of wood", "$2.60", "27 hours", "2 h 30 min", "$7.20"};
  for (int i = 0; i < 6; i++) {
    /* the sentence is wrapped: look for each figure's last word */
    const char *word = strrchr(words[i], ' ') ? strrchr(words[i], ' ') + 1 : words[i];
    ck_assert_msg(strstr(text, word) != NULL, "%s is not in\n%s", words[i], text);
  }
  fits_the_paper(text);
}
END_TEST

/* The plan file tells the same of each core, and the rule it must meet. */
START_TEST(cores_in_the_plan_file)
{
  struct pw_plan *plan =
      planned(planned_event("tests/data/events/lakeside-wedding.yaml", ctx), false, PW_EFFORT_QUICK, ctx);
  const char *text;
  size_t n;
  const struct pw_json *root;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  ck_assert_int_eq(pw_json_parse(&root, NULL, text, n, ctx), PW_OK);
  const struct pw_json *cores = pw_json_get(root, "cores");
  ck_assert_int_eq((int)cores->n, plan->lots.n_lots);
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_json *core = &cores->items[l];
    const struct pw_lot_heat *h = &plan->safety.lots[l];
    const struct pw_cut *cut = &plan->event->cuts[plan->lots.lots[l].cut];
    ck_assert_str_eq(pw_json_get(core, "lot")->text, plan->lots.lots[l].id);
    PW_NEAR("come-up", pw_json_get(core, "come_up_min")->real, h->come_up_min, 0, 1e-9);
    PW_NEAR("25 F", pw_json_get(&pw_json_get(core, "cooler_end")->items[1], "smoke_min")->real, h->cool_smoke_min, 0,
            1e-9);
    ck_assert_str_eq(pw_json_get(core, "rule")->text, cut->kind == PW_KIND_POULTRY       ? "3-401.11(A)(3)"
                                                      : cut->kind == PW_KIND_PLANT       ? "3-401.13"
                                                      : cut->safety == PW_SAFE_PRECOOKED ? "3-403.11(C)"
                                                                                         : "3-401.11(A)(1)");
  }
}
END_TEST

static const struct {
  const char *name;
  enum pw_units units;
  struct pw_fuel_line line;
  const char *want;
} measures[] = {
    {"two sacks",
     PW_UNITS_US,
     {.buy_kg = 9.1, .packs = 2, .pack_kg = 9.0718474, .pack = "sack"},
     "20 lb, 2 sacks of 20 lb"},
    {"one box", PW_UNITS_SI, {.buy_kg = 5, .packs = 1, .pack_kg = 10, .pack = "box"}, "5 kg, 1 box of 10 kg"},
    {"three boxes", PW_UNITS_SI, {.buy_kg = 25, .packs = 3, .pack_kg = 10, .pack = "box"}, "25 kg, 3 boxes of 10 kg"},
    /* 425 kg/m3 is 1540.4 kg a cord of 3.6246 m3 */
    {"a tenth of a cord",
     PW_UNITS_US,
     {.buy_kg = 154.04, .splits = 100, .stacked_m3 = 0.36245},
     "340 lb, 100 splits, 0.1\xC2\xA0" /* a number keeps its unit */
     "cord"},
    {"a cord and a half",
     PW_UNITS_US,
     {.buy_kg = 2310.7, .splits = 1500, .stacked_m3 = 5.437},
     "5,094 lb, 1500 splits, 1.5\xC2\xA0"
     "cords"},
    {"stacked metres",
     PW_UNITS_SI,
     {.buy_kg = 154.04, .splits = 1, .stacked_m3 = 0.36245},
     "154 kg, 1 split, 0.36\xC2\xA0m\xC2\xB3 stacked"},
    {"loose", PW_UNITS_SI, {.buy_kg = 7.5}, "7.5 kg"},
};

START_TEST(fuel_in_the_words_of_the_trade)
{
  struct heat_fixture fix;
  heat_fixture_make(&fix);
  fix.ev.units = measures[_i].units;
  ck_assert_str_eq(pw_fuel_amount(&fix.ev, &measures[_i].line).s, measures[_i].want);
}
END_TEST

START_TEST(curve_page)
{
  struct heat_fixture fix;
  heat_fixture_make(&fix);
  struct pw_cut *cut = &fix.cuts[FIX_BRISKET];
  cut->name = "Brisket";
  fix.ev.units = PW_UNITS_US;
  struct pw_curve_place place = {fix_c(250), fix_c(250), pw_stage_air_mild()};
  struct pw_curve curve;
  ck_assert_int_eq(pw_curve_make(&curve, cut, &place, 30, ctx), PW_OK);
  struct pw_buf out = pw_buf_in(ctx->arena);
  struct pw_curve_head head = {cut, "somewhere", "a remark"};
  ck_assert_int_eq(pw_text_curve(&out, &curve, &head, &fix.ev, ctx), PW_OK);
  const char *text = pw_buf_text(&out);
  fits_the_paper(text);
  ck_assert_ptr_nonnull(strstr(text, "a remark"));
  ck_assert_ptr_nonnull(strstr(text, "  7:00  160 °F"));
  ck_assert_ptr_nonnull(strstr(text, " 11:30  203 °F"));
  ck_assert_ptr_nonnull(strstr(text, "3-401.11(A)(1)"));
  /* each row of the plot has core before surface before air */
  int rows = 0;
  for (const char *line = strstr(text, "\n  0:30"); line; line = strchr(line + 1, '\n')) {
    const char *end = strchr(line + 1, '\n');
    if (!end || end[-1] != '|')
      break;
    const char *core = strstr(line, " o"), *surface = core ? strchr(core, '.') : NULL;
    ck_assert(core && core < end && surface && surface < end);
    rows++;
  }
  ck_assert_int_ge(rows, 22);
  curve.n_points = 0;
  ck_assert_int_eq(pw_text_curve(&out, &curve, &head, &fix.ev, ctx), PW_ERR_INTERNAL);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("text_heat");
  TCase *t = tcase_create("text_heat");
  tcase_set_timeout(t, 120);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, section_of_each_example, 0, N_PLANNED_EVENTS);
  tcase_add_test(t, what_an_oven_saves_is_said);
  tcase_add_test(t, cores_in_the_plan_file);
  tcase_add_loop_test(t, fuel_in_the_words_of_the_trade, 0, (int)(sizeof measures / sizeof measures[0]));
  tcase_add_test(t, curve_page);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
