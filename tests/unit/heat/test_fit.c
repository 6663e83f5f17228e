/* test_fit.c - may a piece lie in a zone, and if not why: each bound met from both sides, by hand.  The piece is 0.40 x 0.20 x 0.10 m
 * (wrapped 0.36 x 0.18) with 0.02 m clearance; the rack 1.2 x 0.5 m in 3 zones of 0.4 m, 0.15 m high; air 140, 130, 120 C. */
#include "harness.h"

#include "heat/fit.h"

enum { SMOKE, FINISH };

static const struct pw_cut a_cut = {.length_m = 0.40,
                                    .width_m = 0.20,
                                    .height_m = 0.10,
                                    .wrapped_length_m = 0.36,
                                    .wrapped_width_m = 0.18,
                                    .clearance_m = 0.02,
                                    .pans_per_piece = 0.5,
                                    .smoke = {.is_used = true, .low_c = 110, .high_c = 145},
                                    .finish = {.is_used = true, .low_c = 115, .high_c = 150, .in_oven = true}};

/* What differs from the piece and the pit above: 0 leaves it. */
struct change {
  double length_m, width_m, height_m, clearance_m, wrapped_length_m, rack_length_m, rack_depth_m, rack_height_m, low_c,
      high_c, finish_low_c, finish_high_c, hot_c, cool_c, offset_c, probe_c;
  bool may_turn, is_disc, has_no_smoke, is_cut_over_coals, is_pit_over_coals, has_no_finish, is_cut_on_spit,
      is_pit_spit;
};

