/* test_published.c - the heat engine, the yields and the shell against figures that others measured.  Beside each table stands where
 * it is from and what of it was seen: the text itself, an abstract, a copy of it, or memory alone.  Bounds are the program's own error
 * today, rounded up: it may get better, not worse.  tests/OUTSIDE.md has the same table in words. */
#include "harness.h"
#include "heat/air.h"
#include "heat/curve.h"
#include "heat_fixture.h"
#include "planned.h"

static const char *const text =
    "event: {name: Published, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
    "weather: {low: 58 F, high: 79 F, wind: 8 mph}\n"
    "site: {place: Field, travel: 0 min, distance: 0 km, altitude: %s}\n"
    "guests: {adults: {}}\n"
    "services:\n"
    "  - {id: dinner, time: \"17:30\", length: 2 h, guests: {adults: 60}, menu: [brisket-sliced, brisket-flat-sliced, "
    "beef-rib,\n"
    "      chuck-pulled, tri-tip-sliced, pork-pulled, pork-picnic-pulled, spare-ribs-cut, back-ribs-cut, loin-sliced,\n"
    "      lamb-pulled, chicken-half, chicken-quarter, chicken-thigh, chicken-wing, turkey-sliced, turkey-carved,\n"
    "      sausage-link]}\n"
    "pits: [small-offset]\n"
    "finishers: [hot-box-large]\n"
    "crew: [{role: pitmaster, duties: [fire, pit, prep, carve, serve, drive, clean], count: 2, from: \"2027-06-11 "
    "23:00\",\n"
    "        to: \"2027-06-12 22:00\", rate: 30 per h}]\n"
    "terms: {margin: 20 %%}\n";

static struct pw_ctx *ctx;
static struct pw_event *ev;

static void read_at(const char *altitude)
{
  const char *filled = pw_arena_printf(ctx->arena, text, altitude);
  pw_status st = pw_event_read_text(&ev, "published.yaml", filled, strlen(filled), "templates", ctx);
  ck_assert_msg(st == PW_OK, "%s", ctx->n_diags ? ctx->diags[0].text : "?");
}

