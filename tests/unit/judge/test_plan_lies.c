/* test_plan_lies.c - a planned party told otherwise, one number or several that belong together: the judge finds each.
 * tests/soak/edits.c changes every number by itself; here stand the lies that hang together. */
#include "planned.h"

#include "judge/plan_check.h"
#include "plan/chance/chance.h"
#include "write/plan_json.h"

#include <math.h>

enum { EDITS = 4 };

static char *good;

static void setup(void)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event("tests/data/events/family-party.yaml", ctx), true, PW_EFFORT_QUICK, ctx);
  const char *text;
  size_t n;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  good = strdup(text);
  pw_test_ctx_free(ctx);
}

static void teardown(void) { free(good); }

/** After `section`, after `entry`, the value of `key`: "+n" or "-n" added, "xf" times, else put in its place. */
struct edit {
  const char *section, *entry, *key, *value;
};

static const struct lie {
  const char *name;
  struct edit edits[EDITS];
  const char *label;
} lies[] = {
    {"no cores", {{"\n \"cores\"", "", "", "[]"}}, "J13"},
    {"lamb called cooked", {{"\n \"cores\"", "supper/lamb-shoulder", "is_raw", "false"}}, "J13"},
    {"chicken to 63 C by rule and target",
     {{"\n \"cores\"", "supper/chicken-thighs", "rule_core_c", "62.8"},
      {"\n \"cores\"", "supper/chicken-thighs", "end_core_c", "65"},
      {"\n \"lots\"", "supper/chicken-thighs", "smoke_to_c", "65"}},
     "J13"},
    {"roasts below the chart, unsaid", {{"\n \"warnings\"", "\"code\": \"roast-chart\"", "code", "\"other\""}}, "J13"},
    {"a dry surface, unsaid", {{"\n \"warnings\"", "\"code\": \"surface\"", "code", "\"other\""}}, "J13"},
    {"a shoulder said to be large enough", {{"\n \"cores\"", "supper/pork-butt", "surface", "\"large\""}}, "J13"},
    {"wetter than hot air can be",
     {{"\n \"cores\"", "supper/pork-butt", "air_humidity_frac", "0.95"},
      {"\n \"cores\"", "supper/pork-butt", "surface", "\"humid\""}},
     "J13"},
    {"a surface colder than the core", {{"\n \"cores\"", "supper/pork-butt", "surface_log_reduction", "9"}}, "J13"},
    {"a box that cools below 57 C",
     {{"\n \"finishers\"", "\"hot-box\"", "temp_c", "65.6, \"loss_frac_h\": 0.3, \"outside_c\": 5"}},
     "J13"},
    {"the pit turned upside down",
     {{"\n \"racks\"", "\"offset/main\"", "level", "1"}, {"\n \"racks\"", "\"offset/upper\"", "level", "0"}},
     "J17"},
    {"chicken that drips on nobody", {{"\n \"lots\"", "supper/chicken-thighs", "drips", "\"ready\""}}, "J17"},
    {"it drips when it is gone", {{"\n \"loads\"", "", "drips_until_min", "+5000"}}, "J17"},
    {"fires that never harm a meal", {{"\n \"services\"", "supper", "with_fires_frac", "0.5"}}, "J20"},
    {"a weakest dish that is hardly ever late", {{"\n \"services\"", "supper", "weakest_late_frac", "0.1"}}, "J20"},
    {"held too long, told too often", {{"\n \"services\"", "supper", "held_long_frac", "0.9"}}, "J20"},
    {"cores too slow, told too often",
     {{"\n \"services\"", "supper", "slow_core_frac", "0.2, \"slow_core_lot\": \"supper/pork-butt\""}},
     "J20"},
    {"a core too slow in no draw",
     {{"\n \"services\"", "supper", "slow_core_frac", "0, \"slow_core_lot\": \"supper/pork-butt\""}},
     "J20"},
    {"cores that take as long as they may", {{"\n \"cores\"", "supper/pork-butt", "come_up_min", "355"}}, "J20"},
    {"fires that are lost all the time", {{"\n \"pits\"", "", "lost_per_h_frac", "0.5"}}, "J20"},
    {"fires that are lost for a day",
     {{"\n \"pits\"", "", "lost_min", "1440"}, {"\n \"pits\"", "", "lost_per_h_frac", "0.05"}},
     "J20"},
    {"fires that may take any time to burn clean", {{"\n \"pits\"", "", "ready_spread_frac", "1"}}, "J20"},
    {"one shoulder fewer in need and lot",
     {{"\n \"raw_needs\"", "pork-butt", "pieces", "-1"}, {"\n \"lots\"", "supper/pork-butt", "pieces", "-1"}},
     "J12"},
    {"fewer chicken thighs asked for",
     {{"\n \"demand\"", "chicken-thigh\"", "need_units", "-10"},
      {"\n \"raw_needs\"", "chicken-thighs", "need_units", "-10"}},
     "J12"},
    {"a better yield",
     {{"\n \"raw_needs\"", "pork-butt", "yield_frac", "x1.2"},
      {"\n \"raw_needs\"", "pork-butt", "served_piece_kg", "x1.2"}},
     "J12"},
    {"it never runs out", {{"\n \"raw_needs\"", "pork-butt", "runout_frac", "0"}}, "J12"},
    {"mean and spread of a dish halved",
     {{"\n \"demand\"", "pork-pulled", "mean_kg", "x0.5"}, {"\n \"demand\"", "pork-pulled", "sd_kg", "x0.5"}},
     "J12"},
    {"a smaller cover with a smaller need",
     {{"\n \"demand\"", "pork-pulled", "cover", "0.5"}, {"\n \"demand\"", "pork-pulled", "need_kg", "x0.8"}},
     "J12"},
    {"delivered a week late, ordered a week late",
     {{"\n \"purchases\"", "pork", "deliver_min", "+10080"},
      {"\n \"purchases\"", "pork", "order_by_min", "+10080"},
      {"\n \"purchases\"", "pork", "keeps_to_min", "+10080"}},
     "J12"},
    {"ordered half a year ahead",
     {{"\n \"purchases\"", "pork", "order_by_min", "-260000"},
      {"\n \"purchases\"", "pork", "order_ahead_min", "+260000"}},
     "J12"},
    {"half the wood bought", {{"\n \"fuels\"", "", "need_kg", "x0.5"}, {"\n \"fuels\"", "", "buy_kg", "x0.5"}}, "J7"},
    {"no charcoal to light with",
     {{"\n \"burns\"", "", "start_charcoal_kg", "0"}, {"\n \"pits\"", "", "start_charcoal_kg", "0"}},
     "J7"},
    {"a shell that loses ten times the heat", {{"\n \"burns\"", "", "shell_kw", "x10"}}, "J7"},
    {"lit two hours late", {{"\n \"burns\"", "", "lit_min", "+120"}}, "J7"},
    {"the first rung half as dear",
     {{"\n \"quote\"", "\"ladder\"", "cost_cents", "x0.5"}, {"\n \"quote\"", "\"tried\"", "cost_cents", "x0.5"}},
     "J10"},
    {"another head count", {{"\n \"event\"", "", "head_count", "+10"}, {"\n \"quote\"", "", "guests", "+10"}}, "J0"},
    {"an hour beside the zone", {{"\n \"event\"", "", "utc_offset_min", "+60"}}, "J0"},
    {"a due date that does not exist", {{"\n \"quote\"", "\"dues\"", "date", "\"2027-02-30\""}}, "J10"},
    {"cheaper than its parts",
     {{"\n \"solution\"", "", "cost", "x0.9"}, {"\n \"solution\"", "", "gap_frac", "0"}},
     "J11"},
    {"fires cheaper with the cost",
     {{"\n \"solution\"", "", "cost", "-100"}, {"\n \"solution\"", "\"parts\"", "fire", "-100"}},
     "J11"},
    {"no opening is paid for", {{"\n \"solution\"", "", "openings", "0"}}, "J11"},
    {"hours in an oven nobody used", {{"\n \"ovens\"", "", "hours", "+5"}}, "J10"},
};
enum { N_LIES = sizeof lies / sizeof *lies };

