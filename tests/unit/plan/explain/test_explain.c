/* Tests of the explaining: prices of the linear program against its own optimality conditions and against programs solved
 * again with a little more or less, and what each fire is for against the loads of the plan. */
#include "planned.h"

#include "plan/explain/explain.h"
#include "plan/stages.h"
#include "write/text/text_sheets.h"

static const struct pw_event *g_ev;
static struct pw_plan *g_plan;
static struct pw_ctx *g_ctx;
static struct pw_al g_al;

static void set_up(int i)
{
  struct pw_fuel_rates rates;
  g_ctx = pw_test_ctx();
  g_ev = planned_event(PLANNED_EVENTS[i], g_ctx);
  g_plan = planned(g_ev, false, PW_EFFORT_QUICK, g_ctx);
  ck_assert_int_eq(pw_fuel_rates_make(&rates, g_ev, g_ctx), PW_OK);
  ck_assert_int_eq(pw_al_make(&g_al, g_ev, &g_plan->lots, &rates, g_ctx), PW_OK);
}

static void prices(struct pw_prices *out, struct pw_al_model *model, bool is_fixed)
{
  const struct pw_allocation *a = &g_plan->allocation;
  ck_assert_int_eq(pw_explain_prices(out, model, &g_al, is_fixed ? a->burns : NULL, is_fixed ? a->n_burns : 0, g_ctx),
                   PW_OK);
}

/* A row that is not tight has no price; a column that is neither empty nor full has no reduced cost. */
START_TEST(slack_has_no_price)
{
  set_up(_i / 2);
  struct pw_prices p;
  struct pw_al_model model;
  prices(&p, &model, _i % 2);
  const struct pw_lp *lp = &model.lp;
  double *used = calloc((size_t)lp->n_rows, sizeof *used), *reduced = calloc((size_t)lp->n_cols, sizeof *reduced);
  int n_priced = 0, n_between = 0;
  for (int j = 0; j < lp->n_cols; j++)
    reduced[j] = lp->cost[j];
  for (size_t k = 0; k < lp->n_entries; k++) {
    used[lp->entries[k].row] += lp->entries[k].value * p.money.x[lp->entries[k].col];
    reduced[lp->entries[k].col] -= lp->entries[k].value * p.money.dual[lp->entries[k].row];
  }
  for (int i = 0; i < lp->n_rows; i++) {
    double price = p.money.dual[i];
    if (lp->row_lo[i] == lp->row_hi[i])
      continue;
    ck_assert_msg(price <= 1e-6, "row %d: more room would cost %g", i, price);
    n_priced += price < -1e-6;
    if (price < -1e-6)
      PW_NEAR("priced row", used[i], lp->row_hi[i], 1e-5, 1e-6);
  }
  for (int j = 0; j < lp->n_cols; j++)
    if (p.money.x[j] > lp->lb[j] + 1e-5 && p.money.x[j] < lp->ub[j] - 1e-5) {
      n_between++;
      PW_NEAR("column in between", reduced[j], 0.0, 1e-5, 0);
    }
  ck_assert_int_gt(n_priced, 0);
  ck_assert_int_gt(n_between, 0);
  free(used);
  free(reduced);
  pw_test_ctx_free(g_ctx);
}
END_TEST

static double value_with(struct pw_al_model *model, int row, double more)
{
  struct pw_lp_result r;
  struct pw_lp_options options = {.cutoff = HUGE_VAL};
  model->lp.row_hi[row] += more;
  ck_assert_int_eq(pw_lp_solve(&r, &model->lp, &options, g_ctx), PW_OK);
  model->lp.row_hi[row] -= more;
  if (r.state == PW_LP_INFEASIBLE) /* without a miss there is no way: dearer than any */
    return HUGE_VAL;
  ck_assert_int_eq(r.state, PW_LP_OPTIMAL);
  return r.value;
}

/* The optimum is convex in the right side, so a price lies between the differences to both sides: the value with more room
 * is at least value + price * more, and so it is with less room. */
