/* Strict decimals, whole numbers, money. */
#include "base/num.h"
#include "harness.h"

static const struct {
  const char *text;
  enum pw_num_fault fault;
  double value;
  const char *rest;
} decimals[] = {
    {"12", PW_NUM_OK, 12, ""},
    {"0.1", PW_NUM_OK, 0.1, ""},
    {"-10 F", PW_NUM_OK, -10, " F"},
    {"+3", PW_NUM_OK, 3, ""},
    {"4.20 per lb", PW_NUM_OK, 4.2, " per lb"},
    {"007", PW_NUM_OK, 7, ""},
    {"5.", PW_NUM_OK, 5, "."},
    {"1e3", PW_NUM_OK, 1, "e3"},
    {"0x10", PW_NUM_OK, 0, "x10"},
    {"", PW_NUM_NONE, 0, ""},
    {".5", PW_NUM_NONE, 0, ""},
    {"nan", PW_NUM_NONE, 0, ""},
    {"inf", PW_NUM_NONE, 0, ""},
    {" 1", PW_NUM_NONE, 0, ""},
    {"--1", PW_NUM_NONE, 0, ""},
    {"1.2.3", PW_NUM_OK, 1.2, ".3"},
    {"123456789012345", PW_NUM_OK, 123456789012345.0, ""},
    {"1234567890123456", PW_NUM_LONG, 0, ""},
    {"0.1234567890123456", PW_NUM_LONG, 0, ""},
    {"0.000000000000001", PW_NUM_OK, 1e-15, ""},
    {"9.87654321012345", PW_NUM_OK, 9.87654321012345, ""},
};

START_TEST(decimal)
{
  const char *name = decimals[_i].text, *end = NULL;
  struct pw_decimal d = {0};
  ck_assert_msg(pw_decimal_scan(name, &d, &end) == decimals[_i].fault, "%s", name);
  if (decimals[_i].fault == PW_NUM_OK) {
    PW_NEAR(name, pw_decimal_value(d), decimals[_i].value, 0, 0); /* the C literal: correctly rounded */
    ck_assert_str_eq(end, decimals[_i].rest);
  }
}
END_TEST

static const struct {
  const char *text;
  bool is_ok;
  int value;
} ints[] = {{"0", true, 0},    {"40", true, 40},  {"-3", true, -3},  {"100", true, 100},
            {"101", false, 0}, {"-4", false, 0},  {"010", false, 0}, {"1.0", false, 0},
            {"+1", false, 0},  {"", false, 0},    {"1_0", false, 0}, {"12 x", false, 0},
            {"-", false, 0},   {"-01", false, 0}, {"1e2", false, 0}, {"99999999999999999999", false, 0}};

START_TEST(whole)
{
  int value = -99;
  ck_assert_msg(pw_int_parse(ints[_i].text, -3, 100, &value) == ints[_i].is_ok, "%s", ints[_i].text);
  ck_assert_int_eq(value, ints[_i].is_ok ? ints[_i].value : -99);
}
END_TEST

static const struct {
  const char *text;
  int digits;
  enum pw_money_fault fault;
  pw_cents cents;
} moneys[] = {
    {"12.50", 2, PW_MONEY_OK, 1250},
    {"12.5", 2, PW_MONEY_OK, 1250},
    {"12", 2, PW_MONEY_OK, 1200},
    {"0.07", 2, PW_MONEY_OK, 7},
    {"12.500", 2, PW_MONEY_OK, 1250},
    {"12.505", 2, PW_MONEY_DIGITS, 0},
    {"1200", 0, PW_MONEY_OK, 1200},
    {"1200.5", 0, PW_MONEY_DIGITS, 0},
    {"1.234", 3, PW_MONEY_OK, 1234},
    {"-1", 2, PW_MONEY_SIGN, 0},
    {"$5", 2, PW_MONEY_NONE, 0},
    {"5 USD", 2, PW_MONEY_NONE, 0},
    {"1,000", 2, PW_MONEY_NONE, 0},
    {"+5", 2, PW_MONEY_NONE, 0},
    {"", 2, PW_MONEY_NONE, 0},
    {"10000000000.00", 2, PW_MONEY_OK, 1000000000000},
    {"10000000000.01", 2, PW_MONEY_LARGE, 0},
    {"99999999999999", 2, PW_MONEY_LARGE, 0},
    {"1234567890123456789", 2, PW_MONEY_LARGE, 0},
};

START_TEST(money)
{
  pw_cents cents = -1;
  ck_assert_msg(pw_cents_parse(moneys[_i].text, moneys[_i].digits, &cents) == moneys[_i].fault, "%s", moneys[_i].text);
  ck_assert_int_eq(cents, moneys[_i].fault == PW_MONEY_OK ? moneys[_i].cents : -1);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("num");
  TCase *t = tcase_create("num");
  tcase_add_loop_test(t, decimal, 0, sizeof decimals / sizeof *decimals);
  tcase_add_loop_test(t, whole, 0, sizeof ints / sizeof *ints);
  tcase_add_loop_test(t, money, 0, sizeof moneys / sizeof *moneys);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
