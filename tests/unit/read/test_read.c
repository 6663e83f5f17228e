/* The reader: the repository's own events, values field by field, overrides, and that the order of keys shows only where it says what is served first. */
#include "base/clock.h"
#include "event_dump.h"
#include "harness.h"
#include "read/raw.h"
#include "read/read.h"
#include "shuffle.h"

#include <sys/stat.h>
#include <unistd.h>

#define CATALOG "tests/cases/catalog"

static void print_diags(const struct pw_ctx *ctx)
{
  for (int i = 0; i < ctx->n_diags; i++)
    printf("%s:%d:%d: %s\n", ctx->diags[i].file ? ctx->diags[i].file : "-", ctx->diags[i].line, ctx->diags[i].col,
           ctx->diags[i].text);
}

/* The event of the text against the small catalog; the test fails on any diagnostic. */
static struct pw_event *read_clean(const char *text, struct pw_ctx *ctx)
{
  struct pw_event *ev;
  pw_status status = pw_event_read_text(&ev, "test.yaml", text, strlen(text), CATALOG, ctx);
  print_diags(ctx);
  ck_assert(status == PW_OK && ev && ctx->n_diags_total == 0);
  return ev;
}

/* ---- the repository's events, each in one file (test_house.c holds them against those on house files) ---- */

static const char *const events[] = {"tests/data/events/county-fair.yaml", "tests/data/events/family-party.yaml",
                                     "tests/data/events/lakeside-wedding.yaml", "templates/starter.yaml"};

START_TEST(reads_cleanly)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev;
  pw_status status = pw_event_read(&ev, events[_i], "templates", ctx);
  print_diags(ctx);
  ck_assert_msg(status == PW_OK && ev && ctx->n_diags_total == 0, "%s", events[_i]);
  for (int i = 0; i < ev->n_services; i++) {
    ck_assert_int_ge(ev->services[i].n_menu, 1);
    ck_assert(i == 0 || ev->services[i - 1].at_min <= ev->services[i].at_min);
  }
  for (int k = 0; k < ev->services[0].n_menu; k++) /* the first menu names the first dishes */
    ck_assert_int_eq(ev->services[0].menu[k].dish, k);
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- values ---- */

static const char *const full_text =
    "event: {name: Big job, customer: Somebody, date: 2027-11-06, zone: America/Chicago, currency: USD, units: si,\n"
    "  paper: a4, grid: 15 min, head_count: all-services}\n"
    "site: {place: A meadow, travel: 1 h 10 min, distance: 28 mi, altitude: 640 ft}\n"
    "weather: {low: 41 F, high: 68 F, wind: 8 mph, humidity: 55 %}\n"
    "guests:\n"
    "  no-meat: {meat: false}\n"
    "  adults: {name: Grown-ups}\n"
    "  kids: {appetite: 50 %}\n"
    "services:\n"
    "  - id: lunch\n" /* the night before, clocks go back: 12:00 is 25 + 12 hours after the event's midnight */
    "    day: 2027-11-07\n"
    "    time: \"12:00\"\n"
    "    length: 2 h\n"
    "    style: drop-off\n"
    "    guests: {kids: 5, adults: 20}\n"
    "    menu: [roll, {dish: pulled, portion: 150 g, take: 50 %, portion_spread: 30 g, enough: 99 %}]\n"
    "    choice: {one: 40 %, two: 60 %, meat: 200 g, meat_spread: 50 g, seconds: 10 %, no_show: 5 %}\n"
    "  - {id: dinner, name: The dinner, time: \"17:30\", length: 90 min, guests: {adults: 40, no-meat: 3}, menu: "
    "[slaw, pulled]}\n"
    "pits: [{use: drum, id: b}, offset, {use: drum, id: a, name: Drum A, rent: 25.50},\n"
    "  {use: drum, id: c, fire: {burns: 3}, settings: [{name: hot, hot: 300 F, cool: 290 F, readings: [{rack: grate, "
    "along: 11 in,\n"
    "  temp: 295 F}]}]}]\n"
    "finishers: [box, {use: oven, pans: 4}]\n"
    "cuts:\n"
    "  butt: {piece: {weight: 4 kg, start: 5 C}, smoke: {readings: [{at: 120 C, time: 7 h}, {at: 135 C, time: 6 h}], "
    "weight: 3.5 kg}}\n"
    "  unused: {use: butt, name: Not on any menu}\n"
    "items: {lemonade: {name: Better lemonade}, logs: {name: Logs, category: fuel, unit: kg, offers: [{supplier: A, "
    "pack: bag,\n"
    "  holds: 20 kg, price: 9}]}}\n"
    "fuels: {oak: {price: 0.30 per lb, item: logs}}\n"
    "crew:\n"
    "  - {role: night, duties: [fire, clean], from: \"22:00\", to: \"2027-11-07 08:00\", rate: 20 per h}\n"
    "  - {role: server, duties: [serve], count: 2, one_per: 25 guests, from: \"15:00\", to: \"21:00\", rate: 18.50 per "
    "h}\n"
    "supplies:\n"
    "  - {item: plate, amount: 1.2, per: guest}\n"
    "  - {item: lemonade, amount: 1 qt, per: service}\n"
    "terms: {margin: 22 %, overhead: 9 %, overhead_fixed: 120.05, travel: 0.70 per mi, rental: 400, service_charge: 18 "
    "%,\n"
    "  charge_taxed: no, tax: 8.25 %, discount: 1.5 %, deposit: 30 %, min_fee: 900.00, round_per_guest: 0.50, valid: "
    "30 d,\n"
    "  final_count: 2 d, fuel_reserve: 25 %, enough: 95 %, short: 8.00}\n"
    "instalments: [{name: Second, share: 40 %, days_before: 14}]\n"
    "effort: {opening: 0.2, off_best: 0.0025, tend: 30 per h}\n";

