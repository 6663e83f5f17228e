/* Tests of ways out: written into the file they keep what they promise, and what is missing is told to the portion. */
#include "planned.h"

#include "base/arena.h"
#include "base/buf.h"
#include "judge/plan_check.h"
#include "plan/chance/on_time.h"
#include "plan/demand/head_count.h"
#include "plan/ways/way_list.h"
#include "plan/ways/ways.h"
#include "write/plan_json.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct {
  const char *path;
  int heads;
  const char *lines; /* what makes it too small */
} SHORT[] = {
    {"tests/data/events/family-party.yaml", 110, "---\n"},
    {"tests/data/events/family-party.yaml", 160, "---\n"},
    {"tests/data/events/family-party.yaml", 40, "---\nfinishers:\n  - {id: hot-box, pans: 2.7}\n"},
    {"tests/data/events/lakeside-wedding.yaml", 180,
     "---\nfinishers:\n  - {id: box-1, pans: 5}\n  - {id: box-2, pans: 4}\n"},
    {"events/sunday-lunch.yaml", 0,
     "---\nservices:\n  - id: lunch\n    menu:\n      - {dish: pork-pulled, cook: same_day}\n"},
    {"events/sunday-lunch.yaml", 0,
     "---\nservices:\n  - {id: lunch, length: 4 h, arrivals: [20 %, 20 %, 20 %, 20 %, 20 %], guests: {adults: 160, "
     "children: 20}}\n"},
};
enum { N_SHORT = sizeof SHORT / sizeof *SHORT };

static const struct pw_event *short_event(int i, struct pw_ctx *ctx)
{
  const struct pw_event *ev = planned_event_with(SHORT[i].path, SHORT[i].lines, ctx), *scaled = ev;
  if (SHORT[i].heads > 0)
    ck_assert_int_eq(pw_head_count_scale(&scaled, ev, SHORT[i].heads, ctx), PW_OK);
  return scaled;
}

static char *file_text(const char *path)
{
  FILE *f = fopen(path, "rb");
  char *text = calloc(1, 1 << 20);
  ck_assert(f && text);
  ck_assert_int_gt(fread(text, 1, (1 << 20) - 1, f), 0);
  fclose(f);
  return text;
}

/* Another file of the same folder, on the same house file if it has one. */
static const char *beside(const char *path, const char *name, struct pw_ctx *ctx)
{
  const char *end = strrchr(path, '/');
  ck_assert_ptr_nonnull(end);
  return pw_arena_printf(ctx->arena, "%.*s/%s", (int)(end - path), path, name);
}

/* Meals are ready about as often as told: draws of 2,000 err by half a point at 95, and a thorough plan gives back what it has beyond its
 * target.  Where the target is out of reach two searches end as far as that apart. */
static void check_chances(const struct pw_remedy *r, const struct pw_plan *after)
{
  for (int i = 0; i < r->n_chances; i++) {
    const struct pw_meal_chance *c = &r->chances[i];
    int s = 0;
    while (s < after->event->n_services && strcmp(after->event->services[s].id, c->service) != 0)
      s++;
    ck_assert_msg(s < after->event->n_services, "%s: no meal %s", r->what, c->service);
    double has = after->chance.services[s].on_time_frac, least = fmin(c->on_time_frac, c->target_frac);
    least -= c->on_time_frac < c->target_frac ? 0.03 : 0.015;
    ck_assert_msg(has >= least, "%s: %s is ready %.4f, %.4f told", r->what, c->service, has, c->on_time_frac);
  }
}

/* The file's own text, the lines behind it, read and planned as any file: it fits, or lacks no more than was told, and costs no more
 * than was told but for the fees and hours that a better plan may move (1 %). */
