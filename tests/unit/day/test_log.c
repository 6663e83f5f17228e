/* test_log.c - the log of the day: every word of its table, times, names, faults with their places, lines written and read again. */
#include "day/log.h"
#include "planned.h"

static struct pw_ctx *g_ctx;
static struct pw_plan *g_plan;
static struct pw_names g_names;

static void open_job(void)
{
  g_ctx = pw_test_ctx();
  g_plan = planned(planned_event("tests/data/events/lakeside-wedding.yaml", g_ctx), false, PW_EFFORT_QUICK, g_ctx);
  ck_assert(pw_names_make(&g_names, g_plan, g_ctx) == PW_OK);
}

static void close_job(void) { pw_test_ctx_free(g_ctx); }

static pw_status read_log(struct pw_log *log, const char *text, struct pw_ctx *ctx)
{
  return pw_log_read(log, "day.log", text, strlen(text), &g_names, ctx);
}

/* The only line of a text, which must be without fault. */
static struct pw_log_line one(const char *text)
{
  struct pw_ctx *ctx = g_ctx;
  struct pw_log log;
  int before = ctx->n_diags;
  pw_status st = read_log(&log, text, ctx);
  ck_assert_msg(st == PW_OK && log.n == 1, "%s: %zu lines, %s", text, log.n,
                ctx->n_diags > before ? ctx->diags[before].text : "");
  return log.lines[0];
}

