/* Food Code and come-up: what stops an event, what a plan is warned of. */
#include "harness.h"
#include "heat/curve.h"
#include "heat_fixture.h"
#include "plan/stages.h"

static struct pw_ctx *ctx;
static struct heat_fixture fix;
static struct pw_plan plan;
static struct pw_dish dishes[FIX_CUTS];
static struct pw_menu_line menu[FIX_CUTS];
static struct pw_burn burns[1];
static struct pw_load loads[4];
static struct pw_safety_report report;

static void set_up(void)
{
  memset(&report, 0, sizeof report);
  ctx = pw_test_ctx();
  heat_fixture_make(&fix);
  for (int i = 0; i < FIX_CUTS; i++) {
    fix.cuts[i].name = fix.cuts[i].id;
    dishes[i] = (struct pw_dish){.id = fix.cuts[i].id, .cut = i};
    menu[i] = (struct pw_menu_line){.dish = i};
  }
  fix.ev.dishes = dishes;
  fix.ev.n_dishes = FIX_CUTS;
  fix.services[0].menu = menu;
  fix.services[0].n_menu = FIX_CUTS;
  memset(&plan, 0, sizeof plan);
  plan.event = &fix.ev;
  burns[0] = (struct pw_burn){0, 0, 60, 150, 1020};
  loads[0] = (struct pw_load){.lot = 0,
                              .stage = PW_LOAD_SMOKE,
                              .zone = 0,
                              .finisher = PW_NONE,
                              .pieces = 4,
                              .start_at_min = 150,
                              .end_at_min = 540};
  loads[1] = (struct pw_load){.lot = 0,
                              .stage = PW_LOAD_SMOKE,
                              .zone = 1,
                              .finisher = PW_NONE,
                              .pieces = 4,
                              .start_at_min = 150,
                              .end_at_min = 570};
  loads[2] = (struct pw_load){.lot = 0,
                              .stage = PW_LOAD_FINISH,
                              .zone = PW_NONE,
                              .finisher = 0,
                              .pieces = 8,
                              .start_at_min = 570,
                              .end_at_min = 840};
  loads[3] = (struct pw_load){.lot = 1,
                              .stage = PW_LOAD_SMOKE,
                              .zone = 1,
                              .finisher = PW_NONE,
                              .pieces = 3,
                              .start_at_min = 960,
                              .end_at_min = 1020};
  plan.allocation = (struct pw_allocation){.loads = loads, .n_loads = 4, .burns = burns, .n_burns = 1};
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static void make(void)
{
  ck_assert_int_eq(pw_lots_make(&plan.lots, &fix.ev, &fix.purchase, NULL, ctx), PW_OK);
  ck_assert_int_eq(pw_safety_make(&report, &plan, ctx), PW_OK);
}

static const char *said(const char *code)
{
  for (int i = 0; i < report.n_warnings; i++)
    if (strcmp(report.warnings[i].code, code) == 0)
      return report.warnings[i].text;
  for (int i = 0; i < ctx->n_diags; i++)
    if (strcmp(ctx->diags[i].code, code) == 0)
      return ctx->diags[i].text;
  return NULL;
}

START_TEST(good_event_passes)
{
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_OK);
  ck_assert_int_eq(ctx->n_diags_total, 0);
}
END_TEST

/** End core that breaks a rule by class of food; the rule's number must be in the text (FDA Food Code 2022). */
static const struct {
  const char *name;
  enum pw_safety safety;
  double end_f;
  const char *rule;
} broken[] = {
    {"rare roast", PW_SAFE_INTACT, 135, "3-401.11(A)(1)"},     {"injected", PW_SAFE_TENDERIZED, 150, "3-401.11(A)(2)"},
    {"ground", PW_SAFE_GROUND, 150, "3-401.11(A)(2)"},         {"poultry", PW_SAFE_POULTRY, 160, "3-401.11(A)(3)"},
    {"ready to eat", PW_SAFE_PRECOOKED, 130, "3-403.11(C)"},   {"plant", PW_SAFE_PLANT, 130, "3-401.13"},
    {"our own sausage", PW_SAFE_REHEATED, 150, "3-403.11(A)"},
};

