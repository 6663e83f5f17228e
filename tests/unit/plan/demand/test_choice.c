/* Joint choice among meats, second helpings, no-shows [D2][D3]; covers of single lines; the newsvendor's. */
#include "job.h"

#include "base/stats.h"
#include "plan/demand/choice.h"
#include "plan/demand/portion_cost.h"
#include "plan/demand/walk_up.h"
#include "plan/stages.h"

static struct job j;
static struct pw_ctx *ctx;
static struct pw_demand demand;
static struct pw_purchase purchase;
static struct pw_choice choices[JOB_N_SERVICES];

/* Dinner: sliced (0), link (1), chopped of the same brisket (2), slaw (3). */
static void set_up(void)
{
  job_make(&j);
  ctx = pw_test_ctx();
  memset(choices, 0, sizeof choices);
  j.ev.choices = choices;
  j.menu[JOB_DINNER][3] = j.menu[JOB_DINNER][2];
  j.menu[JOB_DINNER][2] =
      (struct pw_menu_line){.dish = JOB_CHOPPED, .take_frac = 0.35, .portion_kg = 0.12, .portion_sd_kg = 0.03};
}

static void tear_down(void) { pw_test_ctx_free(ctx); }

static void make(void)
{
  ck_assert_int_eq(pw_demand_make(&demand, &j.ev, ctx), PW_OK);
  ck_assert_int_eq(pw_purchase_make(&purchase, &j.ev, &demand, ctx), PW_OK);
}

static double cov(int a, int b) { return demand.cov[a * demand.n_lines + b]; }

/* One kind each, two kinds alike: half of the guests take it, all of T; nobody takes both. */
START_TEST(one_kind)
{
  j.services[JOB_DINNER].n_menu = 1;
  j.menu[JOB_DINNER][1] = j.menu[JOB_DINNER][2];
  j.services[JOB_DINNER].n_menu = 2;
  j.menu[JOB_DINNER][1].take_frac = j.menu[JOB_DINNER][0].take_frac;
  choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {1, 0, 0}, .total_kg = 0.2, .total_sd_kg = 0.05};
  make();
  double n_eq = 110, n_sq = 105; /* sums of n a and n a^2 over adults and children */
  for (int i = 0; i < 2; i++) {
    PW_NEAR("take", demand.laws[i].take_frac, 0.5, 1e-12, 0);
    PW_NEAR("portion", demand.laws[i].portion, 0.2, 1e-12, 0);
    PW_NEAR("mean", demand.lines[i].mean_kg, n_eq * 0.1, 1e-9, 0);
    PW_NEAR("sd", demand.lines[i].sd_kg, sqrt(n_sq * (0.5 * (0.04 + 0.0025) - 0.01)), 1e-9, 0);
  }
  PW_NEAR("one or the other", cov(0, 1), -n_sq * 0.01, 1e-9, 0);
  PW_NEAR("both together", cov(0, 0) + cov(1, 1) + 2 * cov(0, 1), n_sq * 0.0025, 1e-9, 0); /* the total's own spread */
}
END_TEST

/* Children who leave one of two meats alone take all of theirs of the other: what all take together stays the same. */
START_TEST(a_class_chooses_by_its_own_rates)
{
  const double other[] = {0.4, 0.4, 0.4}, this[] = {0.4, 0, 0.4};
  j.menu[JOB_DINNER][1] = j.menu[JOB_DINNER][2];
  j.menu[JOB_DINNER][0].dish = JOB_SLICED;
  j.menu[JOB_DINNER][1] =
      (struct pw_menu_line){.dish = JOB_CHOPPED, .take_frac = 0.4, .take_of_frac = other, .portion_kg = 0.12};
  j.menu[JOB_DINNER][0].take_frac = 0.4;
  j.menu[JOB_DINNER][0].take_of_frac = this;
  j.services[JOB_DINNER].n_menu = 2;
  choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {1, 0, 0}, .total_kg = 0.2, .total_sd_kg = 0.05};
  make();
  PW_NEAR("adults share both", demand.lines[0].mean_kg, 100 * 0.5 * 0.2, 1e-9, 0);
  PW_NEAR("children take the other", demand.lines[1].mean_kg, 100 * 0.5 * 0.2 + 20 * 0.5 * 0.2, 1e-9, 0);
  PW_NEAR("both together", cov(0, 0) + cov(1, 1) + 2 * cov(0, 1), 105 * 0.0025, 1e-9, 0);
}
END_TEST