static void set_up(void)
{
  ctx = pw_test_ctx();
  read_at("0 m");
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static struct pw_cut *cut_named(const char *id)
{
  for (int c = 0; c < ev->n_cuts; c++)
    if (strcmp(ev->cuts[c].id, id) == 0)
      return &ev->cuts[c];
  ck_abort_msg("the catalog has no %s", id);
}

/** One open cook of a cut's fitted body. */
struct cook {
  double hours, surface_c, steam_frac, drip_frac;
  double let_go_frac; /* juice that the meat let go, whether it dripped or went as steam */
};

static double let_go_frac(const struct pw_engine_state *state, const struct pw_engine_body *body, double density_kg_m3)
{
  struct pw_engine_state gone = *state; /* its mean over the volume, as of temperature */
  for (int i = 0; i < body->cells; i++)
    gone.cell_c[i] = state->gone_frac[i];
  return pw_engine_mean_c(&gone, body) * body->bound_kg_m3 / density_kg_m3;
}

/** To core to_c at air_c and a humidity ratio (0: the mild pit's), a piece of weight times the catalog's, from start_c. */
static struct cook open_cook(const char *id, double to_c, double air_c, double ratio, double weight, double start_c,
                             double wet_frac)
{
  struct pw_stage_model m;
  struct pw_stage_air air = pw_stage_air_mild();
  struct pw_engine_body body;
  struct pw_engine_bath bath;
  struct pw_engine_state state;
  const struct pw_cut *cut = cut_named(id);
  air.ratio = ratio > 0 ? ratio : air.ratio;
  pw_stage_model_make(&m, cut);
  pw_stage_model_set(&m, &cut->smoke, air_c, &air, &body, &bath);
  body.half_m *= cbrt(weight);
  body.free_kg_m2 = m.raw.film_kg_m2;
  bath.wet_frac *= wet_frac;
  pw_engine_start(&state, &body, start_c);
  double s = pw_engine_run(&body, &bath, &state, to_c, 30, 60 * 3600, NULL, NULL);
  double area = pw_engine_area_m2_m3(&body) / m.density_kg_m3;
  return (struct cook){s / 3600, state.surface_c, state.water_kg_m2 * area, state.drip_kg_m2 * area,
                       let_go_frac(&state, &body, m.density_kg_m3)};
}

/* ---- times ---------------------------------------------------------------------------------------- */

#define OVEN_RATIO 0.012 /* a domestic oven's air: that of a kitchen at 21 C and 75 % */

/* USDA FSIS, turkey roasted unstuffed at 325 F, hours by weight (copies of the chart seen): middle of each row. */
static const struct {
  double lb, hours;
} turkeys[] = {{10, 2.875}, {13, 3.375}, {16, 4.0}, {19, 4.375}, {22, 4.75}};
enum { N_TURKEYS = sizeof turkeys / sizeof *turkeys };

/** A turkey of lb from the catalog's: as thick as the catalog says such a one is, and the film of air that goes with it. */
static double turkey_hours(double lb)
{
  struct pw_stage_model m;
  struct pw_cut bird = *cut_named("turkey-whole");
  struct pw_stage_air air = {OVEN_RATIO, 101325, 0};
  pw_stage_model_make(&m, cut_named("turkey-whole"));
  bird.half_m = pw_stage_half_m(&bird, lb * 0.45359237);
  struct pw_engine_state state = m.raw;
  m.cut = &bird;
  bird.smoke.to_c = fix_c(165);
  return pw_stage_model_run(&m, &bird.smoke, fix_c(325), &air, &state, 60 * 3600, NULL, NULL) / 3600;
}

START_TEST(turkey_by_weight)
{
  double log_theirs = log(turkeys[N_TURKEYS - 1].hours / turkeys[0].hours), hours[N_TURKEYS];
  double log_lb = log(turkeys[N_TURKEYS - 1].lb / turkeys[0].lb);
  for (int i = 0; i < N_TURKEYS; i++) {
    hours[i] = turkey_hours(turkeys[i].lb);
    ck_assert_msg(fabs(hours[i] / turkeys[i].hours - 1) < 0.09, "%g lb: %g h, the chart %g", turkeys[i].lb, hours[i],
                  turkeys[i].hours);
    ck_assert(i == 0 || hours[i] > hours[i - 1]);
  }
  double exponent = log(hours[N_TURKEYS - 1] / hours[0]) / log_lb;
  ck_assert_msg(exponent > 0.58 && exponent < 0.68, "ours %g, the chart's %g", exponent, log_theirs / log_lb);
}
END_TEST

/* A pork council's chart (copies seen), whole hogs at 225 to 250 F: 75 lb dressed 6 to 7 h, 100 lb 7 to 8, 125 lb 8 to 9: an exponent of
 * 0.53.  The catalog's hours are fitted to it at 90 lb, how they grow is not: ours, alike in shape, 0.48. */
START_TEST(hogs_by_weight)
{
  static const struct {
    double lb, hours;
  } rows[] = {{75, 6.5}, {100, 7.5}, {125, 8.5}};
  static const char was[] = "[brisket-sliced, brisket-flat-sliced,", now[] = "[hog-whole-pulled,                   ";
  char *filled = pw_arena_printf(ctx->arena, text, "0 m");
  memcpy(strstr(filled, was), now, strlen(was));
  memcpy(strstr(filled, "[small-offset]"), "[block-pit]   ", strlen("[small-offset]"));
  pw_status st = pw_event_read_text(&ev, "published.yaml", filled, strlen(filled), "templates", ctx);
  ck_assert_msg(st == PW_OK, "%s", ctx->n_diags ? ctx->diags[0].text : "?");
  const struct pw_cut *hog = cut_named("hog-whole");
  double hours[3];
  for (int i = 0; i < 3; i++) {
    struct pw_cut other = *hog;
    other.smoke.ref_kg = other.finish.ref_kg = hog->piece_kg;
    other.piece_kg = rows[i].lb * 0.45359237;
    other.half_m = pw_stage_half_m(hog, other.piece_kg);
    hours[i] = (pw_stage_minutes(&other, &other.smoke, other.smoke.ref_c) +
                pw_stage_minutes(&other, &other.finish, other.finish.ref_c)) /
               60;
    PW_NEAR("hours", hours[i], rows[i].hours, 0, 0.07);
  }
  double exponent = log(hours[2] / hours[0]) / log(rows[2].lb / rows[0].lb);
  ck_assert_msg(exponent > 0.45 && exponent < 0.6, "ours %g", exponent);
}
END_TEST

/* Breast muscle of hen turkeys from 12 to 21 weeks (Growth, feed conversions and yields of turkey parts of three strains of hen turkeys
 * as influenced by age, abstract seen): 23.8 % of 4.76 kg and 28.0 % of 9.17 kg.  Its depth, its three sizes alike, is what the
 * catalog's power says; measured depth gained even on length and width (Swatland 1979, abstract seen). */
START_TEST(breasts_grow_faster_than_birds)
{
  const struct pw_cut *bird = cut_named("turkey-whole"), *butt = cut_named("pork-butt");
  double small_kg = 4.76, large_kg = 9.17, breast = 0.28 * large_kg / (0.238 * small_kg);
  PW_NEAR("turkey", pw_stage_half_m(bird, large_kg) / pw_stage_half_m(bird, small_kg), cbrt(breast), 0, 1e-3);
  PW_NEAR("its own", pw_stage_half_m(bird, bird->piece_kg), bird->half_m, 0, 1e-12);
  PW_NEAR("alike in shape", pw_stage_half_m(butt, 8 * butt->piece_kg), 2 * butt->half_m, 0, 1e-12);
}
END_TEST

/* Harris and others, Meat and Muscle Biology 2017 (abstract seen): whole briskets smoked "approx. 11 h" to about 85 C; the pit stood
 * close to 210 F, a commercial one with moving air (an article by the same group, text seen), of which the abstract says
 * nothing.  Ours has still air: 11 hours at 250 F, far longer at 210. */
START_TEST(brisket_to_85_c)
{
  double at_250 = open_cook("brisket-whole", 85, fix_c(250), 0, 1, fix_c(40), 1).hours;
  PW_NEAR("at 250 F", at_250, 11, 0, 0.08);
  double at_225 = open_cook("brisket-whole", 85, fix_c(225), 0, 1, fix_c(40), 1).hours;
  ck_assert_msg(at_225 > at_250 && at_225 < 16, "at 225 F: %g h", at_225);
}
END_TEST

/* Bengtsson, Jakobsson and Dagerskog, J. Food Sci. 1976 (abstract seen): roasts at 225 C are done sooner and yield less than at 175;
 * up to 65 to 70 C nearly all that goes is evaporation, above it drip counts too; from -20 C it takes half as long again.  We have
 * no frozen meat; and our drip begins earlier than theirs. */
START_TEST(hotter_oven_less_yield)
{
  for (double to_c = 60; to_c <= 75; to_c += 5) {
    struct cook cool = open_cook("pork-loin", to_c, 175, OVEN_RATIO, 1, 5, 1),
                hot = open_cook("pork-loin", to_c, 225, OVEN_RATIO, 1, 5, 1);
    ck_assert_msg(hot.hours < 0.8 * cool.hours, "to %g C: %g and %g h", to_c, hot.hours, cool.hours);
    ck_assert_msg(hot.steam_frac + hot.drip_frac > 0.99 * (cool.steam_frac + cool.drip_frac),
                  "to %g C: lost %g at 225, %g at 175", to_c, hot.steam_frac + hot.drip_frac,
                  cool.steam_frac + cool.drip_frac);
    ck_assert_msg(cool.steam_frac > cool.drip_frac, "to %g C: steam %g, drip %g", to_c, cool.steam_frac,
                  cool.drip_frac);
  }
}
END_TEST

/** A lean beef roast that gives up all the water the law of water holding lets go, to core to_c from 5 C; half its thickness and its
 *  shape are usual for the muscle (no source). */
static struct cook lean_roast_in(double half_m, double dims, double h_w_m2k, double oven_c, double to_c,
                                 double wet_frac)
{
  const double density_kg_m3 = 1060;
  struct pw_engine_body body = {.dims = dims,
                                .half_m = half_m,
                                .conductivity_w_mk = 0.45,
                                .heat_j_m3k = 3.6e6,
                                .cells = 32,
                                .bound_kg_m3 = 0.345 * density_kg_m3,
                                .free_kg_m2 = 0.1};
  struct pw_engine_bath bath = {.air_c = oven_c,
                                .walls_c = oven_c,
                                .h_w_m2k = h_w_m2k,
                                .emissivity_frac = 0.9,
                                .pressure_pa = 101325,
                                .vapour_pa = pw_air_vapour_pa(OVEN_RATIO, 101325),
                                .wet_frac = wet_frac,
                                .juice_frac = 0.6};
  struct pw_engine_state state;
  pw_engine_start(&state, &body, 5);
  double s = pw_engine_run(&body, &bath, &state, to_c, 20, 60 * 3600, NULL, NULL);
  double area = pw_engine_area_m2_m3(&body) / density_kg_m3;
  return (struct cook){s / 3600, state.surface_c, state.water_kg_m2 * area, state.drip_kg_m2 * area,
                       let_go_frac(&state, &body, density_kg_m3)};
}

static struct cook lean_roast(double half_m, double dims, double h_w_m2k, double oven_c, double to_c)
{
  return lean_roast_in(half_m, dims, h_w_m2k, oven_c, to_c, 1);
}

static double lost(struct cook c) { return c.steam_frac + c.drip_frac; }

/* Goni and Salvadori, J. Food Eng. 111 (2012) 92-101, beef roasting by the model of their paper of 2010 and by tests that agreed with
 * it (abstract seen): semitendinosus to 72 C at the coldest point, a kelvin more of oven costs 0.175 to 0.275 % of the weight and saves
 * 0.25 to 0.325 min.  Ours, a muscle 8 cm thick in moving air, from 160 to 220 C: 0.08 % and 0.36 min: too flat, as it has lost too
 * much in the cooler oven. */
START_TEST(a_kelvin_of_oven)
{
  struct cook cool = lean_roast(0.04, 2.4, 30, 160, 72), hot = lean_roast(0.04, 2.4, 30, 220, 72);
  double lost_a_k = (lost(hot) - lost(cool)) / 60, min_a_k = (hot.hours - cool.hours) * 60 / 60;
  PW_NEAR("loss", 100 * lost_a_k, 0.225, 0.15, 0);
  PW_NEAR("minutes", min_a_k, -0.29, 0.09, 0);
  ck_assert(hot.steam_frac > hot.drip_frac);
}
END_TEST

/* External fat cover influence on raw and cooked beef, 2 (abstract seen): semitendinosus to 58 C lost much more at 218 C than at 163, and
 * was done sooner.  Response of beef roasts differing in finish, location and size to two rates of heat application, 1969 (abstract
 * seen, and that of the thesis): roasts to 67 C at 93 C lost less than to 70 C at 149, and small ones took longer by the pound. */
START_TEST(cooler_oven_loses_less)
{
  struct cook cool = lean_roast(0.04, 2.4, 6, 163, 58), hot = lean_roast(0.04, 2.4, 6, 218, 58);
  ck_assert_msg(lost(hot) > 1.2 * lost(cool), "%g and %g", lost(hot), lost(cool));
  ck_assert(hot.hours < 0.85 * cool.hours);
  for (double half_m = 0.05; half_m < 0.08; half_m += 0.02) {
    struct cook slow = lean_roast(half_m, 1.8, 6, 93, 67), quick = lean_roast(half_m, 1.8, 6, 149, 70);
    ck_assert_msg(lost(slow) < 0.9 * lost(quick), "%g and %g", lost(slow), lost(quick));
    ck_assert(slow.hours > quick.hours);
  }
  double small = lean_roast(0.05, 1.8, 6, 149, 70).hours, large = lean_roast(0.075, 1.8, 6, 149, 70).hours;
  ck_assert(large > small && large / small < 1.5 * 1.5 * 1.5); /* by the pound */
}
END_TEST

/* Oven roasting vs. oven braising of top round roasts, thesis of H. M. Young 1972 (abstract seen): to 66 C at 149 C roasts left open lost
 * less in all than those in foil, more of it as vapour; foil dripped more than four times as much.  Ours 28 against 32 %, foil drips
 * 2.9 times as much. */
START_TEST(foil_drips)
{
  struct cook open = lean_roast(0.06, 1.8, 6, 149, 66), foil = lean_roast_in(0.06, 1.8, 6, 149, 66, 0);
  ck_assert_msg(lost(open) < lost(foil), "open %g, in foil %g", lost(open), lost(foil));
  ck_assert(open.steam_frac > 4 * foil.steam_frac);
  ck_assert_msg(foil.drip_frac > 2.5 * open.drip_frac, "open %g, in foil %g", open.drip_frac, foil.drip_frac);
  ck_assert(foil.hours < open.hours);
}
END_TEST

/* Effects of two heat treatments on top round roasts, thesis (University of Tennessee 3855, abstract seen): to 70 C in both, at 93 C they
 * took longer by the pound and lost more than at 149 C.  Ours take three times as long and lose the same, within two points: what
 * the meat lets go hangs on temperature alone here, not on how long it is hot. */
START_TEST(slow_or_quick_to_the_same_core)
{
  for (double half_m = 0.05; half_m < 0.08; half_m += 0.02) {
    struct cook slow = lean_roast(half_m, 1.8, 6, 93, 70), quick = lean_roast(half_m, 1.8, 6, 149, 70);
    PW_NEAR("lost", lost(slow), lost(quick), 0.02, 0);
    ck_assert(slow.hours > 2 * quick.hours);
  }
}
END_TEST

/* ---- directions ------------------------------------------------------------------------------------ */

/* Damp air, three claims.  Murphy and others, Poultry Sci. 80 (2001) 508-514 (abstract seen): chicken patties to 50 to 80 C in a fan oven
 * at 149 to 218 C, steam added: "increasing humidity increased heat transfer coefficient and therefore reduced cooking time".
 * Baldwin, Meat: heat transfer in meat, Handbook of Molecular Gastronomy 2021 (abstract seen): steam raises the wet bulb and so the rate
 * of cooking, between 65 and 90 C.  G. Blonder, genuineideas.com 2011 (copies of its text seen): humid air slows the evaporation and
 * so the cook.  Each holds in its place.  While the core is below the wet bulb, and to any core in all, damp air is
 * quicker: the surface sits at its wet bulb.  Just above the wet bulb of steamy air it is slower, degree by degree: there the surface is
 * wet still when in drier air a crust has long grown and the core goes on rising. */
static double hours_between(double ratio, double from_c, double to_c)
{
  return open_cook("brisket-whole", to_c, fix_c(225), ratio, 1, fix_c(40), 1).hours -
         open_cook("brisket-whole", from_c, fix_c(225), ratio, 1, fix_c(40), 1).hours;
}

START_TEST(damp_air)
{
  static const double ratios[] = {0.02, 0.05, 0.13, 0.21, 0.34, 0.6};
  for (double to_c = 50; to_c <= 90; to_c += 10) {
    double last = HUGE_VAL;
    for (int i = 0; i < 6; i++) {
      struct cook c = open_cook("brisket-whole", to_c, fix_c(250), ratios[i], 1, fix_c(40), 1);
      ck_assert_msg(c.hours < last, "to %g C, ratio %g: %g h after %g", to_c, ratios[i], c.hours, last);
      last = c.hours;
      double wet_c = pw_air_wet_bulb_c(fix_c(250), ratios[i], 101325);
      if (i >= 4 && to_c < wet_c - 5) /* in drier air radiation holds it some kelvins above */
        PW_NEAR("at the wet bulb", c.surface_c, wet_c, 3, 0);
    }
  }
  const double steamy = 0.6, drier = 0.05; /* wet bulbs 82 and 48 C at 225 F */
  PW_NEAR("wet bulb", pw_air_wet_bulb_c(fix_c(225), steamy, 101325), 82, 0.5, 0);
  double below_steamy = hours_between(steamy, 60, 65), below_drier = hours_between(drier, 60, 65);
  double above_steamy = hours_between(steamy, 80, 85), above_drier = hours_between(drier, 80, 85);
  ck_assert_msg(below_steamy < 0.25 * below_drier, "60 to 65 C: %g h, in drier air %g", below_steamy, below_drier);
  ck_assert_msg(above_steamy > 1.5 * above_drier, "80 to 85 C: %g h, in drier air %g", above_steamy, above_drier);
}
END_TEST

/* G. Blonder, the same: foil takes the stall away. */
START_TEST(foil_takes_the_stall_away)
{
  double open = open_cook("brisket-whole", fix_c(170), fix_c(225), 0, 1, fix_c(40), 1).hours,
         foil = open_cook("brisket-whole", fix_c(170), fix_c(225), 0, 1, fix_c(40), 0).hours;
  ck_assert_msg(foil < 0.6 * open, "open %g h, in foil %g h", open, foil);
}
END_TEST

START_TEST(colder_start_takes_longer)
{
  static const char *const cuts[] = {"brisket-whole", "pork-butt", "turkey-whole", "chicken-halves"};
  for (int i = 0; i < 4; i++) {
    const struct pw_cut *cut = cut_named(cuts[i]);
    double last = 0;
    for (double start = 15; start >= 0; start -= 5) {
      double h = open_cook(cuts[i], cut->smoke.to_c, cut->smoke.ref_c, 0, 1, start, 1).hours;
      ck_assert_msg(h > last, "%s from %g C: %g h, warmer %g", cuts[i], start, h, last);
      ck_assert(last == 0 || h < 1.10 * last); /* five kelvin of some seventy */
      last = h;
    }
  }
}
END_TEST

/* ---- water ---------------------------------------------------------------------------------------- */

/* What meat holds, kg per kg raw: 0.745 - 0.345 / (1 + 30 exp(-0.25 (T - 52))), van der Sman 2007 as used by Feyissa and others 2013
 * (abstracts; the five numbers in a public simulation of roast beef, text seen; values by another program).  The engine's curve is this one's. */
START_TEST(water_holding)
{
  static const struct {
    double c, held;
  } rows[] = {{20, 0.74500}, {52, 0.73387}, {60, 0.67682}, {65.6, 0.57260}, {72, 0.45801}, {85, 0.40268}};
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++)
    PW_NEAR("held", 0.745 - 0.345 * pw_engine_gone_frac(rows[i].c), rows[i].held, 2e-4, 0);
}
END_TEST

