/* test_plan_now.c - the judge on a mended plan [J19]: the plan passes, and each thing it owes is missed when it is broken, in several ways. */
#include "../day/day_job.h"
#include "day/mend.h"
#include "judge/plan_check.h"
#include "write/plan_json.h"

static struct pw_mended g_mended;
static const char *g_json;
static size_t g_n;

/* A fire lost for so long that the dinner is late. */
static void open_day(void)
{
  struct pw_state *s = (open_job(), pw_arena_alloc(g_ctx->arena, sizeof *s));
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  line(&text, g_load->start_at_min + 250, "fire-out %s 240 min",
       g_plan->event->pits[g_plan->lots.zones[g_load->zone].pit].id);
  ck_assert(play(s, &text, g_load->start_at_min + 251, g_ctx) == PW_OK &&
            pw_mend(&g_mended, s, PW_MEND_RUNS, g_ctx) == PW_OK);
  ck_assert(g_mended.plan != NULL && pw_run_warnings(g_mended.plan, g_ctx) == PW_OK);
  ck_assert(pw_plan_json_text(&g_json, &g_n, g_mended.plan, g_ctx) == PW_OK);
}

static int n_found(const char *json, const char *code, const char *words)
{
  struct pw_ctx *ctx = pw_test_ctx();
  int n = 0, n_code = 0;
  ck_assert(pw_plan_check_text("plan.json", json, strlen(json), &n, ctx) == PW_OK);
  for (int i = 0; i < ctx->n_diags; i++)
    n_code += !code || (strcmp(ctx->diags[i].code, code) == 0 && (!words || strstr(ctx->diags[i].text, words)));
  n = n_code;
  pw_test_ctx_free(ctx);
  return n;
}

/* The text with what stands at `at` for n bytes replaced. */
static const char *with(const char *at, size_t n, const char *by)
{
  return pw_arena_printf(g_ctx->arena, "%.*s%s%s", (int)(at - g_json), g_json, by, at + n);
}

/* A number behind a key, the first from `at` on. */
static const char *number_at(const char *at, const char *key, size_t *n)
{
  const char *found = strstr(at, key);
  if (!found)
    return NULL;
  found += strlen(key);
  while (*found == ' ' || *found == ':' || *found == '"')
    found++;
  *n = strspn(found, "-+.0123456789eE");
  return found;
}

START_TEST(test_it_passes) { ck_assert_int_eq(n_found(g_json, NULL, NULL), 0); }
END_TEST

START_TEST(test_when_and_which)
{
  const char *edition = strstr(g_json, "\"edition\""), *now = strstr(g_json, "\"now_min\"");
  ck_assert(edition && now);
  ck_assert(n_found(with(edition, strlen("\"edition\""), "\"edition_of\""), "J19", "edition: is missing") +
                n_found(with(edition, strlen("\"edition\""), "\"edition_of\""), "J0", NULL) >
            0);
  ck_assert(n_found(with(now, strlen("\"now_min\""), "\"now_min_of\""), NULL, NULL) > 0);
}
END_TEST

/* Every lot's lateness, a minute more, less, none, and half of it. */
START_TEST(test_lateness_is_told)
{
  int n_late = 0;
  size_t n = 0;
  for (const char *at = g_json; (at = number_at(at, "\"late_min\"", &n)) != NULL; at += n) {
    int late = atoi(at), others[] = {late + 1, late - 1, 0, late / 2, 10 * late};
    const char *lots = strstr(g_json, "\"lots\"");
    if (late <= 0 || at < lots || at > strstr(lots, "\"loads\""))
      continue;
    n_late++;
    for (size_t k = 0; k < sizeof others / sizeof *others; k++)
      if (others[k] != late)
        ck_assert_msg(n_found(with(at, n, pw_arena_printf(g_ctx->arena, "%d", others[k])), "J19", "late_min") > 0,
                      "%d min told as %d", late, others[k]);
  }
  ck_assert(n_late > 0);
}
END_TEST

