/* test_plan_price.c - the judge's rules about the price and what the cost is divided into [J10], orders and mixes [J12]: the
 * wedding's plan passes, and each number in turn, changed a little, is found.  No outside values: identities of money. */
#include "kept_plan.h"
#include "planned.h"

#include "judge/plan_check.h"
#include "write/plan_json.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* The wedding with a discount, a service charge that is taxed, two instalments; planned once for all tests. */
static void setup(void)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event ev = *planned_event("tests/data/events/lakeside-wedding.yaml", ctx);
  struct pw_instalment parts[] = {{"First", 0.2, 60}, {"Second", 0.3, 21}};
  ev.terms.discount_frac = 0.03;
  ev.terms.service_charge_frac = 0.1;
  ev.terms.is_service_charge_taxed = true;
  ev.instalments = parts;
  ev.n_instalments = 2;
  ev.ladder = (struct pw_ladder_terms){160, 200, 20};
  struct pw_plan *plan = planned(&ev, true, PW_EFFORT_QUICK, ctx);
  struct pw_quote *q =
      &plan->quote; /* a quick plan is not planned for other chances: a row below and one above it, by hand */
  struct pw_quote_level levels[3] = {{0, 0.5, 0.9, q->cost_cents - 1000, 0, false},
                                     {1, 1, 0, q->cost_cents, 0, true},
                                     {2, 0.999, 0.001, q->cost_cents + 500, 0, false}};
  for (int s = 0; s < ev.n_services; s++) {
    levels[1].chance_frac = fmin(levels[1].chance_frac, plan->chance.services[s].on_time_frac);
    levels[1].late_meals_frac += 1 - plan->chance.services[s].on_time_frac;
  }
  levels[1].late_meal_cents = (pw_cents)nearbyint(1000 / (0.9 - levels[1].late_meals_frac));
  levels[2].late_meal_cents = (pw_cents)nearbyint(500 / (levels[1].late_meals_frac - 0.001));
  q->levels = levels;
  q->n_levels = 3;
  kept_plan_open(plan, ctx);
}

/** The text with what stands at `at`, `n` bytes, replaced.  The caller frees. */
static char *with(size_t at, size_t n, const char *by)
{
  char *text = calloc(1, strlen(plan_text) + strlen(by) + 1);
  if (!text)
    abort();
  memcpy(text, plan_text, at);
  strcpy(text + at, by);
  strcat(text, plan_text + at + n);
  return text;
}

/** Where the value begins that follows these keys one after another. */
static size_t value_at(const char *const keys[4], const char *name)
{
  const char *p = plan_text;
  for (int i = 0; i < 4 && keys[i]; i++) {
    char key[64];
    snprintf(key, sizeof key, "\"%s\":", keys[i]);
    p = strstr(p, key);
    ck_assert_msg(p != NULL, "%s: \"%s\" is not there", name, keys[i]);
    p += strlen(key);
  }
  while (*p == ' ')
    p++;
  return (size_t)(p - plan_text);
}

static char *added(size_t at, double by)
{
  char *end = NULL, number[40];
  double was = strtod(plan_text + at, &end);
  snprintf(number, sizeof number, "%.12g", was + by);
  return with(at, (size_t)(end - (plan_text + at)), number);
}