START_TEST(rule_that_cannot_be_met_stops_the_plan)
{
  struct pw_cut *cut = &fix.cuts[FIX_SAUSAGE];
  cut->safety = broken[_i].safety;
  cut->smoke.to_c = fix_c(broken[_i].end_f);
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_ERR_INPUT);
  ck_assert_int_eq(ctx->n_errors, 1);
  ck_assert_msg(strstr(said("food-code"), broken[_i].rule) != NULL, "%s: %s", broken[_i].name, said("food-code"));
  /* the cook's basis turns it into a warning that quotes the basis */
  struct pw_ctx *other = pw_test_ctx();
  fix.ev.safety_basis = "approved plan 12 of the county";
  ck_assert_int_eq(pw_safety_check(&fix.ev, other), PW_OK);
  ck_assert_int_eq(other->n_diags, 1);
  ck_assert_ptr_nonnull(strstr(other->diags[0].text, "approved plan 12"));
  pw_test_ctx_free(other);
  /* at the limit there is nothing to say; nor when it is on no menu */
  ctx->n_errors = ctx->n_diags = ctx->n_diags_total = 0;
  fix.ev.safety_basis = NULL;
  cut->smoke.to_c = fix_c(165);
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_OK);
  cut->smoke.to_c = fix_c(100);
  fix.services[0].n_menu = FIX_SAUSAGE;
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_OK);
}
END_TEST

START_TEST(cool_hot_box)
{
  fix.finishers[1].temp_c = fix_c(130);
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_ERR_INPUT);
  ck_assert_ptr_nonnull(strstr(said("food-code"), "3-501.16(A)(1)"));
}
END_TEST

START_TEST(coolest_places_are_followed)
{
  make();
  PW_NEAR("smoke", report.lots[0].smoke_c, plan.lots.zones[1].temp_c[0], 1e-12, 0);
  PW_NEAR("finish", report.lots[0].finish_c, fix_c(250), 1e-12, 0);
  ck_assert(report.lots[0].log_reduction > 50 && report.lots[0].log_needed == 6.5);
  ck_assert(report.lots[0].come_up_min > 60 && report.lots[0].come_up_min < 360);
  ck_assert(isnan(report.lots[1].finish_c) && report.lots[1].come_up_min < 60);
  ck_assert_ptr_null(said("come-up"));
  ck_assert_ptr_null(said("lethality"));
}
END_TEST

/* Where a lot lies in two pits, its times at the hotter place are those of that pit's air: the cooler pit's water pan is not its own. */
START_TEST(cooler_end_has_the_air_of_its_pit)
{
  make();
  double dry_min = report.lots[0].hot_smoke_min;
  struct pw_pit pits[2] = {fix.ev.pits[0], fix.ev.pits[0]};
  pits[1].water_kg = 60;
  fix.ev.pits = pits;
  fix.ev.n_pits = 2;
  struct pw_burn two[2] = {burns[0], burns[0]};
  two[1].pit = 1;
  plan.allocation.burns = two;
  plan.allocation.n_burns = 2;
  ck_assert_int_eq(pw_lots_make(&plan.lots, &fix.ev, &fix.purchase, NULL, ctx), PW_OK);
  for (int z = 0; z < plan.lots.n_zones; z++)
    if (plan.lots.zones[z].pit == 1 && plan.lots.zones[z].temp_c[0] < plan.lots.zones[0].temp_c[0])
      loads[1].zone = z;
  ck_assert_int_eq(plan.lots.zones[loads[1].zone].pit, 1);
  ck_assert_int_eq(pw_safety_make(&report, &plan, ctx), PW_OK);
  PW_NEAR("hot end, dry pit", report.lots[0].hot_smoke_min, dry_min, 0, 1e-12);
  loads[0].zone = loads[1].zone; /* all of it over the water: another air, another time */
  ck_assert_int_eq(pw_safety_make(&report, &plan, ctx), PW_OK);
  ck_assert(fabs(report.lots[0].hot_smoke_min - dry_min) > 1);
}
END_TEST

