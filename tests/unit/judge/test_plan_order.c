/* test_plan_order.c - the judge's order of work [J15]: good plans pass, and no two tasks that hang together may change places.
 * tests/data/plan-order.json is made by hand and has every kind of pair; the plans of the events are made here.  Of every pair
 * (the same pieces, fire, spot, goods, service, person) the later task is put before the earlier one, put at the same minute,
 * and told to come after nothing: each of these must be found, whatever the pair. */
#include "planned.h"

#include "judge/plan_check_parts.h"
#include "write/plan_json.h"

#include <limits.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>

static const char *const PLANS[] = {"tests/data/plan-order.json",
                                    "tests/data/over-coals.yaml",
                                    "events/garden-lunch.yaml",
                                    "events/sunday-lunch.yaml",
                                    "tests/data/events/family-party.yaml",
                                    "tests/data/events/lakeside-wedding.yaml",
                                    "tests/data/events/county-fair.yaml",
                                    "events/family-party.yaml",
                                    "events/lakeside-wedding.yaml"};
enum { N_PLANS = sizeof PLANS / sizeof *PLANS };

/* ---- plans ------------------------------------------------------------------------------------------------------ */

static void read_file(const char *path, const char **text, size_t *n, struct pw_ctx *ctx)
{
  FILE *f = fopen(path, "rb");
  ck_assert_msg(f && fseek(f, 0, SEEK_END) == 0, "%s is not there", path);
  long size = ftell(f);
  rewind(f);
  char *bytes = pw_arena_alloc(ctx->arena, (size_t)size + 1);
  if (!bytes || fread(bytes, 1, (size_t)size, f) != (size_t)size)
    abort();
  fclose(f);
  *text = bytes;
  *n = (size_t)size;
}

/** A plan file, or the plan of an event. */
static void seen_of(struct pw_seen_plan *plan, const char *path, struct pw_ctx *ctx)
{
  const char *text = NULL;
  size_t n = 0;
  struct pw_judge judge = {.ctx = ctx, .file = path};
  if (strstr(path, ".json"))
    read_file(path, &text, &n, ctx);
  else
    ck_assert_int_eq(pw_plan_json_text(&text, &n, planned(planned_event(path, ctx), false, PW_EFFORT_QUICK, ctx), ctx),
                     PW_OK);
  ck_assert_int_eq(pw_read_plan(plan, text, n, &judge), PW_OK);
  ck_assert_msg(judge.n_findings == 0, "%s: %s", path, ctx->n_diags ? ctx->diags[0].text : "");
}

/** Findings of [J15]; the first is printed when `is_told`. */
static int findings(const struct pw_seen_plan *plan, bool is_told)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_judge judge = {.ctx = ctx, .file = "plan.json"};
  ck_assert_int_eq(pw_check_order(&judge, plan), PW_OK);
  for (int i = 0; i < ctx->n_diags && is_told; i++) {
    ck_assert_msg(strcmp(ctx->diags[i].code, "J15") == 0 || strcmp(ctx->diags[i].code, "J23") == 0, "%s",
                  ctx->diags[i].code);
    if (i < 20)
      printf("%s\n", ctx->diags[i].text);
  }
  int n = judge.n_findings;
  pw_test_ctx_free(ctx);
  return n;
}

START_TEST(a_good_plan_is_in_order)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_seen_plan plan;
  seen_of(&plan, PLANS[_i], ctx);
  ck_assert_msg(findings(&plan, true) == 0, "%s is not in order", PLANS[_i]);
  pw_test_ctx_free(ctx);
}
END_TEST

/** The hand-made plan makes everything ready in the kitchen. */
START_TEST(made_ready_where_it_is_asked)
{
  static const char *const asked[] = {"either", "kitchen", "site"};
  for (int prep = 0; prep < 3; prep++) {
    struct pw_ctx *ctx = pw_test_ctx();
    struct pw_seen_plan plan;
    seen_of(&plan, PLANS[0], ctx);
    plan.event.prep = prep;
    ck_assert_msg((findings(&plan, false) > 0) == (prep == 2), "%s", asked[prep]);
    pw_test_ctx_free(ctx);
  }
}
END_TEST

/* ---- pairs --------------------------------------------------------------------------------------------------------- */

