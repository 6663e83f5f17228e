/* test_plan_json.c - a plan written as JSON: the judge accepts it, and it says what the structs say.
 * The plan is the writers' fixture, put right where the fixture is only a picture (see mended()). */
#include "harness.h"

#include "fixture_plan.h"

#include "base/json.h"
#include "judge/plan_check.h"
#include "write/plan_json.h"

#include <stdbool.h>
#include <unistd.h>

static struct pw_load loads[FX_LEN(fx_loads)];
static struct pw_rect drum_rects[2], upper_rects[6], pork_rects[3];
static struct pw_burn_fuel burn_fuel[FX_LEN(fx_burn_fuel)];
static struct pw_task tasks[FX_LEN(fx_tasks)];
static struct pw_warning warnings[] = {{.code = "nobody-on-shift", .text = "Nobody thaws the pork."}};

/** The fixture with whole-size pieces that fit, feeds that add up, work that one pair of hands can do. */
static struct pw_plan mended(void)
{
  struct pw_plan plan = *fx_plan_make();
  memcpy(loads, fx_loads, sizeof loads);
  memcpy(burn_fuel, fx_burn_fuel, sizeof burn_fuel);
  memcpy(tasks, fx_tasks, sizeof tasks);
  fx_rects(drum_rects, 2, 1, 0.16, 0.10, 0.24, 0.18);
  fx_rects(upper_rects, 6, 3, 0.82, 0.02, 0.24, 0.18);
  fx_rects(pork_rects, 3, 3, 0, 0, 0.24, 0.30);
  int first_ids = 2; /* two chickens in the drum, six on the upper rack */
  for (int i = 0; i < FX_LEN(fx_loads); i++) {
    struct pw_load *load = &loads[i];
    if (load->rects == fx_pork_wrapped)
      load->rects = pork_rects;
    if (load->lot != 0)
      continue;
    bool is_drum = load->piece_ids == fx_ids;
    load->pieces = is_drum ? first_ids : 8 - first_ids;
    load->piece_ids = is_drum ? fx_ids : fx_ids + first_ids;
    if (load->rects)
      load->rects = is_drum ? drum_rects : upper_rects;
  }
  for (int b = 0; b < FX_LEN(fx_burn_fuel); b++) {
    burn_fuel[b].wood_kg = 0;
    for (int i = 0; i < burn_fuel[b].n_feeds; i++)
      burn_fuel[b].wood_kg += burn_fuel[b].feeds[i].wood_kg;
  }
  for (int i = 0; i < FX_LEN(fx_tasks); i++) {
    if (tasks[i].at_min == 390)
      tasks[i].minutes = 10;
    if (tasks[i].at_min == 980)
      tasks[i].at_min = 970;
  }
  plan.allocation.loads = loads;
  plan.fuel.burns = burn_fuel;
  plan.tasks.tasks = tasks;
  plan.warnings = warnings;
  plan.n_warnings = 1;
  return plan;
}

static const char *text_of(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const char *text = NULL;
  size_t n = 0;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  ck_assert_uint_eq(n, strlen(text));
  return text;
}

static void expect_judged(const char *text, struct pw_ctx *ctx)
{
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text("plan.json", text, strlen(text), &n, ctx), PW_OK);
  for (int i = 0; i < ctx->n_diags; i++)
    ck_abort_msg("[%s] %s", ctx->diags[i].code, ctx->diags[i].text);
  ck_assert_int_eq(n, 0);
}

