/* Buying as an event file says it: supplier terms, price by food share, salt, conversions between weight, volume, count. */
#include "harness.h"
#include "plan/buy/salt.h"
#include "plan/stages.h"
#include "read/read.h"

#define CATALOG "tests/cases/catalog"

#define HEAD                                                                                                           \
  "event: {name: Job, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"                                       \
  "weather: {low: 60 F, high: 80 F, wind: 6 mph}\n"                                                                    \
  "services: [{id: dinner, time: \"17:30\", length: 1 h, guests: {adults: 40}, menu: [pulled, slaw]}]\n"               \
  "pits: [offset]\n"                                                                                                   \
  "finishers: [box]\n"

static struct pw_ctx *ctx;
static struct pw_event *ev;

static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

static void read_event(const char *text)
{
  pw_status status = pw_event_read_text(&ev, "test.yaml", text, strlen(text), CATALOG, ctx);
  for (int i = 0; i < ctx->n_diags; i++)
    printf("%d:%d: %s\n", ctx->diags[i].line, ctx->diags[i].col, ctx->diags[i].text);
  ck_assert(status == PW_OK && ctx->n_diags == 0);
}

static int item_of(const char *id)
{
  for (int i = 0; i < ev->n_items; i++)
    if (strcmp(ev->items[i].id, id) == 0)
      return i;
  ck_abort_msg("no item %s", id);
  return PW_NONE;
}

START_TEST(terms_of_suppliers)
{
  read_event(HEAD
             "suppliers:\n"
             "  - {name: Invented Meats, delivery: 25.50, minimum: 300, days: [tue, sat], source: their price list}\n"
             "  - {name: Invented Cash and Carry, delivery: 10}\n"
             "  - {name: Invented Bakery, delivery: 3}\n" /* no roll on this menu: weighed with nobody */
             "terms: {food_share: 28 %}\n");
  ck_assert_int_eq(ev->n_suppliers, 2);
  const struct pw_supplier *s = &ev->suppliers[0];
  ck_assert_str_eq(s->name, "Invented Meats");
  ck_assert_str_eq(s->source, "their price list");
  ck_assert_int_eq(s->delivery_cents, 2550);
  ck_assert_int_eq(s->minimum_cents, 30000);
  ck_assert_int_eq(s->days, 1u << 2 | 1u << 6);
  ck_assert_int_eq(ev->suppliers[1].minimum_cents, 0);
  ck_assert_int_eq(ev->suppliers[1].days, 0);
  ck_assert_str_eq(ev->suppliers[1].source, "the event file");
  PW_NEAR("food share", ev->terms.food_share_frac, 0.28, 1e-15, 0);

  struct pw_demand demand;
  struct pw_purchase purchase;
  ck_assert_int_eq(pw_demand_make(&demand, ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&purchase, ev, &demand, ctx), PW_OK);
  for (int i = 0; i < purchase.n_orders;
       i++) /* one case of butts at 2.10 a pound and 10.00 beats pieces at 2.50 and 25.50 */
    ck_assert_str_ne(purchase.orders[i].supplier, "Invented Meats");
}
END_TEST

START_TEST(delivery_days_are_kept)
{
  read_event(HEAD "items: {butt: {offers: [{supplier: Invented Meats, pack: piece, price: 2.50 per lb}]}}\n"
                  "suppliers: [{name: Invented Meats, days: [wed]}]\n"
                  "terms: {margin: 20 %}\n");
  struct pw_demand demand;
  struct pw_purchase purchase;
  ck_assert_int_eq(pw_demand_make(&demand, ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&purchase, ev, &demand, ctx), PW_OK);
  ck_assert_int_eq(purchase.lines[0].item, item_of("butt"));
  ck_assert_int_eq(purchase.lines[0].deliver_at_min,
                   -3 * 1440 + 720); /* 12 June 2027 is a Saturday: the Wednesday before */
}
END_TEST

START_TEST(salt_and_its_limit)
{
  read_event(
      HEAD "cuts: {butt: {uses: [{item: rub, amount: 30 g, per: kg-raw}, {item: brine, amount: 100 mL, per: piece}],\n"
           "              salt_limit: 1.5 %}}\n"
           "items:\n"
           "  rub: {salt: 50 %}\n"
           "  brine: {name: Brine, category: seasoning, unit: L, salt: 6 %, weighs: {litre: 1.04 kg},\n"
           "          offers: [{supplier: Us, pack: pail, holds: 10 L, price: 2}]}\n"
           "terms: {margin: 20 %}\n");
  ck_assert_int_eq(ev->n_cuts, 1);
  const struct pw_cut *cut = &ev->cuts[0];
  PW_NEAR("limit", cut->salt_most_frac, 0.015, 1e-15, 0);
  PW_NEAR("salt of a litre", ev->item_salt_frac[item_of("brine")], 0.06 * 1.04, 1e-15, 0);
  PW_NEAR("salt on the cut", pw_salt_frac(ev, 0), 0.030 * 0.5 + 0.1 * 1.04 * 0.06 / cut->piece_kg, 1e-15, 0);
}
END_TEST

