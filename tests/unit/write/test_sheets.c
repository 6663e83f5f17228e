/* Tests of the plain sheets: eighty columns, nothing unsafe on them, sums that stand, words that must be there. */
#include "planned.h"
#include "writer_checks.h"

#include "base/format.h"
#include "base/text.h"
#include "plan/safety/cautions.h"
#include "sheet/fire_lines.h"
#include "sheet/sheet.h"
#include "write/html/html.h"
#include "write/text/text_page.h"
#include "write/text/text_sheets.h"

typedef pw_status (*sheet_fn)(struct pw_buf *out, const struct pw_plan *plan, struct pw_ctx *ctx);

static const struct {
  const char *name;
  sheet_fn write;
} SHEETS[] = {{"quote", pw_text_quote_customer},
              {"costs", pw_text_quote_owner},
              {"purchases", pw_text_buy},
              {"plan", pw_text_plan},
              {"shift sheet", pw_text_shift}};
enum { N_SHEETS = sizeof SHEETS / sizeof *SHEETS };

static const char *sheet(int i, const struct pw_plan *plan, struct pw_ctx *ctx)
{
  struct pw_buf out = pw_buf_in(ctx->arena);
  ck_assert_msg(SHEETS[i].write(&out, plan, ctx) == PW_OK, "%s", SHEETS[i].name);
  return pw_buf_text(&out);
}

static void check_lines(const char *name, const char *text, struct pw_arena *arena)
{
  for (const char *p = text; *p;) {
    size_t n = strcspn(p, "\n");
    const char *line = pw_arena_strndup(arena, p, n);
    ck_assert_msg(p[n] == '\n', "%s: the last line does not end", name);
    ck_assert_msg(pw_text_width(line) <= PW_PAGE_COLUMNS, "%s: %d columns: %s", name, pw_text_width(line), line);
    ck_assert_msg(n == 0 || line[n - 1] != ' ', "%s: trailing blank: '%s'", name, line);
    ck_assert_msg(pw_text_check(line, n, 1000, false, NULL) == PW_TEXT_OK, "%s: unsafe text: %s", name, line);
    p += n + 1;
  }
}

START_TEST(eighty_columns_and_safe)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i / 2], ctx), true, PW_EFFORT_QUICK, ctx);
  struct pw_event other = *plan->event; /* once in each kind of units */
  struct pw_plan copy = *plan;
  other.units = _i % 2 ? PW_UNITS_SI : PW_UNITS_US;
  copy.event = &other;
  for (int i = 0; i < N_SHEETS; i++)
    check_lines(SHEETS[i].name, sheet(i, &copy, ctx), ctx->arena);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Names as an enemy would write them, put in behind the reader's back. */
START_TEST(hostile_names_stay_on_their_line)
{
  static const char bad[] = "A\x1b[31m\n\r\tB\xE2\x80\xAE\xFF a-word-that-is-much-longer-than-the-eighty-columns-of-a-"
                            "sheet-and-has-nowhere-to-break-at-all";
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = planned_event(PLANNED_EVENTS[1], ctx);
  struct pw_plan *plan = planned(ev, true, PW_EFFORT_QUICK, ctx);
  ev->name = ev->customer = ev->site.place = ev->zone = bad;
  for (int i = 0; i < ev->n_services; i++)
    ev->services[i].name = bad;
  for (int i = 0; i < ev->n_dishes; i++)
    ev->dishes[i].name = bad;
  for (int i = 0; i < ev->n_cuts; i++)
    ev->cuts[i].name = bad;
  for (int i = 0; i < ev->n_pits; i++)
    ev->pits[i].name = bad;
  for (int i = 0; i < ev->n_crew; i++)
    ev->crew[i].role = bad;
  for (int i = 0; i < ev->n_items; i++)
    ev->items[i].name = bad;
  ck_assert_int_eq(pw_tasks_make(&plan->tasks, plan, ctx), PW_OK);
  for (int i = 0; i < N_SHEETS; i++)
    check_lines(SHEETS[i].name, sheet(i, plan, ctx), ctx->arena);
  pw_test_ctx_free(ctx);
}
END_TEST

static int count(const char *text, const char *word)
{
  int n = 0;
  for (const char *p = text; (p = strstr(p, word)) != NULL; p += strlen(word))
    n++;
  return n;
}