/** The text with one edit made; frees the old one.  NULL: there is no such key. */
static char *told(char *text, const struct edit *e)
{
  char key[64], value[64];
  char *at = strstr(text, e->section);
  at = at && *e->entry ? strstr(at, e->entry) : at;
  snprintf(key, sizeof key, "\"%s\": ", e->key);
  at = at && *e->key ? strstr(at, key) : at;
  if (!at)
    return NULL;
  char *from = *e->key ? at + strlen(key) : strchr(at, ':') + 2, *to = from;
  if (*e->key)
    to += strcspn(from, ",}\n");
  else
    to = strstr(from, "\n ]") + 3;
  double was = atof(from);
  if (*e->value == '+' || (*e->value == '-' && e->value[1]))
    snprintf(value, sizeof value, "%.12g", was + atof(e->value));
  else if (*e->value == 'x')
    snprintf(value, sizeof value, "%.12g",
             strchr(e->key, '_') && strstr(e->key, "_cents") ? floor(was * atof(e->value + 1))
                                                             : was * atof(e->value + 1));
  else
    snprintf(value, sizeof value, "%s", e->value);
  char *fresh = malloc(strlen(text) + sizeof value);
  if (!fresh)
    abort();
  sprintf(fresh, "%.*s%s%s", (int)(from - text), text, value, to);
  free(text);
  return fresh;
}

