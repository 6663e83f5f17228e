/* Where two jobs meet: pits, boxes, persons by name, roles by how many there are. */
#include "harness.h"

#include "season/clash.h"

static struct pw_ctx *ctx;
static void set_up(void) { ctx = pw_test_ctx(); }
static void tear_down(void) { pw_test_ctx_free(ctx); }

/* Minutes of two days; a shift or a fire from .. to of a job whose road takes 30 min. */
static struct pw_season_use use(enum pw_season_use_kind kind, const char *name, int job, int hands, int from, int to,
                                int there_are)
{
  return (struct pw_season_use){.kind = kind,
                                .name = name,
                                .job = job,
                                .hands = hands,
                                .from_min = from,
                                .to_min = to,
                                .first_day = from / 1440,
                                .last_day = (to - 1) / 1440,
                                .from = "",
                                .to = "",
                                .travel_min = 30,
                                .there_are = there_are};
}

enum { NONE = -1 };
static const struct {
  const char *name;
  struct {
    enum pw_season_use_kind kind;
    const char *name;
    int hands, from, to, there_are;
  } of[2];
  int kind; /* of the clash, or NONE */
  int hands, free_min;
} rows[] = {
    {"one pit at once",
     {{PW_SEASON_PIT, "P", 1, 0, 600, 0}, {PW_SEASON_PIT, "P", 1, 599, 900, 0}},
     PW_SEASON_AT_ONCE,
     0,
     0},
    {"two pits", {{PW_SEASON_PIT, "P", 1, 0, 600, 0}, {PW_SEASON_PIT, "Q", 1, 0, 600, 0}}, NONE, 0, 0},
    {"a pit and a box of one name",
     {{PW_SEASON_PIT, "P", 1, 0, 600, 0}, {PW_SEASON_BOX, "P", 1, 0, 600, 0}},
     NONE,
     0,
     0},
    {"no time for the road",
     {{PW_SEASON_BOX, "B", 1, 0, 600, 0}, {PW_SEASON_BOX, "B", 1, 659, 900, 0}},
     PW_SEASON_NO_ROAD,
     0,
     59},
    {"just the road",
     {{PW_SEASON_BOX, "B", 1, 0, 600, 0}, {PW_SEASON_BOX, "B", 1, 660, 900, 0}},
     PW_SEASON_SAME_DAY,
     0,
     60},
    {"the next day", {{PW_SEASON_PIT, "P", 1, 0, 1300, 0}, {PW_SEASON_PIT, "P", 1, 1440, 1500, 0}}, NONE, 0, 0},
    {"over midnight",
     {{PW_SEASON_PIT, "P", 1, 0, 1420, 0}, {PW_SEASON_PIT, "P", 1, 1440, 1500, 0}},
     PW_SEASON_NO_ROAD,
     0,
     20},
    {"one person",
     {{PW_SEASON_PERSON, "Jo", 1, 0, 600, 1}, {PW_SEASON_PERSON, "Jo", 1, 300, 900, 1}},
     PW_SEASON_AT_ONCE,
     0,
     0},
    {"enough hands", {{PW_SEASON_ROLE, "hand", 3, 0, 600, 6}, {PW_SEASON_ROLE, "hand", 3, 300, 900, 6}}, NONE, 0, 0},
    {"a hand too few",
     {{PW_SEASON_ROLE, "hand", 3, 0, 600, 6}, {PW_SEASON_ROLE, "hand", 4, 300, 900, 6}},
     PW_SEASON_AT_ONCE,
     7,
     0},
    {"one after the other",
     {{PW_SEASON_ROLE, "hand", 4, 0, 600, 6}, {PW_SEASON_ROLE, "hand", 4, 600, 900, 6}},
     NONE,
     0,
     0},
    {"nobody knows how many",
     {{PW_SEASON_ROLE, "cook", 1, 0, 600, 0}, {PW_SEASON_ROLE, "cook", 1, 300, 900, 0}},
     PW_SEASON_HOW_MANY,
     2,
     0},
};

/* Either way round, and of one job never. */
START_TEST(meet)
{
  for (int swap = 0; swap < 3; swap++) {
    struct pw_season_use uses[2];
    for (int k = 0; k < 2; k++)
      uses[swap == 1 ? 1 - k : k] =
          use(rows[_i].of[k].kind, rows[_i].of[k].name, swap == 2 ? 0 : k, rows[_i].of[k].hands, rows[_i].of[k].from,
              rows[_i].of[k].to, rows[_i].of[k].there_are);
    struct pw_season s = {.uses = uses, .n_uses = 2};
    ck_assert_int_eq(pw_season_clashes(&s, ctx), PW_OK);
    ck_assert_msg(s.n_clashes == (swap < 2 && rows[_i].kind != NONE), "%s, %d: %d", rows[_i].name, swap, s.n_clashes);
    if (s.n_clashes == 0)
      continue;
    ck_assert_msg((int)s.clashes[0].kind == rows[_i].kind, "%s: %d", rows[_i].name, (int)s.clashes[0].kind);
    ck_assert_int_eq(s.clashes[0].hands, rows[_i].hands);
    ck_assert_int_eq(s.clashes[0].free_min, rows[_i].free_min);
    ck_assert_int_lt(s.uses[s.clashes[0].a].from_min, s.uses[s.clashes[0].b].from_min);
  }
}
END_TEST

/* Three jobs: each pair, the worst first. */
START_TEST(worst_first)
{
  struct pw_season_use uses[] = {use(PW_SEASON_PIT, "P", 2, 1, 700, 900, 0), use(PW_SEASON_PIT, "P", 0, 1, 0, 300, 0),
                                 use(PW_SEASON_PIT, "P", 1, 1, 200, 600, 0)};
  struct pw_season s = {.uses = uses, .n_uses = 3};
  ck_assert_int_eq(pw_season_clashes(&s, ctx), PW_OK);
  ck_assert_int_eq(s.n_clashes, 3);
  ck_assert_int_eq(s.clashes[0].kind, PW_SEASON_AT_ONCE);
  ck_assert_int_eq(s.clashes[1].kind, PW_SEASON_SAME_DAY);
  ck_assert_int_eq(s.clashes[2].kind, PW_SEASON_SAME_DAY);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("season");
  TCase *t = tcase_create("season");
  tcase_add_checked_fixture(t, set_up, tear_down);
  tcase_add_loop_test(t, meet, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_test(t, worst_first);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