/* Raw meat that goes on above 50 F was warming up before (FSIS-GD-2021-14): refused, or said with the cook's basis. */
START_TEST(warm_start_counts_from_before)
{
  fix.cuts[FIX_BRISKET].start_c = fix_c(140);
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_ERR_INPUT);
  ck_assert_int_eq(ctx->n_errors, 1);
  ck_assert_ptr_nonnull(strstr(said("food-code"), "before it went on"));
  struct pw_ctx *other = pw_test_ctx();
  fix.ev.safety_basis = "approved plan 12 of the county";
  ck_assert_int_eq(pw_safety_check(&fix.ev, other), PW_OK);
  ck_assert_int_eq(other->n_diags, 1);
  pw_test_ctx_free(other);
  make();
  ck_assert_ptr_nonnull(strstr(said("warm-start"), "approved plan 12"));
  fix.ev.safety_basis = NULL;
  ctx->n_errors = ctx->n_diags = ctx->n_diags_total = 0;
  fix.cuts[FIX_BRISKET].start_c = fix_c(50);
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_OK);
}
END_TEST

START_TEST(roast_chart_names_the_basis)
{
  /* 14 lb at 256 F is inside the chart; 9 lb is not (325 F) */
  make();
  ck_assert_ptr_null(said("roast-chart"));
  fix.cuts[FIX_BRISKET].piece_kg = 4.1;
  make();
  ck_assert_ptr_nonnull(strstr(said("roast-chart"), "3-401.11(B)(2)"));
  ck_assert_ptr_nonnull(strstr(said("roast-chart"), "brisket"));
  ck_assert_ptr_nonnull(strstr(said("roast-chart"), "more than 20 log"));
  /* (1) alone is no exemption: who must agree, and the event's own basis */
  ck_assert_ptr_nonnull(strstr(said("roast-chart"), "8-103.10"));
  ck_assert_ptr_nonnull(strstr(said("roast-chart"), "named by the event: none"));
  fix.ev.safety_basis = "variance 7 of the county";
  make();
  ck_assert_ptr_nonnull(strstr(said("roast-chart"), "variance 7 of the county"));
}
END_TEST

/* 10 lb counts as it goes on: 11 lb bought, a fifth trimmed away, is a small roast (3-401.11(B)(2)). */
START_TEST(ten_pounds_as_it_goes_on)
{
  fix.cuts[FIX_BRISKET].piece_kg = 11 * 0.45359237;
  fix.cuts[FIX_BRISKET].trim_frac = 0.95;
  make();
  ck_assert_ptr_null(said("roast-chart"));
  fix.cuts[FIX_BRISKET].trim_frac = 0.8;
  make();
  ck_assert_ptr_nonnull(said("roast-chart"));
}
END_TEST

/* FSIS-GD-2021-14: no humidity is asked of 10 lb and more at 250 F and more, nor in casings; else 90 % or a sealed oven. */
START_TEST(a_dry_surface_is_said)
{
  make(); /* 14 lb at 256 F, finished at 250; sausage cooked by its maker */
  ck_assert_int_eq(report.lots[0].surface, PW_SURFACE_LARGE);
  ck_assert_int_eq(report.lots[1].surface, PW_SURFACE_NOT_ASKED);
  ck_assert_ptr_null(said("surface"));
  ck_assert(report.lots[0].surface_log_reduction >= report.lots[0].log_reduction);
  fix.cuts[FIX_SAUSAGE].safety = PW_SAFE_GROUND;
  make();
  ck_assert_int_eq(report.lots[1].surface, PW_SURFACE_CASING);
  fix.cuts[FIX_BRISKET].piece_kg = 4.1;
  make();
  ck_assert_int_eq(report.lots[0].surface, PW_SURFACE_DRY);
  ck_assert_ptr_nonnull(strstr(said("surface"), "FSIS-GD-2021-14"));
  ck_assert_msg(report.lots[0].air_humidity_frac > 0 && report.lots[0].air_humidity_frac < 0.2, "%g",
                report.lots[0].air_humidity_frac);
  fix.cuts[FIX_BRISKET].piece_kg = 6.35;
  fix.finishers[0].temp_c = fix_c(240); /* throughout, the finish too */
  make();
  ck_assert_int_eq(report.lots[0].surface, PW_SURFACE_DRY);
}
END_TEST