static const struct {
  const char *name, *keys[4];
  double by; /* added to the number; 0: `text` instead */
  const char *text, *label, *path;
} broken[] = {
    {"taxed on the wrong base", {"quote", "taxable_cents"}, 1, NULL, "J10", "quote.taxable_cents: "},
    {"a charge said not to be taxed", {"quote", "service_charge_taxed"}, 0, "false", "J10", "quote.taxable_cents: "},
    {"another tax rate", {"quote", "tax_frac"}, 0.0001, NULL, "J10", "quote.tax_cents: "},
    {"another discount", {"quote", "discount_frac"}, 0.0001, NULL, "J10", "quote.discount_cents: "},
    {"another charge", {"quote", "service_charge_frac"}, 0.0001, NULL, "J10", "quote.service_charge_cents: "},
    {"another deposit", {"quote", "deposit_frac"}, 0.0001, NULL, "J10", "quote.deposit_cents: "},
    {"below the least fee", {"quote", "min_fee_cents"}, 1e8, NULL, "J10", "quote.price_cents: "},
    {"a better margin", {"quote", "margin_frac"}, 0.001, NULL, "J10", "quote.margin_frac: "},
    {"a lower food share", {"quote", "food_share_frac"}, -0.001, NULL, "J10", "quote.food_share_frac: "},
    {"prime cost", {"quote", "prime_cents"}, 1, NULL, "J10", "quote.prime_cents: "},
    {"contribution", {"quote", "contribution_cents"}, -1, NULL, "J10", "quote.contribution_cents: "},
    {"the deposit is not the first due", {"quote", "dues", "cents"}, 1, NULL, "J10", "quote.dues[0].cents: "},
    {"dues in disorder", {"quote", "dues", "date", "date"}, 0, "\"2027-01-01\"", "J10", "quote.dues[1].date: "},
    {"no such date", {"quote", "dues", "date", "date"}, 0, "\"2027-13-01\"", "J10", "quote.dues[1].date: "},
    {"stands too long", {"quote", "valid_days"}, 1, NULL, "J10", "quote.valid_until: "},
    {"fewer bring more", {"quote", "fewer", "net_cents"}, 1, NULL, "J10", "quote.fewer.net_cents: "},
    {"fewer cost less", {"quote", "fewer", "cost_cents"}, -1000, NULL, "J10", "quote.fewer.margin_frac: "},
    {"more earn more", {"quote", "more", "margin_frac"}, 0.001, NULL, "J10", "quote.more.margin_frac: "},
    {"not around the count", {"quote", "fewer", "guests"}, 30, NULL, "J10", "quote.fewer: "},
    {"a rung's price", {"quote", "tried", "price_cents"}, 50, NULL, "J10", "quote.tried[0].price_cents: "},
    {"a rung's total", {"quote", "tried", "total_cents"}, 3, NULL, "J10", "quote.tried[0].total_cents: "},
    {"rungs in disorder", {"quote", "tried", "guests"}, 1000, NULL, "J10", "quote.tried[0].price_cents: "},
    {"the plan has less to spare",
     {"quote", "on_time_levels", "margin_frac"},
     1,
     NULL,
     "J10",
     "quote.on_time_levels[1].margin_frac: "},
    {"a level's cost",
     {"quote", "on_time_levels", "cost_cents"},
     -5000,
     NULL,
     "J10",
     "quote.on_time_levels[1].late_meal_cents: "},
    {"a level's chance",
     {"quote", "on_time_levels", "chance_frac"},
     0.5,
     NULL,
     "J10",
     "quote.on_time_levels[0].late_meals_frac: "},
    {"a level's late meals",
     {"quote", "on_time_levels", "late_meals_frac"},
     -0.3,
     NULL,
     "J10",
     "quote.on_time_levels[1].late_meal_cents: "},
    {"a late meal's price",
     {"quote", "on_time_levels", "late_meal_cents"},
     7,
     NULL,
     "J10",
     "quote.on_time_levels[0].late_meal_cents: "},
    {"two plans", {"quote", "on_time_levels", "is_plan"}, 0, "true", "J10", "quote.on_time_levels: 2 rows"},
    {"pays too early", {"quote", "pays_from_guests"}, 0, "1", "J10", "quote.pays_from_guests: "},
    {"pays too late", {"quote", "pays_from_guests"}, 0, "199", "J10", "quote.pays_from_guests: "},
    {"pays never", {"quote", "pays_from_guests"}, 0, "null", "J10", "quote.pays_from_guests: "},
    {"a role's paid hours", {"quote", "roles", "paid_h"}, 0.5, NULL, "J10", "quote.roles[0].paid_h: "},
    {"a role's work", {"quote", "roles", "task_h"}, -0.5, NULL, "J10", "quote.roles[0].task_h: "},
    {"a role's pay", {"quote", "roles", "cents"}, 5, NULL, "J10", "quote.roles[0].cents: "},
    {"a service's guests", {"quote", "services", "guests"}, 1, NULL, "J10", "quote.services[0].guests: "},
    {"a service's food", {"quote", "services", "food_cents"}, 1, NULL, "J10", "quote.services[0].food_cents: "},
    {"a service's other cost", {"quote", "services", "other_cents"}, 1, NULL, "J10", "quote.services: "},
    {"a dish's food", {"quote", "dishes", "food_cents"}, 1, NULL, "J10", "quote.services[0].food_cents: "},
    {"a portion's cost", {"quote", "dishes", "portion_cents"}, 1, NULL, "J10", "quote.dishes[0].portion_cents: "},
    {"food that nobody asked for", {"quote", "shared_food_cents"}, 1, NULL, "J10", "quote.dishes: "},
    {"an order's goods", {"orders", "goods_cents"}, 1, NULL, "J12", "orders[0].goods_cents: "},
    {"an order's fee", {"orders", "delivery_cents"}, 100, NULL, "J12", "quote.supplies_cents: "},
    {"an order's top-up", {"orders", "top_up_cents"}, 100, NULL, "J12", "quote.supplies_cents: "},
    {"an order to somebody else", {"orders", "supplier"}, 0, "\"Nobody\"", "J12", "purchases["},
    {"a mix without its parts", {"mixes", "parts", "amount"}, 100, NULL, "J12", "mixes[0].parts[0]: "},
    {"carried for more than it cost", {"purchases", "carry_cents"}, 10000, NULL, "J12", "purchases[0].carry_cents: "},
    {"twice the same order", {"orders", "supplier", "supplier"}, 0, "\"Brook Lane Bakery\"", "J0", "orders[1]"},
    {"a dish of no service", {"quote", "dishes", "service"}, 0, "\"breakfast\"", "J0", "quote.dishes[0].service: "},
};