static const struct {
  const char *name, *uses, *weighs, *unit, *holds;
  double amount, pack;
} conversions[] = {
    {"weight for a volume", "500 g", "{litre: 1.25 kg}", "L", "1 gal", 0.4, 3.785411784},
    {"volume for a weight", "2 L", "{litre: 0.6 kg}", "kg", "25 lb", 1.2, 11.33980925},
    {"count for a weight", "6 each", "{each: 60 g}", "kg", "30 each", 0.36, 1.8},
    {"weight for a count", "1 kg", "{each: 125 g}", "each", "5 kg", 8, 40},
    {"volume for a count", "1 L", "{each: 50 g, litre: 1 kg}", "each", "1 dozen", 20, 12},
    {"count for a volume", "3 each", "{each: 200 g, litre: 0.8 kg}", "L", "4 kg", 0.75, 5},
    {"own unit, untouched", "3 each", "{each: 200 g, litre: 0.8 kg}", "each", "12", 3, 12},
};

START_TEST(amounts_convert)
{
  char text[2000];
  snprintf(text, sizeof text,
           HEAD
           "supplies: [{item: thing, amount: %s, per: event}]\n"
           "items: {thing: {name: Thing, category: side, unit: %s, weighs: %s, offers: [{supplier: Us, pack: box,\n"
           "        holds: %s, price: 2}]}}\n"
           "terms: {margin: 20 %%}\n",
           conversions[_i].uses, conversions[_i].unit, conversions[_i].weighs, conversions[_i].holds);
  read_event(text);
  PW_NEAR(conversions[_i].name, ev->uses[0].amount, conversions[_i].amount, 0, 1e-14);
  PW_NEAR(conversions[_i].name, ev->items[item_of("thing")].offers[0].amount, conversions[_i].pack, 0, 1e-14);
}
END_TEST

/* 25 g of house rub on a raw kilogram: 40 % salt, 50 % pepper mix, which is two thirds pepper and one third garlic. */
/* What looks like a slip is said at its place, once: an offer of its own supplier, a case of unknown size, an offer from after the day,
 * a wrong year in both times of a shift.  {text, words, how often} */
static const struct {
  const char *more, *words;
  int times;
} slips[] = {
    {"items:\n  a: {name: A, category: meat, unit: kg, offers: [{supplier: Metzgerei Lohmann, pack: piece, price: 9 "
     "per kg}]}\n"
     "  b: {name: B, category: meat, unit: kg, offers: [{supplier: Metzgerei Lohmann, pack: piece, price: 9 per kg}]}\n"
     "  c: {name: C, category: meat, unit: kg, offers: [{supplier: Metzgerei Lohman, pack: piece, price: 9 per kg}]}\n",
     "did you mean \"Metzgerei Lohmann\"", 1},
    {"items:\n  a: {name: A, category: meat, unit: kg, offers: [{supplier: Store A, pack: piece, price: 9 per kg}]}\n"
     "  b: {name: B, category: meat, unit: kg, offers: [{supplier: Store A, pack: piece, price: 9 per kg}]}\n"
     "  c: {name: C, category: meat, unit: kg, offers: [{supplier: Store B, pack: piece, price: 9 per kg}]}\n",
     "did you mean", 0},
    {"items:\n  a: {name: A, category: meat, unit: kg, offers: [{supplier: Store, pack: case, price: 4 per lb}]}\n",
     "needs \"pieces\"", 1},
    {"items:\n  a: {name: A, category: meat, unit: kg, offers: [{supplier: Store, pack: case, pieces: 6, price: 4 per "
     "lb}]}\n",
     "needs \"pieces\"", 0},
    {"terms: {margin: 20 %, quoted: 2027-06-13}\n", "\"quoted\" is after", 1},
    {"terms: {margin: 20 %, quoted: 2027-06-12}\n", "\"quoted\" is after", 0},
    {"crew:\n  - {role: pit, duties: [pit], from: \"2026-06-12 06:00\", to: \"2026-06-12 20:00\", rate: 20 per h}\n",
     "is the year or the month wrong", 1},
};

