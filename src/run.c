/* run.c - one plan, its ways out, the ladder of other head counts, the judge.  No formulas here. */
#include "run.h"
#include "run_hours.h"
#include "run_levels.h"
#include "run_options.h"
#include "run_proof.h"
#include "run_side.h"
#include "run_stages.h"

#include "base/arena.h"
#include "base/deadline.h"
#include "base/diag.h"
#include "base/format.h"
#include "base/parallel.h"
#include "judge/plan_check.h"
#include "plan/chance/chance.h"
#include "plan/chance/on_time.h"
#include "plan/demand/head_count.h"
#include "plan/explain/explain.h"
#include "plan/fire/empty_fire.h"
#include "plan/fire/visits.h"
#include "plan/lots/side_pans.h"
#include "plan/lots/waves.h"
#include "plan/money/ladder.h"
#include "plan/money/quote.h"
#include "plan/ways/ways.h"
#include "read/read.h"
#include "write/plan_json.h"

#include <math.h>

/* Errors of a side computation are errors of the run. */
static pw_status side_status(pw_status st, const struct pw_ctx *side, struct pw_ctx *ctx)
{
  if (st != PW_OK)
    pw_diag_take(ctx, side, true);
  return st;
}

/* A job so large that not even so many head counts may be planned is not planned for other chances either. */
enum { LEVELS_FROM_RUNGS = 16 };

enum { CORES_SEED = 17 }; /* of the draws that tell how often a core is too slow */

/* Of a run with a limit in seconds: the event as it stands, then its other head counts. */
static const double GIVEN_TIME_FRAC = 0.6, RUNGS_TIME_FRAC = 0.8;

/* Work for the ladder of a very large job, in options looked at, and what a lot counts beside the search. */
static const long RUNG_LOOKS_MOST = 60L * 1000 * 1000, RUNG_LOOKS_PER_LOT = 10 * 1000;

/* ---- the event as it stands --------------------------------------------------------------------------- */

/* Quickly, or with the full search, unproved yet; what does not fit quickly is searched fully before it is said not to fit, unless an
 * answer is wanted at once. */
static pw_status plan_event(struct pw_plan *plan, const struct pw_event *ev, struct pw_allocate_options *allocate,
                            bool is_at_once, struct pw_ctx *ctx)
{
  if (allocate->effort == PW_EFFORT_QUICK) {
    struct pw_ctx *side = pw_side_ctx(ctx);
    if (!side)
      return PW_ERR_MEMORY;
    side->progress = ctx->progress;
    side->progress_user = ctx->progress_user;
    pw_status st = pw_run_stages(plan, ev, allocate, NULL, NULL, side);
    if (st != PW_OK || plan->allocation.n_missed == 0 || is_at_once) {
      pw_diag_take(ctx, side, false);
      return st;
    }
    allocate->effort = PW_EFFORT_FULL;
    allocate->dump_model = NULL; /* is there already */
  }
  struct pw_allocate_options unproved = *allocate;
  unproved.is_unproved = true;
  return pw_run_stages(plan, ev, &unproved, NULL, NULL, ctx);
}

/* ---- ways out -------------------------------------------------------------------------------------------- */

/* So many times as much of the rounds that choose margins as a quick plan has that somebody waits for: on a family party with a late
 * crew ways come within a point of what a thorough search finds, in a tenth of its time. */
enum { WAY_LOOKS_TIMES = 4 };

struct way_stage {
  int heads;
  struct pw_allocate_options allocate;
  double on_time_frac; /* asked for this run; 0: the event's own */
  pw_run_change change;
  void *change_user;
};

static pw_status change_file(void *user, struct pw_event **out, const char *lines, struct pw_ctx *ctx)
{
  return pw_event_change(out, user, lines, ctx);
}

