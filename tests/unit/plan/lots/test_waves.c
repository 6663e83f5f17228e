/* test_waves.c - waves [D4]: rows worked out by hand, then random services: whole pieces, one after the other, the fewest that keep. */
#include "dice.h"
#include "harness.h"

#include "plan/lots/waves.h"

enum { SHARES_MAX = 6 };

static const struct {
  const char *name;
  int at, length, slot, pieces, hold, pan, early, asked_dish, asked_service;
  double come[SHARES_MAX];
  int n, pieces_of[6], until[6]; /* minutes after the first plate */
  int least;                     /* what the grates want */
} rows[] = {
    {"keeps in its pan", 1080, 90, 15, 12, 90, 90, 45, 0, 0, {0}, 1, {12}, {90}, 1},
    {"whole for the rest", 1080, 120, 15, 12, 90, 60, 30, 0, 0, {0}, 1, {12}, {120}, 1},
    {"not whole for long enough", 1080, 120, 15, 12, 90, 60, 45, 0, 0, {0}, 2, {6, 6}, {60, 120}, 1},
    /* 210 min: one wave is whole 150 of 90, two of 105 are whole 45 and 45 + 30 <= 90 */
    {"a long lunch", 720, 210, 15, 40, 90, 60, 30, 0, 0, {0}, 2, {20, 20}, {105, 210}, 1},
    /* 40, 30, 20 and 10 % come in four stretches of 60: by half time 70 % */
    {"most come early", 720, 240, 15, 10, 60, 90, 15, 0, 0, {0.4, 0.3, 0.2, 0.1}, 2, {7, 3}, {120, 240}, 1},
    {"rounded to what has come", 720, 240, 15, 9, 60, 90, 15, 0, 0, {0.4, 0.3, 0.2, 0.1}, 2, {7, 2}, {120, 240}, 1},
    {"the last plate is not the last minute", 720, 240, 15, 9, 90, 60, 15, 0, 0, {0.6, 0.4, 0, 0}, 1, {9}, {120}, 1},
    {"one piece is one wave", 720, 240, 15, 1, 30, 30, 15, 0, 0, {0}, 1, {1}, {240}, 1},
    {"two of three waves would be empty", 720, 240, 15, 2, 30, 30, 15, 0, 0, {0}, 2, {1, 1}, {120, 240}, 1},
    {"no limit in pans", 720, 240, 15, 9, 30, 0, 15, 0, 0, {0}, 1, {9}, {240}, 1},
    {"one wave is asked for", 720, 240, 15, 9, 30, 30, 15, 1, 4, {0}, 1, {9}, {240}, 1},
    {"three are asked for", 720, 240, 15, 9, 600, 600, 15, 0, 3, {0}, 3, {3, 4, 2}, {75, 165, 240}, 1},
    {"on the grid", 720, 100, 30, 4, 600, 600, 15, 2, 0, {0}, 2, {3, 1}, {60, 100}, 1},
    {"the grates want three", 720, 90, 15, 8, 45, 45, 0, 0, 0, {0}, 3, {3, 3, 2}, {30, 60, 90}, 3},
    {"the grates want more than the hold", 720, 120, 15, 12, 90, 60, 45, 0, 0, {0}, 3, {5, 3, 4}, {45, 75, 120}, 3},
    {"the hold wants more", 720, 210, 15, 40, 90, 60, 30, 0, 0, {0}, 2, {20, 20}, {105, 210}, 1},
    {"the grates want more than the grid has", 720, 30, 15, 9, 600, 600, 0, 0, 0, {0}, 2, {5, 4}, {15, 30}, 5},
    {"what is asked for stands", 720, 90, 15, 8, 45, 45, 0, 2, 0, {0}, 2, {4, 4}, {45, 90}, 3},
    {"more asked than the grid has room for", 720, 30, 15, 9, 600, 600, 15, 5, 0, {0}, 2, {5, 4}, {15, 30}, 1},
};

struct job {
  struct pw_event ev;
  struct pw_service service;
  struct pw_menu_line menu;
  struct pw_dish dish;
  struct pw_cut cut;
};

static void job_make(struct job *j)
{
  *j = (struct job){.dish = {.id = "dish", .cut = 0}};
  j->service.menu = &j->menu;
  j->service.n_menu = 1;
  j->ev = (struct pw_event){
      .services = &j->service, .n_services = 1, .dishes = &j->dish, .n_dishes = 1, .cuts = &j->cut, .n_cuts = 1};
}

