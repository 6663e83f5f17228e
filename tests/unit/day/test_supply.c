/* test_supply.c - wood, weather and guests of the day [N3]: what is short, from when, by how much, and choices in order of cost; a slip without sheets. */
#include "day/slip.h"
#include "day_job.h"
#include "plan/fire/pit_heat.h"

static double feeds_kg(const struct pw_plan *plan, int from_min)
{
  double sum = 0;
  for (int b = 0; b < plan->fuel.n_burns; b++)
    for (int k = 0; k < plan->fuel.burns[b].n_feeds; k++)
      sum += plan->fuel.burns[b].feeds[k].at_min >= from_min ? plan->fuel.burns[b].feeds[k].wood_kg : 0;
  return sum;
}

/* Wood that is enough by a kilogram is enough; a kilogram less and the last feed has none. */
START_TEST(test_wood)
{
  int now = g_load->start_at_min + 60;
  double wants = feeds_kg(g_plan, now);
  for (int k = 0; k < 3; k++) {
    struct pw_state s;
    struct pw_wood_left w;
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    line(&text, now, "wood %.2f kg left", wants + (k == 0 ? 1 : k == 1 ? -0.5 : -wants / 2));
    ck_assert(play(&s, &text, now, g_ctx) == PW_OK && pw_supply_wood(&w, &s, g_plan, g_ctx) == PW_OK);
    ck_assert(fabs(w.need_kg - wants) < 1e-6);
    ck_assert_int_eq(w.out_at_min == PW_DAY_OPEN, k == 0);
    if (k > 0) { /* before that feed there was enough, with it there is not */
      double until = wants - feeds_kg(g_plan, w.out_at_min), with = wants - feeds_kg(g_plan, w.out_at_min + 1);
      ck_assert(until <= w.left_kg + 1e-6 && with > w.left_kg);
    }
    const char *words = pw_supply_wood_words(&w, g_plan->event, g_ctx->arena);
    ck_assert(words && strncmp(words, k == 0 ? "Wood:" : "WOOD:", 5) == 0);
  }
}
END_TEST

/* Colder and windier burns more; the curve of the day goes through the line's temperature. */
START_TEST(test_weather)
{
  int now = g_load->start_at_min + 60;
  double need[2];
  for (int k = 0; k < 2; k++) {
    struct pw_state s;
    struct pw_wood_left w;
    const struct pw_event *ev = NULL;
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    line(&text, now, "weather %d C wind %d m/s", k == 0 ? 15 : -5, k == 0 ? 1 : 10);
    ck_assert(play(&s, &text, now, g_ctx) == PW_OK && pw_supply_wood(&w, &s, g_plan, g_ctx) == PW_OK);
    ck_assert(pw_supply_event(&ev, &s, g_ctx) == PW_OK &&
              fabs(pw_weather_c(&ev->weather, now) - (k == 0 ? 15 : -5)) < 1e-6);
    need[k] = w.need_kg;
  }
  ck_assert_msg(need[1] > need[0] * 1.1, "%.1f kg in frost and wind, %.1f kg on a mild day", need[1], need[0]);
}
END_TEST

static int guests_of(int service)
{
  int n = 0;
  for (int c = 0; c < g_plan->event->n_classes; c++)
    n += g_plan->event->services[service].guests[c];
  return n;
}

/* Each dish lacks what the guests want beyond what was bought; as many as planned lack nothing. */
START_TEST(test_guests)
{
  int last = g_plan->event->n_services - 1, now = g_load->start_at_min;
  for (int more = 0; more <= 200; more += 100) {
    struct pw_state s;
    struct pw_short_dish *all = NULL;
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    int n = 0, n_lines = 0, guests = guests_of(last);
    line(&text, now, "guests %s %d", g_plan->event->services[last].id, guests + more);
    ck_assert(play(&s, &text, now, g_ctx) == PW_OK && pw_supply_shorts(&all, &n, &s, g_ctx) == PW_OK);
    for (int i = 0; i < g_plan->demand.n_lines; i++) {
      double lacks =
          (double)g_plan->demand.lines[i].portions * (guests + more) / guests - g_plan->purchase.dishes[i].portions;
      int k = 0;
      while (k < n && all[k].line != i)
        k++;
      if (more == 0 || g_plan->demand.lines[i].service != last || lacks <= 0)
        ck_assert_msg(k == n, "%d more: line %d is short", more, i);
      else if (k < n) {
        ck_assert_int_eq(all[k].lacks, (int)ceil(lacks - 1e-6));
        n_lines++;
      }
    }
    ck_assert(more == 0 || n_lines == n);
    ck_assert(more < 200 || n > 5);
    for (int k = 0; k < n; k++) {
      struct pw_buf out = pw_buf_in(g_ctx->arena);
      ck_assert(pw_supply_choices_write(&out, &all[k], all, n, &s, g_ctx) == PW_OK);
      const char *smaller = strstr(out.bytes, "smaller portions"), *buy = strstr(out.bytes, "more");
      ck_assert_msg(smaller == NULL || buy == NULL || smaller < buy, "what costs nothing comes first:\n%s", out.bytes);
    }
  }
}
END_TEST

