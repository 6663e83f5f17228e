/* Visits: when the doors are opened, on the example events and by hand. */
#include "planned.h"

#include "plan/fire/visits.h"
#include "plan/lots/handling.h"

#include <limits.h>
#include <math.h>

static struct pw_ctx *g_ctx;

static const struct pw_load *load_of(const struct pw_plan *plan, const struct pw_visit_act *act)
{
  return &plan->allocation.loads[act->load];
}

static int pit_of(const struct pw_plan *plan, const struct pw_load *l)
{
  return l->zone == PW_NONE ? PW_NONE : plan->lots.zones[l->zone].pit;
}

static int visit_named(const struct pw_plan *plan, const char *id)
{
  for (int v = 0; v < plan->visits.n_visits; v++)
    if (strcmp(plan->visits.visits[v].id, id) == 0)
      return v;
  ck_abort_msg("there is no visit %s", id);
}

/* Door openings of a pit as the tasks have them: distinct visits. */
static int visits_in_tasks(const struct pw_plan *plan, int pit, int from, int to)
{
  int n = 0;
  for (int i = 0; i < plan->tasks.n_tasks; i++) {
    const char *id = plan->tasks.tasks[i].visit;
    int v = id ? visit_named(plan, id) : PW_NONE;
    bool is_new = v != PW_NONE && plan->visits.visits[v].pit == pit && plan->visits.visits[v].at_min > from &&
                  plan->visits.visits[v].at_min <= to;
    for (int k = 0; k < i && is_new; k++)
      is_new = !plan->tasks.tasks[k].visit || strcmp(plan->tasks.tasks[k].visit, id) != 0;
    n += is_new;
  }
  return n;
}

/* One count: of the tasks, of the fire, of the stage; and those that the allocation pays are the openings of the loads. */
START_TEST(one_count_everywhere)
{
  g_ctx = pw_test_ctx();
  struct pw_event *ev = planned_event(PLANNED_EVENTS[_i], g_ctx);
  struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, g_ctx);
  int of_fires = 0, n_priced = 0;
  for (int b = 0; b < plan->allocation.n_burns; b++) {
    const struct pw_burn *burn = &plan->allocation.burns[b];
    ck_assert_int_eq(plan->fuel.burns[b].n_visits,
                     visits_in_tasks(plan, burn->pit, burn->lit_at_min, burn->out_at_min));
    ck_assert_int_ge(plan->fuel.burns[b].n_visits, 2);
    of_fires += plan->fuel.burns[b].n_visits;
  }
  ck_assert_int_eq(of_fires, plan->visits.n_visits);
  for (int v = 0; v < plan->visits.n_visits; v++)
    n_priced += plan->visits.visits[v].is_priced;
  struct pw_handling h;
  ck_assert_int_eq(pw_handling_make(&h, plan, g_ctx), PW_OK);
  ck_assert_int_eq(h.n_openings, plan->visits.n_visits);
  ck_assert_int_eq(h.n_priced, n_priced);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* What is done, is done once for each load that wants it, at a minute that it allows. */