START_TEST(the_judge_accepts_it)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = mended();
  expect_judged(text_of(&plan, ctx), ctx);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(the_picture_is_found_out)
{
  /* the fixture itself has pieces drawn too small and feeds that do not add up */
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = text_of(fx_plan_make(), ctx);
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text("plan.json", text, strlen(text), &n, ctx), PW_OK);
  ck_assert_int_gt(n, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/** "loads.3.lot" of a parsed plan. */
static const struct pw_json *at(const struct pw_json *root, const char *path)
{
  char copy[128];
  snprintf(copy, sizeof copy, "%s", path);
  for (char *part = strtok(copy, "."); part && root; part = strtok(NULL, ".")) {
    char *end;
    long i = strtol(part, &end, 10);
    if (*end == '\0')
      root = root->type == PW_JSON_ARRAY && i >= 0 && (size_t)i < root->n ? &root->items[i] : NULL;
    else
      root = pw_json_get(root, part);
  }
  return root;
}

/* what the fixture says, read by eye */
static const struct {
  const char *path, *text; /**< text, or number when NULL */
  double number;
} values[] = {
    {"format", "pitwright-plan", 0},
    {"version", NULL, 1},
    {"event.name", "Orchard & press harvest day", 0},
    {"event.date", "2027-09-18", 0},
    {"event.utc_offset_min", NULL, -300},
    {"services.1.id", "dinner", 0},
    {"services.1.guests.children", NULL, 10},
    {"lots.1.footprint_m.0", NULL, 0.54},
    {"lots.1.wrapped_footprint_m.1", NULL, 0.32},
    {"lots.1.temp_range_c.0", NULL, 107},
    {"lots.1.temp_range_c.1", NULL, 149},
    {"lots.1.smoke_range_c.1", NULL, 143},
    {"lots.1.stage_times.6.place", "deck-oven", 0},
    {"lots.1.stage_times.6.minutes", NULL, 270},
    {"lots.1.stage_times.7.stage", "rest", 0},
    {"lots.1.stage_times.7.minutes", NULL, 60},
    {"racks.2.shape", "disc", 0},
    {"racks.2.pit", "drum", 0},
    {"zones.1.x_m", NULL, 0.915},
    {"zones.1.temp_c", NULL, 125},
    {"zones.1.rack", "long-pit/main", 0},
    {"finishers.0.unit", "area_m2", 0},
    {"finishers.1.kind", "hold", 0},
    {"burns.0.lit_min", NULL, -120},
    {"burns.0.start_charcoal_kg", NULL, 6},
    {"burns.1.feeds.0.kg", NULL, 1},
    {"loads.3.place", "deck-oven", 0},
    {"loads.4.rects.2.length_m", NULL, 0.32},
    {"loads.4.piece_ids.0", NULL, 2},
    {"demand.3.need_kg", NULL, 5.38},
    {"demand.0.need_units", NULL, 16},
    {"purchases.0.unit_price_cents", NULL, 1014},
    {"purchases.3.unit_price_cents", NULL, 412.5},
    {"purchases.3.pack_price_cents", NULL, 1650},
    {"purchases.3.cost_cents", NULL, 4950},
    {"purchases.1.thaw_from_min", NULL, -3900},
    {"crew.2.count", NULL, 3}, /* 66 heads, one hand for 30 */
    {"tasks.0.role", "", 0},
    {"tasks.1.lot", "dinner/brisket-whole", 0},
    {"fuels.0.stacked_m3", NULL, 141 / 425.0},
    {"fuels.1.packs", NULL, 2},
    {"fuels.1.pack", "bag", 0},
    {"burns.0.shell_kw", NULL, 5.1},
    {"burns.0.warm_up_mj", NULL, 62},
    {"ovens.saving.pieces", NULL, 0},
    {"quote.other_cents", NULL, 46690}, /* 2775 + 40000 + 3915 */
    {"quote.ladder.6.missed", NULL, 2},
    {"solution.outcome", "feasible", 0},
    {"solution.bound", NULL, 40100},
    {"warnings.0.code", "nobody-on-shift", 0},
};

START_TEST(value_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = mended();
  const char *text = text_of(&plan, ctx);
  const struct pw_json *root;
  ck_assert_int_eq(pw_json_parse(&root, NULL, text, strlen(text), ctx), PW_OK);
  const struct pw_json *v = at(root, values[_i].path);
  ck_assert_msg(v != NULL, "%s is not there", values[_i].path);
  if (values[_i].text)
    ck_assert_msg(v->type == PW_JSON_TEXT && strcmp(v->text, values[_i].text) == 0, "%s: %s", values[_i].path,
                  v->type == PW_JSON_TEXT ? v->text : "no text");
  else
    PW_NEAR(values[_i].path, v->real, values[_i].number, 0, 1e-11);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(same_plan_same_bytes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = mended();
  const char *first = text_of(&plan, ctx), *second = text_of(&plan, ctx);
  ck_assert_str_eq(first, second);
  plan.allocation.lp_s = 99; /* seconds are for the terminal */
  ck_assert_str_eq(first, text_of(&plan, ctx));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(two_settings_are_two_zones)
{
  /* the drum burns twice: brisk for its chickens, then gently for nothing but this test */
  static struct pw_setting settings[] = {{"brisk", 139, 135, 0, NULL, 0}, {"gentle", 121, 118, 0, NULL, 0}};
  static double temp[] = {137, 119.5};
  static int minutes[] = {120, 150}, none[] = {PW_NONE, PW_NONE};
  static struct pw_burn burns[3];
  static struct pw_burn_fuel fuel[3];
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = mended();
  struct pw_event ev = fx_event;
  struct pw_pit pits[2] = {fx_pits[0], fx_pits[1]};
  pits[1].settings = settings;
  pits[1].n_settings = pits[1].n_burns_max = 2;
  ev.pits = pits;
  plan.event = &ev;
  struct pw_zone zones[5];
  memcpy(zones, fx_zones, sizeof zones);
  zones[4].temp_c = temp;
  struct pw_lot lots[3];
  memcpy(lots, fx_lots, sizeof lots);
  int *smoke[3][5], *finish[3][5];
  for (int c = 0; c < 3; c++) {
    memcpy(smoke[c], lots[c].smoke_min, sizeof smoke[c]);
    memcpy(finish[c], lots[c].finish_min, sizeof finish[c]);
    smoke[c][4] = c == 0 ? minutes : none;
    finish[c][4] = none;
    lots[c].smoke_min = smoke[c];
    lots[c].finish_min = finish[c];
  }
  plan.lots.zones = zones;
  plan.lots.lots = lots;
  burns[0] = fx_burns[0];
  burns[1] = (struct pw_burn){1, 1, -200, -140, 300};
  burns[2] = fx_burns[1];
  fuel[0] = burn_fuel[0];
  fuel[2] = burn_fuel[1];
  plan.allocation.burns = burns;
  plan.fuel.burns = fuel;
  plan.allocation.n_burns = plan.fuel.n_burns = 3;
  const char *text = text_of(&plan, ctx);
  expect_judged(text, ctx);
  /* the first setting used keeps the plain name; the load of the second burn has the other one's */
  ck_assert_ptr_nonnull(strstr(text,
                               "{\"id\": \"drum/ring/1\", \"rack\": \"drum/ring\", \"x_m\": 0, \"length_m\": 0.56, "
                               "\"temp_c\": 119.5, \"setting\": \"gentle\"}"));
  ck_assert_ptr_nonnull(strstr(text, "{\"id\": \"drum/ring/1@brisk\""));
  ck_assert_ptr_nonnull(strstr(
      text, "{\"stage\": \"smoke\", \"place\": \"drum/ring/1@brisk\", \"minutes\": 120, \"setting\": \"brisk\"}"));
  ck_assert_ptr_nonnull(
      strstr(text, "{\"lot\": \"lunch/chicken-half\", \"stage\": \"smoke\", \"place\": \"drum/ring/1@brisk\""));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_short_plan_says_what_is_short)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = mended();
  struct pw_lot lots[3];
  struct pw_raw_need raws[3];
  int missed[] = {0, 0, 1};
  struct pw_shortage shortages[] = {{2, 1, "rack", -30, 390, 0.09, "The long pit is full."},
                                    {PW_NONE, 1, "hands", 0, 30, 0, "One hand too few."}};
  struct pw_remedy remedies[] = {{.what = "Rent the small pit",
                                  .cost_cents = 25000,
                                  .plan_cost_cents = plan.quote.cost_cents + 25000,
                                  .parts = {{PW_WAY_PIT, "small-pit", true}},
                                  .n_parts = 1,
                                  .lines = "---\npits:\n  - {use: small, id: small-pit}\n"}};
  memcpy(lots, fx_lots, sizeof lots);
  memcpy(raws, fx_raws, sizeof raws);
  lots[2].pieces = raws[2].pieces = 4;
  struct pw_quote_rung ladder[sizeof fx_ladder / sizeof *fx_ladder];
  memcpy(ladder, fx_ladder, sizeof ladder);
  ladder[3].missed = 1; /* its own rung */
  plan.quote.ladder = ladder;
  plan.lots.lots = lots;
  plan.purchase.raws = raws;
  plan.allocation.missed = missed;
  plan.allocation.n_missed = 1;
  plan.allocation.outcome = PW_OUTCOME_SHORT;
  plan.allocation.shortages = shortages;
  plan.allocation.n_shortages = 2;
  plan.allocation.remedies = remedies;
  plan.allocation.n_remedies = 1;
  const char *text = text_of(&plan, ctx);
  expect_judged(text, ctx);
  ck_assert_ptr_nonnull(
      strstr(text, "{\"lot\": \"dinner/pork-shoulder\", \"pieces\": 1, \"resource\": \"rack\", "
                   "\"from_min\": -30, \"to_min\": 390, \"area_m2\": 0.09, \"text\": \"The long pit is full.\"}"));
  ck_assert_ptr_nonnull(strstr(text, "{\"lot\": null, \"pieces\": 1, \"resource\": \"hands\""));
  ck_assert_ptr_nonnull(
      strstr(text, "{\"what\": \"Rent the small pit\", \"cost_cents\": 25000, \"missed_after\": 0, "));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_bound_nobody_knows_is_nothing)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = mended();
  plan.allocation.bound_cents = -INFINITY;
  plan.allocation.gap_frac = INFINITY;
  const char *text = text_of(&plan, ctx);
  ck_assert_ptr_nonnull(strstr(text, "\"bound\": 0,\n  \"gap_frac\": 1,"));
  expect_judged(text, ctx);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_figure_that_is_none_is_refused)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = mended();
  plan.quote.margin_frac = NAN;
  const char *text = NULL;
  size_t n;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, &plan, ctx), PW_ERR_INTERNAL);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "margin_frac"));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(written_to_a_file)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = mended();
  char path[] = P_tmpdir "/pw-plan-XXXXXX";
  int fd = mkstemp(path), n = -1;
  ck_assert_int_ge(fd, 0);
  close(fd);
  ck_assert_int_eq(pw_plan_json_write(&plan, path, ctx), PW_OK);
  ck_assert_int_eq(pw_plan_check_file(path, &n, ctx), PW_OK);
  ck_assert_int_eq(n, 0);
  ck_assert_int_eq(remove(path), 0);
  ck_assert_int_eq(pw_plan_json_write(&plan, "/dev/full", ctx), PW_ERR_IO);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(memory_failures_are_reported)
{
  struct pw_plan plan = mended();
  for (long k = 1;; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    const char *text;
    size_t n;
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_plan_json_text(&text, &n, &plan, ctx);
    bool is_past = pw_arena_count(ctx->arena) < k;
    ck_assert_msg(status == (is_past ? PW_OK : PW_ERR_MEMORY), "allocation %ld: status %d", k, (int)status);
    pw_test_ctx_free(ctx);
    if (is_past)
      break;
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_json");
  TCase *t = tcase_create("plan_json");
  tcase_add_test(t, the_judge_accepts_it);
  tcase_add_test(t, the_picture_is_found_out);
  tcase_add_loop_test(t, value_row, 0, (int)(sizeof values / sizeof *values));
  tcase_add_test(t, same_plan_same_bytes);
  tcase_add_test(t, two_settings_are_two_zones);
  tcase_add_test(t, a_short_plan_says_what_is_short);
  tcase_add_test(t, a_bound_nobody_knows_is_nothing);
  tcase_add_test(t, a_figure_that_is_none_is_refused);
  tcase_add_test(t, written_to_a_file);
  tcase_add_test(t, memory_failures_are_reported);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