START_TEST(the_truth_holds)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n = -1;
  ck_assert_int_eq(pw_plan_check_text("plan.json", good, strlen(good), &n, ctx), PW_OK);
  ck_assert_msg(n == 0, "%s", ctx->n_diags ? ctx->diags[0].text : "");
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(a_lie_is_found)
{
  const struct lie *lie = &lies[_i];
  struct pw_ctx *ctx = pw_test_ctx();
  char *text = strdup(good);
  int n = -1;
  bool is_found = false;
  for (int k = 0; k < EDITS && lie->edits[k].section; k++) {
    text = told(text, &lie->edits[k]);
    ck_assert_msg(text != NULL, "%s: no %s", lie->name, lie->edits[k].key);
  }
  ck_assert_int_eq(pw_plan_check_text("plan.json", text, strlen(text), &n, ctx), PW_OK);
  for (int i = 0; i < ctx->n_diags; i++)
    is_found = is_found || strcmp(ctx->diags[i].code, lie->label) == 0;
  ck_assert_msg(is_found, "%s: %d findings, none of %s: %s", lie->name, n, lie->label,
                ctx->n_diags ? ctx->diags[0].text : "");
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

/* All the party's wood but the first split laid at the last feed: it adds up, and the fire is long out by then. */
START_TEST(wood_that_comes_too_late)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char *feeds = strstr(good, "\"feeds\": ["), *text = malloc(strlen(good) + 256);
  ck_assert(feeds != NULL && text != NULL);
  char *end = strchr(feeds, ']'), *first = strstr(feeds, "\"at_min\": "), *last = first;
  double kg = 0, all_kg = 0;
  int splits = 0, all = 0, n = -1;
  for (char *at = first; at && at < end; at = strstr(at + 1, "\"at_min\": ")) {
    last = at;
    ck_assert_int_eq(sscanf(strstr(at, "\"kg\": "), "\"kg\": %lf", &kg), 1);
    ck_assert_int_eq(sscanf(strstr(at, "\"splits\": "), "\"splits\": %d", &splits), 1);
    all_kg += kg;
    all += splits;
  }
  ck_assert_int_gt(all, 10);
  sprintf(text,
          "%.*s\"feeds\": [{\"at_min\": %d, \"kg\": %.12g, \"splits\": 1}, {\"at_min\": %d, \"kg\": %.12g, "
          "\"splits\": %d}%s",
          (int)(feeds - good), good, atoi(first + 10), all_kg / all, atoi(last + 10), all_kg / all * (all - 1), all - 1,
          end);
  ck_assert_int_eq(pw_plan_check_text("plan.json", text, strlen(text), &n, ctx), PW_OK);
  bool is_found = false;
  for (int i = 0; i < ctx->n_diags; i++)
    is_found =
        is_found || (strcmp(ctx->diags[i].code, "J7") == 0 && strstr(ctx->diags[i].text, "the fire is out by then"));
  ck_assert_msg(is_found, "%d findings: %s", n, ctx->n_diags ? ctx->diags[0].text : "");
  free(text);
  pw_test_ctx_free(ctx);
}
END_TEST