/* Kondjoyan and others, Meat Science 95 (2013) 336-344 (abstract seen): most of the water beef loses in a fan oven is juice that proteins
 * let go as they shrink, not what evaporates by itself.  So it is here: of all that goes, more than two thirds are juice, though in dry air most of that
 * juice then goes as steam instead of dripping. */
START_TEST(most_loss_is_juice)
{
  struct cook cooks[] = {lean_roast(0.04, 2.4, 30, 175, 75), lean_roast(0.04, 2.4, 30, 120, 75),
                         open_cook("brisket-whole", 85, fix_c(250), 0, 1, fix_c(40), 1)};
  for (int i = 0; i < 3; i++) {
    double share = cooks[i].let_go_frac / (cooks[i].steam_frac + cooks[i].drip_frac);
    ck_assert_msg(share > 0.67 && share < 1.02, "%d: %g", i, share);
  }
}
END_TEST

/* B. Lowe, Experimental Cookery (table of average cooking losses, text seen): total loss of roasts in an oven, by the core when taken
 * out; the oven is not told, 150 C is usual in that book (memory). */
static const struct {
  const char *cut, *theirs;
  double core_c, loss, error;
} roasts[] = {{"tri-tip", "prime ribs, medium", 65, 0.217, 0.05},
              {"tri-tip", "prime ribs, well done", 76, 0.225, 0.15},
              {"pork-loin", "pork loin", 83, 0.263, 0.15}};