/* A kind that nobody takes is no kind: who wants two takes the one there is. */
START_TEST(a_kind_nobody_takes)
{
  j.menu[JOB_DINNER][1] = j.menu[JOB_DINNER][2];
  j.services[JOB_DINNER].n_menu = 2;
  j.menu[JOB_DINNER][1].take_frac = 0;
  choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {0.4, 0.6, 0}, .total_kg = 0.2, .total_sd_kg = 0.05};
  make();
  PW_NEAR("all take it", demand.laws[0].take_frac, 1, 1e-12, 0);
  PW_NEAR("all of it", demand.laws[0].portion, 0.2, 1e-12, 0);
  PW_NEAR("mean", demand.lines[0].mean_kg, 110 * 0.2, 1e-9, 0);
}
END_TEST

/* Two kinds of two: everybody takes half of each. */
START_TEST(both_kinds)
{
  j.menu[JOB_DINNER][1] = j.menu[JOB_DINNER][2];
  j.services[JOB_DINNER].n_menu = 2;
  choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {0, 0.4, 0.6}, .total_kg = 0.2, .total_sd_kg = 0.05};
  make();
  PW_NEAR("take", demand.laws[0].take_frac, 1, 1e-12, 0);
  PW_NEAR("portion", demand.laws[0].portion, 0.1, 1e-12, 0);
  PW_NEAR("sd", demand.lines[0].sd_kg, sqrt(105 * 0.0025 / 4), 1e-9, 0);
  PW_NEAR("hand in hand", cov(0, 1), 105 * 0.0025 / 4, 1e-9, 0);
}
END_TEST

/* Whatever is drawn, the kinds by weight add up to the total; popularity decides who gets more. */
START_TEST(shares_add_up)
{
  j.services[JOB_DINNER].n_menu = 4;
  j.menu[JOB_DINNER][1] =
      (struct pw_menu_line){.dish = JOB_SLICED, .take_frac = 0.1, .portion_kg = 0.1, .portion_sd_kg = 0.02};
  choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {0.2, 0.5, 0.2}, .total_kg = 0.19, .total_sd_kg = 0.05};
  make();
  double sum = 0;
  for (int i = 0; i < 3; i++)
    sum += demand.lines[i].mean_kg;
  PW_NEAR("total", sum, 110 * 0.9 * 0.19, 1e-9, 0); /* one in ten takes no meat */
  ck_assert(demand.lines[0].mean_kg > demand.lines[2].mean_kg && demand.lines[2].mean_kg > demand.lines[1].mean_kg);
  /* three of three are all three; two of three by hand: first by 7 : 1 : 3.5, second by what is left */
  double w[] = {0.7, 0.1, 0.35}, all = 1.15, p = 0.2 * w[0] / all + 0.2;
  for (int a = 0; a < 3; a++)
    for (int b = 0; b < 3; b++)
      if (a != b && (a == 0 || b == 0))
        p += 0.5 * w[a] / all * w[b] / (all - w[a]);
  PW_NEAR("take", demand.laws[0].take_frac, p, 1e-12, 0);
  PW_NEAR("the slaw is by itself", demand.lines[3].mean_kg, 115 * 0.8 * 0.1, 1e-9, 0);
  PW_NEAR("the slaw is by itself", cov(0, 3), 0, 1e-12, 0);
}
END_TEST

#define DICE ((double)(job_random(&r) >> 11) / 9007199254740992.0)

