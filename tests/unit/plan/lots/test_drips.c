/* What drips on what [H2]: FDA Food Code 2022 3-302.11(A) and the cores of 3-401.11(A), case by case. */
#include "harness.h"
#include "plan/lots/drips.h"
#include "planned.h"

static const struct pw_cut
    CHICKEN = {.kind = PW_KIND_POULTRY, .safety = PW_SAFE_POULTRY, .smoke = {.is_used = true, .to_c = 81}},
    BRISKET = {.kind = PW_KIND_BEEF,
               .safety = PW_SAFE_INTACT,
               .smoke = {.is_used = true, .to_c = 71},
               .finish = {.is_used = true, .to_c = 95}},
    SAUSAGE = {.kind = PW_KIND_SAUSAGE, .safety = PW_SAFE_GROUND, .smoke = {.is_used = true, .to_c = 72}},
    COOKED = {.kind = PW_KIND_SAUSAGE, .safety = PW_SAFE_PRECOOKED, .smoke = {.is_used = true, .to_c = 60}},
    SALMON = {.kind = PW_KIND_FISH, .safety = PW_SAFE_INTACT, .smoke = {.is_used = true, .to_c = 63}},
    BEANS = {.kind = PW_KIND_PLANT, .safety = PW_SAFE_PLANT, .smoke = {.is_used = true, .to_c = 75}},
    GREENS = {.kind = PW_KIND_PLANT, .safety = PW_SAFE_PLANT, .smoke = {.is_used = true, .to_c = 57.2}};

static const struct {
  const char *name;
  const struct pw_cut *upper, *lower;
  int up[4], low[4]; /* start, safe, open until, done */
  bool is_spoilt;
} cases[] = {
    {"chicken over greens", &CHICKEN, &GREENS, {0, 80, 90, 90}, {30, 90, 90, 90}, true},
    {"greens go in once the chicken is safe", &CHICKEN, &GREENS, {0, 80, 90, 90}, {80, 140, 140, 140}, false},
    {"greens are off before the chicken goes on", &CHICKEN, &GREENS, {60, 140, 150, 150}, {0, 60, 60, 60}, false},
    {"greens over chicken", &GREENS, &CHICKEN, {0, 0, 60, 60}, {0, 80, 90, 90}, false},
    {"chicken over a brisket that cooks on to 95 C", &CHICKEN, &BRISKET, {0, 80, 90, 90}, {0, 300, 400, 700}, false},
    {"chicken over sausage to 72 C: not its kill step", &CHICKEN, &SAUSAGE, {0, 80, 90, 90}, {0, 100, 120, 120}, true},
    {"sausage over chicken that cooks on", &SAUSAGE, &CHICKEN, {0, 50, 60, 60}, {0, 80, 90, 90}, false},
    {"sausage over chicken that is off first", &SAUSAGE, &CHICKEN, {60, 110, 120, 120}, {0, 80, 90, 90}, true},
    {"beef over fish", &BRISKET, &SALMON, {0, 300, 400, 700}, {100, 150, 160, 160}, true},
    {"beef that is safe over fish", &BRISKET, &SALMON, {0, 300, 400, 700}, {300, 360, 360, 360}, false},
    {"beef over beans to 75 C that cook on", &BRISKET, &BEANS, {0, 100, 200, 500}, {0, 150, 150, 150}, false},
    {"beef over beans that come off raw above", &BRISKET, &BEANS, {0, 200, 300, 500}, {0, 150, 150, 150}, true},
    {"what came cooked drips on nothing", &COOKED, &GREENS, {0, 60, 60, 60}, {0, 60, 60, 60}, false},
};

START_TEST(case_by_case)
{
  struct pw_drip_span up = {cases[_i].upper, 0, cases[_i].up[0], cases[_i].up[1], cases[_i].up[2], cases[_i].up[3]};
  struct pw_drip_span low = {cases[_i].lower, 1, cases[_i].low[0], cases[_i].low[1], cases[_i].low[2],
                             cases[_i].low[3]};
  ck_assert_msg(pw_drips_spoil(&up, &low) == cases[_i].is_spoilt, "%s", cases[_i].name);
}
END_TEST