START_TEST(what_must_be_there)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i], ctx), true, PW_EFFORT_QUICK, ctx);
  const struct pw_event *ev = plan->event;
  const char *quote = sheet(0, plan, ctx), *costs = sheet(1, plan, ctx), *buy = sheet(2, plan, ctx);
  const char *summary = sheet(3, plan, ctx), *shift = sheet(4, plan, ctx);
  ck_assert(strstr(quote, pw_money_format(ev, plan->quote.total_cents).s));
  ck_assert(strstr(quote, pw_money_format(ev, plan->quote.per_guest_cents).s));
  ck_assert_msg(!strstr(quote, "Overhead") && !strstr(quote, "argin"), "costs on the customer's page");
  ck_assert(strstr(costs, pw_money_format(ev, plan->quote.cost_cents).s));
  ck_assert(strstr(costs, "For the owner only"));
  ck_assert(strstr(costs, pw_money_format(ev, plan->quote.contribution_cents).s) && strstr(costs, "Contribution"));
  double paid_h = 0, unpaid_h = 0;
  for (int i = 0; i < plan->quote.n_roles; i++) {
    paid_h += plan->quote.roles[i].paid_h;
    unpaid_h += plan->quote.roles[i].cents == 0 ? plan->quote.roles[i].paid_h : 0;
  }
  ck_assert(plan->quote.n_roles < 2 || strstr(strstr(costs, "All together"), pw_format_number(paid_h, 1).s));
  ck_assert_int_eq(strstr(costs, "Unpaid, so not in the cost") != NULL, unpaid_h > 0);
  ck_assert_int_eq(count(buy, "[ ]"), plan->purchase.n_lines + plan->fuel.n_lines);
  ck_assert_int_eq(count(summary, "  lit "), 0 + plan->allocation.n_burns);
  int n_feeds = 0, n_pointers = 0;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    n_feeds += plan->tasks.tasks[i].kind == PW_TASK_FEED;
    n_pointers += plan->tasks.tasks[i].kind == PW_TASK_FEED && pw_fire_line_is(plan, i);
  }
  /* every box to tick of every sheet; which tasks stand on which sheet is held by tests/unit/sheet/test_sheet.c */
  struct pw_sheets sheets;
  int n_ticks = 0, n_tasks = 0;
  ck_assert_int_eq(pw_sheets_make(&sheets, plan, ctx), PW_OK);
  for (int i = 0; i < sheets.n_sheets; i++)
    for (int b = 0; b < sheets.sheets[i].n_blocks; b++)
      for (int r = 0; r < sheets.sheets[i].blocks[b].n_rows; r++) {
        const struct pw_sheet_block *block = &sheets.sheets[i].blocks[b];
        n_ticks += block->columns && block->columns[0].role == PW_CELL_TICK && block->rows[r].kind == PW_ROW;
        n_tasks += sheets.sheets[i].kind == PW_SHEET_CREW && block->rows[r].kind == PW_ROW;
      }
  ck_assert_int_eq(count(shift, "[ ]"), n_ticks);
  ck_assert_int_eq(n_tasks,
                   plan->tasks.n_tasks - n_feeds + n_pointers); /* everybody's, a line for each fire a role feeds */
  ck_assert_int_eq(count(shift, "Fire list of "), n_pointers);
  ck_assert(n_pointers >= plan->allocation.n_burns && n_pointers < n_feeds);
  ck_assert(n_feeds > 0);
  ck_assert(strstr(shift, "Carbon monoxide") && strstr(shift, "fire authority") && strstr(shift, "health authority"));
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(cautions_speak_the_users_units)
{
  static const struct {
    enum pw_units units;
    const char *has, *has_not;
  } rows[] = {{PW_UNITS_US, "135 °F", "°C"}, {PW_UNITS_SI, "57 °C", "°F"}};
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = planned_event(PLANNED_EVENTS[0], ctx);
  ev->units = rows[_i].units;
  struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
  struct pw_caution *all = NULL;
  int n = 0, n_has = 0;
  ck_assert_int_eq(pw_cautions_make(&all, &n, plan, ctx), PW_OK);
  for (int i = 0; i < n; i++) {
    ck_assert_msg(!strstr(all[i].text, rows[_i].has_not), "%s", all[i].text);
    ck_assert(all[i].source && *all[i].source);
    n_has += strstr(all[i].text, rows[_i].has) != NULL;
  }
  ck_assert_int_gt(n_has, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* A pack that takes two people is named: 16 kg, hot or awkward; 23 kg is the load constant of NIOSH 94-110, one ideal lift. */
START_TEST(heavy_packs_are_named)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[1], ctx), false, PW_EFFORT_QUICK, ctx);
  struct pw_purchase_line *line = &plan->purchase.lines[0];
  const char *name = plan->event->items[line->item].name;
  plan->purchase.n_lines = 1;
  struct pw_caution *all = NULL;
  int n = 0;
  for (int heavy = 0; heavy < 2; heavy++) {
    line->packs = 2;
    line->amount = heavy ? 2 * 16.5 : 2 * 15.5;
    ck_assert_int_eq(pw_cautions_make(&all, &n, plan, ctx), PW_OK);
    bool is_named = false;
    for (int i = 0; i < n; i++)
      is_named = is_named || (strcmp(all[i].head, "Lifting") == 0 && strstr(all[i].text, name));
    ck_assert_int_eq(is_named, heavy);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(memory_may_run_out_anywhere)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[0], ctx), true, PW_EFFORT_QUICK, ctx);
  struct pw_buf out = pw_buf_in(ctx->arena);
  long before = pw_arena_count(ctx->arena);
  ck_assert_int_eq(SHEETS[_i].write(&out, plan, ctx), PW_OK);
  long n = pw_arena_count(ctx->arena) - before, step = n / 400 + 1;
  for (long k = 1; k <= n; k += step) {
    out = pw_buf_in(ctx->arena);
    pw_arena_fail_at(ctx->arena, k);
    ck_assert_msg(SHEETS[_i].write(&out, plan, ctx) == PW_ERR_MEMORY, "%s: allocation %ld of %ld failed unnoticed",
                  SHEETS[_i].name, k, n);
  }
  pw_arena_fail_at(ctx->arena, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

static bool is_on(const char *text, const char *words)
{
  char flat[200]; /* sheets break lines: compared blank by blank */
  for (; *text; text++) {
    size_t n = 0;
    for (const char *p = text; *p && n < strlen(words) && n < sizeof flat - 1; p++)
      if (!(n && flat[n - 1] == ' ' && (*p == ' ' || *p == '\n')))
        flat[n++] = *p == '\n' ? ' ' : *p;
    flat[n] = '\0';
    if (strcmp(flat, words) == 0)
      return true;
  }
  return false;
}

/* Things that the examples do not do: meat from the freezer, dropped off, a discount, a charge, an offer without a date. */
START_TEST(dropped_off_from_the_freezer)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_event *ev = planned_event("tests/data/events/family-party.yaml", ctx);
  for (int i = 0; i < ev->n_items; i++)
    if (ev->items[i].category == PW_CAT_MEAT) {
      ev->items[i].store = PW_STORE_FROZEN;
      ev->items[i].keeps_min = 30 * 1440;
    }
  for (int i = 0; i < ev->n_services; i++)
    ev->services[i].style = PW_DROP_OFF;
  ev->terms.discount_frac = 0.05;
  ev->terms.service_charge_frac = 0.1;
  ev->terms.quoted.year = 0;
  ev->terms.valid_days = 9;
  ev->safety_basis = "a written variance";
  struct pw_plan *plan = planned(ev, true, PW_EFFORT_QUICK, ctx);
  struct pw_buf page = pw_buf_in(ctx->arena);
  ck_assert_int_eq(pw_html_customer_write(&page, plan, ctx), PW_OK);
  const char *quote = sheet(0, plan, ctx), *shift = sheet(4, plan, ctx), *html = writer_plain(ctx, pw_buf_text(&page));
  static const char *const for_the_customer[] = {"Discount", "Service charge", "Dropped off ready to serve",
                                                 "This offer is valid for 9 days.",
                                                 "on this basis: a written variance."};
  for (size_t i = 0; i < sizeof for_the_customer / sizeof *for_the_customer; i++) {
    ck_assert_msg(is_on(quote, for_the_customer[i]), "quote.txt: no \"%s\"", for_the_customer[i]);
    ck_assert_msg(strstr(html, for_the_customer[i]) != NULL, "customer.html: no \"%s\"", for_the_customer[i]);
  }
  ck_assert(!is_on(quote, "Serving at the times above"));
  ck_assert(is_on(shift, "Freezer to refrigerator: ") && is_on(shift, "Hand over "));
  int n_frozen = 0, n_thawed = 0;
  for (int i = 0; i < plan->purchase.n_lines; i++)
    n_frozen += ev->items[plan->purchase.lines[i].item].store == PW_STORE_FROZEN &&
                ev->items[plan->purchase.lines[i].item].category == PW_CAT_MEAT;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &plan->tasks.tasks[i];
    if (t->kind != PW_TASK_THAW)
      continue;
    n_thawed++;
    for (int k = 0; k < plan->allocation.n_loads; k++)
      ck_assert_int_lt(t->at_min, plan->allocation.loads[k].start_at_min - 1440); /* whole shoulders: more than a day */
  }
  ck_assert_int_gt(n_frozen, 0);
  ck_assert_int_eq(n_thawed, n_frozen);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *sheets_suite(void)
{
  Suite *s = suite_create("sheets");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_loop_test(t, eighty_columns_and_safe, 0, 2 * N_PLANNED_EVENTS);
  tcase_add_test(t, hostile_names_stay_on_their_line);
  tcase_add_loop_test(t, what_must_be_there, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, cautions_speak_the_users_units, 0, 2);
  tcase_add_test(t, heavy_packs_are_named);
  tcase_add_loop_test(t, memory_may_run_out_anywhere, 0, N_SHEETS);
  tcase_add_test(t, dropped_off_from_the_freezer);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(sheets_suite)