START_TEST(test_a_late_meal_is_warned_of)
{
  struct pw_plan quiet = *g_mended.plan;
  const char *json = NULL;
  size_t n = 0;
  int n_late = 0;
  quiet.warnings = pw_arena_array(g_ctx->arena, (size_t)quiet.n_warnings + 1, sizeof *quiet.warnings);
  ck_assert(quiet.warnings != NULL);
  for (int i = 0; i < quiet.n_warnings; i++) {
    quiet.warnings[i] = g_mended.plan->warnings[i];
    if (strcmp(quiet.warnings[i].code, "late-meal") == 0) {
      quiet.warnings[i].code = "late-meat";
      n_late++;
    }
  }
  ck_assert(n_late > 0 && pw_plan_json_text(&json, &n, &quiet, g_ctx) == PW_OK);
  ck_assert(n_found(json, "J19", "late-meal") > 0);
}
END_TEST

/* Every pace: none, one no cook has, and one that its length does not bear out. */
START_TEST(test_paces)
{
  size_t n = 0;
  int n_paces = 0, n_missed = 0;
  for (const char *at = g_json; (at = number_at(at, "\"pace_frac\"", &n)) != NULL; at += n) {
    double pace = atof(at);
    static const double others[] = {0.1, 0.24, 4.5, 50};
    const char *from = at;
    while (from > g_json && *from != '{')
      from--;
    size_t n_start = 0;
    const char *start = number_at(from, "\"start_min\"", &n_start);
    bool is_to_come = start && atoi(start) >= g_mended.state->now_min;
    if (!is_to_come || n_paces > 12)
      continue;
    n_paces++;
    for (size_t k = 0; k < sizeof others / sizeof *others; k++)
      n_missed += n_found(with(at, n, pw_arena_printf(g_ctx->arena, "%g", others[k])), NULL, NULL) == 0;
    n_missed += n_found(with(at, n, pw_arena_printf(g_ctx->arena, "%.6g", pace * 1.2)), NULL, NULL) == 0;
  }
  ck_assert(n_paces > 0);
  ck_assert_msg(n_missed == 0, "%d of %d changed paces pass", n_missed, n_paces * 5);
}
END_TEST

/* What goes on later than now may not be told as gone on before. */
START_TEST(test_nothing_new_in_the_past)
{
  const struct pw_allocation *a = &g_mended.plan->allocation;
  int n = 0;
  for (int i = 0; i < a->n_loads && n < 6; i++) {
    if (a->loads[i].stage != PW_LOAD_SMOKE || a->loads[i].start_at_min <= g_mended.state->now_min)
      continue;
    struct pw_plan changed = *g_mended.plan;
    changed.allocation.loads = pw_arena_array(g_ctx->arena, (size_t)a->n_loads, sizeof *a->loads);
    ck_assert(changed.allocation.loads != NULL);
    memcpy(changed.allocation.loads, a->loads, (size_t)a->n_loads * sizeof *a->loads);
    changed.allocation.loads[i].start_at_min = g_mended.state->now_min - 30; /* its tasks and its time say otherwise */
    const char *json = NULL;
    size_t n_json = 0;
    ck_assert(pw_plan_json_text(&json, &n_json, &changed, g_ctx) == PW_OK);
    ck_assert_msg(n_found(json, NULL, NULL) > 0, "load %d, to come, is told as on", i);
    n++;
  }
  ck_assert(n > 0);
}
END_TEST