/* Without new sheets the slip still says which meals hold and which lots end otherwise. */
START_TEST(test_a_slip_without_sheets)
{
  struct pw_state s;
  struct pw_mended m;
  struct pw_buf text = pw_buf_in(g_ctx->arena), slip = pw_buf_in(g_ctx->arena), behind = pw_buf_in(g_ctx->arena);
  line(&text, g_load->start_at_min + 180, "fire-out %s 170 min",
       g_plan->event->pits[g_plan->lots.zones[g_load->zone].pit].id);
  ck_assert(play(&s, &text, g_load->start_at_min + 181, g_ctx) == PW_OK);
  ck_assert(pw_mend(&m, &s, PW_MEND_BARE, g_ctx) == PW_OK && m.is_changed && !m.plan);
  ck_assert(pw_slip_write(&slip, &m, g_ctx) == PW_OK && pw_behind_write(&behind, &m, g_ctx) == PW_OK);
  ck_assert_msg(strstr(slip.bytes, "NO NEW SHEETS") && strstr(slip.bytes, "last off at"), "%s", slip.bytes);
  ck_assert(strstr(slip.bytes, g_plan->event->services[g_plan->event->n_services - 1].name) != NULL);
  ck_assert(pw_mend(&m, &s, PW_MEND_RUNS, g_ctx) == PW_OK && m.plan && m.n_acts == 0);
}
END_TEST

/* Put on a rack where an oven was planned, or on another rack: the plan goes on from there, every piece with a place of its own. */
START_TEST(test_laid_elsewhere)
{
  struct pw_plan *wedding = g_plan;
  struct pw_names names = g_names;
  g_plan = planned(planned_event("tests/data/events/family-party.yaml", g_ctx), false, PW_EFFORT_QUICK,
                   g_ctx); /* it has its oven in use */
  ck_assert(pw_names_make(&g_names, g_plan, g_ctx) == PW_OK);
  const struct pw_allocation *a = &g_plan->allocation;
  int n = 0;
  for (int i = 0; i < a->n_loads; i++) {
    const struct pw_load *load = &a->loads[i];
    if (load->stage != PW_LOAD_FINISH || load->finisher == PW_NONE)
      continue;
    for (int z = 0; z < g_plan->lots.n_zones; z++) {
      struct pw_state s;
      struct pw_mended m;
      struct pw_buf text = pw_buf_in(g_ctx->arena), slip = pw_buf_in(g_ctx->arena);
      line(&text, load->start_at_min, "wrapped %s%d %s", pw_lot_letter(load->lot, g_ctx->arena), load->piece_ids[0] + 1,
           g_plan->lots.zones[z].id);
      ck_assert(play(&s, &text, load->start_at_min + 5, g_ctx) == PW_OK &&
                pw_mend(&m, &s, PW_MEND_WAYS, g_ctx) == PW_OK);
      ck_assert(pw_slip_write(&slip, &m, g_ctx) == PW_OK);
      for (int k = 0; k < m.allocation.n_loads; k++) {
        const struct pw_load *now = &m.allocation.loads[k];
        ck_assert(now->stage > PW_LOAD_FINISH || now->zone == PW_NONE || now->rects != NULL);
      }
      n++;
    }
  }
  g_plan = wedding;
  g_names = names;
  ck_assert(n > 0);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("supply");
  TCase *t = tcase_create("supply");
  tcase_add_unchecked_fixture(t, open_job, close_job);
  tcase_add_test(t, test_wood);
  tcase_add_test(t, test_weather);
  tcase_add_test(t, test_guests);
  tcase_add_test(t, test_a_slip_without_sheets);
  tcase_add_test(t, test_laid_elsewhere);
  tcase_set_timeout(t, 120);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
