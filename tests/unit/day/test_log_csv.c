/* test_log_csv.c - the log as a table: written with the planned lines, filled in, read as the lines it says. */
#include "day/log_csv.h"
#include "day/mend.h"
#include "day_job.h"

/* The table with a mark in the rows that `now` has passed, and another separator. */
static struct pw_buf filled(int now_min, char comma, const char *mark, int *n_marked)
{
  struct pw_buf table = pw_buf_in(g_ctx->arena), out = pw_buf_in(g_ctx->arena);
  ck_assert(pw_log_csv_write(&table, g_plan, g_ctx) == PW_OK);
  *n_marked = 0;
  for (const char *row = table.bytes; *row;) {
    const char *end = strstr(row, "\r\n");
    char when[40];
    int at = 0;
    ck_assert(end != NULL);
    snprintf(when, sizeof when, "%.*s", (int)strcspn(row, ","), row);
    const char *core = strstr(row, "core "); /* wants a reading */
    bool is_past = pw_log_time(&g_names, when, now_min, &at) && at <= now_min && !(core && core < end);
    size_t n = (size_t)(end - row) - (is_past ? 1 : 0); /* its last field is the reading */
    bool is_quoted = false;
    for (size_t i = 0; i < n; i++) {
      is_quoted = row[i] == '"' ? !is_quoted : is_quoted;
      pw_buf_add_char(&out, row[i] == ',' && !is_quoted ? comma : row[i]);
    }
    if (is_past) {
      pw_buf_printf(&out, "%s%c", mark, comma);
      ++*n_marked;
    }
    pw_buf_add(&out, "\r\n");
    row = end + 2;
  }
  return out;
}

/* As planned all along: as many lines as marks, and a plan that does not change. */
START_TEST(test_filled_in_as_planned)
{
  static const char commas[] = {',', ';', '\t'};
  for (int now = g_load->start_at_min - 60, k = 0; now < g_load->end_at_min + 500; now += 240, k++) {
    struct pw_log log;
    struct pw_state s;
    struct pw_mended m;
    int n = 0;
    struct pw_buf table = filled(now, commas[k % 3], k % 2 ? "x" : "ok", &n);
    struct pw_ctx *ctx = pw_test_ctx();
    ck_assert(pw_log_csv_is(table.bytes, table.n));
    ck_assert_msg(pw_log_read(&log, "day-log.csv", table.bytes, table.n, &g_names, ctx) == PW_OK, "line %d: %s",
                  ctx->diags[0].line, ctx->diags[0].text);
    ck_assert_msg((int)log.n == n && n > 0, "%zu lines of %d marks", log.n, n);
    ck_assert_msg(pw_state_make(&s, g_plan, &log, &g_names, now, ctx) == PW_OK, "%s",
                  ctx->n_diags ? ctx->diags[0].text : "");
    ck_assert(pw_mend(&m, &s, PW_MEND_WAYS, ctx) == PW_OK);
    ck_assert_msg(!m.is_changed, "changed at %s", pw_when(g_plan->event, now).s);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

START_TEST(test_rows)
{
  static const struct {
    const char *name, *row;
    const char *line; /* "": nothing is said */
  } rows[] = {
      {"nothing filled in", "Sat 02:30,on D,,", ""},
      {"another time", "Sat 02:30,on D,02:50,", "02:50 on D"},
      {"at the planned time", "Sat 02:30,on D,x,", "Sat 02:30 on D"},
      {"a reading alone", "Sat 09:00,\"core D1,D2\",,141 139", "Sat 09:00 core D1,D2 141 139"},
      {"a reading and a time", "Sat 09:00,\"core D1,D2\",09:20,141 139", "09:20 core D1,D2 141 139"},
      {"a row of one's own", ",fire-out trailer 90 min,02:30,", "02:30 fire-out trailer 90 min"},
      {"quotes in quotes", ",\"note the \"\"good\"\" door\",02:30,", "02:30 note the \"good\" door"},
      {"further columns", "Sat 02:30,on D,02:50,,left in,by hand", "02:50 on D"},
      {"fewer columns", "Sat 02:30,on D,02:50", "02:50 on D"},
      {"an empty row", ",,,", ""},
  };
  for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
    struct pw_buf table = pw_buf_in(g_ctx->arena), out = pw_buf_in(g_ctx->arena);
    pw_buf_printf(&table, "\xef\xbb\xbfPlanned,Line,Done,Reading\r\n%s\r\n", rows[i].row);
    ck_assert(pw_log_csv_is(table.bytes, table.n));
    pw_log_csv_lines(&out, table.bytes, table.n);
    const char *wanted = pw_arena_printf(g_ctx->arena, "\n%s\n", rows[i].line);
    ck_assert_msg(strcmp(pw_buf_text(&out), wanted) == 0, "%s: \"%s\"", rows[i].name, out.bytes);
  }
  ck_assert(!pw_log_csv_is("02:30 on D", 10) && !pw_log_csv_is("planned,line,done", 17) && !pw_log_csv_is("", 0));
}
END_TEST

/* A fault is told at the row it stands in. */
START_TEST(test_faults_have_their_row)
{
  static const char TABLE[] =
      "planned;line;done;reading\nSat 02:30;on D;x;\n;fire-uot trailer 90 min;02:40;\n;core D;02:50;zebra\n";
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_log log;
  ck_assert(pw_log_read(&log, "day-log.csv", TABLE, sizeof TABLE - 1, &g_names, ctx) == PW_ERR_INPUT);
  ck_assert_int_eq(ctx->n_diags, 2);
  ck_assert(ctx->diags[0].line == 3 && strcmp(ctx->diags[0].code, "log-word") == 0);
  ck_assert(ctx->diags[1].line == 4);
  ck_assert_int_eq((int)log.n, 1);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("log_csv");
  TCase *t = tcase_create("log_csv");
  tcase_add_unchecked_fixture(t, open_job, close_job);
  tcase_add_test(t, test_filled_in_as_planned);
  tcase_add_test(t, test_rows);
  tcase_add_test(t, test_faults_have_their_row);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