enum link { PIECES, PIT, SPOT, ITEMS, SERVICE, LOT_OF_SERVICE };

static const struct pair_kind {
  const char *first, *then;
  enum link link; /**< what the two have to do with each other */
} KINDS[] = {
    {"order", "take_in", ITEMS},     {"take_in", "prep", ITEMS},
    {"take_in", "pan_up", ITEMS},    {"thaw", "prep", ITEMS},
    {"thaw", "brine", ITEMS},        {"take_in", "brine", ITEMS},
    {"brine", "prep", PIECES},       {"prep", "load", PIECES},
    {"light", "fire_check", PIT},    {"fire_check", "load", PIT},
    {"load", "bark_test", PIECES},   {"load", "core", PIECES},
    {"bark_test", "mop", PIECES},    {"mop", "core", PIECES},
    {"mop", "wrap", PIECES},         {"mop", "wrap_carry", PIECES},
    {"core", "wrap", PIECES},        {"core", "wrap_carry", PIECES},
    {"wrap", "carry", PIECES},       {"wrap", "probe", PIECES},
    {"wrap_carry", "probe", PIECES}, {"carry", "probe", PIECES},
    {"core", "off", PIECES},         {"probe", "off", PIECES},
    {"off", "load", SPOT},           {"carry", "load", SPOT},
    {"wrap_carry", "load", SPOT},    {"off", "rest_over", PIECES},
    {"off", "hold_check", PIECES},   {"rest_over", "hold_check", PIECES},
    {"off", "cut", PIECES},          {"hold_check", "cut", PIECES},
    {"cut", "pan_up", PIECES},       {"cut", "serve", LOT_OF_SERVICE},
    {"pan_up", "serve", SERVICE},    {"set_up", "serve", SERVICE},
    {"serve", "clear", SERVICE},     {"serve", "cool", SERVICE},
    {"cool", "cool_check", SERVICE}, {"off", "burn_down", PIT},
    {"burn_down", "ash", PIT},       {"ash", "light", PIT},
    {"off", "chill", PIECES},        {"chill", "cool_check", PIECES},
    {"cool_check", "cut", PIECES},   {"cut", "reheat", PIECES},
    {"load", "off", PIECES},
};
enum { N_KINDS = sizeof KINDS / sizeof *KINDS };

static bool is_kind(const struct pw_seen_task *task, const char *kind)
{
  return task->kind != PW_SEEN_NONE && strcmp(pw_seen_kinds[task->kind], kind) == 0;
}

static bool has_piece(const struct pw_seen_task *task, int lot, int piece)
{
  for (int k = 0; task->lot == lot && k < task->n_ids; k++)
    if (task->piece_ids[k] == piece)
      return true;
  return false;
}

static bool share_pieces(const struct pw_seen_task *a, const struct pw_seen_task *b)
{
  for (int k = 0; a->lot != PW_SEEN_NONE && k < a->n_ids; k++)
    if (has_piece(b, a->lot, a->piece_ids[k]))
      return true;
  return false;
}

/* The burn of its pit a task belongs to: the last one lit before it, or at it. */
static int burn_of(const struct pw_seen_plan *plan, const struct pw_seen_task *task, int pit)
{
  int found = PW_SEEN_NONE;
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++)
    if (plan->burns[b].pit == pit && plan->burns[b].lit_min <= task->at_min &&
        (found == PW_SEEN_NONE || plan->burns[b].lit_min > plan->burns[found].lit_min))
      found = b;
  return found;
}

static bool share_fire(const struct pw_seen_plan *plan, const struct pw_seen_task *a, const struct pw_seen_task *b)
{
  int pit = a->place;
  if (pit < 0 || pit >= plan->n[PW_SEEN_PITS] || b->place != pit)
    return false;
  if (is_kind(a, "ash") && is_kind(b, "light")) /* of the next burn */
    return a->at_min + a->minutes <= b->at_min && burn_of(plan, b, pit) != burn_of(plan, a, pit);
  return burn_of(plan, a, pit) == burn_of(plan, b, pit);
}

static int pit_of(const struct pw_seen_plan *plan, const struct pw_seen_load *load)
{
  return load->place < plan->n[PW_SEEN_ZONES] ? plan->zones[load->place].rack : -1;
}

