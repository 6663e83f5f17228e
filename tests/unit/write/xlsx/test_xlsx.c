/* test_xlsx.c - the workbook writer on a plan made by hand: it writes, twice the same bytes, and a damaged file
 * does not pass for a whole one. */
#include "fixture_plan.h"
#include "harness.h"
#include "write/xlsx/xlsx.h"

#include <unistd.h>

static char folder[64];

static const char *path_of(const char *name)
{
  static char paths[2][128];
  static int turn;
  turn = !turn;
  snprintf(paths[turn], sizeof paths[turn], "%s/%s", folder, name);
  return paths[turn];
}

static void folder_make(void)
{
  snprintf(folder, sizeof folder, "%s", "/tmp/pw-xlsx-XXXXXX");
  ck_assert_ptr_nonnull(mkdtemp(folder));
}

static void folder_remove(void)
{
  static const char *const names[] = {"a.xlsx", "b.xlsx", "cut.xlsx"};
  for (size_t i = 0; i < sizeof names / sizeof names[0]; i++)
    (void)unlink(path_of(names[i]));
  ck_assert_int_eq(rmdir(folder), 0); /* nothing else may have been left behind */
}

static size_t slurp(const char *path, char **bytes)
{
  FILE *file = fopen(path, "rb");
  ck_assert_ptr_nonnull(file);
  ck_assert_int_eq(fseek(file, 0, SEEK_END), 0);
  long n = ftell(file);
  rewind(file);
  *bytes = malloc((size_t)n + 1);
  ck_assert_ptr_nonnull(*bytes);
  ck_assert_uint_eq(fread(*bytes, 1, (size_t)n, file), (size_t)n);
  ck_assert_int_eq(fclose(file), 0);
  return (size_t)n;
}

static void spill(const char *path, const char *bytes, size_t n)
{
  FILE *file = fopen(path, "wb");
  ck_assert_ptr_nonnull(file);
  ck_assert_uint_eq(fwrite(bytes, 1, n, file), n);
  ck_assert_int_eq(fclose(file), 0);
}

START_TEST(test_same_bytes)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char *a, *b;
  ck_assert_int_eq(pw_xlsx_write(fx_plan_make(), path_of("a.xlsx"), "workbook.xlsx", ctx), PW_OK);
  ck_assert_int_eq(pw_xlsx_write(fx_plan_make(), path_of("b.xlsx"), "workbook.xlsx", ctx), PW_OK);
  size_t n = slurp(path_of("a.xlsx"), &a);
  ck_assert_uint_eq(slurp(path_of("b.xlsx"), &b), n);
  ck_assert_int_eq(memcmp(a, b, n), 0);
  ck_assert_int_eq(ctx->n_diags_total, 0);
  free(a);
  free(b);
  pw_test_ctx_free(ctx);
}
END_TEST

/* A share of the file kept (per mille), or one byte turned over at that place. */
static const struct {
  const char *name;
  int per_mille;
  bool is_cut;
} damages[] = {
    {"empty", 0, true},
    {"half", 500, true},
    {"all but the end", 999, true},
    {"a byte at 20 %", 200, false},
    {"a byte at 50 %", 500, false},
    {"a byte at 80 %", 800, false},
};

START_TEST(test_damage_is_seen)
{
  struct pw_ctx *ctx = pw_test_ctx();
  char *bytes;
  ck_assert_int_eq(pw_xlsx_write(fx_plan_make(), path_of("a.xlsx"), "workbook.xlsx", ctx), PW_OK);
  size_t n = slurp(path_of("a.xlsx"), &bytes), at = n * (size_t)damages[_i].per_mille / 1000;
  if (!damages[_i].is_cut)
    bytes[at] = (char)(bytes[at] ^ 0x55);
  spill(path_of("cut.xlsx"), bytes, damages[_i].is_cut ? at : n);
  ck_assert_msg(pw_xlsx_verify(path_of("cut.xlsx"), "workbook.xlsx", pw_xlsx_n_sheets(), ctx) == PW_ERR_IO, "%s passed",
                damages[_i].name);
  ck_assert_int_eq(ctx->n_errors, 1);
  free(bytes);
  pw_test_ctx_free(ctx);
}
END_TEST