#define IS(got, want) PW_NEAR(#got, (double)(got), (double)(want), 1e-12, 1e-14)

START_TEST(values_of_the_job)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = read_clean(full_text, ctx);
  ck_assert_str_eq(ev->name, "Big job");
  ck_assert_str_eq(ev->customer, "Somebody");
  ck_assert_str_eq(ev->file, "test.yaml");
  ck_assert_str_eq(ev->money_sign, "$");
  ck_assert(ev->date.year == 2027 && ev->date.month == 11 && ev->date.day == 6);
  ck_assert(ev->units == PW_UNITS_SI && ev->paper == PW_PAPER_A4 && ev->slot_min == 15 && ev->is_head_count_sum);
  ck_assert_int_eq(ev->utc_offset_min, -300);
  ck_assert(ev->clock && pw_clock_local(ev->clock, 0).hour == 0);
  IS(ev->site.travel_min, 70);
  IS(ev->site.travel_m, 28 * 1609.344);
  IS(ev->site.altitude_m, 640 * 0.3048);
  IS(ev->weather.low_c, 5);
  IS(ev->weather.high_c, 20);
  IS(ev->weather.wind_m_s, 3.57632);
  IS(ev->weather.humidity_frac, 0.55);

  ck_assert_int_eq(ev->n_classes, 3); /* as written */
  ck_assert_str_eq(ev->classes[1].name, "Grown-ups");
  ck_assert_str_eq(ev->classes[2].name, "kids");
  IS(ev->classes[2].appetite_frac, 0.5);
  ck_assert(!ev->classes[0].eats_meat && ev->classes[1].eats_meat);

  ck_assert_int_eq(ev->n_services, 2); /* by time */
  const struct pw_service *dinner = &ev->services[0], *lunch = &ev->services[1];
  ck_assert(strcmp(dinner->name, "The dinner") == 0 && dinner->day == 0 && dinner->at_min == 1050 &&
            dinner->length_min == 90);
  ck_assert(strcmp(lunch->name, "lunch") == 0 && lunch->day == 1 && lunch->at_min == 37 * 60 &&
            lunch->style == PW_DROP_OFF);
  ck_assert(lunch->guests[0] == 0 && lunch->guests[1] == 20 && lunch->guests[2] == 5);
  ck_assert_str_eq(ev->dishes[lunch->menu[1].dish].id, "pulled"); /* roll, pulled: as written */
  IS(lunch->menu[1].portion_kg, 0.15);
  IS(lunch->menu[1].portion_sd_kg, 0.03);
  IS(lunch->menu[1].take_frac, 0.5);
  IS(lunch->menu[0].portion_units, 1);
  IS(dinner->menu[1].portion_kg, 5 * 0.45359237 / 16); /* slaw, pulled */
  IS(dinner->menu[1].take_frac, 0.7);
  ck_assert(ev->choices && ev->choices[0].total_kg == 0 && !ev->choices[0].cover_frac);
  IS(ev->choices[1].kinds_frac[1], 0.6);
  IS(ev->choices[1].total_sd_kg, 0.05);
  IS(ev->choices[1].no_show_frac, 0.05);
  IS(ev->choices[1].cover_frac[1], 0.99);
  IS(ev->choices[1].cover_frac[0], 0);
  static const char *const dishes[] = {"slaw", "pulled", "roll"}; /* dinner comes first, then what lunch adds */
  for (int i = 0; i < 3; i++)
    ck_assert_str_eq(ev->dishes[i].id, dishes[i]);

  ck_assert_int_eq(ev->n_crew, 2); /* as written */
  ck_assert(ev->crew[0].duties == (1u << PW_DUTY_FIRE | 1u << PW_DUTY_CLEAN) && ev->crew[0].count == 1);
  ck_assert(ev->crew[0].from_at_min == 22 * 60 && ev->crew[0].to_at_min == 33 * 60); /* 11 hours in that night */
  IS(ev->crew[1].guests_per_hand, 25);
  IS(ev->crew[1].cents_per_h, 1850);

  IS(ev->terms.overhead_cents, 12005);
  IS(ev->terms.rental_cents, 40000);
  IS(ev->terms.travel_cents_per_km, 70 / 1.609344);
  IS(ev->terms.tax_frac, 0.0825);
  IS(ev->terms.final_count_days_before, 2);
  IS(ev->terms.valid_days, 30);
  IS(ev->terms.short_cents, 800);
  ck_assert(!ev->terms.is_service_charge_taxed);
  IS(ev->effort.opening_cents, 20);
  IS(ev->effort.off_best_cents_per_piece_k, 0.25);
  IS(ev->effort.move_cents_per_piece, 30); /* the default */
  IS(ev->effort.tend_cents_per_h, 3000);
  IS(ev->instalments[0].frac, 0.4);
  ck_assert_int_eq(ev->instalments[0].days_before, 14);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(values_of_entries)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = read_clean(full_text, ctx);
  ck_assert(ev->n_cuts == 1 && ev->n_dishes == 3 && ev->n_fuels == 2);
  const struct pw_cut *c = &ev->cuts[0];
  ck_assert_str_eq(c->id, "butt");
  ck_assert_str_eq(ev->items[c->item].id, "butt");
  IS(c->piece_kg, 4);
  IS(c->piece_sd_kg, 0.8 * 0.45359237);
  IS(c->wrapped_width_m, 7 * 0.0254);
  IS(c->half_m, 0.0762);
  IS(c->diffusivity_m2_s, 1.3e-7);
  IS(c->start_c, 5);
  IS(c->load_min, 0.5);
  IS(c->trim_sd_frac, 0.02);
  ck_assert(c->may_turn && !c->may_chill && c->rest_min == 60 && c->hold_max_min == 240 && c->smoke.is_used &&
            c->finish.is_used);
  IS(c->smoke.ref_kg, 3.5);
  IS(c->smoke.n_own, 2);
  IS(c->smoke.own[1].air_c, 135);
  IS(c->smoke.own[1].minutes, 360);
  ck_assert(c->finish.in_oven && !c->smoke.in_oven);
  ck_assert_str_eq(c->smoke.source, "made up; changed in the event file");
  ck_assert_str_eq(c->source, "made up");
  IS(c->uses[0].amount, 0.02);
  ck_assert_int_eq(c->uses[0].per, PW_PER_KG_RAW);

  ck_assert_int_eq(ev->n_items, 7);
  for (int i = 0; i < ev->n_items; i++) {
    const struct pw_item *t = &ev->items[i];
    if (strcmp(t->id, "butt") == 0) {
      ck_assert(t->offers[0].is_by_weight && t->offers[0].pieces == 1 && t->offers[1].pieces == 4);
      IS(t->offers[0].price_cents, 250 / 0.45359237);
      IS(t->order_ahead_min, 2880);
    } else if (strcmp(t->id, "roll") == 0) {
      ck_assert(!t->offers[0].is_by_weight && t->offers[0].pieces == 0);
      IS(t->offers[0].amount, 24);
      IS(t->offers[0].price_cents, 800);
    } else if (strcmp(t->id, "lemonade") == 0) {
      ck_assert_str_eq(t->name, "Better lemonade");
      IS(t->offers[0].amount, 3.785411784);
    }
  }
  IS(ev->uses[1].amount, 0.946352946);

  ck_assert_int_eq(ev->n_pits, 4); /* b offset a c, as written */
  ck_assert(ev->pits[0].alike == 0 && ev->pits[1].alike == 1 && ev->pits[2].alike == 2 && ev->pits[3].alike == 3);
  IS(ev->pits[2].rent_cents, 2550);
  ck_assert_str_eq(ev->pits[2].name, "Drum A");
  ck_assert(ev->pits[2].charcoal == PW_NONE && ev->pits[1].charcoal != PW_NONE);
  ck_assert(ev->pits[2].n_burns_max == 2 && ev->pits[3].n_burns_max == 3); /* two service days; as said */
  ck_assert(ev->pits[0].racks[0].outline == PW_DISC && ev->pits[1].racks[0].n_zones == 2);
  IS(ev->pits[0].racks[0].depth_m, 22 * 0.0254);
  IS(ev->pits[0].racks[0].offset_c, -25.0 / 9);
  IS(ev->pits[3].settings[0].probes[0].x_m, 11 * 0.0254);
  IS(ev->pits[1].exhaust_over_c, 100.0 / 9);
  IS(ev->pits[1].settings[0].splits_per_h, 2);
  IS(ev->pits[1].emissivity_frac, 0.9);
  ck_assert_str_eq(ev->fuels[ev->pits[1].wood].id, "oak");
  IS(ev->fuels[ev->pits[1].wood].price_cents_per_kg, 30 / 0.45359237);
  ck_assert_str_eq(ev->items[ev->fuels[ev->pits[1].wood].item].id, "logs");
  IS(ev->fuels[ev->pits[1].wood].gross_mj_kg, 8600 * 0.002326);

  ck_assert(ev->n_finishers == 2 && ev->finishers[0].kind == PW_HOLD && ev->finishers[1].kind == PW_OVEN);
  ck_assert(ev->finishers[1].is_in_pans && ev->finishers[1].capacity == 4);
  IS(ev->finishers[1].cents_per_h, 120);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(pits_alike)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char text[4096];
  const char *pits = strstr(full_text, "pits: "), *after = strstr(full_text, "finishers:");
  snprintf(
      text, sizeof text, "%.*s%s%s", (int)(pits - full_text), full_text,
      "pits: [{use: drum, id: z}, {use: drum, id: m, name: Other name}, {use: drum, id: n, fire: {tend: 11 min}},"
      " {use: offset, id: o}, {use: drum, id: q, source: read off the lid}, {use: offset, id: p},"
      " {use: drum, id: r, settings: [{hot: 270 F, cool: 270 F, readings: [{rack: grate, along: 3 in, temp: 265 F}]}]},"
      " {use: drum, id: s, settings: [{hot: 270 F, cool: 270 F, readings: [{rack: grate, along: 3 in, temp: 265 F}]}]},"
      " {use: drum, id: t, settings: [{hot: 270 F, cool: 270 F, readings: [{rack: grate, along: 4 in, temp: 265 "
      "F}]}]}]\n",
      after);
  const struct pw_event *ev = read_clean(text, ctx);
  static const int alike[] = {0, 0, 2, 3, 0, 3, 6, 6, 8}; /* z m n o q p r s t */
  ck_assert_int_eq(ev->n_pits, 9);
  for (int i = 0; i < 9; i++)
    ck_assert_msg(ev->pits[i].alike == alike[i], "%s: %d", ev->pits[i].id, ev->pits[i].alike);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(defaults)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev =
      read_clean("event: {name: \" Small\\n party \", date: 2027-06-12, zone: Europe/Berlin, currency: EUR}\n"
                 "weather: {low: 10 C, high: 20 C, wind: 0 m/s}\n"
                 "services: [{id: a, time: \"12:00\", length: 1 h, guests: {adults: 10}, menu: [slaw]}]\n"
                 "terms: {margin: 20 %}\n",
                 ctx);
  ck_assert_str_eq(ev->name, "Small  party");
  ck_assert(ev->n_classes == 1 && ev->classes[0].appetite_frac == 1 && ev->classes[0].eats_meat);
  ck_assert(ev->n_pits == 0 && ev->n_cuts == 0 && ev->n_items == 1 && ev->n_fuels == 0 && !ev->choices);
  ck_assert(ev->slot_min == 30 && !ev->is_head_count_sum && ev->units == PW_UNITS_US && ev->paper == PW_PAPER_LETTER);
  ck_assert_str_eq(ev->money_sign, "\342\202\254");
  IS(ev->terms.cover_frac, 0.975);
  IS(ev->terms.fuel_reserve_frac, 0.2);
  IS(ev->terms.valid_days, 30);
  IS(ev->terms.final_count_days_before, 10);
  IS(ev->effort.tend_cents_per_h, 1800);
  IS(ev->dishes[0].carve_frac, 1);
  ck_assert(ev->terms.is_service_charge_taxed && ev->terms.tax_frac == 0);
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *code;
  int digits;
  const char *price, *sign;
  pw_cents cents;
} currencies[] = {{"USD", 2, "12.34", "$", 1234},
                  {"JPY", 0, "1234", "JPY ", 1234},
                  {"KWD", 3, "1.234", "KWD ", 1234},
                  {"CHF", 2, "12.30", "CHF ", 1230},
                  {"GBP", 2, "12.30", "\302\243", 1230}};

