/* test_pans_out.c - when which pans go out [D4]: rows by hand, and for every number of pans that none is lost and none comes late. */
#include "harness.h"

#include "plan/lots/pans_out.h"
#include "plan/lots/waves.h"

enum { AT = 1080 };

static const struct {
  const char *name;
  int length, pans;
  double come[4];
  int pieces[3];         /* of waves of an hour; 0: one wave */
  int n, at[4], each[4]; /* minutes after the service begins */
} rows[] = {
    {"evenly", 120, 4, {0}, {0}, 4, {0, 30, 60, 90}, {1, 1, 1, 1}},
    {"one", 120, 1, {0}, {0}, 1, {0}, {1}},
    {"two", 120, 2, {0}, {0}, 2, {0, 60}, {1, 1}},
    {"five", 120, 5, {0}, {0}, 4, {0, 30, 60, 90}, {2, 1, 1, 1}},
    /* 40 % in the first half hour, 30, 20, 10: a quarter by 18 min, half by 40, three quarters by 67 */
    {"most come early", 120, 8, {0.4, 0.3, 0.2, 0.1}, {0}, 4, {0, 15, 40, 65}, {2, 2, 2, 2}},
    {"all at once", 0, 7, {0}, {0}, 1, {0}, {7}},
    {"in waves", 120, 3, {0}, {7, 2}, 3, {0, 30, 60}, {1, 1, 1}},
    {"in waves, more pans", 120, 9, {0}, {7, 2}, 4, {0, 30, 60, 90}, {3, 2, 2, 2}},
    {"a small wave first", 120, 8, {0}, {1, 3}, 3, {0, 60, 90}, {2, 4, 2}}, /* four wanted by 30 min, two are ready */
    {"none", 120, 0, {0}, {0}, 0, {0}, {0}},
};

struct meal {
  struct pw_service service;
  struct pw_dish dish;
  struct pw_event ev;
  struct pw_lot lot[3];
  struct pw_lots lots;
};

static void meal_make(struct meal *m, int i)
{
  memset(m, 0, sizeof *m);
  m->service = (struct pw_service){.at_min = AT, .length_min = rows[i].length, .arrive_frac = rows[i].come};
  m->service.n_arrive = rows[i].come[0] > 0 ? 4 : 0;
  m->dish.cut = rows[i].pieces[0] > 0 ? 0 : PW_NONE;
  m->ev = (struct pw_event){.services = &m->service, .n_services = 1, .dishes = &m->dish, .n_dishes = 1};
  for (int w = 0; w < 3 && rows[i].pieces[w] > 0; w++)
    m->lot[m->lots.n_lots++] = (struct pw_lot){.pieces = rows[i].pieces[w], .wave = w, .by_at_min = AT + 60 * w};
  for (int w = 0; w < m->lots.n_lots; w++)
    m->lot[w].n_waves = m->lots.n_lots;
  m->lots.lots = m->lot;
}

START_TEST(by_hand)
{
  struct meal m;
  struct pw_pans_out out[PW_PANS_OUT_MAX];
  const struct pw_demand_line line = {0};
  meal_make(&m, _i);
  int n = pw_pans_out(out, &m.ev, &m.lots, &line, rows[_i].pans);
  ck_assert_msg(n == rows[_i].n, "%s: %d times", rows[_i].name, n);
  for (int k = 0; k < n; k++)
    ck_assert_msg(out[k].at_min == AT + rows[_i].at[k] && out[k].pans == rows[_i].each[k], "%s: %d pans at +%d",
                  rows[_i].name, out[k].pans, out[k].at_min - AT);
}
END_TEST

/* What is spooned out of the pans it was cooked in comes in those pans, as many as were cooked; all else in what its portions fill. */
START_TEST(cooked_in_pans)
{
  static const struct {
    const char *name;
    enum pw_form form;
    double pans_per_piece;
    int pieces[3], other_line, pans;
  } of[] = {{"four pans of beans, portions for five", PW_FORM_SPOONED, 1, {3, 1, 0}, 0, 4},
            {"pulled pork", PW_FORM_PULLED, 1, {3, 1, 0}, 0, 5},
            {"half a pan each", PW_FORM_SPOONED, 0.5, {3, 1, 0}, 0, 5},
            {"two dishes of one pan", PW_FORM_SPOONED, 1, {3, 1, 0}, 1, 5},
            {"not from the pit", PW_FORM_SPOONED, 1, {0}, 0, 5}};
  for (size_t i = 0; i < sizeof of / sizeof *of; i++) {
    struct meal m;
    meal_make(&m, 0);
    struct pw_cut cut = {.pans_per_piece = of[i].pans_per_piece};
    struct pw_dish dishes[2] = {{.cut = of[i].pieces[0] ? 0 : PW_NONE, .form = of[i].form, .pan_portions = 42},
                                {.cut = 0, .form = of[i].form, .pan_portions = 42}};
    struct pw_menu_line menu[2] = {{.dish = 0}, {.dish = 1}};
    const struct pw_demand_line line = {.dish = 0, .portions_cover = 169};
    m.ev.cuts = &cut;
    m.ev.n_cuts = 1;
    m.ev.dishes = dishes;
    m.service.menu = menu;
    m.service.n_menu = 1 + of[i].other_line;
    for (int w = 0; w < 3 && of[i].pieces[w] > 0; w++)
      m.lot[m.lots.n_lots++] = (struct pw_lot){.pieces = of[i].pieces[w], .wave = w};
    ck_assert_msg(pw_pans_of(&m.ev, &m.lots, &line) == of[i].pans, "%s: %d pans", of[i].name,
                  pw_pans_of(&m.ev, &m.lots, &line));
  }
}
END_TEST

START_TEST(none_is_lost_and_none_is_late)
{
  struct meal m;
  struct pw_pans_out out[PW_PANS_OUT_MAX];
  const struct pw_demand_line line = {0};
  meal_make(&m, _i);
  for (int pans = 1; pans < 60; pans++) {
    int n = pw_pans_out(out, &m.ev, &m.lots, &line, pans), sum = 0;
    ck_assert_int_eq(out[0].at_min, AT);
    for (int k = 0; k < n; k++) {
      ck_assert(out[k].pans > 0 && (k == 0 || out[k].at_min > out[k - 1].at_min));
      double come = pw_come_frac(&m.service, out[k].at_min - AT);
      ck_assert_msg(k == 0 || rows[_i].pieces[0] > 0 || sum >= pans * come - 1e-9, "%s: %d of %d pans out for %.2f",
                    rows[_i].name, sum, pans, come);
      sum += out[k].pans;
    }
    ck_assert_int_eq(sum, pans);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("pans_out");
  TCase *t = tcase_create("pans_out");
  tcase_add_loop_test(t, by_hand, 0, sizeof rows / sizeof *rows);
  tcase_add_test(t, cooked_in_pans);
  tcase_add_loop_test(t, none_is_lost_and_none_is_late, 0, sizeof rows / sizeof *rows);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
