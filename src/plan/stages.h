/* stages.h - the pipeline, one prototype per stage, in order.  Each reads the event and earlier parts of
 * the plan, writes its own part, calls no other stage, opens no file and asks no clock.  All results live
 * in ctx->arena.  Errors: PW_ERR_MEMORY, or as noted.  On failure *out is left zeroed. */
#ifndef PW_STAGES_H
#define PW_STAGES_H

#include "base/ctx.h"
#include "pw/plan.h"

/** [D1] served need per menu line at the stated cover. */
pw_status pw_demand_make(struct pw_demand *out, const struct pw_event *ev, struct pw_ctx *ctx);

/** [P1]-[P3] yields divided out, whole pieces, packs; one list for the event. */
pw_status pw_purchase_make(struct pw_purchase *out, const struct pw_event *ev, const struct pw_demand *demand,
                           struct pw_ctx *ctx);

/** [P3] fills orders[].without_cents: the list chosen once more without each supplier.  Asked once for the plan that is shown, not
 *  for every head count of a ladder. */
pw_status pw_purchase_without(struct pw_purchase *purchase, const struct pw_event *ev, const struct pw_demand *demand,
                              struct pw_ctx *ctx);

/** Zones of all pits, lots from raw needs, stage times [T1], windows; margins may be NULL. */
pw_status pw_lots_make(struct pw_lots *out, const struct pw_event *ev, const struct pw_purchase *purchase,
                       const struct pw_margins *margins, struct pw_ctx *ctx);
/** The same with the stage times of `like`, lots of the same event or of another head count of it, which must live as long; NULL: none. */
pw_status pw_lots_make_like(struct pw_lots *out, const struct pw_event *ev, const struct pw_purchase *purchase,
                            const struct pw_margins *margins, const struct pw_lots *like, struct pw_ctx *ctx);

/** What it costs to keep somebody awake at a fire, half hour by half hour, beside the price of tending [S2]. */
struct pw_watch {
  const double *cents; /**< of slot k, from from_at_min + k * slot_min on; none before and after */
  int n, from_at_min, slot_min;
};

/** A search that goes on from a plan (`like`) and keeps only what is wanted; event and lots are in order of id, services in the file's. */
struct pw_allocate_filter {
  bool (*is_wanted)(void *user, const struct pw_event *ev, const struct pw_lots *lots,
                    const struct pw_allocation *allocation);
  void *user;
  long n_rounds; /**< of the search that goes on from the plan */
};

struct pw_allocate_options {
  enum pw_effort effort;
  double seconds;         /**< safety net for the search; <= 0: none */
  double work_times;      /**< the usual work of the full search times this; 0 counts as 1 */
  const char *dump_model; /**< write the linear program here in LP text form, as GLPK reads it, or NULL */
  double deadline_s;      /**< of the whole run, beside `seconds` (base/deadline.h); 0: none */
  unsigned seed;
  double known_bound_cents; /**< of lots like these: says when to stop, is proved anew to be told; 0: proved here */
  bool is_only_counted;     /**< of another head count: whether it fits and for how much, not who goes short of what */
  bool is_unproved;         /**< whoever keeps the plan has it proved */
  bool
      is_proved_beside; /**< proved as by pw_allocate_prove() beside the full search, against the cost of the quick plan */
  int looks_times; /**< a quick plan may look at so many times as much for its chance: nobody waits for it; 0 counts as 1 */
  const struct pw_watch *watch; /**< weighs on the choice, and is not in the cost told; NULL: none */
  bool is_without_ways;         /**< what is short is counted, but neither explained nor are ways out planned */
  const struct pw_allocation
      *like; /**< the plan of another head count of the event, to begin with as far as it fits, or NULL */
  const struct pw_allocate_filter *filter; /**< with a quick effort and `like`, which is wanted itself; or NULL */
  long *
      looks_left; /**< somebody waits: what all searches of the plan together may still look at, less with each; NULL: no limit */
};

/** [A1]-[A9] which piece goes where and when.  `burn_cents_per_h` is the cost of a lit hour, per pit and
 *  setting; light_cents of lighting it (from pw_fuel_rates_make). */
struct pw_fuel_rates {
  double **burn_cents_per_h; /**< [pit][setting] wood of a lit hour in the mean weather */
  double **light_cents;      /**< [pit][setting] charcoal and wood until the fire is clean */
};
pw_status pw_fuel_rates_make(struct pw_fuel_rates *out, const struct pw_event *ev, struct pw_ctx *ctx);