START_TEST(price_lies_between_differences)
{
  set_up(0);
  struct pw_prices p;
  struct pw_al_model model;
  prices(&p, &model, _i % 2);
  int n = 0;
  for (int g = 0; g < model.n_racks && n < 6; g++)
    for (int t = 0; t < g_al.n_slots && n < 6; t++) {
      int row = model.row_a3[(size_t)g * (size_t)g_al.n_settings_max * (size_t)g_al.n_slots + (size_t)t];
      double step = 0.002; /* m2 */
      if (row < 0 || p.money.dual[row] > -1e-4)
        continue;
      n++;
      double more = value_with(&model, row, step), less = value_with(&model, row, -step), price = p.money.dual[row];
      ck_assert_msg(more >= p.money.value + price * step - 1e-6, "more room saves more than its price");
      ck_assert_msg(less >= p.money.value - price * step - 1e-6, "less room costs less than its price");
      ck_assert_msg(less > p.money.value + 1e-9, "a priced row could be tightened for nothing");
    }
  ck_assert_int_ge(n, 2);
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(programs_are_below_the_plan)
{
  set_up(_i);
  struct pw_explain e;
  ck_assert_int_eq(pw_explain_make(&e, g_plan, g_ctx), PW_OK);
  ck_assert_msg(e.free_lp_cents <= e.fixed_lp_cents + 1e-6, "free fires cost more than fixed ones");
  if (g_plan->allocation.n_missed == 0)
    ck_assert_msg(e.fixed_lp_cents <= g_plan->allocation.cost_cents + 1e-6, "the program costs more than the plan");
  ck_assert_int_eq(e.n_burns, g_plan->allocation.n_burns);
  for (int c = 0; c < g_plan->lots.n_lots; c++) { /* every piece is smoked in exactly one fire */
    int smoked = 0, finished = 0, placed = g_plan->lots.lots[c].pieces - g_plan->allocation.missed[c];
    for (int b = 0; b < e.n_burns; b++)
      for (int k = 0; k < e.burns[b].n_uses; k++) {
        const struct pw_burn_use *u = &e.burns[b].uses[k];
        smoked += u->lot == c ? u->smoked : 0;
        finished += u->lot == c ? u->finished : 0;
        ck_assert(u->from_at_min >= g_plan->allocation.burns[b].ready_at_min);
        ck_assert(u->to_at_min <= g_plan->allocation.burns[b].out_at_min);
      }
    ck_assert_int_eq(smoked, placed);
    ck_assert_int_le(finished, placed);
  }
  for (int i = 0; i < e.n_worths; i++)
    ck_assert(e.worths[i].fixed_cents >= 0 && e.worths[i].free_cents >= 0 &&
              e.worths[i].from_at_min <= e.worths[i].to_at_min);
  for (int i = 0; i < e.n_worths; i++) /* one hand more cannot save more than the whole program costs */
    if (e.worths[i].kind == PW_WORTH_HANDS)
      ck_assert(e.worths[i].free_cents <= e.free_lp_cents && e.worths[i].fixed_cents <= e.fixed_lp_cents);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* The plan read back into the search starts it at the plan's own cost: with nothing shut the search can only improve on it. */
START_TEST(no_hour_is_taken_from_a_short_fire)
{
  set_up(0);
  struct pw_explain e;
  ck_assert_int_eq(pw_explain_make(&e, g_plan, g_ctx), PW_OK);
  for (int b = 0; b < e.n_burns; b++) {
    const struct pw_burn *burn = &g_plan->allocation.burns[b];
    ck_assert(e.burns[b].is_hour == (burn->out_at_min - burn->ready_at_min > 60));
    int late = 0;
    for (int i = 0; i < g_plan->allocation.n_loads; i++) {
      const struct pw_load *l = &g_plan->allocation.loads[i];
      late += l->zone != PW_NONE && g_plan->lots.zones[l->zone].pit == burn->pit &&
                      l->end_at_min > burn->out_at_min - 60 && l->start_at_min < burn->out_at_min
                  ? l->pieces
                  : 0;
    }
    ck_assert_int_eq(e.burns[b].late_pieces, late);
    ck_assert_int_gt(late, 0);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(memory_may_run_out_anywhere)
{
  set_up(0);
  struct pw_explain e;
  long before = pw_arena_count(g_ctx->arena);
  ck_assert_int_eq(pw_explain_make(&e, g_plan, g_ctx), PW_OK);
  long n = pw_arena_count(g_ctx->arena) - before;
  for (long k = 1; k <= n; k += 1 + n / 40) {
    pw_arena_fail_at(g_ctx->arena, k);
    pw_status st = pw_explain_make(&e, g_plan, g_ctx);
    ck_assert_msg(st == PW_OK || st == PW_ERR_MEMORY, "allocation %ld of %ld: status %d", k, n, (int)st);
  }
  pw_arena_fail_at(g_ctx->arena, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* The extract names every piece once, prices an hour as the allocation does, and stays within ten lines of the sheet. */
START_TEST(the_extract_of_a_plan)
{
  set_up(_i);
  struct pw_explain brief;
  ck_assert_int_eq(pw_explain_brief(&brief, g_plan, g_ctx), PW_OK);
  ck_assert_int_eq(brief.n_burns, g_plan->allocation.n_burns);
  int smoked = 0, pieces = 0;
  for (int b = 0; b < brief.n_burns; b++) {
    const struct pw_burn *burn = &g_plan->allocation.burns[b];
    PW_NEAR("hour", brief.burns[b].hour_cents, g_al.pit[burn->pit].rate[burn->setting] * 60 / g_al.slot_min, 0, 1e-12);
    for (int k = 0; k < brief.burns[b].n_uses; k++)
      smoked += brief.burns[b].uses[k].smoked;
  }
  for (int l = 0; l < g_plan->lots.n_lots; l++)
    pieces += g_plan->lots.lots[l].pieces - g_plan->allocation.missed[l];
  ck_assert_int_eq(smoked, pieces);
  struct pw_prices p;
  struct pw_al_model model;
  prices(&p, &model, true);
  if (brief.fixed_lp_cents > 0)
    PW_NEAR("program", brief.fixed_lp_cents, p.money.value, 0, 1e-9);
  g_plan->brief = &brief;
  struct pw_buf sheet = pw_buf_in(g_ctx->arena);
  ck_assert_int_eq(pw_text_plan(&sheet, g_plan, g_ctx), PW_OK);
  const char *text = pw_buf_text(&sheet), *from = strstr(text, "\nWhy (");
  ck_assert(from != NULL);
  int n = 0;
  for (const char *at = from + 1; *at && strncmp(at, "\n\n", 2) != 0; at++)
    n += *at == '\n';
  ck_assert_msg(n <= 10, "%d lines", n);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* A plan whose people are called from a pool was searched with all of them: at its own fires the program finds room for
 * every piece that the plan has laid, though fewer come. */
START_TEST(a_pool_leaves_the_program_its_hands)
{
  static const struct {
    const char *menu;
    int guests;
  } rows[] = {{"chicken-and-pork", 120}, {"one-meat-two-sides", 90}};
  struct pw_ctx *ctx = pw_test_ctx();
  char text[200];
  struct pw_event *ev = NULL;
  struct pw_explain brief;
  int n = snprintf(text, sizeof text,
                   "event: {name: Call, date: 2027-06-12}\nservices:\n  - {time: \"17:30\", guests: %d, menu: %s}\n",
                   rows[_i].guests, rows[_i].menu);
  ck_assert_int_eq(
      pw_event_read_spare(&ev, "call.yaml", text, (size_t)n, "templates", "templates/starter-house.yaml", ctx), PW_OK);
  struct pw_plan *plan = planned(ev, false, PW_EFFORT_FULL, ctx);
  ck_assert_int_eq(plan->allocation.n_missed, 0);
  ck_assert_ptr_nonnull(plan->staffing.asked);
  ck_assert_int_eq(pw_explain_brief(&brief, plan, ctx), PW_OK);
  ck_assert_msg(brief.fixed_lp_cents > 0, "the program finds no room for what the plan has laid");
  for (int i = 0; i < brief.n_worths; i++)
    ck_assert(brief.worths[i].fixed_pieces <= 0);
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *explain_suite(void)
{
  Suite *s = suite_create("explain");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_loop_test(t, slack_has_no_price, 0, 4);
  tcase_add_loop_test(t, price_lies_between_differences, 0, 2);
  tcase_add_loop_test(t, programs_are_below_the_plan, 0, 2);
  tcase_add_loop_test(t, the_extract_of_a_plan, 0, 3);
  tcase_add_loop_test(t, a_pool_leaves_the_program_its_hands, 0, 2);
  tcase_add_test(t, no_hour_is_taken_from_a_short_fire);
  tcase_add_test(t, memory_may_run_out_anywhere);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(explain_suite)
