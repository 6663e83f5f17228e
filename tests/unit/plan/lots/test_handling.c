/* Tests of what a plan asks at the doors, and of the ways out when it does not fit. */
#include "planned.h"

#include "plan/demand/head_count.h"
#include "plan/lots/handling.h"

static struct pw_ctx *g_ctx;

static int compare_int(const void *a, const void *b) { return *(const int *)a - *(const int *)b; }

static int distinct(int *v, int n)
{
  int k = 0;
  qsort(v, (size_t)n, sizeof *v, compare_int);
  for (int i = 0; i < n; i++)
    k += i == 0 || v[i] != v[i - 1];
  return k;
}

START_TEST(counts_are_those_of_the_loads)
{
  g_ctx = pw_test_ctx();
  struct pw_event *ev = planned_event(PLANNED_EVENTS[_i], g_ctx);
  struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, g_ctx);
  struct pw_handling h;
  ck_assert_int_eq(pw_handling_make(&h, plan, g_ctx), PW_OK);
  int *v = calloc((size_t)plan->allocation.n_loads * 2 + 1, sizeof *v), openings = 0;
  for (int p = 0; p < ev->n_pits; p++) {
    int n = 0;
    for (int i = 0; i < plan->allocation.n_loads; i++) {
      const struct pw_load *l = &plan->allocation.loads[i];
      if (l->zone != PW_NONE && plan->lots.zones[l->zone].pit == p) {
        v[n++] = l->start_at_min;
        v[n++] = l->end_at_min;
      }
    }
    openings += distinct(v, n);
  }
  ck_assert_int_gt(openings, 0);
  ck_assert_int_eq(h.n_priced, openings);
  ck_assert_int_ge(h.n_openings, openings);
  for (int s = 0; s < ev->n_services; s++) {
    int n = 0;
    for (int i = 0; i < plan->allocation.n_loads; i++)
      if (plan->allocation.loads[i].stage == PW_LOAD_SMOKE &&
          plan->lots.lots[plan->allocation.loads[i].lot].service == s)
        v[n++] = plan->allocation.loads[i].start_at_min;
    ck_assert_int_eq(h.load_times[s], distinct(v, n));
  }
  for (int l = 0; l < plan->lots.n_lots; l++)
    ck_assert(h.places[l] >= 1 && h.places[l] <= 2 * plan->lots.lots[l].pieces);
  free(v);
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(memory_may_run_out)
{
  g_ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[0], g_ctx), false, PW_EFFORT_QUICK, g_ctx);
  struct pw_handling h;
  for (long k = 1; k <= 2; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    pw_arena_fail_at(ctx->arena, k);
    ck_assert_int_eq(pw_handling_make(&h, plan, ctx), PW_ERR_MEMORY);
    ck_assert(h.load_times == NULL && h.places == NULL);
    pw_test_ctx_free(ctx);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* The price of an opening is obeyed: with doors for nothing the plan has at least as many openings as with dear ones. */
START_TEST(dear_doors_are_opened_less)
{
  int n[2];
  for (int i = 0; i < 2; i++) {
    g_ctx = pw_test_ctx();
    struct pw_event *ev = planned_event("tests/data/events/family-party.yaml", g_ctx);
    ev->effort.opening_cents = i == 0 ? 0 : 1500;
    ev->terms.on_time_frac = 0; /* the allocation's own choice */
    struct pw_plan *plan = planned(ev, false, PW_EFFORT_FULL, g_ctx);
    struct pw_handling h;
    ck_assert_int_eq(pw_handling_make(&h, plan, g_ctx), PW_OK);
    n[i] = h.n_priced;
    pw_test_ctx_free(g_ctx);
  }
  ck_assert_msg(n[1] < n[0], "%d openings for nothing, %d at 15.00 each", n[0], n[1]);
}
END_TEST

/* What was taken away is what is missing: a box too small for the food asks for one more such box, and with it all is placed. */
START_TEST(the_box_that_is_too_small_is_named)
{
  g_ctx = pw_test_ctx();
  /* of nine pans' room the party wants about two thirds */
  struct pw_event *ev = planned_event_with("tests/data/events/family-party.yaml",
                                           "---\nfinishers:\n  - {id: hot-box, pans: 2.7}\n", g_ctx);
  const struct pw_plan *plan = planned(ev, false, PW_EFFORT_FULL, g_ctx);
  const struct pw_allocation *a = &plan->allocation;
  ck_assert_int_gt(a->n_missed, 0);
  bool is_named = false;
  for (int i = 0; i < a->n_remedies; i++)
    is_named = is_named || (a->remedies[i].missed_after == 0 && a->remedies[i].n_parts == 1 &&
                            a->remedies[i].parts[0].kind == PW_WAY_BOX &&
                            strstr(a->remedies[i].what, "hire is not in this figure"));
  ck_assert_msg(is_named, "%d missed; %d ways, the first: %s", a->n_missed, a->n_remedies,
                a->n_remedies ? a->remedies[0].what : "none");
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* A garden party for many more heads and a second pit on offer: ways out cheapest first, those that place everything before those
 * that do not, and several at a time only where nothing alone places everything.  The pit on offer is among them. */
START_TEST(ways_out_in_order)
{
  g_ctx = pw_test_ctx();
  struct pw_event *ev =
      planned_event_with("tests/data/events/family-party.yaml",
                         "---\npits:\n  - {use: small-offset, id: hired, name: A hired offset, rentable: "
                         "true, rent: 40.00, fire: {wood: beech}}\n",
                         g_ctx);
  const struct pw_event *many = NULL;
  ck_assert_int_eq(pw_head_count_scale(&many, ev, 100 + 60 * _i, g_ctx), PW_OK);
  struct pw_plan *plan = planned(many, false, PW_EFFORT_FULL, g_ctx);
  const struct pw_allocation *a = &plan->allocation;
  ck_assert_int_gt(a->n_missed, 0);
  ck_assert_int_gt(a->n_remedies, 0);
  bool is_single_enough = false, is_hire_named = false;
  for (int i = 0; i < a->n_remedies; i++) {
    const struct pw_remedy *r = &a->remedies[i];
    ck_assert_int_le(2 * r->missed_after, a->n_missed);
    is_single_enough = is_single_enough || (r->n_parts == 1 && r->missed_after == 0);
    for (int k = 0; k < r->n_parts; k++) {
      bool is_hire = r->parts[k].kind == PW_WAY_PIT && strcmp(r->parts[k].id, "hired") == 0;
      is_hire_named = is_hire_named || is_hire;
      if (is_hire)
        ck_assert_msg(strstr(r->what, "hire A hired offset") != NULL, "not told: %s", r->what);
      if (is_hire && r->n_parts == 1)
        ck_assert_msg(r->cost_cents >= 4000, "rent is 40.00, the way out %.2f", (double)r->cost_cents / 100);
    }
    if (i > 0)
      ck_assert_msg((r[-1].missed_after == 0) > (r->missed_after == 0) ||
                        ((r[-1].missed_after == 0) == (r->missed_after == 0) && r[-1].cost_cents <= r->cost_cents),
                    "way out %d is out of order", i);
  }
  ck_assert_msg(is_hire_named, "%d ways, the first: %s", a->n_remedies, a->remedies[0].what);
  ck_assert_int_eq(a->remedies[0].missed_after, 0);
  for (int i = 0; i < a->n_remedies && is_single_enough; i++)
    ck_assert_msg(a->remedies[i].n_parts == 1, "several where one does: %s", a->remedies[i].what);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* What is short is shared: of a party for many more heads than its racks hold no dish vanishes, and no more than so many pieces of
 * a lot are missing; ways out that leave most of it short are not offered. */
START_TEST(no_dish_vanishes)
{
  g_ctx = pw_test_ctx();
  const struct pw_event *many = NULL;
  ck_assert_int_eq(
      pw_head_count_scale(&many, planned_event("tests/data/events/family-party.yaml", g_ctx), 150 + 50 * _i, g_ctx),
      PW_OK);
  struct pw_plan *plan = planned(many, false, PW_EFFORT_FULL, g_ctx);
  const struct pw_allocation *a = &plan->allocation;
  ck_assert_int_gt(a->n_missed, 0);
  for (int c = 0; c < plan->lots.n_lots; c++)
    ck_assert_msg(a->missed[c] < plan->lots.lots[c].pieces, "%s vanishes: %d of %d", plan->lots.lots[c].id,
                  a->missed[c], plan->lots.lots[c].pieces);
  for (int i = 0; i < a->n_remedies; i++)
    ck_assert_msg(2 * a->remedies[i].missed_after <= a->n_missed, "%s leaves %d of %d", a->remedies[i].what,
                  a->remedies[i].missed_after, a->n_missed);
  pw_test_ctx_free(g_ctx);
}
END_TEST

static Suite *handling_suite(void)
{
  Suite *s = suite_create("handling");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 240);
  tcase_add_loop_test(t, counts_are_those_of_the_loads, 0, 2);
  tcase_add_test(t, memory_may_run_out);
  tcase_add_test(t, dear_doors_are_opened_less);
  tcase_add_test(t, the_box_that_is_too_small_is_named);
  tcase_add_loop_test(t, ways_out_in_order, 0, 2);
  tcase_add_loop_test(t, no_dish_vanishes, 0, 3);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(handling_suite)