/* A piece of `a` lay, until little before, where a piece of `b` comes to lie. */
static bool share_spot(const struct pw_seen_plan *plan, const struct pw_seen_task *a, const struct pw_seen_task *b)
{
  for (int i = 0; i < plan->n[PW_SEEN_LOADS]; i++)
    for (int j = 0; j < plan->n[PW_SEEN_LOADS]; j++) {
      const struct pw_seen_load *x = &plan->loads[i], *y = &plan->loads[j];
      int gap = y->start_min - x->end_min;
      if (gap < 0 || gap > 30 || x->lot != a->lot || y->lot != b->lot || y->stage != PW_SEEN_SMOKE ||
          pit_of(plan, x) != pit_of(plan, y))
        continue;
      if (x->stage == PW_SEEN_SMOKE && a->at_min > x->end_min + 30) /* another stage's task */
        continue;
      for (int p = 0; p < x->n_rects; p++)
        for (int q = 0; q < y->n_rects; q++) {
          const struct pw_seen_rect *r = &x->rects[p], *s = &y->rects[q];
          if (has_piece(a, x->lot, x->piece_ids[p]) && has_piece(b, y->lot, y->piece_ids[q]) &&
              r->x_m + 0.01 < s->x_m + s->length_m && s->x_m + 0.01 < r->x_m + r->length_m &&
              r->y_m + 0.01 < s->y_m + s->depth_m && s->y_m + 0.01 < r->y_m + r->depth_m)
            return true;
        }
    }
  return false;
}

static int n_take_ins(const struct pw_seen_plan *plan, const char *item)
{
  int n = 0;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    for (int k = 0; k < plan->tasks[i].n_items && is_kind(&plan->tasks[i], "take_in"); k++)
      n += strcmp(plan->tasks[i].items[k], item) == 0;
  return n;
}

/* What is made of an item waits for each of its deliveries; a delivery belongs to one order, which the items alone do not tell. */
static bool share_items(const struct pw_seen_plan *plan, const struct pw_seen_task *a, const struct pw_seen_task *b)
{
  for (int i = 0; i < a->n_items; i++)
    for (int k = 0; k < b->n_items; k++)
      if (strcmp(a->items[i], b->items[k]) == 0 && (is_kind(a, "take_in") || n_take_ins(plan, a->items[i]) == 1))
        return true;
  return false;
}

/* The only cut of its lot. */
static bool is_only_cut(const struct pw_seen_plan *plan, const struct pw_seen_task *cut)
{
  int n = 0;
  for (int i = 0; i < plan->n[PW_SEEN_TASKS]; i++)
    n += is_kind(&plan->tasks[i], "cut") && plan->tasks[i].lot == cut->lot;
  return n == 1;
}

static bool hang_together(const struct pw_seen_plan *plan, const struct pair_kind *kind, const struct pw_seen_task *a,
                          const struct pw_seen_task *b)
{
  if (!is_kind(a, kind->first) || !is_kind(b, kind->then) || a->at_min + a->minutes > b->at_min)
    return false;
  switch (kind->link) {
  case PIECES:
    return share_pieces(a, b);
  case PIT:
    return share_fire(plan, a, b);
  case SPOT:
    return share_spot(plan, a, b);
  case ITEMS:
    return share_items(plan, a, b);
  case SERVICE:
    return a->service != PW_SEEN_NONE && a->service == b->service;
  default:
    return a->lot != PW_SEEN_NONE && plan->lots[a->lot].service == b->service && is_only_cut(plan, a);
  }
}

static void broken(const struct pw_seen_plan *plan, const char *path, const char *how, int i, int k)
{
  const struct pw_seen_task *a = &plan->tasks[i], *b = &plan->tasks[k];
  ck_assert_msg(findings(plan, false) > 0, "%s: tasks[%d] %s and tasks[%d] %s %s, and nothing is found", path, i,
                pw_seen_kinds[a->kind], k, pw_seen_kinds[b->kind], how);
}