START_TEST(roasts_lose)
{
  struct cook c = open_cook(roasts[_i].cut, roasts[_i].core_c, 150, OVEN_RATIO, 1, 5, 1);
  double all = c.steam_frac + c.drip_frac;
  PW_NEAR(roasts[_i].theirs, all, roasts[_i].loss, roasts[_i].error, 0);
}
END_TEST

/* USDA Table of Cooking Yields for Meat and Poultry, Release 2 (2014; file seen), by kind of cooking, without the braised rows: they
 * say nothing of meat smoked to 95 C.  The program's own yield of such a row is the published one, or lower by what `less` says
 * and the catalog explains; its steam is a part of the loss. */
static const struct {
  const char *cut, *row;
  double yield, less;
} yields[] = {{"tri-tip", "13953 tri-tip, roasted", 0.84, 0},
              {"spare-ribs", "10940 spareribs, roasted", 0.76, 0.06},
              {"back-ribs", "10193 backribs, roasted", 0.82, 0.07},
              {"pork-loin", "10990 blade loin, roasted", 0.75, 0},
              {"chicken-halves", "5004 whole, roasted, 1975", 0.78, 0},
              {"chicken-quarters", "5069 and 5094, roasted, 1975", 0.725, 0},
              {"chicken-thighs", "5094 thigh, roasted, 1975", 0.69, 0},
              {"chicken-wings", "5103 wing, roasted", 0.78, 0},
              {"turkey-breast", "5733 breast, roasted", 0.72, 0},
              {"turkey-whole", "5166 whole, roasted", 0.71, 0},
              {"sausage-raw", "7064 pork sausage, pan-fried", 0.80, 0}};

