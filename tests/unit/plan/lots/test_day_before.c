/* test_day_before.c - what is cooked the day before [C1]: physics, Food Code times, tasks, ice, ovens, and the judge [J14]. */
#include "planned.h"
#include "writer_checks.h"

#include "heat/food_code.h"
#include "judge/plan_check.h"
#include "plan/lots/day_before.h"
#include "write/html/html.h"
#include "write/plan_json.h"
#include "write/text/text_sheets.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define EVENT "events/sunday-lunch.yaml"

/* One-term series of a slab whose surface is held at the air: 4/pi exp(-pi^2/4 Fo) (Incropera et al., transient conduction). */
START_TEST(reheating_like_the_series)
{
  double half = 0.02, theta = (124.0 - 73.9) / (124.0 - 5.0), fo = log(1.2732395 / theta) / 2.4674011;
  PW_NEAR("40 mm, perfect film", pw_reheat_layer_min(2 * half, 1e6, 124, 73.9), fo * half * half / 1.3e-7 / 60, 0,
          0.01);
  ck_assert(isinf(pw_reheat_layer_min(0.04, 15, 73, 73.9)));
  double deep = pw_reheat_depth_m(15, 124, 73.9, 90);
  ck_assert_msg(pw_reheat_layer_min(deep, 15, 124, 73.9) <= 90 && pw_reheat_layer_min(deep + 0.001, 15, 124, 73.9) > 90,
                "%g", deep);
  ck_assert(pw_reheat_depth_m(15, 160, 73.9, 90) > deep);
}
END_TEST

static int n_tasks(const struct pw_plan *plan, int lot, enum pw_task_kind kind, int from, int to)
{
  int n = 0;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    n += t->lot == lot && t->kind == kind && t->at_min >= from && t->at_min + t->minutes <= to;
  }
  return n;
}

static int cold_lot(const struct pw_plan *plan)
{
  for (int l = 0; l < plan->lots.n_lots; l++)
    if (plan->lots.lots[l].is_day_before)
      return l;
  ck_abort_msg("no lot is cooked the day before");
}