/* The event with lines at the end of its file, for as many heads as are planned. */
static pw_status way_plan(void *user, struct pw_plan *out, const char *lines, enum pw_way_care care, struct pw_ctx *ctx)
{
  const struct way_stage *w = user;
  struct pw_event *changed = NULL;
  const struct pw_event *scaled = NULL;
  struct pw_allocate_options allocate = w->allocate;
  pw_status st = w->change(w->change_user, &changed, lines, ctx);
  if (st == PW_OK)
    st = pw_safety_check(changed, ctx);
  if (st == PW_OK && pw_head_count(changed) == w->heads)
    scaled = changed;
  else if (st == PW_OK)
    st = pw_head_count_scale(&scaled, changed, w->heads, ctx);
  if (st == PW_OK && w->on_time_frac != 0 && !(scaled = pw_run_with_chance(scaled, w->on_time_frac, ctx)))
    st = PW_ERR_MEMORY;
  allocate.looks_times = WAY_LOOKS_TIMES;
  const struct pw_margins *given = care == PW_WAY_FITS ? &pw_usual_margins : NULL;
  return st == PW_OK ? pw_run_stages(out, scaled, &allocate, given, NULL, ctx) : st;
}

/* Of what is short or late too often, by changes of the file it was read from. */
static pw_status find_ways(struct pw_plan *plan, const struct pw_event *ev, const struct pw_run_options *options,
                           const struct pw_allocate_options *allocate, struct pw_ctx *ctx)
{
  bool is_short = plan->allocation.n_missed > 0;
  for (int s = 0; s < plan->event->n_services; s++)
    is_short = is_short || pw_on_time_is_short(plan->event, &plan->chance, s);
  if (!is_short || (!ev->source && !options->change))
    return PW_OK;
  struct way_stage stage = {.heads = plan->demand.head_count,
                            .allocate = *allocate,
                            .on_time_frac = options->on_time_frac,
                            .change = options->change ? options->change : change_file,
                            .change_user = options->change ? options->change_user : (void *)(uintptr_t)ev};
  stage.allocate.effort = PW_EFFORT_QUICK;
  stage.allocate.is_without_ways = true;
  stage.allocate.dump_model = NULL;
  struct pw_ways_planner planner = {way_plan, &stage, allocate->deadline_s};
  if (ctx->progress)
    ctx->progress(ctx->progress_user, "planning ways out", NAN, NAN);
  return pw_ways_make(plan, &planner, ctx);
}

/* ---- other head counts -------------------------------------------------------------------------------- */

/* One head count of the ladder or the break-even, planned in memory of its own, so that several may be at it at a time. */
struct rung {
  int guests;
  const struct pw_allocation *like; /* to begin with */
  struct pw_side_run run;
};

struct rungs {
  const struct pw_plan *given; /* the plan of the event as it stands: its own rung */
  const struct pw_event *ev;
  struct pw_allocate_options allocate;
  enum pw_effort effort; /* of the next to be planned */
  struct rung *list;
  int n;
};

static void rung_plan(void *user, int i)
{
  struct rungs *r = user;
  struct rung *rung = &r->list[i];
  const struct pw_event *scaled = NULL;
  struct pw_allocate_options allocate = r->allocate;
  if (!pw_side_open(&rung->run))
    return;
  allocate.like = rung->like;
  allocate.effort = r->effort;
  struct pw_side_run *run = &rung->run;
  run->status = pw_head_count_scale(&scaled, r->ev, rung->guests, &run->ctx);
  /* what did not fit quickly, with margins and without, is asked once more whether it fits at all */
  bool is_last_try = r->effort == PW_EFFORT_FULL;
  pw_side_plan(run, scaled, &allocate, is_last_try ? &pw_usual_margins : &r->given->margins, &r->given->lots);
  if (run->status == PW_OK && !is_last_try && run->plan.allocation.n_missed > 0 && r->given->margins.early_min)
    pw_side_plan(run, scaled, &allocate, &pw_usual_margins, &r->given->lots); /* what fits comes first */
}

static void rungs_close(struct rungs *r)
{
  for (int i = 0; i < r->n; i++)
    pw_side_close(&r->list[i].run);
}

static pw_status rungs_status(const struct rungs *r, struct pw_ctx *ctx)
{
  for (int i = 0; i < r->n; i++)
    if (r->list[i].run.status != PW_OK)
      return side_status(r->list[i].run.status, &r->list[i].run.ctx, ctx);
  return PW_OK;
}