/** Breaks one pair in each way and mends it again. */
static void break_pair(struct pw_seen_plan *plan, const char *path, int i, int k)
{
  struct pw_seen_task *a = &plan->tasks[i], *b = &plan->tasks[k], was_a = *a, was_b = *b;
  a->at_min = was_b.at_min;
  b->at_min = was_a.at_min;
  broken(plan, path, "change places", i, k);
  *a = was_a;
  if (a->minutes > 0) {
    b->at_min = was_a.at_min;
    broken(plan, path, "begin together", i, k);
    b->at_min = was_a.at_min + was_a.minutes - 1;
    broken(plan, path, "overlap by a minute", i, k);
  }
  *b = was_b;
  b->n_after = 0;
  broken(plan, path, "do not come after each other", i, k);
  *b = was_b;
}

static int n_met[N_KINDS]; /* of the hand-made plan */

static void break_pairs(const char *path, bool is_counted)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_seen_plan plan;
  seen_of(&plan, path, ctx);
  ck_assert_int_eq(findings(&plan, true), 0);
  for (int i = 0; i < plan.n[PW_SEEN_TASKS]; i++)
    plan.tasks[i].latest_min = PW_SEEN_NO_TIME; /* the order alone must tell */
  int n = 0;
  for (int i = 0; i < plan.n[PW_SEEN_TASKS]; i++)
    for (int k = 0; k < plan.n[PW_SEEN_TASKS]; k++)
      for (int m = 0; m < N_KINDS; m++)
        if (i != k && hang_together(&plan, &KINDS[m], &plan.tasks[i], &plan.tasks[k])) {
          break_pair(&plan, path, i, k);
          n_met[m] += is_counted;
          n++;
        }
  ck_assert_msg(n > 20, "%s: %d pairs to break", path, n);
  ck_assert_int_eq(findings(&plan, true), 0); /* mended */
  pw_test_ctx_free(ctx);
}

START_TEST(no_pair_changes_places) { break_pairs(PLANS[_i], false); }
END_TEST

START_TEST(the_hand_made_plan_has_every_kind_of_pair)
{
  memset(n_met, 0, sizeof n_met);
  break_pairs(PLANS[0], true);
  for (int m = 0; m < N_KINDS; m++)
    ck_assert_msg(n_met[m] > 0 || strcmp(KINDS[m].first, "chill") == 0 || strcmp(KINDS[m].then, "chill") == 0 ||
                      strcmp(KINDS[m].then, "reheat") == 0 || (strcmp(KINDS[m].first, "cool_check") == 0),
                  "no %s before %s", KINDS[m].first, KINDS[m].then);
}
END_TEST

/* ---- tasks left out ------------------------------------------------------------------------------------------------ */

/** The plan without the tasks of one kind (or without one task), whatever came after them coming after nothing instead. */
static int findings_without(const struct pw_seen_plan *plan, int kind, int only)
{
  struct pw_seen_plan less = *plan;
  int n = plan->n[PW_SEEN_TASKS], *to = calloc((size_t)n, sizeof *to), kept = 0;
  less.tasks = calloc((size_t)n, sizeof *less.tasks);
  if (!to || !less.tasks)
    abort();
  for (int i = 0; i < n; i++)
    to[i] = (only >= 0 ? i == only : plan->tasks[i].kind == kind) ? -1 : kept++;
  for (int i = 0; i < n; i++) {
    if (to[i] < 0)
      continue;
    struct pw_seen_task *task = &less.tasks[to[i]];
    *task = plan->tasks[i];
    task->latest_min = PW_SEEN_NO_TIME; /* what is missing must be missed, not what waited for it */
    task->after = calloc((size_t)task->n_after + 1, sizeof *task->after);
    task->n_after = 0;
    for (int k = 0; k < plan->tasks[i].n_after; k++)
      if (to[plan->tasks[i].after[k]] >= 0)
        task->after[task->n_after++] = to[plan->tasks[i].after[k]];
  }
  less.n[PW_SEEN_TASKS] = kept;
  int found = kept == n ? -1 : findings(&less, false);
  for (int i = 0; i < kept; i++)
    free(less.tasks[i].after);
  free(less.tasks);
  free(to);
  return found;
}