/* Somebody who is away has nothing to do: each of their tasks to come is seen, those of before they went and after they came are not. */
START_TEST(test_who_is_away_does_nothing)
{
  const struct pw_tasks *tasks = &g_mended.plan->tasks;
  int n = 0;
  for (int i = 0; i < tasks->n_tasks && n < 8; i++) {
    const struct pw_task *t = &tasks->tasks[i];
    if (t->at_min <= g_mended.state->now_min || t->person == PW_NONE)
      continue;
    for (int k = 0; k < 3; k++) {
      struct pw_away away = {t->person, k == 2 ? t->at_min + 1 : t->at_min, k == 1 ? t->at_min : t->at_min + 1};
      struct pw_day_now day = *g_mended.plan->day;
      struct pw_plan changed = *g_mended.plan;
      const char *json = NULL;
      size_t n_json = 0;
      day.away = &away;
      day.n_away = 1;
      changed.day = &day;
      ck_assert(pw_plan_json_text(&json, &n_json, &changed, g_ctx) == PW_OK);
      ck_assert_int_eq(n_found(json, "J19", "is away from") > 0, k == 0);
    }
    n++;
  }
  ck_assert_int_eq(n, 8);
}
END_TEST

/* ---- carried in the middle of a stage ------------------------------------------------------------------------------------------- */

static struct pw_mended g_carried;
static int g_load_no; /* of a load that is carried after now */

/* The first fire whose loss makes something be carried. */
static void open_carry(void)
{
  open_job();
  for (int i = 0; i < g_plan->allocation.n_loads; i++) {
    const struct pw_load *load = &g_plan->allocation.loads[i];
    struct pw_state *s = pw_arena_alloc(g_ctx->arena, sizeof *s);
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    int now = load->start_at_min + 50;
    if (load->stage != PW_LOAD_SMOKE || g_plan->lots.lots[load->lot].has_finish || load->end_at_min <= now)
      continue;
    line(&text, now - 1, "fire-out %s 45 min", g_plan->event->pits[g_plan->lots.zones[load->zone].pit].id);
    ck_assert(s && play(s, &text, now, g_ctx) == PW_OK && pw_mend(&g_carried, s, PW_MEND_WAYS, g_ctx) == PW_OK);
    for (int k = 0; g_carried.plan && k < g_carried.plan->allocation.n_loads; k++)
      if (g_carried.plan->allocation.loads[k].is_carried && g_carried.plan->allocation.loads[k].zone != PW_NONE) {
        g_load_no = k;
        ck_assert(pw_run_warnings(g_carried.plan, g_ctx) == PW_OK);
        return;
      }
  }
  ck_abort_msg("nothing is ever carried");
}

static int n_of(const struct pw_plan *plan, const char *words)
{
  const char *json = NULL;
  size_t n = 0;
  ck_assert(pw_plan_json_text(&json, &n, plan, g_ctx) == PW_OK);
  return n_found(json, words ? "J19" : NULL, words);
}

/* The plan with a copy of its loads and tasks, to be broken. */
static struct pw_plan copy_of_carried(void)
{
  struct pw_plan p = *g_carried.plan;
  p.allocation.loads = pw_arena_array(g_ctx->arena, (size_t)p.allocation.n_loads, sizeof *p.allocation.loads);
  p.tasks.tasks = pw_arena_array(g_ctx->arena, (size_t)p.tasks.n_tasks, sizeof *p.tasks.tasks);
  ck_assert(p.allocation.loads && p.tasks.tasks);
  memcpy(p.allocation.loads, g_carried.plan->allocation.loads,
         (size_t)p.allocation.n_loads * sizeof *p.allocation.loads);
  memcpy(p.tasks.tasks, g_carried.plan->tasks.tasks, (size_t)p.tasks.n_tasks * sizeof *p.tasks.tasks);
  return p;
}

START_TEST(test_carried_it_passes) { ck_assert_int_eq(n_of(g_carried.plan, NULL), 0); }
END_TEST

START_TEST(test_carried_within_its_stage)
{
  struct pw_plan p = copy_of_carried();
  struct pw_load *load = &p.allocation.loads[g_load_no];
  int others[] = {load->start_at_min, load->start_at_min - 60, load->end_at_min, load->end_at_min + 5};
  for (size_t k = 0; k < sizeof others / sizeof *others; k++) {
    load->carried_at_min = others[k];
    ck_assert_msg(n_of(&p, "is not between") > 0, "carried at %d", others[k]);
  }
}
END_TEST

