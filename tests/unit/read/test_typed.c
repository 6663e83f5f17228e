/* Tests of what people type: amounts, times and days that can be read in one way only, and those that are asked back. */
#include "planned.h"
#include "read/typed.h"

static const struct {
  const char *sign, *text, *is;
  int digits;
} NUMBERS[] = {
    {"$", "$34.50", "34.50", 2},
    {"$", "$ 34.50", "34.50", 2},
    {"$", "1,900", "1900", 2},
    {"$", "$1,900.25", "1900.25", 2},
    {"$", "12,345,678", "12345678", 2},
    {"$", "1,90", "1,90", 2},
    {"$", "1234,567", "1234,567", 2},
    {"$", "0,900", "0,900", 2},
    {"$", "1,900", "1,900", 3},
    {"$",
     "\xE2\x82\xAC"
     "5",
     "\xE2\x82\xAC"
     "5",
     2},
    {"EUR ", "EUR 5", "5", 2},
    {"EUR ", "EUR5", "5", 2},
    {"$", "$-5", "$-5", 2},
    {"$", "$", "$", 2},
    {NULL, "$5", "$5", 2},
    {"$", "1,9000", "1,9000", 2},
    {"$", "$1,200 per h", "1200 per h", 2},
    {"$", "", "", 2},
};

START_TEST(numbers)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_reader r = {.ctx = ctx, .money_digits = NUMBERS[_i].digits, .money_sign = NUMBERS[_i].sign};
  ck_assert_str_eq(pw_typed_number(&r, NUMBERS[_i].text), NUMBERS[_i].is);
  pw_test_ctx_free(ctx);
}
END_TEST

static const struct {
  const char *text;
  int minutes; /* -1: none */
} CLOCKS[] = {
    {"17:30", 1050},   {"7 pm", 1140},     {"12:30pm", 750},  {"12 am", 0},    {"12 pm", 720},
    {"12:05 A.M.", 5}, {"7:05 a.m.", 425}, {"11:59PM", 1439}, {"07 pm", 1140}, {"13 pm", -1},
    {"0 am", -1},      {"7", -1},          {"7:5 pm", -1},    {"7:60 pm", -1}, {"7 pmm", -1},
    {"pm", -1},        {"7 p", -1},        {"24:00", -1},     {"7 pm x", -1},  {"noon", 720},
    {"midnight", -1},  {"5:30", -1},       {"1730", -1},      {"17.30", -1},   {"", -1},
};

/* What is asked back: 1 to 12, and nothing says which half of the day. */
static const struct {
  const char *text;
  int minutes; /* -1: not such a time */
} HALVES[] = {
    {"5:30", 330}, {"7", 420},    {"12", 720},    {"12:59", 779}, {"1:00", 60}, {"0:30", -1}, {"13", -1},   {"5:3", -1},
    {"5:60", -1},  {"5:300", -1}, {"05:30", 330}, {"", -1},       {":30", -1},  {"5:", -1},   {"5 pm", -1}, {"530", -1},
};

START_TEST(halves)
{
  int hour = -1, minute = -1;
  bool is = pw_typed_half(HALVES[_i].text, &hour, &minute);
  ck_assert_msg(is ? hour * 60 + minute == HALVES[_i].minutes : HALVES[_i].minutes == -1, "%s: %d %d:%d",
                HALVES[_i].text, is, hour, minute);
}
END_TEST

START_TEST(clocks)
{
  int hour = -1, minute = -1;
  bool is = pw_typed_clock(CLOCKS[_i].text, &hour, &minute);
  ck_assert_msg(is ? hour * 60 + minute == CLOCKS[_i].minutes : CLOCKS[_i].minutes == -1, "%s: %d %d:%d",
                CLOCKS[_i].text, is, hour, minute);
}
END_TEST