/* The same table's columns of moisture and fat, % of the raw weight gained or lost, for the rows that have them.  They do not close with
 * the yields (tri-tip loses 16 % in all and 22 % of water), so they are held side by side only: the program's steam and juice against
 * the moisture, and what is left of its loss against the fat. */
static const struct {
  const char *cut, *row;
  double moisture, fat, water_error, rest_error;
} columns[] = {
    {"tri-tip", "13953", 0.2238, 0.0012, 0.08, 0.02},      {"spare-ribs", "10940", 0.2292, -0.0019, 0.08, 0.02},
    {"back-ribs", "10193", 0.185, -0.013, 0.08, 0.02},     {"pork-loin", "10990", 0.224, 0.002, 0.04, 0.06},
    {"turkey-breast", "5733", 0.1377, 0.0228, 0.15, 0.03}, {"turkey-whole", "5166", 0.1129, -0.0018, 0.2, 0.02},
    {"sausage-raw", "7064", 0.165, 0.029, 0.04, 0.03}};

START_TEST(moisture_and_fat)
{
  const struct pw_cut *cut = cut_named(columns[_i].cut);
  struct pw_stage_model m;
  struct pw_curve_place place = {cut->smoke.ref_c, cut->finish.ref_c, pw_stage_air_mild()};
  pw_stage_model_make(&m, cut);
  struct pw_curve_sum sum = pw_curve_sum(&m, &place);
  double water = sum.evaporated_frac + sum.drip_frac, rest = 1 - cut->cook_frac - water;
  PW_NEAR(columns[_i].row, water, columns[_i].moisture, columns[_i].water_error, 0);
  PW_NEAR(columns[_i].row, rest, columns[_i].fat, columns[_i].rest_error, 0);
}
END_TEST

