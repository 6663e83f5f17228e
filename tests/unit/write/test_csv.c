/* test_csv.c - the lists: records of one length, CRLF, quotes doubled (RFC 4180, 2), formulas disarmed. */
#include "write/csv.h"
#include "writer_checks.h"

static const struct {
  writer_fn write;
  int n_fields;
} lists[] = {{pw_csv_purchases_write, 13}, {pw_csv_tasks_write, 10}};
enum { N_LISTS = sizeof lists / sizeof lists[0], CELL_MAX = 512 };

/** Reads one field at *p into `cell`; returns what ended it: ',', '\n' or 0 at the end of the text. */
static char field_read(const char **p, char *cell)
{
  size_t n = 0;
  bool is_quoted = **p == '"';
  const char *q = *p + is_quoted;
  for (; *q; q++) {
    if (is_quoted && q[0] == '"' && q[1] == '"')
      q++;
    else if (is_quoted ? *q == '"' : *q == ',' || *q == '\r')
      break;
    else
      ck_assert_msg(is_quoted || (*q != '"' && *q != '\n'), "bare %d", *q);
    ck_assert_uint_lt(n + 1, CELL_MAX);
    cell[n++] = *q;
  }
  cell[n] = '\0';
  q += is_quoted;
  char end = *q;
  if (end == '\r') {
    ck_assert_int_eq(q[1], '\n');
    q++;
    end = '\n';
  }
  *p = *q ? q + 1 : q;
  return end;
}

static int records(const char *text, int n_fields)
{
  char cell[CELL_MAX];
  int n = 0;
  for (const char *p = text; *p; n++) {
    int fields = 1;
    char end;
    while ((end = field_read(&p, cell)) == ',')
      fields++;
    ck_assert_int_eq(end, '\n');
    ck_assert_int_eq(fields, n_fields);
  }
  return n;
}

START_TEST(test_records)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = writer_text(ctx, lists[_i].write, fx_plan_make());
  int want = 1 + (_i == 0 ? fx_plan.purchase.n_lines + fx_plan.fuel.n_lines : fx_plan.tasks.n_tasks);
  ck_assert_int_eq(records(text, lists[_i].n_fields), want);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_values)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const char *text = writer_text(ctx, pw_csv_purchases_write, fx_plan_make());
  /* 31.75 kg are 69.9968 lb at 0.45359237 kg/lb (NIST SP 811); order by 5 days and 16 h before midnight of the day */
  ck_assert_ptr_nonnull(
      strstr(text, "\r\nMeat,\"Beef brisket, whole packer\",Hill Street "
                   "Meats,5,piece,69.9968,lb,5,321.95,USD,2027-09-13T08:00:00-05:00,2027-09-16T08:00:00-05:00,\r\n"));
  ck_assert_ptr_nonnull(
      strstr(writer_text(ctx, pw_csv_tasks_write, &fx_plan),
             "\r\n2027-09-17T23:30:00-05:00,10,pitmaster,\"Load 5 briskets, fat towards the fire\","));
  pw_test_ctx_free(ctx);
}
END_TEST

/* Fees and what makes up a least order are rows; an order without either has none. */
START_TEST(test_deliveries)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = *fx_plan_make();
  struct pw_order orders[] = {{.supplier = "Hill, Street", .delivery_cents = 2500, .top_up_cents = 140},
                              {.supplier = "Carried"},
                              {.supplier = "Far", .top_up_cents = 5}};
  int without = records(writer_text(ctx, pw_csv_purchases_write, &plan), 13);
  plan.purchase.orders = orders;
  plan.purchase.n_orders = 3;
  const char *text = writer_text(ctx, pw_csv_purchases_write, &plan);
  ck_assert_int_eq(records(text, 13), without + 3);
  ck_assert_ptr_nonnull(strstr(text, "\r\nDeliveries,Delivery,\"Hill, Street\",,,,,,25.00,USD,,,\r\n"));
  ck_assert_ptr_nonnull(
      strstr(text, "\r\nDeliveries,To reach the minimum order,\"Hill, Street\",,,,,,1.40,USD,,,\r\n"));
  ck_assert_ptr_nonnull(strstr(text, "\r\nDeliveries,To reach the minimum order,Far,,,,,,0.05,USD,,,\r\n"));
  pw_test_ctx_free(ctx);
}
END_TEST

/* What a spreadsheet would run begins with one of these (OWASP, CSV injection). */
static const char *const formulas[] = {"=1+1", "+1", "-1+2", "@SUM(A1)", " =1+1", "\t=1"};

START_TEST(test_formulas_are_disarmed)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan plan = *fx_plan_make();
  struct pw_task task = fx_tasks[4];
  task.what = formulas[_i];
  plan.tasks.tasks = &task;
  plan.tasks.n_tasks = 1;
  const char *p = strchr(writer_text(ctx, pw_csv_tasks_write, &plan), '\n') + 1;
  char cell[CELL_MAX] = "";
  for (int i = 0; i < 4; i++)
    ck_assert_int_eq(field_read(&p, cell), ',');
  ck_assert_msg(cell[0] == '\'', "%s became %s", formulas[_i], cell);
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(test_same_bytes) { writer_check_same_bytes(lists[_i].write); }
END_TEST

START_TEST(test_memory) { writer_check_memory(lists[_i].write); }
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("csv");
  TCase *tc = tcase_create("core");
  tcase_set_timeout(tc, 60);
  tcase_add_test(tc, test_deliveries);
  tcase_add_loop_test(tc, test_records, 0, N_LISTS);
  tcase_add_test(tc, test_values);
  tcase_add_loop_test(tc, test_formulas_are_disarmed, 0, sizeof formulas / sizeof formulas[0]);
  tcase_add_loop_test(tc, test_same_bytes, 0, N_LISTS);
  tcase_add_loop_test(tc, test_memory, 0, N_LISTS);
  suite_add_tcase(s, tc);
  return s;
}

PW_MAIN(suite)