/* Triangular distribution by its textbook formulas; the quantile is the inverse of the distribution. */
START_TEST(walk_up_range)
{
  struct pw_choice c = {.walk_least_frac = 0.5, .walk_most_frac = 2};
  PW_NEAR("mean", pw_walk_up_mean(&c), 3.5 / 3, 1e-15, 0);
  PW_NEAR("variance", pw_walk_up_variance(&c), (0.25 + 1 + 4 - 0.5 - 2 - 1) / 18, 1e-15, 0);
  PW_NEAR("least", pw_walk_up_quantile(&c, 0), 0.5, 1e-15, 0);
  PW_NEAR("most", pw_walk_up_quantile(&c, 1), 2, 1e-15, 0);
  PW_NEAR("as planned", pw_walk_up_quantile(&c, 1.0 / 3), 1, 1e-12, 0); /* (1 - a) / (b - a) */
  double mean = 0, square = 0;
  enum { N = 20000 };
  for (int k = 0; k < N; k++) {
    double x = pw_walk_up_quantile(&c, (k + 0.5) / N);
    mean += x / N;
    square += x * x / N;
  }
  PW_NEAR("mean of the quantiles", mean, pw_walk_up_mean(&c), 1e-6, 0);
  PW_NEAR("their variance", square - mean * mean, pw_walk_up_variance(&c), 1e-5, 0);
  PW_NEAR("no range", pw_walk_up_quantile(NULL, 0.99), 1, 0, 0);
}
END_TEST

/* Against dice: the number of guests drawn first, then each guest.  Means, covariances, and that covers hold. */
START_TEST(walk_up_dice)
{
  enum { DAYS = 6000 };
  choices[JOB_DINNER] = (struct pw_choice){.walk_least_frac = 0.6, .walk_most_frac = 1.4};
  j.ev.terms.cover_frac = 0.9;
  make();
  unsigned long long r = 19991231;
  double sum[4] = {0}, square[4][4] = {{0}};
  int enough[4] = {0};
  for (int day = 0; day < DAYS; day++) {
    double u = DICE, share = u < 0.5 ? 0.6 + sqrt(u * 0.8 * 0.4) : 1.4 - sqrt((1 - u) * 0.8 * 0.4), eaten[4] = {0};
    const struct pw_service *service = &j.ev.services[JOB_DINNER];
    for (int c = 0; c < j.ev.n_classes; c++)
      for (int g = 0; g < (int)(service->guests[c] * share + 0.5); g++)
        for (int i = 0; i < 4; i++) {
          const struct pw_menu_line *line = &service->menu[i];
          bool is_by_count = j.dishes[line->dish].is_by_count;
          if (i < 3 && !j.ev.classes[c].eats_meat)
            continue;
          if (DICE < line->take_frac)
            eaten[i] +=
                j.ev.classes[c].appetite_frac *
                (is_by_count ? line->portion_units : line->portion_kg + line->portion_sd_kg * sqrt(12) * (DICE - 0.5));
        }
    for (int i = 0; i < 4; i++) {
      bool is_by_count = j.dishes[demand.lines[i].dish].is_by_count;
      sum[i] += eaten[i] / DAYS;
      enough[i] += eaten[i] <= (is_by_count ? demand.lines[i].need_units : demand.lines[i].need_kg) + 1e-9;
      for (int k = 0; k < 4; k++)
        square[i][k] += eaten[i] * eaten[k] / DAYS;
    }
  }
  for (int i = 0; i < 4; i++) {
    bool is_by_count = j.dishes[demand.lines[i].dish].is_by_count;
    double mean = is_by_count ? demand.lines[i].mean_units : demand.lines[i].mean_kg, sd = sqrt(cov(i, i));
    PW_NEAR("mean", sum[i], mean, 4 * sd / sqrt(DAYS), 0);
    for (int k = 0; k < 4; k++)
      PW_NEAR("covariance", square[i][k] - sum[i] * sum[k], cov(i, k), 5 * sqrt(cov(i, i) * cov(k, k) / DAYS), 0);
    double lasts = (double)enough[i] / DAYS;
    ck_assert_msg(lasts >= 0.9 - 0.014 && lasts <= 0.96, "line %d lasts on %g of the days", i, lasts);
  }
  ck_assert(cov(0, 3) > 0); /* a full fairground wants more of everything */
}
END_TEST

