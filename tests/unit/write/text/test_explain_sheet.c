/* test_explain_sheet.c - what `explain` says in words, on the plan of fixture_plan.h: each sentence for the story it tells.  Money is
 * in dollars, area in square feet (1 ft2 = 0.09290304 m2, NIST SP 811). */
#include "fixture_plan.h"
#include "harness.h"

#include "plan/explain/explain.h"
#include "write/text/text_sheets.h"

static struct pw_burn_use uses[3] = {{1, 5, 2, -30, 660}, {2, 3, 0, 0, 420}, {0, 4, 0, 510, 630}};
static struct pw_burn_use finish_only[1] = {{1, 0, 3, 390, 660}};

static const struct {
  const char *name, *says, *not ;
  struct pw_burn_story burn;
  struct pw_worth worth;
  double lp_missed;
  int n_burns, n_worths, n_missed;
  bool is_merged;
} rows[] = {
    {.name = "no fire", .says = "No fire is lit.", .not = "In its last hour"},
    {.name = "nothing is scarce", .says = "Nowhere: counted by area there is enough of everything."},
    {.name = "one piece",
     .says = "In its last hour 1 piece is on. There is no hour to take away.",
     .n_burns = 1,
     .burn = {.late_pieces = 1}},
    {.name = "one would wait",
     .says = "In its last hour 2 pieces are on. With the fire out an hour earlier, 1 piece finds no place.",
     .n_burns = 1,
     .burn = {.late_pieces = 2, .is_hour = true, .without_missed = 1, .without_cents = 900}},
    {.name = "two would wait",
     .says = "2 pieces find no place.",
     .n_burns = 1,
     .burn = {.is_hour = true, .without_missed = 2}},
    {.name = "dearer",
     .says = "everything still finds a place, for $4.50 more.",
     .n_burns = 1,
     .burn = {.is_hour = true, .without_cents = 450}},
    {.name = "for nothing",
     .says = "everything still finds a place at no more cost.",
     .n_burns = 1,
     .burn = {.is_hour = true, .without_cents = 0.4}},
    {.name = "smokes and finishes", .says = "smoke 5, finish 2", .n_burns = 1, .burn = {.uses = uses, .n_uses = 3}},
    {.name = "smokes", .says = "smoke 3", .not = "finish 0", .n_burns = 1, .burn = {.uses = uses + 1, .n_uses = 2}},
    {.name = "finishes",
     .says = "finish 3",
     .not = "smoke 0",
     .n_burns = 1,
     .burn = {.uses = finish_only, .n_uses = 1}},
    {.name = "a hand",
     .says = "hands at the pit",
     .n_worths = 1,
     .worth = {.kind = PW_WORTH_HANDS, .zone = PW_NONE, .finisher = PW_NONE, .fixed_cents = 250, .free_cents = 0.3}},
    {.name = "a hand's price",
     .says = "$2.50 a hand",
     .n_worths = 1,
     .worth = {.kind = PW_WORTH_HANDS, .zone = PW_NONE, .finisher = PW_NONE, .fixed_cents = 250, .free_cents = 0.3}},
    {.name = "nothing with other fires",
     .says = "nothing",
     .n_worths = 1,
     .worth = {.kind = PW_WORTH_HANDS, .zone = PW_NONE, .finisher = PW_NONE, .fixed_cents = 250, .free_cents = 0.3}},
    {.name = "a box",
     .says = "$1.20 a pan",
     .n_worths = 1,
     .worth = {.kind = PW_WORTH_HOLD, .zone = PW_NONE, .finisher = PW_NONE, .fixed_cents = 120}},
    {.name = "an oven by area",
     .says = "Deck oven",
     .not = "a pan",
     .n_worths = 1,
     .worth = {.kind = PW_WORTH_OVEN, .zone = PW_NONE, .finisher = 0, .fixed_cents = 1000}},
    {.name = "an oven in pans",
     .says = "a pan",
     .n_worths = 1,
     .worth = {.kind = PW_WORTH_OVEN, .zone = PW_NONE, .finisher = 1, .fixed_cents = 1000}},
    {.name = "a rack",
     .says = "Long trailer pit",
     .not = "like it",
     .n_worths = 1,
     .worth = {.zone = 0, .n_racks = 1, .n_pits = 1, .finisher = PW_NONE, .fixed_cents = 1000}},
    {.name = "alike racks",
     .says = "main rack and 2",
     .not = "such",
     .n_worths = 1,
     .worth = {.zone = 0, .n_racks = 3, .n_pits = 1, .finisher = PW_NONE, .fixed_cents = 1000}},
    {.name = "alike pits",
     .says = "main rack (2",
     .n_worths = 1,
     .worth = {.zone = 0, .n_racks = 1, .n_pits = 2, .finisher = PW_NONE, .fixed_cents = 1000}},
    /* 10.7639104 pieces per m2 are 1 per ft2, 21.5278 are 2 */
    {.name = "a piece per square foot",
     .says = "and a place for 1 more piece per ft2",
     .n_worths = 1,
     .worth = {.zone = 0,
               .n_racks = 1,
               .n_pits = 1,
               .finisher = PW_NONE,
               .fixed_cents = 1000,
               .fixed_pieces = 1 / 0.09290304}},
    {.name = "two pieces per square foot",
     .says = "and a place for 2 more pieces per ft2",
     .n_worths = 1,
     .worth = {.zone = 0,
               .n_racks = 1,
               .n_pits = 1,
               .finisher = PW_NONE,
               .fixed_cents = 1000,
               .fixed_pieces = 2 / 0.09290304}},
    {.name = "pieces per hand",
     .says = "and a place for 3 more pieces per hand",
     .n_worths = 1,
     .worth = {.kind = PW_WORTH_HANDS, .zone = PW_NONE, .finisher = PW_NONE, .fixed_cents = 1000, .fixed_pieces = 3}},
    {.name = "pieces per pan",
     .says = "and a place for 2 more pieces per pan",
     .n_worths = 1,
     .worth = {.kind = PW_WORTH_HOLD, .zone = PW_NONE, .finisher = PW_NONE, .fixed_cents = 1000, .fixed_pieces = 2}},
    {.name = "it fits", .says = "The job fits.", .not = "even by area"},
    {.name = "it does not fit", .says = "The job does not fit: the plan says what would help.", .n_missed = 2},
    {.name = "by area it would",
     .says = "By area every piece would find a place; their shapes prevent it",
     .n_missed = 2},
    {.name = "nor by area",
     .says = "With the plan's fires 2 pieces have no place even by area",
     .n_missed = 2,
     .lp_missed = 2},
    {.name = "alike taken together", .says = "are counted as one.", .is_merged = true},
    {.name = "each by itself", .says = "Where the figures come from", .not = "are counted as one."},
};