static const struct {
  const char *name;
  struct change with;
  int stage, k;
  enum pw_fit why;
} rows[] = {
    {"as it is", {.length_m = 0}, SMOKE, 0, PW_FITS},
    {"as it is, last zone", {.length_m = 0}, SMOKE, 2, PW_FITS},
    {"as it is, wrapped", {.length_m = 0}, FINISH, 1, PW_FITS},
    {"as high as there is room", {.height_m = 0.15}, SMOKE, 0, PW_FITS},
    {"higher by a millimetre", {.height_m = 0.151}, SMOKE, 0, PW_FIT_TOO_LOW},
    {"the rack lower", {.rack_height_m = 0.099}, SMOKE, 0, PW_FIT_TOO_LOW},
    {"the rack lower, wrapped", {.rack_height_m = 0.099}, FINISH, 0, PW_FIT_TOO_LOW},
    {"as long as the rack", {.length_m = 1.18}, SMOKE, 1, PW_FITS},
    {"as long as the rack, but its middle in another zone", {.length_m = 1.18}, SMOKE, 0, PW_FIT_TOO_SHORT},
    {"longer than the rack", {.length_m = 1.19}, SMOKE, 1, PW_FIT_TOO_SHORT},
    {"the rack shorter", {.rack_length_m = 0.41}, SMOKE, 1, PW_FIT_TOO_SHORT},
    {"the clearance counts to the length", {.length_m = 1.18, .clearance_m = 0.03}, SMOKE, 1, PW_FIT_TOO_SHORT},
    {"the length unwrapped does not hinder the finish", {.length_m = 1.19}, FINISH, 1, PW_FITS},
    {"too long wrapped", {.wrapped_length_m = 1.19}, FINISH, 1, PW_FIT_TOO_SHORT},
    {"as wide as the rack", {.width_m = 0.48}, SMOKE, 0, PW_FITS},
    {"wider", {.width_m = 0.49}, SMOKE, 0, PW_FIT_TOO_NARROW},
    {"the rack not as deep", {.rack_depth_m = 0.21}, SMOKE, 0, PW_FIT_TOO_NARROW},
    {"not as deep, but it may turn and then reaches over",
     {.rack_depth_m = 0.43, .width_m = 0.44, .may_turn = true},
     SMOKE,
     1,
     PW_FITS},
    {"it may not turn", {.rack_depth_m = 0.43, .width_m = 0.44}, SMOKE, 1, PW_FIT_TOO_NARROW},
    {"a disc, the middle", {.is_disc = true, .rack_length_m = 0.55}, SMOKE, 1, PW_FITS},
    {"a disc, the end", {.is_disc = true, .rack_length_m = 0.55}, SMOKE, 0, PW_FIT_TOO_SHORT},
    {"a disc too small", {.is_disc = true, .rack_length_m = 0.47}, SMOKE, 1, PW_FIT_TOO_NARROW},
    {"as cool as allowed", {.low_c = 120}, SMOKE, 2, PW_FITS},
    {"cooler", {.low_c = 120.1}, SMOKE, 2, PW_FIT_TOO_COOL},
    {"the next zone is hotter", {.low_c = 120.1}, SMOKE, 1, PW_FITS},
    {"as hot as allowed", {.high_c = 140}, SMOKE, 0, PW_FITS},
    {"hotter", {.high_c = 139.9}, SMOKE, 0, PW_FIT_TOO_HOT},
    {"the next zone is cooler", {.high_c = 139.9}, SMOKE, 1, PW_FITS},
    {"the smoke's limits are not the finish's", {.low_c = 141, .high_c = 142}, FINISH, 1, PW_FITS},
    {"the finish's low", {.finish_low_c = 131}, FINISH, 1, PW_FIT_TOO_COOL},
    {"the finish's high", {.finish_high_c = 129}, FINISH, 1, PW_FIT_TOO_HOT},
    {"the hot end", {.hot_c = 160}, SMOKE, 0, PW_FIT_TOO_HOT},
    {"the cool end", {.cool_c = 90}, SMOKE, 2, PW_FIT_TOO_COOL},
    {"a hotter rack", {.offset_c = 6}, SMOKE, 0, PW_FIT_TOO_HOT},
    {"a cooler rack", {.offset_c = -11}, SMOKE, 2, PW_FIT_TOO_COOL},
    {"a thermometer reads more", {.probe_c = 160}, SMOKE, 1, PW_FIT_TOO_HOT},
    {"room is asked before heat", {.height_m = 0.2, .low_c = 141}, SMOKE, 1, PW_FIT_TOO_LOW},
    {"no smoke", {.has_no_smoke = true}, SMOKE, 1, PW_FIT_NO_STAGE},
    {"no finish", {.has_no_finish = true}, FINISH, 1, PW_FIT_NO_STAGE},
    {"over coals on coals", {.is_cut_over_coals = true, .is_pit_over_coals = true}, SMOKE, 1, PW_FITS},
    {"over coals in a pit", {.is_cut_over_coals = true}, SMOKE, 1, PW_FIT_NO_COALS},
    {"a roast on coals", {.is_pit_over_coals = true}, SMOKE, 1, PW_FIT_COALS},
    {"on a spit",
     {.is_cut_over_coals = true, .is_pit_over_coals = true, .is_cut_on_spit = true, .is_pit_spit = true},
     SMOKE,
     1,
     PW_FITS},
    {"a lamb on a grate",
     {.is_cut_over_coals = true, .is_pit_over_coals = true, .is_cut_on_spit = true},
     SMOKE,
     1,
     PW_FIT_NO_SPIT},
    {"patties on a spit",
     {.is_cut_over_coals = true, .is_pit_over_coals = true, .is_pit_spit = true},
     SMOKE,
     1,
     PW_FIT_SPIT},
    {"a lamb in a pit", {.is_cut_over_coals = true, .is_cut_on_spit = true}, SMOKE, 1, PW_FIT_NO_COALS},
    {"a roast on a spit", {.is_pit_over_coals = true, .is_pit_spit = true}, SMOKE, 1, PW_FIT_COALS},
    {"wrapped on coals", {.is_cut_over_coals = true, .is_pit_over_coals = true}, FINISH, 1, PW_FIT_COALS},
};

static void set_if(double *x, double to)
{
  if (to != 0)
    *x = to;
}

