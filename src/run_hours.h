/* run_hours.h - fires planned again with what it costs to keep somebody awake at them [S2]. */
#ifndef PW_RUN_HOURS_H
#define PW_RUN_HOURS_H

#include "plan/stages.h"

/** Of a full plan with a pool: planned again, at most twice, with the hourly prices that its shifts say; the better job is
 *  kept, unproved (run_proof.h), if each meal is as likely ready as before (pw_run_is_better_job()).  Errors: as
 *  pw_run_stages(). */
pw_status pw_run_hours(struct pw_plan *plan, const struct pw_event *ev, const struct pw_allocate_options *allocate,
                       struct pw_ctx *ctx);

#endif