START_TEST(slips_are_said_once)
{
  char text[4096];
  int said = 0;
  snprintf(text, sizeof text, HEAD "%s", slips[_i].more);
  (void)pw_event_read_text(&ev, "test.yaml", text, strlen(text), CATALOG, ctx);
  for (int i = 0; i < ctx->n_diags; i++) {
    said += strstr(ctx->diags[i].text, slips[_i].words) != NULL;
    printf("%d:%d: %s\n", ctx->diags[i].line, ctx->diags[i].col, ctx->diags[i].text);
  }
  ck_assert_msg(said == slips[_i].times, "row %d: said %d times", _i, said);
}
END_TEST

START_TEST(recipes)
{
  read_event(
      HEAD
      "cuts: {butt: {uses: [{item: house, amount: 25 g, per: kg-raw}], salt_limit: 0.9 %}}\n"
      "items:\n"
      "  house: {name: House rub, category: seasoning, unit: kg, makes: 1 kg,\n"
      "          made_of: [{item: salt, amount: 400 g}, {item: mix, amount: 500 g}, {item: oil, amount: 100 mL}]}\n"
      "  mix: {name: Pepper mix, category: seasoning, unit: kg, makes: 3 lb, made_of: [{item: pepper, amount: 2 lb},\n"
      "          {item: garlic, amount: 1 lb}]}\n"
      "  salt: {name: Salt, category: seasoning, unit: kg, salt: 98 %, offers: [{supplier: Us, pack: bag, holds: 1 "
      "kg,\n"
      "          price: 2}]}\n"
      "  pepper: {name: Pepper, category: seasoning, unit: kg, offers: [{supplier: Us, pack: bag, holds: 100 g, price: "
      "3}]}\n"
      "  garlic: {name: Garlic, category: seasoning, unit: kg, offers: [{supplier: Us, pack: bag, holds: 50 g, price: "
      "1}]}\n"
      "  oil: {name: Oil, category: sauce, unit: L, offers: [{supplier: Us, pack: can, holds: 1 L, price: 5}]}\n"
      "terms: {margin: 20 %}\n");
  PW_NEAR("salt of the rub", ev->item_salt_frac[item_of("house")], 0.4 * 0.98, 1e-15, 0);
  PW_NEAR("salt on the cut", pw_salt_frac(ev, 0), 0.025 * 0.4 * 0.98, 1e-15, 0);
  struct pw_demand demand;
  struct pw_purchase purchase;
  ck_assert_int_eq(pw_demand_make(&demand, ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&purchase, ev, &demand, ctx), PW_OK);
  double raw_kg = purchase.raws[0].raw_mean_kg, house_kg = 0.025 * raw_kg;
  ck_assert_int_eq(purchase.n_mixes, 2);
  PW_NEAR("rub", purchase.mixes[0].amount, house_kg, 1e-12, 0);
  PW_NEAR("mix in it", purchase.mixes[1].amount, house_kg * 0.5, 1e-12, 0);
  static const struct {
    const char *id;
    double in_rub;
  } wanted[] = {{"salt", 0.4}, {"pepper", 0.5 * 2 / 3}, {"garlic", 0.5 / 3}, {"oil", 0.1}};
  for (size_t w = 0; w < sizeof wanted / sizeof *wanted; w++) {
    double need = 0;
    for (int i = 0; i < purchase.n_lines; i++)
      need += purchase.lines[i].item == item_of(wanted[w].id) ? purchase.lines[i].need : 0;
    PW_NEAR(wanted[w].id, need, house_kg * wanted[w].in_rub, 1e-12, 0);
  }
  for (int i = 0; i < purchase.n_lines; i++) /* mixes are not bought */
    ck_assert(purchase.lines[i].item != item_of("house") && purchase.lines[i].item != item_of("mix"));
  pw_cents food = purchase.shared_food_cents;
  for (int i = 0; i < demand.n_lines; i++)
    food += purchase.dishes[i].food_cents;
  ck_assert_int_eq(food, purchase.food_cents);
  int n_salty = 0;
  for (int i = 0; i < ctx->n_diags; i++)
    n_salty += strcmp(ctx->diags[i].code, "salty") == 0;
  ck_assert_int_eq(n_salty, 1); /* 0.98 % of salt where 0.9 % is the limit */
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("read_trade");
  TCase *tcase = tcase_create("read_trade");
  tcase_add_checked_fixture(tcase, set_up, tear_down);
  tcase_add_test(tcase, terms_of_suppliers);
  tcase_add_test(tcase, delivery_days_are_kept);
  tcase_add_test(tcase, salt_and_its_limit);
  tcase_add_test(tcase, recipes);
  tcase_add_loop_test(tcase, slips_are_said_once, 0, sizeof slips / sizeof *slips);
  tcase_add_loop_test(tcase, amounts_convert, 0, sizeof conversions / sizeof *conversions);
  suite_add_tcase(s, tcase);
  return s;
}

PW_MAIN(suite)