START_TEST(test_carried_from_elsewhere)
{
  struct pw_plan p = copy_of_carried();
  struct pw_load *load = &p.allocation.loads[g_load_no];
  load->from_zone = load->zone;
  load->from_finisher = load->finisher;
  ck_assert(n_of(&p, "from one place to another") > 0);
}
END_TEST

/* No task, one of another minute, and one to somewhere else. */
START_TEST(test_carried_by_somebody)
{
  for (int how = 0; how < 3; how++) {
    struct pw_plan p = copy_of_carried();
    int n = 0;
    for (int i = 0; i < p.tasks.n_tasks; i++) {
      struct pw_task *t = &p.tasks.tasks[i];
      if (t->kind != PW_TASK_MOVE)
        continue;
      n++;
      if (how == 0)
        t->kind = PW_TASK_CORE;
      else if (how == 1)
        t->at_min += 120;
      else
        t->to_place = t->place;
    }
    ck_assert(n > 0);
    ck_assert_msg(n_of(&p, "tasks say so") > 0, "way %d", how);
  }
}
END_TEST

START_TEST(test_carried_to_where_there_is_room)
{
  struct pw_plan p = copy_of_carried();
  struct pw_load *load = &p.allocation.loads[g_load_no], *more;
  int n = p.allocation.n_loads;
  ck_assert(load->zone != PW_NONE && load->rects != NULL);
  more = pw_arena_array(g_ctx->arena, (size_t)n + 1, sizeof *more);
  ck_assert(more != NULL);
  memcpy(more, p.allocation.loads, (size_t)n * sizeof *more);
  for (int i = 0; i < n; i++)
    if (i != g_load_no && more[i].stage == PW_LOAD_SMOKE && more[i].start_at_min <= g_carried.state->now_min &&
        more[i].rects && !more[i].is_carried) { /* lies where the other is carried to */
      struct pw_load was = more[i];
      more[i].zone = load->zone;
      more[i].rects = load->rects;
      more[i].pieces = load->pieces < was.pieces ? load->pieces : was.pieces;
      more[i].end_at_min = load->end_at_min;
      p.allocation.loads = more;
      ck_assert(n_of(&p, "lies") > 0);
      return;
    }
  ck_abort_msg("nothing lies anywhere");
}
END_TEST

/* ---- open in an oven ------------------------------------------------------------------------------------------------------------ */

/* The first fire that is out still and has what is to be wrapped yet carried into an oven. */
static void open_oven(void)
{
  open_job();
  for (int i = 0; i < g_plan->allocation.n_loads; i++) {
    const struct pw_load *load = &g_plan->allocation.loads[i];
    struct pw_state *s = pw_arena_alloc(g_ctx->arena, sizeof *s);
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    int now = load->start_at_min + 150;
    if (load->stage != PW_LOAD_SMOKE || !g_plan->lots.lots[load->lot].has_finish || load->end_at_min <= now)
      continue;
    line(&text, now, "fire-out %s 120 min still", g_plan->event->pits[g_plan->lots.zones[load->zone].pit].id);
    ck_assert(s && play(s, &text, now, g_ctx) == PW_OK && pw_mend(&g_carried, s, PW_MEND_WAYS, g_ctx) == PW_OK);
    for (int k = 0; g_carried.plan && k < g_carried.plan->allocation.n_loads; k++) {
      const struct pw_load *to = &g_carried.plan->allocation.loads[k];
      if (to->stage == PW_LOAD_SMOKE && to->is_carried && to->finisher != PW_NONE &&
          g_plan->lots.lots[to->lot].has_finish) {
        g_load_no = k;
        ck_assert(pw_run_warnings(g_carried.plan, g_ctx) == PW_OK);
        return;
      }
    }
  }
  ck_abort_msg("nothing to be wrapped is ever carried into an oven");
}

