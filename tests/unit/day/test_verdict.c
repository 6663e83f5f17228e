/* test_verdict.c - food safety on the day as it was [H1]: minutes between 5 and 57 C, verdicts and the minute until which they hold.  Rules:
 * FSIS-GD-2021-14 (10 to 54.4 C within 6 h), FDA Food Code 2022 3-501.16, 3-501.19 (4 h), 3-403.11 (74 C). */
#include "day/slip.h"
#include "day/verdict.h"
#include "day_job.h"

static struct pw_belief g_belief;

static int n_verdicts(const struct pw_state *s, struct pw_verdict **all)
{
  int n = 0;
  ck_assert(pw_belief_make(&g_belief, s, g_ctx) == PW_OK);
  ck_assert(pw_verdicts_make(all, &n, s, &g_belief, g_ctx) == PW_OK);
  return n;
}

static int end_of(void)
{
  const struct pw_allocation *a = &g_plan->allocation;
  int end = g_load->end_at_min;
  for (int i = 0; i < a->n_loads; i++)
    for (int k = 0; a->loads[i].lot == g_load->lot && a->loads[i].stage == PW_LOAD_FINISH && k < a->loads[i].pieces;
         k++)
      if (a->loads[i].piece_ids[k] == g_load->piece_ids[0])
        end = a->loads[i].end_at_min;
  return end;
}

/* Cooked, read hot, then low: out since it was last read hot; four hours from then. */
START_TEST(test_cooked_food_that_fell)
{
  static const struct {
    const char *name;
    int c[5];  /* readings, an hour apart from the end of cooking on; 0: none */
    int after; /* now, minutes after the end of cooking */
    int kind;  /* -1: no verdict */
    int until; /* minutes after the end of cooking */
  } rows[] = {
      {"hot", {90, 80, 70, 60, 58}, 250, -1, 0},
      {"fell between the first hour and the second", {90, 80, 50}, 125, PW_VERDICT_REHEAT, 60 + 240},
      {"fell, not hot enough again", {90, 50, 65}, 125, PW_VERDICT_REHEAT, 0 + 240},
      {"fell, hot again by 3-403.11", {90, 50, 75}, 125, -1, 0},
      {"fell twice: both stretches count", {90, 50, 75, 60, 50}, 245, PW_VERDICT_REHEAT, 180 + 120},
      {"four hours are over", {90, 50, 50, 50, 50}, 241, PW_VERDICT_THROW_AWAY, 240},
      {"hot again too late", {90, 50, 50, 50, 75}, 241, PW_VERDICT_THROW_AWAY, 241},
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct pw_state s;
    struct pw_verdict *all = NULL;
    struct pw_buf text = pw_buf_in(g_ctx->arena);
    int end = end_of();
    line(&text, end, "off %s%d", g_lot, g_load->piece_ids[0] + 1);
    for (int k = 0; k < 5 && rows[i].c[k]; k++)
      line(&text, end + 60 * k, "core %s%d %d C", g_lot, g_load->piece_ids[0] + 1, rows[i].c[k]);
    ck_assert(play(&s, &text, end + rows[i].after, g_ctx) == PW_OK);
    int n = n_verdicts(&s, &all);
    if (rows[i].kind < 0) {
      ck_assert_msg(n == 0, "%s: %s", rows[i].name, n ? all[0].text : "");
      continue;
    }
    ck_assert_msg(n == 1, "%s: %d verdicts", rows[i].name, n);
    ck_assert_msg((int)all[0].kind == rows[i].kind, "%s: %s", rows[i].name, all[0].text);
    ck_assert_msg(abs(all[0].until_min - (end + rows[i].until)) <= 1, "%s: %d min after the end, not %d", rows[i].name,
                  all[0].until_min - end, rows[i].until);
    ck_assert(strstr(all[0].text, rows[i].kind == PW_VERDICT_THROW_AWAY ? "THROW AWAY" : "now or eat by") != NULL);
  }
}
END_TEST

/* Raw meat that lost its fire: six hours from 10 to 54.4 C, and a word before they are over. */
START_TEST(test_raw_meat_without_fire)
{
  const char *pit = g_plan->event->pits[g_plan->lots.zones[g_load->zone].pit].id;
  struct pw_state s;
  struct pw_verdict *all = NULL;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  line(&text, g_load->start_at_min + 120, "fire-out %s 110 min", pit);
  line(&text, g_load->start_at_min + 125, "core %s%d 20 C", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, g_load->start_at_min + 130, g_ctx) == PW_OK);
  int n = n_verdicts(&s, &all), is_there = 0;
  for (int i = 0; i < n; i++)
    if (all[i].lot == g_load->lot) {
      is_there = 1;
      ck_assert_int_eq(all[i].kind, PW_VERDICT_SOUND_UNTIL);
      int since = all[i].until_min -
                  g_load->start_at_min; /* 6 h from 10 C on, which a cold piece reaches in the first two hours */
      ck_assert_msg(since >= 360 && since <= 480, "until %d min after it went on", since);
    }
  ck_assert(is_there);
  line(&text, g_load->start_at_min + 490, "core %s%d 40 C", g_lot, g_load->piece_ids[0] + 1); /* and it came too late */
  ck_assert(play(&s, &text, g_load->start_at_min + 495, g_ctx) == PW_OK);
  n = n_verdicts(&s, &all);
  ck_assert(n > 0 && all[0].kind == PW_VERDICT_THROW_AWAY);
}
END_TEST