START_TEST(test_every_example_of_the_table_is_a_line)
{
  char text[200];
  for (int v = 0; v < PW_LOG__COUNT; v++) {
    const struct pw_log_row *row = pw_log_row((enum pw_log_verb)v);
    static const char *const own[PW_LOG__COUNT] = {/* in the names of this job, where the table's are another's */
                                                   [PW_LOG_ABSENT] = "absent pit hand until 08:00"};
    snprintf(text, sizeof text, "02:30 %s", own[v] ? own[v] : row->example);
    struct pw_log log;
    struct pw_ctx *ctx = pw_test_ctx();
    (void)read_log(&log, text, ctx);
    for (int d = 0; d < ctx->n_diags; d++) /* names of another job may be unknown here; never the word or its form */
      ck_assert_msg(strcmp(ctx->diags[d].code, "log-word") != 0 && strcmp(ctx->diags[d].code, "log-lacks") != 0 &&
                        strcmp(ctx->diags[d].code, "log-quantity") != 0,
                    "%s: %s", text, ctx->diags[d].text);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

START_TEST(test_quantities)
{
  PW_NEAR("F without a unit", one("Sat 02:30 core A 141").temps_c[0], 60.5556, 1e-3, 0); /* (141 - 32) / 1.8 */
  PW_NEAR("C said once", one("Sat 02:30 core A 60 61 C").temps_c[1], 61, 1e-9, 0);
  PW_NEAR("F said once", one("Sat 02:30 core A 141 139 F").temps_c[1], 59.4444, 1e-3, 0);
  PW_NEAR("wood", one("Sat 02:30 wood 40 kg left").amount_kg, 40, 1e-9, 0);
  PW_NEAR("wind", one("Sat 02:30 weather 38 F wind 25 mph").wind_m_s, 11.176, 1e-3, 0); /* 1 mph = 0.44704 m/s */
  ck_assert_int_eq(one("Sat 02:30 core A2 141").piece_ids[0], 1);
  ck_assert_int_eq(one("Sat 02:30 core A1,A2 141 142").n_ids, 2);
}
END_TEST

START_TEST(test_times)
{
  struct pw_log log;
  struct pw_log_line day = one("Sat 02:30 note a");
  ck_assert_int_eq(one("Sat 03:30 note a").at_min - day.at_min, 60);
  ck_assert_int_eq(one("Fri 02:30 note a").at_min - day.at_min, -1440);
  /* without a day: the one nearest to the line before, also back over midnight */
  ck_assert(read_log(&log, "Sat 00:10 note a\n23:50 note b\n00:20 note c\n", g_ctx) == PW_OK);
  ck_assert_int_eq(log.lines[1].at_min - log.lines[0].at_min, -20);
  ck_assert_int_eq(log.lines[2].at_min - log.lines[1].at_min, 30);
  ck_assert_int_eq(log.now_min, log.lines[2].at_min);
  int at = 0;
  ck_assert(pw_log_time(&g_names, "02:30", day.at_min + 300, &at) && at == day.at_min);
  ck_assert(!pw_log_time(&g_names, "24:30", 0, &at) && !pw_log_time(&g_names, "02:60", 0, &at) &&
            !pw_log_time(&g_names, "", 0, &at));
}
END_TEST

START_TEST(test_lots_by_letter_id_and_words)
{
  for (int l = 0; l < g_plan->lots.n_lots; l++) {
    char text[200];
    const char *letter = pw_lot_letter(l, g_ctx->arena);
    snprintf(text, sizeof text, "Sat 02:30 core %s 141", letter);
    ck_assert_int_eq(one(text).lot, l);
    snprintf(text, sizeof text, "Sat 02:30 core %s 141", g_plan->lots.lots[l].id);
    ck_assert_int_eq(one(text).lot, l);
  }
}
END_TEST

START_TEST(test_not_takes_back_the_last_such_line)
{
  struct pw_log log;
  ck_assert(read_log(&log, "Sat 02:30 core A 141\n02:35 core A 150\n02:41 not core A 150\n", g_ctx) == PW_OK);
  ck_assert_int_eq((int)log.n, 2);
  ck_assert(!log.lines[0].is_cancelled && log.lines[1].is_cancelled);
}
END_TEST

START_TEST(test_faults)
{
  static const struct {
    const char *name, *text, *code, *words;
    int line, col;
  } rows[] = {
      {"no time", "core A 141", "log-time", "begins with a time", 1, 1},
      {"a slip in the word", "# night\nSat 02:30 cor A 141", "log-word", "did you mean core?", 2, 11},
      {"no such lot", "Sat 02:30 core zebra 141", "log-unknown", "not a lot", 1, 16},
      {"a slip in the pit", "Sat 02:30 lit trailr", "log-unknown", "did you mean", 1, 15},
      {"no reading", "Sat 02:30 core A", "log-lacks", "readings", 1, 17},
      {"no core of food", "Sat 02:30 core A 141 900", "log-reading", "which unit", 1, 22},
      {"too much", "Sat 02:30 lit 2 3 4", "log-unknown", "not a pit", 1, 15},
      {"no such piece", "Sat 02:30 core A999 141", "log-piece", "there is no piece", 1, 16},
      {"more than the lot has", "Sat 02:30 on A 9999", "log-count", "the lot has", 1, 16},
      {"another year", "2029-01-01 02:30 note a", "log-time", "outside this job", 1, 1},
      {"nothing to take back", "Sat 02:30 not on A", "log-not", "nothing to take back", 1, 1},
      {"ends before it begins", "Sat 02:30 absent pitmaster until Fri 02:00", "log-time", "before it begins", 1, 34},
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct pw_log log;
    struct pw_ctx *ctx = pw_test_ctx();
    ck_assert_msg(read_log(&log, rows[i].text, ctx) == PW_ERR_INPUT, "%s: no fault", rows[i].name);
    ck_assert_msg(ctx->n_diags == 1, "%s: %d faults", rows[i].name, ctx->n_diags);
    const struct pw_diag *d = &ctx->diags[0];
    ck_assert_msg(strcmp(d->code, rows[i].code) == 0 && d->line == rows[i].line && d->col == rows[i].col &&
                      strstr(d->text, rows[i].words),
                  "%s: %s at %d:%d: %s", rows[i].name, d->code, d->line, d->col, d->text);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

START_TEST(test_all_faults_in_one_run_and_the_rest_is_read)
{
  struct pw_log log;
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert(read_log(&log, "Sat 02:30 cor A 141\nSat 02:35 note fine\nSat 02:40 core A 900\n", ctx) == PW_ERR_INPUT);
  ck_assert_int_eq(ctx->n_errors, 2);
  ck_assert_int_eq((int)log.n, 1);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_lines_written_are_the_lines_read)
{
  struct pw_log log, again;
  ck_assert(read_log(&log,
                     "Sat 02:30 core A 141 139 F\n02:35 on B 1\n02:36 note a  b # c\n02:40 guests dinner 190\n02:41 "
                     "wood 40 kg left\n",
                     g_ctx) == PW_OK);
  struct pw_buf buf = pw_buf_in(g_ctx->arena);
  for (size_t i = 0; i < log.n; i++) {
    pw_log_line_write(&buf, &log.lines[i], &g_names);
    pw_buf_add(&buf, "\n");
  }
  ck_assert(read_log(&again, pw_buf_text(&buf), g_ctx) == PW_OK);
  ck_assert_int_eq((int)again.n, (int)log.n);
  for (size_t i = 0; i < log.n; i++) {
    ck_assert_int_eq(again.lines[i].at_min, log.lines[i].at_min);
    ck_assert_int_eq(again.lines[i].lot, log.lines[i].lot);
    ck_assert_int_eq(again.lines[i].n_temps, log.lines[i].n_temps);
    ck_assert_str_eq(again.lines[i].text, log.lines[i].text);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("log");
  TCase *t = tcase_create("log");
  tcase_add_unchecked_fixture(t, open_job, close_job);
  tcase_add_test(t, test_every_example_of_the_table_is_a_line);
  tcase_add_test(t, test_quantities);
  tcase_add_test(t, test_times);
  tcase_add_test(t, test_lots_by_letter_id_and_words);
  tcase_add_test(t, test_not_takes_back_the_last_such_line);
  tcase_add_test(t, test_faults);
  tcase_add_test(t, test_all_faults_in_one_run_and_the_rest_is_read);
  tcase_add_test(t, test_lines_written_are_the_lines_read);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
