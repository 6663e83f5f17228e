/* Tests of several events planned as one: money that adds up, pieces that stay the same, refusals that say why. */
#include "planned.h"

#include "judge/plan_check.h"
#include "write/plan_json.h"

#include "plan/joint/joint.h"

static struct pw_ctx *g_ctx;
static struct pw_event *g_events[2];
static struct pw_joint g_joint;
static struct pw_plan *g_alone[2], *g_plan;

static void read_both(const char *a, const char *b)
{
  g_ctx = pw_test_ctx();
  g_events[0] = planned_event(a, g_ctx);
  g_events[1] = planned_event(b, g_ctx);
}

static pw_status join(void)
{
  const struct pw_event *const events[] = {g_events[0], g_events[1]};
  return pw_joint_make(&g_joint, events, 2, g_ctx);
}

static void plan_both(void)
{
  read_both("events/garden-lunch.yaml", "tests/data/events/family-party.yaml");
  ck_assert_int_eq(join(), PW_OK);
  for (int j = 0; j < 2; j++)
    g_alone[j] = planned(g_events[j], false, PW_EFFORT_QUICK, g_ctx);
  g_plan = planned(g_joint.event, false, PW_EFFORT_QUICK, g_ctx); /* the judge has passed it */
}

static double all_packs(const struct pw_plan *plan, const char *name)
{
  double n = 0;
  for (int i = 0; i < plan->purchase.n_lines; i++)
    if (strcmp(plan->event->items[plan->purchase.lines[i].item].name, name) == 0)
      n += plan->purchase.lines[i].amount;
  return n;
}