START_TEST(yields_by_cooking)
{
  const struct pw_cut *cut = cut_named(yields[_i].cut);
  struct pw_stage_model m;
  struct pw_curve_place place = {cut->smoke.ref_c, cut->finish.ref_c, pw_stage_air_mild()};
  pw_stage_model_make(&m, cut);
  struct pw_curve_sum sum = pw_curve_sum(&m, &place);
  PW_NEAR(yields[_i].row, cut->cook_frac, yields[_i].yield - yields[_i].less, 0.011, 0);
  double loss = 1 - cut->cook_frac;
  ck_assert_msg(sum.evaporated_frac > 0.35 * loss && sum.evaporated_frac < 0.9 * loss, "%s: steam %.3f, loss %.3f",
                yields[_i].cut, sum.evaporated_frac, loss);
  ck_assert_msg(sum.drip_frac >= 0 && sum.evaporated_frac + sum.drip_frac < 1.12 * loss,
                "%s: steam and drip %.3f of %.3f", yields[_i].cut, sum.evaporated_frac + sum.drip_frac, loss);
}
END_TEST

/* Kerth, Wall and Grayson-Holter, Meat and Muscle Biology (abstract seen): smoked briskets held 3 h keep 59.3 % at 85 C and 56.0 % at
 * 90 C, of which weight the abstract does not say; the catalog takes it as the trimmed one.  Cooked to 85 and 90 C and
 * held 3 h (after its rest of 1 h half of 4 h) the program's brisket keeps as much; to the catalog's 95 C it goes on by the same slope,
 * and each hour more costs what the catalog says (no source). */