START_TEST(pasted_lines_keep_their_promise)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(short_event(_i, ctx), false, PW_EFFORT_FULL, ctx);
  const struct pw_allocation *a = &plan->allocation;
  ck_assert_int_gt(a->n_missed, 0);
  ck_assert_msg(a->n_remedies > 0, "%s for %d: no way out of %d", SHORT[_i].path, SHORT[_i].heads, a->n_missed);
  ck_assert_int_eq(a->remedies[0].missed_after, 0);
  for (int i = 0; i < a->n_remedies && i < 2; i++) {
    const struct pw_remedy *r = &a->remedies[i];
    char *text = file_text(SHORT[_i].path);
    struct pw_buf whole = pw_buf_in(ctx->arena);
    pw_buf_printf(&whole, "%s%s%s", text, SHORT[_i].lines, r->lines);
    free(text);
    struct pw_event *ev = NULL;
    const struct pw_event *scaled = NULL;
    ck_assert_int_eq(pw_event_read_text(&ev, beside(SHORT[_i].path, "pasted.yaml", ctx), pw_buf_text(&whole), whole.n,
                                        "templates", ctx),
                     PW_OK);
    scaled = ev;
    if (SHORT[_i].heads > 0)
      ck_assert_int_eq(pw_head_count_scale(&scaled, ev, SHORT[_i].heads, ctx), PW_OK);
    const struct pw_plan *after = planned(scaled, false, PW_EFFORT_FULL, ctx);
    ck_assert_msg(after->allocation.n_missed <= r->missed_after, "%s: %d missing, %d told", r->what,
                  after->allocation.n_missed, r->missed_after);
    ck_assert_msg((double)after->quote.cost_cents <= 1.01 * (double)r->plan_cost_cents, "%s: costs %ld, %ld told",
                  r->what, (long)after->quote.cost_cents, (long)r->plan_cost_cents);
    ck_assert_int_eq(r->n_chances > 0, r->missed_after == 0);
    check_chances(r, after);
    ck_assert_int_eq(r->plan_cost_cents - plan->quote.cost_cents, r->cost_cents);
    ck_assert_int_eq(after->demand.head_count, plan->demand.head_count);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* Portions: of the classes that eat the dish, by their numbers, adding up; none where nothing is missing. */
START_TEST(missing_portions_add_up)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(short_event(_i, ctx), false, PW_EFFORT_FULL, ctx);
  const struct pw_event *ev = plan->event;
  int n_lines = 0;
  for (int i = 0; i < plan->n_shortfalls; i++) {
    const struct pw_shortfall *s = &plan->shortfalls[i];
    const struct pw_cut *cut = &ev->cuts[ev->dishes[s->dish].cut];
    int sum = 0, missed = 0;
    for (int k = 0; k < ev->n_classes; k++) {
      sum += s->by_class[k];
      ck_assert(s->by_class[k] >= 0);
      if (!ev->classes[k].eats_meat && cut->kind != PW_KIND_PLANT)
        ck_assert_int_eq(s->by_class[k], 0);
    }
    ck_assert_int_eq(sum, s->portions);
    ck_assert_int_le(s->portions, s->wanted);
    ck_assert_ptr_nonnull(strstr(s->text, ev->dishes[s->dish].name));
    for (int c = 0; c < plan->lots.n_lots; c++)
      if (plan->lots.lots[c].service == s->service && plan->lots.lots[c].cut == ev->dishes[s->dish].cut)
        missed += plan->allocation.missed[c];
    ck_assert_int_gt(missed, 0);
  }
  for (int i = 0; i < plan->demand.n_lines; i++) {
    bool is_short = false; /* a dish in waves is one line, however many of its waves lack pieces */
    for (int c = 0; c < plan->lots.n_lots; c++)
      is_short =
          is_short || (plan->lots.lots[c].service == plan->demand.lines[i].service && plan->allocation.missed[c] > 0 &&
                       plan->lots.lots[c].cut == ev->dishes[plan->demand.lines[i].dish].cut);
    n_lines += is_short;
  }
  ck_assert_int_eq(plan->n_shortfalls, n_lines);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Raw chicken cooks on the upper shelf alone, salmon on the lower: it would be dripped on, and does not pass 74 C itself (FDA Food Code
 * 2022 3-302.11, 3-401.11).  A tray between costs its price. */
#define DRIPS                                                                                                          \
  "event: {name: Picnic, date: 2027-06-12}\nservices:\n"                                                               \
  "  - {id: lunch, name: Lunch, time: \"12:00\", length: 1 h, guests: {adults: 16, no-meat: 4},\n"                     \
  "    menu: [{dish: chicken-quarter, take: 90 %}, {dish: salmon-flaked, take: 50 %}, slaw]}\n"                        \
  "pits:\n  - {use: upright-cabinet, id: cabinet, name: Two shelves,\n"                                                \
  "     settings: [{name: hot, hot: 285 F, cool: 285 F, splits: 2 per h}], racks: [\n"                                 \
  "      {id: low, outline: rectangle, length: 34 in, depth: 30 in, clear_height: 9 in, offset: -50 F, zones: 1},\n"   \
  "      {id: high, outline: rectangle, length: 34 in, depth: 30 in, clear_height: 8 in, offset: 0 F, zones: 1}]}\n"   \
  "finishers: [box]\ncrew_pool: []\ncrew:\n"                                                                           \
  "  - {role: cook, duties: [fire, pit, prep, carve, drive, clean], count: 3, from: \"02:00\", to: \"16:00\", rate: "  \
  "22 "                                                                                                                \
  "per h}\n"                                                                                                           \
  "  - {role: server, duties: [serve, carve, clean], count: 2, from: \"10:00\", to: \"16:00\", rate: 18 per h}\n"

START_TEST(a_tray_is_a_way_out)
{
  enum { TRAY_CENTS = 950 }; /* templates/items.yaml */
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = NULL, *with = NULL;
  ck_assert_int_eq(pw_event_read_text(&ev, "events/picnic.yaml", DRIPS, strlen(DRIPS), "templates", ctx), PW_OK);
  const struct pw_plan *plan = planned(ev, false, PW_EFFORT_FULL, ctx);
  const struct pw_remedy *r = plan->allocation.remedies;
  ck_assert_int_eq(plan->allocation.n_missed, 2);
  ck_assert_int_gt(plan->allocation.n_remedies, 0);
  ck_assert_int_eq(r->n_parts, 1);
  ck_assert_int_eq(r->parts[0].kind, PW_WAY_TRAY);
  ck_assert_str_eq(r->parts[0].id, "cabinet");
  ck_assert_int_eq(r->missed_after, 0);
  ck_assert_int_eq(pw_event_change(&with, ev, r->lines, ctx), PW_OK);
  const struct pw_plan *after = planned(with, false, PW_EFFORT_FULL, ctx);
  ck_assert_int_eq(after->allocation.n_missed, 0);
  ck_assert_int_eq(after->quote.supplies_cents - plan->quote.supplies_cents, TRAY_CENTS);
  ck_assert_int_ge(r->cost_cents, TRAY_CENTS);
  for (int i = 0; i < after->allocation.n_remedies; i++)
    ck_abort_msg("ways out of nothing");
  pw_test_ctx_free(ctx);
}
END_TEST

/* Thighs for 180 on a small offset over four hours: with one wave more each spot cooks once more, for the price of a fire's hour; a pit to
 * hire costs its rent.  Told once, by the fewest waves that do. */
START_TEST(more_waves_are_a_way_out)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(short_event(N_SHORT - 1, ctx), false, PW_EFFORT_FULL, ctx);
  const struct pw_allocation *a = &plan->allocation;
  struct pw_event *with = NULL;
  int n_waves = 0, n_alone = 0, of_dish = 0;
  for (int c = 0; c < plan->lots.n_lots; c++)
    n_waves = a->missed[c] > 0 && plan->lots.lots[c].n_waves > n_waves ? plan->lots.lots[c].n_waves : n_waves;
  ck_assert_int_gt(a->n_remedies, 1);
  ck_assert_int_eq(a->remedies[0].n_parts, 1);
  ck_assert_int_eq(a->remedies[0].parts[0].kind, PW_WAY_WAVES);
  ck_assert_int_eq(a->remedies[0].missed_after, 0);
  for (int i = 0; i < a->n_remedies; i++) {
    n_alone += a->remedies[i].n_parts == 1 && a->remedies[i].parts[0].kind == PW_WAY_WAVES;
    if (a->remedies[i].parts[0].kind == PW_WAY_PIT)
      ck_assert_int_lt(a->remedies[0].cost_cents, a->remedies[i].cost_cents);
  }
  ck_assert_int_eq(n_alone, 1);
  ck_assert_int_eq(pw_event_change(&with, plan->event, a->remedies[0].lines, ctx), PW_OK);
  for (int m = 0; m < with->services[0].n_menu; m++)
    if (strcmp(with->dishes[with->services[0].menu[m].dish].id, a->remedies[0].parts[0].id) == 0)
      of_dish = with->services[0].menu[m].n_waves;
  ck_assert_int_eq(of_dish, n_waves + 1);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(what_fits_has_no_ways)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan =
      planned(planned_event("tests/data/events/family-party.yaml", ctx), false, PW_EFFORT_FULL, ctx);
  ck_assert_int_eq(plan->n_ways_tried, 0);
  ck_assert_int_eq(plan->allocation.n_remedies, 0);
  ck_assert_int_eq(plan->n_shortfalls, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- late too often -------------------------------------------------------------------------------------------- */

#define LUNCH(chance, guests, menu, pit, count, from)                                                                  \
  "event: {name: Lunch, date: 2027-06-12}\nservices:\n"                                                                \
  "  - {id: lunch, name: Lunch, time: \"13:00\", length: 1 h, on_time: " chance " %, guests: {adults: " guests         \
  "}, menu: [" menu ", slaw]}\npits: [{use: " pit ", id: pit, name: The pit}]\nfinishers: [hot-box-tall]\n"            \
  "crew_pool: []\ncrew:\n"                                                                                             \
  "  - {role: cook, duties: [fire, pit, prep, carve, drive, clean], count: " count ", from: \"" from                   \
  "\", to: \"18:00\", rate: 22 per h}\n"                                                                               \
  "  - {role: server, duties: [serve, carve, clean], count: 2, from: \"10:00\", to: \"18:00\", rate: 18 per h}\n"

#define LATE_COOKS                                                                                                     \
  "house: house-garden.yaml\nevent: {name: Christening lunch, date: 2027-10-09}\nservices:\n"                          \
  "  - {id: lunch, name: Christening lunch, time: \"13:00\", guests: {adults: 24, children: 8}, menu: "                \
  "thighs-and-sausage}\ncrew_pool: []\ncrew:\n"                                                                        \
  "  - {role: cook, duties: [fire, pit, prep, carve, serve, drive, clean], count: 2, from: \"10:30\", to: \"16:00\", " \
  "rate: 24 per h}\n"

static const struct {
  const char *name, *text;
  enum pw_way_kind helps; /* among what helps */
} LATE[] = {
    {"cooks who come late", LATE_COOKS, PW_WAY_HAND},
    {"one pit, one hand",
     LUNCH("99", "50",
           "{dish: chicken-quarter, take: 60 %}, {dish: sausage-smoked, take: 60 %}, {dish: salmon-flaked, take: 60 %}",
           "wide-offset", "1", "04:00"),
     PW_WAY_PIT},
};
enum { N_LATE = sizeof LATE / sizeof *LATE };

static const struct pw_event *late_event(int i, struct pw_ctx *ctx)
{
  struct pw_event *ev = NULL;
  ck_assert_msg(pw_event_read_text(&ev, "events/late.yaml", LATE[i].text, strlen(LATE[i].text), "templates", ctx) ==
                    PW_OK,
                "%s", LATE[i].name);
  return ev;
}

/* Everything has a place, and the meal is late too often: what is told helps as told when its lines are behind the event. */
START_TEST(a_late_meal_has_ways)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = late_event(_i, ctx);
  const struct pw_plan *plan = planned(ev, false, PW_EFFORT_FULL, ctx);
  const struct pw_allocation *a = &plan->allocation;
  double now = plan->chance.services[0].on_time_frac, target = pw_on_time_target(ev, 0);
  bool is_found = false;
  ck_assert_int_eq(a->n_missed, 0);
  ck_assert_msg(now < target, "%s: has its chance", LATE[_i].name);
  ck_assert_msg(a->n_remedies > 0, "%s: no way", LATE[_i].name);
  for (int i = 0; i < a->n_remedies; i++) {
    const struct pw_remedy *r = &a->remedies[i];
    struct pw_event *with = NULL;
    is_found = is_found || r->parts[0].kind == LATE[_i].helps;
    ck_assert_int_eq(r->missed_after, 0);
    ck_assert_int_gt(r->n_chances, 0);
    ck_assert(r->chances[0].on_time_frac > now);
    ck_assert_int_eq(r->plan_cost_cents - plan->quote.cost_cents, r->cost_cents);
    if (i >= 2)
      continue;
    ck_assert_int_eq(pw_event_change(&with, ev, r->lines, ctx), PW_OK);
    const struct pw_plan *after = planned(with, false, PW_EFFORT_FULL, ctx);
    ck_assert_int_eq(after->allocation.n_missed, 0);
    check_chances(r, after);
    ck_assert_msg((double)after->quote.cost_cents <= 1.01 * (double)r->plan_cost_cents, "%s: costs %ld, %ld told",
                  r->what, (long)after->quote.cost_cents, (long)r->plan_cost_cents);
  }
  ck_assert_msg(is_found, "%s: not among the ways", LATE[_i].name);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Without a chance asked there is nothing to raise; a quick plan has no ways. */
START_TEST(who_asks_for_none_gets_none)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = NULL;
  struct pw_run_options options = {.effort = PW_EFFORT_FULL, .on_time_frac = -1};
  ck_assert_int_eq(pw_run_plan(&plan, late_event(0, ctx), &options, ctx), PW_OK);
  ck_assert_int_eq(plan->allocation.n_remedies, 0);
  ck_assert_int_eq(plan->n_ways_tried, 0);
  options = (struct pw_run_options){.effort = PW_EFFORT_QUICK};
  ck_assert_int_eq(pw_run_plan(&plan, late_event(0, ctx), &options, ctx), PW_OK);
  ck_assert_int_eq(plan->allocation.n_remedies, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Half of the guests later: they come over the meal, and are cooked for, as the first half does. */
START_TEST(a_second_sitting_is_the_same_meal)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev = planned_event_with(
      "events/river-weekend.yaml",
      "---\nservices:\n  - id: sat-supper\n    guests: {adults: 160}\n    on_time: 80 %\n    waves: 3\n    menu:\n"
      "      - {dish: pit-mac, waves: 2}\n",
      ctx);
  struct pw_plan *plan = NULL;
  struct pw_run_options options = {.effort = PW_EFFORT_QUICK, .is_at_once = true};
  struct pw_event *with = NULL;
  struct pw_way *list = NULL;
  int n = 0, n_sittings = 0, n_waves = 0, n_labels = 0, n_chances = 0;
  ck_assert_int_eq(pw_run_plan(&plan, ev, &options, ctx), PW_OK);
  ck_assert_int_eq(pw_way_list_make(&list, &n, plan, ctx), PW_OK);
  for (int i = 0; i < n; i++) {
    if (list[i].part.kind != PW_WAY_SITTING)
      continue;
    const struct pw_service *first = &ev->services[list[i].service], *later = NULL;
    n_sittings++;
    ck_assert_msg(pw_event_change(&with, ev, list[i].lines, ctx) == PW_OK, "%s", list[i].lines);
    for (int k = 0; k < with->n_services; k++)
      later = strcmp(with->services[k].id, list[i].part.id) == 0 ? &with->services[k] : later;
    ck_assert_ptr_nonnull(later);
    ck_assert_int_eq(later->n_waves, first->n_waves);
    ck_assert_int_eq(later->on_time_frac > 0, first->on_time_frac > 0);
    ck_assert(!(first->on_time_frac > 0) || fabs(later->on_time_frac - first->on_time_frac) < 1e-12);
    n_chances += later->on_time_frac > 0;
    ck_assert_int_eq(later->n_arrive, first->n_arrive);
    for (int k = 0; k < first->n_arrive; k++)
      ck_assert(fabs(later->arrive_frac[k] - first->arrive_frac[k]) < 1e-12);
    ck_assert_int_eq(later->n_menu, first->n_menu);
    for (int m = 0; m < first->n_menu; m++) {
      ck_assert_int_eq(later->menu[m].n_waves, first->menu[m].n_waves);
      ck_assert_int_eq(later->menu[m].is_time_control, first->menu[m].is_time_control);
      n_waves += later->menu[m].n_waves;
      n_labels += later->menu[m].is_time_control;
    }
  }
  ck_assert_int_gt(n_sittings, 0);
  ck_assert_int_gt(n_chances, 0);
  ck_assert_int_gt(n_waves, 0);
  ck_assert_int_gt(n_labels, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* A planner that fails or finds nothing: no way out, the plan stands. */
static pw_status fails(void *user, struct pw_plan *out, const char *lines, enum pw_way_care care, struct pw_ctx *ctx)
{
  (void)out, (void)lines, (void)care, (void)ctx;
  return *(const pw_status *)user;
}

START_TEST(a_way_that_cannot_be_is_dropped)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(short_event(0, ctx), false, PW_EFFORT_FULL, ctx);
  static const struct {
    pw_status says, gives;
  } rows[] = {{PW_ERR_INPUT, PW_OK}, {PW_ERR_SOLVER, PW_OK}, {PW_ERR_MEMORY, PW_ERR_MEMORY}};
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    pw_status says = rows[i].says;
    struct pw_ways_planner planner = {fails, &says, 0};
    plan->allocation.n_remedies = 0;
    ck_assert_int_eq(pw_ways_make(plan, &planner, ctx), rows[i].gives);
    ck_assert_int_eq(plan->allocation.n_remedies, 0);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- the judge ---------------------------------------------------------------------------------------------- */

static const char *judged(const char *text, struct pw_ctx *ctx)
{
  int n = 0, before = ctx->n_diags;
  ck_assert_int_eq(pw_plan_check_text(NULL, text, strlen(text), &n, ctx), PW_OK);
  return n == 0 ? "" : ctx->diags[before].text;
}

/* The n-th number behind `key` in the part of the text from `from` on, made another. */
static char *with_number(const char *text, const char *from, const char *key, long by)
{
  const char *at = strstr(strstr(text, from), key);
  char *end, *copy = calloc(1, strlen(text) + 64);
  ck_assert(at && copy);
  long value = strtol(at + strlen(key), &end, 10);
  sprintf(copy, "%.*s%ld%s", (int)(at + strlen(key) - text), text, value + by, end);
  return copy;
}

static char *with_words(const char *text, const char *from, const char *old, const char *new)
{
  const char *at = strstr(strstr(text, from), old);
  char *copy = calloc(1, strlen(text) + 64);
  ck_assert(at && copy);
  sprintf(copy, "%.*s%s%s", (int)(at - text), text, new, at + strlen(old));
  return copy;
}

#define WAYS "\"remedies\": ["
#define GAPS "\"shortfalls\": ["
struct broken {
  const char *name, *from, *key, *new; /* new NULL: the number behind key changed by `by` */
  long by;
  const char *finding;
};
static const struct broken BROKEN[] = {
    {"costs more than its plan", WAYS, "\"cost_cents\": ", NULL, 1, "remedies[0].cost_cents: "},
    {"its plan costs less", WAYS, "\"plan_cost_cents\": ", NULL, -100, "remedies[0].cost_cents: "},
    {"leaves most of it", WAYS, "\"missed_after\": ", NULL, 900, "remedies[0]: leaves "},
    {"portions missing, no pieces", WAYS, "\"missed_portions_after\": ", NULL, 5,
     "remedies[0].missed_portions_after: "},
    {"a kind that is none", WAYS, "\"kind\": \"pit\"", "\"kind\": \"crane\"", 0, "remedies[0].parts["},
    {"a pit that is not there", WAYS, "\"is_new\": true", "\"is_new\": false", 0, "remedies[0].parts[0]: "},
    {"lines of something else", WAYS, "trailer-hire-more", "trailer-hire-less", 0, "remedies[0].lines: "},
    {"no lines", WAYS, "\"---\"", "\"#--\"", 0, "remedies[0].lines: "},
    {"a portion more", GAPS, "\"portions\": ", NULL, 1, "shortfalls[0]"},
    {"more wanted", GAPS, "\"wanted\": ", NULL, 1, "shortfalls[0].wanted: "},
    {"one more without", GAPS, "\"adults\": ", NULL, 1, "shortfalls[0].by_class: "},
    {"dealt to those who do not eat it", GAPS, "\"no-meat\": ", NULL, 3, "shortfalls[0].by_class: "},
    {"another dish", GAPS, "\"dish\": \"", "\"dish\": \"x", 0, "shortfalls"},
};
enum { N_BROKEN = sizeof BROKEN / sizeof *BROKEN };

/* Of a plan that is late too often: its own chance, which is not judged here, stands before the ways. */
static const struct broken BROKEN_LATE[] = {
    {"a chance above one", WAYS, "\"on_time_frac\": ", "\"on_time_frac\": 7", 0, "remedies[0].chances_after[0]"},
    {"no better than without it", WAYS, "\"on_time_frac\": ", "\"on_time_frac\": 0.5, \"was\": ", 0,
     "remedies[0].chances_after: lack "},
    {"another target", WAYS, "\"target_frac\": 0.", "\"target_frac\": 0.5", 0,
     "remedies[0].chances_after[0].target_frac: "},
    {"another meal", WAYS, "\"service\": \"lunch\"", "\"service\": \"brunch\"", 0, "remedies[0].chances_after[0]: "},
    {"no chance", WAYS, "\"chances_after\"", "\"chances_before\"", 0, "remedies[0].chances_after: a way out"},
    {"costs more than its plan", WAYS, "\"cost_cents\": ", NULL, 1, "remedies[0].cost_cents: "},
    {"leaves a piece", WAYS, "\"missed_after\": ", NULL, 1, "remedies[0]: leaves "},
    {"a target that is had", "\"services\": [", "\"target_frac\": 0.9", "\"target_frac\": 0.1", 0,
     "remedies[0].chances_after[0].target_frac: "},
};

static void check_broken(const struct pw_plan *plan, const struct broken *rows, size_t n_rows, struct pw_ctx *ctx)
{
  const char *text = NULL;
  size_t n = 0;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  ck_assert_str_eq(judged(text, ctx), "");
  for (size_t i = 0; i < n_rows; i++) {
    const struct broken *b = &rows[i];
    char *broken = b->new ? with_words(text, b->from, b->key, b->new) : with_number(text, b->from, b->key, b->by);
    const char *finding = judged(broken, ctx);
    ck_assert_msg(strncmp(finding, b->finding, strlen(b->finding)) == 0, "%s: \"%s\"", b->name, finding);
    free(broken);
  }
}

START_TEST(the_judge_knows_them)
{
  struct pw_ctx *ctx = pw_test_ctx();
  check_broken(planned(short_event(1, ctx), false, PW_EFFORT_FULL, ctx), BROKEN, N_BROKEN, ctx);
  pw_test_ctx_free(ctx);
  ctx = pw_test_ctx(); /* without the findings of before */
  check_broken(planned(late_event(0, ctx), false, PW_EFFORT_FULL, ctx), BROKEN_LATE,
               sizeof BROKEN_LATE / sizeof *BROKEN_LATE, ctx);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("ways");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 600); /* for the sanitizers; nothing here asserts a time */
  tcase_add_loop_test(t, pasted_lines_keep_their_promise, 0, N_SHORT);
  tcase_add_loop_test(t, missing_portions_add_up, 0, N_SHORT);
  tcase_add_test(t, more_waves_are_a_way_out);
  tcase_add_test(t, what_fits_has_no_ways);
  tcase_add_test(t, a_second_sitting_is_the_same_meal);
  tcase_add_test(t, a_way_that_cannot_be_is_dropped);
  suite_add_tcase(s, t);
  TCase *late = tcase_create("late");
  tcase_set_timeout(late, 600);
  tcase_add_loop_test(late, a_late_meal_has_ways, 0, N_LATE);
  tcase_add_test(late, who_asks_for_none_gets_none);
  suite_add_tcase(s, late);
  TCase *judge = tcase_create("judge");
  tcase_set_timeout(judge, 600);
  tcase_add_test(judge, the_judge_knows_them);
  suite_add_tcase(s, judge);
  TCase *tray = tcase_create("tray");
  tcase_set_timeout(tray, 240);
  tcase_add_test(tray, a_tray_is_a_way_out);
  suite_add_tcase(s, tray);
  return s;
}

PW_MAIN(suite)
