/* test_plan_check.c - the judge: a good plan passes; each rule broken once is found, and only its own label.
 * The good plan is tests/data/plan-good.json, made by hand with the fixed keys only. */
#include "harness.h"

#include "judge/plan_check.h"

#include <stdbool.h>
#include <stdint.h>

static char *good;
static size_t n_good;

static void setup(void)
{
  FILE *f = fopen("tests/data/plan-good.json", "rb");
  if (!f || fseek(f, 0, SEEK_END) != 0)
    abort();
  long size = ftell(f);
  rewind(f);
  good = calloc(1, (size_t)size + 1);
  if (!good || fread(good, 1, (size_t)size, f) != (size_t)size)
    abort();
  n_good = (size_t)size;
  fclose(f);
}

static void teardown(void) { free(good); }

struct edit {
  const char *from, *to;
};

/** The good plan with the edits made one after another; each `from` must be there exactly once.  The caller frees. */
static char *edited(const char *name, const struct edit *edits, int n_edits)
{
  char *text = strdup(good);
  for (int i = 0; i < n_edits && edits[i].from && text; i++) {
    char *at = strstr(text, edits[i].from);
    ck_assert_msg(at != NULL, "%s: \"%s\" is not there to change", name, edits[i].from);
    ck_assert_msg(strstr(at + 1, edits[i].from) == NULL, "%s: \"%s\" is there twice", name, edits[i].from);
    size_t before = (size_t)(at - text), n_from = strlen(edits[i].from);
    char *next = calloc(1, strlen(text) - n_from + strlen(edits[i].to) + 1);
    if (!next)
      abort();
    memcpy(next, text, before);
    strcpy(next + before, edits[i].to);
    strcat(next, at + n_from);
    free(text);
    text = next;
  }
  if (!text)
    abort();
  return text;
}

static void expect_only(const char *name, const char *text, const char *label, const char *path, int wanted)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n = -1;
  pw_status status = pw_plan_check_text("plan.json", text, strlen(text), &n, ctx);
  ck_assert_msg(status == PW_OK, "%s: status %d", name, (int)status);
  ck_assert_msg(n >= 1, "%s: not found", name);
  ck_assert_msg(wanted == 0 || n == wanted, "%s: %d findings, not %d", name, n, wanted);
  ck_assert_msg(strncmp(ctx->diags[0].text, path, strlen(path)) == 0, "%s: \"%s\" does not begin with \"%s\"", name,
                ctx->diags[0].text, path);
  for (int i = 0; i < ctx->n_diags; i++)
    ck_assert_msg(strcmp(ctx->diags[i].code, label) == 0 ||
                      (strcmp(label, "J0") == 0 && strcmp(ctx->diags[i].code, "not-judged") == 0),
                  "%s: also [%s] %s", name, ctx->diags[i].code, ctx->diags[i].text);
  pw_test_ctx_free(ctx);
}

