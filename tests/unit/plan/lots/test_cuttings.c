/* test_cuttings.c - a lot cut as it is needed [D4]: rows worked out by hand, then random waves held against the rules themselves, guest
 * by guest. */
#include "dice.h"
#include "harness.h"

#include "plan/lots/cuttings.h"
#include "plan/lots/waves.h"

#include <limits.h>

struct job {
  struct pw_event ev;
  struct pw_service service;
  struct pw_cut cut;
  struct pw_lot lot;
};

static void job_make(struct job *j, enum pw_style style, int length, int pan, double carve)
{
  *j = (struct job){.service = {.at_min = 720, .length_min = length, .style = style},
                    .cut = {.pan_hold_min = pan, .carve_min = carve},
                    .lot = {.by_at_min = 720, .until_at_min = 720 + length, .n_waves = 1}};
  j->ev = (struct pw_event){.services = &j->service, .n_services = 1, .cuts = &j->cut, .n_cuts = 1};
}

/* Guests come evenly: the k-th of n pieces feeds until 720 + length * k / n. */
static const struct {
  const char *name;
  enum pw_style style;
  int length, pan;
  double carve;
  int pieces, n, of[4], sooner[4];
  bool is_in_parts[4];
} rows[] = {
    {"two halves, the second from half an hour on", PW_BUFFET, 120, 90, 2, 8, 2, {4, 4}, {690, 750}, {0}},
    {"plates leave at once", PW_PLATED, 60, 90, 2, 8, 1, {8}, {690}, {0}},
    {"plated for longer than a pan keeps", PW_PLATED, 120, 90, 2, 8, 2, {5, 3}, {705, 750}, {0}},
    {"three goes: 4 pieces feed 60 min, 3 feed 45", PW_BUFFET, 120, 60, 5, 8, 3, {3, 3, 2}, {705, 750, 780}, {0}},
    {"one piece for longer than its pan keeps", PW_BUFFET, 90, 60, 1, 1, 1, {1}, {750}, {true}},
    {"one piece", PW_BUFFET, 90, 120, 1, 1, 1, {1}, {690}, {0}},
    {"no limit told", PW_BUFFET, 200, 0, 2, 5, 2, {3, 2}, {INT_MIN, INT_MIN}, {0}},
};

START_TEST(by_hand)
{
  struct job j;
  struct pw_cutting c[PW_CUTTINGS_MAX];
  job_make(&j, rows[_i].style, rows[_i].length, rows[_i].pan, rows[_i].carve);
  int n = pw_cuttings(c, &j.ev, &j.lot, rows[_i].pieces);
  ck_assert_msg(n == rows[_i].n, "%s: %d goes", rows[_i].name, n);
  for (int k = 0; k < n; k++) {
    ck_assert_msg(c[k].pieces == rows[_i].of[k], "%s: go %d has %d", rows[_i].name, k, c[k].pieces);
    ck_assert_msg(c[k].no_sooner_at_min == rows[_i].sooner[k], "%s: go %d no sooner than %d", rows[_i].name, k,
                  c[k].no_sooner_at_min);
    ck_assert_msg(c[k].is_in_parts == rows[_i].is_in_parts[k], "%s: go %d", rows[_i].name, k);
  }
}
END_TEST

/* Each guest eats of the piece whose turn it is: the last of a go comes no later than pan_hold after its knives may begin, and the first
 * no sooner than they are done, unless the go is cut in parts; and parts are for goes that cannot be smaller. */
START_TEST(random_waves)
{
  struct job j;
  state = 11 + (uint64_t)_i;
  for (int round = 0; round < 400; round++) {
    static const enum pw_style styles[] = {PW_BUFFET, PW_PLATED, PW_FAMILY, PW_BOXED};
    double come[4];
    int parts[4], sum = 0, length = 20 + below(300), pan = 5 + below(150), pieces = 1 + below(90), dealt = 0;
    job_make(&j, styles[below(4)], length, pan, 0.25 * (1 + below(20)));
    for (int i = 0; i < 4; i++)
      sum += parts[i] = below(5);
    for (int i = 0; i < 4; i++)
      come[i] = sum > 0 ? (double)parts[i] / sum : 0;
    j.service.arrive_frac = come;
    j.service.n_arrive = sum > 0 ? 4 : 0;
    j.lot.by_at_min += below(2) * (length / 3);
    j.lot.until_at_min = pw_last_plate_min(&j.service);
    if (j.lot.until_at_min <= j.lot.by_at_min)
      continue;
    struct pw_cutting c[PW_CUTTINGS_MAX];
    int n = pw_cuttings(c, &j.ev, &j.lot, pieces), least = (pieces + PW_CUTTINGS_MAX - 1) / PW_CUTTINGS_MAX;
    double begun = pw_come_frac(&j.service, j.lot.by_at_min - 720),
           all = pw_come_frac(&j.service, j.lot.until_at_min - 720) - begun;
    ck_assert(n >= 1 && n <= PW_CUTTINGS_MAX);
    for (int k = 0; k < n; k++) {
      double upto = (double)(dealt + c[k].pieces) / pieces;
      ck_assert_int_ge(c[k].pieces, 1);
      ck_assert_int_eq(c[k].first_min, k == 0 ? j.lot.by_at_min : c[k - 1].last_min);
      if (all > 0 && k < n - 1) { /* the last plate is the first minute by which its guests have come */
        ck_assert_double_ge(pw_come_frac(&j.service, c[k].last_min - 720) - begun, upto * all - 1e-6);
        ck_assert(c[k].last_min == j.lot.by_at_min ||
                  pw_come_frac(&j.service, c[k].last_min - 1 - 720) - begun < upto * all + 1e-6);
      }
      ck_assert_int_ge(c[k].no_sooner_at_min, c[k].last_min - pan);
      int work = (int)ceil(c[k].pieces * j.cut.carve_min), knives = work < 20 ? work : 20;
      if (!c[k].is_in_parts)
        ck_assert_int_le(c[k].no_sooner_at_min + knives, c[k].first_min);
      else {
        ck_assert_int_le(c[k].pieces, least);
        ck_assert_int_gt(c[k].last_min - pan + knives, c[k].first_min);
      }
      dealt += c[k].pieces;
    }
    ck_assert_int_eq(dealt, pieces);
    ck_assert_int_eq(c[n - 1].last_min, j.lot.until_at_min);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("cuttings");
  TCase *t = tcase_create("cuttings");
  tcase_add_loop_test(t, by_hand, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_loop_test(t, random_waves, 0, 5);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