START_TEST(what_is_the_same_is_there_once)
{
  plan_both();
  const struct pw_event *ev = g_joint.event;
  ck_assert_int_eq(ev->n_pits, 1);
  ck_assert_int_eq(ev->n_finishers, 2);
  ck_assert_int_eq(ev->n_services, g_events[0]->n_services + g_events[1]->n_services);
  int n_masters = 0;
  for (int c = 0; c < ev->n_crew; c++)
    n_masters += strcmp(ev->crew[c].role, "pitmaster") == 0 ? ev->crew[c].count : 0;
  ck_assert_msg(n_masters == 1, "%d pitmasters", n_masters);
  ck_assert_int_eq(ev->n_cuts, g_events[1]->n_cuts); /* the lunch's cuts are among the party's */
  for (int s = 0; s < ev->n_services; s++)
    for (int k = 0; k < s; k++)
      ck_assert_str_ne(ev->services[s].id, ev->services[k].id);
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(the_same_pieces_for_no_more_money)
{
  plan_both();
  int n_lots = 0;
  for (int j = 0; j < 2; j++) {
    ck_assert_int_eq(g_alone[j]->allocation.n_missed, 0);
    for (int l = 0; l < g_alone[j]->lots.n_lots; l++, n_lots++) {
      const struct pw_lot *mine = &g_alone[j]->lots.lots[l];
      int pieces = 0;
      for (int k = 0; k < g_plan->lots.n_lots; k++)
        if (g_plan->lots.lots[k].service == mine->service + g_joint.jobs[j].service_first &&
            strcmp(g_events[j]->cuts[mine->cut].id, g_joint.event->cuts[g_plan->lots.lots[k].cut].id) == 0)
          pieces += g_plan->lots.lots[k].pieces;
      ck_assert_int_eq(mine->pieces, pieces);
    }
  }
  ck_assert_int_eq(n_lots, g_plan->lots.n_lots);
  ck_assert_int_eq(g_plan->allocation.n_missed, 0);
  ck_assert_msg(g_plan->allocation.cost_cents <= g_alone[0]->allocation.cost_cents + g_alone[1]->allocation.cost_cents,
                "joint %g, alone %g + %g", g_plan->allocation.cost_cents, g_alone[0]->allocation.cost_cents,
                g_alone[1]->allocation.cost_cents);
  ck_assert(g_plan->quote.cost_cents <= g_alone[0]->quote.cost_cents + g_alone[1]->quote.cost_cents);
  for (int i = 0; i < g_plan->purchase.n_lines; i++) {
    const char *name = g_joint.event->items[g_plan->purchase.lines[i].item].name;
    double apart = all_packs(g_alone[0], name) + all_packs(g_alone[1], name), together = all_packs(g_plan, name);
    ck_assert_msg(together <= apart * (1 + 1e-9), "%s: %g together, %g apart", name, together, apart);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* The crew named in one file, in the other, or in both: each job bears the same of it, by the work done for it. */
START_TEST(labour_follows_the_work)
{
  pw_cents bears[3][2], overhead[3][2];
  for (int named = 0; named < 3; named++) {
    read_both("events/garden-lunch.yaml", "tests/data/events/family-party.yaml");
    ck_assert_int_eq(join(), PW_OK);
    struct pw_crew *crew = g_joint.event->crew;
    int n = g_joint.event->n_crew;
    for (int j = 0; j < 2; j++) {
      struct pw_crew *own = pw_arena_array(g_ctx->arena, (size_t)n, sizeof *own);
      ck_assert_ptr_nonnull(own);
      memcpy(own, crew, (size_t)n * sizeof *own);
      for (int c = 0; c < n; c++)
        if (named == 2 && (own[c].duties >> PW_DUTY_SERVE & 1u) != 0 && j == 1)
          own[c].count = 0; /* those of two jobs are added up */
      g_events[j]->crew = own;
      g_events[j]->n_crew = named == 2 || named == j ? n : 0;
    }
    ck_assert_int_eq(join(), PW_OK);
    for (int j = 0; j < 2; j++)
      g_alone[j] = planned(g_events[j], false, PW_EFFORT_QUICK, g_ctx);
    g_plan = planned(g_joint.event, false, PW_EFFORT_QUICK, g_ctx);
    struct pw_joint_shares shares;
    ck_assert_int_eq(pw_joint_share(&shares, &g_joint, g_plan, (const struct pw_plan *const *)g_alone, g_ctx), PW_OK);
    for (int j = 0; j < 2; j++) {
      bears[named][j] = shares.jobs[j].labour_cents;
      overhead[named][j] = shares.jobs[j].overhead_cents;
    }
    pw_test_ctx_free(g_ctx);
  }
  for (int j = 0; j < 2; j++) {
    ck_assert_int_gt(bears[0][j], 0);
    ck_assert_int_eq(bears[1][j], bears[0][j]);
    ck_assert_int_eq(bears[2][j], bears[0][j]);
    ck_assert_int_eq(overhead[1][j], overhead[0][j]);
  }
}
END_TEST

START_TEST(shares_add_up_to_the_cent)
{
  plan_both();
  struct pw_joint_shares shares;
  ck_assert_int_eq(pw_joint_share(&shares, &g_joint, g_plan, (const struct pw_plan *const *)g_alone, g_ctx), PW_OK);
  const struct pw_quote *q = &g_plan->quote;
  const struct pw_job_share *a = &shares.jobs[0], *b = &shares.jobs[1];
  ck_assert_int_eq(a->cost_cents + b->cost_cents, q->cost_cents);
  ck_assert_int_eq(a->fuel_cents + b->fuel_cents, q->fuel_cents);
  ck_assert_int_eq(a->labour_cents + b->labour_cents, q->labour_cents);
  pw_cents fires = 0;
  double m2_h = 0;
  for (int i = 0; i < g_plan->allocation.n_burns; i++) {
    ck_assert_int_eq(a->burn_cents[i] + b->burn_cents[i], shares.burn_cents[i]);
    fires += shares.burn_cents[i];
  }
  ck_assert_int_eq(fires, g_plan->fuel.cost_cents - g_plan->fuel.oven_cents);
  for (int i = 0; i < g_plan->allocation.n_loads; i++) { /* rack hours added up from the rectangles */
    const struct pw_load *l = &g_plan->allocation.loads[i];
    for (int k = 0; l->zone != PW_NONE && k < l->pieces; k++)
      m2_h += l->rects[k].length_m * l->rects[k].depth_m * (l->end_at_min - l->start_at_min) / 60.0;
  }
  PW_NEAR("rack hours", a->rack_m2_h + b->rack_m2_h, m2_h, 1e-9, 1e-9);
  if (g_plan->allocation.n_burns == 1)
    PW_NEAR("share of the fire", (double)a->burn_cents[0], (double)shares.burn_cents[0] * a->rack_m2_h / m2_h, 1.0, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

static const struct {
  const char *name;
  double weight[4];
  pw_cents cents;
  pw_cents want[4];
} DEALS[] = {
    {"thirds", {1, 1, 1, 0}, 100, {34, 33, 33, 0}},     {"nothing weighs", {0, 0, 0, 0}, 10, {3, 3, 2, 2}},
    {"one bears all", {0, 2.5, 0, 0}, 7, {0, 7, 0, 0}}, {"largest remainder", {0.1, 0.26, 0.64, 0}, 10, {1, 3, 6, 0}},
    {"no money", {1, 2, 3, 4}, 0, {0, 0, 0, 0}},
};

START_TEST(deals)
{
  pw_cents part[4], sum = 0;
  pw_joint_deal(part, DEALS[_i].weight, 4, DEALS[_i].cents);
  for (int k = 0; k < 4; k++) {
    ck_assert_msg(part[k] == DEALS[_i].want[k], "%s: part %d is %d", DEALS[_i].name, k, (int)part[k]);
    sum += part[k];
  }
  ck_assert_int_eq(sum, DEALS[_i].cents);
}
END_TEST

/* The jobs and their shares are in the plan file; the judge adds them up to the cent. */
START_TEST(jobs_are_in_the_plan_file)
{
  static const char *const keys[] = {"food_cents",   "supplies_cents", "fuel_cents",     "labour_cents",
                                     "rental_cents", "travel_cents",   "overhead_cents", "cost_cents"};
  enum { N_KEYS = sizeof keys / sizeof *keys };
  struct pw_joint_shares shares;
  plan_both();
  const struct pw_plan *const alone[] = {g_alone[0], g_alone[1]};
  ck_assert_int_eq(pw_joint_share(&shares, &g_joint, g_plan, alone, g_ctx), PW_OK);
  ck_assert_int_eq(pw_joint_note(g_plan, &g_joint, &shares, alone, g_ctx), PW_OK);
  ck_assert_int_eq(pw_run_judge(g_plan, g_ctx), PW_OK);
  const char *text;
  size_t n;
  ck_assert_int_eq(pw_plan_json_text(&text, &n, g_plan, g_ctx), PW_OK);
  const char *jobs = strstr(text, "\"jobs\"");
  ck_assert(jobs && strstr(jobs, "\"lunch\"") && strstr(jobs, "\"supper\""));
  for (int k = 0; k < N_KEYS; k++) { /* one cent more in the first job */
    struct pw_ctx *judge = pw_test_ctx();
    int found = -1;
    char *edited = malloc(n + 8);
    ck_assert(edited != NULL);
    const char *at = strchr(strstr(jobs, keys[k]), ':') + 1, *end = strpbrk(at, ",}\n");
    snprintf(edited, n + 8, "%.*s%ld%s", (int)(at - text), text, strtol(at, NULL, 10) + 1, end);
    ck_assert_int_eq(pw_plan_check_text("plan.json", edited, strlen(edited), &found, judge), PW_OK);
    ck_assert_msg(found == 2, "%s: %d findings", keys[k], found); /* the job's own sum, and the jobs' */
    for (int i = 0; i < judge->n_diags; i++)
      ck_assert(strcmp(judge->diags[i].code, "J10") == 0 && strncmp(judge->diags[i].text, "jobs", 4) == 0);
    free(edited);
    pw_test_ctx_free(judge);
  }
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* Another day: minutes are shifted by the days between, service days too. */
START_TEST(another_date_is_shifted)
{
  read_both("tests/data/events/family-party.yaml", "events/garden-lunch.yaml");
  g_events[0]->date.day += 2;
  ck_assert_int_eq(join(), PW_OK);
  const struct pw_service *party = &g_joint.event->services[0], *lunch = &g_joint.event->services[1];
  ck_assert_int_eq(party->day, 2);
  ck_assert_int_eq(party->at_min, g_events[0]->services[0].at_min + 2 * 1440);
  ck_assert_int_eq(lunch->at_min, g_events[1]->services[0].at_min);
  ck_assert_int_eq(g_joint.event->date.day, g_events[1]->date.day);
  ck_assert_int_eq(g_joint.event->pits[0].n_burns_max, 2);
  pw_test_ctx_free(g_ctx);
}
END_TEST

static void other_zone(void) { g_events[1]->zone = "Europe/Vienna"; }
static void other_money(void) { g_events[1]->currency = "CHF"; }
static void other_place(void) { g_events[1]->site.place = "Another garden"; }
static void other_grid(void) { g_events[1]->slot_min = 15; }
static void other_pit(void) { g_events[1]->pits[0].settings[0].hot_c += 5; }
static void other_oven(void) { g_events[1]->finishers[0].temp_c += 5; }
static void other_effort(void) { g_events[1]->effort.opening_cents += 5; }
static void other_short_cost(void) { g_events[1]->terms.short_cents += 5; }
static void other_basis(void) { g_events[1]->safety_basis = "a plan of our own"; }
static void other_travel(void) { g_events[1]->site.travel_min += 5; }
static void other_altitude(void) { g_events[1]->site.altitude_m += 5; }

static struct pw_supplier g_suppliers[2][40];

/* Event i names n suppliers with terms; of each event's own when `apart`, else the same. */
static void supplied(int i, int n, bool apart)
{
  static char names[2][40][16];
  for (int k = 0; k < n; k++) {
    snprintf(names[i][k], sizeof names[i][k], "%c %d", apart && i ? 'B' : 'A', k);
    g_suppliers[i][k] =
        (struct pw_supplier){.name = names[i][k], .delivery_cents = 900, .minimum_cents = 5000, .days = 62};
  }
  g_events[i]->suppliers = g_suppliers[i];
  g_events[i]->n_suppliers = n;
}

static void other_fee(void)
{
  supplied(0, 2, false);
  supplied(1, 2, false);
  g_suppliers[1][1].delivery_cents++;
}

static void other_days(void)
{
  supplied(0, 2, false);
  supplied(1, 2, false);
  g_suppliers[1][0].days = 0;
}

static void many_suppliers(void)
{
  supplied(0, 20, true);
  supplied(1, 20, true);
}

static const struct {
  const char *says;
  void (*change)(void);
} REFUSALS[] = {{"time zone", other_zone},     {"currency", other_money},
                {"site", other_place},         {"grid", other_grid},
                {"pit \"offset\"", other_pit}, {"oven or box", other_oven},
                {"effort", other_effort},      {"portion short", other_short_cost},
                {"safety basis", other_basis}, {"site", other_travel},
                {"site", other_altitude},      {"supplier A 1", other_fee},
                {"supplier A 0", other_days},  {"suppliers with terms", many_suppliers}};

START_TEST(what_cannot_be_joined_says_why)
{
  read_both("events/garden-lunch.yaml", "tests/data/events/family-party.yaml");
  REFUSALS[_i].change();
  ck_assert_int_eq(join(), PW_ERR_INPUT);
  ck_assert_int_eq(g_ctx->n_errors, 1);
  ck_assert_msg(strstr(g_ctx->diags[0].text, REFUSALS[_i].says), "says: %s", g_ctx->diags[0].text);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* The same id for something else is kept apart, and bought apart. */
START_TEST(differing_entries_are_kept_apart)
{
  read_both("events/garden-lunch.yaml", "tests/data/events/family-party.yaml");
  int n_items = g_events[0]->n_items, item = g_events[1]->cuts[0].item;
  for (int c = 0; c < g_events[1]->n_cuts; c++)
    if (strcmp(g_events[1]->cuts[c].id, "chicken-thighs") == 0)
      item = g_events[1]->cuts[c].item;
  g_events[1]->items[item].offers[0].price_cents *= 2;
  ck_assert_int_eq(join(), PW_OK);
  ck_assert_int_gt(g_joint.event->n_items, n_items);
  for (int i = 0; i < g_joint.event->n_items; i++)
    for (int k = 0; k < i; k++)
      ck_assert_str_ne(g_joint.event->items[i].id, g_joint.event->items[k].id);
  g_plan = planned(g_joint.event, false, PW_EFFORT_QUICK, g_ctx);
  ck_assert_int_eq(g_plan->allocation.n_missed, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* Twin pits of one job stay one class, which the model counts once; not when the other job lets one of them burn more often. */
START_TEST(twin_pits_stay_twins)
{
  read_both("events/garden-lunch.yaml", "tests/data/events/family-party.yaml");
  struct pw_event *party = g_events[1];
  struct pw_pit pits[3];
  for (int p = 0; p < 3; p++)
    pits[p] = party->pits[0];
  pits[1].id = "twin-a", pits[2].id = "twin-b";
  pits[1].alike = 1, pits[2].alike = 1;
  pits[2].n_burns_max = pits[1].n_burns_max = _i ? 1 : 3;
  if (_i == 2)
    pits[2].n_burns_max = 4;
  party->pits = pits;
  party->n_pits = 3;
  ck_assert_int_eq(join(), PW_OK);
  const struct pw_event *ev = g_joint.event;
  int a = PW_NONE, b = PW_NONE;
  for (int p = 0; p < ev->n_pits; p++) {
    a = strcmp(ev->pits[p].id, "twin-a") == 0 ? p : a;
    b = strcmp(ev->pits[p].id, "twin-b") == 0 ? p : b;
  }
  ck_assert(a != PW_NONE && b != PW_NONE);
  ck_assert_int_eq(ev->pits[a].alike, a);
  ck_assert_int_eq(ev->pits[b].alike, _i == 2 ? b : a);
  pw_test_ctx_free(g_ctx);
}
END_TEST

/* A choice, covers, a recipe and its salt go with the job they were told for; suppliers both name are there once. */
START_TEST(what_a_job_brings_stays_with_it)
{
  enum { ITEMS_MAX = 200, LINES_MAX = 20 };
  static struct pw_item items[ITEMS_MAX];
  static double salt[ITEMS_MAX], covers[LINES_MAX];
  static struct pw_choice choices[LINES_MAX];
  read_both("events/garden-lunch.yaml", "tests/data/events/family-party.yaml");
  struct pw_event *party = g_events[1];
  int n = party->n_items;
  ck_assert(n + 1 < ITEMS_MAX && party->n_services < LINES_MAX && party->services[0].n_menu < LINES_MAX);
  memcpy(items, party->items, (size_t)n * sizeof *items);
  memset(salt, 0, sizeof salt);
  memset(covers, 0, sizeof covers);
  memset(choices, 0, sizeof choices);
  struct pw_part parts[2] = {{n - 1, 0.75}, {0, 0.25}};
  items[n] = (struct pw_item){.id = "zz-brine",
                              .name = "Brine",
                              .category = PW_CAT_SEASONING,
                              .unit = PW_UNIT_KG,
                              .parts = parts,
                              .n_parts = 2};
  salt[n] = 0.06;
  covers[1] = 0.8;
  choices[0] = (struct pw_choice){.no_show_frac = 0.07, .cover_frac = covers};
  party->items = items;
  party->n_items = n + 1;
  party->item_salt_frac = salt;
  party->choices = choices;
  party->terms.cover_frac = 0.9; /* the lunch has another */
  party->terms.fuel_reserve_frac = 0.35;
  party->weather.wind_m_s += 1;
  supplied(0, 3, false);
  supplied(1, 4, false);
  ck_assert_int_eq(join(), PW_OK);
  const struct pw_event *ev = g_joint.event;
  int first = g_joint.jobs[1].service_first, at = PW_NONE;
  for (int i = 0; i < ev->n_items; i++)
    at = strcmp(ev->items[i].id, "zz-brine") == 0 ? i : at;
  ck_assert(at != PW_NONE && ev->items[at].n_parts == 2);
  ck_assert_str_eq(ev->items[ev->items[at].parts[0].item].id, items[n - 1].id);
  ck_assert_str_eq(ev->items[ev->items[at].parts[1].item].id, items[0].id);
  PW_NEAR("part", ev->items[at].parts[0].amount, 0.75, 0, 0);
  PW_NEAR("salt", ev->item_salt_frac[at], 0.06, 0, 0);
  PW_NEAR("no salt", ev->item_salt_frac[0], 0, 0, 0);
  PW_NEAR("no-shows of the party", ev->choices[first].no_show_frac, 0.07, 0, 0);
  PW_NEAR("none of the lunch", ev->choices[0].no_show_frac, 0, 0, 0);
  ck_assert(ev->choices[0].cover_frac == NULL);
  PW_NEAR("the party's cover", ev->choices[first].cover_frac[0], 0.9, 0, 0);
  PW_NEAR("a line's own", ev->choices[first].cover_frac[1], 0.8, 0, 0);
  PW_NEAR("the larger reserve", ev->terms.fuel_reserve_frac, 0.35, 0, 0);
  PW_NEAR("both rents", (double)ev->terms.rental_cents,
          (double)(g_events[0]->terms.rental_cents + party->terms.rental_cents), 0, 0);
  ck_assert_int_eq(ev->n_suppliers, 4);
  ck_assert_int_eq(g_ctx->n_diags_total, 1);
  ck_assert_str_eq(g_ctx->diags[0].code, "two-weathers");
  pw_test_ctx_free(g_ctx);
}
END_TEST

START_TEST(memory_may_run_out_anywhere)
{
  read_both("events/garden-lunch.yaml", "tests/data/events/family-party.yaml");
  long before = pw_arena_count(g_ctx->arena);
  ck_assert_int_eq(join(), PW_OK);
  long n = pw_arena_count(g_ctx->arena) - before;
  for (long k = 1; k <= n; k++) {
    pw_arena_fail_at(g_ctx->arena, k);
    ck_assert_msg(join() == PW_ERR_MEMORY, "allocation %ld of %ld failed unnoticed", k, n);
    ck_assert(g_joint.event == NULL);
  }
  pw_arena_fail_at(g_ctx->arena, 0);
  pw_test_ctx_free(g_ctx);
}
END_TEST

static Suite *joint_suite(void)
{
  Suite *s = suite_create("joint");
  TCase *t = tcase_create("all");
  tcase_set_timeout(t, 120);
  tcase_add_test(t, what_is_the_same_is_there_once);
  tcase_add_test(t, the_same_pieces_for_no_more_money);
  tcase_add_test(t, labour_follows_the_work);
  tcase_add_test(t, shares_add_up_to_the_cent);
  tcase_add_loop_test(t, deals, 0, sizeof DEALS / sizeof *DEALS);
  tcase_add_test(t, jobs_are_in_the_plan_file);
  tcase_add_test(t, another_date_is_shifted);
  tcase_add_loop_test(t, what_cannot_be_joined_says_why, 0, sizeof REFUSALS / sizeof *REFUSALS);
  tcase_add_test(t, differing_entries_are_kept_apart);
  tcase_add_loop_test(t, twin_pits_stay_twins, 0, 3);
  tcase_add_test(t, what_a_job_brings_stays_with_it);
  tcase_add_test(t, memory_may_run_out_anywhere);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(joint_suite)