static const struct pw_plan *plan_of(const struct rungs *r, const struct rung *rung)
{
  return rung->guests == r->given->demand.head_count ? r->given : &rung->run.plan;
}

static struct pw_quote_rung rung_told(const struct rungs *r, const struct rung *rung)
{
  const struct pw_plan *at = plan_of(r, rung);
  const struct pw_quote *q = &at->quote;
  return (struct pw_quote_rung){.guests = rung->guests,
                                .cost_cents = q->cost_cents,
                                .price_cents = q->price_cents,
                                .total_cents = q->total_cents,
                                .per_guest_cents = q->per_guest_cents,
                                .missed = at->allocation.n_missed};
}

/* What the quick search leaves without a place is searched fully before it is said not to fit, the fewest guests first: once a
 * party does not fit, a larger one, which would hold it, does not either. */
static void search_fully(struct rungs *r)
{
  for (int i = 0; i < r->n; i++) {
    const struct pw_plan *at = plan_of(r, &r->list[i]);
    if (at->allocation.n_missed > 0 && at != r->given && r->list[i].run.status == PW_OK) {
      r->effort = PW_EFFORT_FULL;
      rung_plan(r, i);
      r->effort = PW_EFFORT_QUICK;
    }
    if (at->allocation.n_missed > 0 && r->list[i].run.status == PW_OK)
      return;
  }
}

/* A plan for more guests holds one for fewer: where the fewer came out dearer or short, they begin with it. */
static void mend_below(struct rungs *r)
{
  for (int i = r->n - 2; i >= 0; i--) {
    struct rung *low = &r->list[i];
    const struct pw_plan *more = plan_of(r, low + 1), *less = plan_of(r, low);
    bool is_odd =
        less->allocation.n_missed > more->allocation.n_missed ||
        (less->allocation.n_missed == more->allocation.n_missed && less->quote.cost_cents > more->quote.cost_cents);
    if (less == r->given || !is_odd)
      continue;
    struct rung again = {.guests = low->guests, .like = &more->allocation, .run = {.arena = low->run.arena}};
    struct rungs one = *r;
    one.list = &again;
    rung_plan(&one, 0);
    if (again.run.status != PW_OK || again.run.plan.allocation.n_missed < less->allocation.n_missed ||
        (again.run.plan.allocation.n_missed == less->allocation.n_missed &&
         again.run.plan.quote.cost_cents < less->quote.cost_cents))
      *low = again;
  }
}

/* Plans them, two at a time; the one of the event as it stands is there. */
static pw_status rungs_plan(struct rungs *r, const int *guests, int n, struct pw_ctx *ctx)
{
  struct rung *list = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *list);
  int *ask = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *ask);
  if (!list || !ask)
    return PW_ERR_MEMORY;
  struct rungs others = *r;
  others.list = list;
  others.n = 0;
  int given = r->given->demand.head_count;
  for (int i = 0; i < n; i++)
    if (guests[i] != given)
      list[others.n++] = (struct rung){.guests = guests[i], .like = &r->given->allocation};
  if (ctx->progress)
    ctx->progress(ctx->progress_user,
                  n == 1 ? pw_arena_printf(ctx->arena, "pricing %d guests", guests[0]) : "pricing other head counts",
                  NAN, NAN);
  pw_parallel(others.n, rung_plan, &others);
  r->list = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *r->list);
  r->n = r->list ? n : 0;
  const struct rung own = {.guests = given};
  for (int i = 0, k = 0; i < r->n; i++)
    r->list[i] = guests[i] == given ? own : list[k++];
  if (!r->list) {
    rungs_close(&others);
    return PW_ERR_MEMORY;
  }
  pw_status st = rungs_status(r, ctx);
  if (st != PW_OK)
    return st;
  if (n > 1 || r->given->allocation.n_missed == 0 || guests[0] < given)
    search_fully(r);
  mend_below(r);
  return rungs_status(r, ctx);
}