START_TEST(slow_come_up_is_said)
{
  struct pw_cut *cut = &fix.cuts[FIX_BRISKET];
  cut->half_m = 0.13;
  cut->smoke.ref_min = 2000;
  make();
  ck_assert_msg(report.lots[0].come_up_min > 360, "%g min", report.lots[0].come_up_min);
  ck_assert_ptr_nonnull(strstr(said("come-up"), "FSIS"));
}
END_TEST

/* A core that warms too slowly everywhere stops the plan; with the cook's basis it is a warning, and the places are open again. */
START_TEST(slow_come_up_stops_the_plan)
{
  struct pw_cut *cut = &fix.cuts[FIX_BRISKET];
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_OK);
  make();
  ck_assert_int_ne(plan.lots.lots[0].smoke_min[0][0], PW_NONE);
  cut->half_m = 0.13;
  cut->smoke.ref_min = 2000;
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_ERR_INPUT);
  ck_assert_msg(strstr(said("food-code"), "FSIS-GD-2021-14") && strstr(said("food-code"), "more than 6 h"), "%s",
                said("food-code"));
  make();
  for (int z = 0; z < plan.lots.n_zones; z++)
    for (int s = 0; s < fix.pits[plan.lots.zones[z].pit].n_settings; s++)
      ck_assert_int_eq(plan.lots.lots[0].smoke_min[z][s], PW_NONE);
  fix.ev.safety_basis = "approved plan 12 of the county";
  ctx->n_errors = ctx->n_diags = ctx->n_diags_total = 0;
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_OK);
  ck_assert_ptr_nonnull(strstr(said("food-code"), "approved plan 12"));
  make();
  ck_assert_int_ne(plan.lots.lots[0].smoke_min[0][0], PW_NONE);
  ck_assert_ptr_nonnull(strstr(said("come-up"), "approved plan 12"));
  /* cooked before it came, the rule does not ask for it */
  fix.ev.safety_basis = NULL;
  cut->safety = PW_SAFE_PRECOOKED;
  ctx->n_errors = ctx->n_diags = ctx->n_diags_total = 0;
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_OK);
}
END_TEST

/* A place that is too slow is left out while a hotter one of the same pit is not. */
START_TEST(only_the_slow_places_are_shut)
{
  struct pw_cut *cut = &fix.cuts[FIX_BRISKET];
  struct pw_stage_air air = pw_stage_air_of(&fix.ev, 0);
  cut->half_m = 0.09;
  double hot = 0, cool = 0;
  for (int m = 600; m < 1000 && !(hot < 350 && cool > 370); m += 10) {
    struct pw_stage_model model;
    cut->smoke.ref_min = m;
    pw_stage_model_make(&model, cut);
    hot = pw_curve_come_up_min(&model, fix_c(285), &air);
    cool = pw_curve_come_up_min(&model, fix_c(235), &air);
  }
  ck_assert_msg(hot < 360 && cool > 360, "%g and %g min", hot, cool);
  fix.steady[0] = fix.steady[1] = (struct pw_setting){.name = "two ends", .hot_c = fix_c(310), .cool_c = fix_c(210)};
  fix.racks[0].n_zones = 2; /* 285 and 235 F in the middles */
  make();
  ck_assert_int_ne(plan.lots.lots[0].smoke_min[0][0], PW_NONE);
  ck_assert_int_eq(plan.lots.lots[0].smoke_min[1][0], PW_NONE);
  ck_assert_int_eq(pw_safety_check(&fix.ev, ctx), PW_OK);
}
END_TEST

