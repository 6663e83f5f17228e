/* test_grate.c - what a grate takes at once and how many waves that makes [D4]: rows worked out by hand, and the lunch over coals, which
 * fits its grates wave by wave. */
#include "harness.h"
#include "planned.h"

#include "plan/lots/grate.h"
#include "plan/lots/waves.h"

enum { PATTY, LINK, LAMB, CUTS };

/* A grate of 1.0 x 0.6 m in two zones.  A patty takes 0.25 x 0.2 m, a link's load 0.5 x 0.3 m. */
struct job {
  struct pw_event ev;
  struct pw_cut cuts[CUTS];
  struct pw_pit pit;
  struct pw_setting setting;
  struct pw_rack rack;
  struct pw_service service;
  struct pw_crew cook;
  struct pw_raw_need raws[CUTS];
  struct pw_purchase purchase;
};

static struct pw_cut lies(double length_m, double width_m, int minutes, double hands_min)
{
  return (struct pw_cut){
      .length_m = length_m,
      .width_m = width_m,
      .height_m = 0.02,
      .may_turn = true,
      .load_min = hands_min,
      .smoke = {.is_used = true, .is_over_coals = true, .ref_min = minutes, .low_c = 200, .high_c = 300}};
}

static void job_make(struct job *j)
{
  *j = (struct job){.setting = {.hot_c = 250, .cool_c = 230},
                    .rack = {.id = "bars", .length_m = 1.0, .depth_m = 0.6, .clear_height_m = 0.5, .n_zones = 2},
                    .service = {.at_min = 720, .length_min = 90},
                    .cook = {.duties = 1u << PW_DUTY_PIT, .count = 1, .from_at_min = 600, .to_at_min = 900}};
  j->cuts[PATTY] = lies(0.25, 0.2, 10, 0);
  j->cuts[LINK] = lies(0.5, 0.3, 18, 0);
  j->cuts[LAMB] = lies(0.9, 0.5, 300, 0);
  j->pit =
      (struct pw_pit){.settings = &j->setting, .n_settings = 1, .racks = &j->rack, .n_racks = 1, .is_over_coals = true};
  for (int c = 0; c < CUTS; c++)
    j->raws[c] = (struct pw_raw_need){.cut = c};
  j->purchase = (struct pw_purchase){.raws = j->raws, .n_raws = CUTS};
  j->ev = (struct pw_event){.slot_min = 15,
                            .cuts = j->cuts,
                            .n_cuts = CUTS,
                            .pits = &j->pit,
                            .n_pits = 1,
                            .services = &j->service,
                            .n_services = 1,
                            .crew = &j->cook,
                            .n_crew = 1};
}

START_TEST(pieces_at_once)
{
  struct job j;
  job_make(&j);
  ck_assert_int_eq(pw_grate_pieces(&j.ev, 0, PATTY), 12); /* 4 by 3, or turned 5 by 2 */
  ck_assert_int_eq(pw_grate_pieces(&j.ev, 0, LINK), 4);
  j.cuts[PATTY].may_turn = false;
  j.rack.depth_m = 0.3; /* 4 by 1; turned it would be 5 */
  ck_assert_int_eq(pw_grate_pieces(&j.ev, 0, PATTY), 4);
  j.cuts[PATTY].may_turn = true;
  ck_assert_int_eq(pw_grate_pieces(&j.ev, 0, PATTY), 5);
  j.rack.depth_m = 0.6;
  j.cuts[PATTY].smoke.low_c = 242; /* the cool half is 235 C */
  ck_assert_int_eq(pw_grate_pieces(&j.ev, 0, PATTY), 6);
  j.cuts[PATTY].smoke.low_c = 260;
  ck_assert_int_eq(pw_grate_pieces(&j.ev, 0, PATTY), 0);
  j.cuts[PATTY].smoke.low_c = 200;
  j.pit.is_over_coals = false;
  ck_assert_int_eq(pw_grate_pieces(&j.ev, 0, PATTY), 0);
  j.pit.is_over_coals = true;
  j.rack = (struct pw_rack){
      .id = "ring", .outline = PW_DISC, .length_m = 0.5, .depth_m = 0.5, .clear_height_m = 0.5, .n_zones = 1};
  ck_assert_int_eq(pw_grate_pieces(&j.ev, 0, PATTY), 1); /* the square in it is 0.35 m: 1 by 1 */
}
END_TEST