START_TEST(the_good_plan_passes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n = -1;
  ck_assert_int_eq(pw_plan_check_file("tests/data/plan-good.json", &n, ctx), PW_OK);
  ck_assert_msg(n == 0 && ctx->n_diags == 0, "[%s] %s", ctx->n_diags ? ctx->diags[0].code : "",
                ctx->n_diags ? ctx->diags[0].text : "");
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- one rule broken ------------------------------------------------------------------------------------- */

#define SMOKE1          "\"place\": \"long/main/1\", \"pieces\": 2, \"start_min\": 0, \"end_min\": 420"
#define OVEN            "\"place\": \"oven\", \"pieces\": 2, \"start_min\": 450, \"end_min\": 690"
#define HOLD            "\"stage\": \"hold\", \"place\": \"box\", \"pieces\": 4, \"start_min\": 750, \"end_min\": 1050"
#define LADDER          "\"ladder\": [{\"guests\": 50"
#define NO_WARNINGS     "\"warnings\": []"
#define CHICKEN_END     "\"rest_min\": 10, \"hold_max_min\": 120"
#define IDS(list)       "\"piece_ids\": [" list "], "
#define BRISKET_RECTS_1 "\"rects\": [{\"x_m\": 0, \"y_m\": 0, \"length_m\": 0.50"

#define ID1(ids)                                                                                                       \
  {                                                                                                                    \
    "\"rects\": [{\"x_m\": 0, \"y_m\": 0,", "\"piece_ids\": [" ids "], \"rects\": [{\"x_m\": 0, \"y_m\": 0,"           \
  }
#define ID2(ids)                                                                                                       \
  {                                                                                                                    \
    "\"rects\": [{\"x_m\": 0.9, \"y_m\": 0, ", "\"piece_ids\": [" ids "], \"rects\": [{\"x_m\": 0.9, \"y_m\": 0, "     \
  }
#define ID3(ids)                                                                                                       \
  {                                                                                                                    \
    "\"rects\": [{\"x_m\": 0.01", "\"piece_ids\": [" ids "], \"rects\": [{\"x_m\": 0.01"                               \
  }
#define ID4(ids)                                                                                                       \
  {                                                                                                                    \
    OVEN, OVEN ", \"piece_ids\": [" ids "]"                                                                            \
  }
#define ID5                                                                                                            \
  {                                                                                                                    \
    "\"end_min\": 750,", "\"end_min\": 750, \"piece_ids\": [0, 1, 2, 3],"                                              \
  }
#define ID6                                                                                                            \
  {                                                                                                                    \
    HOLD, HOLD ", \"piece_ids\": [3, 2, 1, 0]"                                                                         \
  }
#define EARLY_BURN                                                                                                     \
  "{\"pit\": \"drum\", \"lit_min\": 600, \"ready_min\": 660, \"out_min\": 700, \"fuel_kg\": 0, "                       \
  "\"start_charcoal_kg\": 0, "                                                                                         \
  "\"feeds\": []}, "
#define BURN_UNTIL(out)                                                                                                \
  "{\"pit\": \"drum\", \"lit_min\": 600, \"ready_min\": 660, \"out_min\": " out ", \"fuel_kg\": 0, "                   \
  "\"start_charcoal_kg\": 0, \"feeds\": []}"
#define CREW_1 "{\"role\": \"pitmaster\", \"count\": 1, \"from_min\": -150, \"to_min\": 600"
#define CREW_2 "},\n  {\"role\": \"pitmaster\", \"count\": 1, \"from_min\": 600, \"to_min\": 1080"
#define CREW_3 "},\n  {\"role\": \"server\", \"count\": 2, \"from_min\": 900, \"to_min\": 1200"
#define CREW   CREW_1 CREW_2 CREW_3
#define CREW_AT(rate)                                                                                                  \
  CREW_1 ", \"cents_per_h\": 2000" CREW_2 ", \"cents_per_h\": 2000" CREW_3 ", \"cents_per_h\": " rate
#define ONE_MISSED                                                                                                     \
  {"\"pieces\": 4, \"footprint_m\": [0.50", "\"pieces\": 5, \"footprint_m\": [0.50"},                                  \
  {                                                                                                                    \
    "\"place\": \"box\", \"minutes\": 60}],\n   \"missed\": 0",                                                        \
        "\"place\": \"box\", \"minutes\": 60}],\n   \"missed\": 1"                                                     \
  }

#define PANS(dish, pans, hot, place, from, to)                                                                         \
  "{\"dish\": \"" dish "\", \"service\": \"dinner\", \"pans\": " pans ", \"hot\": " hot ", \"place\": " place          \
  ", \"from_min\": " from ", \"to_min\": " to "}"
#define ROOMY                                                                                                          \
  {                                                                                                                    \
    "\"capacity\": 2.6", "\"capacity\": 9"                                                                             \
  }
#define SIDES(list)                                                                                                    \
  {                                                                                                                    \
    "\"version\": 1,", "\"version\": 1, \"side_pans\": [" list "],"                                                    \
  }
#define CORE(smoke, end, rule, come_up, log, hold)                                                                     \
  "\"cores\": [{\"lot\": \"dinner/brisket\", \"smoke_c\": " smoke ", \"end_core_c\": " end ", \"rule_core_c\": " rule  \
  ", \"is_raw\": true, \"come_up_min\": " come_up ", \"log_reduction\": " log ", \"hold_log_reduction\": " hold        \
  ", \"log_needed\": 6.5}], "

static const struct {
  const char *name, *label, *path;
  struct edit edits[6];
} broken[] = {
    {"a core is said to lie hotter than its coolest load",
     "J13",
     "cores[0].smoke_c",
     {{NO_WARNINGS, CORE("132", "95", "62.8", "230", "99", "20") NO_WARNINGS}}},
    {"a core comes off below its rule without a basis",
     "J13",
     "cores[0].end_core_c",
     {{NO_WARNINGS, CORE("121", "57", "62.8", "230", "99", "20") NO_WARNINGS}}},
    {"a rule that no code has",
     "J13",
     "cores[0].rule_core_c",
     {{NO_WARNINGS, CORE("121", "57", "50", "230", "99", "20") NO_WARNINGS}}},
    {"a core that warms for seven hours, unsaid",
     "J13",
     "cores[0].come_up_min",
     {{NO_WARNINGS, CORE("121", "95", "62.8", "420", "99", "20") NO_WARNINGS}}},
    {"a core that is never warm, unsaid",
     "J13",
     "cores[0].come_up_min",
     {{NO_WARNINGS, CORE("121", "95", "62.8", "null", "99", "20") NO_WARNINGS}}},
    {"too little lethality, unsaid",
     "J13",
     "cores[0].log_reduction",
     {{NO_WARNINGS, CORE("121", "95", "62.8", "230", "3.2", "3.2") NO_WARNINGS}}},
    {"less lethality asked for than the law does",
     "J13",
     "cores[0].log_needed",
     {{NO_WARNINGS,
       "\"cores\": [{\"lot\": \"dinner/brisket\", \"smoke_c\": 121, \"end_core_c\": 95, \"rule_core_c\": 62.8, "
       "\"is_raw\": true, "
       "\"come_up_min\": 230, \"log_reduction\": 9, \"hold_log_reduction\": 0, \"log_needed\": 5}], " NO_WARNINGS}}},
    {"a core of a lot that is not there",
     "J0",
     "cores[0].lot",
     {{NO_WARNINGS, "\"cores\": [{\"lot\": \"x\", \"end_core_c\": 95, \"rule_core_c\": 62.8, \"is_raw\": true, "
                    "\"log_reduction\": 9, \"log_needed\": 6.5}], " NO_WARNINGS}}},
    {"a box that does not hold hot",
     "J13",
     "finishers[1].temp_c",
     {{"\"unit\": \"pans\", \"temp_c\": 66", "\"unit\": \"pans\", \"temp_c\": 55"}}},
    {"a lot has more pieces than placed",
     "J1",
     "lots[0]: \"dinner/brisket\" has 5 pieces, 0 missed, but 4",
     {{"\"pieces\": 4, \"footprint_m\": [0.50", "\"pieces\": 5, \"footprint_m\": [0.50"}}},
    {"a lot has fewer pieces than placed",
     "J1",
     "lots[1]: ",
     {{"\"pieces\": 6, \"footprint_m\"", "\"pieces\": 5, \"footprint_m\""}}},
    {"more missed than there are",
     "J1",
     "lots[2]: 3 pieces missed of 2",
     {{"{\"stage\": \"smoke\", \"place\": \"long/main/2\", \"minutes\": 60}],\n   \"missed\": 0}",
       "{\"stage\": \"smoke\", \"place\": \"long/main/2\", \"minutes\": 60}],\n   \"missed\": 3}"},
      {"\"outcome\": \"feasible\"", "\"outcome\": \"short\""}}},
    {"a piece is there twice",
     "J1",
     "loads[0].piece_ids[1]: piece 0 of \"dinner/brisket\" is there twice",
     {ID1("0, 0"), ID2("2, 3"), ID3("0, 1"), ID4("2, 3"), ID5, ID6}},
    {"a piece that does not exist",
     "J1",
     "loads[1].piece_ids[1]: piece 4 of \"dinner/brisket\" does not exist",
     {ID1("0, 1"), ID2("2, 4"), ID3("0, 1"), ID4("2, 3"), ID5, ID6}},

    {"a finish that begins late",
     "J2",
     "lots[0]: at minute 450 2 pieces",
     {{"\"place\": \"oven\", \"pieces\": 2, \"start_min\": 450, \"end_min\": 690",
       "\"place\": \"oven\", \"pieces\": 2, \"start_min\": 451, \"end_min\": 691"}}},
    {"a piece gets lost on the way",
     "J2",
     "lots[0]: at minute 450 2 pieces of \"dinner/brisket\" leave the smoke and 1 enter the finish",
     {{OVEN, "\"place\": \"oven\", \"pieces\": 1, \"start_min\": 450, \"end_min\": 690"}}},
    {"a hold without its rest",
     "J2",
     "lots[1]: at minute 990 6 pieces",
     {{"\"stage\": \"rest\", \"place\": \"box\", \"pieces\": 6",
       "\"stage\": \"rest\", \"place\": \"box\", \"pieces\": 5"}}},
    {"a hold that begins late",
     "J2",
     "lots[0]: at minute 750 4 pieces of \"dinner/brisket\" leave the rest and 0 enter the hold",
     {{HOLD, "\"stage\": \"hold\", \"place\": \"box\", \"pieces\": 4, \"start_min\": 760, \"end_min\": 1050"}}},
    {"a rest in an oven",
     "J2",
     "loads[8]: \"oven\" is no place for the stage rest",
     {{"\"stage\": \"rest\", \"place\": \"box\", \"pieces\": 6",
       "\"stage\": \"rest\", \"place\": \"oven\", \"pieces\": 6"}}},
    {"a finish in a hold",
     "J2",
     "loads[3]: \"box\" is no place for the stage finish",
     {{"\"stage\": \"finish\", \"place\": \"oven\", \"pieces\"",
       "\"stage\": \"finish\", \"place\": \"box\", \"pieces\""}}},
    {"two pieces change places",
     "J2",
     "loads[2].piece_ids[1]: piece 2 of \"dinner/brisket\" left the smoke at minute 450, not 420",
     {ID1("0, 1"), ID2("2, 3"), ID3("0, 2"), ID4("1, 3"), ID5, ID6}},

    {"stage times say otherwise",
     "J3",
     "loads[3]: lasts 240 min, stage_times says 250",
     {{"\"place\": \"oven\", \"minutes\": 240", "\"place\": \"oven\", \"minutes\": 250"}}},
    {"no stage time for the place",
     "J3",
     "loads[6]: stage_times of \"dinner/chicken\" has no smoke in \"drum/ring/1\"",
     {{"{\"stage\": \"smoke\", \"place\": \"drum/ring/1\", \"minutes\": 120},", ""}}},
    {"a load that ends before it starts",
     "J3",
     "loads[0]: ends at minute 0",
     {{SMOKE1, "\"place\": \"long/main/1\", \"pieces\": 2, \"start_min\": 420, \"end_min\": 0"}}},

    {"too hot a zone",
     "J4",
     "loads[0]: \"long/main/1\" is at 143.1 C",
     {{"\"length_m\": 0.9, \"temp_c\": 132", "\"length_m\": 0.9, \"temp_c\": 143.1"}}},
    {"too cool a zone",
     "J4",
     "loads[6]: ",
     {{"\"length_m\": 0.56, \"temp_c\": 137", "\"length_m\": 0.56, \"temp_c\": 117.9"}}},
    {"too hot an oven",
     "J4",
     "loads[3]: ",
     {{"\"unit\": \"area_m2\", \"temp_c\": 127", "\"unit\": \"area_m2\", \"temp_c\": 150"}}},
    {"a stage has its own range",
     "J4",
     "loads[7]: ",
     {{"\"temp_range_c\": [118, 163]", "\"temp_range_c\": [118, 163], \"smoke_range_c\": [125, 163]"}}},

    {"two rectangles overlap",
     "J5",
     "loads[1].rects[1]: overlaps loads[1].rects[0] on rack \"long/main\" from minute 0",
     {{"{\"x_m\": 1.2, \"y_m\": 0, \"length_m\": 0.30", "{\"x_m\": 1.19, \"y_m\": 0, \"length_m\": 0.30"}}},
    {"two lots overlap in time",
     "J5",
     "loads[10].rects[0]: overlaps loads[7].rects[0] on rack \"long/main\" from minute 989",
     {{"\"start_min\": 990, \"end_min\": 1050", "\"start_min\": 989, \"end_min\": 1049"}}},
    {"the middle of a rectangle leaves its zone",
     "J5",
     "loads[1].rects[0]: has its middle at 0.89",
     {{"{\"x_m\": 0.9, \"y_m\": 0, \"length_m\": 0.30", "{\"x_m\": 0.74, \"y_m\": 0, \"length_m\": 0.30"}}},
    {"a rectangle leaves the rack sideways",
     "J5",
     "loads[2].rects[1]: sticks out",
     {{"{\"x_m\": 0.01, \"y_m\": 0.28", "{\"x_m\": 0.01, \"y_m\": 0.49"}}},
    {"a corner leaves the disc",
     "J5",
     "loads[6].rects[1]: sticks out",
     {{"{\"x_m\": 0.16, \"y_m\": 0.28", "{\"x_m\": 0.16, \"y_m\": 0.36"}}},
    {"a rectangle is too small",
     "J5",
     "loads[10].rects[1]: is 0.39 x 0.3 m",
     {{"{\"x_m\": 0.91, \"y_m\": 0.31, \"length_m\": 0.40", "{\"x_m\": 0.91, \"y_m\": 0.31, \"length_m\": 0.39"}}},
    {"wrapped pieces have their own size",
     "J5",
     "loads[2].rects[0]: ",
     {{"\"wrapped_footprint_m\": [0.46, 0.28]", "\"wrapped_footprint_m\": [0.45, 0.28]"}}},
    {"a turned piece that may not be",
     "J5",
     "loads[1].rects[0]: pieces of \"dinner/brisket\" may not be turned",
     {{"\"hold_max_min\": 300,", "\"hold_max_min\": 300, \"turns\": false,"}}},
    {"a rectangle too few",
     "J5",
     "loads[10]: 2 pieces on a rack, but 1 rect",
     {{", {\"x_m\": 0.91, \"y_m\": 0.31, \"length_m\": 0.40, \"depth_m\": 0.30}", ""}}},
    {"too high for the rack",
     "J5",
     "loads[6]: pieces of \"dinner/chicken\" are 0.31 m high",
     {{"\"height_m\": 0.06", "\"height_m\": 0.31"}}},
    {"a zone longer than its rack",
     "J5",
     "zones[1]: reaches from 0.9 to 1.81 m",
     {{"\"x_m\": 0.9, \"length_m\": 0.9", "\"x_m\": 0.9, \"length_m\": 0.91"}}},

    {"an oven over-filled",
     "J6",
     "loads[3]: over-fills \"oven\" at minute 450: 0.2576 m2",
     {{"\"capacity\": 0.3,", "\"capacity\": 0.25,"}}},
    {"a box over-filled by two lots",
     "J6",
     "loads[8]: over-fills \"box\" at minute 990",
     {{"\"capacity\": 2.6,", "\"capacity\": 2.5,"}}},

    {"a load before the fire is ready",
     "J7",
     "loads[0]: goes on at minute 0, \"long\" is ready at 10",
     {{"\"ready_min\": 0, \"out_min\": 1050", "\"ready_min\": 10, \"out_min\": 1050"}}},
    {"the fire is out too early",
     "J7",
     "loads[6]: comes off at minute 990",
     {{"\"ready_min\": 860, \"out_min\": 990", "\"ready_min\": 860, \"out_min\": 980"}}},
    {"a pit that is never lit",
     "J7",
     "",
     {{"{\"pit\": \"drum\", \"lit_min\": 800", "{\"pit\": \"long\", \"lit_min\": 1060"}}},
    {"ready before it is lit",
     "J7",
     "burns[1]: \"drum\" is lit",
     {{"\"lit_min\": 800, \"ready_min\": 860", "\"lit_min\": 861, \"ready_min\": 860"}}},
    {"called ready too soon",
     "J7",
     "burns[0]: \"long\" is called ready 90 min after it is lit, it needs 91",
     {{"\"racks\": [",
       "\"pits\": [{\"id\": \"long\", \"ready_min\": 91}, {\"id\": \"drum\", \"ready_min\": 60}], \"racks\": ["}}},
    {"two burns at a time",
     "J7",
     "burns[2]: \"drum\" is lit at minute 800 while burns[0] still burns",
     {{"\"burns\": [", "\"burns\": [{\"pit\": \"drum\", \"lit_min\": 700, \"ready_min\": 760, \"out_min\": 801, "
                       "\"fuel_kg\": 0, \"start_charcoal_kg\": 0, \"feeds\": []},"}}},
    {"a feed before the fire", "J7", "burns[1].feeds[0]: at minute 799", {{"{\"at_min\": 830", "{\"at_min\": 799"}}},
    {"a feed after the fire", "J7", "burns[0].feeds[2]: at minute 1050", {{"{\"at_min\": 540", "{\"at_min\": 1050"}}},
    {"feeds out of order",
     "J7",
     "burns[0].feeds[2]: at minute 540, before",
     {{"{\"at_min\": 60, \"kg\"", "{\"at_min\": 550, \"kg\""}}},
    {"feeds do not add up",
     "J7",
     "burns[0]: the feeds add up to 61.5 kg",
     {{"\"fuel_kg\": 61.5", "\"fuel_kg\": 61.4"}}},
    {"lit more often than allowed",
     "J7",
     "burns: \"drum\" is lit 2 times, it may be lit 1",
     {{"\"burns\": [",
       "\"pits\": [{\"id\": \"long\"}, {\"id\": \"drum\", \"burns_max\": 1}], \"burns\": [" EARLY_BURN}}},

    {"a short rest", "J8", "loads[8]: rests 10 min", {{CHICKEN_END, "\"rest_min\": 11, \"hold_max_min\": 120"}}},
    {"a long hold", "J8", "loads[9]: holds 50 min", {{CHICKEN_END, "\"rest_min\": 10, \"hold_max_min\": 49"}}},
    {"a rest instead of a hold",
     "J8",
     "loads[4]: rests 60 min, longer",
     {{"\"rest_min\": 60, \"hold_max_min\": 300", "\"rest_min\": 0, \"hold_max_min\": 59"}}},
    {"a hold that ends too early",
     "J8",
     "loads[5]: the hold ends at minute 1040",
     {{HOLD, "\"stage\": \"hold\", \"place\": \"box\", \"pieces\": 4, \"start_min\": 750, \"end_min\": 1040"}}},
    {"the service begins earlier",
     "J8",
     "loads[5]: the hold ends at minute 1050",
     {{"\"id\": \"dinner\", \"at_min\": 1050", "\"id\": \"dinner\", \"at_min\": 1045"}}},
    {"no rest before the service",
     "J8",
     "loads[10]: done at minute 1050; with 5 min rest",
     {{"\"rest_min\": 0, \"hold_max_min\": 30", "\"rest_min\": 5, \"hold_max_min\": 30"}}},

    {"a task before the shift",
     "J9",
     "tasks[0]: \"pitmaster\" works from minute -151 to -131, outside",
     {{"{\"at_min\": -90, \"minutes\": 20, \"role\"", "{\"at_min\": -151, \"minutes\": 20, \"role\""}}},
    {"a gap between two shifts",
     "J9",
     "tasks[2]: ",
     {{"\"from_min\": 600, \"to_min\": 1080", "\"from_min\": 601, \"to_min\": 1080"}}},
    {"more work than hands",
     "J9",
     "tasks[3]: 60 minutes of work for \"server\" in the half hour from minute 1050, 30 there",
     {{"{\"role\": \"server\", \"count\": 2", "{\"role\": \"server\", \"count\": 1"}}},
    {"two things in one hand, with time for both in the half hour",
     "J9",
     "tasks[1]: \"pitmaster\" has 2 tasks in hand at minute -80 and 1 hands",
     {{"{\"at_min\": 0, \"minutes\": 10, \"role\"", "{\"at_min\": -80, \"minutes\": 10, \"role\""}}},
    {"one minute of two things",
     "J9",
     "tasks[1]: \"pitmaster\" has 2 tasks in hand at minute -71 and 1 hands",
     {{"{\"at_min\": 0, \"minutes\": 10, \"role\"", "{\"at_min\": -71, \"minutes\": 10, \"role\""}}},
    {"nobody does it, unsaid",
     "J9",
     "tasks[1]: nobody does it",
     {{"\"minutes\": 10, \"role\": \"pitmaster\"", "\"minutes\": 10, \"role\": \"\""}}},
    {"a shift that ends before it begins",
     "J9",
     "crew[0]: ",
     {{"\"from_min\": -150, \"to_min\": 600", "\"from_min\": 600, \"to_min\": -150"}}},
    {"one warning, two half hours",
     "J9",
     "tasks[3]: ",
     {{"{\"role\": \"server\", \"count\": 2", "{\"role\": \"server\", \"count\": 1"},
      {NO_WARNINGS, "\"warnings\": [{\"code\": \"hands-short\"}]"}}},

    {"pans in a full box",
     "J6",
     "side_pans[0]: over-fills \"box\"",
     {SIDES(PANS("rice", "900", "true", "\"box\"", "900", "1050"))}},
    {"pieces in a box of pans",
     "J6",
     "loads[4]: over-fills \"box\"",
     {SIDES(PANS("rice", "2", "true", "\"box\"", "600", "1050"))}},
    {"hot pans in an oven",
     "J6",
     "side_pans[0].place: hot pans",
     {SIDES(PANS("rice", "1", "true", "\"oven\"", "900", "1050")), ROOMY}},
    {"cold pans in a box",
     "J6",
     "side_pans[0].place: cold pans",
     {SIDES(PANS("slaw", "1", "false", "\"box\"", "900", "1050")), ROOMY}},
    {"hot pans nowhere", "J6", "side_pans[0]: hot pans of", {SIDES(PANS("rice", "1", "true", "null", "900", "1050"))}},
    {"pans gone too early",
     "J6",
     "side_pans[0]: kept from",
     {SIDES(PANS("rice", "1", "true", "\"box\"", "900", "1049")), ROOMY}},
    {"two pans, the second goes out later",
     "J6",
     "side_pans[0]: kept from",
     {SIDES(PANS("rice", "2", "true", "\"box\"", "900", "1050")), ROOMY}},
    {"too few pans",
     "J6",
     "demand[0]: 41 portions of ",
     {SIDES(PANS("brisket-sliced", "2", "false", "null", "900", "1095")),
      {"\"dish\": \"brisket-sliced\", \"service\": \"dinner\", \"mean",
       "\"dish\": \"brisket-sliced\", \"pan_portions\": 20, \"portions_cover\": 41, \"hot\": false, \"service\": "
       "\"dinner\", \"mean"}}},
    {"hot food in cold pans",
     "J6",
     "demand[0]: \"brisket-sliced\" is hot",
     {SIDES(PANS("brisket-sliced", "3", "false", "null", "900", "1095")),
      {"\"dish\": \"brisket-sliced\", \"service\": \"dinner\", \"mean",
       "\"dish\": \"brisket-sliced\", \"pan_portions\": 20, \"portions_cover\": 41, \"hot\": true, \"service\": "
       "\"dinner\", \"mean"}}},
    {"pans of no service",
     "J0",
     "side_pans[0].service: ",
     {{"\"version\": 1,", "\"version\": 1, \"side_pans\": [{\"dish\": \"x\", \"service\": \"y\", \"pans\": 1, \"hot\": "
                          "true, \"place\": null, "
                          "\"from_min\": 0, \"to_min\": 1}],"}}},

    {"the cost is not the sum",
     "J10",
     "quote.cost_cents: is 114917",
     {{"\"cost_cents\": 114916", "\"cost_cents\": 114917"}}},
    {"the total is not the sum",
     "J10",
     "quote.total_cents: ",
     {{"\"total_cents\": 167788, \"deposit_cents\"", "\"total_cents\": 167787, \"deposit_cents\""}}},
    {"a deposit above the total",
     "J10",
     "quote.deposit_cents: ",
     {{"\"deposit_cents\": 50336", "\"deposit_cents\": 167789"}}},
    {"a discount that is not taken off",
     "J10",
     "quote.total_cents: ",
     {{"\"currency\": \"USD\",", "\"currency\": \"USD\", \"discount_cents\": 1,"}}},
    {"other costs do not add up",
     "J10",
     "quote.other_cents: ",
     {{"\"currency\": \"USD\",",
       "\"currency\": \"USD\", \"supplies_cents\": 1, \"rental_cents\": 2, \"travel_cents\": 3,"}}},
    {"guests times price",
     "J10",
     "quote.per_guest_cents: ",
     {{"\"currency\": \"USD\",", "\"currency\": \"USD\", \"guests\": 61,"}}},
    {"dues do not add up",
     "J10",
     "quote.dues: ",
     {{LADDER, "\"dues\": [{\"cents\": 50336}, {\"cents\": 117451}], \"ladder\": [{\"guests\": 50"}}},
    {"the ladder goes down",
     "J10",
     "quote.ladder[1]: 62 guests do not follow 62",
     {{LADDER, "\"ladder\": [{\"guests\": 62"}}},
    {"fuels do not add up",
     "J10",
     "quote.fuel_cents: is 4200, fuels and ovens cost 4201",
     {{NO_WARNINGS, "\"warnings\": [], \"fuels\": [{\"cost_cents\": 4000}], \"ovens\": {\"cost_cents\": 201}"}}},
    {"the ladder disagrees with the quote",
     "J10",
     "quote.ladder[1]: 167789 in all",
     {{"\"currency\": \"USD\",", "\"currency\": \"USD\", \"guests\": 62,"},
      {"\"guests\": 62, \"total_cents\": 167788", "\"guests\": 62, \"total_cents\": 167789"}}},
    {"the crew's hours cost otherwise",
     "J10",
     "quote.labour_cents: is 60000, the crew's hours cost 60010.00",
     {{CREW, CREW_AT("1901")}}},
    {"the food on the list costs otherwise",
     "J10",
     "quote.food_cents: is 29717",
     {{"\"item\": \"brisket\",", "\"item\": \"brisket\", \"category\": \"meat\","},
      {"\"item\": \"bun\",", "\"item\": \"bun\", \"category\": \"bread\","},
      {"\"food_cents\": 29716, \"fuel_cents\": 4200", "\"food_cents\": 29717, \"fuel_cents\": 4199"}}},

    {"short without a miss", "J11", "solution.outcome: ", {{"\"outcome\": \"feasible\"", "\"outcome\": \"short\""}}},
    {"a bound above the cost", "J11", "solution.bound: 4100.6 is above", {{"\"bound\": 4018.49", "\"bound\": 4100.6"}}},
    {"a bound above the cost by more than ten printed digits",
     "J11",
     "solution.bound: ",
     {{"\"bound\": 4018.49", "\"bound\": 4100.5045"}}},
    {"a gap that is none", "J11", "solution.gap_frac: ", {{"\"gap_frac\": 0.02,", "\"gap_frac\": 0.01,"}}},
    {"a remedy that makes it worse",
     "J11",
     "remedies[0]: ",
     {{NO_WARNINGS, "\"warnings\": [], \"remedies\": [{\"missed_after\": 1}]"}}},
    {"a miss called feasible", "J11", "solution.outcome: says all pieces have a place, the lots miss 1", {ONE_MISSED}},

    {"less than the mean", "J12", "demand[0].need_kg: ", {{"\"need_kg\": 6.75", "\"need_kg\": 5.5"}}},
    {"fewer than the mean asks for",
     "J12",
     "demand[1].need_units: ",
     {{"\"need_kg\": 0}", "\"need_kg\": 0, \"mean_units\": 12.5, \"sd_units\": 2, \"need_units\": 11}"}}},
    {"a wrong price by weight",
     "J12",
     "purchases[0].cost_cents: ",
     {{"\"cost_cents\": 25756", "\"cost_cents\": 25757"}}},
    {"a wrong price by pack",
     "J12",
     "purchases[1].cost_cents: ",
     {{"\"unit_price_cents\": 55,", "\"unit_price_cents\": 55, \"pack_price_cents\": 1321,"}}},
    {"less than needed", "J12", "purchases[1].amount: ", {{"\"amount\": 72,", "\"amount\": 72, \"need\": 73,"}}},
    {"ordered after it comes",
     "J12",
     "purchases[1].order_by_min: ",
     {{"\"order_by_min\": -3360,", "\"order_by_min\": -3360, \"deliver_min\": -3361,"}}},
    {"thawed before it comes",
     "J12",
     "purchases[0].thaw_from_min: ",
     {{"\"order_by_min\": -6720, \"thaw_from_min\": null",
       "\"order_by_min\": -6720, \"thaw_from_min\": -4000, \"deliver_min\": -3999"}}},
    {"other pieces than needed",
     "J12",
     "raw_needs[0].pieces: ",
     {{NO_WARNINGS,
       "\"warnings\": [], \"raw_needs\": [{\"cut\": \"brisket\", \"service\": \"dinner\", \"pieces\": 5}]"}}},

    {"a name twice",
     "J0",
     "lots[2]: this name is there already",
     {{"{\"id\": \"dinner/sausage\", \"cut\"", "{\"id\": \"dinner/chicken\", \"cut\""}}},
    {"a finisher named like a zone",
     "J0",
     "finishers[0]: this name is there already",
     {{"{\"id\": \"oven\", \"kind\"", "{\"id\": \"long/main/1\", \"kind\""}}},
    {"no such service",
     "J0",
     "lots[2].service: there is no service lunch",
     {{"\"cut\": \"sausage\", \"service\": \"dinner\"", "\"cut\": \"sausage\", \"service\": \"lunch\""}}},
    {"no such place",
     "J0",
     "loads[3].place: there is no zone or finisher kiln",
     {{OVEN, "\"place\": \"kiln\", \"pieces\": 2, \"start_min\": 450, \"end_min\": 690"}}},
    {"no such lot",
     "J0",
     "tasks[2].lot: there is no lot dinner/ham",
     {{"\"what\": \"Check\", \"where\": \"Long pit\", \"lot\": \"dinner/brisket\"",
       "\"what\": \"Check\", \"where\": \"Long pit\", \"lot\": \"dinner/ham\""}}},
    {"no such role",
     "J0",
     "tasks[3].role: there is no crew line",
     {{"\"role\": \"server\", \"what\": \"Serve\",", "\"role\": \"waiter\", \"what\": \"Serve\","}}},
    {"no such pit",
     "J0",
     "racks[1].pit: must be a text",
     {{"{\"id\": \"drum/ring\", \"pit\": \"drum\"", "{\"id\": \"drum/ring\", \"pit\": 7"}}},
    {"an unknown stage",
     "J0",
     "loads[4].stage: must be one of smoke, finish, rest, hold",
     {{"{\"lot\": \"dinner/brisket\", \"stage\": \"rest\"", "{\"lot\": \"dinner/brisket\", \"stage\": \"nap\""}}},
    {"half a piece",
     "J0",
     "loads[8].pieces: must be a whole number",
     {{"\"pieces\": 6, \"start_min\": 990", "\"pieces\": 5.5, \"start_min\": 990"}}},
    {"no pieces",
     "J0",
     "loads[8].pieces: must be within 1 to 1000000",
     {{"\"pieces\": 6, \"start_min\": 990", "\"pieces\": 0, \"start_min\": 990"}}},
    {"a minute beyond all plans",
     "J0",
     "services[0].length_min: must be within",
     {{"\"length_min\": 90", "\"length_min\": 1e12"}}},
    {"a footprint of three",
     "J0",
     "lots[2].footprint_m: must be a list of two numbers",
     {{"\"footprint_m\": [0.40, 0.30], \"wrapped", "\"footprint_m\": [0.40, 0.30, 1], \"wrapped"}}},
    {"a negative footprint",
     "J0",
     "lots[2].footprint_m: must be within",
     {{"\"footprint_m\": [0.40, 0.30], \"wrapped", "\"footprint_m\": [0.40, -0.30], \"wrapped"}}},
    {"guests by halves", "J0", "services[0].guests: ", {{"\"children\": 12", "\"children\": 12.5"}}},
    {"a list that is none", "J0", "warnings: must be a list", {{NO_WARNINGS, "\"warnings\": {}"}}},
    {"an element that is none", "J0", "warnings[0]: must be an object", {{NO_WARNINGS, "\"warnings\": [3]"}}},
    {"a wrong date", "J0", "event.date: ", {{"\"2027-06-12\"", "\"12.06.2027\""}}},
    {"an empty name", "J0", "finishers[1].id: must not be empty", {{"{\"id\": \"box\"", "{\"id\": \"\""}}},
    {"ids by count", "J0", "loads[0].piece_ids: ", {{BRISKET_RECTS_1, IDS("0") BRISKET_RECTS_1}}},
    {"ids of the right form", "J0", "loads[0].piece_ids: ", {{BRISKET_RECTS_1, IDS("0, 1.5") BRISKET_RECTS_1}}},
};

START_TEST(broken_row)
{
  char *text = edited(broken[_i].name, broken[_i].edits, 6);
  expect_only(broken[_i].name, text, broken[_i].label, broken[_i].path, 0);
  free(text);
}
END_TEST

/* Told by so many findings and no more. */
static const struct {
  const char *name, *label, *path;
  struct edit edits[2];
  int n;
} counted[] = {
    {"of two fires the one that burns longer beside the load is named",
     "J7",
     "loads[6]: goes on at minute 870, \"drum\" is ready at 950",
     {{"{\"pit\": \"drum\", \"lit_min\": 800, \"ready_min\": 860, \"out_min\": 990",
       "{\"pit\": \"drum\", \"lit_min\": 600, \"ready_min\": 660, \"out_min\": 900, \"fuel_kg\": 0, "
       "\"start_charcoal_kg\": 0, \"feeds\": []}, "
       "{\"pit\": \"drum\", \"lit_min\": 905, \"ready_min\": 950, \"out_min\": 1000"},
      {"{\"at_min\": 830, \"kg\": 2", "{\"at_min\": 910, \"kg\": 2"}},
     1},
    {"outside the shift by five minutes of a half hour with time enough: not of the minute too",
     "J9",
     "tasks[4]: \"server\" works from minute 900 to 910, outside",
     {{"\"count\": 2, \"from_min\": 900", "\"count\": 2, \"from_min\": 905"},
      {"{\"at_min\": 1050, \"minutes\": 60, \"role\": \"server\", \"what\": \"Serve drinks\"",
       "{\"at_min\": 900, \"minutes\": 10, \"role\": \"server\", \"what\": \"Serve drinks\""}},
     1},
    {"outside the shift: of the task and of its half hour, not of the minute too",
     "J9",
     "tasks[0]: \"pitmaster\" works from minute -151 to -131, outside",
     {{"{\"at_min\": -90, \"minutes\": 20, \"role\"", "{\"at_min\": -151, \"minutes\": 20, \"role\""}},
     2},
};

START_TEST(counted_row)
{
  char *text = edited(counted[_i].name, counted[_i].edits, 2);
  expect_only(counted[_i].name, text, counted[_i].label, counted[_i].path, counted[_i].n);
  free(text);
}
END_TEST

/* ---- unusual, but true to the rules ------------------------------------------------------------------------ */

static const struct {
  const char *name;
  struct edit edits[6];
} sound[] = {
    {"pieces with names", {ID1("0, 1"), ID2("2, 3"), ID3("1, 0"), ID4("3, 2"), ID5, ID6}},
    {"a piece missed, and said", {ONE_MISSED, {"\"outcome\": \"feasible\"", "\"outcome\": \"short\""}}},
    {"whole numbers with a point",
     {{"\"pieces\": 4, \"footprint_m\": [0.50", "\"pieces\": 4.0, \"footprint_m\": [0.50"}}},
    {"keys nobody knows", {{"\"version\": 1,", "\"version\": 1, \"extra\": {\"a\": [1, null]},"}}},
    {"two burns apart", {{"\"burns\": [", "\"burns\": [" EARLY_BURN}}},
    {"a pit lit as often as it may be, one whose number is not known",
     {{"\"burns\": [",
       "\"pits\": [{\"id\": \"long\", \"burns_max\": 0}, {\"id\": \"drum\", \"burns_max\": 1}], \"burns\": ["}}},
    {"the crew's hours cost what the quote says", {{CREW, CREW_AT("1900")}}},
    {"hands short, and said",
     {{"{\"role\": \"server\", \"count\": 2", "{\"role\": \"server\", \"count\": 1"},
      {NO_WARNINGS, "\"warnings\": [{\"code\": \"hands-short\"}, {\"code\": \"hands-short\"}]"}}},
    {"one thing after the other, without a minute between",
     {{"{\"at_min\": 0, \"minutes\": 10, \"role\"", "{\"at_min\": -70, \"minutes\": 10, \"role\""}}},
    {"two things in one hand, and said",
     {{"{\"at_min\": 0, \"minutes\": 10, \"role\"", "{\"at_min\": -80, \"minutes\": 10, \"role\""},
      {NO_WARNINGS, "\"warnings\": [{\"code\": \"two-at-once\"}]"}}},
    {"nobody does it, and said",
     {{"\"minutes\": 10, \"role\": \"pitmaster\"", "\"minutes\": 10, \"role\": \"\""},
      {NO_WARNINGS, "\"warnings\": [{\"code\": \"nobody-on-shift\"}]"}}},
    {"a discount taken off",
     {{"\"currency\": \"USD\",", "\"currency\": \"USD\", \"discount_cents\": 1, \"service_charge_cents\": 1,"}}},
    {"pans beside the meat", {SIDES(PANS("rice", "6", "true", "\"box\"", "900", "1115")), ROOMY}},
    {"hot pans nowhere, and said",
     {SIDES(PANS("rice", "1", "true", "null", "900", "1050")),
      {NO_WARNINGS, "\"warnings\": [{\"code\": \"hot-room\"}]"}}},
    {"a price by the pack", {{"\"unit_price_cents\": 55", "\"unit_price_cents\": 1320"}}},
    {"a least fee split among the guests",
     {{"\"currency\": \"USD\",", "\"currency\": \"USD\", \"guests\": 66,"},
      {"\"per_guest_cents\": 2500, \"tax_cents\"", "\"per_guest_cents\": 2349, \"tax_cents\""}}},
    {"a rest that lasts until the service",
     {{"\"hold_max_min\": 300", "\"hold_max_min\": 301"},
      {"\"start_min\": 690, \"end_min\": 750", "\"start_min\": 690, \"end_min\": 1050"},
      {"{\"lot\": \"dinner/brisket\", " HOLD ", \"rects\": []},", ""}}},
    {"a bound above the cost within ten printed digits",
     {{"\"bound\": 4018.49", "\"bound\": 4100.504"}, {"\"gap_frac\": 0.02", "\"gap_frac\": 0"}}},
    {"money with a point", {{"\"cost_cents\": 114916", "\"cost_cents\": 114916.0"}}},
    {"as low as a temperature may be told", {{"\"temp_range_c\": [107, 130]", "\"temp_range_c\": [-100, 130]"}}},
    {"a zone as cool as the cut may have it", {{"\"temp_range_c\": [107, 130]", "\"temp_range_c\": [121, 130]"}}},
    {"a zone as hot as the cut may have it", {{"\"temp_range_c\": [107, 130]", "\"temp_range_c\": [107, 121]"}}},
    {"a price as low as the least fee",
     {{"\"currency\": \"USD\",", "\"currency\": \"USD\", \"min_fee_cents\": 155000,"}}},
    {"lit again as the fire before goes out", {{"\"burns\": [", "\"burns\": [" BURN_UNTIL("800") ", "}}},
    {"the same, told in the other order", {{"\"splits\": 4}]}\n ],", "\"splits\": 4}]}, " BURN_UNTIL("800") "],"}}},
    /* 12.5 h at 2001 and 8 h at 2000.0625 are 25012.5 and 16000.5 cents: each rounded up, their sum is off by a whole cent */
    {"a role of two shifts, each rounded",
     {{CREW, CREW_1 ", \"cents_per_h\": 2001" CREW_2 ", \"cents_per_h\": 2000.0625" CREW_3 ", \"cents_per_h\": 1898.6"},
      {"\"currency\": \"USD\",", "\"currency\": \"USD\", \"roles\": [{\"role\": \"pitmaster\", \"paid_h\": 20.5, "
                                 "\"task_h\": 1, \"cents\": 41014}, "
                                 "{\"role\": \"server\", \"paid_h\": 10, \"task_h\": 2, \"cents\": 18986}],"}}},
    {"a hair over the edge", {{"{\"x_m\": 0.01, \"y_m\": 0.28", "{\"x_m\": 0.01, \"y_m\": 0.2799999"}}},
};

START_TEST(sound_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char *text = edited(sound[_i].name, sound[_i].edits, 6);
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text("plan.json", text, strlen(text), &n, ctx), PW_OK);
  ck_assert_msg(n == 0 && ctx->n_diags == 0, "%s: [%s] %s", sound[_i].name, ctx->n_diags ? ctx->diags[0].code : "",
                ctx->n_diags ? ctx->diags[0].text : "");
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- form -------------------------------------------------------------------------------------------------- */

/** Keys whose absence is no fault. */
static bool is_free_key(const char *key)
{
  static const char *const keys[] = {"adults", "children", "rects", "thaw_from_min", "splits"};
  for (size_t i = 0; i < sizeof keys / sizeof *keys; i++)
    if (strcmp(key, keys[i]) == 0)
      return true;
  return false;
}

START_TEST(each_missing_key_is_named)
{
  /* every key of the file in turn is misspelt */
  int n_keys = 0;
  for (char *p = good; (p = strchr(p, '"')) != NULL;) {
    char *end = strchr(p + 1, '"');
    ck_assert_ptr_nonnull(end);
    char key[64];
    snprintf(key, sizeof key, "%.*s", (int)(end - p - 1), p + 1);
    bool is_key = end[1] == ':' && !is_free_key(key);
    char kept = p[1];
    if (is_key) {
      n_keys++;
      p[1] = '#';
      struct pw_ctx *ctx = pw_test_ctx();
      int n = -1;
      (void)pw_plan_check_text("plan.json", good, n_good, &n, ctx);
      ck_assert_msg(n >= 1, "\"%s\" at byte %d is not missed", key, (int)(p - good));
      ck_assert_msg(strcmp(ctx->diags[0].code, "J0") == 0 && strstr(ctx->diags[0].text, key), "\"%s\" at byte %d: %s",
                    key, (int)(p - good), ctx->diags[0].text);
      pw_test_ctx_free(ctx);
      p[1] = kept;
    }
    p = end + 1;
  }
  ck_assert_int_gt(n_keys, 300);
}
END_TEST

static const struct {
  const char *name, *text;
  int line, col;
  const char *code, *words;
} unreadable[] = {
    {"no JSON", "{\"format\": \n  oops}", 2, 3, "json", "not JSON"},
    {"another file", "{\"format\": \"something\"}", 0, 0, "J0", "this is no plan file"},
    {"another version", "{\"format\": \"pitwright-plan\", \"version\": 2}", 0, 0, "J0", "version: must be 1"},
    {"a list", "[1, 2]", 0, 0, "J0", "this is no plan file"},
};

START_TEST(unreadable_row)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text("plan.json", unreadable[_i].text, strlen(unreadable[_i].text), &n, ctx),
                   PW_ERR_INPUT);
  const struct pw_diag *d = &ctx->diags[0];
  ck_assert_msg(strcmp(d->code, unreadable[_i].code) == 0 && strstr(d->text, unreadable[_i].words), "%s: [%s] %s",
                unreadable[_i].name, d->code, d->text);
  /* the library's column is that of the last character taken */
  ck_assert_msg(d->line == unreadable[_i].line && d->col >= unreadable[_i].col, "%s: %d:%d", unreadable[_i].name,
                d->line, d->col);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(an_empty_plan_names_all_that_is_missing)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = "{\"format\": \"pitwright-plan\", \"version\": 1}";
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text(NULL, text, strlen(text), &n, ctx), PW_OK);
  ck_assert_int_eq(n, 15);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(more_findings_than_fit_are_counted)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char *text = calloc(1, 40000);
  ck_assert_ptr_nonnull(text);
  strcpy(text, "{\"format\": \"pitwright-plan\", \"version\": 1, \"warnings\": [");
  for (int i = 0; i < 1000; i++)
    strcat(text, i ? ", {}" : "{}");
  strcat(text, "]}");
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text(NULL, text, strlen(text), &n, ctx), PW_OK);
  ck_assert_int_eq(n, 1014);
  ck_assert_int_eq(ctx->n_diags, PW_DIAG_MAX);
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(hostile_names_are_shown_safely)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct edit edits[] = {{"\"place\": \"oven\", \"pieces\"", "\"place\": \"\\u001b[2J\\u202e\", \"pieces\""}};
  char *text = edited("hostile", edits, 1);
  int n;
  ck_assert_int_eq(pw_plan_check_text(NULL, text, strlen(text), &n, ctx), PW_OK);
  ck_assert_str_eq(ctx->diags[0].text, "loads[3].place: there is no zone or finisher \\x1b[2J\\u202e");
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(files)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n = -1;
  ck_assert_int_eq(pw_plan_check_file("tests/data/no-such-plan.json", &n, ctx), PW_ERR_IO);
  ck_assert_ptr_nonnull(strstr(ctx->diags[0].text, "No such file"));
  ck_assert_int_eq(pw_plan_check_file("tests/data", &n, ctx), PW_ERR_IO);
  ck_assert_int_eq(pw_plan_check_file("/dev/zero", &n, ctx), PW_ERR_INPUT); /* endless: read no further than allowed */
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- anything at all ------------------------------------------------------------------------------------------ */

