/* run.h - the pipeline: an event goes in, each stage adds its part, the plan comes out. */
#ifndef PW_RUN_H
#define PW_RUN_H

#include "base/ctx.h"
#include "plan/stages.h"
#include "pw/plan.h"

#include <stdbool.h>

/** The event with lines at the end of its file; of several planned as one, of the first one's.  Called from several threads at a
 *  time.  Errors: PW_ERR_INPUT there is no such event; PW_ERR_MEMORY. */
typedef pw_status (*pw_run_change)(void *user, struct pw_event **out, const char *lines, struct pw_ctx *ctx);

struct pw_run_options {
  enum pw_effort effort;
  double seconds;         /**< safety net for each search; <= 0: none */
  double work_times;      /**< of the full search, times the usual; 0 counts as 1 */
  const char *dump_model; /**< or NULL */
  double on_time_frac;    /**< chance asked of every meal in place of the event's own; 0: those; below 0: none */
  bool has_ladder;        /**< price other head counts too, each one planned */
  bool has_levels;        /**< cost against chance [R3] also without those */
  bool is_at_once;        /**< what the quick search leaves without a place is told and not searched longer */
  pw_run_change change;   /**< how ways out change the event; NULL: the file it was read from */
  void *change_user;
};

/** Runs every stage for the event as it stands; with a ladder also for each rung.  Everything in the result speaks of the one
 *  plan of the event: costs, price, margin, its rung.  A quick plan that leaves pieces without a place is followed by the full
 *  search; so is a rung, unless a smaller party did not fit after it.
 *  Errors: those of the stages; PW_ERR_INTERNAL with the findings as diagnostics when the plan fails its judge. */
pw_status pw_run_plan(struct pw_plan **out, const struct pw_event *ev, const struct pw_run_options *options,
                      struct pw_ctx *ctx);

/** What stages, tasks and safety warn of becomes part of the plan; of a mended plan also which meals are late.  PW_ERR_MEMORY. */
pw_status pw_run_warnings(struct pw_plan *plan, struct pw_ctx *ctx);

/** Asks the judge about a plan that was added to since.  Errors: PW_ERR_INTERNAL with the findings as diagnostics. */
pw_status pw_run_judge(const struct pw_plan *plan, struct pw_ctx *ctx);

#endif