/* Puts a rung where it belongs among those tried; a head count tried already stays. */
static void try_add(struct pw_quote *q, struct pw_quote_rung rung)
{
  int k = q->n_tried;
  for (int i = 0; i < q->n_tried; i++)
    if (q->tried[i].guests == rung.guests)
      return;
  for (; k > 0 && q->tried[k - 1].guests > rung.guests; k--)
    q->tried[k] = q->tried[k - 1];
  q->tried[k] = rung;
  q->n_tried++;
}

/* Rungs that may be planned of a very large job: each takes about as long as the job itself. */
static int n_rungs_most(const struct pw_plan *plan)
{
  long looks = plan->allocation.n_looks + RUNG_LOOKS_PER_LOT * plan->lots.n_lots + 1;
  return (int)(RUNG_LOOKS_MOST / looks) + 1;
}

/* Of n head counts in rising order the `most` nearest to the given one; returns how many stay. */
static int keep_nearest(int *guests, int n, int most, int given)
{
  int from = 0, to = n;
  while (to - from > most)
    if (given - guests[from] > guests[to - 1] - given)
      from++;
    else
      to--;
  for (int i = from; i < to; i++)
    guests[i - from] = guests[i];
  return to - from;
}

/* The rungs of the ladder and what a tenth more guests would cost; then those the break-even asks for. */
static pw_status make_ladder(struct pw_plan *plan, const struct pw_event *ev,
                             const struct pw_allocate_options *allocate, struct pw_ctx *ctx)
{
  int *guests = NULL, n = 0, n_lost = 0;
  struct pw_quote *q = &plan->quote;
  struct rungs ladder = {.given = plan, .ev = ev, .allocate = *allocate};
  ladder.allocate.is_without_ways = ladder.allocate.is_only_counted = true;
  ladder.allocate.dump_model = NULL;
  pw_status st = pw_ladder_make(&guests, &n, ev, plan->demand.head_count, ctx);
  if (st != PW_OK)
    return st;
  int most = n_rungs_most(plan), n_asked = n;
  n = keep_nearest(guests, n, most, plan->demand.head_count);
  if (n < n_asked)
    pw_diag_add(ctx, PW_WARNING, "ladder-cut", ev->file, 0, 0,
                "a job of this size is priced at %d of %d head counts, those nearest to its own", n, n_asked);
  q->ladder = pw_arena_array(ctx->arena, (size_t)n, sizeof *q->ladder);
  q->tried = pw_arena_array(ctx->arena, (size_t)n + 1 + PW_LADDER_PROBES, sizeof *q->tried);
  int *all = pw_arena_array(ctx->arena, (size_t)n + 1, sizeof *all), n_all = 0, more = pw_quote_more_guests(q);
  if (!q->ladder || !q->tried || !all)
    return PW_ERR_MEMORY;
  for (int i = 0; i < n; i++) {
    if (more < guests[i] && (i == 0 || more > guests[i - 1]))
      all[n_all++] = more;
    all[n_all++] = guests[i];
  }
  if (n > 0 && more > guests[n - 1])
    all[n_all++] = more;
  bool is_giant = n < n_asked;
  ladder.allocate.seconds = pw_deadline_left(allocate->deadline_s) * RUNGS_TIME_FRAC / (n_all + 1);
  st = rungs_plan(&ladder, all, n_all, ctx);
  for (int i = 0, k = 0; i < ladder.n && st == PW_OK; i++) {
    struct pw_quote_rung rung = rung_told(&ladder, &ladder.list[i]);
    const struct pw_allocation *a = &plan_of(&ladder, &ladder.list[i])->allocation;
    if (rung.guests != plan->demand.head_count && a->stopped_by == PW_STOP_TIME && a->n_missed > 0) {
      k += k < n && guests[k] == rung.guests; /* not searched long enough to say anything: left out */
      n_lost++;
      continue;
    }
    try_add(q, rung);
    if (k < n && guests[k] == rung.guests) {
      q->ladder[q->n_ladder++] = rung;
      k++;
    }
  }
  rungs_close(&ladder);
  if (n_lost > 0)
    pw_diag_add(
        ctx, PW_WARNING, "ladder-cut", ev->file, 0, 0,
        "%d other head counts could not be planned in the seconds allowed: the prices by head count leave them out",
        n_lost);
  for (int probe = 0, at; st == PW_OK && n_lost == 0 && !is_giant && !pw_deadline_is_over(allocate->deadline_s) &&
                          probe < PW_LADDER_PROBES && (at = pw_quote_probe(q, &ev->terms)) > 0;
       probe++) {
    struct rungs one = ladder;
    one.list = NULL;
    one.n = 0;
    st = rungs_plan(&one, &at, 1, ctx);
    if (st == PW_OK)
      try_add(q, rung_told(&one, &one.list[0]));
    rungs_close(&one);
  }
  pw_quote_outlook(q, &ev->terms);
  return st;
}