/* Against dice: guests drawn one by one, with seconds and no-shows; meats by weight and by count. */
START_TEST(dice)
{
  enum { EVENINGS = 6000 };
  choices[JOB_DINNER] = (struct pw_choice){
      .kinds_frac = {0.25, 0.5, 0.2}, .total_kg = 0.2, .total_sd_kg = 0.05, .seconds_frac = 0.15, .no_show_frac = 0.08};
  j.ev.terms.cover_frac = 0.9;
  make();
  unsigned long long r = 20270612;
  double sum[4] = {0}, square[4][4] = {{0}};
  int enough[4] = {0};
  for (int e = 0; e < EVENINGS; e++) {
    double eaten[4] = {0};
    for (int g = 0; g < 125; g++) {
      double appetite = g < 100 || g >= 120 ? 1 : 0.5, take[4] = {0};
      bool eats_meat = g < 120;
      if (DICE < 0.08)
        continue;
      double u = DICE, w[3] = {0.7, 0.5, 0.35}, total = 0.2 + 0.05 * sqrt(12) * (DICE - 0.5), left = 1.55;
      int kinds = u < 0.25 ? 1 : u < 0.75 ? 2 : u < 0.95 ? 3 : 0;
      for (int k = 0; k < kinds && eats_meat; k++) {
        double v = DICE * left;
        int i = 0;
        while (i < 2 && (v >= w[i] || w[i] <= 0))
          v -= w[i++];
        while (w[i] <= 0)
          i--;
        take[i] = i == 1 ? 1 : total / kinds;
        left -= w[i];
        w[i] = 0;
      }
      if (DICE < 0.8)
        take[3] = 0.1;
      for (int i = 0; i < 4; i++)
        eaten[i] += appetite * take[i] * (DICE < 0.15 ? 2 : 1);
    }
    for (int i = 0; i < 4; i++) {
      sum[i] += eaten[i] / EVENINGS;
      enough[i] += eaten[i] <= (i == 1 ? demand.lines[i].need_units : demand.lines[i].need_kg) + 1e-9;
      for (int k = 0; k < 4; k++)
        square[i][k] += eaten[i] * eaten[k] / EVENINGS;
    }
  }
  for (int i = 0; i < 4; i++) {
    double mean = i == 1 ? demand.lines[i].mean_units : demand.lines[i].mean_kg;
    double sd = i == 1 ? demand.lines[i].sd_units : demand.lines[i].sd_kg;
    PW_NEAR("mean", sum[i], mean, 4 * sd / sqrt(EVENINGS), 0);
    for (int k = 0; k < 4; k++)
      PW_NEAR("covariance", square[i][k] - sum[i] * sum[k], cov(i, k), 5 * sqrt(cov(i, i) * cov(k, k) / EVENINGS), 0);
    double share = (double)enough[i] / EVENINGS;
    ck_assert_msg(share >= 0.9 - 0.014 && share <= (i == 1 || i == 3 ? 0.97 : 0.914), "line %d lasts on %g", i, share);
  }
  ck_assert(cov(0, 2) < 0 && cov(0, 3) > 0); /* meats vie; all dishes share the no-shows */
}
END_TEST

/* Nobody comes back and all come: nothing changes.  Everybody comes back: twice of it.  Half stay away: half. */
START_TEST(seconds_and_no_shows)
{
  make();
  struct pw_demand plain = demand;
  choices[JOB_DINNER].seconds_frac = 1;
  make();
  for (int i = 0; i < 4; i++) {
    PW_NEAR("twice", demand.lines[i].mean_kg + demand.lines[i].mean_units,
            2 * (plain.lines[i].mean_kg + plain.lines[i].mean_units), 1e-9, 0);
    PW_NEAR("twice", demand.lines[i].need_kg + demand.lines[i].need_units,
            2 * (plain.lines[i].need_kg + plain.lines[i].need_units), 1e-9, 1e-9);
    ck_assert_int_eq(demand.lines[i].portions_cover, 2 * plain.lines[i].portions_cover);
  }
  choices[JOB_DINNER] = (struct pw_choice){.no_show_frac = 0.5};
  make();
  for (int i = 0; i < 4; i++)
    PW_NEAR("half", demand.lines[i].mean_kg + demand.lines[i].mean_units,
            0.5 * (plain.lines[i].mean_kg + plain.lines[i].mean_units), 1e-9, 0);
  ck_assert_int_eq(demand.lines[1].portions_cover, pw_stats_binomial_quantile(120, 0.25, 0.975));
  choices[JOB_DINNER].no_show_frac = 0;
  make();
  for (int i = 0; i < demand.n_lines; i++)
    PW_NEAR("as before", demand.lines[i].need_kg, plain.lines[i].need_kg, 1e-12, 0);
}
END_TEST

