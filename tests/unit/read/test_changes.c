/* Tests of further documents of an event file: what they change, what they add, what they leave. */
#include "planned.h"

#include <math.h>

static const struct {
  const char *name, *lines;
} CASES[] = {
    {"a box is added", "---\nfinishers:\n  - {use: hot-box-tall, id: more}\n"},
    {"a pit that is there gets a key", "---\npits:\n  - {id: offset, fire: {water: 2 kg}}\n"},
    {"a line of the menu, bare in the file",
     "---\nservices:\n  - id: supper\n    menu:\n      - {dish: slaw, take: 11 %}\n"},
    {"several documents, an empty one among them", "---\nsite: {travel: 40 min}\n---\n---\nsite: {altitude: 9 m}\n"},
};

START_TEST(only_what_is_written_changes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *was = planned_event("tests/data/events/family-party.yaml", ctx);
  const struct pw_event *is = planned_event_with("tests/data/events/family-party.yaml", CASES[_i].lines, ctx);
  int n_slaw = 0, n_boxes = 0;
  double water_kg = 0, take = 0;
  for (int m = 0; m < is->services[0].n_menu; m++)
    if (strcmp(is->dishes[is->services[0].menu[m].dish].id, "slaw") == 0) {
      take = is->services[0].menu[m].take_frac;
      n_slaw++;
    }
  for (int f = 0; f < is->n_finishers; f++)
    n_boxes += strcmp(is->finishers[f].id, "more") == 0;
  water_kg = is->pits[0].water_kg;
  ck_assert_int_eq(n_boxes, _i == 0);
  ck_assert_int_eq(is->n_finishers, was->n_finishers + (_i == 0));
  ck_assert_int_eq(is->n_pits, was->n_pits);
  ck_assert_double_eq_tol(water_kg, _i == 1 ? 2 : was->pits[0].water_kg, 1e-12);
  ck_assert_double_eq_tol(is->pits[0].settings[0].hot_c, was->pits[0].settings[0].hot_c, 1e-12);
  ck_assert_int_eq(n_slaw, 1);
  ck_assert_int_eq(is->services[0].n_menu, was->services[0].n_menu);
  ck_assert(_i == 2 ? fabs(take - 0.11) < 1e-12 : take > 0.12);
  ck_assert_int_eq(is->site.travel_min, _i == 3 ? 40 : was->site.travel_min);
  ck_assert_double_eq_tol(is->site.altitude_m, _i == 3 ? 9 : was->site.altitude_m, 1e-12);
  ck_assert_int_eq(is->n_crew, was->n_crew);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Crew lines and supplies have no id: they come on top. */
START_TEST(lists_without_ids_grow)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *was = planned_event("tests/data/events/family-party.yaml", ctx);
  const struct pw_event *is = planned_event_with(
      "tests/data/events/family-party.yaml",
      "---\ncrew:\n  - {role: helper, duties: [pit], from: \"10:00\", to: \"12:00\", rate: 15 per h}\n", ctx);
  ck_assert_int_eq(is->n_crew, was->n_crew + 1);
  ck_assert_int_eq(is->crew[is->n_crew - 1].duties, 1u << PW_DUTY_PIT);
  ck_assert_int_eq(is->n_uses, was->n_uses);
  pw_test_ctx_free(ctx);
}
END_TEST

/* A fault in the lines is told with its own place, behind the file's last line, and nothing is read. */
START_TEST(faults_have_their_place)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *is = NULL;
  const struct pw_event *was = planned_event("tests/data/events/family-party.yaml", ctx);
  ck_assert_int_eq(pw_event_change(&is, was, "---\npits:\n  - {id: offset, walter: 2 kg}\n", ctx), PW_ERR_INPUT);
  ck_assert_ptr_null(is);
  ck_assert_int_eq(ctx->n_errors, 1);
  ck_assert_ptr_nonnull(strstr(ctx->diags[ctx->n_diags - 1].text, "walter"));
  ck_assert_int_gt(ctx->diags[ctx->n_diags - 1].line, 30);
  struct pw_event made = *was;
  made.source = NULL; /* of several events: no one text to change */
  ck_assert_int_eq(pw_event_change(&is, &made, "---\n", ctx), PW_ERR_USAGE);
  pw_test_ctx_free(ctx);
}
END_TEST

/* A menu taken by its name keeps its dishes, and a meal without an id goes by the name the reader gives it: breakfast, lunch or
 * supper by its time, numbered when there are more. */
START_TEST(named_menus_and_unnamed_meals)
{
  static const char *const meals[] = {
      "{time: \"17:30\", guests: 40, menu: our}",
      "{time: 5:30 pm, guests: 40, menu: {use: our, without: [slaw]}}",
      "{time: \"2027-06-12 17:30\", guests: 40, menu: {use: our, also: [{dish: buns, take: 44 %}, cookie]}}",
      "{id: supper, time: \"18:00\", guests: 9, menu: [slaw]}, {time: \"17:30\", guests: 40, menu: our}",
  };
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *was = NULL, *is = NULL;
  char text[1400];
  const char *id = _i == 3 ? "supper-2" : "supper";
  snprintf(text, sizeof text,
           "event: {name: Job, date: 2027-06-12, zone: America/Chicago, currency: USD}\n"
           "weather: {low: 60 F, high: 80 F, wind: 6 mph}\nterms: {margin: 20 %%}\npits: [trailer-two-rack]\n"
           "menus: {our: {dishes: [pork-pulled, slaw, buns]}}\nservices: [%s]\n",
           meals[_i]);
  ck_assert_int_eq(pw_event_read_text(&was, "job.yaml", text, strlen(text), "templates", ctx), PW_OK);
  snprintf(text, sizeof text, "---\nservices: [{id: %s, menu: [{dish: buns, take: 11 %%}, water]}]\n", id);
  ck_assert_msg(pw_event_change(&is, was, text, ctx) == PW_OK, "%s", ctx->n_diags ? ctx->diags[0].text : "");
  ck_assert_int_eq(is->n_services, was->n_services);
  for (int s = 0; s < is->n_services; s++) {
    const struct pw_service *a = &was->services[s], *b = &is->services[s];
    ck_assert_str_eq(a->id, b->id);
    ck_assert_int_eq(b->n_menu, a->n_menu + (strcmp(a->id, id) == 0));
    for (int k = 0; k < a->n_menu; k++) {
      ck_assert_str_eq(is->dishes[b->menu[k].dish].id, was->dishes[a->menu[k].dish].id);
      bool is_buns = strcmp(is->dishes[b->menu[k].dish].id, "buns") == 0;
      ck_assert_double_eq_tol(b->menu[k].take_frac, is_buns ? 0.11 : a->menu[k].take_frac, 1e-12);
    }
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("changes");
  TCase *t = tcase_create("all");
  tcase_add_loop_test(t, only_what_is_written_changes, 0, (int)(sizeof CASES / sizeof *CASES));
  tcase_add_test(t, lists_without_ids_grow);
  tcase_add_test(t, faults_have_their_place);
  tcase_add_loop_test(t, named_menus_and_unnamed_meals, 0, 4);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