START_TEST(acts_fit_their_loads)
{
  g_ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i], g_ctx), false, PW_EFFORT_QUICK, g_ctx);
  for (int i = 0; i < plan->allocation.n_loads; i++) {
    const struct pw_load *l = &plan->allocation.loads[i];
    const struct pw_cut *cut = &plan->event->cuts[plan->lots.lots[l->lot].cut];
    int n[PW_VISIT_MOP + 1] = {0}, scratch_at = INT_MAX, last_mop = INT_MIN;
    for (int v = 0; v < plan->visits.n_visits; v++)
      for (int k = 0; k < plan->visits.visits[v].n_acts; k++) {
        const struct pw_visit *visit = &plan->visits.visits[v];
        const struct pw_visit_act *act = &visit->acts[k];
        if (act->load != i)
          continue;
        n[act->kind]++;
        ck_assert_int_eq(visit->pit, pit_of(plan, l));
        bool is_on = act->kind == PW_VISIT_LOAD || act->kind == PW_VISIT_IN,
             is_off = act->kind == PW_VISIT_OFF || act->kind == PW_VISIT_WRAP;
        if (is_on || is_off)
          ck_assert_int_eq(visit->at_min, is_on ? l->start_at_min : l->end_at_min);
        if (act->kind == PW_VISIT_CORE || act->kind == PW_VISIT_PROBE)
          ck_assert(visit->at_min >= l->end_at_min - 45 && visit->at_min <= l->end_at_min - 15);
        if (act->kind == PW_VISIT_SCRATCH) {
          scratch_at = visit->at_min;
          ck_assert_int_ge(visit->at_min, l->start_at_min + cut->rub_set_min);
        }
        if (act->kind == PW_VISIT_MOP) {
          ck_assert_int_ge(visit->at_min, scratch_at); /* tested first, in the same visit or before */
          ck_assert_int_le(visit->at_min + (int)ceil(act->work_min), l->end_at_min - 45);
          if (last_mop != INT_MIN)
            ck_assert_int_gt(visit->at_min - last_mop, cut->mop_every_min / 4);
          last_mop = visit->at_min;
        }
      }
    bool is_on_pit = l->zone != PW_NONE;
    ck_assert_int_eq(n[PW_VISIT_LOAD], is_on_pit && l->stage == PW_LOAD_SMOKE);
    ck_assert_int_eq(n[PW_VISIT_OFF] + n[PW_VISIT_WRAP], is_on_pit);
    int least = l->stage == PW_LOAD_SMOKE ? 60 : 30;
    ck_assert_int_eq(n[PW_VISIT_CORE] + n[PW_VISIT_PROBE], is_on_pit && l->end_at_min - l->start_at_min > least);
    ck_assert_int_le(n[PW_VISIT_SCRATCH], 1);
    ck_assert(n[PW_VISIT_MOP] == 0 || n[PW_VISIT_SCRATCH] == 1);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* Half an hour apart, or a reason; readings and mops never open a door beside another without one. */
START_TEST(sooner_only_for_a_reason)
{
  g_ctx = pw_test_ctx();
  struct pw_plan *plan = planned(planned_event(PLANNED_EVENTS[_i], g_ctx), false, PW_EFFORT_QUICK, g_ctx);
  for (int v = 0; v < plan->visits.n_visits; v++) {
    const struct pw_visit *visit = &plan->visits.visits[v];
    int since = v > 0 && visit[-1].pit == visit->pit ? visit->at_min - visit[-1].at_min : INT_MAX;
    ck_assert_int_gt(since, 0);
    ck_assert((since < 30) == (visit->reason != NULL));
    ck_assert_int_gt(visit->n_acts, 0);
    bool is_only_mops = true;
    for (int k = 0; k < visit->n_acts; k++) {
      is_only_mops = is_only_mops && visit->acts[k].kind == PW_VISIT_MOP;
      ck_assert(k == 0 || visit->acts[k].kind >= visit->acts[k - 1].kind);
      ck_assert_str_ne("", plan->event->cuts[plan->lots.lots[load_of(plan, &visit->acts[k])->lot].cut].name);
    }
    ck_assert(!is_only_mops || since >= 30);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* ---- by hand: one pit, minutes and counts worked out on paper ---- */

static struct pw_cut cuts[2];
static struct pw_lot lot[2];
static struct pw_zone zone[2];
static struct pw_load load[3];
static struct pw_pit pits[2] = {{.id = "long", .name = "Long"}, {.id = "drum", .name = "Drum"}};
static struct pw_event ev;
static struct pw_lots lots;
static struct pw_allocation al;

static void by_hand(void)
{
  g_ctx = pw_test_ctx();
  cuts[0] = (struct pw_cut){.name = "Shoulder",
                            .kind = PW_KIND_PORK,
                            .rub_set_min = 120,
                            .mop_every_min = 60,
                            .load_min = 2,
                            .unload_min = 1,
                            .wrap_min = 4,
                            .finish.is_used = true};
  cuts[1] = (struct pw_cut){.name = "Thighs", .kind = PW_KIND_POULTRY, .load_min = 1, .unload_min = 1};
  lot[0] = (struct pw_lot){.cut = 0, .pieces = 4, .has_finish = true};
  lot[1] = (struct pw_lot){.cut = 1, .pieces = 10};
  zone[0] = zone[1] = (struct pw_zone){.pit = 0};
  ev = (struct pw_event){.cuts = cuts, .n_cuts = 2, .pits = pits, .n_pits = 2};
  lots = (struct pw_lots){.zones = zone, .n_zones = 2, .lots = lot, .n_lots = 2};
  load[0] = (struct pw_load){.lot = 0,
                             .stage = PW_LOAD_SMOKE,
                             .zone = 0,
                             .finisher = PW_NONE,
                             .pieces = 4,
                             .start_at_min = 0,
                             .end_at_min = 360};
  load[1] = (struct pw_load){.lot = 0,
                             .stage = PW_LOAD_FINISH,
                             .zone = 1,
                             .finisher = PW_NONE,
                             .pieces = 4,
                             .start_at_min = 360,
                             .end_at_min = 540};
  load[2] = (struct pw_load){.lot = 1,
                             .stage = PW_LOAD_SMOKE,
                             .zone = 0,
                             .finisher = PW_NONE,
                             .pieces = 10,
                             .start_at_min = 525,
                             .end_at_min = 615};
  al = (struct pw_allocation){.loads = load, .n_loads = 2};
}

static struct pw_visits make(void)
{
  struct pw_visits v;
  ck_assert_int_eq(pw_visits_make(&v, &ev, &lots, &al, g_ctx), PW_OK);
  return v;
}

START_TEST(worked_example)
{
  by_hand();
  struct pw_visits v = make();
  /* on 0; rub set 120, tested and mopped at the first opening that both allow, 160; mopped 240 - 20 .. 240 + 20 and at 300 - 20 .. the
   * last that leaves 45 min and two of work before 360; core 315..345 at 330; wrapped 360; probed 510; off 540 */
  struct {
    int from, to, first_kind;
    double open_min;
  } rows[] = {{0, 0, PW_VISIT_LOAD, 4},        {120, 180, PW_VISIT_SCRATCH, 0}, {220, 260, PW_VISIT_MOP, 1},
              {280, 313, PW_VISIT_MOP, 1},     {315, 345, PW_VISIT_CORE, 1.5},  {360, 360, PW_VISIT_WRAP, 8},
              {495, 525, PW_VISIT_PROBE, 1.5}, {540, 540, PW_VISIT_OFF, 2}};
  int n = (int)(sizeof rows / sizeof *rows), k = 0;
  for (int i = 0; i < v.n_visits; i++) {
    const struct pw_visit *visit = &v.visits[i];
    if (visit->acts[0].kind == PW_VISIT_MOP && visit->at_min < 220)
      continue; /* the first mop, where it is not in the visit of the test */
    ck_assert_msg(k < n, "one visit too many, at %d", visit->at_min);
    ck_assert_msg(visit->at_min >= rows[k].from && visit->at_min <= rows[k].to, "visit %d at %d", k, visit->at_min);
    ck_assert_int_eq((int)visit->acts[0].kind, rows[k].first_kind);
    if (rows[k].open_min > 0)
      PW_NEAR("open", visit->open_min, rows[k].open_min, 1e-9, 0);
    ck_assert(visit->reason == NULL);
    k++;
  }
  ck_assert_int_eq(k, n);
  ck_assert_int_le(v.n_visits, n + 1);
  /* thighs on at 525: the probe of the shoulders joins that visit; off 540 is then 15 min later and says why */
  al.n_loads = 3;
  struct pw_visits more = make();
  ck_assert_int_eq(pw_visit_at(&more, 0, 525) == PW_NONE, 0);
  const struct pw_visit *on = &more.visits[pw_visit_at(&more, 0, 525)];
  ck_assert_int_eq(on->n_acts, 2);
  ck_assert(on->acts[0].kind == PW_VISIT_LOAD && on->acts[1].kind == PW_VISIT_PROBE && on->acts[1].load == 1);
  ck_assert_str_eq(on[1].reason, "Shoulder is done then");
  /* two more openings for the thighs on and off, one for their core, one less for the probe that joined */
  ck_assert_int_eq(more.n_visits, v.n_visits + 2);
  ck_assert_str_eq(v.visits[0].id, "long/1");
  ck_assert_str_eq(v.visits[2].id, "long/3");
  /* the same pieces wrapped and carried to another pit: that door is opened too */
  zone[1].pit = 1;
  al.n_loads = 2;
  struct pw_visits moved = make();
  ck_assert(pw_visit_at(&moved, 1, 360) != PW_NONE && pw_visit_at(&moved, 1, 540) != PW_NONE);
  ck_assert_int_eq((int)moved.visits[pw_visit_at(&moved, 1, 360)].acts[0].kind, PW_VISIT_IN);
  ck_assert_int_eq(moved.n_visits, v.n_visits + 1);
  ck_assert_int_eq(pw_visits_count(&moved, 0, 0, 360) + 1 + pw_visits_count(&moved, 1, 0, 540), moved.n_visits);
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(an_open_door_counts_once)
{
  struct pw_visit two[] = {{.pit = 0, .at_min = 10, .open_min = 8},
                           {.pit = 0, .at_min = 15, .open_min = 6},
                           {.pit = 1, .at_min = 12, .open_min = 50}};
  struct pw_visits v = {two, 3};
  PW_NEAR("both", pw_visits_open_min(&v, 0, 0, 60), 11, 1e-12, 0);
  PW_NEAR("begin", pw_visits_open_min(&v, 0, 12, 14), 2, 1e-12, 0);
  PW_NEAR("end", pw_visits_open_min(&v, 0, 20, 60), 1, 1e-12, 0);
  PW_NEAR("shut", pw_visits_open_min(&v, 0, 21, 60), 0, 1e-12, 0);
  PW_NEAR("other pit", pw_visits_open_min(&v, 1, 0, 60), 48, 1e-12, 0);
}
END_TEST

START_TEST(memory_may_run_out)
{
  by_hand();
  al.n_loads = 3;
  long before = pw_arena_count(g_ctx->arena);
  make();
  long n = pw_arena_count(g_ctx->arena) - before;
  ck_assert_int_gt(n, 2);
  for (long k = 1; k <= n; k++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_visits v;
    pw_arena_fail_at(ctx->arena, k);
    ck_assert_int_eq(pw_visits_make(&v, &ev, &lots, &al, ctx), PW_ERR_MEMORY);
    ck_assert(v.visits == NULL && v.n_visits == 0);
    pw_test_ctx_free(ctx);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("visits");
  TCase *t = tcase_create("visits");
  tcase_set_timeout(t, 300);
  tcase_add_loop_test(t, one_count_everywhere, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, acts_fit_their_loads, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, sooner_only_for_a_reason, 0, N_PLANNED_EVENTS);
  tcase_add_test(t, worked_example);
  tcase_add_test(t, an_open_door_counts_once);
  tcase_add_test(t, memory_may_run_out);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