/* One batch on two racks passes its kill step together; the same lot put on later does not. */
START_TEST(one_batch)
{
  struct pw_drip_span up = {&CHICKEN, 0, 0, 80, 90, 90}, low = up;
  ck_assert(!pw_drips_spoil(&up, &low));
  up.start_min = 20, up.safe_min = 100, up.open_min = up.done_min = 110;
  ck_assert(pw_drips_spoil(&up, &low));
}
END_TEST

START_TEST(levels_and_trays)
{
  struct pw_rack racks[] = {{.level = 0}, {.level = 1}, {.level = 2, .has_tray_below = true}, {.level = 1}};
  struct pw_pit pit = {.racks = racks, .n_racks = 4};
  ck_assert(pw_drips_above(&pit, 1, 0) && !pw_drips_above(&pit, 0, 1));
  ck_assert(!pw_drips_above(&pit, 2, 1) && !pw_drips_above(&pit, 2, 0)); /* a tray between */
  ck_assert(!pw_drips_above(&pit, 1, 3) && !pw_drips_above(&pit, 3, 1)); /* side by side */
}
END_TEST

START_TEST(classes)
{
  static const struct {
    const struct pw_cut *cut;
    enum pw_drips_class class;
  } of[] = {{&COOKED, PW_DRIPS_READY},  {&BEANS, PW_DRIPS_READY},    {&SALMON, PW_DRIPS_FISH},
            {&BRISKET, PW_DRIPS_WHOLE}, {&SAUSAGE, PW_DRIPS_GROUND}, {&CHICKEN, PW_DRIPS_POULTRY}};
  ck_assert_int_eq(pw_drips_class(of[_i].cut), of[_i].class);
}
END_TEST

/* Salmon at a party: prepared after all else that the same hands prepare that day, and told so where it is prepared. */
START_TEST(fish_last)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan =
      planned(planned_event_with(
                  "events/garden-lunch.yaml",
                  "---\nservices:\n  - {id: lunch, menu: {use: thighs-and-sausage, also: [salmon-flaked]}}\n", ctx),
              false, PW_EFFORT_QUICK, ctx);
  int n_fish = 0, n_other = 0;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *fish = &plan->tasks.tasks[i];
    if (fish->kind != PW_TASK_PREP || fish->lot == PW_NONE ||
        !pw_drips_cut_kept_last(plan->event, fish->service, plan->lots.lots[fish->lot].cut))
      continue;
    n_fish++;
    ck_assert_ptr_nonnull(strstr(fish->target, "last of all, own board, knife, tongs"));
    for (int k = 0; k < plan->tasks.n_tasks; k++) {
      const struct pw_task *other = &plan->tasks.tasks[k];
      if (other->kind != PW_TASK_PREP || other == fish || other->person != fish->person)
        continue;
      n_other++;
      ck_assert_msg(other->at_min <= fish->at_min, "%s at %d, fish at %d", other->what, other->at_min, fish->at_min);
      ck_assert_ptr_null(strstr(other->target, "last of all"));
    }
  }
  ck_assert_int_gt(n_fish, 0);
  ck_assert_int_gt(n_other, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Safe before the smoke is over where the smoke goes on beyond the kill temperature, and later where it is cooler. */
START_TEST(safe_minutes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event("templates/starter.yaml", ctx), true, PW_EFFORT_QUICK, ctx);
  int n = 0;
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    const struct pw_cut *cut = &plan->event->cuts[lot->cut];
    for (int z = 0; z < plan->lots.n_zones; z++) {
      int safe = lot->safe_min[z][0], smoke = lot->smoke_min[z][0];
      if (!pw_drips_raw(cut))
        ck_assert_int_eq(safe, 0);
      else if (smoke != PW_NONE) {
        ck_assert_msg(safe > smoke / 4 && safe <= smoke, "%s: %d of %d", lot->id, safe, smoke);
        n += safe < smoke;
      }
    }
  }
  ck_assert_int_gt(n, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("drips");
  TCase *t = tcase_create("drips");
  tcase_set_timeout(t, 60);
  tcase_add_loop_test(t, case_by_case, 0, (int)(sizeof cases / sizeof *cases));
  tcase_add_test(t, one_batch);
  tcase_add_test(t, levels_and_trays);
  tcase_add_loop_test(t, classes, 0, 6);
  tcase_add_test(t, fish_last);
  tcase_add_test(t, safe_minutes);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
