/* ways.h - ways out of a shortage, and of a meal that is late too often.  Each is a change of the event file: lines that are read at its end, planned like any event, and
 * told with what then is still missing and what that plan costs more.  Changes are tried alone, then by twos and threes. */
#ifndef PW_WAYS_H
#define PW_WAYS_H

#include "base/ctx.h"
#include "pw/plan.h"

/** How a way is planned. */
enum pw_way_care {
  PW_WAY_FITS,   /**< quickly, with the usual margins: does it fit? */
  PW_WAY_ON_TIME /**< with margins of its own, within so much work: how often is it ready? */
};

/** How whoever runs the stages plans the event with lines at the end of its file.  Called from several threads at a time,
 *  each with a context of its own.  PW_ERR_INPUT: there is no such event. */
struct pw_ways_planner {
  pw_status (*plan)(void *user, struct pw_plan *out, const char *lines, enum pw_way_care care, struct pw_ctx *ctx);
  void *user;
  double deadline_s; /**< base/deadline.h; 0: none */
};

/** Fills plan->allocation.remedies and plan->n_ways_tried.  Of a shortage those that place everything come first, then by cost, with their
 *  chances as far as the work goes.  Where all has a place and a meal stays below its target (pw_on_time_is_short()): ways that
 *  are ready more often by a point of a hundred and a quarter of what is lacking and make no meal worse; those that reach the targets first, then by price for what is gained.  The work is bounded:
 *  a number of plans, fewer of a large yard.  A way that leaves more than half of what is missing is left out, as is one that
 *  cannot be read or planned.  Reads all of plan.  Errors: PW_ERR_MEMORY. */
pw_status pw_ways_make(struct pw_plan *plan, const struct pw_ways_planner *planner, struct pw_ctx *ctx);

/** Fills plan->shortfalls: pieces without a place as portions that are missing at the table.  Errors: PW_ERR_MEMORY. */
pw_status pw_shortfall_make(struct pw_plan *plan, struct pw_ctx *ctx);

#endif