/* Two dishes of one brisket: guests who take one leave the other, so both together need less than if each chose by
 * itself with the same means and spreads. */
START_TEST(shared_cut)
{
  choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {1, 0, 0}, .total_kg = 0.2, .total_sd_kg = 0.05};
  make();
  double mean = demand.lines[0].mean_kg + demand.lines[2].mean_kg;
  double apart = sqrt(cov(0, 0) + cov(2, 2)), together = sqrt(cov(0, 0) + cov(2, 2) + 2 * cov(0, 2));
  ck_assert(together < 0.95 * apart);
  PW_NEAR("need", purchase.raws[0].need_kg, mean + 1.959963984540 * together, 1e-6, 0);
}
END_TEST

START_TEST(own_cover)
{
  double covers[] = {0, 0.999, 0, 0.6};
  choices[JOB_DINNER].cover_frac = covers;
  make();
  ck_assert_double_eq(demand.lines[0].cover_frac, 0.975);
  ck_assert_double_eq(demand.lines[1].cover_frac, 0.999);
  ck_assert_int_eq(demand.lines[1].portions_cover, pw_stats_binomial_quantile(120, 0.5, 0.999));
  ck_assert_int_eq(demand.lines[3].portions_cover, pw_stats_binomial_quantile(125, 0.8, 0.6));
}
END_TEST

/* Newsvendor: under-stock 9, over-stock 1 -> critical ratio 0.90 -> n 100, p 0.9: order 94 (exact binomial). */
START_TEST(newsvendor)
{
  PW_NEAR("ratio", pw_newsvendor_cover(9, 1), 0.9, 1e-12, 0);
  PW_NEAR("held", pw_newsvendor_cover(1, 9), 0.5, 1e-12, 0);
  PW_NEAR("free", pw_newsvendor_cover(5, 0), 0.9999, 1e-12, 0);
  j.guests[JOB_DINNER][JOB_ADULTS] = 100;
  j.guests[JOB_DINNER][JOB_CHILDREN] = 0;
  j.menu[JOB_DINNER][1].take_frac = 0.9;
  j.link_uses[0].amount = 0;
  j.offers[JOB_I_LINKS][0].price_cents = 1000; /* a tray of ten: 1.00 a link */
  j.ev.terms.short_cents = 900;
  make();
  PW_NEAR("cover", demand.lines[1].cover_frac, 0.9, 1e-12, 0);
  ck_assert_double_eq(demand.lines[1].need_units, 94);
  ck_assert(demand.lines[3].cover_frac > demand.lines[1].cover_frac); /* slaw is cheap: rather too much of it */
}
END_TEST

/* A portion at cheapest unit prices, worked by hand. */
START_TEST(portion_cost)
{
  PW_NEAR("slaw: 100 g of 9.00 per 2.5 kg", pw_portion_cost(&j.ev, JOB_SLAW, 0.1), 36, 1e-9, 0);
  double raw_kg =
      0.14 / (0.85 * 0.69 * 0.94); /* brisket at 9.00, rub 18 g a kilogram at 15.00, a bun at 21.00 per 60 */
  PW_NEAR("sliced", pw_portion_cost(&j.ev, JOB_SLICED, 0.14), raw_kg * (900 + 0.018 * 1500) + 35, 1e-9, 0);
  j.offers[JOB_I_BRISKET][0].price_cents = 900, j.offers[JOB_I_BRISKET][1].price_cents = 1000; /* the dearer last */
  PW_NEAR("sliced", pw_portion_cost(&j.ev, JOB_SLICED, 0.14), raw_kg * (900 + 0.018 * 1500) + 35, 1e-9, 0);
  PW_NEAR("link: a tenth of a tray, a bun", pw_portion_cost(&j.ev, JOB_LINK, 1), 120 + 35, 1e-9, 0);
}
END_TEST