START_TEST(in_a_zone)
{
  const struct change *w = &rows[_i].with;
  struct pw_cut cut = a_cut;
  struct pw_probe probe = {.rack = 0, .x_m = 0.6, .temp_c = w->probe_c};
  struct pw_setting set = {.hot_c = 145, .cool_c = 115, .probes = &probe, .n_probes = w->probe_c != 0};
  struct pw_rack rack = {.length_m = 1.2, .depth_m = 0.5, .clear_height_m = 0.15, .n_zones = 3};
  set_if(&cut.length_m, w->length_m);
  set_if(&cut.width_m, w->width_m);
  set_if(&cut.height_m, w->height_m);
  set_if(&cut.clearance_m, w->clearance_m);
  set_if(&cut.wrapped_length_m, w->wrapped_length_m);
  set_if(&cut.smoke.low_c, w->low_c);
  set_if(&cut.smoke.high_c, w->high_c);
  set_if(&cut.finish.low_c, w->finish_low_c);
  set_if(&cut.finish.high_c, w->finish_high_c);
  set_if(&rack.length_m, w->rack_length_m);
  set_if(&rack.depth_m, w->rack_depth_m);
  set_if(&rack.clear_height_m, w->rack_height_m);
  set_if(&rack.offset_c, w->offset_c);
  set_if(&set.hot_c, w->hot_c);
  set_if(&set.cool_c, w->cool_c);
  cut.may_turn = w->may_turn;
  cut.smoke.is_used = !w->has_no_smoke;
  cut.finish.is_used = !w->has_no_finish;
  if (w->is_disc) {
    rack.outline = PW_DISC;
    rack.depth_m = rack.length_m;
  }
  struct pw_pit pit = {.racks = &rack, .n_racks = 1, .settings = &set, .n_settings = 1};
  cut.smoke.is_over_coals = w->is_cut_over_coals;
  pit.is_over_coals = w->is_pit_over_coals;
  cut.smoke.is_on_spit = w->is_cut_on_spit;
  pit.coals.is_spit = w->is_pit_spit;
  enum pw_fit why = pw_fit_zone(&cut, rows[_i].stage == FINISH, &pit, 0, rows[_i].k, 0);
  ck_assert_msg(why == rows[_i].why, "%s: %s in place of %s", rows[_i].name, pw_fit_words(why),
                pw_fit_words(rows[_i].why));
}
END_TEST

static const struct {
  const char *name;
  struct pw_finisher oven;
  bool is_for_smoke_only, may_not_bake;
  enum pw_fit why;
} ovens[] = {
    {"shelves for one", {.kind = PW_OVEN, .capacity = 0.38 * 0.20, .temp_c = 120}, false, false, PW_FITS},
    {"shelves for less",
     {.kind = PW_OVEN, .capacity = 0.38 * 0.20 - 0.001, .temp_c = 120},
     false,
     false,
     PW_FIT_TOO_SHORT},
    {"half a pan", {.kind = PW_OVEN, .is_in_pans = true, .capacity = 0.5, .temp_c = 120}, false, false, PW_FITS},
    {"less than half a pan",
     {.kind = PW_OVEN, .is_in_pans = true, .capacity = 0.4, .temp_c = 120},
     false,
     false,
     PW_FIT_TOO_SHORT},
    {"at the low", {.kind = PW_OVEN, .capacity = 1, .temp_c = 115}, false, false, PW_FITS},
    {"below it", {.kind = PW_OVEN, .capacity = 1, .temp_c = 114}, false, false, PW_FIT_TOO_COOL},
    {"at the high", {.kind = PW_OVEN, .capacity = 1, .temp_c = 150}, false, false, PW_FITS},
    {"above it", {.kind = PW_OVEN, .capacity = 1, .temp_c = 151}, false, false, PW_FIT_TOO_HOT},
    {"a hot box", {.kind = PW_HOLD, .capacity = 1, .temp_c = 120}, false, false, PW_FIT_NO_STAGE},
    {"a cut without a finish", {.kind = PW_OVEN, .capacity = 1, .temp_c = 120}, true, false, PW_FIT_NO_STAGE},
    {"a finish not for ovens", {.kind = PW_OVEN, .capacity = 1, .temp_c = 120}, false, true, PW_FIT_NO_STAGE},
};

START_TEST(in_an_oven)
{
  struct pw_cut cut = a_cut;
  cut.finish.is_used = !ovens[_i].is_for_smoke_only;
  cut.finish.in_oven = !ovens[_i].may_not_bake;
  enum pw_fit why = pw_fit_oven(&cut, &ovens[_i].oven);
  ck_assert_msg(why == ovens[_i].why, "%s: %s in place of %s", ovens[_i].name, pw_fit_words(why),
                pw_fit_words(ovens[_i].why));
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("fit");
  TCase *t = tcase_create("why");
  tcase_add_loop_test(t, in_a_zone, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_loop_test(t, in_an_oven, 0, (int)(sizeof ovens / sizeof *ovens));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