/* The text with its line breaks and runs of blanks made single blanks. */
static void unwrap(char *text)
{
  char *to = text;
  for (char *p = text; *p; p++)
    if ((*p != ' ' && *p != '\n') || (to > text && to[-1] != ' '))
      *to++ = *p == '\n' ? ' ' : *p;
  *to = '\0';
}

START_TEST(sentences)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = *fx_plan_make();
  struct pw_burn_story burn = rows[_i].burn;
  struct pw_worth worth = rows[_i].worth;
  worth.from_at_min = 480, worth.to_at_min = 600;
  struct pw_explain explain = {.burns = &burn,
                               .n_burns = rows[_i].n_burns,
                               .worths = &worth,
                               .n_worths = rows[_i].n_worths,
                               .lp_missed = rows[_i].lp_missed,
                               .is_merged = rows[_i].is_merged};
  struct pw_buf out = pw_buf_in(ctx->arena);
  plan.allocation.n_missed = rows[_i].n_missed;
  ck_assert_int_eq(pw_text_explain(&out, &explain, &plan, ctx), PW_OK);
  char *text = strdup(pw_buf_text(&out));
  ck_assert_ptr_nonnull(text);
  unwrap(text);
  ck_assert_msg(strstr(text, rows[_i].says) != NULL, "%s: \"%s\" is not said in %s", rows[_i].name, rows[_i].says,
                text);
  if (rows[_i].not )
    ck_assert_msg(strstr(text, rows[_i].not ) == NULL, "%s: \"%s\" is said in %s", rows[_i].name, rows[_i].not, text);
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