enum { SHORT_MOST = 16 }; /* dishes that the warning names; all of them stand in the plan */

/* Warnings of the stages (diagnostics) and of the tasks become part of the plan. */
pw_status pw_run_warnings(struct pw_plan *plan, struct pw_ctx *ctx)
{
  plan->n_warnings = 0;
  int n = 1 + plan->staffing.n_warnings + 2 * plan->lots.n_lots +
          (plan->day ? plan->lots.n_lots + plan->allocation.n_loads : 0) + plan->fuel.n_empty +
          plan->day_before.n_warnings + plan->safety.n_warnings + plan->tasks.n_warnings;
  for (int i = 0; i < ctx->n_diags; i++)
    n += ctx->diags[i].severity == PW_WARNING;
  plan->warnings = pw_arena_array(ctx->arena, (size_t)n, sizeof *plan->warnings);
  if (!plan->warnings)
    return PW_ERR_MEMORY;
  const char *missing = "";
  int n_told = 0, n_more = 0;
  for (int i = 0; i < plan->n_shortfalls && missing; i++) {
    bool is_told = plan->shortfalls[i].portions > 0 && n_told < SHORT_MOST;
    n_more += plan->shortfalls[i].portions > 0 && !is_told;
    n_told += is_told;
    if (is_told)
      missing = pw_arena_printf(ctx->arena, "%s%s%s", missing, *missing ? "; " : "", plan->shortfalls[i].text);
  }
  if (missing && n_more > 0)
    missing = pw_arena_printf(ctx->arena, "%s; and portions of %d more dishes", missing, n_more);
  if (missing && *missing)
    missing = pw_arena_printf(ctx->arena, "Missing at the table: %s.", missing);
  if (!missing)
    return PW_ERR_MEMORY;
  if (*missing)
    plan->warnings[plan->n_warnings++] = (struct pw_warning){.code = "short", .text = missing};
  for (int l = 0; plan->day && l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    const char *words =
        lot->is_day_before
            ? pw_arena_printf(ctx->arena, "%s for %s is off %d min later than planned and goes into the ice then.",
                              plan->event->cuts[lot->cut].name, plan->event->services[lot->service].name,
                              plan->day->late_min[l])
            : pw_arena_printf(ctx->arena, "%s is late: %s is ready %d min after its time.",
                              plan->event->services[lot->service].name, plan->event->cuts[lot->cut].name,
                              plan->day->late_min[l]);
    if (!words)
      return PW_ERR_MEMORY;
    if (plan->day->late_min[l] > 0)
      plan->warnings[plan->n_warnings++] = (struct pw_warning){.code = "late-meal", .text = words};
  }
  for (int l = 0; l < plan->lots.n_lots; l++) {
    const struct pw_lot *lot = &plan->lots.lots[l];
    const struct pw_cut *cut = &plan->event->cuts[lot->cut];
    int asked = lot->is_day_before ? 0 : pw_waves_asked(plan->event, lot->service, lot->cut);
    if (lot->wave == 0 && asked > lot->n_waves) {
      const char *fewer = pw_arena_printf(
          ctx->arena,
          "%s for %s is cooked in %d wave%s, not in %d as \"waves\" asks: each needs a guest who comes for it, a whole "
          "piece and a step of the grid of %d min.",
          cut->name, plan->event->services[lot->service].name, lot->n_waves, lot->n_waves == 1 ? "" : "s", asked,
          plan->lots.slot_min);
      if (!fewer)
        return PW_ERR_MEMORY;
      plan->warnings[plan->n_warnings++] = (struct pw_warning){.code = "waves-fewer", .text = fewer};
    }
    if (lot->over_min <= 0)
      continue;
    bool is_grid = lot->whole_until_at_min <= lot->by_at_min; /* no wave: a step of the grid is longer than its hold */
    const char *words =
        is_grid ? pw_arena_printf(ctx->arena,
                                  "%s for %s keeps %s whole; on a grid of %d min it is held up to %s longer: plan it "
                                  "on a finer grid, or serve it first.",
                                  cut->name, plan->event->services[lot->service].name,
                                  pw_format_minutes(lot->hold_max_min).s, plan->lots.slot_min,
                                  pw_format_minutes(lot->over_min).s)
                : pw_arena_printf(ctx->arena,
                                  "%s for %s: %d \xC3\x97 in one go for %s of serving, and it keeps %s whole and %s in "
                                  "pans: the last plates are "
                                  "%s "
                                  "beyond that. Serve it first, take more and smaller pieces, or let \"waves\" say how "
                                  "often it is cooked.",
                                  cut->name, plan->event->services[lot->service].name, lot->pieces,
                                  pw_format_minutes(lot->until_at_min - lot->by_at_min).s,
                                  pw_format_minutes(lot->hold_max_min).s, pw_format_minutes(cut->pan_hold_min).s,
                                  pw_format_minutes(lot->over_min).s);
    if (!words)
      return PW_ERR_MEMORY;
    plan->warnings[plan->n_warnings++] = (struct pw_warning){.code = "wave-long", .text = words};
  }
  for (int i = 0; plan->day && i < plan->allocation.n_loads; i++) {
    const struct pw_load *load = &plan->allocation.loads[i];
    const struct pw_lot *lot = &plan->lots.lots[load->lot];
    int held = load->end_at_min - load->start_at_min;
    if (load->stage != PW_LOAD_HOLD || held <= lot->hold_max_min)
      continue;
    const char *words = pw_arena_printf(
        ctx->arena, "%d \xC3\x97 %s came off early and would be held %d min, at most %d: serve it first, or chill it.",
        load->pieces, plan->event->cuts[lot->cut].name, held, lot->hold_max_min);
    if (!words)
      return PW_ERR_MEMORY;
    plan->warnings[plan->n_warnings++] = (struct pw_warning){.code = "held-long", .text = words};
  }
  for (int i = 0; i < plan->fuel.n_empty; i++) {
    const char *words = pw_empty_fire_words(&plan->fuel.empty[i], plan->event, &plan->allocation, ctx);
    if (!words)
      return PW_ERR_MEMORY;
    plan->warnings[plan->n_warnings++] = (struct pw_warning){.code = "empty-fire", .text = words};
  }
  for (int i = 0; i < ctx->n_diags; i++)
    if (ctx->diags[i].severity == PW_WARNING)
      plan->warnings[plan->n_warnings++] = (struct pw_warning){.code = ctx->diags[i].code, .text = ctx->diags[i].text};
  for (int i = 0; i < plan->day_before.n_warnings; i++)
    plan->warnings[plan->n_warnings++] = plan->day_before.warnings[i];
  for (int i = 0; i < plan->safety.n_warnings; i++)
    plan->warnings[plan->n_warnings++] = plan->safety.warnings[i];
  for (int i = 0; i < plan->staffing.n_warnings; i++)
    plan->warnings[plan->n_warnings++] = plan->staffing.warnings[i];
  for (int i = 0; i < plan->tasks.n_warnings; i++)
    plan->warnings[plan->n_warnings++] = plan->tasks.warnings[i];
  return PW_OK;
}