/* Order of the menu, more guests: as without choice. */
START_TEST(properties)
{
  for (unsigned seed = 1; seed <= 30; seed++) {
    job_shuffle(&j, seed);
    for (int i = 0; i < 3; i++)
      j.menu[JOB_DINNER][i].take_frac = 0.2 + 0.1 * ((i + seed) % 5);
    choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {0.3, 0.5, 0.15},
                                             .total_kg = 0.21,
                                             .total_sd_kg = 0.06,
                                             .seconds_frac = seed % 3 * 0.1,
                                             .no_show_frac = seed % 4 * 0.05};
    make();
    struct pw_demand before = demand;
    int pieces = 0;
    for (int i = 0; i < purchase.n_raws; i++)
      pieces += purchase.raws[i].pieces;
    struct pw_menu_line first = j.menu[JOB_DINNER][0];
    memmove(j.menu[JOB_DINNER], j.menu[JOB_DINNER] + 1, 3 * sizeof first);
    j.menu[JOB_DINNER][3] = first;
    make();
    for (int i = 0; i < 4; i++)
      PW_NEAR("order", demand.lines[i].need_kg + demand.lines[i].need_units,
              before.lines[(i + 1) % 4].need_kg + before.lines[(i + 1) % 4].need_units, 1e-9, 1e-9);
    struct pw_demand turned = demand;
    j.guests[JOB_DINNER][seed % JOB_N_CLASSES] += 2;
    make();
    for (int i = 0; i < demand.n_lines; i++)
      ck_assert_msg(demand.lines[i].need_kg >= turned.lines[i].need_kg - 1e-9 &&
                        demand.lines[i].need_units >= turned.lines[i].need_units,
                    "seed %u", seed);
    int more = 0;
    for (int i = 0; i < purchase.n_raws; i++)
      more += purchase.raws[i].pieces;
    ck_assert_msg(more >= pieces, "seed %u", seed);
  }
}
END_TEST

START_TEST(too_many_kinds)
{
  static struct pw_menu_line menu[PW_CHOICE_KINDS_MAX + 1];
  for (int i = 0; i <= PW_CHOICE_KINDS_MAX; i++)
    menu[i] = j.menu[JOB_DINNER][0];
  j.services[JOB_DINNER].menu = menu;
  j.services[JOB_DINNER].n_menu = PW_CHOICE_KINDS_MAX + 1;
  choices[JOB_DINNER] = (struct pw_choice){.kinds_frac = {0.3, 0.5, 0.2}, .total_kg = 0.2};
  ck_assert_int_eq(pw_demand_make(&demand, &j.ev, ctx), PW_ERR_INPUT);
  ck_assert_str_eq(ctx->diags[0].code, "too-many-kinds");
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("choice");
  TCase *t = tcase_create("choice");
  tcase_set_timeout(t, 60);
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_test(t, one_kind);
  tcase_add_test(t, a_class_chooses_by_its_own_rates);
  tcase_add_test(t, a_kind_nobody_takes);
  tcase_add_test(t, both_kinds);
  tcase_add_test(t, shares_add_up);
  tcase_add_test(t, dice);
  tcase_add_test(t, walk_up_range);
  tcase_add_test(t, walk_up_dice);
  tcase_add_test(t, seconds_and_no_shows);
  tcase_add_test(t, shared_cut);
  tcase_add_test(t, own_cover);
  tcase_add_test(t, newsvendor);
  tcase_add_test(t, portion_cost);
  tcase_add_test(t, properties);
  tcase_add_test(t, too_many_kinds);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