START_TEST(smoked_brisket_by_core)
{
  static const struct {
    double core_c, yield;
  } rows[] = {{85, 0.593}, {90, 0.560}};
  for (int i = 0; i < 2; i++) {
    char cut[400];
    (void)snprintf(cut, sizeof cut,
                   "cuts: {mine: {use: brisket-whole, finish: {to: %g C}, rest: {least: 1 h, hold_longest: 4 h, "
                   "serve_core: 185 F}}}\n"
                   "dishes: {mine: {use: brisket-sliced, cut: mine}}\n",
                   rows[i].core_c);
    const char *filled = pw_arena_printf(ctx->arena, "%s%s", pw_arena_printf(ctx->arena, text, "0 m"), cut);
    char *menu = strstr(filled, "[brisket-sliced");
    memcpy(menu, "[mine,          ", strlen("[brisket-sliced,"));
    pw_status st = pw_event_read_text(&ev, "published.yaml", filled, strlen(filled), "templates", ctx);
    ck_assert_msg(st == PW_OK, "%s", ctx->n_diags ? ctx->diags[0].text : "?");
    PW_NEAR("yield", cut_named("mine")->cook_frac, rows[i].yield, 1e-3, 0);
  }
  read_at("0 m");
  PW_NEAR("95 C", cut_named("brisket-whole")->cook_frac, 0.56 - 5 * 0.0066 - 1 * 0.005, 1e-6,
          0); /* 1 h and half of 6 h */
}
END_TEST

/* ---- thin air -------------------------------------------------------------------------------------- */

/* Boiling by altitude: ASHRAE's standard pressures and the steam tables (memory): 96.7 C at 1,000 m, 94.6 at 1,609, 93.3 at 2,000; near 198 F at
 * 7,500 ft (foodsafety.gov, high-altitude cooking, text seen). */