/* What the hold adds: the shortest hold of the lot, at the cooler of core and box. */
START_TEST(the_hold_counts)
{
  struct pw_cut *cut = &fix.cuts[FIX_SAUSAGE];
  struct pw_load hold = {.lot = 1,
                         .stage = PW_LOAD_HOLD,
                         .zone = PW_NONE,
                         .finisher = 1,
                         .pieces = 3,
                         .start_at_min = 1020,
                         .end_at_min = 1050};
  struct pw_load all[5];
  memcpy(all, loads, sizeof loads);
  all[4] = hold;
  cut->kind = PW_KIND_PORK;
  cut->safety = PW_SAFE_INTACT;
  cut->smoke.to_c = fix_c(140);
  plan.allocation.loads = all;
  plan.allocation.n_loads = 5;
  fix.finishers[1].temp_c = fix_c(150);
  make();
  /* FSIS, 140 F: 6.5 log in 12 min, rounded up from 11.2 */
  PW_NEAR("core is cooler", report.lots[1].hold_log, 30 / 11.2 * 6.5, 0, 1e-3);
  fix.finishers[1].temp_c = fix_c(135);
  make();
  PW_NEAR("box is cooler", report.lots[1].hold_log, 30 / 35.42 * 6.5, 0, 1e-3);
  all[4].pieces = 2; /* one is not held */
  make();
  PW_NEAR("not all held", report.lots[1].hold_log, 0, 0, 0);
}
END_TEST

START_TEST(short_lethality_is_said)
{
  /* rare: off at 135 F the moment it gets there */
  struct pw_cut *cut = &fix.cuts[FIX_SAUSAGE];
  cut->kind = PW_KIND_PORK;
  cut->safety = PW_SAFE_INTACT;
  cut->smoke.to_c = fix_c(132);
  make();
  ck_assert_msg(report.lots[1].log_reduction < 6.5, "%g log", report.lots[1].log_reduction);
  ck_assert_ptr_nonnull(strstr(said("lethality"), "3-401.11(B)(1)"));
}
END_TEST

START_TEST(long_service_and_doubts)
{
  fix.services[0].length_min = 300;
  fix.cuts[FIX_SAUSAGE].smoke.ref_min = 400; /* no heat theory explains this */
  loads[3].end_at_min = 1020;
  make();
  ck_assert_ptr_nonnull(strstr(said("time-control"), "3-501.19(B)"));
  ck_assert_ptr_nonnull(strstr(said("time-control"), "21:30"));
  ck_assert_ptr_nonnull(strstr(said("weak-theory"), "sausage"));
}
END_TEST

START_TEST(lot_without_a_place)
{
  plan.allocation.n_loads = 3;
  make();
  ck_assert(isnan(report.lots[1].smoke_c) && isinf(report.lots[1].come_up_min));
  ck_assert_ptr_null(said("come-up"));
}
END_TEST

START_TEST(memory_running_out_is_reported)
{
  fix.services[0].length_min = 300;
  long before = (make(), pw_arena_count(ctx->arena));
  ck_assert_int_eq(pw_safety_make(&report, &plan, ctx), PW_OK);
  long n = pw_arena_count(ctx->arena) - before;
  ck_assert_int_ge(n, 5);
  for (long k = 1; k <= n; k++) {
    struct pw_safety_report got;
    pw_arena_fail_at(ctx->arena, k);
    ck_assert_int_eq(pw_safety_make(&got, &plan, ctx), PW_ERR_MEMORY);
    ck_assert_ptr_null(got.lots);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("safety");
  TCase *t = tcase_create("safety");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, good_event_passes);
  tcase_add_loop_test(t, rule_that_cannot_be_met_stops_the_plan, 0, (int)(sizeof broken / sizeof broken[0]));
  tcase_add_test(t, cool_hot_box);
  tcase_add_test(t, coolest_places_are_followed);
  tcase_add_test(t, cooler_end_has_the_air_of_its_pit);
  tcase_add_test(t, warm_start_counts_from_before);
  tcase_add_test(t, roast_chart_names_the_basis);
  tcase_add_test(t, ten_pounds_as_it_goes_on);
  tcase_add_test(t, a_dry_surface_is_said);
  tcase_add_test(t, slow_come_up_is_said);
  tcase_add_test(t, slow_come_up_stops_the_plan);
  tcase_add_test(t, only_the_slow_places_are_shut);
  tcase_add_test(t, the_hold_counts);
  tcase_add_test(t, short_lethality_is_said);
  tcase_add_test(t, long_service_and_doubts);
  tcase_add_test(t, lot_without_a_place);
  tcase_add_test(t, memory_running_out_is_reported);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