/* The judge reads the plan as anybody else would: from its file. */
pw_status pw_run_judge(const struct pw_plan *plan, struct pw_ctx *ctx)
{
  const char *text = NULL;
  size_t n = 0;
  int n_findings = 0;
  pw_status st = pw_plan_json_text(&text, &n, plan, ctx);
  if (st == PW_OK)
    st = pw_plan_check_text(NULL, text, n, &n_findings, ctx);
  if (st == PW_ERR_INPUT) /* a plan of ours that is no plan */
    st = PW_ERR_INTERNAL;
  return st == PW_OK && n_findings > 0 ? PW_ERR_INTERNAL : st;
}

pw_status pw_run_plan(struct pw_plan **out, const struct pw_event *ev, const struct pw_run_options *options,
                      struct pw_ctx *ctx)
{
  *out = NULL;
  if (options->on_time_frac != 0 && !(ev = pw_run_with_chance(ev, options->on_time_frac, ctx)))
    return PW_ERR_MEMORY;
  struct pw_plan *plan = pw_arena_alloc(ctx->arena, sizeof *plan);
  struct pw_ctx *side = pw_side_ctx(ctx);
  if (!plan || !side)
    return PW_ERR_MEMORY;
  struct pw_allocate_options allocate = {.effort = options->effort,
                                         .seconds = options->seconds,
                                         .work_times = options->work_times,
                                         .dump_model = options->dump_model,
                                         .deadline_s = pw_deadline_in(options->seconds)};
  if (options->has_ladder)
    allocate.seconds *= GIVEN_TIME_FRAC;
  struct pw_run_proof proof = {0};
  pw_status st = pw_safety_check(ev, ctx);
  if (st == PW_OK)
    st = plan_event(plan, ev, &allocate, options->is_at_once, ctx);
  if (st == PW_OK && ev->n_pool > 0 && allocate.effort == PW_EFFORT_FULL && plan->allocation.n_missed == 0)
    st = pw_run_hours(plan, ev, &allocate, ctx);
  if (st == PW_OK && allocate.effort == PW_EFFORT_FULL && plan->allocation.proof.fractions_cents <= 0)
    st = pw_run_proof_begin(&proof, plan, ev, &allocate);
  if (st == PW_OK && !plan->allocation.is_quick)
    st = find_ways(plan, ev, options, &allocate, ctx);
  if (st == PW_OK && options->has_ladder)
    st = make_ladder(plan, ev, &allocate, ctx);
  if (st == PW_OK && (options->has_ladder || options->has_levels) && !plan->allocation.is_quick &&
      n_rungs_most(plan) > LEVELS_FROM_RUNGS)
    st = pw_run_levels(plan, ev, &allocate, ctx);
  if (st == PW_OK)
    st = pw_run_options(plan, ev, &allocate, ctx);
  if (st == PW_OK)
    st = pw_run_leaves(plan, ctx);
  if (st == PW_OK && options->has_ladder && !plan->allocation.is_quick && plan->allocation.n_missed == 0)
    st = side_status(pw_staff_propose(plan, side), side, ctx);
  pw_status proved = pw_run_proof_end(&proof, st == PW_OK ? plan : NULL, ctx);
  st = st == PW_OK ? proved : st;
  if (st == PW_OK && !plan->allocation.is_quick) {
    struct pw_explain *brief = pw_arena_alloc(ctx->arena, sizeof *brief);
    st = brief ? pw_explain_brief(brief, plan, ctx) : PW_ERR_MEMORY;
    plan->brief = brief;
  }
  if (st == PW_OK)
    st = side_status(pw_purchase_without(&plan->purchase, ev, &plan->demand, side), side, ctx);
  if (st == PW_OK)
    st = pw_safety_make(&plan->safety, plan, ctx);
  if (st == PW_OK) {
    const struct pw_chance_options draws = {.seed = CORES_SEED, .shares = pw_spread_shares()};
    st = pw_chance_cores(&plan->chance, ev, &plan->lots, &plan->allocation, plan->safety.lots, &draws, ctx);
  }
  if (st == PW_OK)
    st = pw_run_warnings(plan, ctx);
  if (st == PW_OK)
    st = pw_run_judge(plan, ctx);
  if (st != PW_OK)
    return st;
  *out = plan;
  return PW_OK;
}
