/* Tests of the task list [S1]: what must hold of it for any plan, and what it says when the crew does not reach.
 * Outside checks: cooling within 2 h and 6 h, FDA Food Code 2022 3-501.14(A). */
#include "planned.h"

#include "base/when.h"

#include "plan/crew/task_list.h"
#include "plan/demand/head_count.h"
#include "plan/fire/visits.h"
#include "plan/stages.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>

static const struct pw_event *g_ev;
static struct pw_plan *g_plan;
static struct pw_ctx *g_ctx;

static struct pw_ctx *g_all; /* the plans, made once for all tests, which do not change them */
static const struct pw_event *g_events[N_PLANNED_EVENTS];
static struct pw_plan *g_plans[N_PLANNED_EVENTS];

static void plan_all(void)
{
  g_all = pw_test_ctx();
  for (int i = 0; i < N_PLANNED_EVENTS; i++) {
    g_events[i] = planned_event(PLANNED_EVENTS[i], g_all);
    g_plans[i] = planned(g_events[i], false, PW_EFFORT_QUICK, g_all);
  }
}

static void forget_all(void) { pw_test_ctx_free(g_all); }

static void set_up(int i)
{
  g_ctx = pw_test_ctx();
  g_ev = g_events[i];
  g_plan = g_plans[i];
}

static bool starts(const char *text, const char *with) { return strncmp(text, with, strlen(with)) == 0; }

static bool warns(const struct pw_tasks *tasks, const char *code)
{
  for (int i = 0; i < tasks->n_warnings; i++)
    if (strcmp(tasks->warnings[i].code, code) == 0)
      return true;
  return false;
}

/* The tasks of event i for a crew of `count` people who do everything from days before to a day after; 0: for nobody. */
static struct pw_tasks set_up_for(int i, int count)
{
  set_up(i);
  struct pw_event ev = *g_ev;
  struct pw_crew crew = {.role = "everybody", .duties = (1u << PW_DUTY__COUNT) - 1, .count = count};
  struct pw_plan plan = *g_plan;
  struct pw_tasks tasks;
  crew.from_at_min = g_plan->lots.start_at_min - 10 * 1440;
  crew.to_at_min = g_plan->lots.end_at_min + 1440;
  ev.crew = &crew;
  ev.n_crew = count > 0;
  plan.event = &ev;
  ck_assert_int_eq(pw_tasks_make(&tasks, &plan, g_ctx), PW_OK);
  return tasks;
}

START_TEST(in_order_and_on_shift)
{
  set_up(_i);
  ck_assert_int_gt(g_plan->tasks.n_tasks, 20);
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    ck_assert_msg(t->minutes > 0 && *t->what, "task %d says nothing or takes no time", i);
    if (i > 0)
      ck_assert_msg(t[-1].at_min < t->at_min || (t[-1].at_min == t->at_min && t[-1].kind <= t->kind),
                    "task %d is out of order", i);
    if (t->crew == PW_NONE)
      ck_assert_msg(warns(&g_plan->tasks, "nobody-on-shift") || warns(&g_plan->tasks, "hands-short"),
                    "task %d has nobody and nothing says so", i);
    else
      ck_assert_msg(g_ev->crew[t->crew].from_at_min <= t->at_min &&
                        t->at_min + t->minutes <= g_ev->crew[t->crew].to_at_min,
                    "%s at %d is outside the shift of %s", t->what, t->at_min, g_ev->crew[t->crew].role);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(fits_the_hands)
{
  set_up(_i);
  for (int c = 0; c < g_ev->n_crew; c++)
    for (int half = g_ev->crew[c].from_at_min / 30 - 1; half * 30 < g_ev->crew[c].to_at_min; half++) {
      int work = 0;
      for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
        const struct pw_task *t = &g_plan->tasks.tasks[i];
        int from = t->at_min > half * 30 ? t->at_min : half * 30;
        int to = t->at_min + t->minutes < half * 30 + 30 ? t->at_min + t->minutes : half * 30 + 30;
        work += t->crew == c && to > from ? to - from : 0;
      }
      ck_assert_msg(work <= 30 * pw_head_count_hands(g_ev, &g_ev->crew[c]) || warns(&g_plan->tasks, "hands-short"),
                    "%s: %d minutes of work in the half hour from %d", g_ev->crew[c].role, work, half * 30);
    }
  pw_test_ctx_free(g_ctx);
}
END_TEST

static int pieces_in(enum pw_task_kind kind, int lot)
{
  int n = 0;
  for (int i = 0; i < g_plan->tasks.n_tasks; i++)
    n += g_plan->tasks.tasks[i].kind == kind && g_plan->tasks.tasks[i].lot == lot ? g_plan->tasks.tasks[i].pieces : 0;
  return n;
}

