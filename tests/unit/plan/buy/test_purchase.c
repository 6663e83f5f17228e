/* Yields, whole pieces, packs, the list and its dates [P1]-[P3]. */
#include "job.h"

#include "base/clock.h"
#include "base/stats.h"
#include "plan/buy/packs.h"
#include "plan/buy/salt.h"
#include "plan/buy/suppliers.h"
#include "plan/stages.h"

#include <limits.h>

static struct job j;
static struct pw_ctx *ctx;
static struct pw_demand demand;
static struct pw_purchase purchase;

static void set_up(void)
{
  job_make(&j);
  ctx = pw_test_ctx();
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static void make(void)
{
  ck_assert_int_eq(pw_demand_make(&demand, &j.ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&purchase, &j.ev, &demand, ctx), PW_OK);
}

static const struct pw_raw_need *raw_of(int service, int cut)
{
  for (int i = 0; i < purchase.n_raws; i++)
    if (purchase.raws[i].service == service && purchase.raws[i].cut == cut)
      return &purchase.raws[i];
  ck_abort_msg("no such raw need");
  return purchase.raws;
}

/* The first line of an item. */
static const struct pw_purchase_line *line_of(int item)
{
  for (int i = 0; i < purchase.n_lines; i++)
    if (purchase.lines[i].item == item)
      return &purchase.lines[i];
  ck_abort_msg("item %d is not on the list", item);
  return purchase.lines;
}

/* What the lines of an item need together. */
static double need_of(int item)
{
  double sum = 0;
  for (int i = 0; i < purchase.n_lines; i++)
    sum += purchase.lines[i].item == item ? purchase.lines[i].need : 0;
  return sum;
}

static double bought(int item)
{
  double sum = 0;
  for (int i = 0; i < purchase.n_lines; i++)
    sum += purchase.lines[i].item == item ? purchase.lines[i].amount : 0;
  return sum;
}

/* ---- published yield arithmetic ------------------------------------------------------------------- */

#define LB 0.45359237 /* kg, exact */

/* Served need / (trim x cook x carve) = raw, cost at the raw price.  Pieces of a thousandth of a pound. */
static const struct {
  const char *name;
  int guests;
  double portion_lb, trim, cook, carve, raw_lb, cents_per_lb;
  pw_cents cost;
} yield_rows[] = {
    {"25 lb at 30 % loss: 35.71, not 32.5 (arithmetic)", 1, 25, 1, 0.70, 1, 35.7143, 0, 0},
    {"100 x 4 oz brisket at 69 %: USDA Table of Cooking Yields R2 (2014), NDB 13806", 100, 0.25, 1, 0.69, 1, 36.2319, 0,
     0},
    {"150 x 4 oz picnic at 74 %: USDA Table of Cooking Yields R2 (2014), NDB 10075", 150, 0.25, 1, 0.74, 1, 50.6757, 0,
     0},
    {"2 lb onions from 2 1/4 lb at 0.24: yield and cost worksheet, johnnyskitchen.us", 1, 2, 8.0 / 9, 1, 1, 2.25, 24,
     54},
    {"50 lb potatoes at 75 %, 1.86: 93.00, slideplayer.com/amp/7840814", 1, 37.5, 0.75, 1, 1, 50, 186, 9300},
    {"20 lb shredded cabbage at 79 %: 25.3 lb AP (purchase quantity worksheet)", 1, 20, 0.79, 1, 1, 25.3165, 0, 0},
    {"EP price of 0.99 AP at 36 %: 2.75, toprecipes.info", 1, 1, 0.36, 1, 1, 2.7778, 99, 275},
    {"20 lb case for 60 gives 10 lb usable, slidegur.com/doc/33720", 1, 10, 0.5, 1, 1, 20, 300, 6000},
    {"mashed potatoes, three stages 0.81 x 0.95 x 1.20: USDA Agriculture Handbook 102 (1975)", 1, 9.234, 0.81, 0.95,
     1.20, 10, 0, 0},
};

START_TEST(published_yields)
{
  const char *name = yield_rows[_i].name;
  memset(j.guests, 0, sizeof j.guests);
  j.guests[JOB_DINNER][JOB_ADULTS] = yield_rows[_i].guests;
  j.menu[JOB_DINNER][0] =
      (struct pw_menu_line){.dish = JOB_SLICED, .take_frac = 1, .portion_kg = yield_rows[_i].portion_lb * LB};
  struct pw_cut *cut = &j.cuts[JOB_BRISKET];
  cut->piece_kg = 0.001 * LB;
  cut->piece_sd_kg = cut->trim_sd_frac = cut->cook_sd_frac = j.dishes[JOB_SLICED].carve_sd_frac = 0;
  cut->trim_frac = yield_rows[_i].trim;
  cut->cook_frac = yield_rows[_i].cook;
  j.dishes[JOB_SLICED].carve_frac = yield_rows[_i].carve;
  j.items[JOB_I_BRISKET].n_offers = 1;
  j.offers[JOB_I_BRISKET][0].price_cents = yield_rows[_i].cents_per_lb / LB;
  make();
  const struct pw_raw_need *raw = raw_of(JOB_DINNER, JOB_BRISKET);
  PW_NEAR(name, raw->raw_mean_kg / LB, yield_rows[_i].raw_lb, 0.0011, 0);
  ck_assert_msg(raw->raw_mean_kg / LB >= yield_rows[_i].raw_lb - 6e-5, "%s: rounded down", name);
  PW_NEAR(name, raw->yield_frac, yield_rows[_i].trim * yield_rows[_i].cook * yield_rows[_i].carve, 1e-12, 0);
  ck_assert_msg(line_of(JOB_I_BRISKET)->cost_cents == yield_rows[_i].cost, "%s: cost %lld", name,
                (long long)line_of(JOB_I_BRISKET)->cost_cents);
}
END_TEST

/* USDA Food Buying Guide: purchase units for 100 servings = 100 / servings per unit, raised to the next tenth. */
static const struct {
  double servings;
  int tenths;
} guide_rows[] = {{27.80, 36}, {18.50, 55}, {5.91, 170}, {3.94, 254}, {18.30, 55},
                  {12.20, 82}, {37.70, 27}, {25.10, 40}, {4.91, 204}, {3.27, 306},
                  {28.30, 36}, {18.80, 54}, {45.00, 23}, {46.00, 22}, {10.14, 99}};

START_TEST(buying_guide_rounds_up)
{
  double content = guide_rows[_i].servings / 10, price = 1;
  int packs = -1;
  pw_packs_cover(&content, &price, 1, 100, &packs);
  ck_assert_int_eq(packs, guide_rows[_i].tenths);
}
END_TEST

/* Quantities per 100 of county extension leaflets: slaw 1/3 cup in quarts: 8.33 -> 9; punch 21 glasses a gallon: 5. */
START_TEST(leaflet_rounds_up)
{
  double quart = 4, gallon = 21, price = 1;
  int packs = -1;
  pw_packs_cover(&quart, &price, 1, 100 / 3.0, &packs);
  ck_assert_int_eq(packs, 9);
  pw_packs_cover(&gallon, &price, 1, 100, &packs);
  ck_assert_int_eq(packs, 5);
}
END_TEST

/* ---- packs -------------------------------------------------------------------------------------------- */

START_TEST(packs_by_hand)
{
  int packs[3];
  double content[] = {1, 4}, price[] = {10, 36};
  PW_NEAR("7: one case, three singles", pw_packs_cover(content, price, 2, 7, packs), 66, 1e-9, 0);
  ck_assert_int_eq(packs[0], 3);
  ck_assert_int_eq(packs[1], 1);
  price[1] = 32;
  PW_NEAR("7: two cases are 64, a case and singles 62", pw_packs_cover(content, price, 2, 7, packs), 62, 1e-9, 0);
  price[1] = 28;
  PW_NEAR("7: two cases", pw_packs_cover(content, price, 2, 7, packs), 56, 1e-9, 0);
  ck_assert_int_eq(packs[0], 0);
  ck_assert_int_eq(packs[1], 2);
  PW_NEAR("nothing", pw_packs_cover(content, price, 2, 0, packs), 0, 0, 0);
  ck_assert_int_eq(packs[0] + packs[1], 0);
  double tenth[] = {0.1}, one[] = {1};
  PW_NEAR("0.3 of tenths is three", pw_packs_cover(tenth, one, 1, 0.3, packs), 3, 0, 0);
}
END_TEST

/* Every combination up to what one offer alone would need. */
static double brute(const double *content, const double *price, int n, double need)
{
  double best = INFINITY;
  int count[4] = {0}, most[4];
  for (int i = 0; i < n; i++)
    most[i] = (int)ceil(need / content[i]);
  for (;;) {
    double have = 0, cost = 0;
    for (int i = 0; i < n; i++)
      have += count[i] * content[i], cost += count[i] * price[i];
    if (have >= need - 1e-9 && cost < best)
      best = cost;
    int i = 0;
    while (i < n && count[i] == most[i])
      count[i++] = 0;
    if (i == n)
      return best;
    count[i]++;
  }
}

START_TEST(packs_against_enumeration)
{
  unsigned long long r = 77;
  for (int trial = 0; trial < 1500; trial++) {
    int n = job_between(&r, 1, 4), packs[4];
    double content[4], price[4];
    for (int i = 0; i < n; i++) {
      content[i] = job_between(&r, 1, 24) * (trial % 3 ? 1 : 0.25);
      price[i] = content[i] * job_between(&r, 80, 120) + job_between(&r, 0, 60);
      if (trial % 7 == 0)
        price[i] = content[i] * 100; /* all ties */
    }
    double need = job_between(&r, 0, 24) * (trial % 5 ? 1 : 0.9);
    double cost = pw_packs_cover(content, price, n, need, packs), have = 0, sum = 0;
    for (int i = 0; i < n; i++) {
      ck_assert_int_ge(packs[i], 0);
      have += packs[i] * content[i];
      sum += packs[i] * price[i];
    }
    ck_assert_msg(have >= need - 1e-9, "trial %d: covers %g of %g", trial, have, need);
    PW_NEAR("cost is that of the packs", cost, sum, 1e-6, 0);
    PW_NEAR("least cost", cost, brute(content, price, n, need), 1e-6, 0);
  }
}
END_TEST

/* Large needs with near ties stay quick: thousands of packs, prices per content 0.01 % apart. */
START_TEST(packs_large)
{
  double content[] = {48, 50, 47, 500}, price[] = {480.05, 500, 470.03, 5001};
  int packs[4];
  double cost = pw_packs_cover(content, price, 4, 123457, packs);
  ck_assert(cost >= 1234570 && cost < 1234570 + 500);
}
END_TEST

/* ---- whole pieces --------------------------------------------------------------------------------------- */

/* The stated chance is reached by n and missed by n - 1, from the moments alone. */
START_TEST(least_pieces)
{
  for (unsigned seed = 1; seed <= 60; seed++) {
    job_shuffle(&j, seed);
    make();
    for (int i = 0; i < purchase.n_raws; i++) {
      const struct pw_raw_need *raw = &purchase.raws[i];
      if (raw->cut != JOB_BRISKET)
        continue;
      const struct pw_cut *cut = &j.cuts[JOB_BRISKET];
      const struct pw_demand_line *d = demand.lines;
      for (int k = 0; k < demand.n_lines; k++)
        if (demand.lines[k].service == raw->service && j.dishes[demand.lines[k].dish].cut == JOB_BRISKET)
          d = &demand.lines[k];
      const struct pw_dish *dish = &j.dishes[d->dish];
      double served = cut->piece_kg * cut->trim_frac * cut->cook_frac * dish->carve_frac;
      double r2 = pow(0.5 / 6.4, 2), t2 = pow(0.03 / 0.85, 2), c2 = pow(0.03 / 0.69, 2);
      double k2 = pow(dish->carve_sd_frac / dish->carve_frac, 2);
      double piece_var = served * served * ((1 + r2) * (1 + t2) * (1 + c2) * (1 + k2) - 1);
      double cover = j.ev.terms.cover_frac;
      for (int less = 0; less < 2; less++) {
        int n = raw->pieces - less;
        double chance = pw_stats_normal_cdf((n * served - d->mean_kg) / sqrt(n * piece_var + d->sd_kg * d->sd_kg));
        bool is_enough = chance >= cover - 1e-9 && n * served >= d->need_kg - 1e-9;
        ck_assert_msg(is_enough == !less, "seed %u: %d pieces, chance %g, cover %g", seed, n, chance, cover);
        if (!less)
          PW_NEAR("runout", raw->runout_frac, 1 - chance, 1e-9, 0);
      }
      PW_NEAR("raw", raw->raw_mean_kg, raw->pieces * 6.4, 1e-9, 0);
      ck_assert(raw->leftover_kg >= raw->pieces * served - d->mean_kg - 1e-9);
    }
  }
}
END_TEST

/* Against dice: pieces and yields drawn one by one, guests too.  Links by count: exact. */
START_TEST(cover_holds)
{
  j.ev.terms.cover_frac = 0.9;
  make();
  const struct pw_raw_need *meat = raw_of(JOB_DINNER, JOB_BRISKET), *links = raw_of(JOB_DINNER, JOB_LINKS);
  unsigned long long r = 31;
  enum { EVENINGS = 4000 };
  int short_meat = 0, short_links = 0;
  double left_meat = 0, left_links = 0;
#define DICE             ((double)(job_random(&r) >> 11) / 9007199254740992.0)
#define AROUND(mean, sd) ((mean) + (sd)*sqrt(12) * (DICE - 0.5))
  for (int e = 0; e < EVENINGS; e++) {
    double have = 0, eaten = 0, units = 0;
    for (int p = 0; p < meat->pieces; p++)
      have += AROUND(6.4, 0.5) * AROUND(0.85, 0.03) * AROUND(0.69, 0.03) * AROUND(0.94, 0.02);
    for (int g = 0; g < 120; g++) {
      double appetite = g < 100 ? 1 : 0.5;
      if (DICE < 0.7)
        eaten += appetite * AROUND(0.14, 0.035);
      if (DICE < 0.5)
        units += appetite;
    }
    short_meat += eaten > have;
    short_links += units > links->pieces * 10;
    left_meat += fmax(0, have - eaten) / EVENINGS;
    left_links += fmax(0, links->pieces * 10 - units) * 0.12 * 0.85 / EVENINGS;
  }
  ck_assert(meat->runout_frac <= 0.1 && links->runout_frac <= 0.1);
  PW_NEAR("meat runs out", (double)short_meat / EVENINGS, meat->runout_frac, 0.0145, 0); /* 3 standard errors */
  PW_NEAR("links run out", (double)short_links / EVENINGS, links->runout_frac, 0.0145, 0);
  PW_NEAR("meat left", left_meat, meat->leftover_kg, 0, 0.03);
  PW_NEAR("links left", left_links, links->leftover_kg, 0, 0.03);
}
END_TEST

/* Two dishes of one cut: the need of both together is less than the two alone, more than either. */
START_TEST(dishes_share_a_cut)
{
  j.menu[JOB_DINNER][3] = j.menu[JOB_LUNCH][0];
  make();
  double both = raw_of(JOB_DINNER, JOB_BRISKET)->need_kg, alone = 0, mean = 0, var = 0;
  for (int i = 0; i < demand.n_lines; i++)
    if (demand.lines[i].service == JOB_DINNER && j.dishes[demand.lines[i].dish].cut == JOB_BRISKET) {
      alone += demand.lines[i].need_kg;
      mean += demand.lines[i].mean_kg;
      var += demand.lines[i].sd_kg * demand.lines[i].sd_kg;
    }
  PW_NEAR("means and variances add", both, mean + 1.959963984540 * sqrt(var), 1e-6, 0);
  ck_assert(both < alone);
}
END_TEST

/* Two counted dishes of one cut are covered together, exactly. */
START_TEST(counted_dishes_share_a_cut)
{
  j.dishes[JOB_CHOPPED] = j.dishes[JOB_LINK];
  j.guests[JOB_DINNER][JOB_CHILDREN] = 0;
  j.menu[JOB_DINNER][3] = (struct pw_menu_line){.dish = JOB_CHOPPED, .take_frac = 0.5, .portion_units = 1};
  j.cuts[JOB_LINKS].units_per_piece = 1;
  make();
  ck_assert_int_eq(raw_of(JOB_DINNER, JOB_LINKS)->pieces, pw_stats_binomial_quantile(200, 0.5, 0.975));
}
END_TEST

START_TEST(units_per_piece)
{
  j.guests[JOB_DINNER][JOB_CHILDREN] = 0;
  j.menu[JOB_DINNER][1].take_frac = 0.9;
  j.ev.terms.cover_frac = 0.9;
  make();
  ck_assert_int_eq(raw_of(JOB_DINNER, JOB_LINKS)->pieces, 10); /* 94 links, ten a tray */
  ck_assert_double_eq(raw_of(JOB_DINNER, JOB_LINKS)->need_kg, 0);
  PW_NEAR("tray", raw_of(JOB_DINNER, JOB_LINKS)->raw_mean_kg, 12, 1e-9, 0);
}
END_TEST

/* ---- the list ------------------------------------------------------------------------------------------- */

START_TEST(one_list)
{
  make();
  int pieces = raw_of(JOB_DINNER, JOB_BRISKET)->pieces + raw_of(JOB_LUNCH, JOB_BRISKET)->pieces;
  double raw_kg = pieces * 6.4;
  int bought_pieces = 0;
  for (int i = 0; i < purchase.n_lines; i++)
    bought_pieces += purchase.lines[i].item == JOB_I_BRISKET ? purchase.lines[i].pieces : 0;
  ck_assert_int_ge(bought_pieces, pieces);
  ck_assert_int_lt(bought_pieces, pieces + 4);
  PW_NEAR("brisket", need_of(JOB_I_BRISKET), raw_kg, 1e-9, 0);
  PW_NEAR("rub by raw weight", need_of(JOB_I_RUB), 0.018 * raw_kg, 1e-9, 0);
  PW_NEAR("paper by piece", need_of(JOB_I_PAPER), 1.5 * pieces, 1e-9, 0);
  ck_assert_int_eq(line_of(JOB_I_PLATE)->packs, 4); /* 1.1 x 165 = 181.5 plates in sleeves of 50 */
  PW_NEAR("ice for two services", need_of(JOB_I_ICE), 40, 1e-9, 0);
  /* a bun for everyone who takes brisket or a link, children too; one line per offer */
  PW_NEAR("buns", need_of(JOB_I_BUN),
          pw_stats_binomial_quantile(120, 0.7, 0.975) + pw_stats_binomial_quantile(120, 0.5, 0.975), 1e-9, 0);
  /* slaw of both services follows the appetite: children count half */
  double slaw = 0;
  for (int i = 0; i < demand.n_lines; i++)
    slaw += demand.lines[i].dish == JOB_SLAW ? demand.lines[i].need_kg : 0;
  PW_NEAR("slaw", need_of(JOB_I_SLAW), slaw, 1e-9, 0);
  for (int i = 1; i < purchase.n_lines; i++) {
    const struct pw_item *a = &j.items[purchase.lines[i - 1].item], *b = &j.items[purchase.lines[i].item];
    int suppliers =
        strcmp(a->offers[purchase.lines[i - 1].offer].supplier, b->offers[purchase.lines[i].offer].supplier);
    ck_assert(a->category <= b->category);
    ck_assert(a->category < b->category || suppliers <= 0);
    ck_assert(a->category < b->category || suppliers < 0 || strcmp(a->name, b->name) <= 0);
  }
}
END_TEST

START_TEST(sums)
{
  for (unsigned seed = 1; seed <= 40; seed++) {
    job_shuffle(&j, seed);
    j.items[JOB_I_SLAW].category = seed % 2 ? PW_CAT_DRINK : PW_CAT_SIDE;
    j.event_uses[1] = (struct pw_use){seed % 2 ? JOB_I_WOOD : JOB_I_ICE, 20, seed % 3 ? PW_PER_EVENT : PW_PER_SERVICE};
    make();
    pw_cents food = 0, supplies = 0;
    for (int i = 0; i < purchase.n_lines; i++) {
      const struct pw_purchase_line *line = &purchase.lines[i];
      enum pw_category category = j.items[line->item].category;
      if (category <= PW_CAT_DRINK)
        food += line->cost_cents;
      else if (category != PW_CAT_FUEL)
        supplies += line->cost_cents;
      ck_assert(line->packs > 0 && line->amount >= line->need - 1e-6);
      const struct pw_offer *offer = &j.items[line->item].offers[line->offer];
      double packs_cost = line->packs * offer->price_cents * (offer->is_by_weight ? offer->pieces * 6.4 : 1);
      PW_NEAR("cost", (double)line->cost_cents, packs_cost, 0.5 + 1e-6, 0);
    }
    ck_assert_int_eq(food, purchase.food_cents);
    pw_cents dealt = purchase.shared_food_cents; /* food and drink, dish by dish and what is for all of them */
    for (int k = 0; k < demand.n_lines; k++)
      dealt += purchase.dishes[k].food_cents;
    ck_assert_int_eq(dealt, food);
    ck_assert_int_eq(supplies, purchase.supplies_cents); /* pit fuel in neither */
    for (int i = 0; i < JOB_N_ITEMS; i++)
      ck_assert(bought(i) >= need_of(i) - 1e-6);
    ck_assert(seed % 2 == 0 || need_of(JOB_I_WOOD) > 0);
  }
}
END_TEST

/* Every basis, one at a time, from the event. */
static const struct {
  const char *name;
  enum pw_basis per;
} basis_rows[] = {{"portion", PW_PER_PORTION}, {"guest", PW_PER_GUEST},     {"piece", PW_PER_PIECE},
                  {"kg raw", PW_PER_KG_RAW},   {"service", PW_PER_SERVICE}, {"event", PW_PER_EVENT}};

START_TEST(bases)
{
  j.event_uses[0] = (struct pw_use){JOB_I_PLATE, 2, basis_rows[_i].per};
  make();
  int portions = 0, pieces = 0;
  double raw_kg = 0;
  for (int i = 0; i < demand.n_lines; i++)
    portions += (int)ceil(demand.lines[i].portions_cover * (1 + j.dishes[demand.lines[i].dish].reserve_frac) - 1e-9);
  for (int i = 0; i < purchase.n_raws; i++) {
    pieces += purchase.raws[i].pieces;
    raw_kg += purchase.raws[i].raw_mean_kg;
  }
  double times[] = {portions, 165, pieces, raw_kg, 2, 1};
  PW_NEAR(basis_rows[_i].name, need_of(JOB_I_PLATE), 2 * times[basis_rows[_i].per], 1e-9, 0);
  /* the same basis from a dish and from a cut of one service */
  j.sliced_uses[0] = (struct pw_use){JOB_I_ICE, 3, basis_rows[_i].per};
  j.event_uses[1].amount = 0;
  make();
  const struct pw_raw_need *raw = raw_of(JOB_DINNER, JOB_BRISKET);
  double dish_times[] = {demand.lines[0].need_kg / 0.14, 125, raw->pieces, raw->raw_mean_kg, 1, 1};
  PW_NEAR(basis_rows[_i].name, need_of(JOB_I_ICE), 3 * dish_times[basis_rows[_i].per], 1e-9, 0);
  j.sliced_uses[0].amount = 0;
  j.brisket_uses[0] = (struct pw_use){JOB_I_ICE, 3, basis_rows[_i].per};
  j.guests[JOB_LUNCH][JOB_ADULTS] = 0;
  make();
  PW_NEAR(basis_rows[_i].name, need_of(JOB_I_ICE), 3 * dish_times[basis_rows[_i].per], 1e-9, 0);
}
END_TEST

/* Once an event, though dish and cut come in both services; and a dish's share of the pieces it shares. */
START_TEST(once_and_shared)
{
  j.event_uses[1].amount = 0;
  j.slaw_uses[0] = (struct pw_use){JOB_I_ICE, 3, PW_PER_EVENT};
  make();
  PW_NEAR("dish once", need_of(JOB_I_ICE), 3, 1e-9, 0);
  j.slaw_uses[0] = (struct pw_use){JOB_I_ICE, 3, PW_PER_SERVICE};
  make();
  PW_NEAR("dish twice", need_of(JOB_I_ICE), 6, 1e-9, 0);
  j.slaw_uses[0].amount = 0;
  j.brisket_uses[0] = (struct pw_use){JOB_I_ICE, 3, PW_PER_EVENT};
  make();
  PW_NEAR("cut once", need_of(JOB_I_ICE), 3, 1e-9, 0);
  j.brisket_uses[0].amount = 0;
  j.menu[JOB_DINNER][3] = j.menu[JOB_LUNCH][0];
  j.sliced_uses[0] = (struct pw_use){JOB_I_ICE, 3, PW_PER_PIECE};
  make();
  double sliced = 110 * 0.7 * 0.14 / 0.94, chopped = 110 * 0.9 * 0.12 / 0.98; /* cooked, before carving */
  PW_NEAR("share", need_of(JOB_I_ICE), 3 * raw_of(JOB_DINNER, JOB_BRISKET)->pieces * sliced / (sliced + chopped), 1e-9,
          0);
}
END_TEST

/* More guests: no item is bought less, nothing costs less. */
START_TEST(more_guests_never_less)
{
  for (unsigned seed = 1; seed <= 60; seed++) {
    job_shuffle(&j, seed);
    make();
    double before[JOB_N_ITEMS];
    int pieces = 0;
    for (int i = 0; i < JOB_N_ITEMS; i++)
      before[i] = need_of(i);
    for (int i = 0; i < purchase.n_raws; i++)
      pieces += purchase.raws[i].pieces;
    pw_cents cost = purchase.food_cents + purchase.supplies_cents;
    j.guests[JOB_DINNER][seed % JOB_N_CLASSES] += 1 + (int)(seed % 5);
    make();
    for (int i = 0; i < purchase.n_raws; i++)
      pieces -= purchase.raws[i].pieces;
    ck_assert_msg(pieces <= 0, "seed %u", seed);
    ck_assert_msg(purchase.food_cents + purchase.supplies_cents >= cost, "seed %u", seed);
    for (int i = 0; i < JOB_N_ITEMS; i++)
      ck_assert_msg(need_of(i) >= before[i] - 1e-9, "seed %u item %d", seed, i);
  }
}
END_TEST

/* The order of menu lines changes nothing that is bought. */
START_TEST(menu_order)
{
  for (unsigned seed = 1; seed <= 20; seed++) {
    job_shuffle(&j, seed);
    make();
    struct pw_purchase before = purchase;
    struct pw_menu_line *menu = j.menu[JOB_DINNER], first = menu[0];
    memmove(menu, menu + 1, 3 * sizeof *menu);
    menu[3] = first;
    make();
    ck_assert_int_eq(purchase.n_lines, before.n_lines);
    ck_assert_int_eq(purchase.food_cents, before.food_cents);
    for (int i = 0; i < purchase.n_lines; i++) {
      ck_assert_int_eq(purchase.lines[i].item, before.lines[i].item);
      ck_assert_int_eq(purchase.lines[i].packs, before.lines[i].packs);
      PW_NEAR("need", purchase.lines[i].need, before.lines[i].need, 1e-9, 1e-12);
    }
  }
}
END_TEST

/* Costs of the dishes and the shared food add up to the food, to the cent; each dish pays for what it uses. */
START_TEST(dish_costs)
{
  for (unsigned seed = 1; seed <= 60; seed++) {
    job_shuffle(&j, seed);
    j.event_uses[0].item = seed % 2 ? JOB_I_BEANS : JOB_I_PLATE;
    make();
    pw_cents sum = purchase.shared_food_cents;
    for (int i = 0; i < demand.n_lines; i++) {
      sum += purchase.dishes[i].food_cents;
      ck_assert_int_ge(purchase.dishes[i].food_cents, 0);
      PW_NEAR("portion", purchase.dishes[i].portion_cents * purchase.dishes[i].portions,
              (double)purchase.dishes[i].food_cents, 1e-6, 1e-9);
    }
    ck_assert_int_eq(sum, purchase.food_cents);
    ck_assert(seed % 2 == 0 || purchase.shared_food_cents > 0);
  }
}
END_TEST

/* A dish that nobody takes costs nothing, a portion of it too. */
START_TEST(nobody_takes_it)
{
  j.menu[JOB_DINNER][2].take_frac = 0;
  make();
  for (int i = 0; i < demand.n_lines; i++)
    if (demand.lines[i].service == JOB_DINNER && demand.lines[i].dish == JOB_SLAW)
      ck_assert(purchase.dishes[i].portions == 0 && purchase.dishes[i].portion_cents == 0 &&
                purchase.dishes[i].short_cents == 0);
  j.menu[JOB_DINNER][0].take_frac = 0;
  make();
  ck_assert_int_eq(purchase.n_raws, 2); /* links at dinner, brisket at lunch */
}
END_TEST

/* Without any spread ten halves of a kilogram are five pieces that serve one each: nothing is left, and it does not run out. */
START_TEST(without_spread)
{
  struct pw_cut *cut = &j.cuts[JOB_BRISKET];
  cut->piece_kg = 2, cut->trim_frac = 1, cut->cook_frac = 0.5;
  cut->piece_sd_kg = cut->trim_sd_frac = cut->cook_sd_frac = j.dishes[JOB_SLICED].carve_sd_frac = 0;
  j.dishes[JOB_SLICED].carve_frac = 1;
  memset(j.guests[JOB_DINNER], 0, sizeof j.guests[JOB_DINNER]);
  j.guests[JOB_DINNER][JOB_ADULTS] = 10;
  j.menu[JOB_DINNER][0].take_frac = 1;
  j.menu[JOB_DINNER][0].portion_kg = 0.5;
  j.menu[JOB_DINNER][0].portion_sd_kg = 0;
  make();
  const struct pw_raw_need *raw = raw_of(JOB_DINNER, JOB_BRISKET);
  ck_assert_int_eq(raw->pieces, 5);
  ck_assert(raw->runout_frac == 0 && raw->leftover_kg == 0);
}
END_TEST

/* Slaw alone: 40 lunch guests, 28 portions covered, bags of 2.5 kg at 9.00: 1.12 bags' worth of two bags.
 * Newsvendor: critical ratio 9 / (9 + 1) = 0.9, so at a cover of 0.9 a short costs nine times the portion. */
START_TEST(portion_cost)
{
  memset(j.guests, 0, sizeof j.guests);
  j.guests[JOB_LUNCH][JOB_NO_MEAT] = 40;
  j.ev.terms.cover_frac = 0.9;
  make();
  ck_assert_int_eq(purchase.dishes[5].food_cents, 1800);
  PW_NEAR("portions", purchase.dishes[5].portions, pw_stats_binomial_quantile(40, 0.7, 0.9), 1e-9, 0);
  PW_NEAR("short", purchase.dishes[5].short_cents, 9 * purchase.dishes[5].portion_cents, 1e-9, 0);
  ck_assert_int_eq(purchase.dishes[4].food_cents, 0);
  job_make(&j);
  make(); /* brisket: pieces x served weight / portion */
  PW_NEAR("portions", purchase.dishes[0].portions,
          raw_of(JOB_DINNER, JOB_BRISKET)->pieces * 6.4 * 0.85 * 0.69 * 0.94 / 0.14, 1e-9, 0);
  PW_NEAR("links", purchase.dishes[1].portions, raw_of(JOB_DINNER, JOB_LINKS)->pieces * 10, 1e-9, 0);
}
END_TEST

/* ---- suppliers ------------------------------------------------------------------------------------------ */

static struct pw_supplier suppliers[3];

static void with_terms(const char *name, pw_cents fee, pw_cents minimum, unsigned days)
{
  suppliers[j.ev.n_suppliers++] = (struct pw_supplier){name, fee, minimum, days, NULL};
  j.ev.suppliers = suppliers;
}

static const struct pw_order *order_of(const char *supplier)
{
  static const struct pw_order none;
  for (int i = 0; i < purchase.n_orders; i++)
    if (strcmp(purchase.orders[i].supplier, supplier) == 0)
      return &purchase.orders[i];
  return &none;
}

/* Orders add up to the lines and their fees to the supplies. */
START_TEST(orders)
{
  make();
  pw_cents supplies = purchase.supplies_cents, goods = 0;
  int n = 0;
  ck_assert_int_eq(purchase.delivery_cents, 0);
  for (int i = 0; i < purchase.n_orders; i++) {
    ck_assert(i == 0 || strcmp(purchase.orders[i - 1].supplier, purchase.orders[i].supplier) < 0);
    goods += purchase.orders[i].goods_cents;
    n += purchase.orders[i].n_lines;
  }
  for (int i = 0; i < purchase.n_lines; i++)
    goods -= purchase.lines[i].cost_cents;
  ck_assert_int_eq(goods, 0);
  ck_assert_int_eq(n, purchase.n_lines);
  with_terms("Ice House", 1500, 2000, 0); /* nobody else has ice: 4 bags at 3.00, paid up to 20.00, and the fee */
  make();
  ck_assert_int_eq(order_of("Ice House")->goods_cents, 1200);
  ck_assert_int_eq(order_of("Ice House")->top_up_cents, 800);
  ck_assert_int_eq(purchase.delivery_cents, 2300);
  ck_assert_int_eq(purchase.supplies_cents, supplies + 2300);
}
END_TEST

/* A fee that eats up what the dearer butcher would cost more moves the brisket there. */
START_TEST(fee_moves_an_item)
{
  j.items[JOB_I_SLAW].offers[0].supplier = j.items[JOB_I_BEANS].offers[0].supplier = "Fields";
  j.items[JOB_I_RUB].offers[0].supplier = j.items[JOB_I_PAPER].offers[0].supplier = "Fields";
  j.items[JOB_I_PLATE].offers[0].supplier = j.items[JOB_I_PLATE].offers[1].supplier = "Fields";
  make();
  pw_cents at_county = order_of("County")->goods_cents, at_hill = order_of("Hill Street")->goods_cents;
  ck_assert_int_gt(at_county, 0);
  int i = 0;
  while (strcmp(j.items[purchase.lines[i].item].offers[purchase.lines[i].offer].supplier, "County") != 0)
    i++;
  ck_assert_int_eq(purchase.lines[i].item, JOB_I_BRISKET);
  pw_cents brisket = 0;
  for (int k = 0; k < purchase.n_lines; k++)
    brisket += purchase.lines[k].item == JOB_I_BRISKET ? purchase.lines[k].cost_cents : 0;
  pw_cents more = purchase.elsewhere_cents[i] - brisket; /* what Hill Street alone costs more */
  ck_assert_int_gt(more, 0);
  with_terms("County", more - 1, 0, 0);
  make();
  ck_assert_int_eq(order_of("County")->goods_cents, at_county);
  ck_assert_int_eq(order_of("County")->without_cents, -1); /* not asked yet */
  ck_assert_int_eq(pw_purchase_without(&purchase, &j.ev, &demand, ctx), PW_OK);
  ck_assert_int_eq(order_of("County")->without_cents, 1);     /* dearer goods by `more`, but no fee */
  ck_assert_int_eq(order_of("Ice House")->without_cents, -1); /* nobody else has ice */
  suppliers[0].delivery_cents = more + 1;
  make();
  ck_assert_int_eq(order_of("County")->n_lines, 0);
  ck_assert_int_eq(order_of("Hill Street")->goods_cents, at_hill + at_county + more);
  ck_assert_int_eq(purchase.delivery_cents, 0);
  ck_assert_int_eq(purchase.elsewhere_cents[purchase.n_lines - 1], -1); /* ice: nobody else */
}
END_TEST

/* What the list costs without a supplier is what the list of an event costs in which that supplier offers nothing. */
START_TEST(without_a_supplier)
{
  static const pw_cents least[] = {0, 3000, 20000, 60000};
  int n_asked = 0, n_dearer = 0;
  for (int i = 0; i < JOB_N_ITEMS; i++) { /* everything but ice is sold by two more, each dearer in its own way */
    struct pw_offer *o = j.offers[i];
    int n = j.items[i].n_offers;
    if (i == JOB_I_ICE)
      continue;
    for (; n < 3; n++) {
      o[n] = o[0];
      o[n].supplier = n == 1 ? "Valley" : "Harbour";
      o[n].price_cents = o[0].price_cents * (1 + 0.03 * (1 + (i * 7 + n * 5) % 4));
    }
    j.items[i].n_offers = n;
  }
  for (int f = 0; f < 3; f++)
    for (int m = 0; m < 4; m++) {
      j.ev.n_suppliers = 0;
      with_terms("County", 700 * f, least[m], 0);
      with_terms("Valley", 500 * f, least[(m + 1) % 4], 0);
      with_terms("Hill Street", 300 * f, least[(m + f) % 4], 0);
      make();
      ck_assert_int_eq(pw_purchase_without(&purchase, &j.ev, &demand, ctx), PW_OK);
      struct pw_purchase all = purchase;
      for (int k = 0; k < all.n_orders; k++) {
        struct job kept = j;
        bool is_sold = true;
        for (int i = 0; i < JOB_N_ITEMS; i++) {
          int n = 0;
          for (int o = 0; o < j.items[i].n_offers; o++)
            if (strcmp(kept.offers[i][o].supplier, all.orders[k].supplier) != 0)
              j.offers[i][n++] = kept.offers[i][o];
          j.items[i].n_offers = n;
          is_sold = is_sold && n > 0;
        }
        if (is_sold) {
          make();
          double more = purchase.list_cents - all.list_cents;
          PW_NEAR("more in all", (double)all.orders[k].without_cents, fmax(0, more), 1, 1e-4);
          n_dearer += all.orders[k].without_cents > 0;
        } else {
          ck_assert_int_eq(all.orders[k].without_cents, -1);
        }
        n_asked++;
        memcpy(j.items, kept.items, sizeof j.items);
        memcpy(j.offers, kept.offers, sizeof j.offers);
      }
    }
  ck_assert_int_gt(n_asked, 30);
  ck_assert_int_gt(n_dearer, 15);
}
END_TEST

/* The event is on Saturday 2027-06-12: prep on Friday noon, delivery wanted on Thursday. */
static const struct {
  const char *name;
  unsigned days;
  int keeps_d, day; /* of the delivery, from the event's */
  const char *warning;
} day_rows[] = {
    {"every day", 0, 4, -2, NULL},
    {"Thursdays", 1u << 4, 4, -2, NULL},
    {"Wednesdays", 1u << 3, 4, -3, NULL},
    {"Fridays: the day of the prep, at noon", 1u << 5, 4, -1, NULL},
    {"Mondays: too early for meat that keeps four days, but not for six", 1u << 1, 6, -5, NULL},
    {"Mondays: no good day", 1u << 1, 3, -2, "no-delivery-day"},
    {"Tuesdays and Fridays", 1u << 2 | 1u << 5, 4, -4, NULL},
};

START_TEST(delivery_days)
{
  memset(j.guests[JOB_LUNCH], 0, sizeof j.guests[JOB_LUNCH]);
  j.items[JOB_I_BRISKET].n_offers = 1;
  j.items[JOB_I_BRISKET].keeps_min = day_rows[_i].keeps_d * 1440;
  with_terms("Hill Street", 0, 0, day_rows[_i].days);
  j.menu[JOB_DINNER][1].take_frac = 0; /* no links, they come from there too */
  make();
  ck_assert_msg(line_of(JOB_I_BRISKET)->deliver_at_min == day_rows[_i].day * 1440 + 720, "%s: %d", day_rows[_i].name,
                line_of(JOB_I_BRISKET)->deliver_at_min);
  ck_assert_int_eq(ctx->n_diags, day_rows[_i].warning ? 1 : 0);
  if (day_rows[_i].warning)
    ck_assert_str_eq(ctx->diags[0].code, day_rows[_i].warning);
}
END_TEST

/* Frozen brisket of 14 lb thaws three days, from Tuesday noon; a van that comes on Wednesdays and Thursdays only is
 * too late for it this week, the last good day is Thursday of the week before. */
START_TEST(frozen_before_the_thaw)
{
  memset(j.guests[JOB_LUNCH], 0, sizeof j.guests[JOB_LUNCH]);
  j.items[JOB_I_BRISKET].store = PW_STORE_FROZEN;
  j.items[JOB_I_BRISKET].keeps_min = 90 * 1440;
  j.items[JOB_I_BRISKET].n_offers = 1;
  j.menu[JOB_DINNER][1].take_frac = 0;
  with_terms("Hill Street", 0, 0, 1u << 3 | 1u << 4);
  make();
  ck_assert_int_eq(line_of(JOB_I_BRISKET)->thaw_from_at_min, -720 - 3 * 1440);
  ck_assert_int_eq(line_of(JOB_I_BRISKET)->deliver_at_min, -9 * 1440 + 720);
  ck_assert_int_eq(ctx->n_diags, 0);
  j.items[JOB_I_BRISKET].keeps_min = 6 * 1440; /* that would be too old: nobody comes in time, and it is said */
  make();
  ck_assert_int_eq(ctx->n_diags, 1);
  ck_assert_str_eq(ctx->diags[0].code, "no-delivery-day");
  ck_assert_int_le(line_of(JOB_I_BRISKET)->deliver_at_min, line_of(JOB_I_BRISKET)->thaw_from_at_min);
}
END_TEST

/* Another butcher who comes on a good day is taken, though dearer. */
START_TEST(other_butcher_on_a_good_day)
{
  memset(j.guests[JOB_LUNCH], 0, sizeof j.guests[JOB_LUNCH]);
  j.items[JOB_I_BRISKET].keeps_min = 3 * 1440;
  j.offers[JOB_I_BRISKET][0].price_cents = 2000;
  with_terms("County", 0, 0, 1u << 1);
  j.items[JOB_I_SLAW].offers[0].supplier = "Fields";
  make();
  ck_assert_int_eq(line_of(JOB_I_BRISKET)->offer, 0);
  ck_assert_int_eq(ctx->n_diags, 0);
}
END_TEST

START_TEST(too_many_suppliers)
{
  static struct pw_supplier many[PW_SUPPLIERS_MAX + 1];
  for (int s = 0; s <= PW_SUPPLIERS_MAX; s++)
    many[s] = (struct pw_supplier){.name = "another"};
  j.ev.suppliers = many;
  j.ev.n_suppliers = PW_SUPPLIERS_MAX + 1;
  ck_assert_int_eq(pw_demand_make(&demand, &j.ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&purchase, &j.ev, &demand, ctx), PW_ERR_INPUT);
  ck_assert_str_eq(ctx->diags[0].code, "too-many-suppliers");
}
END_TEST

/* ---- salt ----------------------------------------------------------------------------------------------- */

/* Rub at 45 % salt, 18 g a kilogram raw: 0.81 %; 64 g of salt in a brine for each piece of 6.4 kg: 1 % more. */
/* A rub mixed at home of a spice mix, itself mixed, and of a spice that both take: by hand, however the items stand in the list. */
START_TEST(mixes_within_mixes)
{
  enum { FIRST = JOB_N_ITEMS, SECOND, N_MORE };
  make();
  double rub_kg = need_of(JOB_I_RUB);
  ck_assert(rub_kg > 0.1);
  struct pw_item items[N_MORE];
  memcpy(items, j.items, JOB_N_ITEMS * sizeof *items);
  int mix = _i ? FIRST : JOB_I_RUB, rub = _i ? JOB_I_RUB : FIRST; /* `rub` is what the cut takes, `mix` goes into it */
  struct pw_offer jar = {"County", "jar", 0.1, 0, false, 300, NULL};
  struct pw_item mixed = {.id = "m", .name = "m", .category = PW_CAT_SEASONING, .unit = PW_UNIT_KG, .n_parts = 2};
  struct pw_part of_rub[] = {{mix, 0.5}, {SECOND, 0.5}}, of_mix[] = {{SECOND, 0.4}, {JOB_I_BEANS, 0.6}};
  items[rub] = items[mix] = mixed;
  items[rub].parts = of_rub;
  items[mix].parts = of_mix;
  items[SECOND] = (struct pw_item){
      .id = "spice", .name = "spice", .category = PW_CAT_SEASONING, .unit = PW_UNIT_KG, .offers = &jar, .n_offers = 1};
  j.brisket_uses[0].item = rub;
  double beans = need_of(JOB_I_BEANS);
  j.ev.items = items;
  j.ev.n_items = N_MORE;
  make();
  PW_NEAR("of both", need_of(SECOND), rub_kg * 0.7, 1e-9, 1e-9);
  PW_NEAR("of the inner one", need_of(JOB_I_BEANS) - beans, rub_kg * 0.3, 1e-9, 1e-9);
  ck_assert_int_eq(purchase.n_mixes, 2);
  for (int i = 0; i < purchase.n_lines; i++)
    ck_assert_msg(purchase.lines[i].item != rub && purchase.lines[i].item != mix, "what is mixed is not bought");
}
END_TEST

START_TEST(salt)
{
  double in[JOB_N_ITEMS] = {0};
  j.ev.item_salt_frac = in;
  in[JOB_I_RUB] = 0.45;
  j.cuts[JOB_BRISKET].name = "Brisket";
  PW_NEAR("rub", pw_salt_frac(&j.ev, JOB_BRISKET), 0.0081, 1e-12, 0);
  j.brisket_uses[1] = (struct pw_use){JOB_I_ICE, 0.8, PW_PER_PIECE};
  in[JOB_I_ICE] = 0.08;
  PW_NEAR("rub and brine", pw_salt_frac(&j.ev, JOB_BRISKET), 0.0181, 1e-12, 0);
  make();
  ck_assert_int_eq(ctx->n_diags, 0); /* no limit, no word */
  j.cuts[JOB_BRISKET].salt_most_frac = 0.0181;
  make();
  ck_assert_int_eq(ctx->n_diags, 0);
  j.cuts[JOB_BRISKET].salt_most_frac = 0.015;
  make();
  ck_assert_int_eq(ctx->n_diags, 1); /* once, though two services have it */
  ck_assert_str_eq(ctx->diags[0].code, "salty");
  ck_assert(strstr(ctx->diags[0].text, "Brisket gets 1.8 %") != NULL);
  j.cuts[JOB_BRISKET].salt_most_frac = 0.01809; /* so near that it takes three decimals to tell them apart */
  make();
  ck_assert(strstr(ctx->diags[ctx->n_diags - 1].text,
                   "gets 1.810 % of its raw weight in salt, above its limit of 1.809 %") != NULL);
  j.ev.item_salt_frac = NULL;
  PW_NEAR("unknown", pw_salt_frac(&j.ev, JOB_BRISKET), 0, 0, 0);
}
END_TEST

/* ---- dates ---------------------------------------------------------------------------------------------- */

/* Thaw: 24 h per 5 lb (USDA FSIS, The Big Thaw): 14 lb 67.2 h -> 3 days; 16 lb -> 4 days; 20 lb 96 h -> 4 days. */
static const struct {
  const char *name;
  double piece_lb;
  int days;
} thaw_rows[] = {{"5 lb", 5, 1}, {"14 lb", 14, 3}, {"16 lb", 16, 4}, {"20 lb", 20, 4}, {"20.1 lb", 20.1, 5}};

START_TEST(thaw)
{
  j.items[JOB_I_BRISKET].store = PW_STORE_FROZEN;
  j.items[JOB_I_BRISKET].keeps_min = 90 * 1440;
  j.cuts[JOB_BRISKET].piece_kg = thaw_rows[_i].piece_lb * LB;
  make();
  const struct pw_purchase_line *line = line_of(JOB_I_BRISKET);
  ck_assert_msg(line->thaw_from_at_min == -720 - thaw_rows[_i].days * 1440, "%s: %d", thaw_rows[_i].name,
                line->thaw_from_at_min);
  ck_assert_int_eq(line->deliver_at_min, line->thaw_from_at_min - 1440);
  ck_assert_int_eq(line->order_by_at_min, line->deliver_at_min - 2 * 1440);
}
END_TEST

START_TEST(dates)
{
  make();
  ck_assert_int_eq(ctx->n_diags, 0);
  /* chilled brisket: prep at noon the day before, delivery a day earlier, last use noon of the event's day */
  ck_assert_int_eq(line_of(JOB_I_BRISKET)->deliver_at_min, -720 - 1440);
  ck_assert_int_eq(line_of(JOB_I_BRISKET)->thaw_from_at_min, INT_MIN);
  /* ice keeps a day: it comes a day before the last service, though the first is the evening before */
  ck_assert_int_eq(line_of(JOB_I_ICE)->deliver_at_min, 1440 + 720 - 1440);
  ck_assert_int_eq(line_of(JOB_I_ICE)->order_by_at_min, 720 - 2 * 1440);
  ck_assert_int_eq(line_of(JOB_I_ICE)->thaw_from_at_min, INT_MIN); /* nothing to thaw */
  j.items[JOB_I_BRISKET].keeps_min = 12 * 60;
  make();
  ck_assert_int_eq(ctx->n_diags, 1); /* one delivery cannot serve both prep days */
  ck_assert_str_eq(ctx->diags[0].code, "keeps-short");
  ck_assert(strstr(ctx->diags[0].text, "brisket keeps 12 h") != NULL);
  ck_assert_int_eq(line_of(JOB_I_BRISKET)->deliver_at_min, -720);
}
END_TEST

/* Clocks go forward on 2027-03-14 in Chicago: noon of that day is eleven hours after its midnight. */
START_TEST(noon_on_the_wall)
{
  struct pw_clock *clock;
  j.ev.date = (struct pw_date){2027, 3, 14};
  ck_assert_int_eq(pw_clock_open(&clock, "America/Chicago", j.ev.date, ctx), PW_OK);
  j.ev.clock = clock;
  memset(j.guests[JOB_DINNER], 0, sizeof j.guests[JOB_DINNER]);
  make();
  ck_assert_int_eq(line_of(JOB_I_BRISKET)->deliver_at_min, 660 - 1440);
}
END_TEST

START_TEST(out_of_memory)
{
  make();
  int failures = 0;
  for (long k = 1; k < 300; k++) {
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_purchase_make(&purchase, &j.ev, &demand, ctx);
    pw_arena_fail_at(ctx->arena, 0);
    if (!status)
      break;
    ck_assert_int_eq(status, PW_ERR_MEMORY);
    ck_assert_ptr_null(purchase.lines);
    failures++;
  }
  ck_assert_int_gt(failures, 5);
}
END_TEST

#define ADD_ROWS(t, fn, rows) tcase_add_loop_test(t, fn, 0, (int)(sizeof rows / sizeof *rows))

/* Meat must keep until its own cut goes on, whatever other cuts take: brisket 10 h in the smoke for lunch the next day at 12:00
 * goes on at 02:00 and keeps a day, so it comes at 02:00 of the first day at the earliest; links take an hour. */
START_TEST(keeps_until_its_own_cut_is_loaded)
{
  j.cuts[JOB_BRISKET].smoke = (struct pw_stage){.is_used = true, .ref_min = 600};
  j.cuts[JOB_BRISKET].finish = (struct pw_stage){0};
  j.cuts[JOB_BRISKET].rest_min = 0;
  j.cuts[JOB_LINKS].smoke = (struct pw_stage){.is_used = true, .ref_min = 60};
  j.items[JOB_I_BRISKET].keeps_min = 1440;
  make();
  ck_assert_int_eq(line_of(JOB_I_BRISKET)->deliver_at_min, 120);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("purchase");
  TCase *t = tcase_create("purchase");
  tcase_set_timeout(t, 60);
  tcase_add_checked_fixture(t, set_up, tear_down);
  ADD_ROWS(t, published_yields, yield_rows);
  ADD_ROWS(t, buying_guide_rounds_up, guide_rows);
  tcase_add_test(t, leaflet_rounds_up);
  tcase_add_test(t, packs_by_hand);
  tcase_add_test(t, packs_against_enumeration);
  tcase_add_test(t, packs_large);
  tcase_add_test(t, least_pieces);
  tcase_add_test(t, cover_holds);
  tcase_add_test(t, dishes_share_a_cut);
  tcase_add_test(t, counted_dishes_share_a_cut);
  tcase_add_test(t, units_per_piece);
  tcase_add_test(t, one_list);
  tcase_add_test(t, sums);
  ADD_ROWS(t, bases, basis_rows);
  tcase_add_test(t, once_and_shared);
  tcase_add_test(t, more_guests_never_less);
  tcase_add_test(t, menu_order);
  tcase_add_test(t, dish_costs);
  tcase_add_test(t, portion_cost);
  tcase_add_test(t, orders);
  tcase_add_test(t, fee_moves_an_item);
  ADD_ROWS(t, delivery_days, day_rows);
  tcase_add_test(t, frozen_before_the_thaw);
  tcase_add_test(t, other_butcher_on_a_good_day);
  tcase_add_test(t, too_many_suppliers);
  tcase_add_loop_test(t, mixes_within_mixes, 0, 2);
  tcase_add_test(t, salt);
  ADD_ROWS(t, thaw, thaw_rows);
  tcase_add_test(t, dates);
  tcase_add_test(t, without_a_supplier);
  tcase_add_test(t, noon_on_the_wall);
  tcase_add_test(t, out_of_memory);
  tcase_add_test(t, nobody_takes_it);
  tcase_add_test(t, without_spread);
  tcase_add_test(t, keeps_until_its_own_cut_is_loaded);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
