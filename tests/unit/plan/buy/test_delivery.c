/* test_delivery.c - when goods are ordered, brought and thawed, and when a piece is mopped; all by hand, in days from Saturday
 * 2027-06-12.  Thawing: USDA FSIS, "The Big Thaw" (2013), 24 h per 5 lb in the refrigerator. */
#include "harness.h"

#include "plan/buy/delivery.h"
#include "plan/fire/mop.h"

#include <limits.h>

enum { DAY = 1440, SUN = 1, MON = 2, TUE = 4, WED = 8, THU = 16, FRI = 32, SAT = 64 };

static const struct {
  const char *name;
  enum pw_category category;
  enum pw_store store;
  int keeps_min;
  int prep, load, service, last; /* minutes: first kitchen work, first load, first service, last use */
  double piece_kg;
  unsigned days;
  int deliver, thaw; /* minutes; thaw INT_MIN: none */
  bool is_too_short, has_no_day;
} rows[] = {
    {"a day before the first work", PW_CAT_SIDE, PW_STORE_CHILLED, 5 * DAY, 600, 0, 1050, 1200, 0, 0, 600 - DAY,
     INT_MIN, false, false},
    {"keeps 20 h: so late that the last use is in time", PW_CAT_SIDE, PW_STORE_CHILLED, 1200, 600, 0, 1050, 1200, 0, 0,
     0, INT_MIN, false, false},
    {"the same, on the whole hour", PW_CAT_SIDE, PW_STORE_CHILLED, 1200, 600, 0, 1050, 1230, 0, 0, 60, INT_MIN, false,
     false},
    {"no whole hour left", PW_CAT_SIDE, PW_STORE_CHILLED, 1200, 50, 0, 1050, 1230, 0, 0, 30, INT_MIN, false, false},
    {"the whole hour is when the work begins", PW_CAT_SIDE, PW_STORE_CHILLED, 610, 600, 0, 1050, 1200, 0, 0, 600,
     INT_MIN, false, false},
    {"keeps just from work to last use", PW_CAT_SIDE, PW_STORE_CHILLED, 600, 600, 0, 1050, 1200, 0, 0, 600, INT_MIN,
     false, false},
    {"does not keep from work to last use", PW_CAT_SIDE, PW_STORE_CHILLED, 300, 600, 0, 1050, 1200, 0, 0, 600, INT_MIN,
     true, false},
    {"bread may come as late as the service", PW_CAT_BREAD, PW_STORE_DRY, 300, 600, 0, 1050, 1200, 0, 0, 900, INT_MIN,
     false, false},
    {"drinks too", PW_CAT_DRINK, PW_STORE_DRY, 300, 600, 0, 1050, 1200, 0, 0, 900, INT_MIN, false, false},
    {"sauce not", PW_CAT_SAUCE, PW_STORE_DRY, 300, 600, 0, 1050, 1200, 0, 0, 600, INT_MIN, true, false},
    {"meat until three hours before the fire", PW_CAT_MEAT, PW_STORE_CHILLED, 600, 0, 500, 1050, 920, 0, 0, 320,
     INT_MIN, false, false},
    {"meat that goes on soon after its first work", PW_CAT_MEAT, PW_STORE_CHILLED, 100, 600, 700, 1050, 900, 0, 0, 600,
     INT_MIN, true, false},
    {"his only day is the last that will do", PW_CAT_SIDE, PW_STORE_CHILLED, 2040, 600, 0, 1050, 1200, 0, SAT, 600,
     INT_MIN, false, false},
    {"the supplier's last day before", PW_CAT_SIDE, PW_STORE_CHILLED, 9 * DAY, 600, 0, 1050, 1200, 0, TUE,
     600 - 4 * DAY, INT_MIN, false, false},
    {"his day is that day", PW_CAT_SIDE, PW_STORE_CHILLED, 9 * DAY, 600, 0, 1050, 1200, 0, FRI | MON, 600 - DAY,
     INT_MIN, false, false},
    {"none before that keeps, one after", PW_CAT_BREAD, PW_STORE_DRY, DAY + 600, 600, 0, 1050, 1200, 0, SAT, 600,
     INT_MIN, false, false},
    {"none at all", PW_CAT_SIDE, PW_STORE_CHILLED, 2 * DAY, 600, 0, 1050, 1200, 0, WED, 600 - DAY, INT_MIN, false,
     true},
    {"two weeks back at most", PW_CAT_SIDE, PW_STORE_DRY, 0, 600, 0, 1050, 1200, 0, SAT, 600 - 7 * DAY, INT_MIN, false,
     false},
    {"5 lb thaw a day", PW_CAT_MEAT, PW_STORE_FROZEN, 90 * DAY, 600, 900, 1050, 1200, 2.26796185, 0, 600 - 2 * DAY,
     600 - DAY, false, false},
    {"a little more thaws two", PW_CAT_MEAT, PW_STORE_FROZEN, 90 * DAY, 600, 900, 1050, 1200, 2.3, 0, 600 - 3 * DAY,
     600 - 2 * DAY, false, false},
    {"less than 5 lb thaws a day all the same", PW_CAT_MEAT, PW_STORE_FROZEN, 90 * DAY, 600, 900, 1050, 1200, 0.4, 0,
     600 - 2 * DAY, 600 - DAY, false, false},
    {"not as one piece", PW_CAT_MEAT, PW_STORE_FROZEN, 90 * DAY, 600, 900, 1050, 1200, 0, 0, 600 - DAY, INT_MIN, false,
     false},
    {"chilled does not thaw", PW_CAT_MEAT, PW_STORE_CHILLED, 90 * DAY, 600, 900, 1050, 1200, 6, 0, 600 - DAY, INT_MIN,
     false, false},
};