START_TEST(no_kind_of_task_is_left_out)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_seen_plan plan;
  seen_of(&plan, PLANS[_i], ctx);
  /* nobody is hurt without these: mops and the look at the rub, a word that the rest is over, tables */
  static const char *const may_go[] = {"mop", "bark_test", "rest_over", "core", "brine", NULL};
  for (int kind = 0; kind < PW_SEEN_N_KINDS; kind++) {
    bool may = false;
    for (int m = 0; may_go[m]; m++)
      may = may || strcmp(may_go[m], pw_seen_kinds[kind]) == 0;
    int found = may ? -1 : findings_without(&plan, kind, -1);
    ck_assert_msg(found != 0, "%s: nothing is found without any %s", PLANS[_i], pw_seen_kinds[kind]);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

/* Wood laid on when the fire is lit may be part of lighting it. */
static bool is_laid_at_lighting(const struct pw_seen_plan *plan, const struct pw_seen_task *feed)
{
  for (int b = 0; b < plan->n[PW_SEEN_BURNS]; b++)
    if (plan->burns[b].pit == feed->place && plan->burns[b].n_feeds > 0 &&
        plan->burns[b].feeds[0].at_min <= plan->burns[b].lit_min && feed->at_min >= plan->burns[b].lit_min &&
        feed->at_min <= plan->burns[b].lit_min + 15)
      return true;
  return false;
}

START_TEST(no_needed_task_is_left_out)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_seen_plan plan;
  seen_of(&plan, PLANS[_i], ctx);
  static const char *const needed[] = {"order",     "take_in", "prep",       "light",  "feed",  "fire_check", "load",
                                       "turn",      "wrap",    "wrap_carry", "carry",  "off",   "cut",        "clear",
                                       "burn_down", "ash",     "chill",      "reheat", "brine", "heat_up",    NULL};
  for (int i = 0; i < plan.n[PW_SEEN_TASKS]; i++)
    for (int m = 0; needed[m]; m++)
      if (is_kind(&plan.tasks[i], needed[m]) &&
          !(strcmp(needed[m], "feed") == 0 && is_laid_at_lighting(&plan, &plan.tasks[i])) &&
          (plan.tasks[i].lot != PW_SEEN_NONE || strcmp(needed[m], "prep") != 0)) /* a side: the file does not say */
        ck_assert_msg(findings_without(&plan, -1, i) != 0, "%s: nothing is found without tasks[%d], %s", PLANS[_i], i,
                      needed[m]);
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- ovens and boxes [J23] ------------------------------------------------------------------------------------------- */

static const char *const HOT[] = {"events/family-party.yaml", "events/sunday-lunch.yaml",
                                  "events/lakeside-wedding.yaml"};
enum { N_HOT = sizeof HOT / sizeof *HOT };

/* Cold when food goes in, each way it can be: found.  As it was planned: not. */
START_TEST(no_cold_oven_is_passed)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_seen_plan plan;
  int n = 0;
  seen_of(&plan, HOT[_i], ctx);
  ck_assert_int_eq(findings(&plan, true), 0);
  for (int i = 0; i < plan.n[PW_SEEN_TASKS]; i++) {
    struct pw_seen_task *task = &plan.tasks[i], was = *task;
    if (task->kind != PW_SEEN_HEAT_UP)
      continue;
    int f = task->place - plan.n[PW_SEEN_PITS], first = INT_MAX;
    struct pw_seen_finisher *fin = &plan.finishers[f];
    for (int l = 0; l < plan.n[PW_SEEN_LOADS]; l++)
      if (plan.loads[l].place == plan.n[PW_SEEN_ZONES] + f && plan.loads[l].start_min < first &&
          plan.loads[l].start_min > task->at_min)
        first = plan.loads[l].start_min;
    n++;
    task->latest_min = was.latest_min = PW_SEEN_NO_TIME;
    ck_assert_int_eq(findings(&plan, false), 0);
    if (first < INT_MAX) {      /* what is heated for sides alone has no load */
      task->at_min = first + 1; /* after it */
      ck_assert_int_gt(findings(&plan, false), 0);
    }
    task->at_min = was.at_min - fin->off_after_min - fin->heat_up_min - 60; /* long before it */
    ck_assert_int_gt(findings(&plan, false), 0);
    *task = was;
    task->place = plan.n[PW_SEEN_PITS] + (f + 1) % plan.n[PW_SEEN_FINISHERS]; /* another oven */
    ck_assert_int_gt(findings(&plan, false), 0);
    task->place = 0; /* a pit */
    ck_assert_int_gt(findings(&plan, false), 0);
    *task = was;
    task->temp_c = was.temp_c - 20;
    ck_assert_int_gt(findings(&plan, false), 0);
    task->temp_c = NAN;
    ck_assert_int_gt(findings(&plan, false), 0);
    *task = was;
    task->kind = PW_SEEN_TAKE_IN; /* no line at all */
    ck_assert_int_gt(findings(&plan, false), 0);
    *task = was;
    int heat_up = fin->heat_up_min;
    fin->heat_up_min += fin->off_after_min + 120; /* slower than it was given time for */
    ck_assert_int_gt(findings(&plan, false), 0);
    fin->heat_up_min = heat_up;
    ck_assert_int_eq(findings(&plan, false), 0);
  }
  ck_assert_int_gt(n, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* Used, empty for longer than it is left on, used again: heated once is not enough. */
START_TEST(heated_again_after_a_gap)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_seen_plan plan;
  int n = 0;
  seen_of(&plan, HOT[_i], ctx);
  for (int f = 0; f < plan.n[PW_SEEN_FINISHERS]; f++) {
    int last = INT_MIN, again = INT_MIN;
    for (int l = 0; l < plan.n[PW_SEEN_LOADS]; l++) {
      const struct pw_seen_load *load = &plan.loads[l];
      last = load->place == plan.n[PW_SEEN_ZONES] + f && load->end_min > last ? load->end_min : last;
    }
    for (int k = 0; k < plan.n[PW_SEEN_SIDE_PANS]; k++) {
      const struct pw_seen_side_pans *side = &plan.side_pans[k];
      last = side->place == plan.n[PW_SEEN_ZONES] + f && side->to_min > last ? side->to_min : last;
    }
    if (last == INT_MIN)
      continue;
    again = last + plan.finishers[f].off_after_min;
    struct pw_seen_plan more = plan;
    struct pw_seen_side_pans *pans = pw_arena_array(ctx->arena, (size_t)plan.n[PW_SEEN_SIDE_PANS] + 1, sizeof *pans);
    if (!pans)
      abort();
    for (int k = 0; k < plan.n[PW_SEEN_SIDE_PANS]; k++)
      pans[k] = plan.side_pans[k];
    more.side_pans = pans;
    for (int late = 0; late < 2; late++) { /* as long as it is left on, and a minute longer */
      pans[more.n[PW_SEEN_SIDE_PANS] = plan.n[PW_SEEN_SIDE_PANS]] = (struct pw_seen_side_pans){
          "a dish of nobody's", 0, 1, again + late, again + late + 60, 1, plan.n[PW_SEEN_ZONES] + f};
      more.n[PW_SEEN_SIDE_PANS]++;
      ck_assert_msg((findings(&more, false) > 0) == (late > 0), "%s: %d", plan.finishers[f].id, late);
    }
    n++;
  }
  ck_assert_int_gt(n, 0);
  pw_test_ctx_free(ctx);
}
END_TEST

/* ---- people ---------------------------------------------------------------------------------------------------------- */

START_TEST(nobody_is_in_two_places)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_seen_plan plan;
  seen_of(&plan, PLANS[_i], ctx);
  for (int i = 0; i < plan.n[PW_SEEN_TASKS]; i++) {
    struct pw_seen_task *task = &plan.tasks[i], was = *task;
    if (task->person == PW_SEEN_NONE)
      continue;
    const struct pw_seen_person *who = &plan.people[task->person];
    struct {
      const char *how;
      struct pw_seen_task to;
    } ways[] = {{"before the shift", was},
                {"after the shift", was},
                {"nowhere", was},
                {"a latest minute gone by", was},
                {"a piece that is not there", was},
                {"a piece twice", was},
                {"in time before it begins", was},
                {"in time when the shift is over", was}};
    ways[0].to.at_min = who->from_min - 1;
    ways[1].to.at_min = who->to_min - was.minutes + 1;
    ways[2].to.at_hand = PW_SEEN_NONE;
    ways[3].to.latest_min = was.at_min - 1;
    ways[4].to.n_ids = was.n_ids + 1; /* one more than pieces */
    ways[6].to.in_time_until_min = was.at_min - 5;
    ways[7].to.in_time_until_min = who->to_min + 1;
    for (size_t w = 0; w < sizeof ways / sizeof *ways; w++) {
      if ((w == 4 && was.pieces == 0) || (w == 5 && was.n_ids < 2) ||
          (w < 2 && was.minutes == 0 && ways[w].to.at_min >= who->from_min && ways[w].to.at_min <= who->to_min))
        continue;
      if (w == 4) {
        int *ids = pw_arena_array(ctx->arena, (size_t)was.n_ids + 1, sizeof *ids);
        memcpy(ids, was.piece_ids, (size_t)was.n_ids * sizeof *ids);
        ids[was.n_ids] = plan.lots[was.lot].pieces;
        ways[w].to.piece_ids = ids;
      }
      if (w == 5) {
        int *ids = pw_arena_array(ctx->arena, (size_t)was.n_ids, sizeof *ids);
        memcpy(ids, was.piece_ids, (size_t)was.n_ids * sizeof *ids);
        ids[0] = ids[was.n_ids - 1];
        ways[w].to.piece_ids = ids;
      }
      *task = ways[w].to;
      ck_assert_msg(findings(&plan, false) > 0, "%s: tasks[%d], %s: %s, and nothing is found", PLANS[_i], i,
                    pw_seen_kinds[was.kind], ways[w].how);
      *task = was;
    }
    for (int k = 0; k < plan.n[PW_SEEN_TASKS]; k++) { /* somebody else's work at the same minute */
      if (k == i || plan.tasks[k].minutes == 0 || was.minutes == 0 || plan.tasks[k].person == PW_SEEN_NONE)
        continue;
      if (plan.tasks[k].at_min >= was.at_min + was.minutes ||
          was.at_min >= plan.tasks[k].at_min + plan.tasks[k].minutes)
        continue;
      task->person = plan.tasks[k].person;
      ck_assert_msg(findings(&plan, false) > 0,
                    "%s: tasks[%d] and tasks[%d] by one pair of hands, and nothing is found", PLANS[_i], i, k);
      *task = was;
    }
  }
  pw_test_ctx_free(ctx);
}
END_TEST