/* A walk-up range is kept as shares of the planned guests; the coarsest grid is an hour. */
START_TEST(walk_up_and_grid)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = read_clean("event: {name: S, date: 2027-06-12, zone: UTC, currency: USD, grid: 60 "
                                         "min}\nweather: {low: 10 C, high: 20 C, wind: 0 m/s}\n"
                                         "services: [{id: a, time: \"12:00\", length: 1 h, guests: {adults: 60}, menu: "
                                         "[roll], walk_up: {least: 30, most: 90}}]\n"
                                         "terms: {margin: 20 %}\n",
                                         ctx);
  ck_assert_int_eq(ev->slot_min, 60);
  IS(ev->choices[0].walk_least_frac, 0.5);
  IS(ev->choices[0].walk_most_frac, 1.5);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Out of the smoke at 160 F and into the finish at 165 F is one piece of meat; 166 F, 3.3 K more, is worth a word. */
START_TEST(gap_between_stages)
{
  for (int f = 165; f <= 166; f++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_event *ev;
    char text[1024];
    snprintf(
        text, sizeof text,
        "event: {name: S, date: 2027-06-12, zone: UTC, currency: USD}\nweather: {low: 10 C, high: 20 C, wind: 0 m/s}\n"
        "services: [{id: a, time: \"12:00\", length: 1 h, guests: {adults: 60}, menu: [pulled]}]\npits: "
        "[offset]\nfinishers: [box]\n"
        "cuts: {butt: {finish: {from: %d F}}}\nterms: {margin: 20 %%}\n",
        f);
    ck_assert_int_eq(pw_event_read_text(&ev, "g.yaml", text, strlen(text), CATALOG, ctx), PW_OK);
    bool is_said = false;
    for (int i = 0; i < ctx->n_diags; i++)
      is_said = is_said || strcmp(ctx->diags[i].code, "stage-gap") == 0;
    ck_assert_int_eq(is_said, f == 166);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

/* Small amounts may have four decimals more than the currency, and are not negative. */
static const struct {
  const char *tend;
  double cents; /* NAN: refused */
} small_money[] = {{"30", 3000},   {"0.000001", 0.0001}, {"0.0000001", NAN},
                   {"-0.10", NAN}, {"-0.1000001", NAN},  {"0.10 USD", NAN}};

START_TEST(small_amounts)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char text[1024];
  snprintf(
      text, sizeof text,
      "event: {name: S, date: 2027-06-12, zone: UTC, currency: USD}\nweather: {low: 10 C, high: 20 C, wind: 0 m/s}\n"
      "services: [{id: a, time: \"12:00\", length: 1 h, guests: {adults: 60}, menu: [roll]}]\n"
      "terms: {margin: 20 %%}\neffort: {opening: %s}\n",
      small_money[_i].tend);
  struct pw_event *ev = NULL;
  pw_status status = pw_event_read_text(&ev, "c.yaml", text, strlen(text), CATALOG, ctx);
  if (isnan(small_money[_i].cents))
    ck_assert_msg(status == PW_ERR_INPUT && ctx->n_errors == 1 && strcmp(ctx->diags[0].code, "bad-money") == 0, "%s",
                  small_money[_i].tend);
  else {
    ck_assert_msg(status == PW_OK, "%s: %s", small_money[_i].tend, ctx->n_diags ? ctx->diags[0].text : "");
    IS(ev->effort.opening_cents, small_money[_i].cents);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(currency)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char text[2048];
  snprintf(
      text, sizeof text,
      "event: {name: S, date: 2027-06-12, zone: UTC, currency: %s}\nweather: {low: 10 C, high: 20 C, wind: 0 m/s}\n"
      "services: [{id: a, time: \"12:00\", length: 1 h, guests: {adults: 10}, menu: [own]}]\n"
      "dishes: {own: {name: Own, portion: 1 each, take: 50 %%, uses: [{item: own, amount: 1, per: portion}]}}\n"
      "items: {own: {name: Own, category: side, unit: each, offers: [{supplier: A, pack: b, holds: 1, price: %s}]}}\n"
      "terms: {margin: 20 %%, min_fee: %s, travel: %s per km}\n",
      currencies[_i].code, currencies[_i].price, currencies[_i].price, currencies[_i].price);
  struct pw_event *ev;
  pw_status status = pw_event_read_text(&ev, "c.yaml", text, strlen(text), CATALOG, ctx);
  /* the small catalog has prices with cents, of items that are not used here */
  ck_assert_msg(status == PW_OK, "%s: %s", currencies[_i].code, ctx->n_diags ? ctx->diags[0].text : "?");
  ck_assert(ev->money_digits == currencies[_i].digits && strcmp(ev->money_sign, currencies[_i].sign) == 0);
  ck_assert_int_eq(ev->terms.min_fee_cents, currencies[_i].cents);
  IS(ev->terms.travel_cents_per_km, currencies[_i].cents);
  IS(ev->items[0].offers[0].price_cents, currencies[_i].cents);
  /* once it is used, one fault for its price */
  char *price = strstr(text, "holds: 1, price: ");
  snprintf(price, sizeof text - (size_t)(price - text), "holds: 1, price: 7.25}]}}\nterms: {margin: 20 %%}\n");
  status = pw_event_read_text(&ev, "c.yaml", text, strlen(text), CATALOG, ctx);
  int n_wanted = currencies[_i].digits == 0;
  ck_assert_int_eq(ctx->n_errors, n_wanted);
  ck_assert_int_eq(status, n_wanted ? PW_ERR_INPUT : PW_OK);
  ck_assert(n_wanted == 0 || (strcmp(ctx->diags[0].code, "bad-money") == 0 && ctx->diags[0].line == 5));
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- order of keys ---- */

static bool is_list_without_order(const char *key) { return strcmp(key, "services") == 0; } /* they have times */

/* The order of guest classes is the order printed. */
static bool is_map_without_order(const char *key, int depth) { return depth > 1 || strcmp(key, "guests") != 0; }

START_TEST(order_does_not_show)
{
  static const char *const files[] = {"cuts.yaml",       "dishes.yaml",         "items.yaml",
                                      "pits.yaml",       "finishers.yaml",      "fuels.yaml",
                                      "work_rules.yaml", "service_styles.yaml", "arrivals.yaml"};
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *plain, *mixed;
  unsigned state = 42 + (unsigned)_i;
  char dir[] = P_tmpdir "/pw-read-XXXXXX", path[128];
  ck_assert(mkdtemp(dir) != NULL);
  for (int i = 0; i < (int)(sizeof files / sizeof *files); i++) {
    snprintf(path, sizeof path, "templates/%s", files[i]);
    char *text = shuffled(path, is_map_without_order, is_list_without_order, &state, ctx);
    snprintf(path, sizeof path, "%s/%s", dir, files[i]);
    FILE *file = fopen(path, "w");
    ck_assert(file && fputs(text, file) >= 0 && fclose(file) == 0);
  }
  char *text = shuffled(events[_i], is_map_without_order, is_list_without_order, &state, ctx);
  ck_assert_int_eq(pw_event_read(&plain, events[_i], "templates", ctx), PW_OK);
  ck_assert_int_eq(pw_event_read_text(&mixed, "mixed", text, strlen(text), dir, ctx), PW_OK);
  const char *a = event_dump(plain, ctx->arena), *b = event_dump(mixed, ctx->arena);
  ck_assert_int_gt(strlen(a), 5000);
  if (strcmp(a, b) != 0) {
    size_t at = 0;
    while (a[at] == b[at])
      at++;
    ck_abort_msg("%s differs: %.80s | %.80s", events[_i], a + at, b + at);
  }
  for (int i = 0; i < (int)(sizeof files / sizeof *files); i++) {
    snprintf(path, sizeof path, "%s/%s", dir, files[i]);
    ck_assert_int_eq(unlink(path), 0);
  }
  ck_assert_int_eq(rmdir(dir), 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- faults ---- */

START_TEST(faults_in_order_and_capped)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char text[8192];
  int n = snprintf(text, sizeof text, "%s", full_text);
  for (int i = 0; i < 80; i++)
    n += snprintf(text + n, sizeof text - (size_t)n, "unknown%d: 1\n", i);
  struct pw_event *ev;
  ck_assert_int_eq(pw_event_read_text(&ev, "many.yaml", text, (size_t)n, CATALOG, ctx), PW_ERR_INPUT);
  ck_assert(!ev && ctx->n_diags == PW_DIAG_MAX && ctx->n_diags_total == 80 && ctx->n_errors == 80);
  for (int i = 1; i < ctx->n_diags; i++)
    ck_assert_int_lt(ctx->diags[i - 1].line, ctx->diags[i].line);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(no_catalog)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev;
  ck_assert_int_eq(pw_event_read_text(&ev, "x", full_text, strlen(full_text), "tests/no-such-folder", ctx),
                   PW_ERR_INPUT);
  ck_assert_int_eq(ctx->n_diags_total, 1); /* what follows from it is not said */
  ck_assert_str_eq(ctx->diags[0].code, "no-catalog");
  ck_assert_int_eq(pw_event_read(&ev, "tests/no-such-file.yaml", CATALOG, ctx), PW_ERR_IO);
  ck_assert_int_eq(pw_event_read(&ev, "tests", CATALOG, ctx), PW_ERR_IO);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Every allocation of a whole run fails once. */
START_TEST(memory_out)
{
  struct pw_ctx *ctx = pw_test_ctx();
  read_clean(full_text, ctx);
  long asked = pw_arena_count(ctx->arena);
  pw_test_ctx_free(ctx);
  ck_assert_int_gt(asked, 500);
  for (long k = 1; k <= asked; k++) {
    ctx = pw_test_ctx();
    struct pw_event *ev;
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_event_read_text(&ev, "test.yaml", full_text, strlen(full_text), CATALOG, ctx);
    if (status != PW_ERR_MEMORY || ev)
      ck_abort_msg("allocation %ld of %ld: status %d, %s", k, asked, (int)status,
                   ctx->n_diags ? ctx->diags[0].text : "");
    pw_test_ctx_free(ctx);
  }
}
END_TEST

/* A text with a few bytes changed, dropped or doubled is read or refused, never more. */
START_TEST(mutations)
{
  unsigned state = 7 + (unsigned)_i;
  static const char bytes[] = "{}[]:,-#&*!|>'\"%@`?\n\t 0aZ\\\303\377";
  size_t n = strlen(full_text);
  for (int round = 0; round < 60; round++) {
    char text[8192];
    memcpy(text, full_text, n);
    size_t m = n;
    for (int change = 1 + (int)(shuffle_random(&state) >> 16) % 4; change > 0; change--) {
      size_t at = (shuffle_random(&state) >> 8) % m;
      switch (shuffle_random(&state) >> 16 & 3) {
      case 0:
        text[at] = bytes[(shuffle_random(&state) >> 8) % (sizeof bytes - 1)];
        break;
      case 1:
        memmove(text + at, text + at + 1, m - at - 1);
        m--;
        break;
      case 2:
        memmove(text + at + 1, text + at, m - at);
        m++;
        break;
      default: /* a piece from elsewhere */
        memcpy(text + at, full_text + (shuffle_random(&state) >> 8) % (n - 12), m - at < 12 ? m - at : 12);
      }
    }
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_event *ev;
    pw_status status = pw_event_read_text(&ev, "mutant", text, m, CATALOG, ctx);
    if (status != PW_OK && (status != PW_ERR_INPUT || ev || ctx->n_errors == 0))
      ck_abort_msg("seed %d round %d: status %d", _i, round, (int)status);
    if (status == PW_OK && !event_dump(ev, ctx->arena))
      ck_abort_msg("no dump");
    pw_test_ctx_free(ctx);
  }
}
END_TEST

/* ---- the tables ---- */

static void check_table(const struct pw_table *table, int depth)
{
  ck_assert_msg(depth < 8 && table->n > 0 && table->size > 0 && table->what, "%s", table->what);
  for (int i = 0; i < table->n; i++) {
    const struct pw_field *f = &table->fields[i];
    char why[512];
    double low = -INFINITY, high = INFINITY, value;
    ck_assert_msg(f->key && f->help && strlen(f->help) > 2, "%s: row %d", table->what, i);
    for (int k = 0; k < i; k++)
      ck_assert_msg(strcmp(f->key, table->fields[k].key) != 0, "%s: %s twice", table->what, f->key);
    ck_assert_msg(!(f->is_required && f->def), "%s: %s", table->what, f->key);
    ck_assert_msg(f->offset < table->size, "%s: %s", table->what, f->key);
    bool is_quantity = f->type == PW_FT_QUANTITY || f->type == PW_FT_WHOLE;
    if (is_quantity && f->min)
      ck_assert_msg(!pw_quantity_parse(f->min, f->dim, &low, why, sizeof why), "%s: %s", f->key, why);
    if (is_quantity && f->max)
      ck_assert_msg(!pw_quantity_parse(f->max, f->dim, &high, why, sizeof why), "%s: %s", f->key, why);
    if (is_quantity && f->def) {
      ck_assert_msg(!pw_quantity_parse(f->def, f->dim, &value, why, sizeof why), "%s: %s", f->key, why);
      ck_assert_msg(value >= low && value <= high, "%s: %s", table->what, f->key);
    }
    ck_assert_msg(low < high, "%s: %s", table->what, f->key);
    if (f->type == PW_FT_CHOICE || f->type == PW_FT_FLAGS) {
      bool is_in = !f->def;
      ck_assert(f->choices && f->choices[0]);
      for (int k = 0; f->choices[k]; k++)
        is_in = is_in || strcmp(f->choices[k], f->def) == 0;
      ck_assert_msg(is_in, "%s: %s", table->what, f->key);
    }
    if (f->type == PW_FT_LIST || f->type == PW_FT_MAP || f->type == PW_FT_WORDS)
      ck_assert_msg(f->count_offset > 0, "%s: %s", table->what, f->key);
    if (f->type == PW_FT_BLOCK || f->type == PW_FT_LIST || f->type == PW_FT_MAP) {
      ck_assert_msg(f->table != NULL, "%s: %s", table->what, f->key);
      check_table(f->table, depth + 1);
    }
  }
}

START_TEST(tables_are_sound)
{
  check_table(&pw_table_event, 0);
  ck_assert_int_eq(pw_table_catalog.n, PW_SECTION__COUNT);
  for (int s = 0; s < PW_SECTION__COUNT; s++) {
    const struct pw_table *table = pw_catalog_table((enum pw_section)s);
    ck_assert(pw_table_catalog.fields[s].table == table);
    check_table(table, 0);
    bool has_source = false;
    for (int i = 0; i < table->n; i++)
      has_source = has_source || table->fields[i].is_source;
    ck_assert_msg(has_source, "%s", table->what);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("read");
  TCase *t = tcase_create("read");
  tcase_set_timeout(t, 300);
  tcase_add_loop_test(t, reads_cleanly, 0, sizeof events / sizeof *events);
  tcase_add_test(t, values_of_the_job);
  tcase_add_test(t, values_of_entries);
  tcase_add_test(t, pits_alike);
  tcase_add_test(t, defaults);
  tcase_add_test(t, walk_up_and_grid);
  tcase_add_test(t, gap_between_stages);
  tcase_add_loop_test(t, small_amounts, 0, sizeof small_money / sizeof *small_money);
  tcase_add_loop_test(t, currency, 0, sizeof currencies / sizeof *currencies);
  tcase_add_loop_test(t, order_does_not_show, 0, sizeof events / sizeof *events);
  tcase_add_test(t, faults_in_order_and_capped);
  tcase_add_test(t, no_catalog);
  tcase_add_test(t, memory_out);
  tcase_add_loop_test(t, mutations, 0, 10);
  tcase_add_test(t, tables_are_sound);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
