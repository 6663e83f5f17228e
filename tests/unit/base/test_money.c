/* The one rounding place. */
#include "harness.h"

#include "base/money.h"

static const struct {
  const char *name;
  double cents;
  pw_cents want;
} round_rows[] = {
    {"zero", 0, 0},
    {"half up", 2.5, 3},
    {"half away below zero", -2.5, -3},
    {"just below a half", 2.4999, 2},
    {"1.005 x 100 as written", 1.005 * 100, 101},
    {"0.285 x 100 as written", 0.285 * 100, 29},
    {"large", 123456789012.5, 123456789013},
    {"a whole amount of five milliard", 500000000000, 500000000000},
    {"and far above", 600000000001, 600000000001},
    {"the largest whole amounts", 8999999999999999, 8999999999999999},
    {"a quarter above a large one", 4000000000000.25, 4000000000000},
    {"a half above a large one", 4000000000000.5, 4000000000001},
    {"a large one below zero", -700000000003, -700000000003},
    {"not a number", NAN, 0},
    {"held at the end", 1e300, 9000000000000000},
    {"held at the other end", -1e300, -9000000000000000},
};

START_TEST(money_round)
{
  ck_assert_msg(pw_money_round(round_rows[_i].cents) == round_rows[_i].want, "%s: got %lld", round_rows[_i].name,
                (long long)pw_money_round(round_rows[_i].cents));
}
END_TEST

static const struct {
  const char *name;
  pw_cents cents;
  double frac;
  pw_cents want;
} share_rows[] = {
    {"8.25 % of 100.00", 10000, 0.0825, 825},
    {"8.25 % of 2.00: 16.5", 200, 0.0825, 17},
    {"7 % of 0.50: 3.5", 50, 0.07, 4},
    {"7 % of -0.50", -50, 0.07, -4},
    {"a third", 10000, 1.0 / 3, 3333},
    {"all", 987654321, 1, 987654321},
    {"nothing", 987654321, 0, 0},
    {"ten milliard at 99.999999 %", 1000000000000, 0.99999999, 999999990000},
    {"twice", 12345, 2, 24690},
};

START_TEST(money_share)
{
  ck_assert_msg(pw_money_share(share_rows[_i].cents, share_rows[_i].frac) == share_rows[_i].want, "%s: got %lld",
                share_rows[_i].name, (long long)pw_money_share(share_rows[_i].cents, share_rows[_i].frac));
}
END_TEST

static const struct {
  const char *name;
  pw_cents cents;
  int parts;
  pw_cents step, want;
} split_rows[] = {
    {"even", 10000, 10, 0, 1000},
    {"up to a cent", 10001, 10, 0, 1001},
    {"up to fifty cents", 10001, 10, 50, 1050},
    {"on the step", 10000, 10, 50, 1000},
    {"nothing", 0, 10, 50, 0},
    {"no parts", 700, 0, 0, 700},
};

START_TEST(money_split_up)
{
  ck_assert_msg(pw_money_split_up(split_rows[_i].cents, split_rows[_i].parts, split_rows[_i].step) ==
                    split_rows[_i].want,
                "%s: got %lld", split_rows[_i].name,
                (long long)pw_money_split_up(split_rows[_i].cents, split_rows[_i].parts, split_rows[_i].step));
}
END_TEST

static const struct {
  const char *name;
  pw_cents cost;
  double margin;
  pw_cents want;
} price_rows[] = {
    {"no margin", 12345, 0, 12345},
    {"a half", 10000, 0.5, 20000},
    {"22 %: 12820.51", 10000, 0.22, 12821},
    {"exact quotient", 7800, 0.22, 10000},
    {"at a loss", 10000, -0.25, 8000},
    {"free", 0, 0.3, 0},
    {"large", 780000000000, 0.22, 1000000000000},
};

START_TEST(money_price_up)
{
  ck_assert_msg(pw_money_price_up(price_rows[_i].cost, price_rows[_i].margin) == price_rows[_i].want, "%s: got %lld",
                price_rows[_i].name, (long long)pw_money_price_up(price_rows[_i].cost, price_rows[_i].margin));
}
END_TEST

/* The least price whose kept share pays the cost. */
START_TEST(money_price_is_least)
{
  for (pw_cents cost = 1; cost < 200000; cost += 977)
    for (int percent = 0; percent < 95; percent += 7) {
      pw_cents price = pw_money_price_up(cost, percent / 100.0);
      ck_assert(price * (100 - percent) >= cost * 100);
      ck_assert((price - 1) * (100 - percent) < cost * 100);
    }
}
END_TEST

#define ADD_ROWS(t, fn, rows) tcase_add_loop_test(t, fn, 0, (int)(sizeof rows / sizeof *rows))

static Suite *suite(void)
{
  Suite *s = suite_create("money");
  TCase *t = tcase_create("money");
  ADD_ROWS(t, money_round, round_rows);
  ADD_ROWS(t, money_share, share_rows);
  ADD_ROWS(t, money_split_up, split_rows);
  ADD_ROWS(t, money_price_up, price_rows);
  tcase_add_test(t, money_price_is_least);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