/* The cumulative minutes: all of them while it is raw and cold, no more once it was read hot, again when it fell. */
START_TEST(test_minutes_between_cold_and_hot)
{
  struct pw_state s;
  struct pw_verdict *all = NULL;
  struct pw_buf text = pw_buf_in(g_ctx->arena);
  int i = 0;
  line(&text, g_load->start_at_min + 100, "core %s%d 20 C", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, g_load->start_at_min + 100, g_ctx) == PW_OK);
  (void)n_verdicts(&s, &all);
  i = s.first[g_load->lot] + g_load->piece_ids[0];
  ck_assert_int_eq(pw_verdict_danger_min(&s, &g_belief, i, g_ctx), 100);
  line(&text, g_load->start_at_min + 200, "core %s%d 60 C", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, g_load->start_at_min + 250, g_ctx) == PW_OK);
  (void)n_verdicts(&s, &all);
  int raw = pw_verdict_danger_min(&s, &g_belief, i, g_ctx);
  ck_assert_msg(raw > 100 && raw <= 200, "%d min", raw);
  int end = end_of();
  line(&text, end, "off %s%d", g_lot, g_load->piece_ids[0] + 1);
  line(&text, end, "core %s%d 90 C", g_lot, g_load->piece_ids[0] + 1);
  line(&text, end + 120, "core %s%d 70 C", g_lot, g_load->piece_ids[0] + 1);
  line(&text, end + 180, "core %s%d 50 C", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, end + 200, g_ctx) == PW_OK);
  (void)n_verdicts(&s, &all);
  int both = pw_verdict_danger_min(&s, &g_belief, i, g_ctx);
  ck_assert_msg(both - 80 > 100 && both - 80 <= 200, "%d min", both); /* out since it was last read hot, 80 min ago */
}
END_TEST

/* What has to be thrown away is in no line to come: not on the sheets, not on a rack from now on; and the meal is told what it lacks. */
START_TEST(test_thrown_away_is_not_cooked_on)
{
  struct pw_state s;
  struct pw_mended m;
  struct pw_buf text = pw_buf_in(g_ctx->arena), slip = pw_buf_in(g_ctx->arena);
  const char *pit = g_plan->event->pits[g_plan->lots.zones[g_load->zone].pit].id;
  int now = g_load->start_at_min + 495, n_lost = 0;
  line(&text, g_load->start_at_min + 120, "fire-out %s 360 min", pit);
  line(&text, g_load->start_at_min + 490, "core %s%d 40 C", g_lot, g_load->piece_ids[0] + 1);
  ck_assert(play(&s, &text, now, g_ctx) == PW_OK);
  ck_assert(pw_mend(&m, &s, PW_MEND_WAYS, g_ctx) == PW_OK && m.is_changed);
  struct pw_piece *pieces = pw_arena_array(g_ctx->arena, (size_t)s.n_pieces, sizeof *pieces);
  ck_assert_ptr_nonnull(pieces);
  memcpy(pieces, s.pieces, (size_t)s.n_pieces * sizeof *pieces);
  ck_assert_int_gt(pw_verdict_condemn(pieces, &s, &m.belief, g_ctx), 0);
  for (int i = 0; i < s.n_pieces; i++) {
    if (pieces[i].where != PW_PIECE_LOST || s.pieces[i].where == PW_PIECE_LOST)
      continue;
    n_lost++;
    for (int l = 0; l < m.plan->allocation.n_loads; l++) {
      const struct pw_load *load = &m.plan->allocation.loads[l];
      for (int k = 0; load->lot == pieces[i].lot && load->end_at_min > now && k < load->pieces; k++)
        ck_assert_msg(load->piece_ids[k] != pieces[i].nth, "piece %d lies somewhere until %d", i,
                      load->end_at_min - now);
    }
    for (int t = 0; t < m.plan->tasks.n_tasks; t++) {
      const struct pw_task *task = &m.plan->tasks.tasks[t];
      for (int k = 0; task->lot == pieces[i].lot && task->at_min >= now && k < task->n_ids; k++)
        ck_assert_msg(task->piece_ids[k] != pieces[i].nth, "piece %d: %s", i, task->what);
    }
  }
  ck_assert_int_gt(n_lost, 0);
  ck_assert(pw_slip_write(&slip, &m, g_ctx) == PW_OK);
  ck_assert_msg(strstr(slip.bytes, "THROW AWAY") && strstr(slip.bytes, "Short"), "%s", slip.bytes);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("verdict");
  TCase *t = tcase_create("verdict");
  tcase_add_unchecked_fixture(t, open_job, close_job);
  tcase_add_test(t, test_cooked_food_that_fell);
  tcase_add_test(t, test_raw_meat_without_fire);
  tcase_add_test(t, test_minutes_between_cold_and_hot);
  tcase_add_test(t, test_thrown_away_is_not_cooked_on);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