START_TEST(memory_failures_are_reported)
{
  struct pw_ctx *ctx = pw_test_ctx();
  struct pw_seen_plan plan;
  seen_of(&plan, PLANS[0], ctx);
  for (long k = 1, n = 0; n == 0; k++) {
    struct pw_ctx *own = pw_test_ctx();
    struct pw_judge judge = {.ctx = own, .file = "plan.json"};
    pw_arena_fail_at(own->arena, k);
    pw_status status = pw_check_order(&judge, &plan);
    n = pw_arena_count(own->arena) < k;
    ck_assert_msg(status == (n ? PW_OK : PW_ERR_MEMORY) && judge.n_findings == 0,
                  "allocation %ld: status %d, %d findings", k, (int)status, judge.n_findings);
    pw_test_ctx_free(own);
  }
  pw_test_ctx_free(ctx);
}
END_TEST

static Suite *suite(void)
{
  Suite *s = suite_create("plan_order");
  TCase *t = tcase_create("plan_order");
  tcase_set_timeout(t, 300);
  tcase_add_loop_test(t, a_good_plan_is_in_order, 0, N_PLANS);
  tcase_add_test(t, made_ready_where_it_is_asked);
  tcase_add_loop_test(t, no_pair_changes_places, 0, N_PLANS);
  tcase_add_test(t, the_hand_made_plan_has_every_kind_of_pair);
  tcase_add_loop_test(t, no_kind_of_task_is_left_out, 0, N_PLANS);
  tcase_add_loop_test(t, no_needed_task_is_left_out, 0, N_PLANS);
  tcase_add_loop_test(t, no_cold_oven_is_passed, 0, N_HOT);
  tcase_add_loop_test(t, heated_again_after_a_gap, 0, N_HOT);
  tcase_add_loop_test(t, nobody_is_in_two_places, 0, N_PLANS);
  tcase_add_test(t, memory_failures_are_reported);
  suite_add_tcase(s, t);
  return s;
}

PW_MAIN(suite)