static const struct {
  const char *name;
  int patties, links, lambs, length_min, cooks;
  double hands_min;
  int waves, link_waves;
} rows[] = {
    {"on at once", 12, 0, 0, 90, 1, 0, 1, 1},
    {"one more than goes on", 13, 0, 0, 90, 1, 0, 2, 1},
    {"three loads", 36, 0, 0, 90, 1, 0, 3, 1},
    {"six stretches of a quarter of an hour are all there are", 100, 0, 0, 90, 1, 0, 6, 1},
    {"a lunch of half an hour has two", 36, 0, 0, 30, 1, 0, 2, 1},
    /* 6/12 + 2/4 = 1 in two waves */
    {"two kinds share it", 12, 4, 0, 90, 1, 0, 2, 2},
    /* links take half an hour each: three waves of 2, 2, 2 leave half of the grate, six patties a time, also in four waves */
    {"what cooks longer comes in fewer", 24, 6, 0, 90, 1, 0, 4, 3},
    {"no more waves than pieces", 2, 6, 0, 90, 1, 0, 2, 2},
    {"a lamb is done before", 12, 0, 1, 90, 1, 0, 1, 1},
    /* 12 pieces of 3 min of hands are 36 min in a cook of 15: three waves of 4 */
    {"one cook turns no more", 12, 0, 0, 90, 1, 3, 3, 1},
    {"three cooks do", 12, 0, 0, 90, 3, 3, 1, 1},
    {"nobody is written: the grate alone", 12, 0, 0, 90, 0, 3, 1, 1},
};

START_TEST(waves_by_hand)
{
  struct job j;
  job_make(&j);
  j.raws[PATTY].pieces = rows[_i].patties;
  j.raws[LINK].pieces = rows[_i].links;
  j.raws[LAMB].pieces = rows[_i].lambs;
  j.service.length_min = rows[_i].length_min;
  j.cook.count = rows[_i].cooks;
  j.cuts[PATTY].load_min = rows[_i].hands_min;
  int waves = pw_grate_waves(&j.ev, &j.purchase, 0, PATTY), links = pw_grate_waves(&j.ev, &j.purchase, 0, LINK);
  ck_assert_msg(waves == rows[_i].waves, "%s: %d waves", rows[_i].name, waves);
  ck_assert_msg(links == rows[_i].link_waves, "%s: %d waves of links", rows[_i].name, links);
  ck_assert_int_eq(pw_grate_waves(&j.ev, &j.purchase, 0, LAMB), 1);
  static const enum pw_style at_once[] = {PW_PLATED, PW_BOXED, PW_DROP_OFF};
  for (int i = 0; i < 3; i++) {
    j.service.style = at_once[i];
    ck_assert_int_eq(pw_grate_waves(&j.ev, &j.purchase, 0, PATTY), 1);
  }
  j.service.style = PW_FAMILY;
  ck_assert_int_eq(pw_grate_waves(&j.ev, &j.purchase, 0, PATTY), rows[_i].waves);
  j.cuts[PATTY].smoke.is_over_coals = false;
  ck_assert_int_eq(pw_grate_waves(&j.ev, &j.purchase, 0, PATTY), 1);
}
END_TEST

/* More guests never come in fewer waves, a grate twice as long never in more. */
START_TEST(follows_grate_and_guests)
{
  struct job j;
  job_make(&j);
  int before = 1;
  for (int n = 1; n < 90; n++) {
    j.raws[PATTY].pieces = n;
    j.rack.length_m = 1.0;
    int waves = pw_grate_waves(&j.ev, &j.purchase, 0, PATTY);
    ck_assert_int_ge(waves, before);
    before = waves;
    j.rack.length_m = 2.0;
    ck_assert_int_le(pw_grate_waves(&j.ev, &j.purchase, 0, PATTY), waves);
  }
  ck_assert_int_eq(before, 6);
}
END_TEST

/* Sixty guests at a parrilla and a kettle that hold a third of the lunch: in one wave eleven of its nineteen batches had no place. */
START_TEST(lunch_over_coals_fits)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(planned_event("tests/data/over-coals.yaml", ctx), false, PW_EFFORT_QUICK, ctx);
  ck_assert_int_eq(plan->allocation.n_missed, 0);
  int most = 0;
  for (int l = 0; l < plan->lots.n_lots; l++)
    most = plan->lots.lots[l].n_waves > most ? plan->lots.lots[l].n_waves : most;
  ck_assert_msg(most >= 3, "%d waves", most);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("grate");
  TCase *t = tcase_create("grate");
  tcase_set_timeout(t, 120);
  tcase_add_test(t, pieces_at_once);
  tcase_add_loop_test(t, waves_by_hand, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_test(t, follows_grate_and_guests);
  tcase_add_test(t, lunch_over_coals_fits);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
