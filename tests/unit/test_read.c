/* The reader on the catalogs and events of the repository, and on small changes to one event. */
#include "harness.h"
#include "read/read.h"

static void print_diags(const struct pw_ctx *ctx)
{
  for (int i = 0; i < ctx->n_diags; i++)
    printf("%s:%d:%d: %s\n", ctx->diags[i].file ? ctx->diags[i].file : "-", ctx->diags[i].line, ctx->diags[i].col,
           ctx->diags[i].text);
}

static const char *const events[] = {"events/county-fair.yaml", "events/family-party.yaml", "events/lakeside-wedding.yaml",
                                     "templates/starter.yaml"};

START_TEST(reads_cleanly)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev;
  pw_status status = pw_event_read(&ev, events[_i], "templates", ctx);
  print_diags(ctx);
  ck_assert_msg(status == PW_OK && ev && ctx->n_diags_total == 0, "%s", events[_i]);
  for (int i = 0; i < ev->n_services; i++) {
    ck_assert_int_ge(ev->services[i].n_menu, 1);
    for (int k = 1; k < ev->services[i].n_menu; k++)
      ck_assert_int_lt(ev->services[i].menu[k - 1].dish, ev->services[i].menu[k].dish);
    ck_assert(i == 0 || ev->services[i - 1].at_min <= ev->services[i].at_min);
  }
  for (int i = 1; i < ev->n_items; i++)
    ck_assert_str_lt(ev->items[i - 1].id, ev->items[i].id);
  for (int i = 0; i < ev->n_cuts; i++)
    ck_assert(ev->cuts[i].piece_kg > 0 && ev->cuts[i].smoke.is_used && ev->cuts[i].smoke.best_c > 90);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("read");
  TCase *t = tcase_create("read");
  tcase_set_timeout(t, 60);
  tcase_add_loop_test(t, reads_cleanly, 0, sizeof events / sizeof *events);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