/* 3-501.14(A): 135 F to 70 F within 2 h, 41 F within 6 h in all; 3-403.11(D): reheated within 2 h. */
START_TEST(chilled_and_reheated_in_time)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(EVENT, ctx), false, PW_EFFORT_QUICK, ctx);
  int l = cold_lot(plan), pieces = 0;
  const struct pw_lot *lot = &plan->lots.lots[l];
  ck_assert_int_eq(plan->allocation.n_missed, 0);
  ck_assert_int_eq(lot->day, -1);
  for (int i = 0; i < plan->day_before.n_chills; i++) {
    const struct pw_chill *c = &plan->day_before.chills[i];
    pieces += c->pieces;
    ck_assert(c->cool_by_at_min == c->from_at_min + 120 && c->cold_by_at_min == c->from_at_min + 360);
    ck_assert(c->from_at_min <= lot->by_at_min && c->from_at_min < 0);
    struct pw_cooling cooling = pw_cooling_layer(c->thick_m, 100, 0.5);
    ck_assert(cooling.is_first_met && cooling.is_second_met);
    ck_assert_int_eq(n_tasks(plan, l, PW_TASK_CHILL, c->from_at_min, c->from_at_min + 60), 1);
    ck_assert_int_eq(n_tasks(plan, l, PW_TASK_COOL_CHECK, c->from_at_min + 60, c->cool_by_at_min), 1);
    ck_assert_int_eq(n_tasks(plan, l, PW_TASK_COOL_CHECK, c->cool_by_at_min, c->cold_by_at_min), 1);
    /* 90 K from 95 C over the heat of melting: 0.92 kg of ice for a kilogram of meat */
    PW_NEAR("ice", c->ice_kg, c->pieces * lot->piece_kg * plan->event->cuts[lot->cut].cook_frac * 0.916, 0, 0.01);
  }
  ck_assert_int_eq(pieces, lot->pieces);
  ck_assert_int_eq(pw_day_before_reheated(&plan->lots, l), lot->pieces);
  for (int i = 0; i < plan->lots.n_reheats; i++) {
    const struct pw_reheat *r = &plan->lots.reheats[i];
    ck_assert(r->ready_at_min - r->from_at_min <= 120 && r->ready_at_min <= r->out_at_min);
    ck_assert(r->from_at_min > plan->day_before.chills[plan->day_before.n_chills - 1].cold_by_at_min);
    ck_assert(r->capacity <= plan->event->finishers[r->finisher].capacity);
    ck_assert_int_eq(n_tasks(plan, l, PW_TASK_REHEAT, r->from_at_min, r->from_at_min + 30), 1);
    ck_assert_int_eq(n_tasks(plan, l, PW_TASK_CUT, r->from_at_min - 120, r->from_at_min), 1);
    ck_assert_int_eq(n_tasks(plan, l, PW_TASK_PROBE, r->from_at_min, r->ready_at_min), 1);
  }
  ck_assert_int_eq(plan->allocation.n_burns, 2); /* one each day */
  ck_assert(plan->allocation.burns[0].out_at_min < 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* The same event, all of it cooked on the day. */
static struct pw_event *on_the_day(struct pw_ctx *ctx)
{
  return planned_event_with(
      EVENT, "---\nservices:\n  - id: lunch\n    menu:\n      - {dish: pork-pulled, cook: same_day}\n", ctx);
}

static double bought(const struct pw_plan *plan, const char *item)
{
  double amount = 0;
  for (int i = 0; i < plan->purchase.n_lines; i++)
    if (strcmp(plan->event->items[plan->purchase.lines[i].item].id, item) == 0)
      amount += plan->purchase.lines[i].need;
  return amount;
}

/* The judge finds the oven by its id wherever it stands in the list of places, which goes by id. */
START_TEST(an_oven_of_any_id)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event ev = *planned_event(EVENT, ctx);
  struct pw_finisher finishers[8];
  ck_assert_int_le(ev.n_finishers, 8);
  memcpy(finishers, ev.finishers, (size_t)ev.n_finishers * sizeof *finishers);
  int oven = 0, to = _i ? 0 : ev.n_finishers - 1;
  while (finishers[oven].kind != PW_OVEN)
    oven++;
  struct pw_finisher kept = finishers[to];
  finishers[to] = finishers[oven];
  if (to != oven)
    finishers[oven] = kept;
  finishers[to].id = _i ? "a-oven" : "z-oven"; /* entries stand in the order of their ids */
  ev.finishers = finishers;
  struct pw_plan *plan = planned(&ev, false, PW_EFFORT_QUICK, ctx); /* the judge has passed it */
  ck_assert_int_gt(plan->lots.n_reheats, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(what_it_costs)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *cold = planned(planned_event(EVENT, ctx), false, PW_EFFORT_QUICK, ctx);
  struct pw_plan *fresh = planned(on_the_day(ctx), false, PW_EFFORT_QUICK, ctx);
  const struct pw_cut *cut = &cold->event->cuts[cold->lots.lots[cold_lot(cold)].cut];
  for (int i = 0; i < cold->purchase.n_raws; i++) {
    double kept = cold->purchase.raws[i].cut == cold->lots.lots[cold_lot(cold)].cut ? 1 - cut->chill_loss_frac : 1;
    PW_NEAR("yield", cold->purchase.raws[i].yield_frac, fresh->purchase.raws[i].yield_frac * kept, 0, 1e-9);
  }
  ck_assert(bought(cold, "ice") > 0 && bought(fresh, "ice") == 0);
  ck_assert_int_eq(fresh->day_before.n_chills, 0);
  ck_assert_int_eq(fresh->lots.n_reheats, 0);
  /* from the oven's going in until it is served */
  double hours = 0;
  for (int i = 0; i < cold->allocation.n_loads; i++)
    if (cold->allocation.loads[i].stage == PW_LOAD_FINISH && cold->allocation.loads[i].finisher != PW_NONE)
      hours = fmax(hours, (cold->allocation.loads[i].end_at_min - cold->allocation.loads[i].start_at_min) / 60.0);
  PW_NEAR("oven", cold->fuel.oven_h,
          hours + (cold->lots.reheats[0].out_at_min - cold->lots.reheats[0].from_at_min) / 60.0, 1e-6, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(an_oven_too_small_is_told)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = planned_event(EVENT, ctx);
  for (int f = 0; f < ev->n_finishers; f++)
    if (ev->finishers[f].kind == PW_OVEN)
      ev->finishers[f].capacity *= 0.1;
  struct pw_plan *plan =
      planned(ev, false, PW_EFFORT_QUICK, ctx); /* judged: the warning stands for the missing reheat */
  bool is_said = false;
  for (int i = 0; i < plan->n_warnings; i++)
    is_said = is_said || strcmp(plan->warnings[i].code, "reheat-room") == 0;
  ck_assert(is_said && pw_day_before_reheated(&plan->lots, cold_lot(plan)) < plan->lots.lots[cold_lot(plan)].pieces);
  pw_test_ctx_free(ctx);
}
END_TEST

/* One number or word of the plan's "chills" or "reheats" changed; what the judge must say of it. */
static const struct {
  const char *name, *section, *key, *value, *says;
} broken[] = {
    {"two hours and a minute to 70 F", "\"chills\"", "cool_by_min", "+1", "chills[0]: to 21.1 C in 121 min"},
    {"six hours and a minute to 41 F", "\"chills\"", "cold_by_min", "+1", "chills[0]: to 5 C in 361 min"},
    {"only down to 75 F", "\"chills\"", "cool_c", "23.9", "chills[0]: to 23.9 C"},
    {"only down to 45 F", "\"chills\"", "cold_c", "7.2", "chills[0]: to 7.2 C"},
    {"a whole brisket in the bath", "\"chills\"", "thick_m", "0.1", "chills[0].thick_m"},
    {"a piece forgotten", "\"chills\"", "pieces", "1", "chills[0]: 1 pieces"},
    {"begun before it has rested", "\"chills\"", "from_min", "-30", "chills[0]"},
    {"reheated to 160 F", "\"reheats\"", "core_c", "71.1", "reheats[0].core_c"},
    {"reheated for three hours", "\"reheats\"", "from_min", "-90", "reheats[0]: takes 180 min"},
    {"warm after the service has begun", "\"reheats\"", "ready_min", "+60", "reheats[0]: takes"},
    {"kept beyond the service", "\"reheats\"", "out_min", "+60", "reheats[0]: warm at"},
    {"in the hot box", "\"reheats\"", "place", "\"hot-box\"", "reheats[0]: its place is no oven"},
    {"more than the oven holds", "\"reheats\"", "room", "99", "reheats[0]: \"oven\" holds"},
    {"less room than the pieces take", "\"reheats\"", "room", "0.01", "reheats[0].room"},
    {"pans filled to the brim", "\"reheats\"", "depth_m", "0.12", "reheats[0].depth_m"},
    {"chilled, but cooked on the day", "\"chills\"", "lot", "\"lunch/chicken-thighs\"",
     "chills[0]: \"lunch/chicken-thighs\" is not"},
    {"reheated, but cooked on the day", "\"reheats\"", "lot", "\"lunch/chicken-thighs\"",
     "reheats[0]: \"lunch/chicken-thighs\" is not"},
    {"into the bath too late", "\"chills\"", "from_min", "+600", "chills[0]: begins at minute"},
    {"reheated before it is cold", "\"chills\"", "cold_by_min", "+1440",
     "reheats[0]: begins at minute 630, chills[0] is cold at"},
    {"hotter than its oven", "\"reheats\"", "core_c", "400", "reheats[0]: an oven at"},
    {"a piece left cold", "\"reheats\"", "pieces", "1", "lots["},
};

START_TEST(broken_row)
{
  struct pw_ctx *ctx = pw_test_ctx(), *judge = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(EVENT, ctx), false, PW_EFFORT_QUICK, ctx);
  const char *text;
  size_t n;
  int found = -1;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  const char *key = strstr(strstr(text, broken[_i].section), broken[_i].key);
  ck_assert_msg(key != NULL, "%s: no such key", broken[_i].name);
  const char *from = strchr(key, ':') + 1, *to = strpbrk(from, ",}\n");
  char value[64], *edited = malloc(n + sizeof value);
  ck_assert(edited != NULL);
  snprintf(value, sizeof value, "%s", broken[_i].value);
  if (*value == '+' || *value == '-')
    snprintf(value, sizeof value, "%d", atoi(from) + atoi(broken[_i].value));
  snprintf(edited, n + sizeof value, "%.*s%s%s", (int)(from - text), text, value, to);
  ck_assert_int_eq(pw_plan_check_text("plan.json", edited, strlen(edited), &found, judge), PW_OK);
  bool is_said = false;
  for (int i = 0; i < judge->n_diags; i++) {
    bool is_oven_hours = strncmp(judge->diags[i].text, "ovens.", 6) == 0; /* a longer reheat costs more */
    bool is_order =
        strcmp(judge->diags[i].code, "J15") == 0; /* cooked on the wrong day, the order of work is broken too */
    bool is_cold =
        strcmp(judge->diags[i].code, "J23") == 0; /* earlier or in another place, it goes in before that is hot */
    ck_assert_msg(is_order || is_cold || is_oven_hours || strcmp(judge->diags[i].code, "J14") == 0, "%s: also [%s] %s",
                  broken[_i].name, judge->diags[i].code, judge->diags[i].text);
    is_said = is_said || strncmp(judge->diags[i].text, broken[_i].says, strlen(broken[_i].says)) == 0;
  }
  ck_assert_msg(is_said, "%s: \"%s\", not \"%s\"", broken[_i].name, judge->n_diags ? judge->diags[0].text : "nothing",
                broken[_i].says);
  free(edited);
  pw_test_ctx_free(judge);
  pw_test_ctx_free(ctx);
}
END_TEST

/* In ice water at best 4/pi exp(-pi^2/4 Fo) is left in the middle of a slab: from 57.2 to 21.1 C of it takes Fo = ln(4/pi * 57.2/21.1)
 * / (pi^2/4) = 0.5021, which in 120 min at 1.35e-7 m2/s is a half of sqrt(1.35e-7 * 7200 / 0.5021) = 0.0440 m. */
START_TEST(thickest_by_the_judge)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(EVENT, ctx), false, PW_EFFORT_QUICK, ctx);
  const char *text;
  size_t n;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, plan, ctx), PW_OK);
  const char *from = strchr(strstr(strstr(text, "\"chills\""), "thick_m"), ':') + 1, *to = strpbrk(from, ",}\n");
  for (int i = 0; i < 2; i++) {
    int found = -1;
    char *edited = malloc(n + 16);
    ck_assert_ptr_nonnull(edited);
    snprintf(edited, n + 16, "%.*s %s%s", (int)(from - text), text, i ? "0.0885" : "0.0875", to);
    ck_assert_int_eq(pw_plan_check_text("plan.json", edited, strlen(edited), &found, ctx), PW_OK);
    ck_assert_int_eq(found, i);
    free(edited);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* By hand: a bath begins six hours before its crew goes home where they are there from noon, else two; midnight is at -1440 and 0, the
 * service at 1050 with its reheating long after.  FDA Food Code 2022 3-501.14(A): 2 h, and 6 h in all. */
static const struct {
  const char *name;
  unsigned duties;
  int from, to, by;
} baths[] = {
    {"cooks until ten at night", 1u << PW_DUTY_PIT, -720, -120, -480},
    {"home at six, as late as noon allows", 1u << PW_DUTY_PREP, -900, -360, -720},
    {"home a minute before six", 1u << PW_DUTY_PREP, -900, -361, -481},
    {"home at two", 1u << PW_DUTY_PIT, -960, -600, -720},
    {"there all night", 1u << PW_DUTY_PIT, -720, 600, -240},
    {"comes at midnight only", 1u << PW_DUTY_PIT, 0, 600, 0},
    {"home two hours after the day has begun", 1u << PW_DUTY_PIT, -1800, -1320, 0},
    {"serves only", 1u << PW_DUTY_SERVE, -720, -120, 0},
};

START_TEST(into_the_bath_by)
{
  struct pw_crew crew = {
      .role = "cook", .duties = baths[_i].duties, .count = 1, .from_at_min = baths[_i].from, .to_at_min = baths[_i].to};
  struct pw_service service = {.id = "lunch", .at_min = 1050};
  struct pw_event ev = {
      .date = {2027, 6, 12}, .slot_min = 30, .crew = &crew, .n_crew = 1, .services = &service, .n_services = 1};
  int by = pw_day_before_chill_by(&ev, 0);
  ck_assert_msg(by == baths[_i].by, "%s: %d, not %d", baths[_i].name, by, baths[_i].by);
}
END_TEST

/* The sheet and the crew's file name the bath and the oven, with their pieces. */
START_TEST(the_sheets_say_it)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(EVENT, ctx), false, PW_EFFORT_QUICK, ctx);
  struct pw_buf sheet = pw_buf_in(ctx->arena), crew = pw_buf_in(ctx->arena);
  ck_assert_int_eq(pw_text_plan(&sheet, plan, ctx), PW_OK);
  ck_assert_int_eq(pw_html_crew_write(&crew, plan, ctx), PW_OK);
  const char *page = writer_plain(ctx, pw_buf_text(&crew));
  ck_assert(plan->day_before.n_chills > 0 && plan->lots.n_reheats > 0);
  for (int i = 0; i < plan->day_before.n_chills; i++) {
    const struct pw_chill *c = &plan->day_before.chills[i];
    char words[120];
    snprintf(words, sizeof words, "    chill %6d", c->pieces);
    ck_assert_msg(strstr(pw_buf_text(&sheet), words) != NULL, "\"%s\" is not on the sheet", words);
    snprintf(words, sizeof words, "%d \xC3\x97 %s", c->pieces, plan->event->cuts[plan->lots.lots[c->lot].cut].name);
    ck_assert_msg(strstr(page, words) != NULL, "\"%s\" is not in the crew's file", words);
  }
  for (int i = 0; i < plan->lots.n_reheats; i++) {
    char words[120];
    snprintf(words, sizeof words, "    reheat %5d", plan->lots.reheats[i].pieces);
    ck_assert_msg(strstr(pw_buf_text(&sheet), words) != NULL, "\"%s\" is not on the sheet", words);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* Nobody is at the pit before half past six: the way out names the lines for the event, which, as the example has them, make the job fit. */
START_TEST(the_way_out_names_its_lines)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = on_the_day(ctx);
  struct pw_plan *plan = planned(ev, false, PW_EFFORT_FULL, ctx);
  bool is_named = false;
  for (int i = 0; i < plan->allocation.n_remedies; i++)
    is_named =
        is_named || (plan->allocation.remedies[i].missed_after == 0 &&
                     strstr(plan->allocation.remedies[i].lines,
                            "services:\n  - id: lunch\n    menu:\n      - {dish: pork-pulled, cook: day_before}\n"));
  ck_assert_msg(plan->allocation.n_missed > 0, "it fits on the day");
  /* FDA Food Code 2022 3-501.14(A): 57 C to 21 C within 2 h, to 5 C within 6 h in all; 3-403.11(A): 74 C */
  bool is_by_the_code = false;
  for (int i = 0; i < plan->allocation.n_remedies; i++)
    is_by_the_code =
        is_by_the_code || strstr(plan->allocation.remedies[i].what,
                                 "(57 °C to 21 °C in 2 h, to 5 °C in 6 h in all) and reheat it to 74 °C within 2 h");
  ck_assert(is_by_the_code);
  ck_assert_msg(is_named, "%d ways out, the first: %s", plan->allocation.n_remedies,
                plan->allocation.n_remedies ? plan->allocation.remedies[0].what : "none");
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("day_before");
  TCase *t = tcase_create("day_before");
  tcase_set_timeout(t, 120);
  tcase_add_test(t, reheating_like_the_series);
  tcase_add_test(t, chilled_and_reheated_in_time);
  tcase_add_loop_test(t, an_oven_of_any_id, 0, 2);
  tcase_add_test(t, what_it_costs);
  tcase_add_test(t, an_oven_too_small_is_told);
  tcase_add_test(t, the_sheets_say_it);
  tcase_add_test(t, the_way_out_names_its_lines);
  tcase_add_test(t, thickest_by_the_judge);
  tcase_add_loop_test(t, into_the_bath_by, 0, (int)(sizeof baths / sizeof *baths));
  tcase_add_loop_test(t, broken_row, 0, (int)(sizeof broken / sizeof *broken));
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