START_TEST(broken_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  size_t at = value_at(broken[_i].keys, broken[_i].name), n = 0;
  const char *p = plan_text + at;
  if (broken[_i].text)
    n = *p == '"' ? (size_t)(strchr(p + 1, '"') + 1 - p) : strcspn(p, ",}] \n");
  char *text = broken[_i].text ? with(at, n, broken[_i].text) : added(at, broken[_i].by);
  bool is_found = false;
  judged(text, ctx);
  for (int i = 0; i < ctx->n_diags; i++)
    is_found |= strcmp(ctx->diags[i].code, broken[_i].label) == 0 &&
                strncmp(ctx->diags[i].text, broken[_i].path, strlen(broken[_i].path)) == 0;
  ck_assert_msg(is_found, "%s: not found; the judge says [%s] %s", broken[_i].name,
                ctx->n_diags ? ctx->diags[0].code : "", ctx->n_diags ? ctx->diags[0].text : "nothing");
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Costs of other head counts stand for plans that are not in the file; a goodwill price divides nothing. */
static bool is_free(const char *key)
{
  return strncmp(key, "short_cents", 11) == 0 || strncmp(key, "cost_cents", 10) == 0;
}

START_TEST(every_cent_of_the_quote_counts)
{
  const char *const quote[4] = {"quote"};
  size_t begin = value_at(quote, "quote");
  const char *ladder = strstr(plan_text + begin, "\"ladder\":");
  ck_assert_ptr_nonnull(ladder);
  int n = 0;
  for (const char *p = plan_text + begin; (p = strstr(p, "cents\":")) != NULL && p < ladder; p++) {
    const char *key = p;
    while (key[-1] != '"')
      key--;
    if (is_free(key))
      continue;
    size_t at = (size_t)(p + 7 - plan_text);
    struct pw_ctx *ctx = pw_test_ctx();
    char *text = added(at, strncmp(key, "min_fee", 7) == 0 ? 1e8 : 20);
    ck_assert_msg(judged(text, ctx) > 0, "20 cents more at byte %zu are not found: %.40s", at, key);
    free(text);
    pw_test_ctx_free(ctx);
    n++;
  }
  ck_assert_int_gt(n, 80);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_price");
  TCase *t = tcase_create("money");
  tcase_set_timeout(t, 60);
  tcase_add_unchecked_fixture(t, setup, kept_plan_close);
  tcase_add_test(t, the_plan_passes);
  tcase_add_loop_test(t, broken_row, 0, sizeof broken / sizeof *broken);
  tcase_add_test(t, every_cent_of_the_quote_counts);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
