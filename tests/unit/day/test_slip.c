/* test_slip.c - the slip says when nobody is at a fire [N3]: who is said to be away is taken off those on shift, minute by minute. */
#include "day/slip.h"
#include "day_job.h"

static bool tends(int person)
{
  return (g_plan->event->crew[g_plan->tasks.people[person].crew].duties & 1u << PW_DUTY_FIRE) != 0;
}

static bool is_on_shift(int person, int at)
{
  const struct pw_crew *c = &g_plan->event->crew[g_plan->tasks.people[person].crew];
  return c->from_at_min <= at && at < c->to_at_min;
}

static bool is_lit(const struct pw_allocation *a, int at)
{
  for (int b = 0; b < a->n_burns; b++)
    if (a->burns[b].lit_at_min <= at && at < a->burns[b].out_at_min)
      return true;
  return false;
}

/* The slip when everybody with the duty fire who is on shift at `at`, but the first `n_left`, is away until `until`. */
static const char *slip_without(int at, int until, int n_left, int *n_gone)
{
  struct pw_state *s = pw_arena_alloc(g_ctx->arena, sizeof *s);
  struct pw_mended *m = pw_arena_alloc(g_ctx->arena, sizeof *m);
  struct pw_buf text = pw_buf_in(g_ctx->arena), slip = pw_buf_in(g_ctx->arena);
  ck_assert(s && m);
  *n_gone = 0;
  line(&text, at, "lit %s", g_plan->event->pits[g_plan->lots.zones[g_load->zone].pit].id);
  for (int p = 0; p < g_plan->tasks.n_people; p++)
    if (tends(p) && is_on_shift(p, at) && n_left-- <= 0) {
      line(&text, at, "absent %s until %s", g_plan->tasks.people[p].name, pw_when(g_plan->event, until).s);
      ++*n_gone;
    }
  ck_assert(play(s, &text, at + 1, g_ctx) == PW_OK && pw_mend(m, s, PW_MEND_RUNS, g_ctx) == PW_OK);
  ck_assert(m->plan != NULL && pw_slip_write(&slip, m, g_ctx) == PW_OK);
  ck_assert(is_lit(&m->allocation, at + 5));
  return slip.bytes;
}

START_TEST(test_nobody_at_a_fire_is_said)
{
  int at = g_load->start_at_min + 60, n = 0, n_all = 0;
  const char *nobody = pw_arena_printf(g_ctx->arena, "%s to ", pw_when(g_plan->event, at + 1).s);
  const char *slip = slip_without(at, at + 90, 0, &n_all);
  ck_assert_int_ge(n_all, 1);
  ck_assert_msg(strstr(slip, nobody) && strstr(slip, "NOBODY IS AT THE FIRES"), "\"%s\" is not in\n%s", nobody, slip);
  slip = slip_without(at, at + 90, 1, &n);
  ck_assert_int_eq(n, n_all - 1);
  ck_assert_msg(strstr(slip, nobody) == NULL, "%s", slip);
}
END_TEST

/* Who goes home as the fires are left alone may stay, but not beyond the longest shift. */
START_TEST(test_who_stays_is_not_worn_out)
{
  struct pw_event ev = *g_plan->event;
  struct pw_plan plan = *g_plan, *kept = g_plan;
  struct pw_crew *crew = pw_arena_array(g_ctx->arena, (size_t)ev.n_crew, sizeof *crew);
  int at = g_load->start_at_min + 60, n = 0, last = PW_NONE;
  memcpy(crew, ev.crew, (size_t)ev.n_crew * sizeof *crew);
  for (int p = 0; p < plan.tasks.n_people; p++)
    last = tends(p) && is_on_shift(p, at) ? p : last;
  ck_assert_int_ne(last, PW_NONE);
  const char *stays = pw_arena_printf(g_ctx->arena, "%s stays", plan.tasks.people[last].name);
  for (int p = 0; p < plan.tasks.n_people;
       p++) /* one went home just now, nobody else is there or comes within the hour and a half */
    if (tends(p) && crew[plan.tasks.people[p].crew].from_at_min < at + 90 &&
        crew[plan.tasks.people[p].crew].to_at_min > at)
      crew[plan.tasks.people[p].crew].to_at_min = p == last ? at : at - 60;
  for (int hours = 4; hours <= 12;
       hours += 8) { /* so long on shift by now; with what the fires are left alone for too long, or not */
    crew[plan.tasks.people[last].crew].from_at_min = at - hours * 60;
    ev.crew = crew;
    plan.event = &ev;
    g_plan = &plan;
    struct pw_names names = g_names;
    ck_assert(pw_names_make(&g_names, g_plan, g_ctx) == PW_OK);
    const char *slip = slip_without(at, at + 90, 0, &n);
    g_names = names;
    g_plan = kept;
    ck_assert_msg(strstr(slip, "NOBODY IS AT THE FIRES") != NULL, "%s", slip);
    ck_assert_msg((strstr(slip, stays) != NULL) == (hours == 4), "after %d h: %s", hours, slip);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("slip");
  TCase *t = tcase_create("slip");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, open_job, close_job);
  tcase_add_test(t, test_nobody_at_a_fire_is_said);
  tcase_add_test(t, test_who_stays_is_not_worn_out);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