START_TEST(damaged_plans_never_crash)
{
  /* xorshift, seed 7: bytes changed, runs cut out, values swapped for extreme ones */
  static const char *const values[] = {"null",    "[]",     "{}", "\"\"",   "-1",  "1e308",
                                       "-999999", "999999", "0",  "1e-300", "true"};
  uint32_t x = 7;
#define NEXT (x ^= x << 13, x ^= x >> 17, x ^= x << 5)
  for (int round = 0; round < 3000; round++) {
    char *text = strdup(good);
    if (!text)
      abort();
    size_t n = n_good;
    for (int k = 0; k < 1 + round % 4; k++) {
      size_t at = NEXT % n;
      if (round % 3 == 0) {
        text[at] = (char)(32 + NEXT % 95);
      } else if (round % 3 == 1) {
        size_t cut = NEXT % 40;
        cut = at + cut > n ? n - at : cut;
        memmove(text + at, text + at + cut, n - at - cut + 1);
        n -= cut;
      } else {
        char *colon = strchr(text + at, ':');
        size_t old = colon ? strcspn(colon + 1, ",}]\n") : 0;
        const char *value = values[NEXT % (sizeof values / sizeof *values)];
        if (colon && strlen(value) <= old) { /* blanks keep the length */
          memset(colon + 1, ' ', old);
          memcpy(colon + 1, value, strlen(value));
        }
      }
    }
    struct pw_ctx *ctx = pw_test_ctx();
    int n_findings;
    pw_status status = pw_plan_check_text("plan.json", text, n, &n_findings, ctx);
    ck_assert_msg(status == PW_OK || status == PW_ERR_INPUT, "round %d: status %d", round, (int)status);
    ck_assert_msg(status == PW_OK || ctx->n_errors > 0, "round %d: refused without a word", round);
    ck_assert_msg(n_findings == 0 || ctx->n_errors > 0, "round %d: findings without words", round);
    pw_test_ctx_free(ctx);
    free(text);
  }
}
END_TEST