/* The pork lies on the upper rack of the long pit, over the brisket; then the brisket on a rack below is fish that comes off colder;
 * then nothing drips. */
START_TEST(drips_and_allergens)
{
  static const struct {
    int drips_min;
    bool is_colder, is_fish;
    const char *says, *not ;
  } cases[] = {
      {200, false, false,
       "raw until 03:20, when it is at 145 \xC2\xB0"
       "F inside. On racks below: Whole packer brisket (off at",
       "beside it"},
      {200, true, false, "Whole packer brisket (beside it, not under it).", "(off at"},
      {0, false, false, "Nothing raw lies above another rack.", "raw until"},
      {0, false, false, "No dish of these menus lists fish or nuts.", "own board"},
      {0, false, true, "prepared last, own board, knife, tongs and shelf.", "No dish of these menus"},
  };
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = *fx_plan_make();
  struct pw_event ev = *plan.event;
  struct pw_load loads[FX_LEN(fx_loads)];
  struct pw_cut *cuts = pw_arena_array(ctx->arena, (size_t)ev.n_cuts, sizeof *cuts);
  struct pw_dish *dishes = pw_arena_array(ctx->arena, (size_t)ev.n_dishes, sizeof *dishes);
  struct pw_explain explain = {0};
  const char *allergens[] = {"tree nuts"};
  struct pw_buf out = pw_buf_in(ctx->arena);
  ck_assert(cuts && dishes);
  memcpy(loads, fx_loads, sizeof loads);
  memcpy(cuts, ev.cuts, (size_t)ev.n_cuts * sizeof *cuts);
  memcpy(dishes, ev.dishes, (size_t)ev.n_dishes * sizeof *dishes);
  ev.cuts = cuts, ev.dishes = dishes;
  plan.event = &ev;
  plan.allocation.loads = loads;
  for (int z = 0; z < plan.lots.n_zones; z++) /* the pork goes up */
    if (plan.lots.zones[z].pit == 0 && plan.lots.zones[z].rack == 1)
      loads[2].zone = z;
  loads[2].drips_min = cases[_i].drips_min;
  struct pw_cut *brisket = &cuts[plan.lots.lots[1].cut];
  if (cases[_i].is_colder) {
    brisket->finish.is_used = false;
    brisket->smoke.to_c = 57;
  }
  if (cases[_i].is_fish) {
    dishes[plan.demand.lines[0].dish].allergens = allergens;
    dishes[plan.demand.lines[0].dish].n_allergens = 1;
  }
  ck_assert_int_eq(pw_text_explain(&out, &explain, &plan, ctx), PW_OK);
  char *text = strdup(pw_buf_text(&out));
  ck_assert_ptr_nonnull(text);
  unwrap(text);
  ck_assert_msg(strstr(text, cases[_i].says) != NULL, "\"%s\" is not said in %s", cases[_i].says, text);
  ck_assert_msg(strstr(text, cases[_i].not ) == NULL, "\"%s\" is said in %s", cases[_i].not, text);
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("explain_sheet");
  TCase *t = tcase_create("words");
  tcase_add_loop_test(t, sentences, 0, (int)(sizeof rows / sizeof *rows));
  tcase_add_loop_test(t, drips_and_allergens, 0, 5);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