START_TEST(by_hand)
{
  struct job j;
  struct pw_waves w;
  double come[SHARES_MAX], sum = 0;
  job_make(&j);
  for (int i = 0; i < SHARES_MAX; i++) {
    come[i] = rows[_i].come[i];
    sum += come[i];
  }
  j.ev.slot_min = rows[_i].slot;
  j.service.at_min = rows[_i].at;
  j.service.length_min = rows[_i].length;
  j.service.arrive_frac = come;
  j.service.n_arrive = sum > 0 ? 4 : 0;
  j.service.n_waves = rows[_i].asked_service;
  j.menu.n_waves = rows[_i].asked_dish;
  j.cut.hold_max_min = rows[_i].hold;
  j.cut.pan_hold_min = rows[_i].pan;
  pw_waves_make(&w, &j.ev, 0, 0, rows[_i].pieces, rows[_i].early, rows[_i].least, false);
  ck_assert_msg(w.n == rows[_i].n, "%s: %d waves", rows[_i].name, w.n);
  for (int k = 0; k < w.n; k++) {
    ck_assert_msg(w.list[k].pieces == rows[_i].pieces_of[k], "%s: wave %d has %d pieces", rows[_i].name, k,
                  w.list[k].pieces);
    ck_assert_msg(w.list[k].until_at_min - rows[_i].at == rows[_i].until[k], "%s: wave %d until %d", rows[_i].name, k,
                  w.list[k].until_at_min - rows[_i].at);
    ck_assert_int_eq(w.list[k].from_at_min, k == 0 ? rows[_i].at : w.list[k - 1].until_at_min);
  }
  pw_waves_make(&w, &j.ev, 0, 0, rows[_i].pieces, rows[_i].early, rows[_i].least, true);
  ck_assert_int_eq(w.n, 1); /* cooked the day before, reheated at once */
}
END_TEST

/* Longest whole time of n equal stretches that need not lie on the grid: no n below the answer's comes under the limit by more than
 * what the grid takes. */
START_TEST(random_services)
{
  struct job j;
  double come[SHARES_MAX];
  job_make(&j);
  state = 7 + (uint64_t)_i;
  for (int round = 0; round < 300; round++) {
    static const int slots[] = {15, 30, 60};
    int slot = j.ev.slot_min = slots[below(3)], n_come = below(SHARES_MAX + 1), sum = 0;
    int parts[SHARES_MAX];
    for (int i = 0; i < n_come; i++)
      sum += parts[i] = below(9);
    if (sum == 0)
      n_come = 0;
    for (int i = 0; i < n_come; i++)
      come[i] = (double)parts[i] / sum;
    j.service = (struct pw_service){.at_min = below(1400),
                                    .length_min = 5 + below(600),
                                    .menu = &j.menu,
                                    .n_menu = 1,
                                    .arrive_frac = come,
                                    .n_arrive = n_come};
    j.cut.hold_max_min = below(300);
    j.cut.pan_hold_min = 5 + below(180);
    int pieces = 1 + below(60), early = below(90), all = 0, whole = 0;
    struct pw_waves w;
    pw_waves_make(&w, &j.ev, 0, 0, pieces, early, 1, false);
    ck_assert(w.n >= 1 && w.n <= pieces && w.n <= PW_WAVES_MAX);
    ck_assert_int_eq(w.list[0].from_at_min, j.service.at_min);
    ck_assert_int_eq(w.list[w.n - 1].until_at_min, pw_last_plate_min(&j.service));
    ck_assert_int_le(pw_last_plate_min(&j.service), j.service.at_min + j.service.length_min);
    for (int k = 0; k < w.n; k++) {
      ck_assert_int_ge(w.list[k].pieces, 1);
      ck_assert(w.n == 1 || w.list[k].from_at_min < w.list[k].until_at_min);
      ck_assert(k == 0 || w.list[k].from_at_min == w.list[k - 1].until_at_min);
      ck_assert_int_eq((w.list[k].from_at_min - j.service.at_min) % slot, 0);
      all += w.list[k].pieces;
      int own = pw_wave_whole_min(&w.list[k], &j.cut);
      whole = own > whole ? own : whole;
    }
    ck_assert_int_eq(all, pieces);
    int span = pw_last_plate_min(&j.service) - j.service.at_min;
    bool keeps = whole == 0 || whole + early <= j.cut.hold_max_min;
    for (int n = 1; n < w.n && keeps && n_come == 0 && pieces >= 4 * w.n;
         n++) { /* fewer would not have kept, but for a step of the grid */
      int least = (span + n - 1) / n - j.cut.pan_hold_min + slot;
      ck_assert_msg(least > 0 && least + early > j.cut.hold_max_min, "%d waves of %d min, and %d would do", w.n, span,
                    n);
    }
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("waves");
  TCase *t = tcase_create("waves");
  tcase_add_loop_test(t, by_hand, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_loop_test(t, random_services, 0, 4);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