START_TEST(memory_failures_are_reported)
{
  for (long k = 1;; k += k < 100 ? 1 : 13) {
    struct pw_ctx *ctx = pw_test_ctx();
    int n;
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_plan_check_text("plan.json", good, n_good, &n, ctx);
    bool is_past = pw_arena_count(ctx->arena) < k;
    ck_assert_msg(status == (is_past ? PW_OK : PW_ERR_MEMORY) && n == 0, "allocation %ld: status %d, %d findings", k,
                  (int)status, n);
    pw_test_ctx_free(ctx);
    if (is_past)
      break;
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_check");
  TCase *t = tcase_create("plan_check");
  tcase_add_checked_fixture(t, setup, teardown);
  tcase_set_timeout(t, 60);
#define ROWS(fn, table) tcase_add_loop_test(t, fn, 0, (int)(sizeof(table) / sizeof *(table)))
  tcase_add_test(t, the_good_plan_passes);
  ROWS(broken_row, broken);
  ROWS(counted_row, counted);
  ROWS(sound_row, sound);
  ROWS(unreadable_row, unreadable);
  tcase_add_test(t, each_missing_key_is_named);
  tcase_add_test(t, an_empty_plan_names_all_that_is_missing);
  tcase_add_test(t, more_findings_than_fit_are_counted);
  tcase_add_test(t, hostile_names_are_shown_safely);
  tcase_add_test(t, files);
  tcase_add_test(t, damaged_plans_never_crash);
  tcase_add_test(t, memory_failures_are_reported);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