/* PW_WORKBOOK=path keeps a workbook for the tests that open it with another program. */
START_TEST(test_keeps_one)
{
  const char *path = getenv("PW_WORKBOOK");
  struct pw_ctx *ctx = pw_test_ctx();
  if (path)
    ck_assert_int_eq(pw_xlsx_write(fx_plan_make(), path, "workbook.xlsx", ctx), PW_OK);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_sheets_are_counted)
{
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert_int_eq(pw_xlsx_write(fx_plan_make(), path_of("a.xlsx"), "workbook.xlsx", ctx), PW_OK);
  ck_assert_int_eq(pw_xlsx_verify(path_of("a.xlsx"), "workbook.xlsx", pw_xlsx_n_sheets(), ctx), PW_OK);
  ck_assert_int_eq(pw_xlsx_verify(path_of("a.xlsx"), "workbook.xlsx", pw_xlsx_n_sheets() + 1, ctx), PW_ERR_IO);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_no_place_to_write)
{
  struct pw_ctx *ctx = pw_test_ctx();
  ck_assert_int_eq(pw_xlsx_write(fx_plan_make(), path_of("missing/a.xlsx"), "workbook.xlsx", ctx), PW_ERR_IO);
  ck_assert_int_ge(ctx->n_errors, 1);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Names no workbook may be broken by: they end in cells, headers, footers, properties and formulas' neighbours. */
static const struct {
  const char *name, *text;
} hostile[] = {
    {"formula", "=1+1"},
    {"control characters", "a\x01\x1b[31m\x7f"},
    {"bytes that are no UTF-8", "caf\xe9 \xc0\xaf \xed\xa0\x80"},
    {"direction override", "abc\xe2\x80\xaegnp"},
    {"markup", "<b>&\"'</b>]]>"},
    {"footer codes", "B&Q &D &P"},
    {"escape of the format", "_x0041_"},
    {"empty", ""},
    {"one word of 300 characters",
     "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"
     "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"
     "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"},
};

START_TEST(test_hostile_names)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = hostile[_i].text;
  struct pw_event ev = *fx_plan_make()->event;
  struct pw_plan plan = fx_plan;
  struct pw_task task = fx_tasks[4];
  struct pw_cut cuts[3] = {fx_cuts[0], fx_cuts[1], fx_cuts[2]};
  struct pw_crew crew[3] = {fx_crew[0], fx_crew[1], fx_crew[2]};
  struct pw_pit pits[2] = {fx_pits[0], fx_pits[1]};
  ev.name = ev.customer = ev.site.place = ev.money_sign = cuts[0].name = crew[0].role = pits[0].name = text;
  task.what = task.where = task.target = text;
  ev.cuts = cuts;
  ev.crew = crew;
  ev.pits = pits;
  plan.event = &ev;
  plan.tasks.tasks = &task;
  plan.tasks.n_tasks = 1;
  ck_assert_msg(pw_xlsx_write(&plan, path_of("a.xlsx"), "workbook.xlsx", ctx) == PW_OK, "%s: %s", hostile[_i].name,
                ctx->n_diags ? ctx->diags[0].text : "");
  pw_test_ctx_free(ctx);
}
END_TEST

/* Memory runs out at one of our own allocations: the status says so and no file stays. */
START_TEST(test_memory)
{
  struct pw_ctx *ctx = pw_test_ctx();
  long before = pw_arena_count(ctx->arena);
  ck_assert_int_eq(pw_xlsx_build(fx_plan_make(), path_of("a.xlsx"), "workbook.xlsx", ctx),
                   PW_OK); /* the child's are not counted here */
  long n = pw_arena_count(ctx->arena) - before;
  pw_test_ctx_free(ctx);
  ck_assert_int_eq(unlink(path_of("a.xlsx")), 0);
  for (long k = 1; k < n; k += k < 20 ? 1 : n / 60) {
    ctx = pw_test_ctx();
    pw_arena_fail_at(ctx->arena, k);
    pw_status status = pw_xlsx_write(fx_plan_make(), path_of("a.xlsx"), "workbook.xlsx", ctx);
    ck_assert_msg(status == PW_ERR_MEMORY, "allocation %ld of %ld fails: status %d", k, n, (int)status);
    ck_assert_int_ne(access(path_of("a.xlsx"), F_OK), 0);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("xlsx");
  TCase *tc = tcase_create("core");
  tcase_add_checked_fixture(tc, folder_make, folder_remove);
  tcase_set_timeout(tc, 60);
  tcase_add_test(tc, test_same_bytes);
  tcase_add_loop_test(tc, test_damage_is_seen, 0, sizeof damages / sizeof damages[0]);
  tcase_add_test(tc, test_keeps_one);
  tcase_add_test(tc, test_sheets_are_counted);
  tcase_add_test(tc, test_no_place_to_write);
  tcase_add_loop_test(tc, test_hostile_names, 0, sizeof hostile / sizeof hostile[0]);
  tcase_add_test(tc, test_memory);
  suite_add_tcase(s, tc);
  return s;
}

PW_MAIN(suite)