START_TEST(cores_end_at_local_boiling)
{
  static const struct {
    const char *altitude;
    double boils_c;
    int warnings;
  } rows[] = {{"0 m", 100.0, 0},   {"500 m", 98.3, 0},   {"1609 m", 94.6, 1},
              {"2000 m", 93.3, 1}, {"7500 ft", 92.2, 1}, {"3000 m", 90.0, 1}};
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    ctx->n_diags = ctx->n_diags_total = 0;
    read_at(rows[i].altitude);
    int n = 0;
    for (int d = 0; d < ctx->n_diags; d++)
      n += strcmp(ctx->diags[d].code, "altitude") == 0;
    PW_NEAR("boils", pw_air_boiling_c(pw_air_pressure_pa(ev->site.altitude_m)), rows[i].boils_c, 0.3, 0);
    ck_assert_msg((n > 0) == rows[i].warnings, "%s: %d warnings", rows[i].altitude, n);
    for (int c = 0; c < ev->n_cuts; c++) {
      const struct pw_cut *cut = &ev->cuts[c];
      double end_c = cut->finish.is_used ? cut->finish.to_c : cut->smoke.to_c;
      ck_assert_msg(end_c <= rows[i].boils_c - 0.9 || end_c <= fix_c(178), "%s, %s: %g C", rows[i].altitude, cut->id,
                    end_c);
      ck_assert(cut->serve_core_c <= end_c + 0.1);
    }
    PW_NEAR("chicken stays", cut_named("chicken-halves")->smoke.to_c, fix_c(172), 1e-6, 0);
    /* the wrapped stage ends there too */
    struct pw_stage_model m;
    struct pw_stage_air air = pw_stage_air_of(ev, 0);
    const struct pw_cut *brisket = cut_named("brisket-whole");
    pw_stage_model_make(&m, brisket);
    double minutes = pw_stage_model_minutes(&m, &brisket->finish, fix_c(260), &air);
    ck_assert_msg(minutes > 150 && minutes < 360, "%s: %g min", rows[i].altitude, minutes);
  }
}
END_TEST

/* ---- grid and step ---------------------------------------------------------------------------------- */

/* Hours of a whole open cook, wet, with cells and steps made finer: the grid of the planner is within 2 % of one four times as fine. */
START_TEST(grid_and_step)
{
  static const char *const cuts[] = {"brisket-whole", "pork-butt", "chicken-halves", "tri-tip"};
  const struct pw_cut *cut = cut_named(cuts[_i]);
  static const struct {
    int cells;
    double step_s;
  } rows[] = {{16, 120}, {32, 60}, {64, 30}};
  double hours[3];
  for (int i = 0; i < 3; i++) {
    struct pw_stage_model m;
    struct pw_stage_air air = pw_stage_air_mild();
    struct pw_engine_body body;
    struct pw_engine_bath bath;
    struct pw_engine_state state;
    pw_stage_model_make(&m, cut);
    pw_stage_model_set(&m, &cut->smoke, cut->smoke.ref_c, &air, &body, &bath);
    body.cells = rows[i].cells;
    body.free_kg_m2 = 0.1;
    pw_engine_start(&state, &body, cut->smoke.from_c);
    hours[i] = pw_engine_run(&body, &bath, &state, cut->smoke.to_c, rows[i].step_s, 60 * 3600, NULL, NULL) / 3600;
  }
  PW_NEAR("planner's grid", hours[0], hours[2], 0, 0.02);
  PW_NEAR("twice as fine", hours[1], hours[2], 0, 0.008);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("published");
  TCase *t = tcase_create("published");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_set_timeout(t, 120);
  tcase_add_test(t, turkey_by_weight);
  tcase_add_test(t, hogs_by_weight);
  tcase_add_test(t, breasts_grow_faster_than_birds);
  tcase_add_test(t, brisket_to_85_c);
  tcase_add_test(t, hotter_oven_less_yield);
  tcase_add_test(t, a_kelvin_of_oven);
  tcase_add_test(t, cooler_oven_loses_less);
  tcase_add_test(t, foil_drips);
  tcase_add_test(t, slow_or_quick_to_the_same_core);
  tcase_add_test(t, damp_air);
  tcase_add_test(t, foil_takes_the_stall_away);
  tcase_add_test(t, colder_start_takes_longer);
  tcase_add_test(t, water_holding);
  tcase_add_test(t, most_loss_is_juice);
  tcase_add_loop_test(t, roasts_lose, 0, (int)(sizeof roasts / sizeof *roasts));
  tcase_add_loop_test(t, yields_by_cooking, 0, (int)(sizeof yields / sizeof *yields));
  tcase_add_loop_test(t, moisture_and_fat, 0, (int)(sizeof columns / sizeof *columns));
  tcase_add_test(t, smoked_brisket_by_core);
  tcase_add_test(t, cores_end_at_local_boiling);
  tcase_add_loop_test(t, grid_and_step, 0, 4);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