START_TEST(every_piece_is_handled_once_a_stage)
{
  set_up(_i);
  for (int lot = 0; lot < g_plan->lots.n_lots; lot++) {
    const struct pw_lot *l = &g_plan->lots.lots[lot];
    const struct pw_cut *cut = &g_ev->cuts[l->cut];
    int placed = l->pieces - g_plan->allocation.missed[lot];
    ck_assert_msg(pieces_in(PW_TASK_LOAD, lot) == placed, "%s: %d loaded of %d", l->id, pieces_in(PW_TASK_LOAD, lot),
                  placed);
    ck_assert_msg(pieces_in(PW_TASK_WRAP, lot) + pieces_in(PW_TASK_WRAP_CARRY, lot) == (l->has_finish ? placed : 0),
                  "%s: %d wrapped", l->id, pieces_in(PW_TASK_WRAP, lot));
    ck_assert_msg(pieces_in(PW_TASK_OFF, lot) == placed, "%s: %d taken off", l->id, pieces_in(PW_TASK_OFF, lot));
    ck_assert_msg(pieces_in(PW_TASK_PREP, lot) == (cut->prep_min > 0 ? placed : 0), "%s: %d prepared", l->id,
                  pieces_in(PW_TASK_PREP, lot));
    ck_assert_msg(pieces_in(PW_TASK_CUT, lot) == (cut->carve_min > 0 ? placed : 0), "%s: %d carved", l->id,
                  pieces_in(PW_TASK_CUT, lot));
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* The catalog's minutes a piece, for the pieces of each task, in whole minutes. */
START_TEST(work_goes_by_the_piece)
{
  set_up(_i);
  int n_tasks = 0;
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    if (t->lot == PW_NONE || t->pieces <= 0 ||
        (t->kind != PW_TASK_LOAD && t->kind != PW_TASK_WRAP && t->kind != PW_TASK_OFF))
      continue;
    const struct pw_cut *cut = &g_ev->cuts[g_plan->lots.lots[t->lot].cut];
    double each = t->kind == PW_TASK_LOAD ? cut->load_min : t->kind == PW_TASK_WRAP ? cut->wrap_min : cut->unload_min;
    ck_assert_msg(t->minutes >= t->pieces * each - 1e-9 && t->minutes <= t->pieces * each + 1,
                  "%s: %d min, %d pieces of %g min", t->what, t->minutes, t->pieces, each);
    n_tasks++;
  }
  ck_assert_int_gt(n_tasks, 5);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* A rub that sets only as the smoke ends is not scratched any more; one that sets well before is. */
START_TEST(a_rub_is_tested_while_it_smokes)
{
  set_up(_i);
  struct pw_event ev = *g_ev;
  struct pw_plan plan = *g_plan;
  struct pw_tasks tasks;
  struct pw_cut *cuts = pw_arena_array(g_ctx->arena, (size_t)ev.n_cuts, sizeof *cuts);
  memcpy(cuts, ev.cuts, (size_t)ev.n_cuts * sizeof *cuts);
  ev.cuts = cuts;
  plan.event = &ev;
  for (int late = 0; late < 2; late++) {
    int n = 0;
    for (int c = 0; c < ev.n_cuts; c++) {
      int longest = 0;
      for (int i = 0; i < plan.allocation.n_loads; i++) {
        const struct pw_load *l = &plan.allocation.loads[i];
        int minutes = l->end_at_min - l->start_at_min;
        if (l->stage == PW_LOAD_SMOKE && plan.lots.lots[l->lot].cut == c && minutes > longest)
          longest = minutes;
      }
      cuts[c].rub_set_min = longest == 0 ? 0 : late ? longest - 1 : longest / 4;
    }
    ck_assert_int_eq(pw_visits_make(&plan.visits, &ev, &plan.lots, &plan.allocation, g_ctx), PW_OK);
    ck_assert_int_eq(pw_tasks_make(&tasks, &plan, g_ctx), PW_OK);
    for (int i = 0; i < tasks.n_tasks; i++)
      n += starts(tasks.tasks[i].what, "Scratch test");
    ck_assert_msg((n > 0) == !late, "%d rubs scratched", n);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* What neither rests nor waits is taken off all the same. */
START_TEST(without_a_rest_it_comes_off_too)
{
  set_up(_i);
  struct pw_plan plan = *g_plan;
  struct pw_tasks tasks;
  int n_left = 0;
  struct pw_load *loads = pw_arena_array(g_ctx->arena, (size_t)plan.allocation.n_loads, sizeof *loads);
  for (int i = 0; i < plan.allocation.n_loads; i++)
    if (plan.allocation.loads[i].stage != PW_LOAD_REST)
      loads[n_left++] = plan.allocation.loads[i];
  ck_assert_int_lt(n_left, plan.allocation.n_loads);
  plan.allocation.loads = loads;
  plan.allocation.n_loads = n_left;
  ck_assert_int_eq(pw_tasks_make(&tasks, &plan, g_ctx), PW_OK);
  for (int lot = 0; lot < plan.lots.n_lots; lot++) {
    int off = 0;
    for (int i = 0; i < tasks.n_tasks; i++)
      off += tasks.tasks[i].kind == PW_TASK_OFF && tasks.tasks[i].lot == lot ? tasks.tasks[i].pieces : 0;
    ck_assert_msg(off == plan.lots.lots[lot].pieces - plan.allocation.missed[lot], "%s: %d taken off",
                  plan.lots.lots[lot].id, off);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(no_mop_before_the_rub_is_set)
{
  set_up(_i);
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    if (t->kind != PW_TASK_MOP)
      continue;
    bool is_allowed = false;
    for (int k = 0; k < g_plan->allocation.n_loads; k++) {
      const struct pw_load *l = &g_plan->allocation.loads[k];
      is_allowed = is_allowed || (l->lot == t->lot && l->stage == PW_LOAD_SMOKE && t->at_min < l->end_at_min &&
                                  t->at_min >= l->start_at_min + g_ev->cuts[g_plan->lots.lots[l->lot].cut].rub_set_min);
    }
    ck_assert_msg(is_allowed, "%s at %d: the rub is not set", t->what, t->at_min);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(fires_are_lit_and_fed_at_their_minute)
{
  set_up(_i);
  int n_feeds = 0, n_tasks = 0, n_lights = 0;
  for (int b = 0; b < g_plan->fuel.n_burns; b++)
    for (int f = 0; f < g_plan->fuel.burns[b].n_feeds; f++) /* what is laid with the lighting is no task of its own */
      n_feeds += g_plan->fuel.burns[b].feeds[f].at_min > g_plan->allocation.burns[b].lit_at_min;
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    n_tasks += t->kind == PW_TASK_FEED;
    n_lights += t->kind == PW_TASK_LIGHT;
    bool is_due = t->kind != PW_TASK_FEED && t->kind != PW_TASK_LIGHT;
    for (int b = 0; b < g_plan->fuel.n_burns; b++) {
      const struct pw_burn *burn = &g_plan->allocation.burns[b];
      is_due = is_due || (t->kind == PW_TASK_LIGHT && t->pit == burn->pit && t->at_min == burn->lit_at_min);
      for (int f = 0; f < g_plan->fuel.burns[b].n_feeds; f++)
        is_due =
            is_due ||
            (t->kind == PW_TASK_FEED && t->pit == burn->pit && t->at_min >= g_plan->fuel.burns[b].feeds[f].at_min &&
             /* one pair of hands feeds two fires one after the other: a feed may wait a quarter of an hour */
             t->at_min <= g_plan->fuel.burns[b].feeds[f].at_min + 15 &&
             atoi(t->what + 5) == g_plan->fuel.burns[b].feeds[f].splits &&
             (strstr(t->what, " splits of ") != NULL) == (g_plan->fuel.burns[b].feeds[f].splits > 1));
    }
    ck_assert_msg(is_due, "%s at %d is in no fire's timetable", t->what, t->at_min);
  }
  ck_assert_int_eq(n_feeds, n_tasks);
  ck_assert_int_eq(n_lights, g_plan->allocation.n_burns);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* A fire that takes no charcoal is lit without any. */
START_TEST(fires_are_lit_with_what_they_take)
{
  set_up(_i);
  struct pw_plan plan = *g_plan;
  struct pw_burn_fuel fuels[32];
  struct pw_tasks tasks;
  int n = g_plan->allocation.n_burns;
  ck_assert(n > 0 && n <= 32);
  memcpy(fuels, g_plan->fuel.burns, (size_t)n * sizeof *fuels);
  fuels[0].charcoal_kg = 0;
  plan.fuel.burns = fuels;
  ck_assert_int_eq(pw_tasks_make(&tasks, &plan, g_ctx), PW_OK);
  for (int b = 0, k; b < n; b++) {
    const struct pw_burn *burn = &g_plan->allocation.burns[b];
    const struct pw_pit *pit = &g_ev->pits[burn->pit];
    for (k = 0; k < tasks.n_tasks; k++)
      if (tasks.tasks[k].kind == PW_TASK_LIGHT && tasks.tasks[k].pit == burn->pit &&
          tasks.tasks[k].at_min == burn->lit_at_min)
        break;
    ck_assert_int_lt(k, tasks.n_tasks);
    ck_assert_msg((strstr(tasks.tasks[k].what, ", then ") != NULL) ==
                      (fuels[b].charcoal_kg > 0 && fuels[b].feeds[0].at_min == burn->lit_at_min),
                  "%g kg: %s", fuels[b].charcoal_kg, tasks.tasks[k].what);
    ck_assert_msg(fuels[b].charcoal_kg <= 0 || strstr(tasks.tasks[k].what, g_ev->fuels[pit->charcoal].name), "%s",
                  tasks.tasks[k].what);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(one_thing_after_the_other)
{
  set_up(_i);
  int arrive = INT_MIN, set_up_at = INT_MAX, lit = INT_MAX;
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    if (t->kind == PW_TASK_LIGHT && t->at_min < lit)
      lit = t->at_min;
    if (t->kind == PW_TASK_DRIVE && strcmp(t->what, "Drive to the site") == 0)
      arrive = t->at_min + t->minutes;
    if (t->kind == PW_TASK_SET_UP && strncmp(t->what, "Set up the pit", 14) == 0)
      set_up_at = t->at_min;
  }
  ck_assert_msg(arrive <= set_up_at && set_up_at < lit, "driven until %d, set up at %d, lit at %d", arrive, set_up_at,
                lit);
  for (int s = 0; s < g_ev->n_services; s++) {
    const struct pw_service *service = &g_ev->services[s];
    int end = service->at_min + service->length_min, n_serve = 0, n_cool = 0;
    for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
      const struct pw_task *t = &g_plan->tasks.tasks[i];
      n_serve += t->kind == PW_TASK_SERVE && t->at_min >= service->at_min &&
                 (t->at_min == service->at_min || warns(&g_plan->tasks, "hands-short"));
      n_cool += t->kind == PW_TASK_COOL && t->at_min >= end && t->at_min + t->minutes <= end + 120;
    }
    ck_assert_msg(n_serve > 0, "nobody serves %s", service->name);
    ck_assert_msg(n_cool > 0, "the leftovers of %s are not cooled within two hours", service->name);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* A person has one thing in hand at a minute, or the plan says that it is not so. */
START_TEST(one_thing_at_a_time)
{
  set_up(_i);
  for (int c = 0; c < g_ev->n_crew; c++) {
    int most = 0, n = g_ev->crew[c].to_at_min - g_ev->crew[c].from_at_min;
    for (int m = 0; m < n; m++) {
      int now = 0, at = g_ev->crew[c].from_at_min + m;
      for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
        const struct pw_task *t = &g_plan->tasks.tasks[i];
        now += t->crew == c && t->at_min <= at && at < t->at_min + t->minutes;
      }
      most = now > most ? now : most;
    }
    ck_assert_msg(most <= pw_head_count_hands(g_ev, &g_ev->crew[c]), "%s: %d tasks at one minute", g_ev->crew[c].role,
                  most);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* With a pair of hands for everything that can happen at one minute nobody has two tasks at once. */
START_TEST(many_hands_do_one_thing_each)
{
  struct pw_tasks tasks = set_up_for(1, 14);
  for (int i = 0; i < tasks.n_tasks; i++) {
    int now = 0;
    for (int k = 0; k < tasks.n_tasks; k++)
      now += tasks.tasks[k].at_min <= tasks.tasks[i].at_min &&
             tasks.tasks[i].at_min < tasks.tasks[k].at_min + tasks.tasks[k].minutes;
    ck_assert_msg(now <= 14, "%d tasks for 14 pairs of hands at %d", now, tasks.tasks[i].at_min);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* Each supplier has one call for all that is ordered there, and one delivery a day it comes, with the number of goods. */
START_TEST(one_call_for_each_supplier)
{
  set_up(_i);
  const struct pw_purchase *p = &g_plan->purchase;
  for (int i = 0; i < p->n_lines; i++) {
    const struct pw_item *item = &g_ev->items[p->lines[i].item];
    const char *supplier = item->offers[p->lines[i].offer].supplier;
    int n_calls = 0, n_goods = 0, said = 0;
    for (int k = 0; k < p->n_lines; k++)
      n_goods += strcmp(g_ev->items[p->lines[k].item].offers[p->lines[k].offer].supplier, supplier) == 0;
    for (int k = 0; k < g_plan->tasks.n_tasks; k++) {
      const struct pw_task *t = &g_plan->tasks.tasks[k];
      if (t->kind != PW_TASK_ORDER || !starts(t->what, "Order ") || !t->where || strcmp(t->where, supplier) != 0)
        continue;
      const char *more = strstr(t->what, " and ");
      n_calls++;
      said += more && sscanf(more, " and %d more", &said) == 1 ? 1 : more ? 0 : 1;
    }
    ck_assert_msg(n_calls == 1 && said == n_goods, "%s: %d calls for %d of %d goods", supplier, n_calls, said, n_goods);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(sides_are_made_in_the_kitchen)
{
  set_up(_i);
  int n_made = 0;
  for (int i = 0; i < g_plan->demand.n_lines; i++) {
    const struct pw_demand_line *line = &g_plan->demand.lines[i];
    const struct pw_dish *dish = &g_ev->dishes[line->dish];
    bool is_raw = false, is_drink = false, is_made = false;
    for (int u = 0; u < dish->n_uses; u++) {
      is_raw = is_raw || g_ev->items[dish->uses[u].item].category == PW_CAT_SIDE;
      is_drink = is_drink || g_ev->items[dish->uses[u].item].category == PW_CAT_DRINK;
    }
    if (dish->cut != PW_NONE || !is_raw || is_drink || line->portions_cover == 0)
      continue;
    for (int k = 0; k < g_plan->tasks.n_tasks; k++) {
      const struct pw_task *t = &g_plan->tasks.tasks[k];
      is_made = is_made || (t->kind == PW_TASK_PREP && t->lot == PW_NONE && strstr(t->what, dish->name) &&
                            t->at_min + t->minutes <= g_ev->services[line->service].at_min);
    }
    ck_assert_msg(is_made, "%s is made by nobody", dish->name);
    n_made++;
  }
  ck_assert_int_gt(n_made, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

static int kitchen_minutes(const struct pw_tasks *tasks, const char *dish)
{
  int sum = 0;
  for (int k = 0; k < tasks->n_tasks; k++)
    if (tasks->tasks[k].kind == PW_TASK_PREP && tasks->tasks[k].lot == PW_NONE && strstr(tasks->tasks[k].what, dish))
      sum += tasks->tasks[k].minutes;
  return sum;
}

static int same_task(const struct pw_plan *a, const struct pw_tasks *in, const struct pw_task *t,
                     const struct pw_crew *crew, const struct pw_task *u)
{
  const char *id = t->person == PW_NONE ? "" : a->tasks.people[t->person].id,
             *other = u->person == PW_NONE ? "" : in->people[u->person].id;
  const char *role = t->crew == PW_NONE ? "" : a->event->crew[t->crew].role,
             *also = u->crew == PW_NONE ? "" : crew[u->crew].role;
  return t->at_min == u->at_min && t->minutes == u->minutes && strcmp(t->what, u->what) == 0 &&
         strcmp(t->where, u->where) == 0 && strcmp(id, other) == 0 && strcmp(role, also) == 0;
}

/* Crew lines written in another order: the same work at the same time by the same person. */
START_TEST(crew_order_changes_nothing)
{
  set_up(_i);
  struct pw_crew crew[64];
  struct pw_event ev = *g_ev;
  struct pw_plan plan = *g_plan;
  struct pw_tasks tasks;
  ck_assert(ev.n_crew > 0 && ev.n_crew <= 64);
  for (int turn = 0; turn < ev.n_crew; turn++) { /* turned round, read from each line on */
    for (int i = 0; i < ev.n_crew; i++)
      crew[i] = g_ev->crew[(2 * ev.n_crew - 1 - i + turn) % ev.n_crew];
    ev.crew = crew;
    plan.event = &ev;
    ck_assert_int_eq(pw_tasks_make(&tasks, &plan, g_ctx), PW_OK);
    ck_assert_int_eq(tasks.n_tasks, g_plan->tasks.n_tasks);
    for (int i = 0; i < tasks.n_tasks; i++) {
      int n = 0;
      for (int k = 0; k < tasks.n_tasks; k++)
        n += same_task(g_plan, &tasks, &g_plan->tasks.tasks[i], crew, &tasks.tasks[k]);
      ck_assert_msg(n > 0, "turn %d: nobody does \"%s\" at %d as before", turn, g_plan->tasks.tasks[i].what,
                    g_plan->tasks.tasks[i].at_min);
    }
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* Three times the portions are more work, but not three times: the start is the same. */
START_TEST(more_portions_are_more_work)
{
  set_up(_i);
  struct pw_demand_line lines[64];
  struct pw_plan plan = *g_plan;
  struct pw_tasks tasks;
  int n_more = 0;
  ck_assert_int_le(plan.demand.n_lines, 64);
  memcpy(lines, plan.demand.lines, (size_t)plan.demand.n_lines * sizeof *lines);
  for (int i = 0; i < plan.demand.n_lines; i++)
    lines[i].portions_cover *= 3;
  plan.demand.lines = lines;
  ck_assert_int_eq(pw_tasks_make(&tasks, &plan, g_ctx), PW_OK);
  for (int i = 0; i < plan.demand.n_lines; i++) {
    const char *dish = g_ev->dishes[lines[i].dish].name;
    int once = kitchen_minutes(&g_plan->tasks, dish), thrice = kitchen_minutes(&tasks, dish);
    if (once == 0 || lines[i].portions_cover == 0)
      continue;
    ck_assert_msg(thrice > once && thrice < 3 * once + 3, "%s: %d min, %d min for three times the portions", dish, once,
                  thrice);
    n_more++;
  }
  ck_assert_int_gt(n_more, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* FDA Food Code 2022 1-201.10: what is cut waits cold, watermelon too, however the whole fruit was stored; 3-202.11: chilled
 * goods are measured when they come in, a sack of kindling is not */
START_TEST(temperatures_are_asked_where_they_matter)
{
  set_up(_i);
  const struct pw_plan *p = g_plan;
  int n_cut = 0, n_dry = 0, n_chilled = 0;
  for (int i = 0; i < p->tasks.n_tasks; i++) {
    const struct pw_task *t = &p->tasks.tasks[i];
    bool is_cut = strncmp(t->what, "Cut and portion ", 16) == 0 ||
                  (strncmp(t->what, "Make ", 5) == 0 && strncmp(t->what, "Make ready ", 11) != 0);
    n_cut += is_cut;
    if (is_cut)
      ck_assert_msg(strstr(t->target, "\xC2\xB0") != NULL, "%s: %s", t->what, t->target);
    if (strstr(t->what, "Take in ") != t->what)
      continue;
    bool is_chilled = false;
    for (int k = 0; k < p->purchase.n_lines; k++) {
      const struct pw_purchase_line *line = &p->purchase.lines[k];
      const struct pw_item *item = &g_ev->items[line->item];
      is_chilled =
          is_chilled || (strcmp(item->offers[line->offer].supplier, t->where) == 0 && item->store == PW_STORE_CHILLED &&
                         pw_when_day_number(g_ev, line->deliver_at_min) == pw_when_day_number(g_ev, t->at_min));
    }
    ck_assert_msg((strstr(t->target, "chilled goods at") != NULL) == is_chilled, "%s from %s: %s", t->what, t->where,
                  t->target);
    n_dry += !is_chilled;
    n_chilled += is_chilled;
  }
  ck_assert_int_gt(n_cut, 0);
  ck_assert_int_gt(n_dry, 0);
  ck_assert_int_gt(n_chilled, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* A load says where it goes; leftovers are measured in their second hour (FDA Food Code 2022 3-501.14(A)(1): 21 C within 2 h); only
 * what is served from pans is panned up; home is driven last. */
/* Four zones of one rack, the loads in some of them; rows from the hot end on. */
static const struct {
  const char *name;
  int n_zones, zones[4], n;
  const char *words;
} place_rows[] = {
    {"first of two", 2, {0}, 1, "Pit, hot end"},
    {"last of two", 2, {1}, 1, "Pit, cool end"},
    {"both", 2, {1, 0}, 2, "Pit, all zones"},
    {"middle", 3, {1}, 1, "Pit, middle"},
    {"last of three", 3, {2}, 1, "Pit, cool end"},
    {"first two", 3, {0, 1}, 2, "Pit, zones 1-2 of 3"},
    {"second of four", 4, {1}, 1, "Pit, zone 2 of 4"},
    {"last two", 4, {3, 2}, 2, "Pit, zones 3-4 of 4"},
    {"the ends", 4, {0, 3}, 2, "Pit, hot end, cool end"},
    {"no zones to tell", 1, {0}, 1, "Pit"},
};

START_TEST(places_are_told_from_the_hot_end)
{
  g_ctx = pw_test_ctx();
  struct pw_rack rack = {.id = "main"};
  struct pw_pit pit = {.name = "Pit", .racks = &rack, .n_racks = 1};
  struct pw_event ev = {.pits = &pit, .n_pits = 1};
  struct pw_zone zones[4] = {{0}};
  struct pw_load loads[4];
  struct pw_plan plan = {.event = &ev,
                         .lots = {.zones = zones, .n_zones = place_rows[_i].n_zones},
                         .allocation = {.loads = loads, .n_loads = 4}};
  struct pw_task_list list = {.plan = &plan, .ev = &ev, .ctx = g_ctx};
  static const int each[] = {0, 1, 2, 3};
  for (int k = 0; k < 4; k++)
    loads[k] = (struct pw_load){.zone = k < place_rows[_i].n ? place_rows[_i].zones[k] : PW_NONE, .finisher = PW_NONE};
  ck_assert_msg(strcmp(pw_task_where(&list, each, 4), place_rows[_i].words) == 0, "%s: %s", place_rows[_i].name,
                pw_task_where(&list, each, 4));
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(where_when_and_what)
{
  set_up(_i);
  int n_loads = 0, n_wraps = 0, n_home = 0, n_set_up = 0, n_wood = 0, end = INT_MIN, lit = INT_MAX;
  for (int b = 0; b < g_plan->allocation.n_burns; b++)
    lit = g_plan->allocation.burns[b].lit_at_min < lit ? g_plan->allocation.burns[b].lit_at_min : lit;
  for (int s = 0; s < g_ev->n_services; s++)
    end = g_ev->services[s].at_min + g_ev->services[s].length_min > end
              ? g_ev->services[s].at_min + g_ev->services[s].length_min
              : end;
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    if (t->kind == PW_TASK_LOAD) {
      ck_assert_msg(strncmp(t->where, g_ev->pits[t->pit].name, strlen(g_ev->pits[t->pit].name)) == 0, "%s: %s", t->what,
                    t->where);
      n_loads++;
    }
    if (t->kind == PW_TASK_WRAP || t->kind == PW_TASK_OFF) { /* of the pit it happens at, or of none */
      int at = PW_NONE;
      for (int p = 0; p < g_ev->n_pits; p++)
        at = starts(t->where, g_ev->pits[p].name) ? p : at;
      ck_assert_msg(t->pit == at, "%s at %s is of pit %d", t->what, t->where, t->pit);
      n_wraps += t->kind == PW_TASK_WRAP && at != PW_NONE;
    }
    if (starts(t->what, "Set up the pit") ||
        (t->kind == PW_TASK_TAKE_IN && starts(t->what, "Wood and charcoal on hand"))) { /* before the first fire */
      ck_assert_msg(t->at_min + t->minutes <= lit, "%s until %d, lit at %d", t->what, t->at_min + t->minutes, lit);
      n_set_up += t->kind == PW_TASK_SET_UP;
      n_wood += t->kind == PW_TASK_TAKE_IN;
    }
    if (starts(t->what, "Drive home")) {
      ck_assert_msg(t->at_min >= end, "home at %d, served until %d", t->at_min, end);
      n_home++;
    }
    for (int s = 0; s < g_ev->n_services; s++) {
      const struct pw_service *service = &g_ev->services[s];
      if (strcmp(t->where, service->name) != 0)
        continue;
      int after = t->at_min - service->at_min - service->length_min;
      if (starts(t->what, "Temperature of the leftovers"))
        ck_assert_msg(after >= 60 && after <= 120, "leftovers of %s measured %d min after it", service->name, after);
      for (int m = 0; m < service->n_menu && starts(t->what, "Pan up:"); m++)
        ck_assert_msg((strstr(t->what, g_ev->dishes[service->menu[m].dish].name) != NULL) ==
                          (g_ev->dishes[service->menu[m].dish].pan_portions > 0),
                      "%s: %s", g_ev->dishes[service->menu[m].dish].name, t->what);
      for (int k = 0; k < g_plan->demand.n_lines && starts(t->what, "Pan up:");
           k++) { /* as many pans as its portions need */
        const struct pw_demand_line *line = &g_plan->demand.lines[k];
        const struct pw_dish *dish = &g_ev->dishes[line->dish];
        if (line->service != s || dish->pan_portions <= 0)
          continue;
        char pans[200];
        int n = (int)ceil(ceil(line->portions_cover * (1 + dish->reserve_frac) - 1e-9) / dish->pan_portions - 1e-9);
        for (int l = 0, is_first = 1; dish->form == PW_FORM_SPOONED && l < g_plan->lots.n_lots; l++)
          if (g_plan->lots.lots[l].service == s && g_plan->lots.lots[l].cut == dish->cut) { /* cooked in its pans */
            n = is_first ? g_plan->lots.lots[l].pieces : n + g_plan->lots.lots[l].pieces;
            is_first = 0;
          }
        snprintf(pans, sizeof pans, "%s %d", dish->name, n);
        const char *said = strstr(t->what, pans);
        ck_assert_msg(said && (said[strlen(pans)] < '0' || said[strlen(pans)] > '9'), "%s: %s", pans, t->what);
      }
    }
  }
  ck_assert_int_gt(n_loads, 0);
  ck_assert_int_gt(n_wraps, 0);
  ck_assert(n_set_up == 1 && n_wood == 1);
  ck_assert_int_eq(n_home, g_ev->site.travel_min > 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* The core is read half an hour before a smoke of more than an hour ends, or as soon as hands are free, just before the
 * wrap at the latest; a shorter one is not opened for it. */
START_TEST(cores_of_long_smokes)
{
  set_up(_i);
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    bool is_long = !starts(t->what, "Core temperature of ");
    for (int k = 0; k < g_plan->allocation.n_loads && !is_long; k++) {
      const struct pw_load *l = &g_plan->allocation.loads[k];
      is_long = l->lot == t->lot && l->stage == PW_LOAD_SMOKE && t->at_min >= l->end_at_min - 45 &&
                t->at_min <= l->end_at_min + 15 && /* late hands: the wrap waits too */
                l->end_at_min - l->start_at_min > 60;
    }
    ck_assert_msg(is_long, "%s at %d", t->what, t->at_min);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* A dish that waits in a box goes there from the kitchen; no other dish does. */
START_TEST(from_the_kitchen_into_its_box)
{
  set_up(2); /* the fair makes sides of several kinds */
  struct pw_plan plan = *g_plan;
  struct pw_tasks tasks;
  const struct pw_demand_line *line = NULL;
  for (int i = 0; i < plan.demand.n_lines && !line; i++)
    for (int k = 0; k < plan.tasks.n_tasks && !line; k++)
      if (plan.tasks.tasks[k].kind == PW_TASK_PREP && starts(plan.tasks.tasks[k].where, "kitchen") &&
          strstr(plan.tasks.tasks[k].what, g_ev->dishes[plan.demand.lines[i].dish].name))
        line = &plan.demand.lines[i];
  ck_assert_ptr_nonnull(line);
  struct pw_side_pans pans = {.service = line->service, .dish = line->dish, .pans = 2, .finisher = 0};
  plan.lots.side_pans = &pans;
  plan.lots.n_side_pans = 1;
  ck_assert_int_eq(pw_tasks_make(&tasks, &plan, g_ctx), PW_OK);
  int n_there = 0;
  for (int k = 0; k < tasks.n_tasks; k++)
    if (strstr(tasks.tasks[k].where, ": 2 pans")) {
      ck_assert_msg(strstr(tasks.tasks[k].what, g_ev->dishes[line->dish].name) != NULL, "%s: %s", tasks.tasks[k].what,
                    tasks.tasks[k].where);
      n_there++;
    }
  ck_assert_int_gt(n_there, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(fire_people_see_the_fire_down)
{
  set_up(_i);
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    if (t->kind == PW_TASK_BURN_DOWN && t->crew != PW_NONE)
      ck_assert_msg((g_ev->crew[t->crew].duties & (1u << PW_DUTY_FIRE | 1u << PW_DUTY_PIT)) != 0, "%s: the %s", t->what,
                    g_ev->crew[t->crew].role);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(words_fit_the_meat)
{
  set_up(_i);
  for (int i = 0; i < g_plan->tasks.n_tasks; i++) {
    const struct pw_task *t = &g_plan->tasks.tasks[i];
    if (t->lot == PW_NONE)
      continue;
    const struct pw_lot *lot = &g_plan->lots.lots[t->lot];
    enum pw_kind kind = g_ev->cuts[lot->cut].kind;
    ck_assert_msg(!starts(t->what, "Rest is over") || lot->rest_min >= 15, "%s after %d minutes", t->what,
                  lot->rest_min);
    ck_assert_msg(!starts(t->what, "Trim and rub") ||
                      (kind != PW_KIND_FISH && kind != PW_KIND_PLANT && kind != PW_KIND_SAUSAGE),
                  "%s", t->what);
    ck_assert_msg(!starts(t->what, "Scratch test") || kind == PW_KIND_BEEF || kind == PW_KIND_PORK ||
                      kind == PW_KIND_LAMB,
                  "%s", t->what);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* Between rest and service the knives have time for half of a buffet's meat, for all of it where plates leave at once. */
START_TEST(time_is_left_to_carve)
{
  set_up(_i);
  for (int l = 0; l < g_plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &g_plan->lots.lots[l];
    const struct pw_service *service = &g_ev->services[lot->service];
    int hands = 0;
    for (int c = 0; c < g_ev->n_crew; c++)
      if ((g_ev->crew[c].duties >> PW_DUTY_CARVE & 1u) != 0 && g_ev->crew[c].from_at_min <= service->at_min - 30 &&
          g_ev->crew[c].to_at_min >= service->at_min)
        hands += pw_head_count_hands(g_ev, &g_ev->crew[c]);
    double work = lot->pieces * g_ev->cuts[lot->cut].carve_min / (hands > 0 ? hands : 1);
    work *= service->style == PW_BUFFET || service->style == PW_FAMILY ? 0.5 : 1;
    bool has_room = lot->hold_max_min >= lot->early_min + 60 + 2 * g_plan->lots.slot_min;
    if (work >= 10 && has_room)
      ck_assert_msg(lot->done_last_min + lot->rest_min + fmin(work, 60) <= service->at_min, "%s: %g minutes of carving",
                    lot->id, work);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* Meat is still good when it goes on. */
START_TEST(meat_keeps_until_it_is_loaded)
{
  set_up(_i);
  int n = 0;
  for (int i = 0; i < g_plan->purchase.n_lines; i++) {
    const struct pw_purchase_line *line = &g_plan->purchase.lines[i];
    const struct pw_item *item = &g_ev->items[line->item];
    if (item->category != PW_CAT_MEAT || item->keeps_min <= 0)
      continue;
    for (int l = 0; l < g_plan->lots.n_lots; l++)
      for (int k = 0; g_ev->cuts[g_plan->lots.lots[l].cut].item == line->item && k < g_plan->allocation.n_loads; k++) {
        const struct pw_load *load = &g_plan->allocation.loads[k];
        if (load->lot != l || load->stage != PW_LOAD_SMOKE)
          continue;
        n++;
        ck_assert_msg(load->start_at_min <= line->deliver_at_min + item->keeps_min,
                      "%s: delivered %d, keeps %d, loaded %d", item->name, line->deliver_at_min, item->keeps_min,
                      load->start_at_min);
      }
  }
  ck_assert_int_gt(n, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(without_a_crew_every_task_is_open)
{
  struct pw_tasks tasks = set_up_for(0, 0);
  for (int i = 0; i < tasks.n_tasks; i++)
    ck_assert_int_eq(tasks.tasks[i].crew, PW_NONE);
  ck_assert(warns(&tasks, "nobody-on-shift"));
  ck_assert(!warns(&tasks, "hands-short"));
  const struct pw_task *first = NULL,
                       *last = NULL; /* ordering and taking in fall on several days: both ends are named */
  for (int i = 0; i < tasks.n_tasks; i++)
    if (tasks.tasks[i].kind == PW_TASK_ORDER || tasks.tasks[i].kind == PW_TASK_TAKE_IN ||
        tasks.tasks[i].kind == PW_TASK_THAW) {
      first = first ? first : &tasks.tasks[i];
      last = &tasks.tasks[i];
    }
  ck_assert(first && last &&
            strcmp(pw_when_day_short(g_ev, first->at_min).s, pw_when_day_short(g_ev, last->at_min).s) != 0);
  bool is_named = false;
  for (int i = 0; i < tasks.n_warnings; i++)
    is_named = is_named || (strstr(tasks.warnings[i].text, "ordering") &&
                            strstr(tasks.warnings[i].text, pw_when_day_short(g_ev, first->at_min).s) &&
                            strstr(tasks.warnings[i].text, pw_when_day_short(g_ev, last->at_min).s));
  ck_assert(is_named);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* One pair of hands does one thing at a time; what it cannot do is told with its day, and it is told once for each want. */
START_TEST(one_hand_for_everything_is_short)
{
  struct pw_tasks tasks = set_up_for(2, 1);
  int n_open = 0, n_said = 0, end = INT_MIN;
  for (int i = 0; i < tasks.n_tasks; i++) {
    const struct pw_task *t = &tasks.tasks[i];
    if (t->crew == PW_NONE) {
      bool is_said = false;
      for (int w = 0; w < tasks.n_warnings; w++)
        is_said = is_said || (strcmp(tasks.warnings[w].code, "hands-short") == 0 &&
                              strstr(tasks.warnings[w].text, pw_when_day_short(g_ev, t->at_min).s));
      ck_assert_msg(is_said, "%s on %s, and no word of it", t->what, pw_when_day_short(g_ev, t->at_min).s);
      n_open++;
      continue;
    }
    ck_assert_msg(t->at_min >= end, "%s begins at %d, the last is over at %d", t->what, t->at_min, end);
    end = t->at_min + t->minutes;
  }
  ck_assert(warns(&tasks, "hands-short"));
  for (int i = 0; i < tasks.n_warnings; i++)
    ck_assert_msg(strcmp(tasks.warnings[i].code, "nobody-on-shift") != 0, "%s", tasks.warnings[i].text);
  for (int i = 0; i < tasks.n_warnings; i++)
    n_said += strcmp(tasks.warnings[i].code, "hands-short") == 0;
  ck_assert_msg(n_open > n_said, "%d open, told %d times", n_open, n_said);
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(more_hands_are_not_short)
{
  struct pw_tasks tasks = set_up_for(2, 60);
  for (int i = 0; i < tasks.n_warnings; i++) /* that they are on shift for days is told, and no matter here */
    ck_assert_msg(
        (tasks.warnings[i].late_min > 0 && tasks.warnings[i].late_min <= 5) || /* waits for what is before it */
            strcmp(tasks.warnings[i].code, "long-shift") == 0 || strcmp(tasks.warnings[i].code, "long-day") == 0 ||
            strcmp(tasks.warnings[i].code, "tired-driver") == 0,
        "%s", tasks.warnings[i].text);
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(memory_may_run_out_anywhere)
{
  set_up(0);
  struct pw_tasks tasks;
  long before = pw_arena_count(g_ctx->arena);
  ck_assert_int_eq(pw_tasks_make(&tasks, g_plan, g_ctx), PW_OK);
  long n = pw_arena_count(g_ctx->arena) - before;
  ck_assert_int_gt(n, 100);
  for (long k = 1; k <= n; k++) {
    pw_arena_fail_at(g_ctx->arena, k);
    ck_assert_msg(pw_tasks_make(&tasks, g_plan, g_ctx) == PW_ERR_MEMORY, "allocation %ld of %ld failed unnoticed", k,
                  n);
    ck_assert_int_eq(tasks.n_tasks, 0);
  }
  pw_arena_fail_at(g_ctx->arena, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/** The only server loads the pit for the next meal at the minute of the first plate, and is at the line right after. */
START_TEST(a_pit_to_load_leaves_no_meal_to_nobody)
{
  struct pw_ctx *ctx = pw_test_ctx();
  const struct pw_event *ev =
      planned_event_with("events/garden-lunch.yaml",
                         "---\nservices:\n  - {id: tea, name: Tea, time: \"15:00\", length: 45 min, "
                         "guests: {adults: 6}, menu: thighs-and-sausage}\n",
                         ctx);
  const struct pw_plan *plan = planned(ev, false, PW_EFFORT_QUICK, ctx);
  for (int s = 0; s < ev->n_services; s++) {
    int served = 0, first = INT_MAX;
    for (int i = 0; i < plan->tasks.n_tasks; i++) {
      const struct pw_task *t = &plan->tasks.tasks[i];
      if (t->kind != PW_TASK_SERVE || t->service != s || t->person == PW_NONE)
        continue;
      served += t->minutes;
      first = t->at_min < first ? t->at_min : first;
    }
    ck_assert_msg(served >= ev->services[s].length_min - 20 && first <= ev->services[s].at_min + 15,
                  "%s: served for %d min from minute %d on", ev->services[s].name, served, first);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *tasks_suite(void)
{
  Suite *s = suite_create("tasks");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_unchecked_fixture(t, plan_all, forget_all);
  tcase_add_loop_test(t, in_order_and_on_shift, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, fits_the_hands, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, every_piece_is_handled_once_a_stage, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, work_goes_by_the_piece, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, a_rub_is_tested_while_it_smokes, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, without_a_rest_it_comes_off_too, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, no_mop_before_the_rub_is_set, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, fires_are_lit_and_fed_at_their_minute, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, fires_are_lit_with_what_they_take, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, one_thing_after_the_other, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, one_thing_at_a_time, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, one_call_for_each_supplier, 0, N_PLANNED_EVENTS);
  tcase_add_test(t, many_hands_do_one_thing_each);
  tcase_add_loop_test(t, sides_are_made_in_the_kitchen, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, crew_order_changes_nothing, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, more_portions_are_more_work, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, temperatures_are_asked_where_they_matter, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, places_are_told_from_the_hot_end, 0, sizeof place_rows / sizeof *place_rows);
  tcase_add_loop_test(t, where_when_and_what, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, cores_of_long_smokes, 0, N_PLANNED_EVENTS);
  tcase_add_test(t, from_the_kitchen_into_its_box);
  tcase_add_loop_test(t, fire_people_see_the_fire_down, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, words_fit_the_meat, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, time_is_left_to_carve, 0, N_PLANNED_EVENTS);
  tcase_add_loop_test(t, meat_keeps_until_it_is_loaded, 0, 2);
  tcase_add_test(t, without_a_crew_every_task_is_open);
  tcase_add_test(t, one_hand_for_everything_is_short);
  tcase_add_test(t, more_hands_are_not_short);
  tcase_add_test(t, a_pit_to_load_leaves_no_meal_to_nobody);
  tcase_add_test(t, memory_may_run_out_anywhere);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(tasks_suite)
