/* run_stages.h - from demand to the quote: every stage once. */
#ifndef PW_RUN_STAGES_H
#define PW_RUN_STAGES_H

#include "plan/stages.h"

/** None beyond the usual: of a plan that does not fit, and of its ways out. */
extern const struct pw_margins pw_usual_margins;

/** Each stage for one event and effort; the quote comes last because it wants all of them.  `given`: margins of the plan of another
 *  head count, which are not worked out again; NULL.  `like`: that head count's lots, whose stage times are the same; NULL.  Errors:
 *  those of the stages. */
pw_status pw_run_stages(struct pw_plan *plan, const struct pw_event *asked, const struct pw_allocate_options *allocate,
                        const struct pw_margins *given, const struct pw_lots *like, struct pw_ctx *ctx);

#endif
