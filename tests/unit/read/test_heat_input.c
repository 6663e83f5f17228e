/* What a cook writes into an event file about his own pits and cooks, followed to the figures it must change: thermometers on
 * the racks, own cooks in place of theory, splits an hour. */
#include "harness.h"
#include "heat/stage_time.h"
#include "heat_fixture.h"
#include "plan/fire/pit_heat.h"
#include "plan/stages.h"
#include "read/read.h"

static struct pw_ctx *ctx;
static struct pw_event *ev;
static struct pw_lots lots;

static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

/** Reads an event on the default catalogs with these lines at its end, as far as the lots. */
static void read_menu(const char *also, const char *pits, const char *more)
{
  const char *text = pw_arena_printf(
      ctx->arena,
      "event: {name: Own figures, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
      "weather: {low: 68 F, high: 68 F, wind: 0 mph, humidity: 50 %%}\n"
      "guests: {adults: {}}\n"
      "services: [{id: dinner, time: \"17:30\", length: 2 h, guests: {adults: 30}, menu: [brisket-sliced%s]}]\n"
      "finishers: [deck-oven, hot-box-large]\n"
      "crew: [{role: cook, duties: [fire, pit, prep, carve, serve], from: \"2027-06-12 00:00\", to: \"2027-06-12 "
      "22:00\", rate: 30 per h}]\n"
      "terms: {margin: 20 %%}\n%s%s",
      also, pits, more);
  pw_status st = pw_event_read_text(&ev, "own.yaml", text, strlen(text), "templates", ctx);
  ck_assert_msg(st == PW_OK, "%s", ctx->n_diags ? ctx->diags[0].text : "?");
  struct pw_demand demand;
  struct pw_purchase purchase;
  ck_assert_int_eq(pw_demand_make(&demand, ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&purchase, ev, &demand, ctx), PW_OK);
  ck_assert_int_eq(pw_lots_make(&lots, ev, &purchase, NULL, ctx), PW_OK);
}

static void read_with(const char *pits, const char *more) { read_menu("", pits, more); }

/* 40 in of rack in two stretches, middles at 10 and 30 in; thermometers at 5, 20 and 35 in: linear between them. */
START_TEST(thermometers_make_the_field)
{
  static const char pits[] =
      "pits: [{use: small-offset, id: mine, settings: [{name: steady, hot: 275 F, cool: 250 F, splits: 1.6 per h,\n"
      "  readings: [{rack: main, along: 5 in, temp: 300 F}, {rack: main, along: 20 in, temp: 270 F},\n"
      "             {rack: main, along: 35 in, temp: 240 F}]}]}]\n";
  read_with(pits, "");
  PW_NEAR("hot stretch", lots.zones[0].temp_c[0], fix_c(290), 0.01, 0);
  PW_NEAR("cool stretch", lots.zones[1].temp_c[0], fix_c(250), 0.01, 0);
  /* the upper rack has none: its straight line and its offset */
  PW_NEAR("upper rack", lots.zones[2].temp_c[0], fix_c(275 - 25 * 0.25 + 8), 0.01, 0);
  /* and the stage times follow */
  struct pw_stage_model m;
  struct pw_stage_air air = pw_stage_air_of(ev, 0);
  const struct pw_cut *cut = &ev->cuts[lots.lots[0].cut];
  pw_stage_model_make(&m, cut);
  PW_NEAR("time", lots.lots[0].smoke_min[1][0], pw_stage_model_minutes(&m, &cut->smoke, fix_c(250), &air), ev->slot_min,
          0);
}
END_TEST

START_TEST(own_cooks_replace_theory)
{
  read_with("pits: [small-offset]\n",
            "cuts: {brisket-whole: {smoke: {readings: [{at: 245 F, time: 11 h}, {at: 285 F, time: 9 h}]},\n"
            "                       finish: {readings: [{at: 260 F, time: 3 h}]}}}\n");
  const struct pw_cut *cut = &ev->cuts[lots.lots[0].cut];
  ck_assert_int_eq(cut->smoke.n_own, 2);
  /* between 11 h and 9 h at 256.25 and 268.75 F: log-linear, 622 and 585 min, up to the half hour */
  ck_assert_int_eq(lots.lots[0].smoke_min[0][0], 600);
  ck_assert_int_eq(lots.lots[0].smoke_min[1][0], 630);
  /* one reading moves the theory: the oven at 260 F takes what the cook told */
  ck_assert_int_eq(lots.lots[0].oven_min[0], 180);
}
END_TEST