/** Errors: PW_ERR_SOLVER; PW_ERR_IO when the model cannot be written. */
pw_status pw_allocate_make(struct pw_allocation *out, const struct pw_event *ev, const struct pw_lots *lots,
                           const struct pw_fuel_rates *rates, const struct pw_allocate_options *options,
                           struct pw_ctx *ctx);

/** What no plan of these lots goes below, for the plan shown: proved with more work than a search asks for, never below what
 *  allocation->bound_cents says already (0: nothing was proved for these lots); and the program behind it written to
 *  options->dump_model, unless that is NULL.  A quick plan keeps having no bound.  Errors as above. */
pw_status pw_allocate_prove(struct pw_allocation *allocation, const struct pw_event *ev, const struct pw_lots *lots,
                            const struct pw_fuel_rates *rates, const struct pw_allocate_options *options,
                            struct pw_ctx *ctx);

/** Chilling of what is cooked the day before; warns of pieces that find no oven to be reheated in.
 *  Reads plan->{lots, allocation}. */
pw_status pw_day_before_make(struct pw_day_before *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** [H1] Before anything is planned: final and holding temperatures of the cuts on the menus against the Food Code.  A rule
 *  that cannot be met is PW_ERR_INPUT with diagnostics, or a warning when the event names the cook's basis. */
pw_status pw_safety_check(const struct pw_event *ev, struct pw_ctx *ctx);

/** [H1] Core curve, come-up and lethality of every lot as placed; broken rules are warnings in the report.
 *  Reads plan->{lots, allocation}. */
pw_status pw_safety_make(struct pw_safety_report *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** [F1] wood and charcoal per burn, feed list, totals with reserve; doors as the visits open them (plan/fire/visits.h). */
pw_status pw_fuel_make(struct pw_fuel_plan *out, const struct pw_event *ev, const struct pw_lots *lots,
                       const struct pw_allocation *allocation, const struct pw_visits *visits, struct pw_ctx *ctx);

/** [S2] The event with everybody of its pool there from the first day on, for the stages before shifts are known.  *out is `ev`
 *  itself without a pool. */
pw_status pw_staff_open(const struct pw_event **out, const struct pw_event *ev, struct pw_ctx *ctx);

/** [S2] Who of the pool comes when: plan->event (the open one) becomes plan->staffing.asked with their shifts as crew lines; the rest of
 *  plan->staffing.  is_quick: one round fewer, and no shift is tried shorter (other head counts).  Without a pool nothing changes.
 *  Errors: PW_ERR_SOLVER. */
pw_status pw_staff_make(struct pw_plan *plan, bool is_quick, struct pw_ctx *ctx);
/** [S2] Of a finished plan without a pool: plan->proposal, what its paid people would cost were they called as the work asks.
 *  Errors: PW_ERR_MEMORY, PW_ERR_SOLVER. */
pw_status pw_staff_propose(struct pw_plan *plan, struct pw_ctx *ctx);
/** [S2] Of a mended plan whose shifts stay as they were: plan->staffing.warnings where a fire has nobody awake or guests have too few.
 *  Errors: PW_ERR_MEMORY. */
pw_status pw_staff_watch(struct pw_plan *plan, struct pw_ctx *ctx);
/** The first stretch from a minute on in which something burns and nobody with the duty fire is on shift, break or not, those away
 *  taken off: [*from, *to) by five minutes.  False: there is none. */
bool pw_staff_nobody(const struct pw_plan *plan, int from_at_min, int *from, int *to);

/** [S1] every stage change, fire action, check and service step.  Reads plan->{demand..fuel}. */
pw_status pw_tasks_make(struct pw_tasks *out, const struct pw_plan *plan, struct pw_ctx *ctx);

/** [S1][F1] the tasks; a mop that nobody has time for opens no door: plan->{visits, fuel, tasks}.  Errors: PW_ERR_MEMORY. */
pw_status pw_task_doors_make(struct pw_plan *plan, const struct pw_fuel_rates *rates, struct pw_ctx *ctx);

/** [S1] until when loads, wraps and takings off are still in time: plan->tasks.tasks[].slack_min (plan/crew/task_slack.c).
 *  Reads plan->{lots, allocation, tasks, day}.  Errors: PW_ERR_MEMORY. */
pw_status pw_task_slack_make(struct pw_plan *plan, struct pw_ctx *ctx);

/** [Q1] cost and price; the ladder is added by run.c, which plans each rung.  Reads plan->{demand..tasks}. */
pw_status pw_quote_make(struct pw_quote *out, const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