/** What the first causes of the plan come to by the rule, told as `list` in place of its own. */
static bool is_refused_with(const char *plan, const char *list, const char *words)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *from = strstr(plan, "\"held_back\": ["), *to = strchr(from, ']') + 1;
  char *text = malloc(strlen(plan) + strlen(list) + 64);
  int n = -1;
  bool is_found = false;
  if (!text)
    abort();
  sprintf(text, "%.*s\"held_back\": %s%s", (int)(from - plan), plan, list, to);
  ck_assert_int_eq(pw_plan_check_text("plan.json", text, strlen(text), &n, ctx), PW_OK);
  for (int i = 0; i < ctx->n_diags; i++)
    is_found = is_found || strstr(ctx->diags[i].text, words) != NULL;
  free(text);
  pw_test_ctx_free(ctx);
  return is_found;
}

/* A supper that is late in more than one of ten cooks: who makes it late is drawn anew. */
START_TEST(causes_are_drawn_anew)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = planned_event("tests/data/events/family-party.yaml", ctx);
  ev->services[0].on_time_frac = 0.7;
  struct pw_plan *plan = planned(ev, true, PW_EFFORT_QUICK, ctx);
  const char *text, *lot[2] = {NULL, NULL};
  size_t length;
  int n[2] = {0}, kind[2] = {0}, n_lots = plan->lots.n_lots;
  ck_assert_int_eq(pw_plan_json_text(&text, &length, plan, ctx), PW_OK);
  for (int c = 0; c < n_lots; c++)
    for (int k = 0; k < PW_BLAME__COUNT; k++)
      if (plan->chance.blames[pw_blame_at(n_lots, 0, c, (enum pw_blame_kind)k)] > n[0]) {
        n[0] = plan->chance.blames[pw_blame_at(n_lots, 0, c, (enum pw_blame_kind)k)];
        lot[0] = plan->lots.lots[c].id;
        kind[0] = k;
      }
  lot[1] = plan->lots.lots[0].id == lot[0] ? plan->lots.lots[1].id : plan->lots.lots[0].id;
  int late = (int)lround((1 - plan->chance.services[0].on_time_frac) * plan->chance.n_draws);
  ck_assert_int_gt(n[0], 120); /* of 2000: more than the draws of two may differ by */
  char list[512];
  static const char *const WORDS[] = {"is told as first cause", "causes of", "is told twice", "names no lot"};
  const struct {
    const char *lot;
    int kind, n, more;
    const char *words;
  } told[] = {{lot[0], !kind[0], late, 0, WORDS[0]},    {lot[1], kind[0], late, 0, WORDS[0]},
              {lot[0], kind[0], late + 2, 0, WORDS[1]}, {lot[0], kind[0], late - 2, 0, WORDS[1]},
              {lot[0], kind[0], late, 2, WORDS[2]},     {"supper/nothing", 0, late, 0, WORDS[3]}};
  for (size_t i = 0; i < sizeof told / sizeof *told; i++) {
    int at = snprintf(list, sizeof list, "[{\"lot\": \"%s\", \"is_spot\": %s, \"frac\": %.12g}", told[i].lot,
                      told[i].kind ? "true" : "false", (double)(told[i].n - told[i].more) / plan->chance.n_draws);
    if (told[i].more)
      at += snprintf(list + at, sizeof list - (size_t)at, ", {\"lot\": \"%s\", \"is_spot\": %s, \"frac\": %.12g}",
                     told[i].lot, told[i].kind ? "true" : "false", (double)told[i].more / plan->chance.n_draws);
    snprintf(list + at, sizeof list - (size_t)at, "]");
    ck_assert_msg(is_refused_with(text, list, told[i].words), "%zu: %s", i, list);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_lies");
  TCase *c = tcase_create("lies");
  tcase_set_timeout(c, 120);
  tcase_add_unchecked_fixture(c, setup, teardown);
  tcase_add_test(c, the_truth_holds);
  tcase_add_loop_test(c, a_lie_is_found, 0, N_LIES);
  tcase_add_test(c, causes_are_drawn_anew);
  tcase_add_test(c, wood_that_comes_too_late);
  suite_add_tcase(s, c);
  return s;
}

PW_MAIN(suite)