/** Hours told for the piece of the entry they come from are carried to another weight, by each entry's own way of growing thicker. */
START_TEST(hours_follow_the_weight)
{
  read_menu(
      ", a, b, c, d, e, f, g, h", "pits: [small-offset]\n",
      "cuts:\n"
      "  bird: {use: turkey-whole, piece: {weight: 10 lb}}\n"
      "  twice: {use: bird, piece: {weight: 20 lb}}\n"
      "  told: {use: turkey-whole, piece: {weight: 10 lb}, smoke: {time: 4 h}}\n"
      "  said: {use: turkey-whole, piece: {weight: 10 lb}, smoke: {weight: 12 lb}}\n"
      "  butt: {use: pork-butt, piece: {weight: 9 lb}}\n"
      "  tray: {use: chicken-thighs, piece: {weight: 5 lb}}\n"
      "  halves: {use: chicken-halves, piece: {weight: 2 lb}}\n"
      "  fowl: {use: chicken-whole, piece: {weight: 5 lb}}\n"
      "  brisket-whole: {piece: {weight: 16 lb}}\n"
      "dishes: {a: {use: turkey-carved, cut: bird}, b: {use: turkey-carved, cut: twice}, c: {use: turkey-carved, cut: "
      "told},\n"
      "  d: {use: turkey-carved, cut: said}, e: {use: pork-pulled, cut: butt}, f: {use: chicken-thigh, cut: tray},\n"
      "  g: {use: chicken-whole-quarter, cut: fowl}, h: {use: chicken-half, cut: halves}}\n");
  static const struct {
    const char *cut;
    double smoke_lb, finish_lb;
  } rows[] = {{"bird", 14, 0}, {"twice", 14, 0}, {"told", 0, 0},     {"said", 12, 0},          {"butt", 8, 8},
              {"tray", 0, 0},  {"fowl", 4, 0},   {"halves", 1.8, 0}, {"brisket-whole", 14, 14}};
  int found = 0;
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    for (int c = 0; c < ev->n_cuts; c++)
      if (strcmp(ev->cuts[c].id, rows[i].cut) == 0) {
        PW_NEAR(rows[i].cut, ev->cuts[c].smoke.ref_kg, rows[i].smoke_lb * 0.45359237, 1e-9, 0);
        PW_NEAR(rows[i].cut, ev->cuts[c].finish.ref_kg, rows[i].finish_lb * 0.45359237, 1e-9, 0);
        found++;
      }
  ck_assert_int_eq(found, 9);
  const struct pw_cut *heavy = &ev->cuts[lots.lots[0].cut];
  double minutes = pw_stage_minutes(heavy, &heavy->smoke, heavy->smoke.ref_c);
  ck_assert_msg(minutes > 1.04 * heavy->smoke.ref_min && minutes < 1.10 * heavy->smoke.ref_min, "16 lb: %g min",
                minutes);
}
END_TEST

/* "So many splits an hour at so much" on a mild still day comes back on such a day; theory carries it to cold, wind and heat. */
START_TEST(splits_calibrate_the_shell)
{
  static const double told[] = {1.2, 1.6, 2.4};
  double factors[3], films[3], cold[3];
  for (int i = 0; i < 3; i++) {
    read_with(
        pw_arena_printf(
            ctx->arena,
            "pits: [{use: small-offset, id: mine, settings: [{name: steady, hot: 275 F, cool: 250 F, splits: %g per h},"
            " {name: hot, hot: 310 F, cool: 280 F}]}]\n",
            told[i]),
        "");
    struct pw_pit_heat h, hot;
    pw_pit_heat_make(&h, ev, 0, 0);
    pw_pit_heat_make(&hot, ev, 0, 1); /* without a figure of its own: the other's factor */
    double kg_h = pw_pit_heat_shell_kw(&h, 20, 0) * 3.6 / pw_pit_heat_useful_mj_kg(&h, h.wood, 20);
    PW_NEAR("splits come back", kg_h / ev->pits[0].split_kg, told[i], 0, 1e-9);
    factors[i] = h.shell_factor;
    films[i] = h.inside_w_m2k;
    PW_NEAR("carried to the other setting", hot.shell_factor, factors[i], 0, 1e-12);
    PW_NEAR("its film too", hot.inside_w_m2k, films[i], 0, 1e-12);
    cold[i] = pw_pit_heat_shell_kw(&h, 0, 5) / pw_pit_heat_shell_kw(&h, 20, 0);
    ck_assert(pw_pit_heat_shell_kw(&hot, 20, 0) > 1.15 * pw_pit_heat_shell_kw(&h, 20, 0));
  }
  /* as long as a film explains the figure there is no factor; 2.4 is more than bare steel loses */
  ck_assert(factors[0] == 1 && factors[1] == 1 && factors[2] > 1.3);
  ck_assert_msg(films[0] < films[1] && films[1] < films[2], "%g %g %g W/(m2 K)", films[0], films[1], films[2]);
  ck_assert_msg(cold[0] > 1.4 && cold[0] < 3.5, "freezing in a fresh breeze: %g times", cold[0]);
  ck_assert_msg(cold[0] < cold[1] && cold[1] < cold[2], "the thicker the film, the less the weather: %g %g %g", cold[0],
                cold[1], cold[2]);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("heat_input");
  TCase *t = tcase_create("heat_input");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, thermometers_make_the_field);
  tcase_add_test(t, own_cooks_replace_theory);
  tcase_add_test(t, hours_follow_the_weight);
  tcase_add_test(t, splits_calibrate_the_shell);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