/* It is wrapped there and stays; no piece of it lies in two places. */
START_TEST(test_oven_it_passes_and_is_wrapped_there)
{
  const struct pw_allocation *a = &g_carried.plan->allocation;
  const struct pw_load *to = &a->loads[g_load_no];
  int n = 0;
  ck_assert_int_eq(n_of(g_carried.plan, NULL), 0);
  for (int i = 0; i < a->n_loads; i++)
    for (int k = 0; a->loads[i].lot == to->lot && a->loads[i].stage == PW_LOAD_FINISH && k < a->loads[i].pieces; k++)
      for (int m = 0; m < to->pieces; m++)
        if (a->loads[i].piece_ids[k] == to->piece_ids[m]) {
          ck_assert_int_eq(a->loads[i].finisher, to->finisher);
          ck_assert_int_eq(a->loads[i].start_at_min, to->end_at_min);
          n++;
        }
  ck_assert_int_eq(n, to->pieces);
}
END_TEST

/* In a box, and in a plan that is not mended. */
START_TEST(test_oven_and_nothing_else)
{
  struct pw_plan p = copy_of_carried();
  const char *json = NULL;
  size_t n = 0;
  for (int f = 0; f < p.event->n_finishers; f++) {
    p.allocation.loads[g_load_no].finisher = f;
    ck_assert(pw_plan_json_text(&json, &n, &p, g_ctx) == PW_OK);
    ck_assert_int_eq(n_found(json, "J2", "is no place for the stage smoke") > 0, p.event->finishers[f].kind != PW_OVEN);
  }
  p = copy_of_carried();
  p.day = NULL;
  ck_assert(pw_plan_json_text(&json, &n, &p, g_ctx) == PW_OK);
  ck_assert(n_found(json, "J2", "is no place for the stage smoke") > 0);
}
END_TEST

/* Of every kind of meat: what smokes in a pit by the first plan may not do so in an oven. */
START_TEST(test_oven_is_for_a_day_without_its_fire)
{
  int oven = PW_NONE;
  for (int f = 0; f < g_plan->event->n_finishers; f++)
    oven = g_plan->event->finishers[f].kind == PW_OVEN ? f : oven;
  ck_assert(oven != PW_NONE);
  for (int l = 0; l < g_plan->lots.n_lots; l++)
    for (int i = 0; i < g_plan->allocation.n_loads; i++) {
      struct pw_load *load = &g_plan->allocation.loads[i], was = *load;
      const char *json = NULL;
      size_t n = 0;
      if (load->lot != l || load->stage != PW_LOAD_SMOKE)
        continue;
      load->zone = PW_NONE;
      load->finisher = oven;
      load->rects = NULL;
      load->drips_min = 0;
      ck_assert(pw_plan_json_text(&json, &n, g_plan, g_ctx) == PW_OK);
      *load = was;
      ck_assert_msg(n_found(json, "J2", "is no place for the stage smoke") > 0, "%s smokes in an oven",
                    g_plan->lots.lots[l].id);
      break;
    }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_now");
  TCase *t = tcase_create("plan_now");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, open_day, close_job);
  tcase_add_test(t, test_it_passes);
  tcase_add_test(t, test_when_and_which);
  tcase_add_test(t, test_lateness_is_told);
  tcase_add_test(t, test_a_late_meal_is_warned_of);
  tcase_add_test(t, test_paces);
  tcase_add_test(t, test_nothing_new_in_the_past);
  tcase_add_test(t, test_who_is_away_does_nothing);
  suite_add_tcase(s, t);
  t = tcase_create("carried");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, open_carry, close_job);
  tcase_add_test(t, test_carried_it_passes);
  tcase_add_test(t, test_carried_within_its_stage);
  tcase_add_test(t, test_carried_from_elsewhere);
  tcase_add_test(t, test_carried_by_somebody);
  tcase_add_test(t, test_carried_to_where_there_is_room);
  suite_add_tcase(s, t);
  t = tcase_create("oven");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, open_oven, close_job);
  tcase_add_test(t, test_oven_it_passes_and_is_wrapped_there);
  tcase_add_test(t, test_oven_and_nothing_else);
  tcase_add_test(t, test_oven_is_for_a_day_without_its_fire);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