static const struct {
  const char *text;
  enum pw_typed_day is;
  int month, day;
} DAYS[] = {
    {"5/15/2027", PW_DAY_READ, 5, 15},      {"15/5/2027", PW_DAY_READ, 5, 15},
    {"5/6/2027", PW_DAY_EITHER, 5, 6},      {"5/5/2027", PW_DAY_READ, 5, 5},
    {"2/29/2027", PW_DAY_WRONG, 0, 0},      {"2/29/2028", PW_DAY_READ, 2, 29},
    {"13/13/2027", PW_DAY_WRONG, 0, 0},     {"5/15/27", PW_DAY_SHORT, 0, 0},
    {"2027-05-15", PW_DAY_NONE, 0, 0},      {"5/15/2027 ", PW_DAY_NONE, 0, 0},
    {"/15/2027", PW_DAY_NONE, 0, 0},        {"5/15", PW_DAY_NONE, 0, 0},
    {"115/5/2027", PW_DAY_NONE, 0, 0},      {"0/5/2027", PW_DAY_WRONG, 0, 0},
    {"15.5.2027", PW_DAY_READ, 5, 15},      {"5.6.2027", PW_DAY_EITHER, 5, 6},
    {"5-15-2027", PW_DAY_READ, 5, 15},      {"5-6.2027", PW_DAY_NONE, 0, 0},
    {"2027/05/15", PW_DAY_READ, 5, 15},     {"2027/5/6", PW_DAY_READ, 5, 6},
    {"2027-5-6", PW_DAY_READ, 5, 6},        {"2027.13.1", PW_DAY_WRONG, 0, 0},
    {"5/6/27", PW_DAY_SHORT, 0, 0},         {"20270515", PW_DAY_NONE, 0, 0},
    {"5/15/207", PW_DAY_NONE, 0, 0},        {"5/15/20277", PW_DAY_NONE, 0, 0},
    {"May 15, 2027", PW_DAY_READ, 5, 15},   {"15 May 2027", PW_DAY_READ, 5, 15},
    {"Sept. 5 2027", PW_DAY_READ, 9, 5},    {"june 31, 2027", PW_DAY_WRONG, 0, 0},
    {"May 15", PW_DAY_NONE, 0, 0},          {"2027 May 15", PW_DAY_NONE, 0, 0},
    {"Mai 15, 2027", PW_DAY_NONE, 0, 0},    {"May June 5, 2027", PW_DAY_NONE, 0, 0},
    {"Ma 15, 2027", PW_DAY_NONE, 0, 0},     {"May 15 15 2027", PW_DAY_NONE, 0, 0},
    {"Mayday 15, 2027", PW_DAY_NONE, 0, 0}, {"", PW_DAY_NONE, 0, 0},
    {"May 15, 2027 x", PW_DAY_NONE, 0, 0},  {"May 0, 2027", PW_DAY_NONE, 0, 0},
};

START_TEST(days)
{
  struct pw_date day = {0}, other = {0};
  enum pw_typed_day is = pw_typed_day(DAYS[_i].text, &day, &other);
  ck_assert_msg(is == DAYS[_i].is, "%s: %d", DAYS[_i].text, (int)is);
  if (is == PW_DAY_READ || is == PW_DAY_EITHER)
    ck_assert(day.month == DAYS[_i].month && day.day == DAYS[_i].day);
  if (is == PW_DAY_EITHER)
    ck_assert(other.month == DAYS[_i].day && other.day == DAYS[_i].month);
}
END_TEST

/* A name that holds the word asked for is suggested, all of them or none: no list is cut off. */
START_TEST(suggestions)
{
  static const struct {
    const char *name;
  } names[] = {{"brisket-whole"}, {"brisket-flat"}, {"burnt-ends-brisket"}, {"slaw"}, {"pork-pulled"}};
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_reader r = {.ctx = ctx};
  ck_assert_str_eq(pw_reader_suggest(&r, "brisket", names, 5, sizeof *names, 0),
                   "there are \"brisket-whole\", \"brisket-flat\", \"burnt-ends-brisket\"");
  ck_assert_str_eq(pw_reader_suggest(&r, "coleslaw", names, 5, sizeof *names, 0), "did you mean \"slaw\"?");
  ck_assert_str_eq(pw_reader_suggest(&r, "pork-puled", names, 5, sizeof *names, 0), "did you mean \"pork-pulled\"?");
  ck_assert_str_eq(pw_reader_suggest(&r, "Pulled pork", names, 5, sizeof *names, 0), "did you mean \"pork-pulled\"?");
  ck_assert_str_eq(pw_reader_suggest(&r, "flat of brisket", names, 5, sizeof *names, 0),
                   "did you mean \"brisket-flat\"?");
  ck_assert_str_eq(pw_reader_suggest(&r, "Brisket", names, 5, sizeof *names, 0),
                   "there are \"brisket-whole\", \"brisket-flat\", \"burnt-ends-brisket\"");
  ck_assert_str_eq(pw_reader_suggest(&r, "ends", names, 5, sizeof *names, 0), "did you mean \"burnt-ends-brisket\"?");
  ck_assert_str_eq(pw_reader_suggest(&r, "whale", names, 5, sizeof *names, 0),
                   "there are: brisket-whole, brisket-flat, burnt-ends-brisket, slaw, pork-pulled");
  ck_assert_str_eq(pw_reader_suggest(&r, "zz", names, 4, sizeof *names, 0),
                   "there are: brisket-whole, brisket-flat, burnt-ends-brisket, slaw");
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("typed");
  TCase *t = tcase_create("all");
  tcase_add_loop_test(t, numbers, 0, (int)(sizeof NUMBERS / sizeof *NUMBERS));
  tcase_add_loop_test(t, halves, 0, (int)(sizeof HALVES / sizeof *HALVES));
  tcase_add_loop_test(t, clocks, 0, (int)(sizeof CLOCKS / sizeof *CLOCKS));
  tcase_add_loop_test(t, days, 0, (int)(sizeof DAYS / sizeof *DAYS));
  tcase_add_test(t, suggestions);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