START_TEST(dates)
{
  struct pw_item item = {.category = rows[_i].category,
                         .store = rows[_i].store,
                         .keeps_min = rows[_i].keeps_min,
                         .order_ahead_min = 2 * DAY};
  struct pw_event ev = {.date = {2027, 6, 12}, .items = &item, .n_items = 1};
  struct pw_account account = {.prep_at_min = rows[_i].prep,
                               .first_load_at_min = rows[_i].load,
                               .first_service_at_min = rows[_i].service,
                               .last_at_min = rows[_i].last};
  struct pw_delivery d = pw_delivery_make(&ev, 0, &account, rows[_i].piece_kg, rows[_i].days);
  ck_assert_msg(d.deliver_at_min == rows[_i].deliver, "%s: delivered at %d, wanted %d", rows[_i].name, d.deliver_at_min,
                rows[_i].deliver);
  ck_assert_msg(d.order_by_at_min == rows[_i].deliver - 2 * DAY, "%s: ordered by %d", rows[_i].name, d.order_by_at_min);
  ck_assert_msg(d.thaw_from_at_min == rows[_i].thaw, "%s: thaws from %d", rows[_i].name, d.thaw_from_at_min);
  ck_assert_msg(d.is_too_short == rows[_i].is_too_short && d.has_no_day == rows[_i].has_no_day, "%s: %d, %d",
                rows[_i].name, d.is_too_short, d.has_no_day);
}
END_TEST

/* On from 0, the rub has set at 120, a mop every 60, off at the end of the row. */
static const struct {
  const char *name;
  int every, off, after, at;
} mops[] = {
    {"an hour after the rub has set", 60, 600, 0, 180},
    {"the next after one", 60, 600, 180, 240},
    {"between two", 60, 600, 239, 240},
    {"just when the rub has set", 60, 600, 120, 180},
    {"just before that", 60, 600, 119, 180},
    {"the last, three quarters of an hour before it comes off", 60, 285, 180, 240},
    {"not a minute less", 60, 284, 180, INT_MAX},
    {"never", 0, 600, 0, INT_MAX},
};

START_TEST(next_mop)
{
  struct pw_cut cut = {.mop_every_min = mops[_i].every, .rub_set_min = 120};
  int at = pw_mop_next_at_min(&cut, 0, mops[_i].off, mops[_i].after);
  ck_assert_msg(at == mops[_i].at, "%s: %d", mops[_i].name, at);
  PW_NEAR("half a minute each", pw_mop_work_min(9), 4.5, 0, 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("delivery");
  TCase *t = tcase_create("by hand");
  tcase_add_loop_test(t, dates, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_loop_test(t, next_mop, 0, (int)(sizeof mops / sizeof *mops));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
